"""Figures of the pages as messages: contact rounded down, voids up, and no printed figure against its judgement."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from fractions import Fraction
from math import ceil, floor
from typing import Any

from fieldassist.checklist.told import read_figure
from fieldassist.language import Words
from fieldassist.trade.limits import shown, told_apart
from fieldassist.trade.message import Bound, Compared, Figure, Message, Several, message
from fieldassist.trade.quantities import (
    FractionOfInch,
    Quantity,
    as_written,
    convert_exact,
    format_size,
    unit_in_system,
)
from fieldassist.trade.ranges import rows

# A figure of more places than this is told no finer.
_MOST_DECIMALS = 6
# What voids are read in.
_OF_VOIDS = ("mm2", "cm2", "in2")


def measure(value: float, unit: str) -> Quantity:
    """A computed or measured figure, to be told in the document's units."""
    return Quantity(Fraction(repr(round(value, 6))), unit)


def on_tape(mm: float, words: Words, *, up: bool = False) -> Quantity:
    """A length seen on a photo [mm]: whole millimetres, or eighths of an inch; the nearest, or the next above.

    >>> words = Words(units="us")
    >>> words(on_tape(28.0, words)), words(on_tape(28.6, words, up=True)), on_tape(28.6, Words(units="metric")).value
    ('1-1/8 in', '1-1/4 in', Fraction(29, 1))
    """
    exact, to_whole = measure(mm, "mm").value, ceil if up else round
    if words.units == "us":
        return Quantity(Fraction(to_whole(convert_exact(exact, "mm", "in") * 8), 8), "in")
    return Quantity(Fraction(to_whole(exact)), "mm")


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
    read = _of_void(mm2)
    unit = unit_in_system("cm2", words.units)
    up = shown(read, "at least", unit)
    if most is None:
        return up
    limit = _of_void(most)
    if (up.value <= shown(limit, "at most", unit).value) == (mm2 <= most):
        return up
    return told_apart(read, limit, "at most", unit)[0]


def told_again(code: str, figures: Mapping[str, Any], text: str, words: Words) -> str:
    """What a fact tells, each void in it as `void` tells it; its own text where it tells of none."""
    if not any(_tells_a_void(one) for one in figures.values()):
        return text
    return words(Message(code, {name: on_page(read_figure(one), words) for name, one in figures.items()}))


def _tells_a_void(figure: Any) -> bool:
    """Whether a void that was read is held against a limit somewhere in a figure, as facts have it."""
    if isinstance(figure, Mapping):
        read = figure.get("read")
        own = isinstance(read, Mapping) and read.get("unit") in _OF_VOIDS
        return own or any(_tells_a_void(one) for one in figure.values())
    return isinstance(figure, Sequence) and not isinstance(figure, str) and any(map(_tells_a_void, figure))


def on_page(figure: Figure, words: Words) -> Figure:
    """A figure with each void in it that is held against a limit in one unit, as the pages round it.

    >>> pair = Compared(Quantity(Fraction(6), "in2"), Quantity(Fraction(2), "in2"), "at most")
    >>> words = Words(units="metric")
    >>> words(on_page(message("coverage-void-too-large", pair=pair), words))
    'a void of 38.8 cm² is larger than the 12.9 cm² allowed'
    """
    match figure:
        case Compared(read, limit, side) if read.unit in _OF_VOIDS:
            mm2, most = (float(convert_exact(one.value, one.unit, "mm2")) for one in (read, limit))
            return Compared(void(mm2, most, words), _of_void(most), side, computed=True)
        case Message():
            return Message(figure.code, {name: on_page(one, words) for name, one in figure.figures.items()})
        case Several():
            return Several(tuple(on_page(one, words) for one in figure.items), figure.link)
    return figure


def _of_void(mm2: float) -> Quantity:
    """In the unit that is read off a back."""
    return Quantity(Fraction(repr(mm2)) / 100, "cm2")


def void_allowed(most: float) -> Bound:
    """The largest void that is allowed [mm2]."""
    return Bound(_of_void(most), "at most")


def size(sides: Sequence[float], words: Words) -> str:
    """Two sides of a piece or a notch [mm] in the document's units: "600 × 1200 mm"."""
    first, second = sides
    return format_size(first, second, "mm", words.units)


def to_a_hundredth(length: Quantity | Bound, words: Words) -> Figure:
    """A length, or an end of what is allowed, beside others in one line: where no mark of a tape stands for it, in
    inches to a hundredth, an end rounded to the side on which it still holds.

    >>> inches = Words(units="us")
    >>> end = Bound(Quantity(Fraction(3), "mm"), "at least")
    >>> inches(to_a_hundredth(Quantity(Fraction(3), "mm"), inches)), inches(to_a_hundredth(end, inches))
    ('0.12 in', '0.12 in')
    >>> inches(to_a_hundredth(Bound(Quantity(Fraction(12), "mm"), "at most"), inches))
    '0.47 in'
    """
    if words.units != "us":
        return length
    if isinstance(length, Bound):
        if shown(length.quantity, length.side, "in").decimals is None:
            return length
        hundredths = convert_exact(length.quantity.value, length.quantity.unit, "in") * 100
        return Quantity(Fraction(ceil(hundredths) if length.side == "at least" else floor(hundredths), 100), "in", 2)
    inches = convert_exact(length.value, length.unit, "in")
    return length if isinstance(as_written(inches, "in"), FractionOfInch) else Quantity(inches, "in", 2)


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
