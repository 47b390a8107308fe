"""Squaring up, against scikit-image's ProjectiveTransform and a pinhole camera worked by hand."""

from __future__ import annotations

import itertools
import math
from typing import Any

import numpy as np
import pytest
from skimage import transform

from fieldassist.photo.picture import CannotTell, PhotoCorners, Point
from fieldassist.photo.square import fit, in_order, square_up, to_back, to_photo

SKIMAGE: Any = transform  # it has no types
SIZE = (1200.0, 600.0)
DOTS = (1600, 1200)


def camera(
    size_mm: tuple[float, float] = SIZE,
    *,
    tilt_deg: float = 12.0,
    roll_deg: float = 5.0,
    focal: float = 0.8,
    away_mm: float = 1500.0,
    dots: tuple[int, int] = DOTS,
) -> PhotoCorners:
    """Where a pinhole camera sees the corners: x = f X / Z about the middle of the photo.

    The piece is rolled in its plane and then tilted about the horizontal line through its middle.
    """
    seen = []
    roll, tilt = math.radians(roll_deg), math.radians(tilt_deg)
    for x, y in ((-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5)):
        across, down = x * max(size_mm), y * min(size_mm)
        across, down = (
            across * math.cos(roll) - down * math.sin(roll),
            across * math.sin(roll) + down * math.cos(roll),
        )
        depth = away_mm - down * math.sin(tilt)
        scale = focal * max(dots) / depth
        seen.append((dots[0] / 2 + scale * across, dots[1] / 2 + scale * down * math.cos(tilt)))
    a, b, c, d = seen
    return a, b, c, d


def reference(corners: PhotoCorners, size_mm: tuple[float, float] = SIZE) -> Any:
    long, short = max(size_mm), min(size_mm)
    found = SKIMAGE.ProjectiveTransform.from_estimate(
        np.array([(0, 0), (long, 0), (long, short), (0, short)], dtype=float), np.array(corners)
    )
    assert isinstance(found, SKIMAGE.ProjectiveTransform)
    return found


@pytest.mark.parametrize("tilt", [0.0, 10.0, 35.0])
def test_points_go_to_the_photo_and_back_as_by_scikit_images_projective_transform(tilt: float) -> None:
    corners = camera(tilt_deg=tilt, roll_deg=-20.0, away_mm=2000.0)
    points = [(0.0, 0.0), (300.0, 450.0), (1200.0, 600.0), (777.0, 1.0)]
    expected = reference(corners)(np.array(points))
    for point, seen in zip(points, expected, strict=True):
        assert to_photo(corners, SIZE, point) == pytest.approx(tuple(seen), abs=1e-6)
        assert to_back(corners, SIZE, (float(seen[0]), float(seen[1]))) == pytest.approx(point, abs=1e-6)


def test_the_middle_of_a_piece_is_where_its_diagonals_cross_on_the_photo() -> None:
    """A projective map keeps lines, so the crossing of the diagonals stays the middle: worked by hand."""
    corners: PhotoCorners = ((100.0, 100.0), (500.0, 100.0), (600.0, 400.0), (0.0, 400.0))
    # From (100, 100) toward (600, 400) and from (500, 100) toward (0, 400): x = 300, y = 100 + 200 x 0.6.
    assert to_photo(corners, SIZE, (600.0, 300.0)) == pytest.approx((300.0, 220.0))


@pytest.mark.parametrize("mm_a_dot", [1.0, 2.0, 5.0])
def test_a_plan_is_true_to_scale_within_a_third_of_a_dot(mm_a_dot: float) -> None:
    """A disc of 120 mm at (400, 150) on a photo that is finer than the plan, or coarser."""
    corners = camera()
    y, x = np.mgrid[0 : DOTS[1], 0 : DOTS[0]] + 0.5
    on_back = reference(corners).inverse(np.column_stack([x.ravel(), y.ravel()]))
    disc = np.hypot(on_back[:, 0] - 400, on_back[:, 1] - 150).reshape(x.shape) < 60
    photo = np.repeat((disc * 255).astype(np.uint8)[..., None], 3, axis=2)
    plan = square_up(photo, corners, SIZE, mm_a_dot)
    assert plan.pixels.shape == (round(600 / mm_a_dot), round(1200 / mm_a_dot), 3)
    share = plan.pixels[..., 0] / 255
    rows, columns = np.indices(share.shape) + 0.5
    found = [float((share * axis).sum() / share.sum() * mm_a_dot) for axis in (columns, rows)]
    assert found == pytest.approx([400.0, 150.0], abs=mm_a_dot / 3)
    assert share.sum() * mm_a_dot**2 == pytest.approx(math.pi * 60**2, rel=0.01)


def test_a_plan_of_a_smooth_photo_is_that_of_scikit_image() -> None:
    corners = camera(tilt_deg=20.0)
    y, x = np.mgrid[0 : DOTS[1], 0 : DOTS[0]] + 0.5
    waves = [128 + 100 * np.sin(x / 60 + k) * np.cos(y / 45) for k in range(3)]
    photo = np.stack(waves, axis=2).astype(np.uint8)
    plan = square_up(photo, corners, SIZE, 1.0).pixels.astype(float)
    # Both count a dot by its middle here: half a dot lies between.
    from_dot = SKIMAGE.ProjectiveTransform(np.array([[1, 0, 0.5], [0, 1, 0.5], [0, 0, 1.0]]))
    to_dot = SKIMAGE.ProjectiveTransform(np.array([[1, 0, -0.5], [0, 1, -0.5], [0, 0, 1.0]]))
    expected = SKIMAGE.warp(
        photo, from_dot + reference(corners) + to_dot, output_shape=(600, 1200), preserve_range=True
    )
    assert np.abs(plan - expected).max() < 2.0


@pytest.mark.parametrize("order", list(itertools.permutations(range(4)))[::5])
def test_corners_may_be_set_in_any_order(order: tuple[int, ...]) -> None:
    corners = camera()
    assert in_order([corners[k] for k in order], SIZE) == corners


@pytest.mark.parametrize("roll", [-80.0, 0.0, 40.0])
def test_the_longer_side_lies_across_however_the_piece_lay(roll: float) -> None:
    corners = camera(roll_deg=roll, away_mm=2000.0)
    assert in_order(corners[::-1], (600.0, 1200.0)) == corners


def refused(code: str, corners: PhotoCorners, size_mm: tuple[float, float] = SIZE) -> CannotTell:
    with pytest.raises(CannotTell) as refusal:
        fit(corners, size_mm, DOTS)
    assert refusal.value.told.code == code
    return refusal.value


@pytest.mark.parametrize("tilt", [0.0, 18.0, 40.0])
@pytest.mark.parametrize("focal", [0.5, 0.8, 2.0])
def test_corners_that_a_camera_saw_fit_and_tell_how_far_it_was_tilted(tilt: float, focal: float) -> None:
    found = fit(camera(tilt_deg=tilt, focal=focal, away_mm=2000 * focal), SIZE, DOTS)
    assert found.misfit < 0.02
    assert math.degrees(math.acos(found.foreshortening)) == pytest.approx(tilt, abs=2.5)


def test_what_a_dot_saw_is_the_distance_over_the_focal_length() -> None:
    """Straight on a dot sees Z / f: 1500 mm over 0.8 x 1600 dots."""
    found = fit(camera(tilt_deg=0.0), SIZE, DOTS)
    assert found.mm_a_dot == pytest.approx(1500 / 1280)
    assert found.source_mm == pytest.approx(1500 / 1280)


def test_a_piece_seen_too_aslant_or_too_small_is_refused() -> None:
    assert refused("measure-too-aslant", camera(tilt_deg=60.0)).told.figures["degrees"] == pytest.approx(60, abs=3)
    refused("measure-too-small", camera(away_mm=5000.0))


def test_crossing_corners_and_those_of_no_rectangle_are_refused() -> None:
    a, b, c, d = camera()
    refused("measure-corners-cross", (a, c, b, d))
    refused("measure-corners-cross", (a, b, ((a[0] + c[0]) / 2 - 50, (a[1] + c[1]) / 2), d))
    refused("measure-corners-one", (a, b, c, (a[0] + 3, a[1])))
    inside: list[Point] = [(0.0, 0.0), (100.0, 0.0), (0.0, 100.0), (30.0, 30.0)]
    with pytest.raises(CannotTell, match="measure-corners-cross"):
        in_order(inside, SIZE)
    with pytest.raises(CannotTell, match="measure-corners-count"):
        in_order(inside[:3], SIZE)


def test_a_corner_outside_the_photo_is_named_and_refused() -> None:
    a, b, c, d = camera(away_mm=1300.0, roll_deg=0.0)
    told = refused("measure-corner-outside", (a, b, (DOTS[0] + 40.0, c[1]), d)).told
    assert str(told.figures["corner"]) == "measure-corner-lower-right"


@pytest.mark.parametrize("size", [(600.0, 600.0), (900.0, 600.0), (1800.0, 600.0)])
def test_corners_of_a_piece_of_another_proportion_are_refused(size: tuple[float, float]) -> None:
    told = refused("measure-other-proportion", camera(size, away_mm=2200.0)).told
    assert told.figures["seen"] == pytest.approx(max(size) / min(size), abs=0.15)


def test_corners_with_an_angle_that_no_rectangle_shows_are_refused() -> None:
    """A parallelogram seen straight on, its upper side shifted by half the lower one's height."""
    a, b, c, d = camera(tilt_deg=0.0, roll_deg=0.0)
    refused("measure-other-angles", ((a[0] + 250, a[1]), (b[0] + 250, b[1]), c, d))


def test_a_fingers_error_of_a_hundredth_of_the_diagonal_never_refuses_a_piece() -> None:
    random = np.random.default_rng(1)
    for _ in range(60):
        tilt, roll = random.uniform(0, 18), random.uniform(-40, 40)
        corners = np.array(camera(tilt_deg=tilt, roll_deg=roll, away_mm=2000.0))
        diagonal = float(np.hypot(*(corners[2] - corners[0])))
        a, b, c, d = corners + random.normal(0, 0.01 * diagonal / math.sqrt(2), (4, 2))
        fit((tuple(a), tuple(b), tuple(c), tuple(d)), SIZE, DOTS)
