"""A microphone for tests before which recordings are played, and which recordings there are."""

from __future__ import annotations

import queue
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np

from fieldassist.voice.audio import read_audio, without_silence
from fieldassist.voice.microphone import Level
from tests import spoken


def recordings() -> dict[str, list[Path]]:
    """What is said in the recordings, and those in which it is: without noise where there are any."""
    found: dict[str, list[Path]] = {}
    for file, words in spoken.said().items():
        found.setdefault(words, []).append(spoken.AUDIO / file)
    return found


class Recorded:
    """A microphone before which recordings are played, as fast as they are heard."""

    name = "recordings"

    def __init__(self, _device: Any = None, **_rest: Any) -> None:
        self._blocks: queue.SimpleQueue[bytes | None] = queue.SimpleQueue()
        self.held = False
        self.presses: list[str] = []
        Recorded.open = self

    open: Recorded

    def __enter__(self) -> Recorded:
        return self

    def __exit__(self, *_: object) -> None:
        self._blocks.put(None)

    def frames(self) -> Iterator[bytes]:
        while (block := self._blocks.get()) is not None:
            yield block

    def play(self, path: Path) -> None:
        """A recording, and the silence after it that a key let go gives."""
        samples = without_silence(read_audio(path)).samples.astype("<i2")
        padded = np.concatenate([np.zeros(4_000, "<i2"), samples, np.zeros(36_000, "<i2")])
        for start in range(0, len(padded), 2_000):
            self._blocks.put(padded[start : start + 2_000].tobytes())

    def whole(self, _start: float, _end: float) -> bool:
        return True

    def level(self) -> Level:
        return Level(-12.0, -20.0, clipped=False, dead=False)

    def hold(self) -> None:
        self.presses.append("down")
        self.held = True

    def release(self) -> None:
        self.presses.append("up")
        self.held = False

    def mute(self) -> None: ...

    def unmute(self) -> None: ...
