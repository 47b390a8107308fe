"""What is said back, in words for the ear: every reading before it counts, digit by digit where numbers sound alike."""

from __future__ import annotations

import re
from fractions import Fraction

from fieldassist.voice import numbers

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


def read_back(name: str, value: Fraction, unit: str, *, label: str | None = None, finding: str | None = None) -> str:
    """The question that a reading waits with.

    name: what is read; finding: why it would fail its criterion, said so that nobody keeps it unawares.

    >>> read_back("coverage", Fraction(95), "percent")
    'coverage, ninety five percent. Yes or no?'
    >>> read_back("coverage", Fraction(70), "percent", finding="70 % is under 95 %")
    'coverage, seventy percent, seven zero. That fails: 70 percent is under 95 percent. Yes or no?'
    """
    if label is not None:
        return f"{name}, {label}. Yes or no?"
    spoken = numbers.say(value, None if unit == "count" else unit)
    if numbers.confusable(value) or finding is not None:
        spoken += f", {numbers.digits(value)}"
    warning = f" That fails: {aloud(finding)}." if finding else ""
    return f"{name}, {spoken}.{warning} Yes or no?"


def aloud(text: str) -> str:
    """Written text as it is read out.

    >>> aloud("4 m² set, 95 % needed")
    '4 square meters set, 95 percent needed'
    """
    for pattern, words in _SPOKEN:
        text = pattern.sub(words, text)
    return text
