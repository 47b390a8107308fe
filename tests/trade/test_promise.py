"""Later lifts beside what a mock-up trial promised."""

from __future__ import annotations

import math

import pytest
from scipy import stats

from fieldassist.trade.contact import on_scale
from fieldassist.trade.message import Refused
from fieldassist.trade.promise import LaterLift, Promise, kept, one_tile
from tests.simulate_promise import FALLEN, HONEST, LEAST_FOUND, MOST_FALSE, rate

SHOWN = Promise(centre=2.4, variance=0.05, spread=0.45, between=0.09, batches=3, readers=("rosa", "otto"))


def lifts(percent: float, *each_day: int, reader: str = "rosa") -> list[LaterLift]:
    return [LaterLift(str(day), percent, reader) for day, count in enumerate(each_day) for _ in range(count)]


def test_the_least_mean_is_that_of_two_means_and_their_variances() -> None:
    said = kept(SHOWN, lifts(80.0, 4, 2, 2))
    assert said is not None
    days = (16 + 4 + 4) / 64
    # Of the lifts rosa read all, of the trial half: (1 - 1/2)^2 + (0 - 1/2)^2 of a reader's variance, 0.25^2.
    variance = 0.05 + 0.45**2 / 8 + 0.09 * (days + 1 / 3) + 0.25**2 * 0.5
    least = stats.norm.ppf(0.0125, 2.4, math.sqrt(variance))
    assert on_scale(said.least) == pytest.approx(least)
    assert (said.lifts, said.days, said.mean, said.lower) == (8, 3, 80.0, True)


def test_a_promise_is_judged_from_the_third_day_with_lifts_on() -> None:
    assert [found.lower for days in (1, 2, 3) if (found := kept(SHOWN, lifts(40.0, *[3] * days)))] == [None, None, True]
    assert kept(SHOWN, []) is None


def test_the_same_reader_throughout_adds_nothing_and_somebody_else_adds_most() -> None:
    alone = Promise(centre=2.4, variance=0.05, spread=0.45, readers=("rosa",))
    ends = []
    for reader in ("rosa", "otto"):
        said = kept(alone, lifts(80.0, 3, 3, 3, reader=reader))
        assert said is not None
        ends.append(on_scale(said.least))
    plain = stats.norm.ppf(0.0125, 2.4, math.sqrt(0.05 + 0.45**2 / 9))
    apart = stats.norm.ppf(0.0125, 2.4, math.sqrt(0.05 + 0.45**2 / 9 + 2 * 0.25**2))
    assert ends == pytest.approx([plain, apart])


def test_single_tiles_lie_where_the_trial_and_their_own_spread_put_them() -> None:
    low, high = one_tile(SHOWN, "rosa")
    reach = stats.norm.ppf(0.975) * math.sqrt(0.05 + 0.45**2 + 0.09 * (1 + 1 / 3) + 0.25**2 * 0.5)
    assert on_scale(low) == pytest.approx(2.4 - reach)
    assert on_scale(high) == pytest.approx(2.4 + reach)
    assert one_tile(SHOWN)[0] < low


def test_a_promise_of_figures_that_cannot_be_is_refused() -> None:
    for wrong in (Promise(2.4, -0.1, 0.45), Promise(2.4, 0.1, 0.45, between=math.nan)):
        with pytest.raises(Refused, match="what-variance"):
            kept(wrong, lifts(80.0, 1))


# --- in simulated jobs; counted in full by `python -m tests.simulate_promise` ----------------------------------------


def test_a_promise_that_is_kept_is_hardly_ever_said_to_be_broken() -> None:
    # Each world of the full count holds by itself; so few jobs of each can only be judged together.
    assert sum(rate(world, 12) for world in HONEST) / len(HONEST) <= MOST_FALSE


def test_a_method_that_falls_from_95_to_87_percent_is_found_in_three_jobs_of_five() -> None:
    assert sum(rate(world, 40) for world in FALLEN) / len(FALLEN) >= LEAST_FOUND
