"""Light on a rough surface: lamps, shading from the normals, shadows that the relief casts."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import cv2
import numpy as np

from tests.photo.rendering.fields import Field, blurred, single, smoothstep

__all__ = ["Lamp", "Spread", "gloss", "shade"]


@dataclass(frozen=True, slots=True)
class Lamp:
    """A lamp or the sun: its height over the surface and where it stands [deg, clockwise from the longer side as seen],
    the share of the light that comes from all around, and its colour.
    """

    elevation_deg: float
    azimuth_deg: float
    ambient: float
    colour: tuple[float, float, float] = (1.0, 1.0, 1.0)

    def turned(self, elevation_deg: float, azimuth_deg: float) -> Lamp:
        """The same lamp moved."""
        return replace(self, elevation_deg=elevation_deg, azimuth_deg=azimuth_deg)


def _slopes(height_mm: Field, cell_mm: float) -> tuple[Field, Field]:
    gx = cv2.Sobel(height_mm, cv2.CV_32F, 1, 0, ksize=3, scale=1 / (8 * cell_mm))
    gy = cv2.Sobel(height_mm, cv2.CV_32F, 0, 1, ksize=3, scale=1 / (8 * cell_mm))
    return single(gx), single(gy)


def _cast(height_mm: Field, cell_mm: float, lamp: Lamp) -> Field:
    """Where the relief takes the lamp away, 0 to 1."""
    toward = (math.cos(math.radians(lamp.azimuth_deg)), math.sin(math.radians(lamp.azimuth_deg)))
    rise = math.tan(math.radians(lamp.elevation_deg))
    tallest = float(height_mm.max() - np.quantile(height_mm[::5, ::5], 0.02))
    far = min(tallest / rise, 40.0)
    dark = np.zeros_like(height_mm)
    rows, columns = height_mm.shape
    steps = min(14, math.ceil(far / cell_mm))
    for step in range(1, steps + 1):
        reach = far * step / steps
        move = np.array([[1, 0, reach * toward[0] / cell_mm], [0, 1, reach * toward[1] / cell_mm]])
        between = cv2.warpAffine(
            height_mm,
            move,
            (columns, rows),
            flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP,
            borderMode=cv2.BORDER_REPLICATE,
        )
        over = between - height_mm - np.float32(reach * rise)
        dark = np.maximum(dark, np.clip(over / np.float32(0.25 + 0.1 * reach), 0, 1))
    return dark


def shade(height_mm: Field, cell_mm: float, lamp: Lamp) -> Field:
    """The light that reaches each cell, 1 on a flat one that is nowhere in shadow."""
    gx, gy = _slopes(height_mm, cell_mm)
    up = math.sin(math.radians(lamp.elevation_deg))
    flat = math.cos(math.radians(lamp.elevation_deg))
    lx, ly = flat * math.cos(math.radians(lamp.azimuth_deg)), flat * math.sin(math.radians(lamp.azimuth_deg))
    steep = np.sqrt(1 + gx * gx + gy * gy)
    facing = np.clip((up - gx * np.float32(lx) - gy * np.float32(ly)) / steep, 0, None) / np.float32(max(up, 0.12))
    hidden = np.clip((blurred(height_mm, 5 / cell_mm) - height_mm) / 6, 0, 0.45)
    direct = np.minimum(facing, 2.6) * (1 - _cast(height_mm, cell_mm, lamp))
    return np.asarray(lamp.ambient * (1 - hidden) / steep**0.5 + (1 - lamp.ambient) * direct, dtype=np.float32)


def gloss(height_mm: Field, cell_mm: float, lamp: Lamp, wet: Field, power: float) -> Field:
    """Glints of a wet surface seen from straight above: light to be added."""
    gx, gy = _slopes(blurred(height_mm, 0.8 / cell_mm), cell_mm)
    flat, up = math.cos(math.radians(lamp.elevation_deg)), math.sin(math.radians(lamp.elevation_deg))
    half = np.array(
        [flat * math.cos(math.radians(lamp.azimuth_deg)), flat * math.sin(math.radians(lamp.azimuth_deg)), up + 1]
    )
    half /= np.linalg.norm(half)
    facing = (half[2] - gx * np.float32(half[0]) - gy * np.float32(half[1])) / np.sqrt(1 + gx * gx + gy * gy)
    return np.asarray(wet * np.clip(facing, 0, 1) ** power, dtype=np.float32)


@dataclass(frozen=True, slots=True)
class Spread:
    """How the light falls off over the place, in mm of the piece, and what stands in it.

    slope: change from the middle to 500 mm along x and y; bow: that of the square; shadow: None, or a point on its
    line, the direction across, how soft [mm] and what is left of the light; bend_mm: how far its line winds; spot:
    None, or its middle, radius [mm], strength.
    """

    middle: tuple[float, float]
    slope: tuple[float, float]
    bow: float
    shadow: tuple[float, float, float, float, float] | None = None
    bend_mm: float = 0.0
    spot: tuple[float, float, float, float] | None = None

    def at(self, x: Field, y: Field) -> Field:
        """The share of light at places [mm]."""
        dx, dy = (x - self.middle[0]) / 500, (y - self.middle[1]) / 500
        light = np.clip(1 + self.slope[0] * dx + self.slope[1] * dy + self.bow * (dx * dx + dy * dy), 0.15, 3)
        if self.shadow:
            at_x, at_y, turn, soft, left = self.shadow
            run = (x - at_x) * math.cos(turn) + (y - at_y) * math.sin(turn)
            side = (y - at_y) * math.cos(turn) - (x - at_x) * math.sin(turn)
            run = run + self.bend_mm * np.sin(side / 130) + self.bend_mm * 0.5 * np.sin(side / 47 + 1)
            light = light * (left + (1 - left) * smoothstep(np.asarray(run, dtype=np.float32), -soft, soft))
        return np.asarray(light, dtype=np.float32)

    def glare(self, x: Field, y: Field) -> Field:
        """The lamp's own light thrown back without the surface's colour."""
        if self.spot is None:
            return np.zeros((1, 1), dtype=np.float32)
        at_x, at_y, radius, strength = self.spot
        away = ((x - at_x) ** 2 + (y - at_y) ** 2) / radius**2
        return np.asarray(strength * (np.exp(-away) + 0.15 * np.exp(-away / 6)), dtype=np.float32)
