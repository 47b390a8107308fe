"""Bags, water, batches, the bed a mortar allows, and the mass balance that checks the lifts.

Volumes are of fresh mixed mortar [L]; one litre covers one square metre one millimetre deep. Waste is a share
of what ends up behind the tile [percent]. The product's data sheet goes before every default here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, get_args

from fieldassist.trade.basis import Basis, OutOfRange, Standing
from fieldassist.trade.coverage import greatest_contact
from fieldassist.trade.quantities import System, format_against, format_quantity

__all__ = [
    "MIXING_CAUTIONS",
    "WASTE_PERCENT",
    "BagYield",
    "BatchPlan",
    "BedLimits",
    "BedVerdict",
    "Caution",
    "Kind",
    "MassBalance",
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

Kind = Literal["thin-set", "large-and-heavy-tile"]

# Common practice, no published source.
WASTE_PERCENT = 10.0


@dataclass(frozen=True, slots=True)
class Caution:
    """A caution and where it comes from."""

    text: str
    basis: Basis


MIXING_CAUTIONS: tuple[Caution, ...] = (
    Caution(
        "Wet cement burns, and the burn may not hurt at first: alkali-resistant gloves, boots and goggles; "
        "wash with clean cool water; change soaked clothes; a burn is for a doctor.",
        Basis("NIOSH and CPWR guides to skin care in cement work", "", "2000", Standing.REPORTED),
    ),
    Caution(
        "Dry powder holds silica: empty the bag slowly, mix where the air moves away from people or with "
        "extraction, roll the empty bag up without shaking it, never sweep dry.",
        Basis(
            "29 CFR 1926.1153",
            "(f)",
            standing=Standing.REPORTED,
            note="Mixing mortar is not in its Table 1; local rules decide what else is needed.",
        ),
    ),
    Caution(
        "Mixer and cord in the wet: a ground-fault circuit interrupter (30 mA residual-current device or "
        "a 110 V supply elsewhere); repairs are for a licensed electrician.",
        Basis("29 CFR 1926.404", "(b)(1)", standing=Standing.REPORTED),
    ),
)


@dataclass(frozen=True, slots=True)
class BedLimits:
    """The least and greatest bed a mortar allows after embedding [mm], and who says so."""

    minimum_mm: float
    maximum_mm: float
    basis: Basis


@dataclass(frozen=True, slots=True)
class BedVerdict:
    """Whether a bed is "too thin", "within" or "too thick", and a sentence that says so."""

    passed: bool
    verdict: Literal["too thin", "within", "too thick"]
    reason: str
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
    reason: str


@dataclass(frozen=True, slots=True)
class MassBalance:
    """What the bags say about the bed.

    implied_bed_mm, tolerance_mm (half width, coverage factor 2), difference_mm = implied - predicted [mm];
    verdict "too little", "as predicted" or "more than predicted"; greatest_contact_percent at the measured
    gap, or None without one; reason, a sentence.
    """

    implied_bed_mm: float
    predicted_bed_mm: float
    difference_mm: float
    tolerance_mm: float
    verdict: Literal["too little", "as predicted", "more than predicted"]
    greatest_contact_percent: float | None
    reason: str


_LIMITS: dict[str, tuple[float, float, Basis]] = {
    "thin-set": (
        2.38125,  # 3/32 in
        6.35,  # 1/4 in
        Basis("Materials and Methods Standards Association bulletin 18", "", "May 2020"),
    ),
    "large-and-heavy-tile": (
        2.38125,  # 3/32 in
        12.7,  # 1/2 in
        Basis(
            "Materials and Methods Standards Association bulletin 18; TCNA Handbook, 2015 onward",
            "",
            "May 2020",
            note="Before 2015 the upper limit was 3/4 in. Not for levelling the base.",
        ),
    ),
}

# A bed of exactly a limit that went through inches or a sine must still pass.
_UNIT_DUST = 1e-9


def _positive(**figures: float) -> None:
    for name, value in figures.items():
        if not (value > 0 and math.isfinite(value)):
            raise ValueError(f"the {name.replace('_', ' ')} is {value:g}; give a figure above zero")


def _not_negative(**figures: float) -> None:
    for name, value in figures.items():
        if not (value >= 0 and math.isfinite(value)):
            raise ValueError(f"the {name.replace('_', ' ')} is {value:g}; it cannot be below zero")


def bed_limits(
    kind: Kind, *, data_sheet_least_mm: float | None = None, data_sheet_greatest_mm: float | None = None
) -> BedLimits:
    """The least and greatest bed after embedding.

    | kind | least | greatest |
    |---|---|---|
    | thin-set | 3/32 in (2.38 mm) | 1/4 in (6.35 mm) |
    | large-and-heavy-tile | 3/32 in (2.38 mm) | 1/2 in (12.7 mm) |

    Parameters: kind; data_sheet_least_mm, data_sheet_greatest_mm, which take the place of the general figures
    [mm]. Result: limits [mm] and their basis.
    Errors: `ValueError` for another kind, or limits that cross.

    >>> limits = bed_limits("large-and-heavy-tile")
    >>> limits.minimum_mm, limits.maximum_mm
    (2.38125, 12.7)

    References: [1] Materials and Methods Standards Association bulletin 18 (rev. May 2020). [2] TCNA
    Handbook, 2015 onward. Both as reported in trade literature.
    """
    if kind not in get_args(Kind):
        raise ValueError(f"{kind!r} is not a kind of mortar; allowed: {', '.join(get_args(Kind))}")
    least, greatest, basis = _LIMITS[kind]
    if data_sheet_least_mm is not None or data_sheet_greatest_mm is not None:
        given = [
            word
            for word, figure in (("least", data_sheet_least_mm), ("greatest", data_sheet_greatest_mm))
            if figure is not None
        ]
        note = "" if len(given) == 2 else f"Only the {given[0]} bed; the other limit: {basis}"
        basis = Basis("the mortar's data sheet", standing=Standing.DATA_SHEET, note=note)
    least = least if data_sheet_least_mm is None else data_sheet_least_mm
    greatest = greatest if data_sheet_greatest_mm is None else data_sheet_greatest_mm
    _positive(least_bed=least, greatest_bed=greatest)
    if least > greatest:
        raise ValueError(f"the least bed {least:g} mm is above the greatest {greatest:g} mm; read the sheet again")
    return BedLimits(least, greatest, basis)


def bed_verdict(bed_mm: float, limits: BedLimits, *, system: System = "metric") -> BedVerdict:
    """Whether a bed lies within a mortar's limits; exactly at a limit is within.

    Parameters: bed_mm [mm], at least 0; limits; system of the wording. Errors: `ValueError` below zero.

    >>> bed_verdict(2.25, bed_limits("thin-set"), system="us").reason
    'a bed of 0.089 in is below the least this mortar allows, 3/32 in'

    References: see `bed_limits`.
    """
    _not_negative(bed=bed_mm)
    if bed_mm < limits.minimum_mm * (1 - _UNIT_DUST):
        shown, limit = format_against(bed_mm, limits.minimum_mm, "mm", system)
        reason = f"a bed of {shown} is below the least this mortar allows, {limit}"
        return BedVerdict(False, "too thin", reason, limits.basis)
    if bed_mm > limits.maximum_mm * (1 + _UNIT_DUST):
        shown, limit = format_against(bed_mm, limits.maximum_mm, "mm", system)
        reason = f"a bed of {shown} is above the most this mortar allows, {limit}"
        return BedVerdict(False, "too thick", reason, limits.basis)
    reason = f"a bed of {format_quantity(bed_mm, 'mm', system)} is within the mortar's limits"
    return BedVerdict(True, "within", reason, limits.basis)


def bag_yield(
    bag_kg: float, data_sheet_l: float | None = None, powder_kg_per_m2_per_mm: float | None = None
) -> BagYield:
    """Mixed mortar from one bag.

    Y = m / c, with c the dry powder in a square metre of solid bed one millimetre deep [kg/L].

    Parameters: bag_kg [kg]; data_sheet_l, the sheet's own yield [L], which is taken as it stands; otherwise
    powder_kg_per_m2_per_mm [kg/(m2 mm)], by default 1.35, the middle of 1.2 to 1.5.
    Result: [L]; for the default also the span that 1.2 to 1.5 gives.
    Errors: `ValueError` for a figure that is not above zero.

    >>> bag = bag_yield(20.0)
    >>> round(bag.litres, 1), round(bag.least_l, 1), round(bag.greatest_l, 1)
    (14.8, 13.3, 16.7)

    References: dry powder 1.2 to 1.5 kg/(m2 mm), common practice from memory; no neutral table is published.
    """
    _positive(mass_of_a_bag=bag_kg)
    if data_sheet_l is not None:
        _positive(yield_of_a_bag=data_sheet_l)
        sheet = Basis("the mortar's data sheet", standing=Standing.DATA_SHEET)
        return BagYield(data_sheet_l, data_sheet_l, data_sheet_l, sheet)
    if powder_kg_per_m2_per_mm is not None:
        _positive(powder_per_square_metre_and_millimetre=powder_kg_per_m2_per_mm)
        litres = bag_kg / powder_kg_per_m2_per_mm
        return BagYield(litres, litres, litres, Basis("", standing=Standing.CREW))
    basis = Basis("", standing=Standing.MEMORY, note="Common practice; the bag's own yield is better.")
    return BagYield(bag_kg / 1.35, bag_kg / 1.5, bag_kg / 1.2, basis)


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
    Errors: `ValueError` outside these.

    >>> need = mortar_for_area(9.0, 4.5, 20.0, 15.0, water_l_per_bag=5.0)
    >>> round(need.volume_l, 2), round(need.bags, 2), need.whole_bags, round(need.water_l, 1)
    (44.55, 2.97, 3, 14.9)

    References: arithmetic on the data sheet's yield.
    """
    _positive(
        area=area_m2,
        mortar_per_square_metre=volume_l_per_m2,
        mass_of_a_bag=bag_kg,
        yield_of_a_bag=bag_yield_l,
    )
    _not_negative(waste=waste_percent)
    if water_l_per_bag is not None:
        _positive(water_per_bag=water_l_per_bag)
    volume = area_m2 * volume_l_per_m2 * (1 + waste_percent / 100)
    bags = volume / bag_yield_l
    # A hair of float noise must not buy a bag.
    whole = math.ceil(round(bags, 9))
    water = None if water_l_per_bag is None else bags * water_l_per_bag
    return MortarNeed(volume, bags * bag_kg, water, bags, whole, bags * bag_kg / area_m2)


def water_verdict(
    water_l: float,
    bags: float,
    least_l_per_bag: float,
    greatest_l_per_bag: float,
    *,
    system: System = "metric",
) -> WaterVerdict:
    """Whether the water added to a batch keeps to the data sheet; exactly at an end passes.

    Parameters: water_l in the batch [L]; bags in the batch, parts allowed; least and greatest water of one
    bag [L].
    Errors: `ValueError` for figures that are not above zero or a span that crosses.

    >>> water_verdict(2.9, 0.5, 4.8, 5.4).reason
    'water 2.9 L is more than the 2.7 L this batch may take: throw the batch away, powder added later does not
    mend it'

    References: the product's data sheet. No more water after the slake: common practice, no published source.
    """
    _positive(water=water_l, number_of_bags=bags, least_water=least_l_per_bag, most_water=greatest_l_per_bag)
    if least_l_per_bag > greatest_l_per_bag:
        raise ValueError("the least water per bag is above the most; read the data sheet again")
    least, greatest = bags * least_l_per_bag, bags * greatest_l_per_bag
    if water_l > greatest:
        shown, limit = format_against(water_l, greatest, "L", system)
        reason = (
            f"water {shown} is more than the {limit} this batch may take: throw the batch away, "
            "powder added later does not mend it"
        )
        return WaterVerdict(False, least, greatest, reason)
    if water_l < least:
        shown, limit = format_against(water_l, least, "L", system)
        reason = f"water {shown} is less than the {limit} this batch needs: add up to it before the slake"
        return WaterVerdict(False, least, greatest, reason)
    return WaterVerdict(True, least, greatest, f"water {format_quantity(water_l, 'L', system)} is right")


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
    Errors: `ValueError` outside these; `OutOfRange` when even the smallest part would outlive the pot life or
    overflow the bucket.

    >>> plan = batch_plan(18.0, 4.5, 15.0, pot_life_min=120, pace_m2_per_h=3.0, slake_min=10)
    >>> plan.batches, plan.bags_per_batch, round(plan.area_per_batch_m2, 2), round(plan.minutes_per_batch)
    (4, 1.5, 4.55, 91)

    References: arithmetic on the data sheet's pot life and the crew's own pace.
    """
    _positive(
        area=area_m2,
        mortar_per_square_metre=volume_l_per_m2,
        yield_of_a_bag=bag_yield_l,
        pot_life=pot_life_min,
        pace=pace_m2_per_h,
        part_of_a_bag=part_of_bag,
    )
    _not_negative(slake=slake_min, waste=waste_percent)
    if slake_min >= pot_life_min:
        raise OutOfRange(f"the slake of {slake_min:g} min leaves nothing of a pot life of {pot_life_min:g} min")
    per_m2 = volume_l_per_m2 * (1 + waste_percent / 100)
    most_l = pace_m2_per_h * (pot_life_min - slake_min) / 60 * per_m2
    why = "it would stiffen before it is used; mix by weight in smaller parts or add a setter"
    if bucket_l is not None:
        _positive(bucket=bucket_l)
        if bucket_l < most_l:
            most_l, why = bucket_l, "the bucket is too small for it"
    parts = math.floor(round(most_l / (part_of_bag * bag_yield_l), 9))
    if parts < 1:
        raise OutOfRange(f"even {part_of_bag:g} of a bag is too much for one batch: {why}")
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
    system: System = "metric",
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
    Errors: `ValueError` for figures out of range.

    >>> balance = mass_balance(6, 15.0, 18.0, predicted_bed_mm=6.35, gap_mm=5.0)
    >>> round(balance.implied_bed_mm, 2), round(balance.tolerance_mm, 2), balance.verdict
    (4.55, 0.74, 'too little')
    >>> round(balance.greatest_contact_percent)
    91

    References: combination of uncertainties, JCGM 100:2008 (GUM) §5.1.2 and coverage factor 2, §6.3.3.
    """
    _positive(number_of_bags=bags_used, yield_of_a_bag=bag_yield_l, area=area_m2, predicted_bed=predicted_bed_mm)
    _not_negative(
        waste=waste_percent,
        uncertainty_of_the_bags=bags_uncertainty,
        uncertainty_of_the_yield=yield_uncertainty_percent,
        uncertainty_of_the_area=area_uncertainty_percent,
        uncertainty_of_the_waste=waste_uncertainty_percent,
    )
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
    shown, limit = format_against(bed, predicted_bed_mm, "mm", system)
    spread = format_quantity(tolerance, "mm", system)
    verdict: Literal["too little", "as predicted", "more than predicted"]
    if difference < -tolerance:
        verdict = "too little"
        reason = (
            f"the bags give {shown} of mortar (± {spread}) where {limit} was predicted: too little is "
            "behind the tile; lift more, and check notch, trowel angle and bag count"
        )
    elif difference > tolerance:
        verdict = "more than predicted"
        reason = (
            f"the bags give {shown} of mortar (± {spread}) where {limit} was predicted: the bed is thicker, "
            "or more was wasted; check the bed against the mortar's limit"
        )
    else:
        verdict = "as predicted"
        reason = f"the bags give {shown} of mortar (± {spread}), as predicted ({limit}) within the tolerance"
    if contact is not None and contact < 100:
        reason += f"; over the measured gap this can reach {format_quantity(contact, 'percent')} contact at most"
    return MassBalance(bed, predicted_bed_mm, difference, tolerance, verdict, contact, reason)
