"""Quantities as they are written in checklist and site files: "1200 mm", "1/2 in", "20 min"."""

from __future__ import annotations

from fractions import Fraction
from functools import partial
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, PlainSerializer

from fieldassist.checklist.faults import refused
from fieldassist.trade import quantities
from fieldassist.trade.quantities import Quantity


def unit_names(dimension: str) -> list[str]:
    """The units that measure `dimension`, in the order in which trade/quantities lists them."""
    return [name for name in quantities.UNITS if quantities.dimension_of(name) == dimension]


def _reader(dimension: str) -> BeforeValidator:
    return BeforeValidator(partial(_read, dimension))


def _read(dimension: str, given: Any) -> Quantity:
    if isinstance(given, Quantity):
        quantity = given
    elif isinstance(given, str):
        quantity = quantities.parse_quantity(given)
    else:
        example = {"length": "1200 mm", "area": "9.6 m2", "mass": "20 kg", "duration": "20 min"}.get(
            dimension, f"1 {unit_names(dimension)[0]}"
        )
        raise refused("quantity-without-unit", example=example)
    if quantities.dimension_of(quantity.unit) != dimension:
        raise refused("unit-unfit", given=quantity.unit, measured=dimension, allowed=unit_names(dimension))
    return quantity


def _read_every(given: Any) -> Any:
    return given if given == "row" else _read("area", given)


def _write_every(given: Any) -> str:
    return given if isinstance(given, str) else write_quantity(given)


def write_quantity(quantity: Quantity) -> str:
    """The text that `parse_quantity` reads back to the same exact value."""
    return f"{write_number(quantity.value)} {quantity.unit}"


def write_number(value: Fraction) -> str:
    """A whole number or terminating decimal where there is one, otherwise a fraction.

    >>> write_number(Fraction(95)), write_number(Fraction(5, 2)), write_number(Fraction(1, 3))
    ('95', '2.5', '1/3')
    """
    if value.denominator == 1:
        return str(value.numerator)
    rest = value.denominator
    for prime in (2, 5):
        while rest % prime == 0:
            rest //= prime
    if rest == 1 and value.denominator <= 10_000:
        text = f"{float(value):.10f}".rstrip("0")
        if Fraction(text) == value:
            return text
    return str(value)


_as_text = PlainSerializer(write_quantity, return_type=str)

Length = Annotated[Quantity, _reader("length"), _as_text]
FaceArea = Annotated[Quantity, _reader("area"), _as_text]
EveryGiven = Annotated[
    Quantity | Literal["row"], BeforeValidator(_read_every), PlainSerializer(_write_every, return_type=str)
]
Mass = Annotated[Quantity, _reader("mass"), _as_text]
Volume = Annotated[Quantity, _reader("volume"), _as_text]
DurationGiven = Annotated[Quantity, _reader("duration"), _as_text]
Temperature = Annotated[Quantity, _reader("temperature"), _as_text]


def canonical(quantity: Quantity) -> float:
    """The value in the dimension's canonical unit (mm, m2, kg, L, min, degC, percent, count)."""
    return quantities.canonical(float(quantity.value), quantity.unit)
