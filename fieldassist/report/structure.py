"""The structure of a tagged document, written into its file: which stretch of drawing and which annotation belong to
which element, in the order in which they are read (ISO 32000-1, 14.7 and 14.8).

Each page's stretches are numbered in the order in which they are drawn, which is the order in which they are read.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pikepdf

from fieldassist.report.tags import Box, Linked, Marked, Tag

_REFERENCE, _CONTENT = pikepdf.Name.OBJR, pikepdf.Name.MCR


def write_structure(pdf: pikepdf.Pdf, document: Tag) -> None:
    """Give the document its structure tree, each page and annotation its place in it, and the mark that it is tagged.

    document: the outermost element; the pages' marked stretches and annotations are those that it and what it holds
    name. ValueError for a stretch or an annotation that belongs to no element, or to two: it would be read by nobody.
    """
    root = pdf.make_indirect(pikepdf.Dictionary(Type=pikepdf.Name.StructTreeRoot))
    tree = _Tree(pdf)
    root.K = tree.element(document, root)
    root.ParentTree = pdf.make_indirect(pikepdf.Dictionary(Nums=pikepdf.Array(list(tree.parents()))))
    pdf.Root.StructTreeRoot = root
    pdf.Root.MarkInfo = pikepdf.Dictionary(Marked=True)


class _Tree:
    """The elements as they are written, and whose each stretch and annotation is."""

    def __init__(self, pdf: pikepdf.Pdf) -> None:
        self._pdf = pdf
        self._pages = [page.obj for page in pdf.pages]
        self._annotations = [list(page.get("/Annots", ())) for page in self._pages]
        self._stretches: list[list[Any]] = [[] for _ in self._pages]
        self._of: dict[Linked, Any] = {}

    def element(self, tag: Tag, parent: Any) -> Any:
        """The element written, with all that it holds."""
        written = self._pdf.make_indirect(pikepdf.Dictionary(S=pikepdf.Name("/" + tag.kind), P=parent))
        if tag.alt:
            written.Alt = pikepdf.String(_not_too_long(tag.alt))
        attributes = _attributes(tag)
        if attributes:
            written.A = pikepdf.Dictionary(attributes)
        page: int | None = None
        kids: list[Any] = []
        for held in tag.holds:
            if isinstance(held, Tag):
                kids.append(self.element(held, written))
                continue
            if page is None:
                page = held.page
                written.Pg = self._pages[page]
                if tag.box is not None:
                    written.A = self._placed(tag.box, page)
            kids.append(self._marked(held, written, page) if isinstance(held, Marked) else self._linked(held, written))
        if kids:
            written.K = kids[0] if len(kids) == 1 else pikepdf.Array(kids)
        return written

    def _placed(self, box: Box, page: int) -> Any:
        """Where a figure is drawn (14.8.5.4), counted from the lower left corner of its page."""
        left, upper, right, lower = box
        high = float(self._pages[page].MediaBox[3])
        edges = pikepdf.Array([round(edge, 2) for edge in (left, high - lower, right, high - upper)])
        return pikepdf.Dictionary(O=pikepdf.Name.Layout, BBox=edges)

    def _marked(self, held: Marked, element: Any, page: int) -> Any:
        stretches = self._stretches[held.page]
        if held.number != len(stretches):
            raise ValueError(f"page {held.page + 1} is not read in the order in which it is drawn, at {held.number}")
        stretches.append(element)
        if held.page == page:
            return held.number
        return pikepdf.Dictionary(Type=_CONTENT, Pg=self._pages[held.page], MCID=held.number)

    def _linked(self, held: Linked, element: Any) -> Any:
        if held in self._of:
            raise ValueError(f"annotation {held.annotation} of page {held.page + 1} belongs to two elements")
        self._of[held] = element
        annotation = self._annotations[held.page][held.annotation]
        annotation.StructParent = len(self._pages) + len(self._of) - 1
        return pikepdf.Dictionary(Type=_REFERENCE, Pg=self._pages[held.page], Obj=annotation)

    def parents(self) -> Iterator[Any]:
        """The tree of numbers that leads back to the elements: a page's to all of its stretches, an annotation's to its
        own one (14.7.4.4)."""
        for number, (page, stretches) in enumerate(zip(self._pages, self._stretches, strict=True)):
            page.StructParents = number
            page.Tabs = pikepdf.Name.S
            yield number
            yield pikepdf.Array(stretches)
        if len(self._of) != sum(map(len, self._annotations)):
            raise ValueError("an annotation belongs to no element")
        for number, element in enumerate(self._of.values(), start=len(self._pages)):
            yield number
            yield element


# ISO 19005-3, 6.1.13: a string has at most 32,767 bytes; less its mark of two.
_MOST_UNITS = 32_765 // 2


def _not_too_long(told: str) -> str:
    """What a figure shows, as far as a string holds it: whole sentences, then a sign that there is more.

    >>> len(_not_too_long("Lift 1 is good. " * 2000)), _not_too_long("Lift 1 is good. " * 2000)[-8:]
    (16369, ' good. …')
    """
    if len(told.encode("utf-16-be")) <= 2 * _MOST_UNITS:
        return told
    held = told.encode("utf-16-be")[: 2 * (_MOST_UNITS - 2)].decode("utf-16-be", "ignore")
    return held[: held.rfind(". ") + 1 or None] + " …"


def _attributes(tag: Tag) -> dict[str, Any]:
    """What is told of an element besides (14.8.5): whose head a cell is, how many columns it takes, how a list's items
    are labelled."""
    if tag.kind == "L":
        labels = [part.label for item in _elements(tag) for part in _elements(item) if part.kind == "Lbl"]
        numbered = bool(labels) and all(label.isdigit() for label in labels)
        numbering = pikepdf.Name.Decimal if numbered else pikepdf.Name("/None")
        return {"/O": pikepdf.Name.List, "/ListNumbering": numbering}
    told: dict[str, Any] = {}
    if tag.scope:
        told["/Scope"] = pikepdf.Name("/" + tag.scope)
    if tag.across > 1:
        told["/ColSpan"] = tag.across
    return {"/O": pikepdf.Name.Table, **told} if told else {}


def _elements(tag: Tag) -> Iterator[Tag]:
    return (held for held in tag.holds if isinstance(held, Tag))
