"""What the readers' eyes are worth."""

from __future__ import annotations

import math
from collections.abc import Sequence
from random import Random
from typing import Any

import pytest
from scipy import stats

from fieldassist.checklist import commands as cmd
from fieldassist.trade.contact import on_scale, percent_of
from fieldassist.trade.message import Text
from fieldassist.trial.model import EyeReading, Sample
from fieldassist.trial.readers import agreement, bias, bias_of_pairs, pairs_on_photos
from tests.report.conftest import Site
from tests.trade.telling import words

# Peak expiratory flow of 17 people by two meters [L/min], first readings: J. M. Bland and D. G. Altman, Lancet 327
# (1986), table 1, from memory; mean difference -2.1, its standard deviation 38.8.
WRIGHT = (494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427)
MINI = (512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451)


def read_by_two(first: Sequence[float], second: Sequence[float]) -> list[Sample]:
    return [
        Sample("A", number, number, 1, 5.0, (EyeReading("rosa", one), EyeReading("otto", other)))
        for number, (one, other) in enumerate(zip(first, second, strict=True), start=1)
    ]


def counted(eyes: Sequence[float], truth: Sequence[float]) -> list[Sample]:
    return [
        Sample("A", number, number, 1, 5.0, (EyeReading("rosa", eye),), counted=true)
        for number, (eye, true) in enumerate(zip(eyes, truth, strict=True), start=1)
    ]


def test_the_limits_of_agreement_are_those_of_the_published_example() -> None:
    found = agreement(read_by_two([x / 10 for x in MINI], [x / 10 for x in WRIGHT]))
    assert found is not None
    # By name: otto read the first meter.
    assert found.readers == ("otto", "rosa")
    assert (found.pairs, round(found.mean * 10, 1)) == (17, -2.1)
    assert (found.most - found.least) * 10 / (2 * 1.96) == pytest.approx(38.8, abs=0.05)
    assert found.largest == pytest.approx(8.1)
    assert found.sample == 15


def test_the_mean_difference_has_the_interval_of_the_paired_t() -> None:
    found = agreement(read_by_two([80, 85, 90, 92, 97], [82, 85, 86, 90, 96]))
    assert found is not None
    reference = stats.ttest_rel([82, 85, 86, 90, 96], [80, 85, 90, 92, 97]).confidence_interval(0.95)
    assert (found.low, found.high) == pytest.approx((reference.low, reference.high))


def test_two_samples_say_nothing_of_two_readers() -> None:
    assert agreement(read_by_two([80, 85], [82, 85])) is None
    assert agreement(counted([80, 85, 90], [80, 85, 90])) is None
    assert agreement([]) is None


def test_a_spoiled_sample_says_nothing_of_readers() -> None:
    samples = read_by_two([80, 85, 90], [82, 85, 20])
    spoiled = Sample("A", 3, 3, 1, 5.0, samples[2].readings, counted=50.0, spoiled=Text.plain("slipped"))
    assert agreement([*samples[:2], spoiled]) is None
    known = counted([80.0] * 10, [78.0] * 10)
    assert bias("rosa", [*known[:9], spoiled]) is None


def test_a_readers_bias_is_the_paired_t_on_the_scale_of_contact_from_ten_pairs_on() -> None:
    eyes = [80, 85, 90, 92, 97, 75, 70, 95, 88, 91]
    truth = [78, 84.5, 86, 91, 95.5, 74, 66, 95, 84, 90]
    found = bias("rosa", counted(eyes, truth))
    assert found is not None
    reference = stats.ttest_rel([on_scale(x) for x in eyes], [on_scale(x) for x in truth])
    interval = reference.confidence_interval(0.95)
    assert (found.low, found.high) == pytest.approx((interval.low, interval.high))
    error = found.shift / reference.statistic
    assert found.drawn == pytest.approx(found.shift * 0.25**2 / (0.25**2 + error**2))
    assert 0 < found.drawn < found.shift
    assert found.points == pytest.approx(percent_of(on_scale(found.level) + found.drawn) - found.level)
    assert found.least < found.points < found.most
    assert bias("rosa", counted(eyes[:9], truth[:9])) is None
    assert bias("otto", counted(eyes, truth)) is None


def test_the_interval_of_a_bias_holds_the_true_one_as_often_as_it_says() -> None:
    """Simulated: eyes 0.25 off on the logit scale and scattering by 0.30, told in steps of 5 under 90 and of 1 above,
    beside a grid that counts to a percent; 0.92 to 0.97 of the intervals hold the true bias, rounding taken in."""
    dice, held = Random("eyes"), []
    for _ in range(400):
        off = dice.gauss(0, 0.25)
        eyes, truth, shifts = [], [], []
        for _ in range(12):
            percent = dice.uniform(65, 97)
            logit = math.log(percent / (100 - percent)) + off
            shifts.append(on_scale(100 / (1 + math.exp(-logit))) - on_scale(percent))
            told = 100 / (1 + math.exp(-logit - dice.gauss(0, 0.30)))
            step = 1 if told > 90 else 5
            eyes.append(min(100.0, step * round(told / step)))
            truth.append(float(round(percent)))
        found = bias("rosa", counted(eyes, truth))
        assert found is not None
        held.append(found.low <= sum(shifts) / len(shifts) <= found.high)
    assert 0.92 <= sum(held) / len(held) <= 0.97


@pytest.mark.parametrize(("shift", "how"), [(0.0, "as"), (8.0, "high"), (-8.0, "low")])
def test_a_bias_is_told_in_whole_points_and_none_closer_than_half_a_point(shift: float, how: str) -> None:
    truth = [72.0, 74.0, 76.0, 78.0, 80.0] * 2
    found = bias("rosa", counted([one + shift + (-1) ** at for at, one in enumerate(truth)], truth))
    assert found is not None
    assert found.told.figures["how"] == how
    assert words(found.told)


def test_lifts_that_were_read_by_eye_before_their_photo_are_beside_it_painted_apart_from_reckoned() -> None:
    def lift(**told: Any) -> Site:
        site = Site().start("shower wall").release().batch().tile().lift_up().photo()
        return site.measured(90.2, 88.0, 92.0, **told)

    assert pairs_on_photos(lift().state, "ana") == {"painted": [], "measured": []}
    eye: dict[str, Any] = {"eye_percent": 95.0, "eye_by": "ana"}
    measured = lift(**eye)
    ((by_eye, on_photo),) = pairs_on_photos(measured.state, "ana")["measured"]
    assert by_eye == 95.0
    assert on_photo == pytest.approx(90.2, abs=0.5)
    assert pairs_on_photos(measured.state, "ruth") == {"painted": [], "measured": []}
    assert len(pairs_on_photos(lift(**eye, way="painted").state, "ana")["painted"]) == 1
    assert pairs_on_photos(measured.do(cmd.Withdraw()).do(cmd.Withdraw()).state, "ana")["measured"] == []


def test_a_bias_says_what_it_is_beside() -> None:
    found = bias_of_pairs("ana", [(90.0 + at % 3, 85.0 + at % 2) for at in range(10)], "painted")
    assert found is not None
    assert found.told.figures["beside"] == "painted"
    assert found.points > 2
