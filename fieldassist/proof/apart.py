"""Work on a file of somebody else, in a process of its own with bounds: a file made to do harm costs no more."""

from __future__ import annotations

import contextlib
import logging
import multiprocessing
import tempfile
from collections.abc import Callable
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any

from fieldassist.trade.message import Message, Refused, message

SECONDS = 300.0
MEMORY = 4 * 1024**3  # bytes


class GaveUp(Refused):
    """The work was not done within its bounds; `told` says which."""


def apart(work: Callable[..., Any], *given: Any, seconds: float = SECONDS, memory: int = MEMORY) -> Any:
    """What `work(scratch, *given)` gives, done in a process of its own. scratch: a folder that is gone afterwards.

    seconds, memory [bytes]: after which it is given up; memory is bounded where the system can. What `work` refuses is
    raised here. Errors: `Refused`, and `GaveUp` where nothing came back.
    """
    context = multiprocessing.get_context("spawn")
    here, there = context.Pipe(duplex=False)
    with tempfile.TemporaryDirectory(prefix="fieldassist-", ignore_cleanup_errors=True) as scratch:
        child = context.Process(target=_child, args=(there, work, Path(scratch), given, memory), daemon=True)
        child.start()
        there.close()
        try:
            if not here.poll(seconds):
                raise GaveUp(message("proof-too-slow", seconds=f"{seconds:g}"))
            done, came = here.recv()
        except EOFError:
            raise GaveUp(message("proof-reader-ended")) from None
        finally:
            child.kill()
            child.join()
            here.close()
    if isinstance(came, Message) and not done:
        raise (GaveUp if came.code == "proof-too-much-memory" else Refused)(came)
    return came


def _child(
    connection: Connection, work: Callable[..., Any], scratch: Path, given: tuple[Any, ...], memory: int
) -> None:
    with contextlib.suppress(ImportError, ValueError, OSError):
        import resource  # not on every system

        resource.setrlimit(resource.RLIMIT_AS, (memory, memory))
    logging.getLogger("pypdf").setLevel(logging.CRITICAL)
    try:
        came = True, work(scratch, *given)
    except MemoryError:
        came = False, message("proof-too-much-memory")
    except Refused as refused:
        came = False, refused.told
    connection.send(came)
