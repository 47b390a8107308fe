"""What happened, in the past tense. Events are appended and never changed: state, report and statistics are folds."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, PlainSerializer

from fieldassist.checklist.commands import Number, Strokes
from fieldassist.checklist.plan import DayPlan, Role, Trowel
from fieldassist.checklist.schema import Checklist
from fieldassist.trade import dust


class Moment(BaseModel):
    """One instant: wall time for people, monotonic seconds of one run of the machine for intervals.

    wall: ISO 8601 with offset, to the second or finer. mono: seconds since the machine started; boot: which start.
    """

    model_config = ConfigDict(extra="forbid", frozen=True)

    wall: str
    mono: float
    boot: str

    def minutes_to(self, later: Moment) -> float:
        """Minutes from this moment to `later`, never negative.

        Within one run of the machine the monotonic clock decides, so that setting the wall clock back cannot stretch
        an open time. Across a restart only wall time is left.
        """
        if self.boot == later.boot:
            seconds = later.mono - self.mono
        else:
            seconds = (datetime.fromisoformat(later.wall) - datetime.fromisoformat(self.wall)).total_seconds()
        return max(0.0, seconds / 60.0)


class _Fact(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


def _brief(model: BaseModel) -> dict[str, Any]:
    return model.model_dump(mode="json", exclude_defaults=True)


# Plans and checklists are written without what is left at its default: reading them back fills it in again.
_Brief = PlainSerializer(_brief)


class DayOpened(_Fact):
    """The day began with this plan."""

    type: Literal["day opened"] = "day opened"
    plan: Annotated[DayPlan, _Brief]


class ChecklistAdopted(_Fact):
    """The checklist as it stood when the day opened: later edits of the file do not touch this day."""

    type: Literal["checklist adopted"] = "checklist adopted"
    checklist: Annotated[Checklist, _Brief]


class SpeakerChanged(_Fact):
    """From here on this person speaks."""

    type: Literal["speaker changed"] = "speaker changed"
    name: str
    role: Role


class WeatherNoted(_Fact):
    """The weather in words."""

    type: Literal["weather noted"] = "weather noted"
    text: str


class NoteMade(_Fact):
    """A remark. audio, sha256: where it was dictated, the stored sound; the text is then what was heard in it."""

    type: Literal["note made"] = "note made"
    text: str
    audio: str | None = None
    sha256: str | None = None


class DustNoted(_Fact):
    """Minutes [min] of one dusty task, done by the person of this event.

    basis: the row of Table 1 of 29 CFR 1926.1153 for it, or why there is none. replaces: the number of an earlier entry
    of the same person that was wrong and counts no more; the minutes here stand in its place, none when they are 0.
    """

    type: Literal["dust noted"] = "dust noted"
    task: Annotated[str, Field(min_length=1, max_length=80)]
    place: dust.Place
    minutes: Number
    basis: str
    replaces: int | None = None


class AreaStarted(_Fact):
    """Work on an area began."""

    type: Literal["area started"] = "area started"
    area: str


class AreaEntered(_Fact):
    """The crew went back to an area under way."""

    type: Literal["area entered"] = "area entered"
    area: str


class SectionOpened(_Fact):
    """A section's steps became due. `failure`: the non-conformance that it cures or checks again."""

    type: Literal["section opened"] = "section opened"
    area: str
    section: str
    round: int
    reason: str
    failure: int | None = None


class SectionClosed(_Fact):
    """The last step of a section was done. `tile_set`: one more tile is on the wall or floor."""

    type: Literal["section closed"] = "section closed"
    area: str
    section: str
    round: int
    tile_set: bool = False


class StillFailing(_Fact):
    """The check after a corrective action failed again; the non-conformance stays open."""

    type: Literal["still failing"] = "still failing"
    area: str
    failure: int
    finding: str


class StepReopened(_Fact):
    """A failed step will be asked again after its corrective action."""

    type: Literal["step reopened"] = "step reopened"
    area: str
    section: str
    round: int
    step: str
    failure: int


class CautionAcknowledged(_Fact):
    """A caution was read out and acknowledged."""

    type: Literal["caution acknowledged"] = "caution acknowledged"
    area: str
    caution: str
    round: int = 0


class _AtStep(_Fact):
    area: str
    section: str
    round: int
    step: str


class StepConfirmed(_AtStep):
    """A step was done."""

    type: Literal["step confirmed"] = "step confirmed"
    label: str | None = None


class ReadingCalled(_AtStep):
    """A reading was heard and read back; it counts for nothing until it is kept."""

    type: Literal["reading called"] = "reading called"
    quantity: str
    value: Number
    unit: str
    label: str | None = None


class ReadingKept(_AtStep):
    """The reading called at `target` was confirmed, and judged."""

    type: Literal["reading kept"] = "reading kept"
    target: int
    passed: bool | None = None
    criterion: str = ""
    basis: str = ""
    finding: str = ""


class ChoiceMade(_AtStep):
    """An option was chosen."""

    type: Literal["choice made"] = "choice made"
    option: str
    passed: bool | None = None


class PhotoAttached(_AtStep):
    """A photo was stored, for a photo step or as a remark: then at the step at hand, or at none ("") between rounds."""

    type: Literal["photo attached"] = "photo attached"
    file: str
    sha256: str


class HoldReleased(_AtStep):
    """A hold point was released."""

    type: Literal["hold released"] = "hold released"


class Withdrawn(_Fact):
    """The event at `target` no longer counts; it stays in the log, struck through."""

    type: Literal["withdrawn"] = "withdrawn"
    area: str
    target: int
    reason: Literal["answered no", "scratched", "said again"]


class LiftJudged(_Fact):
    """A lifted test tile was judged."""

    type: Literal["lift judged"] = "lift judged"
    area: str
    section: str
    round: int
    lift: int
    tile: int
    label: str | None = None
    coverage: float
    required: float
    passed: bool
    reasons: tuple[str, ...] = ()
    unread: tuple[str, ...] = ()
    basis: str


class FailureOpened(_Fact):
    """A non-conformance: what failed, what was required and what must be done. Numbered by its event."""

    type: Literal["failure opened"] = "failure opened"
    area: str
    section: str
    round: int
    step: str
    finding: str
    criterion: str
    basis: str
    corrective: str


class FailureClosed(_Fact):
    """A non-conformance was cured: by which corrective action, and what showed it."""

    type: Literal["failure closed"] = "failure closed"
    area: str
    failure: int
    cure: str
    shown_by: str


class InspectionTightened(_Fact):
    """The next lifts follow every tile."""

    type: Literal["inspection tightened"] = "inspection tightened"
    area: str
    lifts: int
    failure: int


class ClockStarted(_Fact):
    """A clock began to run. Numbered by its event."""

    type: Literal["clock started"] = "clock started"
    area: str
    clock: str
    section: str
    round: int
    title: str
    minutes: float
    basis: str


class ClockStopped(_Fact):
    """A clock was stopped in time."""

    type: Literal["clock stopped"] = "clock stopped"
    area: str
    clock: str
    run: int


class ClockWarned(_Fact):
    """A clock gave its warning before time is up."""

    type: Literal["clock warned"] = "clock warned"
    area: str
    clock: str
    run: int
    left_minutes: float


class ClockRanOut(_Fact):
    """Time was up. `dropped`: sections whose remaining steps fell away with it."""

    type: Literal["clock ran out"] = "clock ran out"
    area: str
    clock: str
    run: int
    title: str
    minutes: float
    dropped: tuple[str, ...] = ()


class NotchChanged(_Fact):
    """Another trowel is in use in this area."""

    type: Literal["notch changed"] = "notch changed"
    area: str
    notch: str
    trowel: Trowel


class InstallerChanged(_Fact):
    """Another installer sets in this area."""

    type: Literal["installer changed"] = "installer changed"
    area: str
    installer: str


class AreaFinished(_Fact):
    """Every step of the area is done."""

    type: Literal["area finished"] = "area finished"
    area: str


class CommandRefused(_Fact):
    """Something was asked for and refused."""

    type: Literal["command refused"] = "command refused"
    area: str | None
    attempt: str
    reason: str


class DaySigned(_Fact):
    """The day was signed, or the addendum with this number. strokes: the finger's signature."""

    type: Literal["day signed"] = "day signed"
    name: str
    role: Role
    open_points: tuple[str, ...] = ()
    part: int = 0
    strokes: Strokes = ()


class DaySealed(_Fact):
    """The events up to number `covers`, whose chain ends in `head`, were signed by this person's key.

    public_key, signature: Ed25519 (RFC 8032), in hexadecimal; over what exactly, `record.seal` says.
    """

    type: Literal["day sealed"] = "day sealed"
    name: str
    role: Role
    part: int
    covers: int
    head: Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]
    public_key: Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]
    signature: Annotated[str, Field(pattern=r"^[0-9a-f]{128}$")]


class AddendumOpened(_Fact):
    """The signed day was opened again: what follows is an addendum, signed and sealed in its turn."""

    type: Literal["addendum opened"] = "addendum opened"
    number: int
    reason: str


class CorrectionMade(_Fact):
    """The event `target` is corrected in words; it stays as it is."""

    type: Literal["correction made"] = "correction made"
    target: int
    text: str


class PinRefused(_Fact):
    """A wrong PIN was given for this person. locked_until: from when on another try is taken, "" for at once."""

    type: Literal["pin refused"] = "pin refused"
    name: str
    attempts_left: int
    locked_until: str = ""


class ClockJumped(_Fact):
    """The wall clock was set, or ran apart from the monotonic one: by so many seconds, forward if positive."""

    type: Literal["clock jumped"] = "clock jumped"
    seconds: float


Body = Annotated[
    DayOpened
    | ChecklistAdopted
    | SpeakerChanged
    | WeatherNoted
    | NoteMade
    | DustNoted
    | AreaStarted
    | AreaEntered
    | SectionOpened
    | SectionClosed
    | StillFailing
    | StepReopened
    | CautionAcknowledged
    | StepConfirmed
    | ReadingCalled
    | ReadingKept
    | ChoiceMade
    | PhotoAttached
    | HoldReleased
    | Withdrawn
    | LiftJudged
    | FailureOpened
    | FailureClosed
    | InspectionTightened
    | ClockStarted
    | ClockStopped
    | ClockWarned
    | ClockRanOut
    | NotchChanged
    | InstallerChanged
    | AreaFinished
    | CommandRefused
    | DaySigned
    | DaySealed
    | AddendumOpened
    | CorrectionMade
    | PinRefused
    | ClockJumped,
    Field(discriminator="type"),
]


class Event(BaseModel):
    """A body with its number (1, 2, 3, ...), its id made by the client, when it happened and who spoke."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    seq: Annotated[int, Field(ge=1)]
    id: str
    at: Moment
    by: str
    body: Body
