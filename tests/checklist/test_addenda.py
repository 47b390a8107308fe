"""What is signed stays as it is; what comes later is an addendum."""

from __future__ import annotations

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist.fold import fold
from fieldassist.trade.message import message
from tests.conftest import Crew

STROKES = (((100, 500), (300, 200), (500, 600)), ((650, 400),))


def signed(crew: Crew) -> None:
    crew.open_shower()
    crew.mix()
    crew.say("this is edwin")
    answer = crew.day.do(cmd.SignDay(accept_open=True, strokes=STROKES))
    assert answer.taken


def test_nothing_is_added_to_a_signed_day_and_no_clock_speaks(crew: Crew) -> None:
    signed(crew)
    events = len(crew.day.log.events)
    body = crew.day.log.events[-1].body
    assert isinstance(body, ev.DaySigned)
    assert body.strokes == STROKES
    for command in (cmd.MakeNote(text="x"), cmd.SpeakAs(name="rosa"), cmd.StartRound(section="batch"), cmd.Withdraw()):
        answer = crew.day.do(command)
        assert not answer.taken
        assert answer.say == message("engine-day-signed", name="edwin")
    crew.clock.advance(600)
    assert crew.day.tick() is None
    assert len(crew.day.log.events) == events
    assert crew.day.prompt.say == message("prompt-signed", part=0, name="edwin", sealed=False)


def test_an_addendum_goes_on_with_the_day_and_is_signed_in_its_turn(crew: Crew) -> None:
    signed(crew)
    before = list(crew.day.log.texts)
    answer = crew.day.do(cmd.OpenAddendum(reason="the third lift was forgotten"))
    assert answer.taken
    assert answer.events[0].body.number == 1
    crew.say("this is rosa", "next tile")
    crew.day.do(cmd.MakeNote(text="third lift after all"))
    crew.say("this is edwin", "sign off with open points")
    body = crew.day.log.events[-1].body
    assert isinstance(body, ev.DaySigned)
    assert body.part == 1
    assert crew.day.log.texts[: len(before)] == before
    assert crew.day.state == fold(crew.day.log.events)


def test_what_was_signed_is_not_taken_back_but_corrected_in_words(crew: Crew) -> None:
    signed(crew)
    poured = next(e.seq for e in crew.day.log.events if isinstance(e.body, ev.ReadingKept) and e.body.step == "water")
    crew.day.do(cmd.OpenAddendum(reason="a wrong reading"))
    assert not crew.day.do(cmd.Withdraw()).taken
    answer = crew.day.do(cmd.Correct(target=poured, text="it was six liters"))
    assert answer.events[0].body == ev.CorrectionMade(target=poured, text="it was six liters")
    assert not crew.day.do(cmd.Correct(target=9999, text="no such event")).taken


def test_an_addendum_and_a_correction_have_their_time(crew: Crew) -> None:
    crew.open_shower()
    assert crew.day.do(cmd.OpenAddendum(reason="too early")).say == message("engine-not-signed")
    assert crew.day.do(cmd.Correct(target=3, text="too early")).say == message(
        "engine-nothing-signed", phrase="scratch that"
    )


@pytest.mark.parametrize(
    "strokes", [(((1001, 0),),), (((-1, 5),),), ((),), tuple(((1, 1),) for _ in range(201)), (((0, 0),) * 2001,)]
)
def test_a_signature_has_its_bounds(strokes: object) -> None:
    with pytest.raises(ValueError, match="strokes"):
        cmd.SignDay(strokes=strokes)


def test_a_photo_may_be_kept_at_any_step_and_moves_nothing(crew: Crew) -> None:
    crew.day.do(cmd.AttachPhoto(file="0123456789abcdef.jpg", sha256="0" * 64))
    crew.open_shower()
    crew.mix()
    crew.say("next tile")
    task = crew.day.state.area.task
    crew.day.do(cmd.AttachPhoto(file="0123456789abcdef.jpg", sha256="0" * 64))
    photos = crew.events(ev.PhotoAttached)
    assert [(p.area, p.step) for p in photos] == [("", ""), ("shower wall", task.step)]
    assert crew.day.state.area.task == task
