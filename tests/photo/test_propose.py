"""Mortar and bare back told apart by taps: on drawn backs whose truth is known, and where it cannot be told."""

from __future__ import annotations

from dataclasses import replace

import cv2
import numpy as np
import pytest

from fieldassist.photo.doubt import interval
from fieldassist.photo.gates import Doubts, Gate
from fieldassist.photo.picture import RGB, CannotTell, Point
from fieldassist.photo.propose import MOST_TAPS, examine, propose
from fieldassist.photo.square import Squared
from fieldassist.photo.taps import places
from fieldassist.photo.tones import fit, light_terms, look, read_tones

SIZE = (300.0, 200.0)
MORTAR: list[Point] = [(30.0, 30.0), (110.0, 170.0), (270.0, 60.0)]
BARE: list[Point] = [(67.0, 100.0), (147.0, 40.0), (227.0, 150.0)]


def striped(
    *,
    across: float = 0.0,
    mortar: tuple[int, int, int] = (170, 168, 160),
    bare: tuple[int, int, int] = (120, 70, 50),
    blur: float = 0.8,
    noise: float = 2.0,
) -> tuple[Squared, float]:
    """A back with three bare stripes of 14.5 mm, at 1 mm a dot, and the share of mortar on it [percent].

    across: by how much the light changes from left to right, natural logarithm.
    """
    fine = 4
    x = (np.arange(int(SIZE[0]) * fine) + 0.5) / fine
    void = (x % 80 > 60) & (x % 80 < 74.5) & (x < 240)
    row = np.where(void[:, None], linear(bare), linear(mortar)) * np.exp(across * (x / SIZE[0] - 0.5))[:, None]
    light = np.repeat(row[None], int(SIZE[1]), axis=0).reshape(int(SIZE[1]), int(SIZE[0]), fine, 3).mean(axis=2)
    light = cv2.GaussianBlur(light, (0, 0), blur)
    codes = np.where(light <= 0.0031308, 12.92 * light, 1.055 * np.maximum(light, 1e-9) ** (1 / 2.4) - 0.055) * 255
    grain = np.random.default_rng(1).normal(0, noise, codes.shape)
    pixels: RGB = np.clip(np.rint(codes + grain), 0, 255).astype(np.uint8)
    return Squared(pixels, 1.0, SIZE, 1.0), 100 - 100 * float(void.mean())


def linear(codes: tuple[int, int, int]) -> np.ndarray:
    """sRGB to linear light, IEC 61966-2-1:1999, 5.2."""
    share = np.array(codes) / 255
    return np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)


def code(squared: Squared, mortar: list[Point], bare: list[Point]) -> str:
    with pytest.raises(CannotTell) as refused:
        propose(squared, mortar, bare)
    return refused.value.told.code


@pytest.mark.parametrize("across", [0.0, 0.9])
def test_the_share_is_found_to_a_point_in_even_and_in_falling_light(across: float) -> None:
    squared, percent = striped(across=across)
    found = propose(squared, MORTAR, BARE)
    assert found.percent == pytest.approx(percent, abs=1)
    assert found.low <= percent <= found.high
    assert found.percent == pytest.approx(100 * found.mortar.mean() / 255)


def share_by_tones(squared: Squared) -> float:
    """The share of mortar by the first of the two ways [percent]."""
    taps = places((squared.pixels.shape[0], squared.pixels.shape[1]), 1.0, MORTAR, BARE)
    return 100 * float(read_tones(squared.pixels, 1.0, fit(look(squared.pixels, taps))).share.mean())


def test_a_border_within_a_dot_counts_by_its_share_of_light() -> None:
    # Stripes of 14.5 mm on dots of 1 mm: whole dots could only give 14 or 15 mm of each, 0.5 points off.
    squared, percent = striped(blur=0.4, noise=0.5)
    assert share_by_tones(squared) == pytest.approx(percent, abs=0.1)


def test_mortar_and_back_may_be_dark_and_light_the_other_way_round() -> None:
    squared, percent = striped(mortar=(70, 72, 75), bare=(190, 180, 170))
    assert propose(squared, MORTAR, BARE).percent == pytest.approx(percent, abs=1)


def test_ink_on_the_back_is_bare_back() -> None:
    squared, percent = striped()
    before = share_by_tones(squared)
    squared.pixels[120:140, 63:72] = (25, 30, 90)
    # It is 0.3 points of the piece; its rim mixes with the back.
    assert share_by_tones(squared) == pytest.approx(before, abs=0.15)
    assert propose(squared, MORTAR, BARE).percent == pytest.approx(percent, abs=1.5)


def test_the_same_photo_and_taps_give_the_same_figures_to_the_last_bit() -> None:
    squared, _ = striped(across=0.5)
    one, other = (propose(squared, MORTAR, BARE) for _ in range(2))
    assert (one.percent, one.low, one.high, one.doubts) == (other.percent, other.low, other.high, other.doubts)
    assert np.array_equal(one.mortar, other.mortar)


def test_a_tap_on_the_wrong_side_is_named() -> None:
    squared, _ = striped()
    for number in range(3):
        wrong = [*MORTAR[:number], (68.0, 20.0), *MORTAR[number + 1 :]]
        with pytest.raises(CannotTell) as refused:
            propose(squared, wrong, BARE)
        assert refused.value.told.code == "measure-mortar-tap-contradicts"
        assert refused.value.told.figures["tap"] == number + 1
    with pytest.raises(CannotTell) as refused:
        propose(squared, MORTAR, [*BARE[:2], (100.0, 100.0)])
    assert refused.value.told.code == "measure-bare-tap-contradicts"
    assert refused.value.told.figures["tap"] == 3


def test_taps_that_are_none_are_refused_each_with_its_reason() -> None:
    squared, _ = striped()
    assert code(squared, MORTAR, []) == "measure-nothing-bare"
    assert code(squared, [], BARE) == "measure-taps-count"
    assert code(squared, MORTAR, BARE[:1]) == "measure-taps-count"
    assert code(squared, MORTAR * 3, BARE) == "measure-taps-count"
    assert code(squared, [*MORTAR, (301.0, 20.0)], BARE) == "measure-tap-off-the-piece"


def test_two_taps_of_each_are_enough_and_six_are_not_too_many() -> None:
    squared, percent = striped()
    assert propose(squared, MORTAR[:2], BARE[:2]).percent == pytest.approx(percent, abs=1)
    many = [(20.0 + 80 * (n % 3), 30.0 + 100 * (n // 3)) for n in range(MOST_TAPS)]
    assert propose(squared, many, [(x + 47, y) for x, y in many]).percent == pytest.approx(percent, abs=1)


def test_what_looks_alike_gets_no_figure() -> None:
    squared, _ = striped(mortar=(120, 118, 112), bare=(117, 116, 111), noise=6)
    assert code(squared, MORTAR, BARE) in (
        "measure-one-material",
        "measure-mortar-tap-contradicts",
        "measure-bare-tap-contradicts",
    )


def test_light_and_shade_on_one_material_are_told_from_two_materials() -> None:
    # Half the light: what a ridge's flank in shade shows of the same mortar, mottled.
    squared, _ = striped(mortar=(170, 168, 160), bare=(124, 122, 117), noise=6)
    assert examine(squared, MORTAR, BARE).doubts.unlike < 1
    squared, _ = striped(mortar=(170, 168, 160), bare=(124, 110, 90), noise=6)
    assert examine(squared, MORTAR, BARE).doubts.unlike > 1
    # A body as dark as that, and plain.
    squared, _ = striped(mortar=(170, 168, 160), bare=(124, 122, 117))
    assert examine(squared, MORTAR, BARE).doubts.unlike > 1


def test_the_field_of_light_is_found_from_the_dots() -> None:
    squared, _ = striped(across=0.8)
    taps = places((200, 300), 1.0, MORTAR, BARE)
    tones = fit(look(squared.pixels, taps))
    along = light_terms((1, 300)) @ tones.light
    assert along[-1] - along[0] == pytest.approx(0.8, abs=0.05)


def test_the_gate_names_the_doubt_that_is_too_large() -> None:
    gate = Gate(apart=3, methods=4, taps=3, ambiguous=1, neither=10, unlike=1)
    fine = Doubts(apart=5, methods=1, taps=1, ambiguous=0, neither=0, unlike=3)
    assert gate.stops(fine) is None
    for name, doubts in {
        "apart": Doubts(2.9, 1, 1, 0, 0, 3),
        "methods": Doubts(5, 4.1, 1, 0, 0, 3),
        "taps": Doubts(5, 1, 3.1, 0, 0, 3),
        "ambiguous": Doubts(5, 1, 1, 1.1, 0, 3),
        "neither": Doubts(5, 1, 1, 0, 10.1, 3),
        "unlike": Doubts(4, 1, 1, 0, 0, 0.9),
    }.items():
        assert gate.stops(doubts) == name


def test_the_interval_grows_with_doubt_and_stays_within_none_and_all() -> None:
    sure = Doubts(apart=8, methods=0.5, taps=0.2, ambiguous=0, neither=0, unlike=3)
    low, high = interval(90, sure)
    assert low < 90 < high
    wider = interval(90, replace(sure, taps=1.2))
    assert wider[0] < low
    assert wider[1] > high
    assert interval(99.5, sure)[1] == 100
    assert interval(0.2, sure)[0] == 0


def test_cells_are_those_of_a_painted_back() -> None:
    squared, _ = striped()
    seen = examine(squared, MORTAR, BARE)
    assert seen.mortar.shape == (100, 150)
    assert seen.cell_mm == (2.0, 2.0)
    assert seen.mortar[50, 20] == 255
    assert seen.mortar[50, 33] == 0
