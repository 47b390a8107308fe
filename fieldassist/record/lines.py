"""The second copy of a day: the texts of its events as plain lines beside the database, which any editor shows.

An event is on disk in the database first, then here; only then it is acknowledged. So the copy never holds more than
the database, unless that lost something. Each line is written to the end and synced (`fsync`): what a power cut can
leave torn is the last one alone, and it is completed from the database when the day is opened again.
"""

from __future__ import annotations

import contextlib
import os
from collections.abc import Iterable, Sequence
from pathlib import Path

from fieldassist.record.chain import Broken, chain_hash, read_event, said_link
from fieldassist.record.disk import sync_folder, whole_file


def lines_of(day: Path) -> Path:
    """Where the second copy of the log at `day` lies.

    >>> lines_of(Path("site/2026-03-17.db")).as_posix()
    'site/2026-03-17.db.lines'
    """
    return day.with_name(day.name + ".lines")


def read_copy(day: Path) -> bytes:
    """The second copy as it stands, b"" where there is none. OSError from the disk."""
    try:
        return lines_of(day).read_bytes()
    except FileNotFoundError:
        return b""


def texts_in(copy: bytes) -> list[str]:
    """The whole lines of a copy: a last one without its end is torn. What is no text in them stays no event."""
    return [line.decode("utf-8", "replace") for line in copy.split(b"\n")[:-1]]


def further_in(copy: bytes, count: int, head: str) -> list[str]:
    """The events that a copy holds behind the first `count`, of which `head` is the hash of the last: those that follow
    from it and from each other."""
    found: list[str] = []
    for text in texts_in(copy)[count:]:
        try:
            read_event(text, count + len(found) + 1, head)
        except Broken:
            break
        found.append(text)
        head = chain_hash(text)
    return found


def other_in(copy: bytes, hashes: Iterable[str]) -> int | None:
    """The first line of a copy, counted from 1, with an event whose hash is none of these: what is only torn or
    unreadable says nothing. None where there is none."""
    known = set(hashes)
    for number, text in enumerate(texts_in(copy), start=1):
        if chain_hash(text) not in known and isinstance(said_link(text), str):
            return number
    return None


def lines_written(texts: Sequence[str]) -> bytes:
    """The lines of these texts, each with its end."""
    return "".join(f"{text}\n" for text in texts).encode()


class SecondCopy:
    """The copy beside one log that is written. trouble: why it lags behind the log, None while it does not.

    A copy that cannot be written stops no work: the event is safe in the database, and the copy is completed with the
    next one, or when the day is opened again.
    """

    def __init__(self, day: Path) -> None:
        self.path = lines_of(day)
        self.trouble: OSError | MemoryError | None = None
        self.aside: Path | None = None
        self._handle: int | None = None
        self._kept = 0

    def agree(self, copy: bytes, texts: Sequence[str]) -> None:
        """Make the copy, which stands as `copy`, say exactly these texts, all that the log holds.

        One that holds other events is put aside under a name of its own, never thrown away.
        """
        self.close()
        wanted = lines_written(texts)
        try:
            if not wanted.startswith(copy):
                self._replace(copy, wanted, texts)
            elif not self.path.exists():
                self._open()
                sync_folder(self.path.parent)
                self._write(wanted)
            elif wanted != copy:
                self._open()
                self._write(wanted[len(copy) :])
            self._kept, self.trouble = len(texts), None
        except (OSError, MemoryError) as error:
            self._failed(error)

    def follow(self, texts: Sequence[str]) -> None:
        """Write down what the log holds more than the copy; texts: all that it holds."""
        if self.trouble is not None:
            try:
                copy = self.path.read_bytes() if self.path.exists() else b""
            except (OSError, MemoryError) as error:
                return self._failed(error)
            return self.agree(copy, texts)
        try:
            self._open()
            self._write(lines_written(texts[self._kept :]))
            self._kept = len(texts)
        except (OSError, MemoryError) as error:
            self._failed(error)

    def close(self) -> None:
        """Let go of the file."""
        if self._handle is not None:
            with contextlib.suppress(OSError):
                os.close(self._handle)
            self._handle = None

    def _open(self) -> None:
        if self._handle is None:
            flags = os.O_WRONLY | os.O_APPEND | os.O_CREAT | getattr(os, "O_BINARY", 0)
            self._handle = os.open(self.path, flags, 0o600)

    def _write(self, data: bytes) -> None:
        assert self._handle is not None
        if data:
            while data:
                data = data[os.write(self._handle, data) :]
            os.fsync(self._handle)

    def _replace(self, copy: bytes, wanted: bytes, texts: Sequence[str]) -> None:
        if other_in(copy, map(chain_hash, texts)) is not None:
            self.aside = free_name(self.path.with_name(self.path.name + ".other"))
            self.path.rename(self.aside)
        with whole_file(self.path) as file:
            file.write(wanted)

    def _failed(self, error: OSError | MemoryError) -> None:
        self.close()
        self.trouble = error


def free_name(path: Path) -> Path:
    """A name that nothing has yet: `path`, or with a number behind it."""
    candidate, number = path, 1
    while candidate.exists():
        number += 1
        candidate = path.with_name(f"{path.name}-{number}")
    return candidate
