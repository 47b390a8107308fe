"""Where pictures and sheets are written: what was there before is lost only where it is a picture of the same kind."""

from __future__ import annotations

import contextlib
import stat
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import BinaryIO

from fieldassist.record.disk import whole_file, why
from fieldassist.record.remarks import PNG
from fieldassist.trade.message import Refused, message


class NotWritten(Refused):
    """A file was not written, and what has its name is as it was; `told` says why, and what to do."""


@contextlib.contextmanager
def picture_out(out: Path, others: Sequence[Path] = ()) -> Iterator[BinaryIO]:
    """A PNG picture to write, which is there once the block ends: a new file, or in place of another PNG picture.

    others: what the same call reads and writes, which nothing takes the place of. Errors: `NotWritten`.
    """
    with _told_of(out):
        _must_be_free(out, others)
        with whole_file(out) as file:
            yield file


@contextlib.contextmanager
def sheet_out(out: Path) -> Iterator[BinaryIO]:
    """A new file of text. Errors: `NotWritten`."""
    with _told_of(out), whole_file(out) as file:
        yield file


def folder_out(folder: Path) -> None:
    """Make a folder where there is none. Errors: `NotWritten`."""
    with _told_of(folder):
        folder.mkdir(exist_ok=True)


@contextlib.contextmanager
def _told_of(out: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise NotWritten(message("cli-photo-unwritten", file=str(out), why=why(error))) from error


def _must_be_free(out: Path, others: Sequence[Path]) -> None:
    try:
        there = out.stat()
    except FileNotFoundError:
        return
    if not stat.S_ISREG(there.st_mode):
        raise NotWritten(message("cli-photo-out-no-file", file=str(out)))
    if any(one.exists() and one.samefile(out) for one in others):
        raise NotWritten(message("cli-photo-out-in-use", file=str(out)))
    with out.open("rb") as file:
        if file.read(len(PNG)) != PNG:
            raise NotWritten(message("cli-photo-out-other", file=str(out)))
