"""What an error says, for a result that carries it instead of failing."""

from __future__ import annotations

from fieldassist.trade.message import Message, Refused

__all__ = ["Told", "why"]

# A message, or words that the computation below has put together itself.
Told = Message | str


def why(error: ValueError) -> Told:
    """Why something cannot be computed."""
    return error.told if isinstance(error, Refused) else str(error)
