"""Ridges to scale, in millimetres: as they are combed, as they are pressed over the gap, and a trowel's edge.

Everything is a polygon with a role; x to the right and y up, from the lower left corner of the picture.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, TypeAlias

from fieldassist.assess.method import RidgePicture
from fieldassist.trade import ridges

ShapeRole: TypeAlias = Literal["tile", "mortar", "base", "bare", "air", "plate"]
Corners: TypeAlias = tuple[tuple[float, float], ...]

# Of tile and base only a strip is of interest [mm].
TILE_MM, BASE_MM = 3.0, 3.0
# Between ridges and a tile that is not pressed yet [mm].
_CLEAR_MM = 1.0
_CURVE_POINTS = 32
# Which part of the width a base that is off dips over, in the middle of the picture.
_DIP = 0.6


@dataclass(frozen=True, slots=True)
class Outline:
    """A polygon [mm] and what it is of."""

    role: ShapeRole
    corners: Corners


@dataclass(frozen=True, slots=True)
class Cut:
    """A section: its width and height [mm], and its outlines from back to front."""

    width_mm: float
    height_mm: float
    outlines: tuple[Outline, ...]

    def area_of(self, role: ShapeRole) -> float:
        """The area of all that has a role [mm2]."""
        return sum(polygon_area(each.corners) for each in self.outlines if each.role == role)


def polygon_area(corners: Corners) -> float:
    """The area of a polygon [mm2], by the shoelace formula.

    >>> polygon_area(((0, 0), (4, 0), (4, 3)))
    6.0
    """
    ahead = (*corners[1:], corners[0])
    return abs(sum(x * v - u * y for (x, y), (u, v) in zip(corners, ahead, strict=True))) / 2


def combed(picture: RidgePicture, width_mm: float) -> Cut:
    """Ridges as they are combed, under a tile that is not pressed on yet; on its back too, where both are combed."""
    ridge_mm, sets = picture.height_mm, 2 if picture.both else 1
    floor, back = BASE_MM, BASE_MM + sets * ridge_mm + _CLEAR_MM
    height = back + TILE_MM
    shapes = [Outline("base", _box(0, 0, width_mm, floor)), Outline("tile", _box(0, back, width_mm, height))]
    for start in starts(picture, width_mm):
        shapes.append(Outline("mortar", tuple((start + x, floor + y) for x, y in picture.ridge)))
        if picture.both:
            shapes.append(Outline("mortar", tuple((start + x, back - y) for x, y in picture.ridge)))
    return Cut(width_mm, height, tuple(shapes))


def starts(picture: RidgePicture, width_mm: float) -> tuple[float, ...]:
    """Where ridges begin, as many as there is room for, at least one, in the middle [mm]."""
    left, right = min(x for x, _ in picture.ridge), max(x for x, _ in picture.ridge)
    count = max(1, int((width_mm - (right - left)) / picture.pitch_mm + 1e-9) + 1)
    used = (count - 1) * picture.pitch_mm + right - left
    first = (width_mm - used) / 2 - left
    return tuple(first + number * picture.pitch_mm for number in range(count))


def pressed(picture: RidgePicture, width_mm: float) -> Cut:
    """What the mortar fills of the gap, and the air that is left: its share of the width is its share of the back.

    The base is drawn with one dip, from the gap at the high places to that at the low ones.
    """
    low, high = picture.low_mm, picture.high_mm
    back = BASE_MM + high
    height = back + TILE_MM
    base = _dip(width_mm, back, low, high)
    ground = (*base, (width_mm, 0.0), (0.0, 0.0))
    mortar = (*base, (width_mm, back), (0.0, back))
    shapes = [
        Outline("bare", ground),
        Outline("mortar", mortar),
        Outline("tile", _box(0, back, width_mm, height)),
    ]
    air = air_share(picture)
    if air > 0:
        half, deep = width_mm * air / 2, min(low, high / 2)
        turns = (math.pi * (1 + n / _CURVE_POINTS) for n in range(_CURVE_POINTS + 1))
        lens = tuple((width_mm / 2 + half * math.cos(t), back + deep * math.sin(t)) for t in turns)
        shapes.append(Outline("air", lens))
    return Cut(width_mm, height, tuple(shapes))


def air_share(picture: RidgePicture) -> float:
    """The share of the back that the mortar cannot touch, 0 to 1."""
    return max(0.0, 1.0 - picture.contact_percent / 100.0)


def edge(notch: ridges.Notch, width_mm: float) -> Corners:
    """A trowel's edge with its notches cut into it from below, teeth at both ends [mm]."""
    cut = ridges.outline(notch, _CURVE_POINTS)
    left, right = min(x for x, _ in cut), max(x for x, _ in cut)
    room = width_mm - 2 * notch.spacing_mm / 2 - (right - left)
    count = max(1, int(room / notch.pitch_mm + 1e-9) + 1)
    used = (count - 1) * notch.pitch_mm + right - left
    wide = max(width_mm, used + notch.spacing_mm)
    first = (wide - used) / 2 - left
    plate = 1.5 * notch.depth_mm
    lower = [(first + n * notch.pitch_mm + x, y) for n in range(count) for x, y in cut]
    return ((0.0, plate), (0.0, 0.0), *lower, (wide, 0.0), (wide, plate))


def _dip(width: float, back: float, low: float, high: float) -> Corners:
    """The line of the base, from left to right."""
    ends = (1 - _DIP) / 2
    points = [(0.0, back - low), (width * ends, back - low)]
    for n in range(1, _CURVE_POINTS):
        share = n / _CURVE_POINTS
        deep = low + (high - low) * (1 - math.cos(2 * math.pi * share)) / 2
        points.append((width * (ends + _DIP * share), back - deep))
    return (*points, (width * (1 - ends), back - low), (width, back - low))


def _box(left: float, bottom: float, right: float, top: float) -> Corners:
    return (left, bottom), (right, bottom), (right, top), (left, top)
