"""What stands between SQLite and the disk, as `ctypes` sees it (https://www.sqlite.org/vfs.html)."""

from __future__ import annotations

import ctypes
import sqlite3
from typing import Any

POINTER = ctypes.c_void_p
_INT, _INT64 = ctypes.c_int, ctypes.c_int64


def _function(*arguments: Any) -> Any:
    return ctypes.CFUNCTYPE(_INT, *arguments)


# Names go through as bare pointers: SQLite keeps them, and a copy of ours would be gone by then.
OPEN = _function(POINTER, POINTER, POINTER, _INT, ctypes.POINTER(_INT))
DELETE = _function(POINTER, POINTER, _INT)
ACCESS = _function(POINTER, POINTER, _INT, POINTER)
READ = WRITE = _function(POINTER, POINTER, _INT, _INT64)
TRUNCATE = _function(POINTER, _INT64)
SYNC = LOCK = _function(POINTER, _INT)
FILE_SIZE = _function(POINTER, POINTER)
SHM_MAP = _function(POINTER, _INT, _INT, _INT, POINTER)
SHM_LOCK = _function(POINTER, _INT, _INT, _INT)


class Vfs(ctypes.Structure):
    """sqlite3_vfs (https://www.sqlite.org/c3ref/vfs.html)."""

    _fields_ = [
        ("version", _INT),
        ("file_size", _INT),
        ("longest_path", _INT),
        ("next", POINTER),
        ("name", ctypes.c_char_p),
        ("data", POINTER),
        ("open", POINTER),
        ("delete", POINTER),
        ("access", POINTER),
        ("others", POINTER * 13),
    ]


class Methods(ctypes.Structure):
    """sqlite3_io_methods (https://www.sqlite.org/c3ref/io_methods.html)."""

    _fields_ = [
        ("version", _INT),
        ("close", POINTER),
        ("read", POINTER),
        ("write", POINTER),
        ("truncate", POINTER),
        ("sync", POINTER),
        ("file_size", POINTER),
        ("lock", POINTER),
        ("unlock", POINTER),
        ("reserved", POINTER),
        ("control", POINTER),
        ("sector_size", POINTER),
        ("characteristics", POINTER),
        ("shm_map", POINTER),
        ("shm_lock", POINTER),
        ("shm_barrier", POINTER),
        ("shm_unmap", POINTER),
        ("fetch", POINTER),
        ("unfetch", POINTER),
    ]


def loaded_sqlite() -> ctypes.CDLL:
    """The very library that Python's sqlite3 uses, which is loaded already."""
    found = ctypes.CDLL(None)
    if not hasattr(found, "sqlite3_vfs_find"):
        found = ctypes.CDLL("libsqlite3.so.0")
    found.sqlite3_vfs_find.restype = POINTER
    found.sqlite3_libversion.restype = ctypes.c_char_p
    assert found.sqlite3_libversion().decode() == sqlite3.sqlite_version, "another SQLite than Python's"
    return found
