"""What a trial is made of: samples as they were read, and what the analysis says of the combinations."""

from __future__ import annotations

from dataclasses import dataclass
from math import floor
from typing import Literal, TypeAlias

from fieldassist.trade.message import Message, Text


def whole_percent(percent: float) -> int:
    """Contact as it is told of a trial: without decimals, rounded down, as contact always is.

    >>> whole_percent(94.9), whole_percent(95.0)
    (94, 95)
    """
    return floor(percent + 1e-9)


# The steps in which a chance is told: nobody knows it closer.
Chance: TypeAlias = Literal["under 1 in 10", "about 1 in 4", "about half", "about 3 in 4", "9 in 10 or better"]
# How much a trial may say, by its samples: pictures alone; intervals without a rank; all of it.
Claim: TypeAlias = Literal["pictures", "intervals", "ranks"]


@dataclass(frozen=True, slots=True)
class EyeReading:
    """The contact that one reader read of a sample [percent]. corrected: it was put right later, in the record too."""

    reader: str
    percent: float
    corrected: bool = False


@dataclass(frozen=True, slots=True)
class Sample:
    """One sample of a trial.

    letter: of its combination; number: the order in which it was made, from 1; place: in the drawn order, from 1, 0 for
    one that repeats a spoiled sample; batch: out of which batch of mortar, from 1; age_min: how old that was [min];
    readings: one or two, none while it was not read; counted: contact counted on a grid or measured [percent];
    void_mm2: its largest void [mm2]; edges_full: of corners and edges; bed_mm: by gauge, up to three points [mm], or
    by_mass_mm: by the mortar's mass [mm]; effort: "easy", "fair" or "hard"; air: where air was trapped, "" where that
    was not said; spoiled: why, said before it was looked at; None for one that counts. photo: its stored file.
    """

    letter: str
    number: int
    place: int
    batch: int
    age_min: float
    readings: tuple[EyeReading, ...] = ()
    counted: float | None = None
    void_mm2: float | None = None
    edges_full: bool | None = None
    bed_mm: tuple[float, ...] = ()
    by_mass_mm: float | None = None
    effort: str = ""
    air: str = ""
    spoiled: Message | Text | None = None
    photo: str = ""

    @property
    def counts(self) -> bool:
        """Whether it takes part in the analysis."""
        return self.spoiled is None and bool(self.readings)

    @property
    def percent(self) -> float:
        """The mean of what its readers read [percent]."""
        return sum(reading.percent for reading in self.readings) / len(self.readings)


@dataclass(frozen=True, slots=True)
class Design:
    """What is analysed against what.

    letters: of the combinations that are run, in the plan's order; eligible: those that the reckoning does not rule
    out; requirement: contact that the setting asks for [percent]; pairs: of each planned question, the pairs of letters
    (the one, and what it is asked to add); part_of: of each planned question, the part that it is about, "" for two
    letters; readers: how many read each sample.
    """

    letters: tuple[str, ...]
    eligible: tuple[str, ...]
    requirement: float
    pairs: tuple[tuple[tuple[str, str], ...], ...] = ()
    part_of: tuple[str, ...] = ()
    readers: int = 1


@dataclass(frozen=True, slots=True)
class Estimate:
    """What a trial says of one combination.

    samples: how many count; mean, low, high: contact and its 95 % interval [percent], None with no sample, the interval
    with one; centre, variance: the mean and its variance on the scale of contact (`trade.contact`), spread: of one
    sample there; first, last: its rank among those that are run, as a range, None where no rank may be told; eligible;
    contender: still in the running to be the best, None where nothing may be said; near_best: the chance that its mean
    is within 2 points of the best one's; passes: the chance that the next tile meets the requirement, as it was
    reckoned, and chance: as it is told, None where nothing may be said; bed_mm: mean by gauge or mass, None unread.
    """

    letter: str
    samples: int
    mean: float | None = None
    low: float | None = None
    high: float | None = None
    centre: float | None = None
    variance: float | None = None
    spread: float | None = None
    first: int | None = None
    last: int | None = None
    eligible: bool = True
    contender: bool | None = None
    near_best: float | None = None
    passes: float | None = None
    chance: Chance | None = None
    bed_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Difference:
    """Two combinations compared.

    better, worse: by their means; points: of contact between these; low, high: a 95 % interval of it that holds for all
    pairs at once [points]; p: over all pairs, step by step; differs: beyond noise, None where no claim may be made.
    """

    better: str
    worse: str
    points: float
    low: float
    high: float
    p: float
    differs: bool | None


@dataclass(frozen=True, slots=True)
class Gain:
    """What was asked beforehand.

    part: as planned; pairs: the planned ones that were sampled on both sides; points: the mean gain, low, high: its
    95 % interval [points], at the level of the first of each pair; p: how likely so much is without any gain, as the
    only question; by: how that was reckoned; each: of every pair its gain [points]; found: beyond noise (1 in 20 for
    each question by itself), None where no claim may be made.
    """

    part: str
    pairs: tuple[tuple[str, str], ...]
    points: float
    low: float
    high: float
    p: float
    by: Literal["t on pairs", "sign flip", "contrast"]
    each: tuple[float, ...]
    found: bool | None


@dataclass(frozen=True, slots=True)
class Analysis:
    """All that a trial says.

    estimates: by mean, the highest first; differences: of every pair with two samples of both at least; ties: groups of
    letters none of which can be told apart from another one, in order of the estimates, only those of two and more;
    best: the eligible one with the highest mean, None without samples; contenders: the letters still in the running,
    best first; gains: one for each planned question, in its order; claim: how much may be said; df: residual degrees of
    freedom; spread: of one sample on the scale of contact, prior_spread: what was assumed of it beforehand, wide: it
    was found so much wider that intervals may be too narrow; batch_sd, age_per_h: what batch and mortar's age do there;
    readers: how many read; more: so many more of each contender would show a difference like 90 against 95 % between
    them in four trials of five, 0 where fewer than two are left or it would have shown already, None where over 20
    would be needed; reading_spread: of one reader's readings of the same sample, there, None where too few samples were
    read twice.
    """

    estimates: tuple[Estimate, ...]
    differences: tuple[Difference, ...]
    ties: tuple[tuple[str, ...], ...]
    best: str | None
    contenders: tuple[str, ...]
    gains: tuple[Gain, ...]
    claim: Claim
    df: int
    spread: float
    prior_spread: float
    wide: bool
    batch_sd: float
    age_per_h: float
    readers: int
    more: int | None
    reading_spread: float | None = None

    def of(self, letter: str) -> Estimate:
        """What is said of one combination; KeyError for another letter."""
        found = next((one for one in self.estimates if one.letter == letter), None)
        if found is None:
            raise KeyError(letter)
        return found
