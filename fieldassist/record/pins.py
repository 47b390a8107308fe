"""PINs that somebody tries first: years and dates, runs, repeats, and patterns on the keys.

A new PIN has six to twelve digits. Of the 1,000,000 with six, 870,335 are left: whoever copied the
key file and knows this list saves an eighth of the tries (0.2 of 20 bits), and whoever has five at the tablet has lost
the best of them. Which patterns people choose, and that dates and runs come first, is what studies of chosen PINs
agree on (from memory); the list itself is ours, common practice, no published source.
"""

from __future__ import annotations

import calendar
import itertools
import re
from collections.abc import Iterator

from fieldassist.trade.message import Message, message

FEWEST_DIGITS, MOST_DIGITS = 6, 12
_FORM = re.compile(rf"[0-9]{{{FEWEST_DIGITS},{MOST_DIGITS}}}")
_UPWARD = "0123456789"
_FIRST_YEAR, _LAST_YEAR = 1900, 2099

# Rows, columns and diagonals of three on a pad of keys; which of 1 and 7 stands above changes none of them. With the 0
# below: the middle column on a telephone, the left one on a keyboard.
_OF_THREE = ("123", "456", "789", "147", "258", "369", "159", "357")
_LINES = tuple(line[::way] for line in (*_OF_THREE, "2580", "0147") for way in (1, -1))
_BESIDE = frozenset(
    pair[::way]
    for row in ("123", "456", "789", "147", "258", "369", "80", "10", "20")
    for pair in (row[i : i + 2] for i in range(len(row) - 1))
    for way in (1, -1)
)


def why_refused(pin: str) -> Message | None:
    """Why `pin` cannot be a new PIN, None where it can.

    >>> [str(why_refused(pin)) for pin in ("271828", "27182", "198412", "147258", "123123")]
    ['None', 'record-pin-form', 'record-pin-date', 'record-pin-keys', 'record-pin-repeats']
    """
    if _FORM.fullmatch(pin) is None:
        return message("record-pin-form")
    for code, so in (
        ("same-digit", _same_digits),
        ("counts", _counts),
        ("repeats", _repeats),
        ("keys", _pattern_on_the_keys),
        ("date", _date),
    ):
        if so(pin):
            return message(f"record-pin-{code}")
    return None


def _steps(digits: str) -> list[int]:
    """From each digit to the next, modulo 10.

    >>> _steps("1290")
    [1, 7, 1]
    """
    return [(int(b) - int(a)) % 10 for a, b in itertools.pairwise(digits)]


def _same_digits(pin: str) -> bool:
    """One digit, or one with at most two others at its end or before it; or no more than two different digits."""
    runs = [len(list(run)) for _, run in itertools.groupby(pin)]
    return max(runs) >= len(pin) - 2 or len(set(pin)) <= 2


def _counts(pin: str) -> bool:
    """All digits but one go on in equal steps, or two counts, by one or by none, stand in one another: 192837."""
    if any(len(set(_steps(part))) == 1 for part in (pin, pin[1:], pin[:-1])):
        return True
    return all(_counts_by_one(part) for part in (pin[::2], pin[1::2]))


def _counts_by_one(digits: str) -> bool:
    return digits in _UPWARD or digits in _UPWARD[::-1] or len(set(digits)) == 1


def _repeats(pin: str) -> bool:
    """The same group again and again, the same backwards as forwards, or only pairs."""
    groups = any(pin == pin[:n] * (len(pin) // n) for n in range(1, len(pin) // 2 + 1))
    return groups or pin == pin[::-1] or pin[::2] == pin[1::2]


def _pattern_on_the_keys(pin: str) -> bool:
    """Each key is beside the one before, or all are straight lines of three or more."""
    return all(pair in _BESIDE for pair in map("".join, itertools.pairwise(pin))) or _in_lines(pin)


def _in_lines(pin: str) -> bool:
    return not pin or any(pin.startswith(line) and _in_lines(pin[len(line) :]) for line in _LINES)


def _date(pin: str) -> bool:
    """A date with or without its century, in any of the three orders, or a year with two digits or a month and day."""
    if len(pin) <= 8 and any(_FIRST_YEAR <= int(part) <= _LAST_YEAR for part in (pin[:4], pin[-4:])):
        return True
    return any(_is_date(*parts) for parts in _as_dates(pin))


def _as_dates(pin: str) -> Iterator[tuple[int, int, int]]:
    """Year, month and day that six digits may mean."""
    if len(pin) == 6:
        a, b, c = int(pin[:2]), int(pin[2:4]), int(pin[4:])
        # Both centuries have the same leap years, but for 1900.
        yield from ((2000 + c, b, a), (2000 + c, a, b), (2000 + a, b, c))


def _is_date(year: int, month: int, day: int) -> bool:
    return 1 <= month <= 12 and 1 <= day <= calendar.monthrange(year, month)[1]
