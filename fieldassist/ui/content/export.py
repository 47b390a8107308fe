"""Where a day's files can go, and how they get there: folders, sticks, the printer."""

from __future__ import annotations

import os
import re
import shutil
import string
import subprocess
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

import platformdirs

from fieldassist.checklist.events import DayOpened, Event
from fieldassist.checklist.moment import Moment
from fieldassist.record.bundle import OnProgress
from fieldassist.record.keys import SigningKey
from fieldassist.record.log import DayLog
from fieldassist.record.seal import unsealed_after
from fieldassist.report.daily import record_of, write_daily_pdf
from fieldassist.report.signed import current_signed_pages, hand_out, sign_pages
from fieldassist.report.whole_day import write_whole_day
from fieldassist.trade.message import Message, Refused, Several, message
from fieldassist.trade.quantities import Units

# A printer that does not answer must not keep anybody waiting. Ours.
_PRINTER_S = 20.0
# What GetDriveTypeW gives for a drive that can be taken out (Windows documentation: DRIVE_REMOVABLE).
_REMOVABLE = 2

# --- where files can go -----------------------------------------------------------------------------------------------

PlaceKind = Literal["beside", "own", "stick"]


@dataclass(frozen=True, slots=True)
class ExportPlace:
    """A folder to write to: beside the day, of the user's own, or a stick or drive that is plugged in."""

    kind: PlaceKind
    folder: Path

    @property
    def told(self) -> Message:
        """What it is called on the screen."""
        return message("signing-place", kind=self.kind, name=self.folder.name or str(self.folder))


def places(
    beside: Path,
    *,
    own: Iterable[Path] | None = None,
    roots: Iterable[Path] | None = None,
    mounted: Callable[[Path], bool] = os.path.ismount,
    reading: bool = False,
) -> tuple[ExportPlace, ...]:
    """The folders that files can be written to: sticks and drives that are plugged in, the user's own, beside the day.

    Parameters: reading, whether it is enough that files can be read there; own, the user's folders; roots, where the
    system shows sticks; mounted, whether a folder is one: these are the system's own unless told otherwise. May wait
    for a drive that does not answer.
    """
    found = [ExportPlace("stick", folder) for folder in _drives(_roots() if roots is None else roots, mounted)]
    found += [ExportPlace("own", folder) for folder in (_own() if own is None else own)]
    found.append(ExportPlace("beside", beside))
    distinct = {place.folder: place for place in reversed(found)}
    return tuple(place for place in found if distinct[place.folder] is place and _opens(place.folder, reading=reading))


def _own() -> tuple[Path, ...]:
    return Path(platformdirs.user_documents_dir()), Path(platformdirs.user_desktop_dir())


def _roots() -> tuple[Path, ...]:
    # macOS and Windows: as their makers' documentation says; not run by us.
    if sys.platform == "darwin":
        return (Path("/Volumes"),)
    if sys.platform == "win32":
        from ctypes import windll

        drives = [f"{letter}:\\" for letter in string.ascii_uppercase]
        return tuple(Path(drive) for drive in drives if windll.kernel32.GetDriveTypeW(drive) == _REMOVABLE)
    return Path("/media"), Path("/run/media"), Path("/mnt")


def _drives(roots: Iterable[Path], mounted: Callable[[Path], bool]) -> Iterator[Path]:
    """What is mounted as a root, in it, or in the folder of a user in it."""
    for root in roots:
        if mounted(root):
            yield root
            continue
        for below in _folders(root):
            if mounted(below):
                yield below
            else:
                yield from (deeper for deeper in _folders(below) if mounted(deeper))


def _folders(folder: Path) -> list[Path]:
    try:
        return sorted(path for path in folder.iterdir() if path.is_dir())
    except OSError:
        return []


def _opens(folder: Path, *, reading: bool) -> bool:
    try:
        return folder.is_dir() and os.access(folder, os.R_OK if reading else os.W_OK)
    except OSError:
        return False


def folders_in(folder: Path, *, reading: bool = False) -> tuple[Path, ...]:
    """The folders in a folder that files can be written to, or read from, hidden ones left out."""
    return tuple(path for path in _folders(folder) if not path.name.startswith(".") and _opens(path, reading=reading))


def file_name(events: Sequence[Event], hashes: Sequence[str]) -> str:
    """What the files of a day are called, without their ending: date, site, and the begin of its first event's hash.

    Two days of one date and site have different names, so that on a stick one never takes the place of the other;
    the same day's newer file takes that of its older one. Any file system takes the name.
    """
    opened = events[0].body
    plan = opened.plan if isinstance(opened, DayOpened) else None
    words = re.sub(r"[^a-z0-9]+", "-", plan.site.lower()).strip("-")[:40] if plan is not None else "day"
    return "-".join(part for part in (plan.date if plan is not None else "", words, hashes[0][:6]) if part)


# --- files ------------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class HandedOver:
    """What was written: the daily log on so many pages, and the whole day as one file; told: that, in words."""

    pdf: Path
    bundle: Path
    told: Message


def write_pdf(day: Path, out: Path, units: Units, progress: OnProgress) -> int:
    """Write the daily log of the day at `day`; on how many pages.

    The day may be open elsewhere: what it holds by now is printed. CannotWrite, NoFacts, LogProblem; what `progress`
    raises ends it, and then nothing was written.
    """
    with DayLog.open(day, read_only=True) as log:
        return write_daily_pdf(record_of(log), out, units=units, progress=progress).pages


def make_signed_pages(day: Path, key: SigningKey, at: Moment, units: Units, progress: OnProgress) -> None:
    """Make the signed file of a sealed day beside it. As `write_pdf`, and CannotWrite where the key is another one."""
    with DayLog.open(day, read_only=True) as log:
        sign_pages(log, key, at, units=units, progress=progress)


def has_signed_pages(day: Path) -> bool:
    """Whether the signed file beside a day shows all of it. LogProblem."""
    with DayLog.open(day, read_only=True) as log:
        return current_signed_pages(log) is not None


def hand_over(day: Path, folder: Path, units: Units, progress: OnProgress) -> HandedOver:
    """Write the daily log, and the day with its attachments as one file, into a folder.

    The daily log is the signed file where it shows all of the day, else a print in these units. As `write_pdf`, and
    BundleProblem. The pages are in the second file too: whoever gets only that has all of it.
    """
    with DayLog.open(day, read_only=True) as log:
        name = file_name(log.events, log.hashes)
        pdf, bundle = folder / f"{name}.pdf", folder / f"{name}.bundle"
        in_units = None if current_signed_pages(log) is not None else units
        pages = hand_out(log, pdf, units=in_units, progress=_part(progress, 0))
        unsealed = unsealed_after(log.events, log.hashes)
    written = write_whole_day(day, bundle, in_units, _part(progress, 1), _part(progress, 2))
    lost = sorted({*(left.name for left in pages.left_out), *written.packed.left_out})
    signed = "yes" if pages.signed else "no"
    told = [
        message("signing-written", pages=pages.pages, folder=folder.name or str(folder), file=pdf.name, signed=signed)
    ]
    if unsealed:
        told.append(message("signing-written-unsealed", events=unsealed))
    if lost:
        told.append(message("signing-written-lost", names=Several(tuple(lost), "list")))
    return HandedOver(pdf, bundle, message("signing-written-all", lines=Several(tuple(told), "sentences")))


def _part(progress: OnProgress, number: int) -> OnProgress:
    """The progress of one of three parts as that of the whole."""
    return lambda done, total: progress(round(1000 * (number + (done / total if total else 1))), 3000)


# --- the printer ------------------------------------------------------------------------------------------------------


class NotPrinted(Refused):
    """Nothing was printed; `told` says why and what to do."""


_Run = Callable[[Sequence[str]], "subprocess.CompletedProcess[str]"]


def print_pages(pdf: Path, run: _Run | None = None) -> None:
    """Hand a PDF to the system's printer. NotPrinted where there is none or it does not take it.

    run: what runs a command, unless the system's own. Windows: as its documentation says; not run by us.
    """
    if sys.platform == "win32":
        try:
            os.startfile(pdf, "print")
        except OSError as error:
            raise NotPrinted(message("signing-no-printer")) from error
        return
    run = run or _run
    try:
        known = run(("lpstat", "-e"))
        if known.returncode != 0 or not known.stdout.strip():
            raise NotPrinted(message("signing-no-printer"))
        sent = run(("lp", "--", str(pdf)))
    except (OSError, subprocess.SubprocessError) as error:
        raise NotPrinted(message("signing-no-printer")) from error
    if sent.returncode != 0:
        raise NotPrinted(message("signing-printer-refused", why=sent.stderr.strip()[:200]))


def _run(command: Sequence[str]) -> subprocess.CompletedProcess[str]:
    program = shutil.which(command[0])
    if program is None:
        raise FileNotFoundError(command[0])
    return subprocess.run((program, *command[1:]), capture_output=True, text=True, timeout=_PRINTER_S, check=False)
