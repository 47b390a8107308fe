"""The facts of a day in a file of somebody else: a PDF, a bundle or a day's log."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from fieldassist.proof.apart import apart, memory_for


def facts_in(path: Path, language: str) -> dict[str, Any]:
    """The facts of the day in a file, in the shape of `assets/facts.schema.json`, told in this language.

    As with `verify`, the reading is done in a process of its own with bounds, and nothing is written beside the file.
    Whether the record is genuine, `verify` tells. Errors: `Refused` where the file holds no whole record of a day.
    """
    found: dict[str, Any] = apart(_facts, path, language, memory=memory_for(path))
    return found


def _facts(scratch: Path, path: Path, language: str) -> dict[str, Any]:
    from fieldassist.checklist.events import DayOpened
    from fieldassist.facts import facts_of
    from fieldassist.language import Words
    from fieldassist.proof.held import read_held

    chain = read_held(path, scratch).chain
    opened = chain.events[0].body if chain.events else None
    units = opened.plan.units if isinstance(opened, DayOpened) else "as given"
    return facts_of(chain.events, chain.hashes, Words(language, units))
