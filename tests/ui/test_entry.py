"""A number while it is entered: on the pad, on the ruler, held against its limit."""

from __future__ import annotations

from fractions import Fraction

import pytest

from fieldassist.checklist.rules import Criterion, stated
from fieldassist.language import Words
from fieldassist.trade.message import Figure, Text
from fieldassist.ui.content.entry import BACK, BELOW_ZERO, POINT, LastValue, NumberQuestion, NumberTyped

# 1/8 in = 3.175 mm, exactly: 1 in = 25.4 mm.
GAP = NumberQuestion("Gap", ("mm", "in"), high=50, limit=stated(None, 3.175, "mm", None))
WARMTH = NumberQuestion("Wall temperature", ("degC", "degF"), low=-30, high=60, limit=stated(5, 30, "degC", None))


def typed(question: NumberQuestion, unit: str, *keys: str) -> NumberTyped:
    number = NumberTyped.begun(question, unit)
    for key in keys:
        number = number.press(key)
    return number


def words(told: Figure | None) -> str:
    return Words()(told) if told is not None else ""


def test_a_fraction_is_read_off_the_ruler_and_is_inches() -> None:
    number = NumberTyped.begun(GAP, "in").snap(0.18)
    assert (number.value, number.unit, number.shown) == (Fraction(3, 16), "in", "3/16")
    assert not NumberTyped.begun(GAP, "mm").ruled
    assert number.nudge(-1).shown == "1/8"
    assert number.nudge(16).shown == "1 3/16"
    assert number.nudge(16).scale.start == 1, "the ruler shows the inch in which it stands"
    assert number.nudge(13).scale.start == 0, "a whole inch is the end of the first one"
    assert number.use("mm").value is None, "no part of an inch is taken along into millimetres"
    assert number.nudge(-9).value == 0


def test_an_eighth_passes_where_an_eighth_is_allowed_and_a_sixteenth_more_fails_by_that() -> None:
    eighth = NumberTyped.begun(GAP, "in").snap(2 / 16)
    assert eighth.judged == "passed"
    assert words(eighth.keep_told) == "Keep 1/8 in"
    over = eighth.nudge(1)
    assert over.fails
    assert words(over.off_told) == "1/16 in too much"
    assert words(over.keep_told) == "Fails: keep 3/16 in"
    assert words(over.limit_told) == "max 1/8 in"
    assert words(typed(GAP, "mm", "2").limit_told) == "max 3.1 mm"
    assert over.scale.allowed == (0, Fraction(1, 8))


def test_what_was_typed_is_judged_live_in_its_unit() -> None:
    cold = typed(WARMTH, "degC", "3")
    assert (cold.judged, words(cold.off_told), words(cold.limit_told)) == ("under", "2 °C too cold", "5 to 30 °C")
    assert words(typed(WARMTH, "degF", "3", "8").off_told) == "3 °F too cold", "5 °C are 41 °F"
    assert typed(WARMTH, "degC", "1", "8").judged == "passed"
    assert typed(WARMTH, "degC", "3", BELOW_ZERO).value == -3
    bar = typed(WARMTH, "degC", "1", "8").scale
    assert (bar.start, bar.end, bar.marks) == (-5, 40, (5, 30))
    assert bar.at == Fraction(23, 45)


def test_keys_that_make_no_sense_change_nothing() -> None:
    number = typed(GAP, "mm", "0", "2", POINT, POINT, "5")
    assert number.shown == "2.5"
    assert typed(GAP, "mm", "2", BACK).value is None
    assert typed(GAP, "mm", "2", BELOW_ZERO).value == 2, "a gap lies never below zero"
    assert typed(NumberQuestion("Tiles", whole=True), "count", "1", POINT, "5").shown == "15"


def test_it_says_why_it_cannot_be_kept() -> None:
    assert NumberTyped.begun(GAP).why_not is not None
    assert NumberTyped.begun(GAP).why_not.code == "work-type-first"
    far = typed(GAP, "mm", "9", "9").why_not
    assert far is not None
    assert words(far) == "99 mm cannot be: it lies between 0 mm and 50 mm."
    assert typed(GAP, "mm", "9").why_not is None, "what fails can be kept all the same"


@pytest.mark.parametrize(
    ("question", "last", "shown", "told"),
    [
        (WARMTH, LastValue(Fraction(17), "degC", Text.plain("air")), "17", "17 °C\nas air"),
        (GAP, LastValue(Fraction(3, 16), "in"), "3/16", "3/16 in\nas before"),
        (WARMTH, LastValue(Fraction(-5, 2), "degC"), "–2.5", "-2.5 °C\nas before"),
    ],
    ids=["another reading's", "the same one's", "below zero"],
)
def test_a_last_value_stands_again_in_its_own_unit(
    question: NumberQuestion, last: LastValue, shown: str, told: str
) -> None:
    number = NumberTyped.begun(question).take(last)
    assert (number.shown, number.unit, number.value) == (shown, last.unit, last.value)
    assert Words()(last.told).replace("−", "-") == told


def test_a_limit_in_one_direction_takes_half_the_bar() -> None:
    stroke = NumberQuestion("Stroke", ("mm",), limit=Criterion("", Fraction(12), None, "mm", Text.plain("")))
    bar = typed(stroke, "mm", "6").scale
    assert (bar.start, bar.end, bar.allowed, bar.at) == (0, 24, (12, 24), Fraction(1, 4))
    assert typed(NumberQuestion("Bags"), "count", "2").scale.allowed == (0, 4), "nothing forbids anything"
