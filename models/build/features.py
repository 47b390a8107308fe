"""What the network sees of a sound: 40 cepstral coefficients every 10 ms, the same that vosk computes when it listens.

They are Kaldi's "hires" MFCC as the model's conf/mfcc.conf asks for them, in numpy and without dither (Kaldi's
feature-window.h, mel-computations.h and feature-mfcc.h, from memory; the tests hold them against kaldi-native-fbank).
On top of Kaldi's: frames may be any number of samples apart, which makes speech slower or faster, and a band of the mel
spectrum may be masked (Park et al. 2019, "SpecAugment").
"""

from __future__ import annotations

from functools import cache

import numpy as np
import numpy.typing as npt

from models.build.speech_sets import RATE_HZ

Floats = npt.NDArray[np.float32]

WINDOW = 400
"""Samples of a frame: 25 ms."""
HOP = 160
"""Samples between frames as vosk takes them: 10 ms."""
COEFFICIENTS = 40
"""Cepstral coefficients, and as many mel bands."""

_FFT = 512
_LOW_HZ, _HIGH_HZ = 20.0, 7600.0
# Where Kaldi's warped frequency axis has its two bends; the second leaves room for warps of up to 1.22.
_BEND_LOW_HZ, _BEND_HIGH_HZ = 100.0, 7100.0
_LIFTER = 22
_PREEMPHASIS = np.float32(0.97)
_FLOOR = np.float32(np.finfo(np.float32).eps)
_WARP_STEP = 0.02


def mfcc(
    samples: Floats, *, warp: float = 1.0, hop: int = HOP, masked: tuple[int, int] | None = None
) -> npt.NDArray[np.float32]:
    """Features of a sound: (frames, 40). Frames lie wholly inside the sound; one that is too short gives none.

    samples: in the range of int16 (not -1 to 1), 16 kHz. warp: of the vocal tract as Kaldi's VTLN, rounded to 0.02; it
    acts as if all formants were multiplied by it. hop: samples between frames. masked: the mel bands from the first to
    before the second are set to the mean that they have in this sound.

    Errors: `ValueError` for a hop below 1, or bands that are not there.
    """
    if hop < 1:
        raise ValueError(f"frames cannot be {hop} samples apart")
    if masked is not None and not 0 <= masked[0] < masked[1] <= COEFFICIENTS:
        raise ValueError(f"there are no mel bands {masked[0]} to {masked[1]}")
    if len(samples) < WINDOW:
        return np.zeros((0, COEFFICIENTS), np.float32)
    framed = np.lib.stride_tricks.sliding_window_view(np.asarray(samples, np.float32), WINDOW)[::hop]
    framed = framed - framed.mean(axis=1, keepdims=True)
    emphasized = np.empty_like(framed)
    np.subtract(framed[:, 1:], _PREEMPHASIS * framed[:, :-1], out=emphasized[:, 1:])
    np.multiply(framed[:, 0], 1 - _PREEMPHASIS, out=emphasized[:, 0])
    emphasized *= _window()
    spectrum = np.fft.rfft(emphasized, _FFT)
    power = spectrum.real**2 + spectrum.imag**2
    bands = np.log(np.maximum(power @ _mel_bands(round(warp / _WARP_STEP)), _FLOOR))
    if masked is not None:
        bands[:, masked[0] : masked[1]] = bands[:, masked[0] : masked[1]].mean()
    return bands @ _cosines()


def warped(hz: npt.NDArray[np.float64], warp: float) -> npt.NDArray[np.float64]:
    """Where on the frequency axis Kaldi's VTLN looks: at `hz` divided by `warp`, but bent so that both ends stay.

    >>> warped(np.array([20.0, 1000.0, 7600.0]), 1.25).tolist()
    [20.0, 800.0, 7600.0]
    """
    low = _BEND_LOW_HZ * max(1.0, warp)
    high = _BEND_HIGH_HZ * min(1.0, warp)
    # Three straight pieces; interpolation between their corners is the same function.
    return np.interp(hz, [_LOW_HZ, low, high, _HIGH_HZ], [_LOW_HZ, low / warp, high / warp, _HIGH_HZ])


def _mel(hz: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    return 1127.0 * np.log1p(hz / 700.0)


def _hz(mel: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    return 700.0 * np.expm1(mel / 1127.0)


@cache
def _window() -> Floats:
    """Kaldi's "povey" window: Hann's to the power of 0.85."""
    return ((0.5 - 0.5 * np.cos(2 * np.pi * np.arange(WINDOW) / (WINDOW - 1))) ** 0.85).astype(np.float32)


@cache
def _mel_bands(warp_steps: int) -> Floats:
    """Triangles of equal width on the mel scale, warped: (257, 40). The highest bin stays empty, as in Kaldi."""
    warp = warp_steps * _WARP_STEP
    lowest, highest = _mel(np.array([_LOW_HZ, _HIGH_HZ]))
    edges = np.linspace(lowest, highest, COEFFICIENTS + 2)
    edges = _mel(warped(_hz(edges), warp))
    bins = _mel(np.arange(_FFT // 2) * RATE_HZ / _FFT)[:, None]
    left, centre, right = edges[:-2], edges[1:-1], edges[2:]
    triangles = np.minimum((bins - left) / (centre - left), (right - bins) / (right - centre))
    return np.concatenate([np.maximum(triangles, 0), np.zeros((1, COEFFICIENTS))]).astype(np.float32)


@cache
def _cosines() -> Floats:
    """The cosine transform with Kaldi's lifter: (bands, coefficients)."""
    order = np.arange(COEFFICIENTS)
    rows = np.sqrt(2 / COEFFICIENTS) * np.cos(np.pi / COEFFICIENTS * np.outer(order, order + 0.5))
    rows[0] = np.sqrt(1 / COEFFICIENTS)
    lifter = 1 + 0.5 * _LIFTER * np.sin(np.pi * order / _LIFTER)
    return np.ascontiguousarray((rows * lifter[:, None]).T.astype(np.float32))
