"""Corners proposed, and moved to where the borders cross, on drawn backs; on renderings: tests.photo.figures."""

from __future__ import annotations

import math

import numpy as np
import pytest

from fieldassist.photo.corners import propose_corners, snap_corner
from fieldassist.photo.picture import PhotoCorners
from tests.photo.drawn import CORNERS, SIZE, photo, stripes

DIAGONAL = math.dist(CORNERS[0], CORNERS[2])


@pytest.mark.parametrize("angle", [0.0, 30.0])
def test_corners_of_a_back_on_a_plain_floor_are_proposed_in_order(angle: float) -> None:
    found = propose_corners(photo(stripes(angle_deg=angle), floor=215), SIZE)
    assert found is not None
    assert max(math.dist(*pair) for pair in zip(found, CORNERS, strict=True)) < 0.005 * DIAGONAL


def test_nothing_is_proposed_where_no_outline_can_be_seen() -> None:
    assert propose_corners(np.full((700, 1200, 3), 128, dtype=np.uint8), SIZE) is None
    assert propose_corners(np.full((1, 1, 3), 128, dtype=np.uint8), SIZE) is None


def test_no_outline_of_another_proportion_is_proposed() -> None:
    found = propose_corners(photo(stripes()), (600.0, 600.0))
    assert found is None or max(math.dist(*pair) for pair in zip(found, CORNERS, strict=True)) > 0.05 * DIAGONAL


@pytest.mark.parametrize("index", range(4))
def test_a_corner_that_a_finger_set_a_hundredth_of_the_diagonal_off_moves_to_the_corner(index: int) -> None:
    points = list(CORNERS)
    points[index] = (points[index][0] + 0.007 * DIAGONAL, points[index][1] - 0.007 * DIAGONAL)
    a, b, c, d = points
    set_by_hand: PhotoCorners = (a, b, c, d)
    found = snap_corner(photo(stripes()), set_by_hand, index)
    assert found is not None
    assert math.dist(found, CORNERS[index]) < 0.002 * DIAGONAL


def test_a_corner_stays_where_no_border_is_clear() -> None:
    assert snap_corner(np.full((700, 1200, 3), 128, dtype=np.uint8), CORNERS, 0) is None
