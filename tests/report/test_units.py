"""One system of units in a document, whatever the crew measured with: figure by figure, and no page against itself."""

from __future__ import annotations

import copy
import dataclasses
import re
from collections.abc import Callable, Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any, Literal

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist.kinds.reading import JudgedBy
from fieldassist.report import sheet
from fieldassist.report.build import build_report
from fieldassist.report.build.words import ReportWords
from fieldassist.report.daily import lay_out, write_daily_pdf
from fieldassist.report.report_model import AreaReport, DayReport
from fieldassist.report.wording import CONVERSIONS
from fieldassist.trade.limits import judge
from fieldassist.trade.message import Compared, Text, message
from fieldassist.trade.quantities import Quantity, Units, canonical, convert_exact, parse_quantity, unit_in_system
from tests.report.conftest import CHECKLIST, Site, eventful_day, plan_of
from tests.report.conftest import words as text_of

OURS = Text.plain("common practice, no published source")
_NUMBER = r"(?:\d+-\d+/\d+|\d+/\d+|\d+\.\d+|\d+)"
_SYMBOLS = {
    "metric": ("mm²", "cm²", "m²", "mm", "cm", "m", "°C", "kg", "L"),
    "us": ("in²", "ft²", "in", "ft", "°F", "lb"),
}
ANY = re.compile(rf"-?{_NUMBER} (?:{'|'.join(s for both in _SYMBOLS.values() for s in both)}|%|min)(?![\w²])")


def quantities(text: str) -> list[str]:
    """Every quantity that stands in a text."""
    return ANY.findall(text)


def number(text: str) -> Fraction:
    """The number of the one quantity that a limit's words hold."""
    (told,) = quantities(text)
    return parse_quantity(told).value


def in_the_documents_units(text: str) -> Quantity:
    """The figure of a printed reading in the document's units: in brackets where it was read in the other ones."""
    inside = re.search(r"\((.*)\)$", text)
    return parse_quantity(inside[1] if inside else text)


# --- a reading beside its limit -----------------------------------------------------------------------------------

_LENGTHS = st.one_of(
    st.builds(lambda n: Quantity(Fraction(n, 64), "in"), st.integers(0, 640)),
    st.builds(lambda n: Quantity(Fraction(n, 1000), "in"), st.integers(0, 5_000)),
    st.builds(lambda n: Quantity(Fraction(n, 100), "mm"), st.integers(0, 10_000)),
    st.builds(lambda n: Quantity(Fraction(n, 1000), "cm"), st.integers(0, 10_000)),
)
_HEAT = st.builds(
    lambda n, unit: Quantity(Fraction(n, 10), unit), st.integers(-200, 1_200), st.sampled_from(["degC", "degF"])
)
_AREAS = st.builds(
    lambda n, unit: Quantity(Fraction(n, 100), unit), st.integers(0, 5_000), st.sampled_from(["cm2", "in2", "mm2"])
)
_PAIRS = st.one_of(st.tuples(_LENGTHS, _LENGTHS), st.tuples(_HEAT, _HEAT), st.tuples(_AREAS, _AREAS))


@given(_PAIRS, st.sampled_from(["at least", "at most"]), st.sampled_from(["metric", "us"]))
# 1/16 in is 1.5875 mm: what a tape calls 1/16 in may lie over it, and a figure rounded to a tenth may too.
@example((Quantity(Fraction(16, 10), "mm"), Quantity(Fraction(1, 16), "in")), "at most", "us")
@example((Quantity(Fraction(1, 16), "in"), Quantity(Fraction(1, 16), "in")), "at most", "metric")
@example((Quantity(Fraction(3, 16), "in"), Quantity(Fraction(3175, 1000), "mm")), "at most", "metric")
def test_a_printed_reading_and_its_printed_limit_agree_with_the_verdict(
    pair: tuple[Quantity, Quantity], side: Literal["at least", "at most"], units: Units
) -> None:
    read, end = pair
    ends = {"at_least": end.value} if side == "at least" else {"at_most": end.value}
    words = ReportWords(units, "2026-03-04")
    criterion = JudgedBy(rule="", unit=end.unit, basis=OURS, **ends)
    beside = words.beside(read, criterion)
    told, required = beside.read, beside.required
    unit = unit_in_system(read.unit, units)
    printed, limit = in_the_documents_units(told), parse_quantity(required.removeprefix(f"{side} "))
    assert printed.unit == limit.unit == unit
    passed = judge(read, ((side, end),)).passed
    assert (printed.value >= limit.value if side == "at least" else printed.value <= limit.value) == passed
    # What was read stands as it was read.
    assert parse_quantity(told.split(" (")[0]) == read
    if not passed:
        code = "limit-over" if side == "at most" else "limit-under"
        finding = words.finding(message(code, pair=Compared(read, end, side)), criterion)
        assert quantities(finding) == [*quantities(told), *quantities(required)]


@given(_HEAT, _HEAT, _HEAT, st.sampled_from(["metric", "us"]))
def test_a_reading_between_two_limits_agrees_with_both(
    read: Quantity, one: Quantity, two: Quantity, units: Units
) -> None:
    low, high = sorted(convert_exact(end.value, end.unit, "degC") for end in (one, two))
    criterion = JudgedBy(rule="", at_least=low, at_most=high, unit="degC", basis=OURS)
    beside = ReportWords(units, "2026-03-04").beside(read, criterion)
    least, most = (parse_quantity(text) for text in beside.required.removeprefix("at least ").split(" and at most "))
    inside = low <= convert_exact(read.value, read.unit, "degC") <= high
    assert (least.value <= in_the_documents_units(beside.read).value <= most.value) == inside


def test_a_finding_names_the_end_that_is_broken() -> None:
    words = ReportWords("metric", "2026-03-04")
    criterion = JudgedBy(rule="", at_least=Fraction(5), at_most=Fraction(35), unit="degC", basis=OURS)
    pair = Compared(Quantity(Fraction(104), "degF"), Quantity(Fraction(35), "degC"), "at most")
    # 104 °F is 40 °C: C = (F - 32) / 1.8.
    assert quantities(words.finding(message("limit-over", pair=pair), criterion)) == ["104 °F", "40 °C", "35 °C"]


def test_a_check_that_fails_again_is_told_in_the_figures_that_stand_beside_it() -> None:
    site = Site(plan_of(), tape_checklist()).speak("ana").do(cmd.StartArea(area="shower wall")).understood()
    site.read("conditions", "air-temperature", "21", "degC").read("conditions", "gap", "6.25", "mm")
    site.confirm("warm-up", "warmed").read("conditions", "gap", "4.7625", "mm")
    lines = build_report(site.events).areas[0].sequence
    still = next(x for x in lines if isinstance(site.events[x.seq - 1].body, ev.StillFailing) and x.kind == "failure")
    assert quantities(still.detail) == ["4.7625 mm", "3.1 mm"]


# --- the same day in both systems ---------------------------------------------------------------------------------


def tape_checklist() -> dict[str, Any]:
    """The tests' checklist, with lengths that are measured with a tape."""
    checklist = copy.deepcopy(CHECKLIST)
    gap: dict[str, Any] = {"kind": "reading", "quantity": "length", "units": ["mm", "in"], "on_fail": "warm-up"}
    # ANSI A108.02 §4.2.2 as reported: 1/8 in in 10 ft where an edge has 15 in or more; lippage 1/32 in and the warpage
    # where the joint is narrower than 1/4 in (§4.3.7).
    checklist["sections"][0]["steps"][1:1] = [
        {"id": "gap", "ask": "Gap?", "say": ["gap {value}"], **gap, "limit": {"rule": "base flatness"}},
        {"id": "edge", "ask": "Lippage?", "say": ["lippage {value}"], **gap, "limit": {"rule": "lippage"}},
        {"id": "slide", "ask": "Slide?", "say": ["slide {value}"], **gap, "limit": {"rule": "slide"}},
    ]
    return checklist


# Each reading as one crew takes it and as the other does: the same lengths, exactly.
READINGS = {
    "air-temperature": (("21", "degC"), ("69.8", "degF")),
    "gap": (("4.7625", "mm"), ("3/16", "in")),
    "edge": (("1.5875", "mm"), ("1/16", "in")),
    "slide": (("19.05", "mm"), ("3/4", "in")),
    "humidity": (("55", "percent"), ("55", "percent")),
}


def day_worked_in(units: Units) -> Site:
    """A day whose crew measures in these units; the first gap is too deep."""
    which = 1 if units == "us" else 0
    site = Site(plan_of(units), tape_checklist())
    site.speak("ana").do(cmd.StartArea(area="shower wall")).understood()
    for step, said in READINGS.items():
        site.read("conditions", step, *said[which])
        if step == "gap":
            site.confirm("warm-up", "warmed").read("conditions", "gap", *(("1/8", "in") if which else ("3.175", "mm")))
    site.release().batch().tile().lift_up("a").photo()
    void = ("9", "in2") if which else ("5806.44", "mm2")
    site.read("lift", "coverage", "88", "percent").read("lift", "void", *void)
    site.do(cmd.Choose(section="lift", step="corners", option="full"))
    return site.sign(accept_open=True)


@pytest.fixture(scope="module")
def reports() -> dict[tuple[str, str], DayReport]:
    """The day by the crew's units and by the document's."""
    days = {worked: day_worked_in(worked) for worked in ("metric", "us")}  # type: ignore[arg-type]
    return {
        (worked, printed): build_report(day.events, units=printed)  # type: ignore[arg-type]
        for worked, day in days.items()
        for printed in ("metric", "us")
    }


@pytest.mark.parametrize("printed", ["metric", "us"])
def test_a_day_reads_alike_figure_by_figure_whichever_tape_it_was_measured_with(
    reports: dict[tuple[str, str], DayReport], printed: Units
) -> None:
    one, other = (reports[worked, printed].areas[0] for worked in ("metric", "us"))
    pairs = list(zip(one.sequence, other.sequence, strict=True))
    compared = 0
    for a, b in pairs:
        assert (a.kind, a.what, a.verdict, a.withdrawn) == (b.kind, b.what, b.verdict, b.withdrawn)
        if a.kind == "reading" and a.criterion:
            own, their = (in_the_documents_units(x.reading) for x in (a, b))
            assert own.unit == their.unit
            # As many places as each needs: the same to a twentieth of a millimetre, or of a degree.
            assert canonical(own.value, own.unit) == pytest.approx(canonical(their.value, their.unit), abs=0.0501)
            assert number(a.criterion) == pytest.approx(number(b.criterion), rel=0.03)
            compared += 1
        elif a.kind == "reading" or a.kind == "round":
            assert quantities(a.detail) == quantities(b.detail)
    assert compared == 7


@pytest.mark.parametrize("printed", ["metric", "us"])
@pytest.mark.parametrize("worked", ["metric", "us"])
def test_a_gap_of_three_sixteenths_fails_an_eighth_in_the_documents_units(
    reports: dict[tuple[str, str], DayReport], worked: Units, printed: Units
) -> None:
    area = reports[worked, printed].areas[0]
    gap, again = [line for line in area.sequence if line.what == "Gap"]
    told = {
        ("metric", "metric"): ("4.7625 mm", "at most 3.1 mm", "4.7625 mm is over 3.1 mm"),
        ("us", "metric"): ("3/16 in (4.8 mm)", "at most 3.1 mm", "3/16 in (4.8 mm) is over 3.1 mm"),
        ("us", "us"): ("3/16 in", "at most 1/8 in", "3/16 in is over 1/8 in"),
        ("metric", "us"): ("4.7625 mm (3/16 in)", "at most 1/8 in", "4.7625 mm (3/16 in) is over 1/8 in"),
    }[worked, printed]
    assert (gap.reading, gap.criterion, gap.verdict) == (told[0], told[1], "failed")
    failure = next(f for f in area.failures if f.number == 1)
    assert quantities(gap.detail) == quantities(told[2])
    assert (failure.finding, failure.criterion) == (gap.detail, told[1])
    assert quantities(failure.checks[0].reading)[-1:] == quantities(again.reading)[-1:]
    # An eighth is 3.175 mm, and passes: its printed limit does not say 3.1 mm beside it.
    assert again.verdict == "passed"
    assert in_the_documents_units(again.reading).value <= number(again.criterion)


def texts(told: Any) -> Iterator[str]:
    """Every text of a part of the report."""
    if isinstance(told, str):
        yield told
    elif isinstance(told, tuple):
        for one in told:
            yield from texts(one)
    elif dataclasses.is_dataclass(told) and not isinstance(told, type):
        for name in (f.name for f in dataclasses.fields(told)):
            yield from texts(getattr(told, name))


def lines_of(area: AreaReport) -> tuple[Any, ...]:
    """What is told of an area, without the words of others: cautions, notes of the standard, names of bases."""
    return (
        area.setting, area.changes, area.need and (area.need.contact, area.need.void), area.sequence, area.batches,
        area.failures, area.withdrawn, area.holds, area.standing, area.set_in_order, area.periods, area.lifts,
        area.bags,
    )  # fmt: skip


@pytest.mark.parametrize("printed", ["metric", "us"])
@pytest.mark.parametrize("worked", ["metric", "us"])
def test_what_stands_in_the_other_system_was_read_in_it_and_has_the_documents_unit_beside_it(
    worked: Units, printed: Units, reports: dict[tuple[str, str], DayReport]
) -> None:
    other = _SYMBOLS["us" if printed == "metric" else "metric"]
    foreign = re.compile(rf"{_NUMBER} (?:{'|'.join(other)})(?![\w²])(?! \()")
    eventful = build_report(eventful_day(worked).events, units=printed)
    seen = 0
    for day in (reports[worked, printed], eventful):
        for area in day.areas:
            for text in texts(lines_of(area)):
                seen += len(quantities(text))
                assert not foreign.search(text), text
        for line in (*day.conditions, *day.open_points, *day.refused, *day.signatures[:1]):
            for text in texts(line):
                assert not foreign.search(text), text
    assert seen > 60


def test_the_other_system_stands_once_a_page(reports: dict[tuple[str, str], DayReport], tmp_path: Path) -> None:
    for printed, words in (("metric", "In US units: "), ("us", "In metric units: ")):
        day = reports["us", printed]
        feet = [page.foot for page in lay_out(day).pages]
        # An area's key figures stand under its setting, and at the foot of the pages on which it goes on.
        assert {foot for foot in feet if foot} == {f"{words}{area.other_units}" for area in day.areas}
        assert CONVERSIONS[day.units].startswith(words)
        piece = {"metric": "47-1/4 × 23-5/8 in", "us": "1200 × 600 mm"}[printed]
        assert piece in day.areas[0].other_units
        made = write_daily_pdf(day_worked_in("us").record(), tmp_path / f"{printed}.pdf", units=day.units)
        for number, foot in enumerate(feet, start=1):
            # The whole may be longer than a line.
            assert text_of(made.path, number).count((foot or CONVERSIONS[day.units])[:80]) >= 1


def test_key_figures_in_the_other_system_are_rounded_to_the_side_on_which_they_hold(raw_plan: Any) -> None:
    raw_plan["areas"][0]["mortar"] |= {"least_bed": "3 mm", "greatest_bed": "12 mm"}
    site = Site(raw_plan).start("shower wall")
    told = build_report(site.events).areas[0].other_units
    found = re.search(r"bed at least (\S+) in and at most (\S+) in; void at most (\S+) in²", told)
    assert found is not None
    assert Fraction(found[1]) >= Fraction(3) / Fraction(254, 10) > Fraction(found[1]) - Fraction(1, 1000)
    assert Fraction(found[2]) <= Fraction(12) / Fraction(254, 10) < Fraction(found[2]) + Fraction(1, 1000)
    # 2 in², as best practice for tile has it.
    assert Fraction(found[3]) == 2


@pytest.mark.parametrize("units", ["metric", "us"])
def test_the_conversions_at_the_foot_are_right(units: Units) -> None:
    # NIST SP 811 (2008), B.8: factors as `quantities` has them, to the places that are printed.
    for equation in CONVERSIONS[units].split(": ", 1)[1].split("; ")[:-1]:
        one, other = (parse_quantity(side) for side in equation.split(" = "))
        places = len(equation.rpartition(" = ")[2].split(" ")[0].partition(".")[2])
        assert one.value == 1
        exact = convert_exact(one.value, one.unit, other.unit)
        assert abs(other.value - exact) <= Fraction(1, 2 * 10**places)


# --- how values came ----------------------------------------------------------------------------------------------


def test_each_answer_says_how_it_came_to_the_tablet(a_site: Callable[..., Site]) -> None:
    site = a_site().start("shower wall").release().batch().tile()
    site.by("spoken", model="a-model", confidence=1.5).lift_up("a").photo()
    site.by("counted on a grid")
    site.do(cmd.GiveReading(section="lift", step="coverage", value=Fraction(97), unit="percent"))
    site.by("pressed").do(cmd.Keep())
    site.by("typed").read("lift", "void", "300", "mm2")
    site.do(cmd.Choose(section="lift", step="corners", option="full"))
    day = build_report(site.events)
    how = {line.what: line.source for line in day.areas[0].sequence if line.source is not None}
    # The reading came from the grid; that it was kept with a key is another matter.
    assert how["Coverage"].how == "counted on a grid"
    assert (how["Lifted"].how, how["Lifted"].confidence) == ("spoken", 1.5)
    assert how["Void"].how == "typed"
    (lift,) = day.areas[0].lifts
    assert lift.source is not None
    assert lift.source.how == "counted on a grid"
    assert day.models == ("a-model",)
    drawn = [step[6] for page in lay_out(day).pages for step in page.steps if step[0] == "text"]
    assert {"grid", "voice ?", "typed"} <= set(drawn)
    assert any(text.startswith("contact counted") for text in drawn)


# --- verdicts and cadence -----------------------------------------------------------------------------------------


def test_a_lift_of_which_something_was_not_read_is_neither_passed_nor_failed(a_site: Callable[..., Site]) -> None:
    site = a_site().start("shower wall").release().batch().tile().lift("97")
    judged = next(n for n, e in enumerate(site.events) if isinstance(e.body, ev.LiftJudged))
    body = site.events[judged].body.model_copy(
        update={"verdict": "not complete", "unread": (Text.plain("how large the largest void is"),)}
    )
    site.events[judged] = site.events[judged].model_copy(update={"body": body})
    day = build_report(site.events)
    (lift,) = day.areas[0].lifts
    assert (lift.verdict, lift.passed, lift.unread) == ("not complete", False, ("how large the largest void is",))
    line = next(x for x in day.areas[0].sequence if x.kind == "lift" and x.verdict is not None)
    assert (line.verdict, line.passed) == ("not complete", None)
    summary = day.summary
    assert (summary.lifts, summary.lifts_passed, summary.lifts_failed, summary.lifts_not_complete) == (1, 0, 0, 1)
    assert day.areas[0].verdict is not None
    assert day.areas[0].verdict.outcome == "not complete"
    drawn = {step[6] for page in lay_out(day).pages for step in page.steps if step[0] == "text"}
    assert {"open", "NOT COMPLETE"} & drawn == {"open"}
    assert any(text.startswith("NOT COMPLETE") for text in drawn)
    assert "FAIL" not in drawn
    # Told by a shape too: a ring, on the chart, in the order of tiles and beside each word.
    rings = [step for page in lay_out(day).pages for step in page.steps if step[0] == "disc" and step[4] == sheet.WHITE]
    assert len(rings) == 5


def test_after_a_failed_lift_its_lines_count_down_to_the_usual_cadence(a_site: Callable[..., Site]) -> None:
    # The checklist asks for two more that pass; its cadence is one in 2 m2, and a tile has 0.72 m2.
    site = a_site().start("shower wall").release().batch()
    site.tile().lift("90").cure().lift("97")
    while site.state.areas["shower wall"].progress.settings < 9:
        site.tile()
        if site.state.area is not None and site.state.area.task is not None:
            site.lift("97")
    opened = [e.body for e in site.events if isinstance(e.body, ev.SectionOpened) and e.body.section == "lift"]
    reasons = [(body.reason.code, body.reason.figures.get("lifts")) for body in opened]
    assert reasons == [
        ("engine-due-first", None),
        ("engine-reason-again", None),
        ("engine-due-tightened", 1),
        ("engine-due-area", None),
        ("engine-due-area", None),
    ]
