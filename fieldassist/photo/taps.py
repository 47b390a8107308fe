"""Where mortar that touched and bare back were tapped, as dots of the squared photo."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

import cv2
import numpy as np
import numpy.typing as npt

from fieldassist.photo.picture import Point

__all__ = ["TapDots", "Taps", "places"]

# Rows and columns of the dots that a tap shows.
TapDots: TypeAlias = tuple[npt.NDArray[np.intp], npt.NDArray[np.intp]]

# A tap shows what lies this near to it [mm]; nearer than the width of what is worth tapping. Ours: common practice, no
# published source.
_REACH_MM = 2.0


@dataclass(frozen=True, slots=True)
class Taps:
    """The dots at every tap; mortar: for each whether it was on mortar. Those come first."""

    at: tuple[TapDots, ...]
    mortar: tuple[bool, ...]

    def of(self, mortar: bool) -> list[int]:
        """The numbers of the taps on mortar, or of those on bare back."""
        return [n for n, on_mortar in enumerate(self.mortar) if on_mortar == mortar]

    def without(self, number: int) -> Taps:
        """All but one of them, counted from 0."""
        return Taps(self.at[:number] + self.at[number + 1 :], self.mortar[:number] + self.mortar[number + 1 :])


def places(shape: tuple[int, int], mm_a_dot: float, mortar: Sequence[Point], bare: Sequence[Point]) -> Taps:
    """The dots at taps [mm from the upper left corner of the piece] on a squared photo with these rows and columns."""
    reach = max(1, round(_REACH_MM / mm_a_dot))
    circle = cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (2 * reach + 1, 2 * reach + 1))
    down, across = np.nonzero(circle)
    rows, columns = shape
    at = tuple(
        (
            np.clip(int(y // mm_a_dot) + down - reach, 0, rows - 1),
            np.clip(int(x // mm_a_dot) + across - reach, 0, columns - 1),
        )
        for x, y in (*mortar, *bare)
    )
    return Taps(at, (True,) * len(mortar) + (False,) * len(bare))
