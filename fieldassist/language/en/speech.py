"""How English is spoken to the program."""

from __future__ import annotations

from fieldassist.language.en.alike import ALIKE, SWALLOWING
from fieldassist.language.en.numbers import NUMBERS
from fieldassist.language.en.talk import EVERYDAY, SITE_SENTENCES, SITE_WORDS
from fieldassist.language.spoken import SpokenLanguage

_FILLERS = frozenset({"please", "uh", "um", "er", "ah", "okay", "ok", "so", "well", "hey"})
_LINKS = frozenset({"the", "is", "are", "was", "it's"})
# Words that say how something is now, beside those in -ed: only after these can "is" stand before the last word.
_STATES = frozenset({"set", "clean", "full", "empty", "sound", "ready"})


def _variants(phrase: str) -> list[str]:
    """Other ways to say a phrase without a value.

    >>> _variants("tile set")
    ['the tile set', 'tile is set', 'the tile is set', 'set tile', 'set the tile']
    >>> _variants("larger notch")
    ['the larger notch']
    """
    words = phrase.split()
    *things, last = words
    thing = " ".join(things)
    variants = [f"the {phrase}"]
    if thing and (last in _STATES or last.endswith("ed")) and not _LINKS.intersection(words):
        variants += [f"{thing} is {last}", f"the {thing} is {last}", f"{last} {thing}", f"{last} the {thing}"]
    return variants


def _value_variants(before: str, after: str, value: str) -> list[str]:
    """Other ways to say a value with its phrase's words before and after it.

    >>> _value_variants("coverage", "", "ninety five percent")
    ['ninety five percent coverage', 'coverage is ninety five percent', 'the coverage ninety five percent']
    """
    name = f"{before} {after}".strip()
    if not name:
        return []
    return [f"{value} {name}", *([] if after else [f"{name} is {value}", f"the {name} {value}"])]


SPEECH = SpokenLanguage(
    NUMBERS,
    attention="field assist",
    fillers=_FILLERS,
    links=_LINKS,
    said_before=("okay", "um", "uh", "please"),
    said_after=("please",),
    variants=_variants,
    value_variants=_value_variants,
    everyday=EVERYDAY,
    site_sentences=SITE_SENTENCES,
    site_words=SITE_WORDS,
    alike=ALIKE,
    swallowing=SWALLOWING,
)
