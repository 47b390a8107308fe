"""Which way ridges ran, on drawn backs; on renderings: tests.photo.figures."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from fieldassist.photo.picture import RGB
from fieldassist.photo.swirls import ridges_seen
from tests.photo.drawn import stripes


def lightness(back: RGB) -> RGB:
    return np.asarray(back.mean(axis=2), dtype=np.uint8)


@pytest.mark.parametrize("angle", [0.0, 20.0, 90.0, 135.0])
def test_straight_ridges_tell_their_direction_within_a_degree(angle: float) -> None:
    seen = ridges_seen(lightness(stripes(angle_deg=angle)), 1.0, 75.0)
    assert seen.kind == "straight"
    assert (seen.direction_deg - angle + 90) % 180 - 90 == pytest.approx(0.0, abs=1.0)


def test_the_share_of_mortar_in_cells_tells_the_same_as_the_photo() -> None:
    body = lightness(stripes(angle_deg=30.0)) > 120
    share = 255 - (body.reshape(300, 2, 600, 2).mean(axis=(1, 3)) * 255).astype(np.uint8)
    seen = ridges_seen(share, 2.0, 75.0)
    assert (seen.kind, round(seen.direction_deg)) == ("straight", 30)


def test_arcs_curved_and_combing_every_way_swirled() -> None:
    assert ridges_seen(lightness(stripes(angle_deg=0.0, bend=0.35)), 1.0, 75.0).kind == "curved"
    whole = [lightness(stripes(angle_deg=angle)) for angle in (0.0, 45.0, 90.0, 135.0)]
    swirls = np.concatenate([part[:, 300 * k : 300 * (k + 1)] for k, part in enumerate(whole)], axis=1)
    seen = ridges_seen(swirls, 1.0, 75.0)
    assert seen.kind == "swirled"
    assert seen.straightness < 0.3


@pytest.mark.parametrize("patch_mm", [10.0, 25.0, 45.0, 60.0, 120.0])
def test_patches_without_ridges_are_not_taken_for_swirls(patch_mm: float) -> None:
    field = np.random.default_rng(1).normal(size=(300, 600)).astype(np.float32)
    patches = cv2.GaussianBlur(field, (0, 0), patch_mm / 4) > 0
    assert ridges_seen(255 * patches.astype(np.uint8), 2.0, 50.0).kind == "not readable"


def test_nothing_is_read_where_nearly_all_is_covered_or_nothing_is_to_be_seen() -> None:
    assert ridges_seen(lightness(stripes()), 1.0, 96.0).kind == "not readable"
    assert ridges_seen(np.full((600, 1200), 120, dtype=np.uint8), 1.0, 60.0).kind == "not readable"
    noise = np.random.default_rng(0).integers(0, 255, (600, 1200), dtype=np.uint8)
    assert ridges_seen(noise, 1.0, 60.0).kind == "not readable"
    assert ridges_seen(lightness(stripes())[:40, :40], 1.0, 60.0).kind == "not readable"
