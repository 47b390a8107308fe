"""Names of letters and a number, "V9", as they are told to an ear: letters by their words of the spelling alphabet.

English has the alphabet of the ICAO (Annex 10, volume II, 5.2.1.3, from memory).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from fieldassist.language import numbers
from fieldassist.language.spoken import HEARD, spoken_language

_FORM = re.compile(r"(?:(?P<noun>[a-z]+) )?(?P<before>[A-Z]{0,3})(?P<number>\d*)(?P<after>[A-Z]?)")
_AT_ONCE = 2  # digits of a number that is told whole


@dataclass(frozen=True, slots=True)
class NameForm:
    """The parts of a name: "tile B12A" is ("tile", "B", "12", "A"); "" for what it lacks."""

    noun: str
    before: str
    number: str
    after: str

    @property
    def lettered(self) -> bool:
        """Whether it has a letter."""
        return bool(self.before or self.after)


@dataclass(frozen=True, slots=True)
class NamePart:
    """A part of a name that is told: as it is written, and what is said for it; of a letter, its word."""

    written: str
    said: str
    letter: bool = False


def name_form(name: str) -> NameForm | None:
    """A name's parts; None where it is no name of a few letters and a number.

    >>> name_form("B12"), name_form("Quillhaven")
    (NameForm(noun='', before='B', number='12', after=''), None)
    """
    match = _FORM.fullmatch(name)
    if match is None or not name or not (match["before"] or match["number"]):
        return None
    return NameForm(match["noun"] or "", match["before"], match["number"], match["after"])


def spelled(name: str, language: str = HEARD) -> tuple[NamePart, ...]:
    """The parts of a name for an ear; () where it is no name of a few letters and a number.

    A longer number is told digit by digit, and so is one that sounds like another.

    >>> [part.said for part in spelled("V9")], [part.said for part in spelled("13C")]
    (['victor', 'nine'], ['thirteen', 'one three', 'charlie'])
    """
    form = name_form(name)
    return () if form is None else tuple(_parts(form, language))


def _parts(form: NameForm, language: str) -> Iterator[NamePart]:
    if form.noun:
        yield NamePart(form.noun, form.noun)
    yield from (_letter(letter, language) for letter in form.before)
    if form.number:
        whole = len(form.number) <= _AT_ONCE and str(int(form.number)) == form.number
        if whole:
            yield NamePart(form.number, numbers.say(int(form.number), None))
        if not whole or numbers.confusable(int(form.number)):
            yield NamePart(form.number, " ".join(numbers.digits(int(digit)) for digit in form.number))
    yield from (_letter(letter, language) for letter in form.after)


def _letter(letter: str, language: str) -> NamePart:
    return NamePart(letter, " ".join(spoken_language(language).numbers.letters[letter.lower()][0]), letter=True)
