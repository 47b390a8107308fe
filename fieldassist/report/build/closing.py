"""Signatures, seal and addenda, from the facts of the day."""

from __future__ import annotations

from collections.abc import Iterator

from fieldassist.facts.model import DayFacts
from fieldassist.language import Words
from fieldassist.report.closing_model import AddendumPages, SigningPage
from fieldassist.trade.message import message


def signing(_facts: DayFacts, words: Words) -> SigningPage:
    """The page of signatures."""
    title = words(message("closing-title"))
    return SigningPage(running=title, title=title)


def addenda(facts: DayFacts, words: Words) -> Iterator[AddendumPages]:
    """The pages of each addendum."""
    for part in sorted({one.part for one in facts.signatures} - {0}):
        title = words(message("closing-addendum", number=part))
        yield AddendumPages(key=f"addendum-{part}", running=title, title=title)
