"""The mortar: ridges of a notched trowel under a plate that is pressed down, and where the two touch.

A ridge of cross section V [mm2] is squeezed to the height of the gap g. Its sides stand at a fixed slope, so the void
between it and the next, at a pitch p, is a trapezoid (its bottom still bare) or a triangle (the feet have met):

    void = g p - V;   trapezoid: b = void / g + g c;   triangle: b = 2 sqrt(c void);   contact 2a = p - b

with b the void's width under the plate and c the cotangent of the slope. No mortar is lost or made: where there is more
than the gap holds it goes to where there is room, and the rest comes out at the edges. The gap varies: the plate lies
aslant, is warped, and the floor has bumps; how far it was pressed is found by bisection for the share that is wanted.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import cv2
import numpy as np

from tests.photo.rendering.fields import Dice, Field, Mask, Sheet, blurred, quantile, single, smoothstep

__all__ = ["Bed", "Notch", "Ridges", "lay", "open_width", "profile", "ridge_lines"]

Ridges = Literal["straight", "curved", "swirled"]
_SPREAD_MM = 18.0  # how far mortar flows under the plate while it is pressed
_LEAST_GAP_MM = 0.3  # sand holds the plate
_NEVER = np.float32(-9.0)  # a margin [mm] of a place that mortar does not reach
_EVERYWHERE = np.float32(9.0)


@dataclass(frozen=True, slots=True)
class Notch:
    """What a trowel leaves: ridges at a pitch [mm], as high and as broad at their foot [mm], and their sides' slope."""

    pitch_mm: float
    height_mm: float
    foot_mm: float
    cot: float

    @property
    def volume_mm2(self) -> float:
        """Of a ridge, per length: its cross section, a trapezoid."""
        return self.height_mm * (self.foot_mm - self.height_mm * self.cot)


@dataclass(frozen=True, slots=True)
class Bed:
    """Where mortar touches the plate.

    margin_mm: how far a place lies inside the contact (below 0: outside); thickness_mm: of the mortar that stands
    there; gap_mm; supply_mm: the mortar there were it spread flat; laid_mm: as it was combed on; ridge_deg: along the
    ridges, from the longer side, clockwise as seen, only where they are straight; across_mm: the ridges' running
    coordinate; wanted_percent: of the plate, what contact was asked for.
    """

    notch: Notch
    ridges: Ridges
    ridge_deg: float
    across_mm: Field
    margin_mm: Field
    thickness_mm: Field
    gap_mm: Field
    supply_mm: Field
    laid_mm: Field
    wanted_percent: float

    @property
    def seam(self) -> Field:
        """Where two ridges met, 0 to 1: a fine line of closed air."""
        pitch = np.float32(self.notch.pitch_mm)
        away = np.abs(self.across_mm - pitch * np.round(self.across_mm / pitch))
        return smoothstep(away, float(pitch) / 2 - 1.4, float(pitch) / 2 - 0.2)

    @property
    def contact(self) -> Mask:
        """Where it touches."""
        return self.margin_mm > 0

    @property
    def percent(self) -> float:
        """Of the plate that mortar touches."""
        return _percent(self.margin_mm)


def open_width(supply_mm: Field, gap_mm: Field, notch: Notch) -> Field:
    """How broad the void between two ridges is under the plate [mm].

    0 where the mortar fills the gap; more than the pitch where a ridge stays below the plate, as far as its sides would
    have to go on to meet it.
    """
    pitch, cot = np.float32(notch.pitch_mm), np.float32(notch.cot)
    volume, slope = supply_mm * pitch, gap_mm * cot
    void = np.maximum(gap_mm * pitch - volume, 0)
    triangle = 2 * np.sqrt(cot * void)
    lone = pitch + 2 * (slope - np.sqrt(cot * volume))
    touching = np.where(triangle <= 2 * slope, triangle, void / gap_mm + slope)
    return single(np.where(volume < slope * gap_mm, lone, touching))


def profile(away_mm: Field, half_mm: Field, gap_mm: Field, notch: Notch) -> Field:
    """How high the mortar stands away_mm from the middle of a ridge that touches half_mm to each side of it."""
    return single(np.clip(gap_mm - np.maximum(away_mm - half_mm, 0) / np.float32(notch.cot), 0, gap_mm))


def ridge_lines(sheet: Sheet, dice: Dice, pitch_mm: float, ridges: Ridges) -> tuple[Field, float]:
    """The coordinate that runs across the ridges [mm], and the direction along them [deg], for ridges drawn by lot."""
    rng = dice("ridges")
    x, y = sheet.places()
    width, height = sheet.size_mm
    wobble = sheet.smooth(rng, 170) * np.float32(rng.uniform(0.4, 2.2))
    along = float(rng.choice([0.0, 90.0, rng.uniform(0, 180)], p=[0.3, 0.4, 0.3]) + rng.normal(0, 3)) % 180
    if ridges == "straight":
        angle = math.radians(along)
        return np.asarray(-x * math.sin(angle) + y * math.cos(angle) + wobble, dtype=np.float32), along
    if ridges == "curved":
        # The arm turns about the shoulder; seen over the whole piece the ridges bend one way.
        away, where = rng.uniform(0.9, 1.6) * max(width, height) / 2 + 250, rng.uniform(0, 2 * math.pi)
        centre = (width / 2 + away * math.cos(where), height / 2 + away * math.sin(where))
        return np.asarray(np.hypot(x - centre[0], y - centre[1]) + wobble, dtype=np.float32), along
    # Swirls: strokes of the trowel in small arcs, each wiping out what lay under it.
    coarse = Sheet(sheet.size_mm, 8.0)
    cx, cy = coarse.places()
    strokes = int(1.5 * width * height / (230 * 230)) + 6
    owner = np.zeros(coarse.shape, dtype=np.uint8 if strokes < 255 else np.uint16)
    centres = np.zeros((strokes, 3), dtype=np.float32)
    for stroke in range(strokes):
        radius = rng.uniform(110, 330)
        at = (rng.uniform(0, width), rng.uniform(0, height))
        turn = rng.uniform(0, 2 * math.pi)
        centres[stroke] = (at[0] - radius * math.cos(turn), at[1] - radius * math.sin(turn), rng.uniform(0, pitch_mm))
        reach = np.hypot(cx - centres[stroke, 0], cy - centres[stroke, 1])
        angles = np.abs(np.angle(np.exp(1j * (np.arctan2(cy - centres[stroke, 1], cx - centres[stroke, 0]) - turn))))
        first = stroke == 0
        owner[(np.abs(reach - radius) < 125) & (angles * radius < rng.uniform(140, 300)) | first] = stroke
    fine = cv2.resize(owner, sheet.shape[::-1], interpolation=cv2.INTER_NEAREST)
    centre = centres[fine]
    return np.hypot(x - centre[..., 0], y - centre[..., 1]) + centre[..., 2] + wobble, along


def _lacking_mm(sheet: Sheet, dice: Dice, missing: float) -> Field:
    """How far inside the combed ground a place lies [mm]; bald patches, and edges or a corner without mortar, below 0.

    missing: the share of the piece that shall not be touched; what lacks stays well below it.
    """
    rng = dice("lacking")
    inside = np.full(sheet.shape, _EVERYWHERE)
    if rng.random() < 0.35:
        scale = rng.uniform(40, 130)
        blob = sheet.smooth(rng, scale) + np.float32(0.12) * sheet.smooth(rng, scale / 5)
        top = quantile(blob, 1 - min(rng.uniform(0.05, 0.6) * missing, 0.12))
        inside = np.minimum(inside, (top - blob) * np.float32(scale * 0.45))
    if rng.random() < 0.3:
        x, y = sheet.places()
        width, height = sheet.size_mm
        broken = sheet.smooth(rng, 60) * np.float32(7)
        room = rng.uniform(0.1, 0.35) * missing
        if rng.random() < 0.5:
            side = int(rng.integers(4))
            from_side = (y, width - x, height - y, x)[side]
            reach = min(room * (height, width, height, width)[side], 70)
        else:
            from_side = ((x if rng.random() < 0.5 else width - x) + (y if rng.random() < 0.5 else height - y)) * 0.7
            reach = min(math.sqrt(room * width * height), 150)
        if reach > 8:  # what is less is no more than a ragged edge
            inside = np.minimum(inside, from_side + broken - np.float32(reach))
    return np.asarray(inside, dtype=np.float32)


def _flow(laid_mm: Field, gap_mm: Field, cell_mm: float) -> Field:
    """What the mortar comes to when what the gap does not hold has gone to where there is room."""
    supply = laid_mm
    for _ in range(3):
        over = np.maximum(supply - gap_mm, 0)
        supply = supply - over + blurred(over, _SPREAD_MM / cell_mm, cv2.BORDER_CONSTANT)
    return np.asarray(np.minimum(supply, gap_mm), dtype=np.float32)


def _margin(bed: tuple[Field, Field, Field, Field, Field], gap_mm: Field, notch: Notch) -> tuple[Field, Field]:
    """How far inside the contact a place lies, and half of a ridge's contact [mm]."""
    away, supply, inside, ragged, keyed = bed
    height = np.float32(notch.height_mm)
    pressed = np.minimum(gap_mm, height)
    opened = open_width(supply, pressed, notch)
    half = single((notch.pitch_mm - opened) / 2)
    # A gap that lacks less than this of its mortar is closed: bubbles, no grooves.
    full = gap_mm - supply < 0.004 * gap_mm
    margin = np.where(full, _EVERYWHERE, half - away + (ragged - keyed) * np.minimum(opened / 4, 1))
    margin = np.minimum(margin, (height - gap_mm) * 4)
    return np.maximum(np.minimum(single(margin), inside), _NEVER), half


def _percent(margin_mm: Field) -> float:
    return 100.0 * float(np.count_nonzero(margin_mm > 0)) / margin_mm.size


def lay(
    sheet: Sheet, dice: Dice, wanted_percent: float, *, ridges: Ridges | None = None, keyed_mm: Field | None = None
) -> Bed:
    """A bed that touches wanted_percent of the plate.

    keyed_mm: how much narrower the contact is at a place, since the plate's back has ridges of its own.
    """
    rng = dice("bed")
    pitch = float(rng.choice([12.0, 16.0, 20.0, 24.0, 28.0], p=[0.1, 0.2, 0.3, 0.3, 0.1]))
    foot = pitch * rng.uniform(0.5, 0.6)
    notch = Notch(pitch, height_mm=foot * rng.uniform(0.7, 0.95), foot_mm=foot, cot=rng.uniform(0.2, 0.4))
    if ridges is None:
        lot = dice("ridge kind").random()
        ridges = "straight" if lot < 0.6 else "curved" if lot < 0.75 else "swirled"
    across, along = ridge_lines(sheet, dice, pitch, ridges)
    away = np.abs(across - pitch * np.round(across / pitch))
    missing = 1 - wanted_percent / 100
    inside = _lacking_mm(sheet, dice, missing)
    laid_fine = (
        np.float32(notch.volume_mm2 / pitch)
        * np.clip(1 + np.float32(rng.uniform(0.03, 0.09)) * sheet.fractal(rng, 120, 15), 0.3, 1.7)
        * smoothstep(inside, -6, 0)
    )
    # Aslant, warped, bumpy: the plate's height over the floor apart from how far it is pressed.
    x, y = sheet.places()
    across_piece, down_piece = x / sheet.size_mm[0] - 0.5, y / sheet.size_mm[1] - 0.5
    gap = rng.normal(0, 0.5) * across_piece + rng.normal(0, 0.5) * down_piece
    gap = gap + rng.normal(0, 0.9) * (across_piece**2 - 1 / 12) + rng.normal(0, 0.7) * (down_piece**2 - 1 / 12)
    gap = gap + rng.uniform(0.05, 0.3) * sheet.smooth(rng, rng.uniform(150, 350))
    gap = np.asarray(gap * (notch.volume_mm2 / pitch) / 4, dtype=np.float32)
    ragged = sheet.fractal(rng, 14, 2, 0.7) * np.float32(rng.uniform(0.3, 0.9))
    keyed = np.zeros((1, 1), dtype=np.float32) if keyed_mm is None else keyed_mm
    keyed = np.broadcast_to(keyed, sheet.shape)

    step = max(1, round(3 / sheet.cell_mm))
    few = [np.ascontiguousarray(part[::step, ::step]) for part in (away, laid_fine, inside, ragged, keyed)]
    gap_few, cell_few = np.ascontiguousarray(gap[::step, ::step]), sheet.cell_mm * step

    def pressed(by: float) -> tuple[Field, float]:
        """On the coarse grid: the supply, and the contact [%], with the plate this high."""
        under = np.maximum(gap_few + np.float32(by), _LEAST_GAP_MM)
        supply = _flow(few[1], under, cell_few)
        margin, _ = _margin((few[0], supply, few[2], few[3], few[4]), under, notch)
        return supply, _percent(margin)

    low, high = _LEAST_GAP_MM, notch.height_mm * 1.5  # pressed home, and hardly touching
    for _ in range(16):
        by = (low + high) / 2
        low, high = (by, high) if pressed(by)[1] > wanted_percent else (low, by)
    # The coarse grid misses fine borders: from there on by its slope, between what is known to be too low and too high.
    near = 0.04 * notch.height_mm
    slope = min((pressed(by + near)[1] - pressed(by - near)[1]) / (2 * near), -0.5)
    low, high = by - 10 * near, by + 10 * near
    for _ in range(8):
        gap_mm = np.maximum(gap + np.float32(by), _LEAST_GAP_MM)
        open_few = np.maximum(gap_few + np.float32(by), _LEAST_GAP_MM) - pressed(by)[0]
        lacks = cv2.resize(open_few, sheet.shape[::-1], interpolation=cv2.INTER_LINEAR)
        supply = single(np.clip(gap_mm - lacks, 0, gap_mm))
        margin, half = _margin((away, supply, inside, ragged, keyed), gap_mm, notch)
        off = wanted_percent - _percent(margin)
        if abs(off) < 0.2:
            break
        low, high = (by, high) if off < 0 else (low, by)
        by = by + off / slope if low < by + off / slope < high else (low + high) / 2
    return Bed(
        notch=notch,
        ridges=ridges,
        ridge_deg=along,
        across_mm=across,
        margin_mm=margin,
        thickness_mm=profile(away, half, np.minimum(gap_mm, np.float32(notch.height_mm)), notch),
        gap_mm=gap_mm,
        supply_mm=supply,
        laid_mm=laid_fine,
        wanted_percent=wanted_percent,
    )
