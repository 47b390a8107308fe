"""A person's shift against Table 1 and the eight-hour limit."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldassist.assess.dust import DEFAULT_PLACE, DustTask, exposure, needs, shift_of, shifts
from fieldassist.trade.dust import OtherTask, TableTask, WorkPlace


@dataclass(frozen=True)
class Note:
    by: str
    task: str
    place: WorkPlace
    minutes: Fraction


def note(by: str, task: TableTask | OtherTask, minutes: int, place: WorkPlace = "outdoors") -> Note:
    return Note(by, task, place, Fraction(minutes))


def test_both_columns_of_table_1_are_there_before_anybody_cuts() -> None:
    # 29 CFR 1926.1153 Table 1 (ii): outdoors no respirator up to 4 hours a shift, 10 beyond; indoors 10.
    found = needs("handheld power saw", "outdoors")
    assert found.short is not None
    assert found.more is not None
    assert (found.short.protection_factor, found.more.protection_factor) == (0, 10)
    # (c)(2)(ii), from memory: indoors the air is moved; what goes with every answer is not told again.
    assert not found.cautions
    assert len(needs("handheld power saw", "indoors").cautions) == 1
    assert needs("sweeping", "indoors").none
    assert needs("handheld saw for fibre-cement board", "indoors").none
    assert DEFAULT_PLACE == "indoors"


@pytest.mark.parametrize(("minutes", "over", "factor"), [(120, False, 0), (121, True, 10)])
def test_the_minutes_of_all_tasks_of_the_table_decide_the_column(minutes: int, over: bool, factor: int) -> None:
    # 29 CFR 1926.1153 Table 1: "<= 4 hours/shift" and "> 4 hours/shift".
    notes = [note("rosa", "drill", 120), note("rosa", "handheld power saw", minutes), note("rosa", "sweeping", 60)]
    notes.append(note("otto", "drill", 480))
    found = shift_of(notes, "rosa")
    assert (found.listed_min, found.other_min, found.over) == (120 + minutes, 60, over)
    saw = next(control for (task, _), _, control, _ in found.tasks if task == "handheld power saw")
    assert saw is not None
    assert saw.protection_factor == factor
    assert [shift.who for shift in shifts(notes)] == ["rosa", "otto"]
    assert found.listed("drill")
    assert not found.listed("sweeping")


def test_an_eight_hour_average_is_divided_by_eight_hours_and_what_was_not_measured_is_named() -> None:
    # 29 CFR 1910.1000(d)(1)(i): 200 µg/m3 for 345 of 480 min is 143.75; the limit of 1926.1153(d)(1) is 50.
    saw: DustTask = ("handheld power saw", "indoors")
    notes = [note("rosa", "handheld power saw", 345, "indoors"), note("rosa", "drill", 10)]
    found = exposure(notes, "rosa", {saw: 200.0})
    assert found is not None
    assert (found.average_ug_m3, found.grade, found.limit_ug_m3) == (143.75, "over", 50)
    assert found.silent == (("drill", "outdoors"),)
    assert [one.name for one in found.assumed] == ["dust-held", "dust-clean-air"]
    assert exposure(notes, "rosa", {}) is None


@pytest.mark.parametrize(
    ("measured", "grade"),
    # 29 CFR 1926.1153(b) and (d)(1): action level 25 from exactly 25 up, limit 50 up to exactly 50; all of 480 min.
    [(24.9, "below"), (25.0, "action"), (50.0, "action"), (50.1, "over")],
)
def test_the_average_is_graded_by_action_level_and_limit(measured: float, grade: str) -> None:
    found = exposure([note("rosa", "drill", 480)], "rosa", {("drill", "outdoors"): measured})
    assert found is not None
    assert found.grade == grade


@given(st.lists(st.tuples(st.sampled_from(["rosa", "otto"]), st.integers(0, 100)), max_size=8))
def test_everybodys_minutes_are_counted_once(noted: list[tuple[str, int]]) -> None:
    notes = [note(by, "drill", minutes) for by, minutes in noted]
    assert sum(shift.listed_min for shift in shifts(notes)) == sum(minutes for _, minutes in noted)
