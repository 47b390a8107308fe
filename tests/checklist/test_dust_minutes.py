"""Minutes of dusty tasks: noted by whoever speaks at any time, run by the clock, replaced by a later entry, summed."""

from __future__ import annotations

from fractions import Fraction

import pytest

from fieldassist.assess.dust import shifts
from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist.fold import apply, fold
from fieldassist.checklist.moment import TYPED, Moment
from fieldassist.checklist.open_points import open_points
from fieldassist.checklist.standing import standing
from fieldassist.checklist.state import State
from fieldassist.trade.message import Message
from tests.conftest import Crew

SAW = cmd.NoteDust(task="handheld power saw", place="outdoors", minutes=Fraction(15))


def _do(crew: Crew, command: cmd.NoteDust) -> int:
    crew.clock.advance(1)
    answer = crew.day.do(command)
    assert answer.taken, crew.day.words(answer.say)
    return answer.events[0].seq


def _refused(crew: Crew, command: cmd.NoteDust) -> str:
    answer = crew.day.do(command)
    assert not answer.taken
    assert isinstance(answer.say, Message)
    return answer.say.code


def test_minutes_are_nobodys_until_somebody_speaks(crew: Crew) -> None:
    assert _refused(crew, SAW) == "engine-who-speaks"


def test_minutes_are_noted_while_a_caution_and_a_reading_wait_and_move_no_step(crew: Crew) -> None:
    crew.say("this is rosa", "start area shower wall")
    before = crew.day.state.areas
    _do(crew, SAW)
    crew.say("understood", "understood")
    crew.speak("air temperature twenty one degrees")
    waiting = crew.day.state.pending
    _do(crew, SAW.model_copy(update={"task": "mixing mortar", "place": "indoors"}))
    assert crew.day.state.pending == waiting is not None
    assert before["shower wall"].task == crew.day.state.areas["shower wall"].task
    assert [(e.by, e.task, e.minutes) for e in crew.day.state.dust] == [
        ("rosa", "handheld power saw", Fraction(15)),
        ("rosa", "mixing mortar", Fraction(15)),
    ]
    first, second = crew.events(ev.DustNoted)
    assert crew.day.words(first.basis).startswith("29 CFR 1926.1153 Table 1 (ii)")
    assert "no entry in Table 1" in crew.day.words(second.basis)


def test_a_wrong_entry_is_replaced_by_its_own_person_and_stays_in_the_log(crew: Crew) -> None:
    crew.say("this is rosa")
    wrong = _do(crew, SAW)
    right = _do(crew, SAW.model_copy(update={"minutes": Fraction(5, 2), "replaces": wrong}))
    assert [e.minutes for e in crew.day.state.dust] == [Fraction(5, 2)]
    assert _refused(crew, SAW.model_copy(update={"replaces": wrong})) == "engine-no-dust-entry"
    crew.say("this is otto")
    assert _refused(crew, SAW.model_copy(update={"replaces": right})) == "engine-anothers-dust"
    crew.say("this is rosa")
    _do(crew, SAW.model_copy(update={"minutes": Fraction(0), "replaces": right}))
    assert crew.day.state.dust == ()
    assert len(crew.events(ev.DustNoted)) == 3
    assert fold(crew.day.log.events) == crew.day.state
    found = standing(crew.day.log.events)
    events = [e.seq for e in crew.day.log.events if isinstance(e.body, ev.DustNoted)]
    assert {seq: event.seq for seq, event in found.replaced.items()} == {wrong: right, right: events[-1]}
    assert found.dust_minutes == {"rosa": 0}


@pytest.mark.parametrize(
    ("minutes", "why"), [("0", "engine-dust-nothing"), ("-5", "engine-dust-nothing"), ("1441", "engine-dust-too-much")]
)
def test_minutes_that_cannot_be_are_refused_in_words(crew: Crew, minutes: str, why: str) -> None:
    crew.say("this is rosa")
    assert why == _refused(crew, SAW.model_copy(update={"minutes": Fraction(minutes)}))


def test_what_is_signed_is_not_replaced(crew: Crew) -> None:
    crew.say("this is edwin")
    signed = _do(crew, SAW)
    crew.day.do(cmd.SignDay(accept_open=True))
    assert _refused(crew, SAW) == "engine-day-signed"
    crew.day.do(cmd.OpenAddendum(reason="minutes were forgotten"))
    assert _refused(crew, SAW.model_copy(update={"replaces": signed})) == "engine-dust-signed"
    _do(crew, SAW)
    assert sum(e.minutes for e in crew.day.state.dust) == 30
    assert [entry.part for entry in crew.day.state.dust] == [0, 1]


def test_a_log_that_replaces_what_is_no_dust_entry_is_not_folded() -> None:
    at = Moment(wall="2026-03-17T07:00:00+01:00", mono=1, boot="b")
    body = ev.DustNoted(task="drill", place="indoors", minutes=Fraction(5), basis=Message("dust-none"), replaces=7)
    with pytest.raises(ValueError, match="no dust entry"):
        apply(State(), ev.Event(seq=1, id="x.0", at=at, by="rosa", source=TYPED, body=body))


def test_each_persons_sum_falls_on_its_side_of_four_hours(crew: Crew) -> None:
    # 29 CFR 1926.1153 Table 1: "<= 4 hours/shift" and "> 4 hours/shift".
    crew.say("this is rosa")
    _do(crew, SAW.model_copy(update={"minutes": Fraction(240)}))
    _do(crew, SAW.model_copy(update={"task": "sanding by hand", "minutes": Fraction(10)}))
    crew.say("this is otto")
    _do(crew, SAW.model_copy(update={"task": "drill", "minutes": Fraction(241)}))
    assert [(s.who, s.listed_min, s.other_min, s.over) for s in shifts(crew.day.state.dust)] == [
        ("rosa", 240, 10, False),
        ("otto", 241, 0, True),
    ]


# --- minutes that run -------------------------------------------------------------------------------------------------


def _starts(crew: Crew, **given: str) -> None:
    assert crew.day.do(cmd.DustStarts.model_validate(given)).taken


def test_minutes_run_by_the_clock_from_the_start_to_the_end_and_the_source_says_so(crew: Crew) -> None:
    crew.say("this is rosa", "dust starts hand saw")
    assert not crew.day.state.dust
    crew.clock.advance(11.75)  # and a quarter before a line is said
    crew.say("dust ends")
    (entry,) = crew.day.state.dust
    assert (entry.by, entry.task, entry.place, float(entry.minutes)) == ("rosa", "handheld power saw", "indoors", 12.0)
    assert crew.day.state.dusty == {}
    noted = [e for e in crew.day.log.events if isinstance(e.body, ev.DustNoted)]
    ended = [e for e in crew.day.log.events if isinstance(e.body, ev.DustEnded)]
    assert [e.source.how for e in noted] == ["clock"]
    assert [e.source.how for e in ended] == ["typed"]
    assert fold(crew.day.log.events) == crew.day.state


def test_minutes_are_rounded_up_to_a_tenth_so_that_dust_is_never_counted_short(crew: Crew) -> None:
    crew.say("this is rosa", "dust starts drill")
    crew.clock.advance(61 / 60 - 0.25)
    crew.say("dust ends")
    assert [e.minutes for e in crew.day.state.dust] == [Fraction(11, 10)]


def test_another_task_ends_the_one_that_runs_and_what_runs_is_not_started_again(crew: Crew) -> None:
    crew.say("this is rosa", "dust starts drill")
    answer = crew.day.do(cmd.DustStarts(task="drill"))
    assert isinstance(answer.say, Message)
    assert answer.say.code == "engine-dust-runs"
    crew.clock.advance(3)
    _starts(crew, task="handheld power saw", place="outdoors")
    assert [(e.task, e.minutes) for e in crew.day.state.dust] == [("drill", Fraction(3))]
    assert [(who, r.task, r.place) for who, r in crew.day.state.dusty.items()] == [
        ("rosa", "handheld power saw", "outdoors")
    ]


def test_without_a_name_the_task_and_place_done_last_start_and_without_any_last_one_it_is_asked(crew: Crew) -> None:
    crew.say("this is rosa")
    refused = crew.day.do(cmd.DustStarts())
    assert isinstance(refused.say, Message)
    assert refused.say.code == "engine-dust-which"
    _do(crew, SAW)
    crew.say("dust starts")
    run = crew.day.state.dusty["rosa"]
    assert (run.task, run.place) == (SAW.task, SAW.place)


def test_everybody_has_minutes_of_their_own(crew: Crew) -> None:
    crew.say("this is rosa", "dust starts drill", "this is otto", "dust starts mixing")
    crew.clock.advance(4.75)
    crew.say("dust ends")
    assert [(e.by, e.minutes) for e in crew.day.state.dust] == [("otto", Fraction(5))]
    assert list(crew.day.state.dusty) == ["rosa"]


def test_the_start_says_what_table_1_asks_before_the_dust_flies(crew: Crew) -> None:
    # 29 CFR 1926.1153 Table 1 (ii): a handheld power saw indoors takes water and a protection factor of 10.
    crew.say("this is rosa")
    answer = crew.day.do(cmd.DustStarts(task="handheld power saw", place="indoors"))
    told = crew.day.words(answer.say)
    assert crew.day.words(Message("dust-respirator-10")) in told
    assert crew.day.words(Message("dust-control-water-feed")) in told


def test_minutes_that_are_given_at_the_end_are_no_clocks_and_no_more_than_it_ran(crew: Crew) -> None:
    crew.say("this is rosa", "dust starts drill")
    crew.clock.advance(90)
    too_long = crew.day.do(cmd.DustEnds(minutes=Fraction(91)))
    assert isinstance(too_long.say, Message)
    assert too_long.say.code == "engine-dust-not-so-long"
    crew.day.do(cmd.DustEnds(minutes=Fraction(20)))
    assert [e.minutes for e in crew.day.state.dust] == [20]
    assert [e.source.how for e in crew.day.log.events if isinstance(e.body, ev.DustNoted)] == ["typed"]


def test_a_task_that_runs_is_an_open_point_until_it_has_ended(crew: Crew) -> None:
    crew.say("this is rosa", "dust starts drill")
    (point,) = [p for p in open_points(crew.day.state) if p.told.code == "open-dust-runs"]
    assert not point.answerable
    crew.clock.advance(1)
    crew.say("dust ends")
    assert not [p for p in open_points(crew.day.state) if p.told.code == "open-dust-runs"]


def test_over_a_signature_the_clock_is_not_believed_and_the_minutes_are_given(crew: Crew) -> None:
    crew.say("this is edwin", "dust starts drill")
    crew.clock.advance(30)
    crew.day.do(cmd.SignDay(accept_open=True))
    crew.day.do(cmd.OpenAddendum(reason="the drill was still running"))
    refused = crew.day.do(cmd.DustEnds())
    assert isinstance(refused.say, Message)
    assert refused.say.code == "engine-dust-over-signature"
    crew.day.do(cmd.DustEnds(minutes=Fraction(25)))
    assert [(e.minutes, e.part) for e in crew.day.state.dust] == [(Fraction(25), 1)]


def test_nothing_ends_that_does_not_run(crew: Crew) -> None:
    crew.say("this is rosa")
    refused = crew.day.do(cmd.DustEnds())
    assert isinstance(refused.say, Message)
    assert refused.say.code == "engine-dust-none-runs"
    at = Moment(wall="2026-03-17T07:00:00+01:00", mono=1, boot="b")
    event = ev.Event(seq=1, id="x.0", at=at, by="rosa", source=TYPED, body=ev.DustEnded(began=7))
    with pytest.raises(ValueError, match="no dusty task"):
        apply(State(), event)
