"""A small wall that can be set in a few words, and believed or not."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from fieldassist.checklist.loader import load_checklist, load_plan
from fieldassist.checklist.open_points import OpenPoint, open_points
from fieldassist.checklist.plan import DayPlan
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.session import Day
from tests import SITE
from tests.conftest import Crew

# Points that say only that work is left.
_LEFT = ("open-area", "open-area-between", "open-not-started")


class Believed(Crew):
    """A crew at a wall of six tiles of 0.72 m2 in two rows, with a bed whose bags can be reckoned."""

    @property
    def points(self) -> dict[str, OpenPoint]:
        """What is open but for the work that is left, by code."""
        found = (point for point in open_points(self.day.state) if point.told.code not in _LEFT)
        return {point.told.code: point for point in found}

    def batch(self, minutes: int = 8, said: str = "eight") -> None:
        self.say("new batch", "batch mixed")
        self.clock.advance(minutes)
        self.say(f"slaked {said} minutes!")

    def tile(self, minutes: float = 5) -> None:
        """One tile that took so long."""
        self.say("next tile")
        self.clock.advance(minutes)
        self.say("tile set", "slid twelve millimeters!", "beaten in")

    def lifts_due(self) -> None:
        """The lifts that are due, each good."""
        while self.step == "lifted":
            self.say("tile lifted", "coverage ninety seven percent!", "void six square centimeters!", "corners full")

    def finish(self, bags: str = "two") -> None:
        """The end of the area, with the ends of its runs lifted first."""
        self.say("finish area")
        self.lifts_due()
        self.say("finish area", f"{bags} bags used!")

    def lift(
        self, percent: str = "ninety seven", void: str = "six square centimeters", corners: str = "corners full"
    ) -> Any:
        self.say("lift a tile", "tile lifted", f"coverage {percent} percent!")
        said = self.say(f"void {void}!")
        self.say(corners)
        return said


def plan_of_a_wall(**changes: Any) -> DayPlan:
    """The site with one wall of six tiles; changes of the area."""
    given = load_plan(SITE).model_dump(mode="json")
    area = {**given["areas"][0], "name": "north wall", "checklist": "believed-wall", "size": "4.32 m2"}
    area |= {"grid": {"rows": 2, "columns": 3}} | changes
    return DayPlan.model_validate({**given, "areas": [area]})


@contextmanager
def believed(tmp_path: Path, clock: SimulatedClock, **changes: Any) -> Iterator[Believed]:
    """A day at the wall, begun."""
    mine = load_checklist(Path(__file__).parent / "believed-wall.yaml")
    with Day.begin(tmp_path / "wall.db", plan_of_a_wall(**changes), {mine.checklist: mine}, clock) as day:
        crew = Believed(day, clock)
        crew.say("this is rosa", "start area north wall")
        yield crew
