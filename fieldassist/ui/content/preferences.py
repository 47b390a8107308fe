"""What a tablet's people have chosen for its screens and ears, kept between days."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from fieldassist.day.listening import ATTENTION, Manner
from fieldassist.day.speaking import SpeakingLevel
from fieldassist.record.disk import whole_file
from fieldassist.trade.quantities import Units

FILE = "preferences.json"


class Preferences(BaseModel):
    """The tablet's settings. hand: which one presses; units: None for those of each day's plan; speak: how much of
    an answer is said aloud; sounds_dropped: whether a low sound tells that what may have been meant was not taken;
    transcribes: whether what was dictated is written out at rest; keyboard: whether keys to type with are shown on
    the screen; day: the one that was open last, and is opened
    again; lock_minutes: after how long without a press the lock closes, 0 for never; press_to_hear: words that are
    pressed are said aloud; keep_places: photos keep what their camera says of place, maker and owner; explained:
    the screens that have told what they are for.
    """

    model_config = ConfigDict(extra="ignore", frozen=True)

    theme: Literal["day", "dark", "sun"] = "day"
    text: Annotated[float, Field(ge=1.0, le=1.5)] = 1.0
    hand: Literal["right", "left"] = "right"
    units: Units | None = None
    manner: Manner = Manner.CALLED
    attention: Annotated[str, Field(min_length=3, max_length=60)] = ATTENTION
    key: Annotated[str, Field(min_length=1, max_length=30)] = "spacebar"
    microphone: str | None = None
    model: str | None = None
    aloud: bool = True
    speak: SpeakingLevel = "few words"
    sounds_dropped: bool = True
    transcribes: bool = False
    keyboard: bool = True
    day: Path | None = None
    lock_minutes: Annotated[int, Field(ge=0, le=120)] = 0
    press_to_hear: bool = False
    keep_places: bool = False
    explained: tuple[str, ...] = ()


def load(folder: Path) -> Preferences:
    """Those kept in a tablet's folder; the first ones where there are none, or where the file is damaged."""
    try:
        return Preferences.model_validate_json((folder / FILE).read_bytes())
    except (OSError, ValidationError):
        return Preferences()


def save(folder: Path, preferences: Preferences) -> None:
    """Write them down: the old file or the new one is there, whole. OSError when the disk refuses."""
    folder.mkdir(parents=True, exist_ok=True)
    with whole_file(folder / FILE) as file:
        file.write(preferences.model_dump_json(indent=1).encode())
