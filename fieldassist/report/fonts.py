"""The typefaces of printed reports, embedded from our own assets so that a page looks the same everywhere."""

from __future__ import annotations

from functools import cache, lru_cache
from itertools import groupby
from typing import Any

from reportlab import rl_config
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from fieldassist.places import shipped

BODY = "Report"
BOLD = "Report-Bold"
MONO = "Report-Mono"
# The faces of pages on the grid (`report.grid`).
REGULAR = "Page"
SEMIBOLD = "Page-Semibold"
HEAVY = "Page-Bold"
ITALIC = "Page-Italic"

_FILES = {
    BODY: "DejaVuSansCondensed.ttf",
    BOLD: "DejaVuSansCondensed-Bold.ttf",
    MONO: "DejaVuSansMono.ttf",
    REGULAR: "Lato-Regular.ttf",
    SEMIBOLD: "Lato-Semibold.ttf",
    HEAVY: "Lato-Bold.ttf",
    ITALIC: "Lato-Italic.ttf",
}
# What sets the letters that a face of the grid lacks.
_OTHER_LETTERS = {REGULAR: BODY, SEMIBOLD: BOLD, HEAVY: BOLD, ITALIC: BODY}
NOT_IN_TYPEFACE = "□"
# On the grid no box stands for letters that no face has: they are named.
LACKING = "(letters that this page cannot print)"


@cache
def register() -> None:
    """Set the PDF library up, once a process: our typefaces, and no detour over text for what is binary."""
    rl_config.useA85 = 0
    for name, file in _FILES.items():
        font = TTFont(name, str(shipped("assets") / "fonts" / file))
        _repair_widths(font.face)
        pdfmetrics.registerFont(font)


def _repair_widths(face: Any) -> None:
    """Give the glyphs that share the last width of a typeface's table that width.

    The library reads it scaled to thousandths and writes that into what it embeds, where font units belong: such a
    typeface has two widths for a letter, which ISO 19005-3, 6.2.11.5 forbids.
    """
    own = int.from_bytes(face.get_table("hhea")[34:36], "big")
    shared = face.hmetrics[own - 1][0]
    face.hmetrics[own:] = [(shared, bearing) for _, bearing in face.hmetrics[own:]]


@lru_cache(maxsize=100_000)
def width(text: str, face: str, size: float) -> float:
    """How wide `text` is set, in points."""
    return sum(float(pdfmetrics.stringWidth(part, one, size)) for one, part in runs(text, face))


@cache
def _known(face: str) -> frozenset[int]:
    return frozenset(pdfmetrics.getFont(face).face.charToGlyph)


def runs(text: str, face: str) -> tuple[tuple[str, str], ...]:
    """A text as it is set: parts, each with the face that has its letters.

    >>> register()
    >>> runs("Bay ▲ 2", REGULAR)
    (('Page', 'Bay '), ('Report', '▲'), ('Page', ' 2'))
    """
    other = _OTHER_LETTERS.get(face)
    if other is None or text.isascii():
        return ((face, text),)
    known = _known(face)
    parts = groupby(text, key=lambda letter: face if ord(letter) in known else other)
    return tuple((one, "".join(letters)) for one, letters in parts)


def printable(text: str, face: str) -> str:
    """`text` on one line, what no typeface has replaced: by a box, or on the grid by words.

    >>> register()
    >>> printable("Łąka\\n№ 7 \U00013080", BODY)
    'Łąka № 7 □'
    >>> printable("Bay \U00013080\U00013081", REGULAR)
    'Bay (letters that this page cannot print)'
    """
    text = " ".join(text.split())
    if text.isascii() and text.isprintable():
        return text
    other = _OTHER_LETTERS.get(face)
    known = _known(face) if other is None else _known(face) | _known(other)
    if other is None:
        return "".join(c if ord(c) in known and c.isprintable() else NOT_IN_TYPEFACE for c in text)
    parts = groupby(text, key=lambda letter: ord(letter) in known and letter.isprintable())
    return "".join("".join(letters) if shown else LACKING for shown, letters in parts)
