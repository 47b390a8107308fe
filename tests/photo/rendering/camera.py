"""A tablet's camera: where it stands, its lens, what its sensor and its software make of the light."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TypeAlias

import cv2
import numpy as np
import numpy.typing as npt

from fieldassist.photo.picture import RGB, PhotoCorners
from tests.photo.rendering.fields import Field, blurred, single

__all__ = ["Camera", "Sensor", "aim"]

Points: TypeAlias = npt.NDArray[np.float64]
_STEPS = 1 << 14  # of light, of a sensor of 14 bits


@dataclass(frozen=True, slots=True)
class Camera:
    """A camera over the plane of the back. Dots count from the photo's outer upper left corner.

    see: 3 x 4, from (x, y, z, 1) [mm] on the back, z away from the camera, to dots of a lens without distortion;
    frame: width and height [dots]; bent: a dot at the share r of the half diagonal from the middle shows what a lens
    without distortion shows at r (1 + bent r^2).
    """

    see: Points
    frame: tuple[int, int]
    bent: float
    tilt_deg: float

    @property
    def homography(self) -> Points:
        """3 x 3, from mm of the back to dots, apart from the lens' distortion."""
        return self.see[:, [0, 1, 3]]

    def dots(self, points_mm: Points, z_mm: float = 0.0) -> Points:
        """Where points of the back (n x 2) are seen (n x 2) [dots]."""
        plane = np.column_stack([points_mm, np.full(len(points_mm), z_mm), np.ones(len(points_mm))]) @ self.see.T
        straight = plane[:, :2] / plane[:, 2:]
        middle, half = self._middle()
        away = (straight - middle) / half
        seen = away
        for _ in range(12):
            seen = away / (1 + self.bent * np.sum(seen**2, axis=1, keepdims=True))
        return seen * half + middle

    def places(self) -> tuple[Field, Field]:
        """The place on the back's plane [mm] that each dot sees: x and y, rows x columns."""
        width, height = self.frame
        (mx, my), half = self._middle()
        ax = ((np.arange(width) + 0.5 - mx) / half).astype(np.float32)[None, :]
        ay = ((np.arange(height) + 0.5 - my) / half).astype(np.float32)[:, None]
        bend = 1 + np.float32(self.bent) * (ax * ax + ay * ay)
        px, py = ax * bend * np.float32(half) + np.float32(mx), ay * bend * np.float32(half) + np.float32(my)
        back = np.linalg.inv(self.homography).astype(np.float32)
        w = back[2, 0] * px + back[2, 1] * py + back[2, 2]
        return (back[0, 0] * px + back[0, 1] * py + back[0, 2]) / w, (
            back[1, 0] * px + back[1, 1] * py + back[1, 2]
        ) / w

    def corners(self, size_mm: tuple[float, float]) -> PhotoCorners:
        """The piece's corners [dots], from the upper left one of the back clockwise."""
        width, height = size_mm
        seen = self.dots(np.array([[0, 0], [width, 0], [width, height], [0, height]], dtype=np.float64))
        a, b, c, d = ((float(px), float(py)) for px, py in seen)
        return a, b, c, d

    def nudged(self, dots: tuple[float, float], turn_deg: float) -> Camera:
        """The camera held again in a hand: a little to the side, a little turned."""
        middle, _ = self._middle()
        c, s = math.cos(math.radians(turn_deg)), math.sin(math.radians(turn_deg))
        turn = np.array([[c, -s, 0], [s, c, 0], [0, 0, 1.0]])
        there, back = np.eye(3), np.eye(3)
        there[:2, 2], back[:2, 2] = middle + np.array(dots), -middle
        return replace(self, see=there @ turn @ back @ self.see)

    def _middle(self) -> tuple[Points, float]:
        width, height = self.frame
        return np.array([width / 2, height / 2]), math.hypot(width, height) / 2


def aim(
    size_mm: tuple[float, float],
    frame: tuple[int, int],
    *,
    tilt_deg: float,
    toward_deg: float,
    roll_deg: float,
    fill: float,
    focal: float,
    off: tuple[float, float],
    bent: float,
) -> Camera:
    """A camera that has the whole piece in its frame.

    tilt_deg: between its axis and the back's normal, leaning toward this direction; roll_deg: about its axis; fill: the
    share of the frame that the piece takes, the narrower way; focal: length as a share of the frame's longer side; off:
    how far from the frame's middle, as a share of what is free.
    """
    width, height = size_mm
    tilt, toward, roll = (math.radians(angle) for angle in (tilt_deg, toward_deg, roll_deg))
    axis = np.array([math.cos(toward), math.sin(toward), 0.0]) * tilt
    rotation = cv2.Rodrigues(np.array([0.0, 0.0, roll]))[0] @ cv2.Rodrigues(axis)[0]
    f = focal * max(frame)
    distance = f * max(width, height) / min(frame)
    corners = np.array([[0, 0, 0, 1], [width, 0, 0, 1], [width, height, 0, 1], [0, height, 0, 1]], dtype=np.float64)
    centred = np.eye(4)
    centred[0, 3], centred[1, 3] = -width / 2, -height / 2
    shift = np.array([frame[0] / 2, frame[1] / 2])
    see = np.zeros((3, 4))
    for _ in range(8):
        lens = np.array([[f, 0, shift[0]], [0, f, shift[1]], [0, 0, 1]])
        see = lens @ np.column_stack([rotation, [0, 0, distance]]) @ centred
        seen = corners @ see.T
        seen = seen[:, :2] / seen[:, 2:]
        low, high = seen.min(axis=0), seen.max(axis=0)
        takes = float(np.max((high - low) / np.array(frame)))
        distance *= takes / fill
        free = np.array(frame) - (high - low)
        shift = shift + np.array(frame) / 2 + np.array(off) * free / 2 - (low + high) / 2
    return Camera(see, frame, bent, tilt_deg)


@dataclass(frozen=True, slots=True)
class Sensor:
    """From light to the file.

    exposure: factor; cast: of red, green, blue; noise: of a half-bright dot, as a share of it; blur, motion [dots] with
    its direction [deg]; contrast: of the tone curve, 0 for the plain sRGB one; sharpen; jpeg: quality.
    """

    exposure: float
    cast: tuple[float, float, float]
    noise: float
    blur: float
    motion: float
    motion_deg: float
    contrast: float
    sharpen: float
    jpeg: int

    def _curve(self) -> npt.NDArray[np.float32]:
        """The file's value, 0 to 1, of light in steps: that of sRGB (IEC 61966-2-1), steeper in its middle."""
        light = np.linspace(0, 1, _STEPS + 1)
        tone = np.where(light <= 0.0031308, 12.92 * light, 1.055 * light ** (1 / 2.4) - 0.055)
        return np.asarray(tone + self.contrast * (tone * tone * (3 - 2 * tone) - tone), dtype=np.float32)

    def expose(self, light: npt.NDArray[np.float32], rng: np.random.Generator) -> RGB:
        """Linear light, rows x columns x 3, to the picture that the file gives back."""
        light = light * (np.float32(self.exposure) * np.array(self.cast, dtype=np.float32))
        if self.blur > 0:
            light = blurred(light, self.blur)
        if self.motion > 1:
            reach = math.ceil(self.motion) | 1
            way = np.zeros((reach, reach), dtype=np.float32)
            turn, half = math.radians(self.motion_deg), (reach - 1) / 2
            for step in np.linspace(-half, half, 4 * reach):
                way[round(half + step * math.sin(turn)), round(half + step * math.cos(turn))] += 1
            light = single(cv2.filter2D(light, -1, way / way.sum()))
        curve, picture = self._curve(), np.empty(light.shape, dtype=np.uint8)
        for channel in range(3):
            tone = np.ascontiguousarray(light[..., channel])
            grain = rng.standard_normal(tone.shape, dtype=np.float32)
            grain *= np.sqrt(np.maximum(tone, 0) * 0.5 + 0.01) * np.float32(self.noise)
            tone = curve[np.rint(np.clip(tone + grain, 0, 1) * _STEPS).astype(np.uint16)]
            if self.sharpen > 0:
                tone = tone + np.float32(self.sharpen) * (tone - blurred(tone, 1.2))
            picture[..., channel] = np.clip(tone * 255 + 0.5, 0, 255)
        _, file = cv2.imencode(".jpg", picture[..., ::-1], [cv2.IMWRITE_JPEG_QUALITY, self.jpeg])
        seen = np.asarray(cv2.imdecode(file, cv2.IMREAD_COLOR), dtype=np.uint8)
        return np.ascontiguousarray(seen[..., ::-1])
