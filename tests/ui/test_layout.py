"""Laying a wall out on the tablet: sizes and start by keys, drawn as they are entered."""

from __future__ import annotations

from fractions import Fraction

import pytest

from fieldassist.checklist import events as ev
from fieldassist.checklist.plan import AreaPlan
from fieldassist.trade.quantities import Quantity
from fieldassist.ui.widgets.wall_map import WallDrawing
from tests.ui.conftest import Hands, resize
from tests.ui.test_glove_and_eye import check
from tests.ui.walls import wall_plan


def enter(hands: Hands, field: str, digits: str) -> None:
    """Press a field and type a number on the pad."""
    hands.press(field)
    for digit in digits:
        hands.press(digit)
    hands.press(f"Keep {digits}")


def drawn(hands: Hands) -> int:
    """How many pieces the drawing has."""
    return next(len(w.on.pieces) for w in hands.widgets() if isinstance(w, WallDrawing))


def test_a_wall_is_drawn_as_its_sizes_are_entered(hands: Hands) -> None:
    hands.go("layout", plan=wall_plan(niches=[]), keep=lambda _plan: None)
    assert drawn(hands) == 24
    enter(hands, "wall, width", "2400")  # 1203, 1197: two columns of six rows
    assert drawn(hands) == 12
    hands.press("long edge")  # 600 mm across: 3 x 603 and 591; upwards 3 x 1203 and 6: four of each
    assert drawn(hands) == 16


def test_the_layout_goes_into_the_plan_that_it_was_asked_for(hands: Hands) -> None:
    kept: list[AreaPlan] = []
    hands.go("day")
    hands.go("layout", plan=wall_plan(), keep=kept.append)
    enter(hands, "wall, width", "3000")
    hands.press("across")  # from the left, then a joint in the middle
    hands.press("Use this layout")
    (plan,) = kept
    # (3000 - 3) / 2 = 1498.5 on each side: one piece with its joint, 1203, and a cut of 295.5.
    assert plan.grid is not None
    assert (plan.grid.columns, plan.grid.first_column) == (4, Quantity(Fraction(591, 2), "mm"))
    assert hands.tablet.at == "day"


def test_a_niche_is_asked_for_side_by_side_and_taken_away_again(hands: Hands) -> None:
    hands.go("layout", plan=wall_plan(niches=[]), keep=lambda _plan: None)
    hands.press("niches")
    hands.press("One more niche")
    for digits in ("1000", "1200", "600", "300"):
        for digit in digits:
            hands.press(digit)
        hands.press(f"Keep {digits}")
    drawing = next(w for w in hands.widgets() if isinstance(w, WallDrawing))
    assert [(name, span.left, span.bottom, span.width, span.height) for name, span in drawing.on.niches] == [
        ("niche", 1000, 1200, 600, 300)
    ]
    hands.press("niches")
    hands.press("Take away: niche")
    drawing = next(w for w in hands.widgets() if isinstance(w, WallDrawing))
    assert drawing.on.niches == ()


def test_a_niche_beside_the_wall_is_refused_by_its_reason(hands: Hands) -> None:
    hands.go("layout", plan=wall_plan(niches=[]), keep=lambda _plan: None)
    hands.press("niches")
    hands.press("One more niche")
    for digits in ("4800", "1200", "600", "300"):
        for digit in digits:
            hands.press(digit)
        hands.press(f"Keep {digits}")
    assert "does not lie on this wall" in hands.seen()


def test_what_is_missing_is_said_and_nothing_is_kept(hands: Hands) -> None:
    kept: list[AreaPlan] = []
    hands.go("layout", plan=wall_plan(grid=None, niches=[]), keep=kept.append)
    assert "The wall needs a width and a height." in hands.seen()
    hands.press("Use this layout")
    assert kept == []


def test_an_area_of_the_day_is_laid_out_before_it_begins_and_not_after(hands: Hands) -> None:
    hands.say("this is rosa")
    hands.go("wall", area="shower wall")
    hands.press("Lay it out")
    enter(hands, "wall, width", "4800")
    enter(hands, "wall, height", "2400")
    hands.press("Use this layout")
    (planned,) = hands.events(ev.AreaPlanned)
    assert planned.anew
    # 3 x 1203 = 3609, 1191 are left; 3 x 603 = 1809, 591 are left.
    assert (planned.planned.grid.columns, planned.planned.grid.rows) == (4, 4)
    hands.say("start area shower wall")
    hands.go("layout", area="shower wall")
    hands.press("Use this layout")
    assert len(hands.events(ev.AreaPlanned)) == 1


@pytest.mark.parametrize("size", [(1280, 800), (800, 1280)])
def test_the_layout_fits_glove_and_eye(hands: Hands, size: tuple[int, int]) -> None:
    resize(*size)
    for text, units, theme in ((1.0, "metric", "day"), (1.5, "us", "dark")):
        hands.tablet.choose(text=text, units=units, theme=theme)
        for plan in (wall_plan(), wall_plan(grid=None, niches=[])):
            hands.go("layout", plan=plan, keep=lambda _plan: None)
            check(hands, f"layout, {size}, {text}")
