"""What was found, drawn over the plan of a back: voids hatched, the largest one framed, the strip along the edges.

Every mark is drawn light and dark at once, so that it is seen on any mortar, in colours and in grey. What needs letters
is written elsewhere: this knows no fonts.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any, TypeAlias

import cv2
import numpy as np
import numpy.typing as npt

from fieldassist.photo.back import InscribedCircle
from fieldassist.photo.picture import RGB
from fieldassist.trade.hatch import hatch_lines
from fieldassist.trade.voids import STRIP_MM, BackCells, Reckoned

__all__ = ["OVERLAY_DOTS", "drawn_over"]

_Drawing: TypeAlias = npt.NDArray[Any]
_Dot: TypeAlias = tuple[int, int]
_Colour: TypeAlias = tuple[int, int, int]

# The longer side of a drawn plan has as many dots or more, or marks would hide what they mark.
OVERLAY_DOTS = 1200
# Yellow and black differ most in lightness of all pairs with a colour in it: 0.93 to 0 of white's (WCAG 2.2, relative
# luminance).
_LIGHT: _Colour = (255, 221, 0)
_DARK: _Colour = (0, 0, 0)
_WHITE: _Colour = (255, 255, 255)
# From one line of the hatching to the next, and the dashes of the strip along the edges [dots].
_APART = 16.0
_DASH, _GAP = 18, 12


def drawn_over(pixels: RGB, cells: BackCells, done: Reckoned, circle: InscribedCircle | None = None) -> RGB:
    """The plan with what was found drawn over it, larger by a whole factor where it has few dots.

    Parameters: pixels, the plan; cells of the back and what they come to; circle, the largest one in the largest void.
    """
    by = max(1, -(-OVERLAY_DOTS // max(pixels.shape[:2])))
    picture: _Drawing = cv2.resize(pixels, None, fx=by, fy=by, interpolation=cv2.INTER_CUBIC)
    rows, columns = picture.shape[:2]
    scale = (columns / (cells.columns * cells.cell_mm[0]), rows / (cells.rows * cells.cell_mm[1]))
    _hatch(picture, cells, scale)
    _dash(picture, (round(STRIP_MM * scale[0]), round(STRIP_MM * scale[1])))
    if done.void_mm2:
        left, top, right, bottom = done.void_box
        start = round(left * scale[0]) - 1, round(top * scale[1]) - 1
        end = round(right * scale[0]), round(bottom * scale[1])
        cv2.rectangle(picture, start, end, _DARK, 5)
        cv2.rectangle(picture, start, end, _WHITE, 2)
    if circle is not None:
        middle = round(circle[0] * scale[0]), round(circle[1] * scale[1])
        reach = max(2, round(circle[2] / 2 * (scale[0] + scale[1]) / 2))
        cv2.circle(picture, middle, reach, _DARK, 5, cv2.LINE_AA)
        cv2.circle(picture, middle, reach, _WHITE, 2, cv2.LINE_AA)
    return picture.astype(np.uint8, copy=False)


def _hatch(picture: _Drawing, cells: BackCells, scale: tuple[float, float]) -> None:
    """Lines over all voids, and a line around each."""
    rows, columns = picture.shape[:2]
    apart_mm = _APART / math.sqrt(scale[0] * scale[1])
    lines = [
        ((round(x * scale[0]), round(y * scale[1])), (round(u * scale[0]), round(v * scale[1])))
        for x, y, u, v in hatch_lines(cells, apart_mm)
    ]
    share = np.frombuffer(cells.cells, np.uint8).reshape(cells.rows, cells.columns)
    # Between the middles of cells the border runs smoothly.
    void = cv2.resize(255 - share, (columns, rows), interpolation=cv2.INTER_LINEAR) > 127
    around, _ = cv2.findContours(void.astype(np.uint8), cv2.RETR_CCOMP, cv2.CHAIN_APPROX_NONE)
    for colour, wide, rim in ((_DARK, 6, 4), (_LIGHT, 2, 2)):
        for start, end in lines:
            cv2.line(picture, start, end, colour, wide)
        cv2.drawContours(picture, around, -1, colour, rim)


def _dash(picture: _Drawing, strip: tuple[int, int]) -> None:
    """The inner end of the strip along the edges, dashed."""
    rows, columns = picture.shape[:2]
    left, top, right, bottom = strip[0], strip[1], columns - 1 - strip[0], rows - 1 - strip[1]
    if left >= right or top >= bottom:
        return
    for colour, wide in ((_DARK, 4), (_WHITE, 2)):
        for start, end in _dashes(left, right):
            cv2.line(picture, (start, top), (end, top), colour, wide)
            cv2.line(picture, (start, bottom), (end, bottom), colour, wide)
        for start, end in _dashes(top, bottom):
            cv2.line(picture, (left, start), (left, end), colour, wide)
            cv2.line(picture, (right, start), (right, end), colour, wide)


def _dashes(start: int, end: int) -> Iterator[_Dot]:
    for at in range(start, end, _DASH + _GAP):
        yield at, min(at + _DASH, end)
