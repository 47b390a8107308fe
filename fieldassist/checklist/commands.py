"""Everything that can be asked of a day. Voice, touch, command line and tests all make the same commands."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from fieldassist.checklist.backs import MeasureBack as MeasureBack
from fieldassist.checklist.carrying import Held
from fieldassist.checklist.fields import FaceArea
from fieldassist.checklist.kinds.base import AS_ONE_LINE, Asked, AtStepAsked
from fieldassist.checklist.kinds.choice import Choose as Choose
from fieldassist.checklist.kinds.confirm import ConfirmStep as ConfirmStep
from fieldassist.checklist.kinds.hold import KeySignature, PublicKey
from fieldassist.checklist.kinds.hold import ReleaseHold as ReleaseHold
from fieldassist.checklist.kinds.lift import ConfirmLift as ConfirmLift
from fieldassist.checklist.kinds.method import KeepMethod as KeepMethod
from fieldassist.checklist.kinds.photo import AttachPhoto as AttachPhoto
from fieldassist.checklist.kinds.photo import LeaveOutPhoto as LeaveOutPhoto
from fieldassist.checklist.kinds.photo import Sha256
from fieldassist.checklist.kinds.reading import ExactNumber
from fieldassist.checklist.kinds.reading import GiveReading as GiveReading
from fieldassist.checklist.kinds.reading import Keep as Keep
from fieldassist.checklist.kinds.reading import LeaveOutReading as LeaveOutReading
from fieldassist.checklist.moment import Moment
from fieldassist.checklist.offers import BUCKETS, Ready
from fieldassist.checklist.plan import (
    AreaPlan,
    BackCoat,
    CombedSides,
    DayKind,
    DayPlan,
    Letter,
    MockUp,
    Person,
    Remark,
    Seating,
    ShortText,
    SpokenName,
    Stroke,
    Trowel,
)
from fieldassist.checklist.schema import Checklist
from fieldassist.checklist.tablet_chain import TabletChain
from fieldassist.trade import dust

_Mark = Annotated[int, Field(ge=0, le=1000)]
# A finger's signature: strokes of points (across, down) in thousandths of the field it was drawn in.
Strokes = Annotated[
    tuple[Annotated[tuple[tuple[_Mark, _Mark], ...], Field(min_length=1, max_length=2000)], ...], Field(max_length=200)
]

Bucket = Annotated[int, Field(ge=1, le=len(BUCKETS))]
Reason = Annotated[str, AS_ONE_LINE, Field(min_length=3, max_length=500)]


# Why a tile cannot be lifted, and in which words the foreman lets one stay, where nothing else is said.
LeftReady = Literal["cannot", "hard", "reach"]
AcceptReady = Literal["as it is", "reach", "owner"]


class DayBefore(Asked):
    """A day of which areas may go on. last: when its last event was; plans, areas: how each was planned and how far it
    had come, by its key."""

    date: str
    site: str
    kind: DayKind
    events: int
    head: Sha256
    signed: bool
    sealed: bool
    last: Moment
    plans: dict[str, AreaPlan]
    areas: dict[str, Held]


class OpenDay(Asked):
    """Begin the day with its plan and the checklists that its areas use.

    kind: what the day is for; before: days of which areas go on; lots: SHA-256 of the seed from which lots are drawn,
    without which none are, as only a trial of pure decisions may have it; tablet: which of the tablet's days it is.
    """

    do: Literal["open day"] = "open day"
    plan: DayPlan
    checklists: tuple[Checklist, ...]
    kind: DayKind = "work"
    before: tuple[DayBefore, ...] = ()
    lots: Sha256 | None = None
    tablet: TabletChain | None = None


class SpeakAs(Asked):
    """Say who speaks from now on."""

    do: Literal["speak as"] = "speak as"
    name: SpokenName


class NoteWeather(Asked):
    """Note the weather in a few words."""

    do: Literal["note weather"] = "note weather"
    text: Annotated[str, AS_ONE_LINE, Field(min_length=1, max_length=80)]


class MakeNote(Asked):
    """Write a remark into the log. A dictated one has its sound beside it: the stored file's name and SHA-256."""

    do: Literal["make note"] = "make note"
    text: Annotated[str, AS_ONE_LINE, Field(min_length=1, max_length=2000)]
    audio: str | None = None
    sha256: Sha256 | None = None


class AddTranscript(Asked):
    """Put beside a dictated note, answer or word of a foreman what a model wrote afterwards, from the sound that was
    kept. The words that were heard at first stay.

    target: the event that holds the sound; text: "" where the model made out no word; likelihood: the mean
    log-likelihood of its tokens, of the least likely part [nats]; model: its name; weights: the SHA-256 of its weights.
    """

    do: Literal["add transcript"] = "add transcript"
    target: Annotated[int, Field(ge=1)]
    text: Annotated[str, AS_ONE_LINE, Field(max_length=4000)]
    likelihood: Annotated[float, Field(ge=-100, le=0)]
    model: Annotated[str, AS_ONE_LINE, Field(min_length=1, max_length=120)]
    weights: Sha256


class NoteDust(Asked):
    """Note minutes [min] of one dusty task, for whoever speaks. Given at any time; it answers no step. By touch only.

    task, place: as Table 1 of 29 CFR 1926.1153 needs them. replaces: the number of an earlier entry of the same person
    that was wrong; then `minutes` stand in its place, and 0 takes it out. The wrong one stays in the log.
    """

    do: Literal["note dust"] = "note dust"
    task: dust.TableTask | dust.OtherTask
    place: dust.WorkPlace
    minutes: ExactNumber
    replaces: Annotated[int, Field(ge=1)] | None = None


class DustStarts(Asked):
    """A dusty task starts, for whoever speaks: its minutes run until it ends. Another that runs for them ends with it.

    task: None for the one that they did last; place: None for where they did one last, else indoors, the stricter.
    """

    do: Literal["dust starts"] = "dust starts"
    task: dust.TableTask | dust.OtherTask | None = None
    place: dust.WorkPlace | None = None


class DustEnds(Asked):
    """The dusty task of whoever speaks is over, and its minutes are noted: as the clock measured them.

    minutes: those that it took [min], where it ended earlier and nobody said so.
    """

    do: Literal["dust ends"] = "dust ends"
    minutes: ExactNumber | None = None


class StartArea(Asked):
    """Start an area of the plan, or go back to one that is under way.

    head, order: of an area in which methods are tried, the order of its samples and the head of the record that it was
    drawn from: the tablet's own, said by nobody.
    """

    do: Literal["start area"] = "start area"
    area: SpokenName
    head: Sha256 | Literal[""] = ""
    order: tuple[Letter, ...] = ()


class SpoilSample(Asked):
    """The sample at hand does not count, and is made again. reason: a ready one, or in words."""

    do: Literal["spoil sample"] = "spoil sample"
    reason: Annotated[str, AS_ONE_LINE, Field(min_length=3, max_length=500)] = "piece slipped"


class MoreSamples(Asked):
    """So many more samples of some combinations. head, order: as of `StartArea`."""

    do: Literal["more samples"] = "more samples"
    letters: Annotated[tuple[Letter, ...], Field(min_length=1)]
    repeats: Annotated[int, Field(ge=1, le=20)] = 1
    head: Sha256 | Literal[""] = ""
    order: tuple[Letter, ...] = ()


class ReleaseMethod(Asked):
    """Release a combination of the trial that is open for areas, by their keys, as the foreman `name` by PIN.

    made: what the trial has shown of it, and for another than the best one why; key, signature: of the key that the PIN
    opened, over this release.
    """

    do: Literal["release method"] = "release method"
    letter: Letter
    areas: Annotated[tuple[ShortText, ...], Field(min_length=1, max_length=50)]
    made: MockUp
    name: SpokenName
    key: PublicKey | Literal[""] = ""
    signature: KeySignature | Literal[""] = ""


class PlanArea(Asked):
    """Plan one more area for today, or plan one that is not begun anew. By touch only.

    checklists: the one that it uses, which is adopted where the day does not hold it yet.
    """

    do: Literal["plan area"] = "plan area"
    planned: AreaPlan
    checklists: tuple[Checklist, ...] = ()


class AddPerson(Asked):
    """One more works in the crew from here on: an installer, or the owner who came. By touch only."""

    do: Literal["add person"] = "add person"
    person: Person


class AcknowledgeCaution(Asked):
    """Acknowledge the caution that is due now."""

    do: Literal["acknowledge caution"] = "acknowledge caution"


class StartRound(Asked):
    """Open a called section: a new batch, the next tile.

    bucket: in which a batch is mixed. Of a section that sets a tile: piece, the number of the place it goes to, or its
    row and column; named, the piece's name; face, its own face [area] where it is cut. Without them the next place of
    the plan is taken.
    """

    do: Literal["start round"] = "start round"
    section: str
    piece: Annotated[int, Field(ge=1)] | None = None
    row: int | None = None
    column: int | None = None
    named: SpokenName | None = None
    face: FaceArea | None = None
    bucket: Bucket = 1


class SpreadMortar(Asked):
    """Mortar is spread, for so many tiles; without a number until the next tiles are in.

    In the round of a tile that is called step by step it answers the step at hand, and goes on behind that tile.
    """

    do: Literal["spread mortar"] = "spread mortar"
    section: str
    tiles: Annotated[int, Field(ge=0, le=1000)] | None = None


class TilesIn(Asked):
    """So many tiles of the mortar that is spread are in."""

    do: Literal["tiles in"] = "tiles in"
    section: str
    tiles: Annotated[int, Field(ge=0, le=1000)] = 1


class TakeBucket(Asked):
    """Take mortar from another bucket from now on."""

    do: Literal["take bucket"] = "take bucket"
    bucket: Bucket


class CallLate(Asked):
    """What stops the clock that just ran out was done in time, and called late. reason: a ready one, or in words."""

    do: Literal["call late"] = "call late"
    clock: str
    reason: Reason


class GoOnEarly(Asked):
    """Go on before the time that the step at hand waits for is over. reason: a ready one, or in words."""

    do: Literal["go on early"] = "go on early"
    reason: Reason


class Withdraw(Asked):
    """No, or scratch that: withdraw the reading read back, or else the last thing done in this area."""

    do: Literal["withdraw"] = "withdraw"


class MethodWish(Asked):
    """A method: one of the plan's list, else the one in use, with what changes of it.

    notch: of which method of the plan's list the notch and the trowel's angle are taken; trowel: another one, which the
    plan need not hold: by touch only.
    """

    method: SpokenName | None = None
    notch: SpokenName | None = None
    trowel: Trowel | None = None
    sides: CombedSides | None = None
    back: BackCoat | None = None
    movement: Stroke | None = None
    seating: Seating | None = None


class ChangeMethod(MethodWish):
    """Go on with another method. At a step that asks for the method this is its answer."""

    do: Literal["change method"] = "change method"


class VouchMethod(MethodWish):
    """Go on with a method that cannot do by the reckoning, on the foreman's word.

    Without a wish it is for the method that the area waits for, or the one in use. name: whose word it is, "" for
    whoever speaks; words, ready: the reason, in words or as one of the ready sentences.
    """

    do: Literal["vouch method"] = "vouch method"
    name: Annotated[str, AS_ONE_LINE, Field(max_length=80)] = ""
    words: Remark = ""
    ready: Literal["done before", "data sheet", "tried here"] | None = None


class SetterIs(Asked):
    """Say who sets from now on in the area that is open. Who speaks stays the same."""

    do: Literal["setter is"] = "setter is"
    name: SpokenName


class AskLift(Asked):
    """Lift a tile, by its number, or the one set last: now, or once the round at hand is done.

    inspector: it is an inspector's wish.
    """

    do: Literal["ask lift"] = "ask lift"
    number: int | None = None
    inspector: bool = False


class LeaveLift(AtStepAsked):
    """The tile whose lift is at hand cannot be lifted: why, in one of a few ready sentences or in words."""

    do: Literal["leave lift"] = "leave lift"
    ready: LeftReady = "cannot"
    words: Annotated[str, AS_ONE_LINE, Field(max_length=500)] = ""


class AcceptTiles(Asked):
    """The foreman lets a tile stay that is suspect or not covered, or all suspects where no number is given.

    In words: one of a few ready sentences, typed, or spoken and kept as sound, with the stored file's name and SHA-256.
    """

    do: Literal["accept tiles"] = "accept tiles"
    number: int | None = None
    ready: AcceptReady = "as it is"
    words: Annotated[str, AS_ONE_LINE, Field(max_length=2000)] = ""
    audio: str | None = None
    sha256: Sha256 | None = None


class TakeOff(Asked):
    """A tile was taken off, by its number. Its place is free then."""

    do: Literal["take off"] = "take off"
    number: int = 0


class SetLots(Asked):
    """The foreman says how often a lot falls in the area that is open: one tile in so many."""

    do: Literal["set lots"] = "set lots"
    one_in: int = 0


class CommitLots(Asked):
    """Draw the lots from another seed from here on, whose SHA-256 this is: the tablet's own step, said by nobody."""

    do: Literal["commit lots"] = "commit lots"
    lots: Sha256


class FinishArea(Asked):
    """Open the end section of the area."""

    do: Literal["finish area"] = "finish area"


class SignDay(Asked):
    """Sign the day, or the addendum that is open. Open points are refused unless `accept_open`.

    strokes: the finger's signature, as it was drawn: lines through points in 0..1000 across and 0..1000 down. key,
    signature: given where the signer's PIN opened the key that signed the confirmation of what was called out in the
    signer's name, without the events in `strike`; a signature by voice confirms nothing and strikes nothing out.
    """

    do: Literal["sign day"] = "sign day"
    accept_open: bool = False
    strokes: Strokes = ()
    strike: tuple[int, ...] = ()
    key: PublicKey | Literal[""] = ""
    signature: KeySignature | Literal[""] = ""


class ConfirmReleases(Asked):
    """By this person's PIN: confirm the releases that were called out in their name, and strike out those in `strike`.

    key, signature: of the key that the PIN opened, over this confirmation.
    """

    do: Literal["confirm releases"] = "confirm releases"
    name: SpokenName
    strike: tuple[int, ...] = ()
    key: PublicKey
    signature: KeySignature | Literal[""] = ""


class OpenAddendum(Asked):
    """Open the signed day again, for corrections or more work. What was signed stays as it is.

    lots: SHA-256 of the seed from which lots are drawn from here on.
    """

    do: Literal["open addendum"] = "open addendum"
    reason: Annotated[str, AS_ONE_LINE, Field(min_length=3, max_length=500)]
    lots: Sha256 | None = None


class Correct(Asked):
    """Correct an event of an earlier part in words: it stays as it is, the correction stands beside it."""

    do: Literal["correct"] = "correct"
    target: Annotated[int, Field(ge=1)]
    text: Annotated[str, AS_ONE_LINE, Field(min_length=3, max_length=2000)]


class AnswerPoint(Asked):
    """Say why an open point stands: its id, or its number (value) in the list of open points.

    ready: one of the ready sentences; words: the foreman's own. Spoken ones have their sound beside them: the stored
    file's name and SHA-256.
    """

    do: Literal["answer point"] = "answer point"
    point: Annotated[str, AS_ONE_LINE, Field(max_length=200)] | None = None
    value: ExactNumber | None = None
    ready: Ready | None = None
    words: Annotated[str, AS_ONE_LINE, Field(min_length=1, max_length=500)] | None = None
    audio: str | None = None
    sha256: Sha256 | None = None


class Tick(Asked):
    """Time has passed: let clocks warn and run out."""

    do: Literal["tick"] = "tick"


class Ask(Asked):
    """What changes nothing: the questions what now, repeat, how long and how many tiles a spread bears; asking to
    dictate a note or an answer; and asking the tablet to say less (quiet) or more (talk).

    value: the number of the open point that is to be answered.
    """

    do: Literal["ask"] = "ask"
    about: Literal["what now", "repeat", "how long", "how many", "note", "answer", "quiet", "talk"]
    value: ExactNumber | None = None


Command = Annotated[
    OpenDay
    | SpeakAs
    | NoteWeather
    | MakeNote
    | AddTranscript
    | NoteDust
    | DustStarts
    | DustEnds
    | StartArea
    | PlanArea
    | AddPerson
    | AcknowledgeCaution
    | StartRound
    | SpreadMortar
    | TilesIn
    | TakeBucket
    | CallLate
    | GoOnEarly
    | ConfirmStep
    | ConfirmLift
    | GiveReading
    | Choose
    | AttachPhoto
    | LeaveOutPhoto
    | MeasureBack
    | LeaveOutReading
    | ReleaseHold
    | Keep
    | Withdraw
    | ChangeMethod
    | VouchMethod
    | KeepMethod
    | SetterIs
    | AskLift
    | LeaveLift
    | AcceptTiles
    | TakeOff
    | SetLots
    | CommitLots
    | FinishArea
    | SpoilSample
    | MoreSamples
    | ReleaseMethod
    | SignDay
    | ConfirmReleases
    | OpenAddendum
    | Correct
    | AnswerPoint
    | Tick
    | Ask,
    Field(discriminator="do"),
]
