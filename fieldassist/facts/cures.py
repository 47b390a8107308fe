"""The facts of what failed in an area, and of what was done about it."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator
from typing import Any

from fieldassist.checklist import events as ev
from fieldassist.checklist import rules
from fieldassist.checklist.events import Event
from fieldassist.checklist.standing import Standing
from fieldassist.checklist.state import AFTER_FAILURE, Area, Failure, LiftRecord
from fieldassist.facts import model
from fieldassist.facts.names import option_label, step_name
from fieldassist.facts.telling import Tell
from fieldassist.trade.message import Figure, Message, Text


def failure_facts(area: Area, stands: Standing, told: Tell) -> Iterator[model.FailureFact]:
    """The failures of an area: those of earlier days that are still open, then today's, in order."""
    return _Failures(area, stands, told).facts()


# What may tell of any cure, wherever it happens; of everything else what happens in the rounds of a cure, what names
# its failure, and what its lift makes suspect.
_OF_CURES = (ev.LiftLeft, ev.TilesAccepted, ev.TileTakenOff, ev.MethodChanged)


class _Failures:
    def __init__(self, area: Area, stands: Standing, told: Tell) -> None:
        self.area, self.standing, self.told = area, stands, told
        self.events = stands.of_area(area.plan.name)
        # The rounds that a failure opened, to cure it or to check again: each with its failure.
        self.rounds = {
            (event.body.section, event.body.round): event.body.failure
            for event in self.events
            if isinstance(event.body, ev.SectionOpened) and event.body.failure is not None
        }
        self.around: list[Event] = []
        # By failure, and by the lift that makes tiles suspect.
        self.of_failure: dict[int, list[Event]] = {}
        self.of_lift: dict[int, list[Event]] = {}
        for event in self.events:
            self._sort_in(event, event.body)
        self.closings: dict[int, Event] = {}
        for found in self._of(ev.FailureClosed):
            body: Any = found.body
            self.closings.setdefault(body.failure, found)
        self.opened = self._of(ev.FailureOpened)
        self.lifts = area.progress.lifts
        carried: list[Any] = [event.body for event in stands.bodies(ev.AreaCarried)]
        self.earlier = sum(len(body.held.progress.failures) for body in carried)
        today = [event.seq for event in stands.failures]
        self.numbers = {seq: self.earlier + at for at, seq in enumerate(today, start=1)}

    def _of(self, kind: type) -> list[Event]:
        return [event for event in self.events if isinstance(event.body, kind)]

    def _sort_in(self, event: Event, body: Any) -> None:
        """Keep an event under whatever may ask for it."""
        fields = type(body).model_fields
        if isinstance(body, ev.TilesMarked):
            for lift in {mark.lift for mark in body.marks if mark.state == "suspect" and mark.lift is not None}:
                self.of_lift.setdefault(lift, []).append(event)
        elif isinstance(body, _OF_CURES) or (isinstance(body, ev.LiftJudged) and body.came in AFTER_FAILURE):
            self.around.append(event)
        elif isinstance(body, ev.StillFailing | ev.FailureClosed):
            self.of_failure.setdefault(body.failure, []).append(event)
        elif "section" in fields and "round" in fields:
            failure = self.rounds.get((body.section, body.round))
            if failure is not None:
                self.of_failure.setdefault(failure, []).append(event)

    def facts(self) -> Iterator[model.FailureFact]:
        for event in self._of(ev.AreaCarried):
            assert isinstance(event.body, ev.AreaCarried)  # that was asked for
            yield from self._carried(event.body, event.seq)
        for event in self.opened:
            yield self._fact(event)

    def _carried(self, carried: ev.AreaCarried, seq: int) -> Iterator[model.FailureFact]:
        others: list[Any] = [event.body for event in self.standing.bodies(ev.AreaCarried) if event.seq < seq]
        before = sum(len(body.held.progress.failures) for body in others)
        for at, (number, failure) in enumerate(carried.held.progress.failures.items(), start=1):
            yield self._earlier(number, before + at, failure)

    def _earlier(self, number: int, count: int, failure: Failure) -> model.FailureFact:
        """One of an earlier day: its event is not in this record."""
        told = self.told(failure.finding)
        lift = self._lift_of(number)
        cure = list(self._cure(number, 0, lift))
        closed = self._closing(number)
        return model.FailureFact(
            id=str(number),
            number=count,
            lift=None if lift is None else lift.number,
            clock=None,
            required=None,
            asked=None,
            place=self._place(failure.section, failure.step),
            corrective_told=self.told(self._corrective(failure.corrective)),
            suspect=sorted({tile for step in cure if step.kind == "suspect" for tile in step.tiles}),
            cure=cure,
            code=told.code,
            figures=told.figures,
            text=told.text,
            section=failure.section,
            round=failure.round,
            step="",
            corrective=failure.corrective,
            open=number in self.area.progress.failures,
            closed=None if closed is None else self._closed(closed),
            by="",
            at="",
        )

    def _fact(self, event: Event) -> model.FailureFact:
        body: Any = event.body
        told = self.told(body.finding)
        lift = self.lifts.get(body.lift) if body.lift is not None else self._lift_of(event.seq)
        cure = list(self._cure(event.seq, event.seq, lift))
        closed = self._closing(event.seq)
        by = body.criterion
        return model.FailureFact(
            id=str(event.seq),
            number=self.numbers[event.seq],
            lift=None if lift is None else lift.number,
            clock=body.run,
            required=None if by is None else self.told(rules.required(by.at_least, by.at_most, by.unit)),
            asked=None if body.asked is None else self.told(body.asked),
            place=self._place(body.section, body.step),
            corrective_told=self.told(self._corrective(body.corrective)),
            suspect=sorted({tile for step in cure if step.kind == "suspect" for tile in step.tiles}),
            cure=cure,
            code=told.code,
            figures=told.figures,
            text=told.text,
            section=body.section,
            round=body.round,
            step=body.step,
            corrective=body.corrective,
            open=event.seq in self.area.progress.failures,
            closed=None if closed is None else self._closed(closed),
            by=event.by,
            at=event.at.wall,
        )

    # --- what followed

    def _lift_of(self, failure: int) -> LiftRecord | None:
        return next((lift for lift in self.lifts.values() if lift.failure == failure), None)

    def _closing(self, failure: int) -> Event | None:
        return self.closings.get(failure)

    def _after(self, since: int, failure: int, lift: LiftRecord | None) -> list[Event]:
        """The events behind one that may tell of what was done about a failure, in order."""
        found = self.around[bisect_right(self.around, since, key=lambda event: event.seq) :]
        found += self.of_failure.get(failure, ())
        found += self.of_lift.get(lift.number, ()) if lift is not None else ()
        return sorted((event for event in found if event.seq > since), key=lambda event: event.seq)

    def _closed(self, event: Event) -> model.ClosedFact:
        body: Any = event.body
        return model.ClosedFact(
            at=event.at.wall,
            by=event.by,
            corrective=body.corrective,
            shown_by=self.told(body.shown_by),
            event=event.seq,
        )

    def _cure(self, failure: int, since: int, lift: LiftRecord | None) -> Iterator[model.CureFact]:
        """What was done about a failure, event by event. since: nothing before it; lift: the one that failed."""
        suspect: set[int] = set()
        cured_in = {at for at, number in self.rounds.items() if number == failure}
        closed = self._closing(failure)
        for event in self._after(since, failure, lift):
            body: Any = event.body
            at = (getattr(body, "section", ""), getattr(body, "round", 0))
            if isinstance(body, ev.TilesMarked) and lift is not None:
                new = [m.tile for m in body.marks if m.state == "suspect" and m.lift == lift.number]
                new = [tile for tile in new if tile not in suspect]
                if new:
                    suspect |= set(new)
                    yield self._step(event, "suspect", tiles=new)
            elif isinstance(body, ev.LiftJudged):
                if self._follows(body, at in cured_in, lift):
                    yield self._step(event, "lifted", tiles=[body.tile], lift=body.lift)
            elif isinstance(body, ev.LiftLeft):
                if body.tile in suspect or at in cured_in:
                    yield self._step(event, "not lifted", tiles=[body.tile], told=body.reason)
            elif isinstance(body, ev.TilesAccepted):
                tiles = [tile for tile in body.tiles if tile in suspect]
                if tiles:
                    yield self._step(event, "accepted", tiles=tiles, told=body.told)
            elif isinstance(body, ev.TileTakenOff):
                if body.tile in suspect:
                    yield self._step(event, "taken off", tiles=[body.tile])
            elif isinstance(body, ev.MethodChanged):
                if closed is None or event.seq < closed.seq:
                    yield self._step(event, "changed", method=self.area.methods_used.index(body.method))
            elif isinstance(body, ev.StillFailing) and body.failure == failure:
                yield self._step(event, "failed again", lift=body.lift, told=body.finding)
            elif isinstance(body, ev.FailureClosed) and body.failure == failure:
                yield self._step(event, "closed", told=body.shown_by)
            elif at in cured_in and self.area.checklist.corrective(body.section) is not None:
                yield from self._done(event, body)

    def _follows(self, judged: ev.LiftJudged, in_cure: bool, lift: LiftRecord | None) -> bool:
        """Whether a lift was made because of this failure: it checks the cure, or goes outward from the failed lift."""
        if in_cure:
            return True
        if lift is None or judged.came not in AFTER_FAILURE or judged.lift <= lift.number or judged.run != lift.run:
            return False
        between = (one for one in self.lifts.values() if lift.number < one.number < judged.lift)
        return not any(one.failure is not None and one.run == lift.run for one in between)

    def _done(self, event: Event, body: Any) -> Iterator[model.CureFact]:
        """A step of the corrective action."""
        if isinstance(body, ev.StepConfirmed):
            yield self._step(event, "done", told=step_name(self.area, body.section, body.step))
        elif isinstance(body, ev.ChoiceMade):
            yield self._step(event, "answered", told=option_label(self.area, body))
        elif isinstance(body, ev.HoldReleased):
            yield self._step(event, "released", told=step_name(self.area, body.section, body.step))

    def _step(
        self,
        event: Event,
        kind: Any,
        *,
        tiles: Iterable[int] = (),
        lift: int | None = None,
        method: int | None = None,
        told: Figure | None = None,
    ) -> model.CureFact:
        return model.CureFact(
            kind=kind,
            tiles=sorted(tiles),
            lift=lift,
            method=method,
            told=None if told is None else self.told(told),
            by=event.by,
            at=event.at.wall,
            event=event.seq,
        )

    # --- names

    def _place(self, section: str, step: str) -> str:
        """Where it was found: the step, or the section for a clock, whose failure names a step of its cure."""
        holder = self.area.checklist.section(section) or self.area.checklist.corrective(section)
        found = next((one for one in holder.steps if one.id == step), None) if holder is not None else None
        if found is not None:
            return self.told(found.name).text
        return self.told(holder.title if holder is not None else section).text

    def _corrective(self, corrective: str) -> Message | Text | str:
        found = self.area.checklist.corrective(corrective)
        return found.title if found is not None else corrective
