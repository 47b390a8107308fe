"""Two lights on a combed back: pictures laid upon each other, gates, and computed pairs of known truth."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from fieldassist.photo.picture import CannotTell
from fieldassist.photo.square import Squared
from fieldassist.photo.two_lights import TwoLightsDoubts, propose_two, registered

SIZE = (600.0, 300.0)


def relief(seed: int = 4) -> np.ndarray:
    """A rough surface, 1 mm a dot."""
    rough = cv2.GaussianBlur(np.random.default_rng(seed).normal(0, 1, (300, 600)), (0, 0), 2.0)
    return np.asarray(rough / rough.std(), dtype=np.float32)


def as_plan(light: np.ndarray) -> Squared:
    grey = np.clip(110 * np.exp(light), 0, 255).astype(np.uint8)
    return Squared(np.dstack([grey] * 3), 1.0, SIZE, 1.0)


def test_a_picture_that_is_shifted_and_stretched_is_laid_upon_the_other_within_half_a_dot() -> None:
    high = relief()
    y, x = np.mgrid[:300, :600].astype(np.float32)
    off_x, off_y = 2.3 + 0.002 * (x - 300), -1.6 + 0.003 * (y - 150)
    shifted = cv2.remap(high, x + off_x, y + off_y, cv2.INTER_CUBIC)
    # Where a dot of the one lies in the other is told by dots that hold their own place.
    place = cv2.remap(x, x + off_x, y + off_y, cv2.INTER_LINEAR)
    laid = registered(high, np.asarray(shifted, dtype=np.float32))
    inner = np.s_[30:-30, 30:-30]
    before = np.abs(shifted - high)[inner].mean()
    assert np.abs(place - x)[inner].mean() > 2
    assert np.abs(laid - high)[inner].mean() < 0.2 * before


def test_two_pictures_without_any_relief_tell_nothing() -> None:
    flat = as_plan(np.zeros((300, 600), dtype=np.float32))
    with pytest.raises(CannotTell) as refused:
        propose_two(flat, flat, [(100, 100), (200, 100), (300, 100)], [(100, 200), (200, 200), (300, 200)])
    assert refused.value.told.code == "measure-two-lights-too-alike"


def test_without_a_tap_on_what_never_touched_nothing_is_told() -> None:
    plan = as_plan(0.1 * relief())
    with pytest.raises(CannotTell) as refused:
        propose_two(plan, plan, [(100, 100), (200, 100)], [])
    assert refused.value.told.code == "measure-nothing-bare"


SURE = TwoLightsDoubts(apart=6.0, methods=0.5, taps=1.0, own=0.95, broad=0.2)


@pytest.mark.parametrize(
    "doubt",
    [{"apart": 2.7}, {"methods": 5.0}, {"taps": 15.0}, {"own": 0.1}, {"broad": 0.8}],
    ids=str,
)
def test_each_doubt_alone_keeps_a_figure_back(doubt: dict[str, float]) -> None:
    assert not SURE.too_large
    assert TwoLightsDoubts(**({name: getattr(SURE, name) for name in SURE.__slots__} | doubt)).too_large
