"""`fieldassist verify`: whether a PDF, a bundle or a day's log is the record that was made and signed on site.

For somebody who trusts nobody: it needs the file, and the roster or a key that came with the contract; no network and
nothing stored on this machine; and it writes nothing but in a temporary folder. What it checks rests on published
ground, so that it can be checked without this program too: canonical JSON (RFC 8785), SHA-256 (FIPS 180-4), Ed25519
(RFC 8032), ZIP (PKWARE APPNOTE 6.3.10), PDF (ISO 32000-1).

What a good answer says: these events are those that the holder of a key signed whom the reader knows, and the pages
show them. What it cannot say: that what was said on site is true; who held the key; whether a later part was cut off
behind the last seal, where neither a countersignature nor the tablet's next day tells. It replaces no inspection.

Exit codes: 0, whole, sealed to the last event by a key that is known and was good then, and the pages agree; 3, whole,
but something is not vouched for: nobody knows the key, it was revoked, events came after the seal, the pages are not
those of this version and bear no good signature; 1, damaged, forged, or against what a roster or a countersignature
says; 2, not to be read as any of the three.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path

from fieldassist.proof.apart import SECONDS, GaveUp, apart, memory_for
from fieldassist.proof.known import NOTHING_KNOWN, Known, KnownFiles
from fieldassist.proof.verdict import Finding, Judgment, gave_up


def verify(
    path: Path,
    *,
    known: Known | KnownFiles = NOTHING_KNOWN,
    seconds: float = SECONDS,
    memory: int | None = None,
    watch: Callable[[Finding | None], None] | None = None,
) -> Judgment:
    """Check a PDF, a bundle or a day's log; which of them it is, its content tells.

    Parameters: path; known, what the reader was given to know the signer by, or the files of it, which are read with
    the same bounds (`Refused` where they are none); seconds and memory [bytes], after
    which it gives up, None for what a file of its size may take; watch, which is given each finding as it is found, or
    None a few times a second, and ends the check by what it raises. The reading is done in a process of its own with
    these bounds, so that a file made to do harm costs no more (memory is bounded where the system can). Nothing is
    written beside the file.
    """
    try:
        judgment = apart(_examined, path, known, seconds=seconds, memory=memory or memory_for(path), watch=watch)
    except GaveUp as given_up:
        return gave_up(given_up.told)
    assert isinstance(judgment, Judgment)
    return judgment


def verify_all(
    paths: Sequence[Path],
    *,
    known: Known | KnownFiles = NOTHING_KNOWN,
    watch: Callable[[Finding | None], None] | None = None,
) -> tuple[tuple[Path, ...], tuple[Judgment, ...], Judgment]:
    """Check several files, and then the days in them together: which are missing, older copies, or there twice.

    A folder stands for the files in it that are one of ours; watch: as of `verify`, file by file. Given back: the
    files, what each came to, and what all of them come to, whose exit code is the gravest.
    """
    from fieldassist.proof.day_set import judge_set, nothing_in

    files: list[Path] = []
    judged: list[Judgment] = []
    for path in paths:
        inside = _of_ours(path) if path.is_dir() else [path]
        files += inside or [path]
        judged += [verify(file, known=known, watch=watch) for file in inside] or [nothing_in(str(path))]
    return tuple(files), tuple(judged), judge_set(judged)


def _of_ours(folder: Path) -> list[Path]:
    from fieldassist.proof.examine import kind_of

    found = []
    for path in sorted(folder.iterdir()):
        with suppress(OSError):
            # The second copy of a log is read with it.
            if path.is_file() and kind_of(path) not in (None, "lines"):
                found.append(path)
    return found


def _examined(
    scratch: Path, path: Path, known: Known | KnownFiles, *, tell: Callable[[Finding], None] | None = None
) -> Judgment:
    # Only the process of its own needs what reads files.
    from fieldassist.proof.examine import examine

    return examine(path, known.read() if isinstance(known, KnownFiles) else known, scratch, tell)
