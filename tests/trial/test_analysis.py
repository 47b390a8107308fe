"""The analysis of a trial, against scipy and statsmodels, by the least that a claim needs, and in simulated worlds."""

from __future__ import annotations

import itertools
import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
import scipy.integrate
import scipy.stats
from statsmodels.regression.linear_model import OLS, RegressionResults
from statsmodels.stats.multicomp import pairwise_tukeyhsd

import fieldassist
from fieldassist.trade.contact import on_scale, percent_of
from fieldassist.trade.message import message
from fieldassist.trial import draws, gains, model_fit
from fieldassist.trial.analysis import analyse, largest_of_pairs, told
from fieldassist.trial.model import Analysis, Claim, Design, EyeReading, Sample
from fieldassist.trial.model_fit import Array, Fit, Prior
from tests import simulate_trials
from tests.simulate_trials import Counted, World, count, share

HEAD = "5c" * 32
# Nothing assumed, one spread for all: what textbooks do.
BARE = Prior(weight=0, own=1e9)


def sample(
    letter: str, number: int, *percent: float, batch: int = 1, age: float = 0.0, spoiled: bool = False
) -> Sample:
    readings = tuple(EyeReading(f"Reader {who}", one) for who, one in zip("XYZ", percent, strict=False))
    why = message("trial-nothing-read") if spoiled else None
    return Sample(letter, number, number, batch, age, readings, spoiled=why)


def samples_of(percents: Mapping[str, Sequence[float]]) -> list[Sample]:
    """Round by round, one batch, one age."""
    rounds = itertools.zip_longest(*percents.values())
    made = [(letter, p) for one in rounds for letter, p in zip(percents, one, strict=True) if p is not None]
    return [sample(letter, number, p) for number, (letter, p) in enumerate(made, 1)]


def design(letters: str, requirement: float = 85.0, **more: object) -> Design:
    return replace(Design(tuple(letters), tuple(letters), requirement), **more)  # type: ignore[arg-type]


def said(percents: Mapping[str, Sequence[float]], requirement: float = 85.0, **more: object) -> Analysis:
    return analyse(samples_of(percents), design("".join(percents), requirement, **more), HEAD, 2000)


FOUR = {
    "A": [86.0, 84, 88, 91, 87],
    "B": [90.0, 93, 85, 92, 94],
    "C": [82.0, 75, 88, 80, 85],
    "D": [95.0, 92, 96, 90, 93],
}


@cache
def of_four() -> Fit:
    return model_fit.fit(samples_of(FOUR), "ABCD", BARE)


def on_the_scale() -> list[Array]:
    return [np.array([on_scale(p) for p in of_one]) for of_one in FOUR.values()]


@cache
def uneven() -> tuple[list[Sample], RegressionResults]:
    """Three batches of mortar, ages, combinations that were not made equally often; and what statsmodels fits to it.

    Its columns: the four combinations, the second and third batch, age.
    """
    drawn = draws.dice("uneven", "test")
    letters = list("ABCDBACDDABCABDCAB")
    made = [
        sample(letter, n + 1, float(drawn.randint(70, 99)), batch=1 + n // 7, age=float(5 * (n % 7)))
        for n, letter in enumerate(letters)
    ]
    columns = [
        *([one.letter == letter for one in made] for letter in "ABCD"),
        *([one.batch == batch for one in made] for batch in (2, 3)),
        [one.age_min / 60 for one in made],
    ]
    return made, OLS([on_scale(one.percent) for one in made], np.array(columns, float).T).fit()


# --- against scipy and statsmodels --------------------------------------------------------------------------------


def test_means_their_errors_and_the_age_are_those_of_least_squares() -> None:
    """statsmodels OLS: predictions at the mean batch and age of the trial."""
    made, ols = uneven()
    found = model_fit.fit(made, "ABCD", BARE)
    assert found.df == ols.df_resid
    assert found.squares == pytest.approx(ols.ssr)
    assert found.age_per_h == pytest.approx(ols.params[-1])
    rows = np.repeat(ols.model.exog.mean(axis=0)[None], 4, axis=0)
    rows[:, :4] = np.eye(4)
    there = ols.t_test(rows)
    assert found.means == pytest.approx(there.effect)
    pooled = found.covariance(found.own_variances(BARE))
    assert np.sqrt(np.diag(pooled)) == pytest.approx(there.sd.ravel(), rel=1e-6)


def test_the_error_of_a_mean_is_drawn_as_students_t_where_nothing_is_assumed() -> None:
    """scipy.stats.t: the interval of a mean with a common spread."""
    fitted = of_four()
    err = draws.errors(fitted, BARE, draws.dice(HEAD, "means"), 40_000)[0]
    error = np.sqrt(fitted.squares / fitted.df / 5)
    for below in (0.025, 0.1, 0.9, 0.975):
        assert np.quantile(err, below) / error == pytest.approx(scipy.stats.t.ppf(below, fitted.df), abs=0.03)


def test_the_smallest_p_of_all_pairs_is_that_of_tukey() -> None:
    """scipy.stats.tukey_hsd and statsmodels pairwise_tukeyhsd, one way, balanced."""
    found = draws.tests(of_four(), BARE, range(4), range(4), HEAD, 20_000)
    theirs = scipy.stats.tukey_hsd(*on_the_scale()).pvalue
    values = np.concatenate(on_the_scale())
    third = pairwise_tukeyhsd(values, np.repeat(list("ABCD"), 5)).pvalues
    smallest = float(min(third))
    assert smallest == pytest.approx(theirs[np.triu_indices(4, 1)].min(), abs=1e-3)
    assert found.p.min() == pytest.approx(smallest, abs=0.002)


def test_stepping_down_lies_between_tukey_and_pairs_tested_alone() -> None:
    """scipy.stats.tukey_hsd above, t of pairs with the common spread below: no pair goes uncorrected."""
    fitted = of_four()
    found = draws.tests(fitted, BARE, range(4), range(4), HEAD, 20_000)
    theirs = scipy.stats.tukey_hsd(*on_the_scale()).pvalue
    error = np.sqrt(2 / 5 * fitted.squares / fitted.df)
    for one, other, p in zip(found.one, found.other, found.p, strict=True):
        alone = 2 * scipy.stats.t.sf(abs(fitted.means[one] - fitted.means[other]) / error, fitted.df)
        assert alone - 0.01 <= p <= theirs[one, other] + 0.01
    assert found.p.max() < theirs[np.triu_indices(4, 1)].max() - 0.01


def test_the_contenders_are_those_that_dunnetts_test_does_not_put_out() -> None:
    """scipy.stats.dunnett, one-sided, each combination in turn the control of the others."""
    found = draws.tests(of_four(), BARE, range(4), range(4), HEAD, 20_000)
    groups = on_the_scale()
    for place, letter in enumerate("ABCD"):
        others = [group for index, group in enumerate(groups) if index != place]
        theirs = scipy.stats.dunnett(*others, control=groups[place], alternative="greater", rng=1).pvalue.min()
        assert found.behind[letter] == pytest.approx(theirs, abs=0.008)


def test_the_largest_of_all_pairs_of_normals_is_the_studentized_range() -> None:
    """scipy.stats.studentized_range, infinite degrees of freedom."""
    for means in (2, 3, 8, 12):
        theirs = scipy.stats.studentized_range.isf(0.05, means, np.inf) / np.sqrt(2)
        assert largest_of_pairs(means) == pytest.approx(theirs, abs=1e-4)


def test_the_mean_contact_of_samples_is_the_integral() -> None:
    """scipy.integrate.quad over the normal distribution."""
    for centre, spread in ((1.0, 0.4), (2.6, 0.5), (3.5, 0.3)):
        theirs = scipy.integrate.quad(
            lambda z, c=centre, s=spread: percent_of(c + s * z) * scipy.stats.norm.pdf(z), -8, 8, limit=200
        )[0]
        assert model_fit.mean_percents(np.array(centre), np.array(spread)) == pytest.approx(theirs, abs=0.05)


def test_flipped_signs_are_counted_exactly_and_their_interval_is_what_they_do_not_reject() -> None:
    """scipy.stats.permutation_test, permutation_type "samples"."""
    differences = np.array([0.3, 0.5, -0.1, 0.4, 0.2, 0.6, -0.2, 0.35])

    def theirs(values: Array, alternative: str) -> float:
        how = {"permutation_type": "samples", "n_resamples": 10**6, "alternative": alternative}
        return float(scipy.stats.permutation_test((values,), np.mean, **how).pvalue)

    found = gains.flipped(differences, HEAD)
    assert found.p == pytest.approx(theirs(differences, "two-sided"))
    for end, outward, alternative in ((found.low, -1e-6, "greater"), (found.high, 1e-6, "less")):
        assert theirs(differences - (end + outward), alternative) <= 0.025
        assert theirs(differences - (end - outward), alternative) > 0.025


def test_flips_that_are_drawn_come_to_what_all_of_them_would() -> None:
    """scipy.stats.norm: the sum of many flipped differences is nearly normal."""
    differences = draws.dice("flips", "test").normal(0.15, 0.5, 40)
    near = 2 * scipy.stats.norm.sf(abs(differences.sum()) / np.sqrt((differences**2).sum()))
    assert gains.flipped(differences, HEAD).p == pytest.approx(near, abs=0.006)


def test_few_pairs_are_students_t() -> None:
    """scipy.stats.ttest_1samp and its interval."""
    differences = np.array([0.3, 0.5, -0.1, 0.4])
    theirs = scipy.stats.ttest_1samp(differences, 0)
    found = gains.by_t(differences)
    assert found.p == pytest.approx(theirs.pvalue)
    assert (found.low, found.high) == pytest.approx(tuple(theirs.confidence_interval()))


def test_two_combinations_asked_about_beforehand_are_a_contrast_of_least_squares() -> None:
    """statsmodels OLS, t_test of the difference."""
    made, ols = uneven()
    found = gains.gain(model_fit.fit(made, "ABCD", BARE), BARE, "", (("A", "B"),), HEAD, True, 20_000)
    theirs = ols.t_test([-1, 1, 0, 0, 0, 0, 0])
    assert found.by == "contrast"
    assert found.p == pytest.approx(float(theirs.pvalue), abs=0.01)


def test_the_chance_of_the_next_tile_is_that_of_a_normal_one_where_much_is_known() -> None:
    """scipy.stats.norm: forty samples of two combinations leave nothing to what was assumed."""
    drawn = draws.dice("many", "test")
    percents = {letter: [float(p) for p in drawn.randint(80, 97, 40)] for letter in "AB"}
    for one in said(percents).estimates:
        y = np.array([on_scale(p) for p in percents[one.letter]])
        theirs = scipy.stats.norm.sf((on_scale(84.75) - y.mean()) / y.std(ddof=1))
        assert one.passes == pytest.approx(theirs, abs=0.02)


def test_what_one_reader_scatters_is_the_spread_of_differences() -> None:
    """numpy.std of the differences of two readers over the square root of 2."""
    pairs = [(80.0, 85.0), (90.0, 88.0), (75.0, 85.0), (95.0, 96.0)]
    made = [sample("A", n, *both) for n, both in enumerate(pairs, 1)]
    differences = [on_scale(x) - on_scale(y) for x, y in pairs]
    found = analyse(made, design("A"), HEAD, 500).reading_spread
    assert found == pytest.approx(np.std(differences, ddof=1) / np.sqrt(2))


# --- the least that a claim needs ---------------------------------------------------------------------------------


def test_one_sample_of_each_is_pictures_with_its_reading_and_nothing_more() -> None:
    found = said({"A": [95.0], "B": [70.0], "C": [80.0]})
    assert found.claim == "pictures"
    assert [(one.letter, round(one.mean or 0)) for one in found.estimates] == [("A", 95), ("C", 80), ("B", 70)]
    for one in found.estimates:
        assert (one.low, one.high, one.first, one.contender, one.chance, one.near_best) == (None,) * 6
    assert (found.differences, found.ties, found.contenders, found.best) == ((), (), (), "A")


def test_two_samples_of_each_have_intervals_and_no_rank() -> None:
    found = said({"A": [95.0, 97], "B": [50.0, 55], "C": [90.0, 96]})
    assert found.claim == "intervals"
    assert {one.differs for one in found.differences} == {None}
    assert found.ties == ()
    for one in found.estimates:
        assert one.low is not None
        assert one.mean is not None
        assert one.high is not None
        assert one.low < one.mean < one.high
        assert (one.first, one.chance, one.passes) == (None, None, None)
    assert found.contenders == ("A", "C")
    assert found.of("B").contender is False


@pytest.mark.parametrize(("letters", "each", "claim"), [(2, 4, "intervals"), (2, 5, "ranks"), (4, 3, "ranks")])
def test_nothing_differs_on_fewer_than_eight_residual_degrees_of_freedom(letters: int, each: int, claim: Claim) -> None:
    percents = {letter: [95.0 - 40 * place + n for n in range(each)] for place, letter in enumerate("AB")}
    percents |= {letter: [90.0 + n for n in range(each)] for letter in "CD"[: letters - 2]}
    found = said(percents)
    assert (found.df, found.claim) == (letters * (each - 1), claim)
    assert next(one.differs for one in found.differences if {one.better, one.worse} == {"A", "B"}) is (
        True if claim == "ranks" else None
    )


def test_six_pairs_answer_a_planned_question_where_each_was_made_once_and_five_do_not() -> None:
    def of(pairs: int) -> bool | None:
        letters = "ABCDEFGHJKLM"[: 2 * pairs]
        percents = {one: [75.0 + 2 * (place // 2) + 10 * (place % 2)] for place, one in enumerate(letters)}
        planned = tuple((letters[2 * n], letters[2 * n + 1]) for n in range(pairs))
        (gain,) = said(percents, pairs=(planned,), part_of=("seating",)).gains
        assert gain.points == pytest.approx(10, abs=2)
        return gain.found

    assert of(6) is True
    assert of(5) is None


def test_a_combination_made_less_often_than_three_times_has_no_rank_among_those_that_have() -> None:
    found = said({**{letter: FOUR[letter] for letter in "ABC"}, "D": [50.0, 52]})
    assert found.claim == "ranks"
    assert (found.of("D").first, found.of("D").chance) == (None, None)
    assert found.of("D").contender is False
    assert {one.differs for one in found.differences if "D" in (one.better, one.worse)} == {None}
    assert found.of("C").last == 4


def test_a_rank_is_a_range_and_leaves_room_for_whatever_is_not_told_apart() -> None:
    found = said({"A": [96.0, 95, 97, 95], "B": [95.0, 96, 94, 96], "C": [60.0, 65, 70, 62]})
    assert [(one.letter, one.first, one.last) for one in found.estimates] == [("A", 1, 2), ("B", 1, 2), ("C", 3, 3)]
    assert found.ties == (("A", "B"),)
    assert found.contenders == ("A", "B")


def test_groups_that_cannot_be_told_apart_are_as_large_as_they_go() -> None:
    found = said({"A": [97.0, 96, 97, 98], "B": [92.0, 93, 91, 93], "C": [85.0, 84, 86, 87], "D": [70.0, 72, 71, 69]})
    apart = {frozenset((one.better, one.worse)) for one in found.differences if one.differs}
    for group in found.ties:
        assert not any(frozenset(pair) in apart for pair in itertools.combinations(group, 2))
        for other in set("ABCD") - set(group):
            assert any(frozenset((other, one)) in apart for one in group)
    alike = {frozenset(pair) for group in found.ties for pair in itertools.combinations(group, 2)}
    assert alike | apart == {frozenset(pair) for pair in itertools.combinations("ABCD", 2)}


@pytest.mark.parametrize(
    ("passes", "samples", "requirement", "words"),
    [
        (0.05, 3, 85, "under 1 in 10"),
        (0.30, 3, 85, "about 1 in 4"),
        (0.55, 3, 85, "about half"),
        (0.70, 3, 85, "about 3 in 4"),
        (0.97, 3, 85, "9 in 10 or better"),
        (0.97, 4, 95, "about 3 in 4"),
        (0.97, 5, 95, "9 in 10 or better"),
    ],
)
def test_a_chance_is_told_in_steps_and_capped_near_the_top(
    passes: float, samples: int, requirement: float, words: str
) -> None:
    assert told(passes, samples, requirement) == words


def test_three_passes_out_of_three_are_no_certainty() -> None:
    found = said({letter: [86.0, 88, 90] for letter in "ABCD"})
    assert all(one.passes is not None and 0.5 < one.passes < 0.9 for one in found.estimates)


def test_more_repeats_are_advised_by_the_rule_and_none_where_one_is_left() -> None:
    """n = 2 (q + 0.84)^2 s^2/D^2, scipy.stats.norm for both quantiles, two contenders."""
    percents = {"A": [96.0, 92, 94, 95], "B": [94.0, 96, 93, 95], "C": [60.0, 65, 62, 70]}
    found = said(percents)
    quantiles = scipy.stats.norm.ppf(0.975) + scipy.stats.norm.ppf(0.8)
    needed = 2 * (quantiles * found.spread / (on_scale(95) - on_scale(90))) ** 2
    assert len(found.contenders) == 2
    assert found.more == max(0, int(np.ceil(needed)) - 4) > 0
    assert said({**percents, "B": [50.0, 52, 48, 55]}).more == 0
    wide = {letter: [float(p) for p in (40, 70, 95, 99)] for letter in "ABC"}
    assert (said(wide).more, said(wide).wide) == (None, True)


# --- uneven trials ------------------------------------------------------------------------------------------------


def test_nothing_read_is_nothing_said() -> None:
    planned = {"pairs": ((("A", "B"),),), "part_of": ("seating",)}
    found = analyse([sample("A", 1)], design("AB", **planned), HEAD)
    assert (found.claim, found.best, found.contenders, found.more, found.readers) == ("pictures", None, (), 0, 0)
    assert [(one.letter, one.samples, one.mean) for one in found.estimates] == [("A", 0, None), ("B", 0, None)]
    assert [(one.found, one.p, one.pairs) for one in found.gains] == [(None, 1.0, ())]


def test_a_spoiled_sample_counts_for_nothing_but_its_batch_and_age() -> None:
    made = samples_of(FOUR)
    with_spoiled = [*made, sample("D", 99, 20.0, spoiled=True)]
    assert analyse(with_spoiled, design("ABCD"), HEAD, 500) == analyse(made, design("ABCD"), HEAD, 500)


def test_the_order_in_which_samples_are_handed_in_changes_nothing() -> None:
    made, _ = uneven()
    assert analyse(made[::-1], design("ABCD"), HEAD, 500) == analyse(made, design("ABCD"), HEAD, 500)


def test_the_same_record_gives_the_same_figures_everywhere() -> None:
    made, _ = uneven()
    found = analyse(made, design("ABCD"), HEAD)
    again = analyse(made, design("ABCD"), HEAD)
    assert found == again
    assert [(one.letter, *(round(p or 0, 2) for p in (one.mean, one.low, one.high))) for one in found.estimates] == [
        ("C", 90.91, 79.69, 96.28),
        ("B", 84.91, 71.87, 92.55),
        ("D", 82.48, 66.21, 92.13),
        ("A", 79.53, 65.61, 88.4),
    ]
    assert [round(one.p, 3) for one in found.differences] == [0.757, 0.411, 0.912, 0.747, 0.912, 0.687]


def test_one_combination_alone_has_an_interval_and_a_chance() -> None:
    found = said({"A": [float(p) for p in (88, 90, 86, 92, 85, 91, 89, 90, 87)]})
    one = found.of("A")
    assert (found.best, found.claim, found.differences, one.first, one.last) == ("A", "ranks", (), 1, 1)
    assert one.chance is not None


def test_what_the_reckoning_rules_out_is_never_the_best_nor_a_contender() -> None:
    found = said(FOUR, eligible=("A", "C"))
    assert found.estimates[0].letter == "D"
    assert (found.best, found.of("D").contender, found.of("D").near_best) == ("A", None, None)
    assert set(found.contenders) <= {"A", "C"}
    assert found.of("D").first == 1


def test_a_batch_that_reads_lower_is_not_laid_on_the_combinations_made_from_it() -> None:
    letters = "ABABABBABABA"
    low = [sample(one, n, 88.0 if n < 6 else 78.0, batch=1 + n // 6) for n, one in enumerate(letters)]
    uneven_batches = [*low, sample("A", 20, 77.0, batch=2), sample("A", 21, 79.0, batch=2)]
    found = analyse(uneven_batches, design("AB"), HEAD, 2000)
    assert found.batch_sd > 0.25
    assert abs(found.differences[0].points) < 1
    alone = analyse([replace(one, batch=1) for one in uneven_batches], design("AB"), HEAD, 2000)
    assert abs(alone.differences[0].points) > 1.2


def test_mortars_that_share_no_batch_are_compared_with_the_batches_in_doubt() -> None:
    drawn = draws.dice("mortars", "test")

    def made(apart: int) -> list[Sample]:
        return [
            sample(one, n, float(drawn.randint(85, 95)), batch=1 + n // 8 + (apart if one in "CD" else 0))
            for n, one in enumerate("ABCD" * 6)
        ]

    together, apart = (model_fit.fit(made(far), "ABCD", Prior()) for far in (0, 10))
    assert (together.part.tolist(), apart.part.tolist()) == ([0, 0, 0, 0], [0, 0, 1, 1])
    covariance = apart.covariance(np.full(4, 0.2))
    between = covariance[0, 0] + covariance[2, 2] - 2 * covariance[0, 2]
    within = covariance[0, 0] + covariance[1, 1] - 2 * covariance[0, 1]
    assert between == pytest.approx(within + 2 * apart.batch_sd**2 / 3, rel=0.02)
    planned = gains.gain(apart, Prior(), "mortar", (("A", "C"), ("B", "D")), HEAD, True, 500)
    assert planned.by == "contrast"


def test_a_sample_that_one_reader_read_is_told_as_both_would_have_read_it() -> None:
    both = [sample("AB"[n % 2], n, 80.0, 90.0) for n in range(10)]
    lone = [Sample("A", 50 + n, 0, 1, 0.0, (EyeReading("Reader Y", 90.0),)) for n in range(4)]
    found = analyse([*both, *lone], design("AB"), HEAD, 500)
    assert abs(found.differences[0].points) < 1.5
    assert model_fit.reader_levels(lone, Prior()) == {"Reader Y": 0.0}


def test_a_trial_under_way_can_be_analysed_after_every_sample() -> None:
    made, _ = uneven()
    claims = [analyse(made[:n], design("ABCD"), HEAD, 200).claim for n in range(len(made) + 1)]
    assert claims == sorted(claims, key=("pictures", "intervals", "ranks").index)
    assert set(claims) == {"pictures", "intervals", "ranks"}


def test_bed_is_told_by_gauge_before_mass() -> None:
    made = [
        replace(sample("A", 1, 90.0), bed_mm=(3.0, 4.0, 5.0), by_mass_mm=9.0),
        replace(sample("A", 2, 90.0), by_mass_mm=5.0),
        replace(sample("A", 3, 90.0, spoiled=True), by_mass_mm=50.0),
    ]
    assert analyse(made, design("AB"), HEAD, 200).of("A").bed_mm == 4.5
    assert analyse(made, design("AB"), HEAD, 200).of("B").bed_mm is None


# --- short cuts that are forbidden --------------------------------------------------------------------------------


@pytest.mark.parametrize(("each", "least"), [(2, 12), (3, 10), (5, 5)])
def test_samples_that_happen_to_read_alike_do_not_make_an_interval_narrow(each: int, least: float) -> None:
    """A bootstrap and a beta regression by maximum likelihood would leave no width here."""
    found = said({letter: [80.0] * each for letter in "ABCD"})
    for one in found.estimates:
        assert one.low is not None
        assert one.high is not None
        assert one.high - one.low > least


def test_an_interval_of_a_difference_holds_for_all_pairs_at_once() -> None:
    """An interval of each pair alone would cross nothing where the pair is not told apart."""
    percents = {letter: [86.0 + place, 90.0 + place, 88.0 + place] for place, letter in enumerate("ABCDEFGH")}
    for one in said(percents).differences:
        assert one.differs is False
        assert one.low < 0 < one.high


@pytest.mark.parametrize("subject", ["trial", "trialpage"])
def test_combinations_are_never_called_alike(subject: str) -> None:
    english = (Path(fieldassist.__file__).parent / "language" / "en" / f"{subject}.ftl").read_text(encoding="utf-8")
    assert not re.search(r"\b(equal|equally|identical|the same as|as good as)\b", english, re.IGNORECASE)


def test_what_lies_close_to_the_limit_is_drawn_ten_times_more(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[int] = []
    plain = draws.errors
    monkeypatch.setattr(draws, "errors", lambda *given, **more: asked.append(given[3]) or plain(*given, **more))
    clear = {"A": [97.0, 96, 97, 96, 97], "B": [60.0, 62, 61, 63, 60]}
    said_of = model_fit.fit(samples_of(clear), "AB", Prior())
    draws.tests(said_of, Prior(), range(2), range(2), HEAD, 1000)
    assert sum(asked) == 1000
    asked.clear()
    monkeypatch.setattr(draws, "close", lambda _: True)
    draws.tests(said_of, Prior(), range(2), range(2), HEAD, 1000)
    assert sum(asked) == 10_000


# --- simulated worlds; `python -m tests.simulate_trials` counts them in full ----------------------------------------


@cache
def drawn_worlds() -> Counted:
    both = Counted()
    for truth, limit in itertools.product(simulate_trials.TRUTHS, (85.0, 95.0)):
        both += count(World(truth, 8, 3, requirement=limit), 6, 300)
    return both


def test_intervals_hold_the_truth_as_often_as_they_say() -> None:
    assert 0.93 <= share(drawn_worlds().covered) <= 0.985
    high = (93.5, 94.0, 95.0, 95.5, 96.0, 97.0, 97.5, 98.0)
    top = [inside for truth in simulate_trials.TRUTHS for inside in count(World(truth, 8, 3, high), 5, 300).covered]
    assert share(top) >= 0.90


def test_the_best_one_stays_among_the_contenders_and_what_is_named_is_as_good() -> None:
    assert share(drawn_worlds().kept) >= 0.93
    assert share(drawn_worlds().near) >= 0.85


def test_chances_are_not_too_sure() -> None:
    bins = [(stated, true) for stated, true, many in drawn_worlds().bins() if many >= 20]
    assert len(bins) >= 4
    assert all(-0.17 <= stated - true <= 0.15 for stated, true in bins)


def test_combinations_that_are_alike_are_told_apart_no_oftener_than_once_in_twenty() -> None:
    false = [one for world in simulate_trials.nulls() for one in count(world, 4, 250).false]
    assert share(false) <= 0.07


def test_a_planned_question_finds_nothing_where_nothing_is() -> None:
    gains_ = [gain[0] for world in simulate_trials.planned_nulls() for gain in count(world, 6, 150).gains]
    assert share([found is True for found in gains_]) <= 0.08
    assert None not in gains_


def test_what_is_there_is_found_oftener_by_a_planned_question_than_among_all_pairs() -> None:
    world = World("logit", 8, 5, (85.0, 95.0) + (85.0,) * 6, pairs=((("A", "B"),),))
    found = count(world, 12, 300)
    assert share([gain[0] is True for gain in found.gains]) > share(found.found) > 0.4
