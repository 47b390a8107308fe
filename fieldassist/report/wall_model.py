"""The drawing of an area to scale, as plain data: pieces in their places with what is known of each, in words."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import inf
from typing import Literal

from fieldassist.checklist.laying import PieceSpan, SeamEnds
from fieldassist.report.signs import LiftSign, PieceGround


@dataclass(frozen=True, slots=True)
class DrawnLift:
    """A lift of a piece. contact: "97 %", figure: "97", both "" where it was not read; told: "lift 7", short: "l7"."""

    number: int
    sign: LiftSign
    contact: str
    figure: str
    told: str
    short: str


@dataclass(frozen=True, slots=True)
class DrawnPiece:
    """A piece, or a place for one.

    span: where it lies [mm], None where the plan does not say; row: of the grid, 0 where it lies on none; number: its
    place for good; ground, tint: how it is filled, tint for an odd batch; loud: of a state that must not be missed, in
    words; red: that is open today; words, short, brief: what else is known of it, the last what matters most; state:
    how it stands in a list; by_lift: the lift beside its number there, "" where the state is not about its own; tag:
    method and batch; begins: the batch that begins here, in short; lifts: made under it, the last one last; again: it
    was set more than once; combing: which way its ridges run; edges: where they have to be full, they were seen full in
    its last lift.
    """

    number: int
    span: PieceSpan | None
    row: int
    ground: PieceGround
    tint: bool
    loud: str
    red: bool
    words: str
    short: str
    brief: str
    state: str
    by_lift: str
    tag: str
    begins: str
    batch: int
    lifts: tuple[DrawnLift, ...]
    again: bool
    combing: Literal["", "level", "upright"]
    edges: bool


@dataclass(frozen=True, slots=True)
class DrawnOpening:
    """A niche or another opening in which no piece lies, with its name."""

    name: str
    span: PieceSpan


@dataclass(frozen=True, slots=True)
class PieceRow:
    """A piece in a table of all, in words, or neighbours of which the same is told; for whoever cannot see the drawing.

    numbers: "7", or "9 and 10"; loud: its state must not be missed; tag: method and batch; set: by whom and when, and
    how that came into the record.
    """

    numbers: str
    state: str
    loud: bool
    lifts: str
    tag: str
    set: str


@dataclass(frozen=True, slots=True)
class DrawnWall:
    """An area seen from the room, or from above.

    kind: of its pieces, as plans name it; outline: what of the surface is drawn [mm], None where the plan does not say
    where pieces lie: they stand in the order in which they were set then; joint_mm: between two pieces; seams: where
    two methods meet; seen: how the pieces came into the record; earlier: of a good lift only an earlier day's record
    knows how it was read; rows: all of it for a table; alt: the same in a few sentences; part: which of how many
    drawings of the area it is.
    """

    surface: Literal["wall", "floor"]
    kind: str
    outline: PieceSpan | None
    joint_mm: float
    pieces: tuple[DrawnPiece, ...]
    openings: tuple[DrawnOpening, ...]
    seams: tuple[SeamEnds, ...]
    seen: str
    earlier: bool
    rows: tuple[PieceRow, ...]
    alt: str
    part: tuple[int, int] = (1, 1)

    @property
    def wide_mm(self) -> float:
        """How wide it is; without an outline as wide as there is room for."""
        return inf if self.outline is None else self.outline.width

    @property
    def high_mm(self) -> float:
        """How high it is; 0 without an outline."""
        return 0.0 if self.outline is None else self.outline.height


@dataclass(frozen=True, slots=True)
class StateRun:
    """The pieces in one state, in words; red: that is open today; lifts: under each, told beside its number."""

    state: str
    red: bool
    numbers: tuple[int, ...]
    lifts: tuple[str, ...] = ()


def state_runs(pieces: Iterable[DrawnPiece]) -> tuple[StateRun, ...]:
    """The pieces state by state: first what is open, then what must not be missed, each in the order of the pieces."""
    found: dict[tuple[bool, bool, str], dict[int, str]] = {}
    for piece in pieces:
        found.setdefault((not piece.red, not piece.loud, piece.state), {})[piece.number] = piece.by_lift
    in_order = sorted(found.items(), key=lambda item: (item[0][:2], min(item[1])))
    return tuple(
        StateRun(state, not black, tuple(sorted(lifts)), tuple(lifts[number] for number in sorted(lifts)))
        for (black, _, state), lifts in in_order
    )
