"""The facts of backs that were measured on their photos."""

from __future__ import annotations

from fieldassist.checklist import events as ev
from fieldassist.checklist.standing import Standing
from fieldassist.facts import model
from fieldassist.facts.telling import Tell


def back_fact(
    stands: Standing, area: str, section: str, at_round: int, lifted: int, told: Tell
) -> model.BackFact | None:
    """What was measured last of the back of a lift or sample of an area, None where nothing was.

    lifted: the number of the event of its lift, or with which its sample began.
    """
    wanted = (area, section, at_round, lifted)
    found = None
    for event in stands.bodies(ev.BackMeasured):
        body = event.body
        if isinstance(body, ev.BackMeasured) and (body.area, body.section, body.round, body.lifted) == wanted:
            found = event, body.back
    if found is None:
        return None
    event, back = found
    measured = back.model_dump(mode="json", exclude={"cannot"})
    cannot = None if back.cannot is None else told(back.cannot)
    return model.BackFact(**measured, cannot=cannot, by=event.by, at=event.at.wall, event=event.seq)
