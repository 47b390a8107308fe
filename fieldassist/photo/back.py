"""The back of a lifted piece, painted with a finger or proposed from its photo, and what it comes to.

The back is a grid of cells of about 2 mm, its columns along the longer side, its first row at the top; `trade.voids`
reckons with them. What comes out is exact for what was painted, and an estimate of the back, since a finger is broad.
"""

from __future__ import annotations

import math
import zlib
from collections.abc import Sequence
from typing import Literal, TypeAlias

import numpy as np
import numpy.typing as npt

from fieldassist.trade.voids import FULL, BackCells, Reckoned, reckon

__all__ = [
    "CELL_MM",
    "Back",
    "BackPoint",
    "Brush",
    "InscribedCircle",
    "MortarCells",
    "VoidCells",
    "brush_mm",
    "inscribed_circle",
    "inscribed_circle_mm",
]

# Of each cell the share that bears mortar, 0 to 255 (`trade.voids`); and where there is none.
MortarCells: TypeAlias = npt.NDArray[np.uint8]
VoidCells: TypeAlias = npt.NDArray[np.bool_]
BackPoint: TypeAlias = tuple[float, float]
# Its middle from the upper left corner, x and y, and its diameter [mm].
InscribedCircle: TypeAlias = tuple[float, float, float]
Brush = Literal["void", "mortar"]

CELL_MM = 2.0
# A finger's stroke is drawn finer than the finger: a void that matters is 36 mm wide. Ours: common practice, no
# published source.
_BRUSH_SHARE, _LEAST_BRUSH_MM = 0.01, 6.0
_UNDO_DEPTH = 50


def brush_mm(width_mm: float, height_mm: float) -> float:
    """How far a stroke reaches to each side of the finger's way on a piece with these sides [mm].

    >>> brush_mm(1200, 600), brush_mm(300, 300)
    (12.0, 6.0)
    """
    return max(_LEAST_BRUSH_MM, _BRUSH_SHARE * max(width_mm, height_mm))


def inscribed_circle(back: BackCells) -> InscribedCircle | None:
    """The largest circle that fits into the largest void of a back, None for none.

    By the distance to the nearest cell that is no void, from middle to middle less half a cell (Felzenszwalb and
    Huttenlocher 2012); the back's own edge bounds it too.
    """
    import cv2  # the only part that needs it: who paints without a photo does not wait for it

    mortar = np.frombuffer(back.cells, np.uint8).reshape(back.rows, back.columns)
    void = np.pad((mortar < 128).astype(np.uint8), 1)
    _, numbers, found, _ = cv2.connectedComponentsWithStats(void, connectivity=4)
    sizes = found[1:, cv2.CC_STAT_AREA]
    if not len(sizes):
        return None
    largest = (numbers == 1 + int(np.argmax(sizes))).astype(np.uint8)
    reach = cv2.distanceTransform(largest, cv2.DIST_L2, cv2.DIST_MASK_PRECISE)
    row, column = np.unravel_index(int(np.argmax(reach)), reach.shape)
    across, down = back.cell_mm
    diameter = (2 * float(reach.max()) - 1) * math.sqrt(across * down)
    # The void has a margin of one cell, so its cell n has its middle at n - 1/2.
    return (float(column) - 0.5) * across, (float(row) - 0.5) * down, diameter


def inscribed_circle_mm(back: BackCells) -> float:
    """The diameter of that circle, 0 for none [mm]."""
    found = inscribed_circle(back)
    return 0.0 if found is None else found[2]


class Back:
    """A back while it is painted.

    mortar: its cells; looked: somebody has painted it, or said that all of it is covered; until then it is unjudged and
    comes to nothing; proposed: a photo was reckoned, and what was painted since lies over it; changes: counts up with
    each change, for whoever draws it.
    """

    def __init__(self, width_mm: float, height_mm: float) -> None:
        self.size_mm = (float(width_mm), float(height_mm))
        columns, rows = (max(1, round(side / CELL_MM)) for side in self.size_mm)
        self.cell_mm = (self.size_mm[0] / columns, self.size_mm[1] / rows)
        self.mortar: MortarCells = np.full((rows, columns), FULL, dtype=np.uint8)
        self.looked = False
        self.proposed = False
        self.changes = 0
        self.radius_mm = brush_mm(*self.size_mm)
        self._brush = False
        self._last: BackPoint = (0.0, 0.0)
        self._before: list[tuple[bytes, bool, bool]] = []
        self._reckoned: Reckoned | None = None

    @property
    def void(self) -> VoidCells:
        """The cells without mortar."""
        return self.mortar < 128

    @property
    def cells(self) -> BackCells:
        """The same, to be reckoned and kept."""
        return BackCells(self.mortar.tobytes(), self.mortar.shape[1], self.cell_mm)

    # --- painting -------------------------------------------------------------------------------------------------

    def begin(self, at: BackPoint, brush: Brush) -> None:
        """A finger comes down at a point [mm] from the upper left corner."""
        self._remember()
        self._brush, self._last = brush == "void", at
        self._paint(at, at)

    def move(self, at: BackPoint) -> None:
        """It moves on: all of its straight way there is painted."""
        self._paint(self._last, at)
        self._last = at

    def stroke(self, points: Sequence[BackPoint], brush: Brush) -> None:
        """A whole stroke through points [mm]."""
        self.begin(points[0], brush)
        for point in points[1:]:
            self.move(point)

    def fill(self, cells: VoidCells, brush: Brush) -> None:
        """Paint all of these cells at once: a region that a tap grew to."""
        self._remember()
        self.mortar[cells] = 0 if brush == "void" else FULL

    def all_covered(self) -> None:
        """Somebody has looked, and the whole back bears mortar."""
        self._remember()
        self.mortar[:] = FULL
        self.proposed = False

    def propose(self, mortar: MortarCells) -> None:
        """A photo was reckoned: these are its cells."""
        self._remember()
        self.mortar[:] = mortar
        self.proposed = True

    def undo(self) -> None:
        """Take the last stroke back."""
        if self._before:
            packed, self.looked, self.proposed = self._before.pop()
            self.mortar = np.frombuffer(bytearray(zlib.decompress(packed)), np.uint8).reshape(self.mortar.shape)
            self._has_changed()

    @property
    def can_undo(self) -> bool:
        """Whether there is a stroke to take back."""
        return bool(self._before)

    @property
    def reckoned(self) -> Reckoned | None:
        """What it comes to, None while nobody has looked. Reckoned once a change."""
        if self._reckoned is None and self.looked:
            self._reckoned = reckon(self.cells, painted=not self.proposed)
        return self._reckoned

    def _paint(self, start: BackPoint, end: BackPoint) -> None:
        """The cells whose middle lies within the brush's radius of the way."""
        reach = self.radius_mm
        bounds = [(min(a, b) - reach, max(a, b) + reach) for a, b in zip(start, end, strict=True)]
        spans = []
        for (low, high), cell, count in zip(bounds, self.cell_mm, reversed(self.mortar.shape), strict=True):
            spans.append((max(0, math.floor(low / cell)), min(count, math.ceil(high / cell))))
        (left, right), (top, bottom) = spans
        if left < right and top < bottom:
            x = (np.arange(left, right) + 0.5) * self.cell_mm[0] - start[0]
            y = ((np.arange(top, bottom) + 0.5) * self.cell_mm[1] - start[1])[:, None]
            along = (end[0] - start[0], end[1] - start[1])
            length2 = along[0] ** 2 + along[1] ** 2
            share = np.clip((x * along[0] + y * along[1]) / length2, 0.0, 1.0) if length2 else np.zeros((1, 1))
            near = (x - share * along[0]) ** 2 + (y - share * along[1]) ** 2 <= reach**2
            self.mortar[top:bottom, left:right][near] = 0 if self._brush else FULL
        self._has_changed()

    def _remember(self) -> None:
        packed = zlib.compress(self.mortar.tobytes(), 1)
        self._before = [*self._before, (packed, self.looked, self.proposed)][-_UNDO_DEPTH:]
        self.looked = True
        self._has_changed()

    def _has_changed(self) -> None:
        self._reckoned = None
        self.changes += 1
