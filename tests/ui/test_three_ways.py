"""A whole area by touch, and to its first lift by voice and by both: the logs say the same.

Voice is the demo's recordings, through the recognizer. Touch presses what a screen shows, nothing else; but what a
lifted tile shows is told in words there too: its page tells all of it with one yes, and has tests of its own.
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import Any

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
from fieldassist.trade.message import Figure
from fieldassist.trade.quantities import Quantity, unit_info
from fieldassist.ui.content.at_work import page_at_work
from fieldassist.ui.content.names import capital
from fieldassist.ui.content.work_page import WorkAnswer, WorkPage, work_page
from fieldassist.ui.screens import work as work_screen
from fieldassist.ui.widgets.letters import EntryField
from fieldassist.ui.widgets.number import NumberPad
from fieldassist.voice.models import choose_model
from fieldassist.voice.recognizer import VoskRecognizer
from tests import SITE
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
    """Do by touch what the words mean: press the key that answers, on the page or beside it, or type the number."""
    assert hands.tablet.view is not None
    asked = hands.tablet.view.prompt
    command = interpret_text(words, asked.offers).command
    assert command is not None, words
    if isinstance(command, cmd.Keep) and not asked.waits_for_yes:
        return  # what was pressed and passes was kept at once, and what was heard well the next answer keeps
    if _lifts(hands):
        hands.say(words)
        return
    hands.go("work")
    if isinstance(command, cmd.SpeakAs):
        if hands.tablet.view.state.speaker is not None:
            hands.go("person")
        every = hands.every_key()
        keys = [key for key in every if key.named.startswith(command.name.title())]
        hands.touch(keys[-1])
        hands.quiet()
        return
    if isinstance(command, cmd.GiveReading):
        _type(hands, command, asked)
        return
    offer = next(o for o in asked.offers if o.command == command and o.now)
    _press(hands, {answer.offer.command: answer.told for answer in _keyed(hands)}.get(command, offer.label))


def _lifts(hands: Hands) -> bool:
    """Whether what a lifted tile shows is asked: its page tells all of it with one yes."""
    view = hands.tablet.view
    assert view is not None
    return page_at_work(view.state, view.prompt, view.events) == "lift"


def _page(hands: Hands) -> WorkPage:
    view = hands.tablet.view
    assert view is not None
    return work_page(view.state, view.prompt, view.at, hands.tablet.units)


def _keyed(hands: Hands) -> tuple[WorkAnswer, ...]:
    page = _page(hands)
    return tuple(answer for answer in (*page.answers, *page.others) if answer.offer.slot is None)


def _press(hands: Hands, told: Figure) -> None:
    """The key of the page, or that under "Something else"."""
    label = capital(hands.tablet.words(told))
    shown = hands.every_key()
    if label not in [capital(key.text) for key in shown]:
        hands.go("else")
    keys = hands.every_key()
    hands.touch(next(key for key in keys if capital(key.text) == label))
    hands.quiet()


def _type(hands: Hands, reading: cmd.GiveReading, asked: Prompt) -> None:
    page = _page(hands)
    if reading.label is not None:
        hands.press("Type it")
        [field] = [w for w in hands.widgets() if isinstance(w, EntryField)]
        field.text = reading.label
        hands.press("Take it")
        return
    if page.shape == "yes or no":
        return  # it stands there already, and is answered
    if page.shape != "number":
        offer = next(o for o in asked.answers if o.slot is not None)
        _press(hands, offer.label)
    pads = [w for w in hands.widgets() if isinstance(w, NumberPad)]
    pad = pads[0]
    if len(pad.number.asked.units) > 1:
        hands.touch(next(k for k in pad.walk() if getattr(k, "text", "") == unit_info(reading.unit).symbol))
    if pad.number.ruled:
        for step, name in ((16, "+1 in"), (1, "+1/16")):
            left = round((reading.value - (pad.number.value or 0)) * 16)
            for _ in range(left // step):
                hands.touch(next(k for k in pad.walk() if getattr(k, "named", "") == name))
    else:
        for digit in f"{float(reading.value):g}":
            hands.touch(next(k for k in pad.walk() if getattr(k, "named", "") == digit))
    assert pad.number.value == reading.value
    told = hands.tablet.words.in_units("as given")(pad.number.keep_told)
    hands.touch(next(k for k in pad.walk() if getattr(k, "named", "") == told))
    hands.quiet()


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
    """The area, each line by touch or by voice; by voice or both to the yes to its first reading of contact."""
    # The demo's whole day is spoken in its own test.
    audio = recordings()
    area = AREA[: AREA.index("coverage eighty five percent") + 2] if how != "touch" else AREA
    for number, words in enumerate(area):
        clock.advance(8 if words == "remixed" else 0.25)
        if how == "voice" or (how == "both" and number % 2):
            speak(hands, audio[words])
        else:
            tap(hands, words)
    assert how != "touch" or hands.events(AreaFinished), f"by {how}: {hands.seen()}"
    return said(hands)


def test_an_area_by_touch_by_voice_and_by_both_gives_the_same_log(
    tmp_path: Path, ears: VoskRecognizer, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(work_screen, "DEAF_S", 0.0)
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
            ways = {way for body, way in called if body.label is None and body.section != "lift"}
            assert ways == {"touch": {"pressed"}, "voice": {"spoken"}, "both": {"pressed", "spoken"}}[how]
            models = {source.model for source in hands.sources(ReadingCalled) if source.how == "spoken"}
            assert all(models), "what was heard names the model that heard it"
    assert len(logs["voice"]) > 50
    assert logs["touch"][: len(logs["voice"])] == logs["voice"]
    assert logs["voice"] == logs["both"]
    assert len(logs["touch"]) > 120
