"""The facts of a day in a file of somebody else: a PDF, a bundle or a day's log."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from fieldassist.proof.apart import apart, memory_for
from fieldassist.trade.message import Refused, message


def facts_in(path: Path, language: str) -> dict[str, Any]:
    """The facts of the day in a file, in the shape of `assets/facts.schema.json`, told in this language.

    As with `verify`, the reading is done in a process of its own with bounds, and nothing is written beside the file.
    Whether the record is genuine, `verify` tells. Errors: `Refused` where the file holds no whole record of a day.
    """
    found: dict[str, Any] = apart(_facts, path, language, memory=memory_for(path))
    return found


def _facts(scratch: Path, path: Path, language: str) -> dict[str, Any]:
    from fieldassist.checklist.events import DayOpened
    from fieldassist.facts import facts_of
    from fieldassist.language import Words

    chain = _chain(scratch, path)
    if chain.fault is not None:
        raise Refused(message("proof-facts-damaged", file=str(path), why=chain.fault))
    opened = chain.events[0].body if chain.events else None
    units = opened.plan.units if isinstance(opened, DayOpened) else "as given"
    return facts_of(chain.events, chain.hashes, Words(language, units))


def _chain(scratch: Path, path: Path) -> Any:
    from fieldassist.files import read_regular
    from fieldassist.proof.examine import LARGEST_FILE, kind_of
    from fieldassist.proof.log import copied, read_log
    from fieldassist.proof.pages import record_in
    from fieldassist.proof.verdict import Findings
    from fieldassist.record.bundle import open_bundle
    from fieldassist.record.chain import Chain, check_texts
    from fieldassist.record.lines import texts_in

    if not path.is_file():
        raise Refused(message("proof-no-file", file=str(path)))
    try:
        kind = kind_of(path)
        if kind is None:
            raise Refused(message("proof-none-of-ours", name=path.name))
        if path.stat().st_size > LARGEST_FILE[kind]:
            raise Refused(message(f"proof-too-large-{kind}", name=path.name))
        if kind == "bundle":
            bundle = open_bundle(path)
            return Chain(bundle.events, bundle.hashes)
        if kind == "pdf":
            record = record_in(path.read_bytes(), Findings())
            if record is None:
                raise Refused(message("proof-no-record"))
            return record.chain
        if kind == "lines":
            return check_texts(texts_in(read_regular(path, LARGEST_FILE["lines"])))
        copy = copied(path, scratch, LARGEST_FILE["log"])
        if copy is None:
            raise Refused(message("proof-written-meanwhile", name=path.name))
        chain, trouble = read_log(copy)
        if chain is None:
            raise Refused(message("proof-foreign", why=trouble or message("proof-log-nothing")))
        return chain
    except OSError as error:
        why = error.strerror or str(error)
        raise Refused(message("proof-not-to-its-end", file=str(path), why=why)) from error
