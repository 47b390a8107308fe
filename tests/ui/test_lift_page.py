"""A lift on one page: what was painted, typed or heard, whether it holds, and one yes that tells the day all of it."""

from __future__ import annotations

from fractions import Fraction

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.events import (
    ChoiceMade,
    LiftJudged,
    MethodChanged,
    PhotoLeftOut,
    ReadingCalled,
    ReadingLeftOut,
)
from fieldassist.checklist.moment import PRESSED
from fieldassist.checklist.state import Area
from fieldassist.trade.quantities import Quantity
from fieldassist.ui.content.failed_lift import (
    change_to,
    failed_lift,
    headline,
    signer,
    stays_the_same,
    take_off,
    trowel_told,
)
from fieldassist.ui.content.lift_page import (
    LiftDraft,
    LiftPage,
    back_of,
    lift_at_hand,
    lift_page,
    tell_day,
    value_told,
    what_is_told,
    yes_told,
)
from tests.conftest import Crew


@pytest.fixture
def wet(crew: Crew) -> Crew:
    """A tile of the shower wall is off; nobody has looked at its back."""
    crew.open_shower()
    crew.mix()
    crew.set_tile()
    crew.say("test tile lifted")
    return crew


def area_of(crew: Crew) -> Area:
    area = crew.day.state.area
    assert area is not None
    return area


def blank(crew: Crew) -> LiftDraft:
    return LiftDraft(back_of(area_of(crew).plan.piece))


def page(crew: Crew, draft: LiftDraft) -> LiftPage:
    area = area_of(crew)
    section = lift_at_hand(area)
    assert section is not None
    return lift_page(crew.day.state, area, section, draft, us=False)


def tell(crew: Crew, draft: LiftDraft) -> None:
    answer = tell_day(crew.day, what_is_told(page(crew, draft)))
    assert answer is not None
    assert answer.taken
    assert answer.refused is None


def by_measure(found: LiftPage) -> dict[str, str | None]:
    return {one.measure: one.holds for one in found.fields}


def test_a_back_that_nobody_has_looked_at_tells_nothing(wet: Crew) -> None:
    found = page(wet, blank(wet))
    assert by_measure(found) == dict.fromkeys(("coverage", "largest void", "corners", "edges", "bed"))
    assert yes_told(found).code == "lifted-look-first"
    assert [one.measure for one in found.missing] == ["coverage", "largest void", "corners", "edges"]


def test_all_four_follow_from_one_stroke_and_one_yes_passes_the_lift(wet: Crew) -> None:
    draft = blank(wet)
    draft.back.stroke([(600.0, 300.0), (620.0, 300.0)], "void")
    found = page(wet, draft)
    assert by_measure(found) == dict.fromkeys(("coverage", "largest void", "corners", "edges"), "passed") | {
        "bed": None
    }
    assert yes_told(found).code == "lifted-yes"
    tell(wet, draft)
    [judged] = wet.events(LiftJudged)
    # 100 % is never told of a back with a void: what was painted is rounded down.
    assert (judged.verdict, judged.coverage) == ("passed", 99)
    assert [body.why for body in wet.events(PhotoLeftOut)] == ["went on"]
    assert [body.step for body in wet.events(ReadingLeftOut)] == ["bed"]
    hows = {event.source.how for event in wet.day.log.events if isinstance(event.body, ReadingCalled | ChoiceMade)}
    assert "sketched" in hows


def test_a_corner_that_is_not_full_says_which_and_an_edge_alone_leaves_the_corners_full(wet: Crew) -> None:
    draft = blank(wet)
    draft.back.stroke([(600.0, 20.0)], "void")
    found = page(wet, draft)
    corners, edges = found.field_of("corners"), found.field_of("edges")
    assert corners is not None
    assert edges is not None
    assert (corners.holds, edges.holds, edges.missing) == ("passed", "failed", ("top",))
    assert wet.day.words(value_told(edges)) == "top"
    assert found.failed


def test_what_is_typed_goes_before_what_was_painted_and_is_told_as_pressed(wet: Crew) -> None:
    draft = blank(wet)
    draft.back.all_covered()
    draft.typed["coverage"] = Quantity(Fraction(89), "percent")
    draft.typed["bed"] = Quantity(Fraction(5), "mm")
    found = page(wet, draft)
    assert yes_told(found).code == "lifted-fails-keep"
    tell(wet, draft)
    [judged] = wet.events(LiftJudged)
    assert (judged.verdict, judged.coverage) == ("failed", 89)
    sources = {
        event.body.step: event.source.how
        for event in wet.day.log.events
        if isinstance(event.body, ReadingCalled) and event.body.section == "lift"
    }
    assert sources == {"coverage": "pressed", "void": "sketched", "bed": "pressed"}
    assert not wet.events(ReadingLeftOut)


def test_what_was_heard_stands_on_the_page_and_the_yes_tells_it_once(wet: Crew) -> None:
    wet.speak("coverage ninety six percent")
    draft = blank(wet)
    found = page(wet, draft)
    coverage = found.field_of("coverage")
    assert coverage is not None
    assert (coverage.value, coverage.waits) == (Quantity(Fraction(96), "percent"), True)
    draft.typed["void"] = Quantity(Fraction(8), "cm2")
    draft.chosen |= {"corners": "full", "edges": "full"}
    tell(wet, draft)
    assert [body.step for body in wet.events(ReadingCalled) if body.section == "lift"] == ["coverage", "void"]
    assert [judged.verdict for judged in wet.events(LiftJudged)] == ["passed"]


def test_a_reader_of_inches_paints_square_inches_rounded_up(wet: Crew) -> None:
    draft, area = blank(wet), area_of(wet)
    section = lift_at_hand(area)
    assert section is not None
    draft.back.mortar[100:136, 100:136] = 0  # 72 mm square: 8.04 square inches (NIST SP 811: 1 in = 25.4 mm)
    draft.back.looked = True
    void = lift_page(wet.day.state, area, section, draft, us=True).field_of("largest void")
    assert void is not None
    assert void.value == Quantity(Fraction("8.1"), "in2")
    assert value_told(void) == void.value


# --- failed -------------------------------------------------------------------------------------------------------


@pytest.fixture
def failed(wet: Crew) -> Crew:
    draft = blank(wet)
    draft.back.all_covered()
    draft.typed["coverage"] = Quantity(Fraction(89), "percent")
    tell(wet, draft)
    return wet


def test_a_failed_lift_tells_its_gap_its_cures_and_who_signs(failed: Crew) -> None:
    area = area_of(failed)
    found = failed_lift(area, tuple(failed.day.log.events))
    assert found is not None
    assert headline(found).code == "lifted-failed-contact"
    assert found.gap.gap_mm == pytest.approx(found.gap.bed_mm / 0.89)
    assert found.step is not None
    assert failed.day.state.plan is not None
    person = signer(failed.day.state.plan, area)
    assert person is not None
    assert person.name == "edwin"


def test_a_cure_that_is_pressed_is_the_method_from_then_on(failed: Crew) -> None:
    failed.say("scraped clean")
    area = area_of(failed)
    found = failed_lift(area, tuple(failed.day.log.events))
    assert found is not None
    assert stays_the_same(found.step)
    cure = found.cures[0]
    assert failed.day.do(change_to(cure), PRESSED).taken
    assert [body.method for body in failed.events(MethodChanged)] == [cure.method]
    assert area_of(failed).method == cure.method
    assert failed.step == "release-method"


def test_a_lift_that_passed_again_leaves_no_failed_page(failed: Crew) -> None:
    assert failed_lift(area_of(failed), tuple(failed.day.log.events)) is not None
    failed.say("scraped clean", "both sides", "this is edwin", "method released", "this is rosa", "set again")
    failed.say("test tile lifted")
    draft = blank(failed)
    draft.back.all_covered()
    tell(failed, draft)
    assert failed_lift(area_of(failed), tuple(failed.day.log.events)) is None


def test_pieces_are_taken_off_one_by_one() -> None:
    assert take_off((5, 6)) == (cmd.TakeOff(number=5), cmd.TakeOff(number=6))


def test_a_trowel_is_called_by_the_size_that_stands_on_it(failed: Crew) -> None:
    assert failed.day.words(trowel_told(area_of(failed).plan.method)) == "3/8 in square"
