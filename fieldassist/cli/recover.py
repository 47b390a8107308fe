"""`fieldassist recover`: what is whole of a damaged day."""

from __future__ import annotations

from pathlib import Path

from fieldassist.cli.parser import OK, Job, day_argument
from fieldassist.cli.terminal import Terminal
from fieldassist.record.log import recover
from fieldassist.trade.message import message


def _recover(terminal: Terminal, day: Path) -> int:
    saved = recover(day)
    terminal.tell(
        message("cli-recovered", events=saved.events, day=str(day), damaged=str(saved.damaged), reason=saved.reason)
    )
    return OK


job = Job("recover", _recover, day_argument())
