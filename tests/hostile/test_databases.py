"""Databases whose damage SQLite tells of in bytes that are no text."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from fieldassist.record.bundle import open_bundle, take_in
from fieldassist.record.days import days_with, listed_days
from fieldassist.record.log import DayLog, LogDamaged
from tests.proof.test_verify import Handed, handed

__all__ = ["handed"]


def text_that_is_none(data: bytes) -> bytes:
    """A byte of an event's text that UTF-8 has not."""
    return data.replace(b"Quillhaven", b"Quillh\xf7ven")


def form_that_is_no_text(data: bytes) -> bytes:
    """The same in what SQLite calls its schema."""
    return data.replace(b"CREATE TABLE", b"CR\xf7ATE TABLE")


@pytest.mark.parametrize("harm", [text_that_is_none, form_that_is_no_text])
@pytest.mark.parametrize("read_only", [True, False])
def test_a_log_that_holds_no_text_is_told_as_damaged(
    handed: Handed,
    tmp_path: Path,
    harm: Callable[[bytes], bytes],
    read_only: bool,
) -> None:
    day = tmp_path / "day.db"
    day.write_bytes(harm(handed.day.read_bytes()))
    assert day.read_bytes() != handed.day.read_bytes()
    with pytest.raises(LogDamaged):
        DayLog.open(day, read_only=read_only)


def test_such_a_log_hinders_no_other_day_of_its_folder(handed: Handed, tmp_path: Path) -> None:
    folder = tmp_path / "days"
    folder.mkdir()
    (folder / "2020-01-01.db").write_bytes(form_that_is_no_text(handed.day.read_bytes()))
    taken = take_in(open_bundle(handed.bundle), folder)
    assert taken.new
    with closing(sqlite3.connect(taken.day)) as database:
        assert database.execute("SELECT count(*) FROM events").fetchone()[0] == taken.events
    assert [day.path for day in listed_days(folder) if day.site] == [taken.day]
    assert days_with(folder, "note made") == (taken.day,)
