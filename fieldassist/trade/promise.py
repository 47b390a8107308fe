"""What a mock-up trial promised, and whether the lifts that follow keep it.

Any lift under the interval of the trial's mean says nothing: nearly every area has one. What is judged is the mean of
all lifts so far, from the third day on, since the lifts of one day are alike.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from fieldassist.trade.checks import not_negative
from fieldassist.trade.contact import normal_quantile, on_scale, percent_of

__all__ = ["FIRST_DAY", "READER_SPREAD", "KeptPromise", "LaterLift", "Promise", "kept", "one_tile"]

# From which day with lifts on their mean is judged, and how likely a promise that is kept is then said to be broken, at
# each look: chosen by simulation, so that over fifteen days it is no more than one in twenty.
FIRST_DAY = 3
WRONG = 0.0125
# So many of single tiles lie between the ends that are told of them.
OF_TILES = 0.95
# How much readers differ from one another, on the scale of contact: 5 points at 75 percent, 1.2 at 95. Assumed.
READER_SPREAD = 0.25


@dataclass(frozen=True, slots=True)
class Promise:
    """What a trial has shown of a method, on the scale of `trade.contact`. centre: the mean, variance: of that mean;
    spread: of one sample; between: variance between batches; batches: how many there were; readers: who read."""

    centre: float
    variance: float
    spread: float
    between: float = 0.0
    batches: int = 1
    readers: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class LaterLift:
    """A tile that was set with the method and lifted. day: a date; percent: its contact [percent]; reader: by whom."""

    day: str
    percent: float
    reader: str


@dataclass(frozen=True, slots=True)
class KeptPromise:
    """How later lifts stand beside a promise. lifts, days: so many; mean: of the lifts [percent]; least: what their
    mean has to reach at least, as it is reckoned [percent]; lower: more than noise; None before the third day."""

    lifts: int
    days: int
    mean: float
    least: float
    lower: bool | None


def kept(promise: Promise, lifts: Sequence[LaterLift]) -> KeptPromise | None:
    """Whether the lifts so far keep a promise; None without a lift.

    lower where mean(y) < centre - z sqrt(V + s^2/n + b sum_d (n_d/n)^2 + b/B + r^2 sum_r (w_r - v_r)^2)

    with y the lifts on the scale of contact, V the variance of the trial's mean, s the spread of one sample, n lifts,
    n_d of them on day d, b the variance between batches, B batches in the trial, r the spread of readers, w_r and v_r
    the shares of each reader of the lifts and of the trial, and z of a chance of 1.25 percent.

    Parameters: lifts, without those that a failure asked for: they are lower because they were looked for.
    Errors: `Refused` for figures that cannot be.

    >>> shown = Promise(centre=2.63, variance=0.04, spread=0.45, between=0.09, batches=3, readers=("rosa",))
    >>> lifts = [LaterLift(f"2026-03-{day}", 84.0, "rosa") for day in (17, 18, 19, 20) for _ in range(3)]
    >>> kept(shown, lifts[:6]).lower, kept(shown, lifts).lower
    (None, True)

    References: two means beside each other, the rule of the third day by simulation.
    """
    if not lifts:
        return None
    not_negative("variance", promise.variance)
    not_negative("variance", promise.between)
    n = len(lifts)
    days = Counter(lift.day for lift in lifts)
    alike = sum((count / n) ** 2 for count in days.values())
    variance = (
        promise.variance
        + promise.spread**2 / n
        + promise.between * (alike + 1 / max(1, promise.batches))
        + _reader_variance(promise.readers, [lift.reader for lift in lifts])
    )
    least = promise.centre - normal_quantile(1 - WRONG) * math.sqrt(variance)
    read = sum(on_scale(lift.percent) for lift in lifts) / n
    return KeptPromise(
        lifts=n,
        days=len(days),
        mean=sum(lift.percent for lift in lifts) / n,
        least=percent_of(least),
        lower=read < least if len(days) >= FIRST_DAY else None,
    )


def one_tile(promise: Promise, reader: str = "") -> tuple[float, float]:
    """Between which contacts 19 of 20 single tiles of a method lie, by its trial [percent].

    centre +- z sqrt(V + s^2 + b (1 + 1/B) + r^2 sum_r (w_r - v_r)^2), symbols as in `kept`

    Parameters: reader: who reads the tile, "" for somebody else than in the trial.

    >>> low, high = one_tile(Promise(centre=2.63, variance=0.04, spread=0.45, between=0.09, readers=("rosa",)), "rosa")
    >>> round(low, 1), round(high, 1)
    (80.7, 99.9)
    """
    variance = (
        promise.variance
        + promise.spread**2
        + promise.between * (1 + 1 / max(1, promise.batches))
        + _reader_variance(promise.readers, [reader])
    )
    reach = normal_quantile((1 + OF_TILES) / 2) * math.sqrt(variance)
    return percent_of(promise.centre - reach), percent_of(promise.centre + reach)


def _reader_variance(trial: Sequence[str], lifts: Sequence[str]) -> float:
    """What readers who are not the same add, by their shares of the trial and of the lifts."""
    then, now = Counter(trial), Counter(lifts)
    shares = (now[reader] / len(lifts) - (then[reader] / len(trial) if trial else 0.0) for reader in {*then, *now})
    return READER_SPREAD**2 * sum(share**2 for share in shares)
