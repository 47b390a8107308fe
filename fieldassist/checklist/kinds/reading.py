"""A reading: called out, read back, kept with a yes, and judged where it has a limit."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import TYPE_CHECKING, Annotated, Any, Literal

from pydantic import BeforeValidator, Field, PlainSerializer, model_validator

from fieldassist.checklist.event_base import AtStep, EventBody
from fieldassist.checklist.faults import Faults
from fieldassist.checklist.fields import unit_names, write_number
from fieldassist.checklist.kinds.base import Asked, AtStepAsked, StepBase, check_phrases
from fieldassist.checklist.limit import LimitSpec, Plausible
from fieldassist.checklist.offers import VALUE, Offer, Slot, StepSetting
from fieldassist.checklist.rules import required
from fieldassist.checklist.state import Pending, State, answered, changed, with_measured
from fieldassist.checklist.told import Told, exact
from fieldassist.checklist.wording import WRITTEN_IN, Phrases
from fieldassist.trade import quantities
from fieldassist.trade.message import Figure, Message, Read, Several, Text, message
from fieldassist.trade.quantities import Quantity, System

if TYPE_CHECKING:
    from fieldassist.checklist.draft import Answered, Draft
    from fieldassist.checklist.events import Event
    from fieldassist.checklist.listing import Listing
    from fieldassist.checklist.rules import Criterion

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
    """A value to read off. `measures`: what of a lifted tile it tells; `batch`: what of the batch that is mixed."""

    kind: Literal["reading"]
    say: Phrases = Field(default_factory=dict)
    quantity: str
    units: tuple[str, ...] = ()
    limit: LimitSpec | None = None
    plausible: Plausible | None = None
    measures: Literal["coverage", "largest void", "bed"] | None = None
    batch: Literal["bags", "water", "lot"] | None = None

    @model_validator(mode="after")
    def _check(self) -> Reading:
        faults = Faults()
        check_phrases(faults, self.say, "say", value=True)
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
        """Its phrases; the bare value where it is at hand."""
        phrases = self.phrases(place.language)
        if place.at_hand and VALUE not in phrases:
            phrases = (*phrases, VALUE)
        command = GiveReading(section=place.holder, step=self.id)
        return [Offer(phrases, self.name, command, self.slot(place.system), place.now)] if phrases else []


class GiveReading(AtStepAsked):
    """A reading for a step; `label` for readings that are names."""

    do: Literal["give reading"] = "give reading"
    value: ExactNumber = Fraction(0)
    unit: Annotated[str, Field(max_length=20)] = "count"
    label: Annotated[str, Field(max_length=40)] | None = None


class Keep(Asked):
    """Yes: keep the reading that was read back."""

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


class ReadingCalled(AtStep):
    """A reading was heard and read back; it counts for nothing until it is kept."""

    type: Literal["reading called"] = "reading called"
    quantity: Annotated[str, Field(max_length=40)]
    value: ExactNumber
    unit: Annotated[str, Field(max_length=20)]
    label: Annotated[str, Field(max_length=40)] | None = None


class ReadingKept(AtStep):
    """The reading called at `target` was confirmed, and judged.

    verdict: None where there was nothing to judge it by; criterion: what it was held against; basis: of a reading
    without a criterion; measures: what of a lifted tile it tells; batch: what of the batch that is mixed.
    """

    type: Literal["reading kept"] = "reading kept"
    target: int
    verdict: Literal["passed", "over", "under"] | None = None
    criterion: JudgedBy | None = None
    basis: Told | None = None
    measures: Literal["coverage", "largest void", "bed"] | None = None
    batch: Literal["bags", "water", "lot"] | None = None

    @property
    def passed(self) -> bool | None:
        """Whether it passed; None where it was not judged."""
        return None if self.verdict is None else self.verdict == "passed"


def judged_by(criterion: Criterion) -> JudgedBy:
    """A criterion as the record has it."""
    least, most = (None if end is None else exact(end) for end in (criterion.at_least, criterion.at_most))
    return JudgedBy(rule=criterion.rule, at_least=least, at_most=most, unit=criterion.unit, basis=criterion.basis)


def pending_reading(state: State, pending: Pending) -> tuple[Text, Figure]:
    """The name of the step that a waiting reading is for, and the reading."""
    step = state.areas[pending.area].checklist.step(pending.task.section, pending.task.step)
    return step.name, pending.label if pending.label is not None else as_read(pending.value, pending.unit)


def decide(draft: Draft, command: GiveReading) -> None:
    """The reading is read back. Saying it again in other words is a correction: the first one is withdrawn."""
    pending = draft.state.pending
    if pending is not None:
        if (pending.task.section, pending.task.step) != (command.section, command.step):
            raise draft.yes_or_no_first()
        _check_plausible(draft, draft.reading_step(command), command)
        draft.withdraw(pending.area, pending.seq, "said again")
    area, task, step = draft.at_hand(command, Reading)
    _check_plausible(draft, step, command)
    draft.emit(
        ReadingCalled(
            area=area.plan.name,
            section=task.section,
            round=task.round,
            step=step.id,
            quantity=step.quantity,
            value=command.value,
            unit=command.unit,
            label=command.label,
        )
    )
    assert draft.state.pending is not None
    name, reading = pending_reading(draft.state, draft.state.pending)
    draft.say(message("engine-yes-or-no", name=name, reading=reading))


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


def keep(draft: Draft, command: Keep) -> Answered:
    """The waiting reading is kept and judged."""
    pending = draft.state.pending
    if pending is None:
        raise draft.refusal("engine-nothing-waits")
    draft.focus = pending.area
    area = draft.area
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
        )
    )
    draft.say(message("engine-kept"))
    return pending.task, step, judgement.finding if judgement else None


def fold_called(state: State, event: Event, body: ReadingCalled) -> State:
    """The reading waits for yes or no."""
    task = state.areas[body.area].task
    if task is None:
        raise ValueError(f"event {event.seq} is a reading for {body.step!r}, but no step was at hand")
    waiting = Pending(event.seq, body.area, task, body.quantity, body.value, body.unit, body.label)
    return changed(state, pending=waiting)


def fold_kept(state: State, event: Event, body: ReadingKept) -> State:
    """The step is answered; what it tells of a lift or of a batch is kept as it was read."""
    pending = state.pending
    if pending is None or pending.seq != body.target:
        raise ValueError(f"event {event.seq} keeps reading {body.target}, which was not waiting")
    progress = state.areas[body.area].progress
    changes: dict[str, Any] = {}
    if body.measures is not None:
        changes["measured"] = with_measured(state, body, Quantity(pending.value, pending.unit))
    if body.batch == "lot":
        changes["lot"] = pending.label or ""
    mixing = progress.batches.get(body.round) if body.batch is not None else None
    if mixing is not None and mixing.section == body.section:
        if body.batch == "bags":
            mixing = replace(mixing, bags=pending.value)
        elif body.batch == "water":
            mixing = replace(mixing, water=Quantity(pending.value, pending.unit))
        else:
            mixing = replace(mixing, lot=pending.label or "")
        changes["batches"] = {**progress.batches, body.round: mixing}
    return changed(answered(state, event, body, **changes), pending=None)


def tell_called(_: Listing, body: ReadingCalled) -> dict[str, Figure]:
    """The reading, for a list of events."""
    return {"reading": body.label if body.label is not None else as_read(body.value, body.unit)}


def tell_kept(listing: Listing, body: ReadingKept) -> dict[str, Figure]:
    """The reading that was kept and how it was judged, for a list of events."""
    called = listing.called(body.target)
    told: dict[str, Figure] = {"verdict": body.verdict or "none"}
    if called is not None:
        told |= tell_called(listing, called)
    if body.criterion is not None:
        told["required"] = body.criterion.told
    return told


DECIDERS = {GiveReading: decide, Keep: keep}
FOLDS = {ReadingCalled: fold_called, ReadingKept: fold_kept}
TELLS = {ReadingCalled: tell_called, ReadingKept: tell_kept}
