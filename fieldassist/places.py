"""Where the shipped checklists, models and assets lie: in a checkout beside the package, installed inside it."""

from __future__ import annotations

import os
from pathlib import Path

import platformdirs

_PACKAGE = Path(__file__).resolve().parent


def tablet_data() -> Path:
    """Where this tablet keeps what belongs to no single day, such as people's keys: FIELDASSIST_DATA, or the system's
    place for it."""
    named = os.environ.get("FIELDASSIST_DATA")
    return Path(named) if named else Path(platformdirs.user_data_dir("fieldassist", appauthor=False))


def shipped(name: str) -> Path:
    """The folder called `name` ("checklists", "models" or "assets") that came with this copy of the program."""
    beside = _PACKAGE.parent / name
    if beside.is_dir() and (_PACKAGE.parent / "pyproject.toml").is_file():
        return beside
    return _PACKAGE / "_shipped" / name
