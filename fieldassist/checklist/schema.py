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
from fieldassist.checklist.fields import Area, Duration, unit_names
from fieldassist.checklist.plan import Role, Text, Written
from fieldassist.trade import catalog, quantities

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
        numbers = self.at_least is not None or self.at_most is not None
        if self.calculation is not None:
            if numbers or self.unit or self.basis or self.rule:
                raise ValueError("a limit is numbers, a rule or a calculation, not several of them")
            if self.result is None:
                raise ValueError("a limit by calculation names the result that is the limit: result: greatest gap")
            catalog.find_calculation(self.calculation)
            return self
        if self.given or self.result:
            raise ValueError("given and result belong to a limit by calculation")
        if self.rule is not None:
            if numbers or self.unit or self.basis:
                raise ValueError("a limit is either a rule or numbers with unit and basis, not both")
            if self.rule not in rules.LIMITS:
                raise ValueError(f"no rule is called {self.rule!r}; allowed: {', '.join(sorted(rules.LIMITS))}")
        else:
            if not numbers:
                raise ValueError("a limit needs at_least, at_most or rule")
            if self.unit is None:
                raise ValueError("a limit in numbers needs its unit")
            if self.basis is None:
                raise ValueError(
                    "a limit in numbers needs its basis: the document and clause, "
                    "or 'common practice, no published source'"
                )
            quantities.unit_info(self.unit)
            if None not in (self.at_least, self.at_most) and self.at_least > self.at_most:  # type: ignore[operator]
                raise ValueError(f"at_least {self.at_least} lies above at_most {self.at_most}: nothing could pass")
        return self


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
        where = f"step {self.id!r}"
        for phrase in (*self.say, *(p for o in self.options for p in o.say)):
            if not _SPOKEN.match(phrase):
                raise ValueError(
                    f"{where}: say {phrase!r} must be lower-case words as they are spoken, "
                    "with {value} where the reading goes"
                )
        if self.kind is Kind.READING:
            self._check_reading(where)
        else:
            for field in ("limit", "plausible"):
                if getattr(self, field) is not None:
                    raise ValueError(f"{where}: only a reading has {field!r}; this step's kind is {self.kind!r}")
            if self.quantity is not None and not (self.kind is Kind.LIFT and self.quantity == "label"):
                raise ValueError(f"{where}: only a reading has a quantity (a lift may have 'label')")
            if self.quantity is None and any("{value}" in p for p in self.say):
                raise ValueError(f"{where}: {{value}} stands only in the phrases of a reading")
            if self.kind is not Kind.CHOICE and not self.say:
                raise ValueError(f"{where}: 'say' lists the words that answer it; at least one phrase is needed")
        if (self.kind is Kind.CHOICE) != bool(self.options):
            raise ValueError(f"{where}: options belong to kind 'choice', and a choice needs at least one")
        if self.kind is Kind.CHOICE and self.say:
            raise ValueError(f"{where}: the phrases of a choice stand at its options")
        if self.kind is Kind.HOLD and self.by is None:
            raise ValueError(f"{where}: a hold point names who releases it: by: foreman")
        return self

    def _check_reading(self, where: str) -> None:
        if self.quantity not in QUANTITIES:
            raise ValueError(f"{where}: quantity {self.quantity!r}; allowed: {', '.join(QUANTITIES)}")
        dimension = QUANTITIES[self.quantity][0]
        if dimension == "name":
            if self.units or self.limit or self.plausible:
                raise ValueError(f"{where}: a label has neither units nor limits")
            return
        allowed = unit_names(dimension)
        if not self.units:
            raise ValueError(f"{where}: a reading lists its units, the usual one first; allowed: {', '.join(allowed)}")
        for unit in (
            *self.units,
            *(x.unit for x in (self.limit, self.plausible) if x is not None and x.unit),
        ):
            if unit not in allowed:
                raise ValueError(
                    f"{where}: unit {unit!r} does not measure {self.quantity}; allowed: {', '.join(allowed)}"
                )
        for phrase in self.say:
            if "{value}" not in phrase:
                raise ValueError(f"{where}: say {phrase!r} has no {{value}} for the reading")

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
        where = f"section {self.id!r}"
        if (self.when == "called") != bool(self.called):
            raise ValueError(f"{where}: 'called' lists the words that open a section with when: called")
        if (self.when == "due") != (self.due is not None):
            raise ValueError(f"{where}: 'due' belongs to when: due, and is needed there")
        if self.needs and self.when != "called":
            raise ValueError(f"{where}: only a called section has needs")
        if sum(s.kind is Kind.LIFT for s in self.steps) > 1:
            raise ValueError(f"{where}: one lift a round")
        for phrase in self.called:
            if not _SPOKEN.match(phrase) or "{value}" in phrase:
                raise ValueError(f"{where}: called {phrase!r} must be lower-case words as they are spoken")
        measured = [s.measures for s in self.steps if s.measures]
        if measured and self.lift is None:
            raise ValueError(f"{where}: 'measures' belongs to a section with a step of kind lift")
        if self.lift is not None and "coverage" not in measured:
            raise ValueError(f"{where}: a lift needs a reading that measures: coverage")
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
        if (self.rule is None) == (self.lasts is None):
            raise ValueError(f"clock {self.id!r}: give either a rule or lasts")
        if self.rule is not None and self.rule not in rules.DURATIONS:
            raise ValueError(
                f"clock {self.id!r}: no rule is called {self.rule!r}; allowed: {', '.join(sorted(rules.DURATIONS))}"
            )
        if self.lasts is not None and self.basis is None:
            raise ValueError(f"clock {self.id!r}: a fixed duration needs its basis")
        return self


class Condition(Written):
    """True when a fact of the area, computed by trade/, lies over a limit."""

    fact: str
    over: float
    unit: str
    basis: Text

    @model_validator(mode="after")
    def _known(self) -> Condition:
        if self.fact not in rules.FACTS:
            raise ValueError(f"no fact is called {self.fact!r}; allowed: {', '.join(sorted(rules.FACTS))}")
        dimension = rules.FACTS[self.fact].dimension
        if self.unit not in unit_names(dimension):
            raise ValueError(
                f"unit {self.unit!r} does not measure {self.fact}; allowed: {', '.join(unit_names(dimension))}"
            )
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
        sections = {s.id for s in self.sections}
        correctives = {c.id for c in self.correctives}
        clocks = {c.id for c in self.clocks}
        _unique("section or corrective", [*(s.id for s in self.sections), *(c.id for c in self.correctives)])
        _unique("clock", [c.id for c in self.clocks])
        _unique("caution", [c.id for c in self.cautions])
        places = {"area", *sections, *(step.id for _, step in self.all_steps())}
        for holder, step in self.all_steps():
            at = f"step {step.id!r} of {holder!r}"
            _refer(f"{at}: on_fail", step.on_fail, correctives)
            _refer(f"{at}: starts", step.starts, clocks)
            _refer(f"{at}: stops", step.stops, clocks)
            section = self.section(holder)
            criterion = step.limit is not None or any(o.fails for o in step.options)
            judged_by_lift = section is not None and section.lift is not None and step.measures is not None
            if criterion and step.on_fail is None and not judged_by_lift:
                raise ValueError(f"{at} has a limit but no on_fail: say which corrective action cures a failure")
            if step.kind is Kind.LIFT and step.on_fail is None:
                raise ValueError(f"{at}: a lift needs on_fail: say which corrective action cures a failure")
        for holding in self.holders:
            _unique(f"step of {holding.id!r}", [s.id for s in holding.steps])
        for each in self.sections:
            for need in each.needs:
                _refer(f"section {each.id!r}: needs", need, sections)
            if each.due is not None:
                _refer(f"section {each.id!r}: due.after", each.due.after, sections)
        for clock in self.clocks:
            _refer(f"clock {clock.id!r}: ends", clock.ends, sections)
            _refer(f"clock {clock.id!r}: corrective", clock.corrective, correctives)
        for caution in self.cautions:
            _refer(f"caution {caution.id!r}: before", caution.before, places)
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


def _unique(what: str, names: list[str]) -> None:
    twice = sorted({n for n in names if names.count(n) > 1})
    if twice:
        raise ValueError(f"{what} {twice[0]!r} stands twice; ids must differ")


def _refer(where: str, name: str | None, allowed: set[str]) -> None:
    if name is not None and name not in allowed:
        raise ValueError(
            f"{where} names {name!r}, which this file does not hold; allowed: {', '.join(sorted(allowed))}"
        )
