"""Whether a speech model's files are those that were shipped: `SHA256SUMS` beside the model's folder lists them, in the
form that `sha256sum --check` reads. A swapped or flipped bit of a word list is heard as another number."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from pathlib import Path

from fieldassist.files import UnfitFile, open_regular, read_regular

SUMS = "SHA256SUMS"
_MOST_BYTES = 1_000_000


def sums_of(folder: Path) -> Iterator[str]:
    """The lines of the list for a model's folder, in order of the files' names."""
    for path in sorted(path for path in folder.rglob("*") if path.is_file()):
        yield f"{_sha256(path)}  {path.relative_to(folder.parent).as_posix()}"


def file_unlike_listed(folder: Path) -> str | None:
    """The first file of a model that is not as the list beside its folder has it: another, missing, or not listed.

    None where all are, or where the list has nothing of this model.
    Errors: `OSError` from the disk.
    """
    try:
        text = read_regular(folder.parent / SUMS, _MOST_BYTES).decode("utf-8", "replace")
    except UnfitFile:
        return None
    rows = (line.split(maxsplit=1) for line in text.splitlines())
    listed = {row[1].strip(): row[0] for row in rows if len(row) == 2 and row[1].startswith(f"{folder.name}/")}
    if not listed:
        return None
    there = {path.relative_to(folder.parent).as_posix(): path for path in folder.rglob("*") if path.is_file()}
    for name in sorted(listed.keys() | there.keys()):
        if name not in listed or name not in there or _sha256(there[name]) != listed[name]:
            return name.removeprefix(f"{folder.name}/")
    return None


def _sha256(path: Path) -> str:
    with open_regular(path) as file:
        return hashlib.file_digest(file, "sha256").hexdigest()
