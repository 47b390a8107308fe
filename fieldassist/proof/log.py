"""A day's log read as somebody reads it who does not trust the file: a database may be made to do harm.

After SQLite, "Defense Against The Dark Arts" (https://www.sqlite.org/security.html): its schema is not trusted, what
should be a table has to be one, and sizes and time are bounded. `record.log` is for the crew's own tablet; this is for
the inspector.
"""

from __future__ import annotations

import contextlib
import shutil
import sqlite3
import time
from collections.abc import Sequence
from pathlib import Path

from fieldassist.record.bundle import LARGEST
from fieldassist.record.chain import Chain, StoredRow, chain_of
from fieldassist.record.manifest import EVENTS
from fieldassist.record.schema import APPLICATION_ID
from fieldassist.trade.message import Message, message

_SECONDS = 60.0
_LONGEST_TEXT = LARGEST[EVENTS]


def has_mark(front: bytes) -> bool:
    """Whether a file that begins with these bytes, at least 72, bears the mark of a day's log.

    >>> has_mark(b"SQLite format 3".ljust(68, b"\\0") + b"FASD"), has_mark(b"")
    (True, False)
    """
    # SQLite, "Database File Format", 1.3: the application ID stands at offset 68.
    return front[68:72] == APPLICATION_ID.to_bytes(4, "big")


def journal_of(path: Path) -> Path:
    """Where SQLite keeps what is not yet in the file itself."""
    return path.with_name(path.name + "-wal")


def copied(path: Path, scratch: Path, largest: int) -> Path | None:
    """A copy in `scratch` to work on, with the journal: SQLite would write beside the file even to read it.

    A log that somebody writes at the same time is copied again until nothing changed meanwhile; None when that does not
    come about, or when both are larger than `largest` bytes.
    """
    copy = scratch / "day.db"
    pairs = [(path, copy), (journal_of(path), journal_of(copy))]
    for _ in range(5):
        before = [_stamp(source) for source, _ in pairs]
        if sum(size for size, _ in before) > largest:
            return None
        for source, target in pairs:
            target.unlink(missing_ok=True)
            if source.is_file():
                shutil.copyfile(source, target)
        if before == [_stamp(source) for source, _ in pairs]:
            return copy
        time.sleep(0.1)
    return None


def _stamp(path: Path) -> tuple[int, int]:
    try:
        state = path.stat()
    except FileNotFoundError:
        return (0, 0)
    return (state.st_size, state.st_mtime_ns)


# What a day's log is made of; names that begin with "sqlite_" are SQLite's own.
_SCHEMA = {
    "events": "table",
    "idx_events_id": "index",
    "events_are_never_updated": "trigger",
    "events_are_never_deleted": "trigger",
}


def read_log(copy: Path) -> tuple[Chain | None, Message | None]:
    """The events in a copy of a log, and what is wrong with the file itself, None for nothing.

    The chain ends before the first event that is not good, as `record.chain.walk` names it; it is None when the file is
    no log of ours. Never raises for what is in the file.
    """
    with copy.open("rb") as file:
        ours = has_mark(file.read(72))
    rows: list[StoredRow] = []
    trouble: Message | None = None
    until = time.monotonic() + _SECONDS
    with contextlib.closing(sqlite3.connect(copy, isolation_level=None)) as db:
        db.text_factory = lambda raw: raw.decode("utf-8", "replace")
        db.setlimit(sqlite3.SQLITE_LIMIT_LENGTH, _LONGEST_TEXT)
        db.set_progress_handler(lambda: int(time.monotonic() > until), 10_000)
        try:
            for pragma in ("trusted_schema=OFF", "cell_size_check=ON", "mmap_size=0"):
                db.execute(f"PRAGMA {pragma}")
            ours = db.execute("PRAGMA application_id").fetchone()[0] == APPLICATION_ID
            things = list(db.execute("SELECT name, type, rootpage FROM sqlite_schema"))
            columns = {row[1] for row in db.execute("PRAGMA table_info(events)")}
            # A virtual table calls itself a table, and has no page.
            tables = {name for name, kind, page in things if kind == "table" and page}
            if "events" not in tables or columns != {"seq", "id", "text", "hash"}:
                trouble = message("proof-log-no-table")
            else:
                # One by one: those before a damaged page are kept.
                for row in db.execute("SELECT text, seq, id, hash FROM events ORDER BY seq"):
                    rows.append(StoredRow(*row))
                trouble = _trouble_with(db, ours, things)
        except (sqlite3.Error, OverflowError, UnicodeError) as error:
            trouble = message("proof-log-not-to-its-end", why=str(error))
    return (None if not rows and not ours else chain_of(rows)), trouble


def _trouble_with(db: sqlite3.Connection, ours: bool, things: Sequence[tuple[str, str, int]]) -> Message | None:
    check = db.execute("PRAGMA integrity_check(1)").fetchone()[0]
    if check != "ok":
        return message("record-sqlite", why=str(check))
    if not ours:
        return message("proof-log-no-mark")
    strange = [name for name, kind, _ in things if not name.startswith("sqlite_") and _SCHEMA.get(name) != kind]
    return message("proof-log-holds", names=", ".join(strange[:5])) if strange else None
