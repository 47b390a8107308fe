"""The floor that a lifted piece lies on, and what lies about on a site. All of it invented, none of it anybody's."""

from __future__ import annotations

import math

import cv2
import numpy as np
import numpy.typing as npt

from tests.photo.rendering.fields import Dice, Sheet, smoothstep
from tests.photo.rendering.materials import Colour, coloured

__all__ = ["floor"]

_FLOORS: dict[str, tuple[float, float, float]] = {
    "slab": (0.30, 0.30, 0.28),
    "dusty slab": (0.45, 0.44, 0.41),
    "screed": (0.24, 0.24, 0.23),
    "plywood": (0.48, 0.34, 0.20),
    "paper": (0.55, 0.42, 0.29),
    "foil": (0.62, 0.63, 0.65),
    "dark mat": (0.05, 0.05, 0.055),
}


def floor(sheet: Sheet, dice: Dice, piece: tuple[float, float, float, float], mortar: Colour, *, hard: bool) -> Colour:
    """What lies around the piece (left, top, right, bottom [mm] on the sheet), its colour in linear light."""
    rng = dice("floor")
    name = str(rng.choice([*_FLOORS, "mortar-coloured"], p=[*([0.9 / 7] * 7), 0.1] if hard else [*([1 / 7] * 7), 0.0]))
    colour = mortar * np.float32(rng.uniform(0.85, 1.15)) if name == "mortar-coloured" else np.array(_FLOORS[name])
    value = 1 + 0.04 * sheet.smooth(rng, 400) + 0.03 * sheet.fractal(rng, 120, 15)
    value = value + rng.uniform(0.03, 0.08) * sheet.fractal(rng, 12, 1.5, 0.8)
    if name == "plywood":
        value = value + 0.09 * sheet.smooth(rng, (300, 6)) + 0.05 * sheet.smooth(rng, (120, 2.5))
    if name in ("paper", "foil"):
        value = value + 0.10 * np.abs(sheet.smooth(rng, 90)) - 0.05
    value = value + 0.03 * sheet.grain(rng)
    if "slab" in name or name == "screed":
        value = value + 0.2 * smoothstep(sheet.fractal(rng, 150, 4, 0.8), 0.8, 2.6)  # dust
        value = value - 0.35 * smoothstep(sheet.smooth(rng, 6), 2.2, 2.8)  # pores
        value = value + 0.06 * np.abs(sheet.smooth(rng, (90, 9)))  # the float's strokes
    ground = coloured(np.clip(value, 0.2, 2).astype(np.float32), colour.astype(np.float32))
    _clutter(ground, sheet, dice, piece, mortar, count=int(rng.integers(2, 14) if hard else rng.integers(0, 5)))
    return ground


def _clutter(
    ground: Colour,
    sheet: Sheet,
    dice: Dice,
    piece: tuple[float, float, float, float],
    mortar: Colour,
    count: int,
) -> None:
    """Spacers, offcuts, a cable, blobs of mortar, a board's edge, joints: with a soft shadow each."""
    rng = dice("clutter")
    dot = 1 / sheet.cell_mm
    rows, columns = sheet.shape
    left, top, right, bottom = piece

    def around() -> tuple[float, float]:
        """A place beside the piece, or under it where there is no room beside it."""
        at = (0.0, 0.0)
        for _ in range(20):
            at = (float(rng.uniform(0, sheet.size_mm[0])), float(rng.uniform(0, sheet.size_mm[1])))
            if not (left - 30 < at[0] < right + 30 and top - 30 < at[1] < bottom + 30):
                break
        return at

    for _ in range(count):
        at, turn = around(), rng.uniform(0, 180)
        what = str(rng.choice(["spacer", "offcut", "cable", "blob", "line", "tool"]))
        mask = np.zeros((rows, columns), dtype=np.uint8)
        shade = (rng.uniform(0.04, 0.6) * rng.uniform(0.6, 1.3, 3)).astype(np.float32)
        if what == "spacer":
            shade = np.array([0.7, 0.15, 0.1] if rng.random() < 0.5 else [0.7, 0.7, 0.7], dtype=np.float32)
            for angle in (turn, turn + 90):
                box = cv2.boxPoints(((at[0] * dot, at[1] * dot), (28 * dot, 6 * dot), angle))
                cv2.fillConvexPoly(mask, box.astype(np.int32), 255)
        elif what in ("offcut", "tool"):
            size = (rng.uniform(40, 220) * dot, rng.uniform(25, 110) * dot)
            cv2.fillConvexPoly(mask, cv2.boxPoints(((at[0] * dot, at[1] * dot), size, turn)).astype(np.int32), 255)
        elif what == "cable":
            onward = np.array([30 * math.cos(turn), 30 * math.sin(turn)])
            walk = np.cumsum(rng.normal(0, 18, (14, 2)) + onward, axis=0) + at
            cv2.polylines(mask, [(walk * dot).astype(np.int32)], False, 255, max(1, round(8 * dot)), cv2.LINE_AA)
        elif what == "line":
            way = 2000 * dot * np.array([math.cos(turn), math.sin(turn)])
            ends = np.array([np.array(at) * dot - way, np.array(at) * dot + way]).astype(np.int32)
            cv2.polylines(mask, [ends], False, 255, max(1, round(rng.uniform(2, 6) * dot)))
            shade *= 0.3
        else:
            shade = mortar
            axes = (int(rng.uniform(8, 40) * dot), int(rng.uniform(8, 25) * dot))
            cv2.ellipse(mask, (int(at[0] * dot), int(at[1] * dot)), axes, turn, 0, 360, 255, -1)
        _lay_down(ground, mask, shade, dot)


def _lay_down(ground: Colour, mask: npt.NDArray[np.uint8], shade: Colour, dot: float) -> None:
    """A thing of this shade with a soft shadow beside it; only where it lies is touched."""
    left, top, wide, high = cv2.boundingRect(mask)
    room = math.ceil(22 * dot)
    rows, columns = slice(max(0, top - room), top + high + room), slice(max(0, left - room), left + wide + room)
    mask, place = np.ascontiguousarray(mask[rows, columns]), ground[rows, columns]
    if not mask.size:
        return
    soft = cv2.GaussianBlur(mask, (0, 0), 5 * dot)
    moved = np.roll(soft, (round(4 * dot), round(3 * dot)), axis=(0, 1)).astype(np.float32) / 255
    place *= (1 - np.float32(0.4) * moved)[..., None]
    part = (cv2.GaussianBlur(mask, (0, 0), 0.8).astype(np.float32) / 255)[..., None]
    place += part * (shade - place)
