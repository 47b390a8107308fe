"""A lifted back that is measured by hand in a rehearsal as on the tablet, on the last photo of a lift or a sample.

    measure as KIND corners P P P P painted FILE
    measure as bare corners P P P P mortar P P P bare P P P [painted FILE]

KIND: bare, skim-coated, combed, or clear sheet of a sample. P: a point of the photo by shares of its width and height,
such as 12.5%,8%. mortar, bare: taps on mortar that touched and on bare back. FILE: the back's cells as they were
painted over the plan or the proposal, black where there is no mortar (a grey PNG, `record.back_cells`).
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import cast

import numpy as np

from fieldassist.checklist import events as ev
from fieldassist.checklist.backs import BackKind, BackMm, PhotoShare, lifted_at, read_by_eye
from fieldassist.checklist.plan import Piece
from fieldassist.checklist.standing import standing
from fieldassist.checklist.state import Area
from fieldassist.day.measuring import BackAsMade, keep_measured
from fieldassist.day.photo import Picture, look_closely, read
from fieldassist.day.session import Answer, Day
from fieldassist.photo.measuring import MeasuredPhoto, by_paint, by_taps, dots_wanted, plan_of, put_right
from fieldassist.photo.picture import CannotTell, PhotoCorners, Point
from fieldassist.photo.square import Squared, in_order, to_back
from fieldassist.record.attachments import folder_of
from fieldassist.record.back_cells import read_cells
from fieldassist.trade.message import Message, Refused, message
from fieldassist.trade.quantities import canonical
from fieldassist.trade.voids import BackCells

__all__ = ["MeasureLine", "measure", "read_measure"]

_POINT = r"(?:\d{1,3}(?:\.\d+)?)%,(?:\d{1,3}(?:\.\d+)?)%"
_LINE = re.compile(
    r"measure as (bare|skim-coated|combed|clear sheet)"
    rf" corners((?: {_POINT}){{4}})(?: mortar((?: {_POINT})+) bare((?: {_POINT})+))?(?: painted (\S.*))?",
    re.ASCII,
)


@dataclass(frozen=True, slots=True)
class MeasureLine:
    """What a line says: points in shares of the photo; painted: a file's name, "" for none."""

    kind: BackKind
    corners: tuple[PhotoShare, ...]
    mortar: tuple[PhotoShare, ...]
    bare: tuple[PhotoShare, ...]
    painted: str


def read_measure(words: str) -> MeasureLine:
    """A line that begins with "measure as". Errors: `Refused` where the rest is not as it is written.

    >>> read_measure("measure as combed corners 0%,0% 90%,5% 90%,95% 0%,90% painted voids.png").painted
    'voids.png'
    """
    found = _LINE.fullmatch(words)
    if found is None:
        raise Refused(message("rehearse-measure"))
    corners, mortar, bare = (_points(text) for text in found.group(2, 3, 4))
    return MeasureLine(cast(BackKind, found[1]), corners, mortar, bare, found[5] or "")


def _points(text: str | None) -> tuple[PhotoShare, ...]:
    places = [point.replace("%", "").split(",") for point in (text or "").split()]
    return tuple((float(x) / 100, float(y) / 100) for x, y in places)


def measure(day: Day, words: str, files: Path) -> Answer:
    """Measure a back of the area at hand as the line says, and keep it. files: where the painted cells lie.

    The answer is not `taken`, and says why, where there is no photo of one, or it cannot tell.
    """
    try:
        line = read_measure(words)
        area, photo = _photo(day)
        return keep_measured(day, photo.section, photo.round, _made(day, area, photo, line, files))
    except Refused as refused:
        return Answer(False, refused.told, (), day.prompt)


def _made(day: Day, area: Area, photo: ev.PhotoAttached, line: MeasureLine, files: Path) -> BackAsMade:
    """The back as it was measured. Errors: `Refused`."""
    data = read(folder_of(day.log.path) / photo.file)
    size_mm = _size_mm(area.plan.piece)

    def dots(points: Sequence[PhotoShare], of: tuple[int, int]) -> list[Point]:
        return [(x * of[0], y * of[1]) for x, y in points]

    def longest(of: tuple[int, int]) -> int:
        return dots_wanted(in_order(dots(line.corners, of), size_mm), size_mm, of)

    picture, _ = look_closely(data, photo.file, longest)
    shown = picture.wide, picture.high
    corners = in_order(dots(line.corners, shown), size_mm)
    pixels = np.frombuffer(picture.pixels, np.uint8).reshape(picture.high, picture.wide, 3)
    plan, unfit = plan_of(pixels, corners, size_mm)
    mortar, bare = (
        tuple(to_back(corners, size_mm, at) for at in dots(taps, shown)) for taps in (line.mortar, line.bare)
    )
    painted = read_cells(read(files / line.painted), size_mm) if line.painted else None
    found, cannot = _found(plan, unfit, line.kind, (mortar, bare), painted)
    eye = read_by_eye(day.state, area.plan.name, photo.section, photo.round)
    return BackAsMade(
        photo=photo.sha256,
        corners=_shares(corners, shown),
        size_mm=size_mm,
        picture=Picture(plan.pixels.tobytes(), plan.pixels.shape[1], plan.pixels.shape[0]),
        cells=found.cells,
        circle_mm=found.circle_mm,
        kind=line.kind,
        way=found.way,
        below=found.percent - found.low,
        above=found.high - found.percent,
        proposed_percent=found.proposed_percent,
        mortar=mortar if found.way != "painted" else (),
        bare=bare if found.way != "painted" else (),
        ridges=found.ridges.kind,
        direction_deg=found.ridges.direction_deg,
        cannot=cannot,
        eye_percent=eye[0] if eye is not None else None,
        eye_by=eye[1] if eye is not None else "",
    )


def _found(
    plan: Squared,
    unfit: Message | None,
    kind: BackKind,
    taps: tuple[tuple[BackMm, ...], tuple[BackMm, ...]],
    painted: BackCells | None,
) -> tuple[MeasuredPhoto, Message | None]:
    """What the back comes to, and why the photo by itself could not tell, where it was painted after that. Errors:
    `CannotTell` where nothing was painted."""
    if painted is not None and not taps[0]:
        return by_paint(plan, painted), unfit
    try:
        if unfit is not None:
            raise CannotTell(unfit)
        proposed = by_taps(plan, *taps, surface=kind)
    except CannotTell as reason:
        if painted is None:
            raise
        return by_paint(plan, painted), reason.told
    return (proposed if painted is None else put_right(proposed, painted)), None


def _photo(day: Day) -> tuple[Area, ev.PhotoAttached]:
    """The area at hand, and the photo that was kept last of one of its lifts or samples. Errors: `Refused`."""
    area = day.state.area
    photos = standing(day.log.events).photos if area is not None else ()
    for body in (event.body for event in reversed(photos)):
        if area is None or not isinstance(body, ev.PhotoAttached) or body.area != area.plan.name:
            continue
        if lifted_at(area, body.section, body.round) is not None:
            return area, body
    raise Refused(message("rehearse-nothing-to-measure"))


def _size_mm(piece: Piece) -> tuple[float, float]:
    """Its longer and its shorter side."""
    sides = sorted(canonical(side.value, side.unit) for side in (piece.length, piece.width))
    return sides[1], sides[0]


def _shares(corners: PhotoCorners, of: tuple[int, int]) -> tuple[PhotoShare, PhotoShare, PhotoShare, PhotoShare]:
    a, b, c, d = ((x / of[0], y / of[1]) for x, y in corners)
    return a, b, c, d
