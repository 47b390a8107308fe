"""Every computation of the trade by name: what it needs, in words and units, and what it gives back.

The other modules of this package take floats in canonical units. This one is the door for whoever has only text:
the command line, a checklist file, a screen. An entry names its inputs in the words of the trade, reads each one as
people write it ("1/2 in", "1200 mm", "50 lb"), calls the module's function and unpacks what comes back into results
that carry unit, text and basis. It computes nothing itself and prints nothing.
"""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, fields, is_dataclass
from decimal import InvalidOperation
from fractions import Fraction
from functools import lru_cache
from types import MappingProxyType
from typing import Any, Literal, get_args

from fieldassist.trade import coverage, dust, flatness, lifting, mortar, quantities, ridges, sampling, times
from fieldassist.trade.basis import PRACTICE, Basis, OutOfRange, Standing
from fieldassist.trade.quantities import System, format_quantity, parse_quantity
from fieldassist.trade.verdict import Outcome, outcome_of

__all__ = [
    "CALCULATIONS",
    "SUBJECTS",
    "Calculation",
    "Input",
    "Kind",
    "Result",
    "UnknownCalculation",
    "Values",
    "evaluate",
    "find_calculation",
    "read_inputs",
    "system_of",
    "verdict_of",
]

Kind = Literal[
    "percent",
    "length",
    "area",
    "mass",
    "volume",
    "duration",
    "temperature",
    "temperature difference",
    "angle",
    "share",
    "number",
    "count",
    "choice",
    "flag",
    "text",
    "size",
    "quantity",
    "unit",
    "pace",
    "density",
    "mass per area",
    "powder",
    "concentration",
    "lengths",
    "masses",
    "choices",
    "lifts",
    "periods",
    "contaminants",
    "dust tasks",
    "lifting tasks",
    "clocks",
]

# What a computation is given: each input by its name, in canonical units, None where it was left out; and under
# "system" the units in which sentences are to speak.
Values = Mapping[str, Any]


class UnknownCalculation(ValueError):
    """No computation has this name; the message offers the nearest."""


@dataclass(frozen=True, slots=True)
class Input:
    """One thing that a computation asks for.

    name: in the trade's words, with hyphens; what: explained to a foreman; kind: how its text is read; example: a
    text that works; default: the text taken when it is left out; optional: it may be left out and has no default;
    choices: the words allowed, for a choice; shown: belongs to the worked example although it may be left out.
    """

    name: str
    what: str
    kind: Kind
    example: str
    default: str | None = None
    optional: bool = False
    choices: tuple[str, ...] = ()
    shown: bool = False

    @property
    def required(self) -> bool:
        """Whether the computation cannot go on without it."""
        return self.default is None and not self.optional


@dataclass(frozen=True, slots=True)
class Result:
    """One figure or sentence that a computation gives.

    name: in words, unique within one answer; value: number, yes or no, or words, None where there is none; unit: of
    the value, "" for a bare number or words; text: as a screen or PDF shows it; basis: where it comes from; detail:
    told in another result's sentence already, and here for machines.
    """

    name: str
    value: float | int | bool | str | None
    unit: str
    text: str
    basis: Basis
    detail: bool = False


@dataclass(frozen=True, slots=True)
class Calculation:
    """One computation, reachable by name.

    title: one line for a list; summary: what it tells a foreman and where it stops; functions: the public functions
    behind it; sources: the basis of results that bring none of their own (the first), and others worth naming;
    cautions: for work that can hurt someone.
    """

    name: str
    subject: str
    title: str
    summary: str
    inputs: tuple[Input, ...]
    compute: Callable[[Values], object]
    functions: tuple[Callable[..., object], ...]
    sources: tuple[Basis, ...] = ()
    cautions: tuple[str, ...] = ()

    @property
    def example(self) -> dict[str, str]:
        """Inputs of the worked example: all that are required, and those that make it clearer.

        >>> CALCULATIONS["piece-weight"].example
        {'length': '1000 mm', 'width': '3000 mm', 'thickness': '6 mm'}
        """
        return {spec.name: spec.example for spec in self.inputs if spec.required or spec.shown}

    @property
    def bases(self) -> tuple[Basis, ...]:
        """Where the figures of the worked example come from, each source once, then the other sources.

        >>> [basis.document for basis in CALCULATIONS["din-18202"].bases]
        ['DIN 18202']
        """
        found = [result.basis for result in evaluate(self.name, self.example)]
        return tuple(dict.fromkeys([*found, *self.sources[1:]]))


# --- reading ------------------------------------------------------------------------------------------------------

# Units made of two: (unit above, unit below, power of the one below); the first of each kind is canonical.
_COMPOSED: Mapping[str, Mapping[str, tuple[str, str, int]]] = {
    "pace": {"m2/h": ("m2", "h", 1), "ft2/h": ("ft2", "h", 1)},
    "density": {"kg/m3": ("kg", "m", 3), "g/cm3": ("g", "cm", 3), "lb/ft3": ("lb", "ft", 3)},
    "mass per area": {"kg/m2": ("kg", "m2", 1), "lb/ft2": ("lb", "ft2", 1)},
    "volume per area": {"L/m2": ("L", "m2", 1), "qt/ft2": ("qt", "ft2", 1)},
    "powder": {"kg/L": ("kg", "L", 1), "lb/qt": ("lb", "qt", 1)},
    "per length": {"1/m": ("count", "m", 1), "1/ft": ("count", "ft", 1)},
}
_COMPOSED_IN_US = {
    "m2/h": "ft2/h",
    "kg/m3": "lb/ft3",
    "kg/m2": "lb/ft2",
    "L/m2": "qt/ft2",
    "kg/L": "lb/qt",
    "1/m": "1/ft",
}
_UG_PER_M3 = {"ug/m3": Fraction(1), "mg/m3": Fraction(1000)}


@lru_cache(maxsize=64)
def _composed_factor(kind: str, unit: str) -> Fraction:
    """How many of the kind's canonical unit one `unit` is."""
    table = _COMPOSED[kind]
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
    table = _COMPOSED[spec.kind]
    known = {name.lower(): name for name in table}
    match = re.fullmatch(r"\s*([\d./ -]*\d)\s*(\D.*)", text, re.DOTALL)
    unit = known.get(_plain_unit(match[2])) if match else None
    if match is None or unit is None:
        raise ValueError(f"{text!r} is not a {spec.kind}; write a number and one of {', '.join(table)}")
    value = parse_quantity(match[1], "count").value
    return float(value if unit == next(iter(table)) else value * _composed_factor(spec.kind, unit))


def _concentration(text: str) -> float:
    match = re.fullmatch(r"\s*(\S+)\s*(\D.*)?", text, re.DOTALL)
    factor = _UG_PER_M3.get(_plain_unit(match[2] or "ug/m3")) if match else None
    if match is None or factor is None:
        raise ValueError(f"{text!r} is not a concentration; write such as 120 ug/m3 or 0.12 mg/m3")
    return float(parse_quantity(match[1], "count").value * factor)


def _measured(text: str, dimension: str, default_unit: str | None = None) -> float:
    quantity = parse_quantity(text, default_unit)
    found = quantities.dimension_of(quantity.unit)
    if found != dimension:
        raise ValueError(f"{text!r} is a {found}, and a {dimension} is asked for")
    return quantities.canonical(quantity.value, quantity.unit)


def _dimension(text: str, spec: Input) -> float:
    return _measured(text, spec.kind, "percent" if spec.kind == "percent" else None)


def _number(text: str) -> float:
    return _measured(text, "count", "count")


def _count(text: str) -> int:
    value = parse_quantity(text, "count").value
    if value.denominator != 1:
        raise ValueError(f"{text!r} is not a whole number")
    return int(value)


def _angle(text: str) -> float:
    return _number(re.sub(r"\s*(?:°|deg|degrees?)\s*$", "", text))


def _share(text: str) -> float:
    bare = re.fullmatch(r"\s*[\d./]+\s*", text) is not None
    value = parse_quantity(text, "count" if bare else None)
    if not bare and value.unit == "percent":
        return float(value.value / 100)
    if not bare or value.value > 1:
        raise ValueError(f"{text!r} is not a share; write 95 % or 0.95")
    return float(value.value)


def _temperature_difference(text: str) -> float:
    quantity = parse_quantity(text)
    steps = {"degC": Fraction(1), "degF": Fraction(5, 9)}
    if quantity.unit not in steps:
        raise ValueError(f"{text!r} is not a difference of temperature; write such as 100 F or 55 C")
    return float(quantity.value * steps[quantity.unit])


def _choice(text: str, spec: Input) -> str:
    words = {choice.casefold(): choice for choice in spec.choices}
    given = " ".join(text.split()).casefold()
    if given in words:
        return words[given]
    near = difflib.get_close_matches(given, words, n=1, cutoff=0.6)
    hint = f"did you mean {words[near[0]]}? " if near else ""
    raise ValueError(f"{text!r} is not one of its words; {hint}allowed: {', '.join(spec.choices)}")


_YES = {"yes": True, "y": True, "true": True, "no": False, "n": False, "false": False}


def _flag(text: str) -> bool:
    try:
        return _YES[text.strip().casefold()]
    except KeyError:
        raise ValueError(f"{text!r} is neither yes nor no") from None


def _size(text: str) -> tuple[float, float]:
    first, second = quantities.parse_size(text)
    return quantities.canonical(first.value, first.unit), quantities.canonical(second.value, second.unit)


def _items(text: str, separators: str = ";") -> list[str]:
    parts = [part.strip() for part in re.split(f"[{separators}]", text) if part.strip()]
    if not parts:
        raise ValueError("the list is empty")
    return parts


def _lift(text: str) -> tuple[float, Outcome | None]:
    contact, _, word = text.partition("%")
    outcome = next((known for known in get_args(Outcome) if known == word.strip()), None)
    if word.strip() and outcome is None:
        raise ValueError(
            f"{text!r} is not a lift; write its contact, and passed, failed or not complete where you know, as in "
            "90 % passed"
        )
    return _measured(contact, "percent", "percent"), outcome


def _split(text: str, pattern: str, example: str) -> re.Match[str]:
    match = re.fullmatch(pattern, text.strip(), re.IGNORECASE | re.DOTALL)
    if match is None:
        raise ValueError(f"{text!r} is not understood; write it as in {example!r}")
    return match


def _period(text: str) -> tuple[float, float]:
    match = _split(text, r"(.+?)\s+for\s+(.+)", "150 for 2 h")
    return _concentration(match[1]), _measured(match[2], "duration")


def _contaminant(text: str) -> tuple[float, float]:
    match = _split(text, r"(\S+)\s+of\s+(\S+)", "500 of 1000")
    return _number(match[1]), _number(match[2])


def _dust_task(text: str) -> tuple[str, str, float]:
    match = _split(text, r"(.+?)\s*,\s*(.+?)\s*,\s*(.+)", "handheld power saw, outdoors, 2 h")
    task = _choice(match[1], Input("", "", "choice", "", choices=_DUST_TASKS))
    place = _choice(match[2], Input("", "", "choice", "", choices=get_args(dust.Place)))
    return task, place, _measured(match[3], "duration")


def _lifting_task(text: str) -> lifting.Task:
    match = _split(
        text,
        r"(.+?)\s+at\s+(\S+?)\s*(?:/\s*min|per\s+min|a\s+minute)?\s*,\s*limit\s+(.+?)"
        r"(?:\s*,\s*greatest\s+(.+?))?(\s*,\s*from\s+waist)?",
        "30 lb at 1 per min, limit 20 lb",
    )
    greatest = None if match[4] is None else _measured(match[4], "mass")
    load, limit = _measured(match[1], "mass"), _measured(match[3], "mass")
    return lifting.Task(limit, _number(match[2]), load, greatest, low=match[5] is None)


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
    "choice": _choice,
    "flag": lambda text, _: _flag(text),
    "text": lambda text, _: text.strip(),
    "size": lambda text, _: _size(text),
    "quantity": lambda text, _: parse_quantity(text),
    "unit": lambda text, _: parse_quantity(f"1 {text}").unit,
    "lengths": lambda text, _: [_measured(item, "length") for item in _items(text, ";,")],
    "masses": lambda text, _: [_measured(item, "mass") for item in _items(text, ";,")],
    "choices": lambda text, spec: [_choice(item, spec) for item in _items(text, ";,")],
    "lifts": lambda text, _: [_lift(item) for item in _items(text, ";,")],
    "periods": lambda text, _: [_period(item) for item in _items(text)],
    "contaminants": lambda text, _: [_contaminant(item) for item in _items(text)],
    "dust tasks": lambda text, _: [_dust_task(item) for item in _items(text)],
    "lifting tasks": lambda text, _: [_lifting_task(item) for item in _items(text)],
    "clocks": lambda text, _: dict(_clock(item) for item in _items(text)),
}


def _nearest(given: str, names: Iterable[str]) -> str:
    near = difflib.get_close_matches(given.casefold(), list(names), n=3, cutoff=0.5)
    return f"did you mean {' or '.join(near)}? " if near else ""


def read_inputs(calculation: Calculation, given: Mapping[str, str], system: System = "metric") -> Values:
    """Read what was given for a computation.

    Parameters: calculation; given, text by the name of the input; system, of the sentences that will come back.
    Result: `Values`. Errors: `ValueError` naming the input, what was wrong and an example that works.

    >>> read_inputs(CALCULATIONS["slide"], {"notch": "half inch square"})["notch"]
    'half inch square'
    """
    specs = {spec.name: spec for spec in calculation.inputs}
    for name in given:
        if name not in specs:
            raise ValueError(
                f"{calculation.name} does not ask for {name!r}; {_nearest(name, specs)}it asks for: {', '.join(specs)}"
            )
    values: dict[str, Any] = {"system": system}
    for name, spec in specs.items():
        text = given.get(name, spec.default)
        if text is None:
            if spec.required:
                raise ValueError(f"{calculation.name} needs {name}: {spec.what}; for example {spec.example}")
            values[name] = None
            continue
        try:
            values[name] = _READERS[spec.kind](text, spec)
        except ValueError as problem:
            raise ValueError(f"{name}: {problem}; for example {spec.example}") from None
    return values


_US_UNITS = frozenset({"in", "ft", "in2", "ft2", "lb", "qt", "gal", "degF"})


def system_of(name: str, given: Mapping[str, str]) -> System:
    """The units in which to answer: US when every measurement that was given has a US unit, otherwise metric.

    Errors: `UnknownCalculation`. A text that cannot be read counts for neither.

    >>> system_of("fraction", {"length": "0.1 in"}), system_of("fraction", {"length": "3 mm"})
    ('us', 'metric')
    """
    seen: set[bool] = set()
    for spec in find_calculation(name).inputs:
        for item in re.split(r"[;,×x]|\bby\b|\bat\b|\blimit\b", given.get(spec.name, "")):
            try:
                unit = parse_quantity(item).unit
            except ValueError:
                if "/" in item and any(part in _plain_unit(item) for part in ("ft2", "ft3", "lb/")):
                    seen.add(True)
                continue
            if unit in _US_UNITS:
                seen.add(True)
            elif quantities.unit_in_system(unit, "us") != unit:
                seen.add(False)
    return "us" if seen == {True} else "metric"


# --- unpacking ----------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Figure:
    name: str
    value: object
    unit: str
    basis: Basis
    when_none: str = ""
    # Shown in its own unit whatever the system.
    fixed: bool = False
    detail: bool = False
    # In place of the usual rounding.
    text: str = ""


@dataclass(frozen=True, slots=True)
class _Part:
    """What a function gave back, with what its type alone does not say.

    figure: name of a field that is called by its unit only, such as `mm`; prefix: before every name; skip: fields
    that say nothing here.
    """

    outcome: object
    figure: str = "result"
    prefix: str = ""
    basis: Basis | None = None
    skip: tuple[str, ...] = ()


# Endings of field names and the unit they stand for, the longer ones first.
_SUFFIXES = (
    ("_kg_per_m2", "kg/m2"),
    ("_l_per_m2", "L/m2"),
    ("_ug_m3", "ug/m3"),
    ("_per_m", "1/m"),
    ("_percent", "percent"),
    ("_mm2", "mm2"),
    ("_m2", "m2"),
    ("_mm", "mm"),
    ("_kg", "kg"),
    ("_min", "min"),
    ("_l", "L"),
    ("_c", "degC"),
)

# Fields whose name does not say it all: (name for the crew, unit).
_FIELDS: Mapping[tuple[type, str], tuple[str, str]] = {
    (ridges.Ridge, "per_m"): ("ridges per length", "1/m"),
    (ridges.Ridge, "volume_l_per_m2"): ("mortar per area", "L/m2"),
    (ridges.Ridge, "section_mm2"): ("ridge section", "mm2"),
    (ridges.Ridge, "height_mm"): ("ridge height", "mm"),
    (ridges.Ridge, "bed_mm"): ("bed after full collapse", "mm"),
    (ridges.Slide, "out_mm"): ("stroke", "mm"),
    (ridges.Slide, "one_way"): ("one way only", ""),
    (ridges.AirPath, "longest_mm"): ("longest valley", "mm"),
    (ridges.AirPath, "escape_mm"): ("farthest way out", "mm"),
    (ridges.AirPath, "shortest_choice_mm"): ("the short way", "mm"),
    (ridges.AirPath, "times_longer"): ("times longer than it need be", ""),
    (ridges.Filling, "factor"): ("filling factor", ""),
    (coverage.Requirement, "minimum_percent"): ("least contact", "percent"),
    (coverage.Requirement, "largest_void_mm2"): ("largest void allowed", "mm2"),
    (coverage.Requirement, "edge_clear_mm"): ("strip along the edges free of voids", "mm"),
    (coverage.Requirement, "corners"): ("every corner supported", ""),
    (coverage.AreaVerdict, "mean"): ("mean contact", "percent"),
    (coverage.AreaVerdict, "worst"): ("worst contact", "percent"),
    (coverage.SolidBed, "required"): ("solid bed required", ""),
    (coverage.SolidBed, "limit_kg_per_m2"): ("mass above which a small tile needs it", "kg/m2"),
    (mortar.BedLimits, "minimum_mm"): ("least bed", "mm"),
    (mortar.BedLimits, "maximum_mm"): ("greatest bed", "mm"),
    (mortar.BedVerdict, "verdict"): ("bed", ""),
    (mortar.BagYield, "litres"): ("mixed mortar from a bag", "L"),
    (mortar.BagYield, "least_l"): ("at least", "L"),
    (mortar.BagYield, "greatest_l"): ("at most", "L"),
    (mortar.MortarNeed, "volume_l"): ("mixed mortar", "L"),
    (mortar.MortarNeed, "bags"): ("bags, exactly", ""),
    (mortar.MortarNeed, "whole_bags"): ("bags to bring", ""),
    (mortar.MortarNeed, "powder_kg_per_m2"): ("powder per area", "kg/m2"),
    (mortar.BatchPlan, "minutes_per_batch"): ("time per batch", "min"),
    (mortar.WaterVerdict, "least_l"): ("least water in this batch", "L"),
    (mortar.WaterVerdict, "greatest_l"): ("most water in this batch", "L"),
    (mortar.MassBalance, "tolerance_mm"): ("tolerance, plus or minus", "mm"),
    (mortar.MassBalance, "verdict"): ("mortar", ""),
    (times.TemperatureRange, "minimum_c"): ("coldest", "degC"),
    (times.TemperatureRange, "maximum_c"): ("hottest", "degC"),
    (times.CureSpan, "base_min"): ("at normal temperature", "min"),
    (times.CureSpan, "least_min"): ("by the milder rule", "min"),
    (times.CureSpan, "greatest_min"): ("plan with", "min"),
    (times.CombArea, "area_m2"): ("largest area to comb at once", "m2"),
    (times.CombArea, "pieces"): ("whole pieces in it", ""),
    (times.CombArea, "minutes"): ("open time used", "min"),
    (flatness.FlatnessLimit, "gap_mm"): ("greatest gap", "mm"),
    (flatness.FlatnessLimit, "over_mm"): ("under a straightedge of", "mm"),
    (flatness.FlatnessLimit, "short_gap_mm"): ("and greatest gap", "mm"),
    (flatness.FlatnessLimit, "short_over_mm"): ("within any", "mm"),
    (flatness.SpacingLimit, "least_mm"): ("movement joints every", "mm"),
    (flatness.SpacingLimit, "greatest_mm"): ("at most every", "mm"),
    (flatness.Layout, "bay_mm"): ("length of a bay", "mm"),
    (lifting.TeamCapacity, "factor"): ("share of the sum of single limits", ""),
    (lifting.SuctionMargin, "factor"): ("holds, times the weight", ""),
    (lifting.SuctionMargin, "required"): ("must hold, times the weight", ""),
    (lifting.LiftAdvice, "words"): ("who", ""),
    (lifting.LiftingIndex, "index"): ("lifting index", ""),
    (dust.DustControl, "protection_factor"): ("respirator protection factor", ""),
    (sampling.Interval, "low"): ("at least", "share, rounded down"),
    (sampling.Interval, "high"): ("at most", "share, rounded up"),
    (sampling.LiftProof, "share"): ("least share of good tiles", "share, rounded down"),
    (sampling.LiftProof, "confidence"): ("confidence", "share"),
    (sampling.LiftsNeeded, "failures"): ("bad ones allowed among them", ""),
    (sampling.SamplingPlan, "code"): ("code letter", ""),
    (sampling.SamplingPlan, "sample"): ("tiles to inspect", ""),
    (sampling.SamplingPlan, "accept"): ("accept with bad ones up to", ""),
    (sampling.SamplingPlan, "reject"): ("reject from bad ones", ""),
    (sampling.SamplingPlan, "everything"): ("that is every tile", ""),
    (sampling.SamplingPlan, "followed"): ("an arrow of the table was followed", ""),
}

# A field that is None and whose absence is itself an answer; other fields that are None are left out.
_WHEN_NONE: Mapping[tuple[type, str], str] = {
    (coverage.Requirement, "largest_void_mm2"): "no rule gives one",
    (coverage.Requirement, "edge_clear_mm"): "no rule gives one",
    (lifting.LiftAdvice, "people"): "no team by hand",
    (lifting.LiftingIndex, "index"): "none: nothing may be lifted like that",
}

# Where one dataclass holds figures of two sources.
_OTHER_BASIS: Mapping[tuple[type, str], str] = {
    (coverage.Requirement, field): "void_basis" for field in ("largest_void_mm2", "edge_clear_mm", "corners")
}

_VERDICT = "verdict"


def _name_and_unit(field: str, figure: str) -> tuple[str, str]:
    """What a field is called, and its unit by the ending of its name.

    >>> _name_and_unit("stroke_back_mm", ""), _name_and_unit("kg_per_m2", "weight")
    (('stroke back', 'mm'), ('weight per area', 'kg/m2'))
    """
    for suffix, unit in _SUFFIXES:
        if f"_{field}".endswith(suffix):
            stem = f"_{field}".removesuffix(suffix)[1:].replace("_", " ") or figure
            return f"{stem} per area" if unit.endswith("/m2") else stem, unit
    if field in ("passed", "outcome"):
        return _VERDICT, ""
    return field.replace("_", " "), ""


def _unpack(part: object, fallback: Basis) -> Iterator[_Figure]:
    if isinstance(part, _Figure):
        yield part
        return
    if not isinstance(part, _Part):
        part = _Part(part)
    outcome = part.outcome
    rows: Iterable[tuple[str, object]]
    if isinstance(outcome, Mapping):
        rows = outcome.items()
    elif is_dataclass(outcome):
        rows = ((field.name, getattr(outcome, field.name)) for field in fields(outcome))
    else:
        raise TypeError(f"{type(outcome).__name__} cannot be unpacked into results")
    own = getattr(outcome, "basis", None)
    basis = own if isinstance(own, Basis) else part.basis or fallback
    for field, value in rows:
        key = (type(outcome), field)
        if isinstance(value, Basis) or field in part.skip or (value is None and key not in _WHEN_NONE):
            continue
        name, unit = _FIELDS.get(key) or _name_and_unit(field, part.figure)
        if isinstance(value, tuple):
            if not value:
                continue
            # Sentences follow one another; clauses are strung together.
            value = (" " if str(value[0]).endswith((".", "!")) else "; ").join(map(str, value))
        elif value == "":
            continue
        other = getattr(outcome, _OTHER_BASIS.get(key, ""), None)
        source = other if isinstance(other, Basis) else basis
        yield _Figure(f"{part.prefix}{name}", value, unit, source, _WHEN_NONE.get(key, ""))


def _decimals(value: float, places: int) -> str:
    text = f"{value:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _bare_text(value: float) -> str:
    return _decimals(value, 0 if abs(value) >= 1000 else 2 if abs(value) >= 1 else 3)


def _duration_text(minutes: float) -> str:
    # Hours and days where nobody counts in minutes any more.
    if abs(minutes) >= 2880:
        return f"{_decimals(minutes / 1440, 1)} days"
    if abs(minutes) >= 180:
        return format_quantity(minutes / 60, "h")
    return format_quantity(minutes, "min")


def _symbol(unit: str) -> str:
    return unit.replace("1/", "per ").replace("2", "²").replace("3", "³").replace("ug", "µg")


def _result(figure: _Figure, system: System) -> Result:
    value, unit = figure.value, figure.unit
    if figure.fixed:
        system = "as given"

    def made(value: float | int | bool | str | None, unit: str, text: str) -> Result:
        return Result(figure.name, value, unit, figure.text or text, figure.basis, figure.detail)

    if value is None:
        return made(None, "", figure.when_none)
    if isinstance(value, bool):
        if figure.name == _VERDICT:
            return made(word := "passed" if value else "failed", "", word)
        return made(value, "", "yes" if value else "no")
    if not isinstance(value, (int, float)):
        return made(str(value), "", str(value))
    if unit.startswith("share"):
        percent = value * 100
        # A claim must not grow by rounding.
        if unit == "share, rounded down":
            return made(percent, "percent", f"{math.floor(percent * 10 + 1e-7) / 10:g} %")
        if unit == "share, rounded up":
            return made(percent, "percent", f"{math.ceil(percent * 10 - 1e-7) / 10:g} %")
        return made(percent, "percent", f"{_bare_text(percent)} %")
    if unit in quantities.UNITS:
        target = quantities.unit_in_system(unit, system)
        shown = quantities.convert(value, unit, target)
        return made(shown, target, _duration_text(value) if unit == "min" else format_quantity(value, unit, system))
    if unit in _COMPOSED_IN_US:
        kind = next(kind for kind, table in _COMPOSED.items() if unit in table)
        target = _COMPOSED_IN_US[unit] if system == "us" else unit
        shown = value if target == unit else float(value / _composed_factor(kind, target))
        return made(shown, target, f"{_bare_text(shown)} {_symbol(target)}")
    if not math.isfinite(value):
        raise ValueError(f"the {figure.name} is beyond all measure; check the figures that were given")
    text = str(value) if isinstance(value, int) else _bare_text(value)
    return made(value, unit, f"{text} {_symbol(unit)}".strip())


def find_calculation(name: str) -> Calculation:
    """The entry of `CALCULATIONS` of that name.

    Errors: `UnknownCalculation` with the nearest names.

    >>> find_calculation("peace-weight")
    Traceback (most recent call last):
        ...
    fieldassist.trade.catalog.UnknownCalculation: 'peace-weight' is not a calculation; did you mean piece-weight?
    `fieldassist calc` lists all.
    """
    if name in CALCULATIONS:
        return CALCULATIONS[name]
    word = name.casefold().replace("_", "-").replace(" ", "-")
    near = difflib.get_close_matches(word, list(CALCULATIONS), n=1, cutoff=0.75) or [
        known for known in CALCULATIONS if word and set(word.split("-")) & set(known.split("-"))
    ]
    near = near or difflib.get_close_matches(word, list(CALCULATIONS), n=2, cutoff=0.5)
    hint = f"did you mean {' or '.join(near[:4])}? " if near else ""
    raise UnknownCalculation(f"{name!r} is not a calculation; {hint}`fieldassist calc` lists all.")


def evaluate(name: str, given: Mapping[str, str], *, system: System = "metric") -> tuple[Result, ...]:
    """Do one computation by name, from text to results.

    Parameters: name, a key of `CALCULATIONS`; given, text by the name of each input, as people write it; system of
    the values and sentences in the results, metric being canonical.
    Result: figures and sentences, each with unit, text and basis.
    Errors: `UnknownCalculation` with the nearest name; `ValueError` for an input that is unknown, missing or cannot
    be read, with an example; `OutOfRange` from the computation, with the reason.

    >>> weight = evaluate("piece-weight", {"length": "1 m", "width": "3 m", "thickness": "6 mm"})[0]
    >>> weight.name, round(weight.value, 1), weight.unit, weight.text
    ('weight', 42.3, 'kg', '42.3 kg')
    >>> evaluate("bed", {"notch": "half inch square"}, system="us")[0].text
    '0.177 in'
    """
    calculation = find_calculation(name)
    values = read_inputs(calculation, given, system)
    fallback = calculation.sources[0] if calculation.sources else PRACTICE
    try:
        outcome = calculation.compute(values)
        parts = outcome if isinstance(outcome, list) else [outcome]
        figures = [figure for part in parts for figure in _unpack(part, fallback)]
        return tuple(_result(figure, system) for figure in figures)
    except (OverflowError, InvalidOperation):
        raise ValueError("the result is beyond all measure; check the figures that were given") from None


def verdict_of(results: Iterable[Result]) -> Outcome | None:
    """What a computation that judges something says; None where it judges nothing.

    >>> verdict_of(evaluate("bed-verdict", {"bed": "2.2 mm", "mortar": "thin-set"}))
    'failed'
    """
    verdicts = [result.value for result in results if result.name == _VERDICT]
    if not verdicts:
        return None
    return outcome_of(failed="failed" in verdicts, complete=set(verdicts) == {"passed"})


# --- what several entries share -----------------------------------------------------------------------------------

_GEOMETRY = Basis("geometry of the notch", standing=Standing.COMPUTED)
_VOLUME = Basis("conservation of volume", standing=Standing.COMPUTED)
_ARITHMETIC = Basis("arithmetic on the figures given", standing=Standing.COMPUTED)
_SHEET = Basis("the mortar's data sheet", standing=Standing.DATA_SHEET)
_FACTORS = Basis(
    "International yard and pound agreement; NIST Handbook 44",
    "appendix C",
    "1959",
    standing=Standing.COMPUTED,
    note="1 in = 25.4 mm, 1 lb = 0.45359237 kg and 1 US gal = 231 in³, exactly.",
)
_NIOSH = Basis("DHHS (NIOSH) Publication 94-110", "", "1994, rev. 2021")
_RUN = Basis("success-run theorem", standing=Standing.COMPUTED)
_BINOMIAL = Basis("binomial distribution", standing=Standing.COMPUTED)
_HYPERGEOMETRIC = Basis("hypergeometric distribution", standing=Standing.COMPUTED)
_L23 = Basis("HSE L23", "¶120", standing=Standing.READ)

_SITE_FIRST = "Local codes, the product's data sheet and the site's own safety plan come first."
_CEMENT_CAUTIONS = (*(caution.text for caution in mortar.MIXING_CAUTIONS), _SITE_FIRST)
_LIFTING_CAUTIONS = (
    "Kneeling, reaching, twisting, stairs and wind take away much of what a person may lift. Cut-resistant gloves for "
    "the edges; one person calls the lift.",
    "A guide, not a permit: the site's own assessment and local rules come first; hoists and rigging are for people "
    "licensed for them.",
)
_FIELD_CAUTION = ("Wet cement burns skin and eyes: gloves and goggles. " + _SITE_FIRST,)

_DUST_TASKS = (*get_args(dust.TableTask), *get_args(dust.OtherTask))

_NOTCH_INPUTS = (
    Input(
        "notch",
        "a common notch by its name (or describe yours with the five below)",
        "choice",
        "half inch square",
        optional=True,
        choices=tuple(ridges.COMMON_NOTCHES),
        shown=True,
    ),
    Input("notch-family", "shape of your own notch", "choice", "U", optional=True, choices=get_args(ridges.Family)),
    Input("notch-width", "opening of one notch along the trowel's edge", "length", "1/4 in", optional=True),
    Input("notch-depth", "depth of the notch; a square one has its width", "length", "3/8 in", optional=True),
    Input("notch-spacing", "tooth left between two notches", "length", "1/4 in", optional=True),
    Input("notch-pitch", "centre to centre of two notches, in place of the tooth", "length", "1/2 in", optional=True),
    Input("notch-lean", "lean of a slanted or ridge-collapse notch, in degrees", "angle", "30", optional=True),
)
_OWN_NOTCH = ("notch-family", "notch-width", "notch-depth", "notch-spacing", "notch-pitch", "notch-lean")
_PASS_INPUTS = (
    Input(
        "trowel-angle",
        "angle between trowel and base, in degrees; flatter leaves less",
        "angle",
        "60",
        default=f"{ridges.FIELD_ANGLE:g}",
    ),
    Input(
        "filling",
        "share of the notch that becomes ridge; see `filling` for your own",
        "number",
        "0.9",
        default=f"{ridges.DEFAULT_FILLING:g}",
    ),
)
_COMB_INPUTS = (
    Input("sides", "comb the base only, or base and tile", "choice", "both", default="one", choices=("one", "both")),
    Input(
        "back-notch",
        "common notch for the tile's back, when it is another one",
        "choice",
        "quarter inch square",
        optional=True,
        choices=tuple(ridges.COMMON_NOTCHES),
    ),
    Input("skim", "coat keyed into the tile's back with the flat side", "length", "0.5 mm", default="0 mm"),
)
_PROFILE_INPUT = Input(
    "back-profile", "mean depth of the grooves in the tile's back, which fill first", "length", "0.3 mm", default="0 mm"
)
_MORTAR_INPUTS = (
    Input(
        "mortar",
        "kind of mortar, which sets the bed it allows",
        "choice",
        "large-and-heavy-tile",
        choices=get_args(mortar.Kind),
    ),
    Input("least-bed", "least bed on the data sheet, in place of the general one", "length", "3 mm", optional=True),
    Input("greatest-bed", "greatest bed on the data sheet", "length", "12 mm", optional=True),
)
_SETTING_INPUTS = (
    Input("product", "what is set", "choice", "tile", default="tile", choices=get_args(coverage.Product)),
    Input(
        "place",
        "dry (indoors), wet (indoors, such as a shower) or exterior",
        "choice",
        "wet",
        choices=get_args(coverage.Place),
    ),
    Input("surface", "wall or floor", "choice", "wall", choices=get_args(coverage.Surface)),
)
_BED_INPUT = Input(
    "bed",
    "mortar per area, as a depth: 1 mm is 1 L/m² (see `bed`), the tile's back profile included",
    "length",
    "4.5 mm",
)
_YIELD_INPUT = Input("bag-yield", "mixed mortar from one bag, from its data sheet", "volume", "15 L")
_WASTE_INPUT = Input(
    "waste", "mortar lost, as a share of what ends up behind the tile", "percent", "10 %", default="10 %"
)
_SHEET_TIME = Input("data-sheet", "the time on the data sheet, which goes first", "duration", "2 h", optional=True)
_CONFIDENCE = Input("confidence", "how sure you want to be", "share", "95 %", default="95 %")
_SHARE = Input("share", "share of good tiles that is claimed", "share", "90 %", default="90 %")
_LOT = Input("lot", "how many tiles the area has, those lifted included", "count", "40", optional=True)
_CONSTANTS = Input(
    "constants",
    "which set of the equation's constants; they are not conversions of each other, so stay with one",
    "choice",
    "us",
    default="metric",
    choices=("metric", "us"),
)
_SINGLE_LIMIT = Input(
    "single-limit",
    "what each person may lift alone (the default is a filter for a man, load held close)",
    "mass",
    "20 kg",
    default=f"{lifting.HSE_FILTER_KG:g} kg",
)


def _notch(values: Values) -> ridges.Notch:
    own = [name for name in _OWN_NOTCH if values[name] is not None]
    if values["notch"] is not None:
        if own:
            raise ValueError(f"give a notch by its name or describe one, not both; leave out notch or {own[0]}")
        return ridges.COMMON_NOTCHES[values["notch"]]
    family, width, depth = values["notch-family"], values["notch-width"], values["notch-depth"]
    spacing, pitch = values["notch-spacing"], values["notch-pitch"]
    if depth is None and family == "square":
        depth = width
    if family is None or width is None or depth is None or (spacing is None) == (pitch is None):
        raise ValueError(
            "give notch, such as 'half inch square', or describe one: notch-family, notch-width, notch-depth, and "
            "either notch-spacing or notch-pitch"
        )
    if pitch is not None:
        return ridges.notch_at_pitch(family, width, depth, pitch, values["notch-lean"])
    return ridges.Notch(family, width, depth, spacing, values["notch-lean"])


def _combing(values: Values) -> dict[str, Any]:
    back = values["back-notch"]
    return {"back_notch": None if back is None else ridges.COMMON_NOTCHES[back], "skim_mm": values["skim"]}


def _bed_limits(values: Values) -> mortar.BedLimits:
    return mortar.bed_limits(
        values["mortar"], data_sheet_least_mm=values["least-bed"], data_sheet_greatest_mm=values["greatest-bed"]
    )


def _requirement(values: Values) -> coverage.Requirement:
    return coverage.required_contact(values["product"], values["place"], values["surface"])


# --- computations that take more than one call --------------------------------------------------------------------


def _convert(values: Values) -> object:
    quantity: quantities.Quantity = values["value"]
    target = values["to"]
    if target is None:
        other = [quantities.unit_in_system(quantity.unit, system) for system in ("us", "metric")]
        target = next((unit for unit in other if unit != quantity.unit), quantity.unit)
    exact = quantities.convert_exact(quantity.value, quantity.unit, target)
    base = quantities.unit_info(quantity.unit).canonical
    plain = quantities.canonical(quantity.value, quantity.unit)
    return [
        _precise("converted", quantities.convert(quantity.value, quantity.unit, target), target),
        _Figure("exactly", f"{exact} {quantities.unit_info(target).symbol}".strip(), "", _FACTORS),
        _Figure("as a screen shows it", format_quantity(exact, target), "", _FACTORS),
        _precise("in the unit used inside", plain, base),
        _Figure("what it measures", quantities.dimension_of(target), "", _FACTORS),
    ]


def _precise(name: str, value: float, unit: str) -> _Figure:
    text = f"{value:.7g} {quantities.unit_info(unit).symbol}".strip()
    return _Figure(name, value, unit, _FACTORS, fixed=True, text=text)


def _fraction(values: Values) -> object:
    inches = quantities.convert(values["length"], "mm", "in")
    near = quantities.nearest_fraction(inches, values["marks"])
    return [
        _Figure("on the tape", f"{near} in", "", _FACTORS),
        _precise("that is", near.whole + near.numerator / near.denominator, "in"),
        _precise("off by", near.error_in, "in"),
        _precise("off by, metric", quantities.convert(near.error_in, "in", "mm"), "mm"),
    ]


def _size_entry(values: Values) -> object:
    first, second = values["size"]
    return {
        "metric": quantities.format_size(first, second, "mm"),
        "US": quantities.format_size(first, second, "mm", "us"),
        "area_m2": first * second / 1e6,
    }


def _compare(values: Values) -> object:
    reading, limit = values["reading"], values["limit"]
    if quantities.dimension_of(reading.unit) != quantities.dimension_of(limit.unit):
        raise ValueError(f"{reading.unit} and {limit.unit} measure different things; give both in the same dimension")
    base = quantities.unit_info(limit.unit).canonical
    a, b = (quantities.convert_exact(q.value, q.unit, base) for q in (reading, limit))
    shown, allowed = quantities.format_against(float(a), float(b), base, values["system"])
    return {"reading": shown, "limit": allowed, "the reading is": "below" if a < b else "above" if a > b else "equal"}


def _ridges(values: Values) -> object:
    notch = _notch(values)
    return [
        ridges.ridge(notch, values["trowel-angle"], values["filling"]),
        {
            "notch section_mm2": ridges.notch_area(notch),
            "pitch of the trowel_mm": notch.pitch_mm,
            "ridges lean": notch.leans,
        },
    ]


_MOST_POINTS = 360


def _outline(values: Values) -> object:
    if values["points"] > _MOST_POINTS:
        raise OutOfRange(f"{values['points']} points are more than a drawing needs; ask for {_MOST_POINTS} at most")
    figures: dict[str, float] = {}
    for number, (x, y) in enumerate(ridges.outline(_notch(values), values["points"]), start=1):
        figures[f"corner {number} along the edge_mm"] = x
        figures[f"corner {number} into the trowel_mm"] = y
    return figures


def _bed(values: Values) -> object:
    shared = {"sides": values["sides"], "direction": values["direction"], **_combing(values)}
    notch, angle, filling = _notch(values), values["trowel-angle"], values["filling"]
    return {
        "bed after full collapse_mm": ridges.bed_after_collapse(
            notch, angle, filling, back_profile_mm=values["back-profile"], **shared
        ),
        "mortar_l_per_m2": ridges.mortar_per_m2(notch, angle, filling, **shared),
    }


def _two_sided(values: Values) -> object:
    notch, angle, filling = _notch(values), values["trowel-angle"], values["filling"]
    shared = {"direction": values["direction"], "back_profile_mm": values["back-profile"], **_combing(values)}
    return [
        ridges.two_sided_combing(notch, _bed_limits(values), angle, filling, system=values["system"], **shared),
        {"bed after full collapse_mm": ridges.bed_after_collapse(notch, angle, filling, sides="both", **shared)},
    ]


def _notch_advice(values: Values) -> object:
    own = [name for name in _OWN_NOTCH if values[name] is not None]
    notches: Mapping[str, ridges.Notch] = (
        {values["notch"] or "your notch": _notch(values)} if own or values["notch"] else ridges.COMMON_NOTCHES
    )
    limits = _bed_limits(values)
    ranked = ridges.advise(
        notches,
        limits,
        tile_mm=values["tile"],
        warpage_mm=values["warpage"],
        substrate_mm=values["substrate"],
        back_profile_mm=values["back-profile"],
        skim_mm=values["skim"],
        minimum_percent=values["contact"],
        setting=values["setting"],
        angle_deg=values["trowel-angle"],
        filling=values["filling"],
        hand_limit_mm=values["hand-limit"],
        system=values["system"],
    )
    rows: list[object] = [_Part({"passed": ranked[0].works}, basis=limits.basis)]
    for rank, advice in enumerate(ranked, start=1):
        name = f"{rank}. {advice.name}, {advice.sides} {'side' if advice.sides == 'one' else 'sides'}"
        head = "" if advice.left_mm is not None else "works: " if advice.works else "fails: "
        words = head + "; ".join(advice.reasons)
        rows += [
            _Figure(name, words, "", limits.basis),
            _Figure(f"{rank}. works", advice.works, "", limits.basis, detail=True),
            _Figure(f"{rank}. bed", advice.bed_mm, "mm", _GEOMETRY, detail=True),
            _Figure(f"{rank}. greatest contact", advice.greatest_contact_percent, "percent", _VOLUME, detail=True),
        ]
    best = ranked[0]
    if best.works:
        rows.append(_Part({"slide with the first": best.slide.instruction}, basis=best.slide.basis))
    if best.air is not None:
        rows.append(_Part({"way of the air": best.air.advice}, basis=best.air.basis))
    return rows


def _filling(values: Values) -> object:
    shared = {"sides": values["sides"], **_combing(values)}
    return ridges.calibrated_filling(values["implied-bed"], _notch(values), values["trowel-angle"], **shared)


def _effort(values: Values) -> object:
    effort = ridges.collapse_effort(_notch(values), values["trowel-angle"])
    return {
        "effort, as the height of a square ridge_mm": effort,
        "most by hand_mm": ridges.HAND_COLLAPSE_LIMIT_MM,
        "collapses by hand": effort <= ridges.HAND_COLLAPSE_LIMIT_MM,
    }


def _lift_verdict(values: Values) -> object:
    required, void = _requirement(values), values["largest-void"]
    verdict = coverage.lift_verdict(
        values["contact"],
        required,
        None if void is None else quantities.convert(void, "m2", "mm2"),
        values["void-to-edge"],
        values["corners-supported"],
        system=values["system"],
    )
    return [
        _Part(verdict, basis=required.basis),
        _Part({"least contact_percent": required.minimum_percent}, basis=required.basis),
    ]


def _area_verdict(values: Values) -> object:
    required = _requirement(values)
    lifts = [
        (contact, outcome or outcome_of(failed=contact < required.minimum_percent, complete=True))
        for contact, outcome in values["lifts"]
    ]
    verdict = coverage.area_verdict(lifts, required, rule=values["rule"])
    return [
        _Part(verdict, basis=required.basis),
        _Part({"least contact_percent": required.minimum_percent}, basis=required.basis),
    ]


def _bag_yield(values: Values) -> object:
    bag = mortar.bag_yield(values["bag-mass"], values["bag-yield"], values["powder"])
    known = bag.least_l == bag.greatest_l
    return _Part(bag, skip=("least_l", "greatest_l") if known else ())


def _bags(values: Values) -> object:
    bag = mortar.bag_yield(values["bag-mass"], values["bag-yield"], values["powder"])
    need = mortar.mortar_for_area(
        values["area"],
        values["bed"],
        values["bag-mass"],
        bag.litres,
        water_l_per_bag=values["water-per-bag"],
        waste_percent=values["waste"],
    )
    return [_Part(need, basis=bag.basis), _Part({"yield of a bag_l": bag.litres}, basis=bag.basis)]


def _mass_balance(values: Values) -> object:
    balance = mortar.mass_balance(
        values["bags"],
        values["bag-yield"],
        values["area"],
        values["predicted-bed"],
        waste_percent=values["waste"],
        gap_mm=values["gap"],
        bags_uncertainty=values["bags-uncertainty"],
        yield_uncertainty_percent=values["yield-uncertainty"],
        area_uncertainty_percent=values["area-uncertainty"],
        waste_uncertainty_percent=values["waste-uncertainty"],
        system=values["system"],
    )
    return [{"passed": balance.verdict == "as predicted"}, balance]


def _time(span: times.TimeSpan, name: str) -> _Part:
    """One figure where the span is one, otherwise its two ends."""
    if span.least_min == span.greatest_min:
        return _Part({f"{name}_min": span.least_min}, basis=span.basis)
    return _Part({f"{name}, at least_min": span.least_min, f"{name}, up to_min": span.greatest_min}, basis=span.basis)


def _open_time(values: Values) -> object:
    parts: list[object] = [_time(times.open_time(values["data-sheet"], values["mortar-class"]), "open time")]
    if values["mortar-class"] is not None and values["data-sheet"] is not None:
        promised = times.open_time_minimum(values["mortar-class"])
        parts.append(_Part({"promised by the class_min": promised.least_min}, basis=promised.basis))
    return [*parts, _Part({"the sign that decides": times.OPEN_TIME_TOUCH}, basis=PRACTICE)]


def _working_temperature(values: Values) -> object:
    limits = times.working_temperature((values["least"], values["greatest"]), values["practice"])
    if values["temperature"] is None:
        return limits
    return [times.temperature_verdict(values["temperature"], limits, system=values["system"]), limits]


def _cure(values: Values) -> object:
    wait = {"grout": times.cure_to_grout, "light traffic": times.cure_to_traffic}[values["until"]](values["data-sheet"])
    if values["temperature"] is None:
        return _time(wait, "wait")
    span = times.cure_span(wait.least_min, values["temperature"], system=values["system"])
    factors = {
        f"times longer by the {rule}": times.cure_slowdown(values["temperature"], rule)
        for rule in times.CURE_TEMPERATURES
    }
    return [_Part(span), _Part(factors)]


def _comb_area(values: Values) -> object:
    piece = values["piece"]
    return times.comb_area(
        values["open-time"],
        values["pace"],
        combing_pace_m2_per_h=values["combing-pace"],
        share=values["share-used"],
        piece_area_m2=None if piece is None else piece[0] * piece[1] / 1e6,
    )


def _clocks(values: Values) -> object:
    rows: dict[str, object] = {}
    for due in times.clocks_due(values["clocks"]):
        rows[f"{due.name}, left_min"] = due.remaining_min
        rows[f"{due.name}, time is up"] = due.over
    return rows


def _base_flatness(values: Values) -> object:
    limit = flatness.substrate_limit(
        values["standard"], values["longest-edge"], values["product"], span_mm=values["span"]
    )
    if values["gap"] is None:
        return limit
    verdict = flatness.substrate_verdict(values["gap"], limit, values["short-gap"], system=values["system"])
    return [verdict, limit]


def _lippage(values: Values) -> object:
    allowed = _Part(flatness.lippage_allowance(values["joint"], values["warpage"]), "greatest step")
    if values["step"] is None:
        return allowed
    verdict = flatness.lippage_verdict(values["step"], values["joint"], values["warpage"], system=values["system"])
    return [verdict, allowed]


def _judged_joint(values: Values, least: flatness.Limit) -> object:
    limit = _Part(least, "least joint")
    if values["joint"] is None:
        return limit
    return [flatness.joint_verdict(values["joint"], least, system=values["system"]), limit]


def _least_joint(values: Values) -> object:
    least = flatness.least_joint(
        values["facial-variation"],
        values["longest-edge"],
        running_bond=values["running-bond"],
        edge=values["edges"],
        warpage_mm=values["warpage"],
    )
    return _judged_joint(values, least)


def _offset(values: Values) -> object:
    found = flatness.offset_limit(values["side"], values["edition"])
    limit = _Figure("greatest offset", found.mm, "mm", found.basis, "no limit for a side of this length")
    if found.mm is not None:
        shown = format_quantity(found.mm, "mm", values["system"])
        limit = _Figure("greatest offset", found.mm, "mm", found.basis, text=f"one third of the side ({shown})")
    if values["offset"] is None:
        return limit
    verdict = flatness.offset_verdict(values["offset"], values["side"], values["edition"], system=values["system"])
    return [verdict, limit]


def _movement_joints(values: Values) -> object:
    spacing = flatness.movement_joint_spacing(values["setting"])
    every = spacing.greatest_mm if values["spacing"] is None else values["spacing"]
    parts: list[object] = [spacing]
    swing = values["temperature-range"]
    outdoors = values["setting"] == "exterior" or (values["setting"] == "above-ground slab" and swing is not None)
    if values["setting"] != "exterior BS 5385" and (swing is not None or not outdoors):
        width = flatness.movement_joint_width(every, swing, "exterior" if outdoors else "interior")
        parts.append(_Part(width, "least width of the joint"))
    if values["run"] is not None:
        layout = flatness.movement_joint_layout(values["run"], every)
        parts.append(_Part(layout, basis=spacing.basis))
    if values["width"] is not None:
        verdict = flatness.movement_joint_verdict(
            values["width"], every, values["setting"], swing, system=values["system"]
        )
        parts.insert(0, verdict)
    return parts


def _limit_at(limit: lifting.WeightLimit, where: str) -> _Part:
    return _Part(
        {
            f"limit {where}_kg": limit.kg,
            **{
                f"{field.name} multiplier {where}": getattr(limit.multipliers, field.name)
                for field in fields(limit.multipliers)
            },
            f"limit {where}, because": limit.reasons,
        },
        basis=limit.basis,
    )


def _lifting_limit(values: Values) -> object:
    lifting.check_covered(values["conditions"] or ())
    ends = [values[name] is not None for name in ("to-reach", "to-height")]
    if any(ends) and not all(ends):
        raise ValueError("the other end of the lift takes both to-reach and to-height")
    travel = values["travel"]
    if travel is None:
        if not all(ends):
            raise ValueError(
                "give travel, how far up or down the piece goes, or to-reach and to-height of the other end"
            )
        travel = abs(values["to-height"] - values["height"])

    def limit(reach: float, height: float, turn: float, origin: float | None) -> lifting.WeightLimit:
        return lifting.recommended_weight_limit(
            reach,
            height,
            travel,
            turn,
            values["lifts-per-minute"],
            values["duration"],
            values["grip"],
            origin_vertical_mm=origin,
            constants=values["constants"],
            rounding=values["rounding"],
        )

    origin = limit(values["reach"], values["height"], values["turn"], None)
    parts, governs = [_limit_at(origin, "at the origin")], origin
    if all(ends):
        turn = values["turn"] if values["to-turn"] is None else values["to-turn"]
        other = limit(values["to-reach"], values["to-height"], turn, values["height"])
        governs = lifting.lower_limit(origin, other)
        parts.append(_limit_at(other, "at the destination"))
        parts.append(_Part({"limit that governs_kg": governs.kg}, basis=governs.basis))
    if values["load"] is not None:
        parts.append(_Part(lifting.lifting_index(values["load"], governs)))
    return parts


def _lifting_frequency(values: Values) -> object:
    column = lifting.duration_class(values["work"], values["recovery"], values["edition"])
    rate = values["lifts-per-minute"]
    if values["burst"] is not None:
        rate = lifting.average_frequency(rate, values["burst"])
    return {
        "lifts per minute to enter": rate,
        "duration": column,
        "frequency multiplier": lifting.frequency_multiplier(rate, column, values["below-waist"]),
    }


def _dust_day(values: Values) -> object:
    day = dust.day_controls(values["tasks"])
    parts: list[object] = [
        {
            **{f"{task}_min": minutes for task, minutes in day.minutes.items()},
            "in all by the table_min": day.total_min,
            "more than four hours": day.over_four_hours,
        }
    ]
    seen: dict[str, int] = {}
    for control in day.controls:
        seen[control.task] = seen.get(control.task, 0) + 1
        prefix = control.task + (f" ({seen[control.task]})" if seen[control.task] > 1 else "")
        parts.append(_Part(control, prefix=f"{prefix}: ", skip=("task", "cautions")))
    return [*parts, *(_Part({f"{task}: not in the table": why}) for task, why in day.not_in_table.items())]


def _dust_average(values: Values) -> object:
    average = dust.time_weighted_average(values["periods"])
    if values["substance"] == "other":
        return {"8-hour average, in the unit given": average}
    return [{"8-hour average_ug_m3": average}, dust.exposure_verdict(average, values["jurisdiction"])]


def _dust_limit(values: Values) -> object:
    limit, basis = dust.exposure_limit(values["jurisdiction"])
    parts: list[object] = [_Part({"limit, 8-hour average_ug_m3": limit}, basis=basis)]
    if values["average"] is not None:
        parts.insert(0, dust.exposure_verdict(values["average"], values["jurisdiction"]))
    return parts


def _mixture(values: Values) -> object:
    exposure = dust.mixture_exposure(values["contaminants"])
    return {"equivalent exposure": exposure, "passed": exposure <= 1}


def _success_run(values: Values) -> object:
    n = sampling.zero_failure_sample(values["confidence"], values["share"], values["form"])
    parts: list[object] = [{"lifts, all good": n}]
    if values["lifted"] is not None:
        shown = sampling.share_shown(values["lifted"], values["confidence"], values["form"])
        parts.append(_Figure(f"share shown by {values['lifted']} good lifts", shown, "share, rounded down", _RUN))
    return parts


def _share_limits(values: Values) -> object:
    return sampling.clopper_pearson(values["good"], values["lifted"], values["confidence"], values["side"])


def _lot_left(values: Values) -> object:
    least = sampling.least_good_in_lot(values["good"], values["lifted"], values["lot"], values["confidence"])
    return {"good tiles at least": least, "of tiles": values["lot"]}


# --- the entries --------------------------------------------------------------------------------------------------

SUBJECTS = (
    "Quantities",
    "Notches and ridges",
    "Coverage",
    "Mortar",
    "Times and temperatures",
    "Flatness and joints",
    "Weight and lifting",
    "Dust",
    "Sampling",
)
_QUANTITIES, _RIDGES, _COVERAGE, _MORTAR, _TIMES, _FLATNESS, _LIFTING, _DUST, _SAMPLING = SUBJECTS

_ENTRIES: tuple[Calculation, ...] = (
    # -- quantities
    Calculation(
        "convert",
        _QUANTITIES,
        "a quantity in another unit, exactly",
        "Length, area, mass, volume, time, temperature and percent, between metric and US units. Without `to` it goes "
        "to the unit in which the other system shows it.",
        (
            Input("value", "a number with its unit", "quantity", "3/32 in"),
            Input("to", "the unit wanted", "unit", "mm", optional=True, shown=True),
        ),
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
        (_FACTORS,),
    ),
    Calculation(
        "fraction",
        _QUANTITIES,
        "the nearest fraction on a tape, and how far off it is",
        "Finds the nearest mark of an inch tape and says by how much it misses, so that nobody takes 0.0886 in for "
        "3/32 in.",
        (
            Input("length", "the length to be read off a tape", "length", "2.25 mm"),
            Input("marks", "marks to the inch: 1, 2, 4, 8, 16, 32 or 64", "count", "16", default="32"),
        ),
        _fraction,
        (quantities.nearest_fraction,),
        (_FACTORS,),
    ),
    Calculation(
        "size",
        _QUANTITIES,
        "a tile's size in both systems, and its area",
        "Reads two sides as they are written on a carton.",
        (Input("size", "the two sides", "size", "24 x 48 in"),),
        _size_entry,
        (quantities.parse_size, quantities.format_size),
        (_FACTORS,),
    ),
    Calculation(
        "compare",
        _QUANTITIES,
        "a reading beside its limit, told apart",
        "Says whether a reading is below, above or exactly at a limit, whatever the units, and writes both with as "
        "many decimals as it takes to see the difference.",
        (
            Input("reading", "what was measured", "quantity", "94.97 %"),
            Input("limit", "what it is held against", "quantity", "95 %"),
        ),
        _compare,
        (quantities.format_against,),
        (_FACTORS,),
    ),
    # -- notches and ridges
    Calculation(
        "ridges",
        _RIDGES,
        "what one pass of a notched trowel leaves",
        "Section and height of the ridge, ridges per length, mortar per area and the bed after full collapse. Half the "
        "notch depth holds for a trowel held upright only: at 45 degrees it is about a third.",
        (*_NOTCH_INPUTS, *_PASS_INPUTS),
        _ridges,
        (ridges.ridge, ridges.notch_area, ridges.notch_at_pitch),
        (_GEOMETRY,),
    ),
    Calculation(
        "notch-outline",
        _RIDGES,
        "the outline of a notch, corner by corner",
        "For a drawing or a gauge. The ridge-collapse outline is our model: its real curve is not published.",
        (*_NOTCH_INPUTS, Input("points", "points on a curved end, 4 to 360", "count", "6", default="8")),
        _outline,
        (ridges.outline,),
        (_GEOMETRY,),
    ),
    Calculation(
        "bed",
        _RIDGES,
        "the bed after full collapse, from notch, sides, skim coat and back profile",
        "Mortar is neither made nor lost: all that was combed, plus the skim coat, less what the tile's back profile "
        "takes. Crossed ridges are refused, with the reason.",
        (
            *_NOTCH_INPUTS,
            *_PASS_INPUTS,
            *_COMB_INPUTS,
            _PROFILE_INPUT,
            Input(
                "direction",
                "ridges on the tile parallel to those on the base, or crossed",
                "choice",
                "parallel",
                default="parallel",
                choices=("parallel", "crossed"),
            ),
        ),
        _bed,
        (ridges.bed_after_collapse, ridges.mortar_per_m2),
        (_GEOMETRY,),
    ),
    Calculation(
        "slide",
        _RIDGES,
        "how far to push the tile across the ridges",
        "A notch width or half a pitch, whichever is more: there and back, or one way where the ridges lean.",
        _NOTCH_INPUTS,
        lambda v: _Part(ridges.slide_distance(_notch(v), system=v["system"]), "travel"),
        (ridges.slide_distance,),
    ),
    Calculation(
        "air-path",
        _RIDGES,
        "how far the air has to go from under the tile",
        "Compares the direction of the ridges with the best one, along the tile's short side.",
        (
            Input("tile", "the two sides of the tile", "size", "1200 x 2400 mm"),
            Input(
                "comb-angle",
                "ridges against the short side, in degrees: 0 along the short side, 90 along the long one",
                "angle",
                "90",
                default="0",
                shown=True,
            ),
        ),
        lambda v: ridges.air_path(v["tile"][0], v["tile"][1], v["comb-angle"], system=v["system"]),
        (ridges.air_path,),
    ),
    Calculation(
        "two-sided",
        _RIDGES,
        "whether combing base and tile stays inside the mortar's limits",
        "The bed of both passes against the least and the greatest bed of the mortar.",
        (
            *_NOTCH_INPUTS,
            *_MORTAR_INPUTS,
            *_PASS_INPUTS,
            *_COMB_INPUTS[1:],
            _PROFILE_INPUT,
            Input(
                "direction",
                "ridges on the tile parallel to those on the base, or crossed",
                "choice",
                "parallel",
                default="parallel",
                choices=("parallel", "crossed"),
            ),
        ),
        _two_sided,
        (ridges.two_sided_combing,),
        (_GEOMETRY,),
    ),
    Calculation(
        "collapse-effort",
        _RIDGES,
        "how hard a ridge is to collapse by hand",
        "An index to compare notches with: taller and squarer is harder, leaning is easiest. The order is common "
        "practice; the index and its limit are judgement.",
        (*_NOTCH_INPUTS, _PASS_INPUTS[0]),
        _effort,
        (ridges.collapse_effort,),
        (PRACTICE,),
    ),
    Calculation(
        "notch-depth",
        _RIDGES,
        "the notch depth an old table gives for a tile's edge",
        "Written in 1979, long before tile of a metre and more: up to 600 mm only. For more ask `notch-advice`.",
        (Input("edge", "the tile's longest edge", "length", "150 mm"),),
        lambda v: {"notch depth_mm": ridges.notch_depth_for_edge(v["edge"])},
        (ridges.notch_depth_for_edge,),
        (Basis("DIN 18157-1", "", "1979", Standing.MEMORY),),
    ),
    Calculation(
        "notch-advice",
        _RIDGES,
        "which notch, combed on which sides, fills the gap; and why the others fail",
        "Takes the tile's warpage and the base's deviation under one tile, and ranks the common notches, or judges "
        "yours: too little mortar for the gap, more than the mortar allows, or a ridge too tall to collapse by hand.",
        (
            *_MORTAR_INPUTS,
            Input("warpage", "warpage of the tile", "length", "1 mm", default="0 mm", shown=True),
            Input("substrate", "deviation of the base under one tile", "length", "1.5 mm", default="0 mm", shown=True),
            Input("contact", "contact required, see `required-coverage`", "percent", "95 %", default="95 %"),
            Input(
                "setting",
                "how ridges are collapsed",
                "choice",
                "vibrated",
                default="by hand",
                choices=("by hand", "vibrated"),
            ),
            Input("tile", "the tile's two sides, for the way of the air", "size", "1200 x 2400 mm", optional=True),
            _COMB_INPUTS[2],
            _PROFILE_INPUT,
            *_PASS_INPUTS,
            Input(
                "hand-limit",
                "greatest effort by hand, see `collapse-effort`",
                "length",
                "7 mm",
                default=f"{ridges.HAND_COLLAPSE_LIMIT_MM:g} mm",
            ),
            *(Input(i.name, i.what, i.kind, i.example, i.default, i.optional, i.choices) for i in _NOTCH_INPUTS),
        ),
        _notch_advice,
        (ridges.advise,),
        (_VOLUME, _GEOMETRY),
    ),
    Calculation(
        "filling",
        _RIDGES,
        "your own filling factor, from the bags you used",
        "The share of the notch that becomes ridge, so that the geometry agrees with the mass balance; enter it as "
        "`filling` elsewhere.",
        (
            Input("implied-bed", "the bed that the bags imply, see `mass-balance`", "length", "4.0 mm"),
            *_NOTCH_INPUTS,
            _PASS_INPUTS[0],
            *_COMB_INPUTS,
        ),
        _filling,
        (ridges.calibrated_filling,),
    ),
    # -- coverage
    Calculation(
        "required-coverage",
        _COVERAGE,
        "the mortar contact that a setting requires",
        "Least contact, largest void, edges and corners, with the clause and where editions differ. The job's own "
        "specification goes first.",
        _SETTING_INPUTS,
        _requirement,
        (coverage.required_contact,),
    ),
    Calculation(
        "lift-verdict",
        _COVERAGE,
        "judges one lifted tile",
        "Contact, largest void, distance of the nearest void to the edge, corners. What is required and was not read "
        "is named, and the verdict is then not complete.",
        (
            Input("contact", "share of the back covered with mortar", "percent", "93 %"),
            *_SETTING_INPUTS,
            Input("largest-void", "area of the largest void", "area", "2 in2", optional=True, shown=True),
            Input("void-to-edge", "from the edge to the nearest void", "length", "3 in", optional=True, shown=True),
            Input("corners-supported", "whether every corner has mortar", "flag", "yes", optional=True, shown=True),
        ),
        _lift_verdict,
        (coverage.lift_verdict,),
        cautions=_FIELD_CAUTION,
    ),
    Calculation(
        "area-verdict",
        _COVERAGE,
        "judges an area by all its lifts, and says what to do next",
        "Mean and worst contact, the least number of lifts, and the rule. Lifts are chosen and not drawn: good ones "
        "guide the work and prove nothing about the whole area.",
        (
            Input(
                "lifts",
                "the contact of each lift, with passed, failed or not complete where something else decided it",
                "lifts",
                "96 %; 97 %; 91 % failed",
            ),
            *_SETTING_INPUTS,
            Input(
                "rule",
                "hold every lift to the limit, or their mean only, as the standard's words have it",
                "choice",
                "mean",
                default="every lift",
                choices=("every lift", "mean"),
            ),
        ),
        _area_verdict,
        (coverage.area_verdict,),
        cautions=_FIELD_CAUTION,
    ),
    Calculation(
        "allowed-void",
        _COVERAGE,
        "how much of one tile's back may stay without mortar",
        "All voids together, for a contact that is required.",
        (
            Input("tile", "the two sides of the tile", "size", "12 x 12 in"),
            Input("contact", "contact required", "percent", "95 %"),
        ),
        lambda v: {"void allowed in all_mm2": coverage.allowed_void(v["tile"][0] * v["tile"][1], v["contact"])},
        (coverage.allowed_void,),
        (_ARITHMETIC,),
    ),
    Calculation(
        "greatest-contact",
        _COVERAGE,
        "the most contact that the mortar can make over the gap",
        "An upper bound: trapped air and ridges that did not collapse make it less.",
        (
            Input("bed", "mortar per area, as a depth (see `bed`)", "length", "2.25 mm"),
            Input("gap", "height between tile and base, at one place or several", "lengths", "3 mm"),
        ),
        lambda v: {"greatest contact_percent": coverage.greatest_contact(v["bed"], v["gap"])},
        (coverage.greatest_contact,),
        (_VOLUME,),
    ),
    Calculation(
        "gap-from-contact",
        _COVERAGE,
        "the gap that a measured contact implies",
        "For a bed of known volume. Full contact says only that the gap is no more than the bed.",
        (
            Input("bed", "mortar per area, as a depth (see `bed`)", "length", "2.25 mm"),
            Input("contact", "contact measured on the lifted tile", "percent", "75 %"),
        ),
        lambda v: {"mean gap_mm": coverage.gap_from_contact(v["bed"], v["contact"])},
        (coverage.gap_from_contact,),
        (_VOLUME,),
    ),
    Calculation(
        "bed-for-contact",
        _COVERAGE,
        "the least bed that can reach a contact over a gap",
        "The mortar per area, as a depth, below which the contact cannot be reached however well the tile is set.",
        (
            Input("gap", "mean height between tile and base", "length", "4 mm"),
            Input("contact", "contact wanted", "percent", "95 %"),
        ),
        lambda v: {"least bed_mm": coverage.bed_for_contact(v["gap"], v["contact"])},
        (coverage.bed_for_contact,),
        (_VOLUME,),
    ),
    Calculation(
        "solid-bed",
        _COVERAGE,
        "whether British practice wants a wall tile bedded solidly",
        "From 0.1 m² up, and smaller tile that is heavy for its background. Interior walls.",
        (
            Input("tile", "the two sides of the tile", "size", "300 x 300 mm"),
            Input("mass", "mass of the tile per area", "mass per area", "15 kg/m2"),
            Input("capacity", "what the background carries", "mass per area", "20 kg/m2"),
        ),
        lambda v: coverage.solid_bed(v["tile"][0] * v["tile"][1] / 1e6, v["mass"], v["capacity"]),
        (coverage.solid_bed,),
    ),
    # -- mortar
    Calculation(
        "bed-limits",
        _MORTAR,
        "the least and the greatest bed a mortar allows",
        "After embedding. The data sheet goes before the general figures.",
        _MORTAR_INPUTS,
        _bed_limits,
        (mortar.bed_limits,),
    ),
    Calculation(
        "bed-verdict",
        _MORTAR,
        "whether a bed lies within the mortar's limits",
        "Exactly at a limit is within.",
        (Input("bed", "the bed after embedding", "length", "2.2 mm"), *_MORTAR_INPUTS),
        lambda v: mortar.bed_verdict(v["bed"], _bed_limits(v), system=v["system"]),
        (mortar.bed_verdict,),
    ),
    Calculation(
        "bag-yield",
        _MORTAR,
        "mixed mortar from one bag",
        "The data sheet's own figure is best; without it a common figure is used and its span shown.",
        (
            Input("bag-mass", "powder in a bag", "mass", "20 kg"),
            Input("bag-yield", "mixed mortar from a bag, on the data sheet", "volume", "15 L", optional=True),
            Input("powder", "dry powder in a litre of mortar, your own figure", "powder", "1.4 kg/L", optional=True),
        ),
        _bag_yield,
        (mortar.bag_yield,),
        cautions=_CEMENT_CAUTIONS,
    ),
    Calculation(
        "bags",
        _MORTAR,
        "bags, powder and water for an area",
        "From the bed, the bag's yield and the waste.",
        (
            Input("area", "the area to set", "area", "9 m2"),
            _BED_INPUT,
            Input("bag-mass", "powder in a bag", "mass", "20 kg"),
            Input(
                "bag-yield",
                "mixed mortar from a bag, on the data sheet; a common figure is used without it",
                "volume",
                "15 L",
                optional=True,
                shown=True,
            ),
            Input("powder", "or dry powder in a litre of mortar, your own figure", "powder", "1.4 kg/L", optional=True),
            Input("water-per-bag", "water for one bag, on the data sheet", "volume", "5 L", optional=True, shown=True),
            _WASTE_INPUT,
        ),
        _bags,
        (mortar.mortar_for_area,),
        (_ARITHMETIC,),
        _CEMENT_CAUTIONS,
    ),
    Calculation(
        "batches",
        _MORTAR,
        "how to split the mixing so that each batch is used up in its pot life",
        "The fewest equal batches at the crew's own pace.",
        (
            Input("area", "the area to set", "area", "18 m2"),
            _BED_INPUT,
            _YIELD_INPUT,
            Input("pot-life", "pot life on the data sheet, from mixing", "duration", "2 h"),
            Input("pace", "what the crew sets", "pace", "3 m2/h"),
            Input("slake", "rest before the second mixing", "duration", "10 min", default="0 min", shown=True),
            _WASTE_INPUT,
            Input("part-of-bag", "smallest part of a bag that you weigh out", "number", "0.25", default="0.5"),
            Input("bucket", "most that can be mixed at once", "volume", "20 L", optional=True),
        ),
        lambda v: mortar.batch_plan(
            v["area"],
            v["bed"],
            v["bag-yield"],
            v["pot-life"],
            v["pace"],
            slake_min=v["slake"],
            waste_percent=v["waste"],
            part_of_bag=v["part-of-bag"],
            bucket_l=v["bucket"],
        ),
        (mortar.batch_plan,),
        (_ARITHMETIC,),
        _CEMENT_CAUTIONS,
    ),
    Calculation(
        "water",
        _MORTAR,
        "whether the water in a batch keeps to the data sheet",
        "Too much cannot be mended; too little can, before the slake.",
        (
            Input("water", "water in this batch", "volume", "2.9 L"),
            Input("bags", "bags in this batch, parts allowed", "number", "0.5"),
            Input("least-per-bag", "least water for one bag, on the data sheet", "volume", "4.8 L"),
            Input("greatest-per-bag", "most water for one bag, on the data sheet", "volume", "5.4 L"),
        ),
        lambda v: mortar.water_verdict(
            v["water"], v["bags"], v["least-per-bag"], v["greatest-per-bag"], system=v["system"]
        ),
        (mortar.water_verdict,),
        (_SHEET,),
        _CEMENT_CAUTIONS,
    ),
    Calculation(
        "mass-balance",
        _MORTAR,
        "what the bags that were used say about the mortar behind the tile",
        "Bags against area and predicted bed, with a tolerance that says when the difference means something. Too few "
        "bags mean too little mortar, whatever the lifts say.",
        (
            Input("bags", "bags used, parts counted", "number", "6"),
            _YIELD_INPUT,
            Input("area", "the area set", "area", "18 m2"),
            Input("predicted-bed", "mortar per area that the notch should have left (see `bed`)", "length", "6.35 mm"),
            _WASTE_INPUT,
            Input("gap", "gap between tile and base, measured", "length", "5 mm", optional=True, shown=True),
            Input("bags-uncertainty", "how well the bags are counted, in bags", "number", "0.5", default="0.25"),
            Input("yield-uncertainty", "how well the yield is known", "percent", "3 %", default="5 %"),
            Input("area-uncertainty", "how well the area is known", "percent", "1 %", default="2 %"),
            Input("waste-uncertainty", "how well the waste is known, in points", "percent", "3 %", default="5 %"),
        ),
        _mass_balance,
        (mortar.mass_balance,),
        (Basis("JCGM 100 (GUM)", "§5.1.2 and §6.3.3", "2008", Standing.COMPUTED),),
    ),
    # -- times and temperatures
    Calculation(
        "slake",
        _TIMES,
        "how long the mixed mortar rests before it is mixed again",
        "No more water afterwards. The bag rules.",
        (_SHEET_TIME,),
        lambda v: _time(times.slake(v["data-sheet"]), "slake"),
        (times.slake,),
        cautions=_CEMENT_CAUTIONS,
    ),
    Calculation(
        "pot-life",
        _TIMES,
        "how long the mixed mortar stays usable in the pail",
        "No standard gives one: only the data sheet knows.",
        (Input("data-sheet", "pot life on the data sheet", "duration", "2 h", optional=True, shown=True),),
        lambda v: _time(times.pot_life(v["data-sheet"]), "pot life"),
        (times.pot_life,),
    ),
    Calculation(
        "open-time",
        _TIMES,
        "how long combed mortar may wait for the tile",
        "The data sheet's figure, otherwise what the class marking promises in a laboratory without wind or sun.",
        (
            Input("data-sheet", "open time on the data sheet", "duration", "25 min", optional=True),
            Input("mortar-class", "class marking on the bag", "text", "C2TE S1", optional=True, shown=True),
        ),
        _open_time,
        (times.open_time, times.open_time_minimum),
    ),
    Calculation(
        "open-time-area",
        _TIMES,
        "the largest area to comb before open time runs out",
        "At the crew's own pace of combing and setting together, or of each by itself.",
        (
            Input("open-time", "open time of the mortar here", "duration", "20 min"),
            Input("pace", "what the crew combs and sets (or sets, when the next is given)", "pace", "6 m2/h"),
            Input("combing-pace", "pace of combing alone", "pace", "20 m2/h", optional=True),
            Input(
                "share-used",
                "share of the open time to use; less in sun, wind and heat",
                "share",
                "75 %",
                default="100 %",
            ),
            Input(
                "piece",
                "the two sides of a piece, to count whole ones",
                "size",
                "600 x 1200 mm",
                optional=True,
                shown=True,
            ),
        ),
        _comb_area,
        (times.comb_area,),
        (_ARITHMETIC,),
    ),
    Calculation(
        "clocks",
        _TIMES,
        "running clocks, the most urgent first",
        "A clock at its limit is over: mortar at its limit is at its end.",
        (
            Input(
                "clocks",
                "each clock with its name, the time gone by and the time allowed",
                "clocks",
                "pot life: 30 min of 2 h; open time: 20 min of 20 min",
            ),
        ),
        _clocks,
        (times.clocks_due,),
        (_ARITHMETIC,),
    ),
    Calculation(
        "cure",
        _TIMES,
        "the wait before grout or light traffic, longer in the cold",
        "The data sheet's time, otherwise a common one. In the cold the rules of thumb conflict: the figures are a "
        "caution, and warmth never shortens the wait.",
        (
            Input(
                "until",
                "what is waited for",
                "choice",
                "light traffic",
                default="grout",
                choices=("grout", "light traffic"),
            ),
            Input("data-sheet", "the time on the data sheet", "duration", "24 h", optional=True),
            Input("temperature", "temperature of the base", "temperature", "11 C", optional=True, shown=True),
        ),
        _cure,
        (times.cure_to_grout, times.cure_to_traffic, times.cure_span, times.cure_slowdown),
        (Basis("trade articles", note="They conflict; treat it as a caution."),),
    ),
    Calculation(
        "concrete-age",
        _TIMES,
        "how long new concrete still has to wait for tile",
        "Counted from the day of the pour.",
        (
            Input("days", "age of the concrete in days", "number", "21"),
            Input("least-days", "age it must reach, in days", "number", "42", default="28"),
        ),
        lambda v: _time(times.concrete_age(v["days"], v["least-days"]), "still to wait"),
        (times.concrete_age,),
    ),
    Calculation(
        "working-temperature",
        _TIMES,
        "the temperatures in which mortar may be worked, and whether today's allows it",
        "Of the air or the surface, whichever is worse. The data sheet goes first.",
        (
            Input("temperature", "what the thermometer shows", "temperature", "8 C", optional=True, shown=True),
            Input("practice", "US or European practice", "choice", "eu", default="us", choices=("us", "eu")),
            Input(
                "least",
                "least on the data sheet; an end it lacks is common practice",
                "temperature",
                "5 C",
                optional=True,
            ),
            Input("greatest", "greatest on the data sheet", "temperature", "30 C", optional=True),
        ),
        _working_temperature,
        (times.working_temperature, times.temperature_verdict),
    ),
    # -- flatness and joints
    Calculation(
        "base-flatness",
        _FLATNESS,
        "how flat the base must be, and whether it is",
        "The greatest gap under a straightedge, by standard and size of tile, before tile is set.",
        (
            Input(
                "standard",
                "the standard the job follows",
                "choice",
                "A108.02",
                default="A108.02",
                choices=get_args(flatness.FlatnessStandard),
            ),
            Input(
                "longest-edge",
                "the tile's longest edge; without it the stricter limit",
                "length",
                "600 mm",
                optional=True,
                shown=True,
            ),
            Input("product", "what is set", "choice", "tile", default="tile", choices=get_args(coverage.Product)),
            Input("span", "the straightedge used, for DIN 18202", "length", "2 m", default="2 m"),
            Input("gap", "worst gap found", "length", "4 mm", optional=True, shown=True),
            Input("short-gap", "worst gap over the short distance", "length", "1.5 mm", optional=True, shown=True),
        ),
        _base_flatness,
        (flatness.substrate_limit, flatness.substrate_verdict),
    ),
    Calculation(
        "din-18202",
        _FLATNESS,
        "the greatest gap of DIN 18202 between two points at any distance",
        "Straight line between the columns of its table 3, to whole millimetres.",
        (
            Input(
                "row",
                "2 base for tile, 3 finished floor, 4 stricter, 6 finished wall, 7 stricter",
                "choice",
                "3",
                choices=tuple(map(str, get_args(flatness.DinRow))),
            ),
            Input("span", "distance of the measuring points, 0.1 to 15 m", "length", "2 m"),
            Input("rounded", "to whole millimetres, as the standard is read", "flag", "no", default="yes"),
        ),
        lambda v: _Part(
            flatness.din_18202_limit(int(v["row"]), v["span"], rounded=v["rounded"]),  # type: ignore[arg-type]
            "greatest gap",
        ),
        (flatness.din_18202_limit,),
    ),
    Calculation(
        "lippage",
        _FLATNESS,
        "the greatest step between neighbouring edges, and whether yours holds",
        "By joint width, plus the warpage that the tile itself has.",
        (
            Input("joint", "width of the joint", "length", "1/8 in"),
            Input("warpage", "warpage of the tile", "length", "0.5 mm", default="0 mm"),
            Input("step", "the step measured", "length", "1 mm", optional=True, shown=True),
        ),
        _lippage,
        (flatness.lippage_allowance, flatness.lippage_verdict),
    ),
    Calculation(
        "least-joint",
        _FLATNESS,
        "the narrowest joint that the tile allows",
        "Three times the facial variation, never under 1/16 in, and wider in a running bond of large tile.",
        (
            Input("facial-variation", "largest face less smallest face, measured", "length", "0.5 mm"),
            Input(
                "longest-edge",
                "the tile's longest edge, needed for a running bond",
                "length",
                "24 in",
                optional=True,
                shown=True,
            ),
            Input("running-bond", "rows are shifted", "flag", "yes", default="no", shown=True),
            Input(
                "edges",
                "how the edges were made",
                "choice",
                "rectified",
                default="calibrated",
                choices=("rectified", "calibrated"),
                shown=True,
            ),
            Input("warpage", "warpage along the longest edge", "length", "1/32 in", default="0 mm", shown=True),
            Input("joint", "the joint wanted, to be judged", "length", "1/8 in", optional=True),
        ),
        _least_joint,
        (flatness.least_joint, flatness.joint_verdict),
    ),
    Calculation(
        "least-joint-british",
        _FLATNESS,
        "the narrowest joint by face size in the British code",
        "2, 3 or 5 mm, up to a side of 3 m.",
        (
            Input("tile", "the two sides of the tile", "size", "600 x 1200 mm"),
            Input("joint", "the joint wanted, to be judged", "length", "2 mm", optional=True),
        ),
        lambda v: _judged_joint(v, flatness.least_joint_bs_5385(*v["tile"])),
        (flatness.least_joint_bs_5385,),
    ),
    Calculation(
        "offset",
        _FLATNESS,
        "how far rows may be shifted in a running bond",
        "One third of a side over 15 in (older texts: 18 in). A shift counts from the nearer end.",
        (
            Input("side", "the side along which rows are shifted", "length", "600 mm"),
            Input("offset", "the shift between two rows", "length", "300 mm", optional=True, shown=True),
            Input("edition", "edition of the text", "choice", "older", default="newer", choices=("newer", "older")),
        ),
        _offset,
        (flatness.offset_limit, flatness.offset_verdict),
    ),
    Calculation(
        "movement-joints",
        _FLATNESS,
        "movement joints: how far apart, how wide, and how to share out a run",
        "They are due besides over every joint of the base, at changes of plane or material, and where the field meets "
        "what restrains it.",
        (
            Input("setting", "where", "choice", "exterior", choices=get_args(flatness.MovementSetting)),
            Input(
                "spacing",
                "their distance; without it the greatest allowed",
                "length",
                "12 ft",
                optional=True,
                shown=True,
            ),
            Input(
                "temperature-range",
                "hottest less coldest surface of the year, needed for the width outdoors",
                "temperature difference",
                "115 F",
                optional=True,
                shown=True,
            ),
            Input("run", "length of a run, to be shared out in equal bays", "length", "9 m", optional=True),
            Input("width", "the width you have, to be judged", "length", "1/2 in", optional=True),
        ),
        _movement_joints,
        (
            flatness.movement_joint_spacing,
            flatness.movement_joint_width,
            flatness.movement_joint_layout,
            flatness.movement_joint_verdict,
        ),
    ),
    # -- weight and lifting
    Calculation(
        "piece-weight",
        _LIFTING,
        "what one tile or panel weighs",
        "From its size and density, or weighed. Mesh backing, frame and crate come on top: weigh one piece.",
        (
            Input("length", "one side", "length", "1000 mm"),
            Input("width", "the other side", "length", "3000 mm"),
            Input("thickness", "its thickness", "length", "6 mm"),
            Input(
                "density",
                "of the fired tile or stone",
                "density",
                "2400 kg/m3",
                default=f"{lifting.DENSITY_KG_M3:g} kg/m3",
            ),
            Input("weighed", "mass of one piece on a scale, which goes first", "mass", "45 kg", optional=True),
        ),
        lambda v: _Part(
            lifting.piece_weight(v["length"], v["width"], v["thickness"], v["density"], v["weighed"]), "weight"
        ),
        (lifting.piece_weight,),
        cautions=_LIFTING_CAUTIONS,
    ),
    Calculation(
        "who-may-lift",
        _LIFTING,
        "who may lift a piece by hand, in words",
        "One, two or three people, or a lifter.",
        (
            Input("weight", "what the piece weighs", "mass", "28.2 kg"),
            _SINGLE_LIMIT,
            Input("people", "how many are here", "count", "1", optional=True),
        ),
        lambda v: lifting.who_may_lift(v["weight"], v["single-limit"], v["people"], system=v["system"]),
        (lifting.who_may_lift,),
        cautions=_LIFTING_CAUTIONS,
    ),
    Calculation(
        "people-needed",
        _LIFTING,
        "the smallest team that may lift a weight",
        "For people with equal single limits. Refused, with what to do, when no team may.",
        (Input("weight", "what is lifted", "mass", "28 kg"), _SINGLE_LIMIT),
        lambda v: {"people": lifting.people_needed(v["weight"], v["single-limit"])},
        (lifting.people_needed,),
        (_L23,),
        _LIFTING_CAUTIONS,
    ),
    Calculation(
        "team-lift",
        _LIFTING,
        "what a team may lift together",
        "Two people two thirds of the sum of what each may lift alone, three people half.",
        (Input("limits", "what each person may lift alone", "masses", "20 kg; 20 kg"),),
        lambda v: _Part(lifting.team_capacity(v["limits"]), "together"),
        (lifting.team_capacity,),
        cautions=_LIFTING_CAUTIONS,
    ),
    Calculation(
        "handling-filter",
        _LIFTING,
        "the weight below which a lift needs no fuller assessment",
        "For one person, the load held close between waist and knuckles; less for frequent lifts and for twisting. A "
        "filter, not a limit.",
        (
            Input("person", "man or woman", "choice", "woman", default="man", choices=("man", "woman")),
            Input("lifts-per-minute", "how often", "number", "2", default="0", shown=True),
            Input("twist", "turn of the trunk, in degrees", "angle", "60", default="0", shown=True),
        ),
        lambda v: _Part(lifting.handling_filter(v["person"], v["lifts-per-minute"], v["twist"]), "filter"),
        (lifting.handling_filter,),
        cautions=_LIFTING_CAUTIONS,
    ),
    Calculation(
        "lifting-limit",
        _LIFTING,
        "the recommended weight limit of a lift, and the lifting index (revised NIOSH equation)",
        "For one standing person with both hands, up to 8 h a day. Give the other end where the piece is set down with "
        "care. Kneeling, carrying, one hand, tight space and what else the equation was not made for is refused.",
        (
            Input("reach", "H: hands from the middle between the ankles", "length", "10 in"),
            Input("height", "V: height of the hands where the lift begins", "length", "22 in"),
            Input(
                "travel",
                "D: how far up or down; otherwise from the two heights",
                "length",
                "37 in",
                optional=True,
                shown=True,
            ),
            Input("turn", "A: turn out of the straight-ahead, in degrees", "angle", "30", default="0"),
            Input(
                "lifts-per-minute", "F: how often, see `lifting-frequency`", "number", "3", default="0.2", shown=True
            ),
            Input(
                "duration",
                "short (1 h), moderate (2 h) or long (8 h), see `lifting-frequency`",
                "choice",
                "short",
                choices=get_args(lifting.Duration),
            ),
            Input(
                "grip",
                "most bare tile is poor",
                "choice",
                "fair",
                default="poor",
                choices=get_args(lifting.Coupling),
                shown=True,
            ),
            Input("to-reach", "H where the piece is set down", "length", "20 in", optional=True, shown=True),
            Input("to-height", "V where the piece is set down", "length", "59 in", optional=True, shown=True),
            Input("to-turn", "A where the piece is set down, in degrees", "angle", "0", optional=True),
            Input("load", "what is lifted, for the lifting index", "mass", "26 lb", optional=True, shown=True),
            Input(_CONSTANTS.name, _CONSTANTS.what, "choice", "us", "metric", choices=_CONSTANTS.choices, shown=True),
            Input(
                "rounding",
                "manual: each multiplier to two decimals, as the manual's examples",
                "choice",
                "manual",
                default="none",
                choices=get_args(lifting.Rounding),
                shown=True,
            ),
            Input(
                "conditions",
                "what holds here that the equation may not cover",
                "choices",
                "kneeling",
                optional=True,
                choices=get_args(lifting.Condition),
            ),
        ),
        _lifting_limit,
        (lifting.recommended_weight_limit, lifting.lower_limit, lifting.lifting_index, lifting.check_covered),
        (_NIOSH,),
        _LIFTING_CAUTIONS,
    ),
    Calculation(
        "lifting-frequency",
        _LIFTING,
        "frequency, duration and frequency multiplier for the lifting equation",
        "Averages bursts over 15 minutes, and says which column of the frequency table a stretch of work belongs to.",
        (
            Input("lifts-per-minute", "how often, within the burst if there is one", "number", "10"),
            Input("burst", "how long a burst lasts, up to 15 min", "duration", "8 min", optional=True, shown=True),
            Input("work", "how long the lifting goes on", "duration", "45 min"),
            Input("recovery", "light work after it", "duration", "50 min", default="0 min", shown=True),
            Input("below-waist", "the lift begins under 30 in (75 cm)", "flag", "yes", default="yes"),
            Input("edition", "edition of the manual", "choice", "1994", default="2021", choices=("2021", "1994")),
        ),
        _lifting_frequency,
        (lifting.average_frequency, lifting.duration_class, lifting.frequency_multiplier),
        (_NIOSH,),
        _LIFTING_CAUTIONS,
    ),
    Calculation(
        "lifting-job",
        _LIFTING,
        "the composite lifting index of a job of several lifting tasks",
        "Each task with its load, its lifts per minute and its limit without the frequency multiplier (see "
        "`lifting-limit` with few lifts).",
        (
            Input(
                "tasks",
                "load, lifts per minute and limit of each; add 'greatest 35 lb' for a heaviest load, and 'from waist' "
                "where it begins at 30 in (75 cm) or higher",
                "lifting tasks",
                "30 lb at 1 per min, limit 20 lb; 20 lb at 2 per min, limit 20 lb; 10 lb at 4 per min, limit 15 lb",
            ),
            Input("duration", "of the whole job", "choice", "short", choices=get_args(lifting.Duration)),
        ),
        lambda v: lifting.composite_lifting_index(v["tasks"], v["duration"]),
        (lifting.composite_lifting_index,),
        (_NIOSH,),
        _LIFTING_CAUTIONS,
    ),
    Calculation(
        "hand-distance",
        _LIFTING,
        "how far the hands are from the ankles, when it cannot be measured",
        "From the depth of the load, for the lifting equation.",
        (
            Input("load-depth", "depth of the load, front to back", "length", "400 mm"),
            Input("height", "height of the hands", "length", "700 mm"),
            _CONSTANTS,
        ),
        lambda v: {"reach_mm": lifting.horizontal_distance(v["load-depth"], v["height"], v["constants"])},
        (lifting.horizontal_distance,),
        (_NIOSH,),
        _LIFTING_CAUTIONS,
    ),
    Calculation(
        "suction-margin",
        _LIFTING,
        "whether a suction lifter holds a piece with the margin asked for",
        "Twice the weight at the low end of the working vacuum; hung from a hoist each of two circuits alone. Upright "
        "the cups hold less: enter that figure.",
        (
            Input("weight", "the piece with all that hangs from the pads", "mass", "42.3 kg"),
            Input("holding", "what each cup or circuit holds in the position used", "masses", "50 kg; 50 kg"),
            Input("hoisted", "hung from a hoist, not carried by hand", "flag", "yes", default="no"),
            Input(
                "rated", "the figures are working loads, with the maker's factor in them", "flag", "yes", default="no"
            ),
        ),
        lambda v: lifting.suction_margin(v["weight"], v["holding"], hoisted=v["hoisted"], rated=v["rated"]),
        (lifting.suction_margin,),
        cautions=_LIFTING_CAUTIONS,
    ),
    # -- dust
    Calculation(
        "dust-controls",
        _DUST,
        "what the silica rule asks for one task: control and respirator",
        "29 CFR 1926.1153 Table 1, by place and by all minutes of the shift. Tasks that the table does not have are "
        "said so.",
        (
            Input("task", "the task", "choice", "handheld power saw", choices=_DUST_TASKS),
            Input(
                "place",
                "outdoors, or indoors for every enclosed area",
                "choice",
                "indoors",
                choices=get_args(dust.Place),
            ),
            Input("minutes", "time of the whole shift on all tasks of the table", "duration", "2 h"),
            Input(
                "method",
                "how dust is kept down, when chosen",
                "choice",
                "water",
                optional=True,
                choices=get_args(dust.Method),
            ),
        ),
        lambda v: dust.dust_control(v["task"], v["place"], v["minutes"], v["method"]),
        (dust.dust_control,),
        cautions=dust.DUST_CAUTIONS,
    ),
    Calculation(
        "dust-day",
        _DUST,
        "one person's shift: all dusty tasks added up, and what each asks for",
        "Over four hours in all, every task takes the column for more than four hours.",
        (
            Input(
                "tasks",
                "each task, where, and how long",
                "dust tasks",
                "handheld power saw, outdoors, 150 min; drill, indoors, 2 h; mixing mortar, indoors, 30 min",
            ),
        ),
        _dust_day,
        (dust.day_controls,),
        (Basis("29 CFR 1926.1153", "Table 1 and (c)(3)", note="Paragraph (c)(3) is from memory."),),
        dust.DUST_CAUTIONS,
    ),
    Calculation(
        "dust-average",
        _DUST,
        "the 8-hour average of what was breathed, judged for silica",
        "Divided by 8 h however long the shift, without regard to respirators. Time left out counts as free of dust.",
        (
            Input(
                "periods",
                "concentration (µg/m³ for silica) and how long, one after the other",
                "periods",
                "120 for 2 h; 10 for 6 h",
            ),
            Input(
                "substance",
                "silica is judged; of another only the average is told",
                "choice",
                "other",
                default="silica",
                choices=("silica", "other"),
            ),
            Input("jurisdiction", "whose limit", "choice", "UK", default="US", choices=get_args(dust.Jurisdiction)),
        ),
        _dust_average,
        (dust.time_weighted_average,),
        (Basis("29 CFR 1910.1000", "(d)(1)(i)", standing=Standing.READ),),
        dust.DUST_CAUTIONS,
    ),
    Calculation(
        "dust-limit",
        _DUST,
        "the limit for respirable crystalline silica, and whether an average keeps to it",
        "8-hour averages. In the US the action level counts from 25 µg/m³.",
        (
            Input("jurisdiction", "whose limit", "choice", "UK", default="US", choices=get_args(dust.Jurisdiction)),
            Input(
                "average", "an 8-hour average, to be judged", "concentration", "37.5 ug/m3", optional=True, shown=True
            ),
        ),
        _dust_limit,
        (dust.exposure_limit, dust.exposure_verdict),
        cautions=dust.DUST_CAUTIONS,
    ),
    Calculation(
        "dust-minutes-left",
        _DUST,
        "how long one may go on before the 8-hour average reaches a ceiling",
        "At a measured concentration, after what was breathed already.",
        (
            Input("concentration", "what is breathed now", "concentration", "120 ug/m3"),
            Input("periods", "what was breathed so far", "periods", "10 for 6 h", optional=True, shown=True),
            Input(
                "ceiling",
                "average not to be passed; the US action level unless given",
                "concentration",
                "37.5 ug/m3",
                default=f"{dust.ACTION_LEVEL_UG_M3:g} ug/m3",
                shown=True,
            ),
        ),
        lambda v: {"time left_min": dust.minutes_left(v["concentration"], v["periods"] or (), v["ceiling"])},
        (dust.minutes_left,),
        (Basis("29 CFR 1910.1000", "(d)(1)(i)", standing=Standing.READ, note="Solved for time."),),
        dust.DUST_CAUTIONS,
    ),
    Calculation(
        "dust-mixture",
        _DUST,
        "the equivalent exposure to several contaminants that act alike",
        "Above 1 the limit of the mixture is exceeded.",
        (
            Input(
                "contaminants",
                "average and limit of each, in one unit",
                "contaminants",
                "500 of 1000; 45 of 200; 40 of 200",
            ),
        ),
        _mixture,
        (dust.mixture_exposure,),
        (Basis("29 CFR 1910.1000", "(d)(2)", standing=Standing.READ),),
        dust.DUST_CAUTIONS,
    ),
    # -- sampling
    Calculation(
        "lifts-needed",
        _SAMPLING,
        "how many lifts it takes to claim that a share of the tiles is good",
        "Had they been drawn at random; lifts of fresh tile are chosen, so the figure guides and does not prove.",
        (_CONFIDENCE, _SHARE, Input("failures", "bad lifts that may be among them", "count", "1", default="0"), _LOT),
        lambda v: sampling.lifts_needed(v["confidence"], v["share"], v["failures"], v["lot"]),
        (sampling.lifts_needed,),
    ),
    Calculation(
        "lifts-prove",
        _SAMPLING,
        "what a number of lifts would prove, in plain words",
        "One-sided, exact, rounded down. Three good lifts, the least a standard asks for, prove very little.",
        (Input("good", "good lifts", "count", "3"), Input("lifted", "all lifts", "count", "3"), _CONFIDENCE, _LOT),
        lambda v: sampling.what_lifts_prove(v["good"], v["lifted"], v["confidence"], v["lot"]),
        (sampling.what_lifts_prove,),
    ),
    Calculation(
        "share-limits",
        _SAMPLING,
        "exact limits for the share of good tiles, from a sample",
        "Clopper and Pearson's limits, two-sided or one-sided.",
        (
            Input("good", "good ones in the sample", "count", "4"),
            Input("lifted", "size of the sample", "count", "20"),
            Input("confidence", "how sure you want to be", "share", "90 %", default="95 %", shown=True),
            Input(
                "side",
                "two-sided, or one limit only",
                "choice",
                "lower",
                default="two-sided",
                choices=get_args(sampling.Side),
            ),
        ),
        _share_limits,
        (sampling.clopper_pearson,),
        (Basis("Clopper and Pearson", "", "1934", Standing.COMPUTED),),
    ),
    Calculation(
        "success-run",
        _SAMPLING,
        "how many good ones in a row show a share, in both forms in use",
        "The classical form and the (n+1) form differ by one: say which you mean.",
        (
            _CONFIDENCE,
            _SHARE,
            Input(
                "form", "which form", "choice", "n+1", default="classical", choices=get_args(sampling.ZeroFailureForm)
            ),
            Input("lifted", "good lifts that you have, to see what they show", "count", "3", optional=True, shown=True),
        ),
        _success_run,
        (sampling.zero_failure_sample, sampling.share_shown),
        (_RUN,),
    ),
    Calculation(
        "sample-size",
        _SAMPLING,
        "samples that show a share when a few of them may be bad",
        "For a large area; exact binomial.",
        (
            _CONFIDENCE,
            _SHARE,
            Input("failures", "bad ones that may be among them", "count", "1", default="0", shown=True),
        ),
        lambda v: {"samples": sampling.sample_size(v["confidence"], v["share"], v["failures"])},
        (sampling.sample_size,),
        (_BINOMIAL,),
    ),
    Calculation(
        "lot-sample",
        _SAMPLING,
        "how many of a counted lot to draw to find out when a share of it is bad",
        "Exact hypergeometric: from a small lot it takes fewer.",
        (
            Input("lot", "how many tiles the area has", "count", "100"),
            _CONFIDENCE,
            Input("bad-share", "share of bad ones to find out", "share", "5 %"),
            Input("failures", "bad ones that may be among those drawn", "count", "1", default="0"),
        ),
        lambda v: {"samples": sampling.hypergeometric_sample(v["lot"], v["confidence"], v["bad-share"], v["failures"])},
        (sampling.hypergeometric_sample,),
        (Basis("FAO ISPM 31", "table 1", "2008", Standing.MEMORY, note="Recomputed, exact hypergeometric."),),
    ),
    Calculation(
        "least-good-in-lot",
        _SAMPLING,
        "the least number of good tiles that a draw from a counted area leaves open",
        "One-sided, exact hypergeometric.",
        (
            Input("good", "good ones drawn", "count", "3"),
            Input("lifted", "all drawn", "count", "3"),
            Input("lot", "how many tiles the area has", "count", "40"),
            _CONFIDENCE,
        ),
        _lot_left,
        (sampling.least_good_in_lot,),
        (_HYPERGEOMETRIC,),
    ),
    Calculation(
        "acceptance-plan",
        _SAMPLING,
        "a published acceptance plan: how many to inspect, how many bad ones to accept",
        "Single sampling, normal inspection, level II. It is meant for a run of lots with switching rules, not for one "
        "isolated area.",
        (
            Input("lot", "tiles in the lot, 2 to 3200", "count", "100"),
            Input(
                "quality-level",
                f"acceptable quality level: {', '.join(f'{level:g}' for level in sampling.Z14_AQLS)} %",
                "percent",
                "4 %",
            ),
        ),
        lambda v: sampling.z14_plan(v["lot"], v["quality-level"]),
        (sampling.z14_plan,),
    ),
    Calculation(
        "acceptance-chance",
        _SAMPLING,
        "the chance that a plan accepts, at a given share of bad ones",
        "Binomial, or hypergeometric when the lot is counted.",
        (
            Input("sample", "tiles inspected", "count", "20"),
            Input("accept", "bad ones that are accepted", "count", "2"),
            Input("bad-share", "share of bad ones in truth", "share", "4 %"),
            _LOT,
        ),
        lambda v: {
            "chance of acceptance_percent": 100
            * sampling.accept_probability(v["sample"], v["accept"], v["bad-share"], v["lot"])
        },
        (sampling.accept_probability,),
        (_BINOMIAL, _HYPERGEOMETRIC),
    ),
)

CALCULATIONS: Mapping[str, Calculation] = MappingProxyType({entry.name: entry for entry in _ENTRIES})
