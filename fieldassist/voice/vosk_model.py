"""A speech model of vosk: checked before the engine may touch it, and opened with a graph of what may be said.

A list of phrases given to vosk at run time becomes a bigram model of words, in which phrases mix. A model opened with
a graph of its own as `Gr.fst` hears exactly the graph's sentences. vosk reads that file only when it opens a model, so
the model is opened once for each graph: from a folder of links to its files, in which the graph lies in place of the
model's own. With the default model an opening takes 0.08 s of processor time and 27 MB; few are kept. vosk has no other
way to a graph: its recognizers take lists of phrases alone, and several models share nothing.
"""

from __future__ import annotations

import contextlib
import functools
import json
import os
import re
import shutil
import tempfile
import threading
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from fieldassist.language.word_graph import Arc, WordGraph, graph_of
from fieldassist.printable import printable
from fieldassist.trade.message import Message, Refused, message
from fieldassist.voice.audio import RATE_HZ
from fieldassist.voice.graph_files import read_words, states_in, whole_graph, words_within, write_graph
from fieldassist.voice.model_files import file_unlike_listed
from fieldassist.voice.model_trial import can_hear

MOST_ALTERNATIVES = 10
# Where each part may lie: the present layout, then the one before it with all files in one folder.
_NETWORK = ("am/final.mdl", "final.mdl")
_FEATURES = ("conf/mfcc.conf", "mfcc.conf")
_DECODING = "conf/model.conf"  # only of the present layout
_FIXED_GRAPH = ("graph/HCLG.fst", "HCLG.fst")
_LEXICON_GRAPH = ("graph/HCLr.fst", "HCLr.fst")
_LANGUAGE_GRAPH = ("graph/Gr.fst", "Gr.fst")
_DISAMBIGUATION = ("graph/disambig_tid.int", "disambig_tid.int")
_WORDS = ("graph/words.txt", "words.txt")
_NOT_WORDS = frozenset({"<eps>", "#0", "<s>", "</s>", "[unk]", "<unk>", "<UNK>", "!SIL"})

# Beyond what the model's own file says. The engine hears a pause after 0.15 s in which its network hears no speech;
# what that means for the utterance is decided in `ending`. Without a word it gives up after five seconds.
_PAUSES = """
--endpoint.rule1.min-trailing-silence=5.0
--endpoint.rule2.min-trailing-silence=0.15
--endpoint.rule2.max-relative-cost=1000000
"""
# How much worse [nats] an alternative may be that is kept. Of what may be said it is asked which other values were
# heard almost as well; of other talk only how well the best explains the sound, and in noise more of it costs the
# processor as much as all the rest (0.09 of real time with 8, 0.05 with 2).
_SENTENCES_BEAM, _TALK_BEAM = 8.0, 2.0
_NEVER = 100.0  # nats


class ModelProblem(Refused):
    """A speech model cannot be used; `told` says why and what to do."""


@dataclass
class Engine:
    """A recognizer of vosk's. samples: how many it has heard; its clock runs on from one utterance to the next."""

    recognizer: Any
    samples: int = 0


class Opened:
    """The model with one graph; engines for it are borrowed and given back. Made by `VoskModel` alone."""

    def __init__(self, model: Any) -> None:
        self._model = model
        self._idle: dict[tuple[str, ...], list[Engine]] = {}
        self._lock = threading.Lock()

    def borrow(self, listed: tuple[str, ...] = ()) -> Engine:
        """An engine that nobody else has until it is given back: of the graph, or held to a list of phrases."""
        with self._lock:
            idle = self._idle.get(listed)
            if idle:
                return idle.pop()
        import vosk

        recognizer = vosk.KaldiRecognizer(self._model, RATE_HZ, *([json.dumps(listed)] if listed else []))
        recognizer.SetMaxAlternatives(MOST_ALTERNATIVES)
        recognizer.SetWords(True)
        return Engine(recognizer)

    def give_back(self, engine: Engine, listed: tuple[str, ...] = ()) -> None:
        """To be borrowed again. Only one that came to its final result, or heard nothing, begins afresh then."""
        with self._lock:
            self._idle.setdefault(listed, []).append(engine)


class VoskModel:
    """A vosk model in a folder.

    Errors: `ModelProblem` when the folder is missing, is no vosk model, lacks a file, has a broken one, or vosk is not
    installed.

    takes_graphs: whether it can be held to what may be said; a model whose graph is one big file cannot. has_language:
    whether its own graph has an idea of which words follow each other; one of a single state says of every word only
    that it may follow any other. words: all that it can hear; empty where it does not list them.
    """

    def __init__(self, folder: Path) -> None:
        self.name = Path(folder).resolve().name
        self._folder = Path(folder)
        self.takes_graphs = _check_files(self._folder)
        _load_engine(self._folder)
        self._ids = _read_ids(self._folder)
        self.words = frozenset(self._ids) - _NOT_WORDS
        language = _find(self._folder, _LANGUAGE_GRAPH) if self.takes_graphs else None
        self.has_language = language is None or states_in(language) > 1
        self._links = _Links(self._folder, self._ids)
        self._lock = threading.Lock()

    def knows(self, word: str) -> bool:
        """Whether the model lists this word."""
        return word in self.words

    def open(self, graph: WordGraph | None = None) -> Opened:
        """The model with this graph, or its own for None. Any thread may call it.

        Errors: `ModelProblem` where the graph cannot be written, or the model's files are no longer there.
        """
        import vosk

        with self._lock:
            try:
                folder = self._links.holding(graph)
            except OSError as error:
                why = error.strerror or str(error)
                raise ModelProblem(message("voice-graph-unwritten", name=self.name, why=why)) from error
            try:
                return Opened(vosk.Model(str(folder)))
            except Exception as error:
                raise _broken(self.name) from error


class _Links:
    """A folder with the files of a model, but for the graph of what may be said. It goes when nobody has it any more.

    A file is linked so that it stays though the model is taken away; where that cannot be, by its name or as a copy.
    """

    def __init__(self, folder: Path, ids: Mapping[str, int]) -> None:
        self._ids = ids
        self._own = _find(folder, _LANGUAGE_GRAPH)
        self._made = tempfile.TemporaryDirectory(prefix="fieldassist-")
        self._folder = Path(self._made.name) / folder.resolve().name
        for file in folder.rglob("*"):
            if file.is_file() and file not in (self._own, folder / _DECODING):
                _link(file.resolve(), self._folder / file.relative_to(folder))
        self._graph = self._folder / (self._own.relative_to(folder) if self._own else _LANGUAGE_GRAPH[0])
        decoding = folder / _DECODING
        self._decoding = decoding.read_text(encoding="utf-8") if decoding.is_file() else None
        if self._own is not None and _find(folder, _WORDS) is None:
            # The engine then takes the words from the model's own graph, which ours takes the place of.
            rows = (f"{word} {number}\n" for word, number in sorted(ids.items(), key=lambda one: one[1]))
            (self._graph.parent / "words.txt").write_text("".join(rows), encoding="utf-8")

    def holding(self, graph: WordGraph | None) -> Path:
        """The folder with this graph in it; with the model's own for None."""
        if self._decoding is not None:
            beam = (
                f"--lattice-beam={_TALK_BEAM if graph is None else _SENTENCES_BEAM}\n" if self._own is not None else ""
            )
            place = self._folder / _DECODING
            place.parent.mkdir(parents=True, exist_ok=True)
            place.write_text(self._decoding.rstrip("\n") + _PAUSES + beam, encoding="utf-8")
        self._graph.unlink(missing_ok=True)
        if graph is not None:
            write_graph(_unhurried(graph, self._ids), self._ids, self._graph)
        elif self._own is not None:
            _link(self._own.resolve(), self._graph)
        return self._folder


def _unhurried(graph: WordGraph, words: Iterable[str]) -> WordGraph:
    """The graph with a way to nowhere beside each single way on.

    Where only one word can follow, the engine's look-ahead gives that word before anybody has said it, and who pauses
    there would be taken for done. The way to nowhere is never taken: its cost is far beyond the search's beam.
    """
    nowhere = len(graph.arcs)
    rows = [
        (*arcs, Arc(next(word for word in words if word != arcs[0].word and word not in _NOT_WORDS), _NEVER, nowhere))
        if len(arcs) == 1
        else arcs
        for arcs in graph.arcs
    ]
    return WordGraph((*rows, ()), (*graph.ends, None))


def _link(file: Path, place: Path) -> None:
    place.parent.mkdir(parents=True, exist_ok=True)
    for make in (os.link, os.symlink):
        with contextlib.suppress(OSError):
            make(file, place)
            return
    shutil.copyfile(file, place)


# --- before the engine may touch it -------------------------------------------------------------------------------


def _load_engine(folder: Path) -> None:
    """See that the files are those that were shipped, that vosk is at hand, and that the model does not end it."""
    name = folder.name
    try:
        unlike = file_unlike_listed(folder)
    except OSError as error:
        raise ModelProblem(message("voice-model-unread", name=name, why=error.strerror or str(error))) from error
    if unlike is not None:
        raise _broken(name, unlike)
    try:
        import vosk
    except ImportError as error:
        raise ModelProblem(message("voice-no-engine", why=str(error))) from error
    except OSError as error:
        raise ModelProblem(_why_not_loaded(str(error))) from error
    _try_out(str(folder.resolve()), _fingerprint(folder))
    vosk.SetLogLevel(-1)


def _check_files(folder: Path) -> bool:
    """Whether the model can be held to what may be said; `ModelProblem` when a part is missing or plainly broken."""
    name = folder.name
    if not folder.is_dir():
        raise ModelProblem(message("voice-no-model", name=name))
    for needed in (_NETWORK, _FEATURES):
        if _find(folder, needed) is None:
            raise ModelProblem(message("voice-other-model", name=name, file=needed[0]))
    fixed = _find(folder, _FIXED_GRAPH)
    graphs = [fixed] if fixed else []
    if fixed is None:
        for needed in (_LEXICON_GRAPH, _LANGUAGE_GRAPH, _DISAMBIGUATION):
            found = _find(folder, needed)
            if found is None:
                raise ModelProblem(message("voice-model-incomplete", name=name, file=needed[0]))
            if found.suffix == ".fst":
                graphs.append(found)
    for graph in graphs:
        if not whole_graph(graph):
            raise _broken(name, graph.name)
    decoding = folder / _DECODING
    if decoding.is_file() and not decoding.stat().st_size:
        raise _broken(name, decoding.name)  # what a full disk leaves
    return fixed is None


def _find(folder: Path, places: Sequence[str]) -> Path | None:
    return next((folder / place for place in places if (folder / place).is_file()), None)


def _read_ids(folder: Path) -> dict[str, int]:
    """The words of a model by their ids: from its list, or from its graph where that holds them."""
    listed = _find(folder, _WORDS)
    graph = _find(folder, _FIXED_GRAPH) or _find(folder, _LANGUAGE_GRAPH)
    try:
        return read_words(listed) if listed is not None else words_within(graph) if graph is not None else {}
    except ValueError as error:
        raise _broken(folder.name, (listed or graph or folder).name) from error


def _fingerprint(folder: Path) -> tuple[tuple[str, int, int], ...]:
    files = sorted(path for path in folder.rglob("*") if path.is_file())
    return tuple((str(f.relative_to(folder)), f.stat().st_size, f.stat().st_mtime_ns) for f in files)


@functools.lru_cache(maxsize=8)
def _try_out(name: str, _files: tuple[tuple[str, int, int], ...]) -> None:
    """Load the model and hear with it in a process of its own, once for each state of its files: with its own graph,
    and with one of ours where it takes one."""
    folder = Path(name)
    ids = _read_ids(folder)
    words = [word for word in (*sorted(ids.keys() - _NOT_WORDS)[:3], "yes", "one") if word in ids]
    try:
        links = [_Links(folder, ids)]
        tried = [links[0].holding(None)]
        if words and _find(folder, _FIXED_GRAPH) is None:
            links.append(_Links(folder, ids))
            tried.append(links[1].holding(graph_of((word,) for word in words)))
        heard = can_hear(tried, words)
    except OSError as error:
        why = error.strerror or str(error)
        raise ModelProblem(message("voice-model-untried", name=folder.name, why=why)) from error
    if not heard:
        raise _broken(folder.name)


# The system's packages of the libraries that the engine's own may ask for (Debian, Ubuntu).
_PACKAGES = {"libatomic.so.1": "libatomic1", "libstdc++.so.6": "libstdc++6", "libgcc_s.so.1": "libgcc-s1"}


def _why_not_loaded(said: str) -> Message:
    """Why the engine's library cannot be loaded, from what the system said of it."""
    lacks = re.search(r"(\S+\.so[.\d]*): cannot open shared object file", said)
    if lacks is None:
        return message("voice-engine-unloaded", why=printable(said)[:200])
    package = _PACKAGES.get(lacks[1])
    if package is None:
        return message("voice-engine-lacks", library=lacks[1])
    return message("voice-engine-lacks-package", library=lacks[1], package=package)


def _broken(name: str, file: str = "") -> ModelProblem:
    if not file:
        return ModelProblem(message("voice-model-broken", name=name))
    return ModelProblem(message("voice-model-file-broken", name=name, file=file))
