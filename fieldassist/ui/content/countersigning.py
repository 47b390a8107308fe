"""What the owner or an inspector puts their name to: a sealed day, its parts, what was open, and its head."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from fieldassist.checklist.events import DaySigned, Event
from fieldassist.checklist.plan import Person, Role
from fieldassist.files import read_regular
from fieldassist.printable import printable
from fieldassist.record.beside import ProofKind, keep_beside, proofs_beside
from fieldassist.record.disk import whole_file
from fieldassist.record.keys import KeyHolder, Office
from fieldassist.record.manifest import LARGEST_PROOF
from fieldassist.record.receipt import (
    Receipt,
    ReceiptProblem,
    SealedHead,
    load_receipt,
    read_receipt,
    sealed_head,
    why_of_another_record,
)
from fieldassist.record.seal import check_seals
from fieldassist.trade.message import Figure, Message, Several, Text, message

# What may be brought in beside a day: countersignatures, and answers of a time-stamping authority.
BROUGHT_IN = (".json", ".tsr")


@dataclass(frozen=True, slots=True)
class Countersigned:
    """Somebody who countersigned. later: how many events came after what they saw."""

    told: Message
    later: int


@dataclass(frozen=True, slots=True)
class ToCountersign:
    """What is countersigned, and by whom it was so far.

    sealed: None where it cannot be countersigned, and `why` says why; parts: how many were sealed; sealers: who sealed,
    each once; left: what was open as the last of them signed; done: countersignatures beside the day that are of it;
    stamps: answers of time-stamping authorities beside it, of which nobody here says whose they are.
    """

    sealed: SealedHead | None
    why: Message | None
    parts: int
    sealers: tuple[str, ...]
    left: tuple[Message | Text, ...]
    done: tuple[Countersigned, ...]
    stamps: tuple[Message, ...] = ()


def to_countersign(
    events: Sequence[Event], hashes: Sequence[str], receipts: Iterable[bytes], stamps: Iterable[bytes] = ()
) -> ToCountersign:
    """The state of a day. hashes: computed from the log as stored; receipts, stamps: what lies beside it."""
    good = [check for check in check_seals(events, hashes) if check.good]
    signed = [event.body for event in events if isinstance(event.body, DaySigned)]
    sealed, why = None, None
    try:
        sealed = sealed_head(events, hashes)
    except ReceiptProblem as problem:
        why = problem.told
    return ToCountersign(
        sealed,
        why,
        len(good),
        tuple(dict.fromkeys(check.name for check in good)),
        signed[-1].open_points if signed else (),
        tuple(_done(receipts, events, hashes)),
        tuple(_stamped(stamps, hashes)),
    )


def _done(receipts: Iterable[bytes], events: Sequence[Event], hashes: Sequence[str]) -> Iterable[Countersigned]:
    for data in receipts:
        try:
            receipt = read_receipt(data)
        except ReceiptProblem:
            continue
        if why_of_another_record(receipt, events, hashes) is None:
            yield Countersigned(told(receipt), len(events) - receipt.events)


def _stamped(stamps: Iterable[bytes], hashes: Sequence[str]) -> Iterable[Message]:
    for data in stamps:
        # Whoever has no stamp does not wait for what reads them.
        from fieldassist.record.stamp import StampProblem, covered, read_stamp

        try:
            stamp = read_stamp(data)
            events = covered(stamp, hashes)
        except StampProblem:
            continue
        at = f"{stamp.at:%Y-%m-%d %H:%M:%S} UTC"
        yield message("countersign-stamp", authority=printable(stamp.authority)[:60], at=at, events=str(events))


def told(receipt: Receipt) -> Message:
    """Who countersigned and when."""
    return message("countersign-by", name=receipt.name, role=receipt.role, at=receipt.at[11:16], day=receipt.at[:10])


def lying_beside(day: Path, kind: ProofKind) -> tuple[bytes, ...]:
    """The countersignatures, or stamps, beside a day, as they stand there; what cannot be read is left out."""
    found: list[bytes] = []
    for path in proofs_beside(day, kind):
        try:
            found.append(read_regular(path, LARGEST_PROOF))
        except OSError:
            continue
    return tuple(found)


def take_in(day: Path, file: Path, events: Sequence[Event], hashes: Sequence[str]) -> None:
    """Keep beside its day what came from elsewhere: a countersignature, or the answer to a time-stamp request.

    ReceiptProblem and StampProblem where it is none of this day; LogProblem from the disk.
    """
    if file.suffix.lower() == ".tsr":
        from fieldassist.record.stamp import take_answer

        take_answer(day, hashes, file)
        return
    data = load_receipt(file)
    receipt = read_receipt(data)
    why = why_of_another_record(receipt, events, hashes)
    if why is not None:
        raise ReceiptProblem(why)
    keep_beside(day, "receipt", data)


def ask_for_stamp(day: Path, folder: Path, text: str, events: int) -> None:
    """Write a time-stamp request over the head of a day beside it, and the same into a folder. text: of its last event,
    of which there are so many. LogProblem, OSError from the disk."""
    from fieldassist.record.stamp import write_request

    request = write_request(day, text, events)
    with whole_file(folder / request.name) as file:
        file.write(request.read_bytes())


def may_countersign(
    holders: Iterable[KeyHolder], crew: Iterable[Person]
) -> tuple[tuple[str, Role | Office, bool], ...]:
    """Who can be asked: name, role, and whether they have a key here. Owners of the crew may have none yet."""
    found = {h.name: (h.name, h.role, True) for h in holders if h.role in (Role.OWNER, Office.INSPECTOR)}
    for person in crew:
        if person.role is Role.OWNER:
            found.setdefault(person.name, (person.name, person.role, False))
    return tuple(found.values())


def to_take_away(sealed: SealedHead) -> str:
    """What a camera takes along: site, date, number of events and head, a line each."""
    return "\n".join((sealed.site[:80], sealed.date, str(sealed.events), sealed.head))


def sealed_by(names: Sequence[str]) -> Figure:
    """Names in a row."""
    return Several(tuple(message("signing-name", name=name) for name in names), "and")
