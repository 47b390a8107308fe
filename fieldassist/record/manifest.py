"""What a day's record holds when it is handed over, in a bundle or attached to the daily PDF.

events.jsonl holds the stored text of each event (RFC 8785), one a line. manifest.json names every file with its size
and hash, and is canonical JSON too. Whoever has both can check the chain without this program.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Annotated, Literal

import rfc8785
from pydantic import BaseModel, ConfigDict, Field, ValidationError

from fieldassist.checklist.events import DayOpened, Event, NoteMade, PhotoAttached
from fieldassist.record import attachments
from fieldassist.record.log import GENESIS, chain_hash, read_event

MANIFEST, EVENTS, PDF, ATTACHED = "manifest.json", "events.jsonl", "daily-log.pdf", "attached/"
# Bounds, so that a file made to do harm costs little. A day is far below them: it has some thousand events of under a
# kilobyte, and a finger's signature that fills its field with strokes has 4 MB.
MOST_FILES = 5000
MOST_EVENTS = 100_000
LARGEST_TEXT = 8 * 1024 * 1024
LARGEST_MANIFEST = 4 * 1024 * 1024
LARGEST_FILE = 2**31 - 1

# What json, pydantic and our own validators raise on a text made to do harm: all mean that it is no event.
_UNREADABLE = (ValueError, ArithmeticError, LookupError, TypeError, AttributeError, RecursionError)

Hash = Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]


class FileEntry(BaseModel):
    """One file of a manifest. left_out: an event speaks of it, and it is not in here."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    name: str
    bytes: Annotated[int, Field(ge=0, le=LARGEST_FILE)]
    sha256: Hash
    left_out: bool = False


class Manifest(BaseModel):
    """What a bundle, or the record attached to a PDF, says that it holds."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True)

    bundle: Literal[1]
    date: str
    site: str
    events: Annotated[int, Field(ge=1, le=MOST_EVENTS)]
    head: Hash
    files: Annotated[list[FileEntry], Field(max_length=MOST_FILES)]
    program: Annotated[str, Field(max_length=200)]


@dataclass(frozen=True, slots=True)
class Chain:
    """The events that were read from texts, as far as they follow from each other.

    bad: the first event that does not fit, None when all do; fault: why, in words.
    """

    events: list[Event]
    hashes: list[str]
    bad: int | None = None
    fault: str = ""


def attached(events: Iterable[Event]) -> dict[str, str]:
    """The attachments that events speak of: name to SHA-256, in the order of the events.

    Only those that are named by their content; for the others see `unkept`.
    """
    found: dict[str, str] = {}
    for _, name, digest in _spoken_of(events):
        if _named_by_content(name, digest):
            found.setdefault(name, digest)
    return found


def unkept(events: Iterable[Event]) -> list[tuple[int, str]]:
    """Event number and name of files that events speak of and that are not named by their content."""
    return [(seq, name) for seq, name, digest in _spoken_of(events) if not _named_by_content(name, digest)]


def _spoken_of(events: Iterable[Event]) -> Iterator[tuple[int, str, str]]:
    for event in events:
        body = event.body
        if isinstance(body, PhotoAttached):
            yield event.seq, body.file, body.sha256
        elif isinstance(body, NoteMade) and body.audio is not None:
            yield event.seq, body.audio, body.sha256 or ""


def _named_by_content(name: str, digest: str) -> bool:
    return attachments.is_name(name) and re.fullmatch("[0-9a-f]{64}", digest) is not None and name[:16] == digest[:16]


def check_texts(texts: Sequence[str], head: str | None = None) -> Chain:
    """Read events from their stored texts and find the first that was changed.

    Parameters: texts, in order; head, the hash that the last one should have, if it is known.
    A text that was changed fits neither the link of the next event nor, if it is the last, the head. Which of two
    neighbours was changed is told by the one after them. Without a head nothing tells of a change in the last one.
    """
    events: list[Event] = []
    hashes: list[str] = []
    ids: set[str] = set()
    before = GENESIS
    for seq, text in enumerate(texts, start=1):
        try:
            event = read_event(text, seq, before)
            if event.id in ids:
                raise ValueError(f"event {seq} has the id of an earlier one")
        except _UNREADABLE as error:
            link, number = _link_and_number(text)
            if isinstance(number, int) and number != seq:
                return Chain(events, hashes, seq, f"event {number} stands where event {seq} should be")
            wanted = _link_and_number(texts[seq])[0] if seq < len(texts) else head
            if seq > 1 and link != before and chain_hash(text) == wanted:
                # This one is what the next one expects, so it is the one before that was changed.
                return Chain(events[:-1], hashes[:-1], seq - 1, f"event {seq - 1} does not fit the link of the next")
            fault = f"event {seq} does not read as an event: {error}"
            return Chain(events, hashes, seq, str(error) if isinstance(error, ValueError) else fault)
        events.append(event)
        ids.add(event.id)
        before = chain_hash(text)
        hashes.append(before)
    if head is not None and before != head:
        bad = max(len(events), 1)
        return Chain(events[:-1], hashes[:-1], bad, f"event {bad} does not fit the head, or events after it are gone")
    return Chain(events, hashes)


def _link_and_number(text: str) -> tuple[object, object]:
    """What a text says about its place, None for what it does not say."""
    try:
        raw = json.loads(text)
    except _UNREADABLE:
        return None, None
    return (raw.get("prev"), raw.get("seq")) if isinstance(raw, dict) else (None, None)


def manifest_of(events: Sequence[Event], head: str, files: Sequence[FileEntry], program: str) -> bytes:
    """The manifest of a day, as it is stored. events: of a day that was opened; program: its name and version."""
    opened = events[0].body
    assert isinstance(opened, DayOpened)
    date, site = opened.plan.date, opened.plan.site
    made = Manifest(bundle=1, date=date, site=site, events=len(events), head=head, files=list(files), program=program)
    return manifest_bytes(made)


def manifest_bytes(manifest: Manifest) -> bytes:
    """A manifest as it is stored: canonical JSON (RFC 8785)."""
    raw = manifest.model_dump(mode="json")
    for entry in raw["files"]:
        if not entry["left_out"]:
            del entry["left_out"]
    return rfc8785.dumps(raw)


def read_manifest(data: bytes) -> Manifest:
    """The manifest in `data`, which has to be in the one form in which it is written. ValueError says what is wrong."""
    if len(data) > LARGEST_MANIFEST:
        raise ValueError("it is too large")
    try:
        manifest = Manifest.model_validate_json(data)
    except ValidationError as error:
        first = error.errors()[0]
        place = ".".join(str(part) for part in first["loc"])
        raise ValueError(f"it does not read as a manifest ({place}: {first['msg']})") from error
    if manifest_bytes(manifest) != data:
        raise ValueError("it is not in the form in which a manifest is written")
    return manifest


def entry_of(name: str, data: bytes) -> FileEntry:
    """What a manifest says of a file."""
    return FileEntry(name=name, bytes=len(data), sha256=hashlib.sha256(data).hexdigest())


def join_lines(texts: Iterable[str]) -> bytes:
    """An events.jsonl of these texts."""
    return "".join(f"{text}\n" for text in texts).encode("utf-8")


def split_lines(data: bytes) -> list[str]:
    """The texts in an events.jsonl. ValueError when it is no UTF-8, has no whole last line, or is beyond the bounds.

    >>> split_lines(b'{"seq":1}\\n{"seq":2}\\n')
    ['{"seq":1}', '{"seq":2}']
    """
    if not data.endswith(b"\n"):
        raise ValueError("its last line is not whole")
    if data.count(b"\n") > MOST_EVENTS:
        raise ValueError(f"it has more than {MOST_EVENTS} lines")
    texts = data.decode("utf-8").split("\n")[:-1]
    if max(map(len, texts)) > LARGEST_TEXT:
        raise ValueError("it has a line that is longer than any event")
    return texts


def disagreements(manifest: Manifest, events: Sequence[Event]) -> list[str]:
    """Where the manifest and the events say different things."""
    opened = events[0].body if events else None
    if not isinstance(opened, DayOpened):
        return ["its first event does not open a day"]
    found = []
    for what, said, is_so in (
        ("date", manifest.date, opened.plan.date),
        ("site", manifest.site, opened.plan.site),
        ("number of events", manifest.events, len(events)),
    ):
        if said != is_so:
            found.append(f"{MANIFEST} gives the {what} as {str(said)[:80]!r}, the events as {str(is_so)[:80]!r}")
    spoken_of = attached(events)
    listed = {f.name.removeprefix(ATTACHED): f.sha256 for f in manifest.files if f.name.startswith(ATTACHED)}
    for name in sorted(spoken_of.keys() | listed.keys()):
        if name not in listed:
            found.append(f"{name} is missing, and an event speaks of it")
        elif name not in spoken_of:
            found.append(f"{name} is in it, and no event speaks of it")
        elif listed[name] != spoken_of[name]:
            found.append(f"{MANIFEST} gives another hash of {name} than the event")
    return found
