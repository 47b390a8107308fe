"""A bed of mortar seen through a clear sheet in a mock-up: how it is photographed, and why nothing is reckoned from it.

Where mortar touches the sheet it looks wet and dark; elsewhere lit flanks, shade between ridges and the bare floor lie
behind it, some lighter, some as dark, and the sheet mirrors the sky and the room over all of it. Taps on both sides
part too little: on computed pictures of such sheets few passed the gates of bare backs, by the rule or not, and what
did was off by 4 to 26 points in five of six (`python -m tests.photo.figures lights sheet`). A person who follows a
border with a finger sees what is in front and what lies behind: so voids are painted.
"""

from __future__ import annotations

from fieldassist.photo.picture import CannotTell
from fieldassist.trade.message import message

__all__ = ["SHEET_RULE", "refuse_to_reckon"]

# How it is photographed so that voids can be seen and painted. Common practice, no published source.
SHEET_RULE = message("measure-sheet-rule")


def refuse_to_reckon() -> CannotTell:
    """What is told to whoever asks for a figure of a clear sheet."""
    return CannotTell(message("measure-sheet-painted", rule=SHEET_RULE))
