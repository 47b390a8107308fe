"""The page of signatures and seal, the pages of addenda, and the page of commands."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from fieldassist.report import fonts
from fieldassist.report.closing_model import (
    AddedRow,
    AddendumPages,
    ByHandPage,
    Commands,
    CorrectedRow,
    SealBlock,
    SignatureBlock,
    SigningPage,
)
from fieldassist.report.grid import (
    CAPTION,
    COLUMN_HEAD,
    FIGURE,
    FLOW,
    FLOW_RED,
    FLOW_SECOND,
    FLOW_STRONG,
    HAIR,
    HEADING,
    MEASURE,
    MM,
    PAGE_TITLE,
    VERDICT,
    GridColumn,
    GridRow,
    GridSpan,
    Leaf,
    flow_high,
    grid_table,
    in_red,
    key_cells,
)
from fieldassist.report.sheet import Sheet, Style, wrap

_ALARM_VERDICT = in_red(VERDICT)
_COMMAND = Style(fonts.FIXED, 8, 10.4)
_KEY = replace(FIGURE, face=fonts.SEMIBOLD)
_TICK = Style(fonts.REGULAR, 9.5, 11.6)

# Where in a block of a signature its text, its line and its date stand [mm].
_TEXT_WIDE, _INK_AT, _INK_WIDE, _DATE_AT, _DATE_WIDE = 76.0, 82.0, 48.0, 134.0, 40.0
# A finger's field is three times as wide as high.
_INK_HIGH = _INK_WIDE / 3
_BLOCK_HIGH = 29.0 * MM
_LABEL_WIDE = 24.0 * MM
_BOX, _BOX_EACH, _BOX_ROW = 3.6 * MM, 11.0 * MM, 6.2 * MM
_LINE_EACH = 9.5 * MM
# Lines for what an inspector finds, the last ones beside the ink; fewer where the page is full.
_MOST_LINES, _LEAST_LINES = 4, 2


def signing_page(sheet: Sheet, signing: SigningPage) -> None:
    """Draw it."""
    leaf = Leaf(sheet, signing.running)
    sheet.bookmark(signing.title, 0, "signing", leaf.y)
    leaf.flow(signing.title, PAGE_TITLE, kind="H1")
    leaf.y += 3
    leaf.flow(signing.intro, FLOW_SECOND)
    leaf.y += 5 * MM
    wide = leaf.whole.wide
    tail = _seal_high(signing.seal, wide) + _reopened_high(signing) + _checking_high(signing, wide)
    blocks = _signature_high(signing.foreman) + _owner_high(signing)
    spare = leaf.room - blocks - _inspector_high(signing.inspector, _LEAST_LINES) - tail
    lines = max(_LEAST_LINES, min(_MOST_LINES, _LEAST_LINES + int(spare // _LINE_EACH)))
    _signature(leaf, signing.foreman)
    leaf = _with_room(leaf, _owner_high(signing))
    _owner(leaf, signing)
    leaf = _with_room(leaf, _inspector_high(signing.inspector, lines))
    _inspector(leaf, signing.inspector, lines)
    leaf = _with_room(leaf, _seal_high(signing.seal, wide))
    _seal(leaf, signing.seal)
    for one in signing.reopened:
        leaf = _with_room(leaf, FLOW.leading)
        with sheet.tagged("P"):
            _line_with_page(leaf, one.text, one.key, FLOW_RED if one.alarm else FLOW)
    leaf.y += 3 * MM
    leaf = _with_room(leaf, _checking_high(signing, wide))
    _checking(leaf, signing)


def _with_room(leaf: Leaf, high: float) -> Leaf:
    """The page, or the next one where it has not so much room left."""
    return leaf if leaf.room >= high else Leaf(leaf.sheet)


def _reopened_high(signing: SigningPage) -> float:
    return FLOW.leading * len(signing.reopened) + 3 * MM


# --- signatures -------------------------------------------------------------------------------------------------


def _text_high(block: SignatureBlock) -> float:
    wide = _TEXT_WIDE * MM
    high = flow_high(block.title, HEADING, MEASURE) + sum(flow_high(text, FLOW, wide) for text in block.signs)
    return 8 + high + flow_high(block.alarm, FLOW_RED, wide)


def _signature_high(block: SignatureBlock) -> float:
    return max(_text_high(block), _BLOCK_HIGH) + CAPTION.leading + 5 * MM


def _signature(leaf: Leaf, block: SignatureBlock) -> None:
    """A block with its text at the left and the line to sign on at the right."""
    top = leaf.y
    _block_text(leaf, block)
    leaf.y = top + max(_text_high(block), _BLOCK_HIGH)
    _ink(leaf, block)


def _block_text(leaf: Leaf, block: SignatureBlock) -> None:
    span = GridSpan(leaf.whole.x, _TEXT_WIDE * MM)
    leaf.rule(0.9)
    leaf.y += 4
    leaf.flow(block.title, HEADING, leaf.whole, kind="H2")
    leaf.y += 2
    if block.alarm:
        leaf.flow(block.alarm, FLOW_RED, span)
    for text in block.signs:
        leaf.flow(text, FLOW, span)


def _ink(leaf: Leaf, block: SignatureBlock) -> None:
    """The line on which somebody signs and the one for date and time, from the height of the lines on."""
    sheet, y = leaf.sheet, leaf.y
    ink = GridSpan(leaf.whole.x + _INK_AT * MM, _INK_WIDE * MM)
    date = GridSpan(leaf.whole.x + _DATE_AT * MM, _DATE_WIDE * MM)
    if block.strokes:
        with sheet.tagged("Figure", alt=block.drawn):
            sheet.ink(_scaled(block.strokes, ink.x, y - 2 - _INK_HIGH * MM))
    elif block.drawn:
        with sheet.tagged("P"):
            sheet.text(ink.x, y - 4, block.drawn, CAPTION)
    if block.when:
        lines = wrap(block.when, FLOW, date.wide)
        with sheet.tagged("P"):
            for number, line in enumerate(lines, start=1):
                sheet.text(date.x, y - 4 - (len(lines) - number) * FLOW.leading, line, FLOW)
    for span, code in ((ink, "closing-signature-here"), (date, "closing-date-here")):
        sheet.line(span.x, y, span.end, y, 0.6)
        with sheet.tagged("P"):
            sheet.text(span.x, y + CAPTION.leading, sheet.said(code), CAPTION)
    leaf.y = y + CAPTION.leading + 5 * MM


def _scaled(
    strokes: Sequence[Sequence[tuple[int, int]]], x: float, y: float
) -> tuple[tuple[tuple[float, float], ...], ...]:
    """Strokes in points: a thousandth of the field is as much of the room for ink, each way."""
    across, down = _INK_WIDE * MM / 1000, _INK_HIGH * MM / 1000
    return tuple(tuple((x + a * across, y + b * down) for a, b in stroke) for stroke in strokes)


def _owner_high(signing: SigningPage) -> float:
    return _ticks_high(signing) + _signature_high(signing.owner)


def _per_row(leaf_wide: float) -> int:
    return int(leaf_wide // _BOX_EACH)


def _ticks_wide(signing: SigningPage) -> float:
    """Few boxes stand beside the line to sign on, many above it."""
    few = len(signing.ticks) <= _per_row(_TEXT_WIDE * MM) * 2
    return (_TEXT_WIDE if few else _DATE_AT + _DATE_WIDE) * MM


def _ticks_high(signing: SigningPage) -> float:
    """How much higher the block is for what is ticked."""
    if signing.written:
        return _BOX_ROW * 2
    rows = -(-len(signing.ticks) // _per_row(_ticks_wide(signing)))
    return max(0.0, rows * _BOX_ROW - (8 * MM if _ticks_wide(signing) == _TEXT_WIDE * MM else 0.0))


def _owner(leaf: Leaf, signing: SigningPage) -> None:
    top, sheet = leaf.y, leaf.sheet
    _block_text(leaf, signing.owner)
    if signing.ticks:
        with sheet.tagged("P"):
            _line_with_page(leaf, sheet.said("closing-at-front"), "front", CAPTION)
    leaf.y += 2 * MM
    if signing.written:
        leaf.flow(signing.written, FLOW)
        sheet.line(leaf.whole.x, leaf.y + _BOX_ROW, leaf.whole.end, leaf.y + _BOX_ROW, 0.4, HAIR)
    elif signing.ticks:
        _tick_boxes(leaf, signing)
    leaf.y = top + max(_text_high(signing.owner), _BLOCK_HIGH) + _ticks_high(signing)
    _ink(leaf, signing.owner)


def _tick_boxes(leaf: Leaf, signing: SigningPage) -> None:
    """A box for each point, by its number on the first page."""
    sheet, each = leaf.sheet, _per_row(_ticks_wide(signing))
    with sheet.tagged("L"):
        for at, number in enumerate(signing.ticks):
            x = leaf.whole.x + at % each * _BOX_EACH
            y = leaf.y + at // each * _BOX_ROW
            sheet.rect(x, y, _BOX, _BOX, stroke=(0.0, 0.0, 0.0), thick=0.8)
            with sheet.tagged("LI"), sheet.tagged("LBody"):
                sheet.text(x + _BOX + 3, y + _BOX - 1.6, str(number), _TICK)


def _inspector_high(block: SignatureBlock, lines: int) -> float:
    return _text_high(block) + (lines + 0.7) * _LINE_EACH + CAPTION.leading + 5 * MM


def _inspector(leaf: Leaf, block: SignatureBlock, lines: int) -> None:
    """Lines for what an inspector finds; the last two leave room for the signature beside them."""
    _block_text(leaf, block)
    for number in range(lines):
        leaf.y += _LINE_EACH
        beside = number >= lines - 2
        leaf.rule(0.4, GridSpan(leaf.whole.x, _TEXT_WIDE * MM) if beside else None, HAIR)
    leaf.y += _LINE_EACH * 0.7
    _ink(leaf, block)


# --- the seal ---------------------------------------------------------------------------------------------------


def _seal_high(seal: SealBlock, wide: float) -> float:
    high = HEADING.leading + 3 + sum(flow_high(text, FLOW_RED, wide) for text in seal.alarms)
    for line in seal.lines:
        high += flow_high(line.text, FLOW, wide - _LABEL_WIDE) + 1.5 if line.text else _digits_high(line.digits)
    return high


def _digits_high(digits: str) -> float:
    return len(_digit_rows(digits)) * (_KEY.leading + 1.5)


def _digit_rows(digits: str) -> list[str]:
    """Digits in rows of eight groups of four."""
    bare = "".join(digits.split())
    return [bare[at : at + 32] for at in range(0, len(bare), 32)]


def _seal(leaf: Leaf, seal: SealBlock) -> None:
    sheet = leaf.sheet
    leaf.heading(seal.title)
    for text in seal.alarms:
        leaf.flow(text, FLOW_RED)
    beside = GridSpan(leaf.whole.x + _LABEL_WIDE, leaf.whole.wide - _LABEL_WIDE)
    for line in seal.lines:
        with sheet.tagged("P"):
            sheet.text(leaf.whole.x, leaf.y + FLOW.size * 0.97, line.label, FLOW_SECOND)
            if line.text:
                leaf.flow(line.text, FLOW, beside)
                leaf.y += 1.5
            for row in _digit_rows(line.digits):
                leaf.y += _KEY.leading + 1.5
                key_cells(sheet, beside.x, leaf.y - 3, row, _KEY)


# --- how it is checked ------------------------------------------------------------------------------------------


def _checking_high(signing: SigningPage, wide: float) -> float:
    high = HEADING.leading + 3 + FLOW.leading + 2 * MM + flow_high(signing.before_this, CAPTION, wide)
    high += sum(flow_high(text, FLOW, wide - 6 * MM) + 1.5 for text in signing.steps)
    return high + sum(flow_high(text, FLOW_STRONG, wide) + 3 for text in signing.left_out)


def _checking(leaf: Leaf, signing: SigningPage) -> None:
    sheet = leaf.sheet
    leaf.heading(signing.checking)
    beside = GridSpan(leaf.whole.x + 6 * MM, leaf.whole.wide - 6 * MM)
    with sheet.tagged("L"):
        for number, text in enumerate(signing.steps, start=1):
            with sheet.tagged("LI"):
                with sheet.tagged("Lbl"):
                    sheet.text(leaf.whole.x, leaf.y + FLOW.size * 0.97, str(number), FLOW_STRONG)
                with sheet.tagged("LBody"):
                    leaf.flow(text, FLOW, beside)
            leaf.y += 1.5
    with sheet.tagged("P"):
        _line_with_page(leaf, signing.by_hand, "by-hand", FLOW, beside)
    for text in signing.left_out:
        leaf.y += 3
        leaf.flow(text, FLOW_STRONG)
    leaf.y += 2 * MM
    leaf.flow(signing.before_this, CAPTION)


def _line_with_page(leaf: Leaf, text: str, key: str, style: Style, span: GridSpan | None = None) -> None:
    """A line, and behind it the page to which it leads."""
    sheet, span = leaf.sheet, span or leaf.whole
    leaf.y += style.leading
    wide = sheet.text(span.x, leaf.y - 2.4, text, style)
    link = fonts.width(sheet.said("page-reference", number=88), style.face, style.size)
    sheet.page_number(span.x + wide + 4 + link, leaf.y - 2.4, key, style)


# --- addenda ----------------------------------------------------------------------------------------------------


def addendum_pages(sheet: Sheet, addendum: AddendumPages) -> None:
    """Draw them."""
    leaf = Leaf(sheet, addendum.running)
    sheet.bookmark(addendum.title, 0, addendum.key, leaf.y)
    leaf.flow(addendum.title, PAGE_TITLE, kind="H1")
    leaf.y += 3
    leaf.flow(addendum.standing, _ALARM_VERDICT if addendum.alarm else VERDICT)
    leaf.y += 2 * MM
    leaf.flow(addendum.reason, FLOW)
    leaf.flow(addendum.opened, FLOW_SECOND)
    leaf.y += 4 * MM
    leaf = _corrected(leaf, addendum)
    leaf.y += 4 * MM
    leaf = _added(leaf, addendum)
    leaf.y += 6 * MM
    seal = 0.0 if addendum.seal is None else _seal_high(addendum.seal, leaf.whole.wide)
    leaf = _with_room(leaf, _signature_high(addendum.foreman) + seal)
    _signature(leaf, addendum.foreman)
    if addendum.seal is not None:
        _seal(leaf, addendum.seal)


def _corrected(leaf: Leaf, addendum: AddendumPages) -> Leaf:
    said = leaf.sheet.said
    columns = [
        GridColumn(said("closing-column-stood"), 66),
        GridColumn(said("closing-column-stands"), 56),
        GridColumn(said("closing-column-by"), 30),
        GridColumn(said("closing-column-events"), 22),
    ]
    rows = [_corrected_row(one) for one in addendum.corrected]
    return _table(leaf, said("closing-corrected"), said("closing-corrected-note"), columns, rows)


def _corrected_row(one: CorrectedRow) -> GridRow:
    return GridRow(((one.stood, FLOW), (one.stands, FLOW_STRONG), (one.by, FLOW), (one.events, FLOW_SECOND)))


def _added(leaf: Leaf, addendum: AddendumPages) -> Leaf:
    said = leaf.sheet.said
    columns = [
        GridColumn(said("closing-column-time"), 20),
        GridColumn(said("closing-column-by"), 28),
        GridColumn(said("closing-column-what"), 108),
        GridColumn(said("closing-column-event"), 18, right=True),
    ]
    return _table(leaf, said("closing-added"), "", columns, [_added_row(one) for one in addendum.added])


def _added_row(one: AddedRow) -> GridRow:
    return GridRow(((one.time, FLOW), (one.by, FLOW), (one.text, FLOW), (one.event, FLOW_SECOND)), struck=one.struck)


def _table(leaf: Leaf, title: str, note: str, columns: Sequence[GridColumn], rows: Sequence[GridRow]) -> Leaf:
    """A heading with its table, or with the word that there is nothing; the heading keeps two rows with it."""
    sheet = leaf.sheet
    leaf = _with_room(leaf, HEADING.leading + COLUMN_HEAD.leading + 12 * MM)
    leaf.heading(title, note=note)
    if not rows:
        leaf.flow(sheet.said("closing-nothing"), FLOW_SECOND)
        return leaf
    return grid_table(leaf, columns, rows, lambda: Leaf(sheet))


# --- by hand ----------------------------------------------------------------------------------------------------


def by_hand_page(sheet: Sheet, by_hand: ByHandPage) -> None:
    """Draw it. Each command stands on a line of its own and all of them on one page, to be copied as they are."""
    leaf = Leaf(sheet, by_hand.running)
    sheet.bookmark(by_hand.title, 0, "by-hand", leaf.y)
    leaf.flow(by_hand.title, PAGE_TITLE, kind="H1")
    for commands in by_hand.commands:
        leaf.y += 3 * MM
        _commands(leaf, commands)
    for text in (by_hand.results, by_hand.limits):
        leaf.y += 3 * MM
        leaf.flow(text, FLOW)


def _commands(leaf: Leaf, commands: Commands) -> None:
    leaf.flow(commands.text, FLOW)
    leaf.y += 2 * MM
    for line in commands.lines:
        leaf.y += _COMMAND.leading
        with leaf.sheet.tagged("P"):
            leaf.sheet.text(leaf.whole.x, leaf.y - 2.4, line, _COMMAND)
