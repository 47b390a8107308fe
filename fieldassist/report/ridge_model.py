"""A section across a method's ridges as plain data, for the pages of a trial and of an area."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

# The corners of a closed line [mm]: x along the base, y upwards from it.
ClosedLine: TypeAlias = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class RidgeSection:
    """A section across the ridges of a method, at natural size [mm].

    on_base: the ridges as they stand on the base; on_back: those that hang from the piece's back, drawn as they would
    stand on it, none where only the base is combed; wide: how much of the base is drawn; base_high, back_high: how high
    the ridges are; pressed: the bed after collapse.
    """

    on_base: tuple[ClosedLine, ...]
    on_back: tuple[ClosedLine, ...]
    wide: float
    base_high: float
    back_high: float
    pressed: float
