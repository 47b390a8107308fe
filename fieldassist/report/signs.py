"""Signs of printed pages, drawn alike wherever they stand: lifts, grounds of pieces, methods, combing, edges.

Each is told from the next by its shape, on grey paper too, and has a word in the key beside what it is drawn in. A sign
is decoration where it stands beside its word, and part of a figure inside one. Lengths are points.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, floor, sqrt
from typing import Literal

from fieldassist.report import fonts
from fieldassist.report.grid import BAR, DRAWN, MM, SECOND, TINT, GridSpan
from fieldassist.report.sheet import BLACK, WHITE, Sheet, Style, wrap

# A lift: good and read from a photo or a grid, good and read by eye, failed, or lifted and not judged.
LiftSign = Literal["good", "eye", "failed", "open"]
# How the ground of a piece is drawn. tint: it is of an odd batch.
PieceGround = Literal["plain", "cleared", "suspect", "dots", "not set"]
# A part of a bar that counts lifts.
BarSign = Literal["bar good", "bar failed", "bar open"]
KeySign = Literal[
    "bar good",
    "bar failed",
    "bar open",
    "good",
    "eye",
    "failed",
    "open",
    "cleared",
    "suspect",
    "dots",
    "not set",
    "odd batch",
    "even batch",
    "method",
    "combing level",
    "combing upright",
    "edge",
    "again",
    "words",
]

MARK = 2.5 * MM  # how wide the sign of a lift is
METHOD_THICK = 2.6  # the line where the method changes
_RING_THICK = 1.2
_DOTS_APART = 3.2 * MM
_DOT_THICK = 0.9
# How far the lines of a hatch lie apart, and how thick they are.
_HATCHES: dict[PieceGround, tuple[float, float]] = {"cleared": (3.2 * MM, 0.35), "suspect": (1.5 * MM, 0.9)}
_LETTER = Style(fonts.HEAVY, 10.5, 12.6, WHITE)
_BOX = 4.2 * MM, 3.0 * MM  # a ground in the key
_AFTER_SIGN, _BETWEEN_ENTRIES = 4.0, 14.0


def lift_sign(sheet: Sheet, x: float, y: float, sign: LiftSign) -> None:
    """The sign of a lift around its middle, `MARK` wide."""
    half = MARK / 2
    if sign == "good":
        sheet.disc(x, y, half - 0.35)
    elif sign == "eye":
        sheet.ring(x, y, half - _RING_THICK / 2, _RING_THICK)
    elif sign == "failed":
        sheet.rect(x - half, y - half, MARK, MARK, fill=WHITE, stroke=BLACK, thick=0.9)
        arm = half - 1.3
        sheet.line(x - arm, y - arm, x + arm, y + arm, 1.5)
        sheet.line(x - arm, y + arm, x + arm, y - arm, 1.5)
    else:
        sheet.rect(x - half, y - half, MARK, MARK, fill=WHITE, stroke=BLACK, thick=0.9, dash=True)


def ground(
    sheet: Sheet, box: tuple[float, float, float, float], kind: PieceGround, *, tint: bool = False, dense: float = 1.0
) -> None:
    """Fill a piece (x, y, width, height; from its upper left corner) as its state asks, and outline it.

    Hatches and dots of neighbours go on from each other. dense: how many times as dense, where little room shows it.
    """
    x, y, wide, high = box
    if kind == "not set":
        sheet.rect(x, y, wide, high, fill=WHITE, stroke=BLACK, thick=0.5, dash=True)
        return
    sheet.rect(x, y, wide, high, fill=TINT if tint else WHITE)
    if kind in _HATCHES:
        apart, thick = _HATCHES[kind]
        for x1, y1, x2, y2 in _hatch(box, apart / dense):
            sheet.line(x1, y1, x2, y2, thick)
    elif kind == "dots":
        sheet.ink([[dot] for dot in _dots(box, _DOTS_APART / dense)], _DOT_THICK)
    sheet.rect(x, y, wide, high, stroke=BLACK, thick=0.5)


def bar(sheet: Sheet, box: tuple[float, float, float, float], sign: BarSign) -> None:
    """A part of a bar (x, y, width, height): the good full, those that failed empty, those that nobody judged in the
    broken outline of a lift that is open."""
    x, y, wide, high = box
    fill, dash = BAR if sign == "bar good" else WHITE, sign == "bar open"
    sheet.rect(x, y, wide, high, fill=fill, stroke=BLACK, thick=0.6, dash=dash)


def _hatch(box: tuple[float, float, float, float], apart: float) -> Iterator[tuple[float, float, float, float]]:
    """Lines that rise to the right, cut off at the edges of the box: those on which x + y is a multiple of a step."""
    x, y, wide, high = box
    step = apart * sqrt(2)
    for count in range(ceil((x + y) / step), floor((x + y + wide + high) / step) + 1):
        at = count * step
        left, right = max(x, at - y - high), min(x + wide, at - y)
        if right - left > 0.5:
            yield left, at - left, right, at - right


def _dots(box: tuple[float, float, float, float], step: float) -> Iterator[tuple[float, float]]:
    x, y, wide, high = box
    rim = 1.0
    for row in range(ceil((y + rim) / step * 2), floor((y + high - rim) / step * 2) + 1):
        shift = 0.5 * (row % 2)
        for column in range(ceil((x + rim) / step - shift), floor((x + wide - rim) / step - shift) + 1):
            yield (column + shift) * step, row * step / 2


def letter_square(sheet: Sheet, x: float, y: float, letter: str, side: float = 5.2 * MM) -> float:
    """A method's letter in white on a black square, by its upper left corner; gives its width. The letter is text."""
    wide = max(side, fonts.width(letter, _LETTER.face, _LETTER.size) + 6)
    sheet.rect(x, y, wide, side, fill=BLACK)
    sheet.text(x + wide / 2, y + side / 2 + _LETTER.size * 0.36, letter, _LETTER, align="centre")
    return wide


COMBING = 3.6 * MM, 3.0 * MM  # the strokes that tell how a bed is combed


def combing(sheet: Sheet, x: float, y: float, *, level: bool) -> None:
    """Three short strokes along the ridges, as they run on the surface; by the upper left corner of `COMBING`."""
    wide, high = COMBING
    for part in (0.1, 0.5, 0.9):
        if level:
            sheet.line(x, y + high * part, x + wide, y + high * part, 0.5, SECOND)
        else:
            sheet.line(x + wide * part, y, x + wide * part, y + high, 0.5, SECOND)


EDGE = 2.0 * MM  # the sign of an edge along it


def edge_sign(sheet: Sheet, x: float, y: float, toward: tuple[int, int]) -> None:
    """A small black triangle on an edge at (x, y), its tip inward: toward (1, 0) is to the right, (0, 1) downwards."""
    dx, dy = toward
    half = EDGE / 2
    tip = (x + dx * EDGE * 0.8, y + dy * EDGE * 0.8)
    sheet.shape([(x - dy * half, y - dx * half), tip, (x + dy * half, y + dx * half)], BLACK, BLACK, 0.1)


# --- the key ------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class KeyEntry:
    """A sign and what it means, in words; "words": no sign stands beside them."""

    sign: KeySign
    told: str


def key_high(entries: Sequence[KeyEntry], wide: float) -> float:
    """How high a key is set."""
    return sum(_row_high(row) for row in _key_rows(entries, wide))


def draw_key(sheet: Sheet, span: GridSpan, y: float, entries: Sequence[KeyEntry]) -> float:
    """Draw a key from height y, entry beside entry in as many rows as it takes; gives the height below it."""
    for row in _key_rows(entries, span.wide):
        x = span.x
        for entry, lines in row:
            middle = y + DRAWN.leading / 2 + 1
            _key_sign(sheet, x, middle, entry.sign)
            x += _sign_wide(entry.sign) + _AFTER_SIGN
            for number, line in enumerate(lines):
                sheet.text(x, middle + DRAWN.size * 0.36 + number * DRAWN.leading, line, DRAWN)
            x += max(fonts.width(line, DRAWN.face, DRAWN.size) for line in lines) + _BETWEEN_ENTRIES
        y += _row_high(row)
    return y


def _row_high(row: Sequence[tuple[KeyEntry, list[str]]]) -> float:
    return max(len(lines) for _, lines in row) * DRAWN.leading + 3.2


def _key_rows(entries: Sequence[KeyEntry], wide: float) -> list[list[tuple[KeyEntry, list[str]]]]:
    rows: list[list[tuple[KeyEntry, list[str]]]] = []
    used = wide
    for entry in entries:
        sign = _sign_wide(entry.sign) + _AFTER_SIGN
        lines = wrap(entry.told, DRAWN, wide - sign)
        needed = sign + max(fonts.width(line, DRAWN.face, DRAWN.size) for line in lines)
        if not rows or used + _BETWEEN_ENTRIES + needed > wide:
            rows.append([])
            used = -_BETWEEN_ENTRIES
        rows[-1].append((entry, lines))
        used += _BETWEEN_ENTRIES + needed
    return rows


def _sign_wide(sign: KeySign) -> float:
    if sign == "words":
        return -_AFTER_SIGN
    if sign in ("good", "eye", "failed", "open"):
        return MARK
    if sign == "edge":
        return EDGE
    return 6.0 * MM if sign == "method" else _BOX[0]


def _key_sign(sheet: Sheet, x: float, y: float, sign: KeySign) -> None:
    """A sign of the key, its middle at height y."""
    wide, high = _BOX
    box = (x, y - high / 2, wide, high)
    if sign == "good" or sign == "eye" or sign == "failed" or sign == "open":
        lift_sign(sheet, x + MARK / 2, y, sign)
    elif sign == "bar good" or sign == "bar failed" or sign == "bar open":
        bar(sheet, box, sign)
    elif sign == "odd batch" or sign == "even batch":
        ground(sheet, box, "plain", tint=sign == "odd batch")
    elif sign == "again":
        sheet.rect(x, y - high / 2, wide, high, fill=WHITE, stroke=BLACK, thick=1.4)
    elif sign == "method":
        sheet.line(x, y, x + _sign_wide(sign), y, METHOD_THICK)
    elif sign == "combing level" or sign == "combing upright":
        combing(sheet, x, y - COMBING[1] / 2, level=sign == "combing level")
    elif sign == "edge":
        edge_sign(sheet, x, y, (1, 0))
    elif sign == "words":
        return
    else:
        ground(sheet, box, sign, dense=1.0 if sign == "suspect" else 1.6)
