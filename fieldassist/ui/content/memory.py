"""What was entered on a screen and is in no record: kept while the program runs, so that no redraw loses it."""

from __future__ import annotations

from collections.abc import Hashable
from typing import Any, TypeVar

_Kept = TypeVar("_Kept")


class Memory:
    """One object of each kind and key. A kind is a class of its own, such as a screen's; a key is what it was entered
    for, such as a day or a step.

    >>> from dataclasses import dataclass
    >>> @dataclass
    ... class Number:
    ...     typed: str = ""
    >>> memory = Memory()
    >>> memory.of(Number, "gap").typed = "2.5"
    >>> memory.of(Number, "gap").typed, memory.of(Number, "lippage").typed
    ('2.5', '')
    """

    def __init__(self) -> None:
        self._kept: dict[tuple[type, Hashable], Any] = {}

    def of(self, kind: type[_Kept], key: Hashable = None) -> _Kept:
        """The one of this kind for this key; made, with nothing given to it, when it is first asked for."""
        if (kind, key) not in self._kept:
            self._kept[kind, key] = kind()
        found: _Kept = self._kept[kind, key]
        return found

    def forget(self, kind: type, key: Hashable = None) -> None:
        """Begin anew with the one of this kind for this key."""
        self._kept.pop((kind, key), None)

    def __repr__(self) -> str:
        return f"Memory({self._kept!r})"
