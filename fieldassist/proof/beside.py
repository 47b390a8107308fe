"""What came with a record and is no part of it: countersignatures, time stamps and a roster. Each is told, and what a
known key signed in it is a trusted time: the record was there by then."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from fieldassist.checklist.events import DayOpened
from fieldassist.checklist.plan import DayKind
from fieldassist.checklist.told import write_figure
from fieldassist.files import read_regular
from fieldassist.proof.known import Known
from fieldassist.proof.verdict import DAMAGED, UNSEALED, Findings, short, short_name
from fieldassist.record.beside import ProofKind, proofs_beside
from fieldassist.record.bundle import Bundle
from fieldassist.record.chain import Chain
from fieldassist.record.manifest import LARGEST_PROOF, RECEIPT, ROSTER, STAMP
from fieldassist.record.receipt import Receipt, ReceiptProblem, read_receipt, why_of_another_record
from fieldassist.record.roster import Roster, RosterEntry, RosterProblem, read_roster


@dataclass(frozen=True, slots=True)
class CameWith:
    """receipts, stamps: countersignatures and time stamps, by their files' names; roster: None where none came; later:
    the names of those that may have come after the record was copied, and so may be about more of it."""

    receipts: tuple[tuple[str, bytes], ...] = ()
    roster: bytes | None = None
    stamps: tuple[tuple[str, bytes], ...] = ()
    later: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Witness:
    """Somebody other than the crew, who is known: by `at` the record had at least its first `covers` events."""

    covers: int
    at: datetime


def came_in(bundle: Bundle) -> CameWith:
    """What came in a bundle, or lies beside it."""
    names = [entry.name for entry in bundle.files]
    beside = came_beside_copy(bundle.path)
    receipts, stamps = (
        tuple((name, bundle.read(name)) for name in names if name.startswith(kind)) for kind in (RECEIPT, STAMP)
    )
    roster = bundle.read(ROSTER) if ROSTER in names else None
    return CameWith(_one_each(receipts + beside.receipts), roster, _one_each(stamps + beside.stamps), beside.later)


def _one_each(files: tuple[tuple[str, bytes], ...]) -> tuple[tuple[str, bytes], ...]:
    """Those that came twice are told once."""
    first: dict[bytes, str] = {}
    for name, data in files:
        first.setdefault(data, name)
    return tuple((name, data) for data, name in first.items())


def came_beside(path: Path) -> CameWith:
    """What lies beside a day's log."""
    return CameWith(_beside(path, "receipt"), stamps=_beside(path, "stamp"))


def came_beside_copy(path: Path) -> CameWith:
    """What lies beside a PDF or a bundle, which the day may have left behind."""
    came = came_beside(path)
    return replace(came, later=frozenset(name for name, _ in came.receipts))


def _beside(path: Path, kind: ProofKind) -> tuple[tuple[str, bytes], ...]:
    return tuple((f"{file.parent.name}/{file.name}", _bytes(file)) for file in proofs_beside(path, kind))


def _bytes(file: Path) -> bytes:
    try:
        return read_regular(file, LARGEST_PROOF)
    except OSError:
        return b""  # which proves nothing


# --- a roster that came along ----------------------------------------------------------------------------------------


def with_newer_roster(known: Known, came: CameWith, found: Findings) -> Known:
    """What the reader knows, with the roster that came along where it is a newer one of the reader's own.

    By itself it proves nothing: whoever makes a record makes a roster for it. But where the reader has one already, and
    the same key signed both, the newer one says who joined, and who was revoked since.
    """
    if came.roster is None:
        return known
    try:
        roster = read_roster(came.roster)
    except RosterProblem as problem:
        found.say("roster-not-good", UNSEALED, why=short(problem.told))
        return known
    newer = known.roster is not None and _goes_on(known.roster, roster)
    found.say(
        "roster-inside",
        firm=short_name(roster.firm),
        name=short_name(roster.signed.name),
        made=roster.made,
        key=roster.fingerprint,
        use="same" if known.roster == roster else "newer" if newer else "none",
    )
    return replace(known, roster=roster) if newer else known


def _goes_on(mine: Roster, other: Roster) -> bool:
    same = (mine.signed, mine.firm, mine.practice) == (other.signed, other.firm, other.practice)
    return same and datetime.fromisoformat(other.made) > datetime.fromisoformat(mine.made)


# --- countersignatures -----------------------------------------------------------------------------------------------


def check_receipts(chain: Chain, came: CameWith, known: Known, found: Findings) -> tuple[Witness, ...]:
    """Tell each countersignature; those of known keys witness. One that is about another record than this is as bad as
    a broken seal: the record was made anew, or cut. Only a copy may be older than what lies beside it."""
    opened = chain.events[0].body if chain.events else None
    kind: DayKind = opened.kind if isinstance(opened, DayOpened) else "work"
    witnesses: list[Witness] = []
    facts = []
    for file, data in came.receipts:
        try:
            receipt = read_receipt(data)
            why = why_of_another_record(receipt, chain.events, chain.hashes)
        except ReceiptProblem as problem:
            receipt, why = None, problem.told
        fact: dict[str, object] = {"file": file, "good": why is None, "why": None if why is None else write_figure(why)}
        if receipt is not None:
            is_known = _is_known(receipt, known, kind)
            fact |= receipt.model_dump(mode="json", exclude={"receipt", "signature"})
            fact |= {"fingerprint": receipt.fingerprint, "known": is_known}
            if why is None:
                _tell(receipt, len(chain.events), is_known, found)
                if is_known:
                    witnesses.append(Witness(receipt.events, datetime.fromisoformat(receipt.at)))
        if why is not None:
            older = why.code == "record-receipt-cut" and file in came.later
            found.say("receipt-not-good", UNSEALED if older else DAMAGED, file=short_name(file), why=short(why))
        facts.append(fact)
    found.facts["receipts"] = facts
    return tuple(witnesses)


def _tell(receipt: Receipt, events: int, is_known: bool, found: Findings) -> None:
    found.say(
        "receipt",
        name=short_name(receipt.name),
        role=receipt.role,
        at=receipt.at,
        events=str(receipt.events),
        key=receipt.fingerprint,
        known="yes" if is_known else "no",
        later=events - receipt.events,
    )


def _is_known(receipt: Receipt, known: Known, kind: DayKind) -> bool:
    if known.roster is None:
        return False
    at = datetime.fromisoformat(receipt.at)
    entry = known.roster.entry_for(receipt.public_key, receipt.name, receipt.role, at, kind=kind)
    return isinstance(entry, RosterEntry)


def proven_times(witnesses: Sequence[Witness], seq: int) -> tuple[datetime, ...]:
    """The trusted times by which event `seq` was there."""
    return tuple(witness.at for witness in witnesses if witness.covers >= seq)
