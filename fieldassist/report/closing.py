"""The last pages of the daily log: refusals, signature and seal, how to verify, addenda, the origin of the limits."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fieldassist.report import by_hand, fonts
from fieldassist.report.report_model import Addendum, DayReport, Signature
from fieldassist.report.sheet import (
    ACCENT,
    CELL,
    CELL_ALARM,
    CELL_GREY,
    CELL_STRONG,
    INK,
    LABEL,
    NUMBER,
    RULE,
    STRONG,
    TEXT,
    Box,
    Cell,
    Column,
    Row,
    Sheet,
    Style,
)
from fieldassist.report.wording import ALARM, HEX, SMALL_CAPS, faulty, many, part, sealed_words, verdict_cell, with_ref

# The field in which a finger signs is taken to be three times as wide as high. Ours.
_INK_WIDE, _INK_HIGH = 150.0, 50.0
_SEAL_HIGH = 180.0
CLOSING = (
    "This log records what was said, tapped and measured on site. It is no substitute for local codes, the product "
    "data sheets of tile, mortar and equipment, the project's specification, or licensed practice; where they differ, "
    "they go before the limits printed here. Limits marked “as reported” or “from memory” are to be checked against "
    "the bought standard."
)
HOW_TO_READ = (
    "A disc with “pass” and a diamond with “FAIL” tell verdicts. A line struck through was withdrawn: it stays in the "
    "log and counts for nothing; a ring marks what is not complete. Numbers in square brackets lead to “Where the "
    "limits come from”. A full square is a tile that was witnessed: every step of it was called. A hatched square is "
    "one that was counted: it came out of mortar spread for several, and only the lifts around it speak for it. A "
    "square with a dot was set again after its lift. “Not timed apart”: two ends of a time were called in one breath, "
    "so that nothing was measured, and nothing is judged. “Event” numbers are those of the log; each event carries "
    "the hash of the one before, so the head at the foot of each page stands for all of them."
)
HOW_VALUES_CAME = (
    "“How” tells how a value came to the tablet: voice; typed; key, pressed on the tablet; grid, counted on a grid "
    "over the tile; sketch, drawn with a finger by eye; photo, painted or measured on one; clock. A question mark "
    "stands where other words were heard almost as well. Under it, by what a reading was kept: “yes”, answered to its "
    "read-back, as for every lift, for whatever fails and for whatever was heard with doubt; “next phrase”, read back "
    "and kept when the work went on; “entered”, typed or pressed and seen. “3 together” is one of three phrases that "
    "were called in one breath: they share one time, so nothing between them was timed."
)
HOW_TO_VERIFY = (
    "The record itself is attached to this PDF as files. On any computer, without a network, “fieldassist verify FILE” "
    "checks that each event follows from the one before it (SHA-256 over canonical JSON, RFC 8785), that each seal is "
    "the signature (Ed25519, RFC 8032) of its key over the events that it covers, that every attached file is the one "
    "that the events speak of, and that this file is signed, all bytes of it, by whoever sealed the record, or else "
    "is, byte for byte, what the record gives when it is printed again. What this page says of seals is no proof by "
    "itself: the check is.",
    "Whose key it is, the roster tells that the firm gave you before the work began, or the signer in person; this "
    "page cannot. A seal tells which key signed, not who held it; and neither tells whether what was entered on site "
    "is true.",
    "Without this program: the page verify.html, from somebody you trust, checks the record in any browser. Or, with "
    f"Poppler and OpenSSL, these lines do it in bash, word for word, where the file is called {by_hand.NAME}.",
)
HAND_RESULT = (
    "Good is: no line that says NOT GOOD, “Signature Verified Successfully”, all events sealed but the seal itself, "
    "and a fingerprint that you know. This reads the record: what was read on site stands in events.jsonl. Where the "
    "certificate is that of the signer, the bytes of a signed file are checked by any viewer, or by these lines:"
)
PAGES_RESULT = (
    "pdfsig has to say “Signature is Valid” and “Total document signed”; that it knows no issuer is as it should be. A "
    "print that bears no signature is a copy: read the attached record, or have it printed again."
)


def refused(sheet: Sheet, day: DayReport) -> None:
    """What was asked for and refused, where there is any."""
    if not day.refused:
        return
    note = "Asked for out of order or without what it needs; nothing was changed by these."
    part(sheet, "Refused attempts", "refused", note=note)
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


def signatures(sheet: Sheet, day: DayReport) -> None:
    """Who signed the day, the drawn signature and the seal, and where the log is received in ink."""
    part(sheet, "Signature and seal", "signature", 150)
    of_the_day = [s for s in day.signatures if s.part == 0]
    if not of_the_day:
        _nobody_signed(sheet, "Nobody has signed this day in the log. It may still change.")
    for signature in of_the_day:
        _signature(sheet, day, signature)
    sheet.y += 6
    sheet.need(48)
    high, wide = 42.0, sheet.width / 3
    for at, label in enumerate(("Received by (name, in ink)", "Signature", "Date")):
        sheet.rect(sheet.left + wide * at, sheet.y, wide, high, stroke=RULE)
        sheet.text(sheet.left + wide * at + 5, sheet.y + 9, label, LABEL)
    sheet.y += high


def _nobody_signed(sheet: Sheet, words: str) -> None:
    high = 40.0
    sheet.need(high + 4)
    sheet.rect(sheet.left, sheet.y, sheet.width, high, stroke=ACCENT, thick=1.2)
    sheet.mark(sheet.left + 17, sheet.y + high / 2, "fail", 5)
    sheet.text(sheet.left + 32, sheet.y + 18, "NOT SIGNED", Style(fonts.BOLD, 12, 14, ACCENT))
    sheet.text(sheet.left + 32, sheet.y + 31, words, TEXT)
    sheet.y += high + 4


def _signature(sheet: Sheet, day: DayReport, signature: Signature) -> None:
    """Who signed what, the drawn signature, and the seal over it."""
    points = "; ".join(signature.open_points) or "none"
    sheet.form(
        [
            Box("Signed in the log by", signature.name, 2, STRONG, "pass"),
            Box("As", signature.role),
            Box("When", f"{signature.time} {day.zone} (event {signature.seq})"),
            Box("Open points accepted with the signature", points, 4, ALARM if signature.open_points else TEXT),
        ],
        4,
    )
    if signature.strokes:
        high = _INK_HIGH + 18
        sheet.need(high)
        sheet.rect(sheet.left, sheet.y, sheet.width, high, stroke=RULE, thick=0.5)
        sheet.text(sheet.left + 5, sheet.y + 8.6, "Signature as it was drawn on the tablet", LABEL)
        x, y = sheet.left + 10, sheet.y + 13
        scaled = [[(x + a * _INK_WIDE / 1000, y + b * _INK_HIGH / 1000) for a, b in s] for s in signature.strokes]
        sheet.ink(scaled)
        sheet.y += high
    seal = signature.seal
    what = f"Addendum {signature.part}" if signature.part else "The day"
    good = seal is not None and not faulty(signature)
    words = sealed_words(signature, what)
    if seal is not None:
        # The key, the head and the signature are compared with each other: they stand on one page.
        sheet.need(_SEAL_HIGH)
    boxes = [Box("Seal", words, 4, TEXT if good else ALARM, "pass" if good else "fail")]
    if seal is not None:
        boxes += [
            Box("Fingerprint of the key, to be compared", seal.fingerprint, 2, STRONG),
            Box("Where the seal stands", f"event {seal.seq}, over events 1 to {seal.covers}", 2),
            Box("Log head that was sealed (SHA-256)", seal.head, 4, HEX),
            Box("Public key (Ed25519)", seal.public_key, 4, HEX),
            Box("Signature of the key", seal.signature, 4, HEX),
        ]
    sheet.form(boxes, 4)


def verifying(sheet: Sheet, day: DayReport, not_attached: Sequence[str]) -> None:
    """How the log is checked. not_attached: files that events speak of and that do not go with the pages."""
    part(sheet, "How to verify this log", "verify", 70)
    for text in HOW_TO_VERIFY:
        sheet.paragraph(text, CELL)
        sheet.y += 3
    _commands(sheet, by_hand.RECIPE)
    sheet.paragraph(HAND_RESULT, CELL)
    sheet.y += 3
    _commands(sheet, by_hand.PAGES)
    sheet.paragraph(PAGES_RESULT, CELL)
    sheet.y += 3
    prints = dict.fromkeys(f"{s.name}: {s.seal.fingerprint}" for s in day.signatures if s.seal is not None)
    if prints:
        sheet.paragraph(f"Keys that sealed, as this file says. {'; '.join(prints)}.", CELL_STRONG)
        sheet.y += 3
    if not_attached:
        sheet.paragraph(f"Not attached, though events speak of it: {'; '.join(not_attached)}.", CELL_ALARM)
    else:
        sheet.paragraph("Every photo and sound that the events speak of is attached.", CELL)


def _commands(sheet: Sheet, lines: Sequence[str]) -> None:
    """Commands to copy, a line each, on one page."""
    sheet.need(len(lines) * HEX.leading + 4)
    for line in lines:
        sheet.y += HEX.leading
        sheet.text(sheet.left, sheet.y - 2.2, line, HEX)
    sheet.y += 4


def addendum_pages(sheet: Sheet, day: DayReport, addendum: Addendum) -> None:
    """A chapter of its own: why the day was opened again, what was corrected and added, who signed it."""
    sheet.running, sheet.foot = f"Addendum {addendum.number}", ""
    if sheet.room < sheet.full_room * 0.55:
        sheet.new_page()
    else:
        sheet.space(20)
    sheet.bookmark(f"Addendum {addendum.number} ({addendum.standing})", key=f"addendum-{addendum.number}")
    sheet.line(sheet.left, sheet.y, sheet.right, sheet.y, 1.6, INK)
    sheet.y += 12
    sheet.text(sheet.left, sheet.y, f"ADDENDUM {addendum.number} OF {len(day.addenda)}", SMALL_CAPS)
    good = addendum.standing == "sealed"
    wide = sheet.text(sheet.right, sheet.y, addendum.standing, STRONG if good else ALARM, align="right")
    sheet.mark(sheet.right - wide - 8, sheet.y - 3, "pass" if good else "fail")
    sheet.y += 8
    sheet.form(
        [
            Box("Why the signed day was opened again", addendum.reason, 4),
            Box("Opened by", addendum.who, 2),
            Box("When", f"{addendum.time} {day.zone} (event {addendum.seq})", 2),
        ],
        4,
    )
    name = f"Addendum {addendum.number}"
    sheet.heading("Corrected", 30, "What is corrected stands where it stood, with these words beside it.")
    if not addendum.corrections:
        sheet.paragraph("Nothing.", CELL_GREY)
    else:
        rows = [
            Row(
                (
                    Cell(str(c.target), NUMBER),
                    Cell(c.what),
                    Cell(c.text, CELL_STRONG),
                    Cell(f"{c.time} {c.who}"),
                    Cell(str(c.seq), NUMBER),
                )
            )
            for c in addendum.corrections
        ]
        sheet.table(
            [Column("event", 32), Column("what stood there", share=2), Column("correction", share=2.4),
             Column("by", share=1), Column("event", 32)],
            rows,
            continued=f"{name}: corrected",
        )  # fmt: skip
    sheet.heading("Added", 30)
    if not addendum.added:
        sheet.paragraph("Nothing.", CELL_GREY)
    else:
        rows = [
            Row(
                (
                    Cell(a.time),
                    Cell(a.who),
                    Cell(a.area or "–"),
                    Cell(a.what, strike=a.withdrawn),
                    Cell(a.reading, CELL_STRONG, strike=a.withdrawn),
                    verdict_cell(a.verdict, a.withdrawn),
                    Cell(str(a.seq), NUMBER),
                )
            )
            for a in addendum.added
        ]
        sheet.table(
            [Column("time", 52), Column("who", 58), Column("area", share=1), Column("what", share=2.4),
             Column("reading", share=1.2), Column("result", 56), Column("event", 32)],
            rows,
            continued=f"{name}: added",
        )  # fmt: skip
    sheet.heading("Signature and seal of the addendum", 60)
    if addendum.signature is None:
        _nobody_signed(sheet, "Nobody has signed this addendum in the log. It may still change.")
    else:
        _signature(sheet, day, addendum.signature)


def questions(sheet: Sheet, day: DayReport) -> None:
    """What the answered steps asked, word for word."""
    if not day.questions:
        return
    note = "The checklists' own words, for each step that was answered."
    part(sheet, "What the steps asked", "questions", note=note)
    rows: list[Row] = []
    before = section = ""
    for question in day.questions:
        if question.checklist != before:
            rows.append(Row(band=question.checklist))
            before, section = question.checklist, ""
        named = "" if question.section == section else question.section
        section = question.section
        asked = with_ref(question.ask, question.ref)
        rows.append(Row((Cell(named, CELL_STRONG), Cell(question.step), Cell(asked))))
    sheet.table(
        [Column("section", share=1.3), Column("step", share=1), Column("asked", share=3.6)],
        rows,
        continued="What the steps asked",
    )


def references(sheet: Sheet, day: DayReport) -> None:
    """The basis of every limit, by the numbers that stand beside the limits."""
    part(sheet, "Where the limits come from", "limits", 30)
    if not day.references:
        sheet.paragraph("No limit was applied.", CELL_GREY)
    for number, text in enumerate(day.references, start=1):
        sheet.need(CELL.leading)
        sheet.text(sheet.left + 18, sheet.y + 7.4, f"[{number}]", CELL_STRONG, align="right")
        sheet.paragraph(text, CELL, x=sheet.left + 24)
        sheet.y += 1


def how_to_read(sheet: Sheet, day: DayReport) -> None:
    """How the log is read, and what goes before it."""
    part(sheet, "How to read this log", "closing", 40)
    for text in _closing_words(sheet, day):
        sheet.paragraph(text, CELL)
        sheet.y += 3


def _closing_words(sheet: Sheet, day: DayReport) -> Iterator[str]:
    yield HOW_TO_READ
    yield HOW_VALUES_CAME
    if day.models:
        yield f"Speech was heard with {', '.join(day.models)}."
    yield CLOSING
    # The plan's own texts have been set by now, so letters without a shape have been met.
    if sheet.lost_letters:
        yield (
            f"Some letters of this log have no shape in the printed typeface and appear as "
            f"{fonts.NOT_IN_TYPEFACE}; the log itself holds them."
        )
    yield f"{many(day.events, 'event')} in this log."
