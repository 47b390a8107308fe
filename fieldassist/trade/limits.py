"""Limits: shown so that what is shown passes, and judged so that the figures agree with the answer.

A limit of 1/16 in is 1.5875 mm. Shown to the tenth, "at most 1.6 mm" would refuse the 1.6 mm that it asks for; so a
figure that is shown is rounded to the safe side: an upper limit down, a lower one up. In inches it is the fraction of
a tape where the limit lies on a mark.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from typing import Literal

from fieldassist.trade.basis import Basis
from fieldassist.trade.message import Compared, Figure, Refused, message
from fieldassist.trade.quantities import (
    FractionOfInch,
    Quantity,
    as_written,
    convert_exact,
    decimals_of,
    nearest_fraction,
    unit_info,
)

__all__ = ["Judgement", "Limit", "Side", "Verdict", "exactly", "judge", "keeps_to", "shown", "told_apart"]

Side = Literal["at least", "at most"]
Verdict = Literal["passed", "under", "over"]

_TAPE = 32
_MOST_EXTRA = 6
_ALL_DIGITS = 12
# What arithmetic in floats leaves of a figure; no tool reads so finely.
_HAIR = Fraction(1, 10**12)


def exactly(value: float | Fraction, unit: str) -> Quantity:
    """A float as the decimal number that a person would write for it, exactly.

    >>> exactly(3.175, "mm")
    Quantity(value=Fraction(127, 40), unit='mm')
    """
    return Quantity(value if isinstance(value, Fraction) else Fraction(repr(float(value))), unit)


def _hair(limit: Fraction) -> Fraction:
    return _HAIR * max(Fraction(1), abs(limit))


def _beyond(value: Fraction, limit: Fraction, side: Side, hair: Fraction | int = 0) -> bool:
    return value < limit - hair if side == "at least" else value > limit + hair


def keeps_to(value: float, limit: float, side: Side) -> bool:
    """Whether a value keeps to a limit in the same unit; exactly at it, and a hair of arithmetic beyond, it does.

    >>> keeps_to(1290.32, 2 * 25.4 * 25.4, "at most"), keeps_to(94.97, 95, "at least")
    (True, False)
    """
    bound = Fraction(limit)
    return not _beyond(Fraction(value), bound, side, _hair(bound))


def _to_step(value: Fraction, decimals: int, side: Side) -> Fraction:
    scale = Fraction(10) ** decimals
    marks = value * scale
    near = Fraction(round(marks))
    if abs(near - marks) > _hair(marks):
        near = Fraction(math.ceil(marks) if side == "at least" else math.floor(marks))
    return near / scale


def shown(limit: Quantity, side: Side, unit: str | None = None, extra_decimals: int = 0) -> Quantity:
    """A limit as it is shown: rounded to the safe side at the step of the tool that reads the unit.

    Parameters: limit; side on which it bounds; unit to show it in, its own where None; extra_decimals, for a finer
    tool. Result: in `unit`; the figure itself passes, and one step beyond it fails.
    Errors: `Refused` for a unit that measures something else.

    >>> shown(Quantity(Fraction(1, 16), "in"), "at most", "mm")
    Quantity(value=Fraction(3, 2), unit='mm')
    >>> shown(exactly(1.5875, "mm"), "at most", "in")
    Quantity(value=Fraction(1, 16), unit='in')
    >>> shown(Quantity(Fraction(3, 32), "in"), "at least", "mm").value
    Fraction(12, 5)
    """
    unit = limit.unit if unit is None else unit
    value = convert_exact(limit.value, limit.unit, unit)
    if unit == "in" and value >= 0 and not extra_decimals:
        near = nearest_fraction(value, _TAPE)
        mark = near.whole + Fraction(near.numerator, near.denominator)
        if abs(mark - value) <= _hair(value):
            return Quantity(mark, unit)
    decimals = decimals_of(value, unit) + extra_decimals
    rounded = _to_step(value, decimals, side)
    while not rounded and value and decimals < 9:
        # Something small is not nothing.
        decimals += 1
        rounded = _to_step(value, decimals, side)
    return Quantity(rounded, unit, decimals)


@dataclass(frozen=True, slots=True)
class Judgement:
    """A reading held against a limit.

    code: "passed", "under" or "over"; reading: as it was given; side and end: of the limit, the one that is broken or
    else the nearer one, exactly.
    """

    code: Verdict
    reading: Quantity
    side: Side
    end: Quantity

    @property
    def read(self) -> Quantity:
        """The reading as it is shown beside `limit`."""
        return told_apart(self.reading, self.end, self.side)[0]

    @property
    def limit(self) -> Quantity:
        """The limit as it is shown beside `read`: in the reading's unit, on its safe side."""
        return told_apart(self.reading, self.end, self.side)[1]

    @property
    def figures(self) -> dict[str, Figure]:
        """Both figures as the figure `pair` of a message, the reading as one in canonical units that was worked out."""
        return {"pair": Compared(self.reading, self.end, self.side, computed=True)}

    @property
    def passed(self) -> bool:
        """Whether the reading keeps to the limit."""
        return self.code == "passed"


@dataclass(frozen=True, slots=True)
class Limit:
    """What a reading must keep to: at_least and at_most [unit], both inclusive, one of them at least given; basis.

    Errors: `Refused` when no end is given or they cross; `UnknownUnit`.

    >>> from fieldassist.trade.basis import BASES
    >>> limit = Limit.of(None, 3.175, "mm", BASES["base"])
    >>> limit.shown("at most"), limit.shown("at most", "in")
    (Quantity(value=Fraction(31, 10), unit='mm'), Quantity(value=Fraction(1, 8), unit='in'))
    >>> limit.judge(Quantity(Fraction(1, 8), "in")).code, limit.judge(Quantity(Fraction(32, 10), "mm")).code
    ('passed', 'over')
    """

    at_least: Fraction | None
    at_most: Fraction | None
    unit: str
    basis: Basis

    @classmethod
    def of(cls, at_least: float | None, at_most: float | None, unit: str, basis: Basis) -> Limit:
        """A limit from floats, each taken as the decimal number that a person would write for it."""
        least, most = (None if end is None else exactly(end, unit).value for end in (at_least, at_most))
        return cls(least, most, unit, basis)

    def __post_init__(self) -> None:
        unit_info(self.unit)
        if self.at_least is None and self.at_most is None:
            raise Refused(message("quantities-limit-open"))
        if self.at_least is not None and self.at_most is not None and self.at_least > self.at_most:
            ends = {"least": Quantity(self.at_least, self.unit), "greatest": Quantity(self.at_most, self.unit)}
            raise Refused(message("quantities-limit-crossed", **ends))

    @property
    def ends(self) -> tuple[tuple[Side, Quantity], ...]:
        """The ends that are given, each with its side."""
        pairs: tuple[tuple[Side, Fraction | None], ...] = (("at least", self.at_least), ("at most", self.at_most))
        return tuple((side, Quantity(value, self.unit)) for side, value in pairs if value is not None)

    def shown(self, side: Side, unit: str | None = None) -> Quantity:
        """One end as it is shown, with as many decimals as keep the two ends apart; see the function `shown`.

        Errors: `Refused` where that end is open.
        """
        ends = dict(self.ends)
        if side not in ends:
            raise Refused(message("quantities-limit-no-end"))
        for extra in range(_MOST_EXTRA + 1):
            told = {own: shown(end, own, unit, extra) for own, end in ends.items()}
            if len(told) < 2 or told["at least"].value <= told["at most"].value:
                break
        return told[side]

    def judge(self, reading: Quantity) -> Judgement:
        """Hold a reading against the limit; exactly at an end it passes.

        Errors: `Refused` for a reading that measures something else.
        """
        return judge(reading, self.ends)


def judge(reading: Quantity, ends: tuple[tuple[Side, Quantity], ...]) -> Judgement:
    """Hold a reading against one end or both, each with its side; exactly at an end it passes.

    Errors: `Refused` for a reading that measures something else than an end.
    """
    told: list[tuple[Fraction, Side, Quantity]] = []
    for side, end in ends:
        value = convert_exact(reading.value, reading.unit, end.unit)
        if _beyond(value, end.value, side, _hair(end.value)):
            return Judgement("under" if side == "at least" else "over", reading, side, end)
        told.append((abs(value - end.value), side, end))
    _, side, end = min(told, key=lambda one: one[0])
    return Judgement("passed", reading, side, end)


def told_apart(reading: Quantity, end: Quantity, side: Side, unit: str | None = None) -> tuple[Quantity, Quantity]:
    """A reading and a limit as they are shown together: with as many decimals as it takes for them to agree.

    Parameters: reading; end of the limit, exactly; side; unit to show both in, the reading's where None.
    Result: (reading, limit); a reading that keeps to the limit is never shown beyond it, and one that does not is.

    >>> pair = told_apart(exactly(94.97, "percent"), exactly(95, "percent"), "at least")
    >>> [float(as_written(one.value, one.unit, one.decimals)) for one in pair]
    [94.97, 95.0]
    """
    unit = reading.unit if unit is None else unit
    value, bound = (convert_exact(one.value, one.unit, unit) for one in (reading, end))
    fails = _beyond(value, bound, side, _hair(bound))
    own = reading.decimals if unit == reading.unit else None
    usual = decimals_of(value, unit)
    finer = [own, *range(usual, usual + _MOST_EXTRA + 1)]
    # The limit stays as it is shown everywhere while a finer reading tells the two apart.
    for extra, decimals in product(range(_MOST_EXTRA + 1), finer):
        limit, read = shown(end, side, unit, extra), Quantity(value, unit, decimals)
        if _beyond(_figure(read), limit.value, side) == fails:
            return read, limit
    # Closer than anything that is read: all the digits that there are.
    return Quantity(value, unit, _ALL_DIGITS), Quantity(bound, unit, _ALL_DIGITS)


def _figure(quantity: Quantity) -> Fraction:
    """The number that stands on the screen for a quantity."""
    number = as_written(quantity.value, quantity.unit, quantity.decimals)
    if isinstance(number, FractionOfInch):
        return number.whole + Fraction(number.numerator, number.denominator)
    return Fraction(number)
