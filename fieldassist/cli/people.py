"""`fieldassist people`: who can sign on this tablet. A PIN is asked for, or read from standard input; never an option,
since the options of a running program can be read by everybody on the machine."""

from __future__ import annotations

import getpass
import sys
from pathlib import Path

from fieldassist.checklist.plan import DayKind, Role
from fieldassist.cli.parser import FAILED, FILE, MISUSED, OK, Argument, Job, OneOf, Option, people_option
from fieldassist.cli.terminal import Terminal, this_program
from fieldassist.day.clock import SystemClock
from fieldassist.places import tablet_data
from fieldassist.printable import printable
from fieldassist.record.keys import KeyHolder, Keyring, fingerprint, keyring_for, write_public
from fieldassist.trade.message import Message, message


def keyring(folder: Path | None, kind: DayKind = "work") -> Keyring:
    """The tablet's people who sign days of this kind, or those in `folder`."""
    return keyring_for(tablet_data(), kind) if folder is None else Keyring(folder, practice=kind != "work")


def ask_pin(terminal: Terminal, question: Message) -> str:
    """A PIN, unseen where somebody types it."""
    if sys.stdin.isatty():
        return getpass.getpass(f"{printable(terminal.words(question))}: ")
    return sys.stdin.readline().strip()


def _people(
    terminal: Terminal,
    name: str | None,
    role: str | None,
    new_key: bool,
    public_key: Path | None,
    forget: bool,
    practice: bool,
    people: Path | None,
) -> int:
    keys = keyring(people, "practice" if practice else "work")
    if name is None:
        for person in keys.people():
            terminal.tell(_holder(person))
        for path in keys.damaged():
            terminal.warn(message("cli-person-damaged", file=str(path)))
        return OK
    name = name.lower()
    known = {person.name: person for person in keys.people()}
    if forget:
        keys.forget(name)
        terminal.tell(message("cli-person-forgotten", name=name))
    elif role is not None:
        code = _give_pin(terminal, keys, name, Role(role), has_one=name in known, new_key=new_key)
        if code != OK:
            return code
    elif name not in known:
        terminal.warn(message("cli-person-unknown", name=name, program=this_program()))
        return MISUSED
    elif public_key is None:
        terminal.tell(_holder(known[name]))
    if public_key is not None:
        person = next(p for p in keys.people() if p.name == name)
        write_public(public_key, person.public_key)
        terminal.tell(message("cli-public-key-written", file=str(public_key), name=name, key=person.fingerprint))
    return OK


def _give_pin(terminal: Terminal, keys: Keyring, name: str, role: Role, *, has_one: bool, new_key: bool) -> int:
    old = ask_pin(terminal, message("cli-ask-old-pin", name=name)) if has_one and not new_key else None
    pin = ask_pin(terminal, message("cli-ask-new-pin"))
    if pin != ask_pin(terminal, message("cli-ask-pin-again")):
        terminal.warn(message("cli-pins-differ"))
        return FAILED
    now = SystemClock().now()
    if new_key:
        terminal.tell(_holder(keys.reset(name, role, pin, now=now)))
    else:
        terminal.tell(_holder(keys.set_pin(name, role, pin, now=now, old=old)))
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
    Option("--role", metavar="ROLE", type=OneOf(*(role.value for role in Role))),
    Option("--new-key", is_flag=True),
    Option("--public-key", metavar="PEM", type=FILE),
    Option("--forget", is_flag=True),
    Option("--practice", is_flag=True),
    people_option(),
)
