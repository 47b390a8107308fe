"""What the wall's page says beside the drawing: how far the area is, what is suspect, what comes next."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from fieldassist.checklist import covering
from fieldassist.checklist.events import DaySigned, Event
from fieldassist.checklist.plan import AreaPlan
from fieldassist.checklist.state import State
from fieldassist.trade.message import Message, Several, message
from fieldassist.trade.quantities import Quantity
from fieldassist.ui.content.wall_map import WallMap, planned_map, wall_map

# Where the key of what comes next leads.
NextStep = Literal["lift", "work", "start", "day", "none"]
# So many other areas have their wall beside the large one; further ones lie on the day's page.
OTHER_WALLS = 2


@dataclass(frozen=True, slots=True)
class WhatNext:
    """The key that goes on: what it says, and where it leads; piece: whose lift it is, 0 for none."""

    told: Message
    leads: NextStep
    piece: int = 0


def area_on_wall(state: State, chosen: str | None = None) -> AreaPlan | None:
    """The area whose wall is shown: the one that was chosen, else that is worked on, else the first of the plan."""
    if state.plan is None:
        return None
    for name in (chosen, state.active):
        found = state.plan.area(name) if name is not None else None
        if found is not None:
            return state.areas[found.name].plan if found.name in state.areas else found
    return state.plan.areas[0]


def map_of(state: State, plan: AreaPlan) -> WallMap:
    """An area as it lies on the wall, begun or not."""
    area = state.areas.get(plan.name)
    return wall_map(area) if area is not None else planned_map(plan)


def other_areas(state: State, shown: str) -> tuple[tuple[AreaPlan, ...], int]:
    """The areas whose walls stand beside the one that is shown, and how many there are besides."""
    if state.plan is None:
        return (), 0
    others = tuple(area for area in state.plan.areas if area.name != shown)
    if len(others) <= OTHER_WALLS:
        return others, 0
    return others[: OTHER_WALLS - 1], len(others) - OTHER_WALLS + 1


def surface_told(on: WallMap) -> Message:
    """How much of the surface is set."""
    return message("wall-surface", done=_m2(on.set_m2), of=_m2(on.planned_m2))


def _m2(value: float) -> Quantity:
    return Quantity(Fraction(repr(round(value, 6))), "m2", decimals=1)


def suspects_told(on: WallMap) -> tuple[Message, ...]:
    """What holds up the area's end, a line each: suspect pieces, and failed ones in place."""
    lines = (("wall-suspect", on.numbers("suspect")), ("wall-failed", on.numbers("lifted failed")))
    return tuple(Message(code, {"numbers": Several(tuple(map(str, numbers)))}) for code, numbers in lines if numbers)


def signed_at(events: Sequence[Event]) -> str:
    """When the day was signed last (wall time), "" where it was not."""
    return next((event.at.wall[11:16] for event in reversed(events) if isinstance(event.body, DaySigned)), "")


def what_next(state: State, shown: AreaPlan | None, signed: str = "") -> WhatNext:
    """What the page's key does: a lift that is due, else on to work; to another area where that is shown.

    signed: when the day was signed, where it is closed.
    """
    if state.plan is None or shown is None:
        return WhatNext(message("wall-next-day"), "day")
    if state.closed:
        return WhatNext(message("wall-signed", at=signed), "none")
    area = state.areas.get(shown.name)
    if area is not None and area.progress.phase == "finished":
        return WhatNext(message("wall-next-day"), "day")
    if shown.name != state.active:
        return WhatNext(message("wall-next-start", area=shown.name, begun="no" if area is None else "yes"), "start")
    assert area is not None  # the active one is under way
    lift = next(iter(covering.waiting_lifts(area)), None)
    if area.aimed is not None:
        lift = area.aimed.tile
    if lift is not None:
        return WhatNext(message("wall-next-lift", number=str(lift)), "lift", lift)
    return WhatNext(message("wall-next-work"), "work")
