"""Limits, durations and facts that checklist files call by name; each is computed by trade/ and carries its basis."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from fieldassist.checklist import reach
from fieldassist.checklist.fields import canonical
from fieldassist.checklist.places import planned_pieces, whole_face_m2
from fieldassist.checklist.plan import AreaPlan, Method, MockUp, Trowel
from fieldassist.trade import catalog, coverage, flatness, lifting, limits, mortar, quantities, ridges, times
from fieldassist.trade.basis import PRACTICE, Basis
from fieldassist.trade.limits import Verdict
from fieldassist.trade.message import Bound, Compared, Message, Refused, Several, Text, message, term
from fieldassist.trade.quantities import Quantity, convert_exact


@dataclass(frozen=True, slots=True)
class Facts:
    """What a rule may look at: the planned area, the method now in use, the checklist's setting, and of how many bags
    the batch at hand is mixed."""

    area: AreaPlan
    method: Method
    place: Literal["dry", "wet", "exterior"]
    surface: Literal["wall", "floor"]
    bags: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Judged:
    """A value held against a criterion: "passed", "over" or "under", and what to tell where it does not pass."""

    verdict: Verdict
    finding: Message | None


@dataclass(frozen=True, slots=True)
class Criterion:
    """An acceptance criterion ready to be applied; both ends are inclusive and in `unit`.

    rule: the name under which a checklist called it, or the computation's; "" for numbers of the file.
    """

    rule: str
    at_least: Fraction | None
    at_most: Fraction | None
    unit: str
    basis: Message | Text

    def judge(self, value: Fraction, unit: str) -> Judged:
        """Hold a reading against it, in the unit in which it was read. Exactly at an end passes.

        Errors: `ValueError` for a unit that measures something else.
        """
        read = Quantity(value, unit)
        judged = limits.judge(read, ends(self.at_least, self.at_most, self.unit))
        if judged.passed:
            return Judged(judged.code, None)
        broken = dict(ends(self.at_least, self.at_most, self.unit))[judged.side]
        return Judged(judged.code, message(f"limit-{judged.code}", pair=Compared(read, broken, judged.side)))

    @property
    def told(self) -> Message:
        """What is required: "at least 95 %"."""
        return required(self.at_least, self.at_most, self.unit)


def ends(at_least: Fraction | None, at_most: Fraction | None, unit: str) -> tuple[tuple[limits.Side, Quantity], ...]:
    """The ends of a criterion that are given, each with its side."""
    pairs: tuple[tuple[limits.Side, Fraction | None], ...] = (("at least", at_least), ("at most", at_most))
    return tuple((side, Quantity(value, unit)) for side, value in pairs if value is not None)


def required(at_least: Fraction | None, at_most: Fraction | None, unit: str) -> Message:
    """What is required, each end rounded to the side on which the figure that is told still passes."""
    given = ends(at_least, at_most, unit)
    figures = {side.replace(" ", "-"): Bound(end, side) for side, end in given}
    return Message("limit-between" if len(given) == 2 else f"limit-{next(iter(figures))}", figures)


def criterion(rule: str, at_least: float | None, at_most: float | None, unit: str, basis: object) -> Criterion:
    """A criterion out of a computation's figures; floats are taken as the decimals that they print as."""
    least, most = (None if end is None else limits.exactly(end, unit).value for end in (at_least, at_most))
    return Criterion(rule, least, most, unit, as_told(basis))


def stated(at_least: float | None, at_most: float | None, unit: str, basis: Text | None) -> Criterion:
    """A criterion in the numbers of a checklist file."""
    return criterion("", at_least, at_most, unit, basis if basis is not None else Text.plain(""))


def as_told(given: object) -> Message | Text:
    """A basis, a reason or a refusal of trade/ as the record has it."""
    if isinstance(given, Message | Text):
        return given
    if isinstance(given, Refused | Basis):
        return given.told
    return Text.plain(str(given))


def requirement(facts: Facts) -> coverage.Requirement:
    """What the back of each tile must show in this area."""
    return coverage.required_contact(facts.area.piece.product, facts.place, facts.surface)


def mock_up_verdict(facts: Facts, made: MockUp) -> coverage.LiftVerdict:
    """A mock-up, judged as a lifted tile of the area is."""
    need = requirement(facts)
    full = made.corners == "full"
    return coverage.lift_verdict(
        made.percent,
        need,
        largest_void_mm2=None if made.largest_void is None else canonical(made.largest_void) * 1e6,
        # Who says that corners and edges are full says that no void lies in the strip along them.
        void_to_edge_mm=need.edge_clear_mm if full else None,
        corners_supported=full,
    )


def never_read(facts: Facts, measured: set[str]) -> tuple[Message, ...]:
    """What a lift must show here and the steps of a checklist never ask for: no lift could ever be complete."""
    need = requirement(facts)
    wanted = {
        "largest void": need.largest_void_mm2 is not None,
        "corners": need.corners or need.edge_clear_mm is not None,
    }
    return tuple(term("rules-lift-part", part) for part, asked in wanted.items() if asked and part not in measured)


def required_coverage(facts: Facts) -> Criterion:
    """The contact that the back of each tile must show."""
    need = requirement(facts)
    return criterion("required coverage", need.minimum_percent, None, "percent", need.basis)


def _largest_void(facts: Facts) -> Criterion:
    need = requirement(facts)
    if need.largest_void_mm2 is None:
        # The standard for plain tile sets no single-void limit; good practice does.
        return criterion("largest void", None, coverage.TWO_SQUARE_INCHES_MM2, "mm2", PRACTICE)
    return criterion("largest void", None, need.largest_void_mm2, "mm2", need.void_basis or need.basis)


# What the limits of the base are called: under the long straightedge, and under the short one.
FLATNESS = ("base flatness", "base flatness, short span")
# A bound that went through another unit must still be believed.
_UNIT_DUST = 1e-9


def flatness_of(plan: AreaPlan) -> flatness.FlatnessLimit:
    """How far the base of an area may be off."""
    return flatness.substrate_limit("A108.02", _longest_edge(plan), product=plan.piece.product)


def stands_on_short_span(plan: AreaPlan) -> bool:
    """Whether a piece stands on the gap under the base's short straightedge.

    A piece that the short straightedge spans does; for a longer one the gap under the long straightedge is the most
    that can be under it. Common practice, no published source.
    """
    span = flatness_of(plan).short_over_mm
    return span is not None and _longest_edge(plan) <= span * (1 + _UNIT_DUST)


def flatness_rule(facts: Facts) -> str:
    """The limit of the base under whose straightedge the gap under one piece is read."""
    return FLATNESS[stands_on_short_span(facts.area)]


def _longest_edge(plan: AreaPlan) -> float:
    return max(canonical(plan.piece.length), canonical(plan.piece.width))


def _base_flatness(facts: Facts) -> Criterion:
    limit = flatness_of(facts.area)
    return criterion("base flatness", None, limit.gap_mm, "mm", limit.basis)


def _short_flatness(facts: Facts) -> Criterion:
    limit = flatness_of(facts.area)
    gap = limit.gap_mm if limit.short_gap_mm is None else limit.short_gap_mm
    return criterion("base flatness, short span", None, gap, "mm", limit.basis)


def _lippage(facts: Facts) -> Criterion:
    warpage = canonical(facts.area.piece.warpage) if facts.area.piece.warpage else 0.0
    # Without a joint in the plan, 1/8 in: it lies in the standard's narrower and stricter class.
    joint = canonical(facts.area.joint) if facts.area.joint else 3.175
    limit = flatness.lippage_allowance(joint, warpage)
    return criterion("lippage", None, limit.mm, "mm", limit.basis)


def bed_limits_of(facts: Facts) -> mortar.BedLimits:
    """The bed that the area's mortar allows."""
    sheet = facts.area.mortar
    return mortar.bed_limits(
        sheet.kind,
        data_sheet_least_mm=canonical(sheet.least_bed) if sheet.least_bed else None,
        data_sheet_greatest_mm=canonical(sheet.greatest_bed) if sheet.greatest_bed else None,
    )


def _bed(facts: Facts) -> Criterion:
    allowed = bed_limits_of(facts)
    return criterion("bed", allowed.minimum_mm, allowed.maximum_mm, "mm", allowed.basis)


def _working_temperature(facts: Facts) -> Criterion:
    sheet = facts.area.mortar
    coldest, hottest = (None if end is None else canonical(end) for end in (sheet.coldest, sheet.hottest))
    allowed = times.working_temperature((coldest, hottest))
    return criterion("working temperature", allowed.minimum_c, allowed.maximum_c, "degC", allowed.basis)


def _water(facts: Facts) -> Criterion | None:
    # The data sheet's figure is the most: less makes a stiffer mortar, more a weaker one.
    sheet = facts.area.mortar
    if sheet.water_per_bag is None or facts.bags is None:
        return None
    most = facts.bags * convert_exact(sheet.water_per_bag.value, sheet.water_per_bag.unit, "L")
    return Criterion("water", None, most, "L", message("rules-data-sheet", product=sheet.name))


def _slide(facts: Facts) -> Criterion:
    # One stroke, not there and back.
    slide = ridges.slide_distance(notch_of(facts.method))
    return criterion("slide", slide.out_mm, None, "mm", slide.basis)


def notch_of(method: Trowel) -> ridges.Notch:
    """A trowel's notch as trade/ridges wants it."""
    return ridges.Notch(
        family=method.family,
        width_mm=canonical(method.width),
        depth_mm=canonical(method.depth),
        spacing_mm=canonical(method.spacing),
    )


LIMITS: Mapping[str, Callable[[Facts], Criterion | None]] = {
    "required coverage": required_coverage,
    "largest void": _largest_void,
    "base flatness": _base_flatness,
    "base flatness, short span": _short_flatness,
    "lippage": _lippage,
    "bed": _bed,
    "working temperature": _working_temperature,
    "slide": _slide,
    "water": _water,
}


def calculated(
    facts: Facts, name: str, given: Mapping[str, str], result: str, bound: Literal["at least", "at most"]
) -> Criterion:
    """A limit from any computation of the catalog: one of its results is the least or the greatest allowed.

    given: the computation's inputs as text; {fact} in it stands for a fact of the area, such as {longest edge}.
    Refused when the computation, an input or the result does not exist, or it refuses the figures.
    """

    def fill(text: str) -> str:
        def of_area(match: re.Match[str]) -> str:
            fact = FACTS.get(match[1])
            if fact is None:
                raise Refused(message("rules-no-fact", given=match[1], allowed=Several(tuple(sorted(FACTS)))))
            unit = quantities.unit_info(_CANONICAL[fact.dimension]).name
            return f"{fact.compute(facts):.6f} {unit}"

        return re.sub(r"\{([^}]*)\}", of_area, text)

    results = catalog.evaluate(name, {key: fill(text) for key, text in given.items()})
    for found in results:
        if found.name == result and isinstance(found.value, int | float) and found.unit in quantities.UNITS:
            value = float(found.value)
            low, high = (value, None) if bound == "at least" else (None, value)
            return criterion(name, low, high, found.unit, found.basis)
    numbers = tuple(r.name for r in results if isinstance(r.value, int | float) and r.unit in quantities.UNITS)
    code = "rules-no-such-figure" if numbers else "rules-no-figures"
    raise Refused(message(code, calculation=name, given=result, allowed=Several(numbers)))


_CANONICAL = {"mass": "kg", "area": "m2", "length": "mm"}


@dataclass(frozen=True, slots=True)
class Span:
    """How long a clock runs, in minutes, and why."""

    minutes: float
    basis: Message | Text


def _sheet_span(facts: Facts, field: Literal["pot_life", "open_time"]) -> Span:
    sheet = facts.area.mortar
    return Span(
        canonical(getattr(sheet, field)),
        message("rules-data-sheet", product=sheet.name),
    )


def _slake(facts: Facts) -> Span:
    sheet = facts.area.mortar
    span = times.slake(canonical(sheet.slake) if sheet.slake else None)
    return Span(span.least_min, as_told(span.basis))


DURATIONS: Mapping[str, Callable[[Facts], Span]] = {
    "pot life": lambda facts: _sheet_span(facts, "pot_life"),
    "open time": lambda facts: _sheet_span(facts, "open_time"),
    "slake": _slake,
}


@dataclass(frozen=True, slots=True)
class AreaFact:
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


FACTS: Mapping[str, AreaFact] = {
    "piece weight": AreaFact("mass", _piece_weight),
    "piece area": AreaFact("area", lambda f: whole_face_m2(f.area)),
    "longest edge": AreaFact("length", lambda f: _longest_edge(f.area)),
}


def least_lifts(facts: Facts, *, mocked_up: bool = False) -> tuple[int, Message | Text]:
    """How many distinct test tiles an area needs at least, and why. mocked_up: a mock-up stands in for the first."""
    need = requirement(facts)
    pieces = planned_pieces(facts.area)
    least = reach.least_lifts(pieces, need.least_lifts)
    basis = as_told(need.basis)
    if least < need.least_lifts:
        basis = message("rules-few-pieces", pieces=pieces, standard=need.least_lifts, basis=basis)
    if mocked_up and least > 1:
        least, basis = least - 1, message("rules-mock-up-stands-in", basis=basis)
    return least, basis
