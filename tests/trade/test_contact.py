"""The scale of contact, and the distributions that judge it, beside scipy's."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import special, stats

from fieldassist.trade import contact
from fieldassist.trade.message import Refused
from tests.trade.telling import refusal_in_words

FREEDOM = (0.3, 1, 1.5, 2, 3, 4.7, 8, 15, 47, 310, 999, 1001, 12_345.6, 2e6, math.inf)


@given(st.floats(0, 100))
def test_the_scale_is_the_empirical_logit_and_turns_back(percent: float) -> None:
    share = (percent + contact.OFFSET) / (100 + 2 * contact.OFFSET)
    assert contact.on_scale(percent) == pytest.approx(special.logit(share), abs=1e-12)
    assert contact.percent_of(contact.on_scale(percent)) == pytest.approx(percent, abs=1e-9)


@given(st.floats(allow_nan=False))
def test_every_place_of_the_scale_is_a_contact_between_0_and_100(y: float) -> None:
    assert 0 <= contact.percent_of(y) <= 100


def test_a_reading_beyond_what_contact_can_be_has_no_place_on_the_scale() -> None:
    for percent in (-0.1, 100.1, math.nan):
        with refusal_in_words():
            contact.on_scale(percent)


@pytest.mark.parametrize("df", FREEDOM)
def test_shares_of_the_t_distribution_equal_those_of_scipy(df: float) -> None:
    for t in (0.0, 1e-3, 0.1, 0.7, 1.0, 1.96, 2.78, 4.5, 12.0, 60.0, -0.4, -3.3):
        assert contact.t_above(t, df) == pytest.approx(stats.t.sf(t, df), rel=1e-9, abs=1e-15)


@pytest.mark.parametrize("df", FREEDOM)
def test_quantiles_of_the_t_distribution_equal_those_of_scipy(df: float) -> None:
    for below in (0.001, 0.025, 0.2, 0.5, 0.51, 0.9, 0.975, 0.9995):
        expected = stats.t.ppf(below, df)
        assert contact.t_quantile(below, df) == pytest.approx(expected, rel=1e-9, abs=1e-12)


@given(st.floats(-37, 37))
def test_shares_of_the_normal_distribution_equal_those_of_scipy(z: float) -> None:
    assert contact.normal_below(z) == pytest.approx(stats.norm.cdf(z), rel=1e-9, abs=1e-300)


@given(st.floats(1e-12, 1 - 1e-12))
def test_quantiles_of_the_normal_distribution_equal_those_of_scipy(below: float) -> None:
    assert contact.normal_quantile(below) == pytest.approx(stats.norm.ppf(below), rel=1e-9, abs=1e-12)


def test_a_distribution_without_freedom_or_a_probability_that_is_none_is_refused() -> None:
    for df in (0, -1, math.nan):
        with pytest.raises(Refused, match="degrees-of-freedom"):
            contact.t_above(1.0, df)
        with pytest.raises(Refused, match="degrees-of-freedom"):
            contact.t_quantile(0.9, df)
    for below in (0, 1, math.nan):
        with pytest.raises(Refused, match="probability"):
            contact.t_quantile(below, 5)
        with pytest.raises(Refused, match="probability"):
            contact.normal_quantile(below)
