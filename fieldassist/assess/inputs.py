"""What an area's questions are asked with: the plan, what was measured, what somebody entered, and what is assumed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType
from typing import Any, Generic, Literal, TypeVar, cast, get_args

from fieldassist.assess.assumptions import Assumption, assumed
from fieldassist.checklist import methods, rules
from fieldassist.checklist.fields import canonical
from fieldassist.checklist.plan import Method
from fieldassist.checklist.rules import notch_of
from fieldassist.checklist.state import Area, State
from fieldassist.trade import coverage, lifting, ridges
from fieldassist.trade.message import Figure, Message, Refused, Several, message
from fieldassist.trade.mortar import BedLimits, bed_limits
from fieldassist.trade.mortar import MortarKind as MortarKind
from fieldassist.trade.quantities import Quantity, dimension_of, parse_quantity

__all__ = [
    "FIELDS",
    "Entries",
    "Field",
    "FieldKind",
    "Given",
    "Inputs",
    "NumberField",
    "Origin",
    "Value",
    "area_inputs",
    "called",
    "day_inputs",
    "entered",
    "read_value",
    "unbelievable",
]

Origin = Literal["plan", "in use", "measured", "assumed", "entered", "not known"]
Setting = Literal["by hand", "vibrated"]
NumberField = Literal[
    "depth",
    "width",
    "spacing",
    "angle",
    "skim",
    "length",
    "breadth",
    "thickness",
    "warpage",
    "weighed",
    "base",
    "least",
    "most",
    "area",
    "bag",
    "bag_yield",
    "water",
    "waste",
    "hourly",
    "single_limit",
    "cups",
    "reach",
    "height",
    "end_reach",
    "end_height",
    "turn",
    "pace",
]
ChoiceField = Literal["family", "sides", "setting", "mortar", "duration", "grip"]
Field = NumberField | ChoiceField | Literal["conditions"]
Value = Quantity | str | frozenset[lifting.Condition]
# What somebody entered over what the plan says, by field.
Entries = Mapping[Field, Value]

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Given(Generic[T]):
    """An input and where it comes from; assumption: where nobody gave it."""

    value: T
    origin: Origin
    assumption: Assumption | None = None


@dataclass(frozen=True, slots=True)
class FieldKind:
    """What may be entered for a field.

    units: the metric one and that of the US, or the only one; least, greatest: what is believable, in canonical
    units; options: of a choice, by code.
    """

    units: tuple[str, ...] = ()
    least: float = 0.0
    greatest: float = 0.0
    options: tuple[str, ...] = ()


_LENGTH, _MASS, _VOLUME, _AREA, _BARE = ("mm", "in"), ("kg", "lb"), ("L", "qt"), ("m2", "ft2"), ("count",)

_WITHOUT_UNIT = ("count", "percent")

# What is believable of each is common practice, no published source: it keeps a slipped digit out, and judges nothing.
FIELDS: Mapping[Field, FieldKind] = MappingProxyType(
    {
        "family": FieldKind(options=get_args(ridges.Family)),
        "depth": FieldKind(_LENGTH, 1, 40),
        "width": FieldKind(_LENGTH, 1, 60),
        "spacing": FieldKind(_LENGTH, 0.5, 60),
        "angle": FieldKind(_BARE, 1, 90),
        "sides": FieldKind(options=get_args(ridges.Sides)),
        "skim": FieldKind(_LENGTH, 0, 5),
        "setting": FieldKind(options=get_args(Setting)),
        "length": FieldKind(_LENGTH, 20, 5000),
        "breadth": FieldKind(_LENGTH, 20, 5000),
        "thickness": FieldKind(_LENGTH, 2, 60),
        "warpage": FieldKind(_LENGTH, 0, 10),
        "weighed": FieldKind(_MASS, 0.05, 500),
        "base": FieldKind(_LENGTH, 0, 50),
        "mortar": FieldKind(options=get_args(MortarKind)),
        "least": FieldKind(_LENGTH, 0.5, 30),
        "most": FieldKind(_LENGTH, 1, 60),
        "area": FieldKind(_AREA, 0.05, 10000),
        "bag": FieldKind(_MASS, 1, 50),
        "bag_yield": FieldKind(_VOLUME, 0.5, 60),
        "water": FieldKind(_VOLUME, 0.1, 30),
        "waste": FieldKind(("percent",), 0, 60),
        "hourly": FieldKind(_AREA, 0.1, 50),
        "single_limit": FieldKind(_MASS, 1, 60),
        "cups": FieldKind(_MASS, 1, 2000),
        "reach": FieldKind(_LENGTH, 0, 2000),
        "height": FieldKind(_LENGTH, 0, 2500),
        "end_reach": FieldKind(_LENGTH, 0, 2000),
        "end_height": FieldKind(_LENGTH, 0, 2500),
        "turn": FieldKind(_BARE, 0, 180),
        "pace": FieldKind(_BARE, 0, 20),
        "duration": FieldKind(options=get_args(lifting.Duration)),
        "grip": FieldKind(options=get_args(lifting.Coupling)),
        "conditions": FieldKind(options=tuple(lifting.NOT_COVERED)),
    }
)
# A bound that went through another unit must still be believed.
_UNIT_DUST = 1e-9


def called(field: Field) -> Message:
    """What a field is called."""
    return message(f"assess-field-{field.replace('_', '-')}")


def unbelievable(field: Field, value: Quantity) -> Message | None:
    """Why a number is not taken for a field, None where it is.

    >>> unbelievable("depth", Quantity(Fraction(12), "mm")) is None
    True
    >>> print(unbelievable("depth", Quantity(Fraction(3), "m")))
    assess-unbelievable(value=3 m, least=1 mm, greatest=40 mm)
    """
    kind = FIELDS[field]
    if kind.least - _UNIT_DUST <= canonical(value) <= kind.greatest + _UNIT_DUST:
        return None
    least, greatest = (Quantity(Fraction(str(end)), kind.units[0]) for end in (kind.least, kind.greatest))
    return message("assess-unbelievable", value=value, least=least, greatest=greatest)


def read_value(field: Field, text: str) -> Value:
    """What somebody wrote for a field.

    Errors: `Refused` for a choice that there is not, or a number that cannot be right; `ValueError` for one that cannot
    be read.

    >>> read_value("reach", "12 in"), read_value("grip", "good")
    (Quantity(value=Fraction(12, 1), unit='in'), 'good')
    >>> sorted(read_value("conditions", "kneeling, one hand"))
    ['kneeling', 'one hand']
    """
    kind = FIELDS[field]
    if not kind.options:
        value = parse_quantity(text, kind.units[0] if kind.units[0] in _WITHOUT_UNIT else None)
        if dimension_of(value.unit) != dimension_of(kind.units[0]):
            raise Refused(message("assess-another-dimension", what=called(field), value=value, example=kind.units[0]))
        refusal = unbelievable(field, value)
        if refusal is not None:
            raise Refused(refusal)
        return value
    words = [word.strip() for word in text.split(",")] if field == "conditions" else [text.strip()]
    for word in words:
        if word not in kind.options:
            raise Refused(
                message("assess-no-such-choice", what=called(field), word=word, choices=Several(kind.options, "or"))
            )
    return frozenset(cast(list[lifting.Condition], words)) if field == "conditions" else words[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class Inputs:
    """All inputs of an area, each with where it comes from, and what of the plan nobody enters anew.

    depth, width, spacing, angle (degrees), skim: of the trowel and its bed; base: gap under a straightedge under one
    piece; least, most: bed of the mortar's data sheet; hourly: what is set in an hour; single_limit: what each may lift
    alone; cups: what the suction cups hold together; reach, height, end_reach, end_height: of the hands, where a piece
    is picked up and where it is set down; turn (degrees); pace: lifts a minute; conditions: of
    `lifting.NOT_COVERED`, those that hold; constants: the set of the lifting equation, of the plan's system, since the
    two are not conversions of each other; spans: of the mortar's data sheet; worst: how far the base may be off under
    one piece by its limit, and why; test_tiles: least number, and why; at_hand: the plan's notches.
    """

    name: str
    product: coverage.Product
    place: coverage.Place
    surface: coverage.Surface
    constants: lifting.Constants
    mortar_name: str
    marking: str
    slake: Quantity | None
    pot_life: Quantity
    open_time: Quantity
    worst: Quantity
    worst_basis: Message
    test_tiles: tuple[int, Figure | None]
    at_hand: Mapping[str, ridges.Notch]

    family: Given[ridges.Family]
    depth: Given[Quantity]
    width: Given[Quantity]
    spacing: Given[Quantity]
    angle: Given[Quantity]
    sides: Given[ridges.Sides]
    skim: Given[Quantity]
    setting: Given[Setting]
    length: Given[Quantity]
    breadth: Given[Quantity]
    thickness: Given[Quantity]
    warpage: Given[Quantity]
    weighed: Given[Quantity | None]
    base: Given[Quantity]
    mortar: Given[MortarKind]
    least: Given[Quantity | None]
    most: Given[Quantity | None]
    area: Given[Quantity]
    bag: Given[Quantity | None]
    bag_yield: Given[Quantity | None]
    water: Given[Quantity | None]
    waste: Given[Quantity]
    hourly: Given[Quantity | None]
    single_limit: Given[Quantity]
    cups: Given[Quantity | None]
    reach: Given[Quantity]
    height: Given[Quantity]
    end_reach: Given[Quantity]
    end_height: Given[Quantity]
    turn: Given[Quantity]
    pace: Given[Quantity]
    duration: Given[lifting.Duration]
    grip: Given[lifting.Coupling]
    conditions: Given[frozenset[lifting.Condition]]

    def given(self, field: Field) -> Given[Any]:
        """A field as it stands, for whoever lists them all."""
        found: Given[Any] = getattr(self, field)
        return found

    def known(self, field: NumberField) -> float | None:
        """A number in its canonical unit, None where it is not known."""
        value = self.given(field).value
        return None if value is None else canonical(value)

    def number(self, field: NumberField) -> float:
        """A number in its canonical unit. Errors: `Refused` where it is not known."""
        value = self.known(field)
        if value is None:
            raise Refused(message("assess-not-known", what=called(field)))
        return value

    def assumptions(self, *fields: Field) -> tuple[Assumption, ...]:
        """What is assumed for some of the fields, each once."""
        found = (self.given(field).assumption for field in fields)
        return tuple(dict.fromkeys(one for one in found if one is not None))

    @property
    def notch(self) -> ridges.Notch:
        """The trowel's notch. Errors: `ValueError` for one that cannot be."""
        return ridges.Notch(self.family.value, self.number("width"), self.number("depth"), self.number("spacing"))

    @property
    def limits(self) -> BedLimits:
        """The bed that the mortar allows. Errors: `ValueError` for limits that cross."""
        return bed_limits(
            self.mortar.value, data_sheet_least_mm=self.known("least"), data_sheet_greatest_mm=self.known("most")
        )

    @property
    def contact(self) -> coverage.Requirement:
        """The contact that the setting requires."""
        return coverage.required_contact(self.product, self.place, self.surface)

    @property
    def piece(self) -> tuple[float, float]:
        """The piece's two sides [mm]."""
        return self.number("length"), self.number("breadth")


def area_inputs(
    area: Area,
    constants: lifting.Constants,
    *,
    entries: Entries = MappingProxyType({}),
) -> Inputs:
    """The inputs of an area as it is planned, or as it stands.

    Parameters: area; constants, of the plan's system of units; entries, what somebody entered over all that.
    """

    def pick(field: Field, planned: Given[T]) -> Given[T]:
        return Given(cast(T, entries[field]), "entered") if field in entries else planned

    def sheet(field: Field, value: Quantity | None) -> Given[Quantity | None]:
        return pick(field, Given(value, "plan" if value is not None else "not known"))

    def guess(field: Field, assumption: Assumption) -> Given[Any]:
        return pick(field, Given(assumption.value, "assumed", assumption))

    plan, checklist, method = area.plan, area.checklist, area.method
    piece, data = plan.piece, plan.mortar
    tool: Origin = "plan" if method == plan.method else "in use"
    length, breadth = pick("length", Given(piece.length, "plan")), pick("breadth", Given(piece.width, "plan"))
    height = guess("height", assumed(f"{checklist.surface}-from"))
    end_height = guess("end_height", assumed(f"{checklist.surface}-to"))
    depth_of_load = min(canonical(length.value), canonical(breadth.value))

    def reach(name: str, at: Given[Quantity]) -> Assumption:
        out = lifting.horizontal_distance(depth_of_load, canonical(at.value), constants)
        return assumed(name, Quantity(Fraction(str(round(out, 6))), "mm"))

    worst, worst_basis = _worst(area)
    return Inputs(
        name=plan.name,
        product=piece.product,
        place=checklist.place,
        surface=checklist.surface,
        constants=constants,
        mortar_name=data.name,
        marking=data.marking,
        slake=data.slake,
        pot_life=data.pot_life,
        open_time=data.open_time,
        worst=worst,
        worst_basis=worst_basis,
        test_tiles=area.lifts_needed,
        at_hand={words: notch_of(one) for words, one in area.named_methods.items() if _can_be(one)},
        family=pick("family", Given(method.family, tool)),
        depth=pick("depth", Given(method.depth, tool)),
        width=pick("width", Given(method.width, tool)),
        spacing=pick("spacing", Given(method.spacing, tool)),
        angle=pick("angle", Given(Quantity(Fraction(str(method.angle)), "count"), tool)),
        sides=pick("sides", Given(method.sides, tool)),
        skim=pick("skim", _skim(method, tool)),
        setting=pick("setting", _seated(piece.product, method, tool)),
        length=length,
        breadth=breadth,
        thickness=pick("thickness", Given(piece.thickness, "plan")),
        warpage=_or_assumed(pick, "warpage", piece.warpage, "plan"),
        weighed=sheet("weighed", piece.weighed),
        base=_or_assumed(pick, "base", methods.base_gap(area), "measured"),
        mortar=pick("mortar", Given(data.kind, "plan")),
        least=sheet("least", data.least_bed),
        most=sheet("most", data.greatest_bed),
        area=pick("area", Given(plan.size, "plan")),
        bag=sheet("bag", data.bag),
        bag_yield=sheet("bag_yield", data.bag_yield),
        water=sheet("water", data.water_per_bag),
        waste=guess("waste", assumed("waste")),
        hourly=sheet("hourly", None),
        single_limit=guess("single_limit", assumed("single-limit")),
        cups=sheet("cups", None),
        reach=guess("reach", reach("reach", height)),
        height=height,
        end_reach=guess("end_reach", reach("end-reach", end_height)),
        end_height=end_height,
        turn=guess("turn", assumed("turn")),
        pace=guess("pace", assumed("pace")),
        duration=guess("duration", assumed("duration")),
        grip=guess("grip", assumed("grip")),
        conditions=pick("conditions", Given(frozenset(), "plan")),
    )


def _or_assumed(
    pick: Any, field: Literal["warpage", "base"], value: Quantity | None, origin: Origin
) -> Given[Quantity]:
    assumption = assumed(field)
    found: Given[Quantity] = pick(
        field, Given(value, origin) if value is not None else Given(assumption.value, "assumed", assumption)
    )
    return found


def _worst(area: Area) -> tuple[Quantity, Message]:
    """How far the base may be off under one piece by its limit, and why."""
    limit, short = rules.flatness_of(area.plan), rules.stands_on_short_span(area.plan)
    gap = limit.short_gap_mm if short and limit.short_gap_mm is not None else limit.gap_mm
    return Quantity(Fraction(str(gap)), "mm"), limit.basis.told


def _can_be(method: Method) -> bool:
    try:
        notch_of(method)
    except ValueError:
        return False
    return True


def _seated(product: coverage.Product, method: Method, origin: Origin) -> Given[Setting]:
    """How the ridges collapse: as the method says, and assumed of a panel of which it says nothing else."""
    how = methods.seated(product, method)
    if how == "vibrated" and method.seating != "vibrated":
        return Given(how, "assumed", assumed("vibrated"))
    return Given(how, origin)


def _skim(method: Method, origin: Origin) -> Given[Quantity]:
    """What the coat in the back adds: assumed where one is keyed in, nothing where none is."""
    found = assumed("skim")
    bare = Given(Quantity(Fraction(0), "mm"), origin)
    return Given(cast(Quantity, found.value), "assumed", found) if method.back == "keyed" else bare


def day_inputs(state: State, name: str, entries: Entries = MappingProxyType({})) -> Inputs:
    """The inputs of an area of the day: as it stands, or as it would begin.

    Errors: `KeyError` for an area or checklist that the day does not have.
    """
    plan = state.plan
    planned = plan.area(name) if plan is not None else None
    if plan is None or planned is None:
        raise KeyError(name)
    checklist = state.checklists[planned.checklist]
    area = state.areas.get(name) or Area(planned, checklist, planned.method, named_methods=plan.methods)
    return area_inputs(area, plan.units, entries=entries)


def entered(inputs: Inputs, field: Field, value: Value) -> dict[Field, Value]:
    """What changes when a field is entered: a square notch stays as wide as it is deep."""
    if field in ("width", "depth") and inputs.family.value == "square":
        return {"width": value, "depth": value}
    return {field: value}
