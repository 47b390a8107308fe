"""The model of a trial: what its samples say of each combination, of batches and of the mortar's age.

y = combination + batch + age x b + e, by least squares, on the scale of `trade.contact`. y is the mean of a sample's
readings there; batches sum to zero over the samples, and age is told from its mean, so that a combination's mean is
that in the trial's own batches at the trial's own ages. Batches that share no combination (each mortar has its own)
cannot be compared through one: what lies between them is taken as drawn anew for each.

The spread of samples is drawn to what was assumed of it beforehand, that of each combination to the common one: with
two to five samples their own spread is hardly known. Sizes of these assumptions were chosen by simulation.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from fieldassist.trade.contact import OFFSET, on_scale
from fieldassist.trial.model import Sample

Array: TypeAlias = npt.NDArray[np.float64]
Whole: TypeAlias = npt.NDArray[np.int64]

# The mean of a bent function over a normal distribution, by nine points (Gauss and Hermite).
_POINTS, _WEIGHTS = np.polynomial.hermite.hermgauss(9)


@dataclass(frozen=True, slots=True)
class Prior:
    """What is assumed before a trial, on the scale of contact.

    spread: of samples of one combination, worth `weight` degrees of freedom; own: how many the common spread is worth
    beside a combination's own; batch: between batches, worth batch_weight; reader: between readers; reading: of one
    reader's readings.
    """

    spread: float = 0.45
    weight: float = 5.0
    own: float = 20.0
    batch: float = 0.3
    batch_weight: float = 3.0
    reader: float = 0.25
    reading: float = 0.3


@dataclass(frozen=True, slots=True)
class Fit:
    """The model fitted to N samples of k combinations.

    letters: of the k; counts: samples of each, (k,); means: (k,); weights: the means are weights @ y, (k, N); which:
    the combination of each sample, (N,); y: its value, (N,); df: residual degrees of freedom; squares:
    sum of squared residuals, own_squares: of each combination, (k,); part: which combinations share batches, (k,), from
    0; doubt: what the batches' variance weighs in each part's level, nothing where there is one part; batch_df,
    batch_sd: between batches; age_per_h: the change with an hour of the mortar's age.
    """

    letters: tuple[str, ...]
    counts: Whole
    means: Array
    weights: Array
    which: Whole
    y: Array
    df: int
    squares: float
    own_squares: Array
    part: Whole
    doubt: Array
    batch_df: float
    batch_sd: float
    age_per_h: float

    def index(self, letter: str) -> int | None:
        """The place of a letter, None where it has no sample."""
        return self.letters.index(letter) if letter in self.letters else None

    def common_variance(self, prior: Prior, safe: bool = False) -> float:
        """The variance of samples; safe: not drawn to what was assumed where the samples spread wider, for tests."""
        drawn = (prior.weight * prior.spread**2 + self.squares) / (prior.weight + self.df)
        return float(max(drawn, self.squares / self.df) if safe and self.df else drawn)

    def own_df(self, prior: Prior) -> Array:
        """How many degrees of freedom each combination's spread rests on, (k,)."""
        return np.asarray(prior.own + self.counts * (self.df / len(self.which)))

    def own_variances(self, prior: Prior, safe: bool = False) -> Array:
        """The variance of samples of each combination, (k,)."""
        together = prior.own * self.common_variance(prior, safe) + self.own_squares
        return np.asarray(together / self.own_df(prior))

    def covariance(self, variances: Array) -> Array:
        """The covariance of the means where samples of each combination have these variances, (k, k)."""
        between = np.where(self.part[:, None] == self.part, self.doubt[self.part][:, None], 0) * self.batch_sd**2
        return np.asarray((self.weights * variances[self.which]) @ self.weights.T + between)


def percents(y: Array | float) -> Array:
    """Contact at places of the scale [percent]: `trade.contact.percent_of` for many."""
    return np.asarray(np.clip((100 + 2 * OFFSET) / (1 + np.exp(-np.asarray(y, dtype=float))) - OFFSET, 0.0, 100.0))


def mean_percents(centres: Array, spreads: Array) -> Array:
    """The mean contact of samples that spread about places of the scale [percent]; arrays of one shape."""
    total = np.zeros(np.broadcast_shapes(np.shape(centres), np.shape(spreads)))
    for point, weight in zip(_POINTS, _WEIGHTS, strict=True):
        total += weight * percents(centres + np.sqrt(2) * point * spreads)
    return np.asarray(total / np.sqrt(np.pi))


def counting(samples: Sequence[Sample], letters: Sequence[str]) -> list[Sample]:
    """The samples that take part, in the order in which they were made."""
    return sorted((one for one in samples if one.counts and one.letter in letters), key=lambda one: one.number)


def reader_levels(samples: Sequence[Sample], prior: Prior) -> dict[str, float]:
    """How much higher or lower than the others each reader reads, from the samples that several read.

    On the scale; drawn to none as far as few samples tell (ridge with what is assumed of readers); sums to zero.
    """
    readers = sorted({reading.reader for one in samples for reading in one.readings})
    normal = np.eye(len(readers)) / prior.reader**2
    right = np.zeros(len(readers))
    for one in samples:
        row = np.zeros((len(one.readings), len(readers)))
        row[range(len(one.readings)), [readers.index(reading.reader) for reading in one.readings]] = 1
        row -= row.mean(axis=0)
        normal += row.T @ row / prior.reading**2
        right += row.T @ np.array([on_scale(reading.percent) for reading in one.readings]) / prior.reading**2
    levels = np.linalg.solve(normal, right) if readers else right
    return {reader: float(level) for reader, level in zip(readers, levels - levels.mean(), strict=True)}


def values_of(samples: Sequence[Sample], prior: Prior) -> Array:
    """Each sample's mean reading on the scale, (N,), as all readers together would have read it."""
    levels = reader_levels(samples, prior)
    read = [[on_scale(each.percent) - levels[each.reader] for each in one.readings] for one in samples]
    return np.array([sum(of_one) / len(of_one) for of_one in read])


def reading_spread(samples: Sequence[Sample]) -> float | None:
    """How much one reader's readings spread about the sample, on the scale: from what several read of the same one.

    The readers' own levels are taken out. None where fewer than three such samples tell.
    """
    shared = [one for one in samples if len(one.readings) > 1]
    readers = {reading.reader for one in shared for reading in one.readings}
    df = sum(len(one.readings) - 1 for one in shared) - (len(readers) - 1)
    if df < 2:
        return None
    apart = [np.array([on_scale(each.percent) for each in one.readings]) for one in shared]
    left = np.concatenate([of_one - of_one.mean() for of_one in apart])
    who = np.array(
        [[each.reader == name for name in sorted(readers)] for one in shared for each in one.readings], float
    )
    sizes = [len(one.readings) for one in shared]
    who -= np.repeat([block.mean(axis=0) for block in np.split(who, np.cumsum(sizes)[:-1])], sizes, axis=0)
    left = left - who @ (np.linalg.pinv(who) @ left)
    return float(np.sqrt(left @ left / df))


def fit(samples: Sequence[Sample], letters: Sequence[str], prior: Prior) -> Fit:
    """Fit the model to the samples that count (`counting`), one at least, of these combinations."""
    seen = tuple(letter for letter in letters if any(one.letter == letter for one in samples))
    y = values_of(samples, prior)
    which = np.array([seen.index(one.letter) for one in samples])
    batches = sorted({one.batch for one in samples})
    batch = np.array([batches.index(one.batch) for one in samples])
    part = _parts(which, batch, len(seen))
    dummies = _batch_columns(batch, part[which], len(batches))
    whole = np.column_stack([which[:, None] == np.arange(len(seen)), dummies]).astype(float)
    age = np.array([one.age_min / 60 for one in samples])
    with_age = np.column_stack([whole, age - age.mean()])
    # Where age cannot be told from combination and batch it stays out: too few samples, or all of one age.
    aged = bool(np.linalg.matrix_rank(with_age) > np.linalg.matrix_rank(whole))
    whole = with_age if aged else whole
    inverse = np.linalg.pinv(whole)
    found = inverse @ y
    df = len(y) - int(np.linalg.matrix_rank(whole))
    # A model that fits every sample leaves rounding alone.
    squared = (y - whole @ found) ** 2 if df else np.zeros(len(y))
    doubt = _doubt(batch, part[which], int(part.max()) + 1)
    fitted = Fit(
        letters=seen,
        counts=np.bincount(which, minlength=len(seen)),
        means=found[: len(seen)],
        weights=inverse[: len(seen)],
        which=which,
        y=y,
        df=df,
        squares=float(squared.sum()),
        own_squares=np.bincount(which, weights=squared, minlength=len(seen)).astype(float),
        part=part,
        doubt=doubt,
        batch_df=prior.batch_weight + len(batches) - len(doubt),
        batch_sd=prior.batch,
        age_per_h=float(found[-1]) if aged else 0.0,
    )
    # The effect of each batch is the weights of its first sample's row times y.
    first = [int(np.flatnonzero(batch == one)[0]) for one in range(len(batches))]
    rows = dummies[first] @ inverse[len(seen) : len(seen) + dummies.shape[1]]
    by_chance = fitted.common_variance(prior) * float((rows**2).sum())
    between = max(0.0, float(((rows @ y) ** 2).sum()) - by_chance)
    variance = (prior.batch_weight * prior.batch**2 + between) / fitted.batch_df
    return replace(fitted, batch_sd=float(np.sqrt(variance)))


def _parts(which: Whole, batch: Whole, letters: int) -> Whole:
    """Which combinations hang together through shared batches, (k,), numbered from 0."""
    part = np.arange(letters)
    for _ in range(letters):
        for one in set(batch.tolist()):
            together = which[batch == one]
            part[together] = part[together].min()
    return np.unique(part, return_inverse=True)[1].astype(np.int64)


def _batch_columns(batch: Whole, part: Whole, batches: int) -> Array:
    """A column for each batch but the last of its part, which sums to nothing over that part's samples, (N, ...)."""
    columns = []
    for one in range(batches):
        own = part == part[batch == one][0]
        if one != batch[own].max():
            column = (batch == one).astype(float)
            columns.append(np.where(own, column - column[own].mean(), 0.0))
    return np.column_stack(columns) if columns else np.zeros((len(batch), 0))


def _doubt(batch: Whole, part: Whole, parts: int) -> Array:
    """What the variance between batches weighs in the level of each part, (parts,): nothing where there is one."""
    if parts == 1:
        return np.zeros(1)
    shares = [np.bincount(batch[part == one]) / (part == one).sum() for one in range(parts)]
    return np.array([float((share**2).sum()) for share in shares])
