"""The appendix: two columns that flow over as many pages as it takes, then files and pieces across the page."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from fieldassist.report.appendix_model import Appendix, AppendixBlock, AppendixRow, FileRow, PieceTable
from fieldassist.report.grid import (
    CAPTION,
    CAPTION_ITALIC,
    FLOW,
    FLOW_SECOND,
    FLOW_STRONG,
    HEADING,
    MM,
    PAGE_TITLE,
    Flowing,
    GridColumn,
    GridRow,
    GridSpan,
    Leaf,
    flow_high,
    flowed,
    grid_table,
    key_cells,
    key_wide,
    top_of,
)
from fieldassist.report.keys import APPENDIX
from fieldassist.report.sheet import Sheet
from fieldassist.report.wall_page import pieces_table

_HALVES = 6 * MM  # between the two columns
_BETWEEN_BLOCKS = 11.0
_HEADING_AIR = 3.0 + 2.0
_ROW_AIR = 1.6
_LABEL_GAP = 1.5 * MM
# Of the depth that is tried for the last page's columns.
_STEP = 4.0
_FILE_COLUMNS = 3
_MOST_FILES = 12
# Rows that are not left alone are under three lines high; a longer one than so many lines is set as several.
_SHORT = 3 * FLOW.leading
_MOST_LINES = 40
# Widths of the columns of pieces that are alike [mm].
_ALIKE_MM = (34.0, 24.0, 16.0, 100.0)
# Room for a table's head and two of its rows, below which it begins on the next page.
_TABLE_BEGINS = 72.0


def appendix_pages(sheet: Sheet, appendix: Appendix, attached: Sequence[str]) -> None:
    """Draw them. attached: what is told of the files that go with the pages."""
    leaf = Leaf(sheet, appendix.running)
    sheet.bookmark(appendix.title, 0, APPENDIX, leaf.y)
    leaf.flow(appendix.title, PAGE_TITLE, kind="H1")
    leaf.y += 3
    leaf.flow(appendix.intro, FLOW_SECOND)
    leaf.y += 8
    blocks = list(appendix.blocks)
    if attached:
        blocks.append(_attached(sheet, attached))
    leaf = _files(_Columns(sheet, appendix, leaf).draw(blocks), appendix)
    for table in appendix.pieces:
        leaf = _pieces(leaf, appendix, table)


def _attached(sheet: Sheet, attached: Sequence[str]) -> AppendixBlock:
    """Of many files the first are told of one by one."""
    told = list(attached[:_MOST_FILES])
    if len(attached) > _MOST_FILES:
        told.append(sheet.said("appendix-more-attached", count=len(attached) - _MOST_FILES))
    return AppendixBlock(sheet.said("appendix-attached"), tuple(AppendixRow("", one) for one in told))


# --- two columns --------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Part:
    """What stands in one column without a break: a block's heading, its lead, a row, or its foot; how high it is with
    the air below it, and whether what follows stands below it in the same column."""

    what: Literal["heading", "lead", "row", "foot"]
    high: float
    keeps: bool
    row: AppendixRow | None = None


@dataclass(frozen=True, slots=True)
class _Spot:
    """Where a part stands: its column, counted over all pages, and its upper edge."""

    column: int
    y: float


class _Columns:
    """Places and draws blocks in two columns, over pages that it begins."""

    def __init__(self, sheet: Sheet, appendix: Appendix, leaf: Leaf) -> None:
        self.sheet, self.appendix, self.leaf = sheet, appendix, leaf
        self.halves = leaf.whole.parts(2, _HALVES)
        self.pages = 1
        self.first_top, self.later_top = leaf.y, top_of(leaf)
        self.lowest = leaf.y

    def draw(self, blocks: Sequence[AppendixBlock]) -> Leaf:
        """Draw the blocks; gives the page on which they end, below the longer column."""
        parts = [list(_parts(block, self.halves[0])) for block in blocks]
        spots = iter(self._placed([part for several in parts for part in several]))
        for number, (block, several) in enumerate(zip(blocks, parts, strict=True)):
            self._block(number, block, several, [next(spots) for _ in several])
        self.leaf.y = self.lowest + _BETWEEN_BLOCKS
        return self.leaf

    # --- where things stand

    def _placed(self, parts: Sequence[_Part]) -> list[_Spot]:
        """Where each part stands; the columns of the last page end alike."""
        spots = self._flowed(parts, 0, self.first_top, self.leaf.bottom)
        last = spots[-1].column // 2 if spots else 0
        on_last = next((at for at, spot in enumerate(spots) if spot.column // 2 == last), 0)
        rest = parts[on_last:]
        top = self._top(last)
        depth = top + sum(part.high for part in rest) / 2
        while depth < self.leaf.bottom:
            balanced = self._flowed(rest, 2 * last, top, depth)
            if not balanced or balanced[-1].column // 2 == last:
                return [*spots[:on_last], *balanced]
            depth += _STEP
        return spots

    def _top(self, page: int) -> float:
        return self.first_top if page == 0 else self.later_top

    def _flowed(self, parts: Sequence[_Part], column: int, y: float, bottom: float) -> list[_Spot]:
        spots: list[_Spot] = []
        for group in _groups(parts):
            high = sum(part.high for part in group)
            together = high <= bottom - self._top(column // 2)
            for at, part in enumerate(group):
                needed = high if together and not at else part.high
                if y > self._top(column // 2) and y + needed > bottom:
                    column, y = column + 1, self._top((column + 1) // 2)
                spots.append(_Spot(column, y))
                y += part.high
        return spots

    # --- drawing

    def _block(self, number: int, block: AppendixBlock, parts: Sequence[_Part], spots: Sequence[_Spot]) -> None:
        """Its parts; its rows are one list, over columns and pages."""
        ready = list(zip(parts, spots, strict=True))
        rows = [(part, spot) for part, spot in ready if part.what == "row"]
        for part, spot in ready[: len(ready) - len(rows) - (parts[-1].what == "foot")]:
            self._text(number, block, part, spot)
        with self.sheet.tagged("L"):
            for part, spot in rows:
                assert part.row is not None  # it is a row
                self._row(block, part.row, self._at(spot))
                self.lowest = max(self.lowest, spot.y + part.high)
        if parts[-1].what == "foot":
            self._text(number, block, *ready[-1])

    def _text(self, number: int, block: AppendixBlock, part: _Part, spot: _Spot) -> None:
        span = self._at(spot)
        if part.what == "heading":
            self.sheet.bookmark(block.title, 1, block.key or f"{APPENDIX}:{number}", self.leaf.y)
            self.leaf.heading(block.title, span)
        else:
            self.leaf.flow(block.lead if part.what == "lead" else block.foot, CAPTION, span)
        self.lowest = max(self.lowest, spot.y + part.high)

    def _at(self, spot: _Spot) -> GridSpan:
        """The column in which a part stands; its page has begun."""
        while self.pages <= spot.column // 2:
            self.leaf = Leaf(self.sheet, self.appendix.running)
            self.pages += 1
            self.lowest = self.later_top
        self.leaf.y = spot.y
        return self.halves[spot.column % 2]

    def _row(self, block: AppendixBlock, row: AppendixRow, span: GridSpan) -> None:
        label, text, mark = _spans(block, span)
        top = self.leaf.y
        with self.sheet.tagged("LI"):
            if row.label:
                with self.sheet.tagged("Lbl"):
                    self.leaf.flow(row.label, FLOW, label)
            self.leaf.y = top
            with self.sheet.tagged("LBody"):
                self.leaf.flow(_told(row), FLOW, text)
                if row.mark:
                    self.leaf.y = top
                    self.leaf.flow(row.mark, CAPTION_ITALIC, mark, right=True)
        self.sheet.tick()


def _spans(block: AppendixBlock, span: GridSpan) -> tuple[GridSpan, GridSpan, GridSpan]:
    """Label, text and mark of a row in a column."""
    before = block.label_mm * MM
    behind = block.mark_mm * MM
    text = GridSpan(span.x + before, span.wide - before - behind)
    return GridSpan(span.x, before - _LABEL_GAP), text, GridSpan(text.end + _LABEL_GAP, behind - _LABEL_GAP)


def _parts(block: AppendixBlock, span: GridSpan) -> Iterator[_Part]:
    """A heading keeps two rows with it, and no single row is left behind, where the one that stays is a short one."""
    rows = [part for row in block.rows for part in _short_enough(block, row, span)]
    highs = [_row_high(block, row, span) for row in rows]
    heading = flow_high(block.title, HEADING, span.wide) + _HEADING_AIR
    yield _Part("heading", heading, keeps=bool(block.rows or block.lead))
    if block.lead:
        yield _Part("lead", flow_high(block.lead, CAPTION, span.wide) + _ROW_AIR, keeps=bool(block.rows))
    last = len(rows) - 1
    for at, (row, high) in enumerate(zip(rows, highs, strict=True)):
        behind = at == last
        if behind:
            keeps = bool(block.foot)
        else:
            keeps = (at == 0 and high < _SHORT) or (at == last - 1 and highs[last] < _SHORT and not block.foot)
        air = _BETWEEN_BLOCKS if behind and not block.foot else _ROW_AIR
        yield _Part("row", high + air, keeps, row)
    if block.foot:
        yield _Part("foot", flow_high(block.foot, CAPTION, span.wide) + _BETWEEN_BLOCKS, keeps=False)


def _short_enough(block: AppendixBlock, row: AppendixRow, span: GridSpan) -> Iterator[AppendixRow]:
    """A row, in several where it is longer than a column bears."""
    lines = flowed(_told(row), FLOW, _spans(block, span)[1].wide)
    if len(lines) <= _MOST_LINES:
        yield row
        return
    words = row.text.split(" ")
    at_once = max(1, len(words) * _MOST_LINES // (len(lines) + 1))
    for at in range(0, len(words), at_once):
        text = " ".join(words[at : at + at_once])
        yield replace(row, text=text) if not at else AppendixRow("", text)


def _row_high(block: AppendixBlock, row: AppendixRow, span: GridSpan) -> float:
    label, text, mark = _spans(block, span)
    return max(
        flow_high(row.label, FLOW, label.wide) if row.label else 0.0,
        flow_high(_told(row), FLOW, text.wide),
        flow_high(row.mark, CAPTION_ITALIC, mark.wide) if row.mark else 0.0,
    )


def _told(row: AppendixRow) -> Flowing:
    """Its text, behind what it begins with."""
    return [(row.lead, FLOW_STRONG), (f" {row.text}", FLOW)] if row.lead else row.text


def _groups(parts: Sequence[_Part]) -> Iterator[list[_Part]]:
    """Parts that stand in one column."""
    group: list[_Part] = []
    for part in parts:
        group.append(part)
        if not part.keeps:
            yield group
            group = []
    if group:
        yield group


# --- files and pieces ---------------------------------------------------------------------------------------------


def _files(leaf: Leaf, appendix: Appendix) -> Leaf:
    """Every photo and sound with the first digits of its hash, in three columns, read row by row."""
    if not appendix.files:
        return leaf
    spans = leaf.whole.parts(_FILE_COLUMNS, 4 * MM)
    digits_wide = key_wide(appendix.files[0].digits, CAPTION)
    rows = [appendix.files[at : at + _FILE_COLUMNS] for at in range(0, len(appendix.files), _FILE_COLUMNS)]
    highs = [max(_file_high(one, spans[0], digits_wide) for one in row) for row in rows]
    if leaf.room < HEADING.leading + _HEADING_AIR + sum(highs[:2]):
        leaf = Leaf(leaf.sheet, appendix.running)
    leaf.sheet.bookmark(appendix.files_title, 1, "appendix-files", leaf.y)
    leaf.heading(appendix.files_title, note=appendix.files_note)
    with leaf.sheet.tagged("L"):
        for at, (row, high) in enumerate(zip(rows, highs, strict=True)):
            if leaf.room < high + (highs[at + 1] if at == len(rows) - 2 else 0.0):
                leaf = Leaf(leaf.sheet, appendix.running)
            top = leaf.y
            for one, span in zip(row, spans, strict=False):
                leaf.y = top
                _file(leaf, one, span, digits_wide)
            leaf.y = top + high
    leaf.y += _BETWEEN_BLOCKS
    return leaf


def _file_high(one: FileRow, span: GridSpan, digits_wide: float) -> float:
    return flow_high(one.what, FLOW, span.wide - digits_wide - _LABEL_GAP) + _ROW_AIR


def _file(leaf: Leaf, one: FileRow, span: GridSpan, digits_wide: float) -> None:
    top = leaf.y
    with leaf.sheet.tagged("LI"):
        with leaf.sheet.tagged("Lbl"):
            leaf.flow(one.what, FLOW, GridSpan(span.x, span.wide - digits_wide - _LABEL_GAP), strike=one.struck)
        with leaf.sheet.tagged("LBody"):
            key_cells(leaf.sheet, span.end - digits_wide, top + FLOW.size, one.digits, CAPTION)


def _pieces(leaf: Leaf, appendix: Appendix, table: PieceTable) -> Leaf:
    """The table of an area's pieces."""
    sheet = leaf.sheet
    note = flow_high(table.note, CAPTION, leaf.whole.wide) if table.note else 0.0
    if leaf.room < HEADING.leading + _HEADING_AIR + note + _TABLE_BEGINS:
        leaf = Leaf(sheet, appendix.running)
    sheet.bookmark(table.title, 1, f"appendix-pieces-{table.title}", leaf.y)
    leaf.heading(table.title)
    if table.note:
        leaf.flow(table.note, CAPTION)

    def again() -> Leaf:
        return Leaf(sheet, appendix.running)

    leaf = pieces_table(leaf, table.pieces, again) if table.pieces else _by_state(leaf, table, again)
    leaf.y += _BETWEEN_BLOCKS
    return leaf


def _by_state(leaf: Leaf, table: PieceTable, again: Callable[[], Leaf]) -> Leaf:
    rows = [
        GridRow(tuple((cell, FLOW_STRONG if not at else FLOW) for at, cell in enumerate(row)), heads=True)
        for row in table.by_state
    ]
    columns = [GridColumn(head, wide) for head, wide in zip(table.heads, _ALIKE_MM, strict=True)]
    return grid_table(leaf, columns, rows, again)
