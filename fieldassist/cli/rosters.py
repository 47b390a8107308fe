"""Rosters on the command line: made of the people of this tablet, signed by PIN, and handed out."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time
from pathlib import Path

from fieldassist.cli.asking import ask_unseen
from fieldassist.cli.parser import MISUSED, OK
from fieldassist.cli.terminal import Terminal, this_program
from fieldassist.day.clock import SystemClock
from fieldassist.record.keys import KeyHolder, Keyring, Office
from fieldassist.record.roster import (
    Roster,
    load_roster,
    make_roster,
    roster_for,
    with_people,
    without,
    write_roster,
)
from fieldassist.trade.message import Message, message


@dataclass(frozen=True, slots=True)
class RosterAsked:
    """What is asked for. out: where to write it; by: who signs; firm: of which firm; revoke: whose key is not to be
    believed any more, since when and why; since: without `revoke`, from when on those who are new in it sign."""

    out: Path | None = None
    by: str | None = None
    firm: str | None = None
    revoke: str | None = None
    since: date | None = None
    why: str | None = None


def roster_of(keys: Keyring) -> Path:
    """Where the roster of these people lies: beside their folder."""
    return roster_for(keys.folder.parent, "practice" if keys.practice else "work")


def tell_roster(terminal: Terminal, keys: Keyring) -> None:
    """The roster that this tablet keeps, with everybody in it; nothing where there is none."""
    path = roster_of(keys)
    if not path.exists():
        return
    roster = load_roster(path)
    terminal.tell(_told("cli-roster", path, roster))
    for entry in roster.people:
        terminal.tell(
            message(
                "cli-roster-entry",
                name=entry.name,
                role=entry.role.value,
                since=entry.since,
                until=entry.until or "none",
                revoked=entry.revoked or "none",
            ),
            indent=2,
        )


def tell_who_lacks(terminal: Terminal, keys: Keyring, person: KeyHolder) -> None:
    """That the roster, where there is one, does not know a key yet."""
    path = roster_of(keys)
    if person.role is not Office.FIRM and path.exists() and load_roster(path).entry_of(person.public_key) is None:
        terminal.warn(message("cli-roster-lacks", name=person.name, program=this_program()))


def make_or_hand_out(terminal: Terminal, keys: Keyring, asked: RosterAsked) -> int:
    """Make the roster anew by the PIN of whoever signs it, or hand out the one that is kept."""
    path = roster_of(keys)
    kept = load_roster(path) if path.exists() else None
    if asked.by is None:
        if kept is None or asked.out is None or asked.revoke is not None:
            terminal.warn(message("cli-roster-by"))
            return MISUSED
        write_roster(asked.out, kept)
        terminal.tell(_told("cli-roster-written", asked.out, kept))
        return OK
    firm = asked.firm or (kept.firm if kept is not None else None)
    if firm is None:
        terminal.warn(message("cli-roster-firm"))
        return MISUSED
    now = SystemClock().now()
    at = datetime.fromisoformat(now.wall)
    since = None if asked.since is None else datetime.combine(asked.since, time()).astimezone()
    before = kept.people if kept is not None else ()
    people = with_people(before, keys.people(), at, None if asked.revoke is not None else since)
    if asked.revoke is not None:
        people = without(people, asked.revoke.lower(), since or at, asked.why or "")
    by = asked.by.lower()
    key = keys.unlock(by, ask_unseen(terminal, message("cli-ask-pin", name=by)), now)
    roster = make_roster(firm, people, key, at)
    write_roster(path, roster)
    if asked.out is not None:
        write_roster(asked.out, roster)
    terminal.tell(_told("cli-roster-written", asked.out or path, roster))
    if kept is not None and kept.signed.public_key != key.public_key:
        terminal.warn(message("cli-roster-other-signer", name=kept.signed.name, key=kept.fingerprint))
    return OK


def _told(code: str, path: Path, roster: Roster) -> Message:
    return message(
        code,
        file=str(path),
        firm=roster.firm,
        count=len(roster.people),
        made=roster.made,
        name=roster.signed.name,
        key=roster.fingerprint,
    )
