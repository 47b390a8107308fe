"""From what may be said now to what the recognizer listens for, and from heard words back to a command.

Both directions read the same offers (checklist/prompt), so nothing can be heard that could not be said.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache

from fieldassist.checklist.commands import Command
from fieldassist.checklist.prompt import Offer, Slot
from fieldassist.trade import quantities
from fieldassist.voice import numbers
from fieldassist.voice.numbers import Kind, Spoken

VALUE = "{value}"
# Said around a command without changing it; never inside one of our own phrases.
FILLERS = frozenset({"please", "uh", "um", "er", "ah", "okay", "ok", "so", "well", "hey"})
_KIND = {
    "percent": Kind.PERCENT,
    "length": Kind.LENGTH,
    "area": Kind.AREA,
    "temperature": Kind.TEMPERATURE,
    "duration": Kind.DURATION,
    "count": Kind.COUNT,
    "mass": Kind.MASS,
    "volume": Kind.VOLUME,
    "name": Kind.NAME,
    "number": Kind.NUMBER,
    "digits": Kind.DIGITS,
}
# How many times a phrase stands in the recognizer's list: the list is counted into a language model, and a short
# answer that may be given now must not drown among hundreds of numbers.
_NOW_WEIGHT = 12
_LATER_WEIGHT = 3


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
    # A hyphen joins spoken words ("ninety-five"); between figures it belongs to the number ("1-3/8 in").
    text = " ".join(re.sub(r"(?<=[a-z])-(?=[a-z])", " ", words.lower()).split())
    for heard in _without_fillers(text.split()):
        for now in (True, False):
            for offer in offers:
                if offer.now is now and (found := _match(heard, offer)):
                    return found[0] if len(found) == 1 else Unclear(text, tuple(found))
    return NotUnderstood(text)


def _without_fillers(words: list[str]) -> Iterator[tuple[str, ...]]:
    """The words as they are, then without fillers where that differs."""
    yield tuple(words)
    bare = tuple(w for w in words if w not in FILLERS)
    if bare and len(bare) != len(words):
        yield bare


def _match(heard: tuple[str, ...], offer: Offer) -> list[Taken]:
    text = " ".join(heard)
    for phrase in offer.phrases:
        if VALUE not in phrase:
            if text == phrase:
                return [Taken(offer.command, text)]
            continue
        before, after = (part.split() for part in phrase.split(VALUE))
        inner = heard[len(before) : len(heard) - len(after)]
        if (
            offer.slot is None
            or not inner
            or list(heard[: len(before)]) != before
            or list(heard[len(heard) - len(after) :]) != after
        ):
            continue
        found = [
            Taken(offer.fill(value, unit, label), text, written)
            for value, unit, label, written in _values(inner, offer.slot)
        ]
        if found:
            return found
    return []


def _values(words: tuple[str, ...], slot: Slot) -> list[tuple[Fraction, str, str | None, str]]:
    """Every value that `words` can be for `slot`: (value, unit, label, in writing)."""
    kind = _KIND[slot.dimension]
    if any(character.isdigit() for word in words for character in word):
        return _typed(" ".join(words), slot)
    if kind in (Kind.NAME, Kind.DIGITS):
        return [(s.value, "count", str(s), str(s)) for s in numbers.parse(words, kind)]
    if kind is Kind.NUMBER:
        return [(s.value, "count", None, str(s.value)) for s in numbers.parse(words, kind)]
    found: dict[tuple[Fraction, str], str] = {}
    for spoken in numbers.parse(words, kind, default_unit=None if slot.dimension == "temperature" else slot.units[0]):
        unit = _unit_of(spoken, slot)
        if unit is not None:
            found.setdefault((spoken.value, unit), _write(spoken.value, unit))
    # Two readings of the same words where only one is possible are no ambiguity.
    likely = {k: v for k, v in found.items() if _within(k[0], k[1], slot)}
    return [(value, unit, None, text) for (value, unit), text in (likely or found).items()]


def _typed(text: str, slot: Slot) -> list[tuple[Fraction, str, str | None, str]]:
    """A value written in figures, as it is typed: "95 %", "3/16 in", "68 F", "B12"."""
    if slot.dimension in ("name", "digits"):
        return [(Fraction(0), "count", text.upper(), text.upper())]
    try:
        quantity = quantities.parse_quantity(text, slot.units[0] if slot.units else "count")
    except ValueError:
        return []
    if slot.units and quantities.dimension_of(quantity.unit) != slot.dimension:
        return []
    return [(quantity.value, quantity.unit, None, _write(quantity.value, quantity.unit))]


def _unit_of(spoken: Spoken, slot: Slot) -> str | None:
    """The unit a spoken value has in this slot; None when it measures something else.

    Degrees without C or F are the first of the slot's units in which they are possible at all.
    """
    if spoken.unit in (None, "deg"):
        for unit in slot.units:
            if _within(spoken.value, unit, slot):
                return unit
        return slot.units[0]
    return spoken.unit if spoken.unit in quantities.UNITS else None


def _within(value: Fraction, unit: str, slot: Slot) -> bool:
    if quantities.dimension_of(unit) != slot.dimension:
        return False
    return slot.low - 1e-9 <= quantities.canonical(float(value), unit) <= slot.high + 1e-9


def _write(value: Fraction, unit: str) -> str:
    return quantities.format_quantity(float(value), unit) if unit != "count" else str(value)


# --- what the recognizer listens for ------------------------------------------------------------------------------


def recognizer_phrases(offers: Sequence[Offer], knows: Callable[[str], bool]) -> list[str]:
    """The list that a recognizer's runtime grammar is made of: every phrase with every value's wording.

    Phrases with a word that the model does not know are left out: skipping the word would hear something else.
    """
    found: list[str] = []
    for offer in offers:
        weight = _NOW_WEIGHT if offer.now else _LATER_WEIGHT
        for phrase in offer.phrases:
            if VALUE in phrase:
                slot = offer.slot if offer.now else _roughly(offer.slot)
                if slot is not None:
                    before, after = phrase.split(VALUE)
                    if all(knows(w) for w in f"{before} {after}".split()):
                        found += [f"{before}{value}{after}" for value in _value_phrases(slot, knows)]
            elif all(knows(w) for w in phrase.split()):
                found += [phrase] * weight
    return found


def _roughly(slot: Slot | None) -> Slot | None:
    """What suffices to hear that a step is answered out of turn: the usual unit, and no names."""
    if slot is None or slot.dimension == "name":
        return None
    return replace(slot, units=slot.units[:1])


def unknown_words(offers: Iterable[Offer], knows: Callable[[str], bool]) -> list[str]:
    """Words of the phrases that the model cannot hear: they can be tapped or typed, not said."""
    words = {w for offer in offers for phrase in offer.phrases for w in phrase.split() if w != VALUE}
    return sorted(w for w in words if not knows(w))


class _Known:
    """The model's words as a container, which is what the number grammar asks."""

    def __init__(self, knows: Callable[[str], bool]) -> None:
        self._knows = knows

    def __contains__(self, word: object) -> bool:
        return isinstance(word, str) and self._knows(word)


# A model's `knows` is one bound method for as long as the model is loaded, so it serves as part of the key.
@lru_cache(maxsize=256)
def _value_phrases(slot: Slot, knows: Callable[[str], bool]) -> tuple[str, ...]:
    kind, known = _KIND[slot.dimension], _Known(knows)
    if kind in (Kind.NAME, Kind.DIGITS, Kind.NUMBER):
        return tuple(numbers.recognizer_phrases(kind, (), known=known))
    low, high = (Fraction(_in_unit(end, slot.units[0])).limit_denominator(64) for end in (slot.low, slot.high))
    return tuple(numbers.recognizer_phrases(kind, slot.units, low, high, known=known))


def _in_unit(value: float, unit: str) -> float:
    return quantities.convert(value, quantities.unit_info(unit).canonical, unit)
