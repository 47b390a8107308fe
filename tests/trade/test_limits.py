"""Limits: what is shown passes, one step beyond fails, and the figures that are shown agree with the answer."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldassist.trade import coverage, flatness, mortar, ridges, times
from fieldassist.trade.basis import PRACTICE
from fieldassist.trade.limits import Limit, Side, exactly, keeps_to, shown
from fieldassist.trade.message import Refused
from fieldassist.trade.quantities import (
    UNITS,
    FractionOfInch,
    Quantity,
    as_written,
    convert_exact,
    decimals_of,
    dimension_of,
    format_quantity,
    parse_quantity,
)


def published() -> Iterator[tuple[str, Limit]]:
    """Every limit of the trade that a day may hold a reading against."""
    for standard in get_args(flatness.FlatnessStandard):
        for edge in (300.0, 600.0):
            base = flatness.substrate_limit(standard, edge)
            yield f"{standard}, edge {edge:g}", Limit.of(None, base.gap_mm, "mm", base.basis)  # type: ignore[arg-type]
            if base.short_gap_mm is not None:
                yield f"{standard}, short", Limit.of(None, base.short_gap_mm, "mm", base.basis)
    for joint in (1.5875, 3.175, 6.35):
        for warpage in (0.0, 0.5, 25.4 / 32):
            step = flatness.lippage_allowance(joint, warpage)
            yield f"lippage at {joint} and {warpage}", Limit.of(None, step.mm, "mm", step.basis)
    for variation in (0.1, 0.5, 1.0, 1.3):
        least = flatness.least_joint(variation, 610, running_bond=True, warpage_mm=25.4 / 32)
        yield f"joint for {variation}", Limit.of(least.mm, None, "mm", least.basis)
    for side in (600.0, 800.0, 1000.0):
        third = flatness.offset_limit(side)
        yield f"a third of {side}", Limit.of(None, third.mm, "mm", third.basis)
    for range_f in (100, 115, 130):
        width = flatness.movement_joint_width(12 * 304.8, range_f * 5 / 9)
        yield f"movement joint at {range_f} °F", Limit.of(width.mm, None, "mm", width.basis)
    for product in get_args(coverage.Product):
        for place in get_args(coverage.Place):
            need = coverage.required_contact(product, place, "floor")
            yield f"{product}, {place}", Limit.of(need.minimum_percent, None, "percent", need.basis)
            if need.largest_void_mm2 is not None:
                yield f"void of {product}", Limit.of(None, need.largest_void_mm2, "mm2", need.basis)
                yield f"edge of {product}", Limit.of(need.edge_clear_mm, None, "mm", need.basis)
    for kind in get_args(mortar.MortarKind):
        bed = mortar.bed_limits(kind)
        yield kind, Limit.of(bed.minimum_mm, bed.maximum_mm, "mm", bed.basis)
    for practice in ("us", "eu"):
        air = times.working_temperature(practice=practice)  # type: ignore[arg-type]
        yield f"air, {practice}", Limit.of(air.minimum_c, air.maximum_c, "degC", air.basis)
    yield "slake", Limit.of(times.slake().least_min, times.slake().greatest_min, "min", PRACTICE)
    for name, notch in ridges.COMMON_NOTCHES.items():
        yield name, Limit.of(ridges.slide_distance(notch).out_mm, None, "mm", PRACTICE)


PUBLISHED = list(published())


def units_of(limit: Limit) -> list[str]:
    return [unit for unit in UNITS if dimension_of(unit) == dimension_of(limit.unit)]


def step_of(quantity: Quantity) -> Fraction:
    """The step of the tool: a mark of the tape where a fraction is shown, otherwise the last decimal."""
    number = as_written(quantity.value, quantity.unit, quantity.decimals)
    if isinstance(number, FractionOfInch):
        return Fraction(1, 32)
    return Fraction(
        1, 10 ** (decimals_of(quantity.value, quantity.unit) if quantity.decimals is None else quantity.decimals)
    )


def check_shown(limit: Limit, unit: str) -> None:
    for side, _ in limit.ends:
        told = limit.shown(side, unit)
        text = format_quantity(told.value, unit, decimals=told.decimals)
        assert limit.judge(parse_quantity(text, "count" if unit == "count" else None)).passed, text
        beyond = step_of(told) * (1 if side == "at most" else -1)
        judged = limit.judge(Quantity(told.value + beyond, unit))
        assert judged.code == ("over" if side == "at most" else "under"), text
        assert judged.side == side


@pytest.mark.parametrize("limit", [limit for _, limit in PUBLISHED], ids=[name for name, _ in PUBLISHED])
def test_a_published_limit_as_it_is_shown_passes_and_one_step_beyond_fails(limit: Limit) -> None:
    for unit in units_of(limit):
        check_shown(limit, unit)


@given(
    st.sampled_from(list(UNITS)),
    st.fractions(min_value=Fraction(1, 1000), max_value=5000, max_denominator=4096),
    st.sampled_from(get_args(Side)),
    st.data(),
)
def test_any_limit_as_it_is_shown_passes_and_one_step_beyond_fails(
    own: str, value: Fraction, side: Side, data: st.DataObject
) -> None:
    limit = Limit(value, None, own, PRACTICE) if side == "at least" else Limit(None, value, own, PRACTICE)
    check_shown(limit, data.draw(st.sampled_from(units_of(limit))))


@pytest.mark.parametrize(
    ("text", "side", "unit", "as_shown"),
    [
        # 1 in = 25.4 mm exactly (1959): 1/8 in 3.175, 1/16 in 1.5875, 1/32 in 0.79375, 3/32 in 2.38125 mm.
        ("3.175 mm", "at most", "in", "1/8 in"),
        ("3.175 mm", "at most", "mm", "3.1 mm"),
        ("1.5875 mm", "at most", "in", "1/16 in"),
        ("1.5875 mm", "at most", "mm", "1.5 mm"),
        ("0.79375 mm", "at most", "in", "1/32 in"),
        ("0.79375 mm", "at most", "mm", "0.7 mm"),
        ("2.38125 mm", "at least", "in", "3/32 in"),
        ("2.38125 mm", "at least", "mm", "2.4 mm"),
        # A metric limit lies on no mark of the tape.
        ("3 mm", "at most", "in", "0.118 in"),
        ("3 mm", "at least", "in", "0.119 in"),
        ("6.34 mm", "at most", "in", "0.249 in"),
        # 2 in² = 1290.32 mm², 50 °F = 10 °C.
        ("2 in2", "at most", "mm2", "1290 mm²"),
        ("2 in2", "at most", "cm2", "12.9 cm²"),
        ("10 C", "at least", "degF", "50 °F"),
        ("95 %", "at least", "percent", "95 %"),
        # Something small is not nothing.
        ("0.004 in2", "at most", "in2", "0.004 in²"),
    ],
)
def test_a_limit_is_shown_on_its_safe_side(text: str, side: Side, unit: str, as_shown: str) -> None:
    told = shown(parse_quantity(text), side, unit)
    assert format_quantity(told.value, told.unit, decimals=told.decimals) == as_shown


def test_a_hundred_degrees_stay_a_hundred_on_their_way_through_celsius() -> None:
    air = times.working_temperature()
    limit = Limit.of(air.minimum_c, air.maximum_c, "degC", air.basis)  # type: ignore[arg-type]
    assert limit.shown("at most", "degF").value == 100
    assert limit.shown("at least", "degF").value == 50
    assert limit.judge(Quantity(Fraction(100), "degF")).passed
    # What arithmetic leaves, above or below, is no step of the tool.
    for celsius in ((100 - 32) / 1.8, (100 - 32) * 5 / 9 - 1e-14):
        for side in get_args(Side):
            assert shown(exactly(celsius, "degC"), side, "degF").value == 100


@given(
    st.sampled_from([limit for _, limit in PUBLISHED]),
    st.fractions(min_value=0, max_value=2000, max_denominator=10**5),
    st.data(),
)
def test_the_figures_that_are_shown_agree_with_the_answer(limit: Limit, value: Fraction, data: st.DataObject) -> None:
    unit = data.draw(st.sampled_from(units_of(limit)))
    near = data.draw(st.booleans())
    _, end = data.draw(st.sampled_from(limit.ends))
    if near:
        value = convert_exact(end.value, end.unit, unit) + value / 10**5
    judged = limit.judge(Quantity(value, unit))
    read, bound = (
        parse_quantity(format_quantity(q.value, unit, decimals=q.decimals), "count" if unit == "count" else None).value
        for q in (judged.read, judged.limit)
    )
    if judged.code == "over":
        assert read > bound
    elif judged.code == "under":
        assert read < bound
    else:
        assert read <= bound if judged.side == "at most" else read >= bound


def test_a_reading_a_hair_short_of_its_limit_is_told_apart_from_it() -> None:
    judged = Limit(Fraction(95), None, "percent", PRACTICE).judge(Quantity(Fraction("94.97"), "percent"))
    assert judged.code == "under"
    assert format_quantity(judged.read.value, "percent", decimals=judged.read.decimals) == "94.97 %"
    assert format_quantity(judged.limit.value, "percent", decimals=judged.limit.decimals) == "95 %"


def test_exactly_at_both_ends_passes_and_either_side_fails() -> None:
    limit = Limit(Fraction(5), Fraction(35), "degC", PRACTICE)
    codes = [limit.judge(Quantity(Fraction(text), "degC")).code for text in ("4.9", "5", "20", "35", "35.1")]
    assert codes == ["under", "passed", "passed", "passed", "over"]


def test_arithmetic_in_floats_fails_nobody() -> None:
    assert keeps_to(2 * 25.4 * 25.4, 1290.32, "at most")
    assert keeps_to(0.1 + 0.2, 0.3, "at most")
    assert not keeps_to(1290.33, 1290.32, "at most")
    assert exactly(0.1, "mm").value == Fraction(1, 10)


def test_a_limit_that_says_nothing_or_contradicts_itself_is_refused() -> None:
    with pytest.raises(Refused, match=r"^quantities-limit-open"):
        Limit(None, None, "mm", PRACTICE)
    with pytest.raises(Refused, match=r"^quantities-limit-crossed"):
        Limit(Fraction(3), Fraction(2), "mm", PRACTICE)
    with pytest.raises(Refused, match=r"^quantities-limit-no-end"):
        Limit(None, Fraction(2), "mm", PRACTICE).shown("at least")
    with pytest.raises(Refused, match=r"^quantities-other-dimension"):
        Limit(None, Fraction(2), "mm", PRACTICE).judge(Quantity(Fraction(1), "kg"))
