"""`fieldassist verify`: the skin over `proof.verify`."""

from __future__ import annotations

from pathlib import Path

from fieldassist.cli.parser import FILE, Argument, Job, Option, json_option
from fieldassist.cli.terminal import Terminal
from fieldassist.proof.verify import UNREADABLE, verify
from fieldassist.record.keys import KeyProblem


def _verify(terminal: Terminal, file: Path, key: str | None, as_json: bool) -> int:
    """Exit codes as `proof.verify` tells them."""
    try:
        verdict = verify(file, key=key)
    except KeyProblem as problem:
        terminal.warn(str(problem))
        return UNREADABLE
    if as_json:
        terminal.json({"ok": verdict.ok, "lines": verdict.lines, **verdict.facts}, indent=2)
    else:
        for line in verdict.lines:
            terminal.tell(line)
    return verdict.exit_code


job = Job(
    "verify",
    _verify,
    Argument("file", metavar="FILE", type=FILE),
    Option("--key", metavar="KEY"),
    json_option(),
)
