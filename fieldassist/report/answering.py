"""Who answers for a day's pages, at the foot of the page that comes first: name, key and a code that a camera reads."""

from __future__ import annotations

from reportlab.lib.pagesizes import A4

from fieldassist.qr import qr_modules
from fieldassist.report import fonts
from fieldassist.report.answering_model import Answering
from fieldassist.report.grid import (
    CAPTION,
    FLOW,
    FLOW_RED,
    HEADING,
    MM,
    GridSpan,
    Leaf,
    flow_high,
    key_cells,
)
from fieldassist.report.sheet import BLACK, Style, wrap

_KEY = Style(fonts.REGULAR, 12.5, 17, BLACK)
_HOW_TO_CHECK = "signing"  # the bookmark of the page that tells it
_GAP = 6 * MM
_HEADING_HIGH = HEADING.leading + 3


def code_side(leaf: Leaf) -> float:
    """How wide the code is, without its light border [points]: what stands around it has to leave that free."""
    return (25.0 if leaf.paper.size[0] <= A4[0] else 22.0) * MM


def answering_high(leaf: Leaf, answers: Answering) -> float:
    """How high it stands at the foot of a page."""
    wide = _span(leaf).wide
    high = _HEADING_HIGH + flow_high(answers.told, FLOW, wide) + flow_high(answers.about, CAPTION, wide)
    high += sum(flow_high(alarm, FLOW_RED, wide) for alarm in answers.alarms)
    return max(high + (_KEY.leading if answers.key else 0), code_side(leaf))


def draw_answering(leaf: Leaf, answers: Answering) -> None:
    """Who answers, at the foot of this page."""
    leaf.y = leaf.bottom - answering_high(leaf, answers)
    span = _span(leaf)
    leaf.heading(answers.title, span)
    # The key follows at once on what tells of it.
    for alarm in answers.alarms:
        leaf.flow(alarm, FLOW_RED, span)
    leaf.flow(answers.told, FLOW, span)
    if answers.key:
        leaf.y += _KEY.leading
        with leaf.sheet.tagged("P"):
            key_cells(leaf.sheet, span.x, leaf.y - 4.5, answers.key, _KEY)
    with leaf.sheet.tagged("P"):
        leaf.flow(answers.about, CAPTION, span)
        last = wrap(f"{answers.about} ", CAPTION, span.wide)[-1]
        wide = fonts.width(f"{last} {leaf.sheet.said('page-reference', number=88)}", CAPTION.face, CAPTION.size)
        leaf.sheet.page_number(span.x + wide, leaf.y - 2.4, _HOW_TO_CHECK, CAPTION)
    side, rows = code_side(leaf), qr_modules(answers.code)
    with leaf.sheet.tagged("Figure", alt=answers.code):
        leaf.sheet.squares(leaf.whole.end - side, leaf.bottom - side, side / len(rows), rows)
    leaf.y = leaf.bottom


def _span(leaf: Leaf) -> GridSpan:
    return GridSpan(leaf.whole.x, leaf.whole.wide - code_side(leaf) - _GAP)
