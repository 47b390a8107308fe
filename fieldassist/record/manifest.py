"""What a day's record holds when it is handed over, in a bundle or attached to the daily PDF.

events.jsonl holds the stored text of each event (RFC 8785), one a line. manifest.json names every file with its size
and hash, and is canonical JSON too. Whoever has both can check the chain without this program.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Iterator, Sequence
from typing import Annotated, Literal

import rfc8785
from pydantic import BaseModel, ConfigDict, Field, ValidationError

from fieldassist.checklist.events import BackMeasured, DayOpened, Event, PhotoAttached
from fieldassist.checklist.plan import DayKind
from fieldassist.record import attachments
from fieldassist.trade.message import Message, Refused, message

MANIFEST, EVENTS, PDF, ATTACHED = "manifest.json", "events.jsonl", "daily-log.pdf", "attached/"
# The events as a table, made of them in the language of the pages that they go with.
SEQUENCE_CSV, SEQUENCE_JSON = "sequence.csv", "sequence.json"
# What proves a day and is no part of its log, and the page that checks a bundle without the program.
ROSTER, RECEIPT, STAMP, PAGE = "proof/roster.json", "proof/receipt-", "proof/stamp-", "verify.html"
_PROOF = re.compile(r"proof/(?:roster\.json|receipt-[1-9][0-9]?\.json|stamp-[1-9][0-9]?\.tsr)")
# Bounds, so that a file made to do harm costs little. A day is far below them: it has some thousand events of under a
# kilobyte, and a finger's signature that fills its field with strokes has 4 MB.
MOST_FILES = 5000
MOST_EVENTS = 100_000
LARGEST_TEXT = 8 * 1024 * 1024
LARGEST_MANIFEST = 4 * 1024 * 1024
LARGEST_FILE = 2**31 - 1
MOST_OF_A_KIND = 99
# Of a roster, a countersignature or a time stamp; and of the page.
LARGEST_PROOF = 256 * 1024
LARGEST_PAGE = 2 * 1024 * 1024

Hash = Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]


class FileEntry(BaseModel):
    """One file of a manifest. left_out: an event speaks of it, and it is not in here."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    name: str
    bytes: Annotated[int, Field(ge=0, le=LARGEST_FILE)]
    sha256: Hash
    left_out: bool = False


class Manifest(BaseModel):
    """What a bundle, or the record attached to a PDF, says that it holds. kind: written where it is not work."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True)

    bundle: Literal[1]
    date: str
    site: str
    events: Annotated[int, Field(ge=1, le=MOST_EVENTS)]
    head: Hash
    files: Annotated[list[FileEntry], Field(max_length=MOST_FILES)]
    program: Annotated[str, Field(max_length=200)]
    kind: DayKind = "work"


def is_proof(name: str) -> bool:
    """Whether a file of this name proves the day beside its log: a roster, a countersignature, a time stamp.

    >>> is_proof("proof/receipt-1.json"), is_proof("proof/receipt-0.json"), is_proof("proof/../roster.json")
    (True, False, False)
    """
    return _PROOF.fullmatch(name) is not None


def attached(events: Iterable[Event]) -> dict[str, str]:
    """The attachments that events speak of: name to SHA-256, in the order of the events.

    Only those that are named by their content; for the others see `unkept`.
    """
    found: dict[str, str] = {}
    for _, name, digest in _spoken_of(events):
        if _named_by_content(name, digest):
            found.setdefault(name, digest)
    return found


def copies(events: Iterable[Event]) -> dict[str, str]:
    """The photos of which a copy was made, each with its copy, by name. Pages show the copy, and it goes with them; the
    photo itself is in the day's folder and in its bundle."""
    return {
        body.file: body.copy_file
        for body in (event.body for event in events)
        if isinstance(body, PhotoAttached) and body.copy_file and body.copy_file != body.file
    }


def first_named(events: Iterable[Event]) -> dict[str, int]:
    """The number of the event that first speaks of an attachment, by its name."""
    found: dict[str, int] = {}
    for seq, name, _ in _spoken_of(events):
        found.setdefault(name, seq)
    return found


def unkept(events: Iterable[Event]) -> list[tuple[int, str]]:
    """Event number and name of files that events speak of and that are not named by their content."""
    return [(seq, name) for seq, name, digest in _spoken_of(events) if not _named_by_content(name, digest)]


def _spoken_of(events: Iterable[Event]) -> Iterator[tuple[int, str, str]]:
    for event in events:
        body = event.body
        if isinstance(body, PhotoAttached):
            yield event.seq, body.file, body.sha256
            if body.copy_file:
                yield event.seq, body.copy_file, body.copy_sha256
        elif isinstance(body, BackMeasured):
            yield event.seq, body.back.picture_file, body.back.picture_sha256
            yield event.seq, body.back.cells_file, body.back.cells_sha256
        else:
            # What was dictated: a remark, the answer to an open point, the foreman's word for a tile.
            audio: str | None = getattr(body, "audio", None)
            if audio is not None:
                yield event.seq, audio, getattr(body, "sha256", None) or ""


def _named_by_content(name: str, digest: str) -> bool:
    return attachments.is_name(name) and re.fullmatch("[0-9a-f]{64}", digest) is not None and name[:16] == digest[:16]


def manifest_of(events: Sequence[Event], head: str, files: Sequence[FileEntry], program: str) -> bytes:
    """The manifest of a day, as it is stored. events: of a day that was opened; program: its name and version."""
    opened = events[0].body
    assert isinstance(opened, DayOpened)
    date, site = opened.plan.date, opened.plan.site
    made = Manifest(
        bundle=1,
        date=date,
        site=site,
        events=len(events),
        head=head,
        files=list(files),
        program=program,
        kind=opened.kind,
    )
    return manifest_bytes(made)


def manifest_bytes(manifest: Manifest) -> bytes:
    """A manifest as it is stored: canonical JSON (RFC 8785)."""
    raw = manifest.model_dump(mode="json")
    for entry in raw["files"]:
        if not entry["left_out"]:
            del entry["left_out"]
    if manifest.kind == "work":
        del raw["kind"]
    return rfc8785.dumps(raw)


def read_manifest(data: bytes) -> Manifest:
    """The manifest in `data`, which has to be in the one form in which it is written. Errors: `Refused`."""
    if len(data) > LARGEST_MANIFEST:
        raise Refused(message("record-manifest-too-large"))
    try:
        manifest = Manifest.model_validate_json(data)
    except ValidationError as error:
        first = error.errors()[0]
        what = f"{'.'.join(map(str, first['loc']))}: {first['type']}"
        raise Refused(message("record-no-manifest", what=what)) from error
    if manifest_bytes(manifest) != data:
        raise Refused(message("record-manifest-form"))
    return manifest


def entry_of(name: str, data: bytes) -> FileEntry:
    """What a manifest says of a file."""
    return FileEntry(name=name, bytes=len(data), sha256=hashlib.sha256(data).hexdigest())


def join_lines(texts: Iterable[str]) -> bytes:
    """An events.jsonl of these texts."""
    return "".join(f"{text}\n" for text in texts).encode("utf-8")


def split_lines(data: bytes) -> list[str]:
    """The texts in an events.jsonl. `Refused` when it is no UTF-8, has no whole last line, or is beyond the bounds.

    >>> split_lines(b'{"seq":1}\\n{"seq":2}\\n')
    ['{"seq":1}', '{"seq":2}']
    """
    if not data.endswith(b"\n"):
        raise Refused(message("record-lines-cut"))
    if data.count(b"\n") > MOST_EVENTS:
        raise Refused(message("record-lines-many", most=MOST_EVENTS))
    try:
        texts = data.decode("utf-8").split("\n")[:-1]
    except UnicodeDecodeError as error:
        raise Refused(message("record-lines-no-text", byte=str(error.start))) from error
    if max(map(len, texts)) > LARGEST_TEXT:
        raise Refused(message("record-lines-long"))
    return texts


def disagreements(manifest: Manifest, events: Sequence[Event]) -> list[Message]:
    """Where the manifest and the events say different things."""
    opened = events[0].body if events else None
    if not isinstance(opened, DayOpened):
        return [message("record-opens-none")]
    found = []
    for what, said, is_so in (
        ("date", manifest.date, opened.plan.date),
        ("site", manifest.site, opened.plan.site),
        ("kind", manifest.kind, opened.kind),
        ("events", manifest.events, len(events)),
    ):
        if said != is_so:
            found.append(message(f"record-differs-{what}", said=str(said)[:80], so=str(is_so)[:80]))
    spoken_of = attached(events)
    listed = {f.name.removeprefix(ATTACHED): f.sha256 for f in manifest.files if f.name.startswith(ATTACHED)}
    for name in sorted(spoken_of.keys() | listed.keys()):
        if name not in listed:
            found.append(message("record-file-missing", file=name))
        elif name not in spoken_of:
            found.append(message("record-file-strange", file=name))
        elif listed[name] != spoken_of[name]:
            found.append(message("record-file-other-hash", file=name))
    return found
