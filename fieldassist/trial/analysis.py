"""What the samples of a trial say: means, differences, who may be the best, and the chance of the next tile.

Methods, sizes of what is assumed and the least that a claim needs were chosen by simulation of worlds that differ from
the model (`tests.simulate_trials` counts them again): readings bounded by 100, few repeats, spreads that differ,
batches and ageing mortar. Everything is "as these readers read it, with this mortar, these hands and these batches": a
bias that both readers share cannot be seen in their readings.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from fieldassist.trade.contact import normal_below, normal_quantile, on_scale
from fieldassist.trial.draws import DRAWS, LIMIT, Tests, dice, drawn_together, errors, tests
from fieldassist.trial.gains import gain
from fieldassist.trial.model import Analysis, Chance, Claim, Design, Difference, Estimate, Gain, Sample
from fieldassist.trial.model_fit import (
    Array,
    Fit,
    Prior,
    counting,
    fit,
    mean_percents,
    percents,
    reading_spread,
)

# No combination is called better than another one with fewer samples of each, or on fewer residual degrees of freedom.
LEAST_REPEATS = 3
LEAST_DF = 8
# A spread found over this may make intervals too narrow while samples are few, on the scale of contact.
WIDE = 0.7
# Means within so many points of the best one's are as good.
NEAR_POINTS = 2.0
# Readings come in steps: one that is told as the limit may stand for a little less [points].
HALF_STEP = 0.25
# Near the top the model's shape decides, and few samples cannot tell it.
HIGH_LIMIT = 95.0
REPEATS_AT_HIGH = 5
# The difference that more repeats are reckoned for [percent], how often it shall show, and the most that is advised.
WORTH_FINDING = (90.0, 95.0)
POWER = 0.8
MOST_MORE = 20

_Z = np.linspace(-8, 8, 6401)
_BELOW = np.array([normal_below(z) for z in _Z.tolist()])

_STEPS: tuple[tuple[float, Chance], ...] = (
    (0.1, "under 1 in 10"),
    (0.375, "about 1 in 4"),
    (0.625, "about half"),
    (0.9, "about 3 in 4"),
    (math.inf, "9 in 10 or better"),
)


def analyse(
    samples: Sequence[Sample], design: Design, seed: str, draws: int = DRAWS, prior: Prior | None = None
) -> Analysis:
    """All that a trial says.

    samples: of the trial, spoiled and unread ones too, in any order; seed: the head of the record that the order was
    drawn from; draws: how many; prior: what is assumed, the house's where none is given.
    """
    prior = prior or Prior()
    counted = counting(samples, design.letters)
    if not counted:
        return _nothing(design, prior)
    fitted = fit(counted, design.letters, prior)
    claim = _claim(fitted)
    err, spreads = errors(fitted, prior, dice(seed, "means"), draws)
    means = mean_percents(fitted.means + err, spreads)
    tested = [place for place in range(len(fitted.letters)) if fitted.counts[place] > 1]
    eligible = [place for place in tested if fitted.letters[place] in design.eligible]
    found = tests(fitted, prior, tested, eligible, seed, draws)
    differences = _differences(fitted, means, found, claim)
    estimates = _in_the_running(_estimates(samples, design, fitted, prior, means), found, claim)
    if claim == "ranks":
        estimates = [_ranked(one, estimates, differences) for one in estimates]
        estimates = _with_chances(estimates, design, fitted, *drawn_together(fitted, prior, seed, draws))
    contenders = tuple(one.letter for one in estimates if one.contender)
    return Analysis(
        estimates=tuple(estimates),
        differences=differences,
        ties=_ties([one.letter for one in estimates], differences),
        best=next((one.letter for one in estimates if one.eligible and one.samples), None),
        contenders=contenders,
        gains=tuple(
            gain(fitted, prior, part, pairs, seed, claim == "ranks", draws)
            for part, pairs in zip(_parts_of(design), design.pairs, strict=True)
        ),
        claim=claim,
        df=fitted.df,
        spread=math.sqrt(fitted.common_variance(prior)),
        prior_spread=prior.spread,
        wide=fitted.df > 0 and math.sqrt(fitted.squares / fitted.df) > WIDE,
        batch_sd=fitted.batch_sd,
        age_per_h=fitted.age_per_h,
        readers=len({reading.reader for one in counted for reading in one.readings}),
        more=_more([int(fitted.counts[fitted.letters.index(one)]) for one in contenders], fitted, prior),
        reading_spread=reading_spread(counted),
    )


def _parts_of(design: Design) -> tuple[str, ...]:
    """The part of each planned question."""
    return design.part_of or ("",) * len(design.pairs)


def _nothing(design: Design, prior: Prior) -> Analysis:
    """What a trial says before anything was read."""
    return Analysis(
        estimates=tuple(Estimate(letter, 0, eligible=letter in design.eligible) for letter in design.letters),
        differences=(),
        ties=(),
        best=None,
        contenders=(),
        gains=tuple(Gain(part, (), 0.0, -100.0, 100.0, 1.0, "t on pairs", (), None) for part in _parts_of(design)),
        claim="pictures",
        df=0,
        spread=prior.spread,
        prior_spread=prior.spread,
        wide=False,
        batch_sd=prior.batch,
        age_per_h=0.0,
        readers=0,
        more=0,
    )


def _claim(fitted: Fit) -> Claim:
    """How much may be said: ranks from three of most combinations on, if their residual is not too thin."""
    enough = int((fitted.counts >= LEAST_REPEATS).sum())
    if fitted.df >= LEAST_DF and 2 * enough >= len(fitted.counts):
        return "ranks"
    return "intervals" if fitted.counts.max() > 1 else "pictures"


def _estimates(samples: Sequence[Sample], design: Design, fitted: Fit, prior: Prior, means: Array) -> list[Estimate]:
    """Means and intervals, the highest mean first, those without a sample last."""
    variances = fitted.own_variances(prior)
    covariance = fitted.covariance(variances)
    found = []
    for letter in design.letters:
        bare = Estimate(letter, 0, eligible=letter in design.eligible, bed_mm=_bed(samples, letter))
        place = fitted.index(letter)
        if place is None:
            found.append(bare)
            continue
        count, centre = int(fitted.counts[place]), float(fitted.means[place])
        low, mean, high = (float(one) for one in np.quantile(means[:, place], (LIMIT / 2, 0.5, 1 - LIMIT / 2)))
        found.append(
            replace(
                bare,
                samples=count,
                mean=mean if count > 1 else float(percents(centre)),
                low=low if count > 1 else None,
                high=high if count > 1 else None,
                centre=centre,
                variance=float(covariance[place, place]),
                spread=math.sqrt(variances[place]),
            )
        )
    return sorted(found, key=lambda one: -math.inf if one.mean is None else one.mean, reverse=True)


def _bed(samples: Sequence[Sample], letter: str) -> float | None:
    """The mean bed of a combination's samples, by gauge, else by mass [mm]."""
    of_each = [
        sum(one.bed_mm) / len(one.bed_mm) if one.bed_mm else one.by_mass_mm
        for one in samples
        if one.letter == letter and one.spoiled is None
    ]
    known = [bed for bed in of_each if bed is not None]
    return sum(known) / len(known) if known else None


def _in_the_running(estimates: list[Estimate], found: Tests, claim: Claim) -> list[Estimate]:
    """With who may still be the best of those that are eligible: one sample alone puts nobody out."""
    if claim == "pictures":
        return estimates
    out = {letter for letter, p in found.behind.items() if p < LIMIT}
    return [replace(one, contender=one.letter not in out) if one.eligible and one.samples else one for one in estimates]


def _differences(fitted: Fit, means: Array, found: Tests, claim: Claim) -> tuple[Difference, ...]:
    """All pairs of which both were sampled more than once, in points."""
    told = []
    middle = np.median(means, axis=0)
    for one, other, p, wider in zip(found.one, found.other, found.p, found.wider, strict=True):
        better, worse = (one, other) if middle[one] >= middle[other] else (other, one)
        low, high = np.quantile(means[:, better] - means[:, worse], (LIMIT / 2, 1 - LIMIT / 2))
        points = float(middle[better] - middle[worse])
        fewest = min(fitted.counts[better], fitted.counts[worse])
        told.append(
            Difference(
                fitted.letters[better],
                fitted.letters[worse],
                points,
                max(-100.0, points - float(points - low) * float(wider)),
                min(100.0, points + float(high - points) * float(wider)),
                float(p),
                bool(p < LIMIT) if claim == "ranks" and fewest >= LEAST_REPEATS else None,
            )
        )
    return tuple(told)


def _ranked(one: Estimate, all_of_them: Sequence[Estimate], differences: Sequence[Difference]) -> Estimate:
    """With its rank as a range: behind those that are surely better, before those that are surely worse."""
    if one.samples < LEAST_REPEATS:
        return one
    run = sum(each.samples > 0 for each in all_of_them)
    better = sum(each.worse == one.letter and each.differs is True for each in differences)
    worse = sum(each.better == one.letter and each.differs is True for each in differences)
    return replace(one, first=1 + better, last=run - worse)


def _ties(letters: Sequence[str], differences: Sequence[Difference]) -> tuple[tuple[str, ...], ...]:
    """Groups of letters none of which can be told apart from another one, as large as they go, in their order."""
    alike: dict[str, set[str]] = {letter: set() for letter in letters}
    for each in differences:
        if each.differs is False:
            alike[each.better].add(each.worse)
            alike[each.worse].add(each.better)
    groups: list[tuple[str, ...]] = []

    def grow(group: tuple[str, ...], may: list[str], done: set[str]) -> None:
        # Bron and Kerbosch 1973: every group that nothing can be added to, once.
        if not may and not done:
            groups.append(group)
        for index, one in enumerate(may):
            gone = done | set(may[:index])
            grow((*group, one), [other for other in may[index + 1 :] if other in alike[one]], gone & alike[one])

    for index, letter in enumerate(letters):
        grow(
            (letter,),
            [other for other in letters[index + 1 :] if other in alike[letter]],
            alike[letter] & set(letters[:index]),
        )
    return tuple(group for group in groups if len(group) > 1)


def _with_chances(
    estimates: list[Estimate], design: Design, fitted: Fit, drawn: Array, spreads: Array
) -> list[Estimate]:
    """With the chance that the next tile meets the requirement, and that the mean is as good as the best one's.

    drawn, spreads: means drawn to their common one, and spreads (`draws.drawn_together`).
    """
    passes = _below((drawn - on_scale(max(0.0, design.requirement - HALF_STEP))) / spreads).mean(axis=0)
    percent = mean_percents(drawn, spreads)
    rivals = [index for index, letter in enumerate(fitted.letters) if letter in design.eligible]
    near = (percent >= percent[:, rivals].max(axis=1, keepdims=True) - NEAR_POINTS).mean(axis=0) if rivals else passes
    told_ = []
    for one in estimates:
        place = fitted.index(one.letter)
        if place is not None and one.samples >= LEAST_REPEATS:
            chance = float(passes[place])
            one = replace(
                one,
                passes=chance,
                chance=told(chance, one.samples, design.requirement),
                near_best=float(near[place]) if one.eligible else None,
            )
        told_.append(one)
    return told_


def _below(z: Array) -> Array:
    """The share of the standard normal distribution below each figure, to 1e-6: from a fine table."""
    return np.asarray(np.interp(z, _Z, _BELOW))


def told(passes: float, samples: int, requirement: float) -> Chance:
    """A chance as it is told: in steps, and near the top never as the highest one on few samples."""
    step = next(words for under, words in _STEPS if passes < under)
    if step == _STEPS[-1][1] and requirement >= HIGH_LIMIT and samples < REPEATS_AT_HIGH:
        return _STEPS[-2][1]
    return step


def _more(counts: Sequence[int], fitted: Fit, prior: Prior) -> int | None:
    """How many more repeats of each contender would show a difference like 90 against 95, if that is all that is asked.

    n = 2 (q + 0.84)^2 s^2/D^2 for 4 trials in 5: D the difference on the scale, q what the largest of all pairs of so
    many means exceeds 1 time in 20. None where over `MOST_MORE` would be needed.
    """
    if len(counts) < 2:
        return 0
    apart = on_scale(WORTH_FINDING[1]) - on_scale(WORTH_FINDING[0])
    q = largest_of_pairs(len(counts))
    needed = 2 * (q + normal_quantile(POWER)) ** 2 * fitted.common_variance(prior) / apart**2
    more = max(0, math.ceil(needed) - min(counts))
    return more if more <= MOST_MORE else None


def largest_of_pairs(means: int) -> float:
    """What the largest |z| of all pairs of so many means exceeds 1 time in 20, all being alike.

    The studentized range over the square root of 2, by its integral: range R of n normals,
    P(R <= r) = n times the mean of (Phi(z + r) - Phi(z))^(n - 1).
    """
    z = np.linspace(-8, 8, 1601)
    density = np.exp(-z * z / 2) / math.sqrt(2 * math.pi) * (z[1] - z[0])
    below = _below(z)
    low, high = 0.0, 16.0
    for _ in range(40):
        middle = (low + high) / 2
        inside = means * float((density * (_below(z + middle) - below) ** (means - 1)).sum())
        low, high = (middle, high) if inside < 1 - LIMIT else (low, middle)
    return low / math.sqrt(2)
