"""The record in a file of somebody else, whichever kind of file it is: for what is made of it, not to judge it."""

from __future__ import annotations

import contextlib
import hashlib
import sqlite3
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from fieldassist.files import read_regular
from fieldassist.proof.examine import LARGEST_FILE, kind_of
from fieldassist.proof.log import copied, read_log
from fieldassist.proof.pages import record_in
from fieldassist.proof.verdict import Findings
from fieldassist.record import attachments
from fieldassist.record.bundle import open_bundle
from fieldassist.record.chain import Chain, check_texts
from fieldassist.record.lines import texts_in
from fieldassist.record.manifest import ATTACHED
from fieldassist.trade.message import Refused, message


@dataclass(frozen=True, slots=True)
class HeldRecord:
    """What a file holds of a day. texts: the events as stored; original: gives the bytes of an attachment by its name
    and SHA-256, None where the file has not got them, or others."""

    chain: Chain
    texts: list[str]
    original: Callable[[str, str], bytes | None]


def read_held(path: Path, scratch: Path) -> HeldRecord:
    """The record in a PDF, a bundle, a day's log or its second copy. scratch: an empty folder.

    `Refused` where there is none, or where the events do not all follow from each other.
    """
    if not path.is_file():
        raise Refused(message("proof-no-file", file=str(path)))
    try:
        held = _read(path, scratch)
    except OSError as error:
        why = error.strerror or str(error)
        raise Refused(message("proof-not-to-its-end", file=str(path), why=why)) from error
    if held.chain.fault is not None:
        raise Refused(message("proof-facts-damaged", file=str(path), why=held.chain.fault))
    return held


def _read(path: Path, scratch: Path) -> HeldRecord:
    kind = kind_of(path)
    if kind is None:
        raise Refused(message("proof-none-of-ours", name=path.name))
    if path.stat().st_size > LARGEST_FILE[kind]:
        raise Refused(message(f"proof-too-large-{kind}", name=path.name))
    if kind == "bundle":
        bundle = open_bundle(path)
        here = {entry.name: entry.sha256 for entry in bundle.files}

        def packed(name: str, digest: str) -> bytes | None:
            return bundle.read(ATTACHED + name) if here.get(ATTACHED + name) == digest else None

        return HeldRecord(Chain(bundle.events, bundle.hashes), bundle.texts, packed)
    if kind == "pdf":
        record = record_in(path.read_bytes(), Findings())
        if record is None:
            raise Refused(message("proof-no-record"))
        return HeldRecord(record.chain, record.texts, record.original)
    if kind == "lines":
        texts = texts_in(read_regular(path, LARGEST_FILE["lines"]))
        return HeldRecord(check_texts(texts), texts, _beside(path.with_suffix("")))
    return _of_log(path, scratch)


def _of_log(path: Path, scratch: Path) -> HeldRecord:
    copy = copied(path, scratch, LARGEST_FILE["log"])
    if copy is None:
        raise Refused(message("proof-written-meanwhile", name=path.name))
    chain, trouble = read_log(copy)
    if chain is None:
        raise Refused(message("proof-foreign", why=trouble or message("proof-log-nothing")))
    if trouble is not None:
        raise Refused(message("proof-facts-damaged", file=str(path), why=trouble))
    texts: list[str] = []
    if chain.fault is None:
        with contextlib.closing(sqlite3.connect(copy)) as database:
            texts = [text for (text,) in database.execute("SELECT text FROM events ORDER BY seq")]
    return HeldRecord(chain, texts, _beside(path))


def _beside(day: Path) -> Callable[[str, str], bytes | None]:
    """The attachments that lie beside a log."""

    def original(name: str, digest: str) -> bytes | None:
        try:
            data = read_regular(attachments.folder_of(day) / name, attachments.LARGEST_BYTES)
        except OSError:
            return None
        return data if hashlib.sha256(data).hexdigest() == digest else None

    return original
