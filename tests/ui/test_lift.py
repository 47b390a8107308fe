"""A lift by touch: painted, typed, told with one yes; and a failed one with its cure."""

from __future__ import annotations

from itertools import product

import pytest

from fieldassist.checklist.events import (
    HoldReleased,
    LiftJudged,
    LiftLeft,
    MethodChanged,
    ReadingCalled,
    SpeakerChanged,
    TileLifted,
    TileTakenOff,
)
from fieldassist.checklist.plan import Role
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.verdict_field import VerdictField
from tests.ui.conftest import Hands, resize
from tests.ui.lifting import painting, until_lift
from tests.ui.test_every_state import STATES
from tests.ui.test_glove_and_eye import check

PIN = "835261"


def big(hands: Hands) -> Key:
    """The large key of the action row."""
    [found] = [
        key for key in list(hands.every_key()) if key.kind in ("action", "fail") and not isinstance(key, VerdictField)
    ]
    return found


def lifted(hands: Hands) -> None:
    """The first piece of the shower wall is off, its back lies before the eyes."""
    until_lift(hands)
    hands.go("lift")
    hands.press("Lift piece 1")


def failed(hands: Hands) -> None:
    lifted(hands)
    hands.press("All mortar")
    hands.draw(painting(hands), (0.2, 0.7), (0.8, 0.7), (0.2, 0.75), (0.8, 0.8))
    hands.press("Fails: keep")


def test_a_passing_lift_is_three_presses(hands: Hands) -> None:
    """The first one, on another page, leads here: a stroke on the back says that the piece is off."""
    until_lift(hands)
    hands.go("lift")
    hands.draw(painting(hands), (0.5, 0.6))
    hands.quiet()
    hands.press("Yes: 99 %, passed")
    assert len(hands.events(TileLifted)) == 1
    assert [judged.verdict for judged in hands.events(LiftJudged)] == ["passed"]
    assert hands.tablet.at == "work"


def test_a_back_without_a_void_is_one_press_too(hands: Hands) -> None:
    until_lift(hands)
    hands.go("lift")
    hands.press("All mortar")
    hands.press("Yes: 100 %, passed")
    assert [judged.coverage for judged in hands.events(LiftJudged)] == [100]


def test_nothing_is_told_before_somebody_has_looked(hands: Hands) -> None:
    lifted(hands)
    assert big(hands).off
    before = len(hands.events(ReadingCalled))
    hands.press("Look at the back first")
    assert len(hands.events(ReadingCalled)) == before
    assert not hands.events(LiftJudged)


def test_the_figures_follow_the_finger_and_undo_takes_a_stroke_back(hands: Hands) -> None:
    lifted(hands)
    hands.press("All mortar")
    hands.draw(painting(hands), (0.3, 0.6), (0.5, 0.6))
    assert big(hands).kind == "fail", "a void of 240 mm is too large"
    hands.press("Undo")
    assert big(hands).text == "Yes: 100 %, passed"
    hands.press("Void")
    hands.draw(painting(hands), (0.3, 0.6))
    assert big(hands).text == "Yes: 99 %, passed"
    hands.press("Mortar")
    hands.draw(painting(hands), (0.25, 0.6), (0.35, 0.6))
    assert big(hands).text == "Yes: 100 %, passed"


def test_nothing_painted_is_lost_when_the_tablet_is_turned_or_the_look_changes(hands: Hands) -> None:
    lifted(hands)
    hands.draw(painting(hands), (0.3, 0.6), (0.5, 0.6))
    told = big(hands).text
    hands.tablet.choose(theme="dark", text=1.5)
    hands.frames(4)
    assert big(hands).text == told


def test_a_choice_that_is_pressed_turns_to_its_other_answer(hands: Hands) -> None:
    lifted(hands)
    hands.press("All mortar")
    hands.press("Corners")
    assert big(hands).kind == "fail"
    hands.press("Corners")
    assert big(hands).kind == "action"


def test_a_piece_that_cannot_be_lifted_is_left_with_a_word(hands: Hands) -> None:
    until_lift(hands)
    hands.go("lift")
    hands.press("Cannot be lifted")
    assert [body.tile for body in hands.events(LiftLeft)] == [1]


def test_the_label_that_was_typed_goes_into_the_record_with_the_lift(hands: Hands) -> None:
    until_lift(hands)
    hands.go("lift")
    hands.tablet._screen._draft(hands.tablet.view, hands.tablet.view.state.area).label = "b7"  # type: ignore[union-attr]
    hands.tablet.refresh()
    hands.frames(4)
    hands.press("Lift piece 1")
    assert [body.label for body in hands.events(TileLifted)] == ["b7"]


# --- failed -------------------------------------------------------------------------------------------------------


def test_a_failed_lift_is_cured_by_a_change_that_the_foreman_signs_in_place_and_rosa_stays(hands: Hands) -> None:
    hands.tablet.keys.set_pin("edwin", Role.FOREMAN, PIN, now=hands.clock.now())
    failed(hands)
    assert hands.tablet.at == "failed"
    hands.press("Scraped clean")
    cures = [
        key for key in list(hands.every_key()) if "base" in " ".join(line.words for line in getattr(key, "_lines", ()))
    ]
    assert len(cures) == 2
    before = len(hands.events(SpeakerChanged))
    hands.press("Change: Edwin signs it")
    for digit in PIN:
        hands.press(digit)
    hands.press("That is it")
    hands.wait(lambda: bool(hands.events(HoldReleased)), "the release")
    [changed] = hands.events(MethodChanged)
    assert changed.method != hands.tablet.view.state.area.plan.method  # type: ignore[union-attr]
    assert [body.how for body in hands.events(HoldReleased) if body.step == "release-method"] == ["pin"]
    assert len(hands.events(SpeakerChanged)) == before


def test_a_wrong_pin_changes_the_method_and_releases_nothing(hands: Hands) -> None:
    hands.tablet.keys.set_pin("edwin", Role.FOREMAN, PIN, now=hands.clock.now())
    failed(hands)
    hands.press("Scraped clean")
    hands.press("Change: Edwin signs it")
    for digit in "1470":
        hands.press(digit)
    hands.press("That is it")
    hands.frames(10)
    assert not [body for body in hands.events(HoldReleased) if body.step == "release-method"]
    hands.press("Back")
    hands.press("Called in Edwin's name")
    assert [body.how for body in hands.events(HoldReleased) if body.step == "release-method"] == ["called"]


def test_the_other_cure_is_looked_at_and_is_what_is_changed_to(hands: Hands) -> None:
    failed(hands)
    hands.press("Scraped clean")
    second = [key for key in list(hands.every_key()) if hasattr(key, "_lines")][1]
    hands.touch(second)
    hands.quiet()
    assert [key.chosen for key in list(hands.every_key()) if hasattr(key, "_lines")] == [False, True]


def test_the_mortar_that_was_skinned_leaves_the_method_as_it_is(hands: Hands) -> None:
    failed(hands)
    hands.press("Scraped clean")
    hands.press("The mortar was skinned")
    assert not hands.events(MethodChanged)


def test_suspects_are_taken_off_by_one_press_and_the_next_lift_lies_outward(hands: Hands) -> None:
    for _, lines in STATES:
        for line in lines:
            if line.startswith("+"):
                hands.clock.advance(float(line[1:]))
                hands.wait_tick()
            else:
                hands.say(line)
    hands.go("failed")
    # Set before piece 4, which failed: nearest to it first.
    assert hands.key("Lift piece 3")
    assert "Changed to this" in hands.seen()
    hands.press("Take off 2, 3")
    assert [body.tile for body in hands.events(TileTakenOff)] == [2, 3]
    assert not [key for key in list(hands.every_key()) if key.text.startswith("Take off")]


# --- glove and eye ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("size", [(1280, 800), (800, 1280)])
def test_every_state_of_a_lift_fits_glove_and_eye(hands: Hands, size: tuple[int, int]) -> None:
    resize(*size)
    until_lift(hands)
    looks = list(product((1.0, 1.5), ("metric", "us")))

    def everywhere(what: str) -> None:
        for text, units in looks:
            hands.tablet.choose(text=text, units=units)
            hands.frames(6)
            check(hands, f"{what}, {size}, text {text}, {units}")

    hands.go("lift")
    everywhere("to be lifted")
    hands.tablet.choose(text=1.0, units="metric")
    hands.frames(6)
    hands.press("Lift piece 1")
    everywhere("nobody has looked")
    hands.tablet.choose(text=1.0, units="metric")
    hands.frames(6)
    hands.press("All mortar")
    everywhere("all mortar")
    hands.tablet.choose(text=1.0, units="metric")
    hands.frames(6)
    hands.draw(painting(hands), (0.02, 0.95), (0.5, 0.7), (0.9, 0.7))
    everywhere("fails")
    hands.press("Fails: keep")
    everywhere("failed")
    hands.tablet.choose(text=1.0)
    hands.frames(6)
    hands.press("Scraped clean")
    everywhere("which change")
