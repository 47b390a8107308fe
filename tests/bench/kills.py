"""kill -9 at random moments while a day is worked on: `python -m tests.bench.kills [TIMES]`.

A child appends events, keeps photos, writes the daily PDF and packs the bundle, and says after each what it has
acknowledged. It is killed at a random moment; then everything that was acknowledged has to be there, and nothing may
lie half written under its name.
"""

from __future__ import annotations

import hashlib
import multiprocessing
import sys
import tempfile
import time
import zipfile
from collections import Counter
from collections.abc import Iterator
from datetime import datetime
from itertools import count
from multiprocessing.connection import Connection
from pathlib import Path
from random import Random
from typing import NamedTuple

import pikepdf

from fieldassist.checklist.commands import AttachPhoto, MakeNote
from fieldassist.checklist.events import PhotoAttached
from fieldassist.checklist.loader import load_folder, load_plan
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.session import Day
from fieldassist.places import shipped
from fieldassist.record import attachments
from fieldassist.record.bundle import pack
from fieldassist.record.chain import chain_hash
from fieldassist.record.lines import read_copy, texts_in
from fieldassist.record.log import DayLog
from fieldassist.report.daily import record_of, write_daily_pdf
from tests import SITE

_KILLS_A_DAY = 25  # then a fresh one, so that opening it does not take most of the time
LONGEST_S = 0.6  # somewhat longer than a PDF takes
_WORK = ("event", "photo", "pdf", "bundle")
_MORNING = datetime.fromisoformat("2026-03-17T06:45:00+01:00")


class Acknowledged(NamedTuple):
    """What a child said that it had done. what: "event" (name: number, digest: hash), "photo", "pdf" or "bundle"."""

    what: str
    name: str
    digest: str


def begin(day: Path) -> None:
    """A day with nothing done yet."""
    checklists, _ = load_folder(shipped("checklists"))
    Day.begin(day, load_plan(SITE), checklists, SimulatedClock(_MORNING)).close()


def work(day: Path, seed: int, acknowledge: Connection) -> None:
    """Work on the day until killed."""
    random = Random(seed)
    with Day.resume(day, SimulatedClock(_MORNING)) as opened:
        acknowledge.send(None)
        for number in count():
            what = _WORK[seed % 4] if number == 0 else random.choices(_WORK, (12, 4, 1, 1))[0]
            if what == "event":
                opened.do(MakeNote(text=f"note {seed}.{number} " + "x" * random.randrange(1200)))
                acknowledge.send(Acknowledged(what, str(len(opened.log.events)), opened.log.head))
            elif what == "photo":
                kept = attachments.keep(day, random.randbytes(random.randrange(1, 300_000)), ".jpg")
                opened.do(AttachPhoto(file=kept.file, sha256=kept.sha256))
                acknowledge.send(Acknowledged(what, kept.file, kept.sha256))
            else:
                out = day.with_suffix(f".{what}")
                if what == "pdf":
                    write_daily_pdf(record_of(opened.log), out)
                else:
                    pack(day, out)
                acknowledge.send(Acknowledged(what, out.name, hashlib.sha256(out.read_bytes()).hexdigest()))


def killed(day: Path, seed: int, after_s: float) -> list[Acknowledged]:
    """Let a child work on the day and kill it; what it had acknowledged. Each seed begins with another kind of work."""
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload([__name__])
    here, there = context.Pipe(duplex=False)
    child = context.Process(target=work, args=(day, seed, there), daemon=True)
    child.start()
    there.close()
    here.recv()
    time.sleep(after_s)
    child.kill()
    child.join()
    said = []
    try:
        while True:
            said.append(here.recv())
    except EOFError:
        return said
    finally:
        here.close()


def faults(day: Path, said: list[Acknowledged]) -> list[str]:
    """What is wrong with the day after a kill: nothing may be."""
    return list(_faults(day, said))


def _faults(day: Path, said: list[Acknowledged]) -> Iterator[str]:
    folder = attachments.folder_of(day)
    twice = {chain_hash(text) for text in texts_in(read_copy(day))}
    with DayLog.open(day) as log:
        for one in said:
            if one.what == "event" and one.digest not in twice:
                yield f"event {one.name} was acknowledged and is not in the second copy"
            if one.what == "event" and (int(one.name) > len(log.hashes) or log.hashes[int(one.name) - 1] != one.digest):
                yield f"event {one.name} was acknowledged and is gone"
            if one.what == "photo" and not (folder / one.name).exists():
                yield f"photo {one.name} was acknowledged and is gone"
        spoken_of = {e.body.file: e.body.sha256 for e in log.events if isinstance(e.body, PhotoAttached)}
    for path in folder.glob("*"):
        digest = hashlib.sha256(path.read_bytes()).hexdigest()
        if attachments.is_name(path.name) and not digest.startswith(path.stem):
            yield f"{path.name} is a photo half written"
        if spoken_of.get(path.name, digest) != digest:
            yield f"{path.name} is not the photo that its event speaks of"
    yield from (f"{name} is gone, and an event speaks of it" for name in spoken_of if not (folder / name).exists())
    yield from _whole(day.with_suffix(".pdf"), day.with_suffix(".bundle"))
    last = {one.what: one for one in said if one.what in ("pdf", "bundle")}
    yield from (
        f"the {what} was acknowledged and is gone" for what, one in last.items() if not day.with_name(one.name).exists()
    )


def _whole(pdf: Path, bundle: Path) -> Iterator[str]:
    if pdf.exists():
        try:
            with pikepdf.open(pdf) as opened:
                if opened.check_pdf_syntax() or not pdf.read_bytes().rstrip().endswith(b"%%EOF"):
                    yield "the PDF is not whole"
        except pikepdf.PdfError as error:
            yield f"the PDF does not open: {error}"
    if bundle.exists():
        try:
            with zipfile.ZipFile(bundle) as opened:
                bad = opened.testzip()
            if bad:
                yield f"the bundle is not whole: {bad}"
        except zipfile.BadZipFile as error:
            yield f"the bundle does not open: {error}"


def main(times: int) -> int:
    """Kill so often; how many kills did harm."""
    random = Random(7)
    acknowledged: Counter[str] = Counter()
    harm = 0
    with tempfile.TemporaryDirectory() as name:
        day = Path(name)
        for kill in range(times):
            if kill % _KILLS_A_DAY == 0:
                day = Path(name) / str(kill) / "day.db"
                day.parent.mkdir()
                begin(day)
            said = killed(day, kill, random.uniform(0, LONGEST_S))
            acknowledged.update(one.what for one in said)
            found = faults(day, said)
            harm += bool(found)
            for fault in found:
                print(f"kill {kill}: {fault}")
            if kill % 50 == 49:
                print(f"{kill + 1} kills, {harm} with harm", file=sys.stderr, flush=True)
    print(f"{times} kills: {harm} with harm; acknowledged meanwhile: {dict(acknowledged)}")
    return harm


if __name__ == "__main__":
    sys.exit(1 if main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000) else 0)
