"""Graph files of our own as OpenFst's tools read them, and OpenFst's as we read them."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

from fieldassist.language.word_graph import Arc, WordGraph, graph_of
from fieldassist.places import shipped
from fieldassist.voice.graph_files import announced, read_words, states_in, whole_graph, words_within, write_graph
from fieldassist.voice.models import choose_model

MODEL = choose_model(shipped("models"), environ={})
IDS = {"<eps>": 0, "tile": 4, "set": 2, "next": 3}
GRAPH = graph_of([("tile", "set"), ("tile",), ("next", "tile"), ("next", "tile"), ("next", "tile")])
needs_openfst = pytest.mark.skipif(shutil.which("fstprint") is None, reason="libfst-tools is not installed")


def printed(path: Path) -> list[list[float]]:
    """A graph's lines as `fstprint` gives them: begin, end, taken, given, cost; state, cost. 0 costs are left out."""
    done = subprocess.run(["fstprint", str(path)], capture_output=True, text=True, check=True)
    return [[float(value) for value in line.split()] for line in done.stdout.splitlines()]


def by_state_and_id(arc: list[float]) -> tuple[float, float]:
    return arc[0], arc[2]


@needs_openfst
def test_openfst_reads_the_same_sentences_at_the_same_costs(tmp_path: Path) -> None:
    path = tmp_path / "Gr.fst"
    write_graph(GRAPH, IDS, path)
    arcs = [[state, a.to, IDS[a.word], IDS[a.word], a.cost] for state, arcs in enumerate(GRAPH.arcs) for a in arcs]
    ends = [[state, end] for state, end in enumerate(GRAPH.ends) if end is not None]
    rows = [[*row, 0.0] if len(row) in (1, 4) else row for row in printed(path)]
    assert [row for row in rows if len(row) == 5] == [pytest.approx(arc) for arc in sorted(arcs, key=by_state_and_id)]
    assert [row for row in rows if len(row) == 2] == [pytest.approx(end) for end in ends]
    known = subprocess.run(["fstinfo", str(path)], capture_output=True, text=True, check=True).stdout
    assert {" ".join(line.split()) for line in known.splitlines()} >= {
        "acceptor y",
        "input label sorted y",
        "initial state 0",
        f"# of states {len(GRAPH.arcs)}",
    }


def test_arcs_are_written_in_the_order_of_their_ids(tmp_path: Path) -> None:
    one, two = tmp_path / "one", tmp_path / "two"
    arcs = (Arc("next", 0.7, 1), Arc("tile", 0.7, 1))
    write_graph(WordGraph((arcs, ()), (None, 0.0)), IDS, one)
    write_graph(WordGraph((arcs[::-1], ()), (None, 0.0)), IDS, two)
    assert one.read_bytes() == two.read_bytes()


def test_a_word_without_an_id_is_refused(tmp_path: Path) -> None:
    with pytest.raises(KeyError, match="vibrated"):
        write_graph(graph_of([("tile", "vibrated")]), IDS, tmp_path / "Gr.fst")
    assert not list(tmp_path.iterdir())


def test_what_a_written_graph_announces_is_what_it_holds(tmp_path: Path) -> None:
    path = tmp_path / "Gr.fst"
    write_graph(GRAPH, IDS, path)
    (one,) = announced(path.read_bytes())
    assert (one.states, one.arcs) == (len(GRAPH.arcs), sum(map(len, GRAPH.arcs)))
    assert whole_graph(path)
    assert states_in(path) == len(GRAPH.arcs)
    path.write_bytes(path.read_bytes()[:60])
    assert not whole_graph(path)


def test_the_shipped_graphs_are_whole_and_the_one_for_look_ahead_wraps_another() -> None:
    assert whole_graph(MODEL / "graph" / "HCLr.fst")
    assert states_in(MODEL / "graph" / "Gr.fst") == 1
    assert len(list(announced((MODEL / "graph" / "HCLr.fst").read_bytes()[:512]))) > 1


@needs_openfst
@pytest.mark.parametrize("tables", [["--keep_osymbols"], ["--keep_isymbols", "--keep_osymbols"]])
def test_words_that_a_graph_itself_holds_are_found(tmp_path: Path, tables: list[str]) -> None:
    words, text, path = tmp_path / "words.txt", tmp_path / "text", tmp_path / "Gr.fst"
    words.write_text("".join(f"{word} {number}\n" for word, number in IDS.items()))
    text.write_text("0 1 tile tile 0.5\n1 2 set set\n2\n")
    symbols = [f"--isymbols={words}", f"--osymbols={words}"]
    subprocess.run(["fstcompile", *symbols, *tables, str(text), str(path)], check=True)
    assert words_within(path) == read_words(words) == IDS
    path.write_bytes(path.read_bytes()[:120])
    with pytest.raises(ValueError, match=r"Gr\.fst"):
        words_within(path)


def test_a_graph_that_holds_no_words_gives_none() -> None:
    assert words_within(MODEL / "graph" / "Gr.fst") == {}


@pytest.mark.parametrize("line", ["tile", "tile one", "", "1"])
def test_a_wrong_word_list_is_told(tmp_path: Path, line: str) -> None:
    path = tmp_path / "words.txt"
    path.write_text(f"<eps> 0\n{line}\nset 2\n")
    with pytest.raises(ValueError, match=r"words\.txt"):
        read_words(path)
