"""Files that a person names: only regular ones are read, and never more than was asked for.

A pipe would be waited for without end, and a device such as /dev/zero never ends.
"""

from __future__ import annotations

import os
import stat
from io import BufferedReader, FileIO
from pathlib import Path


class UnfitFile(OSError):
    """A file that is not read. `str()` is fit for the person who named it; `code` says which sentence it is, `why` what
    the system said."""

    def __init__(self, code: str, sentence: str, why: str = "") -> None:
        super().__init__(sentence)
        self.code = code
        self.why = why


def open_regular(path: Path) -> BufferedReader:
    """The file, open to be read. UnfitFile when there is none, when it is no regular file, or may not be read."""
    flags = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
    try:
        handle = os.open(path, flags)
    except FileNotFoundError:
        raise UnfitFile("file-missing", "there is no such file") from None
    except (OSError, ValueError) as error:  # ValueError: a NUL in the name
        why = str(getattr(error, "strerror", None) or error)
        raise UnfitFile("file-unreadable", f"it cannot be read: {why}", why) from error
    if not stat.S_ISREG(os.fstat(handle).st_mode):
        os.close(handle)
        raise UnfitFile("file-not-regular", "it is a folder, a pipe or a device; a file is expected")
    return BufferedReader(FileIO(handle))


def read_regular(path: Path, most: int) -> bytes:
    """All bytes of a regular file of at most `most` bytes. UnfitFile otherwise."""
    with open_regular(path) as file:
        try:
            data = file.read(most + 1)
        except OSError as error:
            raise UnfitFile("file-unreadable", f"it cannot be read: {error.strerror}", str(error.strerror)) from error
    if len(data) > most:
        raise UnfitFile("file-too-large", f"it is larger than {most // 1000} kB")
    return data
