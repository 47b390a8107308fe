"""What a failed lift implies, and what would cure it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from fieldassist.assess.cures import ALMOST_ALL, MOST_CURES, cures, implied_gap, in_use, reaches
from fieldassist.checklist import methods
from fieldassist.checklist.changing import wished
from fieldassist.checklist.moment import Moment
from fieldassist.checklist.state import Area, LiftRecord
from fieldassist.trade import coverage
from tests.assess.areas import AREAS, PLAN, area_of

AT = Moment(wall="2026-03-17T09:00:00+01:00", mono=0.0, boot="b")


def lifted(name: str) -> tuple[Area, LiftRecord]:
    """An area whose first tile, set as planned, was lifted."""
    area = area_of(name)
    progress = replace(area.progress, runs=(("rosa", 0),))
    area = replace(area, progress=progress, methods_used=(area.plan.method,))
    return area, LiftRecord(1, 1, 1, 1, "lot", "lift", 1, 5, AT, verdict="failed")


def test_the_gap_is_what_conservation_of_volume_says() -> None:
    area, lift = lifted("shower wall")
    found = implied_gap(area, lift, 89.0)
    assert found.gap_mm is not None
    # Mortar of the bed's volume touches 89 % of the back: bed over share. Common practice, no published source.
    assert found.gap_mm == pytest.approx(found.bed_mm / 0.89)


@pytest.mark.parametrize("percent", [0.0, 100.0])
def test_all_or_nothing_in_contact_tells_of_no_gap(percent: float) -> None:
    area, lift = lifted("shower wall")
    assert implied_gap(area, lift, percent).gap_mm is None


@pytest.mark.parametrize("name", AREAS)
@pytest.mark.parametrize("percent", [40.0, 70.0, 89.0, 94.0])
def test_a_cure_reaches_what_is_required_with_a_bed_that_the_mortar_allows(name: str, percent: float) -> None:
    area, lift = lifted(name)
    gap = implied_gap(area, lift, percent)
    assert gap.gap_mm is not None
    found = cures(area, lift, percent)
    assert len(found) <= MOST_CURES
    for cure in found:
        assert cure.contact_percent == coverage.greatest_contact(cure.bed_mm, gap.gap_mm)
        assert cure.contact_percent >= methods.ground(area).minimum_percent
        assert gap.bed_mm <= cure.bed_mm <= cure.most_mm
        assert cure.method != area.method
        # What is shown is what the wish makes of the method.
        assert wished(area, PLAN, cure.wish) == cure.method


def test_the_shower_wall_is_cured_by_combing_both_sides_or_by_a_larger_notch() -> None:
    area, lift = lifted("shower wall")
    first, second = cures(area, lift, 89.0)
    assert first.wish.model_dump(exclude_none=True, exclude={"do"}) in (
        {"sides": "both"},
        {"notch": second.name, "sides": second.method.sides},
        {"notch": first.name, "sides": first.method.sides},
    )
    assert first.bed_mm <= second.bed_mm


def test_nothing_that_failed_here_is_proposed() -> None:
    area, lift = lifted("shower wall")
    best = cures(area, lift, 89.0)[0].method
    again = replace(area, methods_used=(best,), progress=replace(area.progress, runs=(("rosa", 0),)))
    assert best not in [cure.method for cure in cures(again, lift, 89.0)]


def test_no_reckoning_promises_the_whole_back() -> None:
    assert (reaches(100.0).code, reaches(ALMOST_ALL).code, reaches(96.7).code) == (
        "assess-reaches-over",
        "assess-reaches",
        "assess-reaches",
    )
    assert [float(reaches(p).figures["contact"].value) for p in (100.0, 96.99)] == [99, 96]  # type: ignore[union-attr]


def test_the_method_in_use_is_told_once_it_is_another_than_the_one_that_failed() -> None:
    area, lift = lifted("shower wall")
    assert in_use(area, lift, 89.0) is None
    best = cures(area, lift, 89.0)[0]
    changed = replace(area, method=best.method, methods_used=(area.plan.method, best.method))
    found = in_use(changed, lift, 89.0)
    assert found is not None
    assert (found.method, found.contact_percent) == (best.method, best.contact_percent)
