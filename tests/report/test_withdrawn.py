"""What was taken back or replaced is told and counts nowhere; what it had named goes to what counts."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.report.build import build_report
from tests.report.conftest import Site


@pytest.fixture
def wall(a_site: Callable[..., Site]) -> Site:
    """The shower wall with its base released."""
    return a_site().start("shower wall").release()


def test_a_failed_lift_taken_back_tightens_nothing_and_stands_nowhere(wall: Site) -> None:
    wall.batch().tile().lift("96", corners="not-full").do(cmd.Withdraw())
    area = build_report(wall.events).areas[0]
    assert any(isinstance(e.body, ev.InspectionTightened) for e in wall.events)
    assert [failure.tightened for failure in area.failures] == [0]
    assert area.verdict is not None
    assert (area.verdict.lifts, area.verdict.outcome, area.verdict.told) == (0, "not complete", "")


def test_a_warning_of_a_clock_whose_start_was_taken_back_counts_as_little(wall: Site) -> None:
    wall.do(cmd.StartRound(section="batch")).understood().confirm("batch", "mixed").wait(51).do(cmd.Tick())
    wall.do(cmd.Withdraw())
    area = build_report(wall.events).areas[0]
    (warned,) = [x for x in area.sequence if isinstance(wall.events[x.seq - 1].body, ev.ClockWarned)]
    (clock,) = area.clocks
    assert (warned.withdrawn, clock.withdrawn) == (True, True)
    assert warned.why_withdrawn


def test_a_photo_taken_back_is_not_the_lifts(wall: Site) -> None:
    wall.batch().tile().lift_up("a").photo().do(cmd.Withdraw()).photo()
    wall.read("lift", "coverage", "97", "percent").read("lift", "void", "0", "mm2")
    wall.do(cmd.Choose(section="lift", step="corners", option="full"))
    (lift,) = build_report(wall.events).areas[0].lifts
    first, second = [e.seq for e in wall.events if isinstance(e.body, ev.PhotoAttached)]
    assert [photo.seq for photo in lift.photos] == [second]
    assert [p.withdrawn for p in build_report(wall.events).areas[0].photos] == [True, False]
    assert first < second


def test_a_batch_taken_back_leaves_the_tiles_to_the_one_before(wall: Site) -> None:
    wall.batch().do(cmd.StartRound(section="batch")).do(cmd.Withdraw()).tile()
    area = build_report(wall.events).areas[0]
    assert [(b.title, b.withdrawn, b.tiles) for b in area.batches] == [("Batch 1", False, 1), ("Batch 2", True, 0)]
    assert [tile.batch for tile in area.set_in_order] == ["Batch 1"]


def test_a_tile_taken_back_is_not_set(wall: Site) -> None:
    wall.batch().tile().do(cmd.Withdraw())
    area = build_report(wall.events).areas[0]
    assert (area.tiles, area.set_in_order, area.batches[0].tiles) == (0, (), 0)


def test_bags_taken_back_are_not_weighed_against_the_bed(
    a_site: Callable[..., Site], raw_checklist: dict[str, Any]
) -> None:
    bags = {"id": "sacks", "kind": "reading", "ask": "Bags?", "say": ["{value} bags"], "quantity": "bags",
            "units": ["count"]}  # fmt: skip
    next(s for s in raw_checklist["sections"] if s["id"] == "closing")["steps"].insert(0, bags)
    site = a_site(checklist=raw_checklist).start("shower wall").release().batch()
    for _ in range(7):
        site.tile()
        if site.state.area is not None and site.state.area.task is not None:
            site.lift("97")
    site.end().read("closing", "sacks", "2", "count")
    assert build_report(site.events).areas[0].bags is not None
    site.do(cmd.Withdraw())
    assert build_report(site.events).areas[0].bags is None


def test_minutes_that_were_replaced_are_struck_and_not_summed(a_site: Callable[..., Site]) -> None:
    def minutes(of: int, replaces: int | None = None) -> cmd.NoteDust:
        return cmd.NoteDust(task="handheld power saw", place="outdoors", minutes=Fraction(of), replaces=replaces)

    site = a_site().speak("ana").do(minutes(300))
    wrong = site.events[-1].seq
    site.do(minutes(30, wrong))
    day = build_report(site.events)
    right = site.events[-1].seq
    assert [(d.seq, d.minutes, d.withdrawn, d.replaces) for d in day.dust] == [
        (wrong, "300 min", True, None),
        (right, "30 min", False, wrong),
    ]
    assert day.dust[0].why_withdrawn == f"replaced {day.dust[1].time} by event {right}"
    # 300 min would be more than the four hours of 29 CFR 1926.1153 Table 1.
    (total,) = day.dust_sums
    assert total.startswith("Ana: 30 min ")
    assert "MORE" not in total


# --- what belongs where -------------------------------------------------------------------------------------------


def test_weather_readings_and_remarks_stand_in_the_order_and_area_in_which_they_came(
    a_site: Callable[..., Site],
) -> None:
    site = a_site().start("shower wall").do(cmd.NoteWeather(text="rain"), cmd.MakeNote(text="first"))
    site.start("plunge pool", temperature="22").do(cmd.MakeNote(text="second"))
    site.read("conditions", "humidity", "50", "percent")
    site.do(cmd.StartArea(area="shower wall")).do(cmd.MakeNote(text="third"))
    day = build_report(site.events)
    assert [c.seq for c in day.conditions] == sorted(c.seq for c in day.conditions)
    assert [(c.what, c.area) for c in day.conditions] == [
        ("Air temperature", "Shower wall"),
        ("Humidity", "Shower wall"),
        ("Weather", "Shower wall"),
        ("Air temperature", "Plunge pool"),
        ("Humidity", "Plunge pool"),
    ]
    assert [(n.text, n.area) for n in day.notes] == [
        ("first", "Shower wall"),
        ("second", "Plunge pool"),
        ("third", "Shower wall"),
    ]


def test_a_trowel_that_is_the_one_in_use_is_no_change(wall: Site) -> None:
    wall.do(cmd.ChangeMethod(method="large"), cmd.ChangeMethod(method="large"))
    assert len(build_report(wall.events).areas[0].changes) == 1


def test_cautions_are_numbered_as_they_first_came_and_named_by_that_number(
    a_site: Callable[..., Site], raw_checklist: dict[str, Any]
) -> None:
    raw_checklist["cautions"].append(
        {"id": "edges", "before": "tile", "text": "Cut edges are sharp.", "basis": "common practice"}
    )
    site = a_site(checklist=raw_checklist).start("shower wall").release().batch().tile().lift("97").batch()
    area = build_report(site.events).areas[0]
    numbers = {c.number: [seq for _, _, seq in c.acknowledged] for c in area.cautions}
    bodies = {n: {site.events[seq - 1].body.caution for seq in seqs} for n, seqs in numbers.items()}  # type: ignore[union-attr]
    assert bodies == {1: {"wet-cement"}, 2: {"mixer"}, 3: {"edges"}}
    told = {line.seq: line.what for line in area.sequence if line.kind == "caution"}
    assert told == {seq: f"Caution {n} acknowledged" for n, seqs in numbers.items() for seq in seqs}
    assert [len(seqs) for seqs in numbers.values()] == [1, 2, 1]
