"""Where the border of the piece is seen along one of its sides, and how clearly.

Along a side that was set by hand the photo is read in strips across it. Of all straight lines near it the one is taken
along which the colours on both sides differ over the greatest share of its length.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import cv2
import numpy as np

from fieldassist.photo.picture import RGB, Floats, PhotoCorners, Point

__all__ = ["SideSeen", "SmallPhoto", "side_seen", "small_photo"]


# A photo is read at this many dots of the longest side of the piece, so that a border is a dot or two wide.
_SIDE_DOTS = 700
# Strips across a side, and how many dots of them are averaged on both sides of the line.
_STRIPS, _BESIDE = 96, 2
# A difference of colour that is a border for certain (CIE 1976 L*a*b*).
_BORDER = 14.0
# What a line loses that lies as far off as may be: of two that are equally clear the nearer is taken.
_NEARER = 0.08


@dataclass(frozen=True, slots=True)
class SmallPhoto:
    """A photo in CIE L*a*b*, in fewer dots; by: how many dots of the photo one of these is, x and y."""

    lab: Floats
    by: tuple[float, float]


@dataclass(frozen=True, slots=True)
class SideSeen:
    """The border along a side: where it begins and ends in the photo; how much of it shows a border, 0 to 1; and the
    same of the middle one of all lines near it, which a border stands out from, and a line in gravel does not.
    """

    start: Point
    end: Point
    clear: float
    around: float


def small_photo(photo: RGB, corners: PhotoCorners) -> SmallPhoto:
    """A photo with no more dots than it takes to see its borders."""
    longest = max(math.dist(corners[k], corners[(k + 1) % 4]) for k in range(4))
    by = max(1.0, longest / _SIDE_DOTS)
    wide, high = max(1, round(photo.shape[1] / by)), max(1, round(photo.shape[0] / by))
    small = cv2.resize(photo, (wide, high), interpolation=cv2.INTER_AREA)
    lab = cv2.cvtColor(small.astype(np.float32) / 255, cv2.COLOR_RGB2LAB)
    return SmallPhoto(lab, (photo.shape[1] / wide, photo.shape[0] / high))


def side_seen(small: SmallPhoto, start: Point, end: Point, reach: float, *, part: float = 1.0) -> SideSeen:
    """The border near a side.

    Parameters: start, end, of the side in dots of the photo; reach, how far off the border may lie [dots of the photo];
    part, how much of the side is looked along from its start.
    """
    a, b = (np.array(point) / small.by for point in (start, end))
    way = b - a
    length = float(np.hypot(*way))
    off = np.array([way[1], -way[0]]) / length
    steps = max(2, math.ceil(reach / min(small.by)))
    around = np.arange(-steps - _BESIDE, steps + _BESIDE + 1)
    along = np.linspace(0.02, 0.98, _STRIPS) * part
    x = a[0] + along[:, None] * way[0] + around * off[0]
    y = a[1] + along[:, None] * way[1] + around * off[1]
    height, width = small.lab.shape[:2]
    seen = cv2.remap(
        small.lab,
        (x - 0.5).astype(np.float32),
        (y - 0.5).astype(np.float32),
        cv2.INTER_LINEAR,
        borderMode=cv2.BORDER_REPLICATE,
    )
    sums = np.concatenate([np.zeros_like(seen[:, :1]), np.cumsum(seen, axis=1)], axis=1)
    before = sums[:, _BESIDE : -_BESIDE - 1] - sums[:, : -2 * _BESIDE - 1]
    after = sums[:, 2 * _BESIDE + 1 :] - sums[:, _BESIDE + 1 : -_BESIDE]
    border = np.minimum(1.0, np.linalg.norm(after - before, axis=2) / _BESIDE / _BORDER)
    # What lies outside the photo shows no border.
    x, y = x[:, _BESIDE:-_BESIDE], y[:, _BESIDE:-_BESIDE]
    border[(x < 1) | (y < 1) | (x > width - 1) | (y > height - 1)] = 0.0
    return _best_line(border, along / part, steps, a, way * part, off, small.by)


def _best_line(
    border: Floats, along: Floats, steps: int, a: Floats, way: Floats, off: Floats, by: tuple[float, float]
) -> SideSeen:
    """Of the lines from each offset at the start to each at the end the one with most border."""
    offsets = np.arange(-steps, steps + 1)
    begin, finish = (axis.ravel() for axis in np.meshgrid(offsets, offsets, indexing="ij"))
    at = np.round(begin[:, None] + (finish - begin)[:, None] * along).astype(int) + steps
    clear = border[np.arange(len(along)), at].mean(axis=1)
    best = int(np.argmax(clear - _NEARER * (np.abs(begin) + np.abs(finish)) / (2 * steps)))
    first, last = a + begin[best] * off, a + way + finish[best] * off
    return SideSeen(
        (float(first[0] * by[0]), float(first[1] * by[1])),
        (float(last[0] * by[0]), float(last[1] * by[1])),
        float(clear[best]),
        float(np.median(clear)),
    )
