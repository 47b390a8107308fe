"""`fieldassist verify`: whether a PDF, a bundle or a day's log is the record that was made and signed on site.

For somebody who trusts nobody: it needs the file alone, no network and nothing stored on this machine, and writes
nothing but in a temporary folder. What it checks rests on published ground, so that it can be checked without this
program too: canonical JSON (RFC 8785), SHA-256 (FIPS 180-4), Ed25519 (RFC 8032), ZIP (PKWARE APPNOTE 6.3.10), PDF (ISO
32000-1).

What a good answer says: these events are those that the holder of the key signed, and the pages show them. What it
cannot say: that what was said on site is true; who held the key (compare its fingerprint with the one that the signer
gave); whether a later part was cut off behind the last seal (ask the signer for the last head). It replaces no
inspection.

Exit codes: 0, whole, sealed to the last event, and the pages agree; 3, whole, but not sealed or not to the last event,
or a key was given that did not seal it, or the pages bear other marks and say that another version drew them; 1,
damaged or forged; 2, not to be read as any of the three.
"""

from __future__ import annotations

import contextlib
import logging
import multiprocessing
import tempfile
from multiprocessing.connection import Connection
from pathlib import Path

from fieldassist.proof.verdict import Judgment, gave_up

_SECONDS = 300.0
_MEMORY = 4 * 1024**3


def verify(path: Path, *, key: str | None = None, seconds: float = _SECONDS, memory: int = _MEMORY) -> Judgment:
    """Check a PDF, a bundle or a day's log; which of them it is, its content tells.

    Parameters: path; key, the signer's public key as it was given to the reader: the path of a PEM file, 64 hexadecimal
    digits, or a fingerprint; seconds and memory (bytes), after which it gives up. The reading is done in a process of
    its own with these bounds, so that a file made to do harm costs no more (memory is bounded where the system can).
    Nothing is written beside the file.
    Errors: KeyProblem when `key` is no key.
    """
    known = _key(key)
    context = multiprocessing.get_context("spawn")
    here, there = context.Pipe(duplex=False)
    with tempfile.TemporaryDirectory(prefix="fieldassist-", ignore_cleanup_errors=True) as scratch:
        child = context.Process(target=_in_child, args=(there, path, known, Path(scratch), memory), daemon=True)
        child.start()
        there.close()
        try:
            if not here.poll(seconds):
                return gave_up("too-slow", seconds=f"{seconds:g}")
            verdict = here.recv()
            assert isinstance(verdict, Judgment)
            return verdict
        except EOFError:
            return gave_up("reader-ended")
        finally:
            child.kill()
            child.join()
            here.close()


def _key(given: str | None) -> str | None:
    if given is None:
        return None
    from fieldassist.record.keys import read_public

    return read_public(given)


def _in_child(connection: Connection, path: Path, key: str | None, scratch: Path, memory: int) -> None:
    with contextlib.suppress(ImportError, ValueError, OSError):
        import resource  # not on every system

        resource.setrlimit(resource.RLIMIT_AS, (memory, memory))
    # Only this process needs what reads files.
    from fieldassist.proof.examine import examine

    logging.getLogger("pypdf").setLevel(logging.CRITICAL)
    try:
        verdict = examine(path, key, scratch)
    except MemoryError:
        verdict = gave_up("too-much-memory")
    connection.send(verdict)
