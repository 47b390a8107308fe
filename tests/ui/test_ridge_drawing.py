"""Ridges and edges are drawn to scale: what is measured on the picture is what was reckoned."""

from __future__ import annotations

from dataclasses import replace
from typing import get_args

import pytest

from fieldassist.assess.method import RidgePicture, picture
from fieldassist.trade import ridges
from fieldassist.ui.content import ridge_drawing as drawn
from tests.assess.areas import bare, inputs, mm

WIDTH = 80.0


def made(**entries: object) -> RidgePicture:
    return picture(inputs("shower wall", "metric", **entries))


def test_the_mortar_drawn_is_as_many_ridges_of_the_reckoned_section() -> None:
    have = inputs("shower wall")
    found = picture(have)
    one = ridges.ridge(have.notch, have.number("angle")).section_mm2
    count = len(drawn.starts(found, WIDTH))
    assert count == int((WIDTH - have.notch.width_mm) / have.notch.pitch_mm) + 1
    assert drawn.combed(found, WIDTH).area_of("mortar") == pytest.approx(count * one)
    both = drawn.combed(made(sides="both"), WIDTH)
    assert both.area_of("mortar") == pytest.approx(2 * count * one)


@pytest.mark.parametrize("angle", [45, 60, 90])
def test_ridges_are_as_tall_as_the_trowels_angle_leaves_them(angle: int) -> None:
    found = made(angle=bare(angle))
    shapes = drawn.combed(found, WIDTH).outlines
    heights = [y for shape in shapes if shape.role == "mortar" for _, y in shape.corners]
    assert max(heights) - min(heights) == pytest.approx(found.height_mm)


def test_the_air_is_as_wide_as_its_share_and_lies_in_the_mortar_under_the_tile() -> None:
    found = made(base=mm(3))
    assert found.contact_percent < 95
    cut = drawn.pressed(found, WIDTH)
    [air] = [shape for shape in cut.outlines if shape.role == "air"]
    [tile] = [shape for shape in cut.outlines if shape.role == "tile"]
    across = [x for x, _ in air.corners]
    assert max(across) - min(across) == pytest.approx(WIDTH * (1 - found.contact_percent / 100))
    assert max(y for _, y in air.corners) == pytest.approx(min(y for _, y in tile.corners))


def test_the_gap_is_drawn_from_its_least_to_its_greatest() -> None:
    found = made(base=mm(3))
    cut = drawn.pressed(found, WIDTH)
    [ground] = [shape for shape in cut.outlines if shape.role == "bare"]
    back = drawn.BASE_MM + found.high_mm
    line = [y for _, y in ground.corners if y > 0]
    assert back - max(line) == pytest.approx(found.low_mm)
    assert back - min(line) == pytest.approx(found.high_mm)


def test_what_fills_the_gap_leaves_no_air() -> None:
    full = replace(made(), contact_percent=100.0)
    assert [shape.role for shape in drawn.pressed(full, WIDTH).outlines].count("air") == 0


@pytest.mark.parametrize("family", get_args(ridges.Family))
def test_an_edge_is_its_plate_less_its_notches(family: ridges.Family) -> None:
    notch = ridges.Notch(family, 12.0, 12.0, 10.0)
    corners = drawn.edge(notch, WIDTH)
    plate = max(x for x, _ in corners) * max(y for _, y in corners)
    missing = plate - drawn.polygon_area(corners)
    assert missing / ridges.notch_area(notch) == pytest.approx(round(missing / ridges.notch_area(notch)), abs=0.02)
    assert missing > ridges.notch_area(notch) / 2
