"""The invented site's areas, as inputs."""

from __future__ import annotations

from fractions import Fraction

from fieldassist.assess.inputs import Entries, Inputs, area_inputs
from fieldassist.checklist.loader import load_folder, load_plan
from fieldassist.checklist.state import Area
from fieldassist.places import shipped
from fieldassist.trade.lifting import Constants
from fieldassist.trade.quantities import Quantity
from tests import SITE

PLAN = load_plan(SITE)
CHECKLISTS, _ = load_folder(shipped("checklists"))
AREAS = ("shower wall", "hall floor", "lobby wall")


def area_of(name: str) -> Area:
    """A planned area before it begins."""
    planned = PLAN.area(name)
    assert planned is not None
    return Area(planned, CHECKLISTS[planned.checklist], planned.method, named_methods=PLAN.methods)


def inputs(name: str, constants: Constants = "metric", **entries: object) -> Inputs:
    """The inputs of a planned area, with what somebody entered."""
    given: Entries = entries  # type: ignore[assignment]
    return area_inputs(area_of(name), constants, entries=given)


def mm(value: float) -> Quantity:
    return Quantity(Fraction(str(value)), "mm")


def kg(value: float) -> Quantity:
    return Quantity(Fraction(str(value)), "kg")


def inch(text: str) -> Quantity:
    return Quantity(Fraction(text), "in")


def bare(value: float) -> Quantity:
    return Quantity(Fraction(str(value)), "count")
