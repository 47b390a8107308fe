"""A day in one file, for another tablet or the office: its events, its daily log and its attachments.

The container is a ZIP file (PKWARE APPNOTE 6.3.10) that any archive program opens, written in one way only: entries
stored (§4.4.5, method 0), without extra fields, comments or ZIP64, all dated 1980-01-01, in the order manifest.json,
events.jsonl, daily-log.pdf where there is one, attached/NAME by name, what proves the day beside its log (proof/NAME by
name), verify.html. So the same content gives the same bytes, and nothing has room to hide: a reader needs no general
ZIP parser, since the manifest tells where every byte has to be. The reader writes each header again and compares.

events.jsonl holds the stored text of each event (RFC 8785), one a line. manifest.json is canonical JSON too.
"""

from __future__ import annotations

import contextlib
import errno
import hashlib
import io
import itertools
import os
import re
import shutil
import sqlite3
import struct
import zlib
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import BinaryIO

from filelock import FileLock, Timeout

from fieldassist import __version__
from fieldassist.checklist.events import DayOpened, Event
from fieldassist.checklist.fold import fold
from fieldassist.checklist.prompt import prompt
from fieldassist.files import open_regular
from fieldassist.record import attachments
from fieldassist.record.beside import NOTHING_ELSE, GoesAlong, ProofKind, along, keep_beside
from fieldassist.record.chain import Chain, check_texts
from fieldassist.record.disk import sha256_of, sync_folder, whole_file
from fieldassist.record.lines import lines_of
from fieldassist.record.log import DayLog, DiskFull, LogProblem
from fieldassist.record.manifest import (
    ATTACHED,
    EVENTS,
    LARGEST_MANIFEST,
    LARGEST_PAGE,
    LARGEST_PROOF,
    MANIFEST,
    MOST_EVENTS,
    MOST_FILES,
    PAGE,
    PDF,
    RECEIPT,
    STAMP,
    FileEntry,
    Manifest,
    attached,
    disagreements,
    entry_of,
    first_named,
    is_proof,
    join_lines,
    manifest_of,
    read_manifest,
    split_lines,
    unkept,
)
from fieldassist.record.receipt import ReceiptProblem, read_receipt, why_of_another_record
from fieldassist.record.seal import check_seals
from fieldassist.trade.message import Figure, Message, Refused, Several, message

# Bounds, checked before anything is read: a day is far below them. That of an attachment is its room's.
LARGEST = {MANIFEST: LARGEST_MANIFEST, EVENTS: 32 * 1024 * 1024, PDF: 128 * 1024 * 1024, PAGE: LARGEST_PAGE}
LARGEST_BUNDLE = 2**31 - 1
_PIECE = 1 << 20
_UNDER_WAY = ".taking-in"

# Bytes done and bytes in all.
OnProgress = Callable[[int, int], None]

# APPNOTE §4.3.7, §4.3.12, §4.3.16.
_LOCAL = struct.Struct("<4s5H3L2H")
_CENTRAL = struct.Struct("<4s6H3L5H2L")
_END = struct.Struct("<4s4H2LH")
_VERSION_NEEDED = 20
_MADE_BY = 3 << 8 | _VERSION_NEEDED
_REGULAR_FILE = 0o100644 << 16
_MIDNIGHT, _FIRST_OF_1980 = 0, 0x0021


class BundleProblem(Refused):
    """The bundle cannot be used; `told` says where it is damaged, what is still good and what to do.

    whole: how many events, from the first on, are good; event: the first that is not, None when all are; where: each
    damaged place. Bytes are counted from 0. Names in it may come from a file that is made to do harm: whoever shows
    them makes them printable.
    """

    def __init__(
        self, told: Message, *, whole: int = 0, event: int | None = None, where: Sequence[Message] = ()
    ) -> None:
        super().__init__(told)
        self.whole = whole
        self.event = event
        self.where = tuple(where)


@dataclass(frozen=True, slots=True)
class Packed:
    """What was written. left_out: files that events speak of and that this tablet has not, or not as they were."""

    path: Path
    events: int
    head: str
    bytes: int
    files: int
    left_out: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Bundle:
    """A bundle that was read and found whole."""

    path: Path
    manifest: Manifest
    texts: list[str]
    events: list[Event]
    hashes: list[str]
    places: dict[str, int] = field(repr=False)

    @property
    def head(self) -> str:
        """The hash of the last event."""
        return self.hashes[-1]

    @property
    def files(self) -> tuple[FileEntry, ...]:
        """The files that are in here, with name, size and hash."""
        return tuple(f for f in self.manifest.files if not f.left_out)

    @property
    def left_out(self) -> tuple[FileEntry, ...]:
        """The attachments that the tablet no longer had when the bundle was made."""
        return tuple(f for f in self.manifest.files if f.left_out)

    def read(self, name: str) -> bytes:
        """The bytes of one of `files`, checked again.

        Errors: KeyError when there is none of that name; BundleProblem when the file on disk was changed since.
        """
        place = self.places[name]
        entry = next(f for f in self.files if f.name == name)
        with _opened(self.path) as file:
            file.seek(place)
            data = file.read(entry.bytes)
        if hashlib.sha256(data).hexdigest() != entry.sha256:
            raise BundleProblem(message("record-bundle-changed-while-read", bundle=self.path.name, file=name))
        return data


@dataclass(frozen=True, slots=True)
class TakenIn:
    """Where a bundle's day lies now, how many events it has, and how many of them, of its files, and of its
    countersignatures and time stamps came new."""

    day: Path
    events: int
    added: int
    files: int
    new: bool
    proofs: int = 0


# --- the container ------------------------------------------------------------------------------------------------


def _local_header(name: str, crc: int, size: int) -> bytes:
    raw = name.encode("ascii")
    return _LOCAL.pack(b"PK\3\4", _VERSION_NEEDED, 0, 0, _MIDNIGHT, _FIRST_OF_1980, crc, size, size, len(raw), 0) + raw


def _directory(entries: Sequence[tuple[FileEntry, int, int]]) -> bytes:
    """The central directory with its end, for each entry, its CRC-32 and its offset."""
    out = bytearray()
    start = 0
    for entry, crc, offset in entries:
        raw = entry.name.encode("ascii")
        out += _CENTRAL.pack(
            b"PK\1\2", _MADE_BY, _VERSION_NEEDED, 0, 0, _MIDNIGHT, _FIRST_OF_1980, crc, entry.bytes, entry.bytes,
            len(raw), 0, 0, 0, 0, _REGULAR_FILE, offset,
        ) + raw  # fmt: skip
        start = offset + _LOCAL.size + len(raw) + entry.bytes
    return bytes(out) + _END.pack(b"PK\5\6", 0, 0, len(entries), len(entries), len(out), start, 0)


def _whole_size(files: Iterable[FileEntry]) -> int:
    """How many bytes a bundle of these files has."""
    return sum(f.bytes + _LOCAL.size + _CENTRAL.size + 2 * len(f.name) for f in files) + _END.size


def pack(
    day: Path,
    out: Path,
    pdf: Path | None = None,
    progress: OnProgress | None = None,
    others: GoesAlong = NOTHING_ELSE,
) -> Packed:
    """Write the day at `day`, its attachments, countersignatures and time stamps into one file.

    Parameters: out, the bundle, which appears under its name only once it is whole and on disk; pdf, the daily log to
    hand over with it; others, what else goes along. The same content gives the same bytes. The day may be open
    elsewhere: what it holds by now is packed. An attachment that the tablet lost is left out and named, in the manifest
    and in the result: the rest of the day is handed over all the same.
    Errors: LogProblem and its kinds from the log; BundleProblem when there is nothing to pack or the disk refuses.
    """
    with DayLog.open(day, read_only=True) as log:
        texts, events, head = log.texts, log.events, log.head
    if not events or not isinstance(events[0].body, DayOpened):
        raise BundleProblem(message("record-bundle-nothing", day=str(day)))
    if out.resolve() in {day.resolve(), pdf.resolve() if pdf else None}:
        raise BundleProblem(message("record-bundle-onto-itself", file=str(out)))
    lines = join_lines(texts)
    parts: list[tuple[FileEntry, bytes | Path]] = [(entry_of(EVENTS, lines), lines)]
    missing: list[FileEntry] = []
    try:
        if pdf is not None:
            parts.append((FileEntry(name=PDF, bytes=pdf.stat().st_size, sha256=sha256_of(pdf)), pdf))
        for name, digest in sorted(attached(events).items()):
            path = attachments.folder_of(day) / name
            size = path.stat().st_size if path.is_file() else 0
            if path.is_file() and size <= attachments.LARGEST_BYTES and sha256_of(path) == digest:
                parts.append((FileEntry(name=ATTACHED + name, bytes=size, sha256=digest), path))
            else:
                missing.append(FileEntry(name=ATTACHED + name, bytes=0, sha256=digest, left_out=True))
        for name, path in along(day, others):
            parts.append((FileEntry(name=name, bytes=path.stat().st_size, sha256=sha256_of(path)), path))
        parts.sort(key=lambda part: _place_of(part[0]))
        files = [entry for entry, _ in parts]
        _refuse_too_large(files, len(missing), len(events))
        manifest = manifest_of(events, head, _in_order([*files, *missing]), f"fieldassist {__version__}")
        written = _write(out, [(entry_of(MANIFEST, manifest), manifest), *parts], progress)
    except OSError as error:
        why = error.strerror or str(error)
        raise BundleProblem(message("record-bundle-not-written", file=str(out), why=why), whole=len(events)) from error
    left_out = [f.name.removeprefix(ATTACHED) for f in missing] + [name for _, name in unkept(events)]
    return Packed(out, len(events), head, written, len(files), tuple(left_out))


def _in_order(files: Iterable[FileEntry]) -> list[FileEntry]:
    """The one order of entries after the manifest."""
    return sorted(files, key=_place_of)


def _place_of(entry: FileEntry) -> tuple[int, str]:
    """Events, daily log, attachments by name, proofs by name, the page."""
    fixed = {EVENTS: 0, PDF: 1, PAGE: 4}
    return fixed.get(entry.name, 3 if is_proof(entry.name) else 2), entry.name


def _refuse_too_large(files: Sequence[FileEntry], missing: int, events: int) -> None:
    size = _whole_size(files) + LARGEST[MANIFEST]
    too_large = [f.name for f in files if f.bytes > _bound(f.name)]
    if too_large or size > LARGEST_BUNDLE or len(files) + missing > MOST_FILES or events > MOST_EVENTS:
        what: Figure = Several(tuple(too_large)) if too_large else message("record-bundle-the-whole")
        megabytes = f"{size / 1e6:.0f} MB"
        told = message("record-bundle-too-large", what=what, size=megabytes, events=events, files=len(files))
        raise BundleProblem(told, whole=events)


def _bound(name: str) -> int:
    return LARGEST.get(name, LARGEST_PROOF if is_proof(name) else attachments.LARGEST_BYTES)


def _pieces(file: BinaryIO, size: int) -> Iterator[bytes]:
    """The next `size` bytes of a file piece by piece, fewer when it ends before."""
    while size and (piece := file.read(min(size, _PIECE))):
        yield piece
        size -= len(piece)


def _write(out: Path, parts: Sequence[tuple[FileEntry, bytes | Path]], progress: OnProgress | None) -> int:
    """Write the entries. Result: the size in bytes."""
    told = _Told(progress, sum(entry.bytes for entry, _ in parts))
    out.parent.mkdir(parents=True, exist_ok=True)
    with whole_file(out) as file:
        directory = []
        for entry, source in parts:
            place, crc, digest = file.tell(), 0, hashlib.sha256()
            file.write(_local_header(entry.name, 0, entry.bytes))
            with io.BytesIO(source) if isinstance(source, bytes) else source.open("rb") as content:
                for piece in _pieces(content, entry.bytes):
                    file.write(piece)
                    crc = zlib.crc32(piece, crc)
                    digest.update(piece)
                    told.more(len(piece))
            if digest.hexdigest() != entry.sha256:
                raise BundleProblem(message("record-bundle-changed-while-packed", file=entry.name))
            file.seek(place)
            file.write(_local_header(entry.name, crc, entry.bytes))
            file.seek(0, os.SEEK_END)
            directory.append((entry, crc, place))
        file.write(_directory(directory))
        return file.tell()


class _Told:
    """Counts bytes and tells somebody."""

    def __init__(self, progress: OnProgress | None, total: int) -> None:
        self._progress = progress
        self._total = total
        self._done = 0

    def more(self, size: int) -> None:
        self._done += size
        if self._progress is not None:
            self._progress(self._done, self._total)


# --- reading ------------------------------------------------------------------------------------------------------


@contextlib.contextmanager
def _opened(path: Path) -> Iterator[BinaryIO]:
    try:
        with open_regular(path) as file:
            yield file
    except OSError as error:
        why = error.strerror or str(error)
        raise BundleProblem(message("record-bundle-unreadable", file=str(path), why=why)) from error


def open_bundle(path: Path, progress: OnProgress | None = None) -> Bundle:
    """Read a bundle and check every byte of it: container, manifest, chain of events, size and hash of each file.

    Nothing is written, and of the attachments nothing is kept in memory. BundleProblem says where it is damaged.
    """
    with _opened(path) as file:
        size = os.fstat(file.fileno()).st_size
        if size > LARGEST_BUNDLE:
            raise BundleProblem(message("record-bundle-huge", bundle=path.name, size=f"{size / 1e9:.1f} GB"))
        try:
            return _read(path, file, size, _Told(progress, size))
        except _Damage as damage:
            chain = damage.chain or _chain_of(_events_alone(file))
            whole = len(chain.events)
            told = message(
                "record-bundle-damaged",
                bundle=path.name,
                where=Several(tuple(damage.where)),
                whole=whole,
                bad=str(chain.bad) if whole and chain.bad is not None else "none",
            )
            raise BundleProblem(told, whole=whole, event=chain.bad, where=damage.where) from damage


class _Damage(Exception):
    """Where it is damaged. chain: the events in it, None while nobody looked."""

    def __init__(self, where: Sequence[Message], chain: Chain | None = None) -> None:
        super().__init__(*map(str, where))
        self.where = list(where)
        self.chain = chain


def _read(path: Path, file: BinaryIO, size: int, told: _Told) -> Bundle:
    front, front_crc, manifest = _read_front(file)
    told.more(file.tell())
    entries = _checked_names(manifest)
    where: list[Message] = []
    if size != (expected := _whole_size([front, *entries])):
        where.append(message("record-bundle-size", size=str(size), wanted=str(expected)))
    directory = [(front, front_crc, 0)]
    places: dict[str, int] = {}
    texts: list[str] = []
    chain = Chain([], [])
    for entry in entries:
        place, crc, digest = file.tell(), 0, hashlib.sha256()
        header = file.read(_LOCAL.size + len(entry.name))
        told.more(len(header))
        places[entry.name] = file.tell()
        kept = []
        for piece in _pieces(file, entry.bytes):
            crc = zlib.crc32(piece, crc)
            digest.update(piece)
            told.more(len(piece))
            if entry.name == EVENTS:
                kept.append(piece)
        if entry.name == EVENTS:
            texts, chain = _read_events(b"".join(kept), manifest)
            if chain.fault is not None:
                where.append(chain.fault)
        if digest.hexdigest() != entry.sha256:
            where.append(_changed(entry, chain.events))
        else:
            _compare(
                header,
                _local_header(entry.name, crc, entry.bytes),
                place,
                message("record-bundle-head-of", file=entry.name),
                where,
            )
        directory.append((entry, crc, place))
    ending = _directory(directory)
    told.more(len(ending))
    if not where:
        _compare(file.read(len(ending)), ending, size - len(ending), message("record-bundle-list"), where)
    if chain.bad is None:
        where += disagreements(manifest, chain.events)
    if where:
        raise _Damage(where, chain)
    return Bundle(path, manifest, texts, chain.events, chain.hashes, places)


def _read_front(file: BinaryIO) -> tuple[FileEntry, int, Manifest]:
    """The manifest, with its entry and CRC-32."""
    header = file.read(_LOCAL.size + len(MANIFEST))
    if len(header) < _LOCAL.size + len(MANIFEST):
        raise _Damage([message("record-bundle-no-manifest")])
    *_, crc, _, size, _, _ = _LOCAL.unpack_from(header)
    where: list[Message] = []
    _compare(header, _local_header(MANIFEST, crc, size), 0, message("record-bundle-head-of", file=MANIFEST), where)
    if size > LARGEST[MANIFEST]:
        where.append(message("record-bundle-claims", file=MANIFEST, size=str(size)))
    if where:
        raise _Damage(where)
    data = file.read(size)
    if len(data) < size or zlib.crc32(data) != crc:
        raise _Damage([message("record-bundle-bytes", file=MANIFEST)])
    try:
        return entry_of(MANIFEST, data), crc, read_manifest(data)
    except Refused as refused:
        raise _Damage([refused.told]) from refused


def _checked_names(manifest: Manifest) -> list[FileEntry]:
    """The entries that follow the manifest. Only names of ours in their order: nothing can lead out of a folder."""
    names = [f.name for f in manifest.files]
    for entry in manifest.files:
        of_ours = entry.name.startswith(ATTACHED) and attachments.is_name(entry.name.removeprefix(ATTACHED))
        if not of_ours and entry.name not in (EVENTS, PDF, PAGE) and not is_proof(entry.name):
            raise _Damage([message("record-bundle-strange-name", file=entry.name[:80])])
        if entry.bytes > _bound(entry.name):
            raise _Damage([message("record-bundle-claims", file=entry.name, size=str(entry.bytes))])
        if entry.left_out and (not of_ours or entry.bytes):
            raise _Damage([message("record-bundle-contradicts", file=entry.name)])
    if names[:1] != [EVENTS] or len(set(names)) < len(names) or manifest.files != _in_order(manifest.files):
        raise _Damage([message("record-bundle-order")])
    entries = [f for f in manifest.files if not f.left_out]
    if _whole_size(entries) > LARGEST_BUNDLE:
        raise _Damage([message("record-bundle-together")])
    return entries


def _compare(found: bytes, wanted: bytes, place: int, what: Message, where: list[Message]) -> None:
    if found != wanted:
        at = next((i for i, (a, b) in enumerate(zip(found, wanted, strict=False)) if a != b), len(found))
        where.append(message("record-bundle-byte", byte=str(place + at), what=what))


def _changed(entry: FileEntry, events: Sequence[Event]) -> Message:
    seq = first_named(events).get(entry.name.removeprefix(ATTACHED))
    if seq is None:
        return message("record-bundle-bytes", file=entry.name)
    return message("record-bundle-bytes-of", file=entry.name, event=str(seq))


def _read_events(lines: bytes, manifest: Manifest) -> tuple[list[str], Chain]:
    try:
        texts = split_lines(lines)
    except Refused as refused:
        chain = _chain_of(lines, manifest.head)
        bad = chain.bad or len(chain.events) + 1
        return [], Chain(chain.events, chain.hashes, bad, chain.fault or refused.told)
    chain = check_texts(texts, manifest.head)
    if chain.bad == len(texts) < manifest.events:
        whole = check_texts(texts)
        if whole.bad is None:
            # Cut between two events: those before the cut are good, though the last one does not end in the head.
            return texts, Chain(whole.events, whole.hashes, len(texts) + 1, message("record-lines-cut"))
    return texts, chain


def _chain_of(damaged: bytes, head: str | None = None) -> Chain:
    """The events in lines that are damaged somewhere."""
    lines = itertools.islice(io.BytesIO(damaged), MOST_EVENTS)
    return check_texts([line.removesuffix(b"\n").decode("utf-8", "replace") for line in lines], head)


def _events_alone(file: BinaryIO) -> bytes:
    """The events, found without the manifest."""
    file.seek(0)
    # No more than there is: reading makes room for what is asked for.
    front = file.read(min(LARGEST[MANIFEST] + LARGEST[EVENTS], os.fstat(file.fileno()).st_size))
    found = re.search(rb"events\.jsonl((?:\{[^\n]*\n?)+)", front)
    return found.group(1) if found is not None else b""


# --- taking in ----------------------------------------------------------------------------------------------------


def take_in(bundle: Bundle, folder: Path, progress: OnProgress | None = None) -> TakenIn:
    """Bring a bundle's day into `folder`: as a new day there, or by bringing the same day forward.

    The same day is the one whose first event is the same, whatever its file is called. A day that the bundle continues
    gets the events that it lacks; a bundle that the day continues adds none; so does the same bundle a second time. A
    new day is called by its date, and by a number too where another day of that date is there. Attachments come first,
    then all events in one transaction; a new day gets its name last. A kill on the way leaves the old state, with some
    attachments more, and the same call again finishes it. The daily log in the bundle is not unpacked: it is printed
    again from the events. Countersignatures and time stamps are kept beside the day; a roster and the page are not: who
    is to be known here is for this tablet to say.
    Errors: BundleProblem when both went on differently, when no day comes of its events, or when one of its seals or
    countersignatures is not good; LogProblem and its kinds when the day is open elsewhere, is damaged, or when the disk
    refuses. Then no event was added.
    """
    _refuse_nonsense(bundle)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with FileLock(folder / f"{_UNDER_WAY}.lock", timeout=0):
            shutil.rmtree(folder / _UNDER_WAY, ignore_errors=True)  # what a kill left
            existing = _same_day(folder, bundle.hashes[0])
            if existing is not None:
                return _bring_forward(bundle, existing, progress)
            return _settle_in(bundle, folder, progress)
    except Timeout:
        raise LogProblem(message("record-import-busy", folder=str(folder))) from None
    except OSError as error:
        why = error.strerror or str(error)
        raise LogProblem(message("record-import-not-written", folder=str(folder), why=why)) from error


def _refuse_nonsense(bundle: Bundle) -> None:
    """A chain of events proves that they are in order, not that a day comes of them, and what is appended stays."""
    try:
        prompt(fold(bundle.events), bundle.events[-1].at)
    except Exception as error:
        # Whatever breaks on them here would break on them each time the day is opened.
        why = f"{type(error).__name__}: {error}"[:200]
        raise BundleProblem(message("record-import-nonsense", bundle=bundle.path.name, why=why)) from error
    for check in check_seals(bundle.events, bundle.hashes):
        if check.why is not None:
            told = message("record-import-seal", event=str(check.seq), bundle=bundle.path.name, why=check.why)
            raise BundleProblem(told, whole=len(bundle.events))
    for entry in bundle.files:
        fault = _why_no_receipt(bundle, entry.name) if entry.name.startswith(RECEIPT) else None
        if fault is not None:
            told = message("record-import-receipt", file=entry.name, bundle=bundle.path.name, why=fault)
            raise BundleProblem(told, whole=len(bundle.events))


def _why_no_receipt(bundle: Bundle, name: str) -> Message | None:
    try:
        return why_of_another_record(read_receipt(bundle.read(name)), bundle.events, bundle.hashes)
    except ReceiptProblem as problem:
        return problem.told


def _same_day(folder: Path, first: str) -> Path | None:
    for path in sorted(folder.glob("*.db")):
        with contextlib.suppress(sqlite3.Error, UnicodeError), contextlib.closing(_looked_at(path)) as connection:
            row = connection.execute("SELECT hash FROM events WHERE seq=1").fetchone()
            if row is not None and row[0] == first:
                return path
    return None


def _looked_at(path: Path) -> sqlite3.Connection:
    # Only a day with a journal needs SQLite's sharing, which would leave files beside every day that is looked at.
    shared = path.with_name(path.name + "-wal").exists()
    return sqlite3.connect(f"{path.resolve().as_uri()}?mode=ro{'' if shared else '&immutable=1'}", uri=True)


def _bring_forward(bundle: Bundle, day: Path, progress: OnProgress | None) -> TakenIn:
    with DayLog.open(day) as log:
        for seq, (here, there) in enumerate(zip(log.hashes, bundle.hashes, strict=False), start=1):
            if here != there:
                told = message(
                    "record-import-forked",
                    bundle=bundle.path.name,
                    day=str(day),
                    event=str(seq - 1),
                    next=str(seq),
                    here=log.head,
                    there=bundle.head,
                )
                raise BundleProblem(told, whole=seq - 1, event=seq)
        files = _keep_files(bundle, day, progress)
        lacking = bundle.texts[len(log.texts) :]
        if lacking:
            log.append_texts(lacking)
        return TakenIn(day, len(log.texts), len(lacking), files, new=False, proofs=_keep_proofs(bundle, day))


def _settle_in(bundle: Bundle, folder: Path, progress: OnProgress | None) -> TakenIn:
    """Make the log in a folder of its own and move it to its name when it is whole."""
    day, lock = _free_day(folder, bundle.manifest.date)
    scratch = folder / _UNDER_WAY
    try:
        files = _keep_files(bundle, day, progress)
        try:
            with DayLog.create(scratch / day.name) as log:
                log.append_texts(bundle.texts)
        except DiskFull as problem:
            # It names a log that nobody knows of.
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC)) from problem
        # Closing moved everything into the main file (SQLite, "Write-Ahead Logging" §2.2), so it can move alone.
        if (scratch / f"{day.name}-wal").exists():
            raise OSError(errno.EIO, "the journal could not be emptied")
        (scratch / day.name).rename(day)
        with contextlib.suppress(FileNotFoundError):  # where it could not be written, it is when the day is opened
            lines_of(scratch / day.name).rename(lines_of(day))
        sync_folder(folder)
        count = len(bundle.texts)
        return TakenIn(day, count, count, files, new=True, proofs=_keep_proofs(bundle, day))
    finally:
        lock.release()
        shutil.rmtree(scratch, ignore_errors=True)


def _free_day(folder: Path, date: str) -> tuple[Path, FileLock]:
    """A name that no day has, and the lock under which a new day of that name would be made."""
    number = 1
    while True:
        day = folder / (f"{date}.db" if number == 1 else f"{date}-{number}.db")
        lock = FileLock(day.with_name(day.name + ".lock"), timeout=0)
        with contextlib.suppress(Timeout):
            lock.acquire()
            # A journal that was left alone would be played into a new day of its name; a second copy is a day's.
            if not any(part.exists() for part in (day, day.with_name(day.name + "-wal"), lines_of(day))):
                return day, lock
            lock.release()
        number += 1


def _keep_files(bundle: Bundle, day: Path, progress: OnProgress | None) -> int:
    """Write the attachments that the day lacks; how many these were."""
    files = [f for f in bundle.files if f.name.startswith(ATTACHED)]
    told = _Told(progress, sum(f.bytes for f in files))
    written = 0
    for entry in files:
        path = attachments.folder_of(day) / entry.name.removeprefix(ATTACHED)
        if not (path.is_file() and sha256_of(path) == entry.sha256):
            attachments.keep(day, bundle.read(entry.name), path.suffix)
            written += 1
        told.more(entry.bytes)
    return written


def _keep_proofs(bundle: Bundle, day: Path) -> int:
    """Keep the countersignatures and time stamps that the day lacks; how many these were. They come last, so that none
    lies beside a day that has not the events it is about."""
    kinds: tuple[tuple[str, ProofKind], ...] = ((RECEIPT, "receipt"), (STAMP, "stamp"))
    new = 0
    for front, kind in kinds:
        for entry in bundle.files:
            if entry.name.startswith(front):
                new += keep_beside(day, kind, bundle.read(entry.name))[1]
    return new
