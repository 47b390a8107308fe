"""What a language gives to read and say numbers: kinds of values, rules of words for each, and what names are made of.

`language/en/numbers.py` is one such grammar; `numbers` reads and says with any.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from fieldassist.language.number_nodes import Node, Tokens, WordForms


class NumberKind(StrEnum):
    """What a step may expect to hear."""

    PERCENT = "percent"
    LENGTH = "length"
    AREA = "area"
    TEMPERATURE = "temperature"
    DURATION = "duration"
    COUNT = "count"
    MASS = "mass"
    VOLUME = "volume"
    CLOCK_TIME = "clock_time"
    NAME = "name"
    SIZE = "size"
    DIGITS = "digits"
    NUMBER = "number"


@dataclass(frozen=True)
class Rule:
    """One way to say a kind of value: what its numbers are counted in, and what else the words tell.

    ruler: the words are eighths, sixteenths or thirty-seconds without a unit, so inches unless they are asked for in
    feet. feet: a sum of feet and inches, given in inches. offered: said and listed, not only understood.
    """

    node: Node
    unit: str | None
    thing: str = ""
    ruler: bool = False
    feet: bool = False
    offered: bool = True


@dataclass(frozen=True, eq=False)
class NumberGrammar:
    """The numbers of one language.

    rules: every kind whose values are numbers, with the ways to say it; SIZE is two lengths with `by` between, NAME
    and DIGITS are spelled. cardinal, two_digits (10 to 99), pair ("twelve fifty"), digit_run: the numbers of names.
    letters: each letter's ways to be said, the usual one first; letters_heard: further words for a letter.
    things: what a crew counts, singular to plural; usual_things: those listened for where none is named; named: what
    names are given to. number: the word between such a noun and its name. minus, point: before a number below zero,
    between its whole and its decimals. repeats: "double" five. tidied: what is written otherwise than it is heard.
    alike: whether the words of a whole number hold what recognizers mix (teens and tens).
    """

    forms: WordForms
    rules: Mapping[NumberKind, tuple[Rule, ...]]
    cardinal: Node
    two_digits: Node
    pair: Node
    digit_run: Node
    letters: Mapping[str, tuple[Tokens, ...]]
    letters_heard: Mapping[Tokens, str]
    things: Mapping[str, str]
    usual_things: tuple[str, ...]
    named: Tokens
    number: str
    by: str
    minus: str
    point: str
    repeats: Mapping[str, int]
    tidied: Mapping[str, str]
    alike: Callable[[int], bool]
    letter_of: Mapping[Tokens, str] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        own = {way: letter.upper() for letter, ways in self.letters.items() for way in ways}
        object.__setattr__(self, "letter_of", {**own, **self.letters_heard})
