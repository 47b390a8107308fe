"""Sound from a file or a raw stream, as the recognizer wants it: 16 kHz, one channel, 16-bit samples.

Levels are in dB relative to the overload point (dBov): a full-scale square wave is 0 dBov and a full-scale
sine -3.01 dBov, as ITU-T G.100.1 defines it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path
from typing import IO, Any

import numpy as np
import numpy.typing as npt
import soundfile
import soxr

from fieldassist.trade.message import Message, Refused, message
from fieldassist.trade.quantities import Quantity

RATE_HZ = 16_000
SHORTEST_S = 0.2
LONGEST_S = 20 * 60.0
_LOWEST_HZ, _HIGHEST_HZ = 4_000, 384_000

_BLOCK = 1024  # source frames at a time: what a damaged file still holds is kept to within one block
_FULL_SCALE = 32766 / 32768
_FLAT_TOP = 3  # samples in a row at full scale; a clean sine of speech frequency touches it once
_SPEECH_FRAME_S = 0.02
_FRAMES_AT_ONCE = 3000
_SPEECH_OVER_FLOOR_DB = 6.0
# Only what a gate or a muted microphone leaves lies below: soft voices at some distance lie 30 dB above.
_SPEECH_LEAST_DBOV = -75.0
_CANCELLED_DB = 9.0
_MOST_OVER = 8.0  # times full scale: a file of floats may hold any number

Samples = npt.NDArray[np.int16]


class AudioProblem(Refused):
    """A recording or stream cannot be used; `told` says why and what to do."""


@dataclass(frozen=True, eq=False)
class Clip:
    """One recording, ready for the recognizer.

    samples: int16, one channel, 16 kHz; seconds: its length; loudness_dbfs: RMS level of the parts that stand
    out of the background, in dB below full scale (dBov, so never above 0; -inf for digital silence);
    clipped: the source was recorded too loud and has flat tops; note: what was wrong with the file, if
    something was and the rest could be kept.
    """

    samples: Samples
    seconds: float
    loudness_dbfs: float
    clipped: bool
    note: Message | None = None


def read_audio(path: Path) -> Clip:
    """Read a recording of any rate and channel count: WAV, FLAC, OGG, AIFF, MP3, all that libsndfile knows.

    Channels are averaged; where they cancel each other (one wired with reversed polarity) the loudest is
    taken. A file that ends early is read as far as it is whole, with a `note`, if that is at least 0.2 s.
    It is read block by block: besides the clip itself (2 bytes a sample) only one block is in memory.

    path: the file. Returns: a `Clip`.
    Errors: `AudioProblem` when the file is missing, is not audio, holds no sound, is damaged before the first
    0.2 s, is longer than 20 minutes, or has a rate outside 4,000 to 384,000 Hz.

    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as folder:
    ...     file = Path(folder) / "tone.wav"
    ...     soundfile.write(file, np.zeros((44100, 2)), 44100)
    ...     read_audio(file).seconds
    1.0
    """
    path = Path(path)
    if not path.exists():
        raise AudioProblem(message("voice-no-recording", file=path.name))
    if not path.is_file():
        raise AudioProblem(message("voice-no-file", file=path.name))
    if path.stat().st_size == 0:
        raise AudioProblem(message("voice-empty-recording", file=path.name))
    read = _read_through(path, None)
    if read.cancelled is not None:
        read = _read_through(path, read.cancelled)
    whole = read.whole and not _container_cut_short(path)
    samples = read.samples
    seconds = len(samples) / RATE_HZ
    if not len(samples) and whole:
        raise AudioProblem(message("voice-soundless-recording", file=path.name))
    if not whole and seconds < SHORTEST_S:
        raise AudioProblem(message("voice-damaged-recording", file=path.name, least=_seconds(SHORTEST_S)))
    note = None if whole else message("voice-ends-early", file=path.name, read=_seconds(round(seconds, 1)))
    return Clip(samples, seconds, loudness_dbov(samples), read.clipped, note)


def _seconds(seconds: float) -> Quantity:
    return Quantity(Fraction(repr(float(seconds))), "s", 1)


def clip_of(samples: Samples, note: Message | None = None) -> Clip:
    """A `Clip` of 16 kHz int16 samples that are already at hand.

    >>> clip_of(np.zeros(8000, dtype=np.int16)).seconds
    0.5
    """
    flat = _flat_tops((samples / np.float32(32768)).astype(np.float32)[:, None]) > 0
    return Clip(samples, len(samples) / RATE_HZ, loudness_dbov(samples), flat, note)


def frames(clip: Clip, block: int = 4000) -> Iterator[bytes]:
    """The clip as little-endian int16 blocks of `block` samples (the last may be shorter).

    >>> [len(part) for part in frames(clip_of(np.zeros(5000, dtype=np.int16)))]
    [8000, 2000]
    """
    if block < 1:
        raise ValueError("a block has at least one sample")
    for start in range(0, len(clip.samples), block):
        yield clip.samples[start : start + block].astype("<i2").tobytes()


def pcm_stream(fileobj: IO[bytes], rate: int = RATE_HZ, channels: int = 1, block: int = 4000) -> Iterator[bytes]:
    """A raw stream of little-endian int16 samples, channels interleaved, as 16 kHz mono blocks.

    Memory is bounded: `block` source frames are read at a time. A last broken sample is dropped.

    fileobj: anything with `read(n)`, a pipe too; rate: Hz of the stream, 4,000 to 384,000; channels: 1 to 32;
    block: source frames a read. Yields: bytes of 16 kHz mono int16.
    Errors: `AudioProblem` for a rate or channel count outside these limits.

    >>> import io
    >>> sum(len(part) for part in pcm_stream(io.BytesIO(bytes(4 * 48000)), rate=48000, channels=2)) // 2
    16000
    """
    if not _LOWEST_HZ <= rate <= _HIGHEST_HZ:
        raise AudioProblem(message("voice-sample-rate", rate=str(rate)))
    if not 1 <= channels <= 32:
        raise AudioProblem(message("voice-channels", channels=channels))
    if block < 1:
        raise ValueError("a block has at least one frame")
    resampler = soxr.ResampleStream(rate, RATE_HZ, 1, dtype="float32") if rate != RATE_HZ else None
    size = 2 * channels
    rest = b""
    while True:
        data = fileobj.read(block * size)
        joined = rest + (data or b"")
        usable = len(joined) - len(joined) % size
        rest = joined[usable:]
        wide = np.frombuffer(joined[:usable], dtype="<i2").reshape(-1, channels)
        mono = wide.mean(axis=1, dtype=np.float32) / np.float32(32768)
        if resampler is not None:
            mono = resampler.resample_chunk(mono, last=not data)
        if len(mono):
            yield _to_int16(mono).astype("<i2").tobytes()
        if not data:
            return


def speech_seconds(clip: Clip) -> float:
    """How long the clip stands out of its own background: frames of 20 ms at least 6 dB over the quiet tenth.

    Level alone decides, so a bang counts; a steady tone or hum does not.

    >>> speech_seconds(clip_of(np.zeros(16000, dtype=np.int16)))
    0.0
    """
    return float(np.count_nonzero(_active(_frame_levels(clip.samples)))) * _SPEECH_FRAME_S


def without_silence(clip: Clip, margin_s: float = 0.15) -> Clip:
    """The clip without the silence before and after its speech, but for a margin [s] in which soft sounds may lie.

    A clip in which nothing stands out is returned as it is.

    >>> tone = (8000 * np.sin(np.arange(8000))).astype(np.int16)
    >>> quiet = np.zeros(32000, dtype=np.int16)
    >>> without_silence(clip_of(np.concatenate([quiet, tone, quiet]))).seconds
    0.8
    """
    active = np.flatnonzero(_active(_frame_levels(clip.samples)))
    if not len(active):
        return clip
    size, margin = int(_SPEECH_FRAME_S * RATE_HZ), round(margin_s * RATE_HZ)
    first, last = int(active[0]) * size - margin, (int(active[-1]) + 1) * size + margin
    samples = clip.samples[max(0, first) : last]
    return replace(clip, samples=samples, seconds=len(samples) / RATE_HZ)


def is_silent(clip: Clip, least_s: float = 0.1) -> bool:
    """Whether nothing in the clip stands out of its background for `least_s` seconds altogether.

    >>> is_silent(clip_of(np.zeros(16000, dtype=np.int16)))
    True
    """
    return speech_seconds(clip) < least_s


def loudness_dbov(samples: Samples) -> float:
    """RMS level in dBov of the 20 ms frames that stand out of the background, or of everything if none does.

    References: ITU-T G.100.1 (dBov).

    >>> sine = (32767 * np.sin(2 * np.pi * 1000 * np.arange(16000) / 16000)).astype(np.int16)
    >>> round(loudness_dbov(sine), 1)
    -3.0
    """
    levels = _frame_levels(samples)
    active = _active(levels)
    chosen = levels[active] if active.any() else levels
    power = float(np.mean(10 ** (chosen / 10))) if len(chosen) else 0.0
    return 10 * float(np.log10(power)) if power > 1e-15 else float("-inf")


@dataclass(frozen=True, eq=False, slots=True)
class _Read:
    """A file read through: 16 kHz samples, whether there are flat tops, whether it could be read to its end; the
    loudest channel where the channels cancel each other in their mean."""

    samples: Samples
    clipped: bool
    whole: bool
    cancelled: int | None


def _read_through(path: Path, channel: int | None) -> _Read:
    """One channel of a file, or the mean of all for None."""
    try:
        source = soundfile.SoundFile(path)
    except (soundfile.LibsndfileError, OSError, ValueError) as error:
        raise AudioProblem(message("voice-no-audio", file=path.name)) from error
    with source:
        return _read_blocks(source, path.name, channel)


def _read_blocks(source: Any, name: str, channel: int | None) -> _Read:
    rate, count, declared = int(source.samplerate), int(source.channels), int(source.frames)
    # The fewer samples a second, the more come of one; a telephone's are 8,000.
    if not _LOWEST_HZ <= rate <= _HIGHEST_HZ:
        raise AudioProblem(message("voice-sample-rate", rate=str(rate)))
    longest = Quantity(Fraction(round(LONGEST_S)) / 60, "min")
    too_long = AudioProblem(message("voice-too-long", file=name, longest=longest))
    if declared < 2**62 and declared / rate > LONGEST_S:
        raise too_long
    resampler = soxr.ResampleStream(rate, RATE_HZ, 1, dtype="float32") if rate != RATE_HZ else None
    parts: list[Samples] = []
    energy, mean_energy = np.zeros(count), 0.0
    flat, got, whole = 0, 0, True
    while True:
        try:
            block = source.read(_BLOCK, dtype="float32", always_2d=True)
        except soundfile.LibsndfileError:
            block, whole = np.zeros((0, count), np.float32), False
        got += len(block)
        if got / rate > LONGEST_S:
            raise too_long
        block = np.clip(np.nan_to_num(block, nan=0.0, posinf=1.0, neginf=-1.0), -_MOST_OVER, _MOST_OVER)
        flat += _flat_tops(block)
        mono = block.mean(axis=1) if channel is None else block[:, channel]
        energy += np.sum(block.astype(np.float64) ** 2, axis=0)
        mean_energy += float(np.sum(mono.astype(np.float64) ** 2))
        parts.append(_to_int16(mono if resampler is None else resampler.resample_chunk(mono, last=not len(block))))
        if not len(block):
            break
    if got < declared < 2**62:
        whole = False
    cancelled = channel is None and mean_energy < float(np.max(energy)) * 10 ** (-_CANCELLED_DB / 10)
    return _Read(np.concatenate(parts), flat > 0, whole, int(np.argmax(energy)) if cancelled else None)


def _flat_tops(block: npt.NDArray[np.float32]) -> int:
    """How many samples continue a run of at least three at full scale."""
    full = np.abs(block) >= _FULL_SCALE
    if len(full) < _FLAT_TOP:
        return 0
    run = full[2:] & full[1:-1] & full[:-2]
    return int(np.count_nonzero(run))


def _to_int16(samples: npt.NDArray[np.float32]) -> Samples:
    return np.clip(np.rint(samples * 32768), -32768, 32767).astype(np.int16)


def _frame_levels(samples: Samples) -> npt.NDArray[np.float64]:
    """Level of each 20 ms frame in dBov, less its mean (a microphone's offset); -200 for digital silence."""
    size = int(_SPEECH_FRAME_S * RATE_HZ)
    count = len(samples) // size
    framed = samples[: count * size].reshape(count, size)
    power = np.zeros(count)
    # Some at a time: as floating point the whole of a long recording takes many times its own memory.
    for start in range(0, count, _FRAMES_AT_ONCE):
        some = slice(start, start + _FRAMES_AT_ONCE)
        power[some] = (framed[some].astype(np.float64) / 32768).var(axis=1)
    levels: npt.NDArray[np.float64] = 10 * np.log10(np.maximum(power, 1e-20))
    return levels


def _active(levels: npt.NDArray[np.float64]) -> npt.NDArray[np.bool_]:
    if not len(levels):
        return np.zeros(0, dtype=np.bool_)
    floor = float(np.percentile(levels, 10))
    active: npt.NDArray[np.bool_] = levels >= max(_SPEECH_LEAST_DBOV, floor + _SPEECH_OVER_FLOOR_DB)
    return active


def _container_cut_short(path: Path) -> bool:
    """Whether a RIFF or IFF file is shorter than its header says: libsndfile reads those without a word."""
    with path.open("rb") as file:
        head = file.read(12)
    if head[:4] == b"RIFF" and head[8:12] == b"WAVE":
        declared = int.from_bytes(head[4:8], "little")
    elif head[:4] == b"FORM" and head[8:12] in (b"AIFF", b"AIFC"):
        declared = int.from_bytes(head[4:8], "big")
    else:
        return False
    # Programs that write into a pipe cannot know the length and put in a number near the largest.
    return declared < 0x7FFF_0000 and declared + 8 > path.stat().st_size
