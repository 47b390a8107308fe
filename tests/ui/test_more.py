"""Whatever may be said can be pressed: on the step, on a screen of its own, or under "More"."""

from __future__ import annotations

import pytest
from kivy.uix.textinput import TextInput

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.events import CommandRefused, MethodChanged, SetterChanged
from fieldassist.checklist.offers import Offer
from fieldassist.ui.content.further import answers_of, groups
from fieldassist.ui.screens.more import MoreMemory
from tests.checklist.days import Bench
from tests.golden import DAYS, worked
from tests.ui.conftest import Hands
from tests.ui.test_glove_and_eye import TO_A_READING, TO_THE_BATCH

# What another screen has a key for.
ELSEWHERE = (cmd.SpeakAs, cmd.StartArea, cmd.NoteWeather, cmd.SignDay, cmd.Ask, cmd.Withdraw, cmd.MakeNote)


def unreachable(bench: Bench) -> list[Offer]:
    """What may be said now and has no key."""
    asked = bench.prompt
    keys = {id(o) for o in answers_of(asked)} | {id(o) for group in groups(asked) for o in group.offers}
    return [o for o in asked.offers if o.now and id(o) not in keys and not isinstance(o.command, ELSEWHERE)]


@pytest.mark.parametrize("checklist", DAYS)
def test_at_every_moment_of_a_day_each_thing_that_may_be_said_has_a_key(checklist: str) -> None:
    bench, events = Bench(), worked(checklist).events
    seen = 0
    for event in events:
        bench.add(event)
        if bench.state.plan is None:
            continue
        asked = bench.prompt
        if asked.waits_for_yes or asked.caution is not None:
            assert groups(asked) == ()
            continue
        assert [o.phrases for o in unreachable(bench)] == []
        seen += len(groups(asked))
    assert seen > len(events) / 2


def test_who_sets_and_with_which_method_is_pressed_under_more(hands: Hands) -> None:
    hands.say(*TO_A_READING, *TO_THE_BATCH[:8])
    hands.go("area")
    hands.press("More")
    hands.press("Otto sets")
    assert [b.name for b in hands.events(SetterChanged)] == ["otto"]
    assert hands.tablet.at == "area", "what was pressed brings back to the step"
    hands.press("More")
    hands.press("Method large slanted")
    assert [b.name for b in hands.events(MethodChanged)] == ["large slanted"]


def test_while_a_yes_is_waited_for_nothing_else_can_be_pressed(hands: Hands) -> None:
    hands.say(*TO_A_READING[:4], "air temperature two degrees")
    hands.go("area")
    hands.press("More")
    assert "Answer the step first" in hands.seen()
    hands.press("Back to the step")
    assert hands.tablet.at == "area"


def test_tiles_are_accepted_in_a_ready_sentence_or_in_words_of_ones_own(hands: Hands) -> None:
    hands.say(*TO_A_READING)
    for pressed, words in (("it stays as it is", ""), ("Accept in these words", "behind the cabinet")):
        hands.tablet.memory.of(MoreMemory).accepting = cmd.AcceptTiles(number=1)
        hands.go("more")
        if words:
            [typed] = [w for w in hands.widgets() if isinstance(w, TextInput)]
            typed.text = words
        hands.press(pressed)
        assert hands.tablet.at == "area"
    refused = hands.events(CommandRefused)[-2:]
    assert [body.reason.code for body in refused] == ["engine-foreman-accepts"] * 2, "Rosa is no foreman"
