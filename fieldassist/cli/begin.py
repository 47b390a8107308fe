"""`fieldassist begin`: a new day from a plan file."""

from __future__ import annotations

from pathlib import Path

from fieldassist.checklist.events import DayOpened
from fieldassist.checklist.loader import load_folder, load_plan
from fieldassist.cli.parser import FILE, FOLDER, OK, Argument, Job, Option
from fieldassist.cli.problems import told
from fieldassist.cli.terminal import Terminal
from fieldassist.day.before import read_before
from fieldassist.day.clock import SystemClock
from fieldassist.day.session import Day
from fieldassist.places import shipped
from fieldassist.trade.message import Several, message


def _begin(terminal: Terminal, plan: Path, day: Path, checklists: Path | None, continues: tuple[Path, ...]) -> int:
    planned = load_plan(plan)
    known, refused = load_folder(checklists or shipped("checklists"))
    for wrong in refused:
        terminal.warn(told(wrong))
    before = [read_before(earlier) for earlier in continues]
    with Day.begin(day, planned, known, SystemClock(), terminal.words.language, before=before) as opened:
        terminal.tell(message("cli-begun", day=str(day), areas=len(planned.areas)))
        tell_continued(terminal, opened)
        terminal.using(opened.words).tell(opened.prompt.say)
    return OK


def tell_continued(terminal: Terminal, day: Day) -> None:
    """From which days which areas go on, and how those days were left."""
    opened = day.log.events[0].body
    for earlier in opened.continues if isinstance(opened, DayOpened) else ():
        left = "sealed" if earlier.sealed else "signed" if earlier.signed else "open"
        names = Several(earlier.areas)
        terminal.tell(message("cli-continues", areas=names, date=earlier.date, head=earlier.head, left=left))


job = Job(
    "begin",
    _begin,
    Argument("plan", metavar="PLAN", type=FILE),
    Argument("day", metavar="DAY", type=FILE),
    Option("--checklists", metavar="DIR", type=FOLDER),
    Option("--continues", metavar="DAY", type=FILE, many=True),
)
