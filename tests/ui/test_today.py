"""Today tells where the day stands, in words and shapes, and starts areas."""

from __future__ import annotations

from fieldassist.checklist.events import AreaStarted, SpeakerChanged
from tests.ui.conftest import Hands


def test_who_speaks_is_chosen_by_touch(hands: Hands) -> None:
    hands.press("Rosa")
    assert [body.name for body in hands.events(SpeakerChanged)] == ["rosa"]
    assert hands.target("Rosa").chosen
    assert "Rosa, installer" in hands.seen()


def test_an_area_is_started_and_shown_at_its_step(hands: Hands) -> None:
    hands.press("Rosa")
    [first, *_] = [t for t in hands.targets() if t.text == "Start"]
    hands.touch(first)
    hands.quiet()
    assert len(hands.events(AreaStarted)) == 1
    assert hands.tablet.at == "area"
    assert "Caution" in hands.seen()


def test_an_area_that_is_started_by_voice_is_looked_at_without_a_hand(hands: Hands) -> None:
    hands.say("this is rosa")
    assert hands.tablet.at == "today"
    hands.say("start area shower wall")
    assert hands.tablet.at == "area"
    hands.go("today")
    hands.say("understood")
    assert hands.tablet.at == "today", "who went there to look is left there"
