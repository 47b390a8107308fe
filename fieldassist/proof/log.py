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
from pathlib import Path

from fieldassist.checklist.events import FORMAT
from fieldassist.files import open_regular, read_regular
from fieldassist.record.bundle import LARGEST
from fieldassist.record.chain import Chain, StoredRow, chain_hash, chain_of, said_link
from fieldassist.record.islands import Islands, islands_of
from fieldassist.record.leaves import BEGINNING, texts_at
from fieldassist.record.lines import lines_of, texts_in
from fieldassist.record.manifest import EVENTS
from fieldassist.record.schema import APPLICATION_ID, strange_in
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


def holds_events(path: Path) -> bool:
    """Whether a file of another form holds the text of an event somewhere: a log whose first page is gone does."""
    with open_regular(path) as file:
        before = b""
        while piece := file.read(1 << 20):
            if BEGINNING in before + piece:
                return True
            before = piece[-len(BEGINNING) :]
    return False


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


def read_log(copy: Path) -> tuple[Chain | None, Message | None]:
    """The events in a copy of a log, and what is wrong with the file itself, None for nothing.

    The chain ends before the first event that is not good, as `record.chain.walk` names it; it is None when the file is
    no log of ours. Where SQLite cannot read it to its end, each page is read for itself. Never raises for what is in
    the file.
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
                trouble = _trouble_with(db, ours)
        except (sqlite3.Error, OverflowError, UnicodeError) as error:
            trouble = message("proof-log-not-to-its-end", why=str(error))
            beginning = islands_of(texts_at(copy)).beginning
            if beginning is not None and len(beginning.texts) > len(rows):
                rows, ours = [StoredRow(text) for text in beginning.texts], True
    return (None if not rows and not ours else chain_of(rows)), trouble


def left_beyond(copy: Path, lines: bytes, chain: Chain) -> Islands | None:
    """What can be read of a day's log besides the chain that was read from it: on other pages, and in its second copy.

    None where there is nothing. In a log that was closed well that means that events were taken out of it: what it once
    held stays on its pages until something else is written there.
    """
    known = set(chain.hashes)
    more = [text for text in (*texts_at(copy), *texts_in(lines)) if chain_hash(text) not in known]
    if not any(isinstance(said_link(text), str) for text in more):
        return None
    left = islands_of(texts_at(copy), texts_in(lines))
    return left if left.count > len(chain.events) else None


def lines_beside(path: Path, largest: int) -> bytes:
    """The second copy that lies beside a log, b"" for none or one of more than `largest` bytes."""
    try:
        return read_regular(lines_of(path), largest)
    except OSError:
        return b""


def _trouble_with(db: sqlite3.Connection, ours: bool) -> Message | None:
    check = db.execute("PRAGMA integrity_check(1)").fetchone()[0]
    if check != "ok":
        return message("record-sqlite", why=str(check))
    if not ours:
        return message("proof-log-no-mark")
    strange = strange_in(db)
    if strange:
        return message("proof-log-holds", names=", ".join(strange[:5]))
    version = db.execute("PRAGMA user_version").fetchone()[0]
    return message("proof-log-format", format=str(version), known=str(FORMAT)) if version != FORMAT else None
