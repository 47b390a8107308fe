"""Bags, water, batches, the bed a mortar allows, and the mass balance that checks the lifts.

Volumes are of fresh mixed mortar [L]; one litre covers one square metre one millimetre deep. Waste is a share
of what ends up behind the tile [percent]. The product's data sheet goes before every default here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, get_args

from fieldassist.trade.basis import BASES, Basis, OutOfRange, cite
from fieldassist.trade.checks import measured, not_negative, one_of, positive
from fieldassist.trade.coverage import greatest_contact
from fieldassist.trade.limits import Limit, exactly
from fieldassist.trade.message import Message, Refused, message

__all__ = [
    "MIXING_CAUTIONS",
    "WASTE_PERCENT",
    "BagYield",
    "BatchPlan",
    "BedLimits",
    "BedVerdict",
    "MassBalance",
    "MortarCaution",
    "MortarKind",
    "MortarNeed",
    "WaterVerdict",
    "bag_yield",
    "batch_plan",
    "bed_limits",
    "bed_verdict",
    "mass_balance",
    "mortar_for_area",
    "water_verdict",
]

MortarKind = Literal["thin-set", "large-and-heavy-tile"]

# Common practice, no published source.
WASTE_PERCENT = 10.0


@dataclass(frozen=True, slots=True)
class MortarCaution:
    """A caution and where it comes from."""

    told: Message
    basis: Basis


MIXING_CAUTIONS: tuple[MortarCaution, ...] = (
    MortarCaution(Message("mortar-caution-skin"), BASES["skin"]),
    MortarCaution(Message("mortar-caution-dust"), BASES["mixing-dust"]),
    MortarCaution(Message("mortar-caution-electricity"), BASES["ground-fault"]),
)


@dataclass(frozen=True, slots=True)
class BedLimits:
    """The least and greatest bed a mortar allows after embedding [mm], and who says so."""

    minimum_mm: float
    maximum_mm: float
    basis: Basis


@dataclass(frozen=True, slots=True)
class BedVerdict:
    """Whether a bed is "too thin", "within" or "too thick", and a reason that says so."""

    passed: bool
    verdict: Literal["too thin", "within", "too thick"]
    reason: Message
    basis: Basis


@dataclass(frozen=True, slots=True)
class BagYield:
    """Mixed mortar from one bag [L], with the span within which a default holds."""

    litres: float
    least_l: float
    greatest_l: float
    basis: Basis


@dataclass(frozen=True, slots=True)
class MortarNeed:
    """What an area takes: mixed mortar [L], powder [kg], water [L], bags exactly and bags to bring."""

    volume_l: float
    powder_kg: float
    water_l: float | None
    bags: float
    whole_bags: int
    powder_kg_per_m2: float


@dataclass(frozen=True, slots=True)
class BatchPlan:
    """How to mix: number of batches, bags in each, the area [m2] and the minutes that one batch lasts."""

    batches: int
    bags_per_batch: float
    area_per_batch_m2: float
    minutes_per_batch: float


@dataclass(frozen=True, slots=True)
class WaterVerdict:
    """Whether the water added lies within the data sheet's span [L]."""

    passed: bool
    least_l: float
    greatest_l: float
    reason: Message


@dataclass(frozen=True, slots=True)
class MassBalance:
    """What the bags say about the bed.

    implied_bed_mm, tolerance_mm (half width, coverage factor 2), difference_mm = implied - predicted [mm];
    verdict "too little", "as predicted" or "more than predicted"; greatest_contact_percent at the measured
    gap, or None without one; reason.
    """

    implied_bed_mm: float
    predicted_bed_mm: float
    difference_mm: float
    tolerance_mm: float
    verdict: Literal["too little", "as predicted", "more than predicted"]
    greatest_contact_percent: float | None
    reason: Message


_LIMITS: dict[str, tuple[float, float, Basis]] = {
    "thin-set": (2.38125, 6.35, BASES["thin-set-bed"]),  # 3/32 to 1/4 in
    "large-and-heavy-tile": (2.38125, 12.7, BASES["heavy-tile-bed"]),  # 3/32 to 1/2 in
}


def bed_limits(
    kind: MortarKind, *, data_sheet_least_mm: float | None = None, data_sheet_greatest_mm: float | None = None
) -> BedLimits:
    """The least and greatest bed after embedding.

    | kind | least | greatest |
    |---|---|---|
    | thin-set | 3/32 in (2.38 mm) | 1/4 in (6.35 mm) |
    | large-and-heavy-tile | 3/32 in (2.38 mm) | 1/2 in (12.7 mm) |

    Parameters: kind; data_sheet_least_mm, data_sheet_greatest_mm, which take the place of the general figures
    [mm]. Result: limits [mm] and their basis.
    Errors: `Refused` for another kind, or limits that cross.

    >>> limits = bed_limits("large-and-heavy-tile")
    >>> limits.minimum_mm, limits.maximum_mm
    (2.38125, 12.7)

    References: [1] Materials and Methods Standards Association bulletin 18 (rev. May 2020). [2] TCNA
    Handbook, 2015 onward. Both as reported in trade literature.
    """
    one_of("kind-of-mortar", kind, get_args(MortarKind))
    least, greatest, basis = _LIMITS[kind]
    if data_sheet_least_mm is not None and data_sheet_greatest_mm is not None:
        basis = BASES["data-sheet"]
    elif data_sheet_least_mm is not None:
        basis = cite("data-sheet-least-bed", other=basis.told)
    elif data_sheet_greatest_mm is not None:
        basis = cite("data-sheet-greatest-bed", other=basis.told)
    least = least if data_sheet_least_mm is None else data_sheet_least_mm
    greatest = greatest if data_sheet_greatest_mm is None else data_sheet_greatest_mm
    positive("least-bed", least, "mm")
    positive("greatest-bed", greatest, "mm")
    if least > greatest:
        ends = {"least": measured(least, "mm"), "greatest": measured(greatest, "mm")}
        raise Refused(message("mortar-bed-limits-cross", **ends))
    return BedLimits(least, greatest, basis)


def bed_verdict(bed_mm: float, limits: BedLimits) -> BedVerdict:
    """Whether a bed lies within a mortar's limits; exactly at a limit is within.

    Parameters: bed_mm [mm], at least 0; limits. Errors: `Refused` below zero.

    >>> bed_verdict(2.25, bed_limits("thin-set")).verdict
    'too thin'

    References: see `bed_limits`.
    """
    not_negative("bed", bed_mm, "mm")
    judged = Limit.of(limits.minimum_mm, limits.maximum_mm, "mm", limits.basis).judge(exactly(bed_mm, "mm"))
    if judged.code == "under":
        return BedVerdict(False, "too thin", message("mortar-bed-too-thin", **judged.figures), limits.basis)
    if judged.code == "over":
        return BedVerdict(False, "too thick", message("mortar-bed-too-thick", **judged.figures), limits.basis)
    return BedVerdict(True, "within", message("mortar-bed-within", **judged.figures), limits.basis)


def bag_yield(
    bag_kg: float, data_sheet_l: float | None = None, powder_kg_per_m2_per_mm: float | None = None
) -> BagYield:
    """Mixed mortar from one bag.

    Y = m / c, with c the dry powder in a square metre of solid bed one millimetre deep [kg/L].

    Parameters: bag_kg [kg]; data_sheet_l, the sheet's own yield [L], which is taken as it stands; otherwise
    powder_kg_per_m2_per_mm [kg/(m2 mm)], by default 1.35, the middle of 1.2 to 1.5.
    Result: [L]; for the default also the span that 1.2 to 1.5 gives.
    Errors: `Refused` for a figure that is not above zero.

    >>> bag = bag_yield(20.0)
    >>> round(bag.litres, 1), round(bag.least_l, 1), round(bag.greatest_l, 1)
    (14.8, 13.3, 16.7)

    References: dry powder 1.2 to 1.5 kg/(m2 mm), common practice from memory; no neutral table is published.
    """
    positive("mass-of-a-bag", bag_kg, "kg")
    if data_sheet_l is not None:
        positive("yield-of-a-bag", data_sheet_l, "L")
        return BagYield(data_sheet_l, data_sheet_l, data_sheet_l, BASES["data-sheet"])
    if powder_kg_per_m2_per_mm is not None:
        positive("powder", powder_kg_per_m2_per_mm)
        litres = bag_kg / powder_kg_per_m2_per_mm
        return BagYield(litres, litres, litres, BASES["crew"])
    return BagYield(bag_kg / 1.35, bag_kg / 1.5, bag_kg / 1.2, BASES["powder"])


def mortar_for_area(
    area_m2: float,
    volume_l_per_m2: float,
    bag_kg: float,
    bag_yield_l: float,
    *,
    water_l_per_bag: float | None = None,
    waste_percent: float = WASTE_PERCENT,
) -> MortarNeed:
    """Mortar, powder, water and bags for an area.

    V = A v (1 + w / 100); bags = V / Y

    Parameters: area_m2 [m2]; volume_l_per_m2 [L/m2], equal to the bed [mm] plus what the tile's back profile
    takes; bag_kg [kg]; bag_yield_l [L]; water_l_per_bag [L], or None; waste_percent, at least 0 (10 by
    default: common practice, no published source).
    Result: exact bags, and whole bags rounded up.
    Errors: `Refused` outside these.

    >>> need = mortar_for_area(9.0, 4.5, 20.0, 15.0, water_l_per_bag=5.0)
    >>> round(need.volume_l, 2), round(need.bags, 2), need.whole_bags, round(need.water_l, 1)
    (44.55, 2.97, 3, 14.9)

    References: arithmetic on the data sheet's yield.
    """
    positive("area", area_m2, "m2")
    positive("mortar-per-area", volume_l_per_m2)
    positive("mass-of-a-bag", bag_kg, "kg")
    positive("yield-of-a-bag", bag_yield_l, "L")
    not_negative("waste", waste_percent, "percent")
    if water_l_per_bag is not None:
        positive("water-per-bag", water_l_per_bag, "L")
    volume = area_m2 * volume_l_per_m2 * (1 + waste_percent / 100)
    bags = volume / bag_yield_l
    # A hair of float noise must not buy a bag.
    whole = math.ceil(round(bags, 9))
    water = None if water_l_per_bag is None else bags * water_l_per_bag
    return MortarNeed(volume, bags * bag_kg, water, bags, whole, bags * bag_kg / area_m2)


def water_verdict(water_l: float, bags: float, least_l_per_bag: float, greatest_l_per_bag: float) -> WaterVerdict:
    """Whether the water added to a batch keeps to the data sheet; exactly at an end passes.

    Parameters: water_l in the batch [L]; bags in the batch, parts allowed; least and greatest water of one
    bag [L].
    Errors: `Refused` for figures that are not above zero or a span that crosses.

    >>> verdict = water_verdict(2.9, 0.5, 4.8, 5.4)
    >>> verdict.passed, verdict.reason.code
    (False, 'mortar-water-too-much')

    References: the product's data sheet. No more water after the slake: common practice, no published source.
    """
    positive("water", water_l, "L")
    positive("number-of-bags", bags)
    positive("least-water", least_l_per_bag, "L")
    positive("most-water", greatest_l_per_bag, "L")
    if least_l_per_bag > greatest_l_per_bag:
        raise Refused(message("mortar-water-limits-cross"))
    least, greatest = bags * least_l_per_bag, bags * greatest_l_per_bag
    judged = Limit.of(least, greatest, "L", BASES["data-sheet"]).judge(exactly(water_l, "L"))
    if judged.code == "over":
        return WaterVerdict(False, least, greatest, message("mortar-water-too-much", **judged.figures))
    if judged.code == "under":
        return WaterVerdict(False, least, greatest, message("mortar-water-too-little", **judged.figures))
    return WaterVerdict(True, least, greatest, message("mortar-water-right", **judged.figures))


def batch_plan(
    area_m2: float,
    volume_l_per_m2: float,
    bag_yield_l: float,
    pot_life_min: float,
    pace_m2_per_h: float,
    *,
    slake_min: float = 0.0,
    waste_percent: float = WASTE_PERCENT,
    part_of_bag: float = 0.5,
    bucket_l: float | None = None,
) -> BatchPlan:
    """The fewest equal batches that are each used up within the pot life.

    A_max = P (t_pot - t_slake) / 60; batch = floor(A_max v (1 + w / 100) / Y) in parts of a bag

    Parameters: area_m2 [m2]; volume_l_per_m2 [L/m2]; bag_yield_l [L]; pot_life_min, counted from mixing
    [min]; pace_m2_per_h the crew sets [m2/h]; slake_min [min]; waste_percent; part_of_bag, the smallest part
    the crew weighs out (1, 0.5, 0.25); bucket_l, the most that can be mixed at once [L], or None.
    Errors: `Refused` outside these; `OutOfRange` when even the smallest part would outlive the pot life or
    overflow the bucket.

    >>> plan = batch_plan(18.0, 4.5, 15.0, pot_life_min=120, pace_m2_per_h=3.0, slake_min=10)
    >>> plan.batches, plan.bags_per_batch, round(plan.area_per_batch_m2, 2), round(plan.minutes_per_batch)
    (4, 1.5, 4.55, 91)

    References: arithmetic on the data sheet's pot life and the crew's own pace.
    """
    positive("area", area_m2, "m2")
    positive("mortar-per-area", volume_l_per_m2)
    positive("yield-of-a-bag", bag_yield_l, "L")
    positive("pot-life", pot_life_min, "min")
    positive("pace", pace_m2_per_h)
    positive("part-of-a-bag", part_of_bag)
    not_negative("slake", slake_min, "min")
    not_negative("waste", waste_percent, "percent")
    if slake_min >= pot_life_min:
        spans = {"slake": measured(slake_min, "min"), "pot_life": measured(pot_life_min, "min")}
        raise OutOfRange(message("mortar-slake-takes-pot-life", **spans))
    per_m2 = volume_l_per_m2 * (1 + waste_percent / 100)
    most_l = pace_m2_per_h * (pot_life_min - slake_min) / 60 * per_m2
    why = "mortar-batch-would-stiffen"
    if bucket_l is not None:
        positive("bucket", bucket_l, "L")
        if bucket_l < most_l:
            most_l, why = bucket_l, "mortar-batch-over-bucket"
    parts = math.floor(round(most_l / (part_of_bag * bag_yield_l), 9))
    if parts < 1:
        raise OutOfRange(message(why, part=measured(part_of_bag, "count")))
    needed = max(1, math.ceil(round(area_m2 * per_m2 / (part_of_bag * bag_yield_l), 9)))
    bags = min(parts, needed) * part_of_bag
    area = bags * bag_yield_l / per_m2
    batches = math.ceil(round(area_m2 / area, 9))
    return BatchPlan(batches, bags, area, area / pace_m2_per_h * 60)


def mass_balance(
    bags_used: float,
    bag_yield_l: float,
    area_m2: float,
    predicted_bed_mm: float,
    *,
    waste_percent: float = WASTE_PERCENT,
    gap_mm: float | None = None,
    bags_uncertainty: float = 0.25,
    yield_uncertainty_percent: float = 5.0,
    area_uncertainty_percent: float = 2.0,
    waste_uncertainty_percent: float = 5.0,
) -> MassBalance:
    """What the bags that were used say about the mortar behind the tile, whatever the lifts say.

    b = n Y / (A (1 + w / 100)); u(b) / b = sqrt((u_n / n)^2 + u_Y^2 + u_A^2 + (u_w / (1 + w))^2)

    A difference from the predicted bed means something when it exceeds twice the standard uncertainty u(b).

    Parameters: bags_used, parts counted; bag_yield_l [L]; area_m2 set [m2]; predicted_bed_mm, all mortar per
    area, back profile included [mm = L/m2]; waste_percent; gap_mm between tile back and base, measured [mm],
    or None; standard uncertainties of the bag count [bags], yield, area [percent of itself] and waste
    [points]. The defaults of the uncertainties and of waste are judgement, with no published source: a crew
    puts in its own.
    Result: see `MassBalance`.
    Errors: `Refused` for figures out of range.

    >>> balance = mass_balance(6, 15.0, 18.0, predicted_bed_mm=6.35, gap_mm=5.0)
    >>> round(balance.implied_bed_mm, 2), round(balance.tolerance_mm, 2), balance.verdict
    (4.55, 0.74, 'too little')
    >>> round(balance.greatest_contact_percent)
    91

    References: combination of uncertainties, JCGM 100:2008 (GUM) §5.1.2 and coverage factor 2, §6.3.3.
    """
    positive("number-of-bags", bags_used)
    positive("yield-of-a-bag", bag_yield_l, "L")
    positive("area", area_m2, "m2")
    positive("predicted-bed", predicted_bed_mm, "mm")
    not_negative("waste", waste_percent, "percent")
    not_negative("uncertainty-of-the-bags", bags_uncertainty)
    not_negative("uncertainty-of-the-yield", yield_uncertainty_percent, "percent")
    not_negative("uncertainty-of-the-area", area_uncertainty_percent, "percent")
    not_negative("uncertainty-of-the-waste", waste_uncertainty_percent, "percent")
    kept = 1 + waste_percent / 100
    bed = bags_used * bag_yield_l / (area_m2 * kept)
    relative = math.hypot(
        bags_uncertainty / bags_used,
        yield_uncertainty_percent / 100,
        area_uncertainty_percent / 100,
        waste_uncertainty_percent / 100 / kept,
    )
    tolerance = 2 * relative * bed
    difference = bed - predicted_bed_mm
    contact = None if gap_mm is None else greatest_contact(bed, gap_mm)
    verdict: Literal["too little", "as predicted", "more than predicted"]
    if difference < -tolerance:
        verdict, code = "too little", "mortar-balance-too-little"
    elif difference > tolerance:
        verdict, code = "more than predicted", "mortar-balance-more"
    else:
        verdict, code = "as predicted", "mortar-balance-as-predicted"
    figures = {
        "bed": exactly(bed, "mm"),
        "tolerance": exactly(tolerance, "mm"),
        "predicted": exactly(predicted_bed_mm, "mm"),
    }
    reason = message(code, **figures)
    if contact is not None and contact < 100:
        reason = message(f"{code}-reach", contact=exactly(contact, "percent"), **figures)
    return MassBalance(bed, predicted_bed_mm, difference, tolerance, verdict, contact, reason)
