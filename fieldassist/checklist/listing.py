"""An event as a line of a list: what happened, as a message."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache
from typing import Any

from fieldassist.checklist import backs, methods
from fieldassist.checklist import events as ev
from fieldassist.checklist.event_base import EventBody
from fieldassist.checklist.events import Event
from fieldassist.checklist.follow import minutes
from fieldassist.checklist.kinds import KINDS, Step
from fieldassist.checklist.plan import AreaPlan
from fieldassist.checklist.schema import Checklist
from fieldassist.checklist.told import exact
from fieldassist.trade.message import Figure, Message, Read, Several, message, term
from fieldassist.trade.quantities import Quantity

# What is told under its own name, of whichever event has it.
_TOLD = ("area", "name", "text", "number", "target", "failure", "run", "part")


@cache
def _fields(body: type[EventBody]) -> tuple[str, ...]:
    """The fields of an event that a list tells, or looks something up by."""
    return tuple(name for name in (*_TOLD, "section", "round", "step") if name in body.model_fields)


class Listing:
    """Tells the events of one log, in order: what later ones name by id is looked up in those that came before."""

    def __init__(self) -> None:
        self._plans: dict[str, AreaPlan] = {}
        self._checklists: dict[str, Checklist] = {}
        self._called: dict[int, ev.ReadingCalled] = {}

    def remember(self, event: Event) -> None:
        """Keep what later events name by id."""
        body = event.body
        if isinstance(body, ev.DayOpened):
            self._plans = {area.name: area for area in body.plan.areas}
        elif isinstance(body, ev.AreaPlanned):
            self._plans[body.planned.name] = body.planned
        elif isinstance(body, ev.ChecklistAdopted):
            self._checklists[body.checklist.checklist] = body.checklist
        elif isinstance(body, ev.ReadingCalled):
            self._called[event.seq] = body

    def line(self, event: Event) -> Message:
        """What an event tells."""
        self.remember(event)
        body: Any = event.body
        figures: dict[str, Figure] = {}
        kind: type[EventBody] = type(body)
        fields = _fields(kind)
        for field in fields:
            value = getattr(body, field)
            if value not in (None, "") and field in _TOLD:
                figures[field] = value if field == "part" else str(value)
        if "section" in fields and body.section:
            figures["section"] = self._title(body)
            figures["round"] = str(body.round) if "round" in fields else ""
        if "step" in fields and body.step:
            step = self.step_of(body)
            figures["step"] = step.name if step is not None else str(body.step)
        figures |= self.details(body)
        return Message(f"events-{body.type.replace(' ', '-')}", figures)

    def details(self, body: Any) -> Mapping[str, Figure]:
        """What an event tells besides where it happened; nothing for most."""
        more = _MORE.get(type(body))
        return more(self, body) if more is not None else {}

    def _checklist(self, area: str) -> Checklist | None:
        plan = self._plans.get(area)
        return self._checklists.get(plan.checklist) if plan is not None else None

    def _title(self, body: Any) -> Figure:
        checklist = self._checklist(body.area)
        try:
            return checklist.holder(body.section).title if checklist is not None else str(body.section)
        except KeyError:
            return str(body.section)

    def step_of(self, body: Any) -> Step | None:
        """The step at which something happened; None where the checklist does not hold it."""
        checklist = self._checklist(body.area)
        try:
            return checklist.step(body.section, body.step) if checklist is not None else None
        except KeyError:
            return None

    def called(self, target: int) -> ev.ReadingCalled | None:
        """The reading that was called out in the event `target`."""
        return self._called.get(target)

    def clock(self, body: Any) -> dict[str, Figure]:
        """The title of a clock, and its minutes."""
        checklist = self._checklist(body.area)
        clock = checklist.clock(body.clock) if checklist is not None else None
        told: dict[str, Figure] = {"clock": clock.title if clock is not None else str(body.clock)}
        for field in ("minutes", "left_minutes"):
            if hasattr(body, field):
                told["minutes"] = minutes(getattr(body, field))
        if hasattr(body, "basis"):
            told["basis"] = body.basis
        if hasattr(body, "reason"):
            told["reason"] = body.reason
        return told

    def stopped(self, body: ev.ClockStopped) -> dict[str, Figure]:
        """A clock's measured minutes, and how they were judged."""
        required = {"required": body.criterion.told} if body.criterion is not None else {}
        judged = body.verdict or ("together" if body.together else "none")
        return {**self.clock(body), "verdict": judged, **required}

    def corrective(self, body: Any) -> dict[str, Figure]:
        """The title of a corrective action."""
        checklist = self._checklist(body.area)
        found = checklist.corrective(body.corrective) if checklist is not None else None
        return {"corrective": found.title if found is not None else str(body.corrective)}

    def caution(self, body: ev.CautionAcknowledged) -> dict[str, Figure]:
        """The words of a caution, who heard it, and how it was answered."""
        checklist = self._checklist(body.area)
        caution = checklist.caution(body.caution) if checklist is not None else None
        persons = tuple(message("prompt-person", name=person) for person in body.persons)
        return {
            "caution": caution.text if caution is not None else body.caution,
            "count": len(body.persons),
            "persons": Several(persons or ("-",), "and"),
            "how": body.how.replace(" ", "-"),
        }


def _percent(value: Any) -> Figure:
    return Quantity(exact(value), "percent")


def _mark(mark: ev.TileMark) -> Message:
    figures: dict[str, Figure] = {"tile": str(mark.tile), "state": mark.state.replace(" ", "-")}
    return Message("events-tile-mark", {**figures, "lift": str(mark.lift or 0)})


_MORE: Mapping[type, Callable[[Listing, Any], Mapping[str, Figure]]] = {
    ev.DayOpened: lambda _, b: {
        "site": b.plan.site,
        "date": b.plan.date,
        "kind": b.kind,
        "days": len(b.continues),
        "number": b.tablet.number if b.tablet is not None else 0,
        "tablet": b.tablet.tablet if b.tablet is not None else "",
        "book": b.tablet.book if b.tablet is not None else "kept",
    },
    ev.AreaCarried: lambda _, b: {
        "date": b.date,
        "head": b.head[:16],
        "tiles": len(b.held.progress.tiles),
        "lifts": len(b.held.progress.lifts),
        "failures": len(b.held.progress.failures),
    },
    ev.ChecklistAdopted: lambda _, b: {"title": b.checklist.title, "edition": str(b.checklist.edition)},
    ev.AreaPlanned: lambda _, b: {
        "area": b.planned.name,
        "where": b.planned.where,
        "anew": "yes" if b.anew else "no",
    },
    ev.PersonAdded: lambda _, b: {"name": b.person.name, "role": b.person.role.value},
    ev.SpeakerChanged: lambda _, b: {"role": b.role.value},
    ev.TranscriptMade: lambda _, b: {
        "target": str(b.target),
        "sure": "none" if not b.text else "no" if b.unsure else "yes",
        "text": b.text,
        "model": b.model,
    },
    ev.WeatherNoted: lambda _, b: {"weather": Message("prompt-weather-word", {"word": b.text})},
    ev.DustNoted: lambda _, b: {
        "task": term("engine-dust-task", b.task),
        "place": term("engine-dust-place", b.place),
        "minutes": Quantity(b.minutes, "min"),
        "replaces": str(b.replaces or 0),
    },
    ev.DustStarted: lambda _, b: {
        "task": term("engine-dust-task", b.task),
        "place": term("engine-dust-place", b.place),
    },
    ev.DustEnded: lambda _, b: {"began": str(b.began)},
    ev.SectionOpened: lambda _, b: {"reason": b.reason, "letter": b.sample.letter if b.sample is not None else "none"},
    ev.SectionClosed: lambda _, b: {
        "sets": "yes" if b.tile is not None else "no",
        "tile": str(b.tile.number) if b.tile is not None else "none",
        "set": Quantity(exact(round(b.tile.place.face_m2 if b.tile is not None else 0.0, 6)), "m2"),
    },
    ev.MortarSpread: lambda _, b: {
        "setter": b.setter,
        "wanted": b.wanted or 0,
        "bears": b.bears or 0,
        "witnessed": "yes" if b.witnessed else "no",
    },
    ev.TileCounted: lambda _, b: {
        "tile": str(b.tile.number),
        "set": Quantity(exact(round(b.tile.place.face_m2, 6)), "m2"),
        "setter": b.tile.setter,
        "ends": "yes" if b.ends else "no",
    },
    ev.StillFailing: lambda _, b: {"finding": b.finding},
    ev.CautionAcknowledged: lambda listing, b: listing.caution(b),
    ev.Withdrawn: lambda _, b: {"reason": b.reason.replace(" ", "-"), "strikes": len(b.strikes)},
    ev.LiftJudged: lambda _, b: {
        "lift": str(b.lift),
        "contact": _percent(b.coverage),
        "required": _percent(b.required),
        "verdict": b.verdict.replace(" ", "-"),
        "reasons": Several(b.reasons or b.unread, "clauses"),
    },
    ev.FailureOpened: lambda listing, b: {"finding": b.finding, **listing.corrective(b)},
    ev.FailureClosed: lambda listing, b: {"shown-by": b.shown_by, **listing.corrective(b)},
    ev.InspectionTightened: lambda _, b: {"lifts": b.lifts},
    ev.MethodChanged: lambda _, b: {"method": methods.called(b.name, b.method)},
    ev.MethodDoubted: lambda _, b: {
        "method": methods.called(b.name, b.method),
        "reasons": Several(b.reasons, "clauses"),
        "holds": "yes" if b.holds else "no",
    },
    ev.MethodVouched: lambda _, b: {
        "method": methods.called(b.called, b.method),
        "word": b.told,
        "deputy": b.deputy_for or "no",
    },
    ev.ClockStarted: lambda listing, b: listing.clock(b),
    ev.ClockStopped: lambda listing, b: listing.stopped(b),
    ev.ClockUp: lambda listing, b: listing.clock(b),
    ev.WentOnEarly: lambda listing, b: listing.clock(b),
    ev.CalledLate: lambda listing, b: listing.clock(b),
    ev.BucketTaken: lambda _, b: {"bucket": str(b.bucket)},
    ev.WorkStopped: lambda _, b: {"weather": Message("prompt-weather-word", {"word": b.weather})},
    ev.ClockWarned: lambda listing, b: listing.clock(b),
    ev.ClockRanOut: lambda listing, b: listing.clock(b),
    ev.SamplesOrdered: lambda _, b: {
        "head": b.head[:16],
        "order": " ".join(b.order),
        "more": "yes" if b.more else "no",
    },
    ev.SampleSpoiled: lambda _, b: {"letter": b.letter, "reason": b.reason},
    ev.MethodReleased: lambda _, b: {
        "letter": b.letter,
        "method": methods.told(b.method),
        "areas": Several(b.areas, "and"),
        "deputy": b.deputy_for or "no",
    },
    ev.LotsCommitted: lambda _, b: {"commitment": b.commitment[:16]},
    ev.LotsRevealed: lambda _, b: {"commitment": b.commitment[:16], "seed": b.seed},
    ev.LotsRuled: lambda _, b: {"one-in": str(b.one_in)},
    ev.LiftDue: lambda _, b: {"tile": str(b.tile), "came": term("engine-came", b.came)},
    ev.LiftLeft: lambda _, b: {"tile": str(b.tile), "came": term("engine-came", b.came), "reason": b.reason},
    ev.TilesMarked: lambda _, b: {"marks": Several(tuple(_mark(mark) for mark in b.marks), "clauses")},
    ev.TilesAccepted: lambda _, b: {
        "tiles": Several(tuple(map(str, b.tiles))),
        "count": len(b.tiles),
        "words": b.told,
    },
    ev.TileTakenOff: lambda _, b: {"tile": str(b.tile)},
    ev.CommandRefused: lambda _, b: {"attempt": b.attempt, "reason": b.reason},
    ev.DaySigned: lambda _, b: {"open": len(b.open_points), "points": Several(b.open_points, "clauses")},
    ev.DaySealed: lambda _, b: {"covers": str(b.covers), "key": b.public_key[:16]},
    ev.AddendumOpened: lambda _, b: {"reason": b.reason},
    ev.FinishHeld: lambda _, b: {"point": b.point},
    ev.BackMeasured: backs.tell,
    ev.PointAnswered: lambda _, b: {"point": b.told, "answer": b.answer, "spoken": "yes" if b.audio else "no"},
    ev.PinRefused: lambda _, b: {"left": b.attempts_left},
    ev.KeyReplaced: lambda _, b: {"key": b.key[:16], "before": b.before[:16]},
    **{body: tell for kind in KINDS for body, tell in kind.TELLS.items()},
    ev.ClockJumped: lambda _, b: {"seconds": Read(Quantity(exact(b.seconds) / 60, "min"))},
    ev.DayRecovered: lambda _, b: {"events": b.events, "behind": b.behind, "missing": b.lost},
    ev.ClockUnwatched: lambda _, b: {"minutes": minutes(b.seconds / 60)},
}
