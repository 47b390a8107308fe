"""`fieldassist people`: who can sign on this tablet, their roster, and their keys on the way to another tablet."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from fieldassist.checklist.plan import Role
from fieldassist.cli.asking import ask_unseen, keyring
from fieldassist.cli.parser import FAILED, FILE, MISUSED, OK, Argument, DatePart, Job, OneOf, Option, people_option
from fieldassist.cli.rosters import RosterAsked, make_or_hand_out, tell_roster, tell_who_lacks
from fieldassist.cli.terminal import Terminal, this_program
from fieldassist.day.clock import SystemClock
from fieldassist.record.carried import read_carried, write_carried
from fieldassist.record.keys import KeyHolder, Keyring, KeyRole, Office, fingerprint, key_role, write_public
from fieldassist.trade.message import Message, message


def _people(
    terminal: Terminal,
    name: str | None,
    role: str | None,
    new_key: bool,
    public_key: Path | None,
    forget: bool,
    practice: bool,
    people: Path | None,
    carry: Path | None,
    take: Path | None,
    roster: Path | None,
    by: str | None,
    firm: str | None,
    revoke: str | None,
    since: date | None,
    why: str | None,
) -> int:
    keys = keyring(people, "practice" if practice else "work")
    if take is not None:
        return _take(terminal, keys, take)
    if roster is not None or revoke is not None or by is not None:
        return make_or_hand_out(terminal, keys, RosterAsked(roster, by, firm, revoke, since, why))
    if name is None:
        for person in keys.people():
            terminal.tell(_holder(person))
        for path in keys.damaged():
            terminal.warn(message("cli-person-damaged", file=str(path)))
        tell_roster(terminal, keys)
        return OK
    name = name.lower()
    known = {person.name: person for person in keys.people()}
    if forget:
        keys.forget(name)
        terminal.tell(message("cli-person-forgotten", name=name))
    elif role is not None:
        code = _give_pin(terminal, keys, name, key_role(role), has_one=name in known, new_key=new_key)
        if code != OK:
            return code
        tell_who_lacks(terminal, keys, next(person for person in keys.people() if person.name == name))
    elif name not in known:
        terminal.warn(message("cli-person-unknown", name=name, program=this_program()))
        return MISUSED
    elif carry is not None:
        return _carry(terminal, keys, name, carry)
    elif public_key is None:
        terminal.tell(_holder(known[name]))
    if public_key is not None:
        person = next(p for p in keys.people() if p.name == name)
        write_public(public_key, person.public_key)
        terminal.tell(message("cli-public-key-written", file=str(public_key), name=name, key=person.fingerprint))
    return OK


def _give_pin(terminal: Terminal, keys: Keyring, name: str, role: KeyRole, *, has_one: bool, new_key: bool) -> int:
    old = ask_unseen(terminal, message("cli-ask-old-pin", name=name)) if has_one and not new_key else None
    pin = ask_unseen(terminal, message("cli-ask-new-pin"))
    if pin != ask_unseen(terminal, message("cli-ask-pin-again")):
        terminal.warn(message("cli-pins-differ"))
        return FAILED
    now = SystemClock().now()
    if new_key:
        terminal.tell(_holder(keys.reset(name, role, pin, now=now)))
    else:
        terminal.tell(_holder(keys.set_pin(name, role, pin, now=now, old=old)))
    return OK


def _carry(terminal: Terminal, keys: Keyring, name: str, out: Path) -> int:
    pin = ask_unseen(terminal, message("cli-ask-pin", name=name))
    words = write_carried(out, keys.hand_on(name, pin, SystemClock().now()))
    terminal.tell(message("cli-carried", file=str(out), name=name, words=words, program=this_program()))
    return OK


def _take(terminal: Terminal, keys: Keyring, file: Path) -> int:
    key_file = read_carried(file, ask_unseen(terminal, message("cli-ask-words")))
    taken = keys.take_over(key_file, ask_unseen(terminal, message("cli-ask-their-pin")))
    terminal.tell(_holder(taken))
    terminal.tell(message("cli-carried-arrived", file=str(file)))
    return OK


def _holder(person: KeyHolder) -> Message:
    told = {"name": person.name, "role": person.role.value, "key": person.fingerprint}
    practice = "yes" if person.practice else "no"
    before = fingerprint(person.replaces) if person.replaces else "none"
    return message("cli-person", practice=practice, before=before, **told)


job = Job(
    "people",
    _people,
    Argument("name", metavar="NAME", required=False),
    Option("--role", metavar="ROLE", type=OneOf(*(role.value for role in (*Role, *Office)))),
    Option("--new-key", is_flag=True),
    Option("--public-key", metavar="PEM", type=FILE),
    Option("--forget", is_flag=True),
    Option("--practice", is_flag=True),
    Option("--carry", metavar="FILE", type=FILE),
    Option("--take", metavar="FILE", type=FILE),
    Option("--roster", metavar="FILE", type=FILE),
    Option("--by", metavar="NAME"),
    Option("--firm", metavar="FIRM"),
    Option("--revoke", metavar="NAME"),
    Option("--since", metavar="DATE", type=DatePart()),
    Option("--why", metavar="TEXT"),
    people_option(),
)
