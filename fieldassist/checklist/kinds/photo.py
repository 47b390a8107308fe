"""A photo that the sequence waits for; and any other photo, which is a remark."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Annotated, Any, Literal

from pydantic import Field, model_validator

from fieldassist.checklist.event_base import AtStep
from fieldassist.checklist.faults import Faults
from fieldassist.checklist.kinds.base import Asked, AtStepAsked, Unjudged, check_phrases
from fieldassist.checklist.offers import Offer, StepSetting
from fieldassist.checklist.state import State, answered, changed, taken_back_with_next
from fieldassist.checklist.wording import WRITTEN_IN, Phrases, in_language
from fieldassist.trade.message import Figure, message

if TYPE_CHECKING:
    from fieldassist.checklist.draft import Answered, Draft
    from fieldassist.checklist.events import Event
    from fieldassist.checklist.listing import Listing

Sha256 = Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]
MaySha256 = Annotated[str, Field(pattern=r"^([0-9a-f]{64})?$")]


class Photo(Unjudged):
    """A photo to take. It is taken, not said; `skip` lists what leaves it out, where a tablet may have no camera."""

    kind: Literal["photo"]
    skip: Phrases = Field(default_factory=dict)

    @model_validator(mode="after")
    def _check(self) -> Photo:
        faults = Faults()
        check_phrases(faults, self.skip, "skip", value=False)
        faults.tell()
        return self

    def offers(self, place: StepSetting) -> list[Offer]:
        """What leaves it out; no words take a photo."""
        phrases = in_language(self.skip, place.language)
        if not phrases:
            return []
        command = LeaveOutPhoto(section=place.holder, step=self.id)
        return [Offer(phrases, message("prompt-no-photo", photo=self.name), command, now=place.now)]

    def asked(self, language: str = WRITTEN_IN) -> Figure:
        """The question, where a photo is taken, and what leaves it out."""
        skip = in_language(self.skip, language)
        if skip:
            return message("prompt-ask-photo-or", ask=self.ask, phrase=skip[0])
        return message("prompt-ask-photo", ask=self.ask)


class AttachPhoto(Asked):
    """A photo, for the photo step at hand or as a remark at any time: the stored file's name and SHA-256.

    bare: where it was taken, with what and by whom was left out of the file before it was stored; copy_file,
    copy_sha256: of the copy that is printed, "" for none.
    """

    do: Literal["attach photo"] = "attach photo"
    file: Annotated[str, Field(max_length=120)]
    sha256: Sha256
    bare: bool = False
    copy_file: Annotated[str, Field(max_length=120)] = ""
    copy_sha256: MaySha256 = ""


class LeaveOutPhoto(AtStepAsked):
    """The photo at hand is not taken."""

    do: Literal["leave out photo"] = "leave out photo"


class PhotoLeftOut(AtStep):
    """A photo that was asked for was not taken. why: somebody said so, or went on with the step behind it."""

    type: Literal["photo left out"] = "photo left out"
    why: Literal["said", "went on"] = "said"


class PhotoAttached(AtStep):
    """A photo was stored, for a photo step or as a remark: then at the step at hand, or at none ("") between rounds.

    answers: whether it is what the step at hand asked for; bare: the file was stored without what the camera says of
    place, maker and owner; False: as it came; copy_file, copy_sha256: of the copy of at most 1,600 dots that is printed
    and goes with the pages, "" where none was made, and then the file itself is and does.
    """

    type: Literal["photo attached"] = "photo attached"
    file: Annotated[str, Field(max_length=120)]
    sha256: Sha256
    answers: bool
    bare: bool = False
    copy_file: Annotated[str, Field(max_length=120)] = ""
    copy_sha256: MaySha256 = ""


def asked_for(state: State) -> bool:
    """Whether the step at hand is a photo; any other photo is a remark and moves nothing."""
    return state.area is not None and isinstance(state.area.step, Photo)


def decide(draft: Draft, command: AttachPhoto) -> Answered | None:
    """The photo is kept; a photo step that was at hand is answered by it."""
    area = draft.state.area
    task, step = (area.task, area.step) if area is not None else (None, None)
    answers = asked_for(draft.state) and draft.state.pending is None
    if answers and area is not None and step is not None:
        draft.check_cautions()
        draft.check_role(step)
        draft.check_ready()
    draft.emit(
        PhotoAttached(
            area=area.plan.name if area else "",
            section=task.section if task else "",
            round=task.round if task else 0,
            step=task.step if task else "",
            file=command.file,
            sha256=command.sha256,
            answers=answers,
            bare=command.bare,
            copy_file=command.copy_file,
            copy_sha256=command.copy_sha256,
        )
    )
    draft.say(message("engine-photo-kept"))
    return (task, step, None) if answers and task is not None and step is not None else None


def leave_out(draft: Draft, command: LeaveOutPhoto) -> Answered:
    """The step goes on without its photo, where its checklist allows that."""
    area, task, step = draft.at_hand(command, Photo)
    if not any(step.skip.values()):
        raise draft.refusal("engine-photo-wanted", ask=step.ask)
    draft.emit(PhotoLeftOut(area=area.plan.name, section=task.section, round=task.round, step=step.id))
    draft.say(message("engine-photo-left-out"))
    return task, step, None


def fold_left_out(state: State, event: Event, body: PhotoLeftOut) -> State:
    """The step is answered, without a photo."""
    state = answered(state, event, body)
    return taken_back_with_next(state, body.area) if body.why == "went on" else state


def fold(state: State, event: Event, body: PhotoAttached) -> State:
    """It is known in its round; a photo that was asked for answers its step."""
    at = (body.area, body.section, body.round)
    state = changed(state, photos={**state.photos, at: (*state.photos.get(at, ()), body.sha256)})
    if not body.answers:
        return state
    sample = state.areas[body.area].sample
    if sample is None:
        return answered(state, event, body)
    held = state.areas[body.area].progress.samples
    kept = replace(sample, photos=(*sample.photos, body.file))
    return answered(state, event, body, samples={**held, sample.number: kept})


def tell(_: Listing, body: PhotoAttached) -> dict[str, Figure]:
    """The file, and whether place and camera were left out of it, for a list of events."""
    return {"file": body.file, "bare": "yes" if body.bare else "no"}


DECIDERS: Mapping[type, Any] = {AttachPhoto: decide, LeaveOutPhoto: leave_out}
FOLDS: Mapping[type, Any] = {PhotoAttached: fold, PhotoLeftOut: fold_left_out}


def tell_left_out(_: Listing, body: PhotoLeftOut) -> dict[str, Figure]:
    """Why, for a list of events."""
    return {"why": body.why.replace(" ", "-")}


TELLS = {PhotoAttached: tell, PhotoLeftOut: tell_left_out}
