"""How much of an answer is spoken: the eye is told all of it, the ear what it needs."""

from __future__ import annotations

from dataclasses import replace

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.moment import SPOKEN
from fieldassist.day.ear import Catch, Fate, Reply, act, interpret_text
from fieldassist.day.session import Day
from fieldassist.day.speaking import LEVELS, Speaking, SpeakingLevel, ToSay
from fieldassist.trade.message import Figure, Message, Several, holds, message
from tests.conftest import Crew


class Told:
    """A crew whose answers pass through `Speaking`, as at the tablet."""

    def __init__(self, crew: Crew, level: SpeakingLevel = "few words") -> None:
        self.crew = crew
        self.kept: list[SpeakingLevel] = []
        self.speaking = Speaking(level, self.kept.append)

    @property
    def day(self) -> Day:
        return self.crew.day

    def hear(self, words: str) -> ToSay:
        return self.speaking.reply(self.day, self.crew.hear(words))

    def say(self, *lines: str) -> ToSay:
        told = [self.hear(words) for line in lines for words in ([line[:-1], "yes"] if line.endswith("!") else [line])]
        return told[-1]


def codes(told: Figure | None) -> set[str]:
    match told:
        case Message():
            return {told.code}.union(*(codes(figure) for figure in told.figures.values()))
        case Several():
            return set().union(*(codes(item) for item in told.items))
        case _:
            return set()


def test_the_third_same_answer_is_a_sound_whatever_its_figures(crew: Crew) -> None:
    told = Told(crew)
    told.say("this is rosa")
    first, second, third, fourth = (told.say(f"weather {w}") for w in ("sunny", "cloudy", "windy", "foggy"))
    assert first.words is not None
    assert second.words is not None
    assert (third.words, third.sound, fourth.words) == (None, "kept", None)
    assert "engine-weather" in codes(third.whole), "the eye is told all of it"


def test_somebody_else_has_heard_nothing_yet(crew: Crew) -> None:
    told = Told(crew)
    told.say("this is rosa", "weather sunny", "weather sunny", "weather sunny")
    assert told.say("weather sunny").words is None
    told.say("this is edwin")
    assert told.say("weather sunny").words is not None


def test_all_words_says_the_same_answer_every_time(crew: Crew) -> None:
    told = Told(crew, "all words")
    told.say("this is rosa")
    for _ in range(4):
        answer = told.say("weather sunny")
        assert answer.words == answer.whole


def test_a_question_is_whole_once_and_then_its_name(crew: Crew) -> None:
    crew.open_shower()
    told = Told(crew)
    told.say("new batch", "understood")
    told.say("one bag!")
    if crew.step == "lot":
        lot = told.say("lot b seven")
        assert holds(lot.words or "", told.day.prompt.say), "the first time a question is told whole"
    told.say("water five liters!", "batch mixed")
    crew.clock.advance(8)
    told.say("remixed")
    crew.clock.advance(5)
    again = told.say("new batch")
    asked = told.day.prompt
    assert not holds(again.words or "", asked.say)
    assert asked.short is not None
    assert holds(again.words or "", asked.short)
    assert holds(again.whole or "", asked.say)


def test_what_now_says_the_question_whole_at_every_level_and_repeat_what_was_a_sound(crew: Crew) -> None:
    for level in LEVELS:
        told = Told(crew, level)
        told.say("this is rosa", "weather sunny", "weather sunny")
        last = told.say("weather sunny")
        again = told.say("repeat")
        assert again.words == again.whole == last.whole
        asked = told.say("what now")
        assert holds(asked.words or "", told.day.prompt.say)


@pytest.mark.parametrize("level", LEVELS)
def test_what_fails_is_refused_not_understood_or_waits_for_a_yes_is_spoken_whole(
    crew: Crew, level: SpeakingLevel
) -> None:
    crew.open_shower()
    crew.mix()
    crew.set_tile()
    told = Told(crew, level)
    for _ in range(4):
        refused = told.hear("bed five millimeters")
        assert (refused.words, refused.sound) == (refused.whole, "refused")
        lost = told.hear("rain on the roof")
        assert lost.words == lost.whole is not None
        assert lost.sound == "asking"
    told.say("test tile lifted", "no photo")
    back = told.say("coverage seventy percent")
    assert back.words == back.whole is not None
    assert "readback-fails" in codes(back.words)
    told.say("yes", "largest void zero square inches!", "corners full", "edges full", "bed five millimeters")
    failed = told.say("yes")
    assert "engine-failed" in codes(failed.words)
    assert holds(failed.words or "", told.day.prompt.say), "what comes first is told whole"
    kept = "engine-kept" in codes(failed.words)
    assert kept is (level == "all words"), "the sound says it"


@pytest.mark.parametrize("level", LEVELS)
def test_a_caution_and_a_tile_to_be_lifted_are_spoken_at_every_level(crew: Crew, level: SpeakingLevel) -> None:
    told = Told(crew, level)
    caution = told.say("this is rosa", "start area shower wall")
    assert "prompt-caution" in codes(caution.words)
    crew.say("understood", "understood", "air temperature twenty one degrees!", "wall temperature eighteen degrees!")
    crew.say("humidity fifty percent!", "membrane checked", "gap two millimeters!", "short gap one millimeter!")
    crew.say("wall clean", "this is edwin", "base released", "this is rosa")
    crew.mix()
    crew.say("next tile", "back keyed", "spread", "mortar combed", "tile set", "slid half an inch!")
    assert {"engine-is-due"} <= codes(told.say("beaten in").words)


@pytest.mark.parametrize("level", LEVELS)
def test_clocks_speak_at_every_level(crew: Crew, level: SpeakingLevel) -> None:
    crew.open_shower()
    told = Told(crew, level)
    told.say("new batch", "understood", "one bag!")
    if crew.step == "lot":
        told.say("lot b seven!")
    told.say("water five liters!", "batch mixed")
    crew.clock.advance(8)
    answer = crew.day.tick()
    assert answer is not None
    rung = told.speaking.clock(told.day, answer)
    assert (rung.words, rung.sound, rung.times) == (answer.say, "time is up", 2)


def test_quiet_and_talk_to_me_step_through_the_levels_and_write_nothing_down(crew: Crew) -> None:
    told = Told(crew, "all words")
    told.say("this is rosa")
    before = told.day.log.head
    for level in ("few words", "sounds", "sounds"):
        answer = told.say("quiet")
        assert told.speaking.level == level
        assert answer.words == answer.whole == message("ear-level", level=level.replace(" ", "-"))
    told.say("talk to me", "talk to me")
    assert told.speaking.level == "all words"
    assert told.kept == ["few words", "sounds", "sounds", "few words", "all words"]
    assert told.day.log.head == before


def test_a_pressed_answer_is_as_quiet_as_a_spoken_one(crew: Crew) -> None:
    told = Told(crew)
    told.say("this is rosa", "weather sunny", "weather sunny")
    command = cmd.NoteWeather(text="sunny")
    pressed = told.speaking.answer(told.day, told.day.do(command), command)
    assert (pressed.words, pressed.sound) == (None, "kept")


@pytest.mark.parametrize("level", LEVELS)
def test_the_words_that_are_counted_are_those_that_were_spoken(crew: Crew, level: SpeakingLevel) -> None:
    told = Told(crew, level)
    lines = ["this is rosa", *["weather sunny"] * 4, "start area shower wall", "understood", "rain on the roof"]
    heard = [told.hear(line) for line in lines]
    spoken = [told.day.words.aloud(one.words) for one in heard if one.words is not None]
    assert told.speaking.words_said == sum(len(one.split()) for one in spoken) > 0
    assert told.speaking.utterances == len(lines)
    assert told.speaking.counts.crew_words == sum(len(line.split()) for line in lines)
    assert set(told.speaking.by_area) == {"", "shower wall"}


def test_talk_that_was_not_meant_for_the_tablet_is_no_utterance_and_is_not_answered(crew: Crew) -> None:
    told = Told(crew)
    answer = told.speaking.reply(told.day, Reply(Fate.IGNORED, Catch("nice weather"), None))
    assert (answer.words, answer.whole, answer.sound) == (None, None, None)
    assert told.speaking.utterances == 0


@pytest.mark.parametrize("level", LEVELS)
def test_a_spoken_value_is_read_back_every_time_also_where_its_own_breath_keeps_it(
    crew: Crew, level: SpeakingLevel
) -> None:
    crew.open_shower()
    told = Told(crew, level)
    for _ in range(3):
        crew.say("new batch")
        if told.day.prompt.caution is not None:
            crew.say("understood")
        crew.say("one bag!")
        if crew.step == "lot":
            crew.say("lot b seven!")
        crew.clock.advance(0.2)
        caught = interpret_text("water five liters, batch mixed", told.day.prompt.offers, told.day.trial(SPOKEN))
        heard = told.speaking.reply(told.day, act(told.day, replace(caught, source=SPOKEN)))
        assert "engine-read-back" in codes(heard.words)
        assert told.day.state.pending is None
        crew.clock.advance(8)
        crew.day.tick()
        crew.say("remixed")
