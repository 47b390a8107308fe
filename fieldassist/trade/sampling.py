"""What lifted tiles prove: sample sizes, exact limits and acceptance plans.

All relations are exact (binomial, and hypergeometric for an area of counted tiles); none uses a normal
approximation. They hold for tiles drawn at random, as lifts by lot are (`what_lots_prove`). Other lifts of fresh
tile are chosen, so the figures guide and do not prove: every result on them carries that caution. Shares and
confidences are fractions from 0 to 1, not percent.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, get_args

from fieldassist.trade.basis import BASES, Basis, OutOfRange
from fieldassist.trade.checks import HAIR, counted, measured, one_of, within
from fieldassist.trade.checks import share as check_share
from fieldassist.trade.coverage import CHOSEN_NOT_DRAWN
from fieldassist.trade.message import Figure, Message, Refused, Several, message
from fieldassist.trade.quantities import Quantity

__all__ = [
    "Z14_AQLS",
    "BoundSide",
    "Interval",
    "LiftProof",
    "LiftTally",
    "LiftsNeeded",
    "LotProof",
    "SamplingPlan",
    "ZeroFailureForm",
    "accept_probability",
    "clopper_pearson",
    "hypergeometric_sample",
    "least_good_in_lot",
    "lifts_needed",
    "sample_size",
    "share_shown",
    "what_lifts_prove",
    "what_lots_prove",
    "z14_plan",
    "zero_failure_sample",
]

ZeroFailureForm = Literal["classical", "n+1"]
BoundSide = Literal["two-sided", "lower", "upper"]

# Beyond these, sums take too long for a tablet, and no crew lifts so many.
MOST_SAMPLES = 100_000
MOST_IN_LOT = 100_000


@dataclass(frozen=True, slots=True)
class Interval:
    """Exact limits for a share: low and high, both from 0 to 1."""

    low: float
    high: float


@dataclass(frozen=True, slots=True)
class LiftsNeeded:
    """How many lifts a claim takes: lifts, of which `failures` may be bad; words; caution; basis."""

    lifts: int
    failures: int
    words: Message
    caution: Message
    basis: Basis


@dataclass(frozen=True, slots=True)
class LiftProof:
    """What a number of lifts would prove, had they been drawn at random.

    share: least share of good tiles, one-sided, 0 to 1; confidence, 0 to 1; words; caution; basis.
    """

    share: float
    confidence: float
    words: Message
    caution: Message
    basis: Basis


@dataclass(frozen=True, slots=True)
class LiftTally:
    """The lifts of an area by how they came about, good and bad apart, and what nobody looked under.

    tiles: set; drawn: by lot, after the tile was in, so that nobody knew; forced: by the cap on a row without a lift;
    chosen: all others, first and last ones, those asked for, those that follow a failure, those at known places.
    row: longest row of settings that nobody looked under, and row_m2 its faces [m2]; fixed: lifts were due at known
    places.
    """

    tiles: int
    drawn_good: int = 0
    drawn_bad: int = 0
    forced_good: int = 0
    forced_bad: int = 0
    chosen_good: int = 0
    chosen_bad: int = 0
    row: int = 0
    row_m2: float = 0.0
    fixed: bool = False

    @property
    def drawn(self) -> int:
        """Lifts by lot."""
        return self.drawn_good + self.drawn_bad

    @property
    def lifted(self) -> int:
        """All lifts."""
        return self.drawn + self.forced_good + self.forced_bad + self.chosen_good + self.chosen_bad


@dataclass(frozen=True, slots=True)
class LotProof:
    """What lifts by lot prove.

    share: least share of good tiles among those under the lot, one-sided, 0 to 1; None where nothing was drawn, or
    where lifts were due at known places; confidence, 0 to 1; words: sentences, in order; basis.
    """

    share: float | None
    confidence: float
    words: tuple[Message, ...]
    basis: Basis


@dataclass(frozen=True, slots=True)
class SamplingPlan:
    """One row of an acceptance plan.

    code: letter of the row used; sample: how many to inspect; accept: greatest number of bad ones to accept;
    reject: least number to reject; everything: the sample is the whole lot; followed: an arrow led to another
    row; basis.
    """

    code: str
    sample: int
    accept: int
    reject: int
    everything: bool
    followed: bool
    basis: Basis


def _percent_down(share: float) -> Quantity:
    # Rounded down: a claim must not grow by rounding.
    return Quantity(Fraction(math.floor(share * 1000 + HAIR), 10), "percent")


def _percent_whole(share: float) -> Quantity:
    # Of so few lifts a tenth of a percent is no knowledge.
    return Quantity(Fraction(math.floor(share * 100 + HAIR)), "percent")


def _percent(share: float) -> Figure:
    return measured(round(share * 100, 9), "percent")


def _binomial_sum(low: int, high: int, n: int, p: float) -> float:
    """P(low <= X <= high) for X of n trials with probability p each."""
    if p <= 0 or p >= 1:
        sure = 0 if p <= 0 else n
        return 1.0 if low <= sure <= high else 0.0
    if n <= 1000:
        q = 1 - p
        return min(1.0, math.fsum(math.comb(n, k) * p**k * q ** (n - k) for k in range(low, high + 1)))
    log_p, log_q, top = math.log(p), math.log1p(-p), math.lgamma(n + 1)
    return min(
        1.0,
        math.fsum(
            math.exp(top - math.lgamma(k + 1) - math.lgamma(n - k + 1) + k * log_p + (n - k) * log_q)
            for k in range(low, high + 1)
        ),
    )


def _hypergeometric_at_most(accept: int, lot: int, bad: int, n: int) -> float:
    """P(at most `accept` bad among n drawn of a lot).

    Up to 2000 in whole numbers to the one division, beyond in logarithms, which is quicker and good to 1e-9.
    """
    low, high = max(0, n - (lot - bad)), min(accept, bad, n)
    if lot <= 2000:
        ways = sum(math.comb(bad, k) * math.comb(lot - bad, n - k) for k in range(low, high + 1))
        return ways / math.comb(lot, n)
    total = _log_comb(lot, n)
    return min(
        1.0,
        math.fsum(math.exp(_log_comb(bad, k) + _log_comb(lot - bad, n - k) - total) for k in range(low, high + 1)),
    )


def _log_comb(n: int, k: int) -> float:
    return math.lgamma(n + 1) - math.lgamma(k + 1) - math.lgamma(n - k + 1)


def _least(holds: Callable[[int], bool], low: int, high: int) -> int:
    """The least whole number in [low, high] for which `holds`, which stays true from there on."""
    while low < high:
        middle = (low + high) // 2
        if holds(middle):
            high = middle
        else:
            low = middle + 1
    return low


def zero_failure_sample(confidence: float, share: float, form: ZeroFailureForm = "classical") -> int:
    """How many samples, all good, show that a share of all is good.

    classical: n = ceil(ln(1 - C) / ln R); n+1 (uniform prior): n = ceil(ln(1 - C) / ln R - 1).

    Parameters: confidence, C; share, R, both between 0 and 1; form. Result: n.
    Errors: `Refused` outside these; `OutOfRange` beyond 100 000.

    >>> zero_failure_sample(0.95, 0.90), zero_failure_sample(0.95, 0.90, "n+1")
    (29, 28)

    References: success-run theorem; both forms are in use and differ by one.
    """
    check_share("confidence", confidence)
    check_share("share", share)
    one_of("form-of-the-success-run", form, get_args(ZeroFailureForm))
    exact = math.log1p(-confidence) / math.log(share) - (1 if form == "n+1" else 0)
    if exact > MOST_SAMPLES:
        raise OutOfRange(message("sampling-too-many-samples", samples=round(exact)))
    return max(1 if form == "classical" else 0, math.ceil(exact - HAIR))


def share_shown(n: int, confidence: float = 0.95, form: ZeroFailureForm = "classical") -> float:
    """The share that n samples, all good, show: the inverse of `zero_failure_sample`.

    classical: R = (1 - C)^(1/n); n+1: R = (1 - C)^(1/(n + 1)).

    Parameters: n, from 1 (classical) or 0 (n+1) up; confidence, C, between 0 and 1; form. Result: 0 to 1.
    Errors: `Refused` outside these.

    >>> round(share_shown(3), 3), round(share_shown(29, form="n+1"), 6)
    (0.368, 0.904966)

    References: success-run theorem.
    """
    check_share("confidence", confidence)
    one_of("form-of-the-success-run", form, get_args(ZeroFailureForm))
    counted("samples", n, 1 if form == "classical" else 0, MOST_SAMPLES)
    return float((1 - confidence) ** (1 / (n + (1 if form == "n+1" else 0))))


def sample_size(confidence: float, share: float, failures: int = 0) -> int:
    """How many samples show that a share of all is good, when up to `failures` of them may be bad.

    The least n with P(X <= c | n, 1 - R) <= 1 - C, X binomial.

    Parameters: confidence, C, and share, R, between 0 and 1; failures, c, at least 0. Result: n.
    Errors: `Refused` outside these; `OutOfRange` beyond 100 000.

    >>> [sample_size(0.95, 0.90, failures) for failures in range(5)]
    [29, 46, 61, 76, 89]

    References: binomial distribution, exact.
    """
    check_share("confidence", confidence)
    check_share("share", share)
    counted("failures", failures, 0, MOST_SAMPLES)
    if failures == 0:
        return zero_failure_sample(confidence, share)

    def shown(n: int) -> bool:
        return _binomial_sum(0, failures, n, 1 - share) <= (1 - confidence) * (1 + HAIR)

    high = max(2, 2 * (failures + 1))
    while not shown(high):
        high *= 2
        if high > MOST_SAMPLES:
            raise OutOfRange(message("sampling-too-many-samples", samples=high))
    return _least(shown, failures + 1, high)


def clopper_pearson(good: int, n: int, confidence: float = 0.95, side: BoundSide = "two-sided") -> Interval:
    """Exact limits for the share of which `good` of n samples are an observation.

    Low p: P(X >= k | n, p) = a; high p: P(X <= k | n, p) = a; a = (1 - C)/2 two-sided, 1 - C one-sided. Found
    by bisection of the binomial sum to the last digit.

    Parameters: good, k, 0 to n; n, 1 to 100 000; confidence, C, between 0 and 1; side, "lower" leaves the
    high limit at 1 and "upper" the low one at 0.
    Result: `Interval`. Errors: `Refused` and `OutOfRange` outside these.

    >>> limits = clopper_pearson(4, 20, 0.90)
    >>> round(limits.low, 6), round(limits.high, 6)
    (0.071354, 0.401028)

    References: Clopper and Pearson, Biometrika 26 (1934); NIST/SEMATECH e-Handbook 7.2.4.1 has 4 of 20 at 90
    % (recalled: .071354 and .401029).
    """
    counted("samples", n, 1, MOST_SAMPLES)
    counted("good-samples", good, 0, MOST_SAMPLES)
    if good > n:
        raise Refused(message("sampling-more-good-than-all", good=good, samples=n))
    check_share("confidence", confidence)
    one_of("side-of-the-interval", side, get_args(BoundSide))
    tail = (1 - confidence) / 2 if side == "two-sided" else 1 - confidence
    low, high = 0.0, 1.0
    if side != "upper" and good > 0:
        low = _root(lambda p: _upper_tail(good, n, p) > tail)
    if side != "lower" and good < n:
        high = 1 - _root(lambda q: _upper_tail(n - good, n, q) > tail)
    return Interval(low, high)


def _upper_tail(k: int, n: int, p: float) -> float:
    # P(X >= k), summed over whichever side has fewer terms.
    if n - k <= k:
        return _binomial_sum(k, n, n, p)
    return 1.0 - _binomial_sum(0, k - 1, n, p)


def _root(beyond: Callable[[float], bool]) -> float:
    low, high = 0.0, 1.0
    while True:
        middle = (low + high) / 2
        if middle in (low, high):
            return low
        if beyond(middle):
            high = middle
        else:
            low = middle


def hypergeometric_sample(lot: int, confidence: float, bad_share: float, failures: int = 0) -> int:
    """How many of a counted lot to draw so as to find out when a share of it is bad.

    The least n with P(X <= c | lot, D, n) <= 1 - C, D = floor(lot bad_share) and at least 1, X
    hypergeometric.

    Parameters: lot, 1 to 100 000; confidence, C, and bad_share, between 0 and 1; failures, c, at least 0.
    Result: n. Errors: `OutOfRange` when more failures are allowed than there would be bad ones; `Refused`
    outside these.

    >>> [hypergeometric_sample(lot, 0.95, 0.05) for lot in (25, 50, 100, 200, 1000)]
    [24, 39, 45, 51, 57]

    References: FAO ISPM 31 (2008) table 1, from memory and recomputed.
    """
    counted("tiles", lot, 1, MOST_IN_LOT)
    counted("failures", failures, 0, MOST_IN_LOT)
    check_share("confidence", confidence)
    check_share("share-of-bad-ones", bad_share)
    bad = max(1, math.floor(lot * bad_share + HAIR))
    if failures >= bad:
        raise OutOfRange(message("sampling-too-many-failures", bad=bad, lot=lot, failures=failures))
    return _draw_to_find(lot, confidence, bad, failures)


def _draw_to_find(lot: int, confidence: float, bad: int, failures: int) -> int:
    return _least(lambda n: _hypergeometric_at_most(failures, lot, bad, n) <= (1 - confidence) * (1 + HAIR), 1, lot)


def least_good_in_lot(good: int, drawn: int, lot: int, confidence: float = 0.95) -> int:
    """The least number of good ones in a counted lot that a draw leaves open, one-sided.

    lot - D, D the greatest number of bad ones with P(X <= x | lot, D, n) > 1 - C, x bad ones among n drawn.

    Parameters: good, 0 to drawn; drawn, n, 1 to lot; lot, up to 100 000; confidence, C, between 0 and 1.
    Result: a count, at least `good`. Errors: `Refused` and `OutOfRange` outside these.

    >>> least_good_in_lot(3, 3, 40), least_good_in_lot(40, 40, 40)
    (16, 40)

    References: hypergeometric distribution, exact; with a large lot it nears `clopper_pearson`'s lower limit.
    """
    counted("tiles", lot, 1, MOST_IN_LOT)
    counted("drawn", drawn, 1, lot)
    counted("good-samples", good, 0, drawn)
    check_share("confidence", confidence)
    found = drawn - good
    # From `found` up, the chance of finding so few falls as bad ones are added; at lot - good it is the last
    # possible.
    too_many = _least(
        lambda bad: (
            bad > lot - good or _hypergeometric_at_most(found, lot, bad, drawn) <= (1 - confidence) * (1 + HAIR)
        ),
        found,
        lot - good + 1,
    )
    return lot - (too_many - 1)


def accept_probability(n: int, accept: int, bad_share: float, lot: int | None = None) -> float:
    """The chance that a plan accepts: at most `accept` bad ones among n.

    Binomial, or hypergeometric when the lot is counted (its number of bad ones rounded to the nearest).

    Parameters: n, from 1; accept, from 0; bad_share, 0 to 1; lot, at least n, or None. Result: 0 to 1.
    Errors: `Refused` and `OutOfRange` outside these.

    >>> round(accept_probability(20, 2, 0.04), 4), round(accept_probability(5, 0, 0.1, lot=20), 4)
    (0.9561, 0.5526)

    References: binomial and hypergeometric distributions, exact.
    """
    counted("samples", n, 1, MOST_SAMPLES)
    counted("bad-ones-accepted", accept, 0, MOST_SAMPLES)
    within("share-of-bad-ones", bad_share, 0, 1)
    if lot is None:
        return _binomial_sum(0, min(accept, n), n, bad_share)
    counted("tiles", lot, 1, MOST_IN_LOT)
    if n > lot:
        raise Refused(message("sampling-more-than-the-lot", samples=n, lot=lot))
    return _hypergeometric_at_most(accept, lot, math.floor(lot * bad_share + 0.5), n)


def lifts_needed(
    confidence: float = 0.95, share: float = 0.90, failures: int = 0, lot: int | None = None
) -> LiftsNeeded:
    """How many lifts it takes to claim that a share of the tiles is good, in words.

    Parameters: confidence and share of good tiles, between 0 and 1; failures, bad lifts that may be among
    them; lot, the number of tiles in the area, or None for a large one.
    Result: `LiftsNeeded`. Errors: those of `sample_size` and `hypergeometric_sample`.

    >>> lifts_needed(0.95, 0.90).lifts, lifts_needed(0.95, 0.90).words.code
    (29, 'sampling-lifts-all-good')

    References: see `sample_size` and `hypergeometric_sample`.
    """
    if lot is None:
        lifts = sample_size(confidence, share, failures)
        basis = BASES["binomial" if failures else "success-run"]
    else:
        # One bad tile more than the claim allows is what must be found out.
        check_share("share", share)
        counted("tiles", lot, 1, MOST_IN_LOT)
        check_share("confidence", confidence)
        counted("failures", failures, 0, MOST_IN_LOT)
        bad = math.floor(lot * (1 - share) + HAIR) + 1
        if failures >= bad:
            raise OutOfRange(message("sampling-failures-over-claim", lot=lot, bad=bad - 1, failures=failures))
        lifts, basis = _draw_to_find(lot, confidence, bad, failures), BASES["hypergeometric"]
    figures: dict[str, Figure] = {
        "lifts": lifts,
        "failures": failures,
        "confidence": _percent(confidence),
        "share": _percent(share),
    }
    code = "sampling-lifts-some-bad" if failures else "sampling-lifts-all-good"
    words = message(code, **figures) if lot is None else message(f"{code}-of-lot", lot=lot, **figures)
    return LiftsNeeded(lifts, failures, words, CHOSEN_NOT_DRAWN, basis)


def what_lifts_prove(good: int, lifted: int, confidence: float = 0.95, lot: int | None = None) -> LiftProof:
    """What a number of lifts would prove about all tiles, had they been drawn at random, in plain words.

    The one-sided lower limit: Clopper-Pearson, or hypergeometric when the tiles of the area are counted.

    Parameters: good, 0 to lifted; lifted, from 1; confidence, between 0 and 1; lot, number of tiles in the
    area with those lifted, or None. Result: `LiftProof`; percentages in the words are rounded down.
    Errors: `Refused` and `OutOfRange` outside these.

    >>> proof = what_lifts_prove(3, 3)
    >>> round(proof.share, 3), proof.words.figures["least-share"].value
    (0.368, Fraction(184, 5))

    References: see `clopper_pearson` and `least_good_in_lot`. Three is the least number that ANSI A108.5
    §3.3.2 (2017) has removed for inspection.
    """
    figures: dict[str, Figure] = {"good": good, "lifted": lifted, "confidence": _percent(confidence)}
    if lot is None:
        share, basis = clopper_pearson(good, lifted, confidence, "lower").low, BASES["exact-limits"]
        words = message("sampling-lifts-show", least_share=_percent_down(share), **figures)
        return LiftProof(share, confidence, words, CHOSEN_NOT_DRAWN, basis)
    least = least_good_in_lot(good, lifted, lot, confidence)
    share, basis = least / lot, BASES["hypergeometric"]
    figures |= {"lot": lot, "least": least, "least_share": _percent_down(share)}
    if lifted == lot:
        words, caution = message("sampling-whole-area", **figures), Message("sampling-nothing-left-to-chance")
        return LiftProof(share, confidence, words, caution, basis)
    return LiftProof(share, confidence, message("sampling-lifts-show-of-lot", **figures), CHOSEN_NOT_DRAWN, basis)


def what_lots_prove(tally: LiftTally, confidence: float = 0.95) -> LotProof:
    """What the lifts of an area prove, in plain words: only those drawn by lot carry a bound.

    The one-sided lower limit of Clopper and Pearson on the lifts by lot. Forced, chosen, asked and follow-up lifts
    stand on neither side of it: who knows of a lift works for it. Lifts at known places carry none at all: where the
    setter was careful only where he knew that he was looked under, a bound on them claimed too much in nine of ten
    simulated jobs.

    Parameters: tally; confidence, between 0 and 1. Result: `LotProof`; percentages in the words are rounded down.
    Errors: `Refused` and `OutOfRange` for counts or a confidence that cannot be.

    >>> proof = what_lots_prove(LiftTally(tiles=48, drawn_good=10, chosen_good=4, row=6, row_m2=4.32))
    >>> round(proof.share, 3), [sentence.code for sentence in proof.words]
    (0.741, ['sampling-lots-lifted', 'sampling-lots-show', 'sampling-lots-row', 'sampling-lots-covered'])

    References: `clopper_pearson`; that it holds for lots with a cap, by simulation (`tests.simulate_lots`).
    """
    check_share("confidence", confidence)
    for what, count in (("drawn", tally.drawn), ("samples", tally.lifted), ("tiles", tally.tiles)):
        counted(what, count, 0, MOST_IN_LOT)
    share = clopper_pearson(tally.drawn_good, tally.drawn, confidence, "lower").low if tally.drawn else None
    if tally.fixed:
        share = None
    words = [
        message(
            "sampling-lots-lifted",
            lifted=tally.lifted,
            tiles=tally.tiles,
            drawn=tally.drawn,
            forced=tally.forced_good + tally.forced_bad,
            forced_bad=tally.forced_bad,
            chosen=tally.chosen_good + tally.chosen_bad,
            chosen_bad=tally.chosen_bad,
        )
    ]
    if share is not None:
        figures: dict[str, Figure] = {"good": tally.drawn_good, "confidence": _percent(confidence)}
        words.append(message("sampling-lots-show", least_share=_percent_whole(share), **figures))
        if tally.drawn_bad:
            words.append(message("sampling-lots-as-set", bad=tally.drawn_bad))
    else:
        words.append(Message("sampling-lots-known-places" if tally.fixed else "sampling-lots-none"))
    if tally.row:
        words.append(message("sampling-lots-row", row=tally.row, face=measured(round(tally.row_m2, 6), "m2")))
    words.append(Message("sampling-lots-covered"))
    return LotProof(share, confidence, tuple(words), BASES["exact-limits"])


# --- acceptance plans

# Greatest lot of each row at general inspection level II, its code letter and sample.
_Z14_ROWS: tuple[tuple[int, str, int], ...] = (
    (8, "A", 2),
    (15, "B", 3),
    (25, "C", 5),
    (50, "D", 8),
    (90, "E", 13),
    (150, "F", 20),
    (280, "G", 32),
    (500, "H", 50),
    (1200, "J", 80),
    (3200, "K", 125),
)
Z14_AQLS = (0.65, 1.0, 1.5, 2.5, 4.0, 6.5)
# The table is a diagonal pattern: the acceptance number depends only on how many rows a lot's row lies below
# the one that accepts none at that AQL. The steps missing from the ladder are arrows.
_Z14_ZERO_ROW: Mapping[float, int] = {0.65: 5, 1.0: 4, 1.5: 3, 2.5: 2, 4.0: 1, 6.5: 0}
_Z14_LADDER: Mapping[int, int] = {0: 0, 3: 1, 4: 2, 5: 3, 6: 5, 7: 7, 8: 10, 9: 14}
# Cells read in a reprint; the rest, and all arrows, are from memory.
_Z14_READ = frozenset(
    {(row, aql) for row in "GHJ" for aql in (2.5, 4.0, 6.5)}
    | {("D", 6.5), ("E", 4.0), ("E", 6.5), ("F", 2.5), ("F", 4.0), ("F", 6.5)}
    | {("B", 4.0), ("C", 2.5), ("D", 1.5), ("E", 1.0), ("F", 0.65)}
)


def z14_plan(lot: int, aql: float) -> SamplingPlan:
    """The single sampling plan for normal inspection, general level II.

    | lot | code | n | AQL 2.5: accept/reject | 4.0 | 6.5 |
    |---|---|---|---|---|---|
    | 2 to 8 | A | 2 | C | B | 0/1 |
    | 9 to 15 | B | 3 | C | 0/1 | A |
    | 16 to 25 | C | 5 | 0/1 | B | D |
    | 26 to 50 | D | 8 | C | E | 1/2 |
    | 51 to 90 | E | 13 | F | 1/2 | 2/3 |
    | 91 to 150 | F | 20 | 1/2 | 2/3 | 3/4 |
    | 151 to 280 | G | 32 | 2/3 | 3/4 | 5/6 |
    | 281 to 500 | H | 50 | 3/4 | 5/6 | 7/8 |
    | 501 to 1200 | J | 80 | 5/6 | 7/8 | 10/11 |
    | 1201 to 3200 | K | 125 | 7/8 | 10/11 | 14/15 |

    A letter is an arrow to that row, whose sample then counts. A sample that reaches the lot means every
    tile.

    Parameters: lot, 2 to 3200 tiles; aql, acceptable quality level [percent bad], one of 0.65, 1.0, 1.5, 2.5,
    4.0, 6.5. Result: `SamplingPlan`. Errors: `OutOfRange` outside these; `Refused` for no count.

    >>> plan = z14_plan(100, 4.0)
    >>> plan.code, plan.sample, plan.accept, plan.reject
    ('F', 20, 2, 3)

    References: MIL-STD-105E (1989) tables I and II-A, as reprinted; the same plans stand in ANSI/ASQ Z1.4 and
    ISO 2859-1. Arrows, rows A and K and cells not reprinted are from memory.
    """
    counted("tiles", lot, 2, 10**9)
    if lot > _Z14_ROWS[-1][0]:
        raise OutOfRange(message("sampling-lot-beyond-table", lot=lot, most=_Z14_ROWS[-1][0]))
    if aql not in _Z14_ZERO_ROW:
        levels = Several(tuple(f"{value:g}" for value in Z14_AQLS))
        raise OutOfRange(message("sampling-level-not-held", level=measured(aql, "percent"), levels=levels))
    start = next(index for index, row in enumerate(_Z14_ROWS) if lot <= row[0])
    zero = _Z14_ZERO_ROW[aql]
    row = start
    while row - zero not in _Z14_LADDER:
        # Above the row that accepts none all arrows point down; below it one points up and the next down.
        row += -1 if row - zero == 1 else 1
    _, code, sample = _Z14_ROWS[row]
    accept = _Z14_LADDER[row - zero]
    read = row == start and (code, aql) in _Z14_READ
    basis = BASES["acceptance-plan-read" if read else "acceptance-plan"]
    everything = sample >= lot
    return SamplingPlan(code, lot if everything else sample, accept, accept + 1, everything, row != start, basis)
