"""Four choices of a method as steps: the notch, the trowel's angle, the sides combed, the coat in the back; where each
neighbour leads, and which single step is the nearest that works."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal, get_args

from fieldassist.assess.inputs import Entries, Field, Given, Inputs, Value
from fieldassist.assess.method import MethodAdvice, advise, as_entries, usual_notches
from fieldassist.checklist.plan import Method
from fieldassist.trade import ridges
from fieldassist.trade.quantities import Quantity

__all__ = [
    "ANGLES",
    "COATS_MM",
    "KNOBS",
    "Knob",
    "Neighbour",
    "StepChoice",
    "entered_over",
    "method_entries",
    "nearest",
    "step_choices",
]

Knob = Literal["notch", "angle", "sides", "skim"]
KNOBS: tuple[Knob, ...] = get_args(Knob)
# A hand tells these angles apart; 45 at least for gauged panels (ANSI A108.19 §13.7, 2017, as reported in trade
# literature), the rest common practice, no published source.
ANGLES = (30, 45, 60, 75, 90)
# Coats of mortar flat on the back [mm]. Common practice, no published source.
COATS_MM = (Fraction(0), Fraction(1, 2), Fraction(1), Fraction(3, 2), Fraction(2))


@dataclass(frozen=True, slots=True)
class Neighbour:
    """One step away, or another way of several: entries that make it, its notch, what it comes to. works: None where it
    cannot be told."""

    knob: Knob | Literal["way"]
    entries: Entries
    notch: ridges.Notch
    works: bool | None
    contact_percent: float | None
    bed_mm: float | None


@dataclass(frozen=True, slots=True)
class StepChoice:
    """A choice as it stands, and its neighbours: less and more mortar; None where there is none."""

    knob: Knob
    less: Neighbour | None
    more: Neighbour | None


def entered_over(inputs: Inputs, entries: Entries) -> Inputs:
    """The inputs with more entered over them."""
    changes: Mapping[str, Given[Value]] = {field: Given(value, "entered") for field, value in entries.items()}
    return replace(inputs, **changes)  # type: ignore[arg-type]


def method_entries(method: Method) -> Entries:
    """What is entered for a method: its trowel, and on what it combs."""
    return {
        "family": method.family,
        "width": method.width,
        "depth": method.depth,
        "spacing": method.spacing,
        "angle": Quantity(Fraction(str(method.angle)), "count"),
        "sides": method.sides,
    }


def step_choices(inputs: Inputs) -> tuple[StepChoice, ...]:
    """The four choices with their neighbours, in the order of `KNOBS`. Errors: `ValueError` for a notch that cannot
    be."""
    return tuple(
        StepChoice(knob, *(None if way is None else _led_to(inputs, knob, way) for way in _ways(inputs, knob)))
        for knob in KNOBS
    )


def nearest(inputs: Inputs, choices: tuple[StepChoice, ...]) -> Neighbour | None:
    """The single step that works and leaves the bed that differs least, else the nearest other way that works; None
    where none does.

    Nearest by bed is common practice, no published source.
    """
    own = advise(inputs)
    others = [_led_to(inputs, "way", other.entries) for other in own.alternatives]
    steps = [step for choice in choices for step in (choice.less, choice.more) if step is not None and step.works]
    bed = own.bed_mm or 0.0
    return min(steps, key=lambda step: abs((step.bed_mm or 0.0) - bed), default=others[0] if others else None)


def _led_to(inputs: Inputs, knob: Knob | Literal["way"], entries: Entries) -> Neighbour:
    then = entered_over(inputs, entries)
    found: MethodAdvice = advise(then)
    return Neighbour(knob, entries, then.notch, found.works, found.contact_percent, found.bed_mm)


def _ways(inputs: Inputs, knob: Knob) -> tuple[Entries | None, Entries | None]:
    if knob == "notch":
        return _notches(inputs)
    if knob == "sides":
        return {"sides": "one"}, {"sides": "both"}
    field: Field = knob
    unit = "count" if knob == "angle" else "mm"
    steps = [Fraction(angle) for angle in ANGLES] if knob == "angle" else list(COATS_MM)
    now = Fraction(repr(inputs.number("angle" if knob == "angle" else "skim")))
    less = max((step for step in steps if step < now), default=None)
    more = min((step for step in steps if step > now), default=None)
    low, high = (None if step is None else {field: Quantity(step, unit)} for step in (less, more))
    return low, high


def _notches(inputs: Inputs) -> tuple[Entries | None, Entries | None]:
    """The next smaller and the next larger notch of its family, of the plan and the usual ones, by what they lay."""
    own = inputs.notch
    laid = _laid(own)
    known = {_laid(notch): notch for notch in _known(inputs) if notch.family == own.family}
    less = max((each for each in known if each < laid - 1e-6), default=None)
    more = min((each for each in known if each > laid + 1e-6), default=None)
    low, high = (None if each is None else as_entries(known[each]) for each in (less, more))
    return low, high


def _laid(notch: ridges.Notch) -> float:
    """The bed of a notch at a steady angle, by which notches stand in a row [mm]."""
    return round(ridges.ridge(notch).bed_mm, 6)


def _known(inputs: Inputs) -> tuple[ridges.Notch, ...]:
    """The usual notches of the plan's units, then those of the plan, which go first where two lay the same."""
    whole_mm = inputs.constants == "metric"
    usual = [notch for notch in usual_notches() if _in_whole_mm(notch) == whole_mm]
    family = [notch for notch in usual if notch.family == inputs.family.value]
    return (*(family or usual_notches()), *inputs.at_hand.values())


def _in_whole_mm(notch: ridges.Notch) -> bool:
    return all(size == round(size) for size in (notch.width_mm, notch.depth_mm))
