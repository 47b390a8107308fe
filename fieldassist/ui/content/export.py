"""What is told of a day before it is signed, and the files that are handed over."""

from __future__ import annotations

import os
import re
import string
import sys
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import platformdirs

from fieldassist.checklist.events import DayOpened, Event
from fieldassist.record.bundle import OnProgress
from fieldassist.record.log import DayLog
from fieldassist.record.seal import unsealed_after
from fieldassist.report.build import checked_report
from fieldassist.report.daily import record_of, write_daily_pdf
from fieldassist.report.report_model import AreaReport, BagCount, DayReport, LiftLine, Signature
from fieldassist.report.whole_day import write_whole_day
from fieldassist.report.wording import many, seen_note
from fieldassist.trade.quantities import Units, format_quantity

# --- the day in review ------------------------------------------------------------------------------------------------


def reviewed(events: Sequence[Event], hashes: Sequence[str], units: Units) -> DayReport:
    """The day as the daily log has it, its seals checked. NoDay without an opened day."""
    return checked_report(events, hashes, units=units)


def area_lines(area: AreaReport) -> tuple[str, ...]:
    """What an area came to, a line a fact: tiles, lifts, failures, bags, readings taken back, photos."""
    standing = [failure for failure in area.failures if not failure.withdrawn]
    cured = sum(failure.cured for failure in standing)
    back = sum(w.is_reading for w in area.withdrawn)
    lines = [
        f"Set: {area.tiles}, {area.standing.set_told} of {area.standing.planned_told}",
        f"Tiles: {area.standing.seen_told}" if area.tiles else "",
        _lifts(area, [lift for lift in area.lifts if not lift.withdrawn]),
        f"Failures: {cured} cured, {len(standing) - cured} open" if standing else "No failures",
        _bags(area.bags),
        f"{many(back, 'reading')} taken back; {many(len(area.photos), 'photo')}",
    ]
    return tuple(line for line in lines if line)


def _lifts(area: AreaReport, lifts: Sequence[LiftLine]) -> str:
    if not lifts:
        return "No test tile lifted"
    of = {verdict: sum(lift.verdict == verdict for lift in lifts) for verdict in ("passed", "failed", "not complete")}
    text = f"Test tiles lifted: {of['passed']} passed, {of['failed']} failed"
    if of["not complete"]:
        text += f", {of['not complete']} not complete"
    if area.verdict is not None and area.verdict.worst is not None:
        text += f"; lowest {format_quantity(area.verdict.worst, 'percent')}"
    return text + (f", {format_quantity(area.need.minimum, 'percent')} needed" if area.need is not None else "")


def _bags(bags: BagCount | None) -> str:
    if bags is None:
        return ""
    used = f"Mortar: {format_quantity(bags.used, 'count')} {'bag' if bags.used == 1 else 'bags'} used"
    if bags.predicted is None:
        return f"{used}; {bags.reason}" if bags.reason else used
    said = "TOO LITTLE" if bags.verdict == "too little" else bags.verdict
    return f"{used}, {bags.predicted:.1f} predicted" + (f": {said}" if said else "")


def day_lines(day: DayReport) -> tuple[str, ...]:
    """What the whole day came to."""
    s = day.summary
    return (
        f"Areas: {s.areas_finished} finished of {s.areas_planned}",
        f"Tiles: {s.tiles} set, {seen_note(s)}" if s.tiles else "No tile set",
        f"Refused commands: {s.refused}. Readings taken back: {s.readings_withdrawn}. "
        f"Clocks that ran out: {s.clocks_run_out}.",
        f"{many(len(day.photos), 'photo')} in all; {many(day.events, 'event')} in the log",
    )


def last_signature(day: DayReport) -> Signature | None:
    """Who signed last, the day or its latest addendum; None while that is open."""
    if day.addenda:
        return day.addenda[-1].signature
    return day.signature


def event_words(day: DayReport, number: int) -> str:
    """An event in a few words, as the daily log has it; "" where it has no line of its own.

    number: as the daily log prints it beside the line.
    """
    for area in day.areas:
        for line in area.sequence:
            if line.seq == number and line.kind != "round":
                return ", ".join(part for part in (area.name, line.what, line.reading or line.detail) if part)
    return next((f"remark: {note.text}" for note in day.notes if note.seq == number), "")


# --- where files can go -----------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class ExportPlace:
    """A folder to write to, and what it is called on the screen."""

    words: str
    folder: Path


def places(
    beside: Path,
    *,
    own: Iterable[Path] | None = None,
    roots: Iterable[Path] | None = None,
    mounted: Callable[[Path], bool] = os.path.ismount,
) -> tuple[ExportPlace, ...]:
    """The folders that files can be written to: beside the day, the user's own, sticks and drives that are plugged in.

    Parameters: own, the user's folders; roots, where the system shows sticks; mounted, whether a folder is one: these
    are the system's own unless told otherwise. May wait for a drive that does not answer.
    """
    found = [ExportPlace("Beside the day, on this tablet", beside)]
    for folder in _own() if own is None else own:
        found.append(ExportPlace(f"{folder.name}, on this tablet", folder))
    for folder in _drives(_roots() if roots is None else roots, mounted):
        found.append(ExportPlace(f"Stick or drive {folder.name or folder}", folder))
    distinct = {place.folder: place for place in reversed(found)}
    return tuple(place for place in found if distinct[place.folder] is place and _takes_files(place.folder))


def _own() -> tuple[Path, ...]:
    return Path(platformdirs.user_documents_dir()), Path(platformdirs.user_desktop_dir())


def _roots() -> tuple[Path, ...]:
    # macOS and Windows: as their makers' documentation says; not run by us.
    if sys.platform == "darwin":
        return (Path("/Volumes"),)
    if sys.platform == "win32":
        return tuple(Path(f"{letter}:\\") for letter in string.ascii_uppercase[3:])
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


def _takes_files(folder: Path) -> bool:
    try:
        return folder.is_dir() and os.access(folder, os.W_OK)
    except OSError:
        return False


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


def write_pdf(day: Path, folder: Path, units: Units, progress: OnProgress) -> str:
    """Write the daily log of the day at `day` into a folder; what was written, in words.

    The day may be open elsewhere: what it holds by now is printed. CannotWrite, NoDay, LogProblem; what `progress`
    raises ends it, and then nothing was written.
    """
    with DayLog.open(day, read_only=True) as log:
        out = folder / f"{file_name(log.events, log.hashes)}.pdf"
        made = write_daily_pdf(record_of(log), out, units=units, progress=progress)
        open_events = unsealed_after(log.events, log.hashes)
    left = f" Not in it: {', '.join(x.name for x in made.left_out)}." if made.left_out else ""
    return f"Written, {many(made.pages, 'page')}: {out}.{_standing(open_events)}{left}"


def write_bundle(day: Path, folder: Path, units: Units, progress: OnProgress) -> str:
    """Write the day, its daily log and its attachments as one file into a folder; what was written, in words.

    As `write_pdf`, and BundleProblem.
    """
    with DayLog.open(day, read_only=True) as log:
        out = folder / f"{file_name(log.events, log.hashes)}.bundle"
    written = write_whole_day(
        day,
        out,
        units,
        lambda done, all_: progress(done, 2 * all_),
        lambda done, all_: progress(all_ + done, 2 * all_),
    )
    packed, open_events = written.packed, written.unsealed
    left = f" Not in it, since the tablet lost it: {', '.join(packed.left_out)}." if packed.left_out else ""
    return (
        f"Written, {many(packed.events, 'event')}, {packed.bytes / 1e6:.1f} MB: {out}.{_standing(open_events)}{left} "
        f"Whoever gets it checks it with: fieldassist verify {out.name}"
    )


def _standing(open_events: int) -> str:
    return (
        f" It says NOT SEALED: nobody's key vouches for its last {many(open_events, 'event')}." if open_events else ""
    )
