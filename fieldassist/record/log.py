"""The append-only log of one day, in SQLite.

Durability: WAL journal with synchronous=FULL, so that a commit is on disk before it is acknowledged (SQLite, "PRAGMA
synchronous"). Every event carries the hash of the one before: SHA-256 over its canonical JSON (RFC 8785), so that a
changed byte is found and named. There is no update and no delete here: triggers refuse both.
"""

from __future__ import annotations

import contextlib
import errno
import hashlib
import json
import os
import shutil
import sqlite3
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import Any

import rfc8785
from filelock import FileLock, Timeout
from pydantic import ValidationError
from sqlite_utils import Database

from fieldassist.checklist.events import FORMAT, Event
from fieldassist.record.disk import sync_folder

GENESIS = "0" * 64
APPLICATION_ID = 0x46415344  # "FASD": tells this file from any other SQLite file

_NEVER_CHANGED = """
CREATE TRIGGER IF NOT EXISTS events_are_never_{verb}d BEFORE {VERB} ON events
BEGIN SELECT RAISE(ABORT, 'events are appended, never {verb}d'); END
"""


class LogProblem(Exception):
    """The log cannot be used as asked; the text says what happened, what was kept and what to do next."""


class DiskFull(LogProblem):
    """Nothing more can be written: the disk is full. The day can be looked at."""


class AlreadyOpen(LogProblem):
    """Another program writes this day."""


class LogDamaged(LogProblem):
    """The file holds fewer events than it should, or changed ones. `whole`: events that are still good."""

    def __init__(self, message: str, whole: int) -> None:
        super().__init__(message)
        self.whole = whole


@dataclass(frozen=True, slots=True)
class Recovered:
    """What was saved from a damaged log and where the damaged file went."""

    events: int
    head: str
    damaged: Path
    reason: str


def canonical_text(event: Event, before: str) -> str:
    """What is hashed and stored: the event and the hash of the one before, as canonical JSON (RFC 8785)."""
    return rfc8785.dumps({**event.model_dump(mode="json"), "prev": before}).decode("utf-8")


def chain_hash(text: str) -> str:
    """SHA-256 of one canonical text, in hexadecimal."""
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def read_event(text: object, seq: int, before: str) -> Event:
    """The event in `text`, checked: number, link to the one before, canonical form. ValueError says which fails."""
    if not isinstance(text, str):
        raise ValueError(f"event {seq} is not whole: its text is gone")
    try:
        raw = _json(text)
    except ValueError as error:
        raise ValueError(f"event {seq} is not whole: {error}") from error
    if raw.pop("prev", None) != before:
        raise ValueError(f"event {seq} does not follow from the event before it: its link does not fit")
    try:
        event = Event.model_validate(raw)
    except ValidationError as error:
        first = error.errors()[0]
        raise ValueError(f"event {seq} does not read as an event: {first['msg']}") from error
    if event.seq != seq:
        raise ValueError(f"event {event.seq} stands where event {seq} should be")
    # The text itself, not the event written again: a log of an earlier version lacks what came to the events since.
    if rfc8785.dumps({**raw, "prev": before}).decode("utf-8") != text:
        raise ValueError(f"event {seq} is not in the form in which it was written")
    return event


def _json(text: str) -> dict[str, Any]:
    raw = json.loads(text)
    if not isinstance(raw, dict):
        raise ValueError("no JSON object")
    return raw


class DayLog:
    """One day's events. Open with `create` or `open`; one writer at a time, across processes."""

    def __init__(self, path: Path, database: Database, lock: FileLock | None) -> None:
        self.path = path
        self._db = database
        self._lock = lock
        self.events: list[Event] = []
        self.texts: list[str] = []
        self.hashes: list[str] = []
        self._scratch: tempfile.TemporaryDirectory[str] | None = None

    @property
    def head(self) -> str:
        """The hash of the last event; that of no event is `GENESIS`."""
        return self.hashes[-1] if self.hashes else GENESIS

    # --- opening --------------------------------------------------------------------------------------------------

    @classmethod
    def create(cls, path: Path) -> DayLog:
        """A new, empty log. LogProblem when the file exists or its folder cannot be written."""
        if path.exists():
            raise LogProblem(f"{path} exists already. Open it, or choose another name.")
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise LogProblem(f"The folder {path.parent} cannot be made: {error.strerror}.") from error
        return cls._write_at(path)

    @classmethod
    def open(cls, path: Path, *, read_only: bool = False) -> DayLog:
        """An existing log with all its events, verified.

        LogProblem when there is none, AlreadyOpen when another program writes it, LogDamaged when it is not whole.
        """
        if not path.exists():
            raise LogProblem(f"There is no day at {path}. Check the name, or open a new day there.")
        if not path.is_file():
            raise LogProblem(f"{path} is no file. Check the name: a day is one file, such as 2026-03-17.db.")
        if path.stat().st_size == 0 and not path.with_name(path.name + "-wal").exists():
            raise LogDamaged(f"{path} is empty: the day it held is gone. Look for a copy of the file.", 0)
        log = cls._look_at(path) if read_only else cls._write_at(path)
        try:
            log._load()
        except BaseException:
            log.close()
            raise
        return log

    @classmethod
    def _write_at(cls, path: Path) -> DayLog:
        lock = FileLock(path.with_name(path.name + ".lock"), timeout=0)
        try:
            lock.acquire()
        except Timeout:
            raise AlreadyOpen(
                f"The day {path.name} is open already, in another window or program. Go on there, or close it "
                f"there first; to only look at it: fieldassist events {path}"
            ) from None
        except OSError as error:
            if _is_full(path, error):
                raise _full(path) from error
            raise LogProblem(f"{path.parent} cannot be written: {error.strerror}. Nothing was changed.") from error
        try:
            log = cls(path, _connected(path, "rwc"), lock)
            log._check_version()
            log._prepare()
        except sqlite3.DatabaseError as error:
            lock.release()
            raise _as_problem(path, error) from error
        except BaseException:
            lock.release()
            raise
        return log

    @classmethod
    def _look_at(cls, path: Path) -> DayLog:
        """Even to read, SQLite writes beside a log that was not closed: on a disk that is read-only or full it reads a
        copy, in memory where the disk of temporary files is full too."""
        try:
            if os.access(path.parent, os.W_OK):
                try:
                    return cls._read_at(path, path, None)
                except sqlite3.OperationalError as error:
                    if error.sqlite_errorcode & 0xFF not in _CANNOT_WRITE:
                        raise
            return cls._look_at_copy(path)
        except sqlite3.DatabaseError as error:
            raise _as_problem(path, error) from error

    @classmethod
    def _look_at_copy(cls, path: Path) -> DayLog:
        trouble: OSError | None = None
        for place in (None, *(folder for folder in _IN_MEMORY if folder.is_dir())):
            scratch = None
            try:
                scratch = tempfile.TemporaryDirectory(prefix="fieldassist-", dir=place)
                return cls._read_at(path, _copied(path, Path(scratch.name)), scratch)
            except OSError as error:
                trouble = error
                if scratch is not None:
                    scratch.cleanup()
        why = trouble.strerror if trouble is not None else "no room for a copy"
        raise LogProblem(f"{path} cannot be read ({why}). Check that the disk is there and can be read.") from trouble

    @classmethod
    def _read_at(cls, path: Path, file: Path, scratch: tempfile.TemporaryDirectory[str] | None) -> DayLog:
        log = cls(path, _connected(file, "ro"), None)
        log._scratch = scratch
        try:
            log._check_version()
        except BaseException:
            log.close()
            raise
        return log

    def _check_version(self) -> None:
        version = self._db.execute("PRAGMA user_version").fetchone()[0]
        if version == FORMAT or _is_foreign(self._db) or "events" not in self._db.table_names():
            return
        if version > FORMAT:
            raise LogProblem(
                f"{self.path} was written by a newer fieldassist (its format is {version}, this one knows {FORMAT}). "
                "It was not touched: update this one, then open it again."
            )
        # Before 3 events held sentences in place of figures: what they say cannot be judged, converted or told anew.
        raise LogProblem(
            f"{self.path} was written by a trial version of fieldassist (its format is {version}, this one knows "
            f"{FORMAT}). It was not touched: look at it with that version, and begin a new day with this one."
        )

    def _prepare(self) -> None:
        db = self._db
        if _is_foreign(db):
            raise LogProblem(f"{self.path} is a database, but not a day of ours. It was not touched.")
        db.execute("PRAGMA journal_mode=WAL")
        db.execute("PRAGMA synchronous=FULL")
        db.execute("PRAGMA fullfsync=1")  # where a plain fsync leaves the disk's own cache unwritten
        if "events" not in db.table_names():
            with db.atomic():
                db.execute(f"PRAGMA application_id={APPLICATION_ID}")
                db.execute(f"PRAGMA user_version={FORMAT}")
                db.table("events").create(
                    {"seq": int, "id": str, "text": str, "hash": str},
                    pk="seq",
                    not_null={"id", "text", "hash"},
                )
                db.table("events").create_index(["id"], unique=True)
                for verb in ("update", "delete"):
                    db.execute(_NEVER_CHANGED.format(verb=verb, VERB=verb.upper()))
            sync_folder(self.path.parent)

    def _load(self) -> None:
        before = GENESIS
        try:
            if "events" not in self._db.table_names():
                raise LogProblem(f"{self.path} is a database, but not a day of ours. It was not touched.")
            rows = self._db.execute("SELECT seq, id, text, hash FROM events ORDER BY seq")
            for expected, (_, row_id, text, stored) in enumerate(rows, start=1):
                event = read_event(text, expected, before)
                if chain_hash(text) != stored or event.id != row_id:
                    raise ValueError(f"event {expected} does not fit its hash")
                self._add(event, text, stored)
                before = stored
        except (sqlite3.DatabaseError, ValueError) as error:
            raise _damaged(self.path, len(self.events), str(error)) from error

    def _add(self, event: Event, text: str, link: str) -> None:
        self.events.append(event)
        self.texts.append(text)
        self.hashes.append(link)

    # --- writing --------------------------------------------------------------------------------------------------

    def append(self, events: Sequence[Event]) -> str:
        """Write events that follow the last one, all or none, and return the new head hash once they are on disk.

        Events whose id is in the log already are a retry and change nothing. LogProblem when the disk refuses: then
        nothing was kept of this call, and everything before it is safe.
        """
        if events and all(self._holds(e) for e in events):
            return self.head
        if self._lock is None:
            raise LogProblem("This day is only looked at here. Nothing was written.")
        texts = self.written(events)
        rows = [(e.seq, e.id, text, chain_hash(text)) for e, text in zip(events, texts, strict=True)]
        return self._write(rows, events)

    def append_texts(self, texts: Sequence[str]) -> str:
        """The same for events that another tablet wrote, as it wrote them. ValueError when one does not follow."""
        if self._lock is None:
            raise LogProblem("This day is only looked at here. Nothing was written.")
        before, events, rows = self.head, [], []
        for seq, text in enumerate(texts, start=len(self.events) + 1):
            event = read_event(text, seq, before)
            before = chain_hash(text)
            events.append(event)
            rows.append((seq, event.id, text, before))
        return self._write(rows, events)

    def written(self, events: Sequence[Event]) -> list[str]:
        """What would be stored for events that follow the last one: what is hashed, and what a seal covers."""
        before, texts = self.head, []
        for number, event in enumerate(events, start=len(self.events) + 1):
            if event.seq != number:
                raise LogProblem(f"Event {event.seq} cannot follow event {number - 1}. Nothing was written.")
            texts.append(canonical_text(event, before))
            before = chain_hash(texts[-1])
        return texts

    def _write(self, rows: Sequence[tuple[int, str, str, str]], events: Sequence[Event]) -> str:
        try:
            with self._db.atomic():
                self._db.conn.executemany("INSERT INTO events (seq, id, text, hash) VALUES (?, ?, ?, ?)", rows)
        except sqlite3.Error as error:
            kind = DiskFull if _is_full(self.path, error) else LogProblem
            raise kind(
                f"The tablet could not write this down ({error}). It is not in the log: free some space or check the "
                f"disk, then say it again. The {len(self.events)} events before it are safe."
            ) from error
        if not self.events:
            self._settle()
        for event, (_, _, text, link) in zip(events, rows, strict=True):
            self._add(event, text, link)
        return self.head

    def _settle(self) -> None:
        """Put the first events at the front of the file, where later ones only follow.

        SQLite moves the first page of a table to the back when it grows; a file cut short would then lack its first
        event, and with it every other. This only moves pages, so a failure costs nothing.
        """
        with contextlib.suppress(sqlite3.Error):
            self._db.execute("VACUUM")

    def _holds(self, event: Event) -> bool:
        return event.seq <= len(self.events) and self.events[event.seq - 1] == event

    def close(self) -> None:
        """Close the file and let others write it."""
        with contextlib.suppress(sqlite3.Error):
            self._db.conn.close()
        if self._scratch is not None:
            self._scratch.cleanup()
        if self._lock is not None:
            self._lock.release()

    def __enter__(self) -> DayLog:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()


def recover(path: Path) -> Recovered:
    """Save every whole event up to the damage into a fresh log at `path`; the damaged file is kept beside it.

    LogProblem when the log is not damaged or nothing can be saved.
    """
    lock = FileLock(path.with_name(path.name + ".lock"), timeout=0)
    try:
        lock.acquire()
    except Timeout:
        raise AlreadyOpen(f"{path.name} is open in another program. Close it there first.") from None
    except OSError as error:
        raise _cannot_recover(path, error) from error
    try:
        with tempfile.TemporaryDirectory(dir=path.parent, prefix="recover-") as scratch:
            texts, reason = _salvage(_copied(path, Path(scratch)))
        if not reason:
            raise LogProblem(f"{path} is whole; there is nothing to recover.")
        if not texts:
            raise LogProblem(f"No whole event could be read from {path} ({reason}). It was not touched.")
        fresh = path.with_name(path.name + ".recovered")
        fresh.unlink(missing_ok=True)
        with DayLog.create(fresh) as log:
            head = log.append_texts(texts)
            log._db.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        damaged = _free_name(path.with_name(path.name + ".damaged"))
        for suffix in ("-wal", "-shm", ""):
            source = path.with_name(path.name + suffix)
            if source.exists():
                source.rename(damaged.with_name(damaged.name + suffix))
        fresh.rename(path)
        for suffix in ("-wal", "-shm", ".lock"):
            fresh.with_name(fresh.name + suffix).unlink(missing_ok=True)
        sync_folder(path.parent)
        return Recovered(len(texts), head, damaged, reason)
    except OSError as error:
        raise _cannot_recover(path, error) from error
    finally:
        lock.release()


def _cannot_recover(path: Path, error: OSError) -> LogProblem:
    if _is_full(path, error):
        return _full(path)
    return LogProblem(
        f"{path} could not be recovered ({error.strerror or error}). The damaged file was kept. Copy it to a disk that "
        "can be written, and recover it there."
    )


def _connected(file: Path, mode: str) -> Database:
    return Database(sqlite3.connect(f"{file.resolve().as_uri()}?mode={mode}", uri=True, isolation_level=None))


# Where Linux keeps files in memory.
_IN_MEMORY = (Path("/dev/shm"),)
# What SQLite says where it cannot write beside a log: cannot open, read or write failed, full, read-only.
_CANNOT_WRITE = (sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_IOERR, sqlite3.SQLITE_FULL, sqlite3.SQLITE_READONLY)
# Less is no room for the least that SQLite writes beside a log: its index of 32 kB and some pages.
_LEAST_FREE_BYTES = 128 * 1024


def _is_full(path: Path, error: Exception) -> bool:
    """Whether an error comes from a full disk. SQLite calls some of them an error of reading or writing only."""
    if isinstance(error, OSError):
        return error.errno in (errno.ENOSPC, errno.EDQUOT)
    code = getattr(error, "sqlite_errorcode", 0) & 0xFF
    if code == sqlite3.SQLITE_FULL:
        return True
    try:
        return code in _CANNOT_WRITE and shutil.disk_usage(path.parent).free < _LEAST_FREE_BYTES
    except OSError:
        return False


def _full(path: Path) -> DiskFull:
    return DiskFull(
        f"The disk is full: nothing can be written to {path.parent}. Nothing was changed, and what is in {path.name} "
        f"is safe. Free some space, then go on; to only look at it: fieldassist events {path}"
    )


def _copied(path: Path, folder: Path) -> Path:
    """A copy of a log, with what is not yet in its main file."""
    copy = folder / path.name
    for suffix in ("", "-wal"):
        source = path.with_name(path.name + suffix)
        if source.exists():
            shutil.copy2(source, copy.with_name(copy.name + suffix))
    return copy


def _salvage(path: Path) -> tuple[list[str], str]:
    """The texts of all whole events that follow each other from the first on, and why it stopped ("" = at the end)."""
    texts: list[str] = []
    before = GENESIS
    connection = sqlite3.connect(path)
    try:
        # A file shorter than its header says is refused unless the schema is declared writable (SQLite, btree.c).
        connection.execute("PRAGMA writable_schema=ON")
        last = 0
        with contextlib.suppress(sqlite3.DatabaseError):
            last = connection.execute("SELECT max(seq) FROM events").fetchone()[0] or 0
        seq = 0
        while True:
            seq += 1
            try:
                row = connection.execute("SELECT text, hash FROM events WHERE seq=?", (seq,)).fetchone()
            except sqlite3.DatabaseError as error:
                return texts, f"after event {seq - 1}: {error}"
            if row is None:
                if seq <= last:
                    return texts, f"event {seq} is missing"
                break
            try:
                read_event(row[0], seq, before)
            except ValueError as error:
                return texts, str(error)
            if chain_hash(row[0]) != row[1]:
                return texts, f"event {seq} does not fit its hash"
            texts.append(row[0])
            before = row[1]
        try:
            check = connection.execute("PRAGMA quick_check(1)").fetchone()[0]
        except sqlite3.DatabaseError as error:
            return texts, str(error)
        return texts, "" if check == "ok" else str(check)
    finally:
        connection.close()


def _damaged(path: Path, whole: int, reason: str) -> LogDamaged:
    return LogDamaged(
        f"The log {path} is damaged ({reason}). {whole} whole event{'s' if whole != 1 else ''} can be read. "
        f"The file was not touched. To go on with what is whole, and keep the damaged file beside it: "
        f"fieldassist recover {path}",
        whole,
    )


def _as_problem(path: Path, error: sqlite3.DatabaseError) -> LogProblem:
    text = str(error)
    if "malformed" in text or "not a database" in text or "corrupt" in text:
        whole = 0
        with tempfile.TemporaryDirectory() as scratch, contextlib.suppress(OSError, sqlite3.Error):
            whole = len(_salvage(_copied(path, Path(scratch)))[0])
        return _damaged(path, whole, text)
    if _is_full(path, error):
        return _full(path)
    if "locked" in text:
        return AlreadyOpen(f"Another program holds {path.name}. Close it there first; nothing was changed.")
    return LogProblem(f"{path} cannot be opened ({text}). Check that the disk is there and can be written.")


def _is_foreign(db: Database) -> bool:
    """A SQLite file of somebody else: it has tables, but not our mark."""
    mark = db.execute("PRAGMA application_id").fetchone()[0]
    return bool(db.table_names()) and mark != APPLICATION_ID


def _free_name(path: Path) -> Path:
    candidate, number = path, 1
    while candidate.exists():
        number += 1
        candidate = path.with_name(f"{path.name}-{number}")
    return candidate
