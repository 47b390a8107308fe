"""A failed lift on one page: what it showed, which pieces it makes suspect, what would cure it, and what comes next."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from fieldassist.assess.cures import Cure, ImpliedGap, cures, implied_gap, in_use
from fieldassist.checklist import commands as cmd
from fieldassist.checklist import covering, proven
from fieldassist.checklist.commands import Command
from fieldassist.checklist.events import Event, LiftJudged
from fieldassist.checklist.kinds import Hold, MethodStep, Step
from fieldassist.checklist.plan import DayPlan, Person, Trowel
from fieldassist.checklist.rules import notch_of
from fieldassist.checklist.standing import standing
from fieldassist.checklist.state import Area, LiftRecord
from fieldassist.trade.message import Compared, Figure, Message, message, term
from fieldassist.trade.quantities import Quantity, System, format_quantity


@dataclass(frozen=True, slots=True)
class FailedLift:
    """A lift that failed and is not cured.

    judged: its verdict; gap: what its contact implies; cures: at most two; changed: the method in use, where it was
    changed since; suspects: pieces by number; next_lift: the
    piece to be lifted next, outward from it, None where none is; step: the one at hand of its cure, None where
    something else comes first.
    """

    record: LiftRecord
    judged: LiftJudged
    gap: ImpliedGap
    cures: tuple[Cure, ...]
    changed: Cure | None
    suspects: tuple[int, ...]
    next_lift: int | None
    step: Step | None


def failed_lift(area: Area, events: tuple[Event, ...]) -> FailedLift | None:
    """The last lift of an area that failed and is not cured, None where there is none."""
    progress = area.progress
    open_ones = [
        lift for lift in progress.lifts.values() if lift.verdict == "failed" and lift.failure in progress.failures
    ]
    judged = {body.lift: body for event in standing(events).lifts if isinstance(body := event.body, LiftJudged)}
    record = max((lift for lift in open_ones if lift.number in judged), key=lambda lift: lift.number, default=None)
    if record is None:
        return None
    contact = float(judged[record.number].coverage)
    target = covering.next_lift(area)
    due = covering.waiting_lifts(area)
    task = area.task
    here = task is not None and task.failure == record.failure
    return FailedLift(
        record,
        judged[record.number],
        implied_gap(area, record, contact),
        cures(area, record, contact),
        in_use(area, record, contact),
        proven.tiles_in(area, "suspect"),
        due[0] if due else target.tile if target is not None else None,
        area.step if here else None,
    )


def change_to(cure: Cure) -> Command:
    """How the area goes on with a cure."""
    return cmd.ChangeMethod(**cure.wish.model_dump(exclude={"do"}))


def signer(plan: DayPlan, area: Area) -> Person | None:
    """Who signs the change: who may release the hold of the cure at hand; None where nothing holds it."""
    task = area.task
    if task is None:
        return None
    holder = area.checklist.holder(task.section)
    hold = next((step for step in holder.steps if isinstance(step, Hold)), None)
    people = hold.releasing(plan) if hold is not None else ()
    return people[0] if people else None


def take_off(pieces: tuple[int, ...]) -> tuple[Command, ...]:
    """That these pieces are taken off."""
    return tuple(cmd.TakeOff(number=number) for number in pieces)


def stays_the_same(step: Step | None) -> tuple[tuple[Figure, str], ...]:
    """The reasons for which the method may stay, in words and by id, where it is asked for."""
    return tuple((each.label, each.id) for each in step.same) if isinstance(step, MethodStep) else ()


_HEADLINES = {
    "coverage-corner-unsupported": "lifted-failed-corner",
    "coverage-void-near-edge": "lifted-failed-edge",
}

# --- words --------------------------------------------------------------------------------------------------------


def headline(failed: FailedLift) -> Message:
    """What failed, in a few words: the contact, where that is too little, otherwise the first reason."""
    covered = Quantity(failed.judged.coverage, "percent")
    if failed.judged.coverage < failed.judged.required:
        return message("lifted-failed-contact", contact=covered, needed=Quantity(failed.judged.required, "percent"))
    reason = next((each for each in failed.judged.reasons if isinstance(each, Message)), None)
    pair = reason.figures.get("pair") if reason is not None else None
    if reason is not None and reason.code == "coverage-void-too-large" and isinstance(pair, Compared):
        return message("lifted-failed-void", void=pair.read, most=pair.limit)
    return message(_HEADLINES.get(reason.code if reason is not None else "", "lifted-failed-other"))


def trowel_told(trowel: Trowel) -> Message:
    """A notch in a few words: "3/8 in square"."""
    notch = notch_of(trowel)
    size = tool_size(notch.depth_mm)
    if abs(notch.width_mm - notch.depth_mm) > 0.05 * notch.depth_mm:
        size = f"{tool_size(notch.width_mm).rsplit(' ', 1)[0]} × {size}"
    return message("lifted-notch", size=size, family=message("method-family", family=notch.family))


def pitch_of(area: Area) -> float:
    """From ridge to ridge, as the area is combed now [mm]."""
    return notch_of(area.method).pitch_mm


def tool_size(size_mm: float) -> str:
    """A size as it stands on a tool, which is converted for nobody: whole millimetres, or inches.

    >>> tool_size(8.0), tool_size(9.525)
    ('8 mm', '3/8 in')
    """
    system: System = "metric" if size_mm == round(size_mm) else "us"
    return format_quantity(Fraction(repr(float(size_mm))), "mm", system)


def sides_told(sides: str) -> Message:
    """On what is combed: "base and tile"."""
    return term("lifted-sides", sides)


def millimetres(value: float) -> Quantity:
    """A reckoned length."""
    return Quantity(Fraction(repr(round(value, 1))), "mm")
