"""What the bags that were used say about the bed behind the tiles that were set."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

from fieldassist.checklist.fields import canonical
from fieldassist.checklist.plan import Method, Mortar
from fieldassist.checklist.rules import notch_of
from fieldassist.checklist.state import Area
from fieldassist.trade import mortar, ridges


@dataclass(frozen=True, slots=True)
class Weighed:
    """Bags against the bed: need for the pieces set, what a bag yields, the mean bed [mm = L/m2], and the balance, None
    where no bag was used."""

    need: mortar.MortarNeed
    bag: mortar.BagYield
    bed_mm: float
    balance: mortar.MassBalance | None

    @property
    def verdict(self) -> Literal["too little", "as predicted", "more than predicted"]:
        """As `trade.mortar.mass_balance` gives it; without a bag there is too little."""
        return "too little" if self.balance is None else self.balance.verdict


@dataclass(frozen=True, slots=True)
class BagsSaid:
    """Bags said to be used in an area: in which event last, how many [bags], and what they should have been.

    bed_mm: mean bed of the methods, implied_bed_mm: of all that was used, with its tolerance, None where no bag was
    used [mm].
    """

    seq: int
    used: Fraction
    predicted: float
    verdict: Literal["too little", "as predicted", "more than predicted"]
    bed_mm: float
    implied_bed_mm: float | None = None
    tolerance_mm: float | None = None


def bed_mm(method: Method) -> float | None:
    """Mortar that a method lays down [mm = L/m2]; None where that is out of reach of the computation."""
    try:
        return ridges.mortar_per_m2(notch_of(method), method.angle, sides=method.sides)
    except ValueError:
        return None


def weigh(used: float, sheet: Mortar, area_m2: float, beds_mm: Sequence[float | None]) -> Weighed | None:
    """Bags [bags, 0 or more] against the pieces set; None where the plan does not tell enough.

    sheet: the mortar's data; area_m2: faces of the pieces set [m2]; beds_mm: of each, the mortar per area of its method
    [mm = L/m2], None where it cannot be computed. Waste is `trade.mortar.WASTE_PERCENT`.
    """
    known = [bed for bed in beds_mm if bed is not None]
    if not known or len(known) < len(beds_mm) or sheet.bag is None:
        return None
    bag = mortar.bag_yield(canonical(sheet.bag), None if sheet.bag_yield is None else canonical(sheet.bag_yield))
    bed = sum(known) / len(known)
    need = mortar.mortar_for_area(area_m2, bed, canonical(sheet.bag), bag.litres)
    balance = None if used <= 0 else mortar.mass_balance(used, bag.litres, area_m2, bed)
    return Weighed(need, bag, bed, balance)


def balance(area: Area) -> BagsSaid | None:
    """The bags said to be used in an area against all that was set there, tiles set again counted each time.

    None where nobody counted, or the plan does not tell enough.
    """
    progress = area.progress
    used, seq = _used(area)
    if used is None or not progress.tiles:
        return None
    tiles = progress.tiles.values()
    spread_m2 = sum(tile.place.face_m2 for tile in tiles) * progress.settings / len(progress.tiles)
    found = weigh(float(used), area.plan.mortar, spread_m2, [bed_mm(area.methods_used[tile.method]) for tile in tiles])
    if found is None:
        return None
    # Whoever counts whole bags counts the one that was begun.
    begun = used.denominator == 1 and float(used) - found.need.bags < 1
    verdict = "as predicted" if begun and found.verdict == "more than predicted" else found.verdict
    said = BagsSaid(seq, used, found.need.bags, verdict, found.bed_mm)
    if found.balance is None:
        return said
    return replace(said, implied_bed_mm=found.balance.implied_bed_mm, tolerance_mm=found.balance.tolerance_mm)


def _used(area: Area) -> tuple[Fraction | None, int]:
    """Bags used, and the event that says so: the last count for the area, or the sum of its batches (0 then)."""
    batches = {section.id for section in area.checklist.sections if section.changes == "batch"}
    totals = [r for r in area.readings.values() if r.quantity == "bags" and r.section not in batches]
    if totals:
        return totals[-1].value, totals[-1].kept
    mixed = [batch.bags for batch in area.progress.batches.values()]
    known = [bags for bags in mixed if bags is not None]
    return (sum(known, Fraction()) if known and len(known) == len(mixed) else None), 0
