"""Proposals on a thin sample of the drawn pictures that are for measuring; `python -m tests.photo.figures proposing`
has all of them.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from fieldassist.photo.doubt import TapsLeftOut
from fieldassist.photo.gates import Doubts, Gate
from fieldassist.trade.voids import BackCells, reckon
from tests.photo.examined import Case, CaseKind, Found, one
from tests.photo.figures.calibrate import fix_gate, fix_half_width, passes
from tests.photo.figures.proposing import corners_right, kept, void_right
from tests.photo.rendering import FIX, MEASURE
from tests.photo.rendering.wrong import FEATURELESS, NAMES


@pytest.fixture(scope="module")
def ordinary() -> list[Found]:
    return [one(Case(MEASURE[n], "ordinary")) for n in range(6)]


def test_ordinary_pictures_get_a_figure_near_the_truth_and_an_interval_that_holds_it(ordinary: list[Found]) -> None:
    done = kept(ordinary)
    assert done.given >= 4 / 6
    assert done.median <= 1.2
    assert done.worst <= 4
    assert done.cover >= 3 / 4
    assert done.half <= 7
    asked, right = void_right(ordinary)
    assert asked < 1 / 2
    assert right == 1
    assert corners_right(ordinary) >= 0.95


@pytest.fixture(scope="module")
def careless() -> list[Found]:
    return [one(Case(MEASURE[5000 + n], "ordinary", True)) for n in range(3)]


@pytest.mark.parametrize("kind", ["skim-coated", "combed"])
def test_a_back_that_was_skim_coated_or_combed_never_gets_a_figure(kind: CaseKind) -> None:
    assert not passes(one(Case(MEASURE[0], kind)))


def test_nothing_featureless_gets_a_figure() -> None:
    seeds = [MEASURE[n] for n in range(len(NAMES)) if NAMES[MEASURE[n] % len(NAMES)] in FEATURELESS]
    assert len(seeds) == len(FEATURELESS)
    assert not any(passes(one(Case(seed, "wrong subject"))) for seed in seeds)


def test_careless_taps_get_a_near_figure_or_none(careless: list[Found]) -> None:
    assert any(one.wrong_taps for one in careless)
    for found in careless:
        assert not passes(found) or abs(found.error) <= 5


def found_with(kind: CaseKind, error: float, apart: float) -> Found:
    """A picture with so much error whose mortar and back lie so far apart, and which is sure of all else."""
    blank = BackCells(bytes([255]) * 4, 2, (30.0, 30.0))
    shown = replace(reckon(blank), percent=90 + error)
    left = TapsLeftOut((1.0,) * 6, (90.0,) * 6)
    doubts = Doubts(apart=apart, methods=0.5, taps=0.5, ambiguous=0, neither=0, unlike=3)
    return Found(Case(FIX[0], kind), 90.0, doubts=doubts, left=left, true=reckon(blank), shown=shown)


def test_the_gate_is_as_wide_as_the_demands_let_it_be() -> None:
    fine = [found_with("ordinary", 1.0, 4.2 + n / 10) for n in range(20)]
    off = [found_with("ordinary", 9.0, 3.2) for _ in range(5)]
    assert fix_gate(fine).apart == 2.0
    assert 3.2 < fix_gate([*fine, *off]).apart <= 4.2
    keyed = [found_with("combed", 0.0, 5.2)]
    assert fix_gate([*fine, *keyed]).apart > 5.2


def test_the_interval_covers_the_kind_that_needs_the_widest() -> None:
    gate = Gate(apart=3, methods=4, taps=3, ambiguous=1, neither=10, unlike=1)
    points = 3.125  # 3 + 0.5 / 4
    narrow = [found_with("ordinary", n / 40, 4.0) for n in range(40)]
    wide = [found_with("hard", n / 10, 4.0) for n in range(40)]
    half = fix_half_width(narrow, gate)
    # Of 40 pictures the rank that covers 92 % of those to come: ceil(0.92 x 41) = 38, error 37 / 40.
    assert half == pytest.approx(37 / 40 / points, abs=0.011)
    half = fix_half_width([*narrow, *wide], gate)
    assert half == pytest.approx(3.7 / points, abs=0.011)
