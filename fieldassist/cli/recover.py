"""`fieldassist recover`: what is whole of a damaged day."""

from __future__ import annotations

from pathlib import Path

from fieldassist.cli.parser import OK, Job, day_argument
from fieldassist.cli.terminal import Terminal
from fieldassist.day.clock import SystemClock
from fieldassist.day.session import Day
from fieldassist.places import tablet_data
from fieldassist.record.recover import recover
from fieldassist.record.tablet_days import TabletBook
from fieldassist.trade.message import Message, Several, message


def _recover(terminal: Terminal, day: Path) -> int:
    saved = recover(day)
    terminal.tell(
        message("cli-recovered", events=saved.events, day=str(day), damaged=str(saved.damaged), reason=saved.reason)
    )
    if saved.kept is not None:
        gaps = Several(tuple(_gap(first, last) for first, last in saved.missing), "and")
        terminal.tell(message("cli-recovered-behind", events=saved.behind, gaps=gaps, kept=str(saved.kept)))
    book = TabletBook(tablet_data())
    with Day.resume(day, SystemClock(), language=terminal.words.language, book=book) as opened:
        opened.note_recovered(saved.events, saved.behind, saved.missing)
    return OK


def _gap(first: int, last: int) -> Message:
    return message("cli-gap", first=str(first), last=str(last), count=last - first + 1)


job = Job("recover", _recover, day_argument())
