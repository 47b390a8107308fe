"""What Plan, Safety, the daily log and the catalog say of one piece is one figure."""

from __future__ import annotations

import tempfile
from datetime import datetime
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fieldassist.assess.handling import ROUNDING, Handling, handling
from fieldassist.assess.inputs import Inputs, area_inputs, day_inputs
from fieldassist.checklist import commands as cmd
from fieldassist.checklist.fields import write_quantity
from fieldassist.checklist.plan import AreaPlan, DayPlan
from fieldassist.checklist.state import Area, State
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.session import Day
from fieldassist.facts.build import day_facts
from fieldassist.language import Words
from fieldassist.report.build.area import area_pages
from fieldassist.trade.catalog import Result, evaluate
from fieldassist.trade.message import Message
from fieldassist.trade.quantities import Quantity
from fieldassist.ui.content import planning, safety
from tests.assess.areas import AREAS, CHECKLISTS, PLAN, area_of


def value(results: tuple[Result, ...], name: str) -> float | None:
    found = next(result for result in results if result.name == name).value
    assert found is None or isinstance(found, float | int)
    return found


def spelled(given: Quantity) -> str:
    return write_quantity(given).removesuffix(" count")


def from_the_catalog(inputs: Inputs) -> dict[str, float | int | None]:
    """The same questions, with every input spelled out."""
    sides = {"length": spelled(inputs.length.value), "width": spelled(inputs.breadth.value)}
    weighed = {} if inputs.weighed.value is None else {"weighed": spelled(inputs.weighed.value)}
    thickness = spelled(inputs.thickness.value)
    weight = value(evaluate("piece-weight", {**sides, **weighed, "thickness": thickness}), "weight")
    assert weight is not None
    load = f"{weight:.9f} kg"
    limit = evaluate(
        "lifting-limit",
        {
            "reach": spelled(inputs.reach.value),
            "height": spelled(inputs.height.value),
            "to-reach": spelled(inputs.end_reach.value),
            "to-height": spelled(inputs.end_height.value),
            "turn": spelled(inputs.turn.value),
            "lifts-per-minute": spelled(inputs.pace.value),
            "duration": inputs.duration.value,
            "grip": inputs.grip.value,
            "load": load,
            "constants": inputs.constants,
            "rounding": ROUNDING,
        },
    )
    try:
        people = value(
            evaluate("people-needed", {"weight": load, "single-limit": spelled(inputs.single_limit.value)}), "people"
        )
    except ValueError:
        people = None
    index = next((r.value for r in limit if r.name == "lifting index"), None)
    assert index is None or isinstance(index, float | int)
    return {"weight": weight, "limit": value(limit, "limit that governs"), "index": index, "team": people}


def agrees_with_the_catalog(found: Handling, inputs: Inputs) -> None:
    said = from_the_catalog(inputs)
    assert said["weight"] == pytest.approx(found.weight_kg)
    assert said["limit"] == pytest.approx(found.alone.equation_kg)
    assert said["index"] == (None if found.alone.index is None else pytest.approx(found.alone.index))
    team = said["team"]
    assert found.people == (None if team is None else team if found.alone.may else max(int(team), 2))


def screens_and_page_say(plan: DayPlan, area: AreaPlan, words: Words) -> tuple[list[str], Handling]:
    """What Plan, Safety and the daily log say of who may carry a piece, and what is to be said."""
    with tempfile.TemporaryDirectory() as folder:
        clock = SimulatedClock(datetime.fromisoformat("2026-03-17T06:45:00+01:00"))
        with Day.begin(Path(folder) / "day.db", plan, CHECKLISTS, clock) as day:
            assert day.do(cmd.SpeakAs(name=plan.crew[0].name)).taken
            assert day.do(cmd.StartArea(area=area.name)).taken
            state, events = day.state, tuple(day.log.events)
    inputs = day_inputs(state, area.name)
    facts = day_facts(events, ["0" * 64] * len(events), words)
    number = next(at for at, one in enumerate(facts.areas) if one.name == area.name)
    page = area_pages(facts, number, words).holds[0].text
    part = next(p for p in planning.work_out(inputs, words).parts if p.title == words(Message("plan-part-handling")))
    check = safety.check_lift(inputs, words)
    plan_says = f"{part.figures[1].value} {part.figures[2].value}"
    return [plan_says, f"{check.who} {check.alone[0]}", page], handling(inputs)


@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("name", AREAS)
def test_of_the_invented_sites_pieces_all_say_the_same(name: str, units: str) -> None:
    area = PLAN.area(name)
    assert area is not None
    words = Words(units=units)  # type: ignore[arg-type]
    said, found = screens_and_page_say(PLAN, area, words)
    assert set(said) == {words(found.told)}
    agrees_with_the_catalog(found, area_inputs(area_of(name), PLAN.units))


@pytest.mark.parametrize(
    ("name", "code", "people"),
    [("shower wall", "far-above", 2), ("hall floor", "nothing", 2), ("lobby wall", "nothing", None)],
)
def test_the_three_answers_of_the_invented_site(name: str, code: str, people: int | None) -> None:
    found = handling(area_inputs(area_of(name), PLAN.units))
    assert (found.alone.told.code, found.people) == (f"assess-alone-{code}", people)


lengths = st.integers(50, 3200).map(lambda n: Quantity(Fraction(n), "mm")) | st.integers(2, 120).map(
    lambda n: Quantity(Fraction(n), "in")
)
thicknesses = st.sampled_from(["6 mm", "10 mm", "3/8 in", "20 mm"])


@st.composite
def plans(draw: st.DrawFn) -> tuple[DayPlan, AreaPlan]:
    """The invented site in either system, with other pieces."""
    area = PLAN.areas[draw(st.integers(0, len(PLAN.areas) - 1))]
    piece = area.piece.model_validate(
        {
            **area.piece.model_dump(),
            "length": draw(lengths),
            "width": draw(lengths),
            "thickness": draw(thicknesses),
            "weighed": draw(st.none() | st.integers(1, 80).map(lambda n: Quantity(Fraction(n), "lb"))),
        }
    )
    changed = area.model_copy(update={"piece": piece})
    return PLAN.model_copy(update={"units": draw(st.sampled_from(["metric", "us"])), "areas": (changed,)}), changed


@settings(max_examples=12, deadline=None)
@given(plans(), st.sampled_from(["metric", "us"]))
def test_of_any_piece_screens_and_page_say_the_same(made: tuple[DayPlan, AreaPlan], units: str) -> None:
    plan, area = made
    words = Words(units=units)  # type: ignore[arg-type]
    said, found = screens_and_page_say(plan, area, words)
    assert set(said) == {words(found.told)}


@settings(max_examples=150, deadline=None)
@given(plans())
def test_of_any_piece_the_catalog_says_the_same(made: tuple[DayPlan, AreaPlan]) -> None:
    plan, planned = made
    inputs = area_inputs(Area(planned, CHECKLISTS[planned.checklist], planned.method), plan.units)
    agrees_with_the_catalog(handling(inputs), inputs)


def test_what_is_entered_on_one_screen_is_reckoned_with_on_the_other() -> None:
    state = State(plan=PLAN, checklists=CHECKLISTS)
    inputs = day_inputs(state, "shower wall", {"weighed": Quantity(Fraction(5), "kg"), "grip": "good"})
    words = Words(units="metric")
    part = planning.work_out(inputs, words).parts[2]
    check = safety.check_lift(inputs, words)
    assert part.figures[1].value == check.who
    assert part.assumed == check.assumed
    assert "bare edges" not in check.assumed
