"""The vocabulary: what the program listens for, and what was ever known."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from fieldassist.language import numbers
from fieldassist.language.spoken import spoken_language
from fieldassist.trade import quantities
from fieldassist.voice.graph_files import read_words
from fieldassist.voice.phrases import unknown_words
from fieldassist.voice.sentences import sentences
from models.build import words
from models.build.language import language

SHIPPED = Path(__file__).parents[2] / "models" / "plainspeech-en" / "graph" / "words.txt"


@pytest.fixture(scope="module")
def vocabulary() -> frozenset[str]:
    return frozenset(words.vocabulary())


@pytest.fixture(scope="module")
def offers() -> list[list]:
    return list(words.all_offers())


def test_every_word_of_the_checklists_is_in_it(vocabulary: frozenset[str], offers: list[list]) -> None:
    assert len(offers) > 50
    assert [unknown_words(here, vocabulary.__contains__) for here in offers] == [[]] * len(offers)


def test_no_phrase_is_left_out_for_a_word(vocabulary: frozenset[str], offers: list[list]) -> None:
    for here in offers[:: len(offers) // 12]:
        assert sentences(here, vocabulary.__contains__) == sentences(here, lambda _: True)


def test_every_word_can_be_pronounced(vocabulary: frozenset[str]) -> None:
    assert all(language().pronunciations(word) for word in vocabulary)
    assert all(word == word.lower() and len(word.split()) == 1 for word in vocabulary)


def test_numbers_and_units_are_in_it_in_both_spellings(vocabulary: frozenset[str]) -> None:
    assert numbers.vocabulary() <= vocabulary
    same = spoken_language().numbers.forms.same
    assert {*same, *same.values()} <= vocabulary
    for unit in quantities.UNITS:
        if unit != "count":
            assert {*numbers.say(Fraction(1), unit).split(), *numbers.say(Fraction(2), unit).split()} <= vocabulary


def test_what_else_is_said_is_in_it(vocabulary: frozenset[str]) -> None:
    said = "field assist this is rosa weather foggy half inch square october friday xray ray please okay drizzle"
    assert set(said.split()) <= vocabulary


def test_no_word_that_was_known_is_lost(vocabulary: frozenset[str]) -> None:
    assert set(read_words(SHIPPED)) - {"<eps>", "[unk]"} <= vocabulary


def test_the_general_list_is_in_order_and_without_doubles() -> None:
    lines = language().general_words.read_text(encoding="utf-8").splitlines()
    assert lines == sorted(set(lines))


def test_the_stage_writes_one_word_a_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], vocabulary: frozenset[str]
) -> None:
    out = tmp_path / "words.txt"
    assert words.main([str(out)]) == 0
    assert out.read_text().splitlines() == sorted(vocabulary)
    assert capsys.readouterr().out == f"{len(vocabulary)} words\n"


def test_a_word_that_nobody_told_how_to_say_stops_the_stage(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(words, "own_words", lambda _: frozenset({"tile", "tqqx"}))
    assert words.main([str(tmp_path / "words.txt")]) == 1
    assert "tqqx" in capsys.readouterr().err
    assert not list(tmp_path.iterdir())
