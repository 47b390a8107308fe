"""A speech model is first loaded and heard with in a process of its own: with a broken one the engine's library ends
the process that it is in."""

from __future__ import annotations

import contextlib
import json
import multiprocessing
import os
import random
import struct
from collections.abc import Sequence
from pathlib import Path

_SECONDS = 120  # until it counts as broken; a whole model takes one or two
_NEVER_BEGUN = 1  # the exit code of a Python that meets an error of its own
_BROKEN = 4
_RATE_HZ = 16_000
_BLOCK = _RATE_HZ // 4


def can_hear(folders: Sequence[Path], words: Sequence[str]) -> bool:
    """Whether the engine loads these models and lives through sound: words to be held to, and by their own graphs.

    Errors: `OSError` where no process can be started, or it ends before it comes to the model, as it does where the
    program's own first file cannot be read a second time (Python, "multiprocessing", the spawn method).
    """
    child = multiprocessing.get_context("spawn").Process(
        target=_hear, args=([str(folder) for folder in folders], list(words)), daemon=True
    )
    child.start()
    try:
        child.join(_SECONDS)
        if child.exitcode == _NEVER_BEGUN:
            raise OSError("it ended before it came to the model")
        return child.exitcode == 0
    finally:
        child.kill()
        child.join()


def _hear(folders: list[str], words: list[str]) -> None:
    _be_still()
    try:
        for folder in folders:
            _load_and_hear(folder, words)
    except Exception:
        os._exit(_BROKEN)


def _load_and_hear(folder: str, words: list[str]) -> None:
    import vosk

    vosk.SetLogLevel(-1)
    model = vosk.Model(folder)
    known = [word for word in words if "\0" not in word and model.vosk_model_find_word(word) >= 0][:1]
    for grammar in ([], [json.dumps(known)] if known else []):
        recognizer = vosk.KaldiRecognizer(model, _RATE_HZ, *grammar)
        recognizer.SetMaxAlternatives(2)
        recognizer.SetWords(True)
        for block in _sound():
            if recognizer.AcceptWaveform(block):
                recognizer.Result()
            recognizer.PartialResult()
        recognizer.FinalResult()


def _sound() -> list[bytes]:
    """A second of noise and three of near silence, so that the end of speech is looked for; always the same."""
    draw = random.Random(1)
    blocks = ((1000.0, 4), (4.0, 12))
    return [
        struct.pack(f"<{_BLOCK}h", *(round(max(-32768.0, min(32767.0, draw.gauss(0, level)))) for _ in range(_BLOCK)))
        for level, count in blocks
        for _ in range(count)
    ]


def _be_still() -> None:
    """What the engine says on its way down is no sentence for the crew, and its memory is not worth keeping."""
    with contextlib.suppress(OSError):
        nothing = os.open(os.devnull, os.O_WRONLY)
        for number in (1, 2):
            os.dup2(nothing, number)
    with contextlib.suppress(ImportError, ValueError, OSError):
        import resource  # not on every system

        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
