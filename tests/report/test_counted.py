"""Witnessed and counted tiles on the pages: never one mark for both, and what was called together is never passed."""

from __future__ import annotations

from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import proven
from fieldassist.checklist.moment import TYPED
from fieldassist.report.build import build_report
from fieldassist.report.daily import lay_out, record_of, write_daily_pdf
from fieldassist.report.report_model import AreaReport
from tests.checklist.days import Bench, counted_day
from tests.conftest import Crew
from tests.report.conftest import words
from tests.report.test_lots_on_pages import printed

SEEDS = range(4)


@cache
def day(seed: int) -> Bench:
    return counted_day(seed)


def page(bench: Bench) -> AreaReport:
    return build_report(bench.events).areas[0]


def strip(bench: Bench) -> dict[str, str]:
    """By tile, the word beneath its number where the tiles stand in the order they were set."""
    texts: list[str] = []
    for laid in lay_out(build_report(bench.events)).pages:
        texts += [step[6] for step in laid.steps if step[0] == "text"]
    start = next(n for n, text in enumerate(texts) if text.startswith("Tiles in the order"))
    end = next(n for n, text in enumerate(texts) if text.startswith("full square: witnessed"))
    numbers = {str(tile.number) for tile in page(bench).set_in_order}
    return {number: word for number, word in pairwise(texts[start:end]) if number in numbers}


def one_breath() -> Bench:
    """A wall with one tile all of which was called in one breath."""
    bench = Bench.begun("metric")
    bench.start("shower wall")
    bench.call("batch")
    bench.source = TYPED.model_copy(update={"together": 6})
    bench.take(cmd.StartRound(section="tile"))
    for _ in range(20):
        area = bench.state.area
        assert area is not None
        command = bench.next_answer()
        if area.progress.tiles or command is None:
            break
        bench.take(command)
    return bench


@pytest.mark.parametrize("seed", SEEDS)
def test_no_counted_tile_is_ever_printed_as_witnessed(seed: int) -> None:
    bench = day(seed)
    tiles = bench.state.areas["shower wall"].progress.tiles
    assert strip(bench) == {str(number): proven.seen(tile) for number, tile in tiles.items()}
    for line in page(bench).set_in_order:
        assert line.seen_told.startswith(line.seen)
        assert ("witnessed" in line.seen_told) == (tiles[line.number].witnessed and tiles[line.number].spread is None)


@pytest.mark.parametrize("seed", SEEDS)
def test_as_many_tiles_are_printed_as_witnessed_and_as_counted_as_there_are(seed: int, tmp_path: Path) -> None:
    bench = day(seed)
    seen = proven.seen_tiles(bench.state.areas["shower wall"])
    text = words(printed(bench, tmp_path))
    assert text.count("witnessed, event ") == seen.witnessed
    assert text.count("counted, covered by") + text.count("counted, not yet") + text.count("counted, lifted") >= (
        seen.counted
    )
    told = f"{seen.witnessed} witnessed, {seen.counted} counted"
    assert told in words(tmp_path / "day.pdf", 1)


def test_each_way_into_the_record_has_a_shape_of_its_own() -> None:
    """On black-and-white paper too: a full square, a hatched one, one with a dot."""
    drawn: dict[str, list[Any]] = {}
    for laid in lay_out(build_report(day(0).events)).pages:
        steps = laid.steps
        for at, step in enumerate(steps):
            if step[0] == "text" and step[6] in ("witnessed", "counted", "set again"):
                before = [s[0] for s in steps[max(0, at - 4) : at] if s[0] in ("rect", "line", "disc")]
                drawn.setdefault(step[6], before)
    assert drawn["witnessed"][-1:] == ["rect"]
    assert drawn["counted"] == ["rect", "line", "line", "line"]
    assert drawn["set again"][-2:] == ["rect", "disc"]


def test_a_tile_set_again_names_the_lift_after_which_it_was() -> None:
    bench = day(0)
    progress = bench.state.areas["shower wall"].progress
    failed = next(lift for lift in progress.lifts.values() if lift.verdict == "failed")
    (line,) = [tile for tile in page(bench).set_in_order if tile.seen == "set again"]
    assert line.number == failed.tile
    assert f"lift {failed.number}" in line.seen_told


def test_a_spread_says_for_how_many_it_was_what_it_bore_and_how_long_it_lay_open() -> None:
    for seed in SEEDS:
        for spread in page(day(seed)).spreads:
            assert spread.minutes is not None
            assert spread.allowed is not None
            assert (spread.standing == "skinned") == (spread.outcome == "ran out")
            assert (spread.minutes > spread.allowed) == (spread.standing == "skinned")
            assert (spread.tiles == "none") == (spread.done == 0)


@pytest.mark.parametrize("seed", SEEDS)
def test_each_tile_is_of_one_batch_and_counted_ones_are_weighed_by_the_method_they_were_set_with(seed: int) -> None:
    bench = day(seed)
    area = page(bench)
    tiles = bench.state.areas["shower wall"].progress.tiles
    assert sum(batch.tiles for batch in area.batches if not batch.withdrawn) == len(tiles)
    assert {line.number: line.batch for line in area.set_in_order} == {
        number: f"Batch {tile.batch}" for number, tile in tiles.items()
    }


def test_a_tile_called_in_one_breath_says_so_and_its_clock_is_not_passed(tmp_path: Path) -> None:
    bench = one_breath()
    area = page(bench)
    (tile,) = area.set_in_order
    assert bench.state.areas["shower wall"].progress.tiles[1].together == 6
    assert "one breath" in tile.seen_told
    (clock,) = [clock for clock in area.clocks if clock.title == "Open time"]
    assert (clock.outcome, clock.kept) == ("not timed apart", False)
    (line,) = [x for x in area.sequence if x.what.startswith("Clock stopped: Open time")]
    assert line.verdict is None
    text = words(printed(bench, tmp_path))
    assert "Not timed apart, both ends called in one breath" in text
    assert "6 together" in text
    assert "all in time" not in text


def test_a_tile_whose_steps_took_time_does_not_say_that_it_was_called_in_one_breath() -> None:
    bench = Bench.begun("metric")
    bench.start("shower wall")
    bench.call("batch")
    bench.source = TYPED.model_copy(update={"together": 2})
    bench.take(cmd.StartRound(section="tile"))
    for _ in range(20):
        area = bench.state.area
        assert area is not None
        command = bench.next_answer()
        if area.progress.tiles or command is None:
            break
        bench.clock.advance(0.5)
        bench.take(command)
    assert bench.state.areas["shower wall"].progress.tiles[1].together == 0
    assert "breath" not in page(bench).set_in_order[0].seen_told


def test_the_page_says_by_what_each_reading_was_kept(crew: Crew, tmp_path: Path) -> None:
    crew.say("this is rosa", "start area shower wall", "understood", "understood")
    crew.speak("air temperature twenty one degrees")
    crew.speak("wall temperature twenty two degrees")
    crew.speak("yes")
    crew.say("humidity fifty five percent")
    area = build_report(crew.day.log.events).areas[0]
    assert [(line.reading, line.kept) for line in area.sequence if line.kind == "reading"] == [
        ("21 °C", "next phrase"),
        ("22 °C", "yes"),
        ("55 %", "entered"),
    ]
    write_daily_pdf(record_of(crew.day.log), tmp_path / "day.pdf")
    text = words(tmp_path / "day.pdf")
    for kept in ("voice next phrase", "voice yes", "typed entered"):
        assert kept in text
