"""What happened, in the past tense: figures and decisions, never a sentence that a program would have to read again.

Events are appended and never changed: state, report and statistics are folds. An event holds what was decided, so that
a fold needs no rule: a later version of the program folds an old day as it was.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, PlainSerializer

from fieldassist.checklist.backs import BackMeasured as BackMeasured
from fieldassist.checklist.carrying import Held
from fieldassist.checklist.commands import Strokes
from fieldassist.checklist.event_base import EventBody, RecordedId, RecordedName
from fieldassist.checklist.event_base import StepPlace as StepPlace
from fieldassist.checklist.kinds.choice import ChoiceCalled as ChoiceCalled
from fieldassist.checklist.kinds.choice import ChoiceMade as ChoiceMade
from fieldassist.checklist.kinds.confirm import StepConfirmed as StepConfirmed
from fieldassist.checklist.kinds.hold import HoldReleased as HoldReleased
from fieldassist.checklist.kinds.hold import KeySignature, PublicKey
from fieldassist.checklist.kinds.hold import ReleasesConfirmed as ReleasesConfirmed
from fieldassist.checklist.kinds.hold import ReleaseStruck as ReleaseStruck
from fieldassist.checklist.kinds.lift import TileLifted as TileLifted
from fieldassist.checklist.kinds.method import MethodChosen as MethodChosen
from fieldassist.checklist.kinds.photo import PhotoAttached as PhotoAttached
from fieldassist.checklist.kinds.photo import PhotoLeftOut as PhotoLeftOut
from fieldassist.checklist.kinds.photo import Sha256
from fieldassist.checklist.kinds.reading import (
    ExactNumber,
)
from fieldassist.checklist.kinds.reading import (
    JudgedBy as JudgedBy,
)
from fieldassist.checklist.kinds.reading import (
    JudgedReading as JudgedReading,
)
from fieldassist.checklist.kinds.reading import (
    ReadingCalled as ReadingCalled,
)
from fieldassist.checklist.kinds.reading import (
    ReadingCorrected as ReadingCorrected,
)
from fieldassist.checklist.kinds.reading import (
    ReadingKept as ReadingKept,
)
from fieldassist.checklist.kinds.reading import (
    ReadingLeftOut as ReadingLeftOut,
)
from fieldassist.checklist.moment import Moment, Source
from fieldassist.checklist.plan import AreaPlan, DayKind, DayPlan, Letter, Method, MockUp, Person, Role
from fieldassist.checklist.reach import TileState
from fieldassist.checklist.recorded import AskedBriefly
from fieldassist.checklist.schema import Checklist
from fieldassist.checklist.tablet_chain import TabletChain
from fieldassist.checklist.told import Told
from fieldassist.trade import dust

# The format of the record. A day of another number is not opened (`record.log`).
FORMAT = 3
# The rules by which the engine decides. 0: before commands stood in the record, so that it cannot be decided again.
# Whoever changes what a command does to a day raises it, and lets the day's own number (`State.rules`) choose: a record
# is decided again, event by event, by the rules that it was made under.
RULES = 1

Change = Literal["method", "batch", "setter"]

# How the lift of a tile came about. Only lots carry a statistical bound.
Came = Literal[
    "lot",
    "forced",
    "first of run",
    "last of batch",
    "last of run",
    "asked",
    "inspector asked",
    "follow-up",
    "after failure",
    "interval",
]


def _brief(model: BaseModel) -> dict[str, Any]:
    return model.model_dump(mode="json", exclude_defaults=True)


# Plans and checklists are written without what is left at its default: reading them back fills it in again.
_Brief = PlainSerializer(_brief)


class ContinuedDay(EventBody):
    """A day of which areas go on: its date and site, its number of events and their last hash, and how it was left.

    areas: those that go on, by their names here.
    """

    date: Annotated[str, Field(max_length=40)]
    site: Annotated[str, Field(max_length=400)]
    events: int
    head: Sha256
    signed: bool
    sealed: bool
    areas: tuple[RecordedName, ...]


class DayOpened(EventBody):
    """The day began with this plan. kind: what the day is for; only a day of work is proof of anything.

    continues: the days before of which areas go on; tablet: which of the tablet's days it is, None for practice, for a
    rehearsal and where the tablet kept no book of its days; rules: by which the day is decided (`RULES`).
    """

    type: Literal["day opened"] = "day opened"
    plan: Annotated[DayPlan, _Brief]
    kind: DayKind = "work"
    continues: tuple[ContinuedDay, ...] = ()
    tablet: TabletChain | None = None
    rules: Annotated[int, Field(ge=0)] = 0


class ChecklistAdopted(EventBody):
    """The checklist as it stood when the day opened: later edits of the file do not touch this day."""

    type: Literal["checklist adopted"] = "checklist adopted"
    checklist: Annotated[Checklist, _Brief]


class AreaPlanned(EventBody):
    """An area came to the plan while the day ran. anew: it stood there, was not begun, and is planned otherwise."""

    type: Literal["area planned"] = "area planned"
    planned: Annotated[AreaPlan, _Brief]
    anew: bool = False


class PersonAdded(EventBody):
    """One more works in the crew from here on."""

    type: Literal["person added"] = "person added"
    person: Annotated[Person, _Brief]


class SpeakerChanged(EventBody):
    """From here on this person speaks. back: again, since the turn of whoever came to release is over."""

    type: Literal["speaker changed"] = "speaker changed"
    name: RecordedName
    role: Role
    back: bool = False


class WeatherNoted(EventBody):
    """The weather: one of `offers.WEATHER`, or a few words."""

    type: Literal["weather noted"] = "weather noted"
    text: Annotated[str, Field(max_length=80)]


class NoteMade(EventBody):
    """A remark. audio, sha256: where it was dictated, the stored sound; the text is then what was heard in it."""

    type: Literal["note made"] = "note made"
    text: Annotated[str, Field(max_length=2000)]
    audio: Annotated[str, Field(max_length=120)] | None = None
    sha256: Sha256 | None = None


class TranscriptMade(EventBody):
    """What a model wrote down afterwards from the sound that the event `target` holds; its heard words stay.

    sound: the SHA-256 of that sound; text: "" where the model made out no word; likelihood: the mean log-likelihood of
    its tokens, of the least likely part [nats]; unsure: it is so low that many words may be wrong; model: its name;
    weights: the SHA-256 of its weights.
    """

    type: Literal["transcript made"] = "transcript made"
    target: int
    sound: Sha256
    text: Annotated[str, Field(max_length=4000)]
    likelihood: float
    unsure: bool
    model: Annotated[str, Field(max_length=120)]
    weights: Sha256


class DustNoted(EventBody):
    """Minutes [min] of one dusty task, done by the person of this event.

    basis: the row of Table 1 of 29 CFR 1926.1153 for it, or why there is none. replaces: the number of an earlier entry
    of the same person that was wrong and counts no more; the minutes here stand in its place, none when they are 0.
    """

    type: Literal["dust noted"] = "dust noted"
    task: Annotated[str, Field(min_length=1, max_length=80)]
    place: dust.WorkPlace
    minutes: ExactNumber
    basis: Told
    replaces: int | None = None


class DustStarted(EventBody):
    """The person of this event started a dusty task: its minutes run."""

    type: Literal["dust started"] = "dust started"
    task: Annotated[str, Field(min_length=1, max_length=80)]
    place: dust.WorkPlace


class DustEnded(EventBody):
    """The dusty task that the event `began` started is over. Its minutes are noted by the event that follows: the
    source of that one says whether the clock measured them or a person gave them."""

    type: Literal["dust ended"] = "dust ended"
    began: int


class AreaStarted(EventBody):
    """Work on an area began. setter: who sets there, "" while nobody of that role has spoken."""

    type: Literal["area started"] = "area started"
    area: RecordedName
    setter: Annotated[str, Field(max_length=80)] = ""


class AreaCarried(EventBody):
    """An area of an earlier day, or of another tablet, goes on. head: of that day's chain; held: how far it was."""

    type: Literal["area carried"] = "area carried"
    area: RecordedName
    date: Annotated[str, Field(max_length=40)]
    head: Sha256
    held: Held


class AreaEntered(EventBody):
    """The crew went back to an area under way."""

    type: Literal["area entered"] = "area entered"
    area: RecordedName


class PlaceTaken(EventBody):
    """Where a piece goes. number: of its place on the grid; row, column, or its name; face_m2: its own face [m2]."""

    number: int | None = None
    row: int | None = None
    column: int | None = None
    name: Annotated[str, Field(max_length=80)] | None = None
    face_m2: float


class LiftAimed(EventBody):
    """Which tile a round lifts, by number, and how the lift came about."""

    tile: int
    came: Came


class SetTile(EventBody):
    """A tile that was set: see `state.Tile`. number, order, run, setter, method and batch are decided once.

    again: it was taken off before, and stands in new mortar; witnessed: every step of it was called; spread: the round
    of the mortar that it was counted out of, None where it was called step by step.
    """

    number: int
    order: int
    run: int
    place: PlaceTaken
    setter: Annotated[str, Field(max_length=80)]
    method: int
    batch: int
    again: bool = False
    witnessed: bool = True
    spread: int | None = None


class LotDrawn(EventBody):
    """The lot of a setting: see `lots.Lot`."""

    setting: int
    one_in: int
    fell: bool
    forced: bool


class TilePutBack(EventBody):
    """A tile that was lifted and stands again: after which lift, in the same mortar or (set again) in new."""

    tile: int
    lift: int
    how: Literal["put back", "set again"]


class LiftBound(EventBody):
    """How far forward a failed lift makes suspect: the order of the last setting before the cure."""

    lift: int
    until: int


class TileMark(EventBody):
    """The state of a tile, the lift that it rests on, and the lifts that cleared it of a suspicion."""

    tile: int
    state: TileState
    lift: int | None = None
    cleared_by: tuple[int, ...] = ()


class RuledOut(EventBody):
    """A combination of a trial that is not eligible, and why. shown: it is run all the same, to be looked at."""

    letter: Letter
    reasons: tuple[Told, ...]
    shown: bool = False


class SamplesOrdered(EventBody):
    """The order of a trial's samples, drawn from the head of the record as it stood before: anybody can draw it again.

    order: the letters of the combinations, sample by sample; ruled_out: what the reckoning says of the others; more: so
    many more of some are made behind those that were drawn before.
    """

    type: Literal["samples ordered"] = "samples ordered"
    area: RecordedName
    head: Sha256
    order: tuple[Letter, ...]
    ruled_out: tuple[RuledOut, ...] = ()
    more: bool = False


class SampleBegun(EventBody):
    """The sample that a round makes: see `state.TrialSample`."""

    letter: Letter
    place: int
    batch: int
    age_min: float


class SampleSpoiled(EventBody):
    """A sample does not count, and is made again: said before it was looked at. drops: what was still to be done."""

    type: Literal["sample spoiled"] = "sample spoiled"
    area: RecordedName
    section: RecordedId
    round: int
    letter: Letter
    reason: Told
    drops: tuple[StepPlace, ...] = ()


class MethodReleased(EventBody):
    """A foreman released a method from a trial, by PIN: for which areas, by their keys, and what the trial has shown.

    letter: of its combination; made: what stands in the plan of those areas; name, role, deputy_for: who released it;
    key, signature: the public key and its Ed25519 signature over this release, in hexadecimal.
    """

    type: Literal["method released"] = "method released"
    area: RecordedName
    letter: Letter
    method: Method
    areas: Annotated[tuple[Annotated[str, Field(max_length=400)], ...], Field(min_length=1)]
    made: Annotated[MockUp, _Brief]
    name: RecordedName
    role: Role
    deputy_for: RecordedName | Literal[""] = ""
    key: PublicKey
    signature: KeySignature


class SectionOpened(EventBody):
    """A section's steps became due.

    steps: those that were opened, in order; after: behind how many of the steps at hand they come; failure: the
    non-conformance that it cures or checks again; phase: the area's phase from here on, None where it does not change;
    called: it was called for, and can be taken back; place: of the tile that it sets; lifts: the tile that it lifts;
    counts_anew: how much has been set since this section begins at nothing, and what changed is forgotten; makes_due:
    the sections that this change of batch makes due; bucket: in which a batch is mixed, 0 where none is; again: the
    times of day for which it counts; by_time: the time of day opened it, and nothing before is taken back; after_lift:
    of a round that puts a tile back, the lift that it follows, None for the last one; by_answer: the
    answer that the same command gives opened it, and both are taken back together; sample: of a trial, that it makes.
    """

    type: Literal["section opened"] = "section opened"
    area: RecordedName
    section: RecordedId
    round: int
    steps: tuple[RecordedId, ...]
    reason: Told
    failure: int | None = None
    phase: Literal["starting", "finishing"] | None = None
    after: int = 0
    called: bool = False
    place: PlaceTaken | None = None
    lifts: LiftAimed | None = None
    counts_anew: bool = False
    makes_due: tuple[RecordedId, ...] = ()
    bucket: int = 0
    again: tuple[Literal["midday", "end"], ...] = ()
    by_time: bool = False
    after_lift: int | None = None
    by_answer: bool = False
    sample: SampleBegun | None = None


class RoundTakenUp(EventBody):
    """The steps of a round that is open go on: what was at hand waits behind it. Two work at a time."""

    type: Literal["round taken up"] = "round taken up"
    area: RecordedName
    section: RecordedId
    round: int


class SectionClosed(EventBody):
    """The last step of a section was done.

    good: this round is the one that others need; tile: the one that it set, None where it sets none; lot: of that
    setting; puts_back: the lifted tile that it put back; bounds: failed lifts that it cures, and how far they reach;
    counts_for: the sections that become due by the square metres set; phase: the area's phase from here on; batch: it
    mixed one, which is alive from here on; empties: the round of the batch that was in its bucket; counts_anew: how
    much has been set since this section begins at nothing.
    """

    type: Literal["section closed"] = "section closed"
    area: RecordedName
    section: RecordedId
    round: int
    good: bool = False
    tile: SetTile | None = None
    lot: LotDrawn | None = None
    puts_back: TilePutBack | None = None
    bounds: tuple[LiftBound, ...] = ()
    counts_for: tuple[RecordedId, ...] = ()
    phase: Literal["working"] | None = None
    batch: bool = False
    empties: int | None = None
    counts_anew: bool = False


class MortarSpread(EventBody):
    """Mortar was spread for tiles that are counted. Numbered by its round of the section that sets them.

    setter, method, batch: whose it is, how it was combed and out of which batch, as of `state.Tile`; wanted: for how
    many tiles, None where that was not said; bears: for how many the open time is enough at the pace of the day, None
    where no pace was measured; witnessed: the first of them is called step by step in the round that is open.
    """

    type: Literal["mortar spread"] = "mortar spread"
    area: RecordedName
    section: RecordedId
    round: int
    setter: Annotated[str, Field(max_length=80)]
    method: int
    batch: int
    wanted: int | None = None
    bears: int | None = None
    witnessed: bool = False


class TileCounted(EventBody):
    """A tile of a spread is in. It was counted: its steps were not called.

    lot: of that setting; counts_for: the sections that become due by what is set; ends: the spread is over with it.
    """

    type: Literal["tile counted"] = "tile counted"
    area: RecordedName
    section: RecordedId
    round: int
    tile: SetTile
    lot: LotDrawn | None = None
    counts_for: tuple[RecordedId, ...] = ()
    ends: bool = False


class StillFailing(EventBody):
    """The check after a corrective action failed again; the non-conformance stays open. lift: the one that failed."""

    type: Literal["still failing"] = "still failing"
    area: RecordedName
    failure: int
    finding: Told
    lift: int | None = None


class StepReopened(EventBody):
    """A failed step will be asked again after its corrective action."""

    type: Literal["step reopened"] = "step reopened"
    area: RecordedName
    section: RecordedId
    round: int
    step: RecordedId
    failure: int


class CautionAcknowledged(EventBody):
    """A caution was acknowledged, for `persons`; "" stands for whoever spoke, where none is named.

    how: it was told whole and answered "understood"; told by its first sentence to who had heard it earlier that day,
    and answered so; or shown, and gone on with the round. round: of the section, where it is shown at each.
    """

    type: Literal["caution acknowledged"] = "caution acknowledged"
    area: RecordedName
    caution: RecordedId
    round: int = 0
    persons: tuple[RecordedName, ...] = ()
    how: Literal["understood", "understood again", "went on"] = "understood"


class Withdrawn(EventBody):
    """The event at `target` no longer counts, nor do those that it had brought about (`strikes`)."""

    type: Literal["withdrawn"] = "withdrawn"
    area: RecordedName
    target: int
    reason: Literal["answered no", "scratched", "said again"]
    strikes: tuple[int, ...] = ()


class LiftJudged(EventBody):
    """A lifted test tile was judged.

    came: how the lift came about; lifted: the number of the event at which it was lifted, which is the lift's time;
    order, run: of the tile's setting then; setter: who set it.
    coverage and required [percent]; verdict: "not complete" where something that is required was not read; reasons: why
    it failed; unread: what was not read; tightened: how many lifts still follow every tile from here on.
    """

    type: Literal["lift judged"] = "lift judged"
    area: RecordedName
    section: RecordedId
    round: int
    lift: int
    tile: int
    came: Came
    lifted: int
    order: int
    run: int
    setter: Annotated[str, Field(max_length=80)]
    label: Annotated[str, Field(max_length=40)] | None = None
    coverage: ExactNumber
    required: ExactNumber
    verdict: Literal["passed", "failed", "not complete"]
    reasons: tuple[Told, ...] = ()
    unread: tuple[Told, ...] = ()
    basis: Told
    tightened: int = 0

    @property
    def passed(self) -> bool:
        """Whether nothing failed and nothing that is required was left unread."""
        return self.verdict == "passed"


class FailureOpened(EventBody):
    """A non-conformance: what failed, what was required and what must be done. Numbered by its event.

    criterion: what was required, in figures; None where an answer failed, and `asked` is the question then; run: the
    clock that ran out; stops: the weather stopped the work, until this is cured; lift: the one that failed; reopens:
    the area was finished, and is worked on again.
    """

    type: Literal["failure opened"] = "failure opened"
    area: RecordedName
    section: RecordedId
    round: int
    step: RecordedId
    finding: Told
    criterion: JudgedBy | None = None
    asked: Told | None = None
    basis: Told | None = None
    corrective: RecordedId
    run: int | None = None
    stops: bool = False
    reopens: bool = False
    lift: int | None = None


class FailureClosed(EventBody):
    """A non-conformance was cured: by which corrective action, and what showed it.

    drops: the steps that fall away with it, where a correction shows that nothing had failed.
    """

    type: Literal["failure closed"] = "failure closed"
    area: RecordedName
    failure: int
    corrective: RecordedId
    shown_by: Told
    drops: tuple[StepPlace, ...] = ()


class InspectionTightened(EventBody):
    """The next lifts follow every tile."""

    type: Literal["inspection tightened"] = "inspection tightened"
    area: RecordedName
    lifts: int
    failure: int


class ClockStarted(EventBody):
    """A clock began to run, for so many minutes. Numbered by its event."""

    type: Literal["clock started"] = "clock started"
    area: RecordedName
    clock: RecordedId
    section: RecordedId
    round: int
    minutes: float
    basis: Told


class ClockStopped(EventBody):
    """What stops a clock was done, and the time that ran is known: measured, not asked.

    minutes: those that ran; verdict: how they were judged, None where they were not; criterion: by what; runs_on: it
    was too early, and the clock runs on from its start; together: it began and ended in one breath, so the two were not
    timed apart, and a time that must not be longer is not judged.
    """

    type: Literal["clock stopped"] = "clock stopped"
    area: RecordedName
    clock: RecordedId
    run: int
    minutes: float
    verdict: Literal["passed", "over", "under"] | None = None
    criterion: JudgedBy | None = None
    runs_on: bool = False
    together: bool = False


class ClockUp(EventBody):
    """A time that something had to wait for is over."""

    type: Literal["clock up"] = "clock up"
    area: RecordedName
    clock: RecordedId
    run: int
    minutes: float


class WentOnEarly(EventBody):
    """A step was gone on with before the time that it waits for was over. left_minutes: how much was left."""

    type: Literal["went on early"] = "went on early"
    area: RecordedName
    section: RecordedId
    round: int
    step: RecordedId
    clock: RecordedId
    run: int
    left_minutes: float
    reason: Told


class CalledLate(EventBody):
    """What stops a clock that ran out was done in time, and was called late: the clock's failure is closed with it.

    failure: that of the clock; minutes: how much later than the time allowed it was called; brings: the steps that
    fell away with the clock and come back; drops: those of the corrective action, which is not needed.
    """

    type: Literal["called late"] = "called late"
    area: RecordedName
    clock: RecordedId
    run: int
    failure: int
    minutes: float
    reason: Told
    brings: tuple[StepPlace, ...] = ()
    drops: tuple[StepPlace, ...] = ()


class BucketTaken(EventBody):
    """From here on mortar is taken from another bucket: the batch of that round is in use."""

    type: Literal["bucket taken"] = "bucket taken"
    area: RecordedName
    section: RecordedId
    round: int
    bucket: int


class WorkStopped(EventBody):
    """The weather stopped the work of an area."""

    type: Literal["work stopped"] = "work stopped"
    area: RecordedName
    weather: Annotated[str, Field(max_length=80)]


class ClockWarned(EventBody):
    """A clock gave its warning before time is up."""

    type: Literal["clock warned"] = "clock warned"
    area: RecordedName
    clock: RecordedId
    run: int
    left_minutes: float


class ClockRanOut(EventBody):
    """Time was up.

    drops: steps that fell away with it; ends: sections whose round is good no more; batch: the round of the batch that
    is alive no more.
    """

    type: Literal["clock ran out"] = "clock ran out"
    area: RecordedName
    clock: RecordedId
    run: int
    minutes: float
    drops: tuple[StepPlace, ...] = ()
    ends: tuple[RecordedId, ...] = ()
    batch: int | None = None


class MethodChanged(EventBody):
    """Another method is used in this area from here on: its name in the plan, "" where it has none, and all of it.
    makes_due: the sections that this makes due."""

    type: Literal["method changed"] = "method changed"
    area: RecordedName
    name: Annotated[str, Field(max_length=80)] = ""
    method: Method
    makes_due: tuple[RecordedId, ...] = ()


class MethodDoubted(EventBody):
    """The method in use cannot do by the reckoning, and nothing says otherwise. holds: the area waits for another one,
    or for the foreman's word. name: of the plan, "" where it has none; reasons: why not."""

    type: Literal["method doubted"] = "method doubted"
    area: RecordedName
    name: Annotated[str, Field(max_length=80)] = ""
    method: Method
    reasons: tuple[Told, ...]
    holds: bool


class MethodVouched(EventBody):
    """A foreman, or a deputy, gave his word for a method that cannot do by the reckoning.

    called: the method's name in the plan, "" where it has none; name, role: whose word it is; deputy_for: the foreman
    in whose place; told: the reason given; reasons: what stands against the method.
    """

    type: Literal["method vouched"] = "method vouched"
    area: RecordedName
    called: Annotated[str, Field(max_length=80)] = ""
    method: Method
    name: RecordedName
    role: Role
    deputy_for: RecordedName | Literal[""] = ""
    told: Told
    reasons: tuple[Told, ...]


class SetterChanged(EventBody):
    """Somebody else sets in this area from here on. makes_due: the sections that this makes due."""

    type: Literal["setter changed"] = "setter changed"
    area: RecordedName
    name: RecordedName
    makes_due: tuple[RecordedId, ...] = ()


class FinishHeld(EventBody):
    """The area was to be finished, but the surface set and the surface planned do not agree: `point` says by how much.
    It is finished once they do, or once the foreman has said why not."""

    type: Literal["finish held"] = "finish held"
    area: RecordedName
    point: Told


class LotsCommitted(EventBody):
    """From here on the lots come from the seed whose SHA-256 this is (`lots`)."""

    type: Literal["lots committed"] = "lots committed"
    commitment: Sha256


class LotsRevealed(EventBody):
    """The seed from which the lots were drawn since its hash was committed: anybody can draw them again."""

    type: Literal["lots revealed"] = "lots revealed"
    commitment: Sha256
    seed: Sha256


class LotsRuled(EventBody):
    """From here on one tile in so many is lifted by lot in this area, by the foreman's word."""

    type: Literal["lots ruled"] = "lots ruled"
    area: RecordedName
    one_in: int


class LiftDue(EventBody):
    """A tile is to be lifted once nothing else is at hand, and how that came about. called: somebody asked for it, and
    may take that back."""

    type: Literal["lift due"] = "lift due"
    area: RecordedName
    tile: int
    came: Came
    called: bool = False


class LiftLeft(EventBody):
    """A tile that was to be lifted cannot be, and why. order: of its setting."""

    type: Literal["lift left"] = "lift left"
    area: RecordedName
    section: RecordedId
    round: int
    step: RecordedId
    tile: int
    order: int
    came: Came
    reason: Told


class TilesMarked(EventBody):
    """What the lifts say of the tiles of an area, where that is another than before."""

    type: Literal["tiles marked"] = "tiles marked"
    area: RecordedName
    marks: tuple[TileMark, ...]


class TilesAccepted(EventBody):
    """The foreman lets tiles stay that were suspect or not covered, in his words.

    tiles, orders: their numbers and those of their settings; audio, sha256: where the words were spoken, the stored
    sound; `told` is then what was heard in it.
    """

    type: Literal["tiles accepted"] = "tiles accepted"
    area: RecordedName
    tiles: tuple[int, ...]
    orders: tuple[int, ...]
    told: Told
    audio: Annotated[str, Field(max_length=120)] | None = None
    sha256: Sha256 | None = None


class TileTakenOff(EventBody):
    """A tile was taken off. order: of its setting."""

    type: Literal["tile taken off"] = "tile taken off"
    area: RecordedName
    tile: int
    order: int


class AreaFinished(EventBody):
    """Every step of the area is done."""

    type: Literal["area finished"] = "area finished"
    area: RecordedName


class CommandRefused(EventBody):
    """Something was asked for and refused: the command, what it named, and why."""

    type: Literal["command refused"] = "command refused"
    area: RecordedName | None
    attempt: Told
    reason: Told


class DaySigned(EventBody):
    """The day was signed, or the addendum with this number. strokes: the finger's signature."""

    type: Literal["day signed"] = "day signed"
    name: RecordedName
    role: Role
    open_points: tuple[Told, ...] = ()
    part: int = 0
    strokes: Strokes = ()


class DaySealed(EventBody):
    """The events up to number `covers`, whose chain ends in `head`, were signed by this person's key.

    public_key, signature: Ed25519 (RFC 8032), in hexadecimal; over what exactly, `record.seal` says. certificate: the
    SHA-256 of the certificate that signs the printed pages, "" where they are not signed.
    """

    type: Literal["day sealed"] = "day sealed"
    name: RecordedName
    role: Role
    part: int
    covers: int
    head: Sha256
    public_key: PublicKey
    signature: KeySignature
    certificate: Sha256 | Literal[""] = ""


class AddendumOpened(EventBody):
    """The signed day was opened again: what follows is an addendum, signed and sealed in its turn."""

    type: Literal["addendum opened"] = "addendum opened"
    number: int
    reason: Annotated[str, Field(max_length=500)]


class CorrectionMade(EventBody):
    """The event `target` is corrected in words; it stays as it is."""

    type: Literal["correction made"] = "correction made"
    target: int
    text: Annotated[str, Field(max_length=2000)]


class PointAnswered(EventBody):
    """The foreman said why an open point stands.

    point: its id; told: the point as it stood; answer: one of the ready sentences, or his own words; audio, sha256:
    where he spoke them, the stored sound, and the answer is then what was heard in it.
    """

    type: Literal["point answered"] = "point answered"
    point: Annotated[str, Field(max_length=200)]
    told: Told
    answer: Told
    audio: Annotated[str, Field(max_length=120)] | None = None
    sha256: Sha256 | None = None


class PinRefused(EventBody):
    """A wrong PIN was given for this person. locked_until: from when on another try is taken, "" for at once."""

    type: Literal["pin refused"] = "pin refused"
    name: RecordedName
    attempts_left: int
    locked_until: Annotated[str, Field(max_length=40)] = ""


class KeyReplaced(EventBody):
    """This person's key is one that was made because the PIN was forgotten. key, before: the public keys."""

    type: Literal["key replaced"] = "key replaced"
    name: RecordedName
    key: PublicKey
    before: PublicKey


class ClockJumped(EventBody):
    """The wall clock was set, or ran apart from the monotonic one: by so many seconds, forward if positive."""

    type: Literal["clock jumped"] = "clock jumped"
    seconds: float


class ClockUnwatched(EventBody):
    """The machine was started anew, and for so many seconds of the wall clock nothing was written: nobody can tell
    whether the clock was set forward meanwhile."""

    type: Literal["clock not watched"] = "clock not watched"
    seconds: float


class DayRecovered(EventBody):
    """The log was damaged, and put together again out of what could be read: from here on it goes on.

    events: how many go on, from the first; behind: how many more were read behind a gap, and are kept apart; missing:
    first and last number of each gap that is known.
    """

    type: Literal["day recovered"] = "day recovered"
    events: int
    behind: int = 0
    missing: tuple[tuple[int, int], ...] = ()

    @property
    def lost(self) -> int:
        """How many events are known to be missing."""
        return sum(last - first + 1 for first, last in self.missing)


Body = Annotated[
    DayOpened
    | ChecklistAdopted
    | AreaPlanned
    | PersonAdded
    | SpeakerChanged
    | WeatherNoted
    | NoteMade
    | TranscriptMade
    | DustNoted
    | DustStarted
    | DustEnded
    | AreaStarted
    | AreaCarried
    | AreaEntered
    | SectionOpened
    | RoundTakenUp
    | SectionClosed
    | MortarSpread
    | TileCounted
    | StillFailing
    | StepReopened
    | CautionAcknowledged
    | StepConfirmed
    | TileLifted
    | ReadingCalled
    | ReadingKept
    | ReadingLeftOut
    | ChoiceCalled
    | ReadingCorrected
    | ChoiceMade
    | PhotoAttached
    | PhotoLeftOut
    | BackMeasured
    | SamplesOrdered
    | SampleSpoiled
    | MethodReleased
    | HoldReleased
    | ReleasesConfirmed
    | ReleaseStruck
    | Withdrawn
    | LiftJudged
    | FailureOpened
    | FailureClosed
    | InspectionTightened
    | ClockStarted
    | ClockStopped
    | ClockUp
    | WentOnEarly
    | CalledLate
    | BucketTaken
    | WorkStopped
    | ClockWarned
    | ClockRanOut
    | MethodChanged
    | MethodDoubted
    | MethodVouched
    | MethodChosen
    | SetterChanged
    | FinishHeld
    | LotsCommitted
    | LotsRevealed
    | LotsRuled
    | LiftDue
    | LiftLeft
    | TilesMarked
    | TilesAccepted
    | TileTakenOff
    | AreaFinished
    | CommandRefused
    | DaySigned
    | DaySealed
    | AddendumOpened
    | CorrectionMade
    | PointAnswered
    | PinRefused
    | KeyReplaced
    | ClockJumped
    | ClockUnwatched
    | DayRecovered,
    Field(discriminator="type"),
]


class Event(BaseModel):
    """A body with its number (1, 2, 3, ...), its id made by the client, when it happened, who spoke and how.

    source: how the command, and each value in it, came to the tablet. command: of the first event that a command
    brought about, what was asked (`recorded`); of a refusal, what was refused.
    """

    model_config = ConfigDict(extra="forbid", frozen=True)

    seq: Annotated[int, Field(ge=1)]
    id: Annotated[str, Field(max_length=80)]
    at: Moment
    by: Annotated[str, Field(max_length=80)]
    source: Source
    body: Body
    command: AskedBriefly | None = Field(default=None, exclude_if=lambda command: command is None)
