"""The renderer of known truth keeps its promises: mortar, share, geometry, taps. References: scipy, scikit-image."""

from __future__ import annotations

import math
from dataclasses import replace

import cv2
import numpy as np
import pytest
from scipy.integrate import trapezoid
from scipy.ndimage import distance_transform_edt
from skimage.transform import ProjectiveTransform, warp

from fieldassist.photo.square import to_back
from tests.photo.rendering import DEVELOP, FEATURELESS, FIX, MEASURE, Kind, render, taps, wrong_subject
from tests.photo.rendering.bed import Notch, lay, open_width, profile
from tests.photo.rendering.camera import Sensor, aim
from tests.photo.rendering.fields import Sheet, dice, single
from tests.photo.rendering.light import Lamp, Spread
from tests.photo.rendering.materials import paired
from tests.photo.rendering.scene import LiftedBack, photograph
from tests.photo.rendering.surface import Surface

NOTCH = Notch(pitch_mm=20.0, height_mm=9.0, foot_mm=10.0, cot=0.3)


@pytest.mark.parametrize("supply_mm", [0.0, 0.1, 0.6, 1.5, 2.4, 2.95, 3.0])
def test_a_squeezed_ridge_has_the_mortar_that_was_laid(supply_mm: float) -> None:
    """Hardly any, a lone ridge, one that touches, feet that have met, a full gap: its cross section stays the same."""
    gap = single(3.0)
    half = (NOTCH.pitch_mm - open_width(single(supply_mm), gap, NOTCH)) / 2
    across = np.linspace(0, NOTCH.pitch_mm / 2, 4001, dtype=np.float32)
    height = profile(across, single(half), gap, NOTCH)
    assert 2 * trapezoid(height, across) == pytest.approx(supply_mm * NOTCH.pitch_mm, rel=0.02, abs=1e-3)


@pytest.mark.parametrize("seed", [1, 4])
def test_a_bed_has_the_mortar_that_was_laid_less_what_came_out_at_the_edges(seed: int) -> None:
    bed = lay(Sheet((600.0, 300.0), 0.5), dice(seed, "volume"), 78.0, ridges="straight")
    assert bed.thickness_mm.mean() == pytest.approx(bed.supply_mm.mean(), rel=0.02)
    assert bed.supply_mm.mean() == pytest.approx(bed.laid_mm.mean(), rel=0.02)
    assert (bed.thickness_mm <= bed.gap_mm).all()


@pytest.mark.parametrize("wanted", [40.0, 80.0, 95.0, 99.5])
def test_the_share_that_touches_is_the_one_that_was_wanted(wanted: float) -> None:
    bed = lay(Sheet((600.0, 300.0), 1.0), dice(int(wanted), "share"), wanted)
    assert bed.percent == pytest.approx(wanted, abs=0.5)
    assert bed.percent == pytest.approx(100 * (bed.margin_mm > 0).mean(), abs=1e-6)


def _square_on_a_back(bent: float) -> tuple[np.ndarray, np.ndarray]:
    """A photo of a light back with a dark square of 200 to 300, 80 to 180 mm, and the corners of the back in it."""
    size = (600.0, 300.0)
    sheet = Sheet(size, 0.5)
    albedo = np.full((*sheet.shape, 3), 0.6, dtype=np.float32)
    albedo[160:360, 400:600] = 0.02
    flat = np.zeros(sheet.shape, dtype=np.float32)
    light = np.array([0.6, 0.6, 0.6], dtype=np.float32)
    surface = Surface(albedo, flat, flat, flat > 0)
    back = LiftedBack(dice(1, "square on a back"), size, sheet, surface, light, light, hard=False)
    camera = aim(
        size, (1200, 900), tilt_deg=25, toward_deg=40, roll_deg=5, fill=0.9, focal=0.8, off=(0.2, -0.3), bent=bent
    )
    sensor = Sensor(1.0, (1.0, 1.0, 1.0), 0.0, 0.4, 0.0, 0.0, 0.0, 0.0, 96)
    spread = Spread(middle=(300.0, 150.0), slope=(0.0, 0.0), bow=0.0)
    photo = photograph(back, camera, Lamp(70, 30, 0.6), spread, sensor, "photo")
    return photo, np.array(camera.corners(size))


def _box_in_the_plan(photo: np.ndarray, corners: np.ndarray) -> tuple[float, float, float, float]:
    """Left, top, right, bottom [mm] of what is dark well inside the back, squared up by scikit-image at 0.5 mm."""
    plan = np.array([[0, 0], [1200, 0], [1200, 600], [0, 600]], dtype=np.float64)
    # scikit-image counts from the middle of the first dot.
    transform = ProjectiveTransform.from_estimate(plan - 0.5, corners - 0.5)
    squared = warp(photo, transform, output_shape=(600, 1200))[20:-20, 20:-20].mean(axis=2)
    rows, columns = np.nonzero(squared < 0.45)
    box = (columns.min(), rows.min(), columns.max() + 1, rows.max() + 1)
    return tuple(float(edge + 20) / 2 for edge in box)  # type: ignore[return-value]


def test_a_square_on_the_back_comes_back_by_the_homography_of_the_true_corners() -> None:
    assert _box_in_the_plan(*_square_on_a_back(bent=0.0)) == pytest.approx((200, 80, 300, 180), abs=0.75)


def test_a_bent_lens_is_seen_in_the_photo() -> None:
    """So that the test above would see a lens that it should not have."""
    off = np.subtract(_box_in_the_plan(*_square_on_a_back(bent=0.15)), (200, 80, 300, 180))
    assert np.abs(off).max() > 1.5


def test_a_camera_sees_as_the_reference_does() -> None:
    size = (1200.0, 600.0)
    camera = aim(size, (1265, 949), tilt_deg=33, toward_deg=200, roll_deg=12, fill=0.8, focal=0.9, off=(0, 0), bent=0.0)
    plan = np.array([[0, 0], [1200, 0], [1200, 600], [0, 600]], dtype=np.float64)
    reference = ProjectiveTransform.from_estimate(plan, np.array(camera.corners(size)))
    points = np.random.default_rng(1).uniform(0, 1, (50, 2)) * size
    assert np.abs(reference(points) - camera.dots(points)).max() < 1e-6
    bent = replace(camera, bent=0.04)
    x, y = bent.places()
    for dot in ((100, 200), (800, 500), (1200, 900)):
        there = bent.dots(np.array([[x[dot[1], dot[0]], y[dot[1], dot[0]]]], dtype=np.float64))[0]
        assert there == pytest.approx((dot[0] + 0.5, dot[1] + 0.5), abs=0.02)


def test_body_and_mortar_of_an_ordinary_back_differ_by_the_factor() -> None:
    for seed in range(150):
        _, body, _, mortar = paired(dice(seed, "ordinary"), 1.7)
        assert np.maximum(body / mortar, mortar / body).max() >= 1.7 * 0.999


KINDS: tuple[Kind, ...] = ("ordinary", "hard", "skim-coated", "combed", "clear sheet", "two lights")


@pytest.mark.parametrize("kind", KINDS)
def test_a_picture_is_told_truly(kind: Kind) -> None:
    made = render(MEASURE[3], kind, megapixels=0.3)
    width, height = made.size_mm
    assert made.percent == pytest.approx(made.wanted_percent, abs=0.5)
    assert made.truth.shape == (round(height / made.cell_mm), round(width / made.cell_mm))
    assert not (made.seen & ~made.truth).any()
    assert (made.raking is not None) == (kind == "two lights")
    rows, columns = made.photo.shape[:2]
    assert all(0 < x < columns and 0 < y < rows for x, y in made.corners)
    # A tap in the photo is where the truth has it; the lens bends it by less than the clear spot around it.
    for points, touched in zip(taps(made), (True, False), strict=True):
        for point in points:
            x, y = to_back(made.corners, made.size_mm, point)
            assert made.seen[int(y / made.cell_mm), int(x / made.cell_mm)] == touched


def test_the_mortar_that_is_seen_has_the_tone_of_mortar() -> None:
    """The truth lies on the picture: squared up, cells that touched differ from the others as nowhere else."""
    made = render(DEVELOP[1], "ordinary", megapixels=0.6)
    rows, columns = made.seen.shape
    plan = np.array([[0, 0], [columns, 0], [columns, rows], [0, rows]], dtype=np.float32)
    onto = cv2.getPerspectiveTransform(np.array(made.corners, dtype=np.float32), plan)
    tone = cv2.warpPerspective(made.photo, onto, (columns, rows)).mean(axis=2)

    def apart(seen: np.ndarray) -> float:
        return abs(float(tone[seen].mean() - tone[~seen].mean()))

    true = apart(made.seen)
    for shift in ((0, 12), (12, 0), (0, -12), (-12, 0)):
        assert apart(np.roll(made.seen, shift, axis=(0, 1))) < 0.8 * true


def test_a_careless_finger_taps_near_a_border_and_sometimes_on_the_wrong_side() -> None:
    made = render(DEVELOP[1], "ordinary", megapixels=0.3)
    wrong, border = 0, distance_border(made.seen, made.cell_mm)
    for seed in range(20):
        for points, touched in zip(taps(replace(made, seed=seed), careless=True), (True, False), strict=True):
            assert len(points) == 3
            for x, y in (to_back(made.corners, made.size_mm, point) for point in points):
                cell = int(y / made.cell_mm), int(x / made.cell_mm)
                wrong += made.seen[cell] != touched
                # The lens bends what the four corners do not see: up to 2 mm.
                assert border[cell] <= 3.0 + 2.0
    assert 4 <= wrong <= 16


def distance_border(seen: np.ndarray, cell_mm: float) -> np.ndarray:
    """How far each cell is from the border of its kind [mm], by scipy."""
    inside, outside = distance_transform_edt(seen), distance_transform_edt(~seen)
    return np.maximum(inside, outside) * cell_mm


def test_a_seed_gives_one_picture_and_more_dots_show_the_same_back() -> None:
    first, again = render(7, "ordinary", megapixels=0.3), render(7, "ordinary", megapixels=0.3)
    assert (first.photo == again.photo).all()
    other = render(8, "ordinary", megapixels=0.3)
    assert first.facts != other.facts or first.percent != other.percent
    finer = render(7, "ordinary", megapixels=0.6)
    assert finer.facts == first.facts
    assert finer.percent == pytest.approx(first.percent, abs=0.5)
    assert math.sqrt(finer.photo.size / first.photo.size) == pytest.approx(math.sqrt(2), abs=0.01)


def test_the_pictures_that_thresholds_were_fixed_on_are_still_the_same() -> None:
    """Who changes what a seed gives fixes the thresholds anew: python -m tests.photo.figures.calibrate."""
    made = render(FIX[0], "hard", megapixels=0.3)
    assert made.size_mm == (800.0, 400.0)
    assert made.facts == {"flat back", "grey body", "haze", "tan mortar", "wet"}
    assert made.percent == pytest.approx(97.92, abs=0.1)
    assert made.corners[0] == pytest.approx((14.58, 111.43), abs=0.05)
    assert made.photo.mean(axis=(0, 1)) == pytest.approx((217.7, 206.5, 201.1), abs=1.0)


def test_seeds_to_fix_and_to_measure_do_not_overlap() -> None:
    assert not set(DEVELOP) & set(FIX)
    assert not set(FIX) & set(MEASURE)
    assert not set(DEVELOP) & set(MEASURE)


def test_a_wrong_subject_without_features_has_none_and_the_others_have() -> None:
    for seed in range(23):
        wrong = wrong_subject(seed, megapixels=0.1)
        quiet = cv2.GaussianBlur(wrong.photo.astype(np.float32), (0, 0), 1)
        assert (np.abs(np.diff(quiet, axis=1)).max() < 5) == (wrong.name in FEATURELESS), wrong.name
