"""Where somebody is in the settings: another screen may send them to a page of it."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from fieldassist.checklist.loader import WrongFile
from fieldassist.checklist.schema import Checklist
from fieldassist.ui.content.theme import ColourRole
from fieldassist.voice.microphone import Level, SoundInput

Group = Literal["", "units", "look", "microphone", "speaking", "manner", "model", "people", "checklists"]
PinWay = Literal["", "give", "change", "reset"]


@dataclass
class SettingsMemory:
    """Which page is open, what was found and what was said; no PIN, ever.

    person, pin_way: whose PIN is being given, and how; attention: the phrase as it is typed; checklists: those of each
    folder, and the files that were refused.
    """

    group: Group = ""
    person: str = ""
    pin_way: PinWay = ""
    said: tuple[ColourRole, str] | None = None
    attention: str | None = None
    inputs: tuple[SoundInput, ...] | str | None = None
    level: Level | None = None
    checklists: tuple[tuple[Path, tuple[Checklist, ...], tuple[WrongFile, ...]], ...] | None = None

    def turn_to(self, group: Group, person: str = "", pin_way: PinWay = "") -> None:
        """Open a page of the settings."""
        self.group, self.person, self.pin_way, self.said = group, person, pin_way, None
