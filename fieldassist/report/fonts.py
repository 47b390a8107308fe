"""The typefaces of printed reports, embedded from our own assets so that a page looks the same everywhere."""

from __future__ import annotations

from functools import cache, lru_cache
from typing import Any

from reportlab import rl_config
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from fieldassist.places import shipped

BODY = "Report"
BOLD = "Report-Bold"
MONO = "Report-Mono"

_FILES = {
    BODY: "DejaVuSansCondensed.ttf",
    BOLD: "DejaVuSansCondensed-Bold.ttf",
    MONO: "DejaVuSansMono.ttf",
}
NOT_IN_TYPEFACE = "□"


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
    return float(pdfmetrics.stringWidth(text, face, size))


@cache
def _known(face: str) -> frozenset[int]:
    return frozenset(pdfmetrics.getFont(face).face.charToGlyph)


def printable(text: str, face: str) -> str:
    """`text` on one line, what the typeface lacks replaced by a box.

    >>> register()
    >>> printable("Łąka\\n№ 7 \U00013080", BODY)
    'Łąka № 7 □'
    """
    text = " ".join(text.split())
    if text.isascii() and text.isprintable():
        return text
    known = _known(face)
    return "".join(c if ord(c) in known and c.isprintable() else NOT_IN_TYPEFACE for c in text)
