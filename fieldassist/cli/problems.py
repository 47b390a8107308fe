"""What goes wrong in a way that a person can do something about: told in words, and never as a traceback."""

from __future__ import annotations

from fieldassist.trade.message import Figure, Refused


def told(problem: Exception) -> Figure:
    """What an error tells a person: its message, or its text where it has none."""
    return problem.told if isinstance(problem, Refused) else str(problem)
