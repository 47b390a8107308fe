"""A back measured on its photo, as the day keeps it: the photo squared up and the back's cells beside the log, and one
entry that says how they came about."""

from __future__ import annotations

from dataclasses import dataclass

from PIL import Image

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.backs import BackKind, BackMm, BackWay, MeasuredBack, PhotoShare, RidgesWay
from fieldassist.checklist.moment import PRESSED
from fieldassist.day.photo import Picture
from fieldassist.day.session import Answer, Day, told
from fieldassist.record import attachments
from fieldassist.record.back_cells import cells_png
from fieldassist.record.log import LogProblem
from fieldassist.record.picture import COPY_DOTS, packed
from fieldassist.trade.message import Message
from fieldassist.trade.voids import BackCells, painted_doubt, reckon, void_between

__all__ = ["BackAsMade", "back_as_kept", "keep_measured"]

# How the squared photo is packed: its ridges stay, and it takes a few hundred kilobytes.
_QUALITY = 85


@dataclass(frozen=True, slots=True)
class BackAsMade:
    """A back as it was measured, before it is kept.

    photo: SHA-256 of the kept photo; corners: in shares of its width and height; picture: the photo squared up; cells:
    of the back; circle_mm: the diameter of the largest circle in its largest void; below, above: how far the contact
    may lie below and above what the cells come to [percentage points], of a painted back reckoned here; all else as
    `MeasuredBack` has it.
    """

    photo: str
    corners: tuple[PhotoShare, PhotoShare, PhotoShare, PhotoShare]
    size_mm: BackMm
    picture: Picture
    cells: BackCells
    circle_mm: float
    kind: BackKind
    way: BackWay
    below: float = 0.0
    above: float = 0.0
    proposed_percent: float | None = None
    mortar: tuple[BackMm, ...] = ()
    bare: tuple[BackMm, ...] = ()
    ridges: RidgesWay = ""
    direction_deg: float | None = None
    cannot: Message | None = None
    eye_percent: float | None = None
    eye_by: str = ""


def back_as_kept(made: BackAsMade, picture: attachments.Attachment, cells: attachments.Attachment) -> MeasuredBack:
    """What the entry says: every figure is reckoned from the cells that are kept."""
    painted = made.way == "painted"
    done = reckon(made.cells, painted=painted)
    wide, high = made.size_mm
    doubt = painted_doubt(done, wide * high)
    below, above = (doubt, doubt) if painted else (made.below, made.above)
    low, high = void_between(made.cells)
    return MeasuredBack(
        photo=made.photo,
        corners=made.corners,
        size_mm=made.size_mm,
        picture_file=picture.file,
        picture_sha256=picture.sha256,
        cells_file=cells.file,
        cells_sha256=cells.sha256,
        kind=made.kind,
        way=made.way,
        mortar=made.mortar,
        bare=made.bare,
        percent=done.percent,
        low=max(0.0, done.percent - below),
        high=min(100.0, done.percent + above),
        proposed_percent=made.proposed_percent,
        void_mm2=done.void_mm2,
        void_low_mm2=low,
        void_high_mm2=high,
        void_box=done.void_box,
        circle_mm=made.circle_mm,
        band_percent=done.band_percent,
        corner_percents=done.corner_percents,
        corners_full=not done.corners,
        edges_full=not done.edges,
        ridges=made.ridges,
        direction_deg=made.direction_deg,
        cannot=made.cannot,
        eye_percent=made.eye_percent,
        eye_by=made.eye_by if made.eye_percent is not None else "",
    )


def keep_measured(day: Day, section: str, at_round: int, made: BackAsMade) -> Answer:
    """Keep a measured back beside its lift or its sample.

    The answer is given once both pictures and the entry are on disk; where it is not `taken` nothing was entered, and
    `say` tells why. LogProblem when the entry cannot be written.
    """
    shown = Image.frombytes("RGB", (made.picture.wide, made.picture.high), made.picture.pixels)
    # It goes with the pages, as copies of photos do, and is no larger than they are.
    shown.thumbnail((COPY_DOTS, COPY_DOTS), Image.Resampling.LANCZOS)
    try:
        picture = attachments.keep(day.log.path, packed(shown, _QUALITY), ".jpg")
        cells = attachments.keep(day.log.path, cells_png(made.cells), ".png")
    except LogProblem as problem:
        return Answer(False, told(problem), (), day.prompt)
    back = back_as_kept(made, picture, cells)
    return day.do(cmd.MeasureBack(section=section, round=at_round, back=back), PRESSED)
