"""The region that a tap grows to: from one spot of a squared photo to the border of what looks like it.

One tap tells what one class looks like and nothing of the other. A sweep of thresholds on the distance from the tap's
tone finds the region with the steepest border, which is a first guess of both classes. Then the classes and the light
that lies over them are fitted in turn (means, a common covariance, light as a quadratic surface over the back), each
cell goes to the nearer class along the line that parts them best (Fisher, Annals of Eugenics 7, 1936), and the cells
that hang together with the tap are the region. Where colour parts nothing, as on a keyed back, the roughness of the
surface is a further tone.

A proposal of where to paint and no measurement: the person sees the region, and takes it or not. Deterministic; within
50 ms on a back of 600 x 1200 mm.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

import cv2
import numpy as np
import numpy.typing as npt

from fieldassist.photo.back import CELL_MM
from fieldassist.photo.picture import RGB, CannotTell, Point
from fieldassist.photo.square import Squared
from fieldassist.trade.message import message

__all__ = ["RegionCells", "grow"]

RegionCells: TypeAlias = npt.NDArray[np.bool_]
_Field: TypeAlias = npt.NDArray[np.float32]

# How far apart two classes are, in their common spread, before they are two: the halves of a single bell curve are
# 2.65 apart. And how much of their difference lies across the region's border: of mere grain cut in two it is half, of
# light that falls off slowly next to nothing. Ours, fixed on renderings.
LEAST_APART, LEAST_STEP = 3.0, 0.7
# A region of fewer cells is a speck: a letter printed on the back, a glint.
LEAST_CELLS = 12
# What a tap shows: so many cells to each side of it, as broad as what a gloved finger points at.
_SPOT_CELLS = 2
# Linear light below which nothing is told apart: about one step of 8 bits in the dark.
_DARKEST = 0.004
# Roughness is taken over so many dots, and never below this variance of a logarithm.
_ROUGH_DOTS, _SMOOTHEST = 9, 1e-4
# Thresholds go from this distance on, in the noise from cell to cell.
_NEAR, _THRESHOLDS, _ROUNDS, _BORDER_ROUNDS = 1.5, 12, 4, 3
# Classes are fitted on every so many cells of every so many rows, without the piece's rim, and without what is so far
# from both (ink, glints).
_THIN, _RIM_CELLS = 4, 3
_FAR = 4.0
_FEWEST = 12
_CROSS, _SQUARE = np.array([[0, 1, 0], [1, 1, 1], [0, 1, 0]], np.uint8), np.ones((3, 3), np.uint8)


def grow(squared: Squared, at_mm: Point, *, most: float = 0.6) -> RegionCells:
    """The region of like tone around a tap, to its border.

    Parameters: squared, the back to scale; at_mm, the tap [mm] from the upper left corner; most, the share of the back
    that it may take.
    Result: rows x columns of cells as `Back` has them, True where the region lies.
    Errors: `CannotTell` where nothing parts the tap from what is around it, or the region would take more than `most`.
    """
    columns, rows = (max(1, round(side / CELL_MM)) for side in squared.size_mm)
    column, row = (
        min(count - 1, max(0, int(at / side * count)))
        for at, side, count in zip(at_mm, squared.size_mm, (columns, rows), strict=True)
    )
    tones = _tones(squared.pixels, rows, columns)
    found = _best(tones, _by_tone(tones, row, column), (row, column), most)
    if found is None:
        rough = _roughness(squared.pixels, rows, columns)
        found = _best(np.dstack([tones, rough]), [_away(rough[..., None], row, column)], (row, column), most)
    if found is None:
        raise CannotTell(message("measure-no-border"))
    return found


def _step(likeness: _Field, region: RegionCells) -> float:
    """By how much what is like the tap falls across the region's border: from its inside to the second cell outside,
    since the first holds a part of both.
    """
    marks = region.view(np.uint8)
    inside = cv2.erode(marks, _SQUARE).astype(np.bool_)
    once = cv2.dilate(marks, _SQUARE)
    outside = (cv2.dilate(once, _SQUARE) - once).astype(np.bool_)
    if not outside.any():
        return 0.0
    return float(likeness[inside if inside.any() else region].mean() - likeness[outside].mean())


def _linear_light() -> _Field:
    """Linear light of each step of sRGB (IEC 61966-2-1)."""
    steps = np.arange(256) / 255.0
    return np.where(steps <= 0.04045, steps / 12.92, ((steps + 0.055) / 1.055) ** 2.4).astype(np.float32)


_LINEAR = _linear_light()


def _tones(pixels: RGB, rows: int, columns: int) -> _Field:
    """Logarithms of the red, green and blue light of each cell: light that falls unevenly is added to the tone there,
    and a fit takes it off.
    """
    light = cv2.resize(cv2.LUT(cv2.medianBlur(pixels, 3), _LINEAR), (columns, rows), interpolation=cv2.INTER_AREA)
    return np.asarray(cv2.log(light + np.float32(_DARKEST)), dtype=np.float32)


def _roughness(pixels: RGB, rows: int, columns: int) -> _Field:
    """How far the green light of a cell wanders about its mean nearby, as a logarithm."""
    green = np.log(_LINEAR + _DARKEST)[pixels[..., 1]]
    wander = cv2.blur(np.square(green - cv2.blur(green, (_ROUGH_DOTS, _ROUGH_DOTS))), (_ROUGH_DOTS, _ROUGH_DOTS))
    return np.log(np.asarray(cv2.resize(wander, (columns, rows), interpolation=cv2.INTER_AREA)) + _SMOOTHEST)


@dataclass(frozen=True, slots=True)
class _Classes:
    """What is like the tap and what is not.

    line, middle: a cell is like the tap where look . line - light there exceeds the middle; bend: by how much that
    middle, of the two classes' light, lies above that of their logarithms; light: of the five terms of `_surface`,
    along the line; apart: distance of the means in the common spread (d').
    """

    line: npt.NDArray[np.float64]
    middle: float
    bend: float
    light: npt.NDArray[np.float64]
    apart: float

    def likeness(self, look: _Field) -> _Field:
        """How much more a cell is like the tap than like the rest: above 0 it is like it."""
        light = _surface(*look.shape[:2]) @ self.light.astype(np.float32)
        return np.asarray(look @ self.line.astype(np.float32) - light - np.float32(self.middle))


def _surface(rows: int, columns: int) -> _Field:
    """The terms of a quadratic surface over the back without its constant, -1 to 1 from side to side."""
    y = np.linspace(-1, 1, rows, dtype=np.float32)[:, None]
    x = np.linspace(-1, 1, columns, dtype=np.float32)[None]
    zero = np.zeros((rows, columns), dtype=np.float32)
    return np.stack([x + zero, y + zero, x * x + zero, x * y, y * y + zero], axis=-1)


def _best(look: _Field, fields: Sequence[_Field], at: tuple[int, int], most: float) -> RegionCells | None:
    """Of the regions that some distances from the tap's look lead to, the one with the clearest border; None where none
    has one.
    """
    inner = (slice(_RIM_CELLS, -_RIM_CELLS, _THIN), slice(_RIM_CELLS, -_RIM_CELLS, _THIN))
    few = look[inner].reshape(-1, look.shape[2]).astype(np.float64)
    surface = _surface(*look.shape[:2])[inner].reshape(-1, 5).astype(np.float64)
    clearest, best = 0.0, None
    for field in fields:
        guess = _steepest(field, *at, most)
        classes = None if guess is None else _fitted(few, surface, guess[inner].ravel())
        if classes is None or classes.apart < max(LEAST_APART, clearest):
            continue
        likeness = classes.likeness(look)
        region = _bordered(likeness, classes.bend, at)
        if not LEAST_CELLS <= np.count_nonzero(region) <= most * region.size:
            continue
        if _step(likeness, region) >= LEAST_STEP * classes.apart**2:
            clearest, best = classes.apart, region
    return best


def _bordered(likeness: _Field, bend: float, at: tuple[int, int]) -> RegionCells:
    """The region around the tap, its border half way between what is inside and what is around it there."""
    middle = 0.0
    for _ in range(_BORDER_ROUNDS):
        region = _hanging_together(likeness > middle, *at)
        marks = region.view(np.uint8)
        core = cv2.erode(marks, _CROSS).astype(np.bool_)
        around = (cv2.dilate(marks, _SQUARE, iterations=4) > cv2.dilate(marks, _CROSS)) & (likeness <= middle)
        if not region.any() or not around.any():
            break
        # All of a narrow void's cells hold a part of the mortar beside it: its tone is that of the clearest.
        narrow = np.count_nonzero(core) < 0.3 * np.count_nonzero(region)
        inside = np.quantile(likeness[region], 0.75) if narrow else np.median(likeness[core])
        middle = float(inside + np.median(likeness[around])) / 2 + bend
    return _hanging_together(likeness > middle, *at)


def _by_tone(tones: _Field, row: int, column: int) -> list[_Field]:
    """How far each cell is from the tap by all three tones, and by colour alone, which a shadow leaves as it is."""
    return [_away(tones, row, column), _away(tones[..., (0, 2)] - tones[..., 1:2], row, column)]


def _away(look: _Field, row: int, column: int) -> _Field:
    """How far the look of each cell is from that of the tap's spot, in the noise from cell to cell."""
    few = look[::_THIN, ::_THIN]
    noise = np.median(np.abs(few[:, 1:] - few[:, :-1]), axis=(0, 1)) + np.float32(1e-3)
    spot = look[
        max(0, row - _SPOT_CELLS) : row + _SPOT_CELLS + 1, max(0, column - _SPOT_CELLS) : column + _SPOT_CELLS + 1
    ]
    scaled = (look - np.median(spot, axis=(0, 1))) / noise
    return np.asarray(cv2.sqrt(np.einsum("ijk,ijk->ij", scaled, scaled)), dtype=np.float32)


def _steepest(away: _Field, row: int, column: int, most: float) -> RegionCells | None:
    """Of the regions around the tap that thresholds give, what the one with the steepest border takes as like it."""
    slope = cv2.morphologyEx(away, cv2.MORPH_GRADIENT, _SQUARE)
    best, like_tap = 0.0, None
    for threshold in np.geomspace(_NEAR, max(_NEAR, float(away.max())), _THRESHOLDS):
        like = away <= threshold
        region = _hanging_together(like, row, column).view(np.uint8)
        cells = np.count_nonzero(region)
        if cells > most * region.size:
            break
        rim = (region - cv2.erode(region, _SQUARE)).astype(np.bool_)
        if cells < LEAST_CELLS or not rim.any():
            continue
        steep = float(slope[rim].mean()) / (1.0 + float(threshold))
        if steep > best:
            best, like_tap = steep, like
    return like_tap


def _hanging_together(like: RegionCells, row: int, column: int) -> RegionCells:
    """The like cells that hang together with the one at the tap, or with the nearest like one within its spot."""
    top, left = max(0, row - _SPOT_CELLS), max(0, column - _SPOT_CELLS)
    near = np.argwhere(like[top : row + _SPOT_CELLS + 1, left : column + _SPOT_CELLS + 1]) + np.array((top, left))
    if not len(near):
        return np.zeros_like(like)
    at = near[np.square(near - (row, column)).sum(axis=1).argmin()]
    marks = like.astype(np.uint8)
    cv2.floodFill(marks, None, (int(at[1]), int(at[0])), 2)
    return np.asarray(marks == 2)


def _fitted(few: npt.NDArray[np.float64], surface: npt.NDArray[np.float64], like: RegionCells) -> _Classes | None:
    """Classes and light fitted in turn from a first guess of what is like the tap; None where one class is left."""
    count = few.shape[1]
    inside = np.ones(len(few), dtype=np.bool_)
    found: _Classes | None = None
    for _ in range(_ROUNDS):
        if min(np.count_nonzero(like & inside), np.count_nonzero(~like & inside)) < _FEWEST:
            return None
        terms = np.column_stack([like, ~like, surface])
        held = terms[inside]
        solved = np.linalg.solve(held.T @ held + 1e-6 * np.eye(7), held.T @ few[inside])
        solved[2:, 3:] = 0.0  # roughness is none of the light's
        rest = few - terms @ solved
        spread = np.linalg.inv(np.cov(rest[inside].T) + 1e-5 * np.eye(count))
        between = solved[0] - solved[1]
        line = spread @ between
        middle = solved[:2].mean(axis=0)
        even = float(middle @ line)
        # Half a cell of each class has the mean of their light, not of its logarithm.
        middle[:3] = np.log(np.exp(solved[:2, :3]).mean(axis=0))
        half = float(middle @ line)
        found = _Classes(line, half, half - even, solved[2:] @ line, float(np.sqrt(between @ line)))
        inside = np.sum(rest @ spread * rest, axis=1) < _FAR**2 * count
        like = few @ line - surface @ found.light > found.middle
    return found
