"""The building blocks of spoken-number grammars: nodes that read words, word values and draw ranges.

A node is a small dataclass. `read` gives every (value, end) of a reading that begins at a word; `wordings` gives
every way to say a value, the usual one first; `between` draws every way to say every value of a range into a graph.
Reading remembers what each node found at each place, so its time grows with the number of words, not with the number
of ways.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from math import ceil, floor, sqrt
from types import MappingProxyType

from fieldassist.language.word_graph import Sketch

Tokens = tuple[str, ...]
NumberValue = int | Fraction

# How likely a noun is heard without its plural's ending, beside it. Ours.
_ENDING_LOST = 0.1
# The mark of what is not whole: fractions and decimals are said only where it is set.
PARTS = "parts"
# Nothing that has words lies nearer to a whole number: decimals have five places.
_LEAST_PART = Fraction(1, 1_000_000)


# Words


def spread(text: str) -> Tokens:
    return tuple(text.split())


def ways(text: str) -> tuple[Tokens, ...]:
    """Alternatives, of which the empty one is "or nothing".

    >>> ways("foot|feet and|")
    (('foot',), ('feet', 'and'), ())
    """
    return tuple(spread(way) for way in text.split("|"))


@dataclass(frozen=True, eq=False)
class WordForms:
    """The words of one language, as far as nodes compare them.

    same: other spellings of a word, and endings that noise swallows: both sides of every comparison go through this
    table, so "three eighth inch" is understood, though we say "three eighths of an inch". digits: the words of each
    of the ten, the usual one first.
    """

    same: Mapping[str, str]
    digits: tuple[Tokens, ...]
    digit: Mapping[str, int] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        digit = {word: digit for digit, words in enumerate(self.digits) for word in words}
        object.__setattr__(self, "digit", MappingProxyType(digit))

    def ear(self, words: Iterable[str]) -> Tokens:
        """The words as they are compared."""
        return tuple(self.same.get(word, word) for word in words)

    def digit_words(self, text: str) -> Iterator[Tokens]:
        """Digits one by one, and again with the other word where one has two ("zero", "oh")."""
        plain = tuple(self.digits[int(character)][0] for character in text)
        yield plain
        other = tuple(self.digits[int(character)][-1] for character in text)
        if other != plain:
            yield other


# Nodes

Memo = dict[tuple[int, int], tuple[tuple[NumberValue, int], ...]]


@dataclass(frozen=True, eq=False)
class Node(ABC):
    """A part of the grammar: never empty, its values in low..high, its words from one of `first` to one of `last`."""

    first: frozenset[str] = field(init=False, repr=False)
    last: frozenset[str] = field(init=False, repr=False)
    low: NumberValue = field(init=False, repr=False)
    high: NumberValue = field(init=False, repr=False)

    def _known(self, first: Iterable[str], last: Iterable[str], low: NumberValue, high: NumberValue) -> None:
        for name, value in (("first", frozenset(first)), ("last", frozenset(last)), ("low", low), ("high", high)):
            object.__setattr__(self, name, value)

    def read(self, words: Tokens, at: int, memo: Memo) -> tuple[tuple[NumberValue, int], ...]:
        """Every (value, end) of a reading that begins at `at`; each node looks at each place once."""
        if at >= len(words) or words[at] not in self.first:
            return ()
        key = (id(self), at)
        found = memo.get(key)
        if found is None:
            found = tuple(self._read(words, at, memo))
            if len(found) > 1:
                found = tuple(dict.fromkeys(found))
            memo[key] = found
        return found

    @abstractmethod
    def _read(self, words: Tokens, at: int, memo: Memo) -> Iterable[tuple[NumberValue, int]]: ...

    @abstractmethod
    def wordings(self, value: NumberValue, marks: frozenset[str]) -> Iterator[Tokens]:
        """Every way to say `value`, the usual one first."""

    def between(
        self, sketch: Sketch, begin: int, to: int, low: NumberValue, high: NumberValue, marks: frozenset[str]
    ) -> float:
        """Draw every wording of the values low..high between two states of a sketch; how many there are.

        `begin` must be a state from which nothing else leads: what leads out of it is weighed against itself only.
        """
        low, high = max(low, self.low), min(high, self.high)
        return self._between(sketch, begin, to, low, high, marks) if low <= high else 0.0

    @abstractmethod
    def _between(
        self, sketch: Sketch, begin: int, to: int, low: NumberValue, high: NumberValue, marks: frozenset[str]
    ) -> float: ...

    @abstractmethod
    def vocabulary(self) -> Iterator[str]: ...


def _ends(after: Iterable[Tokens], otherwise: frozenset[str]) -> frozenset[str]:
    ends: frozenset[str] = frozenset()
    for way in after:
        ends |= {way[-1]} if way else otherwise
    return ends


@dataclass(frozen=True, eq=False)
class Table(Node):
    """These words mean this value; the usual wording of a value comes first."""

    forms: WordForms
    rows: tuple[tuple[Tokens, NumberValue], ...]
    _by_first: dict[str, list[tuple[Tokens, NumberValue]]] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        by_first: dict[str, list[tuple[Tokens, NumberValue]]] = {}
        for words, value in self.rows:
            heard = self.forms.ear(words)
            group = by_first.setdefault(heard[0], [])
            if (heard, value) not in group:
                group.append((heard, value))
        object.__setattr__(self, "_by_first", by_first)
        values = [value for _, value in self.rows]
        self._known(by_first, (self.forms.ear(words)[-1] for words, _ in self.rows), min(values), max(values))

    def _read(self, words: Tokens, at: int, _memo: Memo) -> Iterable[tuple[NumberValue, int]]:
        rows = self._by_first[words[at]]
        return [(value, at + len(row)) for row, value in rows if words[at : at + len(row)] == row]

    def wordings(self, value: NumberValue, _marks: frozenset[str]) -> Iterator[Tokens]:
        return (words for words, own in self.rows if own == value)

    def _between(
        self, sketch: Sketch, begin: int, to: int, low: NumberValue, high: NumberValue, marks: frozenset[str]
    ) -> float:
        said = (
            words for words, value in self.rows if low <= value <= high and (value.denominator == 1 or PARTS in marks)
        )
        return float(sum(sketch.row(begin, words, to) for words in said))

    def vocabulary(self) -> Iterator[str]:
        return (word for words, _ in self.rows for word in words)


@dataclass(frozen=True, eq=False)
class Alt(Node):
    """One of several, the usual one first."""

    options: tuple[Node, ...]

    def __post_init__(self) -> None:
        self._known(
            frozenset().union(*(node.first for node in self.options)),
            frozenset().union(*(node.last for node in self.options)),
            min(node.low for node in self.options),
            max(node.high for node in self.options),
        )

    def _read(self, words: Tokens, at: int, memo: Memo) -> Iterable[tuple[NumberValue, int]]:
        word = words[at]
        return [found for node in self.options if word in node.first for found in node.read(words, at, memo)]

    def wordings(self, value: NumberValue, marks: frozenset[str]) -> Iterator[Tokens]:
        for node in self.options:
            if node.low <= value <= node.high:
                yield from node.wordings(value, marks)

    def _between(
        self, sketch: Sketch, begin: int, to: int, low: NumberValue, high: NumberValue, marks: frozenset[str]
    ) -> float:
        return sum(_option(sketch, begin, to, node, low, high, marks) for node in self.options)

    def vocabulary(self) -> Iterator[str]:
        return (word for node in self.options for word in node.vocabulary())


@dataclass(frozen=True, eq=False)
class Only(Node):
    """Understood always; said, sampled and listed only where the mark is set ("digits", "ruler", "pairs")."""

    node: Node
    mark: str

    def __post_init__(self) -> None:
        self._known(self.node.first, self.node.last, self.node.low, self.node.high)

    def _read(self, words: Tokens, at: int, memo: Memo) -> Iterable[tuple[NumberValue, int]]:
        return self.node.read(words, at, memo)

    def wordings(self, value: NumberValue, marks: frozenset[str]) -> Iterator[Tokens]:
        return self.node.wordings(value, marks) if self.mark in marks else iter(())

    def _between(
        self, sketch: Sketch, begin: int, to: int, low: NumberValue, high: NumberValue, marks: frozenset[str]
    ) -> float:
        return self.node.between(sketch, begin, to, low, high, marks) if self.mark in marks else 0.0

    def vocabulary(self) -> Iterator[str]:
        return self.node.vocabulary()


@dataclass(frozen=True, eq=False)
class Within(Node):
    """The node's values from `least` to `most`, without those that `omit` names."""

    node: Node
    least: NumberValue
    most: NumberValue
    omit: Callable[[NumberValue], bool] = lambda _: False

    def __post_init__(self) -> None:
        self._known(self.node.first, self.node.last, max(self.least, self.node.low), min(self.most, self.node.high))

    def _read(self, words: Tokens, at: int, memo: Memo) -> Iterable[tuple[NumberValue, int]]:
        for value, end in self.node.read(words, at, memo):
            if self.least <= value <= self.most and not self.omit(value):
                yield value, end

    def wordings(self, value: NumberValue, marks: frozenset[str]) -> Iterator[Tokens]:
        if self.least <= value <= self.most and not self.omit(value):
            yield from self.node.wordings(value, marks)

    def _between(
        self, sketch: Sketch, begin: int, to: int, low: NumberValue, high: NumberValue, marks: frozenset[str]
    ) -> float:
        count, least = 0.0, max(low, self.least)
        for omitted in filter(self.omit, range(ceil(least), floor(min(high, self.most)) + 1)):
            count += _option(sketch, begin, to, self.node, least, omitted - _LEAST_PART, marks)
            least = omitted + _LEAST_PART
        return count + _option(sketch, begin, to, self.node, least, min(high, self.most), marks)

    def vocabulary(self) -> Iterator[str]:
        return self.node.vocabulary()


@dataclass(frozen=True, eq=False)
class Then(Node):
    """Fixed words before and after a node: "point" five, three eighths "of an inch"."""

    forms: WordForms
    before: tuple[Tokens, ...]
    node: Node
    after: tuple[Tokens, ...] = ((),)
    _before: tuple[Tokens, ...] = field(init=False, repr=False)
    _after: tuple[Tokens, ...] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_before", tuple(dict.fromkeys(map(self.forms.ear, self.before))))
        object.__setattr__(self, "_after", tuple(dict.fromkeys(map(self.forms.ear, self.after))))
        first: set[str] = set()
        for way in self._before:
            first |= {way[0]} if way else self.node.first
        self._known(first, _ends(self._after, self.node.last), self.node.low, self.node.high)

    def _read(self, words: Tokens, at: int, memo: Memo) -> Iterable[tuple[NumberValue, int]]:
        for before in self._before:
            start = at + len(before)
            if words[at:start] != before:
                continue
            for value, end in self.node.read(words, start, memo):
                for after in self._after:
                    stop = end + len(after)
                    if words[end:stop] == after:
                        yield value, stop

    def wordings(self, value: NumberValue, marks: frozenset[str]) -> Iterator[Tokens]:
        for words in self.node.wordings(value, marks):
            for before in self.before:
                for after in self.after:
                    yield before + words + after

    def _between(
        self, sketch: Sketch, begin: int, to: int, low: NumberValue, high: NumberValue, marks: frozenset[str]
    ) -> float:
        inner, behind = sketch.state(), sketch.state()
        count = self.node.between(sketch, inner, behind, low, high, marks)
        if not count:
            return 0.0
        return count * sketch.ways(begin, self.before, inner) * sketch.ways(behind, self.after, to)

    def vocabulary(self) -> Iterator[str]:
        yield from self.node.vocabulary()
        yield from (word for way in self.before + self.after for word in way)


@dataclass(frozen=True, eq=False)
class Counted(Node):
    """A number and what it counts, singular for one, plural for the rest; either is understood with any number."""

    forms: WordForms
    node: Node
    one: Tokens
    many: tuple[Tokens, ...]
    _nouns: tuple[Tokens, ...] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        object.__setattr__(
            self, "_nouns", tuple(dict.fromkeys(self.forms.ear(noun) for noun in (self.one, *self.many)))
        )
        self._known(self.node.first, (noun[-1] for noun in self._nouns), self.node.low, self.node.high)

    def _read(self, words: Tokens, at: int, memo: Memo) -> Iterable[tuple[NumberValue, int]]:
        for value, end in self.node.read(words, at, memo):
            for noun in self._nouns:
                stop = end + len(noun)
                if words[end:stop] == noun:
                    yield value, stop

    def wordings(self, value: NumberValue, marks: frozenset[str]) -> Iterator[Tokens]:
        nouns = (self.one,) if value == 1 else self.many
        for words in self.node.wordings(value, marks):
            for noun in nouns:
                yield words + noun

    def _between(
        self, sketch: Sketch, begin: int, to: int, low: NumberValue, high: NumberValue, marks: frozenset[str]
    ) -> float:
        behind = sketch.state()
        count = self.node.between(sketch, begin, behind, low, high, marks)
        nouns = sketch.ways(behind, self.many, to)
        # An ending is easily lost: the one noun is heard with any number.
        if self.one not in self.many and sketch.row(behind, self.one, to, _ENDING_LOST):
            nouns += 1
        return count * nouns

    def vocabulary(self) -> Iterator[str]:
        yield from self.node.vocabulary()
        yield from (word for noun in (self.one, *self.many) for word in noun)


@dataclass(frozen=True, eq=False)
class ValuePlace(Node):
    """A head worth `scale` each, then a rest: value = head * scale + rest.

    alone: the words after a head without a rest ("hundred"), or () where a rest is required. link: the words between
    head and rest ("hundred", "hundred and"). reverse: the rest is said first ("quarter past | ten").
    The rest spans no more than one `scale`.
    """

    forms: WordForms
    head: Node
    scale: int
    alone: tuple[Tokens, ...]
    link: tuple[Tokens, ...] = ()
    rest: Node | None = None
    reverse: bool = False
    _alone: tuple[Tokens, ...] = field(init=False, repr=False)
    _link: tuple[Tokens, ...] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_alone", tuple(dict.fromkeys(map(self.forms.ear, self.alone))))
        object.__setattr__(self, "_link", tuple(dict.fromkeys(map(self.forms.ear, self.link))))
        low, high = self.head.low * self.scale, self.head.high * self.scale
        first = self.head.first
        if self.rest is not None:
            if self.reverse:
                first = self.rest.first
            high += max(0, self.rest.high)
            low += min(0, self.rest.low) if self.alone else self.rest.low
        last = _ends(self._alone, self.head.last)
        if self.rest is not None:
            last |= self.head.last if self.reverse else self.rest.last
        self._known(first, last, low, high)

    def _read(self, words: Tokens, at: int, memo: Memo) -> Iterable[tuple[NumberValue, int]]:
        if self.reverse and self.rest is not None:
            for rest, end in self.rest.read(words, at, memo):
                for link in self._link:
                    start = end + len(link)
                    if words[end:start] == link:
                        for head, stop in self.head.read(words, start, memo):
                            yield head * self.scale + rest, stop
            return
        for head, end in self.head.read(words, at, memo):
            worth = head * self.scale
            for way in self._alone:
                stop = end + len(way)
                if words[end:stop] == way:
                    yield worth, stop
            if self.rest is None or end >= len(words):
                continue
            for link in self._link:
                start = end + len(link)
                if words[end:start] == link:
                    for rest, stop in self.rest.read(words, start, memo):
                        yield worth + rest, stop

    def wordings(self, value: NumberValue, marks: frozenset[str]) -> Iterator[Tokens]:
        head, over = divmod(value, self.scale)
        if over == 0:
            for words in self.head.wordings(head, marks):
                for way in self.alone:
                    yield words + way
        if self.rest is None:
            return
        for count, left in ((head, over), (head + 1, over - self.scale)):
            if self.rest.low <= left <= self.rest.high:
                rests = list(self.rest.wordings(left, marks))
                for words in self.head.wordings(count, marks) if rests else ():
                    for link in self.link:
                        for rest in rests:
                            yield rest + link + words if self.reverse else words + link + rest

    def _between(
        self, sketch: Sketch, begin: int, to: int, low: NumberValue, high: NumberValue, marks: frozenset[str]
    ) -> float:
        count = 0.0
        if self.alone:
            start, behind = sketch.state(), sketch.state()
            least, most = ceil(Fraction(low) / self.scale), floor(Fraction(high) / self.scale)
            own = self.head.between(sketch, start, behind, least, most, marks)
            own *= sketch.ways(behind, self.alone, to) if own else 0
            if own:
                sketch.free(begin, start, own)
            count += own
        if self.rest is not None:
            for heads, rests in self._parts(self.rest, low, high):
                start, left, right = sketch.state(), sketch.state(), sketch.state()
                first, second = (
                    ((self.rest, rests), (self.head, heads))
                    if self.reverse
                    else ((self.head, heads), (self.rest, rests))
                )
                own = first[0].between(sketch, start, left, *first[1], marks)
                own *= second[0].between(sketch, right, to, *second[1], marks) if own else 0
                own *= sketch.ways(left, self.link, right) if own else 0
                if own:
                    sketch.free(begin, start, own)
                count += own
        return count

    def _parts(
        self, rest: Node, low: NumberValue, high: NumberValue
    ) -> Iterator[tuple[tuple[NumberValue, NumberValue], tuple[NumberValue, NumberValue]]]:
        """Ranges of heads and of the rests that go with each of them; together they are the values low..high.

        Heads whose every rest lies inside the range go together; those at its two ends have their own.
        """

        def cut(value: NumberValue) -> Fraction:
            return Fraction(value) / self.scale

        least = max(floor(cut(low - rest.high)), ceil(self.head.low))
        most = min(ceil(cut(high - rest.low)), floor(self.head.high))
        inner_least, inner_most = max(least, ceil(cut(low - rest.low))), min(most, floor(cut(high - rest.high)))
        ends = list(range(least, most + 1))
        if inner_least <= inner_most:
            yield (inner_least, inner_most), (rest.low, rest.high)
            ends = [*range(least, inner_least), *range(inner_most + 1, most + 1)]
        for head in ends:
            lowest, highest = max(rest.low, low - head * self.scale), min(rest.high, high - head * self.scale)
            if lowest <= highest:
                yield (head, head), (lowest, highest)

    def vocabulary(self) -> Iterator[str]:
        yield from self.head.vocabulary()
        if self.rest is not None:
            yield from self.rest.vocabulary()
        yield from (word for way in self.alone + self.link for word in way)


@dataclass(frozen=True, eq=False)
class Affine(Node):
    """times * value + plus: "minus" five, forty (hundredths of a meter), half past ten "in the evening"."""

    node: Node
    times: NumberValue
    plus: NumberValue = 0

    def __post_init__(self) -> None:
        ends = [self._of(self.node.low), self._of(self.node.high)]
        self._known(self.node.first, self.node.last, min(ends), max(ends))

    def _of(self, value: NumberValue) -> NumberValue:
        return value * self.times + self.plus

    def _back(self, value: NumberValue) -> NumberValue:
        back = Fraction(value - self.plus) / self.times
        return back.numerator if back.denominator == 1 else back

    def _read(self, words: Tokens, at: int, memo: Memo) -> Iterable[tuple[NumberValue, int]]:
        for value, end in self.node.read(words, at, memo):
            yield self._of(value), end

    def wordings(self, value: NumberValue, marks: frozenset[str]) -> Iterator[Tokens]:
        return self.node.wordings(self._back(value), marks)

    def _between(
        self, sketch: Sketch, begin: int, to: int, low: NumberValue, high: NumberValue, marks: frozenset[str]
    ) -> float:
        least, most = sorted((self._back(low), self._back(high)))
        return self.node.between(sketch, begin, to, least, most, marks)

    def vocabulary(self) -> Iterator[str]:
        return self.node.vocabulary()


@dataclass(frozen=True, eq=False)
class DigitRow(Node):
    """A whole number said digit by digit, `least` to `most` digits: "nine five"."""

    forms: WordForms
    least: int
    most: int

    def __post_init__(self) -> None:
        digit = self.forms.digit
        self._known((word for word in digit if digit[word]), digit, 10 ** (self.least - 1), 10**self.most - 1)

    def _read(self, words: Tokens, at: int, _memo: Memo) -> Iterable[tuple[NumberValue, int]]:
        value = 0
        for count, word in enumerate(words[at : at + self.most], start=1):
            digit = self.forms.digit.get(word)
            if digit is None:
                return
            value = value * 10 + digit
            if count >= self.least:
                yield value, at + count

    def wordings(self, value: NumberValue, _marks: frozenset[str]) -> Iterator[Tokens]:
        if value.denominator == 1 and self.low <= value <= self.high:
            yield from self.forms.digit_words(str(value))

    def _between(
        self, sketch: Sketch, begin: int, to: int, low: NumberValue, high: NumberValue, _marks: frozenset[str]
    ) -> float:
        count = 0.0
        for places in range(self.least, self.most + 1):
            least, most = max(ceil(low), 10 ** (places - 1)), min(floor(high), 10**places - 1)
            if least <= most:
                start = sketch.state()
                own = _digits_between(self.forms, sketch, start, to, places, least, most)
                if own:
                    sketch.free(begin, start, own)
                count += own
        return count

    def vocabulary(self) -> Iterator[str]:
        return iter(self.forms.digit)


@dataclass(frozen=True, eq=False)
class Decimals(Node):
    """What follows "point": digits one by one, or two as a number ("point twenty five")."""

    forms: WordForms
    most: int
    tens: Node  # 10..99, understood
    offered: Node  # those of them that are said: nobody says "point forty" for four tenths

    def __post_init__(self) -> None:
        digit = self.forms.digit
        self._known({*digit, *self.tens.first}, {*digit, *self.tens.last}, 0, 1 - Fraction(1, 10**self.most))

    def _read(self, words: Tokens, at: int, memo: Memo) -> Iterable[tuple[NumberValue, int]]:
        value = 0
        for count, word in enumerate(words[at : at + self.most], start=1):
            digit = self.forms.digit.get(word)
            if digit is None:
                break
            value = value * 10 + digit
            yield Fraction(value, 10**count), at + count
        for value_of_two, end in self.tens.read(words, at, memo):
            yield Fraction(value_of_two, 100), end

    def wordings(self, value: NumberValue, marks: frozenset[str]) -> Iterator[Tokens]:
        if value == 0:
            return
        most = self.most if "exact" in marks else 3 if "places" in marks else 1
        for count in range(1, most + 1):
            scaled = value * 10**count
            if scaled.denominator == 1:
                yield from self.forms.digit_words(str(int(scaled)).zfill(count))
                if count == 2 and "places" in marks:
                    yield from self.offered.wordings(int(scaled), marks)
                return

    def _between(
        self, sketch: Sketch, begin: int, to: int, low: NumberValue, high: NumberValue, marks: frozenset[str]
    ) -> float:
        if PARTS not in marks:
            return 0.0
        count = 0.0
        for places in range(1, 1 + (self.most if "exact" in marks else 3 if "places" in marks else 1)):
            least, most = ceil(low * 10**places), min(floor(high * 10**places), 10**places - 1)
            if least <= most:
                start = sketch.state()
                # A tenth is said more often than a thousandth.
                own = _digits_between(self.forms, sketch, start, to, places, least, most)
                if own:
                    sketch.free(begin, start, sqrt(own))
                count += own
        if "places" in marks:
            count += _option(sketch, begin, to, self.offered, ceil(low * 100), floor(high * 100), marks)
        return count

    def vocabulary(self) -> Iterator[str]:
        yield from self.forms.digit
        yield from self.tens.vocabulary()


def _option(
    sketch: Sketch, begin: int, to: int, node: Node, low: NumberValue, high: NumberValue, marks: frozenset[str]
) -> float:
    """One of several that begin at a state. A kind of wordings that has many is likelier, but each of them is not: a
    whole number is said more often than one with two decimals. That it goes by the root is ours.
    """
    start = sketch.state()
    count = node.between(sketch, start, to, low, high, marks)
    if count:
        sketch.free(begin, start, sqrt(count))
    return count


def _digits_between(forms: WordForms, sketch: Sketch, begin: int, to: int, places: int, low: int, high: int) -> float:
    """Draw the numbers low..high with so many digits each, one word a digit; how many wordings there are."""
    known: dict[tuple[int, int, int], tuple[int, float]] = {(0, 0, 0): (to, 1.0)}

    def drawn(left: int, low: int, high: int, state: int | None = None) -> tuple[int, float]:
        found = known.get((left, low, high))
        if found is not None:
            return found
        here, count, unit = sketch.state() if state is None else state, 0.0, 10 ** (left - 1)
        for digit in range(low // unit, high // unit + 1):
            least, most = max(low - digit * unit, 0), min(high - digit * unit, unit - 1)
            following, own = drawn(left - 1, least, most)
            for words in forms.digits[digit]:
                if own and sketch.row(here, (words,), following, own):
                    count += own
        known[left, low, high] = here, count
        return here, count

    return drawn(places, low, high, begin)[1]
