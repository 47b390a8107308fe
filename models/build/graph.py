"""The model's graph: from sounds to words, and any word after any other.

    python -m models.build.graph WORDS FOLDER

WORDS: one a line, as words.py writes them. FOLDER receives what vosk reads from a model's `graph/`:

| file | what it is |
|---|---|
| HCLr.fst | from transition ids to words: a prefix tree of the pronunciations, prepared for look-ahead |
| Gr.fst | any word after any other; a list given at run time takes its place |
| words.txt | the ids of the words, as the look-ahead renumbered them |
| disambig_tid.int | an id that nothing has: this graph needs no disambiguation symbols, but vosk reads the file |
| phones.txt, phones/word_boundary.int | the phones' ids and places in words, for the times of words |

How HCL and G are split for composition at run time is as in Kaldi's "lookahead" recipe (mkgraph_lookahead.sh; Kaldi's
documentation, "Decoding graph construction"). Each phone is one state: entered by its forward transition, left when the
next begins, with a loop for its further frames (Kaldi's reordered transitions). Phones do not depend on their
neighbours. Every frame takes one transition of probability one half, the same on all paths, so that none has a cost.

Needs OpenFst's tools. The program itself does not.
"""

from __future__ import annotations

import argparse
import math
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import chain
from pathlib import Path
from typing import NamedTuple

from fieldassist.language.word_graph import Arc, WordGraph
from fieldassist.voice.graph_files import write_graph
from models.build.language import DEFAULT, add_language, language
from models.build.units import SILENCE, Units, word_phones

UNKNOWN = "[unk]"
UNK_COST = 2.75
"""Cost in nats of each phone of `[unk]`, which is any phones at all.

Chosen with unknown.py, whose figures README.md has: listed at this cost, `[unk]` loses no sentence and keeps talk out
that passes without it; at 1.5 it loses 2 of 100 sentences in quiet and 8 in a saw's noise.
"""

_UNK_WORD_COST = 3.0  # beyond a word's, where any word may follow any other
_EITHER = math.log(2)  # a pause and none are equally likely
_KINDS = {"B": "begin", "E": "end", "I": "internal", "S": "singleton"}
_TOOLS = ("fstcompile", "fstconvert")
_PLUGIN = "olabel_lookahead-fst.so"
_PLUGIN_PATH = "LD_LIBRARY_PATH"
_PLUGIN_PLACES = ("usr/lib/*/fst/*", "usr/lib/fst", "usr/lib64/fst", "usr/local/lib/fst")


class OpenFstProblem(Exception):
    """OpenFst's tools or their plugin for look-ahead are missing, or one failed; the message says what to do."""


@dataclass(frozen=True, slots=True)
class Size:
    """How large a graph came out: states and arcs of HCLr.fst, and words, `[unk]` among them."""

    states: int
    arcs: int
    words: int


class LexiconArc(NamedTuple):
    """An arc from `here`: it takes a transition id (0: none) and gives a word (0: none), for a cost in nats."""

    here: int
    to: int
    transition: int
    word: int
    cost: float


@dataclass
class Lexicon:
    """The pronunciations as a graph from transition ids to word ids. State 0 is the start.

    A word begins at `root`, with no pause before it; the states that end a word lead to a junction, where a pause may
    follow. A word is given on entering its last phone, so that homophones are arcs side by side.
    """

    units: Units
    arcs: list[LexiconArc] = field(default_factory=list)
    states: int = 0
    finals: list[int] = field(default_factory=list)
    _inside: dict[tuple[str, ...], int] = field(default_factory=dict)
    _ends: dict[str, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        start = self._state()
        self.root = self._state()
        pause = self._phone(start, SILENCE, cost=_EITHER)
        self._join(pause, self.root)
        self._join(start, self.root, _EITHER)
        self._junction = self._state()
        self._join(self._junction, self.root, _EITHER)
        self._enter(self._junction, SILENCE, pause, cost=_EITHER)
        self.finals += [self.root, pause, self._junction]

    def add(self, word: int, phones: Sequence[str]) -> None:
        """One way to say a word; its phones without their places."""
        *before, last = word_phones(list(phones))
        here = self.root
        for number, phone in enumerate(before, start=1):
            prefix = tuple(before[:number])
            if prefix not in self._inside:
                self._inside[prefix] = self._phone(here, phone)
            here = self._inside[prefix]
        self._end(here, last, word)

    def add_any_phones(self, word: int, cost: float) -> None:
        """Any string of two phones or more as a word, at a cost for each phone."""
        hub = self._state()
        for phone in self.units.phones:
            self._join(self._phone(self.root, f"{phone}_B", cost=cost), hub)
            self._join(self._phone(hub, f"{phone}_I", cost=cost), hub)
            self._end(hub, f"{phone}_E", word, cost)

    def text(self) -> str:
        """The graph as fstcompile reads it, which takes the state of the first line for the start."""
        rows = [f"{a.here} {a.to} {a.transition} {a.word} {a.cost:g}" for a in sorted(self.arcs, key=lambda a: a.here)]
        return "\n".join([*rows, *(f"{state} 0" for state in self.finals)]) + "\n"

    def _state(self) -> int:
        self.states += 1
        return self.states - 1

    def _join(self, here: int, to: int, cost: float = 0.0) -> None:
        self.arcs.append(LexiconArc(here, to, 0, 0, cost))

    def _enter(self, here: int, phone: str, to: int, word: int = 0, cost: float = 0.0) -> None:
        _, forward = self.units.transition_ids(self.units.kaldi_phones[phone])
        self.arcs.append(LexiconArc(here, to, forward, word, cost))

    def _phone(self, here: int, phone: str, word: int = 0, cost: float = 0.0) -> int:
        """A new state for a phone, with its loop, entered from `here`."""
        state = self._state()
        loop, _ = self.units.transition_ids(self.units.kaldi_phones[phone])
        self.arcs.append(LexiconArc(state, state, loop, 0, 0.0))
        self._enter(here, phone, state, word, cost)
        return state

    def _end(self, here: int, phone: str, word: int, cost: float = 0.0) -> None:
        """A word's last phone: one state for all words that end in it."""
        if phone in self._ends:
            self._enter(here, phone, self._ends[phone], word, cost)
        else:
            self._ends[phone] = self._phone(here, phone, word, cost)
            self._join(self._ends[phone], self._junction)


def build(words: Iterable[str], folder: Path, tag: str = DEFAULT, *, unk_cost: float = UNK_COST) -> Size:
    """Make a model's `graph/` for these words.

    words: in lower case, in any order. folder: made if need be; files in it are written over. tag: of the language.
    unk_cost: see `UNK_COST`.
    Errors: `ValueError` for words without a pronunciation, for none at all, or a cost that is no number of nats;
    `OpenFstProblem`. Nothing is written then.
    """
    spoken, known = language(tag), sorted(set(words))
    units = spoken.units
    if not known:
        raise ValueError("there are no words to make a graph of")
    if missing := spoken.without_pronunciation(known):
        raise ValueError(f"nobody told how to say: {', '.join(missing)}")
    if not (math.isfinite(unk_cost) and unk_cost >= 0):
        raise ValueError(f"a phone of {UNKNOWN} cannot cost {unk_cost}: give a number of nats, 0 or more")
    ids = {word: number for number, word in enumerate(("<eps>", *known, UNKNOWN))}
    lexicon = Lexicon(units)
    for word in known:
        for phones in spoken.pronunciations(word):
            lexicon.add(ids[word], phones)
    lexicon.add_any_phones(ids[UNKNOWN], unk_cost)

    with tempfile.TemporaryDirectory() as made:
        work = Path(made)
        renumbered = _compile(lexicon, work)
        ids = {word: renumbered.get(number, number) for word, number in ids.items()}
        if len(set(ids.values())) != len(ids):
            raise ValueError("OpenFst gave two words the same id")
        (folder / "phones").mkdir(parents=True, exist_ok=True)
        shutil.copyfile(work / "HCLr.fst", folder / "HCLr.fst")
    _write_any_word(ids, folder / "Gr.fst")
    _write_rows(folder / "words.txt", ((word, number) for number, word in sorted((n, w) for w, n in ids.items())))
    _write_rows(folder / "disambig_tid.int", [(units.transitions + 1,)])
    _write_rows(folder / "phones.txt", [("<eps>", 0), *units.kaldi_phones.items(), ("#0", len(units.kaldi_phones) + 1)])
    places = ((number, _KINDS.get(name.partition("_")[2], "nonword")) for name, number in units.kaldi_phones.items())
    _write_rows(folder / "phones" / "word_boundary.int", places)
    return Size(lexicon.states, len(lexicon.arcs), len(ids) - 1)


def _write_any_word(ids: dict[str, int], path: Path) -> None:
    """Any word after any other, each as likely; `[unk]` less."""
    each = math.log(len(ids))
    arcs = (
        Arc(word, each + (_UNK_WORD_COST if word == UNKNOWN else 0.0), 0)
        for word, number in sorted(ids.items())
        if number
    )
    write_graph(WordGraph((tuple(arcs),), (0.0,)), ids, path)


def _write_rows(path: Path, rows: Iterable[tuple[object, ...]]) -> None:
    path.write_text("".join(" ".join(map(str, row)) + "\n" for row in rows), encoding="utf-8")


# --- OpenFst ------------------------------------------------------------------------------------------------------


def have_openfst() -> bool:
    """Whether the tools that `build` needs are at hand."""
    return all(map(shutil.which, _TOOLS)) and _plugin_folder() is not None


def tool_environment() -> dict[str, str]:
    """The environment in which OpenFst's tools find their plugins: Debian puts these where no loader looks.

    Errors: `OpenFstProblem` when they are missing.
    """
    plugins = _plugin_folder()
    if plugins is None or not all(map(shutil.which, _TOOLS)):
        raise OpenFstProblem(
            "OpenFst's tools are missing. Install them: apt-get install libfst-tools 'libfst*-plugins-base'"
        )
    places = [str(plugins), *filter(None, [os.environ.get(_PLUGIN_PATH)])]
    return os.environ | {_PLUGIN_PATH: os.pathsep.join(places)}


def _plugin_folder() -> Path | None:
    own = (Path(place) for place in os.environ.get(_PLUGIN_PATH, "").split(os.pathsep) if place)
    usual = (folder for pattern in _PLUGIN_PLACES for folder in Path("/").glob(pattern))
    return next((folder for folder in chain(own, usual) if (folder / _PLUGIN).is_file()), None)


def _compile(lexicon: Lexicon, work: Path) -> dict[int, int]:
    """Write HCLr.fst into `work`; returns the words' new ids by their old ones.

    Look-ahead asks whether a word can still be reached from a state: OpenFst renumbers the words so that those behind a
    state lie in few intervals, and the grammar has to use the same numbers.
    """
    environment = tool_environment()
    (work / "hcl.txt").write_text(lexicon.text(), encoding="utf-8")
    pairs = work / "relabel.txt"
    look_ahead = ["--fst_type=olabel_lookahead", f"--save_relabel_opairs={pairs}"]
    for command in (
        ["fstcompile", str(work / "hcl.txt"), str(work / "hcl.fst")],
        ["fstconvert", *look_ahead, str(work / "hcl.fst"), str(work / "HCLr.fst")],
    ):
        done = subprocess.run(command, env=environment, capture_output=True, text=True, check=False)
        if done.returncode or not Path(command[-1]).is_file():
            raise OpenFstProblem(f"{command[0]} failed: {done.stderr.strip() or done.returncode}")
    rows = (line.split() for line in pairs.read_text(encoding="utf-8").splitlines())
    return {int(old): int(new) for old, new in rows}


def main(arguments: list[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m models.build.graph", description="Make a model's graph.")
    parser.add_argument("words", type=Path, help="the vocabulary, one word a line")
    parser.add_argument("folder", type=Path, help="the model's graph folder")
    add_language(parser)
    parser.add_argument("--unk-cost", type=float, default=UNK_COST, help="nats for each phone of [unk] (%(default)s)")
    options = parser.parse_args(arguments)
    try:
        words = options.words.read_text(encoding="utf-8").split()
        size = build(words, options.folder, options.language, unk_cost=options.unk_cost)
    except (OSError, ValueError, OpenFstProblem) as problem:
        print(problem, file=sys.stderr)
        return 1
    print(f"{size.words} words, {size.states} states, {size.arcs} arcs")
    return 0


if __name__ == "__main__":
    sys.exit(main())
