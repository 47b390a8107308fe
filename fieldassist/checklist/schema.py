"""The shape of a checklist file. Every field is described where it stands; `loader` adds file and line to errors.

Words are those of inspection and test plans: step, hold point, acceptance criterion, non-conformance,
corrective action.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Annotated, Any, Literal

from pydantic import Field, model_validator

from fieldassist.checklist import rules
from fieldassist.checklist.faults import Faults, refused
from fieldassist.checklist.fields import DurationGiven, EveryGiven, FaceArea, unit_names
from fieldassist.checklist.kinds import Confirm, Lift, Reading, Step
from fieldassist.checklist.kinds.base import Id, check_phrases
from fieldassist.checklist.lots import LotsGiven
from fieldassist.checklist.offers import Weather
from fieldassist.checklist.plan import Written
from fieldassist.checklist.wording import WRITTEN_IN, Phrases, Wording, in_language

TimeOfDay = Literal["midday", "end"]


class Every(Written):
    """A section that becomes due after rounds of `after`: after each one (always), or after the first one, then every
    so many square metres set, and after the next round that follows a change. A failed lift makes nothing due but
    its corrective action.

    lots: a lift that is drawn by lot after the tile is set, one in so many tiles, square metres or rows (`lots`), and
    that is due besides for the first of a run, the last of an old batch and the last of a run. Lifts that are due every
    so many square metres lie at known places: nothing is proven by them.

    every: so many square metres, or "row": once each place of a row of the plan's grid is set, and at the end of the
    area for the row that was begun; where the plan has no grid, every `without_grid` square metres.

    A round that is due waits: it blocks nothing, and one look serves all that was set meanwhile. Only lifts, tiles to
    be put back and what is due always wait each by itself.
    """

    after: Id
    always: bool = False
    first: bool = True
    every: EveryGiven | None = None
    without_grid: FaceArea | None = None
    changes: tuple[Literal["method", "batch", "setter"], ...] = ()
    lots: LotsGiven | None = None
    basis: Wording

    @model_validator(mode="after")
    def _lots_stand_alone(self) -> Every:
        if self.lots is not None and (self.always or self.every is not None or self.changes):
            raise refused("lots-mixed")
        if (self.every == "row") != (self.without_grid is not None):
            raise refused("every-row")
        return self


@dataclass(frozen=True, slots=True)
class Counting:
    """The two steps that are called of tiles that are counted: mortar is spread for them, and they are in."""

    spread: Confirm
    tiles_in: Confirm


class Section(Written):
    """Steps that are done together, and when: at the start, at the end, when called for, or as often as `due` says.

    called: what opens it by voice; needs: sections whose latest round must be done and still good; sets: a round
    of it sets one tile; lift: a round of it is one lifted test tile, judged when its last step is done; puts_back: a
    round of it puts the tile that was lifted last back, into the same mortar or (set again) into new; again: a start
    section comes again, between the first rounds after noon, or before the end sections; anytime: a called section
    that may be opened during another one, and that may have no steps: calling it is all, and `noted` answers; or a due
    one that the answer to its first step opens during another one; tries: a round of it makes one sample of the area's
    trial, which is looked at in the step of this id, and can be called spoiled until then.
    """

    id: Id
    title: Wording
    when: Literal["start", "called", "due", "end"]
    called: Phrases = Field(default_factory=dict)
    needs: tuple[Id, ...] = ()
    due: Every | None = None
    sets: Literal["tile"] | None = None
    puts_back: Literal["put back", "set again"] | None = None
    tries: Id | None = None
    changes: Literal["batch"] | None = None
    again: tuple[TimeOfDay, ...] = ()
    anytime: bool = False
    noted: Wording | None = None
    steps: tuple[Step, ...] = ()

    @model_validator(mode="after")
    def _when_fits_fields(self) -> Section:
        faults = Faults()
        if (self.when == "called") != any(self.called.values()):
            faults.add("section-called", "called")
        if (self.when == "due") != (self.due is not None):
            faults.add("section-due", "due")
        if self.needs and self.when != "called":
            faults.add("section-needs", "needs")
        if self.again and self.when != "start":
            faults.add("section-again", "again")
        if self.anytime and not self._at_any_time:
            faults.add("section-anytime", "anytime")
        if self.due is not None and self.due.every == "row" and self.lift is not None:
            faults.add("every-row", "due", "every")
        if not self.steps and not (self.anytime and self.when == "called"):
            faults.add("section-empty", "steps")
        if any(isinstance(s, Reading) and s.batch for s in self.steps) and self.when != "called":
            faults.add("section-batch", "steps")
        if sum(isinstance(s, Lift) for s in self.steps) > 1:
            faults.add("section-lifts", "steps")
        check_phrases(faults, self.called, "called", value=False)
        if self.due is not None and self.due.lots is not None and self.lift is None:
            faults.add("lots-without-lift", "due", "lots")
        if any(s.calls == "after a change" for s in self.steps) and self.counting is None:
            faults.add("section-counting", "steps")
        if self.counting is None:
            for index, step in enumerate(self.steps):
                if isinstance(step, Confirm) and any(step.number.values()):
                    faults.add("step-number", "steps", index, "number")
        measured = [s.measures for s in self.steps if s.measures]
        if measured and not self.shows:
            faults.add("section-measures", "steps")
        if self.tries is not None:
            if self.when != "called" or self.sets or self.lift is not None or "coverage" not in measured:
                faults.add("section-tries", "tries")
            faults.names(self.tries, [s.id for s in self.steps], "tries")
        for index, step in enumerate(self.steps):
            of_samples = step.only is not None or (isinstance(step, Reading) and step.reader is not None)
            if of_samples and self.tries is None:
                faults.add("step-only", "steps", index)
        if self.lift is not None and "coverage" not in measured:
            faults.add("section-lift-unmeasured", "steps")
        faults.tell()
        return self

    @property
    def _at_any_time(self) -> bool:
        """Whether it can be opened at any time: by its call, or a due one by the answer to its first step."""
        if self.when == "called":
            return not (self.needs or self.sets or self.changes)
        spoken = bool(self.steps) and any(self.steps[0].spoken.values())
        return self.when == "due" and spoken and self.lift is None and self.puts_back is None

    @property
    def lift(self) -> Lift | None:
        """The step of kind lift, if this section lifts a test tile."""
        return next((s for s in self.steps if isinstance(s, Lift)), None)

    @property
    def shows(self) -> bool:
        """Whether what is read here is read off a back: of a lifted tile, or of a sample. That is told in any order, in
        one breath and with one yes."""
        return self.lift is not None or self.tries is not None

    @property
    def counting(self) -> Counting | None:
        """How tiles are counted here, between those that are called step by step; None where none are.

        Two steps are called for every tile then, and say of how many they tell: the mortar is spread, the tiles are in.
        """
        every = [s for s in self.steps if s.calls == "every round"]
        if self.sets is None or len(every) != 2 or len(every) == len(self.steps):
            return None
        spread, tiles_in = every
        if not (isinstance(spread, Confirm) and isinstance(tiles_in, Confirm)):
            return None
        return Counting(spread, tiles_in) if any(spread.number.values()) and any(tiles_in.number.values()) else None

    def call(self, language: str = WRITTEN_IN) -> str | None:
        """The first phrase that opens it by voice."""
        return next(iter(in_language(self.called, language)), None)


class Tighten(Written):
    """After a failure: the next `lifts` lifts follow every tile instead of every so many square metres."""

    lifts: Annotated[int, Field(ge=1, le=50)]


class Corrective(Written):
    """What cures a failure. `then: again` repeats what failed; `then: go on` does not.

    Without steps, what failed is itself repeated until it is good: a mortar that stands on.
    """

    id: Id
    title: Wording
    steps: tuple[Step, ...] = ()
    then: Literal["again", "go on"] = "again"
    tighten: Tighten | None = None

    @model_validator(mode="after")
    def _cures_something(self) -> Corrective:
        faults = Faults()
        if not self.steps and self.then != "again":
            faults.add("corrective-empty", "steps")
        faults.tell()
        return self


class ClockRule(Written):
    """A time that runs: from the area's mortar data sheet (rule) or a fixed duration with its basis.

    bound: "at most", a time that runs out (open time); "at least", one that must be over before the step that stops it
    (slake) or waits for it (cure). ends: the section whose latest round is no longer good when time is up; corrective:
    what must be done when it ran out, or when what it is for was done too early; late: what is said where what stops it
    was done in time and the hands were full: the reason follows.
    """

    id: Id
    title: Wording
    rule: str | None = None
    lasts: DurationGiven | None = None
    basis: Wording | None = None
    bound: Literal["at most", "at least"] = "at most"
    warn: DurationGiven | None = None
    up: Wording
    ends: Id | None = None
    corrective: Id | None = None
    late: Phrases = Field(default_factory=dict)

    @model_validator(mode="after")
    def _rule_or_duration(self) -> ClockRule:
        faults = Faults()
        if (self.rule is None) == (self.lasts is None):
            faults.add("clock-rule-or-lasts")
        if self.rule is not None and self.rule not in rules.DURATIONS:
            faults.add("rule-unknown", "rule", given=self.rule, allowed=sorted(rules.DURATIONS))
        if self.lasts is not None and self.basis is None:
            faults.add("clock-without-basis")
        if self.bound == "at least" and (self.ends or self.warn or any(self.late.values())):
            faults.add("clock-at-least", "ends" if self.ends else "warn" if self.warn else "late")
        check_phrases(faults, self.late, "late", value=False)
        faults.tell()
        return self


class OnlyIf(Written):
    """True when a fact of the area, computed by trade/, lies over a limit."""

    fact: str
    over: float
    unit: str
    basis: Wording

    @model_validator(mode="after")
    def _known(self) -> OnlyIf:
        faults = Faults()
        if self.fact not in rules.FACTS:
            faults.add("fact-unknown", "fact", given=self.fact, allowed=sorted(rules.FACTS))
        elif self.unit not in (allowed := unit_names(rules.FACTS[self.fact].dimension)):
            faults.add("unit-unfit", "unit", given=self.unit, measured=self.fact, allowed=allowed)
        faults.tell()
        return self


class Caution(Written):
    """A warning that is spoken and must be acknowledged before work goes on, once a person and day and after a break.

    before: "area", or the id of a section or step; only_if: a computed condition.
    answered_by: "going on" shows it again at each further round, and the phrase that begins what it stands before
    answers it there.
    """

    id: Id
    before: str
    text: Wording
    basis: Wording
    only_if: OnlyIf | None = None
    answered_by: Literal["understood", "going on"] = "understood"

    @model_validator(mode="before")
    @classmethod
    def _as_it_was_written(cls, given: Any) -> Any:
        """A checklist in a log of before says `again: round` of a caution that comes with each round."""
        if not isinstance(given, Mapping) or given.get("again") not in ("area", "round"):
            return given
        rest = {name: value for name, value in given.items() if name != "again"}
        return rest | {"answered_by": "going on"} if given["again"] == "round" else rest


def _finish_call() -> dict[str, tuple[str, ...]]:
    return {WRITTEN_IN: ("finish area",)}


class Finish(Written):
    """What an area needs before its end section opens."""

    lifts_at_least: int | Literal["least lifts"] = "least lifts"
    call: Phrases = Field(default_factory=_finish_call)


class StopsWork(Written):
    """Weather in which nothing is set: noting it stops the work of an area, and the corrective action goes first."""

    weather: Annotated[tuple[Weather, ...], Field(min_length=1)]
    corrective: Id
    basis: Wording


class Checklist(Written):
    """One kind of area: the settings it serves, cautions, clocks, sections in order, corrective actions.

    fastest_tile: what is set sooner than that was not set step by step; voids_at_most: more voids as large as the
    largest a square metre [1/m2] are not believed of one tile. Both only ask: common practice, no published source.
    """

    checklist: Id
    edition: Annotated[int, Field(ge=1)]
    title: Wording
    place: Literal["dry", "wet", "exterior"]
    surface: Literal["wall", "floor"]
    products: Annotated[tuple[Literal["tile", "natural stone", "gauged panel"], ...], Field(min_length=1)]
    cautions: tuple[Caution, ...] = ()
    clocks: tuple[ClockRule, ...] = ()
    sections: Annotated[tuple[Section, ...], Field(min_length=1)]
    correctives: tuple[Corrective, ...] = ()
    finish: Finish = Finish()
    stops_work: StopsWork | None = None
    fastest_tile: DurationGiven | None = None
    voids_at_most: Annotated[int, Field(ge=1)] | None = None

    @model_validator(mode="after")
    def _references_hold(self) -> Checklist:
        faults = Faults()
        sections = {s.id for s in self.sections}
        correctives = {c.id for c in self.correctives}
        faults.twice([s.id for s in self.sections], "sections")
        faults.twice([c.id for c in self.clocks], "clocks")
        faults.twice([c.id for c in self.cautions], "cautions")
        faults.twice([c.id for c in self.correctives], "correctives")
        for index, each in enumerate(self.correctives):
            if each.id in sections:
                faults.add("id-twice", "correctives", index, "id", given=each.id)
        for index, holder in enumerate(self.holders):
            place = index - len(self.sections)
            at = ("sections", index) if place < 0 else ("correctives", place)
            _check_steps(faults, holder, at, correctives, self)
        if len(mixed := [index for index, s in enumerate(self.sections) if s.changes == "batch"]) > 1:
            faults.add("sections-batch", "sections", mixed[1], "changes")
        for index, section in enumerate(self.sections):
            for number, need in enumerate(section.needs):
                faults.names(need, sections, "sections", index, "needs", number)
            if section.due is not None:
                faults.names(section.due.after, sections, "sections", index, "due", "after")
        for index, clock in enumerate(self.clocks):
            faults.names(clock.ends, sections, "clocks", index, "ends")
            faults.names(clock.corrective, correctives, "clocks", index, "corrective")
        if self.stops_work is not None:
            faults.names(self.stops_work.corrective, correctives, "stops_work", "corrective")
            stop = self.corrective(self.stops_work.corrective)
            if stop is not None and (stop.then != "go on" or not stop.steps):
                faults.add("stops-work-corrective", "stops_work", "corrective", given=stop.id)
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

    @property
    def mixing(self) -> Section | None:
        """The section in which a batch is mixed, or None."""
        return next((s for s in self.sections if s.changes == "batch"), None)

    @property
    def lift_section(self) -> Section | None:
        """The section that lifts a tile, the first in the file; None where none is lifted."""
        return next((s for s in self.sections if s.lift is not None), None)

    @property
    def counted_section(self) -> Section | None:
        """The section whose tiles may be counted, the first in the file; None where all are called step by step."""
        return next((s for s in self.sections if s.counting is not None), None)

    @property
    def trying(self) -> Section | None:
        """The section that makes samples of a trial, or None."""
        return next((s for s in self.sections if s.tries is not None), None)

    def corrective(self, corrective_id: str) -> Corrective | None:
        """The corrective action called `corrective_id`, or None."""
        return next((c for c in self.correctives if c.id == corrective_id), None)

    def clock(self, clock_id: str) -> ClockRule | None:
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


def _check_steps(
    faults: Faults, holder: Section | Corrective, at: tuple[str | int, ...], correctives: set[str], within: Checklist
) -> None:
    clocks = {c.id for c in within.clocks}
    waited_for = {c.id for c in within.clocks if c.bound == "at least"}
    mixed = {s.id for s in within.sections if s.changes == "batch"}
    ids = [step.id for step in holder.steps]
    for index, step in enumerate(holder.steps):
        here = (*at, "steps", index)
        if step.id in ids[:index]:
            faults.add("id-twice", *here, "id", given=step.id)
        faults.names(step.on_fail, correctives, *here, "on_fail")
        for number, started in enumerate(step.starts):
            faults.names(started, clocks, *here, "starts", number)
        faults.names(step.stops, clocks, *here, "stops")
        faults.names(step.after, waited_for, *here, "after")
        for number, need in enumerate(step.needs):
            faults.names(need, mixed, *here, "needs", number)
        stopped = within.clock(step.stops) if step.stops is not None else None
        if stopped is not None and stopped.bound == "at least" and stopped.corrective is None:
            faults.add("clock-without-corrective", *here, "stops", given=stopped.id)
        judged_by_lift = isinstance(holder, Section) and holder.shows and step.measures is not None
        judged = step.judged and not judged_by_lift
        if judged and step.on_fail is None:
            faults.add("step-without-on-fail", *here)
