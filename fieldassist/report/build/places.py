"""Where a point that page one names is told in full."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from fieldassist.facts.model import AreaFacts, DayFacts, LookFact
from fieldassist.report.keys import APPENDIX, LIMITS, area_key, failure_key, holds_key, lift_key, lifts_key, mortar_key

# What is told in a part of an area's pages, by its code.
_ON_A_PART: Mapping[str, Callable[[str], str]] = {
    "open-release-called": holds_key,
    "open-release-struck": holds_key,
    "open-bags": mortar_key,
    "doubt-bags": mortar_key,
}


def place_of(facts: DayFacts, look: LookFact) -> tuple[str, bool]:
    """The key of the place, "" where no page has it, and whether more of it stands further on.

    What is about the whole day stands in the appendix; an area that was not started has no page.
    """
    if look.kind == "limit":
        return LIMITS, False
    if not look.areas:
        return APPENDIX, False
    paged = [(area_key(at), area) for at, area in enumerate(facts.areas, 1) if area.phase != "not started"]
    found = [(key, area) for key, area in paged if area.name in look.areas]
    return (_within(found, look), len(found) > 1) if found else ("", False)


def _within(found: Sequence[tuple[str, AreaFacts]], look: LookFact) -> str:
    """The place within the pages of the first of these areas."""
    key, area = found[0]
    if look.lifts:
        return lift_key(key, look.lifts[0])
    if len(look.areas) > 1:
        return lifts_key(key)
    failure = next((one for one in area.failures if one.id == look.figures.get("failure")), None)
    if failure is not None:
        return failure_key(key, failure.number)
    return _ON_A_PART[look.code](key) if look.code in _ON_A_PART else key
