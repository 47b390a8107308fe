"""`fieldassist report`: the daily PDF of a day."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

from fieldassist.cli.parser import FILE, MISUSED, OK, Job, Option, day_argument, units_option
from fieldassist.cli.problems import told
from fieldassist.cli.progress import shown
from fieldassist.cli.terminal import Terminal
from fieldassist.record.log import DayLog
from fieldassist.report.build import NoDay
from fieldassist.report.daily import CannotWrite, record_of, write_daily_pdf
from fieldassist.trade.message import message


def _report(terminal: Terminal, day: Path, out: Path | None, units: Literal["metric", "us"] | None) -> int:
    out = out or day.with_name("daily-log.pdf")
    with DayLog.open(day, read_only=True) as log:
        try:
            made = write_daily_pdf(record_of(log), out, units=units, progress=shown(terminal.say("progress-daily-log")))
        except (CannotWrite, NoDay) as problem:
            terminal.warn(told(problem))
            return MISUSED
    for left in made.left_out:
        terminal.warn(message("cli-left-out", name=left.name, why=left.why))
    terminal.tell(message("cli-reported", file=str(out), pages=made.pages))
    return OK


job = Job("report", _report, day_argument(), Option("--out", metavar="PDF", type=FILE), units_option())
