"""The chain of a tablet's days: each opening says which number it has and how the days before it stood."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from fieldassist.checklist.event_base import EventBody
from fieldassist.checklist.kinds.photo import Sha256

# More days than a tablet has in years; what does not fit is announced by the opening after.
MOST_ANNOUNCED = 1000

# How the tablet's book of days was found: as it was left; none, on a tablet that had none; none although the tablet
# holds days that had a number; not to be read.
BookFound = Literal["kept", "new", "lost", "damaged"]


class DayHead(EventBody):
    """How far a day had come: its number on the tablet (0: it was begun without one), the plan's date, the hash of its
    first event, how many events it had, and the hash of the last."""

    number: Annotated[int, Field(ge=0)]
    date: Annotated[str, Field(max_length=40)]
    first: Sha256
    events: Annotated[int, Field(ge=1)]
    head: Sha256


class TabletChain(EventBody):
    """A day among those of its tablet. tablet: drawn once by the tablet; number: of the day, from 1.

    announces: the day before, always, and every other whose head is another than when it was announced last; book: how
    the numbers were found. A book that is lost begins a new tablet, so that no gap is closed by losing it.
    """

    tablet: Annotated[str, Field(pattern=r"^[0-9a-f]{16}$")]
    number: Annotated[int, Field(ge=1)]
    announces: Annotated[tuple[DayHead, ...], Field(max_length=MOST_ANNOUNCED)] = ()
    book: BookFound = "kept"
