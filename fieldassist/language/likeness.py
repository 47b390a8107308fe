"""How nearly two hearings may lie before one is doubted for the other, by the words in which they differ."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from difflib import SequenceMatcher
from functools import lru_cache

from fieldassist.language.spoken import HEARD, spoken_language


def margin(words: Sequence[str], other: Sequence[str], language: str = HEARD) -> float:
    """Within how many nats of each other two hearings are as good as equal, for the words in which they differ; 0 where
    nothing is known of these.

    >>> same = "coverage ninety five percent".split()
    >>> margin(same, "coverage ninety nine percent".split()) > margin(same, "coverage ninety two percent".split()) == 0
    True
    """
    return max((_margin(*pair, language) for pair in differing(words, other)), default=0.0)


def differing(words: Sequence[str], other: Sequence[str]) -> Iterator[tuple[str, str]]:
    """The words that stand in each other's place, "" for none: one by one where they are as many, otherwise all of a
    stretch."""
    for _, begin, end, first, last in SequenceMatcher(None, words, other, autojunk=False).get_opcodes():
        here, there = words[begin:end], other[first:last]
        if len(here) == len(there):
            yield from ((a, b) for a, b in zip(here, there, strict=True) if a != b)
        else:
            yield " ".join(here), " ".join(there)


@lru_cache(maxsize=4096)
def _margin(word: str, other: str, language: str) -> float:
    pair = {word, other}
    return max((alike.margin for alike in spoken_language(language).alike if pair <= alike.words), default=0.0)


def swallows_letter(word: str, language: str = HEARD) -> bool:
    """Whether a letter said before this word of a number goes unheard.

    >>> swallows_letter("eight"), swallows_letter("twelve")
    (True, False)
    """
    return word in spoken_language(language).swallowing
