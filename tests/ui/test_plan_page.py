"""The plan's first page: its verdict with one reason, and how what it says is gone on with."""

from __future__ import annotations

from fractions import Fraction

import pytest

from fieldassist.assess.inputs import Entries, Inputs, day_inputs
from fieldassist.assess.steps import nearest
from fieldassist.checklist import commands as cmd
from fieldassist.checklist import methods
from fieldassist.checklist.state import Area
from fieldassist.trade.quantities import Quantity
from fieldassist.ui.content.plan_page import (
    is_in_use,
    method_of,
    nearest_told,
    now_told,
    off_told,
    plan_page,
    reason_told,
    step_told,
    use,
    verdict_told,
)
from tests.checklist.days import Bench
from tests.conftest import Crew

OFF: Entries = {"base": Quantity(Fraction(3), "mm")}


@pytest.fixture
def bench() -> Bench:
    made = Bench.begun()
    made.speak("rosa")
    made.take(cmd.StartArea(area="shower wall"))
    return made


def area_of(bench: Bench) -> Area:
    assert bench.state.area is not None
    return bench.state.area


def inputs(bench: Bench, entries: Entries) -> Inputs:
    return day_inputs(bench.state, "shower wall", entries)


def test_a_method_that_does_not_work_says_what_is_needed_what_there_is_and_the_nearest_that_works(bench: Bench) -> None:
    page = plan_page(inputs(bench, OFF))
    assert page.works is False
    assert verdict_told(page).code == "plan-page-does-not-work"
    reason = reason_told(page)
    assert getattr(reason, "code", "") == "plan-page-needs"
    assert page.nearest is not None
    assert nearest_told(page.nearest).code.startswith("plan-page-to-")
    assert off_told(page.inputs).code == "plan-page-off"


def test_where_no_single_step_works_another_way_is_proposed_and_works(bench: Bench, crew: Crew) -> None:
    have = day_inputs(bench.state, "hall floor", {})
    page = plan_page(have)
    assert page.works is False
    best = nearest(have, ())
    assert best is not None
    assert plan_page(day_inputs(bench.state, "hall floor", best.entries)).works
    assert crew.day.words(nearest_told(best))
    # Common practice, no published source: nothing bridges 20 mm, the base is altered instead.
    assert nearest(day_inputs(bench.state, "hall floor", {"base": Quantity(Fraction(20), "mm")}), ()) is None


def test_a_method_that_works_proposes_nothing(bench: Bench) -> None:
    page = plan_page(inputs(bench, {}))
    assert (page.works, page.nearest) == (True, None)
    assert verdict_told(page).code == "plan-page-works"
    assert off_told(page.inputs).code == "plan-page-off-assumed"


def test_every_choice_and_every_key_is_told(bench: Bench, crew: Crew) -> None:
    page = plan_page(inputs(bench, OFF))
    for choice in page.choices:
        assert crew.day.words(now_told(choice.knob, page.inputs))
        for step in (choice.less, choice.more):
            assert step is None or crew.day.words(step_told(step))


def test_what_cannot_be_reckoned_says_why_and_has_no_picture(bench: Bench) -> None:
    page = plan_page(inputs(bench, {"depth": Quantity(Fraction(20), "mm")}))  # square, and not as wide as deep
    assert (page.works, page.picture, page.choices) == (None, None, ())
    assert reason_told(page) != ""


def test_what_is_in_use_needs_no_change_and_what_is_entered_is_gone_on_with(bench: Bench) -> None:
    assert is_in_use(inputs(bench, {}), area_of(bench))
    page = plan_page(inputs(bench, OFF))
    assert page.nearest is not None
    entered = inputs(bench, {**OFF, **page.nearest.entries})
    assert not is_in_use(entered, area_of(bench))
    wanted = method_of(entered, area_of(bench))
    command = use(entered, area_of(bench))
    assert isinstance(command, cmd.ChangeMethod)
    bench.take(command)
    assert area_of(bench).method == wanted


def test_a_method_that_cannot_do_takes_the_foremans_word(bench: Bench) -> None:
    size = Quantity(Fraction(3), "mm")
    tiny = inputs(bench, {"width": size, "depth": size, "spacing": size})
    assert not methods.stands(area_of(bench), method_of(tiny, area_of(bench)))
    assert isinstance(use(tiny, area_of(bench)), cmd.VouchMethod)
