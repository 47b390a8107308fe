"""What is still open, found once: screen, sign-off, daily log and the list of events all ask here."""

from __future__ import annotations

from fieldassist.checklist.kinds.reading import pending_reading
from fieldassist.checklist.state import Area, State
from fieldassist.checklist.told import exact
from fieldassist.trade.message import Figure, Message, message
from fieldassist.trade.quantities import Quantity


def uncured(area: Area) -> tuple[Message, ...]:
    """The failures of one area that were not cured."""
    return tuple(
        message("open-failure", area=area.plan.name, finding=failure.finding, failure=str(seq))
        for seq, failure in area.progress.failures.items()
    )


def unproven(area: Area) -> tuple[Message, ...]:
    """The releases of one area that nobody has answered for by PIN, and those that were struck out."""
    points = []
    for seq, release in area.progress.releases.items():
        if not release.waits and not release.struck:
            continue
        code = "open-release-struck" if release.struck else "open-release-called"
        step = area.checklist.step(release.section, release.step)
        told: dict[str, Figure] = {
            "area": area.plan.name,
            "hold": step.name,
            "name": release.name,
            "deputy": release.deputy_for or "no",
        }
        points.append(message(code, release=str(seq), **told))
    return tuple(points)


def not_in_time(area: Area) -> tuple[Message, ...]:
    """What was called late, and where was gone on before a time was over, each with who and why."""
    told = (("open-called-late", area.progress.late), ("open-went-on-early", area.progress.early))
    return tuple(
        Message(
            code,
            {
                "area": area.plan.name,
                "clock": clock.title if (clock := area.checklist.clock(one.clock)) is not None else one.clock,
                "name": one.by,
                "minutes": Quantity(exact(round(one.minutes, 1)), "min"),
                "reason": one.reason,
            },
        )
        for code, excused in told
        for one in excused
    )


def open_points(state: State) -> tuple[Message, ...]:
    """What is unfinished, worst first: failures that were not cured, releases that nobody answers for, what was not
    done in its time, a reading that waits for its yes, areas under way, areas that were not started."""
    points = [point for area in state.areas.values() for point in uncured(area)]
    points += [point for area in state.areas.values() for point in unproven(area)]
    points += [point for area in state.areas.values() for point in not_in_time(area)]
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
