"""Bags, water, batches and clocks by hand; what the bags used say."""

from __future__ import annotations

from fractions import Fraction

import pytest

from fieldassist.assess.inputs import area_inputs
from fieldassist.assess.mortar import bag_balance, bag_need
from fieldassist.assess.times import area_times
from fieldassist.trade.message import Refused, message
from fieldassist.trade.quantities import Quantity
from tests.assess.areas import area_of, inputs, mm

SHEET = area_of("shower wall").plan.mortar


def m2(value: float) -> Quantity:
    return Quantity(Fraction(str(value)), "m2")


def test_bags_and_water_by_hand() -> None:
    # Common practice, no published source: a tenth is wasted. 9.6 m2, half of 3/8 in by the sine of 60 degrees:
    # 4.1244 mm; 9.6 * 4.1244 * 1.1 = 43.554 L; a bag makes 14 L and takes 6 L of water (the invented data sheet).
    found = bag_need(inputs("shower wall"))
    assert found.need.volume_l == pytest.approx(9.6 * 9.525 / 2 * 3**0.5 / 2 * 1.1)
    assert (found.need.whole_bags, found.need.bags) == (4, pytest.approx(43.5541 / 14, abs=1e-4))
    assert found.need.water_l == pytest.approx(6 * found.need.bags)
    assert [one.name for one in found.assumed] == ["waste", "skim"]
    assert [one.name for one in bag_need(inputs("shower wall", waste=Quantity(Fraction(15), "percent"))).assumed] == [
        "skim"
    ]


def test_without_a_pace_there_are_no_batches_and_with_one_they_are_used_up_in_time() -> None:
    assert bag_need(inputs("shower wall")).batches is None
    assert area_times(inputs("shower wall")).comb is None
    # 2 m2 an hour: within 90 min of pot life less 7 min of slake, 2.77 m2; at 4.5369 L/m2 with waste 12.55 L, half bags
    # of 7 L: one half, for 1.543 m2; 9.6 m2 take seven. Open time of 20 min: 0.667 m2, no whole piece of 0.72 m2.
    batches = bag_need(inputs("shower wall", hourly=m2(2))).batches
    assert batches is not None
    assert (batches.bags_per_batch, batches.batches) == (0.5, 7)
    assert batches.minutes_per_batch <= 83
    # 3.1 m2 an hour: 83 min do for 4.29 m2, 19.5 L, two halves; all of 90 min would do for three.
    quick = bag_need(inputs("shower wall", hourly=m2(3.1))).batches
    assert quick is not None
    assert quick.bags_per_batch == 1.0
    times = area_times(inputs("shower wall", hourly=m2(2)))
    assert times.comb is not None
    assert (times.comb.area_m2, times.pieces_at_once) == (pytest.approx(2 / 3), 0)
    assert area_times(inputs("shower wall", hourly=m2(4.5))).pieces_at_once == 2


def test_where_the_sheet_is_silent_the_longer_usual_slake_is_taken_off_the_pot_life() -> None:
    # Common practice, no published source: 5 to 10 min.
    area = area_of("shower wall")
    sheet = area.plan.mortar.model_copy(update={"slake": None})
    silent = type(area)(area.plan.model_copy(update={"mortar": sheet}), area.checklist, area.method)
    found = bag_need(area_inputs(silent, "metric", entries={"hourly": m2(3.1)}))
    assert found.batches is not None
    # 80 of 90 min do for 4.13 m2, 18.8 L, two halves of a bag; all of them would do for three.
    assert found.batches.bags_per_batch == 1.0
    assert [one.name for one in found.assumed] == ["waste", "skim", "slake"]
    assert [one.name for one in bag_need(area_inputs(silent, "metric")).assumed] == ["waste", "skim"]


def test_where_a_pace_leaves_no_batch_it_is_said_why() -> None:
    found = bag_need(inputs("shower wall", hourly=m2(0.1)))
    assert found.batches is None
    assert found.no_batches


def test_a_bag_whose_weight_nobody_knows_is_refused_by_its_name() -> None:
    area = area_of("shower wall")
    sheet = area.plan.mortar.model_copy(update={"bag": None})
    unknown = type(area)(area.plan.model_copy(update={"mortar": sheet}), area.checklist, area.method)
    with pytest.raises(Refused) as refused:
        bag_need(area_inputs(unknown, "metric"))
    assert refused.value.told.code == "assess-not-known"


def test_the_times_of_the_sheet_go_before_what_is_usual() -> None:
    waits = {wait.what: (wait.least_min, wait.greatest_min) for wait in area_times(inputs("shower wall")).waits}
    assert (waits["slake"], waits["pot-life"], waits["open-time"]) == ((7, 7), (90, 90), (20, 20))
    # From memory: about 24 h before grout and light traffic.
    assert waits["cure-to-grout"] == waits["cure-to-traffic"] == (1440, 1440)


def test_the_bags_used_are_held_against_what_was_set() -> None:
    # 18 m2 at 5 mm with a tenth of waste: 99 L; a bag makes 14 L.
    found = bag_balance(7, SHEET, 18.0, [5.0, 5.0])
    assert (found.predicted, found.verdict, found.pieces) == (pytest.approx(99 / 14), "as predicted", 2)
    assert [one.name for one in found.assumed] == ["waste"]
    assert found.balance is not None
    assert found.reason == found.balance.reason
    rests_on = found.rests_on.figures
    assert (rests_on["pieces"], rests_on["bed"], rests_on["bag"]) == (2, mm(5.0), Quantity(Fraction(14), "L"))
    assert bag_balance(4, SHEET, 18.0, [5.0]).verdict == "too little"
    assert bag_balance(1, SHEET, 2.0, [5.0]).verdict == "as predicted"  # 0.79 bags
    assert bag_balance(11, SHEET, 18.0, [5.0]).verdict == "more than predicted"
    assert bag_balance(7, SHEET, 18.0, [4.0, 6.0]).predicted == found.predicted


@pytest.mark.parametrize(
    ("beds", "bag", "code"),
    [
        ([], SHEET.bag, "assess-no-prediction-nothing-set"),
        ([5.0, None], SHEET.bag, "assess-no-prediction-no-bed"),
        ([5.0], None, "assess-no-prediction-no-bag"),
    ],
)
def test_without_what_it_takes_there_is_no_prediction_and_it_is_said_why(
    beds: list[float | None], bag: Quantity | None, code: str
) -> None:
    found = bag_balance(3, SHEET.model_copy(update={"bag": bag}), 2.0, beds)
    assert (found.predicted, found.verdict, found.pieces) == (None, "", len(beds))
    assert found.missing is not None
    assert found.missing.code == code


def test_no_bag_for_tiles_that_were_set_is_too_little() -> None:
    found = bag_balance(0, SHEET, 2.0, [5.0])
    assert (found.verdict, found.balance) == ("too little", None)
    assert found.reason == message("assess-no-bag-used")
    assert found.predicted == pytest.approx(11 / 14)


def test_a_thicker_skim_takes_more_mortar() -> None:
    plain, keyed = bag_need(inputs("shower wall")), bag_need(inputs("shower wall", skim=mm(1)))
    assert keyed.need.volume_l - plain.need.volume_l == pytest.approx(9.6 * 1.1)
