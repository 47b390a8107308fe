"""A wall laid out, against worked examples by hand."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from fieldassist.checklist.loader import load_plan
from fieldassist.checklist.places import planned_m2, planned_places
from fieldassist.checklist.plan import AreaPlan, Niche
from fieldassist.trade.message import Refused
from fieldassist.trade.quantities import Quantity
from fieldassist.ui.content.laying_out import LayoutDraft, draft_of, laid, plan_with, thin_told
from tests import SITE

# 3 m wide and 2.4 m high, pieces of 600 x 300 mm, joints of 3 mm. Across: 4 x 603 = 2412, 588 mm are left for a cut
# fifth. Upwards: 7 x 303 = 2121, 279 mm for a cut eighth.
DRAFT = LayoutDraft(Fraction(3000), Fraction(2400), Fraction(600), Fraction(300))


def mm(value: int | str) -> Quantity:
    return Quantity(Fraction(value), "mm")


def test_whole_pieces_from_the_left_and_the_floor_leave_their_cuts_at_the_right_and_on_top() -> None:
    grid = laid(DRAFT).grid
    assert (grid.columns, grid.rows) == (5, 8)
    assert (grid.first_column, grid.last_column) == (None, mm(588))
    assert (grid.first_row, grid.last_row) == (None, mm(279))


def test_from_the_right_and_the_top_the_same_cuts_lie_at_the_left_and_below() -> None:
    grid = laid(replace(DRAFT, across="right", up="top")).grid
    assert (grid.first_column, grid.last_column, grid.first_row, grid.last_row) == (mm(588), None, mm(279), None)


def test_a_joint_in_the_middle_leaves_equal_cuts_at_both_ends() -> None:
    # (3000 - 3) / 2 = 1498.5 on each side; 2 x 603 = 1206, 292.5 are left.
    grid = laid(replace(DRAFT, across="joint")).grid
    assert (grid.columns, grid.first_column, grid.last_column) == (6, mm("292.5"), mm("292.5"))


def test_a_piece_in_the_middle_leaves_equal_cuts_at_both_ends() -> None:
    # (3000 - 600) / 2 - 3 = 1197 on each side; 1 x 603, 594 are left.
    grid = laid(replace(DRAFT, across="piece")).grid
    assert (grid.columns, grid.first_column, grid.last_column) == (5, mm(594), mm(594))


@pytest.mark.parametrize("across", ["left", "joint", "piece", "right"])
def test_pieces_and_joints_add_up_to_the_wall_wherever_they_start(across: str) -> None:
    plan = plan_with(_area(), laid(replace(DRAFT, across=across)))  # type: ignore[arg-type]
    assert plan.outer_mm == (3000, 2400)


def test_where_nothing_but_a_joint_is_left_nothing_is_cut() -> None:
    grid = laid(replace(DRAFT, across_mm=Fraction(2412), up_mm=Fraction(300))).grid
    assert (grid.columns, grid.last_column, grid.rows, grid.first_row) == (4, None, 1, None)


def test_a_lowest_row_that_is_cut_to_a_height_goes_on_with_whole_rows() -> None:
    # 150 + 3, then 2247 = 7 x 303 + 126.
    grid = laid(replace(DRAFT, first_row_mm=Fraction(150))).grid
    assert (grid.rows, grid.first_row, grid.last_row) == (9, mm(150), mm(126))


def test_a_niche_takes_its_surface_from_the_pieces_that_it_cuts_into() -> None:
    # From 500 to 800 mm across and 200 to 500 mm up. The first piece ends at 600: 100 x 100 of it goes; the second
    # begins at 603: 197 x 100; the second row begins at 303: 100 x 197 and 197 x 197.
    niche = Niche(name="niche", left=mm(500), bottom=mm(200), width=mm(300), height=mm(300))
    layout = laid(replace(DRAFT, niches=(niche,)))
    left = {(p.row, p.column): p.size.value * 1_000_000 for p in layout.pieces}
    assert left == {
        (1, 1): 180_000 - 10_000,
        (1, 2): 180_000 - 19_700,
        (2, 1): 180_000 - 19_700,
        (2, 2): 180_000 - 38_809,
    }
    plan = plan_with(_area(), layout)
    assert planned_m2(plan) == pytest.approx(float(layout.size.value))
    assert sum(place.face_m2 for place in planned_places(plan)) == pytest.approx(
        # five columns and eight rows of glass less the joints, by hand: (4 x 600 + 588) x (7 x 300 + 279), less
        # the niche, less the joints that run through it: they were never surface.
        (2988 * 2379 - 10_000 - 19_700 - 19_700 - 38_809) / 1e6
    )


def test_no_piece_lies_where_a_niche_takes_all_of_a_place() -> None:
    niche = Niche(name="niche", left=mm(603), bottom=mm(303), width=mm(600), height=mm(300))
    plan = plan_with(_area(), laid(replace(DRAFT, niches=(niche,))))
    assert (2, 2) not in {(p.row, p.column) for p in planned_places(plan)}
    assert len(planned_places(plan)) == 5 * 8 - 1


def test_a_cut_of_less_than_half_a_piece_is_told_of() -> None:
    # ANSI A108.02 section 4.3, from memory: no cuts smaller than half a tile where that is possible.
    narrow = laid(replace(DRAFT, across_mm=Fraction(2600)))  # 4 x 603, 188 are left
    told = thin_told(narrow)
    assert told is not None
    assert told.figures["cut"] == mm(188)
    assert thin_told(laid(replace(DRAFT, across_mm=Fraction(2900), up_mm=Fraction(2400)))) is None


def test_a_draft_begins_with_what_the_plan_has_and_comes_to_the_same_plan() -> None:
    for change in ({"across": "joint", "up": "top"}, {"across": "piece", "first_row_mm": Fraction(150)}):
        plan = plan_with(_area(), laid(replace(DRAFT, **change)))  # type: ignore[arg-type]
        assert laid(draft_of(plan)).grid == plan.grid


def test_piece_and_joint_go_into_the_plan_where_they_were_changed_alone() -> None:
    area = _area()
    assert plan_with(area, laid(DRAFT)).piece == area.piece
    other = plan_with(area, laid(replace(DRAFT, joint_mm=Fraction(2), width_mm=Fraction(200))))
    assert (other.piece.width, other.joint) == (mm(200), mm(2))


@pytest.mark.parametrize(
    ("change", "code"),
    [
        ({"across_mm": Fraction(0)}, "wall-layout-no-wall"),
        ({"width_mm": Fraction(0)}, "wall-layout-no-piece"),
        ({"across_mm": Fraction(10**9)}, "wall-layout-too-many"),
        (
            {"niches": (Niche(name="niche", left=mm(2900), bottom=mm(0), width=mm(300), height=mm(300)),)},
            "wall-layout-niche-off",
        ),
    ],
)
def test_what_is_no_wall_is_refused_by_its_reason(change: dict[str, object], code: str) -> None:
    with pytest.raises(Refused) as refused:
        laid(replace(DRAFT, **change))  # type: ignore[arg-type]
    assert refused.value.told.code == code


def _area() -> AreaPlan:
    area = load_plan(SITE).areas[0]
    piece = area.piece.model_copy(update={"length": mm(600), "width": mm(300)})
    return area.model_copy(update={"piece": piece, "joint": mm(3)})
