"""The appendix, from the facts of the day."""

from __future__ import annotations

from fieldassist.facts.model import DayFacts
from fieldassist.language import Words
from fieldassist.report.appendix_model import Appendix
from fieldassist.trade.message import message


def appendix(_facts: DayFacts, words: Words) -> Appendix:
    """The appendix."""
    title = words(message("appendix-title"))
    return Appendix(running=title, title=title)
