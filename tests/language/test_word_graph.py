"""A graph holds the sentences that it was made of, no others, and costs that are probabilities."""

from __future__ import annotations

import math
from collections import Counter
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldassist.language.word_graph import Sketch, WordGraph, graph_of

SENTENCES = st.lists(st.lists(st.sampled_from("abc"), min_size=1, max_size=5).map(tuple), min_size=1, max_size=12)


@given(SENTENCES)
def test_a_graph_of_a_list_is_the_list_at_the_costs_of_its_counts(said: list[tuple[str, ...]]) -> None:
    graph = graph_of(said)
    counts = Counter(said)
    assert sorted(graph.sentences()) == sorted(counts)
    for words, count in counts.items():
        cost = graph.cost(words)
        assert cost is not None
        assert math.exp(-cost) == pytest.approx(count / len(said), rel=0.05)


@given(SENTENCES)
def test_what_may_follow_a_state_is_a_distribution_and_no_word_leads_two_ways(said: list[tuple[str, ...]]) -> None:
    graph = graph_of(said)
    for arcs, end in zip(graph.arcs, graph.ends, strict=True):
        chances = [math.exp(-arc.cost) for arc in arcs] + ([math.exp(-end)] if end is not None else [])
        assert sum(chances) == pytest.approx(1, abs=0.01)
        words = [arc.word for arc in arcs]
        assert words == sorted(set(words))


def test_states_with_the_same_future_are_one() -> None:
    tens, ones = ("twenty", "thirty", "forty"), ("one", "two", "three")
    graph = graph_of([(ten, one, "percent") for ten in tens for one in ones])
    assert len(graph.arcs) == 4, "before the ten, before the one, before the percent, the end"


def circle() -> WordGraph:
    """Any number of a's, and a b at the end if one likes."""
    sketch = Sketch()
    behind, last = sketch.state(), sketch.state()
    sketch.word(0, "a", behind)
    sketch.free(behind, 0, 1.0)
    sketch.word(behind, "b", last, 0.5)
    sketch.end(behind, 0.5)
    sketch.end(last)
    return sketch.graph()


def test_a_circle_of_words_is_heard_to_any_length() -> None:
    graph = circle()
    assert graph.accepts(["a", "a", "a", "a", "a", "b"])
    assert not graph.accepts(["a", "b", "a"])
    assert graph.goes_on(("a", "b")) is False
    assert graph.goes_on(("b",)) is None
    drawn = [graph.drawn(Random(seed)) for seed in range(50)]
    assert all(map(graph.accepts, drawn))
    assert len(set(drawn)) > 5


def test_ways_without_a_word_in_a_circle_are_named() -> None:
    sketch = Sketch()
    sketch.free(0, 0)
    with pytest.raises(ValueError, match="circle"):
        sketch.graph()


def test_a_graph_without_a_sentence_hears_nothing() -> None:
    graph = graph_of([])
    assert (graph.arcs, graph.ends) == (((),), (None,))
    assert graph.drawn(Random(1)) == ()
    assert not graph.accepts(())


def test_what_cannot_be_heard_is_left_out_or_heard_as_another_word() -> None:
    heard = {"eighths": "eighth", "three": "three", "inch": "inch"}
    sketch = Sketch(heard.get)
    sketch.row(0, ("three", "eighths"), end := sketch.state())
    sketch.row(0, ("three", "sixteenths"), end)
    sketch.end(end)
    assert list(sketch.graph().sentences()) == [("three", "eighth")]


def test_a_graph_stands_between_two_states_of_another() -> None:
    sketch = Sketch()
    between, behind, end = sketch.state(), sketch.state(), sketch.state()
    sketch.word(0, "gap", between)
    sketch.graph_between(graph_of([("one",), ("twenty",), ("twenty", "one")]), between, behind)
    sketch.word(behind, "millimeters", end)
    sketch.end(end)
    assert sorted(sketch.graph().sentences()) == [
        ("gap", "one", "millimeters"),
        ("gap", "twenty", "millimeters"),
        ("gap", "twenty", "one", "millimeters"),
    ]
