"""What still counts of a day's events, worked out once: ear, plan, lift, photos, report and undo all read it here."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property
from itertools import chain

from fieldassist.checklist import events as ev
from fieldassist.checklist.events import Event
from fieldassist.trade.quantities import Quantity, canonical


@dataclass(frozen=True, slots=True)
class KeptReading:
    """A reading that was kept and still counts: the event that called it, the one that kept it, and both bodies.

    One that took the place of another was kept by its correction.
    """

    called: Event
    kept: Event

    @property
    def body(self) -> ev.ReadingCalled:
        """What was called out."""
        assert isinstance(self.called.body, ev.ReadingCalled)
        return self.called.body

    @property
    def judged(self) -> ev.JudgedReading:
        """How it was judged."""
        assert isinstance(self.kept.body, ev.JudgedReading)
        return self.kept.body

    @property
    def quantity(self) -> Quantity:
        """The value with the unit in which it was read."""
        return Quantity(self.body.value, self.body.unit)

    @property
    def canonical(self) -> float:
        """The value in the canonical unit of its dimension."""
        return canonical(self.body.value, self.body.unit)


@dataclass(frozen=True)
class Standing:
    """What counts and what does not.

    struck: the number of each event that counts no more, with the event that withdrew it or stands in its place; fell:
    for each withdrawal, the events that fell with its target; kept: for each reading that was kept, withdrawn since or
    not, by the number of the event that called it, the event that kept it, and the same of an answer of a lift that was
    read back; replaced: for a dust entry, the one that stands in its place; corrected: the same for the event that kept
    a reading; firsts: for a correction, the event that first kept the reading.
    """

    events: tuple[Event, ...] = ()
    struck: Mapping[int, Event] = field(default_factory=dict)
    fell: Mapping[int, tuple[Event, ...]] = field(default_factory=dict)
    kept: Mapping[int, Event] = field(default_factory=dict)
    replaced: Mapping[int, Event] = field(default_factory=dict)
    corrected: Mapping[int, Event] = field(default_factory=dict)
    firsts: Mapping[int, int] = field(default_factory=dict)

    def counts(self, event: Event) -> bool:
        """Whether an event still counts."""
        return event.seq not in self.struck

    @cached_property
    def readings(self) -> tuple[KeptReading, ...]:
        """Every reading that was kept and still counts, in the order in which they were first kept."""
        by_seq = {event.seq: event for event in self.events}
        counting = (
            KeptReading(by_seq[called], kept)
            for called, kept in self.kept.items()
            if isinstance(kept.body, ev.JudgedReading) and kept.seq not in self.struck and called in by_seq
        )
        return tuple(sorted(counting, key=lambda reading: self.firsts.get(reading.kept.seq, reading.kept.seq)))

    def readings_of(self, area: str, step: str) -> tuple[KeptReading, ...]:
        """The readings of one step in one area that count, oldest first."""
        return tuple(r for r in self.readings if (r.body.area, r.body.step) == (area, step))

    def bodies(self, kind: type) -> tuple[Event, ...]:
        """The events with bodies of this type that still count."""
        found = [events for body, events in self._by_kind.items() if issubclass(body, kind)]
        return found[0] if len(found) == 1 else tuple(sorted(chain(*found), key=lambda event: event.seq))

    def of_area(self, area: str) -> tuple[Event, ...]:
        """The events of an area that still count, in order."""
        return self._by_area.get(area, ())

    @cached_property
    def _by_area(self) -> Mapping[str, tuple[Event, ...]]:
        found: dict[str, list[Event]] = {}
        for kind, events in self._by_kind.items():
            if "area" in getattr(kind, "model_fields", ()):
                for event in events:
                    found.setdefault(getattr(event.body, "area", None) or "", []).append(event)
        return {area: tuple(sorted(events, key=lambda event: event.seq)) for area, events in found.items()}

    @cached_property
    def _by_kind(self) -> Mapping[type, tuple[Event, ...]]:
        """The events that count, by the type of their bodies: asked for many times a tile."""
        found: dict[type, list[Event]] = {}
        for event in self.events:
            if event.seq not in self.struck:
                found.setdefault(type(event.body), []).append(event)
        return {kind: tuple(events) for kind, events in found.items()}

    @property
    def lifts(self) -> tuple[Event, ...]:
        """The lifts that were judged and still count."""
        return self.bodies(ev.LiftJudged)

    @property
    def failures(self) -> tuple[Event, ...]:
        """The failures that were opened and still count, cured or not."""
        return self.bodies(ev.FailureOpened)

    @property
    def photos(self) -> tuple[Event, ...]:
        """The photos that were kept and still count."""
        return self.bodies(ev.PhotoAttached)

    @property
    def dust_minutes(self) -> dict[str, Fraction]:
        """Minutes [min] of dusty work by person, without what was replaced."""
        minutes: dict[str, Fraction] = {}
        for event in self.bodies(ev.DustNoted):
            assert isinstance(event.body, ev.DustNoted)
            minutes[event.by] = minutes.get(event.by, Fraction()) + event.body.minutes
        return minutes


def standing(events: Iterable[Event]) -> Standing:
    """What still counts of these events, all of one log in order."""
    told = tuple(events)
    by_seq = {event.seq: event for event in told}
    struck: dict[int, Event] = {}
    fell: dict[int, tuple[Event, ...]] = {}
    kept: dict[int, Event] = {}
    replaced: dict[int, Event] = {}
    corrected: dict[int, Event] = {}
    firsts: dict[int, int] = {}
    judged: dict[tuple[str, int], int] = {}
    for event in told:
        body = event.body
        if isinstance(body, ev.JudgedReading):
            kept[body.target] = event
        elif isinstance(body, ev.ChoiceMade) and body.called is not None:
            kept[body.called] = event
        if isinstance(body, ev.ReadingCorrected):
            corrected[body.corrects] = struck[body.corrects] = event
            firsts[event.seq] = firsts.get(body.corrects, body.corrects)
            wrong = by_seq.get(body.corrects)
            if wrong is not None and isinstance(wrong.body, ev.JudgedReading):
                struck[wrong.body.target] = event
        elif isinstance(body, ev.LiftJudged):
            # Judged anew after a correction, only the later verdict counts.
            earlier = judged.get((body.area, body.lift))
            if earlier is not None and earlier not in struck:
                struck[earlier] = event
            judged[(body.area, body.lift)] = event.seq
        elif isinstance(body, ev.DustNoted) and body.replaces is not None:
            replaced[body.replaces] = event
            struck[body.replaces] = event
        elif isinstance(body, ev.Withdrawn):
            struck[body.target] = event
            target = by_seq.get(body.target)
            if target is not None and isinstance(target.body, ev.JudgedReading):
                struck[target.body.target] = event
            elif target is not None and isinstance(target.body, ev.ChoiceMade) and target.body.called is not None:
                struck[target.body.called] = event
            fell[event.seq] = tuple(by_seq[seq] for seq in body.strikes if seq in by_seq)
            struck |= dict.fromkeys(body.strikes, event)
    return Standing(told, struck, fell, kept, replaced, corrected, firsts)
