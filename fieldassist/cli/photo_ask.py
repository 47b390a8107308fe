"""What is asked of a photo of a back, as it is typed or stands in a sheet."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal, TypeAlias

from fieldassist.trade.message import Refused, message
from fieldassist.trade.quantities import Units, canonical, parse_size, unit_in_system
from fieldassist.trade.voids import BackKind

PROPOSED: Literal["proposed"] = "proposed"
"""In the place of four corners: those that are proposed are taken as they are."""

SURFACES = ("bare", "skim-coated", "combed")
# No photo that is taken has more than seven digits of dots a side.
_PLACE = re.compile(r"(-?\d{1,7}(?:\.\d{1,9})?)(%?)", re.ASCII)


@dataclass(frozen=True, slots=True)
class AskedPoint:
    """A point of a photo: to the right and down from its upper left corner, in dots or in shares of its sides."""

    x: float
    y: float
    x_share: bool = False
    y_share: bool = False

    def on(self, dots: tuple[int, int]) -> tuple[float, float]:
        """Where that is on a photo of so many dots [dots].

        >>> read_point("10%,30").on((4000, 3000))
        (400.0, 30.0)
        """
        return self.x * dots[0] if self.x_share else self.x, self.y * dots[1] if self.y_share else self.y


AskedCorners: TypeAlias = tuple[AskedPoint, ...] | Literal["proposed"]


def read_point(text: str) -> AskedPoint:
    """A point as "1210,845" or "30%,28%". Errors: `Refused`."""
    parts = [_PLACE.fullmatch(part.strip()) for part in text.split(",")]
    if len(parts) != 2 or parts[0] is None or parts[1] is None:
        raise Refused(message("cli-photo-no-point", value=text))
    (x, x_share), (y, y_share) = parts[0].groups(), parts[1].groups()
    return AskedPoint(
        float(x) / 100 if x_share else float(x), float(y) / 100 if y_share else float(y), bool(x_share), bool(y_share)
    )


def read_points(text: str) -> tuple[AskedPoint, ...]:
    """Points with spaces between them, as a sheet has them. Errors: `Refused`."""
    return tuple(read_point(part) for part in text.split())


def read_corners(texts: Sequence[str]) -> AskedCorners:
    """Four corners, or the word for those that are proposed. Errors: `Refused`."""
    return PROPOSED if list(texts) == [PROPOSED] else tuple(read_point(text) for text in texts)


def read_piece(text: str) -> tuple[tuple[float, float], Units]:
    """The longer and the shorter side of a piece [mm], and in whose units they were written. Errors: `Refused`.

    >>> read_piece("24x48in")
    ((1219.2, 609.6), 'us')
    """
    sides = parse_size(text)
    first, second = (canonical(side.value, side.unit) for side in sides)
    us = all(unit_in_system(side.unit, "us") == side.unit for side in sides)
    return (max(first, second), min(first, second)), "us" if us else "metric"


@dataclass(frozen=True, slots=True)
class PhotoAsk:
    """What is asked of one photo.

    size_mm: longer and shorter side; corners: () where none were given; mortar, bare: taps; second: another photo of a
    combed back, with the lamp low from a side, and its corners; voids: a picture of what was painted over the plan.
    """

    file: Path
    size_mm: tuple[float, float]
    corners: AskedCorners = ()
    mortar: tuple[AskedPoint, ...] = ()
    bare: tuple[AskedPoint, ...] = ()
    surface: BackKind = "bare"
    second: Path | None = None
    second_corners: tuple[AskedPoint, ...] = ()
    voids: Path | None = None
