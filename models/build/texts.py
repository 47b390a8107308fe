"""Sentences to train on: what crews say, from the program's own phrases and numbers, and general talk beside it.

Nothing here is read from outside the project. General talk comes as short strings of general words with the small
words of the language between them: no story is told, but every word of the vocabulary is heard between others.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from random import Random

from fieldassist.checklist.offers import Offer
from fieldassist.language import numbers
from fieldassist.language.number_grammar import NumberKind
from fieldassist.language.spoken import HEARD, spoken_language
from fieldassist.trade import quantities
from fieldassist.voice.phrases import sample_sentences
from models.build.language import DEFAULT, language
from models.build.words import all_offers, general_words

# How often each kind is drawn. Ours: two thirds are what the model is for, the rest keeps it a model of the language.
_SHARES = {"phrase": 0.37, "number": 0.14, "digits": 0.16, "alike": 0.08, "word": 0.06, "general": 0.19}

_MEASURED = sorted(unit for unit in quantities.UNITS if quantities.dimension_of(unit) != "count")


@cache
def _offers() -> tuple[tuple[Offer, ...], ...]:
    return tuple(tuple(offers) for offers in all_offers())


@cache
def _general(tag: str) -> tuple[str, ...]:
    return tuple(sorted(general_words(tag)))


def _phrase(random: Random, tag: str) -> str:
    """What may be said; in a language that no checklist is written in, a reading in any unit."""
    attention = spoken_language(tag).attention
    if tag == HEARD:
        said = sample_sentences(random.choice(_offers()), random, 1)
        text = said[0].text if said else attention
    else:
        unit = random.choice(_MEASURED)
        text, _ = numbers.sample(random, NumberKind(quantities.dimension_of(unit)), (unit,), language=tag)
    return f"{attention} {text}" if random.random() < 0.12 else text


def _number(random: Random, tag: str) -> str:
    kind = random.choice((NumberKind.NUMBER, NumberKind.NUMBER, NumberKind.DIGITS, NumberKind.NAME))
    return numbers.sample(random, kind, (), language=tag)[0]


def _alike(random: Random, tag: str) -> str:
    return language(tag).sentences.alike(random)


def _digits(random: Random, tag: str) -> str:
    """One digit as often as several, as figures are read out; now and then with a unit."""
    made = language(tag).sentences
    words = " ".join(random.choice(made.digits) for _ in range(random.choice((1, 1, 1, 1, 2, 3, 4, 4, 4, 5))))
    return f"{words} {random.choice(made.around)}".strip() if random.random() < 0.2 else words


def _word(random: Random, tag: str) -> str:
    return random.choice(_general(tag))


def _sentence(random: Random, tag: str) -> str:
    """General talk: mostly strings of words, now and then a sentence that people on a site say."""
    if random.random() < 0.1:
        return random.choice(spoken_language(tag).site_sentences)
    words: list[str] = []
    for _ in range(random.randint(2, 6)):
        if random.random() < 0.55:
            words.append(random.choice(language(tag).sentences.small))
        words.append(random.choice(_general(tag)))
    return " ".join(words)


_KINDS: dict[str, Callable[[Random, str], str]] = {
    "phrase": _phrase,
    "number": _number,
    "digits": _digits,
    "alike": _alike,
    "word": _word,
    "general": _sentence,
}


def sentence(random: Random, tag: str = DEFAULT) -> str:
    """One sentence in the language with this tag, in lower-case words.

    >>> sentence(Random(1)) == sentence(Random(1))
    True
    """
    (kind,) = random.choices(list(_SHARES), weights=list(_SHARES.values()))
    return _KINDS[kind](random, tag)
