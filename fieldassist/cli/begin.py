"""`fieldassist begin`: a new day from a plan file."""

from __future__ import annotations

from pathlib import Path

from fieldassist.checklist.loader import load_folder, load_plan
from fieldassist.cli.parser import FILE, FOLDER, OK, Argument, Job, Option
from fieldassist.cli.problems import told
from fieldassist.cli.terminal import Terminal
from fieldassist.day.clock import SystemClock
from fieldassist.day.session import Day
from fieldassist.places import shipped
from fieldassist.trade.message import message


def _begin(terminal: Terminal, plan: Path, day: Path, checklists: Path | None) -> int:
    planned = load_plan(plan)
    known, refused = load_folder(checklists or shipped("checklists"))
    for wrong in refused:
        terminal.warn(told(wrong))
    with Day.begin(day, planned, known, SystemClock(), terminal.words.language) as opened:
        terminal.tell(message("cli-begun", day=str(day), areas=len(planned.areas)))
        terminal.using(opened.words).tell(opened.prompt.say)
    return OK


job = Job(
    "begin",
    _begin,
    Argument("plan", metavar="PLAN", type=FILE),
    Argument("day", metavar="DAY", type=FILE),
    Option("--checklists", metavar="DIR", type=FOLDER),
)
