"""The order in which a trial's samples are made: drawn so that drying mortar, batches and tiring hands favour nobody.

Complete blocks (each combination once) in random order; of 200 draws the ones that tell the worst pair of combinations
apart best, with two samples of a block exchanged while that helps. Method after method would make the last one look
worse, since mortar ages.

The draws are made from the head of the day's record as it stood when the area was begun, so that nobody can choose an
order, and anybody can draw it again: SHA-256 in counter mode, whole numbers by rejection, permutations by Fisher and
Yates, draws compared in fractions wherever floats could err. No generator of a library takes part, since those may
change with its version; a verifier comes to the same order on any machine, in ten years too. The numbers of tries,
starts and exchanges, the words in `_draws` and the criterion belong to what must never change.
"""

from __future__ import annotations

import hashlib
import math
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations, groupby
from typing import TypeVar

import numpy as np
import numpy.typing as npt

__all__ = ["TRIES", "batches_of", "draw_order", "order_quality"]

TRIES = 200
# So many lots of the draws, and so many exchanges tried in the best draw of each.
_STARTS = 4
_EXCHANGES = 150

# Of two draws whose worst pairs are closer than this share, fractions say which is better: far above what floats err.
_CLOSE = 1e-6
# Added to what is inverted, in floats: where a pair cannot be told apart at all its variance is of the size of 1/_HAIR.
_HAIR = 1e-9
_HOPELESS = 1e6
_Number = TypeVar("_Number", float, Fraction)


def draw_order(
    letters: Sequence[str], repeats: int, a_batch: int, head: str, mortar_of: Mapping[str, str] | None = None
) -> tuple[str, ...]:
    """The order of a trial's samples, by the letters of their combinations.

    Each block holds every letter once. Where mortars are tried, those of one mortar stand together in each block, and
    the next block begins with the mortar with which the last one ended, so that a batch goes on.

    Parameters: letters, each once; repeats, 1 and up; a_batch: how many samples one batch is enough for; head: hash of
    the record's last event, 64 hexadecimal digits; mortar_of: the mortar of each letter, one for all where none is
    given. Result: letters, `repeats` times each. The same for the same arguments, always.
    Errors: ValueError for a head that is no hexadecimal.

    >>> "".join(draw_order("ABCD", 3, 6, "0" * 64))
    'DBACBDCABDCA'
    """
    mortars = mortar_of or {}
    draws = [_one_draw(letters, repeats, mortars, words) for words in _draws(bytes.fromhex(head), TRIES)]
    firsts = [_best(draws[lot::_STARTS], a_batch, mortars) for lot in range(_STARTS)]
    return _best([_exchanged(order, len(letters), a_batch, mortars) for order in firsts], a_batch, mortars)


def _best(orders: Sequence[tuple[str, ...]], a_batch: int, mortar_of: Mapping[str, str]) -> tuple[str, ...]:
    """The order whose worst pair is told apart best, the first of them where several are."""
    judged = [_judged(order, a_batch, mortar_of) for order in orders]
    roughly = [one.roughly() for one in judged]
    least = min(roughly)
    if least > _HOPELESS:
        # Too few samples to tell each pair apart with batch and age: no order is better than another one.
        return orders[0]
    close = [at for at, worst in enumerate(roughly) if worst <= least * (1 + _CLOSE)]
    return orders[min(close, key=lambda at: judged[at].exactly())]


def _exchanged(order: tuple[str, ...], a_block: int, a_batch: int, mortar_of: Mapping[str, str]) -> tuple[str, ...]:
    """The order with two samples of a block and mortar exchanged wherever that is better, until no exchange is."""
    best, judged = order, _judged(order, a_batch, mortar_of)
    places = [
        (one, other)
        for one, other in combinations(range(len(order)), 2)
        if one // a_block == other // a_block and mortar_of.get(order[one], "") == mortar_of.get(order[other], "")
    ]
    # Where some pair cannot be told apart floats say nothing of what is better.
    last = 0 if judged.roughly() < _HOPELESS else -len(places)
    for turn in range(_EXCHANGES):
        if turn - last >= len(places):
            break
        one, other = places[turn % len(places)]
        changed = list(best)
        changed[one], changed[other] = changed[other], changed[one]
        tried = _judged(changed, a_batch, mortar_of)
        if tried.better_than(judged):
            best, judged, last = tuple(changed), tried, turn
    return best


def order_quality(order: Sequence[str], a_batch: int, mortar_of: Mapping[str, str] | None = None) -> float:
    """How much an order costs: the variance of the worst pair's difference, beside what it were without batch and age.

    Under y = combination + batch + age in the batch + e, against e alone. Pairs of one mortar only: two mortars cannot
    share a batch, so that batches are a part of what is between them.

    Parameters as for `draw_order`. Result: 1 for an ideal order, 1.25 where it takes a quarter more samples;
    infinite where a pair cannot be told apart.

    >>> order_quality("AABB", 4), round(order_quality("ABBA", 4), 2)
    (5.0, 1.0)
    """
    return float(_judged(order, a_batch, mortar_of or {}).exactly())


def batches_of(order: Sequence[str], a_batch: int, mortar_of: Mapping[str, str] | None = None) -> tuple[int, ...]:
    """The batch of each sample of an order, from 1: a new one when the mortar changes, and when one is used up.

    As few as there must be, and of about the same size: a last one of a single sample would say nothing.

    >>> batches_of("ABCDEFG", 3), batches_of("ABCDE", 3, {"E": "grey"})
    ((1, 1, 1, 2, 2, 3, 3), (1, 1, 2, 2, 3))
    """
    mortars = mortar_of or {}
    found: list[int] = []
    batch = 0
    for _, same in groupby(order, lambda letter: mortars.get(letter, "")):
        left = len(list(same))
        for parts in range(-(-left // a_batch), 0, -1):
            batch, size = batch + 1, -(-left // parts)
            found += [batch] * size
            left -= size
    return tuple(found)


# --- drawing ----------------------------------------------------------------------------------------------------------


def _draws(seed: bytes, tries: int) -> Iterator[Iterator[int]]:
    """For each try its own endless row of whole numbers of 32 bits, all alike likely."""
    for attempt in range(tries):
        yield _numbers(b"fieldassist order 1" + seed + attempt.to_bytes(4, "big"))


def _numbers(seed: bytes) -> Iterator[int]:
    counter = 0
    while True:
        block = hashlib.sha256(seed + counter.to_bytes(4, "big")).digest()
        yield from (int.from_bytes(block[at : at + 4], "big") for at in range(0, len(block), 4))
        counter += 1


def _below(most: int, numbers: Iterator[int]) -> int:
    """A whole number from 0 to most - 1, all alike likely: numbers beyond the last whole multiple are thrown away."""
    whole = 2**32 - 2**32 % most
    return next(number for number in numbers if number < whole) % most


def _shuffled(items: Sequence[str], numbers: Iterator[int]) -> list[str]:
    shuffled = list(items)
    for last in range(len(shuffled) - 1, 0, -1):
        other = _below(last + 1, numbers)
        shuffled[last], shuffled[other] = shuffled[other], shuffled[last]
    return shuffled


def _one_draw(
    letters: Sequence[str], repeats: int, mortar_of: Mapping[str, str], numbers: Iterator[int]
) -> tuple[str, ...]:
    mortars = list(dict.fromkeys(mortar_of.get(letter, "") for letter in letters))
    order: list[str] = []
    for block in range(repeats):
        # The first block draws which mortar begins; from there on it is there and back, so that batches go on.
        mortars = mortars[::-1] if block else _shuffled(mortars, numbers)
        for mortar in mortars:
            order += _shuffled([letter for letter in letters if mortar_of.get(letter, "") == mortar], numbers)
    return tuple(order)


# --- judging a draw ---------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Judged:
    """What an order leaves of the normal equations of y = combination + batch + age when batches are taken out.

    rows: of the letters other than the first of each mortar, and of the age where a batch holds more than one sample,
    in whole numbers, times `scale`: its inverse is the variance of those letters beside the first ones; pairs: of
    letters of one mortar, their rows (None for a first one), and the variance of their difference were there neither
    batch nor age.
    """

    rows: npt.NDArray[np.int64]
    scale: int
    pairs: tuple[tuple[int | None, int | None, Fraction], ...]

    def roughly(self) -> float:
        """The worst pair's variance beside the ideal one, in floats; very large where it cannot be told apart."""
        rows = self.rows / self.scale
        inverse = np.linalg.inv(rows + _HAIR * np.eye(len(rows)))
        return float(max(self._beside_ideal(inverse.item), default=1.0))

    def better_than(self, other: _Judged) -> bool:
        """Whether its worst pair is better; by fractions where floats could err."""
        mine, its = self.roughly(), other.roughly()
        return mine < its if abs(mine - its) > _CLOSE * its else self.exactly() < other.exactly()

    def exactly(self) -> Fraction | float:
        """The same in fractions; infinite where a pair cannot be told apart."""
        inverse = _inverse([[Fraction(int(entry), self.scale) for entry in row] for row in self.rows])
        if inverse is None:
            return math.inf
        return max(self._beside_ideal(lambda row, column: inverse[row][column]), default=Fraction(1))

    def _beside_ideal(self, entry: Callable[[int, int], _Number]) -> Iterator[_Number]:
        for one, other, ideal in self.pairs:
            own = [entry(row, row) for row in (one, other) if row is not None]
            both = 2 * entry(one, other) if one is not None and other is not None else 0
            yield (sum(own[1:], own[0]) - both) / ideal


def _judged(order: Sequence[str], a_batch: int, mortar_of: Mapping[str, str]) -> _Judged:
    letters = sorted(set(order))
    times = Counter(order)
    firsts = set({mortar_of.get(letter, ""): letter for letter in reversed(letters)}.values())
    row_of = {letter: row for row, letter in enumerate(one for one in letters if one not in firsts)}
    batches = batches_of(order, a_batch, mortar_of)
    sizes = Counter(batches)
    # Per letter and batch: how many, and twice the sum of their ages from the batch's mean.
    many = np.zeros((len(row_of), len(sizes)), dtype=np.int64)
    aged = np.zeros_like(many)
    seen: Counter[int] = Counter()
    for letter, batch in zip(order, batches, strict=True):
        if letter in row_of:
            many[row_of[letter], batch - 1] += 1
            aged[row_of[letter], batch - 1] += 2 * seen[batch] - (sizes[batch] - 1)
        seen[batch] += 1
    scale = 12 * math.lcm(*sizes.values())
    share = np.array([scale // sizes[batch] for batch in sorted(sizes)], dtype=np.int64)
    ages = sum(scale // 12 * size * (size * size - 1) for size in sizes.values())
    rows = np.diag(scale * many.sum(axis=1)) - (many * share) @ many.T
    if ages:
        beside = scale // 2 * aged.sum(axis=1, keepdims=True)
        rows = np.block([[rows, beside], [beside.T, np.array([[ages]])]])
    pairs = tuple(
        (row_of.get(one), row_of.get(other), Fraction(1, times[one]) + Fraction(1, times[other]))
        for one, other in combinations(letters, 2)
        if mortar_of.get(one, "") == mortar_of.get(other, "")
    )
    return _Judged(rows, scale, pairs)


def _inverse(rows: list[list[Fraction]]) -> list[list[Fraction]] | None:
    """The inverse by Gauss and Jordan, None of a matrix that has none."""
    size = len(rows)
    wide = [[*row, *(Fraction(int(at == column)) for column in range(size))] for at, row in enumerate(rows)]
    for column in range(size):
        pivot = next((at for at in range(column, size) if wide[at][column]), None)
        if pivot is None:
            return None
        wide[column], wide[pivot] = wide[pivot], wide[column]
        wide[column] = [entry / wide[column][column] for entry in wide[column]]
        for at in range(size):
            if at != column and (times := wide[at][column]):
                wide[at] = [entry - times * own for entry, own in zip(wide[at], wide[column], strict=True)]
    return [row[size:] for row in wide]
