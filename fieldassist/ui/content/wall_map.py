"""An area as it lies on the wall: every piece at its place in millimetres with what is known of it, the borders between
batches and between methods, and niches. Nothing is decided here: states and lifts come from `checklist`.

Millimetres count from the left edge and from below: the first row is the lowest, on a floor too.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil, sqrt
from typing import Literal

from fieldassist.checklist import covering, methods, proven
from fieldassist.checklist.laying import SAME_MM, PieceSpan, apart_places, go_on, laid_places, niche_spans, seam
from fieldassist.checklist.places import PiecePlace, planned_m2, planned_pieces
from fieldassist.checklist.plan import AreaPlan, Method
from fieldassist.checklist.reach import TileState
from fieldassist.checklist.state import Area, Tile
from fieldassist.trade.message import Message, message

PieceState = TileState | Literal["not set"]
BorderKind = Literal["batch", "method"]
# A wall without a grid is drawn about so many times as wide as high. Ours: it fills the drawing's place.
_WIDE_AS_HIGH = 1.3
# A large wall is stretched so far in one direction, and no further, where its pieces would be too small to be pressed.
_STRETCH = 1.2
_ROUNDED = 0.5  # dots


@dataclass(frozen=True, slots=True)
class MapPiece:
    """A piece or a place for one.

    number: as the record has it; row, column: on the grid, 0 where it lies on none; percent: contact under its last
    lift, None where that was not read; seen: how it came into the record, None while it is not set; due: its lift is
    due; batch: round of its batch, 0 for none; method: which of the area's, -1 while it is not set; cut: it is smaller
    than a whole piece.
    """

    number: int
    span: PieceSpan
    row: int = 0
    column: int = 0
    name: str = ""
    state: PieceState = "not set"
    percent: float | None = None
    seen: proven.SeenAs | None = None
    due: bool = False
    batch: int = 0
    method: int = -1
    order: int = 0
    cut: bool = False

    @property
    def is_set(self) -> bool:
        """Whether it is on the wall."""
        return self.state not in ("not set", "taken off")


@dataclass(frozen=True, slots=True)
class Border:
    """A straight border between pieces that were set with other mortar or in another way: from one end to the other
    [mm], level or upright; beyond: what lies on its later side, told by a tag on it where tagged."""

    kind: BorderKind
    ends: tuple[float, float, float, float]
    beyond: Message
    tagged: bool = False

    @property
    def level(self) -> bool:
        """Whether it runs level."""
        return self.ends[1] == self.ends[3]


@dataclass(frozen=True, slots=True)
class WallMap:
    """An area as it lies on the wall. laid_out: the plan says where its pieces lie; else they are drawn in the order in
    which they are set. niches: with their names."""

    area: str
    width: float
    height: float
    pieces: tuple[MapPiece, ...]
    borders: tuple[Border, ...] = ()
    niches: tuple[tuple[str, PieceSpan], ...] = ()
    laid_out: bool = True
    planned: int = 0
    set_m2: float = 0.0
    planned_m2: float = 0.0

    @property
    def whole(self) -> PieceSpan:
        """All of it."""
        return PieceSpan(0.0, 0.0, self.width, self.height)

    @property
    def on_wall(self) -> int:
        """How many pieces are set and stay."""
        return sum(piece.is_set for piece in self.pieces)

    def numbers(self, *states: PieceState) -> tuple[int, ...]:
        """The pieces in these states."""
        return tuple(sorted(piece.number for piece in self.pieces if piece.state in states))

    def piece(self, number: int) -> MapPiece | None:
        """The piece with this number, or None."""
        return next((piece for piece in self.pieces if piece.number == number), None)


# --- from the plan, and from the area under way -------------------------------------------------------------------


def planned_map(plan: AreaPlan) -> WallMap:
    """An area that nobody has begun."""
    pieces = _on_grid(plan) if plan.grid is not None else _proposed(plan, planned_pieces(plan))
    return _map(plan, pieces)


def wall_map(area: Area) -> WallMap:
    """An area under way."""
    plan, tiles = area.plan, area.progress.tiles
    if plan.grid is not None:
        places = _on_grid(plan)
        apart = [tile for number, tile in sorted(tiles.items()) if number not in {p.number for p in places}]
        places = (*places, *_beside(places, [(tile.number, tile.place) for tile in apart], plan))
    else:
        places = _proposed(plan, max([planned_pieces(plan), *tiles]))
    due = covering.to_be_lifted(area) | ({area.aimed.tile} if area.aimed is not None else set())
    contact = _contacts(area)
    pieces = tuple(_filled(piece, tiles.get(piece.number), due, contact) for piece in places)
    bare = _map(plan, pieces)
    return replace(bare, borders=_borders(area, bare), set_m2=area.progress.set_m2)


def _map(plan: AreaPlan, pieces: Sequence[MapPiece]) -> WallMap:
    outer = pieces[0].span
    for piece in pieces:
        outer = outer.around(piece.span)
    niches = niche_spans(plan)
    for _, span in niches:
        outer = outer.around(span)
    outer = outer.around(PieceSpan(0.0, 0.0, 0.0, 0.0))
    return WallMap(
        area=plan.name,
        width=outer.right,
        height=outer.top,
        pieces=tuple(pieces),
        niches=niches,
        laid_out=plan.grid is not None,
        planned=planned_pieces(plan),
        planned_m2=planned_m2(plan),
    )


def _on_grid(plan: AreaPlan) -> tuple[MapPiece, ...]:
    pieces = [
        MapPiece(place.number, place.span, place.row, place.column, name=place.name, cut=place.cut)
        for place in laid_places(plan)
    ]
    rest = [(place.number or 0, place) for place in apart_places(plan)]
    return (*pieces, *_beside(pieces, rest, plan))


def _beside(pieces: Sequence[MapPiece], more: Sequence[tuple[int, PiecePlace]], plan: AreaPlan) -> list[MapPiece]:
    """Pieces of which the plan does not say where they lie: in a row over the others, each with its own face."""
    high = float(plan.whole_mm[1])
    top = max((piece.span.top for piece in pieces), default=0.0)
    at, found = 0.0, []
    for number, place in more:
        wide = place.face_m2 * 1e6 / high
        held = PieceSpan(at, top + high / 4, wide, high)
        found.append(MapPiece(number, held, name=place.name or "", cut=True))
        at += wide + float(plan.joint_mm) + high / 8
    return found


def _proposed(plan: AreaPlan, count: int) -> tuple[MapPiece, ...]:
    """So many pieces in rows, where the plan has no grid: about as many as go beside each other on a wall that fills
    the drawing's place; the last row may be short."""
    wide, high = (float(side) for side in plan.whole_mm)
    columns = max(1, min(count, round(sqrt(_WIDE_AS_HIGH * count * high / wide))))
    joint = float(plan.joint_mm)
    return tuple(
        MapPiece(
            number + 1,
            PieceSpan((number % columns) * (wide + joint), (number // columns) * (high + joint), wide, high),
            number // columns + 1,
            number % columns + 1,
        )
        for number in range(count)
    )


def _filled(piece: MapPiece, tile: Tile | None, due: frozenset[int], contact: Mapping[int, float]) -> MapPiece:
    if tile is None:
        return piece
    whole = replace(
        piece,
        name=tile.place.name or piece.name,
        state=tile.state,
        percent=contact.get(tile.order),
        seen=proven.seen(tile),
        due=tile.number in due,
        order=tile.order,
    )
    if not whole.is_set:
        return replace(whole, due=False)
    return replace(whole, batch=tile.batch, method=tile.method)


def _contacts(area: Area) -> dict[int, float]:
    """The contact that was read under each setting [percent], by its order; of its last lift."""
    found: dict[int, float] = {}
    rounds = {(lift.section, lift.round): lift.order for lift in area.progress.lifts.values()}
    for reading in area.readings.values():
        if reading.measures == "coverage" and (reading.section, reading.round) in rounds:
            found[rounds[(reading.section, reading.round)]] = reading.canonical
    return found


# --- borders ------------------------------------------------------------------------------------------------------


def _borders(area: Area, on: WallMap) -> tuple[Border, ...]:
    there = [piece for piece in on.pieces if piece.is_set and piece.row]
    at = {(piece.row, piece.column): piece for piece in there}
    pairs = [
        (piece, other)
        for piece in there
        for step in ((0, 1), (1, 0))
        if (other := at.get((piece.row + step[0], piece.column + step[1]))) is not None
    ]
    joint = float(area.plan.joint_mm)
    names: Mapping[BorderKind, Callable[[MapPiece, MapPiece], Message | None]] = {
        "batch": _new_batch,
        "method": lambda before, after: _new_method(area, before, after),
    }
    found: list[Border] = []
    for kind, name in names.items():
        pieces = [
            Border(kind, seam(one.span, other.span, joint), told)
            for one, other in pairs
            if (told := name(*sorted((one, other), key=lambda piece: piece.order))) is not None
        ]
        found += _joined(pieces, joint)
    return _with_tags(found)


def _new_batch(before: MapPiece, after: MapPiece) -> Message | None:
    if not before.batch or not after.batch or before.batch == after.batch:
        return None
    return message("wall-tag-batch", batch=str(after.batch))


def _new_method(area: Area, before: MapPiece, after: MapPiece) -> Message | None:
    used = area.methods_used
    if before.method == after.method or not (0 <= before.method < len(used) and 0 <= after.method < len(used)):
        return None
    return method_tag(used[before.method], used[after.method])


def method_tag(before: Method, after: Method) -> Message:
    """What a method is called on a border: what is new of it against the other, in a word or two."""
    if before.sides != after.sides:
        return message("wall-tag-sides", sides=after.sides)
    notch = ("family", "width", "depth", "spacing")
    if any(getattr(before, part) != getattr(after, part) for part in notch):
        return message("wall-tag-notch", family=message("method-family", family=after.family), depth=after.depth)
    for part in ("back", "movement", "seating"):
        if getattr(before, part) != getattr(after, part):
            return message("wall-tag-part", part=methods.part_words(part, getattr(after, part)))
    return message("wall-tag-angle", angle=f"{after.angle:g}")


def _joined(pieces: Iterable[Border], joint: float) -> list[Border]:
    """Borders that go on from each other in one line, and tell the same, as one."""
    found: list[Border] = []
    for piece in sorted(pieces, key=lambda border: (border.level, border.ends[1 if border.level else 0], border.ends)):
        last = found[-1] if found else None
        if last is not None and last.beyond == piece.beyond and go_on(last.ends, piece.ends, joint):
            found[-1] = replace(last, ends=(*last.ends[:2], *piece.ends[2:]))
            continue
        found.append(piece)
    return found


def _with_tags(borders: Sequence[Border]) -> tuple[Border, ...]:
    """A tag once for all that a border tells: on the longest level one, for words are level, else on an upright one."""
    best: dict[Message, int] = {}
    for index, border in enumerate(borders):
        held = best.get(border.beyond)
        if held is None or _length(border) > _length(borders[held]):
            best[border.beyond] = index
    tagged = set(best.values())
    return tuple(replace(border, tagged=index in tagged) for index, border in enumerate(borders))


def _length(border: Border) -> tuple[bool, float]:
    x1, y1, x2, y2 = border.ends
    return border.level, abs(x2 - x1) + abs(y2 - y1)


# --- a part of a wall that is too small to be pressed -------------------------------------------------------------


def scale_of(part: PieceSpan, box: tuple[float, float]) -> float:
    """Dots a millimetre, where a part of the wall is drawn as large as goes into a box [dots]."""
    return min(box[0] / max(part.width, 1e-9), box[1] / max(part.height, 1e-9))


def pressed_scale(on: WallMap, part: PieceSpan, box: tuple[float, float], least: float) -> tuple[float, float]:
    """Dots a millimetre across and upwards: the same, but for a stretch of at most a fifth in one direction where only
    that makes every whole piece large enough to be pressed."""
    scale = scale_of(part, box)
    wide, high = _least_piece(on)
    across = min(max(scale, least / wide), box[0] / part.width, scale * _STRETCH)
    up = min(max(scale, least / high), box[1] / part.height, scale * _STRETCH)
    enough = across * wide >= least - _ROUNDED and up * high >= least - _ROUNDED
    return (across, up) if enough else (scale, scale)


def _least_piece(on: WallMap) -> tuple[float, float]:
    """Width and height of the smallest whole piece [mm]; of the smallest at all where every one is cut."""
    whole = [piece.span for piece in on.pieces if not piece.cut] or [piece.span for piece in on.pieces]
    return min(span.width for span in whole), min(span.height for span in whole)


def pressed_part(on: WallMap, number: int, box: tuple[float, float], least: float) -> PieceSpan | None:
    """The part of the wall to open before a piece can be pressed; None where all pieces are large enough on the whole.

    box: the drawing's place [dots]; least: what is pressed is at least so wide and high [dots]. The part holds as many
    whole rows and columns around the piece as leave each of them `least` dots, cut pieces not counted: a press beside
    one counts for the nearest.
    """
    wide, high = _least_piece(on)
    across, up = pressed_scale(on, on.whole, box, least)
    piece = on.piece(number)
    if piece is None or (across * wide >= least - _ROUNDED and up * high >= least - _ROUNDED):
        return None
    scale = least / min(wide, high)
    across, up = box[0] / scale, box[1] / scale
    left = _begin(piece.span.left + piece.span.width / 2, across, on.width)
    bottom = _begin(piece.span.bottom + piece.span.height / 2, up, on.height)
    part = piece.span
    for one in on.pieces:
        span = one.span
        if (
            span.left >= left - SAME_MM
            and span.right <= left + across + SAME_MM
            and span.bottom >= bottom - SAME_MM
            and span.top <= bottom + up + SAME_MM
        ):
            part = part.around(span)
    return part


def _begin(middle: float, length: float, whole: float) -> float:
    """Where a window of this length begins that has `middle` in its middle and does not leave the wall."""
    return min(max(0.0, middle - length / 2), max(0.0, whole - length))


def nearest(on: WallMap, x: float, y: float) -> MapPiece:
    """The piece at a place on the wall [mm], or the one next to it; a piece in a niche lies over the others."""

    def away(piece: MapPiece) -> tuple[float, float]:
        span = piece.span
        dx = max(span.left - x, 0.0, x - span.right)
        dy = max(span.bottom - y, 0.0, y - span.top)
        return dx * dx + dy * dy, span.width * span.height

    return min(on.pieces, key=away)


def whole_scale(width_mm: float, height_mm: float, box_mm: tuple[float, float]) -> int:
    """1 : n, the round scale at which a drawing goes into a box on the glass [mm].

    >>> whole_scale(4800, 3600, (142, 109))
    34
    """
    return max(1, ceil(max(width_mm / box_mm[0], height_mm / box_mm[1])))
