"""Who may carry a piece: one answer for screens, documents and scripts.

Three published things are put together here, each within what it covers.

- One person: the revised NIOSH lifting equation (DHHS (NIOSH) Publication 94-110), at both ends of the lift, since a
  tile is set down with care; the lower limit governs. It covers one standing person with both hands: where a condition
  holds that it was not made for (kneeling, one hand, tight space, ...), there is no figure and nobody is told to lift.
- What each may lift alone at best: the site's own figure, or HSE's filter of 25 kg for a man with the load held close
  between waist and knuckles. Alone, the lower of the two counts.
- A team: HSE L23 ¶120, two thirds of the single limits for two, half for three. It rests on the same filter, so it
  holds close to the body and between waist and knuckles, which two people at a piece's short edges can keep to.

So a piece that one person may lift "by weight" but not from where it lies takes two; and one that no team may lift by
hand takes a frame, a trolley or a hoist. How far out the hands are follows the piece's size (p. 8 of the manual), so a
large piece is never one person's: past 63 cm (25 in) the equation allows nothing.

Multipliers are rounded to two decimals, as the manual's tables print them and its examples multiply them, so that
whoever works the sheet by hand finds the same figure.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from fieldassist.assess.assumptions import Assumption, assumed
from fieldassist.assess.inputs import Field, Inputs
from fieldassist.trade import lifting
from fieldassist.trade.basis import BASES, Basis, OutOfRange
from fieldassist.trade.message import Bound, Message, message
from fieldassist.trade.quantities import Quantity

__all__ = ["POSTURE", "ROUNDING", "Alone", "Handling", "handling"]

# The fields that describe the lift of one person.
POSTURE: tuple[Field, ...] = ("reach", "height", "end_reach", "end_height", "turn", "pace", "duration", "grip")
ROUNDING: lifting.Rounding = "manual"

# What the equation leaves out because it is for one person who stays where he is: a team's figures hold all the same,
# and HSE's filter holds for about 10 m of carrying (HSE L23, as reprinted in an employer's handbook).
_FOR_ONE_PERSON_ONLY: frozenset[lifting.Condition] = frozenset({"more than one person", "carrying"})
_HAIR = 1e-9
# Above this index the manual takes the risk to be raised for nearly everyone.
_FAR_ABOVE = 3.0
_EQUATION = BASES["lifting-equation-rounded"]
_ENDS: tuple[tuple[Literal["reach", "end_reach"], Literal["height", "end_height"]], ...] = (
    ("reach", "height"),
    ("end_reach", "end_height"),
)


@dataclass(frozen=True, slots=True)
class Alone:
    """One person, standing, both hands.

    may: the piece is within the limit; limit_kg: the lower of the equation's limit and the person's own; equation_kg,
    index: of the equation, index None where it allows nothing; governs: the end that governs; travel_mm: how far up or
    down; none: why there is no figure, and then all of them are None; reasons: why nothing may be lifted so.
    """

    may: bool
    limit_kg: float | None
    equation_kg: float | None
    index: float | None
    governs: Literal["picked up", "set down"] | None
    travel_mm: float
    reasons: tuple[Message, ...]
    none: Message | None = None

    @property
    def told(self) -> Message:
        """The judgement on one person alone."""
        if self.none is not None:
            return message("assess-alone-no-figure")
        if self.index is None:
            return message("assess-alone-nothing")
        assert self.limit_kg is not None
        most = Bound(_kg(self.limit_kg), "at most")
        grade = "within" if self.may else "above" if self.index <= _FAR_ABOVE + _HAIR else "far-above"
        return message(f"assess-alone-{grade}", limit=most, index=f"{self.index:.2f}")

    @property
    def where(self) -> Message | None:
        """At which end the limit governs, and how far the piece travels."""
        if self.equation_kg is None:
            return None
        end = "start" if self.governs == "picked up" else "end"
        limit = Bound(_kg(self.equation_kg), "at most")
        return message(f"assess-governs-{end}", limit=limit, travel=Quantity(Fraction(repr(self.travel_mm)), "mm"))


@dataclass(frozen=True, slots=True)
class Handling:
    """Who may carry a piece.

    weight_kg: of the piece with all that is lifted with it; weighed: on a scale; people: how many by hand, None where
    no team may or no figure holds; together_kg: what they may lift together; alone: see there; verdict: the answer in a
    sentence; suction: what the cups hold against it, None where nobody entered that; assumed: what the answer rests on
    that nobody gave; basis: of the answer; equation: of the figure for one person, None where there is none;
    weight_basis; cautions, which go with every such answer.
    """

    weight_kg: float
    weighed: bool
    people: int | None
    together_kg: float | None
    alone: Alone
    verdict: Message
    suction: lifting.SuctionMargin | None
    assumed: tuple[Assumption, ...]
    basis: Basis
    equation: Basis | None
    weight_basis: Basis
    cautions: tuple[Message, ...]

    @property
    def told(self) -> Message:
        """The answer, and what one person alone may do."""
        return message("assess-handling-and-alone", verdict=self.verdict, alone=self.alone.told)

    @property
    def suction_told(self) -> Message:
        """What suction cups hold against the piece, and what is asked for."""
        if self.suction is None:
            return message("assess-suction-not-known")
        code = "assess-suction-holds" if self.suction.passed else "assess-suction-short"
        return message(code, factor=f"{self.suction.factor:.1f}", required=f"{self.suction.required:g}")


def _kg(value: float) -> Quantity:
    return Quantity(Fraction(repr(value)), "kg")


def handling(inputs: Inputs) -> Handling:
    """Who may carry a piece of an area, lifted as `inputs` say.

    Result: `Handling`. Errors: `ValueError` for a piece or a limit that cannot be.
    """
    weight = lifting.piece_weight(*inputs.piece, inputs.number("thickness"), weighed_kg=inputs.known("weighed"))
    single = inputs.number("single_limit")
    alone = _alone(inputs, weight.kg, single)
    blocked = inputs.conditions.value - _FOR_ONE_PERSON_ONLY
    least = 1 if alone.may else 2
    people, together, verdict = _team(weight.kg, single, least, alone)
    if blocked and people is not None:
        # What three may not lift at their best, nobody lifts on the knees either.
        people, together, verdict = None, None, message("assess-handling-not-judged", weight=_kg(weight.kg))
    cups = inputs.known("cups")
    advice = lifting.who_may_lift(weight.kg, single)
    team = lifting.team_capacity([single, single]).basis
    return Handling(
        weight.kg,
        inputs.weighed.value is not None,
        people,
        together,
        alone,
        verdict,
        None if cups is None else lifting.suction_margin(weight.kg, [cups]),
        (*_stance(inputs), *inputs.assumptions("single_limit", *POSTURE)),
        _EQUATION if alone.may and alone.limit_kg == alone.equation_kg else advice.basis if alone.may else team,
        None if alone.none is not None else _EQUATION,
        weight.basis,
        tuple(advice.cautions),
    )


def _stance(inputs: Inputs) -> tuple[Assumption, ...]:
    """What is assumed of the lift besides its figures; a panel bends, and the equation leaves out loads that do."""
    panel = inputs.product == "gauged panel" and "unstable load" not in inputs.conditions.value
    return (assumed("standing"), assumed("framed")) if panel else (assumed("standing"),)


def _team(kg: float, single: float, least: int, alone: Alone) -> tuple[int | None, float | None, Message]:
    weight = _kg(kg)
    try:
        people = max(least, lifting.people_needed(kg, single))
    except OutOfRange:
        three = lifting.team_capacity([single] * 3).kg
        return None, None, message("assess-handling-too-heavy", weight=weight, together=Bound(_kg(three), "at most"))
    together = lifting.team_capacity([single] * people).kg
    if people == 1:
        assert alone.limit_kg is not None
        limit = Bound(_kg(alone.limit_kg), "at most")
        return people, together, message("assess-handling-one", weight=weight, limit=limit)
    told = message("assess-handling-team", people=people, weight=weight, together=Bound(_kg(together), "at most"))
    return people, together, told


def _alone(inputs: Inputs, kg: float, single: float) -> Alone:
    start, end = inputs.number("height"), inputs.number("end_height")
    travel = abs(end - start)
    try:
        picked_up, set_down = (
            lifting.recommended_weight_limit(
                inputs.number(reach),
                inputs.number(height),
                travel,
                inputs.number("turn"),
                inputs.number("pace"),
                inputs.duration.value,
                inputs.grip.value,
                origin_vertical_mm=start,
                constants=inputs.constants,
                rounding=ROUNDING,
                conditions=sorted(inputs.conditions.value),
            )
            for reach, height in _ENDS
        )
    except OutOfRange as refused:
        return Alone(False, None, None, None, None, travel, (), refused.told)
    limit = lifting.lower_limit(picked_up, set_down)
    index = lifting.lifting_index(kg, limit).index
    least = min(limit.kg, single)
    may = index is not None and kg <= least * (1 + _HAIR)
    governs: Literal["picked up", "set down"] = "picked up" if limit is picked_up else "set down"
    return Alone(may, least, limit.kg, index, governs, travel, tuple(limit.reasons))
