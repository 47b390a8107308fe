"""One photo from its file to its figures, by the way of `photo.measuring`; or why it tells none."""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path

import cv2
import numpy as np

from fieldassist.cli.photo_ask import PROPOSED, AskedCorners, AskedPoint, PhotoAsk
from fieldassist.day.photo import Picture, look_at, look_closely, read, shows_through
from fieldassist.photo.back import Back
from fieldassist.photo.corners import propose_corners
from fieldassist.photo.measuring import MeasuredPhoto, by_paint, by_taps, dots_wanted, plan_of
from fieldassist.photo.picture import RGB, CannotTell, PhotoCorners, Point
from fieldassist.photo.square import Squared, in_order, to_back
from fieldassist.trade.message import Message, Refused, message
from fieldassist.trade.voids import BackCells, is_void

# Without corners a photo is looked at with so many dots along its longer side; a painted picture has as many or fewer.
_LOOK = 2000
_PAINTED = 4096
_DARK = 128
# Paint and its paper in all three colours, and how far a brush or the packing of a JPEG blurs where they meet [dots].
_BLACK, _WHITE, _BLURRED = 24, 231, 2
# What else may lie on a painted picture: a photo has far more of other tones.
_STRAY = 0.02
# By how much a painted picture's proportion may differ from the piece's.
_PROPORTION = 0.02


@dataclass(slots=True)
class PhotoAnswer:
    """What came of a photo.

    dots: its width and height in the file, upright; corners: in those dots; proposed: nobody set them; plan, found: as
    far as it came; cannot: why it came no further.
    """

    ask: PhotoAsk
    dots: tuple[int, int]
    corners: PhotoCorners | None = None
    proposed: bool = False
    plan: Squared | None = None
    unfit: Message | None = None
    found: MeasuredPhoto | None = None
    cannot: Message | None = None


def answer(ask: PhotoAsk) -> PhotoAnswer:
    """What a photo tells. That it cannot tell is an answer; `Refused` where there is nothing to look at: `day.photo`
    says why, and a painted picture that is not of the plan."""
    photo, dots = _taken_in(ask.file, ask.corners, ask.size_mm)
    told = PhotoAnswer(ask, dots)
    try:
        _go(told, photo)
    except CannotTell as reason:
        told.cannot = reason.told
    return told


def _go(told: PhotoAnswer, photo: RGB) -> None:
    """As far as it goes. Errors: `CannotTell`."""
    ask, small = told.ask, (photo.shape[1], photo.shape[0])
    if ask.corners and ask.corners != PROPOSED:
        told.corners = in_order(_on(ask.corners, told.dots), ask.size_mm)
    else:
        start = propose_corners(photo, ask.size_mm)
        if start is None:
            raise CannotTell(message("cli-photo-no-corners"))
        told.corners, told.proposed = _scaled(start, small, told.dots), True
        if not ask.corners:
            raise CannotTell(message("cli-photo-corners-first"))
    corners = _scaled(told.corners, told.dots, small)
    told.plan, told.unfit = plan_of(photo, corners, ask.size_mm)
    if ask.voids is not None:
        told.found = by_paint(told.plan, _painted(ask.voids, ask.size_mm))
    elif told.unfit is not None:
        raise CannotTell(told.unfit)
    elif ask.surface != "bare" or ask.mortar or ask.bare:
        mortar, bare = (
            [to_back(told.corners, ask.size_mm, at) for at in _on(taps, told.dots)] for taps in (ask.mortar, ask.bare)
        )
        told.found = by_taps(told.plan, mortar, bare, surface=ask.surface, raking=_raking(ask))
    else:
        raise CannotTell(message("cli-photo-taps-first"))


def _raking(ask: PhotoAsk) -> Squared | None:
    """The plan by the second photo, None where none was given. Errors: `CannotTell`, `Refused`."""
    if ask.second is None:
        return None
    photo, dots = _taken_in(ask.second, ask.second_corners, ask.size_mm)
    corners = in_order(_on(ask.second_corners, dots), ask.size_mm)
    plan, unfit = plan_of(photo, _scaled(corners, dots, (photo.shape[1], photo.shape[0])), ask.size_mm)
    if unfit is not None:
        raise CannotTell(unfit)
    return plan


def _taken_in(file: Path, corners: AskedCorners, size_mm: tuple[float, float]) -> tuple[RGB, tuple[int, int]]:
    """A photo, with as many dots as it takes, and how many it has in its file. Errors: `Refused`."""

    def longest(dots: tuple[int, int]) -> int:
        try:
            if corners and corners != PROPOSED:
                return dots_wanted(in_order(_on(corners, dots), size_mm), size_mm, dots)
        except Refused:
            pass  # it is told of the photo itself
        return min(max(dots), _LOOK)

    picture, dots = look_closely(read(file), file.name, longest)
    return _array(picture), dots


def _painted(file: Path, size_mm: tuple[float, float]) -> BackCells:
    """The cells of a back whose voids were painted black on a white picture in the plan's proportion.

    Errors: `Refused`, of another proportion, of a picture that shows more than paint, or through which its layer's
    ground is seen: there dark mortar would count as void, and what nobody painted as mortar; and of paper without any
    paint, which nobody may have looked at.
    """
    data = read(file)
    picture = look_at(data, file.name, _PAINTED)
    if abs(picture.wide / picture.high / (size_mm[0] / size_mm[1]) - 1) > _PROPORTION:
        raise Refused(message("cli-photo-voids-proportion", file=file.name, wide=picture.wide, high=picture.high))
    if shows_through(data, file.name):
        raise Refused(message("cli-photo-voids-transparent", file=file.name))
    stray = _neither(_array(picture))
    if stray > _STRAY:
        raise Refused(message("cli-photo-voids-not-painted", file=file.name, share=math.ceil(100 * stray)))
    back = Back(*size_mm)
    rows, columns = back.mortar.shape
    light = (cv2.cvtColor(_array(picture), cv2.COLOR_RGB2GRAY) >= _DARK).astype(np.float32)
    share = cv2.resize(light, (columns, rows), interpolation=cv2.INTER_AREA)
    cells = BackCells(np.rint(share * 255).astype(np.uint8).tobytes(), columns, back.cell_mm)
    if not any(is_void(cells)):
        raise Refused(message("cli-photo-voids-none", file=file.name))
    return cells


def _neither(picture: RGB) -> float:
    """The share of a picture that is neither black nor white, nor where the two meet."""
    black = (picture.max(axis=2) <= _BLACK).astype(np.uint8)
    white = (picture.min(axis=2) >= _WHITE).astype(np.uint8)
    around = np.ones((2 * _BLURRED + 1, 2 * _BLURRED + 1), np.uint8)
    meet = cv2.bitwise_and(cv2.dilate(black, around), cv2.dilate(white, around))
    return 1 - float(np.mean(cv2.bitwise_or(cv2.bitwise_or(black, white), meet)))


def _array(picture: Picture) -> RGB:
    return np.frombuffer(picture.pixels, np.uint8).reshape(picture.high, picture.wide, 3)


def _on(points: tuple[AskedPoint, ...], dots: tuple[int, int]) -> list[Point]:
    return [point.on(dots) for point in points]


def _scaled(corners: PhotoCorners, of: tuple[int, int], to: tuple[int, int]) -> PhotoCorners:
    """The same corners on the photo with another count of dots."""
    a, b, c, d = ((x * to[0] / of[0], y * to[1] / of[1]) for x, y in corners)
    return a, b, c, d
