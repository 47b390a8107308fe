"""A drawn wall by measure: the scale at which it goes into its place, and what stands where. Nothing is drawn here.

Lengths are points, from the upper left corner of the place.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise

from fieldassist.checklist.laying import PieceSpan, SeamEnds
from fieldassist.report import fonts
from fieldassist.report.build.wall import pieces_told
from fieldassist.report.grid import CAPTION, MM, OPEN_TODAY, flow_high, flowed
from fieldassist.report.sheet import Style
from fieldassist.report.signs import EDGE, KeyEntry, KeySign, key_high
from fieldassist.report.wall_fit import FitBox, Fitted, FitText, fit, fit_bare, largest_free
from fieldassist.report.wall_model import DrawnPiece, DrawnWall, StateRun, state_runs
from fieldassist.trade.message import Figure, message

_Said = Callable[[Figure], str]

# From so wide and so high on [mm on paper] a piece bears its number; from so wide on it has room for long words.
_NUMBERED = 14.0 * MM, 8.0 * MM
_LONG_WORDS = 20.5 * MM
# Where a piece is less wide or less high than this, the area is drawn in two: no sign would go into it.
_LEAST_PIECE = 5.0 * MM, 3.7 * MM
# What a drawing takes of its place, beside its key and the list.
_DRAWING = 0.75
_LEAST_LIST = 6 * 10.2  # lines of the list that are kept
_SCALES = (20, 25, 30, 40, 50, 75, 100, 125, 150, 200, 250, 300, 400, 500)
# Boxes of pieces without a place [mm on paper]: the largest of which all go into the room are taken.
_BOXES = ((28.0, 17.0), (21.0, 15.0), (14.5, 9.5), (8.7, 8.0), (5.8, 5.0), (4.0, 3.5))
DIMENSION = 13.0  # the height of a dimension line under the drawing
_GUTTER = 12.0 * MM  # the width of one beside it, where the place is at least so wide
_WITH_GUTTER = 120.0 * MM
_GAP = 4.0
_LIST = Style(fonts.REGULAR, 8.2, 10.2)
_LIST_STRONG = Style(fonts.HEAVY, 8.2, 10.2)
_LIST_OPEN = Style(fonts.HEAVY, 8.2, 10.2, OPEN_TODAY)
ROW_NUMBER = Style(fonts.SEMIBOLD, 8.2, 9.8)
_LEAST_ROW = 10.0  # between two numbers under each other

_Line = list[tuple[str, Style]]


@dataclass(frozen=True, slots=True)
class FittedPiece:
    """A piece on paper: its box, what stands in it, and where signs stand on its edges, each with the way inward."""

    piece: DrawnPiece
    box: FitBox
    fitted: Fitted
    edges: tuple[tuple[float, float, tuple[int, int]], ...] = ()


@dataclass(frozen=True, slots=True)
class FittedWall:
    """A drawn wall by measure.

    scale: points a millimetre, 0 where it is to no scale; board: where the grid lies; row_numbers: of the first piece
    of each row, where pieces are too small for their own; key_top, key_high: where the key begins, and how high all is
    with it; lines: under the key; high: all of it.
    """

    caption: str
    scale: float
    bare: bool
    board: FitBox
    height_beside: bool
    pieces: tuple[FittedPiece, ...]
    row_numbers: tuple[FitText, ...]
    key: tuple[KeyEntry, ...]
    key_top: float
    key_high: float
    lines: tuple[_Line, ...]
    high: float

    def on_paper(self, ends: SeamEnds, outline: PieceSpan) -> SeamEnds:
        """A line of the surface, in points."""
        x1, y1, x2, y2 = ends
        left, top = self.board.x - outline.left * self.scale, self.board.y + outline.top * self.scale
        return (left + x1 * self.scale, top - y1 * self.scale, left + x2 * self.scale, top - y2 * self.scale)

    def box_of(self, span: PieceSpan, outline: PieceSpan) -> FitBox:
        """A part of the surface, in points."""
        x1, low, x2, top = self.on_paper((span.left, span.bottom, span.right, span.top), outline)
        return FitBox(x1, top, x2 - x1, low - top)


# Whoever plans a page asks for the same drawing several times: how high it is, how low it may be, and to draw it.
_ASKED = 16


@lru_cache(maxsize=_ASKED)
def lay_out_wall(wall: DrawnWall, wide: float, at_most: float, said: _Said) -> FittedWall:
    """The wall at the largest scale at which all of it goes into a place; what does not fit at any is left to the table
    of all pieces, which the last line of the list says."""
    shortened, last = None, None
    for board in _to_scale(wall, wide) if wall.outline is not None else _in_order(wall, wide):
        # A long list gives way before pieces become too small for a sign.
        if shortened is not None and board.small:
            break
        last = board
        if board.high + DIMENSION + CAPTION.leading > at_most:
            continue
        layout = _laid(wall, board, wide, said)
        if layout.high <= at_most:
            return layout
        if layout.key_high + _LEAST_LIST <= at_most + 0.01:
            shortened = layout
    assert last is not None  # some scale is small enough
    return _shortened(shortened or _laid(wall, last, wide, said), at_most, wide, said)


@lru_cache(maxsize=_ASKED)
def least_high(wall: DrawnWall, wide: float, said: _Said) -> float:
    """How high a place of this width has to be at least, for pieces to have room for a sign, with some of the list."""
    least = 0.0
    for board in _to_scale(wall, wide) if wall.outline is not None else _in_order(wall, wide):
        if least and board.small:
            break
        layout = _laid(wall, board, wide, said)
        least = min(layout.high, layout.key_high + _LEAST_LIST)
    return least


@dataclass(frozen=True, slots=True)
class _Board:
    """The drawing at one scale: where each piece lies on paper, without what stands in it."""

    scale: float
    one_to: int
    boxes: tuple[FitBox, ...]
    grid: FitBox
    wide: float
    high: float

    @property
    def piece(self) -> tuple[float, float]:
        """How wide and how high most pieces are."""
        return _common(box.wide for box in self.boxes), _common(box.high for box in self.boxes)

    @property
    def small(self) -> bool:
        """Whether a piece has no room for a sign."""
        return self.piece[0] < _LEAST_PIECE[0] or self.piece[1] < _LEAST_PIECE[1]

    @property
    def numbered(self) -> bool:
        """Whether pieces bear their numbers."""
        return self.piece[0] >= _NUMBERED[0] and self.piece[1] >= _NUMBERED[1]


def _common(lengths: Iterator[float]) -> float:
    """The length that occurs most often; the larger one of two."""
    counted = Counter(round(length, 1) for length in lengths)
    return max(counted, key=lambda length: (counted[length], length))


def _to_scale(wall: DrawnWall, wide: float) -> Iterator[_Board]:
    """The wall at each scale at which it is no wider than its place, the largest first."""
    assert wall.outline is not None
    spans, whole = _with_places(wall)
    for one_to in _scales():
        scale = MM / one_to
        board = _board(spans, wall.outline, whole, scale, one_to)
        beside = _beside(wall, board, wide)
        if board.wide + beside <= wide:
            yield _moved(board, beside)
            if board.piece[1] < 1.0 or one_to > 5000:
                return


def _scales() -> Iterator[int]:
    yield from _SCALES
    scale = _SCALES[-1]
    while True:
        scale *= 2
        yield scale


def _beside(wall: DrawnWall, board: _Board, wide: float) -> float:
    """What stands at the left of the drawing: numbers of rows, or its height."""
    if not board.numbered:
        longest = max(len(str(piece.number)) for piece in wall.pieces)
        return fonts.width("8" * longest, ROW_NUMBER.face, ROW_NUMBER.size) + 5.0
    return _GUTTER if wide >= _WITH_GUTTER else 0.0


def _with_places(wall: DrawnWall) -> tuple[list[PieceSpan], PieceSpan]:
    """Where every piece lies, those without a place in rows over the others; and all that is drawn.

    Pieces of the grid take half of each joint: on paper a joint is one line.
    """
    assert wall.outline is not None
    laid = [piece.span for piece in wall.pieces if piece.span is not None]
    wide = _common(span.width for span in laid) if laid else wall.outline.width
    high = _common(span.height for span in laid) if laid else wall.outline.height
    x, y, whole = wall.outline.left, wall.outline.top + high / 4, wall.outline
    spans: list[PieceSpan] = []
    for piece in wall.pieces:
        span = piece.span
        if span is not None and piece.row:
            half = wall.joint_mm / 2
            span = PieceSpan(span.left - half, span.bottom - half, span.width + 2 * half, span.height + 2 * half)
        elif span is None:
            if x + wide > wall.outline.right + 1.0 and x > wall.outline.left:
                x, y = wall.outline.left, y + high * 1.1
            span = PieceSpan(x, y, wide, high)
            x += wide * 1.1
            whole = whole.around(span)
        spans.append(span)
    return spans, whole


def _board(spans: Sequence[PieceSpan], outline: PieceSpan, whole: PieceSpan, scale: float, one_to: int) -> _Board:
    def box(span: PieceSpan) -> FitBox:
        return FitBox(
            (span.left - whole.left) * scale,
            (whole.top - span.top) * scale,
            span.width * scale,
            span.height * scale,
        )

    return _Board(
        scale, one_to, tuple(box(span) for span in spans), box(outline), whole.width * scale, whole.height * scale
    )


def _moved(board: _Board, right: float) -> _Board:
    def moved(box: FitBox) -> FitBox:
        return replace(box, x=box.x + right)

    return replace(board, boxes=tuple(map(moved, board.boxes)), grid=moved(board.grid), wide=board.wide + right)


def _in_order(wall: DrawnWall, wide: float) -> Iterator[_Board]:
    """Equal boxes in rows from above, in the order of the pieces."""
    for wide_mm, high_mm in _BOXES:
        beside = 0.0 if wide_mm * MM >= _NUMBERED[0] else 16.0
        columns = max(1, int((wide - beside) // (wide_mm * MM)))
        w, h = min(wide_mm * MM * 1.25, (wide - beside) / min(columns, len(wall.pieces))), high_mm * MM
        boxes = tuple(FitBox(beside + at % columns * w, at // columns * h, w, h) for at in range(len(wall.pieces)))
        high = -(-len(wall.pieces) // columns) * h
        yield _Board(0.0, 0, boxes, FitBox(beside, 0.0, min(columns, len(boxes)) * w, high), wide, high)


# --- what stands in and around the drawing ------------------------------------------------------------------------


def _laid(wall: DrawnWall, board: _Board, wide: float, said: _Said) -> FittedWall:
    bare = not board.numbered
    beside = board.grid.x >= _GUTTER and not bare and wall.outline is not None
    caption = _caption(wall, board, bare, said)
    down = flow_high(caption, CAPTION, wide) + _GAP
    boxes = [replace(box, y=box.y + down) for box in board.boxes]
    grid = replace(board.grid, y=board.grid.y + down)
    pieces = _fitted(wall, board, boxes, grid, bare, said)
    numbers = tuple(_row_numbers(pieces)) if bare and wall.outline is not None else ()
    key = tuple(_key(wall, pieces, bare, said))
    key_top = down + board.high + (DIMENSION if wall.outline is not None else 0.0) + _GAP
    untold = [one.piece for one in pieces if not one.fitted.told]
    lines = _list_lines(state_runs(untold), wall, wide, said)
    foot = key_top + key_high(key, wide)
    high = foot + sum(line[0][1].leading for line in lines)
    return FittedWall(caption, board.scale, bare, grid, beside, pieces, numbers, key, key_top, foot, tuple(lines), high)


def _caption(wall: DrawnWall, board: _Board, bare: bool, said: _Said) -> str:
    laid = "yes" if wall.outline is not None else "no"
    parts = [message("drawn-caption", surface=wall.surface, laid=laid, scale=str(board.one_to))]
    if wall.part[1] > 1:
        parts.insert(0, message("drawn-part", part=str(wall.part[0]), parts=str(wall.part[1])))
    tag = next((piece.tag for piece in wall.pieces if piece.tag), "")
    if bare and wall.outline is not None:
        parts.append(message("drawn-rows"))
    elif not bare and tag:
        parts.append(message("drawn-numbers", tag=tag, laid=laid))
    if wall.outline is not None and any(piece.span is None for piece in wall.pieces):
        parts.append(message("drawn-apart"))
    return " ".join(said(part) for part in parts)


def _fitted(
    wall: DrawnWall, board: _Board, boxes: Sequence[FitBox], grid: FitBox, bare: bool, said: _Said
) -> tuple[FittedPiece, ...]:
    again = said(message("drawn-again-short"))
    short = board.piece[0] < _LONG_WORDS
    over = [box for piece, box in zip(wall.pieces, boxes, strict=True) if piece.span is not None and not piece.row]
    if wall.outline is not None:
        over += [_on(opening.span, wall.outline, grid, board.scale) for opening in wall.openings]
    found = []
    for piece, box in zip(wall.pieces, boxes, strict=True):
        free = largest_free(box, over) if piece.row else box
        fitted = fit_bare(piece, free, again) if bare else fit(piece, free, short=short)
        found.append(FittedPiece(piece, box, fitted, _edge_signs(box, fitted) if piece.edges and not bare else ()))
    return tuple(found)


def _edge_signs(box: FitBox, fitted: Fitted) -> tuple[tuple[float, float, tuple[int, int]], ...]:
    """A sign on each edge of a piece, in its middle or beside what is written there. None where one has no room: some
    would say that the others are not full."""
    found = []
    for toward in ((0, 1), (0, -1), (1, 0), (-1, 0)):
        for part in (0.5, 0.65, 0.35, 0.8, 0.2):
            level = toward[0] == 0
            x = box.x + box.wide * part if level else box.x if toward[0] > 0 else box.right
            y = box.y + box.high * part if not level else box.y if toward[1] > 0 else box.low
            around = FitBox(x - EDGE, y - EDGE, 2 * EDGE, 2 * EDGE)
            if not any(around.meets(other) for other in fitted.boxes):
                found.append((x, y, toward))
                break
    return tuple(found) if len(found) == 4 else ()


def _on(span: PieceSpan, outline: PieceSpan, grid: FitBox, scale: float) -> FitBox:
    return FitBox(
        grid.x + (span.left - outline.left) * scale,
        grid.y + (outline.top - span.top) * scale,
        span.width * scale,
        span.height * scale,
    )


def _row_numbers(pieces: Sequence[FittedPiece]) -> Iterator[FitText]:
    """The number of the first piece of each row at its left; where rows are low, not of every one."""
    firsts: dict[float, FittedPiece] = {}
    for one in pieces:
        known = firsts.get(round(one.box.y, 1))
        if one.piece.row and (known is None or one.box.x < known.box.x):
            firsts[round(one.box.y, 1)] = one
    left = min((one.box.x for one in firsts.values()), default=0.0)
    last = float("inf")
    for one in sorted(firsts.values(), key=lambda one: -one.box.y):
        y = one.box.y + one.box.high / 2 + ROW_NUMBER.size * 0.36
        if last - y < _LEAST_ROW:
            continue
        last, text = y, str(one.piece.number)
        yield FitText(left - 4.0 - fonts.width(text, ROW_NUMBER.face, ROW_NUMBER.size), y, text, ROW_NUMBER)


# The signs of the key, in its order.
_KEY: tuple[KeySign, ...] = (
    "good",
    "eye",
    "failed",
    "open",
    "cleared",
    "suspect",
    "dots",
    "not set",
    "odd batch",
    "even batch",
    "again",
    "method",
    "combing level",
    "combing upright",
    "edge",
)


def _key(wall: DrawnWall, pieces: Sequence[FittedPiece], bare: bool, said: _Said) -> Iterator[KeyEntry]:
    """The signs that occur in the drawing, and no others."""
    used: set[str] = {sign.sign for one in pieces for sign in one.fitted.signs}
    used |= {one.piece.ground for one in pieces}
    if any(one.piece.tint for one in pieces):
        used.add("odd batch")
        used |= {"even batch" for one in pieces if one.piece.batch and not one.piece.tint}
    if bare:
        used |= {"again" for one in pieces if one.piece.again}
    else:
        used |= {f"combing {one.piece.combing}" for one in pieces if one.fitted.combing is not None}
    used |= {"edge" for one in pieces if one.edges}
    if wall.seams:
        used.add("method")
    for sign in _KEY:
        if sign in used:
            code = "eye-or-earlier" if sign == "eye" and wall.earlier else sign.replace(" ", "-")
            yield KeyEntry(sign, said(message("drawn-key", sign=code)))
    if bare and any(one.fitted.told and not one.piece.lifts for one in pieces):
        yield KeyEntry("words", said(message("drawn-key-plain")))
    shown = {text.text for one in pieces for text in one.fitted.texts}
    for what, marks in (
        ("lifts", {lift.short for one in pieces for lift in one.piece.lifts}),
        ("batches", {one.piece.begins for one in pieces if one.piece.begins}),
    ):
        found = sorted(marks & shown, key=lambda mark: (len(mark), mark))
        if found:
            yield KeyEntry("words", said(message("drawn-key-words", mark=found[0], what=what)))


def _list_lines(listed: Sequence[StateRun], wall: DrawnWall, wide: float, said: _Said) -> list[_Line]:
    """What stands under the key: the pieces whose state is not said in them, and how all came into the record."""
    parts: _Line = []
    for run in listed:
        state = said(message("drawn-run", state=run.state))
        parts.append((f"   {state}" if parts else state, _LIST_OPEN if run.red else _LIST_STRONG))
        parts.append((f" {said(pieces_told(run, wall.kind))}.", _LIST))
    lines = flowed(parts, _LIST, wide) if parts else []
    return [*lines, *(flowed(wall.seen, _LIST, wide) if wall.part[0] == wall.part[1] else [])]


def _shortened(layout: FittedWall, at_most: float, wide: float, said: _Said) -> FittedWall:
    """As many lines of the list as there is room for; the last one says where the rest is."""
    over = layout.high - at_most
    more = flowed(said(message("drawn-more")), _LIST, wide)
    keep = len(layout.lines)
    while keep and over + len(more) * _LIST.leading > 0:
        keep -= 1
        over -= _LIST.leading
    lines = (*layout.lines[:keep], *more)
    return replace(layout, lines=lines, high=layout.key_high + len(lines) * _LIST.leading)


# --- in two drawings ----------------------------------------------------------------------------------------------


@lru_cache(maxsize=_ASKED)
def wall_parts(wall: DrawnWall, wide: float, high: float) -> tuple[DrawnWall, ...]:
    """The wall in as many drawings as it takes for pieces of 5 mm on a page of this size: cut where a batch ends, as
    near to the middle as one does."""
    parts = _halves(wall, wide, high)
    return tuple(replace(part, part=(at, len(parts))) for at, part in enumerate(parts, start=1)) if parts[1:] else parts


def _halves(wall: DrawnWall, wide: float, high: float) -> tuple[DrawnWall, ...]:
    outline = wall.outline
    spans = [piece.span for piece in wall.pieces if piece.span is not None and piece.row]
    if outline is None or not spans:
        return (wall,)
    scale = min(wide / outline.width, high * _DRAWING / outline.height, MM / _SCALES[0])
    piece = _common(span.width for span in spans) * scale, _common(span.height for span in spans) * scale
    across = outline.width / wide >= outline.height / high
    small = piece[0] < _LEAST_PIECE[0] or piece[1] < _LEAST_PIECE[1]
    cut = _cut(wall, across=across) if small and scale < MM / _SCALES[0] else None
    if cut is None:
        return (wall,)
    return tuple(part for half in _cut_at(wall, cut, across=across) for part in _halves(half, wide, high))


def _cut(wall: DrawnWall, *, across: bool) -> float | None:
    """Where to cut between two columns (across) or two rows [mm]; None where there is only one."""
    assert wall.outline is not None
    begin, long = (wall.outline.left, wall.outline.width) if across else (wall.outline.bottom, wall.outline.height)
    lines: dict[float, list[DrawnPiece]] = {}
    for piece in wall.pieces:
        if piece.span is not None and piece.row:
            lines.setdefault(piece.span.left if across else piece.span.bottom, []).append(piece)
    best, cut = -1.0, None
    for (_, before), (edge, behind) in pairwise(sorted(lines.items())):
        place = (edge - begin) / long
        if not 0.3 <= place <= 0.7 and len(lines) > 2:
            continue
        other = {_beside_of(piece, across): piece.batch for piece in before}
        change = sum(other.get(_beside_of(piece, across), piece.batch) != piece.batch for piece in behind)
        worth = change / len(behind) - abs(place - 0.5)
        if cut is None or worth > best:
            best, cut = worth, edge
    return cut


def _beside_of(piece: DrawnPiece, across: bool) -> float:
    assert piece.span is not None
    return round(piece.span.bottom if across else piece.span.left, 1)


def _cut_at(wall: DrawnWall, cut: float, *, across: bool) -> tuple[DrawnWall, DrawnWall]:
    assert wall.outline is not None
    whole = wall.outline
    if across:
        sides = (
            PieceSpan(whole.left, whole.bottom, cut - whole.left, whole.height),
            PieceSpan(cut, whole.bottom, whole.right - cut, whole.height),
        )
    else:
        sides = (
            PieceSpan(whole.left, whole.bottom, whole.width, cut - whole.bottom),
            PieceSpan(whole.left, cut, whole.width, whole.top - cut),
        )

    def second(span: PieceSpan | None) -> bool:
        return span is not None and (span.left + span.width / 2 if across else span.bottom + span.height / 2) >= cut

    halves = []
    for at, side in enumerate(sides):
        halves.append(
            replace(
                wall,
                outline=side,
                pieces=tuple(piece for piece in wall.pieces if second(piece.span) == bool(at)),
                openings=tuple(one for one in wall.openings if second(one.span) == bool(at)),
                seams=tuple(seam for seam in (_clipped(ends, side) for ends in wall.seams) if seam is not None),
            )
        )
    return halves[0], halves[1]


def _clipped(ends: SeamEnds, side: PieceSpan) -> SeamEnds | None:
    x1, y1 = max(ends[0], side.left), max(ends[1], side.bottom)
    x2, y2 = min(ends[2], side.right), min(ends[3], side.top)
    return (x1, y1, x2, y2) if x1 <= x2 and y1 <= y2 and (x2 - x1) + (y2 - y1) > 1.0 else None
