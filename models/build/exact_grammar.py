"""A list of phrases as the model's `Gr.fst`: exactly these phrases can be heard, none mixed of two.

A list given to vosk at run time becomes a bigram model of words, in which phrases mix. A model opened without a list
hears by its `Gr.fst`: with such a grammar in its place, measuring tells what the network is worth, and not the bigrams.

The file is written without OpenFst's tools: a "vector" graph as OpenFst's headers vector-fst.h and fst.h lay it out
(from memory, and as `fstprint` reads it).
"""

from __future__ import annotations

import math
import struct
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import NamedTuple

_MAGIC = 2125659606
_VERSION = 2
# Property bits of fst/properties.h: what is true of every graph written here. Composition at run time needs the order.
_EXPANDED, _MUTABLE, _ACCEPTOR, _SORTED_BY_INPUT = 0x1, 0x2, 0x1_0000, 0x1000_0000


class Arc(NamedTuple):
    """One arc of a graph over words: the word's id (0: none), its cost in nats, and the state it leads to."""

    word: int
    cost: float
    to: int


@dataclass
class State:
    """A state: its arcs, and what it costs to end there in nats; None where no phrase ends."""

    arcs: list[Arc] = field(default_factory=list)
    end: float | None = None


def read_words(path: Path) -> dict[str, int]:
    """The ids of a model's `graph/words.txt`: a word, a blank and its id a line.

    Errors: `ValueError` with the line that is none.
    """
    found: dict[str, int] = {}
    for line in path.read_text(encoding="utf-8").splitlines():
        word, _, number = line.rpartition(" ")
        if not word or not number.isdigit():
            raise ValueError(f"{path}: {line!r} is not a word and its id")
        found[word] = int(number)
    return found


def write_grammar(
    phrases: Iterable[str], words: Mapping[str, int], path: Path, *, repeated: bool = False
) -> tuple[str, ...]:
    """Write a grammar of phrases, each as likely as any other; returns the words that the model does not know.

    phrases: words with blanks between; one that stands there twice counts once, one with an unknown word is left out.
    words: ids, as `read_words` gives them. repeated: any number of phrases one after another, an end after each being
    as likely as a further one.
    Errors: `ValueError` when no phrase is left.
    """
    split = {tuple(phrase.split()) for phrase in phrases} - {()}
    unknown = {word for phrase in split for word in phrase if word not in words}
    sayable = sorted(phrase for phrase in split if unknown.isdisjoint(phrase))
    if not sayable:
        raise ValueError(f"no phrase is left to hear; the model does not know: {', '.join(sorted(unknown)) or 'none'}")
    write_acceptor(_tree([[words[word] for word in phrase] for phrase in sayable], repeated=repeated), path)
    return tuple(sorted(unknown))


def _tree(phrases: Sequence[Sequence[int]], *, repeated: bool) -> list[State]:
    """The prefix tree of distinct phrases of word ids, root first.

    The cost of an arc is the log of how many phrases it shuts out, so that a phrase costs log(number of phrases) in
    the sum, and as much of it as possible early, where it guides the search.
    """
    ways: list[dict[int, int]] = [{}]
    ending: set[int] = set()
    for phrase in phrases:
        state = 0
        for word in phrase:
            if word not in ways[state]:
                ways[state][word] = len(ways)
                ways.append({})
            state = ways[state][word]
        ending.add(state)
    below = [1 if state in ending else 0 for state in range(len(ways))]
    for state in reversed(range(len(ways))):  # a state is younger than the one before it
        below[state] += sum(below[to] for to in ways[state].values())
    states = [
        State([Arc(word, math.log(below[state] / below[to]), to) for word, to in ways[state].items()])
        for state in range(len(ways))
    ]
    for state in ending:
        states[state].end = math.log(below[state])
        if repeated:
            states[state].end = math.log(2 * below[state])
            states[state].arcs.append(Arc(0, math.log(2 * below[state]), 0))
    return states


def write_acceptor(states: Sequence[State], path: Path) -> None:
    """Write a graph whose every arc takes and gives the same word; the first state is the start.

    Little-endian: magic number, graph and arc type each after its length, version, flags (no symbol tables),
    properties, start, numbers of states and arcs; then each state with its end cost, the number of its arcs, and them.
    """
    parts = [struct.pack("<i", _MAGIC)]
    for name in (b"vector", b"standard"):
        parts += [struct.pack("<i", len(name)), name]
    properties = _EXPANDED | _MUTABLE | _ACCEPTOR | _SORTED_BY_INPUT
    arcs = sum(len(state.arcs) for state in states)
    parts.append(struct.pack("<iiQqqq", _VERSION, 0, properties, 0, len(states), arcs))
    for state in states:
        parts.append(struct.pack("<fq", math.inf if state.end is None else state.end, len(state.arcs)))
        parts += [struct.pack("<iifi", arc.word, arc.word, arc.cost, arc.to) for arc in sorted(state.arcs)]
    path.write_bytes(b"".join(parts))
