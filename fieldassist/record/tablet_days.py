"""The tablet's own book of days: a number for each, and how far each had come when it was signed, sealed or left.

Every day of work is opened with its number on this tablet and the heads of the days before, so that a day, or what was
added to one, cannot vanish without a trace: whoever holds a later day knows of it. Practice and rehearsals have no
number.

The book is a file that whoever may read the tablet's files can change or delete. A new one draws a new name for the
tablet, so losing it closes no gap; an old copy of it put back gives a number twice, which shows as soon as both days
are handed over. What it says of a day is never more than that day's log held.
"""

from __future__ import annotations

import contextlib
import secrets
import sqlite3
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Literal

import rfc8785
from filelock import FileLock, Timeout
from pydantic import BaseModel, ConfigDict, Field, ValidationError

from fieldassist.checklist.events import DayOpened
from fieldassist.checklist.kinds.photo import Sha256
from fieldassist.checklist.tablet_chain import MOST_ANNOUNCED, BookFound, DayHead, TabletChain
from fieldassist.record.chain import UNREADABLE, chain_hash, read_event
from fieldassist.record.disk import whole_file
from fieldassist.record.log import DayLog, LogProblem
from fieldassist.trade.message import message

NAME = "days.json"
# Two programs of one tablet wait for each other no longer than a disk takes.
_WAIT_S = 10.0


class _KeptDay(BaseModel):
    """A day of the book. number: 0 for one that was begun without; file: its log, as it was last seen; begun: it is in
    its log for sure; announced: how many events of it the last opening announced, 0 for none."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    number: Annotated[int, Field(ge=0)]
    date: Annotated[str, Field(max_length=40)]
    first: Sha256
    events: Annotated[int, Field(ge=1)]
    head: Sha256
    file: str
    begun: bool = True
    announced: Annotated[int, Field(ge=0)] = 0

    @property
    def told(self) -> DayHead:
        """As an opening announces it."""
        return DayHead(number=self.number, date=self.date, first=self.first, events=self.events, head=self.head)


class _Book(BaseModel):
    """The whole book. Its own format stands first, so that a later one is told from a damaged one."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    days: Literal[1] = 1
    tablet: Annotated[str, Field(pattern=r"^[0-9a-f]{16}$")]
    of: tuple[_KeptDay, ...] = ()


@dataclass
class Beginning:
    """A day that is about to begin: `chain` for its opening, then `written` before its first events are on disk, and
    `begun` once they are."""

    chain: TabletChain
    _file: Path
    _book: _Book
    _first: str = ""

    def written(self, path: Path, date: str, texts: Sequence[str]) -> None:
        """Note the day before it is on disk: what stands in the book and in no log is no day, and its number is used
        again; a day on disk is never without a number. LogProblem when the disk refuses."""
        self._first, head = chain_hash(texts[0]), chain_hash(texts[-1])
        day = _KeptDay(
            number=self.chain.number,
            date=date,
            first=self._first,
            events=len(texts),
            head=head,
            file=str(path.resolve()),
            begun=False,
        )
        self._keep((*self._book.of, day))

    def begun(self) -> None:
        """The day is on disk: what it announced need not be announced again. LogProblem when the disk refuses."""
        told = {day.first: day.events for day in self.chain.announces}
        self._keep(
            tuple(
                day.model_copy(update={"begun": True})
                if day.first == self._first
                else day.model_copy(update={"announced": told.get(day.first, day.announced)})
                for day in self._book.of
            )
        )

    def _keep(self, days: tuple[_KeptDay, ...]) -> None:
        self._book = self._book.model_copy(update={"of": days})
        _write(self._file, self._book)


class TabletBook:
    """The book in a tablet's own folder; made with the tablet's first day."""

    def __init__(self, folder: Path) -> None:
        self._file = folder / NAME
        # Where the tablet's program keeps its days: what tells a lost book from a new tablet.
        self._days = folder / "days"

    @contextlib.contextmanager
    def beginning(self) -> Iterator[Beginning]:
        """The next day of this tablet; the book waits until it has begun. LogProblem when the disk refuses."""
        with self._locked():
            book, found = self._read()
            book = book.model_copy(update={"of": tuple(now for day in book.of if (now := _as_it_is(day)) is not None)})
            number = 1 + max((day.number for day in book.of), default=0)
            changed = [day.told for day in book.of if day.events != day.announced or day.number == number - 1 > 0]
            # Where they do not all fit, the day before is among them; the others wait for the next opening.
            announces = tuple(sorted(changed, key=lambda day: day.number)[-MOST_ANNOUNCED:])
            chain = TabletChain(tablet=book.tablet, number=number, announces=announces, book=found)
            yield Beginning(chain, self._file, book)

    def note(self, log: DayLog) -> None:
        """Note how far a day has come. A day that is not in the book, of another tablet or of an earlier version, comes
        into it without a number. LogProblem when the disk refuses."""
        opened = log.events[0].body
        if not isinstance(opened, DayOpened) or opened.kind != "work":
            return
        with self._locked():
            book, _ = self._read()
            known = next((day for day in book.of if day.first == log.hashes[0]), None)
            now = {"events": len(log.events), "head": log.head, "file": str(log.path.resolve()), "begun": True}
            if known is None:
                added = _KeptDay(number=0, date=opened.plan.date, first=log.hashes[0], **now)
                days = (*book.of, added)
            elif known.events <= len(log.events) and log.hashes[known.events - 1] == known.head:
                days = tuple(day.model_copy(update=now) if day is known else day for day in book.of)
            else:
                # The log is not the one that was noted, or an older copy of it: the next opening says what was.
                return
            if days != book.of:
                _write(self._file, book.model_copy(update={"of": days}))

    @contextlib.contextmanager
    def _locked(self) -> Iterator[None]:
        try:
            self._file.parent.mkdir(parents=True, exist_ok=True)
            lock = FileLock(self._file.with_name(NAME + ".lock"), timeout=_WAIT_S)
            lock.acquire()
        except (OSError, Timeout) as error:
            raise _not_kept(self._file, error) from error
        try:
            yield
        finally:
            lock.release()

    def _read(self) -> tuple[_Book, BookFound]:
        """The book as it lies there, or a new one with a new name for the tablet where it cannot be read. A damaged one
        is kept beside it."""
        try:
            return _Book.model_validate_json(self._file.read_bytes()), "kept"
        except FileNotFoundError:
            return _new_book(), "lost" if self._holds_numbered_days() else "new"
        except ValidationError:
            with contextlib.suppress(OSError):
                self._file.replace(self._file.with_name(f"{NAME}.damaged-{secrets.token_hex(4)}"))
            return _new_book(), "damaged"
        except OSError as error:
            raise _not_kept(self._file, error) from error

    def _holds_numbered_days(self) -> bool:
        for path in self._days.glob("*.db"):
            opened = _opening(path)
            if opened is not None and opened.tablet is not None:
                return True
        return False


def _new_book() -> _Book:
    return _Book(tablet=secrets.token_hex(8))


def _write(file: Path, book: _Book) -> None:
    try:
        with whole_file(file, private=True) as out:
            out.write(rfc8785.dumps(book.model_dump(mode="json")))
    except OSError as error:
        raise _not_kept(file, error) from error


def _not_kept(file: Path, error: Exception) -> LogProblem:
    why = getattr(error, "strerror", None) or str(error)
    return LogProblem(message("record-book-not-kept", file=str(file), why=why))


# --- what a day's log says of itself, without reading all of it -------------------------------------------------------


def _as_it_is(day: _KeptDay) -> _KeptDay | None:
    """The day as its log now stands, where that goes on from what was noted; None for one that never came to be.

    A program that was killed could note nothing, and a day need not have been closed to have gone on.
    """
    rows = _rows(Path(day.file), day.events)
    if rows is None or rows[0] != day.first or rows[1] != day.head:
        return day if day.begun else None
    return day.model_copy(update={"events": rows[2], "head": rows[3], "begun": True})


def _rows(path: Path, at: int) -> tuple[str, str, int, str] | None:
    """The hashes of the first event and of the event `at`, how many there are, and the hash of the last; None where the
    log does not tell. Only what is on disk counts, not the hashes beside it."""
    if not path.is_file():
        return None
    try:
        with contextlib.closing(sqlite3.connect(f"{path.resolve().as_uri()}?mode=ro", uri=True)) as log:
            count = log.execute("SELECT max(seq) FROM events").fetchone()[0]
            texts = dict(log.execute("SELECT seq, text FROM events WHERE seq IN (1, ?, ?)", (at, count)))
            return chain_hash(texts[1]), chain_hash(texts[at]), count, chain_hash(texts[count])
    except (sqlite3.Error, UnicodeError, KeyError, AttributeError, TypeError):
        return None


def _opening(path: Path) -> DayOpened | None:
    try:
        with contextlib.closing(sqlite3.connect(f"{path.resolve().as_uri()}?mode=ro", uri=True)) as log:
            text = log.execute("SELECT text FROM events WHERE seq = 1").fetchone()[0]
        body = read_event(text, 1, "0" * 64).body
        return body if isinstance(body, DayOpened) else None
    except (sqlite3.Error, *UNREADABLE):
        return None
