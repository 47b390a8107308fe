"""The one place where faults come from: below SQLite, in SQLite's memory, and below Python."""

from __future__ import annotations

import builtins
import contextlib
import ctypes
import errno
import io
import os
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, Literal

from tests import sqlite_vfs as vfs

Kind = Literal["io", "full", "memory"]
KINDS: tuple[Kind, ...] = ("io", "full", "memory")


class Faults:
    """Counts steps, and says which is to fail. at: the number of the step, counted from 1; 0: none; lasting: those
    after it fail too; fired: whether one did."""

    def __init__(self) -> None:
        self.kind: Kind = "io"
        self.root = ""
        self.on = False
        self.begin("io", "", 0, lasting=False)

    def begin(self, kind: Kind, root: str, at: int, *, lasting: bool) -> None:
        """From now on, in files under the folder `root`."""
        self.kind, self.root, self.at, self.lasting = kind, root, at, lasting
        self.steps = 0
        self.fired = ""

    def hit(self, what: str) -> bool:
        """Whether this step fails."""
        if not self.on:
            return False
        self.steps += 1
        fails = self.steps == self.at or (self.lasting and bool(self.fired) and self.steps > self.at)
        if fails and not self.fired:
            self.fired = what
        return fails


FAULTS = Faults()

# --- below SQLite -----------------------------------------------------------------------------------------------------

# Result codes: https://www.sqlite.org/rescode.html
_FULL, _CANTOPEN, _NOMEM = 13, 14, 7
_IOERR = {
    "delete": 2570,
    "access": 3338,
    "read": 266,
    "write": 778,
    "truncate": 1546,
    "sync": 1034,
    "file_size": 1802,
    "lock": 3850,
    "shm_map": 5386,
    "shm_lock": 5130,
}
_FORMS = {
    "read": vfs.READ,
    "write": vfs.WRITE,
    "truncate": vfs.TRUNCATE,
    "sync": vfs.SYNC,
    "file_size": vfs.FILE_SIZE,
    "lock": vfs.LOCK,
    "shm_map": vfs.SHM_MAP,
    "shm_lock": vfs.SHM_LOCK,
}
# What a full disk refuses.
_NEEDS_ROOM = ("write", "sync", "shm_map")
_kept: list[Any] = []
_methods: dict[int, vfs.Methods] = {}


def _pointer(function: Any) -> int | None:
    _kept.append(function)
    return ctypes.cast(function, vfs.POINTER).value


def _failing(name: str, form: Any, below: int) -> int | None:
    really = form(below)

    def call(*arguments: Any) -> int:
        may = FAULTS.kind == "io" or (FAULTS.kind == "full" and name in _NEEDS_ROOM)
        if may and FAULTS.hit(f"sqlite {name}"):
            return _IOERR[name] if FAULTS.kind == "io" else _FULL
        return int(really(*arguments))

    return _pointer(form(call))


def stand_below_sqlite() -> None:
    """From now on, in this process. Nothing fails before `FAULTS` says so."""
    sqlite = vfs.loaded_sqlite()
    below = ctypes.cast(sqlite.sqlite3_vfs_find(None), ctypes.POINTER(vfs.Vfs)).contents
    ours = vfs.Vfs.from_buffer_copy(below)
    ours.name = b"faults"
    really = vfs.OPEN(below.open)

    def opened(this: Any, name: Any, file: int, flags: int, out: Any) -> int:
        place = ctypes.cast(file, ctypes.POINTER(vfs.POINTER))
        if FAULTS.kind in ("io", "full") and FAULTS.hit("sqlite open"):
            place[0] = None
            return _CANTOPEN
        result = int(really(this, name, file, flags, out))
        if result == 0 and place[0]:
            place[0] = ctypes.addressof(_methods_over(place[0]))
        return result

    ours.open = _pointer(vfs.OPEN(opened))
    ours.delete = _failing("delete", vfs.DELETE, below.delete)
    ours.access = _failing("access", vfs.ACCESS, below.access)
    _kept.append(ours)
    assert sqlite.sqlite3_vfs_register(ctypes.byref(ours), 1) == 0


def _methods_over(address: int) -> vfs.Methods:
    if address not in _methods:
        ours = vfs.Methods.from_buffer_copy(ctypes.cast(address, ctypes.POINTER(vfs.Methods)).contents)
        for name, form in _FORMS.items():
            if (really := getattr(ours, name)) is not None:
                setattr(ours, name, _failing(name, form, really))
        ours.version = min(ours.version, 2)  # without memory maps, which would pass by what is counted here
        _methods[address] = ours
    return _methods[address]


# --- in SQLite's memory -----------------------------------------------------------------------------------------------


class _Memory(ctypes.Structure):
    """sqlite3_mem_methods (https://www.sqlite.org/c3ref/mem_methods.html)."""

    _fields_ = [
        ("malloc", vfs.POINTER),
        ("free", vfs.POINTER),
        ("realloc", vfs.POINTER),
        ("others", vfs.POINTER * 5),
    ]


_CONFIG_MALLOC, _CONFIG_GETMALLOC = 4, 5


def stand_in_its_memory() -> None:
    """From now on, in this process. No connection may be open."""
    sqlite = vfs.loaded_sqlite()
    below = _Memory()
    sqlite.sqlite3_shutdown()
    assert sqlite.sqlite3_config(_CONFIG_GETMALLOC, ctypes.byref(below)) == 0
    ours = _Memory.from_buffer_copy(below)
    malloc = ctypes.CFUNCTYPE(vfs.POINTER, ctypes.c_int)
    realloc = ctypes.CFUNCTYPE(vfs.POINTER, vfs.POINTER, ctypes.c_int)
    really, again = malloc(below.malloc), realloc(below.realloc)

    def given(size: int) -> int | None:
        return None if FAULTS.kind == "memory" and FAULTS.hit("sqlite malloc") else really(size)

    def given_again(old: int, size: int) -> int | None:
        return None if FAULTS.kind == "memory" and FAULTS.hit("sqlite realloc") else again(old, size)

    ours.malloc, ours.realloc = _pointer(malloc(given)), _pointer(realloc(given_again))
    _kept.append(ours)
    assert sqlite.sqlite3_config(_CONFIG_MALLOC, ctypes.byref(ours)) == 0
    assert sqlite.sqlite3_initialize() == 0


# --- below Python -----------------------------------------------------------------------------------------------------

_NUMBERS = {"io": errno.EIO, "full": errno.ENOSPC}
_IN_OS = ("open", "write", "fsync", "replace", "rename", "mkdir", "unlink", "remove", "link", "truncate", "ftruncate")
_TAKES_ROOM = ("open", "write", "fsync", "mkdir", "link", "rename", "replace")


def _step(name: str, where: object) -> None:
    if not FAULTS.on or (FAULTS.kind == "full" and name not in _TAKES_ROOM):
        return
    path = str(Path(f"/proc/self/fd/{where}").readlink() if isinstance(where, int) else where)
    if path.startswith(FAULTS.root) and FAULTS.hit(f"python {name}"):
        if FAULTS.kind == "memory":
            raise MemoryError
        number = _NUMBERS[FAULTS.kind]
        raise OSError(number, os.strerror(number), path)


class _Raw(io.FileIO):
    def __init__(self, file: Any, mode: str, **more: Any) -> None:
        super().__init__(file, mode, **more)
        self._at = file

    def write(self, data: Any) -> int:
        _step("write", self._at)
        return super().write(data)

    def readinto(self, buffer: Any) -> int:
        _step("read", self._at)
        return super().readinto(buffer)

    def readall(self) -> bytes:
        _step("read", self._at)
        return super().readall()


def stand_below_python() -> None:
    """From now on, in this process."""
    for name in _IN_OS:
        setattr(os, name, _stepping(name, getattr(os, name)))
    really = io.open

    def opened(file: Any, mode: str = "r", buffering: int = -1, *more: Any, **named: Any) -> Any:
        ours = isinstance(file, int) or os.fsdecode(file).startswith(FAULTS.root)
        if not FAULTS.on or not ours or "b" not in mode:
            return really(file, mode, buffering, *more, **named)
        if not isinstance(file, int):
            _step("open", file)
        raw = _Raw(file, mode.replace("b", ""), opener=named.get("opener"), closefd=named.get("closefd", True))
        if buffering == 0:
            return raw
        if "+" in mode:
            return io.BufferedRandom(raw)
        return io.BufferedReader(raw) if "r" in mode else io.BufferedWriter(raw)

    io.open = builtins.open = opened  # type: ignore[assignment]
    os.fdopen = lambda handle, mode="r", *more, **named: opened(handle, mode, *more, **named)  # type: ignore[assignment]


def _stepping(name: str, really: Callable[..., Any]) -> Callable[..., Any]:
    def call(*arguments: Any, **named: Any) -> Any:
        _step(name, arguments[0])
        return really(*arguments, **named)

    return call


@contextlib.contextmanager
def failing(kind: Kind, root: Path, at: int, *, lasting: bool) -> Iterator[Faults]:
    """Let step `at` fail within the block, in files under `root`."""
    FAULTS.begin(kind, str(root), at, lasting=lasting)
    FAULTS.on = True
    try:
        yield FAULTS
    finally:
        FAULTS.on = False
