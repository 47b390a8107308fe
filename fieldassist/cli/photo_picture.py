"""Pictures that the job writes: the plan to paint over, what was found on it, and the grid to count by."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from pathlib import Path

import cv2
import numpy as np
from PIL import Image, ImageDraw, ImageFont

from fieldassist.cli.photo_out import picture_out
from fieldassist.language import Words
from fieldassist.photo.measuring import MeasuredPhoto
from fieldassist.photo.overlay import OVERLAY_DOTS, drawn_over
from fieldassist.photo.picture import RGB
from fieldassist.photo.square import Squared
from fieldassist.places import shipped
from fieldassist.trade.limits import exactly
from fieldassist.trade.message import Figure
from fieldassist.trade.quantities import canonical

# Height of letters and of the scale bar, and the room around them [dots].
_LETTERS, _BAR, _ROOM = 26, 12, 14
# What the scale bar is long, in the listener's units.
_SCALE = {"metric": (100, "mm"), "us": (4, "in")}
_INK, _PAPER = (0, 0, 0), (255, 255, 255)
# A grid of so many squares each way, as it is counted by hand.
GRID = 10


def write_plan(file: Path, plan: Squared, others: Sequence[Path]) -> None:
    """The photo squared up, its longer side across. Parameters and errors: `photo_out.picture_out`."""
    _write(file, Image.fromarray(plan.pixels), others)


def write_overlay(
    file: Path, plan: Squared, found: MeasuredPhoto, said: Sequence[Figure], words: Words, others: Sequence[Path]
) -> None:
    """What was found over the plan, below it a scale bar and in few words what was found.

    others; errors: `photo_out.picture_out`.
    """
    drawn = drawn_over(plan.pixels, found.cells, found.done, found.circle)
    _write(file, _captioned(drawn, plan.size_mm[0], said, words), others)


def write_grid(file: Path, plan: Squared, said: Sequence[Figure], words: Words) -> None:
    """The plan with ten by ten squares over it, each with its number, to be printed and counted by hand.

    Errors: `photo_out.NotWritten`.
    """
    by = max(1, -(-OVERLAY_DOTS // max(plan.pixels.shape[:2])))
    drawn = cv2.resize(plan.pixels, None, fx=by, fy=by, interpolation=cv2.INTER_CUBIC)
    picture = Image.fromarray(drawn.astype(np.uint8, copy=False))
    draw = ImageDraw.Draw(picture)
    wide, high = picture.size
    for step in range(GRID + 1):
        x, y = (min(side - 1, round(step * side / GRID)) for side in (wide, high))
        for ink, thick in ((_INK, 5), (_PAPER, 2)):
            draw.line((x, 0, x, high), ink, thick)
            draw.line((0, y, wide, y), ink, thick)
    for number in range(GRID * GRID):
        row, column = divmod(number, GRID)
        at = column * wide / GRID + 6, row * high / GRID + 4
        draw.text(at, str(number + 1), _PAPER, _font(18), stroke_width=3, stroke_fill=_INK)
    _write(file, _captioned(np.asarray(picture), plan.size_mm[0], said, words), ())


def _captioned(drawn: RGB, wide_mm: float, said: Sequence[Figure], words: Words) -> Image.Image:
    """A picture with a scale bar and lines of text below it."""
    rows, columns = drawn.shape[:2]
    count, unit = _SCALE["us" if words.units == "us" else "metric"]
    bar = round(canonical(count, unit) * columns / wide_mm)
    font, small = _font(_LETTERS), _font(_LETTERS - 6)
    beside = 2 * _ROOM + max(bar, 120)
    lines = [line for text in said for line in _broken(words(text), columns - beside - _ROOM, font)]
    height = 2 * _ROOM + max(len(lines) * round(1.3 * _LETTERS), _BAR + _ROOM + _LETTERS)
    paper = Image.new("RGB", (columns, rows + height), _PAPER)
    paper.paste(Image.fromarray(drawn), (0, 0))
    draw = ImageDraw.Draw(paper)
    for part in range(4):
        left = _ROOM + round(part * bar / 4), rows + _ROOM
        right = _ROOM + round((part + 1) * bar / 4), rows + _ROOM + _BAR
        draw.rectangle((left, right), _PAPER if part % 2 else _INK, _INK, 2)
    draw.text((_ROOM, rows + _ROOM + _BAR + 6), words(exactly(count, unit)), _INK, small)
    for number, line in enumerate(lines):
        draw.text((beside, rows + _ROOM - 4 + number * round(1.3 * _LETTERS)), line, _INK, font)
    return paper


def _broken(text: str, wide: int, font: ImageFont.FreeTypeFont) -> list[str]:
    """Text in lines that are no wider than so many dots, unless a single word is."""
    lines: list[str] = []
    for word in text.split():
        if lines and font.getlength(f"{lines[-1]} {word}") <= wide:
            lines[-1] = f"{lines[-1]} {word}"
        else:
            lines.append(word)
    return lines


@cache
def _font(size: int) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(shipped("assets") / "fonts" / "B612-Regular.otf", size)


def _write(file: Path, picture: Image.Image, others: Sequence[Path]) -> None:
    with picture_out(file, others) as out:
        picture.save(out, "PNG")
