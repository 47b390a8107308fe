"""The choice of what `[unk]` costs: sentences in noise, talk in pieces, and that a low cost loses more."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from fieldassist.voice.audio import read_audio
from models.build import unknown
from models.build.language import language
from models.build.speech_sets import RATE_HZ, SetWriter, Utterance, read_set
from tests.spoken import AUDIO, recording

ROOT = Path(__file__).parents[2]
MODEL = ROOT / "models" / "plainspeech-en"
SAID = ("next tile", "mortar combed", "coverage eighty five percent", "test tile lifted", "start area shower wall")


def a_set(stem: Path, recordings: list[Path], words: list[str]) -> list[Utterance]:
    with SetWriter(stem) as out:
        for path, said in zip(recordings, words, strict=True):
            out.add(
                read_audio(path).samples,
                said,
                [language().pronunciations(word)[0] for word in said.split()],
                "test:demo",
            )
    return read_set(stem)


@pytest.fixture(scope="module")
def said(tmp_path_factory: pytest.TempPathFactory) -> list[Utterance]:
    files = [recording(words) for words in SAID]
    return a_set(tmp_path_factory.mktemp("said") / "said", files, list(SAID))


@pytest.fixture(scope="module")
def talk(tmp_path_factory: pytest.TempPathFactory) -> list[Utterance]:
    # Commands that are not listed and sound like those that are: without [unk] some pass. What they are written down
    # as does not matter here.
    files = [path for kind in ("coverage", "start-area", "test") for path in sorted(AUDIO.glob(f"*-{kind}-*.flac"))]
    others = [path for path in files if path.stem[4:].replace("-", " ") not in SAID]
    return a_set(tmp_path_factory.mktemp("talk") / "talk", others, ["next"] * len(others))


def test_noise_is_10_db_below_the_sentence(said: list[Utterance]) -> None:
    quiet, pink, saw = (unknown.sounds(said[:1], noise, 3)[0][0].astype(float) for noise in unknown.NOISES)
    loud = said[0].audio().astype(float)
    speech = np.sqrt((loud[np.abs(loud) > 500] ** 2).mean())
    for noisy in (pink, saw):
        added = np.sqrt(((noisy - quiet) ** 2).mean())
        assert 5 < 20 * np.log10(speech / added) < 15
    assert np.abs(quiet[: RATE_HZ // 5]).max() < 30


def test_talk_is_cut_into_pieces_of_two_seconds(talk: list[Utterance]) -> None:
    made = unknown.pieces(talk)
    assert made
    assert {len(piece) for piece in made} == {2 * RATE_HZ}
    assert len(made) <= sum(one.samples for one in talk) / (2 * RATE_HZ)


def test_a_low_cost_loses_sentences_and_the_chosen_one_does_not(
    said: list[Utterance], talk: list[Utterance], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    words = sorted({word for each in SAID for word in each.split()} | {"yes", "no", "tell", "them"})
    without, low, chosen = unknown.measure(MODEL, words, said, talk, [1.0, unknown.graph.UNK_COST])
    assert (without.cost, low.cost, chosen.cost) == (None, 1.0, unknown.graph.UNK_COST)
    assert without.right[0] == chosen.right[0] == 1
    assert sum(low.right) < sum(chosen.right), "any phones at little cost explain everything best"
    assert low.passed <= chosen.passed < without.passed
    listed = tmp_path / "words"
    listed.write_text("\n".join(words))
    stem = tmp_path / "some"
    a_set(stem, [recording("next tile")], ["next tile"])
    unknown.main([str(MODEL), str(listed), str(stem), "--talk", str(stem), "--costs", "3"])
    told = capsys.readouterr().out
    assert "| not listed | 100.0% |" in told
    assert "| 3 | 100.0% |" in told
