"""A countersignature: the owner or an inspector signs, with a key of their own, the head that a sealed day had.

The crew's seal says who did the work. What it cannot say is that the record which is handed over later is the one that
was there that evening: the same key could seal another, or leave an addendum out. Whoever countersigns takes the head
away from the tablet: a record that has not this head is not the one that they saw, and events after it came later. The
time in it is that of the countersigner's clock.

It is one file of canonical JSON (RFC 8785). Signed (Ed25519, RFC 8032) is the same without the signature.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Annotated, Any, Literal

import rfc8785
from pydantic import BaseModel, ConfigDict, Field, ValidationError

from fieldassist.checklist.events import DayOpened, Event
from fieldassist.checklist.plan import DayKind, SpokenName
from fieldassist.files import read_regular
from fieldassist.record.disk import whole_file
from fieldassist.record.keys import SigningKey, fingerprint
from fieldassist.record.manifest import LARGEST_PROOF, MOST_EVENTS, Hash
from fieldassist.record.roster import WallTime, written_time
from fieldassist.record.seal import check_seals, not_for
from fieldassist.record.signature import is_signed
from fieldassist.trade.message import Message, Refused, message


class ReceiptProblem(Refused):
    """A countersignature cannot be made, read or believed; `told` says why."""


@dataclass(frozen=True, slots=True)
class SealedHead:
    """What is countersigned: the whole of a sealed day. events: their number; head: the hash in which they end."""

    site: str
    date: str
    kind: DayKind
    events: int
    head: str


class Receipt(BaseModel):
    """A countersignature, as it is written. events: how many the record had; head: the hash of the last of them; at:
    wall time of the countersigner's machine."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    receipt: Literal["fieldassist receipt 1"] = "fieldassist receipt 1"
    site: str
    date: str
    events: Annotated[int, Field(ge=1, le=MOST_EVENTS)]
    head: Hash
    name: SpokenName
    role: Literal["owner", "inspector"]
    at: WallTime
    public_key: Hash
    signature: Annotated[str, Field(pattern=r"^[0-9a-f]{128}$")]

    @property
    def fingerprint(self) -> str:
        """That of the key that signed."""
        return fingerprint(self.public_key)

    def statement(self) -> bytes:
        """What is signed."""
        return rfc8785.dumps(self.model_dump(mode="json", exclude={"signature"}))

    def to_bytes(self) -> bytes:
        """The countersignature as it is stored."""
        return rfc8785.dumps(self.model_dump(mode="json"))


def sealed_head(events: Sequence[Event], hashes: Sequence[str]) -> SealedHead:
    """What can be countersigned of a record: all of it, where its last event is a good seal. ReceiptProblem else."""
    opened = events[0].body if events else None
    if not isinstance(opened, DayOpened):
        raise ReceiptProblem(message("record-receipt-no-day"))
    checks = check_seals(events, hashes)
    if not checks or not checks[-1].good or checks[-1].seq != len(events):
        raise ReceiptProblem(message("record-receipt-unsealed"))
    return SealedHead(opened.plan.site, opened.plan.date, opened.kind, len(events), hashes[-1])


def make_receipt(sealed: SealedHead, key: SigningKey, at: datetime) -> Receipt:
    """A countersignature with the key of an owner or inspector. ReceiptProblem where the key is for another role, or
    for practice where the day is work (or the other way round)."""
    if key.role.value not in ("owner", "inspector"):
        raise ReceiptProblem(message("record-receipt-role", name=key.name, role=key.role.value))
    wrong = not_for(sealed.kind, key)
    if wrong is not None:
        raise ReceiptProblem(wrong)
    given: dict[str, Any] = {
        "site": sealed.site,
        "date": sealed.date,
        "events": sealed.events,
        "head": sealed.head,
        "name": key.name,
        "role": key.role.value,
        "at": written_time(at),
        "public_key": key.public_key,
        "signature": "0" * 128,
    }
    unsigned = Receipt.model_validate(given)
    return unsigned.model_copy(update={"signature": key.sign(unsigned.statement()).hex()})


def read_receipt(data: bytes) -> Receipt:
    """The countersignature in these bytes, which have to be in the one form in which it is written, and well signed.

    Errors: ReceiptProblem.
    """
    try:
        receipt = Receipt.model_validate_json(data[: LARGEST_PROOF + 1])
    except ValidationError as error:
        raise ReceiptProblem(message("record-receipt-none")) from error
    if receipt.to_bytes() != data:
        raise ReceiptProblem(message("record-receipt-form"))
    if not is_signed(receipt.statement(), receipt.public_key, receipt.signature):
        raise ReceiptProblem(message("record-receipt-signature", name=receipt.name))
    return receipt


def write_receipt(path: Path, receipt: Receipt) -> None:
    """Write a countersignature, whole or not at all. ReceiptProblem when the disk refuses."""
    try:
        with whole_file(path) as file:
            file.write(receipt.to_bytes())
    except OSError as error:
        why = error.strerror or str(error)
        raise ReceiptProblem(message("record-receipt-not-written", file=str(path), why=why)) from error


def load_receipt(path: Path) -> bytes:
    """The bytes of a file that should be a countersignature. ReceiptProblem when it cannot be read."""
    try:
        return read_regular(path, LARGEST_PROOF)
    except OSError as error:
        why = error.strerror or str(error)
        raise ReceiptProblem(message("record-receipt-no-file", file=str(path), why=why)) from error


def why_of_another_record(receipt: Receipt, events: Sequence[Event], hashes: Sequence[str]) -> Message | None:
    """Why a well signed countersignature is not about this record; None where it is."""
    opened = events[0].body if events else None
    if not isinstance(opened, DayOpened) or (receipt.site, receipt.date) != (opened.plan.site, opened.plan.date):
        return message("record-receipt-other-day")
    if receipt.events > len(hashes):
        return message("record-receipt-cut", signed=str(receipt.events), events=str(len(hashes)))
    if hashes[receipt.events - 1] != receipt.head:
        return message("record-receipt-head", event=str(receipt.events))
    return None
