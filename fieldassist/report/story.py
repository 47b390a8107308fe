"""The telling of a day: a fold of its events into the plain data of `told`."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from fractions import Fraction
from itertools import pairwise
from typing import Any, Literal

from fieldassist.assess.contact import area_contact, required_contact
from fieldassist.assess.dust import shifts
from fieldassist.assess.handling import handling
from fieldassist.assess.inputs import area_inputs
from fieldassist.assess.mortar import bag_balance
from fieldassist.assess.told import why
from fieldassist.checklist import events as ev
from fieldassist.checklist.events import Event, Moment
from fieldassist.checklist.fields import canonical, write_number
from fieldassist.checklist.plan import AreaPlan, DayPlan, Trowel
from fieldassist.checklist.rules import notch_of
from fieldassist.checklist.schema import Checklist, Corrective, Kind, Section, Step
from fieldassist.checklist.state import Area
from fieldassist.language import Words
from fieldassist.record.keys import fingerprint
from fieldassist.record.seal import SealCheck
from fieldassist.report.told import (
    AddedLine,
    Addendum,
    AreaStory,
    BagCount,
    Batch,
    CautionLine,
    Change,
    ClockLine,
    ConditionLine,
    CorrectionLine,
    CrewLine,
    Day,
    DustLine,
    Fact,
    FailureStory,
    LiftLine,
    LineKind,
    Need,
    NoteLine,
    Photo,
    Question,
    Refused,
    Seal,
    SequenceLine,
    Signature,
    Summary,
    TileLine,
    Units,
    Withdrawn,
)
from fieldassist.trade import coverage, dust, ridges
from fieldassist.trade.message import Several
from fieldassist.trade.quantities import Quantity, convert, format_quantity, format_size, unit_in_system

# A wall clock that drifts less than this beside the monotonic one was not set by anybody.
_CLOCK_SET_MINUTES = 2.0


class NoDay(ValueError):
    """The events hold no day to tell."""


def tell(events: Sequence[Event], *, units: Units | None = None, seals: Sequence[SealCheck] = ()) -> Day:
    """The day that `events` recorded.

    Parameters: events, all of one log in order; units, in which quantities are repeated where they were given in
    the other system (None: the plan's own); seals, what `record.seal.check_seals` found: a seal without a check is not
    told as good.
    Errors: `NoDay` when no event opens a day.
    """
    return _Teller(events, units, seals).day()


# --- words --------------------------------------------------------------------------------------------------------


def show(value: float, unit: str, units: Units) -> str:
    """A quantity as it was given, and again in the report's units where these differ.

    >>> show(12.7, "mm", "us"), show(3, "mm", "metric"), show(20, "degC", "us")
    ('12.7 mm (1/2 in)', '3 mm', '20 °C (68 °F)')
    """
    text = format_quantity(value, unit)
    if unit_in_system(unit, units) == unit:
        return text
    return f"{text} ({format_quantity(value, unit, units)})"


def _quantity(quantity: Quantity, units: Units) -> str:
    return show(float(quantity.value), quantity.unit, units)


_METRIC_TEXT = re.compile(r"(-?\d+(?:\.\d+)?) (mm²|cm²|m²|mm|°C|kg)(?![\w²/])")
_SYMBOLS = {"mm²": "mm2", "cm²": "cm2", "m²": "m2", "mm": "mm", "°C": "degC", "kg": "kg"}


def in_units(text: str, units: Units) -> str:
    """A criterion or finding in words, its metric figures repeated in US units for a US report.

    >>> in_units("at least 5 °C and at most 35 °C", "us")
    'at least 5 °C (41 °F) and at most 35 °C (95 °F)'
    >>> in_units("at most 3 mm", "metric")
    'at most 3 mm'
    """
    if units == "metric":
        return text
    return _METRIC_TEXT.sub(lambda m: f"{m[0]} ({format_quantity(float(m[1]), _SYMBOLS[m[2]], units)})", text)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _person(name: str) -> str:
    return name.title() if name else "–"


def _words(identifier: str) -> str:
    return identifier.replace("-", " ")


def _minutes(minutes: float) -> str:
    return format_quantity(minutes, "min")


def _size(first: Quantity, second: Quantity, units: Units) -> str:
    unit = first.unit
    text = format_size(float(first.value), convert(second.value, second.unit, unit), unit)
    if unit_in_system(unit, units) == unit:
        return text
    return f"{text} ({format_size(canonical(first), canonical(second), 'mm', units)})"


def _trowel(trowel: Trowel, units: Units) -> str:
    sides = "mortar combed on the base only" if trowel.sides == "one" else "mortar combed on base and back"
    size = _size(trowel.width, trowel.depth, units)
    return f"{size} {trowel.family} notch, spacing {_quantity(trowel.spacing, units)}, {sides}"


# --- the telling --------------------------------------------------------------------------------------------------

# What an answer brings about; taking the answer back takes these back with it.
_CONSEQUENCES = (
    ev.SectionOpened,
    ev.SectionClosed,
    ev.LiftJudged,
    ev.FailureOpened,
    ev.FailureClosed,
    ev.StillFailing,
    ev.StepReopened,
    ev.InspectionTightened,
    ev.ClockStarted,
    ev.ClockStopped,
)

_WITHDRAWN_BECAUSE = {
    "answered no": "“no” at the read-back",
    "scratched": "taken back",
    "said again": "said again with another value",
}


@dataclass
class _Clock:
    event: Event
    body: ev.ClockStarted
    ended: Event | None = None
    dropped: tuple[str, ...] = ()
    ran_out: bool = False
    failure: int | None = None


@dataclass
class _Failure:
    event: Event
    body: ev.FailureOpened
    steps: list[SequenceLine] = field(default_factory=list)
    checks: list[SequenceLine] = field(default_factory=list)
    tightened: int = 0
    closed: Event | None = None


@dataclass
class _Batch:
    title: str
    key: tuple[str, int]
    event: Event
    steps: list[SequenceLine] = field(default_factory=list)
    clock: int | None = None
    tiles: int = 0
    done: bool = False


_Key = tuple[str, int]


@dataclass
class _AreaNotes:
    """An area while its events are read."""

    plan: AreaPlan
    checklist: Checklist
    start: Event
    trowel: Trowel
    last: Event
    finished: Event | None = None
    tiles: int = 0
    group: _Key | None = None
    waiting: dict[_Key, SequenceLine] = field(default_factory=dict)
    changes: list[Change] = field(default_factory=list)
    lines: list[SequenceLine] = field(default_factory=list)
    holds: list[SequenceLine] = field(default_factory=list)
    batches: list[_Batch] = field(default_factory=list)
    lifts: list[LiftLine] = field(default_factory=list)
    failures: dict[int, _Failure] = field(default_factory=dict)
    clocks: dict[int, _Clock] = field(default_factory=dict)
    cautions: dict[str, list[tuple[str, str, int]]] = field(default_factory=dict)
    withdrawn: list[Withdrawn] = field(default_factory=list)
    unanswered: list[SequenceLine] = field(default_factory=list)
    cures: dict[_Key, int] = field(default_factory=dict)
    rechecks: dict[tuple[str, int, str], int] = field(default_factory=dict)
    measured: dict[_Key, dict[str, str]] = field(default_factory=dict)
    photos: list[tuple[_Key, Photo]] = field(default_factory=list)
    set_in_order: list[TileLine] = field(default_factory=list)
    volumes: list[float | None] = field(default_factory=list)
    bags: tuple[Event, ev.ReadingCalled] | None = None

    def holder(self, name: str) -> Section | Corrective | None:
        return self.checklist.section(name) or self.checklist.corrective(name)

    def step(self, body: Any) -> Step | None:
        holder = self.holder(body.section)
        return next((s for s in holder.steps if s.id == body.step), None) if holder else None

    def batch(self, key: _Key) -> _Batch | None:
        """The batch of a round; a round taken back and opened again is told by the later one."""
        return next((b for b in reversed(self.batches) if b.key == key), None)

    def title(self, section: str, at_round: int) -> str:
        holder = self.holder(section)
        if holder is None:
            return f"{_capital(_words(section))} {at_round}"
        if isinstance(holder, Corrective) or holder.when in ("start", "end"):
            return holder.title if at_round == 1 else f"{holder.title} ({at_round})"
        return f"{holder.title} {at_round}"


class _Teller:
    def __init__(self, events: Sequence[Event], units: Units | None, seals: Sequence[SealCheck]) -> None:
        plan = next((e.body.plan for e in events if isinstance(e.body, ev.DayOpened)), None)
        if plan is None:
            raise NoDay("This log holds no day: nothing was opened in it. Open a day with its plan first.")
        self.plan: DayPlan = plan
        self.units: Units = units or plan.units
        self.words = Words(units=self.units)
        self.events = events
        self.by_seq: dict[int, Event] = {e.seq: e for e in events}
        self.checklists: dict[str, Checklist] = {}
        self.areas: dict[str, _AreaNotes] = {}
        self.active = ""
        self.references: dict[str, int] = {}
        self.conditions: list[ConditionLine] = []
        self.notes: list[NoteLine] = []
        self.dust: list[DustLine] = []
        self.replaced: dict[int, Event] = {}
        self.refused: list[Refused] = []
        self.signatures: list[Signature] = []
        self.kept: dict[int, Event] = {}
        self.struck: dict[int, Event] = {}
        self.fallen: dict[int, list[Event]] = {}
        self.asked: set[tuple[str, str, str]] = set()
        self.numbers: dict[int, int] = {}
        self.checks = {check.seq: check for check in seals}
        self.photos: list[Photo] = []
        self.seals: dict[int, Event] = {}
        self.parts: dict[int, int] = {}
        self.corrections: dict[int, list[str]] = {}
        self.opened: list[Event] = []
        self._sort_out()

    def day(self) -> Day:
        for event in self.events:
            handler = _HANDLERS.get(type(event.body))
            if handler is not None:
                handler(self, event, event.body)
        areas = tuple(self._area(notes) for notes in self.areas.values())
        not_started = tuple(a for a in self.plan.areas if a.name not in self.areas)
        first, last = self.events[0], self.events[-1]
        return Day(
            plan=self.plan,
            units=self.units,
            weekday=_weekday(self.plan.date),
            zone=_zone(first.at),
            opened=self.time(first),
            last_entry=self.time(last),
            events=len(self.events),
            crew=self._crew(),
            conditions=tuple(self.conditions),
            notes=tuple(self.notes),
            dust=tuple(self.dust),
            dust_sums=tuple(_dust_sums(self.events)),
            areas=areas,
            not_started=not_started,
            refused=tuple(self.refused),
            signatures=tuple(self.signatures),
            open_points=tuple(_open_points(areas, not_started)),
            time_keeping=tuple(_time_keeping(self.events, self.time)),
            questions=tuple(self._questions()),
            references=tuple(self.references),
            summary=self._summary(areas),
            photos=tuple(self.photos),
            addenda=tuple(self._addendum(event, event.body, areas) for event in self.opened),
        )

    # --- what counts ----------------------------------------------------------------------------------------------

    def _sort_out(self) -> None:
        """Which readings were kept, what was withdrawn, and how failures are numbered."""
        by_area: dict[str, list[Event]] = {}
        part = 0
        for event in self.events:
            body = event.body
            if isinstance(body, ev.AddendumOpened):
                part = body.number
                self.opened.append(event)
            self.parts[event.seq] = part
            if isinstance(body, ev.DaySealed):
                self.seals[event.seq - 1] = event
            if isinstance(body, ev.CorrectionMade):
                words = f"corrected in addendum {part} by {_person(event.by)} (event {event.seq}): {body.text}"
                for seq in self._shown_at(body.target):
                    self.corrections.setdefault(seq, []).append(words)
            if isinstance(body, ev.ReadingKept):
                self.kept[body.target] = event
            if isinstance(body, ev.DustNoted) and body.replaces is not None:
                self.replaced[body.replaces] = event
            if isinstance(body, ev.Withdrawn):
                self._strike(event, body, by_area.get(body.area, []))
            area = getattr(body, "area", None)
            if area is not None:
                by_area.setdefault(area, []).append(event)
        for event in self.events:
            if isinstance(event.body, ev.FailureOpened) and event.seq not in self.struck:
                self.numbers[event.seq] = len(self.numbers) + 1

    def _strike(self, event: Event, body: ev.Withdrawn, before: list[Event]) -> None:
        target = self.by_seq.get(body.target)
        if target is None:
            return
        self.struck[target.seq] = event
        if isinstance(target.body, ev.ReadingCalled):
            return
        if isinstance(target.body, ev.ReadingKept):
            self.struck[target.body.target] = event
        for later in reversed(before):
            if later.seq <= target.seq:
                break
            if isinstance(later.body, _CONSEQUENCES) and later.seq not in self.struck:
                self.struck[later.seq] = event
                self.fallen.setdefault(event.seq, []).insert(0, later)

    def _shown_at(self, target: int) -> set[int]:
        """The event, and where a reading was called before it was kept, both: one line of the log tells them."""
        kept = self.kept.get(target)
        event = self.by_seq.get(target)
        called = event.body.target if event is not None and isinstance(event.body, ev.ReadingKept) else target
        return {target, called, *([kept.seq] if kept is not None else [])}

    def corrected(self, seq: int) -> tuple[str, ...]:
        """What addenda say about an event."""
        return tuple(self.corrections.get(seq, ()))

    def _counts(self, event: Event) -> bool:
        return event.seq not in self.struck

    # --- words that need the day ----------------------------------------------------------------------------------

    def time(self, event: Event) -> str:
        """Wall time to the second; the date too where it is not the day's own."""
        return self._wall(event.at.wall)

    def _wall(self, wall: str) -> str:
        when = datetime.fromisoformat(wall)
        text = when.strftime("%H:%M:%S")
        return text if when.date().isoformat() == self.plan.date else f"{when.date().isoformat()} {text}"

    def ref(self, basis: str | None) -> int | None:
        """The number under which a basis is listed; None where there is none."""
        text = " ".join((basis or "").split())
        if not text:
            return None
        return self.references.setdefault(_capital(text), len(self.references) + 1)

    def failure_name(self, seq: int) -> str:
        number = self.numbers.get(seq)
        return f"failure {number} (event {seq})" if number is not None else f"the failure of event {seq}"

    def why(self, seq: int) -> str:
        by = self.struck.get(seq)
        if by is None or not isinstance(by.body, ev.Withdrawn):
            return ""
        return f"withdrawn {self.time(by)}: {_WITHDRAWN_BECAUSE[by.body.reason]}"

    def line(self, event: Event, kind: LineKind, what: str, **rest: Any) -> SequenceLine:
        struck = not self._counts(event)
        if struck:
            rest.setdefault("why_struck", self.why(event.seq))
        rest.setdefault("struck", struck)
        rest.setdefault("corrected", self.corrected(event.seq))
        return SequenceLine(event.seq, self.time(event), _person(event.by), kind, what, **rest)

    def reading(self, called: ev.ReadingCalled) -> str:
        if called.label is not None:
            return called.label
        if called.unit == "count":
            return write_number(called.value)
        return show(float(called.value), called.unit, self.units)

    # --- one handler an event -------------------------------------------------------------------------------------

    def checklist_adopted(self, _: Event, body: ev.ChecklistAdopted) -> None:
        self.checklists[body.checklist.checklist] = body.checklist

    def weather_noted(self, event: Event, body: ev.WeatherNoted) -> None:
        self.conditions.append(
            ConditionLine(
                event.seq,
                self.time(event),
                _person(event.by),
                _capital(self.active),
                "weather",
                body.text,
                corrected=self.corrected(event.seq),
            )
        )

    def note_made(self, event: Event, body: ev.NoteMade) -> None:
        self._remark(event, body.text, sound=body.audio or "", sha256=body.sha256 or "")

    def _remark(self, event: Event, text: str, **sound: str) -> None:
        self.notes.append(
            NoteLine(
                event.seq,
                self.time(event),
                _person(event.by),
                _capital(self.active),
                text,
                corrected=self.corrected(event.seq),
                **sound,
            )
        )

    def dust_noted(self, event: Event, body: ev.DustNoted) -> None:
        by = self.replaced.get(event.seq)
        self.dust.append(
            DustLine(
                event.seq,
                self.time(event),
                _person(event.by),
                body.task,
                body.place,
                show(float(body.minutes), "min", self.units),
                self.ref(body.basis),
                body.replaces,
                struck=by is not None,
                why_struck=f"replaced {self.time(by)} by event {by.seq}" if by is not None else "",
                corrected=self.corrected(event.seq),
            )
        )

    def pin_refused(self, event: Event, body: ev.PinRefused) -> None:
        left = f"{body.attempts_left} more {'try' if body.attempts_left == 1 else 'tries'} before it is locked"
        locked = f"locked until {self._wall(body.locked_until)}" if body.locked_until else left
        self._remark(event, f"A wrong PIN was given for {_person(body.name)}; {locked}.")

    def clock_jumped(self, event: Event, body: ev.ClockJumped) -> None:
        way = "forward" if body.seconds > 0 else "back"
        by = _minutes(abs(body.seconds) / 60) if abs(body.seconds) >= 60 else f"{abs(body.seconds):g} s"
        self._remark(event, f"The tablet's wall clock was set {way} by {by}; clocks on this log ran on undisturbed.")

    def area_started(self, event: Event, body: ev.AreaStarted) -> None:
        plan = self.plan.area(body.area)
        checklist = self.checklists.get(plan.checklist) if plan else None
        if plan is None or checklist is None:
            raise NoDay(f"Event {event.seq} starts {body.area!r}, which the day's plan and checklists do not hold.")
        notes = _AreaNotes(plan, checklist, event, plan.trowel, event)
        self.areas[body.area] = notes
        self.active = body.area
        notes.lines.append(self.line(event, "area", "Area started"))

    def area_entered(self, event: Event, body: ev.AreaEntered) -> None:
        self.active = body.area
        self._note(event, body).lines.append(self.line(event, "area", "Back at this area"))

    def area_finished(self, event: Event, body: ev.AreaFinished) -> None:
        notes = self._note(event, body)
        notes.finished = event
        notes.lines.append(self.line(event, "area", "Area finished"))

    def section_opened(self, event: Event, body: ev.SectionOpened) -> None:
        notes = self._note(event, body)
        key = (body.section, body.round)
        holder = notes.holder(body.section)
        reason = body.reason
        if body.failure is not None:
            notes.cures[key] = body.failure
            named = self.failure_name(body.failure)
            reason = f"to cure {named}" if isinstance(holder, Corrective) else f"again, after {named}"
        else:
            notes.cures.pop(key, None)
        title = notes.title(*key)
        notes.measured.pop(key, None)
        # Printed when its first step is: a repeat is opened before the corrective action that precedes it.
        notes.waiting.pop(key, None)
        notes.waiting[key] = self.line(event, "round", title, detail=reason)
        notes.group = None if notes.group == key else notes.group
        if isinstance(holder, Section) and holder.changes == "batch":
            notes.batches.append(_Batch(title, key, event))

    def section_closed(self, event: Event, body: ev.SectionClosed) -> None:
        notes = self._note(event, body)
        if not self._counts(event):
            return
        if body.tile_set:
            notes.tiles += 1
            standing = [b for b in notes.batches if self._counts(b.event)]
            if standing:
                standing[-1].tiles += 1
            batch = standing[-1].title if standing else ""
            notes.set_in_order.append(TileLine(notes.tiles, event.seq, self.time(event), batch))
            notes.volumes.append(_volume(notes.trowel))
        closed = notes.batch((body.section, body.round))
        if closed is not None:
            closed.done = True

    def caution_acknowledged(self, event: Event, body: ev.CautionAcknowledged) -> None:
        notes = self._note(event, body)
        notes.cautions.setdefault(body.caution, []).append((self.time(event), _person(event.by), event.seq))
        if notes.waiting:
            # It stood before the section that was opened last.
            notes.group, opened = notes.waiting.popitem()
            notes.lines.append(opened)
        notes.lines.append(self.line(event, "caution", f"Caution acknowledged: {_words(body.caution)}"))

    def step_confirmed(self, event: Event, body: ev.StepConfirmed) -> None:
        notes = self._note(event, body)
        step = notes.step(body)
        kind: LineKind = "lift" if step is not None and step.kind == "lift" else "step"
        self._step_line(notes, event, body, kind, reading=body.label or "")

    def reading_called(self, event: Event, body: ev.ReadingCalled) -> None:
        if event.seq in self.kept:
            return  # printed where it was kept
        notes = self._note(event, body)
        text = self.reading(body)
        if self._counts(event):
            why = "never answered at the read-back: does not count"
            line = self._step_line(notes, event, body, "reading", reading=text, struck=True, why_struck=why)
            notes.unanswered.append(line)
        else:
            self._step_line(notes, event, body, "reading", reading=text)

    def reading_kept(self, event: Event, body: ev.ReadingKept) -> None:
        notes = self._note(event, body)
        source = self.by_seq.get(body.target)
        called = source.body if source is not None and isinstance(source.body, ev.ReadingCalled) else None
        text = self.reading(called) if called else ""
        criterion = in_units(body.criterion, self.units)
        ref = self.ref(body.basis)
        self._step_line(
            notes,
            event,
            body,
            "reading",
            reading=text,
            criterion=criterion,
            passed=body.passed,
            ref=ref,
            detail=in_units(body.finding, self.units),
        )
        step = notes.step(body)
        if step is not None and step.measures is not None:
            notes.measured.setdefault((body.section, body.round), {})[step.measures] = text
        if called is not None and called.quantity in ("temperature", "humidity"):
            self.conditions.append(
                ConditionLine(
                    event.seq,
                    self.time(event),
                    _person(event.by),
                    _capital(body.area),
                    _words(body.step),
                    text,
                    criterion,
                    body.passed,
                    ref,
                    not self._counts(event),
                    self.corrected(event.seq),
                )
            )
        if called is not None and called.quantity == "bags" and self._counts(event):
            notes.bags = (event, called)

    def choice_made(self, event: Event, body: ev.ChoiceMade) -> None:
        notes = self._note(event, body)
        step = notes.step(body)
        option = next((o.label for o in step.options if o.id == body.option), None) if step else None
        text = option or _capital(_words(body.option))
        self._step_line(notes, event, body, "choice", reading=text, passed=body.passed)
        if step is not None and step.measures is not None:
            notes.measured.setdefault((body.section, body.round), {})[step.measures] = text

    def photo_attached(self, event: Event, body: ev.PhotoAttached) -> None:
        struck = not self._counts(event)
        if not body.area:
            self.photos.append(self._photo(event, body, "", "between the areas", struck))
            return
        notes = self._note(event, body)
        at = f"at {notes.title(body.section, body.round)}, {_words(body.step)}" if body.step else "between rounds"
        notes.photos.append(((body.section, body.round), self._photo(event, body, notes.plan.name, at, struck)))
        detail = f"SHA-256 {body.sha256}"
        step = notes.step(body)
        if step is not None and step.kind is Kind.PHOTO:
            self._step_line(notes, event, body, "photo", reading=body.file, detail=detail)
        else:
            # A remark: it was asked for by no step, and does none.
            notes.lines.append(self.line(event, "photo", f"Photo, {at}", reading=body.file, detail=detail))

    def _photo(self, event: Event, body: ev.PhotoAttached, area: str, at: str, struck: bool) -> Photo:
        time, who = self.time(event), _person(event.by)
        return Photo(event.seq, time, who, _capital(area), at, body.file, body.sha256, struck)

    def hold_released(self, event: Event, body: ev.HoldReleased) -> None:
        notes = self._note(event, body)
        line = self._step_line(notes, event, body, "hold", reading="released")
        step = notes.step(body)
        notes.holds.append(replace(line, detail=step.ask if step else ""))

    def withdrawn(self, event: Event, body: ev.Withdrawn) -> None:
        target = self.by_seq.get(body.target)
        if target is None or body.area not in self.areas:
            return
        notes = self._note(event, body)
        what, text, is_reading = self._taken_back(notes, target)
        notes.withdrawn.append(
            Withdrawn(
                seq=event.seq,
                target=target.seq,
                said=self.time(target),
                time=self.time(event),
                who=_person(event.by),
                what=what,
                reading=text,
                reason=_WITHDRAWN_BECAUSE[body.reason],
                consequences=tuple(self._consequences(self.fallen.get(event.seq, []))),
                is_reading=is_reading,
            )
        )

    def _taken_back(self, notes: _AreaNotes, target: Event) -> tuple[str, str, bool]:
        body: Any = target.body
        if isinstance(body, ev.SectionOpened):
            return notes.title(body.section, body.round), "", False
        step = notes.step(body)
        what = f"{notes.title(body.section, body.round)}: {_name(step, body.step)}"
        if isinstance(body, ev.ReadingCalled):
            return what, self.reading(body), True
        if isinstance(body, ev.ReadingKept):
            source = self.by_seq.get(body.target)
            called = source.body if source is not None else None
            return what, self.reading(called) if isinstance(called, ev.ReadingCalled) else "", True
        if isinstance(body, ev.ChoiceMade):
            option = next((o.label for o in step.options if o.id == body.option), None) if step else None
            return what, option or _words(body.option), False
        if isinstance(body, ev.PhotoAttached):
            return what, body.file, False
        return what, getattr(body, "label", None) or "", False

    def _consequences(self, fallen: list[Event]) -> Iterator[str]:
        for event in fallen:
            body = event.body
            if isinstance(body, ev.LiftJudged):
                yield f"the verdict of lift {body.lift} ({'passed' if body.passed else 'failed'})"
            elif isinstance(body, ev.FailureOpened):
                yield f"the failure of event {event.seq} ({in_units(body.finding, self.units)})"
            elif isinstance(body, ev.FailureClosed):
                yield f"the cure of {self.failure_name(body.failure)}"
            elif isinstance(body, ev.ClockStarted):
                yield f"the start of the clock “{body.title}”"
            elif isinstance(body, ev.ClockStopped):
                yield f"the stop of the clock “{_words(body.clock)}”, which runs on"

    def lift_judged(self, event: Event, body: ev.LiftJudged) -> None:
        notes = self._note(event, body)
        key = (body.section, body.round)
        measured = notes.measured.get(key, {})
        batches = [b for b in notes.batches if self._counts(b.event)]
        reasons = tuple(in_units(r, self.units) for r in body.reasons)
        ref = self.ref(body.basis)
        photos = []
        for place, (where, photo) in enumerate(notes.photos):
            if where == key and photo.lift is None:
                notes.photos[place] = (where, replace(photo, lift=body.lift))
                photos.append(notes.photos[place][1])
        notes.lifts.append(
            LiftLine(
                seq=event.seq,
                number=body.lift,
                tile=body.tile,
                label=body.label or "",
                time=self.time(event),
                who=_person(event.by),
                contact=body.coverage,
                required=body.required,
                passed=body.passed,
                reasons=reasons,
                unread=body.unread,
                void=measured.get("largest void", ""),
                corners=measured.get("corners", ""),
                photos=tuple(p for p in photos if not p.struck),
                batch=batches[-1].title if batches else "",
                trowel=_trowel(notes.trowel, self.units),
                ref=ref,
                struck=not self._counts(event),
                corrected=self._of_round(event, body),
            )
        )
        line = self.line(
            event,
            "lift",
            f"Lift {body.lift} judged" + (f" (tile {body.label})" if body.label else f" (tile {body.tile})"),
            reading=format_quantity(body.coverage, "percent"),
            criterion=f"at least {format_quantity(body.required, 'percent')}",
            passed=body.passed,
            detail="; ".join(reasons),
            ref=ref,
        )
        notes.lines.append(line)
        if key in notes.cures and notes.cures[key] in notes.failures:
            notes.failures[notes.cures[key]].checks.append(line)

    def _of_round(self, event: Event, body: ev.LiftJudged) -> tuple[str, ...]:
        """What addenda say about a lift or about one of its readings."""
        told = list(self.corrected(event.seq))
        if self.corrections:
            at = (body.area, body.section, body.round)
            for seq in sorted(self.corrections):
                other: Any = self.by_seq[seq].body if seq in self.by_seq else None
                if isinstance(other, ev.ReadingKept | ev.ChoiceMade) and (other.area, other.section, other.round) == at:
                    told += self.corrected(seq)
        return tuple(dict.fromkeys(told))

    def failure_opened(self, event: Event, body: ev.FailureOpened) -> None:
        notes = self._note(event, body)
        notes.failures[event.seq] = _Failure(event, body)
        for clock in reversed(notes.clocks.values()):
            # A clock's own failure follows its running out in the same breath.
            if clock.ran_out and clock.ended is not None and clock.ended.seq == event.seq - 1:
                clock.failure = event.seq
        notes.lines.append(
            self.line(
                event,
                "failure",
                f"{_capital(self.failure_name(event.seq))} opened",
                detail=in_units(body.finding, self.units),
                criterion=in_units(body.criterion, self.units),
                ref=self.ref(body.basis),
            )
        )

    def failure_closed(self, event: Event, body: ev.FailureClosed) -> None:
        notes = self._note(event, body)
        if body.failure in notes.failures and self._counts(event):
            notes.failures[body.failure].closed = event
        what = f"{_capital(self.failure_name(body.failure))} cured"
        notes.lines.append(self.line(event, "failure", what, detail=f"{body.cure}; shown by: {body.shown_by}"))

    def still_failing(self, event: Event, body: ev.StillFailing) -> None:
        notes = self._note(event, body)
        what = f"{_capital(self.failure_name(body.failure))} stays open"
        notes.lines.append(self.line(event, "failure", what, detail=in_units(body.finding, self.units)))

    def step_reopened(self, event: Event, body: ev.StepReopened) -> None:
        notes = self._note(event, body)
        notes.rechecks[(body.section, body.round, body.step)] = body.failure

    def inspection_tightened(self, event: Event, body: ev.InspectionTightened) -> None:
        notes = self._note(event, body)
        if body.failure in notes.failures and self._counts(event):
            notes.failures[body.failure].tightened = body.lifts
        notes.lines.append(
            self.line(
                event,
                "change",
                "Inspection tightened",
                detail=f"a lift after every tile until {body.lifts} more have passed",
            )
        )

    def clock_started(self, event: Event, body: ev.ClockStarted) -> None:
        notes = self._note(event, body)
        notes.clocks[event.seq] = _Clock(event, body)
        batch = notes.batch((body.section, body.round))
        if batch is not None:
            batch.clock = event.seq
        allowed = f"{_minutes(body.minutes)} allowed"
        line = self.line(event, "clock", f"Clock started: {body.title}", detail=allowed, ref=self.ref(body.basis))
        notes.lines.append(line)

    def clock_stopped(self, event: Event, body: ev.ClockStopped) -> None:
        notes = self._note(event, body)
        clock = notes.clocks.get(body.run)
        if clock is None:
            return
        if self._counts(event):
            clock.ended = event
        used = clock.event.at.minutes_to(event.at)
        spent = f"after {_minutes(used)} of {_minutes(clock.body.minutes)}"
        notes.lines.append(self.line(event, "clock", f"Clock stopped: {clock.body.title}", detail=spent))

    def clock_warned(self, event: Event, body: ev.ClockWarned) -> None:
        notes = self._note(event, body)
        clock = notes.clocks.get(body.run)
        title = clock.body.title if clock else _words(body.clock)
        struck = body.run in self.struck
        notes.lines.append(
            self.line(
                event,
                "clock",
                f"Warning given: {title}",
                detail=f"{_minutes(body.left_minutes)} left",
                struck=struck,
                why_struck=self.why(body.run),
            )
        )

    def clock_ran_out(self, event: Event, body: ev.ClockRanOut) -> None:
        notes = self._note(event, body)
        clock = notes.clocks.get(body.run)
        titles = tuple(h.title if (h := notes.holder(s)) else _words(s) for s in body.dropped)
        if clock is not None:
            clock.ended, clock.ran_out, clock.dropped = event, True, titles
        detail = f"{_minutes(body.minutes)} were allowed"
        if titles:
            detail += f"; steps that fell away: {', '.join(titles)}"
        what = f"Clock ran out: {body.title}"
        notes.lines.append(self.line(event, "clock", what, detail=detail, passed=False))

    def notch_changed(self, event: Event, body: ev.NotchChanged) -> None:
        notes = self._note(event, body)
        text = f"{body.notch}: {_trowel(body.trowel, self.units)}"
        if body.trowel != notes.trowel:
            notes.changes.append(Change(event.seq, self.time(event), _person(event.by), "trowel", _capital(text)))
        notes.trowel = body.trowel
        notes.lines.append(self.line(event, "change", "Trowel changed", detail=text))

    def installer_changed(self, event: Event, body: ev.InstallerChanged) -> None:
        notes = self._note(event, body)
        name = _person(body.installer)
        notes.changes.append(Change(event.seq, self.time(event), _person(event.by), "installer", name))
        notes.lines.append(self.line(event, "change", f"Installer from here on: {name}"))

    def command_refused(self, event: Event, body: ev.CommandRefused) -> None:
        self.refused.append(
            Refused(
                event.seq,
                self.time(event),
                _person(event.by),
                _capital(body.area or ""),
                body.attempt,
                in_units(body.reason, self.units),
            )
        )

    def day_signed(self, event: Event, body: ev.DaySigned) -> None:
        points = tuple(_capital(in_units(p, self.units)) for p in body.open_points)
        name, time = _person(body.name), self.time(event)
        seal = self._seal(event.seq)
        signature = Signature(event.seq, body.part, name, body.role.value, time, points, body.strokes, seal)
        self.signatures.append(signature)

    def day_sealed(self, event: Event, _: ev.DaySealed) -> None:
        signed = self.by_seq.get(event.seq - 1)
        if signed is None or not isinstance(signed.body, ev.DaySigned):
            self._remark(event, "A seal that follows no sign-off stands here; it seals nothing.")

    def _seal(self, signed: int) -> Seal | None:
        event = self.seals.get(signed)
        if event is None or not isinstance(event.body, ev.DaySealed):
            return None
        body = event.body
        check = self.checks.get(event.seq)
        fault, warning = (check.why, check.warning) if check else ("it was not checked", "")
        key = fingerprint(body.public_key)
        return Seal(event.seq, body.covers, body.head, body.public_key, key, body.signature, fault, warning)

    # --- addenda --------------------------------------------------------------------------------------------------

    def _addendum(self, event: Event, body: Any, areas: tuple[AreaStory, ...]) -> Addendum:
        number: int = body.number

        def within(seq: int) -> bool:
            return self.parts[seq] == number

        corrections = tuple(
            CorrectionLine(
                e.seq, self.time(e), _person(e.by), e.body.target, self._named(e.body.target, areas), e.body.text
            )
            for e in self.events
            if isinstance(e.body, ev.CorrectionMade) and within(e.seq)
        )
        added = [
            AddedLine(x.seq, x.time, x.who, a.name, x.what, x.reading, x.passed, x.struck)
            for a in areas
            for x in a.sequence
            if x.kind != "round" and within(x.seq)
        ]
        added += [AddedLine(n.seq, n.time, n.who, n.area, n.text) for n in self.notes if within(n.seq)]
        added += [
            AddedLine(d.seq, d.time, d.who, "", f"Dust: {d.task}, {d.place}", d.minutes, struck=d.struck)
            for d in self.dust
            if within(d.seq)
        ]
        added += [AddedLine(p.seq, p.time, p.who, p.area, "Photo", p.file) for p in self.photos if within(p.seq)]
        added += [
            AddedLine(c.seq, c.time, c.who, c.area, "Weather", c.reading)
            for c in self.conditions
            if c.what == "weather" and within(c.seq)
        ]
        added.sort(key=lambda x: x.seq)
        signature = next((s for s in reversed(self.signatures) if s.part == body.number), None)
        time, who = self.time(event), _person(event.by)
        return Addendum(body.number, event.seq, time, who, body.reason, corrections, tuple(added), signature)

    def _named(self, target: int, areas: tuple[AreaStory, ...]) -> str:
        """An event in a few words, as it stands on its line of the log."""
        shown = self._shown_at(target)
        for area in areas:
            for line in area.sequence:
                if line.seq in shown and line.kind != "round":
                    return ", ".join(part for part in (area.name, line.what, line.reading) if part)
        for note in self.notes:
            if note.seq == target:
                return f"remark: {note.text}"
        for entry in self.dust:
            if entry.seq == target:
                return f"dust: {entry.task}, {entry.minutes}"
        event = self.by_seq.get(target)
        return str(event.body.type) if event is not None else "no such event"

    def _note(self, event: Event, body: Any) -> _AreaNotes:
        notes = self.areas.get(body.area)
        if notes is None:
            raise NoDay(f"Event {event.seq} belongs to the area {body.area!r}, which was never started.")
        notes.last = event
        return notes

    def _step_line(self, notes: _AreaNotes, event: Event, body: Any, kind: LineKind, **rest: Any) -> SequenceLine:
        key = (body.section, body.round)
        step = notes.step(body)
        self.asked.add((notes.checklist.checklist, body.section, body.step))
        if rest.get("ref") is None:
            rest["ref"] = self.ref(step.basis) if step else None
        line = self.line(event, kind, _name(step, body.step), **rest)
        if notes.group != key or key in notes.waiting:
            opened = notes.waiting.pop(key, None)
            if opened is None:
                opened = replace(line, kind="round", what=notes.title(*key), detail="continued", reading="",
                                 criterion="", passed=None, ref=None, struck=False, why_struck="")  # fmt: skip
            notes.lines.append(opened)
            notes.group = key
        notes.lines.append(line)
        batch = notes.batch(key)
        if batch is not None:
            batch.steps.append(line)
        holder = notes.holder(body.section)
        failure = notes.rechecks.get((body.section, body.round, body.step), notes.cures.get(key))
        if failure in notes.failures and failure is not None:
            if isinstance(holder, Corrective):
                notes.failures[failure].steps.append(line)
            elif not (holder is not None and holder.lift is not None):
                # A repeated lift is told by its verdict.
                notes.failures[failure].checks.append(line)
        return line

    # --- putting it together --------------------------------------------------------------------------------------

    def _area(self, notes: _AreaNotes) -> AreaStory:
        for opened in sorted(notes.waiting.values(), key=lambda w: w.seq):
            notes.lines.append(replace(opened, detail=f"{opened.detail}; nothing was done in it"))
        need, requirement = self._need(notes)
        lifts = tuple(notes.lifts)
        clocks = tuple(self._clock(notes, c) for c in notes.clocks.values())
        by_run = {c.run: c for c in clocks}
        return AreaStory(
            name=_capital(notes.plan.name),
            checklist=f"{notes.checklist.title} ({notes.checklist.checklist}, edition {notes.checklist.edition})",
            started=self.time(notes.start),
            finished=self.time(notes.finished) if notes.finished else "",
            minutes=notes.start.at.minutes_to(notes.last.at),
            setting=tuple(self._setting(notes)),
            changes=tuple(notes.changes),
            need=need,
            verdict=area_contact(
                ((x.tile, x.contact, "passed" if x.passed else "failed") for x in lifts if not x.struck), requirement
            ),
            tiles=notes.tiles,
            sequence=tuple(self._with_addenda(notes.lines)),
            holds=tuple(notes.holds),
            batches=tuple(
                Batch(
                    seq=b.event.seq,
                    title=b.title,
                    opened=self.time(b.event),
                    who=_person(b.event.by),
                    steps=tuple(b.steps),
                    clock=by_run.get(b.clock) if b.clock is not None else None,
                    tiles=b.tiles,
                    done=b.done,
                    struck=not self._counts(b.event),
                )
                for b in notes.batches
            ),
            lifts=lifts,
            failures=tuple(self._failure(notes, f) for f in notes.failures.values()),
            clocks=clocks,
            cautions=tuple(
                CautionLine(
                    caution.text if (caution := notes.checklist.caution(name)) else _capital(_words(name)),
                    self.ref(caution.basis) if caution else None,
                    tuple(times),
                )
                for name, times in notes.cautions.items()
            ),
            withdrawn=tuple(notes.withdrawn),
            unanswered=tuple(notes.unanswered),
            set_in_order=tuple(notes.set_in_order),
            set_area=show(_set_area(notes), "m2", self.units),
            bags=self._bags(notes),
            photos=tuple(photo for _, photo in notes.photos),
        )

    def _with_addenda(self, lines: Sequence[SequenceLine]) -> Iterator[SequenceLine]:
        """The lines, and a band where what follows was added after the signature."""
        opened_at = {self.parts[event.seq]: event for event in self.opened}
        part = 0
        for line in lines:
            now = self.parts[line.seq]
            if now > part:
                opened = opened_at[now]
                what = f"Addendum {now}, opened {self.time(opened)} (event {opened.seq}): from here on"
                yield SequenceLine(opened.seq, self.time(opened), "", "round", what, detail="after the day was signed")
                part = now
            yield line

    def _bags(self, notes: _AreaNotes) -> BagCount | None:
        """The bags said to be used beside those that the tiles set should have taken."""
        if notes.bags is None:
            return None
        event, called = notes.bags
        found = bag_balance(float(called.value), notes.plan.mortar, _set_area(notes), notes.volumes, self.units)
        said = BagCount(event.seq, self.time(event), _person(event.by), found.used, None, "", "", "", None)
        if found.missing is not None:
            return replace(said, reason=self.words(found.missing))
        return replace(
            said,
            predicted=found.predicted,
            verdict=found.verdict,
            reason=self.words(found.reason),
            rests_on=self.words(found.rests_on),
            ref=self.ref(str(found.basis)),
        )

    def _setting(self, notes: _AreaNotes) -> Iterator[Fact]:
        plan, units = notes.plan, self.units
        piece, sheet = plan.piece, plan.mortar
        place = "exterior" if notes.checklist.place == "exterior" else f"interior, {notes.checklist.place}"
        yield Fact("Place", f"{plan.where} ({place} {notes.checklist.surface})")
        yield Fact("Surface to set", _quantity(plan.size, units))
        kind = f"{_capital(piece.product)}, {'rectified' if piece.rectified else 'not rectified'}"
        warpage = f", warpage {_quantity(piece.warpage, units)}" if piece.warpage else ""
        yield Fact("Product", kind + warpage)
        size = _size(piece.length, piece.width, units)
        yield Fact("Size and thickness", f"{size}, {_quantity(piece.thickness, units)} thick")
        yield from self._handling(notes)
        yield Fact("Joint", _quantity(plan.joint, units) if plan.joint else "not stated in the plan")
        bed = " to ".join(_quantity(b, units) for b in (sheet.least_bed, sheet.greatest_bed) if b)
        marking = f", {sheet.marking}" if sheet.marking else ""
        yield Fact(
            "Mortar",
            f"{sheet.name} ({_words(sheet.kind)}{marking}); pot life {_quantity(sheet.pot_life, units)}, "
            f"open time {_quantity(sheet.open_time, units)}" + (f", bed {bed}" if bed else ""),
        )
        yield Fact("Trowel at the start", _capital(_trowel(plan.trowel, units)))

    def _handling(self, notes: _AreaNotes) -> Iterator[Fact]:
        """What a piece weighs and who may carry it, as it is planned."""
        area = Area(notes.plan, notes.checklist, notes.plan.trowel)
        try:
            found = handling(area_inputs(area, self.plan.units))
        except ValueError as error:
            yield Fact("Weight of one piece", f"not computed: {self.words(why(error))}")
            return
        weight = notes.plan.piece.weighed
        yield Fact(
            "Weight of one piece",
            f"{show(found.weight_kg, 'kg', self.units)}, computed" if weight is None
            else f"{_quantity(weight, self.units)}, weighed",
            self.ref(str(found.weight_basis)) if weight is None else None,
        )  # fmt: skip
        yield Fact("Who may carry one", self.words(found.told), self.ref(str(found.basis)))
        assumed = Several(tuple(one.told for one in found.assumed), "sentences")
        yield Fact("Assumed for carrying it", self.words(assumed))

    def _need(self, notes: _AreaNotes) -> tuple[Need | None, coverage.Requirement | None]:
        """What the setting requires; a stricter figure that the checklist asked of its lifts goes before it."""
        asked = [x.required for x in notes.lifts]
        requirement = required_contact(notes.plan.piece.product, notes.checklist, asked)
        if requirement is None:
            return None, None
        need = requirement
        void = ""
        if need.largest_void_mm2 is not None:
            void = format_quantity(need.largest_void_mm2, "mm2", self.units)
            if self.units == "metric":
                void = f"{format_quantity(need.largest_void_mm2 / 100, 'cm2')}"
        ref = self.ref(str(need.basis))
        void_ref = self.ref(str(need.void_basis)) if need.void_basis and void else None
        shown = Need(
            minimum=requirement.minimum_percent,
            void=void,
            corners=need.corners,
            least_lifts=requirement.least_lifts,
            ref=ref or 0,
            void_ref=void_ref,
            notes=need.notes,
        )
        return shown, requirement

    def _clock(self, notes: _AreaNotes, clock: _Clock) -> ClockLine:
        ended = clock.ended
        outcome: Literal["stopped in time", "ran out", "still running"] = "still running"
        if clock.ran_out:
            outcome = "ran out"
        elif ended is not None:
            outcome = "stopped in time"
        used = clock.event.at.minutes_to((ended or self.events[-1]).at)
        return ClockLine(
            run=clock.event.seq,
            title=clock.body.title,
            belongs_to=notes.title(clock.body.section, clock.body.round),
            started=self.time(clock.event),
            start=notes.start.at.minutes_to(clock.event.at),
            allowed=clock.body.minutes,
            used=used,
            outcome=outcome,
            ended=self.time(ended) if ended else "",
            dropped=clock.dropped,
            failure=self.numbers.get(clock.failure) if clock.failure is not None else None,
            ref=self.ref(clock.body.basis),
            struck=not self._counts(clock.event),
        )

    def _failure(self, notes: _AreaNotes, failure: _Failure) -> FailureStory:
        body, closed = failure.body, failure.closed
        corrective = notes.checklist.corrective(body.corrective)
        told = closed.body if closed is not None and isinstance(closed.body, ev.FailureClosed) else None
        return FailureStory(
            seq=failure.event.seq,
            number=self.numbers.get(failure.event.seq),
            time=self.time(failure.event),
            who=_person(failure.event.by),
            # A clock's failure names the first step of its cure, which is not where it was found.
            place=notes.title(body.section, body.round) + (f", {_words(body.step)}" if notes.step(body) else ""),
            finding=in_units(body.finding, self.units),
            criterion=in_units(body.criterion, self.units),
            ref=self.ref(body.basis),
            corrective=corrective.title if corrective else _capital(_words(body.corrective)),
            steps=tuple(failure.steps),
            checks=tuple(failure.checks),
            tightened=failure.tightened,
            closed=self.time(closed) if closed else "",
            closed_seq=closed.seq if closed else 0,
            cure=told.cure if told else "",
            shown_by=told.shown_by if told else "",
            struck=not self._counts(failure.event),
        )

    def _questions(self) -> Iterator[Question]:
        """The steps that were answered, in the order of their checklists."""
        for checklist in self.checklists.values():
            for holder, step in checklist.all_steps():
                if (checklist.checklist, holder, step.id) in self.asked:
                    title = checklist.holder(holder).title
                    yield Question(checklist.title, title, _name(step, step.id), step.ask, self.ref(step.basis))

    def _crew(self) -> tuple[CrewLine, ...]:
        spoken: dict[str, list[str]] = {}
        for event in self.events:
            spoken.setdefault(event.by, []).append(self.time(event))
        lines = []
        for person in self.plan.crew:
            times = spoken.get(person.name, [])
            lines.append(
                CrewLine(
                    _person(person.name),
                    person.role.value,
                    len(times),
                    times[0] if times else "",
                    times[-1] if times else "",
                )
            )
        return tuple(lines)

    def _summary(self, areas: tuple[AreaStory, ...]) -> Summary:
        lifts = [x for a in areas for x in a.lifts if not x.struck]
        failures = [f for a in areas for f in a.failures if not f.struck]
        taken_back = [w for a in areas for w in a.withdrawn]
        return Summary(
            areas_planned=len(self.plan.areas),
            areas_started=len(areas),
            areas_finished=sum(bool(a.finished) for a in areas),
            tiles=sum(a.tiles for a in areas),
            lifts=len(lifts),
            lifts_passed=sum(x.passed for x in lifts),
            failures=len(failures),
            failures_cured=sum(f.cured for f in failures),
            clocks_run_out=sum(c.outcome == "ran out" for a in areas for c in a.clocks),
            readings_withdrawn=sum(w.is_reading for w in taken_back),
            steps_withdrawn=sum(not w.is_reading for w in taken_back),
            refused=len(self.refused),
        )


def _volume(trowel: Trowel) -> float | None:
    """Mortar that a trowel lays down [L/m2]; None where that is out of reach of the computation."""
    try:
        return ridges.mortar_per_m2(notch_of(trowel), trowel.angle, sides=trowel.sides)
    except ValueError:
        return None


def _set_area(notes: _AreaNotes) -> float:
    """The faces of the tiles recorded as set [m2]."""
    return notes.tiles * canonical(notes.plan.piece.length) * canonical(notes.plan.piece.width) / 1e6


def _name(step: Step | None, step_id: str) -> str:
    """What a step is called in a table: its id in words."""
    return _capital(_words(step.id if step else step_id))


def _weekday(day: str) -> str:
    try:
        return date.fromisoformat(day).strftime("%A")
    except ValueError:
        return ""


def _zone(moment: Moment) -> str:
    """The offset of the wall clock from UTC, as ISO 8601 writes it."""
    offset = datetime.fromisoformat(moment.wall).strftime("%z")
    return f"UTC{offset[:3]}:{offset[3:5]}" if offset else "local"


def _open_points(areas: tuple[AreaStory, ...], not_started: tuple[AreaPlan, ...]) -> Iterator[str]:
    for area in areas:
        for failure in area.failures:
            if not failure.struck and not failure.cured:
                yield (f"{area.name}: failure {failure.number} (event {failure.seq}) is not cured: {failure.finding}")
    for area in areas:
        for line in area.unanswered:
            yield f"{area.name}: {line.what.lower()}, {line.reading} was read back and never answered"
    for area in areas:
        if not area.finished:
            yield f"{area.name}: not finished"
    for plan in not_started:
        yield f"{_capital(plan.name)}: planned, not started"


@dataclass(frozen=True, slots=True)
class _Minutes:
    by: str
    task: str
    place: dust.Place
    minutes: Fraction


def _dust_sums(events: Sequence[Event]) -> Iterator[str]:
    """What each person's entries come to, and on which side of the table's four hours."""
    entries = {e.seq: (e.by, e.body) for e in events if isinstance(e.body, ev.DustNoted)}
    replaced = {body.replaces for _, body in entries.values()}
    standing = [
        _Minutes(by, body.task, body.place, body.minutes) for seq, (by, body) in entries.items() if seq not in replaced
    ]
    for shift in shifts(standing):
        side = "MORE than four hours" if shift.over else "up to four hours"
        listed, others = _minutes(shift.listed_min), _minutes(shift.other_min)
        yield f"{_person(shift.who)}: {listed} of tasks in Table 1 ({side}), {others} of others"


def _time_keeping(events: Sequence[Event], time: Callable[[Event], str]) -> Iterator[str]:
    """Restarts, and jumps of the wall clock, which intervals do not follow."""
    for before, after in pairwise(events):
        if before.at.boot != after.at.boot:
            yield (
                f"The tablet was restarted between {time(before)} and {time(after)} (events {before.seq} and "
                f"{after.seq}); intervals across it follow the wall clock."
            )
            continue
        if isinstance(after.body, ev.ClockJumped):
            continue  # told as a remark
        wall = datetime.fromisoformat(after.at.wall) - datetime.fromisoformat(before.at.wall)
        jump = (wall.total_seconds() - (after.at.mono - before.at.mono)) / 60.0
        if abs(jump) >= _CLOCK_SET_MINUTES:
            way = "forward" if jump > 0 else "back"
            yield (
                f"The wall clock was set {way} by {_minutes(abs(jump))} between events {before.seq} and "
                f"{after.seq}; clocks on this log ran on undisturbed."
            )


_HANDLERS: Mapping[type, Callable[[_Teller, Event, Any], None]] = {
    ev.ChecklistAdopted: _Teller.checklist_adopted,
    ev.WeatherNoted: _Teller.weather_noted,
    ev.NoteMade: _Teller.note_made,
    ev.DustNoted: _Teller.dust_noted,
    ev.AreaStarted: _Teller.area_started,
    ev.AreaEntered: _Teller.area_entered,
    ev.AreaFinished: _Teller.area_finished,
    ev.SectionOpened: _Teller.section_opened,
    ev.SectionClosed: _Teller.section_closed,
    ev.CautionAcknowledged: _Teller.caution_acknowledged,
    ev.StepConfirmed: _Teller.step_confirmed,
    ev.ReadingCalled: _Teller.reading_called,
    ev.ReadingKept: _Teller.reading_kept,
    ev.ChoiceMade: _Teller.choice_made,
    ev.PhotoAttached: _Teller.photo_attached,
    ev.HoldReleased: _Teller.hold_released,
    ev.Withdrawn: _Teller.withdrawn,
    ev.LiftJudged: _Teller.lift_judged,
    ev.FailureOpened: _Teller.failure_opened,
    ev.FailureClosed: _Teller.failure_closed,
    ev.StillFailing: _Teller.still_failing,
    ev.StepReopened: _Teller.step_reopened,
    ev.InspectionTightened: _Teller.inspection_tightened,
    ev.ClockStarted: _Teller.clock_started,
    ev.ClockStopped: _Teller.clock_stopped,
    ev.ClockWarned: _Teller.clock_warned,
    ev.ClockRanOut: _Teller.clock_ran_out,
    ev.NotchChanged: _Teller.notch_changed,
    ev.InstallerChanged: _Teller.installer_changed,
    ev.CommandRefused: _Teller.command_refused,
    ev.DaySigned: _Teller.day_signed,
    ev.DaySealed: _Teller.day_sealed,
    ev.PinRefused: _Teller.pin_refused,
    ev.ClockJumped: _Teller.clock_jumped,
}
