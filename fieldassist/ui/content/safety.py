"""Minutes of dust and whether a piece may be lifted, in words; every figure comes from `fieldassist.assess`."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from fieldassist.assess import dust, handling
from fieldassist.assess.assumptions import assumed
from fieldassist.assess.dust import DustTask, NamedTask
from fieldassist.assess.inputs import Field, Inputs
from fieldassist.checklist.state import Area, DustEntry, State
from fieldassist.language import Words
from fieldassist.trade.dust import ACTION_LEVEL_UG_M3, DUST_CAUTIONS, WorkPlace
from fieldassist.trade.lifting import NOT_COVERED, SUCTION_CHECKS, Condition
from fieldassist.trade.message import Message, Several, message, term
from fieldassist.trade.quantities import Quantity
from fieldassist.ui.content.planning import assumed_words, option_words, sentence

# What may be entered for a lift, in the order in which it stands.
LIFT: Mapping[str, tuple[Field, ...]] = {
    "lifting": ("weighed", "reach", "height", "end_reach", "end_height", "turn", "pace", "single_limit", "cups")
}
CHOICES: Mapping[str, tuple[Field, ...]] = {"lifting": ("duration", "grip")}


@dataclass
class SafetyMemory:
    """What was chosen behind the person and is in no record: it is kept while the program runs.

    area: "" for the current one; task, place: None for what was done last; measured: dust in the air by task [ug/m3].
    """

    area: str = ""
    task: NamedTask | None = None
    place: WorkPlace | None = None
    measured: dict[DustTask, float] = field(default_factory=dict)


def area_of(state: State, name: str) -> Area | None:
    """The area, as it would begin where it has not been started; None when the plan has none of that name."""
    planned = state.plan.area(name) if state.plan is not None else None
    if planned is None:
        return None
    return state.areas.get(name) or Area(planned, state.checklists[planned.checklist], planned.method)


# --- dust ---------------------------------------------------------------------------------------------------------


def task_words(task: DustTask) -> dict[str, Message]:
    """A task and its place, as figures of a message."""
    return {"task": term("engine-dust-task", task[0]), "place": term("engine-dust-place", task[1])}


@dataclass(frozen=True, slots=True)
class TableAnswer:
    """What Table 1 asks for a task at a place, in lines; why: why it asks nothing, and then there are none."""

    control: str = ""
    lines: tuple[str, ...] = ()
    basis: str = ""
    why: str = ""


def asked_for(task: NamedTask, place: WorkPlace, words: Words) -> TableAnswer:
    """Both columns of Table 1 for a task."""
    found = dust.needs(task, place)
    if found.short is None or found.more is None:
        return TableAnswer(why=words(found.none or ""))
    short, more = (
        words(message(f"safety-{code}-four-hours", respirator=words(control.respirator)))
        for code, control in (("up-to", found.short), ("more-than", found.more))
    )
    return TableAnswer(
        words(message("safety-control", control=words(found.short.control))),
        (short, more, *(words(caution) for caution in found.cautions)),
        words(found.short.basis.told),
    )


@dataclass(frozen=True, slots=True)
class DustOf:
    """One person's minutes today: what they come to; each task with what Table 1 asks for it today ("" where it has no
    row); over: more than four hours of the table's tasks."""

    words: str
    tasks: tuple[tuple[str, str], ...]
    over: bool


def dust_of(entries: Sequence[DustEntry], by: str, words: Words) -> DustOf:
    """What one person noted, and what Table 1 asks for it today."""
    shift = dust.shift_of(entries, by)
    code = "safety-shift-over" if shift.over else "safety-shift"
    lines = []
    for (task, place), minutes, control, none in shift.tasks:
        spent = message("safety-task-minutes", **task_words((task, place)), minutes=Quantity(minutes, "min"))
        today = "" if none is None or not shift.listed(task) else words(none)
        if control is not None:
            asks = {"control": words(control.control), "respirator": words(control.respirator)}
            today = words(message("safety-today", **asks))
        lines.append((words(spent), today))
    minutes_of = message(code, who=by, minutes=_quantity(shift.listed_min, "min"))
    return DustOf(words(minutes_of), tuple(lines), shift.over)


def average_of(
    entries: Sequence[DustEntry], by: str, measured: Mapping[DustTask, float], words: Words
) -> tuple[bool, tuple[str, ...]]:
    """The 8-hour average of one person from measured air, in sentences; first whether it is within the limit."""
    found = dust.exposure(entries, by, measured)
    if found is None:
        return True, ()
    average = message(
        f"safety-average-{found.grade}",
        who=by,
        average=_bare(found.average_ug_m3),
        action=_bare(ACTION_LEVEL_UG_M3),
        limit=_bare(found.limit_ug_m3),
    )
    lines = [words(average)]
    if found.silent:
        silent = Several(tuple(message("safety-task", **task_words(task)) for task in found.silent))
        lines.append(words(message("safety-not-measured", tasks=silent)))
    source = message("safety-source", basis=found.verdict.basis.told)
    return found.grade != "over", (*lines, assumed_words(found.assumed, words), words(source))


def _bare(value: float) -> str:
    return f"{value:.4g}"


def _quantity(value: float, unit: str) -> Quantity:
    return Quantity(Fraction(repr(float(value))), unit)


# --- lifting ------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class LiftCheck:
    """What comes of a lift, in sentences. good: one person may lift it as described; who: how many may; weight: of the
    load, and where it comes from; assumed: what the answer rests on."""

    good: bool
    who: str
    weight: str
    alone: tuple[str, ...]
    suction: str
    cautions: tuple[str, ...]
    assumed: str
    bases: tuple[str, ...]


def check_lift(inputs: Inputs, words: Words) -> LiftCheck:
    """Who may carry a piece, lifted as `inputs` say."""
    found = handling.handling(inputs)
    alone = found.alone
    more = (*(one for one in (alone.where, alone.none) if one is not None), *alone.reasons)
    bases = [found.basis, *(() if found.equation is None else (found.equation,)), found.weight_basis]
    return LiftCheck(
        alone.may,
        words(found.verdict),
        words(message("plan-weighed" if found.weighed else "plan-computed")),
        (words(alone.told), *(sentence(words(one)) for one in more)),
        words(found.suction_told),
        tuple(words(caution) for caution in (*found.cautions, *SUCTION_CHECKS)),
        assumed_words(found.assumed, words),
        tuple(words(message("safety-source", basis=basis.told)) for basis in dict.fromkeys(bases)),
    )


def conditions(inputs: Inputs, words: Words) -> tuple[tuple[Condition, bool, str], ...]:
    """What the lifting equation was not made for: each condition, whether it holds here, and its words."""
    holding = inputs.conditions.value
    return tuple(
        (
            condition,
            condition in holding,
            words(
                message(
                    "safety-condition-yes" if condition in holding else "safety-condition-no",
                    condition=option_words("conditions", condition, words),
                )
            ),
        )
        for condition in NOT_COVERED
    )


def place_told() -> Message:
    """Where a task is done, until somebody says it."""
    return assumed("dust-place").told


def dust_cautions(words: Words) -> tuple[str, ...]:
    """What is said with every answer on dust."""
    return (*(words(caution) for caution in DUST_CAUTIONS), words(message("safety-defer")))
