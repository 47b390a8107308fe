"""The append-only log of one day, in SQLite.

Durability: WAL journal with synchronous=FULL, so that a commit is on disk before it is acknowledged (SQLite, "PRAGMA
synchronous"), and a second copy of the texts as plain lines beside it (`record.lines`), synced before it is
acknowledged too. The events are a chain (`record.chain`). There is no update and no delete here: triggers refuse both,
and a database of another form is refused (`record.schema`). `record.recover` saves what is left of a damaged log.
"""

from __future__ import annotations

import contextlib
import errno
import os
import shutil
import sqlite3
import tempfile
from collections.abc import Sequence
from functools import cached_property
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING

from filelock import FileLock, Timeout

from fieldassist.checklist.events import FORMAT, Event
from fieldassist.record.chain import GENESIS, Broken, StoredRow, canonical_text, chain_hash, read_event, walk
from fieldassist.record.disk import sync_folder, why
from fieldassist.record.lines import SecondCopy, further_in, lines_of, read_copy
from fieldassist.record.schema import APPLICATION_ID, make_schema, strange_in
from fieldassist.trade.message import Message, Refused, message

if TYPE_CHECKING:
    from sqlite_utils import Database


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


class DayLog:
    """One day's events. Open with `create` or `open`; one writer at a time, across processes."""

    def __init__(self, path: Path, database: sqlite3.Connection, lock: FileLock | None) -> None:
        self.path = path
        self._db = database
        self._lock = lock
        self.events: list[Event] = []
        self.texts: list[str] = []
        self.hashes: list[str] = []
        self._second = SecondCopy(path) if lock is not None else None
        self._scratch: tempfile.TemporaryDirectory[str] | None = None
        self._schema = 0

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
        """A new, empty log. LogProblem when the file exists, or the second copy of one that is gone, or when its folder
        cannot be written."""
        if path.exists():
            raise LogProblem(message("record-exists", file=str(path)))
        if lines_of(path).exists():
            raise LogProblem(message("record-copy-exists", file=str(path), copy=lines_of(path).name))
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
        except (OSError, MemoryError) as error:
            raise LogProblem(message("record-no-folder", folder=str(path.parent), why=why(error))) from error
        return cls._write_at(path, new=True)

    @classmethod
    def open(cls, path: Path, *, read_only: bool = False) -> DayLog:
        """An existing log with all its events, verified.

        LogProblem when there is none, AlreadyOpen when another program writes it, LogDamaged when it is not whole, its
        database is not of our form, or its second copy holds more.
        """
        if not path.exists():
            if lines_of(path).exists():
                raise damaged(path, message("record-database-gone"))
            raise LogProblem(message("record-no-day", file=str(path)))
        if not path.is_file():
            raise LogProblem(message("record-no-file", file=str(path)))
        if path.stat().st_size == 0 and not path.with_name(path.name + "-wal").exists():
            raise damaged(path, message("record-empty"))
        # Before the database: what another program writes meanwhile is there first.
        copy = _copy_at(path)
        try:
            log = cls._look_at(path) if read_only else cls._write_at(path)
        except UnicodeDecodeError as error:
            raise damaged(path, _no_text(error)) from error
        try:
            log._load(copy)
        except MemoryError as error:
            log.close()
            raise LogProblem(message("record-no-memory", day=path.name)) from error
        except BaseException:
            log.close()
            raise
        return log

    @classmethod
    def _write_at(cls, path: Path, *, new: bool = False) -> DayLog:
        lock = FileLock(path.with_name(path.name + ".lock"), timeout=0)
        try:
            lock.acquire()
        except Timeout:
            raise AlreadyOpen(message("record-open-already", day=path.name, file=str(path))) from None
        except (OSError, MemoryError) as error:
            if is_full(path, error):
                raise full(path) from error
            raise LogProblem(message("record-folder", folder=str(path.parent), why=why(error))) from error
        with contextlib.ExitStack() as undo:
            undo.callback(lock.release)
            try:
                if new:
                    # Only the tablet's user may read it; SQLite gives its journal the same mode.
                    os.close(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
                log = cls(path, _connected(path, "rw"), lock)
                undo.callback(log.close)
                log._prepare(new)
            except (sqlite3.DatabaseError, OSError, MemoryError) as error:
                raise _as_problem(path, error) from error
            undo.pop_all()
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
                    if getattr(error, "sqlite_errorcode", 0) & 0xFF not in _CANNOT_WRITE:
                        raise
            return cls._look_at_copy(path)
        except (sqlite3.DatabaseError, MemoryError) as error:
            raise _as_problem(path, error) from error

    @classmethod
    def _look_at_copy(cls, path: Path) -> DayLog:
        trouble: OSError | None = None
        for place in (None, *(folder for folder in _IN_MEMORY if folder.is_dir())):
            scratch = None
            try:
                scratch = tempfile.TemporaryDirectory(prefix="fieldassist-", dir=place)
                return cls._read_at(path, copied(path, Path(scratch.name)), scratch)
            except OSError as error:
                trouble = error
                if scratch is not None:
                    scratch.cleanup()
        if trouble is None:
            raise LogProblem(message("record-no-room", file=str(path)))
        raise LogProblem(message("record-unreadable", file=str(path), why=why(trouble))) from trouble

    @classmethod
    def _read_at(cls, path: Path, file: Path, scratch: tempfile.TemporaryDirectory[str] | None) -> DayLog:
        log = cls(path, _connected(file, "ro"), None)
        log._scratch = scratch
        try:
            log._check_form()
        except BaseException:
            log.close()
            raise
        return log

    def _check_form(self) -> None:
        """Refuse what is no log of ours, of another version, or with anything in it that is not ours."""
        db = self._db
        mark = db.execute("PRAGMA application_id").fetchone()[0]
        version = db.execute("PRAGMA user_version").fetchone()[0]
        if not db.execute("SELECT count(*) FROM sqlite_schema").fetchone()[0]:
            raise damaged(self.path, message("record-empty"))
        if mark != APPLICATION_ID:
            raise LogProblem(message("record-foreign", file=str(self.path)))
        if version != FORMAT:
            # Before 3 events held sentences in place of figures: they cannot be judged, converted or told anew.
            code = "record-newer" if version > FORMAT else "record-older"
            raise LogProblem(message(code, file=str(self.path), format=str(version), known=str(FORMAT)))
        strange = strange_in(db)
        if strange:
            raise damaged(self.path, message("record-altered", names=", ".join(strange[:5])))

    def _prepare(self, new: bool) -> None:
        db = self._db
        if not new:
            self._check_form()
        db.execute("PRAGMA journal_mode=WAL")
        db.execute("PRAGMA synchronous=FULL")
        db.execute("PRAGMA fullfsync=1")  # where a plain fsync leaves the disk's own cache unwritten
        if new:
            make_schema(self._tables)
            sync_folder(self.path.parent)
            assert self._second is not None
            self._second.agree(b"", ())
        self._schema = self._schema_now()

    def _schema_now(self) -> int:
        """SQLite's own count of the changes to the form of the database."""
        count: int = self._db.execute("PRAGMA schema_version").fetchone()[0]
        return count

    def _load(self, copy: bytes) -> None:
        try:
            rows = self._db.execute("SELECT text, seq, id, hash FROM events ORDER BY seq")
            for link in walk(StoredRow(*row) for row in rows):
                self._add(link.event, link.text, link.hash)
        except Broken as broken:
            raise damaged(self.path, broken.told) from broken
        except sqlite3.DatabaseError as error:
            raise damaged(self.path, _said(error)) from error
        except UnicodeDecodeError as error:
            raise damaged(self.path, _no_text(error)) from error
        further = further_in(copy, len(self.texts), self.head)
        if further:
            raise damaged(self.path, message("record-copy-longer", events=len(further)))
        if self._second is not None:
            self._second.agree(copy, self.texts)

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

    @property
    def told_of_copy(self) -> Message | None:
        """What the crew should know of the second copy: that it cannot be written, or that it told of other events.
        None while there is nothing."""
        second = self._second
        if second is None:
            return None
        if second.trouble is not None:
            return message("record-copy-behind", copy=second.path.name, why=why(second.trouble))
        if second.aside is not None:
            return message("record-copy-aside", copy=second.path.name, aside=second.aside.name)
        return None

    def _write(self, rows: Sequence[tuple[int, str, str, str]], events: Sequence[Event]) -> str:
        try:
            self._commit(rows)
        except (sqlite3.Error, MemoryError) as error:
            raise self._not_written(error) from error
        if not self.events:
            self._settle()
        for event, (_, _, text, link) in zip(events, rows, strict=True):
            self._add(event, text, link)
        assert self._second is not None
        self._second.follow(self.texts)
        return self.head

    def _commit(self, rows: Sequence[tuple[int, str, str, str]]) -> None:
        """All rows on disk or none. The form is looked at in the same transaction: what another program put into the
        database meanwhile, such as a trigger, is never run."""
        with self._tables.atomic():
            if self._schema_now() != self._schema:
                names = ", ".join(strange_in(self._db)[:5]) or "sqlite_schema"
                raise damaged(self.path, message("record-altered", names=names))
            self._db.executemany("INSERT INTO events (seq, id, text, hash) VALUES (?, ?, ?, ?)", rows)

    def _not_written(self, error: sqlite3.Error | MemoryError) -> LogProblem:
        """What is told when nothing of a call was kept."""
        if isinstance(error, MemoryError):
            return LogProblem(message("record-not-written-memory", events=len(self.events)))
        if _is_held(error):
            return AlreadyOpen(message("record-not-written-held", day=self.path.name, events=len(self.events)))
        if is_full(self.path, error):
            return DiskFull(message("record-not-written-full", why=str(error), events=len(self.events)))
        return LogProblem(message("record-not-written", why=str(error), events=len(self.events)))

    def _settle(self) -> None:
        """Put the first events at the front of the file, where later ones only follow.

        SQLite moves the first page of a table to the back when it grows; a file cut short would then lack its first
        event, and with it every other. This only moves pages, so a failure costs nothing.
        """
        with contextlib.suppress(sqlite3.Error, MemoryError):
            self._db.execute("VACUUM")
        with contextlib.suppress(sqlite3.Error, MemoryError):
            self._schema = self._schema_now()

    def checkpoint(self) -> None:
        """Move everything into the main file, which can then be renamed alone. LogProblem when the disk refuses."""
        try:
            busy, _, _ = self._db.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
        except (sqlite3.Error, MemoryError) as error:
            raise _as_problem(self.path, error) from error
        if busy:
            raise AlreadyOpen(message("record-locked", day=self.path.name))

    def fault(self) -> Message | None:
        """What SQLite itself finds wrong with the file, None for nothing."""
        try:
            found = str(self._db.execute("PRAGMA quick_check(1)").fetchone()[0])
        except sqlite3.DatabaseError as error:
            return _said(error)
        return None if found == "ok" else message("record-sqlite", why=found)

    def _holds(self, event: Event) -> bool:
        return event.seq <= len(self.events) and self.events[event.seq - 1] == event

    def close(self) -> None:
        """Close the file and let others write it."""
        with contextlib.suppress(sqlite3.Error, MemoryError):
            self._db.close()
        if self._second is not None:
            self._second.close()
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


def _said(error: sqlite3.Error) -> Message:
    return message("record-sqlite", why=str(error))


def _no_text(error: UnicodeDecodeError) -> Message:
    """Of a damaged file SQLite says what it met there, and Python takes that for text."""
    return message("record-sqlite", why=error.reason)


def _connected(file: Path, mode: str) -> sqlite3.Connection:
    return sqlite3.connect(f"{file.resolve().as_uri()}?mode={mode}", uri=True, isolation_level=None)


def _copy_at(path: Path) -> bytes:
    """The second copy; where the disk does not give it, the database is all that there is."""
    try:
        return read_copy(path)
    except (OSError, MemoryError):
        return b""


# Where Linux keeps files in memory.
_IN_MEMORY = (Path("/dev/shm"),)
# What SQLite says where it cannot write beside a log: cannot open, read or write failed, full, read-only.
_CANNOT_WRITE = (sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_IOERR, sqlite3.SQLITE_FULL, sqlite3.SQLITE_READONLY)
# Less is no room for the least that SQLite writes beside a log: its index of 32 kB and some pages.
_LEAST_FREE_BYTES = 128 * 1024


def is_full(path: Path, error: Exception) -> bool:
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


def full(path: Path) -> DiskFull:
    """Why nothing can be done here: the disk is full."""
    return DiskFull(message("record-disk-full", folder=str(path.parent), day=path.name, file=str(path)))


def _is_held(error: sqlite3.Error) -> bool:
    """Whether another program holds the database."""
    return getattr(error, "sqlite_errorcode", 0) & 0xFF in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED)


# What a log is made of: the database, what is not yet in its main file, and the second copy.
PARTS = ("", "-wal", ".lines")


def copied(path: Path, folder: Path) -> Path:
    """A copy of a log with all its parts. What the disk does not give of them is left empty. OSError from where the
    copy is written."""
    copy = folder / path.name
    for suffix in PARTS:
        source = path.with_name(path.name + suffix)
        if source.exists():
            copy_readable(source, copy.with_name(copy.name + suffix))
    return copy


def copy_readable(source: Path, target: Path) -> None:
    """Copy a file block by block, and zeros for each block that the disk does not give. OSError where none of it can be
    opened, or from the target."""
    with source.open("rb", buffering=0) as file, target.open("wb") as out:
        size = os.fstat(file.fileno()).st_size
        for at in range(0, size, _BLOCK):
            count = min(_BLOCK, size - at)
            try:
                file.seek(at)
                data = file.read(count)
            except OSError:
                data = b""
            out.write(data.ljust(count, b"\0"))
        out.flush()
        os.fsync(out.fileno())


_BLOCK = 4096


def damaged(path: Path, reason: Message) -> LogDamaged:
    """That a log is not whole, and how many of its events can be saved to go on with."""
    from fieldassist.record.islands import left_at

    beginning = None
    with contextlib.suppress(OSError, MemoryError):
        beginning = left_at(path).beginning
    whole = len(beginning.texts) if beginning is not None else 0
    return LogDamaged(message("record-damaged", file=str(path), reason=reason, whole=whole), whole)


def _as_problem(path: Path, error: sqlite3.Error | OSError | MemoryError) -> LogProblem:
    if isinstance(error, MemoryError):
        return LogProblem(message("record-no-memory", day=path.name))
    if is_full(path, error):
        return full(path)
    if isinstance(error, OSError):
        return LogProblem(message("record-cannot-open", file=str(path), why=why(error)))
    text = str(error)
    if "malformed" in text or "not a database" in text or "corrupt" in text:
        return damaged(path, _said(error))
    if _is_held(error) or "locked" in text:
        return AlreadyOpen(message("record-locked", day=path.name))
    return LogProblem(message("record-cannot-open", file=str(path), why=text))
