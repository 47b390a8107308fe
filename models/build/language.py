"""What a language gives to make a model of it: its folder here (`en/`) holds it as `LANGUAGE`.

Every stage takes the language as an argument, `--language en` unless another is named.
"""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from pathlib import Path
from random import Random
from typing import Protocol

from models.build.units import Units

Pronunciation = tuple[str, ...]
DEFAULT = "en"


@dataclass(frozen=True)
class SentenceWords:
    """What sentences to train on are made of, beside the program's own phrases and numbers.

    small: words that stand between all others. digits: the words of each. around: what numbers count, "" for nothing.
    alike: draws a number of those that sound alike, alone or with what it counts.
    """

    small: tuple[str, ...]
    digits: tuple[str, ...]
    around: tuple[str, ...]
    alike: Callable[[Random], str]


class Speaking(Protocol):
    """Somebody who speaks the language, with an accent or without (`accent` is "")."""

    @property
    def accent(self) -> str: ...

    def says(self, word: Sequence[str], random: Random) -> Pronunciation:
        """A word, given in symbols with stress, as he says it."""


@dataclass(frozen=True)
class Plain:
    """Somebody without an accent."""

    accent: str = ""

    def says(self, word: Sequence[str], random: Random) -> Pronunciation:  # noqa: ARG002 - nothing to draw
        return tuple(word)


@dataclass(frozen=True, eq=False)
class ModelLanguage:
    """A language as models are made of it.

    tag: as `fieldassist.language` names it. with_stress: every way to say a word, in symbols for synthesizers, the
    usual one first, () when it is not known how; model_phones: the same in the model's phones. by_hand: where words are
    to be written that cannot be said. further_words: what a site's notes need beside the program's words: names,
    months, weather. general_words: a kept list. sentences: see `SentenceWords`. somebody: draws who speaks. engines:
    those of synthesize.py that speak it. ipa: a word in the symbols of Kokoro, from symbols with stress and those of
    accents; espeak_phonemes: in espeak-ng's, of the first of its voices. kokoro_voices: first letters of Kokoro's
    voices of the language; accent_voices: of those that fit an accent. espeak_voices: each as often as it speaks.
    """

    tag: str
    units: Units
    with_stress: Callable[[str], tuple[Pronunciation, ...]]
    model_phones: Callable[[Pronunciation], Pronunciation]
    by_hand: Path
    further_words: tuple[str, ...]
    general_words: Path
    sentences: SentenceWords
    somebody: Callable[[Random], Speaking]
    engines: tuple[str, ...]
    ipa: Callable[[Sequence[str]], str]
    espeak_phonemes: Callable[[Sequence[str]], str]
    kokoro_voices: str
    accent_voices: Mapping[str, str]
    espeak_voices: tuple[str, ...]

    def pronunciations(self, word: str) -> tuple[Pronunciation, ...]:
        """Every way to say a word, in the model's phones, the usual one first; () when it is not known how.

        word: in lower case. No two are the same; the first is the first of `with_stress`.

        >>> language().pronunciations("tile"), language().pronunciations("tqqx")
        ((('T', 'AY', 'L'),), ())
        >>> language().pronunciations("a")
        (('AX',), ('EY',))
        """
        return tuple(dict.fromkeys(self.model_phones(said) for said in self.with_stress(word)))

    def without_pronunciation(self, words: Iterable[str]) -> list[str]:
        """Those of the words that cannot be pronounced, in order."""
        return sorted(word for word in words if not self.with_stress(word))


@cache
def language(tag: str = DEFAULT) -> ModelLanguage:
    """The language with this tag. Errors: `ModuleNotFoundError` where it has no folder here."""
    found: ModelLanguage = import_module(f"models.build.{tag}").LANGUAGE
    return found


def languages() -> tuple[str, ...]:
    """The tags of those that there are."""
    return tuple(sorted(folder.parent.name for folder in Path(__file__).parent.glob("*/__init__.py")))


def add_language(parser: argparse.ArgumentParser) -> None:
    """The argument that every stage takes."""
    parser.add_argument("--language", default=DEFAULT, choices=languages(), help="of the model (%(default)s)")
