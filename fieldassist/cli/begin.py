"""`fieldassist begin`: a new day from a plan file."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from fieldassist.checklist.events import DayOpened
from fieldassist.checklist.loader import load_folder, load_plan
from fieldassist.checklist.plan import DayKind, DayPlan
from fieldassist.cli.parser import FILE, FOLDER, MISUSED, OK, Argument, Job, Option, trials_option
from fieldassist.cli.problems import told
from fieldassist.cli.terminal import Terminal
from fieldassist.day.before import read_before, read_released
from fieldassist.day.clock import SystemClock
from fieldassist.day.session import CannotOpen, Day
from fieldassist.places import shipped, tablet_data
from fieldassist.record.tablet_days import TabletBook
from fieldassist.trade.message import Several, message


def _begin(
    terminal: Terminal,
    plan: Path,
    day: Path,
    checklists: Path | None,
    continues: tuple[Path, ...],
    trials: tuple[Path, ...],
    today: bool,
) -> int:
    clock = SystemClock()
    planned = rest_on_trials(terminal, load_plan(plan), trials)
    if today:
        planned = planned.model_copy(update={"date": clock.now().wall[:10]})
    known, refused = load_folder(checklists or shipped("checklists"))
    for wrong in refused:
        terminal.warn(told(wrong))
    before = [read_before(earlier) for earlier in continues]
    book = TabletBook(tablet_data())
    try:
        begun = Day.begin(day, planned, known, clock, terminal.words.language, before=before, book=book)
    except CannotOpen as refusal:
        if refusal.told.code != "engine-plan-date":
            raise
        terminal.warn(refusal.told)
        terminal.warn(message("cli-begin-with-today"))
        return MISUSED
    with begun as opened:
        terminal.tell(message("cli-begun", day=str(day), areas=len(planned.areas)))
        tell_continued(terminal, opened)
        terminal.using(opened.words).tell(opened.prompt.say)
    return OK


def rest_on_trials(terminal: Terminal, plan: DayPlan, trials: Sequence[Path], kind: DayKind = "work") -> DayPlan:
    """The plan with what was released for its areas in the days of trials, and each of them told."""
    if not trials:
        return plan
    # It comes with the reckoning of trials, which no other day needs.
    from fieldassist.trial.released import with_released

    for day in trials:
        released = read_released(day, kind)
        plan = with_released(plan, released)
        for area in plan.areas:
            shown = area.mock_up.trial if area.mock_up is not None else None
            if shown is not None and any({area.key, area.name} & set(one.areas) for one in released):
                terminal.tell(message("cli-rests-on-trial", area=area.name, letter=shown.letter, date=shown.date))
        unknown = {name for one in released for name in one.areas} - {n for a in plan.areas for n in (a.key, a.name)}
        if unknown:
            terminal.warn(
                message("cli-released-for-others", file=str(day), areas=Several(tuple(sorted(unknown)), "and"))
            )
    return plan


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
    trials_option(),
    Option("--today", is_flag=True),
)
