"""The back of a lifted piece, painted with a finger: what share bears mortar, the largest void, corners and edges.

The back is a grid of cells of about 2 mm, its columns along the longer side, its first row at the top. A cell is void
or mortar, and counts for a corner or an edge where its middle lies in it. Everything that comes out is exact for what
was painted, and an estimate of the back, since a finger is broad.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

import numpy as np
import numpy.typing as npt

from fieldassist.trade.coverage import TWO_INCHES_MM

__all__ = [
    "CELL_MM",
    "STRIP_MM",
    "Back",
    "Brush",
    "PieceCorner",
    "PieceEdge",
    "Reckoned",
    "brush_mm",
    "largest_region",
    "reckon",
]

VoidCells: TypeAlias = npt.NDArray[np.bool_]
BackPoint: TypeAlias = tuple[float, float]
Brush = Literal["void", "mortar"]
PieceCorner = Literal["top left", "top right", "bottom left", "bottom right"]
PieceEdge = Literal["top", "right", "bottom", "left"]

CELL_MM = 2.0
# The strip along the edges, and the side of the square at a corner: 2 in. Of the strip trade practice, as reported in
# trade literature; of the square common practice, no published source (ANSI A108.5 asks for supported corners and
# gives no size).
STRIP_MM = TWO_INCHES_MM
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


@dataclass(frozen=True, slots=True)
class Reckoned:
    """What a painted back comes to.

    percent: of the back that bears mortar; void_mm2: the largest connected void, 0 for none; corners, edges: those that
    are not full.
    """

    percent: float
    void_mm2: float
    corners: tuple[PieceCorner, ...]
    edges: tuple[PieceEdge, ...]


def reckon(void: VoidCells, cell_mm: tuple[float, float]) -> Reckoned:
    """What a back comes to.

    Parameters: void, rows x columns, True where a cell has no mortar; cell_mm, width and height of a cell [mm].
    Result: `Reckoned`; neighbours share a side, over a corner two voids are two. Largest void [mm2].
    """
    rows, columns = void.shape
    wide, high = (
        min(math.ceil(STRIP_MM / side - 0.5), count) for side, count in zip(cell_mm, (columns, rows), strict=True)
    )
    top, bottom = void[:high], void[rows - high :]
    corners: dict[PieceCorner, VoidCells] = {
        "top left": top[:, :wide],
        "top right": top[:, columns - wide :],
        "bottom left": bottom[:, :wide],
        "bottom right": bottom[:, columns - wide :],
    }
    edges: dict[PieceEdge, VoidCells] = {
        "top": top,
        "right": void[:, columns - wide :],
        "bottom": bottom,
        "left": void[:, :wide],
    }
    return Reckoned(
        percent=100.0 * (1.0 - np.count_nonzero(void) / void.size),
        void_mm2=largest_region(void) * cell_mm[0] * cell_mm[1],
        corners=tuple(name for name, cells in corners.items() if cells.any()),
        edges=tuple(name for name, cells in edges.items() if cells.any()),
    )


def largest_region(cells: VoidCells) -> int:
    """How many cells the largest region of True ones has; neighbours share a side.

    Runs of cells in a row are joined with those that they touch in the row above (a union-find over runs), which is
    linear in the number of runs.

    >>> largest_region(np.array([[1, 1, 0], [0, 0, 1], [0, 1, 1]], dtype=bool))
    3
    """
    rows, columns = cells.shape
    # Each row is followed by an empty cell, so that no run goes on into the next row.
    padded = np.zeros((rows, columns + 1), dtype=np.int8)
    padded[:, :columns] = cells
    steps = np.diff(padded.ravel(), prepend=0)
    starts, ends = np.flatnonzero(steps == 1), np.flatnonzero(steps == -1)
    if not len(starts):
        return 0
    first = np.searchsorted(ends + columns + 1, starts, side="right")
    after = np.searchsorted(starts + columns + 1, ends, side="left")
    parent = list(range(len(starts)))

    def root(run: int) -> int:
        while parent[run] != run:
            parent[run] = parent[parent[run]]
            run = parent[run]
        return run

    for run, (begin, end) in enumerate(zip(first.tolist(), after.tolist(), strict=True)):
        for above in range(begin, end):
            parent[root(run)] = root(above)
    regions = np.array([root(run) for run in range(len(starts))])
    return int(np.bincount(regions, weights=ends - starts).max())


class Back:
    """A back while it is painted.

    looked: somebody has painted it, or said that all of it is covered; until then it is unjudged and comes to nothing;
    changes: counts up with each change, for whoever draws it.
    """

    def __init__(self, width_mm: float, height_mm: float) -> None:
        self.size_mm = (float(width_mm), float(height_mm))
        columns, rows = (max(1, round(side / CELL_MM)) for side in self.size_mm)
        self.cell_mm = (self.size_mm[0] / columns, self.size_mm[1] / rows)
        self.void: VoidCells = np.zeros((rows, columns), dtype=np.bool_)
        self.looked = False
        self.changes = 0
        self.radius_mm = brush_mm(*self.size_mm)
        self._brush = False
        self._last: BackPoint = (0.0, 0.0)
        self._before: list[tuple[npt.NDArray[np.uint8], bool]] = []
        self._reckoned: Reckoned | None = None

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

    def all_covered(self) -> None:
        """Somebody has looked, and the whole back bears mortar."""
        self._remember()
        self.void[:] = False

    def undo(self) -> None:
        """Take the last stroke back."""
        if self._before:
            packed, self.looked = self._before.pop()
            self.void = np.unpackbits(packed, count=self.void.size).reshape(self.void.shape).astype(np.bool_)
            self._has_changed()

    @property
    def can_undo(self) -> bool:
        """Whether there is a stroke to take back."""
        return bool(self._before)

    @property
    def reckoned(self) -> Reckoned | None:
        """What it comes to, None while nobody has looked. Reckoned once a change."""
        if self._reckoned is None and self.looked:
            self._reckoned = reckon(self.void, self.cell_mm)
        return self._reckoned

    def _paint(self, start: BackPoint, end: BackPoint) -> None:
        """The cells whose middle lies within the brush's radius of the way."""
        reach = self.radius_mm
        bounds = [(min(a, b) - reach, max(a, b) + reach) for a, b in zip(start, end, strict=True)]
        spans = []
        for (low, high), cell, count in zip(bounds, self.cell_mm, reversed(self.void.shape), strict=True):
            spans.append((max(0, math.floor(low / cell)), min(count, math.ceil(high / cell))))
        (left, right), (top, bottom) = spans
        if left < right and top < bottom:
            x = (np.arange(left, right) + 0.5) * self.cell_mm[0] - start[0]
            y = ((np.arange(top, bottom) + 0.5) * self.cell_mm[1] - start[1])[:, None]
            along = (end[0] - start[0], end[1] - start[1])
            length2 = along[0] ** 2 + along[1] ** 2
            share = np.clip((x * along[0] + y * along[1]) / length2, 0.0, 1.0) if length2 else np.zeros((1, 1))
            near = (x - share * along[0]) ** 2 + (y - share * along[1]) ** 2 <= reach**2
            self.void[top:bottom, left:right][near] = self._brush
        self._has_changed()

    def _remember(self) -> None:
        self._before = [*self._before, (np.packbits(self.void), self.looked)][-_UNDO_DEPTH:]
        self.looked = True
        self._has_changed()

    def _has_changed(self) -> None:
        self._reckoned = None
        self.changes += 1
