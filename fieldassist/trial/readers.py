"""What the readers' eyes are worth: two readers beside each other, and each beside what was counted or measured.

Two readers who agree prove that they agree: an error that both share only a grid or a photo shows. How far one person
reads off is a figure of that person's own: it is told to them, corrects no reading, and leaves the crew only where they
agree to it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from statistics import fmean, stdev
from typing import Literal, TypeAlias

from fieldassist.checklist.backs import back_of
from fieldassist.checklist.state import State
from fieldassist.trade.agreement import limits_of_agreement
from fieldassist.trade.contact import on_scale, percent_of, t_quantile
from fieldassist.trade.message import Message, message
from fieldassist.trade.promise import READER_SPREAD
from fieldassist.trade.quantities import Quantity
from fieldassist.trial.model import Sample

__all__ = [
    "LEAST_PAIRS_OF_BIAS",
    "EyePairs",
    "ReadBeside",
    "ReaderBias",
    "ReadersAgreement",
    "agreement",
    "bias",
    "bias_of_pairs",
    "pairs_on_photos",
]

# What a reading by eye is held against: squares counted on a grid, voids painted on a photo, a photo that was reckoned.
ReadBeside = Literal["counted", "painted", "measured"]
# What an eye read, and what was found beside it [percent].
EyePairs: TypeAlias = Sequence[tuple[float, float]]

# So few samples say nothing of how far two readers lie apart, and of how far one lies off.
LEAST_PAIRS_OF_TWO = 3
LEAST_PAIRS_OF_BIAS = 10
# Nothing closer is claimed: readings come in steps, and a grid errs too.
LEAST_POINTS = 0.5


@dataclass(frozen=True, slots=True)
class ReadersAgreement:
    """How two readers read the same samples, the first less the second [points].

    readers; pairs: samples that both read; mean, low, high: mean difference and its 95 % interval; least, most: the
    limits between which 95 of 100 differences lie; largest: without its sign, and sample: the number of that one.
    """

    readers: tuple[str, str]
    pairs: int
    mean: float
    low: float
    high: float
    least: float
    most: float
    largest: float
    sample: int

    @property
    def told(self) -> Message:
        """In words, in whole points."""
        higher, lower = self.readers if self.mean >= 0 else self.readers[::-1]
        apart = max(abs(self.least), abs(self.most))
        return message(
            "trial-readers-agree",
            pairs=self.pairs,
            higher=higher,
            lower=lower,
            mean=round(abs(self.mean)),
            apart=math.ceil(apart - 1e-9),
            largest=round(self.largest),
            sample=str(self.sample),
        )


def agreement(samples: Sequence[Sample]) -> ReadersAgreement | None:
    """How the two readers of a trial agree; None where fewer than three samples were read by the same two.

    d = first - second, as `trade.agreement`.

    Parameters: samples, of which those count that count in the trial. Where more than two people read, the two who read
    most samples together. Limits: in points, and near 100 percent readers lie closer together than at 75.
    """
    both: dict[tuple[str, str], list[tuple[float, int]]] = {}
    for sample in samples:
        if sample.counts and len(sample.readings) > 1:
            first, second = sorted(sample.readings, key=lambda reading: reading.reader)[:2]
            difference = (first.percent - second.percent, sample.number)
            both.setdefault((first.reader, second.reader), []).append(difference)
    if not both:
        return None
    readers, found = max(both.items(), key=lambda one: len(one[1]))
    apart = limits_of_agreement([difference for difference, _ in found])
    if apart is None or apart.count < LEAST_PAIRS_OF_TWO:
        return None
    largest, at = max((abs(difference), -number) for difference, number in found)
    return ReadersAgreement(
        readers, apart.count, apart.mean, apart.low, apart.high, apart.least, apart.most, largest, -at
    )


@dataclass(frozen=True, slots=True)
class ReaderBias:
    """How far one reader reads off what was counted on a grid or measured on a photo.

    reader; pairs: samples or lifts of which both are known, and beside what the eye stands; shift, low, high: mean and
    its 95 % interval on the scale of contact; drawn: the mean, drawn to none as far as few pairs tell; level: mean
    contact that was found [percent]; points, least, most: drawn and the interval, as points there.
    """

    reader: str
    pairs: int
    shift: float
    low: float
    high: float
    drawn: float
    level: float
    beside: ReadBeside = "counted"

    def _points(self, shift: float) -> float:
        return percent_of(on_scale(self.level) + shift) - self.level

    @property
    def points(self) -> float:
        """How many points too high, drawn to none as far as few pairs tell."""
        return self._points(self.drawn)

    @property
    def least(self) -> float:
        """The lower end of the interval [points]."""
        return self._points(self.low)

    @property
    def most(self) -> float:
        """The upper end of the interval [points]."""
        return self._points(self.high)

    @property
    def told(self) -> Message:
        """In words, to nobody but the reader; nothing closer than half a point."""
        how = "as" if abs(self.points) < LEAST_POINTS else "high" if self.points > 0 else "low"
        return message(
            "trial-reader-off",
            reader=self.reader,
            beside=self.beside,
            pairs=self.pairs,
            how=how,
            points=max(1, round(abs(self.points))),
            least=round(self.least),
            most=round(self.most),
            level=Quantity(Fraction(round(self.level)), "percent"),
        )


def bias(reader: str, samples: Sequence[Sample]) -> ReaderBias | None:
    """How far a reader reads off what was counted, as `bias_of_pairs`.

    Parameters: samples, of one trial or of several; all of them have to be counted, or those that a lot named: where a
    grid is taken only when the eye was in doubt, the reader looks worse or better than he is.
    """
    pairs = [
        (reading.percent, sample.counted)
        for sample in samples
        if sample.counts and sample.counted is not None
        for reading in sample.readings
        if reading.reader == reader
    ]
    return bias_of_pairs(reader, pairs)


def bias_of_pairs(reader: str, pairs: EyePairs, beside: ReadBeside = "counted") -> ReaderBias | None:
    """How far a reader reads off what was found beside; None under ten pairs.

    d = y(eye) - y(found) on the scale of `trade.contact`, interval of its mean by Student's t; drawn to none by
    b^2/(b^2 + se^2), with b = 0.25 the spread of readers

    Limits: steps of reading and the grid's own error leave half a point; a photo that is off all the time looks like an
    eye that is.

    References: paired t; chosen by simulation.
    """
    n = len(pairs)
    if n < LEAST_PAIRS_OF_BIAS:
        return None
    differences = [on_scale(eye) - on_scale(found) for eye, found in pairs]
    shift, error = fmean(differences), stdev(differences) / math.sqrt(n)
    reach = t_quantile(0.975, n - 1) * error
    drawn = shift * READER_SPREAD**2 / (READER_SPREAD**2 + error**2)
    level = fmean(found for _, found in pairs)
    return ReaderBias(reader, n, shift, shift - reach, shift + reach, drawn, level, beside)


def pairs_on_photos(state: State, reader: str) -> dict[ReadBeside, list[tuple[float, float]]]:
    """What a reader said of lifts by eye before their photo's figure was shown, beside that figure.

    Voids that somebody painted and what was reckoned from taps err in other ways: they are told apart.
    """
    found: dict[ReadBeside, list[tuple[float, float]]] = {"painted": [], "measured": []}
    for area, section, at_round in state.backs:
        record = back_of(state, area, section, at_round)
        if record is None or state.areas[area].progress.lift_of(section, at_round) is None:
            continue
        back = record.back
        if back.eye_percent is not None and back.eye_by == reader:
            found["painted" if back.way == "painted" else "measured"].append((back.eye_percent, back.percent))
    return found
