"""What proves a day and is no part of its log: countersignatures and answers of a time-stamping authority, in folders
beside it, each file a number of its own; and what else goes with the day into a bundle."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from fieldassist.record.disk import sync_folder, whole_file
from fieldassist.record.log import LogProblem
from fieldassist.record.manifest import MOST_OF_A_KIND
from fieldassist.trade.message import message

ProofKind = Literal["receipt", "stamp"]


@dataclass(frozen=True, slots=True)
class _Place:
    """folder: how the folder's name ends, beside the day; suffix: how its files do."""

    folder: str
    suffix: str


_PLACES: dict[ProofKind, _Place] = {"receipt": _Place(".receipts", ".json"), "stamp": _Place(".stamps", ".tsr")}
# As generous as a reader is: `record.manifest` names the bounds.
_NUMBER = re.compile(r"[1-9][0-9]?")


def proofs_folder(day: Path, kind: ProofKind) -> Path:
    """Where the countersignatures, or the time stamps, of a day lie, or of a PDF or bundle of it.

    >>> proofs_folder(Path("site/2026-03-17.db"), "receipt").as_posix()
    'site/2026-03-17.receipts'
    """
    return day.with_suffix(_PLACES[kind].folder)


def proofs_beside(day: Path, kind: ProofKind) -> tuple[Path, ...]:
    """The files of this kind beside a day, by their numbers."""
    suffix = _PLACES[kind].suffix
    found = [path for path in proofs_folder(day, kind).glob(f"*{suffix}") if _NUMBER.fullmatch(path.stem)]
    return tuple(sorted(found, key=lambda path: int(path.stem)))


def keep_beside(day: Path, kind: ProofKind, data: bytes) -> tuple[Path, bool]:
    """Write a proof under the next number, and say whether it came new: the same bytes twice are one file.

    LogProblem when the disk refuses, or when there are as many already as a bundle takes.
    """
    folder, here = proofs_folder(day, kind), proofs_beside(day, kind)
    try:
        for path in here:
            if path.stat().st_size == len(data) and path.read_bytes() == data:
                return path, False
        number = int(here[-1].stem) + 1 if here else 1
        if number > MOST_OF_A_KIND:
            raise LogProblem(message("record-proofs-many", folder=str(folder), most=MOST_OF_A_KIND))
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        path = folder / f"{number}{_PLACES[kind].suffix}"
        with whole_file(path, private=True) as file:
            file.write(data)
        sync_folder(folder.parent)
    except OSError as error:
        raise LogProblem(message("record-proof-not-kept", why=error.strerror or str(error))) from error
    return path, True


@dataclass(frozen=True, slots=True)
class GoesAlong:
    """What lies elsewhere on the tablet and goes into a bundle of a day: the roster, and the page that checks without
    the program; None where there is none."""

    roster: Path | None = None
    page: Path | None = None


NOTHING_ELSE = GoesAlong()


def along(day: Path, others: GoesAlong) -> Iterator[tuple[str, Path]]:
    """The entries of a bundle that are no part of the log, by name, and where each lies."""
    for kind in _PLACES:
        for number, path in enumerate(proofs_beside(day, kind), start=1):
            yield f"proof/{kind}-{number}{_PLACES[kind].suffix}", path
    for name, place in (("proof/roster.json", others.roster), ("verify.html", others.page)):
        if place is not None and place.is_file():
            yield name, place
