"""`fieldassist trial`: a mock-up trial from its file to the method that is released from it."""

from __future__ import annotations

import shlex
from pathlib import Path

from fieldassist.cli.parser import FILE, MISUSED, OK, Argument, Group, Job
from fieldassist.cli.terminal import Terminal, this_program
from fieldassist.places import shipped
from fieldassist.trade.message import message


def template() -> Path:
    """The trial file that came with the program, to copy."""
    return shipped("assets") / "trial" / "plan.yaml"


def _new(terminal: Terminal, file: Path) -> int:
    written = template().read_text(encoding="utf-8").replace(" FILE ", f" {shlex.quote(file.name)} ")
    try:
        with file.open("x", encoding="utf-8") as new:
            new.write(written)
    except FileExistsError:
        terminal.warn(message("cli-trial-file-there", file=str(file)))
        return MISUSED
    except OSError as error:
        terminal.warn(message("cli-trial-unwritten", file=str(file), why=error.strerror or str(error)))
        return MISUSED
    terminal.tell(message("cli-trial-written", file=str(file)))
    next_command(terminal, "trial", "plan", str(file))
    return OK


def next_command(terminal: Terminal, *words: str) -> None:
    """What is typed next, on a line of its own, to copy."""
    terminal.tell(f"{this_program()} {shlex.join(words)}", indent=2)


job = Group(
    "trial",
    Job("new", _new, Argument("file", metavar="FILE", type=FILE), words="trial-new"),
)
