"""Lifts of a method that a mock-up trial has shown, beside what it has shown."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from fieldassist.checklist import promised
from fieldassist.checklist.open_points import open_points
from fieldassist.checklist.plan import MockUp, TrialShown
from fieldassist.checklist.state import Area, LiftRecord, State
from fieldassist.trade.quantities import Quantity
from tests.checklist.days import Bench, site

SHOWN = TrialShown(
    date="2026-03-10",
    site="Sample Site",
    area="sample boards",
    head="ab" * 32,
    letter="C",
    samples=4,
    mean=94.2,
    low=90.1,
    high=97.4,
    centre=2.6,
    variance=0.05,
    spread=0.45,
    between=0.09,
    batches=3,
    readers=("rosa", "otto"),
    bed_mm=6.0,
    by="edwin",
)
MADE = MockUp(date="2026-03-10", percent=91.0, corners="full", by="rosa and otto", trial=SHOWN)


@pytest.fixture(scope="module")
def lifted() -> Area:
    """An area with one lift, whose contact was read."""
    bench = Bench.begun(plan=site("metric"))
    bench.start("shower wall")
    bench.call("batch", "tile")
    area = bench.state.areas["shower wall"]
    assert area.progress.lifts, "the first tile of a run is lifted"
    return replace(area, plan=area.plan.model_copy(update={"mock_up": MADE}))


def with_lifts(area: Area, *percents: float, days: int = 3, came: str = "lot", run: int = 1) -> Area:
    """The area with these contacts of lifts, shared among so many days."""
    (first,) = area.progress.lifts.values()
    lifts: dict[int, LiftRecord] = {}
    measured = {}
    for number, percent in enumerate(percents, start=1):
        at = replace_wall(first, f"2026-03-{17 + number % days}")
        lifts[number] = replace(at, number=number, round=number, came=came, run=run)
        measured[first.section, number] = {"coverage": Quantity(Fraction(str(percent)), "percent")}
    return replace(area, progress=replace(area.progress, lifts=lifts, measured=measured))


def replace_wall(lift: LiftRecord, date: str) -> LiftRecord:
    return replace(lift, at=lift.at.model_copy(update={"wall": f"{date}T10:00:00+01:00"}))


def codes(area: Area) -> list[str]:
    state = State(areas={area.plan.name: area})
    return [point.told.code for point in open_points(state) if point.id.startswith("promised/")]


def test_who_called_a_lift_is_kept_with_it(lifted: Area) -> None:
    assert [lift.by for lift in lifted.progress.lifts.values()] == ["rosa"]


def test_lifts_lower_than_the_mock_up_promised_are_open_and_the_foreman_may_answer(lifted: Area) -> None:
    area = with_lifts(lifted, *[75.0] * 9)
    (point,) = (p for p in open_points(State(areas={area.plan.name: area})) if p.id.startswith("promised/"))
    assert (point.id, point.answerable) == (f"promised/shower wall/{SHOWN.head[:12]}/C", True)
    told = point.told.figures
    assert point.told.code == "open-lower-than-promised"
    assert {name: told[name] for name in ("lifts", "days", "letter", "date", "low", "high")} == {
        "lifts": 9,
        "days": 3,
        "letter": "C",
        "date": "2026-03-10",
        "low": 90,
        "high": 97,
    }
    assert (told["contact"], told["mean"]) == (Quantity(Fraction(75), "percent"), Quantity(Fraction(94), "percent"))


def test_lifts_that_are_lower_by_no_more_than_noise_are_not_open(lifted: Area) -> None:
    assert codes(with_lifts(lifted, *[90.0, 88.0, 92.0] * 3)) == []


def test_two_days_are_too_few_to_say_so(lifted: Area) -> None:
    assert codes(with_lifts(lifted, *[60.0] * 9, days=2)) == []
    assert codes(with_lifts(lifted, *[60.0] * 9, days=3)) == ["open-lower-than-promised"]


def test_lifts_that_a_failure_asked_for_do_not_count_against_the_method(lifted: Area) -> None:
    for came in ("follow-up", "after failure"):
        assert codes(with_lifts(lifted, *[60.0] * 9, came=came)) == []


def test_lifts_of_another_method_are_not_held_against_the_one_that_was_released(lifted: Area) -> None:
    area = with_lifts(lifted, *[60.0] * 9)
    other = area.method.model_copy(update={"sides": "both"})
    assert area.method != other
    assert codes(replace(area, methods_used=(other,))) == []
    assert promised.beside(replace(area, methods_used=(other,)), area.progress.lifts[1]) is None


def test_a_mock_up_without_a_trial_promises_no_interval(lifted: Area) -> None:
    area = with_lifts(lifted, *[60.0] * 9)
    plain = area.plan.model_copy(update={"mock_up": MADE.model_copy(update={"trial": None})})
    assert promised.standing(replace(area, plan=plain)) is None
    assert promised.beside(replace(area, plan=plain), area.progress.lifts[1]) is None


@pytest.mark.parametrize(("percent", "how"), [(60.0, "below"), (90.0, "among"), (100.0, "above")])
def test_each_lift_stands_beside_what_single_tiles_of_the_trial_were(lifted: Area, percent: float, how: str) -> None:
    area = with_lifts(lifted, percent)
    told = promised.beside(area, area.progress.lifts[1])
    assert told is not None
    assert (told.code, told.figures["how"]) == ("trial-lift-beside", how)


def test_a_lift_that_is_not_read_stands_beside_nothing(lifted: Area) -> None:
    area = with_lifts(lifted, 60.0)
    unread = replace(area, progress=replace(area.progress, measured={}))
    assert promised.beside(unread, area.progress.lifts[1]) is None


def test_a_trial_of_one_sample_promises_as_much_as_its_spread_allows() -> None:
    alone = SHOWN.model_copy(update={"samples": 1, "variance": 0.0, "low": None, "high": None})
    assert promised.promise_of(alone).variance == pytest.approx(0.45**2)
