"""The shape of a day's facts. `assets/facts.schema.json` is made from it (JSON Schema 2020-12), and tested against it.

Fields are never taken away and never change their meaning under one number of `facts`; new ones may come. Lengths,
surfaces and times carry their unit in the name; moments are wall times (ISO 8601 with offset). What is told in words
is given as its code and figures too, so that no program has to read a sentence.
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

FORMAT: Literal[1] = 1


class _Fact(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class ToldFact(_Fact):
    """Something told: its code ("" for a person's own words), its figures, and the text in the language asked for."""

    code: str
    figures: dict[str, Any]
    text: str


class PersonFact(_Fact):
    """One of the crew. entries: how many events are this person's, the first and the last of them when."""

    name: str
    role: Literal["installer", "foreman", "owner"]
    entries: int
    first: str | None
    last: str | None


class ContinuedFact(_Fact):
    """A day of which areas go on here: its date, its last hash (SHA-256), and whether it was signed and sealed."""

    date: str
    head: str
    signed: bool
    sealed: bool
    areas: list[str]


def letter_of(number: int) -> str:
    """The letter of a method, by its number from 0: A to Z, then A2, B2, ...

    >>> letter_of(0), letter_of(25), letter_of(26)
    ('A', 'Z', 'A2')
    """
    again, at = divmod(number, 26)
    return chr(ord("A") + at) + (str(again + 1) if again else "")


class MethodFact(_Fact):
    """A method, and from when to when it was used. number: as tiles name it; letter: by which pages tell it, in the
    order of first use; until: None while it is in use; bed_mm, contact_percent: mean bed, and the most contact, by the
    reckoning; told: notch and how it is worked with, in words; rests_on: what lets it be worked with, and rests_told
    the same in words; word_by: whose word, where it rests on one."""

    number: int
    letter: str
    name: str
    told: ToldFact
    family: str
    width_mm: float
    depth_mm: float
    spacing_mm: float
    angle_degrees: float
    sides: Literal["one", "both"]
    back: Literal["keyed", "bare"]
    movement: Literal["none", "one way", "there and back"]
    seating: Literal["by hand", "beaten", "vibrated"]
    since: str
    until: str | None
    bed_mm: float
    contact_percent: float
    rests_on: Literal["reckoning", "lift", "mock-up", "word", "nothing"]
    rests_told: ToldFact
    word_by: str | None


class LotFact(_Fact):
    """The lot of a setting: setting: its number among those of the day on this tablet; one_in: how often a lot falls;
    fell: by the seed; forced: known beforehand, because so many before it were not lifted."""

    setting: int
    one_in: int
    fell: bool
    forced: bool


class TileFact(_Fact):
    """A place of the plan, or a tile that was set without one.

    number: its place on the grid, or the order in which it was first set; place: row and column, or the name, in
    words; order: of its setting, counted over the area's days (None: not set); state "not set" for a planned place
    without a tile; why: what the state rests on; covered_by: lifts before and behind; cleared_by: lifts that cleared it
    of a suspicion; batch: of which mortar, 0 for none; method: number of a method of the area; witnessed: every step of
    it was called; seen: how it came into the record, "" for one not set, and what stands for it; spread: the mortar it
    was counted out of, by round; together: how many phrases were called in the one breath that held all of it, so that
    nothing was timed, else 0; put_back: after a lift; x_mm, y_mm: its lower left corner from that of the area, on a
    floor seen from above, None where the plan does not say, wide_mm, high_mm: its face there; combing: which way its
    ridges run on the surface, along its short side, "" where that was not called or the piece is square; settings: how
    often it was set; lot: whether it was drawn to be lifted, None where no lot was.
    """

    number: int
    place: str
    row: int | None
    column: int | None
    name: str | None
    face_m2: float
    order: int | None
    run: int | None
    state: Literal[
        "not set", "not yet covered", "covered", "lifted good", "lifted failed", "suspect", "accepted", "taken off"
    ]
    why: ToldFact
    covered_by: list[int]
    cleared_by: list[int]
    setter: str
    method: int | None
    batch: int
    witnessed: bool | None
    seen: Literal["", "witnessed", "counted", "set again"]
    seen_told: ToldFact
    spread: int | None
    together: int
    put_back: Literal["", "put back", "set again"]
    x_mm: float | None
    y_mm: float | None
    wide_mm: float | None
    high_mm: float | None
    combing: Literal["", "level", "upright"]
    settings: int
    lot: LotFact | None
    at: str | None
    event: int | None


class OutlineFact(_Fact):
    """How wide and how high the grid of an area is over all, its joints counted."""

    wide_mm: float
    high_mm: float


class OpeningFact(_Fact):
    """A niche or another opening of an area, from the area's lower left corner."""

    name: str
    x_mm: float
    y_mm: float
    wide_mm: float
    high_mm: float


class SpreadFact(_Fact):
    """Mortar that was spread for tiles that are counted, by its round of the section that sets them.

    wanted: for how many tiles, None where that was not said; bears: for how many the open time was enough at the pace
    of the day, None where nobody knew; done: how many are in; counted: their numbers, without one that was witnessed,
    and with those that were set again since;
    witnessed: the first was called step by step; clock: of its open time, a number of `clocks`, None where there is
    none; event: None for one of an earlier day.
    """

    section: str
    round: int
    setter: str
    method: int
    batch: int
    wanted: int | None
    bears: int | None
    done: int
    counted: list[int]
    witnessed: bool
    standing: Literal["open", "over", "skinned"]
    clock: int | None
    at: str
    event: int | None


class ReadingFact(_Fact):
    """An answer that counts: a reading with its unit, the option of a choice, or a step that was done.

    what: what of a lifted tile or a batch it tells, "" for none; value, unit: as it was read; canonical: the same in
    the canonical unit of its dimension; option: of a choice, option_told: in words; passed: None where nothing judged
    it; how: it came to the tablet; together: how many phrases were called in one breath with it, 0 for one alone; kept:
    by what an answer that was read back, or entered, was kept, "" where none was.
    """

    section: str
    round: int
    step: str
    name: str
    what: str
    value: float | None
    unit: str | None
    canonical: float | None
    option: str | None
    option_told: ToldFact | None
    label: str | None
    passed: bool | None
    by: str
    how: str
    kept: Literal["", "yes", "next phrase", "entered"]
    together: int
    at: str
    event: int


class UndoneFact(_Fact):
    """What had been read of a lift before, failed, and counts no more, where nothing that fails stands in its place.

    was: what had been read or chosen, the oldest first; percent: the least contact of that, None where none was read;
    judged: it had made a verdict; how: it was taken back, or another value took its place; at, event: the last time.
    """

    was: ToldFact
    percent: float | None
    judged: bool
    how: Literal["taken back", "corrected"]
    at: str
    event: int


class BackFact(_Fact):
    """What was measured on a photo of a back, as its event holds it (`checklist.backs.MeasuredBack`).

    photo: SHA-256 of the photo; corners: of the piece in it, by shares of its width and height, clockwise, the first is
    the upper left one of the squared photo; picture_file: that squared photo; cells_file: the back's cells, a grey PNG
    picture; kind: what the back was said to be; way: painted, proposed by reckoning and confirmed, or corrected by
    paint; mortar, bare: where was tapped [mm]; low, high: the ends of the interval of the contact; proposed_percent:
    what was proposed before it was put right; void_low_mm2, void_high_mm2: between what the largest void lies, None
    where that was not kept; void_box: its left, upper, right and lower end [mm], circle_mm: the diameter of the largest
    circle in it; band_percent, corner_percents: contact in the strip along the edges and in the corners' squares;
    ridges: how the ridges ran, "" where nobody looked; cannot: why the photo by itself could not tell, None where it
    could; eye_percent, eye_by: what was read by eye before, and by whom; by: who confirmed it.
    """

    photo: str
    corners: list[list[float]]
    size_mm: list[float]
    picture_file: str
    picture_sha256: str
    cells_file: str
    cells_sha256: str
    kind: Literal["bare", "skim-coated", "combed", "clear sheet"]
    way: Literal["painted", "proposed", "corrected"]
    mortar: list[list[float]]
    bare: list[list[float]]
    percent: float
    low: float
    high: float
    proposed_percent: float | None
    void_mm2: float
    void_low_mm2: float | None
    void_high_mm2: float | None
    void_box: list[float]
    circle_mm: float
    band_percent: float
    corner_percents: list[float]
    corners_full: bool
    edges_full: bool
    ridges: Literal["", "straight", "curved", "swirled", "not readable"]
    direction_deg: float | None
    cannot: ToldFact | None
    eye_percent: float | None
    eye_by: str
    by: str
    at: str
    event: int


class LiftFact(_Fact):
    """A lifted tile. percent, voids, corners, edges: what was read, None where it was not.

    setter, method, batch: of the tile as it stood then, batch 0 for none; void_mm2: the largest void; source: how the
    percent came, way: how it was read, "" where it was not, or where only an earlier day's record tells; read_by: who
    read it; came: how the lift came about, came_told: in words; verdict: None until it is judged; reasons: why it
    failed, unread: what was required and not read; failure: the id of the failure that it showed, None where it showed
    none; undone: what had been read of it before and failed; amended: the addenda that correct something of it, by
    their numbers; back: what was measured of it on a photo, None where nothing was: `percent` is told of it where `way`
    is "photo", else it stands beside; at: when the tile was lifted.
    """

    number: int
    tile: int
    order: int
    run: int
    setter: str
    method: int
    batch: int
    percent: float | None
    required_percent: float | None
    void_mm2: float | None
    corners: str | None
    edges: str | None
    bed_mm: float | None
    source: str
    read_by: str
    way: Literal["", "eye", "grid", "photo"]
    came: str
    came_told: ToldFact
    verdict: Literal["passed", "failed", "not complete"] | None
    reasons: list[ToldFact]
    unread: list[ToldFact]
    failure: str | None
    undone: UndoneFact | None
    amended: list[int]
    back: BackFact | None
    section: str
    round: int
    by: str
    at: str
    event: int


class ClosedFact(_Fact):
    """How a failure was closed."""

    at: str
    by: str
    corrective: str
    shown_by: ToldFact
    event: int


class CureFact(_Fact):
    """What was done after a failure, in the order of events.

    kind: tiles became suspect; a step of the corrective action was done, or answered; a hold point in it was released;
    the method was changed; a tile was lifted, outward from the failed lift or again (lift: its number); a tile could
    not be lifted; tiles were taken off, or accepted as they are; the check after it failed again; the failure was
    closed. tiles: that it is about; method: the one changed to; told: the step, the answer, the reason or the words, or
    what showed the cure; by: "" for the clock.
    """

    kind: Literal[
        "suspect",
        "done",
        "answered",
        "released",
        "changed",
        "lifted",
        "not lifted",
        "taken off",
        "accepted",
        "failed again",
        "closed",
    ]
    tiles: list[int]
    lift: int | None
    method: int | None
    told: ToldFact | None
    by: str
    at: str
    event: int


class FailureFact(_Fact):
    """A non-conformance: what failed, at which step, and how it was closed, None while it is open.

    id: the number of its event; negative for one of an earlier day, whose record tells step, person and time; number:
    counted over the day, in the order in which they were opened, those of earlier days first; lift: the lift that
    failed, clock: the run of a clock that ran out, a number of `clocks`; required: what was required, in words, None
    where nothing was in figures; asked: what was asked, where an answer failed; place: the step at which it was found,
    in words; corrective_told: the corrective action, in words; suspect: the tiles that became suspect by it; cure: what
    was done.
    """

    id: str
    number: int
    lift: int | None
    clock: int | None
    required: ToldFact | None
    asked: ToldFact | None
    place: str
    corrective_told: ToldFact
    suspect: list[int]
    cure: list[CureFact]
    code: str
    figures: dict[str, Any]
    text: str
    section: str
    round: int
    step: str
    corrective: str
    open: bool
    closed: ClosedFact | None
    by: str
    at: str


class ReleaseFact(_Fact):
    """A hold point that was released: by whom, and in whose place (deputy_for, "" for nobody's).

    how: by "pin" in place, or "called" in this name; confirmed: by that person's PIN, confirmed_at: when, None where
    it was by PIN in place or is not; struck: it was none, by that PIN; ends: the hold point closes the area.
    """

    section: str
    round: int
    step: str
    name: str
    by: str
    role: str
    deputy_for: str
    how: Literal["called", "pin"]
    confirmed: bool
    confirmed_at: str | None
    struck: bool
    ends: bool
    at: str
    event: int


class ClockFact(_Fact):
    """A run of a clock. number: of its event, negative for one that was started on an earlier day.

    bound: "at most" for a time that runs out, "at least" for one that must be over first; minutes: allowed, or to be
    waited for; used: measured until it ended, or until now; verdict: of what was measured, None where nothing judged;
    together: it began and ended in one breath, so the two were not timed apart.
    """

    number: int
    clock: str
    title: str
    section: str
    round: int
    bound: Literal["at most", "at least"]
    minutes: float
    used_minutes: float
    verdict: Literal["passed", "over", "under"] | None
    together: bool
    started: str
    ended: str | None
    outcome: Literal["running", "stopped", "ran out", "over"]


class BatchFact(_Fact):
    """A batch of mortar, by the round of its section. alive: mixed, and neither too old nor replaced; pot_life, slake:
    the runs of its clocks, by number, None where there is none; open_times: the runs that measured how long mortar out
    of it lay open; event: None for one of an earlier day, which is dead."""

    number: int
    section: str
    bucket: int
    bags: float | None
    lot: str | None
    water_l: float | None
    alive: bool
    tiles: list[int]
    pot_life: int | None
    slake: int | None
    open_times: list[int]
    by: str
    at: str
    event: int | None


class UnseenFact(_Fact):
    """The longest row of tiles in one run that nobody looked under."""

    tiles: int
    face_m2: float


class LotsFact(_Fact):
    """What the lots prove: with `confidence`, at least `good_share` of the tiles under the lot are good; None where
    they prove nothing. drawn: lifts by lot, which alone carry it; lifted: all lifts; told: the same in sentences."""

    drawn: int
    drawn_good: int
    lifted: int
    confidence: float
    good_share: float | None
    told: list[ToldFact]


class CombinationFact(_Fact):
    """A combination of a trial, by its letter. told: in words; slide_mm, seconds: None where none is said; mortar: of
    the trial's others, "" for the area's own; mortar_name: as it is called; least_bed_mm, greatest_bed_mm: what that
    bears; shown: it is run though it is ruled out; run: it is made; ruled_out: why it is not eligible, none where it
    is; bed_mm: mean bed by the reckoning."""

    letter: str
    told: ToldFact
    notch: str
    family: str
    width_mm: float
    depth_mm: float
    spacing_mm: float
    angle_degrees: float
    sides: Literal["one", "both"]
    back: Literal["keyed", "bare"]
    movement: Literal["none", "one way", "there and back"]
    slide_mm: float | None
    seating: Literal["by hand", "beaten", "vibrated"]
    seconds: float | None
    mortar: str
    mortar_name: str
    least_bed_mm: float
    greatest_bed_mm: float
    shown: bool
    run: bool
    ruled_out: list[ToldFact]
    bed_mm: float


class OrderFact(_Fact):
    """An order of samples, and the head of the record from which anybody can draw it again."""

    head: str
    order: list[str]


class EyeFact(_Fact):
    """What one reader read of a sample [percent]. corrected: it was put right later."""

    reader: str
    percent: float
    corrected: bool


class SampleFact(_Fact):
    """A sample. number: in the order of making; place: in the drawn order, 0 where it repeats a spoiled one; batch:
    from 1, age_min: how old that was; readings: none until all of it was read; counted: on the grid [percent]; bed_mm:
    by gauge, by_mass_mm: by weight; effort_label, air_label: the words of the checklist for what was chosen, "" for
    nothing; spoiled: why it does not count, said before it was looked at; photos: the files of it that were kept,
    photo: the last of them; back: what was measured of it on a photo, None where nothing was; counts: it takes part in
    the analysis; by: who began it; event: with which it began."""

    number: int
    letter: str
    place: int
    batch: int
    age_min: float
    readings: list[EyeFact]
    counted: float | None
    void_mm2: float | None
    edges_full: bool | None
    bed_mm: list[float]
    by_mass_mm: float | None
    effort: str
    effort_label: str
    air: str
    air_label: str
    spoiled: ToldFact | None
    photo: str
    photos: list[str]
    back: BackFact | None
    counts: bool
    by: str
    at: str
    event: int


class EstimateFact(_Fact):
    """What a trial says of one combination: mean contact and its 95 % interval [percent]; first, last: its rank, as a
    range; contender: still in the running; passes: the chance that the next tile passes, as it was reckoned, chance: in
    the step in which it is told. None where nothing may be said."""

    letter: str
    samples: int
    mean: float | None
    low: float | None
    high: float | None
    first: int | None
    last: int | None
    eligible: bool
    contender: bool | None
    near_best: float | None
    passes: float | None
    chance: str | None
    bed_mm: float | None


class DifferenceFact(_Fact):
    """Two combinations compared, the better one by their means first; differs: beyond noise, corrected for all pairs,
    None where no claim may be made."""

    better: str
    worse: str
    points: float
    low: float
    high: float
    p: float
    differs: bool | None


class GainFact(_Fact):
    """A question asked beforehand, and what came of it: asked, told: in words; part: "" for two letters; points: the
    mean gain, None without a pair; found: beyond noise, None where no claim may be made."""

    asked: ToldFact
    part: str
    pairs: list[list[str]]
    points: float
    low: float
    high: float
    p: float
    by: str
    each: list[float]
    found: bool | None
    told: ToldFact


class OverlookedFact(_Fact):
    """How often a trial like this one does not find a difference: between low and high contact [percent], in so many
    trials of ten."""

    low: float
    high: float
    tenths: int


class AnalysisFact(_Fact):
    """All that a trial's samples say. estimates: the highest mean first; ties: groups that cannot be told apart; more:
    so many more of each contender would settle it, None where over 20 would; overlooked: None where no claim may be
    made, or where nothing is left to be told apart; told: the same in sentences."""

    claim: Literal["pictures", "intervals", "ranks"]
    best: str | None
    ranking: list[str]
    contenders: list[str]
    ties: list[list[str]]
    estimates: list[EstimateFact]
    differences: list[DifferenceFact]
    gains: list[GainFact]
    df: int
    spread: float
    wide: bool
    batch_sd: float
    age_per_h: float
    more: int | None
    overlooked: OverlookedFact | None
    told: list[ToldFact]


class AgreementFact(_Fact):
    """How two readers read the same samples, the first less the second [points]: mean, its 95 % interval, the limits
    between which 95 of 100 differences lie, and the largest one. How far each one reads off is nobody else's."""

    readers: list[str]
    pairs: int
    mean: float
    low: float
    high: float
    least: float
    most: float
    largest: float
    told: ToldFact


class TrialReleaseFact(_Fact):
    """A method that a foreman released from a trial by PIN: for which areas, and why where it is not the best one."""

    letter: str
    areas: list[str]
    by: str
    deputy_for: str
    why: str
    mean: float
    low: float | None
    high: float | None
    chance: str | None
    at: str
    event: int


class TrialFact(_Fact):
    """A mock-up trial: what is tried, in which order, its samples with those that were spoiled, what they say, and what
    was released. required_percent: contact that the setting asks for; efforts: the labels that a sample's effort may
    have, in the checklist's order; planned, made: samples; analysis: None until the order was drawn; agreement: None
    where fewer than three samples were read by two."""

    required_percent: float
    place: Literal["dry", "wet", "exterior"]
    surface: Literal["wall", "floor"]
    seen: Literal["lifted", "through the sheet"]
    repeats: int
    readers: list[str]
    a_batch: int
    efforts: list[str]
    combinations: list[CombinationFact]
    orders: list[OrderFact]
    planned: int
    made: int
    samples: list[SampleFact]
    analysis: AnalysisFact | None
    agreement: AgreementFact | None
    releases: list[TrialReleaseFact]


class FromTrialFact(_Fact):
    """The trial that an area's method was released from: its day, its record's head then, and what it has shown."""

    date: str
    site: str
    area: str
    head: str
    letter: str
    samples: int
    mean: float
    low: float | None
    high: float | None
    chance: str | None
    by: str
    why: str


class PieceFact(_Fact):
    """The tile or panel of an area: its sides as the plan has them [mm]; kg: of one whole piece, weighed or reckoned
    from its size, None where that is out of reach of the reckoning."""

    product: Literal["tile", "natural stone", "gauged panel"]
    length_mm: float
    width_mm: float
    thickness_mm: float
    kg: float | None
    weighed: bool
    rectified: bool


class MortarFact(_Fact):
    """The mortar of an area: what its data sheet says, None where it does not. least_bed_mm, greatest_bed_mm: the bed
    that it allows, by the data sheet or by the standard for its kind; bed_basis: which of the two, in words."""

    name: str
    kind: Literal["thin-set", "large-and-heavy-tile"]
    marking: str
    pot_life_min: float
    open_time_min: float
    slake_min: float | None
    least_bed_mm: float
    greatest_bed_mm: float
    bed_basis: ToldFact
    bag_kg: float | None
    bag_yield_l: float | None
    water_per_bag_l: float | None


class RequiredFact(_Fact):
    """What the back of each lifted tile must show, and how many good lifts the area needs.

    percent: of contact; void_mm2: the largest void, None where no limit is set; edges: no void may lie in the strip
    along them; least_lifts: of the standard, or the checklist's own; limits: which of the
    day's limits these are, by id; second_hand: one of them was not seen in its own text.
    """

    percent: float
    void_mm2: float | None
    corners: bool
    edges: bool
    least_lifts: int
    limits: list[str]
    second_hand: bool


class BagsFact(_Fact):
    """The bags said to be used against what the tiles that were set should have taken.

    used, predicted: in bags; bed_mm: of the methods, implied_bed_mm: if all that was used lies behind the tiles, give
    or take tolerance_mm; event: that said so, None for the sum of the batches.
    """

    used: float
    predicted: float
    verdict: Literal["too little", "as predicted", "more than predicted"]
    bed_mm: float
    implied_bed_mm: float | None
    tolerance_mm: float | None
    event: int | None


class HandlingFact(_Fact):
    """Who may carry a piece: how many by hand, and what they may lift together; None where no team may, or nothing is
    known. told: the same in words, and what one person alone may lift."""

    people: int | None
    together_kg: float | None
    told: ToldFact


class AreaFacts(_Fact):
    """One area of the plan, started or not. required_percent: contact, None where nothing requires any; witnessed,
    counted, set_again: how many of the tiles that are set and stay came into the record in which way, and in words;
    trial: where methods are tried here; from_trial: where its method was released from one; started, finished: when,
    None where it was not today; required: None where no tile is lifted; bags: None where nobody counted them, or the
    plan does not tell enough; final_release: the hold point that closed the area, None while none did; outline: None
    without a grid."""

    id: str
    name: str
    where: str
    checklist: str
    phase: Literal["not started", "starting", "working", "finishing", "finished"]
    planned_m2: float
    set_m2: float
    required_percent: float | None
    lifts_needed: int
    good_tiles: int
    witnessed: int
    counted: int
    set_again: int
    seen_told: ToldFact
    setter: str
    methods: list[MethodFact]
    tiles: list[TileFact]
    outline: OutlineFact | None
    openings: list[OpeningFact]
    spreads: list[SpreadFact]
    lifts: list[LiftFact]
    failures: list[FailureFact]
    releases: list[ReleaseFact]
    clocks: list[ClockFact]
    batches: list[BatchFact]
    readings: list[ReadingFact]
    lots: LotsFact
    longest_unseen: UnseenFact
    continues: str | None
    trial: TrialFact | None
    from_trial: FromTrialFact | None
    piece: PieceFact
    joint_mm: float | None
    surface: Literal["wall", "floor"]
    place: Literal["dry", "wet", "exterior"]
    mortar: MortarFact
    required: RequiredFact | None
    started: str | None
    finished: str | None
    bags: BagsFact | None
    handling: HandlingFact
    final_release: ReleaseFact | None


# How well the source of a limit is known: read in the document itself; as reported by others; from memory; worked out;
# common practice without a published source; a product's data sheet; the crew's own figure, or its checklist's.
LimitStanding = Literal["seen", "second-hand", "from memory", "computed", "practice", "data sheet", "own rule"]


class LimitFact(_Fact):
    """A limit that something was held against, or that holds in these areas. limits: what it is for; text, code,
    figures: what it asks for; source: where it comes from; note: what to know of the source, "" for nothing."""

    id: str
    limits: str
    code: str
    figures: dict[str, Any]
    text: str
    source: str
    standing: LimitStanding
    note: str
    areas: list[str]


class PointFact(_Fact):
    """An open point: as screen, sign-off and pages have it too."""

    id: str
    code: str
    figures: dict[str, Any]
    text: str
    area: str | None
    answered: bool
    answer: str | None


class LookFact(_Fact):
    """Something to look at before the day is accepted, the worst first: an open point, or what is none and may still be
    doubted.

    number: by which pages name it, from 1; kind: how bad it is, in the order given here; open: it is an open point that
    nobody has answered; red: work or proof is missing today; answered: the foreman said why it stands, and answer is
    the point with what he said; area: None of the whole day, or of several areas; areas: all of them; lifts, tiles:
    that it is about, where all are of one area.
    """

    number: int
    kind: Literal["failure", "unproven", "contradiction", "unanswered", "doubt", "limit", "unfinished"]
    id: str
    code: str
    figures: dict[str, Any]
    text: str
    area: str | None
    areas: list[str]
    lifts: list[int]
    tiles: list[int]
    open: bool
    red: bool
    answered: bool
    answer: str | None


class ConditionFact(_Fact):
    """Weather, a temperature or humidity: what, as it was read, and where. area: "" for the whole site; name: of the
    step, in words; required: what it had to come to; passed: None where nothing judged it."""

    what: str
    name: str
    value: float | None
    unit: str | None
    text: str
    area: str
    required: str
    passed: bool | None
    by: str
    at: str
    event: int


class CorrectionFact(_Fact):
    """An entry that was corrected: the event that no longer counts, or is corrected in words, and what stands now.

    told: what the entry said; part: 0 for the day, n for addendum n.
    """

    target: int
    told: ToldFact
    event: int
    part: int
    text: str
    by: str
    at: str


class RefusedFact(_Fact):
    """Something that was asked for and refused."""

    area: str
    attempt: ToldFact
    reason: ToldFact
    by: str
    at: str
    event: int


class TranscriptFact(_Fact):
    """What a model wrote down afterwards from a stored sound. text: "" where it made out no word; unsure: many words
    may be wrong; model, weights: its name, and the SHA-256 of its weights."""

    text: str
    unsure: bool
    model: str
    weights: str
    at: str
    event: int


class NoteFact(_Fact):
    """A remark. area: at which the crew was, "" before the first; sound, sha256: where it was dictated, the stored
    sound; transcript: what a model wrote from it."""

    text: str
    area: str
    sound: str | None
    sha256: str | None
    transcript: TranscriptFact | None
    by: str
    at: str
    event: int


class PhotoFact(_Fact):
    """A photo that was kept: the file beside the day, named by its content, and its SHA-256.

    copy_file, copy_sha256: of the copy that pages show and that goes with them, "" where none was made; area: ""
    between the areas; section, round, step: at hand when it was taken, "" and 0 between rounds; name: of that step, in
    words; lift: in whose round it was taken, None for any other; answers: the step at hand asked for it; withdrawn: it
    was taken back since.
    """

    file: str
    sha256: str
    copy_file: str
    copy_sha256: str
    area: str
    section: str
    round: int
    step: str
    name: str
    lift: int | None
    answers: bool
    withdrawn: bool
    by: str
    at: str
    event: int


class SoundFact(_Fact):
    """Words that were kept as sound: the file beside the day, named by its content. kind: of the event that holds the
    words that were heard in it; transcript: what a model wrote from it."""

    file: str
    sha256: str
    kind: str
    transcript: TranscriptFact | None
    by: str
    at: str
    event: int


class EntryFact(_Fact):
    """An event of the record, as a list tells it.

    how: it came to the tablet; together: how many phrases were called in one breath with it, 0 for one alone; part: 0,
    or the number of the addendum that it belongs to; kind: as the record names it; area, section, step: "" for none;
    value: the figure that it holds, exactly as it was read or measured, in its unit, or what was chosen or named;
    verdict: how that was judged, "" for not; no_longer: the event since which it counts no more, None where it counts;
    stands_out: it is none of the usual.
    """

    event: int
    at: str
    by: str
    how: str
    together: int
    part: int
    kind: str
    area: str
    section: str
    round: int | None
    step: str
    value: str | None
    unit: str | None
    verdict: str
    no_longer: int | None
    stands_out: bool
    told: ToldFact


class WithdrawnFact(_Fact):
    """Something that was taken back. target: its event, of that kind, told as a list tells it; said: when; reading: it
    was one; fell: verdicts, failures, cures and clocks that fell with it."""

    target: int
    area: str
    kind: str
    told: ToldFact
    said: str
    reason: Literal["answered no", "scratched", "said again"]
    reading: bool
    fell: list[ToldFact]
    by: str
    at: str
    event: int


class TimeBreakFact(_Fact):
    """Between two events, the tablet was started anew, or its wall clock moved by so many seconds beside the machine's
    own, forward if positive. Times across a start anew are those of the wall clock."""

    kind: Literal["restarted", "clock set"]
    before: int
    after: int
    seconds: float
    told: ToldFact
    at: str


class HeardFact(_Fact):
    """That a caution was heard: by whom, and how it was answered."""

    persons: list[str]
    how: Literal["understood", "understood again", "went on"]
    area: str
    by: str
    at: str
    event: int


class CautionFact(_Fact):
    """A caution of a checklist that came up, with its source, and who heard it."""

    id: str
    checklist: str
    text: str
    basis: str
    heard: list[HeardFact]


class QuestionFact(_Fact):
    """A step that was answered: of which checklist and section, what was asked in full, why, and how often."""

    checklist: str
    section: str
    step: str
    name: str
    asked: str
    basis: str
    answered: int


class DustFact(_Fact):
    """Minutes of one dusty task. basis: the row of the table for it, or why there is none; replaces: an entry that was
    wrong; no_longer: the event since which it counts no more."""

    task: str
    task_told: str
    place: str
    place_told: str
    minutes: float
    basis: ToldFact
    replaces: int | None
    no_longer: int | None
    by: str
    at: str
    event: int


class DustSumFact(_Fact):
    """What a person's dusty tasks come to: minutes of those in Table 1 of 29 CFR 1926.1153 and of others; over: more
    than four hours of the table's, so that its higher column holds."""

    by: str
    listed_min: float
    other_min: float
    over: bool


class SignatureFact(_Fact):
    """A sign-off, and what was open then. part: 0 for the day, n for addendum n; strokes: the finger's signature, each
    of points (across, down) in thousandths of the field it was drawn in, which is three times as wide as high."""

    part: int
    name: str
    role: str
    at: str
    open_points: list[ToldFact]
    strokes: list[list[tuple[int, int]]]
    event: int


class PinFact(_Fact):
    """A signature by PIN below the seals: of a release, or of the confirmation of releases that were called. event: its
    own, the release's; confirms: events of the releases that it confirms; key: the fingerprint, "" for none; why: why
    it is not good; warning: what somebody should look into although it is good."""

    event: int
    name: str
    role: str
    key: str
    confirms: list[int]
    good: bool
    why: ToldFact | None
    warning: ToldFact | None


class SealFact(_Fact):
    """A seal and what became of it. key: the fingerprint; public_key, signature: Ed25519 (RFC 8032), in hexadecimal;
    head: the chain's hash that was signed; certificate: SHA-256 of the one that signs the pages, "" for none; why: why
    it is not good; warning: what somebody should look into although it is."""

    part: int
    name: str
    role: str
    covers: int
    key: str
    public_key: str
    head: str
    signature: str
    certificate: str
    good: bool
    why: ToldFact | None
    warning: ToldFact | None
    event: int


class ConfirmationFact(_Fact):
    """Releases that were called in somebody's name (the numbers of their events), confirmed by that person's PIN."""

    by: str
    role: str
    releases: list[int]
    at: str
    event: int


class AddedFact(_Fact):
    """An entry of an addendum, as a list tells it. area: "" for the day's own; withdrawn: it counts no more."""

    area: str
    told: ToldFact
    withdrawn: bool
    by: str
    at: str
    event: int


class AddendumFact(_Fact):
    """The signed day, opened again. by: who opened it; its corrections, signature and seal are those of its number."""

    number: int
    reason: str
    added: list[AddedFact]
    by: str
    at: str
    event: int


class DayBeforeFact(_Fact):
    """How far a day of the tablet had come: number (0: begun elsewhere), the plan's date, events, and the last hash."""

    number: int
    date: str
    events: int
    head: str


class TabletFact(_Fact):
    """Which of the days of its tablet a day is. book: how the tablet found its numbers; announces: days before it."""

    tablet: str
    number: int
    book: Literal["kept", "new", "lost", "damaged"]
    announces: list[DayBeforeFact]


class DayFacts(_Fact):
    """A day. kind: only "work" is proof of anything; events, head: how many there are, and their chain's last hash;
    unsealed: how many events follow the last good seal, for which no key vouches."""

    facts: Literal[1] = FORMAT
    program: str
    kind: Literal["work", "practice", "rehearsal"]
    site: str
    address: str
    owner: str
    date: str
    units: Literal["metric", "us"]
    events: int
    head: Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]
    continues: list[ContinuedFact]
    tablet: TabletFact | None
    crew: list[PersonFact]
    speaker: str | None
    areas: list[AreaFacts]
    open_points: list[PointFact]
    open_count: int
    limits: list[LimitFact]
    look_at: list[LookFact]
    conditions: list[ConditionFact]
    corrections: list[CorrectionFact]
    refused: list[RefusedFact]
    notes: list[NoteFact]
    photos: list[PhotoFact]
    sounds: list[SoundFact]
    sequence: list[EntryFact]
    withdrawn: list[WithdrawnFact]
    time_breaks: list[TimeBreakFact]
    cautions: list[CautionFact]
    questions: list[QuestionFact]
    dust: list[DustFact]
    dust_sums: list[DustSumFact]
    speech_models: list[str]
    signed: bool
    sealed: bool
    pins: list[PinFact]
    signatures: list[SignatureFact]
    seals: list[SealFact]
    unsealed: int
    confirmations: list[ConfirmationFact]
    addenda: list[AddendumFact]
