"""The hidden seeds of a day's lots, on the tablet that drew them: beside the log, never in it before sign-off.

A seed is on disk before its hash is in the record, so that a tablet that is cut off at any moment can still show it.
It is kept for the tablet's user alone and goes into no bundle: whoever takes a day in on another tablet has no seed,
and the lots begin there with a new one. Against whoever may read the tablet's files this hides nothing; the hash in the
record shows only that the seed was not chosen afterwards.
"""

from __future__ import annotations

import secrets
from pathlib import Path

from fieldassist.checklist.lots import SEED_BYTES, commitment
from fieldassist.record.disk import whole_file, why
from fieldassist.record.log import LogProblem
from fieldassist.trade.message import message


def file_of(day: Path) -> Path:
    """Where the seeds of the log at `day` lie, one a line, in hexadecimal.

    >>> file_of(Path("site/2026-03-17.db")).as_posix()
    'site/2026-03-17.lots'
    """
    return day.with_suffix(".lots")


def new_seed() -> str:
    """A new seed, in hexadecimal."""
    return secrets.token_bytes(SEED_BYTES).hex()


def keep_seed(day: Path, seed: str) -> None:
    """Keep a seed for the log at `day`; when this returns, it is on disk. LogProblem when the disk refuses."""
    try:
        day.parent.mkdir(parents=True, exist_ok=True)
        seeds = [*_kept(day), seed]
        with whole_file(file_of(day), private=True) as file:
            file.write("".join(f"{one}\n" for one in seeds).encode("ascii"))
    except (OSError, MemoryError) as error:
        raise LogProblem(message("record-seed-not-kept", why=why(error))) from error


def seed_of(day: Path, committed: str) -> str | None:
    """The seed whose hash is `committed`; None where this tablet does not hold it."""
    try:
        return next((seed for seed in _kept(day) if commitment(seed) == committed), None)
    except (OSError, MemoryError):
        return None


def _kept(day: Path) -> list[str]:
    """The seeds that can be read; a damaged line is none."""
    try:
        lines = file_of(day).read_bytes().decode("ascii", errors="replace").split()
    except FileNotFoundError:
        return []
    return [line for line in lines if len(line) == 2 * SEED_BYTES and set(line) <= set("0123456789abcdef")]
