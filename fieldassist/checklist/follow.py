"""What follows from a step that was answered: clocks, failures and their cure, verdicts on lifts, what becomes due."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from typing import Literal

from fieldassist.checklist import events as ev
from fieldassist.checklist import rules
from fieldassist.checklist.draft import Draft
from fieldassist.checklist.fields import canonical
from fieldassist.checklist.kinds import Lift, Step
from fieldassist.checklist.kinds.reading import judged_by
from fieldassist.checklist.places import PiecePlace
from fieldassist.checklist.schema import ClockRule, Corrective, Section
from fieldassist.checklist.state import Area, ClockRun, Task
from fieldassist.checklist.told import exact
from fieldassist.trade import coverage
from fieldassist.trade.message import Compared, Figure, Message, Several, Text, message
from fieldassist.trade.quantities import Quantity, convert_exact, dimension_of

Sentence = Message | Text


def minutes(value: float) -> Quantity:
    """Minutes as a figure of a message, to the tenth."""
    return Quantity(exact(round(value, 1)), "min")


# --- sections -----------------------------------------------------------------------------------------------------


def open_section(
    draft: Draft,
    holder: Section | Corrective,
    reason: Sentence,
    failure: int | None = None,
    *,
    called: bool = False,
    place: PiecePlace | None = None,
    lifts: ev.LiftAimed | None = None,
) -> None:
    """Make the steps of a section or corrective action due.

    called: somebody asked for it, and may take that back; place: of the tile that it sets; lifts: the tile that it
    lifts, and how that came about; the one set last where it lifts one and nothing is said.
    """
    area, progress = draft.area, draft.area.progress
    at_round = progress.rounds.get(holder.id, 0) + 1
    pending = draft.state.pending
    section = holder if isinstance(holder, Section) else None
    phases: Mapping[str, Literal["starting", "finishing"]] = {"start": "starting", "end": "finishing"}
    draft.emit(
        ev.SectionOpened(
            area=area.plan.name,
            section=holder.id,
            round=at_round,
            steps=tuple(step.id for step in holder.steps),
            reason=reason,
            failure=failure,
            phase=phases.get(section.when) if section else None,
            # A reading that waits for its yes stays the step at hand: what opens meanwhile takes its turn after it.
            after_first=pending is not None
            and pending.area == area.plan.name
            and progress.tasks[:1] == (pending.task,),
            called=called,
            place=ev.PlaceTaken(**asdict(place)) if place is not None else None,
            lifts=lifts or (_aimed(area, failure) if section is not None and section.lift is not None else None),
            counts_anew=section is not None and section.due is not None,
            makes_due=due_after_change(area, "batch")
            if section is not None and section.changes == "batch" and at_round > 1
            else (),
        )
    )


def _aimed(area: Area, failure: int | None) -> ev.LiftAimed:
    last = area.progress.last_set
    return ev.LiftAimed(tile=last.number if last else 0, came="interval" if failure is None else "after failure")


def due_after_change(area: Area, change: ev.Change) -> tuple[str, ...]:
    """The sections that a change makes due after the next round of what they follow."""
    return tuple(s.id for s in area.checklist.sections if s.due is not None and change in s.due.changes)


def open_next(draft: Draft, when: str, after: str | None, *, called: bool = False) -> bool:
    """Open the section with this `when` that follows `after` in the file (the first one for None)."""
    passed = after is None
    for section in draft.area.checklist.sections:
        if passed and section.when == when:
            open_section(draft, section, message(f"engine-reason-{when}"), called=called)
            return True
        passed = passed or section.id == after
    return False


def finish(draft: Draft) -> None:
    """The area is done; its clocks stop."""
    area = draft.area
    for run in area.progress.clocks:
        draft.emit(ev.ClockStopped(area=area.plan.name, clock=run.clock, run=run.run))
    draft.emit(ev.AreaFinished(area=area.plan.name))
    draft.say(message("engine-area-finished", area=area.plan.name))


# --- after a step -------------------------------------------------------------------------------------------------


def after_step(draft: Draft, task: Task, step: Step, failure: Figure | None) -> None:
    """Clocks, failures, verdicts and what becomes due. `failure`: why the step's criterion failed, if it did."""
    area = draft.area
    holder = area.checklist.holder(task.section)
    in_lift = isinstance(holder, Section) and holder.lift is not None and step.measures is not None
    if failure is not None and not in_lift and step.on_fail is not None:
        # A step that failed starts no clock: the mortar combed in swirls is scraped off again.
        assert isinstance(failure, Message | Text)
        _fail(draft, task, step, failure)
        return
    _turn_clocks(draft, task, step)
    if (
        task.failure is not None
        and task.failure in area.progress.failures
        and isinstance(holder, Section)
        and holder.lift is None
        and step.on_fail is not None
    ):
        _close_failure(draft, task.failure, message("engine-checked-again", step=step.name))
    if not any((t.section, t.round) == (task.section, task.round) for t in draft.area.progress.tasks):
        _close_section(draft, task, holder)


def _turn_clocks(draft: Draft, task: Task, step: Step) -> None:
    area = draft.area
    if step.stops is not None:
        for run in [c for c in area.progress.clocks if c.clock == step.stops]:
            draft.emit(ev.ClockStopped(area=area.plan.name, clock=run.clock, run=run.run))
    clock = area.checklist.clock(step.starts) if step.starts is not None else None
    if clock is not None:
        span = clock_span(area, clock)
        draft.emit(
            ev.ClockStarted(
                area=area.plan.name,
                clock=clock.id,
                section=task.section,
                round=task.round,
                minutes=span.minutes,
                basis=span.basis,
            )
        )
        draft.say(message("engine-clock-started", clock=clock.title, minutes=minutes(span.minutes)))


def clock_span(area: Area, clock: ClockRule) -> rules.Span:
    """How long a clock runs in this area, and why."""
    if clock.rule is not None:
        return rules.DURATIONS[clock.rule](area.facts)
    assert clock.lasts is not None  # the schema lets no clock pass without one or the other
    assert clock.basis is not None
    return rules.Span(canonical(clock.lasts), clock.basis)


def _fail(draft: Draft, task: Task, step: Step, finding: Sentence) -> None:
    """Open the corrective action of a failed step, or repeat it when the check after it failed again."""
    area = draft.area
    corrective = area.checklist.corrective(step.on_fail or "")
    if corrective is None:
        return
    criterion = area.criterion(step)
    if task.failure is not None:
        failure = task.failure
        draft.emit(ev.StillFailing(area=area.plan.name, failure=failure, finding=finding))
    else:
        failure = draft.emit(
            ev.FailureOpened(
                area=area.plan.name,
                section=task.section,
                round=task.round,
                step=step.id,
                finding=finding,
                criterion=judged_by(criterion) if criterion else None,
                asked=None if criterion else step.ask,
                basis=None if criterion else step.basis,
                corrective=corrective.id,
            )
        ).seq
    if corrective.then == "again":
        draft.emit(
            ev.StepReopened(area=area.plan.name, section=task.section, round=task.round, step=step.id, failure=failure)
        )
    correct(draft, corrective, failure, finding)


def correct(draft: Draft, corrective: Corrective, failure: int, finding: Sentence) -> None:
    """Say what failed and make its corrective action due."""
    draft.alarm = True
    draft.say(message("engine-failed", finding=finding, corrective=corrective.title))
    if corrective.tighten is not None:
        draft.emit(ev.InspectionTightened(area=draft.area.plan.name, lifts=corrective.tighten.lifts, failure=failure))
    open_section(draft, corrective, message("engine-reason-failure", failure=str(failure)), failure)


def _close_failure(draft: Draft, failure: int, shown_by: Sentence) -> None:
    area = draft.area
    corrective = area.progress.failures[failure].corrective
    draft.emit(ev.FailureClosed(area=area.plan.name, failure=failure, corrective=corrective, shown_by=shown_by))
    draft.say(message("engine-failure-cured"))


def _close_section(draft: Draft, task: Task, holder: Section | Corrective) -> None:
    area = draft.area
    lift = holder.lift if isinstance(holder, Section) else None
    judged = _judge_lift(draft, task, holder) if lift and isinstance(holder, Section) else None
    section = holder if isinstance(holder, Section) else None
    sets = section is not None and section.sets == "tile"
    progress = draft.area.progress
    draft.emit(
        ev.SectionClosed(
            area=area.plan.name,
            section=task.section,
            round=task.round,
            good=section is not None and section.when == "called",
            tile=_set_tile(area, task) if sets else None,
            counts_for=tuple(s.id for s in area.checklist.sections if s.due is not None) if sets else (),
            phase="working" if not progress.tasks and progress.phase == "starting" else None,
        )
    )
    if isinstance(holder, Corrective):
        if holder.then == "go on" and task.failure is not None and task.failure in area.progress.failures:
            origin = area.progress.failures[task.failure]
            _close_failure(draft, task.failure, message("engine-corrective-done"))
            _close_if_done(draft, origin.section, origin.round)
        return
    if lift is not None and judged is not None:
        _follow_lift(draft, task, holder, lift, judged)
        if judged.verdict == "failed":
            return
    if holder.when in ("start", "end") and not draft.area.progress.tasks:
        if open_next(draft, holder.when, after=holder.id):
            return
        if holder.when == "end":
            finish(draft)
            return
        draft.say(message("engine-ready"))
        return
    _open_due(draft, holder)


def _set_tile(area: Area, task: Task) -> ev.SetTile:
    """The tile that a round has set, as the record has it."""
    progress = area.progress
    place = progress.taking[(task.section, task.round)]
    again = next((t.number for t in progress.tiles.values() if t.place == place and place.number is not None), None)
    number = place.number or again or max(progress.tiles, default=0) + 1
    method = area.methods_used.index(area.method)
    who = (area.setter or "", method)
    run = progress.runs.index(who) + 1 if who in progress.runs else len(progress.runs) + 1
    batch = next((s.id for s in area.checklist.sections if s.changes == "batch"), None)
    return ev.SetTile(
        number=number,
        order=progress.settings + 1,
        run=run,
        place=ev.PlaceTaken(**asdict(place)),
        setter=who[0],
        method=method,
        batch=progress.good.get(batch, 0) if batch is not None else 0,
    )


def _close_if_done(draft: Draft, section: str, at_round: int) -> None:
    """Close a round whose last step failed and was cured without being asked again."""
    progress = draft.area.progress
    waiting = any((t.section, t.round) == (section, at_round) for t in progress.tasks)
    if (section, at_round) in progress.opened and not waiting:
        _close_section(draft, Task(section, at_round, ""), draft.area.checklist.holder(section))


# --- lifts --------------------------------------------------------------------------------------------------------


def _judge_lift(draft: Draft, task: Task, holder: Section) -> ev.LiftJudged:
    area = draft.area
    measured = area.progress.measured.get((task.section, task.round), {})
    need = rules.requirement(area.facts)
    percent = canonical(measured["coverage"])
    void, corners = measured.get("largest void"), measured.get("corners")
    full = None if corners is None else bool(corners.value)
    verdict = coverage.lift_verdict(
        percent,
        need,
        largest_void_mm2=None if void is None else float(convert_exact(void.value, void.unit, "mm2")),
        # The question asks for corners and edges: who answers "full" says that no void lies in the strip along them.
        void_to_edge_mm=need.edge_clear_mm if full else None,
        corners_supported=full,
    )
    reasons: list[Sentence] = [_as_read(reason, void) for reason in verdict.reasons]
    unread = tuple(rules.as_told(one) for one in verdict.unread) if full is not False else ()
    required = exact(need.minimum_percent)
    for step in holder.steps:
        # A checklist may ask for more than the standard does: its own limit then counts as well.
        criterion = area.criterion(step) if step.measures in measured else None
        read = measured[step.measures or ""] if criterion else None
        own = criterion.judge(read.value, read.unit).finding if criterion and read else None
        if own is not None and not verdict.reasons:
            reasons.append(message("engine-own-limit", step=step.name, finding=own))
        if step.measures == "coverage" and criterion is not None and criterion.at_least is not None:
            required = max(required, exact(criterion.at_least))
    outcome = "failed" if reasons else "not complete" if unread else "passed"
    progress = area.progress
    lift = progress.lift_of(task.section, task.round)
    assert lift is not None  # the lift is the first step of its section
    body = ev.LiftJudged(
        area=area.plan.name,
        section=task.section,
        round=task.round,
        lift=lift.number,
        tile=lift.tile,
        label=lift.label,
        coverage=exact(percent),
        required=required,
        verdict=outcome,
        reasons=tuple(reasons),
        unread=unread,
        basis=rules.as_told(need.basis),
        tightened=max(0, progress.tightened - 1) if outcome == "passed" else progress.tightened,
    )
    draft.emit(body)
    if outcome == "passed":
        draft.say(message("engine-lift-passes", lift=str(lift.number)))
    elif outcome == "not complete":
        draft.say(message("engine-lift-not-complete", lift=str(lift.number), unread=Several(unread, "and")))
    return body


def _as_read(reason: Message, void: Quantity | None) -> Message:
    """A reason about the void in the unit in which it was read: one void, one unit."""
    if void is None:
        return reason
    figures = dict(reason.figures)
    for name, pair in figures.items():
        if isinstance(pair, Compared) and dimension_of(pair.read.unit) == "area":
            limit = Quantity(convert_exact(pair.limit.value, pair.limit.unit, void.unit), void.unit)
            figures[name] = Compared(void, limit, pair.side)
    return Message(reason.code, figures)


def _follow_lift(draft: Draft, task: Task, holder: Section, lift: Lift, judged: ev.LiftJudged) -> None:
    area = draft.area
    failure = task.failure
    if judged.verdict != "failed":
        if judged.passed and failure is not None and failure in area.progress.failures:
            _close_failure(draft, failure, message("engine-lift-passed", lift=str(judged.lift)))
        return
    corrective = area.checklist.corrective(lift.on_fail or "")
    if corrective is None:
        return
    finding = message("engine-lift-failed", lift=str(judged.lift), reasons=Several(judged.reasons, "clauses"))
    if failure is not None and failure in area.progress.failures:
        draft.emit(ev.StillFailing(area=area.plan.name, failure=failure, finding=finding))
    else:
        need = rules.requirement(area.facts)
        failure = draft.emit(
            ev.FailureOpened(
                area=area.plan.name,
                section=task.section,
                round=task.round,
                step=lift.id,
                finding=finding,
                criterion=judged_by(rules.required_coverage(area.facts)),
                corrective=corrective.id,
                basis=rules.as_told(need.basis),
            )
        ).seq
    if corrective.then == "again":
        open_section(draft, holder, message("engine-reason-again", failure=str(failure)), failure)
    correct(draft, corrective, failure, finding)


# --- what becomes due ---------------------------------------------------------------------------------------------


def _open_due(draft: Draft, closed: Section) -> None:
    """Sections that the round just closed makes due, in file order (the first in the file is asked first)."""
    due: list[tuple[Section, Message]] = []
    for section in draft.area.checklist.sections:
        if section.due is not None and section.due.after == closed.id:
            reason = why_due(draft.area, section)
            if reason is not None:
                due.append((section, reason))
    for section, reason in reversed(due):
        open_section(draft, section, reason)
    if due:
        draft.say(message("engine-is-due", section=due[0][0].title, reason=due[0][1]))


def why_due(area: Area, section: Section) -> Message | None:
    """Why a round of `section` is due once a round of what it follows is closed; None when it is not."""
    every, progress = section.due, area.progress
    if every is None:
        return None
    if every.always:
        return message("engine-due-after", section=area.checklist.holder(every.after).title)
    if every.first and progress.rounds.get(section.id, 0) == 0:
        return message("engine-due-first")
    if section.lift is not None and progress.tightened > 0:
        return message("engine-due-tightened", lifts=progress.tightened)
    if progress.changed.get(section.id):
        changes = tuple(message("engine-change", change=change) for change in progress.changed[section.id])
        return message("engine-due-changed", changes=Several(changes, "and"))
    if every.every is not None:
        limit = canonical(every.every)
        if progress.since.get(section.id, 0.0) >= limit - 1e-9:
            return message("engine-due-area", area=every.every)
    return None


# --- clocks -------------------------------------------------------------------------------------------------------


def run_out(draft: Draft, name: str, run: ClockRun) -> None:
    """Time is up: what it ends is good no more, what needed that falls away, and its corrective action is due."""
    draft.focus = name
    area = draft.state.areas[name]
    clock = area.checklist.clock(run.clock)
    if clock is None:
        return
    drops, ends = ended_by(area, run)
    draft.emit(
        ev.ClockRanOut(
            area=name,
            clock=run.clock,
            run=run.run,
            minutes=run.minutes,
            drops=tuple(ev.StepPlace(section=t.section, round=t.round, step=t.step) for t in drops),
            ends=ends,
        )
    )
    draft.alarm = True
    draft.say(message("engine-clock-up", clock=clock.title, area=name, up=clock.up))
    corrective = area.checklist.corrective(clock.corrective) if clock.corrective else None
    if corrective is not None:
        allowed = minutes(run.minutes)
        span = clock_span(area, clock)
        failure = draft.emit(
            ev.FailureOpened(
                area=name,
                section=run.section,
                round=run.round,
                step=corrective.steps[0].id,
                finding=message("engine-clock-ran-out", clock=clock.title, minutes=allowed),
                criterion=ev.JudgedBy(rule=clock.rule or "", at_most=allowed.value, unit="min", basis=span.basis),
                corrective=corrective.id,
            )
        ).seq
        open_section(draft, corrective, message("engine-reason-failure", failure=str(failure)), failure)


def ended_by(area: Area, run: ClockRun) -> tuple[tuple[Task, ...], tuple[str, ...]]:
    """The tasks that fall away once `run` is up, and the sections whose round is good no more."""
    progress = area.progress
    clock = area.checklist.clock(run.clock)
    ends = clock.ends if clock else None
    if ends is None:
        return (), ()
    no_more = (ends,) if progress.good.get(ends) == run.round else ()

    def falls(task: Task) -> bool:
        if task.section == ends:
            return task.round == run.round
        section = area.checklist.section(task.section)
        return section is not None and ends in section.needs and (ends in no_more or ends not in progress.good)

    return tuple(t for t in progress.tasks if falls(t)), no_more
