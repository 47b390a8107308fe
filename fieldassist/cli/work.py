"""`fieldassist work`: a day worked without a screen: typed, by microphone, from recordings or from a stream of
samples."""

from __future__ import annotations

import sys
import threading
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.moment import TYPED
from fieldassist.cli.asking import ask_unseen, keyring
from fieldassist.cli.parser import (
    FILE,
    MISUSED,
    OK,
    Job,
    NumberOption,
    Option,
    day_argument,
    model_option,
    people_option,
    speak_option,
)
from fieldassist.cli.problems import told
from fieldassist.cli.signing import called_out
from fieldassist.cli.speaking import counted, level_called
from fieldassist.cli.terminal import Terminal
from fieldassist.day.clock import SystemClock
from fieldassist.day.desk import Desk, Report
from fieldassist.day.ear import Catch, Fate, Reply
from fieldassist.day.listening import ATTENTION, Listening, Manner
from fieldassist.day.photo import attach
from fieldassist.day.session import Answer, Day
from fieldassist.day.speaking import Speaking, ToSay
from fieldassist.places import tablet_data
from fieldassist.record.keys import Keyring
from fieldassist.record.log import AlreadyOpen, LogProblem
from fieldassist.record.tablet_days import TabletBook
from fieldassist.trade.message import message
from fieldassist.voice.audio import AudioProblem, Clip, frames, is_silent, pcm_stream, read_audio, without_silence
from fieldassist.voice.earcons import find_chime
from fieldassist.voice.recognizer import Heard, Recognizer
from fieldassist.voice.speaker import Silent, Speaker, find_speaker

_BLOCK = 4000  # samples: a quarter of a second at 16 kHz
_PATIENCE_S = 10.0


def _work(
    terminal: Terminal,
    day: Path,
    audio: tuple[Path, ...],
    microphone: str | None,
    pcm: int | None,
    attention: str,
    open_microphone: bool,
    hold: bool,
    quiet: bool,
    dropped: bool,
    speak: str,
    model: str | None,
    keep_places: bool,
    people: Path | None,
) -> int:
    speaker = Silent() if quiet else find_speaker()
    manner = Manner.HELD if hold or audio else Manner.OPEN if open_microphone else Manner.CALLED
    try:
        opened = Day.resume(day, SystemClock(), language=terminal.words.language, book=TabletBook(tablet_data()))
    except AlreadyOpen as busy:
        terminal.warn(told(busy))
        _look(terminal, day)
        return MISUSED
    with opened:
        terminal = terminal.using(opened.words)
        speaking = Speaking(level_called(speak))
        # Whoever held a key meant to be heard, and sees what was not taken without asking for it.
        seen = dropped or manner is Manner.HELD
        keys = keyring(people, opened.state.kind)
        crew = _Crew(terminal, speaker, attention, quiet, keys, speaking, seen, keep_places)
        terminal.tell(message("cli-work-at", events=len(opened.log.events)))
        if (of_copy := opened.log.told_of_copy) is not None:
            terminal.warn(of_copy)
        terminal.tell(opened.prompt.say)
        if audio:
            crew.recorded(audio, opened, _ears(model), manner)
        elif microphone is not None:
            crew.by_microphone(opened, _ears(model), manner, microphone)
        elif pcm:
            crew.streamed(pcm_stream(sys.stdin.buffer, pcm, 1, _BLOCK), opened, _ears(model), manner)
        else:
            terminal.tell(message("cli-work-typed"))
            crew.typing(opened)
        terminal.tell(counted(speaking.counts))
    return OK


def _ears(model: str | None) -> Recognizer:
    # Typing needs no speech model.
    from fieldassist.cli.hearing import recognizer

    return recognizer(model)


def _look(terminal: Terminal, path: Path) -> None:
    """Where a day stands that another program works on."""
    with Day.resume(path, SystemClock(), read_only=True, language=terminal.words.language) as day:
        tell = terminal.using(day.words).tell
        tell(message("cli-work-at", events=len(day.log.events)))
        tell(day.prompt.say)
        for name, area in day.state.areas.items():
            phase = message(f"cli-phase-{area.progress.phase}")
            asked = area.step.ask if area.step else message("cli-work-between")
            tell(message("cli-work-area", area=name, phase=phase, asked=asked), indent=2)
        for clock in day.prompt.clocks:
            left = round(max(0.0, clock.left_minutes))
            tell(message("cli-work-clock", clock=clock.title, area=clock.area, minutes=left), indent=2)


@dataclass(frozen=True)
class _Crew:
    """Who works on the day: what comes of it is written for them and spoken to them.

    dropped: what was heard and not taken is written too; places: photos keep what their camera says of them.
    """

    terminal: Terminal
    speaker: Speaker
    attention: str
    quiet: bool
    keys: Keyring
    speaking: Speaking
    dropped: bool
    places: bool

    # --- ways to work

    def typing(self, day: Day) -> None:
        """Typed lines, until they end."""
        desk = Desk(lambda: day, lambda _view: None, self.write, speaker=self.speaker, speaking=self.speaking)
        self._type_beside(desk, holds=False, ends=True)
        desk.serve()

    def recorded(self, paths: Iterable[Path], day: Day, ears: Recognizer, manner: Manner) -> None:
        """Each recording as if a key had been held for it."""
        listening = Listening(day, ears, manner)
        for path in paths:
            self.let_clocks_speak(day)
            try:
                clip = read_audio(path)
            except AudioProblem as problem:
                self.terminal.warn(told(problem))
                continue
            if clip.note:
                self.terminal.tell(message("cli-clip-note", file=str(path), note=clip.note))
            if is_silent(clip):
                silence = Catch("", why=message("ear-silence"), addressed=False)
                self.report(day, Reply(Fate.IGNORED, silence, None))
                continue
            self.report(day, listening.take(_hear(ears, clip, listening)))
            self.finish_note(listening)
        self.finish_note(listening, ended=True)

    def streamed(self, blocks: Iterable[bytes], day: Day, ears: Recognizer, manner: Manner) -> None:
        """Samples on standard input."""
        listening = Listening(day, ears, manner, attention=self.attention)
        for heard in ears.listen(listening.frames(blocks), listening.said):
            self.let_clocks_speak(day)
            self.finish_note(listening)
            self.report(day, listening.take(heard))
        self.finish_note(listening, ended=True)

    def by_microphone(self, day: Day, ears: Recognizer, manner: Manner, device: str) -> None:
        """By microphone, and typed lines beside it. NoMicrophone and NoAttention as the desk finds them."""
        problems: list[Exception] = []

        def opened(name: str) -> None:
            how = message(f"cli-listening-{manner.name.lower()}", attention=self.attention)
            self.terminal.tell(message("cli-listening", name=name, how=how))

        def failed(problem: Exception) -> None:
            problems.append(problem)
            desk.close()

        chime = None if self.quiet else find_chime
        desk = Desk(
            lambda: day, lambda _view: None, self.write, speaker=self.speaker, chime=chime, speaking=self.speaking
        )
        desk.listen(ears, manner, attention=self.attention, device=device or None, opened=opened, failed=failed)
        self._type_beside(desk, holds=manner is Manner.HELD, ends=False)
        desk.serve()
        for problem in problems:
            raise problem

    # --- typing

    def _type_beside(self, desk: Desk, *, holds: bool, ends: bool) -> None:
        threading.Thread(target=self.read, args=(desk, holds, ends), name="typed", daemon=True).start()

    def read(self, desk: Desk, holds: bool, ends: bool) -> None:
        """Typed lines to the desk until 'leave'. holds: an empty line is the key; ends: so does the input's end."""
        for line in sys.stdin:
            text = line.strip()
            if text == "leave":
                break
            if text == "?":
                desk.ask(self._tell_hints)
            elif text.startswith("note "):
                desk.do(cmd.MakeNote(text=text[5:].strip()), TYPED)
            elif text.startswith("photo "):
                desk.ask(partial(attach, source=Path(text[6:].strip()), keep_places=self.places))
            elif text.lower().startswith(("release ", "confirm ")):
                self._by_pin(desk, text.lower())
            elif text.lower() in ("note", "make a note", "take a note") and ends:
                self.terminal.tell(message("cli-work-note-how"), indent=2)
            elif text:
                desk.typed(text)
            elif holds and desk.held:
                desk.release()
            elif holds:
                desk.hold()
        else:
            if not ends:
                return
        desk.close()

    def _by_pin(self, desk: Desk, text: str) -> None:
        """Release the hold point at hand by PIN, or confirm what was called out: "confirm NAME without EVENT ..."."""
        what, _, rest = text.partition(" ")
        name, _, struck = rest.partition(" without ")
        if what == "confirm":
            told = threading.Event()
            desk.ask(partial(self._tell_called, name=name.strip()), lambda _answer: told.set())
            told.wait(_PATIENCE_S)
        strike = tuple(int(number) for number in struck.split() if number.isdecimal())
        pin = ask_unseen(self.terminal, message("cli-ask-pin", name=name.strip()))

        def give(day: Day) -> Answer:
            person = _named(day, name.strip())
            if what == "release":
                return day.release(self.keys, pin, person)
            return day.confirm(self.keys, pin, person, strike)

        desk.ask(give)

    def _tell_called(self, day: Day, name: str) -> None:
        for called in called_out(day.state, _named(day, name)):
            self.terminal.tell(called, indent=2)

    def _tell_hints(self, day: Day) -> None:
        for hint in day.prompt.hints:
            self.terminal.tell(message("cli-work-hint", phrase=hint), indent=2)

    # --- telling

    def finish_note(self, listening: Listening, *, ended: bool = False) -> None:
        """Keep a note that is complete."""
        try:
            outcome = listening.note_due(ended=ended)
        except LogProblem as problem:
            self.terminal.warn(told(problem))
            self.speak(listening.day, self.speaking.tell(listening.day, message("cli-note-not-kept")))
            return
        if outcome is not None:
            self.report(listening.day, outcome)

    def let_clocks_speak(self, day: Day) -> None:
        """What a clock has to say now."""
        answer = day.tick()
        if answer is not None:
            told = self.speaking.clock(day, answer)
            self.write(Report(self.terminal.words(answer.say)))
            self.speak(day, told)

    def report(self, day: Day, outcome: Reply) -> None:
        """What came of something heard."""
        told, why, words = self.speaking.reply(day, outcome), outcome.catch.why, self.terminal.words
        told_why = "" if why is None else words(why)
        whole = "" if told.whole is None else words(told.whole)
        self.write(Report(whole, outcome.fate, outcome.catch.words, told_why))
        self.speak(day, told)

    def speak(self, day: Day, told: ToSay) -> None:
        """Say aloud what is to be heard."""
        if told.words is not None:
            self.speaker.say(day.words.aloud(told.words))

    def write(self, report: Report) -> None:
        """What the desk reports."""
        if report.problem:
            self.terminal.warn(report.said)
            return
        if report.fate is Fate.IGNORED and not self.dropped:
            return
        if report.fate is not None and (report.words or report.why):
            fate = message(f"cli-fate-{report.fate.name.lower()}")
            known = {name: value for name, value in (("words", report.words), ("why", report.why)) if value}
            self.terminal.tell(message(f"cli-fate-{'-'.join(known)}", fate=fate, **known))
        if report.said:
            self.terminal.tell(report.said, indent=2)


def _named(day: Day, said: str) -> str:
    """Who of the crew is called that; what was said where nobody is."""
    crew = day.state.plan.crew if day.state.plan is not None else ()
    return next((person.name for person in crew if said in person.calls), said)


def _hear(ears: Recognizer, clip: Clip, listening: Listening) -> Heard:
    spoken = without_silence(clip)
    heard = ears.hear(listening.frames(frames(spoken)), listening.said())
    return replace(heard, audio=spoken.samples.astype("<i2").tobytes())


job = Job(
    "work",
    _work,
    day_argument(),
    Option("--audio", metavar="FILE", type=FILE, many=True),
    Option("--microphone", metavar="DEVICE", is_flag=False, flag_value=""),
    Option("--pcm", metavar="RATE", type=NumberOption(int)),
    Option("--attention", metavar="PHRASE", default=ATTENTION),
    Option("--open", "open_microphone", is_flag=True),
    Option("--hold", is_flag=True),
    Option("--quiet", is_flag=True),
    Option("--dropped", is_flag=True),
    speak_option(),
    model_option(),
    Option("--keep-places", is_flag=True),
    people_option(),
    apart=(("attention", "open_microphone", "hold"),),
)
