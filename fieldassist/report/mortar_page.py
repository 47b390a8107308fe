"""Mortar on a page: each batch with its clocks as used of allowed, a bar against a stop, and bags against bed."""

from __future__ import annotations

from fieldassist.report.area_model import BagsDrawn, BatchLine, ClockBar, MortarBlock
from fieldassist.report.grid import (
    BAR,
    COLUMN_HEAD,
    FLOW,
    FLOW_RED,
    FLOW_STRONG,
    HAIR,
    HEADING,
    MM,
    GridSpan,
    Leaf,
    flow_high,
)
from fieldassist.report.sheet import BLACK, WHITE
from fieldassist.report.stack import Stack

# Where each column begins [mm]: batch, mixed, bags, slaked, pot life, longest open time.
_STARTS = (0.0, 17.0, 33.0, 61.0, 77.0, 126.0)
_STOP = 32.0 * MM, 32.0 * MM  # how far the two bars may go
_HIGH = 2.2 * MM
_ROW = 4.7 * MM
_OVER = 1.08  # a bar that went beyond its stop is cut off here


def draw_mortar(stack: Stack, block: MortarBlock, *, drawn: bool) -> None:
    """The whole block. drawn: with the bags as bars, where they do not fit the bed."""
    head = max(
        flow_high(text, COLUMN_HEAD, span.wide) for text, span in zip(block.heads, _spans(stack.leaf), strict=True)
    )
    leaf = stack.need(HEADING.leading + 3 + head + 2 * _ROW)
    leaf.sheet.bookmark(block.title, 1, block.key, leaf.y)
    leaf.heading(block.title, note=block.note)
    leaf.y += 1
    with stack.sheet.tagged("Table"):
        _head(leaf, block, head)
        for at, line in enumerate(block.batches):
            leaf = stack.need(_ROW * (2 if at == len(block.batches) - 2 else 1))
            _batch(leaf, line)
            stack.sheet.tick()
    leaf.y += 1.5
    said = [(" ".join(part for part in (block.folded, *block.told) if part), FLOW)]
    if block.open:
        said.append((f" {block.open}", FLOW_RED))
    leaf = stack.need(flow_high(said, FLOW, leaf.whole.wide))
    leaf.flow(said, FLOW)
    if drawn and block.bags is not None:
        leaf = stack.need(3 * _ROW)
        leaf.y += 1.5 * MM
        draw_bags(leaf, block.bags, leaf.whole.parts(2, 6 * MM)[0])


def _spans(leaf: Leaf) -> list[GridSpan]:
    ends = (*_STARTS[1:], leaf.whole.wide / MM + 2)
    return [
        GridSpan(leaf.whole.x + start * MM, (end - start - 2) * MM) for start, end in zip(_STARTS, ends, strict=True)
    ]


def _head(leaf: Leaf, block: MortarBlock, high: float) -> None:
    lowest = leaf.y + high
    with leaf.sheet.tagged("TR"):
        for text, span in zip(block.heads, _spans(leaf), strict=True):
            leaf.y = lowest - flow_high(text, COLUMN_HEAD, span.wide)
            with leaf.sheet.tagged("TH", scope="Column"):
                leaf.flow(text, COLUMN_HEAD, span)
    leaf.y = lowest + 1


def _batch(leaf: Leaf, line: BatchLine) -> None:
    sheet, top = leaf.sheet, leaf.y
    spans = _spans(leaf)
    with sheet.tagged("TR"):
        for at, text in enumerate((line.number, line.mixed, line.bags, line.slaked)):
            leaf.y, heads, span = top, not at, spans[at]
            with sheet.tagged("TH" if heads else "TD", scope="Row" if heads else ""):
                leaf.flow(text, FLOW_STRONG if heads else FLOW, span)
        for bar, span, stop in zip((line.pot_life, line.open_time), spans[4:], _STOP, strict=True):
            with sheet.tagged("TD"):
                if bar is not None:
                    _bar(leaf, bar, span, top, stop)
    leaf.y = top + _ROW


def _bar(leaf: Leaf, bar: ClockBar, span: GridSpan, top: float, stop: float) -> None:
    sheet = leaf.sheet
    middle = top + FLOW.leading / 2 + 0.6
    with sheet.decoration():
        sheet.line(span.x, middle, span.x + stop, middle, 0.4, HAIR)
        wide = stop * min(bar.share, _OVER)
        sheet.rect(span.x, middle - _HIGH / 2, wide, _HIGH, fill=BAR)
        sheet.line(span.x + stop, middle - _HIGH * 0.8, span.x + stop, middle + _HIGH * 0.8, 1.3, BLACK)
    leaf.y = top
    left = max(stop, stop * min(bar.share, _OVER)) + 1.5 * MM
    leaf.flow(bar.told, FLOW_STRONG if bar.out else FLOW, GridSpan(span.x + left, span.wide + 2 * MM - left))


def draw_bags(leaf: Leaf, bags: BagsDrawn, span: GridSpan) -> None:
    """Bags to be expected and bags used, one bar below the other."""
    most = max(bags.expected, bags.used, 0.1)
    lead, room = 30 * MM, span.wide - 30 * MM
    for text, count, dark in zip(bags.told, (bags.expected, bags.used), (False, True), strict=True):
        top = leaf.y
        leaf.flow(text, FLOW, GridSpan(span.x, lead))
        with leaf.sheet.decoration():
            middle = top + FLOW.leading / 2 + 0.6
            wide = room * count / most
            leaf.sheet.rect(
                span.x + lead, middle - _HIGH / 2, wide, _HIGH, fill=BAR if dark else WHITE, stroke=BLACK, thick=0.5
            )
        leaf.y = top + _ROW
