"""The question for another method, after a failed lift: its answer is the change of the method itself.

It is answered by `ChangeMethod`, which changes what every later tile, lift and reckoning uses, or by `KeepMethod` where
the reason was another one and the checklist allows that answer ("same method, fresh mortar").
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from pydantic import model_validator

from fieldassist.checklist.event_base import AtStep, RecordedId
from fieldassist.checklist.faults import Faults
from fieldassist.checklist.kinds.base import AtStepAsked, Id, Unjudged, check_phrases
from fieldassist.checklist.offers import Offer, StepSetting
from fieldassist.checklist.plan import Written
from fieldassist.checklist.state import State, answered
from fieldassist.checklist.wording import Phrases, Wording, in_language
from fieldassist.trade.message import Figure, Several, message

if TYPE_CHECKING:
    from fieldassist.checklist.draft import Answered, Draft
    from fieldassist.checklist.events import Event
    from fieldassist.checklist.listing import Listing


class SameMethod(Written):
    """A reason for which the method stays as it is: the mortar was skinned."""

    id: Id
    say: Phrases
    label: Wording


class MethodStep(Unjudged):
    """What changes of the method. `same`: reasons for which nothing does."""

    kind: Literal["method"]
    same: tuple[SameMethod, ...] = ()

    @model_validator(mode="after")
    def _check(self) -> MethodStep:
        faults = Faults()
        faults.twice([reason.id for reason in self.same], "same")
        for index, reason in enumerate(self.same):
            if not any(reason.say.values()):
                faults.add("step-without-say", "same", index, "say")
            check_phrases(faults, reason.say, "same", index, "say", value=False)
        faults.tell()
        return self

    def reason(self, reason_id: str) -> SameMethod | None:
        """The reason called `reason_id`, or None."""
        return next((each for each in self.same if each.id == reason_id), None)

    def offers(self, place: StepSetting) -> list[Offer]:
        """The reasons for which it stays. The changes themselves may be called at any time (`prompt`)."""
        return [
            Offer(
                in_language(each.say, place.language),
                each.label,
                KeepMethod(section=place.holder, step=self.id, reason=each.id),
                now=place.now,
            )
            for each in self.same
        ]


class KeepMethod(AtStepAsked):
    """The method stays as it is, for one of the step's reasons."""

    do: Literal["keep method"] = "keep method"
    reason: str


class MethodChosen(AtStep):
    """The question for a method was answered. same: the reason for which it stays, "" where it was changed."""

    type: Literal["method chosen"] = "method chosen"
    same: RecordedId = ""


def decide(draft: Draft, command: KeepMethod) -> Answered:
    """The method stays, if its step is at hand and the checklist allows the reason."""
    area, task, step = draft.at_hand(command, MethodStep)
    reason = step.reason(command.reason)
    if reason is None:
        labels = Several(tuple(each.label for each in step.same), "or")
        raise draft.refusal("engine-no-such-answer", ask=step.ask, answers=labels)
    draft.emit(MethodChosen(area=area.plan.name, section=task.section, round=task.round, step=step.id, same=reason.id))
    draft.say(message("method-same", reason=reason.label))
    return task, step, None


def fold(state: State, event: Event, body: MethodChosen) -> State:
    """The step is answered."""
    return answered(state, event, body)


def tell(listing: Listing, body: MethodChosen) -> dict[str, Figure]:
    """Whether it was changed, or why it stays, for a list of events."""
    if not body.same:
        return {"answer": message("method-is-changed")}
    step = listing.step_of(body)
    reason = step.reason(body.same) if isinstance(step, MethodStep) else None
    return {"answer": message("method-same", reason=reason.label if reason is not None else body.same)}


DECIDERS = {KeepMethod: decide}
FOLDS = {MethodChosen: fold}
TELLS = {MethodChosen: tell}
