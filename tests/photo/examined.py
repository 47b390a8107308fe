"""One drawn picture examined as the tablet does it: corners set by hand, squared up, tapped, told apart."""

from __future__ import annotations

import multiprocessing
from collections.abc import Iterable
from dataclasses import dataclass

import cv2
import numpy as np

from fieldassist.photo.back import Back
from fieldassist.photo.doubt import TapsLeftOut
from fieldassist.photo.gates import Doubts
from fieldassist.photo.picture import CannotTell, Point
from fieldassist.photo.propose import examine
from fieldassist.photo.square import Squared, in_order, square_up, to_back
from fieldassist.trade.voids import BackCells, Reckoned, reckon
from tests.photo.rendering import Kind, Rendered, render, taps

__all__ = ["Case", "Found", "examined", "squared_and_tapped"]


# A corner is set with a magnifier, to so many dots.
_HAND_DOTS = 1.2


@dataclass(frozen=True, slots=True)
class Case:
    """A picture to draw. careless: taps near borders, now and then one on the wrong side."""

    seed: int
    kind: Kind
    careless: bool = False


@dataclass(frozen=True, slots=True)
class Found:
    """What was found, whether or not it can be trusted; refused: a code of what was refused before anything was found.

    true, shown: what the true back and the one that was found come to; torn: something tore off clean, which no photo
    shows.
    """

    case: Case
    percent: float
    refused: str = ""
    torn: bool = False
    doubts: Doubts | None = None
    left: TapsLeftOut | None = None
    true: Reckoned | None = None
    shown: Reckoned | None = None


def squared_and_tapped(drawn: Rendered, *, careless: bool) -> tuple[Squared, list[Point], list[Point]]:
    """As a person does it: corners a little off, then taps. Errors: `CannotTell`."""
    hand = np.random.default_rng(drawn.seed).normal(0, _HAND_DOTS, (4, 2))
    points = [(x + dx, y + dy) for (x, y), (dx, dy) in zip(drawn.corners, hand.tolist(), strict=True)]
    corners = in_order(points, drawn.size_mm)
    squared = square_up(drawn.photo, corners, drawn.size_mm)
    mortar, bare = (
        [to_back(corners, drawn.size_mm, point) for point in side] for side in taps(drawn, careless=careless)
    )
    return squared, mortar, bare


def _reckoned(mortar: np.ndarray, size_mm: tuple[float, float]) -> Reckoned:
    back = Back(*size_mm)
    return reckon(BackCells(mortar.tobytes(), mortar.shape[1], back.cell_mm), painted=False)


def _true_cells(drawn: Rendered) -> np.ndarray:
    rows, columns = Back(*drawn.size_mm).mortar.shape
    share = cv2.resize(drawn.truth.astype(np.float32), (columns, rows), interpolation=cv2.INTER_AREA)
    return np.clip(np.rint(share * 255), 0, 255).astype(np.uint8)


def one(case: Case) -> Found:
    """Draw one and examine it."""
    cv2.setNumThreads(1)
    drawn = render(case.seed, case.kind)
    torn = drawn.percent - drawn.seen_percent > 0.5
    try:
        squared, mortar, bare = squared_and_tapped(drawn, careless=case.careless)
        seen = examine(squared, mortar, bare)
    except CannotTell as cannot:
        return Found(case, drawn.percent, cannot.told.code, torn)
    true = _reckoned(_true_cells(drawn), drawn.size_mm)
    shown = _reckoned(seen.mortar, drawn.size_mm)
    return Found(case, drawn.percent, "", torn, seen.doubts, seen.left, true, shown)


def examined(cases: Iterable[Case], processes: int = 2) -> list[Found]:
    """All of them, in processes of their own, in their order."""
    with multiprocessing.Pool(processes) as pool:
        return pool.map(one, cases, chunksize=2)
