"""A day before, of which areas go on or methods were released: read from its log, or from the bundle that another
tablet handed over."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from fieldassist.checklist.carrying import held_of
from fieldassist.checklist.commands import DayBefore
from fieldassist.checklist.events import DayOpened, Event
from fieldassist.checklist.fold import fold
from fieldassist.checklist.plan import DayKind, DayPlan
from fieldassist.checklist.replanning import plan_of
from fieldassist.checklist.state import MethodRelease, State
from fieldassist.day.session import CannotOpen, told
from fieldassist.files import UnfitFile, open_regular
from fieldassist.record.bundle import BundleProblem, open_bundle
from fieldassist.record.log import DayLog, LogProblem
from fieldassist.record.seal import check_releases, check_seals, unsealed_after
from fieldassist.trade.message import message


def read_before(path: Path) -> DayBefore:
    """What goes on from the day in a log or a bundle. CannotOpen where it is no whole day."""
    try:
        events, hashes = _record(path)
        return _day(events, hashes)
    except (UnfitFile, BundleProblem, LogProblem, ValueError, KeyError, IndexError) as problem:
        if isinstance(problem, CannotOpen):
            raise
        why = message(problem.code, why=problem.why) if isinstance(problem, UnfitFile) else told(problem)
        raise CannotOpen(message("day-before-not-whole", file=str(path), why=why)) from problem


def read_plan(path: Path) -> DayPlan:
    """The plan of the day in a log or a bundle, as the day left it. CannotOpen where it is no whole day."""
    try:
        events, _ = _record(path)
    except (UnfitFile, BundleProblem, LogProblem) as problem:
        why = message(problem.code, why=problem.why) if isinstance(problem, UnfitFile) else told(problem)
        raise CannotOpen(message("day-before-not-whole", file=str(path), why=why)) from problem
    plan = plan_of(events)
    if plan is None:
        raise CannotOpen(message("day-before-none"))
    return plan


def read_released(path: Path, kind: DayKind = "work") -> tuple[MethodRelease, ...]:
    """The methods that were released from the trials of the day in a log or a bundle, for a day of this kind.

    CannotOpen where it is no whole day, where nothing was released in it, where a PIN's signature is not good, and for
    work where it is no work: practice and rehearsals prove nothing.
    """
    events, hashes, opened, state = _folded(path)
    if kind == "work" and opened.kind != "work":
        raise CannotOpen(message("day-trial-no-work", file=str(path), kind=opened.kind))
    released = tuple(release for area in state.areas.values() for release in area.progress.released)
    if not released:
        raise CannotOpen(message("day-trial-none-released", file=str(path)))
    by_event = {release.seq for release in released}
    for check in check_releases(events, hashes):
        if check.seq in by_event and check.why is not None:
            raise CannotOpen(message("day-trial-release-not-good", file=str(path), event=str(check.seq), why=check.why))
    return released


def read_state(path: Path) -> State:
    """The day in a log or a bundle, as it stands at its end. CannotOpen where it is no whole day."""
    return _folded(path)[3]


def _folded(path: Path) -> tuple[Sequence[Event], Sequence[str], DayOpened, State]:
    try:
        events, hashes = _record(path)
        opened = events[0].body if events else None
        state = fold(events)
    except (UnfitFile, BundleProblem, LogProblem, ValueError, KeyError, IndexError) as problem:
        why = message(problem.code, why=problem.why) if isinstance(problem, UnfitFile) else told(problem)
        raise CannotOpen(message("day-before-not-whole", file=str(path), why=why)) from problem
    if not isinstance(opened, DayOpened):
        raise CannotOpen(message("day-before-none"))
    return events, hashes, opened, state


def _record(path: Path) -> tuple[Sequence[Event], Sequence[str]]:
    with open_regular(path) as file:
        front = file.read(2)
    if front == b"PK":
        bundle = open_bundle(path)
        return bundle.events, bundle.hashes
    with DayLog.open(path, read_only=True) as log:
        return tuple(log.events), tuple(log.hashes)


def _day(events: Sequence[Event], hashes: Sequence[str]) -> DayBefore:
    opened = events[0].body if events else None
    if not isinstance(opened, DayOpened):
        raise CannotOpen(message("day-before-none"))
    state = fold(events)
    good = [check for check in check_seals(events, hashes) if check.good]
    return DayBefore(
        date=opened.plan.date,
        site=opened.plan.site,
        kind=opened.kind,
        events=len(events),
        head=hashes[-1],
        signed=state.closed,
        sealed=bool(good) and unsealed_after(events, hashes) == 0,
        last=events[-1].at,
        plans={area.plan.key: area.plan for area in state.areas.values()},
        areas={area.plan.key: held_of(area, state.last_seq) for area in state.areas.values()},
    )
