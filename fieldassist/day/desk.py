"""The one thread that owns a day. Screens, the keyboard and the microphone hand it what they want and are told.

A day's log belongs to one thread (SQLite's rule, and the order of events), so everything that would change the day
waits in one line here. What is shown elsewhere is a `View`, which never changes once it is made.
"""

from __future__ import annotations

import contextlib
import queue
import threading
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from functools import partial
from pathlib import Path

from fieldassist.checklist.commands import Ask, Command
from fieldassist.checklist.events import Event
from fieldassist.checklist.moment import PRESSED, Moment, Source
from fieldassist.checklist.prompt import Prompt
from fieldassist.checklist.state import State
from fieldassist.day.ear import SAY_AGAIN, Catch, Fate, NoAttention, Reply, act, carry_out, interpret_text
from fieldassist.day.listening import ATTENTION, Listening, Manner
from fieldassist.day.rejection import Kind, Ruling, Where, ruling
from fieldassist.day.scribe import Scribe
from fieldassist.day.session import Answer, Day, told
from fieldassist.day.speaking import Speaking, ToSay
from fieldassist.language import Words
from fieldassist.record.keys import KeyProblem
from fieldassist.record.log import LogProblem
from fieldassist.trade.message import Figure, Message, message
from fieldassist.voice.earcons import Chime, NoChime
from fieldassist.voice.microphone import Level, Microphone, NoMicrophone
from fieldassist.voice.recognizer import Heard, Recognizer
from fieldassist.voice.speaker import Silent, Speaker
from fieldassist.voice.transcriber import Transcriber

_TICK_S = 1.0
_DICTATING_TICK_S = 0.5


@dataclass(frozen=True, slots=True)
class View:
    """A day as it stood at a moment. `words`: how its messages are told to an eye."""

    path: Path
    at: Moment
    state: State
    prompt: Prompt
    events: Sequence[Event]
    head: str
    words: Words
    dictating: bool = False


@dataclass(frozen=True, slots=True)
class Report:
    """Something that happened at the desk.

    said: what the tablet says, whole, however little of it is spoken; fate: what became of what was heard, typed or
    tapped, None for the clock's and the tablet's own; words: as they were heard; why: why nothing came of it; near: it
    may have been meant for the tablet, and is no talk among people; problem: the tablet could not do its work; ears: it
    is its ears alone that fail, and all else goes on; at: when, on the machine's clock [s].
    """

    said: str
    fate: Fate | None = None
    words: str = ""
    why: str = ""
    near: bool = True
    problem: bool = False
    ears: bool = False
    at: float = field(default_factory=time.monotonic, compare=False)


class Desk:
    """A day at work.

    Parameters: open_day, called in the day's thread; show, called there with each new view, at least once a second;
    tell, with each report; failed, when the day cannot be opened: all must return soon; speaking: how much is said
    aloud; sounds_dropped: whether a low sound tells that something was heard that may have been meant, and not taken;
    transcriber: opens the model that writes out at rest what was dictated, None for none. The methods may be called
    from any thread and return at once, but for `serve` and `close`.
    """

    def __init__(
        self,
        open_day: Callable[[], Day],
        show: Callable[[View], None],
        tell: Callable[[Report], None],
        *,
        speaker: Speaker | None = None,
        chime: Callable[[Callable[[], None], Callable[[], None]], Chime] | None = None,
        failed: Callable[[Exception], None] | None = None,
        microphone: Callable[..., Microphone] = Microphone,
        speaking: Speaking | None = None,
        sounds_dropped: bool = True,
        transcriber: Callable[[], contextlib.AbstractContextManager[Transcriber]] | None = None,
    ) -> None:
        self.speaking = speaking or Speaking()
        self.sounds_dropped = sounds_dropped
        self.transcriber = transcriber
        self._open_day = open_day
        self._show = show
        self._tell = tell
        self._speaker = speaker or Silent()
        self._failed = failed
        self._make_microphone = microphone
        self._make_chime = chime or (lambda _mute, _unmute: NoChime())
        self._chime: Chime = NoChime()
        self._line: queue.SimpleQueue[Callable[[Day], None] | None] = queue.SimpleQueue()
        self._listening: Listening | None = None
        self._microphone: Microphone | None = None
        self._scribe = Scribe(self._line.put, self._not_transcribed)
        self._closing = contextlib.ExitStack()
        self._thread: threading.Thread | None = None

    # --- for everybody --------------------------------------------------------------------------------------------

    def start(self) -> None:
        """Open the day in a thread of its own."""
        self._thread = threading.Thread(target=self._serve, name="day", daemon=True)
        self._thread.start()

    def close(self, wait_s: float = 10.0) -> None:
        """End the day's thread after what waits in line."""
        self._line.put(None)
        if self._thread is not None and self._thread is not threading.current_thread():
            self._thread.join(wait_s)

    def do(self, command: Command, source: Source = PRESSED) -> None:
        """Carry out a command, tapped or chosen. A yes or no to "Did you say ...?" is the same as a spoken one.

        source: how the value in it was come by, such as counted on a grid.
        """

        def done(day: Day) -> None:
            answer = carry_out(day, (command,), source)
            if answer is not None:
                self._answered(day, answer, command)
            else:
                self._say(day, self.speaking.tell(day, SAY_AGAIN), Fate.TAKEN)

        self._line.put(done)

    def typed(self, words: str) -> None:
        """Take words as if they had been said to a held key."""
        self._line.put(lambda day: self._report(day, act(day, interpret_text(words, day.prompt.offers, day.trial()))))

    def ask(self, work: Callable[[Day], Answer | None], then: Callable[[Answer | None], None] | None = None) -> None:
        """Have something done with the day in its own thread, such as a signature; then is called there with it."""

        def done(day: Day) -> None:
            answer = work(day)
            if answer is not None:
                self._answered(day, answer)
            if then is not None:
                then(answer)

        self._line.put(done)

    def hold(self) -> None:
        """The key to be heard is down: the tablet is quiet and listens."""
        self._speaker.stop()
        # Read once: the day's thread may close the microphone between two looks at it. So in all that follow.
        microphone = self._microphone
        if microphone is not None:
            microphone.hold()

    def release(self) -> None:
        """The key is up."""
        microphone = self._microphone
        if microphone is not None:
            microphone.release()

    @property
    def held(self) -> bool:
        """Whether the key is down."""
        microphone = self._microphone
        return microphone is not None and microphone.held

    def level(self) -> Level | None:
        """What a level meter shows; None when nothing listens."""
        microphone = self._microphone
        return microphone.level() if microphone is not None else None

    def alarm(self, loud: float) -> None:
        """Sound that time is up; loud: in shares of full."""
        self._line.put(lambda _day: self._chime.play("time is up", 1, loud))

    def say(self, text: str) -> None:
        """Say something aloud that is not of the day, such as a test."""
        self._speaker.say(text)

    def speak_with(self, speaker: Speaker) -> None:
        """Say everything with another voice from now on."""

        def change(_day: Day) -> None:
            self._speaker.stop()
            self._speaker.watch(lambda: None, lambda: None)
            self._speaker = speaker
            if self._microphone is not None:
                speaker.watch(self._mute, self._spoken)

        self._line.put(change)

    def listen(
        self,
        recognizer: Recognizer,
        manner: Manner,
        *,
        attention: str = ATTENTION,
        device: str | int | None = None,
        opened: Callable[[str], None] = lambda _name: None,
        failed: Callable[[Exception], None] | None = None,
    ) -> None:
        """Open a microphone, in place of the one before.

        opened: called in the day's thread with the microphone's name; failed: with NoMicrophone or NoAttention. Without
        it a report says so.
        """

        def opening(day: Day) -> None:
            try:
                opened(self._listen(day, recognizer, manner, attention, device))
            except (NoMicrophone, NoAttention) as problem:
                if failed is None:
                    self._warn(day, told(problem))
                else:
                    failed(problem)

        self._line.put(opening)

    def dictate(self, point: int | None = None) -> None:
        """Have what is said next made a note, or the answer to the open point of this number, as if it had been asked
        for by voice."""
        asked = Ask(about="note") if point is None else Ask(about="answer", value=Fraction(point))

        def begin(day: Day) -> None:
            if self._listening is not None:
                answer = day.do(asked)
                self._answered(day, answer, asked)
                if answer.taken:
                    self._listening.dictate(asked)

        self._line.put(begin)

    def deafen(self) -> None:
        """Close the microphone."""
        self._line.put(lambda _day: self._close_microphone())

    # --- the day's thread -----------------------------------------------------------------------------------------

    def _serve(self) -> None:
        try:
            self.serve()
        except Exception as problem:
            if self._failed is None:
                raise
            self._failed(problem)

    def serve(self) -> None:
        """Own the day in this thread until `close`. LogProblem and CannotOpen when it cannot be opened."""
        with self._open_day() as day:
            self._chime = self._make_chime(self._mute, self._unmute)
            self._view(day)
            try:
                while True:
                    dictating = self._listening is not None and self._listening.dictating
                    try:
                        work = self._line.get(timeout=_DICTATING_TICK_S if dictating else _TICK_S)
                    except queue.Empty:
                        self._guarded(day, self._time_passes)
                    else:
                        if work is None:
                            self._guarded(day, lambda day: self._finish_note(day, ended=True))
                            return
                        self._guarded(day, self._time_passes)
                        self._guarded(day, work)
                        self._guarded(day, lambda day: self._finish_note(day))
                    self._view(day)
            finally:
                self._close_microphone()
                self._speaker.stop()
                self._chime.close()

    def _guarded(self, day: Day, work: Callable[[Day], None]) -> None:
        try:
            work(day)
        except (LogProblem, KeyProblem) as problem:
            self._chime.play("refused")
            self._tell(Report(day.words(told(problem)), problem=True))

    def _view(self, day: Day) -> None:
        dictating = self._listening is not None and self._listening.dictating
        events = tuple(day.log.events)
        self._show(
            View(day.log.path, day.clock.now(), day.state, day.prompt, events, day.log.head, day.words, dictating)
        )

    def _time_passes(self, day: Day) -> None:
        answer = day.tick()
        if answer is not None:
            self._say(day, self.speaking.clock(day, answer))
        self._finish_note(day)
        self._write_out(day)

    def _write_out(self, day: Day) -> None:
        open_model, listening = self.transcriber, self._listening
        if open_model is not None and not self.held and (listening is None or not listening.dictating):
            self._scribe.look(day, open_model)

    def _not_transcribed(self, why: Message) -> None:
        self._line.put(lambda day: self._tell(Report(day.words(why), problem=True, ears=True)))

    def _say(
        self, day: Day, told: ToSay, fate: Fate | None = None, words: str = "", why: str = "", *, near: bool = True
    ) -> None:
        """Tell an eye all of it, and an ear as much as it is to hear."""
        if told.sound is not None:
            self._chime.play(told.sound, told.times)
        self._tell(Report(day.words(told.whole) if told.whole is not None else "", fate, words, why, near))
        if told.words is not None:
            self._speaker.say(day.words.aloud(told.words))

    def _answered(self, day: Day, answer: Answer, command: Command | None = None) -> None:
        self._say(day, self.speaking.answer(day, answer, command), Fate.TAKEN if answer.taken else Fate.REFUSED)

    def _report(self, day: Day, outcome: Reply) -> None:
        if outcome.near and self.sounds_dropped:
            self._chime.play("dropped")
        why = day.words(outcome.catch.why) if outcome.catch.why is not None else ""
        near = outcome.near or outcome.fate is not Fate.IGNORED
        self._say(day, self.speaking.reply(day, outcome), outcome.fate, outcome.catch.words, why, near=near)

    def _finish_note(self, day: Day, *, ended: bool = False) -> None:
        if self._listening is None:
            return
        outcome = self._listening.note_due(ended=ended)
        if outcome is not None:
            self._report(day, outcome)

    # --- the microphone -------------------------------------------------------------------------------------------

    def _mute(self) -> None:
        microphone = self._microphone
        if microphone is not None:
            microphone.mute()

    def _unmute(self) -> None:
        microphone = self._microphone
        if microphone is not None:
            microphone.unmute()

    def _spoken(self) -> None:
        self._unmute()
        listening = self._listening
        if listening is not None:
            listening.prompted()

    def _listen(
        self, day: Day, recognizer: Recognizer, manner: Manner, attention: str, device: str | int | None
    ) -> str:
        self._close_microphone()
        listening = Listening(day, recognizer, manner, attention=attention)
        microphone = self._make_microphone(
            device, hold_to_talk=manner is Manner.HELD, on_warning=partial(self._warn, day)
        )
        self._closing.enter_context(microphone)
        self._listening, self._microphone = listening, microphone
        self._speaker.watch(self._mute, self._spoken)
        threading.Thread(target=self._hear, args=(recognizer, listening, microphone), name="ears", daemon=True).start()
        return microphone.name

    def _hear(self, recognizer: Recognizer, listening: Listening, microphone: Microphone) -> None:
        try:
            for heard in recognizer.listen(listening.frames(microphone.frames()), listening.said):
                words = heard.alternatives[0].words if heard.alternatives else ()
                whole = not words or microphone.whole(words[0].start - 0.1, words[-1].end + 0.2)
                self._line.put(partial(self._heard, listening, heard, whole))
        finally:
            self._line.put(partial(self._fell_silent, listening))

    def _fell_silent(self, listening: Listening, day: Day) -> None:
        """The ears have ended, though nobody closed them."""
        if listening is self._listening:
            self._finish_note(day, ended=True)
            self._close_microphone()
            self._warn(day, message("ear-nothing-heard-any-more"))

    def _heard(self, listening: Listening, heard: Heard, whole: bool, day: Day) -> None:
        if listening is not self._listening:
            return
        # A gap in a note is heard in its sound; a reading that lacks a word is a wrong one.
        if whole or listening.dictating:
            self._report(day, listening.take(heard))
        elif listening.manner is not Manner.CALLED and _meant(heard, listening.manner):
            self._report(day, _torn(heard))

    def _warn(self, day: Day, warning: Figure) -> None:
        self._tell(Report(day.words(warning), problem=True, ears=True))

    def _close_microphone(self) -> None:
        self._listening = self._microphone = None
        self._speaker.watch(lambda: None, lambda: None)
        self._closing.close()


def _meant(heard: Heard, manner: Manner) -> bool:
    """Whether what was heard in part was meant for the tablet."""
    where = Where.HELD if manner is Manner.HELD else Where.OPEN
    return bool(heard.alternatives) and ruling(heard.foreign, where, Kind.PHRASE) in (Ruling.SURE, Ruling.UNSURE)


def _torn(heard: Heard) -> Reply:
    caught = Catch(heard.text, why=message("ear-part-lost"))
    return Reply(Fate.ASKED, caught, message("ear-not-all-heard"))
