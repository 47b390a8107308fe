"""Practice as a tour of two minutes: a day at the invented site that has come as far as its next tile, and what to
press from there. The day is marked as practice on every screen and page."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from fieldassist.checklist import events as ev
from fieldassist.checklist.events import Event
from fieldassist.checklist.loader import load_plan
from fieldassist.checklist.schema import Checklist
from fieldassist.day.clock import Clock, SimulatedClock
from fieldassist.day.ear import Fate, act, interpret_text
from fieldassist.day.session import Day
from fieldassist.places import shipped
from fieldassist.trade.message import Message, message

# What was done before the tour begins; minutes pass at "+".
_BEFORE = (
    *("this is edwin", "weather overcast", "this is rosa", "start area shower wall", "change method to large slanted"),
    *("understood", "understood", "air temperature twenty one degrees", "wall temperature eighteen degrees"),
    *("humidity fifty percent", "membrane checked", "gap two millimeters", "short gap one millimeter", "wall clean"),
    *("base released by edwin", "new batch", "understood", "two bags", "lot four seven two", "water twelve liters"),
    *("batch mixed", "+8", "remixed", "next tile", "back keyed", "spread", "mortar combed", "tile set"),
    *("slid half an inch", "beaten in", "test tile lifted", "no photo", "coverage ninety seven percent", "yes"),
    *("largest void one square inch", "yes", "corners full", "edges full", "bed five millimeters", "yes", "put back"),
    *("spread", "tile in"),
)
_A_PHRASE_MIN = 0.3
# Of many seeds one whose first lot falls on the tile of the tour: there is a lift to see.
_SEED = hashlib.sha256(b"practice a").hexdigest()


class TourStray(RuntimeError):
    """What is done before the tour was not taken as meant: the checklist or the invented site have changed."""


def begin_practice(path: Path, checklists: Mapping[str, Checklist], clock: Clock) -> Day:
    """The day of the tour, at its beginning. CannotOpen, LogProblem as of `Day.begin`; TourStray."""
    plan = load_plan(shipped("assets") / "demo" / "site.yaml")
    passed = sum(float(line[1:]) if line.startswith("+") else _A_PHRASE_MIN for line in _BEFORE)
    start = datetime.fromisoformat(clock.now().wall) - timedelta(minutes=passed + 1)
    earlier = SimulatedClock(start, boot="before the tour")
    day = Day.begin(path, plan, checklists, earlier, kind="practice", lot_seed=_SEED)
    for line in _BEFORE:
        if line.startswith("+"):
            earlier.advance(float(line[1:]))
            continue
        earlier.advance(_A_PHRASE_MIN)
        if act(day, interpret_text(line, day.prompt.offers, day.trial())).fate is not Fate.TAKEN:
            raise TourStray(line)
    day.clock = clock
    return day


# The screens over which the tour says what comes next.
GUIDED = ("work", "lift", "wall", "piece")


@dataclass(frozen=True, slots=True)
class TourStep:
    """One thing to press. name: the end of its message's code; done: whether what happened since the tour began shows
    it; screen: where it is pressed."""

    name: str
    screen: str
    done: Callable[[Sequence[Event]], bool]

    @property
    def told(self) -> Message:
        """What to do, in a few words."""
        return message("site-tour", step=self.name)


def _happened(*kinds: type) -> Callable[[Sequence[Event]], bool]:
    return lambda events: any(isinstance(event.body, kinds) for event in events)


STEPS: tuple[TourStep, ...] = (
    TourStep("spread", "work", _happened(ev.MortarSpread)),
    TourStep("in", "work", _happened(ev.TileCounted)),
    TourStep("lift", "work", _happened(ev.LiftJudged)),
    TourStep("back", "work", _happened(ev.Withdrawn)),
)


@dataclass(frozen=True, slots=True)
class Tour:
    """How far somebody has come. now: the step at hand, None once all are done."""

    done: tuple[TourStep, ...]
    now: TourStep | None

    @property
    def told(self) -> Message:
        """The step at hand with its number, in a few words."""
        step = message("site-tour", step=self.now.name if self.now is not None else "over")
        return message("site-tour-at", number=str(min(len(self.done) + 1, len(STEPS))), of=str(len(STEPS)), step=step)


def tour_of(events: Sequence[Event]) -> Tour:
    """Where the tour stands. events: of a day that `begin_practice` began."""
    here = events[-1].at.boot if events else ""
    begun = next((index for index, event in enumerate(events) if event.at.boot != events[0].at.boot), len(events))
    since = events[begun:] if here != events[0].at.boot else ()
    done: list[TourStep] = []
    for step in STEPS:
        if not step.done(since):
            return Tour(tuple(done), step)
        done.append(step)
    return Tour(tuple(done), None)
