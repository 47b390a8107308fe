"""The scale on which readings of contact are compared, and the distributions that judge them.

Readings of contact lie between 0 and 100 percent, and spread the less the nearer they are to an end: 8 points at 75,
2 at 95. On the scale y = ln((p + 2)/(102 - p)) they spread about evenly, and a reading of 100 weighs no more than it
may (with an offset of 0.5 or 1 one such reading spoils the top). The distributions are computed here, without another
library, so that a tablet and whoever checks its record come to the same figure.
"""

from __future__ import annotations

import math
from functools import lru_cache
from statistics import NormalDist

from fieldassist.trade.checks import positive, share, within

__all__ = ["OFFSET", "normal_below", "normal_quantile", "on_scale", "percent_of", "t_above", "t_quantile"]

# Points added beyond 0 and 100 percent.
OFFSET = 2.0
_NORMAL = NormalDist()


def on_scale(percent: float) -> float:
    """A contact on the scale on which contacts are compared.

    y = ln((p + 2)/(102 - p))

    Parameters: percent [percent], 0 to 100. Result: without a unit, 0 at 50 percent, 3.93 at 100.
    Errors: `Refused` outside these.

    >>> [round(on_scale(percent), 3) for percent in (50, 85, 95, 100)]
    [0.0, 1.633, 2.629, 3.932]

    References: the empirical logit, D. R. Cox and E. J. Snell, Analysis of Binary Data (1989), from memory, with an
    offset that was chosen by simulation.
    """
    within("contact", percent, 0, 100, "percent")
    return math.log((percent + OFFSET) / (100 + OFFSET - percent))


def percent_of(y: float) -> float:
    """The contact at a place of the scale: the inverse of `on_scale`, cut to what a contact can be.

    p = 104/(1 + exp(-y)) - 2, from 0 to 100

    Parameters: y, any finite figure. Result: [percent].

    >>> round(percent_of(on_scale(88.0)), 9), percent_of(9.0), percent_of(-800.0)
    (88.0, 100.0, 0.0)
    """
    part = 1 / (1 + math.exp(-y)) if y >= 0 else math.exp(y) / (1 + math.exp(y))
    return min(100.0, max(0.0, (100 + 2 * OFFSET) * part - OFFSET))


def normal_below(z: float) -> float:
    """The share of the standard normal distribution below z, 0 to 1.

    >>> round(normal_below(1.959963984540054), 12)
    0.975
    """
    return 0.5 * math.erfc(-z / math.sqrt(2))


def normal_quantile(below: float) -> float:
    """The figure below which a share of the standard normal distribution lies.

    Parameters: below, the share, between 0 and 1. Errors: `Refused` outside these.

    >>> round(normal_quantile(0.975), 6)
    1.959964

    References: algorithm AS 241, M. J. Wichura, Applied Statistics 37 (1988), as Python's `statistics` has it.
    """
    share("probability", below)
    return _NORMAL.inv_cdf(below)


def t_above(t: float, df: float) -> float:
    """The share of Student's t distribution above t, 0 to 1; twice that of |t| is the two-sided p.

    P(T > t) = I_x(df/2, 1/2)/2, x = df/(df + t^2), for t >= 0: the regularised incomplete beta function.

    Parameters: t; df, degrees of freedom, above 0, not necessarily whole, infinite for the normal distribution.
    Errors: `Refused` for other degrees of freedom.

    >>> round(t_above(2.131449545559323, 15), 9)
    0.025

    References: DLMF §8.17; the continued fraction there, 8.17.22.
    """
    if df == math.inf:
        return normal_below(-t)
    positive("degrees-of-freedom", df)
    if t < 0:
        return 1 - t_above(-t, df)
    # ln of x^a (1 - x)^b / B(a, b), a = df/2, b = 1/2, with nothing lost where x is next to 1.
    square = t * t / df
    if square == 0:
        return 0.5
    if math.isinf(square):
        return 0.0
    a, b, x = df / 2, 0.5, 1 / (1 + square)
    front = math.exp(
        _ln_gamma_ratio(a) - 0.5 * math.log(math.pi) - a * math.log1p(square) + b * math.log(square / (1 + square))
    )
    if x < (a + 1) / (a + b + 2):
        return 0.5 * front / (a * _continued(x, a, b))
    return 0.5 - 0.5 * front / (b * _continued(square / (1 + square), b, a))


def _ln_gamma_ratio(a: float) -> float:
    """ln(Gamma(a + 1/2)/Gamma(a)); for large a by its series, since the difference of two large figures is bad."""
    if a < 500:
        return math.lgamma(a + 0.5) - math.lgamma(a)
    return 0.5 * math.log(a) - 1 / (8 * a) + 1 / (192 * a**3)


def _continued(x: float, a: float, b: float) -> float:
    """The continued fraction of the incomplete beta function (DLMF 8.17.22), by Lentz's method."""
    tiny = 1e-300
    value, c, d = 1.0, 1.0, 0.0
    for step in range(1, 100_000):
        m, odd = divmod(step, 2)
        if odd:
            term = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        else:
            term = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
        d = 1 / (1 + term * d or tiny)
        c = 1 + term / c or tiny
        value *= c * d
        if abs(c * d - 1) < 1e-15:
            break
    return value


@lru_cache(maxsize=512)
def t_quantile(below: float, df: float) -> float:
    """The figure below which a share of Student's t distribution lies: the inverse of `t_above`.

    Found by halving to the last digit.

    Parameters: below, the share, between 0 and 1; df as for `t_above`. Errors: `Refused` outside these.

    >>> round(t_quantile(0.975, 15), 6), round(t_quantile(0.025, 15), 6)
    (2.13145, -2.13145)
    """
    share("probability", below)
    if df == math.inf:
        return normal_quantile(below)
    positive("degrees-of-freedom", df)
    if below < 0.5:
        return -_t_with_above(below, df)
    return _t_with_above(1 - below, df) if below > 0.5 else 0.0


def _t_with_above(above: float, df: float) -> float:
    """The t above which a share of less than half lies."""
    low, high = 0.0, 1.0
    while t_above(high, df) > above:
        low, high = high, 2 * high
    while low < (middle := (low + high) / 2) < high:
        low, high = (middle, high) if t_above(middle, df) > above else (low, middle)
    return high
