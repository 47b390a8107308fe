"""A photograph of a lifted piece whose truth is known: laid, lifted, lit, photographed."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal, TypeAlias

import cv2
import numpy as np
import numpy.typing as npt

from fieldassist.photo.picture import RGB, PhotoCorners
from tests.photo.rendering.bed import Bed, Ridges, lay
from tests.photo.rendering.camera import Camera, Sensor, aim
from tests.photo.rendering.fields import Dice, Field, Mask, Sheet, blurred, dice, single, smoothstep
from tests.photo.rendering.floor import floor
from tests.photo.rendering.light import Lamp, Spread, gloss, shade
from tests.photo.rendering.materials import Colour, Texture, paired
from tests.photo.rendering.surface import Surface, bare_back, behind_sheet, keyed_back, own_ridges

__all__ = ["Kind", "LiftedBack", "Rendered", "View", "photograph", "render"]

Kind = Literal["ordinary", "hard", "skim-coated", "combed", "clear sheet", "two lights"]
Light: TypeAlias = npt.NDArray[np.float32]

_SIZES = [(600.0, 300.0), (600.0, 600.0), (1200.0, 600.0), (800.0, 400.0), (2400.0, 1200.0)]
_SIZE_ODDS = [0.24, 0.24, 0.34, 0.15, 0.03]
_CONTRAST = 1.7  # of body and mortar in a channel, at least, in an ordinary picture


@dataclass(frozen=True, slots=True)
class View:
    """One photo, and where the piece's corners are in it."""

    photo: RGB
    corners: PhotoCorners
    camera: Camera


@dataclass(frozen=True, slots=True)
class Rendered:
    """A photo and its truth.

    corners: the true ones [dots]; the first is the back's upper left. size_mm: longer side, shorter side. truth: rows x
    columns of the back, True where mortar touched; seen: where it touched and is still there to be seen (what tore off
    clean is not); cell_mm: the side of a cell of both; percent, seen_percent: their shares; wanted_percent: what was
    asked of the bed; ridge_deg: along the ridges, clockwise from the longer side as seen, where ridges is "straight";
    facts: what the picture has; mm_a_dot: along the diagonal; raking: the second photo of "two lights".
    """

    seed: int
    kind: Kind
    photo: RGB
    corners: PhotoCorners
    size_mm: tuple[float, float]
    camera: Camera
    truth: Mask
    seen: Mask
    cell_mm: float
    percent: float
    seen_percent: float
    wanted_percent: float
    ridges: Ridges
    ridge_deg: float
    facts: frozenset[str]
    tilt_deg: float
    mm_a_dot: float
    raking: View | None = None


def _wanted(rng: np.random.Generator) -> float:
    """The contact to be had [%]: 40 to 100, mostly 80 to 99."""
    lot = rng.random()
    if lot < 0.68:
        return float(rng.uniform(80, 99))
    return float(rng.uniform(40, 80)) if lot < 0.95 else float(rng.uniform(99, 100))


def _camera(dice: Dice, size_mm: tuple[float, float], megapixels: float, *, hard: bool, upright: bool) -> Camera:
    rng = dice("camera")
    across, down = math.sqrt(megapixels * 1e6 * 4 / 3), math.sqrt(megapixels * 1e6 * 3 / 4)
    stands = rng.random() < 0.12  # the tablet held upright, the piece's longer side along its longer side
    frame = (round(down), round(across)) if stands else (round(across), round(down))
    tilt = float(rng.uniform(0, 6) if upright else rng.uniform(0, 40) if hard else min(abs(rng.normal(0, 8)), 18))
    return aim(
        size_mm,
        frame,
        tilt_deg=tilt,
        toward_deg=float(rng.uniform(0, 360)),
        roll_deg=float(rng.normal(0, 3 if not hard else 9)) + (90 if stands else 0),
        fill=float(rng.uniform(0.72, 0.94)),
        focal=float(rng.uniform(0.72, 1.05)),
        off=(float(rng.uniform(-0.6, 0.6)), float(rng.uniform(-0.6, 0.6))),
        bent=float(rng.uniform(-0.05, 0.05) if hard else rng.uniform(-0.012, 0.012)),
    )


def _lamp(dice: Dice, *, hard: bool) -> Lamp:
    rng = dice("lamp")
    warm = rng.uniform(-0.14, 0.14) if hard else rng.uniform(-0.06, 0.06)
    return Lamp(
        elevation_deg=float(rng.uniform(18, 80) if hard else rng.uniform(35, 80)),
        azimuth_deg=float(rng.uniform(0, 360)),
        ambient=float(rng.uniform(0.25, 0.8) if hard else rng.uniform(0.45, 0.85)),
        colour=(1 + warm, 1.0, 1 - warm),
    )


def _spread(dice: Dice, size_mm: tuple[float, float], facts: set[str], *, hard: bool) -> Spread:
    rng = dice("spread")
    width, height = size_mm
    steep = 0.28 if hard else 0.12
    # What falls off over a large piece comes from a lamp further away.
    reach = 1000 / max(width, 600)
    shadow = spot = None
    if hard and rng.random() < 0.35:
        facts.add("hard shadow")
        turn = float(rng.uniform(0, 2 * math.pi))
        at = (float(rng.uniform(0.2, 0.8) * width), float(rng.uniform(0.2, 0.8) * height))
        shadow = (*at, turn, float(rng.uniform(2, 25)), float(rng.uniform(0.25, 0.6)))
    if hard and rng.random() < 0.2:
        facts.add("flash")
        at = (float(rng.uniform(0.2, 0.8) * width), float(rng.uniform(0.2, 0.8) * height))
        spot = (*at, float(rng.uniform(40, 160)), float(rng.uniform(0.3, 1.5)))
    return Spread(
        middle=(width / 2, height / 2),
        slope=(float(rng.normal(0, steep) * reach), float(rng.normal(0, steep) * reach)),
        bow=float(rng.normal(-0.03, steep / 4) * reach**2),
        shadow=shadow,
        bend_mm=float(rng.uniform(0, 40)),
        spot=spot,
    )


def _sensor(dice: Dice, name: str, megapixels: float, facts: set[str], *, hard: bool) -> Sensor:
    rng = dice(name)
    fine = math.sqrt(megapixels / 1.2)  # a blur belongs to the lens and the hand, not to the count of dots
    moved = hard and rng.random() < 0.25
    if moved:
        facts.add("motion")
    cast = rng.uniform(0.92, 1.08, 3) if hard else rng.uniform(0.96, 1.04, 3)
    return Sensor(
        exposure=float(2 ** (rng.uniform(-1.6, 2.3) if hard else rng.uniform(-0.5, 0.25))),
        cast=(float(cast[0]), float(cast[1]), float(cast[2])),
        noise=float(rng.uniform(0.01, 0.06) if hard else rng.uniform(0.005, 0.025)),
        blur=float(rng.uniform(0.4, 2.4) if hard else rng.uniform(0.35, 1.0)) * fine,
        motion=float(rng.uniform(2, 7)) * fine if moved else 0.0,
        motion_deg=float(rng.uniform(0, 180)),
        contrast=float(rng.uniform(0, 0.5)),
        sharpen=float(rng.uniform(0, 0.8)),
        jpeg=int(rng.integers(35, 97) if hard else rng.integers(80, 97)),
    )


def _onto(field: Light, sheet: Sheet, x: Field, y: Field, mm_a_dot: float, border: int) -> Light:
    """What each dot sees of a sheet whose upper left corner is the origin of x and y [mm]."""
    ratio = mm_a_dot / sheet.cell_mm
    if ratio > 1:
        field = blurred(field, 0.45 * ratio)
    scale = np.float32(1 / sheet.cell_mm)
    seen = cv2.remap(field, x * scale - 0.5, y * scale - 0.5, cv2.INTER_LINEAR, borderMode=border)
    return single(seen)


def _lit(surface: Surface, sheet: Sheet, lamp: Lamp, spread: Spread, dice: Dice) -> Light:
    """The light that comes from the back."""
    light = shade(surface.height_mm, sheet.cell_mm, lamp)
    x, y = sheet.places()
    falls = spread.at(x, y)
    lit = surface.albedo * (light * falls)[..., None] * np.array(lamp.colour, dtype=np.float32)
    if surface.wet.any():
        rng = dice("gloss")
        glint = gloss(surface.height_mm, sheet.cell_mm, lamp, surface.wet, rng.uniform(60, 300))
        lit = lit + (glint * falls * np.float32(rng.uniform(0.1, 0.5) * (1 - lamp.ambient)))[..., None]
    return np.asarray(lit + spread.glare(x, y)[..., None], dtype=np.float32)


def _edged(lit: Light, sheet: Sheet, dice: Dice, mortar: Colour, facts: set[str]) -> None:
    """Mortar squeezed up over the piece's edges in lumps."""
    rng = dice("edges")
    if rng.random() < 0.4:
        facts.add("lumps at the edge")
        rows, columns = sheet.shape
        for _ in range(int(rng.integers(1, 5))):
            along, reach = rng.uniform(0, 1), rng.uniform(3, 9) / sheet.cell_mm
            at = [(along * columns, 0), (columns, along * rows), (along * columns, rows), (0, along * rows)]
            middle = at[int(rng.integers(4))]
            axes = (max(1, int(reach * rng.uniform(1, 3))), max(1, int(reach)))
            flat = axes if middle[1] in (0, rows) else axes[::-1]
            mask = np.zeros(sheet.shape, dtype=np.float32)
            cv2.ellipse(mask, (int(middle[0]), int(middle[1])), flat, 0, 0, 360, 1.0, -1)
            soft = blurred(mask, 1.0 / sheet.cell_mm)
            lit += soft[..., None] * (mortar * np.float32(rng.uniform(0.7, 1.1)) - lit)


def _reflected(
    dice: Dice, x: Field, y: Field, size_mm: tuple[float, float], facts: set[str], *, careful: bool
) -> Field:
    """What a clear sheet throws back of the room and the sky: shares of the light of a white surface."""
    rng = dice("reflected")
    width, height = size_mm
    veil = np.full(np.broadcast_shapes(x.shape, y.shape), rng.uniform(0.003, 0.012), dtype=np.float32)
    if careful:
        return veil
    facts.add("reflections")
    for _ in range(int(rng.integers(1, 4))):
        at = (rng.uniform(0, width), rng.uniform(0, height))
        turn, long, broad = rng.uniform(0, math.pi), rng.uniform(150, 700), rng.uniform(80, 350)
        run = single(np.abs((x - at[0]) * math.cos(turn) + (y - at[1]) * math.sin(turn)))
        side = single(np.abs((y - at[1]) * math.cos(turn) - (x - at[0]) * math.sin(turn)))
        soft = rng.uniform(5, 80)
        window = smoothstep(long / 2 - run, -soft, soft) * smoothstep(broad / 2 - side, -soft, soft)
        veil += np.float32(rng.uniform(0.03, 0.25)) * window
    return veil


@dataclass(frozen=True, slots=True)
class LiftedBack:
    """All of a piece that does not depend on the light: to be photographed once or twice."""

    dice: Dice
    size_mm: tuple[float, float]
    sheet: Sheet
    surface: Surface
    body: Colour
    mortar: Colour
    hard: bool


def photograph(back: LiftedBack, camera: Camera, lamp: Lamp, spread: Spread, sensor: Sensor, name: str) -> RGB:
    """The photo of a back that lies on a floor, or of a bed under its clear sheet."""
    dice, (width, height) = back.dice, back.size_mm
    x, y = camera.places()
    ends = np.array([[0.0, 0.0], [width, height]])
    mm_a_dot = float(np.hypot(*(ends[1])) / np.hypot(*np.diff(camera.dots(ends), axis=0)[0]))

    lit = _lit(back.surface, back.sheet, lamp, spread, dice)
    _edged(lit, back.sheet, dice, back.mortar * np.float32(0.9), back.surface.facts)
    if "clear sheet" in back.surface.facts:
        sx, sy = back.sheet.places()
        careful = "careful" in back.surface.facts
        lit = (
            lit * np.float32(0.86)
            + _reflected(dice, sx, sy, back.size_mm, back.surface.facts, careful=careful)[..., None]
        )
    piece = _onto(lit, back.sheet, x, y, mm_a_dot, cv2.BORDER_REPLICATE)
    inside = np.minimum(np.minimum(x, width - x), np.minimum(y, height - y)) / np.float32(mm_a_dot)
    share = np.clip(inside + 0.5, 0, 1)[..., None]

    # As much of the floor as the frame sees, in whole steps, so that more dots show the same floor.
    left, top = (math.floor(max(float(at.min()), -side) / 100) * 100.0 for at, side in ((x, width), (y, height)))
    right, bottom = (math.ceil(min(float(at.max()), 2 * side) / 100) * 100.0 for at, side in ((x, width), (y, height)))
    ground = Sheet((right - left, bottom - top), max(1.0, mm_a_dot * 0.9))
    around = floor(ground, dice, (-left, -top, width - left, height - top), back.mortar, hard=back.hard)
    # The piece stands a little over the floor and takes the lamp away beside it.
    gx, gy = ground.places()
    lean = 11 / math.tan(math.radians(max(lamp.elevation_deg, 25)))
    gx, gy = gx + np.float32(left), gy + np.float32(top)
    px = gx + lean * math.cos(math.radians(lamp.azimuth_deg))
    py = gy + lean * math.sin(math.radians(lamp.azimuth_deg))
    under = np.minimum(np.minimum(px, width - px), np.minimum(py, height - py))
    shadow = 1 - np.float32(1 - lamp.ambient) * smoothstep(under, -6, 4) - 0.25 * smoothstep(under, -25, 8)
    around *= (np.clip(shadow, 0.1, 1) * spread.at(gx, gy))[..., None] * np.array(lamp.colour, dtype=np.float32)
    around += spread.glare(gx, gy)[..., None]
    picture = _onto(around, ground, x - np.float32(left), y - np.float32(top), mm_a_dot, cv2.BORDER_REFLECT)

    # Its side, where the camera stands aslant: from the back's edge down to the floor, 10 mm behind.
    corners = np.array([[0, 0], [width, 0], [width, height], [0, height]], dtype=np.float64)
    hull = cv2.convexHull(np.concatenate([camera.dots(corners), camera.dots(corners, 10.0)]).astype(np.float32))
    side = np.zeros(picture.shape[:2], dtype=np.uint8)
    cv2.fillConvexPoly(side, np.round((hull - 0.5) * 16).astype(np.int32), 255, cv2.LINE_AA, 4)
    edge = back.body * np.float32(0.55 * lamp.ambient + 0.2)
    picture += (side.astype(np.float32) / 255)[..., None] * (edge - picture)

    picture += share * (piece - picture)
    # The lens' falling off, and the camera's own exposure: by the piece most, the brightest of it not burnt.
    picture *= _vignette(camera.frame, 0.25 if back.hard else 0.12)[..., None]
    few, of_piece = picture[::6, ::6], share[::6, ::6, 0] > 0.5
    middle = 0.75 * float(few[of_piece].mean()) + 0.25 * float(few.mean())
    bright = float(np.quantile(few[of_piece].max(axis=1), 0.97))
    picture *= np.float32(min(0.2 / max(middle, 0.01), 0.72 / max(bright, 0.02)))
    return sensor.expose(picture, dice(f"grain {name}"))


def _vignette(frame: tuple[int, int], loss: float) -> Field:
    """What the lens lets through, less toward the corners."""
    x = np.linspace(-1, 1, frame[0], dtype=np.float32)[None, :]
    y = np.linspace(-1, 1, frame[1], dtype=np.float32)[:, None]
    return np.asarray(1 - np.float32(loss / 2) * (x * x + y * y), dtype=np.float32)


def _sheet_for(size_mm: tuple[float, float], megapixels: float) -> Sheet:
    """Cells finer than the photo's dots, 1 mm at most."""
    dot = size_mm[0] / (0.8 * math.sqrt(megapixels * 1e6 * 4 / 3))
    return Sheet(size_mm, 0.5 if dot < 0.9 else 1.0)


def _bed(dice: Dice, sheet: Sheet, keyed_mm: Field | None) -> Bed:
    return lay(sheet, dice, _wanted(dice("wanted")), keyed_mm=keyed_mm)


def render(
    seed: int, kind: Kind = "ordinary", *, megapixels: float = 1.2, careful: bool = False, texture: bool = False
) -> Rendered:
    """A photo of known truth.

    Parameters: seed, by the rule of this package's seeds; megapixels of the photo, 0.3 to 12; careful: a clear sheet
    photographed by the rule (a dark board over it, a low lamp from one side, upright); texture: the mortar, or it and
    the body, have the unevenness of photographed brick, gravel or grass.
    """
    rolls = dice(seed, kind)
    hard = kind == "hard"
    rng = rolls("piece")
    size_mm = _SIZES[int(rng.choice(len(_SIZES), p=_SIZE_ODDS))]
    sheet = _sheet_for(size_mm, megapixels)
    skin: Texture = "none" if not texture else "mortar" if rng.random() < 0.5 else "both"
    # Of hard ones every fourth may have any two colours; the others can be told apart by a good eye.
    factor = _CONTRAST * 1.05 if kind == "ordinary" else 1.25 if hard and rolls("contrast").random() < 0.75 else 1.0
    body_name, body, mortar_name, mortar = paired(rolls, factor)

    combed = kind == "combed" or (kind == "two lights" and rng.random() < 0.5)
    ridge, keyed = own_ridges(sheet, rolls) if combed else (None, None)
    bed = _bed(rolls, sheet, keyed)
    if kind in ("ordinary", "hard"):
        surface = bare_back(sheet, rolls, bed, body, mortar, skin, hard=hard)
    elif kind == "clear sheet":
        surface = behind_sheet(sheet, rolls, bed, mortar, skin)
    else:
        surface = keyed_back(sheet, rolls, bed, mortar, skin, ridge)
    facts = surface.facts
    facts |= {f"{body_name} body", f"{mortar_name} mortar"}

    upright = careful or kind == "two lights"
    if careful:
        facts.add("careful")
    back = LiftedBack(rolls, size_mm, sheet, surface, body, mortar, hard)
    camera = _camera(rolls, size_mm, megapixels, hard=hard, upright=upright)
    lamp, spread = _lamp(rolls, hard=hard), _spread(rolls, size_mm, facts, hard=hard)
    sensor = _sensor(rolls, "sensor", megapixels, facts, hard=hard)
    raking: View | None = None
    if kind == "two lights":
        lots = rolls("two lights")
        lamp = lamp.turned(float(lots.uniform(60, 80)), lamp.azimuth_deg)
        low = Lamp(float(lots.uniform(14, 26)), float(lots.uniform(0, 360)), float(lots.uniform(0.1, 0.3)), lamp.colour)
        again = camera.nudged((float(lots.normal(0, 4)), float(lots.normal(0, 4))), float(lots.normal(0, 0.3)))
        low_spread = _spread(dice(seed, f"{kind} raking"), size_mm, facts, hard=False)
        low_sensor = _sensor(rolls, "sensor raking", megapixels, facts, hard=False)
        photo = photograph(back, again, low, low_spread, low_sensor, "raking")
        raking = View(photo, again.corners(size_mm), again)
    elif careful:
        lamp = Lamp(float(rolls("low").uniform(18, 32)), lamp.azimuth_deg, 0.2, lamp.colour)
    photo = photograph(back, camera, lamp, spread, sensor, "photo")
    truth, seen = bed.contact, surface.seen
    ends = camera.dots(np.array([[0.0, 0.0], list(size_mm)]))
    return Rendered(
        seed=seed,
        kind=kind,
        photo=photo,
        corners=camera.corners(size_mm),
        size_mm=size_mm,
        camera=camera,
        truth=truth,
        seen=seen,
        cell_mm=sheet.cell_mm,
        percent=100.0 * float(np.count_nonzero(truth)) / truth.size,
        seen_percent=100.0 * float(np.count_nonzero(seen)) / seen.size,
        wanted_percent=bed.wanted_percent,
        ridges=bed.ridges,
        ridge_deg=bed.ridge_deg,
        facts=frozenset(facts),
        tilt_deg=camera.tilt_deg,
        mm_a_dot=float(math.hypot(*size_mm) / np.hypot(*np.diff(ends, axis=0)[0])),
        raking=raking,
    )
