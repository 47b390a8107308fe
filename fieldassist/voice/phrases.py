"""From what may be said now to what the recognizer listens for, and from heard words back to a command.

Both directions read the same offers (checklist/prompt), so nothing can be heard that could not be said.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from random import Random

from fieldassist.checklist.commands import (
    Choose,
    Command,
    ConfirmStep,
    ReleaseHold,
    StartRound,
)
from fieldassist.checklist.offers import Offer, Slot
from fieldassist.checklist.plan import fold_letters
from fieldassist.language import numbers
from fieldassist.language.numbers import NumberKind, Spoken
from fieldassist.language.spoken import spoken_language
from fieldassist.trade import quantities
from fieldassist.voice import typed

VALUE = "{value}"
SPEECH = spoken_language()
# Words that carry nothing.
_AROUND = SPEECH.fillers | SPEECH.links
KIND_OF = {
    "percent": NumberKind.PERCENT,
    "length": NumberKind.LENGTH,
    "area": NumberKind.AREA,
    "temperature": NumberKind.TEMPERATURE,
    "duration": NumberKind.DURATION,
    "count": NumberKind.COUNT,
    "mass": NumberKind.MASS,
    "volume": NumberKind.VOLUME,
    "name": NumberKind.NAME,
    "number": NumberKind.NUMBER,
    "digits": NumberKind.DIGITS,
}


@dataclass(frozen=True, slots=True)
class Taken:
    """Words understood as a command. `value`: the reading in writing, "" without one."""

    command: Command
    text: str
    value: str = ""


@dataclass(frozen=True, slots=True)
class Unclear:
    """Words that could mean more than one value: `choices` are ready commands to choose from."""

    text: str
    choices: tuple[Taken, ...]


@dataclass(frozen=True, slots=True)
class NotUnderstood:
    """Words that are none of the phrases."""

    text: str


Understood = Taken | Unclear | NotUnderstood


def understand(words: str, offers: Sequence[Offer]) -> Understood:
    """What `words` mean among `offers`.

    What the sequence would take now goes first; then what it would refuse, so that the crew hears why.
    """
    # Typed names may have other letters than those in which they are listened for.
    words = fold_letters(words)
    # A hyphen joins spoken words ("ninety-five"); between figures it belongs to the number ("1-3/8 in"). A comma after
    # a word is how a name that is called is written ("edwin, base released").
    text = " ".join(re.sub(r"(?<=[a-z])(-(?=[a-z])|,(?= ))", " ", words.lower()).split())
    heard = tuple(text.split())
    bare = core(heard)
    for now in (True, False):
        if found := _matches(heard, [o for o in offers if o.now is now], _in_order, tuple):
            return _settle(text, found)
    for same in (_in_order, _in_any_order):
        for now in (True, False):
            if bare and (found := _matches(bare, [o for o in offers if o.now is now], same, core)):
                return _settle(text, found)
    if (spelled := typed.in_words(text)) != text:
        return understand(spelled, offers)
    return NotUnderstood(text)


_Words = tuple[str, ...]
_Value = tuple[Fraction, str, str | None, str]  # value, unit, label, in writing
# Where the value's words lie among the heard ones, for a phrase's words before and after it: every way that fits.
_Fit = Callable[[_Words, _Words, _Words | None], Iterator[_Words]]


def core(words: Iterable[str]) -> _Words:
    """The words without those that carry nothing."""
    return tuple(w for w in words if w not in _AROUND)


def is_number_alone(words: str) -> bool:
    """Whether words are a number without a unit and without a name.

    >>> [is_number_alone(words) for words in ("ninety six", "uh three eighths", "half an inch", "coverage nine")]
    [True, True, False, False]
    """
    return bool(numbers.parse(core(words.split()), NumberKind.NUMBER))


def _settle(text: str, found: list[Taken]) -> Understood:
    return found[0] if len(found) == 1 else Unclear(text, tuple(found))


def _in_order(heard: _Words, before: _Words, after: _Words | None) -> Iterator[_Words]:
    """As the phrase is written. `after` is None for a phrase without a value."""
    if after is None:
        if heard == before:
            yield ()
        return
    inner = heard[len(before) : len(heard) - len(after)]
    if inner and heard == (*before, *inner, *after):
        yield inner


def _in_any_order(heard: _Words, before: _Words, after: _Words | None) -> Iterator[_Words]:
    """The phrase's own words in any order, all before the value or all after it: "ninety five percent coverage"."""
    if after is None:
        if len(before) > 1 and sorted(heard) == sorted(before):
            yield ()
        return
    name = sorted((*before, *after))
    if name and len(heard) > len(name):
        if sorted(heard[: len(name)]) == name:
            yield heard[len(name) :]
        if sorted(heard[-len(name) :]) == name:
            yield heard[: -len(name)]


def _matches(
    heard: _Words, offers: Sequence[Offer], fits: _Fit, shape: Callable[[Iterable[str]], _Words]
) -> list[Taken]:
    """What the words mean by the first offer that they fit. `shape`: how a phrase's words are compared.

    In another order than written they must fit one command only: else it is not known which was meant.
    """
    text = " ".join(heard)
    first: list[Taken] = []
    for offer in offers:
        found = _match(heard, text, offer, fits, shape)
        if found and fits is _in_order:
            return found
        if found and first and {t.command for t in found} != {t.command for t in first}:
            return []
        first = first or found
    return first


def _match(heard: _Words, text: str, offer: Offer, fits: _Fit, shape: Callable[[Iterable[str]], _Words]) -> list[Taken]:
    for phrase in offer.phrases:
        if VALUE not in phrase:
            if any(True for _ in fits(heard, shape(phrase.split()), None)):
                return [Taken(offer.command, text)]
            continue
        if offer.slot is None:
            continue
        before, after = (shape(part.split()) for part in phrase.split(VALUE))
        for inner in fits(heard, before, after):
            found = [
                Taken(offer.fill(value, unit, label), text, written)
                for value, unit, label, written in _values(inner, offer.slot)
            ]
            if found:
                return found
    return []


def _values(words: tuple[str, ...], slot: Slot) -> list[_Value]:
    """Every value that `words` can be for `slot`: (value, unit, label, in writing)."""
    if not slot.heard:
        text = " ".join(words)
        return [(Fraction(0), "count", text, text)]
    kind = KIND_OF[slot.dimension]
    if any(map(typed.has_figure, words)):
        return _typed(" ".join(words), slot)
    if kind in (NumberKind.NAME, NumberKind.DIGITS, NumberKind.NUMBER):
        return [_meant(spoken, slot) for spoken in numbers.parse(words, kind)]
    found: dict[tuple[Fraction, str], str] = {}
    for spoken in numbers.parse(words, kind, default_unit=None if slot.dimension == "temperature" else slot.units[0]):
        unit = _unit_of(spoken.value, spoken.unit, slot)
        if unit is not None:
            found.setdefault((spoken.value, unit), _write(spoken.value, unit))
    # Two readings of the same words where only one is possible are no ambiguity.
    likely = {k: v for k, v in found.items() if _within(k[0], k[1], slot)}
    return [(value, unit, None, text) for (value, unit), text in (likely or found).items()]


def _typed(text: str, slot: Slot) -> list[_Value]:
    """A value written in figures, as it is typed: "95 %", "3/16 in", "68 F", "B12"."""
    if slot.dimension in ("name", "digits"):
        return [(Fraction(0), "count", text.upper(), text.upper())]
    figure = typed.read(text)
    if figure is None or (figure.unit == "deg" and slot.dimension != "temperature"):
        return []
    unit, value = "count", figure.value
    if slot.units:
        if slot.dimension == "percent" and figure.unit is None and "/" in text:
            # As it is said: three quarters are 75 %.
            value = 100 * value
        unit = _unit_of(value, figure.unit, slot) or ""
        if unit not in quantities.UNITS or quantities.dimension_of(unit) != slot.dimension:
            return []
    return [(value, unit, None, _write(value, unit))]


def _unit_of(value: Fraction, unit: str | None, slot: Slot) -> str | None:
    """The unit a spoken or typed value has in this slot; None when it measures something else.

    Degrees without C or F are the first of the slot's units in which they are possible at all.
    """
    if unit in (None, "deg"):
        return next((one for one in slot.units if _within(value, one, slot)), slot.units[0])
    return unit if unit in quantities.UNITS else None


def _within(value: Fraction, unit: str, slot: Slot) -> bool:
    if quantities.dimension_of(unit) != slot.dimension:
        return False
    return slot.low - 1e-9 <= quantities.canonical(float(value), unit) <= slot.high + 1e-9


def _write(value: Fraction, unit: str) -> str:
    return quantities.format_quantity(float(value), unit) if unit != "count" else str(value)


class Beginnings:
    """Offers made ready to be found at the beginning of words that go on: phrases one after another in a breath.

    Only as a phrase is written, but for the words that carry nothing: any order would make one phrase of two.
    """

    def __init__(self, offers: Sequence[Offer]) -> None:
        self._fixed: dict[str, list[tuple[_Words, Offer]]] = {}
        self._named: dict[str, list[tuple[_Words, _Words, Offer]]] = {}
        self._valued: list[tuple[_Words, Offer]] = []
        for offer in sorted(offers, key=lambda offer: not offer.now):
            for phrase in offer.phrases:
                before, after = _shaped(phrase)
                if after is None:
                    if before:
                        self._fixed.setdefault(before[0], []).append((before, offer))
                elif offer.slot is not None and offer.slot.heard:
                    if before:
                        self._named.setdefault(before[0], []).append((before, after, offer))
                    else:
                        self._valued.append((after, offer))

    def of(self, words: Sequence[str], *, bare: bool = False) -> dict[int, Understood]:
        """How many of the words a phrase takes, and what they mean by the first offer that they fit.

        words: without those that carry nothing (`core`); bare: a value alone may be meant too.
        """
        found: dict[int, Understood] = {}
        heard = tuple(words)
        if not heard:
            return found
        for phrase, offer in self._fixed.get(heard[0], ()):
            if heard[: len(phrase)] == phrase:
                found.setdefault(len(phrase), Taken(offer.command, " ".join(phrase)))
        for before, after, offer in self._named.get(heard[0], ()):
            if heard[: len(before)] == before:
                _with_values(found, heard, len(before), after, offer)
        for after, offer in self._valued:
            if after or bare:
                _with_values(found, heard, 0, after, offer)
        return found


def _with_values(found: dict[int, Understood], heard: _Words, begin: int, after: _Words, offer: Offer) -> None:
    assert offer.slot is not None
    for end in range(begin + 1, min(len(heard) - len(after), begin + _LONGEST_VALUE) + 1):
        taken = end + len(after)
        if heard[end:taken] != after or taken in found:
            continue
        values = _values_of(heard[begin:end], offer.slot)
        if values:
            text = " ".join(heard[:taken])
            meant = [Taken(offer.fill(value, unit, label), text, written) for value, unit, label, written in values]
            found[taken] = _settle(text, meant)


# Words of the longest value: "eight hundred and eighty eight square inches and three fourths" has ten.
_LONGEST_VALUE = 13


@lru_cache(maxsize=4096)
def _values_of(words: _Words, slot: Slot) -> tuple[_Value, ...]:
    return tuple(_values(words, slot))


@lru_cache(maxsize=8192)
def _shaped(phrase: str) -> tuple[_Words, _Words | None]:
    """A phrase's words that carry something before and after its value; no second part without one."""
    before, value, after = phrase.partition(VALUE)
    return core(before.split()), core(after.split()) if value else None


# --- what is said -----------------------------------------------------------------------------------------------

# Commands that report work: a crew says them as sentences.
_WORK = (ConfirmStep, Choose, StartRound, ReleaseHold)


def spoken_ways(offer: Offer, phrase: str, *, reordered: bool = True) -> list[str]:
    """The ways to say a phrase of an offer, the phrase itself first. reordered: also with its words in another order.

    >>> spoken_ways(Offer((), "", ConfirmStep(section="tile", step="set")), "tile set")
    ['tile set', 'the tile set', 'tile is set', 'the tile is set', 'set tile', 'set the tile']
    """
    before, value, after = (part.strip() for part in phrase.partition(VALUE))
    if value:
        return [phrase, *SPEECH.value_variants(before, after, VALUE, reordered)]
    return [phrase, *(SPEECH.variants(phrase, reordered) if isinstance(offer.command, _WORK) else ())]


def sample_sentences(offers: Sequence[Offer], random: Random, count: int) -> list[Taken]:
    """Sentences that a crew might say now, each with the command it means: for tests and for synthetic speech.

    count: how many. Offers that may be said now take turns, so that none is left out of a sample as long as their
    number; phrase, value, word order and fillers are drawn. None when nothing may be said.
    """
    now = [o for o in offers if o.now and o.phrases and (o.slot is None or o.slot.heard)]
    found: list[Taken] = []
    turns: list[Offer] = []
    while now and len(found) < count:
        if not turns:
            turns = random.sample(now, len(now))
        meant = _sampled(turns.pop(), random)
        # Words that could mean something else too are asked back: no sentence to test hearing with.
        if not isinstance(understand(meant.text, offers), Unclear):
            found.append(meant)
    return found


def _sampled(offer: Offer, random: Random) -> Taken:
    phrase = random.choice(offer.phrases)
    command, written = offer.command, ""
    if VALUE in phrase and offer.slot is not None:
        words, spoken = _sampled_value(offer.slot, random)
        value, unit, label, written = _meant(spoken, offer.slot)
        command = offer.fill(value, unit, label)
    else:
        words = ""
    # The plain wording is the usual one; the others have the rest.
    ways = [way.replace(VALUE, words) for way in spoken_ways(offer, phrase)]
    words = ways[0] if random.random() < 0.6 else random.choice(ways)
    chance = random.random()
    if chance < 0.1:
        words = f"{random.choice(SPEECH.said_before)} {words}"
    elif chance < 0.15:
        words = f"{words} {random.choice(SPEECH.said_after)}"
    return Taken(command, words, written)


def _sampled_value(slot: Slot, random: Random) -> tuple[str, Spoken]:
    kind = KIND_OF[slot.dimension]
    if kind in (NumberKind.NAME, NumberKind.DIGITS, NumberKind.NUMBER):
        return numbers.sample(random, kind, ())
    while True:
        unit = random.choice(slot.units)
        low, high = (Fraction(in_unit(end, unit)).limit_denominator(64) for end in (slot.low, slot.high))
        words, spoken = numbers.sample(random, kind, (unit,), low, high)
        # A bare number means the usual unit, so only one that was drawn in it goes without.
        if spoken.unit is not None or unit == slot.units[0]:
            return words, spoken


def _meant(spoken: Spoken, slot: Slot) -> _Value:
    """A value as the grammar made it, as a reading of this slot: without a unit, in the usual one."""
    kind = KIND_OF[slot.dimension]
    if kind in (NumberKind.NAME, NumberKind.DIGITS):
        return spoken.value, "count", str(spoken), str(spoken)
    unit = "count" if kind is NumberKind.NUMBER else _unit_of(spoken.value, spoken.unit, slot) or slot.units[0]
    return spoken.value, unit, None, _write(spoken.value, unit)


def unknown_words(offers: Iterable[Offer], knows: Callable[[str], bool]) -> list[str]:
    """Words of the phrases that the model cannot hear: they can be tapped or typed, not said."""
    words = {w for offer in offers for phrase in offer.phrases for w in phrase.split() if w != VALUE}
    return sorted(w for w in words if not knows(w))


def in_unit(value: float, unit: str) -> float:
    return quantities.convert(value, quantities.unit_info(unit).canonical, unit)
