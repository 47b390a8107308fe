"""The places that references lead to, by keys that whoever draws and whoever leads there make alike.

What stands behind a colon lies within what stands before it: a reference to a place that is not drawn leads there.
"""

from __future__ import annotations

APPENDIX = "appendix"
LIMITS = f"{APPENDIX}:limits"


def area_key(number: int) -> str:
    """The pages of an area, by its number in the facts from 1."""
    return f"area-{number}"


def lifts_key(area: str) -> str:
    """The lifts of the area with this key."""
    return f"{area}:lifts"


def lift_key(area: str, number: int) -> str:
    """One lift of an area, by its number in it."""
    return f"{area}:lift-{number}"


def failure_key(area: str, number: int) -> str:
    """A failure of an area, by its number in the day."""
    return f"{area}:failure-{number}"


def mortar_key(area: str) -> str:
    """The batches of an area, their clocks, and its bags."""
    return f"{area}:mortar"


def holds_key(area: str) -> str:
    """The hold points of an area, and how they were released."""
    return f"{area}:holds"
