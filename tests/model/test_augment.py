"""Noise, rooms and microphones: what they must keep of the speech, and what they must sound like."""

from collections.abc import Iterator
from unittest.mock import patch

import numpy as np
import numpy.typing as npt
import pytest

from models.build import augment
from models.build.augment import SNR_DB, Augmenter, active_rms
from models.build.speech_sets import RATE_HZ

from .test_features import speech_like

Floats = npt.NDArray[np.float32]


def _utterance(seed: int = 1, seconds: float = 1.2) -> npt.NDArray[np.int16]:
    return speech_like(seed, seconds).astype(np.int16)


@pytest.fixture(scope="module")
def talk() -> npt.NDArray[np.int16]:
    return np.concatenate([_utterance(seed, 2) for seed in range(3)])


@pytest.fixture
def augmenter(talk: npt.NDArray[np.int16]) -> Iterator[Augmenter]:
    with patch.object(augment, "_NOISE_S", 4):  # so that the tests stay quick
        yield Augmenter(3, talk)


def test_the_same_seed_gives_the_same_sounds(talk: npt.NDArray[np.int16]) -> None:
    with patch.object(augment, "_NOISE_S", 2):
        one, same, other = Augmenter(1, talk), Augmenter(1, talk), Augmenter(2, talk)
    for _ in range(5):
        made = one.make(_utterance(), 24_000)
        assert (made == same.make(_utterance(), 24_000)).all()
        assert one.placed == same.placed
        assert not np.array_equal(made, other.make(_utterance(), 24_000))


@pytest.mark.parametrize("length", [19_200, 19_201, 48_000, 100_003])
def test_the_result_is_as_long_as_asked_and_fits_int16(augmenter: Augmenter, length: int) -> None:
    for _ in range(8):
        made = augmenter.make(_utterance(), length)
        assert made.shape == (length,)
        assert made.dtype == np.float32
        assert np.isfinite(made).all()
        assert abs(made).max() <= 32767
        assert 0 <= augmenter.placed <= length - 19_200


def test_the_utterance_is_where_it_is_said_to_be(augmenter: Augmenter) -> None:
    # A chirp, for its place can be told to the sample; noise is left out, rooms and microphones are not.
    time = np.arange(12_000) / RATE_HZ
    chirp = (8000 * np.sin(2 * np.pi * (400 * time + 1500 * time**2))).astype(np.int16)
    for _ in range(40):
        with patch.object(Augmenter, "noisy", lambda _, speech: speech):
            made = augmenter.make(chirp, 30_000)
        near = np.fft.irfft(np.fft.rfft(made, 65_536) * np.conj(np.fft.rfft(chirp, 65_536)), 65_536)
        assert abs(int(np.argmax(abs(near))) - augmenter.placed) <= 16  # a millisecond


def test_the_ratio_of_speech_to_noise_is_in_its_range(augmenter: Augmenter) -> None:
    speech = np.zeros(40_000, np.float32)
    speech[5_000:24_200] = _utterance()
    ratios = []
    for _ in range(150):
        noise = augmenter.noisy(speech) - speech
        rms = np.sqrt(np.mean(np.square(noise, dtype=np.float64)))
        ratios.append(20 * np.log10(active_rms(speech) / rms))
    assert min(ratios) >= SNR_DB[0] - 0.05
    assert max(ratios) <= SNR_DB[1] + 0.05
    assert min(ratios) < SNR_DB[0] + 4
    assert max(ratios) > SNR_DB[1] - 4


def test_the_level_of_speech_does_not_see_pauses() -> None:
    speech = speech_like(7, 1.0)
    padded = np.concatenate([np.zeros(32_000, np.float32), speech, np.zeros(16_000, np.float32)])
    assert active_rms(padded) == pytest.approx(active_rms(speech), rel=0.01)
    assert active_rms(np.zeros(1000, np.float32)) == 0
    assert active_rms(np.full(100, 2, np.float32)) == 2


def test_silence_and_one_sample_are_augmented_too(augmenter: Augmenter) -> None:
    for samples in (np.zeros(5000, np.int16), np.ones(1, np.int16), np.full(4000, -32768, np.int16)):
        for _ in range(10):
            assert np.isfinite(augmenter.make(samples, 6000)).all()


@pytest.mark.parametrize(("samples", "length"), [(0, 100), (101, 100)])
def test_what_does_not_fit_is_refused(augmenter: Augmenter, samples: int, length: int) -> None:
    with pytest.raises(ValueError, match="do not fit"):
        augmenter.make(np.zeros(samples, np.int16), length)


def test_without_talk_there_is_no_babble(talk: npt.NDArray[np.int16]) -> None:
    with patch.object(augment, "_NOISE_S", 1):
        assert len(Augmenter(1)._noises) + sum(count for count, _ in augment._TALK) == len(Augmenter(1, talk)._noises)


# What the noises sound like.

NOISES = [make for _, make in augment._KINDS]


def _share(sound: Floats, low: float, high: float) -> float:
    """Share of the power between two frequencies."""
    power = abs(np.fft.rfft(sound)) ** 2
    hz = np.fft.rfftfreq(len(sound), 1 / RATE_HZ)
    return float(power[(hz >= low) & (hz < high)].sum() / power.sum())


@pytest.mark.parametrize("make", NOISES, ids=lambda make: make.__name__)
@pytest.mark.parametrize("samples", [1600, 16_001, 48_000])
def test_every_noise_is_at_a_level_of_one(make: augment.Callable[..., Floats], samples: int) -> None:
    for seed in range(4):
        sound = make(np.random.default_rng(seed), samples)
        assert sound.shape == (samples,)
        assert sound.dtype == np.float32
        assert np.sqrt(np.mean(sound**2)) == pytest.approx(1, abs=0.01)


@pytest.mark.parametrize("slope", [0, 1, 2])
def test_coloured_noise_has_its_slope(slope: int) -> None:
    sound = augment.coloured(np.random.default_rng(1), 160_000, slope)
    fall = _share(sound, 200, 400) / _share(sound, 1600, 3200)  # three octaves
    assert fall == pytest.approx(8 ** (slope - 1), rel=0.1)


def test_a_grinder_hisses_where_consonants_are() -> None:
    shares = [_share(augment.angle_grinder(np.random.default_rng(seed), 64_000), 1500, 8000) for seed in range(12)]
    assert 0.3 < np.mean(shares) < 0.95


def test_a_mixer_rumbles_and_whines() -> None:
    sounds = [augment.mixer(np.random.default_rng(seed), 64_000) for seed in range(12)]
    assert np.mean([_share(sound, 20, 350) for sound in sounds]) > 0.15
    assert np.mean([_share(sound, 350, 2000) for sound in sounds]) > 0.15


def test_a_tile_saw_is_steadier_than_hand_tools() -> None:
    def unsteady(make: augment.Callable[..., Floats]) -> float:
        sounds = (make(np.random.default_rng(seed), 64_000) for seed in range(8))
        return float(np.mean([np.std(p := augment._powers(sound)) / np.mean(p) for sound in sounds]))

    assert unsteady(augment.tile_saw) < 0.5
    assert unsteady(augment.hand_tools) > 1


def test_a_tone_has_the_harmonics_asked_for() -> None:
    turns = 200 * np.arange(16_000) / RATE_HZ
    power = abs(np.fft.rfft(augment._tone(np.random.default_rng(1), turns, np.array([1, 0, 0.5], np.float32))))
    assert set(np.flatnonzero(power > power.max() / 100)) == {200, 600}
    assert power[600] / power[200] == pytest.approx(0.5, rel=0.01)


def test_a_room_begins_with_the_direct_sound_and_dies_away() -> None:
    for seed in range(20):
        room = augment._room(np.random.default_rng(seed))
        assert room[0] == 1
        assert abs(room[1:]).max() < 1
        assert np.square(room[-len(room) // 4 :]).sum() < 0.1 * np.square(room[1:]).sum()
