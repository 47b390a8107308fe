"""LF-MMI against enumeration of every path and against finite differences."""

from __future__ import annotations

import itertools

import numpy as np
import numpy.typing as npt
import pytest

from models.build.en.phones import UNITS
from models.build.loss import Objective, PhoneBigram, Supervision

SIL = UNITS.ids["SIL"]
Floats = npt.NDArray[np.float64]


def random_bigram(units: int, seed: int = 1) -> PhoneBigram:
    """All probabilities at random; silence may not follow silence."""
    random = np.random.default_rng(seed)
    between, final, initial = random.random((units, units)), random.random(units), random.random(units)
    between[SIL, SIL] = 0
    total = between.sum(axis=1) + final
    return PhoneBigram(initial / initial.sum(), between / total[:, None], final / total)


def said(*units: int, silences: bool = True) -> Supervision:
    """Words of one unit each, with a silence around each that may be left out."""
    if not silences:
        return np.array(units), np.zeros(len(units), bool)
    line = [SIL] + [x for unit in units for x in (unit, SIL)]
    return np.array(line), np.array([True] + [False, True] * len(units))


def paths_by_hand(first: Floats, later: Floats, bigram: PhoneBigram, allowed: set[tuple[int, ...]] | None) -> Floats:
    """Probability of all paths, split by (frame, unit, first or later): (T, U, 2). first, later: (T, U).

    Every path is written out: of each frame, its unit and whether that begins there. allowed: the sequences of units
    that count; None counts all.
    """
    frames, units = first.shape
    split = np.zeros((frames, units, 2))
    total = 0.0
    for path in itertools.product(itertools.product(range(units), (True, False)), repeat=frames):
        if not path[0][1] or any(
            not begins and unit != before for (before, _), (unit, begins) in itertools.pairwise(path)
        ):
            continue
        sequence = tuple(unit for unit, begins in path if begins)
        if allowed is not None and sequence not in allowed:
            continue
        probability = bigram.initial[sequence[0]] * bigram.final[sequence[-1]]
        for one, next_one in itertools.pairwise(sequence):
            probability *= bigram.between[one, next_one]
        for frame, (unit, begins) in enumerate(path):
            probability *= (first if begins else later)[frame, unit]
        total += probability
        for frame, (unit, begins) in enumerate(path):
            split[frame, unit, 0 if begins else 1] += probability
    assert np.allclose(split.sum(axis=(1, 2)), total)
    return split


def with_silences(units: tuple[int, ...]) -> set[tuple[int, ...]]:
    """Every way to say units with or without silence around each."""
    ways = set()
    for pauses in itertools.product((False, True), repeat=len(units) + 1):
        line: list[int] = [SIL] if pauses[0] else []
        for unit, pause in zip(units, pauses[1:], strict=True):
            line += [unit, SIL] if pause else [unit]
        ways.add(tuple(line))
    return ways


@pytest.fixture
def likely() -> tuple[Floats, Floats]:
    """Likelihoods of 3 utterances, 4 frames, 3 units."""
    random = np.random.default_rng(7)
    return random.random((3, 4, 3)) + 0.01, random.random((3, 4, 3)) + 0.01


def test_denominator_is_the_sum_over_all_paths(likely: tuple[Floats, Floats]) -> None:
    bigram = random_bigram(3)
    found = Objective(bigram).denominator(*likely)
    assert found.found.all()
    for row in range(3):
        split = paths_by_hand(likely[0][row], likely[1][row], bigram, None)
        total = split[0].sum()
        assert found.log_probability[row] == pytest.approx(np.log(total), rel=1e-12)
        np.testing.assert_allclose(found.first[row], split[:, :, 0] / total, atol=1e-12)
        np.testing.assert_allclose(found.later[row], split[:, :, 1] / total, atol=1e-12)


def test_numerator_is_the_sum_over_the_paths_of_the_words(likely: tuple[Floats, Floats]) -> None:
    bigram = random_bigram(3)
    words = [(1, 2), (2,), (1, 1)]
    found = Objective(bigram).numerator(*likely, [said(*units) for units in words])
    assert found.found.all()
    for row, units in enumerate(words):
        split = paths_by_hand(likely[0][row], likely[1][row], bigram, with_silences(units))
        total = split[0].sum()
        assert found.log_probability[row] == pytest.approx(np.log(total), rel=1e-12)
        np.testing.assert_allclose(found.first[row], split[:, :, 0] / total, atol=1e-12)
        np.testing.assert_allclose(found.later[row], split[:, :, 1] / total, atol=1e-12)


def test_units_that_are_not_optional_are_all_said(likely: tuple[Floats, Floats]) -> None:
    bigram = random_bigram(3)
    lines = [said(0, 1, 2, silences=False), said(2, silences=False), said(1, 0, 1, 2, silences=False)]
    found = Objective(bigram).numerator(*likely, lines)
    for row, (units, _) in enumerate(lines):
        split = paths_by_hand(likely[0][row], likely[1][row], bigram, {tuple(int(unit) for unit in units)})
        assert found.log_probability[row] == pytest.approx(np.log(split[0].sum()), rel=1e-12)


def test_several_in_a_row_may_be_left_out(likely: tuple[Floats, Floats]) -> None:
    bigram = random_bigram(3)
    line = (np.array([1, 0, 2, 1]), np.array([False, True, True, False]))
    found = Objective(bigram).numerator(*likely, [line] * 3)
    ways = {(1, 0, 2, 1), (1, 2, 1), (1, 0, 1), (1, 1)}
    for row in range(3):
        split = paths_by_hand(likely[0][row], likely[1][row], bigram, ways)
        assert found.log_probability[row] == pytest.approx(np.log(split[0].sum()), rel=1e-12)


def test_an_utterance_may_be_silence_alone(likely: tuple[Floats, Floats]) -> None:
    bigram = random_bigram(3)
    silence = (np.array([SIL]), np.array([True]))
    found = Objective(bigram).numerator(*likely, [silence, said(1, 2), silence])
    split = paths_by_hand(likely[0][2], likely[1][2], bigram, {(SIL,)})
    assert found.log_probability[2] == pytest.approx(np.log(split[0].sum()), rel=1e-12)


def test_posteriors_of_a_frame_sum_to_one() -> None:
    random = np.random.default_rng(0)
    objective = Objective(random_bigram(7))
    first, later = np.exp(random.normal(0, 5, (2, 4, 50, 7)))
    words = [said(*random.integers(1, 7, 5)) for _ in range(4)]
    for paths in (objective.denominator(first, later), objective.numerator(first, later, words)):
        assert paths.found.all()
        np.testing.assert_allclose(paths.first.sum(2) + paths.later.sum(2), 1)
        assert not paths.later[:, 0].any()


def test_gradient_is_that_of_finite_differences() -> None:
    random = np.random.default_rng(2)
    objective = Objective(random_bigram(5))
    outputs = random.normal(0, 2, (3, 9, 10))
    words = [said(1, 2, 3), said(4), said(3, 3, 1, 2)]
    _, gradient, failed = objective(outputs, words)
    assert failed == 0
    assert gradient.shape == outputs.shape
    for _ in range(10):
        direction = random.normal(0, 1, outputs.shape)
        ahead, behind = (objective(outputs + step * direction, words)[0] for step in (1e-5, -1e-5))
        # The gradient is the loss's, minus the value.
        assert (ahead - behind) / 2e-5 == pytest.approx(-(gradient * direction).sum(), rel=1e-6, abs=1e-10)


def test_the_objective_never_exceeds_zero_and_rises_along_its_gradient() -> None:
    random = np.random.default_rng(4)
    objective = Objective(random_bigram(6))
    outputs = random.normal(0, 1, (4, 30, 12))
    words = [said(*random.integers(1, 6, 4)) for _ in range(4)]
    values = []
    for _ in range(60):
        value, gradient, _ = objective(outputs, words)
        values.append(value)
        outputs = outputs - 100 * gradient
    assert np.all(np.diff(values) > 0)
    assert values[0] < -0.1
    assert -0.02 < values[-1] < 0


def test_what_does_not_fit_into_its_time_fails_alone() -> None:
    random = np.random.default_rng(5)
    objective = Objective(random_bigram(4))
    outputs = random.normal(0, 1, (2, 5, 8))
    fits, does_not = said(1, 2), said(1, 2, 3, 1, 2, 3)
    value, gradient, failed = objective(outputs, [fits, does_not])
    alone, of_it, none = objective(outputs[:1], [fits])
    assert (failed, none) == (1, 0)
    assert value == pytest.approx(alone)
    assert not gradient[1].any()
    np.testing.assert_allclose(gradient[0], of_it[0] / 2)
    assert objective(outputs[1:], [does_not])[::2] == (0.0, 1)


@pytest.mark.filterwarnings("error")
def test_a_network_that_is_surely_wrong_gives_no_nonsense() -> None:
    objective = Objective(random_bigram(4))
    outputs = np.full((2, 200, 8), -1000.0)
    outputs[:, :, 1] = 1000.0  # silence all along
    outputs[:, 0, 0] = 2000.0
    value, gradient, failed = objective(outputs, [said(*[1, 2, 3] * 10), said(1)])
    assert np.isfinite(value)
    assert np.isfinite(gradient).all()
    assert np.abs(gradient).max() <= 1 / 200 + 1e-9
    assert failed <= 1


def test_long_utterances_neither_vanish_nor_grow() -> None:
    objective = Objective(random_bigram(5))
    outputs = np.random.default_rng(1).normal(0, 1, (1, 3000, 10))
    value, gradient, failed = objective(outputs, [said(*[1, 2, 3, 4] * 30)])
    assert failed == 0
    assert np.isfinite(value)
    assert np.isfinite(gradient).all()


def test_numbers_of_one_precision_give_a_gradient_of_it() -> None:
    outputs = np.zeros((1, 6, 6), np.float32)
    assert Objective(random_bigram(3))(outputs, [said(1)])[1].dtype == np.float32


def test_bigram_of_what_was_spoken() -> None:
    next_tile = [[UNITS.ids[p] for p in word.split()] for word in ("N EH K S T", "T AY L")]
    bigram = PhoneBigram.of([next_tile] * 400, seed=0, units=len(UNITS.names))
    again = PhoneBigram.of([next_tile] * 400, seed=0, units=len(UNITS.names))
    assert bigram.between.shape == (len(UNITS.names), len(UNITS.names)) == (UNITS.pdfs // 2, UNITS.pdfs // 2)
    np.testing.assert_array_equal(bigram.between, again.between)
    assert bigram.initial.sum() == pytest.approx(1)
    np.testing.assert_allclose(bigram.between.sum(1) + bigram.final, 1)
    assert bigram.initial[SIL] == pytest.approx(0.85, abs=0.06)
    assert bigram.initial[UNITS.ids["N"]] == pytest.approx(0.15, abs=0.06)
    # "next" is followed by silence in about a third of the cases, else by "tile".
    after = bigram.between[UNITS.ids["T"]]
    assert after[UNITS.ids["T"]] < 2 * after[SIL] + after[UNITS.ids["AY"]]
    assert bigram.between[UNITS.ids["N"]].argmax() == UNITS.ids["EH"]
    assert bigram.between[SIL, SIL] == 0
    others = bigram.between.copy()
    others[SIL, SIL] = 1
    assert (others > 0).all()  # what was never heard costs, but may be
    assert (bigram.final > 0).all()


def test_bigram_of_noise_alone_is_silence() -> None:
    bigram = PhoneBigram.of([[]] * 50, seed=0, units=len(UNITS.names))
    assert bigram.initial.argmax() == SIL
    assert bigram.final[SIL] > 0.4
