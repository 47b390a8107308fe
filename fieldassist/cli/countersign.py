"""`fieldassist countersign`: owner or inspector signs a sealed day's head; what somebody else signed is taken in."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from fieldassist.cli.asking import ask_unseen, keyring
from fieldassist.cli.parser import FILE, MISUSED, OK, Argument, Job, Option, people_option
from fieldassist.cli.terminal import Terminal
from fieldassist.day.clock import SystemClock
from fieldassist.proof.countersigning import sealed_head_in, why_not_of
from fieldassist.record.beside import keep_beside
from fieldassist.record.receipt import Receipt, load_receipt, make_receipt, read_receipt, write_receipt
from fieldassist.trade.message import Message, message


def _countersign(
    terminal: Terminal, file: Path, by: str | None, out: Path | None, take: Path | None, people: Path | None
) -> int:
    if take is not None:
        return _take(terminal, file, take)
    if by is None:
        terminal.warn(message("cli-countersign-who"))
        return MISUSED
    name = by.lower()
    sealed = sealed_head_in(file)
    now = SystemClock().now()
    key = keyring(people, sealed.kind).unlock(name, ask_unseen(terminal, message("cli-ask-pin", name=name)), now)
    receipt = make_receipt(sealed, key, datetime.fromisoformat(now.wall))
    if out is None:
        out, _ = keep_beside(file, "receipt", receipt.to_bytes())
    else:
        write_receipt(out, receipt)
    terminal.tell(_told("cli-countersigned", out, receipt))
    return OK


def _take(terminal: Terminal, file: Path, take: Path) -> int:
    data = load_receipt(take)
    receipt = read_receipt(data)
    why = why_not_of(file, receipt)
    if why is not None:
        terminal.warn(message("cli-countersign-not-taken", file=str(take), why=why))
        return MISUSED
    kept, new = keep_beside(file, "receipt", data)
    terminal.tell(_told("cli-countersign-taken" if new else "cli-countersign-here", kept, receipt))
    return OK


def _told(code: str, file: Path, receipt: Receipt) -> Message:
    told = {"name": receipt.name, "at": receipt.at, "events": str(receipt.events), "key": receipt.fingerprint}
    return message(code, file=str(file), head=receipt.head, **told)


job = Job(
    "countersign",
    _countersign,
    Argument("file", metavar="FILE", type=FILE),
    Option("--by", metavar="NAME"),
    Option("--out", metavar="FILE", type=FILE),
    Option("--take", metavar="FILE", type=FILE),
    people_option(),
)
