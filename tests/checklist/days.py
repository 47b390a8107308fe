"""Days without a disk: commands decided, events folded, and what can be answered to an offer."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass, field, replace
from datetime import datetime
from fractions import Fraction
from functools import cache
from pathlib import Path
from random import Random

from fieldassist.checklist import cautions
from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist.attempt import attempt
from fieldassist.checklist.commands import Command
from fieldassist.checklist.contradictions import surface_set
from fieldassist.checklist.draft import hindrance
from fieldassist.checklist.engine import Decision, Refusal, decide
from fieldassist.checklist.events import Event
from fieldassist.checklist.fold import apply
from fieldassist.checklist.kinds import Photo, Step
from fieldassist.checklist.loader import load_checklist, load_folder, load_plan
from fieldassist.checklist.lots import commitment
from fieldassist.checklist.moment import TYPED, Moment, Source
from fieldassist.checklist.offers import Offer, Slot
from fieldassist.checklist.plan import DayPlan, Role
from fieldassist.checklist.prompt import Prompt, prompt
from fieldassist.checklist.recorded import recorded
from fieldassist.checklist.schema import Checklist
from fieldassist.checklist.state import State
from fieldassist.checklist.witnessing import why_witnessed
from fieldassist.day.clock import SimulatedClock
from fieldassist.places import shipped
from fieldassist.trade.message import Refused
from fieldassist.trade.quantities import System, convert_exact, unit_info
from tests import SITE

MORNING = datetime.fromisoformat("2026-03-17T06:45:00+01:00")
SEED = "5eed" * 16  # of the lots of every day here
PHOTO = cmd.AttachPhoto(file="0123456789abcdef.jpg", sha256="0" * 64)


@cache
def all_checklists() -> dict[str, Checklist]:
    """The shipped ones, one with every kind of step, and one whose tiles are lifted by lot."""
    good, _ = load_folder(shipped("checklists"))
    mine = [load_checklist(Path(__file__).parent / f"{name}.yaml") for name in ("every-kind", "by-lot")]
    return {**good, **{one.checklist: one for one in mine}}


@cache
def site(units: System) -> DayPlan:
    """The demo's site in a system of units, with two areas more and an owner: the attic, in which every kind of step
    comes, and the porch, whose tiles are lifted by lot."""
    plan = load_plan(SITE)
    first = plan.areas[0]
    attic = first.model_copy(update={"name": "attic", "checklist": "every-kind"})
    porch = first.model_copy(update={"name": "porch", "checklist": "by-lot"})
    crew = (*plan.crew, plan.crew[0].model_copy(update={"name": "nour", "role": Role.OWNER}))
    given = plan.model_dump(mode="json") | {
        "units": units,
        "areas": [area.model_dump(mode="json") for area in (*plan.areas, attic, porch)],
        "crew": [person.model_dump(mode="json") for person in crew],
    }
    return DayPlan.model_validate(given)


@dataclass
class Sent:
    """A command as it was sent: when, and under which id."""

    command: Command
    at: Moment
    id: str


@dataclass
class Bench:
    """A day on a bench: no disk, a clock that is moved by hand. source: how what is done comes to it; pace: minutes
    that pass before each command by themselves."""

    clock: SimulatedClock = field(default_factory=lambda: SimulatedClock(MORNING))
    state: State = field(default_factory=State)
    events: list[Event] = field(default_factory=list)
    sent: list[Sent] = field(default_factory=list)
    source: Source = TYPED
    pace: float = 0.0

    @classmethod
    def begun(cls, units: System = "metric", plan: DayPlan | None = None) -> Bench:
        """A day of `site`, or of another plan, with nothing done."""
        bench = cls()
        checklists = tuple(all_checklists().values())
        opened = bench.do(cmd.OpenDay(plan=plan or site(units), checklists=checklists, lots=commitment(SEED)))
        assert isinstance(opened, Decision), opened
        return bench

    @property
    def prompt(self) -> Prompt:
        return prompt(self.state, self.clock.now())

    @property
    def waiting_cautions(self) -> tuple[cautions.DueCaution, ...]:
        """The cautions that wait to be acknowledged where the day is."""
        area = self.state.area
        return cautions.due(self.state, area, self.clock.now()) if area is not None else ()

    def do(self, command: Command) -> Decision | Refusal:
        """Decide a command; a refusal is written down as a day writes it."""
        self.clock.advance(self.pace)
        now, name = self.clock.now(), f"c{len(self.sent)}"
        self.sent.append(Sent(command, now, name))
        came = decide(self.state, command, now, name, self.source, lot_seed=SEED)
        if isinstance(came, Decision):
            for event in came.events:
                self.add(event)
        elif self.state.plan is not None and not self.state.closed:
            body = ev.CommandRefused(area=self.state.active, attempt=attempt(self.state, command), reason=came.why)
            by = self.state.speaker.name if self.state.speaker else ""
            asked = None
            with suppress(Refused):
                asked = recorded(command, refused=True)
            seq = self.state.last_seq + 1
            self.add(Event(seq=seq, id=f"{name}.0", at=now, by=by, source=TYPED, body=body, command=asked))
        return came

    def add(self, event: Event) -> None:
        self.state = apply(self.state, event)
        self.events.append(event)

    def take(self, command: Command) -> Decision:
        """A command that must be taken."""
        came = self.do(command)
        assert isinstance(came, Decision), f"{command}: {came}"
        return came

    def speak(self, name: str) -> None:
        self.take(cmd.SpeakAs(name=name))

    # --- answers --------------------------------------------------------------------------------------------------

    def next_answer(self, *, fail: bool = False) -> Command | None:
        """What takes the day on from here: a yes, an acknowledgement, a photo, the step's own good (or failing) answer.

        None between rounds and where nothing can be done. At a step of another role, that role begins to speak; where
        a time must be over, it passes; where a batch is lacking, it is mixed; where it rains, it stops.
        """
        state, area = self.state, self.state.area
        if state.pending is not None:
            return cmd.Keep()
        if area is None or area.step is None:
            return None
        if self.waiting_cautions:
            return cmd.AcknowledgeCaution()
        if area.step.by is not None and (state.speaker is None or state.speaker.role is not area.step.by):
            assert state.plan is not None
            return cmd.SpeakAs(name=next(p.name for p in state.plan.crew if p.role is area.step.by))
        if (lacking := area.lacks(area.step)) is not None:
            return cmd.StartRound(section=lacking)
        if not fail:
            self.let_pass(area.step)
        if hindrance(state, area, self.clock.now()) is not None:
            return cmd.GoOnEarly(reason="it is hard") if area.waits_for(area.step) else cmd.NoteWeather(text="cloudy")
        if isinstance(area.step, Photo):
            return PHOTO
        answers = [o for o in self.prompt.answers if not isinstance(o.command, cmd.Withdraw)]
        wanted = next((o for o in answers if _fails(self, o) is fail), answers[0])
        return wanted.command if wanted.slot is None else filled(wanted, self._value(wanted.slot, fail))

    def let_pass(self, step: Step) -> None:
        """Wait for the least times that a step waits for or is judged by."""
        assert self.state.area is not None
        least = {c.id for c in self.state.area.checklist.clocks if c.bound == "at least"}
        waits = [run for run in self.state.area.progress.clocks if run.clock in least & {step.after, step.stops}]
        self.clock.advance(max([0.0, *(run.left(self.clock.now()) for run in waits)]))

    def _value(self, slot: Slot, fail: bool) -> Fraction:
        area = self.state.area
        assert area is not None
        assert area.step is not None
        criterion = area.criterion(area.step)
        unit = slot.units[0] if slot.units else "count"
        if criterion is None:
            middle = Fraction(slot.low + slot.high) / 2
            return convert_exact(middle.limit_denominator(10), unit_info(unit).canonical, unit)
        low, high = criterion.at_least, criterion.at_most
        if low is not None and high is not None:
            value = high * 2 if fail else (low + high) / 2
        elif low is not None:
            value = low / 2 if fail else low
        else:
            assert high is not None
            value = high * 2 if fail else high
        return convert_exact(value, criterion.unit, unit)

    def go_on(self, steps: int = 1000, *, fail: bool = False) -> None:
        """Answer well until nothing waits, at most so many times."""
        for _ in range(steps):
            command = self.next_answer(fail=fail)
            if command is None:
                return
            self.take(command)

    def start(self, area: str, name: str = "rosa") -> None:
        """Begin an area and do its first sections."""
        self.speak(name)
        self.take(cmd.StartArea(area=area))
        self.go_on()

    def call(self, *sections: str) -> None:
        """Call rounds, one after the other, and do each with all that it brings."""
        for section in sections:
            self.take(cmd.StartRound(section=section))
            self.go_on()

    def finish(self) -> None:
        """Begin to finish the area that is open, with the lifts that this brings; the foreman says why less is set than
        planned, where it is."""
        self.take(cmd.FinishArea())
        for _ in range(20):
            if self.state.area is None or self.state.area.progress.phase != "working" or self.next_answer() is None:
                break
            self.go_on()
            if self.state.area.finish_held:
                break
            self.take(cmd.FinishArea())
        area, speaker = self.state.area, self.state.speaker
        assert area is not None
        assert speaker is not None
        held = surface_set(area)
        if held is not None and held.id not in self.state.answers:
            self.speak("edwin")
            self.take(cmd.AnswerPoint(point=held.id, ready="fewer pieces"))
            self.speak(speaker.name)
            self.take(cmd.FinishArea())


def _fails(bench: Bench, offer: Offer) -> bool:
    """Whether an option of a choice fails; never for another offer."""
    command, area = offer.command, bench.state.area
    if not isinstance(command, cmd.Choose) or area is None:
        return False
    step = area.checklist.step(command.section, command.step)
    option = step.option(command.option) if step.kind == "choice" else None
    return option is not None and option.fails


def filled(offer: Offer, value: Fraction, unit: str | None = None) -> Command:
    """The offer's command with a value, or a name where it takes one."""
    if offer.slot is None:
        return offer.command
    if offer.slot.dimension == "name":
        return offer.fill(Fraction(0), "count", "b seven")
    if not offer.slot.heard:
        return offer.fill(Fraction(0), "count", "the lift was stuck")
    return offer.fill(value, unit or offer.slot.units[0])


def plausible(slot: Slot, dice: Random) -> tuple[Fraction, str]:
    """Any value that this step can have, in one of its units."""
    unit = dice.choice(slot.units)
    low, high = (convert_exact(Fraction(end), unit_info(unit).canonical, unit) for end in (slot.low, slot.high))
    value = Fraction(low + (high - low) * Fraction(dice.randrange(257), 256)).limit_denominator(64)
    if slot.whole:
        value = Fraction(round(value))
    return min(max(value, low), high), unit


def without_seq(state: State) -> State:
    """The state but for the number of its last event, and when anything was called last: what is refused was called."""
    return replace(state, last_seq=0, last_called=None, since_break=None)


def counted_day(seed: int, area: str = "shower wall") -> Bench:
    """A day on which tiles are witnessed after each change and counted in between.

    Two setters, mortar spread with and without a number, some of it skinned, a lift that fails and whose tile is set
    again, some tiles called in one breath.
    """
    dice = Random(seed)
    bench = Bench.begun(dice.choice(("metric", "us")))
    bench.start(area)
    bench.call("batch")
    for turn in range(9):
        bench.clock.advance(dice.choice((1, 3, 8)))
        _set_some(bench, dice, fail=turn == 4, skin=turn == 7)
        if turn == 5:
            bench.take(cmd.SetterIs(name="otto"))
    return bench


def _set_some(bench: Bench, dice: Random, *, fail: bool, skin: bool) -> None:
    """One tile step by step where something changed, or mortar for some and so many of them in."""
    here = bench.state.area
    assert here is not None
    if not here.most_at_once:
        return
    if not here.progress.batch:
        bench.call("batch")
        here = bench.state.areas[here.plan.name]
    if why_witnessed(here, bench.clock.now()):
        bench.source = TYPED.model_copy(update={"together": dice.choice((0, 7))})
        bench.take(cmd.StartRound(section="tile"))
        bench.go_on()
        bench.source = TYPED
        return
    tiles = min(dice.choice((2, 3)), here.most_at_once) if dice.random() < 0.6 else None
    bench.take(cmd.SpreadMortar(section="tile", tiles=tiles))
    bench.clock.advance(25 if skin else dice.choice((2, 5)))
    bench.do(cmd.Tick())
    if not skin:
        bench.take(cmd.TilesIn(section="tile", tiles=tiles or 1))
    bench.go_on()
    if fail:
        bench.take(cmd.AskLift())
        for _ in range(12):
            step = bench.state.area.step if bench.state.area is not None else None
            command = bench.next_answer(fail=step is not None and step.id == "coverage" and bench.state.pending is None)
            if command is None:
                break
            bench.take(command)
    bench.go_on()
