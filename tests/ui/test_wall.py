"""Wall: the pieces as keys, the other areas, what is suspect, what comes next."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from fieldassist.checklist import events as ev
from fieldassist.checklist.laying import PieceSpan
from fieldassist.checklist.loader import load_plan
from fieldassist.checklist.plan import Role
from fieldassist.checklist.reach import TileState
from fieldassist.checklist.state import Area, changed
from fieldassist.day.desk import View
from fieldassist.ui.app import TabletApp
from fieldassist.ui.content.wall_map import MapPiece
from fieldassist.ui.widgets.look import Look
from fieldassist.ui.widgets.wall_map import PieceKey, WallDrawing, draw_piece
from tests import SITE
from tests.ui.conftest import Hands, begin_tablet, resize
from tests.ui.test_glove_and_eye import TO_A_READING, TO_THE_BATCH, check
from tests.ui.walls import wall_area, wall_plan

from kivy.graphics import Canvas, Line, Mesh, Rectangle, RoundedRectangle  # isort: skip


def view_with(tablet: TabletApp, area: Area) -> View:
    """The day as it would stand with this area under way in place of its first."""
    view = tablet.view
    assert view is not None
    assert view.state.plan is not None
    plan = view.state.plan.model_copy(update={"areas": (area.plan, *view.state.plan.areas[1:])})
    state = changed(view.state, areas={area.plan.name: area}, active=area.plan.name, plan=plan)
    return replace(view, state=state)


def pieces(hands: Hands) -> list[str]:
    """The pieces that can be pressed, as they are called."""
    found = hands.every_key()
    return [key.named for key in found if isinstance(key, PieceKey)]


class Held:
    """A tablet that shows a day which stands still."""

    def __init__(self, hands: Hands) -> None:
        self.hands = hands
        self.day = hands.tablet.view
        hands.tablet._shown = lambda _view: None  # type: ignore[method-assign]

    def show(self, area: Area, screen: str = "wall", **what: object) -> Hands:
        self.hands.tablet.view = self.day
        self.hands.tablet.view = view_with(self.hands.tablet, area)
        self.hands.tablet.go(screen, **what)
        self.hands.frames(4)
        return self.hands


@pytest.fixture
def held(tmp_path: Path, cheap_hash: None) -> Iterator[Held]:  # noqa: ARG001
    with begin_tablet(tmp_path) as hands:
        yield Held(hands)


def test_every_piece_of_the_wall_is_a_key_that_opens_its_record(held: Held) -> None:
    hands = held.show(wall_area())
    assert pieces(hands) == [f"piece {n}" for n in range(1, 25)]
    hands.touch(hands.key("piece 7"))
    assert (hands.tablet.at, hands.tablet.at_what["piece"]) == ("piece", 7)


def test_the_page_tells_pieces_surface_suspects_and_the_lift_that_is_due(held: Held) -> None:
    hands = held.show(wall_area())
    seen = hands.seen()
    for words in ("Shower wall", "13", "of 24", "9.4 m² of 17.3 m²", "5, 6 suspect", "7 failed", "Lift piece 13"):
        assert words in seen


def test_upright_the_pieces_are_keys_while_the_ridges_run_too(tmp_path: Path, cheap_hash: None) -> None:  # noqa: ARG001
    plan = load_plan(SITE)
    with begin_tablet(tmp_path, plan.model_copy(update={"areas": (wall_plan(), *plan.areas[1:])})) as hands:
        resize(800, 1280)
        hands.say(*TO_A_READING, *TO_THE_BATCH)
        hands.clock.advance(8)
        hands.say("remixed", "next tile", "back keyed", "spread")
        for text in (1.0, 1.5):
            hands.tablet.choose(text=text)
            hands.go("wall")
            assert len(pieces(hands)) == 24
            check(hands, f"ridges over the wall, {text}")


def test_another_area_is_pressed_to_see_its_wall_and_begun_from_there(hands: Hands) -> None:
    hands.say("this is rosa", "start area shower wall")
    hands.go("wall")
    hands.press("Hall floor")
    assert hands.tablet.at == "wall"
    hands.press("Start: Hall floor")
    assert [body.area for body in hands.events(ev.AreaStarted)] == ["shower wall", "hall floor"]
    assert hands.tablet.at == "work"


def test_a_wall_of_small_pieces_opens_the_part_that_is_pressed_and_closes_it_again(held: Held) -> None:
    hands = held.show(wall_area(wall_plan(grid={"rows": 12, "columns": 9})))
    assert pieces(hands) == []
    hands.touch(hands.key("the whole wall"), 0.05, 0.05)
    assert "piece 1" in pieces(hands)
    assert "piece 108" not in pieces(hands)
    check(hands, "a part of a wall")
    hands.touch(hands.key("the whole wall"))
    assert pieces(hands) == []


def test_only_a_piece_that_changed_is_drawn_again(held: Held) -> None:
    hands = held.show(wall_area())
    drawing = next(w for w in hands.widgets() if isinstance(w, WallDrawing) and w.on.area == "shower wall")
    drawn: list[int] = []
    before = drawing._draw_piece
    drawing._draw_piece = lambda piece: (drawn.append(piece.number), before(piece))  # type: ignore
    later = tuple(replace(p, state="covered", due=False) if p.number == 13 else p for p in drawing.on.pieces)
    drawing.show(replace(drawing.on, pieces=later))
    assert drawn == [13]


def shape(piece: MapPiece, *, high: float, numbers: bool) -> tuple[object, ...]:
    """All that is drawn of a piece but its colours: kinds of strokes and fields, and where they lie."""
    canvas = Canvas()
    with canvas:
        draw_piece(Look(), piece, (0, 0, high * 2, high), lambda told: str(told), numbers=numbers)
    found: list[object] = []
    for part in canvas.children:
        if isinstance(part, Line | Mesh):
            found.append(("line", tuple(getattr(part, "points", ())), getattr(part, "width", 0)))
        elif isinstance(part, Rectangle | RoundedRectangle):
            found.append(("field", tuple(part.pos), tuple(part.size)))
    return tuple(found)


@pytest.mark.parametrize(("high", "numbers"), [(120.0, True), (50.0, True)])
def test_every_state_of_a_piece_has_a_shape_of_its_own_whatever_its_colours(high: float, numbers: bool) -> None:
    seen = PieceSpan(0, 0, 1200, 600)
    bare = MapPiece(8, seen, 1, 1)
    on = replace(bare, seen="counted")
    states = [bare, replace(bare, state="taken off"), replace(on, state="covered", due=True)]
    named: tuple[TileState, ...] = ("lifted failed", "suspect", "lifted good")
    states += [replace(on, state=state) for state in named]
    if high > 100:  # where there is room, those that hold are told apart too, and how a piece came into the record
        more: tuple[TileState, ...] = ("covered", "not yet covered", "accepted")
        states += [replace(on, state=state) for state in more]
        states += [replace(bare, state="covered", seen=way) for way in ("witnessed", "set again")]
    shapes = [shape(piece, high=high, numbers=numbers) for piece in states]
    assert len(set(shapes)) == len(states)


def test_what_becomes_suspect_is_hatched_outward_from_the_piece_that_failed(held: Held) -> None:
    hands = held.show(wall_area())
    drawing = next(w for w in hands.widgets() if isinstance(w, WallDrawing) and w.on.area == "shower wall")
    drawn: list[int] = []
    before = drawing._draw_piece
    drawing._draw_piece = lambda piece: (drawn.append(piece.number), before(piece))  # type: ignore
    later = tuple(replace(p, state="suspect") if p.number in (2, 3, 4) else p for p in drawing.on.pieces)
    drawing.show(replace(drawing.on, pieces=later))
    hands.wait(lambda: len(drawn) == 3, "three hatched pieces")
    assert drawn == [4, 3, 2]


def test_a_signed_day_says_when_and_has_no_key_that_goes_on(hands: Hands) -> None:
    hands.say("this is rosa", "start area shower wall")
    view = hands.tablet.view
    assert view is not None
    hands.tablet._shown = lambda _view: None  # type: ignore[method-assign]
    signed = ev.DaySigned(name="edwin", role=Role.FOREMAN)
    events = [*view.events, view.events[-1].model_copy(update={"body": signed})]
    hands.tablet.view = replace(view, state=changed(view.state, closed=True), events=events)
    hands.go("wall")
    assert "Signed 06:45" in hands.seen()
    found = hands.every_key()
    assert [key.named for key in found if key.kind == "action"] == []


@pytest.mark.parametrize("size", [(1280, 800), (800, 1280)])
def test_the_wall_fits_glove_and_eye_in_every_state(held: Held, size: tuple[int, int]) -> None:
    resize(*size)
    for text, units, theme in ((1.0, "metric", "day"), (1.5, "us", "dark")):
        held.hands.tablet.choose(text=text, units=units, theme=theme)
        for plan in (wall_plan(), wall_plan(grid=None, niches=[]), wall_plan(grid={"rows": 12, "columns": 9})):
            check(held.show(wall_area(plan)), f"wall, {size}, {text}, {units}")


@pytest.mark.parametrize("name", ["wall", "piece", "history", "layout"])
def test_without_a_day_each_page_says_so_and_leads_on(hands: Hands, name: str) -> None:
    hands.tablet.leave_day()
    hands.go(name)
    check(hands, f"{name} without a day")
    assert "No " in hands.seen()
