"""What the sequence would take one after the other from where it stands."""

from __future__ import annotations

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.ahead import ahead
from tests.conftest import Crew


def steps(crew: Crew) -> list[set[str]]:
    """The steps that are answered at each place, one behind the other."""
    places = ahead(crew.day.state, crew.day.clock.now())
    found: list[set[str]] = []
    at, seen = {0}, set[int]()
    while at - seen:
        turns = [turn for place in sorted(at - seen) for turn in places[place].turns]
        found.append({turn.offer.command.step for turn in turns if hasattr(turn.offer.command, "step")})
        seen |= at
        at = {place for turn in turns for place in turn.then}
    return found


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
    assert {type(turn.offer.command) for turn in places[0].turns} >= {cmd.Keep, cmd.Withdraw}
    (no,) = (turn for turn in places[0].turns if isinstance(turn.offer.command, cmd.Withdraw))
    assert [(places[at].bare, [turn.offer.command.step for turn in places[at].turns]) for at in no.then] == [
        (True, ["slide"])
    ]


def test_a_value_may_be_taken_back_and_said_again_in_the_breath_that_has_it(crew: Crew) -> None:
    crew.open_shower()
    crew.mix()
    crew.say("next tile", "back keyed", "spread", "combed straight", "tile set")
    places = ahead(crew.day.state, crew.day.clock.now())
    (slid,) = (turn for turn in places[0].turns if isinstance(turn.offer.command, cmd.GiveReading))
    (no,) = (turn for at in slid.then for turn in places[at].turns if isinstance(turn.offer.command, cmd.Withdraw))
    (again,) = (places[at] for at in no.then)
    assert again.bare
    assert [turn.offer for turn in again.turns] == [slid.offer]


def test_a_breath_goes_on_into_the_next_round(crew: Crew) -> None:
    crew.open_shower()
    crew.mix()
    crew.say("next tile", "back keyed", "spread", "combed straight", "tile set", "slid half an inch!")
    found = steps(crew)
    assert found[0] == {"beat-in"}
    assert any("back" in here for here in found[1:])


def test_looking_ahead_changes_nothing(crew: Crew) -> None:
    crew.open_shower()
    before = crew.day.state
    assert ahead(before, crew.day.clock.now())
    assert crew.day.state is before


def test_a_day_without_a_speaker_has_only_who_speaks_ahead(crew: Crew) -> None:
    first = ahead(crew.day.state, crew.day.clock.now())[0]
    assert {type(turn.offer.command) for turn in first.turns} == {cmd.SpeakAs}
