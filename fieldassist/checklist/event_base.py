"""What all events are made of."""

from __future__ import annotations

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field

RecordedName = Annotated[str, Field(max_length=80)]
RecordedId = Annotated[str, Field(max_length=60)]


class EventBody(BaseModel):
    """The body of an event: what happened, in figures and decisions, never changed afterwards."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class AtStep(EventBody):
    """Something that happened at a step of a round."""

    area: RecordedName
    section: RecordedId
    round: int
    step: RecordedId


class StepPlace(EventBody):
    """A step of a round, named in an event about something else."""

    section: RecordedId
    round: int
    step: RecordedId
