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

Nor can the order of a trial's samples. What is said of them stands by the letter of their combination:

    for each sample, rosa: next sample; spread; combed straight; sample set; pressed; ...; rosa reads {rosa} %; otto: otto reads {otto} %
    for A: rosa 91, 88, 90; otto 86, 84, 88          each name one value, or one for each sample of A in turn
    for sample 2 of A, rosa: next sample; spread; combed straight; sample ruined ridges broke       in place of the row
    whenever a batch is due, rosa: next batch; 1 bag; water 6 L; batch mixed; wait 8 min; remixed
                                                 where mortars are tried: next batch bucket {bucket}; ...
    08:00:00 samples, 5 min apart                    all that are due now, in their order; or: 3 samples

Of such a row, too, only what is asked for is said: it may hold the phrases of all combinations.
"""  # noqa: E501 (a line of a script cannot be broken)

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
from fieldassist.rehearsal.samples import RowPhrase, SampleTalk, letters_tried, names_in
from fieldassist.trade.message import Figure, Several, message

# A day of three thousand phrases has 150 kB.
_MOST_BYTES = 1_000_000
_LONGEST = 500  # letters of a line
_LONGEST_ROW = 2000  # of one that holds a row of phrases
_MOST_PROBLEMS = 20
_APART_MIN = 2
_TIMED = re.compile(r"(\d{1,2}):(\d{2})(?::(\d{2}))?(?:\s+(.*))?$")
_SPOKEN = re.compile(r"([^:]+):(?:\s+(.*))?$")
_WHENEVER = re.compile(r"whenever a lift is due,?\s*(.*)$")
_BATCH = re.compile(r"whenever a batch is due,?\s*(.*)$")
_EACH = re.compile(r"for each sample,?\s*(.*)$")
_INSTEAD = re.compile(r"for sample (\d+) of ([A-Z]),?\s*(.*)$")
_FILLS = re.compile(r"for ([A-Z]):\s*(.*)$")
_FILL = re.compile(r"([a-z][a-z0-9_]*)\s+(.+)$")
_SAMPLES = re.compile(r"(?:(\d{1,3}) )?samples?(?:, (\d{1,3}) min apart)?$")
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


@dataclass(frozen=True, slots=True)
class SamplesLine:
    """Samples of a trial are made, in their order, with the batches that they need. most: how many, None for all that
    are due; apart_min: from the end of one to the beginning of the next."""

    line: int
    at: time
    most: int | None
    apart_min: int


ScriptLine: TypeAlias = SaidLine | ExpectLine | Whenever | SamplesLine


@dataclass(frozen=True, slots=True)
class Script:
    """A script that was read: its lines in order, at least one of them a phrase; talk: what is said of samples."""

    path: Path
    lines: tuple[ScriptLine, ...]
    talk: SampleTalk

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
    reader.ends()
    if not reader.problems and not any(isinstance(line, SaidLine | SamplesLine) for line in reader.lines):
        reader.problems.append(Problem(0, "", message("rehearse-nothing-said")))
    if reader.problems:
        raise WrongFile(path, reader.problems[:_MOST_PROBLEMS])
    return Script(path, tuple(reader.lines), reader.talk)


class _Reader:
    """Reads line by line, and gathers what is wrong."""

    def __init__(self, plan: DayPlan) -> None:
        self.lines: list[ScriptLine] = []
        self.problems: list[Problem] = []
        self.talk = SampleTalk()
        self._filled: dict[str, int] = {}  # the lines on which they stand
        self._letters = letters_tried(plan)
        self._plan = plan
        self._areas = tuple(area.name for area in plan.areas)
        self._names = {call: person.name for person in plan.crew for call in (*person.calls, person.name)}
        self._last = time()

    def take(self, number: int, written: str) -> None:
        """One line of the file."""
        text = re.split(r"(?:^|\s)#", written, maxsplit=1)[0].strip()
        if not text:
            return
        most = _LONGEST_ROW if text.startswith(("for ", "whenever ")) else _LONGEST
        if len(text) > most:
            self._wrong(number, message("rehearse-long-line", most=most))
        elif timed := _TIMED.match(text):
            self._timed(number, timed)
        elif expected := _EXPECT.match(text):
            self._expected(number, None, expected[1] or "")
        elif whenever := _WHENEVER.match(text):
            self._whenever(number, whenever[1])
        elif not self._of_samples(number, text):
            self._wrong(number, message("rehearse-no-time", given=printable(text[:60])))

    def ends(self) -> None:
        """What the whole of it lacks: every name in the row of a sample is filled in for every letter."""
        wanted = set(names_in(self.talk.each))
        for letter, number in self._filled.items():
            found = set(self.talk.fills[letter])
            for name in sorted(wanted - found):
                self._wrong(number, message("rehearse-not-filled", letter=letter, name=name))
            for name in sorted(found - wanted):
                self._wrong(number, message("rehearse-filled-for-nothing", letter=letter, name=name))
        for line in self.lines:
            if isinstance(line, SamplesLine) and not (self._filled or self.talk.instead):
                self._wrong(line.line, message("rehearse-samples-without-row"))

    # --- samples of a trial

    def _of_samples(self, number: int, text: str) -> bool:
        """A line that says what is said of samples or batches; whether it is one."""
        if batch := _BATCH.match(text):
            self.talk.batch = self._row(number, batch[1])
        elif each := _EACH.match(text):
            self.talk.each = self._row(number, each[1])
        elif instead := _INSTEAD.match(text):
            if self._tried(number, instead[2]):
                self.talk.instead[instead[2], int(instead[1])] = self._row(number, instead[3])
        elif fills := _FILLS.match(text):
            if self._tried(number, fills[1]):
                self._filled[fills[1]] = number
                self.talk.fills[fills[1]] = self._values(number, fills[2])
        else:
            return False
        return True

    def _tried(self, number: int, letter: str) -> bool:
        if letter not in self._letters:
            tried = Several(self._letters or ("-",))
            self._wrong(number, message("rehearse-no-such-letter", letter=letter, letters=tried))
        return letter in self._letters

    def _row(self, number: int, text: str) -> tuple[RowPhrase, ...]:
        """Phrases in a row, each by whoever is named before it, or before the last one that was."""
        found: list[RowPhrase] = []
        name: str | None = None
        for part in text.split(";"):
            words = part.strip()
            spoken = _SPOKEN.match(words)
            if spoken is not None:
                name, words = self._known(number, spoken[1].strip()), (spoken[2] or "").strip()
                if name is None:
                    return ()
            phrase, agreed = _agreed(words)
            if name is None or not phrase:
                self._wrong(number, message("rehearse-row", given=printable(text[:60])))
                return ()
            found.append(RowPhrase(name, phrase, agreed))
        return tuple(found)

    def _values(self, number: int, text: str) -> dict[str, tuple[str, ...]]:
        """Of each name its values."""
        found: dict[str, tuple[str, ...]] = {}
        for part in text.split(";"):
            fill = _FILL.match(part.strip())
            values = tuple(value.strip() for value in fill[2].split(",")) if fill is not None else ()
            if fill is None or not all(values) or fill[1] in found:
                self._wrong(number, message("rehearse-fill", given=printable(part.strip()[:60])))
                return found
            found[fill[1]] = values
        return found

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
        elif samples := _SAMPLES.match(rest):
            most = None if samples[1] is None else int(samples[1])
            self.lines.append(SamplesLine(number, at, most, int(samples[2] or _APART_MIN)))
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
        if isinstance(what, AtOnce) and (
            at is not None or not any(isinstance(x, SaidLine | SamplesLine) for x in self.lines)
        ):
            self._wrong(number, message("rehearse-no-line-before", given=printable(words[:60])))
            return
        self.lines.append(ExpectLine(number, at, words, what))


def _agreed(words: str) -> tuple[str, bool]:
    """The phrase, and whether it has the mark of the yes behind it."""
    text = words.strip()
    return text.removesuffix("!").rstrip(), text.endswith("!")
