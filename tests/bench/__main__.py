"""Speed and memory, as ratios against a named alternative in the same run: `python -m tests.bench`.

Absolute figures depend on the machine and on what else it does; the ratios are what to compare.
"""

from __future__ import annotations

import json
import resource
import shlex
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from fieldassist.checklist.commands import MakeNote
from fieldassist.checklist.fold import fold
from fieldassist.checklist.loader import load_folder, load_plan
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.session import Day
from fieldassist.places import shipped
from fieldassist.proof.examine import examine
from fieldassist.proof.known import NOTHING_KNOWN
from fieldassist.proof.pages import record_in
from fieldassist.proof.replay import decided_again
from fieldassist.proof.verdict import UNSEALED, Findings
from fieldassist.record.log import DayLog
from fieldassist.report.by_hand import RECIPE
from fieldassist.report.daily import record_of, write_daily_pdf
from fieldassist.voice.audio import frames, read_audio
from fieldassist.voice.models import choose_model
from fieldassist.voice.recognizer import VoskRecognizer
from fieldassist.voice.speaker import Silent
from tests import SITE
from tests.report.conftest import large_day

EVENTS = 2000


def main() -> None:
    """Print one line a measure."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        _starting()
        path = _fill(folder)
        _append(folder, path)
        _open_and_fold(path)
        _pdf(folder, path)
        _verify(folder)
        _large_pdf(folder)
        _hear()
        _demo(folder)
        _check_signed(folder / "demo")
    # In a process of its own: to make photos of 12 million dots takes more than the day may.
    subprocess.run([sys.executable, "-m", "tests.bench.photos"], check=True)
    subprocess.run([sys.executable, "-m", "tests.bench.photo_measured", "5"], check=True)
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"peak memory of this whole run: {peak:.0f} MB (target with the model: 250 MB)")


def _best(run: Callable[[], object], times: int = 5) -> float:
    spent = []
    for _ in range(times):
        start = time.perf_counter()
        run()
        spent.append(time.perf_counter() - start)
    return min(spent)


def _spent(*command: str, times: int = 10) -> float:
    """The least processor time of a command, children and all [s]."""

    def once() -> float:
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime

    return min(once() for _ in range(times))


def _starting() -> None:
    """Processor time of a job from its first instruction to its last, against an interpreter that does nothing."""

    def least(*arguments: str) -> float:
        return _spent(sys.executable, *arguments)

    bare = least("-c", "pass")
    for job, target in (("--version", 0.1), ("--help", 0.3), ("calc slide --notch 'half inch square'", 0.3)):
        own = least("-m", "fieldassist", *shlex.split(job))
        over = f"{own - bare:.2f} s over it (target {target})"
        print(f"fieldassist {job}: {own / bare:.1f} x the processor time of an interpreter that does nothing, {over}")


def _fill(folder: Path) -> Path:
    path = folder / "day.db"
    checklists, _ = load_folder(shipped("checklists"))
    plan = load_plan(SITE)
    clock = SimulatedClock(datetime.fromisoformat("2026-03-17T07:00:00+01:00"))
    with Day.begin(path, plan, checklists, clock) as day:
        while day.state.last_seq < EVENTS:
            clock.advance(0.1)
            day.do(MakeNote(text=f"note {day.state.last_seq} of a long day"))
    return path


def _append(folder: Path, path: Path) -> None:
    """One durable event against a bare sqlite3 insert of the same row with the same journal and fsync, with the second
    copy and its fsync, and without."""
    connection = sqlite3.connect(folder / "bare.db", isolation_level=None)
    connection.execute("PRAGMA journal_mode=WAL")
    connection.execute("PRAGMA synchronous=FULL")
    connection.execute("CREATE TABLE events (seq INTEGER PRIMARY KEY, id TEXT UNIQUE, text TEXT, hash TEXT)")
    row = connection.execute
    text = "x" * 280
    ours, bare, whole, copied = [], [], [], []
    clock = SimulatedClock(datetime.fromisoformat("2026-03-18T07:00:00+01:00"))
    with Day.resume(path, clock) as day:
        second = day.log._second
        assert second is not None
        follow = second.follow

        def timed(texts: Sequence[str]) -> None:
            start = time.perf_counter()
            follow(texts)
            copied.append(time.perf_counter() - start)

        second.follow = timed  # type: ignore[method-assign]
        for number in range(400):
            start = time.perf_counter()
            row("INSERT INTO events VALUES (?, ?, ?, ?)", (number, f"{number:032x}.0", text, "0" * 64))
            bare.append(time.perf_counter() - start)
            start = time.perf_counter()
            day.do(MakeNote(text=f"note {number} of a bench"))
            whole.append(time.perf_counter() - start)
            event = day.log.events[-1]
            following = event.model_copy(update={"seq": event.seq + 1, "id": f"bench-{number}"})
            start = time.perf_counter()
            day.log.append([following])
            ours.append(time.perf_counter() - start)
            day.state = replace(day.state, last_seq=following.seq)
    alone = [spent - copy for spent, copy in zip(ours, copied[1::2], strict=True)]
    append, insert, do, once = (statistics.median(times) for times in (ours, bare, whole, alone))
    for what, spent in (
        ("append of one event, chained and durable, without its second copy", once),
        ("append of one event with its second copy, synced too", append),
        ("one command, on disk and answered", do),
    ):
        print(f"{what}: {spent * 1e3:.2f} ms, {spent / insert:.2f} x a bare sqlite3 insert of {insert * 1e3:.2f} ms")


def _open_and_fold(path: Path) -> None:
    with DayLog.open(path, read_only=True) as log:
        events = list(log.events)
    texts = [e.model_dump_json() for e in events]
    folding = _best(lambda: fold(events))
    parsing = _best(lambda: [json.loads(t) for t in texts])

    def reopen() -> None:
        DayLog.open(path, read_only=True).close()

    opening = _best(reopen, 3)
    print(f"fold of {len(events)} events: {folding * 1e3:.0f} ms, {folding / parsing:.2f} x json.loads of the same")
    print(f"open with every hash checked: {opening * 1e3:.0f} ms, {opening / parsing:.1f} x json.loads of the same")


def _pdf(folder: Path, path: Path) -> None:
    from reportlab.pdfgen.canvas import Canvas

    with DayLog.open(path, read_only=True) as log:
        record = record_of(log)

    def plain() -> None:
        canvas = Canvas(str(folder / "plain.pdf"))
        for number, event in enumerate(record.events):
            canvas.drawString(40, 800 - 14 * (number % 55), event.model_dump_json()[:100])
            if number % 55 == 54:
                canvas.showPage()
        canvas.save()

    ours = _best(lambda: write_daily_pdf(record, folder / "daily.pdf"), 2)
    base = _best(plain, 2)
    print(
        f"daily PDF of {len(record.events)} events: {ours:.2f} s, {ours / base:.1f} x one bare reportlab line an event"
    )


def _large_pdf(folder: Path) -> None:
    record = large_day().record()
    start = time.perf_counter()
    made = write_daily_pdf(record, folder / "large.pdf")
    spent = time.perf_counter() - start
    print(f"daily PDF of 200 areas, {len(record.events)} events, {made.pages} pages: {spent:.1f} s (target 10)")


def _verify(folder: Path) -> None:
    def check() -> None:
        with tempfile.TemporaryDirectory() as scratch:
            assert examine(folder / "daily.pdf", NOTHING_KNOWN, Path(scratch)).exit_code == UNSEALED

    checked = _best(check, 2)
    with DayLog.open(folder / "day.db", read_only=True) as log:
        record = record_of(log)
    written = _best(lambda: write_daily_pdf(record, folder / "again.pdf"), 2)
    print(f"verify a PDF of {len(record.events)} events: {checked:.2f} s, {checked / written:.1f} x writing it")


def _check_signed(demo: Path) -> None:
    """What an inspector runs, against the same by hand with Poppler and OpenSSL, as the pages have it."""
    files = (str(demo / "daily-log.pdf"), "--roster", str(demo / "roster.json"))
    own = _spent(sys.executable, "-m", "fieldassist", "verify", *files, times=5)
    bare = _spent(sys.executable, "-c", "pass")
    commands = "\n".join((f"cd {shlex.quote(str(demo))}; rm -rf check", *RECIPE))
    by_hand = _spent("bash", "-c", commands, times=3)
    over = f"{own - bare:.2f} s over an interpreter's start (target 1.6)"
    print(f"verify of the signed demo: {own / by_hand:.1f} x the same by hand in bash, {over}")
    _decide_again(demo)


def _decide_again(demo: Path) -> None:
    record = record_in((demo / "daily-log.pdf").read_bytes(), Findings())
    assert record is not None
    chain = record.chain
    start = time.process_time()
    assert not list(decided_again(chain.events, chain.hashes))
    again = time.process_time() - start
    start = time.process_time()
    fold(chain.events)
    folded = time.process_time() - start
    asked = sum(len(e.model_dump_json(include={"command"})) for e in chain.events if e.command is not None)
    each = f"{again / len(chain.events) * 1000:.2f} s a thousand events (wished for: 0.3)"
    grown = f"commands are {asked / sum(map(len, record.texts)):.1%} of the record"
    print(f"the demo decided again: {again / folded:.1f} x its fold, {each}; {grown}")


def _hear() -> None:
    recognizer = VoskRecognizer(choose_model(shipped("models")))
    clips = [read_audio(p) for p in sorted((shipped("assets") / "demo" / "audio").glob("*.flac"))[:40]]
    phrases = ["coverage ninety five percent", "understood", "yes", "no", "next tile", "tile set", "this is rosa"]
    for clip in clips[:2]:
        recognizer.hear(frames(clip), phrases)
    start = time.process_time()
    for clip in clips:
        recognizer.hear(frames(clip), phrases)
    spent = time.process_time() - start
    audio = sum(c.seconds for c in clips)
    print(f"recognition of {audio:.0f} s of speech: {spent / audio:.3f} x real time of processor time (target 0.2)")


def _demo(folder: Path) -> None:
    from fieldassist.cli.demo import play

    recognizer = VoskRecognizer(choose_model(shipped("models")))
    start = time.perf_counter()
    play(shipped("assets") / "demo", folder / "demo", recognizer, Silent(), lambda _: None)
    spent = time.perf_counter() - start
    audio = sum(read_audio(p).seconds for p in (shipped("assets") / "demo" / "audio").glob("*.flac"))
    print(f"the demo's day: {spent:.1f} s, {spent / audio:.2f} x its {audio:.0f} s of recordings (target 60 s)")


if __name__ == "__main__":
    main()
