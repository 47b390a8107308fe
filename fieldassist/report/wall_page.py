"""An area drawn to scale on a page, and the table of its pieces for whoever cannot see the drawing."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction

from fieldassist.report import fonts
from fieldassist.report.grid import (
    CAPTION,
    DRAWN,
    FLOW,
    FLOW_STRONG,
    MEASURE,
    MM,
    GridColumn,
    GridRow,
    GridSpan,
    Leaf,
    grid_table,
)
from fieldassist.report.sheet import BLACK, WHITE, Sheet, Style
from fieldassist.report.signs import METHOD_THICK, combing, draw_key, edge_sign, ground, lift_sign
from fieldassist.report.wall_fit import FitBox, FitText
from fieldassist.report.wall_layout import DIMENSION, FittedPiece, FittedWall, lay_out_wall, least_high, wall_parts
from fieldassist.report.wall_model import DrawnWall, PieceRow
from fieldassist.trade.quantities import Quantity

_DIMENSION = Style(fonts.REGULAR, 8.2, 9.8)
_AGAIN_THICK = 1.4


# What a drawing on a page of its own leaves of it: head, title and foot.
_REST_OF_PAGE = 45 * MM


def wall_high(sheet: Sheet, wall: DrawnWall, wide: float, at_most: float) -> float:
    """How high a wall is drawn in a place of this width, with its key: at most so much."""
    return lay_out_wall(_parts(sheet, wall)[0], wide, at_most, sheet.words).high


def wall_least(sheet: Sheet, wall: DrawnWall, wide: float) -> float:
    """How high its place has to be at least, for its pieces to have room for a sign."""
    return least_high(_parts(sheet, wall)[0], wide, sheet.words)


def _parts(sheet: Sheet, wall: DrawnWall) -> tuple[DrawnWall, ...]:
    """A wall of which not even a whole page shows its pieces as large as that in more than one drawing."""
    return wall_parts(wall, MEASURE, sheet.page_height - _REST_OF_PAGE)


def draw_wall(
    leaf: Leaf, wall: DrawnWall, span: GridSpan, at_most: float, again: Callable[[], Leaf] | None = None
) -> Leaf:
    """Draw it from where the cursor stands, at most so high, with its key below; gives the page on which it ends.

    A wall of so many pieces that it takes several drawings goes on over pages; again begins the page of each other one.
    """
    first, *others = _parts(leaf.sheet, wall)
    _draw(leaf, first, span, at_most)
    for part in others:
        leaf = again() if again is not None else Leaf(leaf.sheet)
        _draw(leaf, part, leaf.whole, leaf.room)
    return leaf


def _draw(leaf: Leaf, wall: DrawnWall, span: GridSpan, at_most: float) -> None:
    sheet = leaf.sheet
    layout = lay_out_wall(wall, span.wide, at_most, sheet.words)
    origin = (span.x, leaf.y)
    part, parts = wall.part
    alt = wall.alt if part == 1 else sheet.said("drawn-alt-part", part=str(part), parts=str(parts))
    with sheet.tagged("Figure", alt=alt):
        leaf.flow(layout.caption, CAPTION, span)
        # Those in a niche lie over the others.
        for one in layout.pieces:
            _piece(sheet, one, origin, bare=layout.bare)
        if wall.outline is not None:
            for opening in wall.openings:
                _opening(sheet, opening.name, _at(layout.box_of(opening.span, wall.outline), origin))
            for ends in wall.seams:
                x1, y1, x2, y2 = layout.on_paper(ends, wall.outline)
                sheet.line(x1 + origin[0], y1 + origin[1], x2 + origin[0], y2 + origin[1], METHOD_THICK)
            _dimensions(sheet, wall, layout, origin)
        for text in layout.row_numbers:
            _text(sheet, text, origin)
        draw_key(sheet, span, origin[1] + layout.key_top, layout.key)
        _list(sheet, layout, origin)
    leaf.y = origin[1] + layout.high


def _at(box: FitBox, origin: tuple[float, float]) -> FitBox:
    return replace(box, x=box.x + origin[0], y=box.y + origin[1])


def _text(sheet: Sheet, text: FitText, origin: tuple[float, float]) -> None:
    sheet.text(text.x + origin[0], text.y + origin[1], text.text, text.style)


def _piece(sheet: Sheet, one: FittedPiece, origin: tuple[float, float], *, bare: bool) -> None:
    piece, box = one.piece, _at(one.box, origin)
    ground(sheet, (box.x, box.y, box.wide, box.high), piece.ground, tint=piece.tint)
    if (piece.again and bare) or (not piece.row and piece.span is not None):
        sheet.rect(box.x, box.y, box.wide, box.high, stroke=BLACK, thick=_AGAIN_THICK)
    if piece.ground in ("cleared", "suspect", "dots"):
        for plate in _plates(one):
            under = _at(plate, origin)
            sheet.rect(under.x, under.y, under.wide, under.high, fill=WHITE)
    for x, y, toward in one.edges:
        edge_sign(sheet, x + origin[0], y + origin[1], toward)
    for text in one.fitted.texts:
        _text(sheet, text, origin)
    for sign in one.fitted.signs:
        lift_sign(sheet, sign.x + origin[0], sign.y + origin[1], sign.sign)
    if one.fitted.combing is not None:
        x, y = one.fitted.combing
        combing(sheet, x + origin[0], y + origin[1], level=piece.combing == "level")


def _plates(one: FittedPiece) -> list[FitBox]:
    """White under what stands in a hatched piece: one plate under its words, one under its lifts, one under strokes."""
    lifts = {sign.y for sign in one.fitted.signs}
    groups: list[list[FitBox]] = [[], [], []]
    for text in one.fitted.texts:
        at_lift = any(abs(text.y - DRAWN.size * 0.3 - y) < 0.1 for y in lifts)
        groups[at_lift].append(text.box)
    groups[1] += [sign.box for sign in one.fitted.signs]
    strokes = [one.fitted.boxes[-1]] if one.fitted.combing is not None else []
    return [_around(boxes, one.box) for boxes in (*groups[:2], strokes) if boxes]


def _around(boxes: Sequence[FitBox], within: FitBox) -> FitBox:
    """The smallest box around some, a little larger, inside a piece."""
    x, y = min(box.x for box in boxes) - 1.2, min(box.y for box in boxes) - 1.0
    right, low = max(box.right for box in boxes) + 1.2, max(box.low for box in boxes) + 0.8
    x, y = max(x, within.x + 0.4), max(y, within.y + 0.4)
    return FitBox(x, y, min(right, within.right - 0.4) - x, min(low, within.low - 0.4) - y)


def _opening(sheet: Sheet, name: str, box: FitBox) -> None:
    sheet.rect(box.x, box.y, box.wide, box.high, fill=WHITE, stroke=BLACK, thick=_AGAIN_THICK)
    if fonts.width(name, DRAWN.face, DRAWN.size) + 4 <= box.wide and box.high >= DRAWN.leading:
        sheet.text(box.x + box.wide / 2, box.y + box.high / 2 + DRAWN.size * 0.36, name, DRAWN, align="centre")


def _dimensions(sheet: Sheet, wall: DrawnWall, layout: FittedWall, origin: tuple[float, float]) -> None:
    assert wall.outline is not None
    board = _at(layout.board, origin)
    y = origin[1] + layout.key_top - DIMENSION / 2 - 3.0
    told = sheet.words(_metres(wall.outline.width))
    half = fonts.width(told, _DIMENSION.face, _DIMENSION.size) / 2 + 4
    middle = board.x + board.wide / 2
    if board.wide > 2 * half + 12:
        sheet.line(board.x, y, middle - half, y, 0.5)
        sheet.line(middle + half, y, board.right, y, 0.5)
        for x in (board.x, board.right):
            sheet.line(x, y - 2.5, x, y + 2.5, 0.5)
    sheet.text(middle, y + _DIMENSION.size * 0.36, told, _DIMENSION, align="centre")
    if not layout.height_beside:
        return
    told = sheet.words(_metres(wall.outline.height))
    x = origin[0] + (board.x - origin[0]) / 2 - 2.0
    middle = board.y + board.high / 2
    sheet.line(x, board.y, x, middle - 7, 0.5)
    sheet.line(x, middle + 7, x, board.low, 0.5)
    for y in (board.y, board.low):
        sheet.line(x - 2.5, y, x + 2.5, y, 0.5)
    sheet.text(x, middle + _DIMENSION.size * 0.36, told, _DIMENSION, align="centre")


def _metres(millimetres: float) -> Quantity:
    return Quantity(Fraction(round(millimetres), 1000), "m")


def _list(sheet: Sheet, layout: FittedWall, origin: tuple[float, float]) -> None:
    y = origin[1] + layout.high
    y -= sum(line[0][1].leading for line in layout.lines)
    for line in layout.lines:
        y += line[0][1].leading
        x = origin[0]
        for text, style in line:
            bare = text.lstrip(" ")
            x += fonts.width(text[: len(text) - len(bare)], style.face, style.size)
            x += sheet.text(x, y - 2.2, bare, style)


# --- the table ----------------------------------------------------------------------------------------------------

_COLUMNS = (("numbers", 18.0), ("state", 56.0), ("lifts", 40.0), ("method", 17.0), ("set", 43.0))


def pieces_table(leaf: Leaf, rows: Sequence[PieceRow], again: Callable[[], Leaf]) -> Leaf:
    """All pieces of an area in a table, as a screen reader needs them; again begins the next page."""
    columns = [GridColumn(leaf.sheet.said("drawn-table", column=name), wide_mm) for name, wide_mm in _COLUMNS]
    table = []
    for row in rows:
        state = FLOW_STRONG if row.loud else FLOW
        cells = ((row.numbers, FLOW_STRONG), (row.state, state), (row.lifts, FLOW), (row.tag, FLOW), (row.set, FLOW))
        table.append(GridRow(cells, heads=True))
    return grid_table(leaf, columns, table, again)
