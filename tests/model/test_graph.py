"""The graph: its files as OpenFst prints them, and what vosk hears with them."""

from __future__ import annotations

import json
import math
import shutil
import subprocess
from collections import defaultdict
from collections.abc import Sequence
from pathlib import Path

import pytest
import soundfile

from fieldassist.voice.graph_files import read_words
from models.build import graph
from models.build.en.phones import UNITS
from models.build.language import language
from models.build.units import word_phones
from tests.spoken import recording

ROOT = Path(__file__).parents[2]
MODEL = ROOT / "models" / "plainspeech-en"
CLIP = recording("coverage ninety six percent")
GENERAL = ROOT / "models" / "build" / "en" / "general_words.txt"

SAID = ("coverage ninety six percent", "coverage ninety five percent", "coverage sixteen percent", "test tile lifted")
# Enough of everything: homophones, one phone, several ways to say a word, words that begin like others.
_OTHERS = "a i oh o two to too the tile tiles til till trowel caulk cough"
WORDS = sorted({word for text in (*SAID, _OTHERS) for word in text.split()})


# --- the lexicon, without OpenFst ---------------------------------------------------------------------------------


def _heard_in(arcs: Sequence[tuple[int, int, int, int]]) -> dict[int, set[tuple[str, ...]]]:
    """Word ids and the phones that lead to them from the root, of (state, next, transition, word)."""
    entered = {UNITS.transition_ids(number)[1]: name for name, number in UNITS.kaldi_phones.items()}
    out = defaultdict(list)
    for here, to, transition, word in arcs:
        if transition in entered:
            out[here].append((to, entered[transition], word))
    (root,) = {to for here, to, transition, _ in arcs if here == 0 and transition == 0}
    found: dict[int, set[tuple[str, ...]]] = defaultdict(set)
    paths: list[tuple[int, tuple[str, ...]]] = [(root, ())]
    while paths:
        state, before = paths.pop()
        for to, phone, word in out[state]:
            if word:
                found[word].add((*before, phone))
            elif phone != "SIL":
                paths.append((to, (*before, phone)))
    return found


def _lexicon(words: Sequence[str]) -> graph.Lexicon:
    lexicon = graph.Lexicon(UNITS)
    for number, word in enumerate(words, start=1):
        for phones in language().pronunciations(word):
            lexicon.add(number, phones)
    return lexicon


def _expected(word: str) -> set[tuple[str, ...]]:
    return {tuple(word_phones(phones)) for phones in language().pronunciations(word)}


def test_every_word_is_behind_its_phones_and_nothing_else() -> None:
    words = [*WORDS, *GENERAL.read_text().split()[::40]]
    heard = _heard_in([arc[:4] for arc in _lexicon(words).arcs])
    assert {words[number - 1]: ways for number, ways in heard.items()} == {word: _expected(word) for word in words}


def test_words_that_begin_alike_share_their_beginning() -> None:
    one, both = _lexicon(["tiles"]), _lexicon(["tiles", "tile"])
    assert both.states - one.states == 1  # the last L
    assert len(_lexicon(["two", "to", "too"]).arcs) - len(_lexicon(["two"]).arcs) >= 2


def test_every_phone_has_a_loop_for_its_further_frames() -> None:
    lexicon = _lexicon(WORDS)
    loops = {UNITS.transition_ids(number)[1]: UNITS.transition_ids(number)[0] for number in UNITS.kaldi_phones.values()}
    looped = {arc.here: arc.transition for arc in lexicon.arcs if arc.here == arc.to}
    for arc in lexicon.arcs:
        if arc.transition in loops:
            assert looped[arc.to] == loops[arc.transition]
    assert all(arc.transition for arc in lexicon.arcs if arc.here == arc.to)


def test_a_pause_may_stand_before_between_and_after_words() -> None:
    lexicon = _lexicon(["tile"])
    _, pause = UNITS.transition_ids(UNITS.kaldi_phones["SIL"])
    into = [arc for arc in lexicon.arcs if arc.transition == pause]
    assert [arc.cost for arc in into] == [pytest.approx(math.log(2))] * 2
    assert into[0].here == 0
    assert into[0].to == into[1].to
    assert {into[0].to, into[1].here} <= set(lexicon.finals)
    # Where a pause may stand, none may stand as well, and just as likely.
    for here in (into[0].here, into[1].here):
        skipped = [a for a in lexicon.arcs if (a.here, a.to, a.transition) == (here, lexicon.root, 0)]
        assert [a.cost for a in skipped] == [pytest.approx(math.log(2))]


def test_unknown_takes_two_phones_or_more_each_at_its_cost() -> None:
    lexicon = graph.Lexicon(UNITS)
    lexicon.add_any_phones(7, 0.5)
    costly = [arc for arc in lexicon.arcs if arc.cost == 0.5]
    assert len(costly) == 3 * len(UNITS.phones)
    assert [arc.word for arc in costly].count(7) == len(UNITS.phones)
    assert all(arc.word == 0 for arc in lexicon.arcs if arc.here == lexicon.root)


def test_fstcompile_finds_the_start_in_the_first_line() -> None:
    lines = _lexicon(WORDS).text().splitlines()
    assert lines[0].split()[0] == "0"
    firsts = [int(line.split()[0]) for line in lines if len(line.split()) > 2]
    assert firsts == sorted(firsts)


# --- what `build` refuses -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "cost", "told"),
    [
        ([], 1.5, "no words"),
        (["tile", "tqqx"], 1.5, "nobody told how to say: tqqx"),
        (["[unk]"], 1.5, "nobody told how to say"),
        (["<eps>"], 1.5, "nobody told how to say"),
        (["tile"], -1.0, "cannot cost"),
        (["tile"], math.nan, "cannot cost"),
        (["tile"], math.inf, "cannot cost"),
    ],
)
def test_what_cannot_be_built_leaves_nothing_behind(tmp_path: Path, words: list[str], cost: float, told: str) -> None:
    with pytest.raises(ValueError, match=told):
        graph.build(words, tmp_path / "graph", unk_cost=cost)
    assert not list(tmp_path.iterdir())


def test_missing_tools_are_told_with_the_line_that_installs_them(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    assert not graph.have_openfst()
    listed = tmp_path / "words"
    listed.write_text("tile\n")
    assert graph.main([str(listed), str(tmp_path / "graph")]) == 1
    assert "apt-get install libfst-tools 'libfst*-plugins-base'" in capsys.readouterr().err
    assert not (tmp_path / "graph").exists()


def test_a_missing_plugin_is_told_too(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(graph, "_PLUGIN_PLACES", ())
    monkeypatch.setenv("LD_LIBRARY_PATH", str(tmp_path))
    with pytest.raises(graph.OpenFstProblem, match="plugins-base"):
        graph.build(["tile"], tmp_path / "graph")


def test_a_tool_that_fails_is_told_by_its_name(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    false = tmp_path / "fstconvert"
    false.write_text("#!/bin/sh\necho no room >&2\nexit 1\n")
    false.chmod(0o755)
    path = Path(shutil.which("fstcompile") or "").parent
    monkeypatch.setenv("PATH", f"{tmp_path}:{path}:/bin")
    with pytest.raises(graph.OpenFstProblem, match="fstconvert failed: no room"):
        graph.build(["tile"], tmp_path / "graph")
    assert not (tmp_path / "graph").exists()


# --- the files ----------------------------------------------------------------------------------------------------


def _printed(path: Path) -> list[list[str]]:
    done = subprocess.run(["fstprint", path], capture_output=True, text=True, check=True, env=graph.tool_environment())
    return [line.split() for line in done.stdout.splitlines()]


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A model with the shipped network and a graph of few words."""
    folder = tmp_path_factory.mktemp("model")
    for part in ("am", "conf"):
        (folder / part).symlink_to(MODEL / part)
    size = graph.build([*WORDS, *WORDS[:3]], folder / "graph")
    assert size.words == len(WORDS) + 1
    return folder


def test_the_renumbered_graph_holds_the_words(built: Path) -> None:
    words = {number: word for word, number in read_words(built / "graph" / "words.txt").items()}
    rows = [row for row in _printed(built / "graph" / "HCLr.fst") if len(row) >= 4]
    arcs = [(int(a), int(b), int(transition), int(word)) for a, b, transition, word, *_ in rows]
    heard = {
        words[number]: ways for number, ways in _heard_in([arc for arc in arcs if words[arc[3]] != "[unk]"]).items()
    }
    assert heard == {word: _expected(word) for word in WORDS}
    assert [row[4] for row in rows if len(row) > 4].count(f"{graph.UNK_COST:g}") == 3 * len(UNITS.phones)


def test_the_cost_of_unknown_can_be_chosen(tmp_path: Path) -> None:
    graph.build(["tile"], tmp_path, unk_cost=0.75)
    costs = [row[4] for row in _printed(tmp_path / "HCLr.fst") if len(row) > 4]
    assert costs.count("0.75") == 3 * len(UNITS.phones)


def test_the_small_files_are_those_of_the_shipped_graph(built: Path) -> None:
    for name in ("phones.txt", "phones/word_boundary.int", "disambig_tid.int"):
        assert (built / "graph" / name).read_bytes() == (MODEL / "graph" / name).read_bytes()
    assert int((built / "graph" / "disambig_tid.int").read_text()) > UNITS.transitions
    words = read_words(built / "graph" / "words.txt")
    assert set(words) == {"<eps>", "[unk]", *WORDS}
    assert sorted(words.values()) == list(range(len(words)))
    assert words["<eps>"] == 0


def test_any_word_may_follow_any_other(built: Path) -> None:
    words = read_words(built / "graph" / "words.txt")
    *arcs, end = _printed(built / "graph" / "Gr.fst")
    assert {int(row[2]) for row in arcs} == set(words.values()) - {0}
    assert all(row[:2] == ["0", "0"] and row[2] == row[3] for row in arcs)
    costs = {int(row[2]): float(row[4]) for row in arcs}
    assert costs[words["[unk]"]] == pytest.approx(costs[words["tile"]] + 3)
    assert end == ["0"]


def test_the_same_words_give_the_same_files(tmp_path: Path) -> None:
    for name, words in (("one", WORDS), ("two", WORDS[::-1])):
        graph.build(words, tmp_path / name)
    for file in (path for path in (tmp_path / "one").rglob("*") if path.is_file()):
        assert file.read_bytes() == (tmp_path / "two" / file.relative_to(tmp_path / "one")).read_bytes()


def test_the_shipped_graph_is_what_its_words_give(tmp_path: Path) -> None:
    words = read_words(MODEL / "graph" / "words.txt")
    listed = tmp_path / "words"
    listed.write_text("\n".join(set(words) - {"<eps>", "[unk]"}))
    assert graph.main([str(listed), str(tmp_path / "graph")]) == 0
    again = {number: word for word, number in read_words(tmp_path / "graph" / "words.txt").items()}
    shipped = {number: word for word, number in words.items()}

    def arcs(path: Path, names: dict[int, str]) -> list[tuple[str, ...]]:
        # Another release of OpenFst may number words otherwise.
        return sorted((*row[:3], names[int(row[3])], *row[4:]) for row in _printed(path) if len(row) >= 4)

    assert arcs(tmp_path / "graph" / "HCLr.fst", again) == arcs(MODEL / "graph" / "HCLr.fst", shipped)


# --- hearing ------------------------------------------------------------------------------------------------------


def _hear(model: Path, phrases: Sequence[str] | None) -> str:
    """What vosk hears in the clip: held to phrases, or by the model's own graph."""
    import vosk

    vosk.SetLogLevel(-1)
    samples, rate = soundfile.read(CLIP, dtype="int16")
    listed = [] if phrases is None else [json.dumps(list(phrases))]
    recognizer = vosk.KaldiRecognizer(vosk.Model(str(model)), rate, *listed)
    recognizer.SetWords(True)
    parts = [json.loads(recognizer.Result())] if recognizer.AcceptWaveform(samples.tobytes()) else []
    parts.append(json.loads(recognizer.FinalResult()))
    times = [word["start"] for part in parts for word in part.get("result", [])]
    assert times == sorted(times)
    return " ".join(part["text"] for part in parts if part["text"])


def test_a_built_graph_hears_with_a_list_of_phrases(built: Path) -> None:
    assert _hear(built, SAID) == SAID[0]


def test_a_built_graph_hears_any_of_its_words(built: Path) -> None:
    assert _hear(built, None) == SAID[0]
