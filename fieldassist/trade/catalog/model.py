"""What an entry of the catalog is: what it asks for, what it gives back, and where that comes from."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Literal

from fieldassist.trade.basis import PRACTICE, Basis
from fieldassist.trade.message import Figure, Message

__all__ = ["Calculation", "Input", "InputKind", "Result", "ResultRow", "Subject", "Values"]

Subject = Literal["quantities", "ridges", "coverage", "mortar", "times", "flatness", "lifting", "dust", "sampling"]
InputKind = Literal[
    "percent",
    "length",
    "area",
    "mass",
    "volume",
    "duration",
    "temperature",
    "temperature difference",
    "angle",
    "share",
    "number",
    "count",
    "choice",
    "flag",
    "text",
    "size",
    "quantity",
    "unit",
    "pace",
    "density",
    "mass per area",
    "powder",
    "concentration",
    "lengths",
    "masses",
    "choices",
    "lifts",
    "periods",
    "contaminants",
    "dust tasks",
    "lifting tasks",
    "clocks",
]

# What a computation is given: each input by its name, in canonical units, None where it was left out.
Values = Mapping[str, Any]

# Results that many subjects give and that are called alike everywhere.
_COMMON = frozenset({"verdict", "reason", "reasons", "unread", "caution", "cautions", "note", "notes", "words"})


def _slug(name: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")


@dataclass(frozen=True, slots=True)
class Input:
    """One thing that a computation asks for.

    name: in the trade's words, with hyphens: the option of the command line and the key of a checklist; kind: how its
    text is read; example: a text that works; default: the text taken when it is left out; optional: it may be left
    out and has no default; choices: the words allowed, for a choice; shown: belongs to the worked example although it
    may be left out; told: what it is, explained to a foreman.
    """

    name: str
    told: Message
    kind: InputKind
    example: str
    default: str | None = None
    optional: bool = False
    choices: tuple[str, ...] = ()
    shown: bool = False

    @property
    def required(self) -> bool:
        """Whether the computation cannot go on without it."""
        return self.default is None and not self.optional


@dataclass(frozen=True, slots=True)
class ResultRow:
    """One figure or sentence that a computation gives, before units are chosen.

    name: in words, unique within one answer: the key of a checklist; value: a number in `unit`, yes or no, a
    message, or a word; None without `told` is left out; unit: canonical, one of two (`kg/m2`), "share", or "" for a
    bare number; basis: where it comes from, the entry's own where None; told: in place of what its value says; label:
    the name in words where it holds figures; fixed: in its own unit whatever the system; detail: told in another row
    already, and here for machines.
    """

    name: str
    value: float | int | bool | str | Message | None
    unit: str = ""
    basis: Basis | None = None
    told: Figure | None = None
    label: Message | None = None
    fixed: bool = False
    detail: bool = False


@dataclass(frozen=True, slots=True)
class Result:
    """One figure or sentence that a computation gives, in the units asked for.

    name: the key; label: the same in words; value: number, yes or no, a word or the code of a message, None where
    there is none; unit: of the value, "" for a bare number or words; told: as a screen or PDF tells it; basis: where
    it comes from; detail: told in another result already.
    """

    name: str
    label: Message
    value: float | int | bool | str | None
    unit: str
    told: Figure
    basis: Basis
    detail: bool = False


@dataclass(frozen=True, slots=True)
class Calculation:
    """One computation, reachable by name.

    compute: rows from the values read; functions: the public functions behind it; source: the basis of rows that
    bring none of their own; others: sources worth naming besides; cautions: for work that can hurt someone; refuses:
    codes of the refusals that belong to its domain, besides figures that cannot be.
    """

    name: str
    subject: Subject
    inputs: tuple[Input, ...]
    compute: Callable[[Values], Iterable[ResultRow]]
    functions: tuple[Callable[..., object], ...]
    source: Basis = PRACTICE
    others: tuple[Basis, ...] = ()
    cautions: tuple[Message, ...] = ()
    refuses: tuple[str, ...] = ()

    @property
    def title(self) -> Message:
        """One line for a list."""
        return title_of(self.subject, self.name)

    @property
    def summary(self) -> Message:
        """What it tells a foreman and where it stops."""
        return Message(f"{self.subject}-summary-{self.name}")

    @property
    def example(self) -> dict[str, str]:
        """Inputs of the worked example: all that are required, and those that make it clearer."""
        return {spec.name: spec.example for spec in self.inputs if spec.required or spec.shown}

    def label_of(self, name: str) -> Message:
        """A result's name in words."""
        return Message(f"{'calc' if name in _COMMON else self.subject}-out-{_slug(name)}")


def title_of(subject: Subject, name: str) -> Message:
    """The one line of a computation, without loading its subject."""
    return Message(f"{subject}-title-{name}")
