"""Short sounds that say what became of an utterance before any word does.

"kept": two short notes upward. "asking": one note that glides upward, as a question does. "refused": three low,
rough notes downward. "time is up": five quick high notes, to be repeated. "dropped": four low ticks, soft, since nobody
may have spoken to the tablet. The number of notes differs, so that rhythm alone tells them apart for ears that do not
hear pitch well, or behind muffs.

The strongest part of each lies between 500 and 2,500 Hz, where ISO 7731:2003 wants auditory signals of workplaces
(from memory; these sounds are no danger signals in its sense and replace none).
"""

from __future__ import annotations

import contextlib
import queue
import threading
from collections.abc import Callable
from functools import lru_cache
from typing import Any, Literal, Protocol, get_args

import numpy as np
import numpy.typing as npt
import soxr

from fieldassist.voice.audio import RATE_HZ
from fieldassist.voice.microphone import PORTAUDIO, NoMicrophone

LONGEST_S = 0.5

ChimeName = Literal["kept", "asking", "refused", "time is up", "dropped"]
NAMES: tuple[ChimeName, ...] = get_args(ChimeName)

_PEAK = 0.7  # of full scale
_SOFT: dict[ChimeName, float] = {"dropped": 0.2}  # of the others' peak
_RAMP_S = 0.008  # on and off: without it each note clicks
_BETWEEN_S = 0.15  # silence after a sound, before it is repeated
_WAITING = 4

# Notes as (from Hz, to Hz, s, s of silence after it).
_NOTES: dict[ChimeName, tuple[tuple[float, float, float, float], ...]] = {
    "kept": ((1047, 1047, 0.07, 0.03), (1568, 1568, 0.13, 0.0)),
    "asking": ((700, 1300, 0.36, 0.0),),
    "refused": ((740, 740, 0.10, 0.05), (659, 659, 0.10, 0.05), (554, 554, 0.18, 0.0)),
    "time is up": tuple((2093, 2093, 0.05, 0.045) for _ in range(5)),
    "dropped": tuple((587, 587, 0.04, 0.05) for _ in range(4)),
}
# Level of each harmonic, from the fundamental on.
_TIMBRE: dict[ChimeName, tuple[float, ...]] = {
    "kept": (1.0, 0.2),
    "asking": (1.0, 0.1, 0.05),
    "refused": (1.0, 0.0, 0.7, 0.0, 0.5),
    "time is up": (1.0, 0.35, 0.2),
    "dropped": (1.0,),
}


@lru_cache(maxsize=len(NAMES))
def earcon(name: ChimeName) -> npt.NDArray[np.int16]:
    """One of the sounds: int16 at 16 kHz, one channel, under 0.5 s. Do not write into it.

    Errors: ValueError for another name.

    >>> [round(len(earcon(name)) / 16_000, 2) for name in NAMES]
    [0.23, 0.36, 0.48, 0.47, 0.36]
    """
    if name not in _NOTES:
        raise ValueError(f"there is no sound {name!r}; there are {', '.join(NAMES)}")
    parts: list[npt.NDArray[np.float64]] = []
    for low, high, seconds, pause in _NOTES[name]:
        parts += [_note(low, high, seconds, _TIMBRE[name]), np.zeros(round(pause * RATE_HZ))]
    sound = np.concatenate(parts)
    made: npt.NDArray[np.int16] = np.rint(sound / np.abs(sound).max() * _PEAK * _SOFT.get(name, 1.0) * 32767).astype(
        np.int16
    )
    made.flags.writeable = False
    return made


def _note(low: float, high: float, seconds: float, timbre: tuple[float, ...]) -> npt.NDArray[np.float64]:
    time = np.arange(round(seconds * RATE_HZ)) / RATE_HZ
    phase = 2 * np.pi * (low * time + (high - low) * time**2 / (2 * seconds))
    tone = sum((level * np.sin((n + 1) * phase) for n, level in enumerate(timbre)), np.zeros(len(time)))
    ramp = np.clip(np.minimum(time, time[::-1]) / _RAMP_S, 0.0, 1.0)
    shaped: npt.NDArray[np.float64] = tone * (0.5 - 0.5 * np.cos(np.pi * ramp))
    return shaped


class Chime(Protocol):
    """Anything that can sound an earcon."""

    def play(self, name: ChimeName, times: int = 1, loud: float = 1.0) -> None:
        """Begin to sound it, after what is sounding; loud: in shares of full. Returns at once."""
        ...

    def wait(self, timeout_s: float = 5.0) -> bool:
        """Until all is sounded; whether it was in this time."""
        ...

    def close(self) -> None:
        """Be silent for good."""
        ...


class NoChime:
    """No loudspeaker: what the sounds say is on the screen too."""

    def play(self, name: ChimeName, times: int = 1, loud: float = 1.0) -> None:
        """Nothing to hear."""

    def wait(self, timeout_s: float = 5.0) -> bool:  # noqa: ARG002 (the protocol's signature)
        """Nothing to wait for."""
        return True

    def close(self) -> None:
        """Nothing to close."""


class Loudspeaker:
    """Earcons through PortAudio, from a thread of its own.

    on_start, on_end: called around each sound from that thread, so that the microphone can be muted meanwhile.
    A loudspeaker that goes away makes the sounds silent until there is one again; nothing waits for it.
    """

    def __init__(self, on_start: Callable[[], None] | None = None, on_end: Callable[[], None] | None = None) -> None:
        self._on_start, self._on_end = on_start, on_end
        self._orders: queue.Queue[tuple[ChimeName, int, float] | None] = queue.Queue(_WAITING)
        self._closed = threading.Event()
        self._idle = threading.Event()
        self._idle.set()
        self._thread = threading.Thread(target=self._run, name="earcons", daemon=True)
        self._thread.start()

    def play(self, name: ChimeName, times: int = 1, loud: float = 1.0) -> None:
        """Begin to sound it, after what is sounding; with four waiting already it is left out."""
        earcon(name)
        if self._closed.is_set():
            return
        self._idle.clear()
        with contextlib.suppress(queue.Full):
            self._orders.put_nowait((name, times, loud))

    def wait(self, timeout_s: float = 5.0) -> bool:
        """Until all is sounded; whether it was in this time."""
        return self._idle.wait(timeout_s)

    def close(self) -> None:
        """Be silent for good, after the sound of this moment."""
        self._closed.set()
        with contextlib.suppress(queue.Full):
            self._orders.put_nowait(None)
        if self._thread is not threading.current_thread():
            self._thread.join(5.0)

    def _run(self) -> None:
        while not self._closed.is_set():
            order = self._orders.get()
            if order is None:
                break
            if self._on_start is not None:
                self._on_start()
            try:
                _sound(*order)
            finally:
                if self._on_end is not None:
                    self._on_end()
                if self._orders.empty():
                    self._idle.set()
        self._idle.set()


def _sound(name: ChimeName, times: int, loud: float) -> None:
    pause = np.zeros(round(_BETWEEN_S * RATE_HZ), dtype=np.int16)
    samples = np.concatenate([earcon(name), pause] * max(1, times))
    samples = (samples * min(1.0, max(0.0, loud))).astype(np.int16)
    try:
        library = PORTAUDIO.load()
    except NoMicrophone:
        return
    with PORTAUDIO.lock:
        PORTAUDIO.look_again()
        opened = _open(library)
        if opened is None:
            return
        stream, rate = opened
        PORTAUDIO.streams += 1
    try:
        if rate != RATE_HZ:
            samples = soxr.resample(samples, RATE_HZ, rate)
        with contextlib.suppress(library.PortAudioError):
            stream.write(samples.astype("<i2").tobytes())
    finally:
        with PORTAUDIO.lock:
            PORTAUDIO.streams -= 1
            for end in (stream.stop, stream.close):
                with contextlib.suppress(library.PortAudioError):
                    end()


def _open(library: Any) -> tuple[Any, int] | None:
    """The loudspeaker of this moment, at 16 kHz where it can, at its own rate where it must; None without one."""
    try:
        own = round(library.query_devices(kind="output")["default_samplerate"])
    except (library.PortAudioError, ValueError):
        return None
    for rate in dict.fromkeys((RATE_HZ, own)):
        try:
            stream = library.RawOutputStream(samplerate=rate, channels=1, dtype="int16")
        except (library.PortAudioError, ValueError):
            continue
        try:
            stream.start()
        except library.PortAudioError:
            stream.close()
            continue
        return stream, rate
    return None


def find_chime(on_start: Callable[[], None] | None = None, on_end: Callable[[], None] | None = None) -> Chime:
    """The loudspeaker, or nothing where PortAudio or a loudspeaker is missing now."""
    try:
        library = PORTAUDIO.load()
        with PORTAUDIO.lock:
            PORTAUDIO.look_again()
            library.query_devices(kind="output")
    except NoMicrophone:
        return NoChime()
    except (library.PortAudioError, ValueError):
        return NoChime()
    return Loudspeaker(on_start, on_end)
