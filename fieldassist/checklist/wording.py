"""A checklist's words by language: what is asked, and what may be said."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any

from pydantic import BeforeValidator, InstanceOf, PlainSerializer, StringConstraints

from fieldassist.checklist.faults import refused
from fieldassist.trade.message import Text

# What stands in a file without its language is English; also the language in which is heard where none is named.
WRITTEN_IN = "en"
_LONGEST = 400


def _wording(given: Any) -> Any:
    if isinstance(given, Text):
        return given
    by_language = {WRITTEN_IN: given} if isinstance(given, str) else given
    if not isinstance(by_language, Mapping) or not by_language:
        raise refused("no-wording")
    words = {str(k): " ".join(v.split()) if isinstance(v, str) else "" for k, v in by_language.items()}
    if not all(0 < len(v) <= _LONGEST for v in words.values()):
        raise refused("wording-length", longest=_LONGEST)
    return Text(tuple(words.items()))


def _write_wording(text: Text) -> Any:
    by_language = dict(text.by_language)
    return by_language[WRITTEN_IN] if set(by_language) == {WRITTEN_IN} else by_language


# A text of a checklist: a plain one is English; {en: ..., es: ...} gives it by language.
Wording = Annotated[InstanceOf[Text], BeforeValidator(_wording), PlainSerializer(_write_wording, return_type=Any)]

Phrase = Annotated[str, StringConstraints(strip_whitespace=True, to_lower=True, max_length=80)]


def _spoken(given: Any) -> Any:
    return given if isinstance(given, Mapping) else {WRITTEN_IN: given}


def _write_spoken(phrases: Mapping[str, tuple[str, ...]]) -> Any:
    return list(phrases[WRITTEN_IN]) if set(phrases) == {WRITTEN_IN} else {k: list(v) for k, v in phrases.items()}


# Phrases that may be said: a plain list is English; {en: [...], es: [...]} gives them by language.
Phrases = Annotated[
    dict[str, tuple[Phrase, ...]], BeforeValidator(_spoken), PlainSerializer(_write_spoken, return_type=Any)
]


def in_language(phrases: Mapping[str, tuple[str, ...]], language: str) -> tuple[str, ...]:
    """The phrases in a language, or the English ones where it has none."""
    return phrases.get(language) or phrases.get(WRITTEN_IN, ())
