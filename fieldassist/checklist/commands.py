"""Everything that can be asked of a day. Voice, touch, command line and tests all make the same commands."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Annotated, Any, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, PlainSerializer

from fieldassist.checklist.fields import write_number
from fieldassist.checklist.plan import DayPlan, SpokenName
from fieldassist.checklist.schema import Checklist
from fieldassist.trade import dust

# No exponents: a record from elsewhere must not make this machine write out a billion digits.
_WRITTEN = re.compile(r"-?[0-9]{1,40}(?:\.[0-9]{1,40}|/0*[1-9][0-9]{0,39})?")


def _exact(given: Any) -> Any:
    if isinstance(given, str) and _WRITTEN.fullmatch(given) is None:
        raise ValueError(f"{given[:40]!r} is not a number in figures, such as 95, 2.5 or 3/8")
    return Fraction(given) if isinstance(given, int | str) and not isinstance(given, bool) else given


# A reading's number, exact: "95", "2.5", "3/8".
Number = Annotated[Fraction, BeforeValidator(_exact), PlainSerializer(write_number, return_type=str)]


_Mark = Annotated[int, Field(ge=0, le=1000)]
# A finger's signature: strokes of points (across, down) in thousandths of the field it was drawn in.
Strokes = Annotated[
    tuple[Annotated[tuple[tuple[_Mark, _Mark], ...], Field(min_length=1, max_length=2000)], ...], Field(max_length=200)
]


class _Command(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class OpenDay(_Command):
    """Begin the day with its plan and the checklists that its areas use."""

    do: Literal["open day"] = "open day"
    plan: DayPlan
    checklists: tuple[Checklist, ...]


class SpeakAs(_Command):
    """Say who speaks from now on."""

    do: Literal["speak as"] = "speak as"
    name: SpokenName


class NoteWeather(_Command):
    """Note the weather in a few words."""

    do: Literal["note weather"] = "note weather"
    text: Annotated[str, Field(min_length=1, max_length=80)]


class MakeNote(_Command):
    """Write a remark into the log. A dictated one has its sound beside it: the stored file's name and SHA-256."""

    do: Literal["make note"] = "make note"
    text: Annotated[str, Field(min_length=1, max_length=2000)]
    audio: str | None = None
    sha256: Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")] | None = None


class NoteDust(_Command):
    """Note minutes [min] of one dusty task, for whoever speaks. Given at any time; it answers no step. By touch only.

    task, place: as Table 1 of 29 CFR 1926.1153 needs them. replaces: the number of an earlier entry of the same person
    that was wrong; then `minutes` stand in its place, and 0 takes it out. The wrong one stays in the log.
    """

    do: Literal["note dust"] = "note dust"
    task: dust.TableTask | dust.OtherTask
    place: dust.Place
    minutes: Number
    replaces: Annotated[int, Field(ge=1)] | None = None


class StartArea(_Command):
    """Start an area of the plan, or go back to one that is under way."""

    do: Literal["start area"] = "start area"
    area: SpokenName


class AcknowledgeCaution(_Command):
    """Acknowledge the caution that is due now."""

    do: Literal["acknowledge caution"] = "acknowledge caution"


class StartRound(_Command):
    """Open a called section: a new batch, the next tile."""

    do: Literal["start round"] = "start round"
    section: str


class ConfirmStep(_Command):
    """A confirm step, or a lift, is done. `label` tells which tile was lifted."""

    do: Literal["confirm step"] = "confirm step"
    section: str
    step: str
    label: str | None = None


class GiveReading(_Command):
    """A reading for a step; `label` for readings that are names."""

    do: Literal["give reading"] = "give reading"
    section: str
    step: str
    value: Number = Fraction(0)
    unit: str = "count"
    label: str | None = None


class Choose(_Command):
    """One option of a choice."""

    do: Literal["choose"] = "choose"
    section: str
    step: str
    option: str


class AttachPhoto(_Command):
    """A photo, for the photo step at hand or as a remark at any time: the stored file's name and SHA-256."""

    do: Literal["attach photo"] = "attach photo"
    file: str
    sha256: Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]


class ReleaseHold(_Command):
    """Release the hold point at hand."""

    do: Literal["release hold"] = "release hold"
    section: str
    step: str


class Keep(_Command):
    """Yes: keep the reading that was read back."""

    do: Literal["keep"] = "keep"


class Withdraw(_Command):
    """No, or scratch that: withdraw the reading read back, or else the last thing done in this area."""

    do: Literal["withdraw"] = "withdraw"


class ChangeNotch(_Command):
    """Go on with another trowel of the plan's list."""

    do: Literal["change notch"] = "change notch"
    notch: SpokenName


class FinishArea(_Command):
    """Open the end section of the area."""

    do: Literal["finish area"] = "finish area"


class SignDay(_Command):
    """Sign the day, or the addendum that is open. Open points are refused unless `accept_open`.

    strokes: the finger's signature, as it was drawn: lines through points in 0..1000 across and 0..1000 down.
    """

    do: Literal["sign day"] = "sign day"
    accept_open: bool = False
    strokes: Strokes = ()


class OpenAddendum(_Command):
    """Open the signed day again, for corrections or more work. What was signed stays as it is."""

    do: Literal["open addendum"] = "open addendum"
    reason: Annotated[str, Field(min_length=3, max_length=500)]


class Correct(_Command):
    """Correct an event of an earlier part in words: it stays as it is, the correction stands beside it."""

    do: Literal["correct"] = "correct"
    target: Annotated[int, Field(ge=1)]
    text: Annotated[str, Field(min_length=3, max_length=2000)]


class Tick(_Command):
    """Time has passed: let clocks warn and run out."""

    do: Literal["tick"] = "tick"


class Ask(_Command):
    """What changes nothing: the questions what now, repeat and how long, and asking to dictate a note."""

    do: Literal["ask"] = "ask"
    about: Literal["what now", "repeat", "how long", "note"]


Command = Annotated[
    OpenDay
    | SpeakAs
    | NoteWeather
    | MakeNote
    | NoteDust
    | StartArea
    | AcknowledgeCaution
    | StartRound
    | ConfirmStep
    | GiveReading
    | Choose
    | AttachPhoto
    | ReleaseHold
    | Keep
    | Withdraw
    | ChangeNotch
    | FinishArea
    | SignDay
    | OpenAddendum
    | Correct
    | Tick
    | Ask,
    Field(discriminator="do"),
]
