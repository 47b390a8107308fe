"""Figures as they are typed: digits, decimals, fractions, signs of units, and the words of speech around them.

What is spoken is read by the grammar of `language.numbers`; this is the one place that knows the keyboard's forms.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from fieldassist.language import numbers
from fieldassist.language.spoken import spoken_language
from fieldassist.trade.quantities import parse_quantity

# Things that are counted, as a crew names them after the number.
_THINGS = spoken_language().numbers.things
_COUNTED = re.compile(rf"\s+(?:{'|'.join([*_THINGS, *_THINGS.values()])})$")
_PARTS = {"half": "1/2", "quarter": "1/4", "third": "1/3"}
_SPOKEN_AROUND = (
    (re.compile(r"^(?:minus|negative)\s+"), "-"),
    (re.compile(r"^(.*?)\s+below(?:\s+zero)?$"), r"-\1"),
    # "2 and a half inches", "2 and 1/2": a mixed number.
    (re.compile(r"(\d)\s+and\s+(?:an?\s+)?(?=half|quarter|third|\d+/)"), r"\1 "),
    (re.compile(r"\b(half|quarter|third)\b"), lambda match: _PARTS[match[1]]),
    # "5/8 of an inch", "1/2 an inch".
    (re.compile(r"(\d)\s+(?:of\s+)?an?\s+"), r"\1 "),
    (re.compile(r"\bsquare\s+(?=(?:in|mm|cm|m|ft)\b)"), "sq "),
    (re.compile(r"([a-z])²"), r"\g<1>2"),
)
_DEGREES = re.compile(r"\s*(?:°|\bdeg(?:rees?)?\.?|(?<=\d)deg(?:rees?)?\.?)$")
_BARE = re.compile(r"[-+]?(?:\d+[- ]\d+/\d+|\d+/\d+|\d*\.?\d+)")
_WHOLE = re.compile(r"(?<![\w./-])\d{1,5}(?![\w./-])")


@dataclass(frozen=True, slots=True)
class Typed:
    """A figure. unit: as `trade.quantities` names it; "deg" for degrees without a scale, None where none was typed."""

    value: Fraction
    unit: str | None


def has_figure(text: str) -> bool:
    """Whether something in it is typed in digits.

    >>> has_figure("½ in"), has_figure("half an inch")
    (True, False)
    """
    return any(character.isnumeric() for character in text)


def read(text: str) -> Typed | None:
    """The figure that is typed, None where it is none.

    >>> read("21 degrees"), read("5/8 of an inch")
    (Typed(value=Fraction(21, 1), unit='deg'), Typed(value=Fraction(5, 8), unit='in'))
    """
    tidy = " ".join(text.lower().split())
    for spoken, plain in _SPOKEN_AROUND:
        tidy = spoken.sub(plain, tidy)
    without_degrees = _DEGREES.sub("", tidy)
    without_things = _COUNTED.sub("", tidy)
    try:
        if without_degrees != tidy:
            return Typed(parse_quantity(without_degrees, "degC").value, "deg")
        if without_things != tidy:
            return Typed(parse_quantity(without_things, "count").value, "count")
        # Below zero is a temperature's alone, whatever the slot makes of it.
        unit = "degC" if tidy.startswith("-") else "count"
        quantity = parse_quantity(tidy, unit)
    except ValueError:
        return None
    return Typed(quantity.value, None if _is_bare(tidy) else quantity.unit)


def _is_bare(tidy: str) -> bool:
    # What ends in one of the keyboard's own fractions has no unit behind it.
    return _BARE.fullmatch(tidy) is not None or (tidy[-1].isnumeric() and not tidy[-1].isdecimal())


def in_words(text: str) -> str:
    """Whole numbers in their words, as they stand in names: "area 2" is listened for as "area two".

    >>> in_words("start area wall 2")
    'start area wall two'
    """
    return _WHOLE.sub(lambda match: numbers.say(int(match[0]), None), text)
