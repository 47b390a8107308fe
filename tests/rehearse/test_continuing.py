"""Days that continue, played from beginning to end: on the same tablet, and on another one from a bundle."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from fieldassist.cli import main
from fieldassist.day.before import read_before
from fieldassist.day.session import CannotOpen
from fieldassist.report.whole_day import write_whole_day
from tests.rehearse import CHECKLISTS, PLAN, SCRIPTS
from tests.rehearse.test_rehearse import facts, rehearse, sealed_by, written

FIRST = (SCRIPTS / "honest-day.txt").read_text(encoding="utf-8").split("08:00:00 expect")[0]
# Nobody can lift this tile tomorrow: it is the first and the last of its run.
FIRST += """07:40:00 rosa: lift a tile
07:41:00 rosa: tile lifted
07:41:20 rosa: coverage ninety seven percent!
07:41:40 rosa: void 100 mm2!
07:42:00 rosa: corners full
"""
SECOND = """
07:00:00 rosa: start area niche wall
expect answered engine-area-entered
07:01:00 rosa: next tile
expect refused because engine-needs-first
07:02:00 rosa: new batch
07:03:00 rosa: batch mixed
07:10:00 rosa: next tile
07:11:00 rosa: combed straight
07:12:00 rosa: tile set
07:13:00 rosa: slid half an inch!
07:20:00 rosa: lift a tile
07:21:00 rosa: tile lifted
07:22:00 rosa: coverage ninety six percent!
07:22:20 rosa: void 100 mm2!
07:22:40 rosa: corners full
07:30:00 rosa: finish area
07:31:00 rosa: photo
08:00:00 edwin: sign off

expect niche wall finished
expect 2 tiles of niche wall
expect areas[niche wall].set_m2 is 1.44
expect areas[niche wall].tiles[2].order is 2
expect areas[niche wall].tiles[2].run is 2
expect areas[niche wall].lifts[2].tile is 2
expect areas[niche wall].continues is not none
expect continues counts 1
expect sealed
"""


@pytest.fixture(scope="module")
def two_days(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("two")
    first, second = folder / "first.txt", folder / "second.txt"
    first.write_text(FIRST + "16:00 edwin: sign off with open points\nexpect sealed\n", encoding="utf-8")
    second.write_text(SECOND, encoding="utf-8")
    assert rehearse(folder / "out", first, second, more=("--date", "2026-03-17")) == 0
    return folder / "out"


def test_the_next_day_names_the_head_of_the_one_before(two_days: Path, capsys: pytest.CaptureFixture[str]) -> None:
    head = facts(two_days)["head"]
    assert facts(two_days, "facts-2.json")["continues"] == [
        {"date": "2026-03-17", "head": head, "signed": True, "sealed": True, "areas": ["niche wall"]}
    ]
    pages = "".join(page.extract_text() for page in PdfReader(two_days / "daily-log-2.pdf").pages)
    assert head[:24] in "".join(pages.split())  # as much as every page's foot shows of its own
    capsys.readouterr()
    key = sealed_by(two_days, "facts-2.json")
    assert main(["verify", str(two_days / "daily-log-2.pdf"), "--key", key, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert [day["head"] for day in told["continues"]] == [head]
    assert head in "".join(told["lines"])


def test_another_tablet_goes_on_from_the_bundle_as_from_the_log(two_days: Path, tmp_path: Path) -> None:
    bundle = tmp_path / "day.bundle"
    write_whole_day(two_days / "day.db", bundle, None, None, None)
    assert read_before(bundle) == read_before(two_days / "day.db")
    more = ("--date", "2026-03-18", "--continues", str(bundle))
    assert rehearse(tmp_path / "out", written(tmp_path, SECOND), more=more) == 0


def test_nothing_goes_on_from_a_broken_chain(two_days: Path, tmp_path: Path) -> None:
    broken = tmp_path / "day.db"
    content = (two_days / "day.db").read_bytes()
    assert content.count(b'"by":"rosa"') > 10
    broken.write_bytes(content.replace(b'"by":"rosa"', b'"by":"r0sa"', 1))
    for path in (broken, tmp_path / "none.db", PLAN):
        with pytest.raises(CannotOpen):
            read_before(path)


def test_work_does_not_go_on_from_a_rehearsal(two_days: Path, tmp_path: Path) -> None:
    given: list[Any] = ["begin", PLAN, tmp_path / "day.db", "--today", "--checklists", CHECKLISTS, "--continues"]
    assert main([*map(str, given), str(two_days / "day.db")]) == 2
    assert not (tmp_path / "day.db").exists()
