"""Files that are there whole or not at all, whatever happens to the tablet."""

from __future__ import annotations

import contextlib
import errno
import hashlib
import os
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import BinaryIO


@contextlib.contextmanager
def whole_file(path: Path, *, private: bool = False) -> Iterator[BinaryIO]:
    """A binary file to write and read, which has the name `path` once the block ends without an error, and is then on
    disk with its name. Until then, what was there before is there.

    private: only the tablet's user may read it. OSError from the disk, or where there is no memory left; nothing stays
    behind then.
    """
    scratch = path.with_name(f".{path.name}.{os.getpid()}-{threading.get_ident()}.part")
    try:
        scratch.unlink(missing_ok=True)
        flags = os.O_RDWR | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
        with os.fdopen(os.open(scratch, flags, 0o600 if private else 0o666), "w+b") as file:
            yield file
            file.flush()
            os.fsync(file.fileno())
        scratch.replace(path)
        sync_folder(path.parent)
    except BaseException as error:
        with contextlib.suppress(OSError, MemoryError):
            scratch.unlink()
        if isinstance(error, MemoryError):
            raise OSError(errno.ENOMEM, os.strerror(errno.ENOMEM), str(path)) from error
        raise


def why(error: OSError | MemoryError) -> str:
    """What the system says, fit for a person."""
    return (error.strerror or str(error)) if isinstance(error, OSError) else os.strerror(errno.ENOMEM)


def sync_folder(folder: Path) -> None:
    """A new file's name is durable only once its folder is (Linux; Windows has no such call)."""
    if os.name == "posix":
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def sha256_of(path: Path) -> str:
    """The SHA-256 of a file's bytes, in hexadecimal."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()
