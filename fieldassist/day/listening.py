"""Which talk in a stream of sound is meant for the tablet, and what comes of it.

| manner | what is meant for the tablet |
|---|---|
| held | all that is said while the key, the pedal or the headset's button is held |
| called | what begins with the attention phrase; for a while after it was said alone, anything; while a crew is in the middle of something, what goes on with that (`checklist.window`), with more evidence than when a key is held |
| open | anything that is one of the phrases, with more evidence than when a key is held |

Everything else is talk among people: it is dropped without a word, and not stored. The reply tells what was heard in it,
so that an eye can see what was not taken.
"""  # noqa: E501 (a table's line cannot be broken)

from __future__ import annotations

import io
import threading
import time
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import TypeAlias

import numpy as np
import soundfile

from fieldassist.checklist import commands as cmd
from fieldassist.checklist.ahead import ahead
from fieldassist.checklist.moment import SPOKEN, Source
from fieldassist.checklist.offers import NO, UNDO, Offer
from fieldassist.checklist.open_points import open_points
from fieldassist.checklist.prompt import Prompt
from fieldassist.day.chain import DayOnTrial
from fieldassist.day.ear import (
    CALL,
    SAY_AGAIN,
    Catch,
    Fate,
    Reply,
    act,
    called,
    check_attention,
    interpret,
    interpret_called,
    sifted,
    understood,
)
from fieldassist.day.rejection import Ruling, Where, where_said
from fieldassist.day.session import Day
from fieldassist.language.spoken import spoken_language
from fieldassist.record import attachments
from fieldassist.trade.message import Message, message
from fieldassist.voice.audio import RATE_HZ
from fieldassist.voice.phrases import is_number_alone
from fieldassist.voice.recognizer import Heard, Recognizer
from fieldassist.voice.sentences import Sentences, sentences

ATTENTION = spoken_language().attention
# How long after the attention phrase alone anything is taken, and how long after its question a value is likely to be
# the answer. Ours: time to look up and answer.
WINDOW_S = 8.0
# A pause that ends a dictated note, the longest wait for its first word, and how long after a key was let go the last
# words of a note may still be on their way. Ours.
NOTE_PAUSE_S = 2.5
NOTE_WAIT_S = 10.0
NOTE_LAST_S = 1.5

_NOTE = cmd.Ask(about="note")

_Window: TypeAlias = tuple[float, float]


class Manner(StrEnum):
    """How talk comes to be meant for the tablet."""

    HELD = "held"
    CALLED = "called"
    OPEN = "open"


class Listening:
    """One stream of sound and the day it works on.

    `frames` and `said` belong to the listening thread, the rest to the one that owns the day, `prompted` to any.
    What they share is replaced as a whole, not changed in place (but for a note's end, one number): `_stream` by the
    listening thread alone, `_note` by the day's alone, `_windows` by both under a lock. Times are seconds of the
    stream, so that a recorded stream is heard as a live one. NoAttention when the model cannot hear the phrase.
    """

    def __init__(
        self,
        day: Day,
        recognizer: Recognizer,
        manner: Manner,
        *,
        attention: str = ATTENTION,
        window_s: float = WINDOW_S,
    ) -> None:
        self.day = day
        self.manner = manner
        self.attention = " ".join(attention.lower().split())
        self._knows = recognizer.knows
        self._window_s = window_s
        self._stream = _Stream(time.monotonic())
        self._windows = _Windows(asked=(0.0, window_s))  # at first the prompt is fresh
        self._changing = threading.Lock()
        self._note: _Note | None = None
        self._again = -1  # at which event it was asked to say something again
        self._made: tuple[tuple[Offer, ...], Sentences] | None = None
        if manner is Manner.CALLED:
            check_attention(self.attention, self._knows)

    # --- the listening thread -------------------------------------------------------------------------------------

    def frames(self, frames: Iterable[bytes]) -> Iterator[bytes]:
        """The same frames, counted."""
        for block in frames:
            position = self._stream.position + len(block) / 2 / RATE_HZ
            self._stream = replace(self._stream, position=position, moved=time.monotonic())
            yield block

    def said(self) -> Sentences | None:
        """What to listen for in what begins now; None for dictation."""
        here = self._stream.position
        self._stream = replace(self._stream, quiet=here)
        note = self._note
        if note is not None and here < note.until:
            return None
        offers = self.day.prompt.offers
        # What was made a block ago need not be made again.
        if self._made is None or self._made[0] != offers:
            places = ahead(self.day.state, self.day.clock.now())
            attention = self.attention if self.manner is Manner.CALLED else ""
            self._made = (offers, sentences(offers, self._knows, places, attention=attention))
        return self._made[1]

    @staticmethod
    def _in(window: _Window, moment: float) -> bool:
        return window[0] <= moment < window[1]

    # --- the day's thread -----------------------------------------------------------------------------------------

    def take(self, heard: Heard) -> Reply:
        """Carry out what was heard, if it was meant for the tablet."""
        if self._note is not None and heard.free:
            return self._dictated(self._note, heard)
        outcome = self._taken(heard)
        command = outcome.catch.command
        if isinstance(command, cmd.Ask) and outcome.fate is Fate.TAKEN:
            self.dictate(command)
        if outcome.spoken:
            self.prompted()
        return outcome

    def _taken(self, heard: Heard) -> Reply:
        asked, trial = self.day.prompt, self.day.trial(SPOKEN)
        if self.manner is Manner.HELD:
            return act(self.day, interpret(heard, asked.offers, trial))
        begun = heard.alternatives[0].words[0].start if heard.alternatives and heard.alternatives[0].words else 0.0
        if self.manner is Manner.CALLED:
            windows = self._windows
            if called(heard, self.attention) is not None:
                caught = interpret_called(heard, asked.offers, self.attention, trial)
                if caught.why == CALL:
                    self._open(all=(begun, self._stream.position + self._window_s))
                    return Reply(Fate.CALLED, caught, None)
                return act(self.day, caught)
            if self._in(windows.all, begun):
                return act(self.day, interpret(heard, asked.offers, trial))
        return self._overheard(heard, asked, trial, just_asked=self._in(self._windows.asked, begun))

    def _overheard(self, heard: Heard, asked: Prompt, trial: DayOnTrial, *, just_asked: bool) -> Reply:
        """Carry out what was said without the attention phrase, where it answers or goes on with the work.

        just_asked: the tablet has just asked something. Only then a number without its unit and its name is taken: talk
        is full of numbers.
        """
        found = understood(heard, asked.offers, trial)
        # Words that could mean two values are those of one step.
        meant = found.commands or tuple(choice.command for choice in found.choices[:1])
        where = where_said(meant, asked, just_asked=just_asked)
        caught = sifted(found, where)
        told = bool(asked.window) and caught.ruling is not Ruling.TALK
        if self.manner is Manner.CALLED:
            why = self._why_not(found, where, just_asked=just_asked)
            if why is not None:
                dropped = replace(caught, command=None, chain=(), stop=None, choices=(), why=why)
                return Reply(Fate.IGNORED, dropped, None, near=told)
        outcome = act(self.day, caught)
        if outcome.fate is not Fate.IGNORED:
            return outcome
        if told and where is Where.ASKED and self._again != (done := len(self.day.log.events)):
            self._again = done
            return Reply(Fate.ASKED, caught, SAY_AGAIN)
        return replace(outcome, near=told)

    def _why_not(self, found: Catch, where: Where, *, just_asked: bool) -> Message | None:
        """Why something that was understood is dropped; None where it is not."""
        if found.commands and where is Where.OPEN:
            return message("ear-needs-call", phrase=self.attention)
        if (found.commands or found.choices) and is_number_alone(found.words) and not just_asked:
            return message("ear-number-alone")
        return None

    def prompted(self) -> None:
        """The tablet asked something and is quiet. Any thread may call it."""
        here = self._stream.position
        self._open(asked=(max(0.0, here - 1.0), here + self._window_s))

    def _open(self, **windows: _Window) -> None:
        with self._changing:
            self._windows = replace(self._windows, **windows)

    # --- dictation ------------------------------------------------------------------------------------------------

    def dictate(self, asked: cmd.Ask = _NOTE) -> None:
        """Take what is said next for a note, or for the answer to an open point, where that was asked for."""
        if asked.about == "note":
            self._note = _Note(self._stream.position)
        elif asked.about == "answer" and asked.value is not None:
            point = open_points(self.day.state)[int(asked.value) - 1]
            self._note = _Note(self._stream.position, answers=point.id)

    @property
    def dictating(self) -> bool:
        """Whether what is said now goes into a note."""
        return self._note is not None

    def _dictated(self, note: _Note, heard: Heard) -> Reply:
        if heard.text in (*NO, *UNDO) and not note.texts:
            self._note = None
            return Reply(Fate.TAKEN, Catch(heard.text), message("ear-no-note-made"))
        note.add(heard)
        return Reply(Fate.DICTATED, Catch(heard.text), None)

    def note_due(self, *, ended: bool = False) -> Reply | None:
        """The note, once its pause has come; None before. ended: no more sound will come.

        To be called now and then, and after each `take`. LogProblem when the disk refuses the note.
        """
        note = self._note
        if note is None:
            return None
        stream = self._stream
        still = time.monotonic() - max(stream.moved, note.begun)
        if not ended and stream.quiet < note.until and still < (NOTE_LAST_S if note.texts else NOTE_WAIT_S):
            return None
        self._note = None
        caught = Catch(" ".join(note.texts), source=Source(how="spoken", model=note.model))
        if not note.texts:
            return Reply(Fate.ASKED, caught, message("ear-no-note-spoken"))
        kept = attachments.keep(self.day.log.path, note.flac(), ".flac")
        command: cmd.MakeNote | cmd.AnswerPoint
        if note.answers is None:
            command = cmd.MakeNote(text=caught.words[:2000], audio=kept.file, sha256=kept.sha256)
        else:
            said_why = caught.words[:500]
            command = cmd.AnswerPoint(point=note.answers, words=said_why, audio=kept.file, sha256=kept.sha256)
        answer = self.day.do(command, caught.source)
        said = message("ear-note-heard", answer=answer.say, words=caught.words) if answer.taken else answer.say
        self.prompted()
        return Reply(Fate.TAKEN if answer.taken else Fate.REFUSED, replace(caught, command=command), said, answer)


@dataclass(frozen=True, slots=True)
class _Stream:
    """How far the stream has come.

    moved: when it last went on, on the machine's clock [s]; it stands still while no key is held; position: how much of
    it was heard [s]; quiet: the last place in it at which nobody spoke [s].
    """

    moved: float
    position: float = 0.0
    quiet: float = 0.0


@dataclass(frozen=True, slots=True)
class _Windows:
    """Between which places of the stream something was just asked, and anything that may be said is taken."""

    asked: _Window
    all: _Window = (0.0, 0.0)


class _Note:
    """A note under way. answers: the id of the open point that it answers, None of a note."""

    def __init__(self, begun: float, answers: str | None = None) -> None:
        self.answers = answers
        self.texts: list[str] = []
        self.model = ""
        self.until = begun + NOTE_WAIT_S  # the place in the stream at which it is over, unless somebody speaks there
        self.begun = time.monotonic()
        self._sounds: list[bytes] = []

    def add(self, heard: Heard) -> None:
        self.texts.append(heard.text)
        self.model = heard.model
        self._sounds.append(heard.audio)
        self.until = heard.begun + heard.seconds + NOTE_PAUSE_S

    def flac(self) -> bytes:
        file = io.BytesIO()
        samples = np.frombuffer(b"".join(self._sounds), dtype="<i2")
        soundfile.write(file, samples, RATE_HZ, format="FLAC", subtype="PCM_16")
        return file.getvalue()
