"""The pages of an area as plain data: texts are in the document's language and units."""

from __future__ import annotations

from dataclasses import dataclass

from fieldassist.report.back_model import BackDrawn
from fieldassist.report.ridge_model import RidgeSection
from fieldassist.report.signs import LiftSign
from fieldassist.report.trial_model import TrialReport
from fieldassist.report.wall_model import DrawnWall


@dataclass(frozen=True, slots=True)
class KeyFigure:
    """One of the four figures below the verdict: what it is, what stands first and strong, and the rest."""

    head: str
    strong: str
    rest: str


@dataclass(frozen=True, slots=True)
class MethodBlock:
    """A method that was used. section: its ridges, None where they cannot be drawn, and alt what the drawing shows;
    bed: against the mortar's limits; lifts: good of lifted; rest: what it rests on, which pieces, who and when."""

    letter: str
    told: str
    section: RidgeSection | None
    alt: str
    bed: tuple[str, str]
    lifts: str
    rest: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PrintedPhoto:
    """A photo on the page: its file, what it shows in words, what stands below, and what is drawn over it where it is
    of a back that was measured."""

    file: str
    alt: str
    caption: str = ""
    over: BackDrawn | None = None


@dataclass(frozen=True, slots=True)
class StoryRow:
    """One step of a failure's story. time: "" where it is the same as above; strong: the step."""

    time: str
    strong: str
    text: str


@dataclass(frozen=True, slots=True)
class FailureCard:
    """A failure and what was done about it. key: of its place; open: it is open today; rows: its story, step by step;
    brief: the same in one paragraph, for what was no lift, and rows are none then; end: how it stands."""

    key: str
    title: str
    open: bool
    rows: tuple[StoryRow, ...]
    brief: str
    end: str
    photo: PrintedPhoto | None


@dataclass(frozen=True, slots=True)
class LiftLine:
    """A lift. key: of its place; title: its number and its piece; time, when: alone, and with its batch; came: why this
    one; percent: "" where it was not read; doubt: how sure that is; way: how it was read, and by whom; beside: what
    another way told of its contact, each a sentence; read: what else was read, each with whether it failed; verdict,
    result: how it is judged; good: it takes no row of its own where there are many; short: what stands there then."""

    key: str
    title: str
    time: str
    when: str
    came: str
    sign: LiftSign
    percent: str
    doubt: str
    way: str
    beside: tuple[str, ...]
    read: tuple[tuple[str, bool], ...]
    verdict: str
    result: str
    good: bool
    short: str
    photos: tuple[PrintedPhoto, ...]


@dataclass(frozen=True, slots=True)
class LiftTable:
    """The lifts of an area. key: of their place; note: beside the heading; heads: of the columns, without the photo's
    where no lift has one; brief: there are so many that a good one takes no row of its own; oblong: how many times as
    wide as high a back is, as it is printed; photos: any lift has one; measured: any back was measured on its photo;
    feet: what stands below of how photos were measured."""

    key: str
    title: str
    note: str
    heads: tuple[str, ...]
    lines: tuple[LiftLine, ...]
    brief: bool
    oblong: float
    photos: bool
    measured: bool
    feet: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ClockBar:
    """Time used of time allowed. share: 1 at the stop; told: the minutes; out: it ran out."""

    share: float
    told: str
    out: bool


@dataclass(frozen=True, slots=True)
class BatchLine:
    """A batch of mortar with its clocks, None where one did not run."""

    number: str
    mixed: str
    bags: str
    slaked: str
    pot_life: ClockBar | None
    open_time: ClockBar | None


@dataclass(frozen=True, slots=True)
class BagsDrawn:
    """Bags to be expected and bags used, the same drawn and told."""

    expected: float
    used: float
    told: tuple[str, str]


@dataclass(frozen=True, slots=True)
class MortarBlock:
    """Mortar and its clocks. key: of their place; heads: of the columns; folded: of the batches that have no row; told:
    of slake and of the bags; open: the bags are an open point; bags: drawn where they do not fit the bed."""

    key: str
    title: str
    note: str
    heads: tuple[str, ...]
    batches: tuple[BatchLine, ...]
    folded: str
    told: tuple[str, ...]
    open: str
    bags: BagsDrawn | None


@dataclass(frozen=True, slots=True)
class HoldLine:
    """A hold point that was released: when, what, by whom and how. red: that is open today."""

    time: str
    strong: str
    text: str
    who: str
    red: bool = False


@dataclass(frozen=True, slots=True)
class PhotoBlock:
    """Photos that belong to no lift and no failure."""

    title: str
    note: str
    photos: tuple[PrintedPhoto, ...]


@dataclass(frozen=True, slots=True)
class AreaPages:
    """An area: its pages, or the trial that was run in it.

    key: by which references lead here; running: the running head, again: that of the pages that follow; status: how it
    stands, with who released it, status_red: that is open today; about: place, product, and where it comes from;
    verdict: its sentences, each with whether it tells of something open today; wall: None where nothing is known of its
    pieces; unused: methods that nothing was set with; tomorrow: what goes on; feet: what stands at the foot once.
    """

    key: str
    name: str
    running: str
    again: str
    status: str
    status_red: bool
    about: tuple[str, ...]
    verdict: tuple[tuple[str, bool], ...]
    figures: tuple[KeyFigure, ...]
    wall: DrawnWall | None
    methods_title: str
    methods_note: str
    methods: tuple[MethodBlock, ...]
    unused: str
    failures: tuple[FailureCard, ...]
    lifts: LiftTable | None
    mortar: MortarBlock | None
    holds_title: str
    holds: tuple[HoldLine, ...]
    tomorrow_title: str
    tomorrow: tuple[str, ...]
    photos: PhotoBlock | None
    feet: tuple[str, ...]
    trial: TrialReport | None = None
