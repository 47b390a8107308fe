"""What stands behind the person: their dust minutes as a bar, the cautions and who has not seen them, a piece handled.

Figures come from `fieldassist.assess` and the day's record; nothing is decided here.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, cast

from fieldassist.assess import dust, handling
from fieldassist.assess.dust import DustTask, NamedTask
from fieldassist.assess.inputs import Entries, day_inputs
from fieldassist.checklist import cautions
from fieldassist.checklist.dusty import running_minutes
from fieldassist.checklist.moment import Moment
from fieldassist.checklist.rules import FACTS
from fieldassist.checklist.schema import Caution
from fieldassist.checklist.state import Area, DustRun, State
from fieldassist.trade import quantities
from fieldassist.trade.dust import FOUR_HOURS_MIN, TABLE_1, WorkPlace
from fieldassist.trade.message import Figure, Message, Several, Text, message, term
from fieldassist.trade.quantities import Quantity

# What is looked at first, before anybody chose: the tool that tile is cut with in place.
_USUAL: NamedTask = "handheld power saw"


@dataclass(frozen=True, slots=True)
class DustBar:
    """One person's minutes of the tasks of Table 1, against its four hours, and what comes next.

    noted: minutes that are noted [min]; running: those of the task that runs [min], 0 where none of the table's does;
    run: the task that runs, None for none; told: the sum; next: what four hours change, None where they change nothing;
    limit: where the table's higher column begins [min]; whole: how long the bar is [min].
    """

    noted: float
    running: float
    run: DustRun | None
    told: Message
    next: Message | None
    limit: float = FOUR_HOURS_MIN
    whole: float = 8 * 60.0

    @property
    def over(self) -> bool:
        """Whether the higher column holds."""
        return self.noted + self.running > self.limit


def dust_bar(state: State, who: str, now: Moment, at: DustTask) -> DustBar:
    """The bar of one person. at: the task that is looked at, where none runs."""
    shift = dust.shift_of(state.dust, who)
    run = state.dusty.get(who)
    minutes = float(running_minutes(run, now)) if run is not None else 0.0
    running = minutes if run is not None and run.task in TABLE_1 else 0.0
    told: dict[str, Figure] = {
        "who": who,
        "minutes": Quantity(Fraction(round(shift.listed_min + running)), "min"),
        "limit": Quantity(Fraction(round(FOUR_HOURS_MIN)), "min"),
    }
    task = (cast(NamedTask, run.task), run.place) if run is not None else at
    over = shift.listed_min + running > FOUR_HOURS_MIN
    return DustBar(
        shift.listed_min,
        running,
        run,
        message("person-dust-over" if over else "person-dust-sum", **told),
        _next(task, shift.listed_min + running),
    )


def _next(task: DustTask, spent: float) -> Message | None:
    """What four hours of the table's tasks change for a task."""
    needs = dust.needs(*task)
    if needs.short is None or needs.more is None or needs.short.respirator == needs.more.respirator:
        return None
    if spent > FOUR_HOURS_MIN:
        return message("person-dust-now-more", factor=str(needs.more.protection_factor))
    left = Quantity(Fraction(round(FOUR_HOURS_MIN - spent)), "min")
    return message("person-dust-then-more", left=left, factor=str(needs.more.protection_factor))


def task_at(state: State, task: NamedTask | None, place: WorkPlace | None) -> DustTask:
    """The task and place to look at: those chosen, else what whoever speaks is at, or did last.

    task, place: chosen on the screen, None for not yet.
    """
    who = state.speaker.name if state.speaker is not None else ""
    last = state.dusty.get(who) or next((entry for entry in reversed(state.dust) if entry.by == who), None)
    if last is None:
        return task or _USUAL, place or dust.DEFAULT_PLACE
    return task or cast(NamedTask, last.task), place or last.place


def run_told(run: DustRun, now: Moment) -> Message:
    """The task that runs: which, where, for how long."""
    return message(
        "person-dust-runs",
        task=term("engine-dust-task", run.task),
        place=term("engine-dust-place", run.place),
        minutes=Quantity(Fraction(int(running_minutes(run, now))), "min"),
    )


@dataclass(frozen=True, slots=True)
class Controls:
    """What Table 1 asks of a task now, as what is drawn: water at the blade, a shroud with a collector, a mask.

    water, collector: one of them is enough where both are; factor: least protection factor of the mask, 0 for none;
    told: in words; basis: the table's row, or why there is none.
    """

    water: bool
    collector: bool
    factor: int
    told: Message
    basis: Message


def controls(task: DustTask, spent: float) -> Controls:
    """Of a task at a place. spent: minutes of the table's tasks so far [min]."""
    needs = dust.needs(*task)
    column = needs.more if spent > FOUR_HOURS_MIN else needs.short
    if column is None:
        assert needs.none is not None
        return Controls(False, False, 0, needs.none, needs.none)
    methods = TABLE_1[column.task].methods
    told = message("person-dust-asks", control=column.control, factor=str(column.protection_factor))
    return Controls("water" in methods, "dust collector" in methods, column.protection_factor, told, column.basis.told)


@dataclass(frozen=True, slots=True)
class CautionRow:
    """A caution of the day.

    short, text: its first sentence, and all of it; basis; heard: by whom, and when; missing: installers who have not
    heard it; ready: "understood" acknowledges it now; why_not: why it does not apply to the area, None where it does.
    """

    id: str
    short: Text
    text: Text
    basis: Figure
    heard: tuple[tuple[str, str], ...]
    missing: tuple[str, ...]
    ready: bool
    why_not: Message | None

    @property
    def holds(self) -> bool:
        """Whether it applies to the area's piece."""
        return self.why_not is None

    @property
    def told(self) -> Message:
        """Who has heard it and who has not."""
        if self.why_not is not None:
            return self.why_not
        left = Several(tuple(message("prompt-person", name=name) for name in self.missing), "and")
        if not self.missing:
            return message("person-caution-all")
        return message("person-caution-missing", persons=left) if self.heard else message("person-caution-nobody")


def caution_rows(state: State, area: Area, now: Moment) -> tuple[CautionRow, ...]:
    """The cautions of an area: first what is due, then what somebody has not heard, then what all have."""
    ready = (
        cautions.asked(cautions.due(state, area, now)) if state.active == area.plan.name and not state.closed else ()
    )
    found = []
    for caution in area.checklist.cautions:
        heard = tuple(
            (person, at.wall[11:16]) for (what, person), at in state.cautioned.items() if what == cautions.key(caution)
        )
        found.append(
            CautionRow(
                caution.id,
                cautions.brief(caution),
                caution.text,
                caution.basis,
                heard,
                cautions.not_heard(state, caution),
                any(one.caution == caution for one in ready),
                _why_not(area, caution),
            )
        )
    return tuple(sorted(found, key=lambda row: (not row.ready, not row.holds, not row.missing)))


def _why_not(area: Area, caution: Caution) -> Message | None:
    """Why a caution does not apply in an area: the fact that it goes by."""
    condition = caution.only_if
    if condition is None or area.holds(caution):
        return None
    unit = quantities.unit_info(condition.unit).canonical
    value = Fraction(repr(float(FACTS[condition.fact].compute(area.facts))))
    return message(
        "safety-not-applying",
        fact=term("safety-fact", condition.fact),
        value=Quantity(value, unit),
        over=Quantity(Fraction(repr(float(condition.over))), condition.unit),
    )


@dataclass(frozen=True, slots=True)
class Carrying:
    """Handling a piece. people: how many figures lift it, 0 for a hoist or frame, None where there is no figure; told:
    the one sentence; more: what one person alone may do; basis."""

    people: int | None
    kind: Literal["hands", "gear", "not judged"]
    told: Message
    more: Message
    basis: Message


def carrying(state: State, area: str, entries: Entries) -> Carrying:
    """Of a piece of an area, lifted as was entered or is assumed."""
    found = handling.handling(day_inputs(state, area, entries))
    kind: Literal["hands", "gear", "not judged"] = "hands"
    if found.people is None:
        kind = "gear" if found.verdict.code == "assess-handling-too-heavy" else "not judged"
    return Carrying(found.people, kind, found.verdict, found.alone.told, found.basis.told)
