"""Entries on mortar: bed, bags, batches, water."""

from __future__ import annotations

from collections.abc import Iterable

from fieldassist.trade import mortar
from fieldassist.trade.basis import BASES
from fieldassist.trade.catalog.model import Calculation, ResultRow, Values
from fieldassist.trade.catalog.results import at_least, at_most, verdict_row
from fieldassist.trade.catalog.shared import ARITHMETIC, CEMENT_CAUTIONS, MORTAR_INPUTS, asking, bed_limits, bed_word

_in = asking("mortar")

_BED = _in("bed", "length", "4.5 mm")
_YIELD = _in("bag-yield", "volume", "15 L")
_WASTE = _in("waste", "percent", "10 %", "10 %")


def _bed_limits(values: Values) -> Iterable[ResultRow]:
    limits = bed_limits(values)
    return [
        at_least("least bed", limits.minimum_mm, "mm", limits.basis),
        at_most("greatest bed", limits.maximum_mm, "mm", limits.basis),
    ]


def _bed_verdict(values: Values) -> Iterable[ResultRow]:
    judged = mortar.bed_verdict(values["bed"], bed_limits(values))
    return [
        verdict_row(judged.passed, basis=judged.basis),
        ResultRow("bed", judged.verdict, basis=judged.basis, told=bed_word(judged.verdict)),
        ResultRow("reason", judged.reason, basis=judged.basis),
    ]


def _bag_yield(values: Values) -> Iterable[ResultRow]:
    bag = mortar.bag_yield(values["bag-mass"], values["bag-yield"], values["powder"])
    rows = [ResultRow("mixed mortar from a bag", bag.litres, "L", bag.basis)]
    if bag.least_l != bag.greatest_l:
        rows += [
            ResultRow("at least", bag.least_l, "L", bag.basis),
            ResultRow("at most", bag.greatest_l, "L", bag.basis),
        ]
    return rows


def _bags(values: Values) -> Iterable[ResultRow]:
    bag = mortar.bag_yield(values["bag-mass"], values["bag-yield"], values["powder"])
    need = mortar.mortar_for_area(
        values["area"],
        values["bed"],
        values["bag-mass"],
        bag.litres,
        water_l_per_bag=values["water-per-bag"],
        waste_percent=values["waste"],
    )
    return [
        ResultRow("mixed mortar", need.volume_l, "L", bag.basis),
        ResultRow("powder", need.powder_kg, "kg", bag.basis),
        ResultRow("water", need.water_l, "L", bag.basis),
        ResultRow("bags, exactly", need.bags, basis=bag.basis),
        ResultRow("bags to bring", need.whole_bags, basis=bag.basis),
        ResultRow("powder per area", need.powder_kg_per_m2, "kg/m2", bag.basis),
        ResultRow("yield of a bag", bag.litres, "L", bag.basis),
    ]


def _batches(values: Values) -> Iterable[ResultRow]:
    plan = mortar.batch_plan(
        values["area"],
        values["bed"],
        values["bag-yield"],
        values["pot-life"],
        values["pace"],
        slake_min=values["slake"],
        waste_percent=values["waste"],
        part_of_bag=values["part-of-bag"],
        bucket_l=values["bucket"],
    )
    return [
        ResultRow("batches", plan.batches),
        ResultRow("bags per batch", plan.bags_per_batch),
        ResultRow("area per batch", plan.area_per_batch_m2, "m2"),
        ResultRow("time per batch", plan.minutes_per_batch, "min"),
    ]


def _water(values: Values) -> Iterable[ResultRow]:
    judged = mortar.water_verdict(values["water"], values["bags"], values["least-per-bag"], values["greatest-per-bag"])
    return [
        verdict_row(judged.passed),
        at_least("least water in this batch", judged.least_l, "L"),
        at_most("most water in this batch", judged.greatest_l, "L"),
        ResultRow("reason", judged.reason),
    ]


def _mass_balance(values: Values) -> Iterable[ResultRow]:
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
    )
    return [
        verdict_row(balance.verdict == "as predicted"),
        ResultRow("implied bed", balance.implied_bed_mm, "mm"),
        ResultRow("predicted bed", balance.predicted_bed_mm, "mm"),
        ResultRow("difference", balance.difference_mm, "mm"),
        ResultRow("tolerance, plus or minus", balance.tolerance_mm, "mm"),
        ResultRow("mortar", balance.verdict, told=bed_word(balance.verdict)),
        ResultRow("greatest contact", balance.greatest_contact_percent, "percent"),
        ResultRow("reason", balance.reason),
    ]


ENTRIES = (
    Calculation(
        "bed-limits",
        "mortar",
        MORTAR_INPUTS,
        _bed_limits,
        (mortar.bed_limits,),
        refuses=("mortar-bed-limits-cross",),
    ),
    Calculation(
        "bed-verdict",
        "mortar",
        (_in("bed", "length", "2.2 mm", of="bed-verdict"), *MORTAR_INPUTS),
        _bed_verdict,
        (mortar.bed_verdict,),
        refuses=("mortar-bed-limits-cross",),
    ),
    Calculation(
        "bag-yield",
        "mortar",
        (
            _in("bag-mass", "mass", "20 kg"),
            _in("bag-yield", "volume", "15 L", optional=True, of="bag-yield"),
            _in("powder", "powder", "1.4 kg/L", optional=True),
        ),
        _bag_yield,
        (mortar.bag_yield,),
        cautions=CEMENT_CAUTIONS,
    ),
    Calculation(
        "bags",
        "mortar",
        (
            _in("area", "area", "9 m2"),
            _BED,
            _in("bag-mass", "mass", "20 kg"),
            _in("bag-yield", "volume", "15 L", optional=True, shown=True, of="bags"),
            _in("powder", "powder", "1.4 kg/L", optional=True, of="bags"),
            _in("water-per-bag", "volume", "5 L", optional=True, shown=True),
            _WASTE,
        ),
        _bags,
        (mortar.mortar_for_area,),
        ARITHMETIC,
        cautions=CEMENT_CAUTIONS,
    ),
    Calculation(
        "batches",
        "mortar",
        (
            _in("area", "area", "18 m2"),
            _BED,
            _YIELD,
            _in("pot-life", "duration", "2 h"),
            _in("pace", "pace", "3 m2/h"),
            _in("slake", "duration", "10 min", "0 min", shown=True),
            _WASTE,
            _in("part-of-bag", "number", "0.25", "0.5"),
            _in("bucket", "volume", "20 L", optional=True),
        ),
        _batches,
        (mortar.batch_plan,),
        ARITHMETIC,
        cautions=CEMENT_CAUTIONS,
        refuses=("mortar-slake-takes-pot-life", "mortar-batch-would-stiffen", "mortar-batch-over-bucket"),
    ),
    Calculation(
        "water",
        "mortar",
        (
            _in("water", "volume", "2.9 L"),
            _in("bags", "number", "0.5", of="water"),
            _in("least-per-bag", "volume", "4.8 L"),
            _in("greatest-per-bag", "volume", "5.4 L"),
        ),
        _water,
        (mortar.water_verdict,),
        BASES["data-sheet"],
        cautions=CEMENT_CAUTIONS,
        refuses=("mortar-water-limits-cross",),
    ),
    Calculation(
        "mass-balance",
        "mortar",
        (
            _in("bags", "number", "6"),
            _YIELD,
            _in("area", "area", "18 m2", of="mass-balance"),
            _in("predicted-bed", "length", "6.35 mm"),
            _WASTE,
            _in("gap", "length", "5 mm", optional=True, shown=True),
            _in("bags-uncertainty", "number", "0.5", "0.25"),
            _in("yield-uncertainty", "percent", "3 %", "5 %"),
            _in("area-uncertainty", "percent", "1 %", "2 %"),
            _in("waste-uncertainty", "percent", "3 %", "5 %"),
        ),
        _mass_balance,
        (mortar.mass_balance,),
        BASES["uncertainty"],
    ),
)
