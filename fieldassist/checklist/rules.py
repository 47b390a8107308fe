"""Limits, durations and facts that checklist files call by name; each is computed by trade/ and carries its basis."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Literal

from fieldassist.checklist.fields import canonical
from fieldassist.checklist.plan import AreaPlan, Trowel
from fieldassist.trade import catalog, coverage, flatness, lifting, mortar, quantities, ridges, times
from fieldassist.trade.basis import PRACTICE, Basis, Standing


@dataclass(frozen=True, slots=True)
class Facts:
    """What a rule may look at: the planned area, the trowel now in use, and the checklist's setting."""

    area: AreaPlan
    trowel: Trowel
    place: Literal["dry", "wet", "exterior"]
    surface: Literal["wall", "floor"]


@dataclass(frozen=True, slots=True)
class Criterion:
    """An acceptance criterion ready to be applied; both ends are inclusive and in `unit`."""

    at_least: float | None
    at_most: float | None
    unit: str
    basis: str

    def failure(self, value: float, unit: str | None = None) -> str | None:
        """Why `value` (canonical unit) fails, or None when it passes. Exactly at the limit passes.

        unit: the unit in which the reading was given, so that the answer speaks the reader's language.
        """
        value = quantities.convert(value, quantities.unit_info(self.unit).canonical, self.unit)
        # Below anything that is read on site; it only swallows the dust of unit conversion.
        dust = 1e-9 * max(1.0, abs(value))
        for limit, side, word in ((self.at_least, -1, "under"), (self.at_most, 1, "over")):
            if limit is not None and side * (value - limit) > dust:
                unit = unit or self.unit
                read, allowed = (quantities.convert(v, self.unit, unit) for v in (value, limit))
                return f" is {word} ".join(quantities.format_against(read, allowed, unit))
        return None

    def show(self, value: float, unit: str | None = None) -> str:
        """A value of this criterion as text, in `unit` or its own."""
        unit = unit or self.unit
        return quantities.format_quantity(quantities.convert(value, self.unit, unit), unit)

    def text(self, unit: str | None = None) -> str:
        """The criterion in words: "at least 95 %"."""
        ends = [
            f"{word} {self.show(value, unit)}"
            for word, value in (("at least", self.at_least), ("at most", self.at_most))
            if value is not None
        ]
        return " and ".join(ends)

    def __str__(self) -> str:
        return self.text()


def _requirement(facts: Facts) -> coverage.Requirement:
    return coverage.required_contact(facts.area.piece.product, facts.place, facts.surface)


def _required_coverage(facts: Facts) -> Criterion:
    need = _requirement(facts)
    return Criterion(need.minimum_percent, None, "percent", str(need.basis))


def _largest_void(facts: Facts) -> Criterion:
    need = _requirement(facts)
    if need.largest_void_mm2 is None:
        # The standard for plain tile sets no single-void limit; good practice does.
        return Criterion(None, quantities.convert(2, "in2", "mm2"), "mm2", f"{PRACTICE}: no void over 2 in²")
    basis = need.void_basis or need.basis
    return Criterion(None, need.largest_void_mm2, "mm2", str(basis))


def _flatness(facts: Facts) -> flatness.FlatnessLimit:
    piece = facts.area.piece
    edge = max(canonical(piece.length), canonical(piece.width))
    return flatness.substrate_limit("A108.02", edge, product=piece.product)


def _base_flatness(facts: Facts) -> Criterion:
    limit = _flatness(facts)
    return Criterion(None, limit.gap_mm, "mm", str(limit.basis))


def _short_flatness(facts: Facts) -> Criterion:
    limit = _flatness(facts)
    gap = limit.gap_mm if limit.short_gap_mm is None else limit.short_gap_mm
    return Criterion(None, gap, "mm", str(limit.basis))


def _lippage(facts: Facts) -> Criterion:
    warpage = canonical(facts.area.piece.warpage) if facts.area.piece.warpage else 0.0
    # Without a joint in the plan, 1/8 in: it lies in the standard's narrower and stricter class.
    joint = canonical(facts.area.joint) if facts.area.joint else 3.175
    limit = flatness.lippage_allowance(joint, warpage)
    return Criterion(None, limit.mm, "mm", str(limit.basis))


def _bed(facts: Facts) -> Criterion:
    sheet = facts.area.mortar
    limits = mortar.bed_limits(
        sheet.kind,
        data_sheet_least_mm=canonical(sheet.least_bed) if sheet.least_bed else None,
        data_sheet_greatest_mm=canonical(sheet.greatest_bed) if sheet.greatest_bed else None,
    )
    return Criterion(limits.minimum_mm, limits.maximum_mm, "mm", str(limits.basis))


def _working_temperature(facts: Facts) -> Criterion:
    sheet = facts.area.mortar
    coldest, hottest = (None if end is None else canonical(end) for end in (sheet.coldest, sheet.hottest))
    limits = times.working_temperature((coldest, hottest))
    return Criterion(limits.minimum_c, limits.maximum_c, "degC", str(limits.basis))


def _slake(facts: Facts) -> Criterion:
    sheet = facts.area.mortar
    span = times.slake(canonical(sheet.slake) if sheet.slake else None)
    return Criterion(span.least_min, None, "min", str(span.basis))


def _slide(facts: Facts) -> Criterion:
    # One stroke, not there and back.
    slide = ridges.slide_distance(notch_of(facts.trowel))
    return Criterion(slide.out_mm, None, "mm", str(slide.basis))


def notch_of(trowel: Trowel) -> ridges.Notch:
    """The plan's trowel as trade/ridges wants it."""
    return ridges.Notch(
        family=trowel.family,
        width_mm=canonical(trowel.width),
        depth_mm=canonical(trowel.depth),
        spacing_mm=canonical(trowel.spacing),
    )


LIMITS: Mapping[str, Callable[[Facts], Criterion]] = {
    "required coverage": _required_coverage,
    "largest void": _largest_void,
    "base flatness": _base_flatness,
    "base flatness, short span": _short_flatness,
    "lippage": _lippage,
    "bed": _bed,
    "working temperature": _working_temperature,
    "slake": _slake,
    "slide": _slide,
}


def calculated(
    facts: Facts, name: str, given: Mapping[str, str], result: str, bound: Literal["at least", "at most"]
) -> Criterion:
    """A limit from any computation of the catalog: one of its results is the least or the greatest allowed.

    given: the computation's inputs as text; {fact} in it stands for a fact of the area, such as {longest edge}.
    ValueError when the computation, an input or the result does not exist, or it refuses the figures.
    """

    def fill(text: str) -> str:
        def of_area(match: re.Match[str]) -> str:
            fact = FACTS.get(match[1])
            if fact is None:
                raise ValueError(f"no fact is called {match[1]!r}; allowed: {', '.join(sorted(FACTS))}")
            unit = quantities.unit_info(_CANONICAL[fact.dimension]).name
            return f"{fact.compute(facts):.6f} {unit}"

        return re.sub(r"\{([^}]*)\}", of_area, text)

    results = catalog.evaluate(name, {key: fill(text) for key, text in given.items()})
    for found in results:
        if found.name == result and isinstance(found.value, int | float) and found.unit in quantities.UNITS:
            value = float(found.value)
            low, high = (value, None) if bound == "at least" else (None, value)
            return Criterion(low, high, found.unit, str(found.basis) if found.basis else f"computed by {name}")
    numbers = [r.name for r in results if isinstance(r.value, int | float) and r.unit in quantities.UNITS]
    raise ValueError(f"{name!r} has no figure called {result!r}; allowed: {', '.join(numbers) or 'none'}")


_CANONICAL = {"mass": "kg", "area": "m2", "length": "mm"}


@dataclass(frozen=True, slots=True)
class Span:
    """How long a clock runs, in minutes, and why."""

    minutes: float
    basis: str


def _sheet_span(facts: Facts, field: Literal["pot_life", "open_time"]) -> Span:
    sheet = facts.area.mortar
    return Span(
        canonical(getattr(sheet, field)),
        str(Basis(f"data sheet of {sheet.name}", standing=Standing.DATA_SHEET)),
    )


DURATIONS: Mapping[str, Callable[[Facts], Span]] = {
    "pot life": lambda facts: _sheet_span(facts, "pot_life"),
    "open time": lambda facts: _sheet_span(facts, "open_time"),
}


@dataclass(frozen=True, slots=True)
class Fact:
    """A computed property of an area, in the canonical unit of its dimension."""

    dimension: str
    compute: Callable[[Facts], float]


def _piece_weight(facts: Facts) -> float:
    piece = facts.area.piece
    return lifting.piece_weight(
        canonical(piece.length),
        canonical(piece.width),
        canonical(piece.thickness),
        weighed_kg=canonical(piece.weighed) if piece.weighed else None,
    ).kg


FACTS: Mapping[str, Fact] = {
    "piece weight": Fact("mass", _piece_weight),
    "piece area": Fact("area", lambda f: piece_area(f.area)),
    "longest edge": Fact("length", lambda f: max(canonical(f.area.piece.length), canonical(f.area.piece.width))),
}


def piece_area(area: AreaPlan) -> float:
    """The face of one tile or panel, m2."""
    return canonical(area.piece.length) * canonical(area.piece.width) / 1e6


def least_lifts(facts: Facts) -> tuple[int, str]:
    """How many test tiles an area needs at least, and why."""
    need = _requirement(facts)
    return need.least_lifts, str(need.basis)
