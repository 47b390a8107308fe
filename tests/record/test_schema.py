"""A database of another form than ours is refused before anything in it is run, and `verify` names what is strange."""

from __future__ import annotations

import contextlib
import sqlite3
from pathlib import Path

import pytest

from fieldassist.checklist import events as ev
from fieldassist.proof.log import read_log
from fieldassist.record.log import DayLog, LogDamaged
from fieldassist.record.recover import recover
from tests.small_day import PLAN, kept

EVIL = """CREATE TRIGGER events_are_never_deleted AFTER INSERT ON events
BEGIN DELETE FROM events WHERE seq = new.seq - 1; END"""


@pytest.fixture
def day(tmp_path: Path) -> Path:
    path = tmp_path / "day.db"
    with DayLog.create(path) as log:
        kept(log, ev.DayOpened(plan=PLAN), ev.NoteMade(text="one"), ev.NoteMade(text="two"))
    return path


def altered(day: Path, *statements: str) -> None:
    with contextlib.closing(sqlite3.connect(day, isolation_level=None)) as db:
        for statement in statements:
            db.execute(statement)


@pytest.mark.parametrize(
    ("statements", "name"),
    [
        (("DROP TRIGGER events_are_never_deleted", EVIL), "events_are_never_deleted"),
        (("DROP TRIGGER events_are_never_updated",), "events_are_never_updated"),
        ((EVIL.replace("events_are_never_deleted", "helper"),), "helper"),
        (("CREATE VIEW notes AS SELECT text FROM events",), "notes"),
        (("CREATE TABLE more (a)",), "more"),
        (("DROP INDEX idx_events_id", "CREATE UNIQUE INDEX idx_events_id ON events (hash)"), "idx_events_id"),
        (
            (
                "PRAGMA writable_schema=ON",
                "UPDATE sqlite_schema SET sql=replace(sql, 'TEXT NOT NULL', 'TEXT COLLATE NOCASE NOT NULL')"
                " WHERE type='table'",
            ),
            "events",
        ),
    ],
    ids=["an evil trigger", "a trigger gone", "a trigger more", "a view", "a table", "another index", "a collation"],
)
def test_a_log_with_another_schema_is_refused_and_named_and_its_events_are_saved(
    day: Path, statements: tuple[str, ...], name: str
) -> None:
    altered(day, *statements)
    for read_only in (True, False):
        with pytest.raises(LogDamaged, match=rf"record-altered\(names={name}\), whole=3"):
            DayLog.open(day, read_only=read_only)
    _, trouble = read_log(Path(day))
    assert trouble is not None
    assert trouble.figures["names"] == name
    assert recover(day).events == 3
    with DayLog.open(day) as log:
        kept(log, ev.NoteMade(text="three"))
        assert len(log.events) == 4


def test_a_trigger_put_in_while_the_day_is_open_never_fires(day: Path) -> None:
    with DayLog.open(day) as log:
        altered(day, "DROP TRIGGER events_are_never_deleted", EVIL)
        with pytest.raises(LogDamaged, match=r"record-altered\(names=events_are_never_deleted\)"):
            kept(log, ev.NoteMade(text="three"))
    with contextlib.closing(sqlite3.connect(day)) as db:
        assert db.execute("SELECT count(*) FROM events").fetchone() == (3,)


def test_verify_names_another_format(day: Path) -> None:
    altered(day, "PRAGMA user_version=99")
    _, trouble = read_log(day)
    assert trouble is not None
    assert (trouble.code, trouble.figures["format"]) == ("proof-log-format", "99")


def test_how_an_earlier_version_wrote_the_names_makes_no_difference(day: Path) -> None:
    altered(
        day,
        "PRAGMA writable_schema=ON",
        "UPDATE sqlite_schema SET sql=replace(replace(sql, 'TABLE \"events\"', 'TABLE [events]'), '\"seq\"', '[seq]')",
    )
    with DayLog.open(day) as log:
        kept(log, ev.NoteMade(text="three"))
