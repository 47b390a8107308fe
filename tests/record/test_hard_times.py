"""What a site does to a tablet: full disks, read-only disks, clocks that are set, other programs, other versions."""

from __future__ import annotations

import contextlib
import errno
import os
import shutil
import sqlite3
import subprocess
import sys
import tempfile
from collections import deque
from datetime import datetime, timedelta
from pathlib import Path
from types import SimpleNamespace

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.commands import MakeNote
from fieldassist.checklist.events import ClockJumped, ClockUnwatched
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.session import Day
from fieldassist.record import log as log_module
from fieldassist.record import recover as recover_module
from fieldassist.record.chain import chain_hash
from fieldassist.record.log import AlreadyOpen, DayLog, DiskFull, LogProblem
from fieldassist.record.recover import recover
from tests.conftest import Crew
from tests.tablets import SetClock


def jumps(day: Day) -> list[float]:
    return [e.body.seconds for e in day.log.events if isinstance(e.body, ClockJumped)]


# --- the wall clock -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("hours", [-2, 3])
def test_a_wall_clock_that_is_set_is_recorded_and_stretches_no_open_time(crew: Crew, hours: int) -> None:
    crew.open_shower()
    crew.mix()
    crew.day.close()
    clock = SetClock()
    clock.wall = datetime.fromisoformat("2026-03-17T07:30:00+01:00")
    with Day.resume(crew.day.log.path, clock) as day:
        day.do(cmd.SpeakAs(name="rosa"))
        day.do(cmd.StartRound(section="tile"))
        day.do(cmd.ConfirmStep(section="tile", step="back"))
        day.do(cmd.ConfirmStep(section="tile", step="spread"))
        before = len(jumps(day))
        open_time = next(c for c in day.prompt.clocks if c.clock == "open-time")
        clock.wall += timedelta(hours=hours)
        clock.mono += 300
        left = next(c for c in day.prompt.clocks if c.clock == open_time.clock)
        assert left.left_minutes == pytest.approx(open_time.left_minutes - 5)
        day.do(MakeNote(text="after the clock was set"))
        assert jumps(day)[before:] == [pytest.approx(3600 * hours - 300, abs=1)]
        assert day.log.events[-2].by == "clock"


def test_a_wall_clock_that_runs_true_is_not_remarked(closed: Path) -> None:
    clock = SetClock()
    clock.wall = datetime.fromisoformat("2026-03-17T07:30:00+01:00")
    with Day.resume(closed, clock) as day:
        day.do(MakeNote(text="one"))
        before = jumps(day)
        clock.pass_by(200)
        day.do(MakeNote(text="two"))
        assert jumps(day) == before


def test_a_clock_that_is_set_in_small_steps_is_recorded_each_time_they_come_to_half_a_minute(closed: Path) -> None:
    clock = SetClock()
    with Day.resume(closed, clock) as day:
        day.do(MakeNote(text="first"))
        assert jumps(day) == []
        for number in range(12):
            clock.pass_by(1)
            clock.wall += timedelta(seconds=7)
            day.do(MakeNote(text=f"note {number}"))
        # 12 steps of 7 s: noted at 35 s and at 70 s, and the last 14 s are not yet enough.
        assert jumps(day) == [35, 35]
        for number in range(6):
            clock.pass_by(1)
            clock.wall -= timedelta(seconds=9)
            day.do(MakeNote(text=f"back {number}"))
        assert jumps(day) == [35, 35, -31]  # 14 s forward, then 5 steps of 9 s back
    # What was reckoned together is not forgotten by the program's own restart.
    with Day.resume(closed, clock) as day:
        for _ in range(2):
            clock.wall -= timedelta(seconds=11)
            day.do(MakeNote(text="after the program's restart"))
        assert jumps(day) == [35, 35, -31, -31]  # the 9 s from before it among them


def test_after_a_restart_only_a_clock_behind_the_last_event_can_be_told(closed: Path) -> None:
    clock = SetClock()
    clock.wall = datetime.fromisoformat("2026-03-17T06:00:00+01:00")  # earlier than what the log holds
    with Day.resume(closed, clock) as day:
        day.do(MakeNote(text="one"))
        assert len(jumps(day)) == 1
        assert jumps(day)[0] < -600


def unwatched(day: Day) -> list[float]:
    return [e.body.seconds for e in day.log.events if isinstance(e.body, ClockUnwatched)]


def test_over_a_restart_of_the_machine_it_is_recorded_how_long_nothing_was_written(closed: Path) -> None:
    clock = SetClock()
    with Day.resume(closed, clock) as day:
        day.do(MakeNote(text="before"))
        before = unwatched(day)
        clock.boot, clock.mono = "two", 12.0
        clock.wall += timedelta(days=1, minutes=20)
        day.do(MakeNote(text="after"))
        assert unwatched(day) == [*before, 24 * 3600 + 20 * 60]
        assert day.log.events[-2].by == "clock"
        clock.pass_by(90)
        day.do(MakeNote(text="in the same run"))
        assert len(unwatched(day)) == len(before) + 1
        clock.boot, clock.mono = "three", 12.0
        clock.wall += timedelta(seconds=20)
        day.do(MakeNote(text="a start that is quicker than the clock is sure"))
        assert (len(unwatched(day)), jumps(day)) == (len(before) + 1, [])


def test_an_addendum_that_is_dated_back_says_that_the_clock_was_set(crew: Crew, cheap_hash: None) -> None:  # noqa: ARG001
    crew.say("this is edwin")
    assert crew.day.do(cmd.SignDay(accept_open=True)).taken
    path, last = crew.day.log.path, crew.clock.time
    crew.day.close()
    clock = SetClock()
    clock.wall, clock.boot = last - timedelta(hours=3), "two"
    with Day.resume(path, clock) as day:
        assert day.do(cmd.OpenAddendum(reason="a figure was wrong")).taken
        assert jumps(day) == [-3 * 3600]
        assert isinstance(day.log.events[-1].body, ClockJumped)
        day.do(MakeNote(text="it goes on"))
        assert len(jumps(day)) == 1


# --- the disk -----------------------------------------------------------------------------------------------------


def test_a_full_disk_refuses_the_event_and_loses_nothing(closed: Path, clock: SimulatedClock) -> None:
    with Day.resume(closed, clock) as day:
        before = list(day.log.texts)
        connection = day.log._db
        pages = connection.execute("PRAGMA page_count").fetchone()[0]
        connection.execute(f"PRAGMA max_page_count={pages}")  # SQLite's own way to a disk that is full
        with pytest.raises(LogProblem, match="record-not-written"):
            deque((day.do(MakeNote(text="x" * 1500)) for _ in range(200)), maxlen=0)
        kept = len(day.log.texts)
        assert day.log.texts[: len(before)] == before
        assert day.state.last_seq == kept
        connection.execute("PRAGMA max_page_count=100000")
        day.do(MakeNote(text="there is space again"))
        assert len(day.log.texts) == kept + 1
    with DayLog.open(closed) as log:
        assert len(log.events) == kept + 1


def test_a_day_on_a_disk_that_cannot_be_written_can_be_looked_at(
    closed: Path, clock: SimulatedClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    with DayLog.open(closed, read_only=True) as log:
        whole = list(log.texts)
    # Root may write anywhere, so the answer of the system is given for it.
    monkeypatch.setattr(os, "access", lambda *_: False)
    before = sorted(p.name for p in closed.parent.iterdir())
    with Day.resume(closed, clock, read_only=True) as day:
        assert day.log.texts == whole
        with pytest.raises(LogProblem, match="record-only-looked-at"):
            day.do(MakeNote(text="x"))
        assert sorted(p.name for p in closed.parent.iterdir()) == before


# --- other programs, other versions -------------------------------------------------------------------------------


@pytest.fixture
def cut_off(crew: Crew, tmp_path: Path) -> Path:
    """A day as a power cut leaves it, with events in its journal, where SQLite can write no index beside it.

    It writes one even to read; on a full disk it fails in the same place.
    """
    crew.open_shower()
    path = tmp_path / "cut-off" / "day.db"
    path.parent.mkdir()
    for suffix in ("", "-wal"):
        shutil.copy(crew.day.log.path.with_name(crew.day.log.path.name + suffix), path.with_name(path.name + suffix))
    path.with_name(path.name + "-shm").symlink_to(tmp_path / "gone" / "index")
    return path


def test_where_nothing_can_be_written_beside_it_a_day_can_still_be_looked_at(
    crew: Crew, cut_off: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with DayLog.open(cut_off, read_only=True) as log:
        assert log.events == crew.day.log.events
    with pytest.raises(LogProblem) as other:
        DayLog.open(cut_off)
    assert not isinstance(other.value, DiskFull)
    monkeypatch.setattr(shutil, "disk_usage", lambda _: SimpleNamespace(free=0))
    with pytest.raises(DiskFull, match="record-disk-full"):
        DayLog.open(cut_off)
    with DayLog.open(cut_off, read_only=True) as log:
        assert log.events == crew.day.log.events


def test_the_copy_to_look_at_is_made_in_memory_where_there_is_no_other_room(
    cut_off: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "gone"))
    memory = tmp_path / "memory"
    memory.mkdir()
    monkeypatch.setattr(log_module, "_IN_MEMORY", (memory,))
    with DayLog.open(cut_off, read_only=True) as log:
        assert log.events
        assert list(memory.iterdir())
    assert not list(memory.iterdir())
    monkeypatch.setattr(log_module, "_IN_MEMORY", ())
    with pytest.raises(LogProblem, match="record-unreadable"):
        DayLog.open(cut_off, read_only=True)


@pytest.mark.parametrize(("number", "kind"), [(errno.ENOSPC, DiskFull), (errno.EROFS, LogProblem)])
def test_a_log_that_cannot_be_recovered_here_is_told_so_and_kept(
    closed: Path, monkeypatch: pytest.MonkeyPatch, number: int, kind: type[LogProblem]
) -> None:
    closed.write_bytes(closed.read_bytes()[:8192])
    before = closed.read_bytes()

    def refuses(*_: object, **__: object) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(recover_module, "copied", refuses)
    with pytest.raises(LogProblem) as caught:
        recover(closed)
    assert type(caught.value) is kind
    assert closed.read_bytes() == before


def test_a_day_that_another_program_holds_is_told_so(closed: Path) -> None:
    with contextlib.closing(sqlite3.connect(closed, isolation_level=None)) as other:
        other.execute("PRAGMA locking_mode=EXCLUSIVE")
        other.execute("BEGIN EXCLUSIVE")
        with pytest.raises(AlreadyOpen, match="record-locked"):
            DayLog.open(closed)


def test_a_second_program_is_told_so_and_shows_where_the_day_stands(crew: Crew) -> None:
    crew.open_shower()
    done = subprocess.run(
        [sys.executable, "-m", "fieldassist", "work", str(crew.day.log.path), "--quiet"],
        input="this is rosa\n",
        capture_output=True,
        text=True,
        timeout=60,
    )
    assert done.returncode == 2
    assert "is open already, in another window or program" in done.stderr
    assert "shower wall: working; between rounds" in done.stdout
    crew.say("new batch")


def test_a_log_of_a_newer_version_is_refused_and_not_touched(closed: Path) -> None:
    connection = sqlite3.connect(closed)
    connection.execute("PRAGMA user_version=99")
    connection.close()
    with pytest.raises(LogProblem, match="record-newe"):
        DayLog.open(closed)
    with pytest.raises(LogProblem, match="record-newe"):
        DayLog.open(closed, read_only=True)


@pytest.mark.parametrize("version", [1, 2])
@pytest.mark.parametrize("read_only", [True, False])
def test_a_log_of_an_older_format_is_refused_and_not_touched(closed: Path, version: int, read_only: bool) -> None:
    with contextlib.closing(sqlite3.connect(closed)) as connection:
        connection.execute(f"PRAGMA user_version={version}")
    before = closed.read_bytes()
    with pytest.raises(LogProblem, match=f"record-older.*format={version}, known=3"):
        DayLog.open(closed, read_only=read_only)
    assert closed.read_bytes() == before


def test_an_event_written_before_a_field_was_added_is_still_whole(closed: Path) -> None:
    """The chain is made of the texts as they were written, so that a field which came later cannot break it."""
    with DayLog.open(closed) as log:
        log.append(log.events[:0])
        seq, before = len(log.events) + 1, log.head
        moment = '{"boot":"b","mono":1,"wall":"2026-03-17T12:00:00+01:00"}'
        source = '{"confidence":null,"how":"typed","model":"","words":""}'
        body = '{"text":"an old note","type":"note made"}'  # a note has had sound since
        head = f'"at":{moment},"body":{body},"by":"rosa","id":"old.0","prev":"{before}"'
        text = f'{{{head},"seq":{seq},"source":{source}}}'
        assert log.append_texts([text]) == chain_hash(text)
    with DayLog.open(closed) as log:
        assert log.texts[-1] == text
        assert log.events[-1].body.audio is None


@pytest.mark.parametrize(("old", "new"), [('"by":', '"by" :'), ('"seq":', '"also":1,"seq":')])
def test_texts_from_elsewhere_that_are_not_as_written_are_refused(closed: Path, old: str, new: str) -> None:
    with DayLog.open(closed) as log:
        seq, before = len(log.events) + 1, log.head
        [text] = log.written([log.events[-1].model_copy(update={"seq": seq, "id": "x.0"})])
        assert before in text
        with pytest.raises(ValueError, match=f"event={seq}"):
            log.append_texts([text.replace(old, new)])
        assert len(log.events) == seq - 1
