"""Plays scripts: every phrase through interpreter, engine and log on a simulated clock, and the pages at the end.

Nothing is acted past the interpreter: what a phrase comes to follows from the day alone. A phrase counts as spoken and
well heard, so that it is read back, asked about and counted as it would be at the wall. Clocks warn and run out in
between as on the tablet. The day is a rehearsal, dated by its clock, and signed with keys made for it.
"""

from __future__ import annotations

import hashlib
import json
import re
import shutil
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.commands import DayBefore
from fieldassist.checklist.moment import SPOKEN
from fieldassist.checklist.offers import THIS_IS
from fieldassist.checklist.plan import DayPlan
from fieldassist.checklist.schema import Checklist
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.ear import Catch, Fate, Reply, interpret_text, spoken_answer
from fieldassist.day.passing import let_time_pass
from fieldassist.day.session import Answer, Day
from fieldassist.day.speaking import Counts, Speaking, SpeakingLevel, ToSay
from fieldassist.facts import facts_of
from fieldassist.record.attachments import folder_of
from fieldassist.record.disk import whole_file
from fieldassist.record.lot_seeds import file_of
from fieldassist.rehearsal.by_hand import BY_PIN, PLAIN_PHOTO, ByHand
from fieldassist.rehearsal.expect import AtOnce, CameTo, WantedCount
from fieldassist.rehearsal.samples import RowPhrase, due
from fieldassist.rehearsal.script import ExpectLine, SaidLine, SamplesLine, Script, ScriptLine, Whenever
from fieldassist.report.signed import hand_out, signed_pages_of
from fieldassist.trade.message import Figure, Message, Refused, holds, message

# Of everybody in a rehearsal; its keys seal nothing but rehearsals.
PIN = "729518"
# What a folder of rehearsals is known by.
MARK = "rehearsal.json"
# The lots of a rehearsal are known, unless it is played with others.
SEED = "rehearsal"
# Rows in a row that begin neither a batch nor a sample.
_MOST_IDLE = 3
_APART_S = 20.0  # between the phrases that answer a lift, or make a sample
_WAIT = re.compile(r"wait (\d{1,3}) min$")
_MOST_LIFTS = 50  # in a row, for one line


class NotPlayed(Refused):
    """The scripts cannot be played as asked; `told` says why and what to do."""


@dataclass(frozen=True, slots=True)
class Miss:
    """An expectation that did not hold: where it stands, what it says, and how it came otherwise."""

    script: Path
    line: int
    words: str
    why: Message

    @property
    def told(self) -> Message:
        """In a line."""
        return message("rehearse-missed", file=self.script.name, line=str(self.line), words=self.words, why=self.why)


@dataclass(slots=True)
class PlayedDay:
    """What came of one script: the day's log, its pages and facts, and what was expected and did not come.

    phrases: of the script that were played; counts: how much was said, by the area that was open ("" for none).
    """

    log: Path
    pdf: Path
    facts: Path
    pages: int = 0
    phrases: int = 0
    held: int = 0
    missed: list[Miss] = field(default_factory=list)
    counts: dict[str, Counts] = field(default_factory=dict)

    @property
    def counted(self) -> Counts:
        """How much was said in all."""
        return sum(self.counts.values(), Counts())


def prepare(out: Path) -> None:
    """Make room in `out` for a rehearsal. NotPlayed where it holds anything else than an earlier one."""
    if out.exists() and not out.is_dir():
        raise NotPlayed(message("rehearse-no-folder", folder=str(out)))
    if out.is_dir() and any(out.iterdir()):
        if not (out / MARK).is_file():
            raise NotPlayed(message("rehearse-folder-taken", folder=str(out)))
        for name in _listed(out / MARK):
            path = out / name
            if path.is_dir() and not path.is_symlink():
                shutil.rmtree(path)
            else:
                path.unlink(missing_ok=True)
    out.mkdir(parents=True, exist_ok=True)


def _listed(mark: Path) -> list[str]:
    """The files of an earlier rehearsal: only names within its folder, whatever the list says."""
    try:
        files = json.loads(mark.read_text(encoding="utf-8"))["files"]
        names = [str(name) for name in files]
    except (OSError, ValueError, KeyError, TypeError):
        raise NotPlayed(message("rehearse-folder-taken", folder=str(mark.parent))) from None
    return [name for name in names if name == Path(name).name and name not in ("", ".", "..")]


def names_of(number: int) -> tuple[str, str, str]:
    """What the files of a rehearsal's day are called: log, pages, facts; number: from 1."""
    end = "" if number == 1 else f"-{number}"
    return f"day{end}.db", f"daily-log{end}.pdf", f"facts{end}.json"


def seed_from(words: str, number: int = 1) -> str:
    """The seed of the lots of the rehearsal's day `number`: known, so that a script meets the same lots again."""
    return hashlib.sha256(f"{words}, day {number}".encode()).hexdigest()


def write_mark(out: Path, days: int, played: Sequence[PlayedDay] = ()) -> None:
    """Say in the folder what is a rehearsal's in it, before anything of it is written, and how much was said after it.

    played: the days that were, each with how much was said.
    """
    files = [MARK, "people", PLAIN_PHOTO]
    for number in range(1, days + 1):
        log, pdf, facts = names_of(number)
        beside = [f"{log}{part}" for part in ("", "-wal", "-shm", ".lock", ".lines")]
        files += [*beside, file_of(Path(log)).name, folder_of(Path(log)).name, pdf, facts]
        files.append(signed_pages_of(Path(log)).name)
    with whole_file(out / MARK) as file:
        said = [{"log": day.log.name, **_as_json(day.counted), "areas": _by_area(day)} for day in played]
        file.write(json.dumps({"rehearsal": 1, "files": files, "said": said}, ensure_ascii=False, indent=1).encode())


def _by_area(day: PlayedDay) -> dict[str, dict[str, int]]:
    return {area: _as_json(counts) for area, counts in day.counts.items()}


def _as_json(counts: Counts) -> dict[str, int]:
    return {
        "utterances": counts.utterances,
        "crew_words": counts.crew_words,
        "tablet_words": counts.tablet_words,
        "tablet_seconds": round(counts.seconds),
    }


def play(
    script: Script,
    plan: DayPlan,
    checklists: Mapping[str, Checklist],
    on: date,
    out: Path,
    number: int,
    tell: Callable[[Figure], None],
    *,
    language: str = "en",
    progress: Callable[[int, int], None] | None = None,
    before: Sequence[DayBefore] = (),
    seed: str = SEED,
    level: SpeakingLevel = "few words",
) -> PlayedDay:
    """Play one script as a day of its own into `out`, which `prepare` made room in.

    on: the day's date; number: of the day among those of this rehearsal, from 1; tell: called with each line of what
    was understood and answered; progress(done, of how many lines); before: days of which areas go on; seed: words from
    which the lots come; level: how much the tablet says aloud. CannotOpen where the plan fits no checklist, or not what
    was there before.
    """
    log, pdf, facts = (out / name for name in names_of(number))
    start = datetime.combine(on, script.begins).astimezone()
    clock = SimulatedClock(start, boot=f"simulated {on.isoformat()}")
    played = PlayedDay(log, pdf, facts)
    lots = seed_from(seed, number)
    with Day.begin(log, plan, checklists, clock, language, kind="rehearsal", before=before, lot_seed=lots) as day:
        player = _Player(day, clock, out / "people", script, played, tell, Speaking(level))
        for done, line in enumerate(script.lines, start=1):
            player.line(line)
            if progress is not None:
                progress(done, len(script.lines))
        player.end()
        player.tell_open()
        played.pages = hand_out(day.log, pdf).pages
        with whole_file(facts) as file:
            file.write(json.dumps(player.facts(), ensure_ascii=False, indent=1).encode())
    return played


class _Player:
    """One script at one day."""

    def __init__(
        self,
        day: Day,
        clock: SimulatedClock,
        people: Path,
        script: Script,
        played: PlayedDay,
        tell: Callable[[Figure], None],
        speaking: Speaking,
    ) -> None:
        self._speaking = speaking
        played.counts = speaking.by_area
        self._day, self._clock, self._script, self._played, self._tell = day, clock, script, played, tell
        photos = script.path.parent
        self._hand = ByHand(day, people, PIN, photos, lambda words: speaking.heard(day, words), how="spoken")
        self._last: tuple[CameTo, Figure | None] = ("not understood", None)
        self._whenever: Whenever | None = None
        self._facts: tuple[int, dict[str, object]] | None = None

    # --- lines

    def line(self, line: ScriptLine) -> None:
        """Play one line of the script."""
        if line.at is not None:
            until = datetime.combine(self._clock.time.date(), line.at, self._clock.time.tzinfo)
            let_time_pass(self._day, self._clock, until, self._clock_speaks)
        if isinstance(line, Whenever):
            self._whenever = line
        elif isinstance(line, SaidLine):
            self._say(line)
        elif isinstance(line, SamplesLine):
            self._samples(line)
        elif not line.at_end:
            self._check(line)
            return
        if not isinstance(line, ExpectLine):
            self._lifts_due()

    def end(self) -> None:
        """Look at what is expected at the end."""
        for line in self._script.lines:
            if isinstance(line, ExpectLine) and line.at_end:
                self._check(line)

    def tell_open(self) -> None:
        """Name what is open."""
        facts: Any = self.facts()
        points = [point for point in facts["open_points"] if not point["answered"]]
        self._tell(message("rehearse-open-points", count=len(points)))
        for point in points:
            self._tell(message("rehearse-open-point", code=point["code"], text=point["text"]))

    def facts(self) -> dict[str, object]:
        """The day's facts as they stand."""
        log = self._day.log
        if self._facts is None or self._facts[0] != len(log.events):
            # Many things are expected of one moment, and what a trial says takes its time.
            self._facts = len(log.events), facts_of(log.events, log.hashes, self._day.words)
        return self._facts[1]

    def _clock_speaks(self, answer: Answer) -> None:
        told = self._speaking.clock(self._day, answer)
        self._tell(message("rehearse-clock", at=f"{self._clock.time:%H:%M:%S}", said=told.whole or ""))

    # --- expectations

    def _check(self, line: ExpectLine) -> None:
        what = line.what
        if isinstance(what, AtOnce):
            wrong = what.differs(*self._last)
        elif isinstance(what, WantedCount):
            wrong = what.differs(self._speaking.by_area)
        else:
            wrong = what.differs(self.facts())
        if wrong is None:
            self._played.held += 1
            self._tell(message("rehearse-held", words=line.words))
            return
        missed = Miss(self._script.path, line.line, line.words, wrong)
        self._played.missed.append(missed)
        self._tell(missed.told)

    # --- phrases

    def _say(self, line: SaidLine) -> None:
        self._played.phrases += 1
        self._speaks(line.name, line.words)
        self._one(line.name, line.words)
        if line.agreed and (self._day.prompt.waits_for_yes or self._day.state.pending is not None):
            self._one(line.name, "yes")

    def _answer_line(self, told: ToSay, whole: Figure) -> Message:
        """What was answered, and how much of it was spoken where that was not all."""
        words = self._day.words
        if told.words is None:
            return message("rehearse-answer-sound", said=whole)
        if words(told.words) == words(whole):
            return message("rehearse-answer", said=whole)
        return message("rehearse-answer-short", said=whole, spoken=told.words)

    def _samples(self, line: SamplesLine) -> None:
        """Make the samples that are due, in the order that was drawn, and mix their mortar. What the script lacks for
        that is an expectation that did not hold."""
        talk, done, idle = self._script.talk, 0, 0
        while done != line.most and (area := self._day.state.area) is not None and (what := due(area)) is not None:
            samples, batches = area.progress.samples, area.progress.batches
            row = talk.batch_row(area) if what == "batch" else talk.row(what, [one.letter for one in samples.values()])
            if not row:
                self._lacks(line, message("rehearse-no-row", letter=what))
                return
            before = self._day.state.last_seq
            if samples or what == "batch":
                self._pass(60.0 * line.apart_min)
            self._say_row(line.line, row)
            now = self._day.state.areas[area.plan.name].progress
            half = next((one for one in now.samples.values() if one.under_way), None)
            if half is not None:
                self._lacks(line, message("rehearse-row-unfinished", letter=half.letter, ask=self._day.prompt.ask))
                return
            # A caution may come again in the middle of a row: then the same row goes on with what it had begun.
            begun = len(now.samples) > len(samples) or len(now.batches) > len(batches)
            idle = 0 if begun else idle + 1
            if idle > _MOST_IDLE or self._day.state.last_seq == before:
                self._lacks(line, message("rehearse-row-made-nothing", letter=what, ask=self._day.prompt.ask))
                return
            done += len(now.samples) - len(samples)

    def _lacks(self, line: SamplesLine, why: Message) -> None:
        missed = Miss(self._script.path, line.line, "samples", why)
        self._played.missed.append(missed)
        self._tell(missed.told)

    def _say_row(self, line: int, row: Sequence[RowPhrase]) -> None:
        """A row of phrases, each where it is asked for."""
        for phrase in row:
            waits = _WAIT.match(phrase.words)
            if waits is not None:
                self._pass(60.0 * int(waits[1]))
            elif self._asked_for(phrase.words):
                self._pass(_APART_S)
                self._say(SaidLine(line, self._clock.time.time(), phrase.name, phrase.words, phrase.agreed))

    def _asked_for(self, words: str) -> bool:
        """Whether a phrase of a row is one now: what nobody asked for would only be refused, and written down."""
        now = [offer for offer in self._day.prompt.offers if offer.now]
        return words.startswith("photo") or bool(interpret_text(words, now, self._day.trial(SPOKEN)).commands)

    def _pass(self, seconds: float) -> None:
        until = self._clock.time + timedelta(seconds=seconds)
        let_time_pass(self._day, self._clock, until, self._clock_speaks)

    def _lifts_due(self) -> None:
        """Answer the lifts that are due, as the script says; a failed one may make others due."""
        whenever = self._whenever
        if whenever is None or not whenever.phrases:
            return
        for _ in range(_MOST_LIFTS):
            area = self._day.state.area
            if self._day.prompt.caution is not None or self._day.state.pending is not None:
                return
            if area is None or area.step is None or area.step.kind != "lift":
                return
            self._tell(message("rehearse-lift-due", line=str(whenever.line)))
            for words, agreed in whenever.phrases:
                if not self._asked_for(words):
                    continue
                self._pass(_APART_S)
                self._say(SaidLine(whenever.line, self._clock.time.time(), whenever.name, words, agreed))
        self._tell(message("rehearse-no-end-of-lifts", most=_MOST_LIFTS))

    def _speaks(self, name: str, words: str) -> None:
        """Whoever says a line is the one who speaks, unless the line says so itself, or has a PIN instead."""
        state = self._day.state
        if state.closed or words.lower().endswith(BY_PIN) or (state.speaker and state.speaker.name == name):
            return
        if isinstance(interpret_text(words, self._day.prompt.offers).command, cmd.SpeakAs):
            return
        person = next(person for person in state.plan.crew if person.name == name) if state.plan else None
        said = f"{THIS_IS} {person.said}" if person is not None else name
        command = cmd.SpeakAs(name=name)
        answer = self._day.do(command)
        reply = Reply(Fate.TAKEN, Catch(said, command), spoken_answer(self._day, answer), answer)
        self._speaking.reply(self._day, reply)
        self._tell(message("rehearse-speaker", at=f"{self._clock.time:%H:%M:%S}", name=name, said=answer.say))

    def _one(self, name: str, words: str) -> None:
        came, reply = self._hand.come_to(name, words)
        told, why = self._speaking.reply(self._day, reply), reply.catch.why
        self._last = (came, told.whole)
        at, fate = f"{self._clock.time:%H:%M:%S}", came.replace(" ", "-")
        line = message("rehearse-fate", fate=fate) if why is None else message("rehearse-fate-why", fate=fate, why=why)
        self._tell(message("rehearse-line", at=at, name=name, words=words, fate=line))
        if told.whole is not None:
            self._tell(self._answer_line(told, told.whole))
        asked = self._day.prompt
        question = asked.say if asked.goes_on is None else asked.goes_on
        if not asked.waits_for_yes and (told.whole is None or not holds(told.whole, question)):
            self._tell(message("rehearse-asked", ask=asked.say))


def days_after(first: date, number: int) -> date:
    """The date of the day `number` of a rehearsal, from 1."""
    return first + timedelta(days=number - 1)
