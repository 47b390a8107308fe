"""A day as one file to hand over: its record, its attachments and its daily log, the signed one where there is one."""

from __future__ import annotations

import tempfile
from dataclasses import dataclass
from pathlib import Path

from fieldassist.checklist.events import DayOpened
from fieldassist.places import shipped, tablet_data
from fieldassist.record.beside import GoesAlong
from fieldassist.record.bundle import BundleProblem, OnProgress, Packed, pack
from fieldassist.record.log import DayLog
from fieldassist.record.manifest import PAGE
from fieldassist.record.roster import roster_for
from fieldassist.record.seal import unsealed_after
from fieldassist.report.signed import hand_out
from fieldassist.trade.message import message
from fieldassist.trade.quantities import Units


@dataclass(frozen=True, slots=True)
class WholeDay:
    """What was written. unsealed: events at its end that nobody's key vouches for; later: events in it that the daily
    log in it does not show, because the crew went on meanwhile."""

    packed: Packed
    unsealed: int
    later: int


def write_whole_day(
    day: Path, out: Path, units: Units | None, printing: OnProgress | None = None, packing: OnProgress | None = None
) -> WholeDay:
    """Write the day at `day`, which may be open elsewhere, into the bundle `out`.

    units: of a copy of its daily log, None for the signed one, as `hand_out`; printing, packing: told (done, of how
    much). BundleProblem, CannotWrite, NoFacts, LogProblem; what a progress raises
    ends it, and then nothing was written.
    """
    try:
        with tempfile.TemporaryDirectory(prefix="fieldassist-") as scratch, DayLog.open(day, read_only=True) as log:
            pdf = Path(scratch) / "daily-log.pdf"
            hand_out(log, pdf, units=units, progress=printing)
            packed = pack(day, out, pdf, packing, _goes_along(log))
            return WholeDay(packed, unsealed_after(log.events, log.hashes), packed.events - len(log.events))
    except OSError as error:
        why = error.strerror or str(error)
        raise BundleProblem(message("record-bundle-no-space", why=why)) from error


def _goes_along(log: DayLog) -> GoesAlong:
    """The tablet's roster of whoever signs days of this kind, and the page that checks without the program."""
    opened = log.events[0].body if log.events else None
    kind = opened.kind if isinstance(opened, DayOpened) else "work"
    return GoesAlong(roster_for(tablet_data(), kind), shipped("assets") / PAGE)
