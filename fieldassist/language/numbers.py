"""Numbers and quantities as the trade says them: read from words, said in words, sampled, drawn for a recognizer.

One grammar a language serves all four (`language/en/numbers.py`, made of the nodes in `number_nodes`), so that nothing
is said that would not be understood, and every value that is understood can be said. The examples are English.

Ambiguity is a result, not an accident: "five thirty two" as a length is 532 and 5/32, since a recognizer that
swallows the end of "thirty-seconds" leaves exactly these words, and the dialogue has to ask.
"""

from __future__ import annotations

import math
import random
import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from math import ceil, floor
from types import MappingProxyType

from fieldassist.language.number_grammar import NumberGrammar, NumberKind, Rule
from fieldassist.language.number_nodes import (
    PARTS,
    Alt,
    Memo,
    Node,
    NumberValue,
    Tokens,
    Within,
)
from fieldassist.language.spoken import HEARD, spoken_language
from fieldassist.language.word_graph import Sketch, WordGraph
from fieldassist.trade import quantities

__all__ = [
    "NumberKind",
    "Spoken",
    "ValueRange",
    "confusable",
    "digits",
    "graph",
    "parse",
    "sample",
    "say",
    "say_spoken",
    "vocabulary",
    "wordings",
]


@dataclass(frozen=True)
class Spoken:
    """One reading of a sequence of words.

    value: exact, in `unit`; SIZE: the first side; CLOCK_TIME: minutes after midnight; NAME: its number, 0 without one.
    unit: a name of `fieldassist.trade.quantities`, or None when no unit was said; "deg" for degrees without C or F;
    CLOCK_TIME: "24h" when the half of the day is settled ("half past ten in the morning", "fourteen thirty"), None
    when it is not ("half past ten": the caller takes the nearer).
    words: the words as heard. text: NAME "B12", DIGITS "0471", CLOCK_TIME "10:30", otherwise "".
    values: SIZE both sides, CLOCK_TIME hour and minute, otherwise (). thing: what was counted or named ("tile"), or "".
    """

    kind: NumberKind
    value: Fraction
    unit: str | None
    words: tuple[str, ...]
    text: str = ""
    values: tuple[Fraction, ...] = ()
    thing: str = ""

    def __str__(self) -> str:
        """As it is written on a screen.

        >>> print(parse("three eighths of an inch".split(), NumberKind.LENGTH)[0])
        3/8 in
        >>> print(parse("twelve hundred by twenty four hundred millimeters".split(), NumberKind.SIZE)[0])
        1200 × 2400 mm
        """
        if self.text:
            return f"{self.thing} {self.text}".strip()
        sides = self.values if self.kind is NumberKind.SIZE else (self.value,)
        if self.unit is not None and self.unit in quantities.UNITS:
            shown = quantities.format_quantity(sides[-1], self.unit)
            if len(sides) == 2:
                shown = quantities.format_size(sides[0], sides[1], self.unit)
        else:
            shown = " × ".join(_plain(side) for side in sides) + ("°" if self.unit == "deg" else "")
        return f"{shown} {self.thing}".strip()


def _plain(value: Fraction) -> str:
    if value.denominator in (1, 8, 16, 32) and value >= 0:
        return str(quantities.nearest_fraction(value))
    return f"{float(value):.10g}"


# Reading


def _grammar(language: str) -> NumberGrammar:
    return spoken_language(language).numbers


@lru_cache(maxsize=4096)
def _tokens(words: tuple[str, ...], grammar: NumberGrammar) -> Tokens:
    """Lower case, hyphens apart ("ninety-five"), "a.m." as the two letters that a recognizer hears."""
    tidy = (grammar.tidied.get(word.lower(), word.lower()) for word in words)
    return tuple(part for word in tidy for part in word.split("-") if part)


def _all_of(node: Node, heard: Tokens, memo: Memo) -> list[NumberValue]:
    if not heard or heard[-1] not in node.last:
        return []
    return [value for value, end in node.read(heard, 0, memo) if end == len(heard)]


def parse(
    words: Sequence[str], kind: NumberKind, *, default_unit: str | None = None, language: str = HEARD
) -> tuple[Spoken, ...]:
    """Every reading of the whole of `words` as a value of `kind`.

    Parameters: words, as a recognizer gives them (lower case; hyphens and British spellings are understood as well);
    default_unit, taken where no unit was said, and for degrees without C or F. Bare eighths, sixteenths and
    thirty-seconds are inches whatever the default, unless it is feet. language, its tag.
    Result: () when the words are no such value; more than one when they are ambiguous, the usual reading first; no
    two with the same value and unit. Temperatures and plain numbers may be below zero.
    Errors: `ValueError` where `words` is one text instead of a list of words.

    >>> [(str(r.value), r.unit) for r in parse("an inch and three eighths".split(), NumberKind.LENGTH)]
    [('11/8', 'in')]
    >>> [str(r) for r in parse("five thirty two".split(), NumberKind.LENGTH)]
    ['532', '5/32']
    >>> parse(["five", "thirty", "two"], NumberKind.CLOCK_TIME)[0].text
    '5:32'
    >>> parse(["ninety", "five"], NumberKind.PERCENT, default_unit="percent")[0].unit
    'percent'
    >>> parse("four foot six".split(), NumberKind.LENGTH)[0].value
    Fraction(54, 1)
    >>> parse("tile bravo twelve".split(), NumberKind.NAME)[0].text
    'B12'
    """
    if isinstance(words, str):
        raise ValueError(f"{words!r} is one text; give its words as a list, as text.split() does")
    said = tuple(words)
    grammar = _grammar(language)
    tokens = _tokens(said, grammar)
    found: dict[tuple[object, ...], Spoken] = {}
    for reading in _readings(grammar, tokens, kind, said, default_unit) if tokens else ():
        found.setdefault((reading.value, reading.unit, reading.text, reading.values, reading.thing), reading)
    return tuple(found.values())


def _readings(
    grammar: NumberGrammar, tokens: Tokens, kind: NumberKind, said: Tokens, default_unit: str | None
) -> Iterator[Spoken]:
    heard = grammar.forms.ear(tokens)
    if kind is NumberKind.NAME:
        for thing, text in _read_name(grammar, tokens):
            number = re.search(r"\d+", text)
            yield Spoken(kind, Fraction(number[0] if number else 0), None, said, text, thing=thing)
    elif kind is NumberKind.DIGITS:
        for text in _read_digits(grammar, heard):
            yield Spoken(kind, Fraction(text), None, said, text)
    elif kind is NumberKind.SIZE:
        for sides, unit in _read_size(grammar, heard, default_unit):
            yield Spoken(kind, sides[0], unit, said, values=sides)
    elif kind is NumberKind.CLOCK_TIME:
        for value, rule in _read_rules(grammar, heard, kind):
            minutes = int(value)
            if rule.unit is None and minutes < 60:
                minutes += 720
            hour, minute = divmod(minutes, 60)
            text, pair = f"{hour}:{minute:02}", (Fraction(hour), Fraction(minute))
            yield Spoken(kind, Fraction(minutes), rule.unit, said, text, pair)
    else:
        for value, rule in _read_rules(grammar, heard, kind):
            yield Spoken(kind, Fraction(value), _unit(rule, default_unit), said, thing=rule.thing)


def _read_rules(grammar: NumberGrammar, heard: Tokens, kind: NumberKind) -> Iterator[tuple[NumberValue, Rule]]:
    memo: Memo = {}
    for rule in grammar.rules[kind]:
        for value in _all_of(rule.node, heard, memo):
            # "Three tiles" without the tiles is a count only by its step, so the bare number keeps no unit.
            if rule.unit != "count" or rule.thing:
                yield value, rule


def _unit(rule: Rule, default_unit: str | None) -> str | None:
    if default_unit is None:
        return rule.unit
    if rule.unit is None:
        return "in" if rule.ruler and default_unit in ("mm", "cm", "m") else default_unit
    return default_unit if rule.unit == "deg" else rule.unit


def _read_size(
    grammar: NumberGrammar, heard: Tokens, default_unit: str | None
) -> Iterator[tuple[tuple[Fraction, ...], str | None]]:
    for at in (index for index, word in enumerate(heard) if word == grammar.by):
        rights = list(_read_rules(grammar, heard[at + 1 :], NumberKind.LENGTH))
        for first, left in _read_rules(grammar, heard[:at], NumberKind.LENGTH) if rights else ():
            for second, right in rights:
                for a, b in _shared_units(left, right, default_unit):
                    yield _same_unit(Fraction(first), a, Fraction(second), b)


def _shared_units(left: Rule, right: Rule, default_unit: str | None) -> Iterator[tuple[str | None, str | None]]:
    if left.unit and right.unit:
        yield left.unit, right.unit
    elif not left.unit and not right.unit:
        yield _unit(left, default_unit), _unit(right, default_unit)
    else:
        given = left if left.unit else right
        # "Four foot six by eight": the eight may be feet or inches, and only the crew knows.
        for unit in ("ft", "in") if given.feet else (given.unit,):
            yield left.unit or unit, right.unit or unit


def _same_unit(
    first: Fraction, a: str | None, second: Fraction, b: str | None
) -> tuple[tuple[Fraction, ...], str | None]:
    if a == b or a is None or b is None:
        return (first, second), a or b
    unit = "in" if {a, b} == {"in", "ft"} else a
    return (quantities.convert_exact(first, a, unit), quantities.convert_exact(second, b, unit)), unit


@lru_cache
def _name_numbers(grammar: NumberGrammar) -> Node:
    return Alt((Within(grammar.cardinal, 0, 99_999), grammar.pair))


def _read_name(grammar: NumberGrammar, tokens: Tokens) -> Iterator[tuple[str, str]]:
    """(thing, text) of a name: an optional noun, up to three letters, a number, one letter more; not all of them."""
    starts: list[tuple[str, int]] = [("", 0)]
    (noun,) = grammar.forms.ear(tokens[:1])
    if noun in grammar.named:
        starts.append((noun, 2 if tokens[1:2] == (grammar.number,) else 1))
    for thing, start in starts:
        for letters, at in _read_letters(grammar, tokens, start, 3):
            if letters and at == len(tokens):
                yield thing, letters
            for number, end in _read_name_number(grammar, tokens, at):
                for suffix, stop in _read_letters(grammar, tokens, end, 1):
                    if stop == len(tokens):
                        yield thing, letters + number + suffix


def _read_letters(grammar: NumberGrammar, tokens: Tokens, at: int, most: int) -> Iterator[tuple[str, int]]:
    letters, same = "", grammar.forms.same
    yield letters, at
    longest = max(map(len, grammar.letter_of))
    while at < len(tokens) and len(letters) < most:
        for length in range(longest, 0, -1):
            # A letter's own name is never another spelling of a word ("an" for "a").
            words = tuple(same.get(word, word) if len(word) > 1 else word for word in tokens[at : at + length])
            letter = grammar.letter_of.get(words)
            if letter is not None:
                break
        else:
            return
        at += len(words)
        letters += letter
        yield letters, at


def _read_name_number(grammar: NumberGrammar, tokens: Tokens, at: int) -> Iterator[tuple[str, int]]:
    heard, digit = grammar.forms.ear(tokens), grammar.forms.digit
    for value, end in _name_numbers(grammar).read(heard, at, {}):
        yield str(value), end
    text = ""
    for end in range(at, min(at + 6, len(heard))):
        if heard[end] not in digit:
            return
        text += str(digit[heard[end]])
        yield text, end + 1


def _read_digits(grammar: NumberGrammar, heard: Tokens) -> list[str]:
    """Digits one by one, in twos ("forty seven eleven"), doubled ("double five"), or a whole number said at once."""
    digit = grammar.forms.digit
    found = [str(value) for value in _all_of(grammar.cardinal, heard, {}) if value >= 100]
    text, at = "", 0
    while at < len(heard):
        word = heard[at]
        if word in digit:
            text += str(digit[word])
        elif word in grammar.repeats and heard[at + 1 : at + 2] and heard[at + 1] in digit:
            text += str(digit[heard[at + 1]]) * grammar.repeats[word]
            at += 1
        else:
            # The longest two-digit number: "forty seven" is 47, as everybody means it, never 40 and 7.
            ends = grammar.two_digits.read(heard, at, {})
            if not ends:
                return found
            value, end = max(ends, key=lambda item: item[1])
            text += str(value)
            at = end - 1
        at += 1
    return [text, *found]


# Saying

_EVERY_MARK = frozenset({"ruler", "tenths", "thirds", "exact"})
_KIND_OF = {
    "percent": NumberKind.PERCENT,
    "deg": NumberKind.TEMPERATURE,
    "24h": NumberKind.CLOCK_TIME,
    **{
        unit: kind
        for kind, dimension in (
            (NumberKind.LENGTH, "length"),
            (NumberKind.AREA, "area"),
            (NumberKind.MASS, "mass"),
            (NumberKind.VOLUME, "volume"),
            (NumberKind.DURATION, "duration"),
            (NumberKind.TEMPERATURE, "temperature"),
            (NumberKind.COUNT, "count"),
        )
        for unit, info in quantities.UNITS.items()
        if info.dimension == dimension
    },
}


def _exact(value: Fraction | float) -> Fraction:
    if isinstance(value, Fraction):
        return value
    if not math.isfinite(value):
        raise ValueError(f"{value} cannot be said; give a finite number")
    return Fraction(repr(value))


def _whole(value: Fraction) -> NumberValue:
    return value.numerator if value.denominator == 1 else value


def _ways_to_say(
    grammar: NumberGrammar, kind: NumberKind, value: Fraction, unit: str | None, marks: frozenset[str], thing: str
) -> Iterator[Tokens]:
    number = _whole(value % 720 if kind is NumberKind.CLOCK_TIME and unit is None else value)
    for rule in grammar.rules[kind]:
        offered = rule.unit == unit and rule.thing == thing and (rule.offered or unit == "count")
        offered = offered and (not rule.feet or "feet" in marks)
        if offered and rule.node.low <= number <= rule.node.high:
            yield from rule.node.wordings(number, marks)


def wordings(
    value: Fraction | float,
    unit: str | None,
    *,
    kind: NumberKind | None = None,
    thing: str = "",
    marks: Iterable[str] = ("ruler", "tenths", "thirds", "hundreds", "exact"),
    language: str = HEARD,
) -> tuple[str, ...]:
    """Every wording of a value that the grammar offers, the usual one first; () when it has none.

    Parameters: value [unit], exact; unit, None for a bare number; thing, of a count; marks, the registers to draw on:
    "ruler" (eighths to thirty-seconds), "tenths", "thirds", "hundreds" ("twelve hundred"), "pairs" ("twelve fifty"),
    "digits" ("nine five"), "places" ("point two five", "point twenty five"; otherwise one decimal), "exact" (as
    many decimals as it takes), "feet" ("four feet six" for inches).

    >>> wordings(Fraction(3, 2), "in")[:3]
    ('one and a half inches', 'one and one half inches', 'one point five inches')
    """
    own = kind or (_KIND_OF[unit] if unit else NumberKind.NUMBER)
    ways = _ways_to_say(_grammar(language), own, _exact(value), unit, frozenset(marks), thing)
    return tuple(dict.fromkeys(map(" ".join, ways)))


def say(value: Fraction | float, unit: str | None, *, kind: NumberKind | None = None, language: str = HEARD) -> str:
    """A value in the words of the trade, for a voice and for a recognizer: lower case, no hyphens.

    Parameters: value [unit], from 0 to 99,999, below zero only for temperatures and bare numbers; kind, where the
    unit does not tell (None: a plain number; CLOCK_TIME: minutes after midnight, the half of the day left open).
    Result: exact where the value has words of its own, otherwise rounded to three decimals.
    Errors: `ValueError` outside the range and for a unit that has no words.

    >>> say(95, "percent"), say(Fraction(3, 8), "in"), say(0.5, "in"), say(Fraction(19, 8), "in")
    ('ninety five percent', 'three eighths of an inch', 'half an inch', 'two and three eighths inches')
    >>> say(1200, "mm"), say(12.7, "mm"), say(1.5, "h"), say(-5, "degC")
    ('twelve hundred millimeters', 'twelve point seven millimeters', 'one and a half hours', 'minus five degrees
    celsius')
    >>> say(630, None, kind=NumberKind.CLOCK_TIME), say(3, "count"), say(105, None)
    ('ten thirty', 'three', 'one hundred five')
    """
    if unit is not None and unit not in _KIND_OF:
        raise ValueError(f"{unit!r} has no words here; say a value in one of: {', '.join(sorted(_KIND_OF))}")
    own = kind or (_KIND_OF[unit] if unit else NumberKind.NUMBER)
    if own in (NumberKind.NAME, NumberKind.DIGITS, NumberKind.SIZE):
        raise ValueError(f"a {own.value} is more than one number; say the whole reading with say_spoken")
    marks = _EVERY_MARK | {"hundreds"} if own is NumberKind.LENGTH else _EVERY_MARK
    exact = _exact(value)
    for candidate in (exact, round(exact, 3)):
        for words in _ways_to_say(_grammar(language), own, Fraction(candidate), unit, marks, ""):
            return " ".join(words)
    raise ValueError(f"{float(exact):g} {unit or ''} has no words; numbers go from 0 to 99,999".replace("  ", " "))


def say_spoken(reading: Spoken, *, language: str = HEARD) -> str:
    """A whole reading in words: names with the ICAO alphabet, sizes with both sides, digits one by one.

    >>> say_spoken(parse("two by four feet".split(), NumberKind.SIZE)[0])
    'two by four feet'
    >>> say_spoken(parse(["tile", "b", "twelve"], NumberKind.NAME)[0])
    'tile bravo twelve'
    """
    grammar = _grammar(language)
    if reading.kind is NumberKind.SIZE:
        first, second = reading.values
        last = say(second, reading.unit, kind=NumberKind.LENGTH, language=language)
        shared = first.denominator == 1 and second.denominator == 1 and second != 1
        left = say(first, None if shared else reading.unit, kind=NumberKind.LENGTH, language=language)
        return f"{left} {grammar.by} {last}"
    if reading.kind is NumberKind.DIGITS:
        return _one_by_one(grammar, reading.text)
    if reading.kind is NumberKind.NAME:
        return " ".join(filter(None, (reading.thing, *_name_words(language, reading.text))))
    if reading.kind is NumberKind.COUNT and reading.thing:
        for words in _ways_to_say(grammar, NumberKind.COUNT, reading.value, "count", _EVERY_MARK, reading.thing):
            return " ".join(words)
    return say(reading.value, reading.unit, kind=reading.kind, language=language)


def _one_by_one(grammar: NumberGrammar, figures: str) -> str:
    return " ".join(next(grammar.forms.digit_words(figures)))


def _name_words(language: str, text: str) -> Iterator[str]:
    grammar = _grammar(language)
    for part in re.findall(r"\d+|[^\W\d_]", text):
        if part.isalpha():
            yield " ".join(grammar.letters[part.lower()][0])
        elif part.startswith("0") and part != "0":
            yield _one_by_one(grammar, part)
        else:
            yield say(int(part), None, language=language)


def digits(value: Fraction | float, *, language: str = HEARD) -> str:
    """A value digit by digit, as it is read back where the whole word could be misheard.

    Result: decimals to five places, so every fraction of the tape is exact; rounded beyond.
    Errors: `ValueError` for a value that is not finite.

    >>> digits(95), digits(90), digits(3.5), digits(Fraction(5, 32)), digits(-5)
    ('nine five', 'nine zero', 'three point five', 'zero point one five six two five', 'minus five')
    """
    exact = round(_exact(value), 5)
    whole, left = divmod(abs(exact), 1)
    grammar = _grammar(language)
    words = [grammar.minus] if exact < 0 else []
    words.append(_one_by_one(grammar, str(whole)))
    if left:
        words += (grammar.point, _one_by_one(grammar, f"{int(left * 100_000):05}".rstrip("0")))
    return " ".join(words)


def confusable(value: Fraction | float, *, language: str = HEARD) -> bool:
    """Whether the words of a value hold what recognizers mix: in English a teen or a ten (13/30, 14/40 ... 19/90).

    The whole part decides.

    >>> [confusable(value) for value in (13, 90, 95, 12, 115, 1600, 50_000, 20)]
    [True, True, False, False, True, True, True, False]
    """
    return _grammar(language).alike(int(abs(_exact(value))))


# Listing and sampling

# What a step may ask for when it gives no limits of its own [in the unit].
_REACH: Mapping[str | None, tuple[int, int]] = MappingProxyType(
    {
        None: (0, 99_999),
        "percent": (0, 100),
        "mm": (0, 9_999),
        "cm": (0, 999),
        "m": (0, 99),
        "in": (0, 999),
        "ft": (0, 99),
        "mm2": (0, 99_999),
        "cm2": (0, 9_999),
        "m2": (0, 999),
        "in2": (0, 999),
        "ft2": (0, 9_999),
        "g": (0, 9_999),
        "kg": (0, 999),
        "lb": (0, 999),
        "mL": (0, 9_999),
        "L": (0, 99),
        "qt": (0, 99),
        "gal": (0, 99),
        "s": (0, 999),
        "min": (0, 999),
        "h": (0, 99),
        "degC": (-40, 99),
        "degF": (-40, 150),
        "deg": (-40, 150),
        "count": (0, 999),
    }
)
_ON_A_TAPE = ("in", "ft", "in2", "ft2")
_FINE = ("in", "m", "m2", "kg", "lb", "L")


def _whole_share(unit: str | None) -> float:
    """How many of the values in a unit are whole numbers. Ours: on a tape most are fractions."""
    return 0.4 if unit in _ON_A_TAPE else 0.75


def _marks(kind: NumberKind, unit: str | None, high: NumberValue) -> frozenset[str]:
    marks = set()
    if unit in _ON_A_TAPE or kind is NumberKind.NUMBER:
        marks.add("ruler")
    else:
        marks.add("tenths")
    if unit in ("h", "count", "percent") or kind is NumberKind.NUMBER:
        marks.add("thirds")
    if unit in _FINE or kind is NumberKind.NUMBER:
        marks.add("places")
    if unit == "in" and high >= 24:
        marks.add("feet")
    if kind in (NumberKind.LENGTH, NumberKind.SIZE, NumberKind.NUMBER, NumberKind.MASS, NumberKind.AREA):
        marks.add("hundreds")
    in_mm = kind in (NumberKind.LENGTH, NumberKind.SIZE) and unit == "mm"
    if high > 999 and (in_mm or kind is NumberKind.NUMBER):
        marks.add("pairs")
    return frozenset(marks)


def _limits(
    units: Sequence[str], unit: str | None, low: Fraction | None, high: Fraction | None
) -> tuple[NumberValue, NumberValue]:
    """The limits, given in the first of `units`, in `unit`; whole numbers where they are."""
    given = units[0] if units else None
    reach = _REACH.get(unit, _REACH[None])

    def moved(limit: Fraction | None, otherwise: int) -> NumberValue:
        if limit is None:
            return otherwise
        exact = _exact(limit)
        if unit and given and unit != given and {unit, given} <= set(quantities.UNITS):
            exact = quantities.convert_exact(exact, given, unit)
        return _whole(exact)

    return moved(low, reach[0]), moved(high, reach[1])


@dataclass(frozen=True)
class ValueRange:
    """Which values a recognizer listens for.

    low, high, in the first of the units, for NAME of its number, by default what a step usually asks; likely, the ends
    between which values are expected, where they are fewer; whole, only whole numbers; bare, without unit and thing;
    digit_by_digit, "nine five" as well; letters, of a NAME (every one).
    """

    low: Fraction | None = None
    high: Fraction | None = None
    likely: tuple[Fraction, Fraction] | None = None
    whole: bool = False
    bare: bool = False
    digit_by_digit: bool = False
    letters: str | None = None


# What is heard beside what is likely: so much of it all. Ours.
_UNLIKELY = 0.1


@lru_cache(maxsize=512)
def graph(
    kind: NumberKind,
    units: tuple[str, ...],
    heard: ValueRange = ValueRange(),
    knows: Callable[[str], bool] | None = None,
    *,
    language: str = HEARD,
) -> WordGraph:
    """Every wording of every value in a range, and no others: exactly these can be heard.

    Parameters: kind; units, those the answer may carry (a bare number is always among the wordings, in the first of
    them); for COUNT also things (the grammar's; the usual few where none is named), for NAME nouns ("tile"); heard,
    which values; knows, the recognizer's words: a word that it lacks is replaced by one without its plural ending, or
    all wordings with it are left out, since an engine that skips the word would hear "nine" for "nine tenths".
    Errors: `ValueError` for a unit that does not measure the kind, and for low above high.

    >>> said = graph(NumberKind.PERCENT, ("percent",), ValueRange(Fraction(80), Fraction(100)))
    >>> [said.accepts(words.split()) for words in ("eighty one percent", "ninety", "ninety percent five", "seventy")]
    [True, True, False, False]
    """
    if heard.low is not None and heard.high is not None and heard.low > heard.high:
        raise ValueError(f"nothing lies between {heard.low} and {heard.high}; give the lower limit first")

    grammar = _grammar(language)

    def known(word: str) -> str | None:
        other = grammar.forms.same.get(word)
        return next((one for one in (word, other) if one is not None and (knows is None or knows(one))), None)

    sketch = Sketch(known)
    end = sketch.state()
    sketch.end(end)
    if kind is NumberKind.NAME:
        _draw_names(grammar, sketch, end, units, heard)
    elif kind is NumberKind.DIGITS:
        _draw_digits(grammar, sketch, end)
    elif kind is NumberKind.SIZE:
        _check_units(grammar, kind, units)
        middle, by = sketch.state(), sketch.state()
        _draw_kind(grammar, sketch, 0, middle, NumberKind.LENGTH, units, heard)
        sketch.word(middle, grammar.by, by)
        _draw_kind(grammar, sketch, by, end, NumberKind.LENGTH, units, heard)
    else:
        _check_units(grammar, kind, units)
        _draw_kind(grammar, sketch, 0, end, kind, units, heard)
    return sketch.graph()


def _draw_kind(
    grammar: NumberGrammar,
    sketch: Sketch,
    begin: int,
    to: int,
    kind: NumberKind,
    units: Sequence[str],
    heard: ValueRange,
) -> None:
    ranges = [(heard.low, heard.high, 1.0)]
    if heard.likely is not None and heard.likely != (heard.low, heard.high):
        ranges = [(*heard.likely, 1.0 - _UNLIKELY), (heard.low, heard.high, _UNLIKELY)]
    whole = 1.0 if heard.whole else _whole_share(units[0] if units else None)
    parts = [(frozenset[str](), whole), *([] if heard.whole else [(frozenset({PARTS}), 1.0 - whole)])]
    ways = [(low, high, marks, share * part) for low, high, share in ranges for marks, part in parts]
    for least, most, marks, share in ways:
        start = sketch.state()
        marks |= {"digits"} if heard.digit_by_digit else set()
        rules = [one for one in _rules_for(grammar, kind, units) if not heard.bare or one[0].unit is None]
        if _draw_rules(sketch, start, to, kind, units, rules, least, most, marks):
            sketch.free(begin, start, share)


def _draw_rules(
    sketch: Sketch,
    begin: int,
    to: int,
    kind: NumberKind,
    units: Sequence[str],
    rules: Iterable[tuple[Rule, str | None]],
    low: Fraction | None,
    high: Fraction | None,
    extra: frozenset[str],
) -> float:
    count = 0.0
    for rule, unit in rules:
        scale = ("count",) if kind is NumberKind.COUNT else units
        least, most = _limits(scale, unit, low, high)
        if kind is NumberKind.CLOCK_TIME:
            least, most = (0, 719) if rule.unit is None or low is None or high is None else (least, most)
            most = most if rule.unit is None or high is not None else 1439
        marks = _marks(kind, unit, most) | extra
        if rule.feet and "feet" not in marks:
            continue
        start = sketch.state()
        own = rule.node.between(sketch, start, to, least, most, marks)
        if own:
            sketch.free(begin, start, math.sqrt(own))
        count += own
    return count


# A name's parts, as shares of what may follow: ours. Most have one letter and a number, or a number alone.
_LETTER_FIRST, _LETTER_MORE, _LETTERS_ALONE = 0.7, 0.05, 0.15
_BY_DIGITS, _BIG = 0.25, 0.05  # of a name's numbers: digit by digit, and those beyond the usual ones
_MOST_LETTERS, _MOST_DIGITS, _BIGGEST, _LONGEST_LETTER = 3, 6, 9_999, 9


def _draw_names(grammar: NumberGrammar, sketch: Sketch, end: int, units: Sequence[str], heard: ValueRange) -> None:
    """Letters, a number, or both; the noun before them. A letter behind the number is typed."""
    if strange := [noun for noun in units if noun not in grammar.named]:
        raise ValueError(f"{strange[0]!r} is not what names are given to; allowed: {', '.join(grammar.named)}")
    begin, number = sketch.state(), sketch.state()
    sketch.ways(0, [(), *((noun,) for noun in units)], begin)
    letters = grammar.letters if heard.letters is None else heard.letters

    def letter(start: int, to: int, weight: float, most: int) -> None:
        for one in letters:
            ways = [way for way in grammar.letters[one] if len(way) <= most]
            for way in ways:
                sketch.row(start, way, to, weight / len(letters) / len(ways))

    at, share = begin, _LETTER_FIRST
    for count in range(_MOST_LETTERS):
        spelled = sketch.state()
        # Only the first is told at length, "v as in victor".
        letter(at, spelled, share, 2 if count else _LONGEST_LETTER)
        sketch.free(at, number, 1 - share - (_LETTERS_ALONE if count else 0.0))
        sketch.free(spelled, end, _LETTERS_ALONE)
        at, share = spelled, _LETTER_MORE
    sketch.free(at, number, 1 - _LETTERS_ALONE)
    _draw_name_numbers(grammar, sketch, number, end, heard)


def _draw_name_numbers(grammar: NumberGrammar, sketch: Sketch, begin: int, to: int, heard: ValueRange) -> None:
    least, most = 1 if heard.low is None else _whole(heard.low), 99 if heard.high is None else _whole(heard.high)
    usual = sketch.state()
    if grammar.cardinal.between(sketch, usual, to, least, most, frozenset()):
        sketch.free(begin, usual, 1 - _BY_DIGITS - _BIG)
    if heard.high is None:
        big = sketch.state()
        if grammar.cardinal.between(sketch, big, to, most + 1, _BIGGEST, frozenset()):
            sketch.free(begin, big, _BIG)
    at = sketch.state()
    sketch.free(begin, at, _BY_DIGITS)
    for count in range(1, _MOST_DIGITS + 1):
        following = sketch.state()
        _digit(grammar, sketch, at, following)
        if count > 1:
            sketch.free(following, to)
        at = following


def _digit(grammar: NumberGrammar, sketch: Sketch, begin: int, to: int) -> None:
    for words in grammar.forms.digits:
        for word in words:
            sketch.word(begin, word, to, 1 / len(words))


def _draw_digits(grammar: NumberGrammar, sketch: Sketch, end: int) -> None:
    """Digits, as many as one likes."""
    behind = sketch.state()
    _digit(grammar, sketch, 0, behind)
    sketch.free(behind, 0, 0.75)
    sketch.free(behind, end, 0.25)


def _check_units(grammar: NumberGrammar, kind: NumberKind, units: Sequence[str]) -> None:
    own: set[str | None] = {rule.unit for rule in grammar.rules[NumberKind.LENGTH if kind is NumberKind.SIZE else kind]}
    allowed = sorted(
        {unit for unit in own if unit} | (set(grammar.things) | {"count"} if kind is NumberKind.COUNT else set())
    )
    for unit in units:
        if unit not in allowed:
            raise ValueError(f"{unit!r} is no unit of a {kind.value}; allowed: {', '.join(allowed) or 'none'}")


def _rules_for(grammar: NumberGrammar, kind: NumberKind, units: Sequence[str]) -> Iterator[tuple[Rule, str | None]]:
    """The offered rules that these units allow, each with the unit that its range and its register go by."""
    things = [unit for unit in units if unit in grammar.things] or grammar.usual_things
    for rule in grammar.rules[kind]:
        if not rule.offered:
            continue
        if rule.unit is None:
            if not rule.ruler or not units or units[0] in _ON_A_TAPE:
                yield rule, units[0] if units and kind is not NumberKind.CLOCK_TIME else None
        elif kind is NumberKind.CLOCK_TIME:
            yield rule, None
        elif rule.unit == "deg":
            if units:
                yield rule, units[0]
        elif rule.feet:
            if "in" in units or "ft" in units:
                yield rule, "in"
        elif rule.thing:
            if rule.thing in things:
                yield rule, "count"
        elif rule.unit in units:
            yield rule, rule.unit


@lru_cache
def vocabulary(*, language: str = HEARD) -> frozenset[str]:
    """Every word of the grammar, without the other spellings that `parse` also takes.

    >>> {"thirty", "seconds", "bravo", "percent"} <= vocabulary()
    True
    """
    grammar = _grammar(language)
    words = {word for rules in grammar.rules.values() for rule in rules for word in rule.node.vocabulary()}
    words |= {word for ways in grammar.letters.values() for way in ways for word in way}
    return frozenset(words | {grammar.by, grammar.number, *grammar.repeats, *grammar.named, *grammar.forms.digit})


def sample(
    rng: random.Random,
    kind: NumberKind,
    units: Sequence[str],
    low: Fraction | None = None,
    high: Fraction | None = None,
    *,
    language: str = HEARD,
) -> tuple[str, Spoken]:
    """A sentence that a crew might say, and what it means: for tests and for synthetic speech.

    Parameters: as for `graph`, low and high in the first of the units.
    Result: the words, and the one of their readings that was meant.
    Errors: `ValueError` where the range holds no value with words.

    >>> text, meant = sample(random.Random(1), NumberKind.PERCENT, ["percent"], Fraction(80), Fraction(100))
    >>> meant in parse(text.split(), NumberKind.PERCENT)
    True
    """
    for _ in range(500):
        text, wanted = _sample_once(language, rng, kind, units, low, high)
        for reading in parse(text.split(), kind, language=language) if text else ():
            if wanted(reading):
                return text, reading
    raise ValueError(f"no {kind.value} between {low} and {high} has words in {', '.join(units) or 'no unit'}")


_Wanted = Callable[[Spoken], bool]


def _sample_once(
    language: str,
    rng: random.Random,
    kind: NumberKind,
    units: Sequence[str],
    low: Fraction | None,
    high: Fraction | None,
) -> tuple[str, _Wanted]:
    grammar = _grammar(language)
    if kind is NumberKind.DIGITS:
        text = "".join(rng.choice("0123456789") for _ in range(rng.randint(3, 6)))
        return " ".join(rng.choice(list(grammar.forms.digit_words(text)))), lambda reading: reading.text == text
    if kind is NumberKind.NAME:
        return _sample_name(language, rng, units, low, high)
    if kind is NumberKind.SIZE:
        of_both = rng.choice(list(units))
        sides = (_sample_value(rng, units, of_both, low, high), _sample_value(rng, units, of_both, low, high))
        marks = _marks(kind, of_both, max(sides)) - {"feet"}
        left = wordings(sides[0], rng.choice((None, of_both)), kind=NumberKind.LENGTH, marks=marks, language=language)
        right = wordings(sides[1], of_both, kind=NumberKind.LENGTH, marks=marks, language=language)
        spoken = f"{rng.choice(left)} {grammar.by} {rng.choice(right)}" if left and right else ""
        return spoken, lambda reading: (reading.values, reading.unit) == (sides, of_both)
    if kind is NumberKind.CLOCK_TIME:
        named: str | None = rng.choice((None, "24h"))
        least, most = (0, 1439) if low is None or high is None else (int(low), int(high))
        value = Fraction(rng.randint(least, most))
        ways = wordings(value, named, kind=kind, language=language)
        shown = value if named else value % 720 + (720 if value % 720 < 60 else 0)
        return (rng.choice(ways) if ways else ""), lambda reading: (reading.value, reading.unit) == (shown, named)
    thing = rng.choice([*(unit for unit in units if unit in grammar.things), ""])
    unit = "count" if kind is NumberKind.COUNT else rng.choice(list(units)) if units else None
    value = _sample_value(rng, ("count",) if kind is NumberKind.COUNT else units, unit, low, high)
    # A bare number is in the first of the units, so only that one may go without its name.
    first = units[0] if units else None
    bare = (unit == "count" and not thing) or (unit == first and rng.random() < 0.3)
    said_unit = None if bare else unit
    marks = _marks(kind, unit, 0 if value < 1000 else value)
    ways = wordings(value, said_unit, kind=kind, thing="" if bare else thing, marks=marks, language=language)
    return (
        (rng.choice(ways[:40]) if ways else ""),
        lambda reading: (reading.value, reading.unit) == (value, said_unit) or (bare and reading.value == value),
    )


def _sample_name(
    language: str, rng: random.Random, units: Sequence[str], low: Fraction | None, high: Fraction | None
) -> tuple[str, _Wanted]:
    number = rng.randint(1 if low is None else ceil(low), 99 if high is None else floor(high))
    letters = _grammar(language).letters
    letter = rng.choice(sorted(letters))
    spelled = " ".join(rng.choice(letters[letter]))
    noun = rng.choice(["", *units])
    text = f"{letter.upper()}{number}"
    return (
        f"{noun} {spelled} {say(number, None, language=language)}".strip(),
        lambda reading: (reading.text, reading.thing) == (text, noun),
    )


def _sample_value(
    rng: random.Random, units: Sequence[str], unit: str | None, low: Fraction | None, high: Fraction | None
) -> Fraction:
    """Mostly whole numbers; the rest on the marks of a tape, or in halves, quarters and tenths."""
    least, most = _limits(units, unit, low, high)
    marks = (8, 16, 32, 2, 4) if unit in _ON_A_TAPE else (2, 10, 4) if unit in _FINE else (2, 10)
    whole = rng.random() < _whole_share(unit)
    part = 1 if whole or unit == "count" else rng.choice(marks)
    first, last = ceil(least * part), floor(most * part)
    if first > last:
        part = 32 * 5
        first, last = ceil(least * part), floor(most * part)
    return Fraction(rng.randint(first, max(first, last)), part)
