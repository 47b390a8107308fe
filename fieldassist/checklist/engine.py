"""The decider: what a command does to a day. Pure, so it can be tested and replayed.

    decide(state, command, now) -> Decision (events, what to say) or Refusal (why, what to do)
    fold.apply(state, event)    -> the state after an event
    prompt.prompt(state, now)   -> what to ask, what may be said, which clocks run

Refusals are messages to the person at the wall: why not, and what comes first.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from math import ceil
from typing import Any
from uuid import NAMESPACE_URL, uuid5

from fieldassist.checklist import (
    answering,
    backs,
    cautions,
    changing,
    doubting,
    dusty,
    follow,
    keeping,
    lifts,
    replanning,
    spreading,
    trying,
)
from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist.carrying import begun_anew, names_missing
from fieldassist.checklist.commands import Command
from fieldassist.checklist.draft import CautionAsked, Draft, how_to_be, needs_first
from fieldassist.checklist.events import Event
from fieldassist.checklist.fields import canonical
from fieldassist.checklist.kinds import KINDS, hold, photo
from fieldassist.checklist.kinds.base import AtStepAsked
from fieldassist.checklist.lots import Lottery
from fieldassist.checklist.moment import CLOCK, MACHINE, TRANSCRIBED, TYPED, Moment, Source
from fieldassist.checklist.offers import EARLY_REASONS, LATE_REASONS, SIGN_OFF_OPEN, THIS_IS, UNDO
from fieldassist.checklist.open_points import unanswered, uncured
from fieldassist.checklist.opening import opened_by_answer, photo_left_out_by
from fieldassist.checklist.places import PiecePlace
from fieldassist.checklist.plan import AreaPlan, Role
from fieldassist.checklist.prompt import prompt
from fieldassist.checklist.rounds import check_between, check_nothing_at_hand
from fieldassist.checklist.schema import Checklist, Section
from fieldassist.checklist.state import Area, ClockRun, State
from fieldassist.trade.message import Figure, Message, Refused, Several, Text, message, term
from fieldassist.trade.quantities import Quantity

# A transcript whose least likely part has tokens less likely than this is unsure. Ours: of 138 clips above it one word
# in ten was wrong, of 121 less likely ones that are kept one in three ("Dictation written out" in DEVELOPERS.md).
UNSURE_NATS = -0.5


@dataclass(frozen=True, slots=True)
class Decision:
    """What happened and what to tell the crew. `alarm`: it must be heard now (a clock ran out, a lift failed); `after`:
    the state once it has happened."""

    events: tuple[Event, ...]
    said: tuple[Figure, ...]
    alarm: bool
    after: State = field(repr=False, compare=False)


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why nothing happened, and what to do next."""

    why: Message


def decide(
    state: State,
    command: Command,
    now: Moment,
    command_id: str | None = None,
    source: Source = TYPED,
    lot_seed: Lottery | None = None,
    *,
    aloud: bool = True,
) -> Decision | Refusal:
    """What `command` does at `now`.

    command_id: made by whoever sends the command; events carry it, so that a retry can be recognised. Without one it
    is derived from the state's position and the command itself. source: how the command came to the tablet. lot_seed:
    the seed whose hash is committed, where the tablet has it; without it no lot falls. aloud: somebody hears what is
    said.
    """
    if command_id is None:
        command_id = str(uuid5(NAMESPACE_URL, f"{state.last_seq}:{now.wall}:{command.model_dump_json()}"))
    by = state.speaker.name if state.speaker else ""
    if isinstance(command, cmd.Tick):
        by, source = "clock", CLOCK
    elif isinstance(command, cmd.AddTranscript):
        by, source = MACHINE, TRANSCRIBED
    draft = Draft(state, now, by, command_id, source, lot_seed, command)
    try:
        _guard(draft, command)
        if isinstance(command, AtStepAsked):
            _go_to(draft, command)
        try:
            answered = _DECIDERS[type(command)](draft, command)
        except CautionAsked:
            answered = None
        if answered is not None:
            follow.after_step(draft, *answered)
            keeping.ask_who_sets(draft, state, answered[0])
        if not draft.state.closed:
            lifts.settle(draft)
        if aloud:
            answering.ask_at_once(draft, state)
    except Refused as refused:
        return Refusal(refused.told)
    return Decision(tuple(draft.events), tuple(draft.said), draft.alarm, draft.state)


def _go_to(draft: Draft, command: AtStepAsked) -> None:
    """What an answer brings about before it is taken: its round is opened, or a photo left out."""
    area = draft.state.area
    if area is None or draft.state.pending is not None:
        return
    left_out = photo_left_out_by(draft.state, area, draft.now, command.section, command.step)
    if left_out is not None and area.task is not None:
        task = area.task
        draft.emit(
            ev.PhotoLeftOut(area=area.plan.name, section=task.section, round=task.round, step=task.step, why="went on")
        )
        follow.after_step(draft, task, left_out, None)
    section = opened_by_answer(draft.state, draft.area, draft.now, command.section, command.step)
    if section is None:
        return
    if section.sets is not None:
        _start_round(draft, cmd.StartRound(section=section.id), by_answer=True)
        return
    follow.open_section(draft, section, message("engine-reason-called"), called=True, by_answer=True)


def _guard(draft: Draft, command: Command) -> None:
    """What holds for every command: the day is open and not signed, somebody speaks, nothing waits for a yes.

    A reading that waits for none is kept first, by any command that goes on with the work; where that is refused then,
    nothing was kept.
    """
    state = draft.state
    if isinstance(command, cmd.OpenDay):
        if state.plan is not None:
            raise draft.refusal("engine-day-open-already")
        return
    plan = state.plan
    if plan is None:
        raise draft.refusal("engine-no-day")
    if isinstance(command, cmd.Tick | cmd.Ask | cmd.OpenAddendum):
        return
    if state.closed:
        raise draft.refusal("engine-day-signed", name=state.signed[-1])
    if keeping.keeps(state, command, draft.now):
        keeping.keep_first(draft)
        state = draft.state
    if isinstance(
        command,
        cmd.SpeakAs | cmd.NoteWeather | cmd.MakeNote | cmd.AddTranscript | cmd.ConfirmReleases | cmd.CommitLots,
    ):
        return
    if isinstance(command, cmd.AttachPhoto) and not photo.asked_for(state):
        return
    if state.speaker is None:
        names = tuple(message("prompt-quoted", phrase=f"{THIS_IS} {p.said}") for p in plan.crew)
        raise draft.refusal("engine-who-speaks", names=Several(names, "or"))
    if isinstance(
        command, cmd.NoteDust | cmd.DustStarts | cmd.DustEnds | cmd.PlanArea | cmd.AddPerson | cmd.MeasureBack
    ):
        return
    # A reading or an answer of a lift may join what waits: their kinds look.
    if state.pending is not None and not isinstance(command, cmd.Keep | cmd.Withdraw | cmd.GiveReading | cmd.Choose):
        raise draft.yes_or_no_first()


# --- the day ------------------------------------------------------------------------------------------------------


def _open_day(draft: Draft, command: cmd.OpenDay) -> None:
    today = draft.now.wall[:10]
    if command.kind == "work" and command.plan.date != today:
        raise draft.refusal("engine-plan-date", planned=command.plan.date, today=today)
    held = {c.checklist: c for c in command.checklists}
    for area in command.plan.areas:
        replanning.check_area(area, held, command.plan.methods)
    going_on = {day.head: _going_on(draft, command, day, held) for day in command.before}
    draft.emit(
        ev.DayOpened(
            plan=command.plan,
            kind=command.kind,
            rules=ev.RULES,
            continues=tuple(
                ev.ContinuedDay(
                    date=day.date,
                    site=day.site,
                    events=day.events,
                    head=day.head,
                    signed=day.signed,
                    sealed=day.sealed,
                    areas=tuple(area.name for area in going_on[day.head]),
                )
                for day in command.before
            ),
            tablet=command.tablet,
        )
    )
    if command.lots is not None:
        draft.emit(ev.LotsCommitted(commitment=command.lots))
    for name in sorted({a.checklist for a in command.plan.areas}):
        draft.emit(ev.ChecklistAdopted(checklist=held[name]))
    for day in command.before:
        for area in going_on[day.head]:
            anew = begun_anew(day.areas[area.key], held[area.checklist])
            draft.emit(ev.AreaCarried(area=area.name, date=day.date, head=day.head, held=anew))
    draft.say(message("engine-day-open", site=command.plan.site))


def _going_on(
    draft: Draft, command: cmd.OpenDay, day: cmd.DayBefore, checklists: Mapping[str, Checklist]
) -> tuple[AreaPlan, ...]:
    """The areas of the plan that go on from an earlier day; refused where they cannot."""
    if command.kind == "work" and day.kind != "work":
        raise draft.refusal("engine-continues-no-work", date=day.date, kind=day.kind)
    if day.last.is_after(draft.now):
        raise draft.refusal("engine-continues-later", date=day.date, last=day.last.wall, now=draft.now.wall)
    going_on = tuple(area for area in command.plan.areas if area.key in day.areas)
    if not going_on:
        there = Several(tuple(sorted(day.areas)) or ("-",))
        raise draft.refusal("engine-continues-nothing", date=day.date, there=there)
    for area in going_on:
        if sum(area.key in other.areas for other in command.before) > 1:
            raise draft.refusal("engine-continues-twice", area=area.name)
        was = day.plans[area.key]
        for what in ("checklist", "piece", "grid", "pieces"):
            if getattr(was, what) != getattr(area, what):
                raise draft.refusal(
                    "engine-continues-otherwise",
                    area=area.name,
                    what=term("engine-continues-what", what),
                    date=day.date,
                )
        missing = names_missing(day.areas[area.key], checklists[area.checklist])
        if missing:
            raise draft.refusal(
                "engine-continues-without", area=area.name, checklist=area.checklist, missing=Several(missing)
            )
    return going_on


def _speak_as(draft: Draft, command: cmd.SpeakAs) -> None:
    plan = draft.state.plan
    person = plan.person(command.name) if plan else None
    if person is None:
        names = Several(tuple(p.name for p in plan.crew) if plan else ())
        raise draft.refusal("engine-nobody-called", name=command.name, names=names)
    draft.by = person.name
    draft.emit(ev.SpeakerChanged(name=person.name, role=person.role))
    draft.say(message("engine-speaks", name=person.name, role=person.role.value))
    _first_setter(draft)


def _first_setter(draft: Draft) -> None:
    """The first installer who speaks in an area sets there, until somebody else is said to set."""
    area, speaker = draft.state.area, draft.state.speaker
    if area is None or area.setter is not None or speaker is None or speaker.role is not Role.INSTALLER:
        return
    draft.emit(ev.SetterChanged(area=area.plan.name, name=speaker.name))


def _setter_is(draft: Draft, command: cmd.SetterIs) -> None:
    area, plan = draft.area, draft.state.plan
    person = plan.person(command.name) if plan else None
    if person is None:
        names = Several(tuple(p.name for p in plan.crew) if plan else ())
        raise draft.refusal("engine-nobody-called", name=command.name, names=names)
    if area.progress.phase == "finished":
        raise draft.refusal("engine-area-finished", area=area.plan.name)
    if area.setter == person.name:
        raise draft.refusal("engine-sets-already", name=person.name)
    makes_due = follow.due_after_change(area, "setter")
    draft.emit(ev.SetterChanged(area=area.plan.name, name=person.name, makes_due=makes_due))
    draft.say(message("engine-sets", name=person.name))


def _note_weather(draft: Draft, command: cmd.NoteWeather) -> None:
    draft.emit(ev.WeatherNoted(text=command.text))
    draft.say(message("engine-weather", weather=message("prompt-weather-word", word=command.text)))
    for name in draft.state.areas:
        follow.stop_work(draft, name)


def _make_note(draft: Draft, command: cmd.MakeNote) -> None:
    draft.emit(ev.NoteMade(text=command.text, audio=command.audio, sha256=command.sha256))
    draft.say(message("engine-noted"))


def _add_transcript(draft: Draft, command: cmd.AddTranscript) -> None:
    held = draft.state.dictated.get(command.target)
    if held is None:
        raise draft.refusal("engine-nothing-dictated", event=str(command.target))
    if held.transcribed:
        raise draft.refusal("engine-transcribed-already", event=str(command.target))
    draft.emit(
        ev.TranscriptMade(
            target=command.target,
            sound=held.sha256,
            text=command.text,
            likelihood=command.likelihood,
            unsure=command.likelihood < UNSURE_NATS,
            model=command.model,
            weights=command.weights,
        )
    )


def _sign_day(draft: Draft, command: cmd.SignDay) -> None:
    speaker = draft.state.speaker
    if speaker is None or speaker.role is not Role.FOREMAN:
        raise draft.refusal("engine-foreman-signs", who=how_to_be(draft.state, Role.FOREMAN))
    if command.key:
        hold.confirm(draft, speaker.name, command.strike, command.key, command.signature)
    points = tuple(point.told for point in unanswered(draft.state))
    if points and not command.accept_open:
        raise draft.refusal("engine-open-points", points=Several(points, "clauses"), phrase=SIGN_OFF_OPEN)
    part = draft.state.part
    lifts.reveal(draft)
    draft.emit(
        ev.DaySigned(name=speaker.name, role=speaker.role, open_points=points, part=part, strokes=command.strokes)
    )
    draft.say(message("engine-signed", part=part))


def _confirm_releases(draft: Draft, command: cmd.ConfirmReleases) -> None:
    if not hold.called_for(draft.state, command.name):
        raise draft.refusal("engine-nothing-called", name=command.name)
    hold.confirm(draft, command.name, command.strike, command.key, command.signature)


def _open_addendum(draft: Draft, command: cmd.OpenAddendum) -> None:
    speaker = draft.state.speaker
    if not draft.state.closed:
        raise draft.refusal("engine-not-signed")
    if speaker is None or speaker.role is not Role.FOREMAN:
        raise draft.refusal("engine-foreman-opens", who=how_to_be(draft.state, Role.FOREMAN))
    number = draft.state.part + 1
    draft.emit(ev.AddendumOpened(number=number, reason=command.reason))
    if command.lots is not None:
        draft.emit(ev.LotsCommitted(commitment=command.lots))
    draft.say(message("engine-addendum-open", number=str(number)))


def _make_correction(draft: Draft, command: cmd.Correct) -> None:
    if not draft.state.part:
        raise draft.refusal("engine-nothing-signed", phrase=UNDO[0])
    if command.target > draft.state.last_seq:
        raise draft.refusal("engine-no-event", event=str(command.target), last=str(draft.state.last_seq))
    draft.emit(ev.CorrectionMade(target=command.target, text=command.text))
    draft.say(message("engine-corrected", event=str(command.target)))


# --- areas and rounds ---------------------------------------------------------------------------------------------


def _start_area(draft: Draft, command: cmd.StartArea) -> None:
    state = draft.state
    planned = state.plan.area(command.area) if state.plan else None
    if planned is None:
        names = Several(tuple(a.name for a in state.plan.areas) if state.plan else ())
        raise draft.refusal("engine-no-such-area", area=command.area, names=names)
    if command.area in state.areas:
        if state.active == command.area:
            raise draft.refusal("engine-area-open-already", area=command.area)
        anew = state.areas[command.area].progress.next_day
        draft.emit(ev.AreaEntered(area=command.area))
        draft.say(message("engine-area-entered", area=command.area))
        _first_setter(draft)
        if anew and draft.area.progress.phase != "finished":
            follow.open_next_day(draft)
        return
    speaker = state.speaker
    setter = speaker.name if speaker is not None and speaker.role is Role.INSTALLER else ""
    draft.emit(ev.AreaStarted(area=command.area, setter=setter))
    draft.say(message("engine-area-started", area=command.area))
    if planned.trial is not None:
        # What is tried may fail: that is what it is tried for.
        trying.begin(draft, command)
        follow.open_start(draft, after=None)
        return
    if not doubting.hold_at_start(draft):
        follow.open_start(draft, after=None)
        follow.stop_work(draft, command.area)


def _start_round(draft: Draft, command: cmd.StartRound, *, by_answer: bool = False) -> None:
    area = draft.area
    section = area.checklist.section(command.section)
    if section is None or section.when != "called":
        raise draft.refusal("engine-no-round", section=command.section)
    if not area.may_open(section):
        waits = next((task for task in area.progress.tasks if task.section == section.id), None)
        if waits is not None and area.goes_beside and section.changes is not None:
            asked = area.checklist.step(waits.section, waits.step).asked()
            raise draft.refusal("engine-begun-already", section=section.title, ask=asked)
        check_between(draft, area, section.title)
    if section.sets is not None and area.spread is not None:
        raise draft.refusal("engine-spread-first", section=section.title)
    for need in section.needs:
        if need not in area.progress.good:
            raise Refused(needs_first(area, section.title, need))
    sample = trying.sample_wanted(draft, area, section)
    # Nothing begins after noon before the conditions were looked at again.
    midday = follow.midday_due(area, draft.now)
    place = _place_wanted(draft, area, section, command)
    if section.sets is not None:
        doubting.doubt_if_new(draft)
    called = message("engine-reason-called")
    follow.open_section(
        draft, section, called, called=True, by_answer=by_answer, place=place, bucket=command.bucket, sample=sample
    )
    if section.changes == "batch":
        lifts.end_of_batch(draft, section.id, draft.area.progress.rounds[section.id])
    follow.open_midday(draft, midday)


def _place_wanted(draft: Draft, area: Area, section: Section, command: cmd.StartRound) -> PiecePlace | None:
    """Where the piece of this round goes: the one that is asked for, else the next of the plan."""
    asked = _place_asked(command)
    if section.sets is None:
        if asked is not None or command.face is not None:
            raise draft.refusal("engine-no-piece-set-here", section=section.title)
        return None
    place = area.next_place
    if asked is not None:
        found = [p for p in area.places if _is_place(p, command)]
        if not found:
            known = tuple(p.name or str(p.number) for p in area.places)
            raise draft.refusal("engine-no-such-place", piece=asked, count=len(known), places=Several(known))
        place = found[0]
        held = [t for t in area.progress.tiles.values() if t.place == place and t.state != "taken off"]
        if held:
            raise draft.refusal("engine-place-taken", piece=asked)
    return place if command.face is None else replace(place, face_m2=canonical(command.face))


def _place_asked(command: cmd.StartRound) -> Figure | None:
    """The place that is asked for, as it is told; None where none is."""
    if command.row is not None:
        return message("engine-place", row=str(command.row), column=str(command.column))
    return command.named or (str(command.piece) if command.piece is not None else None)


def _is_place(place: PiecePlace, command: cmd.StartRound) -> bool:
    if command.named is not None:
        return place.name == command.named
    if command.row is not None:
        return (place.row, place.column) == (command.row, command.column)
    return place.number == command.piece


def _take_bucket(draft: Draft, command: cmd.TakeBucket) -> None:
    area = draft.area
    found = next((b for b in area.progress.batches.values() if b.alive and b.bucket == command.bucket), None)
    if found is None:
        raise draft.refusal("engine-no-bucket", bucket=str(command.bucket))
    if found.round == area.progress.batch:
        raise draft.refusal("engine-bucket-in-use", bucket=str(command.bucket))
    draft.emit(ev.BucketTaken(area=area.plan.name, section=found.section, round=found.round, bucket=found.bucket))
    draft.say(message("engine-bucket", bucket=str(command.bucket)))


def _finish_area(draft: Draft, command: cmd.FinishArea) -> None:
    area = draft.area
    check_between(draft, area, message("engine-finishing"))
    # What is due can wait, but not until after the end.
    check_nothing_at_hand(draft, area, message("engine-finishing"))
    if area.progress.open_spreads:
        raise draft.refusal("engine-spread-first", section=message("engine-finishing"))
    if area.progress.failures:
        raise draft.refusal("engine-not-cured", points=Several(uncured(area)))
    lifts.check_finish(draft)
    # Whoever will set more lifts the end of the run then.
    if answering.held_for_surface(draft, area) or lifts.ends_first(draft):
        return
    if not follow.open_end(draft, after=None, called=True):
        follow.finish(draft)


# --- steps --------------------------------------------------------------------------------------------------------


def _withdraw(draft: Draft, command: cmd.Withdraw) -> None:
    waiting = draft.state.waiting
    if waiting:
        for pending in waiting:
            draft.withdraw(pending.area, pending.seq, "answered no")
        last = draft.state.areas[waiting[0].area].last_done
        if last is not None and last.with_next and waiting[0].seq in last.brought:
            draft.withdraw(waiting[0].area, last.seq, "scratched", last.brought)
        step = draft.state.areas[waiting[0].area].checklist.step(waiting[0].task.section, waiting[0].task.step)
        draft.say(message("engine-withdrawn", ask=step.asked()))
        return
    area = draft.area
    last = area.last_done
    if last is None:
        raise draft.refusal("engine-nothing-to-take-back")
    draft.withdraw(area.plan.name, last.seq, "scratched", last.brought)
    before = draft.area.last_done
    while before is not None and before.with_next and before.command == last.command:
        draft.withdraw(area.plan.name, before.seq, "scratched", before.brought)
        before = draft.area.last_done
    draft.say(message("engine-taken-back", what=last.what))


def _acknowledge(draft: Draft, command: cmd.AcknowledgeCaution) -> None:
    area = draft.area
    told = cautions.asked(cautions.due(draft.state, area, draft.now))
    if not told or area.task is None:
        raise draft.refusal("engine-no-caution")
    for one in told:
        draft.emit(
            ev.CautionAcknowledged(
                area=area.plan.name,
                caution=one.caution.id,
                round=area.task.round if one.caution.answered_by == "going on" else 0,
                persons=one.persons,
                how="understood again" if one.heard else "understood",
            )
        )
    draft.say(message("engine-acknowledged"))


# --- time ---------------------------------------------------------------------------------------------------------


def _tick(draft: Draft, command: cmd.Tick) -> None:
    if draft.state.closed:
        return
    for name in list(draft.state.areas):
        for run in draft.state.areas[name].progress.clocks:
            area = draft.state.areas[name]
            clock, left = area.checklist.clock(run.clock), run.left(draft.now)
            if clock is not None and clock.bound == "at least":
                if left <= 0 and not run.up:
                    draft.emit(ev.ClockUp(area=name, clock=run.clock, run=run.run, minutes=run.minutes))
                    draft.say(message("engine-clock-over", clock=clock.title, area=name, up=clock.up))
            elif left <= 0:
                follow.run_out(draft, name, run)
            elif not run.warned and (warn := _warning_minutes(area, run)) and left <= warn:
                draft.emit(ev.ClockWarned(area=name, clock=run.clock, run=run.run, left_minutes=round(left, 2)))
                draft.say(_left(area, run, draft.now))
        draft.focus = name
        follow.open_midday_if_idle(draft, by_time=True)
    draft.focus = None


def _go_on_early(draft: Draft, command: cmd.GoOnEarly) -> None:
    area, task, step = draft.area, draft.area.task, draft.area.step
    run = area.waits_for(step) if step is not None else None
    if task is None or step is None or run is None or run.left(draft.now) <= 0:
        raise draft.refusal("engine-nothing-to-wait-for")
    draft.check_cautions()
    draft.check_role(step)
    left = round(run.left(draft.now), 2)
    given = command.reason
    reason = term("engine-early-reason", given) if given in EARLY_REASONS else Text.plain(given)
    clock = area.checklist.clock(run.clock)
    draft.emit(
        ev.WentOnEarly(
            area=area.plan.name,
            section=task.section,
            round=task.round,
            step=task.step,
            clock=run.clock,
            run=run.run,
            left_minutes=left,
            reason=reason,
        )
    )
    title: Figure = clock.title if clock is not None else run.clock
    draft.say(message("engine-early-noted", clock=title, minutes=follow.minutes(left)))


def _call_late(draft: Draft, command: cmd.CallLate) -> None:
    clock = draft.area.checklist.clock(command.clock)
    if clock is None or not any(clock.late.values()):
        raise draft.refusal("engine-not-late", clock=clock.title if clock is not None else command.clock)
    given = command.reason
    reason = term("engine-late-reason", given) if given in LATE_REASONS else Text.plain(given)
    follow.call_late(draft, clock, reason)


def _warning_minutes(area: Area, run: ClockRun) -> float:
    clock = area.checklist.clock(run.clock)
    return canonical(clock.warn) if clock and clock.warn else 0.0


def _left(area: Area, run: ClockRun, now: Moment) -> Message:
    clock, left = area.checklist.clock(run.clock), run.left(now)
    title: Figure = clock.title if clock else run.clock
    if clock is not None and clock.bound == "at least":
        if left <= 0:
            return message("engine-clock-over", clock=title, area=area.plan.name, up=clock.up)
        to_go = Quantity(Fraction(ceil(left)), "min")
        return message("engine-clock-to-go", clock=title, area=area.plan.name, left=to_go)
    whole = Quantity(Fraction(max(1, round(left))), "min")
    return message("engine-clock-left", clock=title, area=area.plan.name, left=whole)


# --- questions ----------------------------------------------------------------------------------------------------


def _ask(draft: Draft, command: cmd.Ask) -> None:
    if command.about == "how long":
        running = [_left(area, run, draft.now) for area in draft.state.areas.values() for run in area.progress.clocks]
        for each in running or [message("engine-no-clock")]:
            draft.say(each)
    elif command.about == "how many":
        draft.say(spreading.how_many(draft.area))
    elif command.about == "note":
        draft.say(message("engine-speak-note"))
    elif command.about == "answer":
        point = answering.answerable_point(draft, None, command.value)
        draft.say(message("engine-speak-answer", point=point.told))
    elif command.about in ("what now", "repeat"):
        draft.say(prompt(draft.state, draft.now).say)


_DECIDERS: Mapping[type, Callable[[Draft, Any], Any]] = {
    cmd.OpenDay: _open_day,
    cmd.SpeakAs: _speak_as,
    cmd.NoteWeather: _note_weather,
    cmd.MakeNote: _make_note,
    cmd.AddTranscript: _add_transcript,
    cmd.NoteDust: dusty.note,
    cmd.DustStarts: dusty.start,
    cmd.DustEnds: dusty.end,
    cmd.StartArea: _start_area,
    cmd.PlanArea: replanning.plan_area,
    cmd.AddPerson: replanning.add_person,
    cmd.AcknowledgeCaution: _acknowledge,
    cmd.StartRound: _start_round,
    cmd.SpreadMortar: spreading.spread_mortar,
    cmd.TilesIn: spreading.tiles_in,
    cmd.TakeBucket: _take_bucket,
    cmd.CallLate: _call_late,
    cmd.GoOnEarly: _go_on_early,
    cmd.Withdraw: _withdraw,
    cmd.ChangeMethod: changing.change_method,
    cmd.VouchMethod: changing.vouch_method,
    cmd.SetterIs: _setter_is,
    cmd.FinishArea: _finish_area,
    cmd.SpoilSample: trying.spoil,
    cmd.MoreSamples: trying.more_samples,
    cmd.ReleaseMethod: trying.release,
    cmd.AskLift: lifts.ask_lift,
    cmd.LeaveLift: lifts.leave_lift,
    cmd.AcceptTiles: lifts.accept_tiles,
    cmd.TakeOff: lifts.take_off,
    cmd.SetLots: lifts.set_lots,
    cmd.CommitLots: lifts.commit_lots,
    cmd.SignDay: _sign_day,
    cmd.ConfirmReleases: _confirm_releases,
    cmd.OpenAddendum: _open_addendum,
    cmd.Correct: _make_correction,
    cmd.AnswerPoint: answering.answer_point,
    cmd.MeasureBack: backs.decide,
    cmd.Tick: _tick,
    cmd.Ask: _ask,
    **{command: decider for kind in KINDS for command, decider in kind.DECIDERS.items()},
}
