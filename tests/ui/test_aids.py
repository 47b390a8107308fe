"""On every page: keys of a keyboard reach all of it, words are read aloud, the lock closes, a page explains itself."""

from __future__ import annotations

from pathlib import Path

import pytest
from kivy.core.window import Keyboard, Window

from fieldassist.checklist.events import DaySigned, SpeakerChanged
from fieldassist.checklist.plan import Role
from fieldassist.ui import aids
from fieldassist.ui.content import locked
from fieldassist.ui.content.explain import EXPLAINED
from fieldassist.ui.press_to_hear import HELD_S
from fieldassist.ui.screens.registry import SCREENS
from fieldassist.ui.widgets.explained import ExplainStrip
from fieldassist.ui.widgets.key import Key
from fieldassist.ui.widgets.sheets import Overlay
from fieldassist.ui.widgets.text import TextLabel
from fieldassist.voice.speaker import Silent
from tests.ui.conftest import Hands, begin_tablet

PIN = "271828"


class Said(Silent):
    """A voice that keeps what it was to say."""

    def __init__(self) -> None:
        super().__init__()
        self.words: list[str] = []

    def say(self, text: str) -> None:
        self.words.append(text)


def _down(hands: Hands) -> list[Key]:
    keys = hands.every_key()
    return [key for key in keys if key.state == "down"]


def strike(hands: Hands, name: str, text: str | None = None, *modifiers: str) -> None:
    """A key of the keyboard."""
    Window.dispatch("on_key_down", Keyboard.keycodes[name], 0, text, list(modifiers))
    hands.frames(3)
    hands.wait(lambda: not _down(hands), "the key that goes up")
    hands.frames(3)


def focused(hands: Hands) -> list[Key]:
    keys = hands.every_key()
    return [key for key in keys if key.focused]


@pytest.mark.parametrize("screen", ["person", "dust", "tablet", "glossary"])
def test_tab_reaches_every_key_of_a_page_and_one_has_the_focus_at_a_time(hands: Hands, screen: str) -> None:
    hands.say("this is rosa")
    hands.go(screen)
    keys = hands.every_key()
    wanted = {id(key) for key in keys}
    seen: set[int] = set()
    for _ in wanted:
        strike(hands, "tab")
        [key] = focused(hands)
        seen.add(id(key))
    assert seen == wanted


def test_enter_presses_what_has_the_focus_and_escape_goes_back(hands: Hands) -> None:
    hands.go("wall")
    hands.go("person")
    for _ in range(40):
        strike(hands, "tab")
        if focused(hands)[0].text == "Otto":
            break
    strike(hands, "enter")
    hands.quiet()
    assert [b.name for b in hands.events(SpeakerChanged)] == ["otto"]
    strike(hands, "escape")
    assert hands.tablet.at == "wall"


def test_what_lies_over_a_page_takes_the_keys_and_its_pad_is_typed_on(hands: Hands) -> None:
    hands.say("this is rosa")
    hands.go("dust")
    hands.press("Note minutes")
    strike(hands, "tab")
    [key] = focused(hands)
    layer = next(w for w in hands.tablet._frame.children if isinstance(w, Overlay))
    assert key in list(layer.walk())
    for digit in "12":
        strike(hands, digit, digit)
    assert "12" in hands.seen()
    strike(hands, "escape")
    assert not [w for w in hands.tablet._frame.children if isinstance(w, Overlay)]
    assert hands.tablet.at == "dust"


def test_words_that_are_pressed_are_read_aloud_only_where_that_was_chosen(tmp_path: Path) -> None:
    voice = Said()
    with begin_tablet(tmp_path, speaker=voice) as hands:
        hands.go("crew")
        text = next(w for w in hands.widgets() if isinstance(w, TextLabel) and w.words.startswith("A PIN opens"))
        hands.touch(text)
        hands.quiet()
        assert voice.words == []
        hands.tablet.choose(press_to_hear=True)
        text = next(w for w in hands.widgets() if isinstance(w, TextLabel) and w.words.startswith("A PIN opens"))
        hands.touch(text)
        hands.quiet()
        assert voice.words == [text.words]
        assert HELD_S < 1


@pytest.fixture
def left_alone(hands: Hands, monkeypatch: pytest.MonkeyPatch) -> Hands:
    """A tablet on which Edwin has a PIN, with a lock of two minutes that has closed."""
    hands.tablet.keys.set_pin("edwin", Role.FOREMAN, PIN, now=hands.clock.now())
    hands.say("this is rosa")
    hands.go("wall")
    hands.tablet.choose(lock_minutes=2)
    monkeypatch.setattr(hands.tablet._aids._lock, "_closed", True)
    return hands


def test_a_closed_lock_lets_the_work_go_on_and_asks_for_a_pin_before_a_page_behind_it(left_alone: Hands) -> None:
    hands = left_alone
    hands.go("work")
    assert hands.tablet.at == "work"
    hands.say("this is otto")
    assert [b.name for b in hands.events(SpeakerChanged)][-1] == "otto", "voice goes on"
    hands.go("tablet")
    assert hands.tablet.at == "work"
    assert "Locked" in hands.seen()
    hands.press("Edwin")
    for digit in PIN:
        hands.press(digit)
    hands.press("That is it")
    hands.wait(lambda: hands.tablet.at == "tablet", "the page")
    assert not hands.tablet.locked


def test_a_wrong_pin_opens_nothing(left_alone: Hands) -> None:
    hands = left_alone
    hands.go("tablet")
    hands.press("Edwin")
    for digit in "161803":
        hands.press(digit)
    hands.press("That is it")
    hands.wait(lambda: "tries are left" in hands.seen(), "the refusal")
    assert hands.tablet.locked
    assert hands.tablet.at == "wall"
    assert not hands.events(DaySigned)


def test_where_nobody_has_a_pin_no_lock_closes(hands: Hands) -> None:
    hands.tablet.choose(lock_minutes=2)
    hands.tablet._aids._lock._closed = True
    assert not hands.tablet.locked


def test_a_page_tells_once_what_it_is_for_and_its_first_press_goes_through(hands: Hands) -> None:
    hands.tablet.preferences = hands.tablet.preferences.model_copy(update={"explained": ()})
    hands.go("person")
    assert "Who speaks and who sets" in hands.seen()
    hands.touch(next(key for key in list(hands.every_key()) if key.text == "Otto"))
    hands.quiet()
    assert [b.name for b in hands.events(SpeakerChanged)] == ["otto"]
    assert not [w for w in hands.widgets() if isinstance(w, ExplainStrip)]
    hands.go("wall")
    hands.go("person")
    assert not [w for w in hands.widgets() if isinstance(w, ExplainStrip)]
    assert hands.tablet.preferences.explained == ("person",)


def test_what_a_page_says_of_itself_goes_by_itself_where_nobody_presses(
    hands: Hands, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(aids, "SHOWN_S", 0.05)
    hands.tablet.preferences = hands.tablet.preferences.model_copy(update={"explained": ()})
    hands.go("dust")
    hands.wait(lambda: hands.tablet.preferences.explained == ("dust",), "the end of it")
    assert not [w for w in hands.widgets() if isinstance(w, ExplainStrip)]


def test_every_page_explains_itself_and_those_behind_the_lock_are_there() -> None:
    assert set(SCREENS) & locked.SCREENS >= {"tablet", "crew", "ear"}
    assert set(EXPLAINED) == set(SCREENS)


def test_a_refusal_tells_why_with_what_comes_first_and_the_words_in_it(hands: Hands) -> None:
    hands.say("this is rosa", "start area shower wall", "understood", "understood")
    hands.say("new batch")
    hands.press("Why?")
    seen = hands.seen()
    assert "Asked first:" in seen
    assert "Words in it" in seen
    hands.press("Batch")
    assert hands.tablet.at == "glossary"
    assert "Mortar that was mixed in one go" in hands.seen()
