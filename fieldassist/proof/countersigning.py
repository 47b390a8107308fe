"""What is countersigned of somebody's file, and whether a countersignature is about it."""

from __future__ import annotations

from pathlib import Path

from fieldassist.proof.apart import apart, memory_for
from fieldassist.record.receipt import Receipt, SealedHead, sealed_head, why_of_another_record
from fieldassist.trade.message import Message


def sealed_head_in(path: Path) -> SealedHead:
    """What there is to countersign in a PDF, a bundle or a day's log. `Refused` where it is damaged or not sealed.

    As with `verify`, the reading is done in a process of its own with bounds.
    """
    found: SealedHead = apart(_sealed_head, path, memory=memory_for(path))
    return found


def why_not_of(path: Path, receipt: Receipt) -> Message | None:
    """Why a countersignature is not about the day in a file; None where it is. Errors as `sealed_head_in`."""
    why: Message | None = apart(_why_not, path, receipt, memory=memory_for(path))
    return why


def _sealed_head(scratch: Path, path: Path) -> SealedHead:
    from fieldassist.proof.held import read_held

    chain = read_held(path, scratch).chain
    return sealed_head(chain.events, chain.hashes)


def _why_not(scratch: Path, path: Path, receipt: Receipt) -> Message | None:
    from fieldassist.proof.held import read_held

    chain = read_held(path, scratch).chain
    return why_of_another_record(receipt, chain.events, chain.hashes)
