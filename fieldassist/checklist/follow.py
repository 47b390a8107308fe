"""What follows from a step that was answered: clocks, failures and their cure, verdicts on lifts, what becomes due."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from itertools import takewhile
from typing import Literal

from fieldassist.checklist import cautions, covering, lots, rules
from fieldassist.checklist import events as ev
from fieldassist.checklist.draft import Draft
from fieldassist.checklist.fields import canonical
from fieldassist.checklist.kinds import Lift, Reading, Step
from fieldassist.checklist.kinds.reading import judged_by
from fieldassist.checklist.moment import CLOCK, Moment
from fieldassist.checklist.places import PiecePlace
from fieldassist.checklist.schema import ClockRule, Corrective, Section, TimeOfDay
from fieldassist.checklist.state import AFTER_FAILURE, Area, ClockRun, LiftRecord, RanOut, ReadingRecord, Task
from fieldassist.checklist.told import exact
from fieldassist.trade import coverage
from fieldassist.trade.message import Compared, Figure, Message, Several, Text, message, term
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
    behind: int = 0,
    bucket: int = 1,
    again: tuple[TimeOfDay, ...] = (),
    by_time: bool = False,
    after_lift: int | None = None,
    by_answer: bool = False,
    phase: Literal["starting", "finishing"] | None = None,
    sample: ev.SampleBegun | None = None,
) -> None:
    """Make the steps of a section or corrective action due.

    called: somebody asked for it, and may take that back; place: of the tile that it sets; lifts: the tile that it
    lifts, and how that came about, the one set last where it lifts one and nothing is said; behind: how many of the
    steps at hand go first; bucket: in which a batch is mixed; again: the times of day for which it counts; by_time: the
    time of day opened it; after_lift: the lift whose tile it puts back; by_answer: the answer that follows opened it;
    phase: the area's from here on, None where it stays; sample: of a trial, that it makes.
    """
    area, progress = draft.area, draft.area.progress
    at_round = progress.rounds.get(holder.id, 0) + 1
    pending = draft.state.pending
    section = holder if isinstance(holder, Section) else None
    # What waits to be kept stays at hand: what opens meanwhile takes its turn after it.
    here = draft.state.waiting if pending is not None and pending.area == area.plan.name else ()
    waits = max((progress.tasks.index(one.task) + 1 for one in here if one.task in progress.tasks), default=0)
    mixes = section is not None and section.changes == "batch"
    steps = area.opens_with(holder)
    draft.emit(
        ev.SectionOpened(
            area=area.plan.name,
            section=holder.id,
            round=at_round,
            steps=steps,
            reason=reason,
            failure=failure,
            phase=phase,
            after=max(behind, waits),
            called=called,
            place=ev.PlaceTaken(**asdict(place)) if place is not None else None,
            lifts=lifts or (_aimed(area, failure) if section is not None and section.lift is not None else None),
            counts_anew=section is not None and section.due is not None,
            makes_due=due_after_change(area, "batch") if mixes and at_round > 1 else (),
            bucket=bucket if mixes else 0,
            again=again,
            by_time=by_time,
            after_lift=after_lift,
            by_answer=by_answer,
            sample=sample,
        )
    )
    if not steps:
        _close_section(draft, Task(holder.id, at_round, ""), holder)


def _aimed(area: Area, failure: int | None) -> ev.LiftAimed:
    last = area.progress.last_set
    return ev.LiftAimed(tile=last.number if last else 0, came="interval" if failure is None else "after failure")


def due_after_change(area: Area, change: ev.Change) -> tuple[str, ...]:
    """The sections that a change makes due after the next round of what they follow."""
    return tuple(s.id for s in area.checklist.sections if s.due is not None and change in s.due.changes)


def open_start(draft: Draft, after: str | None) -> bool:
    """Open the start section that follows `after` in the file (the first one for None)."""
    sections = [s for s in draft.area.checklist.sections if s.when == "start"]
    found = _following(sections, after)
    if found is None:
        return False
    again: tuple[TimeOfDay, ...] = ("midday",) if "midday" in found.again and draft.now.minutes_past_noon >= 0 else ()
    open_section(draft, found, message("engine-reason-start"), again=again, phase="starting")
    return True


def open_next_day(draft: Draft) -> None:
    """Open, in front of whatever is at hand, what has to be looked at again on another day: the start sections that
    come again on the same one."""
    sections = [s for s in draft.area.checklist.sections if s.when == "start" and s.again]
    for section in reversed(sections):
        noon = "midday" in section.again and draft.now.minutes_past_noon >= 0
        open_section(draft, section, message("engine-reason-next-day"), again=("midday",) if noon else ())


def open_end(draft: Draft, after: str | None, *, called: bool = False) -> bool:
    """Open what follows `after` at the end of the area: the start sections that come again, what is due by the row for
    the row that was begun, then the end sections."""
    sections = draft.area.checklist.sections
    again = [s for s in sections if "end" in s.again]
    left = rows_left(draft.area)
    by_row = [s for s in sections if s in left or (s.id == after and s.due is not None)]
    found = _following([*again, *by_row, *(s for s in sections if s.when == "end")], after)
    if found is None:
        return False
    times: tuple[TimeOfDay, ...] = ("end",) if found in again else ()
    open_section(draft, found, message("engine-reason-end"), called=called, again=times, phase="finishing")
    return True


def _following(sections: Sequence[Section], after: str | None) -> Section | None:
    ids = [s.id for s in sections]
    at = ids.index(after) + 1 if after in ids else 0
    return sections[at] if at < len(sections) else None


def midday_due(area: Area, now: Moment) -> tuple[Section, ...]:
    """The start sections that come again before the first round after noon, and did not yet."""
    if not (area.free_for_next and now.minutes_past_noon >= 0):
        return ()
    return tuple(
        s for s in area.checklist.sections if "midday" in s.again and "midday" not in area.progress.again.get(s.id, ())
    )


def open_midday_if_idle(draft: Draft, *, by_time: bool = False) -> None:
    """Open what is due at midday where nothing is at hand. What waits already is not put off by it: then it comes with
    the next round that is called."""
    if draft.area.task is None:
        open_midday(draft, midday_due(draft.area, draft.now), by_time=by_time)


def open_midday(draft: Draft, sections: Sequence[Section], *, by_time: bool = False) -> None:
    """Open what is due at midday, in front of whatever is at hand."""
    for section in reversed(sections):
        open_section(draft, section, message("engine-reason-midday"), again=("midday",), by_time=by_time)
    if sections:
        draft.say(message("engine-is-due", section=sections[0].title, reason=message("engine-reason-midday")))


def finish(draft: Draft) -> None:
    """The area is done; its clocks stop."""
    area = draft.area
    for run in area.progress.clocks:
        stop_clock(draft, run, judge=False)
    draft.emit(ev.AreaFinished(area=area.plan.name))
    draft.say(message("engine-area-finished", area=area.plan.name))


# --- after a step -------------------------------------------------------------------------------------------------


def after_step(draft: Draft, task: Task, step: Step, failure: Figure | None) -> None:
    """Clocks, failures, verdicts and what becomes due. `failure`: why the step's criterion failed, if it did."""
    area = draft.area
    for caution, persons in cautions.reminders(draft.state, area, task):
        body = ev.CautionAcknowledged(
            area=area.plan.name, caution=caution.id, round=task.round, persons=persons, how="went on"
        )
        draft.emit(body)
    holder = area.checklist.holder(task.section)
    # What a back shows is judged as a whole, where it is judged: a sample only shows it.
    in_lift = isinstance(holder, Section) and holder.shows and step.measures is not None
    if failure is not None and not in_lift and step.on_fail is not None:
        # A step that failed starts and stops no clock: the mortar combed in swirls is scraped off again.
        assert isinstance(failure, Message | Text)
        _fail(draft, task, step, failure, step.on_fail, area.criterion(step))
        return
    early = _stop_clocks(draft, task, step)
    if early is not None:
        _fail(draft, task, step, *early)
        return
    start_clocks(draft, task, step)
    if (
        task.failure is not None
        and task.failure in area.progress.failures
        and isinstance(holder, Section)
        and holder.lift is None
    ):
        _close_failure(draft, task.failure, message("engine-checked-again", step=step.name))
    _close_if_done(draft, task.section, task.round, task.failure)
    open_midday_if_idle(draft)


def _stop_clocks(draft: Draft, task: Task, step: Step) -> tuple[Message, str, rules.Criterion] | None:
    """Stop what the step stops, and what it waited for. Where it was too early: why, the corrective action and what it
    was held against; that clock runs on."""
    area = draft.area
    for run in _stopped_by(area, task, step.stops):
        spread = area.progress.spreads.get(run.round)
        if spread is not None and spread.section == run.section == task.section and spread.left != 1:
            continue  # the mortar behind this tile still waits for others
        clock = area.checklist.clock(run.clock)
        if clock is None:
            continue
        judged, criterion = stop_clock(draft, run)
        if judged.verdict == "under" and judged.finding is not None and clock.corrective is not None:
            return message("engine-clock-early", clock=clock.title, finding=judged.finding), clock.corrective, criterion
    waited = area.waits_for(step)
    if waited is not None:
        stop_clock(draft, waited)
    return None


def _stopped_by(area: Area, task: Task, clock: str | None) -> list[ClockRun]:
    """The runs that a step stops: those of its own round; else those of its bucket, or all where none is mixed."""
    runs = [run for run in area.progress.clocks if run.clock == clock]
    own = [run for run in runs if (run.section, run.round) == (task.section, task.round)]
    batches = area.progress.batches
    mine = batches.get(task.round)
    if own or mine is None or mine.section != task.section:
        return own or runs
    return [
        run
        for run in runs
        if run.section == mine.section and run.round in batches and batches[run.round].bucket == mine.bucket
    ]


def stop_clock(draft: Draft, run: ClockRun, *, judge: bool = True) -> tuple[rules.Judged, rules.Criterion]:
    """Stop a clock: the minutes that ran are measured and held against what was required; the source is the clock.

    What is too early runs on. judge: something was done that the time is for; else it is only measured. Beginning and
    end that were called in one breath were not timed apart: that tells nothing of a time that must not be longer, while
    one that must be as long has not run.
    """
    area = draft.area
    clock = area.checklist.clock(run.clock)
    ran = round(run.started.minutes_to(draft.now), 2)
    span = clock_span(area, clock) if clock is not None else rules.Span(run.minutes, message("rules-checklists-own"))
    least = run.minutes if clock is not None and clock.bound == "at least" else None
    criterion = rules.criterion(
        clock.rule or "" if clock is not None else "", least, run.minutes if least is None else None, "min", span.basis
    )
    judged = criterion.judge(exact(ran), "min")
    together = draft.source.together > 1 and run.started == draft.now
    judge = judge and not (together and least is None)
    draft.emit(
        ev.ClockStopped(
            area=area.plan.name,
            clock=run.clock,
            run=run.run,
            minutes=ran,
            verdict=judged.verdict if judge else None,
            criterion=judged_by(criterion),
            runs_on=judge and judged.verdict == "under",
            together=together,
        ),
        source=CLOCK,
    )
    return judged, criterion


def start_clocks(draft: Draft, task: Task, step: Step) -> None:
    area = draft.area
    for clock in filter(None, map(area.checklist.clock, step.starts)):
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


def _fail(
    draft: Draft, task: Task, step: Step, finding: Sentence, cure: str, criterion: rules.Criterion | None
) -> None:
    """Open the corrective action `cure` of a failed step, or repeat it when the check after it failed again."""
    area = draft.area
    corrective = area.checklist.corrective(cure)
    if corrective is None:
        return
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
                reopens=area.progress.phase == "finished",
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
    if corrective.steps:
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
    failed = _lifts_cured(area, task) if isinstance(holder, Corrective) else ()
    tile = _set_tile(area, task) if section is not None and section.sets == "tile" else None
    if failed and isinstance(holder, Corrective) and holder.then == "again":
        tile = _set_again(area, failed[-1])
    progress = draft.area.progress
    mixed = progress.batches.get(task.round) if section is not None and section.changes == "batch" else None
    others = [b for b in progress.batches.values() if b.alive and mixed is not None and b.round != mixed.round]
    emptied = next((b for b in others if mixed is not None and b.bucket == mixed.bucket), None)
    # Mortar is taken from the new bucket at once where there is no other, or where its own was in use.
    in_use = mixed is None or not any(b.round == progress.batch and b is not emptied for b in others)
    draft.emit(
        ev.SectionClosed(
            area=area.plan.name,
            section=task.section,
            round=task.round,
            good=section is not None and section.when == "called" and in_use,
            tile=tile,
            lot=draw(draft, tile) if tile is not None else None,
            puts_back=_put_back(area, section, task.round) if section is not None else None,
            bounds=tuple(ev.LiftBound(lift=each.number, until=progress.settings) for each in failed),
            counts_for=counts_for(area, tile) if tile is not None else (),
            phase=_phase_after(draft.area, section),
            batch=mixed is not None,
            empties=emptied.round if emptied is not None else None,
            # One look serves all that was set while it waited.
            counts_anew=section is not None and section.due is not None and not _each_apart(section),
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
    if holder.noted is not None:
        draft.say(holder.noted)
    ends = holder.when in ("start", "end") or (progress.phase == "finishing" and _by_row(holder))
    if draft.area.progress.tasks or not ends:
        open_due(draft, holder, progress.lift_of(task.section, task.round))
    elif holder.when == "end" and draft.area.progress.phase == "working":
        draft.say(message("engine-not-finished-yet", area=area.plan.name))
    elif progress.phase == "finishing":
        if not open_end(draft, after=holder.id):
            finish(draft)
    elif not (progress.phase == "starting" and open_start(draft, after=holder.id)):
        draft.say(message("engine-ready"))


def _by_row(section: Section) -> bool:
    return section.due is not None and section.due.every == "row"


def _set_tile(area: Area, task: Task) -> ev.SetTile:
    """The tile that a round has set, as the record has it."""
    progress = area.progress
    key = (task.section, task.round)
    # Somebody named since, whose tiles were counted meanwhile, did not set this one.
    return setting(area, progress.taking[key], setter=progress.hands.get(key) or None)


def _set_again(area: Area, failed: LiftRecord) -> ev.SetTile:
    """The tile of a failed lift, set again into new mortar: a new setting."""
    return setting(area, area.progress.tiles[failed.tile].place, failed.tile, witnessed=False)


def _phase_after(area: Area, closed: Section | None) -> Literal["working"] | None:
    """The phase once a section is closed, where it changes.

    What was lifted while the area was being closed may have failed: then it is not finished, and work goes on.
    """
    progress = area.progress
    if progress.tasks or closed is None:
        return None
    if progress.phase == "starting":
        return "working"
    if closed.when == "end" and progress.phase == "finishing" and (progress.failures or covering.held_up(area)):
        later = area.checklist.sections[area.checklist.sections.index(closed) + 1 :]
        return None if any(s.when == "end" for s in later) else "working"
    return None


def _lifts_cured(area: Area, task: Task) -> tuple[LiftRecord, ...]:
    """The failed lifts whose corrective action ends with this step."""
    return tuple(
        x
        for x in area.progress.lifts.values()
        if task.failure is not None and x.failure == task.failure and x.until is None
    )


def _put_back(area: Area, section: Section, at_round: int) -> ev.TilePutBack | None:
    """The tile that a round puts back: the one whose lift it follows."""
    lifts = area.progress.lifts
    number = area.progress.putting_back.get((section.id, at_round), max(lifts, default=None))
    if section.puts_back is None or number is None:
        return None
    return ev.TilePutBack(tile=lifts[number].tile, lift=number, how=section.puts_back)


def draw(draft: Draft, tile: ev.SetTile) -> ev.LotDrawn | None:
    """The lot of a setting: the same one where the same setting is called again after it was taken back."""
    area, state = draft.area, draft.state
    one_in = covering.one_in(area, tile.place.face_m2)
    kept = state.lot_seed
    if one_in is None or kept is None or draft.lots is None or not lots.of_commitment(draft.lots, kept.commitment):
        return None
    drawn = state.lot_numbers.get((area.plan.name, tile.order), len(state.lot_numbers) + 1)
    lot = lots.draw(draft.lots, drawn, one_in, covering.unlifted_in(area, tile.run))
    if lot is None:
        return None
    return ev.LotDrawn(setting=lot.setting, one_in=lot.one_in, fell=lot.fell, forced=lot.forced)


def counts_for(area: Area, tile: ev.SetTile) -> tuple[str, ...]:
    """The sections that become due by what is set; a tile set again is no more surface than before."""
    return () if tile.again else tuple(s.id for s in area.checklist.sections if s.due is not None)


def setting(
    area: Area,
    place: PiecePlace,
    number: int | None = None,
    *,
    setter: str | None = None,
    method: int | None = None,
    batch: int | None = None,
    witnessed: bool = True,
    spread: int | None = None,
) -> ev.SetTile:
    """A tile that is set at a place, as the record has it. number: its own where it was set before; setter, method,
    batch: those in use for None; spread: that it is counted out of, and then not witnessed."""
    progress = area.progress
    number = number or place.number or max(progress.tiles, default=0) + 1
    who = (
        area.setter or "" if setter is None else setter,
        area.methods_used.index(area.method) if method is None else method,
    )
    today = progress.runs[progress.runs_before :]
    run = progress.runs_before + today.index(who) + 1 if who in today else len(progress.runs) + 1
    return ev.SetTile(
        number=number,
        order=progress.settings + 1,
        run=run,
        place=ev.PlaceTaken(**asdict(place)),
        setter=who[0],
        method=who[1],
        # A tile that hung when its batch grew too old is of that batch.
        batch=progress.batch or progress.drawn if batch is None else batch,
        again=number in progress.tiles,
        witnessed=witnessed and spread is None,
        spread=spread,
    )


def _close_if_done(draft: Draft, section: str, at_round: int, failure: int | None = None) -> None:
    """Close a round whose last step is done, also one that failed and was cured without being asked again. A step that
    is asked again in a round closed long ago closes nothing a second time."""
    progress = draft.area.progress
    waiting = any((t.section, t.round) == (section, at_round) for t in progress.tasks)
    if (section, at_round) in progress.opened and not waiting:
        _close_section(draft, Task(section, at_round, "", failure), draft.area.checklist.holder(section))


# --- lifts --------------------------------------------------------------------------------------------------------


def _judge_lift(draft: Draft, task: Task, holder: Section) -> ev.LiftJudged:
    area = draft.area
    measured = area.progress.measured.get((task.section, task.round), {})
    need = rules.requirement(area.facts)
    percent = canonical(measured["coverage"])
    void, corners = measured.get("largest void"), measured.get("corners")
    full = None if corners is None else bool(corners.value)
    # Where the edges are asked about apart, they tell; else who answers "full" to both says that no void lies there.
    edges = measured.get("edges", corners)
    clear = None if edges is None else bool(edges.value)
    verdict = coverage.lift_verdict(
        percent,
        need,
        largest_void_mm2=None if void is None else float(convert_exact(void.value, void.unit, "mm2")),
        void_to_edge_mm=need.edge_clear_mm if clear else 0.0 if "edges" in measured else None,
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
        came=lift.came,
        lifted=lift.lifted,
        order=lift.order,
        run=lift.run,
        setter=progress.runs[lift.run - 1][0],
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
        draft.emit(ev.StillFailing(area=area.plan.name, failure=failure, finding=finding, lift=judged.lift))
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
                reopens=area.progress.phase == "finished",
                lift=judged.lift,
            )
        ).seq
    if corrective.then == "again":
        aimed = ev.LiftAimed(tile=judged.tile, came="after failure")
        open_section(draft, holder, message("engine-reason-again", failure=str(failure)), failure, lifts=aimed)
    correct(draft, corrective, failure, finding)


# --- corrections --------------------------------------------------------------------------------------------------


def corrected(draft: Draft, was: ReadingRecord, step: Reading, finding: Sentence | None) -> None:
    """What follows where a reading took the place of `was`: its verdict, its lift's, and the failure that it was or is.

    finding: why the new one fails, None where it does not.
    """
    area = draft.area
    task = Task(was.section, was.round, was.step)
    holder = area.checklist.holder(was.section)
    lift = holder.lift if isinstance(holder, Section) and step.measures is not None else None
    if lift is not None and isinstance(holder, Section):
        if area.progress.lift_of(was.section, was.round) is not None:
            _judge_anew(draft, task, holder, lift)
        return
    failure = _failure_at(area, task)
    if finding is not None and failure is None and step.on_fail is not None:
        _fail(draft, task, step, finding, step.on_fail, was.judged.criterion if was.judged else None)
    elif finding is None and failure is not None:
        _nothing_failed(draft, failure)
        after_step(draft, task, step, None)


def _judge_anew(draft: Draft, task: Task, holder: Section, lift: Lift) -> None:
    """A lift whose reading was corrected. One that was not judged yet is judged when its last step is done."""
    record = draft.area.progress.lift_of(task.section, task.round)
    if record is None or record.verdict is None:
        return
    judged = _judge_lift(draft, task, holder)
    failure = _failure_at(draft.area, Task(task.section, task.round, lift.id))
    if judged.verdict == "failed" and failure is None:
        _follow_lift(draft, task, holder, lift, judged)
    elif judged.verdict != "failed" and failure is not None:
        _nothing_failed(draft, failure)
        open_due(draft, holder, record)


def _failure_at(area: Area, task: Task) -> int | None:
    """The open failure that was found at a step of a round."""
    found = (task.section, task.round, task.step)
    return next((seq for seq, f in area.progress.failures.items() if (f.section, f.round, f.step) == found), None)


def _nothing_failed(draft: Draft, failure: int) -> None:
    """Close a failure that a correction shows to be none; what was opened to cure it and is not done falls away."""
    area = draft.area
    drops = tuple(
        ev.StepPlace(section=t.section, round=t.round, step=t.step) for t in area.progress.tasks if t.failure == failure
    )
    draft.emit(
        ev.FailureClosed(
            area=area.plan.name,
            failure=failure,
            corrective=area.progress.failures[failure].corrective,
            shown_by=message("engine-failure-corrected"),
            drops=drops,
        )
    )
    draft.say(message("engine-nothing-failed"))


# --- what becomes due ---------------------------------------------------------------------------------------------


def open_due(draft: Draft, closed: Section, lift: LiftRecord | None = None, *, counted: bool = False) -> None:
    """Sections that the round just closed makes due, in file order (the first in the file is asked first).

    What follows another due round, and what must not wait, goes in front; all else queues behind what waits already.
    lift: of the round, where it lifted a tile; counted: its tiles were counted, and each is due to be lifted already
    where a lot fell.
    """
    due: list[tuple[Section, Message]] = []
    for section in draft.area.checklist.sections:
        if counted and section.due is not None and section.due.lots is not None:
            continue
        if section.due is not None and section.due.after == closed.id and not _waits_already(draft.area, section):
            reason = why_due(draft.area, section)
            if reason is not None:
                due.append((section, reason))
    drawn = {section.id: _drawn(draft.area, section) for section, _ in due}

    def open_behind(section: Section, reason: Message, behind: int) -> None:
        follows = lift.number if lift is not None and section.puts_back is not None else None
        open_section(draft, section, reason, behind=behind, lifts=drawn[section.id], after_lift=follows)

    in_front = [(s, reason) for s, reason in due if closed.when == "due" or _blocks(drawn[s.id])]
    cures = _cures_in_front(draft.area)
    for section, reason in reversed(in_front):
        open_behind(section, reason, cures)
    for section, reason in due:
        if (section, reason) not in in_front:
            open_behind(section, reason, behind_waiting(draft.area))
    told = [(section, reason) for section, reason in due if section.due is not None and not section.due.always]
    if told:
        draft.say(message("engine-is-due", section=told[0][0].title, reason=told[0][1]))


def _cures_in_front(area: Area) -> int:
    """How many steps at hand cure something: what must be done about mortar that is too old goes first."""
    return len(tuple(takewhile(lambda t: area.checklist.corrective(t.section) is not None, area.progress.tasks)))


def behind_waiting(area: Area) -> int:
    """How many of the steps at hand go before another round that can wait: those of all that waits already."""
    waits = {(task.section, task.round) for task in area.waiting}
    after = [at for at, t in enumerate(area.progress.tasks, 1) if (t.section, t.round) in waits]
    return max(after, default=_cures_in_front(area))


def _blocks(lifts: ev.LiftAimed | None) -> bool:
    return lifts is not None and lifts.came in AFTER_FAILURE


def _each_apart(section: Section) -> bool:
    """Whether every round that is due is wanted apart: each lift, each tile put back, and what comes after each one."""
    always = section.due is not None and section.due.always
    return always or section.lift is not None or section.puts_back is not None


def _waits_already(area: Area, section: Section) -> bool:
    """Whether a round of a section waits that will serve what makes it due now."""
    return not _each_apart(section) and any(task.section == section.id for task in area.waiting)


def why_due(area: Area, section: Section) -> Message | None:
    """Why a round of `section` is due once a round of what it follows is closed; None when it is not."""
    every, progress = section.due, area.progress
    if every is None:
        return None
    if every.lots is not None:
        drawn = _drawn(area, section)
        return term("engine-came", drawn.came) if drawn is not None else None
    if every.always:
        return message("engine-due-after", section=area.checklist.holder(every.after).title)
    if every.first and progress.rounds.get(section.id, 0) == 0:
        return message("engine-due-first")
    if section.lift is not None and progress.tightened > 0:
        return message("engine-due-tightened", lifts=progress.tightened)
    if progress.changed.get(section.id):
        changes = tuple(message("engine-change", change=change) for change in progress.changed[section.id])
        return message("engine-due-changed", changes=Several(changes, "and"))
    if every.every == "row" and area.plan.grid is not None:
        row = _row_completed(area)
        return message("engine-due-row", row=str(row)) if row is not None else None
    share = every.without_grid if every.every == "row" else every.every
    if isinstance(share, Quantity) and progress.since.get(section.id, 0.0) >= canonical(share) - 1e-9:
        return message("engine-due-area", area=share)
    return None


def _row_completed(area: Area) -> int | None:
    """The last row of the plan's grid that the tiles set last have completed: each place of it is set. None where they
    have completed none."""
    last = area.progress.last_set
    standing = [t for t in area.progress.tiles.values() if t.order not in area.progress.taken_off]
    held = {(tile.place.row, tile.place.column) for tile in standing}
    # Tiles that were counted together are in together.
    together = [t for t in standing if last is not None and t.spread and (t.spread, t.at) == (last.spread, last.at)]
    touched = {tile.place.row for tile in (*together, last) if tile is not None}
    full = [row for row in touched if all((p.row, p.column) in held for p in area.places if p.row == row)]
    return max((row for row in full if row is not None), default=None)


def rows_left(area: Area) -> list[Section]:
    """The sections that are due by the row and have not looked yet at what was set last."""
    by_row = [s for s in area.checklist.sections if _by_row(s)]
    return [s for s in by_row if area.plan.grid is not None and area.progress.since.get(s.id, 0.0) > 0]


def _drawn(area: Area, section: Section) -> ev.LiftAimed | None:
    """The lift of the tile that was just set, where it was drawn or chosen."""
    tile = area.progress.last_set
    if section.due is None or section.due.lots is None or tile is None:
        return None
    came = covering.why_lift(area, tile) or ("after failure" if area.progress.tightened else None)
    return ev.LiftAimed(tile=tile.number, came=came) if came is not None else None


# --- clocks -------------------------------------------------------------------------------------------------------


def run_out(draft: Draft, name: str, run: ClockRun) -> None:
    """Time is up: what it ends is good no more, what needed that falls away, and its corrective action is due.

    A tile that hangs, its mortar spread, is set first; then the bucket is emptied.
    """
    draft.focus = name
    area = draft.state.areas[name]
    clock = area.checklist.clock(run.clock)
    if clock is None:
        return
    drops, ends = ended_by(area, run)
    mixing = area.checklist.mixing
    draft.emit(
        ev.ClockRanOut(
            area=name,
            clock=run.clock,
            run=run.run,
            minutes=run.minutes,
            drops=tuple(_place(t) for t in drops),
            ends=ends,
            batch=run.round if mixing is not None and clock.ends == mixing.id == run.section else None,
        )
    )
    fallen = dict.fromkeys(t.failure for t in drops if t.failure is not None)
    for failure in [f for f in fallen if f in draft.area.progress.failures]:
        # What had to be checked again is gone.
        draft.emit(
            ev.FailureClosed(
                area=name,
                failure=failure,
                corrective=draft.area.progress.failures[failure].corrective,
                shown_by=message("engine-fell-away", clock=clock.title),
            )
        )
    tail = covering.old_batch_tail(area, run) if clock.ends is not None and area.progress.phase == "working" else None
    if tail is not None:
        draft.emit(ev.LiftDue(area=name, tile=tail.number, came="last of batch"))
    draft.alarm = True
    draft.say(message("engine-clock-up", clock=clock.title, area=name, up=clock.up))
    corrective = area.checklist.corrective(clock.corrective) if clock.corrective else None
    if corrective is None:
        return
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
            run=run.run,
        )
    ).seq
    tasks = draft.area.progress.tasks
    hanging = [n for n, t in enumerate(tasks, 1) if clock.ends != t.section and hangs(draft.area, t.section, t.round)]
    reason = message("engine-reason-failure", failure=str(failure))
    open_section(draft, corrective, reason, failure, behind=max(hanging, default=0))
    spread = [one for one in draft.area.progress.open_spreads if clock.ends != one.section]
    if hanging or spread:
        first = tasks[0].section if hanging else spread[0].section
        draft.say(message("engine-set-first", section=area.checklist.holder(first).title))


def _place(task: Task) -> ev.StepPlace:
    return ev.StepPlace(section=task.section, round=task.round, step=task.step)


def hangs(area: Area, section: str, at_round: int) -> bool:
    """Whether mortar is spread for a round of this section: what starts the clock that ends it is done."""
    found, progress = area.checklist.section(section), area.progress
    if found is None or (section, at_round) not in progress.opened:
        return False
    ended_by = {clock.id for clock in area.checklist.clocks if clock.ends == section}
    spreads = {step.id for step in found.steps if ended_by.intersection(step.starts)}
    waiting = {t.step for t in progress.tasks if (t.section, t.round) == (section, at_round)}
    return bool(spreads) and not spreads & waiting


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
        if section is None or ends not in section.needs or hangs(area, task.section, task.round):
            return False
        return ends in no_more or ends not in progress.good

    fallen = [t for t in progress.tasks if falls(t)]
    # The corrective action of a check that falls away is not needed either.
    failures = {t.failure for t in fallen if t.failure is not None}
    cures = [t for t in progress.tasks if t.failure in failures and area.checklist.corrective(t.section) is not None]
    return tuple(t for t in progress.tasks if t in fallen or t in cures), no_more


def call_late(draft: Draft, clock: ClockRule, reason: Sentence) -> None:
    """What stops a clock that ran out was done in time: what fell away comes back, its failure is closed, and that it
    was called late stays an open point."""
    area = draft.area
    out = late_to_call(area, clock)
    if out is None:
        raise draft.refusal("engine-not-late", clock=clock.title)
    run, failure = out.run, area.progress.failures[out.failure]
    late = round(run.started.minutes_to(draft.now) - run.minutes, 2)
    draft.emit(
        ev.CalledLate(
            area=area.plan.name,
            clock=clock.id,
            run=run.run,
            failure=out.failure,
            minutes=late,
            reason=reason,
            brings=tuple(_place(t) for t in out.drops if (t.section, t.round) == (run.section, run.round)),
            drops=tuple(_place(t) for t in area.progress.tasks if t.failure == out.failure),
        )
    )
    shown_by = message("engine-called-late", name=draft.by, minutes=minutes(late), reason=reason)
    draft.emit(
        ev.FailureClosed(area=area.plan.name, failure=out.failure, corrective=failure.corrective, shown_by=shown_by)
    )
    draft.say(message("engine-late-noted", clock=clock.title, minutes=minutes(late)))


def late_to_call(area: Area, clock: ClockRule) -> RanOut | None:
    """The last run of a clock that may still be said to have been stopped in time: nothing was done about it yet."""
    corrective = area.checklist.corrective(clock.corrective) if clock.corrective else None
    if corrective is None:
        return None
    for out in reversed(area.progress.ran_out):
        waiting = [t for t in area.progress.tasks if t.failure == out.failure and t.section == corrective.id]
        if out.run.clock == clock.id and out.failure and len(waiting) == len(corrective.steps):
            return out
    return None


# --- weather ------------------------------------------------------------------------------------------------------


def stop_work(draft: Draft, name: str) -> None:
    """Stop an area's work where its checklist stops it in the weather noted last: a failure until it is cured."""
    area, weather = draft.state.areas[name], draft.state.weather
    stop = area.checklist.stops_work
    if stop is None or weather not in stop.weather or area.progress.stopped is not None:
        return
    corrective = area.checklist.corrective(stop.corrective)
    if corrective is None or area.progress.phase == "finished":
        return
    draft.focus = name
    draft.emit(ev.WorkStopped(area=name, weather=weather))
    finding = message("engine-weather-stops", weather=message("prompt-weather-word", word=weather))
    failure = draft.emit(
        ev.FailureOpened(
            area=name,
            section=corrective.id,
            round=area.progress.rounds.get(corrective.id, 0) + 1,
            step=corrective.steps[0].id,
            finding=finding,
            asked=corrective.title,
            basis=stop.basis,
            corrective=corrective.id,
            stops=True,
        )
    ).seq
    correct(draft, corrective, failure, finding)
    draft.focus = None
