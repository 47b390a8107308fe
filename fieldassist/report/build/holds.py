"""Hold points: who released each, how, and whether that person has answered for it by PIN."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import TYPE_CHECKING

from fieldassist.checklist import events as ev
from fieldassist.checklist.events import Event
from fieldassist.checklist.kinds import Hold
from fieldassist.checklist.state import Area
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


def earlier(builder: AreaBuilder, area: Area) -> Iterator[HoldLine]:
    """The releases of days before that go on with the area."""
    words = builder.context.words
    for seq, release in area.progress.releases.items():
        if seq > 0:
            continue
        name, step = words.person(release.name), builder.step(release.section, release.step)
        how = "by PIN" if release.how == "pin" else f"called in {name}'s name"
        if release.struck:
            how += f", STRUCK OUT by {name}"
        elif release.how != "pin":
            at = release.confirmed
            how += ", not confirmed" if at is None else f", confirmed by PIN at {words.time(at.wall)}"
        yield HoldLine(
            seq=seq,
            time=words.time(release.at.wall),
            name=f"{name}, deputy for {words.person(release.deputy_for)}" if release.deputy_for else name,
            role=release.role.value,
            how=f"{how}; on an earlier day",
            answered=not release.struck and not release.waits,
            what=words(step.ask) if step is not None else builder.step_name(release.section, release.step),
            ref=builder.context.ref(step.basis) if step is not None else None,
            withdrawn=False,
        )


HANDLERS: Mapping[type, Callable[..., None]] = {ev.HoldReleased: released}
