"""From 16 kHz audio and the phrases that may be said now to what was heard."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Protocol

RATE_HZ = 16_000


class ModelProblem(Exception):
    """A speech model cannot be used; the message says why and what to do."""


@dataclass(frozen=True)
class Word:
    """A heard word: when, in seconds from the start of the audio, and how sure, 0 to 1."""

    text: str
    start: float
    end: float
    confidence: float


@dataclass(frozen=True)
class Alternative:
    """One way to hear the utterance; `score` is a log likelihood, larger is better."""

    text: str
    score: float
    words: tuple[Word, ...]


@dataclass(frozen=True)
class Heard:
    """One utterance. `alternatives`: up to ten, best first; none when nothing was said.

    seconds: length of the audio. foreign: evidence that it was not one of the phrases (None: not measured).
    dropped: words of the phrases that the model does not know, so that they could not be heard.
    """

    alternatives: tuple[Alternative, ...]
    seconds: float
    foreign: float | None = None
    dropped: tuple[str, ...] = ()

    @property
    def text(self) -> str:
        return self.alternatives[0].text if self.alternatives else ""

    def addressed(self) -> bool:
        """Whether this was meant for the tablet: drop the utterance when not."""
        return bool(self.alternatives)


class Recognizer(Protocol):
    """What the rest of the program needs of a speech engine."""

    def hear(self, frames: Iterable[bytes], phrases: Sequence[str]) -> Heard:
        """One utterance: the whole of `frames` (16 kHz mono int16) in one `Heard`."""
        ...

    def listen(self, frames: Iterable[bytes], phrases_now: Callable[[], Sequence[str]]) -> Iterator[Heard]:
        """A continuous stream: one `Heard` for each utterance that a pause ends."""
        ...

    def knows(self, word: str) -> bool:
        """Whether the engine can hear this word at all."""
        ...
