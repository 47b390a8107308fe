"""When the next test tile is due, against what the engine then does."""

from __future__ import annotations

import math

from fieldassist.assess.tiles import next_test_tile
from fieldassist.checklist import commands as cmd
from fieldassist.checklist.state import Area
from fieldassist.language import Words
from tests.checklist.days import Bench
from tests.conftest import Crew


def shower(crew: Crew) -> Area:
    return crew.day.state.areas["shower wall"]


def attic(bench: Bench) -> Area:
    return bench.state.areas["attic"]


def test_by_lot_only_the_first_of_a_run_is_known_beforehand(crew: Crew) -> None:
    crew.open_shower()
    crew.mix()
    first = next_test_tile(shower(crew))
    assert first.due is not None
    assert first.due.code == "engine-came-first-of-run"
    crew.set_tile()
    assert next_test_tile(shower(crew)).now == (1,)
    crew.lift()
    crew.say("put back")
    found = next_test_tile(shower(crew))
    # Tiles of 1.2 m x 0.6 m: 4 m2 / 0.72 m2 = 5.6, the nearest whole number.
    assert (found.due, found.now, found.one_in) == (None, (), 6)
    assert "nobody knows which" in Words()(found.told)


def test_at_known_places_it_is_due_with_the_first_tile_and_then_after_just_so_many() -> None:
    bench = Bench.begun("metric")
    bench.start("attic")
    first = next_test_tile(attic(bench))
    assert first.due is not None
    assert first.due.code == "engine-due-first"
    bench.call("bucket", "tile")
    found = next_test_tile(attic(bench))
    every = next(s.due.every for s in attic(bench).checklist.sections if s.lift is not None and s.due is not None)
    assert every is not None
    assert found.more == math.ceil(float(every.value) / attic(bench).piece_area)
    lifts = len(attic(bench).progress.lifts)
    for left in range(found.more, 0, -1):
        assert next_test_tile(attic(bench)).more == left
        assert len(attic(bench).progress.lifts) == lifts
        if attic(bench).step is None:
            bench.take(cmd.StartRound(section="tile"))
        bench.go_on()
    assert len(attic(bench).progress.lifts) == lifts + 1
