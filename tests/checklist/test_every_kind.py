"""Sections, clocks and what can be taken back, on a checklist with every kind of step."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist.engine import Refusal
from fieldassist.checklist.kinds import Choice
from fieldassist.checklist.offers import StepSetting
from tests.checklist.days import PHOTO, Bench


@pytest.fixture
def bench() -> Bench:
    begun = Bench.begun()
    begun.start("attic")
    return begun


def bodies(bench: Bench, kind: type) -> list:
    return [e.body for e in bench.events if isinstance(e.body, kind)]


def test_the_clock_of_one_bucket_ends_nothing_that_another_one_serves(bench: Bench) -> None:
    bench.call("bucket")
    bench.clock.advance(60)
    bench.take(cmd.StartRound(section="bucket", bucket=2))
    bench.go_on()
    bench.take(cmd.TakeBucket(bucket=2))
    bench.take(cmd.StartRound(section="tile"))
    bench.clock.advance(31)
    bench.take(cmd.Tick())
    (ran_out,) = bodies(bench, ev.ClockRanOut)
    assert (ran_out.clock, ran_out.drops, ran_out.ends, ran_out.batch) == ("bucket", (), (), 1)
    bench.go_on()
    assert bench.state.area.progress.settings == 1


def test_the_clock_of_the_batch_in_use_takes_the_piece_with_it(bench: Bench) -> None:
    bench.call("bucket")
    bench.take(cmd.StartRound(section="tile"))
    bench.clock.advance(91)
    bench.take(cmd.Tick())
    (ran_out,) = bodies(bench, ev.ClockRanOut)
    assert [(drop.section, drop.step) for drop in ran_out.drops] == [
        ("tile", "joint"),
        ("tile", "buttered"),
        ("tile", "placed"),
        ("tile", "laid"),
    ]
    assert ran_out.ends == ("bucket",)
    bench.go_on()
    assert bench.state.area.progress.settings == 0
    came = bench.do(cmd.StartRound(section="tile"))
    assert isinstance(came, Refusal)
    assert came.why.code == "engine-needs-first"


def test_a_clock_that_ends_nothing_drops_nothing(bench: Bench) -> None:
    bench.call("bucket")
    bench.take(cmd.StartRound(section="tile"))
    bench.go_on(1)
    assert [run.clock for run in bench.state.area.progress.clocks] == ["bucket", "rest"]
    bench.clock.advance(6.5)
    assert bench.take(cmd.Tick()).events == (), "it gives no warning: its checklist names none"
    bench.clock.advance(0.5)
    bench.take(cmd.Tick())
    (ran_out,) = bodies(bench, ev.ClockRanOut)
    assert (ran_out.clock, ran_out.minutes, ran_out.drops, ran_out.ends) == ("rest", 7, (), ())
    assert not bench.state.area.progress.failures, "no corrective action belongs to it"
    assert bench.state.area.step.id == "buttered"


def test_a_section_that_opened_by_itself_is_not_taken_back_alone(bench: Bench) -> None:
    """Two sections end the area: the second follows the first, and goes with the step that brought it."""
    bench.call("bucket", "tile")
    bench.finish()
    while bench.state.area.step.id != "swept":
        bench.take(bench.next_answer())
    bench.take(bench.next_answer())
    assert bench.state.area.step.id == "left"
    bench.take(cmd.Withdraw())
    assert bench.state.area.step.id == "swept"
    while not bench.state.area.between_rounds:
        bench.take(cmd.Withdraw())
    assert [opened.section for opened in bodies(bench, ev.SectionOpened) if opened.called][-1] == "before-too"


def test_the_readings_of_a_lift_begin_anew_with_the_next_one(bench: Bench) -> None:
    bench.call("bucket", "tile")
    (first,) = bench.state.area.progress.lifts.values()
    measured = bench.state.area.progress.measured
    assert set(measured[first.section, first.round]) == {"coverage", "corners", "edges", "largest void", "bed"}
    bench.take(cmd.ChangeMethod(method="half inch square"))
    bench.take(cmd.StartRound(section="tile"))
    while bench.state.area.step.id != "lifted":
        bench.take(bench.next_answer())
    assert bench.state.area.task is not None
    at_hand = (bench.state.area.task.section, bench.state.area.task.round)
    assert at_hand not in bench.state.area.progress.measured
    assert bench.state.area.progress.lift_of(*at_hand) is None


def test_lifts_follow_every_tile_after_a_failure_until_enough_are_good(bench: Bench) -> None:
    bench.call("bucket")
    bench.take(cmd.StartRound(section="tile"))
    while bench.state.area.step.id != "contact":
        bench.take(bench.next_answer())
    bench.go_on(1, fail=True)
    bench.go_on()
    assert [lift.verdict for lift in bodies(bench, ev.LiftJudged)] == ["failed", "passed"]
    assert bench.state.area.progress.tightened == 1
    bench.call("tile")
    assert bench.state.area.progress.tightened == 0
    bench.call("tile")
    assert len(bodies(bench, ev.LiftJudged)) == 3, "0.72 m2 since the last lift, of the 1 m2 of the checklist"
    bench.call("tile")
    reasons = [opened.reason.code for opened in bodies(bench, ev.SectionOpened) if opened.section == "lifting"]
    assert reasons == ["engine-due-first", "engine-reason-again", "engine-due-tightened", "engine-due-area"]


def test_a_choice_may_have_a_single_answer_and_none_is_none() -> None:
    given = {"id": "dry", "kind": "choice", "ask": "Dry?", "options": [{"id": "yes", "say": ["dry"], "label": "Dry"}]}
    assert [offer.phrases for offer in Choice.model_validate(given).offers(StepSetting("base", "Base"))] == [("dry",)]
    with pytest.raises(ValidationError):
        Choice.model_validate(given | {"options": []})


def test_a_photo_of_one_role_is_taken_from_nobody_else() -> None:
    bench = Bench.begun()
    bench.speak("rosa")
    bench.take(cmd.StartArea(area="attic"))
    came = bench.do(PHOTO)
    assert isinstance(came, Refusal)
    assert (came.why.code, came.why.figures["role"]) == ("engine-waits-for-role", "owner")
    bench.speak("nour")
    bench.take(PHOTO)
    assert bench.state.area.step.id == "owner-agrees"


def test_a_photo_that_is_asked_for_answers_its_step_and_any_other_is_a_remark(bench: Bench) -> None:
    before = bench.state.area.progress
    bench.take(PHOTO)
    assert bench.state.area.progress == before
    bench.take(cmd.StartRound(section="bucket"))
    came = bench.take(PHOTO)
    assert [type(e.body) for e in came.events] == [ev.PhotoAttached], "no clock starts"
    bench.go_on()
    bench.take(cmd.StartRound(section="tile"))
    bench.go_on(4)
    assert bench.state.area.step.id == "photo-after"
    bench.take(PHOTO)
    assert [photo.answers for photo in bodies(bench, ev.PhotoAttached)] == [True, False, False, True]
