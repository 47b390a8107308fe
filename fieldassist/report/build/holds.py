"""Hold points: who released each, how, and whether that person has answered for it by PIN."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from fieldassist.checklist import events as ev
from fieldassist.checklist.events import Event
from fieldassist.checklist.kinds import Hold
from fieldassist.report.build.context import Context
from fieldassist.report.report_model import HoldLine

if TYPE_CHECKING:
    from fieldassist.report.build.area import AreaBuilder


def released(area: AreaBuilder, event: Event, body: ev.HoldReleased) -> None:
    """A hold point was released."""
    context = area.context
    how, answered = in_words(context, event, body)
    line = area.add_answer(event, body, "hold", reading="released", detail=how)
    step = area.step(body.section, body.step)
    area.holds.append(
        HoldLine(
            seq=event.seq,
            time=line.time,
            name=_name(context, body),
            role=body.role.value,
            how=how,
            answered=answered,
            what=context.words(step.ask) if isinstance(step, Hold) else line.what,
            ref=line.ref,
            withdrawn=line.withdrawn,
        )
    )


def _name(context: Context, body: ev.HoldReleased) -> str:
    name = context.words.person(body.name)
    return f"{name}, deputy for {context.words.person(body.deputy_for)}" if body.deputy_for else name


def in_words(context: Context, event: Event, body: ev.HoldReleased) -> tuple[str, bool]:
    """How a hold point was released, and whether the person's PIN stands behind it."""
    if body.how == "pin":
        fault = context.pin_fault(event.seq)
        return (f"by PIN, but {fault}", False) if fault else ("by PIN", True)
    name = context.words.person(body.name)
    by = "" if event.by == body.name else f" by {context.words.person(event.by)}"
    called = f"called in {name}'s name{by}"
    answer = context.release_answers.get(event.seq)
    if answer is None:
        return f"{called}, not confirmed", False
    time = context.time(answer)
    if isinstance(answer.body, ev.ReleaseStruck):
        return f"{called}, STRUCK OUT by {name} at {time}", False
    fault = context.pin_fault(answer.seq)
    if fault:
        return f"{called}, confirmed at {time}, but {fault}", False
    return f"{called}, confirmed by PIN at {time}", True


HANDLERS: Mapping[type, Callable[..., None]] = {ev.HoldReleased: released}
