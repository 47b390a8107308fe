"""Progress of long work on the terminal: one line that is written over, and nothing where nobody looks."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable

_EVERY_S = 0.2


def shown(what: str) -> Callable[[int, int], None] | None:
    """A function to be told (done, of how much), which shows it on standard error; None when that is no terminal."""
    if not sys.stderr.isatty():
        return None
    last = 0.0

    def tell(done: int, total: int) -> None:
        nonlocal last
        now = time.monotonic()
        if done >= total:
            print(f"\r{' ' * (len(what) + 6)}\r", end="", file=sys.stderr, flush=True)
        elif now - last >= _EVERY_S:
            last = now
            print(f"\r{what} {100 * done // max(total, 1):3} %", end="", file=sys.stderr, flush=True)

    return tell
