"""Entries on quantities: conversion, tape, size, comparison."""

from __future__ import annotations

from collections.abc import Iterable

from fieldassist.trade import quantities
from fieldassist.trade.basis import BASES
from fieldassist.trade.catalog.model import Calculation, ResultRow, Values
from fieldassist.trade.catalog.shared import asking
from fieldassist.trade.message import Compared, Message, message
from fieldassist.trade.quantities import Quantity

_in = asking("quantities")


def _precise(name: str, value: float, unit: str) -> ResultRow:
    # Told as it stands, in its own unit: more digits than a screen shows.
    return ResultRow(name, value, unit, told=f"{value:.7g} {quantities.unit_info(unit).symbol}".strip(), fixed=True)


def _convert(values: Values) -> Iterable[ResultRow]:
    quantity: Quantity = values["value"]
    target = values["to"]
    if target is None:
        other = [quantities.unit_in_system(quantity.unit, system) for system in ("us", "metric")]
        target = next((unit for unit in other if unit != quantity.unit), quantity.unit)
    exact = quantities.convert_exact(quantity.value, quantity.unit, target)
    base = quantities.unit_info(quantity.unit).canonical
    dimension = quantities.dimension_of(target)
    return [
        _precise("converted", quantities.convert(quantity.value, quantity.unit, target), target),
        ResultRow("exactly", f"{exact} {quantities.unit_info(target).symbol}".strip()),
        ResultRow("as a screen shows it", quantities.format_quantity(exact, target)),
        _precise("in the unit used inside", quantities.canonical(quantity.value, quantity.unit), base),
        ResultRow("what it measures", dimension, told=Message(f"calc-dimension-{dimension}-bare")),
    ]


def _fraction(values: Values) -> Iterable[ResultRow]:
    inches = quantities.convert(values["length"], "mm", "in")
    near = quantities.nearest_fraction(inches, values["marks"])
    return [
        ResultRow("on the tape", f"{near} in"),
        _precise("that is", near.whole + near.numerator / near.denominator, "in"),
        _precise("off by", near.error_in, "in"),
        _precise("off by, metric", quantities.convert(near.error_in, "in", "mm"), "mm"),
    ]


def _size(values: Values) -> Iterable[ResultRow]:
    first, second = values["size"]
    return [
        ResultRow("metric", quantities.format_size(first, second, "mm")),
        ResultRow("US", quantities.format_size(first, second, "mm", "us")),
        ResultRow("area", first * second / 1e6, "m2"),
    ]


def _compare(values: Values) -> Iterable[ResultRow]:
    reading, limit = values["reading"], values["limit"]
    here = Quantity(quantities.convert_exact(reading.value, reading.unit, limit.unit), limit.unit)
    word = "below" if here.value < limit.value else "above" if here.value > limit.value else "equal"
    pair = Compared(here, limit, "at least" if word == "below" else "at most")
    return [
        ResultRow(
            "reading", float(here.value), limit.unit, told=message("quantities-beside-reading", pair=pair), fixed=True
        ),
        ResultRow(
            "limit", float(limit.value), limit.unit, told=message("quantities-beside-limit", pair=pair), fixed=True
        ),
        ResultRow("the reading is", word, told=Message(f"quantities-{word}")),
    ]


ENTRIES = (
    Calculation(
        "convert",
        "quantities",
        (_in("value", "quantity", "3/32 in"), _in("to", "unit", "mm", optional=True, shown=True)),
        _convert,
        (
            quantities.as_written,
            quantities.canonical,
            quantities.convert,
            quantities.convert_exact,
            quantities.decimals_of,
            quantities.dimension_of,
            quantities.format_quantity,
            quantities.parse_quantity,
            quantities.unit_in_system,
            quantities.unit_info,
        ),
        BASES["units"],
        refuses=("quantities-other-dimension",),
    ),
    Calculation(
        "fraction",
        "quantities",
        (_in("length", "length", "2.25 mm"), _in("marks", "count", "16", "32")),
        _fraction,
        (quantities.nearest_fraction,),
        BASES["units"],
        refuses=("quantities-marks",),
    ),
    Calculation(
        "size",
        "quantities",
        (_in("size", "size", "24 x 48 in"),),
        _size,
        (quantities.parse_size, quantities.format_size),
        BASES["units"],
    ),
    Calculation(
        "compare",
        "quantities",
        (_in("reading", "quantity", "94.97 %"), _in("limit", "quantity", "95 %")),
        _compare,
        (quantities.convert_exact,),
        BASES["units"],
        refuses=("quantities-other-dimension",),
    ),
)
