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


def _escape(character: str) -> str:
    return character.encode("unicode_escape", "surrogatepass").decode("ascii")
