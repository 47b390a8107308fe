"""Page one: thirty seconds."""

from __future__ import annotations

from fieldassist.report.front_model import FrontPage
from fieldassist.report.grid import CAPTION, FIGURE, TITLE, VERDICT, Leaf
from fieldassist.report.sheet import Sheet


def front_page(sheet: Sheet, front: FrontPage) -> None:
    """Draw it."""
    leaf = Leaf(sheet)
    sheet.bookmark(front.site, 0, "front", leaf.y)
    leaf.flow(front.site, TITLE, kind="H1")
    leaf.flow(front.date, FIGURE)
    leaf.flow(front.about, CAPTION)
    leaf.rule(1.6)
    leaf.flow(front.verdict, VERDICT)
