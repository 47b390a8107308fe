"""Bags, water, batches, bed limits and the mass balance."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldassist.trade.basis import OutOfRange, Provenance
from fieldassist.trade.message import Refused
from fieldassist.trade.mortar import (
    MIXING_CAUTIONS,
    bag_yield,
    batch_plan,
    bed_limits,
    bed_verdict,
    mass_balance,
    mortar_for_area,
    water_verdict,
)
from tests.trade.telling import US, words

beds = st.floats(0.5, 20)
areas = st.floats(0.5, 200)


@pytest.mark.parametrize(
    ("kind", "least_mm", "greatest_mm"),
    # Materials and Methods Standards Association bulletin 18 (May 2020), as printed: 3/32 to 1/4 in, 3/32 to
    # 1/2.
    [("thin-set", 2.38, 6.35), ("large-and-heavy-tile", 2.38, 12.7)],
)
def test_bed_limits_are_those_of_bulletin_18(kind: str, least_mm: float, greatest_mm: float) -> None:
    limits = bed_limits(kind)  # type: ignore[arg-type]
    assert limits.minimum_mm == pytest.approx(least_mm, abs=0.005)
    assert limits.maximum_mm == greatest_mm
    assert "bulletin 18" in limits.basis.document


def test_the_data_sheet_goes_before_the_bulletin_and_says_so() -> None:
    limits = bed_limits("thin-set", data_sheet_least_mm=3, data_sheet_greatest_mm=10)
    assert (limits.minimum_mm, limits.maximum_mm) == (3, 10)
    assert limits.basis.standing is Provenance.DATA_SHEET
    half = bed_limits("thin-set", data_sheet_greatest_mm=10)
    assert half.minimum_mm == 2.38125
    assert half.basis.id == "data-sheet-greatest-bed"
    assert "bulletin 18" in words(half.basis.told)


def test_bed_limits_that_cannot_be_are_refused() -> None:
    with pytest.raises(Refused, match=r"^what-not-a-word"):
        bed_limits("medium bed")  # type: ignore[arg-type]
    with pytest.raises(Refused, match=r"^mortar-bed-limits-cross"):
        bed_limits("thin-set", data_sheet_least_mm=8)
    with pytest.raises(Refused, match=r"^what-not-above-zero"):
        bed_limits("thin-set", data_sheet_least_mm=0)


def test_the_bed_verdict_flips_exactly_at_both_limits() -> None:
    limits = bed_limits("thin-set")
    assert bed_verdict(2.38125, limits).passed
    assert bed_verdict(3 / 32 * 25.4, limits).passed
    assert bed_verdict(6.35, limits).passed
    assert bed_verdict(2.381, limits).verdict == "too thin"
    assert bed_verdict(6.351, limits).verdict == "too thick"
    with pytest.raises(Refused, match=r"^what-below-zero"):
        bed_verdict(-1, limits)


def test_a_litre_is_a_square_metre_a_millimetre_deep() -> None:
    # A 50 lb bag at 1.35 kg/(m2 mm) over a bed of 1/8 in, by hand: 22.68 / 1.35 / 3.175 = 5.29 m2 = 57.0 ft2.
    bag = bag_yield(22.6796185)
    assert bag.litres / 3.175 * 10.7639 == pytest.approx(57.0, abs=0.1)
    assert bag.basis.standing is Provenance.MEMORY
    assert bag.least_l < bag.litres < bag.greatest_l


def test_a_yield_from_the_data_sheet_is_taken_as_it_stands() -> None:
    assert bag_yield(20, data_sheet_l=14.2).litres == 14.2
    own = bag_yield(20, powder_kg_per_m2_per_mm=1.25)
    assert own.litres == 16
    assert own.basis.standing is Provenance.CREW


@given(areas, beds, st.floats(5, 25), st.floats(5, 20), st.floats(0, 50))
def test_bags_weigh_and_fill_what_the_area_takes(
    area: float, bed: float, bag_kg: float, litres: float, waste: float
) -> None:
    need = mortar_for_area(area, bed, bag_kg, litres, water_l_per_bag=5, waste_percent=waste)
    # Independent: cubic metres of a slab.
    assert need.volume_l / 1000 == pytest.approx(area * bed / 1000 * (100 + waste) / 100)
    assert need.bags * litres == pytest.approx(need.volume_l)
    assert need.powder_kg / bag_kg == pytest.approx(need.bags)
    assert need.water_l == pytest.approx(5 * need.bags)
    assert need.powder_kg_per_m2 * area == pytest.approx(need.powder_kg)
    assert need.bags - 1e-6 <= need.whole_bags < need.bags + 1


def test_a_bag_is_not_bought_for_float_noise() -> None:
    assert mortar_for_area(3, 1.1 * 5, 20, 5.5, waste_percent=0).whole_bags == 3


@pytest.mark.parametrize("bad", [0, -1, math.nan, math.inf])
def test_mortar_is_not_reckoned_from_figures_that_cannot_be(bad: float) -> None:
    for call in (
        lambda: mortar_for_area(bad, 3, 20, 15),
        lambda: mortar_for_area(10, bad, 20, 15),
        lambda: mortar_for_area(10, 3, 20, bad),
        lambda: bag_yield(bad),
        lambda: batch_plan(10, 3, 15, bad, 3),
        lambda: mass_balance(bad, 15, 10, 3),
        lambda: water_verdict(bad, 1, 4, 5),
    ):
        with pytest.raises(Refused, match=r"^what-not-above-zero"):
            call()


def test_water_passes_at_both_ends_of_the_data_sheets_span() -> None:
    assert water_verdict(2.4, 0.5, 4.8, 5.4).passed
    assert water_verdict(2.7, 0.5, 4.8, 5.4).passed
    assert "throw the batch away" in words(water_verdict(2.71, 0.5, 4.8, 5.4).reason)
    assert "add up to it" in words(water_verdict(2.39, 0.5, 4.8, 5.4).reason)
    assert "2.54 qt" in US(water_verdict(2.4, 0.5, 4.8, 5.4).reason)
    with pytest.raises(Refused, match=r"^mortar-water-limits-cross"):
        water_verdict(2.5, 0.5, 5.4, 4.8)


@given(
    areas,
    st.floats(2, 12),
    st.floats(8, 20),
    st.floats(30, 240),
    st.floats(1, 15),
    st.sampled_from([1.0, 0.5, 0.25]),
)
def test_every_batch_is_used_within_its_pot_life_and_together_they_cover_the_area(
    area: float, bed: float, litres: float, pot: float, pace: float, part: float
) -> None:
    if part * litres / (bed * 1.1) / pace * 60 > (pot - 10) * (1 + 1e-6):
        with pytest.raises(OutOfRange, match=r"^mortar-batch-would-stiffen"):
            batch_plan(area, bed, litres, pot, pace, slake_min=10, part_of_bag=part)
        return
    plan = batch_plan(area, bed, litres, pot * (1 + 2e-6), pace, slake_min=10, part_of_bag=part)
    assert plan.minutes_per_batch <= (pot - 10) * (1 + 1e-5)
    assert plan.batches * plan.area_per_batch_m2 >= area - 1e-6
    assert (plan.batches - 1) * plan.area_per_batch_m2 < area
    assert (plan.bags_per_batch / part) == pytest.approx(round(plan.bags_per_batch / part))


def test_a_batch_that_cannot_be_used_in_time_is_refused_with_the_way_out() -> None:
    with pytest.raises(OutOfRange, match=r"^mortar-batch-would-stiffen"):
        batch_plan(10, 4, 15, pot_life_min=30, pace_m2_per_h=1, slake_min=10, part_of_bag=1)
    with pytest.raises(OutOfRange, match=r"^mortar-batch-over-bucket"):
        batch_plan(10, 4, 15, 120, 5, part_of_bag=1, bucket_l=12)
    with pytest.raises(OutOfRange, match=r"^mortar-slake-takes-pot-life"):
        batch_plan(10, 4, 15, 10, 5, slake_min=10)


def test_the_bucket_limits_the_batch() -> None:
    assert batch_plan(10, 4, 15, 240, 10, part_of_bag=0.5, bucket_l=23).bags_per_batch == 1.5


@given(areas, beds, st.floats(5, 20), st.floats(0, 30))
def test_the_mass_balance_finds_the_bed_that_the_bags_were_bought_for(
    area: float, bed: float, litres: float, waste: float
) -> None:
    need = mortar_for_area(area, bed, 20, litres, waste_percent=waste)
    balance = mass_balance(need.bags, litres, area, bed, waste_percent=waste)
    assert balance.implied_bed_mm == pytest.approx(bed)
    assert balance.verdict == "as predicted"


def test_the_tolerance_is_twice_the_spread_that_chance_gives_the_bed() -> None:
    # Independent recomputation: JCGM 101:2008 propagates the distributions by Monte Carlo instead of the
    # formula.
    rng = np.random.default_rng(7)
    n = 400_000
    bags = rng.normal(12, 0.25, n)
    litres = 15 * rng.normal(1, 0.05, n)
    area = 30 * rng.normal(1, 0.02, n)
    kept = rng.normal(1.10, 0.05, n)
    spread = float(np.std(bags * litres / (area * kept)))
    balance = mass_balance(12, 15, 30, predicted_bed_mm=6)
    assert balance.tolerance_mm == pytest.approx(2 * spread, rel=0.02)


def test_the_verdict_flips_where_the_difference_leaves_the_tolerance() -> None:
    middle = mass_balance(12, 15, 30, predicted_bed_mm=6)
    bed, tolerance = middle.implied_bed_mm, middle.tolerance_mm
    assert mass_balance(12, 15, 30, bed + 0.999 * tolerance).verdict == "as predicted"
    assert mass_balance(12, 15, 30, bed + 1.001 * tolerance).verdict == "too little"
    assert mass_balance(12, 15, 30, bed - 0.999 * tolerance).verdict == "as predicted"
    assert mass_balance(12, 15, 30, bed - 1.001 * tolerance).verdict == "more than predicted"


def test_too_few_bags_cap_the_contact_whatever_the_lifts_say() -> None:
    balance = mass_balance(4, 15, 20, predicted_bed_mm=4.5, waste_percent=0, gap_mm=4.0)
    assert balance.implied_bed_mm == 3.0
    assert balance.verdict == "too little"
    assert balance.greatest_contact_percent == 75
    assert "75 % contact at most" in words(balance.reason)


def test_the_mass_balance_speaks_the_crews_units() -> None:
    assert "1/4 in was predicted" in US(mass_balance(4, 15, 20, 6.35).reason)


def test_mixing_warns_of_wet_cement_dust_and_electricity_with_sources() -> None:
    text = " ".join(words(caution.told) for caution in MIXING_CAUTIONS)
    for word in ("gloves", "silica", "ground-fault", "licensed electrician", "doctor"):
        assert word in text
    assert all(caution.basis.document or caution.basis.named for caution in MIXING_CAUTIONS)


@pytest.mark.parametrize(
    ("least", "greatest", "basis"),
    [
        (None, None, "thin-set-bed"),
        (3.0, None, "data-sheet-least-bed"),
        (None, 6.0, "data-sheet-greatest-bed"),
        (3.0, 6.0, "data-sheet"),
    ],
)
def test_the_basis_of_a_bed_says_which_end_the_data_sheet_gives(
    least: float | None, greatest: float | None, basis: str
) -> None:
    limits = bed_limits("thin-set", data_sheet_least_mm=least, data_sheet_greatest_mm=greatest)
    assert limits.basis.id == basis
