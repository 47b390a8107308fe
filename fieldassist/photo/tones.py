"""Mortar and bare back told apart by their tones, from a few taps on each.

In the logarithm of linear light a lamp that falls off across the piece is an added field, here a polynomial of second
order. Mortar and back are each a normal distribution around the tones that were tapped; a third, broad one takes what
is neither (ink, glints, dirt). Its parameters come from expectation and maximisation (Dempster, Laird, Rubin, J. R.
Stat. Soc. B 39, 1977), held to the taps by prior counts. Where mortar and back meet within a dot its share of mortar is
that of their mixture, which is linear in light (IEC 61966-2-1), not in what a camera writes.
"""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from fieldassist.photo.picture import RGB, Floats
from fieldassist.photo.taps import Taps

__all__ = ["Dots", "Tones", "TonesSeen", "fit", "look", "read_tones"]


# sRGB to linear light, IEC 61966-2-1:1999, 5.2.
_CODES = np.arange(256) / 255.0
_LINEAR = np.where(_CODES <= 0.04045, _CODES / 12.92, ((_CODES + 0.055) / 1.055) ** 2.4).astype(np.float32)
# Below a hundredth of white a camera's noise is larger than what it shows: the logarithm flattens there.
_OFFSET = 0.01
_LOGARITHM = np.log(_LINEAR + _OFFSET).astype(np.float32)

# Common practice, no published source, from here on: chosen on drawn pictures that nothing is measured on.
# Dots that the distributions are learnt from, in a grid over the piece, and the rounds of learning.
_DOTS, _ROUNDS = 12_000, 14
# The taps weigh as this share of all dots, for where a class lies and how wide it is.
_ANCHOR, _WIDTH_ANCHOR = 0.10, 0.03
# No class is narrower than this (logarithm of light: 4 %), nor wider than this.
_LEAST_SPREAD = 0.04
# What is neither has a spread of its own beside that of both classes, at most this share of the dots.
_NEITHER_SPREAD, _MOST_NEITHER = 0.7, 0.3
# The field's terms are small: a lamp at the side of a tile falls to a half across it.
_LIGHT_SPREAD = 0.4
# Pure mortar and pure back beside a border are looked for this far from it, and what is neither is judged by what lies
# this near.
_BESIDE_MM, _FILL_MM = 8.0, 5.0
# Where nothing pure lies beside, what lies five times as far off counts, and else the taps, each by this much.
_FAR_WEIGHS, _TAPS_WEIGH = 0.02, 0.001
# Dots to both sides of a border that a camera mixes.
_BORDER = 2
# Of a mixture light may differ by shade: how loosely it is held, in parts of the tones' own; and the logarithm of what
# is taken for shade at most. A dot is no mixture of both where it lies off by this part of what they differ by.
_SHADE, _MOST_SHADE, _OFF_THE_LINE = 0.01, 0.7, 0.35
# By how much the logarithms of their light differ in a colour, and in one colour more than in another, where mortar and
# back are two materials; or by how many times what the dots of a tap on bare back scatter by: shade is never as plain.
_CONTRAST, _HUE, _PLAIN = 1.0, 0.08, 15.0
# A camera's noise, and what a JPEG leaves of it.
_LEAST_SCATTER = 0.01
# Means of what lies around are made on a grid as coarse as this.
_COARSE_MM = 3.0


@dataclass(frozen=True, slots=True)
class Dots:
    """What is learnt from. y: dots all over the piece x 3, logarithm of light; terms: of the field of light there, x 5;
    shown: what each tap shows; tapped, tapped_terms: of each the median and the mean of its dots; within: how they
    scatter, 3 x 3.
    """

    y: Floats
    terms: Floats
    taps: Taps
    shown: tuple[Floats, ...]
    tapped: Floats
    tapped_terms: Floats
    within: Floats

    def without(self, number: int) -> Dots:
        """With all taps but one, counted from 0, and every third dot: enough to see what that tap does."""
        kept = [n for n in range(len(self.tapped)) if n != number]
        return Dots(
            self.y[::3],
            self.terms[::3],
            self.taps.without(number),
            tuple(self.shown[n] for n in kept),
            self.tapped[kept],
            self.tapped_terms[kept],
            self.within[kept],
        )


@dataclass(frozen=True, slots=True)
class Tones:
    """The distributions. mean: mortar, back, neither x 3; spread: of each 3 x 3; weight: of each; light: the field's 5
    terms; tapped: mortar and back as they were tapped x 3, without the field; scatter: of the dots of a tap on back.
    """

    mean: Floats
    spread: Floats
    weight: Floats
    light: Floats
    tapped: Floats
    scatter: float

    def apart(self) -> float:
        """d': how many spreads mortar and back lie apart."""
        step = (self.mean[0] - self.mean[1]).astype(np.float64)
        pooled = (self.spread[0] + self.spread[1]).astype(np.float64) / 2
        return float(np.sqrt(step @ np.linalg.solve(pooled, step)))

    def unlike(self) -> float:
        """From 1 on mortar and back differ as two materials do; one in light and shade keeps its hue, and is mottled in
        the shade.
        """
        step = self.tapped[0] - self.tapped[1]
        most = float(np.abs(step).max())
        return max(most / _CONTRAST, float(np.ptp(step)) / _HUE, most / self.scatter / _PLAIN)

    def chances(self, flat: Floats) -> Floats:
        """How likely dots are mortar, back, neither: from the logarithm of their light without the field's, rows x
        columns x 3, one after the other, 3 x rows x columns.
        """
        logs = np.empty((3, *flat.shape[:2]), dtype=np.float32)
        for k in range(3):
            whiten = np.linalg.inv(np.linalg.cholesky(self.spread[k].astype(np.float64)))
            away = cv2.transform(flat, np.hstack([whiten, -(whiten @ self.mean[k])[:, None]]).astype(np.float32))
            cv2.multiply(away, away, dst=away, scale=-0.5)
            offset = float(np.log(max(self.weight[k], 1e-6)) + np.log(np.diag(whiten)).sum())
            cv2.transform(away, np.array([[1, 1, 1, offset]], dtype=np.float32), dst=logs[k])
        logs -= np.maximum(np.maximum(logs[0], logs[1]), logs[2])
        cv2.exp(logs, dst=logs)
        logs /= logs[0] + logs[1] + logs[2]
        return logs


@dataclass(frozen=True, slots=True)
class TonesSeen:
    """What the tones show, per dot. share: of mortar, 0 to 1; in_doubt: how likely a dot away from borders is on the
    other side; neither: how likely it is neither.
    """

    share: Floats
    in_doubt: Floats
    neither: Floats


def logarithm(pixels: RGB) -> Floats:
    """The logarithm of linear light of each dot and colour."""
    return np.asarray(_LOGARITHM[pixels], dtype=np.float32)


def light_terms(shape: tuple[int, int], every: int = 1) -> Floats:
    """The terms of the field of light at each dot, dots x 5: x, y, x2, xy, y2 without their means; sides from -1 to 1.

    every: one dot in so many of a row, and of the rows.
    """
    rows, columns = shape
    y = (2 * (np.arange(0, rows, every, dtype=np.float32) + 0.5) / rows - 1)[:, None]
    x = (2 * (np.arange(0, columns, every, dtype=np.float32) + 0.5) / columns - 1)[None, :]
    return _terms(*np.broadcast_arrays(x, y))


def _terms(x: npt.NDArray[np.floating], y: npt.NDArray[np.floating]) -> Floats:
    return np.stack([x, y, x * x - 1 / 3, x * y, y * y - 1 / 3], axis=-1).reshape(-1, 5).astype(np.float32)


def look(pixels: RGB, taps: Taps) -> Dots:
    """Take dots in a grid over the piece, and those at the taps."""
    rows, columns = pixels.shape[:2]
    every = max(1, round((rows * columns / _DOTS) ** 0.5))
    shown, tapped, tapped_terms, within = [], [], [], []
    for at_y, at_x in taps.at:
        dots = _LOGARITHM[pixels[at_y, at_x]]
        shown.append(dots)
        middle = np.median(dots, axis=0)
        tapped.append(middle)
        x, y = 2 * (at_x + 0.5) / columns - 1, 2 * (at_y + 0.5) / rows - 1
        tapped_terms.append(_terms(x, y).mean(axis=0))
        within.append(_covariance(dots - middle))
    return Dots(
        logarithm(pixels[::every, ::every]).reshape(-1, 3),
        light_terms((rows, columns), every),
        taps,
        tuple(shown),
        np.array(tapped, dtype=np.float32),
        np.array(tapped_terms, dtype=np.float32),
        np.array(within, dtype=np.float32),
    )


def fit(dots: Dots) -> Tones:
    """Learn the distributions from dots all over the piece, held to the taps."""
    y, terms, count = dots.y, dots.terms, len(dots.y)
    sides = (dots.taps.of(True), dots.taps.of(False))
    floor = _LEAST_SPREAD**2 * np.eye(3, dtype=np.float32)
    light = np.zeros(5, dtype=np.float32)
    mean = np.stack([dots.tapped[side].mean(axis=0) for side in sides])
    anchor = np.stack([dots.within[side].mean(axis=0) + floor for side in sides])
    spread = anchor + np.stack([_covariance(dots.tapped[side] - mean[k]) for k, side in enumerate(sides)])
    broad = np.cov(y, rowvar=False).astype(np.float32) + _NEITHER_SPREAD**2 * np.eye(3, dtype=np.float32)
    weight = np.array([0.6, 0.35, 0.05], dtype=np.float32)
    few, held = _WIDTH_ANCHOR * count, _ANCHOR * count
    scattered = [float(np.trace(dots.within[number]) / 3) ** 0.5 for number in sides[1]]
    scatter = max(float(np.median(scattered)), _LEAST_SCATTER)

    def now() -> Tones:
        middle = mean.mean(axis=0, keepdims=True)
        tapped = dots.tapped - (dots.tapped_terms @ light)[:, None]
        of_taps = np.stack([tapped[side].mean(axis=0) for side in sides])
        return Tones(
            np.concatenate([mean, middle]), np.concatenate([spread, broad[None]]), weight, light, of_taps, scatter
        )

    for _ in range(_ROUNDS):
        chance = now().chances((y - (terms @ light)[:, None])[None])[:, 0]
        light = _light(y, terms, chance, mean, spread)
        flat = y - (terms @ light)[:, None]
        tapped = dots.tapped - (dots.tapped_terms @ light)[:, None]
        for k, side in enumerate(sides):
            r = chance[k]
            total = float(r.sum())
            mean[k] = (r @ flat + held * tapped[side].mean(axis=0)) / (total + held)
            away = flat - mean[k]
            spread[k] = ((r[:, None] * away).T @ away + few * anchor[k]) / (total + few) + floor / 4
        weight = np.asarray(chance.mean(axis=1), dtype=np.float32)
        weight[2] = min(weight[2], _MOST_NEITHER)
        weight = weight / weight.sum()
    return now()


def _covariance(away: Floats) -> Floats:
    return (away.T @ away / max(1, len(away))).astype(np.float32)


def _light(y: Floats, terms: Floats, chance: Floats, mean: Floats, spread: Floats) -> Floats:
    """The field by weighted least squares: what a common change of all three colours explains of the dots' distance
    from their class."""
    weights = np.zeros(len(y), dtype=np.float32)
    pulls = np.zeros(len(y), dtype=np.float32)
    for k in range(2):
        row = np.linalg.solve(spread[k].astype(np.float64), np.ones(3)).astype(np.float32)
        weights += chance[k] * row.sum()
        pulls += chance[k] * ((y - mean[k]) @ row)
    square = (terms * weights[:, None]).T @ terms
    # The prior counts as much as a hundredth of the dots do.
    held = 0.01 * float(weights.sum()) / (_LIGHT_SPREAD**2 * 100) * np.eye(5)
    return np.linalg.solve(square.astype(np.float64) + held, (terms.T @ pulls).astype(np.float64)).astype(np.float32)


def read_tones(pixels: RGB, mm_a_dot: float, tones: Tones) -> TonesSeen:
    """The share of mortar in every dot."""
    rows, columns = pixels.shape[:2]
    field = np.asarray(light_terms((rows, columns)) @ tones.light, dtype=np.float32).reshape(rows, columns, 1)
    mortar, bare, neither = tones.chances(logarithm(pixels) - field)
    share = mortar / np.maximum(mortar + bare, 1e-6)
    covered = (share > 0.5).astype(np.uint8)
    unlike = neither > 0.5
    # Mixed are dots near a border, and those that neither explains.
    edge = np.ones((3, 3), dtype=np.uint8)
    border = cv2.dilate(covered, edge) != cv2.erode(covered, edge)
    depth = cv2.distanceTransform((~border).astype(np.uint8), cv2.DIST_C, 3)
    mixed = unlike | (depth < _BORDER)
    pure = ((depth > _BORDER) & ~unlike).astype(np.float32)
    around = _Around((rows, columns), mm_a_dot)
    tapped = np.exp(tones.tapped[:, None, None] + around.small(field)[None, ..., None]) - _OFFSET
    mix, off = _mixed(_LINEAR[pixels], around, covered, pure, tapped)
    # What no mixture of both explains is judged by what lies around it.
    foreign = unlike & (off > _OFF_THE_LINE)
    known = around.small(~foreign)
    beside = around.mean(around.small(np.where(mixed, mix, covered) * ~foreign), _FILL_MM)
    filled = around.back(beside / (around.mean(known, _FILL_MM) + np.float32(1e-3)))
    whole = np.where(foreign, filled, np.where(mixed, mix, covered))
    doubt = np.minimum(share, 1 - share)
    doubt[mixed] = 0
    return TonesSeen(whole.astype(np.float32), doubt, foreign.astype(np.float32))


def _mixed(
    linear: Floats, around: _Around, covered: npt.NDArray[np.uint8], pure: Floats, tapped: Floats
) -> tuple[Floats, Floats]:
    """The share of mortar in each dot as a mixture of the pure mortar and the pure back near it, 0 to 1; and how far it
    lies off any such mixture, in parts of what the two differ by.

    pure: how much a dot tells of what is pure; tapped: mortar and back by the taps, on the coarse grid, for where
    nothing pure is near. A mixture may lie in shade, or be turned to the lamp: its light is a m + b n of mortar m and
    back n, by least squares with a + b held near 1.
    """
    ends = []
    for part, known in zip((covered, 1 - covered), tapped, strict=True):
        weight = pure * part
        light, amount = around.small(linear * weight[..., None]), around.small(weight)
        light = around.mean(light, _BESIDE_MM) + _FAR_WEIGHS * around.mean(light, 5 * _BESIDE_MM)
        amount = around.mean(amount, _BESIDE_MM) + _FAR_WEIGHS * around.mean(amount, 5 * _BESIDE_MM)
        light, amount = light + _TAPS_WEIGH * known, amount + _TAPS_WEIGH
        ends.append(around.back(light / amount[..., None]))
    m, n = ends
    mm, mn, nn = _dot(m, m), _dot(m, n), _dot(n, n)
    held = np.float32(_SHADE) * (mm + nn) + np.float32(1e-7)
    mx, nx = _dot(m, linear) + held, _dot(n, linear) + held
    mm_, mn_, nn_ = mm + held, mn + held, nn + held
    scale = 1 / np.maximum(mm_ * nn_ - mn_ * mn_, 1e-12)
    of_m = np.maximum((mx * nn_ - nx * mn_) * scale, 0)
    of_n = np.maximum((nx * mm_ - mx * mn_) * scale, 0)
    rest = linear - of_m[..., None] * m - of_n[..., None] * n
    light = of_m + of_n
    apart = np.sqrt(np.maximum(mm - 2 * mn + nn, 1e-6))
    off = np.sqrt(_dot(rest, rest)) / apart + np.maximum(np.abs(np.log(np.maximum(light, 1e-3))) - _MOST_SHADE, 0)
    return of_m / np.maximum(light, 1e-6), off


def _dot(one: Floats, other: Floats) -> Floats:
    return np.asarray(np.einsum("ijk,ijk->ij", one, other), dtype=np.float32)


class _Around:
    """Means of what lies around each dot, on a grid of a few millimetres; they change slowly."""

    def __init__(self, shape: tuple[int, int], mm_a_dot: float) -> None:
        self._shape = shape
        self._dots = max(1.0, _COARSE_MM / mm_a_dot)
        self._mm_a_dot = mm_a_dot
        self._coarse = (max(1, round(shape[1] / self._dots)), max(1, round(shape[0] / self._dots)))

    def small(self, field: Floats | npt.NDArray[np.bool_]) -> Floats:
        """A field on the coarse grid."""
        return np.asarray(
            cv2.resize(field.astype(np.float32, copy=False), self._coarse, interpolation=cv2.INTER_AREA),
            dtype=np.float32,
        )

    def mean(self, small: Floats, reach_mm: float) -> Floats:
        """Of what is on the coarse grid, weighed by a normal curve of this spread."""
        spread = reach_mm / self._mm_a_dot / self._dots
        return np.asarray(cv2.GaussianBlur(small, (0, 0), spread, borderType=cv2.BORDER_REFLECT), dtype=np.float32)

    def back(self, mean: Floats) -> Floats:
        """From the coarse grid to every dot."""
        size = (self._shape[1], self._shape[0])
        return np.asarray(cv2.resize(mean, size, interpolation=cv2.INTER_LINEAR), dtype=np.float32)
