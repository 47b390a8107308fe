"""A reading: called out, read back, kept, and judged where it has a limit.

What could be wrong is kept with a yes: what fails, what sounds like another number, what is far from the last ones,
what was heard with doubt, a name that was heard, a correction, and whatever is read off a lifted tile. Any other one
that was heard is kept by the next phrase that fits, and one that was typed or pressed at once.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from statistics import median
from typing import TYPE_CHECKING, Annotated, Any, Literal

from pydantic import BeforeValidator, Field, PlainSerializer, model_validator

from fieldassist.checklist.event_base import AtStep, EventBody, RecordedName
from fieldassist.checklist.faults import Faults
from fieldassist.checklist.fields import unit_names, write_number
from fieldassist.checklist.kinds.base import AS_ONE_LINE, Asked, AtStepAsked, StepBase, check_phrases
from fieldassist.checklist.kinds.choice import Choice, keep_called
from fieldassist.checklist.limit import LimitSpec, Plausible
from fieldassist.checklist.offers import READS, VALUE, Offer, Slot, StepSetting
from fieldassist.checklist.rules import FLATNESS, Criterion, required
from fieldassist.checklist.state import (
    Area,
    Pending,
    ReadingRecord,
    SampleAnswer,
    State,
    Task,
    advance,
    answered,
    beyond_recall,
    command_of,
    with_answer,
    with_area,
    with_measured,
    with_waiting,
)
from fieldassist.checklist.told import Told, exact
from fieldassist.checklist.wording import WRITTEN_IN, Phrases, in_language
from fieldassist.language.numbers import confusable
from fieldassist.trade import quantities
from fieldassist.trade.message import Figure, Message, Read, Several, Text, message
from fieldassist.trade.quantities import Quantity, System

if TYPE_CHECKING:
    from fieldassist.checklist.draft import Answered, Draft
    from fieldassist.checklist.events import Event
    from fieldassist.checklist.listing import Listing

# How far from the median of the last readings is worth a word, as a share of that median. Ours, not measured.
_FAR_SHARE = 0.5
# What a reading tells of a back: of a lifted tile's, or of a sample's.
MeasuredOff = Literal["coverage", "largest void", "bed", "counted", "mortar"]
# By what a reading was kept.
KeptBy = Literal["yes", "next phrase", "entered"]
# A reading's number, exact: "95", "2.5", "3/8".
ExactNumber = Annotated[Fraction, BeforeValidator(exact), PlainSerializer(write_number, return_type=str)]

# A reading's quantity: its dimension and how low and high a reading can be before it must be a mishearing.
# Plausible ends are in the canonical unit and are ours (common practice, no published source): they only ask again.
QUANTITIES: dict[str, tuple[str, float, float]] = {
    "coverage": ("percent", 0, 100),
    "humidity": ("percent", 5, 100),
    "moisture": ("percent", 0, 100),
    "length": ("length", 0, 10_000),
    "area": ("area", 0, 1_000),
    "void": ("area", 0, 1),
    "mass": ("mass", 0, 1_000),
    "volume": ("volume", 0, 200),
    "duration": ("duration", 0, 1_440),
    "temperature": ("temperature", -30, 60),
    "count": ("count", 0, 10_000),
    "bags": ("count", 0, 10_000),
    "label": ("name", 0, 0),
}


def slot(quantity: str, units: Sequence[str], plausible: Plausible | None, system: System) -> Slot:
    """The value that phrases carry; the site's own units come first, so that a bare number means them."""
    dimension, low, high = QUANTITIES[quantity]
    if plausible is not None:
        low, high = (quantities.canonical(end, plausible.unit) for end in (plausible.low, plausible.high))
    ordered = sorted(units, key=lambda unit: quantities.unit_in_system(unit, system) != unit)
    return Slot(quantity, dimension, tuple(ordered), low, high)


def as_read(value: Fraction, unit: str) -> Figure:
    """A reading as a figure of a message."""
    return Quantity(value, "count") if unit == "count" else Read(Quantity(value, unit))


class Reading(StepBase):
    """A value to read off. `measures`: what of a lifted tile it tells; `batch`: what of the batch that is mixed;
    `skip`: what leaves it out, where not everybody has the tool for it; `reader`: of a sample, which of the trial's
    readers reads it: it is called with that one's name, whoever speaks."""

    kind: Literal["reading"]
    say: Phrases = Field(default_factory=dict)
    skip: Phrases = Field(default_factory=dict)
    quantity: str
    units: tuple[str, ...] = ()
    limit: LimitSpec | None = None
    plausible: Plausible | None = None
    measures: MeasuredOff | None = None
    batch: Literal["bags", "water", "lot"] | None = None
    reader: Literal["first", "second"] | None = None

    @model_validator(mode="after")
    def _check(self) -> Reading:
        faults = Faults()
        check_phrases(faults, self.say, "say", value=True)
        check_phrases(faults, self.skip, "skip", value=False)
        if self.quantity not in QUANTITIES:
            faults.add("quantity-unknown", "quantity", given=self.quantity, allowed=list(QUANTITIES))
            faults.tell()
        dimension = QUANTITIES[self.quantity][0]
        wanted = {"bags": "count", "water": "volume", "lot": "name"}.get(self.batch or "", dimension)
        if wanted != dimension:
            faults.add("reading-of-batch", "batch", given=self.batch, quantity=self.quantity)
        if dimension == "name":
            if self.units or self.limit or self.plausible:
                faults.add("label-with-units")
        else:
            self._check_units(faults, dimension)
        for language, phrases in self.say.items():
            for index, phrase in enumerate(phrases):
                if VALUE not in phrase:
                    at = ("say", index) if language == WRITTEN_IN else ("say", language, index)
                    faults.add("phrase-without-value", *at, given=phrase)
        faults.tell()
        return self

    def _check_units(self, faults: Faults, dimension: str) -> None:
        allowed = unit_names(dimension)
        if not self.units:
            faults.add("reading-without-units", allowed=allowed)
        units: list[tuple[str, tuple[str | int, ...]]] = [(unit, ("units", i)) for i, unit in enumerate(self.units)]
        if self.limit is not None and self.limit.unit:
            units.append((self.limit.unit, ("limit", "unit")))
        if self.plausible is not None:
            units.append((self.plausible.unit, ("plausible", "unit")))
        for unit, at in units:
            if unit not in allowed:
                faults.add("unit-unfit", *at, given=unit, measured=self.quantity, allowed=allowed)

    @property
    def judged(self) -> bool:
        """Whether a value can fail."""
        return self.limit is not None

    @property
    def spoken(self) -> Mapping[str, tuple[str, ...]]:
        """Its own phrases; where it is at hand the bare value is understood too."""
        return self.say

    def slot(self, system: System = "metric") -> Slot:
        """The value that its phrases carry."""
        return slot(self.quantity, self.units, self.plausible, system)

    def offers(self, place: StepSetting) -> list[Offer]:
        """Its phrases; the bare value where it is at hand; and what leaves it out."""
        phrases = self.phrases(place.language)
        if self.reader is not None:
            # Where two read, each figure is called with its reader's name.
            named = tuple(f"{call} {READS} {VALUE}" for call in place.reads(self.reader))
            phrases = named if place.two_read else (*phrases, *named)
        if place.at_hand and VALUE not in phrases:
            phrases = (*phrases, VALUE)
        command = GiveReading(section=place.holder, step=self.id)
        offers = [Offer(phrases, self.name, command, self.slot(place.system), place.now)] if phrases else []
        skip = in_language(self.skip, place.language)
        if skip:
            leave_out = LeaveOutReading(section=place.holder, step=self.id)
            offers.append(Offer(skip, message("prompt-no-reading", reading=self.name), leave_out, now=place.now))
        return offers


class GiveReading(AtStepAsked):
    """A reading for a step; `label` for readings that are names.

    corrects: the event that called or kept an earlier reading of this step, in whose place this one is to stand.
    """

    do: Literal["give reading"] = "give reading"
    value: ExactNumber = Fraction(0)
    unit: Annotated[str, Field(max_length=20)] = "count"
    label: Annotated[str, AS_ONE_LINE, Field(max_length=40)] | None = None
    corrects: Annotated[int, Field(ge=1)] | None = None


class LeaveOutReading(AtStepAsked):
    """The reading at hand is not taken, where its checklist allows that."""

    do: Literal["leave out reading"] = "leave out reading"


class Keep(Asked):
    """Yes: keep what was read back."""

    do: Literal["keep"] = "keep"


class JudgedBy(EventBody):
    """The criterion that a value was held against: the rule's name, both ends in `unit`, and where it comes from."""

    rule: Annotated[str, Field(max_length=120)]
    at_least: ExactNumber | None = None
    at_most: ExactNumber | None = None
    unit: Annotated[str, Field(max_length=20)]
    basis: Told

    @property
    def told(self) -> Message:
        """What is required, in words: "at least 95 %"."""
        return required(self.at_least, self.at_most, self.unit)

    @property
    def criterion(self) -> Criterion:
        """The same, ready to be applied to another value."""
        return Criterion(self.rule, self.at_least, self.at_most, self.unit, self.basis)


class ReadingCalled(AtStep):
    """A reading was heard and read back; it counts for nothing until it is kept.

    corrects: the event that kept the reading in whose place it is to stand; unquestioned: nothing about it could be
    wrong unheard, so that it waits for no yes: the next phrase that fits keeps it.
    """

    type: Literal["reading called"] = "reading called"
    quantity: Annotated[str, Field(max_length=40)]
    value: ExactNumber
    unit: Annotated[str, Field(max_length=20)]
    label: Annotated[str, Field(max_length=40)] | None = None
    corrects: int | None = None
    unquestioned: bool = False


class ReadingLeftOut(AtStep):
    """A reading that may be left out was not taken."""

    type: Literal["reading left out"] = "reading left out"


class JudgedReading(AtStep):
    """The reading called at `target` was confirmed, and judged.

    verdict: None where there was nothing to judge it by; criterion: what it was held against; basis: of a reading
    without a criterion; measures: what of a lifted tile or a sample it tells; batch: what of the batch that is
    mixed; reader: who read it off a sample, "" where nobody is named.
    """

    target: int
    verdict: Literal["passed", "over", "under"] | None = None
    criterion: JudgedBy | None = None
    basis: Told | None = None
    measures: MeasuredOff | None = None
    batch: Literal["bags", "water", "lot"] | None = None
    reader: RecordedName | Literal[""] = ""

    @property
    def passed(self) -> bool | None:
        """Whether it passed; None where it was not judged."""
        return None if self.verdict is None else self.verdict == "passed"


class ReadingKept(JudgedReading):
    """A reading at the step at hand was confirmed.

    elapsed: of a duration, see `state.ReadingRecord` [min]; kept: by a yes, by the next phrase that fitted, or at once
    where it was typed or pressed.
    """

    type: Literal["reading kept"] = "reading kept"
    elapsed: float | None = None
    kept: KeptBy = "yes"


class ReadingCorrected(JudgedReading):
    """The reading called at `target` stands from here on in the place of the one that the event `corrects` kept.

    Nothing that was done since is undone. It is held against the criterion of the reading whose place it takes.
    """

    type: Literal["reading corrected"] = "reading corrected"
    corrects: int


def judged_by(criterion: Criterion) -> JudgedBy:
    """A criterion as the record has it."""
    least, most = (None if end is None else exact(end) for end in (criterion.at_least, criterion.at_most))
    return JudgedBy(rule=criterion.rule, at_least=least, at_most=most, unit=criterion.unit, basis=criterion.basis)


def as_told(value: Fraction, unit: str, label: str | None) -> Figure:
    """A reading, or its name where it is one, as a figure of a message."""
    return label if label is not None else as_read(value, unit)


def read_as(reading: ReadingRecord) -> Figure:
    """A reading that was kept, as a figure of a message."""
    return as_told(reading.value, reading.unit, reading.label)


def far_from(value: float, last: Sequence[float]) -> bool:
    """Whether a value is far from the last readings of its step, newest last: beyond half of their median and beyond
    three times their spread. One reading alone is nothing to be far from.

    >>> far_from(31, [20, 21]), far_from(30, [20, 21]), far_from(31, [20])
    (True, False, False)
    """
    if len(last) < 2:
        return False
    middle = median(last[-5:])
    spread = max(abs(x - middle) for x in last[-5:])
    return abs(value - middle) > max(_FAR_SHARE * abs(middle), 3 * spread)


def last_readings(area: Area, task: Task, unit: str) -> list[float]:
    """The readings of a task's step that count in an area, oldest first, in `unit`."""
    same = [r for r in area.readings.values() if (r.section, r.step) == (task.section, task.step)]
    return [quantities.convert(r.value, r.unit, unit) for r in same]


def waiting_answer(state: State, pending: Pending) -> tuple[Text, Figure]:
    """The name of the step that a waiting answer is for, and the answer."""
    step = state.areas[pending.area].checklist.step(pending.task.section, pending.task.step)
    option = step.option(pending.option) if pending.option is not None and isinstance(step, Choice) else None
    return step.name, option.label if option is not None else as_told(pending.value, pending.unit, pending.label)


def waiting_told(state: State) -> Figure:
    """All that waits, each with the name of its step; an answer of a choice says itself what it answers."""
    told: list[Figure] = []
    for pending in state.waiting:
        name, answer = waiting_answer(state, pending)
        told.append(answer if pending.option else message("readback-answer", name=name, reading=answer))
    return told[0] if len(told) == 1 else Several(tuple(told), "clauses")


def asked_back(state: State) -> Message:
    """What waits read back, and whether it is right unless nothing asks that; with the reading whose place it would
    take, where it corrects one."""
    pending = state.pending
    assert pending is not None
    name, reading = waiting_answer(state, pending)
    if pending.unquestioned:
        return message("engine-read-back", name=name, reading=reading)
    was = state.areas[pending.area].reading_of(pending.corrects) if pending.corrects is not None else None
    if was is None:
        return message("engine-yes-or-no", answers=waiting_told(state))
    return message("engine-corrects-yes-or-no", name=name, reading=reading, was=read_as(was))


def decide(draft: Draft, command: GiveReading) -> Answered | None:
    """The reading is read back, or kept at once. Saying it again is a correction: the first one is withdrawn."""
    from fieldassist.checklist.backs import check_reading  # it imports the kinds

    state = draft.state
    again = next((one for one in state.waiting if _is_for(one, draft, command)), None)
    joins = command.corrects is None and state.joins(command.section, command.step)
    if state.pending is not None and again is None and not joins:
        raise draft.yes_or_no_first()
    area, task, step, corrects = _place(draft, command)
    _check_plausible(draft, step, command)
    check_reading(draft, area, task, step, Quantity(command.value, command.unit))
    if again is not None:
        draft.withdraw(again.area, again.seq, "said again")
    certain = corrects is None and _certain(draft, area, task, step, command)
    heard = draft.source.how == "spoken"
    draft.emit(
        ReadingCalled(
            area=area.plan.name,
            section=task.section,
            round=task.round,
            step=step.id,
            quantity=step.quantity,
            # A name is no number, also where it is spoken in digits.
            value=Fraction(0) if step.quantity == "label" else command.value,
            unit=command.unit,
            label=command.label,
            corrects=corrects,
            unquestioned=certain and heard and not _may_be_misheard(draft, command),
        )
    )
    pending = draft.state.pending
    assert pending is not None
    if not certain or heard:
        draft.say(asked_back(draft.state))
        return None
    draft.say(message("engine-read-back", name=step.name, reading=as_told(pending.value, pending.unit, pending.label)))
    draft.say(message("engine-kept"))
    return _keep(draft, pending, "entered")


def _certain(draft: Draft, area: Area, task: Task, step: Reading, command: GiveReading) -> bool:
    """Whether nothing about a reading asks for a yes, but that it may be misheard: it is read off no lifted tile, it
    fails nothing, no time must pass before its step, and it is not far from the last ones."""
    holder = area.checklist.section(task.section)
    if holder is not None and holder.shows and step.measures is not None:
        return False
    if command.label is None:
        criterion = area.criterion(step)
        if criterion is not None and criterion.judge(command.value, command.unit).verdict != "passed":
            return False
        if far_from(float(command.value), last_readings(area, task, command.unit)):
            return False
    least = {clock.id for clock in area.checklist.clocks if clock.bound == "at least"}
    return not any(
        run.clock == step.stops and run.clock in least and run.left(draft.now) > 0 for run in area.progress.clocks
    )


def _may_be_misheard(draft: Draft, command: GiveReading) -> bool:
    """Whether other words may have been said than were heard: a name, teens and tens, and what had a rival."""
    return command.label is not None or confusable(command.value) or draft.source.doubt


def _is_for(pending: Pending, draft: Draft, command: GiveReading) -> bool:
    if (pending.task.section, pending.task.step) != (command.section, command.step):
        return False
    if command.corrects is None or pending.corrects is None:
        return command.corrects is None and pending.corrects is None
    was = draft.state.areas[pending.area].reading_of(command.corrects)
    return was is not None and was.kept == pending.corrects


def _place(draft: Draft, command: GiveReading) -> tuple[Area, Task, Reading, int | None]:
    """Where the reading belongs: the step at hand, or the one whose reading it corrects, and that reading's event."""
    if command.corrects is None:
        area, task, step = draft.at_hand(command, Reading)
        return area, task, step, None
    for name, area in draft.state.areas.items():
        was = area.reading_of(command.corrects)
        if was is not None and (was.section, was.step) == (command.section, command.step):
            draft.focus = name
            step = draft.reading_step(command)
            draft.check_role(step)
            return area, Task(was.section, was.round, was.step), step, was.kept
    raise draft.refusal("engine-no-reading", event=str(command.corrects))


def _check_plausible(draft: Draft, step: Reading, command: GiveReading) -> None:
    reading = slot(step.quantity, step.units, step.plausible, "metric")
    if reading.dimension == "name":
        if not command.label:
            raise draft.refusal("engine-name-wanted", ask=step.ask)
        return
    if command.unit not in step.units:
        units = Several(tuple(step.units), "or")
        raise draft.refusal("engine-other-unit", name=step.name, units=units, given=command.unit)
    value = quantities.canonical(float(command.value), command.unit)
    if not reading.low - 1e-9 <= value <= reading.high + 1e-9:
        given = as_read(command.value, command.unit)
        raise draft.refusal("engine-implausible", name=step.name, given=given)


def keep(draft: Draft, command: Keep) -> Answered | None:
    """What waits is kept and judged; a reading that corrects another takes its place."""
    from fieldassist.checklist import follow  # it imports the kinds

    waiting = draft.state.waiting
    if not waiting:
        if kept_already(draft.state):
            draft.say(message("engine-kept-already"))
            return None
        raise draft.refusal("engine-nothing-waits")
    draft.focus = waiting[0].area
    if waiting[0].corrects is not None:
        _correct(draft, waiting[0], waiting[0].corrects)
        return None
    draft.say(message("engine-kept"))
    *others, last = waiting
    for pending in others:
        follow.after_step(draft, *_keep(draft, pending, "yes"))
    return _keep(draft, last, "yes")


def leave_out(draft: Draft, command: LeaveOutReading) -> Answered:
    """The step goes on without its reading."""
    area, task, step = draft.at_hand(command, Reading)
    if not any(step.skip.values()):
        raise draft.refusal("engine-reading-wanted", ask=step.ask)
    draft.emit(ReadingLeftOut(area=area.plan.name, section=task.section, round=task.round, step=step.id))
    draft.say(message("engine-reading-left-out", name=step.name))
    return task, step, None


def kept_already(state: State) -> bool:
    """Whether the last thing done in the area that is open is a reading that was typed or pressed, and kept at once."""
    area = state.area
    if area is None or not area.done:
        return False
    return any(reading.entered == area.done[-1].command for reading in area.readings.values())


def keep_unquestioned(draft: Draft) -> Answered:
    """The reading that waits for no yes is kept: a phrase that fits comes next."""
    pending = draft.state.pending
    assert pending is not None
    draft.focus = pending.area
    return _keep(draft, pending, "next phrase")


def _keep(draft: Draft, pending: Pending, kept: KeptBy) -> Answered:
    area = draft.area
    if pending.option is not None:
        return keep_called(draft, pending)
    step = area.checklist.step(pending.task.section, pending.task.step)
    assert isinstance(step, Reading)
    criterion = area.criterion(step)
    judgement = criterion.judge(pending.value, pending.unit) if criterion else None
    draft.emit(
        ReadingKept(
            area=pending.area,
            section=pending.task.section,
            round=pending.task.round,
            step=step.id,
            target=pending.seq,
            verdict=judgement.verdict if judgement else None,
            criterion=judged_by(criterion) if criterion else None,
            basis=None if criterion else step.basis,
            measures=step.measures,
            batch=step.batch,
            reader=area.reader(step.reader),
            elapsed=_elapsed(draft, pending, step) if step.quantity == "duration" else None,
            kept=kept,
        )
    )
    return pending.task, step, judgement.finding if judgement else None


def _elapsed(draft: Draft, pending: Pending, step: Reading) -> float | None:
    """Minutes since what a duration measures began: the clock that its step stops, or its round where it is called for,
    due or a cure. What began before the day, such as a membrane's cure, nothing here tells."""
    area = draft.area
    running = [run for run in area.progress.clocks if run.clock == step.stops]
    if running:
        return round(running[-1].started.minutes_to(draft.now), 2)
    section = area.checklist.section(pending.task.section)
    began = area.progress.began.get(pending.task.section)
    if began is None or (section is not None and section.when in ("start", "end")):
        return None
    return round(began.minutes_to(draft.now), 2)


def _correct(draft: Draft, pending: Pending, corrects: int) -> None:
    """The waiting reading takes the place of an earlier one, held against the same criterion."""
    from fieldassist.checklist import follow  # it imports the kinds

    area = draft.area
    was = area.reading_of(corrects)
    assert was is not None  # it was there when this one was called, and a reading that counts is never dropped since
    step = area.checklist.step(was.section, was.step)
    assert isinstance(step, Reading)
    criterion = None if was.judged is None else was.judged.criterion
    judgement = criterion.judge(pending.value, pending.unit) if criterion else None
    draft.emit(
        ReadingCorrected(
            area=pending.area,
            section=was.section,
            round=was.round,
            step=was.step,
            target=pending.seq,
            corrects=corrects,
            verdict=judgement.verdict if judgement else None,
            criterion=was.judged,
            basis=None if criterion else step.basis,
            measures=step.measures,
            reader=area.reader(step.reader),
        )
    )
    reading = as_told(pending.value, pending.unit, pending.label)
    draft.say(message("engine-reading-corrected", name=step.name, reading=reading, was=read_as(was)))
    follow.corrected(draft, was, step, judgement.finding if judgement else None)


def fold_called(state: State, event: Event, body: ReadingCalled) -> State:
    """The reading waits to be kept; a reading of a lift with what waits of it already."""
    task: Task | None = Task(body.section, body.round, body.step)
    if body.corrects is None:
        task = state.areas[body.area].answerable(body.section, body.step)
    if task is None:
        raise ValueError(f"event {event.seq} is a reading for {body.step!r}, but no step was at hand")
    called = Pending(
        event.seq,
        body.area,
        task,
        body.quantity,
        body.value,
        body.unit,
        body.label,
        body.corrects,
        body.unquestioned,
        event.source.doubt,
    )
    return with_waiting(state, (*state.called, called))


def fold_left_out(state: State, event: Event, body: ReadingLeftOut) -> State:
    """The step is answered, without a reading."""
    return answered(state, event, body)


def fold_kept(state: State, event: Event, body: ReadingKept) -> State:
    """The step is answered; what it tells of a lift or of a batch is kept as it was read."""
    pending = _waiting(state, event, body)
    changes: dict[str, Any] = {}
    if body.measures is not None:
        changes["measured"] = with_measured(state, body, Quantity(pending.value, pending.unit))
    changes |= _of_batch(state, body, pending) | _of_base(state, body, pending)
    changes |= with_answer(state, body, _of_sample(event, body, pending))
    waiting = [one for one in state.called if one is not pending]
    state = with_waiting(answered(state, event, body, **changes), waiting)
    record = ReadingRecord(
        pending.seq,
        event.seq,
        body.section,
        body.round,
        body.step,
        pending.quantity,
        pending.value,
        pending.unit,
        pending.label,
        event.at,
        body.measures,
        body.criterion,
        body.verdict,
        body.elapsed,
        entered=command_of(event) if body.kept == "entered" else "",
    )
    return with_area(state, body.area, readings={**state.areas[body.area].readings, event.seq: record})


def _of_batch(state: State, body: JudgedReading, pending: Pending) -> dict[str, Any]:
    """What a reading tells of the batch that is mixed."""
    if body.batch is None:
        return {}
    progress = state.areas[body.area].progress
    changes: dict[str, Any] = {"lot": pending.label or ""} if body.batch == "lot" else {}
    mixing = progress.batches.get(body.round)
    if mixing is None or mixing.section != body.section:
        return changes
    if body.batch == "bags":
        mixing = replace(mixing, bags=pending.value)
    elif body.batch == "water":
        mixing = replace(mixing, water=Quantity(pending.value, pending.unit))
    else:
        mixing = replace(mixing, lot=pending.label or "")
    return {**changes, "batches": {**progress.batches, body.round: mixing}}


def _of_base(state: State, body: JudgedReading, pending: Pending) -> dict[str, Any]:
    """What a reading tells of the base: the gap under a straightedge."""
    if body.criterion is None or body.criterion.rule not in FLATNESS:
        return {}
    gaps = state.areas[body.area].progress.gaps
    return {"gaps": {**gaps, body.criterion.rule: Quantity(pending.value, pending.unit)}}


def _of_sample(event: Event, body: JudgedReading, pending: Pending) -> SampleAnswer:
    """What a reading tells of a sample."""
    return SampleAnswer(
        body.step,
        body.measures or "",
        body.reader,
        pending.value,
        pending.unit,
        how=event.source.how,
        kept=event.seq,
        corrected=isinstance(body, ReadingCorrected),
    )


def _waiting(state: State, event: Event, body: JudgedReading) -> Pending:
    pending = next((one for one in state.called if one.seq == body.target), None)
    if pending is None:
        raise ValueError(f"event {event.seq} keeps reading {body.target}, which was not waiting")
    if isinstance(body, ReadingKept) and body.kept == "next phrase" and not pending.unquestioned:
        raise ValueError(f"event {event.seq} keeps reading {body.target} without the yes that it waits for")
    return pending


def fold_corrected(state: State, event: Event, body: ReadingCorrected) -> State:
    """The reading takes the place of the one that it corrects. What was done since stays done."""
    pending = _waiting(state, event, body)
    area = state.areas[body.area]
    first = next((seq for seq, reading in area.readings.items() if reading.kept == body.corrects), None)
    if first is None:
        raise ValueError(f"event {event.seq} corrects event {body.corrects}, which kept no reading that counts")
    record = replace(
        area.readings[first],
        called=pending.seq,
        kept=event.seq,
        value=pending.value,
        unit=pending.unit,
        label=pending.label,
        verdict=body.verdict,
        corrected=True,
    )
    state = with_area(state, body.area, readings={**area.readings, first: record})
    if body.measures is not None:
        measured = with_measured(state, body, Quantity(pending.value, pending.unit))
        state = advance(state, body.area, measured=measured)
    state = advance(state, body.area, **_of_batch(state, body, pending), **_of_base(state, body, pending))
    state = advance(state, body.area, **with_answer(state, body, _of_sample(event, body, pending)))
    # Taking back an earlier step would bring back what the wrong reading had led to.
    return beyond_recall(with_waiting(state, ()), body.area, event)


def tell_called(_: Listing, body: ReadingCalled) -> dict[str, Figure]:
    """The reading, for a list of events."""
    return {"reading": as_told(body.value, body.unit, body.label)}


def tell_kept(listing: Listing, body: JudgedReading) -> dict[str, Figure]:
    """The reading that was kept and how it was judged, for a list of events."""
    called = listing.called(body.target)
    told: dict[str, Figure] = {"verdict": body.verdict or "none"}
    if isinstance(body, ReadingKept):
        told["kept"] = message("events-kept", by=body.kept.replace(" ", "-"))
    if called is not None:
        told |= tell_called(listing, called)
    if body.criterion is not None:
        told["required"] = body.criterion.told
    if body.reader:
        told["reader"] = body.reader
    return told


def tell_corrected(listing: Listing, body: ReadingCorrected) -> dict[str, Figure]:
    """The reading, and the event whose reading it replaces, for a list of events."""
    return {**tell_kept(listing, body), "corrects": str(body.corrects)}


DECIDERS = {GiveReading: decide, LeaveOutReading: leave_out, Keep: keep}
FOLDS = {
    ReadingCalled: fold_called,
    ReadingLeftOut: fold_left_out,
    ReadingKept: fold_kept,
    ReadingCorrected: fold_corrected,
}
TELLS = {ReadingCalled: tell_called, ReadingKept: tell_kept, ReadingCorrected: tell_corrected}
