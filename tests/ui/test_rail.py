"""The rail: what of a round is done and how, what is now."""

from __future__ import annotations

from fieldassist.language import Words
from fieldassist.ui.content.rail import RailStep, cycle, place_of_now, rail
from tests.conftest import Crew

WORDS = Words(units="metric")


def seen(steps: tuple[RailStep, ...]) -> list[tuple[str, str]]:
    return [(WORDS(step.shown), step.standing) for step in steps]


def test_the_cycle_of_a_piece_has_six_steps_of_which_one_is_now(crew: Crew) -> None:
    crew.open_shower()
    crew.mix()
    crew.say("next tile", "back keyed")
    assert seen(rail(crew.day.state)) == [
        ("keyed", "done"),
        ("Comb", "now"),
        ("Set", "to come"),
        ("Slide", "to come"),
        ("Beat in", "to come"),
        ("Lift", "to come"),
    ]
    assert WORDS(place_of_now(rail(crew.day.state)) or "") == "2 of 6"
    crew.say("spread")
    assert [standing for _, standing in seen(rail(crew.day.state))][1] == "now", "spread is half of it"
    crew.say("mortar combed", "tile set", "slid half an inch!")
    steps = rail(crew.day.state)
    assert seen(steps)[:4] == [("keyed", "done"), ("straight", "done"), ("set", "done"), ("12.7 mm", "done")]
    assert steps[3].reading is not None, "it can be corrected there"
    assert steps[2].reading is None


def test_other_rounds_show_their_readings_once_they_are_kept(crew: Crew) -> None:
    crew.say("this is rosa", "start area shower wall", "air temperature twenty one degrees!")
    steps = rail(crew.day.state)
    assert seen(steps)[0] == ("21 °C", "done")
    assert WORDS(steps[1].name) == "Wall temperature"
    assert seen(steps)[1] == ("", "now"), "the order says it in far letters"
    assert [step.sign for step in steps] == ["", "", ""]
    assert [step.number for step in steps] == [1, 2, 3]


def test_in_a_lift_all_of_the_cycle_is_behind(crew: Crew) -> None:
    crew.open_shower()
    crew.mix()
    crew.set_tile()
    assert seen(rail(crew.day.state))[-1] == ("Lift", "now")
    assert {standing for _, standing in seen(rail(crew.day.state))[:-1]} == {"done"}


def test_nothing_is_at_hand_between_rounds(crew: Crew) -> None:
    assert rail(crew.day.state) == ()
    crew.open_shower()
    area = crew.day.state.area
    assert area is not None
    assert {step.standing for step in cycle(area)} == {"to come"}
    assert len(cycle(area)) == 6
