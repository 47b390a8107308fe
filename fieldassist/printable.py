"""Text of a record or a file, made fit for one line of a terminal: nothing in it can move the cursor, colour, begin a
line of its own or turn the order of the letters about."""

from __future__ import annotations

import unicodedata

# Controls (C0, C1, DEL), formats (bidirectional overrides, zero width), surrogates, private use, what Unicode has not
# assigned, and the separators of lines and paragraphs: Unicode Standard, table 4-4.
_UNSHOWN = {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}


def printable(text: object, *, lines: bool = False) -> str:
    """`str(text)` with each character that does not show as a letter, mark, figure, sign or space as its escape.

    lines: line feeds and tabs stay, for text of several lines whose parts were made printable one by one.

    >>> printable("fine" + chr(10) + "  99 day sealed" + chr(27) + "[2J")
    'fine\\\\n  99 day sealed\\\\x1b[2J'
    >>> printable("José O'Brien, 3/8 in × 9 m²")
    "José O'Brien, 3/8 in × 9 m²"
    """
    return "".join(
        c if (lines and c in "\n\t") or unicodedata.category(c) not in _UNSHOWN else _escape(c) for c in str(text)
    )


# What moves a cursor or turns the order of letters about: controls, halves of pairs, the separators, and the marks of
# direction (Unicode Standard Annex 9, table 2.7). Other formats join letters of some scripts.
_ACTS = {"Cc", "Cs", "Zl", "Zp"}
_DIRECTIONS = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


def one_line(given: object) -> object:
    """What somebody wrote, as it is recorded: spaces for line feeds and tabs, U+FFFD for what acts; no text as it is.

    >>> one_line("fine" + chr(10) + "  99 day sealed" + chr(27) + "[2J") == "fine 99 day sealed" + chr(0xfffd) + "[2J"
    True
    """
    if not isinstance(given, str):
        return given
    words = " ".join(given.split())
    return "".join("\ufffd" if c in _DIRECTIONS or unicodedata.category(c) in _ACTS else c for c in words)


def _escape(character: str) -> str:
    return character.encode("unicode_escape", "surrogatepass").decode("ascii")
