"""Work: the order, what answers it in the fewest presses, holds by PIN, clocks that ran out, what else may be done."""

from __future__ import annotations

import pytest
from kivy.uix.textinput import TextInput

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.events import (
    CalledLate,
    ChoiceMade,
    CommandRefused,
    HoldReleased,
    MethodChanged,
    NoteMade,
    PinRefused,
    ReadingCalled,
    ReadingCorrected,
    ReadingKept,
    SetterChanged,
    SpeakerChanged,
    StepConfirmed,
    TileCounted,
    Withdrawn,
)
from fieldassist.checklist.moment import Source
from fieldassist.checklist.offers import Offer
from fieldassist.checklist.plan import Role
from fieldassist.day.desk import Report
from fieldassist.day.ear import Fate
from fieldassist.day.session import Doubt
from fieldassist.ui.content.further import answers_of, groups
from fieldassist.ui.screens import work
from fieldassist.ui.screens.work_else import SomethingElse
from fieldassist.ui.widgets.text import TextLabel
from tests.checklist.days import Bench
from tests.golden import DAYS, worked
from tests.ui.conftest import Hands
from tests.ui.test_glove_and_eye import TO_A_READING, TO_THE_BATCH

SPOKEN = Source(how="spoken", model="a model", confidence=1.5, words="membrane checked")
TO_A_TILE = ("back keyed", "spread", "mortar combed", "tile set", "slid half an inch", "yes", "beaten in")
LIFTED = "coverage ninety seven percent, void one square inch, corners full, edges full, bed six millimeters"
# What another screen has a key for.
ELSEWHERE = (cmd.SpeakAs, cmd.StartArea, cmd.NoteWeather, cmd.SignDay, cmd.Ask, cmd.Withdraw, cmd.MakeNote)
DUST = (cmd.DustStarts, cmd.DustEnds)


@pytest.fixture(autouse=True)
def _quick_fingers(monkeypatch: pytest.MonkeyPatch) -> None:
    """The fingers of these tests are quicker than a crew's: each press is meant for what it meets."""
    monkeypatch.setattr(work, "DEAF_S", 0.0)


def to_the_tile(hands: Hands) -> None:
    hands.say(*TO_A_READING, *TO_THE_BATCH)
    hands.clock.advance(8)
    hands.say("remixed")
    hands.go("work")


def to_counted(hands: Hands) -> None:
    """One piece was witnessed, lifted and put back: the next ones may be counted."""
    to_the_tile(hands)
    hands.say(*TO_A_TILE, "test tile lifted", "no photo", LIFTED, "yes", "put back")


def pieces(hands: Hands) -> int:
    """How many pieces stand in the area that is open."""
    view = hands.tablet.view
    assert view is not None
    assert view.state.area is not None
    return len(view.state.area.progress.tiles)


def far(hands: Hands) -> list[str]:
    """What stands on the page in far letters."""
    return [w.words for w in hands.widgets() if isinstance(w, TextLabel) and w.size_name == "far"]


# --- the cycle of a piece -----------------------------------------------------------------------------------------


def test_a_witnessed_piece_takes_one_press_a_step(hands: Hands) -> None:
    to_the_tile(hands)
    assert "Key the back" in far(hands)
    for key in ("Back keyed", "Spread", "Combed straight", "Tile is set"):
        hands.press(key)
    assert "Slide across the ridges" in far(hands)
    hands.press("1")
    hands.press("3")
    hands.press("Keep 13 mm")
    hands.press("Beaten in")
    assert pieces(hands) == 1
    assert [b.option for b in hands.events(ChoiceMade)] == ["straight"]
    assert hands.events(ReadingKept)[-1].kept == "entered"
    assert "Lift piece 1" in far(hands)


def test_an_ordinary_piece_takes_two_presses_and_one_more_for_each_further_piece(hands: Hands) -> None:
    to_counted(hands)
    assert "Spread for piece 2" in far(hands)
    hands.press("Spread")
    hands.press("2 is in")
    assert len(hands.events(TileCounted)) == 1
    hands.say("spread two")
    assert "Spread: 0 of 2 are in" in far(hands)
    hands.press("3 is in")
    assert "Spread: 1 of 2 are in" in far(hands)
    hands.press("4 is in")
    assert [b.tile.number for b in hands.events(TileCounted)] == [2, 3, 4]


def test_what_fails_is_the_quieter_key_and_its_cure_is_the_next_order(hands: Hands) -> None:
    to_the_tile(hands)
    hands.press("Back keyed")
    hands.press("Spread")
    assert hands.key("Combed straight").kind == "action"
    assert hands.key("Combed in swirls").kind == "plain"
    hands.press("Combed in swirls")
    assert "Scrape off, comb straight" in far(hands)
    hands.press("Scraped off")
    assert "Comb along the short side" in far(hands)


def test_a_done_reading_of_the_rail_is_pressed_to_correct_it(hands: Hands) -> None:
    to_the_tile(hands)
    hands.say(*TO_A_TILE[:4], "slid thirteen millimeters", "yes")
    hands.press("Slide")
    hands.press("1")
    hands.press("5")
    hands.press("Keep 15 mm")
    assert "15 mm" in hands.seen()
    hands.press("Yes")
    assert len(hands.events(ReadingCorrected)) == 1
    hands.press("Key")
    assert "Take back what came after it first" in hands.seen()


# --- numbers ------------------------------------------------------------------------------------------------------


def test_the_question_its_limit_and_what_was_typed_stay_when_the_screen_is_left(hands: Hands) -> None:
    hands.say(*TO_A_READING)
    hands.go("work")
    # ANSI A108.02 as reported: 1/8 in in 10 ft for large-format tile, 3.175 mm.
    assert {"Gap under 10 ft level", "max 3.1 mm"} <= set(far(hands))
    hands.press("2")
    hands.press(".")
    hands.go("day")
    hands.go("work")
    hands.press("5")
    hands.press("Keep 2.5 mm")
    assert hands.events(ReadingKept)[-1].kept == "entered"
    assert str(hands.events(ReadingCalled)[-1].value) == "5/2"
    assert hands.sources(ReadingCalled)[-1].how == "pressed"


def test_what_fails_is_kept_by_the_red_key_alone(hands: Hands) -> None:
    hands.say(*TO_A_READING)
    hands.go("work")
    hands.press("9")
    hands.press("Fails: keep 9 mm")
    [called] = [b for b in hands.events(ReadingCalled) if b.step == "flatness"]
    assert called.value == 9
    assert not hands.events(ReadingKept)[-1].passed
    assert "Flatten the base" in far(hands)


def test_a_reading_that_was_heard_and_fails_is_shown_large_with_its_limit_and_answered_red(hands: Hands) -> None:
    hands.say(*TO_A_READING, "gap four millimeters")
    hands.go("work")
    assert "4 mm" in hands.seen()
    assert "max 3.1 mm" in far(hands)
    assert "0.9 mm too much" in hands.seen()
    assert hands.key("Yes, it fails").kind == "fail"
    hands.press("No")
    assert "Gap under 10 ft level" in far(hands)


def test_the_unit_that_was_used_last_is_offered_again(hands: Hands) -> None:
    hands.say(*TO_A_READING)
    hands.go("work")
    hands.press("in")
    hands.press("+1/16")
    hands.press("Keep 1/16 in")
    assert hands.key("in").chosen
    hands.press("+1/16")
    hands.press("Keep 1/16 in")
    assert [b.unit for b in hands.events(ReadingCalled)][-2:] == ["in", "in"]


def test_air_and_wall_are_alike_by_one_key(hands: Hands) -> None:
    hands.say("this is rosa", "start area shower wall", "understood", "understood")
    hands.go("work")
    for key in ("1", "7", "Keep 17 °C"):
        hands.press(key)
    hands.press("17 °C\nas")
    hands.press("Keep 17 °C")
    assert [int(b.value) for b in hands.events(ReadingCalled)] == [17, 17]


# --- holds, doubt, taking back ------------------------------------------------------------------------------------


def test_a_hold_point_is_released_by_pin_in_place_and_nobodys_turn_ends(hands: Hands) -> None:
    hands.tablet.keys.set_pin("edwin", Role.FOREMAN, "271828", now=hands.clock.now())
    hands.say(*TO_A_READING, *TO_THE_BATCH[:5])
    hands.go("work")
    hands.press("Edwin: give PIN")
    for digits in ("314159", "271828"):
        for digit in digits:
            hands.touch(hands.key(digit))
        hands.press("That is it")
        wanted = PinRefused if digits == "314159" else HoldReleased
        hands.wait(lambda wanted=wanted: hands.events(wanted), "the PIN")  # type: ignore[misc]
        hands.frames(6)
    [released] = hands.events(HoldReleased)
    assert (released.name, released.how) == ("edwin", "pin")
    assert [body.name for body in hands.events(SpeakerChanged)] == ["rosa"], "nobody else's turn began"
    assert "271828" not in repr(hands.tablet.memory)


def test_without_a_pin_a_release_can_be_called_out_and_stands_as_called(hands: Hands) -> None:
    hands.say(*TO_A_READING, *TO_THE_BATCH[:5])
    hands.go("work")
    hands.press("Edwin: give PIN")
    assert "Edwin has no PIN on this tablet" in hands.seen(), "and none is given here"
    hands.press("Close")
    hands.press("Edwin releases: Base")
    [released] = hands.events(HoldReleased)
    assert (released.name, released.how) == ("edwin", "called")


def test_taking_back_names_what_it_takes_back_and_the_things_before_it(hands: Hands) -> None:
    to_the_tile(hands)
    hands.press("Back keyed")
    hands.press("Spread")
    hands.press("Take back: Spread")
    seen = hands.seen()
    assert seen.index("Spread") < seen.rindex("Back keyed"), "the last five, newest first"
    keys = hands.every_key()
    hands.touch(next(k for k in keys if k.text == "Take back: Spread"))
    hands.quiet()
    assert len(hands.events(Withdrawn)) == 1
    assert "Spread for one tile" in far(hands)


def test_what_was_heard_with_doubt_is_answered_by_touch_as_by_voice(hands: Hands) -> None:
    hands.say(*TO_A_READING[:-1])
    hands.go("work")
    confirm = cmd.ConfirmStep(section="base", step="membrane")

    def doubt(day) -> None:  # type: ignore[no-untyped-def]
        day.doubtful = Doubt((confirm,), "membrane checked", SPOKEN)

    for answer, confirmed in (("No", 0), ("Yes", 1)):
        hands.tablet.ask(doubt)
        hands.quiet()
        assert "Did you say 'membrane checked'?" in hands.seen()
        hands.press(answer)
        assert len(hands.events(StepConfirmed)) == confirmed
    assert hands.sources(StepConfirmed)[-1] == SPOKEN, "the yes was pressed, what it means was heard"


# --- a clock that ran out -----------------------------------------------------------------------------------------


def test_a_clock_that_ran_out_asks_and_a_yes_says_why(hands: Hands) -> None:
    to_the_tile(hands)
    hands.say(*TO_A_TILE[:3])
    hands.clock.advance(22)
    hands.wait_tick()
    assert "Was piece 1 set in time?" in far(hands)
    hands.press("Yes, set before")
    assert "What kept you?" in far(hands)
    hands.press("Hands were full")
    [late] = hands.events(CalledLate)
    assert late.reason == "hands were full" or late.reason.code == "engine-late-reason-hands-were-full"
    assert "Set it now on the ridges" in far(hands)


def test_a_no_scrapes_the_mortar_off(hands: Hands) -> None:
    to_the_tile(hands)
    hands.say(*TO_A_TILE[:3])
    hands.clock.advance(22)
    hands.wait_tick()
    hands.press("No. Scraped off and thrown away")
    assert hands.events(StepConfirmed)[-1].step == "skinned-off"
    assert "in time?" not in hands.seen()


# --- presses that come too soon -----------------------------------------------------------------------------------


def test_a_double_press_does_not_answer_the_next_question(hands: Hands, monkeypatch: pytest.MonkeyPatch) -> None:
    to_the_tile(hands)
    monkeypatch.setattr(work, "DEAF_S", 600.0)
    hands.press("Back keyed")
    confirmed = len(hands.events(StepConfirmed))
    hands.press("Spread")
    assert len(hands.events(StepConfirmed)) == confirmed
    monkeypatch.setattr(work, "DEAF_S", 0.0)
    hands.press("Spread")
    assert len(hands.events(StepConfirmed)) == confirmed + 1


# --- something else -----------------------------------------------------------------------------------------------


def unreachable(bench: Bench) -> list[Offer]:
    """What may be said now and has no key."""
    asked = bench.prompt
    keys = {id(o) for o in answers_of(asked)} | {id(o) for group in groups(asked) for o in group.offers}
    return [o for o in asked.offers if o.now and id(o) not in keys and not isinstance(o.command, (*ELSEWHERE, *DUST))]


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


def test_who_sets_and_with_which_method_is_pressed_under_something_else(hands: Hands) -> None:
    hands.say(*TO_A_READING, *TO_THE_BATCH[:8])
    hands.go("work")
    hands.press("Something else")
    hands.press("Otto sets")
    assert [b.name for b in hands.events(SetterChanged)][-1] == "otto"
    assert hands.tablet.at == "work", "what was pressed brings back to the step"
    hands.press("Something else")
    hands.press("Method large slanted")
    assert [b.name for b in hands.events(MethodChanged)] == ["large slanted"]


def test_what_takes_a_number_asks_for_it_on_the_pad(hands: Hands) -> None:
    to_counted(hands)
    hands.press("Something else")
    hands.press("Spread for so many")
    hands.press("3")
    hands.press("Keep 3")
    assert "Spread: 0 of 3 are in" in far(hands)


def test_pieces_are_let_stay_in_a_ready_sentence_or_in_words_of_ones_own(hands: Hands) -> None:
    hands.say(*TO_A_READING)
    hands.go("else")
    page = hands.tablet._screen
    assert isinstance(page, SomethingElse)
    for words in ("It stays as it is", "In other words"):
        page._give(cmd.AcceptTiles(number=1))
        hands.frames()
        hands.press(words)
        if words == "In other words":
            [typed] = [w for w in hands.widgets() if isinstance(w, TextInput)]
            typed.text = "behind the cabinet"
            hands.press("Take it")
    refused = hands.events(CommandRefused)[-2:]
    assert [body.reason.code for body in refused] == ["engine-foreman-accepts"] * 2, "Rosa is no foreman"


def test_a_note_is_typed_from_something_else(hands: Hands) -> None:
    hands.say(*TO_A_READING)
    hands.go("else")
    hands.press("Note")
    [field] = [w for w in hands.widgets() if isinstance(w, TextInput)]
    field.text = "Damp at the window"
    hands.press("Take it")
    assert [b.text for b in hands.events(NoteMade)] == ["Damp at the window"]
    assert hands.sources(NoteMade)[0].how == "typed"


# --- what was heard -----------------------------------------------------------------------------------------------


def test_what_was_heard_is_told_with_what_came_of_it(hands: Hands) -> None:
    to_the_tile(hands)
    hands.say("back keyed")
    assert "heard: back keyed" in hands.seen()
    hands.tablet._told(Report("", Fate.IGNORED, "mortar combed", "it needs “field assist” before it"))
    hands.frames()
    assert "“mortar combed”: not taken, it needs “field assist” before it" in hands.seen()
    hands.tablet._told(Report("", Fate.IGNORED, "weather rain", "talk", near=False))
    hands.frames()
    assert "weather rain" not in hands.seen(), "talk among people is not shown here"
    hands.press("Spread")
    assert "mortar combed”" not in hands.seen(), "after a press nothing was heard last"
