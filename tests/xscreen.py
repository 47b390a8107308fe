"""A screen for the program's own window: Xvfb, ended with the test."""

from __future__ import annotations

import contextlib
import os
import subprocess
from collections.abc import Iterator


@contextlib.contextmanager
def screen(width: int = 1280, height: int = 800) -> Iterator[str]:
    """An X server with this screen; its display."""
    read, write = os.pipe()
    server = subprocess.Popen(
        ["Xvfb", "-displayfd", str(write), "-screen", "0", f"{width}x{height}x24", "-nolisten", "tcp"],
        pass_fds=[write],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    os.close(write)
    try:
        with os.fdopen(read) as told:
            yield f":{told.readline().strip()}"
    finally:
        server.terminate()
        server.wait(10)
