"""What a trial says never says more than its samples can bear. Wordings: our rules for a claim, by simulation."""

from __future__ import annotations

from dataclasses import replace

from fieldassist.checklist.plan import PlannedQuestion
from fieldassist.trade.message import Message
from fieldassist.trial import telling
from fieldassist.trial.model import Analysis, Estimate, Gain


def estimate(letter: str, mean: float, *, contender: bool | None = True, eligible: bool = True) -> Estimate:
    return Estimate(letter, 4, mean, mean - 3, mean + 2, contender=contender, eligible=eligible)


RANKED = Analysis(
    estimates=(
        estimate("A", 97.4),
        estimate("C", 96.2),
        estimate("D", 95, eligible=False),
        estimate("B", 71, contender=False),
    ),
    differences=(),
    ties=(("A", "C"),),
    best="A",
    contenders=("A", "C"),
    gains=(Gain("seating", (("B", "A"),), 6.4, 2.6, 10.2, 0.01, "t on pairs", (6.4,), True),),
    claim="ranks",
    df=9,
    spread=0.4,
    prior_spread=0.45,
    wide=False,
    batch_sd=0.1,
    age_per_h=0.0,
    readers=2,
    more=5,
)
ASKED = PlannedQuestion(part="seating", one="by hand", other="vibrated")


def codes(*told: Message | None) -> list[str]:
    return [one.code for one in told if one is not None]


def test_a_best_with_others_beside_it_is_best_so_far_and_the_rest_is_worse() -> None:
    told = telling.verdict(RANKED)
    assert codes(*told) == ["trial-best-so-far", "trial-not-apart", "trial-worse"]
    # One that is shown and not eligible is in no sentence of the ranking.
    assert "D" not in str(told)


def test_a_best_without_others_beside_it_is_the_best() -> None:
    alone = replace(RANKED, contenders=("A",), estimates=(estimate("A", 97), estimate("B", 71, contender=False)))
    assert codes(*telling.verdict(alone)) == ["trial-best", "trial-worse"]
    assert telling.more(alone) is None


def test_below_the_least_of_samples_nothing_is_ranked() -> None:
    few = replace(RANKED, claim="intervals")
    assert codes(*telling.verdict(few)) == ["trial-no-rank", "trial-worse"]
    assert telling.ties(few) == ()
    single = replace(RANKED, claim="pictures")
    assert codes(*telling.verdict(single)) == ["trial-pictures", "trial-highest"]
    assert codes(*telling.verdict(replace(single, best=None))) == ["trial-nothing-read"]


def test_how_many_more_is_said_only_where_something_is_left_to_settle() -> None:
    assert codes(telling.more(RANKED)) == ["trial-more-needed"]
    assert codes(telling.more(replace(RANKED, more=None))) == ["trial-too-close"]
    assert telling.more(replace(RANKED, more=0)) is None


def test_a_gain_is_told_as_found_as_not_found_or_not_at_all() -> None:
    (found,) = RANKED.gains
    assert codes(telling.gain(found, ASKED)) == ["trial-gain-more"]
    assert codes(telling.gain(replace(found, points=-6.4), ASKED)) == ["trial-gain-less"]
    assert codes(telling.gain(replace(found, found=False), ASKED)) == ["trial-gain-none"]
    assert codes(telling.gain(replace(found, found=None), ASKED)) == ["trial-gain-unclaimed"]


def test_means_have_no_decimals() -> None:
    (best, *_) = telling.verdict(RANKED)
    assert str(best) == "trial-best-so-far(letter=A, mean=97 percent, range=trial-interval(low=94, high=99))"
