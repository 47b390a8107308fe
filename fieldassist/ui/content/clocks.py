"""The clocks as they are drawn: minutes left, when each began and ends by the wall clock, and what is asked once one is
over.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Literal

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.commands import Command
from fieldassist.checklist.follow import late_to_call
from fieldassist.checklist.kinds import Confirm
from fieldassist.checklist.moment import Moment
from fieldassist.checklist.offers import LATE_REASONS
from fieldassist.checklist.schema import ClockRule
from fieldassist.checklist.state import Area, ClockRun, EventNumber, RanOut, State
from fieldassist.trade.message import Message, Text, message, term

# What a clock is for: mortar that skins (open), a bucket that stiffens (pot), what must be waited for (wait).
ClockKind = Literal["open", "pot", "wait", "other"]

# From here on a clock is shown with seconds, in the colour of what is due. Ours, as the screens are drawn.
WARNING_MIN = 5.0


@dataclass(frozen=True, slots=True)
class ClockFace:
    """A clock as it is drawn.

    run: the event that started it; begun, ends: "10:34" by the wall clock; total, left: minutes, `left` negative once
    time is up; bucket: of a pot, "" of any other.
    """

    area: str
    kind: ClockKind
    title: Text
    run: EventNumber
    begun: str
    ends: str
    total: float
    left: float
    bucket: str = ""

    @property
    def standing(self) -> Literal["running", "warning", "over"]:
        """How urgent it is. What must be waited for never warns."""
        if self.left <= 0:
            return "over"
        return "warning" if self.left < WARNING_MIN and self.kind != "wait" else "running"

    @property
    def told(self) -> str:
        """The figure in large: whole minutes left, with seconds while it warns, counted up once it is over.

        >>> from fieldassist.trade.message import Text
        >>> face = ClockFace("wall", "open", Text.plain("Open time"), 1, "10:34", "10:54", 20, 19.4)
        >>> from dataclasses import replace
        >>> face.told, replace(face, left=4.21).told, replace(face, left=-2.12).told
        ('19', '4:12', '+2:07')
        """
        if self.standing == "running":
            return str(int(self.left)) if self.kind != "wait" else str(int(-(-self.left // 1)))
        seconds = int(abs(self.left) * 60 + 1e-6)
        return f"{'+' if self.left <= 0 else ''}{seconds // 60}:{seconds % 60:02}"

    @property
    def minutes_gone(self) -> int:
        """How many whole minutes of it have passed: so many ridges lie flat."""
        return min(int(self.total), max(0, int(self.total - self.left + 1e-9)))


@dataclass(frozen=True, slots=True)
class ExpiredClock:
    """A clock that ran out and what nobody answered yet: was it done in time?

    at_hand: the answer can be given now; else something goes first, such as a piece that hangs. question, yes, no: as
    they stand on the screen; late: the command of each ready reason of a yes, which marks it as said afterwards, empty
    where the checklist has no such answer; over: the command of a no.
    """

    face: ClockFace
    question: Message
    yes: Message
    no: Message
    late: tuple[tuple[Message, cmd.CallLate], ...]
    over: Command
    at_hand: bool


@dataclass(frozen=True, slots=True)
class ClockRow:
    """The clocks of a day in the order of the band: the open time and the pot that end first, what is waited for, the
    clock that ran out and was not answered, and how many clocks run besides."""

    open: ClockFace | None = None
    pot: ClockFace | None = None
    wait: ClockFace | None = None
    expired: ExpiredClock | None = None
    more: int = 0


def clock_row(state: State, now: Moment) -> ClockRow:
    """The clocks of a day as the band draws them. Nothing of a day that is signed."""
    if state.closed:
        return ClockRow()
    running = faces(state, now)
    ran_out = expired(state, now)
    if ran_out is not None:
        running = (ran_out.face, *running)
    found: dict[str, ClockFace] = {}
    for face in running:
        found.setdefault(face.kind, face)
    shown = sum(kind in found for kind in ("open", "pot", "wait"))
    return ClockRow(found.get("open"), found.get("pot"), found.get("wait"), ran_out, len(running) - shown)


def faces(state: State, now: Moment) -> tuple[ClockFace, ...]:
    """Every clock that runs, in every area, what ends first in front; what is waited for and over comes last."""
    every = [
        _face(area, clock, run, now)
        for area in state.areas.values()
        for run in area.progress.clocks
        if (clock := area.checklist.clock(run.clock)) is not None
    ]
    return tuple(sorted(every, key=lambda face: (face.kind == "wait" and face.left <= 0, face.left)))


def expired(state: State, now: Moment) -> ExpiredClock | None:
    """The clock that ran out and that nobody answered for yet: of the area that is open first, what can be answered
    now before what cannot."""
    ordered = sorted(state.areas.values(), key=lambda area: area.plan.name != state.active)
    every = [found for area in ordered for found in _expired(area, now)]
    return min(every, key=lambda found: not found.at_hand, default=None)


def _face(area: Area, clock: ClockRule, run: ClockRun, now: Moment) -> ClockFace:
    kind = kind_of(area, clock)
    batch = area.progress.batches.get(run.round) if kind == "pot" else None
    began = datetime.fromisoformat(run.started.wall)
    ends = began + timedelta(minutes=run.minutes)
    return ClockFace(
        area=area.plan.name,
        kind=kind,
        title=clock.title,
        run=run.run,
        begun=f"{began:%H:%M}",
        ends=f"{ends:%H:%M}",
        total=run.minutes,
        left=run.left(now),
        bucket=str(batch.bucket) if batch is not None else "",
    )


def kind_of(area: Area, clock: ClockRule) -> ClockKind:
    """What a clock of a checklist is for."""
    if clock.bound == "at least":
        return "wait"
    section = area.checklist.section(clock.ends) if clock.ends is not None else None
    if section is None:
        return "other"
    if section.changes == "batch":
        return "pot"
    return "open" if section.sets is not None else "other"


def _expired(area: Area, now: Moment) -> Iterator[ExpiredClock]:
    for clock in area.checklist.clocks:
        out = late_to_call(area, clock)
        corrective = area.checklist.corrective(clock.corrective) if clock.corrective is not None else None
        if out is None or corrective is None:
            continue
        step = corrective.steps[0]
        task = next(t for t in area.progress.tasks if t.failure == out.failure and t.section == corrective.id)
        if not isinstance(step, Confirm):
            continue
        face = _face(area, clock, out.run, now)
        yes_no = {"open": "open", "pot": "pot"}.get(face.kind, "other")
        yield ExpiredClock(
            face=face,
            question=_question(area, face, out),
            yes=message(f"work-late-yes-{yes_no}", time=face.ends),
            no=message(f"work-late-no-{yes_no}", name=corrective.title),
            late=_late(clock),
            over=cmd.ConfirmStep(section=corrective.id, step=step.id),
            at_hand=area.task == task,
        )


def _late(clock: ClockRule) -> tuple[tuple[Message, cmd.CallLate], ...]:
    if not any(clock.late.values()):
        return ()
    return tuple(
        (term("engine-late-reason", reason), cmd.CallLate(clock=clock.id, reason=reason)) for reason in LATE_REASONS
    )


def _question(area: Area, face: ClockFace, out: RanOut) -> Message:
    """What is asked of a clock that ran out: of the piece that was being set, of those of a spread, of a bucket."""
    run = out.run
    if face.kind == "pot":
        return message("work-late-pot", bucket=face.bucket)
    if face.kind != "open":
        return message("work-late-other", clock=face.title)
    place = area.progress.taking.get((run.section, run.round))
    spread = area.progress.spreads.get(run.round)
    if place is None and spread is not None and spread.section == run.section:
        return message("work-late-spread", left=spread.left or 0)
    number = place.number if place is not None else None
    return message("work-late-piece", piece=str(number or max(area.progress.tiles, default=0) + 1))
