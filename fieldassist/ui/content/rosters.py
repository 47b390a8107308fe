"""The roster on this tablet, person by person: who signs with which key, from when to when, and whether that holds."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Literal

from fieldassist.checklist.plan import DayKind
from fieldassist.record.keys import KeyHolder, Office, fingerprint
from fieldassist.record.roster import Roster, RosterEntry, load_roster, roster_for
from fieldassist.trade.message import Message, message

# What a roster comes in.
ROSTERS = (".json",)
# A key signs now; it did, or will; it is revoked; it is on this tablet and in no roster.
EntryState = Literal["signs", "ended", "revoked", "not listed"]


@dataclass(frozen=True, slots=True)
class RosterLine:
    """One key of the roster, or of this tablet. told: since, until, or revoked, in a line; fingerprint: of the key."""

    name: str
    role: str
    state: EntryState
    told: Message
    fingerprint: str
    here: bool


def kept_roster(data: Path, kind: DayKind) -> Roster | None:
    """The roster that the tablet has for days of this kind, None for none. RosterProblem where it is not good."""
    path = roster_for(data, kind)
    return load_roster(path) if path.is_file() else None


def roster_lines(roster: Roster | None, holders: Iterable[KeyHolder], now: datetime) -> tuple[RosterLine, ...]:
    """Everybody of the roster in its order, and then the keys of this tablet that it does not hold."""
    here = {holder.public_key: holder for holder in holders}
    people = roster.people if roster is not None else ()
    lines = [_line(entry, now, here) for entry in people]
    listed = {entry.record_key for entry in people}
    lines += [
        RosterLine(h.name, h.role.value, "not listed", message("roster-not-listed"), h.fingerprint, here=True)
        for h in here.values()
        if h.public_key not in listed and h.role is not Office.FIRM
    ]
    return tuple(lines)


def _line(entry: RosterEntry, now: datetime, here: Mapping[str, KeyHolder]) -> RosterLine:
    since, until = entry.since[:10], entry.until[:10]
    state: EntryState = "signs"
    told = message("roster-signs", since=since, until=until or "none")
    if entry.revoked:
        state = "revoked"
        told = message("roster-revoked", since=entry.revoked[:10], why=entry.why or "none")
    elif now < datetime.fromisoformat(entry.since) or (entry.until and now > datetime.fromisoformat(entry.until)):
        state = "ended"
    print_of = fingerprint(entry.record_key)
    return RosterLine(entry.name, entry.role.value, state, told, print_of, here=entry.record_key in here)
