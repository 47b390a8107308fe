"""The chain of a day's events: what is hashed, and the one walk that reads it back, up to the first that does not fit.

Every event's text is canonical JSON (RFC 8785) and holds the hash of the text before it, so that a changed byte is
found and named. A log, a bundle, a PDF's record and what is left of a damaged file are all read by `walk`.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import rfc8785
from pydantic import ValidationError

from fieldassist.checklist.events import Event
from fieldassist.trade.message import Message, Refused, message

GENESIS = "0" * 64

# What json, pydantic and our own validators raise on a text made to do harm: all mean that it is no event.
UNREADABLE = (ValueError, ArithmeticError, LookupError, TypeError, AttributeError, RecursionError)


class Broken(Refused):
    """The chain ends before the event `seq`; `told` says why."""

    def __init__(self, seq: int, told: Message) -> None:
        super().__init__(told)
        self.seq = seq

    def __reduce__(self) -> tuple[type[Broken], tuple[int, Message]]:  # type: ignore[override]
        return type(self), (self.seq, self.told)


@dataclass(frozen=True, slots=True)
class StoredRow:
    """An event's text as it was stored, and what stands beside it in a log: None where nothing does."""

    text: object
    seq: object = None
    id: object = None
    hash: object = None


@dataclass(frozen=True, slots=True)
class Link:
    """An event that fits: read, as it stands, and the hash of its text."""

    event: Event
    text: str
    hash: str


@dataclass(frozen=True, slots=True)
class Chain:
    """The events that were read from rows, as far as they follow from each other.

    bad: the first event that does not fit, None when all do; fault: why.
    """

    events: list[Event]
    hashes: list[str]
    bad: int | None = None
    fault: Message | None = None


def canonical_text(event: Event, before: str) -> str:
    """What is hashed and stored: the event and the hash of the one before, as canonical JSON (RFC 8785)."""
    return rfc8785.dumps({**event.model_dump(mode="json"), "prev": before}).decode("utf-8")


def chain_hash(text: str) -> str:
    """SHA-256 of one canonical text, in hexadecimal."""
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def read_event(text: object, seq: int, before: str) -> Event:
    """The event in `text`, checked: number, link to the one before, canonical form. Errors: `Broken`."""
    if not isinstance(text, str):
        raise Broken(seq, message("record-text-gone", event=str(seq)))
    try:
        raw = _json(text)
        number = raw.get("seq")
        if isinstance(number, int) and number != seq:
            raise Broken(seq, message("record-elsewhere", event=str(number)[:40], place=str(seq)))
        if raw.pop("prev", None) != before:
            raise Broken(seq, message("record-link", event=str(seq)))
        event = Event.model_validate(raw)
        # The text itself, not the event written again: a log of an earlier version lacks what came to the events since.
        canonical = rfc8785.dumps({**raw, "prev": before}).decode("utf-8")
    except ValidationError as error:
        first = error.errors()[0]
        what = f"{'.'.join(map(str, first['loc']))}: {first['type']}"
        raise Broken(seq, message("record-no-event", event=str(seq), what=what)) from error
    except Broken:
        raise
    except UNREADABLE as error:
        raise Broken(seq, message("record-not-whole", event=str(seq), what=type(error).__name__)) from error
    if canonical != text:
        raise Broken(seq, message("record-form", event=str(seq)))
    return event


def number_and_link(text: object) -> tuple[int, str]:
    """The number of an event and the hash of the one before, as its text says them. Errors: `Broken`, event 0, where
    it says none."""
    try:
        raw = json.loads(text) if isinstance(text, str) else None
    except UNREADABLE:
        raw = None
    number, link = (raw.get("seq"), raw.get("prev")) if isinstance(raw, dict) else (None, None)
    if not isinstance(number, int) or isinstance(number, bool) or not isinstance(link, str):
        raise Broken(0, message("record-text-gone", event="0"))
    return number, link


def _json(text: str) -> dict[str, Any]:
    raw = json.loads(text)
    if not isinstance(raw, dict):
        raise ValueError("no JSON object")
    return raw


def walk(rows: Iterable[StoredRow], head: str | None = None) -> Iterator[Link]:
    """The events of a chain in order; raises `Broken` at the first that does not fit, after those before it.

    Parameters: rows, in order; head, the hash that the last one should have, if it is known.
    A text that was changed fits neither the link of the next event nor, if it is the last, the head. Which of two
    neighbours was changed is told by the one after them, so an event is given only once the next one was read. Without
    a head or a stored hash nothing tells of a change in the last one. What `rows` raises is raised after the events
    that came before it.
    """
    before, ids = GENESIS, set[str]()
    held: Link | None = None
    row: StoredRow | None
    source = iter(rows)
    seq = 0
    while True:
        seq, row = seq + 1, None
        try:
            row = next(source, None)
            if row is None:
                break
            link = _link(row, seq, before, ids)
        except Broken as broken:
            if held is not None and broken.told.code == "record-link" and _fits_next(row, source, before, head):
                # This one is what the next one expects, so it is the one before that was changed.
                raise Broken(seq - 1, message("record-next-link", event=str(seq - 1))) from broken
            if held is not None:
                yield held
            raise
        except Exception:
            if held is not None:
                yield held
            raise
        if held is not None:
            yield held
        held, before = link, link.hash
        ids.add(link.event.id)
    if head is not None and before != head:
        bad = max(seq - 1, 1)
        raise Broken(bad, message("record-head", event=str(bad)))
    if held is not None:
        yield held


def _link(row: StoredRow, seq: int, before: str, ids: set[str]) -> Link:
    if row.seq is not None and row.seq != seq:
        raise Broken(seq, message("record-row", row=str(row.seq)[:40], place=str(seq)))
    event = read_event(row.text, seq, before)
    assert isinstance(row.text, str)
    found = chain_hash(row.text)
    if event.id in ids:
        raise Broken(seq, message("record-id-twice", event=str(seq)))
    if row.id is not None and row.id != event.id:
        raise Broken(seq, message("record-id", event=str(seq)))
    if row.hash is not None and row.hash != found:
        raise Broken(seq, message("record-hash", event=str(seq)))
    return Link(event, row.text, found)


def _fits_next(row: StoredRow | None, source: Iterator[StoredRow], before: str, head: str | None) -> bool:
    """Whether an event that does not follow from the one before is the one that the next expects."""
    if row is None or not isinstance(row.text, str) or said_link(row.text) == before:
        return False
    try:
        following = next(source, None)
    except Exception:
        # What cannot be read tells nothing of its neighbours.
        return False
    wanted = head if following is None else said_link(following.text)
    return wanted is not None and chain_hash(row.text) == wanted


def said_link(text: object) -> object:
    """The hash of the event before, as a text says it; None for what does not say it."""
    try:
        raw = json.loads(text) if isinstance(text, str) else None
    except UNREADABLE:
        return None
    return raw.get("prev") if isinstance(raw, dict) else None


def chain_of(rows: Iterable[StoredRow], head: str | None = None) -> Chain:
    """All of `walk` at once, with where it broke."""
    events: list[Event] = []
    hashes: list[str] = []
    try:
        for link in walk(rows, head):
            events.append(link.event)
            hashes.append(link.hash)
    except Broken as broken:
        return Chain(events, hashes, broken.seq, broken.told)
    return Chain(events, hashes)


def check_texts(texts: Sequence[str], head: str | None = None) -> Chain:
    """Read events from their stored texts alone; head: as `walk`."""
    return chain_of(map(StoredRow, texts), head)
