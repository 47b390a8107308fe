"""When the next test tile is due, against what the engine then does."""

from __future__ import annotations

import math

from fieldassist.assess.tiles import next_test_tile
from fieldassist.language import Words
from tests.assess.areas import CHECKLISTS
from tests.conftest import Crew


def test_before_the_first_tile_it_is_due_with_it_and_after_a_good_lift_when_the_area_says(crew: Crew) -> None:
    crew.open_shower()
    crew.mix()
    first = next_test_tile(crew.day.state.areas["shower wall"])
    assert first.due is not None
    assert first.due.code == "engine-due-first"
    crew.set_tile()
    crew.lift()
    area = crew.day.state.areas["shower wall"]
    found = next_test_tile(area)
    section = next(s for s in CHECKLISTS["wet-area-wall"].sections if s.lift is not None)
    assert section.due is not None
    assert section.due.every is not None
    # Tiles of 1.2 m x 0.6 m: as many as it takes to reach the checklist's area, with none of it set since the lift.
    assert found.more == math.ceil(float(section.due.every.value) / 0.72)
    assert found.changes == section.due.changes
    told = Words()(found.told)
    assert str(found.more) in told
    assert "change" in told


def test_the_engine_opens_the_lift_after_just_so_many_tiles(crew: Crew) -> None:
    crew.open_shower()
    crew.mix()
    crew.set_tile()
    crew.lift()
    crew.say("put back")
    more = next_test_tile(crew.day.state.areas["shower wall"]).more
    assert more is not None
    lifts = crew.day.state.areas["shower wall"].progress.rounds["lift"]
    for left in range(more, 0, -1):
        assert next_test_tile(crew.day.state.areas["shower wall"]).more == left
        assert crew.day.state.areas["shower wall"].progress.rounds["lift"] == lifts
        crew.set_tile()
        if crew.step == "lippage":
            crew.say("lippage zero millimeters!")
    assert crew.day.state.areas["shower wall"].progress.rounds["lift"] == lifts + 1
