"""The typefaces of printed reports, embedded from our own assets so that a page looks the same everywhere."""

from __future__ import annotations

import unicodedata
from functools import cache, lru_cache
from itertools import groupby
from typing import Any

from reportlab import rl_config
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from fieldassist.places import shipped

REGULAR = "Page"
SEMIBOLD = "Page-Semibold"
HEAVY = "Page-Bold"
ITALIC = "Page-Italic"
FIXED = "Page-Fixed"  # commands to be copied, nothing else
_OTHER, _OTHER_HEAVY = "Other", "Other-Bold"

_FILES = {
    _OTHER: "DejaVuSansCondensed.ttf",
    _OTHER_HEAVY: "DejaVuSansCondensed-Bold.ttf",
    FIXED: "DejaVuSansMono.ttf",
    REGULAR: "Lato-Regular.ttf",
    SEMIBOLD: "Lato-Semibold.ttf",
    HEAVY: "Lato-Bold.ttf",
    ITALIC: "Lato-Italic.ttf",
}
# What sets the letters that a face lacks.
_OTHER_LETTERS = {
    REGULAR: _OTHER,
    SEMIBOLD: _OTHER_HEAVY,
    HEAVY: _OTHER_HEAVY,
    ITALIC: _OTHER,
    FIXED: _OTHER,
    # A part of a text is asked about, too.
    _OTHER: _OTHER,
    _OTHER_HEAVY: _OTHER_HEAVY,
}
# What stands where a label holds letters that no face has; those of a day are named in words before (`letters`).
LACKING = "(…)"


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
    """The letters of a face that can be set here: from left to right, each as it is. Arabic and Hebrew cannot."""
    letters = pdfmetrics.getFont(face).face.charToGlyph
    return frozenset(one for one in letters if unicodedata.bidirectional(chr(one)) not in ("R", "AL", "AN"))


def runs(text: str, face: str) -> tuple[tuple[str, str], ...]:
    """A text as it is set: parts, each with the face that has its letters.

    >>> register()
    >>> runs("Bay ▲ 2", REGULAR)
    (('Page', 'Bay '), ('Other', '▲'), ('Page', ' 2'))
    >>> width("▲", REGULAR, 10) == width("▲", "Other", 10)
    True
    """
    if text.isascii():
        return ((face, text),)
    known, other = _known(face), _OTHER_LETTERS[face]
    parts = groupby(text, key=lambda letter: face if ord(letter) in known else other)
    return tuple((one, "".join(letters)) for one, letters in parts)


@lru_cache(maxsize=50_000)
def printable(text: str, face: str) -> str:
    """`text` on one line, without letters that no typeface has."""
    text = " ".join(text.split())
    if text.isascii() and text.isprintable():
        return text
    return named(text, LACKING, _known(face) | _known(_OTHER_LETTERS[face]))


@cache
def letters_everywhere() -> frozenset[int]:
    """The letters (code points) that can be set in every weight."""
    register()
    faces = (REGULAR, SEMIBOLD, HEAVY, ITALIC)
    return frozenset.intersection(*(_known(face) | _known(_OTHER_LETTERS[face]) for face in faces))


def named(text: str, lacking: str, known: frozenset[int]) -> str:
    """A text in which each run of letters that are not known is named, one that steers what stands around it too; any
    space is a plain one."""
    spaced = "".join(" " if letter.isspace() else letter for letter in text)
    parts = groupby(spaced, key=lambda letter: letter == " " or (ord(letter) in known and letter.isprintable()))
    return "".join("".join(letters) if shown else lacking for shown, letters in parts)


def without_controls(text: str) -> str:
    """A text on one line without characters that steer what stands around them: no control, no direction.

    >>> without_controls("Bay \u202e2\u202c\a\u2028 north")
    'Bay 2 north'
    """
    return "".join(letter for letter in " ".join(text.split()) if letter.isprintable())
