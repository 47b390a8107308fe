"""A clock that ran out while nobody looked, such as while the tablet was off, runs out before anything else is done."""

from __future__ import annotations

from fieldassist.checklist.commands import MakeNote, NoteWeather
from fieldassist.checklist.events import ClockRanOut, NoteMade
from fieldassist.trade.message import Message, Several
from tests.conftest import Crew


def told(said: object) -> set[str]:
    assert isinstance(said, Several)
    return {one.code for one in said.items if isinstance(one, Message)}


def test_what_ran_out_while_nobody_looked_is_recorded_and_told_before_what_is_done(crew: Crew) -> None:
    crew.open_shower()
    crew.mix()
    crew.say("next tile", "back keyed", "spread")
    # No tick meanwhile: the tablet was off over the open time.
    crew.clock.advance(25)
    answer = crew.day.do(MakeNote(text="tablet on again"))
    bodies = [event.body for event in crew.day.log.events[-12:]]
    (out,) = (n for n, body in enumerate(bodies) if isinstance(body, ClockRanOut))
    assert isinstance(bodies[-1], NoteMade)
    assert out < len(bodies) - 1
    assert answer.alarm
    assert len(told(answer.say)) > 1


def test_a_clock_that_has_just_run_out_is_left_to_the_tick(crew: Crew) -> None:
    crew.open_shower()
    crew.mix()
    crew.say("next tile", "back keyed", "spread")
    crew.clock.advance(20.5)
    answer = crew.day.do(NoteWeather(text="dry"))
    assert not crew.events(ClockRanOut)
    assert not answer.alarm
