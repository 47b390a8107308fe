"""Sheets of a printed form: a cursor that walks down the page, boxes, tables whose head returns on each page.

Everything is first laid out as plain drawing steps, page by page, and drawn once the number of pages is known.
Lengths are points; y counts downwards from the top edge, as one reads.
"""

from __future__ import annotations

import io
import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from itertools import groupby
from typing import Any, Literal

from reportlab.lib.rl_accel import escapePDF
from reportlab.lib.utils import ImageReader
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfgen.canvas import Canvas

from fieldassist.report import fonts
from fieldassist.report.fonts import BODY, BOLD, MONO

Colour = tuple[float, float, float]
INK: Colour = (0.09, 0.09, 0.10)
GREY: Colour = (0.38, 0.38, 0.40)
RULE: Colour = (0.72, 0.72, 0.73)
PALE: Colour = (0.945, 0.945, 0.94)
WHITE: Colour = (1.0, 1.0, 1.0)
BLACK: Colour = (0.0, 0.0, 0.0)
# The one accent says "look here"; it never stands without a word and a shape.
ACCENT: Colour = (0.62, 0.17, 0.07)

SIDE = 42.0
TOP = 58.0
BOTTOM = 58.0

SheetMark = Literal["", "pass", "fail", "open", "struck", "witnessed", "counted", "set again"]
_MARK_INSET = 9.5


@dataclass(frozen=True, slots=True)
class Style:
    """How a piece of text is set."""

    face: str = BODY
    size: float = 8.4
    leading: float = 10.6
    colour: Colour = INK


TEXT = Style()
STRONG = Style(BOLD)
SMALL = Style(BODY, 7.2, 9.2, GREY)
CELL = Style(BODY, 7.6, 9.4)
CELL_STRONG = Style(BOLD, 7.6, 9.4)
CELL_GREY = Style(BODY, 7.6, 9.4, GREY)
CELL_ALARM = Style(BOLD, 7.6, 9.4, ACCENT)
LABEL = Style(BODY, 6.3, 8.0, GREY)
NUMBER = Style(MONO, 6.6, 9.4, GREY)
HEAD = Style(BOLD, 6.6, 8.4, GREY)
SECTION = Style(BOLD, 10.2, 13.0)


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell of a table: its text, a second text under it, a mark before it, whether it is struck through.

    spill: how many columns to the right `below` may use too; it is then set under the whole row. run_on: the text
    itself may use them, where those columns are empty.
    """

    text: str = ""
    style: Style = CELL
    below: str = ""
    mark: SheetMark = ""
    strike: bool = False
    spill: int = 0
    run_on: bool = False


@dataclass(frozen=True, slots=True)
class Column:
    """A table's column. share: its part of the width left by columns with a fixed width."""

    head: str
    width: float = 0.0
    share: float = 0.0
    right: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """Cells in the order of the columns; a `band` is one text across all columns that stays with the next row."""

    cells: tuple[Cell, ...] = ()
    band: str = ""
    band_note: str = ""
    strike: bool = False


@dataclass(frozen=True, slots=True)
class Box:
    """One box of a form: a small label, a value, and how many of the form's columns it takes."""

    label: str
    text: str
    span: int = 1
    style: Style = TEXT
    mark: SheetMark = ""


@dataclass(frozen=True, slots=True)
class Entry:
    """A line of the list of contents: where it leads, and what stands beside its title."""

    title: str
    key: str
    note: str = ""
    mark: SheetMark = ""
    level: int = 0


@dataclass
class _Laid:
    """A row's lines, cell by cell, the lines under it from column `start` on, and its height."""

    cells: list[list[tuple[str, Style]]]
    spilled: list[tuple[str, Style]]
    start: int
    high: float


@dataclass
class SheetPage:
    """One page: its drawing steps, what stands in its head and foot, and whether it lies on the grid (`report.grid`),
    where the foot is painted last."""

    steps: list[tuple[Any, ...]] = field(default_factory=list)
    running: str = ""
    foot: str = ""
    on_grid: bool = False


# A line may break at a space, but not between a number and what it counts.
_MAY_BREAK = re.compile(r"(?<![\d½]) | (?!(?:%|°|mm|cm|m|µm|in|ft|mi|s|min|h|g|kg|lb|oz|L|mL|fl|qt|gal)[²³]?(?:\W|$))")


def wrap(text: str, style: Style, room: float) -> list[str]:
    """Lines of at most `room` points; a word that is wider by itself is broken. Always at least one line.

    A number and its unit stay on one line.
    """
    text = fonts.printable(text, style.face)
    face, size = style.face, style.size
    if fonts.width(text, face, size) <= room:
        return [text]
    lines: list[str] = []
    line, used = "", 0.0
    space = fonts.width(" ", face, size)
    for word in _MAY_BREAK.split(text):
        wide = fonts.width(word, face, size)
        if line and used + space + wide <= room:
            line, used = f"{line} {word}", used + space + wide
            continue
        if line:
            lines.append(line)
        while wide > room and len(word) > 1:
            cut = _cut(word, face, size, room)
            lines.append(word[:cut])
            word = word[cut:]
            wide = fonts.width(word, face, size)
        line, used = word, wide
    lines.append(line)
    return lines


def _cut(word: str, face: str, size: float, room: float) -> int:
    used = 0.0
    for at, letter in enumerate(word):
        used += fonts.width(letter, face, size)
        if used > room:
            return max(1, at)
    return len(word)


class Sheet:
    """Pages under construction."""

    def __init__(self, size: tuple[float, float], tick: Callable[[], None] = lambda: None) -> None:
        fonts.register()
        self.page_width, self.page_height = size
        self.left, self.right = SIDE, size[0] - SIDE
        self.width = self.right - self.left
        self.bottom = size[1] - BOTTOM
        self.pages: list[SheetPage] = []
        self.running = ""
        self.foot = ""
        self.tick = tick
        self.lost_letters = False
        self.places: dict[str, int] = {}
        self.y = 0.0
        self.new_page(top=40.0)

    # --- the page -------------------------------------------------------------------------------------------------

    @property
    def room(self) -> float:
        """Points left on this page."""
        return self.bottom - self.y

    @property
    def full_room(self) -> float:
        """Points on an empty page."""
        return self.bottom - TOP

    def new_page(self, top: float = TOP) -> None:
        """Go on at the top of a fresh page."""
        self.pages.append(SheetPage(running=self.running, foot=self.foot))
        self.y = top

    def grid_page(self) -> None:
        """Go on with a page on the grid; what comes after it in the usual form begins a page of its own."""
        if self.pages[-1].steps:
            self.new_page()
        self.pages[-1].on_grid = True
        self.y = self.bottom

    def need(self, height: float) -> bool:
        """Make sure that `height` points are left; True when that took a new page."""
        if self.room >= height or self.y <= TOP:
            return False
        self.new_page()
        return True

    def space(self, height: float) -> None:
        """Leave some white, unless the page has just begun."""
        if self.y > TOP:
            self.y += height

    def _put(self, *step: Any) -> None:
        self.pages[-1].steps.append(step)

    # --- drawing steps --------------------------------------------------------------------------------------------

    def text(
        self,
        x: float,
        y: float,
        text: str,
        style: Style = TEXT,
        *,
        align: Literal["left", "right", "centre"] = "left",
        strike: bool = False,
    ) -> float:
        """Set one line with its baseline at `y`; gives its width."""
        text = fonts.printable(text, style.face)
        if fonts.NOT_IN_TYPEFACE in text:
            self.lost_letters = True
        if not text:
            return 0.0
        wide = fonts.width(text, style.face, style.size)
        if align != "left":
            x -= wide if align == "right" else wide / 2
        at = x
        for face, part in fonts.runs(text, style.face):
            self._put("text", at, y, face, style.size, style.colour, part)
            at += fonts.width(part, face, style.size)
        if strike:
            at = y - style.size * 0.29
            self._put("line", x - 0.6, at, x + wide + 0.6, at, 0.7, style.colour)
        return wide

    def line(self, x1: float, y1: float, x2: float, y2: float, thick: float = 0.4, colour: Colour = RULE) -> None:
        """A rule."""
        self._put("line", x1, y1, x2, y2, thick, colour)

    def rect(
        self,
        x: float,
        y: float,
        wide: float,
        high: float,
        *,
        fill: Colour | None = None,
        stroke: Colour | None = None,
        thick: float = 0.5,
        dash: bool = False,
    ) -> None:
        """A rectangle by its upper left corner."""
        self._put("rect", x, y, wide, high, fill, stroke, thick, dash)

    def mark(self, x: float, y: float, mark: SheetMark, r: float = 2.6) -> None:
        """A shape around its centre. Of verdicts: a disc passes, a diamond with a cross fails, a ring is open. Of
        tiles: a full square was witnessed, a hatched one counted, one with a dot in it set again after its lift."""
        if mark == "pass":
            self._put("disc", x, y, r, INK, INK)
        elif mark == "open":
            self.ring(x, y, r, 1.1)
        elif mark == "struck":
            self._put("disc", x, y, r, WHITE, GREY)
            self.line(x - r * 1.5, y, x + r * 1.5, y, 0.7, GREY)
        elif mark == "fail":
            k = r * 1.45
            self._put("shape", ((x, y - k), (x + k, y), (x, y + k), (x - k, y)), ACCENT, ACCENT)
            c = r * 0.5
            self.line(x - c, y - c, x + c, y + c, max(0.6, r * 0.24), WHITE)
            self.line(x - c, y + c, x + c, y - c, max(0.6, r * 0.24), WHITE)

        elif mark in ("witnessed", "counted", "set again"):
            self._square(x, y, r, mark)

    def _square(self, x: float, y: float, r: float, mark: SheetMark) -> None:
        self.rect(x - r, y - r, 2 * r, 2 * r, fill=INK if mark == "witnessed" else WHITE, stroke=INK, thick=0.7)
        if mark == "counted":
            self.line(x - r, y, x, y - r, 0.6, INK)
            self.line(x - r, y + r, x + r, y - r, 0.6, INK)
            self.line(x, y + r, x + r, y, 0.6, INK)
        elif mark == "set again":
            self._put("disc", x, y, r * 0.45, INK, INK)

    def disc(self, x: float, y: float, r: float, fill: Colour = INK) -> None:
        """A filled circle around its centre."""
        self._put("disc", x, y, r, fill, fill)

    def shape(
        self, points: Sequence[tuple[float, float]], fill: Colour, stroke: Colour = INK, thick: float = 0.5
    ) -> None:
        """A filled polygon."""
        self._put("shape", points, fill, stroke, thick)

    def squares(self, x: float, y: float, side: float, rows: Sequence[Sequence[bool]]) -> None:
        """Rows of little squares, from above; True is dark."""
        self._put("squares", x, y, side, rows)

    def ring(self, x: float, y: float, r: float, thick: float = 0.6, colour: Colour = INK) -> None:
        """A circle around its centre."""
        self._put("disc", x, y, r, WHITE, colour, thick)

    def ink(self, strokes: Sequence[Sequence[tuple[float, float]]], thick: float = 1.1) -> None:
        """Lines as a finger drew them; a stroke of one point is a dot."""
        self._put("ink", strokes, thick, INK)

    def picture(self, x: float, y: float, wide: float, high: float, jpeg: bytes) -> None:
        """A JPEG picture by its upper left corner."""
        self._put("picture", x, y, wide, high, jpeg)

    def bookmark(
        self, title: str, level: int = 0, key: str = "", above: float = 0.0, *, at: float | None = None
    ) -> None:
        """An entry of the outline that leads to where the cursor stands, or so far above it; or to the height `at`.

        key: lets the contents lead there too.
        """
        if key:
            self.places[key] = len(self.pages)
        self._put("bookmark", title, level, (self.y if at is None else at) - above, key)

    def contents(self, entries: Iterable[Entry]) -> None:
        """The list of contents, in two columns where it is long; page numbers are set when all pages are known."""
        entries = list(entries)
        columns = 1 if len(entries) <= 14 else 2
        gap = 18.0
        wide = (self.width - gap * (columns - 1)) / columns
        high = 11.6
        at = 0
        while at < len(entries):
            self.need(high * min(len(entries) - at, 4) + 4)
            rows = max(1, int((self.room - 4) / high))
            rows = min(rows, -(-(len(entries) - at) // columns))
            top = self.y
            for column in range(columns):
                for row, entry in enumerate(entries[at : at + rows]):
                    self._entry(entry, self.left + column * (wide + gap), top + row * high, wide, high)
                at += rows
            self.y = top + rows * high + 4
            if at < len(entries):
                self.new_page()

    def _entry(self, entry: Entry, x: float, y: float, wide: float, high: float) -> None:
        base = y + 8.6
        style = CELL if entry.level else CELL_STRONG
        left = x + 9 * entry.level
        note_wide = fonts.width(entry.note, SMALL.face, SMALL.size) + (16 if entry.mark else 6) if entry.note else 0.0
        room = x + wide - 24 - note_wide - left
        lines = wrap(entry.title, style, room)
        after = left + self.text(left, base, lines[0] if len(lines) == 1 else f"{lines[0]} …", style)
        right = x + wide - 22
        if entry.note:
            self.text(right, base, entry.note, SMALL, align="right")
            if entry.mark:
                self.mark(right - note_wide + 9, base - 2.4, entry.mark, 2.0)
        self._put("page number", x + wide, base, CELL_STRONG, entry.key)
        if right - note_wide - after > 8:
            self._put("line", after + 4, base, right - note_wide - 2, base, 0.3, RULE)
        self._put("link", x, y, wide, high, entry.key, entry.title)

    # --- blocks ---------------------------------------------------------------------------------------------------

    def heading(self, title: str, follows: float = 40.0, note: str = "") -> None:
        """A section's title, never left alone at the foot of a page: `follows` points must fit below it."""
        self.space(13)
        notes = wrap(note, SMALL, self.width) if note else []
        self.need(SECTION.leading + 5 + len(notes) * SMALL.leading + follows)
        self.y += SECTION.size + 1
        self.text(self.left, self.y, title, SECTION)
        self.y += 4.5
        for line in notes:
            self.y += SMALL.leading - 1.5
            self.text(self.left, self.y, line, SMALL)
            self.y += 1.5
        self.y += 3 if notes else 1.5

    def paragraph(
        self,
        text: str,
        style: Style = TEXT,
        *,
        x: float | None = None,
        wide: float | None = None,
        strike: bool = False,
    ) -> None:
        """Running text that may go over to the next page."""
        x = self.left if x is None else x
        for line in wrap(text, style, wide if wide is not None else self.right - x):
            self.need(style.leading)
            self.y += style.leading
            self.text(x, self.y - (style.leading - style.size) / 2 - style.size * 0.1, line, style, strike=strike)

    def form(self, boxes: Sequence[Box], columns: int) -> None:
        """Boxes in rows, ruled like a printed form; the last box of a row takes what is left of it."""
        rows: list[list[Box]] = []
        used = columns
        for box in boxes:
            if used + box.span > columns:
                rows.append([])
                used = 0
            rows[-1].append(box)
            used += box.span
        unit = self.width / columns
        for row in rows:
            spans = [b.span for b in row]
            spans[-1] += columns - sum(spans)
            laid = [
                wrap(b.text, b.style, unit * span - 10 - (_MARK_INSET if b.mark else 0))
                for b, span in zip(row, spans, strict=True)
            ]
            most = max(1, int((self.full_room - 20) / TEXT.leading))
            while True:
                high = 14 + max(min(len(lines), most) * b.style.leading for b, lines in zip(row, laid, strict=True))
                self.need(high)
                self._boxes(row, spans, [lines[:most] for lines in laid], unit, high)
                laid = [lines[most:] for lines in laid]
                if not any(laid):
                    break

    def _boxes(
        self, row: Sequence[Box], spans: Sequence[int], laid: Sequence[list[str]], unit: float, high: float
    ) -> None:
        x = self.left
        for box, span, lines in zip(row, spans, laid, strict=True):
            self.rect(x, self.y, unit * span, high, stroke=RULE, thick=0.5)
            self.text(x + 5, self.y + 8.6, box.label, LABEL)
            y = self.y + 10
            inset = 5.0
            if box.mark:
                self.mark(x + 9, y + box.style.leading * 0.55, box.mark)
                inset += _MARK_INSET
            for line in lines:
                y += box.style.leading
                self.text(x + inset, y - box.style.leading + box.style.size + 0.8, line, box.style)
            x += unit * span
        self.y += high

    def table(self, columns: Sequence[Column], rows: Sequence[Row], *, continued: str = "") -> None:
        """A ruled table; its head comes again on each page, with `continued` above it."""
        fixed = sum(c.width for c in columns)
        shares = sum(c.share for c in columns) or 1.0
        widths = [c.width or (self.width - fixed) * c.share / shares for c in columns]
        laid = [self._lay(row, widths) for row in rows]
        self.need(14 + (laid[0].high if laid else 0) + (laid[1].high if len(laid) > 1 and rows[0].band else 0))
        self._table_head(columns, widths, "")
        for at, (row, lines) in enumerate(zip(rows, laid, strict=True)):
            with_next = laid[at + 1].high if row.band and at + 1 < len(laid) else 0.0
            if self.room < min(lines.high + with_next, self.full_room - 40):
                self.new_page()
                self._table_head(columns, widths, continued)
            self._row(columns, widths, row, lines, continued)
            self.tick()

    def _lay(self, row: Row, widths: Sequence[float]) -> _Laid:
        if row.band:
            whole = row.band + (f"   {row.band_note}" if row.band_note else "")
            band = [(line, CELL_STRONG) for line in wrap(whole, CELL_STRONG, self.width - 8)]
            return _Laid([band], [], 0, 5 + len(band) * CELL_STRONG.leading)
        cells: list[list[tuple[str, Style]]] = []
        spilled: list[tuple[str, Style]] = []
        start, high = 0, 0.0
        for at, (cell, wide) in enumerate(zip(row.cells, widths, strict=True)):
            inner = wide - 6 - (_MARK_INSET if cell.mark else 0)
            if cell.run_on:
                free = 0
                while free < cell.spill and not row.cells[at + free + 1].text:
                    free += 1
                inner += sum(widths[at + 1 : at + free + 1])
            lines = [(t, cell.style) for t in wrap(cell.text, cell.style, inner)] if cell.text else []
            if cell.below and cell.spill:
                room = sum(widths[at : at + cell.spill + 1]) - 6
                spilled, start = [(t, SMALL) for t in wrap(cell.below, SMALL, room)], at
            elif cell.below:
                lines += [(t, SMALL) for t in wrap(cell.below, SMALL, inner)]
            cells.append(lines)
            high = max(high, sum(style.leading for _, style in lines))
        return _Laid(cells, spilled, start, high + len(spilled) * SMALL.leading + 4.6)

    def _table_head(self, columns: Sequence[Column], widths: Sequence[float], continued: str) -> None:
        if continued:
            self.text(self.left, self.y + 8, f"{continued}, continued", LABEL)
            self.y += 11
        x = self.left
        for column, wide in zip(columns, widths, strict=True):
            if column.right:
                self.text(x + wide - 3, self.y + 9, column.head, HEAD, align="right")
            else:
                self.text(x + 3, self.y + 9, column.head, HEAD)
            x += wide
        self.y += 12.5
        self.line(self.left, self.y, self.right, self.y, 0.9, INK)

    def _row(self, columns: Sequence[Column], widths: Sequence[float], row: Row, laid: _Laid, continued: str) -> None:
        if row.band:
            self._band(row, [text for text, _ in laid.cells[0]], laid.high)
            return
        for cell, x in zip(row.cells, self._edges(widths), strict=True):
            if cell.mark:
                self.mark(x + 6.5, self.y + 7.2, cell.mark, 2.2)
        # A row that is taller than a page goes on under the next head, line by line.
        while True:
            self._row_part(columns, widths, row, laid)
            if not any(laid.cells) and not laid.spilled:
                break
            self.new_page()
            self._table_head(columns, widths, continued)
        self.line(self.left, self.y, self.right, self.y, 0.3, RULE)

    def _edges(self, widths: Sequence[float]) -> list[float]:
        return [self.left + sum(widths[:at]) for at in range(len(widths))]

    def _row_part(self, columns: Sequence[Column], widths: Sequence[float], row: Row, laid: _Laid) -> None:
        """As many lines of a row as this page holds, at least one."""
        least = self.y + 14
        deepest = self.y + 2.3
        edges = self._edges(widths)
        for column, wide, cell, x, lines in zip(columns, widths, row.cells, edges, laid.cells, strict=True):
            y = self.y + 2.3
            while lines and y + lines[0][1].leading <= max(self.bottom - 2.3, least):
                text, style = lines.pop(0)
                y += style.leading
                base = y - style.leading * 0.25
                struck = (row.strike or cell.strike) and style is not SMALL
                if column.right:
                    self.text(x + wide - 3, base, text, style, align="right", strike=struck)
                else:
                    self.text(x + 3 + (_MARK_INSET if cell.mark else 0), base, text, style, strike=struck)
            deepest = max(deepest, y)
        if not any(laid.cells):
            while laid.spilled and deepest + SMALL.leading <= max(self.bottom - 2.3, least):
                text, style = laid.spilled.pop(0)
                deepest += style.leading
                self.text(edges[laid.start] + 3, deepest - style.leading * 0.25, text, style)
        self.y = deepest + 2.3

    def _band(self, row: Row, lines: Sequence[str], high: float) -> None:
        self.rect(self.left, self.y + 0.4, self.width, high - 0.4, fill=PALE)
        y = self.y + 2.5
        for line in lines:
            y += CELL_STRONG.leading
            base = y - CELL_STRONG.leading * 0.25
            if row.band_note and len(lines) == 1:
                wide = self.text(self.left + 4, base, row.band, CELL_STRONG, strike=row.strike)
                self.text(self.left + 4 + wide + 8, base, row.band_note, SMALL)
            else:
                self.text(self.left + 4, base, line, CELL_STRONG, strike=row.strike)
        self.y += high
        self.line(self.left, self.y, self.right, self.y, 0.3, RULE)

    # --- onto paper -----------------------------------------------------------------------------------------------

    def draw(
        self, canvas: Canvas, frame: Callable[[Pen, int, int, SheetPage], None], done: Callable[[int, int], None]
    ) -> None:
        """Draw every page. frame(pen, number, pages, page) draws its head and foot; done(number, pages) hears."""
        total = len(self.pages)
        bookmarks = 0
        letters = Letters(canvas)
        for number, page in enumerate(self.pages, start=1):
            pen = Pen(canvas, self.page_height, letters)
            if not page.on_grid:
                frame(pen, number, total, page)
            for name, *step in page.steps:
                if name == "bookmark":
                    title, level, y, key = step
                    bookmarks += 1
                    key = key or f"b{bookmarks}"
                    canvas.bookmarkHorizontal(key, 0, self.page_height - y + 6)
                    canvas.addOutlineEntry(fonts.printable(title, BODY), key, level=level, closed=level > 0)
                elif name == "page number":
                    x, y, style, key = step
                    text = str(self.places[key])
                    x -= fonts.width(text, style.face, style.size)
                    pen.text(x, y, style.face, style.size, style.colour, text)
                else:
                    _DRAW[name](pen, *step)
            if page.on_grid:
                frame(pen, number, total, page)
            canvas.showPage()
            done(number, total)


# The colour of what is filled, letters too (ISO 32000-1, 8.6.8). The canvas need not know: nothing asks it.
_FILLED = "{:.3f} {:.3f} {:.3f} rg"


class Letters:
    """Texts as a page's content shows them (ISO 32000-1, 9.4.3), each coded once a document.

    The library's own text objects code every text anew and measure it besides, which is most of what a page costs.
    """

    def __init__(self, canvas: Canvas) -> None:
        self._document = canvas._doc
        self._coded: dict[tuple[str, str], tuple[tuple[str, str], ...]] = {}

    def coded(self, face: str, text: str) -> tuple[tuple[str, str], ...]:
        """The parts of a text by subset of its typeface: the subset's name in the document, and what shows the part."""
        known = self._coded.get((face, text))
        if known is None:
            font = pdfmetrics.getFont(face)
            known = self._coded[face, text] = tuple(
                (font.getSubsetInternalName(subset, self._document), f"({escapePDF(part)}) Tj")
                for subset, part in font.splitString(text, self._document)
            )
        return known


class Pen:
    """Draws one page; y counts from the top. It changes colour, width and typeface only where they differ."""

    def __init__(self, canvas: Canvas, height: float, letters: Letters) -> None:
        self.canvas = canvas
        self.height = height
        self._fill: Colour | None = None
        self._stroke: Colour | None = None
        self._thick = 0.0
        self._letters = letters
        self._font: tuple[str, float] | None = None

    def _set(self, fill: Colour | None, stroke: Colour | None = None, thick: float = 0.0) -> None:
        if fill is not None and fill != self._fill:
            self.canvas.addLiteral(_FILLED.format(*fill))
            self._fill = fill
        if stroke is not None:
            if stroke != self._stroke:
                self.canvas.setStrokeColorRGB(*stroke)
                self._stroke = stroke
            if thick != self._thick:
                self.canvas.setLineWidth(thick)
                self._thick = thick

    def text(self, x: float, y: float, face: str, size: float, colour: Colour, text: str) -> None:
        """One line of text, its baseline at y."""
        self._set(colour)
        content = [f"BT 1 0 0 1 {x:.2f} {self.height - y:.2f} Tm"]
        for font, shown in self._letters.coded(face, text):
            if (font, size) != self._font:
                content.append(f"{font} {size:g} Tf {size:g} TL")
                self._font = (font, size)
            content.append(shown)
        # T*, to the next line: else readers that take the words out run two texts of one height together.
        content.append("T* ET")
        self.canvas.addLiteral(" ".join(content))

    def put(self, x: float, y: float, text: str, style: Style) -> float:
        """One line of text in its style, its baseline at y, with what its typeface lacks; gives its width."""
        text = fonts.printable(text, style.face)
        for face, part in fonts.runs(text, style.face):
            self.text(x, y, face, style.size, style.colour, part)
            x += fonts.width(part, face, style.size)
        return fonts.width(text, style.face, style.size)

    def line(self, x1: float, y1: float, x2: float, y2: float, thick: float, colour: Colour) -> None:
        """A rule."""
        self._set(None, colour, thick)
        self.canvas.line(x1, self.height - y1, x2, self.height - y2)

    def rect(
        self,
        x: float,
        y: float,
        wide: float,
        high: float,
        fill: Colour | None,
        stroke: Colour | None,
        thick: float,
        dash: bool,
    ) -> None:
        """A rectangle by its upper left corner."""
        self._set(fill, stroke, thick)
        if dash:
            self.canvas.setDash(1.6, 1.4)
        below = self.height - y - high
        self.canvas.rect(x, below, wide, high, stroke=int(stroke is not None), fill=int(fill is not None))
        if dash:
            self.canvas.setDash()

    def disc(self, x: float, y: float, r: float, fill: Colour, stroke: Colour, thick: float = 0.7) -> None:
        """A filled circle around its centre."""
        self._set(fill, stroke, thick)
        self.canvas.circle(x, self.height - y, r, stroke=1, fill=1)

    def shape(self, points: Sequence[tuple[float, float]], fill: Colour, stroke: Colour, thick: float = 0.5) -> None:
        """A filled polygon."""
        path = self.canvas.beginPath()
        path.moveTo(points[0][0], self.height - points[0][1])
        for x, y in points[1:]:
            path.lineTo(x, self.height - y)
        path.close()
        self._set(fill, stroke, thick)
        self.canvas.drawPath(path, stroke=1, fill=1)

    def squares(self, x: float, y: float, side: float, rows: Sequence[Sequence[bool]]) -> None:
        """Little squares by their upper left corner; neighbours in a row are one rectangle, so that no seam shows."""
        path = self.canvas.beginPath()
        for at, row in enumerate(rows):
            column = 0
            for dark, run in groupby(row):
                long = len(list(run))
                if dark:
                    path.rect(x + column * side, self.height - y - (at + 1) * side, long * side, side)
                column += long
        self._set(BLACK)
        self.canvas.drawPath(path, stroke=0, fill=1)

    def ink(self, strokes: Sequence[Sequence[tuple[float, float]]], thick: float, colour: Colour) -> None:
        """Lines with round ends."""
        self._set(None, colour, thick)
        self.canvas.setLineCap(1)
        self.canvas.setLineJoin(1)
        for stroke in strokes:
            path = self.canvas.beginPath()
            path.moveTo(stroke[0][0], self.height - stroke[0][1])
            # A path of no length, drawn with round ends, is a dot (ISO 32000-1, 8.5.3.2).
            for x, y in stroke[1:] or stroke[:1]:
                path.lineTo(x, self.height - y)
            self.canvas.drawPath(path, stroke=1, fill=0)
        self.canvas.setLineCap(0)
        self.canvas.setLineJoin(0)

    def picture(self, x: float, y: float, wide: float, high: float, jpeg: bytes) -> None:
        """A JPEG picture by its upper left corner."""
        self.canvas.drawImage(ImageReader(io.BytesIO(jpeg)), x, self.height - y - high, wide, high)

    def link(self, x: float, y: float, wide: float, high: float, key: str, title: str) -> None:
        """A rectangle that leads to the bookmark `key`; printed as nothing (ISO 19005-3, 6.3.2: flag Print is set)."""
        below = self.height - y - high
        self.canvas.linkRect(title, key, (x, below, x + wide, below + high), relative=0, F=4)


_DRAW: dict[str, Callable[..., None]] = {
    "text": Pen.text,
    "line": Pen.line,
    "rect": Pen.rect,
    "disc": Pen.disc,
    "shape": Pen.shape,
    "squares": Pen.squares,
    "ink": Pen.ink,
    "picture": Pen.picture,
    "link": Pen.link,
}
