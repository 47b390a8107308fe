"""What was entered over the plan and is in no record: Plan and Safety reckon with the same."""

from __future__ import annotations

from dataclasses import dataclass, field

from fieldassist.assess.inputs import Field, Value


@dataclass(slots=True)
class Drafts:
    """What was entered for one day, by area. Kept by the day's path: another day has areas of its own, even where they
    are called the same."""

    by_area: dict[str, dict[Field, Value]] = field(default_factory=dict)

    def of(self, area: str) -> dict[Field, Value]:
        """What was entered for an area."""
        return self.by_area.setdefault(area, {})
