"""Settings are kept and read again; what cannot be used is refused with its reason; a test leaves the day alone."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from kivy.core.window import Keyboard, Window

from fieldassist.checklist.plan import Role
from fieldassist.checklist.state import changed
from fieldassist.places import shipped
from fieldassist.record.keys import WrongPin
from fieldassist.ui.app import TabletApp
from fieldassist.ui.screens import settings
from fieldassist.ui.widgets.level_meter import LevelMeter
from fieldassist.ui.widgets.parts import EntryField
from fieldassist.voice.audio import frames, read_audio
from fieldassist.voice.microphone import Level, SoundInput
from tests.spoken import recording
from tests.ui.conftest import Hands

PIN, NEW = "271828", "161803"


@pytest.fixture(autouse=True)
def _inputs(monkeypatch: pytest.MonkeyPatch) -> None:
    inputs = (SoundInput("Headset", 3, 48_000, False), SoundInput("Board", 1, 44_100, True))
    monkeypatch.setattr(settings, "list_inputs", lambda: inputs)


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


def pin(hands: Hands, digits: str, then: str) -> None:
    for digit in digits:
        hands.touch(hands.target(digit))
    hands.touch(hands.target(then))
    hands.frames()


def test_preferences_are_kept_and_a_new_tablet_reads_them(hands: Hands) -> None:
    hands.go("settings")
    hands.press("Units")
    hands.press("US")
    assert hands.tablet.units == "us"
    hands.press("Back")
    hands.press("Colours and text")
    hands.press("Dark")
    hands.press("125 %")
    assert hands.target("125 %").chosen
    hands.press("Back")
    hands.press("Microphone")
    hands.wait(lambda: "Board" in hands.seen(), "the microphones")
    hands.press("Headset")
    hands.press("Back")
    hands.press("Speaking")
    hands.press("Only sounds")
    hands.press("Only in writing")
    hands.press("Back")
    hands.press("How it listens")
    hands.press("A low sound tells it too")
    assert hands.tablet.desk is not None
    assert hands.tablet.desk.sounds_dropped
    hands.press("While a key is held")
    hands.press("Key: spacebar")
    Window.dispatch("on_key_down", Keyboard.keycodes["f8"], 65, None, [])
    hands.frames()
    assert "Hold f8 and speak" in hands.seen()
    assert not hands.tablet.typing
    again = TabletApp(data=hands.tablet.data, listen=False).preferences
    assert again == hands.tablet.preferences
    kept = again.model_dump(mode="json")
    assert kept.items() >= {
        "units": "us", "theme": "dark", "text": 1.25, "microphone": "Headset", "aloud": False, "manner": "held",
        "speak": "sounds", "sounds_dropped": True, "key": "f8",
    }.items()  # fmt: skip


def test_the_microphone_is_tried_beside_the_day_and_an_attention_phrase_against_the_model(hands: Hands) -> None:
    tablet = hands.tablet
    tablet.microphone_kind = Played
    hands.say("this is rosa", "start area shower wall")
    before = tablet.view.head if tablet.view else ""
    hands.go("settings")
    hands.press("Microphone")
    Played.sound = None
    hands.press("Try it")
    hands.wait(lambda: "No sound came from Headset" in hands.seen(), "the silence", 60)
    Played.sound = recording("coverage ninety six percent")
    hands.press("Try it")
    hands.wait(lambda: "Headset works" in hands.seen(), "the phrase", 60)
    assert "Heard “coverage ninety six percent”, taken for 96 %" in hands.seen()
    hands.quiet()
    assert tablet.view is not None
    assert tablet.view.head == before
    hands.press("Back")
    hands.press("How it listens")
    [field] = [w for w in hands.widgets() if isinstance(w, EntryField)]
    for phrase, why in (("qwertzu assist", "does not know qwertzu"), ("hello", "one word is heard in any talk")):
        [field] = [w for w in hands.widgets() if isinstance(w, EntryField)]
        field.text = phrase
        hands.press("Use this phrase")
        hands.wait(lambda why=why: why in hands.seen(), "the refusal")  # type: ignore[misc]
        assert tablet.preferences.attention == "field assist"
    [field] = [w for w in hands.widgets() if isinstance(w, EntryField)]
    assert field.text == "hello", "what was typed stays"
    field.text = "Good  morning wall"
    hands.press("Use this phrase")
    hands.wait(lambda: tablet.preferences.attention == "good morning wall", "the phrase")


def test_the_level_of_digital_silence_is_an_empty_bar(hands: Hands) -> None:
    meter = LevelMeter(hands.tablet.look)
    meter.show(Level(-math.inf, -math.inf, clipped=False, dead=True))
    assert meter.share == 0


def test_a_pin_is_given_changed_with_the_old_one_and_reset_with_a_new_key(hands: Hands) -> None:
    keys, now = hands.tablet.keys, hands.clock.now()
    hands.go("settings")
    hands.press("Crew and PINs")
    assert hands.seen().count("No PIN here") == 3
    hands.touch([t for t in hands.targets() if t.text == "Give a PIN"][2])
    pin(hands, "1234", "Go on")
    assert "count up or down are guessed first" in hands.seen()
    pin(hands, PIN, "Go on")
    pin(hands, NEW, "Take it")
    assert "The two are not the same" in hands.seen()
    pin(hands, PIN, "Go on")
    pin(hands, PIN, "Take it")
    hands.wait(lambda: "The new PIN holds" in hands.seen(), "the key")
    [edwin] = keys.people()
    assert (edwin.name, edwin.role.value) == ("edwin", "foreman")
    assert edwin.fingerprint in hands.seen()
    # With a wrong old PIN nothing is changed; with the right one the key stays.
    hands.press("Change the PIN")
    for old in (NEW, PIN):
        pin(hands, old, "Go on")
        pin(hands, NEW, "Go on")
        pin(hands, NEW, "Take it")
        hands.wait(lambda: "4 tries are left" in hands.seen() or "The new PIN holds" in hands.seen(), "an answer")
        assert "Nothing was signed" not in hands.seen()
    assert keys.people()[0].public_key == keys.unlock("edwin", NEW, now).public_key == edwin.public_key
    hands.press("The PIN is forgotten")
    assert "NEW KEY" in hands.seen()
    pin(hands, PIN, "Go on")
    pin(hands, PIN, "Take it")
    hands.wait(lambda: "The new PIN holds" in hands.seen(), "the new key")
    assert keys.people()[0].public_key != edwin.public_key
    with pytest.raises(WrongPin):
        keys.unlock("edwin", NEW, now)
    assert not any(digits in repr(hands.tablet.memory) for digits in (PIN, NEW))


def test_a_checklist_that_is_refused_is_listed_with_its_line_and_reason(hands: Hands) -> None:
    own = hands.tablet.data / "checklists"
    own.mkdir(parents=True)
    good = (shipped("checklists") / "dry-floor.yaml").read_text("utf-8")
    lines = good.splitlines()
    at = next(i for i, line in enumerate(lines) if line.startswith("place:"))
    lines[at] = "place: damp"
    (own / "broken.yaml").write_text("\n".join(lines), "utf-8")
    hands.go("settings")
    hands.press("Checklists")
    hands.wait(lambda: "broken.yaml was refused" in hands.seen(), "the checklists")
    assert f"line {at + 1}: place: 'damp' is not allowed; allowed: dry, wet, exterior" in hands.seen()
    (own / "broken.yaml").write_text(good.replace("checklist: dry-floor", "checklist: our-floor", 1), "utf-8")
    hands.press("Look again")
    hands.wait(lambda: "our-floor" in hands.seen(), "the mended checklist")
    assert "refused" not in hands.seen()


def test_a_key_made_for_another_role_is_said_to_sign_nothing_here_until_a_new_one_is_made(hands: Hands) -> None:
    keys = hands.tablet.keys
    made = keys.set_pin("edwin", Role.INSTALLER, PIN, now=hands.clock.now())
    hands.go("settings")
    hands.press("Crew and PINs")
    assert "made for an installer" in hands.seen()
    hands.press("PIN and key")
    hands.press("The PIN is forgotten, or the role is another")
    assert "Only Edwin types here" in hands.seen()
    pin(hands, NEW, "Go on")
    pin(hands, NEW, "Take it")
    hands.wait(lambda: "The new PIN holds" in hands.seen(), "the new key")
    [edwin] = keys.people()
    assert (edwin.role, edwin.replaces) == (Role.FOREMAN, made.public_key)
    assert "made for an installer" not in hands.seen()


def test_the_people_of_a_practice_day_are_others_than_those_who_sign_work(hands: Hands) -> None:
    work = hands.tablet.keys
    work.set_pin("edwin", Role.FOREMAN, PIN, now=hands.clock.now())
    view = hands.tablet.view
    assert view is not None
    hands.tablet.view = dataclasses.replace(view, state=changed(view.state, kind="practice"))
    assert hands.tablet.keys.people() == ()
    assert hands.tablet.keys.set_pin("edwin", Role.FOREMAN, PIN, now=hands.clock.now()).practice
    assert not work.people()[0].practice
