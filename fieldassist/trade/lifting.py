"""Lifting: what a piece weighs, who may lift it, and the revised NIOSH lifting equation.

The equation follows DHHS (NIOSH) Publication 94-110 (1994; revised September 2021 with the same formulas),
team lifts HSE L23 (Manual Handling Operations Regulations 1992, guidance), suction lifters EN 13155
(2003+A2:2009). All are guidance: local rules and the site's own assessment come first.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal, get_args

from fieldassist.trade.basis import Basis, OutOfRange, Standing
from fieldassist.trade.quantities import System, format_quantity

__all__ = [
    "COUPLING_MULTIPLIERS",
    "FREQUENCY_MULTIPLIERS",
    "NOT_COVERED",
    "Condition",
    "Constants",
    "Coupling",
    "Duration",
    "HandlingFilter",
    "LiftAdvice",
    "LiftingIndex",
    "Multipliers",
    "PieceWeight",
    "Rounding",
    "SuctionMargin",
    "Task",
    "TeamCapacity",
    "WeightLimit",
    "average_frequency",
    "check_covered",
    "composite_lifting_index",
    "duration_class",
    "frequency_multiplier",
    "handling_filter",
    "horizontal_distance",
    "lifting_index",
    "lower_limit",
    "people_needed",
    "piece_weight",
    "recommended_weight_limit",
    "suction_margin",
    "team_capacity",
    "who_may_lift",
]

# --- the piece
# ------------------------------------------------------------------------------------------------

_DENSITY = Basis(
    "",
    standing=Standing.MEMORY,
    note="Fired porcelain weighs 2300 to 2450 kg/m³; mesh backing, frame and crate come on top. Weigh one piece.",
)
_OWN_DENSITY = Basis("density as given", standing=Standing.CREW)
_WEIGHED = Basis("weighed", standing=Standing.CREW)
DENSITY_KG_M3 = 2350.0


@dataclass(frozen=True, slots=True)
class PieceWeight:
    """Mass of one piece [kg], of a square metre of it [kg/m2], and where the figure comes from."""

    kg: float
    kg_per_m2: float
    basis: Basis


def piece_weight(
    length_mm: float,
    width_mm: float,
    thickness_mm: float,
    density_kg_m3: float = DENSITY_KG_M3,
    weighed_kg: float | None = None,
) -> PieceWeight:
    """What one tile or panel weighs.

    m = l w t rho 1e-9, m / A = t rho 1e-3; a weighed piece goes before a computed one.

    Parameters: length_mm, width_mm, thickness_mm [mm]; density_kg_m3 [kg/m3], 1000 to 4000; weighed_kg, mass
    of one piece on a scale, with all that is lifted with it [kg]. Result: `PieceWeight`.
    Errors: `ValueError` for a figure that is not above zero; `OutOfRange` for another density.

    >>> weight = piece_weight(1000, 3000, 6)
    >>> round(weight.kg, 1), round(weight.kg_per_m2, 1)
    (42.3, 14.1)
    >>> piece_weight(1000, 3000, 6, weighed_kg=45.0).kg
    45.0

    References: density 2300 to 2450 kg/m3, from memory of ceramics literature.
    """
    for name, value in (("length", length_mm), ("width", width_mm), ("thickness", thickness_mm)):
        if not (math.isfinite(value) and value > 0):
            raise ValueError(f"a {name} of {value} mm is no piece; give it above zero")
    area = length_mm * width_mm / 1e6
    if weighed_kg is not None:
        if not (math.isfinite(weighed_kg) and weighed_kg > 0):
            raise ValueError(f"a piece of {weighed_kg} kg cannot be; weigh it again")
        return PieceWeight(weighed_kg, weighed_kg / area, _WEIGHED)
    if not 1000 <= density_kg_m3 <= 4000:
        raise OutOfRange(
            f"{density_kg_m3} kg/m³ is no density of tile or stone (1000 to 4000, porcelain about 2350); "
            "check the unit, or weigh a piece."
        )
    per_m2 = thickness_mm * density_kg_m3 / 1000
    basis = _DENSITY if density_kg_m3 == DENSITY_KG_M3 else _OWN_DENSITY
    return PieceWeight(per_m2 * area, per_m2, basis)


# --- teams
# ----------------------------------------------------------------------------------------------------

_TEAM = Basis("HSE L23", "¶120", standing=Standing.READ)
_TEAM_OF_FOUR = Basis(
    "HSE L23",
    "¶120",
    standing=Standing.READ,
    note="It gives factors for two and three people and calls more than four unlikely to work. For four no "
    "factor was "
    "seen: they are counted as the three strongest, the fourth steers and steadies.",
)
_ALONE = Basis("the person's own limit", standing=Standing.CREW)
TEAM_FACTORS: Mapping[int, float] = {1: 1.0, 2: 2 / 3, 3: 1 / 2}
_HAIR = 1e-9


@dataclass(frozen=True, slots=True)
class TeamCapacity:
    """What a team may lift together [kg]; factor: share of the sum of the single limits; caution, or
    empty."""

    kg: float
    factor: float
    basis: Basis
    caution: str = ""


def team_capacity(single_limits_kg: Sequence[float]) -> TeamCapacity:
    """What a team may lift together, from what each may lift alone.

    | people | capacity |
    |---|---|
    | 2 | 2/3 of the sum |
    | 3 | 1/2 of the sum |
    | 4 | as the three strongest: no factor is published |
    | more | refused: unlikely to work |

    Parameters: single_limits_kg, one limit a person [kg], each above 0. Result: `TeamCapacity`. The caution
    says when an even share would be more than the weakest may lift alone: seldom is a load shared evenly.
    Errors: `OutOfRange` for more than four; `ValueError` for nobody, or a limit that is not above zero.

    >>> round(team_capacity([20, 20]).kg, 2), team_capacity([20, 20, 20]).kg
    (26.67, 30.0)

    References: HSE L23 ¶120. A rival factor of 0.85 for two people (EN 1005-2) is known from memory only.
    """
    limits = [float(limit) for limit in single_limits_kg]
    if not limits:
        raise ValueError("nobody is lifting; give the single limit of each person")
    for limit in limits:
        if not (math.isfinite(limit) and limit > 0):
            raise ValueError(f"a single limit of {limit} kg is none; give what each may lift alone, above zero")
    people = len(limits)
    if people > 4:
        raise OutOfRange(
            f"a team of {people} is unlikely to work (HSE L23): people get in each other's way and the load "
            "is not "
            "shared. Use a lifting frame, a trolley or a hoist."
        )
    if people == 4:
        kg = TEAM_FACTORS[3] * sum(sorted(limits)[1:])
        basis = _TEAM_OF_FOUR
    else:
        kg = TEAM_FACTORS[people] * sum(limits)
        basis = _TEAM if people > 1 else _ALONE
    caution = ""
    if people > 1 and kg / people > min(limits) * (1 + _HAIR):
        caution = (
            f"An even share of {kg / people:.1f} kg is more than the {min(limits):g} kg that the weakest "
            "may lift "
            "alone: keep the load under what that person can hold, or change the team."
        )
    return TeamCapacity(kg, kg / sum(limits), basis, caution)


# HSE's starting figure for a load held close, between waist and knuckles: a filter, not a limit.
HSE_FILTER_KG = 25.0


def people_needed(weight_kg: float, single_limit_kg: float = HSE_FILTER_KG) -> int:
    """The smallest team, of people with equal single limits, that may lift a weight by hand.

    Parameters: weight_kg [kg]; single_limit_kg, what each may lift alone [kg]; the default is HSE's filter
    for a man with the load held close between waist and knuckles. Result: 1, 2 or 3. A fourth adds nothing
    that is published.
    Errors: `OutOfRange` when no team may, with what to do; `ValueError` for figures not above zero.

    >>> people_needed(16.9), people_needed(28), people_needed(36)
    (1, 2, 3)

    References: HSE L23 ¶120 and its guideline filter.
    """
    _positive("weight", weight_kg)
    for people in sorted(TEAM_FACTORS):
        capacity = team_capacity([single_limit_kg] * people)
        if weight_kg <= capacity.kg * (1 + _HAIR):
            return people
    raise OutOfRange(
        f"{weight_kg:g} kg is more than three people may lift together ({capacity.kg:g} kg at "
        f"{single_limit_kg:g} kg "
        "each), and nothing published lets a fourth count. Use a lifting frame on a trolley, a hoist or a "
        "panel "
        "lifter, or have the lift assessed."
    )


def _positive(what: str, value: float) -> None:
    if not (math.isfinite(value) and value > 0):
        raise ValueError(f"a {what} of {value} kg cannot be; give it above zero")


@dataclass(frozen=True, slots=True)
class HandlingFilter:
    """A weight below which a lift needs no fuller assessment [kg]; cuts: what lowered it."""

    kg: float
    cuts: tuple[str, ...]
    basis: Basis


_FILTERS_KG: Mapping[str, tuple[float, Standing]] = {
    "man": (HSE_FILTER_KG, Standing.REPORTED),
    "woman": (16.0, Standing.MEMORY),
}


def handling_filter(
    person: Literal["man", "woman"] = "man", lifts_per_min: float = 0.0, twist_deg: float = 0.0
) -> HandlingFilter:
    """HSE's filter for one person, the load held close to the body between waist and knuckles.

    | lifts per minute | cut | | twist | cut |
    |---|---|---|---|---|
    | up to 0.5 (from memory) | none | | up to 45 degrees | none |
    | up to 2 | 30 % | | up to 90 degrees | 10 % |
    | up to 8 | 50 % | | more | 20 % |
    | more | 80 % | | | |

    The source names 1 to 2, 5 to 8 and over 12 lifts a minute; between them the larger cut counts. Both cuts
    are applied one after the other, which the source leaves open. It is a filter and not a limit: above it
    the lift wants a fuller assessment, and below it there may still be reason for one.

    Parameters: person; lifts_per_min [1/min], at least 0; twist_deg, turn of the trunk [degrees], 0 to 180.
    Result: `HandlingFilter` [kg]. Errors: `ValueError` outside these.

    >>> handling_filter().kg, handling_filter("man", lifts_per_min=2, twist_deg=60).kg
    (25.0, 15.75)

    References: HSE L23 and INDG143: 25 kg as reported, 16 kg from memory; cuts as reprinted in an employer's
    handbook.
    """
    if person not in _FILTERS_KG:
        raise ValueError(f"{person!r} has no filter; allowed: man, woman (or give the person's own limit)")
    if not (math.isfinite(lifts_per_min) and lifts_per_min >= 0):
        raise ValueError(f"{lifts_per_min} lifts a minute cannot be; give zero or more")
    if not 0 <= twist_deg <= 180:
        raise ValueError(f"a twist of {twist_deg} degrees cannot be; give 0 to 180")
    kg, standing = _FILTERS_KG[person]
    cuts: list[str] = []
    pace = 0.0
    if lifts_per_min > 0.5:
        pace = 0.3 if lifts_per_min <= 2 else 0.5 if lifts_per_min <= 8 else 0.8
        cuts.append(f"{pace * 100:g} % for {lifts_per_min:g} lifts a minute")
    turn = 0.0
    if twist_deg > 45:
        turn = 0.1 if twist_deg <= 90 else 0.2
        cuts.append(f"{turn * 100:g} % for a twist of {twist_deg:g} degrees")
    basis = Basis("HSE L23", "guideline filter", standing=standing, note="A filter, not a limit.")
    return HandlingFilter(kg * (1 - pace) * (1 - turn), tuple(cuts), basis)


# --- suction lifters
# --------------------------------------------------------------------------------------------

SUCTION_FACTOR = 2.0
_EN_13155 = Basis(
    "EN 13155",
    "",
    "2003+A2:2009",
    note="Holding at the low end of the working vacuum, friction and motion included; on building sites two "
    "circuits, "
    "each meeting the rule.",
)
_HAND_CUPS = Basis(
    "factor 2 of EN 13155",
    standing=Standing.PRACTICE,
    note="Hand-held cups and carrying frames lie outside EN 13155: the maker's rating holds, and the same factor.",
)
SUCTION_CHECKS = (
    "Pads clean and undamaged, tile face dry, smooth and free of dust.",
    "Gauge or plunger in its range, and looked at again while carrying.",
    "Lift a hand's width and hold before you carry; nobody under the panel.",
    "Never on textured or cracked tile.",
)


@dataclass(frozen=True, slots=True)
class SuctionMargin:
    """What a suction lifter holds against what hangs from it.

    factor: holding over weight, of the weakest circuit where each must hold alone; required; passed; reasons,
    why not; checks before the lift; basis.
    """

    factor: float
    required: float
    passed: bool
    reasons: tuple[str, ...]
    checks: tuple[str, ...]
    basis: Basis


def suction_margin(
    weight_kg: float, holding_kg: Sequence[float], *, hoisted: bool = False, rated: bool = False
) -> SuctionMargin:
    """Whether a suction lifter holds a piece with the margin asked for.

    factor = holding / weight >= 2. Carried by hand, the cups add up. Hung from a hoist on a building site
    there are at least two circuits and each must hold twice the weight alone.

    Parameters: weight_kg, the piece with all that hangs from the pads [kg]; holding_kg, what each circuit (by
    hand: each cup) holds at the low end of its working vacuum in the position used (upright it is the smaller
    figure) [kg]; hoisted; rated, when the figures are working loads in which the maker's factor is contained
    already (then factor >= 1 is asked for).
    Result: `SuctionMargin`. Errors: `ValueError` for figures not above zero, or no circuit.

    >>> suction_margin(42.3, [50.0, 50.0]).passed, suction_margin(42.3, [50.0, 50.0], hoisted=True).passed
    (True, False)

    References: EN 13155 (2003+A2:2009), as reported. In the United Kingdom lifting accessories are examined
    at least every six months (LOLER 1998).
    """
    _positive("weight", weight_kg)
    circuits = list(holding_kg)
    if not circuits:
        raise ValueError("the lifter has no circuit; give what each circuit or cup holds, in kg")
    for holding in circuits:
        _positive("holding", holding)
    required = 1.0 if rated else SUCTION_FACTOR
    what = "working load" if rated else "holding"
    reasons: list[str] = []
    held = min(circuits) if hoisted else sum(circuits)
    factor = held / weight_kg
    if hoisted and len(circuits) < 2:
        reasons.append("one vacuum circuit; on a building site a hoisted lifter needs two, each able to hold alone")
    if factor < required * (1 - _HAIR):
        whose = "the weaker circuit's" if hoisted and len(circuits) > 1 else "its"
        reasons.append(
            f"{whose} {what} of {held:g} kg is {factor:.2f} times the {weight_kg:g} kg piece; {required:g} is required"
        )
    basis = _EN_13155 if hoisted else _HAND_CUPS
    return SuctionMargin(factor, required, not reasons, tuple(reasons), SUCTION_CHECKS, basis)


# --- who may lift what
# -----------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class LiftAdvice:
    """Who may lift a piece.

    people: smallest team by hand, None when none may; words for the crew; cautions; basis.
    """

    people: int | None
    words: str
    cautions: tuple[str, ...]
    basis: Basis


_LIFT_CAUTIONS = (
    "The figures hold for a load held close, between waist and knuckles, on a clear dry floor: kneeling, "
    "reaching, "
    "twisting, stairs and wind take much of it away.",
    "One person calls the lift; cut-resistant gloves for the edges.",
    "A guide, not a permit: the site's own assessment and local rules come first.",
)


def who_may_lift(
    weight_kg: float,
    single_limit_kg: float = HSE_FILTER_KG,
    people_present: int | None = None,
    *,
    system: System = "metric",
) -> LiftAdvice:
    """Who may lift a piece by hand, in words.

    Parameters: weight_kg [kg]; single_limit_kg, what each may lift alone [kg]; people_present, None when
    nobody was counted; system, in which the words give weights.
    Result: `LiftAdvice`. Errors: `ValueError` for figures not above zero.

    >>> who_may_lift(28.2).words
    '28.2 kg: two people (together up to 33.3 kg).'
    >>> who_may_lift(42.3).people is None
    True

    References: HSE L23 ¶120 and its guideline filter; see `team_capacity`.
    """
    _positive("weight", weight_kg)
    _positive("single limit", single_limit_kg)
    if people_present is not None and people_present < 1:
        raise ValueError(f"{people_present} people cannot lift; count who is there")
    shown = format_quantity(weight_kg, "kg", system)
    try:
        people = people_needed(weight_kg, single_limit_kg)
    except OutOfRange:
        most = format_quantity(team_capacity([single_limit_kg] * 3).kg, "kg", system)
        words = (
            f"{shown}: too heavy by hand alone (three people together up to {most}; a fourth can steer, and "
            "more get "
            "in each other's way). Use a frame on a trolley, a hoist or a panel lifter, or have the lift "
            "assessed."
        )
        return LiftAdvice(None, words, _LIFT_CAUTIONS, _TEAM)
    capacity = team_capacity([single_limit_kg] * people)
    together = format_quantity(capacity.kg, "kg", system)
    if people == 1:
        words = f"{shown}: one person (alone up to {together})."
    else:
        words = f"{shown}: {('two', 'three')[people - 2]} people (together up to {together})."
    if people_present is not None and people_present < people:
        words += f" With {people_present} here, wait for help or use a lifter."
    basis = handling_filter().basis if people == 1 and single_limit_kg == HSE_FILTER_KG else capacity.basis
    return LiftAdvice(people, words, _LIFT_CAUTIONS, basis)


# --- the revised NIOSH lifting equation
# ------------------------------------------------------------------------

Constants = Literal["metric", "us"]
Rounding = Literal["none", "manual"]
Duration = Literal["short", "moderate", "long"]
Coupling = Literal["good", "fair", "poor"]
Condition = Literal[
    "kneeling",
    "seated",
    "one hand",
    "more than one person",
    "carrying",
    "confined space",
    "unstable load",
    "slippery floor",
    "pushing or pulling",
    "hot or cold air",
]

_NIOSH = Basis("DHHS (NIOSH) Publication 94-110", "", "1994, rev. 2021", note="Formulas alike in both editions.")
_NIOSH_SCOPE = "the revised NIOSH lifting equation (Publication 94-110) does not cover it"

NOT_COVERED: Mapping[Condition, str] = {
    "kneeling": "Kneeling to lift loads knees and back in a way the equation was not made for: stand up, or "
    "raise the "
    "work.",
    "seated": "Lifting while seated was left out of the equation: stand up.",
    "one hand": "The equation is for both hands: take the piece with both, or use a lifter.",
    "more than one person": "The equation is for one person: for a team see the team capacity.",
    "carrying": "Carrying more than one or two steps was left out: use a trolley, and judge the lift by itself.",
    "confined space": "Where space is tight the posture is not the one the equation assumes: make room or "
    "use a lifter.",
    "unstable load": "A load that shifts or bends was left out: stiffen it with a frame.",
    "slippery floor": "The equation assumes firm footing (friction of about 0.4): dry and clear the floor.",
    "pushing or pulling": "The equation is for lifting and lowering only.",
    "hot or cold air": "The equation assumes 19 to 26 °C and 35 to 50 % humidity: plan more rest and fewer lifts.",
}


@dataclass(frozen=True, slots=True)
class _ConstantSet:
    # Lengths in the unit of the equation: cm or in.
    load_kg: float
    mm: float
    h_least: float
    h_most: float
    v_best: float
    v_slope: float
    v_most: float
    d_gain: float
    d_least: float
    d_most: float
    v_low: float
    # Entries of the printed tables that are not the formula rounded to two decimals.
    h_table: Mapping[float, float]
    d_table: Mapping[float, float]


POUND_KG = 0.45359237
_SETS: Mapping[str, _ConstantSet] = {
    "metric": _ConstantSet(23.0, 10.0, 25.0, 63.0, 75.0, 0.003, 175.0, 4.5, 25.0, 175.0, 25.0, {}, {130.0: 0.86}),
    "us": _ConstantSet(
        51 * POUND_KG,
        25.4,
        10.0,
        25.0,
        30.0,
        0.0075,
        70.0,
        1.8,
        10.0,
        70.0,
        10.0,
        {22.0: 0.46, 23.0: 0.44},
        {},
    ),
}

# Table 5: (V under 30 in / 75 cm, V from there up), by lifts per minute.
FREQUENCY_MULTIPLIERS: Mapping[Duration, Mapping[float, tuple[float, float]]] = {
    "short": {
        0.2: (1.00, 1.00),
        0.5: (0.97, 0.97),
        1: (0.94, 0.94),
        2: (0.91, 0.91),
        3: (0.88, 0.88),
        4: (0.84, 0.84),
        5: (0.80, 0.80),
        6: (0.75, 0.75),
        7: (0.70, 0.70),
        8: (0.60, 0.60),
        9: (0.52, 0.52),
        10: (0.45, 0.45),
        11: (0.41, 0.41),
        12: (0.37, 0.37),
        13: (0.00, 0.34),
        14: (0.00, 0.31),
        15: (0.00, 0.28),
    },
    "moderate": {
        0.2: (0.95, 0.95),
        0.5: (0.92, 0.92),
        1: (0.88, 0.88),
        2: (0.84, 0.84),
        3: (0.79, 0.79),
        4: (0.72, 0.72),
        5: (0.60, 0.60),
        6: (0.50, 0.50),
        7: (0.42, 0.42),
        8: (0.35, 0.35),
        9: (0.30, 0.30),
        10: (0.26, 0.26),
        11: (0.00, 0.23),
        12: (0.00, 0.21),
        13: (0.00, 0.00),
        14: (0.00, 0.00),
        15: (0.00, 0.00),
    },
    "long": {
        0.2: (0.85, 0.85),
        0.5: (0.81, 0.81),
        1: (0.75, 0.75),
        2: (0.65, 0.65),
        3: (0.55, 0.55),
        4: (0.45, 0.45),
        5: (0.35, 0.35),
        6: (0.27, 0.27),
        7: (0.22, 0.22),
        8: (0.18, 0.18),
        9: (0.00, 0.15),
        10: (0.00, 0.13),
        11: (0.00, 0.00),
        12: (0.00, 0.00),
        13: (0.00, 0.00),
        14: (0.00, 0.00),
        15: (0.00, 0.00),
    },
}

# Table 7: (V under 30 in / 75 cm, V from there up).
COUPLING_MULTIPLIERS: Mapping[Coupling, tuple[float, float]] = {
    "good": (1.00, 1.00),
    "fair": (0.95, 1.00),
    "poor": (0.90, 0.90),
}


@dataclass(frozen=True, slots=True)
class Multipliers:
    """The six multipliers, each from 0 to 1."""

    horizontal: float
    vertical: float
    distance: float
    asymmetric: float
    frequency: float
    coupling: float

    @property
    def product(self) -> float:
        """All six multiplied.

        >>> Multipliers(1.0, 0.5, 1.0, 1.0, 0.5, 1.0).product
        0.25
        """
        return self.horizontal * self.vertical * self.distance * self.asymmetric * self.frequency * self.coupling


@dataclass(frozen=True, slots=True)
class WeightLimit:
    """The recommended weight limit at one end of a lift.

    kg [kg]; multipliers; load_constant_kg [kg]; constants and rounding used; reasons, why nothing may be
    lifted like that (empty otherwise); basis.
    """

    kg: float
    multipliers: Multipliers
    load_constant_kg: float
    constants: Constants
    rounding: Rounding
    reasons: tuple[str, ...]
    basis: Basis

    @property
    def pounds(self) -> float:
        """The limit [lb].

        >>> limit = recommended_weight_limit(254, 762, 254, 0, 0.2, "short", "good", constants="us")
        >>> round(limit.pounds, 6)
        51.0
        """
        return self.kg / POUND_KG

    @property
    def without_frequency_kg(self) -> float:
        """The frequency-independent limit that the composite index takes [kg].

        >>> limit = recommended_weight_limit(250, 750, 250, 0, 1, "long", "good")
        >>> limit.kg, limit.without_frequency_kg
        (17.25, 23.0)
        """
        m = self.multipliers
        return (
            self.load_constant_kg
            * Multipliers(m.horizontal, m.vertical, m.distance, m.asymmetric, 1.0, m.coupling).product
        )


@dataclass(frozen=True, slots=True)
class LiftingIndex:
    """Load over recommended limit: index, None when nothing may be lifted like that; words; basis."""

    index: float | None
    words: str
    basis: Basis


@dataclass(frozen=True, slots=True)
class Task:
    """One of several lifting tasks of a job, for the composite index.

    limit_kg: its limit without the frequency multiplier [kg]; lifts_per_min; average_kg: average load [kg];
    greatest_kg: greatest load [kg], the average when None; low: the lift begins under 30 in (75 cm).
    """

    limit_kg: float
    lifts_per_min: float
    average_kg: float
    greatest_kg: float | None = None
    low: bool = True


def check_covered(conditions: Iterable[Condition]) -> None:
    """Refuse a lift that the equation was not made for.

    Parameters: conditions, of `NOT_COVERED`: kneeling, seated, one hand, more than one person, carrying,
    confined space, unstable load, slippery floor, pushing or pulling, hot or cold air.
    Errors: `OutOfRange` with the reason for each; `ValueError` for another word.

    >>> check_covered([])
    >>> check_covered(["kneeling"])  # doctest: +ELLIPSIS
    Traceback (most recent call last):
        ...
    fieldassist.trade.basis.OutOfRange: No figure for this lift: the revised NIOSH lifting equation ...

    References: DHHS (NIOSH) Publication 94-110, limitations; the line on teams follows from its one-person
    scope.
    """
    given = list(conditions)
    for condition in given:
        if condition not in NOT_COVERED:
            raise ValueError(f"{condition!r} is not a condition of a lift; allowed: {', '.join(NOT_COVERED)}")
    if given:
        raise OutOfRange(f"No figure for this lift: {_NIOSH_SCOPE}. " + " ".join(NOT_COVERED[c] for c in given))


def horizontal_distance(load_depth_mm: float, vertical_mm: float, constants: Constants = "metric") -> float:
    """The horizontal distance H of the hands from the ankles, when it cannot be measured.

    H = 8 in + W/2 (20 cm + W/2) for V >= 10 in (25 cm), else 10 in + W/2 (25 cm + W/2).

    Parameters: load_depth_mm, W, depth of the load front to back [mm]; vertical_mm, V, height of the hands
    [mm]; constants. Result: H [mm]. Errors: `ValueError` for figures below zero or other constants.

    >>> horizontal_distance(400, 700), horizontal_distance(400, 100)
    (400.0, 450.0)

    References: DHHS (NIOSH) Publication 94-110 (rev. 2021) p. 8.
    """
    fixed = _constants(constants)
    _length("depth of the load", load_depth_mm)
    _length("height of the hands", vertical_mm)
    reach = {"metric": (20.0, 25.0), "us": (8.0, 10.0)}[constants]
    low = vertical_mm / fixed.mm < fixed.v_low - _HAIR
    return reach[1 if low else 0] * fixed.mm + load_depth_mm / 2


def duration_class(work_min: float, recovery_min: float, edition: Literal["2021", "1994"] = "2021") -> Duration:
    """Which column of the frequency table a stretch of lifting belongs to.

    | column | work | followed by light work of at least |
    |---|---|---|
    | short | up to 1 h | 1.0 x work (2021), 1.2 x work (1994) |
    | moderate | up to 2 h | 0.3 x work |
    | long | up to 8 h | – |

    Work without the recovery falls to the next column.

    Parameters: work_min, recovery_min [min]; edition. Errors: `OutOfRange` for more than 8 h; `ValueError`
    for figures below zero or another edition.

    >>> duration_class(45, 50), duration_class(45, 50, "1994"), duration_class(45, 0)
    ('short', 'moderate', 'long')

    References: DHHS (NIOSH) Publication 94-110 (1994; rev. 2021).
    """
    if edition not in ("2021", "1994"):
        raise ValueError(f"edition {edition!r} is unknown; allowed: 2021, 1994")
    if not (math.isfinite(work_min) and work_min > 0 and recovery_min >= 0):
        raise ValueError("give the minutes of lifting above zero, and the minutes of light work after it")
    if work_min > 480:
        raise OutOfRange(f"{work_min / 60:g} h of lifting a day: {_NIOSH_SCOPE} beyond 8 h. Share the work.")
    if work_min <= 60 and recovery_min >= work_min * (1.0 if edition == "2021" else 1.2) - _HAIR:
        return "short"
    if work_min <= 120 and recovery_min >= 0.3 * work_min - _HAIR:
        return "moderate"
    return "long"


def average_frequency(lifts_per_min: float, burst_min: float) -> float:
    """The frequency to enter when lifts come in bursts: their number over a window of 15 min.

    F = f b / 15, for bursts up to 15 min.

    Parameters: lifts_per_min within the burst [1/min], up to 15; burst_min [min], up to 15. Result: [1/min].
    Errors: `OutOfRange` beyond these, `ValueError` below zero.

    >>> round(average_frequency(10, 8), 2)
    5.33

    References: DHHS (NIOSH) Publication 94-110, with this worked figure.
    """
    if not (lifts_per_min >= 0 and burst_min >= 0):
        raise ValueError("give lifts a minute and minutes of the burst, zero or more")
    if lifts_per_min > 15 or burst_min > 15:
        raise OutOfRange(
            "bursts are averaged up to 15 lifts a minute and 15 min; beyond, enter the lifts a minute as "
            "they are "
            "(over 15 nothing may be lifted)."
        )
    return lifts_per_min * burst_min / 15


def frequency_multiplier(lifts_per_min: float, duration: Duration, low: bool) -> float:
    """The frequency multiplier FM of table 5, straight line between its rows.

    Below 0.2 lifts a minute the first row counts. Past the last row that allows anything, nothing is allowed:
    the table is not interpolated down into its zeros.

    Parameters: lifts_per_min [1/min], at least 0; duration; low, the lift begins under 30 in (75 cm).
    Result: 0 to 1. Errors: `ValueError` outside these.

    >>> round(frequency_multiplier(2.4, "short", True), 3), frequency_multiplier(12.5, "short", True)
    (0.898, 0.0)

    References: DHHS (NIOSH) Publication 94-110 table 5; .898 at 2.4 a minute is from its example 7.
    """
    if duration not in get_args(Duration):
        raise ValueError(f"{duration!r} is no duration; allowed: {', '.join(get_args(Duration))}")
    if not (math.isfinite(lifts_per_min) and lifts_per_min >= 0):
        raise ValueError(f"{lifts_per_min} lifts a minute cannot be; give zero or more")
    column = 0 if low else 1
    rows = [(rate, pair[column]) for rate, pair in FREQUENCY_MULTIPLIERS[duration].items() if pair[column] > 0]
    if lifts_per_min <= rows[0][0]:
        return rows[0][1]
    for (rate, value), (next_rate, next_value) in pairwise(rows):
        if lifts_per_min <= next_rate:
            return value + (next_value - value) * (lifts_per_min - rate) / (next_rate - rate)
    return 0.0


def _constants(constants: Constants) -> _ConstantSet:
    if constants not in _SETS:
        raise ValueError(f"{constants!r} are no constants of the equation; allowed: metric, us")
    return _SETS[constants]


def _length(what: str, value: float) -> None:
    if not (math.isfinite(value) and value >= 0):
        raise ValueError(f"the {what} is {value} mm; measure it again, from zero up")


def _two_decimals(value: float) -> float:
    # Half up, as the manual rounds .895 to .90.
    return math.floor(value * 100 + 0.5 + 1e-7) / 100


def recommended_weight_limit(
    horizontal_mm: float,
    vertical_mm: float,
    distance_mm: float,
    angle_deg: float,
    lifts_per_min: float,
    duration: Duration,
    coupling: Coupling,
    *,
    origin_vertical_mm: float | None = None,
    constants: Constants = "metric",
    rounding: Rounding = "none",
    conditions: Iterable[Condition] = (),
) -> WeightLimit:
    """The recommended weight limit (RWL) at one end of a lift with both hands by one standing person.

    RWL = LC HM VM DM AM FM CM

    | term | metric (cm, kg) | us (in, lb) | zero when |
    |---|---|---|---|
    | LC | 23 | 51 | |
    | HM | 25/H, H at least 25 | 10/H, H at least 10 | H > 63 cm, 25 in |
    | VM | 1 - 0.003 abs(V - 75) | 1 - 0.0075 abs(V - 30) | V > 175 cm, 70 in |
    | DM | 0.82 + 4.5/D, D at least 25 | 0.82 + 1.8/D, D at least 10 | D > 175 cm, 70 in |
    | AM | 1 - 0.0032 A | same | A > 135 degrees |
    | FM | table 5, V at the origin | same | see `frequency_multiplier` |
    | CM | table 7, V at this end | same | |

    The two sets of constants are not conversions of each other (51 lb is 23.13 kg): results differ by up to
    some 3 percent, so a job stays with one. With rounding "manual" each multiplier is rounded to two decimals
    (H of 22 and 23 in and D of 130 cm as the manual's tables print them), which is how its worked examples
    come out.

    Parameters: horizontal_mm, H, hands from the middle between the ankles [mm]; vertical_mm, V, height of the
    hands at this end [mm]; distance_mm, D, height travelled [mm]; angle_deg, A, turn out of the
    straight-ahead [degrees]; lifts_per_min, F [1/min]; duration; coupling, how the hands hold it (most bare
    tile is "poor", and gloves make it worse); origin_vertical_mm, V where the lift began, when this is the
    other end [mm]; constants; rounding; conditions, of `NOT_COVERED`, that hold here.
    Result: `WeightLimit`, zero with reasons where a multiplier is zero.
    Limits: see `check_covered`; up to 8 h a day.
    Errors: `OutOfRange` for a condition not covered; `ValueError` for a figure below zero or an unknown word.

    >>> limit = recommended_weight_limit(250, 550, 950, 0, 3, "short", "fair")
    >>> round(limit.kg, 1)
    15.7

    References: DHHS (NIOSH) Publication 94-110 (1994; rev. 2021) pp. 1, 7, tables 5 and 7.
    """
    check_covered(conditions)
    fixed = _constants(constants)
    if rounding not in get_args(Rounding):
        raise ValueError(f"{rounding!r} is no rounding; allowed: {', '.join(get_args(Rounding))}")
    if coupling not in COUPLING_MULTIPLIERS:
        raise ValueError(f"{coupling!r} is no coupling; allowed: {', '.join(COUPLING_MULTIPLIERS)}")
    lengths = {
        "horizontal distance": horizontal_mm,
        "height of the hands": vertical_mm,
        "travel": distance_mm,
    }
    if origin_vertical_mm is not None:
        lengths["height at the origin"] = origin_vertical_mm
    for what, value in lengths.items():
        _length(what, value)
    if not 0 <= angle_deg <= 180:
        raise ValueError(f"a turn of {angle_deg} degrees cannot be; give 0 to 180, left and right alike")

    h, v, d = (max(value / fixed.mm, 0.0) for value in (horizontal_mm, vertical_mm, distance_mm))
    h, d = max(h, fixed.h_least), max(d, fixed.d_least)
    v_origin = v if origin_vertical_mm is None else origin_vertical_mm / fixed.mm
    reasons: list[str] = []
    hm = fixed.h_least / h
    vm = 1 - fixed.v_slope * abs(v - fixed.v_best)
    dm = 0.82 + fixed.d_gain / d
    am = 1 - 0.0032 * angle_deg
    fm = frequency_multiplier(lifts_per_min, duration, v_origin < fixed.v_best - _HAIR)
    cm = COUPLING_MULTIPLIERS[coupling][0 if v < fixed.v_best - _HAIR else 1]
    if rounding == "manual":
        hm = _from_table(fixed.h_table, h, hm)
        dm = _from_table(fixed.d_table, d, dm)
        vm, am = _two_decimals(vm), _two_decimals(am)

    unit: System = "us" if constants == "us" else "metric"
    if h > fixed.h_most + _HAIR:
        hm = 0.0
        most = format_quantity(fixed.h_most * fixed.mm, "mm", unit)
        reasons.append(f"the hands are farther than {most} from the ankles: bring the piece closer")
    if v > fixed.v_most + _HAIR:
        vm = 0.0
        most = format_quantity(fixed.v_most * fixed.mm, "mm", unit)
        reasons.append(f"the hands are higher than {most}: work from a platform")
    if d > fixed.d_most + _HAIR:
        dm = 0.0
        most = format_quantity(fixed.d_most * fixed.mm, "mm", unit)
        reasons.append(f"the piece travels more than {most} up or down: lift it in two stages")
    if angle_deg > 135:
        am = 0.0
        reasons.append("the trunk turns more than 135 degrees: move the feet or the pile")
    if fm == 0.0:
        reasons.append(f"{lifts_per_min:g} lifts a minute are too many for that long: slow down or share the work")
    multipliers = Multipliers(hm, vm, dm, am, fm, cm)
    return WeightLimit(
        fixed.load_kg * multipliers.product,
        multipliers,
        fixed.load_kg,
        constants,
        rounding,
        tuple(reasons),
        _NIOSH,
    )


def _from_table(misprints: Mapping[float, float], at: float, formula: float) -> float:
    for entry, printed in misprints.items():
        if abs(at - entry) < 1e-6:
            return printed
    return _two_decimals(formula)


def lower_limit(*limits: WeightLimit) -> WeightLimit:
    """The limit that governs when the piece is controlled at both ends (set down with care): the lower.

    Parameters: limits, of the origin and of the destination, computed with one set of constants.
    Errors: `ValueError` for none, or for two sets of constants.

    >>> ends = [recommended_weight_limit(h, 750, 250, 0, 0.2, "short", "good") for h in (250, 500)]
    >>> lower_limit(*ends).kg
    11.5

    References: DHHS (NIOSH) Publication 94-110, significant control at the destination.
    """
    if not limits:
        raise ValueError("no limit was given; compute one for the origin at least")
    if len({(limit.constants, limit.rounding) for limit in limits}) > 1:
        raise ValueError("metric and US constants are not conversions of each other; compute both ends with one set")
    return min(limits, key=lambda limit: limit.kg)


def lifting_index(load_kg: float, limit: WeightLimit) -> LiftingIndex:
    """The lifting index.

    LI = L / RWL. Up to 1 is the goal of design; above 3 the risk is taken to be raised for nearly everyone.

    Parameters: load_kg, L [kg], above 0; limit, from `recommended_weight_limit` or `lower_limit`.
    Result: `LiftingIndex`; index None when the limit is zero. Errors: `ValueError` for a load not above zero.

    >>> limit = recommended_weight_limit(250, 550, 950, 0, 3, "short", "fair")
    >>> round(lifting_index(12, limit).index, 2)
    0.77

    References: DHHS (NIOSH) Publication 94-110; the textbook case from which the figures come prints 0.76.
    """
    _positive("load", load_kg)
    if limit.kg == 0:
        return LiftingIndex(None, "Nothing may be lifted like that: " + "; ".join(limit.reasons) + ".", limit.basis)
    index = load_kg / limit.kg
    return LiftingIndex(index, _index_words(index), limit.basis)


def _index_words(index: float) -> str:
    if index <= 1 + _HAIR:
        return "Within the recommended limit."
    if index <= 3 + _HAIR:
        return "Above the recommended limit, risk is raised for some: bring it closer, slow down or get help."
    return "Over three times the recommended limit, risk is raised for nearly everyone: do not lift it so."


def composite_lifting_index(tasks: Sequence[Task], duration: Duration) -> LiftingIndex:
    """The composite index of a job of several lifting tasks.

    CLI = STLI_1 + sum over j > 1 of FILI_j (1/FM(F_1 + ... + F_j) - 1/FM(F_1 + ... + F_j-1)), tasks in order
    of falling STLI; STLI = average load / (limit FM), FILI = greatest load / limit.

    Parameters: tasks, see `Task`; duration of the job. Result: `LiftingIndex`.
    Errors: `OutOfRange` when the tasks together are too frequent for the table, or one allows nothing;
    `ValueError` for no task or a load not above zero.

    >>> job = [Task(20, 1, 30), Task(20, 2, 20), Task(20, 4, 13.4)]
    >>> round(composite_lifting_index(job, "short").index, 1)
    1.9

    References: DHHS (NIOSH) Publication 94-110 §2.4.5, recalled from memory: 1.6 + 0.07 + 0.20 = 1.9.
    """
    if not tasks:
        raise ValueError("a job needs at least one lifting task; describe one")
    rated: list[tuple[float, Task]] = []
    for task in tasks:
        _positive("load", task.average_kg)
        if task.greatest_kg is not None:
            _positive("greatest load", task.greatest_kg)
        fm = frequency_multiplier(task.lifts_per_min, duration, task.low)
        if task.limit_kg <= 0 or fm == 0:
            raise OutOfRange("one of the tasks allows no load at all; change that task first, then combine")
        rated.append((task.average_kg / (task.limit_kg * fm), task))
    rated.sort(key=lambda pair: pair[0], reverse=True)
    index, first = rated[0]
    rate = first.lifts_per_min
    for _, task in rated[1:]:
        before = frequency_multiplier(rate, duration, task.low)
        rate += task.lifts_per_min
        after = frequency_multiplier(rate, duration, task.low)
        if before == 0 or after == 0:
            raise OutOfRange(f"{rate:g} lifts a minute in all are too many for that long; slow down or share the work")
        greatest = task.average_kg if task.greatest_kg is None else task.greatest_kg
        index += greatest / task.limit_kg * (1 / after - 1 / before)
    return LiftingIndex(index, _index_words(index), _NIOSH)
