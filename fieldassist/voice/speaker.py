"""Saying things out loud, each interruptible. Without a voice on this machine everything is still written.

Every voice is a child process: it begins in milliseconds and is cut off by ending it. Linux: espeak-ng. macOS: its own
`say`. Windows: the system voice through PowerShell. The last two are written after their documentation and have not
been run by us.
"""

from __future__ import annotations

import contextlib
import shutil
import subprocess
import sys
import threading
from abc import ABC, abstractmethod
from collections.abc import Callable
from pathlib import Path
from typing import Protocol

WORDS_PER_MINUTE = 165

_STOPPING_S = 2.0
_WRITING_S = 30.0


class Speaker(Protocol):
    """Anything that can say a sentence."""

    def say(self, text: str) -> None:
        """Begin to say `text`, breaking off what is being said. Returns at once."""
        ...

    def stop(self) -> None:
        """Be silent."""
        ...

    def speaking(self) -> bool:
        """Whether something is being said."""
        ...

    def watch(self, on_start: Callable[[], None], on_end: Callable[[], None]) -> None:
        """From now on call `on_start` before and `on_end` after everything that is said, cut off or not."""
        ...


class Silent:
    """No voice: the sentences are only written."""

    def say(self, text: str) -> None:
        """Nothing to hear."""

    def stop(self) -> None:
        """Nothing to stop."""

    def speaking(self) -> bool:
        """Never."""
        return False

    def watch(self, on_start: Callable[[], None], on_end: Callable[[], None]) -> None:
        """Nothing to watch."""


class _Utterance:
    """A sentence under way; its end is told exactly once, by whoever sees it first."""

    def __init__(self, child: subprocess.Popen[bytes] | None, on_end: Callable[[], None]) -> None:
        self.child = child
        self._on_end = on_end
        self._claim = threading.Lock()
        self.ended = threading.Event()

    def end(self) -> None:
        if self._claim.acquire(blocking=False):
            try:
                self._on_end()
            finally:
                self.ended.set()
        else:
            self.ended.wait(_STOPPING_S)

    def watch(self) -> None:
        if self.child is not None:
            self.child.wait()
        self.end()


class Voice(ABC):
    """A program that reads text from its standard input and says it.

    folder: instead of the loudspeaker, write each sentence to `NNN.wav` there (the demo does, since nobody can listen
    to a whole day in a minute); `say` then returns when the file is written, and nothing is watched.

    `on_start` and `on_end` come in pairs, in order, from `say`, `stop` or a watching thread; they must return soon and
    must not call back into the speaker.
    """

    def __init__(self, *, words_per_minute: int = WORDS_PER_MINUTE, folder: Path | None = None) -> None:
        self._rate = words_per_minute
        self._folder = folder
        self._said = 0
        self._lock = threading.RLock()
        self._now: _Utterance | None = None
        self._on_start: Callable[[], None] = _nothing
        self._on_end: Callable[[], None] = _nothing

    @abstractmethod
    def command(self, target: Path | None) -> list[str]:
        """The program with its arguments: out loud, or into the WAV file `target`."""

    def watch(self, on_start: Callable[[], None], on_end: Callable[[], None]) -> None:
        """From now on call `on_start` before and `on_end` after everything that is said, cut off or not."""
        with self._lock:
            self._on_start, self._on_end = on_start, on_end

    def say(self, text: str) -> None:
        """Begin to say `text`, breaking off what is being said."""
        if self._folder is not None:
            self._write(text, self._folder)
            return
        with self._lock:
            self.stop()
            # Before the first sound, so that the microphone is deaf in time.
            self._on_start()
            said = _Utterance(None, self._on_end)
            try:
                said.child = subprocess.Popen(
                    self.command(None),
                    stdin=subprocess.PIPE,
                    stdout=subprocess.DEVNULL,
                    stderr=subprocess.DEVNULL,
                    creationflags=_NO_WINDOW,
                )
                assert said.child.stdin is not None
                # A program that ended at once has nothing to read; its sentence stands on the screen.
                with contextlib.suppress(BrokenPipeError), said.child.stdin as pipe:
                    pipe.write(text.encode())
            except OSError:
                said.end()
                return
            self._now = said
            threading.Thread(target=said.watch, name="speaker", daemon=True).start()

    def stop(self) -> None:
        """Cut off what is being said; when this returns it is silent and `on_end` has been called."""
        with self._lock:
            said, self._now = self._now, None
            if said is None:
                return
            if said.child is not None and said.child.poll() is None:
                said.child.terminate()
                try:
                    said.child.wait(_STOPPING_S)
                except subprocess.TimeoutExpired:
                    said.child.kill()
                    said.child.wait()
            said.end()

    def speaking(self) -> bool:
        """Whether something is being said."""
        said = self._now
        return said is not None and not said.ended.is_set()

    def wait(self, timeout_s: float | None = None) -> bool:
        """Until it has been said; whether it was in this time."""
        said = self._now
        return said is None or said.ended.wait(timeout_s)

    def _write(self, text: str, folder: Path) -> None:
        self._said += 1
        folder.mkdir(parents=True, exist_ok=True)
        target = folder / f"{self._said:03d}.wav"
        subprocess.run(
            self.command(target),
            input=text.encode(),
            check=False,
            capture_output=True,
            timeout=_WRITING_S,
            creationflags=_NO_WINDOW,
        )


class Espeak(Voice):
    """espeak-ng, the voice on Linux. program: where it lies."""

    def __init__(self, program: str, *, words_per_minute: int = WORDS_PER_MINUTE, folder: Path | None = None) -> None:
        super().__init__(words_per_minute=words_per_minute, folder=folder)
        self._program = program

    def command(self, target: Path | None) -> list[str]:
        """As `Voice.command`."""
        into = ["-w", str(target)] if target is not None else []
        return [self._program, "-v", "en-us", "-s", str(self._rate), *into, "--stdin"]


class MacVoice(Voice):
    """The system voice of macOS through `say`. Not run by us. program: where it lies."""

    def __init__(self, program: str, *, words_per_minute: int = WORDS_PER_MINUTE, folder: Path | None = None) -> None:
        super().__init__(words_per_minute=words_per_minute, folder=folder)
        self._program = program

    def command(self, target: Path | None) -> list[str]:
        """As `Voice.command`."""
        into = ["-o", str(target), "--file-format=WAVE", "--data-format=LEI16@22050"] if target is not None else []
        return [self._program, "-r", str(self._rate), *into, "-f", "-"]


class WindowsVoice(Voice):
    """The system voice of Windows (SAPI 5) through PowerShell and System.Speech. Not run by us.

    program: PowerShell. Its start takes up to a second; `on_start` has been called by then.
    """

    _PLAIN_WORDS_PER_MINUTE = 180  # at rate 0; SAPI's rate runs from -10 (a third) to 10 (threefold)

    def __init__(self, program: str, *, words_per_minute: int = WORDS_PER_MINUTE, folder: Path | None = None) -> None:
        super().__init__(words_per_minute=words_per_minute, folder=folder)
        self._program = program

    def command(self, target: Path | None) -> list[str]:
        """As `Voice.command`."""
        rate = max(-10, min(10, round((self._rate / self._PLAIN_WORDS_PER_MINUTE - 1) * 10)))
        quoted = str(target).replace("'", "''")
        script = [
            "Add-Type -AssemblyName System.Speech",
            "$v = New-Object System.Speech.Synthesis.SpeechSynthesizer",
            f"$v.Rate = {rate}",
            *([f"$v.SetOutputToWaveFile('{quoted}')"] if target is not None else []),
            "$r = New-Object System.IO.StreamReader([Console]::OpenStandardInput(), [Text.Encoding]::UTF8)",
            "$v.Speak($r.ReadToEnd())",
            "$v.Dispose()",
        ]
        return [self._program, "-NoProfile", "-NonInteractive", "-Command", "; ".join(script)]


def find_speaker(folder: Path | None = None) -> Speaker:
    """espeak-ng where it is installed, else the system's own voice, else silence."""
    program = shutil.which("espeak-ng")
    if program:
        return Espeak(program, folder=folder)
    if sys.platform == "darwin" and (program := shutil.which("say")):
        return MacVoice(program, folder=folder)
    if sys.platform == "win32" and (program := shutil.which("powershell")):
        return WindowsVoice(program, folder=folder)
    return Silent()


_NO_WINDOW: int = getattr(subprocess, "CREATE_NO_WINDOW", 0)


def _nothing() -> None:
    """Nobody watches."""
