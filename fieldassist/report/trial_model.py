"""A mock-up trial as plain data: what its page and its list of samples print. `report.build.trial` makes it.

Texts are in the document's language and units; lengths of drawings are millimetres at natural size.
"""

from __future__ import annotations

from dataclasses import dataclass

from fieldassist.report.answering_model import Answering
from fieldassist.report.back_model import BackDrawn
from fieldassist.report.ridge_model import RidgeSection
from fieldassist.trial.model import Claim


@dataclass(frozen=True, slots=True)
class TrialRow:
    """One method of the ranking.

    rank: as a range, "" where no rank may be told; how: how the piece is set; notch: what combs where; about: what else
    is told of it, each a line; section: its ridges; bed, gauge: by geometry, and as it was measured [mm]; bed_told: the
    figure under them; least, greatest: the mortar's limits [mm]; mean, low, high [percent], and told; samples: each
    one's contact [percent]; chance: that the next tile passes, or why none is told; likely: it is at least as likely as
    not; eligible: the reckoning does not rule it out; section_alt, bed_alt, samples_alt: what the drawings show, in
    words.
    """

    letter: str
    rank: str
    how: str
    notch: str
    about: tuple[str, ...]
    section: RidgeSection
    section_alt: str
    bed: float
    gauge: float | None
    bed_told: str
    bed_alt: str
    least: float
    greatest: float
    mean: float | None
    low: float | None
    high: float | None
    told: str
    samples: tuple[float, ...]
    samples_alt: str
    chance: str
    likely: bool
    eligible: bool


@dataclass(frozen=True, slots=True)
class TextBlock:
    """A heading of the page and the paragraphs under it."""

    title: str
    paragraphs: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SampleLine:
    """One sample of the list. number: as they were made; letter: of its method; place: in the drawn order; made: when
    and by whom; batch: out of which, and how old it was; read: what each reader read; contact: their mean; bed: by
    gauge or weight, without its unit; seen: void, edges, effort and air in words; spoiled: why it does not count, ""
    where it does."""

    number: int
    letter: str
    place: str
    made: str
    batch: str
    read: tuple[str, ...]
    contact: str
    bed: str
    seen: str
    spoiled: str


@dataclass(frozen=True, slots=True)
class TrialPhoto:
    """A photo of a sample, by its file, beside its figures, each a line. alt: what it shows, in words; over: what is
    drawn over it where it is of a back that was measured."""

    file: str
    title: str
    figures: tuple[str, ...]
    alt: str
    over: BackDrawn | None = None


@dataclass(frozen=True, slots=True)
class TrialReport:
    """A trial.

    name: of its area; title: of its page; date: of the day; about: site, place, piece and mortar in a line;
    verdict: a sentence that comes first; best: the method of its letter in words, "" for none; after: what follows
    from it, released: what was released, each a sentence; claim: how much may be said; required [percent], and
    told; rows: by mean, the highest first; ties: letters that cannot be told apart, and told; legend: how the table
    is read, and what was not run; blocks: the text under it, in the order in which they are wanted on page one;
    other_units: its sizes in the other system; bed_unit: in which the bed's figures are told; bed_marks: limits and
    their figures for the axis [mm, told]; ruler: how long the line is that whoever prints the page measures [mm,
    told]; samples: all of them, as they were made; measured: how the photos of some were, each a paragraph; order:
    the letters round by round; redraw: how to draw the order again; photos: those that page one shows; answers: who
    answers for it.
    """

    name: str
    title: str
    date: str
    about: str
    verdict: str
    best: str
    after: tuple[str, ...]
    released: tuple[str, ...]
    claim: Claim
    required: float
    required_told: str
    rows: tuple[TrialRow, ...]
    ties: tuple[tuple[str, ...], ...]
    ties_told: str
    legend: str
    blocks: tuple[TextBlock, ...]
    other_units: str
    bed_unit: str
    bed_marks: tuple[tuple[float, str], ...]
    ruler: tuple[float, str]
    samples: tuple[SampleLine, ...]
    measured: tuple[str, ...]
    order: tuple[str, ...]
    redraw: tuple[str, ...]
    photos: tuple[TrialPhoto, ...]
    answers: Answering
