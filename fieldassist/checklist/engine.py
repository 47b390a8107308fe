"""The decider: what a command does to a day, and what may be said next. Pure, so it can be tested and replayed.

    decide(state, command, now) -> Decision (events, what to say) or Refusal (why, what to do)
    prompt(state, now)          -> what to ask, what may be said, which clocks run
    (apply lives in `state`)

Refusals are sentences to the person at the wall: why not, and what comes first.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any
from uuid import NAMESPACE_URL, uuid5

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist import rules
from fieldassist.checklist.commands import Command
from fieldassist.checklist.events import Event, Moment
from fieldassist.checklist.fields import canonical
from fieldassist.checklist.plan import AreaPlan, Role, Trowel
from fieldassist.checklist.prompt import between_rounds, prompt, short, show
from fieldassist.checklist.schema import QUANTITIES, Checklist, Clock, Corrective, Kind, Section, Step
from fieldassist.checklist.state import Area, ClockRun, State, Task, apply, spoiled
from fieldassist.trade import coverage, dust, quantities
from fieldassist.trade.basis import OutOfRange

_DAY_MINUTES = 24 * 60


@dataclass(frozen=True, slots=True)
class Decision:
    """What happened and what to tell the crew. `alarm`: it must be heard now (a clock ran out, a lift failed)."""

    events: tuple[Event, ...]
    say: str = ""
    alarm: bool = False


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why nothing happened, and what to do next, in one sentence or two."""

    say: str


class _No(Exception):
    def __init__(self, say: str) -> None:
        super().__init__(say)
        self.say = say


@dataclass
class _Draft:
    """Events under construction, each applied at once so that the next decision sees it."""

    state: State
    now: Moment
    by: str
    seed: str
    events: list[Event] = field(default_factory=list)
    said: list[str] = field(default_factory=list)
    alarm: bool = False
    focus: str | None = None

    def emit(self, body: Any) -> Event:
        seq = self.state.last_seq + 1
        # The id follows from the command's own seed, so that the same command retried makes the same events.
        event = Event(seq=seq, id=f"{self.seed}.{len(self.events)}", at=self.now, by=self.by, body=body)
        self.state = apply(self.state, event)
        self.events.append(event)
        return event

    def say(self, text: str) -> None:
        self.said.append(text)

    @property
    def area(self) -> Area:
        name = self.focus or self.state.active
        if name is None:
            raise _No("No area is open. Say 'start area' and its name.")
        return self.state.areas[name]


def decide(state: State, command: Command, now: Moment, command_id: str | None = None) -> Decision | Refusal:
    """What `command` does at `now`.

    command_id: made by whoever sends the command; events carry it, so that a retry can be recognised. Without one it
    is derived from the state's position and the command itself.
    """
    if command_id is None:
        command_id = str(uuid5(NAMESPACE_URL, f"{state.last_seq}:{now.wall}:{command.model_dump_json()}"))
    by = "clock" if isinstance(command, cmd.Tick) else (state.speaker.name if state.speaker else "")
    draft = _Draft(state, now, by, command_id)
    try:
        _guard(state, command)
        _DECIDERS[type(command)](draft, command)
    except _No as no:
        return Refusal(no.say)
    return Decision(tuple(draft.events), " ".join(draft.said), draft.alarm)


def _guard(state: State, command: Command) -> None:
    """What holds for every command: the day is open and not signed, somebody speaks, no reading waits."""
    if isinstance(command, cmd.OpenDay):
        if state.plan is not None:
            raise _No("This day is open already.")
        return
    if state.plan is None:
        raise _No("No day is open. Open one with its plan first.")
    if isinstance(command, cmd.Tick | cmd.Ask | cmd.OpenAddendum):
        return
    if state.closed:
        raise _No(
            f"The day was signed by {state.signed[-1]}: nothing more can be added to it as it is. "
            "The foreman can open an addendum."
        )
    if isinstance(command, cmd.SpeakAs | cmd.NoteWeather | cmd.MakeNote):
        return
    if isinstance(command, cmd.AttachPhoto) and not _photo_asked(state):
        return
    if state.speaker is None:
        names = " or ".join(f"'this is {p.name}'" for p in state.plan.crew)
        raise _No(f"Say who speaks first: {names}.")
    if isinstance(command, cmd.NoteDust):
        return
    if state.pending is not None and not isinstance(command, cmd.Keep | cmd.Withdraw | cmd.GiveReading):
        raise _No(f"First yes or no: {_pending_text(state)}?")


def _pending_text(state: State) -> str:
    p = state.pending
    if p is None:
        return ""
    step = state.areas[p.area].checklist.step(p.task.section, p.task.step)
    return f"{short(step)}, {p.label or show(p.value, p.unit)}"


# --- the day ------------------------------------------------------------------------------------------------------


def _open_day(draft: _Draft, command: cmd.OpenDay) -> None:
    held = {c.checklist: c for c in command.checklists}
    for area in command.plan.areas:
        checklist = held.get(area.checklist)
        if checklist is None:
            known = ", ".join(sorted(held)) or "none"
            raise _No(f"Area {area.name!r} asks for the checklist {area.checklist!r}; at hand: {known}.")
        if area.piece.product not in checklist.products:
            raise _No(
                f"Area {area.name!r} is {area.piece.product}, but the checklist {area.checklist!r} serves "
                f"{', '.join(checklist.products)}. Choose another checklist for this area."
            )
        _check_figures(area, checklist, [area.trowel, *command.plan.notches.values()])
    draft.emit(ev.DayOpened(plan=command.plan))
    for name in sorted({a.checklist for a in command.plan.areas}):
        draft.emit(ev.ChecklistAdopted(checklist=held[name]))
    draft.say(f"Day open: {command.plan.site}.")


def _check_figures(plan: AreaPlan, checklist: Checklist, trowels: Sequence[Trowel]) -> None:
    """Every limit and fact must be computable before the day starts, not fail at the wall."""
    for trowel in trowels:
        area = Area(plan=plan, checklist=checklist, trowel=trowel)
        try:
            rules.notch_of(trowel)
            for _, step in checklist.all_steps():
                area.criterion(step)
            for caution in checklist.cautions:
                area.holds(caution)
        except ValueError as reason:
            raise _No(f"Area {plan.name!r} cannot be worked as planned: {reason}") from None


def _speak_as(draft: _Draft, command: cmd.SpeakAs) -> None:
    plan = draft.state.plan
    person = plan.person(command.name) if plan else None
    if person is None:
        names = ", ".join(p.name for p in plan.crew) if plan else ""
        raise _No(f"Nobody called {command.name} is in today's crew: {names}.")
    draft.by = person.name
    draft.emit(ev.SpeakerChanged(name=person.name, role=person.role))
    draft.say(f"{person.name.title()}, {person.role.value}.")
    _meet_installer(draft)


def _meet_installer(draft: _Draft) -> None:
    """Another installer at the same area makes a lift due where the checklist says so."""
    area, speaker = draft.state.area, draft.state.speaker
    if area is None or speaker is None or speaker.role is not Role.INSTALLER:
        return
    if area.installer != speaker.name and area.progress.phase != "finished":
        draft.emit(ev.InstallerChanged(area=area.plan.name, installer=speaker.name))


def _note_weather(draft: _Draft, command: cmd.NoteWeather) -> None:
    draft.emit(ev.WeatherNoted(text=command.text))
    draft.say(f"Weather: {command.text}.")


def _make_note(draft: _Draft, command: cmd.MakeNote) -> None:
    draft.emit(ev.NoteMade(text=command.text, audio=command.audio, sha256=command.sha256))
    draft.say("Noted.")


def _note_dust(draft: _Draft, command: cmd.NoteDust) -> None:
    state = draft.state
    minutes, wrong = command.minutes, None
    if command.replaces is not None:
        wrong = next((entry for entry in state.dust if entry.seq == command.replaces), None)
        if wrong is None:
            raise _No(f"Event {command.replaces} is no dust entry that counts; nothing was replaced.")
        if wrong.by != draft.by:
            raise _No(f"That entry is {wrong.by.title()}'s: {wrong.by.title()} replaces it, or make a note.")
        if wrong.part != state.part:
            raise _No("That entry is signed. Correct it in words, in the addendum.")
    if minutes < 0 or (minutes == 0 and wrong is None):
        raise _No(f"{show(minutes, 'min')} of {command.task} is nothing to note. Give the minutes again.")
    before = sum((entry.minutes for entry in state.dust if entry.by == draft.by and entry != wrong), Fraction())
    if before + minutes > _DAY_MINUTES:
        raise _No(
            f"With {show(minutes, 'min')} more, {draft.by.title()} comes to {show(before + minutes, 'min')}: that does "
            "not fit in a day. Give the minutes again."
        )
    try:
        basis = str(dust.dust_control(command.task, command.place, float(minutes)).basis)
    except OutOfRange as no_row:
        basis = str(no_row)
    draft.emit(
        ev.DustNoted(task=command.task, place=command.place, minutes=minutes, basis=basis, replaces=command.replaces)
    )
    what = f"{command.task}, {command.place}"
    if wrong is None:
        draft.say(f"{show(minutes, 'min')} of {what}, noted for {draft.by.title()}.")
    elif minutes:
        draft.say(f"{show(minutes, 'min')} of {what} in place of {show(wrong.minutes, 'min')} of {wrong.task}.")
    else:
        draft.say(f"{show(wrong.minutes, 'min')} of {wrong.task} taken out.")


def _sign_day(draft: _Draft, command: cmd.SignDay) -> None:
    speaker = draft.state.speaker
    if speaker is None or speaker.role is not Role.FOREMAN:
        raise _No(f"The foreman signs the day. {_how_to_be(draft.state, Role.FOREMAN)}")
    points = open_points(draft.state)
    if points and not command.accept_open:
        raise _No(f"Open: {'; '.join(points)}. Close them, or say 'sign off with open points'.")
    part = draft.state.part
    draft.emit(
        ev.DaySigned(name=speaker.name, role=speaker.role, open_points=points, part=part, strokes=command.strokes)
    )
    draft.say(f"Addendum {part} is signed." if part else "The day is signed.")


def _open_addendum(draft: _Draft, command: cmd.OpenAddendum) -> None:
    speaker = draft.state.speaker
    if not draft.state.closed:
        raise _No("The day is not signed: it can be worked on as it is.")
    if speaker is None or speaker.role is not Role.FOREMAN:
        raise _No(f"The foreman opens an addendum. {_how_to_be(draft.state, Role.FOREMAN)}")
    number = draft.state.part + 1
    draft.emit(ev.AddendumOpened(number=number, reason=command.reason))
    draft.say(f"Addendum {number} is open. What was signed stays as it is; sign again when this is done.")


def _make_correction(draft: _Draft, command: cmd.Correct) -> None:
    if not draft.state.part:
        raise _No("Nothing is signed yet. Say 'scratch that' to take back the last thing.")
    if command.target > draft.state.last_seq:
        raise _No(f"There is no event {command.target}; the last one is {draft.state.last_seq}.")
    draft.emit(ev.CorrectionMade(target=command.target, text=command.text))
    draft.say(f"Corrected, beside event {command.target}.")


def open_points(state: State) -> tuple[str, ...]:
    """What is unfinished, in words, worst first."""
    points: list[str] = []
    for name, area in state.areas.items():
        for failure in area.progress.failures.values():
            points.append(f"{name}: {failure.finding}, not cured")
    for name, area in state.areas.items():
        if area.progress.phase != "finished":
            doing = area.step.ask if area.step else "between rounds"
            points.append(f"{name}: not finished ({doing.rstrip('.')})")
    return tuple(points)


# --- areas and rounds ---------------------------------------------------------------------------------------------


def _start_area(draft: _Draft, command: cmd.StartArea) -> None:
    plan = draft.state.plan
    planned = plan.area(command.area) if plan else None
    if planned is None:
        names = ", ".join(a.name for a in plan.areas) if plan else ""
        raise _No(f"No area is called {command.area!r} today. Areas: {names}.")
    if command.area in draft.state.areas:
        if draft.state.active == command.area:
            raise _No(f"{command.area.capitalize()} is open already.")
        draft.emit(ev.AreaEntered(area=command.area))
        draft.say(f"Back at {command.area}.")
        _meet_installer(draft)
        return
    draft.emit(ev.AreaStarted(area=command.area))
    draft.say(f"{command.area.capitalize()} started.")
    for section in draft.area.checklist.sections:
        if section.when == "start":
            _open_section(draft, section, "start of the area")
            return


def _open_section(draft: _Draft, holder: Section | Corrective, reason: str, failure: int | None = None) -> None:
    area = draft.area
    draft.emit(
        ev.SectionOpened(
            area=area.plan.name,
            section=holder.id,
            round=area.progress.rounds.get(holder.id, 0) + 1,
            reason=reason,
            failure=failure,
        )
    )


def _start_round(draft: _Draft, command: cmd.StartRound) -> None:
    area = draft.area
    section = area.checklist.section(command.section)
    if section is None or section.when != "called":
        raise _No(f"This checklist has no round called {command.section!r}.")
    _between(area, section.title)
    for need in section.needs:
        if need not in area.progress.good:
            needed = area.checklist.holder(need)
            how = f" Say '{needed.called[0]}'." if isinstance(needed, Section) and needed.called else ""
            raise _No(f"Not yet: {section.title.lower()} needs {needed.title.lower()} first.{how}")
    _open_section(draft, section, "called")


def _between(area: Area, wanted: str) -> None:
    """Refuse unless the area is between rounds."""
    if area.progress.phase == "finished":
        raise _No(f"{area.plan.name.capitalize()} is finished.")
    if area.step is not None:
        raise _No(f"Not yet: {wanted.lower()} comes after this. First: {area.step.ask}")


def _finish_area(draft: _Draft, command: cmd.FinishArea) -> None:
    area = draft.area
    _between(area, "finishing the area")
    if area.progress.failures:
        raise _No("Not yet: a failure is not cured. " + "; ".join(open_points(draft.state)))
    least, _ = area.lifts_needed
    if area.progress.lifts_passed < least:
        missing = least - area.progress.lifts_passed
        raise _No(
            f"Not yet: {missing} more good test tile{'s' if missing > 1 else ''} must be lifted here, {least} at least."
        )
    if not _open_next(draft, "end", after=None):
        _finished(draft)


def _finished(draft: _Draft) -> None:
    area = draft.area
    for run in area.progress.clocks:
        draft.emit(ev.ClockStopped(area=area.plan.name, clock=run.clock, run=run.run))
    draft.emit(ev.AreaFinished(area=area.plan.name))
    draft.say(f"{area.plan.name.capitalize()} is finished.")


def _open_next(draft: _Draft, when: str, after: str | None) -> bool:
    """Open the section with this `when` that follows `after` in the file (the first one for None)."""
    passed = after is None
    for section in draft.area.checklist.sections:
        if passed and section.when == when:
            _open_section(draft, section, f"{when} of the area")
            return True
        passed = passed or section.id == after
    return False


# --- steps --------------------------------------------------------------------------------------------------------


def _at_hand(draft: _Draft, section_id: str, step_id: str, *kinds: Kind) -> tuple[Area, Task, Step]:
    """The step that the command answers, or a refusal that says what comes first."""
    area = draft.area
    try:
        step = area.checklist.step(section_id, step_id)
    except KeyError:
        raise _No(f"This checklist has no step {step_id!r} in {section_id!r}.") from None
    if step.kind not in kinds:
        raise _No(f"{short(step).capitalize()} is not answered like that. {step.ask}")
    due = area.cautions_due()
    if due:
        raise _No(f"A caution comes first: {due[0].text} Say 'understood'.")
    task = area.task
    if task is None:
        if area.progress.phase == "finished":
            raise _No(f"{area.plan.name.capitalize()} is finished.")
        holder = area.checklist.holder(section_id)
        raise _No(f"Not now: '{short(step)}' belongs to {holder.title.lower()}. {_way_to(area, holder)}")
    if (task.section, task.step) != (section_id, step_id):
        raise _No(_out_of_sequence(area, task, section_id, step))
    speaker = draft.state.speaker
    if step.by is not None and (speaker is None or speaker.role is not step.by):
        raise _No(f"This waits for the {step.by.value}: {step.ask} {_how_to_be(draft.state, step.by)}")
    return area, task, step


def _way_to(area: Area, holder: Section | Corrective) -> str:
    """What to say to get to a section from between rounds."""
    if isinstance(holder, Section) and holder.called:
        return f"Say '{holder.called[0]}' first."
    if isinstance(holder, Section) and holder.when == "end":
        return f"Say '{area.checklist.finish.call[0]}' first."
    return between_rounds(area)


def _out_of_sequence(area: Area, task: Task, section_id: str, step: Step) -> str:
    current = area.checklist.step(task.section, task.step)
    ahead = any(t.section == section_id and t.step == step.id for t in area.progress.tasks)
    holder = area.checklist.holder(section_id)
    if ahead:
        return f"Not yet: '{short(step)}' comes later. First: {current.ask}"
    if section_id == task.section:
        return f"{short(step).capitalize()} is done already. Now: {current.ask}"
    return f"Not now: '{short(step)}' belongs to {holder.title.lower()}. First: {current.ask}"


def _how_to_be(state: State, role: Role) -> str:
    names = [p.name for p in state.plan.crew if p.role is role] if state.plan else []
    return f"{role.value.capitalize()}: say 'this is {names[0]}'." if names else ""


def _confirm_step(draft: _Draft, command: cmd.ConfirmStep) -> None:
    area, task, step = _at_hand(draft, command.section, command.step, Kind.CONFIRM, Kind.LIFT)
    draft.emit(
        ev.StepConfirmed(area=area.plan.name, section=task.section, round=task.round, step=step.id, label=command.label)
    )
    _after_step(draft, task, step, None)


def _attach_photo(draft: _Draft, command: cmd.AttachPhoto) -> None:
    area = draft.state.area
    task, step = (area.task, area.step) if area is not None else (None, None)
    draft.emit(
        ev.PhotoAttached(
            area=area.plan.name if area else "",
            section=task.section if task else "",
            round=task.round if task else 0,
            step=task.step if task else "",
            file=command.file,
            sha256=command.sha256,
        )
    )
    draft.say("Photo kept.")
    if task is not None and step is not None and step.kind is Kind.PHOTO:
        _after_step(draft, task, step, None)


def _photo_asked(state: State) -> bool:
    """Whether the step at hand is a photo; any other photo is a remark and moves nothing."""
    return state.area is not None and state.area.step is not None and state.area.step.kind is Kind.PHOTO


def _release_hold(draft: _Draft, command: cmd.ReleaseHold) -> None:
    area, task, step = _at_hand(draft, command.section, command.step, Kind.HOLD)
    draft.emit(ev.HoldReleased(area=area.plan.name, section=task.section, round=task.round, step=step.id))
    draft.say("Released.")
    _after_step(draft, task, step, None)


def _choose(draft: _Draft, command: cmd.Choose) -> None:
    area, task, step = _at_hand(draft, command.section, command.step, Kind.CHOICE)
    option = next((o for o in step.options if o.id == command.option), None)
    if option is None:
        raise _No(f"{step.ask} Answers: {', '.join(o.say[0] for o in step.options)}.")
    judged = any(o.fails for o in step.options)
    draft.emit(
        ev.ChoiceMade(
            area=area.plan.name,
            section=task.section,
            round=task.round,
            step=step.id,
            option=option.id,
            passed=not option.fails if judged else None,
        )
    )
    if not option.fails:
        draft.say(f"{option.label}.")
    _after_step(draft, task, step, option.label if option.fails else None)


def _give_reading(draft: _Draft, command: cmd.GiveReading) -> None:
    pending = draft.state.pending
    if pending is not None:
        if (pending.task.section, pending.task.step) != (command.section, command.step):
            raise _No(f"First yes or no: {_pending_text(draft.state)}?")
        # Saying it again in other words is a correction: the first one is withdrawn, not overwritten.
        _check_plausible(draft.area.checklist.step(command.section, command.step), command)
        draft.emit(ev.Withdrawn(area=pending.area, target=pending.seq, reason="said again"))
    area, task, step = _at_hand(draft, command.section, command.step, Kind.READING)
    _check_plausible(step, command)
    draft.emit(
        ev.ReadingCalled(
            area=area.plan.name,
            section=task.section,
            round=task.round,
            step=step.id,
            quantity=step.quantity or "",
            value=command.value,
            unit=command.unit,
            label=command.label,
        )
    )
    draft.say(f"{_pending_text(draft.state).capitalize()}. Yes or no?")


def _check_plausible(step: Step, command: cmd.GiveReading) -> None:
    dimension, low, high = QUANTITIES[step.quantity or "count"]
    if dimension == "name":
        if not command.label:
            raise _No(f"A name is wanted. {step.ask}")
        return
    if command.unit not in step.units:
        raise _No(f"{short(step).capitalize()} is read in {' or '.join(step.units)}, not in {command.unit}.")
    if step.plausible is not None:
        low, high = (
            quantities.canonical(end, step.plausible.unit) for end in (step.plausible.low, step.plausible.high)
        )
    value = quantities.canonical(float(command.value), command.unit)
    if not low - 1e-9 <= value <= high + 1e-9:
        raise _No(f"{show(command.value, command.unit)} cannot be right for {short(step)}. Say it again.")


def _keep(draft: _Draft, command: cmd.Keep) -> None:
    pending = draft.state.pending
    if pending is None:
        raise _No("Nothing waits for a yes.")
    draft.focus = pending.area
    area = draft.area
    step = area.checklist.step(pending.task.section, pending.task.step)
    criterion = area.criterion(step)
    failure = criterion.failure(pending.canonical, pending.unit) if criterion else None
    draft.emit(
        ev.ReadingKept(
            area=pending.area,
            section=pending.task.section,
            round=pending.task.round,
            step=step.id,
            target=pending.seq,
            passed=None if criterion is None else failure is None,
            criterion=criterion.text(pending.unit) if criterion else "",
            basis=criterion.basis if criterion else (step.basis or ""),
            finding=failure or "",
        )
    )
    draft.say("Kept.")
    _after_step(draft, pending.task, step, failure)


def _withdraw(draft: _Draft, command: cmd.Withdraw) -> None:
    pending = draft.state.pending
    if pending is not None:
        draft.emit(ev.Withdrawn(area=pending.area, target=pending.seq, reason="answered no"))
        step = draft.state.areas[pending.area].checklist.step(pending.task.section, pending.task.step)
        draft.say(f"Withdrawn. {step.ask}")
        return
    area = draft.area
    if not area.done:
        raise _No("Nothing here can be taken back.")
    last = area.done[-1]
    draft.emit(ev.Withdrawn(area=area.plan.name, target=last.seq, reason="scratched"))
    draft.say(f"Taken back: {last.text}")


def _acknowledge(draft: _Draft, command: cmd.AcknowledgeCaution) -> None:
    area = draft.area
    due = area.cautions_due()
    if not due or area.task is None:
        raise _No("No caution waits.")
    name, at_round = area.caution_key(due[0], area.task)
    draft.emit(ev.CautionAcknowledged(area=area.plan.name, caution=name, round=at_round))
    draft.say("Acknowledged.")


def _change_notch(draft: _Draft, command: cmd.ChangeNotch) -> None:
    area, plan = draft.area, draft.state.plan
    trowel = plan.notches.get(command.notch) if plan else None
    if trowel is None:
        names = ", ".join(plan.notches) if plan and plan.notches else "none"
        raise _No(f"No trowel is called {command.notch!r} in today's plan. Trowels: {names}.")
    draft.emit(ev.NotchChanged(area=area.plan.name, notch=command.notch, trowel=trowel))
    draft.say(f"Trowel: {command.notch}.")


# --- what follows a step ------------------------------------------------------------------------------------------


def _after_step(draft: _Draft, task: Task, step: Step, failure: str | None) -> None:
    """Clocks, failures, verdicts and what becomes due. `failure`: why the step's criterion failed, if it did."""
    area = draft.area
    holder = area.checklist.holder(task.section)
    in_lift = isinstance(holder, Section) and holder.lift is not None and step.measures is not None
    if failure is not None and not in_lift and step.on_fail is not None:
        # A step that failed starts no clock: the mortar combed in swirls is scraped off again.
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
        _close_failure(draft, task.failure, f"{short(step)} checked again and passed")
    if not any((t.section, t.round) == (task.section, task.round) for t in draft.area.progress.tasks):
        _close_section(draft, task, holder)


def _turn_clocks(draft: _Draft, task: Task, step: Step) -> None:
    area = draft.area
    if step.stops is not None:
        for run in [c for c in area.progress.clocks if c.clock == step.stops]:
            draft.emit(ev.ClockStopped(area=area.plan.name, clock=run.clock, run=run.run))
    if step.starts is not None:
        clock = area.checklist.clock(step.starts)
        if clock is None:
            return
        span = _span(area, clock)
        draft.emit(
            ev.ClockStarted(
                area=area.plan.name,
                clock=clock.id,
                section=task.section,
                round=task.round,
                title=clock.title,
                minutes=span.minutes,
                basis=span.basis,
            )
        )
        draft.say(f"{clock.title}: {span.minutes:.0f} minutes.")


def _span(area: Area, clock: Clock) -> rules.Span:
    if clock.rule is not None:
        return rules.DURATIONS[clock.rule](area.facts)
    assert clock.lasts is not None  # the schema lets no clock pass without one or the other
    return rules.Span(canonical(clock.lasts), clock.basis or "")


def _fail(draft: _Draft, task: Task, step: Step, finding: str) -> None:
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
                criterion=str(criterion) if criterion else step.ask,
                basis=(criterion.basis if criterion else step.basis) or "",
                corrective=corrective.id,
            )
        ).seq
    if corrective.then == "again":
        draft.emit(
            ev.StepReopened(area=area.plan.name, section=task.section, round=task.round, step=step.id, failure=failure)
        )
    _correct(draft, corrective, failure, finding)


def _correct(draft: _Draft, corrective: Corrective, failure: int, finding: str) -> None:
    draft.alarm = True
    draft.say(f"Failed: {finding}. {corrective.title}.")
    if corrective.tighten is not None:
        draft.emit(ev.InspectionTightened(area=draft.area.plan.name, lifts=corrective.tighten.lifts, failure=failure))
    _open_section(draft, corrective, f"corrective action for failure {failure}", failure)


def _close_failure(draft: _Draft, failure: int, shown_by: str) -> None:
    area = draft.area
    corrective = area.checklist.holder(area.progress.failures[failure].corrective)
    draft.emit(
        ev.FailureClosed(
            area=area.plan.name,
            failure=failure,
            cure=corrective.title,
            shown_by=shown_by,
        )
    )
    draft.say("Failure cured.")


def _close_section(draft: _Draft, task: Task, holder: Section | Corrective) -> None:
    area = draft.area
    lift = holder.lift if isinstance(holder, Section) else None
    verdict = _judge_lift(draft, task, holder, lift) if lift and isinstance(holder, Section) else None
    draft.emit(
        ev.SectionClosed(
            area=area.plan.name,
            section=task.section,
            round=task.round,
            tile_set=isinstance(holder, Section) and holder.sets == "tile",
        )
    )
    if isinstance(holder, Corrective):
        if holder.then == "go on" and task.failure is not None and task.failure in area.progress.failures:
            origin = area.progress.failures[task.failure]
            _close_failure(draft, task.failure, "corrective action done")
            _close_if_done(draft, origin.section, origin.round)
        return
    if lift is not None and verdict is not None:
        _follow_lift(draft, task, holder, lift, verdict)
        if not verdict.passed:
            return
    if holder.when in ("start", "end") and not draft.area.progress.tasks:
        if _open_next(draft, holder.when, after=holder.id):
            return
        if holder.when == "end":
            _finished(draft)
            return
        draft.say("Ready.")
        return
    _open_due(draft, holder)


def _close_if_done(draft: _Draft, section: str, at_round: int) -> None:
    """Close a round whose last step failed and was cured without being asked again."""
    progress = draft.area.progress
    waiting = any((t.section, t.round) == (section, at_round) for t in progress.tasks)
    if (section, at_round) in progress.opened and not waiting:
        _close_section(draft, Task(section, at_round, ""), draft.area.checklist.holder(section))


def _judge_lift(draft: _Draft, task: Task, holder: Section, lift: Step) -> coverage.LiftVerdict:
    area = draft.area
    facts, measured = area.facts, area.progress.measured
    need = coverage.required_contact(facts.area.piece.product, facts.place, facts.surface)
    percent = measured["coverage"]
    void, corners = measured.get("largest void"), measured.get("corners")
    verdict = coverage.lift_verdict(
        percent,
        need,
        largest_void_mm2=None if void is None else void * 1e6,
        corners_supported=None if corners is None else bool(corners),
    )
    reasons = list(verdict.reasons)
    required = need.minimum_percent
    for step in holder.steps:
        # A checklist may ask for more than the standard does: its own limit then counts as well.
        criterion = area.criterion(step) if step.measures in measured else None
        own = criterion.failure(measured[step.measures or ""]) if criterion else None
        if own is not None and verdict.outcome != "failed":
            reasons.append(f"{short(step)}: {own}")
        if step.measures == "coverage" and criterion is not None and criterion.at_least is not None:
            required = max(required, criterion.at_least)
    # Until the checklist asks for all that the requirement names, what it never asks for fails no lift.
    passed = not reasons
    draft.emit(
        ev.LiftJudged(
            area=area.plan.name,
            section=task.section,
            round=task.round,
            lift=area.progress.lifts,
            tile=area.progress.tiles,
            label=area.progress.lift_label,
            coverage=percent,
            required=required,
            passed=passed,
            reasons=tuple(reasons),
            unread=verdict.unread,
            basis=str(need.basis),
        )
    )
    if passed:
        draft.say(f"Lift {area.progress.lifts} passes.")
    return coverage.LiftVerdict("passed" if passed else "failed", tuple(reasons), verdict.unread)


def _follow_lift(draft: _Draft, task: Task, holder: Section, lift: Step, verdict: coverage.LiftVerdict) -> None:
    area = draft.area
    failure = task.failure
    if verdict.passed:
        if failure is not None and failure in area.progress.failures:
            _close_failure(draft, failure, f"lift {area.progress.lifts} passed")
        return
    corrective = area.checklist.corrective(lift.on_fail or "")
    if corrective is None:
        return
    finding = f"lift {area.progress.lifts}: {'; '.join(verdict.reasons)}"
    if failure is not None and failure in area.progress.failures:
        draft.emit(ev.StillFailing(area=area.plan.name, failure=failure, finding=finding))
    else:
        facts = area.facts
        need = coverage.required_contact(facts.area.piece.product, facts.place, facts.surface)
        failure = draft.emit(
            ev.FailureOpened(
                area=area.plan.name,
                section=task.section,
                round=task.round,
                step=lift.id,
                finding=finding,
                criterion=f"at least {quantities.format_quantity(need.minimum_percent, 'percent')} contact",
                basis=str(need.basis),
                corrective=corrective.id,
            )
        ).seq
    if corrective.then == "again":
        _open_section(draft, holder, f"again, after failure {failure}", failure)
    _correct(draft, corrective, failure, finding)


def _open_due(draft: _Draft, closed: Section) -> None:
    """Sections that the round just closed makes due, in file order (the first in the file is asked first)."""
    due: list[tuple[Section, str]] = []
    for section in draft.area.checklist.sections:
        if section.due is not None and section.due.after == closed.id:
            reason = why_due(draft.area, section)
            if reason is not None:
                due.append((section, reason))
    for section, reason in reversed(due):
        _open_section(draft, section, reason)
    if due:
        draft.say(f"{due[0][0].title} is due: {due[0][1]}.")


def why_due(area: Area, section: Section) -> str | None:
    """Why a round of `section` is due once a round of what it follows is closed, in words; None when it is not."""
    every, progress = section.due, area.progress
    if every is None:
        return None
    if every.always:
        return f"after {area.checklist.holder(every.after).title.lower()}"
    if every.first and progress.rounds.get(section.id, 0) == 0:
        return "first tile of the area"
    if section.lift is not None and progress.tightened > 0:
        return f"after every tile, {progress.tightened} more to pass since a lift failed"
    if progress.changed.get(section.id):
        return f"first tile after a change of {' and '.join(progress.changed[section.id])}"
    if every.every is not None:
        limit = canonical(every.every)
        if progress.since.get(section.id, 0.0) >= limit - 1e-9:
            return f"{quantities.format_quantity(limit, 'm2')} set since the last one"
    return None


# --- time ---------------------------------------------------------------------------------------------------------


def _tick(draft: _Draft, command: cmd.Tick) -> None:
    if draft.state.closed:
        return
    for name in list(draft.state.areas):
        for run in draft.state.areas[name].progress.clocks:
            left = run.left(draft.now)
            if left <= 0:
                _run_out(draft, name, run)
            elif not run.warned and (warn := _warning_minutes(draft.state.areas[name], run)) and left <= warn:
                draft.emit(ev.ClockWarned(area=name, clock=run.clock, run=run.run, left_minutes=round(left, 2)))
                draft.say(f"{run.title}, {name}: {_minutes(left)} left.")


def _warning_minutes(area: Area, run: ClockRun) -> float:
    clock = area.checklist.clock(run.clock)
    return canonical(clock.warn) if clock and clock.warn else 0.0


def _minutes(minutes: float) -> str:
    whole = max(1, round(minutes))
    return f"{whole} minute{'s' if whole != 1 else ''}"


def _run_out(draft: _Draft, name: str, run: ClockRun) -> None:
    draft.focus = name
    area = draft.state.areas[name]
    clock = area.checklist.clock(run.clock)
    if clock is None:
        return
    kept, _ = spoiled(area, run)
    dropped = tuple(dict.fromkeys(t.section for t in area.progress.tasks if t not in kept))
    draft.emit(
        ev.ClockRanOut(
            area=name,
            clock=run.clock,
            run=run.run,
            title=run.title,
            minutes=run.minutes,
            dropped=dropped,
        )
    )
    draft.alarm = True
    draft.say(f"{run.title} is up, {name}: {clock.up}")
    corrective = area.checklist.corrective(clock.corrective) if clock.corrective else None
    if corrective is not None:
        failure = draft.emit(
            ev.FailureOpened(
                area=name,
                section=run.section,
                round=run.round,
                step=corrective.steps[0].id,
                finding=f"{run.title.lower()} ran out after {quantities.format_quantity(run.minutes, 'min')}",
                criterion=f"at most {quantities.format_quantity(run.minutes, 'min')}",
                basis=_span(area, clock).basis,
                corrective=corrective.id,
            )
        ).seq
        _open_section(draft, corrective, f"corrective action for failure {failure}", failure)


# --- questions ----------------------------------------------------------------------------------------------------


def _ask(draft: _Draft, command: cmd.Ask) -> None:
    if command.about == "how long":
        lines = [
            f"{run.title}, {name}: {_minutes(run.left(draft.now))} left."
            for name, area in draft.state.areas.items()
            for run in area.progress.clocks
        ]
        draft.say(" ".join(lines) or "No clock runs.")
    elif command.about == "note":
        draft.say("Speak your note.")
    else:
        draft.say(prompt(draft.state, draft.now).say)


_DECIDERS: Mapping[type, Callable[[_Draft, Any], None]] = {
    cmd.OpenDay: _open_day,
    cmd.SpeakAs: _speak_as,
    cmd.NoteWeather: _note_weather,
    cmd.MakeNote: _make_note,
    cmd.NoteDust: _note_dust,
    cmd.StartArea: _start_area,
    cmd.AcknowledgeCaution: _acknowledge,
    cmd.StartRound: _start_round,
    cmd.ConfirmStep: _confirm_step,
    cmd.GiveReading: _give_reading,
    cmd.Choose: _choose,
    cmd.AttachPhoto: _attach_photo,
    cmd.ReleaseHold: _release_hold,
    cmd.Keep: _keep,
    cmd.Withdraw: _withdraw,
    cmd.ChangeNotch: _change_notch,
    cmd.FinishArea: _finish_area,
    cmd.SignDay: _sign_day,
    cmd.OpenAddendum: _open_addendum,
    cmd.Correct: _make_correction,
    cmd.Tick: _tick,
    cmd.Ask: _ask,
}
