"""Contact behind the tile: requirements, verdicts, and the contact that a volume can reach."""

from __future__ import annotations

import math
from typing import get_args

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldassist.trade.basis import OutOfRange, Provenance
from fieldassist.trade.coverage import (
    Place,
    Product,
    Requirement,
    allowed_void,
    area_verdict,
    bed_for_contact,
    gap_from_contact,
    greatest_contact,
    lift_verdict,
    required_contact,
    solid_bed,
)
from fieldassist.trade.message import Refused
from fieldassist.trade.verdict import Outcome
from tests.trade.telling import US, codes, refusal_in_words, words

WET = required_contact("tile", "wet", "wall")
DRY = required_contact("tile", "dry", "floor")
percents = st.floats(0, 100)
mm = st.floats(0.01, 50)


@pytest.mark.parametrize(
    ("product", "place", "surface", "percent"),
    [
        # ANSI A108.5 §3.3.2 (2017), as reported in trade literature.
        ("tile", "dry", "wall", 80),
        ("tile", "dry", "floor", 80),
        ("tile", "wet", "wall", 95),
        ("tile", "exterior", "floor", 95),
        # TCNA Handbook (2018), natural stone, as reported in trade literature.
        ("natural stone", "dry", "wall", 95),
        ("natural stone", "wet", "floor", 95),
        # ANSI A108.19 (2017), as reported in a summary by its authors.
        ("gauged panel", "dry", "wall", 80),
        ("gauged panel", "dry", "floor", 85),
        # From memory.
        ("gauged panel", "wet", "wall", 95),
        ("gauged panel", "exterior", "wall", 95),
    ],
)
def test_required_contact_is_that_of_the_standards(product: str, place: str, surface: str, percent: float) -> None:
    assert required_contact(product, place, surface).minimum_percent == percent  # type: ignore[arg-type]


def test_three_lifts_are_the_least_as_a108_5_has_it() -> None:
    assert WET.least_lifts == DRY.least_lifts == 3
    # For stone and panels no document gives a number; that of tile is taken over: common practice, no published source.
    for product in ("natural stone", "gauged panel"):
        for surface in ("wall", "floor"):
            assert required_contact(product, "dry", surface).least_lifts == 3  # type: ignore[arg-type]
    assert WET.basis.document == "ANSI A108.5"
    assert WET.basis.standing is Provenance.REPORTED


@pytest.mark.parametrize("place", ["wet", "exterior"])
def test_panel_figures_that_nobody_read_say_that_they_are_from_memory(place: str) -> None:
    requirement = required_contact("gauged panel", place, "floor")  # type: ignore[arg-type]
    assert requirement.basis.standing is Provenance.MEMORY


def test_the_rival_figure_for_panel_floors_is_named() -> None:
    assert "95 %" in words(required_contact("gauged panel", "dry", "floor").basis.told)


def test_the_void_rule_of_tile_says_that_it_is_practice_and_not_the_standard() -> None:
    assert WET.void_basis is not None
    assert WET.void_basis.standing is Provenance.PRACTICE
    assert DRY.largest_void_mm2 is None


@pytest.mark.parametrize("given", [("brick", "dry", "wall"), ("tile", "damp", "wall"), ("tile", "dry", "ceiling")])
def test_an_unknown_word_is_refused_with_those_allowed(given: tuple[str, str, str]) -> None:
    with pytest.raises(Refused, match=r"^what-not-a-word"):
        required_contact(*given)  # type: ignore[arg-type]


def test_the_lift_verdict_flips_exactly_at_each_limit() -> None:
    def passes(percent: float, void: float, edge: float, corners: bool) -> bool:
        return lift_verdict(percent, WET, void, edge, corners).passed

    assert passes(95.0, 1290.32, 50.8, True)
    assert not passes(95.0 - 1e-9, 1290.32, 50.8, True)
    assert not passes(95.0, 1290.33, 50.8, True)
    assert not passes(95.0, 1290.32, 50.79, True)
    assert not passes(95.0, 1290.32, 50.8, False)


def test_a_void_of_two_square_inches_passes_after_a_trip_through_square_metres() -> None:
    for void in (0.00129032 * 1e6, 2 * 25.4 * 25.4):
        assert lift_verdict(96, WET, void, 60, True).passed


def test_each_failure_gives_its_reason_with_the_numbers() -> None:
    verdict = lift_verdict(94.97, WET, 1500, 20, False)
    assert tuple(map(words, verdict.reasons)) == (
        "contact 94.97 % is below the 95 % required",
        "a void of 1500 mm² is larger than the 1290 mm² allowed",
        "a void 20 mm from the edge lies within the 50.8 mm that must be clear",
        "a corner is not supported",
    )
    assert "2 in²" in US(lift_verdict(96, WET, 1500).reasons[0])


def test_what_was_asked_for_and_not_read_is_named_and_leaves_the_lift_open() -> None:
    verdict = lift_verdict(96, WET)
    assert verdict.outcome == "not complete"
    assert not verdict.passed
    assert codes(verdict.unread) == ["coverage-unread-void", "coverage-unread-edge", "coverage-unread-corners"]
    assert codes(lift_verdict(96, DRY).unread) == ["coverage-unread-corners"]
    assert lift_verdict(100, WET).unread == ()
    assert lift_verdict(100, WET).outcome == "passed"


def test_what_the_requirement_does_not_ask_for_is_no_gap() -> None:
    # ANSI A108.5 §3.3.2 (2017), as reported: average contact and support of the corners, no void rule.
    assert lift_verdict(85, DRY, corners_supported=True).outcome == "passed"
    assert lift_verdict(96, WET, corners_supported=True).outcome == "not complete"


def test_a_failure_stands_however_much_is_unread() -> None:
    assert lift_verdict(80, WET).outcome == "failed"


@pytest.mark.parametrize("percent", [-0.1, 100.1, math.nan])
def test_a_contact_that_cannot_be_is_refused(percent: float) -> None:
    with pytest.raises(Refused, match=r"^what-outside"):
        lift_verdict(percent, WET)
    with pytest.raises(Refused, match=r"^what-outside"):
        area_verdict([(percent, "passed")], WET)


@pytest.mark.parametrize("reading", [-1.0, math.nan])
def test_a_negative_measurement_is_refused(reading: float) -> None:
    with pytest.raises(Refused, match=r"^what-below-zero"):
        lift_verdict(95, WET, largest_void_mm2=reading)
    with pytest.raises(Refused, match=r"^what-below-zero"):
        lift_verdict(95, WET, void_to_edge_mm=reading)


@given(percents, percents)
def test_more_contact_never_turns_a_pass_into_a_failure(one: float, other: float) -> None:
    low, high = sorted((one, other))
    above, below = (lift_verdict(percent, WET, 0, 60, True) for percent in (high, low))
    assert above.passed or not below.passed


def test_an_area_needs_three_lifts_and_each_of_them() -> None:
    assert area_verdict([(95, "passed")] * 3, WET).passed
    two = area_verdict([(99, "passed")] * 2, WET)
    assert two.outcome == "not complete"
    assert words(two.next_step) == "Lift 1 more tile, well apart."
    none = area_verdict([], WET)
    assert (none.outcome, none.mean, none.worst, none.lifts) == ("not complete", None, None, 0)
    failed = area_verdict([(99, "passed"), (99, "passed"), (94, "failed")], WET)
    assert failed.outcome == "failed"
    assert failed.mean == pytest.approx(292 / 3)
    assert failed.worst == 94
    assert failed.next_step.code == "coverage-stop-setting"


def test_a_lift_that_is_not_complete_leaves_the_area_open() -> None:
    lifts: list[tuple[float, Outcome]] = [(99, "passed"), (99, "passed"), (97, "not complete")]
    assert area_verdict(lifts, WET).outcome == "not complete"
    assert area_verdict([*lifts, (90, "failed")], WET).outcome == "failed"
    with pytest.raises(Refused, match=r"^what-not-a-word"):
        area_verdict([(99, True)], WET)  # type: ignore[list-item]


def test_the_average_rule_of_the_standard_can_be_chosen() -> None:
    lifts: list[tuple[float, Outcome]] = [(100.0, "passed"), (100.0, "passed"), (85.0, "failed")]
    assert area_verdict(lifts, WET, rule="mean").passed
    assert not area_verdict([(100.0, "passed"), (100.0, "passed"), (84.9, "failed")], WET, rule="mean").passed
    with pytest.raises(Refused, match=r"^what-not-a-word"):
        area_verdict(lifts, WET, rule="best")  # type: ignore[arg-type]


def test_the_area_verdict_says_that_lifts_are_chosen_and_not_drawn() -> None:
    assert "chosen, not drawn" in words(area_verdict([(95, "passed")] * 3, WET).caution)


@given(st.lists(percents, min_size=1, max_size=20), st.floats(1, 100))
def test_the_mean_lies_between_worst_and_best(readings: list[float], minimum: float) -> None:
    requirement = Requirement(minimum, None, None, False, 3, WET.basis)
    verdict = area_verdict([(p, "passed" if p >= minimum else "failed") for p in readings], requirement)
    assert verdict.worst is not None
    assert verdict.mean is not None
    assert verdict.worst <= verdict.mean <= max(readings)
    assert verdict.mean == pytest.approx(float(np.mean(readings)), abs=1e-9)
    assert verdict.passed == (len(readings) >= 3 and min(readings) >= minimum)


@pytest.mark.parametrize(
    ("sides_in", "percent", "void_in2"),
    # Arithmetic on the percentages of ANSI A108.5 and A108.19.
    [((12, 12), 95, 7.2), ((12, 12), 80, 28.8), ((24, 48), 95, 57.6), ((24, 48), 85, 172.8)],
)
def test_the_allowed_void_of_a_tile_is_what_the_percentage_leaves(
    sides_in: tuple[float, float], percent: float, void_in2: float
) -> None:
    area = sides_in[0] * sides_in[1] * 25.4**2
    assert allowed_void(area, percent) / 25.4**2 == pytest.approx(void_in2, rel=1e-12)


def test_an_allowed_void_needs_a_tile() -> None:
    with pytest.raises(Refused, match=r"^what-not-above-zero"):
        allowed_void(0, 95)


@given(mm, st.lists(mm, min_size=1, max_size=30))
def test_the_greatest_contact_conserves_volume_place_by_place(bed: float, gaps: list[float]) -> None:
    # Independent recomputation: fill each column of the gap with the bed's volume.
    wetted = np.minimum(np.full(len(gaps), bed), np.array(gaps)) / np.array(gaps)
    assert greatest_contact(bed, gaps) == pytest.approx(100 * float(wetted.mean()), rel=1e-9)


@given(mm, mm, mm)
def test_more_mortar_reaches_more_and_a_wider_gap_less(bed: float, gap: float, more: float) -> None:
    assert greatest_contact(bed + more, gap) >= greatest_contact(bed, gap) >= greatest_contact(bed, gap + more)


@given(mm, st.floats(0.5, 99.5))
def test_gap_contact_and_bed_are_inverse_to_each_other(bed: float, percent: float) -> None:
    gap = gap_from_contact(bed, percent)
    assert greatest_contact(bed, gap) == pytest.approx(percent, rel=1e-9)
    assert bed_for_contact(gap, percent) == pytest.approx(bed, rel=1e-9)


def test_a_gap_is_not_guessed_from_full_or_no_contact() -> None:
    with pytest.raises(OutOfRange, match=r"^coverage-full-contact"):
        gap_from_contact(3.0, 100.0)
    with pytest.raises(OutOfRange, match=r"^coverage-no-contact-at-all"):
        gap_from_contact(3.0, 0.0)


@pytest.mark.parametrize(
    "refused",
    [
        lambda: greatest_contact(-1, 1),
        lambda: greatest_contact(1, -1),
        lambda: greatest_contact(1, []),
        lambda: gap_from_contact(0, 50),
        lambda: bed_for_contact(-1, 50),
        lambda: solid_bed(0, 10, 20),
    ],
)
def test_figures_that_cannot_be_are_refused(refused: object) -> None:
    with refusal_in_words():
        refused()  # type: ignore[operator]


def test_solid_bedding_follows_bs_5385_1() -> None:
    # BS 5385-1 (2018 revision), as reported: from 0.1 m2; smaller when over 70 % of the background's
    # capacity, as 14 of the 20 kg/m2 of gypsum plaster.
    assert solid_bed(0.1, 5, 20).required
    small = solid_bed(math.nextafter(0.1, 0), 14, 20)
    assert small.limit_kg_per_m2 == pytest.approx(14)
    assert not small.required
    assert solid_bed(0.05, 14.01, 20).required


@pytest.mark.parametrize("product", get_args(Product))
@pytest.mark.parametrize("place", get_args(Place))
def test_no_fewer_than_three_tiles_are_lifted(product: Product, place: Place) -> None:
    # ANSI A108.5 §3.3.2 (2017), as reported: no fewer than three; taken over for stone and panels.
    assert required_contact(product, place, "floor").least_lifts == 3
