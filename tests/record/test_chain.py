"""The one walk that reads a chain: what it gives before a fault, and whom it blames."""

from __future__ import annotations

import pickle
import re
import sqlite3
from collections.abc import Iterator
from pathlib import Path

import pytest

from fieldassist.record.chain import GENESIS, Broken, Link, StoredRow, chain_hash, chain_of, read_event, walk
from fieldassist.record.log import DayLog
from fieldassist.trade.message import message
from tests.conftest import Crew


@pytest.fixture
def texts(crew: Crew) -> list[str]:
    crew.open_shower()
    return list(crew.day.log.texts)


def walked(rows: Iterator[StoredRow], head: str | None = None) -> tuple[list[Link], Broken | None]:
    """The links that came before the fault, and the fault."""
    links: list[Link] = []
    try:
        for link in walk(rows, head):
            links.append(link)
    except Broken as broken:
        return links, broken
    return links, None


def test_a_whole_chain_is_given_link_by_link(texts: list[str]) -> None:
    links, broken = walked(map(StoredRow, texts), chain_hash(texts[-1]))
    assert broken is None
    assert [link.text for link in links] == texts
    assert [link.hash for link in links] == [chain_hash(text) for text in texts]
    assert [link.event.seq for link in links] == list(range(1, len(texts) + 1))


def test_a_whole_number_beyond_what_canonical_json_writes_is_no_event(texts: list[str]) -> None:
    # RFC 8785 §3.2.2.3: numbers are those of IEEE 754 double precision; a whole one has at most 2^53 - 1 to be exact.
    changed = re.sub(r'"mono":[0-9.]+', '"mono":99999999999999999999', texts[0])
    assert changed != texts[0]
    with pytest.raises(Broken) as broken:
        read_event(changed, 1, GENESIS)
    assert broken.value.told.code in ("record-not-whole", "record-no-event")


def test_what_the_source_raises_comes_after_all_that_came_before_it(texts: list[str]) -> None:
    def rows() -> Iterator[StoredRow]:
        yield from map(StoredRow, texts[:5])
        raise sqlite3.DatabaseError("malformed")

    seen = []
    with pytest.raises(sqlite3.DatabaseError):
        seen += [*walk(rows())]
    seen.clear()
    walking = walk(rows())
    for _ in range(5):
        seen.append(next(walking))
    assert [link.event.seq for link in seen] == [1, 2, 3, 4, 5]
    with pytest.raises(sqlite3.DatabaseError):
        next(walking)


def test_of_two_neighbours_the_one_that_the_next_does_not_expect_is_blamed(texts: list[str]) -> None:
    other = texts[3].replace('"boot":"', '"boot":"x', 1)
    assert other != texts[3]
    links, broken = walked(map(StoredRow, [*texts[:3], other, *texts[4:]]))
    assert broken is not None
    assert (broken.seq, broken.told.code) == (4, "record-next-link")
    assert len(links) == 3


def test_a_hash_that_is_stored_beside_it_blames_an_event_itself(texts: list[str]) -> None:
    other = texts[3].replace('"boot":"', '"boot":"x', 1)
    rows = [StoredRow(t, hash=chain_hash(t)) for t in texts]
    rows[3] = StoredRow(other, hash=chain_hash(texts[3]))
    _, broken = walked(iter(rows))
    assert broken is not None
    assert broken.told == message("record-hash", event="4")


def test_an_event_at_its_place_is_read_alone(texts: list[str]) -> None:
    assert read_event(texts[0], 1, GENESIS).seq == 1
    with pytest.raises(Broken, match=r"record-link\(event=2\)"):
        read_event(texts[1], 2, GENESIS)
    with pytest.raises(Broken, match=r"record-elsewhere\(event=2, place=3\)"):
        read_event(texts[1], 3, chain_hash(texts[0]))
    with pytest.raises(Broken, match=r"record-text-gone\(event=1\)"):
        read_event(None, 1, GENESIS)


def test_a_fault_can_be_handed_to_another_process() -> None:
    broken = Broken(7, message("record-missing", event="7"))
    again = pickle.loads(pickle.dumps(broken))
    assert (again.seq, again.told) == (broken.seq, broken.told)


def test_log_bundle_and_inspector_read_one_chain(texts: list[str], tmp_path: Path) -> None:
    with DayLog.create(tmp_path / "again.db") as log:
        log.append_texts(texts)
    with DayLog.open(tmp_path / "again.db", read_only=True) as log:
        chain = chain_of(map(StoredRow, texts))
        assert (log.events, log.hashes) == (chain.events, chain.hashes)
