"""Pictures of anything but a lifted piece, with corners and taps forced onto them as if they were."""

from __future__ import annotations

import math
from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt
import skimage.data

from fieldassist.photo.picture import RGB, PhotoCorners, Point
from tests.photo.rendering.camera import Sensor, aim
from tests.photo.rendering.fields import Sheet, dice, smoothstep

__all__ = ["FEATURELESS", "NAMES", "Wrong", "wrong_subject"]

# Of scikit-image, free to use by its own list of sources; none that shows a person or a maker's name.
_PHOTOS = ("chelsea", "coffee", "coins", "page", "moon", "brick", "gravel", "grass", "text")
_DRAWN = (
    "black",
    "white",
    "flat wall",
    "wall in a gradient",
    "noise",
    "stripes",
    "chessboard",
    "set tiles",
    "face-down floor",
    "polished face",
    "plank",
    "window",
    "printed sheet",
    "blobs",
)
NAMES = _PHOTOS + _DRAWN
# What nobody may ever measure: nothing can be seen on it at all.
FEATURELESS = frozenset({"black", "white", "flat wall", "wall in a gradient"})
# Where a framed thing lies in its drawing, as shares of it.
_FACE = np.array([[0.12, 0.12], [0.88, 0.12], [0.88, 0.88], [0.12, 0.88]])


@dataclass(frozen=True, slots=True)
class Wrong:
    """A wrong subject: its name, the photo, forced corners and size, and taps [dots].

    sly: the taps lie on light and on dark spots, as if somebody meant it; else anywhere.
    """

    name: str
    photo: RGB
    corners: PhotoCorners
    size_mm: tuple[float, float]
    mortar: tuple[Point, ...]
    bare: tuple[Point, ...]
    sly: bool


def wrong_subject(seed: int, name: str = "", *, megapixels: float = 1.2) -> Wrong:
    """A picture of a wrong subject; all names come in turn with the seeds, or the one that is named."""
    name = name or NAMES[seed % len(NAMES)]
    rng = dice(seed, f"wrong {name}")("all")
    frame = (round(math.sqrt(megapixels * 1e6 * 4 / 3)), round(math.sqrt(megapixels * 1e6 * 3 / 4)))
    size_mm = ((600.0, 300.0), (600.0, 600.0), (1200.0, 600.0))[int(rng.integers(3))]
    photo = _real(name, frame, rng) if name in _PHOTOS else _drawn(name, frame, rng)
    framed = name in ("polished face", "plank")  # a thing with a frame, its corners tapped where they are
    camera = aim(
        size_mm,
        frame,
        tilt_deg=float(rng.uniform(0, 20)),
        toward_deg=float(rng.uniform(0, 360)),
        roll_deg=float(rng.normal(0, 4)),
        fill=float(rng.uniform(0.6, 0.95)),
        focal=float(rng.uniform(0.72, 1.05)),
        off=(float(rng.uniform(-0.5, 0.5)), float(rng.uniform(-0.5, 0.5))),
        bent=0.0,
    )
    corners = camera.corners(size_mm)
    if framed:
        warp = cv2.getPerspectiveTransform(
            _FACE.astype(np.float32) * np.array(frame, dtype=np.float32), np.array(corners, dtype=np.float32)
        )
        moved = cv2.warpPerspective(photo, warp, frame, flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_REFLECT)
        photo = np.asarray(moved, dtype=np.uint8)
    inside = rng.uniform(0.06, 0.94, (60, 2)) * np.array(size_mm)
    dots = camera.dots(inside)
    sly = bool(rng.random() < 0.5)
    if sly:
        quiet = cv2.GaussianBlur(photo, (0, 0), 2).mean(axis=2)
        values = [quiet[int(np.clip(y, 0, frame[1] - 1)), int(np.clip(x, 0, frame[0] - 1))] for x, y in dots]
        dots = dots[np.argsort(values)]
        first, last = dots[4:7], dots[-7:-4]
        if rng.random() < 0.5:
            first, last = last, first
    else:
        first, last = dots[:3], dots[3:6]
    return Wrong(name, photo, corners, size_mm, _points(first), _points(last), sly)


def _points(dots: npt.NDArray[np.float64]) -> tuple[Point, ...]:
    return tuple((float(x), float(y)) for x, y in dots)


def _real(name: str, frame: tuple[int, int], rng: np.random.Generator) -> RGB:
    """A photo of scikit-image, cut and grown to the frame."""
    picture = getattr(skimage.data, name)()
    if picture.ndim == 2:
        picture = np.repeat(picture[..., None], 3, axis=2)
    picture = picture[..., :3]
    rows, columns = picture.shape[:2]
    grow = max(frame[0] / columns, frame[1] / rows) * rng.uniform(1.0, 1.3)
    picture = cv2.resize(picture, None, fx=grow, fy=grow, interpolation=cv2.INTER_CUBIC)
    top = int(rng.integers(0, max(1, picture.shape[0] - frame[1])))
    left = int(rng.integers(0, max(1, picture.shape[1] - frame[0])))
    return np.ascontiguousarray(picture[top : top + frame[1], left : left + frame[0]])


def _drawn(name: str, frame: tuple[int, int], rng: np.random.Generator) -> RGB:
    """A picture of a simple thing, through the same camera's noise and file."""
    sheet = Sheet((float(frame[0]), float(frame[1])), 1.0)
    x, y = sheet.places()
    light = np.ones((frame[1], frame[0], 3), dtype=np.float32)
    hue = rng.uniform(0.75, 1.15, (2, 3)).astype(np.float32)
    bright = rng.uniform(0.25, 0.6)
    colour, other = bright * hue[0], bright * rng.uniform(0.1, 0.5) * hue[1]
    if rng.random() < 0.5:
        colour, other = other, colour
    turn = rng.uniform(0, math.pi)
    run = x * math.cos(turn) + y * math.sin(turn)
    side = y * math.cos(turn) - x * math.sin(turn)
    pitch = rng.uniform(20, 160)

    def two(share: npt.NDArray[np.float32]) -> npt.NDArray[np.float32]:
        return np.asarray(colour + share[..., None] * (other - colour), dtype=np.float32)

    if name == "black":
        light *= rng.uniform(0, 0.006)
    elif name == "white":
        light *= rng.uniform(1.1, 3)
    elif name in ("flat wall", "wall in a gradient"):
        light *= colour * (1 + 0.01 * sheet.fractal(rng, 200, 4))[..., None]
        if name == "wall in a gradient":
            light *= (0.4 + 1.2 * (run - run.min()) / (run.max() - run.min()))[..., None]
    elif name == "noise":
        light = np.clip(0.4 + 0.25 * rng.standard_normal(light.shape, dtype=np.float32), 0, 1)
    elif name == "stripes":
        light = two(smoothstep(np.asarray(np.sin(run / pitch * 6.28), dtype=np.float32), -0.2, 0.2))
    elif name == "chessboard":
        light = two(np.asarray(((run // pitch + side // pitch) % 2), dtype=np.float32))
    elif name in ("set tiles", "face-down floor"):
        # Tiles set on a floor, their joints between them: frames in plenty, one material.
        long, joint = pitch * 3 + 60, rng.uniform(3, 9)
        gap = np.minimum(np.abs(run % long - long / 2), np.abs(side % long - long / 2) if name == "set tiles" else 99)
        light = two(smoothstep(np.asarray(joint - gap, dtype=np.float32), -1, 1))
        light *= (1 + 0.08 * sheet.fractal(rng, 150, 4))[..., None]
    elif name in ("polished face", "plank"):
        veins = sheet.fractal(rng, 200, 5) if name == "polished face" else sheet.smooth(rng, (400, 6))
        light = light * colour * (1 + 0.12 * veins)[..., None]
        inside = np.minimum(
            np.minimum(x, frame[0] - x) - frame[0] * 0.12, np.minimum(y, frame[1] - y) - frame[1] * 0.12
        )
        light = np.where((inside > 0)[..., None], light, other * (1 + 0.1 * sheet.fractal(rng, 60, 3))[..., None])
    elif name == "window":
        panes = np.minimum(np.abs(x % 300 - 150), np.abs(y % 400 - 200))
        light = np.where((panes > 14)[..., None], 0.9 + 0.4 * sheet.smooth(rng, 300)[..., None], np.float32(0.05))
        light = np.broadcast_to(light, (frame[1], frame[0], 3)).astype(np.float32)
    elif name == "printed sheet":
        light *= 0.75
        words = np.zeros(light.shape[:2], dtype=np.uint8)
        for line in range(60, frame[1], 34):
            cv2.putText(words, "lorem ipsum dolor sit amet " * 4, (40, line), cv2.FONT_HERSHEY_SIMPLEX, 0.8, 255, 2)
        light *= (1 - 0.9 * words.astype(np.float32) / 255)[..., None]
    else:
        light = two(smoothstep(sheet.fractal(rng, pitch, 4), -0.1, 0.1))
    sensor = Sensor(1.0, (1.0, 1.0, 1.0), 0.015, 0.8, 0.0, 0.0, 0.1, 0.3, 88)
    return sensor.expose(np.ascontiguousarray(light, dtype=np.float32), rng)
