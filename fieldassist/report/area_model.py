"""The pages of an area as plain data."""

from __future__ import annotations

from dataclasses import dataclass

from fieldassist.report.trial_model import TrialReport
from fieldassist.report.wall_model import DrawnWall


@dataclass(frozen=True, slots=True)
class AreaPages:
    """An area: its page, or the trial that was run in it. key: by which references lead here; wall: None where nothing
    is known of its pieces."""

    key: str
    name: str
    running: str
    verdict: str
    wall: DrawnWall | None
    trial: TrialReport | None = None
