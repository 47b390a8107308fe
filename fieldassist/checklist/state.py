"""Where a day stands, as data. `fold` makes it from events; what follows from it, `engine` decides."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import cached_property
from math import ceil
from typing import TYPE_CHECKING, Annotated, Any, Literal, TypeAlias, TypeVar

from fieldassist.checklist import rules
from fieldassist.checklist.lots import Lot, LotRule
from fieldassist.checklist.moment import BREAK_MIN, Moment
from fieldassist.checklist.places import PiecePlace, planned_m2, planned_places, whole_face_m2
from fieldassist.checklist.plan import AreaPlan, DayKind, DayPlan, Method, MockUp, Person, Role
from fieldassist.checklist.reach import TileSetting, TileState
from fieldassist.trade import dust, quantities
from fieldassist.trade.message import Figure, Message, Text
from fieldassist.trade.quantities import Quantity

if TYPE_CHECKING:
    from fieldassist.checklist.backs import BackRecord
    from fieldassist.checklist.events import Event
    from fieldassist.checklist.kinds import Step
    from fieldassist.checklist.kinds.reading import JudgedBy
    from fieldassist.checklist.methods import MethodVerdict
    from fieldassist.checklist.schema import Caution, Checklist, Corrective, Section


# Lifts that came about because another one failed: how far bad mortar reaches is seen before anything is set.
AFTER_FAILURE = ("after failure", "follow-up")

# The number of an event. What is carried to another day tells them by this (`carrying`): there they become negative.
EventNumber: TypeAlias = Annotated[int, "event"]


@dataclass(frozen=True, slots=True)
class Task:
    """One step that is due. `failure`: it checks again what that non-conformance found."""

    section: str
    round: int
    step: str
    failure: EventNumber | None = None


@dataclass(frozen=True, slots=True)
class ClockRun:
    """A clock that runs: `run` is the number of the event that started it."""

    run: EventNumber
    clock: str
    section: str
    round: int
    minutes: float
    started: Moment
    warned: bool = False
    up: bool = False  # its time was told to be over, and it must have been at least as long

    def left(self, now: Moment) -> float:
        """Minutes left, negative once time is up."""
        return self.minutes - self.started.minutes_to(now)


@dataclass(frozen=True, slots=True)
class Failure:
    """An open non-conformance: which corrective action cures it, in which round and at which step it was found, and
    what it is."""

    corrective: str
    section: str
    round: int
    step: str
    finding: Message | Text


@dataclass(frozen=True, slots=True)
class ReadingRecord:
    """A reading that was kept, as it counts now.

    called, kept: the events that called it out and kept it, of its last correction where it was corrected; at: when it
    was first kept; corrected: whether it was; elapsed: of a duration, the minutes that had passed by then since what it
    measures began, None where nothing tells; judged: what it was held against; finding: why it fails; entered: the
    command that called and kept it at once, "" where it was kept otherwise.
    """

    called: int
    kept: int
    section: str
    round: int
    step: str
    quantity: str
    value: Fraction
    unit: str
    label: str | None
    at: Moment
    measures: str | None = None
    judged: JudgedBy | None = None
    verdict: str | None = None
    elapsed: float | None = None
    corrected: bool = False
    entered: str = ""

    @property
    def canonical(self) -> float:
        """The value in the canonical unit of its dimension."""
        return quantities.canonical(float(self.value), self.unit)


@dataclass(frozen=True, slots=True)
class Remedy:
    """What an answer to a corrective action promised of the tiles that follow.

    seq: its event; what: the answer; after: how many settings there were before it; promises: field of the method and
    its value, or "notch" and "larger"; method: which of the area's methods was in use then.
    """

    seq: EventNumber
    what: Message | Text
    after: int
    promises: Mapping[str, str]
    method: int


@dataclass(frozen=True, slots=True)
class Dictation:
    """What was dictated. file, sha256: the stored sound; transcribed: a model has written it out since."""

    file: str
    sha256: str
    transcribed: bool = False


@dataclass(frozen=True, slots=True)
class PointAnswer:
    """What the foreman said of an open point. seq: the event; audio: the stored sound where it was spoken."""

    seq: int
    by: str
    at: Moment
    answer: Message | Text
    audio: str | None = None


@dataclass(frozen=True, slots=True)
class LiftTarget:
    """Which tile a round lifts, by number, and how the lift came about."""

    tile: int
    came: str


@dataclass(frozen=True, slots=True)
class Tile:
    """A tile or panel that was set.

    number: of its place on the grid, or else the order in which it was first set in the area; order: of its setting,
    counted over the area's days (set again, it gets a new one); run: of all that one setter sets with one method in the
    area in a day; place: row and column, or its name; face_m2 [m2]; method: which of `Area.methods_used`; batch: round
    of the batch section, 0 where there is none; set: number of the event; witnessed: every step of it was called, else
    it was counted; state, and the lift it rests on; cleared_by: lifts that cleared it of a suspicion; put_back: after
    it was lifted; free: since when whoever called it out had nothing else at hand, None where that is not known;
    spread: the round of the mortar that it was counted out of, None where it was called step by step; together: how
    many phrases were called in the one breath that held all that was called of it, so that nothing of it was timed;
    0 where time went by between them.
    """

    number: int
    order: int
    run: int
    place: PiecePlace
    setter: str
    method: int
    batch: int
    set: EventNumber
    at: Moment
    witnessed: bool = True
    state: TileState = "not yet covered"
    lift: int | None = None
    cleared_by: tuple[int, ...] = ()
    put_back: Literal["", "put back", "set again"] = ""
    free: Moment | None = None
    spread: int | None = None
    together: int = 0


@dataclass(frozen=True, slots=True)
class Spread:
    """Mortar that was spread for tiles, by the round of the section that sets them.

    setter, method, batch: as of `Tile`; at: when; wanted: for how many, None where that was not said; bears: for how
    many the open time is enough, None where nobody knows; done: how many are in; standing: open while tiles may come
    into it, over once they are in, skinned once its open time ran out.
    """

    section: str
    round: int
    setter: str
    method: int
    batch: int
    at: Moment
    wanted: int | None = None
    bears: int | None = None
    done: int = 0
    standing: Literal["open", "over", "skinned"] = "open"

    @property
    def left(self) -> int | None:
        """How many tiles are still to come, None where nobody said for how many it is."""
        return None if self.wanted is None else max(0, self.wanted - self.done)


@dataclass(frozen=True, slots=True)
class Pace:
    """The minutes between spreading and setting that were measured of one setter today, for so much surface [m2]."""

    minutes: float
    m2: float


@dataclass(frozen=True, slots=True)
class FreeSince:
    """When a round was closed, and who called its end."""

    at: Moment
    by: str


@dataclass(frozen=True, slots=True)
class LiftRecord:
    """A lifted tile: the lift's number in the area, the tile's number, and the order and run of its setting then.

    came: how the lift came about; section, round: where it was asked; lifted: number of the event; verdict: None until
    it was judged; failure: the non-conformance that it showed; until: how far forward it makes suspect once that is
    cured, the order of a setting; by: who called it, "" where that was not kept.
    """

    number: int
    tile: int
    order: int
    run: int
    came: str
    section: str
    round: int
    lifted: EventNumber
    at: Moment
    label: str | None = None
    verdict: Literal["passed", "failed", "not complete"] | None = None
    failure: EventNumber | None = None
    until: int | None = None
    by: str = ""


@dataclass(frozen=True, slots=True)
class LeftLift:
    """A lift that could not be carried out: of which setting of which tile, how it came about, and why. seq: the number
    of its event."""

    seq: EventNumber
    tile: int
    order: int
    came: str
    reason: Message | Text


@dataclass(frozen=True, slots=True)
class Acceptance:
    """Tiles that the foreman let stay, by number, in his words. seq: the number of the event; sound: he spoke them."""

    seq: EventNumber
    tiles: tuple[int, ...]
    by: str
    words: Message | Text
    sound: bool = False


@dataclass(frozen=True, slots=True)
class HoldRelease:
    """A hold point that was released: by the event `seq`, at which step, by whom and how.

    deputy_for: the foreman in whose place, "" for none; how: "pin", or "called" where it was called out in this name;
    confirmed: when the person confirmed by PIN what was called, None while not; struck: the person said by PIN that it
    was no release of theirs.
    """

    seq: EventNumber
    area: str
    section: str
    round: int
    step: str
    name: str
    role: Role
    deputy_for: str
    how: Literal["called", "pin"]
    at: Moment
    confirmed: Moment | None = None
    struck: bool = False

    @property
    def waits(self) -> bool:
        """Whether it was called out and the person has not answered by PIN yet."""
        return self.how == "called" and self.confirmed is None and not self.struck


@dataclass(frozen=True, slots=True)
class RanOut:
    """A clock that ran out, and what fell away with it. Who was late because the hands were full may say so once, as
    long as the failure is open: failure, 0 where the clock opened none."""

    run: ClockRun
    drops: tuple[Task, ...]
    failure: EventNumber = 0


@dataclass(frozen=True, slots=True)
class Excused:
    """Who said why time was not kept, and by how many minutes: called late, or gone on early. seq: its event."""

    seq: EventNumber
    by: str
    clock: str
    minutes: float
    reason: Message | Text


@dataclass(frozen=True, slots=True)
class MortarBatch:
    """A batch of mortar, by the round of its section: in which bucket, of how many bags, which lot and how much water.

    alive: mixed, and neither too old nor replaced; more than one may be, each in its own bucket.
    """

    section: str
    round: int
    bucket: int = 1
    bags: Fraction | None = None
    lot: str = ""
    water: Quantity | None = None
    alive: bool = False


@dataclass(frozen=True, slots=True)
class SampleAnswer:
    """What was read or said of a sample: at which step, and what that measures.

    reader: who read it, "" for nobody by name; value, unit: of a reading; option: of a choice; how: it came to the
    tablet; kept: the event that kept it; corrected: it stands in the place of an earlier reading.
    """

    step: str
    measures: str
    reader: str = ""
    value: Fraction | None = None
    unit: str = ""
    option: str = ""
    how: str = ""
    kept: EventNumber = 0
    corrected: bool = False

    @property
    def canonical(self) -> float:
        """The value in the canonical unit of its dimension; 0 for a choice."""
        return quantities.canonical(float(self.value), self.unit) if self.value is not None else 0.0


@dataclass(frozen=True, slots=True)
class TrialSample:
    """A sample of a trial, numbered by its round.

    letter: of its combination; place: in the drawn order, from 1, 0 for one that repeats a spoiled one; batch: the
    round of the mortar's batch, age_min: how old that was [min]; at: when it was begun; seen: when it was looked at,
    None while nobody has; done: all of it was read; spoiled: why it does not count, said before it was looked at;
    answers: what was read and said of it; photos: the stored files; begun: number of the event that began it, 0 where
    that was not kept.
    """

    number: int
    letter: str
    place: int
    batch: int
    age_min: float
    at: Moment
    seen: Moment | None = None
    done: bool = False
    spoiled: Message | Text | None = None
    answers: tuple[SampleAnswer, ...] = ()
    photos: tuple[str, ...] = ()
    begun: EventNumber = 0

    @property
    def under_way(self) -> bool:
        """Whether it is being made or read."""
        return not self.done and self.spoiled is None


@dataclass(frozen=True, slots=True)
class DrawnOrder:
    """An order of samples that was drawn from the head of the record as it stood then."""

    head: str
    order: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class MethodRelease:
    """A method that a foreman released from a trial, by the number of the event: for which areas, and what the trial
    has shown of it. deputy_for: the foreman in whose place, "" for none."""

    seq: EventNumber
    letter: str
    method: Method
    areas: tuple[str, ...]
    made: MockUp
    name: str
    deputy_for: str
    at: Moment


@dataclass(frozen=True)
class Progress:
    """How far an area has come: everything that taking back the last thing done must put back.

    tiles by number; history: every setting in order; runs: setter and method of each, from run 1; runs_before: how many
    of them are of earlier days; taking: by round of a section that sets a tile, the place it is set at, and hands, who
    set there when it was begun; free: whose hands the last round that was closed left free; begun_from: by round of a
    tile, since when they were free; lots: by order of the setting; lifts by number; lifts_due: those that wait for the
    end of the round at hand; lifts_left: by order of the setting, those that could not be carried out; accepted: by
    order of the setting; taken_off: orders of settings; targets: by round of a lift, which tile it lifts and how it
    came about; putting_back: by round that puts a tile back, the lift that it follows; measured: by round, what was
    read in it; late, early: what was called late, and where was gone on early; batch: the round of the batch in use, 0
    for none, and drawn: of the one in use last; lot: that of the bags now opened; again: the times of day at which each
    start section was done; stopped: the failure for which the weather stopped the work; next_day: it goes on from an
    earlier day, and nobody came to it yet; gaps: under the straightedge on the base, by the limit that judged them
    (`rules.FLATNESS`); answered_by: who answered the last step at which a tile is set; answered_since: by round in
    which a tile is being set, when its first step was answered; spreads: of mortar, by round, of the section that sets
    tiles; paces: by setter; orders: of a trial's samples, as they were drawn; ruled_out: by letter, why a combination
    is not eligible; samples: by round; released: what was released from it.
    """

    phase: Literal["starting", "working", "finishing", "finished"] = "starting"
    tasks: tuple[Task, ...] = ()
    rounds: Mapping[str, int] = field(default_factory=dict)
    opened: frozenset[tuple[str, int]] = frozenset()
    began: Mapping[str, Moment] = field(default_factory=dict)
    remedies: tuple[Remedy, ...] = ()
    good: Mapping[str, int] = field(default_factory=dict)
    clocks: tuple[ClockRun, ...] = ()
    tiles: Mapping[int, Tile] = field(default_factory=dict)
    runs: tuple[tuple[str, int], ...] = ()
    runs_before: int = 0
    taking: Mapping[tuple[str, int], PiecePlace] = field(default_factory=dict)
    hands: Mapping[tuple[str, int], str] = field(default_factory=dict)
    free: FreeSince | None = None
    begun_from: Mapping[tuple[str, int], Moment] = field(default_factory=dict)
    ran_out: tuple[RanOut, ...] = ()
    late: tuple[Excused, ...] = ()
    early: tuple[Excused, ...] = ()
    batches: Mapping[int, MortarBatch] = field(default_factory=dict)
    batch: int = 0
    drawn: int = 0
    lot: str = ""
    again: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    stopped: EventNumber | None = None
    next_day: bool = False
    since: Mapping[str, float] = field(default_factory=dict)
    changed: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    tightened: int = 0
    failures: Mapping[EventNumber, Failure] = field(default_factory=dict)
    releases: Mapping[EventNumber, HoldRelease] = field(default_factory=dict)
    history: tuple[TileSetting, ...] = ()
    lots: Mapping[int, Lot] = field(default_factory=dict)
    lifts: Mapping[int, LiftRecord] = field(default_factory=dict)
    lifts_due: tuple[LiftTarget, ...] = ()
    lifts_left: Mapping[int, LeftLift] = field(default_factory=dict)
    accepted: Mapping[int, Acceptance] = field(default_factory=dict)
    taken_off: frozenset[int] = frozenset()
    targets: Mapping[tuple[str, int], LiftTarget] = field(default_factory=dict)
    putting_back: Mapping[tuple[str, int], int] = field(default_factory=dict)
    measured: Mapping[tuple[str, int], Mapping[str, Quantity]] = field(default_factory=dict)
    gaps: Mapping[str, Quantity] = field(default_factory=dict)
    answered_by: str = ""
    answered_since: Mapping[tuple[str, int], Moment] = field(default_factory=dict)
    spreads: Mapping[int, Spread] = field(default_factory=dict)
    paces: Mapping[str, Pace] = field(default_factory=dict)
    orders: tuple[DrawnOrder, ...] = ()
    ruled_out: Mapping[str, tuple[Message | Text, ...]] = field(default_factory=dict)
    samples: Mapping[int, TrialSample] = field(default_factory=dict)
    released: tuple[MethodRelease, ...] = ()

    @property
    def order(self) -> tuple[str, ...]:
        """The letters of a trial's samples in the order in which they are made."""
        return tuple(letter for drawn in self.orders for letter in drawn.order)

    @property
    def settings(self) -> int:
        """How many times a tile was set."""
        return len(self.history)

    @property
    def set_m2(self) -> float:
        """The surface of the tiles that are set and stay [m2]."""
        return sum(tile.place.face_m2 for tile in self.tiles.values() if tile.state != "taken off")

    @property
    def open_spreads(self) -> tuple[Spread, ...]:
        """The mortar that is spread and that tiles may come into, the oldest first."""
        return tuple(spread for spread in self.spreads.values() if spread.standing == "open")

    @property
    def last_set(self) -> Tile | None:
        """The tile that was set last and stands, or None."""
        standing = (tile for tile in self.tiles.values() if tile.order not in self.taken_off)
        return max(standing, key=lambda tile: tile.order, default=None)

    @property
    def good_tiles(self) -> int:
        """How many distinct tiles were lifted last with a passing verdict."""
        last = {lift.tile: lift.verdict for lift in self.lifts.values() if lift.verdict is not None}
        return sum(verdict == "passed" for verdict in last.values())

    def lift_of(self, section: str, at_round: int) -> LiftRecord | None:
        """The lift of a round, once its tile was lifted."""
        return next((x for x in self.lifts.values() if (x.section, x.round) == (section, at_round)), None)


@dataclass(frozen=True, slots=True)
class Done:
    """One thing done: its event, the command that did it, what it was, the progress before it, and the events that the
    same command brought about after it.

    before: None for what is never taken back; nor is anything before it then; with_next: it is taken back together with
    what the same command did after it.
    """

    seq: int
    command: str
    what: Figure
    before: Progress | None
    brought: tuple[int, ...] = ()
    with_next: bool = False


@dataclass(frozen=True, slots=True)
class Pending:
    """What was called, is read back and is not kept yet: a reading, or of a lift also an answer of a choice.

    corrects: the event that kept the reading whose place it takes; unquestioned: the next phrase that fits keeps it,
    and what is not waits for yes or no; doubt: another value was heard almost as well; option: the answer of a choice,
    which has no value.
    """

    seq: int
    area: str
    task: Task
    quantity: str
    value: Fraction
    unit: str
    label: str | None
    corrects: int | None = None
    unquestioned: bool = False
    doubt: bool = False
    option: str | None = None

    @property
    def canonical(self) -> float:
        """The value in the canonical unit of its dimension."""
        return quantities.canonical(float(self.value), self.unit)


@dataclass(frozen=True, slots=True)
class DustEntry:
    """Minutes of a dusty task that count: the number of their event, and in which part of the day they were noted."""

    seq: int
    by: str
    task: str
    place: dust.WorkPlace
    minutes: Fraction
    basis: Message | Text
    part: int


@dataclass(frozen=True, slots=True)
class DustRun:
    """A dusty task that somebody is at: the number of the event that started it, since when, and in which part of the
    day."""

    seq: int
    task: str
    place: dust.WorkPlace
    since: Moment
    part: int


@dataclass(frozen=True, slots=True)
class MethodDoubt:
    """A method that cannot do by the reckoning, by the number of the event that says so. holds: work waits for it."""

    seq: EventNumber
    method: Method
    reasons: tuple[Message | Text, ...]
    holds: bool


@dataclass(frozen=True, slots=True)
class MethodWord:
    """The foreman's word for a method that cannot do by the reckoning: the event, whose word, who called it out."""

    seq: EventNumber
    method: Method
    called: str
    by: str
    caller: str
    at: Moment
    told: Message | Text


@dataclass(frozen=True)
class Area:
    """One area under way.

    method_name: the plan's name for the method in use, "" for the planned one and for one without a name;
    methods_used: from the planned one on; named_methods: of the day's plan; doubt: a method that cannot do by the
    reckoning, while nothing says otherwise; words_given: the foreman's, for such methods.
    """

    plan: AreaPlan
    checklist: Checklist
    method: Method
    method_name: str = ""
    methods_used: tuple[Method, ...] = ()
    named_methods: Mapping[str, Method] = field(default_factory=dict)
    doubt: MethodDoubt | None = None
    words_given: tuple[MethodWord, ...] = ()
    setter: str | None = None
    progress: Progress = field(default_factory=Progress)
    done: tuple[Done, ...] = ()
    readings: Mapping[int, ReadingRecord] = field(default_factory=dict)  # by the event that first kept it
    finish_held: bool = False  # the area was to be finished with less set than planned
    lot_rule: LotRule | None = None  # the foreman's

    @cached_property
    def facts(self) -> rules.Facts:
        """What the rules of trade/ look at."""
        for_setting = self.plan.trial or self.checklist
        return rules.Facts(self.plan, self.method, for_setting.place, for_setting.surface)

    @cached_property
    def reckoned(self) -> dict[tuple[Method, float], MethodVerdict]:
        """What the reckoning said of methods over a base that is off by so much [mm]: worked out once (`methods`)."""
        return {}

    @cached_property
    def piece_area(self) -> float:
        """The face of one tile, m2."""
        return whole_face_m2(self.plan)

    @cached_property
    def places(self) -> tuple[PiecePlace, ...]:
        """The places of its plan, in the order in which they are set."""
        return planned_places(self.plan)

    @property
    def next_place(self) -> PiecePlace:
        """Where the next piece goes: the first place of the plan that is free; one more whole piece without a grid."""
        held = {tile.number for tile in self.progress.tiles.values() if tile.state != "taken off"}
        under_way = self.progress.opened & self.progress.taking.keys()
        held |= {number for key in under_way if (number := self.progress.taking[key].number) is not None}
        free = (place for place in self.places if place.number is not None and place.number not in held)
        return next(free, PiecePlace(None, None, None, None, self.piece_area))

    @property
    def task(self) -> Task | None:
        """The step at hand, or None between rounds."""
        return self.progress.tasks[0] if self.progress.tasks else None

    @property
    def spread(self) -> Spread | None:
        """The mortar that the setter has spread and that tiles may come into; None where there is none."""
        mine = (one for one in self.progress.open_spreads if one.setter == (self.setter or ""))
        return next(mine, None)

    @property
    def most_at_once(self) -> int:
        """How many tiles may be told of at once: those that the plan's grid has places for; without one, twice as many
        as whole pieces fit the surface left, for some are cut, and never fewer than two. Ours: it only asks again."""
        if self.plan.grid is not None:
            held = {tile.number for tile in self.progress.tiles.values() if tile.state != "taken off"}
            return sum(place.number not in held for place in self.places)
        left = planned_m2(self.plan) - self.progress.set_m2
        return max(2, 2 * ceil(left / self.piece_area))

    @property
    def all_set(self) -> bool:
        """Whether every place of the plan's grid has its piece, or, without a grid, the whole surface is set, to the
        hundredth of a square metre."""
        if self.plan.grid is not None:
            return not self.most_at_once
        return round(planned_m2(self.plan) - self.progress.set_m2, 2) <= 0

    @property
    def step(self) -> Step | None:
        """The schema of the step at hand."""
        return self.checklist.step(self.task.section, self.task.step) if self.task else None

    def answerable(self, section: str, step: str) -> Task | None:
        """The task at hand, where it is this step's. What is read off a lifted tile may be told in any order: then that
        of any such step of the round at hand. None for any other."""
        task, at_hand = self.task, self.step
        if task is None or at_hand is None or task.section != section:
            return None
        if task.step == step:
            return task
        holder = self.checklist.section(section)
        if holder is None or not holder.shows or at_hand.measures is None:
            return None
        return next(
            (
                later
                for later in self.progress.tasks
                if (later.section, later.round, later.step) == (section, task.round, step)
                and self.checklist.step(section, step).measures is not None
            ),
            None,
        )

    @property
    def holder(self) -> Section | Corrective | None:
        """The section or corrective action at hand."""
        return self.checklist.holder(self.task.section) if self.task else None

    @property
    def last_done(self) -> Done | None:
        """The last thing done here that can be taken back, or None."""
        return self.done[-1] if self.done and self.done[-1].before is not None else None

    @property
    def mixing(self) -> MortarBatch | None:
        """The batch that is being mixed at hand, or None."""
        batch = self.progress.batches.get(self.task.round) if self.task is not None else None
        return batch if batch is not None and self.task is not None and batch.section == self.task.section else None

    def reading_of(self, event: int) -> ReadingRecord | None:
        """The reading that this event called out or kept, where it is the one that counts."""
        return next((r for r in self.readings.values() if event in (r.called, r.kept)), None)

    def criterion(self, step: Step) -> rules.Criterion | None:
        """The step's acceptance criterion with this area's figures; None where there is none to hold it to."""
        limit = step.limit
        if limit is None:
            return None
        if limit.rule is not None:
            mixing = self.mixing
            return rules.LIMITS[limit.rule](replace(self.facts, bags=mixing.bags) if mixing is not None else self.facts)
        if limit.calculation is not None:
            return rules.calculated(self.facts, limit.calculation, limit.given, limit.result or "", limit.bound)
        return rules.stated(limit.at_least, limit.at_most, limit.unit or "count", limit.basis)

    @property
    def lifts_needed(self) -> tuple[int, Figure | None]:
        """Good lifts before the area may be finished, and the basis."""
        wanted = self.checklist.finish.lifts_at_least
        if not any(s.lift for s in self.checklist.sections):
            return 0, None
        if isinstance(wanted, int):
            return wanted, Message("rules-checklists-own")
        return rules.least_lifts(self.facts, mocked_up=self.mocked_up in (self.method, *self.methods_used))

    @cached_property
    def mocked_up(self) -> Method | None:
        """The method that the plan's mock-up has shown to do here; None where there is none, or it does not pass."""
        made = self.plan.mock_up
        if made is None or rules.mock_up_verdict(self.facts, made).outcome != "passed":
            return None
        return self.plan.method if made.method is None else self.named_methods.get(made.method)

    def lacks(self, step: Step) -> str | None:
        """The section whose batch this step needs and that has none alive; None where nothing is lacking."""
        return next((need for need in step.needs if need not in self.progress.good), None)

    def waits_for(self, step: Step) -> ClockRun | None:
        """The clock that runs and whose time must be over before this step, over or not."""
        return next((run for run in self.progress.clocks if run.clock == step.after), None)

    def may_open(self, section: Section) -> bool:
        """Whether a called section may be opened now, but for what it needs: where the next round may be called, and no
        mortar waits for other tiles; a batch also where the step at hand needs one; some at any time."""
        if section.anytime:
            return section.when == "called" and self.progress.phase != "finished"
        if section.sets is not None and self.spread is not None:
            return False
        if section.tries is not None and self.next_sample is None:
            return False
        if self.free_for_next or (self.step is not None and section.id in self.step.needs):
            return True
        if not self.goes_beside:
            return False
        # Somebody mixes while another one sets, and two set at a time.
        under_way = self.progress.opened
        if section.changes == "batch":
            return not any(name == section.id for name, _ in under_way)
        return section.sets is not None and not any(
            name == section.id and self.progress.hands.get((name, at_round)) == (self.setter or "")
            for name, at_round in under_way
        )

    @property
    def goes_beside(self) -> bool:
        """Whether something else may go on beside the round at hand: it is called or due, and cures nothing; and no
        lift waits that shows how far bad mortar reaches."""
        task = self.task
        section = self.checklist.section(task.section) if task is not None else None
        if task is None or section is None or self.progress.phase != "working":
            return False
        if any(self._follows_failure(at) for at in {(t.section, t.round) for t in self.progress.tasks}):
            return False
        return section.when in ("called", "due") and task.failure is None

    @property
    def beside(self) -> tuple[Task, ...]:
        """The steps that may be answered now although another round is at hand: the first of each other open one."""
        if not self.goes_beside:
            return ()
        first: dict[tuple[str, int], Task] = {}
        for task in self.progress.tasks:
            first.setdefault((task.section, task.round), task)
        here = self.task
        return tuple(
            task
            for key, task in first.items()
            if here is not None
            and key != (here.section, here.round)
            and task.failure is None
            and (section := self.checklist.section(task.section)) is not None
            and section.when in ("called", "due")
        )

    def opens_with(self, holder: Section | Corrective) -> tuple[str, ...]:
        """The steps that the next round of a section or corrective action opens with, by id."""
        steps = steps_of(holder, self.progress.rounds.get(holder.id, 0) + 1)
        trial, sample = self.plan.trial, self.next_sample
        if trial is None or sample is None or holder is not self.checklist.trying:
            return steps
        return tuple(step for step in steps if trial.asks(self.checklist.step(holder.id, step).only, sample[0]))

    @property
    def next_sample(self) -> tuple[str, int] | None:
        """The letter of the sample that comes next and its place in the drawn order; then those that repeat spoiled
        ones, in place 0. None where no more is to be made."""
        made, order = self.progress.samples.values(), self.progress.order
        in_order = sum(sample.place > 0 for sample in made)
        if in_order < len(order):
            return order[in_order], in_order + 1
        spoiled = [sample.letter for sample in made if sample.spoiled is not None]
        again = len(made) - in_order
        return (spoiled[again], 0) if again < len(spoiled) else None

    @property
    def sample(self) -> TrialSample | None:
        """The sample at hand, or None."""
        trying = self.checklist.trying
        if trying is None or self.task is None or self.task.section != trying.id:
            return None
        return self.progress.samples.get(self.task.round)

    def reader(self, which: Literal["first", "second"] | None) -> str:
        """The name of the trial's first or second reader, "" for none."""
        readers = self.plan.trial.readers if self.plan.trial is not None else ()
        at = {None: len(readers), "first": 0, "second": 1}[which]
        return readers[at] if at < len(readers) else ""

    @property
    def waiting(self) -> tuple[Task, ...]:
        """The due rounds that can wait, each by its first step, in the order in which they are asked.

        Nothing of such a round is answered yet, it cures nothing, and it lifts no tile because another one failed.
        """
        seen: set[tuple[str, int]] = set()
        found = []
        for task in self.progress.tasks:
            if (task.section, task.round) not in seen and self._can_wait(task):
                found.append(task)
            seen.add((task.section, task.round))
        return tuple(found)

    def _can_wait(self, first: Task) -> bool:
        section = self.checklist.section(first.section)
        if section is None or section.when != "due" or first.failure is not None:
            return False
        if first.step != next(iter(steps_of(section, first.round)), None):
            return False
        return not self._follows_failure((first.section, first.round))

    def _follows_failure(self, at: tuple[str, int]) -> bool:
        """Whether a round lifts a tile because another one failed, or one that is suspect by now."""
        lifts = self.progress.targets.get(at)
        tile = self.progress.tiles.get(lifts.tile) if lifts is not None else None
        return lifts is not None and (lifts.came in AFTER_FAILURE or (tile is not None and tile.state == "suspect"))

    @property
    def yields(self) -> bool:
        """Whether all that is at hand is due and can wait: then whatever may be called between rounds goes in front."""
        open_rounds = {(task.section, task.round) for task in self.progress.tasks}
        waits = {(task.section, task.round) for task in self.waiting}
        return self.progress.phase == "working" and bool(waits) and open_rounds == waits

    @property
    def free_for_next(self) -> bool:
        """Whether the next round may be called: between rounds, or before what is due and can wait."""
        return self.between_rounds or self.yields

    @property
    def aimed(self) -> LiftTarget | None:
        """The tile that the round at hand lifts; None where it lifts none."""
        return self.progress.targets.get((self.task.section, self.task.round)) if self.task else None

    @property
    def between_rounds(self) -> bool:
        """Whether nothing is at hand while the area is worked on: it may be finished then."""
        return self.task is None and self.progress.phase == "working"

    def holds(self, caution: Caution) -> bool:
        """Whether the caution's condition is met by this area's figures."""
        condition = caution.only_if
        if condition is None:
            return True
        return rules.FACTS[condition.fact].compute(self.facts) > quantities.canonical(condition.over, condition.unit)


@dataclass(frozen=True, slots=True)
class SeedKept:
    """A seed of lots that only the tablet knows: its SHA-256, the number of the event that committed it, and whether
    lots were drawn from it."""

    commitment: str
    seq: int
    drawn: bool = False


@dataclass(frozen=True)
class State:
    """The whole day. Start from `State()` and fold.

    cautioned: when a person last heard a caution, by `cautions.key` and the person's name; last_called: when anybody
    last called, pressed or typed anything; since_break: when that was done first after the last break, None before one.
    """

    plan: DayPlan | None = None
    checklists: Mapping[str, Checklist] = field(default_factory=dict)
    areas: Mapping[str, Area] = field(default_factory=dict)
    active: str | None = None
    speaker: Person | None = None
    spoke_before: Person | None = None  # whose turn it is again once the speaker's ends
    pending: Pending | None = None
    breath: tuple[Pending, ...] = ()  # what waits with it: the other answers of a lift, called in one breath
    last_seq: int = 0
    signed: tuple[str, ...] = ()
    closed: bool = False  # signed, and not opened again since
    sealed: bool = False  # and this signature is sealed
    weather: str = ""  # as it was noted last
    part: int = 0  # 0: the day; n: its addendum n
    dust: tuple[DustEntry, ...] = ()  # without those that were replaced
    dusty: Mapping[str, DustRun] = field(default_factory=dict)  # by person: what they are at now
    kind: DayKind = "work"
    opened: Moment | None = None
    rules: int = 0  # by which it is decided (`events.RULES`)
    answers: Mapping[str, PointAnswer] = field(default_factory=dict)  # by the id of the open point
    dictated: Mapping[int, Dictation] = field(default_factory=dict)  # by the event that holds the sound
    photos: Mapping[tuple[str, str, int], tuple[str, ...]] = field(default_factory=dict)  # SHA-256, by area and round
    backs: Mapping[tuple[str, str, int], BackRecord] = field(default_factory=dict)  # measured last, by area and round
    lot_seed: SeedKept | None = None  # from which the lots are drawn now
    seeds_lost: tuple[SeedKept, ...] = ()  # committed, never revealed
    lot_numbers: Mapping[tuple[str, int], int] = field(default_factory=dict)  # k, by area and order of the setting
    cautioned: Mapping[tuple[str, str], Moment] = field(default_factory=dict)
    last_called: Moment | None = None
    since_break: Moment | None = None

    @property
    def area(self) -> Area | None:
        """The area that is talked about now."""
        return self.areas[self.active] if self.active is not None else None

    @property
    def called(self) -> tuple[Pending, ...]:
        """All that waits to be kept, in the order in which it was called."""
        return () if self.pending is None else (self.pending, *self.breath)

    @property
    def waiting(self) -> tuple[Pending, ...]:
        """All that waits to be kept, in the order in which the steps are asked."""
        if self.pending is None or not self.breath:
            return self.called
        asked = {task: place for place, task in enumerate(self.areas[self.pending.area].progress.tasks)}
        return tuple(sorted(self.called, key=lambda one: asked[one.task]))

    def joins(self, section: str, step: str) -> bool:
        """Whether an answer to this step waits together with what waits already: an answer of the same lift."""
        pending, area = self.pending, self.area
        if pending is None or area is None or pending.corrects is not None or pending.area != area.plan.name:
            return False
        return area.answerable(section, step) is not None

    def resumed(self, now: Moment) -> Moment | None:
        """Since when work goes on after the last break: `now` where the break lasts until now, None before one."""
        resting = self.last_called is not None and self.last_called.minutes_to(now) >= BREAK_MIN
        return now if resting else self.since_break


def steps_of(holder: Section | Corrective, at_round: int) -> tuple[str, ...]:
    """The steps with which a round of a section or corrective action opens, by id."""
    return tuple(step.id for step in holder.steps if at_round == 1 or not step.once)


# --- changing it, for the folds of the kinds of steps and of the day ----------------------------------------------


_Held = TypeVar("_Held", "State", Area, Progress)


def changed(held: _Held, **changes: Any) -> _Held:
    """As `dataclasses.replace`, and several times as fast: a fold does it a few times an event.

    What an area has worked out from its plan is kept, and worked out anew where the method changes.
    """
    new = object.__new__(type(held))
    new.__dict__.update(held.__dict__)
    new.__dict__.update(changes)
    if "method" in changes:
        new.__dict__.pop("facts", None)
    return new


def with_area(state: State, name: str, **changes: Any) -> State:
    """The state with fields of one area changed."""
    return changed(state, areas={**state.areas, name: changed(state.areas[name], **changes)})


def advance(state: State, name: str, **changes: Any) -> State:
    """The state with an area's progress changed."""
    return with_area(state, name, progress=changed(state.areas[name].progress, **changes))


def command_of(event: Event) -> str:
    """The id of the command that made an event: all events of one decision share it."""
    return event.id.rpartition(".")[0]


def remember(state: State, name: str, event: Event, what: Figure) -> State:
    """The state in which the event is the last thing done in an area, and can be taken back."""
    area = state.areas[name]
    return with_area(state, name, done=(*area.done, Done(event.seq, command_of(event), what, area.progress)))


def taken_back_with_next(state: State, name: str) -> State:
    """The state in which the last thing done in an area goes with the next that the same command does."""
    *before, last = state.areas[name].done
    return with_area(state, name, done=(*before, replace(last, with_next=True)))


def beyond_recall(state: State, name: str, event: Event) -> State:
    """The state in which nothing done in an area up to the event can be taken back."""
    return with_area(state, name, done=(Done(event.seq, command_of(event), "", None),))


def answered(state: State, event: Event, body: Any, **changes: Any) -> State:
    """The state once the step at hand was answered by the event, or of a lift one that comes later in its round.

    ValueError when another step was at hand.
    """
    area = state.areas[body.area]
    task = area.answerable(body.section, body.step)
    if task is None or task.round != body.round:
        raise ValueError(f"event {event.seq} answers {body.step!r}, which was not the step at hand")
    state = remember(state, body.area, event, area.checklist.step(task.section, task.step).name)
    section = area.checklist.section(task.section)
    if section is not None and section.sets is not None:
        changes["answered_by"] = event.by
        key = (task.section, task.round)
        if key not in area.progress.answered_since:
            changes["answered_since"] = {**area.progress.answered_since, key: event.at}
    looked = section is not None and section.tries == task.step
    if looked:
        seen = replace(area.progress.samples[task.round], seen=event.at)
        changes["samples"] = {**area.progress.samples, task.round: seen}
    tasks, at = area.progress.tasks, area.progress.tasks.index(task)
    state = advance(state, body.area, tasks=(*tasks[:at], *tasks[at + 1 :]), **changes)
    # Whoever took the look back could call a sample spoiled that they have seen.
    return beyond_recall(state, body.area, event) if looked else state


def with_waiting(state: State, waiting: Sequence[Pending]) -> State:
    """The state in which this waits to be kept, and nothing else."""
    return changed(state, pending=waiting[0] if waiting else None, breath=tuple(waiting[1:]))


def with_answer(state: State, body: Any, answer: SampleAnswer) -> dict[str, Any]:
    """What changes of the samples where a step of one is answered, or its answer corrected."""
    area = state.areas[body.area]
    section = area.checklist.section(body.section)
    if section is None or section.tries is None:
        return {}
    sample = area.progress.samples[body.round]
    others = tuple(one for one in sample.answers if one.step != answer.step)
    return {"samples": {**area.progress.samples, body.round: replace(sample, answers=(*others, answer))}}


def with_measured(state: State, body: Any, read: Quantity) -> Mapping[tuple[str, int], Mapping[str, Quantity]]:
    """What was read in each round of an area, with one more reading of the step that the event `body` answers."""
    measured = state.areas[body.area].progress.measured
    key = (body.section, body.round)
    return {**measured, key: {**measured.get(key, {}), body.measures: read}}
