"""The log: durable, chained, one writer, and honest about damage."""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import signal
import sqlite3
import stat
import subprocess
import sys
import time
from pathlib import Path

import pytest

from fieldassist.checklist.plan import DayPlan
from fieldassist.checklist.schema import Checklist
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.session import Day
from fieldassist.proof.log import read_log
from fieldassist.record import attachments
from fieldassist.record.beside import keep_beside
from fieldassist.record.chain import GENESIS, canonical_text
from fieldassist.record.lines import lines_of
from fieldassist.record.log import AlreadyOpen, DayLog, LogDamaged, LogProblem
from fieldassist.record.recover import recover
from tests.conftest import Crew


def test_rows_chain_from_genesis_by_sha_256_over_canonical_json(closed: Path) -> None:
    # Recomputed here with sorted-key JSON, which RFC 8785 equals for the ASCII strings and plain numbers of this log.
    rows = sqlite3.connect(closed).execute("SELECT text, hash FROM events ORDER BY seq").fetchall()
    before = GENESIS
    for text, stored in rows:
        raw = json.loads(text)
        assert raw["prev"] == before
        assert json.dumps(raw, sort_keys=True, separators=(",", ":"), ensure_ascii=False) == text
        assert hashlib.sha256(text.encode()).hexdigest() == stored
        before = stored


def test_canonical_text_matches_the_examples_of_rfc_8785() -> None:
    # RFC 8785 §3.2.2 and appendix B: key order by UTF-16 units, shortest numbers, literals kept.
    import rfc8785

    sample = {
        "numbers": [333333333.33333329, 1e30, 4.50, 2e-3, 0.000000000000000000000000001],
        "literals": [None, True, False],
    }
    assert (
        rfc8785.dumps(sample) == b'{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27]}'
    )


def test_a_day_can_be_closed_and_reopened_at_any_event(closed: Path, clock: SimulatedClock, tmp_path: Path) -> None:
    with DayLog.open(closed) as log:
        events = list(log.events)
    for cut in range(2, len(events), 7):
        path = tmp_path / f"cut-{cut}.db"
        with DayLog.create(path) as log:
            log.append(events[:cut])
        with Day.resume(path, clock) as day:
            assert day.state.last_seq == cut
            assert day.prompt.say


def test_only_the_tablets_user_may_read_a_day_and_what_belongs_to_it(crew: Crew) -> None:
    path = crew.day.log.path
    attachments.keep(path, b"a photo", ".jpg")
    keep_beside(path, "receipt", b"{}")
    belong = [*path.parent.glob("*.db*"), *path.parent.glob("*.attached/*"), *path.parent.glob("*.receipts/*")]
    assert {file.suffix for file in belong} >= {".db", ".lines", ".jpg", ".json"}
    for file in belong:
        # A lock holds nothing.
        assert file.suffix == ".lock" or stat.S_IMODE(file.stat().st_mode) == 0o600, file
        assert file.parent == path.parent or stat.S_IMODE(file.parent.stat().st_mode) == 0o700


def test_events_are_never_updated_nor_deleted(closed: Path) -> None:
    connection = sqlite3.connect(closed)
    with pytest.raises(sqlite3.IntegrityError, match="never updated"):
        connection.execute("UPDATE events SET text='' WHERE seq=3")
    with pytest.raises(sqlite3.IntegrityError, match="never deleted"):
        connection.execute("DELETE FROM events WHERE seq=3")


def test_the_journal_is_wal_and_commits_reach_the_disk(crew: Crew) -> None:
    assert crew.day.log._db.execute("PRAGMA journal_mode").fetchone()[0] == "wal"
    assert crew.day.log._db.execute("PRAGMA synchronous").fetchone()[0] == 2  # FULL, SQLite "PRAGMA synchronous"


def test_a_day_open_in_another_program_is_refused_with_a_sentence(crew: Crew) -> None:
    path = crew.day.log.path
    crew.say("this is rosa")
    other = subprocess.run(
        [sys.executable, "-m", "fieldassist", "work", str(path), "--quiet"], input="", capture_output=True, text=True
    )
    assert other.returncode == 2
    assert "open already" in other.stderr
    assert "Traceback" not in other.stderr
    crew.say("start area shower wall")
    reading = subprocess.run([sys.executable, "-m", "fieldassist", "events", str(path)], capture_output=True, text=True)
    assert reading.returncode == 0, "looking at it is allowed"
    assert "area started" in reading.stdout


def test_opening_twice_in_one_program_is_refused_too(crew: Crew) -> None:
    with pytest.raises(AlreadyOpen):
        DayLog.open(crew.day.log.path)


def changed(day: Path, *statements: str) -> None:
    """Change a log as a forger does: without the triggers, which are put back as they were."""
    with contextlib.closing(sqlite3.connect(day, isolation_level=None)) as db:
        triggers = list(db.execute("SELECT name, sql FROM sqlite_schema WHERE type='trigger'"))
        for name, _ in triggers:
            db.execute(f"DROP TRIGGER {name}")
        for statement in (*statements, *(sql for _, sql in triggers)):
            db.execute(statement)


@pytest.mark.parametrize("share", [0.5, 0.7, 0.95])
def test_a_log_cut_short_gives_back_every_whole_event_before_the_cut(closed: Path, share: float) -> None:
    lines_of(closed).unlink()
    with DayLog.open(closed) as log:
        whole = [canonical_text(e, "") for e in log.events]
    size = closed.stat().st_size
    os.truncate(closed, int(size * share))
    damaged = closed.read_bytes()
    with pytest.raises(LogDamaged, match=r"record-row|record-sqlite") as caught:
        DayLog.open(closed)
    assert closed.read_bytes() == damaged, "opening never touches a damaged file"
    saved = recover(closed)
    assert saved.events == caught.value.whole > 0
    assert saved.damaged.read_bytes() == damaged
    with DayLog.open(closed) as log:
        assert [canonical_text(e, "") for e in log.events] == whole[: saved.events]


def test_a_log_cut_before_its_first_event_ends_is_left_as_it_is(closed: Path) -> None:
    lines_of(closed).unlink()
    os.truncate(closed, 9000)
    damaged = closed.read_bytes()
    with pytest.raises(LogProblem, match="record-nothing-whole"):
        recover(closed)
    assert closed.read_bytes() == damaged


def test_what_is_saved_can_be_worked_on(closed: Path, clock: SimulatedClock) -> None:
    lines_of(closed).unlink()
    os.truncate(closed, int(closed.stat().st_size * 0.6))
    recover(closed)
    with Day.resume(closed, clock) as day:
        Crew(day, clock).say("this is edwin")


def test_a_changed_event_is_found_and_named(closed: Path) -> None:
    changed(closed, "UPDATE events SET text=replace(text, '\"18\"', '\"28\"') WHERE text LIKE '%\"18\"%'")
    with contextlib.closing(sqlite3.connect(closed)) as connection:
        [(seq,)] = connection.execute("SELECT seq FROM events WHERE text LIKE '%\"28\"%'")
    with pytest.raises(LogDamaged, match=rf"record-hash\(event={seq}\)"):
        DayLog.open(closed)


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        ("UPDATE events SET id='another' WHERE seq=7", "record-id"),
        ("UPDATE events SET hash=replace(hash, substr(hash, 1, 1), 'x') WHERE seq=7", "record-hash"),
        ("UPDATE events SET seq=seq+100 WHERE seq>6", "record-row"),
    ],
    ids=["its id", "its hash", "its number"],
)
def test_what_stands_beside_an_event_must_fit_it_too(closed: Path, change: str, reason: str) -> None:
    """The text is as it was written; the columns that a program might search by are not."""
    lines_of(closed).unlink()
    with DayLog.open(closed, read_only=True) as log:
        whole = log.texts
    changed(closed, change)
    with pytest.raises(LogDamaged, match=rf"reason={reason}\("):
        DayLog.open(closed)
    chain, _ = read_log(closed)
    assert chain is not None
    assert (chain.bad, len(chain.events)) == (7, 6)
    assert recover(closed).events == len(whole)
    with DayLog.open(closed) as log:
        assert log.texts == whole


def test_a_removed_event_is_found(closed: Path) -> None:
    changed(closed, "DELETE FROM events WHERE seq=9")
    with pytest.raises(LogDamaged, match=r"reason=record-row\(row=10, place=9\)"):
        DayLog.open(closed)


def test_a_whole_log_has_nothing_to_recover(closed: Path) -> None:
    before = closed.read_bytes()
    with pytest.raises(LogProblem, match="record-nothing-to-recove"):
        recover(closed)
    assert closed.read_bytes() == before


@pytest.mark.parametrize("content", [b"", b"not a database at all, just some text " * 40])
def test_a_file_that_is_no_log_gets_a_sentence(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "day.db"
    path.write_bytes(content)
    with pytest.raises(LogProblem):
        DayLog.open(path)
    assert path.read_bytes() == content


def test_somebody_elses_database_is_not_touched(tmp_path: Path) -> None:
    path = tmp_path / "other.db"
    connection = sqlite3.connect(path)
    connection.execute("CREATE TABLE customers (name)")
    connection.commit()
    connection.close()
    before = path.read_bytes()
    with pytest.raises(LogProblem, match="record-foreign"):
        DayLog.open(path)
    assert path.read_bytes() == before


def test_a_missing_day_says_so(tmp_path: Path) -> None:
    with pytest.raises(LogProblem, match="record-no-day"):
        DayLog.open(tmp_path / "none.db")


def test_a_retry_of_the_same_events_changes_nothing(crew: Crew) -> None:
    crew.say("this is rosa")
    log = crew.day.log
    head, count = log.head, len(log.events)
    assert log.append(log.events[-1:]) == head
    assert len(log.events) == count


def test_what_was_acknowledged_survives_kill_9(
    tmp_path: Path, plan: DayPlan, checklists: dict[str, Checklist], clock: SimulatedClock
) -> None:
    path = tmp_path / "day.db"
    Day.begin(path, plan, checklists, clock).close()
    script = tmp_path / "writer.py"
    script.write_text(
        "import sys\n"
        "from pathlib import Path\n"
        "from fieldassist.checklist.commands import MakeNote\n"
        "from fieldassist.day.clock import SystemClock\n"
        "from fieldassist.day.session import Day\n"
        "day = Day.resume(Path(sys.argv[1]), SystemClock())\n"
        "while True:\n"
        "    day.do(MakeNote(text='note'))\n"
        "    print(day.state.last_seq, flush=True)\n",
        encoding="utf-8",
    )
    for round_ in range(5):
        child = subprocess.Popen([sys.executable, str(script), str(path)], stdout=subprocess.PIPE, text=True)
        assert child.stdout is not None
        acknowledged = int(child.stdout.readline())
        time.sleep(0.02 * round_)
        child.send_signal(signal.SIGKILL)
        acknowledged = max([acknowledged, *(int(line) for line in child.stdout.read().split() if line.isdigit())])
        child.wait()
        with DayLog.open(path) as log:
            assert len(log.events) >= acknowledged
