"""What is heard without the attention phrase, by what a crew is in the middle of."""

from __future__ import annotations

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.commands import Command
from fieldassist.checklist.moment import BREAK_MIN, SPOKEN
from fieldassist.checklist.offers import VALUE, Offer
from fieldassist.checklist.prompt import whether_meant
from fieldassist.day.ear import Catch, act
from fieldassist.voice.phrases import Taken, understand
from tests.conftest import TO_THE_HOLD, Crew

# What needs the attention phrase wherever a crew stands.
ALWAYS_CALLED = (
    *(cmd.SpeakAs, cmd.StartArea, cmd.FinishArea, cmd.SignDay, cmd.ReleaseHold, cmd.ChangeMethod, cmd.VouchMethod),
    *(cmd.SetterIs, cmd.TakeBucket, cmd.NoteWeather, cmd.Ask, cmd.AnswerPoint, cmd.AskLift, cmd.AcceptTiles),
    *(cmd.TakeOff, cmd.SetLots),
)


def phrases(offers: tuple[Offer, ...]) -> set[str]:
    return {phrase for offer in offers for phrase in offer.phrases}


def window(crew: Crew) -> set[str]:
    return phrases(crew.day.prompt.window)


@pytest.fixture
def setting(crew: Crew) -> Crew:
    """Between rounds of a shower wall: mortar is mixed, one tile is set and was lifted."""
    crew.open_shower()
    crew.mix()
    crew.set_tile()
    crew.lift()
    if crew.step is not None:
        crew.say("put back")
    return crew


def test_at_a_step_it_is_that_step_and_the_one_after_it(setting: Crew) -> None:
    setting.say("next tile")
    at_hand = {"back keyed", "back buttered", "done"}
    mixed_beside = {phrase for phrase in window(setting) if "batch" in phrase}
    assert window(setting) == at_hand | phrases_of(setting, "spread") | mixed_beside
    setting.say("back keyed", "spread", "mortar combed")
    assert {"tile set", f"slid {VALUE}"} <= window(setting)
    assert "beaten in" not in window(setting)


def phrases_of(crew: Crew, step: str) -> set[str]:
    """What answers a step that is not at hand."""
    return phrases(tuple(o for o in crew.day.prompt.offers if getattr(o.command, "step", None) == step and not o.slot))


def test_at_a_reading_the_bare_value_is_in_it(setting: Crew) -> None:
    setting.say("next tile", "back keyed", "spread", "mortar combed", "tile set")
    assert {VALUE, f"slid {VALUE}", "beaten in"} <= window(setting)


def test_at_the_last_step_of_a_round_it_is_also_what_may_be_begun_after_it(setting: Crew) -> None:
    setting.say("next tile", "back keyed", "spread", "mortar combed")
    assert "next tile" not in window(setting)
    setting.say("tile set", "slid half an inch!")
    assert {"beaten in", "next tile", "new batch"} <= window(setting)


def test_between_rounds_it_is_what_may_be_begun_now(setting: Crew) -> None:
    assert {"next tile", "new batch", "back keyed"} <= window(setting), "the first step of a tile begins it too"
    begins = {cmd.StartRound, cmd.SpreadMortar, cmd.ConfirmStep}
    assert {type(offer.command) for offer in setting.day.prompt.window} == begins
    assert "mortar combed" not in window(setting)
    assert "broken tile" not in window(setting), "that may be said at any time, and goes on with nothing"


def test_where_mortar_is_spread_it_is_how_many_tiles_are_in(setting: Crew) -> None:
    assert "spread" in window(setting)
    setting.say("spread three")
    assert {f"{VALUE} in", "tile in"} <= window(setting)


def test_while_a_value_waits_it_is_yes_no_and_the_value_again(crew: Crew) -> None:
    crew.say(*TO_THE_HOLD[:4], "air temperature ninety degrees fahrenheit")
    assert crew.day.prompt.waits_for_yes
    commands = {type(offer.command) for offer in crew.day.prompt.window}
    assert commands == {cmd.Keep, cmd.Withdraw, cmd.GiveReading}
    assert {"yes", "no", "scratch that", f"air temperature {VALUE}"} <= window(crew)
    assert not any("wall temperature" in phrase for phrase in window(crew))


def test_while_a_reading_waits_that_nobody_asked_about_it_is_also_what_goes_on_after_it(setting: Crew) -> None:
    setting.say("next tile", "back keyed", "spread", "mortar combed", "tile set")
    act(setting.day, Catch("slid half an inch", *_reading(setting, "slid half an inch"), source=SPOKEN))
    pending = setting.day.state.pending
    assert pending is not None
    assert pending.unquestioned
    assert {"yes", "no", "scratch that", f"slid {VALUE}", "beaten in", "next tile"} <= window(setting)


def _reading(crew: Crew, words: str) -> tuple[Command, str]:
    meant = understand(words, crew.day.prompt.offers)
    assert isinstance(meant, Taken)
    return meant.command, meant.value


def test_in_the_round_of_a_lift_it_is_all_that_is_read_off_the_tile(setting: Crew) -> None:
    setting.say("lift this tile", "test tile lifted", "no photo")
    assert {VALUE, f"coverage {VALUE}", f"largest void {VALUE}", "corners full", "edges full"} <= window(setting)


def test_before_a_caution_it_is_that_it_was_understood(crew: Crew) -> None:
    crew.say("this is rosa", "start area shower wall")
    assert crew.day.prompt.caution is not None
    assert "understood" in window(crew)
    crew.say("understood", "understood")
    assert "understood" not in window(crew)


def test_a_question_whether_something_was_said_is_answered_without_the_phrase_anywhere(crew: Crew) -> None:
    assert window(crew) == set()
    asked = whether_meant(crew.day.prompt, "weather rain")
    assert phrases(asked.window) == {"yes", "yes keep it", "no", "scratch that", "wrong"}


def test_where_nothing_was_at_hand_for_a_break_it_is_nothing(setting: Crew) -> None:
    setting.clock.advance(BREAK_MIN - 1)
    assert "next tile" in window(setting)
    setting.clock.advance(2)
    assert window(setting) == set()
    setting.say("next tile")
    assert "back keyed" in window(setting)


def test_a_step_at_hand_is_waited_for_longer_than_a_break(setting: Crew) -> None:
    setting.say("next tile")
    setting.clock.advance(2 * BREAK_MIN)
    assert "back keyed" in window(setting)


def test_a_hold_point_and_the_day_before_its_areas_need_the_phrase(crew: Crew) -> None:
    assert window(crew) == set(), "nobody speaks yet"
    crew.say("this is rosa")
    assert window(crew) == set(), "no area is begun"
    crew.say(*TO_THE_HOLD[1:])
    assert crew.step == "release-base"
    assert not any("released" in phrase for phrase in window(crew))


def test_a_signed_day_needs_the_phrase(crew: Crew) -> None:
    crew.say(*TO_THE_HOLD[:5], "this is edwin", "sign off with open points")
    assert crew.day.state.closed
    assert window(crew) == set()


def test_in_a_whole_day_nothing_that_weighs_more_is_ever_in_it(setting: Crew) -> None:
    lines = ("next tile", "back keyed", "spread", "mortar combed", "tile set", "slid half an inch", "yes", "beaten in")
    for line in (*lines, "spread three", "two in", "tile in"):
        if setting.step == "lippage":
            setting.say("lippage half a millimeter!")
        setting.say(line)
        _look(setting)
    for line in ("lift this tile", "test tile lifted", "no photo", "coverage sixty percent", "yes"):
        setting.say(line)
        _look(setting)


def _look(crew: Crew) -> None:
    asked = crew.day.prompt
    assert set(map(id, asked.window)) <= set(map(id, asked.offers))
    assert not any(isinstance(offer.command, ALWAYS_CALLED) for offer in asked.window)
    assert all(getattr(offer.command, "corrects", None) is None for offer in asked.window)
    assert asked.window
