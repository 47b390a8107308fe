"""The drawing of each movement, in the proportions of the real piece."""

from __future__ import annotations

from typing import get_args

import pytest

from fieldassist.checklist.kinds.base import Act
from fieldassist.checklist.state import Area
from fieldassist.language import Words
from fieldassist.ui.content.step_picture import RIDGES, Path, PictureBox, step_picture
from tests.conftest import Crew


@pytest.fixture
def area(crew: Crew) -> Area:
    crew.say("this is rosa", "start area shower wall")
    found = crew.day.state.area
    assert found is not None
    return found


@pytest.mark.parametrize("act", get_args(Act))
def test_every_movement_is_drawn_inside_its_own_box(area: Area, act: Act) -> None:
    picture = step_picture(area, act)
    for shape in picture.shapes:
        corners = (
            [(shape.x, shape.y), (shape.x + shape.width, shape.y + shape.height)]
            if isinstance(shape, PictureBox)
            else list(shape.points)
        )
        for x, y in corners:
            assert -1e-6 <= x <= picture.width + 1e-6
            assert -1e-6 <= y <= picture.height + 1e-6


def test_ridges_run_along_the_short_side_of_the_real_piece(area: Area) -> None:
    picture = step_picture(area, "comb")
    # The plan: 1200 by 600 mm. ANSI A108.5 §2.2.3, one direction; along the short side as trade literature has it.
    assert (picture.width, picture.height) == (1200, 600)
    ridges = [s for s in picture.shapes if isinstance(s, PictureBox) and s.fill == "mortar"]
    assert all(ridge.height > 10 * ridge.width for ridge in ridges)
    assert max(ridge.height for ridge in ridges) > 0.9 * 600
    [arrow] = [s for s in picture.shapes if isinstance(s, Path) and s.head]
    assert arrow.points[0][0] == arrow.points[1][0], "the pass goes the same way"
    metric = Words(units="metric")
    assert [metric(m.told) for m in picture.measures] == ["1200 mm", "600 mm"]


def test_the_stroke_goes_across_the_ridges_and_tells_its_least_length(area: Area) -> None:
    picture = step_picture(area, "slide")
    [across] = [s for s in picture.shapes if isinstance(s, Path) and s.head]
    assert across.tail, "there and back"
    assert across.points[0][1] == across.points[1][1]
    [least] = picture.measures
    # One notch and one space of the planned 3/8 in trowel: see test_ridges; 9.5 mm is its width, exactly 9.525.
    assert Words(units="metric")(least.told) == "at least 9.6 mm"
    assert Words(units="us")(least.told) == "at least 3/8 in"


def test_the_mallet_goes_from_the_middle_to_the_edges(area: Area) -> None:
    [path] = [s for s in step_picture(area, "beat in").shapes if isinstance(s, Path)]
    middle = (600, 300)
    away = [max(abs(x - middle[0]) / 600, abs(y - middle[1]) / 300) for x, y in path.points]
    assert path.points[0] == middle
    assert away[-1] > 0.8
    assert len(path.points) > RIDGES
