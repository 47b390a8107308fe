"""The daily log as pictures of its pages, to be read on the tablet."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from fieldassist.trade.quantities import Units
from fieldassist.ui.content.export import write_pdf

# PDFium must not be called by two threads at once (its own documentation).
_PDFIUM = threading.Lock()
# A page of 1600 pixels takes 11 MB.
_KEPT = 6


@dataclass(frozen=True, slots=True)
class PagePicture:
    """A page drawn: width and height [pixels], and three bytes a pixel (red, green, blue), the upper row first."""

    width: int
    height: int
    rgb: bytes


@dataclass(frozen=True, slots=True)
class PrintedDay:
    """A day's log as it was printed: of the log that ends in `head`, in these units."""

    pdf: Path
    pages: int
    head: str
    units: Units


def printed_day(day: Path, head: str, units: Units, folder: Path) -> PrintedDay:
    """The daily log of a day, printed into the tablet's own folder; once for each head of its log and units.

    Takes seconds: not for the screen's thread. What was printed for an earlier head is taken away. CannotWrite,
    NoFacts, LogProblem.
    """
    folder.mkdir(parents=True, exist_ok=True)
    out = folder / f"{head[:24]}-{units}.pdf"
    if not out.exists():
        for old in folder.glob("*.pdf"):
            old.unlink(missing_ok=True)
        write_pdf(day, out, units, lambda _done, _total: None)
    return PrintedDay(out, count_pages(out), head, units)


def count_pages(pdf: Path) -> int:
    """How many pages a PDF has."""
    import pypdfium2

    with _PDFIUM, pypdfium2.PdfDocument(pdf) as document:
        return len(document)


def page_picture(pdf: Path, number: int, width: int) -> PagePicture:
    """A page of a PDF, by number from 1, so many pixels wide. IndexError where there is no such page."""
    import pypdfium2

    with _PDFIUM, pypdfium2.PdfDocument(pdf) as document:
        if not 1 <= number <= len(document):
            raise IndexError(f"page {number} of {len(document)}")
        page = document[number - 1]
        bitmap = page.render(scale=width / page.get_width(), rev_byteorder=True, no_smoothtext=False)
        # Rows may be longer than the page is wide, and have a fourth byte a pixel.
        pixels = bitmap.to_numpy()[:, :, :3]
        return PagePicture(pixels.shape[1], pixels.shape[0], pixels.tobytes())


class PageCache:
    """The last few pages that were drawn, by file, number and width."""

    def __init__(self) -> None:
        self._kept: OrderedDict[tuple[Path, int, int], PagePicture] = OrderedDict()

    def get(self, pdf: Path, number: int, width: int) -> PagePicture | None:
        """A page if it is kept."""
        found = self._kept.get((pdf, number, width))
        if found is not None:
            self._kept.move_to_end((pdf, number, width))
        return found

    def keep(self, pdf: Path, number: int, width: int, picture: PagePicture) -> None:
        """Keep a page; the one that was not asked for the longest time goes."""
        self._kept[pdf, number, width] = picture
        while len(self._kept) > _KEPT:
            self._kept.popitem(last=False)


_Then = Callable[[Any], None]
# Has work done beside the screen: the work, what is called with what it gave, and with what went wrong.
RunBeside = Callable[[Callable[[], Any], _Then, _Then], None]


class PageShelf:
    """The pages of the day that is open, printed and drawn beside the screen, and kept.

    printed: the day's log as it was printed last, of whatever head; problem: why it could not be printed, None where it
    was. Everything is to be called in the screen's own thread.
    """

    def __init__(self) -> None:
        self.printed: PrintedDay | None = None
        self.problem: Exception | None = None
        self._tried: tuple[str, Units] | None = None
        self._printing = False
        self._drawing: set[tuple[Path, int, int]] = set()
        self._cache = PageCache()

    def print(
        self, day: Path, head: str, units: Units, folder: Path, beside: RunBeside, changed: Callable[[], None]
    ) -> None:
        """Have the day printed as it is now; once for each head of its log and units, and one after the other.

        changed: called when it is there; whoever shows it asks again then, in case the day went on meanwhile.
        """
        wanted = (head, units)
        if self._printing or self._tried == wanted:
            return
        self._printing, self._tried = True, wanted

        def done(printed: PrintedDay) -> None:
            self._printing, self.printed, self.problem = False, printed, None
            changed()

        def failed(problem: Exception) -> None:
            self._printing, self.problem = False, problem
            changed()

        beside(lambda: printed_day(day, head, units, folder), done, failed)

    def is_of(self, head: str, units: Units) -> bool:
        """Whether what is printed is of this head of the log."""
        return self.printed is not None and (self.printed.head, self.printed.units) == (head, units)

    def page(self, number: int, width: int, beside: RunBeside, changed: Callable[[], None]) -> PagePicture | None:
        """A page so many pixels wide; None while it is drawn: `changed` is called when it is there."""
        if self.printed is None:
            return None
        pdf = self.printed.pdf
        found = self._cache.get(pdf, number, width)
        if found is not None or (pdf, number, width) in self._drawing:
            return found
        self._drawing.add((pdf, number, width))

        def done(picture: PagePicture) -> None:
            self._drawing.discard((pdf, number, width))
            self._cache.keep(pdf, number, width, picture)
            changed()

        # A page that was printed anew meanwhile is asked for again: nothing is told of it.
        beside(
            lambda: page_picture(pdf, number, width), done, lambda _problem: self._drawing.discard((pdf, number, width))
        )
        return None
