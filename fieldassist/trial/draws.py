"""What chance alone does to the means of a trial, drawn from its own design: intervals, tests and contenders.

No formula covers a trial with spoiled samples, uneven batches and combinations that spread differently; draws do. They
are seeded from the record, so that anybody comes to the same figures: by MT19937 as numpy keeps it unchanged for ever
(`RandomState`), from SHA-256 of the seed and of what is drawn.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
import numpy.typing as npt

from fieldassist.trial.model_fit import Array, Fit, Prior, Whole

# So many draws, and so many times more where a probability lies close to the limit of 1 in 20.
DRAWS = 10_000
CLOSE = (0.04, 0.06)
MORE_DRAWS = 10
LIMIT = 0.05
_AT_ONCE = 2_500


def dice(seed: str, purpose: str) -> np.random.RandomState:
    """The draws for one purpose."""
    digest = hashlib.sha256(f"{seed} {purpose}".encode()).digest()
    return np.random.RandomState(np.frombuffer(digest, dtype=">u4").astype(np.uint32))


def close(p: Array | float) -> bool:
    """Whether any of these is too near to the limit for few draws."""
    return bool(np.any((np.asarray(p) > CLOSE[0]) & (np.asarray(p) < CLOSE[1])))


def errors(
    fitted: Fit, prior: Prior, drawn: np.random.RandomState, draws: int, safe: bool = False
) -> tuple[Array, Array]:
    """Errors of the means, and spreads of the combinations, as they may be: two of (draws, k).

    The common spread is drawn by what it rests on, each combination's own about it, then every sample's error; safe: as
    `Fit.common_variance`.
    """
    df = prior.weight + fitted.df
    common = fitted.common_variance(prior, safe) * df / drawn.chisquare(df, (draws, 1))
    own_df = fitted.own_df(prior)
    spreads = np.sqrt((prior.own * common + fitted.own_squares) / drawn.chisquare(own_df, (draws, len(own_df))))
    each = drawn.standard_normal((draws, len(fitted.which)))
    err = (spreads[:, fitted.which] * each) @ fitted.weights.T
    if len(fitted.doubt) > 1:
        batch = fitted.batch_sd * np.sqrt(fitted.batch_df / drawn.chisquare(fitted.batch_df, (draws, 1)))
        level = batch * np.sqrt(fitted.doubt) * drawn.standard_normal((draws, len(fitted.doubt)))
        err += level[:, fitted.part]
    return err, spreads


@dataclass(frozen=True, slots=True)
class Tests:
    """What differs beyond noise, of P pairs of k combinations.

    one, other: the pairs, (P,), by place in the fit; p: held over all pairs, step by step, (P,); wider: how much wider
    an interval is that holds for all pairs at once than one of a pair alone, (P,); behind: of each combination that may
    be the best, by letter, how likely it lies so far behind another one if it is the best.
    """

    one: Whole
    other: Whole
    p: Array
    wider: Array
    behind: Mapping[str, float]


def tests(fitted: Fit, prior: Prior, tested: Sequence[int], eligible: Sequence[int], seed: str, draws: int) -> Tests:
    """Test all pairs, and each combination against the best of the others.

    tested: the combinations whose pairs are tested, by place; eligible: those of them that may be the best. All pairs
    by the largest |t|, stepping down (Westfall and Young 1993, Romano and Wolf 2005, from memory), contenders by
    multiple comparison with the best (Hsu 1984, from memory), both from draws of this design instead of a table.
    """
    pairs = list(combinations(tested, 2))
    one, other = (np.array([pair[side] for pair in pairs], dtype=np.int64) for side in (0, 1))
    covariance = fitted.covariance(fitted.own_variances(prior, safe=True))
    of_each = np.diag(covariance)
    error = np.sqrt(np.maximum(of_each[:, None] + of_each - 2 * covariance, 1e-12))
    running = _Counts(fitted.means, error, (one, other), [place for place in eligible if len(eligible) > 1])
    drawn = dice(seed, "differences")
    while pairs and (running.draws < draws or (running.draws < MORE_DRAWS * draws and running.any_close())):
        running.add(errors(fitted, prior, drawn, min(_AT_ONCE, draws), safe=True)[0], keep=running.draws < draws)
    behind = {fitted.letters[place]: p for place, p in running.behind().items()}
    return Tests(one, other, running.p(), running.wider(), behind)


class _Counts:
    """Draws counted as they come, few at a time: how often chance alone goes as far as was seen."""

    def __init__(self, means: Array, error: Array, pairs: tuple[Whole, Whole], eligible: Sequence[int]) -> None:
        self.one, self.other = pairs
        self.error = error[self.one, self.other]
        self.seen = np.abs(means[self.one] - means[self.other]) / self.error
        self.order = np.argsort(-self.seen, kind="stable")
        self.rivals = {place: [other for other in eligible if other != place] for place in eligible}
        self.rival_error = {place: error[place, rivals] for place, rivals in self.rivals.items()}
        self.lag = {
            place: float(((means[rivals] - means[place]) / self.rival_error[place]).max())
            for place, rivals in self.rivals.items()
        }
        self.draws = 0
        self.stepped = np.zeros(len(self.one))
        self.lagging = dict.fromkeys(self.rivals, 0)
        self.kept: list[npt.NDArray[np.float32]] = []

    def add(self, err: Array, keep: bool) -> None:
        """Count these errors of the means, (draws, k); keep: for the quantiles."""
        self.draws += len(err)
        t = np.abs(err[:, self.one] - err[:, self.other]) / self.error
        # The largest of those that are left at each step, from the last step back.
        largest = np.maximum.accumulate(t[:, self.order[::-1]], axis=1)[:, ::-1]
        self.stepped += (largest >= self.seen[self.order]).sum(axis=0)
        for place, rivals in self.rivals.items():
            lag = ((err[:, rivals] - err[:, [place]]) / self.rival_error[place]).max(axis=1)
            self.lagging[place] += int((lag >= self.lag[place]).sum())
        if keep:
            self.kept.append(t.astype(np.float32))

    def p(self) -> Array:
        """Of each pair, held over all."""
        stepped = np.empty(len(self.one))
        stepped[self.order] = np.maximum.accumulate((self.stepped + 1) / (self.draws + 1))
        return stepped

    def behind(self) -> Mapping[int, float]:
        """Of each that may be the best: how likely it lies so far behind if it is."""
        return {place: (count + 1) / (self.draws + 1) for place, count in self.lagging.items()}

    def any_close(self) -> bool:
        """Whether something is too near to the limit to be called yet."""
        return close(self.p()) or close(np.array(list(self.behind().values())))

    def wider(self) -> Array:
        """How much wider an interval is that holds for all pairs than one that holds for its own."""
        if not self.kept:
            return np.ones(len(self.one))
        kept = np.concatenate(self.kept)
        together = np.quantile(kept.max(axis=1), 1 - LIMIT)
        return np.asarray(together / np.quantile(kept, 1 - LIMIT, axis=0), dtype=float)


def drawn_together(fitted: Fit, prior: Prior, seed: str, draws: int) -> tuple[Array, Array]:
    """Means drawn to their common one, and spreads, two of (draws, k): for chances, which single means make too sure.

    mu ~ normal about a common mean, which may be anything, with a standard deviation tau that may be anything (weight
    1/(1 + tau^2)). Each draw takes a tau by how well it fits, and bends a drawn world to what was seen (Matheron's
    rule), so that nothing but a linear system is solved.
    """
    k = len(fitted.letters)
    covariance = fitted.covariance(fitted.own_variances(prior))
    drawn = dice(seed, "chances")
    err, spreads = errors(fitted, prior, drawn, draws)
    taus = np.geomspace(0.05, 3.0, 16)
    # The common mean may lie anywhere: the scale ends at 4 on either side.
    anywhere = 100.0
    worlds = [np.full((k, k), anywhere) + tau**2 * np.eye(k) for tau in taus]
    weight = (
        np.array([_log_fit(fitted.means, world + covariance) for world in worlds]) - np.log1p(taus**2) + np.log(taus)
    )
    weight = np.exp(weight - weight.max())
    weight /= weight.sum()
    which = np.searchsorted(np.cumsum(weight)[:-1], (np.arange(draws) + 0.5) / draws)
    start = np.sqrt(anywhere) * drawn.standard_normal((draws, 1)) + taus[which][:, None] * drawn.standard_normal(
        (draws, k)
    )
    apart = fitted.means - (start + err)
    means = np.empty((draws, k))
    for index, world in enumerate(worlds):
        mine = which == index
        means[mine] = start[mine] + apart[mine] @ np.linalg.solve(world + covariance, world)
    return means, spreads


def _log_fit(means: Array, covariance: Array) -> float:
    """The logarithm of how likely the means are, less a constant."""
    _, size = np.linalg.slogdet(covariance)
    return float(-0.5 * (size + means @ np.linalg.solve(covariance, means)))
