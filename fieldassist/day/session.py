"""A day under way: commands in, events on disk, answers out."""

from __future__ import annotations

import uuid
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import engine
from fieldassist.checklist.commands import Command
from fieldassist.checklist.events import CommandRefused, Event
from fieldassist.checklist.plan import DayPlan
from fieldassist.checklist.prompt import Prompt, minutes_to_next_alarm, prompt, show, whether_meant
from fieldassist.checklist.schema import Checklist
from fieldassist.checklist.state import State, fold
from fieldassist.day.clock import Clock
from fieldassist.record.log import DayLog


class CannotOpen(Exception):
    """The day cannot be opened as asked; the text says why and what to do."""


@dataclass(frozen=True, slots=True)
class Doubt:
    """A command that was heard with doubt, and the words it was heard in."""

    command: Command
    words: str


@dataclass(frozen=True, slots=True)
class Answer:
    """What a command came to. `events` are on disk when the answer is given.

    taken: the engine did it; say: what the crew is told; alarm: it must be heard; then: what is asked now.
    """

    taken: bool
    say: str
    events: tuple[Event, ...]
    then: Prompt
    alarm: bool = False


class Day:
    """One day's log with the state folded from it. Only this class appends."""

    def __init__(self, log: DayLog, clock: Clock) -> None:
        self.log = log
        self.clock = clock
        # Heard with doubt, asked back and waiting for "yes". Not in the log: nothing of it was acknowledged.
        self.doubtful: Doubt | None = None
        self.state: State = fold(log.events)

    @classmethod
    def begin(cls, path: Path, plan: DayPlan, checklists: Mapping[str, Checklist], clock: Clock) -> Day:
        """A new day at `path`. CannotOpen when the plan does not fit the checklists; LogProblem from the disk."""
        used = tuple(c for name, c in checklists.items() if any(a.checklist == name for a in plan.areas))
        opening = engine.decide(State(), cmd.OpenDay(plan=plan, checklists=used), clock.now(), uuid.uuid4().hex)
        if isinstance(opening, engine.Refusal):
            raise CannotOpen(opening.say)
        log = DayLog.create(path)
        try:
            log.append(opening.events)
        except BaseException:
            log.close()
            raise
        return cls(log, clock)

    @classmethod
    def resume(cls, path: Path, clock: Clock) -> Day:
        """A day where it was left, at any event. LogProblem and its kinds from the log."""
        return cls(DayLog.open(path), clock)

    def do(self, command: Command) -> Answer:
        """Carry out a command. The answer is given only once its events are on disk; LogProblem when they cannot be."""
        now = self.clock.now()
        outcome = engine.decide(self.state, command, now, uuid.uuid4().hex)
        if isinstance(outcome, engine.Refusal):
            return self._refused(command, outcome.say)
        self._append(outcome.events)
        return Answer(True, outcome.say, outcome.events, self.prompt, outcome.alarm)

    def _refused(self, command: Command, why: str) -> Answer:
        """A refusal is worth a line in the record: an inspector may ask what was tried."""
        if self.state.plan is None or self.state.signed or isinstance(command, cmd.Ask | cmd.Tick | cmd.OpenDay):
            return Answer(False, why, (), self.prompt)
        body = CommandRefused(area=self.state.active, attempt=describe(command), reason=why)
        event = Event(
            seq=self.state.last_seq + 1,
            id=f"{uuid.uuid4().hex}.0",
            at=self.clock.now(),
            by=self.state.speaker.name if self.state.speaker else "",
            body=body,
        )
        self._append((event,))
        return Answer(False, why, (event,), self.prompt)

    def _append(self, events: tuple[Event, ...]) -> None:
        if events:
            self.log.append(events)
            self.state = fold(events, self.state)

    def tick(self) -> Answer | None:
        """Let clocks warn and run out; None when nothing happened."""
        due = self.minutes_to_next_alarm()
        if due is None or due > 0:
            return None
        answer = self.do(cmd.Tick())
        return answer if answer.events else None

    def minutes_to_next_alarm(self) -> float | None:
        """Minutes until a clock has something to say, or None."""
        return minutes_to_next_alarm(self.state, self.clock.now())

    @property
    def prompt(self) -> Prompt:
        """What is asked now: first of all whether what was heard with doubt was meant."""
        asked = prompt(self.state, self.clock.now())
        return asked if self.doubtful is None else whether_meant(asked, self.doubtful.words)

    def close(self) -> None:
        """Give the log back."""
        self.log.close()

    def __enter__(self) -> Day:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()


def describe(command: Command) -> str:
    """A command in the few words that a log line needs."""
    words: list[str] = [command.do]
    for field in ("section", "step", "area", "name", "option", "notch", "label"):
        value = getattr(command, field, None)
        if value:
            words.append(str(value).replace("-", " "))
    if isinstance(command, cmd.GiveReading) and not command.label:
        words.append(show(command.value, command.unit))
    return ", ".join(words)
