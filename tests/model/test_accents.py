"""Accents by rule: what they change, what they leave, and that every row is a rule."""

from random import Random

import pytest

from models.build.en import accents, pico
from models.build.en.accents import Habit, Rule, Speaker
from models.build.en.phones import UNITS
from models.build.en.pronounce import with_stress
from models.build.language import language

WORDS = ["step", "three", "sixteen", "minutes", "eighty", "five", "verified", "gauge", "measure", "water", "joint"]


def symbols(word: tuple[str, ...]) -> set[str]:
    return {symbol.rstrip("012") for symbol in word}


@pytest.mark.parametrize("accent", sorted(accents._RULES))
def test_every_row_is_a_rule_of_sounds_that_synthesizers_have(accent: str) -> None:
    rules, even = accents.rules(accent)
    assert 0 <= even <= 1
    known = set(UNITS.phones) | accents.NEAREST.keys()
    for rule in rules:
        assert rule.old.rstrip("0") in known
        assert sum(likely for _, likely in rule.choices) <= 1.0001
        assert {symbol for new, _ in rule.choices for symbol in new} <= known
    assert accent in accents.VOICES


def test_a_third_has_an_accent_and_of_those_no_two_are_alike() -> None:
    random = Random(1)
    speakers = [accents.drawn(random) for _ in range(900)]
    assert 250 < sum(bool(each.accent) for each in speakers) < 350
    assert {each.accent for each in speakers} == {"", *accents._RULES}
    spanish = [each for each in speakers if each.accent == "spanish"]
    assert len({each.habits for each in spanish}) == len(spanish)
    # Half-accents: some keep hardly a rule, some nearly all.
    kept = sorted(len(each.habits) / len(accents.rules("spanish")[0]) for each in spanish)
    assert kept[0] < 0.4 < 0.6 < kept[-1]


def test_who_has_none_says_what_the_dictionary_says() -> None:
    for word in WORDS:
        assert Speaker("").says(with_stress(word)[0], Random(1)) == with_stress(word)[0]


def test_a_word_keeps_a_vowel_and_can_be_said_by_every_synthesizer() -> None:
    random = Random(2)
    for _ in range(300):
        speaker = accents.drawn(random, 1)
        for word in WORDS:
            said = speaker.says(with_stress(word)[0], random)
            assert any(map(accents.is_vowel, said))
            assert symbols(accents.nearest(said)) <= set(UNITS.phones)
            assert language().ipa(said)
            assert all(pico.symbols(said, voice) for voice in pico.VOICES)


def test_where_a_rule_works() -> None:
    def says(word: str, old: str, new: str, before: str = "", after: str = "") -> str:
        rule = Rule(old, ((tuple(new.split()), 1.0),), before, after)
        return " ".join(Speaker("x", (Habit(rule, rule.choices[0][0], 1.0),)).says(tuple(word.split()), Random(1)))

    assert says("S T EH1 P", "S", "e S", "#", "C") == "e0 S T EH1 P"
    assert says("S IH1 K S", "S", "e S", "#", "C") == "S IH1 K S"
    assert says("R EH1 D", "D", "T", after="#") == "R EH1 T"
    assert says("D EH1 K", "D", "T", after="#") == "D EH1 K"
    assert says("IH1 T", "IH", "IY") == "IY1 T"
    assert says("AH0 B AH1 V", "AH0", "a") == "a0 B AH1 V"
    assert says("L EH1 F T", "T", "", "C", "#") == "L EH1 F"
    assert says("T IH0 N", "T", "CH", after="I") == "CH IH0 N"


def test_the_voice_that_measures_says_nothing() -> None:
    assert pico.HELD_OUT not in pico.VOICES
