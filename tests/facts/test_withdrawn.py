"""What was taken back is told and counts nowhere; what it had named goes to what counts."""

from __future__ import annotations

import copy
from typing import Any

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.facts.build import day_facts
from fieldassist.facts.model import AreaFacts, DayFacts
from fieldassist.language import Words
from tests.report.conftest import CHECKLIST, Site


@pytest.fixture
def raw_checklist() -> dict[str, Any]:
    """The checklist as a file holds it, to be changed by the test."""
    return copy.deepcopy(CHECKLIST)


@pytest.fixture
def wall() -> Site:
    """The shower wall with its base released."""
    return Site().start("shower wall").release()


def facts_of(site: Site) -> DayFacts:
    return day_facts(site.events, ["0" * 64] * len(site.events), Words())


def area_of(site: Site) -> AreaFacts:
    return facts_of(site).areas[0]


def test_a_failed_lift_taken_back_stands_nowhere_but_among_what_was_taken_back(wall: Site) -> None:
    wall.batch().tile().lift("96", corners="not-full").do(cmd.Withdraw())
    facts = facts_of(wall)
    [lift] = facts.areas[0].lifts
    assert (lift.verdict, facts.areas[0].failures, facts.areas[0].good_tiles) == (None, [], 0)
    struck = {entry.kind for entry in facts.sequence if entry.no_longer is not None}
    assert struck >= {"lift judged", "failure opened", "inspection tightened"}
    assert len(facts.withdrawn) == 1


def test_a_clock_whose_start_was_taken_back_is_none_of_the_clocks(wall: Site) -> None:
    wall.do(cmd.StartRound(section="batch")).understood().confirm("batch", "mixed").wait(51).do(cmd.Tick())
    assert [clock.clock for clock in area_of(wall).clocks] == ["pot-life"]
    wall.do(cmd.Withdraw())
    facts = facts_of(wall)
    assert facts.areas[0].clocks == []
    assert {entry.no_longer is not None for entry in facts.sequence if entry.kind == "clock warned"} == {True}


def test_a_photo_taken_back_is_not_the_lifts(wall: Site) -> None:
    wall.batch().tile().lift_up("a").photo().do(cmd.Withdraw()).photo()
    first, second = facts_of(wall).photos
    assert (first.withdrawn, second.withdrawn) == (True, False)
    assert first.event < second.event


def test_a_batch_taken_back_leaves_the_tiles_to_the_one_before(wall: Site) -> None:
    wall.batch().do(cmd.StartRound(section="batch")).do(cmd.Withdraw()).tile()
    area = area_of(wall)
    assert [(batch.number, batch.tiles) for batch in area.batches] == [(1, [1])]
    assert [tile.batch for tile in area.tiles if tile.at is not None] == [1]


def test_a_tile_taken_back_is_not_set(wall: Site) -> None:
    wall.batch().tile().do(cmd.Withdraw())
    area = area_of(wall)
    assert (area.set_m2, [tile for tile in area.tiles if tile.at is not None]) == (0.0, [])


def test_bags_taken_back_are_no_reading(raw_checklist: dict[str, Any]) -> None:
    bags = {"id": "sacks", "kind": "reading", "ask": "Bags?", "say": ["{value} bags"], "quantity": "bags",
            "units": ["count"]}  # fmt: skip
    next(s for s in raw_checklist["sections"] if s["id"] == "closing")["steps"].insert(0, bags)
    site = Site(checklist=raw_checklist).start("shower wall").release().batch()
    for _ in range(7):
        site.tile()
        if site.state.area is not None and site.state.area.task is not None:
            site.lift("97")
    site.end().read("closing", "sacks", "2", "count")
    assert [one.value for one in area_of(site).readings if one.step == "sacks"] == [2.0]
    facts = facts_of(site.do(cmd.Withdraw()))
    assert [one.value for one in facts.areas[0].readings if one.step == "sacks"] == []
    assert facts.withdrawn[-1].reading


def test_a_trowel_that_is_the_one_in_use_is_no_change(wall: Site) -> None:
    wall.do(cmd.ChangeMethod(method="large"), cmd.ChangeMethod(method="large"))
    assert len(area_of(wall).methods) == 2


def test_a_caution_counts_for_each_time_it_was_heard(raw_checklist: dict[str, Any]) -> None:
    raw_checklist["cautions"].append(
        {"id": "edges", "before": "tile", "text": "Cut edges are sharp.", "basis": "common practice"}
    )
    site = Site(checklist=raw_checklist).start("shower wall").release().batch().tile().lift("97").batch()
    cautions = facts_of(site).cautions
    assert [(one.id, len(one.heard)) for one in cautions] == [("wet-cement", 1), ("mixer", 2), ("edges", 1)]
