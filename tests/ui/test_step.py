"""Step: what is asked and why, in words; answers by touch; notes, hold points, doubt."""

from __future__ import annotations

from kivy.uix.textinput import TextInput

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.events import (
    HoldReleased,
    MethodChanged,
    NoteMade,
    PinRefused,
    ReadingCalled,
    ReadingKept,
    SpeakerChanged,
    StepConfirmed,
    TileLifted,
    Withdrawn,
)
from fieldassist.checklist.moment import Source
from fieldassist.checklist.plan import Role
from fieldassist.day.session import Doubt
from tests.ui.conftest import Hands
from tests.ui.test_glove_and_eye import TO_A_READING, TO_A_TILE, TO_THE_BATCH

SPOKEN = Source(how="spoken", model="a model", confidence=1.5, words="membrane checked")


def field(hands: Hands) -> TextInput:
    [found] = [w for w in hands.widgets() if isinstance(w, TextInput)]
    return found


def test_a_step_says_what_is_asked_needed_and_why_and_what_lies_behind_and_ahead(hands: Hands) -> None:
    hands.say(*TO_A_READING)
    hands.go("area")
    seen = hands.seen()
    assert "What is the worst gap under the ten foot straightedge?" in seen
    # ANSI A108.02 as reported: 1/8 in in 10 ft for large-format tile.
    assert "Needed: at most 3.1 mm" in seen
    assert "Basis: ANSI A108.02" in seen
    assert "Say “gap …”" in seen
    assert "Membrane checked" in seen, "what was done last"
    assert "Short gap (base)" in seen, "what comes next"
    hands.tablet.choose(units="us")
    hands.frames()
    assert "Needed: at most 1/8 in" in hands.seen()
    hands.say("gap four millimeters")
    assert "This fails: 4 mm (5/32 in) is over 1/8 in" in hands.seen()


def test_a_reading_is_read_back_and_kept_withdrawn_or_typed_on_after_the_screen_was_left(hands: Hands) -> None:
    hands.say(*TO_A_READING)
    hands.go("area")
    hands.press("2")
    hands.press(".")
    hands.go("today")
    hands.go("area")
    hands.press("5")
    hands.press("Enter it")
    assert hands.events(ReadingKept)[-1].kept == "entered"
    hands.press("Take back")
    hands.press("in")
    hands.press("1/8")
    hands.press("+1/32")
    assert "5/32 in" in hands.seen()
    hands.press("←")
    hands.press("1/8")
    hands.press("Enter it")
    assert [str(b.value) + b.unit for b in hands.events(ReadingCalled)][-2:] == ["5/2mm", "1/8in"]
    assert [s.how for s in hands.sources(ReadingCalled)][-2:] == ["pressed", "pressed"]
    assert hands.events(ReadingKept)[-1].passed
    assert len(hands.events(Withdrawn)) == 1
    hands.press("Take back")
    assert len(hands.events(Withdrawn)) == 2
    assert "ten foot" in hands.seen()


def test_degrees_can_lie_below_zero(hands: Hands) -> None:
    hands.say("this is rosa", "start area shower wall", "understood", "understood")
    hands.go("area")
    hands.press("3")
    hands.press("below zero")
    hands.press("Enter it")
    assert hands.events(ReadingCalled)[-1].value == -3


def test_a_refusal_is_told_with_its_reason_and_a_hold_point_is_released_by_pin_in_place(hands: Hands) -> None:
    hands.tablet.keys.set_pin("edwin", Role.FOREMAN, "271828", now=hands.clock.now())
    hands.say(*TO_A_READING, *TO_THE_BATCH[:5])
    hands.say("base released")
    hands.go("area")
    assert "refused" in hands.seen()
    assert "The foreman releases this" in hands.seen()
    for digits in ("314159", "271828"):
        if "PIN of Edwin" not in hands.seen():
            hands.press("Edwin: release by PIN")
        for digit in digits:
            hands.touch(hands.target(digit))
        hands.press("Release")
        hands.wait(lambda: "Wait" not in hands.seen(), "the PIN")
    assert len(hands.events(PinRefused)) == 1
    [released] = hands.events(HoldReleased)
    assert (released.name, released.how) == ("edwin", "pin")
    assert [body.name for body in hands.events(SpeakerChanged)] == ["rosa"], "nobody else's turn began"
    assert "271828" not in repr(hands.tablet.memory)


def test_a_release_that_is_called_out_by_touch_stands_as_called(hands: Hands) -> None:
    hands.say(*TO_A_READING, *TO_THE_BATCH[:5])
    hands.go("area")
    hands.press("Edwin: release by PIN")
    assert "Edwin has no PIN on this tablet" in hands.seen(), "and none is given here"
    hands.press("Back")
    hands.press("Edwin releases: Base")
    [released] = hands.events(HoldReleased)
    assert (released.name, released.how) == ("edwin", "called")


def test_a_note_is_typed_with_letters_on_the_screen_and_survives_leaving(hands: Hands) -> None:
    hands.say(*TO_A_READING)
    hands.go("area")
    hands.press("Note")
    hands.touch(field(hands))
    for key in ("ABC", "d", "a", "m", "p", "space", "w", "←", "4"):
        hands.press(key)
    assert "Damp 4|" in hands.seen(), "what is typed stands above the letters"
    assert hands.tablet.typing, "the key to be heard is a letter now"
    hands.press("Done")
    assert not hands.tablet.typing
    hands.go("today")
    hands.go("area")
    hands.press("Keep the note")
    assert [b.text for b in hands.events(NoteMade)] == ["Damp 4"]
    assert hands.sources(NoteMade)[0].how == "typed"
    assert "ten foot" in hands.seen()


def test_another_trowel_is_chosen_between_rounds(hands: Hands) -> None:
    hands.say(*TO_A_READING, *TO_THE_BATCH[:8])
    hands.go("area")
    hands.press("Method large slanted")
    assert [b.name for b in hands.events(MethodChanged)] == ["large slanted"]
    assert "Method: large slanted" in hands.seen()


def test_what_was_heard_with_doubt_is_answered_by_touch_as_by_voice(hands: Hands) -> None:
    hands.say(*TO_A_READING[:-1])
    hands.go("area")
    confirm = cmd.ConfirmStep(section="base", step="membrane")

    def doubt(day) -> None:  # type: ignore[no-untyped-def]
        day.doubtful = Doubt((confirm,), "membrane checked", SPOKEN)

    hands.tablet.ask(doubt)
    hands.quiet()
    assert "Did you say 'membrane checked'? Yes or no?" in hands.seen()
    before = len(hands.events(StepConfirmed))
    hands.press("No")
    assert len(hands.events(StepConfirmed)) == before
    assert "Say it again." in hands.seen()
    hands.tablet.ask(doubt)
    hands.quiet()
    hands.press("Yes")
    assert hands.events(StepConfirmed)[-1].step == "membrane"
    assert hands.sources(StepConfirmed)[-1] == SPOKEN, "the yes was pressed, what it means was heard"


def test_a_test_tile_can_be_given_a_name(hands: Hands) -> None:
    hands.say(*TO_A_READING, *TO_THE_BATCH)
    hands.clock.advance(8)
    hands.say(*TO_A_TILE, "beaten in")
    hands.go("area")
    field(hands).text = "Row Two"
    hands.press("Test tile lifted, with this name")
    assert hands.events(TileLifted)[-1].label == "row two"


def test_mortar_that_is_spread_stands_on_the_step_with_how_many_are_in(hands: Hands) -> None:
    hands.say(*TO_A_READING, *TO_THE_BATCH)
    hands.clock.advance(8)
    hands.say(*(line if line != "spread" else "spread three" for line in TO_A_TILE), "beaten in")
    hands.go("area")
    assert "spread for 3: 1 in" in hands.seen()
    hands.say("two in")
    assert "spread for 3" not in hands.seen()
