"""Photos and spoken notes of a day: files beside its log, each named by its content and never changed."""

from __future__ import annotations

import hashlib
import re
from dataclasses import dataclass
from pathlib import Path

from fieldassist.record.disk import sha256_of, sync_folder, whole_file
from fieldassist.record.log import LogProblem
from fieldassist.trade.message import message

# Larger ones are refused: a photo of 50 megapixels is under 40 MB, ten minutes of speech under 20.
LARGEST_BYTES = 64 * 1024 * 1024
_NAME = re.compile(r"[0-9a-f]{16}\.[a-z0-9]{1,5}")


@dataclass(frozen=True, slots=True)
class Attachment:
    """A kept file: its name in the day's folder of attachments, and the SHA-256 of its bytes in hexadecimal."""

    file: str
    sha256: str


def folder_of(day: Path) -> Path:
    """Where the attachments of the log at `day` lie.

    >>> folder_of(Path("site/2026-03-17.db")).as_posix()
    'site/2026-03-17.attached'
    """
    return day.with_suffix(".attached")


def keep(day: Path, data: bytes, suffix: str) -> Attachment:
    """Write `data` beside the log at `day`; when this returns, it is on disk whole, under its name or not at all.

    suffix: how the name ends, such as ".jpg". The same bytes twice are one file. LogProblem when it is too large, when
    the suffix is none, or when the disk refuses.
    """
    if len(data) > LARGEST_BYTES:
        size, most = f"{len(data) / 1e6:.0f} MB", f"{LARGEST_BYTES / 1e6:.0f} MB"
        raise LogProblem(message("record-file-too-large", size=size, most=most))
    digest = hashlib.sha256(data).hexdigest()
    name = f"{digest[:16]}{suffix.lower()}"
    if not is_name(name):
        raise LogProblem(message("record-file-kind", suffix=suffix))
    folder = folder_of(day)
    path = folder / name
    try:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        if not _holds(path, digest):
            with whole_file(path, private=True) as file:
                file.write(data)
            sync_folder(folder.parent)
    except OSError as error:
        raise LogProblem(message("record-file-not-kept", why=error.strerror or str(error))) from error
    return Attachment(name, digest)


def is_name(name: str) -> bool:
    """Whether `name` is one that `keep` gives, and so cannot lead out of the folder.

    >>> is_name("0123456789abcdef.jpg"), is_name("../0123456789abcdef.jpg")
    (True, False)
    """
    return _NAME.fullmatch(name) is not None


def _holds(path: Path, digest: str) -> bool:
    """Whether the file is there already and whole: one that was damaged since is written again."""
    try:
        return sha256_of(path) == digest
    except FileNotFoundError:
        return False
