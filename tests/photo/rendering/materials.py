"""What a lifted piece is made of: bodies with their relief and print, mortars. Colours are linear."""

from __future__ import annotations

import math
from typing import Literal, TypeAlias

import cv2
import numpy as np
import numpy.typing as npt
import skimage.data

from tests.photo.rendering.fields import Dice, Field, Sheet, blurred, single, smoothstep

__all__ = ["BODIES", "MORTARS", "Colour", "Texture", "coloured", "paired", "print_on", "relief", "with_texture"]

Colour: TypeAlias = npt.NDArray[np.float32]
Texture = Literal["none", "mortar", "both"]

# From memory, of fired clay and porcelain seen dry, and of cured and of wet cement; no published source.
BODIES: dict[str, tuple[float, float, float]] = {
    "white": (0.68, 0.66, 0.61),
    "ivory": (0.60, 0.53, 0.42),
    "beige": (0.46, 0.36, 0.26),
    "grey": (0.31, 0.31, 0.30),
    "dark grey": (0.15, 0.15, 0.15),
    "red": (0.42, 0.19, 0.11),
    "brown": (0.22, 0.13, 0.08),
    "black": (0.055, 0.054, 0.055),
}
MORTARS: dict[str, tuple[float, float, float]] = {
    "light grey": (0.42, 0.42, 0.40),
    "grey": (0.28, 0.28, 0.27),
    "wet grey": (0.17, 0.17, 0.165),
    "dark grey": (0.11, 0.11, 0.11),
    "white": (0.72, 0.71, 0.68),
    "wet white": (0.52, 0.50, 0.46),
    "tan": (0.40, 0.32, 0.23),
}


def paired(dice: Dice, factor: float) -> tuple[str, Colour, str, Colour]:
    """A body and a mortar whose colours differ by at least this factor in one channel; 1 for any two."""
    rng = dice("colours")
    while True:
        body, mortar = rng.choice(list(BODIES)), rng.choice(list(MORTARS))
        body_is = np.array(BODIES[body], dtype=np.float32) * np.float32(rng.uniform(0.85, 1.15))
        mortar_is = np.array(MORTARS[mortar], dtype=np.float32) * np.float32(rng.uniform(0.85, 1.15))
        body_is *= rng.uniform(0.96, 1.04, 3).astype(np.float32)
        mortar_is *= rng.uniform(0.97, 1.03, 3).astype(np.float32)
        ratio = float(np.max(np.maximum(body_is / mortar_is, mortar_is / body_is)))
        if ratio >= factor:
            return str(body), np.clip(body_is, 0, 0.85), str(mortar), np.clip(mortar_is, 0, 0.85)


def coloured(field: Field, colour: Colour) -> Colour:
    """A share of light for each cell, times a colour."""
    return np.asarray(field[..., None] * colour, dtype=np.float32)


def relief(sheet: Sheet, dice: Dice) -> tuple[str, Field]:
    """The name of a back's relief, and its height [mm]; 0 is where the most of it stands."""
    rng = dice("relief")
    name = str(rng.choice(["flat", "waffle", "ribs", "dots"], p=[0.35, 0.25, 0.25, 0.15]))
    x, y = sheet.places()
    skin = sheet.fractal(rng, 40, 3, 0.5) * np.float32(0.03)
    deep = rng.uniform(0.25, 0.9)
    pitch = rng.uniform(9, 34)
    if name == "ribs":
        run = (x if rng.random() < 0.5 else y) + rng.uniform(0, pitch)
        away = single(np.abs(run / pitch - np.round(run / pitch)) * pitch)
        return name, skin - np.float32(deep) * smoothstep(-away, -pitch * 0.16, -pitch * 0.10)
    if name == "waffle":
        groove = pitch * 0.1 + 0.7
        ax = single(np.abs(x / pitch - np.round(x / pitch)) * pitch)
        ay = single(np.abs(y / pitch - np.round(y / pitch)) * pitch)
        sunk = np.maximum(smoothstep(-ax, -groove - 0.5, -groove + 0.3), smoothstep(-ay, -groove - 0.5, -groove + 0.3))
        # Raised bars or sunk ones.
        return name, single(skin + (deep if rng.random() < 0.5 else -deep) * sunk)
    if name == "dots":
        odd = single((np.round(y / pitch) % 2) * pitch / 2)
        dx = single(np.abs((x + odd) / pitch - np.round((x + odd) / pitch)) * pitch)
        dy = single(np.abs(y / pitch - np.round(y / pitch)) * pitch)
        return name, skin + np.float32(deep) * smoothstep(-np.hypot(dx, dy), -pitch * 0.27 - 0.6, -pitch * 0.27)
    return name, skin


def print_on(sheet: Sheet, dice: Dice) -> Field | None:
    """How dark the print on a back is, 0 to 1: arrows and letters that a factory might put there. None for no print."""
    rng = dice("print")
    if rng.random() < 0.5:
        return None
    rows, columns = sheet.shape
    ink = np.zeros((rows, columns), dtype=np.uint8)
    dot = 1 / sheet.cell_mm

    def place() -> tuple[int, int]:
        return int(rng.uniform(0.05, 0.75) * columns), int(rng.uniform(0.15, 0.95) * rows)

    for _ in range(int(rng.integers(1, 5))):
        text = str(rng.choice(["TOP", "B 12", "KILN 4", "0815", "A", "R9", "SIDE 2"]))
        tall = rng.uniform(14, 55)
        cv2.putText(ink, text, place(), cv2.FONT_HERSHEY_SIMPLEX, tall * dot / 22, 255, max(1, round(tall * dot / 9)))
    for _ in range(int(rng.integers(0, 4))):
        at, turn, long = place(), rng.choice([0, 90, 180, 270]), rng.uniform(40, 130) * dot
        tip = (int(at[0] + long * math.cos(math.radians(turn))), int(at[1] + long * math.sin(math.radians(turn))))
        cv2.arrowedLine(ink, at, tip, 255, max(1, round(long / 12)), tipLength=0.3)
    worn = smoothstep(sheet.fractal(rng, 25, 2), -1.6, -0.6)
    return single(ink * worn * (rng.uniform(0.3, 0.85) / 255))


def with_texture(albedo: Colour, sheet: Sheet, dice: Dice, name: str) -> Colour:
    """The albedo with the unevenness of a photograph of a real surface (brick, gravel, grass: CC0, of scikit-image)."""
    rng = dice(f"texture {name}")
    picture = getattr(skimage.data, str(rng.choice(["brick", "gravel", "grass"])))().astype(np.float32) / 255
    linear = single(picture**2.2)
    linear /= linear.mean()
    rows, columns = sheet.shape
    mm_a_dot = rng.uniform(0.2, 0.9)
    grow = sheet.cell_mm / mm_a_dot
    if grow > 1:
        linear = blurred(linear, 0.45 * grow)
    turn = np.array([[grow, 0, rng.uniform(0, 500)], [0, grow, rng.uniform(0, 500)]])
    tiled = cv2.warpAffine(
        linear, turn, (columns, rows), flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP, borderMode=cv2.BORDER_REFLECT
    )
    strength = np.float32(rng.uniform(0.3, 0.8))
    return np.clip(albedo * (1 + strength * (tiled - 1))[..., None], 0.01, 0.9)
