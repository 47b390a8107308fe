"""`fieldassist stamp`: a request over a day's head for a time-stamping authority, and its answer taken in."""

from __future__ import annotations

from pathlib import Path

from fieldassist.cli.parser import FILE, OK, Job, Option, day_argument
from fieldassist.cli.terminal import Terminal
from fieldassist.record.log import DayLog
from fieldassist.record.stamp import covered, read_root, take_answer, write_request
from fieldassist.trade.message import message


def _stamp(terminal: Terminal, day: Path, answer: Path | None, root: Path | None) -> int:
    with DayLog.open(day, read_only=True) as log:
        texts, hashes = tuple(log.texts), tuple(log.hashes)
    if answer is None:
        request = write_request(day, texts[-1], len(texts))
        terminal.tell(message("cli-stamp-asked", file=str(request), events=str(len(texts)), head=hashes[-1]))
        return OK
    stamp, kept = take_answer(day, hashes, answer, None if root is None else read_root(root))
    terminal.tell(
        message(
            "cli-stamp-taken",
            at=f"{stamp.at:%Y-%m-%d %H:%M:%S} UTC",
            authority=stamp.authority,
            events=str(covered(stamp, hashes)),
            file=str(kept),
            root="unknown" if root is None else "known",
        )
    )
    return OK


job = Job(
    "stamp",
    _stamp,
    day_argument(),
    Option("--take", "answer", metavar="TSR", type=FILE),
    Option("--root", metavar="PEM", type=FILE),
)
