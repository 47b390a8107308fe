"""The drawing of an area to scale, as plain data: pieces in their places with what is known of each."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class DrawnWall:
    """An area seen from the room, or from above. alt: the same in words."""

    wide_mm: float
    high_mm: float
    alt: str
