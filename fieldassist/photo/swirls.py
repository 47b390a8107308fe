"""Which way the trowel's ridges ran, and whether they ran straight, read from where mortar stuck and where not.

By the structure tensor (Bigun and Granlund, 1st International Conference on Computer Vision, 1987): squares of the
gradient, averaged over a neighbourhood, tell the direction across which the picture changes most and how clearly. A
direction and its opposite are one, so directions are averaged at twice their angle.

Where nearly all is covered no ridge is left to read, and the back's own ribs would answer: then it is not readable.
Islands, bubbles and a starved bed run every way too, but have no pitch. Swirls are named only where stripes are seen:
in a window of the back parallel stripes gather in one peak of the power spectrum, patches spread over all of it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, TypeAlias

import cv2
import numpy as np

from fieldassist.photo.picture import Floats

__all__ = ["RidgeRun", "RidgesSeen", "ridges_seen"]

RidgeRun: TypeAlias = Literal["straight", "curved", "swirled", "not readable"]

# Read at this scale, between waves of these lengths: ridges stand 6 to 30 mm apart [mm].
_DOT_MM, _FINE_MM, _COARSE_MM = 2.0, 2.0, 14.0
# Over what the direction is averaged, how far apart it is read, and how much of the rim is left out [mm].
_AROUND_MM, _EVERY_MM, _RIM_MM = 16.0, 20.0, 12.0
# Above this contact there are too few gaps between ridges [percent].
_MOST_PERCENT = 93.0
# A direction is clear at this coherence, 0 none and 1 parallel lines; the share of places where it must be.
_CLEAR, _CLEAR_SHARE = 0.35, 0.4
# Straight and curved ridges turn evenly from one place to the next: at least this share of them runs within so many
# degrees of such a turning, of swirls at most the other share, and what lies between is not sure. Straight ones turn by
# fewer than so many degrees over the back.
_EVEN_SHARE, _SWIRLED_SHARE, _ALIKE_DEG, _STRAIGHT_TURN_DEG = 0.8, 0.62, 10.0, 12.0
# Stripes are looked for in windows so wide, of a pitch from so much to so much [mm]; of all that changes in them this
# share is theirs. On drawn backs that nothing is measured on: swirls 0.25 and more, patches 0.24 at most.
_WINDOW_MM, _LEAST_PITCH_MM, _MOST_PITCH_MM, _STRIPED_SHARE = 90.0, 5.0, 36.0, 0.245


@dataclass(frozen=True, slots=True)
class RidgesSeen:
    """How the ridges ran.

    direction_deg: of their lines against the longer side, 0 to 180 clockwise as seen, 0 where they did not run
    straight or curved; straightness: 1 where all run one way, near 0 where they run every way, 0 where they cannot be
    read.
    """

    kind: RidgeRun
    direction_deg: float = 0.0
    straightness: float = 0.0


def ridges_seen(shown: Floats, mm_a_dot: float, percent: float) -> RidgesSeen:
    """How the ridges ran.

    Parameters: shown, rows x columns, in which mortar and bare back differ: the share of mortar in cells, where the
    back's own ribs do not show, or the lightness of a plan; mm_a_dot, its scale [mm]; percent, the contact.
    """
    if percent > _MOST_PERCENT or min(shown.shape) * mm_a_dot < 2 * _RIM_MM + 2 * _AROUND_MM:
        return RidgesSeen("not readable")
    grey, dot_mm = _at_scale(shown, mm_a_dot)
    places, directions, energy = _directions(grey, dot_mm)
    coherence = np.abs(directions)
    if energy.sum() <= 0 or np.mean(coherence > _CLEAR) < _CLEAR_SHARE:
        return RidgesSeen("not readable")
    mean = complex((directions * energy).sum() / (coherence * energy).sum())
    turn_deg, alike = _even_turn(places, np.angle(directions / mean) / 2, energy * coherence**3)
    if alike < _SWIRLED_SHARE:
        striped = _striped(grey, dot_mm) >= _STRIPED_SHARE
        return RidgesSeen("swirled", 0.0, abs(mean)) if striped else RidgesSeen("not readable")
    if alike < _EVEN_SHARE:
        return RidgesSeen("not readable")
    # The lines run across the direction in which the picture changes.
    direction_deg = (math.degrees(np.angle(mean)) / 2 + 90) % 180
    return RidgesSeen("straight" if turn_deg < _STRAIGHT_TURN_DEG else "curved", direction_deg, abs(mean))


def _even_turn(places: Floats, angles: Floats, weights: Floats) -> tuple[float, float]:
    """By how much the direction turns over the back if it turns evenly [degrees], and the share that runs as it says.

    A plane through the angles by weighted least squares; what lies far off it weighs less each time (Cauchy's weights).
    """
    near = math.radians(_ALIKE_DEG)
    by_place = np.column_stack([np.ones(len(places)), places])
    off = np.zeros_like(angles)
    for _ in range(6):
        root = np.sqrt(weights / (1 + (off / near) ** 2))
        plane = np.linalg.lstsq(by_place * root[:, None], angles * root, rcond=None)[0]
        off = angles - by_place @ plane
    # Places run from -1 to 1 both ways.
    return 2 * math.degrees(math.hypot(plane[1], plane[2])), float(np.average(np.abs(off) < near, weights=weights))


def _at_scale(shown: Floats, mm_a_dot: float) -> tuple[Floats, float]:
    """What is shown at the scale it is read at, and that scale [mm a dot]."""
    by = max(1.0, _DOT_MM / mm_a_dot)
    wide, high = round(shown.shape[1] / by), round(shown.shape[0] / by)
    grey = cv2.resize(shown.astype(np.float32), (wide, high), interpolation=cv2.INTER_AREA)
    return np.asarray(grey), mm_a_dot * shown.shape[1] / wide


def _striped(grey: Floats, dot_mm: float) -> float:
    """The share of all that changes within windows all over the back that stripes of one pitch and way in each take."""
    side = min(round(_WINDOW_MM / dot_mm), *grey.shape)
    tops, lefts = (np.linspace(0, length - side, length // side).round().astype(int) for length in grey.shape)
    windows = np.stack([grey[y : y + side, x : x + side] for y in tops for x in lefts]).astype(np.float64)
    bell = np.outer(np.hanning(side + 2)[1:-1], np.hanning(side + 2)[1:-1])
    mean = (windows * bell).sum(axis=(1, 2), keepdims=True) / bell.sum()
    power = np.abs(np.fft.fft2((windows - mean) * bell, (2 * side, 2 * side))) ** 2
    waves = np.fft.fftfreq(2 * side, dot_mm)
    a_mm = np.hypot(waves[:, None], waves)
    pitched = (a_mm >= 1 / _MOST_PITCH_MM) & (a_mm <= 1 / _LEAST_PITCH_MM)
    # The bell spreads a peak over two waves to a window, the more where the stripes bend; around each wave that much is
    # summed, as a product of transforms. A wave and its opposite are one.
    peak = np.fft.fft2(a_mm <= 2 / (side * dot_mm))
    around = np.fft.ifft2(np.fft.fft2(power * pitched) * peak).real
    return float(2 * np.where(pitched, around, 0.0).max(axis=(1, 2)).sum() / max(float(power.sum()), 1e-9))


def _directions(grey: Floats, dot_mm: float) -> tuple[Floats, Floats, Floats]:
    """At places all over the back: where they are, n x 2, from -1 to 1 both ways; the direction of change at twice its
    angle, as complex numbers as long as it is clear, 0 to 1; and how much changes there.
    """
    waves = cv2.GaussianBlur(grey, (0, 0), _FINE_MM / dot_mm) - cv2.GaussianBlur(grey, (0, 0), _COARSE_MM / dot_mm)
    across, down = (cv2.Scharr(waves, cv2.CV_32F, *way) for way in ((1, 0), (0, 1)))
    # One hard shadow or letter weighs no more than a ridge.
    size = np.hypot(across, down)
    held = np.minimum(1.0, float(np.quantile(size, 0.8)) / np.maximum(size, 1e-6))
    across, down = across * held, down * held
    rim = math.ceil(_RIM_MM / dot_mm)
    every = max(1, round(_EVERY_MM / dot_mm))

    def read(values: Floats) -> Floats:
        around = cv2.GaussianBlur(np.asarray(values), (0, 0), _AROUND_MM / dot_mm)
        return np.asarray(around[rim:-rim:every, rim:-rim:every], dtype=np.float64)

    energy = read(across**2 + down**2)
    twice = read(across**2 - down**2) + 2j * read(across * down)
    y, x = np.meshgrid(*(np.linspace(-1, 1, count) for count in energy.shape), indexing="ij")
    places = np.column_stack([x.ravel(), y.ravel()])
    return places, (twice / np.maximum(energy, 1e-9)).ravel(), energy.ravel()
