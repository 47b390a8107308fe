"""The hatching of a back's voids: all of it in the voids, and no void of some size without any."""

from __future__ import annotations

import math
import random

import pytest

from fieldassist.trade.hatch import border_lines, hatch_lines
from fieldassist.trade.voids import BackCells


def back(columns: int, rows: int, void: set[tuple[int, int]], cell: tuple[float, float] = (2.0, 2.0)) -> BackCells:
    cells = bytes(0 if (column, row) in void else 255 for row in range(rows) for column in range(columns))
    return BackCells(cells, columns, cell)


def at(one: BackCells, x: float, y: float) -> bool:
    """Whether a point [mm] lies in a void."""
    column, row = int(x / one.cell_mm[0]), int(y / one.cell_mm[1])
    return one.cells[row * one.columns + column] < 128


def test_hatching_lies_in_voids_and_its_length_is_their_area_by_the_distance_of_its_lines() -> None:
    # Lines a distance d apart cover an area A with a length of A/d, on average over all places (Cavalieri).
    draw = random.Random(7)
    void = {(x, y) for x in range(100) for y in range(60) if (x // 20 + y // 15) % 2 or draw.random() < 0.05}
    one = back(100, 60, void, (2.0, 2.1))
    lines = list(hatch_lines(one, 3.0))
    for x, y, u, v in lines:
        assert at(one, x * 0.5 + u * 0.5, y * 0.5 + v * 0.5)
        assert u - x == pytest.approx(y - v)
        assert (x + y) / (3.0 * math.sqrt(2)) == pytest.approx(round((x + y) / (3.0 * math.sqrt(2))), abs=1e-6)
    length = sum(math.hypot(u - x, v - y) for x, y, u, v in lines)
    assert length == pytest.approx(len(void) * 2.0 * 2.1 / 3.0, rel=0.03)


def test_a_back_without_a_void_has_no_hatching_and_short_lines_are_left_out() -> None:
    assert list(hatch_lines(back(30, 20, set()), 3.0)) == []
    speck = back(30, 20, {(5, 5), (6, 5), (5, 6), (6, 6)})
    assert list(hatch_lines(speck, 1.0))
    assert list(hatch_lines(speck, 1.0, least_mm=8.0)) == []
    with pytest.raises(ValueError, match="0"):
        list(hatch_lines(speck, 0.0))


def test_the_lines_around_voids_have_mortar_or_the_backs_end_on_one_side_and_are_as_long_as_all_borders() -> None:
    draw = random.Random(8)
    void = {(x, y) for x in range(40) for y in range(30) if draw.random() < 0.3}
    one = back(40, 30, void, (2.0, 3.0))
    steps = [
        (x, y, across)
        for x in range(41)
        for y in range(31)
        for across in (True, False)
        if (x < 40 if across else y < 30) and ((x, y) in void) != (((x, y - 1) if across else (x - 1, y)) in void)
    ]
    lines = list(border_lines(one))
    assert len(lines) < len(steps)  # what goes straight on is one line
    drawn = []
    for x, y, u, v in lines:
        assert (x == u) != (y == v)
        drawn += [(round(x / 2) + at, round(y / 3), True) for at in range(round((u - x) / 2))]
        drawn += [(round(x / 2), round(y / 3) + at, False) for at in range(round((v - y) / 3))]
    assert sorted(drawn) == sorted(steps)
    assert list(border_lines(back(5, 4, set()))) == []
