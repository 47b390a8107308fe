"""Clocks: when each was started, and how it ended."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from fieldassist.checklist import events as ev
from fieldassist.checklist.events import Event
from fieldassist.report.build.context import Context
from fieldassist.report.build.words import minutes
from fieldassist.report.report_model import ClockLine

if TYPE_CHECKING:
    from fieldassist.report.build.area import AreaBuilder


@dataclass
class Run:
    """A run of a clock while its events are read."""

    event: Event
    body: ev.ClockStarted
    title: str
    belongs_to: str
    ended: Event | None = None
    drops: tuple[str, ...] = ()
    ran_out: bool = False
    failure: int | None = None


class Clocks:
    """The clocks of an area, by the number of the event that started each."""

    def __init__(self, context: Context) -> None:
        self._context = context
        self.runs: dict[int, Run] = {}

    def failed(self, opened: Event) -> None:
        """A clock's own failure follows its running out in the same breath."""
        for run in reversed(self.runs.values()):
            if run.ran_out and run.ended is not None and run.ended.seq == opened.seq - 1:
                run.failure = opened.seq

    def told(self, since_start: Callable[[Event], float]) -> tuple[ClockLine, ...]:
        """All of them. since_start: minutes from the area's first event to another."""
        return tuple(self._line(run, since_start(run.event)) for run in self.runs.values())

    def _line(self, run: Run, start: float) -> ClockLine:
        context = self._context
        ended = run.ended
        outcome: Literal["stopped in time", "ran out", "still running"] = "still running"
        if run.ran_out:
            outcome = "ran out"
        elif ended is not None:
            outcome = "stopped in time"
        return ClockLine(
            run=run.event.seq,
            title=run.title,
            belongs_to=run.belongs_to,
            started=context.time(run.event),
            start=start,
            allowed=run.body.minutes,
            used=run.event.at.minutes_to((ended or context.events[-1]).at),
            outcome=outcome,
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
    area.clocks.runs[event.seq] = Run(event, body, title, area.title(body.section, body.round))
    batch = area.batches.of_round((body.section, body.round))
    if batch is not None:
        batch.clock = event.seq
    area.add(event, "clock", f"Clock started: {title}", detail=f"{minutes(body.minutes)} allowed",
             ref=area.context.ref(body.basis))  # fmt: skip


def stopped(area: AreaBuilder, event: Event, body: ev.ClockStopped) -> None:
    """It was stopped in time."""
    run = area.clocks.runs.get(body.run)
    if run is None:
        return
    if area.context.counts(event):
        run.ended = event
    used = run.event.at.minutes_to(event.at)
    detail = f"after {minutes(used)} of {minutes(run.body.minutes)}"
    area.add(event, "clock", f"Clock stopped: {run.title}", detail=detail)


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
        run.ended, run.ran_out, run.drops = event, True, drops
    detail = f"{minutes(body.minutes)} were allowed"
    if drops:
        detail += f"; steps that fell away: {', '.join(drops)}"
    area.add(event, "clock", f"Clock ran out: {area.clock_title(body.clock)}", detail=detail, verdict="failed")


HANDLERS: Mapping[type, Callable[..., None]] = {
    ev.ClockStarted: started,
    ev.ClockStopped: stopped,
    ev.ClockWarned: warned,
    ev.ClockRanOut: ran_out,
}
