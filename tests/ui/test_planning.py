"""The figures of an area agree with the catalog of computations and with published examples."""

from __future__ import annotations

from datetime import datetime
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fieldassist.assess.inputs import FIELDS, Entries, Field, Inputs, Value, day_inputs, entered, unbelievable
from fieldassist.checklist import cautions
from fieldassist.checklist import commands as cmd
from fieldassist.checklist.fields import write_quantity
from fieldassist.checklist.moment import SPOKEN
from fieldassist.checklist.state import State
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.session import Day
from fieldassist.language import Words
from fieldassist.trade.catalog import Result, evaluate
from fieldassist.trade.quantities import Quantity, System, format_quantity
from fieldassist.ui.content.planning import Part, PlanSheet, work_out
from tests.assess.areas import CHECKLISTS, PLAN, inch, mm

METRIC, US = Words(units="metric"), Words(units="us")
# ANSI A108.5 §3.3.2 (2017): three. Of four panels one in three, rounded up: ours, no published source.
LEAST_LIFTS = {"shower wall": 3, "hall floor": 3, "lobby wall": 2}


def inputs(name: str, entries: Entries | None = None, **more: Value) -> Inputs:
    given: Entries = {**(entries or {}), **more}  # type: ignore[dict-item]
    return day_inputs(State(plan=PLAN, checklists=CHECKLISTS), name, given)


def text(given: Inputs, field: Field) -> str:
    value = given.given(field).value
    return write_quantity(value).removesuffix(" count") if isinstance(value, Quantity) else str(value)


def part(sheet: PlanSheet, title: str) -> Part:
    return next(part for part in sheet.parts if part.title == title)


def words(sheet: PlanSheet, title: str) -> str:
    return "\n".join(f"{f.title}: {f.value} | {f.words} | {f.basis}" for f in part(sheet, title).figures)


def value(results: tuple[Result, ...], name: str) -> Result:
    return next(result for result in results if result.name == name)


def told(results: tuple[Result, ...], name: str, language: Words) -> str:
    return language(value(results, name).told)


@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("area", ["shower wall", "hall floor", "lobby wall"])
def test_every_figure_is_that_of_the_catalog(area: str, units: System) -> None:
    have = inputs(area, base=mm(1.5), cups=Quantity(Fraction(60), "kg"))
    language = Words(units=units)
    sheet = work_out(have, language)
    at = lambda key: text(have, key)  # noqa: E731
    notch = {
        "notch-family": at("family"),
        "notch-width": at("width"),
        "notch-depth": at("depth"),
        "notch-spacing": at("spacing"),
    }
    held = {**notch, "trowel-angle": at("angle")}
    sheet_limits = {"mortar": at("mortar"), "least-bed": at("least"), "greatest-bed": at("most")}
    setting = {"product": have.product, "place": have.place, "surface": have.surface}
    required = value(evaluate("required-coverage", setting), "least contact")
    tile = f"{at('length')} x {at('breadth')}"

    bed = evaluate("bed", {**held, "sides": at("sides")}, system=units)
    assert f"Bed after collapse, mean: {told(bed, 'bed after full collapse', language)} " in words(
        sheet, "Bed and contact"
    )

    advice = evaluate(
        "notch-advice",
        {
            **held,
            **sheet_limits,
            "tile": tile,
            "warpage": at("warpage"),
            "substrate": "1.5 mm",
            "contact": f"{required.value} %",
            "setting": at("setting"),
        },
        system=units,
    )
    [own] = [r for r in advice if isinstance(r.value, str) and f", {at('sides')} side" in r.name]
    assert sheet.verdict.works == (own.value == "ridges-works")
    for reason in language(own.told).split(": ", 1)[1].split("; "):
        assert reason[1:] in " ".join(sheet.verdict.reasons)

    both = evaluate("two-sided", {**held, **sheet_limits}, system=units)
    bed_of_both = f"{told(both, 'bed after full collapse', language)}: {value(both, 'bed').value}"
    assert bed_of_both in words(sheet, "Bed and contact")
    slide, air = evaluate("slide", notch, system=units), evaluate("air-path", {"tile": tile}, system=units)
    assert told(slide, "instruction", language) in words(sheet, "Setting")
    assert told(air, "advice", language) in words(sheet, "Setting")

    bags = evaluate(
        "bags",
        {
            "area": at("area"),
            "bed": f"{value(evaluate('bed', {**held, 'sides': at('sides')}), 'mortar per area').value} mm",
            "bag-mass": at("bag"),
            "bag-yield": at("bag_yield"),
            "water-per-bag": at("water"),
            "waste": at("waste"),
        },
        system=units,
    )
    needed = words(sheet, "Bags and water")
    assert f"{value(bags, 'bags to bring').value} to bring" in needed
    assert told(bags, "water", language) in needed
    assert told(bags, "powder", language) in needed

    least, tiles = part(sheet, "Tiles to lift").figures[0].value.split(" of about ")
    assert int(least) == LEAST_LIFTS[area]
    assert told(evaluate("lifts-needed", {"lot": tiles}), "words", language) in words(sheet, "Tiles to lift")
    proof = evaluate("lifts-prove", {"good": least, "lifted": least, "lot": tiles})
    assert told(proof, "words", language) in words(sheet, "Tiles to lift")


def test_published_and_hand_worked_examples_come_out() -> None:
    # ISO 13007-2:2013 §4.1: notches of 6 x 6 mm at 12 mm centres, at about 60 degrees: 2.6 mm of bed.
    six = mm(6)
    laboratory = work_out(inputs("shower wall", depth=six, width=six, spacing=six), METRIC)
    assert "Bed after collapse, mean: 2.6 mm " in words(laboratory, "Bed and contact")
    # Bulletin 18 of the Materials and Methods Standards Association (May 2020): thin-set up to 1/4 in.
    thin = work_out(inputs("hall floor", mortar="thin-set", least=inch("3/32"), most=inch("1/4"), sides="both"), US)
    assert thin.verdict.works is False
    assert "above the most this mortar allows, 1/4 in" in " ".join(thin.verdict.reasons)


def test_a_notch_that_cannot_work_names_the_nearest_that_can() -> None:
    sheet = work_out(inputs("hall floor"), METRIC)
    assert sheet.verdict.works is False
    assert [one.removeprefix("Would work: ").split(" (")[0] for one in sheet.verdict.others][1:] == [
        "large slanted",
        "half inch slanted",
    ]


def test_where_nothing_can_work_the_base_is_sent_back() -> None:
    sheet = work_out(inputs("hall floor", base=mm(20)), METRIC)
    assert sheet.verdict.others == ()
    assert "flatten the base" in sheet.verdict.no_way
    assert sheet.at_limit is None


def test_an_unmeasured_base_is_called_assumed_and_its_limit_judged_beside_it() -> None:
    sheet = work_out(inputs("shower wall"), METRIC)
    [line] = [line for line in sheet.lines if line.field == "base"]
    assert (line.text, line.origin) == ("0 mm", "assumed")
    assert "ASSUMED true" in sheet.verdict.brief
    # ANSI A108.02 §4.2.2: 1/8 in for an edge of 15 in and more, as reported in trade literature.
    assert sheet.at_limit is not None
    assert "(3.2 mm): does not work" in sheet.at_limit.title
    assert "82.8 %" in sheet.at_limit.reasons[0]


def test_a_square_notch_stays_square_and_one_that_cannot_be_says_so() -> None:
    have = inputs("shower wall")
    assert entered(have, "depth", mm(12)) == {"depth": mm(12), "width": mm(12)}
    wrong = work_out(inputs("shower wall", depth=mm(12)), METRIC)
    assert wrong.verdict.works is None
    assert "as deep as it is wide" in wrong.verdict.reasons[0]
    assert "as deep as it is wide" in part(wrong, "Bags and water").problem
    assert part(wrong, "Weight and lifting").figures


@st.composite
def anything(draw: st.DrawFn) -> dict[Field, Value]:
    found: dict[Field, Value] = {}
    for field in draw(st.lists(st.sampled_from(list(FIELDS)), max_size=12, unique=True)):
        kind = FIELDS[field]
        if field == "conditions":
            found[field] = draw(st.frozensets(st.sampled_from(kind.options)))  # type: ignore[assignment]
        elif kind.options:
            found[field] = draw(st.sampled_from(kind.options))
        else:
            number = draw(st.floats(kind.least, kind.greatest) | st.sampled_from([kind.least, kind.greatest]))
            found[field] = Quantity(Fraction(repr(number)), kind.units[0])
    return found


@settings(max_examples=150, deadline=None)
@given(st.sampled_from([area.name for area in PLAN.areas]), anything(), st.sampled_from([METRIC, US]))
def test_whatever_is_believable_is_answered_with_figures_or_with_a_reason(
    area: str, entries: dict[Field, Value], language: Words
) -> None:
    assert not [field for field, value in entries.items() if isinstance(value, Quantity) and unbelievable(field, value)]
    sheet = work_out(inputs(area, entries), language)
    assert all(part.figures or part.problem for part in sheet.parts)
    assert sheet.verdict.works or sheet.verdict.reasons


def test_a_number_that_cannot_be_right_is_refused_in_the_readers_units() -> None:
    assert unbelievable("depth", mm(12)) is None
    long, deep = unbelievable("depth", mm(3000)), unbelievable("depth", inch("90"))
    assert long is not None
    assert deep is not None
    assert METRIC(long).startswith("3000 mm cannot be right here: 1 mm to 40 mm is.")
    assert US(deep).startswith("90 in cannot be right here:")
    assert unbelievable("angle", Quantity(Fraction(45), "count")) is None


def test_the_kept_reading_of_the_base_is_taken_and_one_taken_back_is_not(tmp_path: Path) -> None:
    clock = SimulatedClock(datetime.fromisoformat("2026-03-17T06:45:00+01:00"))
    with Day.begin(tmp_path / "day.db", PLAN, CHECKLISTS, clock) as day:
        day.do(cmd.SpeakAs(name="rosa"))
        day.do(cmd.StartArea(area="shower wall"))
        area = day.state.areas["shower wall"]
        while area.step is None or area.step.id != "flatness":
            assert area.task is not None
            assert area.step is not None
            if cautions.due(day.state, area, clock.now()):
                assert day.do(cmd.AcknowledgeCaution()).taken
            elif area.step.kind == "reading":
                reading = cmd.GiveReading(
                    section=area.task.section, step=area.step.id, value=Fraction(18), unit=area.step.units[0]
                )
                assert day.do(reading).taken, area.step.id
                assert day.do(cmd.Keep()).taken
            else:
                assert day.do(cmd.ConfirmStep(section=area.task.section, step=area.step.id)).taken, area.step.id
            area = day.state.areas["shower wall"]
        assert area.task is not None
        spoken = cmd.GiveReading(section=area.task.section, step="flatness", value=Fraction(5, 2), unit="mm")
        day.do(spoken, SPOKEN)
        assert base(day.state) == ("0 mm", "assumed")
        day.do(cmd.Keep())
        assert base(day.state) == ("2.5 mm", "measured")
        measured = work_out(day_inputs(day.state, "shower wall"), METRIC)
        assert measured.at_limit is None
        assert "ASSUMED" not in measured.verdict.brief
        day.do(cmd.Withdraw())
        assert base(day.state) == ("0 mm", "assumed")


def base(state: State) -> tuple[str, str]:
    given = day_inputs(state, "shower wall").base
    return format_quantity(given.value.value, given.value.unit), given.origin
