"""Clocks and temperatures."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldassist.trade.basis import OutOfRange, Provenance
from fieldassist.trade.message import Refused
from fieldassist.trade.times import (
    CURE_TEMPERATURES,
    OPEN_TIME_TOUCH,
    clocks_due,
    comb_area,
    concrete_age,
    cure_slowdown,
    cure_span,
    cure_to_grout,
    cure_to_traffic,
    open_time,
    open_time_minimum,
    pot_life,
    slake,
    temperature_verdict,
    working_temperature,
)
from tests.trade.telling import US, words


@pytest.mark.parametrize(
    ("marking", "minutes"),
    [
        # EN 12004-1:2017 and ISO 13007-1, as reported in trade literature: 20, E 30, F 10 min.
        ("C1", 20),
        ("C2", 20),
        ("C2T", 20),
        ("C2T S1", 20),
        ("C2TE S1", 30),
        ("C2TES1", 30),
        ("c2e", 30),
        ("C1F", 10),
        ("C2FT", 10),
        ("C2FTE S2", 30),
        # ANSI A118, suffix E, from memory.
        ("A118.15HTE", 30),
        ("ANSI A118.4 E", 30),
    ],
)
def test_the_class_marking_promises_its_open_time(marking: str, minutes: float) -> None:
    span = open_time_minimum(marking)
    assert span.least_min == span.greatest_min == minutes


def test_the_a118_figure_is_marked_from_memory_and_the_en_figure_as_laboratory() -> None:
    assert open_time_minimum("A118.4TE").basis.standing is Provenance.MEMORY
    assert "23 °C" in words(open_time_minimum("C2E").basis.told)


@pytest.mark.parametrize("marking", ["A118.4", "A118.15HT"])
def test_an_a118_mortar_without_e_promises_no_open_time(marking: str) -> None:
    with pytest.raises(OutOfRange, match=r"^times-class-without-e"):
        open_time_minimum(marking)


@pytest.mark.parametrize("marking", ["", "C3", "C2EE", "R2", "glue", "A118.3"])
def test_a_marking_that_is_not_read_is_refused_with_an_example(marking: str) -> None:
    with pytest.raises(Refused, match=r"^times-no-class"):
        open_time_minimum(marking)


def test_the_data_sheet_goes_before_the_class() -> None:
    span = open_time(25, "C2E")
    assert span.least_min == 25
    assert span.basis.standing is Provenance.DATA_SHEET
    assert open_time(None, "C2E").least_min == 30
    with pytest.raises(OutOfRange, match=r"^times-no-open-time"):
        open_time()


def test_pot_life_is_never_guessed() -> None:
    with pytest.raises(OutOfRange, match=r"^times-no-pot-life"):
        pot_life()
    assert pot_life(90).least_min == 90


def test_slake_and_cure_defaults_say_that_they_are_practice_or_memory() -> None:
    assert (slake().least_min, slake().greatest_min) == (5, 10)
    assert slake().basis.standing is Provenance.PRACTICE
    assert cure_to_grout().least_min == cure_to_traffic().least_min == 24 * 60
    assert cure_to_grout().basis.standing is Provenance.MEMORY
    assert slake(7).basis.standing is Provenance.DATA_SHEET
    assert cure_to_grout(16 * 60).least_min == 960


@pytest.mark.parametrize("bad", [0, -5, math.nan, math.inf])
def test_a_time_that_cannot_be_is_refused(bad: float) -> None:
    for call in (
        lambda: slake(bad),
        lambda: pot_life(bad),
        lambda: open_time(bad),
        lambda: cure_to_grout(bad),
        lambda: cure_to_traffic(bad),
        lambda: cure_span(bad, 15),
        lambda: comb_area(bad, 5),
        lambda: comb_area(20, bad),
        lambda: comb_area(20, 5, piece_area_m2=bad),
        lambda: concrete_age(1, bad),
    ):
        with pytest.raises(Refused, match=r"^what-not-above-zero"):
            call()


def test_working_temperatures_are_the_trades_with_their_basis() -> None:
    us = working_temperature()
    # 50 to 100 °F: common practice, the floor as reported in trade literature, the rest from memory.
    assert us.minimum_c * 1.8 + 32 == 50
    assert us.maximum_c * 1.8 + 32 == pytest.approx(100)
    assert us.basis.standing is Provenance.MEMORY
    eu = working_temperature(practice="eu")
    assert (eu.minimum_c, eu.maximum_c) == (5, 35)
    assert working_temperature((7, 30)).basis.standing is Provenance.DATA_SHEET
    cold = working_temperature((15, None))
    assert (cold.minimum_c, cold.maximum_c) == (15, us.maximum_c)
    assert cold.basis.standing is Provenance.DATA_SHEET
    assert "the other end: from memory" in words(cold.basis.told)
    assert working_temperature((None, 30), "eu").minimum_c == 5
    with pytest.raises(Refused, match=r"^times-temperatures-cross"):
        working_temperature((30, 7))
    with pytest.raises(Refused, match=r"^times-temperatures-cross"):
        working_temperature((None, 7))
    with pytest.raises(Refused, match=r"^what-not-a-word"):
        working_temperature(practice="uk")  # type: ignore[arg-type]


def test_the_temperature_verdict_flips_exactly_at_both_limits() -> None:
    limits = working_temperature((5, 35))
    assert temperature_verdict(5, limits).passed
    assert temperature_verdict(35, limits).passed
    assert not temperature_verdict(5 - 1e-9, limits).passed
    assert not temperature_verdict(35 + 1e-9, limits).passed
    assert "41 °F or more" in US(temperature_verdict(4, limits).reason)
    with pytest.raises(Refused, match=r"^times-no-temperature"):
        temperature_verdict(math.nan, limits)


def test_cold_doubles_the_cure_each_step_of_its_rule() -> None:
    # Trade articles, conflicting: doubles per 18 °F below 70 °F; a rival doubles per 8 °C below 21 °C.
    for rule, (reference, step) in CURE_TEMPERATURES.items():
        assert cure_slowdown(reference, rule) == 1
        assert cure_slowdown(reference - step, rule) == pytest.approx(2)
    assert cure_slowdown((52 - 32) / 1.8) == pytest.approx(2)
    assert cure_slowdown(13, "8 °C rule") == 2


@given(st.floats(5, 45), st.floats(5, 45))
def test_colder_is_never_faster_and_warmth_never_shortens_the_cure(one: float, other: float) -> None:
    cold, warm = sorted((one, other))
    for rule in CURE_TEMPERATURES:
        assert cure_slowdown(cold, rule) >= cure_slowdown(warm, rule) >= 1
    span = cure_span(1440, cold)
    assert 1440 <= span.least_min <= span.greatest_min


def test_the_cure_span_says_that_the_rules_conflict() -> None:
    assert cure_span(1440, 10).caution.code == "times-cure-longer"
    assert cure_span(1440, 30).caution.code == "times-cure-stands"


def test_below_five_degrees_and_for_unknown_rules_no_cure_is_given() -> None:
    with pytest.raises(OutOfRange, match=r"^times-too-cold-to-cure"):
        cure_slowdown(4.9)
    with pytest.raises(Refused, match=r"^what-not-a-word"):
        cure_slowdown(15, "moon rule")


def test_concrete_waits_until_its_28_days() -> None:
    # 28 days: summary of AS 3958, and common practice.
    assert concrete_age(27).least_min == 1440
    assert concrete_age(28).least_min == concrete_age(90).least_min == 0
    with pytest.raises(Refused, match=r"^what-below-zero"):
        concrete_age(-1)


@given(st.floats(5, 60), st.floats(0.5, 20), st.floats(0.5, 40), st.floats(0.1, 1))
def test_no_combed_place_waits_longer_than_the_open_time(
    minutes: float, setting: float, combing: float, share: float
) -> None:
    area = comb_area(minutes, setting, combing_pace_m2_per_h=combing, share=share).area_m2
    # Independent recomputation: comb the whole area in strips, then set tile in the reverse order, the worst
    # one.
    strips = np.linspace(0, area, 101)
    combed_at = strips / combing * 60
    set_at = area / combing * 60 + (area - strips) / setting * 60
    longest = float((set_at - combed_at).max())
    assert longest == pytest.approx(minutes * share, rel=1e-9)


def test_the_area_to_comb_counts_whole_pieces_only() -> None:
    assert comb_area(20, 6, piece_area_m2=2.88).pieces == 0
    assert comb_area(20, 6, piece_area_m2=0.5).pieces == 4
    assert comb_area(20, 6, piece_area_m2=0.51).pieces == 3
    assert comb_area(20, 6, share=0.5).area_m2 == 1


@pytest.mark.parametrize("share", [0, -0.1, 1.01, math.nan])
def test_a_share_of_the_open_time_is_between_nothing_and_all_of_it(share: float) -> None:
    with pytest.raises(Refused, match=r"^times-share-of-open-time"):
        comb_area(20, 6, share=share)


def test_the_clock_that_runs_out_first_comes_first_and_is_over_at_its_limit() -> None:
    due = clocks_due({"pot life": (30, 120), "open time": (20, 20), "cure": (0, 1440)})
    assert [(clock.name, clock.over) for clock in due] == [
        ("open time", True),
        ("pot life", False),
        ("cure", False),
    ]
    assert not clocks_due({"open time": (math.nextafter(20, 0), 20)})[0].over
    with pytest.raises(Refused, match=r"^times-clock-below-zero"):
        clocks_due({"open time": (-1, 20)})


def test_the_touch_test_forbids_wetting_the_mortar_again() -> None:
    assert "scrape" in words(OPEN_TIME_TOUCH)
    assert "Never wet it again" in words(OPEN_TIME_TOUCH)


def test_a_clock_without_time_is_over_at_once_and_none_runs_backwards() -> None:
    assert clocks_due({"open time": (0, 0)})[0].over
    assert clocks_due({"open time": (0, 0.5)})[0].remaining_min == 0.5
    for clock in ((-0.5, 20), (0, -0.5)):
        with pytest.raises(Refused, match=r"^times-clock-below-zero"):
            clocks_due({"open time": clock})
