"""Where the pieces of an area lie on its surface: screens and pages draw them from here. Nothing of the day is in it.

Millimetres count from the left edge and from below: the first row is the lowest, on a floor too.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fieldassist.checklist.fields import canonical
from fieldassist.checklist.places import PiecePlace, planned_places
from fieldassist.checklist.plan import AreaPlan, Niche

# Two edges that lie no further apart [mm] are one.
SAME_MM = 0.01
# The ends of a straight border [mm].
SeamEnds = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class PieceSpan:
    """A rectangle on the surface: its left edge, its lower edge, width and height [mm]."""

    left: float
    bottom: float
    width: float
    height: float

    @property
    def right(self) -> float:
        """Its right edge [mm]."""
        return self.left + self.width

    @property
    def top(self) -> float:
        """Its upper edge [mm]."""
        return self.bottom + self.height

    def around(self, other: PieceSpan) -> PieceSpan:
        """The smallest that holds both."""
        left, bottom = min(self.left, other.left), min(self.bottom, other.bottom)
        return PieceSpan(left, bottom, max(self.right, other.right) - left, max(self.top, other.top) - bottom)

    def holds(self, x: float, y: float) -> bool:
        """Whether a place [mm] lies in it."""
        return self.left <= x <= self.right and self.bottom <= y <= self.top


@dataclass(frozen=True, slots=True)
class LaidPlace:
    """A place of the plan where it lies. row, column: on the grid, 0 where it lies on none; name: "" where it has none;
    cut: the piece there is smaller than a whole one."""

    number: int
    span: PieceSpan
    row: int = 0
    column: int = 0
    name: str = ""
    cut: bool = False


def niche_spans(plan: AreaPlan) -> tuple[tuple[str, PieceSpan], ...]:
    """The niches and other openings of an area, by name."""
    return tuple((niche.name, _span_of(niche)) for niche in plan.niches)


def _span_of(niche: Niche) -> PieceSpan:
    return PieceSpan(*(canonical(side) for side in (niche.left, niche.bottom, niche.width, niche.height)))


def laid_places(plan: AreaPlan) -> tuple[LaidPlace, ...]:
    """The places of which the plan says where they lie: those of its grid, and those that a niche is named after.

    None without a grid.
    """
    if plan.grid is None:
        return ()
    joint = float(plan.joint_mm)
    wide, high = [float(x) for x in plan.columns_mm], [float(y) for y in plan.rows_mm]
    left, bottom = _edges(wide, joint), _edges(high, joint)
    whole = (float(plan.whole_mm[0]), float(plan.whole_mm[1]))
    own = {(p.row, p.column) for p in plan.pieces}
    places: list[LaidPlace] = []
    for place in planned_places(plan):
        assert place.number is not None  # of a plan with a grid
        if place.row is None or place.column is None:
            continue
        x, y = place.column - 1, place.row - 1
        span = PieceSpan(left[x], bottom[y], wide[x], high[y])
        cut = (wide[x], high[y]) != whole or (place.row, place.column) in own
        places.append(LaidPlace(place.number, span, place.row, place.column, cut=cut))
    for niche_name, span in niche_spans(plan):
        mine = [place for place in _named(plan) if _belongs(place, niche_name)]
        part = span.width / max(1, len(mine))
        for at, place in enumerate(mine):
            held = PieceSpan(span.left + at * part, span.bottom, part, span.height)
            places.append(LaidPlace(place.number or 0, held, name=place.name or "", cut=True))
    return tuple(places)


def apart_places(plan: AreaPlan) -> tuple[PiecePlace, ...]:
    """The places with a number of which the plan does not say where they lie."""
    niches = [name for name, _ in niche_spans(plan)]
    return tuple(place for place in _named(plan) if not any(_belongs(place, name) for name in niches))


def _named(plan: AreaPlan) -> list[PiecePlace]:
    return [place for place in planned_places(plan) if place.row is None and place.number is not None]


def _belongs(place: PiecePlace, niche: str) -> bool:
    """Whether a piece with a name lies in the niche that its name begins with."""
    name, niche = place.name or "", niche.lower()
    return name == niche or name.startswith(f"{niche} ")


def _edges(lengths: Sequence[float], joint: float) -> list[float]:
    """Where each of some lengths in a row begins, with a joint between two."""
    edges, at = [], 0.0
    for length in lengths:
        edges.append(at)
        at += length + joint
    return edges


def seam(one: PieceSpan, other: PieceSpan, joint: float) -> SeamEnds:
    """The middle of the joint between two neighbours, the second at the right of the first or over it: half a joint
    longer at each end, so that borders meet."""
    half = joint / 2
    if other.left >= one.right - SAME_MM:
        x = one.right + half
        return (x, one.bottom - half, x, one.top + half)
    y = one.top + half
    return (one.left - half, y, one.right + half, y)


def go_on(one: SeamEnds, other: SeamEnds, joint: float) -> bool:
    """Whether two borders lie in one line, the second at once behind the first."""
    level = one[1] == one[3]
    if level != (other[1] == other[3]):
        return False
    same_line = abs(one[1] - other[1]) if level else abs(one[0] - other[0])
    gap = other[0] - one[2] if level else other[1] - one[3]
    return same_line < SAME_MM and gap <= joint + SAME_MM
