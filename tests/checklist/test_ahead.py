"""What the sequence would take one after the other from where it stands."""

from __future__ import annotations

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.ahead import ahead
from tests.conftest import Crew


def steps(crew: Crew) -> list[set[str]]:
    """The steps that are answered at each place, one behind the other."""
    places = ahead(crew.day.state, crew.day.clock.now())
    return [{o.command.step for o in place if hasattr(o.command, "step")} for place in places]


def test_the_steps_of_a_round_follow_one_another(crew: Crew) -> None:
    crew.open_shower()
    crew.mix()
    crew.say("next tile")
    found = steps(crew)
    for place, step in enumerate(("back", "spread", "comb", "set", "slide", "beat-in")):
        assert step in found[place]


def test_behind_a_value_that_waits_stands_what_follows_its_yes_and_its_no(crew: Crew) -> None:
    crew.open_shower()
    crew.mix()
    crew.say("next tile", "back keyed", "spread", "combed straight", "tile set", "slid one millimeter")
    places = ahead(crew.day.state, crew.day.clock.now())
    assert {type(offer.command) for offer in places[0]} >= {cmd.Keep, cmd.Withdraw}
    assert "slide" in steps(crew)[1]


def test_looking_ahead_changes_nothing(crew: Crew) -> None:
    crew.open_shower()
    before = crew.day.state
    assert ahead(before, crew.day.clock.now())
    assert crew.day.state is before


def test_a_day_without_a_speaker_has_only_who_speaks_ahead(crew: Crew) -> None:
    first = ahead(crew.day.state, crew.day.clock.now())[0]
    assert {type(offer.command) for offer in first} == {cmd.SpeakAs}
