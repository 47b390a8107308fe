"""A day as plain data: what the daily log prints, without a page in sight. `report.build` makes it from events.

Texts are in the document's language and units. What was withdrawn is told too, marked `withdrawn`: it is printed struck
through and counted nowhere.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from fieldassist.checklist.moment import Source
from fieldassist.checklist.plan import AreaPlan, DayKind, DayPlan
from fieldassist.checklist.proven import SeenAs, SeenTiles
from fieldassist.checklist.reach import TileState
from fieldassist.trade.quantities import Units
from fieldassist.trade.verdict import Outcome

if TYPE_CHECKING:
    from fieldassist.report.trial_model import TrialReport

LineKind = Literal[
    "round",
    "step",
    "reading",
    "choice",
    "lift",
    "photo",
    "hold",
    "caution",
    "clock",
    "failure",
    "change",
    "area",
]


@dataclass(frozen=True, slots=True)
class SequenceLine:
    """One line of an area's sequence.

    seq: the event's number; verdict: None where nothing was judged; ref: number of the basis in
    `DayReport.references`; withdrawn: it no longer counts, and why; corrected: what addenda say about it, each a
    sentence; source: how its value came to the tablet, None where it holds none; kept: by what an answer that was read
    back, or entered, was kept, "" where none was.
    """

    seq: int
    time: str
    who: str
    kind: LineKind
    what: str
    detail: str = ""
    reading: str = ""
    criterion: str = ""
    verdict: Outcome | None = None
    ref: int | None = None
    withdrawn: bool = False
    why_withdrawn: str = ""
    corrected: tuple[str, ...] = ()
    source: Source | None = None
    kept: str = ""

    @property
    def passed(self) -> bool | None:
        """Whether it passed; None where nothing was judged, or not enough was read to judge it."""
        return {None: None, "not complete": None, "passed": True, "failed": False}[self.verdict]


# not timed apart: it began and ended in one breath, so that nothing was measured and nothing is judged.
ClockOutcome = Literal[
    "stopped in time", "not timed apart", "ran out", "still running", "long enough", "gone on early", "called late"
]


@dataclass(frozen=True, slots=True)
class ClockLine:
    """One run of a clock. start, used, allowed in minutes; start counts from the first event of the area.

    least: it must run at least as long as `allowed`, and measures what it is for; used: until it was stopped, until its
    running out was noted, or until the last event of the log; remarks: what was tried too early, said late, or gone on
    with early, each in a few words with who and why.
    """

    run: int
    title: str
    belongs_to: str
    started: str
    start: float
    allowed: float
    used: float
    outcome: ClockOutcome
    least: bool = False
    remarks: tuple[str, ...] = ()
    ended: str = ""
    dropped: tuple[str, ...] = ()
    failure: int | None = None
    ref: int | None = None
    withdrawn: bool = False

    @property
    def noted_late(self) -> float:
        """Minutes between its running out and the entry that notes it: the tablet was off, or asleep."""
        return max(0.0, self.used - self.allowed) if self.outcome == "ran out" else 0.0

    @property
    def kept(self) -> bool:
        """Whether the time was kept as far as the log tells."""
        return self.outcome in ("stopped in time", "long enough", "still running")


@dataclass(frozen=True, slots=True)
class PhotoLine:
    """A kept photo: its file, the SHA-256 of its bytes, and what was at hand when it was taken."""

    seq: int
    time: str
    who: str
    area: str
    at: str
    file: str
    sha256: str
    withdrawn: bool
    lift: int | None = None


@dataclass(frozen=True, slots=True)
class TileLine:
    """A tile that was set, in the order of setting.

    number: the one that it has everywhere; place: where it lies; state, and why in words; lot: what the lot of its
    setting said, "" where none was drawn; put_back: what became of it after it was lifted, "" where it was not; method:
    its letter in the area; batch: the title of the batch it was set with, "" for none; seen: how it came into the
    record, and in words with what stands for it; seq: the event that set it; its face [m2].
    """

    number: int
    order: int
    place: str
    state: TileState
    why: str
    lot: str
    put_back: str
    setter: str
    method: str
    batch: str
    seen: SeenAs
    seen_told: str
    time: str
    seq: int
    face_m2: float


@dataclass(frozen=True, slots=True)
class SpreadLine:
    """Mortar that was spread for tiles that are counted.

    seq: its event, 0 for one of an earlier day; method: its letter in the area; batch: as of `TileLine`; wanted: for
    how many tiles, None where that was not said; done: how many are in; tiles: their numbers in words; witnessed: the
    first of them was called step by step; bears: for how many the open time was enough at the pace of the day, None
    where nobody knew; minutes, allowed: measured, and of the open time, and how that ended, None where no clock tells;
    standing: as of `state.Spread`.
    """

    seq: int
    time: str
    setter: str
    method: str
    batch: str
    wanted: int | None
    done: int
    tiles: str
    witnessed: bool
    bears: int | None
    minutes: float | None
    allowed: float | None
    ref: int | None
    outcome: ClockOutcome | None
    standing: Literal["open", "over", "skinned"]


@dataclass(frozen=True, slots=True)
class MethodPeriod:
    """Tiles that one setter set one after the other with one method. tiles: their numbers in words; letter: of the
    method in the area; name: of the method in the plan, "" for none; text: all of it; rests: what lets it be
    worked with."""

    tiles: str
    setter: str
    letter: str
    name: str
    text: str
    rests: str


@dataclass(frozen=True, slots=True)
class LiftsByCause:
    """The judged lifts that came about in one way, in words."""

    came: str
    good: int
    failed: int
    not_complete: int

    @property
    def lifted(self) -> int:
        """All of them."""
        return self.good + self.failed + self.not_complete


@dataclass(frozen=True, slots=True)
class AreaStanding:
    """How much of an area is set, and what is known of it.

    set_told, planned_told: surfaces in words; pieces, planned_pieces: how many; seen: how many of them were witnessed,
    how many counted, and in a sentence; good_tiles of needed: distinct tiles whose last lift was good; lifts: by how
    they came about; suspect, not_covered, failed, accepted: numbers of tiles; failures_before: what failed on a day
    before and is not cured; proves: in sentences, what the lifts prove and what not.
    """

    set_m2: float
    planned_m2: float
    set_told: str
    planned_told: str
    pieces: int
    planned_pieces: int
    good_tiles: int
    needed: int
    seen: SeenTiles
    seen_told: str
    lifts: tuple[LiftsByCause, ...]
    suspect: tuple[int, ...]
    not_covered: tuple[int, ...]
    failed: tuple[int, ...]
    accepted: tuple[int, ...]
    failures_before: tuple[str, ...]
    proves: tuple[str, ...]

    @property
    def lifted(self) -> int:
        """The lifts that were judged and stand."""
        return sum(one.lifted for one in self.lifts)

    @property
    def good(self) -> int:
        """Those of them that were good."""
        return sum(one.good for one in self.lifts)


@dataclass(frozen=True, slots=True)
class BagCount:
    """Bags said to be used beside those that the tiles set should have taken.

    predicted: None where the plan does not tell enough, and then `reason` says what is missing; verdict as
    `trade.mortar.mass_balance` gives it; area in words; steps: what the prediction rests on.
    """

    seq: int
    time: str
    who: str
    used: float
    predicted: float | None
    verdict: Literal["", "too little", "as predicted", "more than predicted"]
    reason: str
    rests_on: str
    ref: int | None


@dataclass(frozen=True, slots=True)
class Batch:
    """One batch of mortar: what it is of, its steps and readings, its pot-life clock, the tiles set with it and which.

    mixed: bags, lot, water and bucket, as far as the checklist asks for them.
    """

    seq: int
    title: str
    mixed: str
    opened: str
    who: str
    steps: tuple[SequenceLine, ...]
    clock: ClockLine | None
    tiles: int
    which: str
    done: bool
    withdrawn: bool


@dataclass(frozen=True, slots=True)
class LiftLine:
    """One lifted test tile and its verdict.

    time: when it was lifted; who: read it; came: how the lift came about; setter, method, batch: of the tile, the
    method by its letter in the area; contact and required [percent], and as they are told beside each other; source:
    how the contact was read; edges, bed: as they were read, "" where they were not; judged_anew: a reading was
    corrected, and a later line of the same lift stands in the place of this one; beside: how it lies beside the mock-up
    trial from which its method was released, "" without one.
    """

    seq: int
    number: int
    tile: int
    label: str
    came: str
    setter: str
    method: str
    time: str
    who: str
    contact: float
    required: float
    contact_told: str
    required_told: str
    source: Source | None
    verdict: Outcome
    reasons: tuple[str, ...]
    unread: tuple[str, ...]
    void: str
    corners: str
    edges: str
    bed: str
    photos: tuple[PhotoLine, ...]
    batch: str
    ref: int | None
    withdrawn: bool
    corrected: tuple[str, ...] = ()
    judged_anew: bool = False
    beside: str = ""

    @property
    def passed(self) -> bool:
        """Whether all that is required was read and holds."""
        return self.verdict == "passed"


@dataclass(frozen=True, slots=True)
class FailureReport:
    """One non-conformance. `number` counts those of the day that stand; a withdrawn one has none."""

    seq: int
    number: int | None
    time: str
    who: str
    place: str
    finding: str
    criterion: str
    ref: int | None
    corrective: str
    steps: tuple[SequenceLine, ...]
    checks: tuple[SequenceLine, ...]
    tightened: int
    closed: str
    closed_seq: int
    cure: str
    shown_by: str
    withdrawn: bool

    @property
    def cured(self) -> bool:
        """Whether a passing check, or the corrective action itself, closed it."""
        return bool(self.closed)


@dataclass(frozen=True, slots=True)
class HoldLine:
    """A hold point that was released. name: who, and for whom as a deputy; how: by PIN, or called in that name, and
    what became of that; answered: a PIN of that person stands behind it; what: the hold point, as it was asked."""

    seq: int
    time: str
    name: str
    role: str
    how: str
    answered: bool
    what: str
    ref: int | None
    withdrawn: bool


@dataclass(frozen=True, slots=True)
class CautionLine:
    """A caution, numbered within its area, and each time it was acknowledged: (time, who, number of the event)."""

    number: int
    text: str
    ref: int | None
    acknowledged: tuple[tuple[str, str, int], ...]


@dataclass(frozen=True, slots=True)
class WithdrawnLine:
    """What was taken back, when and why, and what fell with it."""

    seq: int
    target: int
    said: str
    time: str
    who: str
    what: str
    reading: str
    reason: str
    consequences: tuple[str, ...]
    is_reading: bool


@dataclass(frozen=True, slots=True)
class SettingLine:
    """A labelled figure of an area's setting."""

    label: str
    text: str
    ref: int | None = None


@dataclass(frozen=True, slots=True)
class ChangeLine:
    """Another method or another setter from here on."""

    seq: int
    time: str
    who: str
    what: Literal["method", "setter"]
    text: str


@dataclass(frozen=True, slots=True)
class Need:
    """The contact that an area's setting requires. minimum [percent], and as it is told."""

    minimum: float
    contact: str
    void: str
    corners: bool
    least_lifts: int
    ref: int
    void_ref: int | None
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class AreaContact:
    """An area by its test tiles that stand. worst [percent], None without any; told: mean and worst in words."""

    outcome: Outcome
    lifts: int
    worst: float | None
    told: str
    reasons: tuple[str, ...]

    @property
    def passed(self) -> bool:
        """Whether enough tiles were lifted and all that is required holds."""
        return self.outcome == "passed"


@dataclass(frozen=True, slots=True)
class AreaReport:
    """Everything that happened in one area that was started.

    surface_differs: the surface set is not the surface planned, whoever has said why; other_units: its key figures in
    the other system of units, once a page; trial: where methods are tried in it.
    """

    name: str
    checklist: str
    started: str
    finished: str
    minutes: float
    setting: tuple[SettingLine, ...]
    changes: tuple[ChangeLine, ...]
    need: Need | None
    verdict: AreaContact | None
    standing: AreaStanding
    surface_differs: bool
    tiles: int
    periods: tuple[MethodPeriod, ...]
    spreads: tuple[SpreadLine, ...]
    sequence: tuple[SequenceLine, ...]
    holds: tuple[HoldLine, ...]
    batches: tuple[Batch, ...]
    lifts: tuple[LiftLine, ...]
    failures: tuple[FailureReport, ...]
    clocks: tuple[ClockLine, ...]
    cautions: tuple[CautionLine, ...]
    withdrawn: tuple[WithdrawnLine, ...]
    unanswered: tuple[SequenceLine, ...]
    set_in_order: tuple[TileLine, ...]
    other_units: str
    bags: BagCount | None
    photos: tuple[PhotoLine, ...]
    trial: TrialReport | None = None


@dataclass(frozen=True, slots=True)
class Question:
    """What a step asked, word for word, once a checklist."""

    checklist: str
    section: str
    step: str
    ask: str
    ref: int | None


@dataclass(frozen=True, slots=True)
class CrewLine:
    """One of the crew: how many entries of the log were spoken by this person, and from when to when."""

    name: str
    role: str
    entries: int
    first: str
    last: str


@dataclass(frozen=True, slots=True)
class ConditionLine:
    """Weather in words, or a temperature or humidity reading."""

    seq: int
    time: str
    who: str
    area: str
    what: str
    reading: str
    criterion: str = ""
    verdict: Outcome | None = None
    ref: int | None = None
    withdrawn: bool = False
    source: Source | None = None
    corrected: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class NoteLine:
    """A remark. sound, sha256: where it was dictated, the kept sound; the text is then what was heard in it."""

    seq: int
    time: str
    who: str
    area: str
    text: str
    sound: str = ""
    sha256: str = ""
    corrected: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class DustLine:
    """Minutes of a dusty task, done by `who`; ref: the row of the table for it, or why there is none; replaces: the
    event in whose place they stand."""

    seq: int
    time: str
    who: str
    task: str
    place: str
    minutes: str
    ref: int | None
    replaces: int | None = None
    withdrawn: bool = False
    why_withdrawn: str = ""
    corrected: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class RefusedLine:
    """Something that was asked for and refused."""

    seq: int
    time: str
    who: str
    area: str
    attempt: str
    reason: str


SealState = Literal["sealed", "signed, not sealed", "not signed", "SEAL DOES NOT FIT"]


@dataclass(frozen=True, slots=True)
class Seal:
    """The seal over a signature: events 1 to `covers`, whose chain ends in `head`.

    fault: why it does not fit, or ""; warning: what somebody should look into although it fits, or "".
    """

    seq: int
    covers: int
    head: str
    public_key: str
    fingerprint: str
    signature: str
    fault: str
    warning: str = ""


@dataclass(frozen=True, slots=True)
class Signature:
    """Who signed the day or an addendum, as what, when, and which open points were accepted with it.

    part: 0 for the day, n for its addendum n; strokes: the finger's signature, points from 0 to 1000, y downwards.
    """

    seq: int
    part: int
    name: str
    role: str
    time: str
    open_points: tuple[str, ...]
    strokes: tuple[tuple[tuple[int, int], ...], ...] = ()
    seal: Seal | None = None

    @property
    def standing(self) -> SealState:
        """In plain words, whether it is sealed."""
        if self.seal is None:
            return "signed, not sealed"
        return "SEAL DOES NOT FIT" if self.seal.fault else "sealed"


@dataclass(frozen=True, slots=True)
class CorrectionLine:
    """What an addendum corrects. what: the event that it corrects, in a few words."""

    seq: int
    time: str
    who: str
    target: int
    what: str
    text: str


@dataclass(frozen=True, slots=True)
class AddedLine:
    """What an addendum adds, in a few words."""

    seq: int
    time: str
    who: str
    area: str
    what: str
    reading: str = ""
    verdict: Outcome | None = None
    withdrawn: bool = False


@dataclass(frozen=True, slots=True)
class Addendum:
    """The day opened again after it was signed: why, what was corrected and added, who signed it."""

    number: int
    seq: int
    time: str
    who: str
    reason: str
    corrections: tuple[CorrectionLine, ...]
    added: tuple[AddedLine, ...]
    signature: Signature | None

    @property
    def standing(self) -> SealState:
        """In plain words, whether it is signed and sealed."""
        return self.signature.standing if self.signature else "not signed"


@dataclass(frozen=True, slots=True)
class Summary:
    """The day in numbers. Nothing that was withdrawn is counted, except in the last but one line."""

    areas_planned: int
    areas_started: int
    areas_finished: int
    tiles: int
    lifts: int
    lifts_passed: int
    lifts_failed: int
    failures: int
    failures_cured: int
    clocks_run_out: int
    clocks_not_timed: int
    tiles_witnessed: int
    tiles_counted: int
    tiles_set_again: int
    readings_withdrawn: int
    steps_withdrawn: int
    refused: int

    @property
    def lifts_not_complete(self) -> int:
        """Lifts that stand and of which something that is required was not read."""
        return self.lifts - self.lifts_passed - self.lifts_failed

    @property
    def failures_open(self) -> int:
        """Non-conformances that nothing has cured."""
        return self.failures - self.failures_cured


@dataclass(frozen=True, slots=True)
class DayReport:
    """The whole day.

    references: each distinct basis once; a line's `ref` n stands for references[n - 1]; models: the speech models that
    heard it; kind: what the day is for, since practice and rehearsals are marked on every page; continues: the
    days of which areas go on, each in a line; tablet: which of its tablet's days it is, and those before, likewise.
    """

    plan: DayPlan
    units: Units
    weekday: str
    zone: str
    opened: str
    last_entry: str
    events: int
    crew: tuple[CrewLine, ...]
    conditions: tuple[ConditionLine, ...]
    notes: tuple[NoteLine, ...]
    dust: tuple[DustLine, ...]
    dust_sums: tuple[str, ...]
    areas: tuple[AreaReport, ...]
    not_started: tuple[AreaPlan, ...]
    refused: tuple[RefusedLine, ...]
    signatures: tuple[Signature, ...]
    open_points: tuple[str, ...]
    answered_points: tuple[str, ...]
    time_keeping: tuple[str, ...]
    questions: tuple[Question, ...]
    references: tuple[str, ...]
    models: tuple[str, ...]
    summary: Summary
    photos: tuple[PhotoLine, ...]
    addenda: tuple[Addendum, ...]
    kind: DayKind = "work"
    continues: tuple[str, ...] = ()
    tablet: tuple[str, ...] = ()

    @property
    def signature(self) -> Signature | None:
        """The signature of the day itself, before any addendum."""
        return next((s for s in reversed(self.signatures) if s.part == 0), None)

    @property
    def standing(self) -> SealState:
        """In plain words, whether the day itself is signed and sealed."""
        return self.signature.standing if self.signature else "not signed"

    @property
    def unsealed(self) -> int:
        """How many events came after the last seal that fits; all of them where there is none."""
        good = [s.seal.seq for s in self.signatures if s.seal is not None and not s.seal.fault]
        return self.events - max(good, default=0)

    @property
    def whole_standing(self) -> str:
        """The same for the day and each addendum.

        One word or two where there is no addendum: "sealed"; else "day sealed; addendum 1 not signed".
        """
        if not self.addenda:
            return self.standing
        return "; ".join([f"day {self.standing}", *(f"addendum {a.number} {a.standing}" for a in self.addenda)])
