"""A number while it is typed on the pad."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise

_LONGEST = 7
EIGHTHS = ("1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8")
A_THIRTY_SECOND = "+1/32"
BACK = "←"
POINT = "."
BELOW_ZERO = "below zero"


@dataclass(frozen=True, slots=True)
class TypedEntry:
    """Digits with or without a point, or a whole number and a part of an inch.

    >>> str(TypedEntry().press("1").press("3/8").press("+1/32")), TypedEntry().press("2").press(".").press("5").value
    ('1 13/32', Fraction(5, 2))
    """

    digits: str = ""
    part: Fraction | None = None
    negative: bool = False

    def press(self, key: str) -> TypedEntry:
        """What stands there after a key: a digit, POINT, BACK, BELOW_ZERO, one of EIGHTHS or A_THIRTY_SECOND.

        A part of an inch ends what can be typed, and takes the place of the part before it; it does not go with a
        point. A key that makes no sense changes nothing.
        """
        if key == BELOW_ZERO:
            return replace(self, negative=not self.negative)
        if key == BACK:
            return replace(self, part=None) if self.part is not None else replace(self, digits=self.digits[:-1])
        if key in EIGHTHS or key == A_THIRTY_SECOND:
            if POINT in self.digits:
                return self
            part = (self.part or Fraction(0)) + Fraction(1, 32) if key == A_THIRTY_SECOND else Fraction(key)
            return self if part >= 1 else replace(self, part=part)
        if self.part is not None or len(self.digits) >= _LONGEST or (key == POINT and POINT in self.digits):
            return self
        if key == POINT:
            return replace(self, digits=f"{self.digits or '0'}{POINT}")
        return replace(self, digits=key if self.digits == "0" else self.digits + key)

    @property
    def value(self) -> Fraction | None:
        """The number, exact; None where there is none yet."""
        if not self.digits and self.part is None:
            return None
        number = Fraction(self.digits.rstrip(POINT) or "0") + (self.part or 0)
        return -number if self.negative else number

    def __str__(self) -> str:
        part = "" if self.part is None else f"{self.part.numerator}/{self.part.denominator}"
        return ("–" if self.negative else "") + " ".join(p for p in (self.digits, part) if p)


def rows(*, fractions: bool) -> tuple[tuple[str, ...], ...]:
    """The keys, row by row: digits as they stand on a calculator, parts of an inch beside them.

    >>> rows(fractions=False)[3]
    ('.', '0', '←')
    """
    digits = (("7", "8", "9"), ("4", "5", "6"), ("1", "2", "3"), (POINT, "0", BACK))
    if not fractions:
        return digits
    parts = list(pairwise((*EIGHTHS, A_THIRTY_SECOND)))[::2]
    return tuple((*row, *two) for row, two in zip(digits, parts, strict=True))
