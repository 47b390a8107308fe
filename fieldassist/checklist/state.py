"""Where a day stands: a fold over its events. `apply` is total and decides nothing; `engine.decide` does."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import cached_property
from types import MappingProxyType
from typing import Any, Literal

from fieldassist.checklist import events as ev
from fieldassist.checklist import rules
from fieldassist.checklist.events import Event, Moment
from fieldassist.checklist.plan import AreaPlan, DayPlan, Person, Role, Trowel
from fieldassist.checklist.schema import Caution, Checklist, Corrective, Section, Step
from fieldassist.trade import dust, quantities

_UNDO_DEPTH = 20


@dataclass(frozen=True, slots=True)
class Task:
    """One step that is due. `failure`: it checks again what that non-conformance found."""

    section: str
    round: int
    step: str
    failure: int | None = None


@dataclass(frozen=True, slots=True)
class ClockRun:
    """A clock that runs: `run` is the number of the event that started it."""

    run: int
    clock: str
    title: str
    section: str
    round: int
    minutes: float
    started: Moment
    warned: bool = False

    def left(self, now: Moment) -> float:
        """Minutes left, negative once time is up."""
        return self.minutes - self.started.minutes_to(now)


@dataclass(frozen=True, slots=True)
class Failure:
    """An open non-conformance: which corrective action cures it, in which round it was found, and what it is."""

    corrective: str
    section: str
    round: int
    finding: str


@dataclass(frozen=True, slots=True)
class Progress:
    """How far an area has come: everything that taking back the last thing done must put back."""

    phase: Literal["starting", "working", "finishing", "finished"] = "starting"
    tasks: tuple[Task, ...] = ()
    rounds: Mapping[str, int] = field(default_factory=dict)
    opened: frozenset[tuple[str, int]] = frozenset()
    good: Mapping[str, int] = field(default_factory=dict)
    clocks: tuple[ClockRun, ...] = ()
    tiles: int = 0
    since: Mapping[str, float] = field(default_factory=dict)
    changed: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    tightened: int = 0
    failures: Mapping[int, Failure] = field(default_factory=dict)
    lifts: int = 0
    lifts_passed: int = 0
    measured: Mapping[str, float] = field(default_factory=dict)
    lift_label: str | None = None


@dataclass(frozen=True, slots=True)
class Done:
    """One thing done that can still be taken back: its event, in words, and the progress before it."""

    seq: int
    text: str
    before: Progress


@dataclass(frozen=True, slots=True)
class Pending:
    """A reading that was read back and waits for yes or no."""

    seq: int
    area: str
    task: Task
    quantity: str
    value: Fraction
    unit: str
    label: str | None

    @property
    def canonical(self) -> float:
        """The value in the canonical unit of its dimension."""
        return quantities.canonical(float(self.value), self.unit)


@dataclass(frozen=True, slots=True)
class DustEntry:
    """Minutes of a dusty task that count: the number of their event, and in which part of the day they were noted."""

    seq: int
    by: str
    task: str
    place: dust.Place
    minutes: Fraction
    basis: str
    part: int


@dataclass(frozen=True)
class Area:
    """One area under way."""

    plan: AreaPlan
    checklist: Checklist
    trowel: Trowel
    notch: str = ""
    installer: str | None = None
    progress: Progress = field(default_factory=Progress)
    done: tuple[Done, ...] = ()
    acknowledged: frozenset[tuple[str, int]] = frozenset()

    @cached_property
    def facts(self) -> rules.Facts:
        """What the rules of trade/ look at."""
        return rules.Facts(self.plan, self.trowel, self.checklist.place, self.checklist.surface)

    @cached_property
    def piece_area(self) -> float:
        """The face of one tile, m2."""
        return rules.piece_area(self.plan)

    @property
    def task(self) -> Task | None:
        """The step at hand, or None between rounds."""
        return self.progress.tasks[0] if self.progress.tasks else None

    @property
    def step(self) -> Step | None:
        """The schema of the step at hand."""
        return self.checklist.step(self.task.section, self.task.step) if self.task else None

    @property
    def holder(self) -> Section | Corrective | None:
        """The section or corrective action at hand."""
        return self.checklist.holder(self.task.section) if self.task else None

    def criterion(self, step: Step) -> rules.Criterion | None:
        """The step's acceptance criterion with this area's figures."""
        limit = step.limit
        if limit is None:
            return None
        if limit.rule is not None:
            return rules.LIMITS[limit.rule](self.facts)
        if limit.calculation is not None:
            return rules.calculated(self.facts, limit.calculation, limit.given, limit.result or "", limit.bound)
        return rules.Criterion(limit.at_least, limit.at_most, limit.unit or "count", limit.basis or "")

    def cautions_due(self) -> tuple[Caution, ...]:
        """Cautions that stand before the step at hand, hold here, and were not acknowledged yet."""
        task = self.task
        if task is None:
            return ()
        return tuple(
            c
            for c in self.checklist.cautions
            if c.before in ("area", task.section, task.step)
            and self.caution_key(c, task) not in self.acknowledged
            and self.holds(c)
        )

    def caution_key(self, caution: Caution, task: Task) -> tuple[str, int]:
        """Under what an acknowledgement counts: once an area, or once a round of the section."""
        return caution.id, task.round if caution.again == "round" else 0

    @property
    def lifts_needed(self) -> tuple[int, str]:
        """Good lifts before the area may be finished, and the basis."""
        wanted = self.checklist.finish.lifts_at_least
        if not any(s.lift for s in self.checklist.sections):
            return 0, ""
        if isinstance(wanted, int):
            return wanted, "This checklist's own number."
        return rules.least_lifts(self.facts)

    def holds(self, caution: Caution) -> bool:
        """Whether the caution's condition is met by this area's figures."""
        condition = caution.only_if
        if condition is None:
            return True
        return rules.FACTS[condition.fact].compute(self.facts) > quantities.canonical(condition.over, condition.unit)


@dataclass(frozen=True)
class State:
    """The whole day. Start from `State()` and fold."""

    plan: DayPlan | None = None
    checklists: Mapping[str, Checklist] = field(default_factory=dict)
    areas: Mapping[str, Area] = field(default_factory=dict)
    active: str | None = None
    speaker: Person | None = None
    pending: Pending | None = None
    last_seq: int = 0
    signed: tuple[str, ...] = ()
    closed: bool = False  # signed, and not opened again since
    sealed: bool = False  # and this signature is sealed
    part: int = 0  # 0: the day; n: its addendum n
    dust: tuple[DustEntry, ...] = ()  # without those that were replaced

    @property
    def area(self) -> Area | None:
        """The area that is talked about now."""
        return self.areas[self.active] if self.active is not None else None


def fold(events: Iterable[Event], state: State | None = None) -> State:
    """Every event applied in turn."""
    state = state or State()
    for event in events:
        state = apply(state, event)
    return state


def apply(state: State, event: Event) -> State:
    """The state after `event`.

    ValueError when the event's number does not follow the last one: a log with a gap must not be folded silently.
    """
    if event.seq != state.last_seq + 1:
        raise ValueError(f"event {event.seq} cannot follow event {state.last_seq}: the log has a gap")
    handler = _HANDLERS.get(type(event.body))
    if handler is not None:
        state = handler(state, event, event.body)
    return replace(state, last_seq=event.seq)


# --- one handler an event -----------------------------------------------------------------------------------------


def _with(state: State, name: str, **changes: Any) -> State:
    return replace(state, areas={**state.areas, name: replace(state.areas[name], **changes)})


def _advance(state: State, name: str, **changes: Any) -> State:
    return _with(state, name, progress=replace(state.areas[name].progress, **changes))


def _remember(state: State, name: str, seq: int, text: str) -> State:
    area = state.areas[name]
    return _with(state, name, done=(*area.done, Done(seq, text, area.progress))[-_UNDO_DEPTH:])


def _day_opened(state: State, event: Event, body: ev.DayOpened) -> State:
    return replace(state, plan=body.plan)


def _checklist_adopted(state: State, event: Event, body: ev.ChecklistAdopted) -> State:
    return replace(state, checklists={**state.checklists, body.checklist.checklist: body.checklist})


def _speaker_changed(state: State, event: Event, body: ev.SpeakerChanged) -> State:
    return replace(state, speaker=Person(name=body.name, role=body.role))


def _dust_noted(state: State, event: Event, body: ev.DustNoted) -> State:
    kept = tuple(entry for entry in state.dust if entry.seq != body.replaces)
    if body.replaces is not None and len(kept) == len(state.dust):
        raise ValueError(f"event {event.seq} replaces event {body.replaces}, which is no dust entry that counts")
    if body.minutes:
        entry = DustEntry(event.seq, event.by, body.task, body.place, body.minutes, body.basis, state.part)
        kept = (*kept, entry)
    return replace(state, dust=kept)


def _area_started(state: State, event: Event, body: ev.AreaStarted) -> State:
    plan = state.plan.area(body.area) if state.plan else None
    if plan is None:
        raise ValueError(f"event {event.seq} starts the area {body.area!r}, which the day's plan does not hold")
    speaker = state.speaker
    area = Area(
        plan=plan,
        checklist=state.checklists[plan.checklist],
        trowel=plan.trowel,
        installer=speaker.name if speaker and speaker.role is Role.INSTALLER else None,
    )
    return replace(state, areas={**state.areas, body.area: area}, active=body.area)


def _area_entered(state: State, event: Event, body: ev.AreaEntered) -> State:
    return replace(state, active=body.area)


def _section_opened(state: State, event: Event, body: ev.SectionOpened) -> State:
    area = state.areas[body.area]
    holder = area.checklist.holder(body.section)
    if isinstance(holder, Section) and holder.when in ("called", "end") and body.failure is None:
        state = _remember(state, body.area, event.seq, holder.title)
        area = state.areas[body.area]
    progress = area.progress
    tasks = tuple(Task(body.section, body.round, s.id, body.failure) for s in holder.steps)
    # A reading that waits for its yes stays the step at hand: a clock that runs out meanwhile takes its turn after it.
    pending = state.pending
    waiting = pending is not None and pending.area == body.area and progress.tasks[:1] == (pending.task,)
    first = progress.tasks[: int(waiting)]
    changes: dict[str, Any] = {
        "tasks": first + tasks + progress.tasks[int(waiting) :],
        "rounds": {**progress.rounds, body.section: body.round},
        "opened": progress.opened | {(body.section, body.round)},
    }
    if isinstance(holder, Section):
        if holder.when in ("start", "end"):
            changes["phase"] = "starting" if holder.when == "start" else "finishing"
        if holder.due is not None:
            changes["since"] = {**progress.since, holder.id: 0.0}
            changes["changed"] = {**progress.changed, holder.id: ()}
        if holder.lift is not None:
            changes["measured"] = {}
            changes["lift_label"] = None
    state = _advance(state, body.area, **changes)
    if isinstance(holder, Section) and holder.changes == "batch" and body.round > 1:
        state = _note_change(state, body.area, "batch")
    return state


def _note_change(state: State, name: str, change: Literal["notch", "batch", "installer"]) -> State:
    area = state.areas[name]
    changed = dict(area.progress.changed)
    for section in area.checklist.sections:
        if section.due is not None and change in section.due.changes:
            seen = changed.get(section.id, ())
            if change not in seen:
                changed[section.id] = (*seen, change)
    return _advance(state, name, changed=changed)


def _section_closed(state: State, event: Event, body: ev.SectionClosed) -> State:
    area = state.areas[body.area]
    progress = area.progress
    holder = area.checklist.holder(body.section)
    changes: dict[str, Any] = {"opened": progress.opened - {(body.section, body.round)}}
    if isinstance(holder, Section) and holder.when == "called":
        changes["good"] = {**progress.good, body.section: body.round}
    if body.tile_set:
        changes["tiles"] = progress.tiles + 1
        changes["since"] = {
            s.id: progress.since.get(s.id, 0.0) + area.piece_area for s in area.checklist.sections if s.due is not None
        }
    if not progress.tasks and progress.phase == "starting":
        changes["phase"] = "working"
    return _advance(state, body.area, **changes)


def _step_reopened(state: State, event: Event, body: ev.StepReopened) -> State:
    task = Task(body.section, body.round, body.step, body.failure)
    return _advance(state, body.area, tasks=(task, *state.areas[body.area].progress.tasks))


def _caution_acknowledged(state: State, event: Event, body: ev.CautionAcknowledged) -> State:
    area = state.areas[body.area]
    return _with(state, body.area, acknowledged=area.acknowledged | {(body.caution, body.round)})


def _pop(state: State, event: Event, body: Any, **changes: Any) -> State:
    area = state.areas[body.area]
    task = area.task
    if task is None or (task.section, task.round, task.step) != (body.section, body.round, body.step):
        raise ValueError(f"event {event.seq} answers {body.step!r}, which was not the step at hand")
    state = _remember(state, body.area, event.seq, area.checklist.step(task.section, task.step).ask)
    return _advance(state, body.area, tasks=area.progress.tasks[1:], **changes)


def _step_confirmed(state: State, event: Event, body: ev.StepConfirmed) -> State:
    area = state.areas[body.area]
    if area.checklist.step(body.section, body.step).kind == "lift":
        return _pop(state, event, body, lift_label=body.label, lifts=area.progress.lifts + 1)
    return _pop(state, event, body)


def _reading_called(state: State, event: Event, body: ev.ReadingCalled) -> State:
    task = state.areas[body.area].task
    if task is None:
        raise ValueError(f"event {event.seq} is a reading for {body.step!r}, but no step was at hand")
    return replace(
        state,
        pending=Pending(event.seq, body.area, task, body.quantity, body.value, body.unit, body.label),
    )


def _reading_kept(state: State, event: Event, body: ev.ReadingKept) -> State:
    pending = state.pending
    if pending is None or pending.seq != body.target:
        raise ValueError(f"event {event.seq} keeps reading {body.target}, which was not waiting")
    area = state.areas[body.area]
    measures = area.checklist.step(body.section, body.step).measures
    changes: dict[str, Any] = {}
    if measures is not None:
        changes["measured"] = {**area.progress.measured, measures: pending.canonical}
    return replace(_pop(state, event, body, **changes), pending=None)


def _choice_made(state: State, event: Event, body: ev.ChoiceMade) -> State:
    area = state.areas[body.area]
    measures = area.checklist.step(body.section, body.step).measures
    changes: dict[str, Any] = {}
    if measures is not None:
        changes["measured"] = {**area.progress.measured, measures: 0.0 if body.passed is False else 1.0}
    return _pop(state, event, body, **changes)


def _photo_attached(state: State, event: Event, body: ev.PhotoAttached) -> State:
    area = state.areas.get(body.area)
    asked = area is not None and area.step is not None and area.step.kind == "photo"
    return _pop(state, event, body) if asked else state


def _hold_released(state: State, event: Event, body: ev.HoldReleased) -> State:
    # What a foreman has released is not taken back by the installer's "scratch that".
    return _with(_pop(state, event, body), body.area, done=())


def _withdrawn(state: State, event: Event, body: ev.Withdrawn) -> State:
    if state.pending is not None and state.pending.seq == body.target:
        return replace(state, pending=None)
    area = state.areas[body.area]
    if not area.done or area.done[-1].seq != body.target:
        raise ValueError(f"event {event.seq} withdraws event {body.target}, which is not the last thing done")
    return _with(state, body.area, progress=area.done[-1].before, done=area.done[:-1])


def _lift_judged(state: State, event: Event, body: ev.LiftJudged) -> State:
    progress = state.areas[body.area].progress
    if not body.passed:
        return state
    return _advance(
        state,
        body.area,
        lifts_passed=progress.lifts_passed + 1,
        tightened=max(0, progress.tightened - 1),
    )


def _failure_opened(state: State, event: Event, body: ev.FailureOpened) -> State:
    progress = state.areas[body.area].progress
    failure = Failure(body.corrective, body.section, body.round, body.finding)
    return _advance(state, body.area, failures={**progress.failures, event.seq: failure})


def _failure_closed(state: State, event: Event, body: ev.FailureClosed) -> State:
    progress = state.areas[body.area].progress
    return _advance(state, body.area, failures={k: v for k, v in progress.failures.items() if k != body.failure})


def _inspection_tightened(state: State, event: Event, body: ev.InspectionTightened) -> State:
    return _advance(state, body.area, tightened=body.lifts)


def _clock_started(state: State, event: Event, body: ev.ClockStarted) -> State:
    run = ClockRun(event.seq, body.clock, body.title, body.section, body.round, body.minutes, event.at)
    return _advance(state, body.area, clocks=(*state.areas[body.area].progress.clocks, run))


def _without(state: State, name: str, run: int) -> tuple[ClockRun, ...]:
    return tuple(c for c in state.areas[name].progress.clocks if c.run != run)


def _clock_stopped(state: State, event: Event, body: ev.ClockStopped) -> State:
    return _advance(state, body.area, clocks=_without(state, body.area, body.run))


def _clock_warned(state: State, event: Event, body: ev.ClockWarned) -> State:
    clocks = state.areas[body.area].progress.clocks
    return _advance(state, body.area, clocks=tuple(replace(c, warned=True) if c.run == body.run else c for c in clocks))


def _clock_ran_out(state: State, event: Event, body: ev.ClockRanOut) -> State:
    area = state.areas[body.area]
    run = next(c for c in area.progress.clocks if c.run == body.run)
    tasks, good = spoiled(area, run)
    dropped = {(t.section, t.round) for t in area.progress.tasks if t not in tasks}
    state = _advance(
        state,
        body.area,
        clocks=_without(state, body.area, body.run),
        tasks=tasks,
        good=good,
        opened=area.progress.opened - dropped,
    )
    if state.pending is not None and state.pending.area == body.area and state.pending.task not in tasks:
        state = replace(state, pending=None)
    return _with(state, body.area, done=())  # time that has passed is not taken back


def spoiled(area: Area, run: ClockRun) -> tuple[tuple[Task, ...], Mapping[str, int]]:
    """The tasks and good rounds that are left once `run` is up: what it ends, and what needed that, falls away."""
    progress = area.progress
    clock = area.checklist.clock(run.clock)
    ends = clock.ends if clock else None
    if ends is None:
        return progress.tasks, progress.good
    good = {k: v for k, v in progress.good.items() if not (k == ends and v == run.round)}

    def stays(task: Task) -> bool:
        if task.section == ends:
            return task.round != run.round
        section = area.checklist.section(task.section)
        return section is None or ends not in section.needs or ends in good

    return tuple(t for t in progress.tasks if stays(t)), good


def _notch_changed(state: State, event: Event, body: ev.NotchChanged) -> State:
    # The change makes a lift due; taking back an earlier step must not forget that.
    return _note_change(_with(state, body.area, trowel=body.trowel, notch=body.notch, done=()), body.area, "notch")


def _installer_changed(state: State, event: Event, body: ev.InstallerChanged) -> State:
    return _note_change(_with(state, body.area, installer=body.installer, done=()), body.area, "installer")


def _area_finished(state: State, event: Event, body: ev.AreaFinished) -> State:
    return _with(_advance(state, body.area, phase="finished"), body.area, done=())


def _day_signed(state: State, event: Event, body: ev.DaySigned) -> State:
    return replace(state, signed=(*state.signed, body.name), closed=True, sealed=False)


def _day_sealed(state: State, event: Event, body: ev.DaySealed) -> State:
    return replace(state, sealed=True)


def _addendum_opened(state: State, event: Event, body: ev.AddendumOpened) -> State:
    # What was signed cannot be taken back by "scratch that"; it can be corrected in words.
    areas = {name: replace(area, done=()) for name, area in state.areas.items()}
    return replace(state, closed=False, sealed=False, part=body.number, areas=areas)


_HANDLERS: Mapping[type, Callable[[State, Event, Any], State]] = MappingProxyType(
    {
        ev.DayOpened: _day_opened,
        ev.ChecklistAdopted: _checklist_adopted,
        ev.SpeakerChanged: _speaker_changed,
        ev.DustNoted: _dust_noted,
        ev.AreaStarted: _area_started,
        ev.AreaEntered: _area_entered,
        ev.SectionOpened: _section_opened,
        ev.SectionClosed: _section_closed,
        ev.StepReopened: _step_reopened,
        ev.CautionAcknowledged: _caution_acknowledged,
        ev.StepConfirmed: _step_confirmed,
        ev.ReadingCalled: _reading_called,
        ev.ReadingKept: _reading_kept,
        ev.ChoiceMade: _choice_made,
        ev.PhotoAttached: _photo_attached,
        ev.HoldReleased: _hold_released,
        ev.Withdrawn: _withdrawn,
        ev.LiftJudged: _lift_judged,
        ev.FailureOpened: _failure_opened,
        ev.FailureClosed: _failure_closed,
        ev.InspectionTightened: _inspection_tightened,
        ev.ClockStarted: _clock_started,
        ev.ClockStopped: _clock_stopped,
        ev.ClockWarned: _clock_warned,
        ev.ClockRanOut: _clock_ran_out,
        ev.NotchChanged: _notch_changed,
        ev.InstallerChanged: _installer_changed,
        ev.AreaFinished: _area_finished,
        ev.DaySigned: _day_signed,
        ev.DaySealed: _day_sealed,
        ev.AddendumOpened: _addendum_opened,
    }
)
