"""Every sentence that may be said now, whole, as one graph over words: what the recognizer is held to.

It is made from the offers that `voice.phrases` reads heard words back through, so nothing is heard that would not be
understood: a phrase with a value in any of its wordings, and what is said around it; and several phrases in one breath,
as `checklist.ahead` has them and `day.chain` reads them.

Values are listened for beyond what is possible, to twice as much: what is said there is refused, and not taken for
another number.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import cached_property
from typing import NamedTuple

from fieldassist.checklist.ahead import Juncture
from fieldassist.checklist.commands import Keep, Withdraw
from fieldassist.checklist.offers import VALUE, Offer, Slot
from fieldassist.language import numbers
from fieldassist.language.numbers import NumberKind, ValueRange
from fieldassist.language.word_graph import Sketch, WordGraph, graph_of, uncollected
from fieldassist.trade import quantities
from fieldassist.voice.phrases import KIND_OF, SPEECH, in_unit, spoken_ways, unknown_words

# How likely what is said is of each kind, in shares of the rest above it; ours. A short answer that is waited for must
# not drown among hundreds of numbers, and what the sequence would refuse is said seldom.
_ATTENTION = 0.5  # with the attention phrase before it, where there is one
_CALL_ALONE = 0.1  # of these the attention phrase alone
_ANSWER, _OBJECTION = 0.5, 0.15  # yes and no: where they are waited for, and where the next phrase would keep a value
_CHAIN = 0.15  # several phrases in one breath, of what may be said now
_LATER = 0.15  # what the sequence would refuse
_AT_HAND = 0.6  # what answers the step at hand, of all that may be said now
_ASIDE = 0.25  # of one thing that answers nothing that is asked, beside one that does
_BESIDE_USUAL = 0.4  # of the other ways to say a phrase, all together
_FILLER = 0.05  # words around it that carry nothing
_GOES_ON = 0.3  # of a breath: one phrase more
_OBJECTION_BESIDE = 0.1  # a "no" to what was just called, beside another phrase
_JOINED = 0.2  # of these, with "and" or "then" before it
_NAMED = 0.15  # of a breath, beside one that begins without: a name before it, or who sets or which bucket


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


def sentences(
    offers: Sequence[Offer], knows: Callable[[str], bool], ahead: Sequence[Juncture] = (), *, attention: str = ""
) -> Sentences:
    """Everything that may be said now.

    Phrases with a word that the model does not know are left out: skipping the word would hear something else.
    knows: the model's words; ahead: what would be taken one after the other (`checklist.ahead`), so that it is heard in
    one breath; attention: a phrase that may stand before anything, and alone.
    """
    drawing = _Drawing(knows)
    sketch = drawing.sketch
    begin = sketch.state()
    if attention:
        called = sketch.state()
        sketch.row(0, attention.split(), called, _ATTENTION)
        sketch.free(0, begin, 1 - _ATTENTION)
        sketch.free(called, begin, 1 - _CALL_ALONE)
        sketch.end(called, _CALL_ALONE)
    else:
        sketch.free(0, begin)
    with uncollected():
        drawing.all_of(begin, offers, ahead)
        graph = sketch.graph()
    return Sentences(graph, tuple(unknown_words(offers, knows)))


class _Values(NamedTuple):
    """Values as `numbers.graph` draws them."""

    kind: NumberKind
    units: tuple[str, ...]
    values: ValueRange


def _values_of(offer: Offer, *, bare: bool) -> _Values | None:
    """What is listened for where the offer's value is said; None where it is typed.

    bare: words behind the value say what is counted. Of what is answered out of turn so much suffices as tells what it
    was: the usual unit, and no names.
    """
    slot = offer.slot
    if slot is None or not slot.heard or (slot.dimension == "name" and not offer.now):
        return None
    kind = KIND_OF[slot.dimension]
    if kind in (NumberKind.NAME, NumberKind.DIGITS, NumberKind.NUMBER):
        return _Values(kind, (), ValueRange(whole=slot.whole))
    values = replace(heard_range(slot), bare=bare and kind is NumberKind.COUNT)
    if offer.now:
        return _Values(kind, slot.units, values)
    assert values.high is not None
    # Values that many have in common, drawn once.
    high = next((Fraction(one) for one in _COMMON if one >= values.high), values.high)
    return _Values(kind, slot.units[:1], replace(values, high=high, likely=None))


# Up to these values is listened where a value is said out of turn.
_COMMON = (200, 2_000, 20_000)


# How much farther than what is possible is listened; ours. And where a teen is possible, to the tens and ones that
# sound like one, of thousands too: whoever says seventy must not be heard as seventeen.
_BEYOND = 2
_TEENS = 13
_LIKE_TEENS = 99


def heard_range(slot: Slot) -> ValueRange:
    """The values that are listened for, in the first of the slot's units: from nothing to twice what is possible.

    >>> heard_range(Slot("duration", "duration", ("min",), 2, 60)).high
    Fraction(120, 1)
    >>> heard_range(Slot("length", "length", ("mm",), 0, 20)).high
    Fraction(99, 1)
    """
    low = _BEYOND * slot.low if slot.low < 0 else 0.0
    high = _BEYOND * slot.high if slot.high > 0 else slot.high + (slot.high - slot.low)
    for unit in slot.units:
        possible, canonical = in_unit(slot.high, unit), quantities.unit_info(unit).canonical
        for ones in (1, 1000):
            if possible >= _TEENS * ones:
                high = max(high, quantities.convert(_LIKE_TEENS * ones, unit, canonical))
    lowest, least, most, highest = (
        Fraction(in_unit(end, slot.units[0])).limit_denominator(64) for end in (low, slot.low, slot.high, high)
    )
    return ValueRange(lowest, highest, likely=(least, most), whole=slot.whole)


@dataclass
class _Drawing:
    """A sketch of what may be said, state 0 still free."""

    knows: Callable[[str], bool]
    sketch: Sketch = field(init=False)
    end: int = field(init=False)
    last: int = field(init=False)
    # Values that lead to a state, drawn once for all phrases that they stand in.
    values: dict[tuple[_Values, int], int | None] = field(default_factory=dict)
    # The words behind a value that lead to a state, likewise.
    behind: dict[tuple[tuple[str, ...], int], int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.sketch = Sketch(lambda word: word if self.knows(word) else None)
        self.end, self.last = self.sketch.state(), self.sketch.state()
        self.sketch.end(self.last)
        # Behind a sentence that may be said now.
        self.sketch.free(self.end, self.last, 1 - _FILLER)
        for filler in SPEECH.said_after:
            self.sketch.word(self.end, filler, self.last, _FILLER / len(SPEECH.said_after))

    def all_of(self, begin: int, offers: Sequence[Offer], ahead: Sequence[Juncture]) -> None:
        sketch = self.sketch
        now = [offer for offer in offers if offer.now]
        answers = [offer for offer in now if isinstance(offer.command, Keep | Withdraw)]
        read_back = [offer for offer in answers if isinstance(offer.command, Keep)]
        share = 0.0 if not read_back else _OBJECTION if all(offer.aside for offer in read_back) else _ANSWER
        if not share:
            answers = []
        at_hand = {turn.offer for turn in ahead[0].turns if turn.offer not in answers} if ahead else set()
        hand, due, answer, later, breath = (sketch.state() for _ in range(5))
        sketch.free(begin, later, _LATER)
        rest = 1 - _LATER
        filled = sketch.state()
        sketch.free(begin, filled, rest * (1 - _FILLER))
        for filler in SPEECH.said_before:
            sketch.word(begin, filler, filled, rest * _FILLER / len(SPEECH.said_before))
        sketch.free(filled, answer, share)
        first = _AT_HAND if at_hand else 0.0
        sketch.free(filled, hand, (1 - share) * (1 - _CHAIN) * first)
        sketch.free(filled, due, (1 - share) * (1 - _CHAIN) * (1 - first))
        sketch.free(filled, breath, (1 - share) * _CHAIN)
        for offer in answers:
            self.offer(answer, offer, self.end)
        for offer in now:
            if offer in at_hand:
                self.offer(hand, offer, self.end)
            elif offer not in answers:
                self.offer(due, offer, self.end, _ASIDE if offer.aside else 1.0)
        for offer in offers:
            if not offer.now:
                self.offer(later, offer, self.last)
        if ahead:
            self.breath(breath, ahead)

    def breath(self, begin: int, places: Sequence[Juncture]) -> None:
        """Phrases one after the other, and who sets or which bucket before the first of them."""
        at = [self.sketch.state() for _ in places]
        objects = [all(isinstance(turn.offer.command, Withdraw) for turn in place.turns) for place in places]
        weights = [_OBJECTION_BESIDE if objection else 1.0 for objection in objects]
        behind: dict[tuple[int, ...], int] = {}

        def after(then: tuple[int, ...]) -> int:
            if not then:
                return self.end
            if then not in behind:
                behind[then] = state = self.sketch.state()
                self.sketch.free(state, self.end, 1 - _GOES_ON)
                self.joined(state, {at[place]: weights[place] for place in then}, _GOES_ON)
            return behind[then]

        for state, place in zip(at, places, strict=True):
            for turn in place.turns:
                self.offer(state, turn.offer, after(turn.then), in_order=True, bare=place.bare)
        self.sketch.free(begin, at[0])
        called, first = self.sketch.state(), places[0]
        for phrase in first.names:
            self.sketch.row(begin, phrase.split(), at[first.behind], _NAMED / len(first.names))
        for phrase in first.before:
            self.sketch.row(begin, phrase.split(), called, _NAMED / len(first.before))
        self.joined(called, {at[first.behind]: 1.0}, 1.0)

    def joined(self, begin: int, places: Mapping[int, float], weight: float) -> None:
        """On to one of the places, with a word between or without. places: how likely each is beside the others."""
        onward = self.sketch.state()
        for place, likely in places.items():
            self.sketch.free(onward, place, likely)
        self.sketch.free(begin, onward, weight * (1 - _JOINED))
        for join in SPEECH.joins:
            self.sketch.word(begin, join, onward, weight * _JOINED / len(SPEECH.joins))

    def offer(
        self, begin: int, offer: Offer, to: int, weight: float = 1.0, *, in_order: bool = False, bare: bool = True
    ) -> None:
        """What is said for an offer: its phrases, where it may be said now in all the ways that are usual.

        in_order: with its words in their order, as phrases in one breath are said; bare: a value alone, too.
        """
        for phrase in offer.phrases:
            if phrase == VALUE and not bare:
                continue
            first, *others = spoken_ways(offer, phrase, reordered=not in_order) if offer.now else [phrase]
            share = weight / len(offer.phrases)
            self.way(begin, first, offer, to, share * (1 - _BESIDE_USUAL if others else 1))
            for way in others:
                self.way(begin, way, offer, to, share * _BESIDE_USUAL / len(others))

    def way(self, begin: int, way: str, offer: Offer, to: int, weight: float) -> None:
        """One way to say a phrase."""
        before, value, after = (part.split() for part in way.partition(VALUE))
        if not value:
            self.sketch.row(begin, before, to, weight)
            return
        wanted = _values_of(offer, bare=bool(after))
        if wanted is None or not all(map(self.knows, (*before, *after))):
            return
        behind = to
        if after:
            key = (tuple(after), to)
            if key not in self.behind:
                self.behind[key] = self.sketch.state()
                self.sketch.row(self.behind[key], after, to)
            behind = self.behind[key]
        inner = self.value(wanted, behind)
        if inner is not None:
            self.sketch.row(begin, before, inner, weight)

    def value(self, wanted: _Values, to: int) -> int | None:
        """The state from which values lead to another."""
        if (wanted, to) not in self.values:
            graph = numbers.graph(wanted.kind, wanted.units, wanted.values, self.knows)
            inner = self.sketch.state()
            if graph.words:
                self.sketch.graph_between(graph, inner, to)
            self.values[wanted, to] = inner if graph.words else None
        return self.values[wanted, to]
