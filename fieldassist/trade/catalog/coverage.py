"""Entries on mortar contact."""

from __future__ import annotations

from collections.abc import Iterable

from fieldassist.trade import coverage, quantities
from fieldassist.trade.basis import BASES
from fieldassist.trade.catalog.model import Calculation, ResultRow, Values
from fieldassist.trade.catalog.results import as_words, at_least, at_most, verdict_row
from fieldassist.trade.catalog.shared import ARITHMETIC, FIELD_CAUTIONS, SETTING_INPUTS, asking, requirement
from fieldassist.trade.message import Message
from fieldassist.trade.verdict import outcome_of

_in = asking("coverage")
_VOLUME = BASES["volume"]
_NO_RULE = Message("coverage-no-rule")


def _required(values: Values) -> Iterable[ResultRow]:
    need = requirement(values)
    voids = need.void_basis or need.basis
    void, edge = need.largest_void_mm2, need.edge_clear_mm
    return [
        at_least("least contact", need.minimum_percent, "percent", need.basis),
        at_most("largest void allowed", void, "mm2", voids)
        if void
        else ResultRow("largest void allowed", None, basis=voids, told=_NO_RULE),
        at_least("strip along the edges free of voids", edge, "mm", voids)
        if edge
        else ResultRow("strip along the edges free of voids", None, basis=voids, told=_NO_RULE),
        ResultRow("every corner supported", need.corners, basis=voids),
        ResultRow("least lifts", need.least_lifts, basis=need.basis),
        as_words("notes", need.notes, "sentences", basis=need.basis),
    ]


def _lift_verdict(values: Values) -> Iterable[ResultRow]:
    need, void = requirement(values), values["largest-void"]
    judged = coverage.lift_verdict(
        values["contact"],
        need,
        None if void is None else quantities.convert(void, "m2", "mm2"),
        values["void-to-edge"],
        values["corners-supported"],
    )
    return [
        verdict_row(judged.outcome, basis=need.basis),
        as_words("reasons", judged.reasons, basis=need.basis),
        as_words("unread", judged.unread, basis=need.basis),
        at_least("least contact", need.minimum_percent, "percent", need.basis),
    ]


def _area_verdict(values: Values) -> Iterable[ResultRow]:
    need = requirement(values)
    lifts = [
        (contact, outcome or outcome_of(failed=contact < need.minimum_percent, complete=True))
        for contact, outcome in values["lifts"]
    ]
    judged = coverage.area_verdict(lifts, need, rule=values["rule"])
    return [
        verdict_row(judged.outcome, basis=need.basis),
        ResultRow("mean contact", judged.mean, "percent", need.basis),
        ResultRow("worst contact", judged.worst, "percent", need.basis),
        ResultRow("lifts", judged.lifts, basis=need.basis),
        as_words("reasons", judged.reasons, basis=need.basis),
        ResultRow("next step", judged.next_step, basis=need.basis),
        ResultRow("caution", judged.caution, basis=need.basis),
        at_least("least contact", need.minimum_percent, "percent", need.basis),
    ]


def _solid_bed(values: Values) -> Iterable[ResultRow]:
    bed = coverage.solid_bed(values["tile"][0] * values["tile"][1] / 1e6, values["mass"], values["capacity"])
    return [
        ResultRow("solid bed required", bed.required, basis=bed.basis),
        ResultRow("mass above which a small tile needs it", bed.limit_kg_per_m2, "kg/m2", bed.basis),
        ResultRow("reason", bed.reason, basis=bed.basis),
    ]


def _allowed_void(values: Values) -> Iterable[ResultRow]:
    void = coverage.allowed_void(values["tile"][0] * values["tile"][1], values["contact"])
    return [ResultRow("void allowed in all", void, "mm2")]


ENTRIES = (
    Calculation("required-coverage", "coverage", SETTING_INPUTS, _required, (coverage.required_contact,)),
    Calculation(
        "lift-verdict",
        "coverage",
        (
            _in("contact", "percent", "93 %"),
            *SETTING_INPUTS,
            _in("largest-void", "area", "2 in2", optional=True, shown=True),
            _in("void-to-edge", "length", "3 in", optional=True, shown=True),
            _in("corners-supported", "flag", "yes", optional=True, shown=True),
        ),
        _lift_verdict,
        (coverage.lift_verdict,),
        cautions=FIELD_CAUTIONS,
    ),
    Calculation(
        "area-verdict",
        "coverage",
        (
            _in("lifts", "lifts", "96 %; 97 %; 91 % failed"),
            *SETTING_INPUTS,
            _in("rule", "choice", "mean", "every lift", choices=("every lift", "mean")),
        ),
        _area_verdict,
        (coverage.area_verdict,),
        cautions=FIELD_CAUTIONS,
    ),
    Calculation(
        "allowed-void",
        "coverage",
        (_in("tile", "size", "12 x 12 in"), _in("contact", "percent", "95 %", of="allowed-void")),
        _allowed_void,
        (coverage.allowed_void,),
        ARITHMETIC,
    ),
    Calculation(
        "greatest-contact",
        "coverage",
        (_in("bed", "length", "2.25 mm"), _in("gap", "lengths", "3 mm")),
        lambda v: [ResultRow("greatest contact", coverage.greatest_contact(v["bed"], v["gap"]), "percent")],
        (coverage.greatest_contact,),
        _VOLUME,
    ),
    Calculation(
        "gap-from-contact",
        "coverage",
        (_in("bed", "length", "2.25 mm"), _in("contact", "percent", "75 %", of="gap-from-contact")),
        lambda v: [ResultRow("mean gap", coverage.gap_from_contact(v["bed"], v["contact"]), "mm")],
        (coverage.gap_from_contact,),
        _VOLUME,
        refuses=("coverage-no-contact-at-all", "coverage-full-contact"),
    ),
    Calculation(
        "bed-for-contact",
        "coverage",
        (
            _in("gap", "length", "4 mm", of="bed-for-contact"),
            _in("contact", "percent", "95 %", of="bed-for-contact"),
        ),
        lambda v: [at_least("least bed", coverage.bed_for_contact(v["gap"], v["contact"]), "mm")],
        (coverage.bed_for_contact,),
        _VOLUME,
    ),
    Calculation(
        "solid-bed",
        "coverage",
        (
            _in("tile", "size", "300 x 300 mm"),
            _in("mass", "mass per area", "15 kg/m2"),
            _in("capacity", "mass per area", "20 kg/m2"),
        ),
        _solid_bed,
        (coverage.solid_bed,),
    ),
)
