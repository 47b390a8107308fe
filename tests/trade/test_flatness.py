"""Flatness, lippage, joints and movement joints against the published limits."""

from __future__ import annotations

import math
from fractions import Fraction
from itertools import pairwise
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldassist.trade import flatness
from fieldassist.trade.basis import OutOfRange, Provenance
from fieldassist.trade.flatness import DinRow, FlatnessStandard
from fieldassist.trade.message import Refused
from fieldassist.trade.quantities import canonical
from tests.trade.telling import US, refusal_in_words, words

INCH = 25.4
FOOT = 304.8


def sixteenths(mm: float) -> float:
    return mm * 16 / INCH


# --- the base


def test_a_tile_with_an_edge_of_15_inches_needs_an_eighth_in_ten_feet_and_a_sixteenth_in_two() -> None:
    # ANSI A108.02 §4.2.2; printed in metric as 3 mm in 3 m and 2 mm in 610 mm.
    limit = flatness.substrate_limit("A108.02", canonical(15, "in"))
    assert limit.gap_mm == pytest.approx(INCH / 8)
    assert limit.over_mm == pytest.approx(10 * FOOT)
    assert limit.short_gap_mm == pytest.approx(INCH / 16)
    assert limit.short_over_mm == pytest.approx(24 * INCH)
    assert (round(limit.gap_mm), round(limit.over_mm, -3)) == (3, 3000)
    assert (round(limit.short_gap_mm or 0), round(limit.short_over_mm or 0, -1)) == (2, 610)
    assert "A108.02" in str(limit.basis)


def test_a_tile_with_every_edge_under_15_inches_may_stand_on_a_quarter_in_ten_feet() -> None:
    # ANSI A108.02 §4.2.2: 1/4 in in 10 ft and 1/16 in in 12 in.
    limit = flatness.substrate_limit("A108.02", canonical(15, "in") - 0.1)
    assert limit.gap_mm == pytest.approx(INCH / 4)
    assert limit.short_gap_mm == pytest.approx(INCH / 16)
    assert limit.short_over_mm == pytest.approx(12 * INCH)


def test_an_unknown_edge_and_stone_take_the_stricter_row_and_say_so() -> None:
    large = flatness.substrate_limit("A108.02", 600)
    unknown = flatness.substrate_limit("A108.02", None)
    stone = flatness.substrate_limit("A108.02", 300, "natural stone")
    assert unknown.gap_mm == stone.gap_mm == large.gap_mm
    assert (unknown.basis.id, stone.basis.id) == ("base-unknown-edge", "base-stone")


def test_the_gauged_panel_limit_is_marked_as_from_memory() -> None:
    # ANSI A108.19, whose clause was not seen.
    limit = flatness.substrate_limit("A108.02", 3000, "gauged panel")
    assert limit.gap_mm == pytest.approx(INCH / 8)
    assert limit.basis.standing is Provenance.MEMORY


@pytest.mark.parametrize(
    ("standard", "gap"),
    # BS 5385-3 and the classes of BS 8204-1, under a 2 m straightedge.
    [("BS 5385", 3), ("BS 8204 SR1", 3), ("BS 8204 SR2", 5), ("BS 8204 SR3", 10)],
)
def test_british_limits_hold_under_a_two_metre_straightedge(standard: FlatnessStandard, gap: float) -> None:
    limit = flatness.substrate_limit(standard, None)
    assert (limit.gap_mm, limit.over_mm, limit.short_gap_mm) == (gap, 2000, None)


# DIN 18202 table 3, greatest gap [mm] at 0.1, 1, 4, 10 and 15 m, and the value at 2 m of a trade handbook's
# extended table.
DIN_PRINTED: dict[DinRow, tuple[list[float], float]] = {
    2: ([5, 8, 12, 15, 20], 9),
    3: ([2, 4, 10, 12, 15], 6),
    4: ([1, 3, 9, 12, 15], 5),
    6: ([3, 5, 10, 20, 25], 7),
    7: ([2, 3, 8, 15, 20], 5),
}


@pytest.mark.parametrize("row", get_args(DinRow))
def test_din_18202_rows_and_their_value_at_two_metres_are_as_printed(row: DinRow) -> None:
    printed, at_two = DIN_PRINTED[row]
    assert [flatness.din_18202_limit(row, m * 1000).mm for m in (0.1, 1, 4, 10, 15)] == printed
    assert flatness.din_18202_limit(row, 2000).mm == at_two
    standard: FlatnessStandard = f"DIN 18202 row {row}"  # type: ignore[assignment]
    limit = flatness.substrate_limit(standard, None)
    assert (limit.gap_mm, limit.short_gap_mm, limit.short_over_mm) == (at_two, printed[1], 1000)


def test_a_short_straightedge_under_din_18202_has_one_limit_only() -> None:
    limit = flatness.substrate_limit("DIN 18202 row 3", None, span_mm=1000)
    assert (limit.gap_mm, limit.over_mm, limit.short_gap_mm) == (4, 1000, None)


@given(st.sampled_from(get_args(DinRow)), st.floats(100, 15000), st.floats(100, 15000))
def test_din_18202_never_allows_less_over_more(row: DinRow, one: float, two: float) -> None:
    near, far = sorted((one, two))
    assert flatness.din_18202_limit(row, near).mm <= flatness.din_18202_limit(row, far).mm
    exact = flatness.din_18202_limit(row, near, rounded=False).mm
    assert abs(flatness.din_18202_limit(row, near).mm - exact) <= 0.5 + 1e-9


@given(st.integers(1, 40), st.sampled_from(get_args(DinRow)))
def test_din_18202_interpolation_agrees_with_exact_fractions(tenths: int, row: DinRow) -> None:
    # Recomputed in fractions: a straight line between the columns, rounded half up to whole mm.
    points = list(zip([100, 1000, 4000, 10000, 15000], DIN_PRINTED[row][0], strict=True))
    span = tenths * 100
    (a, low), (b, high) = next(pair for pair in pairwise(points) if pair[0][0] <= span <= pair[1][0])
    gap = Fraction(low) + (Fraction(high) - Fraction(low)) * Fraction(span - a, b - a)
    assert flatness.din_18202_limit(row, span).mm == math.floor(gap + Fraction(1, 2))


@pytest.mark.parametrize("span", [99.9, 15000.1])
def test_din_18202_is_refused_outside_its_columns(span: float) -> None:
    with pytest.raises(OutOfRange, match=r"^flatness-din-span-outside"):
        flatness.din_18202_limit(3, span)


def test_a_base_passes_at_the_limit_and_fails_a_hair_beyond() -> None:
    limit = flatness.substrate_limit("A108.02", 600)
    assert flatness.substrate_verdict(canonical(Fraction(1, 8), "in"), limit, canonical(Fraction(1, 16), "in")).passed
    over = flatness.substrate_verdict(3.18, limit, 1.0)
    assert not over.passed
    assert "10 ft" not in words(over.reasons[0])
    short = flatness.substrate_verdict(3.0, limit, 1.6)
    assert not short.passed
    assert US(short.reasons[0]) == "a gap of 0.063 in over 24 in is more than the 1/16 in allowed"


def test_a_span_that_was_not_measured_is_named_and_leaves_the_verdict_open() -> None:
    verdict = flatness.substrate_verdict(2.0, flatness.substrate_limit("A108.02", 600))
    assert verdict.outcome == "not complete"
    assert [US(told) for told in verdict.unread] == ["worst gap over 24 in"]


# --- lippage


@pytest.mark.parametrize(
    ("joint_in", "allowance_in"),
    # ANSI A108.02 §4.3.7 (2013).
    [("1/16", "1/32"), ("1/8", "1/32"), ("15/64", "1/32"), ("1/4", "1/16"), ("1/2", "1/16")],
)
def test_lippage_allowed_by_joint_is_as_in_a108_02(joint_in: str, allowance_in: str) -> None:
    limit = flatness.lippage_allowance(canonical(Fraction(joint_in), "in"))
    assert limit.mm == pytest.approx(float(Fraction(allowance_in)) * INCH)


@given(st.floats(1.5875, 30), st.floats(0, 5))
def test_warpage_of_the_tile_adds_to_the_lippage_allowed(joint: float, warpage: float) -> None:
    alone = flatness.lippage_allowance(joint).mm
    assert flatness.lippage_allowance(joint, warpage).mm == pytest.approx(alone + warpage)


def test_a_joint_under_a_sixteenth_has_no_lippage_allowance() -> None:
    with pytest.raises(OutOfRange, match=r"^flatness-joint-without-lippage"):
        flatness.lippage_allowance(1.5)


@given(st.floats(1.6, 12), st.floats(0, 2))
def test_the_lippage_verdict_flips_exactly_at_the_allowance(joint: float, warpage: float) -> None:
    limit = flatness.lippage_allowance(joint, warpage).mm
    assert flatness.lippage_verdict(limit, joint, warpage).passed
    assert not flatness.lippage_verdict(limit + 1e-6, joint, warpage).passed


# --- joints


def test_the_worked_running_bond_joint_is_five_thirty_seconds() -> None:
    # A published case of ANSI A108.02 §4.3.8.1: 1/8 in + 1/32 in of warpage = 5/32 in.
    limit = flatness.least_joint(0.3, 610, running_bond=True, edge="rectified", warpage_mm=INCH / 32)
    assert sixteenths(limit.mm) == pytest.approx(2.5)
    calibrated = flatness.least_joint(0.3, 610, running_bond=True, edge="calibrated")
    assert sixteenths(calibrated.mm) == pytest.approx(3)


def test_the_least_joint_is_three_times_the_variation_and_never_under_a_sixteenth() -> None:
    # ANSI A108.02 §4.3.8.
    assert flatness.least_joint(1.2).mm == pytest.approx(3.6)
    assert sixteenths(flatness.least_joint(0.0).mm) == pytest.approx(1)


def test_the_running_bond_rule_starts_beyond_15_inches() -> None:
    at = flatness.least_joint(0.3, canonical(15, "in"), running_bond=True)
    beyond = flatness.least_joint(0.3, canonical(15, "in") + 0.1, running_bond=True)
    assert sixteenths(at.mm) == pytest.approx(1)
    assert sixteenths(beyond.mm) == pytest.approx(3)


def test_a_running_bond_without_the_edge_is_asked_back() -> None:
    with pytest.raises(Refused, match=r"^flatness-bond-without-edge"):
        flatness.least_joint(0.3, running_bond=True)


@given(st.floats(0, 3), st.floats(0, 3), st.floats(0, 2))
def test_more_variation_or_warpage_never_narrows_the_joint(one: float, two: float, warpage: float) -> None:
    small, large = sorted((one, two))

    def joint(variation: float, w: float) -> float:
        return flatness.least_joint(variation, 900, running_bond=True, warpage_mm=w).mm

    assert joint(small, warpage) <= joint(large, warpage)
    assert joint(small, 0) <= joint(small, warpage)


@pytest.mark.parametrize(
    ("size", "joint"),
    # BS 5385-1 (2018 revision) as reported: 2 mm under 0.1 m2, 3 mm up to 1 m2 and 1200 mm, 5 mm for a 3 m
    # panel.
    [((300, 300), 2), ((100, 601), 3), ((600, 1200), 3), ((1000, 1000), 3), ((1000, 3000), 5), ((200, 1201), 5)],
)
def test_british_joints_go_by_the_size_of_the_face(size: tuple[float, float], joint: float) -> None:
    assert flatness.least_joint_bs_5385(*size).mm == joint
    assert flatness.least_joint_bs_5385(*reversed(size)).mm == joint


def test_british_joints_end_at_three_metres() -> None:
    with pytest.raises(OutOfRange, match=r"^flatness-side-over-british-figures"):
        flatness.least_joint_bs_5385(1000, 3001)


def test_a_joint_passes_at_the_least_width_and_fails_under_it() -> None:
    least = flatness.least_joint(1.0)
    assert flatness.joint_verdict(3.0, least).passed
    narrow = flatness.joint_verdict(2.999, least)
    assert list(map(words, narrow.reasons)) == ["a joint of 2.999 mm is narrower than the 3 mm required"]


# --- offset


def test_the_offset_limit_starts_at_15_inches_in_newer_texts_and_18_in_older() -> None:
    # ANSI A108.02 §4.3.8.2, both readings.
    sides = [canonical(inches, "in") for inches in (15, 16, 18, 19)]
    assert [flatness.offset_limit(side).mm for side in sides] == [None, *(side / 3 for side in sides[1:])]
    assert [flatness.offset_limit(side, "older").mm for side in sides] == [None, None, None, sides[3] / 3]
    # The text's 33 percent is the third-offset pattern.
    assert flatness.offset_limit(sides[3]).share == Fraction(1, 3)


@given(st.floats(400, 3000), st.floats(0, 1))
def test_an_offset_counts_alike_from_both_ends(side: float, share: float) -> None:
    shift = share * side
    if abs(min(share, 1 - share) - 1 / 3) > 1e-6:
        assert flatness.offset_verdict(shift, side).passed == flatness.offset_verdict(side - shift, side).passed
        assert flatness.offset_verdict(shift, side).passed == (min(share, 1 - share) < 1 / 3)


def test_a_third_offset_passes_and_a_half_offset_of_a_long_plank_fails() -> None:
    assert flatness.offset_verdict(400, 1200).passed
    half = flatness.offset_verdict(600, 1200)
    assert list(map(words, half.reasons)) == ["rows shifted by 600 mm are beyond one third of the side (400 mm)"]


def test_a_shift_beyond_the_side_is_asked_back() -> None:
    with pytest.raises(Refused, match=r"^flatness-offset-beyond-side"):
        flatness.offset_verdict(700, 600)


# --- movement joints


@pytest.mark.parametrize(
    ("setting", "least_ft", "greatest_ft"),
    # TCNA Handbook EJ171 and its 2018 text for above-ground slabs.
    [
        ("interior", 20, 25),
        ("interior in sun or moisture", 8, 12),
        ("exterior", 8, 12),
        ("above-ground slab", None, 12),
    ],
)
def test_movement_joint_spacing_is_as_in_ej171(
    setting: flatness.MovementSetting, least_ft: float | None, greatest_ft: float
) -> None:
    spacing = flatness.movement_joint_spacing(setting)
    assert spacing.greatest_mm == pytest.approx(greatest_ft * FOOT)
    assert (None if spacing.least_mm is None else pytest.approx(spacing.least_mm)) == (
        None if least_ft is None else least_ft * FOOT
    )


def test_british_exterior_movement_joints_are_three_to_five_metres_apart() -> None:
    # BS 5385-3 (2024), as reported.
    spacing = flatness.movement_joint_spacing("exterior BS 5385")
    assert (spacing.least_mm, spacing.greatest_mm) == (3000, 5000)


@pytest.mark.parametrize(
    ("spacing_ft", "range_f", "width_16"),
    # TCNA Handbook EJ171; 115 °F at 12 ft is a published case (9/16 in), the others follow from the rule.
    [(8, 100, 6), (12, 100, 8), (12, 115, 9), (12, 130, 10), (8, 115, 7), (12, 60, 8), (10, 100, 8), (12, 116, 10)],
)
def test_exterior_movement_joint_widths_are_as_in_ej171(spacing_ft: float, range_f: float, width_16: float) -> None:
    limit = flatness.movement_joint_width(spacing_ft * FOOT, range_f * 5 / 9)
    assert sixteenths(limit.mm) == pytest.approx(width_16)


def test_an_interior_movement_joint_is_a_quarter_inch() -> None:
    # TCNA Handbook EJ171, as reported.
    assert flatness.movement_joint_width(7000, place="interior").mm == pytest.approx(INCH / 4)


@given(st.floats(0, 100), st.floats(0, 100), st.floats(100, 3657), st.floats(100, 3657))
def test_movement_joints_never_narrow_with_more_range_or_spacing(r1: float, r2: float, s1: float, s2: float) -> None:
    (r_low, r_high), (s_low, s_high) = sorted((r1, r2)), sorted((s1, s2))
    width = flatness.movement_joint_width
    assert width(s_low, r_low).mm <= width(s_low, r_high).mm <= width(s_high, r_high).mm


def test_movement_joints_are_refused_too_far_apart_or_without_the_range() -> None:
    with pytest.raises(OutOfRange, match=r"^flatness-outside-too-far-apart"):
        flatness.movement_joint_width(3700, 50)
    with pytest.raises(OutOfRange, match=r"^flatness-inside-too-far-apart"):
        flatness.movement_joint_width(7700, place="interior")
    with pytest.raises(Refused, match=r"^flatness-no-temperature-range"):
        flatness.movement_joint_width(3000)


@given(st.floats(100, 50000), st.floats(500, 8000))
def test_a_layout_uses_the_fewest_joints_that_keep_the_spacing(length: float, spacing: float) -> None:
    layout = flatness.movement_joint_layout(length, spacing)
    assert layout.bay_mm <= spacing * (1 + 1e-6)
    assert layout.bay_mm * (layout.joints + 1) == pytest.approx(length)
    if layout.joints:
        assert length / layout.joints > spacing


def test_a_movement_joint_is_judged_by_spacing_and_width() -> None:
    passed = flatness.movement_joint_verdict(INCH / 2, 12 * FOOT, "exterior", 100 * 5 / 9)
    assert passed.passed
    both = flatness.movement_joint_verdict(6.0, 4000, "exterior", 100 * 5 / 9)
    assert len(both.reasons) == 2
    slab = flatness.movement_joint_verdict(INCH / 4, 3000, "above-ground slab")
    assert slab.passed
    outdoors = flatness.movement_joint_verdict(INCH / 4, 3000, "above-ground slab", 50)
    assert not outdoors.passed
    assert flatness.movement_joint_verdict(6.0, 4500, "exterior BS 5385").passed


@pytest.mark.parametrize(
    "call",
    [
        lambda: flatness.substrate_limit("A108", 600),  # type: ignore[arg-type]
        lambda: flatness.substrate_limit("A108.02", 600, "glass"),  # type: ignore[arg-type]
        lambda: flatness.substrate_limit("A108.02", 0),
        lambda: flatness.din_18202_limit(5, 2000),  # type: ignore[arg-type]
        lambda: flatness.substrate_verdict(-1, flatness.substrate_limit("BS 5385", None)),
        lambda: flatness.lippage_allowance(math.nan),
        lambda: flatness.least_joint(-0.1),
        lambda: flatness.offset_limit(600, "1998"),  # type: ignore[arg-type]
        lambda: flatness.movement_joint_spacing("roof"),  # type: ignore[arg-type]
        lambda: flatness.movement_joint_width(3000, -1),
        lambda: flatness.movement_joint_layout(0, 3000),
    ],
)
def test_what_cannot_be_is_refused_with_words(call: object) -> None:
    with refusal_in_words():
        call()  # type: ignore[operator]


@pytest.mark.parametrize(
    ("size", "joint"),
    # BS 5385-1 (2018 revision), as reported: 2 mm under 0.1 m2, 3 mm up to 1 m2 and 1200 mm, 5 mm beyond.
    [
        ((199, 500), 2.0),
        ((200, 500), 3.0),
        ((100, 601), 3.0),
        ((1000, 1000), 3.0),
        ((1000, 1001), 5.0),
        ((500, 1201), 5.0),
    ],
)
def test_british_joints_change_at_a_tenth_of_a_square_metre_and_at_one(size: tuple[float, float], joint: float) -> None:
    assert flatness.least_joint_bs_5385(*size).mm == joint


def test_movement_joints_may_be_exactly_as_far_apart_as_the_handbook_says() -> None:
    # TCNA Handbook EJ171, as reported: 25 ft inside, 12 ft outside.
    assert flatness.movement_joint_width(25 * FOOT, place="interior").mm == INCH / 4
    assert flatness.movement_joint_width(12 * FOOT, 50).mm == INCH / 2
    with pytest.raises(OutOfRange, match=r"^flatness-inside-too-far-apart.*at most 7620 mm"):
        flatness.movement_joint_width(25 * FOOT + 1, place="interior")
