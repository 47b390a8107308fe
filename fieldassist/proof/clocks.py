"""The tablet's clock over a day: what was noted of it, what was not, and the date of the plan."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from fieldassist.checklist.clock_watch import CLOCK_MOVED_S, clock_note, watched_since
from fieldassist.checklist.events import (
    AddendumOpened,
    ClockJumped,
    ClockUnwatched,
    DayOpened,
    DaySealed,
    DaySigned,
    Event,
)
from fieldassist.proof.verdict import DAMAGED, UNSEALED, Findings
from fieldassist.trade.message import Several

_MOST_NAMED = 5
# Of one decision not all is written at the same instant, and a clock may be set meanwhile: the next one notes it.
_SLACK_S = 5.0


def check_clocks(events: Sequence[Event], found: Findings) -> None:
    """Tell what was noted of the clock; and hold the record to the rule by which it is noted: a shift that the moments
    of the events show and nobody noted, and a note that they do not show."""
    opened = events[0].body if events else None
    if not isinstance(opened, DayOpened):
        return
    jumps = [e.body.seconds for e in events if isinstance(e.body, ClockJumped)]
    gaps = [e.body.seconds for e in events if isinstance(e.body, ClockUnwatched)]
    unnoted = _unnoted(events)
    found.facts["clock"] = {"set": jumps, "not_watched": gaps, "not_noted": unnoted}
    if jumps:
        found.say("clock-set", times=len(jumps), longest=f"{max(map(abs, jumps)) / 60:.1f}")
    if gaps:
        found.say("clock-not-watched", times=len(gaps), longest=f"{max(gaps) / 60:.0f}")
    if unnoted:
        # Before rules were written down, small steps and restarts were not noted.
        gravity = DAMAGED if opened.rules else UNSEALED
        named = tuple(str(seq) for seq in unnoted[:_MOST_NAMED])
        found.say("clock-not-noted", gravity, events=Several(named), count=len(unnoted))
    if opened.kind == "work" and opened.plan.date != events[0].at.wall[:10]:
        gravity = DAMAGED if opened.rules else UNSEALED
        found.say("date-other", gravity, planned=opened.plan.date, began=events[0].at.wall)


def _unnoted(events: Sequence[Event]) -> list[int]:
    """The first event of each moment at which the clock should have been noted and was not, or was noted otherwise."""
    found: list[int] = []
    since, last = events[0].at, events[0].at
    closed, waiting = False, 0
    for at, group in groupby(events, key=lambda event: event.at):
        together = list(group)
        due = clock_note(since, last, at)
        notes = [event.body for event in together if isinstance(event.body, ClockJumped | ClockUnwatched)]
        # In a signed day only its seal may follow, and an addendum, behind whose opening the note stands.
        if not closed or any(isinstance(event.body, AddendumOpened) for event in together):
            if waiting and not (notes and at.boot == last.boot):
                found.append(waiting)
            waiting = 0
            if any(due is None or not _alike(note, due) for note in notes):
                found.append(together[0].seq)
            elif due is not None and not notes and abs(due.seconds) > CLOCK_MOVED_S + _SLACK_S:
                # A clock can be set between a decision's note and its events: then the next moment has the note.
                if at.boot == last.boot:
                    waiting = together[0].seq
                else:
                    found.append(together[0].seq)
        for event in together:
            since = watched_since(since, event)
            closed = isinstance(event.body, DaySigned | DaySealed) or (
                closed and not isinstance(event.body, AddendumOpened)
            )
        last = at
    return [*found, waiting] if waiting else found


def _alike(note: ClockJumped | ClockUnwatched, due: ClockJumped | ClockUnwatched) -> bool:
    """Whether a note says what the moments show. The older programs noted the step since the last event alone."""
    return type(note) is type(due) and abs(note.seconds - due.seconds) <= _SLACK_S
