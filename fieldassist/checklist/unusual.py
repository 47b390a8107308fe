"""What stands out of the usual sequence of a day, for whoever has an hour: the rest is in the record all the same."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, Literal

from fieldassist.checklist import events as ev
from fieldassist.checklist.clock_watch import CLOCK_MOVED_S, moved_s
from fieldassist.checklist.events import Event
from fieldassist.checklist.standing import Standing

# Whatever is of such a kind stands out. What was refused has a list of its own; what fails opens a failure, which tells
# of it.
_ALWAYS: frozenset[type] = frozenset(
    {
        ev.AreaCarried,
        ev.AreaPlanned,
        ev.PersonAdded,
        ev.AreaStarted,
        ev.AreaFinished,
        ev.FinishHeld,
        ev.WorkStopped,
        ev.SamplesOrdered,
        ev.SampleSpoiled,
        ev.MethodReleased,
        ev.MethodChanged,
        ev.MethodDoubted,
        ev.MethodVouched,
        ev.SetterChanged,
        ev.LotsRuled,
        ev.LiftLeft,
        ev.TilesAccepted,
        ev.TileTakenOff,
        ev.FailureOpened,
        ev.StillFailing,
        ev.FailureClosed,
        ev.InspectionTightened,
        ev.ReadingCorrected,
        ev.ReadingLeftOut,
        ev.PhotoLeftOut,
        ev.Withdrawn,
        ev.HoldReleased,
        ev.ReleasesConfirmed,
        ev.ReleaseStruck,
        ev.ClockRanOut,
        ev.WentOnEarly,
        ev.CalledLate,
        ev.PointAnswered,
        ev.PinRefused,
        ev.KeyReplaced,
        ev.ClockJumped,
        ev.ClockUnwatched,
        ev.DayRecovered,
        ev.DaySigned,
        ev.DaySealed,
        ev.AddendumOpened,
        ev.CorrectionMade,
    }
)
# Lifts that somebody asked for, or that follow from a failure.
_ASKED = frozenset({"asked", "inspector asked", "follow-up", "after failure"})
_IF: Mapping[type, Callable[[Any], bool]] = {
    ev.LiftJudged: lambda body: body.verdict == "not complete",
    ev.LiftDue: lambda body: body.came in _ASKED,
    ev.ClockStopped: lambda body: body.verdict in ("over", "under"),
}


def unusual(stands: Standing) -> frozenset[int]:
    """The numbers of the events that stand out, in one pass.

    Besides those of their kind: a tile of which every step was called, where others of its area are counted; not: a
    clock of which a failure tells.
    """
    told = {event.body.run for event in stands.events if isinstance(event.body, ev.FailureOpened)}
    counting = {event.body.area for event in stands.events if isinstance(event.body, ev.TileCounted)}
    found = set()
    for event in stands.events:
        body = event.body
        rule = _IF.get(type(body))
        if isinstance(body, ev.ClockRanOut | ev.ClockStopped) and body.run in told:
            continue
        if type(body) in _ALWAYS or (rule is not None and rule(body)) or _is_called_in_full(body, counting):
            found.add(event.seq)
    return frozenset(found)


def _is_called_in_full(body: ev.Body, counting: set[str]) -> bool:
    if not isinstance(body, ev.SectionClosed) or body.tile is None:
        return False
    return body.area in counting and body.tile.witnessed


@dataclass(frozen=True, slots=True)
class TimeBreak:
    """Where the tablet's time is broken between two events that follow each other: it was started anew, or its wall
    clock moved by so many seconds, forward if positive."""

    kind: Literal["restarted", "clock set"]
    before: Event
    after: Event
    seconds: float


def time_breaks(events: Sequence[Event]) -> Iterator[TimeBreak]:
    """All of them, without those that an event tells of."""
    for before, after in pairwise(events):
        if before.at.boot != after.at.boot:
            yield TimeBreak("restarted", before, after, before.at.wall_seconds_to(after.at))
        elif not isinstance(after.body, ev.ClockJumped):
            moved = moved_s(before.at, after.at)
            if abs(moved) > CLOCK_MOVED_S:
                yield TimeBreak("clock set", before, after, moved)
