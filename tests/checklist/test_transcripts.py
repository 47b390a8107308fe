"""What a model writes from a kept sound stands beside what was heard, as a machine's, and moves nothing else."""

from __future__ import annotations

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist.moment import MACHINE, SPOKEN, TRANSCRIBED
from fieldassist.day.ear import Fate
from fieldassist.day.transcribing import to_transcribe
from fieldassist.trade.message import message
from tests.conftest import Crew

SOUND = {"audio": "5a5a5a5a5a5a5a5a.flac", "sha256": "5a" * 32}
WEIGHTS = "7b" * 32


def transcript(target: int, text: str = "The corner is damp.", likelihood: float = -0.3) -> cmd.AddTranscript:
    return cmd.AddTranscript(target=target, text=text, likelihood=likelihood, model="a model", weights=WEIGHTS)


def dictated(crew: Crew) -> int:
    answer = crew.day.do(cmd.MakeNote(text="the corner is lamp", **SOUND), SPOKEN)
    return answer.events[0].seq


def test_the_transcript_is_the_machines_and_the_heard_words_stay(crew: Crew) -> None:
    crew.open_shower()
    note = dictated(crew)
    answer = crew.day.do(transcript(note), SPOKEN)  # whatever is said of how it came
    [event] = answer.events
    assert (event.by, event.source) == (MACHINE, TRANSCRIBED)
    assert event.body == ev.TranscriptMade(
        target=note,
        sound=SOUND["sha256"],
        text="The corner is damp.",
        likelihood=-0.3,
        unsure=False,
        model="a model",
        weights=WEIGHTS,
    )
    assert crew.events(ev.NoteMade)[-1].text == "the corner is lamp"
    assert not to_transcribe(crew.day.state)


@pytest.mark.parametrize(("likelihood", "unsure"), [(0.0, False), (-0.5, False), (-0.51, True), (-99.0, True)])
def test_what_is_less_likely_than_the_limit_is_unsure(crew: Crew, likelihood: float, unsure: bool) -> None:
    crew.open_shower()
    crew.day.do(transcript(dictated(crew), likelihood=likelihood))
    assert crew.events(ev.TranscriptMade)[-1].unsure is unsure


def test_only_a_kept_sound_is_written_out_and_only_once(crew: Crew) -> None:
    crew.open_shower()
    typed = crew.day.do(cmd.MakeNote(text="typed")).events[0].seq
    assert crew.day.do(transcript(typed)).say == message("engine-nothing-dictated", event=str(typed))
    note = dictated(crew)
    assert list(to_transcribe(crew.day.state)) == [note]
    assert crew.day.do(transcript(note)).taken
    assert crew.day.do(transcript(note)).say == message("engine-transcribed-already", event=str(note))


def test_a_signed_day_takes_it_in_an_addendum_only(crew: Crew) -> None:
    crew.open_shower()
    note = dictated(crew)
    crew.say("this is edwin")
    assert crew.day.do(cmd.SignDay(accept_open=True)).taken
    events = len(crew.day.log.events)
    assert not to_transcribe(crew.day.state)
    assert not crew.day.do(transcript(note)).taken
    assert len(crew.day.log.events) == events
    crew.day.do(cmd.OpenAddendum(reason="to write the notes out"))
    assert list(to_transcribe(crew.day.state)) == [note]
    assert crew.day.do(transcript(note)).taken


def test_it_keeps_no_reading_that_waits_and_ends_no_break(crew: Crew) -> None:
    """Only what a person says, presses or types is a sign that somebody is there."""
    crew.open_shower()
    note = dictated(crew)
    crew.mix()
    crew.say("next tile", "back keyed", "spread", "mortar combed", "tile set")
    assert crew.speak("slid half an inch").fate is Fate.TAKEN
    before = crew.day.state
    assert before.pending is not None
    crew.clock.advance(1)
    crew.day.do(transcript(note))
    after = crew.day.state
    assert (after.pending, after.last_called, after.since_break) == (
        before.pending,
        before.last_called,
        before.since_break,
    )
    assert after.speaker == before.speaker
