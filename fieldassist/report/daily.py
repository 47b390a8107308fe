"""The daily log on paper: what the crew hands to owner and inspector at the end of the day.

The page is drawn from `story.tell` and decides nothing. The same events give the same bytes.
"""

from __future__ import annotations

import io
import os
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from reportlab.lib.pagesizes import A4, LETTER
from reportlab.pdfgen.canvas import Canvas

from fieldassist.checklist.events import Event
from fieldassist.report import charts, fonts
from fieldassist.report.charts import short_time
from fieldassist.report.sheet import (
    ACCENT,
    CELL,
    CELL_ALARM,
    CELL_GREY,
    CELL_STRONG,
    GREY,
    INK,
    LABEL,
    NUMBER,
    PALE,
    RULE,
    SMALL,
    STRONG,
    TEXT,
    Box,
    Cell,
    Column,
    Mark,
    Pen,
    Row,
    Sheet,
    Style,
    wrap,
)
from fieldassist.report.story import (
    AreaStory,
    Batch,
    ClockLine,
    Day,
    FailureStory,
    LiftLine,
    SequenceLine,
    Units,
    tell,
)
from fieldassist.trade.quantities import format_quantity

CLOSING = (
    "This log records what was said, tapped and measured on site. It is no substitute for local codes, the product "
    "data sheets of tile, mortar and equipment, the project's specification, or licensed practice; where they differ, "
    "they go before the limits printed here. Limits marked “as reported” or “from memory” are to be checked against "
    "the bought standard."
)
HOW_TO_READ = (
    "A disc with “pass” and a diamond with “FAIL” tell verdicts. A line struck through was withdrawn: it stays in "
    "the log and counts for nothing. Numbers in square brackets lead to “Where the limits come from”. “Event” numbers "
    "are those of the log; each event carries the hash of the one before, so the head at the foot of each page stands "
    "for all of them."
)

_TITLE = Style(fonts.BOLD, 18, 22)
_SMALL_CAPS = Style(fonts.BOLD, 7.6, 10, GREY)
_AREA = Style(fonts.BOLD, 15, 19)
_FIGURE = Style(fonts.BOLD, 15, 18)
_FIGURE_ALARM = Style(fonts.BOLD, 15, 18, ACCENT)
_ALARM = Style(fonts.BOLD, 8.4, 10.6, ACCENT)
_SMALL_ALARM = Style(fonts.BOLD, 7.2, 9.2, ACCENT)
_FOOT = Style(fonts.BODY, 6.6, 8, GREY)
_FOOT_HASH = Style(fonts.MONO, 5.9, 8, INK)


class CannotWrite(Exception):
    """The PDF could not be written; the text says why and what was kept."""


@dataclass(frozen=True, slots=True)
class DailyReport:
    """What was written, and on how many pages."""

    pages: int
    path: Path


def write_daily_pdf(
    events: Sequence[Event],
    head: str,
    path: Path,
    *,
    units: Units | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> DailyReport:
    """Write the day's log as a PDF.

    Parameters: events, all of the day in order; head, the hash of the last one, printed on each page; path, of the
    PDF; units "metric" (A4) or "us" (US Letter), None for the plan's own; progress(done, total) is called many times
    and ends with done = total.
    The file appears under its name only once it is complete and on disk; a failure leaves what was there before. The
    same events, head and units give the same bytes.
    Errors: `story.NoDay` without an opened day; `CannotWrite` when the disk refuses.
    """
    day = tell(events, units=units)
    steps = _Progress(progress, _count_lines(day))
    sheet = lay_out(day, steps.laid)
    paper = io.BytesIO()
    canvas = Canvas(
        paper,
        pagesize=(sheet.page_width, sheet.page_height),
        invariant=1,
        pageCompression=1,
        initialFontName=fonts.BODY,
        lang="en",
    )
    canvas.setTitle(f"Daily log, {day.plan.site}, {day.plan.date}")
    canvas.setAuthor(_author(day))
    canvas.setSubject(f"Tile setting, {day.events} events, log head {head}")
    canvas.setCreator("fieldassist")
    canvas.setProducer("fieldassist")
    canvas.showOutline()

    def frame(pen: Pen, number: int, total: int, running: str) -> None:
        _frame(pen, sheet, day, head, number, total, running)

    sheet.draw(canvas, frame, steps.drawn)
    canvas.save()
    _store(paper.getvalue(), path)
    steps.finish()
    return DailyReport(len(sheet.pages), path)


class _Progress:
    """Laying out is the first half of the work, drawing the second."""

    def __init__(self, report: Callable[[int, int], None] | None, lines: int) -> None:
        self._report = report
        self._half = max(1, lines)
        self._done = 0

    def laid(self) -> None:
        self._done = min(self._done + 1, self._half)
        if self._done % 25 == 0:
            self._say()

    def drawn(self, page: int, pages: int) -> None:
        # The last step is kept back until the file is on disk.
        self._done = self._half + min(self._half * page // pages, self._half - 1)
        self._say()

    def finish(self) -> None:
        self._done = 2 * self._half
        self._say()

    def _say(self) -> None:
        if self._report is not None:
            self._report(self._done, 2 * self._half)


def _count_lines(day: Day) -> int:
    return sum(len(a.sequence) + len(a.lifts) + len(a.withdrawn) for a in day.areas) + len(day.refused)


def _author(day: Day) -> str:
    if day.signatures:
        return day.signatures[-1].name
    return ", ".join(c.name for c in day.crew if c.role == "foreman")


def _store(content: bytes, path: Path) -> None:
    """Write beside the final name, force to disk, rename."""
    part = path.with_name(f".{path.name}.{os.getpid()}-{threading.get_ident()}.part")
    try:
        with part.open("wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        part.replace(path)
    except OSError as error:
        with suppress(OSError):
            part.unlink(missing_ok=True)
        raise CannotWrite(
            f"The daily log could not be written to {path} ({error.strerror}). The day itself is safe in its log. Free "
            f"some space or choose another folder, then print it again."
        ) from error
    except BaseException:
        part.unlink(missing_ok=True)
        raise


# --- head and foot of each page -----------------------------------------------------------------------------------


def _frame(pen: Pen, sheet: Sheet, day: Day, head: str, number: int, total: int, running: str) -> None:
    def put(x: float, y: float, text: str, style: Style) -> float:
        text = fonts.printable(text, style.face)
        pen.text(x, y, style.face, style.size, style.colour, text)
        return fonts.width(text, style.face, style.size)

    if number > 1:
        wide = sheet.width * 0.62
        put(
            sheet.left,
            38,
            _one_line(f"Daily log  ·  {day.plan.site}  ·  {day.plan.date}", SMALL, wide),
            SMALL,
        )
        if running:
            text = fonts.printable(running, SMALL.face)
            put(sheet.right - fonts.width(text, SMALL.face, SMALL.size), 38, text, SMALL)
        pen.line(sheet.left, 43, sheet.right, 43, 0.5, RULE)
    y = sheet.page_height - 34
    pen.line(sheet.left, y, sheet.right, y, 0.5, RULE)
    pages = f"page {number} of {total}"
    put(sheet.right - fonts.width(pages, fonts.BOLD, 7.2), y + 11, pages, Style(fonts.BOLD, 7.2, 9, INK))
    x = sheet.left + put(sheet.left, y + 11, f"{day.events} events, log head (SHA-256)", _FOOT)
    put(x + 4, y + 11, head, _FOOT_HASH)
    signed = f"signed by {day.signatures[-1].name}" if day.signatures else "NOT SIGNED"
    put(
        sheet.left,
        y + 20,
        f"{signed}. {'' if day.signatures else 'The day was not closed when this was printed.'}",
        _FOOT,
    )


def _one_line(text: str, style: Style, room: float) -> str:
    lines = wrap(text, style, room)
    return lines[0] if len(lines) == 1 else f"{lines[0]} …"


# --- the whole ----------------------------------------------------------------------------------------------------


def lay_out(day: Day, tick: Callable[[], None] = lambda: None) -> Sheet:
    """The pages of a day, ready to be drawn. `tick` is called once a table row."""
    sheet = Sheet(LETTER if day.units == "us" else A4, tick)
    _first_page(sheet, day)
    for number, area in enumerate(day.areas, start=1):
        _area(sheet, day, area, number)
    sheet.running = "Closing"
    _refused(sheet, day)
    _signatures(sheet, day)
    _questions(sheet, day)
    _references(sheet, day)
    _closing(sheet, day)
    return sheet


def _first_page(sheet: Sheet, day: Day) -> None:
    sheet.bookmark("Summary of the day")
    plan = day.plan
    sheet.y += 8
    sheet.text(sheet.left, sheet.y, "DAILY LOG  ·  TILE AND PANEL SETTING", _SMALL_CAPS)
    state = "signed" if day.signatures else "not signed"
    sheet.text(sheet.right, sheet.y, f"{plan.date}  ·  {state}", _SMALL_CAPS, align="right")
    sheet.y += 5
    for line in wrap(plan.site, _TITLE, sheet.width):
        sheet.y += _TITLE.leading
        sheet.text(sheet.left, sheet.y - 4, line, _TITLE)
    sheet.y += 4
    sheet.line(sheet.left, sheet.y, sheet.right, sheet.y, 1.6, INK)
    sheet.y += 6
    sheet.form(
        [
            Box("Address", plan.address or "not stated", 2),
            Box("Owner", plan.owner or "not stated", 2),
            Box("Date", f"{plan.date} {day.weekday}".strip()),
            Box("Times", f"{day.opened} to {day.last_entry}, {day.zone}", 2),
            Box("Units", "US customary" if day.units == "us" else "metric"),
        ],
        4,
    )
    sheet.y += 8
    _strip(sheet, day)
    _open_points(sheet, day)
    _crew(sheet, day)
    _conditions(sheet, day)
    _notes(sheet, day)
    if day.time_keeping:
        sheet.heading("Time keeping")
        for text in day.time_keeping:
            sheet.paragraph(text, CELL)
    if day.not_started:
        sheet.heading("Areas planned and not started")
        for area in day.not_started:
            sheet.paragraph(f"{area.name[:1].upper()}{area.name[1:]}: {area.where}", CELL)


def _many(count: int, one: str, more: str = "") -> str:
    return f"{count} {one if count == 1 else more or one + 's'}"


def _strip(sheet: Sheet, day: Day) -> None:
    """The day at a glance: eight figures; what wants attention carries a diamond and bold words."""
    s = day.summary
    signed = day.signatures[-1] if day.signatures else None
    unfinished = s.areas_planned - s.areas_finished
    cells: list[tuple[str, str, str, bool]] = [
        (
            "Areas finished",
            f"{s.areas_finished} of {s.areas_planned}",
            f"{unfinished} not finished" if unfinished else "all finished",
            unfinished > 0,
        ),
        (
            "Test tiles lifted",
            str(s.lifts),
            f"{s.lifts_passed} passed, {s.lifts_failed} failed" if s.lifts else "none lifted",
            s.lifts_failed > 0,
        ),
        (
            "Failures",
            str(s.failures),
            f"{s.failures_cured} cured, {s.failures_open} OPEN"
            if s.failures_open
            else (f"{s.failures_cured} cured, none open" if s.failures else "none found"),
            s.failures_open > 0,
        ),
        (
            "Clocks run out",
            str(s.clocks_run_out),
            "see the areas' clocks" if s.clocks_run_out else "all in time",
            s.clocks_run_out > 0,
        ),
        (
            "Withdrawn",
            str(s.readings_withdrawn + s.steps_withdrawn),
            f"{_many(s.readings_withdrawn, 'reading')}, {_many(s.steps_withdrawn, 'other entry', 'other entries')}",
            False,
        ),
        (
            "Refused attempts",
            str(s.refused),
            "listed after the areas" if s.refused else "none",
            False,
        ),
        (
            "Open points",
            str(len(day.open_points)),
            "listed below" if day.open_points else "none",
            bool(day.open_points),
        ),
        (
            "Signature",
            signed.name if signed else "NOT SIGNED",
            f"{signed.role}, {signed.time}" if signed else "the day is not closed",
            signed is None,
        ),
    ]
    wide, high = sheet.width / 4, 47.0
    sheet.need(high * 2)
    for at, (label, figure, note, alarm) in enumerate(cells):
        x, y = sheet.left + wide * (at % 4), sheet.y + high * (at // 4)
        sheet.rect(x, y, wide, high, fill=PALE, stroke=RULE)
        sheet.text(x + 6, y + 10, label, LABEL)
        style = _FIGURE_ALARM if alarm else _FIGURE
        if fonts.width(figure, style.face, style.size) > wide - 26:
            style = Style(style.face, 10.5, 18, style.colour)
        sheet.text(x + 6, y + 28, _one_line(figure, style, wide - 26), style)
        if alarm:
            sheet.mark(x + wide - 11, y + 12, "fail", 3.2)
        small = _SMALL_ALARM if alarm else SMALL
        sheet.text(x + 6, y + 40, _one_line(note, small, wide - 10), small)
    sheet.y += high * 2


def _open_points(sheet: Sheet, day: Day) -> None:
    if not day.open_points:
        return
    sheet.heading("Open points", 20)
    for text in day.open_points:
        sheet.need(TEXT.leading)
        sheet.mark(sheet.left + 4, sheet.y + 6.2, "fail", 2.2)
        sheet.paragraph(text, TEXT, x=sheet.left + 12)


def _crew(sheet: Sheet, day: Day) -> None:
    sheet.heading("Crew")
    rows = [
        Row(
            (
                Cell(c.name, CELL_STRONG),
                Cell(c.role),
                Cell(str(c.entries) if c.entries else "none"),
                Cell(f"{c.first} to {c.last}" if c.entries else ""),
            )
        )
        for c in day.crew
    ]
    sheet.table(
        [Column("name", share=2), Column("role", share=2), Column("entries in the log", share=1.4),
         Column("first to last entry", share=2)],
        rows,
        continued="Crew",
    )  # fmt: skip


def _conditions(sheet: Sheet, day: Day) -> None:
    sheet.heading("Weather, temperature and humidity")
    if not day.conditions:
        sheet.paragraph("Nothing was noted.", CELL_GREY)
        return
    rows = [
        Row(
            (
                Cell(c.time),
                Cell(c.who),
                Cell(c.area or "–"),
                Cell(c.what.capitalize()),
                Cell(c.reading, CELL_STRONG, strike=c.struck),
                Cell(_with_ref(c.criterion, c.ref)),
                _result(c.passed, c.struck),
            ),
        )
        for c in day.conditions
    ]
    sheet.table(
        [Column("time", 52), Column("who", 58), Column("area", share=2), Column("what", share=2.2),
         Column("reading", share=1.9), Column("criterion", share=3), Column("result", 56)],
        rows,
        continued="Weather, temperature and humidity",
    )  # fmt: skip


def _notes(sheet: Sheet, day: Day) -> None:
    if not day.notes:
        return
    sheet.heading("Remarks")
    rows = [Row((Cell(n.time), Cell(n.who), Cell(n.area or "–"), Cell(n.text))) for n in day.notes]
    sheet.table(
        [Column("time", 52), Column("who", 58), Column("area", 90), Column("remark", share=1)],
        rows,
        continued="Remarks",
    )


def _with_ref(text: str, ref: int | None) -> str:
    return " ".join(part for part in (text, f"[{ref}]" if ref else "") if part)


def _result(passed: bool | None, struck: bool = False) -> Cell:
    if struck:
        return Cell("withdrawn", CELL_GREY)
    if passed is None:
        return Cell("")
    mark: Mark = "pass" if passed else "fail"
    return Cell("pass" if passed else "FAIL", CELL if passed else CELL_ALARM, mark=mark)


# --- one area -----------------------------------------------------------------------------------------------------


def _area(sheet: Sheet, day: Day, area: AreaStory, number: int) -> None:
    sheet.running = f"Area {number}: {area.name}"
    # An area begins on a fresh page unless much of this one is left.
    if sheet.room < sheet.full_room * 0.55:
        sheet.new_page()
    else:
        sheet.space(20)
    _area_title(sheet, day, area, number)
    sheet.form(
        [
            *(Box(f.label, _with_ref(f.text, f.ref), _span(f.label)) for f in area.setting),
            Box("Checklist", area.checklist, 2),
            Box("Tiles set", str(area.tiles), 2),
        ],
        4,
    )
    _changes(sheet, area)
    _need(sheet, area)
    _lifts(sheet, area)
    _failures(sheet, area)
    _withdrawn(sheet, area)
    _batches(sheet, area)
    _clocks(sheet, area)
    _holds(sheet, area)
    _cautions(sheet, area)
    _sequence(sheet, area)


def _changes(sheet: Sheet, area: AreaStory) -> None:
    if not area.changes:
        return
    sheet.heading("Changes of trowel and installer")
    rows = [
        Row((Cell(c.time), Cell(c.what.capitalize()), Cell(c.text), Cell(c.who), Cell(str(c.seq), NUMBER)))
        for c in area.changes
    ]
    sheet.table(
        [Column("from", 52), Column("what", 58), Column("to", share=1), Column("said by", 70), Column("event", 32)],
        rows,
        continued=f"{area.name}: changes of trowel and installer",
    )


def _span(label: str) -> int:
    return 1 if label in ("Surface to set", "Joint", "Product", "Weight of one piece") else 2


def _area_title(sheet: Sheet, day: Day, area: AreaStory, number: int) -> None:
    sheet.bookmark(f"{area.name} ({'finished' if area.finished else 'not finished'})")
    sheet.line(sheet.left, sheet.y, sheet.right, sheet.y, 1.6, INK)
    sheet.y += 12
    sheet.text(sheet.left, sheet.y, f"AREA {number} OF {day.summary.areas_planned}", _SMALL_CAPS)
    if area.finished:
        wide = sheet.text(
            sheet.right, sheet.y, f"started {area.started}, finished {area.finished}", STRONG, align="right"
        )
        sheet.mark(sheet.right - wide - 8, sheet.y - 3, "pass")
    else:
        wide = sheet.text(sheet.right, sheet.y, f"started {area.started}, NOT FINISHED", _ALARM, align="right")
        sheet.mark(sheet.right - wide - 8, sheet.y - 3, "fail")
    sheet.y += 18
    sheet.text(sheet.left, sheet.y, area.name, _AREA)
    sheet.y += 8


def _need(sheet: Sheet, area: AreaStory) -> None:
    need, verdict = area.need, area.verdict
    if need is None or verdict is None:
        return
    sheet.heading("Required contact", 66)
    conditions = [f"contact at least {format_quantity(need.minimum, 'percent')} [{need.ref}]"]
    if need.void:
        conditions.append(_with_ref(f"no void over {need.void}", need.void_ref))
    if need.corners:
        conditions.append("every corner supported")
    conditions.append(f"at least {need.least_lifts} tiles lifted in the area")
    standing = "none"
    if verdict.mean is not None and verdict.worst is not None:
        standing = (
            f"{_many(verdict.lifts, 'tile')}: mean {format_quantity(verdict.mean, 'percent')}, "
            f"worst {format_quantity(verdict.worst, 'percent')}"
        )
    result = "meets the requirement" if verdict.passed else f"NOT MET: {'; '.join(verdict.reasons)}"
    sheet.form(
        [
            Box("What is required of each lifted tile", "; ".join(conditions), 4),
            Box("Lifts that stand (a tile that was reset counts with its last lift)", standing, 2),
            Box("The lifts of this area", result, 2, STRONG if verdict.passed else _ALARM,
                "pass" if verdict.passed else "fail"),
        ],
        4,
    )  # fmt: skip
    sheet.y += 2
    for note in (*need.notes, verdict.caution):
        sheet.paragraph(note, SMALL)


def _lifts(sheet: Sheet, area: AreaStory) -> None:
    sheet.heading("Test tiles lifted", 90 if area.lifts else 14)
    if not area.lifts:
        sheet.paragraph("No tile was lifted in this area.", CELL_GREY)
        return
    charts.lift_chart(sheet, area.lifts)
    sheet.y += 4
    # What no lift read is said once, not at every lift.
    never = [u for u in area.lifts[0].unread if all(u in x.unread for x in area.lifts)]
    sheet.table(
        [Column("lift", 24), Column("time", 48), Column("tile", 40), Column("by", 48), Column("contact", 44),
         Column("largest void", share=1.5), Column("corners", share=1.2), Column("mortar", 46),
         Column("result", 54), Column("remarks", share=2.8), Column("event", 30)],
        [_lift_row(x, never) for x in area.lifts],
        continued=f"{area.name}: test tiles lifted",
    )  # fmt: skip
    if never:
        sheet.y += 2
        sheet.paragraph(f"Not read at any of these lifts: {', '.join(never)}.", SMALL)


def _lift_row(lift: LiftLine, never: Sequence[str]) -> Row:
    remarks = [*lift.reasons]
    unread = [u for u in lift.unread if u not in never]
    if unread:
        remarks.append(f"not read: {', '.join(unread)}")
    remarks += [f"photo {p}" for p in lift.photos]
    return Row(
        (
            Cell(str(lift.number), CELL_STRONG, strike=lift.struck),
            Cell(lift.time),
            Cell(lift.label or str(lift.tile), strike=lift.struck),
            Cell(lift.who),
            Cell(format_quantity(lift.contact, "percent"), CELL_STRONG, strike=lift.struck),
            Cell(lift.void or "not read", CELL if lift.void else CELL_GREY, strike=lift.struck),
            Cell(lift.corners or "not read", CELL if lift.corners else CELL_GREY, strike=lift.struck),
            Cell(lift.batch),
            _result(lift.passed, lift.struck),
            Cell("; ".join(remarks), strike=lift.struck),
            Cell(str(lift.seq), NUMBER),
        )
    )


def _failures(sheet: Sheet, area: AreaStory) -> None:
    standing = [f for f in area.failures if not f.struck]
    sheet.heading("Failures and how they were cured", 80 if standing else 14)
    if not standing:
        sheet.paragraph("None.", CELL_GREY)
    for failure in standing:
        _failure(sheet, failure)
    struck = [f for f in area.failures if f.struck]
    if struck:
        sheet.paragraph("Withdrawn with the answers that brought them about, counted nowhere:", SMALL)
    for failure in struck:
        sheet.paragraph(f"event {failure.seq}, {failure.time}: {failure.finding}", CELL_GREY, strike=True)


def _failure(sheet: Sheet, failure: FailureStory) -> None:
    sheet.need(74)
    sheet.rect(sheet.left, sheet.y, sheet.width, 15, fill=PALE)
    title = f"Failure {failure.number}"
    wide = sheet.text(sheet.left + 5, sheet.y + 10.6, title, STRONG)
    sheet.text(
        sheet.left + 12 + wide,
        sheet.y + 10.4,
        f"event {failure.seq}, found {failure.time} by {failure.who}",
        SMALL,
    )
    if failure.cured:
        wide = sheet.text(sheet.right - 5, sheet.y + 10.6, f"cured {failure.closed}", STRONG, align="right")
        sheet.mark(sheet.right - wide - 13, sheet.y + 7.6, "pass")
    else:
        wide = sheet.text(sheet.right - 5, sheet.y + 10.6, "OPEN, not cured", _ALARM, align="right")
        sheet.mark(sheet.right - wide - 13, sheet.y + 7.6, "fail")
    sheet.y += 17
    lines: list[tuple[str, str, bool]] = [
        ("Where", failure.place, False),
        ("Found", failure.finding, False),
        ("Required", _with_ref(failure.criterion, failure.ref), False),
        ("Corrective action", failure.corrective, False),
    ]
    lines += [_told(s, "Done" if i == 0 else "") for i, s in enumerate(failure.steps)]
    if not failure.steps:
        lines.append(("Done", "nothing yet", False))
    lines += [_told(s, "Checked again" if i == 0 else "") for i, s in enumerate(failure.checks)]
    if failure.tightened:
        more = _many(failure.tightened, "lift")
        lines.append(("Inspection tightened", f"a lift after every tile until {more} more have passed", False))
    if failure.cured:
        lines.append(("Cured", f"{failure.cure}; shown by: {failure.shown_by}", False))
    for label, text, struck in lines:
        _labelled(sheet, label, text, struck)
    sheet.y += 7


def _told(line: SequenceLine, label: str) -> tuple[str, str, bool]:
    verdict = {True: "pass", False: "FAIL", None: ""}[line.passed]
    parts = [line.what, line.reading, line.criterion and f"required {line.criterion}", verdict]
    return label, f"{line.time} {line.who}: {', '.join(p for p in parts if p)}", line.struck


def _labelled(sheet: Sheet, label: str, text: str, struck: bool = False, label_width: float = 92.0) -> None:
    sheet.need(CELL.leading)
    sheet.text(sheet.left + 5, sheet.y + 7.4, label, SMALL)
    sheet.paragraph(text, CELL, x=sheet.left + label_width, wide=sheet.width - label_width - 4, strike=struck)
    sheet.y += 1.2


def _withdrawn(sheet: Sheet, area: AreaStory) -> None:
    if not area.withdrawn:
        return
    sheet.heading("Withdrawn", note="Kept in the log, struck through here, counted nowhere.")
    rows = [
        Row(
            (
                Cell(w.said),
                Cell(w.what, strike=True),
                Cell(w.reading or "–", CELL_STRONG, strike=bool(w.reading)),
                Cell(f"{w.time} {w.who}"),
                Cell(w.reason, below=f"with it: {'; '.join(w.consequences)}" if w.consequences else ""),
                Cell(f"{w.target}, {w.seq}", NUMBER),
            )
        )
        for w in area.withdrawn
    ]
    sheet.table(
        [Column("said", 50), Column("what", share=2), Column("reading", share=1.2), Column("withdrawn", share=1.4),
         Column("why", share=2.4), Column("events", 46)],
        rows,
        continued=f"{area.name}: withdrawn",
    )  # fmt: skip


def _batches(sheet: Sheet, area: AreaStory) -> None:
    if not area.batches:
        return
    sheet.heading("Batches of mortar")
    sheet.table(
        [Column("batch", 62), Column("opened", 50), Column("by", 56), Column("steps and readings", share=2.6),
         Column("pot life", share=1.6), Column("tiles set", 46, right=True)],
        [_batch_row(b) for b in area.batches],
        continued=f"{area.name}: batches of mortar",
    )  # fmt: skip


def _batch_row(batch: Batch) -> Row:
    told = []
    for step in batch.steps:
        if step.struck:
            continue
        reading = f" {step.reading}" if step.reading else ""
        verdict = " (FAIL)" if step.passed is False else ""
        told.append(f"{step.what.lower()}{reading} {short_time(step.time)}{verdict}")
    clock = _clock_words(batch.clock) if batch.clock else "–" if batch.struck else "not started"
    alarm = batch.clock is not None and batch.clock.outcome == "ran out" and not batch.struck
    note = "withdrawn" if batch.struck else "" if batch.done else "not completed"
    return Row(
        (
            Cell(batch.title, CELL_STRONG, below=note, strike=batch.struck),
            Cell(batch.opened, strike=batch.struck),
            Cell(batch.who),
            Cell(", ".join(told) or "–", strike=batch.struck),
            Cell(clock, CELL_ALARM if alarm else CELL, mark="fail" if alarm else ""),
            Cell(str(batch.tiles), strike=batch.struck),
        )
    )


def _clock_words(clock: ClockLine) -> str:
    allowed = format_quantity(clock.allowed, "min")
    if clock.struck:
        return "withdrawn"
    if clock.outcome == "ran out":
        late = f", noted {short_time(clock.ended)}" if clock.noted_late >= 1 else f" {short_time(clock.ended)}"
        return f"{allowed} ran out{late}"
    used = format_quantity(clock.used, "min")
    if clock.outcome == "still running":
        return f"running at the last entry, {used} of {allowed}"
    return f"stopped {short_time(clock.ended)}, {used} of {allowed}"


def _clocks(sheet: Sheet, area: AreaStory) -> None:
    if not area.clocks:
        return
    sheet.heading("Clocks", 70)
    charts.time_line(sheet, area.clocks, area.started, area.minutes)
    out = [c for c in area.clocks if c.outcome == "ran out"]
    if not out:
        sheet.paragraph("No clock ran out.", CELL_GREY)
        return
    sheet.y += 3
    rows = [
        Row(
            (
                Cell(c.title, CELL_ALARM, mark="fail"),
                Cell(c.belongs_to),
                Cell(c.started),
                Cell(_with_ref(format_quantity(c.allowed, "min"), c.ref)),
                Cell(c.ended, below=_late(c)),
                Cell(", ".join(c.dropped) or "none"),
                Cell(f"failure {c.failure}" if c.failure else "–"),
                Cell(str(c.run), NUMBER),
            )
        )
        for c in out
    ]
    sheet.table(
        [Column("clock that ran out", share=1.4), Column("started in", share=1.1), Column("started", 52),
         Column("allowed", share=0.8), Column("running out noted", share=1.7), Column("fell away", share=1.1),
         Column("followed by", share=1), Column("event", 32)],
        rows,
        continued=f"{area.name}: clocks that ran out",
    )  # fmt: skip


def _late(clock: ClockLine) -> str:
    late = clock.noted_late
    return f"{format_quantity(late, 'min')} after time was up" if late >= 1 else ""


def _holds(sheet: Sheet, area: AreaStory) -> None:
    holds = [h for h in area.holds if not h.struck]
    if not holds:
        return
    sheet.heading("Hold points released")
    rows = [
        Row(
            (
                Cell(h.time),
                Cell(h.who, CELL_STRONG),
                Cell(_with_ref(h.detail or h.what, h.ref)),
                Cell(str(h.seq), NUMBER),
            )
        )
        for h in holds
    ]
    sheet.table(
        [Column("time", 52), Column("released by", 90), Column("hold point", share=1), Column("event", 32)],
        rows,
        continued=f"{area.name}: hold points released",
    )


def _cautions(sheet: Sheet, area: AreaStory) -> None:
    sheet.heading("Cautions acknowledged", 40 if area.cautions else 14)
    if not area.cautions:
        sheet.paragraph("None was due.", CELL_GREY)
        return
    rows = []
    for caution in area.cautions:
        times = "; ".join(f"{time} {who}" for time, who, _ in caution.acknowledged)
        rows.append(Row((Cell(_with_ref(caution.text, caution.ref)), Cell(times))))
    sheet.table(
        [Column("caution, as it was read out", share=2.2), Column("acknowledged", share=1)],
        rows,
        continued=f"{area.name}: cautions acknowledged",
    )


def _sequence(sheet: Sheet, area: AreaStory) -> None:
    sheet.heading("Sequence", 60, note="Every entry of this area in order, as the log holds it.")
    sheet.bookmark("Sequence", 1)
    sheet.table(
        [Column("event", 32), Column("time", 50), Column("who", 56), Column("what", share=2.6),
         Column("reading", share=1.25), Column("criterion", share=1.45), Column("result", 54), Column("basis", 28)],
        [_sequence_row(line) for line in area.sequence],
        continued=f"{area.name}: sequence",
    )  # fmt: skip


def _sequence_row(line: SequenceLine) -> Row:
    if line.kind == "round":
        note = f"{line.time}, {line.detail}" if line.detail != "continued" else line.detail
        if line.struck:
            note = f"{note}; {line.why_struck}"
        return Row(band=line.what, band_note=note, strike=line.struck)
    quiet = line.kind in ("clock", "change", "area", "caution")
    what = CELL_ALARM if line.kind == "clock" and line.passed is False else CELL_GREY if quiet else CELL
    if line.kind == "failure" and not line.struck:
        what = CELL_STRONG
    text, below = line.what, line.detail
    if line.kind in ("clock", "change") and below:
        # A remark of one kind with its line: "Clock stopped: Open time, after 4 min of 20 min".
        text, below = f"{line.what}, {line.detail}", ""
    if line.struck:
        below = "; ".join(part for part in (below, line.why_struck) if part)
    result = _result(line.passed, line.struck)
    if line.kind == "clock" and line.passed is False:
        result = Cell("ran out", CELL_ALARM, mark="fail")
    wide = quiet or line.kind == "failure"
    return Row(
        (
            Cell(str(line.seq), NUMBER),
            Cell(line.time),
            Cell(line.who),
            Cell(text, what, below=below, strike=line.struck, spill=3, run_on=wide and not line.criterion),
            Cell(line.reading, CELL_STRONG, strike=line.struck),
            Cell(line.criterion, strike=line.struck),
            result,
            Cell(f"[{line.ref}]" if line.ref else "", CELL_GREY),
        )
    )


# --- after the areas ----------------------------------------------------------------------------------------------


def _refused(sheet: Sheet, day: Day) -> None:
    if not day.refused:
        return
    sheet.heading(
        "Refused attempts",
        note="Asked for out of order or without what it needs; nothing was changed by these.",
    )
    sheet.bookmark("Refused attempts")
    rows = [
        Row(
            (
                Cell(r.time),
                Cell(r.who),
                Cell(r.area or "–"),
                Cell(r.attempt),
                Cell(r.reason),
                Cell(str(r.seq), NUMBER),
            )
        )
        for r in day.refused
    ]
    sheet.table(
        [Column("time", 52), Column("who", 58), Column("area", share=1), Column("attempt", share=1.8),
         Column("why it was refused", share=3.4), Column("event", 32)],
        rows,
        continued="Refused attempts",
    )  # fmt: skip


def _signatures(sheet: Sheet, day: Day) -> None:
    sheet.heading("Signature", 150)
    sheet.bookmark("Signature")
    if not day.signatures:
        high = 40.0
        sheet.rect(sheet.left, sheet.y, sheet.width, high, stroke=ACCENT, thick=1.2)
        sheet.mark(sheet.left + 17, sheet.y + high / 2, "fail", 5)
        sheet.text(sheet.left + 32, sheet.y + 18, "NOT SIGNED", Style(fonts.BOLD, 12, 14, ACCENT))
        sheet.text(sheet.left + 32, sheet.y + 31, "Nobody has signed this day in the log. It may still change.", TEXT)
        sheet.y += high + 4
    for signature in day.signatures:
        points = "; ".join(signature.open_points) or "none"
        sheet.form(
            [
                Box("Signed in the log by", signature.name, 2, STRONG, "pass"),
                Box("As", signature.role),
                Box("When", f"{signature.time} {day.zone} (event {signature.seq})"),
                Box(
                    "Open points accepted with the signature",
                    points,
                    4,
                    _ALARM if signature.open_points else TEXT,
                ),
            ],
            4,
        )
    sheet.y += 6
    sheet.need(48)
    high, wide = 42.0, sheet.width / 3
    for at, label in enumerate(("Received by (name, in ink)", "Signature", "Date")):
        sheet.rect(sheet.left + wide * at, sheet.y, wide, high, stroke=RULE)
        sheet.text(sheet.left + wide * at + 5, sheet.y + 9, label, LABEL)
    sheet.y += high


def _questions(sheet: Sheet, day: Day) -> None:
    if not day.questions:
        return
    sheet.heading("What the steps asked", note="The checklists' own words, for each step that was answered.")
    sheet.bookmark("What the steps asked")
    rows: list[Row] = []
    before = section = ""
    for question in day.questions:
        if question.checklist != before:
            rows.append(Row(band=question.checklist))
            before, section = question.checklist, ""
        named = "" if question.section == section else question.section
        section = question.section
        asked = _with_ref(question.ask, question.ref)
        rows.append(Row((Cell(named, CELL_STRONG), Cell(question.step), Cell(asked))))
    sheet.table(
        [Column("section", share=1.3), Column("step", share=1), Column("asked", share=3.6)],
        rows,
        continued="What the steps asked",
    )


def _references(sheet: Sheet, day: Day) -> None:
    sheet.heading("Where the limits come from", 30)
    sheet.bookmark("Where the limits come from")
    if not day.references:
        sheet.paragraph("No limit was applied.", CELL_GREY)
    for number, text in enumerate(day.references, start=1):
        sheet.need(CELL.leading)
        sheet.text(sheet.left + 18, sheet.y + 7.4, f"[{number}]", CELL_STRONG, align="right")
        sheet.paragraph(text, CELL, x=sheet.left + 24)
        sheet.y += 1


def _closing(sheet: Sheet, day: Day) -> None:
    sheet.heading("How to read this log", 40)
    for text in _closing_words(sheet, day):
        sheet.paragraph(text, CELL)
        sheet.y += 3


def _closing_words(sheet: Sheet, day: Day) -> Iterator[str]:
    yield HOW_TO_READ
    yield CLOSING
    # The plan's own texts have been set by now, so letters without a shape have been met.
    if sheet.lost_letters:
        yield (
            f"Some letters of this log have no shape in the printed typeface and appear as "
            f"{fonts.NOT_IN_TYPEFACE}; the log itself holds them."
        )
    yield f"{_many(day.events, 'event')} in this log."
