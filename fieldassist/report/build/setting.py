"""An area's setting: the plan's figures, who may carry a piece, what contact is required, what the bags say."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from math import floor
from typing import TYPE_CHECKING

from fieldassist.assess.contact import area_contact
from fieldassist.assess.handling import handling
from fieldassist.assess.inputs import area_inputs
from fieldassist.assess.mortar import bag_balance
from fieldassist.checklist.kinds.reading import JudgedBy
from fieldassist.checklist.plan import Method, Mortar
from fieldassist.checklist.rules import as_told, notch_of
from fieldassist.checklist.state import Area
from fieldassist.report.build.context import Context
from fieldassist.report.build.words import capital, ranges
from fieldassist.report.report_model import AreaContact, AreaStanding, BagCount, LiftLine, Need, SettingLine
from fieldassist.trade import coverage, ridges
from fieldassist.trade.message import Bound, Figure, Refused, Several, message
from fieldassist.trade.quantities import Quantity

if TYPE_CHECKING:
    from fieldassist.report.build.area import AreaBuilder


def bed_mm(method: Method) -> float | None:
    """Mortar that a method lays down [mm = L/m2]; None where that is out of reach of the computation."""
    try:
        return ridges.mortar_per_m2(notch_of(method), method.angle, sides=method.sides)
    except ValueError:
        return None


def _set_m2(area: AreaBuilder) -> float:
    return sum(made.place.face_m2 for _, made in area.settings)


def facts(area: AreaBuilder) -> Iterator[SettingLine]:
    """The plan's figures."""
    plan, words = area.plan, area.context.words
    piece, sheet = plan.piece, plan.mortar
    setting = plan.trial or area.checklist
    place = "exterior" if setting.place == "exterior" else f"interior, {setting.place}"
    yield SettingLine("Place", f"{plan.where} ({place} {setting.surface})")
    if plan.trial is None:
        yield SettingLine("Surface to set", words(plan.size))
    kind = f"{capital(piece.product)}, {'rectified' if piece.rectified else 'not rectified'}"
    warpage = f", warpage {words(piece.warpage)}" if piece.warpage else ""
    yield SettingLine("Product", kind + warpage)
    yield SettingLine("Size and thickness", f"{words.size(piece.length, piece.width)}, {words(piece.thickness)} thick")
    yield from _carrying(area)
    yield SettingLine("Joint", words(plan.joint) if plan.joint else "not stated in the plan")
    bed = _bed(sheet, words)
    marking = f", {sheet.marking}" if sheet.marking else ""
    mortar = words(message(f"assess-option-mortar-{sheet.kind}"))
    yield SettingLine(
        "Mortar",
        f"{sheet.name} ({mortar}{marking}); pot life {words(sheet.pot_life)}, open time {words(sheet.open_time)}"
        + (f"; bed {bed}" if bed else ""),
    )
    if plan.trial is None:
        yield SettingLine("Method at the start", capital(words.method(plan.method)))


def _bed(sheet: Mortar, words: Callable[[Figure], str]) -> str:
    """The limits of the data sheet, each rounded to the side on which it still holds; "" without any."""
    least = f"at least {words(Bound(sheet.least_bed, 'at least'))}" if sheet.least_bed else ""
    most = f"at most {words(Bound(sheet.greatest_bed, 'at most'))}" if sheet.greatest_bed else ""
    return " and ".join(end for end in (least, most) if end)


def _carrying(area: AreaBuilder) -> Iterator[SettingLine]:
    """What a piece weighs and who may carry it, as it is planned."""
    context, words = area.context, area.context.words
    planned = Area(area.plan, area.checklist, area.plan.method)
    try:
        # By the plan's own system, whatever the document's: the answer is one.
        found = handling(area_inputs(planned, context.plan.units))
    except Refused as error:
        yield SettingLine("Weight of one piece", f"not computed: {words.sentence(error.told)}")
        return
    weighed = area.plan.piece.weighed
    if weighed is not None:
        yield SettingLine("Weight of one piece", f"{words(weighed)}, weighed")
    else:
        weight = words(Quantity(Fraction(repr(found.weight_kg)), "kg"))
        yield SettingLine("Weight of one piece", f"{weight}, computed", context.ref(found.weight_basis))
    yield SettingLine("Who may carry one", words(found.told), context.ref(found.basis))
    assumed = Several(tuple(one.told for one in found.assumed), "sentences")
    yield SettingLine("Assumed for carrying it", words(assumed))


# --- contact ------------------------------------------------------------------------------------------------------


def _void(need: coverage.Requirement) -> Bound | None:
    """The largest void allowed, in the unit that is read off a lifted tile: cm² or in²."""
    if need.largest_void_mm2 is None:
        return None
    return Bound(Quantity(Fraction(repr(need.largest_void_mm2)) / 100, "cm2"), "at most")


def need(context: Context, required: coverage.Requirement | None) -> Need | None:
    """What the setting requires of each lifted tile, and of the area."""
    if required is None:
        return None
    void = _void(required)
    return Need(
        minimum=required.minimum_percent,
        contact=context.words(Bound(_percent(required.minimum_percent), "at least")),
        void=context.words(void) if void is not None else "",
        corners=required.corners,
        least_lifts=required.least_lifts,
        ref=context.ref(required.basis) or 0,
        void_ref=context.ref(required.void_basis) if void is not None else None,
        notes=tuple(context.words.sentence(note) for note in required.notes),
    )


def contact(
    context: Context, lifts: Sequence[LiftLine], required: coverage.Requirement | None, standing: AreaStanding
) -> AreaContact | None:
    """The area by the test tiles that stand, and by the tiles that they leave open; None where the checklist lifts
    none."""
    found = area_contact(((x.tile, x.contact, x.verdict) for x in lifts if not x.withdrawn), required)
    if found is None or required is None:
        return None
    told = ""
    if found.mean is not None and found.worst is not None:
        least = JudgedBy(
            rule="", at_least=_percent(required.minimum_percent).value, unit="percent", basis=as_told(required.basis)
        )
        # A mean is told to the hundredth below, so that it lies on the same side of the requirement.
        mean, worst = (
            context.words.beside(_percent(value), least).read for value in (floor(found.mean * 100) / 100, found.worst)
        )
        told = f"mean {mean}, worst {worst}"
    reasons = tuple(context.words.sentence(reason) for reason in found.reasons)
    left = (*standing.suspect, *standing.failed)
    outcome = found.outcome
    if left:
        outcome, reasons = "failed", (*reasons, f"suspect or failed and in place: {ranges(sorted(left))}")
    elif standing.not_covered:
        outcome = "failed" if outcome == "failed" else "not complete"
        reasons = (*reasons, f"not yet covered: {ranges(standing.not_covered)}")
    return AreaContact(outcome, found.lifts, found.worst, told, reasons)


def _percent(value: float) -> Quantity:
    # A mean of readings has more places than any reading.
    return Quantity(Fraction(repr(round(value, 6))), "percent")


# --- the other system of units ------------------------------------------------------------------------------------


def in_other_units(area: AreaBuilder, required: coverage.Requirement | None) -> str:
    """The area's key figures in the other system of units, for whoever measures with the other tape."""
    plan, words = area.plan, area.context.words
    piece, sheet, other = plan.piece, plan.mortar, area.context.words.in_other_units
    size = words.size(piece.length, piece.width, other=True)
    notch = words.size(area.method.width, area.method.depth, other=True)
    told = [f"piece {size}, {other(piece.thickness)} thick"]
    if plan.trial is None:
        told.append(f"surface {other(plan.size)}")
    if plan.joint:
        told.append(f"joint {other(plan.joint)}")
    if plan.trial is None:
        told.append(f"notch {notch}")
    bed = _bed(sheet, other)
    if bed:
        told.append(f"bed {bed}")
    void = _void(required) if required is not None else None
    if void is not None:
        told.append(f"void at most {other(void)}")
    return "; ".join(told)


# --- bags ---------------------------------------------------------------------------------------------------------


def bags(area: AreaBuilder, stands: Area) -> BagCount | None:
    """The bags said to be used beside those that the tiles set should have taken. stands: what the area's events come
    to, which tells with which method each tile was set."""
    if area.bags is None:
        return None
    context, words = area.context, area.context.words
    event, called = area.bags
    beds = [bed_mm(stands.methods_used[made.method]) for _, made in area.settings]
    found = bag_balance(float(called.value), area.plan.mortar, _set_m2(area), beds)
    said = BagCount(event.seq, context.time(event), context.who(event), found.used, None, "", "", "", None)
    if found.missing is not None:
        return replace(said, reason=words(found.missing))
    return replace(
        said,
        predicted=found.predicted,
        verdict=found.verdict,
        reason=words.sentence(found.reason),
        rests_on=words(found.rests_on),
        ref=context.ref(found.basis),
    )
