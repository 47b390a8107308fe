"""Every sentence that may be said now, whole, as one graph over words: what the recognizer is held to.

It is made from the offers that `voice.phrases` reads heard words back through: what a graph lets through is understood.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cached_property

from fieldassist.language.word_graph import WordGraph, graph_of


@dataclass(frozen=True, eq=False)
class Sentences:
    """What may be said, as a recognizer is told of it; two are alike whose graphs are.

    dropped: words that the model does not know; sentences with them are not in the graph.
    """

    graph: WordGraph
    dropped: tuple[str, ...] = ()

    @property
    def words(self) -> frozenset[str]:
        """Every word of a sentence."""
        return self.graph.words

    @cached_property
    def key(self) -> str:
        """The same for the same sentences."""
        return self.graph.key

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Sentences) and self.key == other.key

    def __hash__(self) -> int:
        return hash(self.key)

    @classmethod
    def of_phrases(cls, phrases: Iterable[str], knows: Callable[[str], bool]) -> Sentences:
        """A plain list; a phrase that stands there several times is expected so much the more.

        >>> said = Sentences.of_phrases(["tile set", "tile geklebt"], lambda word: word != "geklebt")
        >>> list(said.graph.sentences()), said.dropped
        ([('tile', 'set')], ('geklebt',))
        """
        split = [tuple(phrase.lower().split()) for phrase in phrases]
        unknown = {word for words in split for word in words if not knows(word)}
        return cls(graph_of(words for words in split if unknown.isdisjoint(words)), tuple(sorted(unknown)))
