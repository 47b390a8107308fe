"""Several phrases in one breath: what is taken, where it ends, and that it comes to what the phrases one by one do."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from fieldassist.checklist import cautions
from fieldassist.checklist import commands as cmd
from fieldassist.checklist.contradictions import contradictions
from fieldassist.checklist.events import (
    ClockStarted,
    ClockStopped,
    CommandRefused,
    SectionClosed,
    SetterChanged,
    StepConfirmed,
)
from fieldassist.checklist.fold import fold
from fieldassist.checklist.moment import SPOKEN
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.ear import Fate, Reply, act, interpret, interpret_text
from fieldassist.day.session import Day
from fieldassist.record.log import LogProblem
from fieldassist.trade.message import Figure, Message, Several
from fieldassist.voice.dialogue import CLOSE_RIVAL
from fieldassist.voice.recognizer import Alternative, Heard
from tests.conftest import TO_THE_HOLD, Crew


def codes(told: Figure | None) -> list[str]:
    """The codes of what is said."""
    if isinstance(told, Several):
        return [code for item in told.items for code in codes(item)]
    return [told.code] if isinstance(told, Message) else []


def stopped(reply: Reply) -> tuple[str, str]:
    """At which words a chain stopped, and the code of why."""
    assert reply.fate is Fate.REFUSED
    said = reply.spoken
    found = next(
        (item for item in (said.items if isinstance(said, Several) else (said,)) if getattr(item, "code", "")), None
    )
    assert isinstance(found, Message)
    assert found.code == "ear-chain-stopped"
    why = found.figures["why"]
    assert isinstance(why, Message)
    return str(found.figures["words"]), why.code


def heard(*texts: str, apart: float = 20.0) -> Heard:
    """Alternatives, the best first, each worse than the one before by so many nats."""
    found = tuple(Alternative(text, 100.0 - apart * place, ()) for place, text in enumerate(texts))
    return Heard(found, 2.0, foreign=-80.0)


def hear(crew: Crew, *texts: str, apart: float = 20.0) -> Reply:
    day = crew.day
    return act(day, interpret(heard(*texts, apart=apart), day.prompt.offers, day.trial(SPOKEN)))


@pytest.fixture
def wall(crew: Crew) -> Crew:
    """At the shower wall, a batch mixed and the first tile called."""
    crew.open_shower()
    crew.mix()
    crew.say("next tile")
    return crew


# --- what is taken ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "words",
    [
        "back keyed, spread, combed straight",
        "back keyed spread combed straight",
        "Back keyed and spread, then combed straight.".rstrip("."),
        "the back keyed, um, spread and then combed straight please",
        "back-keyed; spread; mortar combed",
    ],
)
def test_phrases_of_one_breath_are_taken_with_commas_and_without(wall: Crew, words: str) -> None:
    reply = wall.hear(words)
    assert reply.fate is Fate.TAKEN
    assert len(reply.catch.chain) == 3
    assert wall.step == "set"
    confirmed = [e for e in wall.day.log.events if isinstance(e.body, StepConfirmed)][-2:]
    assert [e.source.together for e in confirmed] == [3, 3]
    assert len({e.at for e in confirmed}) == 1


def test_a_value_stands_in_a_chain_and_ends_where_the_next_phrase_begins(wall: Crew) -> None:
    wall.say("back keyed", "spread", "combed straight")
    reply = hear(wall, "tile set slid half an inch")
    assert reply.fate is Fate.TAKEN
    assert wall.step == "slide"
    assert wall.day.state.pending is not None
    assert str(wall.day.state.pending.value) == "1/2"


def test_a_yes_and_a_no_begin_a_chain(wall: Crew) -> None:
    wall.say("back keyed, spread, combed straight, tile set")
    hear(wall, "slid three inches")
    assert hear(wall, "no half an inch").fate is Fate.TAKEN
    assert wall.day.state.pending is not None
    assert str(wall.day.state.pending.value) == "1/2"
    wall.say("yes, beaten in")
    assert [body.tile is not None for body in wall.events(SectionClosed)][-1]


def test_a_phrase_that_is_taken_as_it_stands_is_no_chain(wall: Crew) -> None:
    reply = wall.hear("back keyed")
    assert not reply.catch.chain
    assert isinstance(reply.catch.command, cmd.ConfirmStep)
    assert reply.answer is not None
    assert {e.source.together for e in reply.answer.events} == {0}


def test_another_round_may_begin_within_a_chain(crew: Crew) -> None:
    crew.open_shower()
    crew.mix()
    crew.say("next tile, back keyed, spread")
    assert crew.step == "comb"


# --- where it stops -----------------------------------------------------------------------------------------------


def test_a_phrase_that_is_refused_ends_the_chain_and_is_in_the_record(wall: Crew) -> None:
    reply = wall.hear("back keyed, tile set, spread")
    assert stopped(reply) == ("tile set", "engine-comes-later")
    assert wall.step == "spread"
    refused = wall.events(CommandRefused)
    assert [body.reason.code for body in refused] == ["engine-comes-later"]
    # Only what came to something was called together.
    assert [e.source.together for e in wall.day.log.events if isinstance(e.body, StepConfirmed)][-1] == 0


def test_typed_words_that_are_no_phrase_end_the_chain_and_nothing_is_recorded_of_them(wall: Crew) -> None:
    reply = wall.hear("back keyed, spread, wipe it off")
    assert stopped(reply) == ("wipe it off", "ear-none-of-the-phrases")
    assert wall.step == "comb"
    assert not wall.events(CommandRefused)


def test_a_value_that_needs_its_yes_ends_the_chain(wall: Crew) -> None:
    wall.say("back keyed, spread, combed straight, tile set")
    # Under the notch it fails, so it is asked for whatever else is kept in silence.
    reply = wall.hear("slid one millimeter, beaten in")
    assert stopped(reply) == ("beaten in", "engine-first-yes-or-no")
    assert wall.day.state.pending is not None
    wall.hear("yes")
    assert wall.step != "beat-in"


@pytest.mark.parametrize("asked", ["what now", "how long", "make a note"])
def test_a_question_is_no_part_of_a_chain(wall: Crew, asked: str) -> None:
    assert stopped(wall.hear(f"back keyed, {asked}")) == (asked, "ear-said-alone")
    assert wall.step == "spread"


def test_a_signature_is_no_part_of_a_chain(wall: Crew) -> None:
    wall.hear("this is edwin, sign off with open points")
    assert not wall.day.state.signed


def test_no_caution_is_answered_in_a_chain_that_began_before_it_was_told(crew: Crew) -> None:
    crew.say("this is rosa")
    reply = crew.hear("start area shower wall, understood")
    assert stopped(reply)[0] == "understood"
    area = crew.day.state.area
    assert area is not None
    assert cautions.due(crew.day.state, area, crew.clock.now())


def test_understood_begins_a_chain_once_the_caution_was_told(crew: Crew) -> None:
    crew.say("this is rosa", "start area shower wall")
    area = crew.day.state.area
    assert area is not None
    crew.say(*["understood"] * (len(cautions.due(crew.day.state, area, crew.clock.now())) - 1))
    assert crew.hear("understood, air temperature two degrees").fate is Fate.TAKEN
    assert crew.day.state.pending is not None


def test_a_yes_answers_no_value_that_was_called_in_the_same_breath(wall: Crew) -> None:
    wall.say("back keyed, spread, combed straight, tile set")
    assert stopped(wall.hear("slid one millimeter, yes")) == ("yes", "ear-not-told-yet")
    assert wall.day.state.pending is not None


@pytest.mark.parametrize("words", ["no idea", "yes we did", "scratch that itch"])
def test_talk_that_begins_like_an_answer_is_none(wall: Crew, words: str) -> None:
    wall.say("back keyed, spread, combed straight, tile set", "slid one millimeter")
    before = wall.day.state
    assert wall.hear(words).fate is Fate.ASKED
    assert wall.day.state is before


def test_the_first_phrase_that_is_refused_is_told_though_others_follow(wall: Crew) -> None:
    reply = wall.hear("tile set, beaten in")
    assert reply.fate is Fate.REFUSED
    assert codes(reply.spoken) == ["engine-comes-later"]
    assert len(wall.events(CommandRefused)) == 1


# --- who sets -----------------------------------------------------------------------------------------------------


def test_a_name_before_the_first_phrase_says_who_sets(wall: Crew) -> None:
    area = wall.day.state.area
    assert area is not None
    assert area.setter == "rosa"
    wall.say("otto sets", "understood", "understood", "rosa sets", "otto, back keyed, spread")
    assert [body.name for body in wall.events(SetterChanged)][-1] == "otto"
    speaker = wall.day.state.speaker
    assert speaker is not None
    assert speaker.name == "rosa"
    changes = len(wall.events(SetterChanged))
    reply = wall.say("otto combed straight")
    assert len(wall.events(SetterChanged)) == changes
    assert isinstance(reply.catch.command, cmd.Choose)


def test_a_name_whose_person_has_not_heard_the_cautions_is_taken_and_the_caution_asked(wall: Crew) -> None:
    assert stopped(wall.hear("otto, back keyed, spread")) == ("back keyed", "engine-caution-first")
    area = wall.day.state.area
    assert area is not None
    assert (area.setter, wall.step) == ("otto", "back")
    wall.say("understood", "understood", "back keyed, spread")


def test_a_name_alone_or_before_what_is_refused_changes_nothing(wall: Crew) -> None:
    for words in ("otto", "otto, tile set", "back keyed otto spread"):
        wall.hear(words)
        area = wall.day.state.area
        assert area is not None
        assert area.setter == "rosa"


def test_what_only_the_one_named_may_not_do_yet_is_told(crew: Crew) -> None:
    """His first tile with a method is called step by step: he sets now, and hears so."""
    crew.open_shower()
    crew.mix()
    crew.say("next tile, back keyed, spread, combed straight, tile set, slid half an inch, beaten in")
    crew.lift()
    crew.say("put back")
    reply = crew.hear("otto, spread three")
    assert stopped(reply)[0] == "spread three"
    area = crew.day.state.area
    assert area is not None
    assert (area.setter, area.spread) == ("otto", None)


# --- a lift in one breath -----------------------------------------------------------------------------------------


@pytest.fixture
def lifted(wall: Crew) -> Crew:
    """A tile lifted, and all that was read off it called in one breath."""
    wall.say("back keyed, spread, combed straight, tile set, slid half an inch, beaten in", "test tile lifted")
    if wall.step == "lift-photo":
        wall.say("no photo")
    wall.say("coverage ninety six, void one square inch, corners full, edges full, bed six millimeters")
    return wall


def test_a_lift_is_called_in_one_breath_and_kept_by_one_yes(lifted: Crew) -> None:
    assert len(lifted.day.state.waiting) == 5
    lifted.say("yes, put back")
    area = lifted.day.state.area
    assert area is not None
    assert [(lift.number, lift.verdict) for lift in area.progress.lifts.values()] == [(1, "passed")]


@pytest.mark.parametrize("words", ["no, void half a square inch", "no void half a square inch, bed five millimeters"])
def test_a_no_with_one_of_them_named_again_replaces_only_that_one(lifted: Crew, words: str) -> None:
    lifted.say(words)
    waiting = {one.task.step: str(one.value) for one in lifted.day.state.waiting}
    assert len(waiting) == 5
    assert (waiting["coverage"], waiting["void"]) == ("96", "1/2")


def test_a_no_alone_takes_all_of_them_back(lifted: Crew) -> None:
    lifted.say("no")
    assert not lifted.day.state.waiting


# --- taken back, and on the disk ----------------------------------------------------------------------------------


def test_what_was_called_together_is_taken_back_one_by_one(wall: Crew) -> None:
    wall.say("back keyed, spread, combed straight", "scratch that")
    assert wall.step == "comb"
    wall.say("scratch that, scratch that")
    assert wall.step == "back"


def test_a_chain_reaches_the_disk_in_one_piece_or_not_at_all(wall: Crew, monkeypatch: pytest.MonkeyPatch) -> None:
    day = wall.day
    appended: list[int] = []
    append = day.log.append

    def counted(events: Any) -> None:
        appended.append(len(events))
        append(events)

    monkeypatch.setattr(day.log, "append", counted)
    wall.hear("back keyed, spread, tile set")
    assert len(appended) == 1

    def broken(_events: Any) -> None:
        raise LogProblem("the disk is full")

    monkeypatch.setattr(day.log, "append", broken)
    before, count = day.state, len(day.log.events)
    with pytest.raises(LogProblem):
        wall.hear("combed straight, tile set")
    assert day.state is before
    assert len(day.log.events) == count


def test_a_day_read_again_after_a_chain_stands_where_it_stood(wall: Crew) -> None:
    wall.say("back keyed, spread, combed straight")
    path, state = wall.day.log.path, wall.day.state
    wall.day.close()
    with Day.resume(path, wall.clock) as again:
        assert again.state.area is not None
        assert again.state.area.task == state.areas[state.active or ""].task


# --- time ---------------------------------------------------------------------------------------------------------


def test_a_time_that_began_and_ended_in_one_breath_is_not_judged(wall: Crew) -> None:
    wall.say("back keyed", "spread, combed straight, tile set")
    ended = wall.events(ClockStopped)[-1]
    assert (ended.together, ended.verdict, ended.minutes) == (True, None, 0.0)


def test_a_time_that_ended_in_a_breath_of_its_own_is_judged(wall: Crew) -> None:
    wall.say("back keyed, spread", "combed straight, tile set")
    ended = wall.events(ClockStopped)[-1]
    assert (ended.together, ended.verdict) == (False, "passed")


def test_a_time_that_must_run_is_not_run_by_one_breath(crew: Crew) -> None:
    crew.open_shower()
    crew.say("new batch")
    while crew.day.prompt.caution:
        crew.say("understood")
    crew.say("one bag!")
    if crew.step == "lot":
        crew.say("lot b seven!")
    crew.say("water five liters!")
    crew.hear("batch mixed, remixed")
    slake = [body.clock for body in crew.events(ClockStarted)][-1]
    assert all(body.verdict != "passed" for body in crew.events(ClockStopped) if body.clock == slake)
    area = crew.day.state.area
    assert area is not None
    assert "batch" not in area.progress.good


def test_tiles_called_whole_in_one_breath_are_too_fast_as_any_others(wall: Crew) -> None:
    """The hands were free a quarter of a minute before, whatever was called together."""
    wall.say("back keyed, spread, combed straight, tile set", "slid half an inch!", "beaten in")
    wall.lift()
    wall.say("put back")
    before = {found.id for found in contradictions(wall.day.state)}
    # Chains whose value waits for its yes; what is entered may be kept at once.
    wall.say("next tile, back keyed, spread, combed straight, tile set, slid half an inch")
    if wall.day.state.pending is not None:
        wall.say("yes")
    wall.say("beaten in")
    new = {found.told.code for found in contradictions(wall.day.state) if found.id not in before}
    assert new == {"open-too-fast"}


# --- heard --------------------------------------------------------------------------------------------------------


def test_one_number_is_not_two_values_of_which_the_second_keeps_the_first(crew: Crew) -> None:
    crew.say(*TO_THE_HOLD[: TO_THE_HOLD.index("gap two millimeters!")])
    events = len(crew.day.log.events)
    assert hear(crew, "a half and three quarters").fate is Fate.ASKED
    assert len(crew.day.log.events) == events
    named = hear(crew, "gap one millimeter and short gap half a millimeter")
    assert [piece.text for piece in named.catch.chain] == ["gap one millimeter", "short gap half a millimeter"]


def test_another_alternative_that_fits_wholly_goes_before_words_that_are_no_phrase(wall: Crew) -> None:
    reply = hear(wall, "back keyed red", "back keyed spread")
    assert reply.fate is Fate.TAKEN
    assert len(reply.catch.chain) == 2
    assert wall.step == "comb"


def test_spoken_words_that_are_no_phrase_are_asked_back_and_nothing_is_taken(wall: Crew) -> None:
    assert hear(wall, "back keyed spread red").fate is Fate.ASKED
    assert wall.step == "back"


def test_a_spoken_phrase_that_is_refused_ends_the_chain(wall: Crew) -> None:
    assert stopped(hear(wall, "back keyed tile set")) == ("tile set", "engine-comes-later")
    assert wall.step == "spread"


def test_other_phrases_heard_almost_as_well_are_asked_about_and_a_yes_takes_the_chain(wall: Crew) -> None:
    wall.say("back keyed")
    reply = hear(wall, "spread combed straight", "spread combed in swirls", apart=CLOSE_RIVAL / 2)
    assert reply.fate is Fate.ASKED
    assert wall.step == "spread"
    wall.say("yes")
    assert wall.step == "set"
    choices = [e for e in wall.day.log.events if e.source.words == "spread combed straight"]
    assert {e.source.together for e in choices} == {2}


def test_a_no_to_that_question_takes_nothing(wall: Crew) -> None:
    wall.say("back keyed")
    hear(wall, "spread combed straight", "spread combed in swirls", apart=CLOSE_RIVAL / 2)
    wall.say("no")
    assert wall.step == "spread"


def test_a_value_with_a_rival_is_doubtful_in_the_record_and_read_back_with_it(wall: Crew) -> None:
    wall.say("back keyed, spread, combed straight")
    reply = hear(wall, "tile set slid fifteen millimeters", "tile set slid fifty millimeters", apart=CLOSE_RIVAL / 2)
    assert reply.fate is Fate.TAKEN
    assert reply.answer is not None
    assert [e.source.doubt for e in reply.answer.events if e.body.type == "reading called"] == [True]
    assert not any(e.source.doubt for e in reply.answer.events if e.body.type == "step confirmed")
    assert "readback-rival" in codes(reply.spoken)


def test_a_yes_at_the_beginning_must_be_the_best_hearing(wall: Crew) -> None:
    wall.say("back keyed, spread, combed straight, tile set", "slid one millimeter")
    hear(wall, "yes red", "yes beaten in")
    assert wall.day.state.pending is not None


# --- the same as one by one ---------------------------------------------------------------------------------------


def _plain(state: Any) -> Any:
    """What a state says of the work, without the moments and sources in which chains differ from single phrases."""
    area = state.area
    progress = area.progress
    return (
        area.setter,
        progress.phase,
        progress.tasks,
        dict(progress.rounds),
        {n: (t.order, t.place, t.setter, t.state) for n, t in progress.tiles.items()},
        [(f.step, f.corrective) for f in progress.failures.values()],
        [(r.section, r.step, r.value, r.unit) for r in area.readings.values()],
        state.pending is not None and (state.pending.task, state.pending.value, state.pending.unit),
        [(c.clock, c.section, c.round) for c in progress.clocks],
        state.speaker,
    )


@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(choices=st.lists(st.integers(0, 1000), min_size=2, max_size=6))
def test_a_chain_comes_to_what_its_phrases_one_by_one_come_to(
    choices: list[int], plan: Any, checklists: Any, tmp_path_factory: pytest.TempPathFactory
) -> None:
    """Random offers of the moment, typed one by one and, in another day, with commas between."""
    one, other = (_day(tmp_path_factory.mktemp("chain"), plan, checklists) for _ in range(2))
    try:
        phrases: list[str] = []
        for choice in choices:
            offers = [
                o
                for o in one.day.prompt.answers
                if (o.slot is None or o.slot.units) and not isinstance(o.command, cmd.Withdraw | cmd.SignDay | cmd.Keep)
            ]
            if not offers or one.day.state.pending is not None or one.day.prompt.caution:
                break
            offer = offers[choice % len(offers)]
            said = offer.phrases[0].replace("{value}", "5" if offer.slot else "")
            reply = act(one.day, _typed(one.day, said))
            phrases.append(said)
            if reply.fate is not Fate.TAKEN:
                break
        act(other.day, _typed(other.day, ", ".join(phrases)))
        assert _plain(one.day.state) == _plain(other.day.state)
        assert _plain(fold(other.day.log.events)) == _plain(other.day.state)
    finally:
        one.day.close()
        other.day.close()


def _typed(day: Day, words: str) -> Any:
    return interpret_text(words, day.prompt.offers, day.trial())


def _day(folder: Path, plan: Any, checklists: Any) -> Crew:
    clock = SimulatedClock(datetime.fromisoformat("2026-03-17T07:00:00+00:00"))
    crew = Crew(Day.begin(folder / "day.db", plan, checklists, clock, lot_seed="11" * 32), clock)
    crew.open_shower()
    crew.mix()
    crew.say("next tile")
    return crew
