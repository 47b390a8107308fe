"""Speech as it is heard on a site: in rooms, beside tools and other people's talk, through masks and poor microphones.

All noise is made here, from a seed; nothing is recorded. The tools are models of what one hears of them, not of the
machines: a tone that follows the speed, its harmonics, the hiss of the cut, load that comes and goes. Speech stays
where it was placed through all of it (direct sound comes first in every room, filters have no delay), so that phone
times stay right.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable
from typing import Any, Final

import numpy as np
import numpy.typing as npt

from models.build.speech_sets import RATE_HZ

Floats = npt.NDArray[np.float32]
Reals = npt.NDArray[np.floating[Any]]  # of either width, on the way
Random = np.random.Generator

SNR_DB = (-4.0, 30.0)
"""Speech to noise, both as they reach the microphone; drawn evenly."""
CLEAN = 0.12
"""Share of utterances with nothing but a little hiss."""

_LOUD_DB, _QUIET_DB = (-26.0, -1.0), (-45.0, -26.0)  # of full scale: the peak of most sounds, and of a quarter of them
_GATED = 0.1  # share of sounds with nothing at all, digital silence, where nobody speaks
_FULL = 32767.0
_NOISE_S = 12
_FLOORS = 8  # the first of the noises: plain hiss, which also serves as the microphone's own
_ROOMS = 150
_CONTROL_HZ = 100  # speed and load of a tool change slowly: that is how often they are reckoned
_TOP_HZ = 7600.0  # no harmonics above
_TURN = 4096  # samples in the table of one turn of a tool
_ACTIVE_FRAME = 320
_TAIL = 512  # room for a filter's ringing, so that the end does not sound at the beginning

# Lengths that fast Fourier transforms are quick for.
_QUICK = sorted(2**a * 3**b * 5**c for a in range(20) for b in range(7) for c in range(4) if 2**a * 3**b * 5**c < 2**20)


class Augmenter:
    """Makes what a microphone may hear of an utterance; the same seed and calls give the same sounds.

    seed: of noises and rooms, which are made here (about a second), and of every draw after. speech: int16 samples,
    many utterances one after another, of which other people's talk is mixed; None for none.
    """

    def __init__(self, seed: int, speech: npt.NDArray[np.int16] | None = None) -> None:
        self._random = np.random.default_rng(seed)
        self._noises = _noises(self._random, speech)
        self._rooms = [_room(self._random) for _ in range(_ROOMS)]
        self.placed = 0
        """The sample of the last result at which the utterance begins."""

    def make(self, samples: npt.NDArray[np.int16], length: int) -> Floats:
        """The utterance somewhere in `length` samples of sound: float32, within the range of int16.

        Errors: `ValueError` if it is longer than that, or has no samples.
        """
        random = self._random
        if not 0 < len(samples) <= length:
            raise ValueError(f"{len(samples)} samples do not fit into {length}")
        self.placed = int(random.integers(0, length - len(samples) + 1))
        sound: Floats = np.zeros(length, np.float32)
        sound[self.placed : self.placed + len(samples)] = samples
        peak = np.float32(_FULL * _gain(random.uniform(*(_LOUD_DB if random.random() < 0.75 else _QUIET_DB))))
        if random.random() < _GATED:
            return self._gated(_to_peak(sound, peak))
        if random.random() < CLEAN:
            return self._with_hiss(_to_peak(sound, peak), -10, 24)
        sound = self._said(sound)
        if random.random() < 0.8:
            sound = self.noisy(sound)
        sound = _to_peak(_filtered(sound, self._channel), peak)
        if random.random() < 0.12:
            sound = _clipped(random, sound, peak)
        kind = random.random()
        if kind < 0.06:  # eight bits, as of old recorders
            sound = (np.round(sound / 256) * 256).astype(np.float32)
        elif kind < 0.16:
            sound = _by_telephone(sound)
        return self._with_hiss(sound, -10, 32)

    def _gated(self, sound: Floats) -> Floats:
        """Nothing but the speech: exact zeros around it, and often in its pauses, as from a gate or an editor."""
        random = self._random
        if random.random() < 0.5:
            sound = _filtered(sound, self._channel)
            sound[: self.placed] = 0
        if random.random() < 0.7:
            size = int(random.integers(80, 800))
            loud = np.array([abs(sound[at : at + size]).max() for at in range(0, len(sound), size)])
            kept = loud > loud.max() * _gain(random.uniform(-50, -25))
            sound = sound * np.repeat(kept, size)[: len(sound)]
        return np.round(np.clip(sound, -_FULL, _FULL)).astype(np.float32)

    def noisy(self, speech: Floats) -> Floats:
        """Speech with one noise or two beside it, at a ratio drawn from `SNR_DB`."""
        random = self._random
        noise = self._cut(len(speech))
        if random.random() < 0.2:
            noise = noise + self._cut(len(speech)) * np.float32(_gain(random.uniform(-12, 0)))
        wanted = active_rms(speech) * _gain(-random.uniform(*SNR_DB))
        return speech + noise * np.float32(wanted / max(_rms(noise), 1e-6))

    def noise(self, length: int) -> Floats:
        """One noise, of any kind, at a level of one."""
        cut = self._cut(length)
        return cut / np.float32(max(_rms(cut), 1e-6))

    def _cut(self, length: int, kinds: int | None = None) -> Floats:
        """A piece of one of the noises, from anywhere in it; a noise that is too short begins again."""
        noise = self._noises[int(self._random.integers(kinds or len(self._noises)))]
        start = int(self._random.integers(len(noise)))
        if start + length <= len(noise):
            return noise[start : start + length]
        return np.take(noise, np.arange(start, start + length), mode="wrap")

    def _with_hiss(self, sound: Floats, low_db: float, high_db: float) -> Floats:
        """The microphone's own noise, in dB over one step of the converter."""
        hiss = self._cut(len(sound), _FLOORS) * np.float32(_gain(self._random.uniform(low_db, high_db)))
        return np.clip(sound + hiss, -_FULL, _FULL).astype(np.float32)

    def _said(self, sound: Floats) -> Floats:
        """Speech in a room, and through a respirator, each only sometimes."""
        random = self._random
        room = self._rooms[int(random.integers(_ROOMS))] if random.random() < 0.5 else None
        muffled = random.random() < 0.2
        if room is None and not muffled:
            return sound
        size = _quick_size(len(sound) + (len(room) if room is not None else _TAIL))
        spectrum = np.fft.rfft(sound, size)
        if room is not None:
            spectrum *= np.fft.rfft(room, size)
        if muffled:
            spectrum *= _response(self._respirator, len(spectrum))
        return np.fft.irfft(spectrum, size)[: len(sound)].astype(np.float32)

    def _respirator(self, hz: Reals) -> Reals:
        """Consonants lose most behind a filter: a shelf that sinks from some place between 1 and 3 kHz."""
        bend, depth = self._random.uniform(1000, 3000), self._random.uniform(3, 14)
        return _gains(-depth / (1 + (bend / np.maximum(hz, 1)) ** 2))

    def _channel(self, hz: Reals) -> Reals:
        """A microphone and what is behind it: uneven, often without lows, sometimes without highs."""
        random = self._random
        gain = np.ones_like(hz)
        if random.random() < 0.6:
            knots = [0, *np.sort(random.uniform(100, 7800, int(random.integers(2, 7)))), 8000]
            gain *= _gains(np.interp(hz, knots, random.standard_normal(len(knots)) * 4))
        if random.random() < 0.5:
            gain *= _low_cut(hz, random.uniform(50, 350), int(random.integers(1, 4)))
        kind = random.random()
        if kind < 0.35:  # telephones and radios
            gain *= _high_cut(hz, random.uniform(3000, 4000), int(random.integers(8, 40)))
        elif kind < 0.45:
            gain *= _high_cut(hz, random.uniform(4000, 7500), int(random.integers(3, 20)))
        return gain


def active_rms(sound: Floats) -> float:
    """Level of speech: over those 20 ms that are within 30 dB of the loudest, so that pauses do not count."""
    powers = _powers(sound)
    return float(np.sqrt(powers[powers >= powers.max() * 1e-3].mean()))


def _powers(sound: Floats) -> Reals:
    whole = len(sound) // _ACTIVE_FRAME * _ACTIVE_FRAME
    if not whole:
        return np.array([np.mean(sound**2)])
    powers: Reals = np.square(sound[:whole]).reshape(-1, _ACTIVE_FRAME).mean(axis=1)
    return powers


# What one hears beside speech. Each is made for a number of samples; `_level` brings it to a level of one.


def coloured(random: Random, samples: int, slope: float) -> Floats:
    """Noise whose power falls with frequency to the power of `slope`: 0 white, 1 pink, 2 brown."""
    return _shaped(random, samples, lambda hz: np.maximum(hz, 1) ** (-slope / 2))


def uneven(random: Random, samples: int) -> Floats:
    """Noise with hills and valleys over frequency: fans, rain, traffic, a compressor next door."""
    hills = random.standard_normal(12) * 1.2
    slope = random.uniform(0, 1.5)
    return _shaped(
        random,
        samples,
        lambda hz: np.maximum(hz, 1) ** (-slope / 2) * np.exp(np.interp(hz, np.linspace(0, 8000, 12), hills)),
    )


def clicks(random: Random, samples: int) -> Floats:
    """Knocks of many lengths over a little noise."""
    sound = coloured(random, samples, 1) * np.float32(0.05)
    for at in _moments(random, samples, 2, 7):
        length = int(random.integers(200, 4000))
        _add(sound, at, random.standard_normal(length) * _decay(length, length / 5) * random.uniform(0.2, 1))
    return _level(sound)


def hum(random: Random, samples: int) -> Floats:
    """Mains hum with its harmonics, over noise."""
    turns = random.choice([50, 60, 100, 120]) * np.arange(samples) / RATE_HZ
    sound = _tone(random, turns, random.random(8))
    return _level(sound + coloured(random, samples, 0.7) * random.uniform(0.1, 1))


def power_tool(random: Random, samples: int) -> Floats:
    """Some machine: many harmonics of an unsteady tone and noise that swells with its turns; often on and off."""
    base = random.uniform(60, 400)
    turns = _turns(base * (1 + 0.05 * _wander(random, samples, 0.5)))
    tone = _level(_tone(random, turns, _harmonics(random, base * 1.2, (0.3, 1.2))))
    hiss = coloured(random, samples, random.uniform(-0.5, 1)) * (1 + 0.7 * np.sin(np.pi * turns))
    sound = tone * random.uniform(0.2, 1) + hiss * random.uniform(0.3, 1.2)
    return _level(sound * _switched(random, samples) if random.random() < 0.5 else sound)


def angle_grinder(random: Random, samples: int) -> Floats:
    """A tone of 150 to 600 Hz that sinks when the disc bites, and hiss of 2 to 8 kHz that grows then."""
    base = random.uniform(150, 600)
    load = _load(random, samples, random.uniform(0.3, 2.5))
    speed = base * (1 - random.uniform(0.08, 0.3) * load) * (1 + 0.01 * _wander(random, samples, 0.1))
    turns = _turns(speed)
    tone = _level(_tone(random, turns, _harmonics(random, base * 1.1, (0.4, 1.3))))
    hiss: Reals = _band(random, samples, random.uniform(1500, 2500), random.uniform(6000, 8000))
    # The disc is never quite round: the bite swells once a turn of the spindle, a third of the motor's or less.
    hiss = hiss * (1 + random.uniform(0.1, 0.6) * np.sin(2 * np.pi * turns / random.integers(3, 6)))
    return _level(tone * random.uniform(0.3, 1) * (1 + 0.4 * load) + hiss * random.uniform(0.4, 1.5) * (0.25 + load))


def mixer(random: Random, samples: int) -> Floats:
    """A drill or a mixer with its paddle: the whine of gears, the motor's rumble, thrown about by what it stirs."""
    whine = random.uniform(300, 1300)
    load = _load(random, samples, random.uniform(0.5, 4))
    stirring = random.uniform(4, 12) * np.arange(samples) / RATE_HZ
    swing = 1 + random.uniform(0.01, 0.05) * np.sin(2 * np.pi * stirring) * load
    turns = _turns(whine * (1 - random.uniform(0.05, 0.25) * load) * swing)
    gears = _level(_tone(random, turns, _harmonics(random, whine * 1.1, (0.8, 1.8))[:6]))
    rumble = _band(random, samples, 30, random.uniform(150, 350))
    brushes = coloured(random, samples, random.uniform(0, 1))
    sound = gears * random.uniform(0.4, 1) * (0.6 + 0.4 * load) + rumble * random.uniform(0.4, 1.5) * swing**4
    return _level(sound + brushes * random.uniform(0.1, 0.6))


def tile_saw(random: Random, samples: int) -> Floats:
    """A wet saw: steady spray, the tone of the blade's segments as they pass, and screams while it cuts."""
    shaft = random.uniform(45, 75)
    segments = int(random.integers(12, 25))
    load = _load(random, samples, random.uniform(1.5, 6))
    turns = _turns(shaft * (1 - random.uniform(0.02, 0.1) * load) * (1 + 0.003 * _wander(random, samples, 0.2)))
    blade = _level(_tone(random, turns * segments, _harmonics(random, shaft * segments, (0.5, 1.5))))
    motor = _level(_tone(random, turns, _harmonics(random, shaft, (0.8, 1.5))[:30]))
    spray = _band(random, samples, random.uniform(300, 1500), random.uniform(5500, 8000))
    cut: Reals = _band(random, samples, random.uniform(1500, 3500), random.uniform(5000, 8000))
    cut = cut * (1 + 0.5 * np.sin(2 * np.pi * turns))
    sound = spray * random.uniform(0.5, 1.2) + blade * random.uniform(0.15, 0.8) * (0.3 + load)
    return _level(sound + motor * random.uniform(0.1, 0.6) + cut * random.uniform(0.3, 1.2) * load)


def hand_tools(random: Random, samples: int) -> Floats:
    """Hammers, mallets and notched trowels: short bursts through a few resonances, over a quiet site."""
    sound = coloured(random, samples, 1) * np.float32(random.uniform(0.01, 0.06))
    for at in _moments(random, samples, 1, 5):
        made = _knock(random) if random.random() < 0.5 else _scrape(random)
        _add(sound, at, made * random.uniform(0.2, 1))
    return _level(sound)


def compressor(random: Random, samples: int) -> Floats:
    """An air compressor: the strokes of its piston with their harmonics, its motor, air between; it rests."""
    strokes = random.uniform(12, 28)
    turns = _turns(strokes * (1 + 0.01 * _wander(random, samples, 0.3)))
    thump = _level(_tone(random, turns, _harmonics(random, strokes * 1.1, (0.4, 1.2))[:80]))
    motor = _level(_tone(random, turns * random.integers(2, 5), _harmonics(random, strokes * 5, (0.6, 1.4))[:40]))
    air: Reals = _band(random, samples, random.uniform(200, 1200), random.uniform(3000, 8000))
    air = air * (1 + random.uniform(0.2, 0.9) * np.sin(2 * np.pi * turns))
    sound = thump * random.uniform(0.4, 1.2) + motor * random.uniform(0.2, 0.8) + air * random.uniform(0.2, 1)
    return _level(sound * _switched(random, samples) if random.random() < 0.2 else sound)


def radio(random: Random, samples: int, speech: npt.NDArray[np.int16]) -> Floats:
    """A radio on the site: chords over a beat, somebody who talks, or both, through a small loudspeaker."""
    sound = np.zeros(samples, np.float32)
    if random.random() < 0.75:
        beat = int(random.uniform(0.3, 0.7) * RATE_HZ)
        for at in range(0, samples, beat):
            root = 110 * 2 ** (int(random.integers(0, 24)) / 12)
            time = np.arange(2 * beat) / RATE_HZ
            for step in (0, *random.choice([3, 4, 7, 10, 12], 2, replace=False)):
                note = _tone(random, root * 2 ** (step / 12) * time, np.arange(1, 9.0) ** -random.uniform(0.7, 1.6))
                _add(sound, at, note * np.exp(-time / random.uniform(0.1, 0.6)))
            _add(sound, at, random.standard_normal(2000) * _decay(2000, 300) * random.uniform(0, 3))
        sound = _level(sound)
    if random.random() < 0.7 or not sound.any():
        start = int(random.integers(len(speech)))
        piece = np.take(speech, np.arange(start, start + samples), mode="wrap").astype(np.float32)
        sound = sound * np.float32(random.uniform(0, 0.7)) + _level(piece)
    low, high = random.uniform(150, 500), random.uniform(3000, 7000)
    return _level(_filtered(sound, lambda hz: _low_cut(hz, low, 2) * _high_cut(hz, high, 4)))


def babble(random: Random, samples: int, speech: npt.NDArray[np.int16]) -> Floats:
    """Three to eight pieces of other people's talk at once."""
    sound = np.zeros(samples, np.float32)
    for _ in range(int(random.integers(3, 9))):
        start = int(random.integers(len(speech)))
        piece = np.take(speech, np.arange(start, start + samples), mode="wrap").astype(np.float32)
        sound += _level(piece) * np.float32(random.uniform(0.3, 1))
    return _level(sound)


_KINDS: Final[tuple[tuple[int, Callable[[Random, int], Floats]], ...]] = (
    (8, power_tool),
    (6, angle_grinder),
    (5, mixer),
    (5, tile_saw),
    (5, hand_tools),
    (6, uneven),
    (3, clicks),
    (3, hum),
    (4, compressor),
)
"""How many of each are made; plain hiss comes before them, and talk and radios, a fifth of all, after."""
_TALK: Final = ((9, babble), (5, radio))


def _noises(random: Random, speech: npt.NDArray[np.int16] | None) -> list[Floats]:
    samples = _NOISE_S * RATE_HZ
    made = [coloured(random, samples, slope) for slope in (0, 0, 0.5, 1, 1, 1, 1.5, 2)]
    made += [make(random, samples) for count, make in _KINDS for _ in range(count)]
    if speech is not None and len(speech):
        made += [make(random, samples, speech) for count, make in _TALK for _ in range(count)]
    return made


def _room(random: Random) -> Floats:
    """An impulse response: direct sound at once, a few early echoes, a tail that falls by 60 dB in 0.08 to 0.8 s."""
    fall_s = random.uniform(0.08, 0.8)
    length = int(RATE_HZ * min(fall_s * 1.1, 0.7))
    gap = int(RATE_HZ * random.uniform(0.001, 0.012))
    response = np.zeros(gap + length)
    response[gap:] = random.standard_normal(length) * _gains(-60 * np.arange(length) / RATE_HZ / fall_s)
    for _ in range(int(random.integers(2, 8))):
        response[int(random.integers(1, gap + RATE_HZ // 50)) % len(response)] += random.uniform(-0.6, 0.6)
    response *= _gain(-random.uniform(3, 16)) / np.sqrt(np.sum(response**2))
    response[0] = 1
    return response.astype(np.float32)


def _knock(random: Random) -> Floats:
    """One blow: two to four tones of what was struck, dying away within 10 to 80 ms, after a click."""
    time = np.arange(int(0.25 * RATE_HZ)) / RATE_HZ
    sound = random.standard_normal(len(time)) * np.exp(-time / 0.002) * random.uniform(0.2, 1)
    for _ in range(int(random.integers(2, 5))):
        tone = np.sin(2 * np.pi * np.exp(random.uniform(*np.log([200, 5000]))) * time)
        sound += tone * np.exp(-time / random.uniform(0.01, 0.08)) * random.uniform(0.2, 1)
    return _to_peak(sound.astype(np.float32), np.float32(1))


def _scrape(random: Random) -> Floats:
    """One stroke of a trowel: rough noise that swells and ends, torn by the notches as they pass."""
    length = int(random.uniform(0.12, 0.6) * RATE_HZ)
    low = random.uniform(800, 3000)
    time = np.arange(length) / RATE_HZ
    sound: Reals = _band(random, length, low, low * random.uniform(1.5, 4))
    sound = sound * np.sin(np.pi * np.linspace(0, 1, length) ** random.uniform(0.4, 1.6))
    sound = sound * (1 + random.uniform(0, 0.9) * np.sin(2 * np.pi * random.uniform(40, 150) * time))
    return _to_peak(sound.astype(np.float32), np.float32(0.5))


# Parts that they are made of.


def _shaped(random: Random, samples: int, gain: Callable[[Reals], Reals]) -> Floats:
    """Noise with the spectrum `gain` of the frequency in Hz, at a level of one."""
    # Scaled at once, so that a noise may be made of any length whatever its colour.
    size = _quick_size(max(samples, 1024))
    spectrum = np.fft.rfft(random.standard_normal(size, dtype=np.float32))
    spectrum *= gain(np.linspace(0, RATE_HZ / 2, len(spectrum), dtype=np.float32)).astype(np.float32)
    return _level(np.fft.irfft(spectrum, size)[:samples])


def _band(random: Random, samples: int, low: float, high: float) -> Floats:
    """Noise between two frequencies, with soft edges."""
    return _shaped(random, samples, lambda hz: _low_cut(hz, low, 2) * _high_cut(hz, high, 3))


def _wander(random: Random, samples: int, step_s: float) -> Floats:
    """A line that strays around 0 by about 1, with a new aim every `step_s`."""
    knots = int(samples / RATE_HZ / step_s) + 2
    places = np.linspace(0, samples / (step_s * RATE_HZ), samples, dtype=np.float32)
    return np.interp(places, np.arange(knots), random.standard_normal(knots)).astype(np.float32)


def _switched(random: Random, samples: int) -> Floats:
    """1 where a machine runs, 0.1 where it rests; about three quarters of the time it runs."""
    knots = int(samples / RATE_HZ / 0.25) + 2
    running = np.where(random.random(knots) > 0.25, 1.0, 0.1)
    return np.interp(np.linspace(0, knots - 1, samples), np.arange(knots), running).astype(np.float32)


def _load(random: Random, samples: int, mean_s: float) -> Floats:
    """How hard a tool works, 0 to 1: rests and work by turns, about `mean_s` each; speed follows with a lag."""
    points = samples * _CONTROL_HZ // RATE_HZ + 2
    wanted = np.zeros(points)
    at, working = 0, random.random() < 0.5
    while at < points:
        length = int(random.exponential(mean_s) * _CONTROL_HZ) + 5
        wanted[at : at + length] = random.uniform(0.4, 1) if working else 0
        at, working = at + length, not working
    lag = np.exp(-np.arange(60) / (random.uniform(0.05, 0.2) * _CONTROL_HZ))
    reached = np.convolve(wanted, lag / lag.sum())[:points]
    return np.interp(np.linspace(0, points - 1, samples), np.arange(points), reached).astype(np.float32)


def _turns(hz: Reals) -> Reals:
    """How often something has turned, from how fast it does at every sample."""
    return np.cumsum(hz, dtype=np.float64) / RATE_HZ


def _harmonics(random: Random, highest_hz: float, slope: tuple[float, float]) -> Reals:
    """Amplitudes of the harmonics of a tone that rises to `highest_hz`: those that can be heard, some left out."""
    order = np.arange(1, max(2, int(_TOP_HZ / highest_hz) + 1))
    steepness = random.uniform(*slope)
    uneven_by = np.exp(0.5 * random.standard_normal(len(order)))
    kept = (random.random(len(order)) < 0.8) | (order == 1)
    return np.asarray(order**-steepness * uneven_by * kept, np.float32)


def _tone(random: Random, turns: Reals, amplitudes: Reals) -> Floats:
    """A sound that is the same at every turn but for its speed: harmonics with these amplitudes, in any phases."""
    # One turn is reckoned and then looked up: a sine for every harmonic and sample would take a hundred times as long.
    spectrum = np.zeros(_TURN // 2 + 1, np.complex64)
    spectrum[1 : len(amplitudes) + 1] = amplitudes * np.exp(2j * np.pi * random.random(len(amplitudes)))
    table = np.fft.irfft(spectrum, _TURN) * np.float32(_TURN)
    return table[(turns * _TURN).astype(np.int64) % _TURN].astype(np.float32)


def _moments(random: Random, samples: int, least: float, most: float) -> npt.NDArray[np.int64]:
    """When something happens that happens `least` to `most` times a second."""
    count = max(1, int(random.uniform(least, most) * samples / RATE_HZ))
    return random.integers(0, samples, count)


def _add(sound: Floats, at: int, made: Reals) -> None:
    """What of it still fits is added to the sound."""
    sound[at : at + len(made)] += made[: len(sound) - at].astype(np.float32)


def _decay(length: int, scale: float) -> Reals:
    return np.exp(-np.arange(length) / scale)


def _gain(decibels: float) -> float:
    return float(10 ** (decibels / 20))


def _gains(decibels: Reals) -> Reals:
    return np.power(10.0, decibels / 20)


def _low_cut(hz: Reals, edge: float, order: int) -> Reals:
    """Butterworth's response: what is below the edge is lost."""
    return np.asarray(1 / np.sqrt(1 + (edge / np.maximum(hz, 1)) ** (2 * order)))


def _high_cut(hz: Reals, edge: float, order: int) -> Reals:
    return np.asarray(1 / np.sqrt(1 + (hz / edge) ** (2 * order)))


def _response(gain: Callable[[Reals], Reals], bins: int) -> Floats:
    """A frequency response at `bins` frequencies from 0 to 8 kHz; reckoned at 257, which is enough for a filter."""
    coarse = gain(np.linspace(0, RATE_HZ / 2, 257, dtype=np.float32))
    return np.interp(np.linspace(0, 1, bins), np.linspace(0, 1, 257), coarse).astype(np.float32)


def _filtered(sound: Floats, gain: Callable[[Reals], Reals]) -> Floats:
    """Through a filter without delay."""
    size = _quick_size(len(sound) + _TAIL)
    spectrum = np.fft.rfft(sound, size)
    return np.fft.irfft(spectrum * _response(gain, len(spectrum)), size)[: len(sound)].astype(np.float32)


def _clipped(random: Random, sound: Floats, peak: np.float32) -> Floats:
    """Too loud for what comes before the level control."""
    limit = peak * np.float32(random.uniform(0.05, 0.9))
    return np.clip(sound, -limit, limit) * np.float32(random.uniform(1, 1.5))


def _by_telephone(sound: Floats) -> Floats:
    """Through eight bits of mu-law companding, as in ITU-T G.711 (its formula, not its table)."""
    level = np.sign(sound) * np.log1p(255 * abs(sound) / _FULL) / np.log(256)
    level = np.round(level * 127) / 127
    return (np.sign(level) * (np.power(256.0, abs(level)) - 1) / 255 * _FULL).astype(np.float32)


def _quick_size(size: int) -> int:
    return _QUICK[bisect_left(_QUICK, size)] if size <= _QUICK[-1] else size


def _rms(sound: Floats) -> float:
    return float(np.sqrt(np.mean(np.square(sound), dtype=np.float64)))


def _level(sound: Reals) -> Floats:
    """At a level of one; silence stays silence."""
    return (sound / max(_rms(sound), 1e-9)).astype(np.float32)


def _to_peak(sound: Floats, peak: np.float32) -> Floats:
    return sound * (peak / np.float32(max(float(abs(sound).max()), 1e-6)))
