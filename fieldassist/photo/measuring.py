"""The one way from a decoded photo of a lifted back to its figures: the command line, the tablet and tests go it alike.

A photo is squared up and looked at first (`plan_of`). Then somebody paints its voids (`by_paint`), or taps show what is
mortar and what bare back (`by_taps`), which a person confirms or puts right by paint (`put_right`).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import cv2
import numpy as np

from fieldassist.photo.back import InscribedCircle, inscribed_circle
from fieldassist.photo.fitness import check_picture
from fieldassist.photo.gates import Doubts
from fieldassist.photo.picture import RGB, CannotTell, PhotoCorners, Point
from fieldassist.photo.propose import Proposal, propose
from fieldassist.photo.sheet import refuse_to_reckon
from fieldassist.photo.square import Squared, fit, square_up
from fieldassist.photo.swirls import RidgesSeen, ridges_seen
from fieldassist.photo.two_lights import SeenByTwo, TwoLightsDoubts, propose_two
from fieldassist.trade.message import Message, message
from fieldassist.trade.voids import BackCells, BackKind, Reckoned, painted_doubt, reckon, void_between

__all__ = ["PLAN_MM", "MeasuredPhoto", "by_paint", "by_taps", "dots_wanted", "plan_of", "put_right"]

# The scale of plans [mm a dot]: a ridge of the finest notch for tile is 5 to 6 mm from the next.
PLAN_MM = 1.0
# A photo is made small by halves while one of its dots sees no more than this amid the piece [mm].
_FINE_MM = 0.75
_MOST_HALVES = 3


@dataclass(frozen=True, slots=True)
class MeasuredPhoto:
    """What a photo of a back comes to.

    way: its cells were painted by hand, proposed from taps, or proposed and then put right by paint; cells; done: what
    they come to; low, high: the ends of the contact's interval [percent]; circle: the largest one in the largest void;
    ridges: how they ran; doubts: of what was proposed; proposed_percent: what was proposed before it was put right.
    """

    way: Literal["painted", "proposed", "corrected"]
    cells: BackCells
    done: Reckoned
    low: float
    high: float
    circle: InscribedCircle | None
    ridges: RidgesSeen
    doubts: Doubts | TwoLightsDoubts | None = None
    proposed_percent: float | None = None

    @property
    def percent(self) -> float:
        """The contact."""
        return self.done.percent

    @property
    def void_between(self) -> tuple[float, float]:
        """Between what the largest void lies [mm2]."""
        return void_between(self.cells)

    @property
    def circle_mm(self) -> float:
        """The diameter of that circle, 0 for none [mm]."""
        return 0.0 if self.circle is None else self.circle[2]


def dots_wanted(corners: PhotoCorners, size_mm: tuple[float, float], dots: tuple[int, int]) -> int:
    """How many dots along its longer side a photo of so many dots, with such corners, is decoded with at least.

    By halves, since that is what decoding a JPEG saves at (ITU-T T.81; the library's `draft`). Errors: as `square.fit`.

    >>> dots_wanted(((200, 200), (3800, 200), (3800, 2000), (200, 2000)), (1200, 600), (4000, 3000))
    2000
    """
    seen_mm = fit(corners, size_mm, dots).mm_a_dot
    halves = 0
    while halves < _MOST_HALVES and seen_mm * (2 << halves) <= _FINE_MM:
        halves += 1
    return -(-max(dots) // (1 << halves))


def plan_of(photo: RGB, corners: PhotoCorners, size_mm: tuple[float, float]) -> tuple[Squared, Message | None]:
    """The back as a plan to true scale; and why nothing can be reckoned from it, None where it can. It can be painted
    on in any case: a person sees through what misleads reckoning.

    Parameters: photo; corners, in order, in its dots; size_mm, the piece's two sides.
    Errors: `CannotTell`, as `square.fit`; what is unfit, as `fitness.check_picture`.
    """
    squared = square_up(photo, corners, size_mm, PLAN_MM)
    try:
        check_picture(photo, corners, squared)
    except CannotTell as unfit:
        return squared, unfit.told
    return squared, None


def by_taps(
    squared: Squared,
    mortar: Sequence[Point],
    bare: Sequence[Point],
    *,
    surface: BackKind = "bare",
    raking: Squared | None = None,
) -> MeasuredPhoto:
    """A proposal of where mortar touched, from taps on mortar that did and on bare back [mm from the upper left].

    raking: of a combed back a second plan, from a photo with the lamp low from a side; the first with it high.
    Errors: `CannotTell`, as `propose.propose` and `two_lights.propose_two`; of a back that was skim-coated, or combed
    and photographed once, where mortar that touched and mortar that did not have one colour; of a clear sheet.
    """
    if surface == "clear sheet":
        raise refuse_to_reckon()
    if surface == "skim-coated" or (surface == "combed" and raking is None):
        raise CannotTell(message("measure-keyed"))
    found: Proposal | SeenByTwo
    if surface == "combed" and raking is not None:
        found = propose_two(squared, raking, mortar, bare)
    else:
        found = propose(squared, mortar, bare)
    cells = BackCells(found.mortar.tobytes(), found.mortar.shape[1], found.cell_mm)
    done = reckon(cells, painted=False)
    ridges = ridges_seen(found.mortar, _dot_mm(cells), done.percent)
    return MeasuredPhoto("proposed", cells, done, found.low, found.high, inscribed_circle(cells), ridges, found.doubts)


def by_paint(squared: Squared, cells: BackCells) -> MeasuredPhoto:
    """What a back comes to whose voids were painted by hand over its plan."""
    done = reckon(cells)
    doubt = painted_doubt(done, squared.size_mm[0] * squared.size_mm[1])
    low, high = _around(done.percent, doubt, doubt)
    # A finger is too broad for single ridges: they are read from the plan itself.
    grey = cv2.cvtColor(squared.pixels, cv2.COLOR_RGB2GRAY)
    ridges = ridges_seen(grey, squared.mm_a_dot, done.percent)
    return MeasuredPhoto("painted", cells, done, low, high, inscribed_circle(cells), ridges)


def put_right(proposed: MeasuredPhoto, cells: BackCells) -> MeasuredPhoto:
    """A proposal after it was painted over: what it comes to now, with the doubt that it had."""
    done = reckon(cells, painted=False)
    low, high = _around(done.percent, proposed.percent - proposed.low, proposed.high - proposed.percent)
    circle, ridges, before = inscribed_circle(cells), proposed.ridges, proposed.percent
    return MeasuredPhoto("corrected", cells, done, low, high, circle, ridges, proposed.doubts, before)


def _around(percent: float, below: float, above: float) -> tuple[float, float]:
    return max(0.0, percent - below), min(100.0, percent + above)


def _dot_mm(cells: BackCells) -> float:
    return float(np.sqrt(cells.cell_mm[0] * cells.cell_mm[1]))
