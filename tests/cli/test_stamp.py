"""`fieldassist stamp`: from a day to a request, and from an answer to a checked day."""

from __future__ import annotations

import json
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.cli import main
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.session import Day
from fieldassist.proof.examine import examine
from fieldassist.proof.known import Known
from fieldassist.proof.verdict import DAMAGED, UNSEALED, WHOLE
from fieldassist.record.beside import keep_beside
from fieldassist.record.log import DayLog
from fieldassist.record.stamp import write_request
from fieldassist.report.whole_day import write_whole_day
from tests.authority import Authority
from tests.small_day import asked, begun
from tests.tablets import small_site


@pytest.fixture
def day(tmp_path: Path) -> Path:
    path = tmp_path / "2026-03-17.db"
    with DayLog.create(path) as log:
        begun(log)
        asked(log, cmd.MakeNote(text="the gate stays locked"))
    return path


def told(capsys: pytest.CaptureFixture[str]) -> tuple[object, ...]:
    """What the one stamp is said to be."""
    (stamp,) = json.loads(capsys.readouterr().out)["stamps"]
    return stamp["good"], stamp["known"], stamp["events"], stamp["authority"]


def test_a_day_is_stamped_by_an_authority_and_verify_says_since_when_it_is_there(
    day: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    authority = Authority(tmp_path / "authority")
    root = str(authority.file("root.pem"))
    assert main(["stamp", str(day)]) == 0
    (request,) = (tmp_path / "2026-03-17.stamps").glob("3-*.tsq")
    answer = authority.answer(request)
    assert main(["stamp", str(day), "--take", str(request)]) == 2
    assert main(["stamp", str(day), "--take", str(answer), "--root", root]) == 0
    assert "Clock 1, Quillhaven Time" in capsys.readouterr().out
    assert main(["verify", str(day), "--root", root, "--json"]) == 3  # nobody sealed it
    assert told(capsys) == (True, True, 3, "Clock 1, Quillhaven Time")


def examined(day: Path, root: bytes | None, scratch: Path) -> list[tuple[str, int]]:
    """What is told of the stamps beside a day, and how grave it is."""
    scratch.mkdir()
    judgment = examine(day, Known(root=root), scratch)
    return [(one.told.code, one.gravity) for one in judgment.findings if one.told.code.startswith("proof-stamp")]


def test_a_stamp_is_held_against_the_root_and_the_record_wherever_it_lies(day: Path, tmp_path: Path) -> None:
    authority, other = Authority(tmp_path / "authority"), Authority(tmp_path / "other")
    with DayLog.open(day, read_only=True) as log:
        texts = tuple(log.texts)
    answer = authority.answer(write_request(day, texts[-1], len(texts))).read_bytes()
    place, _ = keep_beside(day, "stamp", answer)
    bundle = tmp_path / "day.bundle"
    write_whole_day(day, bundle, None, None, None)
    for number, file in enumerate((day, bundle)):
        scratch = tmp_path / f"scratch-{number}"
        scratch.mkdir()
        # Whether today's clock of the authority is behind the day's simulated one is another matter.
        good = [one for one in examined(file, authority.root, scratch / "good") if one[0] != "proof-stamp-before"]
        assert good == [("proof-stamp", WHOLE)]
        assert examined(file, other.root, scratch / "other")[0] == ("proof-stamp-not-known", UNSEALED)
        assert examined(file, None, scratch / "none")[0] == ("proof-stamp", WHOLE)
    place.write_bytes(answer[:-1])
    assert examined(day, authority.root, tmp_path / "cut") == [("proof-stamp-not-good", DAMAGED)]
    elsewhere = authority.answer(write_request(tmp_path / "x.db", "another record", 1)).read_bytes()
    place.write_bytes(elsewhere)
    assert examined(day, None, tmp_path / "elsewhere") == [("proof-stamp-not-good", DAMAGED)]


def test_a_record_that_is_dated_after_its_stamp_says_that_the_tablets_clock_was_ahead(tmp_path: Path) -> None:
    authority, path = Authority(tmp_path / "authority"), tmp_path / "day.db"
    ahead = datetime.now().astimezone() + timedelta(hours=2)
    plan, checklists = small_site()
    plan = plan.model_copy(update={"date": f"{ahead:%Y-%m-%d}"})
    with Day.begin(path, plan, checklists, SimulatedClock(ahead)) as begun:
        texts = tuple(begun.log.texts)
    keep_beside(path, "stamp", authority.answer(write_request(path, texts[-1], len(texts))).read_bytes())
    assert examined(path, authority.root, tmp_path / "scratch") == [
        ("proof-stamp", WHOLE),
        ("proof-stamp-before", UNSEALED),
    ]
