"""Contact on a combed back from two photos: the lamp high in one, raking low in the other.

On a combed back mortar lies everywhere, and its colour tells nothing of what touched. What touched was torn and is
rough, what never touched has set as the trowel left it. The ratio of the two photos holds no colour, only
how the surface is turned to the lamps, and where it lies in shadow. Figures of that ratio around a cell (and how bright
the cell is, which is how open it lies) are compared with those at taps: their direction by Fisher's linear discriminant
(Annals of Eugenics 7, 1936) over the spread of the whole back, then two normal distributions along it, held to the taps
(expectation and maximisation: Dempster, Laird, Rubin, J. R. Stat. Soc. B 39, 1977).

From computed pictures come the choice of these figures and the limits of doubt. Of 98 computed pairs of combed backs
that nothing was fixed on 9 passed, with 90 percent of contact or more; their figures were 0.1 to 3.6 points off, all
within their interval. Of 99 skim-coated backs said to be combed 2 passed, 0.6 and 1.5 points off; without these limits
half of the figures were more than 9 points off on combed backs, and 12 on skim-coated ones, of which nothing is told.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from fieldassist.photo.back import Back, MortarCells
from fieldassist.photo.picture import RGB, CannotTell, Floats, Point
from fieldassist.photo.propose import must_be_taps
from fieldassist.photo.square import Squared
from fieldassist.photo.tones import light_terms, logarithm
from fieldassist.trade.message import message

__all__ = ["SeenByTwo", "TwoLightsDoubts", "examine_two", "propose_two", "registered"]

# Common practice, no published source, from here on: chosen on computed pictures that nothing is measured on.
# Two plans by hand-set corners lie within this of each other [dots], and are laid upon each other in fields this large.
_APART_DOTS, _FIELD_DOTS = 8.0, 150
# The sides of the squares [mm] that figures are taken over, and what no figure falls below.
_NEAR_MM, _AROUND_MM, _WIDE_MM, _FLOOR = 3, 9, 11, 1e-4
# How much of the whole spread is held even in all figures, and the rounds of learning along the line.
_EVEN, _ROUNDS = 0.3, 25
# The taps weigh as this share of all cells for where a class lies.
_ANCHOR = 0.1


# What is let through, and how many times `TwoLightsDoubts.points` half the interval is: fixed on computed pictures
# 10,000 to 10,179 (`python -m tests.photo.figures lights`).
LEAST_APART, MOST_METHODS, MOST_TAPS, LEAST_OWN, MOST_BROAD = 3.5, 3.0, 2.0, 0.5, 0.45
HALF_WIDTH = 1.25


@dataclass(frozen=True, slots=True)
class TwoLightsDoubts:
    """apart: d', how many spreads what touched and what never did lie apart; methods: points between two ways to weigh
    the figures; taps: points between the shares with one tap left out; own: how likely the least likely tap is what it
    was tapped for; broad: of what never touched, the share that has nothing else around it. Between the ridges of a
    combed back little has; on a skim-coated back the voids are broad.
    """

    apart: float
    methods: float
    taps: float
    own: float
    broad: float

    @property
    def points(self) -> float:
        """What the interval is in proportion to."""
        return 1.0 + self.methods + self.taps

    @property
    def too_large(self) -> bool:
        """Whether no figure may be given."""
        return (
            self.apart < LEAST_APART
            or self.methods > MOST_METHODS
            or self.taps > MOST_TAPS
            or self.own < LEAST_OWN
            or self.broad > MOST_BROAD
        )


@dataclass(frozen=True, slots=True)
class SeenByTwo:
    """What two lights show, whether or not it can be trusted.

    mortar: where it touched, cells as `Back` has them, 0 to 255; cell_mm: a cell's width and height; percent: the mean.
    """

    mortar: MortarCells
    cell_mm: tuple[float, float]
    percent: float
    doubts: TwoLightsDoubts

    @property
    def low(self) -> float:
        """From here to `high` the true share lies in nine of ten such pictures [percent]: split conformal prediction
        (Vovk, Gammerman, Shafer, Algorithmic Learning in a Random World, 2005, 4.5).
        """
        return max(0.0, self.percent - HALF_WIDTH * self.doubts.points)

    @property
    def high(self) -> float:
        """The other end [percent]."""
        return min(100.0, self.percent + HALF_WIDTH * self.doubts.points)


def propose_two(high: Squared, raking: Squared, mortar: Sequence[Point], bare: Sequence[Point]) -> SeenByTwo:
    """What touched on a combed back, from two photos and taps; or why it cannot be told.

    Parameters: high, raking: the same back squared up from the photo with the lamp high, and low from a side; mortar,
    bare: taps on what touched and on what never did [mm from the upper left corner of the piece].
    Errors: `CannotTell` for taps that are none, and where a doubt is too large.
    """
    must_be_taps(high.size_mm, mortar, bare)
    seen = examine_two(high, raking, mortar, bare)
    if seen is None or seen.doubts.too_large:
        raise CannotTell(message("measure-two-lights-too-alike"))
    return seen


def examine_two(high: Squared, raking: Squared, mortar: Sequence[Point], bare: Sequence[Point]) -> SeenByTwo | None:
    """All that is reckoned, whether or not it can be trusted; None where taps of both kinds look alike."""
    figures = _figures(high, raking)
    at = [_at(figures, high.size_mm, points) for points in (mortar, bare)]
    few = figures[::2, ::2].reshape(-1, figures.shape[2])
    whole, second = (_parted(few, at[0], at[1], plain=plain) for plain in (False, True))
    if whole is None or second is None:
        return None
    without = []
    for kind, taps in enumerate(at):
        for number in range(len(taps)):
            kept = np.delete(taps, number, axis=0)
            parted = _parted(few, *((kept, at[1]) if kind == 0 else (at[0], kept)), plain=False)
            without.append(0.0 if parted is None else 100 * parted.weight)
    share = whole.share(figures)
    doubts = TwoLightsDoubts(
        apart=whole.apart,
        methods=100 * abs(whole.weight - second.weight),
        taps=max(without) - min(without),
        own=float(min(whole.share(at[0]).min(), 1 - whole.share(at[1]).max())),
        broad=_broad(share < 0.5),
    )
    cells = np.clip(np.rint(share * 255), 0, 255).astype(np.uint8)
    return SeenByTwo(cells, Back(*high.size_mm).cell_mm, 100 * float(cells.mean()) / 255, doubts)


def _broad(void: npt.NDArray[np.bool_]) -> float:
    inside = cv2.erode(void.astype(np.uint8), np.ones((3, 3), np.uint8))
    return float(inside.sum()) / max(1, int(np.count_nonzero(void)))


def registered(high: Floats, raking: Floats) -> Floats:
    """The raking picture laid upon the high one, both as logarithms of light.

    In fields the shift of how steep the light changes is found by phase correlation (Kuglin and Hines 1975); shifts
    that vary linearly over the back are fitted through them, outliers weighing less.
    """
    rows, columns = high.shape
    down, across = max(2, round(rows / _FIELD_DOTS)), max(2, round(columns / _FIELD_DOTS))
    steep = [_steepness(picture) for picture in (high, raking)]
    terms, shifts, weights = [], [], []
    for row in range(down):
        for column in range(across):
            field = (
                slice(rows * row // down, rows * (row + 1) // down),
                slice(columns * column // across, columns * (column + 1) // across),
            )
            one, other = (np.ascontiguousarray(picture[field]) for picture in steep)
            shift, response = cv2.phaseCorrelate(one, other, cv2.createHanningWindow(one.shape[::-1], cv2.CV_32F))
            if max(abs(shift[0]), abs(shift[1])) < _APART_DOTS:
                terms.append((1.0, (column + 0.5) / across - 0.5, (row + 0.5) / down - 0.5))
                shifts.append(shift)
                weights.append(max(response, 1e-3))
    if len(terms) < 4:
        return raking
    design, seen, weight = np.array(terms), np.array(shifts), np.array(weights)
    for _ in range(4):
        moved = np.linalg.lstsq(design * weight[:, None], seen * weight[:, None], rcond=None)[0]
        off = np.hypot(*(seen - design @ moved).T)
        weight = np.array(weights) / (1 + off**2)
    y, x = np.mgrid[:rows, :columns].astype(np.float32)
    u, v = (x + 0.5) / columns - 0.5, (y + 0.5) / rows - 0.5
    to_x, to_y = (x + s[0] + s[1] * u + s[2] * v for x, s in ((x, moved[:, 0]), (y, moved[:, 1])))
    return np.asarray(
        cv2.remap(
            raking, to_x.astype(np.float32), to_y.astype(np.float32), cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE
        ),
        dtype=np.float32,
    )


def _steepness(picture: Floats) -> Floats:
    across, down = cv2.Sobel(picture, cv2.CV_32F, 1, 0), cv2.Sobel(picture, cv2.CV_32F, 0, 1)
    return np.asarray(cv2.GaussianBlur(cv2.magnitude(across, down), (0, 0), 1.0), dtype=np.float32)


def _even_light(pixels: RGB) -> Floats:
    """The logarithm of light without what a quadratic surface over the back takes of it."""
    light = logarithm(pixels).mean(axis=2)
    return _without_surface(light)


def _without_surface(picture: Floats) -> Floats:
    shape = (picture.shape[0], picture.shape[1])
    terms = np.column_stack([np.ones(picture.size, np.float32), light_terms(shape)])
    found = np.linalg.lstsq(terms[::17], picture.reshape(-1)[::17], rcond=None)[0]
    return np.asarray(picture - (terms @ found).reshape(shape), dtype=np.float32)


def _figures(high: Squared, raking: Squared) -> Floats:
    """Of each cell, each figure over the whole back with mean 0 and spread 1: how bright it is; of the ratio of the two
    lights how much it wanders, how fine and how coarse its relief is, and how deep its deepest shadow.
    """
    above = _even_light(high.pixels)
    ratio = _without_surface(registered(above, _even_light(raking.pixels)) - above)
    dots = 1 / high.mm_a_dot

    def side(mm: int) -> tuple[int, int]:
        return (max(3, round(mm * dots) | 1),) * 2

    def spread(relief: Floats, mm: int) -> Floats:
        around = cv2.blur(relief * relief, side(mm)) - cv2.blur(relief, side(mm)) ** 2
        return np.asarray(np.log(np.maximum(around, 0) + _FLOOR), dtype=np.float32)

    smooth = [cv2.GaussianBlur(ratio, (0, 0), mm * dots) for mm in (1, 2, 5)]
    figures = (
        cv2.blur(above, side(_NEAR_MM)),
        spread(ratio, _AROUND_MM),
        spread(smooth[0] - smooth[1], _WIDE_MM),
        spread(smooth[1] - smooth[2], _AROUND_MM),
        cv2.erode(ratio, np.ones(side(5), np.uint8)),
    )
    rows, columns = Back(*high.size_mm).mortar.shape
    cells = np.dstack([cv2.resize(figure, (columns, rows), interpolation=cv2.INTER_AREA) for figure in figures])
    cells = cv2.blur(cells, (3, 3))
    every = cells.reshape(-1, cells.shape[2])
    return np.asarray((cells - every.mean(axis=0)) / (every.std(axis=0) + 1e-6), dtype=np.float32)


def _at(figures: Floats, size_mm: tuple[float, float], points: Sequence[Point]) -> Floats:
    """The figures at taps: of each the median over 3 x 3 cells."""
    rows, columns = figures.shape[:2]
    taps = []
    for x, y in points:
        column = min(columns - 2, max(1, int(x / size_mm[0] * columns)))
        row = min(rows - 2, max(1, int(y / size_mm[1] * rows)))
        taps.append(np.median(figures[row - 1 : row + 2, column - 1 : column + 2], axis=(0, 1)))
    return np.array(taps)


@dataclass(frozen=True, slots=True)
class _Parted:
    """Two normal distributions along a line. touched, never: their means; spread, of both; weight: of what touched;
    apart: the means' distance in it.
    """

    line: Floats
    touched: float
    never: float
    spread: float
    weight: float

    @property
    def apart(self) -> float:
        return (self.touched - self.never) / self.spread

    def share(self, figures: Floats) -> Floats:
        """How likely each cell touched."""
        return _chance(
            np.asarray(figures @ self.line.astype(np.float32)), self.touched, self.never, self.spread, self.weight
        )


def _chance(along: Floats, touched: float, never: float, spread: float, weight: float) -> Floats:
    odds = ((along - never) ** 2 - (along - touched) ** 2) / (2 * spread**2) + np.log(weight / (1 - weight))
    return np.asarray(1 / (1 + np.exp(-np.clip(odds, -30, 30))))


def _parted(few: Floats, mortar: Floats, bare: Floats, *, plain: bool) -> _Parted | None:
    """Learn the distributions; plain: each figure by itself, weighed by how little it scatters from tap to tap."""
    between = mortar.mean(axis=0) - bare.mean(axis=0)
    if plain:
        line = between / (_EVEN + mortar.var(axis=0) + bare.var(axis=0))
    else:
        line = np.linalg.solve(np.cov(few.T) + _EVEN * np.eye(few.shape[1]), between)
    along = few @ line
    tapped = float(np.median(mortar @ line)), float(np.median(bare @ line))
    touched, never = tapped
    if touched <= never:
        return None
    spread, weight, held = (touched - never) / 4, 0.5, _ANCHOR * len(few)
    for _ in range(_ROUNDS):
        chance = _chance(along, touched, never, spread, weight)
        counts = float(chance.sum()), float((1 - chance).sum())
        touched = (float(chance @ along) + held * tapped[0]) / (counts[0] + held)
        never = (float((1 - chance) @ along) + held * tapped[1]) / (counts[1] + held)
        away = chance @ (along - touched) ** 2 + (1 - chance) @ (along - never) ** 2
        spread = float(np.sqrt(away / len(few)))
        weight = min(0.98, max(0.02, float(chance.mean())))
    return _Parted(line, touched, never, spread, weight)
