"""Sizes of letters, by what they are for, and how large they are seen.

Sizes are in dots of a tablet of 149 dots an inch: the height from baseline to baseline, as fonts are measured.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

DOTS_AN_INCH = 149.0
DOTS_A_MM = DOTS_AN_INCH / 25.4
# The height of a flat capital of B612, in shares of the size: a test reads it from the font.
CAPITAL = 0.75
# Nothing is read that is smaller.
SMALLEST = 24.0

SizeName = Literal["over", "value", "clock", "far", "key", "near", "small"]


@dataclass(frozen=True, slots=True)
class LetterSize:
    """dots: the size; grows: whether it grows with the chosen size of text, up to most dots."""

    dots: float
    grows: bool = False
    most: float = math.inf


# over: overtime; value: the number being entered; clock: minutes and progress; far: question, limit, verdict; key: the
# words on keys; near: quieter ones; small: captions. What is read at two metres is large already and does not grow.
SIZES: Mapping[SizeName, LetterSize] = {
    "over": LetterSize(190),
    "value": LetterSize(120),
    "clock": LetterSize(90),
    "far": LetterSize(73),
    "key": LetterSize(46, grows=True, most=60),
    "near": LetterSize(32, grows=True, most=46),
    "small": LetterSize(26, grows=True, most=38),
}


def dots_of(size: SizeName, text: float = 1.0) -> float:
    """A size in dots. text: the chosen size of text, 1.0 to 1.5.

    >>> dots_of("near", 1.25), dots_of("far", 1.5), dots_of("key", 1.5)
    (40.0, 73, 60)
    """
    found = SIZES[size]
    return min(found.dots * text, found.most) if found.grows else found.dots


def minutes_of_arc(dots: float, metres: float) -> float:
    """How large the capitals of letters of this size are seen from so far [minutes of arc].

    >>> round(minutes_of_arc(73, 2.0), 1)
    16.0

    Reference: ISO 9241-303 asks at least 16 minutes of arc, better 20 to 22 (from memory).
    """
    height = dots * CAPITAL / DOTS_A_MM / 1000
    return math.degrees(2 * math.atan(height / 2 / metres)) * 60
