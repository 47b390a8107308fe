"""Quantities of the trade: read as they are written, converted exactly, shown as the crew expects them.

Every other module of this package takes and gives floats in the canonical unit of the dimension (mm, m2, kg,
L, min, degC, percent, count). This module is the border: text and other units live outside it.

The inch is exactly 25.4 mm and the pound exactly 0.45359237 kg (international yard and pound agreement,
1959); the US liquid gallon is exactly 231 cubic inches (NIST Handbook 44, appendix C); temperatures follow
t/°C = (t/°F - 32) / 1.8 (NIST SP 811). Factors are exact fractions, so that inch to millimetre and back gives the
same number.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from types import MappingProxyType
from typing import Literal

from fieldassist.trade.message import Refused, Several, message

__all__ = [
    "UNITS",
    "Dimension",
    "FractionOfInch",
    "Quantity",
    "System",
    "UnitInfo",
    "Units",
    "UnknownUnit",
    "as_written",
    "canonical",
    "convert",
    "convert_exact",
    "decimals_of",
    "dimension_of",
    "format_quantity",
    "format_size",
    "nearest_fraction",
    "parse_quantity",
    "parse_size",
    "unit_in_system",
    "unit_info",
]

Dimension = Literal["percent", "length", "area", "mass", "volume", "duration", "temperature", "count"]
Units = Literal["metric", "us"]
System = Literal["as given", "metric", "us"]


class UnknownUnit(Refused):
    """A unit that this tool does not know; `told` lists those it does."""


@dataclass(frozen=True, slots=True)
class UnitInfo:
    """One accepted unit: how it is written (`name`, `symbol`), and what it is reduced to (`canonical`)."""

    name: str
    dimension: Dimension
    symbol: str
    canonical: str


@dataclass(frozen=True, slots=True)
class Quantity:
    """An exact value with the unit in which it was given.

    decimals: with how many it is shown, where that is not left to its unit; two quantities that differ in it alone
    are equal. Errors: `UnknownUnit` for a unit outside `UNITS`.

    >>> Quantity(Fraction(3, 8), "in")
    Quantity(value=Fraction(3, 8), unit='in')
    """

    value: Fraction
    unit: str
    decimals: int | None = field(default=None, compare=False, repr=False)

    def __post_init__(self) -> None:
        unit_info(self.unit)
        object.__setattr__(self, "value", Fraction(self.value))


@dataclass(frozen=True, slots=True)
class FractionOfInch:
    """Whole inches and a reduced fraction; `error_in` is the fraction minus the true value [in]."""

    whole: int
    numerator: int
    denominator: int
    error_in: float

    def __str__(self) -> str:
        """As a tape measure is read, without the unit.

        >>> print(nearest_fraction(47.25))
        47-1/4
        """
        if self.numerator == 0:
            return str(self.whole)
        part = f"{self.numerator}/{self.denominator}"
        return f"{self.whole}-{part}" if self.whole else part


_INCH_MM = Fraction(254, 10)
_FOOT_MM = 12 * _INCH_MM
_POUND_KG = Fraction(45_359_237, 10**8)
_GALLON_L = 231 * (_INCH_MM / 100) ** 3
_THOUSANDTH = Fraction(1, 1000)
_DEGREE_F = Fraction(5, 9)

# dimension, canonical unit, then each unit: name, symbol, how many canonical ones it is.
_ROWS: tuple[tuple[Dimension, str, tuple[tuple[str, str, Fraction | int], ...]], ...] = (
    ("percent", "percent", (("percent", "%", 1),)),
    (
        "length",
        "mm",
        (
            ("mm", "mm", 1),
            ("cm", "cm", 10),
            ("m", "m", 1000),
            ("in", "in", _INCH_MM),
            ("ft", "ft", _FOOT_MM),
        ),
    ),
    (
        "area",
        "m2",
        (
            ("mm2", "mm²", _THOUSANDTH**2),
            ("cm2", "cm²", Fraction(1, 10**4)),
            ("m2", "m²", 1),
            ("in2", "in²", (_INCH_MM / 1000) ** 2),
            ("ft2", "ft²", (_FOOT_MM / 1000) ** 2),
        ),
    ),
    (
        "mass",
        "kg",
        (
            ("g", "g", _THOUSANDTH),
            ("kg", "kg", 1),
            ("lb", "lb", _POUND_KG),
        ),
    ),
    (
        "volume",
        "L",
        (
            ("L", "L", 1),
            ("mL", "mL", _THOUSANDTH),
            ("qt", "qt", _GALLON_L / 4),
            ("gal", "gal", _GALLON_L),
        ),
    ),
    (
        "duration",
        "min",
        (
            ("s", "s", Fraction(1, 60)),
            ("min", "min", 1),
            ("h", "h", 60),
        ),
    ),
    (
        "temperature",
        "degC",
        (
            ("degC", "°C", 1),
            ("degF", "°F", _DEGREE_F),
        ),
    ),
    ("count", "count", (("count", "", 1),)),
)

UNITS: Mapping[str, UnitInfo] = MappingProxyType(
    {name: UnitInfo(name, dimension, symbol, base) for dimension, base, units in _ROWS for name, symbol, _ in units}
)

# To the canonical unit: value * factor + offset.
_FACTORS: Mapping[str, Fraction] = {row[0]: Fraction(row[2]) for _, _, units in _ROWS for row in units}
_OFFSETS: Mapping[str, Fraction] = {"degF": -32 * _DEGREE_F}

_ALIASES: dict[str, str] = {
    alias: name
    for name, aliases in {
        "percent": "% percent pct per-cent",
        "mm": "mm millimeter millimeters millimetre millimetres",
        "cm": "cm centimeter centimeters centimetre centimetres",
        "m": "m meter meters metre metres",
        "in": 'in in. inch inches "',
        "ft": "ft ft. foot feet '",
        "mm2": "mm2 mm^2 sq-mm square-millimeter square-millimeters square-millimetre square-millimetres",
        "cm2": "cm2 cm^2 sq-cm square-centimeter square-centimeters square-centimetre square-centimetres",
        "m2": "m2 m^2 sq-m square-meter square-meters square-metre square-metres",
        "in2": "in2 in^2 sq-in sq-in. square-inch square-inches",
        "ft2": "ft2 ft^2 sq-ft sq-ft. square-foot square-feet",
        "g": "g gram grams",
        "kg": "kg kilo kilos kilogram kilograms",
        "lb": "lb lb. lbs lbs. pound pounds",
        "L": "l liter liters litre litres",
        "mL": "ml milliliter milliliters millilitre millilitres",
        "qt": "qt qt. quart quarts",
        "gal": "gal gal. gallon gallons",
        "s": "s sec secs second seconds",
        "min": "min min. mins minute minutes",
        "h": "h hr hrs hour hours",
        "degC": "degc °c c celsius degree-celsius degrees-celsius degrees-c deg-c °-c",
        "degF": "degf °f f fahrenheit degree-fahrenheit degrees-fahrenheit degrees-f deg-f °-f",
        "count": "count pc pcs piece pieces",
    }.items()
    for alias in aliases.split()
}

# What the crew works in when the screen is switched over, unit by unit: a tile stays in mm or inches, a wall
# in m or feet, so that nobody reads a ten-metre run in inches.
_TO_US = {
    "mm": "in",
    "cm": "in",
    "m": "ft",
    "mm2": "in2",
    "cm2": "in2",
    "m2": "ft2",
    "g": "lb",
    "kg": "lb",
    "mL": "qt",
    "L": "qt",
    "degC": "degF",
}
_TO_METRIC = {
    "in": "mm",
    "ft": "m",
    "in2": "cm2",
    "ft2": "m2",
    "lb": "kg",
    "qt": "L",
    "gal": "L",
    "degF": "degC",
}

_DECIMALS = {
    "percent": 1,
    "mm": 1,
    "cm": 2,
    "m": 2,
    "ft": 2,
    "mm2": 0,
    "cm2": 1,
    "m2": 2,
    "in2": 2,
    "ft2": 1,
    "g": 0,
    "kg": 1,
    "lb": 1,
    "mL": 0,
    "L": 2,
    "qt": 2,
    "gal": 2,
    "s": 0,
    "min": 1,
    "h": 2,
    "degC": 1,
    "degF": 1,
    "count": 2,
}

_VULGAR = {
    "¼": "1/4",
    "½": "1/2",
    "¾": "3/4",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
    "⅓": "1/3",
    "⅔": "2/3",
}

_TYPED_ALIKE = {
    "″": '"',
    "”": '"',
    "“": '"',
    "′": "'",
    "’": "'",
    "‘": "'",
    "−": "-",
    "–": "-",
    "\u2010": "-",
    "\u2011": "-",
    "²": "2",
    "º": "°",
    "⁄": "/",
    "\u00a0": " ",
    "\u202f": " ",
}


def _all_units() -> Several:
    return Several(tuple(UNITS))


def unit_info(name: str) -> UnitInfo:
    """The entry of `UNITS` for `name`, one of its exact keys.

    Errors: `UnknownUnit`, with the units that are allowed.

    >>> unit_info("m2").symbol, unit_info("m2").canonical
    ('m²', 'm2')
    """
    try:
        return UNITS[name]
    except KeyError:
        raise UnknownUnit(message("quantities-unknown-unit", unit=name, allowed=_all_units())) from None


def dimension_of(unit: str) -> Dimension:
    """What `unit` measures.

    Errors: `UnknownUnit`.

    >>> dimension_of("qt")
    'volume'
    """
    return unit_info(unit).dimension


def _check_same_dimension(from_unit: str, to_unit: str) -> None:
    source, target = unit_info(from_unit), unit_info(to_unit)
    if source.dimension != target.dimension:
        fits = Several(tuple(name for name, info in UNITS.items() if info.dimension == source.dimension))
        raise Refused(message("quantities-other-dimension", from_unit=from_unit, to_unit=to_unit, fits=fits))


def convert_exact(value: Fraction, from_unit: str, to_unit: str) -> Fraction:
    """Convert without rounding; every factor among `UNITS` is an exact fraction.

    Parameters: value [from_unit]. Result: [to_unit].
    Errors: `UnknownUnit`; `Refused` when the two units measure different things, saying what fits.

    >>> convert_exact(Fraction(3, 32), "in", "mm")
    Fraction(381, 160)
    >>> convert_exact(Fraction(68), "degF", "degC")
    Fraction(20, 1)

    References: [1] International yard and pound agreement, 1959: 1 yd = 0.9144 m, 1 lb = 0.45359237 kg.
    [2] NIST Handbook 44, appendix C: 1 US gallon = 231 in³. [3] NIST SP 811 (2008), B.8, for temperatures.
    """
    _check_same_dimension(from_unit, to_unit)
    canonical_value = Fraction(value) * _FACTORS[from_unit] + _OFFSETS.get(from_unit, 0)
    return (canonical_value - _OFFSETS.get(to_unit, 0)) / _FACTORS[to_unit]


def convert(value: float | Fraction, from_unit: str, to_unit: str) -> float:
    """Convert to the float nearest to the exact result.

    Parameters: value [from_unit], finite. Result: [to_unit].
    Errors: `UnknownUnit`; `Refused` for another dimension or a value that is not finite.

    >>> convert(0.5, "in", "mm")
    12.7
    >>> convert(12.7, "mm", "in")
    0.5
    >>> convert(50, "lb", "kg")
    22.6796185
    """
    if from_unit == to_unit:
        unit_info(from_unit)
        return float(value)
    if isinstance(value, Fraction):
        return float(convert_exact(value, from_unit, to_unit))
    if not math.isfinite(value):
        raise Refused(message("quantities-not-finite", value=f"{value}", unit=from_unit))
    # The decimal that a person wrote (12.7), not the binary float beside it, is what converts exactly.
    return float(convert_exact(Fraction(repr(float(value))), from_unit, to_unit))


@lru_cache(maxsize=8192, typed=True)
def canonical(value: float | Fraction, unit: str) -> float:
    """The value in the canonical unit of its dimension (mm, m2, kg, L, min, degC, percent, count).

    Errors: `UnknownUnit`; `Refused` for a value that is not finite.

    >>> canonical(1.5, "h")
    90.0
    """
    return convert(value, unit, unit_info(unit).canonical)


def unit_in_system(unit: str, system: System) -> str:
    """The unit in which a value given in `unit` is shown in `system`.

    >>> unit_in_system("mm", "us"), unit_in_system("ft2", "metric"), unit_in_system("min", "us")
    ('in', 'm2', 'min')
    """
    unit_info(unit)
    if system == "us":
        return _TO_US.get(unit, unit)
    if system == "metric":
        return _TO_METRIC.get(unit, unit)
    if system == "as given":
        return unit
    raise Refused(message("quantities-unknown-system", system=str(system)))


_NUMBER = r"(?:\d+[- ]\d+/\d+|\d+/\d+|\d+\.\d+|\d+|\.\d+)"
_NUMBER_ONLY = re.compile(rf"({_NUMBER})\s*(.*)", re.DOTALL)
_FEET_INCHES = re.compile(
    rf"({_NUMBER})\s*(?:ft\.?|foot|feet|')\s*-?\s*({_NUMBER})\s*(?:in\.?|inch|inches|\")",
)
_HOURS_MINUTES = re.compile(rf"({_NUMBER})\s*(?:h|hr|hrs|hour|hours)\s*({_NUMBER})\s*(?:min|mins|minute|minutes)")


def _tidy(text: str) -> str:
    for mark, plain in _VULGAR.items():
        # "1½" is one and a half, not eleven halves.
        text = re.sub(rf"(\d)\s*{mark}", rf"\1-{plain}", text).replace(mark, plain)
    for odd, plain in _TYPED_ALIKE.items():
        text = text.replace(odd, plain)
    return re.sub(r"\s+", " ", text.replace("''", '"')).strip().lower()


def _number(text: str, whole_text: str) -> Fraction:
    if len(text) > 24:
        raise Refused(message("quantities-number-too-long", characters=len(text)))
    head, _, fraction = text.replace("-", " ").rpartition(" ")
    top, slash, bottom = fraction.partition("/")
    if slash and int(bottom) == 0:
        raise Refused(message("quantities-divides-by-zero", text=whole_text))
    value = Fraction(int(top), int(bottom)) if slash else Fraction(fraction)
    if head:
        if value >= 1:
            raise Refused(message("quantities-fraction-over-one", text=whole_text))
        value += int(head)
    return value


def parse_quantity(text: str, default_unit: str | None = None) -> Quantity:
    """Read a quantity as people of the trade write it.

    Parameters: text, such as `1/2 in`, `5/32"`, `1-3/8 in`, `12.5 mm`, `4'-6"`, `4 ft 6 in`, `95 %`, `4 m2`,
    `1 h 30 min`, `68 F`; default_unit, taken for a bare number (without it a bare number is refused).
    Result: the exact value and the unit as given; feet with inches become inches, hours with minutes minutes.
    Limits: only a temperature may be below zero. A comma is refused, since it means thousands to one crew and
    decimals to another.
    Errors: `Refused` (and `UnknownUnit`) with what was not understood and an example.

    >>> parse_quantity('5/32"')
    Quantity(value=Fraction(5, 32), unit='in')
    >>> parse_quantity("4'-6\\"")
    Quantity(value=Fraction(54, 1), unit='in')
    >>> parse_quantity("12.5", default_unit="mm")
    Quantity(value=Fraction(25, 2), unit='mm')
    """
    if default_unit is not None:
        unit_info(default_unit)
    tidy = _tidy(text)
    if not tidy:
        raise Refused(message("quantities-nothing"))
    if "," in tidy:
        raise Refused(message("quantities-comma", text=text))
    negative = tidy.startswith("-")
    body = tidy[1:].strip() if negative else tidy.removeprefix("+").strip()
    value, unit = _value_and_unit(body, text, default_unit)
    if negative:
        if dimension_of(unit) != "temperature":
            raise Refused(message("quantities-below-zero", text=text))
        value = -value
    return Quantity(value, unit)


def _value_and_unit(body: str, text: str, default_unit: str | None) -> tuple[Fraction, str]:
    if match := _FEET_INCHES.fullmatch(body):
        feet, inches = (_number(part, text) for part in match.groups())
        if inches >= 12:
            raise Refused(message("quantities-twelve-inches", text=text))
        return feet * 12 + inches, "in"
    if match := _HOURS_MINUTES.fullmatch(body):
        hours, minutes = (_number(part, text) for part in match.groups())
        return hours * 60 + minutes, "min"
    match = _NUMBER_ONLY.fullmatch(body)
    if not match:
        raise Refused(message("quantities-not-a-quantity", text=text))
    value, unit_text = _number(match[1], text), match[2].strip()
    if not unit_text:
        if default_unit is None:
            raise Refused(message("quantities-no-unit", text=text, number=body))
        return value, default_unit
    unit = _ALIASES.get(unit_text.replace(" ", "-"))
    if unit is None:
        if re.search(r"\d(?<![a-z^]\d)", unit_text):
            raise Refused(message("quantities-two-numbers", text=text))
        raise UnknownUnit(message("quantities-unknown-unit", unit=unit_text, allowed=_all_units()))
    return value, unit


def parse_size(text: str, default_unit: str | None = None) -> tuple[Quantity, Quantity]:
    """Read the two sides of a tile or an opening, in the order given.

    Parameters: text, two lengths with `x`, `×` or `by` between them; where only one carries a unit it
    holds for both; default_unit [length], taken where neither does.
    Errors: `Refused` for anything else than two lengths above zero.

    >>> parse_size("1200 x 2400 mm")
    (Quantity(value=Fraction(1200, 1), unit='mm'), Quantity(value=Fraction(2400, 1), unit='mm'))
    >>> parse_size("24x48 in")[1]
    Quantity(value=Fraction(48, 1), unit='in')
    """
    parts = [part.strip() for part in re.split(r"\s*(?:x|×|\bby\b)\s*", _tidy(text))]
    if len(parts) != 2 or not all(parts):
        raise Refused(message("quantities-not-a-size", text=text))
    shared = default_unit
    for part in parts:
        if re.search(r"[a-z\"']", part):
            shared = parse_quantity(part).unit
    sides = (parse_quantity(parts[0], shared), parse_quantity(parts[1], shared))
    for side in sides:
        if dimension_of(side.unit) != "length":
            raise Refused(message("quantities-size-no-length", text=text, unit=side.unit))
        if side.value <= 0:
            raise Refused(message("quantities-size-zero", text=text))
    return sides


def nearest_fraction(inches: float | Fraction, denominator: int = 32) -> FractionOfInch:
    """The nearest fraction on a tape with `denominator` marks to the inch, reduced, and how far off it is.

    Parameters: inches [in], finite, at least 0; denominator, a power of two from 1 to 64. A tie goes up.
    Result: whole, numerator / denominator (0/1 when even), error_in = fraction - value [in].
    Errors: `Refused` outside these.

    >>> nearest_fraction(0.1)
    FractionOfInch(whole=0, numerator=3, denominator=32, error_in=-0.00625)
    """
    if denominator not in (1, 2, 4, 8, 16, 32, 64):
        raise Refused(message("quantities-marks", marks=denominator))
    if not math.isfinite(inches) or inches < 0:
        raise Refused(message("quantities-not-on-a-tape", value=f"{inches}"))
    exact = inches if isinstance(inches, Fraction) else Fraction(repr(float(inches)))
    marks = math.floor(exact * denominator + Fraction(1, 2))
    near = Fraction(marks, denominator)
    whole, rest = divmod(near, 1)
    return FractionOfInch(int(whole), rest.numerator, rest.denominator, float(near - exact))


# A fraction stands for the value when it is within a quarter of a 1/32 mark and within 1 % of it: 47.244 in
# may be called 47-1/4 in, but a bed of 0.0886 in must not be shown as the 3/32 in that it fails to reach.
_FRACTION_ERROR_IN = 1 / 128
_FRACTION_ERROR_SHARE = 0.01


def _rounded(value: Fraction, decimals: int) -> Decimal:
    marks = math.floor(abs(value) * 10**decimals + Fraction(1, 2))
    if not marks and value and decimals < 9:
        # Something small is not nothing: one significant digit instead.
        return _rounded(value, decimals + 1)
    return Decimal(-marks if value < 0 else marks).scaleb(-decimals)


def as_written(value: float | Fraction, unit: str, decimals: int | None = None) -> FractionOfInch | Decimal:
    """The number that stands for a value on a screen: a tape's fraction, or rounded half up.

    Parameters: value [unit], finite; decimals, in place of those of the unit. Errors: `UnknownUnit`.

    >>> as_written(2.38125, "mm"), str(as_written(47.244, "in"))
    (Decimal('2.4'), '47-1/4')
    """
    exact = value if isinstance(value, Fraction) else Fraction(repr(float(value)))
    if unit == "in" and exact >= 0 and decimals is None:
        near = nearest_fraction(exact)
        if abs(near.error_in) <= min(_FRACTION_ERROR_IN, _FRACTION_ERROR_SHARE * float(exact)):
            return near
    return _rounded(exact, decimals_of(exact, unit) if decimals is None else decimals)


def decimals_of(value: float | Fraction, unit: str) -> int:
    """How many decimals a value of this unit is shown with: the step of the tool that reads it.

    >>> decimals_of(2.4, "mm"), decimals_of(0.118, "in"), decimals_of(47.24, "in"), decimals_of(30, "s")
    (1, 3, 2, 0)
    """
    unit_info(unit)
    return _DECIMALS[unit] if unit != "in" else 3 if -10 < value < 10 else 2


def _value_text(value: float | Fraction, unit: str, decimals: int | None = None) -> str:
    number = as_written(value, unit, decimals)
    if isinstance(number, FractionOfInch):
        return str(number)
    text = format(number, "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def _with_symbol(text: str, unit: str) -> str:
    symbol = UNITS[unit].symbol
    return f"{text} {symbol}" if symbol else text


def format_quantity(
    value: float | Fraction, unit: str, system: System = "as given", decimals: int | None = None
) -> str:
    """A value as screens and the PDF show it.

    Parameters: value [unit]; system: "metric" or "us" converts length, area, mass, volume and temperature
    first; decimals, in place of those of the unit shown. Result: number and symbol. Inches are a fraction to 1/32
    where that is within 1/128 in and 1 % of the value, otherwise a decimal; other units are rounded half up, without
    trailing zeros.
    Errors: `UnknownUnit`; `Refused` for a value that is not finite or an unknown system.

    >>> format_quantity(2.38125, "mm"), format_quantity(2.38125, "mm", "us")
    ('2.4 mm', '3/32 in')
    >>> format_quantity(1200, "mm", "us"), format_quantity(20, "degC", "us")
    ('47-1/4 in', '68 °F')
    >>> format_quantity(95.0, "percent"), format_quantity(4, "m2"), format_quantity(20, "min")
    ('95 %', '4 m²', '20 min')
    """
    shown = _shown(value, unit, system)
    target = unit_in_system(unit, system)
    return _with_symbol(_value_text(shown, target, decimals), target)


def _shown(value: float | Fraction, unit: str, system: System) -> float:
    if not math.isfinite(value):
        raise Refused(message("quantities-not-finite", value=f"{value}", unit=unit))
    return convert(value, unit, unit_in_system(unit, system))


def format_size(first: float | Fraction, second: float | Fraction, unit: str, system: System = "as given") -> str:
    """Two sides as one text: both with a tape's fractions, or, where one has none, both in decimals.

    >>> format_size(1200, 2400, "mm"), format_size(24, 48, "in")
    ('1200 × 2400 mm', '24 × 48 in')
    >>> format_size(1200, 600, "mm", "us"), format_size(3000, 1000, "mm", "us")
    ('47-1/4 × 23-5/8 in', '118.11 × 39.37 in')
    """
    target = unit_in_system(unit, system)
    sides = [_shown(side, unit, system) for side in (first, second)]
    tape = all(isinstance(as_written(side, target), FractionOfInch) for side in sides)
    a, b = (_value_text(side, target, None if tape else decimals_of(side, target)) for side in sides)
    return f"{a} × {_with_symbol(b, target)}"
