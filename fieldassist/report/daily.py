"""The daily log on paper: what the crew hands to owner and inspector at the end of the day.

The pages are drawn from `build.build_report` and decide nothing: `front`, `area` and `closing` lay out its parts.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from reportlab.lib.pagesizes import A4, LETTER
from reportlab.pdfgen.canvas import Canvas

from fieldassist.checklist.events import DaySealed
from fieldassist.language import Words
from fieldassist.record.disk import whole_file
from fieldassist.record.manifest import unkept
from fieldassist.report import fonts
from fieldassist.report.area import area_pages
from fieldassist.report.build import checked_report
from fieldassist.report.closing import (
    addendum_pages,
    how_to_read,
    questions,
    references,
    refused,
    signatures,
    verifying,
)
from fieldassist.report.enclosures import CannotWrite, Enclosures, LeftOut, Record, enclose, record_of
from fieldassist.report.front import first_page
from fieldassist.report.grid import grid_foot, in_fours
from fieldassist.report.pdf import SignatureField, finish
from fieldassist.report.photos import photo_rows
from fieldassist.report.pictures import Album
from fieldassist.report.report_model import AreaReport, DayReport, SealState
from fieldassist.report.sheet import GREY, INK, RULE, SMALL, Pen, Sheet, SheetPage, Style
from fieldassist.report.trial_page import TrialPages
from fieldassist.report.wording import CONVERSIONS, DAY_MARKS, one_line, part
from fieldassist.trade.message import Figure, Message, message
from fieldassist.trade.quantities import Units

__all__ = ["CannotWrite", "DailyReport", "LeftOut", "Record", "lay_out", "record_of", "write_daily_pdf"]

_FOOT = Style(fonts.BODY, 6.6, 8, GREY)
_FOOT_HASH = Style(fonts.MONO, 5.9, 8, INK)
_MARK = Style(fonts.BOLD, 9.5, 12, (1.0, 1.0, 1.0))
_MARK_FILL, _MARK_HIGH = (0.55, 0.0, 0.0), 22.0  # points
_COPY = "copy of the signed file"
_HEAD_DIGITS = 24  # of 64, beside which a copy is compared


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
    progress: Callable[[int, int], None] | None = None,
) -> DailyReport:
    """Write the day's log as a PDF with the record attached.

    Parameters: record, see `record_of`; path, of the PDF; units "metric" (A4) or "us" (US Letter), None for the plan's
    own; progress(done, total) is called many times and ends with done = total.
    The file appears under its name only once it is complete and on disk; a failure leaves what was there before. The
    same record, units and program give the same bytes; other builds of the libraries that pack streams and pictures may
    pack them differently. Of a day whose seal names a certificate it is a copy, and says so: `signed` has the other.
    Errors: `build.NoDay` without an opened day; `CannotWrite` when the disk refuses.
    """
    printed = print_pages(record, units=units, progress=progress)
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
    progress: Callable[[int, int], None] | None = None,
    signature: SignatureField | None = None,
) -> Printed:
    """The day's log as a PDF; parameters and errors as `write_daily_pdf`, but progress does not come to its end.

    signature: leave room for it; without one, the pages of a day that has a signed file are marked as a copy.
    """
    day = checked_report(record.events, record.hashes, units=units)
    enclosed = enclose(record)
    steps = _Progress(progress, _count_lines(day))
    head = record.hashes[-1]
    sheet = lay_out(day, steps.laid, Album(enclosed.original), _not_attached(record, enclosed), head)
    paper = io.BytesIO()
    canvas = Canvas(
        paper,
        pagesize=(sheet.page_width, sheet.page_height),
        invariant=1,
        pageCompression=0,  # done when the document is finished
        initialFontName=fonts.BODY,
        lang="en",
    )
    mark = f"{mark_word}: " if (mark_word := DAY_MARKS[day.kind][0]) else ""
    canvas.setTitle(f"{mark}Daily log, {day.plan.site}, {day.plan.date}")
    canvas.setAuthor(_author(day))
    canvas.setSubject(f"{mark}Tile setting, {day.events} events, log head {head}")
    canvas.setCreator(record.program)
    canvas.setProducer("fieldassist")
    canvas.showOutline()

    copy = signature is None and any(isinstance(e.body, DaySealed) and e.body.certificate for e in record.events)

    def frame(pen: Pen, number: int, total: int, page: SheetPage) -> None:
        _mark(pen, sheet, day)
        if page.on_grid:
            told = message("trialpage-page", number=number, total=total)
            _foot_on_grid(pen, sheet, day, head, message("trialpage-copy", page=told) if copy else told)
        else:
            pages = f"page {number} of {total}"
            _frame(pen, sheet, day, head, f"{_COPY}, {pages}" if copy else pages, page, first=number == 1)

    sheet.draw(canvas, frame, steps.drawn)
    canvas.save()
    when = datetime.fromisoformat(record.events[-1].at.wall)
    content = finish(paper.getvalue(), enclosed.files, when, signature)
    return Printed(content, len(sheet.pages), enclosed.left_out, steps.whole)


def _not_attached(record: Record, enclosed: Enclosures) -> tuple[str, ...]:
    """Files that events speak of and that are not in the PDF, each in a few words that tell nothing but that.

    Why it is so depends on the tablet; printed again from what is attached, the page must say the same.
    """
    return (
        *(f"{x.name} (missing or damaged on the tablet, or beyond 50 MB together)" for x in enclosed.left_out),
        *(f"{name} (event {seq}; not named by its content)" for seq, name in unkept(record.events)),
    )


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


def _count_lines(day: DayReport) -> int:
    of_areas = sum(len(a.sequence) + len(a.lifts) + len(a.withdrawn) + len(a.photos) for a in day.areas)
    return of_areas + len(day.refused) + len(day.notes) + len(day.dust) + len(day.conditions) + len(day.photos)


def _author(day: DayReport) -> str:
    if day.signature is not None:
        return day.signature.name
    return ", ".join(c.name for c in day.crew if c.role == "foreman")


def store(content: bytes, path: Path) -> None:
    """Write a file whole or not at all. CannotWrite when the disk refuses."""
    try:
        with whole_file(path) as file:
            file.write(content)
    except OSError as error:
        why = error.strerror or type(error).__name__
        raise CannotWrite(message("report-cannot-write", file=str(path), why=why)) from error


# --- head and foot of each page -----------------------------------------------------------------------------------


def _mark(pen: Pen, sheet: Sheet, day: DayReport) -> None:
    word, meaning = DAY_MARKS[day.kind]
    if word:
        # Above everything and across the whole page, so that no copy of a page can lose it unseen.
        pen.rect(0, 0, sheet.page_width, _MARK_HIGH, _MARK_FILL, None, 0, dash=False)
        pen.put(sheet.left, _MARK_HIGH - 7, f"{word}: {meaning}", _MARK)


def _frame(pen: Pen, sheet: Sheet, day: DayReport, head: str, pages: str, page: SheetPage, *, first: bool) -> None:
    put = pen.put
    if not first:
        wide = sheet.width * 0.62
        put(
            sheet.left,
            38,
            one_line(f"Daily log  ·  {day.plan.site}  ·  {day.plan.date}", SMALL, wide),
            SMALL,
        )
        if page.running:
            text = fonts.printable(page.running, SMALL.face)
            put(sheet.right - fonts.width(text, SMALL.face, SMALL.size), 38, text, SMALL)
        pen.line(sheet.left, 43, sheet.right, 43, 0.5, RULE)
    y = sheet.page_height - 42
    pen.line(sheet.left, y, sheet.right, y, 0.5, RULE)
    put(sheet.right - fonts.width(pages, fonts.BOLD, 7.2), y + 11, pages, Style(fonts.BOLD, 7.2, 9, INK))
    x = sheet.left + put(sheet.left, y + 11, f"{day.events} events, log head (SHA-256)", _FOOT)
    put(x + 4, y + 11, head, _FOOT_HASH)
    if day.signature is None:
        signed = "NOT SIGNED. The day was not closed when this was printed."
    else:
        signed = f"signed by {day.signature.name}, {day.signature.role}: {day.whole_standing}"
    put(sheet.left, y + 20, one_line(signed, _FOOT, sheet.width), _FOOT)
    put(sheet.left, y + 29, one_line(page.foot or CONVERSIONS[day.units], _FOOT, sheet.width), _FOOT)


def _foot_on_grid(pen: Pen, sheet: Sheet, day: DayReport, head: str, pages: Message) -> None:
    words = Words("en", day.units)
    signed = day.signature
    record = message("trialpage-record", events=day.events, head=in_fours(head[:_HEAD_DIGITS]))
    if signed is None:
        told = message("trialpage-foot-not-signed", record=record)
    else:
        about: dict[str, Figure] = {
            "name": message("prompt-person", name=signed.name),
            "role": signed.role,
            "time": signed.time,
        }
        codes: Mapping[SealState, str] = {"sealed": "sealed", "signed, not sealed": "not-sealed"}
        told = message(f"trialpage-foot-{codes.get(signed.standing, 'unfit')}", record=record, **about)
    grid_foot(pen, sheet, words(told), words(pages), red=day.standing != "sealed")


# --- the whole --------------------------------------------------------------------------------------------------


def lay_out(
    day: DayReport,
    tick: Callable[[], None] = lambda: None,
    album: Album | None = None,
    not_attached: Sequence[str] = (),
    head: str = "",
) -> Sheet:
    """The pages of a day, ready to be drawn.

    Parameters: tick, called once a table row and once a photo; album, the photos, None where there are none at hand;
    not_attached, files that events speak of and that do not go with the pages; head, the hash in which the log ends.
    """
    sheet = Sheet(LETTER if day.units == "us" else A4, tick)
    album = album or Album(lambda _: None)
    # A day of trials alone is handed over for what they show: their pages come first, then who answers for them.
    trials_alone = bool(day.areas) and all(area.trial is not None for area in day.plan.areas)
    if trials_alone:
        for number, area in enumerate(day.areas, start=1):
            _trial_pages(sheet, day, area, number, album, head)
        sheet.running = "Closing"
        _answered_for(sheet, day, not_attached)
        sheet.running = ""
        sheet.new_page()
    first_page(sheet, day)
    for number, area in enumerate(day.areas, start=1):
        if not trials_alone:
            _trial_pages(sheet, day, area, number, album, head)
        area_pages(sheet, day, area, number, album)
    sheet.running, sheet.foot = "Closing", ""
    if day.photos:
        part(sheet, "Photos taken between the areas", "photos", 60)
        photo_rows(sheet, day.photos, album)
    refused(sheet, day)
    if not trials_alone:
        _answered_for(sheet, day, not_attached)
    for addendum in day.addenda:
        addendum_pages(sheet, day, addendum)
    sheet.running, sheet.foot = "Closing", ""
    questions(sheet, day)
    references(sheet, day)
    how_to_read(sheet, day)
    return sheet


def _trial_pages(sheet: Sheet, day: DayReport, area: AreaReport, number: int, album: Album, head: str) -> None:
    if area.trial is not None:
        TrialPages(sheet, day, area.trial, album, head).draw(f"trial-{number}")


def _answered_for(sheet: Sheet, day: DayReport, not_attached: Sequence[str]) -> None:
    signatures(sheet, day)
    verifying(sheet, day, not_attached)
