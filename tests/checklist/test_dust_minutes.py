"""Minutes of dusty tasks: noted by whoever speaks at any time, replaced by a later entry, told in the daily log."""

from __future__ import annotations

from fractions import Fraction

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist.state import State, apply, fold
from fieldassist.report.story import tell
from tests.conftest import Crew

SAW = cmd.NoteDust(task="handheld power saw", place="outdoors", minutes=Fraction(15))


def _do(crew: Crew, command: cmd.NoteDust) -> int:
    crew.clock.advance(1)
    answer = crew.day.do(command)
    assert answer.taken, answer.say
    return answer.events[0].seq


def _refused(crew: Crew, command: cmd.NoteDust) -> str:
    answer = crew.day.do(command)
    assert not answer.taken
    return answer.say


def test_minutes_are_nobodys_until_somebody_speaks(crew: Crew) -> None:
    assert "Say who speaks first" in _refused(crew, SAW)


def test_minutes_are_noted_while_a_caution_and_a_reading_wait_and_move_no_step(crew: Crew) -> None:
    crew.say("this is rosa", "start area shower wall")
    before = crew.day.state.areas
    _do(crew, SAW)
    crew.say("understood", "understood", "air temperature twenty one degrees")
    waiting = crew.day.state.pending
    _do(crew, SAW.model_copy(update={"task": "mixing mortar", "place": "indoors"}))
    assert crew.day.state.pending == waiting is not None
    assert before["shower wall"].task == crew.day.state.areas["shower wall"].task
    assert [(e.by, e.task, e.minutes) for e in crew.day.state.dust] == [
        ("rosa", "handheld power saw", 15),
        ("rosa", "mixing mortar", 15),
    ]
    first, second = crew.events(ev.DustNoted)
    assert first.basis.startswith("29 CFR 1926.1153 Table 1 (ii)")
    assert "no entry in Table 1" in second.basis


def test_a_wrong_entry_is_replaced_by_its_own_person_and_stays_in_the_log(crew: Crew) -> None:
    crew.say("this is rosa")
    wrong = _do(crew, SAW)
    right = _do(crew, SAW.model_copy(update={"minutes": Fraction(5, 2), "replaces": wrong}))
    assert [e.minutes for e in crew.day.state.dust] == [Fraction(5, 2)]
    assert "no dust entry that counts" in _refused(crew, SAW.model_copy(update={"replaces": wrong}))
    crew.say("this is otto")
    assert "Rosa" in _refused(crew, SAW.model_copy(update={"replaces": right}))
    crew.say("this is rosa")
    _do(crew, SAW.model_copy(update={"minutes": Fraction(0), "replaces": right}))
    assert crew.day.state.dust == ()
    assert len(crew.events(ev.DustNoted)) == 3
    assert fold(crew.day.log.events) == crew.day.state
    lines = tell(crew.day.log.events).dust
    assert [(line.minutes, line.replaces, line.struck) for line in lines] == [
        ("15 min", None, True),
        ("2.5 min", wrong, True),
        ("0 min", right, False),
    ]


@pytest.mark.parametrize(("minutes", "why"), [("0", "nothing to note"), ("-5", "nothing"), ("1441", "fit in a day")])
def test_minutes_that_cannot_be_are_refused_in_words(crew: Crew, minutes: str, why: str) -> None:
    crew.say("this is rosa")
    assert why in _refused(crew, SAW.model_copy(update={"minutes": Fraction(minutes)}))


def test_what_is_signed_is_not_replaced(crew: Crew) -> None:
    crew.say("this is edwin")
    signed = _do(crew, SAW)
    crew.day.do(cmd.SignDay(accept_open=True))
    assert "signed" in _refused(crew, SAW)
    crew.day.do(cmd.OpenAddendum(reason="minutes were forgotten"))
    assert "in words" in _refused(crew, SAW.model_copy(update={"replaces": signed}))
    _do(crew, SAW)
    assert sum(e.minutes for e in crew.day.state.dust) == 30
    (addendum,) = tell(crew.day.log.events).addenda
    assert [(line.what, line.reading) for line in addendum.added] == [("Dust: handheld power saw, outdoors", "15 min")]


def test_a_log_that_replaces_what_is_no_dust_entry_is_not_folded() -> None:
    at = ev.Moment(wall="2026-03-17T07:00:00+01:00", mono=1, boot="b")
    body = ev.DustNoted(task="drill", place="indoors", minutes=Fraction(5), basis="", replaces=7)
    with pytest.raises(ValueError, match="no dust entry"):
        apply(State(), ev.Event(seq=1, id="x.0", at=at, by="rosa", body=body))


def test_the_daily_log_tells_each_persons_sum_and_the_side_of_four_hours(crew: Crew) -> None:
    # 29 CFR 1926.1153 Table 1: "<= 4 hours/shift" and "> 4 hours/shift".
    crew.say("this is rosa")
    _do(crew, SAW.model_copy(update={"minutes": Fraction(240)}))
    _do(crew, SAW.model_copy(update={"task": "sanding by hand", "minutes": Fraction(10)}))
    crew.say("this is otto")
    _do(crew, SAW.model_copy(update={"task": "drill", "minutes": Fraction(241)}))
    day = tell(crew.day.log.events)
    assert day.dust_sums == (
        "Rosa: 240 min of tasks in Table 1 (up to four hours), 10 min of others",
        "Otto: 241 min of tasks in Table 1 (MORE than four hours), 0 min of others",
    )
    refs = [line.ref for line in day.dust]
    assert all(refs)
    assert "Table 1 (vii)" in day.references[(refs[-1] or 0) - 1]
