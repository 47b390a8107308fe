"""What is heard without the attention phrase: the window follows the work.

| a crew | is heard without the attention phrase with |
|---|---|
| at a step, and at one beside it | what answers it, the bare value too (a number without its unit right after its question only: `day.listening`), and the phrases of the step after it; at the last step of a round what may be begun after it; in the round of a lift all of its steps |
| while a value waits, or a question whether it was said | yes, no, and the value again; where no yes is waited for, what may be said after it too |
| before a caution | "understood" |
| where mortar is spread | how many tiles are in |
| between rounds, and where what is at hand can wait | what may be begun next, and the first step of a tile |
| where time ran out, or must be waited for | why it is called late, or gone on early |
| where nothing was at hand for a break, between areas, before somebody speaks, after the signature | nothing |

A method, a release, a signature, who speaks, another area or bucket, a note, a correction, the end of an area and every
question need the phrase always: talk on a site is full of their words, or what they do weighs too much.
"""  # noqa: E501 (a table's line cannot be broken)

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.commands import Command
from fieldassist.checklist.moment import BREAK_MIN, Moment
from fieldassist.checklist.offers import Offer
from fieldassist.checklist.state import Area, State

# The step that is answered: section, step.
_At: TypeAlias = tuple[str, str]

# What answers a step.
_ANSWERS = (
    cmd.ConfirmStep,
    cmd.Choose,
    cmd.GiveReading,
    cmd.ConfirmLift,
    cmd.LeaveOutPhoto,
    cmd.LeaveOutReading,
    cmd.KeepMethod,
)
# What begins a round, or mortar for tiles that are counted.
_BEGINS = (cmd.StartRound, cmd.SpreadMortar)
# What is in the window wherever the sequence takes it.
_NOW = (cmd.AcknowledgeCaution, cmd.TilesIn, cmd.CallLate, cmd.GoOnEarly, cmd.LeaveLift, cmd.SpoilSample)
_WORK = (*_ANSWERS, *_BEGINS, *_NOW, cmd.Keep, cmd.Withdraw)
# The fields of a command that an offer leaves to the value that is said.
_VALUES = ("value", "unit", "label", "reason", "piece", "column", "face", "number", "one_in", "tiles")
# Whose hands and which bucket: said before work in one breath, and never alone.
_BEFORE_WORK = (cmd.SetterIs, cmd.TakeBucket)


@dataclass(frozen=True, slots=True)
class Cycle:
    """What a crew is in the middle of. steps: at hand, and the one after it; begins: sections that may be begun."""

    steps: frozenset[_At]
    begins: frozenset[str]

    def __or__(self, other: Cycle) -> Cycle:
        return Cycle(self.steps | other.steps, self.begins | other.begins)


def cycle(state: State, now: Moment) -> Cycle | None:
    """What the crew is in the middle of; None where it is in nothing, so that everything needs the phrase."""
    area = state.area
    if state.plan is None or state.closed or state.speaker is None or area is None:
        return None
    if area.progress.phase == "finished":
        return None
    if _nothing_at_hand(state, area) and _rests(state, now):
        return None
    tasks = area.progress.tasks
    round_ = [task for task in tasks if (task.section, task.round) == (tasks[0].section, tasks[0].round)]
    section = area.checklist.section(tasks[0].section) if tasks else None
    lifts = section is not None and section.shows
    near = [(task.section, task.step) for task in (*tasks[:2], *(round_ if lifts else ()), *area.beside)]
    near += [(waiting.task.section, waiting.task.step) for waiting in state.waiting]
    # What happens at any time, such as a near miss, goes on with nothing.
    begins = [
        each
        for each in area.checklist.sections
        if each.when == "called"
        and not each.anytime
        and (each.tries is None or area.next_sample)
        and (len(round_) <= 1 or area.may_open(each))
    ]
    # Its first answer opens the round of a tile.
    near += [(each.id, step) for each in begins if each.sets is not None for step in area.opens_with(each)[:1]]
    return Cycle(frozenset(near), frozenset(each.id for each in begins))


def _nothing_at_hand(state: State, area: Area) -> bool:
    return area.task is None and not area.progress.open_spreads and state.pending is None


def _rests(state: State, now: Moment) -> bool:
    """Whether nobody has called anything for a break."""
    return state.last_called is not None and state.last_called.minutes_to(now) >= BREAK_MIN


def window(offers: Sequence[Offer], within: Cycle | None) -> tuple[Offer, ...]:
    """The offers that are heard without the attention phrase."""
    asks = any(isinstance(offer.command, cmd.Keep) and offer.now for offer in offers)
    return tuple(offer for offer in offers if _is_in(offer, within, asks))


def _is_in(offer: Offer, within: Cycle | None, asks: bool) -> bool:
    command = offer.command
    if isinstance(command, cmd.Keep | cmd.Withdraw):
        return asks and offer.now
    if within is None or _corrects(command):
        return False
    if isinstance(command, _ANSWERS):
        return (command.section, command.step) in within.steps
    if isinstance(command, _BEGINS):
        plain = offer.slot is None and command == type(command)(section=command.section)
        return command.section in within.begins and (offer.now or plain)
    return offer.now and isinstance(command, _NOW)


def goes_on(commands: Sequence[Command], window: Sequence[Offer]) -> bool:
    """Whether what was called, alone or in one breath, is heard without the attention phrase.

    The first of it is in the window, all of it is work, and whose hands or which bucket it is may stand before it:
    "tobin, spread three".
    """
    work = commands[1:] if len(commands) > 1 and isinstance(commands[0], _BEFORE_WORK) else commands
    return (
        any(_without_value(offer.command) == _without_value(work[0]) for offer in window)
        and all(isinstance(command, _WORK) for command in work)
        and not any(_corrects(command) for command in work)
    )


def _without_value(command: Command) -> Command:
    """A command as its offer has it, whatever value it carries."""
    filled = {name: None for name in _VALUES if name in type(command).model_fields}
    return command.model_copy(update=filled)


def _corrects(command: Command) -> bool:
    return isinstance(command, cmd.GiveReading) and command.corrects is not None
