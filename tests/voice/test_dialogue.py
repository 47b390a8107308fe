"""The dialogue table: every row makes the read-back careful, and the documented table is the one in force."""

from __future__ import annotations

from fractions import Fraction

import pytest

from fieldassist.checklist.events import TileLifted
from fieldassist.day.ear import Fate, act, interpret
from fieldassist.language import Words
from fieldassist.trade.message import Compared, Digits, Figure, Message, Read, Several, Spelled, holds, message
from fieldassist.trade.quantities import Quantity
from fieldassist.voice import dialogue
from fieldassist.voice.dialogue import CLOSE_RIVAL, NameSigns, Signs, letter_unheard, read_back, read_back_name
from fieldassist.voice.recognizer import Alternative, Heard
from tests.conftest import Crew

ALOUD = Words(ear=True)


def percent(value: int) -> Read:
    return Read(Quantity(Fraction(value), "percent"))


FAILS = message("limit-under", pair=Compared(percent(70).quantity, percent(95).quantity, "at least"))


def test_a_plain_reading_is_read_back_in_words() -> None:
    back = read_back("Coverage", Fraction(96), "percent")
    assert ALOUD(back.told) == "Coverage, ninety six percent. Yes?"
    assert (back.digit_by_digit, back.reasons) == (False, ())


@pytest.mark.parametrize(
    ("value", "signs", "reason", "told"),
    [
        (96, Signs(rivals=(percent(86),)), "another value was heard almost as well", percent(86)),
        (70, Signs(fails=FAILS), "it would fail its criterion", message("readback-fails", finding=FAILS)),
        (90, Signs(), "it sounds like another number", Digits(Fraction(90))),
        (96, Signs(last=(20.0, 21.0)), "it is far from the last readings", message("readback-last", last=percent(21))),
    ],
)
def test_every_sign_makes_it_careful(value: int, signs: Signs, reason: str, told: Figure) -> None:
    back = read_back("Coverage", Fraction(value), "percent", signs)
    assert back.digit_by_digit
    assert reason in back.reasons
    assert holds(back.told, told)


@pytest.mark.parametrize(
    ("value", "far"),
    [
        # Median 20.5: a share of 50 % of it is 10.25, three times the spread is 1.5. The larger of the two counts.
        (26, False),
        (30, False),
        (31, True),
        (10, True),
    ],
)
def test_a_value_is_far_from_the_last_ones_only_beyond_half_of_their_median(value: int, far: bool) -> None:
    back = read_back("Coverage", Fraction(value), "percent", Signs(last=(20.0, 21.0)))
    assert ("it is far from the last readings" in back.reasons) is far


def test_a_value_within_three_spreads_of_scattered_readings_is_not_far() -> None:
    # Median 20, spread 10: 30 away is as far as it may be, beyond half of the median.
    for value, far in ((50, False), (51, True)):
        back = read_back("Coverage", Fraction(value), "percent", Signs(last=(10.0, 20.0, 30.0)))
        assert ("it is far from the last readings" in back.reasons) is far


def test_a_single_reading_is_nothing_to_be_far_from() -> None:
    assert read_back("Coverage", Fraction(96), "percent", Signs(last=(20.0,))).reasons == ()


def test_every_reason_is_a_row_of_the_table() -> None:
    assert dialogue.__doc__ is not None
    signs = Signs(fails=FAILS, rivals=("y",), last=(1.0, 1.0))
    reasons = read_back("Coverage", Fraction(90), "percent", signs).reasons
    assert len(reasons) == 4
    for reason in reasons:
        assert f"| {reason}" in dialogue.__doc__


def test_every_read_back_ends_with_the_question() -> None:
    for value in range(101):
        told = read_back("Coverage", Fraction(value), "percent").told
        assert isinstance(told, Several)
        assert told.items[-1] == message("readback-yes-or-no")


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
    assert interpret(near, offers).rivals == (percent(85),)


def test_earlier_readings_of_the_same_step_are_remembered(crew: Crew) -> None:
    crew.open_shower()
    crew.mix()
    for _ in range(2):
        crew.set_tile()
        if crew.day.state.area.task is not None:
            crew.lift()
            crew.say("put back")
    crew.say("next tile", "back keyed", "spread", "mortar combed", "tile set")
    last = Read(Quantity(Fraction(127, 10), "mm"))
    assert holds(crew.hear("slid one hundred millimeters").spoken, message("readback-last", last=last))


def test_a_reading_that_was_taken_back_is_none_of_the_last_ones(crew: Crew) -> None:
    """Two readings make a value far from the last ones; one that was withdrawn makes no second."""
    crew.open_shower()
    crew.mix()
    crew.say("next tile", "back keyed", "spread", "mortar combed", "tile set", "slid half an inch!", "scratch that")
    crew.say("slid half an inch!", "beaten in")
    crew.lift()
    crew.say("put back", "next tile", "back keyed", "spread", "mortar combed", "tile set")
    spoken = crew.hear("slid one hundred millimeters").spoken
    assert isinstance(spoken, Several)
    assert "readback-last" not in {item.code for item in spoken.items if isinstance(item, Message)}


# --- names ------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("label", "rivals", "told"),
    [
        ("V9", (), "Tile, V as in victor, nine. Yes?"),
        ("V9", ("D9", "B9"), "Tile, V as in victor, nine, not D as in delta. Yes?"),
        ("V9", ("V5",), "Tile, V as in victor, nine, not V as in victor, five. Yes?"),
        ("A8", ("8",), "Tile, A, as in alpha, eight, not eight alone. Yes?"),
        ("8", ("A8",), "Tile, eight, no letter, not A, as in alpha. Yes?"),
        ("AB13", (), "Tile, A, as in alpha, B as in bravo, thirteen, one three. Yes?"),
        ("4711", (), "Tile, four seven one one. Yes?"),
        ("12C", (), "Tile, twelve, C as in charlie. Yes?"),
        ("Quillhaven", (), "Tile, Quillhaven. Yes?"),
    ],
)
def test_a_name_is_read_back_by_its_letters_words(label: str, rivals: tuple[str, ...], told: str) -> None:
    back = read_back_name("Tile", label, NameSigns(rivals))
    assert ALOUD(back.told) == told
    assert label in Words()(back.told), "on the screen the name stays as it is"


def test_every_reason_of_a_name_is_a_row_of_the_table() -> None:
    assert dialogue.__doc__ is not None
    reasons = read_back_name("Tile", "8", NameSigns(rivals=("A8",))).reasons
    assert len(reasons) == 2
    for reason in reasons:
        assert reason in dialogue.__doc__


def test_a_letter_may_have_gone_unheard_where_others_have_one_or_where_it_is_swallowed() -> None:
    assert letter_unheard("12", NameSigns(lettered=True))
    assert letter_unheard("80", NameSigns())
    assert not letter_unheard("12", NameSigns())
    assert not letter_unheard("8", NameSigns(lettered=False)), "tiles here go by numbers"


def heard(*alternatives: tuple[str, float]) -> Heard:
    return Heard(tuple(Alternative(words, -100.0 - below, ()) for words, below in alternatives), 2.0)


def at_the_lot(crew: Crew) -> None:
    crew.open_shower()
    crew.say("new batch", "understood", "one bag!")
    assert crew.step == "lot"


def test_a_letter_that_sounds_alike_is_named_within_a_wider_margin(crew: Crew) -> None:
    at_the_lot(crew)
    within, beyond = CLOSE_RIVAL + 1, CLOSE_RIVAL + 100
    said = heard(("lot v nine", 0), ("lot d nine", within), ("lot v five", beyond))
    caught = interpret(said, crew.day.prompt.offers)
    assert caught.rivals == (Spelled("D9"),)
    reply = act(crew.day, caught)
    assert crew.aloud(reply).endswith("V as in victor, nine, not D as in delta. Yes?")
    crew.say("yes")


def test_five_and_nine_are_doubted_for_one_another_within_a_wider_margin_than_five_and_two(crew: Crew) -> None:
    crew.open_shower()
    crew.mix()
    crew.set_tile()
    crew.say("test tile lifted")
    offers, near = crew.day.prompt.offers, CLOSE_RIVAL + 1
    for other, rivals in ((99, (percent(99),)), (92, ())):
        words = f"coverage {ALOUD(percent(other))}"
        assert interpret(heard(("coverage ninety five percent", 0), (words, near)), offers).rivals == rivals


def test_a_lift_says_back_the_name_of_its_tile(crew: Crew) -> None:
    crew.open_shower()
    crew.mix()
    crew.set_tile()
    reply = crew.speak("tile v nine lifted")
    assert crew.events(TileLifted)[-1].label == "V9"
    assert crew.aloud(reply).startswith("Tile V as in victor, nine.")
    crew.say("scratch that")
    reply = act(
        crew.day, interpret(heard(("tile v nine lifted", 0), ("tile b nine lifted", 3)), crew.day.prompt.offers)
    )
    assert reply.fate is Fate.ASKED
    assert crew.aloud(reply) == "Did you say 'tile v nine lifted': V as in victor, nine?"
    crew.say("no")
    assert crew.speak("tile eight lifted").fate is Fate.ASKED, "A may have gone unheard"
    crew.say("yes")
    assert crew.events(TileLifted)[-1].label == "8"


def test_of_two_names_that_the_words_could_be_it_is_asked_which(crew: Crew) -> None:
    at_the_lot(crew)
    reply = crew.speak("lot o nine")
    assert crew.aloud(reply) == "Did you mean zero nine or O as in oscar, nine?"
    assert crew.aloud(crew.speak("lot oscar nine")).endswith("O as in oscar, nine. Yes?")
