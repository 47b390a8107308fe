"""What steps and options are called in the checklist of an area."""

from __future__ import annotations

from typing import Any

from fieldassist.checklist.state import Area
from fieldassist.trade.message import Figure


def step_name(area: Area, section: str, step: str) -> Figure:
    """A step by its name, by its id where the checklist has no such step."""
    try:
        return area.checklist.step(section, step).name
    except KeyError:
        return step


def option_label(area: Area, chosen: Any) -> Figure:
    """What was chosen at a step, in the words of its option. chosen: an event's body with `step` and `option`."""
    step: Any = area.checklist.step(chosen.section, chosen.step)
    found: Figure | None = next((one.label for one in step.options if one.id == chosen.option), None)
    return str(chosen.option) if found is None else found
