"""Lots, suspects and accepted tiles on the pages: what lifts leave open stands on page one and on the area's."""

from __future__ import annotations

from pathlib import Path

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.record.chain import GENESIS, canonical_text, chain_hash
from fieldassist.report.build import build_report
from fieldassist.report.daily import Record, write_daily_pdf
from fieldassist.report.report_model import AreaReport
from tests.checklist.days import Bench
from tests.report.conftest import words
from tests.report.test_one_account import gone_on


def porch(tiles: int) -> Bench:
    """A wall whose tiles are lifted by lot, one in five."""
    bench = Bench.begun("metric")
    bench.speak("rosa")
    bench.take(cmd.StartArea(area="porch"))
    bench.go_on()
    bench.call("bucket", *["tile"] * tiles)
    return bench


def fail_next_lift(bench: Bench) -> None:
    """Ask for the tile set last, and find it wanting; the cure is done, and what follows waits."""
    bench.take(cmd.AskLift())
    for _ in range(20):
        area = bench.state.area
        assert area is not None
        if any(lift.verdict == "failed" for lift in area.progress.lifts.values()):
            return
        fail = bench.state.pending is None and area.step is not None and area.step.id in ("coverage", "corners")
        command = bench.next_answer(fail=fail)
        assert command is not None
        bench.take(command)


def page_of(bench: Bench) -> AreaReport:
    return build_report(bench.events).areas[0]


def printed(bench: Bench, folder: Path) -> Path:
    texts: list[str] = []
    hashes: list[str] = []
    for event in bench.events:
        texts.append(canonical_text(event, hashes[-1] if hashes else GENESIS))
        hashes.append(chain_hash(texts[-1]))
    record = Record(bench.events, texts, hashes, None, "fieldassist 0.0.test")
    return write_daily_pdf(record, folder / "day.pdf").path


def test_each_tile_says_what_its_lot_was(tmp_path: Path) -> None:
    bench = porch(8)
    area = bench.state.areas["porch"]
    tiles = page_of(bench).set_in_order
    assert [tile.lot.split(":")[0] for tile in tiles] == [f"lot {k}, one in 5" for k in range(1, 9)]
    fell = {tile.number for tile in tiles if tile.lot.endswith(": fell")}
    assert fell == {t.number for t in area.progress.tiles.values() if area.progress.lots[t.order].fell}
    assert "one in 5" in words(printed(bench, tmp_path))


def test_an_area_with_suspects_does_not_meet_its_requirement_whatever_its_lifts_say(tmp_path: Path) -> None:
    bench = porch(8)
    fail_next_lift(bench)
    page = page_of(bench)
    assert page.standing.suspect
    assert page.verdict is not None
    assert page.verdict.outcome == "failed"
    assert any("suspect" in reason for reason in page.verdict.reasons)
    text = words(printed(bench, tmp_path), 1)
    assert "suspect:" in text
    assert "SUSPECT" in words(tmp_path / "day.pdf")


def test_what_is_not_yet_covered_leaves_the_verdict_not_complete() -> None:
    bench = porch(8)
    page = page_of(bench)
    assert page.standing.not_covered, "the day must end on a tile that is not lifted"
    assert page.verdict is not None
    assert page.verdict.outcome != "passed"


def test_accepted_tiles_stay_on_page_one_with_the_foremans_words(tmp_path: Path) -> None:
    bench = porch(8)
    fail_next_lift(bench)
    suspects = page_of(bench).standing.suspect
    bench.speak("edwin")
    due = {target.tile for target in bench.state.areas["porch"].progress.targets.values()}
    number = next(n for n in suspects if n not in due)
    bench.take(cmd.AcceptTiles(number=number, words="behind the cabinet"))
    page = page_of(bench)
    assert number in page.standing.accepted
    text = words(printed(bench, tmp_path), 1)
    assert f"accepted: {number}" in text
    assert "behind the cabinet" in text
    assert any("ACCEPTED by Edwin" in line.what for line in page.sequence)


def test_a_lift_that_could_not_be_carried_out_is_told_with_why() -> None:
    bench = porch(3)
    bench.take(cmd.AskLift())
    area = bench.state.area
    assert area is not None
    assert area.task is not None
    assert area.step is not None
    left = cmd.LeaveLift(section=area.task.section, step=area.step.id, words="the light is wired in")
    bench.take(left)
    assert [e.body.tile for e in bench.events if isinstance(e.body, ev.LiftLeft)] == [3]
    (line,) = [line for line in page_of(bench).sequence if line.what.endswith("NOT LIFTED")]
    assert "the light is wired in" in line.detail


def test_the_hash_and_the_seed_of_the_lots_stand_among_the_remarks() -> None:
    bench = porch(2)
    bench.speak("edwin")
    bench.take(cmd.SignDay(accept_open=True))
    notes = " ".join(note.text for note in build_report(bench.events).notes)
    revealed = next(e.body for e in bench.events if isinstance(e.body, ev.LotsRevealed))
    assert revealed.seed in notes
    assert revealed.commitment[:16] in notes


def test_a_tile_that_is_lifted_again_and_not_put_back_yet_does_not_say_that_it_was() -> None:
    bench = porch(1)
    (tile,) = page_of(bench).set_in_order
    assert tile.put_back == "put back after lift 1, not lifted again"
    fail_next_lift(bench)
    (tile,) = page_of(bench).set_in_order
    assert (tile.state, tile.put_back) == ("lifted failed", "")


def test_an_area_that_goes_on_keeps_the_tiles_lifts_and_releases_of_the_day_before(tmp_path: Path) -> None:
    events = gone_on()
    bench = Bench()
    for event in events:
        bench.add(event)
    page = page_of(bench)
    progress = bench.state.areas["shower wall"].progress
    assert [tile.number for tile in page.set_in_order if tile.seq < 0]
    earlier = {lift.number for lift in page.lifts if lift.seq < 0}
    assert earlier == {n for n, lift in progress.lifts.items() if lift.lifted < 0 and lift.verdict is not None}
    assert earlier
    assert [hold.name for hold in page.holds if hold.seq < 0] == ["Edwin"]
    text = words(printed(bench, tmp_path))
    assert "on an earlier day" in text
    assert "-65" not in text
