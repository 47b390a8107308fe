"""What the screen of a lifted test tile says, out of the day as it stands. Knows nothing of Kivy."""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction

from fieldassist.checklist import events as ev
from fieldassist.checklist.engine import why_due
from fieldassist.checklist.events import Event
from fieldassist.checklist.fields import canonical
from fieldassist.checklist.schema import Kind, Section, Step
from fieldassist.checklist.state import Area, Task
from fieldassist.trade.quantities import System, convert, format_quantity
from fieldassist.ui.back_grid import BackGrid, area_unit, cell_mm2, void_reading


def lift_section(area: Area) -> Section | None:
    """The section whose rounds are lifted test tiles, None where the checklist has none."""
    return next((section for section in area.checklist.sections if section.lift is not None), None)


def at_hand(area: Area) -> Section | None:
    """The section of the step at hand, where that is a lift's."""
    holder = area.holder
    return holder if isinstance(holder, Section) and holder.lift is not None else None


def lift_number(area: Area) -> int:
    """The number of the lift at hand: it counts once the tile is off."""
    step = area.step
    return area.progress.lifts + (1 if step is not None and step.kind is Kind.LIFT else 0)


def why_now(events: Sequence[Event], area: str, task: Task) -> str:
    """Why the lift at hand became due, as it was recorded when it did."""
    for event in reversed(events):
        body = event.body
        if isinstance(body, ev.SectionOpened) and (body.area, body.section, body.round) == (
            area,
            task.section,
            task.round,
        ):
            return body.reason
    return ""


def lifts_so_far(events: Sequence[Event], area: str) -> tuple[ev.LiftJudged, ...]:
    """The verdicts of an area that stand, in order: taking back an answer takes the verdict on it back too."""
    lifts: list[tuple[int, ev.LiftJudged]] = []
    for event in events:
        body = event.body
        if isinstance(body, ev.LiftJudged) and body.area == area:
            lifts.append((event.seq, body))
        elif isinstance(body, ev.Withdrawn) and body.area == area:
            lifts = [(seq, lift) for seq, lift in lifts if seq < body.target]
    return tuple(lift for _, lift in lifts)


def next_due(area: Area, system: System) -> str:
    """When the next test tile is due, in words."""
    section = lift_section(area)
    if section is None or section.due is None:
        return "This area's checklist lifts no test tile."
    if area.progress.phase == "finished":
        return "The area is finished: no more tiles are lifted here."
    every = section.due
    after = area.checklist.holder(every.after).title.lower()
    reason = why_due(area, section)
    if reason is not None:
        return f"Due once the next {after} is set: {reason}."
    parts = []
    if every.every is not None:
        limit, since = canonical(every.every), area.progress.since.get(section.id, 0.0)
        more = max(1, math.ceil((limit - since) / area.piece_area - 1e-9))
        parts.append(
            f"Due after {more} more {after}{'s' if more > 1 else ''}: {format_quantity(since, 'm2', system)} of "
            f"{format_quantity(limit, 'm2', system)} are set since the last lift."
        )
    if every.changes:
        parts.append(f"Due at once after a change of {' or '.join(every.changes)}.")
    return " ".join(parts)


def good_lifts(area: Area) -> tuple[str, str]:
    """How many good lifts there are and how many are needed, and the basis of that."""
    least, basis = area.lifts_needed
    return f"Good lifts: {area.progress.lifts_passed}, at least {least} needed.", basis


def told_lift(lift: ev.LiftJudged) -> str:
    """A lift in a line."""
    label = f" ({lift.label})" if lift.label else ""
    verdict = "passes" if lift.passed else "FAILS"
    return f"Lift {lift.lift} · tile {lift.tile}{label} · {format_quantity(lift.coverage, 'percent')} · {verdict}"


# --- what the grid of the back says -------------------------------------------------------------------------------


def unit_of(step: Step, *, us: bool) -> str:
    """In which of its units a reading is shown, unless somebody picks another."""
    return area_unit(step.units, us=us) if step.measures == "largest void" else step.units[0]


def required(area: Area, step: Step, *, us: bool) -> str:
    """What a reading must come to, "" where nothing is required."""
    criterion = area.criterion(step)
    return f"Required: {criterion.text(unit_of(step, us=us))}" if criterion is not None else ""


def figure(grid: BackGrid, area: Area, section: Section, step: Step, *, us: bool) -> tuple[Fraction, str]:
    """What the grid answers to a reading of the lift: the value and its unit."""
    if step.measures == "largest void":
        return _void(grid, area, section, us=us)
    return grid.percent, "percent"


def told_grid(grid: BackGrid, area: Area, section: Section, step: Step, *, us: bool) -> tuple[str, str]:
    """What the grid says to the step at hand, in a few words, and what else it says, in lines."""
    void, unit = _void(grid, area, section, us=us)
    percent, largest = format_quantity(float(grid.percent), "percent"), format_quantity(float(void), unit)
    full = "Full: {} of {} corners, {} of {} edge cells".format(*grid.corners, *grid.edges)
    if step.measures == "coverage":
        return f"about {percent}", f"Largest void: {largest}\n{full}"
    if step.measures == "largest void":
        return f"about {largest}", f"Covered: {percent}\n{full}"
    return "all full" if grid.edges_full else "not all full", f"{full}\nCovered: {percent}\nLargest void: {largest}"


def how_near(area: Area, section: Section, step: Step, *, us: bool) -> str:
    """How far the grid can be trusted, for the step at hand."""
    cell, unit = cell_mm2(area.plan.piece), _void_unit(section, us=us)
    told = format_quantity(float(void_reading(cell, unit)), unit)
    text = f"The grid is an estimate: a cell is 1 % of the back ({told}); a void is rounded to whole and half cells."
    limit = area.criterion(step) if step.measures == "largest void" else None
    if limit is not None and limit.at_most is not None and convert(limit.at_most, limit.unit, "mm2") < cell:
        text += f" {limit.text(unit).capitalize()} is less than a cell: measure a small void and give its number."
    return text


def _void(grid: BackGrid, area: Area, section: Section, *, us: bool) -> tuple[Fraction, str]:
    unit = _void_unit(section, us=us)
    return void_reading(grid.largest_void * cell_mm2(area.plan.piece), unit), unit


def _void_unit(section: Section, *, us: bool) -> str:
    """The void's own unit, and where the checklist does not ask for a void, what it would be."""
    units = next((step.units for step in section.steps if step.measures == "largest void"), ("cm2", "in2"))
    return area_unit(units, us=us)
