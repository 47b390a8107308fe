"""What was asked beforehand: what a part adds, over all pairs of combinations that differ in it alone.

Pairs are of samples: the first of the one with the first of the other, and so on. From six pairs on every sign is
flipped, which assumes nothing but the order that was drawn: batch and age are not taken off, since what is estimated of
them would tie the pairs to one another (so 8 of 100 questions found what was not there). With fewer no flip can
convince, and Student's t does.
Two combinations are compared by the model, and so are mortars: each has batches of its own, which no pair shares.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, TypeAlias

import numpy as np

from fieldassist.trade.contact import t_above, t_quantile
from fieldassist.trial.draws import DRAWS, LIMIT, MORE_DRAWS, close, dice, errors
from fieldassist.trial.model import Gain
from fieldassist.trial.model_fit import Array, Fit, Prior, Whole, mean_percents

# So few pairs are flipped; up to so many in every way there is.
LEAST_FLIPPED = 6
ALL_WAYS = 16
# Readings come in steps: differences of pairs that are all alike still spread so much on the scale (5 points at 75).
_LEAST_SPREAD = 0.1
_AT_ONCE = 10_000

Pairs: TypeAlias = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class _Shift:
    """A gain on the scale: its size, 95 % interval and p."""

    size: float
    low: float
    high: float
    p: float


def gain(fitted: Fit, prior: Prior, part: str, pairs: Pairs, seed: str, may_rank: bool, draws: int = DRAWS) -> Gain:
    """What a planned question found.

    part: what it asks about, "" for two combinations; pairs: planned ones, of which those count that were sampled on
    both sides; may_rank: whether the trial is large enough for what the model says of combinations.
    """
    seen = [pair for pair in pairs if pair[0] in fitted.letters and pair[1] in fitted.letters]
    places = np.array([[fitted.letters.index(letter) for letter in pair] for pair in seen], dtype=np.int64).reshape(
        -1, 2
    )
    first, second = places[:, 0], places[:, 1]
    differences = _sample_pairs(fitted, places)
    fewest = int(fitted.counts[places].min()) if seen else 0
    by: Literal["t on pairs", "sign flip", "contrast"]
    if len(seen) == 1 or part == "mortar":
        by = "contrast"
        shift = _contrast(fitted, prior, first, second, seed, draws)
        claim = may_rank and fewest >= 3
    elif len(differences) >= LEAST_FLIPPED:
        by = "sign flip"
        shift = flipped(differences, seed, draws)
        claim = True
    else:
        by = "t on pairs"
        shift = by_t(differences)
        claim = fewest >= 2
    level, spread = fitted.means[first], np.sqrt(fitted.own_variances(prior))
    ends = [_points(level, spread[first], one) for one in (shift.size, shift.low, shift.high)]
    each = mean_percents(fitted.means[second], spread[second]) - mean_percents(level, spread[first])
    return Gain(
        part=part,
        pairs=tuple(seen),
        points=ends[0],
        low=ends[1],
        high=ends[2],
        p=shift.p,
        by=by,
        each=tuple(each.tolist()),
        found=shift.p < LIMIT if claim else None,
    )


def _points(level: Array, spread: Array, shift: float) -> float:
    """What a shift on the scale is worth at these levels, on average [points]."""
    if not len(level):
        return float(np.clip(shift, -1, 1) * 100)
    return float((mean_percents(level + shift, spread) - mean_percents(level, spread)).mean())


def _sample_pairs(fitted: Fit, places: Whole) -> Array:
    """The differences of pairs of samples: the first with the first and so on."""
    differences: list[float] = []
    for one, other in places.tolist():
        ours, theirs = (fitted.y[fitted.which == side] for side in (one, other))
        both = min(len(ours), len(theirs))
        differences += (theirs[:both] - ours[:both]).tolist()
    return np.array(differences)


def by_t(differences: Array) -> _Shift:
    """Student's t on the differences of pairs; of fewer than two nothing is known."""
    n = len(differences)
    if n < 2:
        return _Shift(float(differences.sum()), -np.inf, np.inf, 1.0)
    mean = float(differences.mean())
    error = max(float(differences.std(ddof=1)), _LEAST_SPREAD) / np.sqrt(n)
    reach = float(t_quantile(1 - LIMIT / 2, n - 1) * error)
    return _Shift(mean, mean - reach, mean + reach, 2 * t_above(abs(mean) / error, n - 1))


def flipped(differences: Array, seed: str, draws: int = DRAWS) -> _Shift:
    """The exact test of flipped signs, and the interval of shifts that it does not reject.

    Flipping some of the differences moves their sum by twice the sum of these. A shift is rejected from below where too
    few of the means of some differences lie under it, so the ends of the interval are among those means (Hartigan 1969,
    from memory). More than `ALL_WAYS` pairs are flipped in ways that are drawn.
    """
    total = float(differences.sum())
    sums, sizes = _some_of(differences, seed, draws)
    count = len(sums) + 1  # and the way that nothing is flipped
    exceeds = 1 + int((np.abs(total - 2 * sums) >= abs(total) - 1e-9).sum())
    means = np.sort(sums / sizes)
    place = int(np.floor(LIMIT / 2 * count - 1 + 1e-9))
    return _Shift(total / len(differences), float(means[place]), float(means[-1 - place]), exceeds / count)


def _some_of(differences: Array, seed: str, draws: int) -> tuple[Array, Array]:
    """The sums, and how many each is of, of some of the differences, one at least: of all choices, or of drawn ones."""
    n = len(differences)
    if n <= ALL_WAYS:
        sums, sizes = np.zeros(1), np.zeros(1)
        for one in differences:
            sums, sizes = np.concatenate([sums, sums + one]), np.concatenate([sizes, sizes + 1])
        return sums[1:], sizes[1:]
    drawn = dice(seed, "flips")
    total = float(differences.sum())
    sums, sizes = np.zeros(0), np.zeros(0)
    while len(sums) < draws or (len(sums) < MORE_DRAWS * draws and _is_close(sums, total)):
        chosen = drawn.random_sample((min(_AT_ONCE, draws), n)) < 0.5
        chosen = chosen[chosen.any(axis=1)]
        sums = np.concatenate([sums, chosen @ differences])
        sizes = np.concatenate([sizes, chosen.sum(axis=1)])
    return sums, sizes


def _is_close(sums: Array, total: float) -> bool:
    return close(float((np.abs(total - 2 * sums) >= abs(total) - 1e-9).mean()))


def _contrast(fitted: Fit, prior: Prior, first: Whole, second: Whole, seed: str, draws: int) -> _Shift:
    """The mean difference of combinations by the model, its t from draws."""
    weights = np.zeros(len(fitted.letters))
    np.add.at(weights, second, 1 / len(second))
    np.subtract.at(weights, first, 1 / len(first))
    size = float(weights @ fitted.means)
    covariance = fitted.covariance(fitted.own_variances(prior, safe=True))
    error = float(np.sqrt(max(float(weights @ covariance @ weights), 1e-12)))
    drawn, t = dice(seed, f"contrast {first.tolist()} {second.tolist()}"), np.zeros(0)
    while len(t) < draws or (len(t) < MORE_DRAWS * draws and close(float((t >= abs(size) / error).mean()))):
        err = errors(fitted, prior, drawn, min(_AT_ONCE, draws), safe=True)[0]
        t = np.concatenate([t, np.abs(err @ weights) / error])
    reach = float(np.quantile(t, 1 - LIMIT)) * error
    p = float((1 + (t >= abs(size) / error).sum()) / (1 + len(t)))
    return _Shift(size, size - reach, size + reach, p)
