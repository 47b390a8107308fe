"""What a tap grows to: shapes of known area, and computed photos of known truth painted by taps and by strokes."""

from __future__ import annotations

import time

import cv2
import numpy as np
import pytest

from fieldassist.photo.grow import grow
from fieldassist.photo.picture import RGB, CannotTell
from fieldassist.photo.square import Squared
from tests.photo.painting import paint_by_taps, painted_percent, rendered_back

SIZE = (600.0, 300.0)
BODY, MORTAR = (176, 120, 96), (120, 122, 124)


def drawn(void: np.ndarray, *, light: np.ndarray | None = None, size_mm: tuple[float, float] = SIZE) -> Squared:
    """A back at 1 mm a dot: bare body where void, else mortar, with grain, under light that may fall unevenly."""
    grain = np.random.default_rng(7).normal(0, 0.04, (*void.shape, 1))
    shown = np.where(void[..., None], BODY, MORTAR) * (1 + grain)
    if light is not None:
        shown = shown * light[..., None]
    return Squared(np.clip(shown, 0, 255).astype(np.uint8), 1.0, size_mm, 1.0)


def disc(at: tuple[int, int], radius: int) -> np.ndarray:
    y, x = np.mgrid[:300, :600]
    return np.asarray((x + 0.5 - at[0]) ** 2 + (y + 0.5 - at[1]) ** 2 <= radius**2)


def test_a_tap_on_a_round_void_takes_its_area_and_no_other_void() -> None:
    region = grow(drawn(disc((200, 150), 60) | disc((450, 150), 60)), (200.0, 150.0))
    assert region.shape == (150, 300)
    assert region.sum() * 4 == pytest.approx(np.pi * 60**2, rel=0.02)
    assert not region[:, 165:].any()


def test_light_that_falls_off_to_a_third_moves_no_border() -> None:
    void = disc((300, 150), 110)
    falling = np.linspace(1.3, 0.43, 600)[None] * np.linspace(1.0, 0.9, 300)[:, None]
    region = grow(drawn(void, light=falling), (300.0, 150.0))
    cells = void.reshape(150, 2, 300, 2).mean(axis=(1, 3)) >= 0.5
    assert np.count_nonzero(region ^ cells) < 0.02 * np.count_nonzero(cells)


def test_a_rib_of_mortar_between_two_voids_stops_it() -> None:
    void = np.zeros((300, 600), dtype=bool)
    void[100:200, 100:298] = void[100:200, 304:500] = True  # 6 mm of mortar between them
    assert not grow(drawn(void), (150.0, 150.0))[:, 152:].any()


def test_a_tap_beside_a_void_by_a_finger_that_slipped_takes_nothing_but_mortar_or_refuses() -> None:
    void = disc((200, 150), 40)
    with pytest.raises(CannotTell, match="measure-no-border"):
        grow(drawn(void), (400.0, 150.0))
    everywhere_else = grow(drawn(void), (400.0, 150.0), most=1.0)
    assert not everywhere_else[75, 100]


def test_a_back_of_one_tone_has_no_border_to_grow_to() -> None:
    with pytest.raises(CannotTell) as refused:
        grow(drawn(np.zeros((300, 600), dtype=bool)), (300.0, 150.0))
    assert refused.value.told.code == "measure-no-border"


def test_on_a_keyed_back_the_smooth_void_is_parted_from_torn_mortar_of_its_colour() -> None:
    void = disc((250, 150), 90)
    rough = np.asarray(cv2.GaussianBlur(np.random.default_rng(3).normal(0, 1, (300, 600)), (0, 0), 1.2))
    rough = rough / rough.std()
    shown = 120 * (1 + np.where(void, 0.02, 0.16) * rough)
    pixels: RGB = np.clip(np.dstack([shown] * 3), 0, 255).astype(np.uint8)
    region = grow(Squared(pixels, 1.0, SIZE, 1.0), (250.0, 150.0))
    assert region.sum() * 4 == pytest.approx(void.sum(), rel=0.12)


def test_a_rendered_back_is_painted_by_strokes_to_within_a_point_and_by_taps_to_within_four() -> None:
    """A small one that nothing was fixed on; `python -m tests.photo.figures lights painting` takes more.

    It is a hard one for taps: less than half of it touched, so borders run everywhere, and each is a cell off at most.
    """
    shown = rendered_back(20_001)
    assert painted_percent(shown) == pytest.approx(shown.percent, abs=1.0)
    by_taps = paint_by_taps(shown, most_taps=15)
    assert by_taps.percent == pytest.approx(shown.percent, abs=4.0)
    assert by_taps.taken > 0


def test_a_tap_on_a_back_of_1200_by_600_mm_takes_50_ms_of_the_processor() -> None:
    void = cv2.resize((disc((200, 150), 60) | disc((450, 150), 60)).astype(np.uint8), (1200, 600)).astype(bool)
    back = drawn(void, size_mm=(1200.0, 600.0))
    grow(back, (400.0, 300.0))
    cv2.setNumThreads(1)
    spent = []
    for _ in range(5):
        begun = time.process_time()
        grow(back, (400.0, 300.0))
        spent.append(time.process_time() - begun)
    # Twice as long for a machine that does other things beside.
    assert min(spent) < 0.1
