"""`fieldassist reprint`: the skin over `proof.reprint`."""

from __future__ import annotations

from pathlib import Path

from fieldassist.cli.parser import FILE, MISUSED, OK, Argument, Job, Option, documents_option, units_option
from fieldassist.cli.terminal import Terminal
from fieldassist.proof.reprint import reprint
from fieldassist.trade.message import Refused, message
from fieldassist.trade.quantities import Units


def _reprint(terminal: Terminal, file: Path, out: Path | None, units: Units | None, documents: str | None) -> int:
    out = out or file.with_suffix(".reprint.pdf")
    try:
        pages = reprint(file, out, units, documents)
    except Refused as refused:
        terminal.warn(refused.told)
        return MISUSED
    terminal.tell(message("cli-reprinted", file=str(out), pages=pages, of=str(file)))
    return OK


job = Job(
    "reprint",
    _reprint,
    Argument("file", metavar="FILE", type=FILE),
    Option("--out", metavar="PDF", type=FILE),
    units_option(),
    documents_option(),
)
