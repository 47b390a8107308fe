"""Whether the tablet's wall clock was set: within one run the machine's own clock tells, over a restart little does.

The rule of the day that is written and of whoever checks it: what is noted follows from the moments of the events
alone.
"""

from __future__ import annotations

from fieldassist.checklist.events import ClockJumped, ClockUnwatched, Event
from fieldassist.checklist.moment import Moment

# Wall time is kept to the second, and a network's time service turns the clock by a little now and then. Ours.
CLOCK_MOVED_S = 30.0


def watched_since(since: Moment | None, event: Event) -> Moment:
    """The moment from which the wall clock is held against the machine's own, once `event` is written: the first of
    this run of the machine, or the last at which it was noted that the clock was set. since: the same before it."""
    if since is None or since.boot != event.at.boot or isinstance(event.body, ClockJumped):
        return event.at
    return since


def clock_note(since: Moment, last: Moment, now: Moment) -> ClockJumped | ClockUnwatched | None:
    """What is to be noted of the clock before anything else is written at `now`; None for nothing.

    since: as `watched_since`; last: when the last event was. Within a run of the machine all steps since then are
    reckoned together, so that many small ones do not stay hidden. Over a restart nobody can tell a time in which
    nothing was written from a clock that was set forward: how long it was is noted then; a wall clock behind the last
    event was set.
    """
    if now.boot != last.boot:
        passed = last.wall_seconds_to(now)
        if passed < -CLOCK_MOVED_S:
            return ClockJumped(seconds=round(passed))
        return ClockUnwatched(seconds=round(passed)) if passed > CLOCK_MOVED_S else None
    moved = moved_s(since, now)
    return ClockJumped(seconds=round(moved)) if abs(moved) > CLOCK_MOVED_S else None


def moved_s(since: Moment, now: Moment) -> float:
    """By how many seconds the wall clock moved against the machine's own between two moments of one run; forward is
    positive."""
    return since.wall_seconds_to(now) - (now.mono - since.mono)
