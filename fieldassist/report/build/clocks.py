"""Clocks: when each was started, and how it ended."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from fieldassist.checklist import events as ev
from fieldassist.checklist.events import Event
from fieldassist.report.build.answers import outcome as outcome_of
from fieldassist.report.build.context import Context
from fieldassist.report.build.words import minutes
from fieldassist.report.report_model import ClockLine, ClockOutcome

if TYPE_CHECKING:
    from fieldassist.report.build.area import AreaBuilder


@dataclass
class Run:
    """A run of a clock while its events are read."""

    event: Event
    body: ev.ClockStarted
    title: str
    belongs_to: str
    least: bool = False
    ended: Event | None = None
    drops: tuple[str, ...] = ()
    outcome: ClockOutcome = "still running"
    remarks: list[str] = field(default_factory=list)
    failure: int | None = None


class Clocks:
    """The clocks of an area, by the number of the event that started each."""

    def __init__(self, context: Context) -> None:
        self._context = context
        self.runs: dict[int, Run] = {}

    def failed(self, opened: Event, run: int | None) -> None:
        """A clock's own failure: run, the clock that ran out."""
        if run in self.runs:
            self.runs[run].failure = opened.seq

    def told(self, since_start: Callable[[Event], float]) -> tuple[ClockLine, ...]:
        """All of them. since_start: minutes from the area's first event to another."""
        return tuple(self._line(run, since_start(run.event)) for run in self.runs.values())

    def _line(self, run: Run, start: float) -> ClockLine:
        context = self._context
        ended = run.ended
        return ClockLine(
            run=run.event.seq,
            title=run.title,
            belongs_to=run.belongs_to,
            started=context.time(run.event),
            start=start,
            allowed=run.body.minutes,
            used=run.event.at.minutes_to((ended or context.events[-1]).at),
            outcome=run.outcome,
            least=run.least,
            remarks=tuple(run.remarks),
            ended=context.time(ended) if ended else "",
            dropped=run.drops,
            failure=context.numbers.get(run.failure) if run.failure is not None else None,
            ref=context.ref(run.body.basis),
            withdrawn=not context.counts(run.event),
        )


# --- handlers -----------------------------------------------------------------------------------------------------


def started(area: AreaBuilder, event: Event, body: ev.ClockStarted) -> None:
    """A clock began to run."""
    title = area.clock_title(body.clock)
    rule = area.checklist.clock(body.clock)
    least = rule is not None and rule.bound == "at least"
    area.clocks.runs[event.seq] = Run(event, body, title, area.title(body.section, body.round), least)
    batch = area.batches.of_round((body.section, body.round))
    if batch is not None and not least:
        batch.clock = event.seq
    asked = f"at least {minutes(body.minutes)}" if least else f"{minutes(body.minutes)} allowed"
    area.add(event, "clock", f"Clock started: {title}", detail=asked, ref=area.context.ref(body.basis))


def stopped(area: AreaBuilder, event: Event, body: ev.ClockStopped) -> None:
    """What stops it was done: in time, long enough, or too early, and then it runs on."""
    run = area.clocks.runs.get(body.run)
    title, ran = area.clock_title(body.clock), minutes(body.minutes)
    if run is not None and area.context.counts(event):
        if body.runs_on:
            run.remarks.append(f"too early at {area.context.time(event)}, after {ran}")
        else:
            run.ended = event
            run.outcome = "long enough" if run.least else "not timed apart" if body.together else "stopped in time"
    verdict = None if body.verdict is None else outcome_of(body.verdict == "passed")
    told = f"Too early: {title}" if body.runs_on else f"Clock stopped: {title}"
    required = area.context.words.required_minutes(body.criterion) if body.criterion is not None else ""
    detail = f"after {ran}" if required or run is None else f"after {ran} of {minutes(run.body.minutes)}"
    if body.together and not (run is not None and run.least):
        detail = "began and ended in one breath: not timed apart, not judged"
    area.add(event, "clock", told, detail=detail + ("; it runs on" if body.runs_on else ""), criterion=required,
             verdict=verdict, ref=area.context.ref(body.criterion.basis) if body.criterion is not None else None,
             source=event.source)  # fmt: skip


def is_over(area: AreaBuilder, event: Event, body: ev.ClockUp) -> None:
    """A time that something had to wait for is over."""
    run = area.clocks.runs.get(body.run)
    if run is not None and area.context.counts(event) and run.ended is None:
        run.ended, run.outcome = event, "long enough"
    area.add(event, "clock", f"Time is over: {area.clock_title(body.clock)}", detail=minutes(body.minutes))


def gone_on_early(area: AreaBuilder, event: Event, body: ev.WentOnEarly) -> None:
    """Somebody did not wait for the end of a time."""
    context, run = area.context, area.clocks.runs.get(body.run)
    said = f"{minutes(body.left_minutes)} before it was over: {context.words(body.reason)}"
    if run is not None and context.counts(event):
        run.ended, run.outcome = event, "gone on early"
        run.remarks.append(f"gone on by {context.who(event)} {said}")
    where = area.place(body.section, body.round, body.step)
    area.add(event, "clock", f"GONE ON EARLY: {area.clock_title(body.clock)}", detail=f"{where}, {said}")


def called_late(area: AreaBuilder, event: Event, body: ev.CalledLate) -> None:
    """What stops it was done in time, as somebody says, and called late."""
    context, run = area.context, area.clocks.runs.get(body.run)
    said = f"called {minutes(body.minutes)} late by {context.who(event)}: {context.words(body.reason)}"
    if run is not None and context.counts(event):
        run.outcome = "called late"
        run.remarks.append(said)
    area.add(event, "clock", f"CALLED LATE: {area.clock_title(body.clock)}", detail=said)


def warned(area: AreaBuilder, event: Event, body: ev.ClockWarned) -> None:
    """It gave its warning; what was said for a start that was taken back counts as little as the start."""
    why = area.context.why(body.run)
    area.add(event, "clock", f"Warning given: {area.clock_title(body.clock)}",
             detail=f"{minutes(body.left_minutes)} left", withdrawn=bool(why), why_withdrawn=why)  # fmt: skip


def ran_out(area: AreaBuilder, event: Event, body: ev.ClockRanOut) -> None:
    """Time was up."""
    drops = tuple(dict.fromkeys(area.holder_title(place.section) for place in body.drops))
    run = area.clocks.runs.get(body.run)
    if run is not None:
        run.ended, run.outcome, run.drops = event, "ran out", drops
    detail = f"{minutes(body.minutes)} were allowed"
    if drops:
        detail += f"; steps that fell away: {', '.join(drops)}"
    area.add(event, "clock", f"Clock ran out: {area.clock_title(body.clock)}", detail=detail, verdict="failed")


HANDLERS: Mapping[type, Callable[..., None]] = {
    ev.ClockStarted: started,
    ev.ClockStopped: stopped,
    ev.ClockUp: is_over,
    ev.WentOnEarly: gone_on_early,
    ev.CalledLate: called_late,
    ev.ClockWarned: warned,
    ev.ClockRanOut: ran_out,
}
