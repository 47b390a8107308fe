"""How much the tablet says aloud, as it is named on the command line, and how much was said."""

from __future__ import annotations

from fieldassist.day.speaking import LEVELS, Counts, SpeakingLevel
from fieldassist.trade.message import Message, message


def level_called(name: str) -> SpeakingLevel:
    """The level that the option names by its first word.

    >>> level_called("few")
    'few words'
    """
    return next(level for level in LEVELS if level.split()[0] == name)


def counted(counts: Counts) -> Message:
    """How much was said, in a line."""
    return message(
        "cli-counted",
        utterances=counts.utterances,
        words=counts.crew_words,
        spoken=counts.tablet_words,
        seconds=round(counts.seconds),
    )
