"""Every answer to a step of an area, as facts: readings that were kept, choices and steps that were confirmed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from fieldassist.checklist import events as ev
from fieldassist.checklist.events import Event
from fieldassist.checklist.standing import Standing
from fieldassist.checklist.state import Area
from fieldassist.facts import model
from fieldassist.facts.names import option_label, step_name
from fieldassist.facts.telling import Tell
from fieldassist.trade.quantities import canonical


def reading_facts(area: Area, stands: Standing, told: Tell, answers: Iterable[Event]) -> list[model.ReadingFact]:
    """All of them in order. answers: the choices and confirmed steps of this area that count."""
    return sorted(_Answers(area, stands, told).facts(answers), key=lambda one: one.event)


class _Answers:
    def __init__(self, area: Area, stands: Standing, told: Tell) -> None:
        self.area, self.standing, self.told = area, stands, told

    def facts(self, answers: Iterable[Event]) -> Iterator[model.ReadingFact]:
        for reading in self.standing.readings:
            called = reading.body
            if called.area != self.area.plan.name:
                continue
            named = called.label is not None
            yield self._answer(
                reading.called,
                called,
                what=reading.judged.measures or "",
                value=None if named else float(called.value),
                unit=None if named else called.unit,
                canonical=None if named else canonical(called.value, called.unit),
                label=called.label,
                passed=reading.judged.passed,
                kept=reading.judged.kept if isinstance(reading.judged, ev.ReadingKept) else "yes",
            )
        for event in answers:
            body: Any = event.body
            if isinstance(body, ev.ChoiceMade):
                yield self._answer(
                    event,
                    body,
                    what=body.measures or "",
                    option=body.option,
                    option_told=self.told(option_label(self.area, body)),
                    passed=body.passed,
                    kept="yes" if body.called is not None else "",
                )
            else:
                yield self._answer(event, body)

    def _answer(self, event: Event, body: Any, **figures: Any) -> model.ReadingFact:
        told: Mapping[str, Any] = {
            "what": "",
            "value": None,
            "unit": None,
            "canonical": None,
            "option": None,
            "option_told": None,
            "label": None,
            "passed": None,
            "kept": "",
            **figures,
        }
        return model.ReadingFact(
            section=body.section,
            round=body.round,
            step=body.step,
            name=self.told(step_name(self.area, body.section, body.step)).text,
            by=event.by,
            how=event.source.how,
            together=event.source.together,
            at=event.at.wall,
            event=event.seq,
            **told,
        )
