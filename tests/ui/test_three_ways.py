"""A whole area by touch alone, by voice alone and by both: the three logs say the same.

Voice is the demo's recordings, through the recognizer. Touch presses what a screen shows, nothing else.
"""

from __future__ import annotations

import queue
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.events import AreaFinished, ReadingCalled
from fieldassist.checklist.loader import load_file
from fieldassist.checklist.prompt import Prompt
from fieldassist.cli.demo import Scenario
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.ear import interpret_text
from fieldassist.day.listening import Manner
from fieldassist.places import shipped
from fieldassist.ui.content.entry import TypedEntry
from fieldassist.ui.screens.area import answer_words
from fieldassist.ui.widgets.keypad import INCHES, unit_words
from fieldassist.voice.audio import read_audio, without_silence
from fieldassist.voice.microphone import Level
from fieldassist.voice.models import choose_model
from fieldassist.voice.recognizer import VoskRecognizer
from tests.ui.conftest import Hands, begin_tablet

DEMO = shipped("assets") / "demo"


def recordings() -> dict[str, list[Path]]:
    """What is said in the demo, and its recordings: without noise where there are any."""
    scenario = load_file(DEMO / "scenario.yaml", Scenario)
    found: dict[str, list[Path]] = {}
    for one in sorted(scenario.utterances, key=lambda u: u.noise is not None):
        found.setdefault(one.said, []).append(DEMO / "audio" / one.file)
    return found


AREA = [
    *("this is rosa", "start area shower wall", "understood", "understood"),
    *("air temperature twenty one degrees", "yes", "wall temperature eighteen degrees", "yes", "membrane checked"),
    *("gap two millimeters", "yes", "short gap one millimeter", "yes", "wall clean"),
    *("this is edwin", "base released", "this is rosa"),
    *("new batch", "understood", "batch mixed", "slaked eight minutes", "yes"),
    *("next tile", "back keyed", "mortar combed", "tile set", "slid one half inch", "yes", "beaten in"),
    *("test tile lifted", "coverage eighty five percent", "yes", "largest void six square inches", "yes"),
    *("corner empty", "scraped clean", "both sides", "this is edwin", "method released", "this is rosa"),
    *("tile set again", "test tile lifted", "coverage ninety nine percent", "no", "coverage ninety six percent", "yes"),
    *("largest void one half square inch", "yes", "corners full", "test tile reset"),
    *("next tile", "back keyed", "mortar combed", "tile set", "slid fifteen millimeters", "yes", "beaten in"),
    *("test tile lifted", "coverage ninety seven percent", "yes", "void zero square inches", "yes", "corners full"),
    "test tile reset",
    *("next tile", "back keyed", "mortar combed", "tile set", "slid five eighths of an inch", "yes", "beaten in"),
    *("test tile lifted", "coverage ninety five percent", "yes", "void one square inch", "yes", "corners full"),
    *("test tile reset", "lippage half a millimeter", "yes", "finish area", "joints clean", "bags used two", "yes"),
    *("area protected", "this is edwin", "area released"),
]


class Recorded:
    """A microphone before which recordings are played, as fast as they are heard."""

    name = "recordings"

    def __init__(self, _device: Any = None, **_rest: Any) -> None:
        self._blocks: queue.SimpleQueue[bytes | None] = queue.SimpleQueue()
        self.held = False
        self.presses: list[str] = []
        Recorded.open = self

    open: Recorded

    def __enter__(self) -> Recorded:
        return self

    def __exit__(self, *_: object) -> None:
        self._blocks.put(None)

    def frames(self) -> Iterator[bytes]:
        while (block := self._blocks.get()) is not None:
            yield block

    def play(self, path: Path) -> None:
        """A recording, and the silence after it that a key let go gives."""
        samples = without_silence(read_audio(path)).samples.astype("<i2")
        padded = np.concatenate([np.zeros(4_000, "<i2"), samples, np.zeros(36_000, "<i2")])
        for start in range(0, len(padded), 2_000):
            self._blocks.put(padded[start : start + 2_000].tobytes())

    def whole(self, _start: float, _end: float) -> bool:
        return True

    def level(self) -> Level:
        return Level(-12.0, -20.0, clipped=False, dead=False)

    def hold(self) -> None:
        self.presses.append("down")
        self.held = True

    def release(self) -> None:
        self.presses.append("up")
        self.held = False

    def mute(self) -> None: ...

    def unmute(self) -> None: ...


def tap(hands: Hands, words: str) -> None:
    """Do by touch what the words mean: press the answer's target, or type the number, read it back."""
    assert hands.tablet.view is not None
    asked = hands.tablet.view.prompt
    command = interpret_text(words, asked.offers).command
    assert command is not None, words
    if isinstance(command, cmd.StartArea):
        hands.go("today")
        hands.touch(next(t for t in hands.targets() if t.text == "Start"))
        hands.quiet()
        return
    if isinstance(command, cmd.SpeakAs):
        hands.go("today")
        hands.press(command.name.title())
        hands.go("area")
        return
    if isinstance(command, cmd.GiveReading):
        _type(hands, command, asked)
        return
    fitting = [o for o in asked.answers if o.command == command and o.slot is None]
    label = answer_words(fitting[0], hands.tablet.words, short=False)
    hands.press(label)


def _type(hands: Hands, reading: cmd.GiveReading, asked: Prompt) -> None:
    slot = next(o.slot for o in asked.answers if o.slot is not None)
    if len(slot.units) > 1:
        hands.press(unit_words(reading.unit))
    typed = TypedEntry()
    digits, part = divmod(reading.value, 1) if reading.unit in INCHES else (reading.value, 0)
    keys = list(f"{float(digits):g}") if digits or not part else []
    for key in [*keys, *([str(part)] if part else [])]:
        hands.press(key)
        typed = typed.press(key)
    assert typed.value == reading.value
    hands.press("Read it back")


def said(hands: Hands) -> list[Any]:
    """What the log says, but for when and for what was only asked or looked at."""
    assert hands.tablet.view is not None
    return [(e.by, e.body.model_dump(mode="json")) for e in hands.tablet.view.events]


@pytest.fixture(scope="module")
def ears() -> VoskRecognizer:
    return VoskRecognizer(choose_model(shipped("models"), None))


def speak(hands: Hands, takes: list[Path]) -> None:
    """Say it, and once more in another recording where the tablet asks back: that changes nothing in the log."""
    tablet = hands.tablet
    assert tablet.view is not None
    before = tablet.view.state.last_seq
    for take in takes[:3]:
        last = tablet.reports[-1:]
        Recorded.open.play(take)
        hands.wait(
            lambda last=last: tablet.reports and (not last or tablet.reports[-1] is not last[0]), take.name, seconds=60
        )
        hands.quiet()
        if tablet.view.state.last_seq > before:
            return
    raise AssertionError(f"{takes[0].name} was not taken: {tablet.reports[-1]}")


def work(hands: Hands, clock: SimulatedClock, how: str) -> list[Any]:
    """The area, each line by touch or by voice."""
    audio = recordings()
    for number, words in enumerate(AREA):
        clock.advance(0.25)
        if how == "voice" or (how == "both" and number % 2):
            speak(hands, audio[words])
        else:
            tap(hands, words)
    assert hands.events(AreaFinished)
    return said(hands)


def test_an_area_by_touch_by_voice_and_by_both_gives_the_same_log(tmp_path: Path, ears: VoskRecognizer) -> None:
    logs = {}
    for how in ("touch", "voice", "both"):
        with begin_tablet(
            tmp_path / how, listen=how != "touch", recognizer=lambda _name: ears, microphone=Recorded
        ) as hands:
            if how != "touch":
                hands.tablet.choose(manner=Manner.HELD)
                hands.wait(lambda: not hands.tablet.deaf, "the ears")
            logs[how] = work(hands, hands.clock, how)
            ways = {source.how for source in hands.sources(ReadingCalled)}
            assert ways == {"touch": {"pressed"}, "voice": {"spoken"}, "both": {"pressed", "spoken"}}[how]
            models = {source.model for source in hands.sources(ReadingCalled) if source.how == "spoken"}
            assert all(models), "what was heard names the model that heard it"
    assert logs["touch"] == logs["voice"]
    assert logs["touch"] == logs["both"]
    assert len(logs["touch"]) > 120
