"""Every sentence that may be said, as a graph over words: what a recognizer is held to.

A graph is made from a sketch: states, words between them, ways that take no word, and how likely each is beside the
others of its state. Making it removes the ways without a word, puts sentences that begin alike together (the subset
construction, as in any textbook of automata) and states with the same future too. So a graph is deterministic, and
the costs of what may follow a state are those of a probability distribution: it guides a search as early as can be.
"""

from __future__ import annotations

import gc
import hashlib
import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from functools import cached_property
from random import Random
from typing import NamedTuple


class Arc(NamedTuple):
    """A word, its cost [nats], and the state to which it leads."""

    word: str
    cost: float
    to: int


@dataclass(frozen=True, eq=False)
class WordGraph:
    """Sentences, all of them and no others; the first state is the start.

    arcs: of each state, sorted by word, no word twice; ends: the cost of ending there [nats], None where no sentence
    does. Every state can be reached, and from every state a sentence can be ended; a graph of no sentence has one state
    without arcs and end.
    """

    arcs: tuple[tuple[Arc, ...], ...]
    ends: tuple[float | None, ...]

    @cached_property
    def words(self) -> frozenset[str]:
        """Every word that stands in a sentence."""
        return frozenset(arc.word for arcs in self.arcs for arc in arcs)

    @cached_property
    def key(self) -> str:
        """The same for graphs of the same sentences at the same costs."""
        return hashlib.blake2b(repr((self.arcs, self.ends)).encode(), digest_size=16).hexdigest()

    @cached_property
    def _ways(self) -> tuple[dict[str, Arc], ...]:
        return tuple({arc.word: arc for arc in arcs} for arcs in self.arcs)

    def accepts(self, words: Sequence[str]) -> bool:
        """Whether the words are a sentence."""
        state = self._after(words)
        return state is not None and self.ends[state] is not None

    def goes_on(self, words: Sequence[str], apart: frozenset[str] = frozenset()) -> bool | None:
        """Whether more may follow the words than those apart; None where no sentence begins so."""
        state = self._after(words)
        return None if state is None else any(arc.word not in apart for arc in self.arcs[state])

    def cost(self, words: Sequence[str]) -> float | None:
        """What the sentence costs [nats], the negative log of its probability; None where it is none."""
        state, total = 0, 0.0
        for word in words:
            arc = self._ways[state].get(word)
            if arc is None:
                return None
            state, total = arc.to, total + arc.cost
        end = self.ends[state]
        return None if end is None else total + end

    def drawn(self, random: Random) -> tuple[str, ...]:
        """A sentence, drawn as likely as its cost says; () of a graph without any."""
        state, words = 0, list[str]()
        while True:
            arcs, end = self.arcs[state], self.ends[state]
            weights = [math.exp(-arc.cost) for arc in arcs]
            if not arcs or random.random() * (sum(weights) + (0.0 if end is None else math.exp(-end))) > sum(weights):
                return tuple(words)
            arc = random.choices(arcs, weights)[0]
            words.append(arc.word)
            state = arc.to

    def sentences(self) -> Iterator[tuple[str, ...]]:
        """Every sentence, in the order of their words; without end where the graph runs in a circle."""
        stack: list[tuple[int, tuple[str, ...]]] = [(0, ())]
        while stack:
            state, words = stack.pop()
            if self.ends[state] is not None:
                yield words
            stack += ((arc.to, (*words, arc.word)) for arc in reversed(self.arcs[state]))

    def _after(self, words: Sequence[str]) -> int | None:
        state = 0
        for word in words:
            arc = self._ways[state].get(word)
            if arc is None:
                return None
            state = arc.to
        return state


@dataclass
class Sketch:
    """A graph under way; state 0 is its start.

    known: the word that is heard where this one is meant, None where there is none: the way is left out then.
    """

    known: Callable[[str], str | None] = str
    _heard: dict[str, str | None] = field(default_factory=dict)
    _words: list[list[tuple[str, float, int]]] = field(default_factory=lambda: [[]])
    _free: list[list[tuple[float, int]]] = field(default_factory=lambda: [[]])
    _ends: list[float] = field(default_factory=lambda: [0.0])

    def state(self) -> int:
        """A new state."""
        self._words.append([])
        self._free.append([])
        self._ends.append(0.0)
        return len(self._ends) - 1

    def word(self, begin: int, word: str, to: int, weight: float = 1.0) -> None:
        """A word between two states, so likely beside what else leads out of the first."""
        heard = self._heard_as(word)
        if heard is not None:
            self._words[begin].append((heard, weight, to))

    def _heard_as(self, word: str) -> str | None:
        if word not in self._heard:
            self._heard[word] = self.known(word)
        return self._heard[word]

    def free(self, begin: int, to: int, weight: float = 1.0) -> None:
        """A way without a word; such ways must not run in a circle."""
        self._free[begin].append((weight, to))

    def end(self, state: int, weight: float = 1.0) -> None:
        """A sentence may end there."""
        self._ends[state] += weight

    def row(self, begin: int, words: Sequence[str], to: int, weight: float = 1.0) -> bool:
        """Words one after the other between two states; whether all of them can be heard. None: as `free`."""
        if not words:
            self.free(begin, to, weight)
            return True
        if any(self._heard_as(word) is None for word in words):
            return False
        at = begin
        for word in words[:-1]:
            following = self.state()
            self.word(at, word, following, weight)
            at, weight = following, 1.0
        self.word(at, words[-1], to, weight)
        return True

    def ways(self, begin: int, ways: Sequence[Sequence[str]], to: int) -> int:
        """Several rows of words between two states, each as likely as the others; how many of them can be heard."""
        return sum(self.row(begin, words, to) for words in dict.fromkeys(map(tuple, ways)))

    def graph_between(self, graph: WordGraph, begin: int, to: int, weight: float = 1.0) -> None:
        """A graph's sentences between two states, in so far as they can be heard."""
        first = len(self._ends)
        for _ in graph.arcs:
            self.state()
        self.free(begin, first, weight)
        for state, (arcs, end) in enumerate(zip(graph.arcs, graph.ends, strict=True), first):
            for arc in arcs:
                self.word(state, arc.word, first + arc.to, math.exp(-arc.cost))
            if end is not None:
                self.free(state, to, math.exp(-end))

    def graph(self) -> WordGraph:
        """The sketch as a graph. Errors: `ValueError` where ways without a word run in a circle."""
        with uncollected():
            return _merged(*_deterministic(_Likely.of(self._words, self._free, self._ends)))


@contextmanager
def uncollected() -> Iterator[None]:
    """Without looks for garbage, of which drawing and making a graph leaves none: among so many small things they can
    take as long as all the rest."""
    collecting = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if collecting:
            gc.enable()


@dataclass
class _Likely:
    """A sketch whose weights are probabilities, ways without a word left out.

    words: of each state, (word, probability, state); ends: probability of ending; closures: the states at which one is
    that has come to a state, and how likely at each.
    """

    words: list[list[tuple[str, float, int]]]
    ends: list[float]
    closures: list[dict[int, float]]

    @classmethod
    def of(
        cls,
        words: list[list[tuple[str, float, int]]],
        free: list[list[tuple[float, int]]],
        ends: list[float],
    ) -> _Likely:
        useful = _useful(words, free, ends)
        closures: list[dict[int, float] | None] = [None] * len(ends)
        own: list[list[tuple[str, float, int]]] = [[]] * len(ends)
        ending = [0.0] * len(ends)
        for state in _free_last(free):
            if not useful[state]:
                closures[state] = {}
                continue
            out = [arc for arc in words[state] if useful[arc[2]]]
            ways = [way for way in free[state] if useful[way[1]]]
            here = sum(arc[1] for arc in out) + ends[state]
            total = here + sum(way[0] for way in ways)
            closure: dict[int, float] = {}
            if here > 0.0:
                closure[state] = here / total
                own[state] = [(word, weight / here, to) for word, weight, to in out]
                ending[state] = ends[state] / here
            for weight, to in ways:
                for place, share in (closures[to] or {}).items():
                    closure[place] = closure.get(place, 0.0) + share * weight / total
            closures[state] = closure
        return cls(own, ending, [closure or {} for closure in closures])


def _useful(
    words: list[list[tuple[str, float, int]]], free: list[list[tuple[float, int]]], ends: list[float]
) -> list[bool]:
    """Of each state, whether a sentence can be ended from it."""
    back: list[list[int]] = [[] for _ in ends]
    for state, (arcs, ways) in enumerate(zip(words, free, strict=True)):
        for _, weight, to in arcs:
            if weight > 0.0:
                back[to].append(state)
        for weight, to in ways:
            if weight > 0.0:
                back[to].append(state)
    useful = [end > 0.0 for end in ends]
    waiting = [state for state, end in enumerate(useful) if end]
    while waiting:
        for state in back[waiting.pop()]:
            if not useful[state]:
                useful[state] = True
                waiting.append(state)
    return useful


def _free_last(free: list[list[tuple[float, int]]]) -> list[int]:
    """All states, each behind those to which ways without a word lead from it."""
    order: list[int] = []
    seen = bytearray(len(free))  # 1: under way, 2: done
    for root in range(len(free)):
        stack = [] if seen[root] else [(root, iter(free[root]))]
        if stack:
            seen[root] = 1
        while stack:
            state, ways = stack[-1]
            for _, to in ways:
                if seen[to] == 1:
                    raise ValueError("ways without a word run in a circle")
                if not seen[to]:
                    seen[to] = 1
                    stack.append((to, iter(free[to])))
                    break
            else:
                seen[state] = 2
                order.append(state)
                stack.pop()
    return order


_Row = list[tuple[str, float, int]]


def _deterministic(likely: _Likely) -> tuple[list[_Row], list[float | None]]:
    """The subset construction. How likely each state of a subset is, is as it was when the subset was met first."""
    numbers: dict[object, int] = {}
    beliefs: list[dict[int, float]] = []

    def number(belief: dict[int, float]) -> int:
        key: object = next(iter(belief)) if len(belief) == 1 else frozenset(belief)
        found = numbers.get(key)
        if found is None:
            found = numbers[key] = len(beliefs)
            beliefs.append(belief)
        return found

    rows: list[_Row] = []
    ends: list[float | None] = []
    number(likely.closures[0])
    words, own_ends, closures = likely.words, likely.ends, likely.closures
    for belief in beliefs:  # grows while it is gone through
        if len(belief) == 1:
            (state,) = belief
            if len({word for word, _, _ in words[state]}) == len(words[state]):
                # As most states within a graph that was drawn whole: nothing is to be put together.
                rows.append(
                    sorted([(word, -math.log(chance), number(closures[to])) for word, chance, to in words[state]])
                )
                ends.append(-math.log(own_ends[state]) if own_ends[state] > 0.0 else None)
                continue
        end = 0.0
        total: dict[str, float] = {}
        places: dict[str, dict[int, float]] = {}
        whole = sum(belief.values())
        for state, share in belief.items():
            share /= whole
            end += share * own_ends[state]
            for word, chance, to in words[state]:
                chance *= share
                total[word] = total.get(word, 0.0) + chance
                place = places.setdefault(word, {})
                for one, part in closures[to].items():
                    place[one] = place.get(one, 0.0) + part * chance
        rows.append([(word, -math.log(chance), number(places[word])) for word, chance in sorted(total.items())])
        ends.append(-math.log(end) if end > 0.0 else None)
    return rows, ends


def _merged(rows: list[_Row], ends: list[float | None]) -> WordGraph:
    """States with the same future made one, those in a circle left as they are; numbered as they are met."""
    same = list(range(len(rows)))
    known: dict[object, int] = {}
    for state in _far_first(rows):
        end = ends[state]
        key = (
            None if end is None else round(end, 2),
            tuple([(word, round(cost, 2), same[to]) for word, cost, to in rows[state]]),
        )
        same[state] = known.setdefault(key, state)
    order = {same[0]: 0}
    met = [same[0]]
    for state in met:  # grows while it is gone through
        for _, _, to in rows[state]:
            if same[to] not in order:
                order[same[to]] = len(met)
                met.append(same[to])
    return WordGraph(
        tuple(tuple([Arc(word, round(cost, 3), order[same[to]]) for word, cost, to in rows[state]]) for state in met),
        tuple(None if end is None else round(end, 3) for end in (ends[state] for state in met)),
    )


def _far_first(rows: list[_Row]) -> list[int]:
    """All states from the start on, each behind those to which it leads, but where they run in a circle."""
    order: list[int] = []
    seen = bytearray(len(rows))
    seen[0] = 1
    stack = [(0, iter(rows[0]))]
    while stack:
        state, arcs = stack[-1]
        for _, _, to in arcs:
            if not seen[to]:
                seen[to] = 1
                stack.append((to, iter(rows[to])))
                break
        else:
            order.append(state)
            stack.pop()
    return order


def graph_of(sentences: Iterable[Sequence[str]]) -> WordGraph:
    """A list of sentences as a graph; one that stands there several times is so much the likelier.

    >>> graph = graph_of([("next", "tile"), ("next", "batch"), ("done",)])
    >>> graph.accepts(("next", "tile")), graph.accepts(("next",)), graph.goes_on(("next",)), graph.goes_on(("tile",))
    (True, False, True, None)
    """
    sketch = Sketch()
    for words in filter(None, sentences):
        end = sketch.state()
        sketch.end(end)
        sketch.row(0, tuple(words), end)
    return sketch.graph()
