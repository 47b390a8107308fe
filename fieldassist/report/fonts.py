"""The typefaces of printed reports, embedded from our own assets so that a page looks the same everywhere."""

from __future__ import annotations

from functools import cache, lru_cache

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
    """Make the typefaces known to the PDF library, once a process."""
    for name, file in _FILES.items():
        pdfmetrics.registerFont(TTFont(name, str(shipped("assets") / "fonts" / file)))


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
