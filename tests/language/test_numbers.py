"""Numbers from words and words from numbers.

Outside checks: the whole-number words of the num2words library (PyPI), in both directions; unit conversions by the
exact inch of 25.4 mm (international yard and pound agreement, 1959). The hand-written readings are how crews talk
(common practice, no published source).
"""

from __future__ import annotations

import random
import re
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from num2words import num2words

from fieldassist.language.numbers import (
    NumberKind,
    Spoken,
    ValueRange,
    confusable,
    digits,
    graph,
    parse,
    sample,
    say,
    say_spoken,
    vocabulary,
    wordings,
)
from fieldassist.language.word_graph import WordGraph
from fieldassist.trade import quantities

MODEL_WORDS = Path(__file__).parents[2] / "models" / "plainspeech-en" / "graph" / "words.txt"

# Words that the default model was made without, each with the reason why they stay in the grammar: the singular is
# heard for the plural, or the unit is for data sheets and other models.
NOT_IN_EVERY_MODEL = {
    "celsius": "degrees c",
    "fahrenheit": "degrees f",
    "tenths": "tenth",
    "kilograms": "kilogram",
    "kilos": "kilo",
    "gram": "typed or tapped",
    "grams": "typed or tapped",
    "milliliter": "typed or tapped",
    "milliliters": "typed or tapped",
    "sheets": "sheet",
    "crates": "crate",
    "panels": "panel",
}


def read(text: str, kind: NumberKind, default_unit: str | None = None) -> list[tuple[str, str | None]]:
    return [(str(r.value), r.unit) for r in parse(text.split(), kind, default_unit=default_unit)]


@cache
def library_words(number: int) -> str:
    return re.sub(r"[,-]", " ", str(num2words(number))).replace("  ", " ")


# Every number below two thousand; above it every thousand with some remainder and every remainder with some thousand.
# A number is its thousands and what is below a thousand, and neither looks at the other.
ALL_SHAPES = sorted(
    set(range(2000))
    | set(range(2000, 10_000, 7))
    | {thousands * 1000 + thousands * 37 % 1000 for thousands in range(10, 100)}
    | {(10 + below % 90) * 1000 + below for below in range(1000)}
    | {10_000, 99_999, 90_019, 13_013, 30_030}
)


def test_whole_numbers_in_the_words_of_num2words_are_read_as_that_number_and_no_other():
    wrong = [
        (number, read(library_words(number), NumberKind.NUMBER))
        for number in ALL_SHAPES
        if read(library_words(number), NumberKind.NUMBER) != [(str(number), None)]
    ]
    assert wrong == []


def test_whole_numbers_are_said_in_the_words_of_num2words_without_its_and():
    wrong = [
        (number, say(number, None))
        for number in ALL_SHAPES
        if say(number, None) != library_words(number).replace(" and ", " ")
    ]
    assert wrong == []


def test_every_hundred_from_eleven_to_ninety_nine_is_read_as_crews_say_it():
    for hundreds in range(11, 100):
        if hundreds % 10:
            text = f"{library_words(hundreds)} hundred"
            assert read(text, NumberKind.LENGTH) == [(str(hundreds * 100), None)]
            assert f"{text} millimeters" in wordings(hundreds * 100, "mm")


@pytest.mark.parametrize("bottom", [2, 3, 4, 8, 10, 16, 32])
def test_every_fraction_to_one_thirty_second_is_read_from_its_own_words_and_from_those_of_num2words(
    bottom: int,
):
    for top in range(1, bottom):
        value = Fraction(top, bottom)
        if bottom != 10 or value.denominator in (2, 10):
            said = say(value, "in")
            assert (str(value), "in") in read(said, NumberKind.LENGTH), said
        # The library has ordinals only; halves and quarters have words of their own.
        name = {2: "half", 4: "quarter"}.get(bottom, num2words(bottom, to="ordinal").replace("-", " "))
        plural = {"half": "halves"}.get(name, name + "s")
        text = f"{library_words(top)} {name if top == 1 else plural}"
        assert read(text, NumberKind.NUMBER) == [(str(value), None)], text


LENGTHS = [
    ("an inch and a half", [("3/2", "in")]),
    ("an inch and three eighths", [("11/8", "in")]),
    ("half an inch", [("1/2", "in")]),
    ("half inch", [("1/2", "in")]),
    ("quarter inch", [("1/4", "in")]),
    ("one and three eighths inches", [("11/8", "in")]),
    ("three eighths of an inch", [("3/8", "in")]),
    ("three eighth inch", [("3/8", "in")]),
    ("three eighths", [("3/8", None)]),
    ("five thirty seconds", [("5/32", None)]),
    ("five thirty second", [("5/32", None)]),
    ("five thirty-seconds", [("5/32", None)]),
    ("nine tenths of a millimeter", [("9/10", "mm")]),
    ("point five", [("1/2", None)]),
    ("oh point five", [("1/2", None)]),
    ("two point three five", [("47/20", None)]),
    ("two point thirty five", [("47/20", None)]),
    ("two point oh five", [("41/20", None)]),
    ("twelve hundred", [("1200", None)]),
    ("twenty four hundred millimeters", [("2400", "mm")]),
    ("ninety five hundred", [("9500", None)]),
    ("one hundred and five", [("105", None)]),
    ("a hundred and five", [("105", None)]),
    ("one hundred and five thirty seconds", [("3205/32", None)]),
    ("twelve fifty", [("1250", None)]),
    ("seven oh five", [("705", None)]),
    ("nine zero", [("90", None)]),
    ("four foot six", [("54", "in")]),
    ("four feet six inches", [("54", "in")]),
    ("four feet and six and a half inches", [("109/2", "in")]),
    ("four foot half an inch", [("97/2", "in")]),
    ("four feet and a half", [("9/2", "ft")]),
    ("a foot six", [("18", "in")]),
    ("one meter twenty", [("6/5", "m")]),
    ("two metres forty centimetres", [("12/5", "m")]),
    ("twelve millimetres", [("12", "mm")]),
    # What must be asked about.
    ("five thirty two", [("532", None), ("5/32", None)]),
    ("three eight inches", [("38", "in"), ("3/8", "in")]),
    ("five sixteen", [("516", None), ("5/16", None)]),
    ("five thirty two millimeters", [("532", "mm")]),
    # What is no length.
    ("four foot twelve", []),
    ("hundred", []),
    ("inch", []),
    ("two five eighths", []),
    ("ninety percent", []),
    ("", []),
]


@pytest.mark.parametrize(("text", "expected"), LENGTHS)
def test_a_length_is_read_as_the_trade_says_it(text: str, expected: list[tuple[str, str | None]]):
    assert read(text, NumberKind.LENGTH) == expected


OTHERS = [
    (NumberKind.PERCENT, "ninety five percent", [("95", "percent")]),
    (NumberKind.PERCENT, "ninety five per cent", [("95", "percent")]),
    (NumberKind.PERCENT, "ninety five", [("95", None)]),
    (NumberKind.PERCENT, "a hundred percent", [("100", "percent")]),
    (NumberKind.PERCENT, "nine five", [("95", None)]),
    (NumberKind.PERCENT, "nine tenths", [("90", "percent")]),
    (NumberKind.PERCENT, "three quarters", [("75", "percent")]),
    (NumberKind.PERCENT, "half a percent", [("1/2", "percent")]),
    (NumberKind.PERCENT, "point nine", [("90", "percent"), ("9/10", None)]),
    (NumberKind.PERCENT, "ninety ninety", []),
    (NumberKind.TEMPERATURE, "twenty degrees celsius", [("20", "degC")]),
    (NumberKind.TEMPERATURE, "twenty degrees c", [("20", "degC")]),
    (NumberKind.TEMPERATURE, "sixty eight degrees fahrenheit", [("68", "degF")]),
    (NumberKind.TEMPERATURE, "minus five degrees", [("-5", "deg")]),
    (NumberKind.TEMPERATURE, "five degrees below zero", [("-5", "deg")]),
    (NumberKind.TEMPERATURE, "sixty eight", [("68", None)]),
    (NumberKind.DURATION, "an hour and a half", [("3/2", "h")]),
    (NumberKind.DURATION, "twenty minutes", [("20", "min")]),
    (NumberKind.DURATION, "ninety seconds", [("90", "s")]),
    (NumberKind.DURATION, "half an hour", [("1/2", "h")]),
    (NumberKind.DURATION, "three quarters of an hour", [("3/4", "h")]),
    (NumberKind.DURATION, "an hour twenty", [("80", "min")]),
    (NumberKind.DURATION, "two hours and ten minutes", [("130", "min")]),
    (NumberKind.DURATION, "one minute thirty seconds", [("90", "s")]),
    (NumberKind.DURATION, "five thirty seconds", []),
    (NumberKind.COUNT, "three tiles", [("3", "count")]),
    (NumberKind.COUNT, "three", [("3", None)]),
    (NumberKind.COUNT, "two and a half bags", [("5/2", "count")]),
    (NumberKind.MASS, "fifty pounds", [("50", "lb")]),
    (NumberKind.MASS, "half a pound", [("1/2", "lb")]),
    (NumberKind.MASS, "twenty two point five kilos", [("45/2", "kg")]),
    (NumberKind.AREA, "two square feet", [("2", "ft2")]),
    (NumberKind.AREA, "four and a half square meters", [("9/2", "m2")]),
    (NumberKind.VOLUME, "two and a half quarts", [("5/2", "qt")]),
    (NumberKind.VOLUME, "a gallon and a half", [("3/2", "gal")]),
    (NumberKind.VOLUME, "six litres", [("6", "L")]),
    (NumberKind.NUMBER, "minus two point five", [("-5/2", None)]),
]


@pytest.mark.parametrize(("kind", "text", "expected"), OTHERS)
def test_a_quantity_is_read_as_the_trade_says_it(kind: NumberKind, text: str, expected: list[tuple[str, str | None]]):
    assert read(text, kind) == expected


CLOCKS = [
    ("half past ten", ["10:30 either"]),
    ("ten forty five", ["10:45 either"]),
    ("quarter to four", ["3:45 either"]),
    ("a quarter past four", ["4:15 either"]),
    ("quarter to one", ["12:45 either"]),
    ("ten to twelve", ["11:50 either"]),
    ("five thirty two", ["5:32 either"]),
    ("eight oh five", ["8:05 either"]),
    ("ten o'clock", ["10:00 either"]),
    ("twelve thirty", ["12:30 either"]),
    ("oh eight fifteen", ["8:15 settled"]),
    ("fourteen oh five", ["14:05 settled"]),
    ("eighteen hundred", ["18:00 settled"]),
    ("two thirty p.m.", ["14:30 settled"]),
    ("two thirty p m", ["14:30 settled"]),
    ("twelve fifteen a.m.", ["0:15 settled"]),
    ("half past two in the afternoon", ["14:30 settled"]),
    ("noon", ["12:00 settled"]),
    ("midnight", ["0:00 settled"]),
    ("ten seventy", []),
    ("twenty five thirty", []),
]


@pytest.mark.parametrize(("text", "expected"), CLOCKS)
def test_a_clock_time_says_whether_the_half_of_the_day_is_settled(text: str, expected: list[str]):
    readings = parse(text.split(), NumberKind.CLOCK_TIME)
    assert [f"{r.text} {'settled' if r.unit == '24h' else 'either'}" for r in readings] == expected
    assert all(r.value == r.values[0] * 60 + r.values[1] for r in readings)


NAMES = [
    ("tile b twelve", ["tile B12"]),
    ("tile bravo twelve", ["tile B12"]),
    ("tile bravo one two", ["tile B12"]),
    ("tile number four", ["tile 4"]),
    ("b twelve", ["B12"]),
    ("twelve bravo", ["12B"]),
    ("batch seven", ["batch 7"]),
    ("x ray three", ["X3"]),
    ("x-ray three", ["X3"]),
    ("alfa juliett two", ["AJ2"]),
    ("a one", ["A1"]),
    ("bravo seven oh five", ["B705"]),
    ("bravo oh five", ["B05", "BO5"]),
    ("tile", []),
    ("tile twelve hundred by two", []),
]


@pytest.mark.parametrize(("text", "expected"), NAMES)
def test_a_name_is_read_from_letters_or_the_icao_alphabet(text: str, expected: list[str]):
    assert sorted(f"{r.thing} {r.text}".strip() for r in parse(text.split(), NumberKind.NAME)) == sorted(expected)


SIZES = [
    ("twelve hundred by twenty four hundred", ["1200 2400 None"]),
    ("twelve hundred by twenty four hundred millimeters", ["1200 2400 mm"]),
    ("two by four feet", ["2 4 ft"]),
    ("two feet by four feet", ["2 4 ft"]),
    ("two foot by four", ["2 4 ft"]),
    ("two feet by forty eight inches", ["24 48 in"]),
    ("twelve fifty by twenty five hundred millimeters", ["1250 2500 mm"]),
    ("half an inch by three eighths", ["1/2 3/8 in"]),
    ("four foot six by eight", ["54 96 in", "54 8 in"]),
    ("twelve hundred", []),
    ("by four feet", []),
    ("two by four by six", []),
]


@pytest.mark.parametrize(("text", "expected"), SIZES)
def test_a_size_is_two_lengths_with_one_unit(text: str, expected: list[str]):
    readings = parse(text.split(), NumberKind.SIZE)
    assert [" ".join((*map(str, r.values), str(r.unit))) for r in readings] == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("four seven one one", ["4711"]),
        ("forty seven eleven", ["4711"]),
        ("double five three", ["553"]),
        ("oh four", ["04"]),
        ("zero o four", ["004"]),
        ("twelve hundred", ["1200"]),
        ("four seven bags", []),
    ],
)
def test_a_string_of_digits_keeps_its_leading_zeros(text: str, expected: list[str]):
    assert [r.text for r in parse(text.split(), NumberKind.DIGITS)] == expected


def test_a_default_unit_is_taken_where_none_was_said_and_only_there():
    assert read("ninety five", NumberKind.PERCENT, "percent") == [("95", "percent")]
    assert read("three inches", NumberKind.LENGTH, "mm") == [("3", "in")]
    assert read("sixty eight degrees", NumberKind.TEMPERATURE, "degF") == [("68", "degF")]
    assert read("twelve hundred by two thousand four hundred", NumberKind.SIZE, "mm") == [("1200", "mm")]


def test_bare_eighths_are_inches_though_the_step_is_in_millimeters():
    assert read("three eighths", NumberKind.LENGTH, "mm") == [("3/8", "in")]
    assert read("two and three eighths", NumberKind.LENGTH, "mm") == [("19/8", "in")]
    assert read("half", NumberKind.LENGTH, "mm") == [("1/2", "mm")]


def test_one_text_instead_of_words_is_refused():
    with pytest.raises(ValueError, match="list"):
        parse("ninety five", NumberKind.PERCENT)


def test_readings_keep_the_words_as_heard():
    assert parse(["Ninety-Five", "percent"], NumberKind.PERCENT)[0].words == ("Ninety-Five", "percent")


SAID = [
    (95, "percent", "ninety five percent"),
    (95.5, "percent", "ninety five point five percent"),
    (Fraction(1, 2), "in", "half an inch"),
    (Fraction(1, 32), "in", "one thirty second of an inch"),
    (Fraction(1, 4), "in", "a quarter of an inch"),
    (Fraction(54), "in", "fifty four inches"),
    (1, "in", "one inch"),
    (0.089, "in", "zero point zero eight nine inches"),
    (6.349999999, "mm", "six point three five millimeters"),
    (2400, "mm", "twenty four hundred millimeters"),
    (3000, "mm", "three thousand millimeters"),
    (90, "min", "ninety minutes"),
    (1.5, "h", "one and a half hours"),
    (-5, "degC", "minus five degrees celsius"),
    (1, "degF", "one degree fahrenheit"),
    (12, None, "twelve"),
]


@pytest.mark.parametrize(("value", "unit", "words"), SAID)
def test_a_value_is_said_in_the_words_of_the_trade(value: float | Fraction, unit: str | None, words: str):
    assert say(value, unit) == words


@pytest.mark.parametrize(
    ("value", "unit"),
    [(-1, "mm"), (100_000, "mm"), (float("nan"), "mm"), (float("inf"), None), (3, "furlong")],
)
def test_what_has_no_words_is_refused_with_a_sentence(value: float, unit: str | None):
    with pytest.raises(ValueError, match=r"say|said|words"):
        say(value, unit)


UNIT_KINDS = [
    (unit, kind)
    for kind in (
        NumberKind.LENGTH,
        NumberKind.AREA,
        NumberKind.MASS,
        NumberKind.VOLUME,
        NumberKind.DURATION,
        NumberKind.TEMPERATURE,
        NumberKind.PERCENT,
    )
    for unit, info in quantities.UNITS.items()
    if info.dimension == kind.value
]


@settings(max_examples=300, deadline=None)
@given(st.sampled_from(UNIT_KINDS), st.integers(0, 99_999), st.sampled_from([1, 2, 4, 8, 10, 16, 32, 100, 1000]))
def test_what_is_said_is_read_back_as_the_same_value_alone(unit_kind: tuple[str, NumberKind], top: int, bottom: int):
    unit, kind = unit_kind
    value = Fraction(top % 900 if kind is NumberKind.TEMPERATURE else top, bottom)
    said = say(value, unit)
    assert read(said, kind) == [(str(value), unit)], said


@settings(max_examples=200, deadline=None)
@given(st.integers(0, 99_999), st.sampled_from([1, 10, 1000]))
def test_digits_are_read_back_as_the_same_number(top: int, bottom: int):
    value = Fraction(top, bottom)
    assert [str(value)] == [v for v, _ in read(digits(value), NumberKind.NUMBER)], digits(value)


def test_clock_times_are_said_and_read_back_through_the_whole_day():
    for minute in range(1440):
        (reading,) = parse(say(minute, "24h").split(), NumberKind.CLOCK_TIME)
        assert (reading.value, reading.unit) == (minute, "24h")
        (either,) = parse(say(minute, None, kind=NumberKind.CLOCK_TIME).split(), NumberKind.CLOCK_TIME)
        assert either.unit is None
        assert either.value % 720 == minute % 720


def test_teens_and_tens_are_confusable_wherever_they_are_said():
    assert {value for value in range(101) if confusable(value)} == {*range(13, 20), *range(30, 100, 10)}
    assert confusable(115)
    assert confusable(150)
    assert confusable(14_002)
    assert confusable(40_002)
    assert confusable(1600)
    assert confusable(13.5)
    assert confusable(-15)
    assert not any(confusable(value) for value in (5, 95, 120, 1200, 20_000, 2400, 0.5))


RANGES: list[tuple[NumberKind, list[str], int | None, int | None]] = [
    (NumberKind.PERCENT, ["percent"], 0, 100),
    (NumberKind.PERCENT, ["percent"], 80, 100),
    (NumberKind.LENGTH, ["mm"], 0, 3000),
    (NumberKind.LENGTH, ["mm"], 3, 17),
    (NumberKind.LENGTH, ["cm"], None, None),
    (NumberKind.LENGTH, ["m"], 0, 20),
    (NumberKind.LENGTH, ["in"], 0, 120),
    (NumberKind.LENGTH, ["in", "ft", "mm"], 0, 120),
    (NumberKind.SIZE, ["mm"], 100, 3000),
    (NumberKind.SIZE, ["in", "ft"], 1, 120),
    (NumberKind.AREA, ["m2", "ft2"], 0, 50),
    (NumberKind.TEMPERATURE, ["degC", "degF"], -10, 40),
    (NumberKind.DURATION, ["min", "s", "h"], 0, 120),
    (NumberKind.DURATION, ["min"], 7, 33),
    (NumberKind.COUNT, ["count"], 0, 50),
    (NumberKind.COUNT, ["bag", "box"], 0, 300),
    (NumberKind.MASS, ["kg", "lb"], 0, 100),
    (NumberKind.VOLUME, ["L", "qt", "gal"], 0, 20),
    (NumberKind.CLOCK_TIME, [], None, None),
    (NumberKind.NUMBER, [], 0, 99_999),
    (NumberKind.DIGITS, [], None, None),
    (NumberKind.NAME, ["tile"], 1, 40),
]


def limits(low: int | None, high: int | None) -> tuple[Fraction | None, Fraction | None]:
    return None if low is None else Fraction(low), None if high is None else Fraction(high)


@cache
def drawn(case: int) -> WordGraph:
    kind, units, low, high = RANGES[case]
    return graph(kind, tuple(units), ValueRange(*limits(low, high)))


@pytest.mark.parametrize("case", range(len(RANGES)))
def test_a_graph_holds_sentences_of_the_grammar_and_every_one_that_is_sampled(case: int):
    kind, units, low, high = RANGES[case]
    found = drawn(case)
    rng = random.Random(20)
    for _ in range(60):
        words = found.drawn(rng)
        assert parse(words, kind), words
        text, meant = sample(rng, kind, units, *limits(low, high))
        assert meant in parse(text.split(), kind)
        assert found.accepts(text.split()), text


@pytest.mark.parametrize(("low", "high"), [(0, 99_999), (7, 1213), (95, 2101), (1199, 1201), (19_990, 30_010)])
def test_a_graph_holds_the_whole_numbers_in_the_range_and_no_others(low: int, high: int):
    found = graph(NumberKind.NUMBER, (), ValueRange(Fraction(low), Fraction(high)))
    step = max(1, (high - low) // 2500)
    for number in {*range(low, high + 1, step), low, high}:
        assert found.accepts(library_words(number).replace(" and ", " ").split()), number
    for number in {*range(0, 100_000, 997), low - 1, high + 1} - set(range(low, high + 1)):
        if 0 <= number <= 99_999:
            assert not found.accepts(library_words(number).replace(" and ", " ").split()), number


def test_every_sentence_of_a_small_range_is_a_value_of_it():
    for whole in (True, False):
        found = graph(NumberKind.PERCENT, ("percent",), ValueRange(Fraction(80), Fraction(100), whole=whole))
        said = list(found.sentences())
        values = {reading.value for words in said for reading in parse(words, NumberKind.PERCENT)}
        assert min(values) == 80
        assert max(values) == 100
        assert {value for value in values if value.denominator == 1} == set(range(80, 101))
        assert whole == all(value.denominator == 1 for value in values)


def test_likely_values_are_likelier_and_whole_numbers_too():
    found = graph(NumberKind.DURATION, ("min",), ValueRange(Fraction(0), Fraction(120), (Fraction(0), Fraction(60))))
    costs = [found.cost(words.split()) for words in ("forty minutes", "ninety minutes", "forty and a tenth minutes")]
    assert None not in costs
    assert costs == sorted(costs)
    assert costs[0] < 6, "of some two hundred wordings of whole numbers"


def test_graphs_stay_small():
    """A recognizer carries them; every wording of every value is in them all the same."""
    for case in range(len(RANGES)):
        assert sum(map(len, drawn(case).arcs)) < 5000


def test_a_word_that_the_model_lacks_never_shortens_a_phrase():
    known = vocabulary() - {"tenths", "inches", "half"}
    found = graph(NumberKind.PERCENT, ("percent",), knows=known.__contains__)
    assert found.accepts(("nine", "tenth"))
    assert not found.words & {"tenths", "half"}
    rng = random.Random(9)
    assert all(parse(found.drawn(rng), NumberKind.PERCENT) for _ in range(60))


@pytest.mark.parametrize("case", range(len(RANGES)))
def test_words_that_the_model_lacks_take_nothing_else_with_them(case: int):
    kind, units, low, high = RANGES[case]
    lacking = {"c", "kilogram", "kilograms", "halves", "percent", "boxes", "thirty", "point", "a", "foot"}
    found = graph(kind, tuple(units), ValueRange(*limits(low, high)), (vocabulary() - lacking).__contains__)
    assert not found.words & lacking
    rng = random.Random(3)
    for _ in range(40):
        text, _ = sample(rng, kind, units, *limits(low, high))
        if not lacking & set(text.split()):
            assert found.accepts(text.split()), text


@pytest.mark.parametrize(
    "words",
    [
        *("b twelve", "victor nine", "v as in victor nine", "a b twelve", "l four seven two", "bravo"),
        *("four seven two", "four oh seven", "oh four seven", "seventy two", "one hundred five"),
    ],
)
def test_names_are_heard_as_they_are_called(words: str):
    assert graph(NumberKind.NAME, ()).accepts(words.split())
    assert parse(words.split(), NumberKind.NAME)


def test_digit_by_digit_is_heard_on_request():
    heard = ValueRange(Fraction(0), Fraction(100))
    assert not graph(NumberKind.PERCENT, ("percent",), heard).accepts(("nine", "zero"))
    heard = ValueRange(Fraction(0), Fraction(100), digit_by_digit=True)
    assert graph(NumberKind.PERCENT, ("percent",), heard).accepts(("nine", "zero"))


def test_a_unit_that_does_not_measure_the_kind_is_refused():
    with pytest.raises(ValueError, match="allowed: percent"):
        graph(NumberKind.PERCENT, ("mm",))
    with pytest.raises(ValueError, match="lower limit first"):
        graph(NumberKind.PERCENT, ("percent",), ValueRange(Fraction(5), Fraction(2)))


def test_limits_hold_for_every_unit_of_the_answer():
    # 25.4 mm to the inch: up to 100 mm is under four inches.
    found = graph(NumberKind.LENGTH, ("mm", "in"), ValueRange(Fraction(0), Fraction(100)))
    for said in ("one hundred millimeters", "four millimeters", "three inches", "three and seven eighths inches"):
        assert found.accepts(said.split()), said
    for said in ("four inches", "ten inches", "forty inches", "one hundred one millimeters"):
        assert not found.accepts(said.split()), said


def test_a_sampled_reading_is_said_again_as_the_same_reading():
    rng = random.Random(7)
    for kind, units, low, high in RANGES:
        for _ in range(20):
            _, meant = sample(rng, kind, units, *limits(low, high))
            again = parse(say_spoken(meant).split(), kind)
            assert [(r.value, r.text, r.values) for r in again if r.unit == meant.unit] == [
                (meant.value, meant.text, meant.values)
            ]


def test_a_reading_prints_as_it_is_written():
    def shown(text: str, kind: NumberKind) -> str:
        return str(parse(text.split(), kind)[0])

    assert shown("ninety five percent", NumberKind.PERCENT) == "95 %"
    assert shown("two and three eighths inches", NumberKind.LENGTH) == "2-3/8 in"
    assert shown("two by four feet", NumberKind.SIZE) == "2 × 4 ft"
    assert shown("tile bravo twelve", NumberKind.NAME) == "tile B12"
    assert shown("minus five degrees", NumberKind.TEMPERATURE) == "-5°"
    assert shown("three tiles", NumberKind.COUNT) == "3 tile"
    assert shown("half past ten", NumberKind.CLOCK_TIME) == "10:30"


def test_the_words_are_in_the_default_model_but_for_those_that_are_named():
    known = {line.split()[0] for line in MODEL_WORDS.read_text(encoding="utf-8").splitlines()}
    assert vocabulary() - known <= set(NOT_IN_EVERY_MODEL)


def test_every_word_of_a_graph_is_in_the_vocabulary():
    assert frozenset().union(*(drawn(case).words for case in range(len(RANGES)))) <= vocabulary()


def test_long_talk_in_number_words_is_refused_without_blowing_up():
    babble = [*library_words(1532).split(), "and", "a", "half", "foot", "by", "point", "oh", "two"] * 20
    for kind in NumberKind:
        assert parse(babble, kind) == ()  # all ways to read it would be more than there is time for


@settings(max_examples=150, deadline=None)
@given(st.lists(st.sampled_from(sorted(vocabulary())), max_size=7), st.sampled_from(list(NumberKind)))
def test_any_words_of_the_vocabulary_give_readings_or_none_and_no_two_alike(words: list[str], kind: NumberKind):
    readings = parse(words, kind)
    assert all(isinstance(reading, Spoken) and reading.kind is kind for reading in readings)
    assert len({(r.value, r.unit, r.text, r.values, r.thing) for r in readings}) == len(readings)
