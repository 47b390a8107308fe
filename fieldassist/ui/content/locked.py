"""The lock: what a tablet that was left alone keeps from whoever comes by.

Locked are signatures, PINs, settings and corrections of what was kept. Voice, clocks and the cycle of the tile go on: a
crew with its hands full needs no PIN to say "spread".
"""

from __future__ import annotations

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.commands import Command

# Minutes that may be chosen; 0: never.
MINUTES = (0, 2, 5, 10, 30)
# Screens that stand behind the lock.
SCREENS = frozenset({"person", "ear", "signing", "handing", "history"})
_COMMANDS = (
    cmd.SignDay,
    cmd.ConfirmReleases,
    cmd.OpenAddendum,
    cmd.Correct,
    cmd.AnswerPoint,
    cmd.SetLots,
    cmd.VouchMethod,
    cmd.AcceptTiles,
)


def is_locked(idle_s: float, minutes: int) -> bool:
    """Whether the lock has closed. idle_s: since the last press [s]; minutes: after which it closes, 0 for never.

    >>> is_locked(301, 5), is_locked(299, 5), is_locked(9999, 0)
    (True, False, False)
    """
    return minutes > 0 and idle_s >= 60 * minutes


def keeps_back(asked: Command | str) -> bool:
    """Whether a closed lock keeps back a press: of a command, or to a screen by its name.

    A reading that corrects one which was kept is a correction; dust that is noted in place of an earlier note is one.
    """
    if isinstance(asked, str):
        return asked in SCREENS
    if isinstance(asked, cmd.GiveReading):
        return asked.corrects is not None
    if isinstance(asked, cmd.NoteDust):
        return asked.replaces is not None
    return isinstance(asked, _COMMANDS)
