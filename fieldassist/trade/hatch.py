"""Where the hatching of a back's voids lies: lines at half a right angle that are seen on any picture, in grey too; and
where the voids end.

The screen, the overlay of the command line and the pages draw the same lines, each as thick as it likes.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from typing import TypeAlias

from fieldassist.trade.voids import BackCells, is_void

__all__ = ["HatchLine", "border_lines", "hatch_lines"]

_RUN = re.compile(b"\x01+")

# From x, y to x, y [mm], from the back's upper left corner, y down.
HatchLine: TypeAlias = tuple[float, float, float, float]


def hatch_lines(back: BackCells, apart_mm: float, *, least_mm: float = 0.0) -> Iterator[HatchLine]:
    """Lines over the voids of a back that rise to the right, `apart_mm` from each other.

    They lie where x + y is a multiple of one step, so that the lines of neighbouring voids go on from each other; each
    ends where its void does, to half a cell. least_mm: shorter ones are left out.

    >>> from fieldassist.trade.voids import BackCells
    >>> [(round(x), round(y), round(u), round(v)) for x, y, u, v in hatch_lines(BackCells(bytes(16), 4, (5, 5)), 14.2)]
    [(0, 20, 20, 0)]
    """
    if apart_mm <= 0:
        raise ValueError(apart_mm)
    across, down = back.cell_mm
    columns, rows = back.columns, back.rows
    wide, high = columns * across, rows * down
    void = is_void(back)
    # Along a line x grows as y shrinks; half a cell of the finer side is a step, so that none is jumped over.
    step, pitch = min(across, down) / 2, apart_mm * math.sqrt(2)
    for count in range(1, math.ceil((wide + high) / pitch)):
        at = count * pitch
        left, right = max(0.0, at - high), min(wide, at)
        steps = max(1, math.ceil((right - left) / step))
        each = (right - left) / steps
        begun: float | None = None
        for number in range(steps + 1):
            x = left + number * each
            middle = x + each / 2
            column, row = int(middle / across), int((at - middle) / down)
            inside = number < steps and column < columns and 0 <= row < rows and void[row * columns + column]
            if inside and begun is None:
                begun = x
            elif not inside and begun is not None:
                if (x - begun) * math.sqrt(2) >= least_mm:
                    yield begun, at - begun, x, at - x
                begun = None


def border_lines(back: BackCells) -> Iterator[HatchLine]:
    """The lines at which voids end, along the sides of cells, each as long as it goes straight on; also where a void
    ends with its back. A void that is too narrow for hatching is seen by them.

    >>> from fieldassist.trade.voids import BackCells
    >>> list(border_lines(BackCells(bytes([255, 0, 0, 255]), 4, (2.0, 3.0))))
    [(2.0, 0.0, 6.0, 0.0), (2.0, 3.0, 6.0, 3.0), (2.0, 0.0, 2.0, 3.0), (6.0, 0.0, 6.0, 3.0)]
    """
    across, down = back.cell_mm
    void, columns = is_void(back), back.columns
    for row, x, end in _changes([void[at : at + columns] for at in range(0, len(void), columns)]):
        yield x * across, row * down, end * across, row * down
    for column, y, end in _changes([void[at::columns] for at in range(columns)]):
        yield column * across, y * down, column * across, end * down


def _changes(lines: Sequence[bytes]) -> Iterator[tuple[int, int, int]]:
    """Where a line differs from the one before it, with nothing around them: before which, from which cell and to."""
    size = len(lines[0]) if lines else 0
    before = nothing = bytes(size)
    for number, line in enumerate([*lines, nothing]):
        if line != before:
            other = (int.from_bytes(line) ^ int.from_bytes(before)).to_bytes(size)
            for run in _RUN.finditer(other):
                yield number, run.start(), run.end()
        before = line
