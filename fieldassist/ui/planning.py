"""What the figures of an area come to: inputs of the plan in, sentences and figures with their basis out.

Everything is computed by `fieldassist.trade`; here the inputs are gathered and the results put in an order. Knows
nothing of Kivy.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any, Literal

from fieldassist.checklist import events as ev
from fieldassist.checklist.events import Event
from fieldassist.checklist.fields import canonical
from fieldassist.checklist.plan import Trowel
from fieldassist.checklist.rules import notch_of
from fieldassist.checklist.schema import Checklist
from fieldassist.checklist.state import Area, State
from fieldassist.trade import coverage, flatness, lifting, mortar, ridges, sampling, times
from fieldassist.trade.basis import PRACTICE, Basis, Standing
from fieldassist.trade.quantities import Quantity, dimension_of, format_quantity

Units = Literal["metric", "us"]
Value = Quantity | str | None
Origin = Literal["plan", "in use", "measured", "assumed", "entered", "not known"]

# The same relation as in `ridges.advise`.
_VOLUME = Basis("conservation of volume", standing=Standing.PRACTICE)
_SHEET_DATA = Basis("the mortar's data sheet", standing=Standing.DATA_SHEET)


# --- what can be entered ------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Ask:
    """One input. units: the metric one and that of the US, or the only one; options: (value, words) of a choice.

    least, greatest: what is believable, in the canonical unit of its dimension; mark: follows the number of an input
    without a unit; hint: a line for whoever enters it.
    """

    key: str
    title: str
    group: str
    units: tuple[str, ...] = ()
    least: float = 0.0
    greatest: float = 0.0
    options: tuple[tuple[str, str], ...] = ()
    mark: str = ""
    hint: str = ""

    def unit(self, units: Units) -> str:
        """The unit to begin with."""
        return self.units[-1] if units == "us" else self.units[0]

    def shown(self, value: Value, units: Units) -> str:
        """A value of it in words."""
        if value is None:
            return "–"
        if isinstance(value, str):
            return next((words for option, words in self.options if option == value), value)
        if value.unit == "count":
            return f"{format_quantity(value.value, 'count')}{self.mark}"
        return format_quantity(value.value, value.unit, units)

    def refusal(self, value: Quantity, units: Units) -> str:
        """Why a number is not taken, or ""."""
        if self.least - 1e-9 <= canonical(value) <= self.greatest + 1e-9:
            return ""
        unit = canonical_unit(self.units[0])
        low, high = (
            self.shown(Quantity(Fraction(end).limit_denominator(1000), unit), units)
            for end in (self.least, self.greatest)
        )
        return (
            f"{self.shown(value, units)} cannot be right here: {low} to {high} is. "
            "Nothing was changed; type it again, or leave it."
        )


def canonical_unit(unit: str) -> str:
    """The unit in which a dimension is reckoned: mm, m2, kg, L, min, percent or count.

    >>> canonical_unit("in"), canonical_unit("lb")
    ('mm', 'kg')
    """
    table = {"length": "mm", "area": "m2", "mass": "kg", "volume": "L", "duration": "min"}
    return table.get(dimension_of(unit), unit)


_LENGTH = ("mm", "in")
_MASS, _VOLUME_UNITS, _AREA, _TIME, _BARE = ("kg", "lb"), ("L", "qt"), ("m2", "ft2"), ("min",), ("count",)
_FAMILIES = {
    "square": "square",
    "rectangular": "rectangular",
    "U": "U, round end",
    "V": "V",
    "slanted": "slanted, ridges lean",
    "ridge-collapse": "ridge-collapse, leans and curves",
    "half-round": "half-round",
}

ASKS: tuple[Ask, ...] = (
    Ask("family", "Notch shape", "Trowel", options=tuple(_FAMILIES.items())),
    Ask("depth", "Notch depth", "Trowel", _LENGTH, 1, 40, hint="Square to the trowel's edge."),
    Ask("width", "Notch width", "Trowel", _LENGTH, 1, 60, hint="Opening along the trowel's edge."),
    Ask("spacing", "Tooth between", "Trowel", _LENGTH, 0.5, 60, hint="From one notch to the next, along the edge."),
    Ask("angle", "Trowel angle", "Trowel", _BARE, 1, 90, mark="°", hint="Degrees between trowel and base."),
    Ask(
        "sides",
        "Combed",
        "Trowel",
        options=(("one", "on the base only"), ("both", "on the base and on the back")),
    ),
    Ask("skim", "Coat keyed in back", "Trowel", _LENGTH, 0, 5, hint="Put on with the flat side; 0 for none."),
    Ask(
        "setting",
        "Collapsed",
        "Trowel",
        options=(("by hand", "by hand"), ("vibrated", "with a vibrator")),
    ),
    Ask("length", "Piece length", "Piece", _LENGTH, 20, 5000),
    Ask("broad", "Piece width", "Piece", _LENGTH, 20, 5000),
    Ask("thickness", "Piece thickness", "Piece", _LENGTH, 2, 60),
    Ask("warpage", "Piece warpage", "Piece", _LENGTH, 0, 10, hint="Greatest gap under the piece, on a flat table."),
    Ask("weighed", "Piece on a scale", "Piece", _MASS, 0.05, 500, hint="With all that is lifted with it."),
    Ask("base", "Base off by", "Base and mortar", _LENGTH, 0, 50, hint="Gap under a straightedge, under one piece."),
    Ask(
        "mortar",
        "Mortar",
        "Base and mortar",
        options=(("thin-set", "thin-set"), ("large-and-heavy-tile", "large and heavy tile")),
    ),
    Ask("least", "Least bed", "Base and mortar", _LENGTH, 0.5, 30, hint="From the mortar's data sheet."),
    Ask("most", "Greatest bed", "Base and mortar", _LENGTH, 1, 60, hint="From the mortar's data sheet."),
    Ask("area", "Area to set", "Area and bags", _AREA, 0.05, 10000),
    Ask("bag", "One bag", "Area and bags", _MASS, 1, 50),
    Ask("yield", "A bag makes", "Area and bags", _VOLUME_UNITS, 0.5, 60, hint="Mixed mortar, from the data sheet."),
    Ask("water", "Water for a bag", "Area and bags", _VOLUME_UNITS, 0.1, 30, hint="From the data sheet."),
    Ask("waste", "Waste", "Area and bags", ("percent",), 0, 60, hint="Of what ends up behind the tile."),
    Ask("single", "One person lifts", "Lifting", _MASS, 1, 60, hint="What each may lift alone."),
    Ask("cups", "Suction cups hold", "Lifting", _MASS, 1, 2000, hint="All together, upright, low end of the vacuum."),
    Ask("reach", "Hands from ankles", "Lifting", _LENGTH, 0, 1000, hint="Level distance, from between the ankles."),
    Ask("from", "Lifted from", "Lifting", _LENGTH, 0, 2500, hint="Height of the hands where the lift begins."),
    Ask("to", "Lifted to", "Lifting", _LENGTH, 0, 2500, hint="Height of the hands where it ends."),
    Ask("turn", "Body turned", "Lifting", _BARE, 0, 180, mark="°", hint="Degrees out of straight ahead."),
    Ask("often", "Lifts a minute", "Lifting", _BARE, 0, 20, hint="0.2 is one in five minutes."),
    Ask(
        "long",
        "Lifting goes on",
        "Lifting",
        options=(("short", "up to 1 h"), ("moderate", "up to 2 h"), ("long", "up to 8 h")),
    ),
    Ask("grip", "Grip", "Lifting", options=(("good", "good: handles"), ("fair", "fair"), ("poor", "poor: bare edges"))),
)
ASK: Mapping[str, Ask] = {ask.key: ask for ask in ASKS}


@dataclass(frozen=True, slots=True)
class Given:
    """An input and where it comes from."""

    value: Value
    origin: Origin


@dataclass(frozen=True, slots=True)
class Start:
    """An area as it is planned and measured: what every input stands at before anything is entered.

    worst_mm: how far the base may be off under one piece by its limit [mm]; lifts: least number, and its basis.
    """

    name: str
    given: Mapping[str, Given]
    product: coverage.Product
    place: coverage.Place
    surface: coverage.Surface
    mortar_name: str
    spans: tuple[tuple[str, Quantity | None], ...]
    worst_mm: float
    worst_basis: str
    lifts: tuple[int, str]
    at_hand: Mapping[str, ridges.Notch]


def _taken_back(events: Iterable[Event]) -> frozenset[int]:
    return frozenset(event.body.target for event in events if isinstance(event.body, ev.Withdrawn))


def measured_gaps(events: Sequence[Event], name: str, checklist: Checklist) -> Mapping[str, Quantity]:
    """The gaps under the straightedge that were kept for an area, the last of each, by the limit that judged them."""
    gone = _taken_back(events)
    called = {event.seq: event.body for event in events if isinstance(event.body, ev.ReadingCalled)}
    rules = {
        (holder, step.id): step.limit.rule
        for holder, step in checklist.all_steps()
        if step.limit is not None and step.limit.rule is not None
    }
    found: dict[str, Quantity] = {}
    for event in events:
        body = event.body
        if not isinstance(body, ev.ReadingKept) or body.area != name or {event.seq, body.target} & gone:
            continue
        rule, reading = rules.get((body.section, body.step)), called.get(body.target)
        if rule is not None and reading is not None and rule.startswith("base flatness"):
            found[rule] = Quantity(reading.value, reading.unit)
    return found


def start(state: State, events: Sequence[Event], name: str) -> Start:
    """Where the inputs of a planned area begin.

    Errors: `KeyError` for an area or checklist that the day does not have.
    """
    plan = state.plan
    planned = plan.area(name) if plan is not None else None
    if plan is None or planned is None:
        raise KeyError(name)
    checklist = state.checklists[planned.checklist]
    area = state.areas.get(name) or Area(planned, checklist, planned.trowel)
    piece, sheet, trowel = planned.piece, planned.mortar, area.trowel
    edge = max(canonical(piece.length), canonical(piece.width))
    limit = flatness.substrate_limit("A108.02", edge, product=piece.product)
    # A piece that the short straightedge spans stands on the gap under that one; for a longer piece the gap under the
    # long one is the most that can be under it. Common practice, no published source.
    short = limit.short_over_mm is not None and edge <= limit.short_over_mm + 1e-6
    gaps = measured_gaps(events, name, checklist)
    base = gaps.get("base flatness, short span" if short else "base flatness")
    tool: Origin = "plan" if trowel == planned.trowel else "in use"
    vibrated = piece.product == "gauged panel"

    def sheet_or(value: Quantity | None) -> Given:
        return Given(value, "plan" if value is not None else "not known")

    def number(value: float, unit: str) -> Quantity:
        return Quantity(Fraction(str(value)), unit)

    def guess(value: float, unit: str) -> Given:
        return Given(number(value, unit), "assumed")

    given = {
        "family": Given(trowel.family, tool),
        "depth": Given(trowel.depth, tool),
        "width": Given(trowel.width, tool),
        "spacing": Given(trowel.spacing, tool),
        "angle": Given(number(trowel.angle, "count"), tool),
        "sides": Given(trowel.sides, tool),
        "skim": guess(0, "mm"),
        "setting": Given("vibrated" if vibrated else "by hand", "assumed"),
        "length": Given(piece.length, "plan"),
        "broad": Given(piece.width, "plan"),
        "thickness": Given(piece.thickness, "plan"),
        "warpage": Given(piece.warpage, "plan") if piece.warpage is not None else guess(0, "mm"),
        "weighed": sheet_or(piece.weighed),
        "base": Given(base, "measured") if base is not None else guess(0, "mm"),
        "mortar": Given(sheet.kind, "plan"),
        "least": sheet_or(sheet.least_bed),
        "most": sheet_or(sheet.greatest_bed),
        "area": Given(planned.size, "plan"),
        "bag": sheet_or(sheet.bag),
        "yield": sheet_or(sheet.bag_yield),
        "water": sheet_or(sheet.water_per_bag),
        "waste": guess(mortar.WASTE_PERCENT, "percent"),
        "single": guess(lifting.HSE_FILTER_KG, "kg"),
        "cups": Given(None, "not known"),
        # A posture to begin with, ours: close, from the waist to the chest, now and then, by the bare edges.
        "reach": guess(400, "mm"),
        "from": guess(750, "mm"),
        "to": guess(1200, "mm"),
        "turn": guess(0, "count"),
        "often": guess(0.2, "count"),
        "long": Given("short", "assumed"),
        "grip": Given("poor", "assumed"),
    }
    worst = limit.short_gap_mm if short and limit.short_gap_mm is not None else limit.gap_mm
    return Start(
        name,
        given,
        piece.product,
        checklist.place,
        checklist.surface,
        sheet.name,
        (("Slake", sheet.slake), ("Pot life", sheet.pot_life), ("Open time", sheet.open_time)),
        worst,
        str(limit.basis),
        area.lifts_needed,
        {words: notch_of(one) for words, one in plan.notches.items() if _can_be(one)},
    )


def _can_be(trowel: Trowel) -> bool:
    try:
        notch_of(trowel)
    except ValueError:
        return False
    return True


def entries(inputs: Inputs, key: str, value: Value) -> dict[str, Value]:
    """What changes when an input is entered: a square notch stays as wide as it is deep."""
    if key in ("width", "depth") and inputs.word("family") == "square":
        return {"width": value, "depth": value}
    return {key: value}


# --- inputs -------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Inputs:
    """All inputs of an area: where it starts, and what was entered over that."""

    start: Start
    entered: Mapping[str, Value]

    def given(self, key: str) -> Given:
        """An input as it stands."""
        return Given(self.entered[key], "entered") if key in self.entered else self.start.given[key]

    def word(self, key: str) -> Any:
        """A choice."""
        return self.given(key).value

    def known(self, key: str) -> float | None:
        """A number in its canonical unit, None where it is not known."""
        value = self.given(key).value
        return canonical(value) if isinstance(value, Quantity) else None

    def number(self, key: str) -> float:
        """A number in its canonical unit. `ValueError` where it is not known."""
        value = self.known(key)
        if value is None:
            raise ValueError(f"{ASK[key].title.lower()!r} is not known; press it and enter it")
        return value

    def notch(self) -> ridges.Notch:
        """The trowel's notch. `ValueError` for one that cannot be."""
        return ridges.Notch(self.word("family"), self.number("width"), self.number("depth"), self.number("spacing"))

    def limits(self) -> mortar.BedLimits:
        """The bed that the mortar allows."""
        return mortar.bed_limits(
            self.word("mortar"), data_sheet_least_mm=self.known("least"), data_sheet_greatest_mm=self.known("most")
        )

    def hint(self, ask: Ask) -> str:
        """What whoever enters a number should know."""
        both = ask.key in ("width", "depth") and self.word("family") == "square"
        parts = (ask.hint, "A square notch is as wide as it is deep: both change." if both else "")
        return " ".join(part for part in parts if part)

    def requirement(self) -> coverage.Requirement:
        """The contact that is required."""
        return coverage.required_contact(self.start.product, self.start.place, self.start.surface)

    def piece(self) -> tuple[float, float]:
        """The piece's two sides [mm]."""
        return self.number("length"), self.number("broad")


# --- results ------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class InputLine:
    """An input as the screen shows it."""

    key: str
    title: str
    group: str
    text: str
    origin: Origin


@dataclass(frozen=True, slots=True)
class Figure:
    """One result: its name, the figure or sentence, more words, and its basis."""

    title: str
    value: str
    words: str = ""
    basis: str = ""


@dataclass(frozen=True, slots=True)
class Part:
    """Results that belong together. problem: why they cannot be worked out."""

    title: str
    figures: tuple[Figure, ...] = ()
    cautions: tuple[str, ...] = ()
    problem: str = ""


@dataclass(frozen=True, slots=True)
class Try:
    """Another way that works, and what to enter for it."""

    words: str
    entries: tuple[tuple[str, Value], ...]


@dataclass(frozen=True, slots=True)
class Verdict:
    """Whether the notch works for a base. works: None where it cannot be told; brief: its figures in a line."""

    works: bool | None
    title: str
    brief: str
    reasons: tuple[str, ...]
    basis: str = ""
    tries: tuple[Try, ...] = ()
    no_way: str = ""


@dataclass(frozen=True, slots=True)
class Drawing:
    """What is drawn, in mm: one ridge on the base, and what becomes of it.

    ridge: outline, its first corner at (0, 0), y up from the base; low_mm, high_mm: gap between base and tile at the
    high and at the low places; captions: words for the figures, by name.
    """

    ridge: tuple[tuple[float, float], ...]
    pitch_mm: float
    height_mm: float
    bed_mm: float
    tile_mm: float
    both: bool
    low_mm: float
    high_mm: float
    captions: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Sheet:
    """Everything that is known about an area: inputs, verdicts, drawing, results."""

    name: str
    lines: tuple[InputLine, ...]
    verdict: Verdict
    at_limit: Verdict | None
    drawing: Drawing | None
    parts: tuple[Part, ...]
    inputs: Inputs


def sentence(text: str) -> str:
    """With a capital and a stop.

    >>> sentence("too little mortar")
    'Too little mortar.'
    """
    text = text[:1].upper() + text[1:]
    return text if text.endswith((".", "!", "?")) else f"{text}."


def work_out(inputs: Inputs, units: Units) -> Sheet:
    """All results of an area's inputs, in the units asked for. Never fails: what cannot be, says why."""
    lines = tuple(
        InputLine(ask.key, ask.title, ask.group, ask.shown(given.value, units), given.origin)
        for ask in ASKS
        for given in (inputs.given(ask.key),)
    )
    verdict = _judged(inputs, inputs.known("base") or 0.0, units)
    assumed = inputs.given("base").origin == "assumed"
    at_limit = None
    if assumed and verdict.works is not None:
        at_limit = _judged(inputs, inputs.start.worst_mm, units)
        off = format_quantity(inputs.start.worst_mm, "mm", units)
        at_limit = replace(
            at_limit,
            title=f"With the base off by all that its limit allows ({off}): {_lower(at_limit.title)}",
            basis=inputs.start.worst_basis,
        )
    try:
        drawing = _drawing(inputs, units)
    except ValueError:
        drawing = None
    makers: tuple[tuple[str, Callable[[Inputs, Units], Part]], ...] = (
        ("Bed and contact", _bed),
        ("Setting", _setting),
        ("Weight and lifting", _lifting),
        ("Bags and water", _bags),
        ("Tiles to lift", _lifts),
        ("Times", _times),
    )
    return Sheet(
        inputs.start.name,
        lines,
        verdict,
        at_limit,
        drawing,
        tuple(_guarded(title, make, inputs, units) for title, make in makers),
        inputs,
    )


def _lower(text: str) -> str:
    return text[:1].lower() + text[1:]


def _guarded(title: str, make: Callable[[Inputs, Units], Part], inputs: Inputs, units: Units) -> Part:
    try:
        return make(inputs, units)
    except ValueError as problem:
        return Part(title, problem=sentence(str(problem)))


def advise(
    inputs: Inputs, notches: Mapping[str, ridges.Notch], base_mm: float, units: Units, **other: Any
) -> tuple[ridges.Advice, ...]:
    """`ridges.advise` with an area's inputs, over a base that is off by base_mm [mm]."""
    return ridges.advise(
        notches,
        inputs.limits(),
        tile_mm=inputs.piece(),
        warpage_mm=inputs.number("warpage"),
        substrate_mm=base_mm,
        skim_mm=inputs.number("skim"),
        minimum_percent=inputs.requirement().minimum_percent,
        angle_deg=inputs.number("angle"),
        system=units,
        **{"setting": inputs.word("setting"), **other},
    )


def _judged(inputs: Inputs, base_mm: float, units: Units) -> Verdict:
    try:
        found = advise(inputs, {"it": inputs.notch()}, base_mm, units)
    except ValueError as problem:
        kept = "What you entered is kept: change it, or press “As planned”."
        return Verdict(None, "Cannot be worked out", "", (sentence(str(problem)), kept))
    own = next(advice for advice in found if advice.sides == inputs.word("sides"))
    bed, contact = format_quantity(own.bed_mm, "mm", units), format_quantity(own.greatest_contact_percent, "percent")
    brief = f"bed {bed}, contact at most {contact}"
    if inputs.given("base").origin == "assumed":
        brief += ", base ASSUMED true"
    basis = "\n".join((f"Reach: {_VOLUME}", f"Contact: {inputs.requirement().basis}", f"Bed: {inputs.limits().basis}"))
    reasons = tuple(sentence(reason) for reason in own.reasons)
    if own.works:
        return Verdict(True, "Works", brief, reasons, basis)
    tries = _tries(inputs, base_mm, own, units)
    no_way = "" if tries else "No notch of the plan and no usual one works: flatten the base, or ask the foreman."
    return Verdict(False, "Does not work", brief, reasons, basis, tries, no_way)


def _tries(inputs: Inputs, base_mm: float, own: ridges.Advice, units: Units) -> tuple[Try, ...]:
    """What is nearest to the notch at hand and works: vibrating, a notch of the plan, a usual one.

    Nearest is what leaves the bed that differs least. Common practice, no published source.
    """
    tries: list[Try] = []
    if inputs.word("setting") == "by hand":
        same = advise(inputs, {"it": own.notch}, base_mm, units, setting="vibrated")
        if any(one.works and one.sides == own.sides for one in same):
            tries.append(Try("the same notch, collapsed with a vibrator", (("setting", "vibrated"),)))
    # The laboratory's trowel is no tool of the site.
    usual = {name: notch for name, notch in ridges.COMMON_NOTCHES.items() if name != "laboratory trowel"}
    for whose, notches in (("on the plan", inputs.start.at_hand), ("a usual size", usual)):
        working = [one for one in advise(inputs, notches, base_mm, units) if one.works] if notches else []
        if working:
            best = min(working, key=lambda one: abs(one.bed_mm - own.bed_mm))
            sides = "on the base only" if best.sides == "one" else "on base and back"
            bed = format_quantity(best.bed_mm, "mm", units)
            words = f"{best.name} ({notch_words(best.notch, units)}), combed {sides}: bed {bed}; {whose}"
            tries.append(Try(words, _as_entries(best.notch, best.sides)))
    return tuple(tries)


def notch_words(notch: ridges.Notch, units: Units) -> str:
    """A notch's sizes.

    >>> notch_words(ridges.Notch("U", 6.35, 9.525, 6.35), "us")
    '1/4 in wide, 3/8 in deep, 1/4 in apart'
    """
    width, depth, spacing = (
        format_quantity(side, "mm", units) for side in (notch.width_mm, notch.depth_mm, notch.spacing_mm)
    )
    return f"{width} wide, {depth} deep, {spacing} apart"


def _as_entries(notch: ridges.Notch, sides: ridges.Sides) -> tuple[tuple[str, Value], ...]:
    sizes = {"width": notch.width_mm, "depth": notch.depth_mm, "spacing": notch.spacing_mm}
    return (
        ("family", notch.family),
        ("sides", sides),
        *((key, Quantity(Fraction(repr(float(mm))), "mm")) for key, mm in sizes.items()),
    )


def _own(inputs: Inputs, units: Units) -> ridges.Advice:
    found = advise(inputs, {"it": inputs.notch()}, inputs.number("base"), units)
    return next(one for one in found if one.sides == inputs.word("sides"))


def _gap(inputs: Inputs) -> tuple[float, float]:
    low = inputs.limits().minimum_mm
    return low, low + inputs.number("warpage") + inputs.number("base")


def _bed(inputs: Inputs, units: Units) -> Part:
    def show(mm: float) -> str:
        return format_quantity(mm, "mm", units)

    own, limits, need = _own(inputs, units), inputs.limits(), inputs.requirement()
    notch, angle = inputs.notch(), inputs.number("angle")
    made = ridges.ridge(notch, angle)
    low, high = _gap(inputs)
    base = inputs.given("base")
    rests = "as measured" if base.origin == "measured" else "as entered" if base.origin == "entered" else "ASSUMED true"
    figures = [
        Figure(
            "Bed after collapse, mean",
            show(own.bed_mm),
            f"from ridges {show(made.height_mm)} tall, {show(made.pitch_mm)} from one to the next",
            str(made.basis),
        ),
        Figure(
            "Gap to fill",
            f"{show(low)} to {show(high)}" if high > low else show(low),
            f"least bed at the high places; warpage and base on top at the low ones; base {rests}",
            PRACTICE.standing.value,
        ),
        Figure(
            "Contact the ridges can give",
            f"at most {format_quantity(own.greatest_contact_percent, 'percent')}",
            f"{format_quantity(need.minimum_percent, 'percent')} is required; trapped air and ridges left standing "
            "make it less, so lift tiles",
            f"{_VOLUME}. Required: {need.basis}",
        ),
    ]
    ways: tuple[tuple[ridges.Sides, str], ...] = (
        ("one", "Combed on the base only"),
        ("both", "Combed on base and back"),
    )
    for sides, words in ways:
        bed = ridges.bed_after_collapse(notch, angle, sides=sides, skim_mm=inputs.number("skim"))
        judged = mortar.bed_verdict(bed, limits, system=units)
        here = " (as it stands)" if sides == inputs.word("sides") else ""
        figures.append(
            Figure(f"{words}{here}", f"{show(bed)}: {judged.verdict}", sentence(judged.reason), str(judged.basis))
        )
    return Part("Bed and contact", tuple(figures))


def _setting(inputs: Inputs, units: Units) -> Part:
    notch = inputs.notch()
    slide = ridges.slide_distance(notch, system=units)
    air = ridges.air_path(*inputs.piece(), system=units)
    short = format_quantity(air.shortest_choice_mm, "mm", units)
    return Part(
        "Setting",
        (
            Figure("Slide", slide.instruction, slide.note, str(slide.basis)),
            Figure("Comb", f"one way, parallel to the short side ({short})", air.advice, str(air.basis)),
        ),
    )


def _lifting(inputs: Inputs, units: Units) -> Part:
    length, broad = inputs.piece()
    weight = lifting.piece_weight(length, broad, inputs.number("thickness"), weighed_kg=inputs.known("weighed"))
    advice = lifting.who_may_lift(weight.kg, inputs.number("single"), system=units)

    def show(kg: float) -> str:
        return format_quantity(kg, "kg", units)

    alone = "assumed" if inputs.given("single").origin == "assumed" else "as entered"
    ends = [
        lifting.recommended_weight_limit(
            inputs.number("reach"),
            inputs.number(end),
            abs(inputs.number("to") - inputs.number("from")),
            inputs.number("turn"),
            inputs.number("often"),
            inputs.word("long"),
            inputs.word("grip"),
            origin_vertical_mm=None if end == "from" else inputs.number("from"),
            constants=units,
        )
        for end in ("from", "to")
    ]
    limit = lifting.lower_limit(*ends)
    index = lifting.lifting_index(weight.kg, limit)
    times_limit = "" if index.index is None else f"; the piece is {index.index:.2f} times that"
    posture = ("reach", "from", "to", "turn", "often", "long", "grip")
    whence = _origins(inputs, posture)
    stands = ", ".join(f"{ASK[key].title.lower()} {ASK[key].shown(inputs.given(key).value, units)}" for key in posture)
    figures = [
        Figure(
            "One piece",
            show(weight.kg),
            "as weighed" if inputs.known("weighed") else "from its size; weigh one to be sure",
            str(weight.basis),
        ),
        Figure(
            "By hand",
            sentence(advice.words),
            f"each alone up to {show(inputs.number('single'))}, {alone}",
            str(advice.basis),
        ),
        Figure(
            "One person alone, standing, both hands",
            f"up to {show(limit.kg)}{times_limit}",
            f"{index.words} Where it differs from the limit above, keep to the lower. Posture {whence}: "
            f"{stands}. Teams, kneeling and carrying are not covered.",
            str(limit.basis),
        ),
    ]
    held = inputs.known("cups")
    if held is None:
        words = "not judged: press “Suction cups hold” and enter what they hold together, upright"
        figures.append(Figure("Suction lifter, carried by hand", words))
    else:
        margin = lifting.suction_margin(weight.kg, [held])
        judged = "holds" if margin.passed else "does NOT hold"
        reasons = "; ".join(margin.reasons) or "enough"
        figures.append(
            Figure(
                "Suction lifter, carried by hand",
                f"{judged}: {margin.factor:.2f} times the piece, {margin.required:g} times is asked for",
                sentence(reasons) + " " + " ".join(margin.checks),
                str(margin.basis),
            )
        )
    return Part("Weight and lifting", tuple(figures), advice.cautions)


def _origins(inputs: Inputs, keys: Sequence[str]) -> str:
    entered = sum(inputs.given(key).origin == "entered" for key in keys)
    return "ASSUMED" if not entered else "as entered" if entered == len(keys) else "partly ASSUMED"


def _bags(inputs: Inputs, units: Units) -> Part:
    volume = ridges.mortar_per_m2(
        inputs.notch(), inputs.number("angle"), sides=inputs.word("sides"), skim_mm=inputs.number("skim")
    )
    bag = mortar.bag_yield(inputs.number("bag"), inputs.known("yield"))
    need = mortar.mortar_for_area(
        inputs.number("area"),
        volume,
        inputs.number("bag"),
        bag.litres,
        water_l_per_bag=inputs.known("water"),
        waste_percent=inputs.number("waste"),
    )
    area, waste = (
        format_quantity(inputs.number("area"), "m2", units),
        format_quantity(inputs.number("waste"), "percent"),
    )
    assumed = " (assumed)" if inputs.given("waste").origin == "assumed" else ""
    figures = [
        Figure(
            "Bags",
            f"{need.whole_bags} to bring, {need.bags:.2f} used",
            f"{format_quantity(need.volume_l, 'L', units)} of mortar for {area} with {waste} waste{assumed}, "
            f"{format_quantity(need.powder_kg, 'kg', units)} of powder",
            f"{bag.basis}. Waste: {PRACTICE.standing.value}" if assumed else str(bag.basis),
        )
    ]
    if need.water_l is None:
        figures.append(Figure("Water", "not known: press “Water for a bag” and enter the data sheet's figure"))
    else:
        figures.append(
            Figure(
                "Water",
                f"{format_quantity(need.water_l, 'L', units)} in all",
                f"{format_quantity(inputs.number('water'), 'L', units)} for each bag; never more after the slake",
                str(_SHEET_DATA),
            )
        )
    return Part("Bags and water", tuple(figures), tuple(caution.text for caution in mortar.MIXING_CAUTIONS))


def pieces(inputs: Inputs) -> int:
    """How many pieces the area takes, without joints and cuts."""
    length, broad = inputs.piece()
    return max(1, math.ceil(round(inputs.number("area") / (length * broad / 1e6), 6)))


def _lifts(inputs: Inputs, units: Units) -> Part:  # noqa: ARG001  (all parts are made alike)
    least, basis = inputs.start.lifts
    lot = pieces(inputs)
    if not least:
        return Part("Tiles to lift", problem="This area's checklist asks for no tile to be lifted.")
    proof = sampling.what_lifts_prove(min(least, lot), min(least, lot), lot=lot)
    wanted = sampling.lifts_needed(lot=lot)
    return Part(
        "Tiles to lift",
        (
            Figure("At least", f"{least} of about {lot}", f"{lot} pieces, joints and cuts not counted", basis),
            Figure("What that would prove", proof.words, proof.caution, str(proof.basis)),
            Figure("To claim more", wanted.words, "", str(wanted.basis)),
        ),
    )


def _times(inputs: Inputs, units: Units) -> Part:  # noqa: ARG001
    figures = []
    for title, sheet in inputs.start.spans:
        if sheet is not None:
            figures.append(
                Figure(title, format_quantity(canonical(sheet), "min"), inputs.start.mortar_name, str(_SHEET_DATA))
            )
        elif title == "Slake":
            span = times.slake()
            figures.append(Figure(title, f"{span.least_min:g} to {span.greatest_min:g} min", "", str(span.basis)))
    return Part("Times", tuple(figures), ("Sun, wind, heat and a thirsty base shorten it: touch the mortar.",))


# --- the drawing --------------------------------------------------------------------------------------------------


def _drawing(inputs: Inputs, units: Units) -> Drawing:
    notch, angle = inputs.notch(), inputs.number("angle")
    made, own = ridges.ridge(notch, angle), _own(inputs, units)
    sine = math.sin(math.radians(angle))
    low, high = _gap(inputs)

    def show(mm: float) -> str:
        return format_quantity(mm, "mm", units)

    contact = own.greatest_contact_percent
    reach = "the mortar can fill the gap"
    if contact < 100:
        reach = f"mortar can touch {format_quantity(contact, 'percent')} of the back, the blanks are air"
    both = inputs.word("sides") == "both"
    lean = ", their lean assumed" if notch.leans else ""
    return Drawing(
        tuple((x, y * sine) for x, y in ridges.outline(notch, 24)),
        made.pitch_mm,
        made.height_mm,
        own.bed_mm,
        inputs.number("thickness"),
        both,
        low,
        high,
        {
            "before": f"Combed: ridges on {'base and back' if both else 'the base'}{lean}",
            "after": "Collapsed: an even bed on a true base",
            "off": f"Where base or piece is off: {reach}. Heights to scale, length squeezed.",
            "height": show(made.height_mm),
            "pitch": show(made.pitch_mm),
            "bed": show(own.bed_mm),
            "low": show(low),
            "high": show(high),
        },
    )


_SCALES = (10.0, 8.0, 6.0, 5.0, 4.0, 3.0, 2.5, 2.0, 1.5, 1.0, 0.75, 0.5, 0.25, 0.1)


def scale_for(drawing: Drawing, width_mm: float, height_mm: float) -> float:
    """The largest of the usual scales at which two ridges, and the tallest picture, find room on the glass.

    Parameters: width_mm, height_mm: of the glass there is [mm].
    """
    tallest = max(drawing.height_mm * (2 if drawing.both else 1), drawing.bed_mm, 1.5 * drawing.high_mm)
    for scale in _SCALES:
        if 2 * drawing.pitch_mm * scale <= width_mm and tallest * scale <= height_mm:
            return scale
    return _SCALES[-1]


def scale_words(scale: float) -> str:
    """A scale as drawings name it, and in words.

    >>> scale_words(2.5)
    'Scale 2.5 : 1 (drawn 2.5 times as large as it is)'
    >>> scale_words(1.0)
    'Scale 1 : 1 (drawn as large as it is)'
    """
    if scale == 1:
        return "Scale 1 : 1 (drawn as large as it is)"
    if scale > 1:
        return f"Scale {scale:g} : 1 (drawn {scale:g} times as large as it is)"
    return f"Scale 1 : {1 / scale:.3g} (drawn {1 / scale:.3g} times smaller than it is)"
