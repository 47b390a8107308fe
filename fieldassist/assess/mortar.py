"""Bags, powder, water and batches for an area, and what the bags that were used say about the bed behind the tile."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from fieldassist.assess.assumptions import Assumption, assumed
from fieldassist.assess.inputs import Inputs
from fieldassist.checklist.bags import weigh
from fieldassist.checklist.fields import canonical
from fieldassist.checklist.plan import Mortar
from fieldassist.trade import mortar, ridges, times
from fieldassist.trade.basis import BASES, Basis
from fieldassist.trade.message import Message, Refused, Several, message
from fieldassist.trade.quantities import Quantity

__all__ = ["SHEET", "BagBalance", "BagNeed", "bag_balance", "bag_need"]

# Where yield, water and pot life come from.
SHEET = BASES["data-sheet"]


@dataclass(frozen=True, slots=True)
class BagNeed:
    """What an area takes.

    need: mortar [L], powder [kg], water [L] or None, bags; batches: None where the pace is not known or no batch can
    be planned, and then no_batches says why; assumed; basis of the bag's yield.
    """

    need: mortar.MortarNeed
    batches: mortar.BatchPlan | None
    no_batches: Message | None
    assumed: tuple[Assumption, ...]
    basis: Basis


def bag_need(inputs: Inputs) -> BagNeed:
    """What the area of `inputs` takes, combed as they say.

    Result: `BagNeed`. Errors: `ValueError` for a notch that cannot be; `Refused` where a bag's weight is not known.
    """
    volume = _volume(inputs)
    bag = mortar.bag_yield(inputs.number("bag"), inputs.known("bag_yield"))
    waste = inputs.number("waste")
    need = mortar.mortar_for_area(
        inputs.number("area"),
        volume,
        inputs.number("bag"),
        bag.litres,
        water_l_per_bag=inputs.known("water"),
        waste_percent=waste,
    )
    batches, no_batches = _batches(inputs, volume, bag.litres)
    slake = (assumed("slake"),) if batches is not None and inputs.slake is None else ()
    return BagNeed(need, batches, no_batches, (*inputs.assumptions("waste", "skim"), *slake), bag.basis)


def _volume(inputs: Inputs) -> float:
    return ridges.mortar_per_m2(
        inputs.notch, inputs.number("angle"), sides=inputs.sides.value, skim_mm=inputs.number("skim")
    )


def _batches(inputs: Inputs, volume: float, bag_l: float) -> tuple[mortar.BatchPlan | None, Message | None]:
    hourly = inputs.known("hourly")
    if hourly is None:
        return None, message("assess-pace-not-known")
    try:
        return (
            mortar.batch_plan(
                inputs.number("area"),
                volume,
                bag_l,
                canonical(inputs.pot_life),
                hourly,
                slake_min=times.slake(None if inputs.slake is None else canonical(inputs.slake)).greatest_min,
                waste_percent=inputs.number("waste"),
            ),
            None,
        )
    except Refused as refused:
        return None, refused.told


@dataclass(frozen=True, slots=True)
class BagBalance:
    """Bags said to be used beside those that the pieces set should have taken.

    used [bags]; predicted [bags], None where the plan does not tell enough, and then `missing` says what is missing;
    verdict: as `trade.mortar.mass_balance` gives it, "" where there is none; balance: None where no bag was used;
    bed_mm: the mean bed of the pieces set [mm]; bag_l: of mortar from a bag [L]; pieces set; area_m2 [m2]; assumed;
    basis of the bag's yield.
    """

    used: float
    pieces: int
    area_m2: float
    predicted: float | None = None
    verdict: Literal["", "too little", "as predicted", "more than predicted"] = ""
    balance: mortar.MassBalance | None = None
    missing: Message | None = None
    bed_mm: float | None = None
    bag_l: float | None = None
    assumed: tuple[Assumption, ...] = ()
    basis: Basis | None = None

    @property
    def reason(self) -> Message:
        """Why the verdict is what it is."""
        return message("assess-no-bag-used") if self.balance is None else self.balance.reason

    @property
    def rests_on(self) -> Message:
        """What the prediction rests on. Only where there is one."""
        assert self.bed_mm is not None
        assert self.bag_l is not None
        return message(
            "assess-bags-rest-on",
            pieces=self.pieces,
            area=_quantity(self.area_m2, "m2"),
            bed=_quantity(self.bed_mm, "mm"),
            bag=_quantity(self.bag_l, "L"),
            assumed=Several(tuple(one.told for one in self.assumed), "sentences"),
        )


def _quantity(value: float, unit: str) -> Quantity:
    return Quantity(Fraction(repr(float(value))), unit)


def bag_balance(used: float, sheet: Mortar, area_m2: float, beds_mm: Sequence[float | None]) -> BagBalance:
    """What the bags said to be used come to, against what was set.

    Parameters: used, bags, 0 or more; sheet, the mortar's data; area_m2, faces of the pieces set [m2]; beds_mm, of each
    piece set, the mortar per area of its notch, trowel angle and sides combed [mm = L/m2], None where it cannot be
    computed. Result: `BagBalance`. Waste is the assumption's.
    """
    known = [bed for bed in beds_mm if bed is not None]
    if not beds_mm:
        return BagBalance(used, 0, area_m2, missing=message("assess-no-prediction-nothing-set"))
    if len(known) < len(beds_mm):
        return BagBalance(used, len(beds_mm), area_m2, missing=message("assess-no-prediction-no-bed"))
    if sheet.bag is None:
        return BagBalance(used, len(beds_mm), area_m2, missing=message("assess-no-prediction-no-bag"))
    found = weigh(used, sheet, area_m2, beds_mm)
    assert found is not None  # all that it needs is there
    return BagBalance(
        used,
        len(known),
        area_m2,
        found.need.bags,
        found.verdict,
        found.balance,
        None,
        found.bed_mm,
        found.bag.litres,
        (assumed("waste"),),
        found.bag.basis,
    )
