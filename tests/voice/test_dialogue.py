"""The dialogue table: every row makes the read-back careful, and the documented table is the one in force."""

from __future__ import annotations

from fractions import Fraction

import pytest

from fieldassist.day.ear import interpret
from fieldassist.voice import dialogue
from fieldassist.voice.dialogue import Signs, read_back
from fieldassist.voice.recognizer import Alternative, Heard
from tests.conftest import Crew


def test_a_plain_reading_is_read_back_in_words() -> None:
    back = read_back("coverage", Fraction(96), "percent")
    assert (back.text, back.digit_by_digit, back.reasons) == ("coverage, ninety six percent. Yes or no?", False, ())


@pytest.mark.parametrize(
    ("value", "signs", "reason", "words"),
    [
        (96, Signs(rivals=("86 %",)), "another value was heard almost as well", "not 86 percent"),
        (70, Signs(fails="70 % is under 95 %"), "it would fail its criterion", "That fails"),
        (90, Signs(), "it sounds like another number", "nine zero"),
        (96, Signs(last=(20.0, 21.0)), "it is far from the last readings", "The last one was twenty one"),
    ],
)
def test_every_sign_makes_it_careful(value: int, signs: Signs, reason: str, words: str) -> None:
    back = read_back("coverage", Fraction(value), "percent", signs)
    assert back.digit_by_digit
    assert reason in back.reasons
    assert words in back.text


def test_every_reason_is_a_row_of_the_table() -> None:
    assert dialogue.__doc__ is not None
    signs = Signs(fails="x", rivals=("y",), last=(1.0, 1.0))
    for reason in read_back("coverage", Fraction(90), "percent", signs).reasons:
        assert f"| {reason}" in dialogue.__doc__


def test_every_read_back_ends_with_the_question() -> None:
    for value in range(101):
        assert read_back("coverage", Fraction(value), "percent").text.endswith("Yes or no?")


def test_a_close_rival_is_named(crew: Crew) -> None:
    crew.open_shower()
    crew.mix()
    crew.set_tile()
    crew.say("test tile lifted")
    offers = crew.day.prompt.offers
    near = Heard(
        (
            Alternative("coverage ninety five percent", -100.0, ()),
            Alternative("coverage eighty five percent", -101.0, ()),
            Alternative("coverage twenty five percent", -140.0, ()),
        ),
        2.0,
    )
    assert interpret(near, offers).rivals == ("85 %",)


def test_earlier_readings_of_the_same_step_are_remembered(crew: Crew) -> None:
    crew.open_shower()
    crew.mix()
    for _ in range(2):
        crew.set_tile()
        if crew.day.state.area.task is not None:
            crew.lift()
            crew.say("test tile reset")
    crew.say("next tile", "back keyed", "mortar combed", "tile set")
    assert "The last one was twelve point seven" in crew.hear("slid one hundred millimeters").spoken
