"""A wall as it is drawn: places, states, borders, and which part of it is large enough to be pressed."""

from __future__ import annotations

import pytest

from fieldassist.checklist.laying import PieceSpan
from fieldassist.trade.message import Message
from fieldassist.ui.content.wall_map import (
    Border,
    nearest,
    planned_map,
    pressed_part,
    pressed_scale,
    scale_of,
    wall_map,
)
from tests.ui.walls import TILES, wall_area, wall_plan

ON = wall_map(wall_area())
BOX = (856.0, 650.0)  # the place of the wall on the screen [dots]


def test_the_first_piece_lies_at_the_lower_left_and_rows_go_up() -> None:
    assert [(p.span.left, p.span.bottom) for p in ON.pieces if p.number in (1, 2, 5)] == [(0, 0), (1203, 0), (0, 603)]
    assert (ON.width, ON.height) == (4 * 1200 + 3 * 3, 6 * 600 + 5 * 3)


def test_every_piece_has_its_state_and_the_contact_of_its_lift() -> None:
    assert [ON.piece(n).state for n in range(1, 14)] == [tile[0] for tile in TILES]  # type: ignore[union-attr]
    assert [ON.piece(n).percent for n in range(1, 14)] == [tile[1] for tile in TILES]  # type: ignore[union-attr]
    assert {ON.piece(n).state for n in range(14, 25)} == {"not set"}  # type: ignore[union-attr]


def test_witnessed_and_counted_pieces_are_told_apart() -> None:
    assert {p.number for p in ON.pieces if p.seen == "witnessed"} == {1, 8}
    assert {p.number for p in ON.pieces if p.seen == "counted"} == set(range(1, 14)) - {1, 8}


def test_the_piece_whose_lift_is_due_is_marked() -> None:
    assert [p.number for p in ON.pieces if p.due] == [13]


def test_what_is_set_is_counted_in_pieces_and_square_metres() -> None:
    assert (ON.on_wall, ON.planned) == (13, 24)
    assert ON.set_m2 == pytest.approx(13 * 0.72)
    assert ON.numbers("suspect") == (5, 6)
    assert ON.numbers("lifted failed") == (7,)


def of(kind: str) -> list[Border]:
    return [border for border in ON.borders if border.kind == kind]


def test_a_batch_border_lies_only_between_neighbours_of_two_batches() -> None:
    # Between rows 2 and 3: 5 to 8 are of batch 1, 9 to 11 of batch 2, 12 of batch 3. 11 and 12 lie beside each other,
    # and 13 is over 9.
    upright = [border for border in of("batch") if not border.level]
    assert [border.ends for border in upright] == [(3 * 1203 - 1.5, 2 * 603 - 1.5, 3 * 1203 - 1.5, 3 * 603 - 1.5)]
    level = {border.ends for border in of("batch") if border.level}
    assert level == {
        (-1.5, 2 * 603 - 1.5, 3 * 1203 - 1.5, 2 * 603 - 1.5),
        (3 * 1203 - 1.5, 2 * 603 - 1.5, 4 * 1203 - 1.5, 2 * 603 - 1.5),
        (-1.5, 3 * 603 - 1.5, 1203 - 1.5, 3 * 603 - 1.5),
    }


def test_a_method_border_goes_round_what_was_set_in_the_other_way() -> None:
    # 8 is the first that was combed on both sides: left of it, below it, and over 5 to 7.
    assert sum(abs(b.ends[2] - b.ends[0]) + abs(b.ends[3] - b.ends[1]) for b in of("method")) == pytest.approx(
        603 + 1203 + 3 * 1203
    )


def test_each_border_is_told_once_by_what_lies_beyond() -> None:
    tags = [border.beyond for border in ON.borders if border.tagged]
    assert sorted(tags, key=str) == sorted(
        [
            Message("wall-tag-batch", {"batch": "2"}),
            Message("wall-tag-batch", {"batch": "3"}),
            Message("wall-tag-sides", {"sides": "both"}),
        ],
        key=str,
    )


def test_a_niche_lies_where_the_plan_says() -> None:
    assert ON.niches == (("niche", PieceSpan(1900, 2450, 900, 340)),)


def test_a_piece_of_a_niche_lies_in_it_and_another_with_a_name_over_the_wall() -> None:
    named = [{"name": "niche back", "size": "0.3 m2"}, {"name": "sill", "size": "0.2 m2"}]
    on = planned_map(wall_plan(pieces=named))
    assert on.piece(25).span == PieceSpan(1900, 2450, 900, 340)  # type: ignore[union-attr]
    assert on.piece(26).span.bottom > 6 * 600 + 5 * 3  # type: ignore[union-attr]


def test_a_panel_stands_upright_where_nobody_wrote_how_it_lies() -> None:
    plan = wall_plan(grid={"rows": 1, "columns": 4}, niches=[])
    panel = plan.piece.model_copy(update={"product": "gauged panel"})
    on = planned_map(plan.model_copy(update={"piece": panel}))
    assert (on.width, on.height) == (4 * 600 + 9, 1200)


def test_an_area_without_a_grid_is_drawn_in_the_order_of_setting_and_says_so() -> None:
    on = planned_map(wall_plan(grid=None, niches=[]))
    assert not on.laid_out
    assert [p.number for p in on.pieces] == list(range(1, 25))  # 17.28 m2 of 0.72 m2 each
    assert 1 < on.width / on.height < 2


def test_more_pieces_than_were_planned_have_their_place_too() -> None:
    plan = wall_plan(grid=None, niches=[], size="7.2 m2")
    assert len(wall_map(wall_area(plan)).pieces) == 13


def test_a_wall_of_large_pieces_is_pressed_as_a_whole() -> None:
    assert pressed_part(ON, 13, BOX, 106) is None


def test_a_wall_of_small_pieces_opens_a_part_whose_pieces_are_large_enough() -> None:
    on = planned_map(wall_plan(grid={"rows": 12, "columns": 9}, niches=[]))
    part = pressed_part(on, 1, BOX, 106)
    assert part is not None
    assert scale_of(part, BOX) * 600 >= 106
    assert part.holds(*(on.piece(1).span.left + 1, on.piece(1).span.bottom + 1))  # type: ignore[union-attr]
    assert part.width < on.width
    for number in range(1, 12 * 9 + 1):  # every piece can be reached
        found = pressed_part(on, number, BOX, 106)
        piece = on.piece(number)
        assert piece is not None
        assert found is not None
        assert found.holds(piece.span.left + 1, piece.span.top - 1)
        assert scale_of(found, BOX) * 600 >= 105.9


def test_a_wall_is_stretched_by_a_fifth_at_most_and_only_where_that_lets_its_pieces_be_pressed() -> None:
    upright = (752.0, 700.0)  # 4809 mm across: a piece of 600 mm would be 94 dots high
    across, up = pressed_scale(ON, ON.whole, upright, 106)
    assert across == pytest.approx(752 / 4809)
    assert up * 600 == pytest.approx(106)
    assert pressed_scale(ON, ON.whole, BOX, 106) == (scale_of(ON.whole, BOX),) * 2
    small = planned_map(wall_plan(grid={"rows": 12, "columns": 9}, niches=[]))
    assert len(set(pressed_scale(small, small.whole, BOX, 106))) == 1


def test_a_press_beside_a_piece_counts_for_the_nearest() -> None:
    assert nearest(ON, 1201.0, 10.0).number == 1
    assert nearest(ON, -50.0, 700.0).number == 5
