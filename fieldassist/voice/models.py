"""Which speech models are at hand, and which one is used."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path

from fieldassist.voice.recognizer import ModelProblem

DEFAULT = "plainspeech-en"
VARIABLE = "FIELDASSIST_MODEL"


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
    found = ", ".join(p.name for p in list_models(folder)) or "none"
    raise ModelProblem(
        f"The speech model {name!r} is not in {folder} (found there: {found}). Work goes on by touch and typing. "
        "models/README.md tells how to put one there."
    )
