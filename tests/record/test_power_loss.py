"""Power is cut at every moment of a day: what was acknowledged is there.

The log relies on SQLite's WAL mode with synchronous=FULL, of which SQLite says that the WAL is synced after each
transaction, so that transactions are durable over a power loss (https://www.sqlite.org/pragma.html#pragma_synchronous,
https://www.sqlite.org/wal.html section 3.3). These tests do not take its word.
"""

from __future__ import annotations

import os
import pickle
import subprocess
import sys
from pathlib import Path
from random import Random

import pytest

from fieldassist.record import attachments
from fieldassist.record.lines import lines_of, lines_written, read_copy, texts_in
from fieldassist.record.log import DayLog, LogProblem
from tests.record.power import Step, restored

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="played with the SQLite library of Linux")


def played(folder: Path, synchronous: str) -> list[Step]:
    """What happened in a day that ran undisturbed."""
    trace = folder / "trace"
    subprocess.run(
        [sys.executable, "-m", "tests.record.power", str(folder / "day.db"), str(trace), synchronous],
        check=True,
        timeout=120,
    )
    return [Step(*step) for step in pickle.loads(trace.read_bytes())]


def lost(folder: Path, trace: list[Step], moment: int, arrives: float) -> int:
    """How many acknowledged events are gone, from the log or from its second copy, after a power cut just before step
    `moment`."""
    kept = max((step.at for step in trace[:moment] if step.what == "kept"), default=0)
    for old in folder.iterdir():
        old.unlink()
    for name, content in restored(trace, moment, arrives, Random(moment)).items():
        (folder / name).write_bytes(content)
    if not kept and not (folder / "day.db").exists():
        return 0
    twice = texts_in(read_copy(folder / "day.db"))
    try:
        with DayLog.open(folder / "day.db") as found:
            same = sum(one == other for one, other in zip(found.texts, twice, strict=False))
            assert lines_of(found.path).read_bytes() == lines_written(found.texts), "it is completed on opening"
            assert found.told_of_copy is None
            return max(0, kept - len(found.events), kept - same)
    except LogProblem:
        return kept


@pytest.mark.parametrize("arrives", [0.0, 0.5])
def test_a_power_cut_at_any_moment_takes_nothing_that_was_acknowledged(tmp_path: Path, arrives: float) -> None:
    trace = played(tmp_path, "FULL")
    assert sum(s.what == "sync" and s.file == "day.db" for s in trace) > 3, "power is lost in checkpoints too"
    site = tmp_path / "site"
    site.mkdir()
    gone = {moment: lost(site, trace, moment, arrives) for moment in range(1, len(trace) + 1)}
    assert not any(gone.values()), {moment: count for moment, count in gone.items() if count}


def test_the_play_would_find_a_log_that_does_not_sync(tmp_path: Path) -> None:
    trace = played(tmp_path, "NORMAL")  # syncs at checkpoints only
    site = tmp_path / "site"
    site.mkdir()
    assert any(lost(site, trace, moment, 0.0) for moment in range(1, len(trace) + 1, 7))


def test_a_photo_is_on_disk_before_it_has_its_name_and_its_name_before_it_is_acknowledged(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    happened = []
    fsync, replace = os.fsync, Path.replace

    def note_fsync(handle: int) -> None:
        happened.append(f"sync {Path(f'/proc/self/fd/{handle}').readlink().name}")
        fsync(handle)

    def note_replace(source: Path, target: Path) -> Path:
        happened.append(f"name {target.name}")
        return replace(source, target)

    monkeypatch.setattr(os, "fsync", note_fsync)
    monkeypatch.setattr(Path, "replace", note_replace)
    kept = attachments.keep(tmp_path / "day.db", b"a photo", ".jpg")
    assert happened[0].endswith(".part")
    assert happened[1:] == [f"name {kept.file}", "sync day.attached", f"sync {tmp_path.name}"]
