"""What an answer brings about by itself before it is taken: the round that it belongs to is opened, or a photo that was
asked for is left out. Asked alike by whoever offers an answer and by whoever takes it.

"back keyed" is "next tile" and "back keyed"; "lippage two millimeters" in the middle of a tile opens the look at the
lippage in front of that tile, which goes on after it.
"""

from __future__ import annotations

from fieldassist.checklist import cautions
from fieldassist.checklist.draft import hindrance
from fieldassist.checklist.follow import midday_due
from fieldassist.checklist.kinds import Photo
from fieldassist.checklist.moment import Moment
from fieldassist.checklist.schema import Section
from fieldassist.checklist.state import Area, State, Task, changed


def opened_by_answer(state: State, area: Area, now: Moment, holder: str, step: str) -> Section | None:
    """The section whose round an answer to this step opens: it is the first step of a round that may be opened now,
    and nothing comes first there. None where the answer opens nothing."""
    section = area.checklist.section(holder)
    first = next(iter(area.opens_with(section)), None) if section is not None else None
    if section is None or first != step or state.speaker is None or cautions.due(state, area, now):
        return None
    if area.task is not None and (area.task.section, area.task.step) == (holder, step):
        return None
    may = _may_set(area, section, step, now) if section.sets is not None else _may_look(area, section)
    if not may or not area.checklist.step(holder, step).taken_from(state.speaker):
        return None
    opened = Task(section.id, area.progress.rounds.get(section.id, 0) + 1, step)
    return section if _nothing_first(state, area, now, (opened, *area.progress.tasks)) else None


def _nothing_first(state: State, area: Area, now: Moment, tasks: tuple[Task, ...]) -> bool:
    """Whether the first of these steps could be answered at once, were they at hand."""
    then = changed(area, progress=changed(area.progress, tasks=tasks))
    return not cautions.due(state, then, now) and hindrance(state, then, now) is None


def answered_beside(state: State, area: Area, now: Moment) -> set[tuple[str, str]]:
    """The steps, each with its section, that may be answered beside the round at hand, where nothing comes first."""
    if state.speaker is None:
        return set()
    return {
        (task.section, task.step)
        for task in area.beside
        if area.checklist.step(task.section, task.step).taken_from(state.speaker)
        and _nothing_first(state, area, now, (task, *area.progress.tasks))
    }


def _may_set(area: Area, section: Section, step: str, now: Moment) -> bool:
    """Whether the next tile may be called, and nothing has to be looked at before it."""
    if section.counting is not None and section.counting.spread.id == step:
        return False  # tiles that are counted may be meant
    good = all(need in area.progress.good for need in section.needs)
    return section.when == "called" and good and area.may_open(section) and not midday_due(area, now)


def _may_look(area: Area, section: Section) -> bool:
    """Whether a due section that is taken at any time may be opened: something is set, and no round of it is open."""
    if section.due is None or not section.anytime or area.progress.phase not in ("working", "finishing"):
        return False
    return area.progress.settings > 0 and all(task.section != section.id for task in area.progress.tasks)


def photo_left_out_by(state: State, area: Area, now: Moment, holder: str, step: str) -> Photo | None:
    """The photo at hand, where an answer to this step goes on without it: it may be left out, and the step is the one
    behind it in the same round."""
    photo, tasks = area.step, area.progress.tasks[:2]
    if not isinstance(photo, Photo) or not any(photo.skip.values()) or len(tasks) < 2 or cautions.due(state, area, now):
        return None
    here, behind = tasks
    same = (behind.section, behind.round) == (here.section, here.round)
    answers = same and (behind.section, behind.step) == (holder, step)
    if not answers or state.speaker is None or not photo.taken_from(state.speaker):
        return None
    takes = area.checklist.step(holder, step).taken_from(state.speaker)
    return photo if takes and _nothing_first(state, area, now, area.progress.tasks[1:]) else None
