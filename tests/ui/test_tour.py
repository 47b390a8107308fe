"""Practice is a tour: a day at the invented site that has come as far as its next tile, and four things to do."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from fieldassist.checklist.covering import to_be_lifted
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.ear import Fate, act, interpret_text
from fieldassist.day.session import Day
from fieldassist.ui.content.tour import STEPS, begin_practice, tour_of
from tests.ui.conftest import shipped_checklists


def _say(day: Day, clock: SimulatedClock, *lines: str) -> None:
    for line in lines:
        clock.advance(0.2)
        assert act(day, interpret_text(line, day.prompt.offers, day.trial())).fate is Fate.TAKEN, line


def test_each_step_of_the_tour_is_done_by_what_it_asks_for(tmp_path: Path) -> None:
    clock = SimulatedClock(datetime.fromisoformat("2026-03-17T06:45:00+01:00"))
    day = begin_practice(tmp_path / "practice.db", shipped_checklists(), clock)
    assert day.state.kind == "practice"
    at = []
    for lines in (
        ("spread",),
        ("tile in",),
        (
            "test tile lifted",
            "no photo",
            "coverage ninety seven percent",
            "yes",
            "largest void one square inch",
            "yes",
            "corners full",
            "edges full",
            "bed five millimeters",
            "yes",
        ),
        ("scratch that",),
    ):
        now = tour_of(day.log.events).now
        assert now is not None
        at.append(now.name)
        _say(day, clock, *lines)
    assert at == [step.name for step in STEPS]
    assert tour_of(day.log.events).now is None


def test_the_tile_of_the_tour_is_to_be_lifted(tmp_path: Path) -> None:
    clock = SimulatedClock(datetime.fromisoformat("2026-03-17T06:45:00+01:00"))
    day = begin_practice(tmp_path / "practice.db", shipped_checklists(), clock)
    assert day.state.area is not None
    before = to_be_lifted(day.state.area)
    _say(day, clock, "spread", "tile in")
    assert to_be_lifted(day.state.area) > before
