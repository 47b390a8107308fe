"""Pages printed anew from the record in a file of somebody else: for whoever distrusts the pages at hand."""

from __future__ import annotations

from pathlib import Path

from fieldassist.proof.apart import apart, memory_for
from fieldassist.trade.message import Refused, message
from fieldassist.trade.quantities import Units


def reprint(path: Path, out: Path, units: Units | None, language: str | None = None) -> int:
    """Print the record in a PDF, a bundle or a day's log into `out`; on how many pages.

    It shows what the record says and nothing else of the file: whether the record is genuine, `verify` tells. As there,
    the file is read in a process of its own with bounds, and nothing is written beside it. units, language: None for
    the plan's.
    Errors: `Refused` where the file holds no whole record of a day, or its events cannot be printed; CannotWrite.
    """
    if path.resolve() == out.resolve():
        raise Refused(message("proof-reprint-onto-itself", file=str(path)))
    # What is printed takes as much again as what is read.
    content, pages = apart(_printed, path, units, language, memory=2 * memory_for(path))
    from fieldassist.report.daily import store

    store(content, out)
    return int(pages)


def _printed(scratch: Path, path: Path, units: Units | None, language: str | None = None) -> tuple[bytes, int]:
    # Only the process of its own needs what reads files and prints.
    from fieldassist import __version__
    from fieldassist.proof.held import read_held
    from fieldassist.record.manifest import attached
    from fieldassist.report.daily import print_pages
    from fieldassist.report.enclosures import Record

    held = read_held(path, scratch)
    folder = scratch / "attached"
    folder.mkdir()
    for name, digest in attached(held.chain.events).items():
        original = held.original(name, digest)
        if original is not None:
            (folder / name).write_bytes(original)
    record = Record(held.chain.events, held.texts, held.chain.hashes, folder, f"fieldassist {__version__}")
    try:
        printed = print_pages(record, units=units, language=language)
    except (MemoryError, Refused):
        raise
    except Exception as problem:
        # Events that follow from each other need not make sense; whatever trips over them means that.
        raise Refused(message("proof-cannot-print", why=str(problem)[:120])) from problem
    return printed.content, printed.pages
