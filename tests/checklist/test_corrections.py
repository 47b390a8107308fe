"""An earlier reading is corrected before the day is signed: nothing that came after is undone, and verdicts follow."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist.fold import fold
from fieldassist.checklist.standing import standing
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.ear import Fate
from fieldassist.trade.message import Read, message
from fieldassist.trade.quantities import Quantity
from tests.checklist.believed import Believed, believed


@pytest.fixture
def wall(tmp_path: Path, clock: SimulatedClock) -> Iterator[Believed]:
    with believed(tmp_path, clock) as crew:
        yield crew


def percent(value: int) -> Read:
    return Read(Quantity(Fraction(value), "percent"))


def kept(wall: Believed, step: str) -> int:
    """The event that kept the last reading of a step that counts."""
    area = wall.day.state.area
    return [reading.kept for reading in area.readings.values() if reading.step == step][-1]


def test_a_lifts_reading_is_corrected_by_name_and_read_back_with_the_old_one(wall: Believed) -> None:
    wall.batch()
    wall.tile()
    wall.lift("ninety seven")
    wall.tile()
    wall.lift("ninety nine")
    wrong = kept(wall, "coverage")
    wall.hear("correct coverage of lift two ninety six percent")
    assert wall.day.prompt.ask.code == "engine-corrects-yes-or-no"
    assert (wall.day.prompt.ask.figures["was"], wall.day.prompt.ask.figures["reading"]) == (percent(99), percent(96))
    wall.say("yes")
    (corrected,) = wall.events(ev.ReadingCorrected)
    assert (corrected.corrects, corrected.verdict) == (wrong, "passed")
    area = wall.day.state.area
    assert area.progress.tiles.keys() == {1, 2}, "nothing that came after is undone"
    assert [lift.coverage for lift in wall.events(ev.LiftJudged)] == [97, 99, 96]
    assert [event.body.coverage for event in standing(wall.day.log.events).lifts] == [97, 96]


def test_both_readings_stay_in_the_log_and_the_old_one_counts_no_more(wall: Believed) -> None:
    wall.batch()
    wall.tile()
    old = kept(wall, "slide")
    wall.tile()
    wall.say(f"correct {old} 20 mm!")
    stands = standing(wall.day.log.events)
    correction = stands.corrected[old]
    assert not stands.counts(wall.day.log.events[old - 1])
    assert [r.body.value for r in stands.readings_of("north wall", "slide")] == [20, 12], "in its old place"
    assert stands.readings_of("north wall", "slide")[0].kept == correction
    assert fold(wall.day.log.events) == wall.day.state


def test_a_step_is_corrected_by_its_name_alone_where_it_was_the_last(wall: Believed) -> None:
    wall.batch()
    wall.tile()
    wall.say("correct slid fifteen millimeters!")
    assert [r.value for r in wall.day.state.area.readings.values() if r.step == "slide"] == [15]


def test_no_keeps_the_old_reading(wall: Believed) -> None:
    wall.batch()
    wall.tile()
    wall.say("correct slid fifteen millimeters", "no")
    assert [r.value for r in wall.day.state.area.readings.values() if r.step == "slide"] == [12]
    assert not wall.events(ev.ReadingCorrected)


def test_a_correction_is_not_taken_back_but_corrected_again(wall: Believed) -> None:
    wall.batch()
    wall.tile()
    wall.say("correct slid fifteen millimeters!")
    assert wall.why("scratch that").code == "engine-nothing-to-take-back"
    wall.say("correct slid sixteen millimeters!")
    stands = standing(wall.day.log.events)
    assert [r.body.value for r in stands.readings_of("north wall", "slide")] == [16]
    first, second = wall.events(ev.ReadingCorrected)
    assert first.corrects != second.corrects


def test_a_lift_misread_as_failed_passes_and_its_cure_falls_away(wall: Believed) -> None:
    wall.batch()
    wall.tile()
    wall.lift("eighty", "six square centimeters")
    area = wall.day.state.area
    assert area.progress.failures
    assert area.task is not None
    wall.say("correct coverage of lift one ninety seven percent!")
    area = wall.day.state.area
    assert not area.progress.failures
    assert area.between_rounds
    (closed,) = wall.events(ev.FailureClosed)
    assert closed.shown_by == message("engine-failure-corrected")
    assert closed.drops
    assert area.progress.lifts[1].verdict == "passed"


def test_a_lift_misread_as_good_fails_and_its_cure_is_due(wall: Believed) -> None:
    wall.batch()
    wall.tile()
    wall.lift()
    wall.tile()
    wall.say("correct coverage of lift one eighty percent!")
    area = wall.day.state.area
    (failure,) = area.progress.failures.values()
    assert failure.corrective == "more-mortar"
    assert area.step is not None
    assert area.step.id == "change"
    assert area.progress.lifts[1].verdict == "failed"


def test_a_finished_area_whose_lift_fails_after_all_is_worked_on_again(wall: Believed) -> None:
    wall.batch()
    for _ in range(6):
        wall.tile()
    wall.lift()
    wall.finish()
    wall.say("correct coverage of lift one eighty percent!")
    area = wall.day.state.area
    assert area.progress.phase == "working"
    wall.say("slower", "tile set again", "tile lifted", "coverage ninety seven percent!")
    wall.say("void six square centimeters!", "corners full")
    wall.lifts_due()  # outward from the one that failed
    wall.say("finish area", "two bags used!")
    assert wall.day.state.area.progress.phase == "finished"
    assert not wall.day.state.area.progress.failures


def test_a_step_misread_as_failed_goes_on_where_it_stood(wall: Believed) -> None:
    wall.batch()
    wall.say("next tile")
    wall.clock.advance(5)
    wall.say("tile set", "slid two millimeters!")
    assert wall.step == "slid-on"
    wall.say("correct slid twenty millimeters!")
    assert wall.step == "beaten"
    wall.say("beaten in")
    assert wall.day.state.area.progress.settings == 1


def test_a_step_of_a_round_closed_long_ago_that_fails_after_all_sets_no_second_tile(wall: Believed) -> None:
    wall.batch()
    wall.tile()
    wall.say("correct slid two millimeters!", "pushed again", "slid twelve millimeters!")
    area = wall.day.state.area
    assert not area.progress.failures
    assert area.progress.settings == 1
    assert area.between_rounds


def test_a_reading_is_corrected_before_its_lift_is_judged(wall: Believed) -> None:
    wall.batch()
    wall.tile()
    wall.say(
        "lift a tile", "tile lifted", "coverage eighty percent!", "correct coverage of lift one ninety seven percent!"
    )
    assert wall.step == "void"
    wall.say("void six square centimeters!", "corners full")
    assert [(lift.coverage, lift.verdict) for lift in wall.events(ev.LiftJudged)] == [(97, "passed")]


def test_a_correction_takes_a_contradiction_away(wall: Believed) -> None:
    wall.batch()
    wall.tile()
    wall.lift("ninety seven", "zero square centimeters")
    assert "open-percent-no-void" in wall.points
    wall.say("correct largest void of lift one six square centimeters!")
    assert not wall.points


def test_what_was_taken_back_cannot_be_corrected_nor_an_event_that_is_no_reading(wall: Believed) -> None:
    wall.batch()
    wall.say("next tile", "tile set", "slid twelve millimeters!")
    gone = kept(wall, "slide")
    wall.say("scratch that")
    for event in (gone, 1):
        answer = wall.day.do(
            cmd.GiveReading(section="tile", step="slide", value=Fraction(15), unit="mm", corrects=event)
        )
        assert answer.say == message("engine-no-reading", event=str(event))


def test_an_implausible_correction_is_refused_and_nothing_waits(wall: Believed) -> None:
    wall.batch()
    wall.tile()
    wall.lift()
    assert wall.hear("correct coverage of lift one 120 percent").fate is Fate.REFUSED
    assert wall.day.state.pending is None
