"""The grid of printed pages: one measure on both papers, sizes of type, tones, and blocks of text that stand on it.

The measure is 174 mm on A4 and on US Letter, so a line breaks alike on both; only the depth differs. Sizes of type and
tones are fixed: nothing inside a drawing is smaller than 8 points, and no tone speaks without a word.
Lengths are points unless a name says mm; y counts downwards.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, nullcontext
from dataclasses import dataclass, replace
from typing import Literal, TypeAlias

from reportlab.lib.pagesizes import A4, LETTER

from fieldassist.report import fonts
from fieldassist.report.sheet import BLACK, MAY_BREAK, Colour, Pen, Sheet, Style, letters_within, wrap
from fieldassist.report.tags import TextKind

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
RUNNING = Style(fonts.SEMIBOLD, 8.5, 10.6, SECOND)
FOOT = Style(fonts.REGULAR, 8, 10, SECOND)
FOOT_STRONG = Style(fonts.HEAVY, 8, 10, BLACK)


def in_red(style: Style) -> Style:
    """The same for what is open today."""
    return replace(style, colour=OPEN_TODAY)


FLOW_RED = in_red(FLOW_STRONG)


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


# A text as it is set, or pieces of one paragraph, each in its style.
Flowing: TypeAlias = "str | Sequence[tuple[str, Style]]"
_OPEN_AT, _OPEN_WIDE = 3.4 * MM, 1.4 * MM  # the bar beside what is open, left of the measure
# Below the running head, to where a page's own title begins.
_UNDER_HEAD = 8 * MM


def top_of(leaf: Leaf) -> float:
    """Where a page begins that goes on with the running head of this one."""
    return leaf.paper.top + (_UNDER_HEAD if leaf.sheet.running else 0.0)


class Leaf:
    """One page on the grid, filled from above. y: where what follows begins; bottom: where the page's room ends.

    running: what stands at the right of its running head; the first page of a document has none.
    """

    def __init__(self, sheet: Sheet, running: str | None = None) -> None:
        if running is not None:
            sheet.running = running
        sheet.new_page()
        self.sheet = sheet
        self.paper = paper_of(sheet)
        self.whole = GridSpan(self.paper.side, MEASURE)
        self.y = top_of(self)
        self.bottom = self.paper.bottom

    @property
    def room(self) -> float:
        """Points left."""
        return self.bottom - self.y

    @contextmanager
    def _as(self, kind: TextKind) -> Iterator[None]:
        """Within an element of that kind, unless one is open that takes text, or nobody reads it."""
        if self.sheet.decorating or self.sheet.inside.takes_text:
            yield
        else:
            with self.sheet.tagged(kind):
                yield

    def flow(
        self,
        text: Flowing,
        style: Style,
        span: GridSpan | None = None,
        *,
        right: bool = False,
        kind: TextKind = "P",
        strike: bool = False,
        most: int | None = None,
    ) -> None:
        """Set a paragraph in lines, from where the cursor stands.

        text: in one style, or pieces of it in their own, all with the leading of `style`; kind: of the element that it
        makes, where none is open that takes text; most: no more lines than these, dots tell that there is more.
        """
        span = span or self.whole
        lines = flowed(text, style, span.wide)
        if most is not None and len(lines) > most:
            lines = [*lines[: most - 1], _cut_line(lines[most - 1], span.wide)]
        if not lines:
            return
        with self._as(kind):
            for line in lines:
                self.y += style.leading
                wide = sum(fonts.width(part, one.face, one.size) for part, one in line)
                x = span.end - wide if right else span.x
                for part, one in line:
                    bare = part.lstrip(" ")
                    x += fonts.width(part[: len(part) - len(bare)], one.face, one.size)
                    x += self.sheet.text(x, self.y - _drop(style), bare, one, strike=strike)

    def rule(self, thick: float, span: GridSpan | None = None, colour: Colour = BLACK) -> None:
        """A rule where the cursor stands."""
        span = span or self.whole
        self.sheet.line(span.x, self.y, span.end, self.y, thick, colour)

    def mark_open(self, top: float) -> None:
        """A bar beside what is open today, down to the cursor: on a grey print red is the paler black, a bar is not."""
        self.sheet.rect(self.whole.x - _OPEN_AT, top + 1.5, _OPEN_WIDE, self.y - top - 2.5, fill=OPEN_TODAY)

    def heading(self, title: str, span: GridSpan | None = None, note: str = "", level: Literal[2, 3] = 2) -> None:
        """A heading with its rule below; a note in a second voice may stand beside it."""
        pieces: Flowing = [(title, HEADING), (f"   {note}", CAPTION)] if note else title
        self.flow(pieces, HEADING, span, kind="H2" if level == 2 else "H3")
        self.y += 1.5
        self.rule(0.9, span)
        self.y += 1.5

    def block(self, title: str, paragraphs: Sequence[str], span: GridSpan | None = None) -> None:
        """A heading and what stands under it."""
        self.heading(title, span)
        for text in paragraphs:
            self.flow(text, FLOW, span)


def flowed(text: Flowing, style: Style, wide: float) -> list[list[tuple[str, Style]]]:
    """The lines of a paragraph, each of pieces in one style; no line for no text."""
    if isinstance(text, str):
        return [[(line, style)] for line in wrap(text, style, wide)] if text else []
    lines: list[list[tuple[str, Style]]] = []
    line: list[tuple[str, Style]] = []
    used = 0.0
    for piece, one in text:
        lead = piece[: len(piece) - len(piece.lstrip(" "))]
        first = True
        for word in _words(piece):
            gap = (lead if first else " ") if line else ""
            first = False
            needed = fonts.width(gap + word, one.face, one.size)
            if line and used + needed > wide:
                lines.append(line)
                line, used, gap = [], 0.0, ""
            for at, part in enumerate(wrap(word, one, wide)):
                if at:
                    lines.append(line)
                    line, used = [], 0.0
                shown = gap + part if not at else part
                if line and line[-1][1] is one:
                    line[-1] = (line[-1][0] + shown, one)
                else:
                    line.append((shown, one))
                used += fonts.width(shown, one.face, one.size)
    return [*lines, line] if line else lines


def _cut_line(line: list[tuple[str, Style]], wide: float) -> list[tuple[str, Style]]:
    """A line after which more would come: dots tell so."""
    *before, (last, style) = line
    used = sum(fonts.width(part, one.face, one.size) for part, one in before)
    while last and used + fonts.width(f"{last} …", style.face, style.size) > wide:
        last = last[:-1].rstrip()
    return [*before, (f"{last} …", style)]


def _words(piece: str) -> list[str]:
    """Words that may stand on different lines: a number stays with its unit."""
    return [word for word in MAY_BREAK.split(piece.strip()) if word]


def flow_high(text: Flowing, style: Style, wide: float) -> float:
    """How high a paragraph is set."""
    return len(flowed(text, style, wide)) * style.leading


@dataclass(frozen=True, slots=True)
class GridColumn:
    """A column of a table on the grid: its head, in one line or more; how wide it is [mm]; right: its cells end at its
    right edge."""

    head: str
    wide_mm: float
    right: bool = False


@dataclass(frozen=True, slots=True)
class GridRow:
    """Cells in the order of the columns, each with its lines' style; struck: what it holds counts for nothing; below:
    what stands under the whole row, behind its first column; heads: its first cell is the head of the row."""

    cells: tuple[tuple[Flowing, Style], ...]
    struck: bool = False
    below: str = ""
    heads: bool = False


_AIR = 1.2, 2.4  # above and below a row's text
_BETWEEN = 2 * MM


def grid_table(
    leaf: Leaf,
    columns: Sequence[GridColumn],
    rows: Sequence[GridRow],
    again: Callable[[], Leaf],
    span: GridSpan | None = None,
) -> Leaf:
    """A table; its head comes again on each page, and no single row is left behind on one.

    again: begins the next page; span: where it stands on every page. Gives the page on which it ends.
    """
    span = span or leaf.whole
    spans, x = [], span.x
    for column in columns:
        spans.append(GridSpan(x, column.wide_mm * MM - _BETWEEN))
        x += column.wide_mm * MM
    highs = [_row_high(row, spans, span) for row in rows]
    with leaf.sheet.tagged("Table"):
        if rows and leaf.room < table_head_high(columns) + sum(highs[:2]):
            leaf = again()
        _table_head(leaf, columns, spans, span)
        for at, row in enumerate(rows):
            # The last row brings the one before it along.
            needed = highs[at] + (highs[at + 1] if at == len(rows) - 2 else 0.0)
            if at and leaf.room < needed:
                leaf = again()
                with leaf.sheet.decoration():
                    _table_head(leaf, columns, spans, span)
            _table_row(leaf, columns, row, spans, span)
            leaf.sheet.tick()
    return leaf


def _row_high(row: GridRow, spans: Sequence[GridSpan], span: GridSpan) -> float:
    high = max(flow_high(text, style, one.wide) for (text, style), one in zip(row.cells, spans, strict=True))
    below = flow_high(row.below, CAPTION_ITALIC, span.end - spans[1].x) if row.below else 0.0
    return high + below + sum(_AIR)


def _table_row(
    leaf: Leaf, columns: Sequence[GridColumn], row: GridRow, spans: Sequence[GridSpan], span: GridSpan
) -> None:
    leaf.y += _AIR[0]
    top = lowest = leaf.y
    with leaf.sheet.tagged("TR"):
        for at, ((text, style), column, one) in enumerate(zip(row.cells, columns, spans, strict=True)):
            leaf.y = top
            heads = row.heads and not at
            with leaf.sheet.tagged("TH" if heads else "TD", scope="Row" if heads else ""):
                leaf.flow(text, style, one, right=column.right, strike=row.struck)
            lowest = max(lowest, leaf.y)
        leaf.y = lowest
    if row.below:
        with leaf.sheet.tagged("TR"), leaf.sheet.tagged("TD", across=len(columns)):
            leaf.flow(row.below, CAPTION_ITALIC, GridSpan(spans[1].x, span.end - spans[1].x))
    leaf.y += _AIR[1]
    leaf.rule(0.3, span, HAIR)


def table_head_high(columns: Sequence[GridColumn]) -> float:
    """How high a table's head is set."""
    return max(flow_high(c.head, COLUMN_HEAD, c.wide_mm * MM - _BETWEEN) for c in columns) + 2


def _table_head(leaf: Leaf, columns: Sequence[GridColumn], spans: Sequence[GridSpan], span: GridSpan) -> None:
    lowest = leaf.y + table_head_high(columns) - 2
    # A head that decorates only, on a later page, makes no row.
    read = not leaf.sheet.decorating
    with leaf.sheet.tagged("TR") if read else nullcontext():
        for column, one in zip(columns, spans, strict=True):
            leaf.y = lowest - flow_high(column.head, COLUMN_HEAD, one.wide)
            with leaf.sheet.tagged("TH", scope="Column") if read else nullcontext():
                leaf.flow(column.head, COLUMN_HEAD, one, right=column.right)
    leaf.y = lowest + 2
    leaf.rule(0.9, span)


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


def _cell_wide(style: Style) -> float:
    return max(fonts.width(digit, style.face, style.size) for digit in "0123456789abcdef") + 0.6


def key_wide(digits: str, style: Style) -> float:
    """How wide `key_cells` sets them."""
    groups = in_fours(digits).split()
    return _cell_wide(style) * (sum(map(len, groups)) + 0.7 * len(groups))


def key_cells(sheet: Sheet, x: float, y: float, digits: str, style: Style) -> float:
    """Digits to be compared with others: each in a cell of the same width, in groups of four; gives the width used."""
    cell = _cell_wide(style)
    at = x
    for group in in_fours(digits).split():
        for number, digit in enumerate(group):
            sheet.text(at + cell / 2, y, digit, style, align="centre", joined=number > 0)
            at += cell
        at += cell * 0.7
    return at - x


def frame(pen: Pen, sheet: Sheet, head: tuple[str, str], foot: tuple[str, str], *, red: bool = False) -> None:
    """The running head and the foot of a page, each a text at the left and one at the right.

    head: none where the right one is empty; red: something that the foot says is open today.
    """
    paper = paper_of(sheet)
    left, right = paper.side, paper.side + MEASURE
    if head[1]:
        y = paper.top + RUNNING.size
        wide = fonts.width(fonts.printable(head[1], RUNNING.face), RUNNING.face, RUNNING.size)
        pen.put(left, y, cut_to(head[0], RUNNING, MEASURE - min(wide, MEASURE * 0.6) - 8), RUNNING)
        shown = cut_to(head[1], RUNNING, MEASURE * 0.6)
        pen.put(
            right - fonts.width(fonts.printable(shown, RUNNING.face), RUNNING.face, RUNNING.size), y, shown, RUNNING
        )
        pen.line(left, y + 5, right, y + 5, 0.5, BLACK)
    y = paper.bottom + 3 * MM
    pen.line(left, y, right, y, 0.4, HAIR)
    said, page = foot
    wide = fonts.width(page, FOOT_STRONG.face, FOOT_STRONG.size)
    style = in_red(FOOT_STRONG) if red else FOOT
    pen.put(left, y + 11, cut_to(said, style, MEASURE - wide - 8), style)
    pen.put(right - wide, y + 11, page, FOOT_STRONG)


# Of a line that ends with a whole word; below that the next word is cut.
_FULL = 0.6


def cut_to(text: str, style: Style, wide: float) -> str:
    """As much of a text as one line holds; dots tell that there is more. A word that would leave much of the line
    empty is cut too."""
    lines = wrap(text, style, wide)
    if len(lines) == 1:
        return lines[0]
    room = wide - fonts.width(" …", style.face, style.size)
    words = wrap(text, style, room)[0]
    if fonts.width(words, style.face, style.size) > room * _FULL:
        return f"{words} …"
    return f"{letters_within(text, style, room).rstrip()} …"
