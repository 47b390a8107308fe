"""Noise of tools and of a radio for the benchmark, invented from first principles, not recorded; no training hears it.

Each gives `count` samples of unit power at 16 kHz.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import numpy.typing as npt

from fieldassist.voice.audio import RATE_HZ

Floats = npt.NDArray[np.float64]


def _unit(sound: Floats) -> Floats:
    return np.asarray(sound / np.sqrt((sound**2).mean()))


def _shaped(count: int, random: np.random.Generator, hz: list[float], db: list[float]) -> Floats:
    """Hiss whose spectrum runs through these points."""
    spectrum = np.fft.rfft(random.standard_normal(count))
    at = np.fft.rfftfreq(count, 1 / RATE_HZ)
    return _unit(np.fft.irfft(spectrum * 10 ** (np.interp(at, hz, db) / 20), count))


def _drifting(count: int, random: np.random.Generator, low_hz: float, high_hz: float, every_s: float) -> Floats:
    """Turns of something whose speed wanders between two frequencies."""
    knots = max(2, round(count / RATE_HZ / every_s) + 2)
    speed = np.interp(np.linspace(0, knots - 1, count), np.arange(knots), random.uniform(low_hz, high_hz, knots))
    return np.asarray(np.cumsum(speed) / RATE_HZ)


def grinder(count: int, random: np.random.Generator) -> Floats:
    """An angle grinder with a diamond disc: hiss between 2 and 7 kHz that comes and goes with the hand's pressure, and
    the gear's whine: 9,000 turns a minute sink to 7,500 under load."""
    turns = _drifting(count, random, 125, 150, 0.5)
    whine = sum(np.sin(2 * np.pi * part * turns) / part for part in (1, 2, 3, 11, 22))
    load = 0.35 + 0.65 * np.clip(np.sin(2 * np.pi * _drifting(count, random, 0.5, 1.5, 1.0)) + 0.4, 0, 1)
    hiss = _shaped(count, random, [0, 600, 2000, 4000, 7000, 8000], [-30, -15, 0, 3, 0, -6])
    return _unit(hiss * load + 0.5 * _unit(np.asarray(whine)))


def compressor(count: int, random: np.random.Generator) -> Floats:
    """A piston compressor: some 17 strokes a second, each a thump with rattle behind it, over a motor's hum."""
    turns = _drifting(count, random, 16.5, 17.5, 2.0)
    since = (turns % 1) / 17.0  # s since the last stroke
    thump = np.exp(-since * 90) * np.sin(2 * np.pi * 75 * since)
    rattle = np.exp(-since * 60) * _shaped(count, random, [0, 300, 900, 2500, 8000], [-30, -6, 0, -8, -25])
    hum = sum(np.sin(2 * np.pi * 60 * part * np.arange(count) / RATE_HZ) / part for part in (1, 2, 4, 6))
    return _unit(_unit(thump) + 0.8 * _unit(rattle) + 0.4 * _unit(np.asarray(hum)))


def radio(count: int, random: np.random.Generator) -> Floats:
    """A radio's music: chords of plucked strings, a bass, and drums four to the bar, as a small speaker gives them.

    No voice: talk is measured by itself.
    """
    beat_s = 60 / random.uniform(90, 130)
    out = np.zeros(count)
    length = RATE_HZ
    time = np.arange(length) / RATE_HZ
    start, beat = 0.0, 0
    root = 110.0 * 2 ** (float(random.integers(0, 12)) / 12)
    while start * RATE_HZ < count:
        if beat % 4 == 0:
            root = 110.0 * 2 ** (float(random.choice([0, 5, 7, 9])) / 12) * (1 if root < 200 else 0.5)
        strings = [root * 2 ** (step / 12) for step in (12, 16, 19, 24)]
        note = sum(
            np.sin(2 * np.pi * part * tone * time) * np.exp(-time * (2 + part)) / part
            for tone in strings
            for part in range(1, 7)
        )
        note = note + 2 * np.sin(2 * np.pi * root * time) * np.exp(-4 * time)
        drum = random.standard_normal(length) * np.exp(-time * (25 if beat % 2 else 60)) * (4 if beat % 2 else 2)
        place = round(start * RATE_HZ)
        size = min(length, count - place)
        out[place : place + size] += (np.asarray(note) + drum)[:size]
        start, beat = start + beat_s / 2, beat + 1
    spectrum = np.fft.rfft(out)
    at = np.fft.rfftfreq(count, 1 / RATE_HZ)
    speaker = np.interp(at, [0, 80, 250, 4000, 6500, 8000], [-40, -20, 0, 0, -12, -30])
    return _unit(np.fft.irfft(spectrum * 10 ** (speaker / 20), count))


KINDS: dict[str, Callable[[int, np.random.Generator], Floats]] = {
    "grinder": grinder,
    "compressor": compressor,
    "radio": radio,
}
