"""The texts of a day's events read from the pages of its database file, without the help of SQLite.

SQLite finds a row through the pages above it; one that is gone hides every row below. Here each page is looked at for
itself, wherever it lies, after SQLite, "Database File Format" (https://www.sqlite.org/fileformat2.html): 1.3, the
header; 1.6, table leaf pages and overflow pages; 2.1, records; 4.1 and 4.2, the write-ahead log. Where the head of a
page is gone, its bytes are searched for the form of an event's text. Whatever is found proves itself by its place in
the chain (`record.islands`), so nothing here needs to be sure.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

from fieldassist.record.chain import UNREADABLE
from fieldassist.record.manifest import LARGEST_TEXT

PAGE = 4096  # bytes; SQLite's own choice since 3.12, and ours
_MAGIC = b"SQLite format 3\0"
_LEAF = 0x0D
_WAL_MAGIC = (0x377F0682, 0x377F0683)
_WAL_HEADER, _FRAME_HEADER = 32, 24
# An event's canonical text begins so: the members of its objects stand in order, and "at" and "boot" come first.
BEGINNING = b'{"at":{"boot":'
# A larger one is no text of ours.
_LONGEST = LARGEST_TEXT


def texts_at(path: Path) -> Iterator[str]:
    """The texts in a database file and in the write-ahead log beside it, in no order, some of them twice.

    A part of the disk that cannot be read counts as empty. OSError where a file cannot be opened at all.
    """
    with ExitStack() as stack:
        pages = _Pages(stack.enter_context(path.open("rb"))) if path.exists() else None
        log = path.with_name(path.name + "-wal")
        wal = _Wal(stack.enter_context(log.open("rb"))) if log.exists() else None
        size = pages.size if pages is not None and pages.sound else wal.size if wal is not None else PAGE
        if pages is not None:
            pages.size = size
        for page in _every_page(pages, wal):
            yield from _of_page(page, pages, wal)


@dataclass(frozen=True, slots=True)
class _Page:
    number: int
    data: bytes
    newest: bool  # whether what it leads to lies in the write-ahead log too


def _every_page(pages: _Pages | None, wal: _Wal | None) -> Iterator[_Page]:
    if wal is not None:
        for number, data in wal.frames():
            yield _Page(number, data, True)
    for number in range(1, pages.count + 1) if pages is not None else ():
        assert pages is not None
        yield _Page(number, pages.read(number), False)


class _Pages:
    """The pages of a database file, counted from 1. size: of each [bytes]; sound: whether its header says so."""

    def __init__(self, file: BinaryIO) -> None:
        self._file = file
        front = _read(file, 0, 100)
        said = int.from_bytes(front[16:18], "big")
        said = 65536 if said == 1 else said
        self.sound = front.startswith(_MAGIC) and 512 <= said <= 65536 and said & (said - 1) == 0
        self.size = said if self.sound else PAGE
        self.length = file.seek(0, 2)

    @property
    def count(self) -> int:
        return -(-self.length // self.size)

    def read(self, number: int) -> bytes:
        """A page, filled up with zeros where the file ends or the disk does not give it."""
        return _read(self._file, (number - 1) * self.size, self.size).ljust(self.size, b"\0")


class _Wal:
    """A write-ahead log: of its frames those that were committed, as far as their headers say."""

    def __init__(self, file: BinaryIO) -> None:
        self._file = file
        front = _read(file, 0, _WAL_HEADER)
        sound = int.from_bytes(front[:4], "big") in _WAL_MAGIC
        said = int.from_bytes(front[8:12], "big") if sound else PAGE
        self.size = said if 512 <= said <= 65536 and said & (said - 1) == 0 else PAGE
        length = file.seek(0, 2)
        step = self.size + _FRAME_HEADER
        found: list[tuple[int, int, bytes]] = []
        for at in range(_WAL_HEADER, max(length - step, 0) + 1, step):
            head = _read(file, at, _FRAME_HEADER).ljust(_FRAME_HEADER, b"\0")
            # A page that is gone takes the header of a frame with it now and then: what is behind it still stands.
            found.append((int.from_bytes(head[:4], "big"), int.from_bytes(head[4:8], "big"), head[8:16]))
        salt = front[16:24] if sound else max((s for *_, s in found), key=[s for *_, s in found].count, default=b"")
        last = max((i for i, (_, commit, s) in enumerate(found) if commit and s == salt), default=-1)
        self._places = [
            (number, _WAL_HEADER + i * step + _FRAME_HEADER)
            for i, (number, _, s) in enumerate(found[: last + 1])
            if s == salt or not any(s)
        ]
        self._newest = dict(self._places)

    def frames(self) -> Iterator[tuple[int, bytes]]:
        for number, at in self._places:
            yield number, self._page(at)

    def read(self, number: int) -> bytes | None:
        at = self._newest.get(number)
        return None if at is None else self._page(at)

    def _page(self, at: int) -> bytes:
        return _read(self._file, at, self.size).ljust(self.size, b"\0")


def _read(file: BinaryIO, at: int, count: int) -> bytes:
    try:
        file.seek(at)
        return file.read(count)
    except OSError:
        return b""


def _of_page(page: _Page, pages: _Pages | None, wal: _Wal | None) -> Iterator[str]:
    found: set[str] = set()
    for text in _of_leaf(page, pages, wal):
        found.add(text)
        yield text
    for match in re.finditer(re.escape(BEGINNING), page.data):
        carved = _whole_at(page.data, match.start())
        if carved is not None and carved not in found:
            yield carved


def _whole_at(data: bytes, at: int) -> str | None:
    """The JSON text that begins at a byte and ends in the same page; None where none does."""
    rest = data[at:].decode("utf-8", "ignore")
    try:
        _, end = json.JSONDecoder().raw_decode(rest)
    except UNREADABLE:
        return None
    return rest[:end]


def _of_leaf(page: _Page, pages: _Pages | None, wal: _Wal | None) -> Iterator[str]:
    data = page.data
    start = 100 if page.number == 1 else 0
    if data[start] != _LEAF:
        return
    for place in range(int.from_bytes(data[start + 3 : start + 5], "big")):
        pointer = start + 8 + 2 * place
        at = int.from_bytes(data[pointer : pointer + 2], "big")
        if not start + 8 <= at < len(data):
            continue
        try:
            payload = _payload(data, at, page.newest, pages, wal)
            yield from _texts_of(payload)
        except (IndexError, UnicodeDecodeError, _NoCell):
            continue


class _NoCell(Exception):
    """What lies there is no cell."""


def _payload(data: bytes, at: int, newest: bool, pages: _Pages | None, wal: _Wal | None) -> bytes:
    """A row as it is stored, put together from its page and from the pages that it runs over to (1.6)."""
    size, at = _varint(data, at)
    _, at = _varint(data, at)
    usable = len(data)
    if size > _LONGEST:
        raise _NoCell
    if size <= usable - 35:
        return data[at : at + size]
    least = (usable - 12) * 32 // 255 - 23
    here = least + (size - least) % (usable - 4)
    here = here if here <= usable - 35 else least
    parts = [data[at : at + here]]
    following = int.from_bytes(data[at + here : at + here + 4], "big")
    missing, seen = size - here, set[int]()
    while missing > 0:
        if not following or following in seen:
            raise _NoCell
        seen.add(following)
        over = wal.read(following) if newest and wal is not None else None
        if over is None:
            if pages is None or following > pages.count:
                raise _NoCell
            over = pages.read(following)
        parts.append(over[4 : 4 + min(missing, usable - 4)])
        missing -= len(parts[-1])
        following = int.from_bytes(over[:4], "big")
    return b"".join(parts)


def _texts_of(payload: bytes) -> Iterator[str]:
    """The columns of a record that have the form of an event's text (2.1)."""
    header, at = _varint(payload, 0)
    body = header
    while at < header:
        kind, at = _varint(payload, at)
        size = (kind - 12) // 2 if kind >= 12 else (0, 1, 2, 3, 4, 6, 8, 8, 0, 0, 0, 0)[kind]
        if kind >= 13 and kind % 2 and payload.startswith(BEGINNING, body):
            yield payload[body : body + size].decode("utf-8")
        body += size


def _varint(data: bytes, at: int) -> tuple[int, int]:
    """SQLite's number of one to nine bytes, and the place behind it."""
    value = 0
    for place in range(9):
        byte = data[at + place]
        if place == 8:
            return value << 8 | byte, at + 9
        value = value << 7 | byte & 0x7F
        if byte < 0x80:
            return value, at + place + 1
    raise _NoCell
