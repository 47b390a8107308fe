"""Time that passes on a simulated clock, with a stop wherever a clock of the day has something to say."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta

from fieldassist.day.clock import SimulatedClock
from fieldassist.day.session import Answer, Day


def let_time_pass(day: Day, clock: SimulatedClock, until: datetime, tell: Callable[[Answer], None]) -> None:
    """Move the clock to `until`. tell: called with what the day's clocks say, while the clock stands there.

    Where the clock stands later already, it stays there.
    """
    while (minutes := day.minutes_to_next_alarm()) is not None:
        due = clock.time + timedelta(minutes=minutes, milliseconds=1)
        if due > until:
            break
        clock.advance_to(due)
        answer = day.tick()
        if answer is not None:
            tell(answer)
    clock.advance_to(max(until, clock.time))
