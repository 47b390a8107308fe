"""The daily log on paper: what the crew hands to owner and inspector at the end of the day.

Facts, then `build.day_pages`, then pages: each is a function of its part of the model, and decides nothing.
"""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from reportlab.lib.pagesizes import A4, LETTER
from reportlab.pdfgen.canvas import Canvas

from fieldassist.checklist.events import DayOpened, DaySealed
from fieldassist.facts.build import day_facts
from fieldassist.language import FALLBACK, READ_LANGUAGES, Words
from fieldassist.record.disk import whole_file
from fieldassist.report import fonts
from fieldassist.report.appendix_page import appendix_pages
from fieldassist.report.area_page import area_pages, photo_page
from fieldassist.report.build import day_pages
from fieldassist.report.closing_page import addendum_pages, by_hand_page, signing_page
from fieldassist.report.enclosures import CannotWrite, LeftOut, Record, enclose, record_of
from fieldassist.report.front_page import front_page
from fieldassist.report.grid import frame
from fieldassist.report.letters import with_letters_named
from fieldassist.report.model import DayPages
from fieldassist.report.pdf import SignatureField, finish
from fieldassist.report.pictures import Album
from fieldassist.report.sequence import sequence_files
from fieldassist.report.sheet import BLACK, Pen, Sheet, SheetPage, Style
from fieldassist.report.trial_page import TrialPages
from fieldassist.trade.message import message
from fieldassist.trade.quantities import Units

__all__ = ["CannotWrite", "DailyReport", "LeftOut", "Record", "lay_out", "record_of", "write_daily_pdf"]

_MARK = Style(fonts.HEAVY, 9.5, 12, (1.0, 1.0, 1.0))
_MARK_HIGH = 22.0  # points


@dataclass(frozen=True, slots=True)
class DailyReport:
    """What was written, on how many pages, and which attachments are not in it. signed: it is the day's signed file."""

    pages: int
    path: Path
    left_out: tuple[LeftOut, ...] = ()
    signed: bool = False


def write_daily_pdf(
    record: Record,
    path: Path,
    *,
    units: Units | None = None,
    language: str | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> DailyReport:
    """Write the day's log as a PDF with the record attached.

    Parameters: record, see `record_of`; path, of the PDF; units "metric" (A4) or "us" (US Letter), None for the plan's
    own; language, None for the plan's own; progress(done, total) is called many times and ends with done = total.
    The file appears under its name only once it is complete and on disk; a failure leaves what was there before. The
    same record, units and program give the same bytes; other builds of the libraries that pack streams and pictures may
    pack them differently. Of a day whose seal names a certificate it is a copy, and says so: `signed` has the other.
    Errors: `facts.build.NoFacts` without an opened day; `CannotWrite` when the disk refuses.
    """
    printed = print_pages(record, units=units, language=language, progress=progress)
    store(printed.content, path)
    if progress is not None:
        progress(printed.steps, printed.steps)
    return DailyReport(printed.pages, path, printed.left_out)


@dataclass(frozen=True, slots=True)
class Printed:
    """A day's pages as a PDF, on how many pages, which attachments are not in it, and in how many steps it was made."""

    content: bytes
    pages: int
    left_out: tuple[LeftOut, ...]
    steps: int


def print_pages(
    record: Record,
    *,
    units: Units | None = None,
    language: str | None = None,
    progress: Callable[[int, int], None] | None = None,
    signature: SignatureField | None = None,
) -> Printed:
    """The day's log as a PDF; parameters and errors as `write_daily_pdf`, but progress does not come to its end.

    signature: leave room for it; without one, the pages of a day that has a signed file are marked as a copy.
    """
    words = document_words(record, units, language)
    facts = day_facts(record.events, record.hashes, words)
    enclosed = enclose(record, sequence_files(facts))
    pages = day_pages(facts, words, enclosed)
    steps = _Progress(progress, len(record.events))
    sheet = lay_out(pages, words, steps.laid, Album(enclosed.picture))
    paper = io.BytesIO()
    canvas = Canvas(
        paper,
        pagesize=(sheet.page_width, sheet.page_height),
        invariant=1,
        pageCompression=0,  # done when the document is finished
        initialFontName=fonts.REGULAR,
        lang=pages.language,
    )
    canvas.setTitle(fonts.without_controls(pages.title))
    canvas.setAuthor(fonts.without_controls(pages.author))
    canvas.setSubject(fonts.without_controls(pages.subject))
    canvas.setCreator(record.program)
    canvas.setProducer("fieldassist")
    canvas.showOutline()
    around_pages = with_letters_named(pages.frame, words(message("page-letters-lacking")))
    copy = signature is None and any(isinstance(e.body, DaySealed) and e.body.certificate for e in record.events)

    def around(pen: Pen, number: int, total: int, page: SheetPage) -> None:
        told = message("page-copy" if copy else "page-number", number=number, total=total)
        head, foot = (around_pages.head, page.running), (around_pages.foot, words(told))
        if around_pages.mark:
            # Above everything and across the whole page, so that no copy of a page can lose it unseen.
            pen.rect(0, 0, sheet.page_width, _MARK_HIGH, BLACK, None, 0, dash=False)
            pen.put(_MARK_HIGH, _MARK_HIGH - 7, around_pages.mark, _MARK)
        frame(pen, sheet, head, foot, red=around_pages.red)

    sheet.draw(canvas, around, steps.drawn)
    canvas.save()
    when = datetime.fromisoformat(record.events[-1].at.wall)
    content = finish(paper.getvalue(), sheet.document, enclosed.files, when, words, signature)
    return Printed(content, len(sheet.pages), enclosed.left_out, steps.whole)


def document_words(record: Record, units: Units | None = None, language: str | None = None) -> Words:
    """The words of a day's documents, facts and labels: in this language and these units, None for the plan's; English
    where there are none in the plan's language."""
    opened = record.events[0].body if record.events else None
    if not isinstance(opened, DayOpened):
        return Words(language or FALLBACK, units or "metric")  # no day: whoever asks for its facts is told so
    planned = opened.plan.documents if opened.plan.documents in READ_LANGUAGES else FALLBACK
    return Words(language or planned, units or opened.plan.units)


class _Progress:
    """Laying out is the first half of the work, drawing the second."""

    def __init__(self, report: Callable[[int, int], None] | None, lines: int) -> None:
        self._report = report
        self._half = max(1, lines)
        self.whole = 2 * self._half
        self._done = 0

    def laid(self) -> None:
        self._done = min(self._done + 1, self._half)
        if self._done % 25 == 0:
            self._say()

    def drawn(self, page: int, pages: int) -> None:
        # The last step is kept back until the file is on disk.
        self._done = self._half + min(self._half * page // pages, self._half - 1)
        self._say()

    def _say(self) -> None:
        if self._report is not None:
            self._report(self._done, self.whole)


def store(content: bytes, path: Path) -> None:
    """Write a file whole or not at all. CannotWrite when the disk refuses."""
    try:
        with whole_file(path) as file:
            file.write(content)
    except OSError as error:
        why = error.strerror or type(error).__name__
        raise CannotWrite(message("report-cannot-write", file=str(path), why=why)) from error


# --- the whole --------------------------------------------------------------------------------------------------


def lay_out(
    pages: DayPages, words: Words, tick: Callable[[], None] = lambda: None, album: Album | None = None
) -> Sheet:
    """The pages of a day, ready to be drawn.

    Parameters: words, of the pages' own labels; tick, called once a table row and once a photo; album, the photos, None
    where there are none at hand.
    """
    pages = with_letters_named(pages, words(message("page-letters-lacking")), pages.numbered)
    sheet = Sheet(LETTER if pages.units == "us" else A4, words, tick)
    album = album or Album(lambda _: None)
    # A day of trials alone is handed over for what they show: their pages come first.
    if pages.trials_alone:
        _areas(sheet, pages, album)
    with sheet.tagged("Sect"):
        front_page(sheet, pages.front)
    if not pages.trials_alone:
        _areas(sheet, pages, album)
    with sheet.tagged("Sect"):
        signing_page(sheet, pages.signing)
    for addendum in pages.addenda:
        with sheet.tagged("Sect"):
            addendum_pages(sheet, addendum)
    with sheet.tagged("Sect"):
        appendix_pages(sheet, pages.appendix, pages.attached)
    with sheet.tagged("Sect"):
        by_hand_page(sheet, pages.by_hand)
    return sheet


def _areas(sheet: Sheet, pages: DayPages, album: Album) -> None:
    for area in pages.areas:
        with sheet.tagged("Sect"):
            if area.trial is not None:
                TrialPages(sheet, area.trial, album).draw(area)
            else:
                area_pages(sheet, area, album)
    if pages.between is not None:
        with sheet.tagged("Sect"):
            photo_page(sheet, pages.between, album)
