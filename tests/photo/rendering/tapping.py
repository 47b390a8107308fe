"""Where an installer would tap: three clear spots of mortar that touched, three of bare back. And a careless one."""

from __future__ import annotations

import cv2
import numpy as np

from fieldassist.photo.picture import Point
from tests.photo.rendering.fields import Mask, dice
from tests.photo.rendering.scene import Rendered

__all__ = ["taps"]

_CLEAR_MM = 1.6  # a spot counts as clear where a finger sees nothing else so far around it
_BORDER_MM = 3.0


def _spots(inside: Mask, cell_mm: float, rng: np.random.Generator, count: int, *, careless: bool) -> list[Point]:
    """Points [mm] of a kind, apart from each other, none where there is no clear spot."""
    # Who is careful keeps away from the piece's edge too; who is not comes near the other kind.
    away = cv2.distanceTransform(np.pad(inside, 1).astype(np.uint8), cv2.DIST_L2, 5)[1:-1, 1:-1] * cell_mm
    clear = away >= _CLEAR_MM
    if not clear.any():
        return []
    if careless:
        other = cv2.distanceTransform(inside.astype(np.uint8), cv2.DIST_L2, 5) * cell_mm
        wanted = inside & (other <= _BORDER_MM)
        wanted = wanted if wanted.any() else clear
    else:
        # The clearest tenth: who looks for a spot takes a broad one.
        wanted = away >= max(_CLEAR_MM, float(np.quantile(away[clear], 0.8)) * 0.9)
    rows, columns = np.nonzero(wanted)
    found: list[Point] = []
    apart = 0.25 * max(inside.shape) * cell_mm
    for trial in range(200):
        at = int(rng.integers(len(rows)))
        point = ((columns[at] + 0.5) * cell_mm, (rows[at] + 0.5) * cell_mm)
        near = apart * (1 - trial / 200)
        if all(np.hypot(point[0] - x, point[1] - y) > near for x, y in found):
            found.append((float(point[0]), float(point[1])))
        if len(found) == count:
            break
    return found


def taps(rendered: Rendered, careless: bool = False, count: int = 3) -> tuple[tuple[Point, ...], tuple[Point, ...]]:
    """Points on mortar and on bare back [dots of the photo]; none of a kind that shows no clear spot.

    careless: within 3 mm of a border, and in every second picture one of all lies on the wrong side.
    """
    rng = dice(rendered.seed, f"{rendered.kind}/taps/{careless}")("taps")
    # One more of each than is asked: the wrong one of a careless hand.
    mortar = _spots(rendered.seen, rendered.cell_mm, rng, count + 1, careless=careless)
    bare = _spots(~rendered.seen, rendered.cell_mm, rng, count + 1, careless=careless)
    if careless and len(mortar) > count and len(bare) > count and rng.random() < 0.5:
        wrong, right = (mortar, bare) if rng.random() < 0.5 else (bare, mortar)
        wrong[int(rng.integers(count))] = right[count]
    mortar, bare = mortar[:count], bare[:count]

    def seen(points: list[Point]) -> tuple[Point, ...]:
        if not points:
            return ()
        dots = rendered.camera.dots(np.array(points, dtype=np.float64))
        return tuple((float(x), float(y)) for x, y in dots)

    return seen(mortar), seen(bare)
