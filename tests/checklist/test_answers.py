"""The foreman says why an open point stands: it stays on the page and holds nothing up any more."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist.offers import READY
from fieldassist.checklist.open_points import open_points, unanswered
from fieldassist.day.clock import SimulatedClock
from fieldassist.facts.build import day_facts
from fieldassist.trade.message import Text, holds, term
from tests.checklist.believed import Believed, believed


@pytest.fixture
def doubted(tmp_path: Path, clock: SimulatedClock) -> Iterator[Believed]:
    """A wall with a slake that nobody can have waited for."""
    with believed(tmp_path, clock) as crew:
        crew.batch(minutes=0)
        yield crew


def test_an_answered_point_says_who_when_and_what_and_no_longer_holds_up(doubted: Believed) -> None:
    doubted.say("this is edwin", "point one looked again")
    point = doubted.points["open-longer-than-passed"]
    assert point.answer is not None
    assert (point.answer.by, point.answer.answer) == ("edwin", term("open-ready", "looked again"))
    assert point.line.figures["at"] == point.answer.at.wall[11:16]
    assert point.id not in {one.id for one in unanswered(doubted.day.state)}
    (answered,) = doubted.events(ev.PointAnswered)
    assert answered.told == point.told


def test_words_of_his_own_are_kept_as_they_are(doubted: Believed) -> None:
    doubted.say("this is edwin")
    point = doubted.points["open-longer-than-passed"]
    assert doubted.day.do(cmd.AnswerPoint(point=point.id, words="mixed before the tablet was there")).taken
    answer = doubted.points["open-longer-than-passed"].answer
    assert answer is not None
    assert answer.answer == Text.plain("mixed before the tablet was there")


def test_a_spoken_answer_is_kept_with_its_sound_and_the_line_says_so(doubted: Believed) -> None:
    doubted.say("this is edwin")
    point = doubted.points["open-longer-than-passed"]
    sound = {"audio": "0123456789abcdef.flac", "sha256": "0" * 64}
    assert doubted.day.do(cmd.AnswerPoint(point=point.id, words="it was mixed before", **sound)).taken
    assert doubted.points["open-longer-than-passed"].line.figures["spoken"] == "yes"


@pytest.mark.parametrize("ready", READY)
def test_every_ready_sentence_can_be_said(doubted: Believed, ready: str) -> None:
    doubted.say("this is edwin", f"point one {READY[ready][0]}")
    answer = doubted.points["open-longer-than-passed"].answer
    assert answer is not None
    assert answer.answer == term("open-ready", ready)


def test_only_the_foreman_answers(doubted: Believed) -> None:
    assert doubted.why("point one looked again").code == "engine-foreman-answers"
    assert doubted.why("answer point one").code == "engine-foreman-answers"


def test_a_point_that_only_work_closes_takes_no_words(doubted: Believed) -> None:
    doubted.tile()
    doubted.lift("eighty", "ninety square centimeters")
    doubted.say("this is edwin")
    numbers = {point.told.code: at for at, point in enumerate(open_points(doubted.day.state), 1)}
    answer = doubted.day.do(cmd.AnswerPoint(value=numbers["open-failure"], ready="looked again"))
    assert answer.say.code == "engine-point-needs-work"


def test_there_is_no_answer_to_a_point_that_is_not_there(doubted: Believed) -> None:
    doubted.say("this is edwin")
    assert doubted.day.do(cmd.AnswerPoint(value=9, ready="looked again")).say.code == "engine-no-point"
    assert doubted.day.do(cmd.AnswerPoint(point="nothing", ready="looked again")).say.code == "engine-no-point"
    asked = doubted.points["open-longer-than-passed"].id
    assert doubted.day.do(cmd.AnswerPoint(point=asked)).say.code == "engine-answer-wanted"


def test_a_corrected_reading_that_is_still_too_long_is_asked_about_anew(doubted: Believed) -> None:
    doubted.say("this is edwin", "point one looked again", "this is rosa", "correct slaked ten minutes!")
    assert doubted.points["open-longer-than-passed"].answer is None


def test_a_day_with_every_point_answered_is_signed_without_a_word(doubted: Believed) -> None:
    doubted.say("this is edwin")
    for point in open_points(doubted.day.state):
        refusal = doubted.day.do(cmd.SignDay())
        assert holds(refusal.say, point.told)
        assert doubted.day.do(cmd.AnswerPoint(point=point.id, ready="goes on")).taken
    doubted.say("sign off the day")
    (signed,) = doubted.events(ev.DaySigned)
    assert not signed.open_points
    assert len(open_points(doubted.day.state)) == len(doubted.events(ev.PointAnswered)), "they stay on the page"


def test_facts_list_what_is_open_and_what_was_answered_apart(doubted: Believed) -> None:
    doubted.say("this is edwin", "point one looked again")
    events = doubted.day.log.events
    looks = day_facts(events, ["0" * 64] * len(events), doubted.day.words).look_at
    answered = doubted.points["open-longer-than-passed"].line
    assert [look.answer for look in looks if look.answered] == [doubted.day.words(answered)]
    assert sum(look.open for look in looks) == len(unanswered(doubted.day.state))
