"""What the page behind the ear keeps while the program runs."""

from __future__ import annotations

from dataclasses import dataclass

from fieldassist.voice.microphone import Level, SoundInput


@dataclass
class EarMemory:
    """inputs: the microphones that were found, None until they were looked for; told: what came of the last test, and
    whether it was good; attention: the phrase as it is typed; level: of the microphone that is tried."""

    inputs: tuple[SoundInput, ...] | None = None
    told: tuple[bool, str] | None = None
    attention: str | None = None
    level: Level | None = None
