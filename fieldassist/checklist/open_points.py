"""What is still open, found once: screen, sign-off, daily log and the list of events all ask here."""

from __future__ import annotations

from fieldassist.checklist.kinds.reading import pending_reading
from fieldassist.checklist.state import Area, State
from fieldassist.trade.message import Message, message


def uncured(area: Area) -> tuple[Message, ...]:
    """The failures of one area that were not cured."""
    return tuple(
        message("open-failure", area=area.plan.name, finding=failure.finding, failure=str(seq))
        for seq, failure in area.progress.failures.items()
    )


def open_points(state: State) -> tuple[Message, ...]:
    """What is unfinished, worst first: failures that were not cured, a reading that waits for its yes, areas under way,
    areas that were not started."""
    points = [point for area in state.areas.values() for point in uncured(area)]
    if state.pending is not None:
        step, reading = pending_reading(state, state.pending)
        points.append(message("open-reading", area=state.pending.area, name=step, reading=reading))
    for name, area in state.areas.items():
        if area.progress.phase == "finished":
            continue
        if area.step is not None:
            points.append(message("open-area", area=name, ask=area.step.ask))
        else:
            points.append(message("open-area-between", area=name))
    planned = state.plan.areas if state.plan else ()
    points += [message("open-not-started", area=a.name) for a in planned if a.name not in state.areas]
    return tuple(points)
