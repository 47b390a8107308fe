"""`fieldassist recover`: a day to go on with, out of what is left of a damaged log.

Everything that can be read is read: each page of the database for itself, its write-ahead log, and the second copy.
What follows from the first event on without a gap becomes the day. What is behind a gap cannot be gone on from: it is
kept as plain lines, which `verify` reads, names what is missing between, and says what the seals still vouch for.

The damaged log stays, under another name. At no moment of the change is less there than before, so whatever stops it
on the way, it can be called again.
"""

from __future__ import annotations

import sqlite3
import tempfile
from dataclasses import dataclass
from pathlib import Path

from filelock import FileLock, Timeout

from fieldassist.record.disk import sync_folder, whole_file, why
from fieldassist.record.islands import Islands, left_at
from fieldassist.record.lines import free_name, lines_of, lines_written
from fieldassist.record.log import (
    PARTS,
    AlreadyOpen,
    DayLog,
    LogDamaged,
    LogProblem,
    copied,
    copy_readable,
    full,
    is_full,
)
from fieldassist.trade.message import Message, message


@dataclass(frozen=True, slots=True)
class Recovered:
    """What was saved from a damaged log.

    events, head: those to go on with, and the hash of the last; damaged: where the damaged database is now; reason:
    what was wrong; behind: how many events more were read behind a gap; missing: first and last number of each gap;
    kept: the lines with all of both, None where there is no gap.
    """

    events: int
    head: str
    damaged: Path
    reason: Message
    behind: int = 0
    missing: tuple[tuple[int, int], ...] = ()
    kept: Path | None = None


def islands_file_of(day: Path) -> Path:
    """Where lines with gaps between them are kept.

    >>> islands_file_of(Path("site/2026-03-17.db")).as_posix()
    'site/2026-03-17.db.islands.lines'
    """
    return day.with_name(day.name + ".islands.lines")


def recover(path: Path) -> Recovered:
    """Save every event of the log at `path` that can be read, and make what goes on without a gap the day.

    LogProblem when the log is not damaged, when nothing can be saved, when the first event is gone (what is left is
    kept as lines then), and when the disk refuses; AlreadyOpen when another program has it.
    """
    if not path.exists() and not lines_of(path).exists():
        raise LogProblem(message("record-no-day", file=str(path)))
    lock = FileLock(path.with_name(path.name + ".lock"), timeout=0)
    try:
        lock.acquire()
    except Timeout:
        raise AlreadyOpen(message("record-open-elsewhere", day=path.name)) from None
    except OSError as error:
        raise _cannot_recover(path, error) from error
    try:
        reason = _wrong_with(path)
        if reason is None:
            raise LogProblem(message("record-nothing-to-recover", file=str(path)))
        return _saved(path, left_at(path), reason)
    except (OSError, sqlite3.Error, MemoryError) as error:
        raise _cannot_recover(path, error) from error
    finally:
        lock.release()


def _wrong_with(path: Path) -> Message | None:
    """Why a log is not whole, None where it is. Looked at in a copy: SQLite would write beside it even to read it."""
    if not path.exists():
        return message("record-database-gone")
    with tempfile.TemporaryDirectory(dir=path.parent, prefix="recover-") as scratch:
        copy = copied(path, Path(scratch))
        try:
            with DayLog.open(copy, read_only=True) as log:
                return log.fault()
        except LogDamaged as damaged:
            reason = damaged.told.figures["reason"]
            assert isinstance(reason, Message)
            return reason
        except LogProblem as problem:
            if problem.told.code in ("record-newer", "record-older", "record-foreign"):
                raise LogProblem(Message(problem.told.code, {**problem.told.figures, "file": str(path)})) from problem
            raise


def _saved(path: Path, left: Islands, reason: Message) -> Recovered:
    beginning = left.beginning
    if not left.found:
        raise LogProblem(message("record-nothing-whole", file=str(path), reason=reason))
    kept = _keep_islands(path, left) if left.behind else None
    if beginning is None:
        assert kept is not None
        told = message(
            "record-beginning-gone",
            file=str(path),
            reason=reason,
            events=left.count,
            kept=str(kept),
            first=left.found[0].first,
        )
        raise LogProblem(told)
    fresh = path.with_name(path.name + ".recovered")
    _forget(fresh)
    with DayLog.create(fresh) as log:
        head = log.append_texts(beginning.texts)
        log.checkpoint()
    aside = _aside(path)
    # First the second copy, which holds all of the day that goes on; then the journal, which would be played into the
    # fresh database; the database last.
    lines_of(fresh).replace(lines_of(path))
    for suffix in ("-wal", "-shm"):
        path.with_name(path.name + suffix).unlink(missing_ok=True)
    fresh.replace(path)
    _forget(fresh)
    sync_folder(path.parent)
    return Recovered(len(beginning.texts), head, aside, reason, left.count - len(beginning.texts), left.missing, kept)


def _keep_islands(path: Path, left: Islands) -> Path:
    """Write all that is left as lines; the same is not written twice."""
    lines = lines_written(left.texts)
    kept = islands_file_of(path)
    if not (kept.is_file() and kept.read_bytes() == lines):
        kept = free_name(kept)
        with whole_file(kept) as file:
            file.write(lines)
    return kept


def _aside(path: Path) -> Path:
    """Give all parts of a log another name as well; where the disk knows no second names, copy them."""
    aside = path.with_name(path.name + ".damaged")
    number = 1
    while any(aside.with_name(aside.name + suffix).exists() for suffix in PARTS):
        number += 1
        aside = path.with_name(f"{path.name}.damaged-{number}")
    for suffix in PARTS:
        source, target = path.with_name(path.name + suffix), aside.with_name(aside.name + suffix)
        if source.exists():
            try:
                target.hardlink_to(source)
            except OSError:
                copy_readable(source, target)
    sync_folder(path.parent)
    return aside


def _forget(fresh: Path) -> None:
    """Take away a fresh log that has another name by now, or that was left half made."""
    for suffix in ("", "-wal", "-shm", ".lines", ".lock"):
        fresh.with_name(fresh.name + suffix).unlink(missing_ok=True)


def _cannot_recover(path: Path, error: OSError | sqlite3.Error | MemoryError) -> LogProblem:
    if is_full(path, error):
        return full(path)
    said = str(error) if isinstance(error, sqlite3.Error) else why(error)
    return LogProblem(message("record-not-recovered", file=str(path), why=said))
