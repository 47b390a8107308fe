"""Phrases and understanding come from the same offers."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from random import Random

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.commands import Command
from fieldassist.checklist.events import ReadingKept, WeatherNoted
from fieldassist.checklist.offers import Offer, Slot
from fieldassist.day.ear import Fate, act, interpret, interpret_text, sifted
from fieldassist.day.rejection import Where
from fieldassist.language import Words
from fieldassist.language.spoken import spoken_language
from fieldassist.trade.message import Compared, Digits, Read, holds, message
from fieldassist.trade.quantities import Quantity
from fieldassist.voice.dialogue import Signs, read_back
from fieldassist.voice.phrases import (
    NotUnderstood,
    Taken,
    Unclear,
    sample_sentences,
    understand,
    unknown_words,
)
from fieldassist.voice.recognizer import Alternative, Heard
from tests.conftest import Crew

COVERAGE = Offer(
    ("coverage {value}", "{value}"),
    "Coverage",
    cmd.GiveReading(section="lift", step="coverage"),
    Slot("coverage", "percent", ("percent",), 0, 100),
)
GAP = Offer(
    ("gap {value}",),
    "Gap",
    cmd.GiveReading(section="base", step="flatness"),
    Slot("length", "length", ("mm", "in"), 0, 50),
)
AIR = Offer(
    ("air temperature {value}",),
    "Air",
    cmd.GiveReading(section="conditions", step="air"),
    Slot("temperature", "temperature", ("degC", "degF"), -30, 60),
)
LATER = Offer(("tile set",), "Set", cmd.ConfirmStep(section="tile", step="set"), now=False)
OFFERS = [COVERAGE, GAP, AIR, LATER]


def percent(value: int) -> Quantity:
    return Quantity(Fraction(value), "percent")


def reading(words: str) -> tuple[Fraction, str]:
    taken = understand(words, OFFERS)
    assert isinstance(taken, Taken), taken
    command: Command = taken.command
    assert isinstance(command, cmd.GiveReading)
    return command.value, command.unit


@pytest.mark.parametrize(
    ("words", "value", "unit"),
    [
        ("coverage ninety five percent", Fraction(95), "percent"),
        ("coverage ninety five", Fraction(95), "percent"),
        ("ninety five", Fraction(95), "percent"),
        ("gap two millimeters", Fraction(2), "mm"),
        ("gap two", Fraction(2), "mm"),
        ("gap three sixteenths of an inch", Fraction(3, 16), "in"),
        ("gap three sixteenths", Fraction(3, 16), "in"),
        ("gap one point five millimeters", Fraction(3, 2), "mm"),
        ("air temperature twenty one degrees celsius", Fraction(21), "degC"),
        ("air temperature twenty one degrees", Fraction(21), "degC"),
        ("air temperature sixty eight degrees fahrenheit", Fraction(68), "degF"),
        # 68 °C is no air temperature, so bare degrees can only be Fahrenheit.
        ("air temperature sixty eight degrees", Fraction(68), "degF"),
        ("okay coverage ninety five percent please", Fraction(95), "percent"),
        ("Coverage ninety-five percent", Fraction(95), "percent"),
        ("coverage 95 %", Fraction(95), "percent"),
        ("95", Fraction(95), "percent"),
        ("gap 1-3/8 in", Fraction(11, 8), "in"),
        ("gap 2.5", Fraction(5, 2), "mm"),
        ("air temperature 68 F", Fraction(68), "degF"),
    ],
)
def test_readings_are_exact_and_carry_their_unit(words: str, value: Fraction, unit: str) -> None:
    assert reading(words) == (value, unit)


@pytest.mark.parametrize("words", ["", "coverage", "coverage percent", "ninety five bananas", "gap", "coverage yes"])
def test_what_does_not_parse_whole_is_not_understood(words: str) -> None:
    assert isinstance(understand(words, OFFERS), NotUnderstood)


def test_an_ambiguous_number_is_a_choice_and_never_a_guess() -> None:
    wide = Offer(
        ("slid {value}",),
        "Slid",
        cmd.GiveReading(section="t", step="s"),
        Slot("length", "length", ("mm", "in"), 0, 10_000),
    )
    meaning = understand("slid five thirty two", [wide])
    assert isinstance(meaning, Unclear)
    assert sorted(c.value for c in meaning.choices) == ["5/32 in", "532 mm"]


def test_a_reading_that_can_only_be_one_thing_is_not_ambiguous() -> None:
    assert reading("gap five thirty two") == (Fraction(5, 32), "in")


@pytest.mark.parametrize(
    "words",
    [
        "ninety five percent coverage",
        "the coverage is ninety five percent",
        "coverage is ninety five",
        "um the coverage ninety five please",
        "ninety five coverage",
    ],
)
def test_word_order_links_and_fillers_do_not_change_a_reading(words: str) -> None:
    assert reading(words) == (Fraction(95), "percent")


SET = Offer(("tile set", "tile placed"), "Set", cmd.ConfirmStep(section="tile", step="set"))
RESET = Offer(("set tile again",), "Reset", cmd.ConfirmStep(section="cure", step="reset"))


@pytest.mark.parametrize(
    "words", ["tile is set", "the tile is set", "set the tile", "okay tile set", "placed the tile"]
)
def test_a_step_is_understood_in_the_orders_of_plain_speech(words: str) -> None:
    meaning = understand(words, [SET, RESET, *OFFERS])
    assert isinstance(meaning, Taken)
    assert meaning.command == SET.command


@pytest.mark.parametrize("words", ["set", "the", "tile set tile", "again the", "coverage tile set", "is the please"])
def test_a_part_of_a_phrase_in_any_order_is_no_phrase(words: str) -> None:
    assert isinstance(understand(words, [SET, RESET, *OFFERS]), NotUnderstood)


def test_words_that_fit_two_steps_in_another_order_are_not_guessed_at() -> None:
    other = Offer(("tile again set",), "Other", cmd.ConfirmStep(section="x", step="y"))
    assert isinstance(understand("again set tile", [RESET, other]), NotUnderstood)
    assert isinstance(understand("again set tile", [RESET]), Taken)


def test_every_sampled_sentence_means_its_own_offer(crew: Crew) -> None:
    """What a sentence means is known from what it was made of, not from understanding it."""
    crew.open_shower()
    crew.mix()
    crew.set_tile()
    crew.say("test tile lifted")
    offers = crew.day.prompt.offers
    sentences = sample_sentences(offers, Random(5), 300)
    assert len(sentences) == 300
    for sentence in sentences:
        meaning = understand(sentence.text, offers)
        assert isinstance(meaning, Taken), sentence
        assert (meaning.command, meaning.value) == (sentence.command, sentence.value), sentence
    said = {type(s.command) for s in sentences}
    assert said == {type(o.command) for o in offers if o.now and o.phrases}
    assert len({s.text for s in sentences}) > 60


def test_a_step_that_is_not_due_is_heard_all_the_same() -> None:
    taken = understand("tile set", OFFERS)
    assert isinstance(taken, Taken)
    assert taken.command == LATER.command


def test_words_unknown_to_the_model_are_named() -> None:
    offer = Offer(("mortar gezahnt", "mortar combed"), "Comb", cmd.ConfirmStep(section="t", step="c"))
    assert unknown_words([offer], lambda word: word != "gezahnt") == ["gezahnt"]


def test_hints_are_what_is_understood(crew: Crew) -> None:
    crew.open_shower()
    for hint in crew.day.prompt.hints:
        assert not isinstance(understand(hint.replace("…", "two"), crew.day.prompt.offers), NotUnderstood), hint


def test_talk_is_asked_back_with_what_may_be_said(crew: Crew) -> None:
    crew.open_shower()
    before = len(crew.day.log.events)
    outcome = crew.hear("did anybody bring the long level")
    assert outcome.fate is Fate.ASKED
    assert outcome.spoken.code == "ear-you-can-say"
    assert holds(outcome.spoken, message("prompt-quoted", phrase="new batch"))
    assert len(crew.day.log.events) == before, "nothing was logged"


@pytest.mark.parametrize(
    ("value", "digits"), [(13, "one three"), (30, "three zero"), (90, "nine zero"), (19, "one nine")]
)
def test_numbers_that_sound_alike_are_read_back_digit_by_digit(value: int, digits: str) -> None:
    back = read_back("Coverage", Fraction(value), "percent")
    assert holds(back.told, Digits(Fraction(value)))
    assert digits in Words(ear=True)(back.told)


def test_a_failing_reading_says_so_before_it_is_kept() -> None:
    fails = message("limit-under", pair=Compared(percent(70), percent(95), "at least"))
    back = read_back("Coverage", Fraction(70), "percent", Signs(fails=fails))
    assert holds(back.told, message("readback-fails", finding=fails))
    assert "seventy percent is under ninety five percent" in Words(ear=True)(back.told)


@pytest.mark.parametrize(
    ("quantity", "spoken"),
    [
        (Quantity(Fraction(1, 2), "in2"), "half a square inch"),
        (Quantity(Fraction(2), "mm2"), "two square millimeters"),
        (Quantity(Fraction(3, 8), "in"), "three eighths of an inch"),
        (Quantity(Fraction(12), "kg"), "twelve kilograms"),
        (Quantity(Fraction(2), "h"), "two hours"),
    ],
)
def test_an_ear_hears_a_unit_in_words(quantity: Quantity, spoken: str) -> None:
    assert Words(ear=True)(quantity) == spoken


def test_talk_at_an_open_microphone_is_not_answered_at_all(crew: Crew) -> None:
    crew.open_shower()
    caught = interpret_text("did anybody bring the long level", crew.day.prompt.offers)
    outcome = act(crew.day, sifted(caught, Where.OPEN))
    assert (outcome.fate, outcome.spoken) == (Fate.IGNORED, None)


def test_an_open_microphone_wants_more_evidence_than_a_held_key(crew: Crew) -> None:
    crew.open_shower()
    offers = crew.day.prompt.offers
    near = replace(interpret_text("new batch", offers), foreign=0.0)
    sure = replace(near, foreign=-12.0)
    assert act(crew.day, sifted(near, Where.OPEN)).fate is Fate.IGNORED
    assert not crew.day.state.area.task
    assert act(crew.day, near).fate is Fate.TAKEN, "who pressed the key was speaking to the tablet"
    crew.say("scratch that")
    assert act(crew.day, sifted(sure, Where.OPEN)).fate is Fate.TAKEN


DOUBT = message("prompt-did-you-say", words="weather cloudy")


def heard(*scored: tuple[str, float]) -> Heard:
    return Heard(tuple(Alternative(text, score, ()) for text, score in scored), 1.0, foreign=-9.0)


def test_a_command_heard_almost_as_another_is_asked_about_and_done_after_yes(crew: Crew) -> None:
    crew.open_shower()
    events = len(crew.day.log.events)
    doubtful = heard(("weather cloudy", 50.0), ("weather foggy", 49.0))
    outcome = act(crew.day, interpret(doubtful, crew.day.prompt.offers))
    assert (outcome.fate, outcome.spoken) == (Fate.ASKED, DOUBT)
    assert len(crew.day.log.events) == events
    assert crew.hear("no").spoken == message("ear-say-again")
    assert len(crew.day.log.events) == events
    act(crew.day, interpret(doubtful, crew.day.prompt.offers))
    assert crew.hear("yes").fate is Fate.TAKEN
    assert crew.day.log.events[-1].body.text == "cloudy"
    assert crew.hear("yes").fate is Fate.REFUSED, "the yes was used up"


def test_a_yes_counts_only_as_the_best_hearing(crew: Crew) -> None:
    """In noise a mixture of phrases may be the best hearing, with a yes farther down among the alternatives."""
    crew.say("this is rosa", "start area shower wall", "understood", "understood")
    crew.speak("air temperature twenty one degrees")
    events = len(crew.day.log.events)
    for below in ("yes", "yes keep it"):
        caught = interpret(heard(("wrong yes", 50.0), (below, 44.0)), crew.day.prompt.offers)
        assert act(crew.day, caught).fate is Fate.ASKED
    for words in ("correct", "yes now", "yes no"):
        assert isinstance(understand(words, crew.day.prompt.offers), NotUnderstood)
    assert len(crew.day.log.events) == events
    assert act(crew.day, interpret(heard(("yes keep it", 50.0)), crew.day.prompt.offers)).fate is Fate.TAKEN


def test_a_bare_value_does_not_replace_a_reading_that_waits(crew: Crew) -> None:
    crew.say("this is rosa", "start area shower wall", "understood", "understood")
    crew.speak("air temperature twenty one degrees")
    assert crew.hear("fourteen degrees").fate is Fate.ASKED
    assert crew.day.state.pending is not None
    assert crew.day.state.pending.value == 21
    crew.say("air temperature fourteen degrees", "yes")
    assert [crew.day.log.events[e.target - 1].body.value for e in crew.events(ReadingKept)] == [14]


def test_no_filler_and_no_word_between_is_a_phrase_of_its_own(crew: Crew) -> None:
    crew.open_shower()
    own = {word for offer in crew.day.prompt.offers for phrase in offer.phrases for word in phrase.split()}
    assert not own & spoken_language().fillers


def test_the_answers_to_a_doubt_are_listened_for(crew: Crew) -> None:
    crew.open_shower()
    act(crew.day, interpret(heard(("weather cloudy", 50.0), ("weather foggy", 49.0)), crew.day.prompt.offers))
    assert crew.day.prompt.say == DOUBT
    assert {o.command.do for o in crew.day.prompt.answers} >= {"keep", "withdraw"}
    assert act(crew.day, interpret(heard(("yes", 50.0), ("no", 49.0)), crew.day.prompt.offers)).fate is Fate.ASKED
    assert crew.hear("yes keep it").fate is Fate.TAKEN
    assert crew.events(WeatherNoted)


def test_something_else_said_after_a_doubt_drops_it(crew: Crew) -> None:
    crew.open_shower()
    act(crew.day, interpret(heard(("weather cloudy", 50.0), ("weather foggy", 49.0)), crew.day.prompt.offers))
    crew.say("weather rain")
    assert crew.hear("yes").fate is Fate.REFUSED
    assert [e.text for e in crew.events(WeatherNoted)] == ["rain"]


def test_a_yes_that_could_have_been_a_no_keeps_nothing(crew: Crew) -> None:
    crew.say("this is rosa", "start area shower wall", "understood", "understood")
    crew.speak("air temperature twenty one degrees")
    events = len(crew.day.log.events)
    for words in (("yes", "no"), ("no", "yes")):
        both = heard((words[0], 50.0), (words[1], 49.0))
        outcome = act(crew.day, interpret(both, crew.day.prompt.offers))
        assert outcome.fate is Fate.ASKED
        assert holds(outcome.spoken, Read(Quantity(Fraction(21), "degC")))
    assert len(crew.day.log.events) == events


def test_a_rival_that_the_sequence_would_refuse_raises_no_doubt(crew: Crew) -> None:
    crew.open_shower()
    clear = heard(("new batch", 50.0), ("batch mixed", 49.5))
    assert act(crew.day, interpret(clear, crew.day.prompt.offers)).fate is Fate.TAKEN


def test_a_name_typed_with_its_own_letters_meets_what_is_listened_for() -> None:
    offer = Offer(("this is jose o'brien",), "José O'Brien", cmd.SpeakAs(name="josé o'brien"))
    for typed in ("this is José O’Brien", "this is jose o'brien"):
        taken = understand(typed, [offer])
        assert isinstance(taken, Taken)
        assert taken.command == offer.command
