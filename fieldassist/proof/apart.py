"""Work on a file of somebody else, in a process of its own with bounds: a file made to do harm costs no more."""

from __future__ import annotations

import contextlib
import logging
import multiprocessing
import os
import tempfile
import time
from collections.abc import Callable
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any, Literal

from fieldassist.trade.message import Message, Refused, message

SECONDS = 300.0
# Of memory of its own [bytes]: what a small file may take, what it may take more for each of its bytes, and the most. A
# trial's day of 0.4 MB takes 180 MB, one of 10,000 events in 1.9 MB takes 230 MB, 50 MB of photos take 440 MB.
LEAST_MEMORY, MEMORY_A_BYTE, MOST_MEMORY = 192 * 1024**2, 64, 1024**3
_LOOK_S = 0.2
_Came = Literal["told", "done", "refused"]


class GaveUp(Refused):
    """The work was not done within its bounds; `told` says which."""


def memory_for(path: Path) -> int:
    """How much memory [bytes] the work on a file may take."""
    try:
        size = path.stat().st_size
    except (OSError, ValueError):  # ValueError: a NUL in the name
        size = 0
    return min(LEAST_MEMORY + MEMORY_A_BYTE * size, MOST_MEMORY)


def apart(
    work: Callable[..., Any],
    *given: Any,
    seconds: float = SECONDS,
    memory: int = LEAST_MEMORY,
    watch: Callable[[Any], None] | None = None,
) -> Any:
    """What `work(scratch, *given)` gives, done in a process of its own. scratch: a folder that is gone afterwards.

    seconds, memory [bytes]: after which it is given up; memory is bounded where the system can. watch: `work` is then
    handed `tell=`, and what it tells is given to `watch` as it comes, or None five times a second where nothing does;
    what `watch` raises ends the work. What `work` refuses is raised here. Errors: `Refused`, and `GaveUp` where nothing
    came back.
    """
    context = multiprocessing.get_context("spawn")
    here, there = context.Pipe(duplex=False)
    with tempfile.TemporaryDirectory(prefix="fieldassist-", ignore_cleanup_errors=True) as scratch:
        child = context.Process(
            target=_child, args=(there, work, Path(scratch), given, memory, watch is not None), daemon=True
        )
        child.start()
        there.close()
        try:
            done, came = _waited(here, seconds, watch)
        except EOFError:
            raise GaveUp(message("proof-reader-ended")) from None
        finally:
            child.kill()
            child.join()
            here.close()
    if isinstance(came, Message) and done == "refused":
        raise (GaveUp if came.code == "proof-too-much-memory" else Refused)(came)
    return came


def _waited(here: Connection, seconds: float, watch: Callable[[Any], None] | None) -> tuple[_Came, Any]:
    end = time.monotonic() + seconds
    while (left := end - time.monotonic()) > 0:
        if here.poll(left if watch is None else min(left, _LOOK_S)):
            came: tuple[_Came, Any] = here.recv()
            if came[0] != "told":
                return came
            told = came[1]
        else:
            told = None
        if watch is not None:
            watch(told)
    raise GaveUp(message("proof-too-slow", seconds=f"{seconds:g}"))


def _child(
    connection: Connection,
    work: Callable[..., Any],
    scratch: Path,
    given: tuple[Any, ...],
    memory: int,
    watched: bool,
) -> None:
    with contextlib.suppress(ImportError, ValueError, OSError):
        import resource  # not on every system

        # What it writes to; the libraries' own code, some 60 MB, is not counted.
        resource.setrlimit(resource.RLIMIT_DATA, (memory, memory))
    os.environ["OPENBLAS_NUM_THREADS"] = "1"  # each more takes its room in advance
    logging.getLogger("pypdf").setLevel(logging.CRITICAL)
    tells = {"tell": lambda told: connection.send(("told", told))} if watched else {}
    came: tuple[_Came, Any]
    try:
        came = "done", work(scratch, *given, **tells)
    except MemoryError:
        came = "refused", message("proof-too-much-memory")
    except Refused as refused:
        came = "refused", refused.told
    connection.send(came)
