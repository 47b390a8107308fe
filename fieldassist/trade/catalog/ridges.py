"""Entries on notched trowels."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

from fieldassist.trade import ridges
from fieldassist.trade.basis import BASES, PRACTICE, OutOfRange
from fieldassist.trade.catalog.model import Calculation, Input, ResultRow, Values
from fieldassist.trade.catalog.results import at_least, verdict_row
from fieldassist.trade.catalog.shared import (
    MORTAR_INPUTS,
    NOTCH_INPUTS,
    NOTCH_REFUSALS,
    OWN_NOTCH,
    asking,
    bed_word,
    notch_of,
)
from fieldassist.trade.catalog.shared import bed_limits as limits_of
from fieldassist.trade.message import Several, message

_in = asking("ridges")
_GEOMETRY, _VOLUME = BASES["geometry"], BASES["volume"]
_MOST_POINTS = 360

_ANGLE = _in("trowel-angle", "angle", "60", f"{ridges.FIELD_ANGLE:g}")
_PASS = (_ANGLE, _in("filling", "number", "0.9", f"{ridges.DEFAULT_FILLING:g}"))
_SIDES = _in("sides", "choice", "both", "one", choices=("one", "both"))
_BACK_NOTCH = _in("back-notch", "choice", "quarter inch square", optional=True, choices=tuple(ridges.COMMON_NOTCHES))
_SKIM = _in("skim", "length", "0.5 mm", "0 mm")
_COMB = (_SIDES, _BACK_NOTCH, _SKIM)
_PROFILE = _in("back-profile", "length", "0.3 mm", "0 mm")
_DIRECTION = _in("direction", "choice", "parallel", "parallel", choices=("parallel", "crossed"))
_COMB_REFUSALS = (
    *NOTCH_REFUSALS,
    "ridges-back-notch-without-back",
    "ridges-crossed",
    "ridges-profile-takes-all",
)


def _combing(values: Values) -> dict[str, Any]:
    back = values["back-notch"]
    return {"back_notch": None if back is None else ridges.COMMON_NOTCHES[back], "skim_mm": values["skim"]}


def _ridges(values: Values) -> Iterable[ResultRow]:
    notch = notch_of(values)
    left = ridges.ridge(notch, values["trowel-angle"], values["filling"])
    return [
        ResultRow("ridge section", left.section_mm2, "mm2", left.basis),
        ResultRow("ridge height", left.height_mm, "mm", left.basis),
        ResultRow("pitch", left.pitch_mm, "mm", left.basis),
        ResultRow("ridges per length", left.per_m, "1/m", left.basis),
        ResultRow("mortar per area", left.volume_l_per_m2, "L/m2", left.basis),
        ResultRow("bed after full collapse", left.bed_mm, "mm", left.basis),
        ResultRow("notch section", ridges.notch_area(notch), "mm2"),
        ResultRow("pitch of the trowel", notch.pitch_mm, "mm"),
        ResultRow("ridges lean", notch.leans),
    ]


def _outline(values: Values) -> Iterable[ResultRow]:
    if values["points"] > _MOST_POINTS:
        raise OutOfRange(message("ridges-too-many-points", points=values["points"], most=_MOST_POINTS))
    for number, (x, y) in enumerate(ridges.outline(notch_of(values), values["points"]), start=1):
        along, into = (message(f"ridges-out-corner-{way}", number=number) for way in ("along", "into"))
        yield ResultRow(f"corner {number} along the edge", x, "mm", label=along)
        yield ResultRow(f"corner {number} into the trowel", y, "mm", label=into)


def _bed(values: Values) -> Iterable[ResultRow]:
    shared = {"sides": values["sides"], "direction": values["direction"], **_combing(values)}
    notch, angle, filling = notch_of(values), values["trowel-angle"], values["filling"]
    bed = ridges.bed_after_collapse(notch, angle, filling, back_profile_mm=values["back-profile"], **shared)
    return [
        ResultRow("bed after full collapse", bed, "mm"),
        ResultRow("mortar per area", ridges.mortar_per_m2(notch, angle, filling, **shared), "L/m2"),
    ]


def _slide(values: Values) -> Iterable[ResultRow]:
    slide = ridges.slide_distance(notch_of(values))
    return [
        at_least("travel", slide.mm, "mm", slide.basis),
        at_least("stroke", slide.out_mm, "mm", slide.basis),
        ResultRow("one way only", slide.one_way, basis=slide.basis),
        ResultRow("instruction", slide.instruction, basis=slide.basis),
        ResultRow("note", slide.note, basis=slide.basis),
    ]


def _air_path(values: Values) -> Iterable[ResultRow]:
    air = ridges.air_path(values["tile"][0], values["tile"][1], values["comb-angle"])
    return [
        ResultRow("longest valley", air.longest_mm, "mm", air.basis),
        ResultRow("farthest way out", air.escape_mm, "mm", air.basis),
        ResultRow("the short way", air.shortest_choice_mm, "mm", air.basis),
        ResultRow("times longer than it need be", air.times_longer, basis=air.basis),
        ResultRow("advice", air.advice, basis=air.basis),
    ]


def _two_sided(values: Values) -> Iterable[ResultRow]:
    notch, angle, filling = notch_of(values), values["trowel-angle"], values["filling"]
    shared = {"direction": values["direction"], "back_profile_mm": values["back-profile"], **_combing(values)}
    judged = ridges.two_sided_combing(notch, limits_of(values), angle, filling, **shared)
    bed = ridges.bed_after_collapse(notch, angle, filling, sides="both", **shared)
    return [
        verdict_row(judged.passed, basis=judged.basis),
        ResultRow("bed", judged.verdict, basis=judged.basis, told=bed_word(judged.verdict)),
        ResultRow("reason", judged.reason, basis=judged.basis),
        ResultRow("bed after full collapse", bed, "mm"),
    ]


def _effort(values: Values) -> Iterable[ResultRow]:
    effort = ridges.collapse_effort(notch_of(values), values["trowel-angle"])
    return [
        ResultRow("effort, as the height of a square ridge", effort, "mm"),
        ResultRow("most by hand", ridges.HAND_COLLAPSE_LIMIT_MM, "mm"),
        ResultRow("collapses by hand", effort <= ridges.HAND_COLLAPSE_LIMIT_MM),
    ]


def _notch_advice(values: Values) -> Iterable[ResultRow]:
    own = [name for name in OWN_NOTCH if values[name] is not None]
    notches: Mapping[str, ridges.Notch] = (
        {values["notch"] or "your notch": notch_of(values)} if own or values["notch"] else ridges.COMMON_NOTCHES
    )
    limits = limits_of(values)
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
    )
    yield verdict_row(ranked[0].works, basis=limits.basis)
    for rank, advice in enumerate(ranked, start=1):
        yield from _advised(rank, advice, limits.basis)
    best = ranked[0]
    if best.works:
        yield ResultRow("slide with the first", best.slide.instruction, basis=best.slide.basis)
    if best.air is not None:
        yield ResultRow("way of the air", best.air.advice, basis=best.air.basis)


def _advised(rank: int, advice: ridges.Advice, basis: Any) -> Iterable[ResultRow]:
    name = f"{rank}. {advice.name}, {advice.sides} {'side' if advice.sides == 'one' else 'sides'}"
    label = message("ridges-out-method", rank=rank, notch=advice.name, sides=advice.sides)
    # What is near a limit says so itself.
    code = "ridges-near" if advice.left_mm is not None else "ridges-works" if advice.works else "ridges-fails"
    yield ResultRow(name, message(code, reasons=Several(advice.reasons, "clauses")), basis=basis, label=label)
    figures: tuple[tuple[str, float | bool, str, Any], ...] = (
        ("works", advice.works, "", basis),
        ("bed", advice.bed_mm, "mm", _GEOMETRY),
        ("greatest contact", advice.greatest_contact_percent, "percent", _VOLUME),
    )
    for what, value, unit, source in figures:
        label = message(f"ridges-out-ranked-{what.replace(' ', '-')}", rank=rank)
        yield ResultRow(f"{rank}. {what}", value, unit, source, label=label, detail=True)


def _filling(values: Values) -> Iterable[ResultRow]:
    shared = {"sides": values["sides"], **_combing(values)}
    found = ridges.calibrated_filling(values["implied-bed"], notch_of(values), values["trowel-angle"], **shared)
    return [ResultRow("filling factor", found.factor, basis=found.basis)]


def _not_of_the_example(spec: Input) -> Input:
    return replace(spec, shown=False)


ENTRIES = (
    Calculation(
        "ridges",
        "ridges",
        (*NOTCH_INPUTS, *_PASS),
        _ridges,
        (ridges.ridge, ridges.notch_area, ridges.notch_at_pitch),
        _GEOMETRY,
        refuses=NOTCH_REFUSALS,
    ),
    Calculation(
        "notch-outline",
        "ridges",
        (*NOTCH_INPUTS, _in("points", "count", "6", "8")),
        _outline,
        (ridges.outline,),
        _GEOMETRY,
        refuses=(*NOTCH_REFUSALS, "ridges-too-few-points", "ridges-too-many-points"),
    ),
    Calculation(
        "bed",
        "ridges",
        (*NOTCH_INPUTS, *_PASS, *_COMB, _PROFILE, _DIRECTION),
        _bed,
        (ridges.bed_after_collapse, ridges.mortar_per_m2),
        _GEOMETRY,
        refuses=_COMB_REFUSALS,
    ),
    Calculation("slide", "ridges", NOTCH_INPUTS, _slide, (ridges.slide_distance,), refuses=NOTCH_REFUSALS),
    Calculation(
        "air-path",
        "ridges",
        (_in("tile", "size", "1200 x 2400 mm"), _in("comb-angle", "angle", "90", "0", shown=True)),
        _air_path,
        (ridges.air_path,),
    ),
    Calculation(
        "two-sided",
        "ridges",
        (*NOTCH_INPUTS, *MORTAR_INPUTS, *_PASS, _BACK_NOTCH, _SKIM, _PROFILE, _DIRECTION),
        _two_sided,
        (ridges.two_sided_combing,),
        _GEOMETRY,
        refuses=(*_COMB_REFUSALS, "mortar-bed-limits-cross"),
    ),
    Calculation(
        "collapse-effort",
        "ridges",
        (*NOTCH_INPUTS, _ANGLE),
        _effort,
        (ridges.collapse_effort,),
        PRACTICE,
        refuses=NOTCH_REFUSALS,
    ),
    Calculation(
        "notch-depth",
        "ridges",
        (_in("edge", "length", "150 mm"),),
        lambda v: [ResultRow("notch depth", ridges.notch_depth_for_edge(v["edge"]), "mm")],
        (ridges.notch_depth_for_edge,),
        BASES["notch-depth"],
        refuses=("ridges-edge-over-table",),
    ),
    Calculation(
        "notch-advice",
        "ridges",
        (
            *MORTAR_INPUTS,
            _in("warpage", "length", "1 mm", "0 mm", shown=True),
            _in("substrate", "length", "1.5 mm", "0 mm", shown=True),
            _in("contact", "percent", "95 %", "95 %"),
            _in("setting", "choice", "vibrated", "by hand", choices=("by hand", "vibrated")),
            _in("tile", "size", "1200 x 2400 mm", optional=True, of="notch-advice"),
            _SKIM,
            _PROFILE,
            *_PASS,
            _in("hand-limit", "length", "7 mm", f"{ridges.HAND_COLLAPSE_LIMIT_MM:g} mm"),
            *map(_not_of_the_example, NOTCH_INPUTS),
        ),
        _notch_advice,
        (ridges.advise,),
        _VOLUME,
        (_GEOMETRY,),
        refuses=(*NOTCH_REFUSALS, "mortar-bed-limits-cross", "ridges-contact-outside"),
    ),
    Calculation(
        "filling",
        "ridges",
        (_in("implied-bed", "length", "4.0 mm"), *NOTCH_INPUTS, _ANGLE, *_COMB),
        _filling,
        (ridges.calibrated_filling,),
        refuses=(*_COMB_REFUSALS, "ridges-filling-unbelievable"),
    ),
)
