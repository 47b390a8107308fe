"""A decision under construction: what happened so far, and what every decider may ask of the day."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from math import ceil
from typing import TYPE_CHECKING, Any, Protocol, TypeAlias, TypeVar

from fieldassist.checklist import cautions, covering
from fieldassist.checklist import events as ev
from fieldassist.checklist.commands import Command
from fieldassist.checklist.events import Event
from fieldassist.checklist.fold import apply
from fieldassist.checklist.kinds import Reading, Step
from fieldassist.checklist.kinds.reading import waiting_told
from fieldassist.checklist.lots import Lottery
from fieldassist.checklist.moment import Moment, Source
from fieldassist.checklist.offers import BUCKET, BUCKETS, GO_ON_EARLY, START_AREA, THIS_IS, UNDERSTOOD
from fieldassist.checklist.plan import Person, Role
from fieldassist.checklist.recorded import recorded
from fieldassist.checklist.schema import Corrective, Section
from fieldassist.checklist.state import Area, State, Task
from fieldassist.checklist.witnessing import why_witnessed
from fieldassist.checklist.wording import in_language
from fieldassist.trade.message import Figure, Message, Refused, Several, message
from fieldassist.trade.quantities import Quantity

if TYPE_CHECKING:
    from fieldassist.checklist.kinds.base import StepBase

# What answered a step: the step that was at hand, and why its answer fails its criterion, None where it does not.
Answered: TypeAlias = "tuple[Task, Step, Figure | None]"

_AnyStep = TypeVar("_AnyStep", bound="StepBase")


class _Answers(Protocol):
    """A command that answers a step."""

    @property
    def section(self) -> str: ...

    @property
    def step(self) -> str: ...


class CautionAsked(Exception):
    """What was decided so far stands; a caution is asked before the rest, which does not happen."""


@dataclass
class Draft:
    """Events under construction, each applied at once so that the next decision sees it. Deciders raise `Refused`.

    asked: the command that is decided, as the first event shows it.
    """

    state: State
    now: Moment
    by: str
    seed: str
    source: Source
    lots: Lottery | None = None
    asked: Command | None = None
    events: list[Event] = field(default_factory=list)
    said: list[Figure] = field(default_factory=list)
    alarm: bool = False
    focus: str | None = None

    def emit(self, body: Any, by: str | None = None, source: Source | None = None) -> Event:
        """One more event, applied. by: whose it is where it is not that of whoever speaks; source: where it came from
        otherwise than with the command, such as the clock."""
        seq = self.state.last_seq + 1
        # The id follows from the command's own seed, so that the same command retried makes the same events.
        event = Event(
            seq=seq,
            id=f"{self.seed}.{len(self.events)}",
            at=self.now,
            by=self.by if by is None else by,
            source=source or self.source,
            body=body,
            command=recorded(self.asked) if self.asked is not None and not self.events else None,
        )
        self.state = apply(self.state, event)
        self.events.append(event)
        return event

    def say(self, told: Figure) -> None:
        """One more sentence for the crew."""
        self.said.append(told)

    @staticmethod
    def refusal(code: str, /, **figures: Figure) -> Refused:
        """The refusal with this code, to be raised."""
        return Refused(message(code, **figures))

    @property
    def area(self) -> Area:
        """The area that is decided about; refused where none is open."""
        name = self.focus or self.state.active
        if name is None:
            raise self.refusal("engine-no-area", phrase=START_AREA)
        return self.state.areas[name]

    def withdraw(self, area: str, target: int, reason: Any, strikes: Sequence[int] = ()) -> None:
        """An event no longer counts, nor does what it had brought about."""
        self.emit(ev.Withdrawn(area=area, target=target, reason=reason, strikes=tuple(strikes)))

    def end_turn_of(self, person: Person) -> None:
        """A release ends the turn of a foreman or owner who took it for that: whoever spoke before speaks again."""
        before = self.state.spoke_before
        if self.state.speaker != person or person.role is Role.INSTALLER or before is None:
            return
        self.by = before.name
        self.emit(ev.SpeakerChanged(name=before.name, role=before.role, back=True))
        self.say(message("engine-speaks", name=before.name, role=before.role.value))

    # --- what comes first -----------------------------------------------------------------------------------------

    def yes_or_no_first(self) -> Refused:
        """What was read back waits for its answer."""
        return self.refusal("engine-first-yes-or-no", answers=waiting_told(self.state))

    def check_cautions(self) -> None:
        """Refuse what would go on while a caution waits to be acknowledged.

        Where the same command opened or took up the round, that stands: "understood" answers the caution there.
        """
        due = cautions.due(self.state, self.area, self.now)
        if due and any(isinstance(event.body, ev.RoundTakenUp | ev.SectionOpened) for event in self.events):
            raise CautionAsked
        if due:
            code = "engine-cautions-again" if due[0].heard else "engine-caution-first"
            raise self.refusal(code, caution=cautions.told(due), phrase=UNDERSTOOD[0])

    def reading_step(self, command: _Answers) -> Reading:
        """The reading that the command is for."""
        step = self._step(command)
        if not isinstance(step, Reading):
            raise self.refusal("engine-answered-otherwise", name=step.name, ask=step.asked())
        return step

    def _step(self, command: _Answers) -> Step:
        try:
            return self.area.checklist.step(command.section, command.step)
        except KeyError:
            raise self.refusal("engine-no-step", step=command.step, section=command.section) from None

    def at_hand(self, command: _Answers, kind: type[_AnyStep]) -> tuple[Area, Task, _AnyStep]:
        """The step that the command answers, or a refusal that says what comes first."""
        area, step = self.area, self._step(command)
        if not isinstance(step, kind):
            raise self.refusal("engine-answered-otherwise", name=step.name, ask=step.asked())
        area = self._taken_up(area, command)
        self.check_cautions()
        task = area.task
        if task is None:
            if area.progress.phase == "finished":
                raise self.refusal("engine-area-finished", area=area.plan.name)
            holder = area.checklist.holder(command.section)
            way = way_to(area, holder)
            raise self.refusal("engine-belongs-elsewhere", name=step.name, holder=holder.title, first=way)
        answers = area.answerable(command.section, command.step)
        if answers is None:
            raise self._out_of_sequence(area, task, command.section, step)
        self.check_role(step)
        self.check_ready()
        return area, answers, step

    def _taken_up(self, area: Area, command: _Answers) -> Area:
        """The area with the round at hand that the command answers: another open one, where two work at a time."""
        answers = (command.section, command.step)
        here = area.task
        mine = here is not None and (here.section, here.step) == answers
        if (
            mine
            and here is not None
            and area.progress.hands.get((here.section, here.round), area.setter) == area.setter
        ):
            return area
        found = [task for task in area.beside if (task.section, task.step) == answers]
        own = [t for t in found if area.progress.hands.get((t.section, t.round), area.setter) == area.setter]
        if not own and (mine or not found):
            return area
        task = (own or found)[0]
        self.emit(ev.RoundTakenUp(area=area.plan.name, section=task.section, round=task.round))
        return self.area

    def check_ready(self) -> None:
        """Refuse the step at hand while it lacks a batch, waits for a clock, or the weather has stopped the work."""
        why = hindrance(self.state, self.area, self.now)
        if why is not None:
            raise Refused(why)

    def check_role(self, step: StepBase) -> None:
        """Refuse a step of one role from everybody else."""
        if step.by is not None and not step.taken_from(self.state.speaker):
            who = how_to_be(self.state, step.by)
            raise self.refusal("engine-waits-for-role", role=step.by.value, ask=step.asked(), who=who)

    def _out_of_sequence(self, area: Area, task: Task, section: str, step: StepBase) -> Refused:
        current = area.checklist.step(task.section, task.step).asked()
        if any(t.section == section and t.step == step.id for t in area.progress.tasks):
            return self.refusal("engine-comes-later", name=step.name, ask=current)
        if section == task.section:
            return self.refusal("engine-done-already", name=step.name, ask=current)
        title = area.checklist.holder(section).title
        first = message("engine-first", ask=current)
        return self.refusal("engine-belongs-elsewhere", name=step.name, holder=title, first=first)


def hindrance(state: State, area: Area, now: Moment) -> Message | None:
    """Why the step at hand cannot be done yet, and what comes first; None where nothing hinders it."""
    task, step = area.task, area.step
    if task is None or step is None:
        return None
    lacking = area.lacks(step)
    if lacking is not None:
        return needs_first(area, step.name, lacking)
    run = area.waits_for(step)
    if run is not None and run.left(now) > 0:
        clock = area.checklist.clock(run.clock)
        left = Quantity(Fraction(ceil(run.left(now))), "min")
        return message(
            "engine-wait", what=step.name, clock=clock.title if clock else run.clock, left=left, phrase=GO_ON_EARLY
        )
    stop, holder = area.checklist.stops_work, area.holder
    if stop is None or holder is None or task.failure is None or task.failure != area.progress.stopped:
        return None
    if state.weather in stop.weather and step.id == holder.steps[-1].id:
        weather = message("prompt-weather-word", word=state.weather)
        return message("engine-weather-still", what=step.name, weather=weather)
    return None


def needs_first(area: Area, wanted: Figure, need: str) -> Message:
    """What must be done before: a batch, or a bucket whose batch is alive."""
    needed = area.checklist.holder(need)
    call = needed.call() if isinstance(needed, Section) else None
    ways = [call] if call else []
    ways += [
        f"{BUCKET} {BUCKETS[b.bucket - 1]}" for b in area.progress.batches.values() if b.section == need and b.alive
    ]
    quoted = tuple(message("prompt-quoted", phrase=way) for way in ways)
    how = message("prompt-say", ways=Several(quoted, "or")) if ways else ""
    return message("engine-needs-first", section=wanted, needed=needed.title, how=how)


def between_rounds(area: Area, now: Moment | None = None) -> Message:
    """What may be begun now; an empty list of ways where nothing may. now: where mortar may be spread for tiles that
    are counted, that is named too."""
    progress = area.progress
    ways = []
    counted = area.checklist.counted_section
    if now is not None and counted is not None and counted.counting is not None and progress.tiles:
        may = area.most_at_once and all(n in progress.good for n in counted.needs)
        if may and not why_witnessed(area, now):
            ways.append(counted.counting.spread.phrases()[0])
    ways += [
        in_language(s.called, "en")[0]
        for s in area.checklist.sections
        if s.when == "called" and not s.anytime and all(n in progress.good for n in s.needs)
        if s.tries is None or area.next_sample is not None
    ]
    if covering.may_finish(area):
        ways.append(in_language(area.checklist.finish.call, "en")[0])
    quoted = tuple(message("prompt-quoted", phrase=way) for way in ways)
    return message("prompt-say", ways=Several(quoted, "or")) if ways else message("prompt-nothing-now")


def way_to(area: Area, holder: Section | Corrective) -> Message:
    """What to say to get to a section from between rounds."""
    if isinstance(holder, Section) and holder.called:
        return message("engine-say-first", phrase=in_language(holder.called, "en")[0])
    if isinstance(holder, Section) and holder.when == "end":
        return message("engine-say-first", phrase=in_language(area.checklist.finish.call, "en")[0])
    return between_rounds(area)


def how_to_be(state: State, role: Role) -> Message | str:
    """What to say so that somebody of this role speaks; "" where nobody of the crew has it."""
    who = next((p for p in state.plan.crew if p.role is role), None) if state.plan else None
    return message("engine-how-to-be", role=role.value, phrase=f"{THIS_IS} {who.said}") if who is not None else ""
