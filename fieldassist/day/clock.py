"""The injected clock: wall time for people, time since the machine started for intervals."""

from __future__ import annotations

import functools
import time
from datetime import datetime, timedelta
from pathlib import Path
from typing import Protocol

from fieldassist.checklist.moment import Moment


class Clock(Protocol):
    """Anything that tells the moment."""

    def now(self) -> Moment:
        """The present moment."""
        ...


class SystemClock:
    """The machine's own clocks."""

    def now(self) -> Moment:
        """The present moment; `mono` goes on across restarts of the program, and over sleep where the system tells."""
        wall = datetime.now().astimezone().isoformat(timespec="seconds")
        return Moment(wall=wall, mono=round(_since_boot(), 3), boot=_boot_id())


def _since_boot() -> float:
    clock = getattr(time, "CLOCK_BOOTTIME", None)
    return time.clock_gettime(clock) if clock is not None else time.monotonic()


@functools.cache
def _boot_id() -> str:
    linux = Path("/proc/sys/kernel/random/boot_id")
    try:
        return linux.read_text(encoding="ascii").strip()
    except OSError:
        # Elsewhere the start of the machine, to the nearest ten seconds, tells one run from the next.
        return f"start-{round((time.time() - time.monotonic()) / 10)}"


class SimulatedClock:
    """A clock that stands until it is moved: for the demo, rehearsals and tests. boot: tells one from another."""

    def __init__(self, start: datetime, boot: str = "simulated") -> None:
        self._start = start
        self._now = start
        self._boot = boot

    def now(self) -> Moment:
        """The simulated moment."""
        mono = (self._now - self._start).total_seconds()
        return Moment(wall=self._now.isoformat(timespec="seconds"), mono=round(mono, 3), boot=self._boot)

    def advance_to(self, when: datetime) -> None:
        """Move on to `when`; ValueError for a step back."""
        if when < self._now:
            raise ValueError(f"the clock stands at {self._now:%H:%M:%S} and cannot go back to {when:%H:%M:%S}")
        self._now = when

    def advance(self, minutes: float) -> None:
        """Move on by `minutes`."""
        self.advance_to(self._now + timedelta(minutes=minutes))

    @property
    def time(self) -> datetime:
        """Where it stands."""
        return self._now
