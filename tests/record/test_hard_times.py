"""What a site does to a tablet: full disks, read-only disks, other versions."""

from __future__ import annotations

import os
import sqlite3
from collections import deque
from pathlib import Path

import pytest

from fieldassist.checklist.commands import MakeNote
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.session import Day
from fieldassist.record.attachments import folder_of
from fieldassist.record.log import DayLog, LogProblem, chain_hash

# --- the disk -----------------------------------------------------------------------------------------------------


def test_a_full_disk_refuses_the_event_and_loses_nothing(closed: Path, clock: SimulatedClock) -> None:
    with Day.resume(closed, clock) as day:
        before = list(day.log.texts)
        connection = day.log._db.conn
        pages = connection.execute("PRAGMA page_count").fetchone()[0]
        connection.execute(f"PRAGMA max_page_count={pages}")  # SQLite's own way to a disk that is full
        with pytest.raises(LogProblem, match="free some space"):
            deque((day.do(MakeNote(text="x" * 1500)) for _ in range(200)), maxlen=0)
        kept = len(day.log.texts)
        assert day.log.texts[: len(before)] == before
        assert day.state.last_seq == kept
        connection.execute("PRAGMA max_page_count=100000")
        day.do(MakeNote(text="there is space again"))
        assert len(day.log.texts) == kept + 1
    with DayLog.open(closed) as log:
        assert len(log.events) == kept + 1


def test_a_day_on_a_disk_that_cannot_be_written_can_be_looked_at(closed: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with DayLog.open(closed, read_only=True) as log:
        whole = list(log.texts)
    # Root may write anywhere, so the answer of the system is given for it.
    monkeypatch.setattr(os, "access", lambda *_: False)
    before = sorted(p.name for p in closed.parent.iterdir())
    with DayLog.open(closed, read_only=True) as log:
        assert log.texts == whole
        again = log.events[-1].model_copy(update={"seq": len(whole) + 1, "id": "again.0"})
        with pytest.raises(LogProblem, match="only looked at"):
            log.append([again])
        assert sorted(p.name for p in closed.parent.iterdir()) == before


# --- other versions -----------------------------------------------------------------------------------------------


def test_a_log_of_a_newer_version_is_refused_and_not_touched(closed: Path) -> None:
    connection = sqlite3.connect(closed)
    connection.execute("PRAGMA user_version=99")
    connection.close()
    with pytest.raises(LogProblem, match="newer fieldassist"):
        DayLog.open(closed)
    with pytest.raises(LogProblem, match="newer fieldassist"):
        DayLog.open(closed, read_only=True)


def test_a_day_of_the_first_format_is_brought_forward_with_its_photos(closed: Path) -> None:
    connection = sqlite3.connect(closed)
    connection.execute("PRAGMA user_version=1")
    connection.close()
    old = closed.with_suffix(".photos")
    old.mkdir()
    (old / "0123456789abcdef.jpg").write_bytes(b"a photo")
    DayLog.open(closed).close()
    assert not old.exists()
    assert (folder_of(closed) / "0123456789abcdef.jpg").read_bytes() == b"a photo"
    connection = sqlite3.connect(closed)
    assert connection.execute("PRAGMA user_version").fetchone() == (2,)
    connection.close()


def test_an_event_written_before_a_field_was_added_is_still_whole(closed: Path) -> None:
    """The chain is made of the texts as they were written, so that a field which came later cannot break it."""
    with DayLog.open(closed) as log:
        log.append(log.events[:0])
        seq, before = len(log.events) + 1, log.head
        moment = '{"boot":"b","mono":1,"wall":"2026-03-17T12:00:00+01:00"}'
        body = '{"text":"an old note","type":"note made"}'  # a note has had sound since
        text = f'{{"at":{moment},"body":{body},"by":"rosa","id":"old.0","prev":"{before}","seq":{seq}}}'
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
        with pytest.raises(ValueError, match=f"event {seq}"):
            log.append_texts([text.replace(old, new)])
        assert len(log.events) == seq - 1
