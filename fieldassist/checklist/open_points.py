"""What is still open, found once: screen, sign-off, daily log and the list of events all ask here."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace

from fieldassist.checklist import covering, promised, trying
from fieldassist.checklist.contradictions import contradictions
from fieldassist.checklist.doubting import method_points
from fieldassist.checklist.kinds.reading import waiting_answer
from fieldassist.checklist.state import Area, PointAnswer, State
from fieldassist.checklist.told import exact
from fieldassist.trade.message import Figure, Message, message, term
from fieldassist.trade.quantities import Quantity


@dataclass(frozen=True, slots=True)
class OpenPoint:
    """Something that is open.

    id: stays the same while the cause does; told: the point, as code and figures; area: where, None of the whole day;
    answerable: whether the foreman can say why it stands, or only work can close it; answer: what he said.
    """

    id: str
    told: Message
    area: str | None
    answerable: bool = False
    answer: PointAnswer | None = None

    @property
    def line(self) -> Message:
        """The point as it is listed: with who answered it, when and how, where somebody did."""
        if self.answer is None:
            return self.told
        told = self.answer
        return message(
            "open-answered",
            point=self.told,
            name=told.by,
            at=told.at.wall[11:16],
            answer=told.answer,
            spoken="yes" if told.audio else "no",
        )


def uncured(area: Area) -> tuple[Message, ...]:
    """The failures of one area that were not cured."""
    return tuple(point.told for point in _of_area(area))


def _of_area(area: Area) -> Iterator[OpenPoint]:
    name = area.plan.name
    for seq, failure in area.progress.failures.items():
        told = message("open-failure", area=name, finding=failure.finding, failure=str(seq))
        yield OpenPoint(f"failure/{name}/{seq}", told, name)


def _failures(state: State) -> Iterator[OpenPoint]:
    for area in state.areas.values():
        yield from _of_area(area)


def _releases(state: State) -> Iterator[OpenPoint]:
    """The releases that nobody has answered for by PIN, and those that were struck out."""
    for area in state.areas.values():
        name = area.plan.name
        for seq, release in area.progress.releases.items():
            if not release.waits and not release.struck:
                continue
            code = "open-release-struck" if release.struck else "open-release-called"
            step = area.checklist.step(release.section, release.step)
            told: dict[str, Figure] = {
                "area": name,
                "hold": step.name,
                "name": release.name,
                "deputy": release.deputy_for or "no",
                "day": "today" if seq > 0 else "earlier",
            }
            yield OpenPoint(f"release/{name}/{seq}", message(code, release=str(seq), **told), name)


def _not_in_time(state: State) -> Iterator[OpenPoint]:
    """What was called late, and where was gone on before a time was over, each with who and why."""
    for area in state.areas.values():
        name, progress = area.plan.name, area.progress
        for code, excused in (("open-called-late", progress.late), ("open-went-on-early", progress.early)):
            for one in excused:
                clock = area.checklist.clock(one.clock)
                told: dict[str, Figure] = {
                    "area": name,
                    "clock": clock.title if clock is not None else one.clock,
                    "name": one.by,
                    "minutes": Quantity(exact(round(one.minutes, 1)), "min"),
                    "reason": one.reason,
                }
                yield OpenPoint(f"{code.removeprefix('open-')}/{name}/{one.seq}", Message(code, told), name, True)


def _methods(state: State) -> Iterator[OpenPoint]:
    """Methods that cannot do by the reckoning, and the foreman's word for such, that no good lift has borne out."""
    for area in state.areas.values():
        for point, told in method_points(area):
            yield OpenPoint(point, told, area.plan.name, answerable=True)


def _lifts(state: State) -> Iterator[OpenPoint]:
    for id_, area, told in covering.points(state):
        yield OpenPoint(id_, told, area, answerable=not id_.startswith("suspect/"))


def _promised(state: State) -> Iterator[OpenPoint]:
    """Methods whose lifts are lower than the mock-up promised from which they were released."""
    for area, cause, told in promised.points(state):
        yield OpenPoint(f"promised/{area}/{cause}", told, area, answerable=True)


def _due(state: State) -> Iterator[OpenPoint]:
    """What is due and waits: lifts, tiles that are off and not put back, and other due rounds."""
    for name, area in state.areas.items():
        for number in covering.waiting_lifts(area):
            told = message("open-lift-waits", area=name, tile=str(number))
            yield OpenPoint(f"lift waits/{name}/{area.progress.tiles[number].order}", told, name, True)
        for tile in covering.not_put_back(area):
            told = message("open-not-put-back", area=name, tile=str(tile.number))
            yield OpenPoint(f"not put back/{name}/{tile.order}", told, name, True)
        for task in area.waiting:
            at = (task.section, task.round)
            if at not in area.progress.targets and at not in area.progress.putting_back:
                told = message("open-due-waits", area=name, section=area.checklist.holder(task.section).title)
                yield OpenPoint(f"due waits/{name}/{task.section}/{task.round}", told, name, True)


def _dusty(state: State) -> Iterator[OpenPoint]:
    """Dusty tasks that nobody has said are over: their minutes are in no sum yet. Only ending them closes it."""
    for who, run in state.dusty.items():
        told = message("open-dust-runs", name=who, task=term("engine-dust-task", run.task), since=run.since.wall[11:16])
        yield OpenPoint(f"dust/{who}/{run.seq}", told, None)


def _contradictions(state: State) -> Iterator[OpenPoint]:
    for found in contradictions(state):
        yield OpenPoint(found.id, found.told, found.area, answerable=True)


def _trials(state: State) -> Iterator[OpenPoint]:
    """Trials that ended with fewer samples than were planned."""
    for area, cause, told in trying.points(state):
        yield OpenPoint(f"samples/{area}/{cause}", told, area, answerable=True)


def _waiting(state: State) -> Iterator[OpenPoint]:
    for pending in state.waiting:
        step, reading = waiting_answer(state, pending)
        told = message("open-reading", area=pending.area, name=step, reading=reading)
        yield OpenPoint(f"reading/{pending.area}/{pending.seq}", told, pending.area)


def _areas(state: State) -> Iterator[OpenPoint]:
    for name, area in state.areas.items():
        if area.progress.phase == "finished":
            continue
        step = area.step
        told = (
            message("open-area-between", area=name) if step is None else message("open-area", area=name, ask=step.ask)
        )
        yield OpenPoint(f"area/{name}", told, name, answerable=True)
    for planned in state.plan.areas if state.plan else ():
        if planned.name not in state.areas:
            told = message("open-not-started", area=planned.name)
            yield OpenPoint(f"start/{planned.name}", told, planned.name, answerable=True)


_SOURCES: tuple[Callable[[State], Iterable[OpenPoint]], ...] = (
    _failures,
    _lifts,
    _promised,
    _due,
    _releases,
    _not_in_time,
    _methods,
    _dusty,
    _contradictions,
    _trials,
    _waiting,
    _areas,
)


def open_points(state: State) -> tuple[OpenPoint, ...]:
    """What is unfinished, worst first: failures that were not cured, lifts, those lower than a
    mock-up promised, what else is due, releases that nobody
    answers for, what was not done in its time, dusty tasks that still run, what contradicts itself, a reading that
    waits for its yes, areas under way, areas that were not started. What the foreman has answered is among them, with
    his answer."""
    found = (point for source in _SOURCES for point in source(state))
    answers = state.answers
    return tuple(replace(p, answer=answers[p.id]) if p.answerable and p.id in answers else p for p in found)


def unanswered(state: State) -> tuple[OpenPoint, ...]:
    """The points that still hold up: nobody has said why they stand."""
    return tuple(point for point in open_points(state) if point.answer is None)
