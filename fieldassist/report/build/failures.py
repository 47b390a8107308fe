"""Non-conformances: what failed, what was done about it, what showed the cure."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from fieldassist.checklist import events as ev
from fieldassist.checklist.events import Event
from fieldassist.report.build.context import Context
from fieldassist.report.build.words import capital
from fieldassist.report.report_model import FailureReport, SequenceLine

if TYPE_CHECKING:
    from fieldassist.report.build.area import AreaBuilder


@dataclass
class OpenFailure:
    """A non-conformance while its events are read. place: where it was found; corrective: the title of its cure."""

    event: Event
    body: ev.FailureOpened
    place: str
    corrective: str
    steps: list[SequenceLine] = field(default_factory=list)
    checks: list[SequenceLine] = field(default_factory=list)
    tightened: int = 0
    closed: Event | None = None


class Failures:
    """The non-conformances of an area, by the number of the event that opened each."""

    def __init__(self, context: Context) -> None:
        self._context = context
        self.all: dict[int, OpenFailure] = {}

    def required(self, body: ev.FailureOpened) -> tuple[str, int | None]:
        """What was required, in words, and the number of its basis."""
        context = self._context
        if body.criterion is None:
            asked = context.words(body.asked) if body.asked is not None else ""
            return asked, context.ref(body.basis)
        return context.words.required(body.finding, body.criterion), context.ref(body.basis or body.criterion.basis)

    def told(self) -> tuple[FailureReport, ...]:
        """All of them."""
        return tuple(self._report(failure) for failure in self.all.values())

    def _report(self, failure: OpenFailure) -> FailureReport:
        context, body, closed = self._context, failure.body, failure.closed
        criterion, ref = self.required(body)
        shown_by = closed.body.shown_by if closed is not None and isinstance(closed.body, ev.FailureClosed) else None
        return FailureReport(
            seq=failure.event.seq,
            number=context.numbers.get(failure.event.seq),
            time=context.time(failure.event),
            who=context.who(failure.event),
            place=failure.place,
            finding=context.words.finding(body.finding, body.criterion),
            criterion=criterion,
            ref=ref,
            corrective=failure.corrective,
            steps=tuple(failure.steps),
            checks=tuple(failure.checks),
            tightened=failure.tightened,
            closed=context.time(closed) if closed else "",
            closed_seq=closed.seq if closed else 0,
            cure=failure.corrective if closed else "",
            shown_by=context.words(shown_by) if shown_by is not None else "",
            withdrawn=not context.counts(failure.event),
        )


# --- handlers -----------------------------------------------------------------------------------------------------


def opened(area: AreaBuilder, event: Event, body: ev.FailureOpened) -> None:
    """Something failed."""
    context = area.context
    place = area.title(body.section, body.round)
    step = area.step(body.section, body.step)
    # A clock's failure names the first step of its cure, which is not where it was found.
    if step is not None:
        place = f"{place}, {context.words(step.name)}"
    area.failures.all[event.seq] = OpenFailure(event, body, place, area.holder_title(body.corrective))
    area.clocks.failed(event, body.run)
    criterion, ref = area.failures.required(body)
    if body.criterion is None:
        # What was asked is too long for a column; it stands with the failure.
        criterion = ""
    what = f"{capital(context.failure_name(event.seq))} opened"
    area.add(
        event, "failure", what, detail=context.words.finding(body.finding, body.criterion), criterion=criterion, ref=ref
    )


def closed(area: AreaBuilder, event: Event, body: ev.FailureClosed) -> None:
    """It was cured."""
    context = area.context
    if body.failure in area.failures.all and context.counts(event):
        area.failures.all[body.failure].closed = event
    detail = f"{area.holder_title(body.corrective)}; shown by: {context.words(body.shown_by)}"
    area.add(event, "failure", f"{capital(context.failure_name(body.failure))} cured", detail=detail)


def still_failing(area: AreaBuilder, event: Event, body: ev.StillFailing) -> None:
    """The check after its cure failed again."""
    failure = area.failures.all.get(body.failure)
    detail = area.context.words.finding(body.finding, failure.body.criterion if failure is not None else None)
    area.add(event, "failure", f"{capital(area.context.failure_name(body.failure))} stays open", detail=detail)


def step_reopened(area: AreaBuilder, _: Event, body: ev.StepReopened) -> None:
    """What is answered at this step from here on checks the failure again."""
    area.rechecks[(body.section, body.round, body.step)] = body.failure


def tightened(area: AreaBuilder, event: Event, body: ev.InspectionTightened) -> None:
    """The next lifts follow every tile."""
    if body.failure in area.failures.all and area.context.counts(event):
        area.failures.all[body.failure].tightened = body.lifts
    detail = f"a lift after every tile until {body.lifts} more have passed"
    area.add(event, "change", "Inspection tightened", detail=detail)


HANDLERS: Mapping[type, Callable[..., None]] = {
    ev.FailureOpened: opened,
    ev.FailureClosed: closed,
    ev.StillFailing: still_failing,
    ev.StepReopened: step_reopened,
    ev.InspectionTightened: tightened,
}
