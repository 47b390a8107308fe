"""Squaring up: a photo of a piece's back, taken a little aslant, becomes a plan of it to true scale.

Four corners and the piece's size give the plane's projective map (Hartley and Zisserman, Multiple View Geometry, 2nd
edition, 2.3). The same four corners tell whether a camera could have seen them so: of a camera with square dots whose
axis meets the middle of the photo, one length, the focal, is unknown, and the right angle of the piece and the known
proportion of its sides are two conditions for it (ibid., 8.8). What no such camera could see is no piece of that size.

Points of a photo are counted from its outer upper left corner, so the middle of its first dot is (0.5, 0.5).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy as np

from fieldassist.photo.picture import RGB, CannotTell, Floats, PhotoCorners, Point
from fieldassist.trade.checks import positive
from fieldassist.trade.limits import exactly
from fieldassist.trade.message import Message, message

__all__ = ["CornersFit", "Squared", "fit", "in_order", "square_up", "to_back", "to_photo"]


# How much a square may be foreshortened, 1 seen straight on, cos(tilt) nearly: at 0.6 it is seen at 53 degrees.
LEAST_FORESHORTENING = 0.6
# What one dot may have seen of the back at its worst corner [mm]: ridges of the notches for large tile stand 12 mm and
# more from one another, and a ridge must be seen apart from the gap beside it.
MOST_SOURCE_MM = 4.0
# How far the corners may be from what a camera sees of such a piece: hypot of ln(proportion seen / known) and of the
# angle at its corner off the right one [rad].
MOST_MISFIT = 0.1
# Focal lengths of a camera, in longer sides of its photo: a wide lens of a phone to a tele lens, or a detail of a
# photo; and the usual lens of phones and tablets, by which a proportion is told (common practice, no published source).
_FOCALS = tuple(0.45 * 1.12**step for step in range(18))
USUAL_FOCAL = 0.8
# A corner that a finger set on the rim of the photo may lie outside by this share of the photo's diagonal.
_RIM = 0.003
# PhotoCorners nearer to each other than this share of the longest side are one, and three of them lie in a line where
# their triangle is flatter than this.
_ONE_POINT, _FLAT = 0.03, 0.02
# Of a piece whose sides differ by less than this share either may lie across.
_AS_LONG_AS_WIDE = 0.005
_SEEN = (
    Message("measure-corner-upper-left"),
    Message("measure-corner-upper-right"),
    Message("measure-corner-lower-right"),
    Message("measure-corner-lower-left"),
)


@dataclass(frozen=True, slots=True)
class CornersFit:
    """How four corners fit a piece.

    foreshortening: the shorter over the longer way in which a small circle amid the piece is seen, 1 straight on;
    mm_a_dot: what a dot of the photo saw amid the piece, in the way in which it saw less well [mm]; source_mm: the
    same at the worst corner; misfit: how far the corners are from what a camera sees of such a piece (`MOST_MISFIT` is
    the most); focal: the length of the camera that fits best, in longer sides of the photo.
    """

    foreshortening: float
    mm_a_dot: float
    source_mm: float
    misfit: float
    focal: float


@dataclass(frozen=True, slots=True)
class Squared:
    """A back as a plan, its longer side across.

    pixels: the plan; mm_a_dot: its scale [mm]; size_mm: longer and shorter side; source_mm: what one dot of the photo
    saw at worst [mm]: finer than this it shows nothing.
    """

    pixels: RGB
    mm_a_dot: float
    size_mm: tuple[float, float]
    source_mm: float


def in_order(points: Sequence[Point], size_mm: tuple[float, float]) -> PhotoCorners:
    """Four corners in whatever order they were set, as a piece lies: clockwise, its longer side across.

    Of the ways to lay it the one is taken that turns the photo least; a piece seen upright is turned clockwise.

    Errors: `CannotTell` for another count of points, and where one lies within the triangle of the others or on its
    side, so that they are no corners of a rectangle seen from anywhere.

    >>> in_order([(90.0, 70.0), (10.0, 10.0), (10.0, 70.0), (90.0, 10.0)], (1200, 600))
    ((10.0, 10.0), (90.0, 10.0), (90.0, 70.0), (10.0, 70.0))
    """
    if len(points) != 4:
        raise CannotTell(message("measure-corners-count", count=len(points)))
    middle = (sum(x for x, _ in points) / 4, sum(y for _, y in points) / 4)
    # With y downward a growing angle runs clockwise as seen.
    around = sorted(points, key=lambda point: math.atan2(point[1] - middle[1], point[0] - middle[0]))
    _must_be_convex(around)
    lengths = [math.dist(around[k], around[(k + 1) % 4]) for k in range(4)]
    if math.isclose(*size_mm, rel_tol=_AS_LONG_AS_WIDE):
        starts, upper_side_deg = [0, 1, 2, 3], 0.0
    else:
        starts, upper_side_deg = ([0, 2] if lengths[0] + lengths[2] >= lengths[1] + lengths[3] else [1, 3]), -45.0

    def well(start: int) -> float:
        (x0, y0), (x1, y1) = around[start], around[(start + 1) % 4]
        return math.cos(math.atan2(y1 - y0, x1 - x0) - math.radians(upper_side_deg))

    first = max(starts, key=well)
    a, b, c, d = (around[(first + k) % 4] for k in range(4))
    return a, b, c, d


def fit(corners: PhotoCorners, size_mm: tuple[float, float], dots: tuple[int, int]) -> CornersFit:
    """How four corners fit a piece.

    Parameters: corners, in order; size_mm, its two sides; dots, width and height of the photo.
    Errors: `CannotTell` where sides cross, a corner lies outside the photo, the piece is seen too aslant or too small,
    or the corners belong to no piece of that size; `Refused` for a side that is not above zero.
    """
    for side in size_mm:
        positive("side-of-a-tile", side, "mm")
    _must_be_convex(corners)
    width, height = dots
    rim = _RIM * math.hypot(width, height)
    for point in corners:
        if not (-rim <= point[0] <= width + rim and -rim <= point[1] <= height + rim):
            raise CannotTell(message("measure-corner-outside", corner=_seen_as(corners, point)))
    plane = _plane(corners, size_mm)
    focal, misfit = _camera(plane, dots)
    if misfit > MOST_MISFIT:
        raise CannotTell(_does_not_belong(plane, size_mm, dots))
    least, most = _scales(plane, (max(size_mm) / 2, min(size_mm) / 2))
    if least / most < LEAST_FORESHORTENING:
        raise CannotTell(message("measure-too-aslant", degrees=round(math.degrees(math.acos(least / most)))))
    source_mm = 1 / min(_scales(plane, at)[0] for at in _rectangle(size_mm))
    if source_mm > MOST_SOURCE_MM:
        raise CannotTell(
            message("measure-too-small", seen=exactly(round(source_mm, 1), "mm"), most=exactly(MOST_SOURCE_MM, "mm"))
        )
    return CornersFit(least / most, 1 / least, source_mm, misfit, focal)


def square_up(photo: RGB, corners: PhotoCorners, size_mm: tuple[float, float], mm_a_dot: float = 1.0) -> Squared:
    """The back as a plan to true scale.

    Parameters: photo; corners, in order, in its dots; size_mm, the piece's two sides; mm_a_dot, the plan's scale.
    Where the photo is finer than the plan, its dots are averaged first, so that no ridge is skipped. Only the part of
    the photo that shows the piece is worked on.
    Errors: as `fit`.
    """
    found = fit(corners, size_mm, (photo.shape[1], photo.shape[0]))
    long, short = max(size_mm), min(size_mm)
    columns, rows = max(1, round(long / mm_a_dot)), max(1, round(short / mm_a_dot))
    xs, ys = zip(*corners, strict=True)
    left, top = max(0, math.floor(min(xs)) - 2), max(0, math.floor(min(ys)) - 2)
    part: Floats = photo[top : math.ceil(max(ys)) + 3, left : math.ceil(max(xs)) + 3]
    plane = _plane(corners, size_mm)
    finest = 1 / max(_scales(plane, at)[1] for at in _rectangle(size_mm))
    by = max(1, math.floor(mm_a_dot / finest))
    if by > 1:
        # Whole blocks alone, so that a dot of the smaller picture stands for exactly by x by dots.
        part = part[: part.shape[0] // by * by, : part.shape[1] // by * by]
        part = cv2.resize(part, None, fx=1 / by, fy=1 / by, interpolation=cv2.INTER_AREA)
    # From a dot of the plan, counted by its middle, to millimetres, to the photo, to a dot of the part.
    from_dot = np.array([[long / columns, 0, long / columns / 2], [0, short / rows, short / rows / 2], [0, 0, 1.0]])
    to_part = np.array([[1 / by, 0, -left / by - 0.5], [0, 1 / by, -top / by - 0.5], [0, 0, 1.0]])
    pixels = cv2.warpPerspective(
        part,
        to_part @ plane @ from_dot,
        (columns, rows),
        flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP,
        borderMode=cv2.BORDER_REPLICATE,
    )
    return Squared(pixels.astype(np.uint8, copy=False), mm_a_dot, (long, short), found.source_mm)


def to_photo(corners: PhotoCorners, size_mm: tuple[float, float], point_mm: Point) -> Point:
    """Where a point of the back [mm from its upper left corner] is seen in the photo [dots]."""
    return _mapped(_plane(corners, size_mm), point_mm)


def to_back(corners: PhotoCorners, size_mm: tuple[float, float], point: Point) -> Point:
    """What point of the back [mm] a point of the photo [dots] shows; outside the corners it may lie beside the back."""
    return _mapped(np.linalg.inv(_plane(corners, size_mm)), point)


def _rectangle(size_mm: tuple[float, float]) -> PhotoCorners:
    long, short = max(size_mm), min(size_mm)
    return (0.0, 0.0), (long, 0.0), (long, short), (0.0, short)


def _plane(corners: PhotoCorners, size_mm: tuple[float, float]) -> Floats:
    """The projective map from millimetres of the back to dots of the photo, 3 x 3.

    In closed form from the unit square (Heckbert, Fundamentals of Texture Mapping and Image Warping, 1989, 2.2.3).
    """
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = corners
    ax, ay, bx, by = x1 - x2, y1 - y2, x3 - x2, y3 - y2
    sx, sy = x0 - x1 + x2 - x3, y0 - y1 + y2 - y3
    turn = ax * by - ay * bx
    g, h = (sx * by - sy * bx) / turn, (ax * sy - ay * sx) / turn
    unit = np.array([[x1 - x0 + g * x1, x3 - x0 + h * x3, x0], [y1 - y0 + g * y1, y3 - y0 + h * y3, y0], [g, h, 1.0]])
    return unit @ np.diag([1 / max(size_mm), 1 / min(size_mm), 1.0])


def _mapped(plane: Floats, point: Point) -> Point:
    x, y, w = plane @ (*point, 1.0)
    return float(x / w), float(y / w)


def _scales(plane: Floats, at_mm: Point) -> tuple[float, float]:
    """Dots a millimetre at a point of the back in the way in which there are fewest, and most."""
    x, y, w = plane @ (*at_mm, 1.0)
    around = (plane[:2, :2] - np.outer((x / w, y / w), plane[2, :2])) / w
    most, least = np.linalg.svd(around, compute_uv=False)
    return float(least), float(most)


def _camera(plane: Floats, dots: tuple[int, int]) -> tuple[float, float]:
    """The focal length that fits best [longer sides of the photo], and the misfit that is left with it."""
    misfit, focal = min((math.hypot(*_off_by(plane, dots, focal)), focal) for focal in _FOCALS)
    return focal, misfit


def _off_by(plane: Floats, dots: tuple[int, int], focal: float) -> tuple[float, float]:
    """What a camera of this focal length saw wrong: ln of the proportion seen over the known one, and the angle at the
    piece's corner over the right one [rad]. Seen from the camera, the piece's two sides are directions at a right
    angle, and a millimetre is as long in both.
    """
    longer = max(dots)
    ray = np.array(
        [
            [1 / (longer * focal), 0, -dots[0] / (2 * longer * focal)],
            [0, 1 / (longer * focal), -dots[1] / (2 * longer * focal)],
            [0, 0, 1.0],
        ]
    )
    along, across = (ray @ plane)[:, :2].T
    lengths = float(np.linalg.norm(along)), float(np.linalg.norm(across))
    return math.log(lengths[0] / lengths[1]), math.asin(float(along @ across) / (lengths[0] * lengths[1]))


def _must_be_convex(around: Sequence[Point]) -> None:
    """Errors: `CannotTell` unless each corner turns clockwise, and clearly."""
    longest = max(math.dist(a, b) for a in around for b in around)
    for k in range(4):
        before, corner, after = around[k - 1], around[k], around[(k + 1) % 4]
        ahead = (corner[0] - before[0], corner[1] - before[1]), (after[0] - corner[0], after[1] - corner[1])
        if min(math.hypot(*way) for way in ahead) <= _ONE_POINT * longest:
            raise CannotTell(Message("measure-corners-one"))
        turn = ahead[0][0] * ahead[1][1] - ahead[0][1] * ahead[1][0]
        if turn <= _FLAT * math.hypot(*ahead[0]) * math.hypot(*ahead[1]):
            raise CannotTell(Message("measure-corners-cross"))


def _seen_as(corners: PhotoCorners, point: Point) -> Message:
    """A corner by where it is seen in the photo, not by where it comes to lie in the plan."""
    first = min(range(4), key=lambda k: sum(corners[k]))
    return _SEEN[(corners.index(point) - first) % 4]


def _does_not_belong(plane: Floats, size_mm: tuple[float, float], dots: tuple[int, int]) -> Message:
    """Why no camera saw a piece of this size so: the proportion of its sides, as the usual lens would have seen them,
    or the angles between them.
    """
    known = {"long": exactly(max(size_mm), "mm"), "short": exactly(min(size_mm), "mm")}
    longer_by, askew = _off_by(plane, dots, USUAL_FOCAL)
    if abs(longer_by) < abs(askew):
        return message("measure-other-angles", **known)
    right = max(size_mm) / min(size_mm)
    return message(
        "measure-other-proportion", seen=round(right * math.exp(longer_by), 1), right=round(right, 1), **known
    )
