"""`fieldassist facts`: the skin over `proof.facts`."""

from __future__ import annotations

from pathlib import Path

from fieldassist.cli.parser import FILE, OK, Argument, Job
from fieldassist.cli.terminal import Terminal
from fieldassist.proof.facts import facts_in


def _facts(terminal: Terminal, file: Path) -> int:
    terminal.json(facts_in(file, terminal.words.language), indent=1)
    return OK


job = Job("facts", _facts, Argument("file", metavar="FILE", type=FILE))
