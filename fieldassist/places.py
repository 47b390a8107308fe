"""Where the shipped checklists, models and assets lie: in a checkout beside the package, installed inside it."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def shipped(name: str) -> Path:
    """The folder called `name` ("checklists", "models" or "assets") that came with this copy of the program."""
    beside = _PACKAGE.parent / name
    if beside.is_dir() and (_PACKAGE.parent / "pyproject.toml").is_file():
        return beside
    return _PACKAGE / "_shipped" / name
