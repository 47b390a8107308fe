"""Tiles that are counted: mortar is spread for so many, and so many are in."""

from __future__ import annotations

import pytest

from fieldassist.checklist.contradictions import contradictions
from fieldassist.checklist.events import ClockRanOut, ClockStopped, LiftDue, MortarSpread, TileCounted
from fieldassist.checklist.spreading import bears
from fieldassist.checklist.state import Tile
from fieldassist.trade.message import Several
from tests.conftest import Crew

WITNESSED = ("next tile", "back keyed", "spread", "mortar combed", "tile set", "slid half an inch!", "beaten in")


@pytest.fixture
def setting(crew: Crew) -> Crew:
    """The shower wall with a batch, one witnessed tile, and its lift done."""
    crew.open_shower()
    crew.mix()
    crew.clock.advance(3)
    work(crew)
    crew.lift()
    crew.say("put back")
    return crew


def work(crew: Crew) -> None:
    """One tile step by step, in the time that hands need."""
    for line in WITNESSED:
        crew.clock.advance(0.5)
        crew.say(line)


def tiles(crew: Crew) -> list[Tile]:
    area = crew.day.state.area
    assert area is not None
    return sorted(area.progress.tiles.values(), key=lambda tile: tile.order)


def changes(crew: Crew, line: str = "spread") -> set[str]:
    """Why the next tile is called step by step, by the last words of each code."""
    why = crew.why(line)
    assert why.code == "engine-witness-this"
    told = why.figures["why"]
    assert isinstance(told, Several)
    return {str(item).removeprefix("engine-witness-") for item in told.items}


def test_three_tiles_are_two_calls_and_each_has_its_place_lot_and_mark(setting: Crew) -> None:
    setting.say("spread three")
    setting.clock.advance(9)
    setting.say("three in")
    first, *counted = tiles(setting)
    assert first.witnessed
    assert [t.witnessed for t in counted] == [False] * 3
    assert [(t.number, t.order, t.run) for t in counted] == [(2, 2, 1), (3, 3, 1), (4, 4, 1)]
    assert len({t.spread for t in counted}) == 1
    area = setting.day.state.area
    assert area is not None
    assert set(area.progress.lots) == {1, 2, 3, 4}
    assert [e.ends for e in setting.events(TileCounted)] == [False, False, True]
    [stopped] = [e for e in setting.events(ClockStopped) if e.run == setting.events(ClockStopped)[-1].run]
    assert stopped.verdict == "passed"
    assert stopped.minutes == pytest.approx(9.25)


def test_a_spread_without_a_number_ends_with_the_next_tiles_that_are_counted(setting: Crew) -> None:
    setting.say("spread")
    setting.say("two in")
    assert setting.refused("tile in")
    assert len(tiles(setting)) == 3


def test_a_spread_with_a_number_ends_when_so_many_are_in(setting: Crew) -> None:
    setting.say("spread for three", "tile in", "tile in")
    area = setting.day.state.area
    assert area is not None
    assert [s.left for s in area.progress.open_spreads] == [1]
    setting.say("tile in")
    assert not setting.day.state.area.progress.open_spreads
    assert setting.why("tile in").code == "engine-no-spread"


def test_the_old_long_way_is_taken_for_every_tile_and_witnessed(setting: Crew) -> None:
    work(setting)
    work(setting)
    assert [t.witnessed for t in tiles(setting)] == [True] * 3


def test_the_first_tile_is_called_step_by_step_and_the_refusal_says_which_word_comes_first(crew: Crew) -> None:
    crew.open_shower()
    crew.mix()
    assert changes(crew) == {"area"}
    assert "back keyed" in crew.refused("spread three")
    assert not crew.events(MortarSpread)


def test_what_changed_is_witnessed_again(setting: Crew) -> None:
    setting.say("otto sets")
    assert changes(setting) == {"setter"}
    setting.say("rosa sets", "spread", "tile in")
    setting.mix()
    assert changes(setting) == {"batch"}
    work(setting)
    if setting.step == "lippage":
        setting.say("lippage half a millimeter!")
    setting.say("spread", "tile in")
    setting.clock.advance(31)
    assert changes(setting) == {"break"}


def test_mortar_for_more_than_the_witnessed_tile_waits_behind_it(setting: Crew) -> None:
    setting.say("next tile", "back keyed", "spread three", "mortar combed", "tile set", "slid half an inch!")
    assert setting.why("two in").code == "engine-witnessed-first"
    setting.say("beaten in")
    area = setting.day.state.area
    assert area is not None
    assert [(s.wanted, s.done) for s in area.progress.open_spreads] == [(3, 1)]
    assert any(run.clock == "open-time" for run in area.progress.clocks)
    setting.say("two in")
    assert [t.witnessed for t in tiles(setting)] == [True, True, False, False]
    assert not any(run.clock == "open-time" for run in setting.day.state.area.progress.clocks)


def test_a_spread_whose_open_time_ran_out_takes_no_more_tiles_and_is_scraped_off(setting: Crew) -> None:
    setting.say("spread three", "tile in")
    setting.clock.advance(21)
    setting.day.tick()
    assert setting.events(ClockRanOut)[-1].clock == "open-time"
    assert setting.step == "skinned-off"
    assert setting.why("two in").code == "engine-no-spread"
    setting.say("scraped off")
    assert len(tiles(setting)) == 2
    setting.say("spread", "tile in")


def test_tiles_that_were_in_in_time_and_called_late_are_counted(setting: Crew) -> None:
    setting.say("spread two")
    setting.clock.advance(21)
    setting.day.tick()
    setting.say("set in time hands were full", "two in")
    assert len(tiles(setting)) == 3
    area = setting.day.state.area
    assert area is not None
    assert len(area.progress.late) == 1


def test_counting_is_taken_back_as_one_thing_and_the_lots_stay_the_same(setting: Crew) -> None:
    setting.say("spread three", "three in")
    area = setting.day.state.area
    assert area is not None
    lots = dict(area.progress.lots)
    setting.say("scratch that")
    assert len(tiles(setting)) == 1
    assert [s.left for s in setting.day.state.area.progress.open_spreads] == [3]
    setting.say("tile in", "two in")
    assert setting.day.state.area.progress.lots == lots


def test_a_tile_taken_back_and_set_step_by_step_keeps_its_lot(setting: Crew) -> None:
    setting.say("spread", "tile in")
    area = setting.day.state.area
    assert area is not None
    lots = dict(area.progress.lots)
    setting.say("scratch that", "scratch that")
    work(setting)
    assert setting.day.state.area.progress.lots == lots


def test_the_open_time_bears_as_many_tiles_as_the_measured_pace_allows(setting: Crew) -> None:
    """Four minutes from mortar to tile in an open time of twenty: five tiles (the arithmetic of open time, as the
    calculation `open-time-area` has it)."""
    setting.say("next tile", "back keyed", "spread")
    setting.clock.advance(8 - 1.5 - 0.75 - 0.5)
    setting.say("mortar combed", "tile set", "slid half an inch!", "beaten in")
    area = setting.day.state.area
    assert area is not None
    section = area.checklist.counted_section
    assert section is not None
    pace = area.progress.paces["rosa"]
    most = bears(area, section, "rosa")
    assert most == int(20 / (pace.minutes / 2))
    assert "engine-bears" in {m.code for m in setting.say("how many").spoken.items}  # type: ignore[union-attr]
    reply = setting.say(f"spread {['', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight'][most + 1]}")
    assert "open time bears" in setting.told(reply)


def test_tiles_recited_together_share_their_time_and_too_fast_ones_are_asked_about(setting: Crew) -> None:
    setting.say("spread three", "three in")
    told = [c.told.code for c in contradictions(setting.day.state)]
    assert "open-too-fast" in told


def test_two_setters_have_mortar_of_their_own_and_a_tile_under_way_stays_its_setters(setting: Crew) -> None:
    setting.say("otto sets")
    work(setting)
    setting.say("spread three", "rosa sets", "next tile", "back keyed")
    setting.say("otto sets", "two in")
    setting.say("spread", "mortar combed", "tile set", "slid half an inch!", "beaten in", "tile in")
    assert [(t.setter, t.witnessed) for t in tiles(setting)] == [
        ("rosa", True),
        ("otto", True),
        ("otto", False),
        ("otto", False),
        ("rosa", True),
        ("otto", False),
    ]


def test_mortar_is_mixed_beside_a_tile_and_both_are_answered_as_they_come(setting: Crew) -> None:
    setting.say("next tile", "back keyed", "new batch bucket two", "one bag!", "spread", "water five liters!")
    setting.say("mortar combed", "batch mixed", "tile set")
    setting.clock.advance(8)
    setting.say("remixed", "slid half an inch!", "beaten in")
    area = setting.day.state.area
    assert area is not None
    assert len(tiles(setting)) == 2
    assert [b.alive for b in area.progress.batches.values()] == [True, True]


def test_a_tile_is_counted_while_mortar_is_mixed(setting: Crew) -> None:
    setting.say("spread two", "new batch bucket two", "one bag!", "water five liters!", "two in", "batch mixed")
    assert [t.witnessed for t in tiles(setting)] == [True, False, False]


def test_a_batch_under_way_is_not_begun_again_and_says_what_is_asked_of_it(setting: Crew) -> None:
    setting.say("new batch", "next tile")
    assert setting.why("new batch").code == "engine-begun-already"
    setting.say("one bag!", "back keyed")


def test_nothing_goes_on_beside_a_cure(setting: Crew) -> None:
    setting.say("next tile", "back keyed", "spread", "combed in swirls")
    assert setting.refused("new batch bucket two")
    setting.say("scraped off", "combed straight")


def test_no_more_tiles_than_the_plan_has_places_are_counted(setting: Crew) -> None:
    assert setting.why("spread eighty").code == "engine-so-many-tiles"
    setting.say("spread")
    assert setting.why("ninety in").code == "engine-so-many-tiles"


def test_nothing_else_is_set_or_finished_while_mortar_waits(setting: Crew) -> None:
    setting.say("spread")
    assert setting.why("spread").code == "engine-spread-already"
    assert setting.why("next tile").code == "engine-spread-first"
    assert setting.refused("finish area")


def test_a_lot_that_falls_on_a_counted_tile_makes_its_lift_due(setting: Crew) -> None:
    for _ in range(4):
        setting.say("spread three")
        setting.clock.advance(6)
        setting.say("three in")
        while setting.step == "lippage":
            setting.say("lippage half a millimeter!")
    due = setting.events(LiftDue)
    assert due
    assert due[0].came in ("lot", "forced")
    assert setting.step == "lifted"
