"""Simulated crews hold the rule of the promise to its targets: `python -m tests.simulate_promise` counts in full.

A method is tried, released, and lifted over fifteen days. Worlds are assumed, not seen: tiles spread about their mean
by 0.40 on the logit scale, days and batches by 0.3, readers by 0.25; one reading scatters by 0.30, and is told in steps
of 5 percent below 90 and of 1 above. The targets: a kept promise is called broken in no more than one job of twenty,
and a method that falls from 95 to 87.5 percent is found in three of five.
"""

from __future__ import annotations

import math
import sys
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from random import Random
from typing import Literal

from fieldassist.trade.contact import on_scale
from fieldassist.trade.promise import LaterLift, Promise, kept

TILES, BATCHES, READERS, READING = 0.40, 0.30, 0.25, 0.30
DAYS = 15
MOST_FALSE, LEAST_FOUND = 0.05, 0.60

# Who reads: one in the trial and at the lifts; two in the trial, the first of them at the lifts; somebody else.
Reader = Literal["same", "one of two", "another"]


@dataclass(frozen=True, slots=True)
class PromiseWorld:
    """What the trial was like, and what came of the method: contacts in percent, samples of it among all combinations,
    lifts a day."""

    then: float
    now: float
    repeats: int
    reader: Reader = "same"
    many: int = 8
    lifts: int = 3
    tiles: float = TILES


def _logit(percent: float) -> float:
    return math.log(percent / (100 - percent))


def _read(dice: Random, logit: float, bias: float) -> float:
    """What a reader says of a tile [percent]."""
    percent = 100 / (1 + math.exp(-(logit + bias + dice.gauss(0, READING))))
    step = 1 if percent > 90 else 5
    return min(100.0, step * round(percent / step))


def _seen(dice: Random, logit: float, biases: Iterable[float]) -> float:
    """What all readers say of a tile, on the scale of contact."""
    read = [on_scale(_read(dice, logit, bias)) for bias in biases]
    return sum(read) / len(read)


def _promised(dice: Random, world: PromiseWorld, biases: dict[str, float]) -> Promise:
    """A trial of `many` combinations in blocks, each block a batch, as the analysis tells of the first of them."""
    levels = [_logit(world.then), *(_logit(dice.uniform(60, 98)) for _ in range(world.many - 1))]
    batches = [dice.gauss(0, BATCHES) for _ in range(world.repeats)]
    y = [
        _seen(dice, level + batch + dice.gauss(0, world.tiles), biases.values())
        for level in levels
        for batch in batches
    ]
    rows = [y[at : at + world.repeats] for at in range(0, len(y), world.repeats)]
    means = [sum(row) / world.repeats for row in rows]
    columns = [sum(row[at] for row in rows) / world.many for at in range(world.repeats)]
    middle = sum(means) / world.many
    rest = [
        value - mean - column + middle
        for row, mean in zip(rows, means, strict=True)
        for value, column in zip(row, columns, strict=True)
    ]
    # What is found is drawn to what was assumed, with three degrees of freedom each.
    df = (world.many - 1) * (world.repeats - 1)
    spread = (3 * 0.45**2 + sum(one**2 for one in rest)) / (3 + df)
    found = sum((column - middle) ** 2 for column in columns) - (world.repeats - 1) * spread / world.many
    between = (3 * 0.3**2 + max(0.0, found)) / (3 + world.repeats - 1)
    return Promise(means[0], spread / world.repeats, math.sqrt(spread), between, world.repeats, tuple(biases))


def told_lower(dice: Random, world: PromiseWorld) -> bool:
    """Whether on any evening of the job its lifts are said to be lower than promised."""
    biases = {name: dice.gauss(0, READERS) for name in ("rosa", "otto")[: 1 + (world.reader == "one of two")]}
    promise = _promised(dice, world, biases)
    reader, bias = ("edwin", dice.gauss(0, READERS)) if world.reader == "another" else ("rosa", biases["rosa"])
    lifts: list[LaterLift] = []
    for day in range(DAYS):
        level = _logit(world.now) + dice.gauss(0, BATCHES)
        for _ in range(world.lifts):
            lifts.append(LaterLift(str(day), _read(dice, level + dice.gauss(0, world.tiles), bias), reader))
        told = kept(promise, lifts)
        if told is not None and told.lower:
            return True
    return False


def rate(world: PromiseWorld, runs: int) -> float:
    """In how many of so many jobs the lifts are said to be lower."""
    return sum(told_lower(Random(f"{world} {run}"), world) for run in range(runs)) / runs


HONEST = tuple(
    PromiseWorld(level, level, repeats, reader, tiles=tiles)
    for level in (80.0, 90.0, 95.0)
    for repeats in (3, 5)
    for reader in ("same", "one of two", "another")
    for tiles in (TILES, 0.6)
)
FALLEN = tuple(PromiseWorld(95.0, 87.5, repeats, reader) for repeats in (3, 5) for reader in ("same", "one of two"))


def rates(runs: int) -> Iterator[tuple[PromiseWorld, float]]:
    """Every world with its rate."""
    for world in (*HONEST, *FALLEN):
        yield world, rate(world, runs)


def main(runs: int = 2000) -> int:
    """Count all worlds; 1 where one of them misses its target."""
    missed = 0
    for world, share in rates(runs):
        holds = share <= MOST_FALSE if world.then == world.now else share >= LEAST_FOUND
        missed += not holds
        print(f"{'' if holds else 'MISSED '}{share:.3f}  {world}")
    return int(missed > 0)


if __name__ == "__main__":
    sys.exit(main(*map(int, sys.argv[1:])))
