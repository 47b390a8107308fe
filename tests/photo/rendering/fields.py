"""Random fields that vary smoothly over a back: what makes no two places of a tile alike.

Lengths are in mm and the random knots lie on a grid of mm, so a field is the same whatever the cell that it is drawn
with: a picture of 12 megapixels shows the back that the one of 1.2 shows.
"""

from __future__ import annotations

import math
import zlib
from collections.abc import Callable
from typing import TypeAlias

import cv2
import numpy as np
import numpy.typing as npt

__all__ = ["Dice", "Field", "Mask", "Sheet", "blurred", "dice", "quantile", "single", "smoothstep"]

Field: TypeAlias = npt.NDArray[np.float32]
Mask: TypeAlias = npt.NDArray[np.bool_]
# One generator for each thing that is drawn by lot, by its name: a new one does not change what the others give.
Dice: TypeAlias = Callable[[str], np.random.Generator]

# A cubic through independent knots is quieter between them than at them; its standard deviation over a period, once
# measured over 10^6 dots: 0.84.
_CUBIC_QUIETS = 0.84


def dice(seed: int, kind: str) -> Dice:
    """The generators of one picture."""
    return lambda name: np.random.default_rng([seed, zlib.crc32(f"{kind}/{name}".encode())])


class Sheet:
    """A grid of cells over a rectangle, and random fields on it.

    shape: rows x columns; cell_mm: the side of a cell; size_mm: width and height of the rectangle.
    """

    def __init__(self, size_mm: tuple[float, float], cell_mm: float) -> None:
        self.size_mm, self.cell_mm = size_mm, cell_mm
        self.shape = (round(size_mm[1] / cell_mm), round(size_mm[0] / cell_mm))

    def places(self) -> tuple[Field, Field]:
        """x as a row and y as a column [mm] of the cells' middles; they broadcast."""
        rows, columns = self.shape
        x = ((np.arange(columns) + 0.5) * self.cell_mm).astype(np.float32)[None, :]
        y = ((np.arange(rows) + 0.5) * self.cell_mm).astype(np.float32)[:, None]
        return x, y

    def smooth(self, rng: np.random.Generator, scale_mm: float | tuple[float, float]) -> Field:
        """A field of mean 0 and standard deviation 1 whose knots lie scale_mm (or x, y apart) apart."""
        across, down = scale_mm if isinstance(scale_mm, tuple) else (scale_mm, scale_mm)
        rows, columns = self.shape
        knots = rng.standard_normal(
            (math.ceil(self.size_mm[1] / down) + 4, math.ceil(self.size_mm[0] / across) + 4), dtype=np.float32
        )
        # Drawn by cubics on cells that are a fifth of the knots' distance, and by lines between them.
        coarse = max(1, int(min(across, down) / (5 * self.cell_mm)))
        cell = self.cell_mm * coarse
        to_knots = np.array([[cell / across, 0, 1.5], [0, cell / down, 1.5]], dtype=np.float64)
        field = cv2.warpAffine(
            knots,
            to_knots,
            (-(-columns // coarse), -(-rows // coarse)),
            flags=cv2.INTER_CUBIC | cv2.WARP_INVERSE_MAP,
            borderMode=cv2.BORDER_REFLECT,
        )
        if coarse > 1:
            field = cv2.resize(field, None, fx=coarse, fy=coarse, interpolation=cv2.INTER_LINEAR)[:rows, :columns]
        return np.asarray(field / _CUBIC_QUIETS, dtype=np.float32)

    def fractal(self, rng: np.random.Generator, coarsest_mm: float, finest_mm: float, fall: float = 0.6) -> Field:
        """Smooth fields of halved scale and weaker by `fall` each, summed; standard deviation 1."""
        total: Field = np.zeros(self.shape, dtype=np.float32)
        scale, weight, power = coarsest_mm, 1.0, 0.0
        while scale >= max(finest_mm, self.cell_mm):
            total += np.float32(weight) * self.smooth(rng, scale)
            power += weight**2
            scale, weight = scale / 2, weight * fall
        return total / np.float32(math.sqrt(power)) if power else total

    def grain(self, rng: np.random.Generator) -> Field:
        """What differs from cell to cell: sand. Its strength is that of a cell of 1 mm, whatever the cell."""
        return rng.standard_normal(self.shape, dtype=np.float32)


def single(field: npt.ArrayLike) -> Field:
    """In single precision, whatever numpy or OpenCV made of it."""
    return np.asarray(field, dtype=np.float32)


def blurred(field: Field, sigma: float, border: int = cv2.BORDER_DEFAULT) -> Field:
    """Blurred by a Gaussian of this standard deviation [cells]."""
    return single(cv2.GaussianBlur(field, (0, 0), sigma, borderType=border))


def smoothstep(field: Field, low: float, high: float) -> Field:
    """0 below low, 1 above high, without a kink between."""
    t = np.clip((field - np.float32(low)) / np.float32(high - low), 0, 1)
    return np.asarray(t * t * (3 - 2 * t), dtype=np.float32)


def quantile(field: Field, share: float) -> float:
    """The value below which this share of the field lies; read from every seventh cell."""
    return float(np.quantile(field.ravel()[::7], min(max(share, 0.0), 1.0)))
