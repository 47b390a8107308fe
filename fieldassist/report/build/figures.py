"""Figures of the pages as messages: contact rounded down, voids up, and no printed figure against its judgement."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from math import floor

from fieldassist.language import Words
from fieldassist.trade.limits import shown, told_apart
from fieldassist.trade.message import Bound, Figure, Message, Several, message
from fieldassist.trade.quantities import Quantity, format_size, unit_in_system
from fieldassist.trade.ranges import rows

# A figure of more places than this is told no finer.
_MOST_DECIMALS = 6


def measure(value: float, unit: str) -> Quantity:
    """A computed or measured figure, to be told in the document's units."""
    return Quantity(Fraction(repr(round(value, 6))), unit)


def whole_percent(percent: float) -> Quantity:
    """A share rounded down to whole percent: a claim must not grow by rounding.

    >>> whole_percent(96.97).value, whole_percent(0.29 * 100).value
    (Fraction(96, 1), Fraction(29, 1))
    """
    return Quantity(Fraction(floor(round(percent, 6))), "percent")


def contact(percent: float, required: float | None) -> Quantity:
    """Contact rounded down to whole percent, or with as many decimals as agree with what was required.

    >>> contact(97.8, 95).value, contact(94.97, 95).value
    (Fraction(97, 1), Fraction(94, 1))
    >>> float(contact(92.7, 92.5).value)
    92.7
    """
    exact, least = measure(percent, "percent").value, Fraction(0) if required is None else Fraction(repr(required))
    for decimals in range(_MOST_DECIMALS + 1):
        down = Fraction(floor(exact * 10**decimals), 10**decimals)
        if (down >= least) == (exact >= least):
            break
    return Quantity(down, "percent", decimals)


def void(mm2: float, most: float | None, words: Words) -> Quantity:
    """A void in the unit that is read off a back, rounded up, or with as many decimals as agree with what is allowed.

    Parameters: mm2, most: of the void and of the largest allowed, None where none is set [mm2].

    >>> float(void(941.0, 1290.32, Words(units="metric")).value)
    9.5
    """
    read = Quantity(Fraction(repr(mm2)) / 100, "cm2")
    unit = unit_in_system("cm2", words.units)
    up = shown(read, "at least", unit)
    if most is None:
        return up
    limit = Quantity(Fraction(repr(most)) / 100, "cm2")
    if (up.value <= shown(limit, "at most", unit).value) == (mm2 <= most):
        return up
    return told_apart(read, limit, "at most", unit)[0]


def void_allowed(most: float) -> Bound:
    """The largest void that is allowed [mm2]."""
    return Bound(Quantity(Fraction(repr(most)) / 100, "cm2"), "at most")


def size(sides: Sequence[float], words: Words) -> str:
    """Two sides of a piece or a notch [mm] in the document's units: "600 × 1200 mm"."""
    first, second = sides
    return format_size(first, second, "mm", words.units)


def numbers(each: Iterable[int]) -> Several:
    """Numbers of pieces, lifts or batches, each row of three neighbours or more as one.

    >>> print(numbers([1, 2, 3, 7]).items[0])
    page-range(first=1, last=3)
    """
    told: list[Figure] = []
    for first, last in rows(each):
        if last - first > 1:
            told.append(message("page-range", first=str(first), last=str(last)))
        else:
            told += [str(number) for number in range(first, last + 1)]
    return Several(tuple(told), "and")


def piece(product: str, number: int) -> Message:
    """A piece by its number, in the word of what is set: "tile 7", "panel 7"."""
    return message("area-piece", kind=product.replace(" ", "-"), number=str(number))


def person(name: str) -> Message:
    """A person by name."""
    return message("prompt-person", name=name)


def people(names: Iterable[str]) -> Several:
    """Several persons, each once, in the order given."""
    return Several(tuple(person(name) for name in dict.fromkeys(names) if name), "and")
