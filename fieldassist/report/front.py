"""The first pages of the daily log: the day at a glance, how it stands, where to find what, conditions and remarks."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from fieldassist.report import fonts
from fieldassist.report.build.words import ranges, short_time
from fieldassist.report.report_model import (
    AreaReport,
    AreaStanding,
    DayReport,
    DustLine,
    NoteLine,
    SealState,
    Summary,
)
from fieldassist.report.sheet import (
    ACCENT,
    CELL,
    CELL_ALARM,
    CELL_GREY,
    CELL_STRONG,
    INK,
    LABEL,
    NUMBER,
    PALE,
    RULE,
    SMALL,
    TEXT,
    Box,
    Cell,
    Column,
    Entry,
    Row,
    Sheet,
    SheetMark,
    Style,
    wrap,
)
from fieldassist.report.trial_model import TrialReport
from fieldassist.report.wording import (
    ALARM,
    SMALL_CAPS,
    faulty,
    how_cell,
    lower,
    many,
    one_line,
    sealed_words,
    seen_note,
    sentences,
    set_of_planned,
    short_hash,
    verdict_cell,
    with_ref,
)

_TITLE = Style(fonts.BOLD, 18, 22)
_FIGURE = Style(fonts.BOLD, 15, 18)
_FIGURE_ALARM = Style(fonts.BOLD, 15, 18, ACCENT)
_SMALL_ALARM = Style(fonts.BOLD, 7.2, 9.2, ACCENT)
AREAS_NOTE = "Lifts are counted as they were judged; a good tile is one whose last lift was good."
_STRIP_COLUMNS = 3
# Open points, and areas, up to here stand before the contents. Ours.
_SHORT_LIST = 12


def first_page(sheet: Sheet, day: DayReport) -> None:
    """All that stands before the areas."""
    sheet.bookmark("Summary of the day")
    plan = day.plan
    sheet.y += 8
    sheet.text(sheet.left, sheet.y, "DAILY LOG  ·  TILE AND PANEL SETTING", SMALL_CAPS)
    standing = one_line(f"{plan.date}  ·  {day.whole_standing}", SMALL_CAPS, sheet.width * 0.6)
    sheet.text(sheet.right, sheet.y, standing, SMALL_CAPS, align="right")
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
    few = len(day.areas) + len(day.not_started) <= _SHORT_LIST
    if few:
        _areas(sheet, day)
    sheet.y += 8
    sheet.form(list(_standing(day)), 1)
    # A long list of open points would push the contents away from where one looks for them.
    if len(day.open_points) + len(day.answered_points) <= _SHORT_LIST:
        _open_points(sheet, day)
    entries = list(_entries(day))
    # A short list stays in one piece.
    sheet.heading("Contents", min(len(entries), _SHORT_LIST) * 12.0 + 6)
    sheet.contents(entries)
    _crew(sheet, day)
    if day.continues:
        sheet.heading("Goes on from")
        for line in day.continues:
            sheet.paragraph(line, CELL)
    if day.tablet:
        sheet.heading("The days of this tablet")
        for line in day.tablet:
            sheet.paragraph(line, CELL)
    if not few:
        _areas(sheet, day)
    if len(day.open_points) + len(day.answered_points) > _SHORT_LIST:
        _open_points(sheet, day)
    _conditions(sheet, day)
    _notes(sheet, day)
    _dust(sheet, day)
    if day.time_keeping:
        sheet.heading("Time keeping")
        for text in day.time_keeping:
            sheet.paragraph(text, CELL)
    if day.not_started:
        sheet.heading("Areas planned and not started")
        for area in day.not_started:
            sheet.paragraph(f"{area.name[:1].upper()}{area.name[1:]}: {area.where}", CELL)


def _entries(day: DayReport) -> Iterator[Entry]:
    """The contents, in the order of the pages."""
    for number, area in enumerate(day.areas, start=1):
        mark: SheetMark = "pass" if area.finished else "fail"
        if area.trial is not None:
            yield Entry(f"{area.name}: {area.trial.title}", f"trial-{number}", area.trial.counting)
        yield Entry(area.name, f"area-{number}", "finished" if area.finished else "NOT FINISHED", mark)
    if day.photos:
        yield Entry("Photos taken between the areas", "photos")
    if day.refused:
        yield Entry("Refused attempts", "refused")
    yield Entry("Signature and seal", "signature", day.standing, "pass" if day.standing == "sealed" else "fail")
    yield Entry("How to verify this log", "verify")
    for addendum in day.addenda:
        mark = "pass" if addendum.standing == "sealed" else "fail"
        yield Entry(f"Addendum {addendum.number}", f"addendum-{addendum.number}", addendum.standing, mark)
    if day.questions:
        yield Entry("What the steps asked", "questions")
    yield Entry("Where the limits come from", "limits")
    yield Entry("How to read this log", "closing")


def _standing(day: DayReport) -> Iterator[Box]:
    """In plain words, who vouches for what: a box for the day, for each addendum, and for what came after."""
    for what, signature in (("The day", day.signature), *((f"Addendum {a.number}", a.signature) for a in day.addenda)):
        good = signature is not None and signature.standing == "sealed" and not faulty(signature)
        words = sealed_words(signature, what)
        yield Box(f"Standing of {lower(what)}", words, 1, TEXT if good else ALARM, "pass" if good else "fail")
    after = day.unsealed
    if 0 < after < day.events:
        more = f"event {day.events} was" if after == 1 else f"events {day.events - after + 1} to {day.events} were"
        words = f"No key vouches for what came after the last seal: {more} entered later."
        yield Box("After the last seal", words, 1, ALARM, "fail")


_SHORT: dict[SealState, str] = {
    "sealed": "sealed",
    "signed, not sealed": "not sealed",
    "SEAL DOES NOT FIT": "BAD SEAL",
    "not signed": "not signed",
}


def _lifts_note(s: Summary) -> str:
    if not s.lifts:
        return "none lifted"
    gaps = f", {s.lifts_not_complete} not complete" if s.lifts_not_complete else ""
    return f"{s.lifts_passed} passed, {s.lifts_failed} failed{gaps}"


def _clocks_note(s: Summary) -> str:
    untimed = f"{s.clocks_not_timed} not timed apart" if s.clocks_not_timed else ""
    return sentences(("see the areas' clocks" if s.clocks_run_out else "" if untimed else "all in time", untimed))


def _strip(sheet: Sheet, day: DayReport) -> None:
    """The day at a glance: nine figures; what wants attention carries a diamond and bold words."""
    s = day.summary
    signed = day.signature
    unfinished = s.areas_planned - s.areas_finished
    cells: list[tuple[str, str, str, bool]] = [
        (
            "Areas finished",
            f"{s.areas_finished} of {s.areas_planned}",
            f"{unfinished} not finished" if unfinished else "all finished",
            unfinished > 0,
        ),
        ("Tiles set", str(s.tiles), seen_note(s) if s.tiles else "none set", False),
        (
            "Test tiles lifted",
            str(s.lifts),
            _lifts_note(s),
            s.lifts_failed + s.lifts_not_complete > 0,
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
            _clocks_note(s),
            s.clocks_run_out > 0,
        ),
        (
            "Withdrawn",
            str(s.readings_withdrawn + s.steps_withdrawn),
            f"{many(s.readings_withdrawn, 'reading')}, {many(s.steps_withdrawn, 'other entry', 'other entries')}",
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
            f"{signed.role}, {short_time(signed.time)}, {_SHORT[signed.standing]}"
            if signed
            else "the day is not closed",
            day.standing != "sealed",
        ),
    ]
    wide, high = sheet.width / _STRIP_COLUMNS, 47.0
    rows = ceil(len(cells) / _STRIP_COLUMNS)
    sheet.need(high * rows)
    for at, (label, figure, note, alarm) in enumerate(cells):
        x, y = sheet.left + wide * (at % _STRIP_COLUMNS), sheet.y + high * (at // _STRIP_COLUMNS)
        sheet.rect(x, y, wide, high, fill=PALE, stroke=RULE)
        sheet.text(x + 6, y + 10, label, LABEL)
        style = _FIGURE_ALARM if alarm else _FIGURE
        if fonts.width(figure, style.face, style.size) > wide - 26:
            style = Style(style.face, 10.5, 18, style.colour)
        sheet.text(x + 6, y + 28, one_line(figure, style, wide - 26), style)
        if alarm:
            sheet.mark(x + wide - 11, y + 12, "fail", 3.2)
        small = _SMALL_ALARM if alarm else SMALL
        sheet.text(x + 6, y + 40, one_line(note, small, wide - 10), small)
    sheet.y += high * rows


def _areas(sheet: Sheet, day: DayReport) -> None:
    """A row an area: how much is set, what was lifted and how it came about, what failed, which tiles hold it up."""
    sheet.heading("Areas", 60, AREAS_NOTE)
    rows = [_area_row(area) for area in day.areas]
    rows += [
        Row((Cell(f"{a.name[:1].upper()}{a.name[1:]}", CELL_STRONG), Cell("none"), *[Cell("–")] * 4,
             Cell("not started", CELL_ALARM, mark="fail")))
        for a in day.not_started
    ]  # fmt: skip
    sheet.table(
        [Column("area", share=1.2), Column("set of planned", share=1.5), Column("required", share=0.8),
         Column("lifts good of lifted", share=2), Column("failures", share=0.9), Column("tiles", share=1.6),
         Column("standing", share=1.1)],
        rows,
        continued="Areas",
    )  # fmt: skip
    for area in day.areas:
        if area.standing.proves:
            sheet.y += 2
            sheet.paragraph(f"{area.name}. {' '.join(area.standing.proves)}", SMALL)


def _trial_row(area: AreaReport, trial: TrialReport) -> Row:
    """A row of the areas in which methods are tried: how far it is, and what it says so far."""
    done = ("finished " + short_time(area.finished)) if area.finished else "NOT FINISHED"
    return Row(
        (
            Cell(area.name, CELL_STRONG),
            Cell(trial.counting),
            Cell(f"at least {trial.required_told}"),
            Cell(trial.verdict, below=sentences(trial.released)),
            Cell("–"),
            Cell("–"),
            Cell(done, CELL if area.finished else CELL_ALARM, mark="pass" if area.finished else "fail"),
        )
    )


def _area_row(area: AreaReport) -> Row:
    if area.trial is not None:
        return _trial_row(area, area.trial)
    standing = area.standing
    failures = [f for f in area.failures if not f.withdrawn]
    count = len(failures) + len(standing.failures_before)
    uncured = sum(not f.cured for f in failures) + len(standing.failures_before)
    lifted = f"{standing.good} of {standing.lifted}"
    told = area.verdict.told if area.verdict is not None else ""
    distinct = f"{many(standing.good_tiles, 'good tile')} of at least {standing.needed}" if standing.needed else ""
    came = ", ".join(f"{one.lifted} {one.came}" for one in standing.lifts)
    tiles = tiles_that_count(standing)
    short = standing.good_tiles < standing.needed or standing.good < standing.lifted
    alarm: tuple[Style, SheetMark] = (CELL_ALARM, "fail")
    plain: tuple[Style, SheetMark] = (CELL, "")
    surface = alarm if area.surface_differs else plain
    over = alarm if uncured else plain
    held = alarm if standing.suspect or standing.failed or standing.accepted else plain
    done = ("finished " + short_time(area.finished)) if area.finished else "NOT FINISHED"
    return Row(
        (
            Cell(area.name, CELL_STRONG),
            Cell(set_of_planned(standing), surface[0], below=standing.seen_told, mark=surface[1]),
            Cell(f"at least {area.need.contact.removeprefix('at least ')}" if area.need is not None else "–"),
            Cell(lifted, CELL_STRONG if short else CELL, below=sentences((came, told, distinct))),
            Cell(f"{count}, {uncured} OPEN" if uncured else str(count or "none"), over[0], mark=over[1]),
            Cell(tiles, held[0], mark=held[1]),
            Cell(done, CELL if area.finished else CELL_ALARM, mark="pass" if area.finished else "fail"),
        )
    )


def tiles_that_count(standing: AreaStanding) -> str:
    """The tiles that somebody has to look at, by their numbers; "none" where there are none."""
    found = (
        ("suspect", standing.suspect),
        ("failed", standing.failed),
        ("accepted", standing.accepted),
        ("not yet covered", standing.not_covered),
    )
    return sentences([f"{what}: {ranges(numbers)}" for what, numbers in found if numbers]) or "none open"


def _open_points(sheet: Sheet, day: DayReport) -> None:
    if day.open_points:
        sheet.heading("Open points", 20)
    for text in day.open_points:
        sheet.need(TEXT.leading)
        sheet.mark(sheet.left + 4, sheet.y + 6.2, "fail", 2.2)
        sheet.paragraph(text, TEXT, x=sheet.left + 12)
    if day.answered_points:
        sheet.heading("Points that the foreman answered", 20)
    for text in day.answered_points:
        sheet.paragraph(text, TEXT, x=sheet.left + 12)


def _crew(sheet: Sheet, day: DayReport) -> None:
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


def _conditions(sheet: Sheet, day: DayReport) -> None:
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
                Cell(c.what),
                Cell(c.reading, CELL_STRONG, below=sentences(c.corrected), strike=c.withdrawn),
                how_cell(c.source),
                Cell(with_ref(c.criterion, c.ref)),
                verdict_cell(c.verdict, c.withdrawn),
                Cell(str(c.seq), NUMBER),
            ),
        )
        for c in day.conditions
    ]
    sheet.table(
        [Column("time", 52), Column("who", 58), Column("area", share=2), Column("what", share=2.0),
         Column("reading", share=2.2), Column("how", 44), Column("criterion", share=3),
         Column("result", 56), Column("event", 32)],
        rows,
        continued="Weather, temperature and humidity",
    )  # fmt: skip


def _notes(sheet: Sheet, day: DayReport) -> None:
    if not day.notes:
        return
    sheet.heading("Remarks")
    rows = [
        Row(
            (
                Cell(n.time),
                Cell(n.who),
                Cell(n.area or "–"),
                Cell(n.text, below=sentences((_sound(n), *n.corrected))),
                Cell(str(n.seq), NUMBER),
            )
        )
        for n in day.notes
    ]
    sheet.table(
        [Column("time", 52), Column("who", 58), Column("area", 90), Column("remark", share=1), Column("event", 32)],
        rows,
        continued="Remarks",
    )


def _dust(sheet: Sheet, day: DayReport) -> None:
    if not day.dust:
        return
    note = "Minutes as the crew noted them, not measured. Table 1 of 29 CFR 1926.1153 adds up each person's own."
    sheet.heading("Dusty tasks", note=note)
    rows = [
        Row(
            (
                Cell(d.time),
                Cell(d.who),
                Cell(with_ref(f"{d.task}, {d.place}", d.ref), below=sentences(d.corrected)),
                Cell(d.minutes, CELL_STRONG, below=_in_place(d), strike=d.withdrawn),
                Cell(str(d.seq), NUMBER),
            )
        )
        for d in day.dust
    ]
    sheet.table(
        [Column("time", 52), Column("who", 58), Column("task", share=3), Column("minutes", share=1.4),
         Column("event", 32)],
        rows,
        continued="Dusty tasks",
    )  # fmt: skip
    sheet.y += 4
    for text in day.dust_sums:
        sheet.paragraph(f"{text}.", CELL)


def _in_place(line: DustLine) -> str:
    instead = f"in place of event {line.replaces}" if line.replaces is not None else ""
    return "; ".join(text for text in (instead, line.why_withdrawn) if text)


def _sound(note: NoteLine) -> str:
    if not note.sound:
        return ""
    return f"dictated, as it was heard; sound {note.sound}, SHA-256 {short_hash(note.sha256)}"
