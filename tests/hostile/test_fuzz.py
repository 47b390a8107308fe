"""A few of the broken files that `python -m tests.fuzz` makes without end: every reader answers or refuses."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.fuzz.running import Case, Failed, tried

MANY = {
    "photo": 25, "printed photo": 15, "sound": 20, "checklist": 4, "plan": 8, "script": 20, "bundle": 15, "log": 5,
    "recover": 3, "print": 3, "resume": 3, "examine": 5, "lines": 15, "key": 20, "roster": 20, "receipt": 20,
    "carried": 2, "certificate": 15, "signature": 15, "strict": 10, "stamp": 8, "root": 10, "held": 3,
}  # fmt: skip


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("fuzz")


@pytest.mark.parametrize("reader", MANY)
def test_a_broken_file_is_refused_in_words_or_read_and_takes_no_more_than_is_given(reader: str, folder: Path) -> None:
    for number in range(MANY[reader]):
        found = tried(Case(reader, 2, number), folder)
        assert not isinstance(found, Failed), found
