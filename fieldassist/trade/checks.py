"""Figures and words that a computation was given, refused with what to do where they cannot be.

What a figure is comes as a word's code without its subject: "bed" stands as `what-bed` in the language's `what.ftl`.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from fractions import Fraction

from fieldassist.trade.basis import OutOfRange
from fieldassist.trade.message import Figure, Message, Refused, Several, message
from fieldassist.trade.quantities import Quantity

__all__ = ["HAIR", "counted", "measured", "not_negative", "one_of", "positive", "share", "within"]


# What arithmetic in floats, and conversion between systems, leave of a figure; no tool reads so finely.
HAIR = 1e-9


def measured(value: float | Fraction, unit: str) -> Figure:
    """A float with its unit as a figure of a message: what is no number is told as it stands.

    >>> measured(2.25, "mm"), measured(float("nan"), "mm")
    (Quantity(value=Fraction(9, 4), unit='mm'), 'nan')
    """
    if not math.isfinite(value):
        return f"{value}"
    return Quantity(value if isinstance(value, Fraction) else Fraction(repr(float(value))), unit)


def _what(what: str) -> Message:
    return Message(f"what-{what}")


def positive(what: str, value: float, unit: str = "count") -> None:
    """Errors: `Refused` unless the figure is finite and above zero.

    >>> positive("bed", 2.25, "mm")
    >>> positive("bed", 0.0, "mm")
    Traceback (most recent call last):
        ...
    fieldassist.trade.message.Refused: what-not-above-zero(what=what-bed, value=0 mm)
    """
    if not (math.isfinite(value) and value > 0):
        raise Refused(message("what-not-above-zero", what=_what(what), value=measured(value, unit)))


def not_negative(what: str, value: float, unit: str = "count") -> None:
    """Errors: `Refused` unless the figure is finite and zero or more."""
    if not (math.isfinite(value) and value >= 0):
        raise Refused(message("what-below-zero", what=_what(what), value=measured(value, unit)))


def within(what: str, value: float, low: float, high: float, unit: str = "count") -> None:
    """Errors: `Refused` unless the figure lies from `low` to `high`, both included."""
    if not low <= value <= high:
        ends = {"low": measured(low, unit), "high": measured(high, unit)}
        raise Refused(message("what-outside", what=_what(what), value=measured(value, unit), **ends))


def share(what: str, value: float) -> None:
    """Errors: `Refused` unless the figure is a fraction between 0 and 1, neither included."""
    if not 0 < value < 1:
        raise Refused(message("what-no-share", what=_what(what), value=measured(value, "count")))


def counted(what: str, value: float, least: int, most: int) -> None:
    """Errors: `Refused` unless the figure is a whole number from `least` up; `OutOfRange` above `most`."""
    if not math.isfinite(value) or value != int(value) or value < least:
        raise Refused(message("what-no-count", what=_what(what), value=measured(value, "count"), least=least))
    if value > most:
        raise OutOfRange(message("what-too-many", what=_what(what), value=int(value), most=most))


def one_of(what: str, given: object, allowed: Iterable[object]) -> None:
    """Errors: `Refused` with the words allowed, unless the one given is among them.

    >>> one_of("place", "wet", ("dry", "wet"))
    """
    words = tuple(allowed)
    if given not in words:
        told = Several(tuple(map(str, words)))
        raise Refused(message("what-not-a-word", what=_what(what), given=str(given), allowed=told))
