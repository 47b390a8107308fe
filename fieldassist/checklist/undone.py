"""What failed and counts no more because it was taken back or corrected, and what addenda correct: an owner asks why.

A verdict can be taken back and a tile read again. Nobody but who reads the whole record would see it, so that whatever
tells of a lift asks here as well.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from fieldassist.checklist import events as ev
from fieldassist.checklist.event_base import AtStep
from fieldassist.checklist.events import Event
from fieldassist.checklist.kinds.choice import Choice
from fieldassist.checklist.kinds.reading import as_told
from fieldassist.checklist.moment import Moment
from fieldassist.checklist.standing import Standing
from fieldassist.checklist.state import Area, State
from fieldassist.checklist.told import exact
from fieldassist.trade.message import Figure, Read, message
from fieldassist.trade.quantities import Quantity

# Where something was answered: area, section and round.
RoundPlace = tuple[str, str, int]


@dataclass(frozen=True, slots=True)
class Undone:
    """Answers of one round, or of one step of it, that failed and count no more, with none in their place that fails.

    step: "" for all of a lift; lift: its number, None where nothing was lifted; was: what had been read or chosen, the
    oldest first; judged: it had made a verdict, which failed; corrected: another value took its place, else it was
    taken back; at: when, and event: which did so, of the last one.
    """

    area: str
    section: str
    round: int
    step: str
    lift: int | None
    was: tuple[Figure, ...]
    judged: bool
    corrected: bool
    at: Moment
    event: int


@dataclass(frozen=True, slots=True)
class Amendment:
    """Something of the record that an addendum corrects.

    event: of the correction; part: number of the addendum; target: the event that is corrected; area: "" for the whole
    day; lift: its number, None for none; text: what is said of it, or the value that stands now; by: whose correction.
    """

    event: int
    part: int
    target: int
    area: str
    section: str
    round: int
    lift: int | None
    text: Figure
    by: str


def lift_places(state: State) -> dict[RoundPlace, int]:
    """The number of each lift by the round in which it was asked."""
    return {
        (name, lift.section, lift.round): lift.number
        for name, area in state.areas.items()
        for lift in area.progress.lifts.values()
    }


# --- what failed and was taken back -------------------------------------------------------------------------------


@dataclass(slots=True)
class _Found:
    """What is being gathered of one place."""

    was: list[Figure] = field(default_factory=list)
    lift: int | None = None
    judged: bool = False
    by: Event | None = None


def undone(state: State, stands: Standing) -> tuple[Undone, ...]:
    """All of a day, in the order in which it was first said.

    A reading that was spoken and not kept may have been misheard and is none of these; one that was typed may not.
    Of a trial nothing is told: its samples are judged by nobody before all of them are read.
    """
    lifts = lift_places(state)
    shown = set(lifts) | {_place(e.body) for e in stands.events if isinstance(e.body, ev.TileLifted)}
    found: dict[tuple[RoundPlace, str], _Found] = {}
    for seq in sorted(stands.struck):
        event = stands.events[seq - 1]
        area = state.areas.get(getattr(event.body, "area", None) or "")
        was = None if area is None or area.plan.trial is not None else _failed(event, area, stands)
        if was is None:
            continue
        at = _place(event.body)
        one = found.setdefault((at, "" if at in shown else getattr(event.body, "step", "")), _Found(lift=lifts.get(at)))
        if was not in one.was:
            one.was.append(was)
        if isinstance(event.body, ev.LiftJudged):
            one.lift, one.judged = one.lift or event.body.lift, True
        by = stands.struck[seq]
        one.by = by if one.by is None or by.seq > one.by.seq else one.by
    failing = set(_failing(stands.events, stands, shown)) if found else set()
    return tuple(_undone(key, one) for key, one in found.items() if key not in failing)


def _undone(key: tuple[RoundPlace, str], one: _Found) -> Undone:
    (area, section, at_round), step = key
    assert one.by is not None
    corrected = not isinstance(one.by.body, ev.Withdrawn)
    return Undone(area, section, at_round, step, one.lift, tuple(one.was), one.judged, corrected, one.by.at, one.by.seq)


def _place(body: object) -> RoundPlace:
    assert isinstance(body, AtStep | ev.LiftJudged)
    return body.area, body.section, body.round


def _failed(event: Event, area: Area, stands: Standing) -> Figure | None:
    """What an event told that failed; None where it did not fail, or never stood."""
    body = event.body
    if isinstance(body, ev.LiftJudged):
        return Read(Quantity(exact(body.coverage), "percent")) if body.verdict == "failed" else None
    if isinstance(body, ev.JudgedReading):
        called = stands.events[body.target - 1].body
        assert isinstance(called, ev.ReadingCalled)  # the fold has seen that it is
        return None if body.passed is not False else as_told(called.value, called.unit, called.label)
    if isinstance(body, ev.ChoiceMade):
        step = area.checklist.step(body.section, body.step)
        option = step.option(body.option) if isinstance(step, Choice) and body.passed is False else None
        return None if option is None else message("doubt-answer", label=option.label)
    if isinstance(body, ev.ReadingCalled) and event.seq not in stands.kept and event.source.how != "spoken":
        return as_told(body.value, body.unit, body.label) if _would_fail(body, area) else None
    return None


def _would_fail(body: ev.ReadingCalled, area: Area) -> bool:
    """Whether what was called of a lifted tile would have failed, had it been kept."""
    step = area.checklist.step(body.section, body.step)
    criterion = area.criterion(step) if step.measures is not None else None
    return criterion is not None and criterion.judge(body.value, body.unit).verdict != "passed"


def _failing(events: Iterable[Event], stands: Standing, shown: set[RoundPlace]) -> Iterator[tuple[RoundPlace, str]]:
    """Where something stands that fails: what was taken back there hides nothing."""
    for event in events:
        body = event.body
        if event.seq in stands.struck:
            continue
        if isinstance(body, ev.LiftJudged) and body.verdict == "failed":
            yield _place(body), ""
        elif isinstance(body, ev.JudgedReading | ev.ChoiceMade) and body.passed is False and _place(body) not in shown:
            yield _place(body), body.step


# --- what addenda correct -----------------------------------------------------------------------------------------


def amendments(state: State, stands: Standing) -> tuple[Amendment, ...]:
    """Each correction of an addendum that counts, in order."""
    return tuple(_amendments(state, stands))


def _amendments(state: State, stands: Standing) -> Iterator[Amendment]:
    part, lifts = 0, lift_places(state)
    for event in stands.events:
        body = event.body
        if isinstance(body, ev.AddendumOpened):
            part = body.number
        elif part and isinstance(body, ev.CorrectionMade) and stands.counts(event):
            yield _amendment(event, part, stands.events[body.target - 1], body.text, lifts)
        elif part and isinstance(body, ev.ReadingCorrected) and stands.counts(event):
            called = stands.events[body.target - 1].body
            assert isinstance(called, ev.ReadingCalled)  # the fold has seen that it is
            anew = as_told(called.value, called.unit, called.label)
            yield _amendment(event, part, stands.events[body.corrects - 1], anew, lifts)


def _amendment(event: Event, part: int, target: Event, text: Figure, lifts: dict[RoundPlace, int]) -> Amendment:
    body = target.body
    area = getattr(body, "area", None) or ""
    section, at_round = getattr(body, "section", None) or "", getattr(body, "round", None) or 0
    lift = body.lift if isinstance(body, ev.LiftJudged) else lifts.get((area, section, at_round))
    return Amendment(event.seq, part, target.seq, area, section, at_round, lift, text, event.by)
