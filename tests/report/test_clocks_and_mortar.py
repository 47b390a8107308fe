"""Times that were measured, called late and not waited for, and what mortar was mixed: as the pages tell them."""

from __future__ import annotations

from pathlib import Path

from fieldassist.report.build import build_report
from fieldassist.report.daily import record_of, write_daily_pdf
from fieldassist.report.report_model import AreaReport, ClockLine
from tests.conftest import Crew
from tests.report.conftest import words


def shower(crew: Crew) -> AreaReport:
    return build_report(crew.day.log.events).areas[0]


def clocks(crew: Crew, title: str) -> list[ClockLine]:
    return [clock for clock in shower(crew).clocks if clock.title == title]


def slaking(crew: Crew, minutes: float) -> None:
    crew.open_shower()
    crew.say("new batch", "understood", "one and a half bags!", "lot b seven!", "water seven liters!", "batch mixed")
    crew.clock.advance(minutes)


def test_slake_is_told_by_the_clock_and_what_came_too_early_stays_beside_it(crew: Crew, tmp_path: Path) -> None:
    slaking(crew, 2)
    crew.say("remixed")
    crew.clock.advance(7)
    for _ in range(3):
        if clocks(crew, "Slake")[0].outcome == "long enough":
            break
        crew.hear(crew.day.prompt.answers[0].phrases[0])
    (slake,) = clocks(crew, "Slake")
    assert slake.least
    assert slake.outcome == "long enough"
    assert slake.used >= slake.allowed
    assert len(slake.remarks) == 1
    assert slake.remarks[0].startswith("too early at ")
    (line,) = [x for x in shower(crew).sequence if x.what == "Too early: Slake"]
    assert line.verdict == "failed"
    assert line.source is not None
    assert line.source.how == "clock"
    write_daily_pdf(record_of(crew.day.log), tmp_path / "day.pdf")
    assert "time that was measured" in words(tmp_path / "day.pdf")


def test_a_batch_tells_bags_lot_water_and_bucket_and_which_tiles_it_set(crew: Crew, tmp_path: Path) -> None:
    slaking(crew, 8)
    crew.say("remixed")
    crew.set_tile()
    (batch,) = shower(crew).batches
    assert batch.mixed == "1.5 bags, lot B7, water 7 L, bucket 1"
    assert (batch.tiles, batch.which) == (1, "1")
    write_daily_pdf(record_of(crew.day.log), tmp_path / "day.pdf")
    assert "lot B7" in words(tmp_path / "day.pdf")


def test_what_was_called_late_says_so_with_who_how_late_and_why(crew: Crew) -> None:
    crew.open_shower()
    crew.mix()
    crew.say("next tile", "back keyed", "spread", "mortar combed")
    crew.clock.advance(32)
    crew.day.tick()
    crew.say("set in time hands were full")
    (late,) = [clock for clock in shower(crew).clocks if clock.outcome == "called late"]
    assert not late.kept
    assert "by Rosa: hands were full" in late.remarks[0]
    (line,) = [x for x in shower(crew).sequence if x.what.startswith("CALLED LATE")]
    assert line.detail == late.remarks[0]
