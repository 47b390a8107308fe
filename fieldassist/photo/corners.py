"""Where the corners of the piece may lie on its photo: a start for the person who sets them, never more.

Straight lines are sought by their gradients (Hough's transform with the direction of the gradient: Ballard, Pattern
Recognition 13, 1981). Two that run nearly side by side and two that cross them make a piece's outline, if a camera
could have seen a piece of that proportion so. Of those the one is taken along whose sides the photo changes most
steadily, and beyond whose corners the sides do not go on, as joints of a floor and ridges do.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import cv2
import numpy as np

from fieldassist.photo.picture import RGB, Floats, PhotoCorners, Point
from fieldassist.photo.sides import SideSeen, side_seen, small_photo
from fieldassist.photo.square import USUAL_FOCAL, in_order

__all__ = ["propose_corners", "snap_corner"]


# The photo is sought through at this many dots along its longer side.
_LONGER_SIDE = 480
# Lines: how many, and how near to each other two are one [degrees; share of the diagonal].
_FINE_LINES, _COARSE_LINES = 36, 18
_DEGREES, _NEAR_DEG, _NEAR = 180, 4, 0.018
# Of lines within so many degrees no more than so many are taken.
_ALIKE_DEG, _ALIKE = 8, 10
# How far the photo is blurred for lines [dots].
_FINE, _COARSE = 1.2, 4.0
# Two sides of an outline that face each other differ by less than the one, neighbours by more than the other [degrees].
_FACING_DEG, _CROSSING_DEG = 30.0, 50.0
# The share of the photo that a piece fills, at least, and of its longer side that a corner may lie outside.
_LEAST_AREA, _OUTSIDE = 0.12, 0.01
# How far an outline may be from what the usual lens sees (see `square.MOST_MISFIT`).
_MISFIT = 0.2
# Where the photo is compared on both sides of a line [dots], and a difference of colour that is a border (CIE 1976
# L*a*b*).
_BESIDE, _FAR = (1.5, 3.0), (5.0, 8.0, 11.0)
_BORDER = 14.0
# A finger errs by this share of the diagonal at most; its corner is sought along this part of both sides, and found
# where this share of them shows a border.
_FINGER, _NEAR_CORNER, _CLEAR = 0.02, 0.6, 0.6
# What speaks for an outline: how steadily the photo changes along its weakest side, and along all; how the strips
# beside them differ, likewise; that sides go on beyond corners; misfit; the root of the share of the photo that it
# fills. Set by hand on renderings: of the outlines that are found nearly always the best one comes first.
_WEIGHTS = np.array([2.0, 1.0, 1.0, 1.0, -1.0, -2.0, 1.0])


@dataclass(frozen=True, slots=True)
class _Lines:
    """Lines x cos + y sin = offset, and what lies along them, as running sums from the dot `first`.

    change: of how much of a border there is, 0 to 1, lines x dots; far: of how the colours differ farther away, lines x
    dots x 3.
    """

    cos: Floats
    sin: Floats
    offset: Floats
    first: int
    change: Floats
    far: Floats


@dataclass(frozen=True, slots=True)
class _Outlines:
    """Outlines that may be the piece's: their corners, n x 4 x 2, clockwise, and what speaks for each, n x figures."""

    points: Floats
    figures: Floats


def propose_corners(photo: RGB, size_mm: tuple[float, float]) -> PhotoCorners | None:
    """Four corners to start from, in order, in dots of the photo; None where no outline can be made out."""
    by = max(1.0, max(photo.shape[:2]) / _LONGER_SIDE)
    wide, high = max(1, round(photo.shape[1] / by)), max(1, round(photo.shape[0] / by))
    if min(wide, high) < 32:
        return None
    small = cv2.resize(photo, (wide, high), interpolation=cv2.INTER_AREA)
    lab = cv2.cvtColor(small.astype(np.float32) / 255, cv2.COLOR_RGB2LAB)
    angles, offsets = _lines(lab)
    if len(offsets) < 4:
        return None
    lines = _along(lab, angles, offsets)
    quads = _outlines(lines, (wide, high), size_mm)
    if not len(quads.points):
        return None
    best = quads.points[int(np.argmax(quads.figures @ _WEIGHTS))]
    scale = np.array([photo.shape[1] / wide, photo.shape[0] / high])
    a, b, c, d = ((float(x), float(y)) for x, y in best * scale)
    return _refined(photo, in_order((a, b, c, d), size_mm))


def _refined(photo: RGB, corners: PhotoCorners) -> PhotoCorners:
    """An outline with each side moved to the border near it, where it is clear."""
    small = small_photo(photo, corners)
    reach = _FINGER * math.dist(corners[0], corners[2])
    for _ in range(2):
        sides = [side_seen(small, corners[k], corners[(k + 1) % 4], reach) for k in range(4)]
        a, b, c, d = (_lines_cross(sides[k - 1], sides[k]) or corners[k] for k in range(4))
        corners = (a, b, c, d)
        reach /= 2
    return corners


def _lines(lab: Floats) -> tuple[Floats, Floats]:
    """The angles [degrees] and offsets [dots] of the strongest lines: of what is fine, and of what is left when ridges
    are blurred into one tone, together with how much goes on around each dot, which a floor has less of.
    """
    fine = cv2.GaussianBlur(lab, (0, 0), _FINE)
    across, down = (cv2.Scharr(fine, cv2.CV_32F, *way) for way in ((1, 0), (0, 1)))
    busy = cv2.GaussianBlur(np.hypot(across, down).max(axis=2) / 16, (0, 0), _COARSE)
    coarse = np.dstack([cv2.GaussianBlur(lab, (0, 0), _COARSE), busy])
    found = [_strongest(shown, count) for shown, count in ((fine, _FINE_LINES), (coarse, _COARSE_LINES))]
    return np.concatenate([angles for angles, _ in found]), np.concatenate([offsets for _, offsets in found])


def _strongest(shown: Floats, count: int) -> tuple[Floats, Floats]:
    """The angles and offsets of up to so many lines, those near to a stronger one left out, and those of a direction
    that has its share: ridges are more than the sides of a piece.
    """
    across, down = (cv2.Scharr(shown, cv2.CV_32F, *way) for way in ((1, 0), (0, 1)))
    # The channel in which the photo changes most.
    sizes = np.hypot(across, down)
    channel = sizes.argmax(axis=2)[..., None]
    size = np.take_along_axis(sizes, channel, 2)[..., 0]
    gx, gy = (np.take_along_axis(way, channel, 2)[..., 0] for way in (across, down))
    strong = size > np.quantile(size, 0.75)
    y, x = np.nonzero(strong)
    angle = np.mod(np.arctan2(gy[strong], gx[strong]), np.pi)
    offset = (x + 0.5) * np.cos(angle) + (y + 0.5) * np.sin(angle)
    diagonal = math.hypot(*size.shape)
    bins = int(2 * diagonal)
    votes, _, _ = np.histogram2d(
        np.degrees(angle),
        offset,
        bins=(_DEGREES, bins),
        range=((0, 180), (-diagonal, diagonal)),
        weights=np.sqrt(size[strong]),
    )
    # An angle of 180 degrees is one of 0 with the offset turned round.
    wrapped = np.concatenate([votes[-6:, ::-1], votes, votes[:6, ::-1]]).astype(np.float32)
    votes = cv2.GaussianBlur(wrapped, (0, 0), sigmaX=1.5, sigmaY=1.2)[6:-6]
    angles: list[float] = []
    offsets: list[float] = []
    near = round(_NEAR * diagonal)
    while len(angles) < count and votes.max() > 0:
        k, j = (int(at) for at in np.unravel_index(int(votes.argmax()), votes.shape))
        angles.append(k + 0.5)
        offsets.append((j + 0.5) * 2 * diagonal / bins - diagonal)
        alike = [_turned(k + 0.5, other) <= _ALIKE_DEG for other in angles]
        for step in range(-_ALIKE_DEG, _ALIKE_DEG + 1):
            row, middle = (k + step) % _DEGREES, j if 0 <= k + step < _DEGREES else bins - 1 - j
            if sum(alike) >= _ALIKE:
                votes[row] = 0
            elif abs(step) <= _NEAR_DEG:
                votes[row, max(0, middle - near) : middle + near + 1] = 0
    return np.array(angles), np.array(offsets)


def _turned(one: float, other: float) -> float:
    """The angle between two lines, 0 to 90 [degrees]."""
    between = abs(one - other) % 180
    return min(between, 180 - between)


def _along(lab: Floats, angles: Floats, offsets: Floats) -> _Lines:
    """The lines, and what lies along them."""
    height, width = lab.shape[:2]
    cos, sin = np.cos(np.radians(angles)), np.sin(np.radians(angles))
    reach = math.ceil(math.hypot(width, height))
    along = np.arange(-reach, reach + 1)
    x = (cos * offsets)[:, None] - sin[:, None] * along - 0.5
    y = (sin * offsets)[:, None] + cos[:, None] * along - 0.5
    inside = (x >= 0) & (x <= width - 1) & (y >= 0) & (y <= height - 1)

    def beside(dots: tuple[float, ...]) -> Floats:
        """How the colours on the two sides differ, lines x dots x 3."""
        sides = []
        for way in (1, -1):
            seen = [
                cv2.remap(
                    lab,
                    (x + way * far * cos[:, None]).astype(np.float32),
                    (y + way * far * sin[:, None]).astype(np.float32),
                    cv2.INTER_LINEAR,
                    borderMode=cv2.BORDER_REPLICATE,
                )
                for far in dots
            ]
            sides.append(np.mean(seen, axis=0))
        return np.where(inside[..., None], sides[0] - sides[1], 0.0)

    change = np.clip(np.linalg.norm(beside(_BESIDE), axis=2) / _BORDER, 0, 1)
    return _Lines(cos, sin, offsets, -reach, np.cumsum(change, axis=1), np.cumsum(beside(_FAR), axis=1))


def _outlines(lines: _Lines, dots: tuple[int, int], size_mm: tuple[float, float]) -> _Outlines:
    """All outlines of two pairs of lines that a camera could have seen."""
    count = len(lines.offset)
    first, second = np.triu_indices(count, 1)
    between = np.abs(lines.cos[first] * lines.cos[second] + lines.sin[first] * lines.sin[second])
    # Of two that face each other none crosses the other within the photo, or near it.
    facing = between > math.cos(math.radians(_FACING_DEG))
    pairs = np.column_stack([first, second])[facing]
    one, other = np.triu_indices(len(pairs), 1)
    a, c, b, d = pairs[one, 0], pairs[one, 1], pairs[other, 0], pairs[other, 1]
    crossing = math.cos(math.radians(_CROSSING_DEG))
    cos, sin = lines.cos, lines.sin
    alike = [np.abs(cos[p] * cos[q] + sin[p] * sin[q]) for p in (a, c) for q in (b, d)]
    a, c, b, d = (side[np.max(alike, axis=0) < crossing] for side in (a, c, b, d))
    corners = np.stack([_crossing(lines, p, q) for p, q in ((d, a), (a, b), (b, c), (c, d))], axis=1)
    rim = _OUTSIDE * max(dots)
    inside = ((corners >= -rim) & (corners <= np.array(dots) + rim)).all(axis=(1, 2))
    turn = _area(corners)
    kept = inside & (np.abs(turn) > _LEAST_AREA * dots[0] * dots[1])
    sides = np.stack([a, b, c, d], axis=1)[kept]
    corners, turn = corners[kept], turn[kept]
    # Counted the other way round, those that run against the clock run with it.
    against = turn < 0
    corners[against] = corners[against][:, [0, 3, 2, 1]]
    sides[against] = sides[against][:, [3, 2, 1, 0]]
    misfit = np.minimum(_misfits(corners, size_mm, dots), _misfits(np.roll(corners, -1, axis=1), size_mm, dots))
    kept = misfit < _MISFIT
    corners, sides, misfit = corners[kept], sides[kept], misfit[kept]
    return _Outlines(corners, _figures(lines, corners, sides, misfit, dots))


def _crossing(lines: _Lines, p: Floats, q: Floats) -> Floats:
    """Where lines p cross lines q, n x 2."""
    turn = lines.cos[p] * lines.sin[q] - lines.sin[p] * lines.cos[q]
    x = (lines.offset[p] * lines.sin[q] - lines.offset[q] * lines.sin[p]) / turn
    y = (lines.cos[p] * lines.offset[q] - lines.cos[q] * lines.offset[p]) / turn
    return np.column_stack([x, y])


def _area(corners: Floats) -> Floats:
    """Of outlines, above zero where they run clockwise as seen; zero where they cross themselves."""
    ways = np.roll(corners, -1, axis=1) - corners
    turns = ways[:, :, 0] * np.roll(ways, -1, axis=1)[:, :, 1] - ways[:, :, 1] * np.roll(ways, -1, axis=1)[:, :, 0]
    following = np.roll(corners, -1, axis=1)
    area = (corners[:, :, 0] * following[:, :, 1] - corners[:, :, 1] * following[:, :, 0]).sum(axis=1) / 2
    return np.asarray(np.where((turns > 0).all(axis=1) | (turns < 0).all(axis=1), area, 0.0))


def _misfits(corners: Floats, size_mm: tuple[float, float], dots: tuple[int, int]) -> Floats:
    """How far outlines are from what the usual lens sees of the piece with its longer side from their first corner to
    the second: `square.fit` for many at once, and for one lens.
    """
    longer = max(dots)
    p0, p1, p2, p3 = np.moveaxis((corners - np.array(dots) / 2) / (longer * USUAL_FOCAL), 1, 0)
    a, b, s = p1 - p2, p3 - p2, p0 - p1 + p2 - p3
    turn = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]
    g = (s[:, 0] * b[:, 1] - s[:, 1] * b[:, 0]) / turn
    h = (a[:, 0] * s[:, 1] - a[:, 1] * s[:, 0]) / turn
    across = np.column_stack([p1 - p0 + g[:, None] * p1, g]) / max(size_mm)
    down = np.column_stack([p3 - p0 + h[:, None] * p3, h]) / min(size_mm)
    lengths = np.linalg.norm(across, axis=1), np.linalg.norm(down, axis=1)
    askew = np.arcsin(np.clip((across * down).sum(axis=1) / lengths[0] / lengths[1], -1, 1))
    return np.asarray(np.hypot(np.log(lengths[0] / lengths[1]), askew))


def _figures(lines: _Lines, corners: Floats, sides: Floats, misfit: Floats, dots: tuple[int, int]) -> Floats:
    """What speaks for outlines and against them, n x figures, in the order of `_WEIGHTS`."""
    following = np.roll(corners, -1, axis=1)
    # Side k of `sides` runs from corner k to the next.
    cos, sin = lines.cos[sides], lines.sin[sides]
    ends = [-sin * points[:, :, 0] + cos * points[:, :, 1] for points in (corners, following)]
    low, high = np.minimum(*ends), np.maximum(*ends)
    length = np.maximum(high - low, 1.0)

    def mean(sums: Floats, start: Floats, end: Floats) -> Floats:
        last = sums.shape[1] - 1
        i, j = (np.clip(np.round(at).astype(int) - lines.first, 0, last) for at in (start, end))
        total = sums[sides, j] - sums[sides, i]
        count = np.maximum(j - i, 1)
        return np.asarray(total / (count[..., None] if total.ndim == 3 else count))

    inset = 0.02 * length
    change = mean(lines.change, low + inset, high - inset)
    far = np.linalg.norm(mean(lines.far, low + inset, high - inset), axis=2)
    out = 0.1 * length
    beyond = np.stack([mean(lines.change, low - out, low - inset), mean(lines.change, high + inset, high + out)])
    area = np.abs(_area(corners)) / (dots[0] * dots[1])
    return np.column_stack(
        [
            change.min(axis=1),
            change.mean(axis=1),
            np.minimum(far, 40).min(axis=1) / 40,
            np.minimum(far, 40).mean(axis=1) / 40,
            beyond.mean(axis=(0, 2)),
            misfit,
            np.sqrt(area),
        ]
    )


def snap_corner(photo: RGB, corners: PhotoCorners, index: int) -> Point | None:
    """Where the borders of the two sides at a corner cross, near where a finger set it; None where they are not clear.

    Parameters: photo; corners, in order, in its dots; index, 0 to 3, of the corner.
    """
    corner, before, after = corners[index], corners[index - 1], corners[(index + 1) % 4]
    reach = _FINGER * math.dist(corners[0], corners[2])
    small = small_photo(photo, corners)
    sides = [side_seen(small, corner, other, reach, part=_NEAR_CORNER) for other in (before, after)]
    if min(side.clear for side in sides) < _CLEAR:
        return None
    crossing = _lines_cross(sides[0], sides[1])
    return crossing if crossing is not None and math.dist(crossing, corner) <= 1.5 * reach else None


def _lines_cross(one: SideSeen, other: SideSeen) -> Point | None:
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = one.start, one.end, other.start, other.end
    turn = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx)
    if abs(turn) < 1e-9:
        return None
    share = ((cx - ax) * (dy - cy) - (cy - ay) * (dx - cx)) / turn
    return ax + share * (bx - ax), ay + share * (by - ay)
