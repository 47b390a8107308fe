"""What a language gives to be heard in: its numbers, and the words of speech around what is said.

A language's folder holds it as `SPEECH` in `speech.py`; `spoken_language` reads it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from importlib import import_module, resources

from fieldassist.language.number_grammar import NumberGrammar

HEARD = "en"
"""The language that crews are heard in: the phrases of the checklists and the speech model are in it."""


@dataclass(frozen=True, slots=True)
class Alike:
    """Words that a recognizer takes for one another, and within how many nats one of them is doubted for another.

    words: each two of them; "" among them: each may go unheard. margin: a difference of log likelihoods [nats].
    """

    words: frozenset[str]
    margin: float


@dataclass(frozen=True, eq=False)
class SpokenLanguage:
    """How one language is spoken to the program. All words in lower case, as a recognizer writes them.

    attention: the phrase that calls the tablet. fillers: said around a command without changing it, never inside one of
    our own phrases; links: join its words without changing it ("the tile is set" is "tile set"). said_before,
    said_after: those fillers that the recognizer listens for; more would only give talk more ways in. joins: stand
    between two phrases of a breath. variants: other ways to say a phrase without a value, with its words in another
    order too where the second argument says so; value_variants: other ways to say a value whose phrase has these words
    before and after it, likewise. everyday: words that between them follow any talk fairly well; homophones: those of
    them that sound alike, or like a word that may be said. site_sentences, site_words: talk on a site. alike: words
    that are taken for one another; swallowing: words of a number before which a letter goes unheard.
    """

    numbers: NumberGrammar
    attention: str
    fillers: frozenset[str]
    links: frozenset[str]
    said_before: tuple[str, ...]
    said_after: tuple[str, ...]
    joins: tuple[str, ...]
    variants: Callable[[str, bool], list[str]]
    value_variants: Callable[[str, str, str, bool], list[str]]
    everyday: tuple[str, ...]
    homophones: tuple[frozenset[str], ...]
    site_sentences: tuple[str, ...]
    site_words: tuple[str, ...]
    alike: tuple[Alike, ...] = ()
    swallowing: frozenset[str] = frozenset()


@cache
def spoken_language(language: str = HEARD) -> SpokenLanguage:
    """The language with this tag. Errors: `ModuleNotFoundError` where nothing says how it is spoken."""
    speech: SpokenLanguage = import_module(f"fieldassist.language.{language}.speech").SPEECH
    return speech


@cache
def is_spoken(language: str) -> bool:
    """Whether a language can be spoken: whether something says how."""
    return resources.files("fieldassist.language").joinpath(language, "speech.py").is_file()
