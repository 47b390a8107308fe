"""A lift is marked, read back and judged by touch as it is by voice."""

from __future__ import annotations

import pytest

from fieldassist.checklist.events import ChoiceMade, LiftJudged, ReadingCalled, ReadingKept
from fieldassist.ui.widgets.parts import target
from fieldassist.ui.widgets.tile_back import TileBack
from tests.ui.conftest import Hands, resize

SHOWER = (
    "this is rosa",
    "start area shower wall",
    "understood",
    "understood",
    "air temperature twenty one degrees!",
    "wall temperature eighteen degrees!",
    "humidity fifty percent!",
    "membrane checked",
    "gap two millimeters!",
    "short gap one millimeter!",
    "wall clean",
    "this is edwin",
    "base released",
    "this is rosa",
    "new batch",
    "understood",
    "one bag!",
    "lot b seven!",
    "water five liters!",
    "batch mixed",
)
TILE = ("next tile", "back keyed", "spread", "mortar combed", "tile set", "slid half an inch!", "beaten in")


def work(hands: Hands, *lines: str) -> None:
    """Say lines; "gap two millimeters!" stands for it and its yes."""
    for line in lines:
        hands.say(line.rstrip("!"), *(["yes"] if line.endswith("!") else []))


def until_lift(hands: Hands) -> None:
    """Work the shower wall until its first test tile is due."""
    work(hands, *SHOWER)
    hands.clock.advance(8)
    work(hands, "remixed", *TILE)


def back(hands: Hands) -> TileBack:
    [found] = [w for w in hands.widgets() if isinstance(w, TileBack)]
    return found


def cell(column: int, row: int) -> tuple[float, float]:
    return (column + 0.5) / 10, 1 - (row + 0.5) / 10


def readings(hands: Hands) -> list[tuple[str, float, str]]:
    kept = {body.target for body in hands.events(ReadingKept)}
    assert hands.tablet.view is not None
    return [
        (event.body.step, float(event.body.value), event.body.unit)
        for event in hands.tablet.view.events
        if isinstance(event.body, ReadingCalled) and event.seq in kept and event.body.section == "lift"
    ]


def test_a_lift_by_touch_alone_is_read_back_judged_and_fails_as_said_by_voice(hands: Hands) -> None:
    hands.go("lift")
    assert "No area is open" in hands.seen()
    until_lift(hands)
    assert "Why: first of its run" in hands.seen()
    assert "at least 95 %" in hands.seen()
    assert "A108.5" in hands.seen()
    hands.press("Test tile lifted")
    hands.say("no photo")
    # Nothing can be read back before somebody has looked.
    assert not any(t.text.startswith("Read back") for t in hands.targets())
    hands.draw(back(hands), cell(2, 3), cell(6, 3))  # five empty cells in one stroke
    hands.touch(back(hands), *cell(9, 9))
    hands.touch(back(hands), *cell(9, 9))  # twice: a half one
    assert "Read back 94.5 %" in hands.seen()
    assert "3 of 4 corners" in hands.seen()
    # Turned, dark, larger: nothing marked is lost.
    hands.tablet.choose(theme="dark", text=1.5)
    hands.press("Read back 94.5 %")
    assert readings(hands) == []
    hands.press("Yes")
    hands.press("Read back 360 cm²")
    hands.press("No")
    hands.tablet.choose(units="us", text=1.0)
    hands.press("Read back 55.9 in²")  # 360 cm² are 55.80 in²: rounded up
    hands.press("Yes")
    assert hands.target("A corner is not full (as the grid)").chosen
    hands.press("A corner is not full (as the grid)")
    assert hands.target("A void at an edge (as the grid)").chosen
    hands.press("A void at an edge (as the grid)")
    hands.press("5")
    hands.press("Take it")
    hands.press("Yes")
    [judged] = hands.events(LiftJudged)
    assert readings(hands) == [("coverage", 94.5, "percent"), ("void", 55.9, "in2"), ("bed", 5, "mm")]
    assert not judged.passed
    assert "Lift 1 FAILS" in hands.seen()
    assert len(judged.reasons) == 4, "too little contact, too large a void, a void at an edge, a corner"
    for reason in judged.reasons:
        assert f"– {hands.tablet.words(reason)}" in hands.seen()
    assert "Now: Scrape wall and tile clean" in hands.seen()
    # What the cells came to is put down as that; what was pressed, as that.
    assert {source.how for source in hands.sources(ReadingCalled)[-4:-1]} == {"counted on a grid"}
    assert [source.how for source in hands.sources(ChoiceMade)[-1:]] == ["counted on a grid"]
    assert [source.how for source in hands.sources(ReadingKept)[-3:]] == ["pressed"] * 3
    # Tightened, and taken back: the verdict goes with the answer that brought it.
    hands.say("scratch that")
    assert "Lift 1 FAILS" not in hands.seen()
    hands.say("scratch that")
    assert hands.target("A void at an edge (as the grid)").chosen
    hands.say("scratch that", "scratch that", "scratch that")
    work(hands, "coverage ninety four point five percent!", "largest void fifty five point nine square inches!")
    hands.say("corner empty", "void at an edge", "bed five millimeters", "yes")
    assert hands.events(LiftJudged) == [judged, judged]
    assert hands.seen().count("Lift 1 · tile 1") == 1, "what was taken back is no lift"
    assert [source.how for source in hands.sources(ReadingCalled)[-3:]] == ["typed"] * 3


def test_a_good_lift_by_number_and_when_the_next_one_is_due(hands: Hands) -> None:
    until_lift(hands)
    hands.go("lift")
    hands.press("Test tile lifted")
    hands.say("no photo")
    hands.press("All covered")
    assert "Read back 100 %" in hands.seen()
    hands.press("Undo stroke")
    assert "Read back" not in hands.seen()
    hands.press("Give a number")
    hands.press("9")
    hands.tablet.redraw()  # a half-typed number is still there
    hands.frames()
    hands.press("8")
    hands.press("Take it")
    assert "Coverage, 98 %. Yes or no?" in hands.seen()
    hands.press("Yes")
    hands.press("All covered")
    hands.press("Read back 0 cm²")
    hands.press("Yes")
    hands.press("Corners full")
    hands.press("Edges full")
    hands.press("5")
    hands.press("Take it")
    hands.press("Yes")
    assert [source.how for source in hands.sources(ReadingCalled)[-3:-1]] == ["pressed", "counted on a grid"]
    assert [source.how for source in hands.sources(ChoiceMade)[-1:]] == ["counted on a grid"]
    assert "Lift 1 passes" in hands.seen()
    assert "Lift 1 · tile 1 · 98 % · passes" in hands.seen()
    assert "By lot after a tile is set, one in 6 on average: nobody knows which." in hands.seen()
    assert hands.tablet.view is not None
    area = hands.tablet.view.state.area
    assert area is not None
    assert f"Good lifts: 1, at least {area.lifts_needed[0]} needed." in hands.seen()


def test_near_by_cells_are_large_enough_for_a_glove_and_reach_the_whole_back(hands: Hands) -> None:
    until_lift(hands)
    hands.go("lift")
    hands.press("Test tile lifted")
    hands.say("no photo")
    assert back(hands).width / back(hands).height == pytest.approx(2, rel=0.01)  # 1200 x 600 mm
    hands.press("Larger cells")
    for size in ((800, 1280), (1280, 800)):
        resize(*size)
        for text in (1.0, 1.5):
            hands.tablet.choose(text=text)
            hands.frames()
            shown = back(hands)
            assert min(shown.width / shown.cells[0], shown.height / shown.cells[1]) >= target()
    for _part in range(6):
        hands.draw(back(hands), *[(x, y) for y in (0.1, 0.4, 0.6, 0.9) for x in (0.1, 0.9)])
        hands.press("Next part")
    assert "Part 1 of 6: top left" in hands.seen()
    assert "0 of 4 corners, 0 of 36 edge cells" in hands.seen()
    hands.press("Whole tile")
    hands.press("Clear")
    assert hands.target("All covered")
