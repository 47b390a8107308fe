"""Which typeface a word is set in: B612, and DejaVu Sans Condensed for words with letters that B612 lacks."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterator

# What B612 has, in regular and bold: from and to. A test reads it from the fonts.
_COVERED = (
    *((32, 126), (160, 255), (338, 339), (352, 353), (376, 376), (402, 402), (710, 711), (728, 733), (913, 927)),
    *((929, 929), (931, 937), (945, 960), (962, 969), (977, 978), (981, 982), (8208, 8208), (8211, 8214)),
    *((8216, 8218), (8220, 8222), (8224, 8227), (8230, 8230), (8240, 8245), (8249, 8250), (8258, 8258)),
    *((8273, 8273), (8304, 8305), (8308, 8334), (8364, 8364), (8377, 8377), (8451, 8451), (8457, 8457)),
    *((8467, 8467), (8482, 8482), (8486, 8486), (8531, 8555), (8592, 8601), (8722, 8723), (8730, 8730)),
    *((8733, 8734), (8776, 8776), (8800, 8801), (8804, 8805), (10003, 10003)),
)
_STARTS = [start for start, _ in _COVERED]
_WORDS = re.compile(r"(\s+)")


def covered(text: str) -> bool:
    """Whether B612 has every letter of a text.

    >>> covered("3/8 in, 5½ °C, naïve"), covered("Wiśniewska")
    (True, False)
    """
    return all(c in "\n\t" or _has(ord(c)) for c in text)


def _has(code: int) -> bool:
    place = bisect_right(_STARTS, code) - 1
    return place >= 0 and code <= _COVERED[place][1]


def words_by_face(text: str) -> Iterator[tuple[str, bool]]:
    """A text in pieces, each with whether B612 has it: a word is set in one typeface as a whole.

    >>> list(words_by_face("Ana Wiśniewska"))
    [('Ana ', True), ('Wiśniewska', False)]
    """
    piece, now = "", True
    for word in _WORDS.split(text):
        if not word:
            continue
        has = word.isspace() or covered(word)
        if has != now and piece and not word.isspace():
            yield piece, now
            piece = ""
        if not word.isspace():
            now = has
        piece += word
    if piece:
        yield piece, now
