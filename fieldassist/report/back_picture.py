"""What is drawn over the squared photo of a measured back: its voids outlined and hatched, the largest framed and told,
the strip along its edges, and a bar that tells the scale.

All lines are dark on a light edge, so that they are seen on any photo, on grey paper too. Lengths are points.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import chain
from typing import TypeAlias

from PIL import Image

from fieldassist.report import fonts
from fieldassist.report.back_model import BackDrawn
from fieldassist.report.grid import CAPTION, CAPTION_STRONG, MM
from fieldassist.report.sheet import BLACK, WHITE, Sheet
from fieldassist.trade.hatch import border_lines, hatch_lines
from fieldassist.trade.voids import STRIP_MM, BackCells, is_void

# How far the lines of the hatching lie apart on paper, and how short none is drawn.
_APART, _SHORTEST = 1.2 * MM, 0.3 * MM
# How wide a square is whose sides voids are outlined along, and from which share on it is void: a stripe of one cell
# stays, of one cell in ten nothing is seen.
_FINEST, _SEEN = 0.25 * MM, 1 / 8
# How thick a line is, and with the light on both its sides.
_HATCH, _HATCH_LIGHT = 0.45, 1.1
_FRAME, _FRAME_LIGHT = 0.9, 2.1
_STRIP, _STRIP_LIGHT = 0.4, 1.0
_BETWEEN = 0.6 * MM  # the frame and what it frames
_AROUND = 1.2  # words on their plate
_LEAST_HIGH = 3  # times as high as its words a picture is that has any
# The bar below the picture, its ends, and all that it takes.
_BAR, _TICK = 1.1, 2.0
BAR_HIGH = 3.6 * MM
# The frame before words beside the bar, and how far all there lies apart.
_SIGN, _GAP = 5.0, 3.0

# Upper left corner, width and height.
_Box: TypeAlias = tuple[float, float, float, float]


def draw_over(sheet: Sheet, box: _Box, back: BackDrawn, cells: BackCells | None) -> None:
    """Draw it, and its bar below, within the figure that is open.

    box: of the picture: its upper left corner, width and height; cells: None where they are not at hand: then no void
    is outlined and none is told. How large the largest void is stands where it covers no void: beside its frame, else
    beside the bar. A picture that is too small for words has none.
    """
    x, y, wide, high = box
    point = wide / back.size_mm[0]  # to the millimetre of the back
    strokes = [] if cells is None else _strokes(cells, box, point)
    if strokes:
        sheet.ink(strokes, _HATCH_LIGHT, WHITE)
        sheet.ink(strokes, _HATCH)
    strip = STRIP_MM * point
    if min(wide, high) > 2 * strip:
        inner = (x + strip, y + strip, wide - 2 * strip, high - 2 * strip)
        sheet.rect(*inner, stroke=WHITE, thick=_STRIP_LIGHT)
        sheet.rect(*inner, stroke=BLACK, thick=_STRIP, dash=True)
    beside = _bar(sheet, (x, y + high, wide, BAR_HIGH), back)
    if back.frame is not None:
        left, top, right, bottom = (side * point for side in back.frame)
        around = (
            max(0.0, left - _BETWEEN),
            max(0.0, top - _BETWEEN),
            min(wide, right + _BETWEEN),
            min(high, bottom + _BETWEEN),
        )
        framed = (x + around[0], y + around[1], around[2] - around[0], around[3] - around[1])
        _framed(sheet, framed)
        if cells is not None and high >= _LEAST_HIGH * (CAPTION_STRONG.size + 2 * _AROUND):
            _told(sheet, box, framed, back.void, cells, beside)


def _strokes(cells: BackCells, box: _Box, point: float) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """The hatching of the voids, and their borders: by these a void is seen that is too narrow for hatching."""
    lines = chain(border_lines(_on_paper(cells, box)), hatch_lines(cells, _APART / point, least_mm=_SHORTEST / point))
    x, y = box[:2]
    return [((x + a * point, y + b * point), (x + c * point, y + d * point)) for a, b, c, d in lines]


def _on_paper(cells: BackCells, box: _Box) -> BackCells:
    """The voids in squares as fine as lines on paper can follow."""
    voids = Image.frombytes("L", (cells.columns, cells.rows), is_void(cells)).point(lambda void: 255 * void)
    columns, rows = (min(count, math.ceil(side / _FINEST)) for count, side in zip(voids.size, box[2:], strict=True))
    shares = voids.resize((columns, rows), Image.Resampling.BOX)
    cell = voids.width / columns * cells.cell_mm[0], voids.height / rows * cells.cell_mm[1]
    return BackCells(shares.point(lambda share: 0 if share >= _SEEN * 255 else 255).tobytes(), columns, cell)


def _framed(sheet: Sheet, around: _Box) -> None:
    sheet.rect(*around, stroke=WHITE, thick=_FRAME_LIGHT)
    sheet.rect(*around, stroke=BLACK, thick=_FRAME)


def _bar(sheet: Sheet, box: _Box, back: BackDrawn) -> float:
    """The bar that tells the scale, in the line below the picture; gives where its words end."""
    x, y, wide, high = box
    long, told = back.bar[0] * wide / back.size_mm[0], back.bar[1]
    middle = y + high * 0.55
    sheet.line(x, middle, x + long, middle, _BAR)
    for end in (x, x + long):
        sheet.line(end, middle - _TICK, end, middle + _TICK, _BAR * 0.6)
    sheet.text(x + long + 3, middle + CAPTION.size * 0.35, told, CAPTION)
    return x + long + 3 + fonts.width(told, CAPTION.face, CAPTION.size)


def _told(sheet: Sheet, box: _Box, framed: _Box, told: str, cells: BackCells, beside: float) -> None:
    """The void's size on a plate beside its frame, where that has room in the picture and covers no void: right, left,
    below, above; else beside the bar, behind a frame as the void's, where that has room. beside: from where on."""
    words = fonts.width(told, CAPTION_STRONG.face, CAPTION_STRONG.size)
    wide, high = words + 2 * _AROUND, CAPTION_STRONG.size + 2 * _AROUND
    for x, y in _places(framed, wide, high, box):
        inside = box[0] <= x and x + wide <= box[0] + box[2] and box[1] <= y and y + high <= box[1] + box[3]
        if inside and not _covers_void((x, y, wide, high), box, cells):
            sheet.rect(x, y, wide, high, fill=WHITE)
            sheet.text(x + _AROUND, y + _AROUND + CAPTION_STRONG.size * 0.82, told, CAPTION_STRONG)
            return
    left, middle = box[0] + box[2] - words, box[1] + box[3] + BAR_HIGH * 0.55
    if left - _SIGN - 2 * _GAP >= beside:
        _framed(sheet, (left - _SIGN - _GAP, middle - _SIGN / 2, _SIGN, _SIGN))
        sheet.text(left, middle + CAPTION_STRONG.size * 0.35, told, CAPTION_STRONG)


def _covers_void(plate: _Box, box: _Box, cells: BackCells) -> bool:
    """Whether there is a void below a plate on a picture."""
    void, across, down = is_void(cells), box[2] / cells.columns, box[3] / cells.rows
    left, right = (plate[0] - box[0]) / across, (plate[0] + plate[2] - box[0]) / across
    top, bottom = (plate[1] - box[1]) / down, (plate[1] + plate[3] - box[1]) / down
    return any(
        1 in void[row * cells.columns + int(left) : row * cells.columns + math.ceil(right)]
        for row in range(int(top), min(cells.rows, math.ceil(bottom)))
    )


def _places(framed: _Box, wide: float, high: float, box: _Box) -> Iterator[tuple[float, float]]:
    x, y, across, down = framed
    beside = _within(y + (down - high) / 2, box[1], box[1] + box[3] - high)
    over = _within(x + (across - wide) / 2, box[0], box[0] + box[2] - wide)
    yield x + across + 2, beside
    yield x - wide - 2, beside
    yield over, y + down + 2
    yield over, y - high - 2


def _within(at: float, least: float, most: float) -> float:
    return min(max(at, least), max(least, most))
