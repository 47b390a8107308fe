"""What the screen of a lifted test tile says, out of the day as it stands."""

from __future__ import annotations

from collections.abc import Sequence

from fieldassist.assess.tiles import next_test_tile
from fieldassist.checklist import events as ev
from fieldassist.checklist import proven
from fieldassist.checklist.events import Event
from fieldassist.checklist.kinds import Lift, Reading, Step
from fieldassist.checklist.schema import Section
from fieldassist.checklist.standing import standing
from fieldassist.checklist.state import Area
from fieldassist.language import Words
from fieldassist.trade.message import Figure
from fieldassist.trade.quantities import Quantity, convert
from fieldassist.ui.content.back_grid import BackGrid, area_unit, cell_mm2, void_reading

_VOID_UNITS = ("cm2", "in2")


def lift_section(area: Area) -> Section | None:
    """The section whose rounds are lifted test tiles, None where the checklist has none."""
    return next((section for section in area.checklist.sections if section.lift is not None), None)


def current_lift(area: Area) -> Section | None:
    """The section of the current step, where that is a lift's."""
    holder = area.holder
    return holder if isinstance(holder, Section) and holder.lift is not None else None


def lift_number(area: Area) -> int:
    """The number of the current lift: it counts once the tile is off."""
    return len(area.progress.lifts) + isinstance(area.step, Lift)


def why_now(area: Area) -> Figure | None:
    """How the current lift came about."""
    return proven.how_it_came(area.aimed.came) if area.aimed is not None else None


def lifts_so_far(events: Sequence[Event], area: str) -> tuple[ev.LiftJudged, ...]:
    """The verdicts of an area that still count, in order."""
    bodies = (event.body for event in standing(events).lifts)
    return tuple(body for body in bodies if isinstance(body, ev.LiftJudged) and body.area == area)


def next_due(area: Area, words: Words) -> str:
    """When the next test tile is due, in words."""
    return words(next_test_tile(area).told)


def good_lifts(area: Area, words: Words) -> tuple[str, str]:
    """How many good lifts there are and how many are needed, and the basis of that."""
    least, basis = area.lifts_needed
    told = "" if basis is None else words(basis)
    return f"Good lifts: {area.progress.good_tiles}, at least {least} needed.", told


_VERDICTS = {"passed": "passes", "failed": "FAILS", "not complete": "NOT COMPLETE"}


def verdict_words(lift: ev.LiftJudged) -> str:
    """A lift and what became of it."""
    return f"Lift {lift.lift} {_VERDICTS[lift.verdict]}"


def told_lift(lift: ev.LiftJudged, words: Words) -> str:
    """A lift in a line."""
    label = f" ({lift.label})" if lift.label else ""
    covered = words(Quantity(lift.coverage, "percent"))
    return f"Lift {lift.lift} · tile {lift.tile}{label} · {covered} · {_VERDICTS[lift.verdict]}"


# --- what the grid of the back says -------------------------------------------------------------------------------


def unit_of(step: Step, words: Words) -> str:
    """In which of its units a reading is shown, unless somebody picks another."""
    if not isinstance(step, Reading) or not step.units:
        return "count"
    return area_unit(step.units, us=words.units == "us") if step.measures == "largest void" else step.units[0]


def required(area: Area, step: Step, words: Words) -> str:
    """What a reading must come to, "" where nothing is required."""
    criterion = area.criterion(step)
    return f"Required: {words(criterion.told)}" if criterion is not None else ""


def figure(grid: BackGrid, area: Area, section: Section, step: Step, words: Words) -> Quantity:
    """What the grid answers to a reading of the lift."""
    if step.measures == "largest void":
        return _void(grid, area, section, words)
    return Quantity(grid.percent, "percent")


def on_grid(step: Step) -> bool:
    """Whether the grid answers a question about the lift: not how thick its mortar is."""
    return step.measures != "bed"


def full_on(grid: BackGrid, section: Section, step: Step) -> bool:
    """Whether the grid is full where a question asks: at the corners alone where the edges are asked about apart."""
    apart = any(other.measures == "edges" for other in section.steps)
    return grid.corners_full if step.measures == "corners" and apart else grid.edges_full


def told_grid(grid: BackGrid, area: Area, section: Section, step: Step, words: Words) -> tuple[str, str]:
    """What the grid says to the current step, in a few words, and what else it says, in lines."""
    percent, largest = words(Quantity(grid.percent, "percent")), words(_void(grid, area, section, words))
    full = "Full: {} of {} corners, {} of {} edge cells".format(*grid.corners, *grid.edges)
    if step.measures == "coverage":
        return f"about {percent}", f"Largest void: {largest}\n{full}"
    if step.measures == "largest void":
        return f"about {largest}", f"Covered: {percent}\n{full}"
    answer = "all full" if full_on(grid, section, step) else "not all full"
    return answer, f"{full}\nCovered: {percent}\nLargest void: {largest}"


def how_near(area: Area, section: Section, step: Step, words: Words) -> str:
    """How far the grid can be trusted, for the current step."""
    cell, unit = cell_mm2(area.plan.piece), _void_unit(section, words)
    told = words(Quantity(void_reading(cell, unit), unit))
    text = f"The grid is an estimate: a cell is 1 % of the back ({told}); a void is rounded to whole and half cells."
    limit = area.criterion(step) if step.measures == "largest void" else None
    if limit is not None and limit.at_most is not None and convert(limit.at_most, limit.unit, "mm2") < cell:
        required = words(limit.told)
        text += f" {required[:1].upper()}{required[1:]} is less than a cell: measure a small void and give its number."
    return text


def _void(grid: BackGrid, area: Area, section: Section, words: Words) -> Quantity:
    unit = _void_unit(section, words)
    return Quantity(void_reading(grid.largest_void * cell_mm2(area.plan.piece), unit), unit)


def _void_unit(section: Section, words: Words) -> str:
    """The void's own unit, and where the checklist does not ask for a void, what it would be."""
    asked = next((s for s in section.steps if isinstance(s, Reading) and s.measures == "largest void"), None)
    return area_unit(asked.units if asked is not None else _VOID_UNITS, us=words.units == "us")
