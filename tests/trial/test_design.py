"""What a trial takes, and what it will be able to tell, before anybody mixes."""

from __future__ import annotations

from fractions import Fraction

import pytest

from fieldassist.checklist.loader import load_plan
from fieldassist.checklist.plan import AreaPlan
from fieldassist.checklist.rules import notch_of
from fieldassist.places import shipped
from fieldassist.trade import ridges
from fieldassist.trade.quantities import Quantity
from fieldassist.trial.design import Power, can_tell, hopes, needs
from tests.trade.telling import codes, words

LETTERS = "ABCDEFGHJKLM"
# Trials that were simulated, 200 to 500 of each (readers, batches, drying), and how often they found a difference:
# combinations, repeats, pairs asked (0: all of them), contacts, share.
SIMULATED = [
    (4, 4, 0, (85, 95), 0.78),
    (4, 4, 0, (75, 85), 0.31),
    (4, 5, 0, (85, 95), 0.93),
    (4, 8, 0, (85, 95), 0.99),
    (8, 3, 0, (85, 95), 0.30),
    (8, 4, 0, (85, 95), 0.54),
    (8, 5, 0, (85, 95), 0.72),
    (8, 5, 0, (90, 95), 0.15),
    (8, 5, 0, (75, 85), 0.19),
    (8, 8, 0, (85, 95), 0.98),
    (12, 3, 0, (85, 95), 0.24),
    (12, 4, 0, (85, 95), 0.46),
    (12, 5, 0, (85, 95), 0.62),
    (12, 5, 0, (75, 85), 0.17),
    (4, 5, 1, (90, 95), 0.58),
    (8, 3, 1, (85, 95), 0.78),
    (8, 3, 1, (90, 95), 0.34),
    (8, 5, 1, (85, 95), 0.97),
    (8, 8, 1, (75, 85), 0.82),
    (12, 3, 1, (75, 85), 0.39),
    (12, 5, 1, (90, 95), 0.52),
    # What a part adds, over notches paired: 5 and 8 of them.
    (10, 2, 5, (75, 85), 0.73),
    (10, 3, 5, (75, 85), 0.90),
    (16, 1, 8, (75, 85), 0.58),
]


def the_trial(**changes: object) -> AreaPlan:
    plan = load_plan(shipped("assets") / "trial" / "plan.yaml").areas[0]
    assert plan.trial is not None
    return plan.model_copy(update={"trial": plan.trial.model_copy(update=changes)})


def power(found: tuple[Power, ...], ends: tuple[float, float], question: int | None = None) -> Power:
    return next(one for one in found if one.question == question and (one.low, one.high) == ends)


def test_the_rule_of_thumb_comes_near_to_what_was_simulated() -> None:
    letters = "ABCDEFGHJKLMNPQR"
    off = []
    for many, repeats, pairs, ends, share in SIMULATED:
        questions = [tuple(zip(letters[::2], letters[1::2], strict=True))[:pairs]] if pairs else []
        found = power(can_tell(letters[:many], repeats, questions), ends, 0 if pairs else None)
        off.append(found.power - share)
    assert max(map(abs, off)) <= 0.15
    assert sum(abs(one) <= 0.08 for one in off) >= 0.75 * len(off)
    assert abs(sum(off) / len(off)) <= 0.03


def test_the_least_repeats_are_those_of_the_simulated_trials() -> None:
    # Simulated: 85 against 95 among 4 with 4 to 5, among 8 to 12 with 6; 90 against 95 as the only question with 8.
    least = {many: power(can_tell(LETTERS[:many], 3), (85, 95)).repeats for many in (4, 8, 12)}
    assert least == {4: 5, 8: 6, 12: 7}
    assert power(can_tell(LETTERS[:8], 3, [(("A", "B"),)]), (90, 95), 0).repeats == 8
    assert power(can_tell(LETTERS[:12], 3), (75, 85)).repeats == 19
    assert power(can_tell(LETTERS, 3, spread=0.6), (75, 85)).repeats is None


def test_a_question_asked_beforehand_is_found_more_often_than_among_all_pairs() -> None:
    found = can_tell(LETTERS[:8], 4, [(("A", "B"),), (("A", "B"), ("C", "D"), ("E", "F"))])
    of_all, of_one, of_three = (power(found, (85, 95), number).power for number in (None, 0, 1))
    assert of_all < of_one < of_three


@pytest.mark.parametrize(("many", "repeats"), [(8, 2), (4, 3), (12, 1), (2, 5)])
def test_where_nothing_may_be_claimed_nothing_is_promised(many: int, repeats: int) -> None:
    # Under three of each, or under eight residual degrees of freedom.
    assert {one.power for one in can_tell(LETTERS[:many], repeats)} == {0.0}


def test_six_pairs_of_single_samples_answer_a_question_and_five_do_not() -> None:
    pairs = tuple(zip("ACEGJL", "BDFHKM", strict=True))
    found = can_tell(LETTERS, 1, [pairs, pairs[:5]])
    assert power(found, (85, 95), 0).power > 0.8
    assert power(found, (85, 95), 1).power == 0


def test_mortar_is_that_of_every_notch_over_its_face_and_a_quarter_more() -> None:
    plan = the_trial()
    assert plan.trial is not None
    found = needs(plan)
    beds = [ridges.mortar_per_m2(notch_of(one), one.angle, sides=one.sides) for one in plan.trial.combinations]
    volume = 0.36 * plan.trial.repeats * sum(beds) * 1.25
    (share,) = found.mortars
    assert share.volume_l == pytest.approx(volume)
    # The file's bag: 20 kg yield 14 L.
    assert share.powder_kg == pytest.approx(volume / 14 * 20)
    assert share.bags == -(-volume // 14)
    assert found.base_m2 == pytest.approx(0.36 * found.samples)


def test_time_is_that_of_samples_vibrating_mixing_and_slaking() -> None:
    plan = the_trial()
    assert plan.trial is not None
    assert needs(plan, "AB").minutes == 2 * plan.trial.repeats * 6 + 2 * (5 + 7)
    vibrated = plan.trial.combinations[1].model_copy(update={"seconds": Quantity(Fraction(30), "s")})
    changed = the_trial(combinations=(plan.trial.combinations[0], vibrated))
    assert needs(changed).minutes == pytest.approx(needs(plan, "AB").minutes + plan.trial.repeats * 0.5)


def test_a_batch_that_outlasts_its_pot_life_is_cautioned() -> None:
    assert "trial-needs-smaller-batches" not in codes(needs(the_trial()).told)
    # Slake 7 min and 14 samples of 6 min, of a pot life of 90 min.
    assert "trial-needs-smaller-batches" in codes(needs(the_trial(a_batch=14, repeats=14)).told)


def test_each_mortar_has_batches_of_its_own() -> None:
    plan = the_trial()
    assert plan.trial is not None
    other = plan.mortar.model_copy(update={"name": "Other Mortar", "bag": None, "bag_yield": None})
    ways = plan.trial.combinations
    mixed = (*ways[:2], *(one.model_copy(update={"mortar": "Other Mortar"}) for one in ways[2:4]))
    found = needs(the_trial(combinations=mixed, mortars=(other,), a_batch=6, repeats=4))
    # Two samples of the one, four of the other, four, four, two.
    assert [(share.name, share.samples, share.batches) for share in found.mortars] == [
        (plan.mortar.name, 8, 3),
        ("Other Mortar", 8, 2),
    ]
    assert found.mortars[1].bags is None
    assert found.mortars[1].powder_kg == pytest.approx((found.mortars[1].volume_l or 0) * 1.35)


def test_an_area_in_which_nothing_is_tried_needs_nothing_of_this() -> None:
    plan = the_trial().model_copy(update={"trial": None})
    for asked in (needs, hopes):
        with pytest.raises(ValueError, match="nothing is tried"):
            asked(plan)


def test_hopes_are_told_of_all_pairs_and_of_each_question() -> None:
    plan = the_trial()
    assert plan.trial is not None
    told = hopes(plan)
    assert codes(told) == ["trial-hope"] * (1 + len(plan.trial.questions))
    assert codes(hopes(plan, "AB"))[-1] == "trial-hope-nothing"
    assert codes(hopes(the_trial(repeats=2)))[0] == "trial-hope-none"
    assert all(words(one) for one in (*told, *needs(plan).told, *needs(plan).assumed))
