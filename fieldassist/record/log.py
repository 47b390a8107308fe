"""The append-only log of one day, in SQLite.

Durability: WAL journal with synchronous=FULL, so that a commit is on disk before it is acknowledged (SQLite, "PRAGMA
synchronous"). The events are a chain (`record.chain`). There is no update and no delete here: triggers refuse both.
"""

from __future__ import annotations

import contextlib
import errno
import os
import shutil
import sqlite3
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING

from filelock import FileLock, Timeout

from fieldassist.checklist.events import FORMAT, Event
from fieldassist.record.chain import GENESIS, Broken, StoredRow, canonical_text, chain_hash, read_event, walk
from fieldassist.record.disk import sync_folder
from fieldassist.trade.message import Message, Refused, message

if TYPE_CHECKING:
    from sqlite_utils import Database

APPLICATION_ID = 0x46415344  # "FASD": tells this file from any other SQLite file

_NEVER_CHANGED = """
CREATE TRIGGER IF NOT EXISTS events_are_never_{verb}d BEFORE {VERB} ON events
BEGIN SELECT RAISE(ABORT, 'events are appended, never {verb}d'); END
"""


class LogProblem(Refused):
    """The log cannot be used as asked; `told` says what happened, what was kept and what to do next."""


class DiskFull(LogProblem):
    """Nothing more can be written: the disk is full. The day can be looked at."""


class AlreadyOpen(LogProblem):
    """Another program writes this day."""


class LogDamaged(LogProblem):
    """The file holds fewer events than it should, or changed ones. `whole`: events that are still good."""

    def __init__(self, told: Message, whole: int) -> None:
        super().__init__(told)
        self.whole = whole

    def __reduce__(self) -> tuple[type[LogDamaged], tuple[Message, int]]:  # type: ignore[override]
        return type(self), (self.told, self.whole)


@dataclass(frozen=True, slots=True)
class Recovered:
    """What was saved from a damaged log and where the damaged file went."""

    events: int
    head: str
    damaged: Path
    reason: Message


class DayLog:
    """One day's events. Open with `create` or `open`; one writer at a time, across processes."""

    def __init__(self, path: Path, database: sqlite3.Connection, lock: FileLock | None) -> None:
        self.path = path
        self._db = database
        self._lock = lock
        self.events: list[Event] = []
        self.texts: list[str] = []
        self.hashes: list[str] = []
        self._scratch: tempfile.TemporaryDirectory[str] | None = None

    @cached_property
    def _tables(self) -> Database:
        """The database as sqlite-utils has it, for writing; who only reads does not wait for it to be loaded."""
        from sqlite_utils import Database

        return Database(self._db)

    @property
    def head(self) -> str:
        """The hash of the last event; that of no event is `GENESIS`."""
        return self.hashes[-1] if self.hashes else GENESIS

    # --- opening --------------------------------------------------------------------------------------------------

    @classmethod
    def create(cls, path: Path) -> DayLog:
        """A new, empty log. LogProblem when the file exists or its folder cannot be written."""
        if path.exists():
            raise LogProblem(message("record-exists", file=str(path)))
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise LogProblem(message("record-no-folder", folder=str(path.parent), why=_why(error))) from error
        return cls._write_at(path)

    @classmethod
    def open(cls, path: Path, *, read_only: bool = False) -> DayLog:
        """An existing log with all its events, verified.

        LogProblem when there is none, AlreadyOpen when another program writes it, LogDamaged when it is not whole.
        """
        if not path.exists():
            raise LogProblem(message("record-no-day", file=str(path)))
        if not path.is_file():
            raise LogProblem(message("record-no-file", file=str(path)))
        if path.stat().st_size == 0 and not path.with_name(path.name + "-wal").exists():
            raise LogDamaged(message("record-empty", file=str(path)), 0)
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
            raise AlreadyOpen(message("record-open-already", day=path.name, file=str(path))) from None
        except OSError as error:
            if _is_full(path, error):
                raise _full(path) from error
            raise LogProblem(message("record-folder", folder=str(path.parent), why=_why(error))) from error
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
        if trouble is None:
            raise LogProblem(message("record-no-room", file=str(path)))
        raise LogProblem(message("record-unreadable", file=str(path), why=_why(trouble))) from trouble

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
        if version == FORMAT or _is_foreign(self._db) or not _has_events(self._db):
            return
        # Before 3 events held sentences in place of figures: what they say cannot be judged, converted or told anew.
        code = "record-newer" if version > FORMAT else "record-older"
        raise LogProblem(message(code, file=str(self.path), format=str(version), known=str(FORMAT)))

    def _prepare(self) -> None:
        db = self._db
        if _is_foreign(db):
            raise LogProblem(message("record-foreign", file=str(self.path)))
        db.execute("PRAGMA journal_mode=WAL")
        db.execute("PRAGMA synchronous=FULL")
        db.execute("PRAGMA fullfsync=1")  # where a plain fsync leaves the disk's own cache unwritten
        if not _has_events(db):
            tables = self._tables
            with tables.atomic():
                db.execute(f"PRAGMA application_id={APPLICATION_ID}")
                db.execute(f"PRAGMA user_version={FORMAT}")
                tables.table("events").create(
                    {"seq": int, "id": str, "text": str, "hash": str},
                    pk="seq",
                    not_null={"id", "text", "hash"},
                )
                tables.table("events").create_index(["id"], unique=True)
                for verb in ("update", "delete"):
                    db.execute(_NEVER_CHANGED.format(verb=verb, VERB=verb.upper()))
            sync_folder(self.path.parent)

    def _load(self) -> None:
        try:
            if not _has_events(self._db):
                raise LogProblem(message("record-foreign", file=str(self.path)))
            rows = self._db.execute("SELECT text, seq, id, hash FROM events ORDER BY seq")
            for link in walk(StoredRow(*row) for row in rows):
                self._add(link.event, link.text, link.hash)
        except Broken as broken:
            raise _damaged(self.path, len(self.events), broken.told) from broken
        except sqlite3.DatabaseError as error:
            raise _damaged(self.path, len(self.events), _said(error)) from error

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
            raise LogProblem(message("record-only-looked-at"))
        texts = self.written(events)
        rows = [(e.seq, e.id, text, chain_hash(text)) for e, text in zip(events, texts, strict=True)]
        return self._write(rows, events)

    def append_texts(self, texts: Sequence[str]) -> str:
        """The same for events that another tablet wrote, as it wrote them. `Broken` when one does not follow."""
        if self._lock is None:
            raise LogProblem(message("record-only-looked-at"))
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
                raise LogProblem(message("record-out-of-order", event=str(event.seq), place=str(number)))
            texts.append(canonical_text(event, before))
            before = chain_hash(texts[-1])
        return texts

    def _write(self, rows: Sequence[tuple[int, str, str, str]], events: Sequence[Event]) -> str:
        try:
            with self._tables.atomic():
                self._db.executemany("INSERT INTO events (seq, id, text, hash) VALUES (?, ?, ?, ?)", rows)
        except sqlite3.Error as error:
            kind = DiskFull if _is_full(self.path, error) else LogProblem
            raise kind(message("record-not-written", why=str(error), events=len(self.events))) from error
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
            self._db.close()
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
        raise AlreadyOpen(message("record-open-elsewhere", day=path.name)) from None
    except OSError as error:
        raise _cannot_recover(path, error) from error
    try:
        with tempfile.TemporaryDirectory(dir=path.parent, prefix="recover-") as scratch:
            texts, reason = _salvage(_copied(path, Path(scratch)))
        if reason is None:
            raise LogProblem(message("record-nothing-to-recover", file=str(path)))
        if not texts:
            raise LogProblem(message("record-nothing-whole", file=str(path), reason=reason))
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
    return LogProblem(message("record-not-recovered", file=str(path), why=_why(error)))


def _why(error: OSError) -> str:
    return error.strerror or str(error)


def _said(error: sqlite3.Error) -> Message:
    return message("record-sqlite", why=str(error))


def _connected(file: Path, mode: str) -> sqlite3.Connection:
    return sqlite3.connect(f"{file.resolve().as_uri()}?mode={mode}", uri=True, isolation_level=None)


def _has_events(db: sqlite3.Connection) -> bool:
    return db.execute("SELECT 1 FROM sqlite_master WHERE type='table' AND name='events'").fetchone() is not None


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
    return DiskFull(message("record-disk-full", folder=str(path.parent), day=path.name, file=str(path)))


def _copied(path: Path, folder: Path) -> Path:
    """A copy of a log, with what is not yet in its main file."""
    copy = folder / path.name
    for suffix in ("", "-wal"):
        source = path.with_name(path.name + suffix)
        if source.exists():
            shutil.copy2(source, copy.with_name(copy.name + suffix))
    return copy


def _salvage(path: Path) -> tuple[list[str], Message | None]:
    """The texts of all whole events that follow each other from the first on, and why it stopped: None at the end."""
    texts: list[str] = []
    with contextlib.closing(sqlite3.connect(path)) as db:
        # A file shorter than its header says is refused unless the schema is declared writable (SQLite, btree.c).
        db.execute("PRAGMA writable_schema=ON")
        try:
            for link in walk(_one_by_one(db)):
                texts.append(link.text)
            check = db.execute("PRAGMA quick_check(1)").fetchone()[0]
        except Broken as broken:
            return texts, broken.told
        except sqlite3.DatabaseError as error:
            return texts, message("record-after", event=str(len(texts)), why=str(error))
        return texts, None if check == "ok" else message("record-sqlite", why=str(check))


def _one_by_one(db: sqlite3.Connection) -> Iterator[StoredRow]:
    """The rows by number: those before a damaged page are given. Errors: `Broken` where one is missing."""
    last = 0
    with contextlib.suppress(sqlite3.DatabaseError):
        last = db.execute("SELECT max(seq) FROM events").fetchone()[0] or 0
    seq = 0
    while True:
        seq += 1
        row = db.execute("SELECT text, seq, id, hash FROM events WHERE seq=?", (seq,)).fetchone()
        if row is None and seq <= last:
            raise Broken(seq, message("record-missing", event=str(seq)))
        if row is None:
            return
        yield StoredRow(*row)


def _damaged(path: Path, whole: int, reason: Message) -> LogDamaged:
    return LogDamaged(message("record-damaged", file=str(path), reason=reason, whole=whole), whole)


def _as_problem(path: Path, error: sqlite3.DatabaseError) -> LogProblem:
    text = str(error)
    if "malformed" in text or "not a database" in text or "corrupt" in text:
        whole = 0
        with tempfile.TemporaryDirectory() as scratch, contextlib.suppress(OSError, sqlite3.Error):
            whole = len(_salvage(_copied(path, Path(scratch)))[0])
        return _damaged(path, whole, _said(error))
    if _is_full(path, error):
        return _full(path)
    if "locked" in text:
        return AlreadyOpen(message("record-locked", day=path.name))
    return LogProblem(message("record-cannot-open", file=str(path), why=text))


def _is_foreign(db: sqlite3.Connection) -> bool:
    """A SQLite file of somebody else: it has tables, but not our mark."""
    mark = db.execute("PRAGMA application_id").fetchone()[0]
    tables = db.execute("SELECT count(*) FROM sqlite_master WHERE type='table'").fetchone()[0]
    return bool(tables) and mark != APPLICATION_ID


def _free_name(path: Path) -> Path:
    candidate, number = path, 1
    while candidate.exists():
        number += 1
        candidate = path.with_name(f"{path.name}-{number}")
    return candidate
