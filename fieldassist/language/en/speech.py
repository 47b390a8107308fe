"""How English is spoken to the program."""

from __future__ import annotations

from fieldassist.language.en.alike import ALIKE, SWALLOWING
from fieldassist.language.en.numbers import NUMBERS
from fieldassist.language.en.talk import EVERYDAY, HOMOPHONES, SITE_SENTENCES, SITE_WORDS
from fieldassist.language.spoken import SpokenLanguage

_FILLERS = frozenset({"please", "uh", "um", "er", "ah", "okay", "ok", "so", "well", "hey"})
_LINKS = frozenset({"the", "is", "are", "was", "it's"})
# Words that say how something is now, beside those in -ed: only after these can "is" stand before the last word.
_STATES = frozenset({"set", "clean", "full", "empty", "sound", "ready"})


def _variants(phrase: str, reordered: bool) -> list[str]:
    """Other ways to say a phrase without a value. reordered: also with its words in another order.

    >>> _variants("tile set", True)
    ['the tile set', 'tile is set', 'the tile is set', 'set tile', 'set the tile']
    >>> _variants("larger notch", False)
    ['the larger notch']
    """
    words = phrase.split()
    *things, last = words
    thing = " ".join(things)
    variants = [f"the {phrase}"]
    if thing and (last in _STATES or last.endswith("ed")) and not _LINKS.intersection(words):
        variants += [f"{thing} is {last}", f"the {thing} is {last}"]
        variants += [f"{last} {thing}", f"{last} the {thing}"] if reordered else []
    return variants


def _value_variants(before: str, after: str, value: str, reordered: bool) -> list[str]:
    """Other ways to say a value with its phrase's words before and after it. reordered: also with the value first.

    >>> _value_variants("coverage", "", "ninety five percent", True)[:2]
    ['coverage is ninety five percent', 'the coverage ninety five percent']
    >>> _value_variants("coverage", "", "ninety five percent", True)[2:]
    ['the coverage is ninety five percent', 'ninety five percent coverage']
    """
    name = f"{before} {after}".strip()
    if not name:
        return []
    variants: list[str] = []
    if not after and not _LINKS.intersection(before.split()):
        variants += [f"{name} is {value}", f"the {name} {value}", f"the {name} is {value}"]
    return [*variants, *([f"{value} {name}"] if reordered else [])]


SPEECH = SpokenLanguage(
    NUMBERS,
    attention="field assist",
    fillers=_FILLERS,
    links=_LINKS,
    said_before=("okay", "um", "uh", "please"),
    said_after=("please",),
    joins=("and", "then"),
    variants=_variants,
    value_variants=_value_variants,
    everyday=EVERYDAY,
    homophones=HOMOPHONES,
    site_sentences=SITE_SENTENCES,
    site_words=SITE_WORDS,
    alike=ALIKE,
    swallowing=SWALLOWING,
)
