"""What is tried: a day and what is made of it, small enough to be done some thousand times."""

from __future__ import annotations

import contextlib
import io
import os
import shutil
import zipfile
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import pikepdf

from fieldassist.checklist.commands import MakeNote, SpeakAs
from fieldassist.checklist.plan import Role
from fieldassist.cli import main
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.session import Day
from fieldassist.record import keys
from fieldassist.record.bundle import open_bundle
from fieldassist.record.keys import Keyring
from fieldassist.record.lines import lines_of
from fieldassist.record.log import PARTS, DayLog
from fieldassist.trade.message import Refused
from tests.bench.kills import begin

PIN = "271828"
MORNING = datetime.fromisoformat("2026-03-17T06:45:00+01:00")


@dataclass
class Site:
    """A folder with a day to work on. acknowledged: the texts of the events that were said to be on disk."""

    folder: Path
    acknowledged: list[str]

    @property
    def day(self) -> Path:
        """The day's log."""
        return self.folder / "day.db"

    def clock(self) -> SimulatedClock:
        """The time of day."""
        return SimulatedClock(MORNING)


@dataclass(frozen=True)
class Job:
    """ready: make the folder, without faults; run: the job itself, in which each step fails once; after: what must be
    so, whatever failed."""

    ready: Callable[[Site], None]
    run: Callable[[Site], None]
    after: Callable[[Site], None]


def called(*words: str) -> None:
    """A job of the command line: it ends with a code, never with a traceback."""
    with contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()) as said:
        code = main(list(words))
    if code:
        assert said.getvalue().strip(), f"{words[0]} ended with {code} and without a word"
        raise NotDone()


class NotDone(Exception):
    """A job of the command line was refused with a sentence."""


# --- the days that are worked on, made once ---------------------------------------------------------------------------


def prepare(pattern: Path) -> None:
    """A day with some notes, one that is damaged, and a bundle to take in; the keys of who signs."""
    keys.COST = keys.Cost(passes=1, memory_kib=64, lanes=4)
    pattern.mkdir(parents=True)
    begin(pattern / "day.db")
    with Day.resume(pattern / "day.db", SimulatedClock(MORNING)) as day:
        for number in range(6):
            day.do(MakeNote(text=f"note {number} " + "long " * 60 * number))
    Keyring(pattern / "people").set_pin("edwin", Role.FOREMAN, PIN, now=MORNING)
    called("bundle", str(pattern / "day.db"), "--out", str(pattern / "day.bundle"))
    damaged = pattern / "damaged"
    damaged.mkdir()
    for part in PARTS:
        if (source := pattern / f"day.db{part}").exists():
            shutil.copy(source, damaged / source.name)
    with (damaged / "day.db").open("r+b") as file:
        file.seek(3 * 4096)
        file.write(bytes(4096))


def _copied(site: Site, source: Path) -> None:
    shutil.copytree(source, site.folder, dirs_exist_ok=True, ignore=shutil.ignore_patterns("damaged", "*.lock"))
    texts = lines_of(site.day).read_text(encoding="utf-8").split("\n")[:-1]
    site.acknowledged = texts


PATTERN = Path(os.environ.get("FIELDASSIST_FAULTS", "."))


def a_day(site: Site) -> None:
    """The day with its notes."""
    _copied(site, PATTERN)


def a_damaged_day(site: Site) -> None:
    """The same with a page of its database gone."""
    _copied(site, PATTERN / "damaged")


def nothing(site: Site) -> None:
    """An empty folder, with a bundle beside it."""
    site.folder.mkdir()
    shutil.copy(PATTERN / "day.bundle", site.folder / "day.bundle")


# --- the jobs ---------------------------------------------------------------------------------------------------------


def append(site: Site) -> None:
    """Three notes, each acknowledged."""
    with Day.resume(site.day, site.clock()) as day:
        for number in range(3):
            with contextlib.suppress(Refused):
                if day.do(MakeNote(text=f"a note more, {number}")).taken:
                    site.acknowledged = list(day.log.texts)


def open_a_day(site: Site) -> None:
    """A new day and its first note."""
    begin(site.folder / "new.db")
    with Day.resume(site.folder / "new.db", site.clock()) as day:
        day.do(MakeNote(text="the first"))
        site.acknowledged = list(day.log.texts)


def seal(site: Site) -> None:
    """Sign the day and seal it by PIN."""
    with Day.resume(site.day, site.clock()) as day:
        if day.do(SpeakAs(name="edwin")).taken:
            site.acknowledged = list(day.log.texts)
        if not day.sign(Keyring(site.folder / "people"), PIN, accept_open=True).taken:
            raise NotDone
        site.acknowledged = list(day.log.texts)
        assert day.state.sealed


def report(site: Site) -> None:
    """Print the daily log."""
    called("report", str(site.day))


def bundle(site: Site) -> None:
    """Pack the day."""
    called("bundle", str(site.day), "--out", str(site.folder / "packed.bundle"))


def take_in(site: Site) -> None:
    """Take a bundle in as a new day."""
    called("import", str(site.folder / "day.bundle"), "--into", str(site.folder / "office"))


def recover(site: Site) -> None:
    """Save what is left of a damaged day."""
    called("recover", str(site.day))


# --- what must be so afterwards ---------------------------------------------------------------------------------------


def all_there(site: Site, day: Path | None = None) -> None:
    """The day opens, to read and to write, and holds what was acknowledged."""
    for read_only in (True, False):
        with DayLog.open(day or site.day, read_only=read_only) as log:
            assert log.texts[: len(site.acknowledged)] == site.acknowledged, "acknowledged, and gone"
            if not read_only:
                assert log.told_of_copy is None


def new_day_there(site: Site) -> None:
    """The new day, if anything of it was acknowledged."""
    if site.acknowledged:
        all_there(site, site.folder / "new.db")


def paper_whole(site: Site) -> None:
    """What bears the name of the daily log is all of one."""
    all_there(site)
    pdf = site.folder / "daily-log.pdf"
    if pdf.exists():
        with pikepdf.open(pdf) as opened:
            assert not opened.check_pdf_syntax()
    called("report", str(site.day))


def bundle_whole(site: Site) -> None:
    """The same of the bundle."""
    all_there(site)
    packed = site.folder / "packed.bundle"
    if packed.exists():
        assert zipfile.ZipFile(packed).testzip() is None
        open_bundle(packed)


def taken_in(site: Site) -> None:
    """A second try takes in what a first one did not, and no day is there twice."""
    called("import", str(site.folder / "day.bundle"), "--into", str(site.folder / "office"))
    [day] = (site.folder / "office").glob("*.db")
    with DayLog.open(day) as log:
        assert log.texts == open_bundle(site.folder / "day.bundle").texts


def recovered(site: Site) -> None:
    """The day is whole, now or after a second try."""
    with contextlib.suppress(NotDone):
        called("recover", str(site.day))
    all_there(site)


JOBS = {
    "begin": Job(nothing, open_a_day, new_day_there),
    "append": Job(a_day, append, all_there),
    "seal": Job(a_day, seal, all_there),
    "report": Job(a_day, report, paper_whole),
    "bundle": Job(a_day, bundle, bundle_whole),
    "import": Job(nothing, take_in, taken_in),
    "recover": Job(a_damaged_day, recover, recovered),
}
