"""What is worked out beside the screen of a back's photo: opened, squared up, reckoned, filled, made ready to be kept.

The libraries that look at pictures are imported where they are used: who never measures does not wait for them.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from fieldassist.checklist.backs import MeasuredBack
from fieldassist.day.measuring import BackAsMade
from fieldassist.day.photo import NoPhoto, Picture, look_at, read
from fieldassist.photo.back import Back
from fieldassist.record.attachments import folder_of
from fieldassist.record.back_cells import NoCells, read_cells
from fieldassist.record.picture import COPY_DOTS
from fieldassist.trade.message import Message
from fieldassist.ui.content.back_found import doubts_of
from fieldassist.ui.content.measuring import FIRST_CORNERS, MeasureDraft, SharePoint

if TYPE_CHECKING:
    from fieldassist.photo.measuring import MeasuredPhoto
    from fieldassist.photo.picture import RGB, PhotoCorners
    from fieldassist.photo.square import Squared

# Dots of the longer side of the photo that is worked on: a piece that fills two thirds of it has 1 mm a dot.
WORK_DOTS = 2400
# A live picture is looked at with about so many dots across.
_LIVE_DOTS = 640


def photo_as_worked_on(path: Path) -> Picture:
    """The kept photo at the size at which it is measured. NoPhoto when it cannot be read any more."""
    return look_at(read(path), path.name, WORK_DOTS)


def dots_of_photo(picture: Picture) -> RGB:
    """A picture as rows, columns and colours."""
    import numpy as np

    return np.frombuffer(picture.pixels, np.uint8).reshape(picture.high, picture.wide, 3)


def plan_as_picture(squared: Squared) -> Picture:
    """A plan as a picture."""
    high, wide = squared.pixels.shape[:2]
    return Picture(squared.pixels.tobytes(), wide, high)


def corners_in_dots(corners: Sequence[SharePoint], picture: Picture, size_mm: tuple[float, float]) -> PhotoCorners:
    """The corners in dots of the photo, in order. CannotTell when they are none of a piece."""
    from fieldassist.photo.square import in_order

    return in_order([(x * picture.wide, y * picture.high) for x, y in corners], size_mm)


def as_made(draft: MeasureDraft) -> BackAsMade:
    """What is kept of it: only asked for once the back was looked at, on a plan."""
    from fieldassist.photo.measuring import by_paint, put_right

    assert draft.kind is not None
    assert draft.seen is not None
    assert draft.squared is not None
    done = draft.back.reckoned
    assert done is not None
    cells, way = draft.back.cells, draft.way
    found = draft.proposed
    if found is None:
        found = by_paint(draft.squared, cells)
    elif way == "corrected":
        found = put_right(found, cells)
    below, above = doubts_of(draft, done)
    a, b, c, d = (
        (min(1.0, max(0.0, x / draft.seen.wide)), min(1.0, max(0.0, y / draft.seen.high)))
        for x, y in corners_in_dots(draft.corners, draft.seen, draft.back.size_mm)
    )
    return BackAsMade(
        photo=draft.photo,
        corners=(a, b, c, d),
        size_mm=draft.back.size_mm,
        picture=plan_as_picture(draft.squared),
        cells=cells,
        circle_mm=found.circle_mm,
        kind=draft.kind,
        way=way,
        below=below,
        above=above,
        proposed_percent=found.proposed_percent,
        mortar=draft.taps_of("mortar") if draft.proposed is not None else (),
        bare=draft.taps_of("bare") if draft.proposed is not None else (),
        ridges=found.ridges.kind,
        direction_deg=found.ridges.direction_deg,
        cannot=draft.cannot if draft.proposed is None else None,
        eye_percent=draft.eye,
        eye_by=draft.eye_by,
    )


def hints_of(picture: Picture, size_mm: tuple[float, float]) -> tuple[Message, ...]:
    """What to mend of a camera's live picture before the shutter. It takes a sixth of a second."""
    from fieldassist.photo.fitness import frame_aslant, frame_hints

    by = max(1, picture.wide // _LIVE_DOTS)
    frame = dots_of_photo(picture)[::by, ::by].copy()
    aslant = frame_aslant(frame, size_mm)
    return (*frame_hints(frame, size_mm), *((aslant,) if aslant is not None else ()))


def corners_to_begin_with(picture: Picture, size_mm: tuple[float, float]) -> list[SharePoint]:
    """Where the corners may lie: proposed from the photo, else amid of it. Always only a start."""
    from fieldassist.photo.corners import propose_corners

    found = propose_corners(dots_of_photo(picture), size_mm)
    if found is None:
        return list(FIRST_CORNERS)
    return [(min(1.0, max(0.0, x / picture.wide)), min(1.0, max(0.0, y / picture.high))) for x, y in found]


def corner_drawn_to_borders(
    corners: Sequence[SharePoint], number: int, picture: Picture, size_mm: tuple[float, float]
) -> SharePoint | None:
    """Where the borders cross near a corner that a finger set; None where they are not clear."""
    from fieldassist.photo.corners import snap_corner
    from fieldassist.photo.picture import CannotTell

    at = (corners[number][0] * picture.wide, corners[number][1] * picture.high)
    try:
        ordered = corners_in_dots(corners, picture, size_mm)
    except CannotTell:
        return None
    nearest = min(range(4), key=lambda k: math.dist(ordered[k], at))
    found = snap_corner(dots_of_photo(picture), ordered, nearest)
    if found is None:
        return None
    return min(1.0, max(0.0, found[0] / picture.wide)), min(1.0, max(0.0, found[1] / picture.high))


@dataclass(frozen=True, slots=True)
class PlanMade:
    """A photo squared up, and why it can be painted on only, where it can."""

    squared: Squared
    unfit: Message | None


def plan_by(corners: Sequence[SharePoint], picture: Picture, size_mm: tuple[float, float]) -> PlanMade:
    """The plan by these corners. CannotTell where they are none of such a piece."""
    from fieldassist.photo.measuring import plan_of

    return PlanMade(*plan_of(dots_of_photo(picture), corners_in_dots(corners, picture, size_mm), size_mm))


def proposal_by(draft: MeasureDraft) -> MeasuredPhoto:
    """What the taps come to. CannotTell where the photo does not show it."""
    from fieldassist.photo.measuring import by_taps

    assert draft.squared is not None
    assert draft.kind is not None
    return by_taps(draft.squared, draft.taps_of("mortar"), draft.taps_of("bare"), surface=draft.kind)


def grow_from(draft: MeasureDraft, at_mm: SharePoint) -> None:
    """Fill from a tap to the border: a void where there was none, mortar where there was one. CannotTell where no
    border is seen."""
    from fieldassist.photo.grow import grow

    assert draft.squared is not None
    column, row = (int(at / cell) for at, cell in zip(at_mm, draft.back.cell_mm, strict=True))
    rows, columns = draft.back.void.shape
    was_void = bool(draft.back.void[min(rows - 1, row), min(columns - 1, column)])
    region = grow(draft.squared, at_mm, most=1.0) if was_void else grow(draft.squared, at_mm)
    draft.back.fill(region, "mortar" if was_void else "void")
    draft.strokes += 1


@dataclass(frozen=True, slots=True)
class KeptPlan:
    """A measured back as it is kept: the photo squared up, and the cells."""

    picture: Picture
    back: Back


@dataclass
class KeptPlans:
    """Those that were read from the disk, by the event that measured them."""

    by_event: dict[int, KeptPlan] = field(default_factory=dict)


def plan_as_kept(day: Path, back: MeasuredBack) -> KeptPlan | None:
    """What is kept of a measured back of the day at this path; None where a file is gone or damaged."""
    import numpy as np

    folder = folder_of(day)
    try:
        picture = look_at(read(folder / back.picture_file), back.picture_file, COPY_DOTS)
        cells = read_cells(read(folder / back.cells_file), back.size_mm)
    except (NoPhoto, NoCells):
        return None
    made = Back(*back.size_mm)
    if (cells.rows, cells.columns) != made.mortar.shape:
        return None
    made.propose(np.frombuffer(cells.cells, np.uint8).reshape(cells.rows, cells.columns))
    return KeptPlan(picture, made)
