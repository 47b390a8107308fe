"""Speech sets, written and read; people's recordings made into one."""

import json
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
import pytest
import soundfile

from models.build import human_speech
from models.build.speech_sets import RATE_HZ, SetWriter, read_set

TILE = [["N", "EH", "K", "S", "T"], ["T", "AY", "L"]]
ENDS = [("SIL", 0.1), ("AX", 0.15), ("T", 0.2), ("SIL", 0.3)]


def _sound(samples: int, seed: int = 0) -> npt.NDArray[np.int16]:
    return np.random.default_rng(seed).integers(-32768, 32768, samples).astype(np.int16)


def test_what_is_written_is_read(tmp_path: Path) -> None:
    first, second = _sound(800, 1), _sound(333, 2)
    with SetWriter(tmp_path / "new" / "one.two") as out:
        out.add(first, "next tile", TILE, "somebody")
        out.add(second, "at", [["AX", "T"]], "else", ENDS)
        assert out.seconds == pytest.approx(1133 / RATE_HZ)
    one, two = read_set(tmp_path / "new" / "one.two")
    assert (one.words, one.voice, one.ends) == ("next tile", "somebody", None)
    assert one.phones == (("N", "EH", "K", "S", "T"), ("T", "AY", "L"))
    assert two.ends == tuple(ENDS)
    assert (one.audio() == first).all()
    assert (two.audio() == second).all()
    assert two.audio().dtype == np.int16


def test_the_files_are_as_they_are_described(tmp_path: Path) -> None:
    with SetWriter(tmp_path / "s") as out:
        out.add(np.array([1, -2], np.int16), "at", [["AX", "T"]], "v")
    assert (tmp_path / "s.pcm").read_bytes() == b"\x01\x00\xfe\xff"
    row = json.loads((tmp_path / "s.jsonl").read_text())
    assert row == {"offset": 0, "samples": 2, "words": "at", "phones": [["AX", "T"]], "voice": "v"}


def test_an_interrupted_run_leaves_a_set(tmp_path: Path) -> None:
    out = SetWriter(tmp_path / "s")
    with out:
        out.add(_sound(100), "at", [["AX", "T"]], "v")
        out._pcm.write(b"\0\0\0")  # the samples of an utterance whose row was not written any more
        out._pcm.flush()
        assert [u.samples for u in read_set(tmp_path / "s")] == [100]


@pytest.mark.parametrize(
    "wrong",
    [
        {"samples": np.zeros(10, np.float32)},
        {"samples": np.zeros((10, 2), np.int16)},
        {"samples": np.zeros(0, np.int16)},
        {"words": "At"},
        {"words": ""},
        {"words": "at  it"},
        {"words": "at it"},
        {"phones": [["AX", "QQ"]]},
        {"phones": [["AX", "SIL"]]},
        {"phones": [[]]},
        {"ends": [("AX", 0.2), ("T", 0.1)]},
        {"ends": [("AX", 0.1), ("QQ", 0.2)]},
    ],
)
def test_what_is_no_utterance_is_refused_and_not_written(tmp_path: Path, wrong: dict[str, Any]) -> None:
    right = {"samples": _sound(10), "words": "at", "phones": [["AX", "T"]], "voice": "v", "ends": None}
    with SetWriter(tmp_path / "s") as out:
        with pytest.raises(ValueError, match=r"\w"):
            out.add(**(right | wrong))
        out.add(**right)
    assert len(read_set(tmp_path / "s")) == 1


@pytest.mark.parametrize("line", ["{", "[]", "{}", '{"offset": 5, "samples": 6}', "null"])
def test_a_damaged_row_is_told_with_its_line(tmp_path: Path, line: str) -> None:
    with SetWriter(tmp_path / "s") as out:
        out.add(_sound(10), "at", [["AX", "T"]], "v")
    rows = tmp_path / "s.jsonl"
    rows.write_text(rows.read_text() + line + "\n")
    with pytest.raises(ValueError, match=r"s\.jsonl, line 2"):
        read_set(tmp_path / "s")


def test_samples_that_are_missing_are_told(tmp_path: Path) -> None:
    with SetWriter(tmp_path / "s") as out:
        out.add(_sound(10), "at", [["AX", "T"]], "v")
    (tmp_path / "s.pcm").write_bytes(b"\0" * 18)
    with pytest.raises(ValueError, match=r"line 1.*0 \+ 10 of 9"):
        read_set(tmp_path / "s")


# Recordings of people.


def _pronounce(word: str) -> tuple[tuple[str, ...], ...]:
    return {"next": (("N", "EH", "K", "S", "T"),), "tile": (("T", "AY", "L"), ("T", "AA", "L"))}.get(word, ())


@pytest.fixture
def recordings(tmp_path: Path) -> Path:
    folder = tmp_path / "recordings"
    folder.mkdir()
    rows = [
        ("a1", "ann", "Next tile!"),
        ("b1.wav", "bea", "Tile, tile."),
        ("c1", "cat", "Next quxx"),
        ("d1", "dot", '"Next'),
        ("b2", "bea", "next"),
    ]
    lines = ["clip\tspeaker\tsentence", *("\t".join(row) for row in rows)]
    (folder / "transcripts.tsv").write_text("\n".join(lines) + "\n")
    tone = 0.5 * np.sin(2 * np.pi * 440 * np.arange(8000) / 8000)
    for clip, *_ in rows:
        name = clip if clip.endswith(".wav") else f"{clip}.flac"
        soundfile.write(folder / name, np.stack([tone, tone], axis=1), 8000)
    return folder


def test_recordings_become_a_set(recordings: Path, tmp_path: Path) -> None:
    written, held, left_out = human_speech.make(recordings, tmp_path / "people", 2, _pronounce)
    found = read_set(tmp_path / "people")
    assert [u.words for u in found] == ["next tile"]
    assert (written, [row["speaker"] for row in held]) == (1, ["bea", "dot", "bea"])
    assert left_out == [("Next quxx", "quxx")]
    assert found[0].voice == "human:ann"
    assert found[0].phones == (("N", "EH", "K", "S", "T"), ("T", "AY", "L"))
    audio = found[0].audio()
    assert len(audio) == RATE_HZ
    assert np.argmax(abs(np.fft.rfft(audio))) == 440
    assert abs(audio[4000:-4000]).max() == pytest.approx(16384, rel=0.01)


def test_those_kept_out_are_listed_as_transcripts(recordings: Path, tmp_path: Path) -> None:
    human_speech.make(recordings, tmp_path / "people", 2, _pronounce)
    listed = tmp_path / "listed"
    listed.mkdir()
    (tmp_path / "people.kept-out.tsv").rename(listed / "transcripts.tsv")
    assert [row["clip"] for row in human_speech.read_transcripts(listed)] == ["b1.wav", "d1", "b2"]


def test_without_speakers_every_clip_counts() -> None:
    rows = [{"clip": name, "sentence": "x"} for name in "abcdefg"]
    assert human_speech.kept_out(rows, 3) == {2, 5}
    assert human_speech.kept_out(rows, 0) == set()
    with pytest.raises(ValueError, match="2 or more"):
        human_speech.kept_out(rows, 1)


@pytest.mark.parametrize(
    ("sentence", "words"),
    [
        ("It couldn\u2019t stand the jerk.", "it couldn't stand the jerk"),
        ("'Well-known'\u2014she said: \u201cyes\u201d\u2026", "well known she said yes"),
        ("Room 12", "room 12"),
        ("...", ""),
    ],
)
def test_sentences_as_they_are_spoken(sentence: str, words: str) -> None:
    assert human_speech.spoken_words(sentence) == words


def test_a_missing_column_or_recording_is_told(recordings: Path, tmp_path: Path) -> None:
    (recordings / "a1.flac").unlink()
    with pytest.raises(FileNotFoundError, match="no recording a1"):
        human_speech.make(recordings, tmp_path / "people", 0, _pronounce)
    (recordings / "transcripts.tsv").write_text("clip\ttext\na1\tnext\n")
    with pytest.raises(ValueError, match="line 2"):
        human_speech.read_transcripts(recordings)
