"""A file that a person names is read only if it is one: nothing waits for a pipe, nothing reads a device for ever."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from fieldassist.files import UnfitFile, open_regular, read_regular
from fieldassist.proof.examine import kind_of
from fieldassist.proof.verdict import UNREADABLE
from fieldassist.proof.verify import verify
from fieldassist.record.bundle import BundleProblem, open_bundle
from fieldassist.record.keys import KeyProblem, read_public
from fieldassist.record.log import DayLog, LogProblem
from fieldassist.voice.audio import AudioProblem, read_audio


def pipe(folder: Path) -> Path:
    os.mkfifo(folder / "pipe")
    return folder / "pipe"


def test_a_regular_file_is_read_up_to_its_bound(tmp_path: Path) -> None:
    path = tmp_path / "file"
    path.write_bytes(bytes(1000))
    assert read_regular(path, 1000) == bytes(1000)
    with pytest.raises(UnfitFile) as caught:
        read_regular(path, 999)
    assert caught.value.code == "file-too-large"


@pytest.mark.parametrize(
    ("name", "code"),
    [
        ("pipe", "file-not-regular"),
        ("/dev/zero", "file-not-regular"),
        (".", "file-not-regular"),
        ("gone", "file-missing"),
        ("a\0b", "file-unreadable"),
    ],
)
def test_what_is_no_file_is_refused_by_code(tmp_path: Path, name: str, code: str) -> None:
    pipe(tmp_path)
    with pytest.raises(UnfitFile) as caught:
        open_regular(tmp_path / name)
    assert caught.value.code == code


def test_a_link_to_a_file_is_a_file(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"x")
    (tmp_path / "link").symlink_to(tmp_path / "file")
    assert read_regular(tmp_path / "link", 10) == b"x"


@pytest.mark.parametrize(
    ("opens", "refusal"),
    [
        (open_bundle, BundleProblem),
        (read_audio, AudioProblem),
        (DayLog.open, LogProblem),
        (lambda path: DayLog.open(path, read_only=True), LogProblem),
        (lambda path: read_public(str(path)), KeyProblem),
        (kind_of, UnfitFile),
    ],
    ids=["bundle", "audio", "day", "day to look at", "key", "verify"],
)
@pytest.mark.parametrize("name", ["pipe", "/dev/zero"])
def test_every_job_refuses_a_pipe_and_a_device(
    tmp_path: Path, opens: Callable[[Path], object], refusal: type[Exception], name: str
) -> None:
    pipe(tmp_path)
    with pytest.raises(refusal):
        opens(tmp_path / name)


def test_verify_answers_about_a_pipe(tmp_path: Path) -> None:
    assert verify(pipe(tmp_path)).exit_code == UNREADABLE
