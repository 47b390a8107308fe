"""A limit as it is shown passes when it is read back, one step of the tool beyond it fails: through the day's own path.

Every rule that a checklist may name, every unit of what it measures, the demo's plan and plans at random.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist import rules
from fieldassist.checklist.engine import Decision, decide
from fieldassist.checklist.fields import unit_names
from fieldassist.checklist.fold import fold
from fieldassist.checklist.moment import Moment
from fieldassist.checklist.plan import DayPlan
from fieldassist.checklist.prompt import prompt
from fieldassist.checklist.schema import Checklist
from fieldassist.checklist.state import State
from fieldassist.language import Words
from fieldassist.trade.basis import PRACTICE
from fieldassist.trade.limits import Limit, Side
from fieldassist.trade.quantities import (
    FractionOfInch,
    Quantity,
    System,
    as_written,
    decimals_of,
    format_quantity,
    parse_quantity,
)
from tests.checklist.days import site

NOW = Moment(wall="2026-03-17T07:00:00+01:00", mono=1.0, boot="b")
# What a reading under each rule measures.
MEASURES = {
    "required coverage": "coverage",
    "largest void": "void",
    "base flatness": "length",
    "base flatness, short span": "length",
    "lippage": "length",
    "bed": "length",
    "working temperature": "temperature",
    "slide": "length",
    "water": "volume",
}
DIMENSIONS = {"coverage": "percent", "void": "area"}
SETTINGS = [(place, surface) for place in ("dry", "wet", "exterior") for surface in ("wall", "floor")]
_END = re.compile(r"at (least|most) (.+?)(?= and at |$)")


def test_every_rule_is_tried() -> None:
    assert set(MEASURES) == set(rules.LIMITS)


def at_the_step(rule: str, plan: DayPlan, place: str = "wet", surface: str = "wall") -> State:
    """A day in which a reading under this rule is asked for."""
    quantity = MEASURES[rule]
    area = plan.areas[0]
    checklist = Checklist.model_validate(
        {
            "checklist": "one-limit",
            "edition": 1,
            "title": "One limit",
            "place": place,
            "surface": surface,
            "products": ["tile", "natural stone", "gauged panel"],
            "sections": [
                {
                    "id": "first",
                    "title": "First",
                    "when": "start",
                    "steps": [{"id": "go", "ask": "Go?", "say": ["go"]}],
                },
                {
                    "id": "only",
                    "title": "Only",
                    "when": "called",
                    "called": ["mix"],
                    "changes": "batch",
                    "steps": [
                        {
                            "id": "bags",
                            "kind": "reading",
                            "ask": "How many bags?",
                            "quantity": "bags",
                            "units": ["count"],
                            "batch": "bags",
                        },
                        {
                            "id": "read",
                            "kind": "reading",
                            "ask": "How much?",
                            "quantity": quantity,
                            "units": unit_names(DIMENSIONS.get(quantity, quantity)),
                            "limit": {"rule": rule},
                            "on_fail": "mend",
                        },
                    ],
                },
            ],
            "correctives": [
                {"id": "mend", "title": "Mend", "steps": [{"id": "mended", "ask": "Mend it.", "say": ["mended"]}]}
            ],
        }
    )
    only = area.model_copy(update={"checklist": "one-limit"})
    state = State()
    for command in (
        cmd.OpenDay(plan=plan.model_copy(update={"areas": (only,)}), checklists=(checklist,)),
        cmd.SpeakAs(name=plan.crew[0].name),
        cmd.StartArea(area=only.name),
        cmd.ConfirmStep(section="first", step="go"),
        cmd.StartRound(section="only"),
        cmd.GiveReading(section="only", step="bags", value=Fraction(3, 2)),
        cmd.Keep(),
    ):
        came = decide(state, command, NOW, f"{command.do} {state.last_seq}")
        if not isinstance(came, Decision):
            assume(False)
            raise AssertionError
        state = fold(came.events, state)
    # Of any notch: what leaves a bed that the mortar does not allow waits for the foreman's word.
    if state.area is not None and state.area.doubt is not None:
        came = decide(state, cmd.VouchMethod(name="edwin"), NOW, "vouch")
        assert isinstance(came, Decision)
        state = fold(came.events, state)
    return state


def verdict(state: State, read: Quantity) -> str | None:
    """What a reading comes to that is said and kept."""
    given = cmd.GiveReading(section="only", step="read", value=read.value, unit=read.unit)
    came = decide(state, given, NOW, given.do)
    assert isinstance(came, Decision), f"{read}: {came}"
    waiting = fold(came.events, state)
    if waiting.pending is not None:
        came = decide(waiting, cmd.Keep(), NOW, "keep")
        assert isinstance(came, Decision), f"{read}: {came}"
    (kept,) = (event.body for event in came.events if isinstance(event.body, ev.ReadingKept))
    return kept.verdict


def shown_ends(state: State, words: Words) -> Iterator[tuple[Side, Quantity]]:
    """The ends of the limit as a person reads them off the screen."""
    required = prompt(state, NOW).requirement
    assert required is not None
    text = words(required)
    found = _END.findall(text)
    assert found, text
    for side, figure in found:
        yield ("at least" if side == "least" else "at most"), parse_quantity(figure)


def ends_in(state: State, unit: str) -> Iterator[tuple[Side, Quantity]]:
    """The ends as they are shown in one unit."""
    area = state.area
    assert area is not None
    assert area.step is not None
    criterion = area.criterion(area.step)
    assert criterion is not None
    limit = Limit(criterion.at_least, criterion.at_most, criterion.unit, PRACTICE)
    for side, _ in limit.ends:
        told = limit.shown(side, unit)
        yield side, parse_quantity(format_quantity(told.value, told.unit, decimals=told.decimals))


def step_of(read: Quantity, text_decimals: int) -> Fraction:
    """One step of the tool: a mark of the tape where a fraction is shown, otherwise the last decimal."""
    if isinstance(as_written(read.value, read.unit), FractionOfInch):
        return Fraction(1, 32)
    return Fraction(1, 10**text_decimals)


def check(state: State, side: Side, read: Quantity) -> None:
    """The figure passes; a step beyond it fails."""
    assert verdict(state, read) == "passed", f"{side} {read} is shown and does not pass"
    decimals = max(decimals_of(read.value, read.unit), len(str(float(read.value)).partition(".")[2].rstrip("0")))
    step = step_of(read, decimals)
    beyond = Quantity(read.value + (step if side == "at most" else -step), read.unit)
    assert verdict(state, beyond) == ("over" if side == "at most" else "under"), f"{beyond}, beyond {side} {read}"


def check_all(state: State, units: System) -> None:
    for side, read in shown_ends(state, Words(units=units)):
        check(state, side, read)


@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("rule", rules.LIMITS)
def test_a_limit_of_the_demos_plan_as_it_is_shown_passes_and_a_step_beyond_fails(rule: str, units: System) -> None:
    plan = site(units)
    for area in plan.areas:
        for place, surface in SETTINGS:
            state = at_the_step(rule, plan.model_copy(update={"areas": (area,)}), place, surface)
            check_all(state, units)


@pytest.mark.parametrize("rule", rules.LIMITS)
def test_in_every_unit_a_limit_as_it_is_shown_passes_and_a_step_beyond_fails(rule: str) -> None:
    plan = site("metric")
    for area in plan.areas:
        for place, surface in SETTINGS:
            state = at_the_step(rule, plan.model_copy(update={"areas": (area,)}), place, surface)
            assert state.area is not None
            for unit in state.area.step.units:
                for side, read in ends_in(state, unit):
                    check(state, side, read)


# --- plans at random ----------------------------------------------------------------------------------------------


def lengths(low: int, high: int) -> st.SearchStrategy[str]:
    """Lengths as people write them: to the tenth of a millimetre, or in fractions of an inch."""
    inches = st.integers(max(1, low * 32 // 25), high * 32 // 25).map(lambda marks: f"{marks}/32 in")
    return st.one_of(st.integers(low * 10, high * 10).map(lambda n: f"{n / 10:g} mm"), inches)


def temperatures(low: int, high: int) -> st.SearchStrategy[str]:
    return st.one_of(
        st.integers(low * 2, high * 2).map(lambda n: f"{n / 2:g} degC"),
        st.integers(low * 9 // 5 + 32, high * 9 // 5 + 32).map(lambda n: f"{n} degF"),
    )


MINUTES = st.integers(1, 600).map(lambda tenths: f"{tenths / 10:g} min")
SHEETS = st.fixed_dictionaries(
    {
        "name": st.just("Sample"),
        "kind": st.sampled_from(["thin-set", "large-and-heavy-tile"]),
        "pot_life": st.just("90 min"),
        "open_time": st.just("20 min"),
        "water_per_bag": st.integers(20, 90).map(lambda tenths: f"{tenths / 10} L"),
    },
    optional={
        "slake": MINUTES,
        "least_bed": lengths(1, 5),
        "greatest_bed": lengths(6, 25),
        "coldest": temperatures(0, 15),
        "hottest": temperatures(20, 50),
    },
)
PIECES = st.fixed_dictionaries(
    {
        "product": st.sampled_from(["tile", "natural stone", "gauged panel"]),
        "length": lengths(100, 3000),
        "width": lengths(100, 1600),
        "thickness": lengths(4, 20),
    },
    optional={"warpage": lengths(0, 3)},
)
WIDTHS = lengths(2, 30)
METHODS = st.one_of(
    st.builds(lambda w, s: {"family": "square", "width": w, "depth": w, "spacing": s}, WIDTHS, WIDTHS),
    st.builds(
        lambda f, w, d, s: {"family": f, "width": w, "depth": d, "spacing": s},
        st.sampled_from(["rectangular", "U", "V", "slanted", "ridge-collapse", "half-round"]),
        WIDTHS,
        WIDTHS,
        WIDTHS,
    ),
)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.filter_too_much, HealthCheck.too_slow])
@given(
    rule=st.sampled_from(sorted(rules.LIMITS)),
    setting=st.sampled_from(SETTINGS),
    units=st.sampled_from(["metric", "us"]),
    piece=PIECES,
    sheet=SHEETS,
    method=METHODS,
    joint=st.one_of(st.none(), lengths(2, 12)),
)
def test_a_limit_of_any_plan_as_it_is_shown_passes_and_a_step_beyond_fails(
    rule: str,
    setting: tuple[str, str],
    units: System,
    piece: Mapping[str, Any],
    sheet: Mapping[str, Any],
    method: Mapping[str, Any],
    joint: str | None,
) -> None:
    area = {
        **{"name": "hall", "checklist": "one-limit", "where": "here", "size": "10 m2", "joint": joint},
        **{"piece": piece, "mortar": sheet, "method": method},
    }
    crew = [{"name": "edwin", "role": "foreman"}]
    plan = DayPlan.model_validate(
        {"site": "Any", "date": "2026-03-17", "units": units, "crew": crew, "areas": [area], "methods": {}}
    )
    state = at_the_step(rule, plan, *setting)
    check_all(state, units)
    assert state.area is not None
    for unit in state.area.step.units:
        for side, read in ends_in(state, unit):
            check(state, side, read)
