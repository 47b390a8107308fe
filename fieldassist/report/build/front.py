"""Page one, from the facts of the day."""

from __future__ import annotations

from fieldassist.facts.model import DayFacts
from fieldassist.language import Words
from fieldassist.report.front_model import FrontPage


def front(facts: DayFacts, words: Words) -> FrontPage:
    """Page one."""
    return FrontPage(site=facts.site, date=facts.date, about=facts.address, verdict=words(str(facts.open_count)))
