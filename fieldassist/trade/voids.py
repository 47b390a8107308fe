"""What the back of a lifted piece comes to, cell by cell: the share that bears mortar, its voids, corners and edges.

A back is a grid of cells, row by row from the upper left, its columns along the longer side: 0 where a cell bears no
mortar, 255 where all of it does, in between for a part of it. A cell with less than half is void, and counts for a
corner or an edge where its middle lies in it.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, get_args

from fieldassist.trade.coverage import TWO_INCHES_MM
from fieldassist.trade.quantities import convert_exact

__all__ = [
    "CORNERS",
    "EDGES",
    "FULL",
    "STRIP_MM",
    "BackCells",
    "BackKind",
    "PieceCorner",
    "PieceEdge",
    "Reckoned",
    "contact_as_read",
    "is_void",
    "painted_doubt",
    "reckon",
    "side_of",
    "void_as_read",
    "void_between",
    "void_is_unsure",
    "whole_from",
]

PieceCorner = Literal["top left", "top right", "bottom left", "bottom right"]
PieceEdge = Literal["top", "right", "bottom", "left"]
# What was keyed or combed onto the back before the piece was set, if anything; or a sample's clear sheet.
BackKind = Literal["bare", "skim-coated", "combed", "clear sheet"]
CORNERS: tuple[PieceCorner, ...] = get_args(PieceCorner)
EDGES: tuple[PieceEdge, ...] = get_args(PieceEdge)

# A cell that bears mortar over all of it; and from where on it is no void.
FULL, _HALF = 255, 128
_TO_VOID = bytes(1 if share < _HALF else 0 for share in range(256))
_RUN = re.compile(b"\x01+")
# Below the first a cell is surely void, below the second it may be: on computed pictures on which the largest void by
# both lay on the same side of 2 in2 the true one did in 99 of 100. Ours, no published source.
_SURE_VOID, _MAY_BE_VOID = 96, 160
# The strip along the edges, and the side of the square at a corner: 2 in. Of the strip trade practice, as reported in
# trade literature; of the square common practice, no published source (ANSI A108.5 asks for supported corners and
# gives no size).
STRIP_MM = TWO_INCHES_MM
# How far strokes and filled regions may lie beside the voids' borders, all along them to one side [mm]: on 24 computed
# backs whose voids were filled by taps it was 0.5 at most; and what squaring up by hand adds [percent]. Ours, no
# published source.
_STROKE_MM, _SQUARING_PERCENT = 0.75, 0.3
# On a stepped border the steps are longer than the line that they follow, by 4/pi over all directions.
_STEPPED = math.pi / 4
# A photo's border of mortar is frayed: a corner or a strip of which so much bears mortar is full where the photo was
# read by reckoning; one that was painted is full where nothing was painted there. Ours, no published source.
_FULL_BY_RECKONING = 0.9


@dataclass(frozen=True, slots=True)
class BackCells:
    """The cells of a back: so many to a row, and how wide and high a cell is [mm]."""

    cells: bytes
    columns: int
    cell_mm: tuple[float, float]

    @property
    def rows(self) -> int:
        """How many rows there are."""
        return len(self.cells) // self.columns


@dataclass(frozen=True, slots=True)
class Reckoned:
    """What a back comes to.

    percent: of it bears mortar; void_mm2: the largest connected void, 0 for none, and void_box: its left, upper, right
    and lower end [mm]; border_mm: the length of all voids' borders; band_percent: of the strip along its edges bears
    mortar; corner_percents: of the squares in its corners, upper left, upper right, lower left, lower right;
    edge_percents: of the strips, top, right, bottom, left; corners, edges: those that are not full.
    """

    percent: float
    void_mm2: float
    void_box: tuple[float, float, float, float]
    border_mm: float
    band_percent: float
    corner_percents: tuple[float, float, float, float]
    edge_percents: tuple[float, float, float, float]
    corners: tuple[PieceCorner, ...]
    edges: tuple[PieceEdge, ...]


def whole_from(*, painted: bool) -> float:
    """From which share on [0 to 1] a corner or a strip is full."""
    return 1.0 if painted else _FULL_BY_RECKONING


def reckon(back: BackCells, *, painted: bool = True) -> Reckoned:
    """What a back comes to. painted: all its cells were painted by hand, else a photo was reckoned.

    Neighbours share a side: over a corner two voids are two.

    >>> done = reckon(BackCells(bytes([0, 0, 255, 255] * 2), 4, (100.0, 50.0)))
    >>> done.percent, done.void_mm2, done.void_box, done.edges
    (50.0, 20000.0, (0.0, 0.0, 200.0, 100.0), ('top', 'bottom', 'left'))
    """
    columns, rows, cells = back.columns, back.rows, back.cells
    lines = [cells[at : at + columns] for at in range(0, len(cells), columns)]
    wide, high = (
        min(math.ceil(STRIP_MM / side - 0.5), count) for side, count in zip(back.cell_mm, (columns, rows), strict=True)
    )
    top, bottom = lines[:high], lines[rows - high :]
    left, right = slice(0, wide), slice(columns - wide, columns)
    corners = [_share(part, side) for part in (top, bottom) for side in (left, right)]
    whole = slice(0, columns)
    edges = [_share(top, whole), _share(lines, right), _share(bottom, whole), _share(lines, left)]
    inner = [line[wide : columns - wide] for line in lines[high : rows - high]]
    of_inner, of_all = (sum(map(len, inner)), sum(map(sum, inner))), (len(cells), sum(cells))
    band_cells, band_sum = of_all[0] - of_inner[0], of_all[1] - of_inner[1]
    void, box, steps = _largest(is_void(back), columns)
    across, down = back.cell_mm
    full = whole_from(painted=painted)
    return Reckoned(
        percent=100.0 * of_all[1] / (FULL * len(cells)),
        void_mm2=void * across * down,
        void_box=(box[0] * across, box[1] * down, box[2] * across, box[3] * down),
        border_mm=(steps[0] * down + steps[1] * across) * _STEPPED,
        band_percent=100.0 * band_sum / (FULL * band_cells),
        corner_percents=(100 * corners[0], 100 * corners[1], 100 * corners[2], 100 * corners[3]),
        edge_percents=(100 * edges[0], 100 * edges[1], 100 * edges[2], 100 * edges[3]),
        corners=tuple(name for name, share in zip(CORNERS, corners, strict=True) if share < full),
        edges=tuple(name for name, share in zip(EDGES, edges, strict=True) if share < full),
    )


def is_void(back: BackCells) -> bytes:
    """Of each cell 1 where it is void, else 0.

    >>> is_void(BackCells(bytes([0, 127, 128, 255]), 2, (2.0, 2.0)))
    b'\\x01\\x01\\x00\\x00'
    """
    return back.cells.translate(_TO_VOID)


def void_between(back: BackCells) -> tuple[float, float]:
    """Between what the largest void lies [mm2]: of the cells that are surely void, and of all that may be. Of a painted
    back both are the void itself.

    >>> void_between(BackCells(bytes([0, 100, 150, 255]), 4, (10.0, 10.0)))
    (100.0, 300.0)
    """
    across, down = back.cell_mm
    low, high = (
        _largest(bytes(share < limit for share in back.cells), back.columns)[0] * across * down
        for limit in (_SURE_VOID, _MAY_BE_VOID)
    )
    return low, high


def void_is_unsure(low_mm2: float, high_mm2: float, most_mm2: float | None) -> bool:
    """Whether a largest void between these ends may be on either side of what is allowed; where nothing is, never.

    >>> void_is_unsure(1250, 1340, 1290.32), void_is_unsure(300, 900, 1290.32), void_is_unsure(300, 9000, None)
    (True, False, False)
    """
    return most_mm2 is not None and low_mm2 <= most_mm2 < high_mm2


def painted_doubt(done: Reckoned, area_mm2: float) -> float:
    """By how much a painted back's percentage may be off to either side [percentage points]: strokes beside the voids'
    borders, and corners set by hand.

    >>> done = reckon(BackCells(bytes([255] * 4), 2, (100.0, 100.0)))
    >>> painted_doubt(done, 40000.0)
    0.3
    """
    return 100.0 * done.border_mm * _STROKE_MM / area_mm2 + _SQUARING_PERCENT


def side_of(low: float, high: float, least: float | Fraction) -> Literal["under", "either", "reached"]:
    """On which side of what is required the whole interval of a contact lies.

    >>> side_of(96.1, 98.2, 95), side_of(94.9, 98.2, 95), side_of(90.0, 94.99, 95)
    ('reached', 'either', 'under')
    """
    return "reached" if low >= least else "under" if high < least else "either"


def contact_as_read(percent: float) -> Fraction:
    """A percentage of contact as a reading: whole, and none is told that was not there.

    >>> contact_as_read(97.99)
    Fraction(97, 1)
    """
    return Fraction(math.floor(percent))


def void_as_read(mm2: float, unit: str) -> Fraction:
    """A void as a reading in `unit`, to one decimal upward, so that none is made smaller than it was.

    >>> float(void_as_read(7200, "cm2")), float(void_as_read(7200, "in2"))
    (72.0, 11.2)
    """
    return Fraction(math.ceil(convert_exact(Fraction(repr(float(mm2))), "mm2", unit) * 10), 10)


def _share(lines: list[bytes], side: slice) -> float:
    parts = [line[side] for line in lines]
    return sum(map(sum, parts)) / (FULL * sum(map(len, parts)))


def _largest(void: bytes, columns: int) -> tuple[int, tuple[int, int, int, int], tuple[int, int]]:
    """Cells of the largest void, its left, upper, right and lower end, and how many steps between a void and none lie
    in rows and in columns.

    Runs of cells in a row are joined with those that they touch in the row above (union-find over runs, Rosenfeld and
    Pfaltz 1966 with runs for cells), which is linear in the number of runs.
    """
    parent: list[int] = []
    runs: list[tuple[int, int, int]] = []
    above: list[tuple[int, int, int]] = []
    beside = touching = ends = 0
    for row, line in enumerate(void[at : at + columns] for at in range(0, len(void), columns)):
        here = [(match.start(), match.end(), len(parent) + at) for at, match in enumerate(_RUN.finditer(line))]
        parent += [number for _, _, number in here]
        runs += [(row, first, last) for first, last, _ in here]
        beside += sum((first > 0) + (last < columns) for first, last, _ in here)
        for low, high in _overlaps(above, here):
            touching += min(low[1], high[1]) - max(low[0], high[0])
            one, other = _root(parent, low[2]), _root(parent, high[2])
            parent[other] = one
        ends += ((row == 0) + (row == len(void) // columns - 1)) * sum(last - first for first, last, _ in here)
        above = here
    if not runs:
        return 0, (0, 0, 0, 0), (0, 0)
    sizes: dict[int, int] = {}
    for number, (_, first, last) in enumerate(runs):
        root = _root(parent, number)
        sizes[root] = sizes.get(root, 0) + last - first
    # The first of the largest, so that the same cells always give the same void.
    largest = max(sizes, key=lambda root: (sizes[root], -root))
    of_it = [runs[number] for number in range(len(runs)) if _root(parent, number) == largest]
    box = (
        min(first for _, first, _ in of_it),
        of_it[0][0],
        max(last for _, _, last in of_it),
        of_it[-1][0] + 1,
    )
    cells = sum(last - first for _, first, last in runs)
    # Each void cell has a side above and one below; where two voids touch both are inside, at the piece's end none is
    # a border.
    return sizes[largest], box, (beside, 2 * cells - 2 * touching - ends)


def _overlaps(
    above: list[tuple[int, int, int]], here: list[tuple[int, int, int]]
) -> Iterator[tuple[tuple[int, int, int], tuple[int, int, int]]]:
    """Each pair of runs of two rows that share a column."""
    at = 0
    for run in here:
        while at < len(above) and above[at][1] <= run[0]:
            at += 1
        after = at
        while after < len(above) and above[after][0] < run[1]:
            yield above[after], run
            after += 1


def _root(parent: list[int], number: int) -> int:
    while parent[number] != number:
        parent[number] = parent[parent[number]]
        number = parent[number]
    return number
