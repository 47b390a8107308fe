"""From 16 kHz audio and the phrases that may be said now to what was heard.

The engine is vosk with any of its models. A model with a graph that can be changed at run time is held to the
phrases; a model with a fixed graph hears freely, and the caller's phrase rules do the rest.
"""

from __future__ import annotations

import functools
import json
import math
import re
import struct
import threading
from collections import OrderedDict, deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path
from random import Random
from typing import Any, Protocol

import numpy as np

from fieldassist.language.spoken import spoken_language
from fieldassist.printable import printable
from fieldassist.trade.message import Message, Refused, message
from fieldassist.voice.model_files import file_unlike_listed
from fieldassist.voice.model_trial import can_hear

RATE_HZ = 16_000
MOST_ALTERNATIVES = 10
# Below this no speech is understood: a voice an arm's length away is 30 dB and more above it. After so long below it
# the engine rests until something is louder, and then hears the blocks before that too.
_SILENCE_RMS = 32.0  # -60 dBFS
_REST_S = 1.5
# Put before and after a recording: one that is cut tight loses its first and last sounds otherwise. A quiet hiss,
# always the same, since no microphone gives the digital silence that the models have never heard.
_PAD = RATE_HZ // 4
_HISS = struct.pack(f"<{_PAD}h", *(round(Random(place).gauss(0, 4)) for place in range(_PAD)))
_TAIL = _HISS[: RATE_HZ // 100 * 2]  # 10 ms
_FLOOR = np.array([round(Random(place).gauss(0, 1)) for place in range(_PAD)], "<i2")
_KEPT = 6  # lists of phrases made ready, for when the same one comes again


class ModelProblem(Refused):
    """A speech model cannot be used; `told` says why and what to do."""


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

    alternatives: up to ten, best first; none when nothing was said. They need not be phrases: the engine may mix
    phrases, so take the first that can be understood, of those that are `believable`. seconds: length of the audio.
    foreign: how much better other talk explains the sound than the best alternative does (see `foreignness`); None when
    the model was not held to the phrases. dropped: words of the phrases that the model does not know; the phrases they
    stand in could not be heard. begun: where in its stream the audio begins, in seconds; audio: 16 kHz mono int16, from
    `listen` only; model: what heard it.
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
        """Whether it was heard without any phrases."""
        return self.foreign is None

    @property
    def text(self) -> str:
        """The best alternative's words, "" when nothing was said.

        >>> Heard((), 1.0).text
        ''
        """
        return self.alternatives[0].text if self.alternatives else ""

    def addressed(self, limit: float | None = None) -> bool:
        """Whether this was meant for the tablet; other talk is to be dropped without a word.

        limit: how much [nats] other talk may explain it better, `FOREIGN_LIMIT` for None.

        >>> said = (Alternative("next tile", 100.0, ()),)
        >>> Heard(said, 1.0, foreign=0.5).addressed(), Heard(said, 1.0, foreign=40.0).addressed()
        (True, False)
        """
        most = FOREIGN_LIMIT if limit is None else limit
        return bool(self.alternatives) and (self.foreign is None or self.foreign < most)

    def believable(self, limit: float | None = None) -> Heard:
        """The same without the alternatives that other talk explains better by so much; `limit` as for `addressed`.

        >>> said = (Alternative("set", 90.0, ()), Alternative("slid", 86.0, ()))
        >>> [len(Heard(said, 1.0, foreign=-4.0).believable(most).alternatives) for most in (2.5, 6.0)]
        [1, 2]
        """
        if self.foreign is None or not self.alternatives:
            return self
        best, most = self.alternatives[0].score, FOREIGN_LIMIT if limit is None else limit
        other = self.foreign + best
        return replace(
            self, alternatives=tuple(one for one in self.alternatives if foreignness(one.score, best, other) < most)
        )


class Recognizer(Protocol):
    """What the rest of the program needs of a speech engine."""

    def hear(self, frames: Iterable[bytes], phrases: Sequence[str] | None) -> Heard:
        """One utterance: the whole of `frames` (16 kHz mono int16) in one `Heard`. None: any words at all."""
        ...

    def listen(self, frames: Iterable[bytes], phrases_now: Callable[[], Sequence[str] | None]) -> Iterator[Heard]:
        """A continuous stream: one `Heard` for each utterance that a pause ends."""
        ...

    def knows(self, word: str) -> bool:
        """Whether the engine can hear this word at all."""
        ...


# --- telling talk apart --------------------------------------------------------------------------------------------

# Held to its phrases, the engine hears phrases in any talk. So it hears everything twice: as the phrases, and as
# a loop of everyday words, most of them short, which between them follow any English fairly well. Talk that the
# loop explains better is not meant for the tablet. Words of the phrases at hand are taken out of the loop.
_SPEECH = spoken_language()
# Words that stand in every kind of talk do not tell it apart: they stay in the loop though phrases have them.
_GLUE = _SPEECH.fillers | _SPEECH.links

# In nats. Measured with the default model, voices and people that it was not trained on (`tests.bench.voice`, devices):
# of 100 pieces of talk 1 passes for a phrase of a working day (7 without the limit); of 100 sentences, a third each in
# quiet and in pink and saw-like noise 10 dB below the voice, 2 are lost.
FOREIGN_LIMIT = 2.5


def foreignness(score: float, best_score: float, background_score: float) -> float:
    """Evidence in nats that an utterance is other talk and not the alternative with this score.

    The sum of two log likelihood ratios: of the background loop to the alternative, and of the best alternative
    (which may be a mixture of phrases) to it. Below `FOREIGN_LIMIT` the alternative is believable.

    >>> foreignness(100.0, 100.0, 95.0), foreignness(90.0, 100.0, 95.0)
    (-5.0, 15.0)
    """
    return (background_score - score) + (best_score - score)


# --- the model ----------------------------------------------------------------------------------------------------

# Where each part may lie: the present layout, then the one before it with all files in one folder.
_NETWORK = ("am/final.mdl", "final.mdl")
_FEATURES = ("conf/mfcc.conf", "mfcc.conf")
_FIXED_GRAPH = ("graph/HCLG.fst", "HCLG.fst")
_LEXICON_GRAPH = ("graph/HCLr.fst", "HCLr.fst")
_LANGUAGE_GRAPH = ("graph/Gr.fst", "Gr.fst")
_DISAMBIGUATION = ("graph/disambig_tid.int", "disambig_tid.int")
_WORDS = ("graph/words.txt", "words.txt")
_FST_MAGIC = 2125659606
_NOT_WORDS = frozenset({"<eps>", "#0", "<s>", "</s>", "[unk]", "<unk>", "<UNK>", "!SIL"})


class VoskRecognizer:
    """Speech to words with a vosk model.

    model_dir: the model's folder. Errors: `ModelProblem` when the folder is missing, is no vosk model, lacks a
    file, has a broken one, or vosk is not installed.

    The engine's recognizer for a list of phrases takes about 5 ms to build for each thousand phrases; the last
    few are kept for when the same list comes again. Several threads may use one `VoskRecognizer`.
    """

    def __init__(self, model_dir: Path) -> None:
        self.name = Path(model_dir).resolve().name
        self._model, self.held_to_phrases = _load(Path(model_dir))
        self._words = _read_words(Path(model_dir))
        self._known: dict[str, bool] = {}
        self._background = [word for word in _SPEECH.everyday if self.knows(word)]
        # The two recognizers of an utterance run side by side: the engine lets other threads run while it works.
        self._pool = ThreadPoolExecutor(max_workers=2, thread_name_prefix="background")
        self._dictation = _Grammar(self._any_words(Path(model_dir)), (), (), free=True)
        self._grammars: OrderedDict[tuple[str, ...], _Grammar] = OrderedDict()
        self._idle: OrderedDict[tuple[str, ...] | None, _Part] = OrderedDict()
        self._lock = threading.Lock()

    def words(self) -> frozenset[str]:
        """Every word that the model can hear; empty when the model does not list them."""
        return self._words

    def knows(self, word: str) -> bool:
        """Whether the model can hear this word."""
        known = self._known.get(word)
        if known is None:
            known = word not in _NOT_WORDS and bool(self._model.vosk_model_find_word(word) >= 0)
            self._known[word] = known
        return known

    def hear(self, frames: Iterable[bytes], phrases: Sequence[str] | None) -> Heard:
        """One utterance: the whole of `frames` in one `Heard`, pauses inside it included.

        frames: 16 kHz mono int16, in blocks of any size. phrases: what may be said; a phrase that stands there
        several times is expected so much the more. Phrases with an unknown word are left out. None: dictation, by
        the model's own idea of English, or by the words of a site where it has none.
        """
        ear = _Ear(self, self._grammar(phrases))
        count = 0
        ear.take(_HISS)
        for block in frames:
            count += len(block) // 2
            ear.take(block)
        ear.take(_HISS)
        return ear.heard(0.0, count / RATE_HZ, shift=-_PAD / RATE_HZ)

    def listen(self, frames: Iterable[bytes], phrases_now: Callable[[], Sequence[str] | None]) -> Iterator[Heard]:
        """A continuous stream: one `Heard` for each utterance that a pause ends.

        frames: 16 kHz mono int16; a tenth to a quarter of a second a block serves well, since the phrases are
        asked for and the end of speech is looked for once a block. phrases_now: what may be said, as for `hear`; asked
        before an utterance begins, never within one. Times of words count from the start of the stream.
        """
        ear: _Ear | None = None
        still = 0.0  # for how long there was nothing that could be speech [s]
        recent: deque[bytes] = deque(maxlen=3)
        sound = bytearray()  # of this utterance; a silence that lasts ends one too, so it cannot grow without end
        position = begun = 0

        def told(ear: _Ear) -> Iterator[Heard]:
            heard = ear.heard(begun / RATE_HZ, (position - begun) / RATE_HZ, begun / RATE_HZ)
            if heard.alternatives:
                yield replace(heard, begun=begun / RATE_HZ, audio=bytes(sound))

        for block in frames:
            still = still + len(block) / 2 / RATE_HZ if _silent(block) else 0.0
            if still > _REST_S and (ear is None or not ear.speaking()):
                # Nothing is heard, so nothing is reckoned: a tablet listens to silence most of the day.
                if ear is not None:
                    ear.leave()
                    ear = None
                    sound.clear()
                position += len(block) // 2
                recent.append(block)
                continue
            if ear is None or not ear.speaking():
                grammar = self._grammar(phrases_now())
                if ear is None or ear.grammar is not grammar:
                    ear = _Ear(self, grammar)
                    # Speech may have begun in the last blocks without a word to show for it yet.
                    begun = position - sum(len(part) // 2 for part in recent)
                    sound = bytearray().join(recent)
                    for part in recent:
                        ear.take(part)
            position += len(block) // 2
            recent.append(block)
            sound += block
            if ear.take(block):
                yield from told(ear)
                ear = None
                recent.clear()
                sound.clear()
        if ear is not None:
            yield from told(ear)

    def _grammar(self, wanted: Sequence[str] | None) -> _Grammar:
        if wanted is None:
            return self._dictation
        phrases = tuple(wanted)
        with self._lock:
            known = self._grammars.pop(phrases, None)
            if known is None:
                known = self._new_grammar(phrases)
            self._grammars[phrases] = known
            while len(self._grammars) > _KEPT:
                self._grammars.popitem(last=False)
        return known

    def _new_grammar(self, phrases: tuple[str, ...]) -> _Grammar:
        split = [phrase.lower().split() for phrase in phrases]
        unknown = {word for word in {word for words in split for word in words} if not self.knows(word)}
        sayable = [words for words in split if words and unknown.isdisjoint(words)]
        said = {word for words in sayable for word in words}
        return _Grammar(
            tuple(" ".join(words) for words in sayable),
            tuple(word for word in self._background if word not in said or word in _GLUE),
            tuple(sorted(unknown)),
        )

    def _any_words(self, folder: Path) -> tuple[str, ...]:
        """What stands in for English where the model has none of its own: () where it has.

        A graph of one state says of every word only that it may follow any other.
        """
        language = _find(folder, _LANGUAGE_GRAPH)
        if not self.held_to_phrases or language is None or _states(language) > 1:
            return ()
        text = (*_SPEECH.site_sentences, *_SPEECH.site_words, *_SPEECH.everyday * 3)
        return tuple(phrase for phrase in text if all(self.knows(word) for word in phrase.split()))

    def _borrow(self, phrases: tuple[str, ...] | None) -> _Part:
        """A recognizer held to the phrases, or free for None; nobody else has it until it is given back."""
        with self._lock:
            part = self._idle.pop(phrases, None)
        if part is not None:
            return part
        import vosk

        engine = vosk.KaldiRecognizer(self._model, RATE_HZ, *([] if phrases is None else [json.dumps(phrases)]))
        engine.SetMaxAlternatives(MOST_ALTERNATIVES)
        engine.SetWords(True)
        return _Part(engine)

    def _give_back(self, phrases: tuple[str, ...] | None, part: _Part) -> None:
        if not part.renew():
            return
        with self._lock:
            self._idle[phrases] = part
            while len(self._idle) > 2 * _KEPT:
                self._idle.popitem(last=False)


@dataclass(frozen=True)
class _Grammar:
    """A list of phrases made ready: those the model can hear, the background words beside them, words unknown."""

    phrases: tuple[str, ...]
    others: tuple[str, ...]
    dropped: tuple[str, ...]
    free: bool = False


@dataclass
class _Joined:
    """Alternatives of the segments heard so far, put together."""

    score: float
    words: tuple[tuple[str, float, float], ...]


class _Part:
    """One of an utterance's two recognizers, with the segments that pauses in it have closed."""

    def __init__(self, engine: Any) -> None:
        self._engine = engine
        self._open = False  # sound has come in since the last result
        self._paused = False  # the last segment was closed by a pause
        self._samples = 0
        self._began = 0.0  # the engine's own clock runs on from one utterance to the next
        self._joined = [_Joined(0.0, ())]
        self._finished = False
        self._fresh = True

    def take(self, block: bytes) -> bool:
        """Hear a block; whether a pause has closed a segment."""
        self._open, self._fresh = True, False
        self._samples += len(block) // 2
        self._paused = bool(self._engine.AcceptWaveform(block))
        if self._paused:
            self._close(self._engine.Result())
        return self._paused

    def take_all(self, blocks: Sequence[bytes]) -> None:
        """Hear several blocks."""
        for block in blocks:
            self.take(block)

    def speaking(self) -> bool:
        """Whether there is a word in the segment that is still open."""
        return self._open and bool(json.loads(self._engine.PartialResult()).get("partial"))

    def finish(self) -> list[_Joined]:
        """Everything heard, best first, its score down to the last sample.

        When a pause closes a segment, the engine still holds back the third of a second that it needs to see ahead.
        That counts 10 to 30 nats: without it an utterance that a pause has closed for the phrases, but not for other
        talk, would seem foreign. No words are taken from there.
        """
        if self._open or self._paused:
            self._samples += len(_TAIL) // 2
            self._engine.AcceptWaveform(_TAIL)
            last = self._engine.FinalResult()
            if self._open:
                self._close(last)
            else:
                more = max((one.score for one in _segment(last, 0.0)), default=0.0)
                self._joined = [_Joined(one.score + more, one.words) for one in self._joined]
            self._finished = True
        return self._joined

    def renew(self) -> bool:
        """Make ready for another utterance; False when the engine would carry something over into it.

        Only after its final result does the engine begin afresh. Its own reset keeps the sound before, which
        shifts all scores.
        """
        ready = self._finished or self._fresh  # what has heard nothing has nothing to carry over
        self._finished, self._fresh = False, True
        self._open = self._paused = False
        self._began = self._samples / RATE_HZ
        self._joined = [_Joined(0.0, ())]
        return ready

    def _close(self, result: str) -> None:
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
    """One utterance under way, heard as the phrases and beside that as any other talk.

    What other talk it could be is only reckoned once there is a word: noise without one is heard once, not twice.
    """

    def __init__(self, owner: VoskRecognizer, grammar: _Grammar) -> None:
        self.grammar = grammar
        self._owner = owner
        self._keys: list[tuple[str, ...] | None] = []
        if grammar.free or not owner.held_to_phrases:
            self._keys = [grammar.phrases or None]
        elif grammar.phrases:
            self._keys = [grammar.phrases, grammar.others] if grammar.others else [grammar.phrases]
        self._parts = [owner._borrow(key) for key in self._keys]
        self._owed: list[bytes] = []  # what was not heard as any other talk yet
        self._word = False

    def take(self, block: bytes) -> bool:
        """Hear a block; whether the speaker has come to an end."""
        block = _with_floor(block)
        self._owed.append(block)
        self._word = self._word or self.speaking()
        beside = self._catch_up() if self._word else []
        ended = bool(self._parts) and self._parts[0].take(block)
        for done in beside:
            done.result()
        return ended

    def _catch_up(self) -> list[Future[None]]:
        """Begin to hear as other talk what was not yet."""
        owed, self._owed = self._owed, []
        return [self._owner._pool.submit(part.take_all, owed) for part in self._parts[1:]]

    def speaking(self) -> bool:
        """Whether a word has been heard that no pause has ended yet."""
        return bool(self._parts) and self._parts[0].speaking()

    def leave(self) -> None:
        """Hear no more of it: there was no word."""
        for key, part in zip(self._keys, self._parts, strict=True):
            part.finish()
            self._owner._give_back(key, part)
        self._parts, self._keys, self._owed = [], [], []

    def heard(self, start: float, seconds: float, shift: float) -> Heard:
        """All of it, heard from `start` on for so many seconds. shift: what to add to the engine's times."""
        beside = self._catch_up() if self._word else []
        results = [part.finish() for part in self._parts[:1]]
        for done in beside:
            done.result()
        if results and results[0][0].words:
            for done in self._catch_up():
                done.result()
            results += [part.finish() for part in self._parts[1:]]
        for key, part in zip(self._keys, self._parts, strict=True):
            self._owner._give_back(key, part)
        self._parts, self._keys = [], []
        spoken = [one for one in results[0] if one.words] if results else []
        if not spoken or not results[0][0].words:
            return Heard((), seconds, None, self.grammar.dropped, model=self._owner.name)
        found = _alternatives(spoken, shift, start, start + seconds)
        if len(results) == 1:
            return Heard(found, seconds, None, self.grammar.dropped, model=self._owner.name)
        best, other = found[0].score, results[1][0].score
        return Heard(found, seconds, foreignness(best, best, other), self.grammar.dropped, model=self._owner.name)


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


# --- loading ------------------------------------------------------------------------------------------------------


def _load(folder: Path) -> tuple[Any, bool]:
    """The model, and whether it can be held to phrases. Everything is checked before the engine may touch it."""
    name = folder.name
    if not folder.is_dir():
        raise ModelProblem(message("voice-no-model", name=name))
    held = _check_files(folder)
    try:
        unlike = file_unlike_listed(folder)
    except OSError as error:
        raise ModelProblem(message("voice-model-unread", name=name, why=error.strerror or str(error))) from error
    if unlike is not None:
        raise _broken(name, unlike)
    try:
        import vosk
    except ImportError as error:
        raise ModelProblem(message("voice-no-engine", why=str(error))) from error
    except OSError as error:
        raise ModelProblem(_why_not_loaded(str(error))) from error
    _try_out(str(folder.resolve()), _fingerprint(folder))
    vosk.SetLogLevel(-1)
    try:
        return vosk.Model(str(folder)), held
    except Exception as error:
        raise _broken(name) from error


def _check_files(folder: Path) -> bool:
    """Whether the model can be held to phrases; `ModelProblem` when a part is missing or plainly broken."""
    name = folder.name
    for needed in (_NETWORK, _FEATURES):
        if _find(folder, needed) is None:
            raise ModelProblem(message("voice-other-model", name=name, file=needed[0]))
    fixed = _find(folder, _FIXED_GRAPH)
    graphs = [fixed] if fixed else []
    if fixed is None:
        for needed in (_LEXICON_GRAPH, _LANGUAGE_GRAPH, _DISAMBIGUATION):
            found = _find(folder, needed)
            if found is None:
                raise ModelProblem(message("voice-model-incomplete", name=name, file=needed[0]))
            if found.suffix == ".fst":
                graphs.append(found)
    for graph in graphs:
        if not _whole_fst(graph):
            raise _broken(name, graph.name)
    return fixed is None


def _find(folder: Path, places: Sequence[str]) -> Path | None:
    return next((folder / place for place in places if (folder / place).is_file()), None)


def _whole_fst(path: Path) -> bool:
    """Whether a graph file begins as one and is at least as long as the arcs it announces.

    An arc takes 16 bytes.
    """
    arcs = max((arcs for _, arcs in _fst_counts(path)), default=-1)
    return arcs >= 0 and path.stat().st_size >= 16 * arcs


def _states(path: Path) -> int:
    return max((states for states, _ in _fst_counts(path)), default=0)


def _fst_counts(path: Path) -> Iterator[tuple[int, int]]:
    """Numbers of states and arcs that a graph file announces, for it and each graph that it wraps.

    OpenFst's header: magic number, then the names of the graph and arc types, each after its length, version
    and flags (32 bits each), properties, start state, number of states, number of arcs (64 bits each). A graph
    for look-ahead wraps another, whose own header follows.
    """
    with path.open("rb") as file:
        head = file.read(512)
    magic = _FST_MAGIC.to_bytes(4, "little")
    at = 0 if head.startswith(magic) else -1
    while at >= 0:
        try:
            (kind,) = struct.unpack_from("<i", head, at + 4)
            (arc,) = struct.unpack_from("<i", head, at + 8 + kind)
            yield struct.unpack_from("<iiQqqq", head, at + 12 + kind + arc)[-2:]
        except struct.error:
            break
        at = head.find(magic, at + 4)


def _fingerprint(folder: Path) -> tuple[tuple[str, int, int], ...]:
    files = sorted(path for path in folder.rglob("*") if path.is_file())
    return tuple((str(f.relative_to(folder)), f.stat().st_size, f.stat().st_mtime_ns) for f in files)


@functools.lru_cache(maxsize=8)
def _try_out(folder: str, _files: tuple[tuple[str, int, int], ...]) -> None:
    """Load the model and hear with it in a process of its own, once for each state of its files."""
    words = (*sorted(_read_words(Path(folder)))[:3], "yes", "one")
    try:
        heard = can_hear(Path(folder), words)
    except OSError as error:
        why = error.strerror or str(error)
        raise ModelProblem(message("voice-model-untried", name=Path(folder).name, why=why)) from error
    if not heard:
        raise _broken(Path(folder).name)


# The system's packages of the libraries that the engine's own may ask for (Debian, Ubuntu).
_PACKAGES = {"libatomic.so.1": "libatomic1", "libstdc++.so.6": "libstdc++6", "libgcc_s.so.1": "libgcc-s1"}


def _why_not_loaded(said: str) -> Message:
    """Why the engine's library cannot be loaded, from what the system said of it."""
    lacks = re.search(r"(\S+\.so[.\d]*): cannot open shared object file", said)
    if lacks is None:
        return message("voice-engine-unloaded", why=printable(said)[:200])
    package = _PACKAGES.get(lacks[1])
    if package is None:
        return message("voice-engine-lacks", library=lacks[1])
    return message("voice-engine-lacks-package", library=lacks[1], package=package)


def _read_words(folder: Path) -> frozenset[str]:
    path = _find(folder, _WORDS)
    if path is None:
        return frozenset()
    lines = path.read_text(encoding="utf-8", errors="replace").splitlines()
    return frozenset(word for line in lines if (word := line.rpartition(" ")[0]) and word not in _NOT_WORDS)


def _broken(name: str, file: str = "") -> ModelProblem:
    if not file:
        return ModelProblem(message("voice-model-broken", name=name))
    return ModelProblem(message("voice-model-file-broken", name=name, file=file))
