"""A site of ours, a simulated clock, and a day that is driven by words."""

from __future__ import annotations

import atexit
import gc
import os
import shutil
import tempfile
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import pytest
from hypothesis import settings

from fieldassist.checklist.loader import load_folder, load_plan
from fieldassist.checklist.plan import DayPlan
from fieldassist.checklist.schema import Checklist
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.ear import Fate, Reply, act, interpret, interpret_text
from fieldassist.day.session import Day
from fieldassist.places import shipped
from fieldassist.record import keys
from fieldassist.trade.message import Message
from fieldassist.voice.recognizer import Alternative, Heard
from tests import SITE
from tests.sounding import Sound

# No test writes into the folder of whoever runs them.
if "FIELDASSIST_DATA" not in os.environ:
    os.environ["FIELDASSIST_DATA"] = tempfile.mkdtemp(prefix="fieldassist-tests-")
    atexit.register(shutil.rmtree, os.environ["FIELDASSIST_DATA"], ignore_errors=True)

# Garbage is looked for less often, as by the tablet: else it takes a third of the time.
gc.set_threshold(50_000)

# The same examples on every run, so that a green run is green again; `--hypothesis-profile=deep` looks for new ones.
# How long an example takes says nothing, and a busy machine is no failure.
settings.register_profile("everyday", deadline=None, derandomize=True)
settings.register_profile("deep", deadline=None)
settings.load_profile("everyday")

# What takes longest begins first, so that no worker is left with it at the end.
_LONGEST = ("test_three_ways", "test_state_machine", "test_demo", "test_one_account", "test_rehearse", "test_contents")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """The longest tests first, all others as they come."""
    items.sort(key=lambda item: not any(name in item.nodeid for name in _LONGEST))


def pytest_collection_finish() -> None:
    """What was imported stays to the end, and no look for garbage goes through it."""
    gc.collect()
    gc.freeze()


@pytest.fixture(scope="session")
def checklists() -> dict[str, Checklist]:
    good, refused = load_folder(shipped("checklists"))
    assert not refused, "\n".join(map(str, refused))
    return good


@pytest.fixture(scope="session")
def plan() -> DayPlan:
    return load_plan(SITE)


# What Rosa says up to the hold point of the shower wall's base.
TO_THE_HOLD = (
    *("this is rosa", "start area shower wall", "understood", "understood"),
    *("air temperature twenty one degrees!", "wall temperature eighteen degrees!", "humidity fifty percent!"),
    *("membrane checked", "gap two millimeters!", "short gap one millimeter!", "wall clean"),
)


CAUTIONS_FIRST = ("engine-caution-first", "engine-cautions-again")


class Crew:
    """A day that is talked to in words, by the same path as typed commands."""

    def __init__(self, day: Day, clock: SimulatedClock) -> None:
        self.day = day
        self.clock = clock

    def hear(self, words: str) -> Reply:
        self.clock.advance(0.25)
        self.day.tick()
        return act(self.day, interpret_text(words, self.day.prompt.offers, self.day.trial()))

    def speak(self, words: str) -> Reply:
        """Words that a microphone brought, heard without a rival."""
        self.clock.advance(0.25)
        self.day.tick()
        heard = Heard((Alternative(words, 50.0, ()),), None)
        return act(self.day, interpret(heard, self.day.prompt.offers))

    def say(self, *lines: str) -> Reply:
        """Say lines that must all be taken; the last outcome. "coverage ninety percent!" stands for it and its yes.

        A caution in the way, after a break or for another person, is answered first, as a crew does.
        """
        outcome = None
        for line in lines:
            outcome = self.hear(line.rstrip("!"))
            while isinstance(outcome.spoken, Message) and outcome.spoken.code in CAUTIONS_FIRST:
                assert self.hear("understood").fate is Fate.TAKEN
                outcome = self.hear(line.rstrip("!"))
            assert outcome.fate is Fate.TAKEN, f"{line}: {outcome.fate}: {self.told(outcome)}"
            if line.endswith("!"):
                outcome = self.hear("yes")
                assert outcome.fate is Fate.TAKEN, f"yes to {line}: {self.told(outcome)}"
        assert outcome is not None
        return outcome

    def refused(self, line: str) -> str:
        """Say a line that must be refused; the reason in words, for an eye."""
        return self.day.words(self.why(line))

    def why(self, line: str) -> Message:
        """Say a line that must be refused; the reason as code and figures."""
        outcome = self.hear(line)
        assert outcome.fate is Fate.REFUSED, f"{line}: {outcome.fate}: {self.told(outcome)}"
        assert isinstance(outcome.spoken, Message)
        return outcome.spoken

    def told(self, outcome: Reply) -> str:
        """What is said back, in words for an eye; "" for nothing."""
        return "" if outcome.spoken is None else self.day.words(outcome.spoken)

    def aloud(self, outcome: Reply) -> str:
        """What is said back, in words for an ear; "" for nothing."""
        return "" if outcome.spoken is None else self.day.words.aloud(outcome.spoken)

    @property
    def step(self) -> str | None:
        """The id of the step at hand."""
        area = self.day.state.area
        return area.step.id if area is not None and area.step is not None else None

    def events(self, kind: type) -> list:
        return [e.body for e in self.day.log.events if isinstance(e.body, kind)]

    # --- stretches of work that many tests need -------------------------------------------------------------------

    def open_shower(self) -> None:
        self.say(*TO_THE_HOLD, "this is edwin", "base released", "this is rosa")

    def mix(self) -> None:
        outcome = self.say("new batch")
        if self.day.prompt.caution:
            outcome = self.say("understood")
        assert outcome is not None
        self.say("one bag!")
        if self.step == "lot":
            self.say("lot b seven!")
        self.say("water five liters!", "batch mixed")
        self.clock.advance(8)
        self.say("remixed")

    def set_tile(self) -> None:
        self.say("next tile", "back keyed", "spread", "mortar combed", "tile set", "slid half an inch!", "beaten in")

    def lift(
        self,
        percent: str = "ninety seven",
        void: str = "zero",
        corners: str = "corners full",
        edges: str = "edges full",
        bed: str = "five",
    ) -> Reply:
        self.say("test tile lifted", "no photo", f"coverage {percent} percent!", f"largest void {void} square inches!")
        return self.say(corners, edges, f"bed {bed} millimeters!")


@pytest.fixture
def cheap_hash(monkeypatch: pytest.MonkeyPatch) -> None:
    """Argon2id at its least, so that many PINs can be tried; a key file says what it was made with."""
    monkeypatch.setattr(keys, "COST", keys.Cost(passes=1, memory_kib=64, lanes=4))


@pytest.fixture
def clock() -> SimulatedClock:
    return SimulatedClock(datetime.fromisoformat("2026-03-17T06:45:00+01:00"))


# With one tile in six lifted, the first lot of this seed falls on the thirteenth setting of the day.
QUIET_SEED = "000d" * 16


@pytest.fixture
def crew(tmp_path: Path, plan: DayPlan, checklists: dict[str, Checklist], clock: SimulatedClock) -> Iterator[Crew]:
    with Day.begin(tmp_path / "day.db", plan, checklists, clock, lot_seed=QUIET_SEED) as day:
        yield Crew(day, clock)


@pytest.fixture
def sound() -> Iterator[Sound]:
    folder = Path(tempfile.mkdtemp(prefix="fa"))
    made = Sound(folder)
    try:
        made.start()
        yield made
    finally:
        made.stop()
        shutil.rmtree(folder, ignore_errors=True)
