"""What an area is set with, as facts: piece, mortar, what is required of each lift, bags, and who may carry a piece."""

from __future__ import annotations

from collections.abc import Iterable

from fieldassist.assess.contact import required_contact
from fieldassist.assess.handling import handling
from fieldassist.assess.inputs import area_inputs
from fieldassist.checklist import bags, rules
from fieldassist.checklist.fields import canonical
from fieldassist.checklist.plan import AreaPlan
from fieldassist.checklist.state import Area
from fieldassist.facts import model
from fieldassist.facts.figures import rounded, rounded_if_known
from fieldassist.facts.limits import required_ids
from fieldassist.facts.telling import Tell
from fieldassist.trade import lifting
from fieldassist.trade.basis import SECOND_HAND, OutOfRange
from fieldassist.trade.message import Refused
from fieldassist.trade.quantities import Units


def piece_fact(plan: AreaPlan) -> model.PieceFact:
    """The tile or panel of an area."""
    piece = plan.piece
    try:
        weight = lifting.piece_weight(
            canonical(piece.length),
            canonical(piece.width),
            canonical(piece.thickness),
            weighed_kg=rounded_if_known(piece.weighed),
        ).kg
    except OutOfRange:
        weight = None
    return model.PieceFact(
        product=piece.product,
        length_mm=rounded(piece.length),
        width_mm=rounded(piece.width),
        thickness_mm=rounded(piece.thickness),
        kg=None if weight is None else round(weight, 6),
        weighed=piece.weighed is not None,
        rectified=piece.rectified,
    )


def mortar_fact(area: Area, told: Tell) -> model.MortarFact:
    """The mortar of an area."""
    sheet, allowed = area.plan.mortar, rules.bed_limits_of(area.facts)
    litres = [None if one is None else canonical(one) for one in (sheet.bag_yield, sheet.water_per_bag)]
    return model.MortarFact(
        name=sheet.name,
        kind=sheet.kind,
        marking=sheet.marking,
        pot_life_min=rounded(sheet.pot_life),
        open_time_min=rounded(sheet.open_time),
        slake_min=rounded_if_known(sheet.slake),
        least_bed_mm=round(allowed.minimum_mm, 6),
        greatest_bed_mm=round(allowed.maximum_mm, 6),
        bed_basis=told(allowed.basis.told),
        bag_kg=rounded_if_known(sheet.bag),
        bag_yield_l=litres[0],
        water_per_bag_l=litres[1],
    )


def required_fact(area: Area, asked: Iterable[float]) -> model.RequiredFact | None:
    """What each lifted tile must show; None where the checklist lifts none. asked: contact of each lift [percent]."""
    need = required_contact(area.plan.piece.product, area.checklist, asked)
    if need is None or area.plan.trial is not None:
        return None
    sources = dict.fromkeys((need.basis, *([need.void_basis] if need.void_basis is not None else [])))
    return model.RequiredFact(
        percent=need.minimum_percent,
        void_mm2=need.largest_void_mm2,
        corners=need.corners,
        edges=need.edge_clear_mm is not None,
        least_lifts=need.least_lifts,
        limits=required_ids(area),
        second_hand=any(basis.standing in SECOND_HAND for basis in sources),
    )


def bags_fact(area: Area) -> model.BagsFact | None:
    """Bags against the bed; None where nobody counted, or the plan does not tell enough."""
    found = bags.balance(area)
    if found is None:
        return None
    return model.BagsFact(
        used=float(found.used),
        predicted=round(found.predicted, 6),
        verdict=found.verdict,
        bed_mm=round(found.bed_mm, 6),
        implied_bed_mm=None if found.implied_bed_mm is None else round(found.implied_bed_mm, 6),
        tolerance_mm=None if found.tolerance_mm is None else round(found.tolerance_mm, 6),
        event=found.seq or None,
    )


def handling_fact(area: Area, units: Units, told: Tell) -> model.HandlingFact:
    """Who may carry a piece, as it is planned. units: of the plan, whose constants the answer rests on."""
    planned = Area(area.plan, area.checklist, area.plan.method)
    try:
        found = handling(area_inputs(planned, units))
    except Refused as refused:
        return model.HandlingFact(people=None, together_kg=None, told=told(refused.told))
    return model.HandlingFact(people=found.people, together_kg=found.together_kg, told=told(found.told))
