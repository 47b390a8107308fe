"""What a tablet's people have chosen for its screens and ears, kept between days."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from fieldassist.day.listening import ATTENTION, Manner
from fieldassist.record.disk import whole_file


class Choices(BaseModel):
    """The tablet's settings. units: None for those of each day's plan; letters: whether keys to type with are shown on
    the screen; day: the one that was open last, and is opened again."""

    model_config = ConfigDict(extra="ignore", frozen=True)

    theme: Literal["day", "dark"] = "day"
    text: Annotated[float, Field(ge=1.0, le=1.5)] = 1.0
    units: Literal["metric", "us"] | None = None
    manner: Manner = Manner.CALLED
    attention: Annotated[str, Field(min_length=3, max_length=60)] = ATTENTION
    key: Annotated[str, Field(min_length=1, max_length=30)] = "spacebar"
    microphone: str | None = None
    model: str | None = None
    aloud: bool = True
    letters: bool = True
    day: Path | None = None


def load(path: Path) -> Choices:
    """The choices in a file; the first ones where there is none, or where it is damaged."""
    try:
        return Choices.model_validate_json(path.read_bytes())
    except (OSError, ValidationError):
        return Choices()


def save(path: Path, choices: Choices) -> None:
    """Write them down: the old file or the new one is there, whole. OSError when the disk refuses."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with whole_file(path) as file:
        file.write(choices.model_dump_json(indent=1).encode())
