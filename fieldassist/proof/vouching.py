"""Whether the reader's roster vouches for a key that signed in a record, and how a doubt is told."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import TypeAlias

from fieldassist.checklist.events import DayOpened
from fieldassist.checklist.plan import DayKind
from fieldassist.proof.beside import Witness, proven_times
from fieldassist.proof.verdict import DAMAGED, UNSEALED, Findings, short_name
from fieldassist.record.chain import Chain
from fieldassist.record.roster import Roster, RosterDoubt, RosterEntry
from fieldassist.record.seal import ReleaseCheck, SealCheck
from fieldassist.trade.message import Figure

# What a key signed in a record: a seal, or what a PIN released or confirmed.
KeyCheck: TypeAlias = SealCheck | ReleaseCheck


def vouched(
    roster: Roster, chain: Chain, witnesses: Sequence[Witness], check: KeyCheck, at: str
) -> RosterEntry | RosterDoubt:
    """What the roster says of a signature in a chain, made at the wall time `at`."""
    opened = chain.events[0].body
    kind: DayKind = opened.kind if isinstance(opened, DayOpened) else "work"
    when = _time(at)
    if when is None:  # it cannot be held against the roster's times
        entry = roster.entry_of(check.public_key)
        return RosterDoubt("unknown") if entry is None else RosterDoubt("early", entry)
    proven = proven_times(witnesses, check.seq)
    return roster.entry_for(check.public_key, check.name, check.role, when, kind=kind, proven=proven)


def tell_roster(roster: Roster, signed_at: str, found: Findings) -> None:
    """Whose roster it is. signed_at: of the last seal, "" for none."""
    signed = _time(signed_at)
    found.say(
        "roster",
        firm=short_name(roster.firm),
        name=short_name(roster.signed.name),
        role=roster.signed.role,
        made=roster.made,
        key=roster.fingerprint,
        later="yes" if signed is not None and datetime.fromisoformat(roster.made) > signed else "no",
    )


def tell_doubt(doubt: RosterDoubt, check: KeyCheck, found: Findings) -> None:
    """A key that the roster gives to somebody else, or to another role, was used to pretend; all else may be honest."""
    who: dict[str, Figure] = {"event": str(check.seq), "name": short_name(check.name), "key": check.fingerprint}
    match doubt:
        case RosterDoubt("other", RosterEntry() as entry):
            as_whom: dict[str, Figure] = {
                "role": check.role.value,
                "whose": short_name(entry.name),
                "as": entry.role.value,
            }
            found.say("vouch-other", DAMAGED, **who, **as_whom)
        case RosterDoubt("early", RosterEntry() as entry):
            found.say("vouch-early", UNSEALED, **who, since=entry.since)
        case RosterDoubt("late", RosterEntry() as entry):
            found.say("vouch-late", UNSEALED, **who, until=entry.until)
        case RosterDoubt("revoked", RosterEntry() as entry):
            found.say("vouch-revoked", UNSEALED, **who, since=entry.revoked, why=short_name(entry.why) or "none")
        case _:
            found.say(f"vouch-{doubt.code}", UNSEALED, **who)


def _time(wall: str) -> datetime | None:
    try:
        read = datetime.fromisoformat(wall)
    except ValueError:
        return None
    return read if read.tzinfo is not None else None
