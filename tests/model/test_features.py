"""The features, against another implementation of Kaldi's."""

from typing import Any

import numpy as np
import numpy.typing as npt
import pytest

from models.build import features
from models.build.features import mfcc
from models.build.speech_sets import RATE_HZ

Floats = npt.NDArray[np.float32]


def _kaldi_options() -> Any:
    import kaldi_native_fbank as knf

    options = knf.MfccOptions()
    options.frame_opts.dither = 0
    options.frame_opts.samp_freq = RATE_HZ
    options.frame_opts.snip_edges = True
    options.mel_opts.num_bins = options.num_ceps = features.COEFFICIENTS
    options.mel_opts.low_freq = 20
    options.mel_opts.high_freq = 7600
    options.use_energy = False
    options.cepstral_lifter = 22
    return options


def _kaldi(samples: Floats) -> Floats:
    import kaldi_native_fbank as knf

    computer = knf.OnlineMfcc(_kaldi_options())
    computer.accept_waveform(RATE_HZ, samples.tolist())
    computer.input_finished()
    return np.array([computer.get_frame(i) for i in range(computer.num_frames_ready)], np.float32)


def speech_like(seed: int, seconds: float) -> Floats:
    """A buzz of gliding pitch through three resonances, in syllables, over a little noise."""
    random = np.random.default_rng(seed)
    time = np.arange(int(seconds * RATE_HZ)) / RATE_HZ
    phase = 2 * np.pi * np.cumsum(120 + 30 * np.sin(3 * time)) / RATE_HZ
    gains = [sum(np.exp(-(((120 * k - f) / 150) ** 2)) for f in (500, 1500, 2500)) + 0.02 for k in range(1, 60)]
    buzz = sum(gain * np.sin(k * phase) for k, gain in enumerate(gains, 1)) * np.maximum(np.sin(12 * time), 0)
    return (buzz / abs(buzz).max() * 8000 + random.standard_normal(len(time)) * 5).astype(np.float32)


@pytest.mark.parametrize(
    "samples",
    [
        speech_like(1, 1.5),
        (np.random.default_rng(2).standard_normal(24_000) * 1000).astype(np.float32),
        (np.random.default_rng(3).standard_normal(8_000) * 3).astype(np.float32),
    ],
    ids=["speech-like", "loud noise", "soft noise"],
)
def test_the_same_as_another_implementation(samples: Floats) -> None:
    other = _kaldi(samples)
    assert mfcc(samples).shape == other.shape
    assert abs(mfcc(samples) - other).max() < 1e-3


@pytest.mark.parametrize("warp", [0.80, 0.88, 1.0, 1.1, 1.22])
def test_warped_mel_bands_are_those_of_another_implementation(warp: float) -> None:
    import kaldi_native_fbank as knf

    options = _kaldi_options()
    options.mel_opts.vtln_high = 7100
    other = knf.MelBanks(options.mel_opts, options.frame_opts, warp).get_matrix()
    ours = features._mel_bands(round(warp / 0.02))
    assert abs(ours.T[:, : other.shape[1]] - other).max() < 1e-3


def test_a_warp_above_one_moves_formants_up() -> None:
    def peak(warp: float) -> float:
        tone = (np.sin(2 * np.pi * 1000 * np.arange(4000) / RATE_HZ) * 1000).astype(np.float32)
        return float(np.argmax(mfcc(tone, warp=warp)[0] @ np.linalg.inv(features._cosines())))

    assert peak(1.2) > peak(1.0) > peak(0.8)


@pytest.mark.parametrize(
    ("samples", "hop", "frames"),
    [(0, 160, 0), (399, 160, 0), (400, 160, 1), (559, 160, 1), (560, 160, 2), (16_000, 160, 98), (16_000, 125, 125)],
)
def test_frames_lie_wholly_inside_the_sound(samples: int, hop: int, frames: int) -> None:
    assert mfcc(np.ones(samples, np.float32), hop=hop).shape == (frames, features.COEFFICIENTS)


def test_a_hop_picks_the_same_frames() -> None:
    samples = speech_like(4, 0.5)
    assert np.allclose(mfcc(samples, hop=320), mfcc(samples)[::2], atol=1e-4)


def test_masked_bands_are_flat_and_the_others_stay() -> None:
    samples = speech_like(5, 0.5)
    back = np.linalg.inv(features._cosines())
    plain, masked = mfcc(samples) @ back, mfcc(samples, masked=(10, 18)) @ back
    assert np.allclose(masked[:, 10:18], plain[:, 10:18].mean(), atol=1e-2)
    assert np.allclose(np.delete(masked, np.s_[10:18], 1), np.delete(plain, np.s_[10:18], 1), atol=1e-2)


def test_silence_gives_finite_features() -> None:
    assert np.isfinite(mfcc(np.zeros(1600, np.float32))).all()


@pytest.mark.parametrize("wrong", [{"hop": 0}, {"masked": (5, 5)}, {"masked": (30, 41)}, {"masked": (-1, 4)}])
def test_what_cannot_be_computed_is_refused(wrong: dict[str, Any]) -> None:
    with pytest.raises(ValueError, match=r"samples apart|no mel bands"):
        mfcc(np.ones(800, np.float32), **wrong)
