"""Where the pieces of an area go: the places of its plan, in the order in which they are set."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from fieldassist.checklist.plan import AreaPlan
from fieldassist.trade.quantities import convert_exact


@dataclass(frozen=True, slots=True)
class PiecePlace:
    """A place for one piece. number: of the plan, None where it has no grid; row, column: on the grid, from 1; name: of
    a piece that has one; face_m2: the face of the piece there [m2]."""

    number: int | None
    row: int | None
    column: int | None
    name: str | None
    face_m2: float


def whole_face_m2(area: AreaPlan) -> float:
    """The face of one whole piece [m2]."""
    return float(_m2(area.piece.length.value, area.piece.length.unit, area.piece.width.value, area.piece.width.unit))


def _m2(length: Fraction, length_unit: str, width: Fraction, width_unit: str) -> Fraction:
    return convert_exact(length, length_unit, "mm") * convert_exact(width, width_unit, "mm") / 1_000_000


def planned_places(area: AreaPlan) -> tuple[PiecePlace, ...]:
    """The places of an area, in the plan's order: row by row on its grid, then the pieces with a name.

    A piece of the grid has the face that the plan writes for it, else that of its row and column.

    Without a grid only the named ones: how many whole pieces there are is not known then.
    """
    return _places_of(_SamePlan(area))


@dataclass(frozen=True, slots=True, eq=False)
class _SamePlan:
    """A plan that is known by being the same one: it never changes, and to compare all of it takes long."""

    area: AreaPlan

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _SamePlan) and self.area is other.area

    def __hash__(self) -> int:
        return id(self.area)


# Asked with every command; a large day has two hundred areas.
@lru_cache(maxsize=512)
def _places_of(same: _SamePlan) -> tuple[PiecePlace, ...]:
    area = same.area
    own = {(p.row, p.column): float(convert_exact(p.size.value, p.size.unit, "m2")) for p in area.pieces if p.row}
    places, number = [], 0
    if area.grid is not None:
        for row, high in enumerate(area.rows_mm, start=1):
            for column, wide in enumerate(area.columns_mm, start=1):
                number += 1
                face = own.get((row, column), float(wide * high / 1_000_000))
                if face > 0:
                    places.append(PiecePlace(number, row, column, None, face))
    for piece in area.pieces:
        if piece.name is not None:
            number += 1
            face = float(convert_exact(piece.size.value, piece.size.unit, "m2"))
            places.append(PiecePlace(number if area.grid is not None else None, None, None, piece.name, face))
    return tuple(places)


def planned_m2(area: AreaPlan) -> float:
    """The surface to set [m2]: with a grid the sum of its pieces, else the plan's size."""
    if area.grid is None:
        return float(convert_exact(area.size.value, area.size.unit, "m2"))
    return sum(place.face_m2 for place in planned_places(area))


def planned_pieces(area: AreaPlan) -> int:
    """How many pieces the area takes: with a grid those of its places, else its size in whole pieces, rounded up."""
    if area.grid is not None:
        return len(planned_places(area))
    size = convert_exact(area.size.value, area.size.unit, "m2")
    piece = area.piece
    each = _m2(piece.length.value, piece.length.unit, piece.width.value, piece.width.unit)
    return max(1, -(-size // each))
