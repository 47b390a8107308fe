"""Squaring up on a thin sample of renderings; the full count: python -m tests.photo.figures squaring."""

from __future__ import annotations

from statistics import median

import pytest

from tests.photo.figures.squaring import Looked, look, look_at_wrong
from tests.photo.rendering import MEASURE, render
from tests.photo.rendering.wrong import FEATURELESS, NAMES


@pytest.fixture(scope="module")
def ordinary() -> list[Looked]:
    return [look(render(seed, "ordinary")) for seed in MEASURE[:4]]


def test_ordinary_pictures_are_not_refused(ordinary: list[Looked]) -> None:
    assert [picture.refused for picture in ordinary] == [""] * 4


def test_three_proposals_of_four_lie_within_two_hundredths_of_the_diagonal(ordinary: list[Looked]) -> None:
    assert sum(picture.proposed is not None and picture.proposed <= 2 for picture in ordinary) >= 3


def test_drawing_corners_to_the_borders_halves_a_fingers_error(ordinary: list[Looked]) -> None:
    by_finger = [error for picture in ordinary for error in picture.by_finger]
    assert median(error for picture in ordinary for error in picture.snapped) < median(by_finger) / 2


def test_ridges_are_read_rightly_or_not_at_all(ordinary: list[Looked]) -> None:
    for picture in ordinary:
        assert picture.by_cells is not None
        assert picture.by_cells.kind in (picture.ran, "not readable")
        assert picture.by_cells.kind == picture.ran or picture.percent > 85


@pytest.mark.parametrize("name", sorted(FEATURELESS | {"coins", "gravel"}))
def test_wrong_subjects_are_refused(name: str) -> None:
    seed = next(seed for seed in MEASURE if NAMES[seed % len(NAMES)] == name)
    looked = look_at_wrong(seed)
    assert looked.name == name
    assert looked.refused
