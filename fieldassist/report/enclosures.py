"""The record that goes with the daily PDF as attached files, so that the PDF alone can be verified.

Attached are events.jsonl (the stored text of each event, one a line), the originals of photos and sounds under
attached/, as far as they fit, and manifest.json, which names all of them with size and hash; see `record.manifest`.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from fieldassist import __version__
from fieldassist.checklist.events import DayOpened, Event
from fieldassist.record import attachments
from fieldassist.record.log import DayLog
from fieldassist.record.manifest import (
    ATTACHED,
    EVENTS,
    MANIFEST,
    MOST_FILES,
    FileEntry,
    attached,
    entry_of,
    join_lines,
    manifest_of,
)
from fieldassist.trade.message import Refused, message

# What still goes by mail is small; the bundle has everything. Ours.
LARGEST_TOGETHER = 50_000_000


class CannotWrite(Refused):
    """The PDF could not be written; `told` says why and what was kept."""


@dataclass(frozen=True, slots=True)
class Record:
    """A day's events with their stored texts and the chain's hash after each; where its attachments lie; who prints.

    hashes: computed from `texts` as stored, as `DayLog` and `record.manifest.check_texts` do. attachments: the folder,
    None for none. program: name and version, as it stands in the manifest.
    """

    events: Sequence[Event]
    texts: Sequence[str]
    hashes: Sequence[str]
    attachments: Path | None
    program: str


def record_of(log: DayLog) -> Record:
    """The record of a log as it stands now."""
    folder = attachments.folder_of(log.path)
    return Record(tuple(log.events), tuple(log.texts), tuple(log.hashes), folder, f"fieldassist {__version__}")


@dataclass(frozen=True, slots=True)
class LeftOut:
    """An attachment that is not in the PDF, and why."""

    name: str
    why: Literal["missing", "damaged", "too large"]


@dataclass(frozen=True, slots=True)
class Enclosures:
    """Files to attach, by name, in order; what of the day's attachments is not among them."""

    files: dict[str, bytes]
    left_out: tuple[LeftOut, ...]

    def original(self, name: str) -> bytes | None:
        """The bytes of an attachment, or None when it is left out."""
        return self.files.get(ATTACHED + name)


def enclose(record: Record) -> Enclosures:
    """What is attached to the PDF of `record`.

    Files that are missing or are not what the events say are left out; so are the largest ones, where all together
    have more than 50 MB. What is chosen depends on nothing but what can be attached: a PDF's own attachments give the
    same choice again. CannotWrite when the first event opens no day, or when the day speaks of more files than a
    manifest can name.
    """
    if not isinstance(record.events[0].body, DayOpened):
        raise CannotWrite(message("report-opens-no-day"))
    spoken_of = attached(record.events)
    if len(spoken_of) >= MOST_FILES:
        raise CannotWrite(message("report-too-many-files", count=len(spoken_of)))
    originals: dict[str, bytes] = {}
    left_out: dict[str, LeftOut] = {}
    together = 0
    for name in sorted(spoken_of, key=lambda n: (_size(record.attachments, n), n)):
        data = _read(record.attachments, name)
        if data is None:
            left_out[name] = LeftOut(name, "missing")
        elif hashlib.sha256(data).hexdigest() != spoken_of[name]:
            left_out[name] = LeftOut(name, "damaged")
        elif together + len(data) > LARGEST_TOGETHER:
            left_out[name] = LeftOut(name, "too large")
        else:
            together += len(data)
            originals[name] = data
    files = {EVENTS: join_lines(record.texts)}
    entries = [entry_of(EVENTS, files[EVENTS])]
    for name, digest in sorted(spoken_of.items()):
        data = originals.get(name)
        if data is None:
            entries.append(FileEntry(name=ATTACHED + name, bytes=0, sha256=digest, left_out=True))
        else:
            files[ATTACHED + name] = data
            entries.append(FileEntry(name=ATTACHED + name, bytes=len(data), sha256=digest))
    files[MANIFEST] = manifest_of(record.events, record.hashes[-1], entries, record.program)
    return Enclosures(files, tuple(left_out[name] for name in sorted(left_out)))


def _size(folder: Path | None, name: str) -> int:
    try:
        return (folder / name).stat().st_size if folder is not None else 0
    except OSError:
        return 0


def _read(folder: Path | None, name: str) -> bytes | None:
    try:
        return (folder / name).read_bytes() if folder is not None else None
    except OSError:
        return None
