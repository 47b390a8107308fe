"""Which cautions are due, for whom, and what answers them. Pure: no clock, no files.

A person hears a caution once a day, and again after a break (`State.resumed`). The first time it is told whole, stops
the work, and is answered by itself. After a break all that were heard earlier that day are told together, each by its
first sentence, and one "understood" answers them. A caution that going on answers (`schema.Caution.answered_by`) stops
no work once it was heard: it is shown with each further round, and the answer to what it stands before acknowledges it.

What was heard goes by the caution's id and its words: another area's caution of the same id is not told again where it
says the same, and is told where it says something else.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from fieldassist.checklist.offers import UNDERSTOOD
from fieldassist.checklist.plan import Role
from fieldassist.trade.message import Figure, Message, Several, Text, message

if TYPE_CHECKING:
    from fieldassist.checklist.kinds import Step
    from fieldassist.checklist.moment import Moment
    from fieldassist.checklist.schema import Caution
    from fieldassist.checklist.state import Area, State, Task

_END_OF_SENTENCE = re.compile(r"(?<=[.!?])\s")


@dataclass(frozen=True, slots=True)
class DueCaution:
    """A caution that must be acknowledged before work goes on. persons: who has to hear it; heard: all of them heard
    it earlier that day, before a break."""

    caution: Caution
    persons: tuple[str, ...]
    heard: bool


def key(caution: Caution) -> str:
    """By what it is told whether a caution was heard: its id and its words."""
    return f"{caution.id}: {caution.text}"


def brief(caution: Caution) -> Text:
    """The first sentence of a caution, in each of its languages."""
    return Text(tuple((language, _END_OF_SENTENCE.split(said)[0]) for language, said in caution.text.by_language))


def due(state: State, area: Area, now: Moment) -> tuple[DueCaution, ...]:
    """The cautions that stand before the step at hand and are due: what was never heard first, in the file's order."""
    if area.task is None:
        return ()
    resumed = state.resumed(now)
    found = []
    for caution in _before(area, area.task):
        missing = tuple(p for p in _persons(state, area, area.task) if not _stands(state, caution, p, resumed))
        if missing:
            heard = all((key(caution), person) in state.cautioned for person in missing)
            found.append(DueCaution(caution, missing, heard))
    return tuple(sorted(found, key=lambda one: one.heard))


def asked(waiting: Sequence[DueCaution]) -> tuple[DueCaution, ...]:
    """Which of the cautions that are due are told now, and answered by the next "understood"."""
    return tuple(waiting) if waiting and waiting[0].heard else tuple(waiting[:1])


def told(waiting: Sequence[DueCaution]) -> Figure:
    """What is told of the cautions that are due: one whole, or those heard earlier by their first sentences."""
    first = asked(waiting)
    return Several(tuple(brief(one.caution) for one in first), "sentences") if first[0].heard else first[0].caution.text


def question(waiting: Sequence[DueCaution]) -> Message:
    """The cautions that are told now, as they are asked about."""
    code = "prompt-cautions-again" if waiting[0].heard else "prompt-caution"
    return message(code, caution=told(waiting), phrase=UNDERSTOOD[0])


def reminders(state: State, area: Area, task: Task) -> tuple[tuple[Caution, tuple[str, ...]], ...]:
    """The cautions that the answer to this step acknowledges, and for whom: who heard them before the round began.

    None while somebody has not heard one: nobody goes on for the first time without having been told.
    """
    began = area.progress.began.get(task.section)
    persons = _persons(state, area, task)
    if began is None or not persons:
        return ()
    found = []
    for caution in _before(area, task):
        times = [state.cautioned.get((key(caution), person)) for person in persons]
        if caution.answered_by != "going on" or None in times:
            continue
        earlier = tuple(p for p, at in zip(persons, times, strict=True) if at is not None and at.minutes_to(began) > 0)
        if earlier:
            found.append((caution, earlier))
    return tuple(found)


def not_heard(state: State, caution: Caution) -> tuple[str, ...]:
    """The installers of the crew who have not heard a caution that day."""
    crew = state.plan.crew if state.plan is not None else ()
    return tuple(p.name for p in crew if p.role is Role.INSTALLER and (key(caution), p.name) not in state.cautioned)


def _stands(state: State, caution: Caution, person: str, resumed: Moment | None) -> bool:
    """Whether the person heard the caution, and since the last break."""
    at = state.cautioned.get((key(caution), person))
    return at is not None and (resumed is None or at.minutes_to(resumed) <= 0)


def _persons(state: State, area: Area, task: Task) -> tuple[str, ...]:
    """Whose hands do the step: the setter's, those of whoever set when the round began, and those of whoever speaks,
    where that is an installer; whoever speaks where there is none of these. At a step of another role than the
    installer's, the hands are those of whoever answers it."""
    speaker = state.speaker
    if _of_a_role(area.checklist.step(task.section, task.step)):
        return (speaker.name,) if speaker is not None else ()
    installs = speaker is not None and speaker.role is Role.INSTALLER
    found = [speaker.name] if installs and speaker is not None else []
    found += [who for who in (area.setter, area.progress.hands.get((task.section, task.round))) if who]
    return tuple(dict.fromkeys(found)) if found or speaker is None else (speaker.name,)


def _before(area: Area, task: Task) -> tuple[Caution, ...]:
    """The cautions that stand before a step and hold in the area. Before a release, or another step of a role, only
    its own: nobody works there, and what stands before the area or the section is told when somebody does."""
    holder = area.checklist.holder(task.section)
    places = {"area", task.section, task.step}
    if _of_a_role(area.checklist.step(task.section, task.step)):
        places = {task.step} | ({task.section} if all(_of_a_role(step) for step in holder.steps) else set())
    return tuple(c for c in area.checklist.cautions if c.before in places and area.holds(c))


def _of_a_role(step: Step) -> bool:
    return step.by is not None and step.by is not Role.INSTALLER
