"""Spanish, of which a model may be made: phones, words and sentences.

Outside check: espeak-ng's Spanish of Latin America (`espeak-ng -v es-419 --ipa`, GPL, not shipped) says every word of
the vocabulary; skipped where it is not installed. Its finer sounds are folded: soft b, d, g, glides, n before lips.
"""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path
from random import Random

import pytest

from models.build import graph, synthesize, words
from models.build.es.phones import UNITS
from models.build.language import language
from models.build.texts import sentence

SPANISH = language("es")
_FOLDED = {"tʃ": "C", "ɡ": "g", "β": "b", "ð": "d", "ɣ": "g", "jj": "Y", "ʝ": "Y", "ɲ": "N", "ɛ": "e", "ɪ": "i"}
_FOLDED |= {"ʊ": "u", "ŋ": "n", "j": "i", "w": "u", "r": "R", "ɾ": "r"}
_OURS = {"ch": "C", "ny": "N", "rr": "R", "y": "Y", "j": "i", "w": "u"}


@pytest.fixture(scope="module")
def vocabulary() -> list[str]:
    return words.vocabulary("es")


def folded(text: str) -> str:
    for sound, letter in _FOLDED.items():
        text = text.replace(sound, letter)
    return re.sub("n(?=[fb])", "m", text)


def without_stress(told: str) -> str:
    return folded(re.sub(r"[ˈˌ\s]", "", told))


def ours(word: str) -> str:
    return re.sub("n(?=[fb])", "m", "".join(_OURS.get(phone, phone) for phone in SPANISH.pronunciations(word)[0]))


@pytest.mark.skipif(shutil.which("espeak-ng") is None, reason="espeak-ng is not installed")
def test_words_sound_as_another_program_says_them(vocabulary: list[str]) -> None:
    command = ["espeak-ng", "-q", "-v", "es-419", "--ipa", "-f", "/dev/stdin"]
    told = subprocess.run(command, input=".\n".join([*vocabulary, ""]), capture_output=True, text=True, check=True)
    heard = told.stdout.splitlines()
    assert len(heard) == len(vocabulary) > 1500
    by_rule = [(w, h) for w, h in zip(vocabulary, heard, strict=True) if len(SPANISH.with_stress(w)) == 1]
    other = [word for word, said in by_rule if ours(word) != without_stress(said)]
    assert len(other) < 0.01 * len(vocabulary), other
    # From the stressed vowel on they are alike too, where one is marked: so the stress lies on the same.
    moved = []
    for word, said in by_rule:
        if word not in other and "ˈ" in said:
            phones = SPANISH.with_stress(word)[0]
            at = next(place for place, phone in enumerate(phones) if phone.endswith("1"))
            tail = "".join(_OURS.get(phone, phone) for phone in SPANISH.model_phones(phones[at:]))
            if re.sub("n(?=[fb])", "m", tail) != without_stress(said[said.index("ˈ") :]):
                moved.append(word)
    assert len(moved) < 0.01 * len(vocabulary), moved


@pytest.mark.parametrize(
    ("word", "phones"),
    [
        ("guerra", "g e rr a"),
        ("cigüeña", "s i g w e ny a"),
        ("alrededor", "a l rr e d e d o r"),
        ("hueco", "w e k o"),
        ("hierro", "y e rr o"),
        ("baúl", "b a u l"),
        ("pausa", "p a w s a"),
        ("acción", "a k s j o n"),
        ("examen", "e k s a m e n"),
        ("rey", "rr e j"),
        ("y", "i"),
        ("mike", "m a j k"),
    ],
)
def test_letters_are_read_by_rule_or_by_the_list(word: str, phones: str) -> None:
    assert SPANISH.pronunciations(word) == (tuple(phones.split()),)


def test_every_word_has_phones_of_the_model_and_symbols_of_the_synthesizers(vocabulary: list[str]) -> None:
    for word in vocabulary:
        for said in SPANISH.with_stress(word):
            assert set(SPANISH.model_phones(said)) <= set(UNITS.phones)
            assert sum(symbol.endswith("1") for symbol in said) == 1
            assert SPANISH.ipa(said)
            assert SPANISH.espeak_phonemes(said)


def test_sentences_are_of_words_of_the_model(vocabulary: list[str]) -> None:
    known, random = set(vocabulary), Random(3)
    drawn = [sentence(random, "es") for _ in range(200)]
    assert {word for text in drawn for word in text.split()} <= known
    (first, _) = zip(*zip(synthesize.sentences(Random(1), "es"), range(20), strict=False), strict=True)
    assert all(len(each.words.split()) == len(each.stress) for each in first)


def test_an_engine_that_does_not_speak_it_is_refused() -> None:
    with pytest.raises(ValueError, match="no engine of es is called 'flite': there are kokoro, espeak"):
        synthesize.engine("flite", Path(), "cpu", "es")


@pytest.mark.skipif(not graph.have_openfst(), reason="OpenFst's tools are not installed")
def test_a_graph_of_it_has_its_own_phones(tmp_path: Path) -> None:
    graph.build(["sesenta", "setenta", "mañana"], tmp_path, "es")
    phones = dict(line.split() for line in (tmp_path / "phones.txt").read_text(encoding="utf-8").splitlines())
    assert {name: int(phones[name]) for name in UNITS.kaldi_phones} == UNITS.kaldi_phones
    assert "TH_B" not in phones
