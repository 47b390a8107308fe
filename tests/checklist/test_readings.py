"""How a reading is kept: by the next phrase where nothing could be wrong unheard, at once where it was entered, else by
a yes; and a lift's answers in one breath."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import permutations
from random import Random

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist.commands import Command
from fieldassist.checklist.engine import Decision, Refusal, decide
from fieldassist.checklist.events import Event
from fieldassist.checklist.fold import apply
from fieldassist.checklist.keeping import after_keeping
from fieldassist.checklist.kinds.reading import far_from, last_readings
from fieldassist.checklist.moment import PRESSED, Source
from fieldassist.checklist.open_points import open_points
from fieldassist.checklist.prompt import prompt
from fieldassist.checklist.standing import standing
from fieldassist.checklist.state import State, Task
from fieldassist.day.ear import Fate, act, interpret
from fieldassist.language.numbers import confusable
from fieldassist.trade.message import Message, Several, holds, message
from fieldassist.trade.quantities import Quantity
from fieldassist.voice.recognizer import Alternative, Heard
from fieldassist.voice.sentences import sentences
from tests.checklist.days import Bench, plausible
from tests.conftest import Crew

SPOKEN = Source(how="spoken", model="m", confidence=9.0, words="w")
DOUBTFUL = SPOKEN.model_copy(update={"doubt": True})


def kept(crew: Crew) -> list[tuple[str, Fraction, str]]:
    """Every reading that counts: its step, its value, and by what it was kept."""
    found = standing(crew.day.log.events).readings
    return [(r.body.step, r.body.value, getattr(r.judged, "kept", "")) for r in found]


def coded(told: object, code: str) -> bool:
    """Whether a message with this code is said, as a part of another or alone."""
    if isinstance(told, Message):
        return told.code == code or any(coded(figure, code) for figure in told.figures.values())
    return isinstance(told, Several) and any(coded(item, code) for item in told.items)


@pytest.fixture
def shower(crew: Crew) -> Crew:
    """The shower wall, where the air's temperature is asked."""
    crew.say("this is rosa", "start area shower wall", "understood", "understood")
    return crew


@pytest.fixture
def lifted(crew: Crew) -> Crew:
    """A tile is set and lifted; its coverage is asked."""
    crew.open_shower()
    crew.mix()
    crew.set_tile()
    crew.say("test tile lifted", "no photo")
    return crew


# --- the next phrase ----------------------------------------------------------------------------------------------


def test_a_reading_heard_well_is_kept_by_the_next_phrase_that_fits(shower: Crew) -> None:
    shower.speak("air temperature twenty one degrees")
    assert not shower.day.prompt.waits_for_yes
    assert kept(shower) == []
    assert shower.speak("wall temperature twenty two degrees").fate is Fate.TAKEN
    assert kept(shower) == [("air-temperature", 21, "next phrase")]
    assert shower.speak("humidity fifty five percent").fate is Fate.TAKEN
    assert shower.speak("yes").fate is Fate.TAKEN
    assert [how for _, _, how in kept(shower)] == ["next phrase", "next phrase", "yes"]


def test_it_is_read_back_without_a_question_and_with_what_is_asked_next(shower: Crew) -> None:
    spoken = shower.speak("air temperature twenty one degrees").spoken
    assert coded(spoken, "readback-plain")
    assert not coded(spoken, "readback-yes-or-no")
    area = after_keeping(shower.day.state, shower.clock.now()).area
    assert area is not None
    assert area.step is not None
    assert area.step.id == "wall-temperature"
    assert holds(spoken, area.step.ask)
    assert holds(shower.day.prompt.ask, area.step.ask)
    # The one that follows is told alone: what was kept before it is not read back again.
    assert not holds(shower.speak("wall temperature twenty two degrees").spoken, Quantity(Fraction(21), "degC"))


def test_it_and_what_keeps_it_are_one_decision(shower: Crew) -> None:
    shower.speak("air temperature twenty one degrees")
    answer = shower.speak("wall temperature twenty two degrees").answer
    assert answer is not None
    bodies = [e.body for e in answer.events]
    assert [type(body) for body in bodies[:1] + bodies[-1:]] == [ev.ReadingKept, ev.ReadingCalled]
    assert len({e.id.rpartition(".")[0] for e in answer.events}) == 1


def test_what_is_refused_then_keeps_nothing(shower: Crew) -> None:
    shower.speak("air temperature twenty one degrees")
    for words in ("tile set", "next tile", "test tile lifted", "humidity fifty five percent", "base released by nour"):
        assert shower.hear(words).fate is not Fate.TAKEN, words
        assert shower.day.state.pending is not None
        assert kept(shower) == []
    assert shower.speak("yes").fate is Fate.TAKEN
    assert kept(shower) == [("air-temperature", 21, "yes")]


def test_no_withdraws_it_and_another_value_takes_its_place(shower: Crew) -> None:
    shower.speak("air temperature twenty one degrees")
    assert shower.speak("no").fate is Fate.TAKEN
    assert shower.day.state.pending is None
    shower.speak("air temperature twenty two degrees")
    shower.speak("air temperature twenty three degrees")
    shower.speak("wall temperature twenty two degrees")
    assert kept(shower) == [("air-temperature", 23, "next phrase")]
    assert [w.reason for w in shower.events(ev.Withdrawn)] == ["answered no", "said again"]


def test_time_and_questions_and_remarks_keep_nothing(shower: Crew) -> None:
    shower.speak("air temperature twenty one degrees")
    for command in (cmd.Tick(), cmd.Ask(about="what now"), cmd.MakeNote(text="cold here")):
        assert shower.day.do(command).taken
        assert kept(shower) == []
    shower.hear("bananas")
    assert kept(shower) == []


def test_a_clock_that_warns_keeps_nothing(crew: Crew) -> None:
    crew.open_shower()
    crew.mix()
    crew.say("next tile", "back keyed", "spread", "mortar combed", "tile set")
    assert crew.speak("slid half an inch").fate is Fate.TAKEN
    waits = crew.day.state.pending
    assert waits is not None
    while (due := crew.day.minutes_to_next_alarm()) is not None and crew.clock.advance(max(due, 0.01)) is None:
        if crew.day.tick() is not None:
            break
    assert crew.day.state.pending == waits


def test_what_goes_on_with_it_is_taken_back_alone_and_then_the_reading(crew: Crew) -> None:
    crew.open_shower()
    crew.mix()
    crew.say("next tile", "back keyed", "spread", "mortar combed", "tile set")
    crew.speak("slid half an inch")
    crew.speak("beaten in")
    assert kept(crew)[-1][0] == "slide"
    crew.say("scratch that")
    assert crew.step == "beat-in"
    assert kept(crew)[-1][0] == "slide"
    crew.say("scratch that")
    assert crew.step == "slide"
    assert kept(crew)[-1][0] != "slide"


def test_the_one_who_read_it_keeps_it_where_another_begins_to_speak(shower: Crew) -> None:
    shower.speak("air temperature twenty one degrees")
    shower.speak("this is edwin")
    event = next(e for e in shower.day.log.events if isinstance(e.body, ev.ReadingKept))
    assert event.by == "rosa"
    assert shower.day.state.speaker is not None
    assert shower.day.state.speaker.name == "edwin"


def test_a_no_is_listened_for_though_nobody_waits_for_a_yes(shower: Crew) -> None:
    shower.speak("air temperature twenty one degrees")
    asked = shower.day.prompt
    graph = sentences(asked.offers, lambda _: True).graph
    for said in ("no", "scratch that", "wrong"):
        cost = graph.cost(said.split())
        assert cost is not None
        assert math.exp(-cost) > 0.01, said
    assert not {"keep", "withdraw"} & {offer.command.do for offer in asked.answers}


def test_no_bare_value_of_the_next_step_is_listened_for(shower: Crew) -> None:
    """In noise yes was heard as a number: it must not become the reading that comes next."""
    shower.speak("air temperature twenty one degrees")
    assert all("{value}" not in o.phrases for o in shower.day.prompt.offers if o.slot is not None)
    assert shower.speak("twenty two degrees").fate is Fate.ASKED


@pytest.mark.parametrize(
    ("words", "why"),
    [
        ("air temperature fourteen degrees", "sounds like forty"),
        ("air temperature two degrees", "fails"),
    ],
)
def test_what_could_be_wrong_waits_for_yes(shower: Crew, words: str, why: str) -> None:
    spoken = shower.speak(words).spoken
    assert coded(spoken, "readback-yes-or-no"), why
    assert shower.day.prompt.waits_for_yes
    assert shower.hear("wall temperature twenty two degrees").fate is not Fate.TAKEN
    assert kept(shower) == []


def test_what_was_heard_with_a_rival_waits_for_yes(shower: Crew) -> None:
    near = Heard(
        (
            Alternative("air temperature twenty one degrees", 50.0, ()),
            Alternative("air temperature twenty degrees", 48.0, ()),
        ),
        None,
    )
    reply = act(shower.day, interpret(near, shower.day.prompt.offers))
    assert coded(reply.spoken, "readback-rival")
    assert shower.day.log.events[-1].source.doubt
    assert shower.day.prompt.waits_for_yes


def test_a_value_far_from_the_last_ones_waits_for_yes_spoken_or_typed(crew: Crew) -> None:
    crew.open_shower()
    crew.mix()
    # Two tiles slid by half an inch: 12.7 mm. 100 mm is far from both.
    for _ in range(2):
        crew.set_tile()
        if crew.step is not None:
            crew.lift()
            crew.say("put back")
    crew.say("next tile", "back keyed", "spread", "mortar combed", "tile set")
    for say in (crew.speak, crew.hear):
        assert coded(say("slid one hundred millimeters").spoken, "readback-last")
        assert crew.day.prompt.waits_for_yes
        crew.say("no")


def test_only_readings_of_the_same_step_are_compared_not_of_one_with_its_id_elsewhere(crew: Crew) -> None:
    crew.open_shower()
    crew.mix()
    area = crew.day.state.area
    assert area is not None
    assert last_readings(area, Task("batch", 2, "bags"), "count") == [1]
    assert last_readings(area, Task("closing", 1, "bags"), "count") == []


def test_a_name_that_was_spoken_waits_for_yes_and_a_typed_one_does_not(crew: Crew) -> None:
    crew.open_shower()
    crew.say("new batch", "understood", "one bag")
    crew.speak("lot b seven")
    assert crew.day.prompt.waits_for_yes
    crew.say("no", "lot b seven")
    assert kept(crew)[-1] == ("lot", 0, "entered")


def test_a_correction_waits_for_yes_typed_too(shower: Crew) -> None:
    shower.say("air temperature twenty one degrees", "correct air temperature twenty two degrees")
    assert shower.day.prompt.waits_for_yes
    shower.say("yes")
    assert kept(shower) == [("air-temperature", 22, "")]


# --- entered ------------------------------------------------------------------------------------------------------


def test_what_is_typed_or_pressed_and_passes_is_kept_at_once(shower: Crew) -> None:
    answer = shower.say("air temperature fourteen degrees").answer
    assert answer is not None
    assert [type(e.body) for e in answer.events][:2] == [ev.ReadingCalled, ev.ReadingKept]
    given = cmd.GiveReading(section="conditions", step="wall-temperature", value=Fraction(18), unit="degC")
    assert shower.day.do(given, PRESSED).taken
    assert [how for _, _, how in kept(shower)] == ["entered", "entered"]
    assert not any(called.unquestioned for called in shower.events(ev.ReadingCalled))


def test_a_yes_after_it_is_one_too_many_and_changes_nothing(shower: Crew) -> None:
    shower.say("air temperature twenty one degrees")
    events = len(shower.day.log.events)
    assert holds(shower.say("yes").spoken, message("engine-kept-already"))
    assert len(shower.day.log.events) == events
    shower.say("wall temperature eighteen degrees", "humidity fifty percent", "yes", "membrane checked")
    assert shower.why("yes").code == "engine-nothing-waits"


def test_a_no_after_it_takes_it_back(shower: Crew) -> None:
    shower.say("air temperature twenty one degrees", "no")
    assert kept(shower) == []
    assert shower.step == "air-temperature"


def test_what_is_typed_and_fails_waits_for_yes(shower: Crew) -> None:
    shower.say("air temperature two degrees")
    assert shower.day.prompt.waits_for_yes
    assert kept(shower) == []


# --- a lift in one breath -----------------------------------------------------------------------------------------

ANSWERS = ("coverage ninety six percent", "void one square inch", "corners full", "edges full", "bed six millimeters")


@pytest.mark.parametrize("order", list(permutations(range(5)))[::7], ids=str)
def test_a_lift_is_told_in_any_order_and_kept_by_one_yes(lifted: Crew, order: Sequence[int]) -> None:
    for place in order:
        assert lifted.speak(ANSWERS[place]).fate is Fate.TAKEN
    assert len(lifted.day.state.waiting) == 5
    assert lifted.events(ev.LiftJudged) == []
    lifted.speak("yes")
    (judged,) = lifted.events(ev.LiftJudged)
    assert (judged.verdict, judged.coverage) == ("passed", 96)
    assert {how for step, _, how in kept(lifted) if step in ("coverage", "void", "bed")} == {"yes"}


def test_all_of_it_is_read_back_together(lifted: Crew) -> None:
    for words in ANSWERS[:-1]:
        lifted.speak(words)
    spoken = lifted.speak(ANSWERS[-1]).spoken
    told = lifted.day.prompt.ask
    assert isinstance(told, Message)
    assert told.code == "engine-yes-or-no"
    answers = told.figures["answers"]
    assert isinstance(answers, Several)
    assert len(answers.items) == 5
    assert isinstance(spoken, Several)
    assert [item.code for item in spoken.items if isinstance(item, Message)] == [
        "readback-answers",
        "readback-yes-or-no",
    ]


def test_a_breath_is_withdrawn_whole_or_one_value_replaced(lifted: Crew) -> None:
    for words in ANSWERS[:3]:
        lifted.speak(words)
    lifted.speak("void two square inches")
    assert [(p.task.step, p.value) for p in lifted.day.state.waiting][:2] == [("coverage", 96), ("void", 2)]
    lifted.speak("corner empty")
    assert [p.option for p in lifted.day.state.waiting][2] == "not-full"
    lifted.speak("no")
    assert lifted.day.state.waiting == ()
    assert lifted.step == "coverage"
    assert [w.reason for w in lifted.events(ev.Withdrawn)] == ["said again"] * 2 + ["answered no"] * 3


def test_what_fails_of_a_breath_is_told_before_its_yes(lifted: Crew) -> None:
    lifted.speak("coverage seventy percent")
    spoken = lifted.speak("corner empty").spoken
    assert isinstance(spoken, Several)
    assert [item.code for item in spoken.items if isinstance(item, Message)].count("readback-fails") == 2
    lifted.speak("edges full")
    lifted.speak("void one square inch")
    lifted.speak("bed six millimeters")
    lifted.speak("yes")
    assert [judged.verdict for judged in lifted.events(ev.LiftJudged)] == ["failed"]


def test_what_a_breath_leaves_out_is_asked_after_its_yes(lifted: Crew) -> None:
    for words in (ANSWERS[0], ANSWERS[2], ANSWERS[4], "yes"):
        lifted.speak(words)
    assert lifted.step == "void"
    assert lifted.events(ev.LiftJudged) == []
    lifted.speak("void one square inch")
    lifted.speak("yes")
    assert lifted.step == "edges"
    lifted.speak("edges full")
    assert [judged.verdict for judged in lifted.events(ev.LiftJudged)] == ["passed"]


def test_what_is_typed_of_a_lift_waits_for_yes_and_nothing_else_is_taken_before_it(lifted: Crew) -> None:
    lifted.say(ANSWERS[0], ANSWERS[1])
    assert [p.task.step for p in lifted.day.state.waiting] == ["coverage", "void"]
    assert {point.id.split("/")[0] for point in open_points(lifted.day.state)} >= {"reading"}
    for command in (cmd.StartRound(section="tile"), cmd.StartArea(area="hall floor"), cmd.FinishArea()):
        answer = lifted.day.do(command)
        assert isinstance(answer.say, Message)
        assert answer.say.code == "engine-first-yes-or-no"
    lifted.say("yes")
    assert lifted.step == "corners"


def test_what_was_kept_of_a_breath_is_taken_back_answer_by_answer(lifted: Crew) -> None:
    for words in (*ANSWERS, "yes", "scratch that"):
        lifted.speak(words)
    assert lifted.step == "bed"
    assert lifted.day.state.area is not None
    assert not lifted.day.state.area.progress.good_tiles
    lifted.speak("scratch that")
    lifted.speak("edges full")
    lifted.speak("bed five millimeters")
    lifted.speak("yes")
    assert lifted.day.state.area.progress.good_tiles == 1


def test_an_answer_that_was_called_and_taken_back_is_struck_with_its_keeping(lifted: Crew) -> None:
    for words in ("coverage ninety six percent", "void one square inch", "corners full", "yes", "scratch that"):
        lifted.speak(words)
    struck = standing(lifted.day.log.events).struck
    bodies = {type(lifted.day.log.events[seq - 1].body) for seq in struck}
    assert bodies == {ev.ChoiceCalled, ev.ChoiceMade}


# --- whatever the order -------------------------------------------------------------------------------------------


def commands(state: State, bench: Bench, dice: Random) -> Iterator[tuple[Command, Source]]:
    """What might be called at this moment, as it was heard: anything that is offered, with any value."""
    offers = [o for o in prompt(state, bench.clock.now()).offers if o.phrases]
    now = [o for o in offers if o.now]
    for offer in dice.sample(now, min(3, len(now))) + dice.sample(offers, min(1, len(offers))):
        source = dice.choice((SPOKEN, SPOKEN, DOUBTFUL))
        if offer.slot is None:
            yield offer.command, source
        elif offer.slot.dimension == "name":
            yield offer.fill(Fraction(0), "count", "b seven"), source
        elif offer.slot.heard:
            yield offer.fill(*plausible(offer.slot, dice)), source


@pytest.mark.parametrize("seed", range(12))
def test_whatever_is_said_no_reading_that_could_be_wrong_is_kept_without_a_yes(seed: int) -> None:
    """Any phrases in any order, at any prompts of the attic, in which every kind of step comes."""
    dice, bench = Random(seed), Bench.begun()
    bench.start("attic")
    called: dict[int, Event] = {}
    by_silence = 0
    for turn in range(160):
        chosen = list(commands(bench.state, bench, dice))
        if turn % 4 == 0 or not chosen:
            going = bench.next_answer()
            chosen = [(going or cmd.StartRound(section=dice.choice(("bucket", "tile"))), SPOKEN)]
        command, source = dice.choice(chosen)
        if isinstance(command, cmd.SignDay | cmd.FinishArea):
            continue
        before = bench.state
        came = decide(before, command, bench.clock.now(), f"s{seed}.{turn}", source)
        if isinstance(came, Refusal):
            assert bench.state == before
            continue
        assert isinstance(came, Decision)
        for event in came.events:
            area = bench.state.areas.get(getattr(event.body, "area", ""))
            if isinstance(event.body, ev.ReadingCalled):
                called[event.seq] = event
            elif isinstance(event.body, ev.ReadingKept) and event.body.kept != "yes":
                was = called[event.body.target]
                assert isinstance(was.body, ev.ReadingCalled)
                assert area is not None
                last = [
                    float(r.value) for r in area.readings.values() if (r.step, r.unit) == (was.body.step, was.body.unit)
                ]
                assert event.body.kept == "next phrase"
                assert not isinstance(command, cmd.Keep | cmd.Withdraw | cmd.Tick | cmd.Ask)
                assert event.body.verdict in (None, "passed")
                assert was.body.label is None
                assert was.body.corrects is None
                assert not confusable(was.body.value)
                assert not was.source.doubt
                section = area.checklist.section(was.body.section)
                assert section is None or section.lift is None
                if len({r.unit for r in area.readings.values() if r.step == was.body.step}) == 1:
                    assert not far_from(float(was.body.value), last)
                by_silence += 1
            bench.add(event)
    assert by_silence or seed, "some are kept by silence"


def test_a_record_that_keeps_without_its_yes_is_not_folded(lifted: Crew) -> None:
    lifted.speak("coverage ninety six percent")
    state, last = lifted.day.state, lifted.day.log.events[-1]
    assert isinstance(last.body, ev.ReadingCalled)
    body = ev.ReadingKept(
        area=last.body.area,
        section=last.body.section,
        round=last.body.round,
        step=last.body.step,
        target=last.seq,
        kept="next phrase",
    )
    with pytest.raises(ValueError, match="without the yes"):
        apply(state, last.model_copy(update={"seq": last.seq + 1, "id": "x.0", "body": body}))


def test_a_whole_lift_is_one_breath_and_one_yes(lifted: Crew) -> None:
    reply = lifted.say(", ".join(ANSWERS))
    assert len(lifted.day.state.waiting) == 5
    assert isinstance(reply.spoken, Several)
    assert [item.code for item in reply.spoken.items if isinstance(item, Message)] == [
        "readback-answers",
        "readback-yes-or-no",
    ]
    lifted.say("yes, put back")
    assert [judged.verdict for judged in lifted.events(ev.LiftJudged)] == ["passed"]


def test_a_reading_in_a_breath_is_kept_by_the_phrase_behind_it(crew: Crew) -> None:
    crew.open_shower()
    crew.mix()
    crew.say("next tile", "back keyed", "spread", "mortar combed", "tile set")
    crew.say("slid half an inch, beaten in")
    assert kept(crew)[-1] == ("slide", Fraction(1, 2), "entered")


# --- left out -----------------------------------------------------------------------------------------------------


def test_a_reading_that_not_everybody_has_the_tool_for_is_left_out_and_the_lift_is_judged_without_it(
    lifted: Crew,
) -> None:
    lifted.say("coverage ninety six percent", "void one square inch", "corners full", "edges full", "yes")
    assert lifted.step == "bed"
    lifted.say("no gauge")
    assert [(body.section, body.step) for body in lifted.events(ev.ReadingLeftOut)] == [("lift", "bed")]
    assert [judged.verdict for judged in lifted.events(ev.LiftJudged)] == ["passed"]
    lifted.say("scratch that")
    assert lifted.step == "bed"


def test_a_reading_is_left_out_only_where_its_checklist_says_so(shower: Crew) -> None:
    answer = shower.day.do(cmd.LeaveOutReading(section="conditions", step="air-temperature"), PRESSED)
    assert not answer.taken
    assert coded(answer.say, "engine-reading-wanted")


def test_a_reading_is_not_left_out_while_others_of_its_lift_wait(lifted: Crew) -> None:
    lifted.say("coverage ninety six percent", "void one square inch")
    answer = lifted.day.do(cmd.LeaveOutReading(section="lift", step="bed"), PRESSED)
    assert not answer.taken
