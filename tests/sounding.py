"""A virtual microphone and the running program, for tests that play sound into the one and read the other's log.

No sound hardware is needed: a PulseAudio daemon of the test's own has a null sink whose monitor is the microphone, and
a second one as loudspeaker. `norewinds=1` matters: a sink that rewinds hands its monitor late and broken sound.
"""

from __future__ import annotations

import contextlib
import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
import soundfile

from fieldassist.checklist.events import Event
from fieldassist.record.log import DayLog

START_S = 180.0  # for a daemon or the program to be ready on a machine that is busy with other tests
HEARD_S = 120.0  # from the end of what is played to its event


def until(condition: Callable[[], bool], what: str, seconds: float, also: Callable[[], str] = lambda: "") -> None:
    end = time.monotonic() + seconds
    while not condition():
        assert time.monotonic() < end, f"waited in vain: {what}. {also()}"
        time.sleep(0.05)


class Sound:
    """A PulseAudio daemon of our own. Its folder is short, as the path of a socket must be."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.socket = folder / "s"
        self.environment = {
            **{k: v for k, v in os.environ.items() if not k.startswith(("PULSE_", "DBUS_", "ALSA_"))},
            "PULSE_SERVER": f"unix:{self.socket}",
            "PULSE_RUNTIME_PATH": str(folder),
            "PULSE_STATE_PATH": str(folder),
            "PULSE_COOKIE": str(folder / "cookie"),
            "XDG_RUNTIME_DIR": str(folder),
            "PYTHONPATH": str(Path(__file__).resolve().parents[1]),
            "PYTHONUNBUFFERED": "1",
        }
        self._daemon: subprocess.Popen[bytes] | None = None

    def start(self) -> None:
        sinks = {"vmic": "rate=16000 channels=1 format=s16le norewinds=1", "speaker": "norewinds=1"}
        self._daemon = subprocess.Popen(
            [
                "pulseaudio",
                "--daemonize=no",
                "-n",
                "--exit-idle-time=-1",
                "--disable-shm=yes",
                "--use-pid-file=no",
                *("-L", f"module-native-protocol-unix auth-anonymous=1 socket={self.socket}"),
                *(part for name, how in sinks.items() for part in ("-L", f"module-null-sink sink_name={name} {how}")),
            ],
            env=self.environment,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=(self.folder / "daemon.log").open("ab"),
        )
        until(
            lambda: self.control("set-default-source", "vmic.monitor") is not None,
            "the sound daemon",
            START_S,
            self.log,
        )
        assert self.control("set-default-sink", "speaker") is not None

    def stop(self) -> None:
        if self._daemon is not None:
            self._daemon.terminate()
            try:
                self._daemon.wait(5)
            except subprocess.TimeoutExpired:
                self._daemon.kill()
                self._daemon.wait()
        self._daemon = None
        self.socket.unlink(missing_ok=True)

    def log(self) -> str:
        return (self.folder / "daemon.log").read_text(errors="replace")

    def control(self, *arguments: str) -> str | None:
        """What pactl says, None when it cannot."""
        try:
            done = subprocess.run(
                ["pactl", *arguments], env=self.environment, capture_output=True, text=True, timeout=10, check=False
            )
        except subprocess.TimeoutExpired:
            return None
        return done.stdout if done.returncode == 0 else None

    def recorded(self) -> bool:
        """Whether some program has its ear at the microphone."""
        return bool((self.control("list", "short", "source-outputs") or "").strip())

    def play(self, recording: Path) -> np.ndarray:
        """Play a recording into the microphone, as fast as life; its samples."""
        samples, rate = soundfile.read(recording, dtype="int16")
        wav = self.folder / f"{recording.stem}.wav"
        soundfile.write(wav, samples, rate, subtype="PCM_16")
        # Buffered well: on a machine that is busy with other tests a short buffer runs empty, and the sound has holes.
        subprocess.run(
            ["paplay", "--latency-msec=300", "-d", "vmic", str(wav)], env=self.environment, timeout=60, check=True
        )
        return np.asarray(samples)


class Program:
    """A program under test with all that it says; ended with the test, whatever happens."""

    def __init__(self, sound: Sound, *arguments: str, **environment: str) -> None:
        self.child = subprocess.Popen(
            [sys.executable, *arguments],
            env={**sound.environment, **environment},
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
        )
        self.out, self.err = bytearray(), bytearray()
        self._threads = [
            threading.Thread(target=self._drain, args=(pipe, kept), daemon=True)
            for pipe, kept in ((self.child.stdout, self.out), (self.child.stderr, self.err))
        ]
        for thread in self._threads:
            thread.start()

    def _drain(self, pipe: object, kept: bytearray) -> None:
        while data := os.read(pipe.fileno(), 65_536):  # type: ignore[attr-defined]
            kept.extend(data)

    def said(self) -> str:
        return f"{self.out.decode(errors='replace')}\n{self.err.decode(errors='replace')}"

    def samples(self) -> np.ndarray:
        whole = bytes(self.out[: len(self.out) // 2 * 2])
        return np.frombuffer(whole, dtype="<i2")

    def alive(self) -> bool:
        return self.child.poll() is None

    def ended(self, seconds: float) -> int:
        code = self.child.wait(seconds)
        for thread in self._threads:
            thread.join(5)
        return code


@contextlib.contextmanager
def program(sound: Sound, *arguments: str, **environment: str) -> Iterator[Program]:
    made = Program(sound, *arguments, **environment)
    try:
        yield made
    finally:
        if made.alive():
            made.child.send_signal(signal.SIGINT)
            try:
                made.child.wait(10)
            except subprocess.TimeoutExpired:
                made.child.kill()
                made.child.wait()


def events(day: Path) -> tuple[Event, ...]:
    with DayLog.open(day, read_only=True) as log:
        return tuple(log.events)
