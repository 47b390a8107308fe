"""The section across a method's ridges, at natural size, from the figures of its trowel."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import cast

from fieldassist.facts.model import CombinationFact, MethodFact
from fieldassist.report.ridge_model import ClosedLine, RidgeSection
from fieldassist.trade.ridges import Family, Notch, outline

# From this many pairs on a corner is round enough to the eye.
_POINTS = 24
# What is narrower at the edge of the section would be taken for a line [mm].
_SLIVER_MM = 0.8


def ridge_section(method: MethodFact | CombinationFact, wide_mm: float) -> RidgeSection:
    """The ridges of a method as they stand before a piece is pressed in, and the bed after.

    Parameters: wide_mm, how much of the base is drawn. Ridges have the notch's outline, foreshortened by the angle of
    the trowel (`trade.ridges`); those at the edges are cut there. Errors: `Refused` for figures that make no notch.
    """
    family = cast(Family, method.family)  # the notch refuses another
    notch = Notch(family, method.width_mm, method.depth_mm, method.spacing_mm)
    flat = math.sin(math.radians(method.angle_degrees))
    shape = tuple((x, y * flat) for x, y in outline(notch, _POINTS))
    first = -2 * notch.pitch_mm + notch.spacing_mm / 2
    count = 3 + math.ceil(wide_mm / notch.pitch_mm)
    rows = (_between(_moved(shape, first + at * notch.pitch_mm), 0.0, wide_mm) for at in range(count))
    drawn = tuple(corners for corners in rows if corners and _wide(corners) >= _SLIVER_MM)
    high = notch.depth_mm * flat
    both = method.sides == "both"
    return RidgeSection(drawn, drawn if both else (), wide_mm, high, high if both else 0.0, method.bed_mm)


def _wide(corners: ClosedLine) -> float:
    return max(x for x, _ in corners) - min(x for x, _ in corners)


def _moved(corners: Iterable[tuple[float, float]], by: float) -> ClosedLine:
    return tuple((x + by, y) for x, y in corners)


def _between(corners: ClosedLine, left: float, right: float) -> ClosedLine:
    """What of a closed line lies between two uprights (Sutherland and Hodgman's way, one side after the other).

    >>> _between(((0.0, 0.0), (0.0, 2.0), (4.0, 2.0), (4.0, 0.0)), 1.0, 9.0)
    ((1.0, 2.0), (4.0, 2.0), (4.0, 0.0), (1.0, 0.0))
    """
    for edge, sign in ((left, 1.0), (right, -1.0)):
        kept: list[tuple[float, float]] = []
        for (x1, y1), (x2, y2) in zip(corners, (*corners[1:], *corners[:1]), strict=True):
            inside, next_inside = sign * (x1 - edge) >= 0, sign * (x2 - edge) >= 0
            if inside:
                kept.append((x1, y1))
            if inside != next_inside:
                kept.append((edge, y1 + (y2 - y1) * (edge - x1) / (x2 - x1)))
        corners = tuple(kept)
    return corners
