"""Page one as plain data: what an owner sees in thirty seconds, and the whole of what it folds."""

from __future__ import annotations

from dataclasses import dataclass

from fieldassist.report.answering_model import Answering
from fieldassist.report.signs import LiftSign

# Ranks of an area in which nothing is open: there is something to look at, or nothing.
DOUBT, NOTHING = 8, 9


@dataclass(frozen=True, slots=True)
class FrontArea:
    """A row of page one. key: by which references lead to its page, "" where it has none; short: less is set than
    planned; reach: tiles within reach of a good lift, reach_note: what of the others; released: who released it, and
    how_released; waits: nobody has; worst_open: the worst lift that stands failed; red: the notes that are open today;
    rank: of the worst that is open in it, 0 for an open failure, up to `DOUBT` and `NOTHING`: the lower come before
    others where not all are shown.
    """

    key: str
    name: str
    where: str
    set_of: str
    short: bool
    required: str
    worst: str
    worst_open: bool
    mean: str
    lifts: str
    reach: str
    reach_note: str
    reach_red: bool
    released: str
    how_released: str
    waits: bool
    released_red: bool
    rank: int


@dataclass(frozen=True, slots=True)
class ChartLift:
    """A lift of the chart. area: its number in the day; percent: of contact; figure: the same without its sign, as it
    is told; interval: the ends of the contact's, None where its doubt is not known [percent]."""

    area: str
    number: int
    time: str
    percent: float
    figure: str
    mark: LiftSign
    interval: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class ChartPanel:
    """The lifts of an area, or of all areas that require the same where there are many. required: percent of contact,
    None where nothing requires any; limit: the same as it is told; short: the title where there is little room."""

    title: str
    short: str
    required: float | None
    limit: str
    lifts: tuple[ChartLift, ...]


@dataclass(frozen=True, slots=True)
class LiftChart:
    """Every lift of the day against what is required. alt: the same in words; by_area: a panel is an area's."""

    panels: tuple[ChartPanel, ...]
    alt: str
    by_area: bool

    @property
    def lifts(self) -> int:
        """How many there are."""
        return sum(len(panel.lifts) for panel in self.panels)

    @property
    def sure(self) -> bool:
        """Whether the doubt of any is known."""
        return any(lift.interval is not None for panel in self.panels for lift in panel.lifts)


@dataclass(frozen=True, slots=True)
class FrontPoint:
    """Something to look at. lead: in a few words what it is; key: of the place that tells more, "" where none does;
    on: more of it stands further on; kind: by which those that find no room are counted."""

    number: int
    kind: str
    lead: str
    text: str
    key: str
    on: bool
    red: bool


@dataclass(frozen=True, slots=True)
class FrontFailure:
    """What failed, and what cured it. number: by which the area's page names it; open: nothing has yet."""

    number: int
    time: str
    area: str
    found: str
    cure: str
    open: bool


@dataclass(frozen=True, slots=True)
class FrontPage:
    """Page one. about: where, for whom and by whom; alarm: what the verdict begins with where something is open
    today, "" for nothing; verdict: the sentence that stands first; goes_on: what is not finished, and how many
    points there are; dagger: what that sign means, "" where no row has it or a point tells it; points_note: how
    many of them are open, and how many are doubts; chart: None for a day without a lift;
    none_failed: what is said where there are no failures."""

    site: str
    date: str
    about: str
    alarm: str
    verdict: str
    goes_on: str
    areas: tuple[FrontArea, ...]
    dagger: str
    chart: LiftChart | None
    points: tuple[FrontPoint, ...]
    points_note: str
    failures: tuple[FrontFailure, ...]
    none_failed: str
    answers: Answering
