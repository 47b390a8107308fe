"""What all events are made of."""

from __future__ import annotations

from typing import Annotated

from pydantic import BaseModel, ConfigDict, Field

Name = Annotated[str, Field(max_length=80)]
Id = Annotated[str, Field(max_length=60)]


class Fact(BaseModel):
    """The body of an event: what happened, in figures and decisions, never changed afterwards."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class AtStep(Fact):
    """Something that happened at a step of a round."""

    area: Name
    section: Id
    round: int
    step: Id


class StepPlace(Fact):
    """A step of a round, named in an event about something else."""

    section: Id
    round: int
    step: Id
