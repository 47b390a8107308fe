"""Two ways of measuring held against each other, by the example of those who published how."""

from __future__ import annotations

import pytest

from fieldassist.trade.agreement import limits_of_agreement

# Peak expiratory flow of 17 people by a large and a small meter, first measurements [L/min]: Bland and Altman, Lancet
# 327 (1986), 307-310, table 1; from memory.
LARGE = (494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427)
SMALL = (512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451)


def test_the_published_example_comes_to_its_published_figures() -> None:
    found = limits_of_agreement([large - small for large, small in zip(LARGE, SMALL, strict=True)])
    assert found is not None
    assert found.mean == pytest.approx(-2.1, abs=0.05)
    assert found.spread == pytest.approx(38.8, abs=0.05)
    assert (found.low, found.high) == pytest.approx((-22.0, 17.8), abs=0.15)
    # In the limits they take 2 for 1.96; of the lower one they tell -114.3 to -45.1.
    assert (found.most - found.least) * 2 / 1.96 == pytest.approx(75.5 + 79.7, abs=0.2)
    assert found.most + found.least == pytest.approx(75.5 - 79.7, abs=0.1)
    assert found.limit_reach == pytest.approx((114.3 - 45.1) / 2, abs=0.2)


def test_of_fewer_than_two_nothing_is_told() -> None:
    assert limits_of_agreement([]) is None
    assert limits_of_agreement([1.0]) is None
