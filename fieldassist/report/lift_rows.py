"""Lifts on a page: figure beside picture, a row each; where there are many, the good ones four a row."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from fieldassist.report import fonts
from fieldassist.report.area_model import LiftLine, LiftTable
from fieldassist.report.back_picture import BAR_HIGH
from fieldassist.report.grid import (
    CAPTION,
    COLUMN_HEAD,
    FLOW,
    FLOW_SECOND,
    FLOW_STRONG,
    HAIR,
    HEADING,
    MM,
    GridSpan,
    Leaf,
    flow_high,
)
from fieldassist.report.pictures import draw_photo
from fieldassist.report.sheet import BLACK, Style
from fieldassist.report.signs import MARK, lift_sign
from fieldassist.report.stack import Block, Stack

_PERCENT = Style(fonts.HEAVY, 13, 14.5, BLACK)
# A photo's place in a row: an oblong back, and one that is nearly square [mm].
_OBLONG, _SQUARE = (36.0, 18.0), (17.0, 17.0)
_OBLONG_FROM = 1.4  # as many times as wide as high
# The same where backs were measured on their photos: room for what is drawn over them, and for the bar below.
_OBLONG_MEASURED, _SQUARE_MEASURED = (46.0, 23.0 + BAR_HIGH / MM), (26.0, 26.0 + BAR_HIGH / MM)
_NONE = 11.5  # how high the outline is where no photo was taken [mm]
_AIR = 1.3 * MM  # above and below a row's content
# Where the columns behind the photo begin, as shares of what it leaves.
_STARTS = (0.0, 0.25, 0.47, 0.73, 1.0)
# The same where no lift has a photo: then a row is as low as it can be.
_LOW_STARTS = (0.0, 0.256, 0.495, 0.797, 1.0)
_SMALL = 16.0 * MM  # the photo of a lift that shares its row


def draw_lifts(stack: Stack, table: LiftTable) -> None:
    """All of them; with many, those that failed or are doubtful first."""
    rows = [line for line in table.lines if not (table.brief and line.good)]
    brief = [line for line in table.lines if table.brief and line.good]
    if rows:
        stack.keep(*(_row_of(table, line) for line in rows[:2]), more=HEADING.leading + 3 + COLUMN_HEAD.leading)
        _heading(stack.leaf, table)
        with stack.sheet.tagged("Table"):
            _heads(stack.leaf, table)
            for at, line in enumerate(rows):
                # The last row brings the one before it along.
                together = rows[at:] if at and at == len(rows) - 2 else [line]
                stack.keep(*(_row_of(table, one) for one in together))
                _row(stack, table, line)
                stack.sheet.tick()
    if brief:
        _brief(stack, table, brief, headed=bool(rows))
    for text in table.feet:
        stack.need(flow_high(text, CAPTION, stack.leaf.whole.wide) + _AIR)
        stack.leaf.y += _AIR
        stack.leaf.flow(text, CAPTION)


def _heading(leaf: Leaf, table: LiftTable) -> None:
    leaf.sheet.bookmark(table.title, 1, table.key, leaf.y)
    leaf.heading(table.title, note=table.note)


def _columns(leaf: Leaf, table: LiftTable) -> list[GridSpan]:
    """Where the columns stand, the photo's first where there is one."""
    place = _place(table)
    wide = (place[0] + 4) * MM if table.photos else 0.0
    left = GridSpan(leaf.whole.x + wide, leaf.whole.wide - wide)
    starts = _STARTS if table.photos else _LOW_STARTS
    found = [GridSpan(left.x + left.wide * a, left.wide * (b - a) - 2 * MM) for a, b in pairwise(starts)]
    return [GridSpan(leaf.whole.x, place[0] * MM), *found] if table.photos else found


def _place(table: LiftTable) -> tuple[float, float]:
    """How wide and high a photo's place in a row is [mm]."""
    if table.oblong >= _OBLONG_FROM:
        return _OBLONG_MEASURED if table.measured else _OBLONG
    return _SQUARE_MEASURED if table.measured else _SQUARE


def _heads(leaf: Leaf, table: LiftTable) -> None:
    top = leaf.y
    with leaf.sheet.tagged("TR"):
        for text, span in zip(table.heads, _columns(leaf, table), strict=True):
            leaf.y = top
            with leaf.sheet.tagged("TH", scope="Column"):
                leaf.flow(text, COLUMN_HEAD, span)
    leaf.y = top + COLUMN_HEAD.leading


def _row_of(table: LiftTable, line: LiftLine) -> Block:
    return lambda stack: _row(stack, table, line)


def _row(stack: Stack, table: LiftTable, line: LiftLine) -> None:
    sheet, leaf = stack.sheet, stack.leaf
    leaf.y += _AIR
    sheet.anchor(line.key, leaf.y)
    top = lowest = leaf.y
    columns, cells = _columns(leaf, table), _CELLS if table.photos else _LOW_CELLS
    with sheet.tagged("TR"):
        if table.photos:
            with sheet.tagged("TD"):
                photo = line.photos[0] if line.photos else None
                high = _place(table)[1] if photo else _NONE
                box = (columns[0].x, top, columns[0].wide, high * MM)
                file, alt, over = (photo.file, photo.alt, photo.over) if photo else ("", line.title, None)
                _, high = draw_photo(sheet, stack.album, file, box, alt, over)
            lowest = top + high
        for column, cell in zip(columns[-len(cells) :], cells, strict=True):
            leaf.y = top
            cell(leaf, column, line)
            lowest = max(lowest, leaf.y)
    leaf.y = lowest
    if len(line.photos) > 1:
        _more_photos(stack, line)
    leaf.y += _AIR
    leaf.rule(0.3, colour=HAIR)


def _sign(leaf: Leaf, x: float, line: LiftLine) -> None:
    """The sign of a lift before its figure, in the line where the cursor stands."""
    with leaf.sheet.decoration():
        lift_sign(leaf.sheet, x + MARK / 2, leaf.y + _PERCENT.leading * 0.5, line.sign)


def _which(leaf: Leaf, span: GridSpan, line: LiftLine) -> None:
    with leaf.sheet.tagged("TH", scope="Row"):
        leaf.flow(line.title, FLOW_STRONG, span)
        leaf.flow(line.when, FLOW, span)
        leaf.flow(line.came, FLOW_SECOND, span)


def _figure(leaf: Leaf, span: GridSpan, line: LiftLine) -> None:
    with leaf.sheet.tagged("TD"):
        _sign(leaf, span.x, line)
        if line.percent:
            leaf.flow(line.percent, _PERCENT, GridSpan(span.x + MARK + 2 * MM, span.wide - MARK - 2 * MM))
        else:
            leaf.y += _PERCENT.leading
        leaf.flow(line.doubt, FLOW, span)
        leaf.flow(line.way, FLOW_SECOND, span)
        for text in line.beside:
            leaf.flow(text, FLOW_SECOND, span)


def _read(leaf: Leaf, span: GridSpan, line: LiftLine) -> None:
    with leaf.sheet.tagged("TD"):
        for text, broken in line.read:
            leaf.flow(text, FLOW_STRONG if broken else FLOW, span)


def _judged(leaf: Leaf, span: GridSpan, line: LiftLine) -> None:
    pieces = [(line.verdict, FLOW_STRONG), (f" {line.result}", FLOW)] if line.result else [(line.verdict, FLOW_STRONG)]
    with leaf.sheet.tagged("TD"):
        leaf.flow(pieces, FLOW, span)


def _low_which(leaf: Leaf, span: GridSpan, line: LiftLine) -> None:
    with leaf.sheet.tagged("TH", scope="Row"):
        leaf.flow([(line.title, FLOW_STRONG), (f" {line.when}", FLOW)], FLOW, span)
        leaf.flow(line.came, FLOW_SECOND, span)


def _low_figure(leaf: Leaf, span: GridSpan, line: LiftLine) -> None:
    with leaf.sheet.tagged("TD"):
        _sign(leaf, span.x, line)
        shown = GridSpan(span.x + MARK + 1.4 * MM, span.wide - MARK - 1.4 * MM)
        percent = [(line.percent, _PERCENT)] if line.percent else []
        leaf.flow([*percent, (f" {line.doubt}", CAPTION)], _PERCENT, shown)
        leaf.flow(line.way, FLOW_SECOND, shown)
        for text in line.beside:
            leaf.flow(text, FLOW_SECOND, shown)


def _low_read(leaf: Leaf, span: GridSpan, line: LiftLine) -> None:
    pieces = [
        (f"{' ' if at else ''}{text}{';' if at < len(line.read) - 1 else ''}", FLOW_STRONG if broken else FLOW)
        for at, (text, broken) in enumerate(line.read)
    ]
    with leaf.sheet.tagged("TD"):
        leaf.flow(pieces, FLOW, span)


_CELLS = (_which, _figure, _read, _judged)
_LOW_CELLS = (_low_which, _low_figure, _low_read, _judged)


def _more_photos(stack: Stack, line: LiftLine) -> None:
    """The photos of a lift behind its first, in a row of their own."""
    leaf, sheet = stack.leaf, stack.sheet
    place, each = _SMALL * 1.6, leaf.whole.parts(6, 3 * MM)
    with sheet.tagged("TR"), sheet.tagged("TD", across=5):
        for at in range(0, len(line.photos) - 1, len(each)):
            leaf.y += 1 * MM
            for photo, span in zip(line.photos[1 + at :], each, strict=False):
                draw_photo(sheet, stack.album, photo.file, (span.x, leaf.y, span.wide, place), photo.alt)
            leaf.y += place


# --- many -----------------------------------------------------------------------------------------------------------


def _brief(stack: Stack, table: LiftTable, lines: Sequence[LiftLine], *, headed: bool) -> None:
    """Good lifts four a row."""
    rows = [lines[at : at + 4] for at in range(0, len(lines), 4)]
    for at, row in enumerate(rows):
        begins = not at and not headed
        stack.keep(
            *(_four_of(table, one) for one in (rows[:2] if begins else [row])), more=(HEADING.leading + 8) * begins
        )
        if begins:
            _heading(stack.leaf, table)
        if not at:
            stack.leaf.y += _AIR
        _four(stack, table, row)
        stack.sheet.tick()


def _four_of(table: LiftTable, lines: Sequence[LiftLine]) -> Block:
    return lambda stack: _four(stack, table, lines)


def _four(stack: Stack, table: LiftTable, lines: Sequence[LiftLine]) -> None:
    leaf, sheet, top = stack.leaf, stack.sheet, stack.leaf.y
    lowest = top
    with sheet.tagged("L"):
        for line, span in zip(lines, leaf.whole.parts(4, 2 * MM), strict=False):
            wide = _SMALL + 1.8 * MM if table.photos else 0.0
            text = GridSpan(span.x + wide, span.wide - wide)
            sheet.anchor(line.key, top)
            with sheet.tagged("LI"), sheet.tagged("LBody"):
                leaf.y = top
                if table.photos:
                    photo = line.photos[0] if line.photos else None
                    box = (span.x, top, _SMALL, _SMALL)
                    file, alt, over = (photo.file, photo.alt, photo.over) if photo else ("", line.title, None)
                    draw_photo(sheet, stack.album, file, box, alt, over)
                leaf.flow(line.title, FLOW_STRONG, text)
                _sign(leaf, text.x, line)
                shown = GridSpan(text.x + MARK + 1 * MM, text.wide - MARK - 1 * MM)
                leaf.flow([(line.percent, _PERCENT), (f" {line.time}", CAPTION)], _PERCENT, shown)
                leaf.flow(line.way, CAPTION, text)
                leaf.flow(line.short, CAPTION, text)
            lowest = max(lowest, leaf.y, top + _SMALL if table.photos else 0.0)
    leaf.y = lowest + 2 * MM
