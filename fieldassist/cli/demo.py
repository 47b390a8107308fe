"""`fieldassist demo`: an invented site's day, played from recordings through recognizer, engine and log to the PDF.

Nothing is scripted past the recognizer: the scenario says which recording is played when, what is done by hand, and
what the day should have come to; what happens in between follows from what is heard.
"""

from __future__ import annotations

import json
import shutil
from collections import Counter
from collections.abc import Callable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass, field
from datetime import date, datetime
from pathlib import Path
from typing import Annotated

from pydantic import Field, StringConstraints

from fieldassist.checklist import events as ev
from fieldassist.checklist.attempt import attempt
from fieldassist.checklist.loader import load_file, load_folder, load_plan
from fieldassist.checklist.moment import SPOKEN
from fieldassist.checklist.open_points import unanswered
from fieldassist.checklist.plan import Written
from fieldassist.checklist.state import Area
from fieldassist.checklist.trying import made
from fieldassist.cli.demo_samples import SpokenLine, SpokenSamples
from fieldassist.cli.hearing import recognizer as load
from fieldassist.cli.parser import FAILED, FOLDER, OK, Job, Option, date_option, model_option
from fieldassist.cli.problems import told
from fieldassist.cli.speaking import counted
from fieldassist.cli.terminal import Terminal, this_program
from fieldassist.day.clock import SimulatedClock
from fieldassist.day.ear import Catch, Fate, Reply, act, catch, interpret_text, sifted
from fieldassist.day.passing import let_time_pass
from fieldassist.day.rejection import where_said
from fieldassist.day.session import Answer, Day
from fieldassist.day.speaking import Counts, Speaking, ToSay
from fieldassist.places import shipped
from fieldassist.proof.page import write_page
from fieldassist.record.keys import Keyring, Office
from fieldassist.record.lot_seeds import file_of
from fieldassist.record.manifest import PAGE
from fieldassist.record.roster import make_roster, with_people, write_roster
from fieldassist.rehearsal.by_hand import ByHand
from fieldassist.rehearsal.play import seed_from
from fieldassist.report.signed import hand_out, signed_pages_of
from fieldassist.trade.message import Figure, Message, Several, message
from fieldassist.trial.model import Claim
from fieldassist.voice.audio import AudioProblem, read_audio
from fieldassist.voice.recognizer import Recognizer
from fieldassist.voice.speaker import Speaker, find_speaker

ClockTime = Annotated[str, StringConstraints(pattern=r"^\d{2}:\d{2}:\d{2}$")]


class Noise(Written):
    """Which noise was mixed in, for whoever rebuilds the recordings."""

    kind: str
    snr_db: float


class Utterance(Written):
    """One recording: when it is played, and what is truly said in it. `talk`: it is not meant for the tablet."""

    file: str
    at: ClockTime
    voice: str
    said: str
    talk: bool = False
    noise: Noise | None = None
    speed: float = 1.0


class ByHandEntry(Written):
    """What is done by hand: typed words, a note, a photo, a release by PIN (`rehearsal.by_hand` says how). by: whose
    hand it is."""

    at: ClockTime
    by: str
    typed: str


class SamplesEntry(Written):
    """From here on the samples of an area's trial are made, in the order in which the tablet asks for them."""

    at: ClockTime
    samples: str


class ExpectedLift(Written):
    """A lift that the day should hold."""

    area: str
    coverage: float
    passed: bool


class ExpectedTrial(Written):
    """What the trial of an area should come to, in whatever order its samples were drawn.

    made, spoiled: samples; contenders, worse: letters that are among those, worse than the best beyond noise; found:
    parts of planned questions whose gain is beyond noise; released: letter and areas.
    """

    made: int
    spoiled: int
    ruled_out: tuple[str, ...]
    claim: Claim
    best: str
    contenders: tuple[str, ...]
    worse: tuple[str, ...]
    found: tuple[str, ...]
    released: dict[str, tuple[str, ...]]


class Expectation(Written):
    """What the day should come to; trials: by area."""

    finished: tuple[str, ...]
    unfinished: tuple[str, ...]
    lifts: tuple[ExpectedLift, ...]
    cured: int
    uncured: int
    withdrawn: int
    ran_out: tuple[str, ...]
    refused: int
    open: tuple[str, ...]
    signed_by: str
    sealed: bool
    trials: dict[str, ExpectedTrial] = Field(default_factory=dict)


class Scenario(Written):
    """A day in recordings. signs: who signs at its end, with this invented PIN, and confirms with it what
    was called out in that name; firm: whose people they are, which signs their roster; seed: words from which the lots
    come; samples: what is said of those of a trial.
    """

    plan: str
    offset: str
    pronounce: dict[str, str] = Field(default_factory=dict)
    signs: str
    pin: str
    firm: str
    seed: str
    expect: Expectation
    samples: SpokenSamples | None = None
    utterances: Annotated[tuple[Utterance | ByHandEntry | SamplesEntry, ...], Field(min_length=1)]

    def played(self, day: Day, clock: SimulatedClock, on: date) -> Iterator[Utterance | ByHandEntry]:
        """Its entries, with those of each sample as the day asks for it."""
        for entry in self.utterances:
            if not isinstance(entry, SamplesEntry):
                yield entry
            elif self.samples is not None:
                for at, line in self.samples.played(day, clock, _moment(on, entry.at, self.offset)):
                    yield self._of_sample(self.samples, f"{at:%H:%M:%S}", line)

    @staticmethod
    def _of_sample(samples: SpokenSamples, at: str, line: SpokenLine) -> Utterance | ByHandEntry:
        if line.typed:
            return ByHandEntry(at=at, by=line.by, typed=line.typed)
        file, voice = samples.recording(line), samples.voices[line.by]
        return Utterance(file=file, at=at, voice=voice, said=line.said, speed=samples.speed)

    @property
    def recorded(self) -> tuple[Utterance, ...]:
        """What is played from recordings, besides what is said of samples."""
        return tuple(one for one in self.utterances if isinstance(one, Utterance))


@dataclass
class Played:
    """What came of the demo. fates: of the recordings; by_hand: how much was done by hand; differences: where the day
    is not what the scenario says, none when it is."""

    fates: Counter[Fate]
    by_hand: int
    log: Path
    pdf: Path
    roster: Path
    utterances: Path
    pages: int
    fingerprint: str
    counts: Counts
    differences: list[Message] = field(default_factory=list)


def play(
    folder: Path,
    out: Path,
    recognizer: Recognizer,
    speaker: Speaker,
    tell: Callable[[Figure], None],
    on: date | None = None,
    file: str = "scenario.yaml",
) -> Played:
    """Play the scenario in `folder` into `out` (daily-log.pdf, roster.json, day.db, people/, utterances.jsonl,
    read-back/).

    tell: called with each line of progress; on: the day's date, None for today's, since it is a rehearsal, whatever
    date its plan has; file: the scenario's. The day's own files of an earlier demo in `out` are replaced.
    """
    on = on or datetime.now().astimezone().date()
    scenario = load_file(folder / file, Scenario)
    plan = load_plan(folder / scenario.plan)
    checklists, refused = load_folder(shipped("checklists"))
    for wrong in refused:
        tell(str(wrong))
    out.mkdir(parents=True, exist_ok=True)
    database, pdf, lines = out / "day.db", out / "daily-log.pdf", out / "utterances.jsonl"
    for stale in (
        pdf,
        signed_pages_of(database),
        lines,
        file_of(database),
        *(database.with_name(database.name + s) for s in ("", "-wal", "-shm", ".lock", ".lines")),
    ):
        stale.unlink(missing_ok=True)
    clock = SimulatedClock(_moment(on, scenario.utterances[0].at, scenario.offset))
    fates: Counter[Fate] = Counter()
    differences: list[Message] = []
    with (
        Day.begin(database, plan, checklists, clock, kind="rehearsal", lot_seed=seed_from(scenario.seed)) as day,
        lines.open("w", encoding="utf-8") as record,
        # What is said back is written beside the recognition of what comes next.
        ThreadPoolExecutor(max_workers=1) as voice,
    ):
        spoken: list[Future[None]] = []
        speaking = Speaking()
        shutil.rmtree(out / "people", ignore_errors=True)
        hand = ByHand(day, out / "people", scenario.pin, folder, lambda words: speaking.heard(day, words))

        def say(told: ToSay) -> None:
            if told.words is not None:
                spoken.append(voice.submit(speaker.say, day.words.aloud(told.words)))

        def clock_speaks(answer: Answer) -> None:
            tell(message("cli-demo-clock", at=f"{clock.time:%H:%M:%S}", said=answer.say))
            say(speaking.clock(day, answer))

        by_hand = 0
        for number, utterance in enumerate(scenario.played(day, clock, on), start=1):
            # A recording that starts before the last one has ended is played right after it.
            let_time_pass(day, clock, _moment(on, utterance.at, scenario.offset), clock_speaks)
            if isinstance(utterance, Utterance):
                outcome, as_meant = _hear(day, recognizer, folder / "audio" / utterance.file, utterance.said, tell)
                differences += _against_truth(utterance, outcome, as_meant)
                fates[outcome.fate] += 1
            else:
                _, outcome = hand.come_to(utterance.by, utterance.typed)
                by_hand += 1
            tell(_line(day, f"{number:3}", utterance, outcome))
            told_back = speaking.reply(day, outcome)
            say(told_back)
            if told_back.whole is not None:
                tell(message("cli-demo-answer", answer=told_back.whole))
            record.write(json.dumps(_row(day, utterance, outcome), ensure_ascii=False) + "\n")
        hand.sign(accept_open=True)
        roster = _hand_over_roster(out / "roster.json", scenario, hand.keys, datetime.fromisoformat(clock.now().wall))
        fingerprint = next(holder.fingerprint for holder in hand.keys.people() if holder.name == scenario.signs)
        pages = hand_out(day.log, pdf).pages
        differences += compare(day, fates, scenario.expect)
    failed = [problem for said in spoken if (problem := said.exception())]
    if failed:
        tell(message("cli-demo-unspoken", count=len(failed), why=str(failed[0])))
    return Played(fates, by_hand, database, pdf, roster, lines, pages, fingerprint, speaking.counts, differences)


def _hand_over_roster(path: Path, scenario: Scenario, keys: Keyring, now: datetime) -> Path:
    """The roster that an owner is handed before the work begins, signed by the firm: here it is written behind it."""
    name = scenario.firm.lower()
    keys.set_pin(name, Office.FIRM, scenario.pin, now=now)
    people = with_people((), keys.people(), now)
    write_roster(path, make_roster(scenario.firm, people, keys.unlock(name, scenario.pin, now), now))
    return path


def _moment(on: date, at: str, offset: str) -> datetime:
    return datetime.fromisoformat(f"{on.isoformat()}T{at}{offset}")


def _hear(
    day: Day, recognizer: Recognizer, path: Path, said: str, tell: Callable[[Figure], None]
) -> tuple[Reply, bool]:
    """What became of a recording, and whether it was taken for what is truly said in it."""
    try:
        clip = read_audio(path)
    except AudioProblem as problem:
        why = message("cli-demo-unread", why=told(problem))
        return Reply(Fate.IGNORED, Catch("", why=why, addressed=False), None), False
    if clip.note:
        tell(message("cli-demo-note", file=path.name, note=clip.note))
    offers, trial = day.prompt.offers, day.trial(SPOKEN)
    caught = catch(recognizer, clip, offers, trial)
    word_for_word = caught.words == said.replace(",", "")
    as_meant = word_for_word or caught.commands == interpret_text(said, offers, trial).commands
    clock = day.clock
    if isinstance(clock, SimulatedClock):
        clock.advance(clip.seconds / 60)
    where = where_said(caught.commands, day.prompt, just_asked=True)
    return act(day, sifted(caught, where)), as_meant


def _line(day: Day, number: str, utterance: Utterance | ByHandEntry, outcome: Reply) -> Message:
    caught = outcome.catch
    attempts = tuple(attempt(day.state, command) for command in caught.commands)
    meant: Figure = Several(attempts) if attempts else _why_not(outcome)
    if isinstance(utterance, ByHandEntry):
        meant = message("cli-demo-by-hand", by=utterance.by)
    return message(
        "cli-demo-line",
        number=number,
        at=utterance.at,
        fate=message(f"cli-fate-{outcome.fate.name.lower()}"),
        words=caught.words or "-",
        meant=meant,
    )


def _why_not(outcome: Reply) -> Figure:
    return "-" if outcome.catch.why is None else message("cli-demo-no-command", why=outcome.catch.why)


def _row(day: Day, utterance: Utterance | ByHandEntry, outcome: Reply) -> dict[str, object]:
    caught = outcome.catch
    answer = outcome.answer
    if isinstance(utterance, Utterance):
        came = {"file": utterance.file, "voice": utterance.voice, "said": utterance.said, "heard": caught.words}
    else:
        came = {"by": utterance.by, "typed": utterance.typed}
    return {
        "at": utterance.at,
        "area": day.state.active,
        **came,
        "foreign": caught.foreign,
        "commands": [command.model_dump(mode="json") for command in caught.commands],
        "why_not": None if caught.why is None else day.words(caught.why),
        "fate": outcome.fate.value,
        "answer": "" if outcome.spoken is None else day.words(outcome.spoken),
        "events": [e.seq for e in answer.events] if answer else [],
    }


def _against_truth(utterance: Utterance, outcome: Reply, as_meant: bool) -> list[Message]:
    """Talk must change nothing; everything else must have been taken for what is truly said."""
    changed = outcome.answer is not None and bool(outcome.answer.events)
    if utterance.talk and changed:
        return [message("cli-demo-talk-changed", file=utterance.file)]
    if not utterance.talk and (outcome.fate in (Fate.IGNORED, Fate.ASKED) or not as_meant):
        fate = message(f"cli-fate-{outcome.fate.name.lower()}")
        heard = Several((outcome.catch.words or "-", _why_not(outcome)))
        return [message("cli-demo-misheard", file=utterance.file, said=utterance.said, fate=fate, why=heard)]
    return []


def compare(day: Day, fates: Counter[Fate], expect: Expectation) -> list[Message]:
    """Where the day differs from what the scenario says it should have come to."""
    found: list[Message] = []
    state = day.state

    def check(what: str, wanted: object, got: object) -> None:
        if wanted != got:
            about = message(f"cli-demo-{what}")
            found.append(message("cli-demo-differs", what=about, wanted=str(wanted), got=str(got)))

    by_phase = {name: area.progress.phase == "finished" for name, area in state.areas.items()}
    check("finished", sorted(expect.finished), sorted(n for n, done in by_phase.items() if done))
    check("unfinished", sorted(expect.unfinished), sorted(n for n, done in by_phase.items() if not done))
    bodies = [e.body for e in day.log.events]
    lifts = [(b.area, b.coverage, b.passed) for b in bodies if isinstance(b, ev.LiftJudged)]
    check("lifts", [(w.area, w.coverage, w.passed) for w in expect.lifts], lifts)
    check("cured", expect.cured, sum(isinstance(b, ev.FailureClosed) for b in bodies))
    check("uncured", expect.uncured, sum(len(a.progress.failures) for a in state.areas.values()))
    check("withdrawn", expect.withdrawn, sum(isinstance(b, ev.Withdrawn) for b in bodies))
    ran_out = [f"{b.clock} in {b.area}" for b in bodies if isinstance(b, ev.ClockRanOut)]
    check("ran-out", list(expect.ran_out), ran_out)
    check("refused", expect.refused, fates[Fate.REFUSED])
    check("signed-by", expect.signed_by, state.signed[-1] if state.signed else "-")
    check("sealed-day", expect.sealed, state.sealed)
    for name, wanted in expect.trials.items():
        _compare_trial(state.areas.get(name), wanted, check)
    check("open-points", sorted(expect.open), sorted(point.told.code for point in unanswered(state)))
    return found


def _compare_trial(area: Area | None, expect: ExpectedTrial, check: Callable[[str, object, object], None]) -> None:
    """Where a trial differs from what the scenario says it should have come to."""
    from fieldassist.trial.samples import analysis_of

    if area is None:
        check("made", expect.made, 0)
        return
    said, progress = analysis_of(area), area.progress
    check("made", expect.made, made(area))
    check("spoiled", expect.spoiled, sum(sample.spoiled is not None for sample in progress.samples.values()))
    check("ruled-out", sorted(expect.ruled_out), sorted(progress.ruled_out))
    check("claim", expect.claim, said.claim)
    check("best", expect.best, said.best)
    check("contenders", list(expect.contenders), [one for one in expect.contenders if one in said.contenders])
    worse = {one.worse for one in said.differences if one.differs and one.better == said.best}
    check("worse", list(expect.worse), [one for one in expect.worse if one in worse])
    check("found", sorted(expect.found), sorted(gain.part for gain in said.gains if gain.found))
    check("released", expect.released, {one.letter: one.areas for one in progress.released})


# --- command line -------------------------------------------------------------------------------------------------


def _demo(
    terminal: Terminal, out: Path | None, scenario: Path | None, trial: bool, on: date | None, model: str | None
) -> int:
    out = out or Path("demo-trial" if trial else "demo-day")
    readings = out / "read-back"
    shutil.rmtree(readings, ignore_errors=True)
    folder = scenario or shipped("assets") / "demo"
    file = "trial.yaml" if trial else "scenario.yaml"
    played = play(folder, out, load(model), find_speaker(readings), terminal.tell, on, file)
    counts = (f"{terminal.say(f'fate-{fate.name.lower()}')} {played.fates[fate]}" for fate in Fate)
    total = sum(played.fates.values())
    terminal.tell("\n" + terminal.say("demo-heard", total=total, counts=", ".join(counts), hand=played.by_hand))
    terminal.tell(counted(played.counts))
    terminal.tell(message("cli-demo-record", log=str(played.log), utterances=str(played.utterances)))
    terminal.tell(message("cli-demo-pdf", pages=played.pages, file=str(played.pdf)))
    terminal.tell(message("cli-demo-sealed", key=played.fingerprint, roster=str(played.roster)))
    terminal.tell(f"{this_program()} verify {played.pdf} --roster {played.roster}", indent=2)
    page = write_page(played.pdf.with_name(PAGE))
    terminal.tell(message("cli-demo-page", page=str(page)))
    if played.differences:
        terminal.tell("\n" + terminal.say("demo-came-out-otherwise"))
        for difference in played.differences:
            terminal.tell(difference, indent=2)
        return FAILED
    terminal.tell(message("cli-demo-came-out"))
    return OK


job = Job(
    "demo",
    _demo,
    Option("--out", metavar="DIR", type=FOLDER),
    Option("--scenario", metavar="DIR", type=FOLDER),
    Option("--trial", is_flag=True),
    date_option(),
    model_option(),
)
