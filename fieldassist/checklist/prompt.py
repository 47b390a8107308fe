"""What to ask now and what may be said: one source for the voice, the screen's buttons and its hints."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.commands import Command
from fieldassist.checklist.events import Moment
from fieldassist.checklist.fields import canonical, write_number
from fieldassist.checklist.plan import Role
from fieldassist.checklist.schema import QUANTITIES, Checklist, Kind, Section, Step
from fieldassist.checklist.state import Area, Pending, State
from fieldassist.trade import quantities
from fieldassist.trade.quantities import System

WEATHER = ("sunny", "cloudy", "overcast", "rain", "snow", "windy", "foggy", "indoors")
UNDERSTOOD = ("understood", "acknowledged")
# Not "correct": in saw-like noise "no" and "scratch that" were heard as it.
YES = ("yes", "yes keep it")
NO = ("no", "scratch that", "wrong")
UNDO = ("scratch that", "take that back")
DONE = ("done",)
# What answers the step at hand.
_ANSWERS = (
    cmd.Keep,
    cmd.Withdraw,
    cmd.AcknowledgeCaution,
    cmd.ConfirmStep,
    cmd.GiveReading,
    cmd.Choose,
    cmd.ReleaseHold,
    cmd.StartRound,
    cmd.FinishArea,
)


@dataclass(frozen=True, slots=True)
class Slot:
    """The value that a phrase carries: quantity, units (the usual one first) and how low and high it can be.

    low and high are in the canonical unit of the dimension.
    """

    quantity: str
    dimension: str
    units: tuple[str, ...]
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Offer:
    """One thing that may be said or tapped.

    phrases: word templates, {value} where the slot goes; command: what it means, lacking the value if there is a
    slot; now: whether the sequence would take it at this moment (what is not `now` is heard all the same, and
    refused with the reason).
    """

    phrases: tuple[str, ...]
    label: str
    command: Command
    slot: Slot | None = None
    now: bool = True

    def fill(self, value: Fraction, unit: str, label: str | None = None) -> Command:
        """The command with its value."""
        if isinstance(self.command, cmd.GiveReading):
            return self.command.model_copy(update={"value": value, "unit": unit, "label": label})
        return self.command.model_copy(update={"label": label})


_YES_OR_NO = (Offer(YES, "Yes", cmd.Keep()), Offer(NO, "No", cmd.Withdraw()))


@dataclass(frozen=True, slots=True)
class RunningClock:
    """A clock as it stands."""

    area: str
    title: str
    left_minutes: float
    total_minutes: float


@dataclass(frozen=True, slots=True)
class Prompt:
    """What the crew is asked now."""

    area: str | None
    say: str
    basis: str
    requirement: str
    offers: tuple[Offer, ...]
    clocks: tuple[RunningClock, ...]
    waits_for_yes: bool = False
    caution: str | None = None
    asks_for: tuple[type, ...] = ()

    @property
    def answers(self) -> tuple[Offer, ...]:
        """The offers that answer what is asked. The others may be said too, but nobody waits for them.

        Who speaks, another area or notch, the weather and the signature are answers only where they are asked for.
        """
        return tuple(o for o in self.offers if o.now and isinstance(o.command, self.asks_for))

    @property
    def hints(self) -> tuple[str, ...]:
        """What may be said now, one phrase an offer."""
        return tuple(o.phrases[0].replace("{value}", "…") for o in self.offers if o.now and o.phrases)


def short(step: Step) -> str:
    """What a step is called in a sentence: its id in words."""
    return step.id.replace("-", " ")


def show(value: Any, unit: str) -> str:
    """A reading as it was given, in writing."""
    return write_number(Fraction(value)) if unit == "count" else quantities.format_quantity(float(value), unit)


def between_rounds(area: Area) -> str:
    """What may be begun now, in words."""
    progress = area.progress
    ways = [
        f"'{s.called[0]}'"
        for s in area.checklist.sections
        if s.when == "called" and all(n in progress.good for n in s.needs)
    ]
    if progress.lifts_passed >= area.lifts_needed[0] and not progress.failures:
        ways.append(f"'{area.checklist.finish.call[0]}'")
    return f"Say {' or '.join(ways)}." if ways else ""


def prompt(state: State, now: Moment) -> Prompt:
    """What is asked at `now`, what may be said, and how the clocks stand."""
    clocks = tuple(
        RunningClock(name, run.title, run.left(now), run.minutes)
        for name, area in state.areas.items()
        for run in area.progress.clocks
    )
    area = state.area
    offers: list[Offer] = []
    say, basis, requirement, caution = "", "", "", None
    waits = state.pending is not None
    asks_for: tuple[type, ...] = _ANSWERS
    due = area.cautions_due() if area is not None else ()
    if state.plan is None:
        say = "Open the day with its plan."
    elif state.closed:
        what = f"Addendum {state.part}" if state.part else "The day"
        sealed = "sealed" if state.sealed else "not sealed yet"
        say = f"{what} was signed by {state.signed[-1]} and is {sealed}."
    elif state.speaker is None:
        say, asks_for = "Who speaks?", (cmd.SpeakAs,)
    elif state.pending is not None:
        held = state.areas[state.pending.area]
        step = held.checklist.step(state.pending.task.section, state.pending.task.step)
        reading = state.pending.label or show(state.pending.value, state.pending.unit)
        say = f"{short(step).capitalize()}, {reading}. Yes or no?"
    elif area is None:
        names = ", ".join(a.name for a in state.plan.areas)
        say, asks_for = f"Say 'start area' and its name: {names}.", (cmd.StartArea,)
    elif due:
        caution = due[0].text
        say, basis = f"Caution. {caution} Say 'understood'.", due[0].basis
    elif area.step is not None:
        say, basis = area.step.ask, area.step.basis or ""
        criterion = area.criterion(area.step)
        if criterion is not None:
            requirement, basis = str(criterion), criterion.basis
    elif area.progress.phase == "finished":
        say, asks_for = "Start the next area, or sign off.", (*_ANSWERS, cmd.StartArea)
    else:
        say = between_rounds(area)
    if state.plan is not None:
        offers = _offers(state, area, blocked=bool(due))
    return Prompt(
        area=area.plan.name if area else None,
        say=say,
        basis=basis,
        requirement=requirement,
        offers=tuple(offers),
        clocks=clocks,
        waits_for_yes=waits,
        caution=caution,
        asks_for=asks_for,
    )


def whether_meant(asked: Prompt, words: str) -> Prompt:
    """The prompt with a question before it: whether these words were said. What was asked can be answered anew."""
    others = tuple(o for o in asked.offers if not isinstance(o.command, cmd.Keep | cmd.Withdraw))
    return replace(
        asked,
        say=f"Did you say '{words}'? Yes or no?",
        offers=(*_YES_OR_NO, *others),
        waits_for_yes=True,
        asks_for=(*asked.asks_for, cmd.Keep, cmd.Withdraw),
    )


def minutes_to_next_alarm(state: State, now: Moment) -> float | None:
    """Minutes until a clock warns or runs out, or None when none runs. 0 when one is due."""
    times: list[float] = []
    if state.closed:
        return None
    for area in state.areas.values():
        for run in area.progress.clocks:
            left = run.left(now)
            times.append(left)
            clock = area.checklist.clock(run.clock)
            if clock is not None and clock.warn is not None and not run.warned:
                times.append(left - canonical(clock.warn))
    return max(0.0, min(times)) if times else None


def _offers(state: State, area: Area | None, *, blocked: bool) -> list[Offer]:
    """Everything that can be understood, what the sequence takes now first."""
    asks = [
        Offer(("what now",), "What now", cmd.Ask(about="what now")),
        Offer(("repeat", "say again"), "Repeat", cmd.Ask(about="repeat")),
        Offer(("how long", "how much time is left"), "How long", cmd.Ask(about="how long")),
    ]
    if state.pending is not None:
        return [*_while_waiting(state, state.pending), *asks]
    offers: list[Offer] = []
    if area is not None:
        due = area.cautions_due()
        if due:
            offers.append(Offer(UNDERSTOOD, "Understood", cmd.AcknowledgeCaution()))
        offers += _step_offers(area, blocked, state.plan.units if state.plan else "metric")
        offers.append(Offer(UNDO, "Take back", cmd.Withdraw(), now=bool(area.done)))
        offers.append(Offer(("yes", "no"), "Yes", cmd.Keep(), now=False))
        if not due:
            offers.append(Offer(UNDERSTOOD, "Understood", cmd.AcknowledgeCaution(), now=False))
    plan = state.plan
    if plan is None:
        return offers
    free = not blocked and state.speaker is not None
    offers += [
        Offer(
            (f"start area {a.name}", f"go to {a.name}"),
            f"Start {a.name}",
            cmd.StartArea(area=a.name),
            now=free and state.active != a.name,
        )
        for a in plan.areas
    ]
    offers += [Offer((f"this is {p.name}",), p.name.title(), cmd.SpeakAs(name=p.name)) for p in plan.crew]
    offers += [
        Offer(
            (f"weather {w}", f"weather is {w}"),
            f"Weather {w}",
            cmd.NoteWeather(text=w),
        )
        for w in WEATHER
    ]
    if area is not None:
        offers += [
            Offer((f"change notch to {n}",), f"Notch {n}", cmd.ChangeNotch(notch=n), now=free) for n in plan.notches
        ]
    foreman = state.speaker is not None and state.speaker.role is Role.FOREMAN
    offers += [
        Offer(("sign off the day", "sign off"), "Sign off", cmd.SignDay(), now=foreman and not blocked),
        Offer(
            ("sign off with open points",),
            "Sign off with open points",
            cmd.SignDay(accept_open=True),
            now=foreman and not blocked,
        ),
        # "Note" alone sounds like "no".
        Offer(("make a note", "take a note"), "Note", cmd.Ask(about="note"), now=state.speaker is not None),
        *asks,
    ]
    return offers


def _while_waiting(state: State, pending: Pending) -> list[Offer]:
    """What may be said to a reading that waits for yes: the answer, or the reading said again with its name.

    Nothing else is even listened for: any other word would only be one more that "no" could be misheard as. A bare
    value would be another: in noise "yes" was heard as "a fourth", and the next yes kept that.
    """
    area = state.areas[pending.area]
    step = area.checklist.step(pending.task.section, pending.task.step)
    system = state.plan.units if state.plan else "metric"
    again = step_offers(area.checklist, pending.task.section, step, now=False, at_hand=False, system=system)
    return [*_YES_OR_NO, *again]


def slot_of(step: Step, system: System = "metric") -> Slot | None:
    """The value that a step's phrases carry; the site's own units come first, so that a bare number means them."""
    if step.quantity is None:
        return None
    dimension, low, high = QUANTITIES[step.quantity]
    if step.plausible is not None:
        low, high = (quantities.canonical(e, step.plausible.unit) for e in (step.plausible.low, step.plausible.high))
    units = sorted(step.units, key=lambda unit: quantities.unit_in_system(unit, system) != unit)
    return Slot(step.quantity, dimension, tuple(units), low, high)


def _step_offers(area: Area, blocked: bool, system: System) -> list[Offer]:
    checklist, task, step = area.checklist, area.task, area.step
    between = task is None and area.progress.phase == "working"
    here: list[Offer] = []
    if task is not None and step is not None:
        here = step_offers(checklist, task.section, step, now=not blocked, at_hand=True, system=system)
    called = [
        Offer(s.called, s.title, cmd.StartRound(section=s.id), now=between and not blocked)
        for s in checklist.sections
        if s.when == "called"
    ]
    finish = Offer(checklist.finish.call, "Finish area", cmd.FinishArea(), now=between and not blocked)
    elsewhere = [
        offer
        for holder, other in checklist.all_steps()
        if task is None or (holder, other.id) != (task.section, task.step)
        for offer in step_offers(checklist, holder, other, now=False, at_hand=False, system=system)
        # While a yes or an acknowledgement is waited for, numbers for other steps would only be misheard.
        if not (blocked and offer.slot is not None)
    ]
    return [*here, *called, finish, *elsewhere]


def step_offers(
    checklist: Checklist, holder: str, step: Step, *, now: bool, at_hand: bool, system: System = "metric"
) -> list[Offer]:
    """What answers `step`. Only the step at hand also takes the bare answer: a number alone, or 'done'."""
    label = checklist.holder(holder).title if isinstance(checklist.holder(holder), Section) else short(step)
    if step.kind is Kind.CHOICE:
        return [
            Offer(
                option.say,
                option.label,
                cmd.Choose(section=holder, step=step.id, option=option.id),
                now=now,
            )
            for option in step.options
        ]
    if step.kind is Kind.READING:
        phrases = step.phrases if at_hand else step.say
        command: Command = cmd.GiveReading(section=holder, step=step.id)
        return [Offer(phrases, short(step).capitalize(), command, slot_of(step, system), now)] if phrases else []
    if step.kind is Kind.HOLD:
        return [Offer(step.say, f"Release: {label}", cmd.ReleaseHold(section=holder, step=step.id), now=now)]
    if step.kind is Kind.PHOTO:
        return []  # a photo is taken, not said
    plain = tuple(p for p in step.say if "{value}" not in p)
    valued = tuple(p for p in step.say if "{value}" in p)
    confirm = cmd.ConfirmStep(section=holder, step=step.id)
    offers = [Offer(plain + (DONE if at_hand else ()), short(step).capitalize(), confirm, now=now)] if plain else []
    if valued:
        offers.append(Offer(valued, short(step).capitalize(), confirm, slot_of(step, system), now))
    return offers
