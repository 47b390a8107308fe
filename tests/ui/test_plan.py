"""The plan by touch: a step changes verdict and picture, and what works goes on the wall."""

from __future__ import annotations

from itertools import product

import pytest

from fieldassist.checklist.events import MethodChanged, MethodVouched
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.step_key import StepKey
from tests.ui.conftest import Hands, resize
from tests.ui.lifting import SHOWER, work
from tests.ui.test_glove_and_eye import check


def at_plan(hands: Hands) -> None:
    """The shower wall's base is 2 mm off, and its method does not do."""
    work(hands, *SHOWER)
    hands.go("plan")


def big(hands: Hands) -> Key:
    [found] = [key for key in list(hands.every_key()) if key.kind == "action"]
    return found


def test_no_day_has_a_plan_and_the_way_to_one_is_a_key(hands: Hands) -> None:
    hands.tablet.leave_day()
    hands.frames(6)
    hands.go("plan")
    assert big(hands).text == "To the day"


def test_what_does_not_work_leads_to_the_nearest_that_does_and_on_to_the_wall(hands: Hands) -> None:
    at_plan(hands)
    assert "Does not work" in hands.seen()
    hands.press(big(hands).text)
    assert "Works" in hands.seen()
    before = hands.tablet.view.state.area.method  # type: ignore[union-attr]
    hands.press("Comb both")
    hands.press("Use from piece 1")
    [changed] = hands.events(MethodChanged)
    assert changed.method != before
    assert changed.method.sides == "both"
    hands.frames(4)
    assert not [key for key in list(hands.every_key()) if key.text.startswith("Use from")]


def test_nothing_that_is_entered_changes_the_day_until_it_is_used(hands: Hands) -> None:
    at_plan(hands)
    hands.press("Comb both")
    assert not hands.events(MethodChanged)
    hands.press("As planned")
    assert "Does not work" in hands.seen()


def test_a_step_that_there_is_not_says_so(hands: Hands) -> None:
    at_plan(hands)
    [none] = [key for key in list(hands.every_key()) if isinstance(key, StepKey) and key.off]
    hands.touch(none)
    hands.frames(4)
    assert "no step this way" in hands.seen()


def test_another_area_is_reckoned_and_not_changed_while_this_one_is_open(hands: Hands) -> None:
    at_plan(hands)
    hands.press("Hall floor")
    assert "Does not work" in hands.seen()
    hands.press(big(hands).text)
    assert not hands.events(MethodChanged)
    assert not hands.events(MethodVouched)


def test_bags_and_sources_open_on_demand_and_lead_back(hands: Hands) -> None:
    at_plan(hands)
    hands.press("Bags, lifts, handling")
    assert "Bags and water" in hands.seen()
    hands.press("Back to the method")
    hands.press("Sources")
    assert "A108" in hands.seen()
    hands.press("Back to the method")
    assert hands.tablet.at == "plan"


@pytest.mark.parametrize("size", [(1280, 800), (800, 1280)])
def test_the_plan_fits_glove_and_eye(hands: Hands, size: tuple[int, int]) -> None:
    resize(*size)
    at_plan(hands)
    for text, units in product((1.0, 1.5), ("metric", "us")):
        hands.tablet.choose(text=text, units=units)
        for name in ("plan", "plan parts", "plan sources"):
            hands.go(name)
            hands.frames(6)
            check(hands, f"{name}, {size}, text {text}, {units}")
    hands.tablet.choose(text=1.0)
    hands.go("plan")
    hands.press("Comb both")
    check(hands, f"works, {size}")
