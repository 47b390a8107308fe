"""A kept photo as plain data: beside a lift, a failure or a sample."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class PhotoLine:
    """A kept photo: its file, the SHA-256 of its bytes, and what was at hand when it was taken."""

    seq: int
    time: str
    who: str
    area: str
    at: str
    file: str
    sha256: str
    withdrawn: bool
    lift: int | None = None
