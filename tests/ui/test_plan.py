"""Plan reckons an area anew with every input, says why a notch does not work, and loses nothing that was entered."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from fieldassist.ui.widgets.drawings import Ridges
from fieldassist.ui.widgets.parts import target
from tests.ui.conftest import Hands, resize


@pytest.fixture(autouse=True)
def _turned_back() -> Iterator[None]:
    yield
    resize(1280, 800)


def at_plan(hands: Hands) -> None:
    hands.go("plan")
    hands.wait(lambda: "Bed and contact" in hands.seen(), "the plan's figures")


def drawing(hands: Hands) -> Ridges:
    [found] = [widget for widget in hands.widgets() if isinstance(widget, Ridges)]
    return found


def enter(hands: Hands, what: str, *keys: str) -> None:
    hands.press(what)
    for key in keys:
        hands.press(key)
    hands.press("Take it")


def test_another_depth_changes_drawing_and_verdict_and_as_planned_puts_it_back(hands: Hands) -> None:
    at_plan(hands)
    before = drawing(hands)
    assert "Works\n" in hands.seen()
    assert "4.1 mm" in before.said
    assert before.drawing.ridge[1] == pytest.approx((0, 9.525 * 3**0.5 / 2))  # the notch's depth by the sine of 60°
    enter(hands, "Notch depth", "6")
    after = drawing(hands)
    assert "Does not work\n" in hands.seen()
    assert "Too little mortar: 2 mm reach at most" in hands.seen()
    assert max(y for _, y in after.drawing.ridge) == pytest.approx(6 * 3**0.5 / 2)
    assert "2 mm" in after.said  # 6 · 6 · sin 60° over a pitch of 15.5 mm
    assert "(entered)" in hands.target("Notch depth").text
    assert hands.target("Notch depth").chosen
    # What it proposes works, and is entered by one touch.
    [offer, *_] = [t for t in hands.targets() if t.text.startswith("Try ") and "usual size" in t.text]
    hands.touch(offer)
    hands.quiet()
    assert "Works\n" in hands.seen()
    hands.press("As planned: puts back")
    assert "4.1 mm" in drawing(hands).said
    assert "(entered)" not in hands.seen()


def test_nothing_entered_is_lost_when_the_tablet_is_turned(hands: Hands) -> None:
    at_plan(hands)
    hands.press("Hall floor")
    enter(hands, "Trowel angle", "4", "5")
    hands.press("Notch depth")
    hands.press("1")
    hands.press("0")
    resize(800, 1280)
    hands.wait(lambda: "Take it" in hands.seen(), "the entry")
    hands.press("Take it")
    for turned in (False, True):
        if turned:
            hands.go("today")
            resize(1280, 800)
            at_plan(hands)
        assert hands.target("Hall floor").chosen
        assert "10 mm" in hands.target("Notch depth").text
        assert "45°" in hands.target("Trowel angle").text
        assert drawing(hands).drawing.height_mm == pytest.approx(10 / 2**0.5)
    # An entry out of all reason is refused, kept to be mended, and changes nothing.
    enter(hands, "Notch depth", "9", "9", "9")
    assert "999 mm cannot be right here" in hands.seen()
    hands.press("Leave as it is")
    assert "10 mm" in hands.target("Notch depth").text


def test_figures_in_us_units_and_everything_that_is_pressed_is_large_enough(hands: Hands) -> None:
    at_plan(hands)
    hands.tablet.choose(units="us", text=1.5)
    hands.wait(lambda: "3/8 in" in hands.target("Notch depth").text, "US units")
    hands.quiet()
    assert "0.162 in" in drawing(hands).said
    assert "37.3 lb: two people" in hands.seen()  # 16.9 kg
    enter(hands, "Notch depth", "1/2")
    assert "1/2 in" in hands.target("Notch depth").text
    assert "0.433 in" in drawing(hands).said
    assert all(min(one.size) >= target() - 1 for one in hands.targets())
    hands.press("Collapsed")
    hands.press("with a vibrator")
    assert "Works\n" in hands.seen()
    assert "with a vibrator" in hands.target("Collapsed").text
