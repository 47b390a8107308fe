"""Whether a photo can be measured on at all: what is burnt, dark, grossly blurred or no lifted piece is refused, with
its reason and what to do. A camera's live picture is looked at more coarsely, for hints before the shutter.

The limits were fixed on renderings, seeds 10,000 to 19,999 (tests/photo/figures), since no real photo of a lifted back
was to be had.
"""

from __future__ import annotations

import math

import cv2
import numpy as np

from fieldassist.photo.corners import propose_corners
from fieldassist.photo.picture import RGB, CannotTell, Floats, PhotoCorners
from fieldassist.photo.sides import side_seen, small_photo
from fieldassist.photo.square import Squared, fit
from fieldassist.trade.limits import exactly
from fieldassist.trade.message import Message, message
from fieldassist.trade.quantities import Quantity

__all__ = ["blur_mm", "check_picture", "frame_aslant", "frame_hints"]


# A dot is burnt where all channels are as light as this, dark where none is lighter than that; the shares of the back
# that may be.
BURNT, DARK = 250, 20
MOST_BURNT, MOST_DARK = 0.05, 0.4
# What one dot of a photo may see at worst, where mortar is told from back by reckoning [mm]: slits are a few
# millimetres wide. A person who paints sees them for longer (`square.MOST_SOURCE_MM`).
MOST_RECKONED_MM = 2.0
# The spread of the blur (of a Gaussian) that may be [mm]. By blurring again it is told to a factor of two at best.
MOST_BLUR_MM = 2.2
# How far a line along each side stands out from those beside it, at least: by the share of its length that shows a
# border. In gravel any line is as good as any other.
LEAST_STANDS_OUT = 0.1
# A corner may be set this far off, in diagonals.
_OFF = 0.012
# Of a live picture: how far a proposed outline must stand out to be believed, and the tilt from which it is told.
_CLEAR_OUTLINE, _FRAME_ASLANT_DEG = 0.25, 20.0
_ASLANT = Message("measure-hint-aslant")
# Of the same: the part of it that the piece should fill; its mean lightness (of 255) at least; the share of burnt
# dots that is a glare; and the spread of the blur at most [dots].
_FRAME, _LEAST_LIGHT, _GLARE, _FRAME_BLUR = 0.8, 45.0, 0.004, 3.0


def check_picture(photo: RGB, corners: PhotoCorners, squared: Squared) -> None:
    """That a photo can be measured on.

    Parameters: photo; corners, in order, as set on it; squared, its plan by them.
    Errors: `CannotTell` where a dot sees too much, where too much is burnt or dark, where it is grossly blurred, and
    where no border is seen along a side, so that the corners are not those of a piece.
    """
    if squared.source_mm > MOST_RECKONED_MM:
        seen, most = exactly(round(squared.source_mm, 1), "mm"), exactly(MOST_RECKONED_MM, "mm")
        raise CannotTell(message("measure-too-small", seen=seen, most=most))
    dark = float((squared.pixels.max(axis=2) < DARK).mean())
    if dark > MOST_DARK:
        raise CannotTell(message("measure-dark", share=_percent(dark)))
    burnt = float((squared.pixels.min(axis=2) >= BURNT).mean())
    if burnt > MOST_BURNT:
        raise CannotTell(message("measure-burnt", share=_percent(burnt)))
    if blur_mm(squared) > MOST_BLUR_MM:
        raise CannotTell(Message("measure-blurred"))
    if stands_out(photo, corners) < LEAST_STANDS_OUT:
        raise CannotTell(Message("measure-no-sides"))


def frame_hints(frame: RGB, size_mm: tuple[float, float]) -> tuple[Message, ...]:
    """What to mend before the shutter, of a camera's live picture: the part that a piece of this size should fill.

    Made for ten pictures a second at 640 dots across.
    """
    grey = cv2.cvtColor(_amid(frame, size_mm), cv2.COLOR_RGB2GRAY)
    hints = []
    if float(grey.mean()) < _LEAST_LIGHT:
        hints.append(Message("measure-hint-dark"))
    burnt = float((grey >= BURNT).mean())
    if burnt > MOST_BURNT:
        hints.append(Message("measure-hint-burnt"))
    elif burnt > _GLARE:
        hints.append(Message("measure-hint-glare"))
    if _blur(grey.astype(np.float32), 2.0) > _FRAME_BLUR:
        hints.append(Message("measure-hint-blurred"))
    return tuple(hints)


def frame_aslant(frame: RGB, size_mm: tuple[float, float]) -> Message | None:
    """Whether a camera is held too far aslant, of its live picture, where the piece's outline is clear in it.

    It takes a seventh of a second of the processor: for now and then, not for each picture.
    """
    corners = propose_corners(frame, size_mm)
    if corners is None or stands_out(frame, corners) < _CLEAR_OUTLINE:
        return None
    try:
        aslant = fit(corners, size_mm, (frame.shape[1], frame.shape[0])).foreshortening
    except CannotTell as refused:
        return _ASLANT if refused.told.code == "measure-too-aslant" else None
    return _ASLANT if aslant < math.cos(math.radians(_FRAME_ASLANT_DEG)) else None


def stands_out(photo: RGB, corners: PhotoCorners) -> float:
    """How far the border along the least clear side stands out from lines beside it, 0 to 1."""
    small = small_photo(photo, corners)
    reach = _OFF * math.dist(corners[0], corners[2])
    sides = [side_seen(small, corners[k], corners[(k + 1) % 4], reach) for k in range(4)]
    return min(side.clear - side.around for side in sides)


def blur_mm(squared: Squared) -> float:
    """The spread of the blur of a plan [mm], by blurring it again: good for gross blur, no measurement."""
    grey = cv2.cvtColor(squared.pixels, cv2.COLOR_RGB2GRAY).astype(np.float32)
    again = 2.0 * max(1.0, squared.source_mm / squared.mm_a_dot)
    return _blur(grey, again) * squared.mm_a_dot


def _blur(grey: Floats, again: float) -> float:
    """The spread of the blur at the sharpest edges [dots]; again: that of the second blur.

    An edge blurred by s has a slope as 1/s, and by s and t one as 1/sqrt(s2 + t2); Zhuo and Sim, Pattern Recognition
    44, 2011. Infinite where nothing is to be seen.
    """
    # A little of noise is taken off first, which would pass for sharpness.
    first = cv2.GaussianBlur(grey, (0, 0), 0.8)
    slopes, blurred = (_slope(shown) for shown in (first, cv2.GaussianBlur(first, (0, 0), again)))
    sharpest = slopes >= np.quantile(slopes, 0.98)
    ratio = float(slopes[sharpest].mean()) / max(1e-6, float(blurred[sharpest].mean()))
    return again / math.sqrt(ratio**2 - 1) if ratio > 1 else math.inf


def _slope(grey: Floats) -> Floats:
    return np.hypot(cv2.Scharr(grey, cv2.CV_32F, 1, 0), cv2.Scharr(grey, cv2.CV_32F, 0, 1))


def _amid(frame: RGB, size_mm: tuple[float, float]) -> RGB:
    """The middle of a frame, in the proportion of the piece."""
    height, width = frame.shape[:2]
    long, short = max(size_mm), min(size_mm)
    across, down = (long, short) if width >= height else (short, long)
    scale = _FRAME * min(width / across, height / down)
    left, top = (max(0, round((whole - scale * side) / 2)) for whole, side in ((width, across), (height, down)))
    return frame[top : height - top, left : width - left]


def _percent(share: float) -> Quantity:
    return exactly(round(100 * share), "percent")
