"""A day as it was handed over in a file: what holds it against other days."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fieldassist.checklist.tablet_chain import TabletChain
    from fieldassist.record.chain import Chain


@dataclass(frozen=True, slots=True)
class HandedDay:
    """A day as it was handed over. file: its name; hashes: of its chain; tablet: as its opening says, None for a day
    without a number; goes_on_from: the numbers of events and the heads of the days that it continues."""

    file: str
    hashes: tuple[str, ...]
    tablet: TabletChain | None
    goes_on_from: tuple[tuple[int, str], ...]

    def holds(self, events: int, head: str) -> bool:
        """Whether the chain had this head after so many events."""
        return len(self.hashes) >= events > 0 and self.hashes[events - 1] == head


def handed(file: str, chain: Chain) -> HandedDay | None:
    """The day of a chain that is whole; None where it is none."""
    # Who is only told what a file came to does not wait for what reads events.
    from fieldassist.checklist.events import DayOpened

    opened = chain.events[0].body if chain.events and chain.bad is None else None
    if not isinstance(opened, DayOpened):
        return None
    before = tuple((day.events, day.head) for day in opened.continues)
    return HandedDay(file, tuple(chain.hashes), opened.tablet, before)
