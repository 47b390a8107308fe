"""Rows in canonical units into results in the units asked for."""

from __future__ import annotations

import math
from collections.abc import Iterable
from fractions import Fraction

from fieldassist.trade import quantities
from fieldassist.trade.basis import Basis
from fieldassist.trade.catalog.model import Calculation, Result, ResultRow
from fieldassist.trade.catalog.reading import COMPOSED, COMPOSED_IN_US, composed_factor
from fieldassist.trade.limits import Side, exactly
from fieldassist.trade.message import Bound, Figure, Message, Refused, Several, message
from fieldassist.trade.quantities import Quantity, System
from fieldassist.trade.verdict import Outcome, outcome_of

__all__ = ["as_words", "at_least", "at_most", "bare", "results_of", "span", "verdict_of", "verdict_row"]

_VERDICT = "verdict"


def verdict_row(outcome: Outcome | bool, **more: object) -> ResultRow:
    """The verdict of a computation that judges something: of three words, or passed and failed."""
    word: Outcome = outcome if isinstance(outcome, str) else "passed" if outcome else "failed"
    return ResultRow(_VERDICT, word, told=Message(f"calc-verdict-{word.replace(' ', '-')}"), **more)  # type: ignore[arg-type]


def as_words(name: str, told: tuple[Message, ...], link: str = "clauses", **more: object) -> ResultRow:
    """Several messages as one row; none of them is no row."""
    codes = "; ".join(one.code for one in told) or None
    several = Several(told, link) if told else None  # type: ignore[arg-type]
    return ResultRow(name, codes, told=several, **more)  # type: ignore[arg-type]


def _bound(name: str, value: float | None, unit: str, basis: Basis | None, side: Side) -> ResultRow:
    told = None if value is None else Bound(exactly(value, unit), side)
    return ResultRow(name, value, unit, basis, told=told)


def at_least(name: str, value: float | None, unit: str, basis: Basis | None = None) -> ResultRow:
    """A limit that must be reached: told rounded up, so that what is told passes."""
    return _bound(name, value, unit, basis, "at least")


def at_most(name: str, value: float | None, unit: str, basis: Basis | None = None) -> ResultRow:
    """A limit that must be kept to: told rounded down, so that what is told passes."""
    return _bound(name, value, unit, basis, "at most")


def _decimals(value: float, places: int) -> str:
    text = f"{value:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def bare(value: float) -> str:
    """A number without a unit, with as many digits as anybody reads.

    >>> bare(1234.56), bare(12.345), bare(0.12345)
    ('1235', '12.35', '0.123')
    """
    return _decimals(value, 0 if abs(value) >= 1000 else 2 if abs(value) >= 1 else 3)


def span(minutes: float) -> Figure:
    """A time: in hours and days where nobody counts in minutes any more."""
    if abs(minutes) >= 2880:
        return message("calc-days", days=Quantity(exactly(minutes / 1440, "count").value, "count", 1))
    if abs(minutes) >= 180:
        return exactly(minutes / 60, "h")
    return exactly(minutes, "min")


def _symbol(unit: str) -> str:
    return unit.replace("2", "²").replace("3", "³").replace("ug", "µg")


def _share(percent: float, unit: str) -> Quantity:
    # A claim must not grow by rounding.
    if unit == "share, rounded down":
        return Quantity(Fraction(math.floor(percent * 10 + 1e-7), 10), "percent")
    if unit == "share, rounded up":
        return Quantity(Fraction(math.ceil(percent * 10 - 1e-7), 10), "percent")
    return Quantity(Fraction(bare(percent)), "percent", 3)


def _number(row: ResultRow, value: float, system: System) -> tuple[float | int, str, Figure]:
    """(value, unit, told) in a system of units."""
    unit = row.unit
    if not math.isfinite(value):
        raise Refused(message("calc-beyond-measure"))
    if row.fixed:
        return value, unit, exactly(value, unit)
    if unit.startswith("share"):
        return value * 100, "percent", _share(value * 100, unit)
    if unit in quantities.UNITS:
        target = quantities.unit_in_system(unit, system)
        told = span(value) if unit == "min" else exactly(value, unit)
        return quantities.convert(value, unit, target), target, told
    if unit in COMPOSED_IN_US:
        kind = next(kind for kind, table in COMPOSED.items() if unit in table)
        target = COMPOSED_IN_US[unit] if system == "us" else unit
        shown = value if target == unit else float(value / composed_factor(kind, target))
        if kind == "per length":
            return shown, target, message("calc-per-length", number=bare(shown), unit=target.removeprefix("1/"))
        return shown, target, f"{bare(shown)} {_symbol(target)}"
    text = str(value) if isinstance(value, int) else bare(value)
    return value, unit, f"{text} {_symbol(unit)}".strip()


def _result(calculation: Calculation, row: ResultRow, system: System) -> Result:
    value: float | int | bool | str | None
    unit, told = "", row.told
    match row.value:
        case Message():
            value, told = row.value.code, row.value if told is None else told
        case bool():
            value = row.value
            told = Message("calc-yes" if value else "calc-no") if told is None else told
        case int() | float():
            value, unit, shown = _number(row, row.value, system)
            told = shown if told is None else told
        case _:
            value = row.value
            told = str(value) if told is None else told
    label = calculation.label_of(row.name) if row.label is None else row.label
    basis = calculation.source if row.basis is None else row.basis
    return Result(row.name, label, value, unit, told, basis, row.detail)


def results_of(calculation: Calculation, rows: Iterable[ResultRow], system: System) -> tuple[Result, ...]:
    """The rows that say something, in the units asked for."""
    said = (row for row in rows if row.value is not None or row.told is not None)
    return tuple(_result(calculation, row, system) for row in said)


def verdict_of(results: Iterable[Result]) -> Outcome | None:
    """What a computation that judges something says; None where it judges nothing."""
    verdicts = [result.value for result in results if result.name == _VERDICT]
    if not verdicts:
        return None
    return outcome_of(failed="failed" in verdicts, complete=set(verdicts) == {"passed"})
