"""The lock: what a tablet that was left alone keeps from whoever comes by.

Locked are signatures, PINs, settings and corrections of what was kept. Voice, clocks and the cycle of the tile go on,
and so do who speaks, dust and cautions: a crew with its hands full needs no PIN to say "spread".
"""

from __future__ import annotations

from collections.abc import Callable

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.commands import Command

# Minutes that may be chosen; 0: never.
MINUTES = (0, 2, 5, 10, 30)
# Screens that stand behind the lock.
SCREENS = frozenset({"tablet", "crew", "ear", "signing", "countersign", "handing", "roster"})
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


class IdleLock:
    """The lock of one tablet. now: a clock that only goes forward [s]."""

    def __init__(self, now: Callable[[], float]) -> None:
        self._now = now
        self._pressed, self._closed = now(), False

    def locked(self, minutes: int) -> bool:
        """Whether it is closed: it stays so until it is opened, whatever is pressed."""
        self._closed = minutes > 0 and (self._closed or is_locked(self._now() - self._pressed, minutes))
        return self._closed

    def pressed(self, minutes: int) -> None:
        """Something was pressed: the time runs anew, where it is not over."""
        if not self.locked(minutes):
            self._pressed = self._now()

    def open_up(self) -> None:
        """The right PIN was given."""
        self._closed, self._pressed = False, self._now()
