"""Hardware keys reach everything that can be pressed, in the order in which it is read."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from fieldassist.ui.content.focus import KeyBox, moved, order

# Two rows of two, and a wide key below: as on a screen, from the lower left corner.
TOP_LEFT, TOP_RIGHT = KeyBox(0, 200, 100, 100), KeyBox(120, 210, 100, 80)
LOW_LEFT, LOW_RIGHT = KeyBox(0, 100, 100, 90), KeyBox(120, 100, 100, 90)
WIDE = KeyBox(0, 0, 220, 90)
BOXES = (WIDE, LOW_RIGHT, TOP_LEFT, LOW_LEFT, TOP_RIGHT)

boxes = st.lists(
    st.builds(KeyBox, st.integers(0, 1000), st.integers(0, 700), st.integers(20, 400), st.integers(20, 300)),
    max_size=12,
)


def test_rows_are_gone_over_from_the_top_and_from_the_reading_side() -> None:
    assert order(BOXES) == (2, 4, 3, 1, 0)


def test_for_the_left_hand_a_row_is_mirrored() -> None:
    assert order(BOXES, left_hand=True) == (4, 2, 1, 3, 0)


def test_tab_goes_round_and_shift_tab_back() -> None:
    assert moved(BOXES, None, "on") == 2
    assert moved(BOXES, 0, "on") == 2
    assert moved(BOXES, 2, "back") == 0
    assert moved(BOXES, None, "back") == 0


def test_an_arrow_goes_to_the_nearest_key_that_way_and_stays_where_none_is() -> None:
    assert moved(BOXES, 2, "right") == 4
    assert moved(BOXES, 4, "down") == 1
    assert moved(BOXES, 1, "down") == 0
    assert moved(BOXES, 0, "down") == 0
    assert moved(BOXES, 2, "left") == 2


def test_where_nothing_can_be_pressed_nothing_has_the_focus() -> None:
    assert moved((), None, "on") is None


@given(boxes)
def test_tab_reaches_every_key_once_before_it_comes_round(given_boxes: list[KeyBox]) -> None:
    at, seen = None, []
    for _ in given_boxes:
        at = moved(given_boxes, at, "on")
        seen.append(at)
    assert sorted(i for i in seen if i is not None) == list(range(len(given_boxes)))
