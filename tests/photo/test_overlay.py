"""What was found is seen over the plan, in grey too."""

from __future__ import annotations

import numpy as np
import pytest

from fieldassist.photo.back import Back, inscribed_circle
from fieldassist.photo.overlay import OVERLAY_DOTS, drawn_over
from fieldassist.photo.picture import RGB
from fieldassist.trade.voids import reckon


def drawn(grey: int) -> tuple[RGB, np.ndarray]:
    """What is drawn of a plain back with a square void of 100 mm in its middle; and its lightness (ITU-R BT.601)."""
    back = Back(600, 300)
    back.fill(np.pad(np.ones((50, 50), bool), ((50, 50), (125, 125))), "void")
    plain = np.full((300, 600, 3), grey, np.uint8)
    shown = drawn_over(plain, back.cells, reckon(back.cells), inscribed_circle(back.cells))
    return shown, shown @ np.array([0.299, 0.587, 0.114])


@pytest.mark.parametrize("grey", [0, 60, 128, 200, 255])
def test_a_void_is_seen_on_a_ground_of_any_lightness_and_the_rest_stays_as_it_is(grey: int) -> None:
    shown, light = drawn(grey)
    assert shown.shape == (600, OVERLAY_DOTS, 3)
    void = light[202:398, 502:698]
    assert np.mean(np.abs(void - grey) > 90) > 0.15
    outside = light[120:180, 520:680]
    assert np.all(np.abs(outside - grey) < 1)


def test_the_plan_that_was_handed_in_is_not_drawn_on() -> None:
    back = Back(1200, 600)
    back.stroke([(100, 100), (1100, 500)], "void")
    plan = np.full((600, 1200, 3), 90, np.uint8)
    drawn_over(plan, back.cells, reckon(back.cells))
    assert np.all(plan == 90)
