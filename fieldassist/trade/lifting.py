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

from fieldassist.trade.basis import BASES, Basis, OutOfRange
from fieldassist.trade.checks import HAIR, measured, not_negative, one_of, positive, within
from fieldassist.trade.limits import exactly
from fieldassist.trade.message import Figure, Message, Refused, Several, message

__all__ = [
    "COUPLING_MULTIPLIERS",
    "FREQUENCY_MULTIPLIERS",
    "LIFT_CAUTIONS",
    "NOT_COVERED",
    "Condition",
    "Constants",
    "Coupling",
    "Duration",
    "HandlingFilter",
    "LiftAdvice",
    "LiftingIndex",
    "LiftingTask",
    "Multipliers",
    "PieceWeight",
    "Rounding",
    "SuctionMargin",
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
    Errors: `Refused` for a figure that is not above zero; `OutOfRange` for another density.

    >>> weight = piece_weight(1000, 3000, 6)
    >>> round(weight.kg, 1), round(weight.kg_per_m2, 1)
    (42.3, 14.1)
    >>> piece_weight(1000, 3000, 6, weighed_kg=45.0).kg
    45.0

    References: density 2300 to 2450 kg/m3, from memory of ceramics literature.
    """
    positive("side-of-a-tile", length_mm, "mm")
    positive("side-of-a-tile", width_mm, "mm")
    positive("thickness", thickness_mm, "mm")
    area = length_mm * width_mm / 1e6
    if weighed_kg is not None:
        positive("weight", weighed_kg, "kg")
        return PieceWeight(weighed_kg, weighed_kg / area, BASES["weighed"])
    if not 1000 <= density_kg_m3 <= 4000:
        raise OutOfRange(message("lifting-density-outside", density=measured(density_kg_m3, "count")))
    per_m2 = thickness_mm * density_kg_m3 / 1000
    basis = BASES["density" if density_kg_m3 == DENSITY_KG_M3 else "density-given"]
    return PieceWeight(per_m2 * area, per_m2, basis)


# --- teams

TEAM_FACTORS: Mapping[int, float] = {1: 1.0, 2: 2 / 3, 3: 1 / 2}


@dataclass(frozen=True, slots=True)
class TeamCapacity:
    """What a team may lift together [kg]; factor: share of the sum of the single limits; caution, or None."""

    kg: float
    factor: float
    basis: Basis
    caution: Message | None = None


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
    Errors: `OutOfRange` for more than four; `Refused` for nobody, or a limit that is not above zero.

    >>> round(team_capacity([20, 20]).kg, 2), team_capacity([20, 20, 20]).kg
    (26.67, 30.0)

    References: HSE L23 ¶120. A rival factor of 0.85 for two people (EN 1005-2) is known from memory only.
    """
    limits = [float(limit) for limit in single_limits_kg]
    if not limits:
        raise Refused(message("lifting-nobody"))
    for limit in limits:
        positive("single-limit", limit, "kg")
    people = len(limits)
    if people > 4:
        raise OutOfRange(message("lifting-team-too-large", people=people))
    if people == 4:
        kg, basis = TEAM_FACTORS[3] * sum(sorted(limits)[1:]), BASES["team-of-four"]
    else:
        kg, basis = TEAM_FACTORS[people] * sum(limits), BASES["team" if people > 1 else "own-limit"]
    caution = None
    if people > 1 and kg / people > min(limits) * (1 + HAIR):
        shares = {"share": exactly(kg / people, "kg"), "weakest": exactly(min(limits), "kg")}
        caution = message("lifting-share-over-weakest", **shares)
    return TeamCapacity(kg, kg / sum(limits), basis, caution)


# HSE's starting figure for a load held close, between waist and knuckles: a filter, not a limit.
HSE_FILTER_KG = 25.0


def people_needed(weight_kg: float, single_limit_kg: float = HSE_FILTER_KG) -> int:
    """The smallest team, of people with equal single limits, that may lift a weight by hand.

    Parameters: weight_kg [kg]; single_limit_kg, what each may lift alone [kg]; the default is HSE's filter
    for a man with the load held close between waist and knuckles. Result: 1, 2 or 3. A fourth adds nothing
    that is published.
    Errors: `OutOfRange` when no team may, with what to do; `Refused` for figures not above zero.

    >>> people_needed(16.9), people_needed(28), people_needed(36)
    (1, 2, 3)

    References: HSE L23 ¶120 and its guideline filter.
    """
    positive("weight", weight_kg, "kg")
    for people in sorted(TEAM_FACTORS):
        capacity = team_capacity([single_limit_kg] * people)
        if weight_kg <= capacity.kg * (1 + HAIR):
            return people
    masses = {"weight": exactly(weight_kg, "kg"), "most": exactly(capacity.kg, "kg")}
    raise OutOfRange(message("lifting-over-any-team", each=exactly(single_limit_kg, "kg"), **masses))


@dataclass(frozen=True, slots=True)
class HandlingFilter:
    """A weight below which a lift needs no fuller assessment [kg]; cuts: what lowered it."""

    kg: float
    cuts: tuple[Message, ...]
    basis: Basis


_FILTERS_KG: Mapping[str, float] = {"man": HSE_FILTER_KG, "woman": 16.0}


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
    Result: `HandlingFilter` [kg]. Errors: `Refused` outside these.

    >>> handling_filter().kg, handling_filter("man", lifts_per_min=2, twist_deg=60).kg
    (25.0, 15.75)

    References: HSE L23 and INDG143: 25 kg as reported, 16 kg from memory; cuts as reprinted in an employer's
    handbook.
    """
    one_of("person", person, _FILTERS_KG)
    not_negative("lifts-a-minute", lifts_per_min)
    within("twist", twist_deg, 0, 180)
    cuts: list[Message] = []
    pace = 0.0
    if lifts_per_min > 0.5:
        pace = 0.3 if lifts_per_min <= 2 else 0.5 if lifts_per_min <= 8 else 0.8
        cut, rate = exactly(pace * 100, "percent"), exactly(lifts_per_min, "count")
        cuts.append(message("lifting-cut-for-pace", cut=cut, rate=rate))
    turn = 0.0
    if twist_deg > 45:
        turn = 0.1 if twist_deg <= 90 else 0.2
        cut, twist = exactly(turn * 100, "percent"), exactly(twist_deg, "count")
        cuts.append(message("lifting-cut-for-twist", cut=cut, twist=twist))
    kg = _FILTERS_KG[person] * (1 - pace) * (1 - turn)
    return HandlingFilter(kg, tuple(cuts), BASES[f"filter-{person}"])


# --- suction lifters

SUCTION_FACTOR = 2.0
SUCTION_CHECKS = (
    Message("lifting-check-pads"),
    Message("lifting-check-gauge"),
    Message("lifting-check-hold"),
    Message("lifting-check-texture"),
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
    reasons: tuple[Message, ...]
    checks: tuple[Message, ...]
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
    Result: `SuctionMargin`. Errors: `Refused` for figures not above zero, or no circuit.

    >>> suction_margin(42.3, [50.0, 50.0]).passed, suction_margin(42.3, [50.0, 50.0], hoisted=True).passed
    (True, False)

    References: EN 13155 (2003+A2:2009), as reported. In the United Kingdom lifting accessories are examined
    at least every six months (LOLER 1998).
    """
    positive("weight", weight_kg, "kg")
    circuits = list(holding_kg)
    if not circuits:
        raise Refused(message("lifting-no-circuit"))
    for circuit in circuits:
        positive("holding", circuit, "kg")
    required = 1.0 if rated else SUCTION_FACTOR
    reasons: list[Message] = []
    held = min(circuits) if hoisted else sum(circuits)
    factor = held / weight_kg
    if hoisted and len(circuits) < 2:
        reasons.append(Message("lifting-one-circuit"))
    if factor < required * (1 - HAIR):
        figures: dict[str, Figure] = {
            "held": exactly(held, "kg"),
            "factor": exactly(math.floor(factor * 100) / 100, "count"),
            "weight": exactly(weight_kg, "kg"),
            "required": exactly(required, "count"),
            "whose": "weaker" if hoisted and len(circuits) > 1 else "all",
            "figure": "rated" if rated else "holding",
        }
        reasons.append(message("lifting-holds-too-little", **figures))
    basis = BASES["suction-hoisted" if hoisted else "suction-by-hand"]
    return SuctionMargin(factor, required, not reasons, tuple(reasons), SUCTION_CHECKS, basis)


# --- who may lift what


@dataclass(frozen=True, slots=True)
class LiftAdvice:
    """Who may lift a piece.

    people: smallest team by hand, None when none may; words for the crew; cautions; basis.
    """

    people: int | None
    words: Message
    cautions: tuple[Message, ...]
    basis: Basis


LIFT_CAUTIONS = (
    Message("lifting-caution-posture"),
    Message("lifting-caution-gloves"),
    Message("lifting-caution-guide"),
)


def who_may_lift(
    weight_kg: float, single_limit_kg: float = HSE_FILTER_KG, people_present: int | None = None
) -> LiftAdvice:
    """Who may lift a piece by hand, in words.

    Parameters: weight_kg [kg]; single_limit_kg, what each may lift alone [kg]; people_present, None when
    nobody was counted.
    Result: `LiftAdvice`. Errors: `Refused` for figures not above zero.

    >>> advice = who_may_lift(28.2)
    >>> advice.people, advice.words.code
    (2, 'lifting-by-a-team')
    >>> who_may_lift(42.3).people is None
    True

    References: HSE L23 ¶120 and its guideline filter; see `team_capacity`.
    """
    positive("weight", weight_kg, "kg")
    positive("single-limit", single_limit_kg, "kg")
    if people_present is not None and people_present < 1:
        raise Refused(message("lifting-nobody-here"))
    figures: dict[str, Figure] = {"weight": exactly(weight_kg, "kg")}
    try:
        people = people_needed(weight_kg, single_limit_kg)
    except OutOfRange:
        most = exactly(team_capacity([single_limit_kg] * 3).kg, "kg")
        return LiftAdvice(None, message("lifting-too-heavy", most=most, **figures), LIFT_CAUTIONS, BASES["team"])
    capacity = team_capacity([single_limit_kg] * people)
    figures |= {"most": exactly(capacity.kg, "kg"), "people": people}
    words = message("lifting-alone" if people == 1 else "lifting-by-a-team", **figures)
    if people_present is not None and people_present < people:
        waiting = message("lifting-wait-for-help", present=people_present)
        words = message("lifting-advice", advice=Several((words, waiting), "sentences"))
    by_filter = people == 1 and single_limit_kg == HSE_FILTER_KG
    return LiftAdvice(people, words, LIFT_CAUTIONS, handling_filter().basis if by_filter else capacity.basis)


# --- the revised NIOSH lifting equation

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

NOT_COVERED: Mapping[Condition, Message] = {
    condition: Message(f"lifting-not-covered-{condition.replace(' ', '-')}") for condition in get_args(Condition)
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
    reasons: tuple[Message, ...]
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
    words: Message
    basis: Basis


@dataclass(frozen=True, slots=True)
class LiftingTask:
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
    Errors: `OutOfRange` with the reason for each; `Refused` for another word.

    >>> check_covered([])
    >>> check_covered(["kneeling"])  # doctest: +ELLIPSIS
    Traceback (most recent call last):
        ...
    fieldassist.trade.basis.OutOfRange: lifting-not-covered(reasons=[lifting-not-covered-kneeling])

    References: DHHS (NIOSH) Publication 94-110, limitations; the line on teams follows from its one-person
    scope.
    """
    given = list(conditions)
    for condition in given:
        one_of("condition", condition, NOT_COVERED)
    if given:
        reasons = Several(tuple(NOT_COVERED[condition] for condition in given), "sentences")
        raise OutOfRange(message("lifting-not-covered", reasons=reasons))


def horizontal_distance(load_depth_mm: float, vertical_mm: float, constants: Constants = "metric") -> float:
    """The horizontal distance H of the hands from the ankles, when it cannot be measured.

    H = 8 in + W/2 (20 cm + W/2) for V >= 10 in (25 cm), else 10 in + W/2 (25 cm + W/2).

    Parameters: load_depth_mm, W, depth of the load front to back [mm]; vertical_mm, V, height of the hands
    [mm]; constants. Result: H [mm]. Errors: `Refused` for figures below zero or other constants.

    >>> horizontal_distance(400, 700), horizontal_distance(400, 100)
    (400.0, 450.0)

    References: DHHS (NIOSH) Publication 94-110 (rev. 2021) p. 8.
    """
    fixed = _constants(constants)
    not_negative("depth-of-the-load", load_depth_mm, "mm")
    not_negative("height-of-the-hands", vertical_mm, "mm")
    reach = {"metric": (20.0, 25.0), "us": (8.0, 10.0)}[constants]
    low = vertical_mm / fixed.mm < fixed.v_low - HAIR
    return reach[1 if low else 0] * fixed.mm + load_depth_mm / 2


def duration_class(work_min: float, recovery_min: float, edition: Literal["2021", "1994"] = "2021") -> Duration:
    """Which column of the frequency table a stretch of lifting belongs to.

    | column | work | followed by light work of at least |
    |---|---|---|
    | short | up to 1 h | 1.0 x work (2021), 1.2 x work (1994) |
    | moderate | up to 2 h | 0.3 x work |
    | long | up to 8 h | – |

    Work without the recovery falls to the next column.

    Parameters: work_min, recovery_min [min]; edition. Errors: `OutOfRange` for more than 8 h; `Refused`
    for figures below zero or another edition.

    >>> duration_class(45, 50), duration_class(45, 50, "1994"), duration_class(45, 0)
    ('short', 'moderate', 'long')

    References: DHHS (NIOSH) Publication 94-110 (1994; rev. 2021).
    """
    one_of("edition", edition, ("2021", "1994"))
    positive("lifting-work", work_min, "min")
    not_negative("recovery", recovery_min, "min")
    if work_min > 480:
        raise OutOfRange(message("lifting-day-too-long", work=exactly(work_min / 60, "h")))
    if work_min <= 60 and recovery_min >= work_min * (1.0 if edition == "2021" else 1.2) - HAIR:
        return "short"
    if work_min <= 120 and recovery_min >= 0.3 * work_min - HAIR:
        return "moderate"
    return "long"


def average_frequency(lifts_per_min: float, burst_min: float) -> float:
    """The frequency to enter when lifts come in bursts: their number over a window of 15 min.

    F = f b / 15, for bursts up to 15 min.

    Parameters: lifts_per_min within the burst [1/min], up to 15; burst_min [min], up to 15. Result: [1/min].
    Errors: `OutOfRange` beyond these, `Refused` below zero.

    >>> round(average_frequency(10, 8), 2)
    5.33

    References: DHHS (NIOSH) Publication 94-110, with this worked figure.
    """
    not_negative("lifts-a-minute", lifts_per_min)
    not_negative("burst", burst_min, "min")
    if lifts_per_min > 15 or burst_min > 15:
        raise OutOfRange(message("lifting-burst-outside"))
    return lifts_per_min * burst_min / 15


def frequency_multiplier(lifts_per_min: float, duration: Duration, low: bool) -> float:
    """The frequency multiplier FM of table 5, straight line between its rows.

    Below 0.2 lifts a minute the first row counts. Past the last row that allows anything, nothing is allowed:
    the table is not interpolated down into its zeros.

    Parameters: lifts_per_min [1/min], at least 0; duration; low, the lift begins under 30 in (75 cm).
    Result: 0 to 1. Errors: `Refused` outside these.

    >>> round(frequency_multiplier(2.4, "short", True), 3), frequency_multiplier(12.5, "short", True)
    (0.898, 0.0)

    References: DHHS (NIOSH) Publication 94-110 table 5; .898 at 2.4 a minute is from its example 7.
    """
    one_of("duration-of-lifting", duration, get_args(Duration))
    not_negative("lifts-a-minute", lifts_per_min)
    column = 0 if low else 1
    rows = [(rate, pair[column]) for rate, pair in FREQUENCY_MULTIPLIERS[duration].items() if pair[column] > 0]
    if lifts_per_min <= rows[0][0]:
        return rows[0][1]
    for (rate, value), (next_rate, next_value) in pairwise(rows):
        if lifts_per_min <= next_rate:
            return value + (next_value - value) * (lifts_per_min - rate) / (next_rate - rate)
    return 0.0


def _constants(constants: Constants) -> _ConstantSet:
    one_of("set-of-constants", constants, _SETS)
    return _SETS[constants]


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
    Errors: `OutOfRange` for a condition not covered; `Refused` for a figure below zero or an unknown word.

    >>> limit = recommended_weight_limit(250, 550, 950, 0, 3, "short", "fair")
    >>> round(limit.kg, 1)
    15.7

    References: DHHS (NIOSH) Publication 94-110 (1994; rev. 2021) pp. 1, 7, tables 5 and 7.
    """
    check_covered(conditions)
    fixed = _constants(constants)
    one_of("rounding", rounding, get_args(Rounding))
    one_of("grip", coupling, COUPLING_MULTIPLIERS)
    not_negative("reach", horizontal_mm, "mm")
    not_negative("height-of-the-hands", vertical_mm, "mm")
    not_negative("travel", distance_mm, "mm")
    if origin_vertical_mm is not None:
        not_negative("height-of-the-hands", origin_vertical_mm, "mm")
    within("turn", angle_deg, 0, 180)

    h, v, d = (max(value / fixed.mm, 0.0) for value in (horizontal_mm, vertical_mm, distance_mm))
    h, d = max(h, fixed.h_least), max(d, fixed.d_least)
    v_origin = v if origin_vertical_mm is None else origin_vertical_mm / fixed.mm
    reasons: list[Message] = []
    hm = fixed.h_least / h
    vm = 1 - fixed.v_slope * abs(v - fixed.v_best)
    dm = 0.82 + fixed.d_gain / d
    am = 1 - 0.0032 * angle_deg
    fm = frequency_multiplier(lifts_per_min, duration, v_origin < fixed.v_best - HAIR)
    cm = COUPLING_MULTIPLIERS[coupling][0 if v < fixed.v_best - HAIR else 1]
    if rounding == "manual":
        hm = _from_table(fixed.h_table, h, hm)
        dm = _from_table(fixed.d_table, d, dm)
        vm, am = _two_decimals(vm), _two_decimals(am)

    def nothing(code: str, most: float) -> None:
        reasons.append(message(code, most=exactly(most * fixed.mm, "mm")))

    if h > fixed.h_most + HAIR:
        hm = 0.0
        nothing("lifting-hands-too-far", fixed.h_most)
    if v > fixed.v_most + HAIR:
        vm = 0.0
        nothing("lifting-hands-too-high", fixed.v_most)
    if d > fixed.d_most + HAIR:
        dm = 0.0
        nothing("lifting-travel-too-long", fixed.d_most)
    if angle_deg > 135:
        am = 0.0
        reasons.append(Message("lifting-turn-too-far"))
    if fm == 0.0:
        reasons.append(message("lifting-too-often", rate=exactly(lifts_per_min, "count")))
    multipliers = Multipliers(hm, vm, dm, am, fm, cm)
    return WeightLimit(
        fixed.load_kg * multipliers.product,
        multipliers,
        fixed.load_kg,
        constants,
        rounding,
        tuple(reasons),
        BASES["lifting-equation"],
    )


def _from_table(misprints: Mapping[float, float], at: float, formula: float) -> float:
    for entry, printed in misprints.items():
        if abs(at - entry) < 1e-6:
            return printed
    return _two_decimals(formula)


def lower_limit(*limits: WeightLimit) -> WeightLimit:
    """The limit that governs when the piece is controlled at both ends (set down with care): the lower.

    Parameters: limits, of the origin and of the destination, computed with one set of constants.
    Errors: `Refused` for none, or for two sets of constants.

    >>> ends = [recommended_weight_limit(h, 750, 250, 0, 0.2, "short", "good") for h in (250, 500)]
    >>> lower_limit(*ends).kg
    11.5

    References: DHHS (NIOSH) Publication 94-110, significant control at the destination.
    """
    if not limits:
        raise Refused(message("lifting-no-limit"))
    if len({(limit.constants, limit.rounding) for limit in limits}) > 1:
        raise Refused(message("lifting-two-sets-of-constants"))
    return min(limits, key=lambda limit: limit.kg)


def lifting_index(load_kg: float, limit: WeightLimit) -> LiftingIndex:
    """The lifting index.

    LI = L / RWL. Up to 1 is the goal of design; above 3 the risk is taken to be raised for nearly everyone.

    Parameters: load_kg, L [kg], above 0; limit, from `recommended_weight_limit` or `lower_limit`.
    Result: `LiftingIndex`; index None when the limit is zero. Errors: `Refused` for a load not above zero.

    >>> limit = recommended_weight_limit(250, 550, 950, 0, 3, "short", "fair")
    >>> round(lifting_index(12, limit).index, 2)
    0.77

    References: DHHS (NIOSH) Publication 94-110; the textbook case from which the figures come prints 0.76.
    """
    positive("load", load_kg, "kg")
    if limit.kg == 0:
        nothing = message("lifting-nothing-like-that", reasons=Several(limit.reasons, "clauses"))
        return LiftingIndex(None, nothing, limit.basis)
    index = load_kg / limit.kg
    return LiftingIndex(index, _index_words(index), limit.basis)


def _index_words(index: float) -> Message:
    if index <= 1 + HAIR:
        return Message("lifting-index-within")
    return Message("lifting-index-above" if index <= 3 + HAIR else "lifting-index-over-three")


def composite_lifting_index(tasks: Sequence[LiftingTask], duration: Duration) -> LiftingIndex:
    """The composite index of a job of several lifting tasks.

    CLI = STLI_1 + sum over j > 1 of FILI_j (1/FM(F_1 + ... + F_j) - 1/FM(F_1 + ... + F_j-1)), tasks in order
    of falling STLI; STLI = average load / (limit FM), FILI = greatest load / limit.

    Parameters: tasks, see `LiftingTask`; duration of the job. Result: `LiftingIndex`.
    Errors: `OutOfRange` when the tasks together are too frequent for the table, or one allows nothing;
    `Refused` for no task or a load not above zero.

    >>> job = [LiftingTask(20, 1, 30), LiftingTask(20, 2, 20), LiftingTask(20, 4, 13.4)]
    >>> round(composite_lifting_index(job, "short").index, 1)
    1.9

    References: DHHS (NIOSH) Publication 94-110 §2.4.5, recalled from memory: 1.6 + 0.07 + 0.20 = 1.9.
    """
    if not tasks:
        raise Refused(message("lifting-no-task"))
    rated: list[tuple[float, LiftingTask]] = []
    for task in tasks:
        positive("load", task.average_kg, "kg")
        if task.greatest_kg is not None:
            positive("load", task.greatest_kg, "kg")
        fm = frequency_multiplier(task.lifts_per_min, duration, task.low)
        if task.limit_kg <= 0 or fm == 0:
            raise OutOfRange(message("lifting-task-allows-nothing"))
        rated.append((task.average_kg / (task.limit_kg * fm), task))
    rated.sort(key=lambda pair: pair[0], reverse=True)
    index, first = rated[0]
    rate = first.lifts_per_min
    for _, task in rated[1:]:
        before = frequency_multiplier(rate, duration, task.low)
        rate += task.lifts_per_min
        after = frequency_multiplier(rate, duration, task.low)
        if before == 0 or after == 0:
            raise OutOfRange(message("lifting-too-often", rate=exactly(rate, "count")))
        greatest = task.average_kg if task.greatest_kg is None else task.greatest_kg
        index += greatest / task.limit_kg * (1 / after - 1 / before)
    return LiftingIndex(index, _index_words(index), BASES["lifting-equation"])
