"""What the measures share: how much is measured, with what, and how an utterance is judged."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import Any

from fieldassist.checklist.commands import Command, GiveReading
from fieldassist.checklist.offers import Offer
from fieldassist.day.ear import Catch
from fieldassist.voice.audio import RATE_HZ
from fieldassist.voice.microphone import BLOCK_S
from fieldassist.voice.phrases import Taken, understand
from fieldassist.voice.recognizer import VoskRecognizer
from tests.bench.voice.rivals import PocketSphinx
from tests.bench.voice.situations import Moment
from tests.bench.voice.speech import Speech

Row = dict[str, Any]
AGAIN = 0.92  # how fast somebody speaks who says it once more
BLOCK = round(BLOCK_S * RATE_HZ)


@dataclass(frozen=True)
class Size:
    """How much is measured."""

    situations: int  # of each source: the steps, the day
    each: int  # sentences a situation
    voices: int  # voices a sentence
    readings: int
    talk_s: float  # seconds of talk a prompt, four prompts
    rival_talk_s: float  # a prompt
    digits_every: int  # one recording of a digit in so many
    limits: int  # prompts, at each of which three voices say something
    limits_talk_s: float  # seconds of each kind of talk a prompt, five prompts
    devices: int  # sentences, and as many pieces of talk
    latency: int
    rival_readings: int
    speakers: int  # sentences a speaker in quiet
    accented_talk: int  # an everyday sentence is said by one in so many of the accented speakers
    rival_every: int  # the rival hears one utterance in so many: its lists take it far longer


QUICK = Size(6, 4, 1, 60, 60.0, 10.0, 10, 20, 20.0, 24, 12, 6, 6, 14, 13)
FULL = Size(24, 5, 1, 1000, 900.0, 225.0, 1, 160, 240.0, 100, 60, 100, 48, 2, 12)


@dataclass
class Bench:
    """What every measure needs. rival: None where it is not installed. tell: takes lines of progress."""

    ears: VoskRecognizer
    rival: PocketSphinx | None
    speech: Speech
    voices: list[str]
    moments: list[Moment]
    folder: Path
    size: Size
    tell: Callable[[str], None]


class Result(StrEnum):
    """What came of an utterance that was meant for the tablet."""

    RIGHT = "right"
    DOUBTED = 'right, "did you say ...?"'
    ASKED = "asked back"
    IGNORED = "ignored"
    READ_BACK = "wrong reading, read back"
    WRONG_DOUBTED = 'wrong, "did you say ...?"'
    REFUSED = "wrong command, refused"
    WRONG = "wrong command, done"


UNDERSTOOD = (Result.RIGHT, Result.DOUBTED)
# The tablet says something after which whoever spoke knows that they were not understood, and says it again.
RETRIED = (Result.ASKED, Result.IGNORED, Result.READ_BACK, Result.WRONG_DOUBTED)


def judge(caught: Catch, meant: Command, offers: Sequence[Offer]) -> Result:
    """What comes of an utterance, for whoever holds a key while speaking.

    >>> from fieldassist.checklist.commands import Ask
    >>> offers = [Offer(("what now",), "What now", Ask(about="what now"))]
    >>> judge(Catch("what now", Ask(about="what now"), "", ""), Ask(about="what now"), offers).value
    'right'
    >>> judge(Catch("how long", Ask(about="how long"), "", ""), Ask(about="what now"), offers).value
    'wrong command, refused'
    >>> judge(Catch("what", None, "", "the words are none of the phrases"), Ask(about="what now"), offers).value
    'asked back'
    """
    command = caught.command
    if command is None:
        return Result.ASKED if caught.addressed or caught.choices else Result.IGNORED
    doubted = caught.asked_about
    if command == meant:
        return Result.DOUBTED if doubted else Result.RIGHT
    if doubted:
        return Result.WRONG_DOUBTED
    if not _may_be_done(command, offers):
        return Result.REFUSED
    return Result.READ_BACK if isinstance(command, GiveReading) else Result.WRONG


def _may_be_done(command: Command, offers: Sequence[Offer]) -> bool:
    """Whether the sequence would take such a command now, whatever its value."""
    bare = {"value": 0, "unit": "count", "label": None}

    def kind(one: Command) -> Command:
        return one.model_copy(update={k: v for k, v in bare.items() if k in type(one).model_fields})

    return any(o.now and kind(o.command) == kind(command) for o in offers)


def judge_words(words: str, meant: Command, offers: Sequence[Offer]) -> Result:
    """The same for an engine that only gives words."""
    if not words:
        return Result.IGNORED
    meaning = understand(words, offers)
    command = meaning.command if isinstance(meaning, Taken) else None
    return judge(Catch(words, command), meant, offers)
