"""`fieldassist verify`: the skin over `proof.verify`."""

from __future__ import annotations

from pathlib import Path

from fieldassist.cli.parser import FILE, Argument, Job, Option, json_option
from fieldassist.cli.terminal import Terminal
from fieldassist.proof.known import known_by
from fieldassist.proof.verify import verify


def _verify(terminal: Terminal, file: Path, key: str | None, roster: Path | None, as_json: bool) -> int:
    """Exit codes as `proof.verify` tells them."""
    verdict = verify(file, known=known_by(key, roster))
    if as_json:
        lines = [terminal.words(told) for told in verdict.told]
        terminal.json({"ok": verdict.ok, "lines": lines, **verdict.facts}, indent=2)
    else:
        for told in verdict.told:
            terminal.tell(told)
    return verdict.exit_code


job = Job(
    "verify",
    _verify,
    Argument("file", metavar="FILE", type=FILE),
    Option("--key", metavar="KEY"),
    Option("--roster", metavar="FILE", type=FILE),
    json_option(),
)
