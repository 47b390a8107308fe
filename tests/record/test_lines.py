"""The second copy says what the log says, is never thrown away when it says otherwise, and stops no work."""

from __future__ import annotations

import io
import os
from pathlib import Path

import pytest

from fieldassist.checklist import events as ev
from fieldassist.cli import main
from fieldassist.proof.examine import examine
from fieldassist.proof.known import NOTHING_KNOWN
from fieldassist.proof.verdict import UNSEALED
from fieldassist.record.lines import lines_of, lines_written
from fieldassist.record.log import DayLog
from tests.small_day import PLAN, kept


@pytest.fixture
def day(tmp_path: Path) -> Path:
    path = tmp_path / "day.db"
    with DayLog.create(path) as log:
        kept(log, ev.DayOpened(plan=PLAN), ev.NoteMade(text="a first note"), ev.NoteMade(text="a second, “quoted”"))
    return path


def texts_of(day: Path) -> list[str]:
    with DayLog.open(day, read_only=True) as log:
        return log.texts


def test_each_event_is_a_line_and_synced_before_it_is_acknowledged(day: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert lines_of(day).read_bytes() == lines_written(texts_of(day))
    synced, fsync = [], os.fsync

    def note(handle: int) -> None:
        fsync(handle)
        synced.append((Path(f"/proc/self/fd/{handle}").readlink(), os.fstat(handle).st_size))

    with DayLog.open(day) as log:
        monkeypatch.setattr(os, "fsync", note)
        kept(log, ev.NoteMade(text="a third"))
        assert synced == [(lines_of(day), len(lines_written(log.texts)))]


@pytest.mark.parametrize("cut", [0, 1, 50, -1, -40, None])
def test_a_copy_that_is_shorter_torn_or_gone_is_completed_on_opening(day: Path, cut: int | None) -> None:
    lines = lines_of(day)
    whole = lines.read_bytes()
    if cut is None:
        lines.unlink()
    else:
        lines.write_bytes(whole[:cut])
    assert texts_of(day), "looking at it writes nothing"
    assert not lines.exists() if cut is None else lines.read_bytes() == whole[:cut]
    with DayLog.open(day) as log:
        assert log.told_of_copy is None
        kept(log, ev.NoteMade(text="and on"))
        assert lines.read_bytes() == lines_written(log.texts)
    assert [path.name for path in day.parent.glob("*.other*")] == []


@pytest.mark.parametrize("end", [b"\0" * 300, b'{"at":{"boot":"b","mo', b"\xff\xfe\n"])
def test_what_a_power_cut_leaves_behind_the_last_line_is_no_other_event(day: Path, end: bytes) -> None:
    lines = lines_of(day)
    whole = lines.read_bytes()
    lines.write_bytes(whole + end)
    with DayLog.open(day) as log:
        assert log.told_of_copy is None
    assert lines.read_bytes() == whole


def test_a_copy_that_tells_of_other_events_is_put_aside_and_told(day: Path) -> None:
    lines = lines_of(day)
    whole = lines.read_bytes()
    other = whole.replace(b"a first note", b"another note")
    lines.write_bytes(other)
    scratch = day.parent / "scratch"
    scratch.mkdir()
    judged = examine(day, NOTHING_KNOWN, scratch)
    assert judged.exit_code == UNSEALED
    assert [one.figures["line"] for one in judged.told if one.code == "proof-copy-otherwise"] == ["2"]
    with DayLog.open(day) as log:
        assert log.told_of_copy is not None
        assert log.told_of_copy.code == "record-copy-aside"
    assert lines.read_bytes() == whole
    assert day.with_name("day.db.lines.other").read_bytes() == other


def test_who_works_on_the_day_is_told_that_a_copy_was_put_aside(
    day: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    lines_of(day).write_bytes(lines_of(day).read_bytes().replace(b"a first note", b"another note"))
    monkeypatch.setattr("sys.stdin", io.StringIO(""))
    assert main(["work", str(day), "--quiet"]) == 0
    assert "day.db.lines.other" in capsys.readouterr().err


def test_a_copy_that_cannot_be_written_stops_no_work_and_is_completed_as_soon_as_it_can_be(
    day: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write = os.write
    with DayLog.open(day) as log:

        def half(handle: int, data: bytes) -> int:
            if len(data) < 20:
                raise OSError(28, "No space left on device")
            return write(handle, data[:-10])

        monkeypatch.setattr(os, "write", half)
        kept(log, ev.NoteMade(text="on a full disk"))
        assert log.told_of_copy is not None
        assert log.told_of_copy.code == "record-copy-behind"
        assert lines_of(day).read_bytes() != lines_written(log.texts)
        monkeypatch.setattr(os, "write", write)
        kept(log, ev.NoteMade(text="and there is room again"))
        assert log.told_of_copy is None
        assert lines_of(day).read_bytes() == lines_written(log.texts)
