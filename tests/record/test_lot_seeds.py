"""The seeds of the lots: kept before anything rests on them, for this tablet's user alone, and lost without a crash."""

from __future__ import annotations

import stat
from pathlib import Path

import pytest

from fieldassist.checklist.lots import commitment
from fieldassist.record.log import LogProblem
from fieldassist.record.lot_seeds import file_of, keep_seed, new_seed, seed_of


def make_seed(day: Path) -> str:
    seed = new_seed()
    keep_seed(day, seed)
    return seed


def test_a_seed_is_found_by_its_hash_and_no_two_are_alike(tmp_path: Path) -> None:
    day = tmp_path / "day.db"
    seeds = [make_seed(day) for _ in range(3)]
    assert len(set(seeds)) == 3
    assert all(len(seed) == 64 for seed in seeds)
    assert [seed_of(day, commitment(seed)) for seed in seeds] == seeds


def test_another_tablet_has_no_seed(tmp_path: Path) -> None:
    committed = commitment(make_seed(tmp_path / "day.db"))
    assert seed_of(tmp_path / "elsewhere" / "day.db", committed) is None


def test_only_the_tablets_user_may_read_a_seed(tmp_path: Path) -> None:
    make_seed(tmp_path / "day.db")
    assert stat.S_IMODE(file_of(tmp_path / "day.db").stat().st_mode) == 0o600


def test_a_damaged_line_is_no_seed_and_spoils_no_other(tmp_path: Path) -> None:
    day = tmp_path / "day.db"
    seed = make_seed(day)
    file_of(day).write_bytes(b"\xff\xfenonsense\n" + seed.encode() + b"\n" + seed[:10].encode())
    assert seed_of(day, commitment(seed)) == seed


def test_a_disk_that_refuses_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("no folder")
    with pytest.raises(LogProblem) as caught:
        make_seed(tmp_path / "file" / "day.db")
    assert caught.value.told.code == "record-seed-not-kept"
