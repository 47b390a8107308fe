"""Why an open point stands: the foreman says so. And what is asked as soon as something contradicts itself."""

from __future__ import annotations

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist.contradictions import contradictions, surface_set
from fieldassist.checklist.draft import Draft, how_to_be
from fieldassist.checklist.open_points import OpenPoint, open_points
from fieldassist.checklist.plan import Role
from fieldassist.checklist.state import Area, State
from fieldassist.trade.message import Message, Text, message, term


def answer_point(draft: Draft, command: cmd.AnswerPoint) -> None:
    """The foreman says why a point stands. It stays on the page, and holds nothing up any more."""
    point = answerable_point(draft, command.point, command.value)
    answer: Message | Text
    if command.ready is not None:
        answer = term("open-ready", command.ready)
    elif command.words is not None:
        answer = Text.plain(command.words)
    else:
        raise draft.refusal("engine-answer-wanted", point=point.told)
    draft.emit(
        ev.PointAnswered(point=point.id, told=point.told, answer=answer, audio=command.audio, sha256=command.sha256)
    )
    draft.say(message("engine-point-answered", point=point.told, answer=answer))


def answerable_point(draft: Draft, point_id: str | None, number: object) -> OpenPoint:
    """The point with this id, or of this number in the list; refused where the foreman does not speak, where there is
    none, or where only work can close it."""
    state = draft.state
    if state.speaker is None or state.speaker.role is not Role.FOREMAN:
        raise draft.refusal("engine-foreman-answers", who=how_to_be(state, Role.FOREMAN))
    points = open_points(state)
    found = next((p for at, p in enumerate(points, 1) if p.id == point_id or (point_id is None and at == number)), None)
    if found is None:
        raise draft.refusal("engine-no-point", point=point_id or str(number or ""), count=len(points))
    if not found.answerable:
        raise draft.refusal("engine-point-needs-work", point=found.told)
    return found


def held_for_surface(draft: Draft, area: Area) -> bool:
    """Whether the surface set keeps an area from being finished; then that was asked, and is an open point."""
    found = surface_set(area)
    if found is None or found.id in draft.state.answers:
        return False
    draft.emit(ev.FinishHeld(area=area.plan.name, point=found.told))
    return True


def ask_at_once(draft: Draft, before: State) -> None:
    """Say what contradicts itself since the command began."""
    known = {found.id for found in contradictions(before)}
    for found in contradictions(draft.state):
        if found.id not in known or (found.id not in draft.state.answers and _held_again(draft, found.told)):
            draft.say(message("engine-contradiction", point=found.told))


def _held_again(draft: Draft, told: Message) -> bool:
    return any(isinstance(event.body, ev.FinishHeld) and event.body.point == told for event in draft.events)
