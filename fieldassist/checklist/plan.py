"""The day's plan: site, crew and areas, as the foreman writes it down before work starts."""

from __future__ import annotations

from enum import StrEnum
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints, model_validator

from fieldassist.checklist.faults import Faults
from fieldassist.checklist.fields import Area, Duration, Length, Mass, Temperature, Volume

Text = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=400)]
# A name is spoken, so it is words: no digits or punctuation that nobody pronounces.
SpokenName = Annotated[
    str, StringConstraints(strip_whitespace=True, to_lower=True, pattern=r"^[A-Za-z]+( [A-Za-z]+){0,5}$")
]


class Role(StrEnum):
    """Who may do what: a hold point names the role that releases it."""

    INSTALLER = "installer"
    FOREMAN = "foreman"
    OWNER = "owner"


class Written(BaseModel):
    """Base of everything read from a file: unknown fields are mistakes, values never change."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class Person(Written):
    """One of the crew; `name` is how the person is called when the tablet is told who speaks."""

    name: SpokenName
    role: Role


class Piece(Written):
    """The tile or panel of an area."""

    product: Literal["tile", "natural stone", "gauged panel"]
    length: Length
    width: Length
    thickness: Length
    warpage: Length | None = None
    weighed: Mass | None = None
    rectified: bool = True


class Mortar(Written):
    """What the mortar's data sheet says; only the name and kind are needed, the rest falls back on standards."""

    name: Text
    kind: Literal["thin-set", "large-and-heavy-tile"]
    marking: str = ""
    pot_life: Duration
    open_time: Duration
    slake: Duration | None = None
    least_bed: Length | None = None
    greatest_bed: Length | None = None
    coldest: Temperature | None = None
    hottest: Temperature | None = None
    bag: Mass | None = None
    bag_yield: Volume | None = None
    water_per_bag: Volume | None = None


class Trowel(Written):
    """Notch and method. `sides`: mortar combed on the base only, or on base and tile."""

    family: Literal["square", "rectangular", "U", "V", "slanted", "ridge-collapse", "half-round"]
    width: Length
    depth: Length
    spacing: Length
    angle: Annotated[float, Field(gt=0, le=90)] = 45.0
    sides: Literal["one", "both"] = "one"


class AreaPlan(Written):
    """One area of the day: where it is, what is set there and with what."""

    name: SpokenName
    checklist: Text
    where: Text
    size: Area
    piece: Piece
    mortar: Mortar
    trowel: Trowel
    joint: Length | None = None


class DayPlan(Written):
    """Site, date, crew and areas."""

    site: Text
    address: str = ""
    owner: str = ""
    date: Annotated[str, StringConstraints(pattern=r"^\d{4}-\d{2}-\d{2}$")]
    units: Literal["metric", "us"] = "metric"
    crew: Annotated[tuple[Person, ...], Field(min_length=1)]
    areas: Annotated[tuple[AreaPlan, ...], Field(min_length=1)]
    notches: dict[SpokenName, Trowel] = Field(default_factory=dict)

    @model_validator(mode="after")
    def _names_are_told_apart(self) -> DayPlan:
        faults = Faults()
        for place, names in (("people", [p.name for p in self.crew]), ("areas", [a.name for a in self.areas])):
            for index, name in enumerate(names):
                if name in names[:index]:
                    at = "crew" if place == "people" else "areas"
                    faults.add(f"{place}-share-name", at, index, "name", given=name)
        if not any(p.role is Role.FOREMAN for p in self.crew):
            faults.add("crew-without-foreman", "crew")
        faults.tell()
        return self

    def person(self, name: str) -> Person | None:
        """The crew member called `name`, or None."""
        return next((p for p in self.crew if p.name == name), None)

    def area(self, name: str) -> AreaPlan | None:
        """The planned area called `name`, or None."""
        return next((a for a in self.areas if a.name == name), None)
