"""The facts of a day besides its areas: crew, conditions, remarks, cautions, dust, what was asked, what was kept."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from typing import Any

from fieldassist.assess.dust import shifts
from fieldassist.checklist import events as ev
from fieldassist.checklist.event_base import AtStep
from fieldassist.checklist.events import Event
from fieldassist.checklist.plan import DayPlan
from fieldassist.checklist.schema import Checklist
from fieldassist.checklist.standing import KeptReading, Standing
from fieldassist.checklist.state import State
from fieldassist.facts import model
from fieldassist.facts.names import step_name
from fieldassist.facts.telling import Tell
from fieldassist.trade import dust
from fieldassist.trade.message import Message, Read, term
from fieldassist.trade.quantities import Quantity

# What is read of air, base and water, and not of the work.
_CONDITIONS = ("temperature", "humidity")
# A step was asked and answered by one of these; a reading where it was kept.
_ANSWERS = (
    ev.StepConfirmed,
    ev.ReadingKept,
    ev.ReadingLeftOut,
    ev.ChoiceMade,
    ev.TileLifted,
    ev.PhotoAttached,
    ev.PhotoLeftOut,
    ev.HoldReleased,
    ev.MethodChosen,
)


@dataclass(frozen=True, slots=True)
class _Minutes:
    by: str
    task: str
    place: dust.WorkPlace
    minutes: Fraction


class BesidesTeller:
    """Tells what belongs to the day and to no area of it."""

    def __init__(self, state: State, stands: Standing, told: Tell) -> None:
        self._state, self._standing, self._told = state, stands, told

    # --- people

    def crew(self, plan: DayPlan) -> Iterator[model.PersonFact]:
        """Everybody in the plan, with how much of the record is theirs."""
        of_each: dict[str, list[Event]] = {}
        for event in self._standing.events:
            of_each.setdefault(event.by, []).append(event)
        for person in plan.crew:
            theirs = of_each.get(person.name, [])
            yield model.PersonFact(
                name=person.name,
                role=person.role.value,
                entries=len(theirs),
                first=theirs[0].at.wall if theirs else None,
                last=theirs[-1].at.wall if theirs else None,
            )

    def speech_models(self) -> list[str]:
        """The models that heard what was spoken, in the order in which they first did."""
        heard = (event.source.model for event in self._standing.events)
        return list(dict.fromkeys(name for name in heard if name))

    # --- conditions and remarks

    def conditions(self) -> Iterator[model.ConditionFact]:
        """Weather, temperatures and humidity that count, each kind in order."""
        for event in self._standing.bodies(ev.WeatherNoted):
            body: Any = event.body
            yield model.ConditionFact(
                what="weather",
                name="",
                value=None,
                unit=None,
                text=self._told(Message("prompt-weather-word", {"word": body.text})).text,
                area="",
                required="",
                passed=None,
                by=event.by,
                at=event.at.wall,
                event=event.seq,
            )
        for reading in self._standing.readings:
            if reading.body.label is None and reading.body.quantity in _CONDITIONS:
                yield self._condition(reading)

    def _condition(self, reading: KeptReading) -> model.ConditionFact:
        body, criterion = reading.body, reading.judged.criterion
        return model.ConditionFact(
            what=body.step,
            name=self._step_name(body),
            value=float(body.value),
            unit=body.unit,
            text=self._told(Read(Quantity(body.value, body.unit))).text,
            area=body.area,
            required="" if criterion is None else self._told(criterion.told).text,
            passed=reading.judged.passed,
            by=reading.called.by,
            at=reading.called.at.wall,
            event=reading.called.seq,
        )

    def _step_name(self, body: AtStep) -> str:
        area = self._state.areas.get(body.area)
        return body.step if area is None else self._told(step_name(area, body.section, body.step)).text

    def notes(self) -> Iterator[model.NoteFact]:
        """Remarks, each with the area at which the crew was."""
        area = ""
        for event in self._standing.events:
            body = event.body
            if isinstance(body, ev.AreaStarted | ev.AreaEntered):
                area = body.area
            elif isinstance(body, ev.NoteMade) and self._standing.counts(event):
                yield model.NoteFact(
                    text=body.text,
                    area=area,
                    sound=body.audio,
                    sha256=body.sha256,
                    transcript=self._transcripts.get(event.seq),
                    by=event.by,
                    at=event.at.wall,
                    event=event.seq,
                )

    def sounds(self) -> Iterator[model.SoundFact]:
        """Words that were kept as sound."""
        for event in self._standing.events:
            body: Any = event.body
            file = getattr(body, "audio", None)
            if file is not None:
                yield model.SoundFact(
                    file=file,
                    sha256=body.sha256 or "",
                    kind=body.type,
                    transcript=self._transcripts.get(event.seq),
                    by=event.by,
                    at=event.at.wall,
                    event=event.seq,
                )

    @cached_property
    def _transcripts(self) -> Mapping[int, model.TranscriptFact]:
        """What was written from sounds, by the event that holds the sound."""
        found = {}
        for event in self._standing.bodies(ev.TranscriptMade):
            body = event.body
            assert isinstance(body, ev.TranscriptMade)
            found[body.target] = model.TranscriptFact(
                text=body.text,
                unsure=body.unsure,
                model=body.model,
                weights=body.weights,
                at=event.at.wall,
                event=event.seq,
            )
        return found

    # --- cautions

    def cautions(self) -> Iterator[model.CautionFact]:
        """The cautions that came up, in the order in which they first did."""
        heard: dict[tuple[str, str], list[Event]] = {}
        for event in self._standing.bodies(ev.CautionAcknowledged):
            body: Any = event.body
            heard.setdefault((self._checklist(body.area), body.caution), []).append(event)
        for (name, caution_id), events in heard.items():
            checklist = self._state.checklists.get(name)
            caution = checklist.caution(caution_id) if checklist is not None else None
            yield model.CautionFact(
                id=caution_id,
                checklist=name,
                text=caution_id if caution is None else self._told(caution.text).text,
                basis="" if caution is None else self._told(caution.basis).text,
                heard=[_heard(event) for event in events],
            )

    def _checklist(self, area: str) -> str:
        started = self._state.areas.get(area)
        return started.checklist.checklist if started is not None else ""

    # --- what was asked

    def questions(self) -> Iterator[model.QuestionFact]:
        """Every step that was answered, once a checklist, in the order of the files."""
        counts: dict[tuple[str, str, str], int] = {}
        for kind in _ANSWERS:
            for event in self._standing.bodies(kind):
                body: Any = event.body
                key = self._checklist(body.area), body.section, body.step
                counts[key] = counts.get(key, 0) + 1
        for checklist in self._state.checklists.values():
            yield from self._asked(checklist, counts)

    def _asked(self, checklist: Checklist, counts: Mapping[tuple[str, str, str], int]) -> Iterator[model.QuestionFact]:
        for holder, step in checklist.all_steps():
            count = counts.get((checklist.checklist, holder, step.id), 0)
            if count:
                yield model.QuestionFact(
                    checklist=self._told(checklist.title).text,
                    section=self._told(checklist.holder(holder).title).text,
                    step=step.id,
                    name=self._told(step.name).text,
                    asked=self._told(step.ask).text,
                    basis="" if step.basis is None else self._told(step.basis).text,
                    answered=count,
                )

    # --- dust

    def dust(self) -> Iterator[model.DustFact]:
        """Minutes of dusty tasks, with those that were replaced."""
        for event in self._standing.events:
            body = event.body
            if isinstance(body, ev.DustNoted):
                by = self._standing.struck.get(event.seq)
                yield model.DustFact(
                    task=body.task,
                    task_told=self._told(term("engine-dust-task", body.task)).text,
                    place=body.place,
                    place_told=self._told(term("engine-dust-place", body.place)).text,
                    minutes=float(body.minutes),
                    basis=self._told(body.basis),
                    replaces=body.replaces,
                    no_longer=None if by is None else by.seq,
                    by=event.by,
                    at=event.at.wall,
                    event=event.seq,
                )

    def dust_sums(self) -> Iterator[model.DustSumFact]:
        """What each person's minutes come to, by Table 1 of 29 CFR 1926.1153."""
        for shift in shifts(_noted(self._standing.bodies(ev.DustNoted))):
            yield model.DustSumFact(
                by=shift.who, listed_min=shift.listed_min, other_min=shift.other_min, over=shift.over
            )


def _noted(events: Sequence[Event]) -> Iterator[_Minutes]:
    for event in events:
        body: Any = event.body
        yield _Minutes(event.by, body.task, body.place, body.minutes)


def _heard(event: Event) -> model.HeardFact:
    body: Any = event.body
    persons = [person or event.by for person in body.persons] or [event.by]
    return model.HeardFact(
        persons=persons, how=body.how, area=body.area, by=event.by, at=event.at.wall, event=event.seq
    )
