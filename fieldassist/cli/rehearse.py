"""`fieldassist rehearse`: the skin over `rehearsal.play`."""

from __future__ import annotations

import sys
from datetime import date, datetime
from pathlib import Path

from fieldassist.checklist.loader import load_folder, load_plan
from fieldassist.cli.begin import rest_on_trials
from fieldassist.cli.parser import (
    FAILED,
    FILE,
    FOLDER,
    OK,
    Argument,
    Job,
    Option,
    date_option,
    speak_option,
    trials_option,
)
from fieldassist.cli.problems import told
from fieldassist.cli.progress import shown
from fieldassist.cli.speaking import counted, level_called
from fieldassist.cli.terminal import Terminal
from fieldassist.day.before import read_before
from fieldassist.places import shipped
from fieldassist.rehearsal.play import SEED, PlayedDay, days_after, play, prepare, write_mark
from fieldassist.rehearsal.script import read_script
from fieldassist.trade.message import Figure, message


def _rehearse(
    terminal: Terminal,
    plan: Path,
    scripts: tuple[Path, ...],
    out: Path,
    on: date | None,
    checklists: Path | None,
    continues: tuple[Path, ...],
    trials: tuple[Path, ...],
    seed: str,
    speak: str,
) -> int:
    planned = rest_on_trials(terminal, load_plan(plan), trials, "rehearsal")
    read = [read_script(script, planned) for script in scripts]
    known, refused = load_folder(checklists or shipped("checklists"))
    for wrong in refused:
        terminal.warn(told(wrong))
    before = [read_before(earlier) for earlier in continues]
    prepare(out)
    write_mark(out, len(read))
    first = on or datetime.now().astimezone().date()
    terminal = terminal.using(terminal.words.in_units(planned.units))
    # Where the lines go to a terminal they are the progress.
    progress = None if sys.stdout.isatty() else shown(terminal.say("progress-rehearsal"))
    days: list[PlayedDay] = []
    for number, script in enumerate(read, start=1):
        day = days_after(first, number)
        terminal.tell(message("cli-rehearse-begins", script=str(script.path), date=day.isoformat()))
        language = terminal.words.language
        days.append(
            play(
                script,
                planned,
                known,
                day,
                out,
                number,
                terminal.tell,
                language=language,
                progress=progress,
                before=before,
                seed=seed,
                level=level_called(speak),
            )
        )
        # What is under way goes on with the next script, as it would with the next day.
        last = read_before(days[-1].log)
        before = [last] if last.areas else []
    write_mark(out, len(read), days)
    return _tell(terminal, days)


def _tell(terminal: Terminal, days: list[PlayedDay]) -> int:
    for day in days:
        terminal.tell(
            message(
                "cli-rehearse-written",
                log=str(day.log),
                pdf=str(day.pdf),
                pages=day.pages,
                facts=str(day.facts),
                phrases=day.phrases,
            )
        )
        terminal.tell(counted(day.counted))
        if len(day.counts) > 1:
            for area, counts in day.counts.items():
                where: Figure = area or message("cli-counted-outside")
                terminal.tell(message("cli-counted-area", area=where, told=counted(counts)), indent=2)
    held, missed = sum(day.held for day in days), [miss for day in days for miss in day.missed]
    terminal.tell(message("cli-rehearse-held", held=held, total=held + len(missed)))
    for miss in missed:
        terminal.warn(miss.told)
    return FAILED if missed else OK


job = Job(
    "rehearse",
    _rehearse,
    Argument("plan", metavar="PLAN", type=FILE),
    Argument("scripts", metavar="SCRIPT", type=FILE, nargs=-1, required=True),
    Option("--out", metavar="DIR", type=FOLDER, required=True),
    date_option(),
    Option("--checklists", metavar="DIR", type=FOLDER),
    Option("--continues", metavar="DAY", type=FILE, many=True),
    trials_option(),
    Option("--seed", metavar="WORDS", default=SEED),
    speak_option(),
)
