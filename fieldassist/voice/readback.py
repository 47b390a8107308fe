"""Written text in words for the ear."""

from __future__ import annotations

import re

# Symbols that a synthetic voice reads wrongly or not at all.
_SPOKEN = (
    (re.compile(r"(?<=\d) ?mm²"), " square millimeters"),
    (re.compile(r"(?<=\d) ?cm²"), " square centimeters"),
    (re.compile(r"(?<=\d) ?m²"), " square meters"),
    (re.compile(r"(?<=\d) ?in²"), " square inches"),
    (re.compile(r"(?<=\d) ?ft²"), " square feet"),
    (re.compile(r"(?<=\d) ?%"), " percent"),
    (re.compile(r"(?<=\d) ?°C"), " degrees Celsius"),
    (re.compile(r"(?<=\d) ?°F"), " degrees Fahrenheit"),
    (re.compile(r"(?<=\d) ?mm\b"), " millimeters"),
    (re.compile(r"(?<=\d) ?in(?=[.,;:)]|$| (?:is|over|under|and|allowed|required)\b)"), " inches"),
    (re.compile(r"(?<=\d) ?min\b"), " minutes"),
    (re.compile(r"§"), "section "),
)


def aloud(text: str) -> str:
    """Written text as it is read out.

    >>> aloud("4 m² set, 95 % needed")
    '4 square meters set, 95 percent needed'
    """
    for pattern, words in _SPOKEN:
        text = pattern.sub(words, text)
    return text
