"""What is refused to be measured on, on drawn backs; how often on renderings: tests.photo.figures."""

from __future__ import annotations

import math

import cv2
import numpy as np
import pytest

from fieldassist.photo.fitness import blur_mm, check_picture, frame_aslant, frame_hints
from fieldassist.photo.measuring import plan_of
from fieldassist.photo.picture import RGB, CannotTell
from fieldassist.photo.square import square_up
from fieldassist.trade.limits import exactly
from fieldassist.trade.message import message
from tests.photo.drawn import CORNERS, SIZE, photo, stripes
from tests.photo.test_square import camera


def refusal(shown: RGB) -> CannotTell:
    with pytest.raises(CannotTell) as refused:
        check_picture(shown, CORNERS, square_up(shown, CORNERS, SIZE))
    return refused.value


def test_a_clear_photo_of_a_back_passes_with_corners_as_a_finger_sets_them() -> None:
    shown = photo(stripes())
    check_picture(shown, CORNERS, square_up(shown, CORNERS, SIZE))
    (a, b, c, d), off = CORNERS, 8.0
    set_by_hand = (a[0] + off, a[1]), (b[0], b[1] - off), (c[0] - off, c[1]), d
    check_picture(shown, set_by_hand, square_up(shown, set_by_hand, SIZE))


def test_a_back_that_is_burnt_or_too_dark_is_refused_with_how_much_of_it() -> None:
    back = stripes()
    back[:, :240] = 255
    told = refusal(photo(back, light=1.02)).told
    # A fifth of it, less its soft rim.
    assert told in [message("measure-burnt", share=exactly(share, "percent")) for share in (19, 20)]
    assert refusal(photo(stripes(), light=0.1)).told.code == "measure-dark"


def test_a_gross_blur_is_refused_and_a_slight_one_is_not() -> None:
    shown = photo(stripes(), blur=1.2)
    check_picture(shown, CORNERS, square_up(shown, CORNERS, SIZE))
    assert refusal(photo(stripes(pitch_mm=40.0), blur=5.0)).told.code == "measure-blurred"


def test_a_photo_whose_dots_see_too_much_is_painted_and_not_reckoned() -> None:
    shown = photo(stripes())
    source_mm = square_up(shown, CORNERS, SIZE).source_mm
    for seen_mm, unfit in ((1.8, False), (2.3, True)):
        share = source_mm / seen_mm
        small = np.asarray(cv2.resize(shown, None, fx=share, fy=share, interpolation=cv2.INTER_AREA), dtype=np.uint8)
        a, b, c, d = ((x * share, y * share) for x, y in CORNERS)
        plan, why = plan_of(small, (a, b, c, d), SIZE)
        assert plan.source_mm == pytest.approx(seen_mm, rel=0.02)
        assert (why is not None and why.code == "measure-too-small") == unfit


@pytest.mark.parametrize("blur", [1.5, 3.0])
def test_blur_is_told_to_a_factor_of_two(blur: float) -> None:
    """A dot of the drawn photo saw 1.3 mm."""
    told = blur_mm(square_up(photo(stripes(pitch_mm=40.0), blur=blur), CORNERS, SIZE))
    assert abs(math.log(told / (1.3 * blur))) < math.log(2)


def test_where_no_border_is_seen_along_a_side_it_is_no_piece() -> None:
    wall = np.random.default_rng(0).normal(128, 2, (700, 1200, 3)).astype(np.uint8)
    gravel = np.random.default_rng(0).integers(40, 220, (234, 400, 3), dtype=np.uint8)
    gravel = cv2.resize(gravel, (1200, 700), interpolation=cv2.INTER_CUBIC).astype(np.uint8)
    for shown in (wall, gravel):
        assert refusal(shown).told.code == "measure-no-sides"


def test_corners_that_leave_a_part_of_the_back_out_are_refused() -> None:
    shown = photo(stripes(angle_deg=90.0))
    (a, b, c, d), lower = CORNERS, 30.0
    part = (a[0], a[1] + lower), (b[0], b[1] + lower), c, d
    with pytest.raises(CannotTell, match="measure-no-sides"):
        check_picture(shown, part, square_up(shown, part, SIZE))


def test_black_and_white_are_refused() -> None:
    assert refusal(np.zeros((700, 1200, 3), dtype=np.uint8)).told.code == "measure-dark"
    assert refusal(np.full((700, 1200, 3), 255, dtype=np.uint8)).told.code == "measure-burnt"


def codes(frame: RGB) -> list[str]:
    return [hint.code for hint in frame_hints(cv2.resize(frame, (640, 373)).astype(np.uint8), SIZE)]


def test_the_live_picture_says_what_to_mend_and_nothing_where_it_is_good() -> None:
    assert codes(photo(stripes())) == []
    assert codes(photo(stripes(), light=0.2)) == ["measure-hint-dark"]
    assert codes(photo(stripes(), light=3.0)) == ["measure-hint-burnt"]
    assert codes(photo(stripes(pitch_mm=40.0), blur=12.0)) == ["measure-hint-blurred"]
    mirrored = photo(stripes())
    cv2.circle(mirrored, (600, 330), 30, (255, 255, 255), -1)
    assert codes(mirrored) == ["measure-hint-glare"]


def test_a_live_picture_taken_aslant_says_so_and_one_from_above_does_not() -> None:
    """Straight on, and seen from 35 degrees: its height shrinks to cos 35."""
    level = photo(stripes(), floor=215)
    assert frame_aslant(level, SIZE) is None
    tilted = camera(tilt_deg=35.0, roll_deg=0.0, away_mm=1500.0, dots=(1200, 900))
    aslant = photo(stripes(), floor=215, corners=tilted, dots=(1200, 900))
    told = frame_aslant(aslant, SIZE)
    assert told is not None
    assert told.code == "measure-hint-aslant"
