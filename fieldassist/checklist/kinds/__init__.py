"""The kinds of steps, one file each: its fields, what answers it, what an answer does, how it is folded.

A new kind is a new file and a line in `KINDS` and in `Step`. DEVELOPERS.md says how.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import ModuleType
from typing import Annotated, Any, TypeAlias

from pydantic import Discriminator, Tag

from fieldassist.checklist.kinds import choice, confirm, hold, lift, method, photo, reading
from fieldassist.checklist.kinds.choice import Choice
from fieldassist.checklist.kinds.confirm import Confirm
from fieldassist.checklist.kinds.hold import Hold
from fieldassist.checklist.kinds.lift import Lift
from fieldassist.checklist.kinds.method import MethodStep
from fieldassist.checklist.kinds.photo import Photo
from fieldassist.checklist.kinds.reading import Reading

KINDS: tuple[ModuleType, ...] = (confirm, reading, choice, photo, hold, lift, method)


def _kind(given: Any) -> Any:
    return given.get("kind", "confirm") if isinstance(given, Mapping) else getattr(given, "kind", "confirm")


Step: TypeAlias = Annotated[
    Annotated[Confirm, Tag("confirm")]
    | Annotated[Reading, Tag("reading")]
    | Annotated[Choice, Tag("choice")]
    | Annotated[Photo, Tag("photo")]
    | Annotated[Hold, Tag("hold")]
    | Annotated[Lift, Tag("lift")]
    | Annotated[MethodStep, Tag("method")],
    Discriminator(_kind),
]

__all__ = ["KINDS", "Choice", "Confirm", "Hold", "Lift", "MethodStep", "Photo", "Reading", "Step"]
