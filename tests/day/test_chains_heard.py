"""Several phrases in one breath, by sound: recordings put behind one another, with pauses between them."""

from __future__ import annotations

import numpy as np
import pytest

from fieldassist.checklist.moment import SPOKEN
from fieldassist.day.ear import Catch, catch
from fieldassist.places import shipped
from fieldassist.voice.audio import RATE_HZ, Clip, clip_of, read_audio, without_silence
from fieldassist.voice.recognizer import VoskRecognizer
from tests.conftest import Crew
from tests.spoken import recording

PAUSES_S = (0.0, 0.2, 0.4)
VOICES = ("rosa", "otto")


@pytest.fixture(scope="module")
def recognizer() -> VoskRecognizer:
    return VoskRecognizer(shipped("models") / "plainspeech-en")


def breath(voice: str, phrases: tuple[str, ...], pause_s: float) -> Clip:
    """The phrases one after the other, cut close, with so much of a quiet hiss between them."""
    parts: list[np.ndarray] = []
    hiss = np.random.default_rng(1).normal(0, 8, round(pause_s * RATE_HZ)).astype("<i2")
    for phrase in phrases:
        clip = without_silence(read_audio(recording(phrase, voice)), 0.02)
        parts += [hiss, clip.samples] if parts else [clip.samples]
    return clip_of(np.concatenate(parts))


def caught(crew: Crew, recognizer: VoskRecognizer, voice: str, phrases: tuple[str, ...], pause_s: float) -> Catch:
    day = crew.day
    return catch(recognizer, breath(voice, phrases, pause_s), day.prompt.offers, day.trial(SPOKEN))


@pytest.mark.parametrize(
    ("before", "phrases"),
    [
        ((), ("next tile", "back keyed", "spread")),
        (("next tile",), ("back keyed", "spread", "combed straight", "tile set")),
        (("next tile", "back keyed", "spread", "combed straight"), ("tile set", "slid half an inch")),
    ],
    ids=["from the call on", "a round", "with a value"],
)
def test_phrases_of_one_breath_are_heard_with_and_without_pauses(
    crew: Crew, recognizer: VoskRecognizer, before: tuple[str, ...], phrases: tuple[str, ...]
) -> None:
    crew.open_shower()
    crew.mix()
    for line in before:
        crew.say(line)
    for voice in VOICES:
        for pause_s in PAUSES_S:
            found = caught(crew, recognizer, voice, phrases, pause_s)
            assert tuple(piece.text for piece in found.chain) == phrases, (voice, pause_s, found.words)
            assert found.stop is None
            assert not found.rivals


def test_a_yes_and_a_no_are_heard_before_what_follows(crew: Crew, recognizer: VoskRecognizer) -> None:
    crew.open_shower()
    crew.mix()
    # Spoken a moment ago, and far too short: it waits for its yes.
    crew.say("next tile", "back keyed", "spread", "combed straight", "tile set", "slid one millimeter")
    for pause_s in PAUSES_S:
        said = caught(crew, recognizer, "rosa", ("no", "slid half an inch"), pause_s)
        assert [piece.text for piece in said.chain] == ["no", "slid half an inch"]
