"""What the parts of the daily log have in common: styles, and the wording of references, verdicts, hashes and seals."""

from __future__ import annotations

from collections.abc import Sequence

from fieldassist.report import fonts
from fieldassist.report.sheet import ACCENT, CELL, CELL_ALARM, CELL_GREY, GREY, SMALL, Cell, Mark, Sheet, Style, wrap
from fieldassist.report.told import Signature

SMALL_CAPS = Style(fonts.BOLD, 7.6, 10, GREY)
BIG = Style(fonts.BOLD, 15, 19)
ALARM = Style(fonts.BOLD, 8.4, 10.6, ACCENT)
HEX = Style(fonts.MONO, 6.9, 9.2)


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


def verdict_cell(passed: bool | None, struck: bool = False) -> Cell:
    """A verdict by shape and word; what was withdrawn has none, and what was not judged is empty."""
    if struck:
        return Cell("withdrawn", CELL_GREY)
    if passed is None:
        return Cell("")
    mark: Mark = "pass" if passed else "fail"
    return Cell("pass" if passed else "FAIL", CELL if passed else CELL_ALARM, mark=mark)


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
