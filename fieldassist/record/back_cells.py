"""The cells of a measured back (`trade.voids`) as the file that is kept of them: a grey PNG picture, a dot a cell.

A stranger may have made one, so its header tells what it takes before it is decoded, and nothing but such a picture is
read.
"""

from __future__ import annotations

import io

from PIL import Image

from fieldassist.record.picture import without_warnings
from fieldassist.trade.message import Refused, message
from fieldassist.trade.voids import BackCells

# A back of 3 m by 2 m has a million and a half of cells of 2 mm.
MOST_CELLS = 4_000_000
# From the finest that a photo could show to a cell that is as wide as the strip along the edges [mm].
_CELL_MM = (0.2, 51.0)


class NoCells(Refused):
    """The file holds no cells of a back of that size; `told` says why."""


def cells_png(back: BackCells) -> bytes:
    """The file that is kept of the cells of a back. The same cells give the same bytes with the same libraries."""
    paper = io.BytesIO()
    Image.frombytes("L", (back.columns, back.rows), back.cells).save(paper, "PNG", optimize=True)
    return paper.getvalue()


def read_cells(data: bytes, size_mm: tuple[float, float]) -> BackCells:
    """The cells in such a file. size_mm: the back's longer and shorter side, which tell how large a cell is.

    Errors: `NoCells` where it is no grey PNG picture of one byte a dot, has more cells than any back, or cells that
    fit no back of this size.
    """
    try:
        with without_warnings():
            image = Image.open(io.BytesIO(data), formats=("PNG",))
        if image.mode != "L":
            raise NoCells(message("record-cells-not-grey"))
        columns, rows = image.size
        if columns * rows > MOST_CELLS:
            raise NoCells(message("record-cells-many", most=MOST_CELLS))
        cell = size_mm[0] / columns, size_mm[1] / rows
        if not all(_CELL_MM[0] <= side <= _CELL_MM[1] for side in cell) or max(cell) > 2 * min(cell):
            raise NoCells(message("record-cells-size", columns=columns, rows=rows))
        with without_warnings():
            return BackCells(image.tobytes(), columns, cell)
    except (NoCells, MemoryError):
        raise
    except Exception as error:
        # The library does not tell what it raises on a damaged picture.
        raise NoCells(message("record-cells-damaged")) from error
