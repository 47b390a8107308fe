"""A power cut, played: what SQLite wrote and synced is written down, and any moment of it can be restored.

SQLite lets a program stand between it and the disk (https://www.sqlite.org/vfs.html). Here a shim around the system's
own VFS notes every write, truncation, deletion and sync; what Python writes and syncs of the second copy is noted
beside it. A disk that loses power keeps what was synced before; of what
came after it, each sector may have arrived or not, in any order (https://www.sqlite.org/atomiccommit.html, section 2.0;
bytes outside a write are left alone, "powersafe overwrite", https://www.sqlite.org/psow.html).

Run as a program it makes a day under the shim: `python -m tests.record.power DAY TRACE SYNCHRONOUS`.
"""

from __future__ import annotations

import ctypes
import os
import pickle
import stat
import sys
from collections.abc import Sequence
from dataclasses import astuple, dataclass
from datetime import datetime
from pathlib import Path
from random import Random

from tests import SITE
from tests.sqlite_vfs import DELETE, OPEN, POINTER, SYNC, TRUNCATE, WRITE, Methods, Vfs, loaded_sqlite

SECTOR = 512
NOTES = 16


@dataclass(frozen=True, slots=True)
class Step:
    """One thing that happened.

    what: "write", "truncate" (to `at` bytes), "sync", "delete", "folder" (the folder was synced, and with it what was
    deleted in it) or "kept" (an answer was given: `at` events are acknowledged).
    """

    what: str
    file: str = ""
    at: int = 0
    data: bytes = b""


class Shim:
    """Stands between SQLite and the disk from now on, in this process. trace: what went through."""

    def __init__(self) -> None:
        sqlite = loaded_sqlite()
        self.trace: list[Step] = []
        self._names: dict[int, str] = {}
        self._methods: dict[int, Methods] = {}
        self._kept: list[object] = []
        below = ctypes.cast(sqlite.sqlite3_vfs_find(None), ctypes.POINTER(Vfs))
        self._vfs = Vfs.from_buffer_copy(below.contents)
        self._vfs.name = b"power"
        self._vfs.open = self._as_pointer(OPEN(self._opening(OPEN(below.contents.open))))
        self._vfs.delete = self._as_pointer(DELETE(self._deleting(DELETE(below.contents.delete))))
        assert sqlite.sqlite3_vfs_register(ctypes.byref(self._vfs), 1) == 0

    def _as_pointer(self, function: ctypes._FuncPointer) -> int | None:
        self._kept.append(function)
        return ctypes.cast(function, POINTER).value

    def _opening(self, below):
        def opened(vfs, name, file, flags, out):
            result = below(vfs, name, file, flags, out)
            if result == 0 and name is not None:
                self._names[file] = _name_at(name)
                place = ctypes.cast(file, ctypes.POINTER(POINTER))
                place[0] = ctypes.addressof(self._noting(place[0]))
            return result

        return opened

    def _deleting(self, below):
        def deleted(vfs, name, sync):
            result = below(vfs, name, sync)
            if result == 0:
                self.trace.append(Step("delete", _name_at(name)))
                if sync:
                    self.trace.append(Step("folder"))
            return result

        return deleted

    def _noting(self, address: int) -> Methods:
        if address not in self._methods:
            methods = Methods.from_buffer_copy(ctypes.cast(address, ctypes.POINTER(Methods)).contents)
            write, truncate, sync = WRITE(methods.write), TRUNCATE(methods.truncate), SYNC(methods.sync)

            def on_write(file, data, count, at):
                self.trace.append(Step("write", self._names[file], at, ctypes.string_at(data, count)))
                return write(file, data, count, at)

            def on_truncate(file, size):
                self.trace.append(Step("truncate", self._names[file], size))
                return truncate(file, size)

            def on_sync(file, flags):
                result = sync(file, flags)
                self.trace.append(Step("sync", self._names[file]))
                return result

            methods.write = self._as_pointer(WRITE(on_write))
            methods.truncate = self._as_pointer(TRUNCATE(on_truncate))
            methods.sync = self._as_pointer(SYNC(on_sync))
            self._methods[address] = methods
        return self._methods[address]


def _name_at(pointer: int) -> str:
    return Path(ctypes.string_at(pointer).decode()).name


def _name_of(handle: int) -> str:
    return Path(f"/proc/self/fd/{handle}").readlink().name


def restored(trace: Sequence[Step], moment: int, arrives: float, random: Random) -> dict[str, bytes]:
    """The files after a power cut just before step `moment`.

    arrives: the chance that a sector which was written and not synced had reached the disk all the same.
    """
    files: dict[str, bytearray] = {}
    waiting: dict[str, list[Step]] = {}
    deleted: set[str] = set()
    for step in trace[:moment]:
        if step.what in ("write", "truncate"):
            if step.file in deleted:  # a new file of the old name
                deleted.remove(step.file)
                files.pop(step.file, None)
                waiting.pop(step.file, None)
            waiting.setdefault(step.file, []).append(step)
        elif step.what == "sync":
            for one in waiting.pop(step.file, []):
                _happen(files.setdefault(step.file, bytearray()), one, 1.0, random)
        elif step.what == "delete":
            deleted.add(step.file)
        elif step.what == "folder":
            for name in deleted:
                files.pop(name, None)
                waiting.pop(name, None)
            deleted.clear()
    for name in deleted:
        if random.random() < arrives:
            files.pop(name, None)
            waiting.pop(name, None)
    for name, steps in waiting.items():
        for one in steps:
            if arrives and (one.what == "write" or random.random() < arrives):
                _happen(files.setdefault(name, bytearray()), one, arrives, random)
    return {name: bytes(content) for name, content in files.items()}


def _happen(content: bytearray, step: Step, arrives: float, random: Random) -> None:
    if step.what == "truncate":
        del content[step.at :]
        return
    for start in range(0, len(step.data), SECTOR):
        part = step.data[start : start + SECTOR]
        if random.random() < arrives:
            at = step.at + start
            content.extend(bytes(max(0, at + len(part) - len(content))))
            content[at : at + len(part)] = part


def main() -> None:
    """Make a day under the shim, each note acknowledged in the trace, and write the trace down."""
    from fieldassist.checklist.commands import MakeNote
    from fieldassist.checklist.loader import load_folder, load_plan
    from fieldassist.day.clock import SimulatedClock
    from fieldassist.day.session import Day
    from fieldassist.places import shipped

    day_path, trace_path, synchronous = Path(sys.argv[1]), Path(sys.argv[2]), sys.argv[3]
    shim = Shim()
    fsync, write = os.fsync, os.write

    def note_sync(handle: int) -> None:
        fsync(handle)
        folder = stat.S_ISDIR(os.fstat(handle).st_mode)
        shim.trace.append(Step("folder") if folder else Step("sync", _name_of(handle)))

    def note_write(handle: int, data: bytes) -> int:
        name = _name_of(handle)
        if name.endswith(".lines"):
            shim.trace.append(Step("write", name, os.fstat(handle).st_size, data))
        return write(handle, data)

    os.fsync, os.write = note_sync, note_write
    checklists, _ = load_folder(shipped("checklists"))
    plan = load_plan(SITE)
    clock = SimulatedClock(datetime.fromisoformat("2026-03-17T06:45:00+01:00"))
    with Day.begin(day_path, plan, checklists, clock) as day:
        # Ours is FULL; anything less is for showing that the play would find it out. Checkpoints come often, so that
        # power is lost in the middle of some.
        day.log._db.execute(f"PRAGMA synchronous={synchronous}")
        day.log._db.execute("PRAGMA wal_autocheckpoint=20")
        for number in range(NOTES):
            assert day.do(MakeNote(text=f"note {number} " + "x" * (37 * number % 900))).taken
            shim.trace.append(Step("kept", at=len(day.log.events)))
    trace_path.write_bytes(pickle.dumps([astuple(step) for step in shim.trace]))


if __name__ == "__main__":
    main()
