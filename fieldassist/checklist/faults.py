"""What is wrong in a file that somebody wrote: a code, its figures, and the place below the thing that was checked.

The checks of `schema`, `kinds` and `plan` raise these; `loader` adds file, line and field. The words of a code are in
`language/en/file.ftl`, under "file-" and the code.
"""

from __future__ import annotations

import difflib
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from pydantic_core import PydanticCustomError

from fieldassist.printable import printable
from fieldassist.trade.message import Figure, Message, Several, message

# The context of a check of what stands in a file that somebody wrote, not in a record.
FROM_A_FILE = "from a file"
KIND = "faults"  # the type of the pydantic error that carries them


@dataclass(frozen=True, slots=True)
class Fault:
    """One mistake; `at` is its place below the model that was checked, such as ("limit", "unit")."""

    code: str
    at: tuple[str | int, ...]
    figures: Mapping[str, Any]

    @property
    def told(self) -> Figure:
        """The sentence. Where a name is near to one that is allowed, that one is offered."""
        return told(self.code, **self.figures)


@dataclass(slots=True)
class Faults:
    """Gathers the mistakes of one check, so that they are told together."""

    found: list[Fault] = field(default_factory=list)

    def add(self, code: str, *at: str | int, **figures: Any) -> None:
        """One more mistake; its code is one of `file.ftl`."""
        self.found.append(Fault(code, at, figures))

    def names(self, name: str | None, allowed: Collection[str], *at: str | int) -> None:
        """A mistake where `name` stands for something that the file does not hold."""
        if name is not None and name not in allowed:
            self.add("name-not-in-file", *at, given=name, allowed=sorted(allowed))

    def twice(self, names: Sequence[str], place: str) -> None:
        """A mistake for each of `names` that stood before in the list called `place`."""
        for index, name in enumerate(names):
            if name in names[:index]:
                self.add("id-twice", place, index, "id", given=name)

    def tell(self) -> None:
        """Raises what was found, if anything was."""
        if self.found:
            raise PydanticCustomError(KIND, "{codes}", {"codes": self.codes, KIND: tuple(self.found)})

    @property
    def codes(self) -> str:
        """The codes of what was found, for a developer's eye."""
        return ", ".join(fault.code for fault in self.found)


def refused(code: str, **figures: Any) -> PydanticCustomError:
    """One mistake at the field itself, to raise."""
    fault = Fault(code, (), figures)
    return PydanticCustomError(KIND, "{codes}", {"codes": code, KIND: (fault,)})


def told(code: str, **figures: Any) -> Figure:
    """What is wrong, as a message. given: what stands in the file; allowed: what may stand there."""
    said = Message(f"file-{code}", {name: _figure(value) for name, value in figures.items()})
    near = difflib.get_close_matches(str(figures.get("given", "")), list(figures.get("allowed", ())), 1, 0.75)
    return Several((said, message("file-did-you-mean", near=near[0])), "sentences") if near else said


def _figure(value: Any) -> Figure:
    if isinstance(value, list | tuple):
        return Several(tuple(map(printable, value)))
    return value if isinstance(value, int | float) and not isinstance(value, bool) else printable(value)
