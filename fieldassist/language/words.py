"""Messages, quantities and a checklist's own texts, told in one language."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from importlib import resources
from typing import TYPE_CHECKING

from fieldassist.trade.limits import judge, shown
from fieldassist.trade.message import Bound, Compared, Digits, Figure, Message, Read, Several, Spelled, Text, message
from fieldassist.trade.quantities import (
    Quantity,
    System,
    convert_exact,
    format_quantity,
    parse_quantity,
    unit_in_system,
    unit_info,
)

if TYPE_CHECKING:
    from importlib.resources.abc import Traversable

    from fieldassist.language.patterns import FigureTold, Pattern, Patterns

_MOST_EXTRA = 6  # decimals
# What a language lacks is told in this one; it lacks nothing.
FALLBACK = "en"
# Made from English, to find what is not put into words here (`language.pseudo`).
_PSEUDO = "pseudo"
FOLDER: Traversable = resources.files("fieldassist.language")


def languages_in(folder: Traversable) -> tuple[str, ...]:
    """The languages that have a folder of words there, English first; behind them the one that is made from it.

    A folder is named by its language's tag (BCP 47) and holds files as English has them, not necessarily all.
    """
    found = {
        one.name for one in folder.iterdir() if one.is_dir() and any(f.name.endswith(".ftl") for f in one.iterdir())
    }
    return (FALLBACK, *sorted(found - {FALLBACK}), _PSEUDO)


def whole_languages_in(folder: Traversable) -> tuple[str, ...]:
    """Those of the languages that have every subject that English has, English first."""
    names = [name for name in languages_in(folder) if name != _PSEUDO]
    subjects = {name: {f.name for f in folder.joinpath(name).iterdir() if f.name.endswith(".ftl")} for name in names}
    return tuple(name for name in names if subjects[name] >= subjects[FALLBACK])


LANGUAGES = languages_in(FOLDER)
# Those that somebody reads: what is handed over is in one of them.
READ_LANGUAGES = whole_languages_in(FOLDER)


class UnknownLanguage(ValueError):
    """There are no words in this language; the text names those there are."""


class _Catalogue:
    """The messages of one language, read subject by subject as they are asked for."""

    def __init__(self, language: str) -> None:
        from fieldassist.language.patterns import Patterns

        self.language = language
        self.patterns = Patterns({"CAPITAL": _capital, "PERSON": _person, "BARE": _bare})
        self.read: set[str] = set()
        self._known: dict[tuple[str, bool], tuple[Patterns, Pattern] | None] = {}

    def _subject(self, code: str) -> None:
        from fieldassist.language.patterns import parsed

        subject = code.split("-", 1)[0]
        if subject in self.read:
            return
        self.read.add(subject)
        written = FALLBACK if self.language == _PSEUDO else self.language
        file = FOLDER.joinpath(written, f"{subject}.ftl")
        if not file.is_file():
            return
        resource = parsed(file.read_text(encoding="utf-8"))
        if self.language == _PSEUDO:
            from fieldassist.language.pseudo import pseudo_resource

            resource = pseudo_resource(resource)
        self.patterns.add(resource)

    def pattern(self, code: str, *, ear: bool) -> tuple[Patterns, Pattern] | None:
        """The pattern of a message, its `.ear` where one is listening, and among which patterns it stands: English
        where the language lacks the message; None where English does."""
        if (code, ear) not in self._known:
            self._known[code, ear] = self._looked_up(code, ear)
        return self._known[code, ear]

    def _looked_up(self, code: str, ear: bool) -> tuple[Patterns, Pattern] | None:
        self._subject(code)
        found = self.patterns.pattern(code, "ear" if ear else "")
        if found is not None:
            return self.patterns, found
        return None if self.language in (FALLBACK, _PSEUDO) else _catalogue(FALLBACK).pattern(code, ear=ear)


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _bare(text: str) -> str:
    return text.rstrip(".")


def _person(name: str) -> str:
    return name.title() if name.islower() else name


@lru_cache(maxsize=8)
def _catalogue(language: str) -> _Catalogue:
    return _Catalogue(language)


@dataclass(frozen=True, slots=True)
class Words:
    """A listener: in which language and units, and whether an ear or an eye.

    Errors: `UnknownLanguage`.

    >>> Words()(Bound(Quantity(Fraction(95), "percent"), "at least"))
    '95 %'
    >>> Words(units="us")(Read(Quantity(Fraction(20), "degC")))
    '20 °C (68 °F)'
    >>> Words(units="metric")(Bound(Quantity(Fraction(1, 16), "in"), "at most"))
    '1.5 mm'
    >>> Words(ear=True)(Quantity(Fraction(5, 8), "in"))
    'five eighths of an inch'
    """

    language: str = FALLBACK
    units: System = "as given"
    ear: bool = False

    def __post_init__(self) -> None:
        if self.language not in LANGUAGES:
            raise UnknownLanguage(f"no words in {self.language!r}; there are: {', '.join(LANGUAGES)}")

    @property
    def aloud(self) -> Words:
        """The same, for an ear."""
        return replace(self, ear=True)

    def in_units(self, units: System) -> Words:
        """The same, in another system of units."""
        return replace(self, units=units)

    def of(self, problem: Exception) -> str:
        """What an error tells: its message, or its text where it has none."""
        told = getattr(problem, "told", None)
        return str(problem) if told is None else self(told)

    def has(self, code: str) -> bool:
        """Whether there is a message of that code, in this language or in English."""
        return _catalogue(self.language).pattern(code, ear=False) is not None

    def __call__(self, told: Figure) -> str:
        """What is told, as text. A message that the language lacks is told in English, and one that English lacks as
        its code and figures: nothing is lost."""
        match told:
            case Message():
                return self._message(told)
            case Text():
                return self._text(told)
            case Several():
                return self._several(told)
            case Quantity():
                return self._quantity(told)
            case Bound():
                return self._bound(told)
            case Read():
                return self._read(told)
            case Digits():
                return self._digits(told)
            case Spelled():
                return self._spelled(told)
            case Compared():
                return " / ".join(self._compared(told))
            case str():
                return told
            case _:
                return format_quantity(told, "count")

    def _message(self, told: Message) -> str:
        catalogue = _catalogue(self.language)
        found = catalogue.pattern(told.code, ear=self.ear)
        if found is None:
            return str(told)
        patterns, pattern = found
        # A sentence is of one language: where it is told in English, its figures are too.
        teller = self if patterns is catalogue.patterns else replace(self, language=FALLBACK)
        return patterns.tell(pattern, teller._arguments(told))

    def _arguments(self, told: Message) -> dict[str, FigureTold]:
        arguments: dict[str, FigureTold] = {}
        for name, figure in told.figures.items():
            if isinstance(figure, Compared):
                arguments[f"{name}-read"], arguments[f"{name}-limit"] = self._compared(figure)
            elif not isinstance(figure, Bound):
                arguments[name] = self._argument(figure)
        bounds = {name: figure for name, figure in told.figures.items() if isinstance(figure, Bound)}
        return arguments | (self._band(bounds) if bounds else {})

    def _argument(self, figure: Figure) -> FigureTold:
        if isinstance(figure, str):
            return figure
        if isinstance(figure, bool):
            return "yes" if figure else "no"
        if isinstance(figure, int):
            return figure
        return self(figure)

    def _text(self, told: Text) -> str:
        by_language = dict(told.by_language)
        if self.language in by_language:
            return by_language[self.language]
        if self.language == _PSEUDO and "" not in by_language:
            from fieldassist.language.pseudo import pseudo

            return pseudo(str(told))
        return by_language.get(FALLBACK, str(told))

    def _several(self, told: Several) -> str:
        parts = [self(item) for item in told.items]
        if told.link == "sentences":
            return " ".join(part for part in parts if part)
        if told.link == "lines":
            return "\n".join(parts)
        if told.link == "clauses":
            return "; ".join(parts)
        if told.link == "list" or len(parts) < 2:
            return ", ".join(parts)
        code = f"language-{told.link}"
        return self._message(Message(code, {"first": ", ".join(parts[:-1]), "last": parts[-1]}))

    def _quantity(self, quantity: Quantity) -> str:
        unit = unit_in_system(quantity.unit, self.units)
        if unit == quantity.unit:
            return self._figure(quantity.value, unit, quantity.decimals)
        return self._figure(convert_exact(quantity.value, quantity.unit, unit), unit)

    def _figure(self, value: Fraction, unit: str, decimals: int | None = None) -> str:
        written = _written(value, unit, decimals)
        if not self.ear:
            return written
        # What is said is what is shown: rounded alike.
        return self._said(_read_back(written, unit), unit)

    def _bound(self, bound: Bound, extra_decimals: int = 0) -> str:
        told = self._shown(bound, extra_decimals)
        return self._figure(told.value, told.unit, told.decimals)

    def _shown(self, bound: Bound, extra_decimals: int) -> Quantity:
        return _rounded_to(bound, unit_in_system(bound.quantity.unit, self.units), extra_decimals)

    def _band(self, bounds: dict[str, Bound]) -> dict[str, str]:
        """The ends of one band, with as many decimals as it takes for them not to cross where both are rounded."""
        for extra in range(_MOST_EXTRA + 1):
            told = [(bound.side, self._shown(bound, extra)) for bound in bounds.values()]
            least = [(one.value, one.unit) for side, one in told if side == "at least"]
            most = [(one.value, one.unit) for side, one in told if side == "at most"]
            if all(low <= high or unit != other for low, unit in least for high, other in most):
                break
        return {name: self._bound(bound, extra) for name, bound in bounds.items()}

    def _compared(self, pair: Compared) -> tuple[str, str]:
        """The reading and its limit, told apart in the listener's units; the reading as it was taken comes first."""
        read, own = pair.read, unit_in_system(pair.read.unit, self.units)
        unit = read.unit if self.ear and not pair.computed else own
        value = read if unit == read.unit else Quantity(convert_exact(read.value, read.unit, unit), unit)
        judged = judge(value, ((pair.side, pair.limit),))
        told, limit = (self._figure(one.value, one.unit, one.decimals) for one in (judged.read, judged.limit))
        return (
            told
            if unit == read.unit or pair.computed
            else f"{self._figure(read.value, read.unit, read.decimals)} ({told})"
        ), limit

    def _digits(self, told: Digits) -> str:
        if not self.ear:
            return _unrounded(told.value, "count")
        from fieldassist.language import numbers

        return self._spoken(numbers.digits(told.value, language=self._of_numbers))

    def _said(self, value: Fraction, unit: str) -> str:
        from fieldassist.language import numbers

        spoken = numbers.say(value, None if unit == "count" else unit, language=self._of_numbers)
        return self._spoken(spoken)

    @property
    def _of_numbers(self) -> str:
        """The language in which numbers are said: a language may have words to read and none to be spoken in."""
        from fieldassist.language.spoken import is_spoken

        return self.language if is_spoken(self.language) else FALLBACK

    def _spelled(self, told: Spelled) -> str:
        """A name to an ear: each letter with its word, then its number, digit by digit where that tells it apart."""
        if not self.ear:
            return told.name
        from fieldassist.language.names import spelled

        parts = spelled(told.name)
        if not parts:
            return told.name
        return ", ".join(
            self(message("language-letter", letter=one.written, word=self._spoken(one.said)))
            if one.letter
            else self._spoken(one.said)
            for one in parts
        )

    def _spoken(self, said: str) -> str:
        if self.language == _PSEUDO:
            from fieldassist.language.pseudo import pseudo

            return pseudo(said)
        return said

    def _read(self, read: Read) -> str:
        """A reading is told as it was taken, never rounded."""
        value, unit = read.quantity.value, read.quantity.unit
        if self.ear:
            return self._said(value, unit)
        as_read = _unrounded(value, unit)
        own = unit_in_system(unit, self.units)
        return as_read if own == unit else f"{as_read} ({self._quantity(read.quantity)})"


@lru_cache(maxsize=4096)
def _rounded_to(bound: Bound, unit: str, extra_decimals: int) -> Quantity:
    return shown(bound.quantity, bound.side, unit, extra_decimals)


@lru_cache(maxsize=4096)
def _written(value: Fraction, unit: str, decimals: int | None) -> str:
    """A quantity as text. A long day tells the same few many times."""
    return format_quantity(value, unit, decimals=decimals)


@lru_cache(maxsize=4096)
def _unrounded(value: Fraction, unit: str) -> str:
    """A quantity with as many decimals as its value has, or as a fraction where no decimals give it."""
    for decimals in (None, 1, 2, 3, 4, 5, 6):
        written = format_quantity(value, unit, decimals=decimals)
        if _read_back(written, unit) == value:
            return written
    return f"{value} {unit_info(unit).symbol}".strip()


def _read_back(written: str, unit: str) -> Fraction:
    """The value of a quantity as it was written; a bare number may lie below zero, as the digits of -3 °C do."""
    if unit != "count":
        return parse_quantity(written).value
    below = written.startswith("-")
    value = parse_quantity(written.removeprefix("-"), "count").value
    return -value if below else value
