"""Recordings that tests play: phrases said one by one, the long way, and talk that is meant for nobody here."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from ruamel.yaml import YAML

AUDIO = Path(__file__).parent / "audio"


@cache
def said() -> dict[str, str]:
    """What is truly said in each recording, by its name; those without noise first."""
    listed = YAML(typ="safe").load((AUDIO / "phrases.yaml").read_text(encoding="utf-8"))["utterances"]
    return {entry["file"]: entry["said"] for entry in sorted(listed, key=lambda entry: "noise" in entry)}


@cache
def talk() -> tuple[Path, ...]:
    """The recordings of talk that is meant for nobody here."""
    listed = YAML(typ="safe").load((AUDIO / "phrases.yaml").read_text(encoding="utf-8"))["utterances"]
    return tuple(AUDIO / entry["file"] for entry in listed if entry.get("talk"))


def recordings(words: str, voice: str = "") -> list[Path]:
    """Every recording of these words; voice: only by whom."""
    return [AUDIO / file for file, truly in said().items() if truly == words and file.startswith(voice)]


def recording(words: str, voice: str = "") -> Path:
    """A recording of these words, without noise where there is one."""
    return recordings(words, voice)[0]
