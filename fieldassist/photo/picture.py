"""What a photo of a back is made of: dots, points, and the refusal to tell more than it shows."""

from __future__ import annotations

from typing import Any, TypeAlias

import numpy as np
import numpy.typing as npt

from fieldassist.trade.message import Refused

__all__ = ["RGB", "CannotTell", "Floats", "PhotoCorners", "Point"]

# Rows x columns x 3: red, green, blue of sRGB (IEC 61966-2-1).
RGB: TypeAlias = npt.NDArray[np.uint8]
# Whatever is reckoned from them; OpenCV does not tell its kind.
Floats: TypeAlias = npt.NDArray[Any]
# In dots of a photo, or in millimetres of a back: x to the right, y down, from the upper left corner.
Point: TypeAlias = tuple[float, float]
# Clockwise as they are seen; the first becomes the upper left one, and the longer side lies across.
PhotoCorners: TypeAlias = tuple[Point, Point, Point, Point]


class CannotTell(Refused):
    """The photo does not show it; `told` says why, and what to do next. A full answer."""
