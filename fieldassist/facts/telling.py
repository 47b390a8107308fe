"""How facts are told: a message with its code and figures, for whoever counts them, and in words."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

from fieldassist.checklist.told import write_figure
from fieldassist.facts import model
from fieldassist.trade.message import Figure, Message

# Words of a language, in one system of units.
Telling: TypeAlias = "Callable[[Figure], str]"
# The same with code and figures; nothing is told of None.
Tell: TypeAlias = "Callable[[Figure | None], model.ToldFact]"


def told_fact(told: Figure | None, words: Telling) -> model.ToldFact:
    """A message with its code and figures, or a person's own words."""
    if isinstance(told, Message):
        written = write_figure(told)
        return model.ToldFact(code=told.code, figures=written.get("figures", {}), text=words(told))
    return model.ToldFact(code="", figures={}, text="" if told is None else words(told))
