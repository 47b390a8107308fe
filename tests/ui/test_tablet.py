"""The tablet goes on when something is missing, says so, and opens the day again where it was."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from kivy.core.window import Keyboard, Window

from fieldassist.checklist.events import AreaCarried, StepConfirmed
from fieldassist.day.ear import Fate
from fieldassist.day.listening import Manner
from fieldassist.places import shipped
from fieldassist.ui import start_kivy
from fieldassist.ui.app import open_window
from fieldassist.ui.widgets.sheets import NotWorkFrame
from fieldassist.voice.microphone import NoMicrophone
from fieldassist.voice.models import choose_model
from fieldassist.voice.recognizer import VoskRecognizer
from fieldassist.voice.vosk_model import ModelProblem
from tests.ui.conftest import Hands, begin_tablet, resize
from tests.ui.recorded import Recorded, recordings
from tests.ui.test_glove_and_eye import TO_A_READING


class Absent:
    """No microphone is plugged in."""

    def __init__(self, _device: Any = None, **_rest: Any) -> None: ...

    def __enter__(self) -> Absent:
        raise NoMicrophone("No microphone was found. Plug one in.")

    def __exit__(self, *_: object) -> None: ...


@pytest.fixture(scope="module")
def ears() -> VoskRecognizer:
    return VoskRecognizer(choose_model(shipped("models"), None))


def works_by_touch(hands: Hands) -> None:
    hands.say(*TO_A_READING[:-1])
    hands.tablet.close_sheet()
    hands.go("work")
    hands.press("Membrane is tight")
    assert hands.events(StepConfirmed)[-1].step == "membrane"


def test_without_a_speech_model_the_day_goes_on_by_touch_and_says_so(tmp_path: Path) -> None:
    def missing(_name: str | None) -> VoskRecognizer:
        raise ModelProblem("The speech model 'x' is not there.")

    with begin_tablet(tmp_path, listen=True, recognizer=missing) as hands:
        hands.wait(lambda: "not there" in hands.tablet.deaf, "the problem")
        hands.wait(
            lambda: "The speech model 'x' is not there. Go on by touch." in hands.seen(), "the sheet that says so"
        )
        works_by_touch(hands)


def test_without_a_microphone_the_day_goes_on_by_touch_and_says_so(tmp_path: Path, ears: VoskRecognizer) -> None:
    with begin_tablet(tmp_path, listen=True, recognizer=lambda _name: ears, microphone=Absent) as hands:
        hands.wait(lambda: "No microphone" in hands.tablet.deaf, "the problem")
        assert "Plug one in. Go on by touch." in hands.seen()
        works_by_touch(hands)


def test_a_wrong_attention_phrase_leaves_the_day_as_it_is(tmp_path: Path, ears: VoskRecognizer) -> None:
    with begin_tablet(tmp_path, listen=True, recognizer=lambda _name: ears, microphone=Recorded) as hands:
        hands.wait(lambda: not hands.tablet.deaf, "the ears")
        hands.tablet.choose(attention="zyx wvu", manner=Manner.CALLED)
        hands.wait(lambda: "cannot be the attention phrase" in hands.tablet.deaf, "the problem")
        works_by_touch(hands)


def test_the_held_key_is_heard_and_is_a_letter_while_something_is_typed(tmp_path: Path, ears: VoskRecognizer) -> None:
    space = Keyboard.keycodes["spacebar"]
    with begin_tablet(tmp_path, listen=True, recognizer=lambda _name: ears, microphone=Recorded) as hands:
        hands.wait(lambda: not hands.tablet.deaf, "the ears")
        hands.tablet.choose(manner=Manner.HELD)
        hands.wait(lambda: not hands.tablet.deaf, "the ears again")
        hands.go("ear")
        Window.dispatch("on_key_down", space, 44, None, [])
        assert Recorded.open.presses == ["down"]
        Window.dispatch("on_key_down", space, 44, None, [])  # a key that is held repeats itself
        Window.dispatch("on_key_up", space, 44)
        assert Recorded.open.presses == ["down", "up"]
        hands.tablet.typing = True
        Window.dispatch("on_key_down", space, 44, None, [])
        assert Recorded.open.presses == ["down", "up"]


def test_what_was_heard_and_how_it_was_taken_is_seen(tmp_path: Path, ears: VoskRecognizer) -> None:
    with begin_tablet(tmp_path, listen=True, recognizer=lambda _name: ears, microphone=Recorded) as hands:
        hands.wait(lambda: not hands.tablet.deaf, "the ears")
        hands.tablet.choose(manner=Manner.HELD)
        hands.wait(lambda: not hands.tablet.deaf, "the ears again")
        Recorded.open.play(recordings()["this is rosa"][0])
        hands.wait(lambda: hands.tablet.reports, "what was heard")
        hands.go("ear")
        assert "this is rosa" in hands.seen()
        assert hands.tablet.reports[-1].fate is Fate.TAKEN


def test_a_day_opens_again_at_its_step_with_its_clocks_and_whatever_way_up_the_tablet_is(hands: Hands) -> None:
    hands.say(*TO_A_READING)
    tablet, path = hands.tablet, hands.tablet.preferences.day
    assert path is not None
    tablet.close_day()
    tablet.go("day")
    hands.clock.advance(3)
    tablet.open_day(path)
    hands.wait(lambda: tablet.view is not None and tablet.at == "work", "the day")
    asked = tablet.words(tablet.view.prompt.ask) if tablet.view is not None else ""
    assert "ten foot straightedge" in asked
    resize(800, 1280)
    hands.frames(4)
    assert tablet.upright
    assert tablet.at == "work"


def test_a_damaged_day_is_told_and_another_can_be_begun(hands: Hands) -> None:
    tablet, path = hands.tablet, hands.tablet.preferences.day
    assert path is not None
    tablet.close_day()
    path.write_bytes(path.read_bytes().replace(b"Quillhaven", b"Elsewhere1"))
    tablet.open_day(path)
    hands.wait(lambda: tablet.problem, "the problem")
    assert tablet.problem in hands.seen()
    hands.press("Practice")
    hands.wait(lambda: tablet.view is not None, "another day")
    assert not tablet.problem


def test_the_next_day_begins_where_the_last_one_was_left(hands: Hands) -> None:
    hands.say(*TO_A_READING)
    tablet, path = hands.tablet, hands.tablet.preferences.day
    assert path is not None
    tablet.close_day()
    folder = tablet.data / "days"
    folder.mkdir(parents=True)
    path.rename(folder / "2026-03-16.db")
    hands.clock.advance(24 * 60)
    tablet.go("day")
    hands.wait(lambda: "Go on today" in hands.seen(), "the days")
    hands.press("Go on today")
    hands.wait(lambda: tablet.at == "site", "the plan")
    hands.press("Begin the day")
    hands.wait(lambda: tablet.view is not None, "the next day")
    assert [body.area for body in hands.events(AreaCarried)] == ["shower wall"]
    hands.say("this is rosa", "start area shower wall")
    assert hands.tablet.view is not None
    assert "AreaStarted" not in {type(event.body).__name__ for event in hands.tablet.view.events}


def test_practice_is_marked_around_every_page(hands: Hands) -> None:
    hands.tablet.close_day()
    hands.go("day")
    hands.press("Practice")
    hands.wait(lambda: hands.tablet.view is not None, "the practice day")
    for place in ("wall", "work", "plan", "day"):
        hands.go(place)
        assert [widget for widget in hands.widgets() if isinstance(widget, NotWorkFrame)], place


def test_without_a_screen_no_window_is_opened_that_nobody_sees(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "SDL_VIDEODRIVER"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr(start_kivy, "Path", lambda _path: SimpleNamespace(exists=lambda: False))
    monkeypatch.setattr(start_kivy.sys, "platform", "linux")
    with pytest.raises(start_kivy.NoWindow, match="cli-tablet-no-window"):
        open_window(None)
    monkeypatch.setenv("DISPLAY", ":0")
    assert start_kivy.has_screen()
