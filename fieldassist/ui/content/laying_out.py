"""Laying a wall out: from its width and height, the piece, the joint and where the first piece starts to the grid that
a plan has, with its cuts and niches. Exact: lengths are fractions of a millimetre.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Literal

from fieldassist.checklist.fields import write_quantity
from fieldassist.checklist.plan import AreaPlan, Grid, LongEdge, Niche, OwnPiece
from fieldassist.trade.message import Message, Refused, message
from fieldassist.trade.quantities import Quantity, convert_exact

# Where whole pieces start across: at the left or right edge, a joint in the middle, a piece in the middle.
Across = Literal["left", "joint", "piece", "right"]
# And upwards: a whole row on the floor, or under the upper edge.
Up = Literal["floor", "top"]
ACROSS: tuple[Across, ...] = ("left", "joint", "piece", "right")
# What is cut narrower than this share of a piece is told of: ANSI A108.02 section 4.3 asks for no cuts smaller than
# half a tile where that is possible (from memory, clause to be checked).
LEAST_CUT = Fraction(1, 2)
# More rows or columns than a plan's grid may have.
_MOST = 500


@dataclass(frozen=True, slots=True)
class LayoutDraft:
    """A wall as somebody enters it. length, width of the piece; lies: its long edge; first_row: how high the lowest
    row is cut, None where `up` says it."""

    across_mm: Fraction
    up_mm: Fraction
    length_mm: Fraction
    width_mm: Fraction
    joint_mm: Fraction = Fraction(3)
    lies: LongEdge = "level"
    across: Across = "left"
    up: Up = "floor"
    first_row_mm: Fraction | None = None
    niches: tuple[Niche, ...] = ()


@dataclass(frozen=True, slots=True)
class WallLayout:
    """What a draft comes to: the plan's grid, its pieces of their own size, niches and surface to set [m2]; thin: the
    least cut across and up [mm], where it is less than half a piece."""

    draft: LayoutDraft
    grid: Grid
    pieces: tuple[OwnPiece, ...]
    niches: tuple[Niche, ...]
    size: Quantity
    thin: tuple[Fraction, ...] = ()

    @property
    def changes(self) -> Mapping[str, Any]:
        """The fields of an area's plan that it sets, as a file writes them."""
        return {
            "size": write_quantity(self.size),
            "grid": self.grid.model_dump(mode="json"),
            "pieces": [piece.model_dump(mode="json") for piece in self.pieces],
            "niches": [niche.model_dump(mode="json") for niche in self.niches],
        }


def draft_of(plan: AreaPlan) -> LayoutDraft:
    """The layout that an area's plan has, to go on from; its width and height are 0 where it has no grid."""
    grid, outer = plan.grid, plan.outer_mm
    own = grid.long_edge if grid is not None else None
    start: Across = "left"
    if grid is not None and grid.first_column is not None:
        middle: Across = "joint" if grid.columns % 2 == 0 else "piece"
        start = middle if grid.last_column is not None else "right"
    cut_below = grid.first_row if grid is not None else None
    own_height = cut_below is not None and grid is not None and grid.last_row is not None
    return LayoutDraft(
        across_mm=outer[0],
        up_mm=outer[1],
        length_mm=_mm(plan.piece.length),
        width_mm=_mm(plan.piece.width),
        joint_mm=plan.joint_mm,
        lies=own or ("upright" if plan.piece.product == "gauged panel" else "level"),
        across=start,
        up="top" if cut_below is not None and not own_height else "floor",
        first_row_mm=_mm(cut_below) if cut_below is not None and own_height else None,
        niches=plan.niches,
    )


def laid(draft: LayoutDraft) -> WallLayout:
    """The grid of a draft. Refused where it comes to none: nothing to set, or more than a plan holds."""
    long, short = max(draft.length_mm, draft.width_mm), min(draft.length_mm, draft.width_mm)
    piece = (long, short) if draft.lies == "level" else (short, long)
    if draft.across_mm <= 0 or draft.up_mm <= 0:
        raise Refused(message("wall-layout-no-wall"))
    if short <= 0 or draft.joint_mm < 0:
        raise Refused(message("wall-layout-no-piece"))
    wide = tuple(_across(draft.across_mm, piece[0], draft.joint_mm, draft.across))
    high = tuple(_up(draft, piece[1]))
    if not wide or not high or max(len(wide), len(high)) > _MOST:
        raise Refused(message("wall-layout-too-many", most=str(_MOST)))
    first_column, last_column = _cuts(wide, piece[0])
    first_row, last_row = _cuts(high, piece[1])
    grid = Grid(
        rows=len(high),
        columns=len(wide),
        long_edge=draft.lies,
        first_column=first_column,
        last_column=last_column,
        first_row=first_row,
        last_row=last_row,
    )
    for niche in draft.niches:
        _check_niche(niche, draft)
    faces = dict(_cut_by_niches(draft, wide, high))
    set_mm2 = sum(
        faces.get((row, column), w * h) for row, h in enumerate(high, start=1) for column, w in enumerate(wide, start=1)
    )
    return WallLayout(
        draft=draft,
        grid=grid,
        pieces=tuple(
            OwnPiece(row=row, column=column, size=Quantity(face / 1_000_000, "m2"))
            for (row, column), face in sorted(faces.items())
        ),
        niches=draft.niches,
        size=Quantity(Fraction(set_mm2) / 1_000_000, "m2"),
        thin=tuple(
            min(lengths) for lengths, whole in ((wide, piece[0]), (high, piece[1])) if min(lengths) < LEAST_CUT * whole
        ),
    )


def plan_with(plan: AreaPlan, layout: WallLayout) -> AreaPlan:
    """An area's plan laid out like this, with its piece and joint; pieces with a name stay."""
    draft, given = layout.draft, plan.model_dump(mode="json")
    named = [piece.model_dump(mode="json") for piece in plan.pieces if piece.name is not None]
    changes = dict(layout.changes)
    changes["pieces"] = [*changes["pieces"], *named]
    if plan.joint_mm != draft.joint_mm:
        changes["joint"] = _written(draft.joint_mm)
    piece = dict(given["piece"])
    for side, length in (("length", draft.length_mm), ("width", draft.width_mm)):
        if _mm(getattr(plan.piece, side)) != length:
            piece[side] = _written(length)
    return AreaPlan.model_validate(given | changes | {"piece": piece})


def _written(length_mm: Fraction) -> str:
    return write_quantity(Quantity(length_mm, "mm"))


def thin_told(layout: WallLayout) -> Message | None:
    """That a cut is narrow, and that another start may help; None where none is."""
    if not layout.thin:
        return None
    return message("wall-layout-thin", cut=Quantity(min(layout.thin), "mm"))


def _mm(length: Quantity) -> Fraction:
    return convert_exact(length.value, length.unit, "mm")


def _row(length: Fraction, piece: Fraction, joint: Fraction) -> tuple[int, Fraction]:
    """How many whole pieces with their joints go into a length from one end, and how long the cut behind them is: 0
    where nothing but a joint is left."""
    whole = int((length + joint) // (piece + joint))
    return whole, max(Fraction(0), length - whole * (piece + joint))


def _across(length: Fraction, piece: Fraction, joint: Fraction, start: Across) -> Iterator[Fraction]:
    """The widths of the columns from the left."""
    if length <= piece:
        yield length
        return
    if start in ("left", "right"):
        whole, cut = _row(length, piece, joint)
        cuts = [cut] if cut else []
        yield from [*cuts, *[piece] * whole] if start == "right" else [*[piece] * whole, *cuts]
        return
    middle = [piece] if start == "piece" else []
    side = (length - piece) / 2 - joint if middle else (length - joint) / 2
    whole, cut = _row(max(Fraction(0), side), piece, joint)
    cuts = [cut] if cut else []
    yield from [*cuts, *[piece] * whole, *middle, *[piece] * whole, *cuts]


def _up(draft: LayoutDraft, piece: Fraction) -> Iterator[Fraction]:
    """The heights of the rows from below."""
    first, joint = draft.first_row_mm, draft.joint_mm
    if first is not None and 0 < first < min(piece, draft.up_mm):
        yield first
        rest = draft.up_mm - first - joint
        if rest > 0:
            yield from _across(rest, piece, joint, "left")
        return
    yield from _across(draft.up_mm, piece, joint, "left" if draft.up == "floor" else "right")


def _cuts(lengths: tuple[Fraction, ...], whole: Fraction) -> tuple[Quantity | None, Quantity | None]:
    """The first and the last of some lengths where they are cut."""
    first = Quantity(lengths[0], "mm") if lengths[0] != whole else None
    last = Quantity(lengths[-1], "mm") if len(lengths) > 1 and lengths[-1] != whole else None
    return first, last


def _check_niche(niche: Niche, draft: LayoutDraft) -> None:
    left, bottom, width, height = _sides(niche)
    inside = left >= 0 and bottom >= 0 and left + width <= draft.across_mm and bottom + height <= draft.up_mm
    if not inside or width <= 0 or height <= 0:
        raise Refused(message("wall-layout-niche-off", name=niche.name))


def _sides(niche: Niche) -> tuple[Fraction, Fraction, Fraction, Fraction]:
    return _mm(niche.left), _mm(niche.bottom), _mm(niche.width), _mm(niche.height)


def _cut_by_niches(
    draft: LayoutDraft, wide: tuple[Fraction, ...], high: tuple[Fraction, ...]
) -> Iterator[tuple[tuple[int, int], Fraction]]:
    """The places that a niche cuts into, by row and column, and what is left of their face [mm2]. Niches do not lie
    over each other."""
    y = Fraction(0)
    for row, h in enumerate(high, start=1):
        x = Fraction(0)
        for column, w in enumerate(wide, start=1):
            gone = sum((_shared(niche, x, y, w, h) for niche in draft.niches), Fraction(0))
            if gone:
                yield (row, column), max(Fraction(0), w * h - gone)
            x += w + draft.joint_mm
        y += h + draft.joint_mm


def _shared(niche: Niche, x: Fraction, y: Fraction, w: Fraction, h: Fraction) -> Fraction:
    """The surface that a niche and a piece share [mm2]."""
    left, bottom, width, height = _sides(niche)
    across = min(left + width, x + w) - max(left, x)
    up = min(bottom + height, y + h) - max(bottom, y)
    return across * up if across > 0 and up > 0 else Fraction(0)
