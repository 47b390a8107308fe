"""What is to be told, as a code and figures. Rooms that compute make no sentences: `language` makes them, at the edge,
for a person, a language, a system of units, an ear or an eye.

A code begins with the subject whose words it belongs to: "ridges-least-stroke" stands in `language/en/ridges.ftl`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from types import MappingProxyType
from typing import TYPE_CHECKING, Literal, TypeAlias

if TYPE_CHECKING:
    from fieldassist.trade.quantities import Quantity

__all__ = [
    "Bound",
    "Compared",
    "Digits",
    "Figure",
    "Message",
    "Read",
    "Refused",
    "Several",
    "Spelled",
    "Text",
    "holds",
    "message",
    "term",
]


@dataclass(frozen=True, slots=True)
class Read:
    """A reading: told in the unit in which it was taken, with the listener's own unit beside it where they differ."""

    quantity: Quantity


@dataclass(frozen=True, slots=True)
class Digits:
    """A number told digit by digit to an ear: "seven zero"."""

    value: Fraction


@dataclass(frozen=True, slots=True)
class Spelled:
    """A name of letters and a number, "V9": its letters are told with their words to an ear, "V as in victor, nine"."""

    name: str


@dataclass(frozen=True, slots=True)
class Bound:
    """A limit: told rounded to the side on which the figure that is told still passes (`trade.limits`)."""

    quantity: Quantity
    side: Literal["at least", "at most"]


@dataclass(frozen=True, slots=True)
class Compared:
    """A reading and the limit that it breaks or keeps. In a message it is two figures: those of a Compared called
    "pair" are $pair-read and $pair-limit, told with as many decimals as it takes to agree with the judgement.

    computed: no reading but a figure that was worked out, told in the listener's units alone.
    """

    read: Quantity
    limit: Quantity
    side: Literal["at least", "at most"]
    computed: bool = False


@dataclass(frozen=True, slots=True)
class Text:
    """Words that a person wrote, by language ("" where none was named): a checklist's question, a remark."""

    by_language: tuple[tuple[str, str], ...]

    @classmethod
    def plain(cls, words: str) -> Text:
        """Words in no named language: they are told as they stand."""
        return cls((("", words),))

    def __str__(self) -> str:
        return self.by_language[0][1] if self.by_language else ""


@dataclass(frozen=True, slots=True)
class Several:
    """Things told in a row: joined by "and", by "or", as a list with commas, as clauses with semicolons, as
    sentences, or each on a line.
    """

    items: tuple[Figure, ...]
    link: Literal["and", "or", "list", "clauses", "sentences", "lines"] = "list"


@dataclass(frozen=True, slots=True)
class Message:
    """A code and its figures. A figure that is a plain `str` is a name, a number of an event or an identifier, told as
    it stands: never a sentence. Figures that are `Quantity` are converted to the listener's units.
    """

    code: str
    figures: Mapping[str, Figure] = field(default_factory=dict)

    def __post_init__(self) -> None:
        object.__setattr__(self, "figures", MappingProxyType(dict(self.figures)))

    def __hash__(self) -> int:
        return hash((self.code, frozenset(self.figures.items())))

    def __reduce__(self) -> tuple[type[Message], tuple[str, dict[str, Figure]]]:
        return Message, (self.code, dict(self.figures))

    def __str__(self) -> str:
        """For a developer's eye: the code and the figures.

        >>> from fieldassist.trade.quantities import Quantity
        >>> print(message("lift-contact-short", contact=Quantity(Fraction(88), "percent")))
        lift-contact-short(contact=88 percent)
        """
        inside = ", ".join(f"{name}={_plain(figure)}" for name, figure in self.figures.items())
        return f"{self.code}({inside})" if inside else self.code


Figure: TypeAlias = (
    "Quantity | Read | Digits | Spelled | Bound | Compared | Text | Several | Message | str | int | float | Fraction"
)


def _plain(figure: Figure) -> str:
    # Quantities refuse units in messages themselves, so they are imported late.
    from fieldassist.trade.quantities import Quantity

    if isinstance(figure, Quantity):
        return f"{figure.value} {figure.unit}"
    if isinstance(figure, Read | Bound):
        return _plain(figure.quantity)
    if isinstance(figure, Digits):
        return str(figure.value)
    if isinstance(figure, Spelled):
        return figure.name
    if isinstance(figure, Compared):
        return f"{_plain(figure.read)} {figure.side} {_plain(figure.limit)}"
    if isinstance(figure, Several):
        return "[" + ", ".join(_plain(item) for item in figure.items) + "]"
    return str(figure)


def message(code: str, /, **figures: Figure) -> Message:
    """A message by keyword: figures' names have underscores here and hyphens in the language's files.

    >>> from fieldassist.trade.quantities import Quantity
    >>> message("ridges-least-stroke", notch_width=Quantity(Fraction(1, 2), "in")).figures["notch-width"].unit
    'in'
    """
    return Message(code, {name.replace("_", "-"): figure for name, figure in figures.items()})


def term(subject: str, word: str) -> Message:
    """One of a closed list of words as a message of its own.

    >>> print(term("engine-product", "natural stone"))
    engine-product-natural-stone
    """
    return Message(f"{subject}-{word.replace(' ', '-')}")


class Refused(ValueError):
    """What was asked for is refused, or cannot be computed: `told` says why and what to do next.

    str() is the code with its figures; whoever meets a person renders `told` through `language.Words`.
    """

    def __init__(self, told: Message) -> None:
        super().__init__(str(told))
        self.told = told

    def __reduce__(self) -> tuple[type[Refused], tuple[Message]]:
        return type(self), (self.told,)


def holds(told: Figure, sought: Figure) -> bool:
    """Whether a figure is told as a part of another.

    >>> holds(message("engine-withdrawn", ask=Text.plain("How far?")), Text.plain("How far?"))
    True
    """
    if told == sought:
        return True
    if isinstance(told, Message):
        return any(holds(figure, sought) for figure in told.figures.values())
    return isinstance(told, Several) and any(holds(item, sought) for item in told.items)
