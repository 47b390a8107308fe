"""The shape of a checklist file. Every field is described where it stands; `loader` adds file and line to errors.

Words are those of inspection and test plans: step, hold point, acceptance criterion, non-conformance,
corrective action.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from enum import StrEnum
from typing import Annotated, Literal

from pydantic import Field, StringConstraints, model_validator

from fieldassist.checklist import rules
from fieldassist.checklist.faults import Faults
from fieldassist.checklist.fields import Area, Duration, unit_names
from fieldassist.checklist.plan import Role, Text, Written
from fieldassist.trade import catalog

Id = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9]*(-[a-z0-9]+)*$", max_length=60)]
_SPOKEN = re.compile(r"^(\{value\}|[a-z']+)( (\{value\}|[a-z']+))*$")
Phrase = Annotated[str, StringConstraints(strip_whitespace=True, to_lower=True, max_length=80)]


class Kind(StrEnum):
    """What a step asks for."""

    CONFIRM = "confirm"
    READING = "reading"
    CHOICE = "choice"
    PHOTO = "photo"
    HOLD = "hold"
    LIFT = "lift"


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


class Limit(Written):
    """An acceptance criterion: numbers with a basis, the name of a rule that computes them for the area, or any
    computation of the trade (`fieldassist calc` lists them) with its inputs and the result that is the limit."""

    at_least: float | None = None
    at_most: float | None = None
    unit: str | None = None
    basis: Text | None = None
    rule: str | None = None
    calculation: str | None = None
    given: dict[str, str] = Field(default_factory=dict)
    result: str | None = None
    bound: Literal["at least", "at most"] = "at most"

    @model_validator(mode="after")
    def _numbers_or_rule(self) -> Limit:
        faults = Faults()
        numbers = self.at_least is not None or self.at_most is not None
        kinds = (self.calculation is not None, self.rule is not None, numbers or bool(self.unit or self.basis))
        if sum(kinds) > 1:
            faults.add("limit-mixed")
        elif self.calculation is not None:
            if self.calculation not in catalog.CALCULATIONS:
                known = list(catalog.CALCULATIONS)
                faults.add("calculation-unknown", "calculation", given=self.calculation, allowed=known)
            if self.result is None:
                faults.add("limit-without-result")
        elif self.given or self.result:
            faults.add("limit-result-alone", "given" if self.given else "result")
        elif self.rule is not None:
            if self.rule not in rules.LIMITS:
                faults.add("rule-unknown", "rule", given=self.rule, allowed=sorted(rules.LIMITS))
        else:
            self._check_numbers(faults)
        faults.tell()
        return self

    def _check_numbers(self, faults: Faults) -> None:
        if self.at_least is None and self.at_most is None:
            faults.add("limit-empty")
            return
        if self.unit is None:
            faults.add("limit-without-unit")
        if self.basis is None:
            faults.add("limit-without-basis")
        if self.at_least is not None and self.at_most is not None and self.at_least > self.at_most:
            faults.add("limit-impossible", "at_least", least=self.at_least, most=self.at_most)


class Plausible(Written):
    """Where a reading can lie at all; outside it was misheard or mistyped, and is asked again."""

    low: float
    high: float
    unit: str


class Option(Written):
    """One answer of a choice. `fails`: taking it is a non-conformance."""

    id: Id
    say: Annotated[tuple[Phrase, ...], Field(min_length=1)]
    label: Text
    fails: bool = False


class Step(Written):
    """One thing to do, read, choose, photograph or release."""

    id: Id
    kind: Kind = Kind.CONFIRM
    ask: Text
    say: tuple[Phrase, ...] = ()
    basis: Text | None = None
    quantity: str | None = None
    units: tuple[str, ...] = ()
    limit: Limit | None = None
    plausible: Plausible | None = None
    options: tuple[Option, ...] = ()
    by: Role | None = None
    starts: Id | None = None
    stops: Id | None = None
    on_fail: Id | None = None
    measures: Literal["coverage", "largest void", "corners"] | None = None

    @model_validator(mode="after")
    def _kind_fits_fields(self) -> Step:
        faults = Faults()
        _check_phrases(faults, self.say, "say", value=True)
        for index, option in enumerate(self.options):
            _check_phrases(faults, option.say, "options", index, "say", value=True)
        if self.kind is Kind.READING:
            self._check_reading(faults)
        else:
            for field in ("limit", "plausible"):
                if getattr(self, field) is not None:
                    faults.add("step-not-reading", field, field=field, kind=self.kind.value)
            if self.quantity is not None and not (self.kind is Kind.LIFT and self.quantity == "label"):
                faults.add("step-not-reading", "quantity", field="quantity", kind=self.kind.value)
            for index, phrase in enumerate(self.say):
                if self.quantity is None and "{value}" in phrase:
                    faults.add("phrase-with-value", "say", index)
            if self.kind is Kind.PHOTO and self.say:
                faults.add("step-photo-say", "say")
            if self.kind not in (Kind.CHOICE, Kind.PHOTO) and not self.say:
                faults.add("step-without-say", "say")
        if (self.kind is Kind.CHOICE) != bool(self.options):
            faults.add("step-options", "options")
        if self.kind is Kind.CHOICE and self.say:
            faults.add("step-choice-say", "say")
        if self.kind is Kind.HOLD and self.by is None:
            faults.add("step-without-by")
        faults.tell()
        return self

    def _check_reading(self, faults: Faults) -> None:
        if self.quantity not in QUANTITIES:
            faults.add("quantity-unknown", "quantity", given=self.quantity or "", allowed=list(QUANTITIES))
            return
        dimension = QUANTITIES[self.quantity][0]
        if dimension == "name":
            if self.units or self.limit or self.plausible:
                faults.add("label-with-units")
            return
        allowed = unit_names(dimension)
        if not self.units:
            faults.add("reading-without-units", allowed=allowed)
        units: list[tuple[str, tuple[str | int, ...]]] = [(unit, ("units", i)) for i, unit in enumerate(self.units)]
        units += [
            (x.unit, (at, "unit")) for at, x in (("limit", self.limit), ("plausible", self.plausible)) if x and x.unit
        ]
        for unit, at in units:
            if unit not in allowed:
                faults.add("unit-unfit", *at, given=unit, measured=self.quantity, allowed=allowed)
        for index, phrase in enumerate(self.say):
            if "{value}" not in phrase:
                faults.add("phrase-without-value", "say", index, given=phrase)

    @property
    def phrases(self) -> tuple[str, ...]:
        """What may be said for it: its own phrases; a reading's bare value is always understood too."""
        if self.kind is Kind.READING and "{value}" not in self.say:
            return (*self.say, "{value}")
        return self.say


class Every(Written):
    """A section that becomes due after rounds of `after`: after each one (always), or after the first one, then every
    so many square metres set, and after the next round that follows a change. A failed lift makes nothing due but
    its corrective action."""

    after: Id
    always: bool = False
    first: bool = True
    every: Area | None = None
    changes: tuple[Literal["notch", "batch", "installer"], ...] = ()
    basis: Text


class Section(Written):
    """Steps that are done together, and when: at the start, at the end, when called for, or as often as `due` says.

    called: what opens it by voice; needs: sections whose latest round must be done and still good; sets: a round
    of it sets one tile; lift: a round of it is one lifted test tile, judged when its last step is done.
    """

    id: Id
    title: Text
    when: Literal["start", "called", "due", "end"]
    called: tuple[Phrase, ...] = ()
    needs: tuple[Id, ...] = ()
    due: Every | None = None
    sets: Literal["tile"] | None = None
    changes: Literal["batch"] | None = None
    steps: Annotated[tuple[Step, ...], Field(min_length=1)]

    @model_validator(mode="after")
    def _when_fits_fields(self) -> Section:
        faults = Faults()
        if (self.when == "called") != bool(self.called):
            faults.add("section-called", "called")
        if (self.when == "due") != (self.due is not None):
            faults.add("section-due", "due")
        if self.needs and self.when != "called":
            faults.add("section-needs", "needs")
        if sum(s.kind is Kind.LIFT for s in self.steps) > 1:
            faults.add("section-lifts", "steps")
        _check_phrases(faults, self.called, "called", value=False)
        measured = [s.measures for s in self.steps if s.measures]
        if measured and self.lift is None:
            faults.add("section-measures", "steps")
        if self.lift is not None and "coverage" not in measured:
            faults.add("section-lift-unmeasured", "steps")
        faults.tell()
        return self

    @property
    def lift(self) -> Step | None:
        """The step of kind lift, if this section lifts a test tile."""
        return next((s for s in self.steps if s.kind is Kind.LIFT), None)

    def step(self, step_id: str) -> Step | None:
        """The step called `step_id`, or None."""
        return next((s for s in self.steps if s.id == step_id), None)


class Tighten(Written):
    """After a failure: the next `lifts` lifts follow every tile instead of every so many square metres."""

    lifts: Annotated[int, Field(ge=1, le=50)]


class Corrective(Written):
    """What cures a failure. `then: again` repeats what failed; `then: go on` does not."""

    id: Id
    title: Text
    steps: Annotated[tuple[Step, ...], Field(min_length=1)]
    then: Literal["again", "go on"] = "again"
    tighten: Tighten | None = None


class Clock(Written):
    """A time that runs out: from the area's mortar data sheet (rule) or a fixed duration with its basis.

    ends: the section whose latest round is no longer good when time is up; corrective: what must then be done.
    """

    id: Id
    title: Text
    rule: str | None = None
    lasts: Duration | None = None
    basis: Text | None = None
    warn: Duration | None = None
    up: Text
    ends: Id | None = None
    corrective: Id | None = None

    @model_validator(mode="after")
    def _rule_or_duration(self) -> Clock:
        faults = Faults()
        if (self.rule is None) == (self.lasts is None):
            faults.add("clock-rule-or-lasts")
        if self.rule is not None and self.rule not in rules.DURATIONS:
            faults.add("rule-unknown", "rule", given=self.rule, allowed=sorted(rules.DURATIONS))
        if self.lasts is not None and self.basis is None:
            faults.add("clock-without-basis")
        faults.tell()
        return self


class Condition(Written):
    """True when a fact of the area, computed by trade/, lies over a limit."""

    fact: str
    over: float
    unit: str
    basis: Text

    @model_validator(mode="after")
    def _known(self) -> Condition:
        faults = Faults()
        if self.fact not in rules.FACTS:
            faults.add("fact-unknown", "fact", given=self.fact, allowed=sorted(rules.FACTS))
        elif self.unit not in (allowed := unit_names(rules.FACTS[self.fact].dimension)):
            faults.add("unit-unfit", "unit", given=self.unit, measured=self.fact, allowed=allowed)
        faults.tell()
        return self


class Caution(Written):
    """A warning that is spoken and must be acknowledged before work goes on.

    before: "area", or the id of a section or step; only_if: a computed condition.
    again: acknowledged once an area, or once each time a new round of the section begins.
    """

    id: Id
    before: str
    text: Text
    basis: Text
    only_if: Condition | None = None
    again: Literal["area", "round"] = "area"


class Finish(Written):
    """What an area needs before its end section opens."""

    lifts_at_least: int | Literal["least lifts"] = "least lifts"
    call: tuple[Phrase, ...] = ("finish area",)


class Checklist(Written):
    """One kind of area: the settings it serves, cautions, clocks, sections in order, corrective actions."""

    checklist: Id
    edition: Annotated[int, Field(ge=1)]
    title: Text
    place: Literal["dry", "wet", "exterior"]
    surface: Literal["wall", "floor"]
    products: Annotated[tuple[Literal["tile", "natural stone", "gauged panel"], ...], Field(min_length=1)]
    cautions: tuple[Caution, ...] = ()
    clocks: tuple[Clock, ...] = ()
    sections: Annotated[tuple[Section, ...], Field(min_length=1)]
    correctives: tuple[Corrective, ...] = ()
    finish: Finish = Finish()

    @model_validator(mode="after")
    def _references_hold(self) -> Checklist:
        faults = Faults()
        sections = {s.id for s in self.sections}
        correctives = {c.id for c in self.correctives}
        clocks = {c.id for c in self.clocks}
        faults.twice("section", [s.id for s in self.sections], "sections")
        faults.twice("clock", [c.id for c in self.clocks], "clocks")
        faults.twice("caution", [c.id for c in self.cautions], "cautions")
        faults.twice("corrective action", [c.id for c in self.correctives], "correctives")
        for index, each in enumerate(self.correctives):
            if each.id in sections:
                faults.add("id-twice", "correctives", index, "id", what="section or corrective action", given=each.id)
        for index, holder in enumerate(self.holders):
            place = index - len(self.sections)
            at = ("sections", index) if place < 0 else ("correctives", place)
            _check_steps(faults, holder, at, correctives, clocks)
        for index, section in enumerate(self.sections):
            for number, need in enumerate(section.needs):
                faults.names(need, sections, "sections", index, "needs", number)
            if section.due is not None:
                faults.names(section.due.after, sections, "sections", index, "due", "after")
        for index, clock in enumerate(self.clocks):
            faults.names(clock.ends, sections, "clocks", index, "ends")
            faults.names(clock.corrective, correctives, "clocks", index, "corrective")
        places = {"area", *sections, *(step.id for _, step in self.all_steps())}
        for index, caution in enumerate(self.cautions):
            faults.names(caution.before, places, "cautions", index, "before")
        faults.tell()
        return self

    def all_steps(self) -> Iterator[tuple[str, Step]]:
        """Every step with the id of the section or corrective that holds it, in file order."""
        for holder in self.holders:
            for step in holder.steps:
                yield holder.id, step

    @property
    def holders(self) -> tuple[Section | Corrective, ...]:
        """Everything that holds steps, in file order."""
        return (*self.sections, *self.correctives)

    def section(self, section_id: str) -> Section | None:
        """The section called `section_id`, or None."""
        return next((s for s in self.sections if s.id == section_id), None)

    def corrective(self, corrective_id: str) -> Corrective | None:
        """The corrective action called `corrective_id`, or None."""
        return next((c for c in self.correctives if c.id == corrective_id), None)

    def clock(self, clock_id: str) -> Clock | None:
        """The clock called `clock_id`, or None."""
        return next((c for c in self.clocks if c.id == clock_id), None)

    def caution(self, caution_id: str) -> Caution | None:
        """The caution called `caution_id`, or None."""
        return next((c for c in self.cautions if c.id == caution_id), None)

    def holder(self, holder_id: str) -> Section | Corrective:
        """The section or corrective action called `holder_id`; KeyError when there is none."""
        found = self.section(holder_id) or self.corrective(holder_id)
        if found is None:
            raise KeyError(holder_id)
        return found

    def step(self, holder_id: str, step_id: str) -> Step:
        """A step by its place; KeyError when there is none."""
        for step in self.holder(holder_id).steps:
            if step.id == step_id:
                return step
        raise KeyError(f"{holder_id}/{step_id}")


def _check_phrases(faults: Faults, phrases: tuple[str, ...], *at: str | int, value: bool) -> None:
    """value: {value} may stand in them."""
    for index, phrase in enumerate(phrases):
        if not _SPOKEN.match(phrase) or (not value and "{value}" in phrase):
            reading = ", with {value} where the reading goes" if value else ""
            faults.add("phrase-unspeakable", *at, index, given=phrase, reading=reading)


def _check_steps(
    faults: Faults, holder: Section | Corrective, at: tuple[str | int, ...], correctives: set[str], clocks: set[str]
) -> None:
    ids = [step.id for step in holder.steps]
    for index, step in enumerate(holder.steps):
        here = (*at, "steps", index)
        if step.id in ids[:index]:
            faults.add("id-twice", *here, "id", what="step", given=step.id)
        faults.names(step.on_fail, correctives, *here, "on_fail")
        faults.names(step.starts, clocks, *here, "starts")
        faults.names(step.stops, clocks, *here, "stops")
        judged_by_lift = isinstance(holder, Section) and holder.lift is not None and step.measures is not None
        judged = (step.limit is not None or any(o.fails for o in step.options)) and not judged_by_lift
        if (judged or step.kind is Kind.LIFT) and step.on_fail is None:
            faults.add("step-without-on-fail", *here)
