"""From a decoded photo to figures, by the one way that the command line and the tablet go."""

from __future__ import annotations

import numpy as np
import pytest

from fieldassist.photo.back import Back
from fieldassist.photo.measuring import MeasuredPhoto, by_paint, by_taps, dots_wanted, plan_of, put_right
from fieldassist.photo.picture import CannotTell, PhotoCorners
from fieldassist.photo.square import to_back
from fieldassist.trade.message import Message
from fieldassist.trade.voids import BackKind
from tests.photo.rendering import Rendered, render, taps


@pytest.fixture(scope="module")
def ordinary() -> Rendered:
    return render(20_007, "ordinary")


def painted(made: Rendered) -> MeasuredPhoto:
    """Its voids painted as they are."""
    plan, _ = plan_of(made.photo, made.corners, made.size_mm)
    back = Back(*plan.size_mm)
    rows, columns = back.mortar.shape
    # Of each cell the truth at its middle.
    y = ((np.arange(rows) + 0.5) * back.cell_mm[1] / made.cell_mm).astype(int)
    x = ((np.arange(columns) + 0.5) * back.cell_mm[0] / made.cell_mm).astype(int)
    back.fill(~made.seen[np.ix_(y, x)], "void")
    return by_paint(plan, back.cells)


def test_voids_painted_as_they_are_come_to_the_truth_within_a_point_and_the_interval_holds_it(
    ordinary: Rendered,
) -> None:
    found = painted(ordinary)
    assert found.way == "painted"
    assert found.percent == pytest.approx(ordinary.seen_percent, abs=1.0)
    assert found.low < ordinary.seen_percent < found.high
    assert found.circle is not None
    assert 0 < found.circle_mm <= min(ordinary.size_mm)
    left, top, right, bottom = found.done.void_box
    assert left < found.circle[0] < right
    assert top < found.circle[1] < bottom


def test_a_proposal_that_is_put_right_by_paint_keeps_its_doubt(ordinary: Rendered) -> None:
    plan, _ = plan_of(ordinary.photo, ordinary.corners, ordinary.size_mm)
    mortar, bare = ([to_back(ordinary.corners, ordinary.size_mm, at) for at in some] for some in taps(ordinary))
    found = by_taps(plan, mortar, bare)
    assert found.way == "proposed"
    assert found.low <= ordinary.seen_percent <= found.high
    back = Back(*plan.size_mm)
    back.propose(np.frombuffer(found.cells.cells, np.uint8).reshape(back.mortar.shape))
    back.stroke([(20.0, 20.0), (200.0, 20.0)], "void")
    right = put_right(found, back.cells)
    assert right.proposed_percent == found.percent
    assert right.way == "corrected"
    assert right.percent < found.percent - 1
    assert right.percent - right.low == pytest.approx(found.percent - found.low)
    assert right.ridges == found.ridges


@pytest.mark.parametrize("surface", ["skim-coated", "combed"])
def test_a_keyed_back_is_told_nothing_of_by_taps(ordinary: Rendered, surface: BackKind) -> None:
    plan, _ = plan_of(ordinary.photo, ordinary.corners, ordinary.size_mm)
    with pytest.raises(CannotTell, match="measure-keyed"):
        by_taps(plan, [(10.0, 10.0)], [(20.0, 20.0)], surface=surface)


def test_a_clear_sheet_is_told_nothing_of_by_taps(ordinary: Rendered) -> None:
    plan, _ = plan_of(ordinary.photo, ordinary.corners, ordinary.size_mm)
    with pytest.raises(CannotTell, match="measure-sheet-painted"):
        by_taps(plan, [(10.0, 10.0)], [(20.0, 20.0)], surface="clear sheet")


def test_a_photo_that_is_unfit_is_squared_up_to_be_painted_and_says_why(ordinary: Rendered) -> None:
    dark = (ordinary.photo // 16).astype(np.uint8)
    plan, unfit = plan_of(dark, ordinary.corners, ordinary.size_mm)
    assert plan.pixels.shape == (round(ordinary.size_mm[1]), round(ordinary.size_mm[0]), 3)
    assert isinstance(unfit, Message)
    assert unfit.code == "measure-dark"
    assert plan_of(ordinary.photo, ordinary.corners, ordinary.size_mm)[1] is None


@pytest.mark.parametrize(
    ("size_mm", "dots"), [((1200.0, 600.0), 2000), ((3600.0, 1800.0), 4000), ((300.0, 150.0), 500)]
)
def test_a_photo_is_decoded_with_as_few_dots_as_the_plan_needs(size_mm: tuple[float, float], dots: int) -> None:
    corners: PhotoCorners = ((200, 400), (3800, 400), (3800, 2200), (200, 2200))
    assert dots_wanted(corners, size_mm, (4000, 3000)) == dots
