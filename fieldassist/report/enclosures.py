"""The record that goes with the daily PDF as attached files, so that the PDF alone can be verified.

Attached are events.jsonl (the stored text of each event, one a line), sounds and the copies of photos under attached/,
as far as they fit, sequence.csv and sequence.json (`report.sequence`), and manifest.json, which names all of them with
size and hash; see `record.manifest`. A photo itself stays in the day's folder and goes into the bundle, once; where no
copy of it was made, or there is no whole one, it is attached.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import Literal

from fieldassist import __version__
from fieldassist.checklist.events import Event
from fieldassist.record import attachments
from fieldassist.record.disk import sha256_of
from fieldassist.record.log import DayLog
from fieldassist.record.manifest import (
    ATTACHED,
    EVENTS,
    MANIFEST,
    MOST_FILES,
    FileEntry,
    attached,
    copies,
    entry_of,
    first_named,
    join_lines,
    manifest_of,
    unkept,
)
from fieldassist.trade.message import Refused, message

# Room for 190 copies of the largest size (`record.picture.COPY_BYTES`); the bundle has everything. Ours.
LARGEST_TOGETHER = 64_000_000


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
    """An attachment that belongs into the PDF and is not in it, and why."""

    name: str
    why: Literal["missing", "damaged", "too large"]


@dataclass(frozen=True, slots=True)
class Enclosures:
    """Files to attach, by name, in order.

    left_out: what of the day's attachments belongs among them and is not; in_bundle: the photos that are not because
    their copies are, each with its copy; lacking: the files that are not there by name, each with the event that speaks
    of it first; loose: the same of those that are not named by their content, and cannot be told from any other file.
    """

    files: dict[str, bytes]
    left_out: tuple[LeftOut, ...]
    in_bundle: Mapping[str, str]
    lacking: tuple[tuple[int, str], ...]
    loose: tuple[tuple[int, str], ...]

    def picture(self, name: str) -> bytes | None:
        """What is printed of a photo: its copy, or the file itself; None where neither is attached."""
        return self.files.get(ATTACHED + self.in_bundle.get(name, name))


NOTHING_ENCLOSED = Enclosures({}, (), {}, (), ())


def enclose(record: Record, made: Mapping[str, bytes] = MappingProxyType({})) -> Enclosures:
    """What is attached to the PDF of `record`, whose first event opens the day.

    made: files that are made of the record, by name. Files that are missing or are not what the events say are left
    out; so are the largest ones, where all together have more than 64 MB. What is chosen depends on nothing but what
    can be attached: a PDF's own attachments give the same choice again. CannotWrite when the day speaks of more files
    than a manifest can name.
    """
    spoken_of = attached(record.events)
    if len(spoken_of) >= MOST_FILES:
        raise CannotWrite(message("report-too-many-files", count=len(spoken_of)))
    copied = {name: copy for name, copy in copies(record.events).items() if copy in spoken_of}
    # A photo of which there is a whole copy, unless it is itself the copy of another.
    stays = {
        name
        for name, copy in copied.items()
        if name not in copied.values() and _is_whole(record.attachments, copy, spoken_of[copy])
    }
    chosen: dict[str, bytes] = {}
    left_out: dict[str, LeftOut] = {}
    together = 0
    for name in sorted(spoken_of.keys() - stays, key=lambda n: (_size(record.attachments, n), n)):
        size = _size(record.attachments, name)
        data = _read(record.attachments, name) if together + size <= LARGEST_TOGETHER else b""
        if data is None:
            left_out[name] = LeftOut(name, "missing")
        elif together + size > LARGEST_TOGETHER:
            left_out[name] = LeftOut(name, "too large")
        elif hashlib.sha256(data).hexdigest() != spoken_of[name]:
            left_out[name] = LeftOut(name, "damaged")
        else:
            together += len(data)
            chosen[name] = data
    files = {EVENTS: join_lines(record.texts), **made}
    entries = [entry_of(name, data) for name, data in files.items()]
    for name, digest in sorted(spoken_of.items()):
        data = chosen.get(name)
        if data is None:
            entries.append(FileEntry(name=ATTACHED + name, bytes=0, sha256=digest, left_out=True))
        else:
            files[ATTACHED + name] = data
            entries.append(FileEntry(name=ATTACHED + name, bytes=len(data), sha256=digest))
    files[MANIFEST] = manifest_of(record.events, record.hashes[-1], entries, record.program)
    # From what is attached alone, so that whoever has nothing else is told the same.
    in_bundle = {name: copy for name, copy in copied.items() if copy in chosen and name not in chosen}
    lacking = spoken_of.keys() - chosen.keys() - in_bundle.keys()
    first = first_named(record.events)
    return Enclosures(
        files=files,
        left_out=tuple(left_out[name] for name in sorted(left_out)),
        in_bundle=in_bundle,
        lacking=tuple(sorted((first[name], name) for name in lacking)),
        loose=tuple(unkept(record.events)),
    )


def _size(folder: Path | None, name: str) -> int:
    try:
        return (folder / name).stat().st_size if folder is not None else 0
    except OSError:
        return 0


def _is_whole(folder: Path | None, name: str, digest: str) -> bool:
    try:
        return folder is not None and sha256_of(folder / name) == digest
    except OSError:
        return False


def _read(folder: Path | None, name: str) -> bytes | None:
    try:
        return (folder / name).read_bytes() if folder is not None else None
    except OSError:
        return None
