"""Text as people write it ("1/2 in", "50 lb", "60 ft2/h") into the canonical figures that a computation takes."""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Iterable, Mapping
from fractions import Fraction
from functools import lru_cache
from typing import Any, get_args

from fieldassist.trade import quantities
from fieldassist.trade.catalog.model import Calculation, Input, Values
from fieldassist.trade.message import Figure, Message, Refused, Several, message
from fieldassist.trade.quantities import System, parse_quantity
from fieldassist.trade.verdict import Outcome

__all__ = ["COMPOSED", "COMPOSED_IN_US", "composed_factor", "nearest", "read_inputs", "system_of"]

# Units made of two: (unit above, unit below, power of the one below); the first of each kind is canonical.
COMPOSED: Mapping[str, Mapping[str, tuple[str, str, int]]] = {
    "pace": {"m2/h": ("m2", "h", 1), "ft2/h": ("ft2", "h", 1)},
    "density": {"kg/m3": ("kg", "m", 3), "g/cm3": ("g", "cm", 3), "lb/ft3": ("lb", "ft", 3)},
    "mass per area": {"kg/m2": ("kg", "m2", 1), "lb/ft2": ("lb", "ft2", 1)},
    "volume per area": {"L/m2": ("L", "m2", 1), "qt/ft2": ("qt", "ft2", 1)},
    "powder": {"kg/L": ("kg", "L", 1), "lb/qt": ("lb", "qt", 1)},
    "per length": {"1/m": ("count", "m", 1), "1/ft": ("count", "ft", 1)},
}
COMPOSED_IN_US = {
    "m2/h": "ft2/h",
    "kg/m3": "lb/ft3",
    "kg/m2": "lb/ft2",
    "L/m2": "qt/ft2",
    "kg/L": "lb/qt",
    "1/m": "1/ft",
}
_UG_PER_M3 = {"ug/m3": Fraction(1), "mg/m3": Fraction(1000)}


def _not_understood(text: str, wanted: str) -> Refused:
    return Refused(message("calc-write-as", text=text, example=wanted))


def nearest(given: str, names: Iterable[str], n: int = 3, cutoff: float = 0.5) -> tuple[str, ...]:
    """The names most like what was given."""
    return tuple(difflib.get_close_matches(given.casefold(), list(names), n=n, cutoff=cutoff))


@lru_cache(maxsize=64)
def composed_factor(kind: str, unit: str) -> Fraction:
    """How many of the kind's canonical unit one `unit` is."""
    table = COMPOSED[kind]
    base_top, base_bottom, power = next(iter(table.values()))
    top, bottom, _ = table[unit]
    return quantities.convert_exact(Fraction(1), top, base_top) / (
        quantities.convert_exact(Fraction(1), bottom, base_bottom) ** power
    )


def _plain_unit(text: str) -> str:
    """A unit made of two as it stands in the tables: blanks, raised figures and spelled-out words taken away.

    >>> _plain_unit("sq ft per hour"), _plain_unit("kg / m³")
    ('ft2/h', 'kg/m3')
    """
    text = text.lower().replace("²", "2").replace("³", "3").replace("µ", "u").replace("μ", "u").replace("^", "")
    text = re.sub(r"\bper\b", "/", text)
    text = re.sub(r"\b(?:sq|square)\.?[\s-]*(ft|feet|foot|m|meters?|metres?)\b", r"\g<1>2", text)
    text = re.sub(r"\b(?:feet|foot)(2?)\b", r"ft\1", text)
    text = re.sub(r"\b(?:meters?|metres?)(2?)\b", r"m\1", text)
    return re.sub(r"\s+", "", re.sub(r"\b(?:hours?|hr)\b", "h", text))


def _composed(text: str, spec: Input) -> float:
    table = COMPOSED[spec.kind]
    known = {name.lower(): name for name in table}
    match = re.fullmatch(r"\s*([\d./ -]*\d)\s*(\D.*)", text, re.DOTALL)
    unit = known.get(_plain_unit(match[2])) if match else None
    if match is None or unit is None:
        raise Refused(message("calc-number-and-unit", text=text, units=Several(tuple(table))))
    value = parse_quantity(match[1], "count").value
    return float(value if unit == next(iter(table)) else value * composed_factor(spec.kind, unit))


def _concentration(text: str) -> float:
    match = re.fullmatch(r"\s*(\S+)\s*(\D.*)?", text, re.DOTALL)
    factor = _UG_PER_M3.get(_plain_unit(match[2] or "ug/m3")) if match else None
    if match is None or factor is None:
        raise _not_understood(text, "120 ug/m3")
    return float(parse_quantity(match[1], "count").value * factor)


def _measured(text: str, dimension: str, default_unit: str | None = None) -> float:
    quantity = parse_quantity(text, default_unit)
    found = quantities.dimension_of(quantity.unit)
    if found != dimension:
        given, wanted = (Message(f"calc-dimension-{name}") for name in (found, dimension))
        raise Refused(message("calc-other-dimension", text=text, given=given, wanted=wanted))
    return quantities.canonical(quantity.value, quantity.unit)


def _dimension(text: str, spec: Input) -> float:
    return _measured(text, spec.kind, "percent" if spec.kind == "percent" else None)


def _number(text: str) -> float:
    return _measured(text, "count", "count")


def _count(text: str) -> int:
    value = parse_quantity(text, "count").value
    if value.denominator != 1:
        raise Refused(message("calc-not-whole", text=text))
    return int(value)


def _angle(text: str) -> float:
    return _number(re.sub(r"\s*(?:°|deg|degrees?)\s*$", "", text))


def _share(text: str) -> float:
    bare = re.fullmatch(r"\s*[\d./]+\s*", text) is not None
    value = parse_quantity(text, "count" if bare else None)
    if not bare and value.unit == "percent":
        return float(value.value / 100)
    if not bare or value.value > 1:
        raise Refused(message("calc-not-a-share", text=text))
    return float(value.value)


def _temperature_difference(text: str) -> float:
    quantity = parse_quantity(text)
    steps = {"degC": Fraction(1), "degF": Fraction(5, 9)}
    if quantity.unit not in steps:
        raise _not_understood(text, "100 F")
    return float(quantity.value * steps[quantity.unit])


def _choice(text: str, choices: tuple[str, ...]) -> str:
    words = {choice.casefold(): choice for choice in choices}
    given = " ".join(text.split()).casefold()
    if given in words:
        return words[given]
    near = nearest(given, words, 1, 0.6)
    allowed = Several(choices)
    if near:
        raise Refused(message("calc-not-a-choice-near", text=text, near=words[near[0]], allowed=allowed))
    raise Refused(message("calc-not-a-choice", text=text, allowed=allowed))


_YES = {"yes": True, "y": True, "true": True, "no": False, "n": False, "false": False}


def _flag(text: str) -> bool:
    try:
        return _YES[text.strip().casefold()]
    except KeyError:
        raise Refused(message("calc-neither-yes-nor-no", text=text)) from None


def _size(text: str) -> tuple[float, float]:
    first, second = quantities.parse_size(text)
    return quantities.canonical(first.value, first.unit), quantities.canonical(second.value, second.unit)


def _items(text: str, separators: str = ";") -> list[str]:
    parts = [part.strip() for part in re.split(f"[{separators}]", text) if part.strip()]
    if not parts:
        raise Refused(message("calc-empty-list"))
    return parts


def _lift(text: str) -> tuple[float, Outcome | None]:
    contact, _, word = text.partition("%")
    outcome = next((known for known in get_args(Outcome) if known == word.strip()), None)
    if word.strip() and outcome is None:
        raise Refused(message("calc-not-a-lift", text=text))
    return _measured(contact, "percent", "percent"), outcome


def _split(text: str, pattern: str, example: str) -> re.Match[str]:
    match = re.fullmatch(pattern, text.strip(), re.IGNORECASE | re.DOTALL)
    if match is None:
        raise _not_understood(text, example)
    return match


def _period(text: str) -> tuple[float, float]:
    match = _split(text, r"(.+?)\s+for\s+(.+)", "150 for 2 h")
    return _concentration(match[1]), _measured(match[2], "duration")


def _contaminant(text: str) -> tuple[float, float]:
    match = _split(text, r"(\S+)\s+of\s+(\S+)", "500 of 1000")
    return _number(match[1]), _number(match[2])


def _dust_task(text: str) -> tuple[str, str, float]:
    from fieldassist.trade import dust

    match = _split(text, r"(.+?)\s*,\s*(.+?)\s*,\s*(.+)", "handheld power saw, outdoors, 2 h")
    task = _choice(match[1], (*get_args(dust.TableTask), *get_args(dust.OtherTask)))
    return task, _choice(match[2], get_args(dust.WorkPlace)), _measured(match[3], "duration")


def _lifting_task(text: str) -> Any:
    from fieldassist.trade import lifting

    match = _split(
        text,
        r"(.+?)\s+at\s+(\S+?)\s*(?:/\s*min|per\s+min|a\s+minute)?\s*,\s*limit\s+(.+?)"
        r"(?:\s*,\s*greatest\s+(.+?))?(\s*,\s*from\s+waist)?",
        "30 lb at 1 per min, limit 20 lb",
    )
    greatest = None if match[4] is None else _measured(match[4], "mass")
    load, limit = _measured(match[1], "mass"), _measured(match[3], "mass")
    return lifting.LiftingTask(limit, _number(match[2]), load, greatest, low=match[5] is None)


def _clock(text: str) -> tuple[str, tuple[float, float]]:
    match = _split(text, r"(.+?)\s*:\s*(.+?)\s+of\s+(.+)", "open time: 12 min of 20 min")
    return match[1], (_measured(match[2], "duration"), _measured(match[3], "duration"))


_DIMENSIONS = ("percent", "length", "area", "mass", "volume", "duration", "temperature")
_READERS: Mapping[str, Callable[[str, Input], Any]] = {
    **dict.fromkeys(_DIMENSIONS, _dimension),
    **dict.fromkeys(("pace", "density", "mass per area", "powder"), _composed),
    "concentration": lambda text, _: _concentration(text),
    "temperature difference": lambda text, _: _temperature_difference(text),
    "angle": lambda text, _: _angle(text),
    "share": lambda text, _: _share(text),
    "number": lambda text, _: _number(text),
    "count": lambda text, _: _count(text),
    "choice": lambda text, spec: _choice(text, spec.choices),
    "flag": lambda text, _: _flag(text),
    "text": lambda text, _: text.strip(),
    "size": lambda text, _: _size(text),
    "quantity": lambda text, _: parse_quantity(text),
    "unit": lambda text, _: parse_quantity(f"1 {text}").unit,
    "lengths": lambda text, _: [_measured(item, "length") for item in _items(text, ";,")],
    "masses": lambda text, _: [_measured(item, "mass") for item in _items(text, ";,")],
    "choices": lambda text, spec: [_choice(item, spec.choices) for item in _items(text, ";,")],
    "lifts": lambda text, _: [_lift(item) for item in _items(text, ";,")],
    "periods": lambda text, _: [_period(item) for item in _items(text)],
    "contaminants": lambda text, _: [_contaminant(item) for item in _items(text)],
    "dust tasks": lambda text, _: [_dust_task(item) for item in _items(text)],
    "lifting tasks": lambda text, _: [_lifting_task(item) for item in _items(text)],
    "clocks": lambda text, _: dict(_clock(item) for item in _items(text)),
}


def read_inputs(calculation: Calculation, given: Mapping[str, str]) -> Values:
    """Read what was given for a computation.

    Parameters: calculation; given, text by the name of the input.
    Result: `Values`. Errors: `Refused` naming the input, what was wrong and an example that works.
    """
    specs = {spec.name: spec for spec in calculation.inputs}
    for name in given:
        if name not in specs:
            asked: dict[str, Figure] = {"calculation": calculation.name, "input": name, "known": Several(tuple(specs))}
            near = nearest(name, specs)
            if near:
                raise Refused(message("calc-unknown-input-near", near=Several(near, "or"), **asked))
            raise Refused(message("calc-unknown-input", **asked))
    values: dict[str, Any] = {}
    for name, spec in specs.items():
        text = given.get(name, spec.default)
        if text is None:
            if spec.required:
                needs = {"calculation": calculation.name, "input": name, "example": spec.example}
                raise Refused(message("calc-needs", what=spec.told, **needs))
            values[name] = None
            continue
        try:
            values[name] = _READERS[spec.kind](text, spec)
        except Refused as problem:
            why: dict[str, Figure] = {"input": name, "problem": problem.told, "example": spec.example}
            raise Refused(message("calc-input-refused", **why)) from None
    return values


_US_UNITS = frozenset({"in", "ft", "in2", "ft2", "lb", "qt", "gal", "degF"})


def system_of(calculation: Calculation, given: Mapping[str, str]) -> System:
    """The units in which to answer: US when every measurement that was given has a US unit, otherwise metric.

    A text that cannot be read counts for neither.
    """
    seen: set[bool] = set()
    for spec in calculation.inputs:
        for item in re.split(r"[;,×x]|\bby\b|\bat\b|\blimit\b", given.get(spec.name, "")):
            try:
                unit = parse_quantity(item).unit
            except Refused:
                if "/" in item and any(part in _plain_unit(item) for part in ("ft2", "ft3", "lb/")):
                    seen.add(True)
                continue
            if unit in _US_UNITS:
                seen.add(True)
            elif quantities.unit_in_system(unit, "us") != unit:
                seen.add(False)
    return "us" if seen == {True} else "metric"
