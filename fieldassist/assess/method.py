"""Whether a notch does for a piece and a base, what would, and how it is combed and set."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from fieldassist.assess.assumptions import Assumption
from fieldassist.assess.inputs import Entries, Inputs, Setting
from fieldassist.checklist import methods
from fieldassist.checklist.fields import canonical
from fieldassist.checklist.methods import Ground
from fieldassist.trade import mortar, ridges
from fieldassist.trade.basis import BASES, Basis
from fieldassist.trade.message import Message, Refused, message
from fieldassist.trade.quantities import Quantity

__all__ = [
    "Bed",
    "Combed",
    "MethodAdvice",
    "OtherMethod",
    "RidgePicture",
    "advise",
    "advise_at_limit",
    "as_entries",
    "bed",
    "picture",
    "setting",
    "usual_notches",
]

# The same relation as in `ridges.advise`.
VOLUME = BASES["volume"]


@dataclass(frozen=True, slots=True)
class OtherMethod:
    """Another way that works, and what to enter for it."""

    told: Message
    entries: Entries


@dataclass(frozen=True, slots=True)
class MethodAdvice:
    """Whether the notch does for a base.

    works: None where it cannot be told, and then reasons say why; bed_mm: mean, after collapse [mm]; contact_percent:
    the most that the ridges can give; base_mm: how far the base is off [mm]; bases by what they are of; alternatives,
    the nearest first; no_way: no notch of the plan and no usual one works; assumed.
    """

    works: bool | None
    base_mm: float
    bed_mm: float | None
    contact_percent: float | None
    reasons: tuple[Message, ...]
    bases: Mapping[Literal["reach", "contact", "bed"], Basis]
    alternatives: tuple[OtherMethod, ...]
    no_way: bool
    assumed: tuple[Assumption, ...]


def _mm(value: float) -> Quantity:
    return Quantity(Fraction(repr(float(value))), "mm")


def _advise(
    inputs: Inputs,
    notches: Mapping[str, ridges.Notch],
    base_mm: float,
    way: Setting | None = None,
) -> tuple[ridges.Advice, ...]:
    over = Ground(
        limits=inputs.limits,
        piece_mm=inputs.piece,
        warpage_mm=inputs.number("warpage"),
        base_mm=base_mm,
        minimum_percent=inputs.contact.minimum_percent,
    )
    return methods.advise(
        notches,
        over,
        skim_mm=inputs.number("skim"),
        angle_deg=inputs.number("angle"),
        seated=way or inputs.setting.value,
    )


def _own(inputs: Inputs, base_mm: float) -> ridges.Advice:
    found = _advise(inputs, {"it": inputs.notch}, base_mm)
    return next(one for one in found if one.sides == inputs.sides.value)


def advise(inputs: Inputs, *, base_mm: float | None = None) -> MethodAdvice:
    """Whether the notch of `inputs` does, over a base that is off by base_mm [mm] (as they say when None).

    Never fails: what cannot be worked out says why.
    """
    base = inputs.number("base") if base_mm is None else base_mm
    rests_on = inputs.assumptions("warpage", "skim", "setting", *(("base",) if base_mm is None else ()))
    try:
        own = _own(inputs, base)
    except Refused as refused:
        return MethodAdvice(None, base, None, None, (refused.told,), {}, (), False, ())
    bases: dict[Literal["reach", "contact", "bed"], Basis] = {
        "reach": VOLUME,
        "contact": inputs.contact.basis,
        "bed": inputs.limits.basis,
    }
    others = () if own.works else _alternatives(inputs, base, own)
    return MethodAdvice(
        own.works,
        base,
        own.bed_mm,
        own.greatest_contact_percent,
        tuple(own.reasons),
        bases,
        others,
        not own.works and not others,
        rests_on,
    )


def advise_at_limit(inputs: Inputs) -> MethodAdvice | None:
    """The same over a base that is off by all that its limit allows; None where the base is known."""
    if inputs.base.assumption is None:
        return None
    found = advise(inputs, base_mm=canonical(inputs.worst))
    return None if found.works is None else found


def _alternatives(inputs: Inputs, base_mm: float, own: ridges.Advice) -> tuple[OtherMethod, ...]:
    """What is nearest to the notch at hand and works: vibrating, a notch of the plan, a usual one.

    Nearest is what leaves the bed that differs least. Common practice, no published source.
    """
    found: list[OtherMethod] = []
    if inputs.setting.value == "by hand":
        same = _advise(inputs, {"it": own.notch}, base_mm, "vibrated")
        if any(one.works and one.sides == own.sides for one in same):
            found.append(OtherMethod(message("assess-try-vibrated"), {"setting": "vibrated"}))
    for whose, notches in (("plan", inputs.at_hand), ("usual", _USUAL)):
        working = [one for one in _advise(inputs, notches, base_mm) if one.works] if notches else []
        if working:
            best = min(working, key=lambda one: abs(one.bed_mm - own.bed_mm))
            notch = best.notch
            told = message(
                f"assess-try-{whose}",
                name=best.name,
                width=_mm(notch.width_mm),
                depth=_mm(notch.depth_mm),
                spacing=_mm(notch.spacing_mm),
                sides=best.sides,
                bed=_mm(best.bed_mm),
            )
            found.append(OtherMethod(told, {**as_entries(notch), "sides": best.sides}))
    return tuple(found)


# The laboratory's trowel is no tool of the site.
_USUAL = {name: notch for name, notch in ridges.COMMON_NOTCHES.items() if name != "laboratory trowel"}


def usual_notches() -> tuple[ridges.Notch, ...]:
    """The notches met in the trade, without the laboratory's."""
    return tuple(_USUAL.values())


def as_entries(notch: ridges.Notch) -> Entries:
    """What is entered for a notch."""
    return {
        "family": notch.family,
        "width": _mm(notch.width_mm),
        "depth": _mm(notch.depth_mm),
        "spacing": _mm(notch.spacing_mm),
    }


# --- bed and contact ----------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Combed:
    """The bed of one way to comb, judged by the mortar's limits."""

    sides: ridges.Sides
    bed_mm: float
    verdict: mortar.BedVerdict

    @property
    def grade(self) -> Literal["thin", "within", "thick"]:
        """The judgement, as a code."""
        grades: Mapping[str, Literal["thin", "within", "thick"]] = {"too thin": "thin", "too thick": "thick"}
        return grades.get(self.verdict.verdict, "within")


@dataclass(frozen=True, slots=True)
class Bed:
    """Ridges, bed and gap.

    ridge: as it is combed; bed_mm: mean, after collapse [mm]; low_mm, high_mm: gap between base and piece at the high
    and at the low places [mm]; contact_percent: the most that the ridges can give; required_percent; ways: combed on
    one side and on both; limits of the mortar; contact_basis; assumed.
    """

    ridge: ridges.Ridge
    bed_mm: float
    low_mm: float
    high_mm: float
    contact_percent: float
    required_percent: float
    ways: tuple[Combed, ...]
    limits: mortar.BedLimits
    contact_basis: Basis
    assumed: tuple[Assumption, ...]


def bed(inputs: Inputs) -> Bed:
    """Ridges, bed and gap of an area. Errors: `ValueError` for a notch or a bed that cannot be."""
    own, limits, need = _own(inputs, inputs.number("base")), inputs.limits, inputs.contact
    notch, angle = inputs.notch, inputs.number("angle")
    low, high = _gap(inputs)
    ways: tuple[ridges.Sides, ...] = ("one", "both")
    beds = {
        sides: ridges.bed_after_collapse(notch, angle, sides=sides, skim_mm=inputs.number("skim")) for sides in ways
    }
    return Bed(
        ridges.ridge(notch, angle),
        own.bed_mm,
        low,
        high,
        own.greatest_contact_percent,
        need.minimum_percent,
        tuple(Combed(sides, mm, mortar.bed_verdict(mm, limits)) for sides, mm in beds.items()),
        limits,
        need.basis,
        inputs.assumptions("warpage", "base", "skim"),
    )


def _gap(inputs: Inputs) -> tuple[float, float]:
    """The gap at the high places and at the low ones: least bed, and warpage and base on top [mm]."""
    low = inputs.limits.minimum_mm
    return low, low + inputs.number("warpage") + inputs.number("base")


def setting(inputs: Inputs) -> tuple[ridges.Slide, ridges.AirPath]:
    """How far a piece is slid, and which way its mortar is combed. Errors: `ValueError` for a notch that cannot be."""
    return ridges.slide_distance(inputs.notch), ridges.air_path(*inputs.piece)


# --- the drawing --------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class RidgePicture:
    """What is drawn of a method, in mm: one ridge on the base, and what becomes of it.

    ridge: outline, its first corner at (0, 0), y up from the base; low_mm, high_mm: gap between base and piece at the
    high and at the low places; both: combed on base and back; leans: the ridge leans, its lean is assumed;
    contact_percent: of the back that the mortar can touch over the gap.
    """

    ridge: tuple[tuple[float, float], ...]
    pitch_mm: float
    height_mm: float
    bed_mm: float
    piece_mm: float
    both: bool
    leans: bool
    low_mm: float
    high_mm: float
    contact_percent: float

    @property
    def filled(self) -> bool:
        """The mortar can fill the gap."""
        return self.contact_percent >= 100


_OUTLINE_POINTS = 24


def picture(inputs: Inputs) -> RidgePicture:
    """The measures of a method's drawing. Errors: `ValueError` for a notch that cannot be."""
    notch, angle = inputs.notch, inputs.number("angle")
    made, own = ridges.ridge(notch, angle), _own(inputs, inputs.number("base"))
    sine = math.sin(math.radians(angle))
    low, high = _gap(inputs)
    return RidgePicture(
        tuple((x, y * sine) for x, y in ridges.outline(notch, _OUTLINE_POINTS)),
        made.pitch_mm,
        made.height_mm,
        own.bed_mm,
        inputs.number("thickness"),
        inputs.sides.value == "both",
        notch.leans,
        low,
        high,
        own.greatest_contact_percent,
    )
