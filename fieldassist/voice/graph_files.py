"""The files of graphs that the speech engine reads: what they announce, the words in them, and graphs of our own.

They are OpenFst's binary files, read and written without OpenFst: a header, then tables of words where it announces
them, then states and arcs (its headers fst.h, vector-fst.h and symbol-table.h, from memory, and as its tools read it).
"""

from __future__ import annotations

import math
import struct
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import NamedTuple

from fieldassist.language.word_graph import WordGraph

_MAGIC = 2125659606
_TABLE_MAGIC = 2125658996
_VERSION = 2
_TAKEN, _GIVEN = 0x1, 0x2  # flags: a table of the words that arcs take follows, and one of those that they give
# Property bits of fst/properties.h: what is true of every graph written here. Composition at run time needs the order.
_EXPANDED, _MUTABLE, _ACCEPTOR, _SORTED_BY_INPUT = 0x1, 0x2, 0x1_0000, 0x1000_0000
_ARC = struct.Struct("<iifi")
_STATE = struct.Struct("<fq")


class Announced(NamedTuple):
    """What a graph file's header says. flags: which tables of words follow; at: where in the file the header ends."""

    flags: int
    states: int
    arcs: int
    at: int


def announced(head: bytes) -> Iterator[Announced]:
    """What the beginning of a file announces, for the graph and each one that it wraps; nothing where it is no graph.

    Magic number, the names of the graph and arc types, each after its length, version and flags (32 bits each),
    properties, start state, number of states, number of arcs (64 bits each). A graph for look-ahead wraps another,
    whose own header follows.
    """
    magic = _MAGIC.to_bytes(4, "little")
    at = 0 if head.startswith(magic) else -1
    while at >= 0:
        try:
            (kind,) = struct.unpack_from("<i", head, at + 4)
            (arc,) = struct.unpack_from("<i", head, at + 8 + kind)
            body = at + 12 + kind + arc
            _, flags, _, _, states, arcs = struct.unpack_from("<iiQqqq", head, body)
        except struct.error:
            return
        yield Announced(flags, states, arcs, body + 40)
        at = head.find(magic, at + 4)


def whole_graph(path: Path) -> bool:
    """Whether a graph file begins as one and is at least as long as the arcs it announces."""
    arcs = max((one.arcs for one in announced(_head(path))), default=-1)
    return arcs >= 0 and path.stat().st_size >= _ARC.size * arcs


def states_in(path: Path) -> int:
    """How many states a graph file announces."""
    return max((one.states for one in announced(_head(path))), default=0)


def _head(path: Path) -> bytes:
    with path.open("rb") as file:
        return file.read(512)


def read_words(path: Path) -> dict[str, int]:
    """The ids of a model's `graph/words.txt`: a word, a blank and its id a line.

    Errors: `ValueError` with the line that is none.
    """
    found: dict[str, int] = {}
    for line in path.read_text(encoding="utf-8").splitlines():
        row = line.rsplit(maxsplit=1)
        if len(row) != 2 or not row[1].isdigit():
            raise ValueError(f"{path}: {line!r} is not a word and its id")
        found[row[0]] = int(row[1])
    return found


def words_within(path: Path) -> dict[str, int]:
    """The ids of the words that a graph file itself holds for what it gives; {} where it holds none.

    Errors: `ValueError` where the tables are damaged.
    """
    data = path.read_bytes()
    header = next(announced(data[:512]), None)
    if header is None or not header.flags & _GIVEN:
        return {}
    try:
        words, at = _table(data, header.at)
        return _table(data, at)[0] if header.flags & _TAKEN else words
    except (struct.error, UnicodeDecodeError) as error:
        raise ValueError(f"{path}: its table of words is damaged") from error


def _table(data: bytes, at: int) -> tuple[dict[str, int], int]:
    """A table of words, and where it ends: magic number, name, next free id, how many, then each word and its id."""
    magic, name = struct.unpack_from("<ii", data, at)
    if magic != _TABLE_MAGIC:
        raise struct.error
    at += 8 + name
    _, count = struct.unpack_from("<qq", data, at)
    at += 16
    found: dict[str, int] = {}
    for _ in range(count):
        (length,) = struct.unpack_from("<i", data, at)
        at += 4
        word = data[at : at + length].decode("utf-8")
        (found[word],) = struct.unpack_from("<q", data, at + length)
        at += length + 8
    return found, at


def write_graph(graph: WordGraph, words: Mapping[str, int], path: Path) -> None:
    """Write a graph as a model's `Gr.fst`: every arc takes and gives the same word.

    words: ids, as `read_words` gives them. Arcs are in the order of their ids.
    Errors: `KeyError` for a word without an id; `OSError`.
    """
    parts = [struct.pack("<i", _MAGIC)]
    for name in (b"vector", b"standard"):
        parts += [struct.pack("<i", len(name)), name]
    properties = _EXPANDED | _MUTABLE | _ACCEPTOR | _SORTED_BY_INPUT
    parts.append(struct.pack("<iiQqqq", _VERSION, 0, properties, 0, len(graph.arcs), sum(map(len, graph.arcs))))
    for arcs, end in zip(graph.arcs, graph.ends, strict=True):
        parts.append(_STATE.pack(math.inf if end is None else end, len(arcs)))
        parts += [_ARC.pack(word, word, cost, to) for word, cost, to in sorted((words[a.word], *a[1:]) for a in arcs)]
    path.write_bytes(b"".join(parts))
