"""The grid of printed pages: one measure on both papers, sizes of type, tones, and blocks of text that stand on it.

The measure is 174 mm on A4 and on US Letter, so a line breaks alike on both; only the depth differs. Sizes of type and
tones are fixed: nothing inside a drawing is smaller than 8 points, and no tone speaks without a word.
Lengths are points unless a name says mm; y counts downwards.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from reportlab.lib.pagesizes import A4, LETTER

from fieldassist.report import fonts
from fieldassist.report.sheet import BLACK, Colour, Pen, Sheet, Style, wrap

MM = 72 / 25.4
MEASURE = 174 * MM

# Contrast on white paper, computed: 21, 8.9, 4.8, 3.4 and 7.6 to 1.
SECOND: Colour = (0.29, 0.29, 0.29)
BAR: Colour = (0.45, 0.45, 0.45)
MORTAR: Colour = (0.55, 0.55, 0.55)
TINT: Colour = (0.925, 0.925, 0.925)
HAIR: Colour = (0.6, 0.6, 0.6)
OPEN_TODAY: Colour = (0.66, 0.07, 0.05)

TITLE = Style(fonts.HEAVY, 20, 24, BLACK)
PAGE_TITLE = Style(fonts.HEAVY, 18, 22, BLACK)
VERDICT = Style(fonts.HEAVY, 14.5, 17.6, BLACK)
HEADING = Style(fonts.HEAVY, 11.5, 14, BLACK)
FIGURE = Style(fonts.HEAVY, 10.5, 12.6, BLACK)
FLOW = Style(fonts.REGULAR, 9, 11.1, BLACK)
FLOW_STRONG = Style(fonts.HEAVY, 9, 11.1, BLACK)
FLOW_SECOND = Style(fonts.REGULAR, 9, 11.1, SECOND)
CAPTION = Style(fonts.REGULAR, 8.5, 10.6, SECOND)
CAPTION_ITALIC = Style(fonts.ITALIC, 8.5, 10.6, SECOND)
CAPTION_STRONG = Style(fonts.HEAVY, 8.5, 10.6, BLACK)
COLUMN_HEAD = Style(fonts.SEMIBOLD, 8.5, 10.2, SECOND)
DRAWN = Style(fonts.REGULAR, 8.2, 9.8, BLACK)
DRAWN_STRONG = Style(fonts.SEMIBOLD, 8.2, 9.8, BLACK)
FOOT = Style(fonts.REGULAR, 8, 10, SECOND)
FOOT_STRONG = Style(fonts.HEAVY, 8, 10, BLACK)


@dataclass(frozen=True, slots=True)
class PaperSize:
    """A paper with its margins: at each side, above and below."""

    size: tuple[float, float]
    side: float
    top: float
    foot: float

    @property
    def bottom(self) -> float:
        """Where the room for what stands on a page ends."""
        return self.size[1] - self.foot


_A4 = PaperSize(A4, 18 * MM, 13 * MM, 15 * MM)
_LETTER = PaperSize(LETTER, (LETTER[0] - MEASURE) / 2, 11 * MM, 13 * MM)


def paper_of(sheet: Sheet) -> PaperSize:
    """The paper that a sheet is laid out for."""
    return _A4 if (sheet.page_width, sheet.page_height) == A4 else _LETTER


@dataclass(frozen=True, slots=True)
class GridSpan:
    """A column of the grid: where it begins, and how wide it is."""

    x: float
    wide: float

    @property
    def end(self) -> float:
        """Where it ends."""
        return self.x + self.wide

    def parts(self, count: int, gap: float) -> tuple[GridSpan, ...]:
        """The span in equal columns with a gap between two: halves with 6 mm, thirds with 4 mm."""
        each = (self.wide - gap * (count - 1)) / count
        return tuple(GridSpan(self.x + at * (each + gap), each) for at in range(count))


class Leaf:
    """One page on the grid, filled from above. y: where what follows begins; bottom: where the page's room ends."""

    def __init__(self, sheet: Sheet) -> None:
        sheet.grid_page()
        self.sheet = sheet
        self.paper = paper_of(sheet)
        self.whole = GridSpan(self.paper.side, MEASURE)
        self.y = self.paper.top
        self.bottom = self.paper.bottom

    @property
    def room(self) -> float:
        """Points left."""
        return self.bottom - self.y

    def flow(self, text: str, style: Style, span: GridSpan | None = None, *, right: bool = False) -> None:
        """Set a text in lines, from where the cursor stands."""
        span = span or self.whole
        for line in wrap(text, style, span.wide) if text else ():
            self.y += style.leading
            at = span.end if right else span.x
            self.sheet.text(at, self.y - _drop(style), line, style, align="right" if right else "left")

    def rule(self, thick: float, span: GridSpan | None = None, colour: Colour = BLACK) -> None:
        """A rule where the cursor stands."""
        span = span or self.whole
        self.sheet.line(span.x, self.y, span.end, self.y, thick, colour)

    def heading(self, title: str, span: GridSpan | None = None) -> None:
        """A heading with its rule below."""
        self.flow(title, HEADING, span)
        self.y += 1.5
        self.rule(0.9, span)
        self.y += 1.5

    def block(self, title: str, paragraphs: Sequence[str], span: GridSpan | None = None) -> None:
        """A heading and what stands under it."""
        self.heading(title, span)
        for text in paragraphs:
            self.flow(text, FLOW, span)


@dataclass(frozen=True, slots=True)
class GridColumn:
    """A column of a table on the grid: its head, and how wide it is [mm]."""

    head: str
    wide_mm: float


@dataclass(frozen=True, slots=True)
class GridRow:
    """Cells in the order of the columns, each with its lines' style; struck: what it holds counts for nothing; below:
    what stands under the whole row, behind its first column."""

    cells: tuple[tuple[str, Style], ...]
    struck: bool = False
    below: str = ""


def grid_table(leaf: Leaf, columns: Sequence[GridColumn], rows: Sequence[GridRow], again: Callable[[], Leaf]) -> Leaf:
    """A table; its head comes again on each page. again: begins the next page; gives the page on which it ends."""
    spans, x = [], leaf.whole.x
    for column in columns:
        spans.append(GridSpan(x, column.wide_mm * MM - 2 * MM))
        x += column.wide_mm * MM
    _table_head(leaf, columns, spans)
    under = GridSpan(spans[1].x, leaf.whole.end - spans[1].x)
    for row in rows:
        laid = [
            wrap(text, style, span.wide) if text else [] for (text, style), span in zip(row.cells, spans, strict=True)
        ]
        below = wrap(row.below, CAPTION_ITALIC, under.wide) if row.below else []
        high = max(len(lines) * style.leading for lines, (_, style) in zip(laid, row.cells, strict=True))
        if leaf.room < high + len(below) * CAPTION_ITALIC.leading + 3.6:
            leaf = again()
            _table_head(leaf, columns, spans)
        leaf.y += 1.2
        top = leaf.y
        for lines, (_, style), span in zip(laid, row.cells, spans, strict=True):
            for at, line in enumerate(lines, start=1):
                leaf.sheet.text(span.x, top + at * style.leading - _drop(style), line, style, strike=row.struck)
        leaf.y = top + high
        for line in below:
            leaf.flow(line, CAPTION_ITALIC, under)
        leaf.y += 2.4
        leaf.rule(0.3, colour=HAIR)
        leaf.sheet.tick()
    return leaf


def _table_head(leaf: Leaf, columns: Sequence[GridColumn], spans: Sequence[GridSpan]) -> None:
    for column, span in zip(columns, spans, strict=True):
        leaf.sheet.text(span.x, leaf.y + COLUMN_HEAD.leading - _drop(COLUMN_HEAD), column.head, COLUMN_HEAD)
    leaf.y += COLUMN_HEAD.leading + 2
    leaf.rule(0.9)


def _drop(style: Style) -> float:
    """How far a line's baseline lies above its end."""
    return style.leading - style.size * 0.97


def block_high(title: str, paragraphs: Sequence[str], wide: float) -> float:
    """How high a block of text is set."""
    lines = sum(len(wrap(text, FLOW, wide)) for text in paragraphs if text)
    return len(wrap(title, HEADING, wide)) * HEADING.leading + 3 + lines * FLOW.leading


def in_fours(digits: str) -> str:
    """A fingerprint's or a hash's digits in groups of four.

    >>> in_fours("51c7e0aa93")
    '51c7 e0aa 93'
    """
    bare = "".join(digits.split())
    return " ".join(bare[at : at + 4] for at in range(0, len(bare), 4))


def key_cells(sheet: Sheet, x: float, y: float, digits: str, style: Style) -> float:
    """Digits to be compared with others: each in a cell of the same width, in groups of four; gives the width used."""
    cell = max(fonts.width(digit, style.face, style.size) for digit in "0123456789abcdef") + 0.6
    at = x
    for group in in_fours(digits).split():
        for digit in group:
            sheet.text(at + cell / 2, y, digit, style, align="centre")
            at += cell
        at += cell * 0.7
    return at - x


def grid_foot(pen: Pen, sheet: Sheet, said: str, page: str, *, red: bool = False) -> None:
    """The foot of a page on the grid. said: who answers, and for what; red: something about it is open today."""
    paper = paper_of(sheet)
    left, right, y = paper.side, paper.side + MEASURE, paper.bottom + 3 * MM
    pen.line(left, y, right, y, 0.4, HAIR)
    wide = fonts.width(page, FOOT_STRONG.face, FOOT_STRONG.size)
    style = replace(FOOT_STRONG, colour=OPEN_TODAY) if red else FOOT
    pen.put(left, y + 11, wrap(said, style, MEASURE - wide - 8)[0], style)
    pen.put(right - wide, y + 11, page, FOOT_STRONG)
