"""What the parts of the daily log have in common: styles, and the wording of references, verdicts, hashes and seals."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from fieldassist.checklist.moment import How, Source
from fieldassist.checklist.plan import DayKind
from fieldassist.report import fonts
from fieldassist.report.report_model import AreaStanding, DayReport, Signature, Summary
from fieldassist.report.sheet import (
    ACCENT,
    CELL,
    CELL_ALARM,
    CELL_GREY,
    CELL_STRONG,
    GREY,
    SMALL,
    Cell,
    Sheet,
    SheetMark,
    Style,
    wrap,
)
from fieldassist.trade.quantities import Units
from fieldassist.trade.verdict import Outcome

SMALL_CAPS = Style(fonts.BOLD, 7.6, 10, GREY)
BIG = Style(fonts.BOLD, 15, 19)
ALARM = Style(fonts.BOLD, 8.4, 10.6, ACCENT)
HEX = Style(fonts.MONO, 6.9, 9.2)


# What stands on every page of a day that is no work.
DAY_MARKS: Mapping[DayKind, tuple[str, str]] = {
    "work": ("", ""),
    "practice": ("PRACTICE", "a day to try the tablet on. No tile was set. This is proof of nothing."),
    "rehearsal": ("REHEARSAL", "a script was played. No tile was set. This is proof of nothing."),
}


def part(sheet: Sheet, title: str, key: str, follows: float = 40.0, note: str = "") -> None:
    """A heading to which the contents lead."""
    sheet.heading(title, follows, note)
    sheet.bookmark(title, key=key, above=18 + (SMALL.leading if note else 0))


def one_line(text: str, style: Style, room: float) -> str:
    """The text, cut with an ellipsis where it is longer than `room` points."""
    lines = wrap(text, style, room)
    return lines[0] if len(lines) == 1 else f"{lines[0]} …"


def many(count: int, one: str, more: str = "") -> str:
    """A number with its noun.

    >>> many(1, "reading"), many(2, "other entry", "other entries")
    ('1 reading', '2 other entries')
    """
    return f"{count} {one if count == 1 else more or one + 's'}"


def lower(text: str) -> str:
    """The text with a small first letter, for the middle of a sentence."""
    return text[:1].lower() + text[1:]


def set_of_planned(standing: AreaStanding) -> str:
    """The surface set of the surface planned, and the pieces."""
    pieces = f"{standing.pieces} of {many(standing.planned_pieces, 'piece')}"
    return f"{standing.set_told} of {standing.planned_told} ({pieces})"


def seen_note(s: Summary) -> str:
    """How the day's tiles came into the record."""
    again = f", {s.tiles_set_again} set again after a lift" if s.tiles_set_again else ""
    return f"{s.tiles_witnessed} witnessed, {s.tiles_counted} counted{again}"


def short_hash(digest: str) -> str:
    """The first 16 digits of a hash, in fours."""
    return " ".join(digest[at : at + 4] for at in range(0, min(16, len(digest)), 4)) + " …"


def sentences(parts: Sequence[str]) -> str:
    """What there is to say, one after the other."""
    return "; ".join(part for part in parts if part)


def with_ref(text: str, ref: int | None) -> str:
    """A text and the number of its basis in “Where the limits come from”.

    >>> with_ref("at least 95 %", 4), with_ref("at least 95 %", None)
    ('at least 95 % [4]', 'at least 95 %')
    """
    return " ".join(part for part in (text, f"[{ref}]" if ref else "") if part)


MARKS: Mapping[Outcome, SheetMark] = {"passed": "pass", "failed": "fail", "not complete": "open"}
VERDICTS: Mapping[Outcome, str] = {"passed": "pass", "failed": "FAIL", "not complete": "not complete"}
_VERDICT_STYLES: Mapping[Outcome, Style] = {"passed": CELL, "failed": CELL_ALARM, "not complete": CELL_STRONG}


def verdict_cell(verdict: Outcome | None, withdrawn: bool = False, instead: str = "withdrawn") -> Cell:
    """A verdict by shape and word; what was withdrawn has `instead`, and what was not judged is empty."""
    if withdrawn:
        return Cell(instead, CELL_GREY)
    if verdict is None:
        return Cell("")
    return Cell(VERDICTS[verdict], _VERDICT_STYLES[verdict], mark=MARKS[verdict])


# How a value came to the tablet, in a column's one word.
_HOW: Mapping[How, str] = {
    "spoken": "voice",
    "typed": "typed",
    "pressed": "key",
    "counted on a grid": "grid",
    "sketched": "sketch",
    "painted on a photo": "photo",
    "measured on a photo": "photo",
    "clock": "clock",
}
# What the tablet itself takes for heard almost as well as something else (`voice.dialogue`), in nats.
UNSURE = 4.0


def how_cell(source: Source | None, kept: str = "") -> Cell:
    """How a value came to the tablet; with a question mark where other words were heard almost as well, by what it was
    kept, and with the number of phrases that were called in one breath with it."""
    if source is None:
        return Cell("")
    unsure = source.confidence is not None and source.confidence < UNSURE
    together = f"{source.together} together" if source.together > 1 else ""
    return Cell(f"{_HOW[source.how]}{' ?' if unsure else ''}", CELL_GREY, below=sentences((kept, together)))


def by_eye(source: Source | None) -> str:
    """What is worth a remark where a contact was neither called out nor typed; "" otherwise."""
    if source is None or source.how in ("spoken", "typed", "pressed", "clock"):
        return ""
    return f"contact {source.how}"


# The other system of units, once a page: on pages of an area its own key figures stand in this place.
CONVERSIONS: Mapping[Units, str] = {
    "metric": "In US units: 1 mm = 0.0394 in; 1 m = 3.281 ft; 1 cm² = 0.155 in²; 1 m² = 10.76 ft²; 1 kg = 2.205 lb; "
    "1 L = 1.057 qt; °F = 1.8 × °C + 32",
    "us": "In metric units: 1 in = 25.4 mm; 1 ft = 0.3048 m; 1 in² = 6.452 cm²; 1 ft² = 0.0929 m²; 1 lb = 0.4536 kg; "
    "1 qt = 0.9464 L; °C = (°F - 32) / 1.8",
}


def other_units(day: DayReport, figures: str) -> str:
    """An area's key figures in the other system of units."""
    return f"In {'US' if day.units == 'metric' else 'metric'} units: {figures}"


def faulty(signature: Signature) -> bool:
    """Whether a seal does not fit, or fits and somebody should look into something all the same."""
    return signature.seal is not None and bool(signature.seal.fault or signature.seal.warning)


def sealed_words(signature: Signature | None, what: str) -> str:
    """In plain words, whose key vouches for what. what: the day or an addendum."""
    if signature is None:
        return f"{what} is not signed: it was not closed when this was printed, and may still change."
    by = f"{signature.name}, {signature.role}, {signature.time}"
    seal = signature.seal
    if seal is None:
        return f"{what} is signed, not sealed: {by}. No key vouches for its events."
    if seal.fault:
        return (
            f"{what} is signed by {by}, but the SEAL DOES NOT FIT: {seal.fault}. Do not rely on it until that is clear."
        )
    warning = f" But {seal.warning}." if seal.warning else ""
    return (
        f"{what} is sealed by {by}: the key with the fingerprint {seal.fingerprint} vouches for events 1 to "
        f"{seal.covers}.{warning}"
    )
