"""A proposal of where a squared photo shows mortar, from a few taps; or why it cannot tell."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy as np

from fieldassist.photo.back import Back, MortarCells
from fieldassist.photo.doubt import TapsLeftOut, interval, left_out, must_agree, must_pass
from fieldassist.photo.gates import Doubts
from fieldassist.photo.picture import CannotTell, Floats, Point
from fieldassist.photo.second import second_opinion
from fieldassist.photo.square import Squared
from fieldassist.photo.taps import Taps, places
from fieldassist.photo.tones import fit, look, read_tones
from fieldassist.trade.message import message

__all__ = ["Examined", "Proposal", "examine", "must_be_taps", "propose"]

# Of mortar as of bare back: one shows nothing of how they scatter, more than these are not tapped by anybody.
LEAST_TAPS, MOST_TAPS = 2, 6
# Both ways err, in part to different sides; of thin slits the local thresholds err less. Ours: common practice, no
# published source, tried on drawn pictures.
_TONES_WEIGH = 0.2


@dataclass(frozen=True, slots=True)
class Proposal:
    """Where mortar is.

    mortar: rows x columns of cells, 0 void to 255 mortar, at borders a share; cell_mm: a cell's width and height [mm];
    percent: the mean of it; low, high: where the true share lies in nine of ten such pictures [percent]; doubts: what
    that comes from.
    """

    mortar: MortarCells
    cell_mm: tuple[float, float]
    percent: float
    low: float
    high: float
    doubts: Doubts


@dataclass(frozen=True, slots=True)
class Examined:
    """What a photo shows before it is asked whether that can be trusted."""

    mortar: MortarCells
    cell_mm: tuple[float, float]
    percent: float
    taps: Taps
    left: TapsLeftOut
    doubts: Doubts


def propose(squared: Squared, mortar: Sequence[Point], bare: Sequence[Point]) -> Proposal:
    """Tell mortar from bare back by taps on both [mm from the upper left corner of the piece].

    Of a skim-coated or combed back it cannot be told from one photo.
    Errors: `CannotTell` with the reason: too few taps or none on bare back, taps off the piece, a tap that contradicts
    the others, and where a doubt is too large.
    """
    seen = examine(squared, mortar, bare)
    must_agree(seen.taps, seen.left)
    must_pass(seen.doubts)
    low, high = interval(seen.percent, seen.doubts)
    return Proposal(seen.mortar, seen.cell_mm, seen.percent, low, high, seen.doubts)


def examine(squared: Squared, mortar: Sequence[Point], bare: Sequence[Point]) -> Examined:
    """All that is reckoned, whether or not it can be trusted. Errors: `CannotTell` for taps that are none."""
    must_be_taps(squared.size_mm, mortar, bare)
    pixels, mm_a_dot = squared.pixels, squared.mm_a_dot
    taps = places((pixels.shape[0], pixels.shape[1]), mm_a_dot, mortar, bare)
    dots = look(pixels, taps)
    tones = fit(dots)
    seen = read_tones(pixels, mm_a_dot, tones)
    second = second_opinion(pixels, mm_a_dot, taps)
    left = left_out(dots)
    share = _TONES_WEIGH * seen.share + (1 - _TONES_WEIGH) * second
    cells, cell_mm = _cells(share.astype(np.float32), squared.size_mm)
    percent = 100 * float(cells.mean()) / 255
    doubts = Doubts(
        apart=tones.apart(),
        methods=100 * abs(float(second.mean()) - float(seen.share.mean())),
        taps=max(left.percent) - min(left.percent),
        ambiguous=100 * float(seen.in_doubt.mean()),
        neither=100 * float(seen.neither.mean()),
        unlike=tones.unlike(),
    )
    return Examined(cells, cell_mm, percent, taps, left, doubts)


def must_be_taps(size_mm: tuple[float, float], mortar: Sequence[Point], bare: Sequence[Point]) -> None:
    """Errors: `CannotTell` for taps that nothing can be learnt from."""
    if not bare:
        raise CannotTell(message("measure-nothing-bare"))
    if not LEAST_TAPS <= len(mortar) <= MOST_TAPS or not LEAST_TAPS <= len(bare) <= MOST_TAPS:
        raise CannotTell(message("measure-taps-count", least=LEAST_TAPS, most=MOST_TAPS))
    wide, high = size_mm
    if not all(0 <= x <= wide and 0 <= y <= high for x, y in (*mortar, *bare)):
        raise CannotTell(message("measure-tap-off-the-piece"))


def _cells(share: Floats, size_mm: tuple[float, float]) -> tuple[MortarCells, tuple[float, float]]:
    """The share of mortar on the cells that a finger paints."""
    back = Back(*size_mm)
    rows, columns = back.mortar.shape
    small = cv2.resize(share, (columns, rows), interpolation=cv2.INTER_AREA)
    return np.clip(np.rint(small * 255), 0, 255).astype(np.uint8), back.cell_mm
