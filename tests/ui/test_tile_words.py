"""What a screen says of tiles: which one is at hand and why, which hold up the area's end."""

from __future__ import annotations

from dataclasses import replace

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import proven
from fieldassist.checklist.state import Area, changed
from fieldassist.language import Words
from fieldassist.ui.content.tile_words import open_spreads, open_tiles, standing_of, waiting_of, where_at
from tests.checklist.days import Bench, counted_day

WORDS = Words("en", "metric")


def shower(*rounds: str) -> Bench:
    bench = Bench.begun("metric")
    bench.start("shower wall")
    bench.call("batch", *rounds)
    return bench


def area(bench: Bench) -> Area:
    found = bench.state.area
    assert found is not None
    return found


def marked(bench: Bench, **states: str) -> Area:
    """The area with tiles marked, by number: t1="suspect"."""
    held = area(bench)
    tiles = dict(held.progress.tiles)
    for name, state in states.items():
        number = int(name[1:])
        tiles[number] = replace(tiles[number], state=state, lift=1)  # type: ignore[arg-type]
    return changed(held, progress=changed(held.progress, tiles=tiles))


def test_the_step_names_the_tile_that_is_set_by_its_number_and_how_many_are_planned() -> None:
    bench = shower("tile", "tile")
    bench.take(cmd.StartRound(section="tile"))
    said = where_at(area(bench), WORDS)
    assert "Tile 3" in said
    # 9.6 m2 in pieces of 1.2 m x 0.6 m: 13.3, so fourteen pieces.
    assert "2 of 14 set" in said


def test_the_step_names_the_tile_that_is_lifted_and_how_the_lift_came_about() -> None:
    bench = shower()
    bench.take(cmd.StartRound(section="tile"))
    for _ in range(40):
        if area(bench).aimed is not None:
            break
        command = bench.next_answer()
        assert command is not None
        bench.take(command)
    aimed = area(bench).aimed
    assert aimed is not None
    assert f"tile {aimed.tile}, " in where_at(area(bench), WORDS)


def test_suspects_are_named_on_the_step_and_accepted_ones_on_the_lift() -> None:
    held = marked(shower("tile", "tile", "tile"), t1="suspect", t2="suspect", t3="accepted")
    assert list(open_tiles(held, WORDS)) == ["Suspect: 1 and 2"]
    said = list(standing_of(held, WORDS))
    assert "Accepted as they are: 3" in said


def test_what_is_due_and_waits_is_told_in_one_line() -> None:
    bench = shower()
    assert waiting_of(area(bench), WORDS) == ""
    for _ in range(3):
        bench.take(cmd.StartRound(section="tile"))
        while area(bench).task is not None and area(bench).task.section == "tile":  # type: ignore[union-attr]
            command = bench.next_answer()
            assert command is not None
            bench.take(command)
    assert waiting_of(area(bench), WORDS) == "Waits: lift 1, lippage"
    while area(bench).task is not None and area(bench).task.section == "lift":  # type: ignore[union-attr]
        command = bench.next_answer()
        assert command is not None
        bench.take(command)
    assert waiting_of(area(bench), WORDS) == "Waits: put back 1, lippage"


def test_where_nothing_is_open_nothing_is_said_of_it() -> None:
    held = marked(shower("tile"), t1="lifted good")
    assert list(open_tiles(held, WORDS)) == []


def test_the_screens_count_witnessed_and_counted_tiles_as_the_record_does() -> None:
    held = area(counted_day(0))
    seen = proven.seen_tiles(held)
    assert seen.counted
    assert f"({seen.witnessed} witnessed, {seen.counted} counted, {seen.set_again} set again)" in where_at(held, WORDS)
    assert WORDS(seen.told).capitalize() in list(standing_of(held, WORDS))


def test_mortar_that_is_spread_says_for_how_many_how_many_are_in_and_for_how_long() -> None:
    bench = shower("tile")
    bench.take(cmd.SpreadMortar(section="tile", tiles=3))
    bench.clock.advance(4.5)
    bench.take(cmd.TilesIn(section="tile", tiles=1))
    assert list(open_spreads(area(bench), bench.clock.now())) == ["Rosa spread for 3: 1 in, 4 of 20 min"]
    bench.go_on()
    bench.take(cmd.TilesIn(section="tile", tiles=2))
    assert list(open_spreads(area(bench), bench.clock.now())) == []


def test_mortar_spread_for_nobody_knows_how_many_says_so_by_saying_nothing_of_it() -> None:
    bench = shower("tile")
    bench.take(cmd.SpreadMortar(section="tile"))
    assert list(open_spreads(area(bench), bench.clock.now())) == ["Rosa spread: 0 in, 0 of 20 min"]
