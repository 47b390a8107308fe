"""Reading, converting and showing quantities."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldassist.language import numbers
from fieldassist.trade.message import Refused
from fieldassist.trade.quantities import (
    UNITS,
    Quantity,
    UnknownUnit,
    canonical,
    convert,
    convert_exact,
    dimension_of,
    format_quantity,
    format_size,
    nearest_fraction,
    parse_quantity,
    parse_size,
    unit_in_system,
    unit_info,
)
from tests.trade.telling import refusal_in_words

# NIST Special Publication 811 (2008), appendix B: exact factors (bold face there), and 231 in3 to the gallon
# of NIST Handbook 44, appendix C.
EXACT_FACTORS = [
    ("in", "mm", Fraction(254, 10)),
    ("ft", "m", Fraction(3048, 10000)),
    ("in2", "mm2", Fraction("645.16")),
    ("in", "cm", Fraction("2.54")),
    ("ft", "in", Fraction(12)),
    ("ft2", "m2", Fraction("0.09290304")),
    ("lb", "kg", Fraction("0.45359237")),
    ("lb", "g", Fraction("453.59237")),
    ("gal", "L", 231 * Fraction("2.54") ** 3 / 1000),
    ("qt", "mL", 231 * Fraction("2.54") ** 3 / 4),
    ("h", "min", Fraction(60)),
    ("s", "min", Fraction(1, 60)),
    ("cm2", "mm2", Fraction(100)),
]


@pytest.mark.parametrize(("source", "target", "factor"), EXACT_FACTORS)
def test_factors_are_those_of_nist_sp_811(source: str, target: str, factor: Fraction) -> None:
    assert convert_exact(Fraction(1), source, target) == factor
    assert convert(1.0, source, target) == float(factor)


@pytest.mark.parametrize(("fahrenheit", "celsius"), [(32, 0), (212, 100), (50, 10), (68, 20), (-40, -40)])
def test_temperatures_follow_the_definition_of_the_fahrenheit_scale(fahrenheit: int, celsius: int) -> None:
    # NIST SP 811 (2008), B.8: t/°C = (t/°F - 32) / 1.8.
    assert convert_exact(Fraction(fahrenheit), "degF", "degC") == celsius
    assert convert_exact(Fraction(celsius), "degC", "degF") == fahrenheit


def test_every_unit_has_its_canonical_unit_in_its_own_dimension() -> None:
    bases = {
        "percent": "percent",
        "length": "mm",
        "area": "m2",
        "mass": "kg",
        "volume": "L",
        "duration": "min",
        "temperature": "degC",
        "count": "count",
    }
    assert {info.dimension for info in UNITS.values()} == set(bases)
    for name, info in UNITS.items():
        assert info.name == name
        assert info.canonical == bases[info.dimension]
        assert unit_info(name) is info
        assert math.isfinite(canonical(1.0, name))


@given(
    st.fractions(min_value=0, max_value=10_000, max_denominator=64),
    st.sampled_from(sorted(UNITS)),
    st.sampled_from(sorted(UNITS)),
)
def test_exact_conversion_comes_back_to_the_same_fraction(value: Fraction, one: str, other: str) -> None:
    if dimension_of(one) == dimension_of(other):
        assert convert_exact(convert_exact(value, one, other), other, one) == value
    else:
        with pytest.raises(Refused, match=r"^quantities-other-dimension"):
            convert_exact(value, one, other)


@given(st.integers(0, 32 * 400))
def test_an_inch_fraction_survives_millimetres_as_a_float(marks: int) -> None:
    inches = marks / 32
    assert convert(convert(inches, "in", "mm"), "mm", "in") == inches


@given(st.integers(0, 32 * 400))
def test_every_tape_mark_prints_and_reads_back_to_itself(marks: int) -> None:
    value = Fraction(marks, 32)
    assert parse_quantity(format_quantity(value, "in")) == Quantity(value, "in")


@given(st.integers(0, 50_000))
def test_tenths_of_a_millimetre_print_and_read_back_to_themselves(tenths: int) -> None:
    value = Fraction(tenths, 10)
    assert parse_quantity(format_quantity(value, "mm")) == Quantity(value, "mm")


@given(st.floats(0, 1000), st.sampled_from([1, 2, 4, 8, 16, 32, 64]))
def test_the_nearest_fraction_is_within_half_a_mark_and_its_error_is_the_true_one(
    inches: float, denominator: int
) -> None:
    near = nearest_fraction(inches, denominator)
    value = near.whole + Fraction(near.numerator, near.denominator)
    assert abs(near.error_in) <= 0.5 / denominator + 1e-12
    assert math.isclose(float(value) - inches, near.error_in, abs_tol=1e-12)
    assert denominator % near.denominator == 0
    assert near.numerator < near.denominator
    assert math.gcd(near.numerator, near.denominator) == 1


def test_limits_of_the_trade_print_as_the_fractions_they_are() -> None:
    # 3/32, 1/4 and 1/2 in: bed limits as printed in millimetres by bulletin 18 of the Materials and Methods
    # Standards Association (May 2020): 2.38, 6.35, 12.7.
    assert [format_quantity(mm, "mm", "us") for mm in (2.38125, 6.35, 12.7)] == [
        "3/32 in",
        "1/4 in",
        "1/2 in",
    ]
    assert nearest_fraction(2.38 / 25.4).error_in == pytest.approx(0.05e-3, abs=0.01e-3)


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("1/2 in", "1/2", "in"),
        ('5/32"', "5/32", "in"),
        ("5/32″", "5/32", "in"),
        ("1-3/8 in", "11/8", "in"),
        ("1 3/8 inches", "11/8", "in"),
        ("1⅜ in", "11/8", "in"),
        ("½ in", "1/2", "in"),
        ("12.5 mm", "25/2", "mm"),
        (".5 in", "1/2", "in"),
        ("4'-6\"", "54", "in"),
        ("4' 6 1/2\"", "109/2", "in"),
        ("4 ft 6 in", "54", "in"),
        ("4'", "4", "ft"),
        ("95 %", "95", "percent"),
        ("95 percent", "95", "percent"),
        ("4 m2", "4", "m2"),
        ("4 m²", "4", "m2"),
        ("43 ft2", "43", "ft2"),
        ("43 sq ft", "43", "ft2"),
        ("2 in²", "2", "in2"),
        ("20 min", "20", "min"),
        ("1 h 30 min", "90", "min"),
        ("68 F", "68", "degF"),
        ("20 °C", "20", "degC"),
        ("20 degC", "20", "degC"),
        ("-5 °C", "-5", "degC"),
        ("50 lb", "50", "lb"),
        ("4.7 L", "47/10", "L"),
        ("5 qt", "5", "qt"),
        ("3 count", "3", "count"),
    ],
)
def test_quantities_are_read_as_the_trade_writes_them(text: str, value: str, unit: str) -> None:
    assert parse_quantity(text) == Quantity(Fraction(value), unit)


@pytest.mark.parametrize("name", sorted(UNITS))
def test_every_unit_is_read_by_its_name_its_symbol_and_as_it_is_said(name: str) -> None:
    info = UNITS[name]
    said = "7 pieces" if name == "count" else numbers.say(Fraction(7), name).replace("seven", "7")
    for written in (f"7 {info.name}", f"7 {info.symbol or info.name}", said):
        assert parse_quantity(written) == Quantity(Fraction(7), name)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "quantities-nothing"),
        ("mm", "quantities-not-a-quantity"),
        ("12", "quantities-no-unit"),
        ("1,200 mm", "quantities-comma"),
        ("12,5 mm", "quantities-comma"),
        ("-3 mm", "quantities-below-zero"),
        ("-95 %", "quantities-below-zero"),
        ("1-3 in", "quantities-two-numbers"),
        ("1.2.3 mm", "quantities-two-numbers"),
        ("1/0 in", "quantities-divides-by-zero"),
        ("1-9/8 in", "quantities-fraction-over-one"),
        ("4 ft 13 in", "quantities-twelve-inches"),
        ("3 furlongs", "quantities-unknown-unit"),
        ("nan mm", "quantities-not-a-quantity"),
        (f"{'9' * 30} mm", "quantities-number-too-long"),
    ],
)
def test_what_cannot_be_read_is_refused_with_what_to_write(text: str, says: str) -> None:
    with pytest.raises(Refused, match=rf"^{says}\b"):
        parse_quantity(text)


@given(st.text(max_size=20) | st.text(alphabet="0123456789./-+'\" xinmftbyhlgC%²½,°′٣", max_size=20))
def test_any_text_is_read_exactly_or_refused_in_a_sentence_and_never_breaks(text: str) -> None:
    for reader in (parse_quantity, parse_size):
        try:
            answer: object = reader(text)
        except ValueError as refusal:
            answer = str(refusal)
        assert answer


def test_a_default_unit_serves_a_bare_number_only() -> None:
    assert parse_quantity("12", "mm") == Quantity(Fraction(12), "mm")
    assert parse_quantity("1/2 in", "mm") == Quantity(Fraction(1, 2), "in")
    with pytest.raises(UnknownUnit, match=r"^quantities-unknown-unit"):
        parse_quantity("12", "cubit")


@pytest.mark.parametrize(
    ("text", "sides"),
    [
        ("1200 x 2400 mm", (("1200", "mm"), ("2400", "mm"))),
        ("1200 × 2400 mm", (("1200", "mm"), ("2400", "mm"))),
        ("24x48 in", (("24", "in"), ("48", "in"))),
        ("2 x 4 ft", (("2", "ft"), ("4", "ft"))),
        ("2 by 4 ft", (("2", "ft"), ("4", "ft"))),
        ("4' x 8'", (("4", "ft"), ("8", "ft"))),
        ("2'-0\" x 4'-0\"", (("24", "in"), ("48", "in"))),
        ("1200 mm x 600", (("1200", "mm"), ("600", "mm"))),
    ],
)
def test_sizes_are_read_with_the_unit_shared(text: str, sides: tuple[tuple[str, str], tuple[str, str]]) -> None:
    assert parse_size(text) == tuple(Quantity(Fraction(value), unit) for value, unit in sides)


@pytest.mark.parametrize("text", ["1200 mm", "24 x 48", "3 kg x 4", "0 x 4 mm", "1 x 2 x 3 mm", "x 4 mm"])
def test_what_is_not_two_lengths_is_refused_as_a_size(text: str) -> None:
    with refusal_in_words():
        parse_size(text)


@pytest.mark.parametrize(
    ("value", "unit", "system", "text"),
    [
        (2.38125, "mm", "as given", "2.4 mm"),
        (12.0, "mm", "as given", "12 mm"),
        (0.04, "mm", "as given", "0.04 mm"),
        (0.0, "mm", "as given", "0 mm"),
        (1200, "mm", "us", "47-1/4 in"),
        (34.925, "mm", "us", "1-3/8 in"),
        (10.0, "mm", "us", "0.394 in"),
        (0.5, "in", "metric", "12.7 mm"),
        (10.0, "ft", "metric", "3.05 m"),
        (95.0, "percent", "us", "95 %"),
        (20.0, "degC", "us", "68 °F"),
        (50.0, "degF", "metric", "10 °C"),
        (4.0, "m2", "as given", "4 m²"),
        (4.0, "m2", "us", "43.1 ft²"),
        (1290.32, "mm2", "us", "2 in²"),
        (2.0, "in2", "metric", "12.9 cm²"),
        (50.0, "lb", "metric", "22.7 kg"),
        (20.0, "min", "us", "20 min"),
        (3, "count", "as given", "3"),
    ],
)
def test_quantities_are_shown_as_the_crew_reads_them(value: float, unit: str, system: str, text: str) -> None:
    assert format_quantity(value, unit, system) == text  # type: ignore[arg-type]


def test_a_thin_bed_is_not_rounded_up_to_the_fraction_it_misses() -> None:
    assert format_quantity(2.25, "mm", "us") == "0.089 in"


def test_sizes_are_shown_with_one_unit() -> None:
    assert format_size(609.6, 1219.2, "mm", "us") == "24 × 48 in"


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_what_is_not_a_number_is_neither_converted_nor_shown(value: float) -> None:
    for refuse in (
        lambda: convert(value, "mm", "in"),
        lambda: format_quantity(value, "mm"),
        lambda: nearest_fraction(value),
    ):
        with pytest.raises(Refused, match=r"^(quantities-not-finite|quantities-not-on-a-tape)\b"):
            refuse()


def test_wrong_requests_say_what_is_allowed() -> None:
    with pytest.raises(UnknownUnit, match=r"^quantities-unknown-unit"):
        unit_info("furlong")
    with pytest.raises(Refused, match=r"^quantities-other-dimension"):
        convert(1.0, "mm", "kg")
    with pytest.raises(Refused, match=r"^quantities-unknown-system"):
        unit_in_system("mm", "imperial")  # type: ignore[arg-type]
    with pytest.raises(Refused, match=r"^quantities-marks"):
        nearest_fraction(1.0, 10)
    with pytest.raises(Refused, match=r"^quantities-not-on-a-tape"):
        nearest_fraction(-0.1)
    with pytest.raises(UnknownUnit):
        Quantity(Fraction(1), "cubit")
