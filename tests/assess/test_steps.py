"""Four choices of a method, and where each neighbour leads."""

from __future__ import annotations

import pytest

from fieldassist.assess.inputs import Inputs
from fieldassist.assess.method import advise
from fieldassist.assess.steps import KNOBS, StepChoice, entered_over, nearest, step_choices
from fieldassist.trade.lifting import Constants
from tests.assess.areas import AREAS, bare, inch, inputs, mm


def by_knob(found: Inputs) -> dict[str, StepChoice]:
    return {choice.knob: choice for choice in step_choices(found)}


@pytest.mark.parametrize("name", AREAS)
@pytest.mark.parametrize("constants", ["metric", "us"])
def test_a_neighbour_comes_to_what_entering_it_comes_to(name: str, constants: Constants) -> None:
    have = inputs(name, constants, base=mm(3))
    assert tuple(by_knob(have)) == KNOBS
    for choice in step_choices(have):
        for step in (choice.less, choice.more):
            if step is not None:
                found = advise(entered_over(have, step.entries))
                assert (step.works, step.bed_mm) == (found.works, found.bed_mm)


@pytest.mark.parametrize("name", AREAS)
def test_less_lays_less_and_more_lays_more(name: str) -> None:
    have = inputs(name, base=mm(2))
    own = advise(have).bed_mm
    assert own is not None
    for choice in step_choices(have):
        if choice.less is not None and choice.less.bed_mm is not None:
            assert choice.less.bed_mm <= own + 1e-6
        if choice.more is not None and choice.more.bed_mm is not None:
            assert choice.more.bed_mm >= own - 1e-6


def test_the_angle_and_the_coat_end_where_they_end() -> None:
    steep = by_knob(inputs("shower wall", angle=bare(90), skim=mm(2)))
    assert steep["angle"].more is None
    assert steep["skim"].more is None
    assert by_knob(inputs("shower wall", angle=bare(30), skim=mm(0)))["angle"].less is None
    assert by_knob(inputs("shower wall", skim=mm(0)))["skim"].less is None


def test_a_reader_of_inches_steps_through_inches() -> None:
    notch = by_knob(inputs("shower wall", "us"))["notch"]
    assert notch.less is not None
    assert notch.more is not None
    assert (notch.less.notch.depth_mm, notch.more.notch.depth_mm) == (25.4 / 4, 25.4 / 2)


def test_the_nearest_step_works_and_none_that_works_is_nearer() -> None:
    have = inputs("shower wall", width=inch("3/8"), depth=inch("3/8"), spacing=inch("3/8"), base=mm(3))
    assert advise(have).works is False
    choices = step_choices(have)
    best, own = nearest(have, choices), advise(have).bed_mm
    assert best is not None
    assert best.works
    assert own is not None
    assert best.bed_mm is not None
    working = [s for c in choices for s in (c.less, c.more) if s is not None and s.works and s.bed_mm is not None]
    assert abs(best.bed_mm - own) == min(abs((s.bed_mm or 0) - own) for s in working)
