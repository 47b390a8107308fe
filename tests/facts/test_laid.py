"""Where pieces lie, which way their beds were combed, and how their lifts were read, as facts."""

from __future__ import annotations

from typing import Any

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist import proven
from fieldassist.checklist.kinds.choice import Choose
from fieldassist.checklist.moment import How
from fieldassist.checklist.plan import DayPlan
from fieldassist.facts.build import day_facts
from fieldassist.facts.laid import PieceTeller
from fieldassist.facts.model import AreaFacts
from fieldassist.language import Words
from fieldassist.ui.content.wall_map import planned_map
from tests.checklist.days import Bench, site
from tests.ui.walls import wall_plan


def planned(**changes: Any) -> Bench:
    plan = site("metric")
    areas = [wall_plan(**changes) if area.name == "shower wall" else area for area in plan.areas]
    return Bench.begun(plan=DayPlan.model_validate(plan.model_dump() | {"areas": areas}))


def shower(bench: Bench) -> AreaFacts:
    facts = day_facts(bench.events, ["0" * 64] * len(bench.events), Words())
    return next(area for area in facts.areas if area.name == "shower wall")


def test_a_piece_lies_in_the_facts_where_the_screens_draw_it() -> None:
    """A cut column, a hole in the grid, a niche with its own piece, and a piece that lies nobody knows where."""
    pieces = [
        {"row": 1, "column": 1, "size": "0 m2"},
        {"name": "niche back", "size": "0.3 m2"},
        {"name": "sill", "size": "0.2 m2"},
    ]
    bench = planned(grid={"rows": 6, "columns": 4, "last_column": "700 mm"}, pieces=pieces)
    plan = next(area for area in bench.state.plan.areas if area.name == "shower wall")  # type: ignore[union-attr]
    facts = shower(bench)
    on_screen = {piece.number: piece.span for piece in planned_map(plan).pieces}
    lies = {tile.number: (tile.x_mm, tile.y_mm, tile.wide_mm, tile.high_mm) for tile in facts.tiles}
    sill = max(lies)
    assert lies[sill] == (None, None, None, None)
    del lies[sill]
    spans = {n: on_screen[n] for n in lies}
    assert lies == {n: (span.left, span.bottom, span.width, span.height) for n, span in spans.items()}
    assert len(lies) == 24
    assert facts.outline is not None
    assert (facts.outline.wide_mm, facts.outline.high_mm) == (3 * 1203 + 700, 6 * 603 - 3)
    (niche,) = facts.openings
    assert (niche.x_mm, niche.y_mm, niche.wide_mm, niche.high_mm) == (1900, 2450, 900, 340)


def combing(bench: Bench, option: str) -> None:
    """Set a tile up to its combing, and say how it was combed."""
    bench.start("shower wall")
    bench.call("batch")
    bench.take(cmd.StartRound(section="tile"))
    for _ in range(30):
        area = bench.state.area
        assert area is not None
        if area.step is not None and area.step.act == "comb":
            bench.take(Choose(section="tile", step=area.step.id, option=option))
            return
        command = bench.next_answer()
        assert command is not None
        bench.take(command)
    raise AssertionError("nobody asked how it was combed")


@pytest.mark.parametrize(
    ("grid", "way"),
    [
        ({"rows": 6, "columns": 4}, "upright"),  # 1200 x 600 mm, lying: its short side stands upright
        ({"rows": 3, "columns": 8, "long_edge": "upright"}, "level"),
    ],
)
def test_a_bed_is_combed_along_the_short_side_where_that_was_called(grid: dict[str, Any], way: str) -> None:
    """ANSI A108.5 §2.2.3: in one direction; along the shorter side, as trade literature has it."""
    bench = planned(grid=grid, niches=[])
    combing(bench, "straight")
    bench.go_on()
    tiles = shower(bench).tiles
    assert [(tile.combing, tile.settings) for tile in tiles if tile.order == 1] == [(way, 1)]
    assert {(tile.combing, tile.settings) for tile in tiles if tile.order is None} == {("", 0)}


def test_a_bed_combed_in_swirls_has_no_direction() -> None:
    bench = planned(niches=[])
    combing(bench, "swirls")
    area, last = bench.state.area, bench.events[-1].seq
    assert area is not None
    answers = [event for event in bench.events if isinstance(event.body, ev.ChoiceMade)]
    assert [event.body.option for event in answers if isinstance(event.body, ev.ChoiceMade)][-1] == "swirls"
    assert PieceTeller(area, answers).laid(1, 1, last + 1)["combing"] == ""


@pytest.mark.parametrize(
    ("how", "way"),
    [
        ("spoken", "eye"),
        ("typed", "eye"),
        ("pressed", "eye"),
        ("sketched", "eye"),
        ("counted on a grid", "grid"),
        ("painted on a photo", "photo"),
        ("measured on a photo", "photo"),
    ],
)
def test_what_nobody_counted_or_measured_was_read_by_eye(how: How, way: str) -> None:
    assert proven.way_of(how) == way
