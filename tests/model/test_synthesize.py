"""Synthetic speech: who speaks, what is written down as said, and what a job leaves behind."""

import gzip
import json
from collections import Counter
from pathlib import Path
from random import Random

import numpy as np
import pytest
from numpy.typing import NDArray

from models.build import kokoro, synthesize
from models.build.language import language
from models.build.speech_sets import RATE_HZ, read_set
from models.build.synthesize import Job, Sentence, Spoken

VOICES = {name: np.full((3, 256), number, np.float32) for number, name in enumerate(
    ["af_sky", "am_adam", "bf_emma", "ef_dora", "jm_kumo", *kokoro.HELD_OUT]
)}  # fmt: skip
TILE = Sentence("next tile", (("N", "EH1", "K", "S", "T"), ("T", "AY1", "L")))


def job(stem: Path, **given: object) -> Job:
    usual = {"engine": "espeak", "minutes": 0.05, "seed": 1, "procs": 1, "texts": None, "within": None}
    return Job(**{**usual, "stem": stem, "kokoro": Path("none"), "device": "cpu", **given})  # type: ignore[arg-type]


def spoken(samples: int) -> Spoken:
    return Spoken(
        np.full(samples, 100, np.int16), "kokoro:af_sky", [language().pronunciations(w)[0] for w in ("next", "tile")]
    )


# Voices


def test_voices_held_out_are_never_drawn() -> None:
    random = Random(1)
    drawn = Counter(kokoro.drawn_manner(random, VOICES, "ab").voice for _ in range(3000))
    assert not [voice for voice in drawn for name in kokoro.HELD_OUT if name in voice]
    assert all(any(name in voice for voice in drawn) for name in VOICES.keys() - kokoro.HELD_OUT)
    assert not synthesize.HELD_OUT & {f"flite:{voice}" for voice in synthesize.FLITE_VOICES}
    assert not [engine for engine in synthesize.ENGINES if "festival" in engine]


def test_voices_held_out_are_those_that_tests_speak_with() -> None:
    assert {"af_bella", "bm_george", "am_puck"} == kokoro.HELD_OUT
    assert {"flite:slt", "flite:kal", "flite:kal16"} <= synthesize.HELD_OUT


def _mixed(named: str) -> NDArray[np.float32]:
    """The style of one voice, or of two with the share of the first."""
    name, _, other = named.partition("+")
    name, _, share = name.partition("*")
    return float(share) * VOICES[name] + (1 - float(share)) * VOICES[other] if other else VOICES[name]


def test_a_manner_is_of_the_voices_that_it_names() -> None:
    random = Random(3)
    with_melody = 0
    for _ in range(200):
        manner = kokoro.drawn_manner(random, VOICES, "ab")
        timbre, _, melody = manner.voice.removeprefix("kokoro:").partition("/")
        with_melody += bool(melody)
        np.testing.assert_allclose(manner.style[:, :128], _mixed(timbre)[:, :128], atol=0.05)
        np.testing.assert_allclose(manner.style[:, 128:], _mixed(melody or timbre)[:, 128:], atol=0.05)
        assert 0.8 <= manner.speed <= 1.35
    assert 30 < with_melody < 120


# Kokoro's symbols and sound


@pytest.mark.parametrize(
    ("phones", "written"),
    [
        ("T AY1 L", "tˈIl"),
        ("AH0 B AH1 V", "əbˈʌv"),
        ("N ER1 S ER0", "nˈɜɹsəɹ"),
        ("JH OY1 N T S", "ʤˈYnts"),
        ("TH ER2 T IY1 N", "θˌɜɹtˈin"),
    ],
)
def test_words_in_symbols(phones: str, written: str) -> None:
    assert language().ipa(phones.split()) == written


def test_every_phone_of_every_word_we_train_on_has_a_symbol() -> None:
    for sentence, _ in zip(synthesize.sentences(Random(5)), range(300), strict=False):
        assert all(language().ipa(word) for word in sentence.stress)


def test_silence_around_the_sound_is_cut_to_a_margin() -> None:
    samples = np.zeros(3 * RATE_HZ)
    samples[RATE_HZ : 2 * RATE_HZ] = np.sin(np.arange(RATE_HZ))
    assert abs(len(kokoro.trimmed(samples)) - 1.2 * RATE_HZ) < 200
    assert len(kokoro.trimmed(np.zeros(100))) == 100


def test_the_resampling_filter_keeps_speech_and_stops_what_would_fold() -> None:
    taps = kokoro.resampling_filter()
    # At 48 kHz, the rate in between; half of it passes because every other sample there is a zero.
    response = np.abs(np.fft.rfft(taps, 4800)) / 2
    assert np.all(np.abs(response[:650] - 1) < 0.02)  # to 6.5 kHz
    assert np.all(response[960:] < 0.01)  # from 9.6 kHz


# Sentences


def test_a_prepared_list_is_shared_out_whole(tmp_path: Path) -> None:
    path = tmp_path / "texts.jsonl.gz"
    synthesize.prepare(path, 7, seed=1)
    whole = synthesize.prepared(path)
    shares = [synthesize.prepared(path, worker, 3) for worker in range(3)]
    assert len(whole) == 7
    assert sorted(map(repr, whole)) == sorted(repr(each) for share in shares for each in share)
    assert all(len(each.words.split()) == len(each.stress) for each in whole)
    synthesize.prepare(tmp_path / "again.jsonl", 7, seed=1)
    assert synthesize.prepared(tmp_path / "again.jsonl") == whole


def test_a_list_that_is_none_is_refused_with_its_line(tmp_path: Path) -> None:
    path = tmp_path / "texts.jsonl.gz"
    with gzip.open(path, "wt") as out:
        out.write(json.dumps({"words": "tile", "stress": [["T", "AY1", "L"]]}) + "\n{}\n")
    with pytest.raises(ValueError, match=r"texts\.jsonl\.gz, line 2"):
        synthesize.prepared(path)
    with pytest.raises(ValueError, match="no sentence for worker 2"):
        synthesize.prepared(path, 2, 3)


# What was said


def test_the_pronunciation_heard_is_the_one_written_down() -> None:
    said = ["DH", "IY", "T", "AY", "L"]
    assert synthesize.nearest_pronunciations(["the", "tile"], said) == [("DH", "IY"), ("T", "AY", "L")]
    said[1] = "AX"
    assert synthesize.nearest_pronunciations(["the", "tile"], said) == [("DH", "AX"), ("T", "AY", "L")]


def test_a_sentence_said_as_something_else_is_left_out() -> None:
    with pytest.raises(synthesize.NotSpokenError, match="'tile' was said as"):
        synthesize.nearest_pronunciations(["tile"], ["G", "R", "AW", "T"])


def test_flite_tells_when_each_phone_ends() -> None:
    found = synthesize.flite(Random(2), TILE, times=True)
    assert found.ends is not None
    names = [name for name, _ in found.ends if name != "SIL"]
    assert names == ["N", "EH", "K", "S", "T", "T", "AY", "L"]
    assert found.ends[-1][1] == pytest.approx(len(found.samples) / RATE_HZ, abs=0.05)
    assert found.voice.removeprefix("flite:") in synthesize.FLITE_VOICES
    without = synthesize.flite(Random(2), TILE)
    assert without.ends is None
    assert len(without.samples) < len(found.samples)


def test_espeak_speaks_at_our_rate_and_level() -> None:
    found = synthesize.espeak(Random(2), TILE)
    assert 0.3 < len(found.samples) / RATE_HZ < 3
    assert np.abs(found.samples).max() == pytest.approx(0.7 * 32767, abs=2)
    assert list(found.phones) == [("N", "EH", "K", "S", "T"), ("T", "AY", "L")]
    variants = synthesize._espeak_variants()
    assert len(variants) > 20
    assert not [name for name in variants if "whisper" in name.lower()]


# Jobs


def test_a_job_writes_its_minutes_and_tells(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(synthesize, "engine", lambda *_: lambda *_: spoken(RATE_HZ // 2))
    monkeypatch.setattr(synthesize, "sentences", lambda *_: iter([TILE] * 1000))
    told: list[tuple[int, float, int]] = []
    synthesize.make(job(tmp_path / "set", minutes=0.1, procs=2), 1, lambda *figures: told.append(figures))
    found = read_set(tmp_path / "set-01")
    assert len(found) == 6  # half of 6 s, half a second each
    assert {each.words for each in found} == {"next tile"}
    assert told[-1] == (6, 3.0, 0)


def test_a_job_stops_at_its_deadline(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(synthesize, "engine", lambda *_: lambda *_: spoken(RATE_HZ))
    monkeypatch.setattr(synthesize, "sentences", lambda *_: iter([TILE] * 1000))
    synthesize.make(job(tmp_path / "set", minutes=1000), 0, lambda *_: None, deadline=0.0)
    assert read_set(tmp_path / "set-00") == []


def test_sentences_that_fail_are_passed_and_too_many_end_the_job(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    turn = iter(range(10_000))

    def sometimes(*_: object) -> Spoken:
        if next(turn) % 2:
            raise synthesize.NotSpokenError("no sound")
        return spoken(RATE_HZ)

    monkeypatch.setattr(synthesize, "sentences", lambda *_: iter([TILE] * 1000))
    monkeypatch.setattr(synthesize, "engine", lambda *_: sometimes)
    told: list[tuple[int, float, int]] = []
    synthesize.make(job(tmp_path / "set"), 0, lambda *figures: told.append(figures))
    assert told[-1] == (3, 3.0, 2)
    monkeypatch.setattr(synthesize, "engine", lambda *_: lambda *_: spoken(10))
    with pytest.raises(synthesize.NotSpokenError, match="20 sentences in a row"):
        synthesize.make(job(tmp_path / "set"), 0, lambda *_: None)


def test_the_stage_runs_in_processes(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    texts = tmp_path / "texts.jsonl"
    synthesize.prepare(texts, 20, seed=3)
    stem = tmp_path / "sets" / "espeak"
    arguments = [*("espeak", str(stem), "--minutes", "0.1", "--seed", "4"), *("--procs", "2", "--texts", str(texts))]
    assert synthesize.main(arguments) == 0
    sets = [read_set(stem.with_name(f"espeak-{k:02}")) for k in range(2)]
    assert all(sum(each.samples for each in found) >= 0.05 * 60 * RATE_HZ for found in sets)
    assert "x real time" in capfd.readouterr().out


def test_the_same_seed_makes_the_same_sentences() -> None:
    first = [each for each, _ in zip(synthesize.sentences(Random("4 0")), range(5), strict=False)]
    assert first == [each for each, _ in zip(synthesize.sentences(Random("4 0")), range(5), strict=False)]
