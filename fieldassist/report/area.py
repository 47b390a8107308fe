"""One area of the daily log: its setting, what was required, lifted, failed and cured, and every entry in order."""

from __future__ import annotations

from collections.abc import Sequence

from fieldassist.report import charts
from fieldassist.report.build.words import short_time
from fieldassist.report.photos import photo_rows
from fieldassist.report.pictures import Album
from fieldassist.report.report_model import (
    AreaReport,
    Batch,
    ClockLine,
    DayReport,
    FailureReport,
    LiftLine,
    SequenceLine,
    SpreadLine,
    TileLine,
)
from fieldassist.report.sheet import (
    CELL,
    CELL_ALARM,
    CELL_GREY,
    CELL_STRONG,
    INK,
    NUMBER,
    PALE,
    SMALL,
    STRONG,
    TEXT,
    Box,
    Cell,
    Column,
    Row,
    Sheet,
)
from fieldassist.report.wording import (
    ALARM,
    BIG,
    MARKS,
    SMALL_CAPS,
    VERDICTS,
    by_eye,
    how_cell,
    many,
    other_units,
    sentences,
    set_of_planned,
    verdict_cell,
    with_ref,
)
from fieldassist.trade.quantities import format_quantity

TILES_NOTE = (
    "“Witnessed” is a tile of which every step was called. “Counted” is one whose steps were not called one by one: "
    "only lifts speak for it. “Set again” is one that went back into new mortar after its lift, told in one phrase. A "
    "tile that was put back after its lift was not lifted again: of all tiles it is the one without proof."
)


def area_pages(sheet: Sheet, day: DayReport, area: AreaReport, number: int, album: Album) -> None:
    """The pages of one area that was started; number counts from 1."""
    sheet.running = f"Area {number}: {area.name}"
    # An area begins on a fresh page unless much of this one is left.
    if sheet.room < sheet.full_room * 0.55:
        sheet.new_page()
    else:
        sheet.space(20)
    _area_title(sheet, day, area, number)
    boxes = [
        *(Box(f.label, with_ref(f.text, f.ref), _span(f.label)) for f in area.setting),
        Box("Checklist", area.checklist, 2),
    ]
    if area.trial is None:
        boxes.append(Box("Set of planned", set_of_planned(area.standing), 2))
        boxes.append(Box("How they are recorded", area.standing.seen_told, 4))
    sheet.form(boxes, 4)
    sheet.paragraph(other_units(day, area.other_units), SMALL)
    sheet.foot = other_units(day, area.other_units)
    if area.trial is None:
        _periods(sheet, area)
        _need(sheet, area)
        _lifts(sheet, area)
        _tiles(sheet, area)
        _spreads(sheet, area)
    _failures(sheet, area)
    _withdrawn(sheet, area)
    if area.photos:
        sheet.heading("Photos", 150)
        photo_rows(sheet, area.photos, album)
    _batches(sheet, area)
    _bags(sheet, area)
    _clocks(sheet, area)
    _holds(sheet, area)
    _cautions(sheet, area)
    _sequence(sheet, area)


def _periods(sheet: Sheet, area: AreaReport) -> None:
    if area.periods:
        sheet.heading("Who set with which method")
        sheet.table(
            [Column("tiles", share=1.2), Column("set by", share=0.9), Column("", 20), Column("method", share=5)],
            [
                Row(
                    (
                        Cell(p.tiles, CELL_STRONG),
                        Cell(p.setter),
                        Cell(p.letter, CELL_STRONG),
                        Cell(p.text, below=f"in the plan: {p.name}; {p.rests}" if p.name else p.rests),
                    )
                )
                for p in area.periods
            ],
            continued=f"{area.name}: who set with which method",
        )
    if not area.changes:
        return
    sheet.heading("Changes of method and setter")
    rows = [
        Row((Cell(c.time), Cell(c.what.capitalize()), Cell(c.text), Cell(c.who), Cell(str(c.seq), NUMBER)))
        for c in area.changes
    ]
    sheet.table(
        [Column("from", 52), Column("what", 58), Column("to", share=1), Column("said by", 70), Column("event", 32)],
        rows,
        continued=f"{area.name}: changes of method and setter",
    )


def _span(label: str) -> int:
    if label in ("Who may carry one", "Assumed for carrying it"):
        return 4
    return 1 if label in ("Surface to set", "Joint", "Product", "Weight of one piece") else 2


def _area_title(sheet: Sheet, day: DayReport, area: AreaReport, number: int) -> None:
    sheet.bookmark(f"{area.name} ({'finished' if area.finished else 'not finished'})", key=f"area-{number}")
    sheet.line(sheet.left, sheet.y, sheet.right, sheet.y, 1.6, INK)
    sheet.y += 12
    sheet.text(sheet.left, sheet.y, f"AREA {number} OF {day.summary.areas_planned}", SMALL_CAPS)
    if area.finished:
        wide = sheet.text(
            sheet.right, sheet.y, f"started {area.started}, finished {area.finished}", STRONG, align="right"
        )
        sheet.mark(sheet.right - wide - 8, sheet.y - 3, "pass")
    else:
        wide = sheet.text(sheet.right, sheet.y, f"started {area.started}, NOT FINISHED", ALARM, align="right")
        sheet.mark(sheet.right - wide - 8, sheet.y - 3, "fail")
    sheet.y += 18
    sheet.text(sheet.left, sheet.y, area.name, BIG)
    sheet.y += 8


def _need(sheet: Sheet, area: AreaReport) -> None:
    need, verdict = area.need, area.verdict
    if need is None or verdict is None:
        return
    sheet.heading("Required contact", 66)
    conditions = [with_ref(f"contact at least {need.contact}", need.ref)]
    if need.void:
        conditions.append(with_ref(f"no void over {need.void}", need.void_ref))
    if need.corners:
        conditions.append("every corner supported")
    conditions.append(f"at least {need.least_lifts} tiles lifted in the area")
    standing = f"{many(verdict.lifts, 'tile')}: {verdict.told}" if verdict.told else "none"
    words = {"passed": "meets the requirement", "failed": "NOT MET", "not complete": "NOT COMPLETE"}
    result = sentences((words[verdict.outcome], *verdict.reasons))
    sheet.form(
        [
            Box("What is required of each lifted tile", "; ".join(conditions), 4),
            Box("Lifts that stand (a tile that was lifted again counts with its last lift)", standing, 2),
            Box("The lifts of this area", result, 2, STRONG if verdict.passed else ALARM,
                MARKS[verdict.outcome]),
        ],
        4,
    )  # fmt: skip
    sheet.y += 2
    for note in (*area.standing.proves, *need.notes):
        sheet.paragraph(note, SMALL)


def _lifts(sheet: Sheet, area: AreaReport) -> None:
    sheet.heading("Test tiles lifted", charts.STRIP_HEIGHT if area.lifts else 14)
    if not area.lifts:
        sheet.paragraph("No tile was lifted in this area.", CELL_GREY)
        return
    charts.lift_chart(sheet, area.lifts)
    sheet.y += 4
    # What no lift read is said once, not at every lift.
    never = [u for u in area.lifts[0].unread if all(u in x.unread for x in area.lifts)]
    sheet.table(
        [Column("lift", 22), Column("lifted", 46), Column("tile", 32), Column("came about", share=1.2),
         Column("by, method", share=1.2), Column("contact", 42), Column("largest void", share=1.2),
         Column("corners, edges, bed", share=1.8), Column("result", 52), Column("remarks", share=2.2),
         Column("event", 28)],
        [_lift_row(x, never) for x in area.lifts],
        continued=f"{area.name}: test tiles lifted",
    )  # fmt: skip
    if never:
        sheet.y += 2
        sheet.paragraph(f"Not read at any of these lifts: {', '.join(never)}.", SMALL)


def _lift_row(lift: LiftLine, never: Sequence[str]) -> Row:
    remarks = [*lift.reasons, *filter(None, [by_eye(lift.source)])]
    unread = [u for u in lift.unread if u not in never]
    if unread:
        remarks.append(f"not read: {', '.join(unread)}")
    remarks.append(f"read by {lift.who}")
    remarks += [f"photo: event {p.seq}" for p in lift.photos]
    if lift.beside and not lift.withdrawn:
        remarks.append(lift.beside)
    remarks += lift.corrected
    seen = sentences((lift.corners, lift.edges, lift.bed and f"bed {lift.bed}"))
    return Row(
        (
            Cell(str(lift.number), CELL_STRONG, strike=lift.withdrawn),
            Cell(lift.time),
            Cell(str(lift.tile), CELL_STRONG, below=f"“{lift.label}”" if lift.label else "", strike=lift.withdrawn),
            Cell(lift.came, strike=lift.withdrawn),
            Cell(sentences((f"{lift.setter}, {lift.method}" if lift.method else lift.setter, lift.batch))),
            Cell(lift.contact_told, CELL_STRONG, strike=lift.withdrawn),
            Cell(lift.void or "not read", CELL if lift.void else CELL_GREY, strike=lift.withdrawn),
            Cell(seen or "not read", CELL if seen else CELL_GREY, strike=lift.withdrawn),
            verdict_cell(lift.verdict, lift.withdrawn, "judged anew" if lift.judged_anew else "withdrawn"),
            Cell("; ".join(remarks), strike=lift.withdrawn),
            Cell(_event(lift.seq), NUMBER),
        )
    )


def _event(seq: int) -> str:
    """The number of an event; a dash for one of an earlier day, whose log has it."""
    return str(seq) if seq > 0 else "–"


def _tiles(sheet: Sheet, area: AreaReport) -> None:
    if not area.set_in_order:
        return
    sheet.heading("Tiles in the order they were set", 50, TILES_NOTE)
    charts.tile_strip(sheet, area.set_in_order, area.lifts)
    sheet.y += 4
    sheet.table(
        [Column("tile", 24), Column("place", share=1.2), Column("set", 46), Column("by, method, mortar", share=1.5),
         Column("how it is recorded", share=1.7), Column("state", share=1), Column("why", share=2.2),
         Column("event", 30)],
        [_tile_row(tile) for tile in area.set_in_order],
        continued=f"{area.name}: tiles",
    )  # fmt: skip


def _tile_row(tile: TileLine) -> Row:
    alarm = tile.state in ("suspect", "lifted failed", "accepted", "taken off")
    return Row(
        (
            Cell(str(tile.number), CELL_STRONG, strike=tile.state == "taken off"),
            Cell(tile.place),
            Cell(tile.time),
            Cell(sentences((f"{tile.setter}, {tile.method}", tile.batch))),
            Cell(tile.seen_told, mark=tile.seen),
            Cell(tile.state, CELL_ALARM if alarm else CELL),
            Cell(sentences((tile.why, tile.put_back, tile.lot))),
            Cell(_event(tile.seq), NUMBER),
        )
    )


def _spreads(sheet: Sheet, area: AreaReport) -> None:
    if not area.spreads:
        return
    note = (
        "One spread begins one open time, measured until its last tile was in. What it bears is reckoned from the pace."
    )
    sheet.heading("Mortar spread for tiles that were counted", 40, note)
    sheet.table(
        [Column("spread", 46), Column("by, method, mortar", share=1.5), Column("for", share=0.9),
         Column("open time bears", share=0.9), Column("in", 24, right=True), Column("tiles", share=1.5),
         Column("minutes of open time", share=1.4), Column("then", share=1.3), Column("event", 30)],
        [_spread_row(spread) for spread in area.spreads],
        continued=f"{area.name}: mortar spread",
    )  # fmt: skip


def _spread_row(spread: SpreadLine) -> Row:
    first = "the first was witnessed" if spread.witnessed else ""
    more = spread.wanted is not None and spread.bears is not None and spread.wanted > spread.bears
    skinned = spread.standing == "skinned"
    standing = {"open": "still open", "over": "over", "skinned": "SKINNED, scraped off"}[spread.standing]
    return Row(
        (
            Cell(spread.time),
            Cell(sentences((f"{spread.setter}, {spread.method}", spread.batch))),
            Cell(many(spread.wanted, "tile") if spread.wanted is not None else "not said"),
            Cell(f"about {spread.bears}" if spread.bears is not None else "not known", CELL_ALARM if more else CELL),
            Cell(str(spread.done), CELL_STRONG),
            Cell(spread.tiles, below=first),
            Cell(with_ref(_open_time(spread), spread.ref)),
            Cell(standing, CELL_ALARM if skinned else CELL, mark="fail" if skinned else ""),
            Cell(_event(spread.seq), NUMBER),
        )
    )


def _open_time(spread: SpreadLine) -> str:
    """What was measured of an open time beside what it allows."""
    if spread.minutes is None or spread.allowed is None:
        return "not measured"
    allowed = format_quantity(spread.allowed, "min")
    if spread.outcome == "not timed apart":
        return f"NOT TIMED APART, {allowed} allowed"
    return f"{format_quantity(spread.minutes, 'min')} of {allowed}"


def _bags(sheet: Sheet, area: AreaReport) -> None:
    bags = area.bags
    if bags is None:
        return
    sheet.heading("Mortar used against mortar predicted", 90)
    if bags.predicted is not None:
        charts.bag_bars(sheet, bags.used, bags.predicted)
    words = {"": "not judged", "too little": "TOO LITTLE MORTAR", "as predicted": "as predicted"}
    verdict = words.get(bags.verdict, bags.verdict)
    short = bags.verdict == "too little"
    used = f"{format_quantity(bags.used, 'count')} {'bag' if bags.used == 1 else 'bags'}"
    boxes = [
        Box("Bags used", f"{used}, said {bags.time} by {bags.who} (event {bags.seq})", 2),
        Box("The mass balance says", f"{verdict}: {bags.reason}" if bags.reason else verdict, 2,
            ALARM if short else TEXT, "fail" if short else "pass" if bags.verdict == "as predicted" else ""),
    ]  # fmt: skip
    if bags.rests_on:
        boxes.append(Box("The prediction rests on", with_ref(bags.rests_on, bags.ref), 4))
    sheet.form(boxes, 4)


def _failures(sheet: Sheet, area: AreaReport) -> None:
    standing = [f for f in area.failures if not f.withdrawn]
    sheet.heading("Failures and how they were cured", 80 if standing else 14)
    for finding in area.standing.failures_before:
        sheet.paragraph(f"Of an earlier day, OPEN, not cured: {finding}", CELL_ALARM)
    if not standing and not area.standing.failures_before:
        sheet.paragraph("None.", CELL_GREY)
    for failure in standing:
        _failure(sheet, failure)
    withdrawn = [f for f in area.failures if f.withdrawn]
    if withdrawn:
        sheet.paragraph("Withdrawn with the answers that brought them about, counted nowhere:", SMALL)
    for failure in withdrawn:
        sheet.paragraph(f"event {failure.seq}, {failure.time}: {failure.finding}", CELL_GREY, strike=True)


def _failure(sheet: Sheet, failure: FailureReport) -> None:
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
        wide = sheet.text(sheet.right - 5, sheet.y + 10.6, "OPEN, not cured", ALARM, align="right")
        sheet.mark(sheet.right - wide - 13, sheet.y + 7.6, "fail")
    sheet.y += 17
    lines: list[tuple[str, str, bool]] = [
        ("Where", failure.place, False),
        ("Found", failure.finding, False),
        ("Required", with_ref(failure.criterion, failure.ref), False),
        ("Corrective action", failure.corrective, False),
    ]
    lines += [_told(s, "Done" if i == 0 else "") for i, s in enumerate(failure.steps)]
    if not failure.steps:
        lines.append(("Done", "nothing yet", False))
    lines += [_told(s, "Checked again" if i == 0 else "") for i, s in enumerate(failure.checks)]
    if failure.tightened:
        more = many(failure.tightened, "lift")
        lines.append(("Inspection tightened", f"a lift after every tile until {more} more have passed", False))
    if failure.cured:
        cured = f"{failure.cure}; shown by: {failure.shown_by} (event {failure.closed_seq})"
        lines.append(("Cured", cured, False))
    for label, text, struck in lines:
        _labelled(sheet, label, text, struck)
    sheet.y += 7


def _told(line: SequenceLine, label: str) -> tuple[str, str, bool]:
    verdict = VERDICTS[line.verdict] if line.verdict is not None else ""
    parts = [line.what, line.reading, line.criterion and f"required {line.criterion}", verdict]
    told = f"{line.time} {line.who}: {', '.join(p for p in parts if p)} (event {line.seq})"
    return label, sentences((told, *line.corrected)), line.withdrawn


def _labelled(sheet: Sheet, label: str, text: str, struck: bool = False, label_width: float = 92.0) -> None:
    sheet.need(CELL.leading)
    sheet.text(sheet.left + 5, sheet.y + 7.4, label, SMALL)
    sheet.paragraph(text, CELL, x=sheet.left + label_width, wide=sheet.width - label_width - 4, strike=struck)
    sheet.y += 1.2


def _withdrawn(sheet: Sheet, area: AreaReport) -> None:
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


def _batches(sheet: Sheet, area: AreaReport) -> None:
    if not area.batches:
        return
    sheet.heading("Batches of mortar")
    sheet.table(
        [Column("batch", share=1.1), Column("opened", 50), Column("by", 56), Column("steps and readings", share=2.6),
         Column("pot life", share=1.6), Column("tiles set", 46, right=True),
         Column("event", 32)],
        [_batch_row(b) for b in area.batches],
        continued=f"{area.name}: batches of mortar",
    )  # fmt: skip


def _batch_row(batch: Batch) -> Row:
    told = []
    for step in batch.steps:
        if step.withdrawn:
            continue
        reading = f" {step.reading}" if step.reading else ""
        verdict = " (FAIL)" if step.passed is False else ""
        told.append(f"{step.what.lower()}{reading} {short_time(step.time)}{verdict}")
    clock = _clock_words(batch.clock) if batch.clock else "–" if batch.withdrawn else "not started"
    alarm = batch.clock is not None and batch.clock.outcome == "ran out" and not batch.withdrawn
    note = "withdrawn" if batch.withdrawn else "" if batch.done else "not completed"
    return Row(
        (
            Cell(batch.title, CELL_STRONG, below=sentences((batch.mixed, note)), strike=batch.withdrawn),
            Cell(batch.opened, strike=batch.withdrawn),
            Cell(batch.who),
            Cell(", ".join(told) or "–", strike=batch.withdrawn),
            Cell(clock, CELL_ALARM if alarm else CELL, mark="fail" if alarm else ""),
            Cell(str(batch.tiles), below=batch.which, strike=batch.withdrawn),
            Cell(str(batch.seq), NUMBER),
        )
    )


def _clock_words(clock: ClockLine) -> str:
    allowed = format_quantity(clock.allowed, "min")
    if clock.withdrawn:
        return "withdrawn"
    if clock.outcome == "ran out":
        late = f", noted {short_time(clock.ended)}" if clock.noted_late >= 1 else f" {short_time(clock.ended)}"
        return f"{allowed} ran out{late}"
    used = format_quantity(clock.used, "min")
    if clock.outcome == "called late":
        return f"{allowed} ran out {short_time(clock.ended)}, kept and called late"
    if clock.outcome == "not timed apart":
        return f"{allowed}, not timed apart"
    if clock.outcome == "still running":
        return f"running at the last entry, {used} of {allowed}"
    return f"stopped {short_time(clock.ended)}, {used} of {allowed}"


def _clocks(sheet: Sheet, area: AreaReport) -> None:
    if not area.clocks:
        return
    sheet.heading("Clocks", 70)
    charts.time_line(sheet, area.clocks, area.started, area.minutes)
    _measured(sheet, area)
    _not_timed(sheet, [c for c in area.clocks if c.outcome == "not timed apart" and not c.withdrawn])
    out = [c for c in area.clocks if c.outcome in ("ran out", "called late")]
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
                Cell(with_ref(format_quantity(c.allowed, "min"), c.ref)),
                Cell(c.ended, below=sentences((_late(c), *c.remarks))),
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


def _not_timed(sheet: Sheet, clocks: Sequence[ClockLine]) -> None:
    """The times of which nothing is known: both ends were called in one breath."""
    if not clocks:
        return
    which = "; ".join(f"{c.title}, {c.belongs_to} (event {c.run})" for c in clocks)
    sheet.y += 3
    sheet.paragraph(
        f"Not timed apart, both ends called in one breath, so nothing was measured or judged: {which}.", CELL
    )


def _measured(sheet: Sheet, area: AreaReport) -> None:
    """The times that had to be kept at least: what ran, and whether that was long enough."""
    least = [c for c in area.clocks if c.least and not c.withdrawn]
    if not least:
        return
    words = {"long enough": "pass", "gone on early": "GONE ON EARLY", "still running": "still running"}
    sheet.y += 3
    sheet.table(
        [Column("time that was measured", share=1.4), Column("started in", share=1.1), Column("started", 52),
         Column("at least", share=0.8), Column("ran", share=0.8), Column("until", 52), Column("result", share=1),
         Column("remarks", share=2), Column("event", 32)],
        [
            Row(
                (
                    Cell(c.title),
                    Cell(c.belongs_to),
                    Cell(c.started),
                    Cell(with_ref(format_quantity(c.allowed, "min"), c.ref)),
                    Cell(format_quantity(c.used, "min")),
                    Cell(c.ended or "–"),
                    Cell(words[c.outcome], CELL if c.kept else CELL_ALARM, mark="" if c.kept else "fail"),
                    Cell(sentences(c.remarks)),
                    Cell(str(c.run), NUMBER),
                )
            )
            for c in least
        ],
        continued=f"{area.name}: times that were measured",
    )  # fmt: skip


def _late(clock: ClockLine) -> str:
    late = clock.noted_late
    return f"{format_quantity(late, 'min')} after time was up" if late >= 1 else ""


def _holds(sheet: Sheet, area: AreaReport) -> None:
    holds = [h for h in area.holds if not h.withdrawn]
    if not holds:
        return
    sheet.heading("Hold points released")
    rows = [
        Row(
            (
                Cell(h.time),
                Cell(h.name, CELL_STRONG, below=h.role),
                Cell(h.how, CELL if h.answered else CELL_ALARM, mark="" if h.answered else "fail"),
                Cell(with_ref(h.what, h.ref)),
                Cell(_event(h.seq), NUMBER),
            )
        )
        for h in holds
    ]
    sheet.table(
        [Column("time", 52), Column("released by", share=0.8), Column("how", share=1.2),
         Column("hold point", share=1.6), Column("event", 32)],
        rows,
        continued=f"{area.name}: hold points released",
    )  # fmt: skip


def _cautions(sheet: Sheet, area: AreaReport) -> None:
    sheet.heading("Cautions acknowledged", 40 if area.cautions else 14)
    if not area.cautions:
        sheet.paragraph("None was due.", CELL_GREY)
        return
    rows = []
    for caution in area.cautions:
        times = "; ".join(f"{time} {who} (event {seq})" for time, who, seq in caution.acknowledged)
        rows.append(Row((Cell(str(caution.number), NUMBER), Cell(with_ref(caution.text, caution.ref)), Cell(times))))
    sheet.table(
        [Column("no.", 22), Column("caution, as it was read out", share=2.2), Column("acknowledged", share=1)],
        rows,
        continued=f"{area.name}: cautions acknowledged",
    )


def _sequence(sheet: Sheet, area: AreaReport) -> None:
    sheet.heading("Sequence", 60, note="Every entry of this area in order, as the log holds it.")
    sheet.bookmark("Sequence", 1)
    sheet.table(
        [Column("event", 32), Column("time", 50), Column("who", 56), Column("what", share=2.2),
         Column("reading", share=1.55), Column("how", 44), Column("criterion", share=1.5), Column("result", 54),
         Column("basis", 28)],
        [_sequence_row(line) for line in area.sequence],
        continued=f"{area.name}: sequence",
    )  # fmt: skip


def _sequence_row(line: SequenceLine) -> Row:
    if line.kind == "round":
        note = f"{line.time}, {line.detail}" if line.detail != "continued" else line.detail
        if line.withdrawn:
            note = f"{note}; {line.why_withdrawn}"
        return Row(band=line.what, band_note=note, strike=line.withdrawn)
    quiet = line.kind in ("clock", "change", "area", "caution")
    what = CELL_ALARM if line.kind == "clock" and line.passed is False else CELL_GREY if quiet else CELL
    if line.kind == "failure" and not line.withdrawn:
        what = CELL_STRONG
    text, below = line.what, line.detail
    if line.kind in ("clock", "change") and below:
        # A remark of one kind with its line: "Clock stopped: Open time, after 4 min of 20 min".
        text, below = f"{line.what}, {line.detail}", ""
    if line.withdrawn:
        below = sentences((below, line.why_withdrawn))
    below = sentences((below, *line.corrected))
    result = verdict_cell(line.verdict, line.withdrawn)
    if line.kind == "clock" and line.passed is False:
        result = Cell("ran out", CELL_ALARM, mark="fail")
    wide = quiet or line.kind == "failure"
    return Row(
        (
            Cell(str(line.seq), NUMBER),
            Cell(line.time),
            Cell(line.who),
            Cell(text, what, below=below, strike=line.withdrawn, spill=4, run_on=wide and not line.criterion),
            Cell(line.reading, CELL_STRONG, strike=line.withdrawn),
            how_cell(line.source, line.kept),
            Cell(line.criterion, strike=line.withdrawn),
            result,
            Cell(f"[{line.ref}]" if line.ref else "", CELL_GREY),
        )
    )
