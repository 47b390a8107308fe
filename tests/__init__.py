"""Tests of fieldassist. SITE: the plan of the site that they share."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fieldassist.checklist.plan import DayPlan

SITE = Path(__file__).parent / "site.yaml"


def today(plan: DayPlan) -> DayPlan:
    """The plan for the day on which the machine's own clock stands."""
    return plan.model_copy(update={"date": datetime.now().astimezone().date().isoformat()})
