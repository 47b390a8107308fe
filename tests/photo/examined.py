"""One drawn picture examined as the tablet does it: corners set by hand, squared up, tapped, told apart."""

from __future__ import annotations

import multiprocessing
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

import cv2
import numpy as np

from fieldassist.photo.back import Back, MortarCells
from fieldassist.photo.doubt import TapsLeftOut
from fieldassist.photo.fitness import check_picture
from fieldassist.photo.gates import Doubts
from fieldassist.photo.picture import CannotTell, PhotoCorners, Point
from fieldassist.photo.propose import examine
from fieldassist.photo.square import Squared, square_up, to_back
from fieldassist.trade.voids import BackCells, Reckoned, reckon, void_between
from tests.photo.rendering import Kind, Rendered, render, taps, wrong_subject

__all__ = [
    "Case",
    "CaseKind",
    "Found",
    "Tapped",
    "examined",
    "found_in",
    "one",
    "squared_and_tapped",
    "tapped",
    "true_cells",
]

CaseKind: TypeAlias = Kind | Literal["wrong subject"]

# Something tore off clean where that many points of the contact are not to be seen.
_TORN = 0.5
# A corner is set with a magnifier, to so many dots.
_HAND_DOTS = 1.2


@dataclass(frozen=True, slots=True)
class Case:
    """A picture to draw. kind: of a lifted back, or "wrong subject"; careless: taps near borders, now and then one on
    the wrong side.
    """

    seed: int
    kind: CaseKind
    careless: bool = False


@dataclass(frozen=True, slots=True)
class Found:
    """What was found, whether or not it can be trusted.

    percent: the true contact; refused: the code of what was refused before anything was found, "" otherwise; torn:
    something tore off clean, which no photo shows; wrong_taps: numbers of the taps that lie on the wrong side, those on
    mortar first; true, shown: what the true back and the one that was found come to.
    """

    case: Case
    percent: float
    refused: str = ""
    torn: bool = False
    wrong_taps: tuple[int, ...] = ()
    doubts: Doubts | None = None
    left: TapsLeftOut | None = None
    true: Reckoned | None = None
    shown: Reckoned | None = None
    void_mm2: tuple[float, float] = (0.0, 0.0)

    @property
    def error(self) -> float:
        """What was found less the truth [points]."""
        assert self.shown is not None
        return self.shown.percent - self.percent


def squared_and_tapped(drawn: Rendered, *, careless: bool = False) -> tuple[Squared, list[Point], list[Point]]:
    """As a person does it: corners a little off, then taps. Errors: `CannotTell`."""
    hand = np.random.default_rng(drawn.seed).normal(0, _HAND_DOTS, (4, 2)).tolist()
    a, b, c, d = ((x + dx, y + dy) for (x, y), (dx, dy) in zip(drawn.corners, hand, strict=True))
    corners = (a, b, c, d)
    squared = square_up(drawn.photo, corners, drawn.size_mm)
    check_picture(drawn.photo, corners, squared)
    mortar, bare = taps(drawn, careless=careless)
    return squared, _on_back(corners, drawn.size_mm, mortar), _on_back(corners, drawn.size_mm, bare)


def _on_back(corners: PhotoCorners, size_mm: tuple[float, float], points: Iterable[Point]) -> list[Point]:
    """Where a finger comes down; just beside the piece it is taken for its edge."""
    found = [to_back(corners, size_mm, point) for point in points]
    return [(min(max(x, 0.0), size_mm[0]), min(max(y, 0.0), size_mm[1])) for x, y in found]


@dataclass(frozen=True, slots=True)
class Tapped:
    """A drawn picture that is ready to be examined: squared up and tapped, and its truth; refused: why it is not."""

    case: Case
    percent: float
    torn: bool = False
    refused: str = ""
    squared: Squared | None = None
    mortar: tuple[Point, ...] = ()
    bare: tuple[Point, ...] = ()
    wrong_taps: tuple[int, ...] = ()
    true: MortarCells | None = None


def tapped(case: Case) -> Tapped:
    """Draw one, square it up and tap on it."""
    cv2.setNumThreads(1)
    if case.kind == "wrong subject":
        return _wrong(case)
    drawn = render(case.seed, case.kind)
    torn = drawn.percent - drawn.seen_percent > _TORN
    try:
        squared, mortar, bare = squared_and_tapped(drawn, careless=case.careless)
    except CannotTell as cannot:
        return Tapped(case, drawn.percent, torn, cannot.told.code)
    wrong = _wrong_taps(drawn, mortar, bare) if case.careless else ()
    return Tapped(case, drawn.percent, torn, "", squared, tuple(mortar), tuple(bare), wrong, true_cells(drawn))


def _wrong(case: Case) -> Tapped:
    wrong = wrong_subject(case.seed)
    try:
        squared = square_up(wrong.photo, wrong.corners, wrong.size_mm)
        check_picture(wrong.photo, wrong.corners, squared)
    except CannotTell as cannot:
        return Tapped(case, 0.0, refused=cannot.told.code)
    mortar, bare = (tuple(_on_back(wrong.corners, wrong.size_mm, side)) for side in (wrong.mortar, wrong.bare))
    return Tapped(case, 0.0, squared=squared, mortar=mortar, bare=bare)


def found_in(drawn: Tapped) -> Found:
    """Examine one."""
    cv2.setNumThreads(1)
    case, percent, torn, squared = drawn.case, drawn.percent, drawn.torn, drawn.squared
    if squared is None:
        return Found(case, percent, drawn.refused, torn)
    try:
        seen = examine(squared, drawn.mortar, drawn.bare)
    except CannotTell as cannot:
        return Found(case, percent, cannot.told.code, torn)
    true = None if drawn.true is None else reckon(_cells(drawn.true, squared.size_mm), painted=False)
    cells = _cells(seen.mortar, squared.size_mm)
    shown = reckon(cells, painted=False)
    return Found(case, percent, "", torn, drawn.wrong_taps, seen.doubts, seen.left, true, shown, void_between(cells))


def one(case: Case) -> Found:
    """Draw one and examine it."""
    return found_in(tapped(case))


def _wrong_taps(drawn: Rendered, mortar: Sequence[Point], bare: Sequence[Point]) -> tuple[int, ...]:
    """The numbers of taps that lie, by more than a hand's error, on the other side than they were made for."""
    wrong = []
    for number, (x, y) in enumerate((*mortar, *bare)):
        column, row = int(x / drawn.cell_mm), int(y / drawn.cell_mm)
        near = drawn.seen[max(0, row - 2) : row + 3, max(0, column - 2) : column + 3]
        if (number < len(mortar)) not in near:
            wrong.append(number)
    return tuple(wrong)


def true_cells(drawn: Rendered) -> MortarCells:
    """The truth on the cells that a finger paints."""
    rows, columns = Back(*drawn.size_mm).mortar.shape
    share = cv2.resize(drawn.truth.astype(np.float32), (columns, rows), interpolation=cv2.INTER_AREA)
    return np.clip(np.rint(share * 255), 0, 255).astype(np.uint8)


def _cells(mortar: MortarCells, size_mm: tuple[float, float]) -> BackCells:
    return BackCells(mortar.tobytes(), mortar.shape[1], Back(*size_mm).cell_mm)


def examined(cases: Iterable[Case], processes: int = 2) -> list[Found]:
    """All of them, in processes of their own, in their order."""
    with multiprocessing.Pool(processes) as pool:
        return pool.map(one, cases, chunksize=2)
