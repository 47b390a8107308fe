"""A bad disk: whatever page is gone, every event that does not lie on it is saved, and with the second copy all."""

from __future__ import annotations

import contextlib
import functools
import os
import shutil
import sqlite3
from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import datetime
from pathlib import Path

import pytest

from fieldassist.checklist import commands as cmd
from fieldassist.checklist import events as ev
from fieldassist.checklist.moment import TYPED, Moment
from fieldassist.checklist.plan import Role
from fieldassist.checklist.schema import Checklist
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.session import Day
from fieldassist.proof.examine import examine
from fieldassist.proof.known import NOTHING_KNOWN
from fieldassist.proof.verdict import DAMAGED, UNSEALED, WHOLE, Judgment
from fieldassist.record.chain import GENESIS, canonical_text, chain_hash
from fieldassist.record.islands import Islands, islands_of, left_at
from fieldassist.record.leaves import PAGE, texts_at
from fieldassist.record.lines import lines_of, lines_written
from fieldassist.record.log import DayLog, LogDamaged, LogProblem
from fieldassist.record.recover import islands_file_of, recover
from fieldassist.record.seal import make_seal
from tests.small_day import EDWIN, PLAN, asked, begun, kept

NOTES = 150


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory, checklists: dict[str, Checklist]) -> tuple[Path, list[str]]:
    """A sealed day of some 30 pages, three levels of which SQLite needs to find a row: rows on one page, on several,
    and pages that only lead to others."""
    path = tmp_path_factory.mktemp("whole") / "day.db"
    adopted = list(checklists.values())[:4]
    with DayLog.create(path) as log:
        kept(log, ev.DayOpened(plan=PLAN), *(ev.ChecklistAdopted(checklist=one) for one in adopted[1:]))
        kept(log, *(ev.NoteMade(text=f"note {n} " + f"{n} " * (n * 37 % 170)) for n in range(NOTES)))
        kept(log, ev.ChecklistAdopted(checklist=adopted[0]))
        kept(log, ev.DaySigned(name="edwin", role=Role.FOREMAN))
        kept(log, make_seal(log.events, log.hashes, EDWIN))
        texts = log.texts
    return path, texts


@pytest.fixture
def day(whole: tuple[Path, list[str]], tmp_path: Path) -> Path:
    """A copy of it to damage, without its second copy."""
    return Path(shutil.copy(whole[0], tmp_path / "day.db"))


def zeroed(path: Path, at: int, count: int = PAGE) -> None:
    with path.open("r+b") as file:
        file.seek(at)
        file.write(bytes(count))


def on_page(page: bytes, texts: Sequence[str]) -> set[str]:
    """The events of which a piece lies on a page that is in no other event."""
    said = page.decode("utf-8", "replace")
    return {text for piece, text in own_pieces(tuple(texts)).items() if piece in said}


@functools.cache
def own_pieces(texts: tuple[str, ...]) -> dict[str, str]:
    counted = Counter(text[i : i + 40] for text in texts for i in range(len(text)))
    pieces = {text[i : i + 40]: text for text in texts for i in range(0, len(text), 20)}
    return {piece: text for piece, text in pieces.items() if counted[piece] == 1}


def seqs(left: Islands) -> list[int]:
    return [event.seq for island in left.found for event in island.events]


def test_a_page_zeroed_anywhere_loses_no_event_outside_it(whole: tuple[Path, list[str]], day: Path) -> None:
    path, texts = whole
    data = path.read_bytes()
    assert len(data) // PAGE >= 25
    for page in range(len(data) // PAGE):
        day.write_bytes(data)
        zeroed(day, page * PAGE)
        left = left_at(day)
        gone = set(texts) - set(left.texts)
        assert gone <= on_page(data[page * PAGE :][:PAGE], texts), f"page {page + 1}"
        assert set(left.texts) <= set(texts)
        assert {seq for first, last in left.missing for seq in range(first, last + 1)} | set(seqs(left)) >= set(
            range(1, left.found[-1].last + 1)
        )


@pytest.mark.parametrize("share", [0.0, 0.1, 0.5, 0.9])
def test_with_the_second_copy_a_zeroed_page_loses_nothing(
    whole: tuple[Path, list[str]], day: Path, share: float
) -> None:
    path, texts = whole
    shutil.copy(lines_of(path), lines_of(day))
    zeroed(day, int(share * day.stat().st_size) // PAGE * PAGE)
    with pytest.raises(LogDamaged) as caught:
        DayLog.open(day)
    assert caught.value.whole == len(texts)
    saved = recover(day)
    assert (saved.events, saved.behind, saved.missing, saved.kept) == (len(texts), 0, (), None)
    with DayLog.open(day) as log:
        assert log.texts == texts
    assert lines_of(day).read_bytes() == lines_written(texts)
    assert saved.damaged.is_file()


def test_of_a_day_with_a_zeroed_front_everything_is_saved_and_verify_knows_it(
    whole: tuple[Path, list[str]], day: Path
) -> None:
    _, texts = whole
    zeroed(day, 0, 100)
    judged = judgment(day)
    assert (judged.facts["kind"], judged.exit_code, judged.facts["good_events"]) == ("log", DAMAGED, len(texts))
    assert [seal["good"] for seal in judged.facts["seals"]] == [True]
    assert recover(day).events == len(texts)


def judgment(path: Path) -> Judgment:
    scratch = path.parent / "scratch"
    scratch.mkdir(exist_ok=True)
    try:
        return examine(path, NOTHING_KNOWN, scratch)
    finally:
        shutil.rmtree(scratch)


def a_page_of_notes(data: bytes, texts: Sequence[str]) -> int:
    """A page with some events, none of which is the first or the last."""
    held = {page: on_page(data[page * PAGE :][:PAGE], texts) for page in range(len(data) // PAGE)}
    return next(p for p, lie in held.items() if 3 < len(lie) < 30 and not {texts[0], *texts[-3:]} & lie)


def test_behind_a_gap_the_seal_still_vouches_and_what_is_missing_is_named(
    whole: tuple[Path, list[str]], day: Path
) -> None:
    _, texts = whole
    data = day.read_bytes()
    zeroed(day, a_page_of_notes(data, texts) * PAGE)
    judged = judgment(day)
    codes = [one.code for one in judged.told]
    [(_, end), (start, last)] = judged.facts["islands"]
    assert judged.exit_code == DAMAGED
    assert judged.facts["missing"] == [[end + 1, start - 1]]
    assert last == len(texts)
    [sealed] = [one for one in judged.told if one.code == "proof-left-sealed"]
    assert sealed.figures["event"] == str(len(texts))
    assert str(sealed.figures["range"]) == f"proof-range(first={start}, last={last - 1}, count={last - start})"
    assert {"proof-left", "proof-left-missing"} <= set(codes)
    saved = recover(day)
    assert (saved.events, saved.behind, saved.missing) == (end, last - start + 1, ((end + 1, start - 1),))
    with DayLog.open(day) as log:
        assert log.texts == texts[:end]
    assert saved.kept == islands_file_of(day)
    assert saved.kept.read_text(encoding="utf-8").split("\n")[:-1] == texts[:end] + texts[start - 1 :]
    again = judgment(saved.kept)
    assert (again.facts["kind"], again.facts["islands"]) == ("lines", judged.facts["islands"])
    assert "proof-left-sealed" in [one.code for one in again.told]
    assert judgment(saved.damaged).facts["islands"] == judged.facts["islands"]


def test_of_a_day_whose_first_event_is_gone_the_rest_is_kept_to_look_at(
    whole: tuple[Path, list[str]], tmp_path: Path
) -> None:
    _, texts = whole
    day = tmp_path / "day.db"
    lines_of(day).write_bytes(lines_written(texts[5:]))
    with pytest.raises(LogProblem, match=r"record-beginning-gone.*first=6") as caught:
        recover(day)
    assert caught.value.told.figures["events"] == len(texts) - 5
    assert islands_file_of(day).read_bytes() == lines_written(texts[5:])
    assert not day.exists()


def test_a_day_whose_database_is_gone_comes_back_from_its_second_copy(
    whole: tuple[Path, list[str]], tmp_path: Path
) -> None:
    _, texts = whole
    day = tmp_path / "day.db"
    lines_of(day).write_bytes(lines_written(texts))
    with pytest.raises(LogDamaged, match="record-database-gone"):
        DayLog.open(day)
    with pytest.raises(LogProblem, match="record-copy-exists"):
        DayLog.create(day)
    assert recover(day).events == len(texts)
    with DayLog.open(day) as log:
        assert log.texts == texts


def journal(whole: tuple[Path, list[str]], day: Path) -> Iterator[int]:
    """Put a day beside its journal, with the last 60 events in that alone; the places of its frames."""
    _, texts = whole
    day.unlink()
    with DayLog.create(day.with_name("before.db")) as log:
        log.append_texts(texts[:-60])
        log.checkpoint()
        log.append_texts(texts[-60:])
        for suffix in ("", "-wal"):
            shutil.copy(day.with_name(f"before.db{suffix}"), day.with_name(day.name + suffix))
    yield from range(32 + 24, day.with_name(day.name + "-wal").stat().st_size, PAGE + 24)


def test_a_page_zeroed_in_the_journal_loses_no_event_outside_it(whole: tuple[Path, list[str]], day: Path) -> None:
    _, texts = whole
    places = list(journal(whole, day))
    wal = day.with_name("day.db-wal")
    data = wal.read_bytes()
    assert len(places) > 5
    for at in places:
        wal.write_bytes(data)
        zeroed(wal, at)
        assert set(texts) - set(texts_at(day)) <= on_page(data[at : at + PAGE], texts)
    wal.write_bytes(data)
    zeroed(wal, 0, 32)
    assert set(texts_at(day)) == set(texts), "nor is the head of the journal needed"


def test_what_was_never_committed_is_not_brought_back(whole: tuple[Path, list[str]], day: Path) -> None:
    _, texts = whole
    list(journal(whole, day))
    wal = day.with_name("day.db-wal")
    data = bytearray(wal.read_bytes())
    last = len(data) - PAGE - 24
    data[last + 4 : last + 8] = bytes(4)  # the size of the database, which only the frame of a commit names
    wal.write_bytes(data)
    assert set(texts[-60:]).isdisjoint(texts_at(day))


def test_an_event_taken_out_of_the_end_is_told_from_what_its_pages_still_hold(day: Path) -> None:
    with contextlib.closing(sqlite3.connect(day, isolation_level=None)) as db:
        [(sql,)] = db.execute("SELECT sql FROM sqlite_schema WHERE name='events_are_never_deleted'")
        db.execute("DROP TRIGGER events_are_never_deleted")
        db.execute("PRAGMA secure_delete=OFF")  # some systems' SQLite wipes what it deletes
        db.execute("DELETE FROM events WHERE seq > (SELECT max(seq) FROM events) - 2")
        db.execute(sql)
    judged = judgment(day)
    assert judged.exit_code == DAMAGED
    assert [one.figures["events"] for one in judged.told if one.code == "proof-left-taken-out"] == [2]


def test_a_copy_that_holds_more_than_its_database_is_told_on_opening_and_by_verify(
    whole: tuple[Path, list[str]], tmp_path: Path
) -> None:
    _, texts = whole
    day = tmp_path / "day.db"
    with DayLog.create(day) as log:
        log.append_texts(texts[:-3])
    lines_of(day).write_bytes(lines_written(texts))
    for read_only in (True, False):
        with pytest.raises(LogDamaged, match=r"record-copy-longer\(events=3\)"):
            DayLog.open(day, read_only=read_only)
    assert [one.figures["events"] for one in judgment(day).told if one.code == "proof-copy-longer"] == [3]
    assert recover(day).events == len(texts)


def test_of_two_events_for_one_place_the_one_that_others_follow_from_is_the_days() -> None:
    """A changed event fits its place, and none follows from it."""
    story = chained(["a", "b", "c", "d"])
    changed = story[1].replace("note b", "note B")
    left = islands_of([*story[:1], changed, *story[2:]])
    assert ([(i.first, i.last) for i in left.found], left.changed) == ([(1, 1), (3, 4)], (2,))
    assert list(islands_of([*story[:1], changed, *story[2:]], story).texts) == story
    last = islands_of([*story[:2], story[3]])
    assert [(i.first, i.last) for i in last.found] == [(1, 2), (4, 4)]


def chained(notes: Sequence[str]) -> list[str]:
    before, texts = GENESIS, list[str]()
    for seq, note in enumerate(notes, start=1):
        at = Moment(wall=f"2026-03-17T07:{seq:02}:00+01:00", mono=60.0 * seq, boot="b")
        body = ev.NoteMade(text=f"note {note}")
        texts.append(
            canonical_text(ev.Event(seq=seq, id=f"e{seq}", at=at, by="edwin", source=TYPED, body=body), before)
        )
        before = chain_hash(texts[-1])
    return texts


def test_a_number_beyond_any_day_costs_nothing() -> None:
    [text] = chained(["a"])
    assert islands_of([text.replace('"seq":1', '"seq":1000000000000')]).found == ()


def test_a_recover_that_was_stopped_on_the_way_can_be_called_again(
    whole: tuple[Path, list[str]], day: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path, texts = whole
    replace = Path.replace

    def stops(source: Path, target: Path) -> Path:
        if target == stop:
            raise OSError(5, os.strerror(5))
        return replace(source, target)

    for stop in (lines_of(day), day):  # noqa: B007
        shutil.copy(path, day)
        shutil.copy(lines_of(path), lines_of(day))
        zeroed(day, 3 * PAGE)
        with monkeypatch.context() as patch:
            patch.setattr(Path, "replace", stops)
            with pytest.raises(LogProblem, match="record-not-recovered"):
                recover(day)
        assert recover(day).events == len(texts)
        with DayLog.open(day) as log:
            assert log.texts == texts


def test_a_day_that_goes_on_after_a_gap_says_so_and_what_is_lost_is_vouched_for_by_nobody(tmp_path: Path) -> None:
    path = tmp_path / "day.db"
    with DayLog.create(path) as log:
        begun(log)
        asked(log, *(cmd.MakeNote(text=f"note {n} " + "of a long day " * 20) for n in range(57)))
        events = len(log.events)
    place = path.read_bytes().index(b"note 30 ") // PAGE * PAGE
    lines_of(path).unlink()
    zeroed(path, place)
    saved = recover(path)
    clock = SimulatedClock(datetime.fromisoformat("2026-03-17T10:00:00+01:00"), boot="later")
    with Day.resume(path, clock) as day:
        day.note_recovered(saved.events, saved.behind, saved.missing)
        note = day.log.events[-1].body
    assert isinstance(note, ev.DayRecovered)
    assert note.behind > 5
    assert note.events + note.lost + note.behind == events
    told = {one.told.code: one.gravity for one in judgment(path).findings}
    assert told["proof-recovered"] == UNSEALED
    assert told["proof-sense"] == WHOLE
