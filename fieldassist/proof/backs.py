"""Whether what was measured on photos of backs is what their files show.

The tablet makes the squared picture of a photo, the cells of the picture, and the figures of the cells; somebody who
seals his own record could write others. Of the cells all figures are reckoned again, and the picture is held against
its photo. What a photo was reckoned to show, and how sure that is, is not reckoned again here.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence

from PIL import Image

from fieldassist.checklist.backs import MeasuredBack
from fieldassist.checklist.events import BackMeasured, Event, PhotoAttached
from fieldassist.proof.photos import alike_in_squares
from fieldassist.proof.verdict import DAMAGED, Findings, some
from fieldassist.record.back_cells import NoCells, read_cells
from fieldassist.record.manifest import attached
from fieldassist.record.picture import small_picture
from fieldassist.trade.message import Figure, Message, message
from fieldassist.trade.quantities import Quantity
from fieldassist.trade.voids import BackCells, Reckoned, painted_doubt, reckon, void_as_read, void_between

# Figures of an event may be rounded to a tenth; lengths to a millimetre, areas to a thousandth.
_PERCENT, _MM, _SHARE = 0.1, 1.0, 1e-3
# Photo and picture are looked at as so many squares a side, each as light and as coloured as the mean of its dots, of
# 255. Packing and sampling otherwise move a square by up to 8, a void of one percent that was painted over by 60. Ours,
# tried on computed pictures.
_SQUARES, _ALIKE = 32, 20
_LOOKED_AT, _DRAWN = 960, 384
# A picture is as wide to its height as the back, but for whole dots.
_SHAPE = 0.02


def check_backs(events: Sequence[Event], content: Callable[[str], bytes | None], found: Findings) -> None:
    """Say which measured backs are not what their files show, and of how many that was not looked at.

    content: the bytes of an attachment by name, None where they are not here whole.
    """
    spoken_of, photos = attached(events), _photos(events)
    good = by_copy = apart = reckoned = 0
    unseen: list[str] = []

    def held(name: str) -> bytes | None:
        return content(name) if name in spoken_of else None

    for event in events:
        if not isinstance(event.body, BackMeasured):
            continue
        back = event.body.back
        cells, picture = held(back.cells_file), held(back.picture_file)
        photo, copy = _held(photos.get(back.photo, ()), held)
        wrong = [] if cells is None else list(_other_figures(back, cells))
        alike = None if photo is None or picture is None else shows_squared(back, photo, picture)
        if alike is False:
            wrong.append(message("proof-back-picture"))
        for why in wrong:
            found.say("back-shows-other", DAMAGED, event=str(event.seq), why=why)
        if cells is None or photo is None or picture is None:
            apart += 1
        elif alike is None:
            unseen.append(back.picture_file)
        elif not wrong:
            by_copy, good = by_copy + copy, good + (not copy)
            reckoned += back.way != "painted"
    if good:
        found.say("backs", count=good)
    if by_copy:
        found.say("backs-by-copy", count=by_copy)
    if reckoned:
        found.say("backs-reckoned", count=reckoned)
    if apart:
        found.say("backs-not-compared", count=apart)
    if unseen:
        found.say("backs-unseen", files=some(sorted(unseen)))


def _photos(events: Sequence[Event]) -> Mapping[str, tuple[str, ...]]:
    """By the SHA-256 of a photo its file, and its copy, which shows the same (`proof.photos`)."""
    kept = (event.body for event in events if isinstance(event.body, PhotoAttached))
    return {body.sha256: tuple(name for name in (body.file, body.copy_file) if name) for body in kept}


def _held(names: Sequence[str], held: Callable[[str], bytes | None]) -> tuple[bytes | None, bool]:
    """A photo, or where it is not here its copy, and whether it is the copy."""
    for number, name in enumerate(names):
        data = held(name)
        if data is not None:
            return data, number > 0
    return None, False


# --- its cells ----------------------------------------------------------------------------------------------------


def _other_figures(back: MeasuredBack, data: bytes) -> Iterator[Message]:
    """What an event tells otherwise than the cells of its back."""
    try:
        cells = read_cells(data, back.size_mm)
    except NoCells as none:
        yield message("proof-back-cells", why=none.told)
        return
    done = reckon(cells, painted=back.way == "painted")
    if not _near(back.percent, done.percent, _PERCENT):
        yield _told("percent", said=_percent(back.percent), so=_percent(done.percent))
    if not _near(back.void_mm2, done.void_mm2, max(1.0, _SHARE * done.void_mm2)):
        yield _told("void", said=_cm2(back.void_mm2), so=_cm2(done.void_mm2))
    elif not all(_near(one, other, _MM) for one, other in zip(back.void_box, done.void_box, strict=True)):
        yield message("proof-back-place")
    kept = (back.void_low_mm2, back.void_high_mm2)
    if kept != (None, None) and not all(
        said is not None and _near(said, so, max(1.0, _SHARE * so))
        for said, so in zip(kept, void_between(cells), strict=True)
    ):
        yield message("proof-back-void-between")
    if not _may_be_circle(back, cells):
        yield message("proof-back-circle")
    shares = ((back.band_percent, done.band_percent), *zip(back.corner_percents, done.corner_percents, strict=True))
    full = (back.corners_full, back.edges_full) == (not done.corners, not done.edges)
    if not full or not all(_near(one, other, _PERCENT) for one, other in shares):
        yield message("proof-back-edges")
    if back.way == "painted":
        yield from _other_doubt(back, done, back.size_mm[0] * back.size_mm[1])


def _other_doubt(back: MeasuredBack, done: Reckoned, area_mm2: float) -> Iterator[Message]:
    doubt = painted_doubt(done, area_mm2)
    low, high = max(0.0, done.percent - doubt), min(100.0, done.percent + doubt)
    if not _near(back.low, low, 2 * _PERCENT) or not _near(back.high, high, 2 * _PERCENT):
        yield _told("doubt", said=_percent(back.high - back.low), so=_percent(high - low))


def _may_be_circle(back: MeasuredBack, cells: BackCells) -> bool:
    """Whether a circle of that diameter may lie in the largest void: no wider than it is, and no larger."""
    left, top, right, bottom = back.void_box
    cell = max(cells.cell_mm)
    if back.circle_mm > min(right - left, bottom - top) + cell:
        return False
    return math.pi / 4 * max(0.0, back.circle_mm - 2 * cell) ** 2 <= back.void_mm2


def _near(said: float, so: float, within: float) -> bool:
    return abs(said - so) <= within


def _told(what: str, **figures: Figure) -> Message:
    return message(f"proof-back-{what}", **figures)


def _percent(value: float) -> str:
    return f"{value:.1f}"


def _cm2(mm2: float) -> Quantity:
    return Quantity(void_as_read(mm2, "cm2"), "cm2")


# --- its picture --------------------------------------------------------------------------------------------------


def shows_squared(back: MeasuredBack, photo: bytes, picture: bytes) -> bool | None:
    """Whether a picture shows what a photo, or its copy, shows between the corners of the back, squared up; None where
    one of the two cannot be opened here."""
    try:
        whole, squared = (small_picture(data, (_LOOKED_AT, _LOOKED_AT), _LOOKED_AT) for data in (photo, picture))
    except MemoryError:
        raise
    except Exception:
        # The library does not tell what it raises on a damaged picture.
        return None
    longer, shorter = back.size_mm
    if not shorter or abs(squared.width / squared.height / (longer / shorter) - 1) > _SHAPE + 1 / min(squared.size):
        return False
    onto = _onto_corners(back, whole.size)
    if onto is None:
        return False
    drawn = whole.transform((_DRAWN, _DRAWN), Image.Transform.PERSPECTIVE, onto, Image.Resampling.BICUBIC)
    return alike_in_squares(drawn, squared, _SQUARES, _ALIKE)


def _onto_corners(back: MeasuredBack, size: tuple[int, int]) -> tuple[float, ...] | None:
    """The eight figures with which a square of `_DRAWN` dots a side lies on the corners of a back in a photo (P. S.
    Heckbert, Fundamentals of Texture Mapping and Image Warping, 1989, 2.2.3); None where they are no corners of a piece
    that is seen from its back, clockwise."""
    (x0, y0), (x1, y1), (x2, y2), (x3, y3) = ((x * size[0], y * size[1]) for x, y in back.corners)
    corners = ((x0, y0), (x1, y1), (x2, y2), (x3, y3))
    for at in range(4):
        (ax, ay), (bx, by), (cx, cy) = (corners[(at + step) % 4] for step in range(3))
        if (bx - ax) * (cy - by) - (by - ay) * (cx - bx) <= 0:
            return None
    across, down = (x1 - x2, y1 - y2), (x3 - x2, y3 - y2)
    skew = x0 - x1 + x2 - x3, y0 - y1 + y2 - y3
    whole = across[0] * down[1] - across[1] * down[0]
    g = (skew[0] * down[1] - skew[1] * down[0]) / whole / _DRAWN
    h = (across[0] * skew[1] - across[1] * skew[0]) / whole / _DRAWN
    return (
        (x1 - x0) / _DRAWN + g * x1,
        (x3 - x0) / _DRAWN + h * x3,
        x0,
        (y1 - y0) / _DRAWN + g * y1,
        (y3 - y0) / _DRAWN + h * y3,
        y0,
        g,
        h,
    )
