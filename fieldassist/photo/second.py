"""A second way to tell mortar from bare back, by other means than `tones`: what the two differ by is doubt.

One figure a dot, the direction in lightness and colour (CIE 1976 L*a*b*) in which the taps of mortar and of back differ
most for how they scatter (Fisher's linear discriminant, Ann. Eugenics 7, 1936); a threshold of its own at each place,
midway between the means of both sides around it.
"""

from __future__ import annotations

import cv2
import numpy as np

from fieldassist.photo.picture import RGB, Floats
from fieldassist.photo.taps import Taps

__all__ = ["second_opinion"]

# Common practice, no published source, from here on: chosen on drawn pictures that nothing is measured on.
# The threshold follows the light over this distance, in so many rounds; the taps weigh as if they were this share of
# what lies around.
_AROUND_MM, _ROUNDS = 60.0, 4
_TAPS_WEIGH = 0.05
# Tones that are tapped scatter by two steps of lightness at the least, and shade takes a fifth of the light.
_LEAST_SPREAD, _SHADE = 2.0, 0.2
# Means change slowly: they are made on a grid as coarse as this.
_COARSE_MM = 4.0
# Where the threshold lies between bare back and mortar: below the middle, for the flanks of ridges are in shade. From
# there the share rises to both sides over half of the way.
_THRESHOLD, _RISE = 0.44, 0.5


def second_opinion(pixels: RGB, mm_a_dot: float, taps: Taps) -> Floats:
    """The share of mortar in every dot, 0 to 1."""
    figure = _figure(pixels, taps)
    on, off = (float(np.mean([np.median(figure[taps.at[n]]) for n in taps.of(mortar)])) for mortar in (True, False))
    rows, columns = figure.shape
    coarse = (max(2, round(columns * mm_a_dot / _COARSE_MM)), max(2, round(rows * mm_a_dot / _COARSE_MM)))
    side = max(1, round(_AROUND_MM / _COARSE_MM)) | 1
    above, below = np.full_like(figure, on), np.full_like(figure, off)

    def around(part: Floats, start: float) -> Floats:
        weight = _coarse_mean(part, coarse, side)
        total = _coarse_mean(part * figure, coarse, side)
        mean = (total + _TAPS_WEIGH * start) / (weight + _TAPS_WEIGH)
        return np.asarray(cv2.resize(mean, (columns, rows), interpolation=cv2.INTER_LINEAR), dtype=np.float32)

    for _ in range(_ROUNDS):
        covered = (figure > (above + below) / 2).astype(np.float32)
        above, below = around(covered, on), around(1 - covered, off)
    way = (figure - below) / np.maximum(above - below, 1e-3)
    return np.asarray(np.clip((way - _THRESHOLD) / _RISE + 0.5, 0, 1), dtype=np.float32)


def _figure(pixels: RGB, taps: Taps) -> Floats:
    """Fisher's figure, larger on mortar."""
    lab = np.asarray(cv2.cvtColor(pixels.astype(np.float32) / 255, cv2.COLOR_RGB2LAB), dtype=np.float32)
    shown = [lab[at] for at in taps.at]
    within = np.mean([np.cov(dots, rowvar=False) for dots in shown], axis=0)
    middle = [np.mean([shown[n].mean(axis=0) for n in taps.of(mortar)], axis=0) for mortar in (True, False)]
    # Shade scales a colour's distance from L* = -16, a* = b* = 0: of light, by its cube root.
    shaded = _SHADE / 3 * (np.mean(middle, axis=0) + np.array([16.0, 0.0, 0.0]))
    within = within + np.outer(shaded, shaded) + _LEAST_SPREAD**2 * np.eye(3)
    way = np.linalg.solve(within, middle[0] - middle[1])
    length = float(np.linalg.norm(way))
    return np.asarray(lab @ (way / max(length, 1e-9)).astype(np.float32), dtype=np.float32)


def _coarse_mean(field: Floats, coarse: tuple[int, int], side: int) -> Floats:
    small = cv2.resize(field, coarse, interpolation=cv2.INTER_AREA)
    once = cv2.blur(small, (side, side), borderType=cv2.BORDER_REFLECT)
    return np.asarray(cv2.blur(once, (side, side), borderType=cv2.BORDER_REFLECT), dtype=np.float32)
