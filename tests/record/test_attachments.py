"""A photo or a spoken note is on disk whole before it is acknowledged."""

from __future__ import annotations

import hashlib
import os
from pathlib import Path

import pytest

from fieldassist.record import attachments
from fieldassist.record.attachments import folder_of, is_name, keep
from fieldassist.record.log import LogProblem


def test_a_file_is_kept_whole_under_a_name_made_of_its_content(tmp_path: Path) -> None:
    day = tmp_path / "day.db"
    kept = keep(day, b"a photo", ".JPG")
    assert kept.sha256 == hashlib.sha256(b"a photo").hexdigest()
    assert kept.file == f"{kept.sha256[:16]}.jpg"
    assert (folder_of(day) / kept.file).read_bytes() == b"a photo"
    assert [p.name for p in folder_of(day).iterdir()] == [kept.file]


def test_the_same_bytes_are_one_file_and_a_damaged_copy_is_healed(tmp_path: Path) -> None:
    day = tmp_path / "day.db"
    kept = keep(day, b"a photo", ".jpg")
    path = folder_of(day) / kept.file
    path.write_bytes(b"a phot")
    assert keep(day, b"a photo", ".jpg") == kept
    assert path.read_bytes() == b"a photo"


def test_a_write_that_fails_leaves_nothing_behind(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(LogProblem, match="record-file-not-kept"):
        keep(tmp_path / "day.db", b"a photo", ".jpg")
    assert list(folder_of(tmp_path / "day.db").iterdir()) == []


@pytest.mark.parametrize("suffix", ["", "jpg", ".j/../p", ".toolong", ". "])
def test_a_suffix_that_is_none_is_refused(tmp_path: Path, suffix: str) -> None:
    with pytest.raises(LogProblem, match="record-file-kind"):
        keep(tmp_path / "day.db", b"x", suffix)


def test_a_file_too_large_is_refused_with_what_to_do(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(attachments, "LARGEST_BYTES", 10)
    with pytest.raises(LogProblem, match="record-file-too-large"):
        keep(tmp_path / "day.db", bytes(11), ".jpg")


@pytest.mark.parametrize("name", ["../x.jpg", "0123456789abcdef.jpg/..", "0123456789ABCDEF.jpg", "C:\\x.jpg", ""])
def test_names_that_could_lead_elsewhere_are_no_names(name: str) -> None:
    assert not is_name(name)
