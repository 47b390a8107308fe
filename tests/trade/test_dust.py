"""Silica dust: Table 1, averages and limits against the published rules and examples."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldassist.trade import dust
from fieldassist.trade.basis import OutOfRange, Provenance
from fieldassist.trade.dust import TableTask, WorkPlace
from fieldassist.trade.message import Refused
from tests.trade.telling import codes, refusal_in_words, words

# 29 CFR 1926.1153 Table 1: least protection factor outdoors up to 4 h / more, indoors up to 4 h / more; - for
# none, x for a place that is not in the table.
TABLE_1 = """
(i) | stationary masonry saw | - - | - -
(ii) | handheld power saw | - 10 | 10 10
(iii) | handheld saw for fibre-cement board | - - | x x
(iv) | walk-behind saw | - - | 10 10
(vii) | drill | - - | - -
(x) | chipping tool | - 10 | 10 10
(xi) | grinder for mortar removal | 10 25 | 10 25
(xii) | grinder for other uses | - - | - 10
(xiii) | floor grinder | - - | - -
"""
CELLS = [
    (entry, task, place, minutes, cell)
    for entry, task, outdoors, indoors in (line.split(" | ") for line in TABLE_1.split("\n")[1:-1])
    for place, cells in (("outdoors", outdoors), ("indoors", indoors))
    for minutes, cell in zip((240.0, 240.01), cells.split(), strict=True)
]


@pytest.mark.parametrize(("entry", "task", "place", "minutes", "cell"), CELLS)
def test_table_1_asks_for_the_printed_respirator(
    entry: str, task: TableTask, place: WorkPlace, minutes: float, cell: str
) -> None:
    if cell == "x":
        with pytest.raises(OutOfRange, match=r"^dust-outdoors-only"):
            dust.dust_control(task, place, minutes)
        return
    control = dust.dust_control(task, place, minutes)
    assert control.entry == entry
    assert control.protection_factor == (0 if cell == "-" else int(cell))
    assert (cell == "-") == (control.respirator.code == "dust-respirator-0")
    assert entry in words(control.basis.told)


def test_every_task_of_table_1_held_here_is_checked_against_the_printed_rows() -> None:
    assert {task for _, task, *_ in CELLS} == set(dust.TABLE_1)


def test_only_entries_that_were_read_say_so() -> None:
    # Entries (i) to (v) were read in California's identical 8 CCR 1532.3.
    read = {
        task
        for task in dust.TABLE_1
        if dust.dust_control(task, "outdoors", 10).basis.standing is Provenance.READ  # type: ignore[arg-type]
    }
    assert {dust.TABLE_1[task].numeral for task in read} == {"i", "ii", "iii", "iv"}


def test_water_alone_on_a_grinder_is_for_outdoors_only() -> None:
    # Table 1 (xii), the words of the control from memory.
    assert dust.dust_control("grinder for other uses", "outdoors", 60, "water").protection_factor == 0
    with pytest.raises(OutOfRange, match=r"^dust-water-outdoors-only"):
        dust.dust_control("grinder for other uses", "indoors", 60, "water")


def test_a_control_that_table_1_does_not_have_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"^dust-method-not-in-table"):
        dust.dust_control("handheld power saw", "outdoors", 60, "dust collector")


@pytest.mark.parametrize(
    ("task", "word"),
    [
        ("mixing mortar", "dust-no-entry-mixing-mortar"),
        ("sweeping", "dust-no-entry-sweeping"),
        ("scoring and snapping", "dust-no-entry-scoring-and-snapping"),
    ],
)
def test_a_task_without_an_entry_is_refused_and_says_what_to_do(task: dust.OtherTask, word: str) -> None:
    with pytest.raises(OutOfRange, match=rf"^{word}\b"):
        dust.dust_control(task, "indoors", 30)


def test_a_task_unknown_here_is_refused_with_those_that_are_known() -> None:
    with pytest.raises(Refused, match=r"^dust-unknown-task"):
        dust.dust_control("blasting", "outdoors", 10)  # type: ignore[arg-type]


def test_every_control_carries_the_cautions_and_defers_to_local_rules() -> None:
    outdoors = dust.dust_control("drill", "outdoors", 10).cautions
    indoors = dust.dust_control("drill", "indoors", 10).cautions
    assert any("local rules" in words(caution) for caution in outdoors)
    assert any("compressed air" in words(caution) for caution in outdoors)
    assert set(codes(indoors)) - set(codes(outdoors)) == {"dust-caution-indoors"}


# --- a shift


def test_tasks_of_a_shift_add_up_and_the_sum_decides_for_each() -> None:
    # 29 CFR 1926.1153(c)(3), from memory: the total of all tasks in the table decides.
    exactly = dust.day_controls([("handheld power saw", "outdoors", 120), ("drill", "indoors", 120)])
    assert (exactly.total_min, exactly.over_four_hours) == (240, False)
    assert exactly.controls[0].protection_factor == 0
    over = dust.day_controls([("handheld power saw", "outdoors", 120), ("drill", "indoors", 121)])
    assert over.over_four_hours
    assert over.controls[0].protection_factor == 10


def test_minutes_of_one_task_are_gathered_and_a_task_without_entry_is_named() -> None:
    day = dust.day_controls(
        [
            ("drill", "indoors", 20),
            ("mixing mortar", "indoors", 90),
            ("drill", "indoors", 25),
            ("drill", "outdoors", 5),
        ]
    )
    assert day.minutes == {"drill": 50, "mixing mortar": 90}
    assert day.total_min == 50
    assert [control.task for control in day.controls] == ["drill", "drill"]
    assert list(day.not_in_table) == ["mixing mortar"]


def test_an_empty_shift_asks_for_nothing() -> None:
    day = dust.day_controls([])
    assert (day.total_min, day.over_four_hours, day.controls) == (0, False, ())


def test_more_minutes_than_a_day_has_are_asked_back() -> None:
    with pytest.raises(Refused, match=r"^dust-over-a-day"):
        dust.day_controls([("drill", "indoors", 1000), ("mixing mortar", "indoors", 441)])
    with pytest.raises(Refused, match=r"^dust-unknown-task"):
        dust.day_controls([("blasting", "outdoors", 10)])  # type: ignore[list-item]


# --- averages and limits


def test_the_regulations_own_average_comes_out() -> None:
    # 29 CFR 1910.1000(d)(1)(i): 2 h at 150, 2 h at 75, 4 h at 50 ppm make 81.25 ppm.
    assert dust.time_weighted_average([(150, 120), (75, 120), (50, 240)]) == 81.25


def test_the_regulations_own_mixture_comes_out() -> None:
    # 29 CFR 1910.1000(d)(2): 500/1000 + 45/200 + 40/200 = 0.925.
    assert dust.mixture_exposure([(500, 1000), (45, 200), (40, 200)]) == pytest.approx(0.925)


def test_two_hours_of_cutting_between_action_level_and_limit_say_so() -> None:
    # Own check: 2 h at 120 and 6 h at 10 make 37.5.
    average = dust.time_weighted_average([(120, 120), (10, 360)])
    assert average == pytest.approx(37.5)
    verdict = dust.exposure_verdict(average)
    assert (verdict.passed, verdict.action) == (True, True)


def test_a_shift_longer_than_eight_hours_keeps_the_divisor_and_the_limit() -> None:
    # The adjustment by hours worked is the lead rule (29 CFR 1926.62), not silica's.
    assert dust.time_weighted_average([(40, 600)]) == pytest.approx(50)
    assert dust.exposure_verdict(50).passed


@pytest.mark.parametrize(
    ("average", "where", "passed", "action"),
    # 29 CFR 1926.1153(b): action level 25; (d)(1): limit 50. HSE EH40: 0.1 mg/m3.
    [
        (24.999, "US", True, False),
        (25.0, "US", True, True),
        (50.0, "US", True, True),
        (50.001, "US", False, True),
        (50.001, "UK", True, None),
        (100.0, "UK", True, None),
        (100.001, "UK", False, None),
    ],
)
def test_the_exposure_verdict_flips_exactly_at_the_published_levels(
    average: float, where: dust.Jurisdiction, passed: bool, action: bool | None
) -> None:
    verdict = dust.exposure_verdict(average, where)
    assert (verdict.passed, verdict.action) == (passed, action)


@given(st.lists(st.tuples(st.floats(0, 1000), st.floats(0, 140)), max_size=10), st.floats(0.1, 10))
def test_the_average_scales_with_the_concentration_and_forgets_the_order(
    periods: list[tuple[float, float]], factor: float
) -> None:
    average = dust.time_weighted_average(periods)
    assert dust.time_weighted_average([(c * factor, t) for c, t in periods]) == pytest.approx(average * factor)
    assert dust.time_weighted_average(reversed(periods)) == pytest.approx(average)


@given(st.floats(1, 2000), st.floats(0, 100), st.floats(0, 400), st.floats(1, 100))
def test_going_on_for_the_minutes_left_ends_at_the_ceiling(
    concentration: float, before: float, minutes: float, ceiling: float
) -> None:
    done = [(before, minutes)]
    left = dust.minutes_left(concentration, done, ceiling)
    average = dust.time_weighted_average([*done, (concentration, left)])
    if left == 0:
        assert dust.time_weighted_average(done) >= ceiling * (1 - 1e-9)
    elif left < 1440 - minutes:
        assert average == pytest.approx(ceiling)
    else:
        assert average <= ceiling * (1 + 1e-9)


@pytest.mark.parametrize(
    "call",
    [
        lambda: dust.dust_control("drill", "roof", 10),  # type: ignore[arg-type]
        lambda: dust.dust_control("drill", "indoors", -1),
        lambda: dust.dust_control("drill", "indoors", 1441),
        lambda: dust.time_weighted_average([(-1, 10)]),
        lambda: dust.time_weighted_average([(1, 1441)]),
        lambda: dust.mixture_exposure([]),
        lambda: dust.mixture_exposure([(1, 0)]),
        lambda: dust.exposure_verdict(math.nan),
        lambda: dust.exposure_limit("EU"),  # type: ignore[arg-type]
        lambda: dust.minutes_left(0),
    ],
)
def test_what_cannot_be_is_refused_with_words(call: object) -> None:
    with refusal_in_words():
        call()  # type: ignore[operator]
