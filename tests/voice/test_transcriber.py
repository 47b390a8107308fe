"""The model that writes dictation out: held to one SHA-256, in a process of its own, and an extra.

With the extra installed a clip of the tests is written out too; its words are those that the synthesizer was given.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Sequence
from importlib.util import find_spec
from pathlib import Path
from typing import NamedTuple

import numpy as np
import pytest

from fieldassist.voice import transcriber
from fieldassist.voice.audio import read_audio
from fieldassist.voice.transcriber import CannotTranscribe, TranscriberApart, TranscriptModel, model_in, packaged_model
from tests.spoken import recording

PROJECT = tomllib.loads((Path(__file__).parents[2] / "pyproject.toml").read_text(encoding="utf-8"))["project"]


class Part(NamedTuple):
    """A part of a sound, as the library gives it."""

    text: str
    avg_logprob: float
    compression_ratio: float = 1.2
    no_speech_prob: float = 0.1


class Loaded:
    """A loaded model that gives these parts."""

    def __init__(self, *parts: Part) -> None:
        self.parts = parts

    def transcribe(self, _samples: object, **_how: object) -> tuple[Sequence[Part], None]:
        return self.parts, None


def made(*parts: Part) -> tuple[str, float]:
    return transcriber._transcribed(Loaded(*parts), b"\0\0" * 100)


def a_model(folder: Path, sha256: str = "") -> TranscriptModel:
    for name in ("model.bin", "config.json", "tokenizer.json", "vocabulary.json"):
        (folder / name).write_bytes(b"{}")
    others = {name: folder / name for name in ("config.json", "tokenizer.json", "vocabulary.json")}
    return TranscriptModel("small", (folder / "model.bin",), others, sha256)


def test_the_weights_come_in_versions_that_cannot_change() -> None:
    """A version of a package is uploaded once (PEP 440 calls == version matching; the registry takes no file twice)."""
    wanted = PROJECT["optional-dependencies"][re.findall(r"\[(\w+)\]", transcriber.EXTRA)[0]]
    for package, _ in transcriber._PARTS:
        assert any(re.fullmatch(rf"{package.replace('_', '-')}==[\d.]+", one) for one in wanted)
    assert "fieldassist[tablet]" in wanted


def test_parts_are_put_together_without_what_would_only_be_guessed() -> None:
    assert made(Part(" The corner is damp.", -0.3), Part(" It\u00ad leaks. ", -0.45)) == (
        "The corner is damp. It leaks.",
        -0.45,
    )
    assert made(Part("Damp.", -0.3), Part("I'm sorry.", -0.92)) == ("Damp. …", -0.92)
    assert made(Part("so so so so", -0.1, 2.6)) == ("", -99.0)
    assert made(Part("You", -0.82)) == ("", -0.82)
    assert made(Part("Damp.", -0.3), Part("I'm sorry, I'm sorry.", -0.1, 9.0, 0.73)) == ("Damp.", -0.3)
    assert made() == ("", 0.0)
    assert len(made(Part("word " * 2000, -0.2))[0]) == transcriber.LONGEST


def test_a_folder_without_a_file_is_refused_by_its_name(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(transcriber, "find_spec", lambda _name: object())
    a_model(tmp_path)
    assert model_in(tmp_path).weights == (tmp_path / "model.bin",)
    for name in ("vocabulary.json", "model.bin"):
        (tmp_path / name).unlink()
        with pytest.raises(CannotTranscribe) as refused:
            model_in(tmp_path)
        assert refused.value.told.figures["file"] == name


@pytest.mark.parametrize("sha256", ["", "00" * 32])
def test_weights_that_are_damaged_or_others_are_refused_in_the_other_process(tmp_path: Path, sha256: str) -> None:
    with pytest.raises(CannotTranscribe) as refused:
        TranscriberApart(a_model(tmp_path, sha256))
    assert refused.value.told.code == "voice-transcriber-damaged"


def test_files_in_parts_are_read_as_one(tmp_path: Path) -> None:
    parts = (tmp_path / "a", tmp_path / "b")
    for path, data in zip(parts, (b"abc", b"de"), strict=True):
        path.write_bytes(data)
    whole = transcriber._Joined(parts)
    assert bytes(whole.read()) == b"abcde"
    # SHA-256 of "abcde" (coreutils' sha256sum).
    assert whole.sha256() == "36bbe50ed96841d10443bcb670d6554f0a34b761be67ec9c4a8ad2c0c44ca42c"


@pytest.mark.skipif(
    find_spec("faster_whisper") is None or find_spec(transcriber._PARTS[0][0]) is None,
    reason="the extra for notes is not installed",
)
def test_the_packaged_model_writes_a_known_clip_the_same_way_each_time() -> None:
    clip = read_audio(recording("coverage ninety six percent"))
    with TranscriberApart(packaged_model()) as apart:
        first, second = apart.transcribe(clip.samples), apart.transcribe(clip.samples)
        assert apart.weights == transcriber._PACKAGED_SHA256
        silence = apart.transcribe(np.zeros(48_000, dtype=np.int16))
    assert re.search(r"coverage.*(96|ninety.six)", first.text.lower())
    assert (first, silence.text) == (second, "")
