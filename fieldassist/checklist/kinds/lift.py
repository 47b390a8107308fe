"""A test tile is lifted. The readings of its section that follow say what its back shows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING, Annotated, Literal

from pydantic import Field, model_validator

from fieldassist.checklist.event_base import AtStep
from fieldassist.checklist.faults import Faults
from fieldassist.checklist.kinds.base import AS_ONE_LINE, AtStepAsked, Unjudged, check_phrases
from fieldassist.checklist.kinds.confirm import DONE
from fieldassist.checklist.kinds.reading import slot
from fieldassist.checklist.offers import VALUE, Offer, StepSetting
from fieldassist.checklist.state import LiftRecord, State, answered
from fieldassist.checklist.wording import Phrases
from fieldassist.trade.message import Figure, Spelled, message

if TYPE_CHECKING:
    from fieldassist.checklist.draft import Answered, Draft
    from fieldassist.checklist.events import Event
    from fieldassist.checklist.listing import Listing

LONGEST_LABEL = 40
Label = Annotated[str, Field(max_length=LONGEST_LABEL)]


class Lift(Unjudged):
    """Lifting a test tile. `quantity: label`: a phrase may name the tile, with {value}."""

    kind: Literal["lift"]
    say: Phrases
    quantity: Literal["label"] | None = None

    @model_validator(mode="after")
    def _check(self) -> Lift:
        faults = Faults()
        if not any(self.say.values()):
            faults.add("step-without-say", "say")
        check_phrases(faults, self.say, "say", value=self.quantity is not None)
        if self.on_fail is None:
            faults.add("step-without-on-fail")
        faults.tell()
        return self

    @property
    def spoken(self) -> Mapping[str, tuple[str, ...]]:
        """Its own phrases."""
        return self.say

    def offers(self, place: StepSetting) -> list[Offer]:
        """Its phrases: those that name the tile carry its name."""
        command = ConfirmLift(section=place.holder, step=self.id)
        phrases = self.phrases(place.language)
        plain = tuple(p for p in phrases if VALUE not in p)
        naming = tuple(p for p in phrases if VALUE in p)
        offers = []
        if plain:
            offers.append(Offer(plain + (DONE if place.at_hand else ()), self.called_done, command, now=place.now))
        if naming:
            offers.append(Offer(naming, self.name, command, slot("label", (), None, place.system), place.now))
        return offers


class ConfirmLift(AtStepAsked):
    """A test tile was lifted. `label` tells which one."""

    do: Literal["confirm lift"] = "confirm lift"
    label: Annotated[Label, AS_ONE_LINE] | None = None


class TileLifted(AtStep):
    """A test tile was lifted: the lift's number in this area, and the tile's."""

    type: Literal["tile lifted"] = "tile lifted"
    lift: int
    tile: int
    label: Label | None = None


def decide(draft: Draft, command: ConfirmLift) -> Answered:
    """The tile is lifted, if its step is at hand. A name that was heard is said back."""
    area, task, step = draft.at_hand(command, Lift)
    draft.emit(
        TileLifted(
            area=area.plan.name,
            section=task.section,
            round=task.round,
            step=step.id,
            lift=max(area.progress.lifts, default=0) + 1,
            tile=area.progress.targets[(task.section, task.round)].tile,
            label=command.label,
        )
    )
    if command.label is not None and draft.source.how == "spoken":
        draft.say(message("engine-lift-named", name=Spelled(command.label)))
    return task, step, None


def fold(state: State, event: Event, body: TileLifted) -> State:
    """The lift is counted. The tile is off until it is put back."""
    progress = state.areas[body.area].progress
    tile = progress.tiles[body.tile]
    lift = LiftRecord(
        number=body.lift,
        tile=body.tile,
        order=tile.order,
        run=tile.run,
        came=progress.targets[(body.section, body.round)].came,
        section=body.section,
        round=body.round,
        lifted=event.seq,
        at=event.at,
        label=body.label,
        by=event.by,
    )
    off = replace(tile, put_back="")
    return answered(
        state,
        event,
        body,
        lifts={**progress.lifts, body.lift: lift},
        tiles={**progress.tiles, tile.number: off},
    )


def tell(_: Listing, body: TileLifted) -> dict[str, Figure]:
    """The lift and the tile, for a list of events."""
    return {"lift": str(body.lift), "tile": str(body.tile), "label": body.label or "none"}


DECIDERS = {ConfirmLift: decide}
FOLDS = {TileLifted: fold}
TELLS = {TileLifted: tell}
