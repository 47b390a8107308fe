"""A site's plan, an area or a mortar while it is entered: what stands in its fields, and what its own model finds wrong
in them. What is entered is kept as a file would have it, so that it may be half done."""

from __future__ import annotations

import copy
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import Any, Literal

from pydantic import BaseModel, ValidationError

from fieldassist.checklist.fields import write_quantity
from fieldassist.checklist.mistakes import mistakes
from fieldassist.checklist.plan import AreaPlan, DayPlan, Mortar, Role
from fieldassist.checklist.schema import Checklist
from fieldassist.trade.message import Figure, Message, message
from fieldassist.trade.quantities import Quantity, Units, convert_exact, parse_quantity
from fieldassist.trade.ridges import COMMON_NOTCHES
from fieldassist.ui.content.laying_out import LayoutDraft, draft_of, laid

At = tuple[str | int, ...]
Asks = Literal["words", "number", "choice"]

# What a wall measures, beside the fields of a plan: its grid is laid out from that.
ACROSS, UP = "across", "up"
_BESIDE = (ACROSS, UP)
# Notches that are offered, the usual ones of a crew. Ours.
NOTCHES = (
    "quarter inch square",
    "three eighths square",
    "half inch square",
    "quarter by three eighths U",
    "half inch slanted",
    "half inch ridge-collapse",
    "three quarter half-round",
    "eight millimeter square",
    "ten millimeter square",
    "twelve millimeter square",
)
_FIRST_NOTCH = "half inch square"


@dataclass(frozen=True, slots=True)
class FieldAsked:
    """A field that is entered. at: the way to it; name: what it is called, as the end of a message's code; units: of a
    number, the usual one first, "count" for a bare one; options: to choose from; needed: nothing goes without it."""

    at: At
    name: str
    asks: Asks
    units: tuple[str, ...] = ()
    options: tuple[str, ...] = ()
    needed: bool = True


@dataclass(frozen=True)
class PlanDraft:
    """What stands in the fields so far. model: what it is to become."""

    model: type[BaseModel]
    fields: Mapping[str, Any] = field(default_factory=dict)

    def get(self, *at: str | int) -> Any:
        """What stands in a field; None where nothing does."""
        found: Any = self.fields
        for part in at:
            try:
                found = found[part]
            except (KeyError, IndexError, TypeError):
                return None
        return found

    def put(self, value: Any, *at: str | int) -> PlanDraft:
        """With another value in a field; None takes it out. Behind the last of a list one more is put."""
        fields = copy.deepcopy(dict(self.fields))
        place: Any = fields
        for part in at[:-1]:
            place = place.setdefault(part, {}) if isinstance(place, dict) else place[part]
        last = at[-1]
        if isinstance(place, list):
            assert isinstance(last, int)
            place[last : last + 1] = [] if value is None else [value]
        elif value is None:
            place.pop(last, None)
        else:
            place[last] = value
        return PlanDraft(self.model, fields)

    @property
    def done(self) -> Any:
        """The plan, area or mortar; None while something is wrong."""
        try:
            return self.model.model_validate(_plain(self.fields))
        except ValidationError:
            return None

    @property
    def wrong(self) -> Mapping[At, Figure]:
        """What is wrong, by the way to its field; a field that lacks alone is not told, it is seen."""
        return {at: wrong for at, wrong in self._mistakes().items() if not _lacks(wrong)}

    @property
    def lacking(self) -> tuple[At, ...]:
        """The fields that nothing stands in and something must."""
        return tuple(at for at, wrong in self._mistakes().items() if _lacks(wrong))

    def _mistakes(self) -> dict[At, Figure]:
        try:
            self.model.model_validate(_plain(self.fields))
        except ValidationError as error:
            found: dict[At, Figure] = {}
            for mistake in mistakes(error, self.model):
                found.setdefault(mistake.at, mistake.wrong)
            return found
        return {}


def _lacks(wrong: Figure) -> bool:
    return isinstance(wrong, Message) and wrong.code in ("file-field-missing", "file-too-few", "file-too-short")


def _plain(value: Any) -> Any:
    """Without what stands beside the plan's own fields."""
    if isinstance(value, Mapping):
        return {key: _plain(one) for key, one in value.items() if key not in _BESIDE}
    if isinstance(value, list | tuple):
        return tuple(_plain(one) for one in value)
    return value


# --- a plan -------------------------------------------------------------------------------------------------------


def new_site(date: str, units: Units) -> PlanDraft:
    """A site of which nothing is known yet but the day."""
    return PlanDraft(DayPlan, {"date": date, "units": units, "crew": [], "areas": []})


def site_of(plan: DayPlan, date: str) -> PlanDraft:
    """A plan to go on from, on another day or on the same one."""
    return PlanDraft(DayPlan, {**plan.model_dump(mode="json", exclude_defaults=True), "date": date})


def with_new_person(draft: PlanDraft) -> tuple[PlanDraft, int]:
    """One more of the crew, still without a name; the first is the foreman. And which it is."""
    crew = list(draft.get("crew") or ())
    role = Role.INSTALLER if any(one.get("role") == Role.FOREMAN.value for one in crew) else Role.FOREMAN
    return draft.put([*crew, {"role": role.value}], "crew"), len(crew)


def with_new_area(draft: PlanDraft) -> tuple[PlanDraft, int]:
    """One more area, still without a name; what it is made of is what the last one is made of. And which it is."""
    areas = list(draft.get("areas") or ())
    begun: dict[str, Any] = {"method": method_fields(_FIRST_NOTCH)}
    set_ones = [area for area in areas if not area.get("trial")]
    if set_ones:
        last = copy.deepcopy(set_ones[-1])
        begun = {key: last[key] for key in ("checklist", "piece", "mortar", "method", "joint") if key in last}
    return draft.put([*areas, begun], "areas"), len(areas)


def entered_on(draft: PlanDraft, index: int) -> str:
    """The screen on which an area is entered: methods are tried in some, and work is set in the others."""
    return "trial design" if draft.get("areas", index, "trial") is not None else "site"


def without(draft: PlanDraft, *at: str | int) -> PlanDraft:
    """Without one of the crew, or one area."""
    return draft.put(None, *at)


def method_fields(name: str) -> dict[str, Any]:
    """A method with one of the usual notches, as a file has it."""
    notch = COMMON_NOTCHES[name]

    def written(mm: float) -> str:
        inches = Fraction(mm).limit_denominator(10_000) / Fraction(254, 10)
        whole = inches.limit_denominator(32)
        exact = abs(float(whole) * 25.4 - mm) < 1e-6
        return f"{whole} in" if exact else f"{mm:g} mm"

    return {
        "family": notch.family,
        "width": written(notch.width_mm),
        "depth": written(notch.depth_mm),
        "spacing": written(notch.spacing_mm),
        "angle": 60.0,
    }


def notch_name(fields: Mapping[str, Any] | None) -> str | None:
    """Which of the offered notches a method has; None where it is another one."""
    parts = ("width", "depth", "spacing")
    for name in NOTCHES:
        own = method_fields(name)
        alike = fields is not None and fields.get("family") == own["family"]
        # Sizes may be written in more than one way: 1/2 in, 0.5 in.
        if alike and all(_mm((fields or {}).get(part)) == _mm(own[part]) for part in parts):
            return name
    return None


def lengths(units: Units) -> tuple[str, ...]:
    """The units of what a piece measures, the usual one first."""
    return ("in", "mm") if units == "us" else ("mm", "in")


def _spans(units: Units) -> tuple[str, ...]:
    return ("ft", "in", "m", "mm") if units == "us" else ("mm", "m", "ft", "in")


def site_fields() -> tuple[FieldAsked, ...]:
    """Of the site itself."""
    return (
        FieldAsked(("site",), "site", "words"),
        FieldAsked(("address",), "address", "words", needed=False),
        FieldAsked(("owner",), "owner", "words", needed=False),
    )


def person_fields(index: int, *, by_day: bool = False) -> tuple[FieldAsked, ...]:
    """Of one of the crew. by_day: the day runs, and nobody who releases comes to it any more."""
    at: At = ("crew", index)
    roles = tuple(role.value for role in Role if not (by_day and role is Role.FOREMAN))
    return (FieldAsked((*at, "name"), "name", "words"), FieldAsked((*at, "role"), "role", "choice", options=roles))


def area_fields(index: int, units: Units, checklists: Mapping[str, Checklist]) -> tuple[FieldAsked, ...]:
    """Of one area, without its mortar, which is taken from the tablet's list."""
    at: At = ("areas", index)
    return (
        FieldAsked((*at, "name"), "area", "words"),
        FieldAsked((*at, "where"), "where", "words"),
        FieldAsked((*at, "checklist"), "checklist", "choice", options=_set_with(checklists)),
        FieldAsked((*at, "piece", "length"), "length", "number", lengths(units)),
        FieldAsked((*at, "piece", "width"), "width", "number", lengths(units)),
        FieldAsked((*at, "piece", "thickness"), "thickness", "number", lengths(units)),
        FieldAsked((*at, ACROSS), "across", "number", _spans(units)),
        FieldAsked((*at, UP), "up", "number", _spans(units)),
        FieldAsked((*at, "joint"), "joint", "number", lengths(units), needed=False),
        FieldAsked((*at, "method"), "notch", "choice", options=NOTCHES),
    )


def _set_with(checklists: Mapping[str, Checklist]) -> tuple[str, ...]:
    """The checklists by which work is set: not those by which methods are tried."""
    return tuple(sorted(name for name, each in checklists.items() if each.trying is None))


def put_in_area(
    draft: PlanDraft, index: int, asked: FieldAsked, value: Any, checklists: Mapping[str, Checklist]
) -> PlanDraft:
    """A field of an area, with what follows from it: a checklist brings the kind of piece, a notch the whole method,
    and the wall's width and height the grid and the surface. Refused where they come to no wall."""
    at: At = ("areas", index)
    if asked.name == "notch":
        sides = {part: draft.get(*at, "method", part) for part in ("sides", "back", "movement", "seating")}
        return draft.put(method_fields(value) | {k: v for k, v in sides.items() if v is not None}, *asked.at)
    before = area_draft(draft, index).done
    draft = draft.put(value, *asked.at)
    if asked.name == "checklist":
        products = checklists[value].products
        if draft.get(*at, "piece", "product") not in products:
            draft = draft.put(products[0], *at, "piece", "product")
    if asked.at[-1] in (ACROSS, UP, "joint") or "piece" in asked.at:
        draft = _laid_out(draft, index, before)
    return draft


def _laid_out(draft: PlanDraft, index: int, before: AreaPlan | None) -> PlanDraft:
    """With the grid that its sizes come to; start, cuts and niches stay as they were laid out before."""
    at: At = ("areas", index)
    across, up, joint = (_mm(draft.get(*at, name)) for name in (ACROSS, UP, "joint"))
    long, wide = (_mm(draft.get(*at, "piece", name)) for name in ("length", "width"))
    was = draft_of(before) if before is not None and before.grid is not None else None
    if was is not None:
        across, up = across or was.across_mm, up or was.up_mm
    if not across or not up or long is None or wide is None:
        return draft
    if was is not None:
        wall = replace(was, across_mm=across, up_mm=up, length_mm=long, width_mm=wide, joint_mm=joint or Fraction(0))
    else:
        panel = draft.get(*at, "piece", "product") == "gauged panel"
        wall = LayoutDraft(across, up, long, wide, joint or Fraction(0), "upright" if panel else "level")
    for name, value in laid(wall).changes.items():
        draft = draft.put(value, *at, name)
    return draft


def laid_out_as(draft: PlanDraft, index: int, area: AreaPlan) -> PlanDraft:
    """With the layout of this area: its grid, cuts and niches."""
    fields = area.model_dump(mode="json", exclude_defaults=True)
    return draft.put(fields, "areas", index)


def _mm(written: Any) -> Fraction | None:
    if not isinstance(written, str):
        return None
    given = parse_quantity(written)
    return convert_exact(given.value, given.unit, "mm")


def area_draft(draft: PlanDraft, index: int) -> PlanDraft:
    """One area by itself."""
    return PlanDraft(AreaPlan, draft.get("areas", index) or {})


# --- a mortar -----------------------------------------------------------------------------------------------------


def mortar_fields(units: Units) -> tuple[FieldAsked, ...]:
    """What is read off a mortar's data sheet."""
    us = units == "us"
    degrees = ("degF", "degC") if us else ("degC", "degF")
    litres = ("gal", "L") if us else ("L", "gal")
    return (
        FieldAsked(("name",), "mortar-name", "words"),
        FieldAsked(("kind",), "mortar-kind", "choice", options=("thin-set", "large-and-heavy-tile")),
        FieldAsked(("open_time",), "open-time", "number", ("min",)),
        FieldAsked(("pot_life",), "pot-life", "number", ("min",)),
        FieldAsked(("slake",), "slake", "number", ("min",), needed=False),
        FieldAsked(("marking",), "marking", "words", needed=False),
        FieldAsked(("least_bed",), "least-bed", "number", lengths(units), needed=False),
        FieldAsked(("greatest_bed",), "greatest-bed", "number", lengths(units), needed=False),
        FieldAsked(("coldest",), "coldest", "number", degrees, needed=False),
        FieldAsked(("hottest",), "hottest", "number", degrees, needed=False),
        FieldAsked(("bag",), "bag", "number", ("lb", "kg") if us else ("kg", "lb"), needed=False),
        FieldAsked(("bag_yield",), "bag-yield", "number", litres, needed=False),
        FieldAsked(("water_per_bag",), "water", "number", litres, needed=False),
    )


def mortar_of(mortar: Mortar | None) -> PlanDraft:
    """A data sheet to go on from; a new one is of mortar for large and heavy tile."""
    if mortar is None:
        return PlanDraft(Mortar, {"kind": "large-and-heavy-tile"})
    return PlanDraft(Mortar, mortar.model_dump(mode="json", exclude_defaults=True))


# --- what a field shows -------------------------------------------------------------------------------------------


def shown(draft: PlanDraft, asked: FieldAsked, checklists: Mapping[str, Checklist]) -> Figure | None:
    """What stands in a field, to be told; None where nothing does."""
    value = draft.get(*asked.at)
    if value is None and asked.at[-1] in _BESIDE:
        value = _as_laid_out(draft, asked)
    if value in (None, "", {}):
        return None
    if asked.name == "notch":
        return notch_told(value)
    if asked.name == "checklist":
        return checklists[value].title if value in checklists else str(value)
    if asked.asks == "choice":
        return message("site-option", option=str(value))
    if asked.asks == "number":
        return parse_quantity(value)
    return str(value)


def _as_laid_out(draft: PlanDraft, asked: FieldAsked) -> str | None:
    """How wide or high a wall is that was laid out before."""
    area = area_draft(draft, int(asked.at[1])).done
    if not isinstance(area, AreaPlan) or area.grid is None:
        return None
    return write_quantity(Quantity(area.outer_mm[0 if asked.at[-1] == ACROSS else 1], "mm"))


def option_told(asked: FieldAsked, option: str, checklists: Mapping[str, Checklist]) -> Figure:
    """One of the options of a field, to be told."""
    if asked.name == "notch":
        return notch_told(method_fields(option))
    if asked.name == "checklist":
        return checklists[option].title
    return message("site-option", option=option)


def notch_told(fields: Mapping[str, Any]) -> Message:
    """A method's notch by its size and shape."""
    return message(
        "site-notch",
        width=parse_quantity(fields["width"]),
        depth=parse_quantity(fields["depth"]),
        family=fields["family"].lower(),
    )


def written(value: Fraction, unit: str) -> str:
    """A number as it stands in a field."""
    return write_quantity(Quantity(value, unit))


def first_wrong(draft: PlanDraft) -> Figure | None:
    """What is told to somebody who wants to go on: what is wrong, or what lacks; None where nothing does."""
    wrong = draft.wrong
    if wrong:
        return next(iter(wrong.values()))
    if draft.lacking:
        return message("site-lacks", field=str(draft.lacking[0][-1]), what=str(draft.lacking[0][0]))
    return None
