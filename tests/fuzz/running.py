"""One broken file after the other, each told by reader, seed and number."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from random import Random

from tests.fuzz.breaking import broken
from tests.fuzz.seeds import seeds
from tests.hostile.bounded import MOST_S, Answered, read

# What a reader may add to what the tests themselves have in memory.
_MOST_MORE_MB = 200


@dataclass(frozen=True)
class Case:
    """A reader, and which broken file it is handed."""

    reader: str
    seed: int
    number: int


@dataclass(frozen=True)
class Failed:
    """What a reader did that none may do: raise, or take too much."""

    case: Case
    answered: Answered
    name: str
    data: bytes = field(repr=False)


def tried(case: Case, folder: Path) -> Answered | Failed:
    """What a reader answers about the broken file of a case. folder: for the files, the same in each call."""
    whole = folder / "whole"
    whole.mkdir(exist_ok=True)
    known = seeds(whole)
    draw = Random(f"{case.reader} {case.seed} {case.number}")
    name, data = draw.choice(known[case.reader])
    data = broken(data, name, [other for files in known.values() for _, other in files[:1]], draw)
    site = folder / "site"
    site.mkdir(exist_ok=True)
    for left in sorted(site.rglob("*"), reverse=True):
        left.rmdir() if left.is_dir() and not left.is_symlink() else left.unlink()
    path = site / name
    path.write_bytes(data)
    before = _resident_mb()
    answered = read(case.reader, path)
    too_much = answered.megabytes - before > _MOST_MORE_MB or answered.seconds > MOST_S
    return Failed(case, answered, name, data) if answered.told.startswith("raised") or too_much else answered


def _resident_mb() -> int:
    # Linux, proc(5): the second number of statm is the resident pages.
    return int(Path("/proc/self/statm").read_text().split()[1]) * 4096 // 2**20
