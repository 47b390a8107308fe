"""What the hands do now, as shapes in millimetres of the real piece: the drawing of each movement.

A piece lies with its long side across. Ridges run along its short side, as ANSI A108.5 §2.2.3 has them combed in one
direction and trade literature along the shorter side, where the air has the shortest way out.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from fieldassist.checklist import rules
from fieldassist.checklist.fields import canonical
from fieldassist.checklist.kinds.base import Act
from fieldassist.checklist.state import Area
from fieldassist.trade import ridges
from fieldassist.trade.limits import exactly
from fieldassist.trade.message import Bound, Message, message

# A colour by what it stands for, as the themes name them.
ShapeColour = Literal["bare", "mortar", "tile", "ink", "quiet", "edge"]
PicturePoint = tuple[float, float]

# How many ridges are drawn along the long side, whatever the notch: each can be told from the next at two metres. Ours.
RIDGES = 36
# The width of the trowel that is drawn [mm]: of the usual notched trowel, 11 in.
TROWEL_MM = 280.0


@dataclass(frozen=True, slots=True)
class PictureBox:
    """A rectangle [mm] from its lower left corner, filled and outlined (or not: None); wide: the outline is thick."""

    x: float
    y: float
    width: float
    height: float
    fill: ShapeColour | None = None
    line: ShapeColour | None = None
    wide: bool = False
    round: bool = False


@dataclass(frozen=True, slots=True)
class Path:
    """A line through points [mm]; head: it ends in an arrow's head; tail: it begins with one; wide: it is thick."""

    points: tuple[PicturePoint, ...]
    role: ShapeColour = "ink"
    head: bool = False
    tail: bool = False
    wide: bool = True


@dataclass(frozen=True, slots=True)
class PictureMeasure:
    """A measured length [mm] beside the drawing: from one point to another, with its figure."""

    start: PicturePoint
    end: PicturePoint
    told: Message


@dataclass(frozen=True, slots=True)
class StepPicture:
    """A drawing: its whole width and height [mm], the shapes from the lowest up, and what is measured beside it."""

    width: float
    height: float
    shapes: tuple[PictureBox | Path, ...]
    measures: tuple[PictureMeasure, ...] = ()


def step_picture(area: Area, act: Act) -> StepPicture:
    """The drawing of a movement, in the proportions of the area's piece."""
    sides = sorted((canonical(area.plan.piece.length), canonical(area.plan.piece.width)))
    short, long = sides
    draw = {
        "key": _key,
        "spread": _spread,
        "comb": _comb,
        "set": _set,
        "slide": _slide,
        "beat in": _beat_in,
        "lift": _lift,
        "carry": _carry,
        "edges": _edges,
    }[act]
    if act == "slide":
        return _with_stroke(area, draw(long, short))
    picture = draw(long, short)
    if act in ("comb", "spread", "key"):
        return _with_sides(picture, area, long, short)
    return picture


# --- the movements ------------------------------------------------------------------------------------------------


def _bed(long: float, short: float) -> PictureBox:
    return PictureBox(0, 0, long, short, "bare", "ink")


def _ridges(start: float, end: float, low: float, high: float, pitch: float) -> Iterator[PictureBox]:
    """Ridges that run up, between two places across."""
    at = start
    while at + pitch * 0.55 <= end + 1e-9:
        yield PictureBox(at, low, pitch * 0.55, high - low, "mortar")
        at += pitch


def _trowel(x: float, y: float, width: float, scale: float, *, notched: bool = True) -> tuple[PictureBox | Path, ...]:
    """A trowel seen from above, drawn upward from (x, y): teeth, plate and grip. scale: of the piece's short side."""
    plate, grip = 0.11 * scale, 0.045 * scale
    teeth = tuple(PictureBox(x + width * k / 9, y - 0.03 * scale, width / 26, 0.035 * scale, "ink") for k in range(9))
    return (
        Path(((x + width * 0.28, y + plate), (x + width * 0.28, y + plate + 0.06 * scale)), wide=False),
        Path(((x + width * 0.72, y + plate), (x + width * 0.72, y + plate + 0.06 * scale)), wide=False),
        PictureBox(x + width * 0.1, y + plate + 0.06 * scale, width * 0.8, grip, "ink", round=True),
        *(teeth if notched else ()),
        PictureBox(x, y, width, plate, "tile", "ink", wide=True),
    )


def _comb(long: float, short: float) -> StepPicture:
    pitch, wide = long / RIDGES, min(TROWEL_MM, long / 4)
    passed = long * 0.55
    ridged = tuple(_ridges(pitch * 0.3, passed, short * 0.015, short * 0.985, pitch))
    here = tuple(_ridges(passed + pitch * 0.3, passed + wide, short * 0.015, short * 0.54, pitch))
    arrow = Path(((long * 0.88, short * 0.07), (long * 0.88, short * 0.93)), head=True)
    return StepPicture(
        long, short, (_bed(long, short), *ridged, *here, *_trowel(passed, short * 0.56, wide, short), arrow)
    )


def _flat(long: float, short: float, base: PictureBox) -> StepPicture:
    """A thin coat that is keyed in with the flat side of the trowel."""
    wide = min(TROWEL_MM, long / 4)
    coat = PictureBox(long * 0.02, short * 0.04, long * 0.5, short * 0.92, "mortar")
    here = PictureBox(long * 0.52, short * 0.04, wide, short * 0.5, "mortar")
    arrow = Path(((long * 0.88, short * 0.07), (long * 0.88, short * 0.93)), head=True)
    trowel = _trowel(long * 0.52, short * 0.55, wide, short, notched=False)
    return StepPicture(long, short, (base, coat, here, *trowel, arrow))


def _key(long: float, short: float) -> StepPicture:
    return _flat(long, short, PictureBox(0, 0, long, short, "tile", "ink"))


def _spread(long: float, short: float) -> StepPicture:
    return _flat(long, short, _bed(long, short))


def _combed(long: float, short: float) -> tuple[PictureBox, ...]:
    pitch = long / RIDGES
    return (_bed(long, short), *_ridges(pitch * 0.3, long, short * 0.015, short * 0.985, pitch))


def _set(long: float, short: float) -> StepPicture:
    piece = PictureBox(long * 0.04, short * 0.58, long * 0.92, short * 0.68, "tile", "ink", wide=True)
    down = Path(((long / 2, short * 1.13), (long / 2, short * 0.72)), head=True)
    return StepPicture(long, short * 1.26, (*_combed(long, short), piece, down))


def _slide(long: float, short: float) -> StepPicture:
    piece = PictureBox(long * 0.06, short * 0.12, long * 0.82, short * 0.76, "tile", "ink", wide=True)
    across = Path(((long * 0.2, short / 2), (long * 0.74, short / 2)), head=True, tail=True)
    return StepPicture(long, short, (*_combed(long, short), piece, across))


def _beat_in(long: float, short: float) -> StepPicture:
    turns, points = 2.25, 72
    spiral = tuple(
        (
            long / 2 + long * 0.44 * k / points * math.cos(2 * math.pi * turns * k / points),
            short / 2 + short * 0.44 * k / points * math.sin(2 * math.pi * turns * k / points),
        )
        for k in range(points + 1)
    )
    side = short * 0.14
    middle = PictureBox(long / 2 - side / 2, short / 2 - side / 2, side, side, "ink", round=True)
    return StepPicture(
        long, short, (PictureBox(0, 0, long, short, "tile", "ink", wide=True), Path(spiral, head=True), middle)
    )


def _lift(long: float, short: float) -> StepPicture:
    edge = ((long * 0.03, short * 0.36), (long * 0.97, short * 0.92))
    lower = tuple((x, y - short * 0.06) for x, y in reversed(edge))
    teeth = tuple(_ridges(long * 0.02, long * 0.98, 0, short * 0.22, long / 14))
    up = Path(((long * 0.62, short * 0.32), (long * 0.62, short * 0.58)), head=True)
    base = Path(((0, 0), (long, 0)))
    return StepPicture(long, short, (*teeth, base, Path((*edge, *lower, edge[0])), up))


def _carry(long: float, short: float) -> StepPicture:
    panel = PictureBox(long * 0.06, short * 0.2, long * 0.88, short * 0.6, "tile", "ink", wide=True)
    cups = tuple(
        PictureBox(long * x - short * 0.06, short * y - short * 0.06, short * 0.12, short * 0.12, "ink", round=True)
        for x in (0.22, 0.5, 0.78)
        for y in (0.36, 0.64)
    )
    up = Path(((long * 0.97, short * 0.1), (long * 0.97, short * 0.9)), head=True)
    return StepPicture(long, short, (panel, *cups, up))


def _edges(long: float, short: float) -> StepPicture:
    across = tuple(Path(((0.1 * long, y * short), (0.9 * long, y * short)), head=True, tail=True) for y in (0.1, 0.9))
    up = tuple(Path(((x * long, 0.16 * short), (x * long, 0.84 * short)), head=True, tail=True) for x in (0.06, 0.94))
    lines = (*across, *up)
    return StepPicture(long, short, (_bed(long, short), *lines))


# --- what is measured ---------------------------------------------------------------------------------------------


def _with_sides(picture: StepPicture, area: Area, long: float, short: float) -> StepPicture:
    """With the length of both sides."""
    length, width = sorted((area.plan.piece.length, area.plan.piece.width), key=canonical, reverse=True)
    across = PictureMeasure((0, 0), (long, 0), message("work-side", side=length))
    up = PictureMeasure((long, 0), (long, short), message("work-side", side=width))
    return StepPicture(picture.width, picture.height, picture.shapes, (across, up))


def _with_stroke(area: Area, picture: StepPicture) -> StepPicture:
    """With the least stroke across the ridges."""
    stroke = ridges.slide_distance(rules.notch_of(area.method)).out_mm
    least = Bound(exactly(stroke, "mm"), "at least")
    middle = picture.height * 0.5
    span = PictureMeasure(
        (picture.width * 0.2, middle), (picture.width * 0.74, middle), message("work-stroke", least=least)
    )
    return StepPicture(picture.width, picture.height, picture.shapes, (span,))
