"""When a clock is heard again: shortly before it ends, and over and over once it ran out, until somebody answers."""

from __future__ import annotations

from dataclasses import dataclass, field

from fieldassist.ui.content.clocks import ClockRow

# Minutes left at which a clock sounds once more: the checklist's own warning, at five minutes, has sounded then.
BEFORE_MIN = (2.0, 1.0)
# Once it ran out: every so many seconds, louder over the first minute.
EVERY_S, GROWS_S = 4.0, 60.0
_FROM = 0.35  # of full loudness


@dataclass(slots=True)
class Alarm:
    """What has sounded: for each clock the last of BEFORE_MIN, and when one that ran out sounded last [s]."""

    warned: dict[int, float] = field(default_factory=dict)
    over_since: dict[int, float] = field(default_factory=dict)
    sounded: float = float("-inf")

    def due(self, row: ClockRow, now: float) -> float | None:
        """How loud it sounds now, in shares of full, None for not at all. now: on the machine's clock [s]."""
        if row.expired is not None:
            since = self.over_since.setdefault(row.expired.face.run, now)
            if now - self.sounded < EVERY_S:
                return None
            self.sounded = now
            return _FROM + (1.0 - _FROM) * min(1.0, (now - since) / GROWS_S)
        loud = None
        for face in (row.open, row.pot):
            if face is None or face.standing != "warning" or face.left > max(BEFORE_MIN):
                continue
            passed = min(minutes for minutes in BEFORE_MIN if face.left <= minutes)
            if self.warned.get(face.run, float("inf")) > passed:
                self.warned[face.run] = passed
                loud = 1.0
        return loud
