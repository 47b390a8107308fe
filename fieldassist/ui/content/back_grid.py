"""The back of a lifted tile as 10 x 10 cells: what share is covered, how large the largest void is, whether the corners
are full.

Columns run along the tile's longer side, rows along the shorter one. A cell is 1 % of the back, so what comes out is
an estimate: a void is rounded to whole and half cells.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from enum import Enum
from fractions import Fraction

from fieldassist.checklist.plan import Piece
from fieldassist.trade.quantities import convert_exact, unit_in_system

SIDE = 10
# What is seen near by, so that a cell is a target for a glove: as many columns and rows, first column and first row of
# each part, in the order in which a finger goes over the back. Parts above each other share a row.
PART = (5, 4)
PARTS = {
    "top left": (0, 0),
    "top right": (5, 0),
    "middle right": (5, 3),
    "middle left": (0, 3),
    "bottom left": (0, 6),
    "bottom right": (5, 6),
}
_UNDO_DEPTH = 50

CellPlace = tuple[int, int]  # column, row


class GridCell(Enum):
    """How a cell is covered; the value is the share that bears mortar."""

    FULL = Fraction(1)
    HALF = Fraction(1, 2)
    NONE = Fraction(0)

    @property
    def turned(self) -> GridCell:
        """What one press makes of it: from full the first press marks a void, as that is what is looked for."""
        return {GridCell.FULL: GridCell.NONE, GridCell.NONE: GridCell.HALF, GridCell.HALF: GridCell.FULL}[self]


@dataclass(frozen=True, slots=True)
class BackGrid:
    """The cells, row by row."""

    cells: tuple[GridCell, ...] = (GridCell.FULL,) * (SIDE * SIDE)

    def at(self, place: CellPlace) -> GridCell:
        """The cell at a column and row."""
        column, row = place
        return self.cells[row * SIDE + column]

    def painted(self, places: Iterable[CellPlace], cell: GridCell) -> BackGrid:
        """The grid with these cells made so; places beside the grid are passed over."""
        cells = list(self.cells)
        for column, row in places:
            if 0 <= column < SIDE and 0 <= row < SIDE:
                cells[row * SIDE + column] = cell
        return replace(self, cells=tuple(cells))

    @property
    def percent(self) -> Fraction:
        """The share of the back that bears mortar: full cells and half of the half ones [percent].

        >>> float(BackGrid().painted([(0, 0), (1, 0)], GridCell.NONE).painted([(5, 5)], GridCell.HALF).percent)
        97.5
        """
        return sum((cell.value for cell in self.cells), Fraction(0)) * 100 / len(self.cells)

    @property
    def largest_void(self) -> Fraction:
        """The largest connected void [cells]: neighbours share a side; a half cell belongs to it and counts half.

        >>> BackGrid().painted([(0, 0), (1, 1)], GridCell.NONE).painted([(1, 0)], GridCell.HALF).largest_void
        Fraction(5, 2)
        """
        left = {p for p in _places() if self.at(p) is not GridCell.FULL}
        largest = Fraction(0)
        while left:
            open_ends, void = [left.pop()], Fraction(0)
            while open_ends:
                place = open_ends.pop()
                void += 1 - self.at(place).value
                near = left.intersection(_beside(place))
                left -= near
                open_ends += near
            largest = max(largest, void)
        return largest

    @property
    def corners(self) -> tuple[int, int]:
        """How many of the corner cells are full, and how many there are."""
        return self._full(p for p in _places() if p[0] in _ENDS and p[1] in _ENDS)

    @property
    def corners_full(self) -> bool:
        """Whether every corner cell is full."""
        full, all_of_them = self.corners
        return full == all_of_them

    @property
    def edges(self) -> tuple[int, int]:
        """How many of the cells along the edges are full, the corners among them, and how many there are."""
        return self._full(p for p in _places() if p[0] in _ENDS or p[1] in _ENDS)

    @property
    def edges_full(self) -> bool:
        """Whether every corner and edge cell is full."""
        full, all_of_them = self.edges
        return full == all_of_them

    def _full(self, places: Iterable[CellPlace]) -> tuple[int, int]:
        found = [self.at(place) is GridCell.FULL for place in places]
        return sum(found), len(found)


_ENDS = (0, SIDE - 1)


def _places() -> Iterator[CellPlace]:
    return ((column, row) for row in range(SIDE) for column in range(SIDE))


def _beside(place: CellPlace) -> tuple[CellPlace, ...]:
    column, row = place
    return (column - 1, row), (column + 1, row), (column, row - 1), (column, row + 1)


def passed(start: tuple[float, float], end: tuple[float, float]) -> list[CellPlace]:
    """The cells on the straight way between two points, in cells from the corner where (0, 0) lies.

    >>> passed((0.5, 0.5), (2.5, 0.5))
    [(0, 0), (1, 0), (2, 0)]
    """
    steps = 1 + math.ceil(4 * math.dist(start, end))
    way = (
        tuple(math.floor(a * (1 - n / steps) + b * (n / steps)) for a, b in zip(start, end, strict=True))
        for n in range(steps + 1)
    )
    return [(column, row) for column, row in dict.fromkeys(way)]


@dataclass
class Sketch:
    """A grid while it is marked. looked: somebody has marked it, or said that all is covered."""

    grid: BackGrid = field(default_factory=BackGrid)
    looked: bool = False
    _before: list[tuple[BackGrid, bool]] = field(default_factory=list)
    _brush: GridCell = GridCell.FULL
    _last: tuple[float, float] = (0.0, 0.0)

    def press(self, at: tuple[float, float]) -> None:
        """A finger comes down at a point of the grid, and turns the cell there."""
        self._remember()
        place = (math.floor(at[0]), math.floor(at[1]))
        self._brush = self.grid.at(place).turned
        self._last = at
        self.grid = self.grid.painted([place], self._brush)

    def drag(self, at: tuple[float, float]) -> None:
        """It moves on: the cells passed become what the first one became."""
        self.grid = self.grid.painted(passed(self._last, at), self._brush)
        self._last = at

    def all_covered(self) -> None:
        """Somebody has looked, and the whole back bears mortar."""
        self._remember()
        self.grid = BackGrid()

    def undo(self) -> None:
        """Take the last stroke back."""
        if self._before:
            self.grid, self.looked = self._before.pop()

    def clear(self) -> None:
        """As if nobody had looked yet; `undo` brings the marks back."""
        self._remember()
        self.grid, self.looked = BackGrid(), False

    @property
    def can_undo(self) -> bool:
        """Whether there is a stroke to take back."""
        return bool(self._before)

    def _remember(self) -> None:
        self._before = [*self._before, (self.grid, self.looked)][-_UNDO_DEPTH:]
        self.looked = True


def sides(piece: Piece) -> tuple[Fraction, Fraction]:
    """The longer and the shorter side of a piece, exact [mm]."""
    length, width = (convert_exact(side.value, side.unit, "mm") for side in (piece.length, piece.width))
    return max(length, width), min(length, width)


def cell_mm2(piece: Piece) -> Fraction:
    """How much of the back one cell stands for, exact [mm2]."""
    longer, shorter = sides(piece)
    return longer * shorter / (SIDE * SIDE)


def area_unit(units: Sequence[str], *, us: bool) -> str:
    """In which of a step's units an area off the grid is given.

    >>> [area_unit(["mm2", "cm2", "in2"], us=us) for us in (False, True)], area_unit(["m2"], us=True)
    (['cm2', 'in2'], 'm2')
    """
    fitting = [unit for unit in units if unit_in_system(unit, "us" if us else "metric") == unit]
    return next((unit for unit in ("in2" if us else "cm2", *fitting) if unit in units), units[0])


def void_reading(mm2: Fraction, unit: str) -> Fraction:
    """An area as a reading in `unit`, rounded up to one decimal so that no void is made smaller than it was marked.

    >>> float(void_reading(Fraction(7200), "cm2")), float(void_reading(Fraction(7200), "in2"))
    (72.0, 11.2)
    """
    return Fraction(math.ceil(convert_exact(mm2, "mm2", unit) * 10), 10)
