"""People, PINs and signatures on the command line. A PIN is asked for, or read from standard input; never an option,
since the options of a running program can be read by everybody on the machine."""

from __future__ import annotations

import argparse
import getpass
import sys
from pathlib import Path
from typing import Any

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.plan import Role
from fieldassist.day.clock import SystemClock
from fieldassist.day.session import Answer, Day
from fieldassist.places import tablet_data
from fieldassist.record.keys import Keyring, write_public

OK, REFUSED, MISUSED = 0, 1, 2


def keyring(folder: Path | None) -> Keyring:
    """The tablet's people, or those in `folder`."""
    return Keyring(folder or tablet_data() / "people")


def add_parsers(jobs: Any) -> None:
    """The jobs people, sign, addendum and correct."""

    def job(name: str, run: Any, text: str) -> argparse.ArgumentParser:
        made: argparse.ArgumentParser = jobs.add_parser(name, help=text, description=text)
        made.set_defaults(run=run)
        made.add_argument("--people", type=Path, metavar="DIR", help="folder of people and keys [the tablet's own]")
        return made

    made = job("people", _people, "who can sign on this tablet: list them, give a PIN, hand out a public key")
    made.add_argument("name", nargs="?", metavar="NAME", help="whose PIN or key it is about")
    made.add_argument("--role", choices=[r.value for r in Role], help="give NAME this role and a PIN")
    made.add_argument("--new-key", action="store_true", help="the PIN is forgotten: a new PIN and a new key")
    made.add_argument("--public-key", type=Path, metavar="PEM", help="write the public key, for an inspector")
    made.add_argument("--forget", action="store_true", help="remove the person and the key for good")

    made = job("sign", _sign, "sign a day, or its addendum, and seal it with the signer's PIN")
    made.add_argument("day", type=Path, metavar="DAY")
    made.add_argument("--as", dest="name", metavar="NAME", help="who signs [who spoke last]")
    made.add_argument("--with-open-points", action="store_true", help="sign although points are open")

    made = job("addendum", _addendum, "open a signed day again; what was signed stays as it is")
    made.add_argument("day", type=Path, metavar="DAY")
    made.add_argument("reason", metavar="REASON")

    made = job("correct", _correct, "in an addendum: correct an event of a signed part, in words")
    made.add_argument("day", type=Path, metavar="DAY")
    made.add_argument("event", type=int, metavar="EVENT", help="its number, as the job events and the PDF show it")
    made.add_argument("text", metavar="TEXT")


def _ask_pin(question: str) -> str:
    if sys.stdin.isatty():
        return getpass.getpass(f"{question}: ")
    return sys.stdin.readline().strip()


def _people(options: argparse.Namespace) -> int:
    keys = keyring(options.people)
    if options.name is None:
        for person in keys.people():
            print(f"{person.name}, {person.role.value}, key {person.fingerprint}")
        for path in keys.damaged():
            print(f"{path} is damaged and was left out.", file=sys.stderr)
        return OK
    name = options.name.lower()
    known = {person.name: person for person in keys.people()}
    if options.forget:
        keys.forget(name)
        print(f"{name.title()} cannot sign here any more. Days signed before stay valid.")
    elif options.role is not None:
        role = Role(options.role)
        old = None
        if name in known and not options.new_key:
            old = _ask_pin(f"{name.title()}'s old PIN")
        pin = _ask_pin("New PIN, 4 to 12 digits")
        if pin != _ask_pin("The new PIN again"):
            print("The two are not the same. Nothing was changed: try again.", file=sys.stderr)
            return REFUSED
        now = SystemClock().now()
        person = keys.reset(name, role, pin) if options.new_key else keys.set_pin(name, role, pin, now=now, old=old)
        print(f"{person.name.title()}, {person.role.value}, key {person.fingerprint}")
    elif name not in known:
        print(f"{name.title()} has no PIN here. Give one: fieldassist people {name} --role foreman", file=sys.stderr)
        return MISUSED
    elif options.public_key is None:
        print(f"{name}, {known[name].role.value}, key {known[name].fingerprint}")
    if options.public_key is not None:
        person = next(p for p in keys.people() if p.name == name)
        write_public(options.public_key, person.public_key)
        print(f"{options.public_key}: the public key of {name.title()}, {person.fingerprint}")
    return OK


def _tell(answer: Answer) -> int:
    print(answer.say, file=sys.stdout if answer.taken else sys.stderr)
    return OK if answer.taken else REFUSED


def _sign(options: argparse.Namespace) -> int:
    with Day.resume(options.day, SystemClock()) as day:
        if options.name is not None and not day.state.closed:
            spoken = day.do(cmd.SpeakAs(name=options.name.lower()))
            if not spoken.taken:
                return _tell(spoken)
        signer = day.state.signed[-1] if day.state.closed else day.state.speaker.name if day.state.speaker else ""
        if options.name is not None and options.name.lower() != signer:
            print(f"{signer.title()} has signed already, and has to give the PIN.", file=sys.stderr)
            return REFUSED
        pin = _ask_pin(f"{signer.title()}'s PIN")
        return _tell(day.sign(keyring(options.people), pin, accept_open=options.with_open_points))


def _addendum(options: argparse.Namespace) -> int:
    with Day.resume(options.day, SystemClock()) as day:
        return _tell(day.do(cmd.OpenAddendum(reason=options.reason)))


def _correct(options: argparse.Namespace) -> int:
    with Day.resume(options.day, SystemClock()) as day:
        return _tell(day.do(cmd.Correct(target=options.event, text=options.text)))
