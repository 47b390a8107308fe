"""Rehearsals: scripts played from beginning to end by the command, as an author of a checklist plays them."""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from fieldassist.checklist import events as ev
from fieldassist.cli import main
from fieldassist.places import shipped
from fieldassist.record.bundle import open_bundle
from fieldassist.record.log import DayLog
from fieldassist.rehearsal.play import MARK
from tests.rehearse import CHECKLISTS, PLAN, SCRIPTS

HONEST = SCRIPTS / "honest-day.txt"


def rehearse(out: Path, *scripts: Path, more: tuple[str, ...] = ()) -> int:
    given = ["rehearse", str(PLAN), *map(str, scripts), "--checklists", str(CHECKLISTS), "--out", str(out)]
    return main([*given, *more])


def written(folder: Path, text: str) -> Path:
    script = folder / "script.txt"
    script.write_text(text, encoding="utf-8")
    return script


def facts(out: Path, name: str = "facts.json") -> Any:
    return json.loads((out / name).read_text(encoding="utf-8"))


def sealed_by(out: Path, name: str = "facts.json") -> str:
    """The fingerprint of the key that made the last seal."""
    return str(facts(out, name)["seals"][-1]["key"])


@pytest.fixture(scope="module")
def honest(tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("honest") / "out"
    assert rehearse(out, HONEST, more=("--date", "2026-03-18")) == 0
    return out


@pytest.mark.parametrize("script", sorted(SCRIPTS.glob("*.txt")), ids=lambda path: path.stem)
def test_every_script_comes_out_as_it_expects(script: Path, tmp_path: Path) -> None:
    assert rehearse(tmp_path / "out", script) == 0


ON_SHIPPED_LISTS = [shipped("assets") / "rehearsal" / "honest-day.txt", *sorted((SCRIPTS / "shipped").glob("*.txt"))]


@pytest.mark.parametrize("script", ON_SHIPPED_LISTS, ids=lambda path: path.stem)
def test_days_on_the_shipped_checklists_come_out_as_they_expect(script: Path, tmp_path: Path) -> None:
    assert main(["rehearse", str(script.with_name("plan.yaml")), str(script), "--out", str(tmp_path / "out")]) == 0


def test_a_slake_is_told_as_it_was_measured_and_not_as_its_least_time(tmp_path: Path) -> None:
    script = ON_SHIPPED_LISTS[0]
    assert main(["rehearse", str(script.with_name("plan.yaml")), str(script), "--out", str(tmp_path / "out")]) == 0
    (slake,) = (c for c in facts(tmp_path / "out")["areas"][0]["clocks"] if c["clock"] == "slake")
    # Mixed at 07:20, remixed at 07:28; seven minutes are the least.
    assert (slake["minutes"], slake["used_minutes"], slake["verdict"]) == (7.0, 8.0, "passed")


def test_a_rehearsal_is_marked_in_the_record_and_on_every_page(
    honest: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with DayLog.open(honest / "day.db", read_only=True) as log:
        opened = log.events[0].body
    assert isinstance(opened, ev.DayOpened)
    assert (opened.kind, opened.plan.date) == ("rehearsal", "2026-03-18")
    pages = PdfReader(honest / "daily-log.pdf")
    assert len(pages.pages) > 1
    assert all("REHEARSAL" in page.extract_text() for page in pages.pages)
    assert pages.metadata is not None
    assert str(pages.metadata.title).startswith("REHEARSAL")
    capsys.readouterr()
    assert main(["verify", str(honest / "daily-log.pdf"), "--key", sealed_by(honest), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert told["day"] == "rehearsal"
    assert told["lines"][0].startswith("REHEARSAL")
    assert main(["events", str(honest / "day.db")]) == 0
    assert "REHEARSAL" in capsys.readouterr().out.splitlines()[0]


def test_a_bundle_of_a_rehearsal_says_what_it_is_before_anything_else(
    honest: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    bundle = tmp_path / "day.bundle"
    assert main(["bundle", str(honest / "day.db"), "--out", str(bundle)]) == 0
    assert open_bundle(bundle).manifest.kind == "rehearsal"
    capsys.readouterr()
    assert main(["verify", str(bundle), "--key", sealed_by(honest)]) == 0
    assert capsys.readouterr().out.startswith("REHEARSAL")
    assert main(["import", str(bundle), "--into", str(tmp_path / "days")]) == 0
    assert capsys.readouterr().err.startswith("REHEARSAL")


def test_a_rehearsal_is_of_today_whatever_the_plan_says(tmp_path: Path) -> None:
    assert rehearse(tmp_path / "out", written(tmp_path, "07:00 rosa: weather sunny\n")) == 0
    assert facts(tmp_path / "out")["date"] == datetime.now().astimezone().date().isoformat()


def test_typed_figures_and_words_are_the_same_reading(honest: Path) -> None:
    slides = [r for r in facts(honest)["areas"][0]["readings"] if r["step"] == "slide"]
    assert [r["canonical"] for r in slides] == [12.7, 12.7]


def test_what_did_not_come_is_named_with_its_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = "07:00:00 rosa: weather sunny\nexpect refused\nexpect niche wall finished\nexpect not signed\n"
    assert rehearse(tmp_path / "out", written(tmp_path, text)) == 1
    wrong = capsys.readouterr().err.splitlines()
    assert [line.split(":")[0] for line in wrong] == ["script.txt, line 2", "script.txt, line 3"]
    assert (tmp_path / "out" / "daily-log.pdf").exists()


def test_what_is_not_understood_or_refused_goes_on(tmp_path: Path) -> None:
    text = (
        "07:00 rosa: the weather is made of cheese\nexpect not understood because ear-you-can-say\n"
        "07:01 rosa: start area niche wall\nexpect taken\n"
        "07:02 rosa: next tile\nexpect refused\n"
        "07:03 edwin: sign off\nexpect refused because engine-open-points\n"
        "07:04 edwin: sign off with open points\nexpect taken\nexpect signed\nexpect sealed\n"
        "07:05 rosa: next tile\nexpect refused because engine-day-signed\n"
    )
    assert rehearse(tmp_path / "out", written(tmp_path, text)) == 0
    assert [r["reason"]["code"] for r in facts(tmp_path / "out")["refused"]][-1] == "engine-open-points"


LIFTS = "whenever a lift is due, rosa: tile lifted; coverage 97 % !; void 100 mm2!; edges full; corners full\n"


def test_a_lift_that_is_due_is_answered_as_the_script_says(tmp_path: Path) -> None:
    begins, lifts = HONEST.read_text(encoding="utf-8").split("08:11:00")
    ends = "08:13:00 rosa: finish area\n08:20:00"
    text = LIFTS + begins + ends + lifts.split("08:20:00", 1)[1].replace("percent is 96", "percent is 97")
    assert rehearse(tmp_path / "out", written(tmp_path, text)) == 0
    assert facts(tmp_path / "out")["refused"] == [], "what nobody asked for (edges) is not said"


def test_a_release_by_pin_makes_nobody_the_speaker(tmp_path: Path) -> None:
    text = (
        "07:00 rosa: start area niche wall\n07:01 rosa: gap two millimeters!\n07:02 edwin: base released by pin\n"
        "expect taken\n07:02 expect areas[niche wall].releases[first].how is pin\n"
        "07:02 expect areas[niche wall].releases[first].confirmed is true\n07:02 expect speaker is rosa\n"
        "07:03 rosa: new batch by pin\nexpect refused because no-pin-for-that\n"
    )
    assert rehearse(tmp_path / "out", written(tmp_path, text)) == 0


def test_what_was_called_out_in_a_name_is_confirmed_or_struck_out_by_pin(tmp_path: Path) -> None:
    begins = "07:00 rosa: start area niche wall\n07:01 rosa: gap two millimeters!\n07:02 edwin: base released\n"
    called = "07:03 expect areas[niche wall].releases[first].confirmed is false\n"
    for line, struck in (("edwin: confirmed by pin", "false"), ("edwin: strike base released by pin", "true")):
        text = (
            f"{begins}{called}07:04 {line}\nexpect taken\nexpect areas[niche wall].releases[first].struck is {struck}\n"
        )
        assert rehearse(tmp_path / "out", written(tmp_path, text)) == 0, line
    wrong = f"{begins}07:04 otto: confirmed by pin\nexpect refused\n"
    assert rehearse(tmp_path / "out", written(tmp_path, wrong)) == 0


def test_a_note_is_what_is_said_after_it_was_asked_for(tmp_path: Path) -> None:
    text = "07:00 rosa: make a note\n07:01 rosa: the van was late\nexpect taken\n07:02 rosa: note no cement left\n"
    assert rehearse(tmp_path / "out", written(tmp_path, text)) == 0
    assert [note["text"] for note in facts(tmp_path / "out")["notes"]] == ["the van was late", "no cement left"]


def test_an_open_point_is_answered_in_words_and_holds_up_no_signature(tmp_path: Path) -> None:
    text = (
        "07:00 rosa: start area niche wall\n07:01 edwin: sign off\nexpect refused because open-points\n"
        "07:02 edwin: answer point one\nexpect taken\n07:03 edwin: the tile did not come\nexpect taken\n"
        "07:04 edwin: sign off\nexpect taken\nexpect sealed\nexpect no open points\n"
        "expect open_points[first].answered is true\n"
    )
    assert rehearse(tmp_path / "out", written(tmp_path, text)) == 0
    [point] = facts(tmp_path / "out")["open_points"]
    assert "the tile did not come" in point["answer"]


def test_a_reading_that_fails_counts_only_with_its_yes(tmp_path: Path) -> None:
    text = (
        "07:00 rosa: start area niche wall\n"
        "07:01 rosa: gap nine millimeters\nexpect taken\n"
        "07:02 rosa: base released\nexpect asked\n"
        "07:03 expect open reading of niche wall\n"
        "07:03 expect areas[niche wall].readings counts 0\n"
        "07:04 rosa: gap three millimeters!\n"
        "07:05 expect areas[niche wall].readings[gap].value is 3\n"
    )
    assert rehearse(tmp_path / "out", written(tmp_path, text)) == 0


def test_clocks_run_out_in_between(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = HONEST.read_text(encoding="utf-8").split("07:24:00")[0]
    text += "07:40:00 expect areas[niche wall].clocks[first].outcome is running\n"
    text += "07:42:00 expect areas[niche wall].clocks[first].outcome is ran out\n"
    assert rehearse(tmp_path / "out", written(tmp_path, text)) == 0
    assert "07:36:00 (clock)" in capsys.readouterr().out, "5 min before the 20 of the mortar's open time are over"


def test_several_scripts_are_several_days_one_after_the_other(tmp_path: Path) -> None:
    out = tmp_path / "out"
    second = written(tmp_path, "07:00 rosa: weather sunny\nexpect taken\n")
    assert rehearse(out, HONEST, second, more=("--date", "2026-03-31")) == 0
    assert [facts(out, name)["date"] for name in ("facts.json", "facts-2.json")] == ["2026-03-31", "2026-04-01"]


def test_an_earlier_rehearsal_is_replaced_whole(tmp_path: Path) -> None:
    out = tmp_path / "out"
    second = written(tmp_path, "07:00 rosa: weather sunny\n")
    assert rehearse(out, HONEST, second) == 0
    mine = out / "mine.txt"
    mine.write_text("a remark of my own", encoding="utf-8")
    assert rehearse(out, second) == 0
    assert not (out / "day-2.db").exists()
    assert not (out / "people").exists(), "nobody signed in this one"
    assert mine.exists(), "only its own files are replaced"


def test_a_folder_that_holds_something_else_is_left_alone(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "out"
    out.mkdir()
    (out / "day.db").write_text("somebody's day", encoding="utf-8")
    assert rehearse(out, HONEST) == 2
    assert [path.name for path in out.iterdir()] == ["day.db"]
    assert (out / "day.db").read_text(encoding="utf-8") == "somebody's day"
    assert str(out) in capsys.readouterr().err


def test_a_list_of_files_that_leads_out_of_the_folder_deletes_nothing(tmp_path: Path) -> None:
    out, outside = tmp_path / "out", tmp_path / "outside.txt"
    out.mkdir()
    outside.write_text("mine", encoding="utf-8")
    (out / MARK).write_text(json.dumps({"files": ["../outside.txt", "..", str(outside)]}), encoding="utf-8")
    assert rehearse(out, HONEST) == 0
    assert outside.exists()


def test_a_plan_that_fits_no_checklist_cannot_be_played(tmp_path: Path) -> None:
    given = ["rehearse", str(PLAN), str(HONEST), "--out", str(tmp_path / "out")]
    assert main(given) == 2, "the shipped checklists hold no little wall"


def test_how_much_was_said_is_told_and_written_and_may_be_expected(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lines = [
        "07:00 rosa: weather sunny",
        "07:01 rosa: rain on the roof",
        "07:02 rosa: next tile",
        "07:03 edwin: note the skylight leaks",
    ]
    # Two speakers say who they are, the note takes "make a note" as well, and neither talk nor a refusal is free.
    expected = ["expect at most 7 utterances", "expect at most 6 utterances", "expect at most 3 words"]
    assert rehearse(tmp_path / "out", written(tmp_path, "\n".join([*lines, *expected]))) == 1
    told = capsys.readouterr()
    assert "Utterances: 7 (" in told.out
    assert "line 6:" in told.err
    assert "line 7:" in told.err
    assert "line 5:" not in told.err
    (said,) = json.loads((tmp_path / "out" / MARK).read_text(encoding="utf-8"))["said"]
    assert (said["utterances"], said["areas"][""]["utterances"]) == (7, 7)
    assert said["tablet_words"] > 3


def test_a_yes_behind_a_phrase_is_counted_only_where_it_was_asked_for(tmp_path: Path) -> None:
    text = "07:00 rosa: weather sunny!\nexpect at most 2 utterances\n"
    assert rehearse(tmp_path / "out", written(tmp_path, text)) == 0


def test_fewer_words_are_spoken_at_each_level(tmp_path: Path) -> None:
    said = []
    for level in ("all", "few", "sounds"):
        assert rehearse(tmp_path / level, HONEST, more=("--speak", level)) == 0
        said.append(json.loads((tmp_path / level / MARK).read_text(encoding="utf-8"))["said"][0]["tablet_words"])
    assert said[0] > said[1] > said[2] > 0
