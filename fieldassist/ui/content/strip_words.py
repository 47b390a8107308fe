"""What the strip says: what happened last, and the clocks as time left."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import ceil

from fieldassist.checklist.plan import DayKind
from fieldassist.checklist.prompt import RunningClock
from fieldassist.day.desk import Report
from fieldassist.day.ear import Fate
from fieldassist.language import Words

_TAKEN = {
    Fate.TAKEN: "taken",
    Fate.REFUSED: "refused",
    Fate.ASKED: "asked again",
    Fate.IGNORED: "not for the tablet",
    Fate.CALLED: "listening to you",
    Fate.DICTATED: "into the note",
}


# What stands before everything while a day is no work.
MARKS: Mapping[DayKind, str] = {"work": "", "practice": "PRACTICE · ", "rehearsal": "REHEARSAL · "}


def report_words(report: Report) -> str:
    """What happened, in a line."""
    how = _TAKEN[report.fate] if report.fate is not None else ("Attention" if report.problem else "")
    heard = f"“{report.words}” {how}" if report.words else how
    what = report.said or report.why
    return f"{heard[:1].upper()}{heard[1:]}: {what}" if heard and what else heard or what


# How long what was heard and dropped stays to be seen [s]. Ours: time to look up and read it.
DROPPED_S = 6.0


def not_taken(reports: Sequence[Report], now: float) -> str:
    """What was heard last, where it was dropped a moment ago; "" for nothing. now: on the machine's clock [s]."""
    last = next((report for report in reversed(reports) if report.fate is not None), None)
    if last is None or last.fate is not Fate.IGNORED or not last.words or now - last.at > DROPPED_S:
        return ""
    return f"heard: {last.words} / not taken"


def clocks_in_words(running: Sequence[RunningClock], most: int, words: Words) -> str:
    """The clocks as time left, the next to run out first and those that are over last, and how many there are beside
    `most` of them."""
    soonest = sorted(running, key=lambda clock: (clock.least and clock.left_minutes <= 0, clock.left_minutes))
    told = [time_left(words(clock.title), clock.left_minutes, least=clock.least) for clock in soonest[:most]]
    return "   ".join(told) + (f"   +{len(soonest) - most}" if len(soonest) > most else "")


def time_left(title: str, minutes: float, *, least: bool = False) -> str:
    """A clock in words. least: it must be over before something is done.

    >>> time_left("Open time", 6.4), time_left("Pot life", 0.5), time_left("Open time", -1.2)
    ('Open time: 6 min left', 'Pot life: under 1 min left', 'Open time: UP since 1 min')
    >>> time_left("Slake", 6.4, least=True), time_left("Slake", -1.2, least=True)
    ('Slake: 7 min to go', 'Slake: over')
    """
    if least:
        return f"{title}: {ceil(minutes)} min to go" if minutes > 0 else f"{title}: over"
    if minutes <= 0:
        return f"{title}: UP since {-minutes:.0f} min"
    return f"{title}: {int(minutes)} min left" if minutes >= 1 else f"{title}: under 1 min left"
