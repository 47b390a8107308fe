"""From 16 kHz audio and the sentences that may be said now to what was heard.

The engine is vosk with any of its models. A model with a graph that can be exchanged is held to the sentences, whole
and unmixed; a model with a fixed graph hears freely, and the caller's phrase rules do the rest.
"""

from __future__ import annotations

import json
import math
import struct
import threading
from collections import OrderedDict, deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path
from random import Random
from typing import Protocol

import numpy as np

from fieldassist.language.spoken import spoken_language
from fieldassist.language.word_graph import WordGraph
from fieldassist.voice.audio import RATE_HZ
from fieldassist.voice.ending import Loudness, is_between, is_over
from fieldassist.voice.sentences import Sentences
from fieldassist.voice.vosk_model import MOST_ALTERNATIVES, Opened, VoskModel

# Below this no speech is understood: a voice an arm's length away is 30 dB and more above it. After so long below it,
# or with nothing that stands out of a noise, the engine rests until something is louder, and then hears the blocks
# before that too.
_SILENCE_RMS = 32.0  # -60 dBFS
_REST_S = 1.5
# Put before and after a recording: one that is cut tight loses its first and last sounds otherwise. A quiet hiss,
# always the same, since no microphone gives the digital silence that the models have never heard.
_PAD = RATE_HZ // 4
_HISS = struct.pack(f"<{_PAD}h", *(round(Random(place).gauss(0, 4)) for place in range(_PAD)))
_TAIL = _HISS[: RATE_HZ // 100 * 2]  # 10 ms
_FLOOR = np.array([round(Random(place).gauss(0, 1)) for place in range(_PAD)], "<i2")
_LEAD = RATE_HZ // 4  # samples of the last moments that are heard again when somebody begins to speak
_KEPT = 2  # sets of sentences for which the model is kept open: what is asked now, and what was asked before
_SEGMENT_PAUSE_S = 0.5  # within other talk; its hearing grows without end otherwise
# A last word that is shorter was not said. Words that end a sentence are drawn out; ours, from recordings of phrases.
_LEAST_WORD_S, _LEAST_LETTER_S = 0.03, 0.03


@dataclass(frozen=True)
class Word:
    """A heard word: when, in seconds from the start of the audio, and how sure, 0 to 1.

    confidence: the share of the alternatives' likelihood that has this word at this place. It says how well the
    word stands against the other phrases, not against other talk: that is what `Heard.foreign` is for.
    """

    text: str
    start: float
    end: float
    confidence: float


@dataclass(frozen=True)
class Alternative:
    """One way to hear the utterance; `score` is a log likelihood (nats), larger is better."""

    text: str
    score: float
    words: tuple[Word, ...]


@dataclass(frozen=True)
class Heard:
    """One utterance.

    alternatives: up to ten, best first, each a whole sentence of those that may be said (of a model that hears freely,
    anything), or what there was of one; none when nothing was said. seconds: length of the audio. foreign: how much
    better other talk explains the sound than the best alternative does (see `foreignness`); None when the model was not
    held to sentences.
    dropped: words that the model does not know; the sentences they stand in could not be heard. begun: where in its
    stream the audio begins, in seconds; audio: 16 kHz mono int16, from `listen` only; model: what heard it.
    """

    alternatives: tuple[Alternative, ...]
    seconds: float
    foreign: float | None = None
    dropped: tuple[str, ...] = ()
    begun: float = 0.0
    audio: bytes = b""
    model: str = ""

    @property
    def free(self) -> bool:
        """Whether it was heard without any sentences."""
        return self.foreign is None

    @property
    def text(self) -> str:
        """The best alternative's words, "" when nothing was said.

        >>> Heard((), 1.0).text
        ''
        """
        return self.alternatives[0].text if self.alternatives else ""


class Recognizer(Protocol):
    """What the rest of the program needs of a speech engine."""

    def hear(self, frames: Iterable[bytes], said: Sentences | None) -> Heard:
        """One utterance: the whole of `frames` (16 kHz mono int16) in one `Heard`. None: any words at all."""
        ...

    def listen(self, frames: Iterable[bytes], said_now: Callable[[], Sentences | None]) -> Iterator[Heard]:
        """A continuous stream: one `Heard` for each utterance, as soon as it is over."""
        ...

    def knows(self, word: str) -> bool:
        """Whether the engine can hear this word at all."""
        ...


# --- telling talk apart --------------------------------------------------------------------------------------------

# Held to its sentences, the engine hears sentences in any talk. So it hears everything twice: as the sentences, and as
# a loop of everyday words, most of them short, which between them follow any English fairly well. Talk that the
# loop explains better is not meant for the tablet. Words of the sentences at hand, and words that sound like them, are
# taken out of the loop.
_SPEECH = spoken_language()
# Words that stand in every kind of talk do not tell it apart: they stay in the loop though sentences have them.
_GLUE = _SPEECH.fillers | _SPEECH.links


def foreignness(score: float, best_score: float, background_score: float) -> float:
    """Evidence in nats that an utterance is other talk and not the alternative with this score.

    The sum of two log likelihood ratios: of the loop of everyday words to the alternative, and of the best alternative
    to it. How much is too much depends on where it was said: `day.rejection`.

    >>> foreignness(100.0, 100.0, 95.0), foreignness(90.0, 100.0, 95.0)
    (-5.0, 15.0)
    """
    return (background_score - score) + (best_score - score)


# --- the engine ---------------------------------------------------------------------------------------------------


class VoskRecognizer:
    """Speech to words with a vosk model.

    model_dir: the model's folder. Errors: `ModelProblem`, as of `VoskModel`.

    The model is opened once for each set of sentences, before an utterance begins; the last few are kept for when the
    same come again. Several threads may use one `VoskRecognizer`.
    """

    def __init__(self, model_dir: Path) -> None:
        self._model = VoskModel(Path(model_dir))
        self.name = self._model.name
        self._everyday = tuple(word for word in _SPEECH.everyday if self.knows(word))
        # The two recognizers of an utterance run side by side: the engine lets other threads run while it works.
        self._pool = ThreadPoolExecutor(max_workers=2, thread_name_prefix="other-talk")
        self._own = self._model.open()
        self._any = _Task(self._own, listed=() if self._model.has_language else self._site())
        self._tasks: OrderedDict[Sentences, _Task] = OrderedDict()
        self._lock = threading.Lock()

    @property
    def held_to_sentences(self) -> bool:
        """Whether the model can be held to what may be said; one that cannot hears freely."""
        return self._model.takes_graphs

    def words(self) -> frozenset[str]:
        """Every word that the model can hear; empty when the model does not list them."""
        return self._model.words

    def knows(self, word: str) -> bool:
        """Whether the model can hear this word."""
        return self._model.knows(word)

    def hear(self, frames: Iterable[bytes], said: Sentences | None) -> Heard:
        """One utterance: the whole of `frames` in one `Heard`, pauses inside it included.

        frames: 16 kHz mono int16, in blocks of any size. said: what may be said; a long pause may stand between two
        sentences. None: dictation, by the model's own idea of English, or by the words of a site where it has none.
        """
        ear = _Ear(self._task(said), self._pool)
        count = 0
        ear.take(_HISS)
        for block in _small(frames):
            count += len(block) // 2
            ear.take(block)
            if is_between(ear.task.graph, ear.words, ear.pause_s):
                ear.close()
        ear.take(_HISS)
        return ear.heard(self.name, 0.0, count / RATE_HZ, shift=-_PAD / RATE_HZ)

    def listen(self, frames: Iterable[bytes], said_now: Callable[[], Sentences | None]) -> Iterator[Heard]:
        """A continuous stream: one `Heard` for each utterance, as soon as it is over (`ending`).

        frames: 16 kHz mono int16; a sixteenth to an eighth of a second a block serves well, since the sentences are
        asked for and the end of speech is looked for once a block. said_now: what may be said, as for `hear`; asked
        before an utterance begins, never within one, and made ready then. Times of words count from the start of the
        stream.
        """
        stream = _Stream(self)
        for block in frames:
            if not stream.within():
                stream.task = self._task(said_now())
            yield from stream.take(block)
        yield from stream.end()

    def _task(self, said: Sentences | None) -> _Task:
        if said is None:
            return self._any
        with self._lock:
            task = self._tasks.pop(said, None)
            if task is None:
                task = self._new_task(said)
            self._tasks[said] = task
            while len(self._tasks) > _KEPT:
                self._tasks.popitem(last=False)
        return task

    def _new_task(self, said: Sentences) -> _Task:
        if not self._model.takes_graphs:
            return _Task(self._own, said)
        if not said.words:
            return _Task(None, said)
        return _Task(self._model.open(said.graph), said, beside=self._own, others=self._others(said))

    def _others(self, said: Sentences) -> tuple[str, ...]:
        """The everyday words beside which these sentences are heard."""
        taken = said.words | {like for alike in _SPEECH.homophones if alike & said.words for like in alike}
        return tuple(word for word in self._everyday if word not in taken or word in _GLUE)

    def _site(self) -> tuple[str, ...]:
        """What stands in for English where the model has none of its own."""
        text = (*_SPEECH.site_sentences, *_SPEECH.site_words, *_SPEECH.everyday * 3)
        return tuple(phrase for phrase in text if all(self.knows(word) for word in phrase.split()))


@dataclass(frozen=True)
class _Task:
    """What to hear, made ready. opened: None for nothing; said: None for any words; listed: phrases that stand in for a
    language. beside: with what other talk is heard, as a loop of `others`; None where it is not."""

    opened: Opened | None
    said: Sentences | None = None
    listed: tuple[str, ...] = ()
    beside: Opened | None = None
    others: tuple[str, ...] = ()

    @property
    def graph(self) -> WordGraph | None:
        """What may be said; None for any words."""
        return None if self.said is None else self.said.graph

    def parts(self) -> list[_Part]:
        """Its hearings: of what may be said, then of other talk."""
        if self.opened is None:
            return []
        first = [_Part(self.opened, self.listed)]
        return first if self.beside is None else [*first, _Part(self.beside, self.others)]


class _Stream:
    """A stream under way: utterance after utterance."""

    def __init__(self, owner: VoskRecognizer) -> None:
        self.task = owner._any
        self._name = owner.name
        self._pool = owner._pool
        self._ear: _Ear | None = None
        self._loudness = Loudness()
        self._still = 0.0  # for how long there was nothing that could be speech [s]
        self._recent: deque[bytes] = deque()  # the blocks of the last moments, when nobody spoke yet
        self._sound: list[
            bytes
        ] = []  # of this utterance; a silence that lasts ends one too, so it cannot grow without end
        self._position = self._begun = 0  # samples
        self._broken = False  # it has become quiet, but before the last word that was expected

    def within(self) -> bool:
        """Whether an utterance is under way."""
        return self._ear is not None and bool(self._ear.words)

    def take(self, block: bytes) -> Iterator[Heard]:
        """The next samples."""
        seconds = len(block) / 2 / RATE_HZ
        self._loudness.take(block)
        self._still = self._still + seconds if _silent(block) else 0.0
        self._position += len(block) // 2
        if max(self._still, self._loudness.steady_s()) > _REST_S and not self.within():
            # Nothing is heard, so nothing is reckoned: a tablet listens to silence, or a fan, most of the day.
            self._leave()
            self._remember(block)
            return
        if self._ear is None or (self._ear.task is not self.task and not self.within()):
            self._begin()
        self._remember(block)
        self._sound.append(block)
        assert self._ear is not None
        self._ear.take(block)
        yield from self._ended(self._ear)

    def end(self) -> Iterator[Heard]:
        """What was begun when the stream ended."""
        if self._ear is None:
            return
        for _ in range(2):  # the engine sees ahead by more than one
            self._ear.take(_HISS)
        if self.within():
            yield from self._told(self._hear(self._ear))

    def _begin(self) -> None:
        """A new ear, which hears the last moments too: speech may have begun there without a word to show for it."""
        if self._ear is not None:
            self._ear.leave()
        self._ear, self._sound, self._broken = _Ear(self.task, self._pool), list(self._recent), False
        self._begun = self._position - sum(len(part) // 2 for part in self._sound)
        for part in self._sound:
            self._ear.take(part)

    def _remember(self, block: bytes) -> None:
        self._recent.append(block)
        while sum(map(len, self._recent)) > 2 * _LEAD and len(self._recent) > 1:
            self._recent.popleft()

    def _leave(self) -> None:
        if self._ear is not None:
            self._ear.leave()
        self._ear, self._sound = None, []

    def _ended(self, ear: _Ear) -> Iterator[Heard]:
        quiet_s = self._loudness.quiet_s()
        self._broken = self._broken and quiet_s != 0.0
        graph = ear.task.graph
        if not is_over(graph, ear.words, quiet_s, ear.pause_s, apart=_SPEECH.fillers, broken=self._broken):
            return
        heard = self._hear(ear)
        if not self._broken and _made_up(heard, self._position / RATE_HZ - (quiet_s or 0.0)):
            # Where only one word can follow, the engine has it ahead of the speaker: hear it again, and wait.
            self._broken = True
            self._ear = _Ear(ear.task, self._pool)
            for part in self._sound:
                self._ear.take(part)
            return
        yield from self._told(heard)
        self._ear, self._sound = None, []
        self._recent.clear()

    def _hear(self, ear: _Ear) -> Heard:
        begun, seconds = self._begun / RATE_HZ, (self._position - self._begun) / RATE_HZ
        return ear.heard(self._name, begun, seconds, shift=begun)

    def _told(self, heard: Heard) -> Iterator[Heard]:
        if heard.alternatives:
            yield replace(heard, begun=self._begun / RATE_HZ, audio=b"".join(self._sound))


def _made_up(heard: Heard, quiet: float) -> bool:
    """Whether the last word was not said: it lies where it was quiet already, or has no room. quiet: since when [s]."""
    if not heard.alternatives or heard.free:
        return False
    last = heard.alternatives[0].words[-1]
    return (last.start + last.end) / 2 > quiet or last.end - last.start < _LEAST_WORD_S + len(
        last.text
    ) * _LEAST_LETTER_S


@dataclass
class _Joined:
    """Alternatives of the segments heard so far, put together."""

    score: float
    words: tuple[tuple[str, float, float], ...]


class _Part:
    """One of an utterance's two hearings, with the segments of it that were closed.

    pause_s: for how long the engine has heard a pause; None where it hears none.
    """

    def __init__(self, opened: Opened, listed: tuple[str, ...]) -> None:
        self._opened, self._listed = opened, listed
        self._engine = opened.borrow(listed)
        self._began = self._engine.samples / RATE_HZ
        self._joined = [_Joined(0.0, ())]
        self._open = self._heard_any = False  # sound has come in since the last result, or ever
        self.pause_s: float | None = None

    def take(self, block: bytes) -> None:
        """Hear a block."""
        self._open = self._heard_any = True
        self._engine.samples += len(block) // 2
        if not self._engine.recognizer.AcceptWaveform(block):
            self.pause_s = None
        else:
            self.pause_s = 0.0 if self.pause_s is None else self.pause_s + len(block) / 2 / RATE_HZ

    def take_all(self, blocks: Sequence[bytes]) -> None:
        """Hear several blocks; a long pause closes a segment."""
        for block in blocks:
            self.take(block)
            if self.pause_s is not None and self.pause_s >= _SEGMENT_PAUSE_S:
                self.close()

    def words(self) -> tuple[str, ...]:
        """What has been heard in the segment that is still open."""
        if not self._open:
            return ()
        return tuple(json.loads(self._engine.recognizer.PartialResult()).get("partial", "").split())

    def close(self) -> None:
        """Close the segment: what comes now is a new sentence. Nothing of the sound is lost to it."""
        self.pause_s = None
        self._join(self._engine.recognizer.Result())

    def finish(self) -> list[_Joined]:
        """Everything heard, best first, its score down to the last sample; the engine is given back.

        The engine holds back the third of a second that it needs to see ahead; its final result has it.
        """
        if self._heard_any:
            self._engine.samples += len(_TAIL) // 2
            self._engine.recognizer.AcceptWaveform(_TAIL)
            nothing_more = bool(self._joined[0].words) and not self.words()
            last = self._engine.recognizer.FinalResult()
            if self._open and not nothing_more:
                self._join(last)
            else:
                more = max((one.score for one in _segment(last, 0.0)), default=0.0)
                self._joined = [_Joined(one.score + more, one.words) for one in self._joined]
        self._opened.give_back(self._engine, self._listed)
        return self._joined

    def _join(self, result: str) -> None:
        self._open = False
        if segment := _segment(result, self._began):
            pairs = [_Joined(a.score + b.score, a.words + b.words) for a in self._joined for b in segment]
            self._joined = sorted(pairs, key=lambda pair: -pair.score)[:MOST_ALTERNATIVES]


def _segment(result: str, began: float) -> list[_Joined]:
    """The alternatives of an engine's result; times from `began` on."""
    return [
        _Joined(
            float(given.get("confidence", 0.0)),
            tuple((w["word"], w["start"] - began, w["end"] - began) for w in given.get("result", ())),
        )
        for given in json.loads(result).get("alternatives", ())
    ]


def _with_floor(block: bytes) -> bytes:
    """Samples of exactly 0 made the least noise there is.

    A microphone that is muted, or gated between words, gives zeros. They have no spectrum, so that a model may take
    them for anything and wait for the end of a word. The noise is always the same, so that what is heard is, too.
    """
    samples = np.frombuffer(block, "<i2")
    return np.where(samples == 0, np.resize(_FLOOR, len(samples)), samples).astype("<i2").tobytes()


class _Ear:
    """One utterance under way, heard as the sentences and beside that as any other talk.

    What other talk it could be is only reckoned once there is a word: noise without one is heard once, not twice.
    words: heard so far, since the last pause that closed a sentence.
    """

    def __init__(self, task: _Task, pool: ThreadPoolExecutor) -> None:
        self.task = task
        self.words: tuple[str, ...] = ()
        self._pool = pool
        self._parts = task.parts()
        self._owed: list[bytes] = []  # what was not heard as any other talk yet
        self._word = False

    @property
    def pause_s(self) -> float | None:
        """For how long the engine has heard a pause; None where it hears none."""
        return self._parts[0].pause_s if self._parts else None

    def take(self, block: bytes) -> None:
        """Hear a block."""
        if not self._parts:
            return
        block = _with_floor(block)
        self._owed.append(block)
        beside = self._catch_up() if self._word else []
        self._parts[0].take(block)
        self.words = self._parts[0].words()
        self._word = self._word or bool(self.words)
        for done in beside:
            done.result()

    def close(self) -> None:
        """What comes now is a new sentence."""
        self._parts[0].close()
        self.words = ()

    def leave(self) -> None:
        """Hear no more of it."""
        for part in self._parts:
            part.finish()
        self._parts, self._owed, self.words = [], [], ()

    def heard(self, model: str, start: float, seconds: float, shift: float) -> Heard:
        """All of it, heard from `start` on for so many seconds. shift: what to add to the engine's times."""
        beside = self._catch_up() if self._word else []
        results = [part.finish() for part in self._parts[:1]]
        for done in beside:
            done.result()
        nothing = not results or not results[0][0].words
        if not nothing:
            for done in self._catch_up():
                done.result()
        results += [part.finish() for part in self._parts[1:]]
        self._parts, self.words = [], ()
        dropped = () if self.task.said is None else self.task.said.dropped
        if nothing:
            return Heard((), seconds, None, dropped, model=model)
        found = _alternatives([one for one in results[0] if one.words], shift, start, start + seconds)
        if len(results) == 1:
            return Heard(found, seconds, None, dropped, model=model)
        best, other = found[0].score, results[1][0].score
        return Heard(found, seconds, foreignness(best, best, other), dropped, model=model)

    def _catch_up(self) -> list[Future[None]]:
        """Begin to hear as other talk what was not yet."""
        owed, self._owed = self._owed, []
        return [self._pool.submit(part.take_all, owed) for part in self._parts[1:]]


def _small(frames: Iterable[bytes]) -> Iterator[bytes]:
    """Blocks of an eighth of a second at most, so that pauses are seen."""
    size = RATE_HZ // 8 * 2
    for block in frames:
        yield from (block[start : start + size] for start in range(0, len(block), size))


def _silent(block: bytes) -> bool:
    """Whether nothing in a block could be speech."""
    samples = np.frombuffer(block, "<i2").astype(np.float32)
    return not len(samples) or float(samples @ samples) < _SILENCE_RMS**2 * len(samples)


def _alternatives(joined: Sequence[_Joined], shift: float, start: float, end: float) -> tuple[Alternative, ...]:
    """With times shifted and kept between start and end, and each word's share of the likelihood of all."""
    weights = [math.exp(one.score - joined[0].score) for one in joined]

    def share(text: str, middle: float) -> float:
        having = (any(text == w and a <= middle <= b for w, a, b in one.words) for one in joined)
        return min(1.0, sum(weight for weight, has in zip(weights, having, strict=True) if has) / sum(weights))

    def place(moment: float) -> float:
        return round(min(max(moment + shift, start), end), 3)

    return tuple(
        Alternative(
            " ".join(text for text, _, _ in one.words),
            one.score,
            tuple(Word(text, place(a), place(b), share(text, (a + b) / 2)) for text, a, b in one.words),
        )
        for one in joined
    )
