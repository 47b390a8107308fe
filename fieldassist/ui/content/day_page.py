"""What the page of the day shows: where each area stands, who sets, what goes on. Nothing is decided here."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from fieldassist.checklist import trying
from fieldassist.checklist.plan import AreaPlan, Person
from fieldassist.checklist.state import Area, State
from fieldassist.trade.message import Message, message
from fieldassist.ui.content.wall_map import WallMap, whole_scale
from fieldassist.ui.content.wall_page import map_of

Next = Literal["start", "go on", "sign", "signed"]


@dataclass(frozen=True, slots=True)
class AreaCard:
    """An area beside the others. wall: as it is drawn; state: in a few words; here: the one that is worked at."""

    plan: AreaPlan
    wall: WallMap
    state: Message
    here: bool
    begun: bool


def area_cards(state: State) -> tuple[AreaCard, ...]:
    """Every area of the plan, in its order."""
    plan = state.plan
    return tuple(_card(state, planned) for planned in plan.areas) if plan is not None else ()


def _card(state: State, planned: AreaPlan) -> AreaCard:
    area = state.areas.get(planned.name)
    wall = map_of(state, planned)
    told = _stands(area, wall) if planned.trial is None else tried_told(state, planned)
    return AreaCard(planned, wall, told, state.active == planned.name, area is not None)


def trials_of(state: State) -> tuple[tuple[AreaPlan, Message], ...]:
    """The areas in which methods are tried, each with how far it is."""
    return tuple((card.plan, card.state) for card in area_cards(state) if card.plan.trial is not None)


def tried_told(state: State, planned: AreaPlan) -> Message:
    """How far a trial is."""
    area = state.areas.get(planned.name)
    assert planned.trial is not None
    if area is None:
        return message("mockup-waits", samples=len(planned.trial.combinations) * planned.trial.repeats)
    closed = "yes" if area.progress.phase == "finished" else "no"
    return message("mockup-under-way", done=str(trying.made(area)), of=str(trying.planned(area)), closed=closed)


def _stands(area: Area | None, wall: WallMap) -> Message:
    if area is None:
        return message("site-area-waits", pieces=wall.planned)
    done, of = str(wall.on_wall), str(wall.planned)
    if area.progress.phase == "finished":
        return message("site-area-closed", done=done, of=of)
    suspect = len(wall.numbers("suspect"))
    failed = len(wall.numbers("lifted failed"))
    return message("site-area-under-way", done=done, of=of, suspect=suspect, failed=failed)


def drawn_at(walls: Sequence[WallMap], box_mm: tuple[float, float]) -> int:
    """1 : n at which all of them go into boxes on the glass [mm]: 100, or the next ten that does."""
    needed = max((whole_scale(wall.width, wall.height, box_mm) for wall in walls), default=0)
    return max(100, -(-needed // 10) * 10)


def who_sets(state: State) -> frozenset[str]:
    """Everybody who sets in an area that is under way."""
    return frozenset(a.setter for a in state.areas.values() if a.setter and a.progress.phase != "finished")


def doing(state: State, person: Person) -> Message:
    """What somebody is there for, in a word."""
    return message("site-person", role=person.role.value, sets="yes" if person.name in who_sets(state) else "no")


@dataclass(frozen=True, slots=True)
class DayNext:
    """What the big key of the day does. area: where."""

    what: Next
    area: str = ""

    @property
    def told(self) -> Message:
        """What stands on it."""
        return message("site-next", what=self.what.replace(" ", "-"), area=self.area)


def day_next(state: State) -> DayNext:
    """Where the work goes on: at the area under way, at the first that is not finished, or at the signature."""
    if state.closed:
        return DayNext("signed")
    plan = state.plan
    names = [area.name for area in plan.areas] if plan is not None else []
    order = [name for name in (state.active, *names) if name is not None]
    for name in order:
        area = state.areas.get(name)
        if area is not None and area.progress.phase != "finished":
            return DayNext("go on", name)
    waits = next((name for name in names if name not in state.areas), None)
    return DayNext("sign") if waits is None else DayNext("start", waits)


_WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")


def date_told(day: str) -> Message:
    """A date as it is said: "Thursday 14 May"."""
    try:
        on = date.fromisoformat(day)
    except ValueError:
        return message("site-date", weekday="none", day=day, month="none")
    return message("site-date", weekday=_WEEKDAYS[on.weekday()], day=str(on.day), month=_MONTHS[on.month - 1])
