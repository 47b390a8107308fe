"""A back drawn by a few lines, for what needs no photograph's likeness."""

from __future__ import annotations

import cv2
import numpy as np

from fieldassist.photo.picture import RGB, PhotoCorners

CORNERS: PhotoCorners = ((140.0, 130.0), (1040.0, 100.0), (1060.0, 570.0), (120.0, 560.0))
SIZE = (1200.0, 600.0)


def stripes(*, angle_deg: float = 20.0, pitch_mm: float = 16.0, gap: float = 0.25, bend: float = 0.0) -> RGB:
    """A back of SIZE at 1 mm a dot: light body in gaps between dark ridges, whose lines run at an angle to the longer
    side; gap, the share of the pitch without mortar; bend, how much the angle grows over the back [rad].
    """
    y, x = np.mgrid[0 : int(SIZE[1]), 0 : int(SIZE[0])] + 0.5
    angle = np.radians(angle_deg)
    along = np.cos(angle) * (x - 600) + np.sin(angle) * (y - 300)
    across = -np.sin(angle) * (x - 600) + np.cos(angle) * (y - 300)
    phase = (across + bend * along**2 / 1200) / pitch_mm
    body = (phase % 1 < gap).astype(np.float32)[..., None]
    shown = np.array([90, 88, 85]) * (1 - body) + np.array([190, 170, 150]) * body
    return np.asarray(shown, dtype=np.uint8)


def photo(
    back: RGB,
    *,
    floor: int = 60,
    blur: float = 0.8,
    light: float = 1.0,
    corners: PhotoCorners = CORNERS,
    dots: tuple[int, int] = (1200, 700),
) -> RGB:
    """A photo of a back on a plain floor, with a little noise."""
    height, width = back.shape[:2]
    outline = np.array([(0, 0), (width, 0), (width, height), (0, height)], dtype=np.float32)
    plane = cv2.getPerspectiveTransform(outline, np.array(corners, dtype=np.float32))
    shown = np.full((dots[1], dots[0], 3), floor, dtype=np.uint8)
    cv2.warpPerspective(back, plane, dots, dst=shown, borderMode=cv2.BORDER_TRANSPARENT)
    soft = cv2.GaussianBlur(shown.astype(np.float32), (0, 0), blur) * light
    noise = np.random.default_rng(0).normal(0, 2, soft.shape)
    return np.clip(soft + noise, 0, 255).astype(np.uint8)
