"""Sound played into a virtual microphone is heard by the running program and ends up in the day's log.

No sound hardware is needed: a PulseAudio daemon of the test's own has a null sink whose monitor is the microphone, and
a second one as loudspeaker. `norewinds=1` matters: a sink that rewinds hands its monitor late and broken sound.
"""

from __future__ import annotations

import contextlib
import os
import shutil
import signal
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
import pytest
import soundfile

from fieldassist.checklist.events import AreaStarted, Event, SpeakerChanged
from fieldassist.checklist.plan import DayPlan
from fieldassist.checklist.schema import Checklist
from fieldassist.day.clock import SystemClock
from fieldassist.day.session import Day
from fieldassist.places import shipped
from fieldassist.record.log import DayLog

AUDIO = shipped("assets") / "demo" / "audio"
START_S = 60.0  # for a daemon or the program to be ready on a machine that is busy with other tests
HEARD_S = 30.0  # from the end of what is played to its event

# A program that captures: what a microphone gives is written as raw samples, with signs of life on standard error.
CAPTURE = """
import sys
from fieldassist.voice.microphone import Microphone
with Microphone(on_warning=lambda sentence: print(sentence, file=sys.stderr, flush=True)) as microphone:
    print("listening to", microphone.name, file=sys.stderr, flush=True)
    for block in microphone.frames():
        sys.stdout.buffer.write(block)
        sys.stdout.buffer.flush()
"""
# A program that speaks while it listens.
HALF_DUPLEX = """
import sys
import numpy as np
from fieldassist.voice.earcons import Loudspeaker
from fieldassist.voice.microphone import Microphone
from fieldassist.voice.speaker import find_speaker

def level(blocks):
    samples = np.frombuffer(b"".join(blocks), dtype=np.int16).astype(float)
    return float(np.abs(samples).max())

deaf = sys.argv[1] == "deaf"
voice = find_speaker()
with Microphone() as microphone:
    frames = microphone.frames()
    chime = Loudspeaker(*((microphone.mute, microphone.unmute) if deaf else ()))
    if deaf:
        voice.watch(microphone.mute, microphone.unmute)
    chime.play("time is up")
    chime.wait()
    voice.say("open time is up")
    heard, silent = [], 0
    while silent < 6:
        block = next(frames)
        heard.append(block)
        silent = 0 if voice.speaking() else silent + 1
    print(f"{voice.wait(0)} {len(heard)} {level(heard)}")
    chime.close()
"""


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
            "PYTHONPATH": str(Path(__file__).resolve().parents[2]),
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


@pytest.fixture
def sound() -> Iterator[Sound]:
    folder = Path(tempfile.mkdtemp(prefix="fa"))
    made = Sound(folder)
    try:
        made.start()
        yield made
    finally:
        made.stop()
        shutil.rmtree(folder, ignore_errors=True)


class Program:
    """A program under test with all that it says; ended with the test, whatever happens."""

    def __init__(self, sound: Sound, *arguments: str) -> None:
        self.child = subprocess.Popen(
            [sys.executable, *arguments],
            env=sound.environment,
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
def program(sound: Sound, *arguments: str) -> Iterator[Program]:
    made = Program(sound, *arguments)
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


def recording(words: str) -> Path:
    return next(AUDIO.glob(f"*-{words}.flac"))


def arrived(sound: np.ndarray, heard: np.ndarray) -> float:
    """The share of the sound, in pieces of 25 ms, that stands in what was heard bit for bit and in order."""
    pieces = [sound[start : start + 400] for start in range(0, len(sound) - 400, 400)]
    loud = [piece.astype("<i2").tobytes() for piece in pieces if np.abs(piece.astype(int)).max() > 300]
    all_heard, at, found = heard.tobytes(), 0, 0
    for piece in loud:
        place = all_heard.find(piece, at)
        if place >= 0:
            at, found = place + len(piece), found + 1
    return found / len(loud)


def test_two_recordings_played_into_the_microphone_end_up_in_the_log(
    sound: Sound, tmp_path: Path, plan: DayPlan, checklists: dict[str, Checklist]
) -> None:
    path = tmp_path / "day.db"
    Day.begin(path, plan, checklists, SystemClock()).close()
    with program(sound, "-m", "fieldassist", "work", str(path), "--microphone", "--open", "--quiet") as work:
        until(lambda: b"Listening" in work.out or not work.alive(), "the program to listen", START_S, work.said)
        until(sound.recorded, "the ear at the microphone", START_S, work.said)

        def kept(kind: type) -> list:
            assert work.alive(), work.said()
            return [event.body for event in events(path) if isinstance(event.body, kind)]

        sound.play(recording("this-is-rosa"))
        until(lambda: bool(kept(SpeakerChanged)), "the speaker in the log", HEARD_S, work.said)
        assert [body.name for body in kept(SpeakerChanged)] == ["rosa"]
        sound.play(recording("start-area-shower-wall"))
        until(lambda: bool(kept(AreaStarted)), "the area in the log", HEARD_S, work.said)
        assert [body.area for body in kept(AreaStarted)] == ["shower wall"]
        assert work.child.stdin is not None
        work.child.stdin.write(b"leave\n")
        work.child.stdin.flush()
        assert work.ended(20) == 0, work.said()


def test_what_is_played_arrives_bit_for_bit_and_again_after_the_sound_system_went_away(sound: Sound) -> None:
    with program(sound, "-c", CAPTURE) as capture:
        until(lambda: b"listening" in capture.err, "the program to listen", START_S, capture.said)
        until(sound.recorded, "the ear at the microphone", START_S, capture.said)
        played = sound.play(recording("this-is-rosa"))
        until(lambda: arrived(played, capture.samples()) > 0.9, "the recording", HEARD_S, capture.said)
        sound.stop()
        until(lambda: b"is gone" in capture.err, "the warning", HEARD_S, capture.said)
        sound.start()
        until(lambda: b"is back" in capture.err, "the microphone opened again", HEARD_S, capture.said)
        until(sound.recorded, "the ear at the microphone", START_S, capture.said)
        before = len(capture.samples())
        played = sound.play(recording("start-area-shower-wall"))
        until(lambda: arrived(played, capture.samples()[before:]) > 0.9, "the recording", HEARD_S, capture.said)
        assert capture.alive()


@pytest.mark.parametrize("deaf", [True, False])
def test_the_tablet_does_not_hear_its_own_voice(sound: Sound, deaf: bool) -> None:
    # The loudspeaker sounds straight into the microphone, louder than in any room; without the muting it is heard.
    assert sound.control("set-default-sink", "vmic") is not None
    with program(sound, "-c", HALF_DUPLEX, "deaf" if deaf else "hears") as speaking:
        assert speaking.ended(START_S) == 0, speaking.said()
        spoken, blocks, level = speaking.out.split()
        assert spoken == b"True"
        assert int(blocks) > 6
        assert (float(level) == 0) if deaf else (float(level) > 3000), level


def test_microphones_are_listed_with_a_level_and_without_a_sound_system_the_reason_is_said(sound: Sound) -> None:
    listed = subprocess.run(
        [sys.executable, "-c", "from fieldassist.voice.microphone import *; print(list_inputs())"],
        env=sound.environment,
        capture_output=True,
        text=True,
        timeout=START_S,
        check=True,
    )
    assert "default=True" in listed.stdout
    meter = subprocess.run(
        [sys.executable, "-m", "fieldassist", "microphone", "--seconds", "0.5"],
        env=sound.environment,
        capture_output=True,
        text=True,
        timeout=START_S,
        check=True,
    )
    assert "* " in meter.stdout
    assert "." * 48 in meter.stdout, "nothing is played, so the meter stands at its lowest"
    sound.stop()
    with program(sound, "-c", CAPTURE) as capture:
        assert capture.ended(START_S) == 1
        assert b"NoMicrophone: No microphone is plugged in." in capture.err
