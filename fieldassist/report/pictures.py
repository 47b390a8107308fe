"""Photos of the day as they are printed: as large as their place on the page asks for, one opened at a time."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from fieldassist.record.back_cells import NoCells, read_cells
from fieldassist.record.picture import packed, small_picture
from fieldassist.report import fonts
from fieldassist.report.back_model import BackDrawn
from fieldassist.report.back_picture import BAR_HIGH, draw_over
from fieldassist.report.grid import SECOND
from fieldassist.report.sheet import Sheet, Style, wrap
from fieldassist.trade.message import Message, message
from fieldassist.trade.voids import BackCells

# What a printer shows of a photo, and what a void takes to be seen [dots to the inch].
_DENSITY = 300
_QUALITY = 82

_TOLD = Style(fonts.REGULAR, 8, 9.6, SECOND)
_ROUND = 3.0  # around the words in an outline [points]


@dataclass(frozen=True, slots=True)
class PrintedPicture:
    """A JPEG picture with its size in pixels."""

    jpeg: bytes
    wide: int
    high: int


class Album:
    """The day's photos by their files' names.

    picture: gives what is printed of a photo, its copy or the file itself, None where neither is at hand.
    """

    def __init__(self, picture: Callable[[str], bytes | None]) -> None:
        self._picture = picture
        self._done: dict[tuple[str, int, int], PrintedPicture | Message] = {}

    def find(self, name: str, wide: float, high: float) -> PrintedPicture | Message:
        """The photo made to fit a place of this size [points], or why there is none. name: "" where none was taken."""
        if not name:
            return message("page-photo-none")
        asked = name, _dots(wide), _dots(high)
        if asked not in self._done:
            data = self._picture(name)
            self._done[asked] = (
                message("page-photo-elsewhere")
                if data is None
                else scaled(data, asked[1], asked[2]) or message("page-photo-unreadable")
            )
        return self._done[asked]

    def cells(self, back: BackDrawn) -> BackCells | None:
        """The cells of a measured back; None where their file is not at hand or holds none of a back of that size."""
        data = self._picture(back.cells)
        try:
            return None if data is None else read_cells(data, back.size_mm)
        except NoCells:
            return None


def _dots(points: float) -> int:
    return max(1, math.ceil(points / 72 * _DENSITY))


def scaled(data: bytes, wide: int, high: int) -> PrintedPicture | None:
    """A JPEG or PNG picture no wider and no higher than so many pixels, in the form of `record.picture`.

    None when it is no such picture, is damaged, or takes too much to decode. The same bytes give the same picture with
    the same libraries.
    """
    try:
        # Twice as many dots to make it small from as will be printed.
        small = small_picture(data, (wide, high), 2 * max(wide, high))
        return PrintedPicture(packed(small, _QUALITY), small.width, small.height)
    except MemoryError:
        raise
    except Exception:
        # The library does not tell what it raises on a damaged picture, and one such photo must not cost the day's log.
        return None


def draw_photo(
    sheet: Sheet,
    album: Album,
    name: str,
    place: tuple[float, float, float, float],
    alt: str,
    over: BackDrawn | None = None,
) -> tuple[float, float]:
    """Draw a photo in a place, by its upper left corner there; gives how wide and high it is drawn [points].

    name: of its file, "" where none was taken; place: upper left corner, width and height [points]; alt: what it shows,
    in words; over: what is drawn over it, and below it, where it is of a back that was measured. The whole photo is
    shown. Where there is none, an outline as large as the place says why: grey and broken, since nothing failed.
    """
    x, y, wide, high = place
    sheet.tick()
    found = album.find(name, wide, high)
    if isinstance(found, PrintedPicture) and over is not None:
        # In its true proportions: a picture is whole dots wide and high.
        point = min(wide / over.size_mm[0], (high - BAR_HIGH) / over.size_mm[1])
        size = over.size_mm[0] * point, over.size_mm[1] * point
        with sheet.tagged("Figure", alt=alt):
            sheet.picture(x, y, *size, found.jpeg)
            draw_over(sheet, (x, y, *size), over, album.cells(over))
        return size[0], size[1] + BAR_HIGH
    if isinstance(found, PrintedPicture):
        share = min(wide / found.wide, high / found.high)
        size = found.wide * share, found.high * share
        with sheet.tagged("Figure", alt=alt):
            sheet.picture(x, y, *size, found.jpeg)
        return size
    told = sheet.words(found)
    with sheet.decoration():
        sheet.rect(x, y, wide, high, stroke=SECOND, thick=0.4, dash=True)
    lines = wrap(told, _TOLD, wide - 2 * _ROUND)[: max(1, int(high / _TOLD.leading))]
    at = y + (high - len(lines) * _TOLD.leading) / 2 + _TOLD.size
    with sheet.tagged("Figure", alt=f"{alt} {told}" if alt else told):
        for line in lines:
            sheet.text(x + wide / 2, at, line, _TOLD, align="centre")
            at += _TOLD.leading
    return wide, high
