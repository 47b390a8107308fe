"""Tiles, methods, lifts and what they prove, on the pages: held against the fold, another reading of the log."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist.open_points import open_points
from fieldassist.record.manifest import attached
from fieldassist.report.build import build_report
from fieldassist.report.build.words import ranges
from fieldassist.report.daily import write_daily_pdf
from fieldassist.report.report_model import AreaReport
from tests.report.conftest import eventful_day, words


def first(site: Any) -> AreaReport:
    return build_report(site.events).areas[0]


def test_page_one_says_of_each_area_how_much_is_set_of_what_is_planned(handed_over_pdf: Path) -> None:
    text = words(handed_over_pdf, 1)
    # 4 tiles of 1.2 m x 0.6 m = 2.88 m2; 9.6 / 0.72 = 13.3 pieces, of which the last is cut.
    assert "2.88 m² of 9.6 m² (4 of 14 pieces)" in text
    assert "0.72 m² of 9.6 m² (1 of 14 pieces)" in text
    assert "NOT FINISHED" in text


def test_an_area_that_nobody_started_has_its_row_too(site: Any, tmp_path: Path) -> None:
    write_daily_pdf(site.record(), tmp_path / "day.pdf")
    assert words(tmp_path / "day.pdf", 1).count("not started") >= 4  # a row and an open point for each of two


def test_page_one_tells_how_lifts_came_about_and_what_they_prove(handed_over_pdf: Path, handed_over: Any) -> None:
    text = words(handed_over_pdf, 1)
    progress = handed_over.site.state.areas["shower wall"].progress
    came = {lift.came for lift in progress.lifts.values() if lift.verdict}
    assert came == {"interval", "after failure"}
    assert "at a known interval" in text
    assert "again after a failure" in text
    assert "nothing is proven about the other tiles" in text
    assert "It does not mean looked at" in text


def test_the_tile_that_was_put_back_is_named_as_the_one_without_proof(handed_over_pdf: Path) -> None:
    assert "it is the one without proof" in words(handed_over_pdf)


def test_a_tile_has_one_number_on_every_line_whatever_the_number_of_its_round(site: Any) -> None:
    site.start("shower wall").release().batch().tile().lift("97")
    site.do(cmd.StartRound(section="tile")).understood().confirm("tile", "combed").wait(25).do(cmd.Tick())
    site.tile()
    area = first(site)
    assert [e.body.round for e in site.events if isinstance(e.body, ev.SectionClosed) and e.body.tile] == [1, 3]
    assert [tile.number for tile in area.set_in_order] == [1, 2]
    bands = [line.what for line in area.sequence if line.kind == "round" and line.what.startswith("Tile")]
    assert bands == ["Tile 1", "Tile, not set", "Tile 2"]
    assert {clock.belongs_to for clock in area.clocks if clock.title == "Open time"} == {
        "Tile 1",
        "Tile, not set",
        "Tile 2",
    }


def test_a_round_at_a_place_of_the_grid_bears_the_number_of_the_place(a_site: Any, raw_plan: dict[str, Any]) -> None:
    raw_plan["areas"][0]["grid"] = {"rows": 2, "columns": 2}
    site = a_site(raw_plan)
    site.start("shower wall").release().batch().do(cmd.StartRound(section="tile", piece=3))
    site.confirm("tile", "combed").wait(4).confirm("tile", "set")
    (tile,) = first(site).set_in_order
    assert (tile.number, tile.place) == (3, "row 2, column 1")
    assert "Tile 3" in [line.what for line in first(site).sequence]


def test_a_lift_names_tile_setter_method_mortar_and_how_it_came_about(handed_over: Any) -> None:
    area = first(handed_over.site)
    progress = handed_over.site.state.areas["shower wall"].progress
    for lift in area.lifts:
        if lift.withdrawn:
            continue
        record = progress.lifts[lift.number]
        tile = progress.tiles[record.tile]
        assert (lift.tile, lift.method) == (record.tile, "AB"[tile.method])
        assert lift.setter == tile.setter.title()
        assert lift.batch == f"Batch {tile.batch}"
        assert lift.came == {"interval": "at a known interval", "after failure": "again after a failure"}[record.came]


def test_methods_are_told_from_tile_to_tile_with_who_set(a_site: Any) -> None:
    site = a_site().start("shower wall").release().batch().tile()
    site.lift("97").tile().do(cmd.ChangeMethod(method="large")).tile().lift("98")
    site.do(cmd.SetterIs(name="ben")).tile().lift("98")
    periods = first(site).periods
    assert [(p.tiles, p.setter, p.letter, p.name) for p in periods] == [
        ("1, 2", "Ana", "A", ""),
        ("3", "Ana", "B", "large"),
        ("4", "Ben", "B", "large"),
    ]
    assert "mortar combed on base and back" in periods[1].text


def test_setting_again_is_not_more_surface() -> None:
    site = eventful_day()
    for builder in build_report(site.events).areas:
        progress = site.state.areas[builder.name.lower()].progress
        assert builder.standing.set_m2 == progress.set_m2
        assert builder.tiles == len(progress.tiles) == builder.standing.pieces


@pytest.mark.parametrize(
    ("numbers", "told"), [((), "none"), ((4,), "4"), ((1, 2), "1, 2"), ((1, 2, 3, 9, 5, 6, 7), "1 to 3, 9, 5 to 7")]
)
def test_numbers_of_tiles_are_told_row_by_row(numbers: tuple[int, ...], told: str) -> None:
    assert ranges(numbers) == told


# --- hold points --------------------------------------------------------------------------------------------------


def test_a_release_that_was_only_called_is_printed_as_that(handed_over: Any, handed_over_pdf: Path) -> None:
    (hold,) = first(handed_over.site).holds
    assert (hold.name, hold.role, hold.answered) == ("Ruth", "foreman", False)
    assert hold.how == "called in Ruth's name, not confirmed"
    assert "called in Ruth's name, not confirmed" in words(handed_over_pdf)


def test_a_release_called_by_another_says_who_called_it(a_site: Any) -> None:
    site = a_site().start("shower wall")
    site.do(cmd.ReleaseHold(section="conditions", step="release", name="ruth"))
    (hold,) = first(site).holds
    assert hold.how == "called in Ruth's name by Ana, not confirmed"


def test_a_release_that_was_struck_out_is_printed_as_that(a_site: Any) -> None:
    site = a_site().start("shower wall")
    site.do(cmd.ReleaseHold(section="conditions", step="release", name="ruth"))
    released = next(e.seq for e in site.events if isinstance(e.body, ev.HoldReleased))
    site.add(ev.ReleaseStruck(release=released, name="ruth"), by="ruth")
    (hold,) = first(site).holds
    assert "STRUCK OUT by Ruth at" in hold.how
    assert not hold.answered


def test_a_confirmation_whose_signature_nobody_checked_is_not_told_as_good(a_site: Any) -> None:
    site = a_site().start("shower wall")
    site.do(cmd.ReleaseHold(section="conditions", step="release", name="ruth"))
    released = next(e.seq for e in site.events if isinstance(e.body, ev.HoldReleased))
    body = ev.ReleasesConfirmed(releases=(released,), name="ruth", role="foreman", key="ab" * 32, signature="cd" * 64)
    site.add(body, by="ruth")
    (hold,) = first(site).holds
    assert not hold.answered
    assert "not checked" in hold.how


def test_a_deputy_stands_with_the_foreman_for_whom_he_released(a_site: Any, raw_plan: dict[str, Any]) -> None:
    raw_plan["crew"][1]["deputy_for"] = "ruth"
    site = a_site(raw_plan).start("shower wall")
    site.do(cmd.ReleaseHold(section="conditions", step="release", name="ben"))
    (hold,) = first(site).holds
    assert (hold.name, hold.role) == ("Ben, deputy for Ruth", "installer")


# --- corrections and answers --------------------------------------------------------------------------------------


def test_a_corrected_reading_stands_struck_beside_the_one_in_its_place_and_the_lift_is_judged_anew(
    a_site: Any, tmp_path: Path
) -> None:
    site = a_site().start("shower wall").release().batch().tile().lift("97")
    kept = next(e.seq for e in site.events if isinstance(e.body, ev.ReadingKept) and e.body.step == "coverage")
    site.do(cmd.GiveReading(section="lift", step="coverage", value=Fraction(91), unit="percent", corrects=kept))
    site.do(cmd.Keep())
    area = first(site)
    coverage = [line for line in area.sequence if line.what == "Coverage"]
    assert [(line.reading, line.withdrawn) for line in coverage] == [("97 %", True), ("91 %", False)]
    assert coverage[1].detail.startswith(f"CORRECTED, in place of event {kept}, 97 %")
    assert [(x.number, x.contact, x.verdict, x.withdrawn, x.judged_anew) for x in area.lifts] == [
        (1, 97.0, "passed", True, True),
        (1, 91.0, "failed", False, False),
    ]
    write_daily_pdf(site.record(), tmp_path / "day.pdf")
    assert "judged anew" in words(tmp_path / "day.pdf")


def test_an_answered_point_stays_on_page_one_with_its_answer(a_site: Any, tmp_path: Path) -> None:
    site = a_site().start("shower wall").speak("ruth")
    point = next(p for p in open_points(site.state) if p.id == "start/plunge pool")
    site.do(cmd.AnswerPoint(point=point.id, words="the pool is another crew's"))
    day = build_report(site.events)
    assert not any("Plunge pool: not started" in text for text in day.open_points)
    (answered,) = day.answered_points
    assert "Plunge pool: not started" in answered
    assert "the pool is another crew's" in answered
    write_daily_pdf(site.record(), tmp_path / "day.pdf")
    assert "the pool is another crew's" in words(tmp_path / "day.pdf", 1)


def test_the_sound_of_a_spoken_answer_is_among_the_attachments(a_site: Any) -> None:
    site = a_site().speak("ruth")
    kept = site.keep(b"what was said", ".flac")
    point = next(p for p in open_points(site.state) if p.id == "start/plunge pool")
    site.do(cmd.AnswerPoint(point=point.id, words="another crew", audio=kept["file"], sha256=kept["sha256"]))
    assert attached(site.events) == {kept["file"]: kept["sha256"]}
