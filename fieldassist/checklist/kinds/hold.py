"""A hold point: work stops until somebody of the named role releases it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, Literal

from pydantic import model_validator

from fieldassist.checklist.event_base import AtStep
from fieldassist.checklist.faults import Faults
from fieldassist.checklist.kinds.base import AtStepAsked, Said
from fieldassist.checklist.offers import Offer, StepSetting
from fieldassist.checklist.state import State, answered, beyond_recall
from fieldassist.trade.message import message

if TYPE_CHECKING:
    from fieldassist.checklist.draft import Answered, Draft
    from fieldassist.checklist.events import Event


class Hold(Said):
    """A hold point, released by `by`."""

    kind: Literal["hold"]

    @model_validator(mode="after")
    def _check(self) -> Hold:
        faults = Faults()
        self.check_said(faults)
        if self.by is None:
            faults.add("step-without-by")
        faults.tell()
        return self

    def offers(self, place: StepSetting) -> list[Offer]:
        """Its phrases."""
        command = ReleaseHold(section=place.holder, step=self.id)
        return [
            Offer(self.phrases(place.language), message("prompt-release", what=place.title), command, now=place.now)
        ]


class ReleaseHold(AtStepAsked):
    """Release the hold point at hand."""

    do: Literal["release hold"] = "release hold"


class HoldReleased(AtStep):
    """A hold point was released."""

    type: Literal["hold released"] = "hold released"


def decide(draft: Draft, command: ReleaseHold) -> Answered:
    """The hold point is released, if it is at hand and its role speaks."""
    area, task, step = draft.at_hand(command, Hold)
    draft.emit(HoldReleased(area=area.plan.name, section=task.section, round=task.round, step=step.id))
    draft.say(message("engine-released"))
    return task, step, None


def fold(state: State, event: Event, body: HoldReleased) -> State:
    """What a foreman has released is not taken back by the installer's "scratch that"."""
    return beyond_recall(answered(state, event, body), body.area, event)


DECIDERS = {ReleaseHold: decide}
FOLDS = {HoldReleased: fold}
TELLS: Mapping[type, Any] = {}
