"""What is asked unseen: PINs, and the words of a carried key. Asked for, or read from standard input; never an option,
since the options of a running program can be read by everybody on the machine."""

from __future__ import annotations

import getpass
import sys
from pathlib import Path

from fieldassist.checklist.plan import DayKind
from fieldassist.cli.terminal import Terminal
from fieldassist.places import tablet_data
from fieldassist.printable import printable
from fieldassist.record.keys import Keyring, keyring_for
from fieldassist.trade.message import Message


def keyring(folder: Path | None, kind: DayKind = "work") -> Keyring:
    """The tablet's people who sign days of this kind, or those in `folder`."""
    return keyring_for(tablet_data(), kind) if folder is None else Keyring(folder, practice=kind != "work")


def ask_unseen(terminal: Terminal, question: Message) -> str:
    """What somebody types, unseen where it is typed."""
    if sys.stdin.isatty():
        return getpass.getpass(f"{printable(terminal.words(question))}: ")
    return sys.stdin.readline().strip()
