"""Minutes of dusty work, of whoever speaks: noted afterwards, or run by the clock from a start to an end.

A task that runs is in no sum before it ends. The clock's minutes are rounded up to a tenth, and so never counted short.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from math import ceil
from typing import cast

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist import rules
from fieldassist.checklist.draft import Draft
from fieldassist.checklist.moment import CLOCK, Moment, Source
from fieldassist.checklist.offers import DUST_ENDS, DUST_STARTS, DUSTY, Offer
from fieldassist.checklist.state import DustEntry, DustRun, State
from fieldassist.trade import dust
from fieldassist.trade.basis import OutOfRange
from fieldassist.trade.message import Figure, Message, Several, Text, message, term
from fieldassist.trade.quantities import Quantity

_DAY_MINUTES = 24 * 60
# Until somebody says where: the stricter column of Table 1.
_PLACE: dust.WorkPlace = "indoors"


def running_minutes(run: DustRun, now: Moment) -> Fraction:
    """The minutes [min] that a task has run, rounded up to a tenth, and at least that."""
    return max(Fraction(1, 10), Fraction(ceil(run.since.minutes_to(now) * 10 - 1e-6), 10))


def note(draft: Draft, command: cmd.NoteDust) -> None:
    """Minutes that somebody gives, in place of an earlier entry where that was wrong."""
    state = draft.state
    given, wrong = command.minutes, None
    if command.replaces is not None:
        wrong = next((entry for entry in state.dust if entry.seq == command.replaces), None)
        if wrong is None:
            raise draft.refusal("engine-no-dust-entry", event=str(command.replaces))
        if wrong.by != draft.by:
            raise draft.refusal("engine-anothers-dust", name=wrong.by)
        if wrong.part != state.part:
            raise draft.refusal("engine-dust-signed")
    figures = _figures(command.task, command.place)
    minutes = Quantity(given, "min")
    if given < 0 or (given == 0 and wrong is None):
        raise draft.refusal("engine-dust-nothing", minutes=minutes, task=figures["task"])
    _check_sum(draft, given, wrong)
    _emit(draft, command.task, command.place, given, replaces=command.replaces)
    if wrong is None:
        draft.say(message("engine-dust-noted", minutes=minutes, name=draft.by, **figures))
        return
    of_before: Mapping[str, Figure] = {
        "before": Quantity(wrong.minutes, "min"),
        "wrong": term("engine-dust-task", wrong.task),
        "minutes": minutes,
    }
    draft.say(Message("engine-dust-replaced" if given else "engine-dust-taken-out", {**of_before, **figures}))


def start(draft: Draft, command: cmd.DustStarts) -> None:
    """Minutes run from here on; what Table 1 asks of the task is told before the dust flies."""
    state = draft.state
    run = state.dusty.get(draft.by)
    task = command.task or _last(state, draft.by, "task")
    if task is None:
        ways = tuple(message("prompt-quoted", phrase=f"{DUST_STARTS} {said}") for said in DUSTY.values())
        raise draft.refusal("engine-dust-which", ways=Several(ways, "or"))
    place = command.place or cast("dust.WorkPlace | None", _last(state, draft.by, "place")) or _PLACE
    figures = _figures(task, place)
    if run is not None and (run.task, run.place) == (task, place):
        raise draft.refusal("engine-dust-runs", name=draft.by, since=run.since.wall[11:16], **figures)
    if run is not None:
        _end(draft, run, None)
    draft.emit(ev.DustStarted(task=task, place=place))
    draft.say(message("engine-dust-started", name=draft.by, **figures))
    listed = sum((e.minutes for e in draft.state.dust if e.by == draft.by and e.task in dust.TABLE_1), Fraction())
    try:
        asked = dust.dust_control(cast(dust.TableTask, task), place, float(listed))
        draft.say(message("engine-dust-asks", control=asked.control, respirator=asked.respirator))
    except OutOfRange as no_row:
        draft.say(no_row.told)


def end(draft: Draft, command: cmd.DustEnds) -> None:
    """The minutes are noted: the clock's, or those that are given where it ended earlier."""
    run = draft.state.dusty.get(draft.by)
    if run is None:
        raise draft.refusal("engine-dust-none-runs", name=draft.by, phrase=DUST_STARTS)
    _end(draft, run, command.minutes)


def offers(state: State, now: Moment, *, free: bool) -> list[Offer]:
    """A dusty task starts, the one done last or one by its name, and ends."""
    who = state.speaker.name if state.speaker is not None else ""
    run = state.dusty.get(who)
    ends = run is None or (run.part == state.part and _sum(state, who) + running_minutes(run, now) <= _DAY_MINUTES)
    known = run is None and _last(state, who, "task") is not None
    return [
        Offer((DUST_STARTS,), message("prompt-dust-starts"), cmd.DustStarts(), now=free and known, aside=True),
        *(
            Offer(
                (f"{DUST_STARTS} {said}",),
                message("prompt-dust-starts-with", task=term("engine-dust-task", task)),
                cmd.DustStarts(task=cast(dust.TableTask, task)),
                now=free and ends and (run is None or run.task != task),
                aside=True,
            )
            for task, said in DUSTY.items()
        ),
        Offer(
            (DUST_ENDS,),
            message("prompt-dust-ends"),
            cmd.DustEnds(),
            now=free and ends and run is not None,
            aside=True,
        ),
    ]


def _end(draft: Draft, run: DustRun, given: Fraction | None) -> None:
    if given is None and run.part != draft.state.part:
        raise draft.refusal("engine-dust-over-signature", since=run.since.wall[11:16])
    most = running_minutes(run, draft.now)
    minutes = most if given is None else given
    if minutes <= 0 or minutes > most:
        raise draft.refusal("engine-dust-not-so-long", minutes=Quantity(minutes, "min"), most=Quantity(most, "min"))
    _check_sum(draft, minutes, None)
    draft.emit(ev.DustEnded(began=run.seq))
    _emit(draft, run.task, run.place, minutes, source=CLOCK if given is None else None)
    figures = _figures(run.task, run.place)
    draft.say(message("engine-dust-noted", minutes=Quantity(minutes, "min"), name=draft.by, **figures))


def _emit(
    draft: Draft,
    task: str,
    place: dust.WorkPlace,
    minutes: Fraction,
    replaces: int | None = None,
    source: Source | None = None,
) -> None:
    basis: Message | Text
    try:
        basis = rules.as_told(dust.dust_control(cast(dust.TableTask, task), place, float(minutes)).basis)
    except OutOfRange as no_row:
        basis = rules.as_told(no_row)
    draft.emit(
        ev.DustNoted(task=task, place=place, minutes=minutes, basis=basis, replaces=replaces),
        source=source,
    )


def _check_sum(draft: Draft, given: Fraction, wrong: DustEntry | None) -> None:
    """Refuse minutes that do not fit in a person's day."""
    before = _sum(draft.state, draft.by, wrong)
    if before + given > _DAY_MINUTES:
        figures = {"minutes": Quantity(given, "min"), "total": Quantity(before + given, "min")}
        raise draft.refusal("engine-dust-too-much", name=draft.by, **figures)


def _sum(state: State, who: str, wrong: DustEntry | None = None) -> Fraction:
    """All minutes [min] of one person that count, but those of an entry that was wrong."""
    return sum((entry.minutes for entry in state.dust if entry.by == who and entry != wrong), Fraction())


def _figures(task: str, place: str) -> Mapping[str, Figure]:
    return {"task": term("engine-dust-task", task), "place": term("engine-dust-place", place)}


def _last(state: State, who: str, what: str) -> str | None:
    """The task or place of what somebody is at, or did last."""
    run = state.dusty.get(who)
    if run is not None:
        return str(getattr(run, what))
    return next((str(getattr(entry, what)) for entry in reversed(state.dust) if entry.by == who), None)
