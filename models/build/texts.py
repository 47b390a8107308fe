"""Sentences to train on: what crews say, from the program's own phrases and numbers, and general English beside it.

Nothing here is read from outside the project. General English comes as short strings of general words with the small
words of English between them: no story is told, but every word of the vocabulary is heard between others.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from random import Random

from fieldassist.checklist.offers import Offer
from fieldassist.day.listening import ATTENTION
from fieldassist.language import numbers
from fieldassist.language.number_grammar import NumberKind
from fieldassist.language.spoken import spoken_language
from fieldassist.voice.phrases import sample_sentences
from models.build.words import all_offers, general_words

# How often each kind is drawn. Ours: two thirds are what the model is for, the rest keeps it a model of English.
_SHARES = {"phrase": 0.37, "number": 0.14, "digits": 0.16, "alike": 0.08, "word": 0.06, "general": 0.19}
_SMALL_WORDS = """
    the a an of to and in is it that for on with as at by this from or are was be not have had his her they we you i one
    all there so what when up out if about who would can more no will my their into than some could then other
"""
_SMALL = tuple(_SMALL_WORDS.split())
# Numbers that sound alike are where a reading goes wrong.
_TEENS = ["thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"]
_TENS = ["thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"]
_ONES = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "oh"]
_ORDINALS = (
    *("third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth", "sixteenth", "thirty second"),
    *("thirds", "fourths", "fifths", "eighths", "sixteenths", "thirty seconds"),
)
_AROUND = ("", "", "percent", "millimeters", "minutes", "degrees", "inches", "square inches", "bags")


@cache
def _offers() -> tuple[tuple[Offer, ...], ...]:
    return tuple(tuple(offers) for offers in all_offers())


@cache
def _general() -> tuple[str, ...]:
    return tuple(sorted(general_words()))


def _phrase(random: Random) -> str:
    said = sample_sentences(random.choice(_offers()), random, 1)
    text = said[0].text if said else ATTENTION
    return f"{ATTENTION} {text}" if random.random() < 0.12 else text


def _number(random: Random) -> str:
    kind = random.choice((NumberKind.NUMBER, NumberKind.NUMBER, NumberKind.DIGITS, NumberKind.NAME))
    return numbers.sample(random, kind, ())[0]


def _alike(random: Random) -> str:
    """Teens, tens and ordinals, alone or with a unit."""
    first = random.choice((_TEENS, _TENS, _ORDINALS))
    words = random.choice(first)
    if first is _TENS and random.random() < 0.4:
        words += f" {random.choice(_ONES[1:10])}"
    if first is _ORDINALS:
        words = f"{random.choice(('a', *_ONES[1:10]))} {words}"
    return f"{words} {random.choice(_AROUND)}".strip()


def _digits(random: Random) -> str:
    """One digit as often as several, as figures are read out; now and then with a unit."""
    words = " ".join(random.choice(_ONES) for _ in range(random.choice((1, 1, 1, 1, 2, 3, 4, 4, 4, 5))))
    return f"{words} {random.choice(_AROUND)}".strip() if random.random() < 0.2 else words


def _word(random: Random) -> str:
    return random.choice(_general())


def _sentence(random: Random) -> str:
    """General English: mostly strings of words, now and then a sentence that people on a site say."""
    if random.random() < 0.1:
        return random.choice(spoken_language().site_sentences)
    words: list[str] = []
    for _ in range(random.randint(2, 6)):
        if random.random() < 0.55:
            words.append(random.choice(_SMALL))
        words.append(random.choice(_general()))
    return " ".join(words)


_KINDS: dict[str, Callable[[Random], str]] = {
    "phrase": _phrase,
    "number": _number,
    "digits": _digits,
    "alike": _alike,
    "word": _word,
    "general": _sentence,
}


def sentence(random: Random) -> str:
    """One sentence, in lower-case words.

    >>> sentence(Random(1)) == sentence(Random(1))
    True
    """
    (kind,) = random.choices(list(_SHARES), weights=list(_SHARES.values()))
    return _KINDS[kind](random)
