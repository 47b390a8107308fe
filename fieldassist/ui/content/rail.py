"""The cycle of a piece, or the steps of any other round, as a row of signs: what is done and how, what is now."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from fieldassist.checklist.kinds import Reading, Step
from fieldassist.checklist.kinds.base import Act
from fieldassist.checklist.schema import Section
from fieldassist.checklist.state import Area, ReadingRecord, State, Task, steps_of
from fieldassist.trade.message import Figure, message, term
from fieldassist.trade.quantities import Quantity

# The sign of each movement. Mortar is spread and combed in one go: both stand under the comb's sign.
SIGNS: Mapping[Act, str] = {
    "key": "key-back",
    "spread": "comb-direction",
    "comb": "comb-direction",
    "set": "set",
    "slide": "stroke",
    "beat in": "mallet",
    "lift": "lift",
    "carry": "person",
    "edges": "plan",
}
# How many steps a rail has room for.
MOST = 7


@dataclass(frozen=True, slots=True)
class RailStep:
    """One step, or two that are one movement.

    sign: its sign, "" where it has none and its number is drawn; name: in a word or two; answer: of a done one, in a
    word; reading: the reading that may be corrected there, None where none is.
    """

    number: int
    sign: str
    name: Figure
    standing: Literal["done", "now", "to come"]
    answer: Figure | None = None
    reading: ReadingRecord | None = None

    @property
    def shown(self) -> Figure:
        """What stands under its sign: the answer once there is one; a step without a sign has only its number."""
        if self.answer is not None:
            return self.answer
        return self.name if self.sign else ""


def rail(state: State) -> tuple[RailStep, ...]:
    """The steps of the round at hand, so many as there is room for around the present one; none where nothing is."""
    area = state.area
    task = area.task if area is not None else None
    if area is None or task is None or (area.sample is not None and area.sample.seen is not None):
        return ()  # what is read of a sample is no movement
    every = tuple(_steps(area, task))
    now = next((at for at, step in enumerate(every) if step.standing == "now"), 0)
    first = min(max(0, now - MOST // 2), max(0, len(every) - MOST))
    return every[first : first + MOST]


def cycle(area: Area) -> tuple[RailStep, ...]:
    """The cycle of a piece of an area where none is under way: every step to come."""
    section = next((s for s in area.checklist.sections if s.sets is not None), None)
    if section is None:
        return ()
    return tuple(_numbered(_grouped(area, section, section.steps, (), {})))


def _steps(area: Area, task: Task) -> Iterator[RailStep]:
    holder = area.checklist.holder(task.section)
    if isinstance(holder, Section) and holder.lift is not None:
        setting = next((s for s in area.checklist.sections if s.sets is not None), None)
        if setting is not None:
            before = [_done(step) for group in _groups(setting.steps) for step in [group[-1]]]
            yield from _numbered([*before, _step_named("lift", "now")])
            return
    ids = steps_of(holder, task.round)
    steps = [step for step in holder.steps if step.id in ids and _is_of_sample(area, step)]
    waiting = tuple(t.step for t in area.progress.tasks if (t.section, t.round) == (task.section, task.round))
    readings = {r.step: r for r in area.readings.values() if (r.section, r.round) == (task.section, task.round)}
    yield from _numbered(_grouped(area, holder if isinstance(holder, Section) else None, steps, waiting, readings))


def _is_of_sample(area: Area, step: Step) -> bool:
    """Whether a step is a movement of the sample at hand; of anything else every step is shown."""
    trial, sample = area.plan.trial, area.sample
    return trial is None or sample is None or (step.act is not None and trial.asks(step.only, sample.letter))


def _numbered(steps: Sequence[RailStep]) -> Iterator[RailStep]:
    for number, step in enumerate(steps, 1):
        yield RailStep(number, step.sign, step.name, step.standing, step.answer, step.reading)


def _groups(steps: Sequence[Step]) -> list[list[Step]]:
    """The steps, those that are one movement together."""
    groups: list[list[Step]] = []
    for step in steps:
        last = groups[-1][-1].act if groups else None
        if last is not None and step.act is not None and SIGNS[last] == SIGNS[step.act]:
            groups[-1].append(step)
        else:
            groups.append([step])
    return groups


def _grouped(
    area: Area,
    section: Section | None,
    steps: Sequence[Step],
    waiting: tuple[str, ...],
    readings: Mapping[str, ReadingRecord],
) -> list[RailStep]:
    found = []
    for group in _groups(steps):
        left = [step.id for step in group if step.id in waiting]
        reading = next((readings[step.id] for step in group if step.id in readings), None)
        if waiting and not left:
            found.append(_done(group[-1], reading))
        else:
            standing: Literal["now", "to come"] = "now" if waiting and waiting[0] in left else "to come"
            found.append(RailStep(0, _sign(group[-1]), _name(group[-1]), standing))
    if section is not None and section.sets is not None and area.checklist.lift_section is not None:
        found.append(_step_named("lift", "to come"))
    return found


def _step_named(act: Act, standing: Literal["now", "to come"]) -> RailStep:
    return RailStep(0, SIGNS[act], term("work-act", act), standing)


def _done(step: Step, reading: ReadingRecord | None = None) -> RailStep:
    answer = _in_a_word(reading) if reading is not None else None
    if answer is None and step.act is not None:
        answer = term("work-did", step.act)
    return RailStep(0, _sign(step), _name(step), "done", answer, reading)


def _in_a_word(reading: ReadingRecord) -> Figure:
    """A reading in the listener's own units alone: there is room for no more."""
    return reading.label if reading.label is not None else Quantity(reading.value, reading.unit)


def _sign(step: Step) -> str:
    return SIGNS[step.act] if step.act is not None else ""


def _name(step: Step) -> Figure:
    """A step in a word or two."""
    if step.act is not None:
        return term("work-act", step.act)
    return step.order if isinstance(step, Reading) and step.order is not None else step.name


def place_of_now(steps: Sequence[RailStep]) -> Figure | None:
    """Which of how many steps is now, where there is no room for the rail: "2 of 6"."""
    now = next((step for step in steps if step.standing == "now"), None)
    return None if now is None else message("work-step-of", step=str(now.number), of=str(steps[-1].number))
