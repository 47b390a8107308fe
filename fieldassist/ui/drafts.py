"""What was entered over the plan and is in no record: Plan and Safety reckon with the same."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from fieldassist.assess.inputs import Field, Value

_MEMORY = "entered"


@dataclass(slots=True)
class Drafts:
    """What was entered for the day at path, by area."""

    path: Path | None = None
    by_area: dict[str, dict[Field, Value]] = field(default_factory=dict)

    def of(self, area: str) -> dict[Field, Value]:
        """What was entered for an area."""
        return self.by_area.setdefault(area, {})


def drafts(memory: dict[str, Any], path: Path | None) -> Drafts:
    """Those of the day at path: another day has areas of its own, even where they are called the same."""
    kept = memory.get(_MEMORY)
    if not isinstance(kept, Drafts) or kept.path != path:
        kept = memory[_MEMORY] = Drafts(path)
    return kept
