"""The grid of a tile's back against an independent count: NumPy, and SciPy's labelling of connected regions."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import numpy as np
from hypothesis import example, given
from hypothesis import strategies as st
from scipy import ndimage

from fieldassist.checklist.plan import Piece
from fieldassist.ui.content.back_grid import SIDE, BackGrid, GridCell, Sketch, cell_mm2, passed, sides, void_reading

GRIDS = st.lists(st.sampled_from(list(GridCell)), min_size=SIDE * SIDE, max_size=SIDE * SIDE).map(
    lambda cells: BackGrid(tuple(cells))
)


def shares(grid: BackGrid) -> np.ndarray:
    return np.array([float(cell.value) for cell in grid.cells]).reshape(SIDE, SIDE)


@given(GRIDS)
@example(BackGrid())
@example(BackGrid((GridCell.NONE,) * 100))
@example(BackGrid((GridCell.HALF,) * 100))
def test_percent_and_largest_void_agree_with_an_independent_count(grid: BackGrid) -> None:
    mortar = shares(grid)
    assert float(grid.percent) == mortar.sum()  # of 100 cells
    # ndimage.label: by default regions touch along a side, not over a corner.
    regions, count = ndimage.label(mortar < 1)
    sizes = ndimage.sum_labels(1 - mortar, regions, range(1, count + 1))
    assert float(grid.largest_void) == max(sizes, default=0.0)


@given(GRIDS)
def test_corners_and_edges_agree_with_an_independent_count(grid: BackGrid) -> None:
    full = shares(grid) == 1
    assert grid.corners == (full[np.ix_([0, -1], [0, -1])].sum(), 4)
    rim = np.ones_like(full)
    rim[1:-1, 1:-1] = False
    assert grid.edges == (full[rim].sum(), 36)
    assert grid.edges_full == full[rim].all()


def test_voids_that_touch_at_a_corner_only_are_two() -> None:
    assert BackGrid().painted([(3, 3), (4, 4)], GridCell.NONE).largest_void == 1


def test_a_cell_is_a_hundredth_of_the_piece_in_any_units() -> None:
    us = Piece.model_validate({"product": "tile", "length": "12 in", "width": "24 in", "thickness": "3/8 in"})
    assert sides(us) == (Fraction("609.6"), Fraction("304.8"))
    # 24 in x 12 in is 288 in²; NIST SP 811, table B.8: 1 in² = 645.16 mm².
    assert cell_mm2(us) == Fraction(288, 100) * Fraction("645.16")
    assert void_reading(cell_mm2(us), "in2") == Fraction("2.9")


@given(GRIDS, st.sampled_from(["mm2", "cm2", "in2"]), st.integers(10_000, 9_000_000))
def test_rounding_never_makes_a_void_smaller(grid: BackGrid, unit: str, back: int) -> None:
    void = grid.largest_void * Fraction(back, 100)
    per = {"mm2": Fraction(1), "cm2": Fraction(100), "in2": Fraction("645.16")}[unit]
    assert void <= void_reading(void, unit) * per < void + per / 10


def test_one_press_turns_a_cell_from_full_to_none_to_half_to_full() -> None:
    sketch, seen = Sketch(), []
    for _ in range(3):
        sketch.press((4.5, 2.5))
        seen.append(sketch.grid.at((4, 2)))
    assert seen == [GridCell.NONE, GridCell.HALF, GridCell.FULL]


def test_a_stroke_paints_what_it_passes_even_in_jumps_and_leaves_the_grid_unharmed() -> None:
    sketch = Sketch()
    sketch.press((1.5, 1.5))
    sketch.drag((8.5, 1.5))
    sketch.drag((8.5, 14.0))
    empty = {(c, r) for c in range(SIDE) for r in range(SIDE) if sketch.grid.at((c, r)) is GridCell.NONE}
    assert empty == {(c, 1) for c in range(1, 9)} | {(8, r) for r in range(1, SIDE)}


@given(st.tuples(*[st.floats(0, 9.999)] * 4))
def test_the_way_between_two_points_has_no_gap(ends: tuple[float, float, float, float]) -> None:
    way = passed(ends[:2], ends[2:])
    assert way[0] == (int(ends[0]), int(ends[1]))
    assert way[-1] == (int(ends[2]), int(ends[3]))
    assert all(max(abs(a[0] - b[0]), abs(a[1] - b[1])) == 1 for a, b in pairwise(way))


def test_undo_takes_back_one_stroke_and_a_clear_too() -> None:
    sketch = Sketch()
    assert not sketch.looked
    sketch.press((0, 0))
    sketch.drag((3, 0))
    one = sketch.grid
    sketch.press((5, 5))
    sketch.undo()
    assert sketch.grid == one
    sketch.clear()
    assert (sketch.grid, sketch.looked) == (BackGrid(), False)
    sketch.undo()
    assert (sketch.grid, sketch.looked) == (one, True)
    sketch.undo()
    assert (sketch.grid, sketch.looked, sketch.can_undo) == (BackGrid(), False, False)


def test_only_who_looked_can_say_that_all_is_covered() -> None:
    sketch = Sketch()
    sketch.all_covered()
    assert (sketch.looked, sketch.grid.percent) == (True, 100)
