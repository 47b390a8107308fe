"""The facts of a day's photos: each that was kept, and what it shows, as far as the record tells."""

from __future__ import annotations

from collections.abc import Iterator

from fieldassist.checklist import events as ev
from fieldassist.checklist.standing import Standing
from fieldassist.checklist.state import Area, State
from fieldassist.facts import model
from fieldassist.facts.names import step_name
from fieldassist.facts.telling import Tell


def photo_facts(state: State, stands: Standing, told: Tell) -> Iterator[model.PhotoFact]:
    """The photos in the order in which they were kept, with those that were withdrawn since."""
    for event in stands.events:
        body = event.body
        if not isinstance(body, ev.PhotoAttached):
            continue
        area = state.areas.get(body.area)
        yield model.PhotoFact(
            file=body.file,
            sha256=body.sha256,
            copy_file=body.copy_file,
            copy_sha256=body.copy_sha256,
            area=body.area,
            section=body.section,
            round=body.round,
            step=body.step,
            name=_step_name(area, body, told),
            lift=_lift(area, body),
            answers=body.answers,
            withdrawn=not stands.counts(event),
            by=event.by,
            at=event.at.wall,
            event=event.seq,
        )


def _step_name(area: Area | None, body: ev.PhotoAttached, told: Tell) -> str:
    if area is None or not body.step:
        return ""
    return told(step_name(area, body.section, body.step)).text


def _lift(area: Area | None, body: ev.PhotoAttached) -> int | None:
    """The lift in whose round it was taken."""
    if area is None:
        return None
    at = (body.section, body.round)
    return next((lift.number for lift in area.progress.lifts.values() if (lift.section, lift.round) == at), None)
