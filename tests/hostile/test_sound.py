"""Recordings that claim too much."""

from __future__ import annotations

import struct
from pathlib import Path

import numpy as np
import soundfile

from tests.hostile.bounded import MOST_MB, MOST_S, answered_apart


def wav(path: Path, rate: int, seconds: float, *, claimed: float | None = None) -> Path:
    """Silence of 16 bits on a sparse disk; claimed: how long its header says that it is [s]."""
    size = int(rate * (seconds if claimed is None else claimed)) * 2
    path.write_bytes(
        b"RIFF"
        + struct.pack("<L", (36 + size) % 2**32)
        + b"WAVEfmt "
        + struct.pack("<LHHLLHH", 16, 1, 1, rate, (2 * rate) % 2**32, 2, 16)
        + b"data"
        + struct.pack("<L", size % 2**32)
    )
    with path.open("r+b") as file:
        file.truncate(44 + int(rate * seconds) * 2)
    return path


def long_flac(path: Path, minutes: int) -> Path:
    with soundfile.SoundFile(path, "w", 16_000, 1) as file:
        for _ in range(minutes):
            file.write(np.zeros(16_000 * 60, np.int16))
    return path


def test_no_recording_takes_more_memory_or_time_than_is_given(tmp_path: Path) -> None:
    wanted = {
        long_flac(tmp_path / "twenty minutes.flac", 20): "taken",
        long_flac(tmp_path / "an hour.flac", 60): "voice-too-long",
        wav(tmp_path / "four hours.wav", 16_000, 3.9 * 3600): "voice-too-long",
        # One sample a second: a second of it is 16,000 samples here.
        wav(tmp_path / "slow.wav", 1, 1100): "voice-sample-rate",
        wav(tmp_path / "fast.wav", 2**31 - 1, 1e-5): "voice-sample-rate",
        wav(tmp_path / "lies.wav", 16_000, 1.0, claimed=1000.0): "taken",
    }
    for (path, told), answer in zip(wanted.items(), answered_apart("sound", list(wanted)), strict=True):
        assert answer.told == told, path.name
        assert answer.megabytes < MOST_MB, (path.name, answer)
        assert answer.seconds < MOST_S, (path.name, answer)
