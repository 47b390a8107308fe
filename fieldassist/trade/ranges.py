"""Whole numbers in rows of neighbours, as they are told: 1 to 3, and 7."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

__all__ = ["rows"]


def rows(numbers: Iterable[int]) -> Iterator[tuple[int, int]]:
    """The first and the last of each row of neighbours, in order; a number without a neighbour is both.

    >>> list(rows([7, 2, 1, 3]))
    [(1, 3), (7, 7)]
    """
    for _, row in groupby(enumerate(sorted(set(numbers))), key=lambda pair: pair[1] - pair[0]):
        each = [number for _, number in row]
        yield each[0], each[-1]
