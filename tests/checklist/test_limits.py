"""The limits that the shipped checklists apply, each against its published source."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from fieldassist.checklist.follow import clock_span
from fieldassist.checklist.plan import Grid
from fieldassist.checklist.rules import Criterion
from fieldassist.checklist.state import Area
from fieldassist.language import Words
from fieldassist.trade.message import Message
from fieldassist.trade.quantities import parse_quantity
from tests.conftest import Crew


@pytest.fixture
def areas(crew: Crew) -> dict[str, Area]:
    crew.say("this is rosa")
    for name in ("shower wall", "hall floor", "lobby wall"):
        crew.say(f"start area {name}")
    return dict(crew.day.state.areas)


def limit(area: Area, section: str, step: str) -> Criterion:
    criterion = area.criterion(area.checklist.step(section, step))
    assert criterion is not None
    return criterion


@pytest.mark.parametrize(
    ("area", "percent", "document"),
    [
        # ANSI A108.5 §3.3.2 (2017): 95 % exterior and wet, as reported in trade literature.
        ("shower wall", 95, "ANSI A108.5 §3.3.2 (2017)"),
        # The same clause: 80 % dry interior.
        ("hall floor", 80, "ANSI A108.5 §3.3.2 (2017)"),
        # ANSI A108.19 (2017): 80 % for interior walls, as summarised by its authors.
        ("lobby wall", 80, "ANSI A108.19 (2017)"),
    ],
)
def test_required_coverage_by_setting(areas: dict[str, Area], area: str, percent: int, document: str) -> None:
    criterion = limit(areas[area], "lift", "coverage")
    assert criterion.at_least == percent
    assert Words()(criterion.basis).startswith(document)
    assert criterion.judge(Fraction(percent), "percent").verdict == "passed", "exactly at the limit passes"
    assert criterion.judge(Fraction(percent) - Fraction(1, 10), "percent").verdict == "under"


@pytest.mark.parametrize("area", ["shower wall", "hall floor"])
def test_an_area_of_nine_pieces_needs_no_fewer_than_three_lifts(areas: dict[str, Area], area: str) -> None:
    # ANSI A108.5 §3.3.2 (2017): no fewer than three, as reported in trade literature; taken over for panels.
    planned = areas[area].plan.model_copy(update={"grid": Grid(rows=3, columns=3)})
    assert replace(areas[area], plan=planned).lifts_needed[0] == 3


@pytest.mark.parametrize(("columns", "least"), [(1, 1), (2, 1), (3, 1), (4, 2), (6, 2), (7, 3), (8, 3)])
def test_an_area_of_few_panels_needs_fewer_lifts_and_says_so(areas: dict[str, Area], columns: int, least: int) -> None:
    # One in three of few pieces, rounded up: ours, no published source.
    planned = areas["lobby wall"].plan.model_copy(update={"grid": Grid(rows=1, columns=columns)})
    needed, basis = replace(areas["lobby wall"], plan=planned).lifts_needed
    assert needed == least
    assert isinstance(basis, Message)
    assert (basis.code == "rules-few-pieces") is (least < 3)


@pytest.mark.parametrize("area", ["shower wall", "lobby wall"])
def test_the_largest_void_is_two_square_inches(areas: dict[str, Area], area: str) -> None:
    # ANSI A108.19 (2017) for panels; best practice for tile (union technical article, 2021). 2 in² = 1290.32 mm².
    criterion = limit(areas[area], "lift", "void")
    assert criterion.at_most == pytest.approx(1290.32)
    assert criterion.judge(Fraction(2), "in2").verdict == "passed"
    over = criterion.judge(Fraction(202, 100), "in2")
    assert over.verdict == "over"
    assert over.finding is not None
    assert Words(units="us")(over.finding) == "2.02 in² is over 2 in²"


def test_base_flatness_of_large_tile(areas: dict[str, Area]) -> None:
    # ANSI A108.02 §4.2.2: 1/8 in (3.175 mm) in 10 ft where an edge is 15 in or more; as reported in trade literature.
    assert limit(areas["hall floor"], "base", "flatness").at_most == pytest.approx(3.175)
    # The same clause: and 1/16 in (1.5875 mm) in 24 in.
    assert limit(areas["hall floor"], "base", "short-flatness").at_most == pytest.approx(1.5875)


def test_lippage_allowance_adds_the_tiles_own_warpage(areas: dict[str, Area]) -> None:
    # ANSI A108.02 §4.3.7: 1/32 in plus warpage for joints under 1/4 in; as reported in trade literature.
    assert limit(areas["shower wall"], "lippage", "lippage").at_most == pytest.approx(0.79375 + 0.8)


def test_temperatures_and_slake_follow_the_data_sheet(areas: dict[str, Area]) -> None:
    air = limit(areas["shower wall"], "conditions", "air-temperature")
    assert (air.at_least, air.at_most) == (5, 30)
    assert "data sheet" in Words()(air.basis)
    slake = areas["shower wall"].checklist.clock("slake")
    assert slake is not None
    assert (clock_span(areas["shower wall"], slake).minutes, slake.bound) == (7, "at least")


def test_without_a_data_sheet_the_temperatures_are_those_of_the_guide_specification(areas: dict[str, Area]) -> None:
    # 50 °F and rising (UFGS 09 30 10 §1.7, values from memory): 10 °C.
    area = areas["shower wall"]
    bare = area.plan.mortar.model_copy(update={"coldest": None, "hottest": None})
    plain = Area(plan=area.plan.model_copy(update={"mortar": bare}), checklist=area.checklist, method=area.method)
    assert limit(plain, "conditions", "air-temperature").at_least == pytest.approx(10)


def test_the_slide_is_at_least_one_notch_width(areas: dict[str, Area]) -> None:
    # At least one notch width, 1/2 in for a 1/2 in notch: trade magazine, as reported; the standard gives no distance.
    assert limit(areas["hall floor"], "tile", "slide").at_least == pytest.approx(12.7)


def test_a_panel_over_the_filter_weight_brings_its_caution(areas: dict[str, Area]) -> None:
    # HSE L23 filter of 25 kg; 3.0 x 1.0 m x 6 mm of porcelain at 2350 kg/m³ weighs 42.3 kg (computed).
    panel, tile = areas["lobby wall"], areas["shower wall"]
    heavy = panel.checklist.caution("heavy-panel")
    light = tile.checklist.caution("heavy-piece")
    assert heavy is not None
    assert light is not None
    assert panel.holds(heavy)
    assert not tile.holds(light), "1200 x 600 x 10 mm weighs 16.9 kg"


def test_the_slide_is_a_notch_width_even_where_teeth_are_narrow(areas: dict[str, Area]) -> None:
    # The same article: one notch width at least, here 1/4 in with teeth of 1/8 in, whose half pitch is only 4.8 mm.
    area = areas["hall floor"]
    narrow = area.method.model_copy(
        update={
            "family": "rectangular",
            "width": parse_quantity("1/4 in"),
            "depth": parse_quantity("3/8 in"),
            "spacing": parse_quantity("1/8 in"),
        }
    )
    other = Area(plan=area.plan, checklist=area.checklist, method=narrow)
    assert limit(other, "tile", "slide").at_least == pytest.approx(6.35)
