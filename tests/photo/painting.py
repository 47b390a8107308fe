"""A person who paints the voids of a computed photo: by taps that grow to a border, by strokes of a finger."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from fieldassist.photo.back import Back
from fieldassist.photo.grow import LEAST_CELLS, grow
from fieldassist.photo.picture import CannotTell
from fieldassist.photo.square import Squared, square_up
from tests.photo.rendering import Kind, Mask, render

__all__ = ["Painted", "RenderedBack", "paint_by_strokes", "paint_by_taps", "painted_percent", "rendered_back"]

# Zoomed in, a finger's stroke reaches so far to each side.
_ZOOMED_MM = 1.2
# Who has tapped so often paints the rest with strokes.
_MOST_TAPS = 40
# A region is taken where no more of it than this lies outside the void, and further than a cell outside; else it is
# undone, and the void painted with strokes.
_OVER, _BESIDE = 0.25, 0.1


@dataclass(frozen=True, slots=True)
class RenderedBack:
    """A squared photo, and which of the cells of `Back` are void in truth (of what is seen), and the true contact."""

    squared: Squared
    void: Mask
    percent: float


@dataclass(frozen=True, slots=True)
class Painted:
    """What painting came to: the share painted as mortar [percent], taps made, taken, and of the true voids' area the
    share that taken taps painted.
    """

    percent: float
    taps: int
    taken: int
    by_taps: float


def rendered_back(seed: int, kind: Kind = "ordinary") -> RenderedBack:
    """A computed photo squared up by its true corners."""
    rendered = render(seed, kind)
    squared = square_up(rendered.photo, rendered.corners, rendered.size_mm)
    rows, columns = Back(*rendered.size_mm).mortar.shape
    void = cv2.resize((~rendered.seen).astype(np.float32), (columns, rows), interpolation=cv2.INTER_AREA)
    # Every second cell of those that are half and half.
    void += np.where(np.indices(void.shape).sum(axis=0) % 2, 0.01, -0.01)
    return RenderedBack(squared, np.asarray(void > 0.5), rendered.seen_percent)


def paint_by_strokes(back: Back, void: Mask) -> None:
    """Strokes along each row of a void from end to end."""
    back.radius_mm = _ZOOMED_MM
    for row, line in enumerate(void):
        ends = np.flatnonzero(np.diff(np.concatenate([[False], line, [False]])))
        for first, after in zip(ends[::2], ends[1::2], strict=True):
            y = (row + 0.5) * back.cell_mm[1]
            left, right = (first + 0.5) * back.cell_mm[0], (after - 0.5) * back.cell_mm[0]
            back.stroke([(left, y), (right, y)], "void")


def painted_percent(shown: RenderedBack) -> float:
    """What strokes along all voids come to [percent]."""
    back = Back(*shown.squared.size_mm)
    back.all_covered()
    paint_by_strokes(back, shown.void)
    assert back.reckoned is not None
    return back.reckoned.percent


def paint_by_taps(shown: RenderedBack, most_taps: int = _MOST_TAPS) -> Painted:
    """The larger voids by a tap in their clearest spot, the largest first; what a tap did not bring with strokes."""
    back = Back(*shown.squared.size_mm)
    back.all_covered()
    left, taps, taken, by_taps = shown.void.copy(), 0, 0, 0
    near = cv2.dilate(shown.void.astype(np.uint8), np.ones((3, 3), np.uint8)).astype(np.bool_)
    refused: npt.NDArray[np.bool_] = np.zeros_like(left)
    while taps < most_taps:
        _, numbers, found, _ = cv2.connectedComponentsWithStats((left & ~refused).astype(np.uint8), connectivity=4)
        sizes = found[1:, cv2.CC_STAT_AREA]
        if not len(sizes) or sizes.max() < 2 * LEAST_CELLS:
            break
        one = numbers == 1 + int(sizes.argmax())
        away = cv2.distanceTransform(np.pad(one, 1).astype(np.uint8), cv2.DIST_L2, 3)[1:-1, 1:-1]
        row, column = np.unravel_index(int(away.argmax()), away.shape)
        taps += 1
        try:
            region = grow(shown.squared, ((column + 0.5) * back.cell_mm[0], (row + 0.5) * back.cell_mm[1]))
        except CannotTell:
            refused |= one
            continue
        beside = [np.count_nonzero(region & ~part) / np.count_nonzero(region) for part in (shown.void, near)]
        if beside[0] > _OVER or beside[1] > _BESIDE or not (region & one).any():
            refused |= one
            continue
        taken += 1
        by_taps += int(np.count_nonzero(region & left))
        back.fill(region, "void")
        left &= ~region
        # Of a void a rim may be left that the eye does not see.
        left &= ~cv2.dilate(region.view(np.uint8), np.ones((3, 3), np.uint8)).astype(np.bool_)
    paint_by_strokes(back, left)
    assert back.reckoned is not None
    return Painted(back.reckoned.percent, taps, taken, by_taps / max(1, int(np.count_nonzero(shown.void))))
