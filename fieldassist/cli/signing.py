"""Signatures on the command line: the day's, its addenda and their corrections."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.kinds.hold import called_for
from fieldassist.checklist.state import State
from fieldassist.cli.asking import ask_unseen, keyring
from fieldassist.cli.parser import (
    FAILED,
    OK,
    Argument,
    Job,
    NumberOption,
    Option,
    day_argument,
    people_option,
    units_option,
)
from fieldassist.cli.progress import shown
from fieldassist.cli.terminal import Terminal
from fieldassist.day.clock import SystemClock
from fieldassist.day.session import Answer, Day
from fieldassist.places import tablet_data
from fieldassist.record.tablet_days import TabletBook
from fieldassist.trade.message import Message, message

if TYPE_CHECKING:
    from fieldassist.record.keys import SigningKey


def _tell(terminal: Terminal, answer: Answer) -> int:
    (terminal.tell if answer.taken else terminal.warn)(answer.say)
    return OK if answer.taken else FAILED


def called_out(state: State, name: str) -> list[Message]:
    """The releases that were called out in this person's name and wait for the PIN, each with its event's number."""
    told = []
    for release in called_for(state, name):
        step = state.areas[release.area].checklist.step(release.section, release.step)
        at = f"{datetime.fromisoformat(release.at.wall):%H:%M}"
        told.append(message("cli-called-out", event=str(release.seq), area=release.area, hold=step.name, at=at))
    return told


def _sign(
    terminal: Terminal,
    day: Path,
    signer: str | None,
    with_open_points: bool,
    strike: tuple[int, ...],
    people: Path | None,
    units: Literal["metric", "us"] | None,
) -> int:
    with Day.resume(day, SystemClock(), language=terminal.words.language, book=TabletBook(tablet_data())) as opened:
        terminal = terminal.using(opened.words)
        if signer is not None and not opened.state.closed:
            spoken = opened.do(cmd.SpeakAs(name=signer.lower()))
            if not spoken.taken:
                return _tell(terminal, spoken)
        state = opened.state
        who = state.signed[-1] if state.closed else state.speaker.name if state.speaker else ""
        if signer is not None and signer.lower() != who:
            terminal.warn(message("cli-signed-already", name=who))
            return FAILED
        for called in called_out(state, who) if not state.closed else ():
            terminal.tell(called)
        pin = ask_unseen(terminal, message("cli-ask-pin", name=who))
        keys = keyring(people, state.kind)

        def pages(key: SigningKey) -> None:
            # Whoever opens an addendum does not wait for what prints.
            from fieldassist.report.signed import sign_pages

            sign_pages(opened.log, key, opened.clock.now(), units=units, progress=shown(terminal.say("progress-sign")))

        signed = opened.sign(keys, pin, accept_open=with_open_points, strike=strike, pages=pages)
        return _tell(terminal, signed)


def _addendum(terminal: Terminal, day: Path, reason: str) -> int:
    with Day.resume(day, SystemClock(), language=terminal.words.language, book=TabletBook(tablet_data())) as opened:
        return _tell(terminal.using(opened.words), opened.do(cmd.OpenAddendum(reason=reason)))


def _correct(terminal: Terminal, day: Path, event: int, text: str) -> int:
    with Day.resume(day, SystemClock(), language=terminal.words.language, book=TabletBook(tablet_data())) as opened:
        return _tell(terminal.using(opened.words), opened.do(cmd.Correct(target=event, text=text)))


sign = Job(
    "sign",
    _sign,
    day_argument(),
    Option("--as", "signer", metavar="NAME"),
    Option("--with-open-points", is_flag=True),
    Option("--strike", metavar="EVENT", type=NumberOption(int), many=True),
    people_option(),
    units_option(),
)
addendum = Job("addendum", _addendum, day_argument(), Argument("reason", metavar="REASON"))
correct = Job(
    "correct",
    _correct,
    day_argument(),
    Argument("event", metavar="EVENT", type=NumberOption(int)),
    Argument("text", metavar="TEXT"),
)
