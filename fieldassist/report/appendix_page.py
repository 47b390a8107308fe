"""The appendix."""

from __future__ import annotations

from collections.abc import Sequence

from fieldassist.report.appendix_model import Appendix
from fieldassist.report.grid import PAGE_TITLE, Leaf
from fieldassist.report.sheet import Sheet


def appendix_pages(sheet: Sheet, appendix: Appendix, attached: Sequence[str]) -> None:
    """Draw them. attached: what is told of the files that go with the pages."""
    leaf = Leaf(sheet, appendix.running)
    sheet.bookmark(appendix.title, 0, "appendix", leaf.y)
    leaf.flow(appendix.title, PAGE_TITLE, kind="H1")
    if attached:
        leaf.block(sheet.said("appendix-attached"), attached)
