"""Saying things out loud, each interruptible. Without a voice on this machine everything is still written."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path
from typing import Protocol


class Speaker(Protocol):
    """Anything that can say a sentence."""

    def say(self, text: str) -> None:
        """Begin to say `text`, breaking off what is being said. Returns at once."""
        ...

    def stop(self) -> None:
        """Be silent."""
        ...


class Silent:
    """No voice: the sentences are only written."""

    def say(self, text: str) -> None:
        """Nothing to hear."""

    def stop(self) -> None:
        """Nothing to stop."""


class Espeak:
    """espeak-ng as a child process: it returns in milliseconds and can be cut off.

    folder: instead of the loudspeaker, write each sentence to `NNN.wav` there (the demo does, since nobody can listen
    to a whole day in a minute).
    """

    def __init__(self, program: str, *, words_per_minute: int = 165, folder: Path | None = None) -> None:
        self._program = program
        self._rate = words_per_minute
        self._folder = folder
        self._said = 0
        self._child: subprocess.Popen[bytes] | None = None

    def say(self, text: str) -> None:
        """Begin to say `text`."""
        command = [self._program, "-v", "en-us", "-s", str(self._rate)]
        if self._folder is not None:
            self._said += 1
            self._folder.mkdir(parents=True, exist_ok=True)
            target = self._folder / f"{self._said:03d}.wav"
            subprocess.run([*command, "-w", str(target), "--", text], check=False, capture_output=True, timeout=30)
            return
        self.stop()
        self._child = subprocess.Popen(
            [*command, "--", text],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )

    def stop(self) -> None:
        """Cut off what is being said."""
        if self._child is not None and self._child.poll() is None:
            self._child.terminate()
            self._child.wait(timeout=5)
        self._child = None

    def wait(self) -> None:
        """Until it has been said."""
        if self._child is not None:
            self._child.wait()


def find_speaker(folder: Path | None = None) -> Speaker:
    """espeak-ng where it is installed, silence elsewhere."""
    program = shutil.which("espeak-ng")
    return Espeak(program, folder=folder) if program else Silent()
