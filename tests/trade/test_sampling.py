"""Sample sizes, exact limits and acceptance plans against published tables, and against scipy as an
independent one."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from fieldassist.trade import sampling
from fieldassist.trade.basis import OutOfRange, Provenance
from fieldassist.trade.coverage import CHOSEN_NOT_DRAWN
from fieldassist.trade.quantities import Quantity
from tests.trade.telling import refusal_in_words, words

# --- success runs


@pytest.mark.parametrize(
    ("confidence", "share", "n"),
    # The success-run table: n = ceil(ln(1 - C) / ln R).
    [
        (0.95, 0.90, 29),
        (0.95, 0.95, 59),
        (0.90, 0.90, 22),
        (0.90, 0.95, 45),
        (0.99, 0.90, 44),
        (0.99, 0.95, 90),
        (0.95, 0.99, 299),
        (0.95, 0.80, 14),
    ],
)
def test_success_runs_are_as_tabulated(confidence: float, share: float, n: int) -> None:
    assert sampling.zero_failure_sample(confidence, share) == n
    assert sampling.share_shown(n, confidence) >= share
    assert sampling.share_shown(n - 1, confidence) < share


def test_the_n_plus_1_form_takes_one_sample_less() -> None:
    # Published for the uniform prior: 28 and 58; R = 90.4966 % at 29 and 95.1297 % at 59.
    assert sampling.zero_failure_sample(0.95, 0.90, "n+1") == 28
    assert sampling.zero_failure_sample(0.95, 0.95, "n+1") == 58
    assert sampling.share_shown(29, form="n+1") == pytest.approx(0.904966, abs=5e-7)
    assert sampling.share_shown(59, form="n+1") == pytest.approx(0.951297, abs=5e-7)


def test_a_run_that_shows_the_share_exactly_is_not_rounded_up() -> None:
    # 0.5^3 = 0.125, so three good ones show one half with exactly 87.5 % confidence.
    assert sampling.zero_failure_sample(0.875, 0.5) == 3


@pytest.mark.parametrize(("share", "sizes"), [(0.90, [29, 46, 61, 76, 89]), (0.95, [59, 93, 124, 153])])
def test_sample_sizes_with_failures_allowed_are_as_computed(share: float, sizes: list[int]) -> None:
    # Binomial at 95 % confidence; checked against scipy below.
    assert [sampling.sample_size(0.95, share, c) for c in range(len(sizes))] == sizes


@given(st.floats(0.5, 0.999), st.floats(0.3, 0.98), st.integers(0, 12))
def test_a_sample_size_is_the_least_that_scipys_binomial_lets_pass(
    confidence: float, share: float, failures: int
) -> None:
    n = sampling.sample_size(confidence, share, failures)
    assert stats.binom.cdf(failures, n, 1 - share) <= (1 - confidence) * (1 + 1e-7)
    if n > failures + 1:
        assert stats.binom.cdf(failures, n - 1, 1 - share) > (1 - confidence) * (1 - 1e-7)


# --- exact limits


def test_the_handbooks_example_of_exact_limits_comes_out() -> None:
    # NIST/SEMATECH e-Handbook of Statistical Methods 7.2.4.1: 4 of 20, 90 %: .071354 and .401029 (from
    # memory).
    limits = sampling.clopper_pearson(4, 20, 0.90)
    assert limits.low == pytest.approx(0.071354, abs=1e-6)
    assert limits.high == pytest.approx(0.401029, abs=1.5e-6)


@pytest.mark.parametrize(
    ("good", "n", "low", "high"),
    # Clopper-Pearson at 95 %, two-sided.
    [
        (0, 3, 0, 0.7076),
        (3, 3, 0.2924, 1),
        (5, 10, 0.1871, 0.8129),
        (9, 10, 0.5550, 0.9975),
        (10, 10, 0.6915, 1),
        (19, 20, 0.7513, 0.9987),
        (0, 20, 0, 0.1684),
        (1, 20, 0.0013, 0.2487),
    ],
)
def test_two_sided_limits_are_as_tabulated(good: int, n: int, low: float, high: float) -> None:
    limits = sampling.clopper_pearson(good, n)
    assert limits.low == pytest.approx(low, abs=5e-5)
    assert limits.high == pytest.approx(high, abs=5e-5)


@pytest.mark.parametrize(
    ("good", "n", "low"),
    # One-sided 95 % lower limits, .05^(1/n) where all are good.
    [
        (3, 3, 0.3684),
        (5, 5, 0.5493),
        (10, 10, 0.7411),
        (20, 20, 0.8609),
        (29, 29, 0.9019),
        (59, 59, 0.9505),
        (2, 3, 0.1354),
        (19, 20, 0.7839),
        (28, 29, 0.8466),
        (45, 46, 0.9010),
    ],
)
def test_one_sided_limits_are_as_tabulated(good: int, n: int, low: float) -> None:
    limits = sampling.clopper_pearson(good, n, side="lower")
    assert limits.low == pytest.approx(low, abs=5e-5)
    assert limits.high == 1.0
    mirrored = sampling.clopper_pearson(n - good, n, side="upper")
    assert mirrored.low == 0.0
    assert mirrored.high == pytest.approx(1 - limits.low)


@settings(max_examples=60)
@given(st.integers(1, 300), st.floats(0, 1), st.sampled_from([0.5, 0.9, 0.95, 0.999]))
def test_exact_limits_agree_with_scipys_beta_quantiles(n: int, share: float, confidence: float) -> None:
    good = round(share * n)
    tail = (1 - confidence) / 2
    limits = sampling.clopper_pearson(good, n, confidence)
    low = 0.0 if good == 0 else float(stats.beta.ppf(tail, good, n - good + 1))
    high = 1.0 if good == n else float(stats.beta.ppf(1 - tail, good + 1, n - good))
    assert limits.low == pytest.approx(low, rel=1e-7, abs=1e-10)
    assert limits.high == pytest.approx(high, rel=1e-7, abs=1e-10)


def test_exact_limits_of_thousands_agree_with_scipys_beta_quantiles() -> None:
    limits = sampling.clopper_pearson(2900, 3000)
    assert limits.low == pytest.approx(float(stats.beta.ppf(0.025, 2900, 101)), rel=1e-8)
    assert limits.high == pytest.approx(float(stats.beta.ppf(0.975, 2901, 100)), rel=1e-8)


@given(st.integers(1, 80), st.data())
def test_one_more_good_one_never_lowers_the_limits(n: int, data: st.DataObject) -> None:
    good = data.draw(st.integers(0, n - 1))
    fewer, more = sampling.clopper_pearson(good, n), sampling.clopper_pearson(good + 1, n)
    assert fewer.low <= good / n <= fewer.high
    assert fewer.low < more.low
    assert fewer.high < more.high


# --- counted lots


@pytest.mark.parametrize(
    ("bad_share", "sizes"),
    # FAO ISPM 31 (2008) table 1, 95 % confidence (from memory, recomputed).
    [
        (0.05, {25: 24, 50: 39, 100: 45, 200: 51, 300: 54, 500: 56, 1000: 57}),
        (0.01, {100: 95, 200: 155, 500: 225, 1000: 258}),
    ],
)
def test_draws_from_counted_lots_are_as_in_ispm_31(bad_share: float, sizes: dict[int, int]) -> None:
    assert {lot: sampling.hypergeometric_sample(lot, 0.95, bad_share) for lot in sizes} == sizes


@pytest.mark.parametrize(
    ("lot", "bad", "n", "chance"),
    # Hypergeometric with none accepted.
    [(20, 2, 5, 0.5526), (50, 5, 8, 0.4015)],
)
def test_acceptance_of_a_counted_lot_is_as_computed(lot: int, bad: int, n: int, chance: float) -> None:
    assert sampling.accept_probability(n, 0, bad / lot, lot) == pytest.approx(chance, abs=5e-5)


@pytest.mark.parametrize(("n", "accept", "chance"), [(20, 2, 0.9561), (13, 1, 0.9068)])
def test_acceptance_at_four_percent_bad_is_as_computed(n: int, accept: int, chance: float) -> None:
    assert sampling.accept_probability(n, accept, 0.04) == pytest.approx(chance, abs=5e-5)


@given(st.integers(1, 400), st.data())
def test_acceptance_agrees_with_scipy(lot: int, data: st.DataObject) -> None:
    bad = data.draw(st.integers(0, lot))
    n = data.draw(st.integers(1, lot))
    accept = data.draw(st.integers(0, n))
    assert sampling.accept_probability(n, accept, bad / lot, lot) == pytest.approx(
        float(stats.hypergeom.cdf(accept, lot, bad, n)), abs=1e-9
    )
    assert sampling.accept_probability(n, accept, bad / lot) == pytest.approx(
        float(stats.binom.cdf(accept, n, bad / lot)), abs=1e-9
    )


def test_acceptance_of_a_large_counted_lot_agrees_with_scipy() -> None:
    assert sampling.accept_probability(80, 3, 0.05, lot=9000) == pytest.approx(
        float(stats.hypergeom.cdf(3, 9000, 450, 80)), rel=1e-8
    )


@given(st.integers(2, 300), st.floats(0.5, 0.99), st.floats(0.3, 0.99), st.integers(0, 3))
def test_lifts_needed_in_a_counted_area_are_just_enough_for_the_claim(
    lot: int, confidence: float, share: float, failures: int
) -> None:
    try:
        lifts = sampling.lifts_needed(confidence, share, failures, lot).lifts
    except OutOfRange:
        assert math.floor(lot * (1 - share) + 1e-9) < failures
        return
    assert sampling.least_good_in_lot(lifts - failures, lifts, lot, confidence) >= lot * share - 1e-6
    if lifts - 1 > failures:
        assert sampling.least_good_in_lot(lifts - 1 - failures, lifts - 1, lot, confidence) < lot * share


@given(st.integers(1, 200), st.data())
def test_the_least_good_count_agrees_with_scipy_bad_one_by_bad_one(lot: int, data: st.DataObject) -> None:
    drawn = data.draw(st.integers(1, lot))
    good = data.draw(st.integers(0, drawn))
    possible = [
        bad
        for bad in range(drawn - good, lot - good + 1)
        if stats.hypergeom.cdf(drawn - good, lot, bad, drawn) > 0.05 * (1 + 1e-7)
    ]
    assert sampling.least_good_in_lot(good, drawn, lot) == lot - max(possible)


def test_a_counted_area_lets_the_same_lifts_show_more_than_an_endless_one() -> None:
    share = sampling.share_shown(10)
    assert sampling.least_good_in_lot(10, 10, 20) / 20 > share
    assert sampling.least_good_in_lot(10, 10, 90_000) / 90_000 == pytest.approx(share, abs=1e-3)


# --- in words


def test_three_good_lifts_show_no_more_than_36_8_percent_and_are_called_chosen() -> None:
    # .05^(1/3) = .3684; three is ANSI A108.5's least number of tiles to remove.
    proof = sampling.what_lifts_prove(3, 3)
    assert proof.share == pytest.approx(0.3684, abs=5e-5)
    assert "36.8 %" in words(proof.words)
    assert "Had they been drawn at random" in words(proof.words)
    assert proof.caution == CHOSEN_NOT_DRAWN


@given(st.integers(1, 60), st.data())
def test_the_percentage_in_words_never_claims_more_than_the_share(lifted: int, data: st.DataObject) -> None:
    good = data.draw(st.integers(0, lifted))
    proof = sampling.what_lifts_prove(good, lifted)
    said = float(words(proof.words).split("at least ")[1].split(" %")[0])
    assert said / 100 <= proof.share + 1e-9
    assert proof.share - said / 100 < 0.001


def test_lifting_every_tile_needs_no_chance() -> None:
    proof = sampling.what_lifts_prove(11, 12, lot=12)
    assert proof.share == pytest.approx(11 / 12)
    assert proof.words.code == "sampling-whole-area"
    assert proof.caution != CHOSEN_NOT_DRAWN


def test_lifts_needed_are_said_with_the_claim_and_the_caution() -> None:
    need = sampling.lifts_needed(0.95, 0.95, failures=1)
    assert need.lifts == 93
    assert "at most 1 of them bad" in words(need.words)
    assert need.caution == CHOSEN_NOT_DRAWN
    counted = sampling.lifts_needed(0.95, 0.90, lot=40)
    assert counted.lifts < 29
    assert "of 40 tiles" in words(counted.words)


# --- lifts by lot


@pytest.mark.parametrize(
    ("drawn", "percent"),
    # All good of n drawn show at 95 % .05^(1/n), cut to the tenth: computed, no published table.
    [(3, 36.8), (6, 60.6), (8, 68.7), (10, 74.1), (13, 79.4), (20, 86.0), (29, 90.1), (59, 95.0)],
)
def test_lots_that_are_all_good_show_the_success_runs_share(drawn: int, percent: float) -> None:
    proof = sampling.what_lots_prove(sampling.LiftTally(200, drawn_good=drawn))
    assert proof.share is not None
    assert 0 <= proof.share * 100 - percent < 0.1
    assert proof.share == pytest.approx(sampling.share_shown(drawn), abs=1e-9)


COUNTS = st.integers(0, 40)


@given(COUNTS, COUNTS, COUNTS, COUNTS, COUNTS, COUNTS)
def test_only_lifts_by_lot_move_the_bound(good: int, bad: int, fg: int, fb: int, cg: int, cb: int) -> None:
    proof = sampling.what_lots_prove(sampling.LiftTally(400, good, bad, fg, fb, cg, cb))
    if good + bad == 0:
        assert proof.share is None
        assert [one.code for one in proof.words][1] == "sampling-lots-none"
    else:
        beta = stats.beta.ppf(0.05, good, bad + 1) if good else 0.0
        assert proof.share == pytest.approx(float(beta), abs=1e-9)


def test_lifts_at_known_places_carry_no_bound_whatever_their_number() -> None:
    proof = sampling.what_lots_prove(sampling.LiftTally(400, drawn_good=59, chosen_good=100, fixed=True))
    assert proof.share is None
    assert "sampling-lots-known-places" in [one.code for one in proof.words]
    assert not any("least-share" in one.figures for one in proof.words)


def test_a_bad_one_by_lot_makes_the_bound_speak_of_the_work_as_it_was_set() -> None:
    codes = [one.code for one in sampling.what_lots_prove(sampling.LiftTally(48, 9, 1)).words]
    assert "sampling-lots-as-set" in codes
    assert "sampling-lots-as-set" not in [one.code for one in sampling.what_lots_prove(sampling.LiftTally(48, 9)).words]


@given(st.integers(1, 300), st.data())
def test_the_whole_percent_told_of_lots_never_claims_more_than_their_bound(drawn: int, data: st.DataObject) -> None:
    good = data.draw(st.integers(0, drawn))
    proof = sampling.what_lots_prove(sampling.LiftTally(drawn, good, drawn - good))
    told = proof.words[1].figures["least-share"]
    assert isinstance(told, Quantity)
    assert proof.share is not None
    assert 0 <= proof.share * 100 - float(told.value) < 1 + 1e-6


# --- acceptance plans


@pytest.mark.parametrize(
    ("lots", "code", "n"),
    # MIL-STD-105E (1989) table I, general level II, and table II-A.
    [
        ((9, 15), "B", 3),
        ((16, 25), "C", 5),
        ((26, 50), "D", 8),
        ((51, 90), "E", 13),
        ((91, 150), "F", 20),
        ((151, 280), "G", 32),
        ((281, 500), "H", 50),
        ((501, 1200), "J", 80),
        ((1201, 3200), "K", 125),
    ],
)
def test_lots_fall_into_the_rows_of_table_i(lots: tuple[int, int], code: str, n: int) -> None:
    # An AQL at which the row itself holds a plan, so that no arrow leads elsewhere.
    aql = {"B": 4.0, "C": 2.5, "D": 6.5, "E": 6.5}.get(code, 4.0)
    for lot in lots:
        plan = sampling.z14_plan(lot, aql)
        assert (plan.code, plan.sample, plan.followed) == (code, n, False)


@pytest.mark.parametrize(
    ("lot", "rejects"),
    # MIL-STD-105E table II-A: least number that rejects at AQL 2.5, 4.0 and 6.5; None where an arrow stands.
    [
        (50, (None, None, 2)),
        (90, (None, 2, 3)),
        (150, (2, 3, 4)),
        (280, (3, 4, 6)),
        (500, (4, 6, 8)),
        (1200, (6, 8, 11)),
    ],
)
def test_reject_numbers_are_as_in_table_ii_a(lot: int, rejects: tuple[int | None, ...]) -> None:
    plans = [sampling.z14_plan(lot, aql) for aql in (2.5, 4.0, 6.5)]
    assert tuple(None if plan.followed else plan.reject for plan in plans) == rejects
    assert all(plan.accept == plan.reject - 1 for plan in plans)
    assert all(plan.basis.standing is Provenance.READ for plan in plans if not plan.followed)
    assert all(plan.basis.standing is Provenance.MEMORY for plan in plans if plan.followed)


@pytest.mark.parametrize(
    ("lot", "aql"),
    # MIL-STD-105E table II-A: the plans that accept none.
    [(15, 4.0), (25, 2.5), (50, 1.5), (90, 1.0), (150, 0.65)],
)
def test_the_plans_that_accept_none_are_as_in_table_ii_a(lot: int, aql: float) -> None:
    plan = sampling.z14_plan(lot, aql)
    assert (plan.accept, plan.reject, plan.followed) == (0, 1, False)


@pytest.mark.parametrize("lot", [2, 9, 20, 40, 70, 120, 200, 400, 900, 2000])
@pytest.mark.parametrize("aql", sampling.Z14_AQLS)
def test_every_plan_accepts_a_lot_at_its_aql_nine_times_in_ten(lot: int, aql: float) -> None:
    # The scheme is built so that lots at the AQL are accepted with a high chance: at least some 88 % in the
    # plans of table X of MIL-STD-105E (from memory); recomputed here with the binomial.
    plan = sampling.z14_plan(lot, aql)
    if not plan.everything:
        assert sampling.accept_probability(plan.sample, plan.accept, aql / 100) > 0.87


def test_a_sample_that_reaches_the_lot_means_every_tile() -> None:
    plan = sampling.z14_plan(2, 6.5)
    assert (plan.sample, plan.everything) == (2, True)
    # The arrow at 0.65 leads a small lot to a sample of 20.
    small = sampling.z14_plan(12, 0.65)
    assert (small.code, small.sample, small.everything) == ("F", 12, True)


def test_a_plan_says_that_an_isolated_area_is_not_what_it_was_made_for() -> None:
    assert "ISO 2859-2" in words(sampling.z14_plan(100, 4.0).basis.told)


def test_lots_and_levels_beyond_the_rows_held_here_are_refused() -> None:
    with pytest.raises(OutOfRange, match=r"^sampling-lot-beyond-table"):
        sampling.z14_plan(3201, 4.0)
    with pytest.raises(OutOfRange, match=r"^sampling-level-not-held"):
        sampling.z14_plan(100, 10.0)


@pytest.mark.parametrize(
    "call",
    [
        lambda: sampling.zero_failure_sample(95, 0.9),
        lambda: sampling.zero_failure_sample(0.95, 1.0),
        lambda: sampling.zero_failure_sample(0.95, 0.9, "n"),  # type: ignore[arg-type]
        lambda: sampling.zero_failure_sample(0.95, 0.999999),
        lambda: sampling.share_shown(0),
        lambda: sampling.sample_size(0.95, 0.9, -1),
        lambda: sampling.clopper_pearson(4, 3),
        lambda: sampling.clopper_pearson(0, 0),
        lambda: sampling.clopper_pearson(1, 2, side="left"),  # type: ignore[arg-type]
        lambda: sampling.hypergeometric_sample(20, 0.95, 0.05, failures=1),
        lambda: sampling.least_good_in_lot(3, 5, 4),
        lambda: sampling.accept_probability(10, 0, 0.1, lot=9),
        lambda: sampling.accept_probability(10, 0, 1.1),
        lambda: sampling.z14_plan(1, 4.0),
    ],
)
def test_what_cannot_be_is_refused_with_words(call: object) -> None:
    with refusal_in_words():
        call()  # type: ignore[operator]
