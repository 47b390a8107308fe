"""Where the inputs of an area come from, and what may be entered."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldassist.assess.inputs import FIELDS, Field, area_inputs, day_inputs, entered, read_value, unbelievable
from fieldassist.checklist.state import State
from fieldassist.trade.message import Refused
from fieldassist.trade.quantities import Quantity
from tests.assess.areas import CHECKLISTS, PLAN, area_of, inch, inputs, kg, mm
from tests.conftest import Crew

NUMBERS = [field for field, kind in FIELDS.items() if not kind.options]


def test_every_input_says_where_it_comes_from() -> None:
    planned = inputs("shower wall")
    assert (planned.depth.origin, planned.least.origin, planned.cups.origin) == ("plan", "plan", "not known")
    assert (planned.base.origin, planned.warpage.origin) == ("assumed", "plan")
    assert inputs("shower wall", depth=mm(6)).depth.origin == "entered"
    area = area_of("shower wall")
    other = replace(area, method=area.method.model_copy(update={"angle": 45.0}))
    assert area_inputs(other, "metric").depth.origin == "in use"


def test_a_day_that_lacks_the_area_says_so() -> None:
    with pytest.raises(KeyError):
        day_inputs(State(plan=PLAN, checklists=CHECKLISTS), "cellar")
    with pytest.raises(KeyError):
        day_inputs(State(), "shower wall")
    assert day_inputs(State(plan=PLAN, checklists=CHECKLISTS), "lobby wall").name == "lobby wall"


def test_the_base_is_as_it_was_read_in_this_area_and_stands(crew: Crew) -> None:
    crew.open_shower()
    day = crew.day

    def base(area: str) -> tuple[Quantity, str]:
        found = day_inputs(day.state, area).base
        return found.value, found.origin

    # A piece of 1.2 m stands on the long straightedge's gap, not on the short one's 1 mm.
    assert base("shower wall") == (mm(2), "measured")
    assert base("hall floor") == (mm(0), "assumed")


def test_the_trowel_is_the_one_in_use(crew: Crew) -> None:
    crew.open_shower()
    crew.say("change notch to half inch square")
    found = day_inputs(crew.day.state, "shower wall")
    assert (found.depth.value, found.depth.origin) == (inch("1/2"), "in use")
    assert set(found.at_hand) == {"half inch square", "large slanted"}


def test_a_square_notch_stays_as_wide_as_it_is_deep_and_others_do_not() -> None:
    square, slanted = inputs("shower wall"), inputs("shower wall", family="slanted")
    assert entered(square, "width", mm(9)) == entered(square, "depth", mm(9)) == {"width": mm(9), "depth": mm(9)}
    assert entered(slanted, "width", mm(9)) == {"width": mm(9)}
    assert entered(square, "spacing", mm(9)) == {"spacing": mm(9)}


@given(st.sampled_from(NUMBERS), st.booleans())
def test_the_ends_of_what_is_believable_are_believed_and_a_little_more_is_not(field: Field, upper: bool) -> None:
    kind = FIELDS[field]
    end = Fraction(str(kind.greatest if upper else kind.least))
    beyond = end + Fraction(1, 1000) if upper else end - Fraction(1, 1000)
    assert unbelievable(field, Quantity(end, kind.units[0])) is None
    told = unbelievable(field, Quantity(beyond, kind.units[0]))
    assert told is not None
    assert told.figures["least"] == Quantity(Fraction(str(kind.least)), kind.units[0])
    assert told.figures["greatest"] == Quantity(Fraction(str(kind.greatest)), kind.units[0])


@pytest.mark.parametrize(
    ("field", "value"),
    [
        # What the invented site and the published cases of this folder take must be believed.
        *(("depth", mm(6)), ("depth", inch("5/8")), ("length", mm(3000)), ("thickness", mm(6)), ("weighed", kg(69.1))),
        *(("reach", inch("25")), ("end_height", inch("70")), ("turn", Quantity(Fraction(135), "count"))),
        *(("bag", Quantity(Fraction(50), "lb")), ("pace", Quantity(Fraction(15), "count"))),
    ],
)
def test_what_is_worked_with_is_believed(field: Field, value: Quantity) -> None:
    assert unbelievable(field, value) is None


def test_what_is_written_is_read_as_what_it_is() -> None:
    assert read_value("reach", "12 in") == inch("12")
    assert read_value("turn", "30") == Quantity(Fraction(30), "count")
    assert read_value("waste", "15") == Quantity(Fraction(15), "percent")
    assert read_value("grip", " good ") == "good"
    assert read_value("conditions", "kneeling, one hand") == frozenset({"kneeling", "one hand"})


@pytest.mark.parametrize(
    ("field", "text", "code"),
    [
        ("reach", "12 kg", "assess-another-dimension"),
        ("reach", "9 m", "assess-unbelievable"),
        ("grip", "super", "assess-no-such-choice"),
        ("grip", "good, fair", "assess-no-such-choice"),
        ("conditions", "kneeling, flying", "assess-no-such-choice"),
    ],
)
def test_what_cannot_be_read_is_refused(field: Field, text: str, code: str) -> None:
    with pytest.raises(Refused) as refused:
        read_value(field, text)
    assert refused.value.told.code == code


def test_a_length_without_its_unit_is_refused() -> None:
    with pytest.raises(ValueError, match="unit"):
        read_value("reach", "12")
