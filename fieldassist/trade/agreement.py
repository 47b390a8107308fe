"""How far two ways of measuring the same thing lie apart, of which neither is taken for the truth."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean, stdev

from fieldassist.trade.contact import normal_quantile, t_quantile

__all__ = ["LIFTS_BEFORE_A_CLAIM", "LimitsOfAgreement", "limits_of_agreement"]

# So many real lifts have to be gridded by hand before anything is claimed of what a photo tells. Ours: common
# practice, no published source.
LIFTS_BEFORE_A_CLAIM = 30


@dataclass(frozen=True, slots=True)
class LimitsOfAgreement:
    """How two ways lie apart, the one less the other, in their own unit.

    count; mean, low, high: mean difference and its 95 % interval; spread: standard deviation of the differences; least,
    most: the limits between which 95 of 100 differences lie; limit_reach: how far the 95 % interval of each of these
    reaches to either side.
    """

    count: int
    mean: float
    low: float
    high: float
    spread: float
    least: float
    most: float
    limit_reach: float


def limits_of_agreement(differences: Sequence[float]) -> LimitsOfAgreement | None:
    """How two ways of measuring lie apart; None of fewer than two differences, which tell nothing of that.

    Mean d +- t s / sqrt(n); limits d +- 1.96 s; interval of each limit +- t sqrt(3 s2 / n), t of n - 1 degrees of
    freedom. Parameters: differences, of the same things measured both ways. Limits: the differences lie
    about as far apart wherever the figure lies, which near 100 percent they do not.

    References: J. M. Bland and D. G. Altman, Statistical methods for assessing agreement between two methods of
    clinical measurement, Lancet 327 (1986), 307-310, from memory.

    >>> found = limits_of_agreement([-1.0, 0.0, 1.0])
    >>> None if found is None else (found.mean, found.spread, round(found.most, 2), round(found.limit_reach, 2))
    (0.0, 1.0, 1.96, 4.3)
    """
    count = len(differences)
    if count < 2:
        return None
    mean, spread = fmean(differences), stdev(differences)
    t = t_quantile(0.975, count - 1)
    reach, limit = t * spread / math.sqrt(count), normal_quantile(0.975) * spread
    return LimitsOfAgreement(
        count, mean, mean - reach, mean + reach, spread, mean - limit, mean + limit, t * math.sqrt(3 / count) * spread
    )
