"""The script of a rehearsal: a text file of timed phrases, and of what the day is expected to come to.

    # a remark
    07:30:00 rosa: start area shower wall
    07:41:00 rosa: slid half an inch!            the phrase, and a yes where a value waits to be kept
    expect taken                                 of the line before
    12:00:00 expect tile 7 of shower wall suspect    at that time
    expect shower wall finished                  at the end
    whenever a lift is due, rosa: tile lifted; coverage ninety seven percent!; corners full

What may be expected, `expect` tells. A lift that a lot asks for cannot be foreseen: what stands behind "whenever a
lift is due" is said then, each phrase where it is asked for, from that line on until "whenever a lift is due, nothing".
"""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass
from datetime import time
from pathlib import Path
from typing import TypeAlias

from fieldassist.checklist.loader import Problem, WrongFile
from fieldassist.checklist.plan import DayPlan
from fieldassist.files import UnfitFile, read_regular
from fieldassist.printable import printable
from fieldassist.rehearsal.expect import AtOnce, Expected, NotExpected, read_expectation
from fieldassist.trade.message import Figure, Several, message

# A day of three thousand phrases has 150 kB.
_MOST_BYTES = 1_000_000
_LONGEST = 500  # letters of a line
_MOST_PROBLEMS = 20
_TIMED = re.compile(r"(\d{1,2}):(\d{2})(?::(\d{2}))?(?:\s+(.*))?$")
_SPOKEN = re.compile(r"([^:]+):(?:\s+(.*))?$")
_WHENEVER = re.compile(r"whenever a lift is due,?\s*(.*)$")
_EXPECT = re.compile(r"expect(?:\s+(.*))?$")


@dataclass(frozen=True, slots=True)
class SaidLine:
    """Something said. line: its number in the file; agreed: a yes follows where a value waits."""

    line: int
    at: time
    name: str
    words: str
    agreed: bool = False


@dataclass(frozen=True, slots=True)
class ExpectLine:
    """What is expected, as it is written. at: when; None for at the end, or of the phrase before."""

    line: int
    at: time | None
    words: str
    what: Expected

    @property
    def at_end(self) -> bool:
        """Whether it is looked at when the script is over."""
        return self.at is None and not isinstance(self.what, AtOnce)


@dataclass(frozen=True, slots=True)
class Whenever:
    """What is said, from this line on, whenever a lift is due: each with whether a yes follows. Nothing: no more."""

    line: int
    name: str
    phrases: tuple[tuple[str, bool], ...]

    @property
    def at(self) -> None:
        """It has no time of its own."""
        return


ScriptLine: TypeAlias = SaidLine | ExpectLine | Whenever


@dataclass(frozen=True, slots=True)
class Script:
    """A script that was read: its lines in order, at least one of them a phrase."""

    path: Path
    lines: tuple[ScriptLine, ...]

    @property
    def begins(self) -> time:
        """When its first line is played."""
        return next(line.at for line in self.lines if line.at is not None)


def read_script(path: Path, plan: DayPlan) -> Script:
    """The script in a file, for a day of this plan. WrongFile with each line that cannot be played, and what to do."""
    try:
        raw = read_regular(path, _MOST_BYTES)
    except UnfitFile as unfit:
        raise WrongFile(path, [Problem(0, "", message(unfit.code, why=unfit.why, most=_MOST_BYTES // 1000))]) from unfit
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise WrongFile(path, [Problem(line, "", message("file-not-utf8"))]) from error
    reader = _Reader(plan)
    for number, written in enumerate(text.split("\n"), start=1):
        reader.take(number, written)
    if not reader.problems and not any(isinstance(line, SaidLine) for line in reader.lines):
        reader.problems.append(Problem(0, "", message("rehearse-nothing-said")))
    if reader.problems:
        raise WrongFile(path, reader.problems[:_MOST_PROBLEMS])
    return Script(path, tuple(reader.lines))


class _Reader:
    """Reads line by line, and gathers what is wrong."""

    def __init__(self, plan: DayPlan) -> None:
        self.lines: list[ScriptLine] = []
        self.problems: list[Problem] = []
        self._plan = plan
        self._areas = tuple(area.name for area in plan.areas)
        self._names = {call: person.name for person in plan.crew for call in (*person.calls, person.name)}
        self._last = time()

    def take(self, number: int, written: str) -> None:
        """One line of the file."""
        text = re.split(r"(?:^|\s)#", written, maxsplit=1)[0].strip()
        if not text:
            return
        if len(text) > _LONGEST:
            self._wrong(number, message("rehearse-long-line", most=_LONGEST))
        elif timed := _TIMED.match(text):
            self._timed(number, timed)
        elif expected := _EXPECT.match(text):
            self._expected(number, None, expected[1] or "")
        elif whenever := _WHENEVER.match(text):
            self._whenever(number, whenever[1])
        else:
            self._wrong(number, message("rehearse-no-time", given=printable(text[:60])))

    def _wrong(self, number: int, wrong: Figure) -> None:
        self.problems.append(Problem(number, "", wrong))

    def _timed(self, number: int, found: re.Match[str]) -> None:
        hour, minute, second = (int(part or 0) for part in found.groups()[:3])
        if hour > 23 or minute > 59 or second > 59:
            self._wrong(number, message("rehearse-no-such-time", given=found[0].split()[0]))
            return
        at = time(hour, minute, second)
        if at < self._last:
            self._wrong(number, message("rehearse-backwards", given=f"{at:%H:%M:%S}", last=f"{self._last:%H:%M:%S}"))
            return
        self._last = at
        rest = found[4] or ""
        if expected := _EXPECT.match(rest):
            self._expected(number, at, expected[1] or "")
        elif spoken := _SPOKEN.match(rest):
            self._said(number, at, spoken[1].strip(), (spoken[2] or "").strip())
        else:
            self._wrong(number, message("rehearse-nobody-says", given=printable(rest[:60])))

    def _said(self, number: int, at: time, given: str, words: str) -> None:
        name = self._known(number, given)
        phrase, agreed = _agreed(words)
        if name is None:
            return
        if phrase:
            self.lines.append(SaidLine(number, at, name, phrase, agreed))
        else:
            self._wrong(number, message("rehearse-no-words", name=name))

    def _whenever(self, number: int, text: str) -> None:
        if text == "nothing":
            self.lines.append(Whenever(number, "", ()))
            return
        spoken = _SPOKEN.match(text)
        phrases = tuple(_agreed(part) for part in (spoken[2] or "").split(";")) if spoken else ()
        if spoken is None or not all(words for words, _ in phrases):
            self._wrong(number, message("rehearse-whenever", given=printable(text[:60])))
        elif (name := self._known(number, spoken[1].strip())) is not None:
            self.lines.append(Whenever(number, name, phrases))

    def _known(self, number: int, given: str) -> str | None:
        """Who is called this; where nobody is, that is said of the line."""
        name = self._names.get(given.lower())
        if name is None:
            near = difflib.get_close_matches(given.lower(), self._names, 1, 0.6)
            wrong: Figure = message("rehearse-nobody-called", given=printable(given[:60]), names=Several(self._crew))
            if near:
                wrong = Several((wrong, message("file-did-you-mean", near=near[0])), "sentences")
            self._wrong(number, wrong)
        return name

    @property
    def _crew(self) -> tuple[str, ...]:
        return tuple(person.name for person in self._plan.crew)

    def _expected(self, number: int, at: time | None, words: str) -> None:
        try:
            what = read_expectation(words, self._areas)
        except NotExpected as wrong:
            self._wrong(number, wrong.told)
            return
        if isinstance(what, AtOnce) and (at is not None or not any(isinstance(x, SaidLine) for x in self.lines)):
            self._wrong(number, message("rehearse-no-line-before", given=printable(words[:60])))
            return
        self.lines.append(ExpectLine(number, at, words, what))


def _agreed(words: str) -> tuple[str, bool]:
    """The phrase, and whether it has the mark of the yes behind it."""
    text = words.strip()
    return text.removesuffix("!").rstrip(), text.endswith("!")
