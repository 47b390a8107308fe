"""Sound from a microphone, as the recognizer wants it: 16 kHz, one channel, 16-bit samples, in small blocks.

A thread of its own opens the device, watches it, and opens it again after it was unplugged. All queues are bounded:
whoever takes the blocks too slowly loses the oldest, counted, and nothing else waits. PortAudio (through sounddevice)
is touched only here and in `earcons`.

Levels are in dB relative to the overload point (ITU-T G.100.1, dBov), as in `audio`.
"""

from __future__ import annotations

import contextlib
import math
import queue
import threading
import time
from collections import deque
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from types import TracebackType
from typing import Any, Generic, Protocol, TypeVar

import numpy as np
import numpy.typing as npt
import soxr

from fieldassist.trade.message import Message, Refused, Several, message
from fieldassist.voice.audio import RATE_HZ, Samples

BLOCK_S = 1 / 16
QUEUE_S = 10.0  # how much may wait for a busy recognizer
DEAD_S = 3.0  # of digital silence: no microphone that works is this quiet
STALL_S = 3.0  # a device that gives nothing for so long is gone, whatever it says of itself
MUTE_TAIL_S = 0.3  # the room goes on sounding after the tablet has stopped
BARGE_IN_S = 0.1  # the same, when somebody pressed the button to cut the tablet off: they speak sooner than that
RELEASE_TAIL_S = 0.2  # people let the button go on the last syllable
LEAD_IN_S = 0.25  # silence before held speech: a recording that is cut tight loses its first sound
END_S = 2.25  # silence after it: longer than any pause that a recognizer waits for

_DEVICE_BLOCK_S = BLOCK_S
_RAW_BLOCKS = 64
_METER_S = 0.25
_CLIP_SHOWN_S = 1.0
_CLIPPED_BLOCKS = 3  # within that second: one bang is no reason to warn
_WARN_AGAIN_S = 30.0
_FIRST_RETRY_S, _LAST_RETRY_S = 0.25, 5.0
_OPENING_S = 20.0
_FULL_SCALE = 32_766
_GAPS_KEPT = 512


class NoMicrophone(Refused):
    """There is nothing to listen with; `told` says why and what to do."""


@dataclass(frozen=True)
class SoundInput:
    """One microphone that the machine offers.

    name: as the system calls it; index: PortAudio's number, which changes when devices come and go; rate: its own
    sample rate, Hz; default: the one that is used when none is named; channels: how many it has.
    """

    name: str
    index: int
    rate: int
    default: bool
    channels: int = 1


@dataclass(frozen=True)
class Level:
    """What a level meter shows: the last quarter second as the device gives it, muted or not.

    peak_dbfs, rms_dbfs: dBov, never above 0 (a full-scale sine has peak 0 and RMS -3.0); -inf for digital silence.
    clipped: flat tops within the last second. dead: nothing but digital silence for three seconds, or no device.
    """

    peak_dbfs: float
    rms_dbfs: float
    clipped: bool
    dead: bool

    def bar(self, width: int = 18, floor_dbfs: float = -54.0) -> str:
        """The level as text: # up to the RMS level, - up to the peak; the whole width is `floor_dbfs` to 0.

        >>> Level(-6.0, -18.0, clipped=False, dead=False).bar()
        '############----..'
        """

        def cells(dbfs: float) -> int:
            return round(min(max(1 - dbfs / floor_dbfs, 0.0), 1.0) * width) if math.isfinite(dbfs) else 0

        rms = cells(self.rms_dbfs)
        return ("#" * rms + "-" * (cells(self.peak_dbfs) - rms)).ljust(width, ".")


_NOTHING = Level(-math.inf, -math.inf, clipped=False, dead=True)


class Stream(Protocol):
    """An open device that is giving sound. rate: Hz; channels, interleaved; latency_s: how old its sound is."""

    rate: int
    channels: int
    latency_s: float

    def active(self) -> bool:
        """Whether it still runs."""
        ...

    def close(self) -> None:
        """Stop at once and give the device back."""
        ...


class Driver(Protocol):
    """What a microphone needs of the machine; PortAudio, or something simulated in a test."""

    def inputs(self) -> tuple[SoundInput, ...]:
        """The devices of this moment. `NoMicrophone` when sound cannot be had at all."""
        ...

    def open(self, chosen: SoundInput, take: Callable[[bytes, bool], None]) -> Stream:
        """Start a device: `take(block, overflowed)` is called for each block of int16. `NoMicrophone` if it fails."""
        ...


def list_inputs() -> tuple[SoundInput, ...]:
    """The microphones at hand, empty when there are none.

    While a microphone is open the list is the one from before it was opened: PortAudio looks only once.
    Errors: `NoMicrophone` when PortAudio is missing.
    """
    return PortAudio().inputs()


def choose_input(inputs: tuple[SoundInput, ...], device: str | int | None) -> SoundInput:
    """The input that is meant: by number, by name or a part of it in either case, or the default one.

    Errors: `NoMicrophone` when it is none, or more than one that differ in name.

    >>> headset, board = SoundInput("USB Headset", 3, 48_000, False), SoundInput("Board", 1, 44_100, True)
    >>> choose_input((headset, board), None).name, choose_input((headset, board), "headset").index
    ('Board', 3)
    """
    if not inputs:
        raise NoMicrophone(message("voice-no-microphone"))
    names = Several(tuple(f"{i.index} {i.name}" for i in inputs))
    if device is None:
        return next((i for i in inputs if i.default), inputs[0])
    if isinstance(device, int) or device.isdigit():
        found = [i for i in inputs if i.index == int(device)]
    else:
        wanted = device.casefold()
        found = [i for i in inputs if i.name == device] or [i for i in inputs if wanted in i.name.casefold()]
    if not found:
        raise NoMicrophone(message("voice-no-such-microphone", device=str(device), names=names))
    if len({i.name for i in found}) > 1:
        raise NoMicrophone(message("voice-which-microphone", device=str(device), names=names))
    # One device may be offered by several of the system's sound interfaces under the same name.
    return next((i for i in found if i.default), found[0])


def level_of(samples: npt.NDArray[np.int16]) -> tuple[float, float]:
    """Peak and RMS of int16 samples in dBov; -inf for digital silence.

    References: ITU-T G.100.1 (dBov).

    >>> level_of(np.full(100, -32768, dtype=np.int16))
    (0.0, 0.0)
    """
    if not samples.size:
        return -math.inf, -math.inf
    wide = samples.astype(np.float64) / 32768
    peak, power = float(np.abs(wide).max()), float(np.mean(wide**2))
    return (20 * math.log10(peak), 10 * math.log10(power)) if power else (-math.inf, -math.inf)


class Microphone:
    """A microphone that stays at hand all day. Use it in a `with` statement and iterate over `frames()`.

    device: a number or (part of) a name from `list_inputs`; None for the default one. block_s: seconds a block.
    hold_to_talk: sound flows only between `hold` and `release`; otherwise always. on_warning: called with a sentence
    for the crew when the sound is clipped, dead or lost and when the device goes or comes; it is called from the
    microphone's thread and must return soon. driver: PortAudio, unless a test brings its own.

    Entering: `NoMicrophone` when the device cannot be opened now. Later losses are warned of and mended.
    All methods may be called from any thread and return at once.
    """

    def __init__(
        self,
        device: str | int | None = None,
        *,
        block_s: float = BLOCK_S,
        hold_to_talk: bool = False,
        on_warning: Callable[[Message], None] | None = None,
        driver: Driver | None = None,
    ) -> None:
        if not 0.02 <= block_s <= 1.0:
            raise ValueError("a block lasts 0.02 to 1 second")
        self._device = device
        self._driver: Driver = driver or PortAudio()
        self._warn_with = on_warning
        self._out: _Bounded[_Block | None] = _Bounded(max(2, round(QUEUE_S / block_s)))
        self._gate = _Gate(self._out, round(block_s * RATE_HZ), hold_to_talk=hold_to_talk)
        self._meter = _Meter()
        self._level = _NOTHING
        self._stop = threading.Event()
        self._opened = threading.Event()
        self._problem: NoMicrophone | None = None
        self._name = ""
        self._warned: dict[str, float] = {}
        self._lost_raw = 0
        self._gaps: deque[float] = deque(maxlen=_GAPS_KEPT)
        self._given = 0
        self._read = False
        self._thread = threading.Thread(target=self._run, name="microphone", daemon=True)

    def __enter__(self) -> Microphone:
        self._thread.start()
        if not self._opened.wait(_OPENING_S):
            self.close()
            raise NoMicrophone(message("voice-microphone-silent"))
        if self._problem is not None:
            raise self._problem
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Give the device back; `frames` ends after the blocks that wait."""
        self._stop.set()
        if self._thread.is_alive() and self._thread is not threading.current_thread():
            self._thread.join(5.0)
            if self._thread.is_alive():
                # A device that does not let go keeps the thread, but must not keep the reader of the blocks.
                self._out.put(None)

    @property
    def name(self) -> str:
        """The device that is or was last open."""
        return self._name

    @property
    def lost_s(self) -> float:
        """Seconds of sound lost so far because the tablet was too busy to take the blocks in time."""
        return self._out.lost * self._gate.block / RATE_HZ + self._lost_raw * _DEVICE_BLOCK_S

    def frames(self) -> Iterator[bytes]:
        """16 kHz mono int16 blocks of `block_s`, until `close`. For one reader.

        Over an unplugged device it waits; a hole in the sound is filled with silence that ends the utterance.
        While muted, silence flows in place of the sound, so that time in the stream goes on.
        """
        last = -1
        self._read = True
        while True:
            item = self._out.get()
            if item is None or item.value is None:
                return
            if item.value.gap or item.number != last + 1:
                self._gaps.append(self._given / RATE_HZ)
            last = item.number
            self._given += len(item.value.data) // 2
            yield item.value.data

    def whole(self, start_s: float, end_s: float) -> bool:
        """Whether the sound of `frames` has no hole between these seconds of the stream: nothing lost, nothing muted.

        What was heard across a hole may lack a word, and a reading without its last word is a wrong one: ask again.
        To be called by the reader of `frames`.
        """
        block_s = self._gate.block / RATE_HZ
        return not any(start_s < gap + block_s and gap < end_s for gap in self._gaps)

    def level(self) -> Level:
        """What the meter shows now."""
        return self._level

    def hold(self) -> None:
        """The button is down: sound flows, after a quarter second of silence.

        To cut off the tablet's voice, stop the voice first; its tail is then shortened.
        """
        self._gate.hold()

    def release(self) -> None:
        """The button is up: after a last moment the utterance is ended with silence, and nothing flows."""
        self._gate.release()

    @property
    def held(self) -> bool:
        """Whether the button is down."""
        return self._gate.held

    def mute(self) -> None:
        """The tablet begins to sound: silence flows instead. As many `unmute` must follow as `mute` went before."""
        self._gate.mute()

    def unmute(self, tail_s: float = MUTE_TAIL_S) -> None:
        """The tablet is quiet: sound flows again after `tail_s` and what the device still holds."""
        self._gate.unmute(tail_s)

    # --- the thread ---------------------------------------------------------------------------------------------------

    def _run(self) -> None:
        try:
            self._keep_open()
        finally:
            self._level = _NOTHING
            self._opened.set()
            self._out.put(None)

    def _keep_open(self) -> None:
        wait, gone = 0.0, False
        while not self._stop.wait(wait):
            raw: _Bounded[_Raw] = _Bounded(_RAW_BLOCKS)
            try:
                chosen = choose_input(self._driver.inputs(), self._device)
                stream = self._driver.open(chosen, _taker(raw))
            except NoMicrophone as problem:
                if not self._opened.is_set():
                    self._problem = problem
                    return
                wait = min(max(2 * wait, _FIRST_RETRY_S), _LAST_RETRY_S)
                continue
            self._name = chosen.name
            if isinstance(self._device, int) or (self._device or "").isdigit():
                self._device = chosen.name  # numbers change when devices come and go
            self._opened.set()
            try:
                heard_any = self._listen(stream, raw, gone)
            finally:
                stream.close()
            self._level = _NOTHING
            self._lost_raw += raw.lost
            if self._stop.is_set():
                return
            self._gate.interrupt()
            if heard_any or not gone:
                self._warn("gone", 0)
            gone = True
            wait = _FIRST_RETRY_S if heard_any else min(max(2 * wait, _FIRST_RETRY_S), _LAST_RETRY_S)

    def _listen(self, stream: Stream, raw: _Bounded[_Raw], back: bool) -> bool:
        """Pass on what the device gives until it ends; whether it gave anything."""
        convert = _Converter(stream.rate, stream.channels)
        self._gate.latency_s = stream.latency_s
        self._meter = _Meter()
        last, heard_any, alive = -1, False, time.monotonic()
        while not self._stop.is_set():
            item = raw.get(0.1)
            now = time.monotonic()
            if item is None:
                if not stream.active() or now - alive > STALL_S:
                    break
                continue
            if back and not heard_any:
                self._warn("back", 0)
            heard_any, alive = True, now
            if item.number != last + 1 or item.value.overflowed:
                self._gate.torn()
                self._warn_lost()
            last = item.number
            wide = np.frombuffer(item.value.data, dtype=np.int16).reshape(-1, stream.channels)
            self._level = self._meter.show(wide, item.value.at)
            self._warn_of(self._level)
            if self._gate.take(convert(wide), item.value.at):
                self._warn_lost()
        return heard_any

    def _warn_of(self, level: Level) -> None:
        if self._meter.clipping:
            self._warn("clipping")
        if level.dead and not self._meter.told_dead:
            self._meter.told_dead = True
            self._warn("dead", 0)
        elif self._meter.told_dead and not level.dead:
            self._meter.told_dead = False
            self._warn("alive", 0)

    def _warn_lost(self) -> None:
        if not self._read:
            return  # only the meter is looked at
        self._warn("lost")

    def _warn(self, what: str, again_s: float = _WARN_AGAIN_S) -> None:
        now = time.monotonic()
        if self._warn_with is None or now - self._warned.get(what, -math.inf) < again_s:
            return
        self._warned[what] = now
        # A screen that cannot show a warning must not end the listening.
        with contextlib.suppress(Exception):
            self._warn_with(message(f"voice-warn-{what}", name=self._name))


# --- between the threads ------------------------------------------------------------------------------------------

T = TypeVar("T")


@dataclass(frozen=True)
class _Numbered(Generic[T]):
    """An item with its place in the order: a jump in the numbers is a loss."""

    number: int
    value: T


class _Bounded(Generic[T]):
    """A queue from one thread to another in which putting never waits: when it is full the oldest goes."""

    def __init__(self, most: int) -> None:
        self._queue: queue.SimpleQueue[_Numbered[T]] = queue.SimpleQueue()
        self._most = most
        self._next = 0
        self.lost = 0

    def put(self, value: T) -> bool:
        """Whether something was lost for it."""
        lost = False
        if self._queue.qsize() >= self._most:
            with contextlib.suppress(queue.Empty):
                self._queue.get_nowait()
                self.lost += 1
                lost = True
        self._queue.put(_Numbered(self._next, value))
        self._next += 1
        return lost

    def get(self, timeout_s: float | None = None) -> _Numbered[T] | None:
        try:
            return self._queue.get(timeout=timeout_s)
        except queue.Empty:
            return None


@dataclass(frozen=True)
class _Raw:
    """A block from the device. at: when it came, by the monotonic clock, in s."""

    data: bytes
    at: float
    overflowed: bool


@dataclass(frozen=True)
class _Block:
    """A block for the recognizer. gap: sound is missing at its beginning or within."""

    data: bytes
    gap: bool


def _taker(raw: _Bounded[_Raw]) -> Callable[[bytes, bool], None]:
    def take(data: bytes, overflowed: bool) -> None:
        raw.put(_Raw(data, time.monotonic(), overflowed))

    return take


class _Converter:
    """Device blocks to 16 kHz mono, with the resampler's state kept from block to block."""

    def __init__(self, rate: int, channels: int) -> None:
        self._channels = channels
        self._resampler = soxr.ResampleStream(rate, RATE_HZ, 1, dtype="float32") if rate != RATE_HZ else None

    def __call__(self, wide: Samples) -> Samples:
        if self._resampler is None and self._channels == 1:
            return wide[:, 0]
        mono = wide.mean(axis=1, dtype=np.float32) / np.float32(32768)
        if self._resampler is not None:
            mono = self._resampler.resample_chunk(mono)
        samples: Samples = np.clip(np.rint(mono * 32768), -32768, 32767).astype(np.int16)
        return samples


class _Meter:
    """Levels over the last moments, clipping and digital silence, from blocks as the device gives them."""

    def __init__(self) -> None:
        self._recent: deque[tuple[float, Samples]] = deque()
        self._clips: deque[float] = deque(maxlen=_CLIPPED_BLOCKS)
        self._sounded: float | None = None
        self._now = 0.0
        self.told_dead = False

    def show(self, wide: Samples, at: float) -> Level:
        self._now = at
        if self._sounded is None or (wide.size and int(wide.min()) != int(wide.max())):
            self._sounded = at
        if _flat_tops(wide):
            self._clips.append(at)
        self._recent.append((at, wide))
        while self._recent[0][0] <= at - _METER_S:
            self._recent.popleft()
        peak, rms = level_of(np.concatenate([part.ravel() for _, part in self._recent]))
        clipped = bool(self._clips) and at - self._clips[-1] < _CLIP_SHOWN_S
        return Level(peak, rms, clipped, dead=at - self._sounded >= DEAD_S)

    @property
    def clipping(self) -> bool:
        """Clipped again and again within the last second."""
        return len(self._clips) == _CLIPPED_BLOCKS and self._now - self._clips[0] < _CLIP_SHOWN_S


def _flat_tops(wide: Samples) -> bool:
    """Three samples of a channel in a row at full scale; a clean sine of speech frequency touches it once."""
    full = (wide >= _FULL_SCALE) | (wide <= -_FULL_SCALE)
    return len(full) > 2 and bool((full[2:] & full[1:-1] & full[:-2]).any())


class _Gate:
    """What of the sound flows on: all, what is held, or silence while the tablet sounds. Times are monotonic, in s."""

    def __init__(self, out: _Bounded[_Block | None], block: int, *, hold_to_talk: bool) -> None:
        self.block = block
        self.latency_s = 0.0
        self._out = out
        self._hold_to_talk = hold_to_talk
        self._lock = threading.Lock()
        self._held = False
        self._held_until = -math.inf
        self._mutes = 0
        self._muted_until = -math.inf
        # The rest is the microphone's thread's own.
        self._pending = np.zeros(0, dtype=np.int16)
        self._flowing = not hold_to_talk
        self._muted = False
        self._gap = False

    @property
    def held(self) -> bool:
        return self._held

    def hold(self) -> None:
        with self._lock:
            self._held = True
            self._muted_until = min(self._muted_until, time.monotonic() + self.latency_s + BARGE_IN_S)

    def release(self) -> None:
        with self._lock:
            if self._held:
                self._held_until = time.monotonic() + self.latency_s + RELEASE_TAIL_S
            self._held = False

    def mute(self) -> None:
        with self._lock:
            self._mutes += 1

    def unmute(self, tail_s: float) -> None:
        with self._lock:
            if self._mutes:
                self._mutes -= 1
                self._muted_until = max(self._muted_until, time.monotonic() + self.latency_s + tail_s)

    def take(self, samples: Samples, at: float) -> bool:
        """Pass on a block that came at `at`; whether older ones were lost for it."""
        with self._lock:
            muted = self._mutes > 0 or at < self._muted_until
            flowing = not self._hold_to_talk or self._held or at < self._held_until
        lost = False
        if flowing:
            if muted != self._muted:
                self._gap = True
            if not self._flowing:
                lost |= self._pass(_silence(LEAD_IN_S))
            lost |= self._pass(np.zeros_like(samples) if muted else samples)
        elif self._flowing:
            lost |= self._end()
        self._flowing, self._muted = flowing, muted
        return lost

    def torn(self) -> None:
        """Sound is missing before the next block."""
        self._gap = True

    def interrupt(self) -> None:
        """The device is gone: what was being said ends here, broken."""
        if self._flowing:
            self._gap = True
            self._end()
        self._flowing = not self._hold_to_talk

    def _end(self) -> bool:
        lost = self._pass(_silence(END_S))
        rest = self._pending
        return self._pass(np.zeros(self.block - len(rest), dtype=np.int16)) | lost if len(rest) else lost

    def _pass(self, samples: Samples) -> bool:
        lost = False
        self._pending = np.concatenate([self._pending, samples])
        while len(self._pending) >= self.block:
            data, self._pending = self._pending[: self.block], self._pending[self.block :]
            lost |= self._out.put(_Block(data.astype("<i2").tobytes(), self._gap))
            self._gap = False
        return lost


def _silence(seconds: float) -> Samples:
    return np.zeros(round(seconds * RATE_HZ), dtype=np.int16)


# --- PortAudio ----------------------------------------------------------------------------------------------------


class _Library:
    """The one PortAudio of this process. It is not made for several threads, and it looks for devices only when it
    starts, which ends every stream: so calls are locked, and it starts again only while nothing is open."""

    def __init__(self) -> None:
        self.lock = threading.RLock()
        self.streams = 0
        self._loaded: Any = None

    def load(self) -> Any:
        """sounddevice. `NoMicrophone` when it or PortAudio is missing."""
        with self.lock:
            if self._loaded is None:
                try:
                    import sounddevice
                except ImportError as error:
                    raise NoMicrophone(message("voice-no-sounddevice")) from error
                except OSError as error:
                    raise NoMicrophone(message("voice-no-portaudio")) from error
                self._loaded = sounddevice
            return self._loaded

    def look_again(self) -> None:
        """Let devices that came or went be seen."""
        with self.lock:
            library = self.load()
            if not self.streams:
                # sounddevice has no public name for it; a failure leaves the list as it was.
                with contextlib.suppress(library.PortAudioError):
                    library._terminate()
                    library._initialize()


PORTAUDIO = _Library()


class PortAudio:
    """Microphones through PortAudio."""

    def inputs(self) -> tuple[SoundInput, ...]:
        """The devices of this moment, as far as PortAudio can look again."""
        with PORTAUDIO.lock:
            library = PORTAUDIO.load()
            PORTAUDIO.look_again()
            try:
                default = int(library.query_devices(kind="input")["index"])
            except (library.PortAudioError, ValueError):
                default = -1
            try:
                devices = list(library.query_devices())
            except library.PortAudioError:
                devices = []
        return tuple(
            SoundInput(
                str(d["name"]),
                int(d["index"]),
                round(d["default_samplerate"]),
                int(d["index"]) == default,
                int(d["max_input_channels"]),
            )
            for d in devices
            if d["max_input_channels"] > 0
        )

    def open(self, chosen: SoundInput, take: Callable[[bytes, bool], None]) -> Stream:
        """Start a device, at 16 kHz in one channel where it can, at its own rate and channels where it must."""
        with PORTAUDIO.lock:
            library = PORTAUDIO.load()
            why = ""
            for rate in dict.fromkeys((RATE_HZ, chosen.rate)):
                for channels in dict.fromkeys((1, min(chosen.channels, 32))):
                    try:
                        return _PortAudioStream(library, chosen.index, rate, channels, take)
                    except (library.PortAudioError, ValueError) as error:
                        why = str(error)
        raise NoMicrophone(message("voice-microphone-closed", name=chosen.name, why=why))


class _PortAudioStream:
    def __init__(self, library: Any, index: int, rate: int, channels: int, take: Callable[[bytes, bool], None]) -> None:
        self.rate, self.channels = rate, channels

        def callback(data: Any, count: int, times: Any, status: Any) -> None:  # noqa: ARG001 (PortAudio's signature)
            take(bytes(data), bool(status.input_overflow))

        self._library = library
        self._stream = library.RawInputStream(
            samplerate=rate,
            blocksize=round(rate * _DEVICE_BLOCK_S),
            device=index,
            channels=channels,
            dtype="int16",
            callback=callback,
        )
        try:
            self._stream.start()
        except BaseException:
            self._stream.close()
            raise
        PORTAUDIO.streams += 1
        self.latency_s = float(self._stream.latency)

    def active(self) -> bool:
        return bool(self._stream.active)

    def close(self) -> None:
        with PORTAUDIO.lock:
            PORTAUDIO.streams -= 1
            for end in (self._stream.abort, self._stream.close):
                # A device that was pulled out may answer anything; it is gone either way.
                with contextlib.suppress(self._library.PortAudioError):
                    end()
