"""Reading sound: whatever the file, the recognizer gets 16 kHz, one channel, 16 bits.

Published sources checked against: ITU-T G.100.1 (dBov: a full-scale square wave is 0, a full-scale sine -3.01).
"""

from __future__ import annotations

import io
import tracemalloc
import wave
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
import soundfile
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.signal import resample_poly

from fieldassist.language import Words
from fieldassist.trade.message import message
from fieldassist.voice.audio import (
    RATE_HZ,
    AudioProblem,
    clip_of,
    frames,
    is_silent,
    loudness_dbov,
    pcm_stream,
    read_audio,
    speech_seconds,
)


def tone(hz: float, seconds: float, rate: int, level: float = 0.5) -> np.ndarray:
    return level * np.sin(2 * np.pi * hz * np.arange(round(seconds * rate)) / rate)


def babble(seconds: float, rate: int = RATE_HZ, level: float = 0.3) -> np.ndarray:
    """Noise in bursts of a quarter second, as loud and quiet as syllables."""
    noise = np.random.default_rng(1).standard_normal(round(seconds * rate))
    time = np.arange(len(noise)) / rate
    return np.clip(level * 0.3 * noise * (np.sin(2 * np.pi * 2 * time) > 0), -1, 1)


def strongest_hz(samples: np.ndarray, rate: int = RATE_HZ) -> float:
    spectrum = np.abs(np.fft.rfft(samples.astype(float) * np.hanning(len(samples))))
    return float(np.argmax(spectrum)) * rate / len(samples)


@pytest.mark.parametrize("rate", [8_000, 11_025, 16_000, 22_050, 44_100, 48_000, 96_000])
@pytest.mark.parametrize("channels", [1, 2, 6])
def test_any_rate_and_channel_count_gives_the_same_tone_at_16_khz_mono(
    tmp_path: Path, rate: int, channels: int
) -> None:
    file = tmp_path / "tone.wav"
    soundfile.write(file, np.repeat(tone(1000, 1.0, rate)[:, None], channels, axis=1), rate)
    clip = read_audio(file)
    assert clip.samples.dtype == np.int16
    assert clip.samples.ndim == 1
    assert clip.seconds == pytest.approx(1.0, abs=0.001)
    assert len(clip.samples) == round(clip.seconds * 16_000)
    assert strongest_hz(clip.samples) == pytest.approx(1000, abs=2)
    assert np.abs(clip.samples).max() / 32768 == pytest.approx(0.5, abs=0.01)
    assert clip.note is None
    assert not clip.clipped


@pytest.mark.parametrize(
    ("suffix", "subtype"),
    [
        ("wav", "PCM_16"),
        ("wav", "PCM_24"),
        ("wav", "FLOAT"),
        ("wav", "PCM_U8"),
        ("wav", "ULAW"),
        ("flac", "PCM_16"),
        ("flac", "PCM_24"),
        ("ogg", "VORBIS"),
        ("ogg", "OPUS"),
        ("aiff", "PCM_16"),
        ("mp3", "MPEG_LAYER_III"),
    ],
)
def test_every_usual_format_is_read(tmp_path: Path, suffix: str, subtype: str) -> None:
    file = tmp_path / f"tone.{suffix}"
    soundfile.write(file, tone(440, 1.0, 48_000), 48_000, subtype=subtype)
    clip = read_audio(file)
    assert clip.seconds == pytest.approx(1.0, abs=0.1)
    assert strongest_hz(clip.samples) == pytest.approx(440, abs=3)
    assert clip.note is None


def test_what_is_above_8_khz_does_not_fold_back_into_the_speech_band(tmp_path: Path) -> None:
    file = tmp_path / "whistle.wav"
    soundfile.write(file, tone(12_000, 1.0, 48_000, level=0.9), 48_000)
    inner = read_audio(file).samples[1600:-1600]
    assert 20 * np.log10(np.sqrt(np.mean((inner / 32768.0) ** 2)) + 1e-9) < -80


def test_resampling_agrees_with_an_independent_polyphase_filter(tmp_path: Path) -> None:
    file = tmp_path / "babble.wav"
    rate = 44_100
    low = resample_poly(np.random.default_rng(5).standard_normal(rate // 8), 8, 1) * 0.1  # below 2.8 kHz
    soundfile.write(file, low, rate, subtype="FLOAT")
    ours = read_audio(file).samples / 32768
    other = resample_poly(low, 160, 441)
    count = min(len(ours), len(other))
    inner = slice(400, count - 400)
    error = ours[inner] - other[inner]
    assert np.sqrt(np.mean(error**2)) < 0.01 * np.sqrt(np.mean(other[inner] ** 2))


def test_a_16_khz_mono_file_comes_through_bit_for_bit(tmp_path: Path) -> None:
    samples = np.random.default_rng(2).integers(-30000, 30000, 20_000).astype(np.int16)
    soundfile.write(tmp_path / "a.flac", samples, RATE_HZ)
    assert np.array_equal(read_audio(tmp_path / "a.flac").samples, samples)


def test_channels_of_opposite_polarity_do_not_cancel_to_nothing(tmp_path: Path) -> None:
    left = tone(500, 1.0, RATE_HZ)
    soundfile.write(tmp_path / "a.wav", np.stack([left, -left], axis=1), RATE_HZ)
    assert read_audio(tmp_path / "a.wav").loudness_dbfs == pytest.approx(-9.0, abs=0.1)


@pytest.mark.parametrize(
    ("name", "content", "code"),
    [
        ("none.wav", None, "voice-no-recording"),
        ("empty.wav", b"", "voice-empty-recording"),
        ("letter.wav", b"Dear foreman, the mortar is late again.\n" * 50, "voice-no-audio"),
        ("cut.wav", b"RIFF\x00\x00", "voice-no-audio"),
    ],
)
def test_a_file_that_is_no_recording_is_refused_with_a_sentence(
    tmp_path: Path, name: str, content: bytes | None, code: str
) -> None:
    if content is not None:
        (tmp_path / name).write_bytes(content)
    with pytest.raises(AudioProblem) as caught:
        read_audio(tmp_path / name)
    assert caught.value.told == message(code, file=name)


def test_a_folder_is_refused_with_a_sentence(tmp_path: Path) -> None:
    with pytest.raises(AudioProblem, match="voice-no-file"):
        read_audio(tmp_path)


def test_a_recording_without_a_single_sample_is_refused(tmp_path: Path) -> None:
    soundfile.write(tmp_path / "a.wav", np.zeros(0), RATE_HZ)
    with pytest.raises(AudioProblem, match="voice-soundless-recording"):
        read_audio(tmp_path / "a.wav")


@pytest.mark.parametrize("suffix", ["wav", "aiff", "flac"])
def test_a_file_cut_in_half_is_read_to_the_cut_with_a_note(tmp_path: Path, suffix: str) -> None:
    whole, cut = tmp_path / f"whole.{suffix}", tmp_path / f"cut.{suffix}"
    samples = (babble(3.0) * 32767).astype(np.int16)
    soundfile.write(whole, samples, RATE_HZ)
    content = whole.read_bytes()
    cut.write_bytes(content[: len(content) // 2])
    clip = read_audio(cut)
    assert 1.0 < clip.seconds < 2.0
    assert np.array_equal(clip.samples, samples[: len(clip.samples)])
    assert clip.note is not None
    assert f"the first {clip.seconds:.1f} s were read" in Words()(clip.note)


@pytest.mark.parametrize("suffix", ["wav", "aiff", "flac"])
def test_a_file_of_which_less_than_a_fifth_of_a_second_is_whole_is_refused(tmp_path: Path, suffix: str) -> None:
    whole, cut = tmp_path / f"whole.{suffix}", tmp_path / f"cut.{suffix}"
    soundfile.write(whole, (babble(3.0) * 32767).astype(np.int16), RATE_HZ)
    content = whole.read_bytes()
    cut.write_bytes(content[: len(content) // 40])
    with pytest.raises(AudioProblem, match="voice-damaged-recording"):
        read_audio(cut)


@settings(max_examples=60, deadline=None)
@given(place=st.floats(0, 1), junk=st.binary(min_size=1, max_size=40), suffix=st.sampled_from(["wav", "flac"]))
def test_damage_anywhere_gives_a_clip_or_a_sentence_never_another_error(
    tmp_path_factory: pytest.TempPathFactory, place: float, junk: bytes, suffix: str
) -> None:
    file = tmp_path_factory.mktemp("damage") / f"a.{suffix}"
    soundfile.write(file, babble(0.5), RATE_HZ)
    content = bytearray(file.read_bytes())
    at = int(place * (len(content) - 1))
    content[at : at + len(junk)] = junk
    file.write_bytes(content)
    try:
        clip = read_audio(file)
    except AudioProblem:
        return
    assert clip.samples.dtype == np.int16


def test_a_wav_written_into_a_pipe_with_its_length_unknown_is_whole(tmp_path: Path) -> None:
    soundfile.write(tmp_path / "a.wav", babble(1.0), RATE_HZ)
    content = bytearray((tmp_path / "a.wav").read_bytes())
    content[4:8] = b"\xff\xff\xff\xff"
    (tmp_path / "a.wav").write_bytes(content)
    clip = read_audio(tmp_path / "a.wav")
    assert clip.seconds == pytest.approx(1.0)
    assert clip.note is None


def test_a_recording_of_21_minutes_is_refused_before_it_fills_the_memory(tmp_path: Path) -> None:
    file = tmp_path / "long.wav"
    with file.open("wb") as raw, wave.open(raw, "wb") as out:
        out.setnchannels(1)
        out.setsampwidth(1)
        out.setframerate(8000)
        out.writeframes(b"\x80" * 8000)
    content = bytearray(file.read_bytes())
    declared = 21 * 60 * 8000
    content[4:8] = (declared + 36).to_bytes(4, "little")
    content[40:44] = declared.to_bytes(4, "little")
    file.write_bytes(content)
    with file.open("r+b") as sparse:
        sparse.truncate(declared + 44)
    with pytest.raises(AudioProblem, match="voice-too-long"):
        read_audio(file)


def test_of_a_recording_of_many_channels_little_more_than_the_clip_is_in_memory(tmp_path: Path) -> None:
    one = (8000 * np.sin(np.arange(60 * 8000) / 5)).astype(np.int16)
    soundfile.write(tmp_path / "a.wav", np.stack([one] * 8, axis=1), 8000)
    read_audio(tmp_path / "a.wav")  # what is loaded once does not count
    tracemalloc.start()
    try:
        clip = read_audio(tmp_path / "a.wav")
        peak = tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()
    # The clip, its parts before they are joined, and what its loudness is worked out with: 8 bytes a sample.
    assert peak < 20 * len(clip.samples)


@pytest.mark.filterwarnings("error")
def test_a_file_of_floats_beyond_all_measure_is_read_without_a_warning(tmp_path: Path) -> None:
    soundfile.write(tmp_path / "a.wav", np.full((RATE_HZ, 2), 1e38, np.float32), RATE_HZ, subtype="FLOAT")
    assert read_audio(tmp_path / "a.wav").clipped


def test_a_recording_driven_into_the_stop_is_called_clipped(tmp_path: Path) -> None:
    soundfile.write(tmp_path / "a.wav", np.clip(tone(200, 1.0, 44_100, level=3.0), -1, 1), 44_100)
    assert read_audio(tmp_path / "a.wav").clipped


def test_a_clean_sine_at_full_scale_is_not_called_clipped(tmp_path: Path) -> None:
    soundfile.write(tmp_path / "a.wav", tone(440, 1.0, RATE_HZ, level=0.9999), RATE_HZ)
    assert not read_audio(tmp_path / "a.wav").clipped


def test_dbov_of_a_full_scale_square_is_zero_and_of_a_sine_3_db_less_as_itu_t_g_100_1_defines() -> None:
    square = np.where(np.arange(RATE_HZ) % 16 < 8, 32767, -32767).astype(np.int16)
    sine = (32767 * tone(1000, 1.0, RATE_HZ, level=1.0)).astype(np.int16)
    assert loudness_dbov(square) == pytest.approx(0.0, abs=0.01)
    assert loudness_dbov(sine) == pytest.approx(-3.01, abs=0.01)


@given(db=st.floats(-40, 0))
def test_loudness_follows_the_gain_decibel_for_decibel(db: float) -> None:
    full = (32767 * tone(1000, 0.5, RATE_HZ, level=1.0)).astype(np.int16)
    softer = np.rint(full * 10 ** (db / 20)).astype(np.int16)
    assert loudness_dbov(softer) - loudness_dbov(full) == pytest.approx(db, abs=0.1)


def test_loudness_is_that_of_the_speech_however_long_the_pause_around_it() -> None:
    speech = (babble(2.0) * 32767).astype(np.int16)
    padded = np.concatenate([np.zeros(64_000, np.int16), speech, np.zeros(64_000, np.int16)])
    assert loudness_dbov(padded) == pytest.approx(loudness_dbov(speech), abs=0.5)


def test_digital_silence_has_no_loudness() -> None:
    assert clip_of(np.zeros(16_000, np.int16)).loudness_dbfs == float("-inf")
    assert clip_of(np.zeros(0, np.int16)).loudness_dbfs == float("-inf")


@pytest.mark.parametrize(
    "samples",
    [
        np.zeros(16_000),
        tone(100, 2.0, RATE_HZ),
        0.01 * np.random.default_rng(0).standard_normal(32_000),
        0.4 + 1e-4 * np.random.default_rng(0).standard_normal(32_000),
    ],
    ids=["digital silence", "hum", "steady noise", "microphone offset"],
)
def test_what_does_not_stand_out_of_its_background_is_silent(samples: np.ndarray) -> None:
    assert is_silent(clip_of((samples * 32767).astype(np.int16)))


@pytest.mark.parametrize("speech_dbov", [-26.0, -47.0, -55.0])
def test_a_soft_voice_stands_out_as_a_loud_one_does(speech_dbov: float) -> None:
    # At -43 to -47 dBov recordings of people lie that were made at arm's length with a low gain.
    speech = babble(3.0)
    speech *= 10 ** ((speech_dbov - loudness_dbov((speech * 32767).astype(np.int16))) / 20)
    hiss = 10 ** ((speech_dbov - 30) / 20) * np.random.default_rng(4).standard_normal(len(speech))
    clip = clip_of(np.rint((speech + hiss) * 32767).astype(np.int16))
    assert clip.loudness_dbfs == pytest.approx(speech_dbov, abs=1.0)
    assert speech_seconds(clip) == pytest.approx(1.5, abs=0.15)


def test_speech_seconds_counts_the_bursts_only() -> None:
    quiet = 1e-3 * np.random.default_rng(3).standard_normal(48_000)
    clip = clip_of(((babble(3.0) + quiet) * 32767).astype(np.int16))
    assert speech_seconds(clip) == pytest.approx(1.5, abs=0.15)
    assert not is_silent(clip)


@given(count=st.integers(0, 3000), block=st.integers(1, 1000))
def test_frames_put_together_are_the_clip(count: int, block: int) -> None:
    samples = np.arange(count).astype(np.int16)
    parts = list(frames(clip_of(samples), block))
    assert b"".join(parts) == samples.astype("<i2").tobytes()
    assert all(len(part) == 2 * block for part in parts[:-1])
    assert all(parts)


class Drip(io.RawIOBase):
    """A pipe that gives what it has, in odd portions."""

    def __init__(self, content: bytes, portion: int) -> None:
        self.content, self.portion, self.asked = content, portion, 0

    def read(self, size: int = -1) -> bytes:
        self.asked = max(self.asked, size)
        count = min(self.portion, size)
        out, self.content = self.content[:count], self.content[count:]
        return out


@pytest.mark.parametrize("rate", [8_000, 16_000, 44_100, 48_000])
@pytest.mark.parametrize("channels", [1, 2])
@pytest.mark.parametrize("portion", [5, 4096])
def test_a_raw_stream_comes_out_as_the_same_file_would(tmp_path: Path, rate: int, channels: int, portion: int) -> None:
    wide = np.repeat((babble(0.3, rate) * 20_000).astype("<i2")[:, None], channels, axis=1)
    soundfile.write(tmp_path / "a.wav", wide, rate)
    stream = Drip(wide.tobytes(), portion)
    streamed = np.frombuffer(b"".join(pcm_stream(stream, rate, channels, block=500)), "<i2")
    filed = read_audio(tmp_path / "a.wav").samples
    assert len(streamed) == len(filed)
    assert np.abs(streamed.astype(int) - filed).max() <= 1
    assert stream.asked <= 500 * 2 * channels


def test_a_stream_that_breaks_off_inside_a_sample_loses_only_that_sample() -> None:
    assert b"".join(pcm_stream(io.BytesIO(b"\x01\x00\x02\x00\x03"))) == b"\x01\x00\x02\x00"


@pytest.mark.parametrize(
    ("start", "code"),
    [
        (lambda: pcm_stream(io.BytesIO(b""), rate=100), "voice-sample-rate"),
        (lambda: pcm_stream(io.BytesIO(b""), rate=10**6), "voice-sample-rate"),
        (lambda: pcm_stream(io.BytesIO(b""), channels=0), "voice-channels"),
        (lambda: pcm_stream(io.BytesIO(b""), channels=33), "voice-channels"),
    ],
)
def test_an_impossible_stream_is_refused_with_a_sentence(start: Callable[[], object], code: str) -> None:
    with pytest.raises(AudioProblem, match=code):
        list(start())  # type: ignore[call-overload]
