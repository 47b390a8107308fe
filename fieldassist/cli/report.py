"""`fieldassist report`: the daily PDF of a day, the signed one where there is one."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

from fieldassist.checklist.events import DayOpened, DaySealed
from fieldassist.cli.asking import ask_unseen, keyring
from fieldassist.cli.parser import (
    FAILED,
    FILE,
    MISUSED,
    OK,
    Job,
    Option,
    day_argument,
    documents_option,
    people_option,
    units_option,
)
from fieldassist.cli.problems import told
from fieldassist.cli.progress import shown
from fieldassist.cli.terminal import Terminal
from fieldassist.day.clock import SystemClock
from fieldassist.facts.build import NoFacts
from fieldassist.record.keys import KeyProblem
from fieldassist.record.log import DayLog
from fieldassist.report.enclosures import CannotWrite
from fieldassist.report.signed import hand_out, sign_pages
from fieldassist.trade.message import message


def _report(
    terminal: Terminal,
    day: Path,
    out: Path | None,
    units: Literal["metric", "us"] | None,
    documents: str | None,
    sign: bool,
    people: Path | None,
) -> int:
    out = out or day.with_name("daily-log.pdf")
    with DayLog.open(day, read_only=True) as log:
        try:
            if sign:
                _sign(terminal, log, units, people)
            made = hand_out(
                log,
                out,
                units=None if sign else units,
                language=documents,
                progress=shown(terminal.say("progress-daily-log")),
            )
        except KeyProblem as problem:
            terminal.warn(problem.told)
            return FAILED
        except (CannotWrite, NoFacts) as problem:
            terminal.warn(told(problem))
            return MISUSED
    for left in made.left_out:
        terminal.warn(message("cli-left-out", name=left.name, why=left.why))
    terminal.tell(message("cli-reported", file=str(out), pages=made.pages, signed="yes" if made.signed else "no"))
    return OK


def _sign(terminal: Terminal, log: DayLog, units: Literal["metric", "us"] | None, people: Path | None) -> None:
    """Make the signed file of a day that was sealed without one, with the PIN of whoever sealed it."""
    seal = log.events[-1].body if log.events else None
    opened = log.events[0].body if log.events else None
    if not isinstance(seal, DaySealed) or not isinstance(opened, DayOpened):
        raise CannotWrite(message("report-not-sealed-to-its-end"))
    now = SystemClock().now()
    pin = ask_unseen(terminal, message("cli-ask-pin", name=seal.name))
    sign_pages(log, keyring(people, opened.kind).unlock(seal.name, pin, now), now, units=units)


job = Job(
    "report",
    _report,
    day_argument(),
    Option("--out", metavar="PDF", type=FILE),
    units_option(),
    documents_option(),
    Option("--sign", is_flag=True),
    people_option(),
)
