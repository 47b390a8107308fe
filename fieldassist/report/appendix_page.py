"""The appendix."""

from __future__ import annotations

from fieldassist.report.appendix_model import Appendix
from fieldassist.report.grid import PAGE_TITLE, Leaf
from fieldassist.report.sheet import Sheet


def appendix_pages(sheet: Sheet, appendix: Appendix) -> None:
    """Draw them."""
    leaf = Leaf(sheet, appendix.running)
    sheet.bookmark(appendix.title, 0, "appendix", leaf.y)
    leaf.flow(appendix.title, PAGE_TITLE, kind="H1")
