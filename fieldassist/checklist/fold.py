"""Where a day stands: a fold over its events. `apply` stores what the events hold; it decides nothing."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from fractions import Fraction
from types import MappingProxyType
from typing import Any, Literal

from fieldassist.checklist import backs, cautions
from fieldassist.checklist import events as ev
from fieldassist.checklist.events import Event
from fieldassist.checklist.kinds import KINDS
from fieldassist.checklist.lots import Lot, LotRule
from fieldassist.checklist.moment import OF_ITSELF
from fieldassist.checklist.places import PiecePlace
from fieldassist.checklist.plan import Person
from fieldassist.checklist.reach import TileSetting
from fieldassist.checklist.state import (
    Acceptance,
    Area,
    ClockRun,
    Dictation,
    DrawnOrder,
    DustEntry,
    DustRun,
    Excused,
    Failure,
    FreeSince,
    LeftLift,
    LiftTarget,
    MethodDoubt,
    MethodRelease,
    MethodWord,
    MortarBatch,
    Pace,
    PointAnswer,
    Progress,
    RanOut,
    SeedKept,
    Spread,
    State,
    Task,
    Tile,
    TrialSample,
    advance,
    beyond_recall,
    changed,
    command_of,
    remember,
    taken_back_with_next,
    with_area,
    with_waiting,
)
from fieldassist.trade.message import message


def fold(events: Iterable[Event], state: State | None = None) -> State:
    """Every event applied in turn."""
    state = state or State()
    for event in events:
        state = apply(state, event)
    return state


def apply(state: State, event: Event) -> State:
    """The state after `event`.

    ValueError when the event's number does not follow the last one, since a log with a gap must not be folded silently;
    and when nothing before it leads to what it says, as in a record that was made to do harm.
    """
    if event.seq != state.last_seq + 1:
        raise ValueError(f"event {event.seq} cannot follow event {state.last_seq}: the log has a gap")
    try:
        return _folded(state, event)
    except TRIPPED as error:
        raise ValueError(f"event {event.seq} does not follow from the events before it") from error


# What comes of looking for something that no event before has brought about.
TRIPPED = (LookupError, StopIteration, AttributeError, TypeError, ArithmeticError, AssertionError)


def _folded(state: State, event: Event) -> State:
    handler = _HANDLERS.get(type(event.body))
    if handler is not None:
        state = handler(state, event, event.body)
    state = _kept_sound(_brought_about(state, event), event)
    called = {} if event.source.how in OF_ITSELF else {"since_break": state.resumed(event.at), "last_called": event.at}
    return changed(state, last_seq=event.seq, **called)


def _brought_about(state: State, event: Event) -> State:
    """What one decision brings about is withdrawn with the thing done: it carries the same command's id."""
    area = state.areas.get(getattr(event.body, "area", None) or "")
    if area is None or not area.done or area.done[-1].seq == event.seq:
        return state
    last = area.done[-1]
    if last.before is None or command_of(event) != last.command:
        return state
    brought = replace(last, brought=(*last.brought, event.seq))
    return with_area(state, area.plan.name, done=(*area.done[:-1], brought))


def _kept_sound(state: State, event: Event) -> State:
    """What was dictated can be written out later, whatever it was: a note, an answer, the foreman's word for tiles."""
    body: Any = event.body
    file, sha256 = getattr(body, "audio", None), getattr(body, "sha256", None)
    if file is None or sha256 is None:
        return state
    return changed(state, dictated={**state.dictated, event.seq: Dictation(file, sha256)})


# --- one handler an event; those of answers stand in `kinds` ------------------------------------------------------


def _day_opened(state: State, event: Event, body: ev.DayOpened) -> State:
    return changed(state, plan=body.plan, kind=body.kind, opened=event.at, rules=body.rules)


def _transcript_made(state: State, event: Event, body: ev.TranscriptMade) -> State:
    written = replace(state.dictated[body.target], transcribed=True)
    return changed(state, dictated={**state.dictated, body.target: written})


def _checklist_adopted(state: State, event: Event, body: ev.ChecklistAdopted) -> State:
    return changed(state, checklists={**state.checklists, body.checklist.checklist: body.checklist})


def _area_planned(state: State, event: Event, body: ev.AreaPlanned) -> State:
    plan = state.plan
    if plan is None or body.planned.name in state.areas or (plan.area(body.planned.name) is not None) != body.anew:
        raise ValueError(f"event {event.seq} plans the area {body.planned.name!r}, which does not wait to be planned")
    return changed(state, plan=plan.with_area(body.planned))


def _person_added(state: State, event: Event, body: ev.PersonAdded) -> State:
    if state.plan is None:
        raise ValueError(f"event {event.seq} adds to a crew, and no day is open")
    return changed(state, plan=state.plan.with_person(body.person))


def _speaker_changed(state: State, event: Event, body: ev.SpeakerChanged) -> State:
    person = state.plan.person(body.name) if state.plan else None
    speaker = person or Person(name=body.name, role=body.role)
    if speaker == state.speaker:
        return state
    before = None if body.back else state.speaker
    return changed(state, speaker=speaker, spoke_before=before)


def _dust_noted(state: State, event: Event, body: ev.DustNoted) -> State:
    kept = tuple(entry for entry in state.dust if entry.seq != body.replaces)
    if body.replaces is not None and len(kept) == len(state.dust):
        raise ValueError(f"event {event.seq} replaces event {body.replaces}, which is no dust entry that counts")
    if body.minutes:
        entry = DustEntry(event.seq, event.by, body.task, body.place, body.minutes, body.basis, state.part)
        kept = (*kept, entry)
    return changed(state, dust=kept)


def _dust_started(state: State, event: Event, body: ev.DustStarted) -> State:
    run = DustRun(event.seq, body.task, body.place, event.at, state.part)
    return changed(state, dusty={**state.dusty, event.by: run})


def _dust_ended(state: State, event: Event, body: ev.DustEnded) -> State:
    run = state.dusty.get(event.by)
    if run is None or run.seq != body.began:
        raise ValueError(f"event {event.seq} ends event {body.began}, which is no dusty task that {event.by} is at")
    return changed(state, dusty={who: other for who, other in state.dusty.items() if who != event.by})


def _area_started(state: State, event: Event, body: ev.AreaStarted) -> State:
    plan = state.plan.area(body.area) if state.plan else None
    if plan is None:
        raise ValueError(f"event {event.seq} starts the area {body.area!r}, which the day's plan does not hold")
    checklist = state.checklists[plan.checklist]
    area = Area(
        plan=plan,
        checklist=checklist,
        method=plan.method,
        methods_used=(plan.method,),
        named_methods=state.plan.methods if state.plan else {},
        setter=body.setter or None,
    )
    return changed(state, areas={**state.areas, body.area: area}, active=body.area)


def _area_carried(state: State, event: Event, body: ev.AreaCarried) -> State:
    plan = state.plan.area(body.area) if state.plan else None
    if plan is None:
        raise ValueError(f"event {event.seq} carries the area {body.area!r}, which the day's plan does not hold")
    held = body.held
    area = Area(
        plan=plan,
        checklist=state.checklists[plan.checklist],
        method=held.method,
        method_name=held.method_name,
        methods_used=held.methods_used,
        named_methods=state.plan.methods if state.plan else {},
        doubt=held.doubt,
        words_given=held.words_given,
        setter=held.setter or None,
        progress=held.progress,
    )
    state = changed(state, areas={**state.areas, body.area: area})
    return beyond_recall(state, body.area, event)


def _area_entered(state: State, event: Event, body: ev.AreaEntered) -> State:
    state = changed(state, active=body.area)
    return advance(state, body.area, next_day=False) if state.areas[body.area].progress.next_day else state


def _section_opened(state: State, event: Event, body: ev.SectionOpened) -> State:
    if body.called:
        title = state.areas[body.area].checklist.holder(body.section).title
        state = remember(state, body.area, event, title)
        state = taken_back_with_next(state, body.area) if body.by_answer else state
    progress = state.areas[body.area].progress
    tasks = tuple(Task(body.section, body.round, step, body.failure) for step in body.steps)
    # A reading that waits for its yes stays the step at hand: what opens meanwhile takes its turn after it.
    changes: dict[str, Any] = {
        "tasks": progress.tasks[: body.after] + tasks + progress.tasks[body.after :],
        "rounds": {**progress.rounds, body.section: body.round},
        "opened": progress.opened | {(body.section, body.round)},
        "began": {**progress.began, body.section: event.at},
    }
    if body.phase is not None:
        changes["phase"] = body.phase
    if body.counts_anew:
        changes["since"] = {**progress.since, body.section: 0.0}
        changes["changed"] = {**progress.changed, body.section: ()}
    if body.place is not None:
        key = (body.section, body.round)
        changes["taking"] = {**progress.taking, key: PiecePlace(**body.place.model_dump())}
        changes["hands"] = {**progress.hands, key: state.areas[body.area].setter or ""}
        if progress.free is not None and progress.free.by == event.by:
            changes["begun_from"] = {**progress.begun_from, key: progress.free.at}
    if body.lifts is not None:
        aimed = LiftTarget(body.lifts.tile, body.lifts.came)
        waiting = list(progress.lifts_due)
        if aimed in waiting:
            waiting.remove(aimed)
        changes["lifts_due"] = tuple(waiting)
        changes["targets"] = {**progress.targets, (body.section, body.round): aimed}
    if body.after_lift is not None:
        changes["putting_back"] = {**progress.putting_back, (body.section, body.round): body.after_lift}
    if body.bucket:
        mixing = MortarBatch(body.section, body.round, body.bucket, lot=progress.lot)
        changes["batches"] = {**progress.batches, body.round: mixing}
    if body.again:
        done = progress.again.get(body.section, ())
        changes["again"] = {**progress.again, body.section: (*done, *body.again)}
    if body.sample is not None:
        made = body.sample
        sample = TrialSample(body.round, made.letter, made.place, made.batch, made.age_min, event.at, begun=event.seq)
        changes["samples"] = {**progress.samples, body.round: sample}
        state = _with_method_of(state, body.area, made.letter)
    state = _note_change(advance(state, body.area, **changes), body.area, "batch", body.makes_due)
    return beyond_recall(state, body.area, event) if body.by_time else state


def _with_method_of(state: State, name: str, letter: str) -> State:
    """The state in which a sample's method is the one in use."""
    area = state.areas[name]
    if area.plan.trial is None:
        raise ValueError(f"a sample is begun in {name!r}, where nothing is tried")
    method = area.plan.trial.by_letter[letter].method
    used = area.methods_used if method in area.methods_used else (*area.methods_used, method)
    return with_area(state, name, method=method, methods_used=used)


def _samples_ordered(state: State, event: Event, body: ev.SamplesOrdered) -> State:
    progress = state.areas[body.area].progress
    changes: dict[str, Any] = {"orders": (*progress.orders, DrawnOrder(body.head, body.order))}
    if body.more:
        changes["phase"] = "working" if progress.phase == "finished" else progress.phase
    else:
        changes["ruled_out"] = {one.letter: one.reasons for one in body.ruled_out}
    return beyond_recall(advance(state, body.area, **changes), body.area, event)


def _sample_spoiled(state: State, event: Event, body: ev.SampleSpoiled) -> State:
    state = remember(state, body.area, event, message("trial-spoiled-what"))
    progress = state.areas[body.area].progress
    spoiled = replace(progress.samples[body.round], spoiled=body.reason)
    return advance(
        state,
        body.area,
        tasks=tuple(t for t in progress.tasks if (t.section, t.round) != (body.section, body.round)),
        opened=progress.opened - {(body.section, body.round)},
        samples={**progress.samples, body.round: spoiled},
    )


def _method_released(state: State, event: Event, body: ev.MethodReleased) -> State:
    released = MethodRelease(
        event.seq, body.letter, body.method, body.areas, body.made, body.name, body.deputy_for, event.at
    )
    state = advance(state, body.area, released=(*state.areas[body.area].progress.released, released))
    return beyond_recall(state, body.area, event)


def _fell(progress: Progress, area: Area, clock: str, drops: Iterable[tuple[str, int]]) -> Mapping[int, TrialSample]:
    """The samples, those whose round fell away with a clock spoiled by that."""
    trying, rule = area.checklist.trying, area.checklist.clock(clock)
    fell = {at for section, at in drops if trying is not None and section == trying.id}
    why = message("trial-fell-away", clock=rule.title if rule is not None else clock)
    return {at: replace(one, spoiled=why) if at in fell else one for at, one in progress.samples.items()}


def _brought_back(progress: Progress, area: Area, rounds: set[tuple[str, int]]) -> Mapping[int, TrialSample]:
    """The samples, those of rounds that come back spoiled no more."""
    trying = area.checklist.trying
    back = {at for section, at in rounds if trying is not None and section == trying.id}
    return {at: replace(one, spoiled=None) if at in back else one for at, one in progress.samples.items()}


def _note_change(state: State, name: str, change: ev.Change, makes_due: tuple[str, ...]) -> State:
    if not makes_due:
        return state
    noted = dict(state.areas[name].progress.changed)
    for section in makes_due:
        seen = noted.get(section, ())
        noted[section] = seen if change in seen else (*seen, change)
    return advance(state, name, changed=noted)


def _round_taken_up(state: State, event: Event, body: ev.RoundTakenUp) -> State:
    tasks = state.areas[body.area].progress.tasks
    mine = tuple(task for task in tasks if (task.section, task.round) == (body.section, body.round))
    return advance(state, body.area, tasks=(*mine, *(task for task in tasks if task not in mine)))


def _tile_in(state: State, event: Event, body: ev.SectionClosed | ev.TileCounted, changes: dict[str, Any]) -> State:
    """A tile is set: what follows of it for the area's progress goes to `changes`, of its lot into the day's state."""
    made, progress = body.tile, state.areas[body.area].progress
    assert made is not None
    key = (body.section, body.round)
    spread = progress.spreads.get(body.round)
    spread = spread if spread is not None and spread.section == body.section else None
    since = spread.at if spread is not None and made.spread is not None else progress.answered_since.get(key)
    changes["answered_since"] = {at: moment for at, moment in progress.answered_since.items() if at != key}
    tile = Tile(
        number=made.number,
        order=made.order,
        run=made.run,
        place=PiecePlace(**made.place.model_dump()),
        setter=made.setter,
        method=made.method,
        batch=made.batch,
        set=event.seq,
        at=event.at,
        witnessed=made.witnessed,
        put_back="set again" if made.again else "",
        free=progress.begun_from.get(key),
        spread=made.spread,
        together=event.source.together if since == event.at else 0,
    )
    changes["tiles"] = {**progress.tiles, tile.number: tile}
    changes["history"] = (*progress.history, TileSetting(made.order, made.run, made.number, made.place.face_m2))
    if made.run > len(progress.runs):
        changes["runs"] = (*progress.runs, (made.setter, made.method))
    face = tile.place.face_m2
    counted = {section: progress.since.get(section, 0.0) + face for section in body.counts_for}
    changes["since"] = {**progress.since, **counted}
    if spread is not None:
        ends = isinstance(body, ev.TileCounted) and body.ends
        spread = replace(spread, done=spread.done + 1, standing="over" if ends else spread.standing)
        changes["spreads"] = {**progress.spreads, body.round: spread}
    if body.lot is None:
        return state
    drawn = Lot(body.lot.setting, body.lot.one_in, body.lot.fell, body.lot.forced)
    changes["lots"] = {**progress.lots, made.order: drawn}
    numbers = {**state.lot_numbers, (body.area, made.order): drawn.setting}
    seed = replace(state.lot_seed, drawn=True) if state.lot_seed is not None else None
    return changed(state, lot_numbers=numbers, lot_seed=seed)


def _mortar_spread(state: State, event: Event, body: ev.MortarSpread) -> State:
    if not body.witnessed:
        state = remember(state, body.area, event, message("prompt-spread"))
    progress = state.areas[body.area].progress
    spread = Spread(
        body.section, body.round, body.setter, body.method, body.batch, event.at, body.wanted, body.bears
    )  # fmt: skip
    return advance(
        state,
        body.area,
        spreads={**progress.spreads, body.round: spread},
        rounds={**progress.rounds, body.section: body.round},
    )


def _tile_counted(state: State, event: Event, body: ev.TileCounted) -> State:
    last = state.areas[body.area].last_done
    # All tiles that one command counts are one thing done; a reading that it kept first is another.
    what = message("prompt-tiles-in")
    if last is None or (last.command, last.what) != (command_of(event), what):
        state = remember(state, body.area, event, what)
    changes: dict[str, Any] = {"free": FreeSince(event.at, event.by)}
    state = _tile_in(state, event, body, changes)
    return advance(state, body.area, **changes)


def _section_closed(state: State, event: Event, body: ev.SectionClosed) -> State:
    progress = state.areas[body.area].progress
    changes: dict[str, Any] = {
        "opened": progress.opened - {(body.section, body.round)},
        "free": FreeSince(event.at, event.by),
    }
    if body.good:
        changes["good"] = {**progress.good, body.section: body.round}
    if body.tile is not None:
        state = _tile_in(state, event, body, changes)
    if body.counts_anew:
        changes["since"] = {**changes.get("since", progress.since), body.section: 0.0}
    if body.puts_back is not None:
        stood = progress.tiles[body.puts_back.tile]
        changes["tiles"] = {**progress.tiles, stood.number: replace(stood, put_back=body.puts_back.how)}
    for bound in body.bounds:
        lifts = changes.get("lifts", progress.lifts)
        changes["lifts"] = {**lifts, bound.lift: replace(lifts[bound.lift], until=bound.until)}
    if body.phase is not None:
        changes["phase"] = body.phase
    if body.batch:
        batches = {**progress.batches, body.round: replace(progress.batches[body.round], alive=True)}
        if body.empties is not None:
            batches[body.empties] = replace(batches[body.empties], alive=False)
        changes["batches"] = batches
        if body.good:
            changes["batch"] = changes["drawn"] = body.round
    trying = state.areas[body.area].checklist.trying
    if trying is not None and trying.id == body.section:
        changes["samples"] = {**progress.samples, body.round: replace(progress.samples[body.round], done=True)}
    return advance(state, body.area, **changes)


def _step_reopened(state: State, event: Event, body: ev.StepReopened) -> State:
    task = Task(body.section, body.round, body.step, body.failure)
    return advance(state, body.area, tasks=(task, *state.areas[body.area].progress.tasks))


def _caution_acknowledged(state: State, event: Event, body: ev.CautionAcknowledged) -> State:
    caution = state.areas[body.area].checklist.caution(body.caution)
    if caution is None:
        raise ValueError(f"event {event.seq} acknowledges the caution {body.caution!r}, which its checklist lacks")
    # An event of before, without persons, was answered by whoever spoke.
    heard = {(cautions.key(caution), person): event.at for person in body.persons or (event.by,)}
    return changed(state, cautioned={**state.cautioned, **heard})


def _withdrawn(state: State, event: Event, body: ev.Withdrawn) -> State:
    if any(one.seq == body.target for one in state.called):
        return with_waiting(state, [one for one in state.called if one.seq != body.target])
    area = state.areas[body.area]
    last = area.done[-1] if area.done else None
    if last is None or last.seq != body.target or last.before is None:
        raise ValueError(f"event {event.seq} withdraws event {body.target}, which is not the last thing done")
    readings = {seq: reading for seq, reading in area.readings.items() if seq != body.target}
    return with_area(state, body.area, progress=last.before, done=area.done[:-1], readings=readings)


def _lift_judged(state: State, event: Event, body: ev.LiftJudged) -> State:
    lifts = state.areas[body.area].progress.lifts
    judged = {body.lift: replace(lifts[body.lift], verdict=body.verdict)}
    return advance(state, body.area, lifts={**lifts, **judged}, tightened=body.tightened)


def _failure_opened(state: State, event: Event, body: ev.FailureOpened) -> State:
    progress = state.areas[body.area].progress
    failure = Failure(body.corrective, body.section, body.round, body.step, body.finding)
    changes: dict[str, Any] = {"failures": {**progress.failures, event.seq: failure}}
    if body.run is not None:
        changes["ran_out"] = tuple(
            replace(out, failure=event.seq) if out.run.run == body.run else out for out in progress.ran_out
        )
    if body.stops:
        changes["stopped"] = event.seq
    if body.reopens:
        changes["phase"] = "working"
    return _failed_lift(advance(state, body.area, **changes), body.area, body.lift, event.seq)


def _still_failing(state: State, event: Event, body: ev.StillFailing) -> State:
    return _failed_lift(state, body.area, body.lift, body.failure)


def _failed_lift(state: State, name: str, lift: int | None, failure: int) -> State:
    if lift is None:
        return state
    lifts = state.areas[name].progress.lifts
    return advance(state, name, lifts={**lifts, lift: replace(lifts[lift], failure=failure)})


def _failure_closed(state: State, event: Event, body: ev.FailureClosed) -> State:
    progress = state.areas[body.area].progress
    changes: dict[str, Any] = {
        "failures": {k: v for k, v in progress.failures.items() if k != body.failure},
        "ran_out": tuple(out for out in progress.ran_out if out.failure != body.failure),
    }
    if progress.stopped == body.failure:
        changes["stopped"] = None
    cured = progress.failures.get(body.failure)
    if body.drops and cured is not None:
        drops = {(d.section, d.round, d.step) for d in body.drops}
        # The round in which it was found goes on; what was opened to cure it does not.
        rounds = {(d.section, d.round) for d in body.drops} - {(cured.section, cured.round)}
        changes["tasks"] = tuple(t for t in progress.tasks if (t.section, t.round, t.step) not in drops)
        changes["opened"] = progress.opened - rounds
    return advance(state, body.area, **changes)


def _inspection_tightened(state: State, event: Event, body: ev.InspectionTightened) -> State:
    return advance(state, body.area, tightened=body.lifts)


def _clock_started(state: State, event: Event, body: ev.ClockStarted) -> State:
    run = ClockRun(event.seq, body.clock, body.section, body.round, body.minutes, event.at)
    return advance(state, body.area, clocks=(*state.areas[body.area].progress.clocks, run))


def _without(state: State, name: str, run: int) -> tuple[ClockRun, ...]:
    return tuple(c for c in state.areas[name].progress.clocks if c.run != run)


def _clock_stopped(state: State, event: Event, body: ev.ClockStopped) -> State:
    if body.runs_on:
        return state
    return advance(state, body.area, clocks=_without(state, body.area, body.run), paces=_paces(state, body))


def _paces(state: State, body: ev.ClockStopped) -> Mapping[str, Pace]:
    """How fast each setter is, once the clock of a tile, or of a spread, is stopped: from the mortar to the tiles."""
    area, progress = state.areas[body.area], state.areas[body.area].progress
    run = next(run for run in progress.clocks if run.run == body.run)
    clock, key = area.checklist.clock(run.clock), (run.section, run.round)
    if clock is None or clock.ends != run.section or not body.minutes:
        return progress.paces
    spread, place = progress.spreads.get(run.round), progress.taking.get(key)
    if spread is not None and spread.section == run.section:
        setter = spread.setter
        m2 = sum(tile.place.face_m2 for tile in progress.tiles.values() if tile.spread == run.round)
    elif place is not None:
        setter, m2 = progress.hands.get(key, area.setter or ""), place.face_m2
    else:
        return progress.paces
    before = progress.paces.get(setter, Pace(0.0, 0.0))
    return {**progress.paces, setter: Pace(round(before.minutes + body.minutes, 2), round(before.m2 + m2, 6))}


def _clock_warned(state: State, event: Event, body: ev.ClockWarned) -> State:
    clocks = state.areas[body.area].progress.clocks
    return advance(state, body.area, clocks=tuple(replace(c, warned=True) if c.run == body.run else c for c in clocks))


def _clock_up(state: State, event: Event, body: ev.ClockUp) -> State:
    clocks = state.areas[body.area].progress.clocks
    return advance(state, body.area, clocks=tuple(replace(c, up=True) if c.run == body.run else c for c in clocks))


def _went_on_early(state: State, event: Event, body: ev.WentOnEarly) -> State:
    early = Excused(event.seq, event.by, body.clock, body.left_minutes, body.reason)
    told = (*state.areas[body.area].progress.early, early)
    state = advance(state, body.area, clocks=_without(state, body.area, body.run), early=told)
    return beyond_recall(state, body.area, event)


def _called_late(state: State, event: Event, body: ev.CalledLate) -> State:
    progress = state.areas[body.area].progress
    drops = {(d.section, d.round, d.step) for d in body.drops}
    left = tuple(t for t in progress.tasks if (t.section, t.round, t.step) not in drops)
    brings = tuple(Task(b.section, b.round, b.step) for b in body.brings)
    out = next(out for out in progress.ran_out if out.run.run == body.run)
    state = advance(
        state,
        body.area,
        tasks=(*brings, *left),
        opened=progress.opened - {(d.section, d.round) for d in body.drops} | {(b.section, b.round) for b in brings},
        late=(*progress.late, Excused(event.seq, event.by, body.clock, body.minutes, body.reason)),
        spreads=_spreads(progress, out.run, "open"),
        samples=_brought_back(progress, state.areas[body.area], {(b.section, b.round) for b in brings}),
    )
    return beyond_recall(state, body.area, event)


def _bucket_taken(state: State, event: Event, body: ev.BucketTaken) -> State:
    state = remember(state, body.area, event, message("engine-bucket", bucket=str(body.bucket)))
    good = {**state.areas[body.area].progress.good, body.section: body.round}
    return advance(state, body.area, good=good, batch=body.round, drawn=body.round)


def _work_stopped(state: State, event: Event, body: ev.WorkStopped) -> State:
    return beyond_recall(state, body.area, event)  # nor is the weather taken back


def _weather_noted(state: State, event: Event, body: ev.WeatherNoted) -> State:
    return changed(state, weather=body.text)


def _spreads(progress: Progress, run: ClockRun, standing: Literal["open", "skinned"]) -> Mapping[int, Spread]:
    """The spreads once the clock of one ran out, or was only called late."""
    spread = progress.spreads.get(run.round)
    if spread is None or spread.section != run.section or spread.standing == "over":
        return progress.spreads
    return {**progress.spreads, run.round: replace(spread, standing=standing)}


def _clock_ran_out(state: State, event: Event, body: ev.ClockRanOut) -> State:
    progress = state.areas[body.area].progress
    drops = {(d.section, d.round, d.step) for d in body.drops}
    tasks = tuple(t for t in progress.tasks if (t.section, t.round, t.step) not in drops)
    (run,) = (c for c in progress.clocks if c.run == body.run)
    fell = tuple(Task(d.section, d.round, d.step) for d in body.drops)
    batches = progress.batches
    if body.batch is not None and body.batch in batches:
        batches = {**batches, body.batch: replace(batches[body.batch], alive=False)}
    state = advance(
        state,
        body.area,
        clocks=_without(state, body.area, body.run),
        ran_out=(*progress.ran_out, RanOut(run, fell)),
        batches=batches,
        batch=0 if body.batch == progress.batch else progress.batch,
        tasks=tasks,
        good={section: at for section, at in progress.good.items() if section not in body.ends},
        opened=progress.opened - {(d.section, d.round) for d in body.drops},
        spreads=_spreads(progress, run, "skinned"),
        samples=_fell(progress, state.areas[body.area], body.clock, {(d.section, d.round) for d in body.drops}),
    )
    waiting = state.pending
    if waiting is not None and waiting.area == body.area and waiting.corrects is None and waiting.task not in tasks:
        state = with_waiting(state, ())
    return beyond_recall(state, body.area, event)  # time that has passed is not taken back


def _method_changed(state: State, event: Event, body: ev.MethodChanged) -> State:
    # The change makes a lift due; taking back an earlier step must not forget that.
    used = state.areas[body.area].methods_used
    used = used if body.method in used else (*used, body.method)
    doubt = state.areas[body.area].doubt
    doubt = doubt if doubt is not None and doubt.method == body.method else None
    state = with_area(state, body.area, method=body.method, method_name=body.name, methods_used=used, doubt=doubt)
    return beyond_recall(_note_change(state, body.area, "method", body.makes_due), body.area, event)


def _method_doubted(state: State, event: Event, body: ev.MethodDoubted) -> State:
    return with_area(state, body.area, doubt=MethodDoubt(event.seq, body.method, body.reasons, body.holds))


def _method_vouched(state: State, event: Event, body: ev.MethodVouched) -> State:
    area = state.areas[body.area]
    word = MethodWord(event.seq, body.method, body.called, body.name, event.by, event.at, body.told)
    doubt = area.doubt if area.doubt is not None and area.doubt.method != body.method else None
    state = with_area(state, body.area, words_given=(*area.words_given, word), doubt=doubt)
    return beyond_recall(state, body.area, event)


def _setter_changed(state: State, event: Event, body: ev.SetterChanged) -> State:
    state = with_area(state, body.area, setter=body.name)
    return beyond_recall(_note_change(state, body.area, "setter", body.makes_due), body.area, event)


def _finish_held(state: State, event: Event, body: ev.FinishHeld) -> State:
    return with_area(state, body.area, finish_held=True)


def _point_answered(state: State, event: Event, body: ev.PointAnswered) -> State:
    answer = PointAnswer(event.seq, event.by, event.at, body.answer, body.audio)
    return changed(state, answers={**state.answers, body.point: answer})


def _lots_committed(state: State, event: Event, body: ev.LotsCommitted) -> State:
    # A seed that drew nothing leaves nothing unproven.
    lost = (*state.seeds_lost, state.lot_seed) if state.lot_seed and state.lot_seed.drawn else state.seeds_lost
    return changed(state, lot_seed=SeedKept(body.commitment, event.seq), seeds_lost=lost)


def _lots_revealed(state: State, event: Event, body: ev.LotsRevealed) -> State:
    return changed(state, lot_seed=None)


def _lots_ruled(state: State, event: Event, body: ev.LotsRuled) -> State:
    return with_area(state, body.area, lot_rule=LotRule(Fraction(body.one_in), "tiles"))


def _lift_due(state: State, event: Event, body: ev.LiftDue) -> State:
    if body.called:
        state = remember(state, body.area, event, message("prompt-lift-due", tile=str(body.tile)))
    due = (*state.areas[body.area].progress.lifts_due, LiftTarget(body.tile, body.came))
    return advance(state, body.area, lifts_due=due)


def _lift_left(state: State, event: Event, body: ev.LiftLeft) -> State:
    area = state.areas[body.area]
    what = area.checklist.step(body.section, body.step).name
    state = remember(state, body.area, event, what)
    left = LeftLift(event.seq, body.tile, body.order, body.came, body.reason)
    here = (body.section, body.round)
    return advance(
        state,
        body.area,
        tasks=tuple(t for t in area.progress.tasks if (t.section, t.round) != here),
        opened=area.progress.opened - {here},
        lifts_left={**area.progress.lifts_left, body.order: left},
    )


def _tiles_marked(state: State, event: Event, body: ev.TilesMarked) -> State:
    tiles = dict(state.areas[body.area].progress.tiles)
    for mark in body.marks:
        held = tiles[mark.tile]
        tiles[mark.tile] = replace(held, state=mark.state, lift=mark.lift, cleared_by=mark.cleared_by)
    return advance(state, body.area, tiles=tiles)


def _tiles_accepted(state: State, event: Event, body: ev.TilesAccepted) -> State:
    what = message("prompt-accepted", count=len(body.tiles))
    state = remember(state, body.area, event, what)
    accepted = Acceptance(event.seq, body.tiles, event.by, body.told, body.audio is not None)
    held = state.areas[body.area].progress.accepted
    return advance(state, body.area, accepted={**held, **dict.fromkeys(body.orders, accepted)})


def _tile_taken_off(state: State, event: Event, body: ev.TileTakenOff) -> State:
    state = remember(state, body.area, event, message("prompt-tile-off", tile=str(body.tile)))
    return advance(state, body.area, taken_off=state.areas[body.area].progress.taken_off | {body.order})


def _area_finished(state: State, event: Event, body: ev.AreaFinished) -> State:
    return beyond_recall(advance(state, body.area, phase="finished"), body.area, event)


def _day_signed(state: State, event: Event, body: ev.DaySigned) -> State:
    return changed(state, signed=(*state.signed, body.name), closed=True, sealed=False)


def _day_sealed(state: State, event: Event, body: ev.DaySealed) -> State:
    return changed(state, sealed=True)


def _addendum_opened(state: State, event: Event, body: ev.AddendumOpened) -> State:
    # What was signed cannot be taken back by "scratch that"; it can be corrected in words.
    for name in state.areas:
        state = beyond_recall(state, name, event)
    return changed(state, closed=False, sealed=False, part=body.number)


_HANDLERS: Mapping[type, Callable[[State, Event, Any], State]] = MappingProxyType(
    {
        ev.DayOpened: _day_opened,
        ev.ChecklistAdopted: _checklist_adopted,
        ev.AreaPlanned: _area_planned,
        ev.PersonAdded: _person_added,
        ev.SpeakerChanged: _speaker_changed,
        ev.WeatherNoted: _weather_noted,
        ev.TranscriptMade: _transcript_made,
        ev.DustNoted: _dust_noted,
        ev.DustStarted: _dust_started,
        ev.DustEnded: _dust_ended,
        ev.AreaStarted: _area_started,
        ev.AreaCarried: _area_carried,
        ev.AreaEntered: _area_entered,
        ev.SectionOpened: _section_opened,
        ev.RoundTakenUp: _round_taken_up,
        ev.SectionClosed: _section_closed,
        ev.MortarSpread: _mortar_spread,
        ev.TileCounted: _tile_counted,
        ev.StepReopened: _step_reopened,
        ev.CautionAcknowledged: _caution_acknowledged,
        ev.Withdrawn: _withdrawn,
        ev.LiftJudged: _lift_judged,
        ev.FailureOpened: _failure_opened,
        ev.FailureClosed: _failure_closed,
        ev.InspectionTightened: _inspection_tightened,
        ev.ClockStarted: _clock_started,
        ev.ClockStopped: _clock_stopped,
        ev.ClockWarned: _clock_warned,
        ev.ClockUp: _clock_up,
        ev.WentOnEarly: _went_on_early,
        ev.CalledLate: _called_late,
        ev.BucketTaken: _bucket_taken,
        ev.WorkStopped: _work_stopped,
        ev.ClockRanOut: _clock_ran_out,
        ev.MethodChanged: _method_changed,
        ev.MethodDoubted: _method_doubted,
        ev.MethodVouched: _method_vouched,
        ev.SetterChanged: _setter_changed,
        ev.FinishHeld: _finish_held,
        ev.StillFailing: _still_failing,
        ev.LotsCommitted: _lots_committed,
        ev.LotsRevealed: _lots_revealed,
        ev.LotsRuled: _lots_ruled,
        ev.LiftDue: _lift_due,
        ev.LiftLeft: _lift_left,
        ev.TilesMarked: _tiles_marked,
        ev.TilesAccepted: _tiles_accepted,
        ev.TileTakenOff: _tile_taken_off,
        ev.SamplesOrdered: _samples_ordered,
        ev.SampleSpoiled: _sample_spoiled,
        ev.MethodReleased: _method_released,
        ev.AreaFinished: _area_finished,
        ev.PointAnswered: _point_answered,
        ev.BackMeasured: backs.fold,
        ev.DaySigned: _day_signed,
        ev.DaySealed: _day_sealed,
        ev.AddendumOpened: _addendum_opened,
        **{body: handler for kind in KINDS for body, handler in kind.FOLDS.items()},
    }
)
