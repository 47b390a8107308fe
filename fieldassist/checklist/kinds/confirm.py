"""A step that is done and said: "back keyed"."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, Literal

from pydantic import model_validator

from fieldassist.checklist.event_base import AtStep
from fieldassist.checklist.faults import Faults
from fieldassist.checklist.kinds.base import AtStepAsked, Said
from fieldassist.checklist.offers import Offer, StepSetting
from fieldassist.checklist.state import State, answered

if TYPE_CHECKING:
    from fieldassist.checklist.draft import Answered, Draft
    from fieldassist.checklist.events import Event

DONE = ("done",)


class Confirm(Said):
    """Something to do; whoever did it says so."""

    kind: Literal["confirm"] = "confirm"

    @model_validator(mode="after")
    def _check(self) -> Confirm:
        faults = Faults()
        self.check_said(faults)
        faults.tell()
        return self

    def offers(self, place: StepSetting) -> list[Offer]:
        """Its phrases; "done" where it is at hand."""
        command = ConfirmStep(section=place.holder, step=self.id)
        phrases = self.phrases(place.language) + (DONE if place.at_hand else ())
        return [Offer(phrases, self.name, command, now=place.now)]


class ConfirmStep(AtStepAsked):
    """A confirm step is done."""

    do: Literal["confirm step"] = "confirm step"


class StepConfirmed(AtStep):
    """A step was done."""

    type: Literal["step confirmed"] = "step confirmed"


def decide(draft: Draft, command: ConfirmStep) -> Answered:
    """The step is done, if it is at hand."""
    area, task, step = draft.at_hand(command, Confirm)
    draft.emit(StepConfirmed(area=area.plan.name, section=task.section, round=task.round, step=step.id))
    return task, step, None


def fold(state: State, event: Event, body: StepConfirmed) -> State:
    """The step is answered."""
    return answered(state, event, body)


DECIDERS = {ConfirmStep: decide}
FOLDS = {StepConfirmed: fold}
TELLS: Mapping[type, Any] = {}
