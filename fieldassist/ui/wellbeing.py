"""What the safety screen shows: how cautions stand, minutes of dust, whether a piece may be lifted. No Kivy.

Every figure comes from trade/, every caution from the day's checklists; here they are only put beside each other.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Literal, cast

from fieldassist.checklist import events as ev
from fieldassist.checklist.events import Event
from fieldassist.checklist.fields import canonical
from fieldassist.checklist.plan import AreaPlan
from fieldassist.checklist.rules import FACTS
from fieldassist.checklist.schema import Caution
from fieldassist.checklist.state import Area, DustEntry, State
from fieldassist.trade import dust, lifting, quantities
from fieldassist.trade.basis import OutOfRange
from fieldassist.trade.quantities import System, format_quantity
from fieldassist.ui.entry import Typed

Named = dust.TableTask | dust.OtherTask
Task = tuple[Named, dust.Place]


@dataclass
class Half:
    """What was chosen and entered on the safety screen and is in no record: it is kept while the program runs.

    part: what is looked at; area: "" for the one at hand; asks: what the number pad asks for, "" when it is not there;
    measured: dust in the air by task [ug/m3]; lifts: what was entered for the lift, by area.
    """

    part: Literal["cautions", "dust", "lifting"] = "cautions"
    area: str = ""
    task: Named | None = None
    place: dust.Place | None = None
    asks: str = ""
    typed: Typed = field(default_factory=Typed)
    unit: str = ""
    measured: dict[Task, float] = field(default_factory=dict)
    lifts: dict[str, Lift] = field(default_factory=dict)


# --- cautions -----------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Standing:
    """How a caution stands: a shape and words that say the same; ready: it is the one that is acknowledged now."""

    shape: Literal["done", "caution", "waiting", "none"]
    words: str
    text: str
    basis: str
    ready: bool = False


def area_of(state: State, name: str) -> Area | None:
    """The area, as it would begin where it has not been started; None when the plan has none of that name."""
    planned = state.plan.area(name) if state.plan is not None else None
    if planned is None:
        return None
    return state.areas.get(name) or Area(planned, state.checklists[planned.checklist], planned.trowel)


def cautions_of(state: State, events: Sequence[Event], name: str, system: System) -> tuple[Standing, ...]:
    """The cautions of an area, those that are due first."""
    area = area_of(state, name)
    if area is None:
        return ()
    said: dict[str, list[str]] = {}
    for event in events:
        body = event.body
        if isinstance(body, ev.CautionAcknowledged) and body.area == name:
            said.setdefault(body.caution, []).append(f"{event.by.title()} {event.at.wall[11:16]}")
    due = area.cautions_due()
    ready = due[:1] if state.active == name and not state.closed else ()
    found = [_standing(area, c, said.get(c.id, []), due, ready, system) for c in area.checklist.cautions]
    rank = {"caution": 0, "waiting": 1, "done": 2, "none": 3}
    return tuple(sorted(found, key=lambda one: (not one.ready, rank[one.shape])))


def _standing(
    area: Area, caution: Caution, said: list[str], due: Sequence[Caution], ready: Sequence[Caution], system: System
) -> Standing:
    last = f"acknowledged by {said[-1]}" if said else ""
    if not area.holds(caution) and caution.only_if is not None:
        condition = caution.only_if
        fact = FACTS[condition.fact]
        unit = quantities.unit_info(condition.unit).canonical
        value = format_quantity(fact.compute(area.facts), unit, system)
        over = format_quantity(condition.over, condition.unit, system)
        words = f"does not apply ({condition.fact} is {value}, not over {over})"
        return Standing("none", words, caution.text, caution.basis)
    if caution in due:
        words = "due now" if caution in ready else "due, after the one above" if ready else "due when work goes on here"
        words += f"; last {last}" if last else ""
        return Standing("caution", words, caution.text, caution.basis, caution in ready)
    if said:
        again = f"; comes again before each {_what(area, caution.before)}" if caution.again == "round" else ""
        return Standing("done", last + again, caution.text, caution.basis)
    return Standing("waiting", f"comes before {_what(area, caution.before)}", caution.text, caution.basis)


def _what(area: Area, before: str) -> str:
    if before == "area":
        return "the first step of the area"
    section = area.checklist.section(before) or area.checklist.corrective(before)
    return f"“{section.title if section is not None else before.replace('-', ' ')}”"


# --- dust ---------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Asked:
    """What Table 1 asks for a task at a place; cautions: those of the place; why: why it asks nothing, and then the
    rest is empty."""

    control: str = ""
    up_to_four_hours: str = ""
    more: str = ""
    basis: str = ""
    cautions: tuple[str, ...] = ()
    why: str = ""


def asked_for(task: Named, place: dust.Place) -> Asked:
    """Both columns of Table 1 for a task.

    >>> asked_for("handheld power saw", "outdoors").up_to_four_hours
    'no respirator required'
    """
    try:
        short, more = (dust.dust_control(task, place, dust.FOUR_HOURS_MIN + extra) for extra in (0, 1))
    except OutOfRange as why:
        return Asked(why=str(why))
    cautions = tuple(c for c in short.cautions if c not in dust.DUST_CAUTIONS)
    return Asked(short.control, short.respirator, more.respirator, str(short.basis), cautions)


@dataclass(frozen=True, slots=True)
class DustOf:
    """One person's minutes today: by task, each with what Table 1 asks for it today ("" where it has no row), and what
    they come to. over: more than four hours of the table's tasks."""

    who: str
    tasks: tuple[tuple[Task, Fraction, str], ...]
    words: str
    over: bool


def dust_of(entries: Sequence[DustEntry], by: str) -> DustOf:
    """What one person noted, and what Table 1 asks for it today."""
    tasks: dict[Task, Fraction] = {}
    for entry in entries:
        if entry.by == by:
            key: Task = (cast(Named, entry.task), entry.place)
            tasks[key] = tasks.get(key, Fraction()) + entry.minutes
    total = float(sum((m for (task, _), m in tasks.items() if task in dust.TABLE_1), Fraction()))
    over = total > dust.FOUR_HOURS_MIN
    side = "OVER four hours: the higher column holds for every task" if over else "not over four hours"
    words = f"{format_quantity(total, 'min')} of tasks in Table 1, {side}"
    return DustOf(by, tuple((key, minutes, _asked_today(key, total)) for key, minutes in tasks.items()), words, over)


def _asked_today(task: Task, total: float) -> str:
    if task[0] not in dust.TABLE_1:
        return ""
    try:
        control = dust.dust_control(*task, total)
    except OutOfRange as why:
        return str(why)
    return f"{control.control}; {control.respirator}"


def average_of(entries: Sequence[DustEntry], by: str, measured: Mapping[Task, float]) -> tuple[bool, tuple[str, ...]]:
    """The 8-hour average of one person from measured air, in sentences; first whether it is within the limit."""
    if not measured:
        return True, ()
    tasks = {task: minutes for task, minutes, _ in dust_of(entries, by).tasks}
    average = dust.time_weighted_average((measured[t], float(m)) for t, m in tasks.items() if t in measured)
    verdict = dust.exposure_verdict(average)
    silent = ", ".join(f"{task} {place}" for task, place in tasks if (task, place) not in measured)
    left = f"Not measured and counted as clean air, so that the true average is higher: {silent}." if silent else ""
    rest = "Assumed: what was measured held for all minutes noted of that task, and the rest of 8 h was clean air."
    words = (f"8-hour average of {by.title()}: {verdict.words}", left, rest, f"Source: {verdict.basis}")
    return verdict.passed, tuple(w for w in words if w)


# --- lifting ------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Input:
    """A number that the lifting equation wants: what it is, its units (metric first), and how to measure it."""

    name: str
    units: tuple[str, ...]
    hint: str = ""


_LENGTHS = ("mm", "cm", "in")
INPUTS: Mapping[str, Input] = {
    "load": Input("Load", ("kg", "lb"), "One piece on a scale, with all that is lifted with it."),
    "reach": Input("Reach, picking up", _LENGTHS, "From between the ankles forward to the hands."),
    "height": Input("Height of the hands, picking up", _LENGTHS, "From the floor up to the hands."),
    "end reach": Input("Reach, setting down", _LENGTHS, "From between the ankles forward to the hands."),
    "end height": Input("Height of the hands, setting down", _LENGTHS, "From the floor up to the hands."),
    "turn": Input("Turn of the trunk in degrees", ("count",), "0 for straight ahead, 90 for sideways."),
    "pace": Input("Lifts a minute", ("count",), "Counted over 15 minutes and divided by 15."),
    "suction": Input("What the suction cups hold together", ("kg", "lb"), "In the position used, at low vacuum."),
}
DURATIONS: tuple[tuple[lifting.Duration, str], ...] = (
    ("short", "up to 1 h"),
    ("moderate", "up to 2 h"),
    ("long", "up to 8 h"),
)
GRIPS: tuple[tuple[lifting.Coupling, str], ...] = (("good", "handles"), ("fair", "a fair hold"), ("poor", "bare edges"))


@dataclass
class Lift:
    """What was entered for a lift; what was not is assumed."""

    numbers: dict[str, tuple[Fraction, str]] = field(default_factory=dict)
    duration: lifting.Duration | None = None
    grip: lifting.Coupling | None = None
    conditions: set[lifting.Condition] = field(default_factory=set)


@dataclass(frozen=True, slots=True)
class Assumed:
    """A number in its canonical unit, or none; why: how it was come by, "" when it was entered."""

    value: float | None
    unit: str
    why: str


@dataclass(frozen=True, slots=True)
class LiftCheck:
    """What comes of a lift, in sentences. good: one person may lift it as described; alone: by the equation."""

    good: bool
    alone: tuple[str, ...]
    hands: str
    suction: str
    cautions: tuple[str, ...]
    bases: tuple[str, ...]


def units_of(name: str, system: System) -> tuple[str, ...]:
    """The units of an input, the system's own first.

    >>> units_of("load", "us"), units_of("reach", "us")[0]
    (('lb', 'kg'), 'in')
    """
    units = INPUTS[name].units
    return tuple(sorted(units, key=lambda unit: (unit in ("in", "lb")) is not (system == "us")))


def number_of(area: Area, lift: Lift, name: str) -> Assumed:
    """An input as it was entered, or what is assumed for it. What is assumed is common practice, no published source,
    but for the load and the reach."""
    if name in lift.numbers:
        value, unit = lift.numbers[name]
        return Assumed(canonical_of(value, unit), unit, "")
    plan = area.plan
    wall = area.checklist.surface == "wall"
    if name == "load":
        weight = _weight(plan)
        return Assumed(weight.kg, "kg", "weighed, says the plan" if plan.piece.weighed else "computed from its size")
    if name == "reach":
        low = number_of(area, lift, "height").value or 0.0
        short = min(canonical(plan.piece.length), canonical(plan.piece.width))
        return Assumed(lifting.horizontal_distance(short, low), "mm", "assumed: it lies flat, short edge to the body")
    if name == "end reach":
        return Assumed(number_of(area, lift, "reach").value, "mm", "assumed: as picking up")
    if name == "height":
        return Assumed(0.0, "mm", "assumed: from the floor") if wall else Assumed(750.0, "mm", "assumed: from a stack")
    if name == "end height":
        return Assumed(1400.0, "mm", "assumed: at the shoulder") if wall else Assumed(0.0, "mm", "assumed: the floor")
    if name == "turn":
        return Assumed(0.0, "count", "assumed: the feet turn, not the trunk")
    if name == "pace":
        return Assumed(0.2, "count", "assumed: one in five minutes")
    return Assumed(None, "kg", "not entered")


def canonical_of(value: Fraction, unit: str) -> float:
    """A number in the canonical unit of its dimension."""
    return quantities.canonical(float(value), unit)


def _weight(plan: AreaPlan) -> lifting.PieceWeight:
    piece = plan.piece
    return lifting.piece_weight(
        canonical(piece.length),
        canonical(piece.width),
        canonical(piece.thickness),
        weighed_kg=canonical(piece.weighed) if piece.weighed else None,
    )


def shown(name: str, number: Assumed, system: System) -> str:
    """An input as its target says it.

    >>> shown("turn", Assumed(30.0, "count", ""), "metric")
    '30°'
    """
    if number.value is None:
        return "–"
    unit = quantities.unit_info(number.unit).canonical
    text = format_quantity(number.value, unit, "as given" if unit == "count" else system)
    return f"{text}°" if name == "turn" else text


def check_lift(area: Area, lift: Lift, system: System) -> LiftCheck:
    """Whether one person may lift the piece so, and who else or what else may; in the words of trade/lifting."""
    number = {name: number_of(area, lift, name).value or 0.0 for name in INPUTS}
    try:
        good, alone, bases = _alone(lift, number, system)
    except ValueError as why:
        good, alone, bases = False, (str(why),), ()
    try:
        advice = lifting.who_may_lift(number["load"], system=system)
        hands, cautions = f"By weight alone, held close: {advice.words}", advice.cautions
        bases = (*bases, str(advice.basis))
        suction = _suction(lift, number)
    except ValueError as why:
        hands, suction, cautions = str(why), "", ()
    if "load" not in lift.numbers:
        bases = (*bases, f"Load: {_weight(area.plan).basis}")
    return LiftCheck(good, alone, hands, suction, (*cautions, *lifting.SUCTION_CHECKS), bases)


def _alone(lift: Lift, number: Mapping[str, float], system: System) -> tuple[bool, tuple[str, ...], tuple[str, ...]]:
    travel = abs(number["end height"] - number["height"])
    start, end = (
        lifting.recommended_weight_limit(
            number[reach],
            number[height],
            travel,
            number["turn"],
            number["pace"],
            lift.duration or "long",
            lift.grip or "poor",
            origin_vertical_mm=number["height"],
            constants="us" if system == "us" else "metric",
            rounding="manual",
            conditions=lift.conditions,
        )
        for reach, height in (("reach", "height"), ("end reach", "end height"))
    )
    limit = lifting.lower_limit(start, end)
    index = lifting.lifting_index(number["load"], limit)
    where = "where it is picked up" if limit is start else "where it is set down"
    most = format_quantity(limit.kg, "kg", system)
    words = [
        f"Lifting index {index.index:.2f}. {index.words}" if index.index is not None else index.words,
        f"Recommended weight limit {most}, {where}; it travels {format_quantity(travel, 'mm', system)} up or down.",
    ]
    good = index.index is not None and index.index <= 1 + 1e-9
    return good, tuple(words), (f"{limit.basis} Each multiplier is rounded to two decimals, as its tables are.",)


def _suction(lift: Lift, number: Mapping[str, float]) -> str:
    if "suction" not in lift.numbers:
        return "Suction cups: enter what they hold together, to see whether it is twice the load."
    margin = lifting.suction_margin(number["load"], [number["suction"]])
    words = "enough" if margin.passed else f"NOT enough: {'; '.join(margin.reasons)}"
    return f"Suction cups hold {margin.factor:.1f} times the load, {margin.required:g} are asked for: {words}."
