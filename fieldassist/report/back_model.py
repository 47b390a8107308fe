"""A measured back as plain data: what is drawn over its photo. Texts are in the document's language and units."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class BackDrawn:
    """What is drawn over the squared photo of a back.

    size_mm: its longer and shorter side; cells: the file of its cells, whose voids are hatched; frame: around the
    largest void, its left, upper, right and lower end [mm], None where there is none; void: how large that is, in
    words; bar: the bar that tells the scale, how long [mm] and in words.
    """

    size_mm: tuple[float, float]
    cells: str
    frame: tuple[float, float, float, float] | None
    void: str
    bar: tuple[float, str]
