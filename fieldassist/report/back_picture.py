"""What is drawn over the squared photo of a measured back: its voids hatched, the largest framed and told, the strip
along its edges, and a bar that tells the scale.

All lines are dark on a light edge, so that they are seen on any photo, on grey paper too. Lengths are points.
"""

from __future__ import annotations

from collections.abc import Iterator

from fieldassist.report import fonts
from fieldassist.report.back_model import BackDrawn
from fieldassist.report.grid import CAPTION, CAPTION_STRONG, MM
from fieldassist.report.sheet import BLACK, WHITE, Sheet
from fieldassist.trade.hatch import hatch_lines
from fieldassist.trade.voids import STRIP_MM, BackCells

# How far the lines of the hatching lie apart on paper, and how short none is drawn.
_APART, _SHORTEST = 1.2 * MM, 0.3 * MM
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


def draw_over(sheet: Sheet, box: tuple[float, float, float, float], back: BackDrawn, cells: BackCells | None) -> None:
    """Draw it, within the figure that is open.

    box: of the picture: its upper left corner, width and height; cells: None where they are not at hand: then nothing
    is hatched. A picture that is too small for words has none.
    """
    x, y, wide, high = box
    point = wide / back.size_mm[0]  # to the millimetre of the back
    if cells is not None:
        lines = hatch_lines(cells, _APART / point, least_mm=_SHORTEST / point)
        strokes = [((x + a * point, y + b * point), (x + c * point, y + d * point)) for a, b, c, d in lines]
        sheet.ink(strokes, _HATCH_LIGHT, WHITE)
        sheet.ink(strokes, _HATCH)
    strip = STRIP_MM * point
    if min(wide, high) > 2 * strip:
        inner = (x + strip, y + strip, wide - 2 * strip, high - 2 * strip)
        sheet.rect(*inner, stroke=WHITE, thick=_STRIP_LIGHT)
        sheet.rect(*inner, stroke=BLACK, thick=_STRIP, dash=True)
    if back.frame is not None:
        left, top, right, bottom = (side * point for side in back.frame)
        around = (
            max(0.0, left - _BETWEEN),
            max(0.0, top - _BETWEEN),
            min(wide, right + _BETWEEN),
            min(high, bottom + _BETWEEN),
        )
        framed = (x + around[0], y + around[1], around[2] - around[0], around[3] - around[1])
        sheet.rect(*framed, stroke=WHITE, thick=_FRAME_LIGHT)
        sheet.rect(*framed, stroke=BLACK, thick=_FRAME)
        _told(sheet, box, framed, back.void)


def draw_bar(sheet: Sheet, x: float, y: float, wide: float, back: BackDrawn) -> None:
    """The bar that tells the scale below a picture that is so wide, `BAR_HIGH` high, within the figure that is open."""
    long, told = back.bar[0] * wide / back.size_mm[0], back.bar[1]
    middle = y + BAR_HIGH * 0.55
    sheet.line(x, middle, x + long, middle, _BAR)
    for end in (x, x + long):
        sheet.line(end, middle - _TICK, end, middle + _TICK, _BAR * 0.6)
    sheet.text(x + long + 3, middle + CAPTION.size * 0.35, told, CAPTION)


def _told(
    sheet: Sheet, box: tuple[float, float, float, float], framed: tuple[float, float, float, float], told: str
) -> None:
    """The void's size on a plate beside its frame, where that has room in the picture: right, left, below, above; none
    in a picture that the words would cover."""
    wide = fonts.width(told, CAPTION_STRONG.face, CAPTION_STRONG.size) + 2 * _AROUND
    high = CAPTION_STRONG.size + 2 * _AROUND
    if box[3] < _LEAST_HIGH * high:
        return
    for x, y in _places(framed, wide, high, box):
        if box[0] <= x and x + wide <= box[0] + box[2] and box[1] <= y and y + high <= box[1] + box[3]:
            sheet.rect(x, y, wide, high, fill=WHITE)
            sheet.text(x + _AROUND, y + _AROUND + CAPTION_STRONG.size * 0.82, told, CAPTION_STRONG)
            return


def _places(
    framed: tuple[float, float, float, float], wide: float, high: float, box: tuple[float, float, float, float]
) -> Iterator[tuple[float, float]]:
    x, y, across, down = framed
    beside = _within(y + (down - high) / 2, box[1], box[1] + box[3] - high)
    over = _within(x + (across - wide) / 2, box[0], box[0] + box[2] - wide)
    yield x + across + 2, beside
    yield x - wide - 2, beside
    yield over, y + down + 2
    yield over, y - high - 2
    # Around a void that fills the picture there is no place beside it.
    yield over, beside


def _within(at: float, least: float, most: float) -> float:
    return min(max(at, least), max(least, most))
