"""A photo that the sequence waits for; and any other photo, which is a remark."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Literal

from pydantic import Field

from fieldassist.checklist.event_base import AtStep
from fieldassist.checklist.kinds.base import Asked, Unjudged
from fieldassist.checklist.offers import Offer, StepSetting
from fieldassist.checklist.state import State, answered
from fieldassist.checklist.wording import WRITTEN_IN
from fieldassist.trade.message import Figure, message

if TYPE_CHECKING:
    from fieldassist.checklist.draft import Answered, Draft
    from fieldassist.checklist.events import Event
    from fieldassist.checklist.listing import Listing

Sha256 = Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]


class Photo(Unjudged):
    """A photo to take. It is taken, not said."""

    kind: Literal["photo"]

    def offers(self, place: StepSetting) -> list[Offer]:
        """None: no words take a photo."""
        return []

    def asked(self, language: str = WRITTEN_IN) -> Figure:
        """The question, and where a photo is taken."""
        return message("prompt-ask-photo", ask=self.ask)


class AttachPhoto(Asked):
    """A photo, for the photo step at hand or as a remark at any time: the stored file's name and SHA-256."""

    do: Literal["attach photo"] = "attach photo"
    file: Annotated[str, Field(max_length=120)]
    sha256: Sha256


class PhotoAttached(AtStep):
    """A photo was stored, for a photo step or as a remark: then at the step at hand, or at none ("") between rounds.

    answers: whether it is what the step at hand asked for.
    """

    type: Literal["photo attached"] = "photo attached"
    file: Annotated[str, Field(max_length=120)]
    sha256: Sha256
    answers: bool


def asked_for(state: State) -> bool:
    """Whether the step at hand is a photo; any other photo is a remark and moves nothing."""
    return state.area is not None and isinstance(state.area.step, Photo)


def decide(draft: Draft, command: AttachPhoto) -> Answered | None:
    """The photo is kept; a photo step that was at hand is answered by it."""
    area = draft.state.area
    task, step = (area.task, area.step) if area is not None else (None, None)
    answers = asked_for(draft.state) and draft.state.pending is None
    if answers and area is not None and step is not None:
        if due := area.cautions_due():
            raise draft.caution_first(due[0])
        draft.check_role(step)
    draft.emit(
        PhotoAttached(
            area=area.plan.name if area else "",
            section=task.section if task else "",
            round=task.round if task else 0,
            step=task.step if task else "",
            file=command.file,
            sha256=command.sha256,
            answers=answers,
        )
    )
    draft.say(message("engine-photo-kept"))
    return (task, step, None) if answers and task is not None and step is not None else None


def fold(state: State, event: Event, body: PhotoAttached) -> State:
    """A photo that was asked for answers its step."""
    return answered(state, event, body) if body.answers else state


def tell(_: Listing, body: PhotoAttached) -> dict[str, Figure]:
    """The file, for a list of events."""
    return {"file": body.file}


DECIDERS = {AttachPhoto: decide}
FOLDS = {PhotoAttached: fold}
TELLS = {PhotoAttached: tell}
