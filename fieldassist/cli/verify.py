"""`fieldassist verify`: the skin over `proof.verify`."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from fieldassist.cli.parser import FILE, Argument, Job, Misuse, Option, json_option
from fieldassist.cli.terminal import Terminal
from fieldassist.proof.known import KnownFiles
from fieldassist.proof.verdict import WHOLE, Judgment
from fieldassist.proof.verify import verify, verify_all
from fieldassist.trade.message import message


def _verify(
    terminal: Terminal,
    files: tuple[Path, ...],
    key: str | None,
    roster: Path | None,
    root: Path | None,
    page: Path | None,
    as_json: bool,
) -> int:
    """Exit codes as `proof.verify` tells them."""
    if page is not None:
        _write_page(terminal, page, quiet=as_json)
        if not files:
            return WHOLE
    if not files:
        raise Misuse("missing", click.get_current_context(), part="FILE")
    known = KnownFiles(key, roster, root)
    if len(files) == 1 and not files[0].is_dir():
        return _tell(terminal, verify(files[0], known=known), as_json)
    names, judged, together = verify_all(files, known=known)
    if as_json:
        terminal.json({**_facts(terminal, together), "files": [_facts(terminal, one) for one in judged]}, indent=2)
        return together.exit_code
    for name, one in zip(names, judged, strict=True):
        terminal.tell(message("cli-verify-of", file=str(name)))
        _tell(terminal, one, as_json)
        terminal.tell("")
    return _tell(terminal, together, as_json)


def _write_page(terminal: Terminal, path: Path, *, quiet: bool) -> None:
    # Whoever checks a file loads no more than that takes.
    from fieldassist.proof.page import write_page

    written = write_page(path)
    if not quiet:
        terminal.tell(message("cli-verify-page-written", file=str(written)))


def _tell(terminal: Terminal, judged: Judgment, as_json: bool) -> int:
    if as_json:
        terminal.json(_facts(terminal, judged), indent=2)
    else:
        for told in judged.told:
            terminal.tell(told)
    return judged.exit_code


def _facts(terminal: Terminal, judged: Judgment) -> dict[str, Any]:
    return {"ok": judged.ok, "lines": [terminal.words(told) for told in judged.told], **judged.facts}


job = Job(
    "verify",
    _verify,
    Argument("files", metavar="FILE", type=FILE, nargs=-1),
    Option("--key", metavar="KEY"),
    Option("--roster", metavar="FILE", type=FILE),
    Option("--root", metavar="PEM", type=FILE),
    Option("--page", metavar="OUT", type=FILE),
    json_option(),
)
