"""Which page the place Work shows: the step, the lift whose values are asked, or the failed lift being cured."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from fieldassist.checklist.events import Event
from fieldassist.checklist.kinds import Choice, Reading
from fieldassist.checklist.prompt import Prompt
from fieldassist.checklist.state import State
from fieldassist.ui.content.failed_lift import failed_lift
from fieldassist.ui.content.lift_page import lift_at_hand

PageAtWork = Literal["work", "lift", "failed"]


def page_at_work(state: State, asked: Prompt, events: Sequence[Event]) -> PageAtWork:
    """The page. What must be answered first, such as a caution or who speaks, is always asked on the step's own."""
    area = state.area
    if area is None or state.closed or asked.caution is not None or state.speaker is None or area.task is None:
        return "work"
    if area.task.failure is not None:
        failed = failed_lift(area, tuple(events))
        return "failed" if failed is not None and failed.step is not None else "work"
    if lift_at_hand(area) is not None and isinstance(area.step, Reading | Choice):
        return "lift"
    return "work"
