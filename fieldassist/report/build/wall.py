"""The drawing of an area, from its facts."""

from __future__ import annotations

from fieldassist.facts.model import AreaFacts
from fieldassist.language import Words
from fieldassist.report.wall_model import DrawnWall


def wall(area: AreaFacts, words: Words) -> DrawnWall | None:
    """The area to scale, None where nothing is known of its pieces."""
    return DrawnWall(wide_mm=1000.0, high_mm=1000.0, alt=words(area.name)) if area.tiles else None
