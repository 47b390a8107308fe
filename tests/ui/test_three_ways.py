"""A whole area by touch alone, by voice alone and by both: the three logs say the same.

Voice is the demo's recordings, through the recognizer. Touch presses what a screen shows, nothing else.
"""

from __future__ import annotations

import queue
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.events import AreaFinished, ReadingCalled
from fieldassist.checklist.loader import load_plan
from fieldassist.checklist.plan import DayPlan, Grid
from fieldassist.checklist.prompt import Prompt
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.ear import Fate, interpret_text
from fieldassist.day.listening import Manner
from fieldassist.places import shipped
from fieldassist.trade.quantities import Quantity
from fieldassist.ui.content.entry import TypedEntry
from fieldassist.ui.screens.area import answer_words
from fieldassist.ui.widgets.keypad import INCHES, unit_words
from fieldassist.ui.widgets.parts import EntryField
from fieldassist.voice.audio import read_audio, without_silence
from fieldassist.voice.microphone import Level
from fieldassist.voice.models import choose_model
from fieldassist.voice.recognizer import VoskRecognizer
from tests import SITE, spoken
from tests.ui.conftest import Hands, begin_tablet
from tests.ui.recorded import Recorded, recordings


# Three tiles of the demo's site: the first fails, its method is changed, the last of the run is looked under.
AREA = [
    *("this is rosa", "start area shower wall", "understood", "understood"),
    *("air temperature twenty one degrees", "yes", "wall temperature eighteen degrees", "yes"),
    *("humidity fifty two percent", "yes", "membrane checked"),
    *("gap two millimeters", "yes", "short gap one millimeter", "yes", "wall clean"),
    *("this is edwin", "base released", "this is rosa"),
    *("new batch", "understood", "two bags", "yes", "lot four seven two", "yes", "water twelve liters", "yes"),
    *("batch mixed", "remixed"),
    *("next tile", "back keyed", "spread", "combed straight", "tile set", "slid one half inch", "yes", "beaten in"),
    *("test tile lifted", "no photo", "coverage eighty five percent", "yes", "largest void six square inches", "yes"),
    *("corner empty", "edges full", "bed five millimeters", "yes", "scraped clean", "change to vibrated"),
    *("this is edwin", "method released", "this is rosa", "set again"),
    *("test tile lifted", "no photo", "coverage ninety nine percent", "no", "coverage ninety six percent", "yes"),
    *("largest void one and a half square inches", "yes", "corners full", "edges full", "bed five millimeters", "yes"),
    "put back",
    *("next tile", "back keyed", "spread", "mortar combed", "tile set", "slid fifteen millimeters", "yes", "beaten in"),
    *("next tile", "back keyed", "spread", "combed straight", "tile set", "slid half an inch", "yes", "beaten in"),
    *("lippage half a millimeter", "yes", "finish area"),
    *("test tile lifted", "no photo", "coverage ninety seven percent", "yes", "void two square inches", "yes"),
    *("corners full", "edges full", "bed six millimeters", "yes", "put back", "finish area"),
    *("air temperature twenty two degrees", "yes", "wall temperature nineteen degrees", "yes"),
    *("humidity fifty percent", "yes", "joints clean", "bags used two", "yes", "area protected"),
    "area released by edwin",
]


def plan_of_three() -> DayPlan:
    """A site with a shower wall of three tiles one above the other."""
    plan = load_plan(SITE)
    size = Quantity(3 * Fraction("0.72"), "m2")
    method = plan.methods["half inch square"]
    shower = plan.areas[0].model_copy(update={"size": size, "grid": Grid(rows=3, columns=1), "method": method})
    return plan.model_copy(update={"areas": (shower, *plan.areas[1:])})


def tap(hands: Hands, words: str) -> None:
    """Do by touch what the words mean: press the answer's target, or type the number, read it back."""
    assert hands.tablet.view is not None
    asked = hands.tablet.view.prompt
    command = interpret_text(words, asked.offers).command
    assert command is not None, words
    if isinstance(command, cmd.Keep) and not asked.waits_for_yes:
        return  # what was pressed and passes was kept at once, and what was heard well the next answer keeps
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
    # Among many answers a key says no phrase below its label.
    labels = [answer_words(fitting[0], hands.tablet.words, short=short) for short in (False, True)]
    shown = [target.text for target in hands.targets()]
    hands.press(next((label for label in labels if label in shown), labels[0]))


def _type(hands: Hands, reading: cmd.GiveReading, asked: Prompt) -> None:
    offer, slot = next((o, o.slot) for o in asked.answers if o.slot is not None)
    if reading.label is not None:
        [field] = [w for w in hands.widgets() if isinstance(w, EntryField)]
        field.text = reading.label
        hands.press(f"{hands.tablet.words(offer.label)}, with this name")
        return
    if len(slot.units) > 1:
        hands.press(unit_words(reading.unit))
    typed = TypedEntry()
    digits, part = divmod(reading.value, 1) if reading.unit in INCHES else (reading.value, 0)
    keys = list(f"{float(digits):g}") if digits or not part else []
    for key in [*keys, *([str(part)] if part else [])]:
        hands.press(key)
        typed = typed.press(key)
    assert typed.value == reading.value
    hands.press("Enter it")


def said(hands: Hands) -> list[Any]:
    """What the log says, but for when, for what was only asked or looked at, and for by what a reading was kept."""
    assert hands.tablet.view is not None
    apart = {"kept", "unquestioned"}
    return [(e.by, e.body.model_dump(mode="json", exclude=apart)) for e in hands.tablet.view.events]


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
        hands.wait(lambda last=last: tablet.reports and (not last or tablet.reports[-1] is not last[0]), take.name)
        hands.quiet()
        if tablet.view.state.last_seq > before or tablet.reports[-1].fate is Fate.TAKEN:
            return
    raise AssertionError(f"{takes[0].name} was not taken: {tablet.reports[-1]}")


def work(hands: Hands, clock: SimulatedClock, how: str) -> list[Any]:
    """The area, each line by touch or by voice."""
    audio = recordings()
    for number, words in enumerate(AREA):
        clock.advance(8 if words == "remixed" else 0.25)
        if how == "voice" or (how == "both" and number % 2):
            speak(hands, audio[words])
        else:
            tap(hands, words)
    assert hands.events(AreaFinished), f"by {how}: {hands.seen()}"
    return said(hands)


def test_an_area_by_touch_by_voice_and_by_both_gives_the_same_log(tmp_path: Path, ears: VoskRecognizer) -> None:
    logs = {}
    for how in ("touch", "voice", "both"):
        with begin_tablet(
            tmp_path / how,
            plan_of_three(),
            listen=how != "touch",
            recognizer=lambda _name: ears,
            microphone=Recorded,
        ) as hands:
            if how != "touch":
                hands.tablet.choose(manner=Manner.HELD)
                hands.wait(lambda: not hands.tablet.deaf, "the ears")
            logs[how] = work(hands, hands.clock, how)
            assert hands.tablet.view is not None
            called = [(e.body, e.source.how) for e in hands.tablet.view.events if isinstance(e.body, ReadingCalled)]
            # A name has letters: by touch it is typed.
            ways = {way for body, way in called if body.label is None}
            assert ways == {"touch": {"pressed"}, "voice": {"spoken"}, "both": {"pressed", "spoken"}}[how]
            models = {source.model for source in hands.sources(ReadingCalled) if source.how == "spoken"}
            assert all(models), "what was heard names the model that heard it"
    assert logs["touch"] == logs["voice"]
    assert logs["touch"] == logs["both"]
    assert len(logs["touch"]) > 120
