"""The page of signatures and seal, and the pages of addenda."""

from __future__ import annotations

from fieldassist.report.closing_model import AddendumPages, SigningPage
from fieldassist.report.grid import PAGE_TITLE, Leaf
from fieldassist.report.sheet import Sheet


def signing_page(sheet: Sheet, signing: SigningPage) -> None:
    """Draw it."""
    leaf = Leaf(sheet, signing.running)
    sheet.bookmark(signing.title, 0, "signing", leaf.y)
    leaf.flow(signing.title, PAGE_TITLE, kind="H1")


def addendum_pages(sheet: Sheet, addendum: AddendumPages) -> None:
    """Draw them."""
    leaf = Leaf(sheet, addendum.running)
    sheet.bookmark(addendum.title, 0, addendum.key, leaf.y)
    leaf.flow(addendum.title, PAGE_TITLE, kind="H1")
