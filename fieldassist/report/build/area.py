"""The pages of an area, from its facts."""

from __future__ import annotations

from fieldassist.facts.model import DayFacts
from fieldassist.language import Words
from fieldassist.report.area_model import AreaPages
from fieldassist.report.build.trial import trial_report
from fieldassist.report.build.wall import wall


def area_pages(facts: DayFacts, number: int, words: Words) -> AreaPages:
    """The pages of the area that has this number in the facts (from 0)."""
    area = facts.areas[number]
    return AreaPages(
        key=f"area-{number + 1}",
        name=area.name,
        running=area.name,
        verdict=words(area.phase),
        wall=wall(area, words),
        trial=trial_report(facts, area, words),
    )
