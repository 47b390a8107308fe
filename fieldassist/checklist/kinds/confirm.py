"""A step that is done and said: "back keyed"."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, Literal

from pydantic import Field, model_validator

from fieldassist.checklist.event_base import AtStep
from fieldassist.checklist.faults import Faults
from fieldassist.checklist.kinds.base import AtStepAsked, Said, check_phrases
from fieldassist.checklist.offers import VALUE, Offer, StepSetting
from fieldassist.checklist.state import State, answered
from fieldassist.checklist.wording import WRITTEN_IN, Phrases, in_language

if TYPE_CHECKING:
    from fieldassist.checklist.draft import Answered, Draft
    from fieldassist.checklist.events import Event

DONE = ("done",)


class Confirm(Said):
    """Something to do; whoever did it says so.

    number: where tiles are counted, what is said of several at once: for how many mortar is spread, how many are in.
    """

    kind: Literal["confirm"] = "confirm"
    number: Phrases = Field(default_factory=dict)

    @model_validator(mode="after")
    def _check(self) -> Confirm:
        faults = Faults()
        self.check_said(faults)
        check_phrases(faults, self.number, "number", value=True)
        faults.tell()
        return self

    @property
    def number_phrase(self) -> str:
        """The first of its phrases with a number, as it is told: "three in"."""
        return next((p.replace(VALUE, "three") for p in in_language(self.number, WRITTEN_IN) if VALUE in p), "")

    def offers(self, place: StepSetting) -> list[Offer]:
        """Its phrases; "done" where it is at hand."""
        command = ConfirmStep(section=place.holder, step=self.id)
        phrases = self.phrases(place.language) + (DONE if place.at_hand else ())
        return [Offer(phrases, self.called_done, command, now=place.now)]


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
