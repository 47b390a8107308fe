"""When an utterance is over. How long people pause within a sentence: common practice, no published source."""

from __future__ import annotations

import numpy as np
import pytest

from fieldassist.language.word_graph import graph_of
from fieldassist.voice.audio import RATE_HZ
from fieldassist.voice.ending import Loudness, is_between, is_over

GRAPH = graph_of([("next", "tile"), ("ninety",), ("ninety", "five"), ("ninety", "five", "percent")])


def waited(words: str, *, noisy: bool = False, broken: bool = False) -> float:
    """After how long a silence the words are over, by the sound or, in noise that hides it, by the engine [s]."""
    for tenths in range(60):
        passed = tenths / 20
        quiet = None if noisy else passed
        pause = passed - 0.65 if passed >= 0.65 else None  # what the engine sees ahead, and its own rule
        if is_over(GRAPH, tuple(words.split()), quiet, pause, broken=broken):
            return passed
    raise AssertionError("it never ends")


@pytest.mark.parametrize("noisy", [False, True])
def test_what_can_go_on_is_waited_for_longer_than_what_cannot_and_a_broken_sentence_longest(noisy: bool) -> None:
    waits = [waited(words, noisy=noisy) for words in ("next tile", "ninety five", "next")]
    assert waits == sorted(set(waits))
    assert waits[1] <= (1.0 if noisy else 0.6)
    assert waits[2] >= 1.0


def test_a_sentence_that_nothing_can_follow_is_over_at_once() -> None:
    assert waited("ninety five percent") <= 0.25


def test_words_that_carry_nothing_are_not_waited_for() -> None:
    graph = graph_of([("next", "tile"), ("next", "tile", "please")])
    assert not is_over(graph, ("next", "tile"), 0.3, None)
    assert is_over(graph, ("next", "tile"), 0.3, None, apart=frozenset({"please"}))


def test_a_sentence_whose_last_word_was_not_said_yet_is_waited_for() -> None:
    assert waited("next tile", broken=True) == waited("next")


def test_a_pause_that_the_engine_hears_does_not_count_while_somebody_speaks_again() -> None:
    assert not is_over(GRAPH, ("ninety",), 0.04, 0.3)
    assert is_over(GRAPH, ("ninety",), 0.04, 0.6)  # a pause as long as that was one, whatever sounds now


def test_without_a_word_nothing_is_over_until_the_engine_gives_up() -> None:
    assert not is_over(GRAPH, (), 4.0, None)
    assert is_over(GRAPH, (), 4.0, 0.6)


def test_words_that_are_no_sentence_are_over_with_the_engine_s_pause() -> None:
    for graph in (None, GRAPH):
        assert is_over(graph, ("tell", "me"), 0.5, 0.3)
        assert not is_over(graph, ("tell", "me"), 0.5, None)


def test_a_long_pause_within_a_recording_stands_between_sentences_but_longer_within_one() -> None:
    assert is_between(GRAPH, ("next", "tile"), 0.7)
    assert not is_between(GRAPH, ("next",), 0.7)
    assert is_between(GRAPH, ("next",), 1.3)
    assert not is_between(GRAPH, (), 2.0)
    assert not is_between(GRAPH, ("next", "tile"), None)


def voiced(seconds: float, db: float) -> np.ndarray:
    """A sound like a vowel's: harmonics of 120 Hz, so many dB under full scale."""
    t = np.arange(round(seconds * RATE_HZ)) / RATE_HZ
    sound = sum(np.sin(2 * np.pi * 120 * k * t) / k for k in range(1, 20))
    return sound / np.sqrt(np.mean(sound**2)) * 10 ** (db / 20)


def measured(*parts: np.ndarray, noise_db: float, block: int = 1000) -> float | None:
    sound = np.concatenate(parts)
    sound = sound + np.random.default_rng(5).normal(0, 10 ** (noise_db / 20), len(sound))
    samples = (np.clip(sound, -1, 1) * 32767).astype("<i2")
    loudness = Loudness()
    for start in range(0, len(samples), block):
        loudness.take(samples[start : start + block].tobytes())
    return loudness.quiet_s()


@pytest.mark.parametrize("speech_db", [-20.0, -45.0])
@pytest.mark.parametrize("block", [160, 1000, 4000])
def test_quiet_is_against_the_speech_and_its_background_whatever_the_level(speech_db: float, block: int) -> None:
    parts = np.zeros(8000), voiced(0.6, speech_db), np.zeros(6400)
    assert measured(*parts, noise_db=speech_db - 35, block=block) == pytest.approx(0.4, abs=0.03)
    assert measured(*parts[:2], noise_db=speech_db - 35, block=block) == 0.0


def test_nothing_stands_out_of_a_steady_noise_and_a_voice_as_loud_as_it_does() -> None:
    for parts, steady in (((np.zeros(32_000),), 2.0), ((np.zeros(32_000), voiced(0.3, -24)), 0.0)):
        sound = np.concatenate(parts)
        sound = sound + np.random.default_rng(5).normal(0, 10 ** (-30 / 20), len(sound))
        loudness = Loudness()
        loudness.take((np.clip(sound, -1, 1) * 32767).astype("<i2").tobytes())
        assert loudness.steady_s() == pytest.approx(steady, abs=0.05)


def test_in_noise_quiet_is_said_later_and_in_much_noise_not_at_all() -> None:
    parts = np.zeros(8000), voiced(0.6, -26), np.zeros(6400)
    assert measured(*parts, noise_db=-40) == pytest.approx(0.28, abs=0.05)
    assert measured(*parts, noise_db=-24) is None
    assert Loudness().quiet_s() is None
