"""What an open microphone takes for the tablet's, and what it leaves alone."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from itertools import pairwise

import numpy as np
import pytest
import soundfile

from fieldassist.checklist.events import NoteMade, SpeakerChanged
from fieldassist.day.ear import SAY_AGAIN, Fate, NoAttention, Reply
from fieldassist.day.listening import NOTE_PAUSE_S, NOTE_WAIT_S, WINDOW_S, Listening, Manner
from fieldassist.day.rejection import LIMITS, NEAR_BY, Kind, Ruling, Where, ruling
from fieldassist.record.attachments import folder_of
from fieldassist.trade.message import Message, holds, message
from fieldassist.voice.audio import RATE_HZ
from fieldassist.voice.recognizer import Alternative, Heard, Word
from tests.conftest import TO_THE_HOLD, Crew

SECOND = bytes(2 * RATE_HZ)


class Ears:
    """Knows every word but one; never hears by itself."""

    def knows(self, word: str) -> bool:
        return word != "zweitausend"

    def hear(self, *_: object) -> Heard:
        raise AssertionError("not asked")

    def listen(self, *_: object) -> Iterator[Heard]:
        raise AssertionError("not asked")


class Stream:
    """A stream in which words are said at its end of the moment."""

    def __init__(self, listening: Listening) -> None:
        self.listening = listening
        self.at = 0.0

    def quiet(self, seconds: float) -> None:
        for _ in self.listening.frames([bytes(2 * round(seconds * RATE_HZ))]):
            pass
        self.at += seconds
        self.listening.said()

    def say(self, text: str, foreign: float | None = -30.0, seconds: float = 1.0) -> Reply:
        begun = self.at
        for _ in self.listening.frames([bytes(2 * round(seconds * RATE_HZ))]):
            pass
        self.at += seconds
        words = tuple(Word(w, begun + 0.1, self.at, 1.0) for w in text.split())
        sound = np.full(round(seconds * RATE_HZ), len(text), dtype="<i2").tobytes()
        return self.listening.take(Heard((Alternative(text, 50.0, words),), seconds, foreign, (), begun, sound))


def stream(crew: Crew, manner: Manner = Manner.CALLED, **more: str) -> Stream:
    return Stream(Listening(crew.day, Ears(), manner, **more))


def test_what_begins_with_the_attention_phrase_is_taken_at_any_time(crew: Crew) -> None:
    talk = stream(crew)
    talk.quiet(60)
    assert talk.say("this is rosa").fate is Fate.IGNORED
    assert talk.say("field assist this is rosa").fate is Fate.TAKEN
    assert isinstance(crew.day.log.events[-1].body, SpeakerChanged)


def test_what_goes_on_with_the_work_is_taken_without_the_phrase_however_long_it_takes(crew: Crew) -> None:
    crew.open_shower()
    crew.mix()
    talk = stream(crew)
    talk.quiet(600)
    assert talk.say("next tile").fate is Fate.TAKEN
    talk.quiet(60 * WINDOW_S)
    assert talk.say("back keyed").fate is Fate.TAKEN
    talk.quiet(60 * WINDOW_S)
    assert talk.say("spread").fate is Fate.TAKEN


def just_over(where: Where, kind: Kind, *, asked: bool = True) -> float:
    limits = LIMITS[where][kind]
    return (limits.asked if asked else limits.sure) + 0.1


def test_what_was_heard_and_dropped_is_told_and_not_recorded(crew: Crew) -> None:
    crew.open_shower()
    crew.mix()
    talk = stream(crew)
    talk.quiet(60)
    before = crew.day.log.head
    for words, foreign, why in (
        ("weather rain", -30.0, "ear-needs-call"),
        ("next tile", just_over(Where.WORK, Kind.PHRASE), "ear-talk"),
    ):
        dropped = talk.say(words, foreign)
        assert dropped.catch.why is not None
        assert (dropped.fate, dropped.catch.words, dropped.catch.why.code) == (Fate.IGNORED, words, why)
        assert dropped.near, "it may have been meant"
        assert (dropped.spoken, dropped.answer) == (None, None)
    for words in ("the radio is on", "next tile", "weather rain"):
        assert not talk.say(words, just_over(Where.WORK, Kind.PHRASE) + NEAR_BY).near, "people talk"
    assert crew.day.log.head == before


def test_what_answers_a_question_and_was_not_clear_is_asked_for_once_more_and_then_only_told(crew: Crew) -> None:
    crew.say(*TO_THE_HOLD[:4])
    talk = stream(crew)
    talk.quiet(60)
    unclear = just_over(Where.ASKED, Kind.NUMBER)
    assert talk.say("twenty one", unclear).fate is Fate.IGNORED, "the question is long past"
    talk.listening.prompted()
    again = talk.say("twenty one", unclear)
    assert (again.fate, again.spoken) == (Fate.ASKED, SAY_AGAIN)
    talk.listening.prompted()
    dropped = talk.say("twenty one", unclear)
    assert (dropped.fate, dropped.near) == (Fate.IGNORED, True)
    assert talk.say("twenty one", unclear + NEAR_BY).near is False, "people talk"
    assert talk.say("twenty one").fate is Fate.TAKEN
    talk.listening.prompted()
    assert talk.say("no", just_over(Where.ASKED, Kind.ANSWER)).spoken == SAY_AGAIN, "of the next question once more"


def test_what_a_held_key_heard_is_answered_however_foreign(crew: Crew) -> None:
    crew.open_shower()
    crew.mix()
    talk = stream(crew, Manner.HELD)
    answered = talk.say("next tile", just_over(Where.HELD, Kind.PHRASE) + NEAR_BY)
    assert answered.fate is Fate.ASKED
    assert isinstance(answered.spoken, Message)
    assert answered.spoken.code == "ear-you-can-say"
    assert not crew.day.state.area.task


def test_a_command_that_other_talk_explains_nearly_as_well_is_asked_about(crew: Crew) -> None:
    crew.open_shower()
    crew.mix()
    talk = stream(crew, Manner.HELD)
    asked = talk.say("next tile", just_over(Where.HELD, Kind.PHRASE, asked=False))
    assert asked.fate is Fate.ASKED
    assert holds(asked.spoken, message("prompt-did-you-say", words="next tile"))
    assert not crew.day.state.area.task
    assert talk.say("yes").fate is Fate.TAKEN
    assert crew.day.state.area.task


def test_a_note_is_not_begun_in_doubt(crew: Crew) -> None:
    crew.open_shower()
    talk = stream(crew, Manner.HELD)
    assert talk.say("make a note", just_over(Where.HELD, Kind.PHRASE, asked=False)).fate is Fate.ASKED
    assert not talk.listening.dictating
    assert talk.say("make a note").fate is Fate.TAKEN
    assert talk.listening.dictating


def test_a_reading_that_other_talk_explains_nearly_as_well_waits_for_its_yes(crew: Crew) -> None:
    crew.say(*TO_THE_HOLD[:4])
    talk = stream(crew, Manner.HELD)
    talk.say("twenty one degrees", just_over(Where.HELD, Kind.VALUE, asked=False))
    assert crew.day.prompt.waits_for_yes
    talk.say("no")
    talk.say("twenty one degrees")
    assert not crew.day.prompt.waits_for_yes


def test_the_limits_are_the_stricter_the_less_it_is_likely_that_the_tablet_was_meant() -> None:
    for kind in Kind:
        of = [LIMITS[where][kind] for where in (Where.HELD, Where.ASKED, Where.WORK, Where.OPEN)]
        for looser, stricter in pairwise(of):
            assert looser.sure >= stricter.sure
            assert looser.asked >= stricter.asked
        for where, limits in ((where, LIMITS[where][kind]) for where in Where):
            assert limits.sure <= limits.asked
            assert ruling(None, where, kind) is Ruling.SURE, "a model that hears freely tells nothing"
            assert ruling(limits.sure, where, kind) is Ruling.SURE
            assert ruling(limits.asked, where, kind) in (Ruling.SURE, Ruling.UNSURE)
            assert ruling(limits.asked + 0.1, where, kind) is Ruling.NEAR
            assert ruling(limits.asked + NEAR_BY + 0.1, where, kind) is Ruling.TALK


def test_a_number_alone_is_taken_right_after_its_question_only(crew: Crew) -> None:
    crew.say(*TO_THE_HOLD[:4])
    talk = stream(crew)
    talk.quiet(60)
    alone = talk.say("twenty one")
    assert alone.catch.why is not None
    assert (alone.fate, alone.catch.why.code, alone.near) == (Fate.IGNORED, "ear-number-alone", True)
    talk.listening.prompted()
    assert talk.say("twenty one").fate is Fate.TAKEN
    assert crew.day.prompt.waits_for_yes, "a part of what was said may have been lost"
    crew.say("no")
    talk.quiet(60)
    assert talk.say("twenty one degrees").fate is Fate.TAKEN, "with its unit it is no number of any talk"
    assert not crew.day.prompt.waits_for_yes
    crew.say("no")
    talk.quiet(60)
    assert talk.say("air temperature twenty one", just_over(Where.WORK, Kind.VALUE)).fate is Fate.IGNORED
    assert talk.say("air temperature twenty one").fate is Fate.TAKEN


def test_a_yes_that_comes_late_needs_more_evidence_than_one_right_after_its_question(crew: Crew) -> None:
    crew.say(*TO_THE_HOLD[:4], "air temperature ninety degrees fahrenheit")
    near = just_over(Where.WORK, Kind.ANSWER)
    talk = stream(crew)
    talk.quiet(60)
    assert talk.say("no", near).fate is Fate.IGNORED
    talk.listening.prompted()
    assert talk.say("no", just_over(Where.ASKED, Kind.ANSWER)).fate is Fate.ASKED
    assert talk.say("no", near).fate is Fate.TAKEN


@pytest.mark.parametrize(
    ("words", "fate"),
    [
        ("next tile back keyed", Fate.TAKEN),
        ("rosa next tile back keyed", Fate.TAKEN),
        ("rosa sets", Fate.IGNORED),
        ("next tile back keyed this is edwin", Fate.IGNORED),
        ("weather rain back keyed", Fate.IGNORED),
    ],
)
def test_a_breath_is_taken_without_the_phrase_where_all_of_it_goes_on_with_the_work(
    crew: Crew, words: str, fate: Fate
) -> None:
    crew.open_shower()
    crew.mix()
    talk = stream(crew)
    talk.quiet(60)
    before = len(crew.day.log.events)
    assert talk.say(words).fate is fate
    assert (len(crew.day.log.events) > before) is (fate is Fate.TAKEN)


def test_outside_of_a_cycle_everything_needs_the_phrase(crew: Crew) -> None:
    talk = stream(crew)
    assert talk.say("this is rosa").fate is Fate.IGNORED
    assert talk.say("field assist this is rosa").fate is Fate.TAKEN
    assert talk.say("start area shower wall").fate is Fate.IGNORED
    assert talk.say("field assist start area shower wall").fate is Fate.TAKEN
    assert talk.say("understood").fate is Fate.TAKEN


@pytest.mark.parametrize("words", ["sign off the day", "this is edwin", "weather rain", "start area hall floor"])
def test_what_goes_on_with_nothing_needs_the_phrase(crew: Crew, words: str) -> None:
    crew.open_shower()
    talk = stream(crew)
    events = len(crew.day.log.events)
    assert talk.say(words).fate is Fate.IGNORED
    assert len(crew.day.log.events) == events
    assert talk.say(f"field assist {words}").fate in (Fate.TAKEN, Fate.REFUSED), "it is understood when called"


def test_the_attention_phrase_alone_opens_the_ear_for_anything(crew: Crew) -> None:
    crew.open_shower()
    talk = stream(crew)
    talk.quiet(60)
    outcome = talk.say("field assist")
    assert (outcome.fate, outcome.spoken) == (Fate.CALLED, None)
    talk.quiet(2)
    assert talk.say("weather rain").fate is Fate.TAKEN
    talk.quiet(WINDOW_S + WINDOW_S)
    assert talk.say("weather sunny").fate is Fate.IGNORED


def test_talk_that_only_sounds_like_a_call_is_no_call(crew: Crew) -> None:
    talk = stream(crew)
    talk.quiet(60)
    assert talk.say("field assist this is rosa", foreign=30.0).fate is Fate.IGNORED


def test_an_open_microphone_without_the_phrase_takes_any_phrase_with_enough_evidence(crew: Crew) -> None:
    talk = stream(crew, Manner.OPEN)
    talk.quiet(60)
    assert talk.say("this is rosa", foreign=0.0).fate is Fate.IGNORED
    assert talk.say("this is rosa", foreign=-30.0).fate is Fate.TAKEN


def test_a_phrase_that_cannot_be_heard_or_stands_in_any_talk_is_refused(crew: Crew) -> None:
    for phrase, why in (("zweitausend assist", "ear-attention-unknown"), ("tablet", "ear-attention-one-word")):
        with pytest.raises(NoAttention) as refused:
            stream(crew, attention=phrase)
        assert refused.value.told.code == why
    stream(crew, Manner.OPEN, attention="tablet")


def test_a_note_is_kept_as_sound_beside_the_words_heard_in_it(crew: Crew) -> None:
    crew.open_shower()
    talk = stream(crew)
    talk.quiet(30)
    assert holds(talk.say("field assist make a note").spoken, message("engine-speak-note"))
    assert talk.listening.said() is None
    talk.quiet(1)
    assert talk.say("the corner is damp", foreign=None, seconds=2).fate is Fate.DICTATED
    talk.quiet(NOTE_PAUSE_S - 1)
    assert talk.listening.note_due() is None
    talk.say("near the drain", foreign=None)
    talk.quiet(NOTE_PAUSE_S + 0.1)
    outcome = talk.listening.note_due()
    assert outcome is not None
    assert isinstance(outcome.spoken, Message)
    assert outcome.spoken.code == "ear-note-heard"
    assert outcome.spoken.figures["words"] == "the corner is damp near the drain"
    body = crew.day.log.events[-1].body
    assert isinstance(body, NoteMade)
    assert body.text == "the corner is damp near the drain"
    assert body.audio is not None
    kept = folder_of(crew.day.log.path) / body.audio
    assert hashlib.sha256(kept.read_bytes()).hexdigest() == body.sha256
    samples, rate = soundfile.read(kept, dtype="int16")
    assert (len(samples), rate) == (3 * RATE_HZ, RATE_HZ)
    assert talk.listening.said() is not None


def test_a_long_sentence_is_not_cut_off_by_the_wait_for_the_first_word(crew: Crew) -> None:
    crew.open_shower()
    talk = stream(crew)
    talk.listening.dictate()
    talk.quiet(1)
    # While somebody speaks nothing asks what to listen for, however long it takes.
    for _ in talk.listening.frames([SECOND] * 15):
        assert talk.listening.note_due() is None
    talk.at += 15
    assert talk.say("at last", foreign=None).fate is Fate.DICTATED


def test_a_note_can_be_dropped_or_left_unspoken(crew: Crew) -> None:
    crew.open_shower()
    events = len(crew.day.log.events)
    talk = stream(crew)
    talk.listening.dictate()
    assert talk.say("scratch that", foreign=None).spoken == message("ear-no-note-made")
    talk.listening.dictate()
    talk.quiet(NOTE_WAIT_S + 0.1)
    outcome = talk.listening.note_due()
    assert outcome is not None
    assert (outcome.fate, outcome.spoken) == (Fate.ASKED, message("ear-no-note-spoken"))
    assert len(crew.day.log.events) == events


def test_a_note_is_kept_when_the_stream_ends_in_it(crew: Crew) -> None:
    crew.open_shower()
    talk = stream(crew)
    talk.listening.dictate()
    talk.say("the power is off", foreign=None)
    outcome = talk.listening.note_due(ended=True)
    assert outcome is not None
    assert outcome.fate is Fate.TAKEN


def test_every_offer_that_answers_the_prompt_is_one_that_may_be_said_now(crew: Crew) -> None:
    assert {o.command.do for o in crew.day.prompt.answers} == {"speak as"}
    crew.say("this is rosa")
    assert {o.command.do for o in crew.day.prompt.answers} == {"start area"}
    crew.open_shower()
    answers = crew.day.prompt.answers
    assert answers
    assert set(answers) <= set(crew.day.prompt.offers)
    assert {o.command.do for o in answers}.isdisjoint({"speak as", "sign day", "change method", "note weather"})
