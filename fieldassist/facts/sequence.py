"""The whole sequence of a day as facts: each event and what it tells, what was taken back, where time is broken."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Any

from fieldassist.checklist import events as ev
from fieldassist.checklist.events import Event
from fieldassist.checklist.fields import write_number
from fieldassist.checklist.listing import Listing
from fieldassist.checklist.standing import Standing
from fieldassist.checklist.unusual import time_breaks, unusual
from fieldassist.facts import model
from fieldassist.facts.telling import Tell
from fieldassist.trade.message import message
from fieldassist.trade.quantities import Quantity

_DECISIONS = (ev.LiftJudged, ev.FailureOpened, ev.FailureClosed, ev.ClockStarted, ev.ClockStopped)


class SequenceTeller:
    """Tells the events of one day, each once."""

    def __init__(self, stands: Standing, told: Tell) -> None:
        self._standing, self._told = stands, told
        listing = Listing()
        self._lines = [told(listing.line(event)) for event in stands.events]

    def entries(self) -> Iterator[model.EntryFact]:
        """Every event, in order."""
        part, stand_out = 0, unusual(self._standing)
        for event, line in zip(self._standing.events, self._lines, strict=True):
            body: Any = event.body
            if isinstance(body, ev.AddendumOpened):
                part = body.number
            by = self._struck(event)
            value, unit = _value(body, self._standing.events)
            yield model.EntryFact(
                event=event.seq,
                at=event.at.wall,
                by=event.by,
                how=event.source.how,
                together=event.source.together,
                part=part,
                kind=body.type,
                **_place(body),
                value=value,
                unit=unit,
                verdict=_verdict(body),
                no_longer=None if by is None else by.seq,
                stands_out=event.seq in stand_out,
                told=line,
            )

    def _struck(self, event: Event) -> Event | None:
        """The event since which one counts no more: a clock's warning does not where its start does not."""
        struck = self._standing.struck
        run = event.body.run if isinstance(event.body, ev.ClockWarned) else event.seq
        return struck.get(event.seq) or struck.get(run)

    def withdrawn(self) -> Iterator[model.WithdrawnFact]:
        """What was taken back, and what fell with it."""
        for event in self._standing.events:
            body = event.body
            if isinstance(body, ev.Withdrawn):
                target = self._standing.events[body.target - 1]
                yield model.WithdrawnFact(
                    target=body.target,
                    area=body.area,
                    kind=target.body.type,
                    told=self._line(target),
                    said=target.at.wall,
                    reason=body.reason,
                    reading=isinstance(target.body, ev.ReadingCalled | ev.JudgedReading),
                    fell=[self._line(one) for one in self._standing.fell.get(event.seq, ()) if _is_decision(one)],
                    by=event.by,
                    at=event.at.wall,
                    event=event.seq,
                )

    def _line(self, event: Event) -> model.ToldFact:
        return self._lines[event.seq - 1]

    def time_breaks(self) -> Iterator[model.TimeBreakFact]:
        """Where the tablet's time is broken and no event tells of it."""
        for found in time_breaks(self._standing.events):
            away = Quantity(Fraction(round(abs(found.seconds))) / 60, "min")
            if found.kind == "restarted":
                told = message("facts-restarted", away=away)
            else:
                told = message("facts-clock-set", way="forward" if found.seconds > 0 else "back", by=away)
            yield model.TimeBreakFact(
                kind=found.kind,
                before=found.before.seq,
                after=found.after.seq,
                seconds=round(found.seconds, 3),
                told=self._told(told),
                at=found.after.at.wall,
            )


def _place(body: Any) -> dict[str, Any]:
    """Area, section, round and step of an event, as far as it has them."""
    has = type(body).model_fields
    return {
        "area": (body.area if "area" in has else None) or "",
        "section": body.section if "section" in has else "",
        "round": body.round if "round" in has else None,
        "step": body.step if "step" in has else "",
    }


def _is_decision(event: Event) -> bool:
    """Whether something was decided by it: the rest of what falls says nothing that its target does not."""
    return isinstance(event.body, _DECISIONS)


def _value(body: Any, events: Sequence[Event]) -> tuple[str | None, str | None]:
    """The figure that an event holds, exactly as it was read or measured, and its unit; what was chosen, or a lot's
    label, where it is no number."""
    if isinstance(body, ev.JudgedReading):
        body = events[body.target - 1].body
    found = _VALUES.get(type(body))
    return (None, None) if found is None else found(body)


_VALUES: Mapping[type, Callable[[Any], tuple[str | None, str | None]]] = {
    ev.ReadingCalled: lambda b: (b.label, None) if b.label is not None else (write_number(b.value), b.unit),
    ev.ChoiceCalled: lambda b: (b.option, None),
    ev.ChoiceMade: lambda b: (b.option, None),
    ev.LiftJudged: lambda b: (write_number(b.coverage), "percent"),
    **dict.fromkeys(
        (ev.ClockStarted, ev.ClockStopped, ev.ClockUp, ev.ClockRanOut), lambda b: (f"{b.minutes:g}", "min")
    ),
    ev.DustNoted: lambda b: (write_number(b.minutes), "min"),
    **dict.fromkeys((ev.TileLifted, ev.TileTakenOff, ev.LiftDue, ev.LiftLeft), lambda b: (str(b.tile), None)),
    ev.TileCounted: lambda b: (str(b.tile.number), None),
    ev.SectionClosed: lambda b: (None if b.tile is None else str(b.tile.number), None),
    ev.PhotoAttached: lambda b: (b.file, None),
    ev.BackMeasured: lambda b: (f"{b.back.percent:g}", "percent"),
}


def _verdict(body: Any) -> str:
    """How something was judged, "" where it was not."""
    if isinstance(body, ev.ChoiceMade):
        return "" if body.passed is None else "passed" if body.passed else "failed"
    return (body.verdict if "verdict" in type(body).model_fields else None) or ""
