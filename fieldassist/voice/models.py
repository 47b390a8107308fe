"""Which speech models are at hand, and which one is used."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from fieldassist.trade.message import Several, message
from fieldassist.voice.audio import frames, read_audio
from fieldassist.voice.recognizer import Recognizer
from fieldassist.voice.sentences import Sentences
from fieldassist.voice.vosk_model import ModelProblem

DEFAULT = "plainspeech-en"
VARIABLE = "FIELDASSIST_MODEL"
KNOWN = "coverage eighty five percent"
"""What is said in the recording that a model is tried with; voice and recording are the demo's."""

_LIKE_IT = ("coverage eighty nine percent", "coverage ninety five percent", "void one square inch", "next tile", "yes")


@dataclass(frozen=True)
class Trial:
    """What a model heard in a recording of `KNOWN`. seconds: of sound."""

    heard: str
    seconds: float

    @property
    def right(self) -> bool:
        """Whether it heard what was said."""
        return self.heard == KNOWN


def list_models(folder: Path) -> list[Path]:
    """Every folder that looks like a vosk model: it holds am/final.mdl."""
    return sorted(p.parent.parent for p in folder.glob("*/am/final.mdl"))


def choose_model(folder: Path, wanted: str | None = None, environ: Mapping[str, str] | None = None) -> Path:
    """The model to use: `wanted`, else the variable FIELDASSIST_MODEL, else the default; by name or by path.

    ModelProblem when it is not there, with the names of those that are.
    """
    name = wanted or (os.environ if environ is None else environ).get(VARIABLE) or DEFAULT
    for candidate in (folder / name, Path(name)):
        if candidate.is_dir():
            return candidate
    found = tuple(p.name for p in list_models(folder))
    code = "voice-model-elsewhere" if found else "voice-no-models"
    raise ModelProblem(message(code, name=name, folder=str(folder), found=Several(found)))


def try_out(recognizer: Recognizer, recordings: Path) -> Trial:
    """Let a model hear a known recording from a folder of the demo's, beside phrases that sound like it.

    Errors: `AudioProblem` where the recording cannot be read.
    """
    name = f"*-{KNOWN.replace(' ', '-')}.flac"
    clip = read_audio(next(iter(sorted(recordings.glob(name))), recordings / name))
    said = Sentences.of_phrases((KNOWN, *_LIKE_IT), recognizer.knows)
    return Trial(recognizer.hear(frames(clip), said).text, clip.seconds)
