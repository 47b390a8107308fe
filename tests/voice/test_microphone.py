"""A microphone for a day on site, driven here by a simulated device: nothing waits, nothing is lost unnoticed.

Published sources checked against: ITU-T G.100.1 (dBov: a full-scale square wave is 0, a full-scale sine -3.01).
The sounds of the tablet: ISO 7731:2003 (strongest part between 500 and 2,500 Hz; from memory).
"""

from __future__ import annotations

import itertools
import math
import sys
import threading
import time
from collections.abc import Callable, Iterator
from typing import Any

import numpy as np
import pytest

from fieldassist.language import Words
from fieldassist.trade.message import Message
from fieldassist.voice import earcons, microphone
from fieldassist.voice.earcons import NAMES, Loudspeaker, NoChime, earcon, find_chime
from fieldassist.voice.microphone import (
    END_S,
    LEAD_IN_S,
    RATE_HZ,
    Level,
    Microphone,
    NoMicrophone,
    SoundInput,
    choose_input,
    level_of,
)

BLOCK_S = 0.125
BLOCK = round(BLOCK_S * RATE_HZ)
SOON_S = 60.0  # far more than anything here takes; only a failure waits so long


def until(condition: Callable[[], bool], what: str) -> None:
    end = time.monotonic() + SOON_S
    while not condition():
        assert time.monotonic() < end, f"waited in vain: {what}"
        time.sleep(0.002)


class Device:
    """A simulated microphone: blocks are fed by hand, the plug is pulled by hand."""

    def __init__(self, rate: int = RATE_HZ, channels: int = 1) -> None:
        self.rate, self.channels, self.latency_s = rate, channels, 0.0
        self.plugged = True
        self.opened = 0
        self.closed = 0
        self._running = False
        self._take: Callable[[bytes, bool], None] | None = None

    def inputs(self) -> tuple[SoundInput, ...]:
        # The number changes with each look, as a real one may.
        return (SoundInput("Headset", 4 + self.opened, self.rate, True, self.channels),) if self.plugged else ()

    def open(self, chosen: SoundInput, take: Callable[[bytes, bool], None]) -> Device:
        if not self.plugged:
            raise NoMicrophone("gone between looking and opening")
        assert chosen.name == "Headset"
        self.opened += 1
        self._take, self._running = take, True
        return self

    def active(self) -> bool:
        return self._running

    def close(self) -> None:
        self.closed += 1
        self._running = False

    def unplug(self) -> None:
        self.plugged = self._running = False

    def feed(self, samples: np.ndarray, *, overflowed: bool = False) -> None:
        assert self._take is not None
        for start in range(0, len(samples), self.rate // 32):
            self._take(samples[start : start + self.rate // 32].astype("<i2").tobytes(), overflowed)


class Reader:
    """Takes the blocks in a thread, as the recognizer does."""

    def __init__(self, mic: Microphone) -> None:
        self.blocks: list[bytes] = []
        self.ended = threading.Event()
        self._mic = mic
        self._thread = threading.Thread(target=self._read, daemon=True)
        self._thread.start()

    def _read(self) -> None:
        for block in self._mic.frames():
            self.blocks.append(block)
        self.ended.set()

    @property
    def samples(self) -> np.ndarray:
        return np.frombuffer(b"".join(self.blocks), dtype="<i2")

    def has(self, seconds: float) -> None:
        until(lambda: len(self.samples) >= round(seconds * RATE_HZ), f"{seconds} s of sound")


def noise(seconds: float, level: float = 0.1, rate: int = RATE_HZ, seed: int = 1) -> np.ndarray:
    """Never two equal samples' worth of digital silence, never clipped."""
    random = np.random.default_rng(seed)
    return np.clip(random.uniform(-level, level, round(seconds * rate)) * 32767, -32000, 32000).astype(np.int16) | 1


@pytest.fixture(autouse=True)
def _fed_faster_than_life(monkeypatch: pytest.MonkeyPatch) -> None:
    """A test hands over seconds of sound in a moment, which a device never does."""
    monkeypatch.setattr(microphone, "_RAW_BLOCKS", 10_000)


@pytest.fixture
def device() -> Device:
    return Device()


@pytest.fixture
def warnings() -> list[Message]:
    return []


@pytest.fixture
def mic(device: Device, warnings: list[Message]) -> Iterator[Microphone]:
    with Microphone(driver=device, block_s=BLOCK_S, on_warning=warnings.append) as opened:
        yield opened


# --- what comes out -----------------------------------------------------------------------------------------------


def test_sound_at_16_khz_comes_out_bit_for_bit_in_blocks_of_the_asked_length(mic: Microphone, device: Device) -> None:
    reader, sound = Reader(mic), noise(2.0)
    device.feed(sound)
    reader.has(2.0)
    assert {len(block) for block in reader.blocks} == {2 * BLOCK}
    assert np.array_equal(reader.samples, sound)
    assert mic.lost_s == 0


@pytest.mark.parametrize(("rate", "channels"), [(8_000, 1), (44_100, 1), (44_100, 2), (48_000, 2), (96_000, 4)])
def test_a_device_of_another_rate_or_more_channels_gives_the_same_tone_at_the_same_level(
    rate: int, channels: int
) -> None:
    device = Device(rate, channels)
    tone = np.rint(16_000 * np.sin(2 * np.pi * 1000 * np.arange(2 * rate) / rate)).astype(np.int16)
    with Microphone(driver=device, block_s=BLOCK_S) as mic:
        reader = Reader(mic)
        device.feed(np.repeat(tone[:, None], channels, axis=1))
        reader.has(1.75)
    middle = reader.samples[4000:20000].astype(float)
    spectrum = np.abs(np.fft.rfft(middle * np.hanning(len(middle))))
    assert np.argmax(spectrum) * RATE_HZ / len(middle) == pytest.approx(1000, abs=2)
    assert np.abs(middle).max() == pytest.approx(16_000, rel=0.01)
    # No steps where blocks meet: a sampled sine turns by at most 2 sin(pi f / fs) of its peak from sample to sample.
    assert np.abs(np.diff(middle)).max() <= 16_000 * 2 * math.sin(math.pi * 1000 / RATE_HZ) * 1.01


def test_the_blocks_end_after_closing_with_what_waited(device: Device) -> None:
    mic = Microphone(driver=device, block_s=BLOCK_S)
    with mic:
        device.feed(noise(1.0))
        until(lambda: math.isfinite(mic.level().rms_dbfs), "a level")
    assert len(list(mic.frames())) <= 8
    assert device.closed == 1


# --- nothing waits ------------------------------------------------------------------------------------------------


def test_a_recognizer_that_does_not_keep_up_loses_the_oldest_sound_counted_and_marked(
    mic: Microphone, device: Device, warnings: list[Message]
) -> None:
    sound = noise(microphone.QUEUE_S + 5)
    for start in range(0, len(sound), BLOCK):
        device.feed(sound[start : start + BLOCK])
    until(lambda: mic.lost_s >= 5.0, "the count of lost sound")
    assert mic.lost_s == pytest.approx(5.0)
    assert not warnings, "while nobody reads, nobody misses anything"
    reader = Reader(mic)
    reader.has(microphone.QUEUE_S)
    assert np.array_equal(reader.samples, sound[-round(microphone.QUEUE_S * RATE_HZ) :])
    assert not mic.whole(0, 1), "sound is missing before the first block"
    assert mic.whole(1, microphone.QUEUE_S)


def test_a_reader_that_stops_reading_is_told_that_sound_was_lost(
    mic: Microphone, device: Device, warnings: list[Message]
) -> None:
    blocks = mic.frames()
    device.feed(noise(1.0))
    next(blocks)
    device.feed(noise(microphone.QUEUE_S + 1))
    until(lambda: bool(warnings), "the warning")
    assert [w.code for w in warnings] == ["voice-warn-lost"]


def test_a_device_never_waits_for_a_microphone_thread_that_is_stuck(
    device: Device, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(microphone, "_RAW_BLOCKS", 8)
    stuck, go_on = threading.Event(), threading.Event()

    def slow(_: str) -> None:
        stuck.set()
        go_on.wait(SOON_S)

    sound = noise(10.0)
    with Microphone(driver=device, block_s=BLOCK_S, on_warning=slow) as mic:
        reader = Reader(mic)
        until(lambda: mic._read, "the reader")
        device.feed(sound[:500], overflowed=True)
        assert stuck.wait(SOON_S)
        device.feed(sound)
        go_on.set()
        until(lambda: len(reader.samples) >= 4000, "what was kept")
        assert np.array_equal(reader.samples[500:4000], sound[-4000:-500]), "the newest is kept"
        assert not mic.whole(0.1, 0.2)


def test_an_overflow_told_by_the_device_is_a_hole(mic: Microphone, device: Device, warnings: list[Message]) -> None:
    reader = Reader(mic)
    until(lambda: mic._read, "the reader")
    device.feed(noise(1.0))
    device.feed(noise(1.0), overflowed=True)
    reader.has(2.0)
    assert mic.whole(0.0, 0.9)
    assert not mic.whole(0.5, 1.5)
    assert "voice-warn-lost" in {w.code for w in warnings}


# --- plug and unplug ----------------------------------------------------------------------------------------------


def test_pulling_the_plug_and_putting_it_in_again_goes_on_with_the_same_iterator(
    mic: Microphone, device: Device, warnings: list[Message]
) -> None:
    reader, before, after = Reader(mic), noise(1.0, seed=2), noise(1.0, seed=3)
    device.feed(before)
    reader.has(1.0)
    device.unplug()
    reader.has(1.0 + END_S)
    until(lambda: "voice-warn-gone" in {w.code for w in warnings}, "the warning")
    assert mic.level() == Level(-math.inf, -math.inf, clipped=False, dead=True)
    device.plugged = True
    until(lambda: device.opened == 2, "the device opened again")
    device.feed(after)
    reader.has(2.0 + END_S)
    assert np.array_equal(reader.samples[: len(before)], before)
    assert not reader.samples[len(before) : -len(after)].any(), "silence ends the broken utterance"
    assert np.array_equal(reader.samples[-len(after) :], after)
    assert not mic.whole(0.5, 1.5)
    assert mic.whole(1.0 + END_S, 2.0 + END_S)
    until(lambda: "voice-warn-back" in {w.code for w in warnings}, "the good news")
    assert not reader.ended.is_set()


def test_a_microphone_named_by_its_number_is_found_again_under_another_number(device: Device) -> None:
    with Microphone(4, driver=device) as mic:
        device.unplug()
        device.plugged = True
        until(lambda: device.opened == 2, "the device opened again")
        assert device.inputs()[0].index != 4
        assert mic.name == "Headset"


def test_a_device_that_says_nothing_any_more_is_opened_again(
    device: Device, warnings: list[Message], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(microphone, "STALL_S", 0.2)
    with Microphone(driver=device, on_warning=warnings.append):
        device.feed(noise(0.5))
        assert device.active()
        until(lambda: device.opened >= 2, "the device opened again")
    assert "voice-warn-gone" in {w.code for w in warnings}


def test_without_any_microphone_the_reason_says_what_to_do(device: Device) -> None:
    device.unplug()
    with pytest.raises(NoMicrophone, match="voice-no-microphone"), Microphone(driver=device):
        pass


def test_without_portaudio_the_reason_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "sounddevice", None)
    monkeypatch.setattr(microphone, "PORTAUDIO", microphone._Library())
    monkeypatch.setattr(earcons, "PORTAUDIO", microphone.PORTAUDIO)
    with pytest.raises(NoMicrophone, match="voice-no-sounddevice"):
        microphone.list_inputs()
    assert isinstance(find_chime(), NoChime)

    class Broken:
        def find_spec(self, name: str, *_: Any) -> None:
            if name == "sounddevice":
                raise OSError("PortAudio library not found")

    monkeypatch.delitem(sys.modules, "sounddevice")
    monkeypatch.setattr(sys, "meta_path", [Broken(), *sys.meta_path])
    with pytest.raises(NoMicrophone, match="voice-no-portaudio"):
        microphone.list_inputs()


@pytest.mark.parametrize("device", ["head", "HEADSET", "USB Headset", 7, "7"])
def test_a_device_is_chosen_by_number_name_or_part_of_it(device: str | int) -> None:
    inputs = (SoundInput("USB Headset", 7, 48_000, False), SoundInput("Board", 1, 44_100, True))
    assert choose_input(inputs, device).index == 7


@pytest.mark.parametrize(
    ("device", "reason"),
    [("mast", "voice-no-such-microphone"), (9, "voice-no-such-microphone"), ("b", "voice-which-microphone")],
)
def test_a_device_that_is_not_clear_is_refused_with_the_choice(device: str | int, reason: str) -> None:
    inputs = (SoundInput("USB Headset", 7, 48_000, False), SoundInput("Board", 1, 44_100, True))
    with pytest.raises(NoMicrophone, match=reason) as refusal:
        choose_input(inputs, device)
    assert "7 USB Headset" in Words().of(refusal.value)


# --- who may be heard ---------------------------------------------------------------------------------------------


def test_with_hold_to_talk_only_held_sound_flows_and_release_ends_the_utterance(device: Device) -> None:
    with Microphone(driver=device, block_s=BLOCK_S, hold_to_talk=True) as mic:
        reader = Reader(mic)
        device.feed(noise(1.0, seed=4))
        until(lambda: math.isfinite(mic.level().rms_dbfs), "the meter shows sound that does not flow")
        time.sleep(0.05)
        assert not reader.blocks
        mic.hold()
        assert mic.held
        held = noise(1.0, seed=5)
        device.feed(held)
        reader.has(LEAD_IN_S + 1.0)
        mic.release()
        assert not mic.held
        until(lambda: time.monotonic() > mic._gate._held_until, "the last moment over")
        device.feed(noise(1.0, seed=6))
        reader.has(LEAD_IN_S + 1.0 + END_S)
    assert reader.ended.wait(SOON_S)
    begin, end = round(LEAD_IN_S * RATE_HZ), round(LEAD_IN_S * RATE_HZ) + len(held)
    assert not reader.samples[:begin].any()
    assert np.array_equal(reader.samples[begin:end], held)
    assert not reader.samples[end:].any()
    assert mic.whole(0, 10)


def test_the_last_syllable_after_an_early_release_is_still_heard(device: Device) -> None:
    with Microphone(driver=device, block_s=BLOCK_S, hold_to_talk=True) as mic:
        reader = Reader(mic)
        mic.hold()
        device.feed(noise(0.5, seed=7))
        reader.has(LEAD_IN_S + 0.5)
        mic.release()
        last = noise(0.125, seed=8)
        device.feed(last)
        reader.has(LEAD_IN_S + 0.625)
        assert np.array_equal(reader.samples[-len(last) :], last)


def test_while_the_tablet_speaks_silence_flows_in_place_of_its_voice(mic: Microphone, device: Device) -> None:
    reader, before, own, after = Reader(mic), noise(1.0, seed=9), noise(1.0, seed=10), noise(1.0, seed=11)
    device.feed(before)
    reader.has(1.0)
    mic.mute()
    device.feed(own)
    reader.has(2.0)
    mic.unmute()
    device.feed(own[:BLOCK])  # the room still sounds
    reader.has(2.125)
    until(lambda: time.monotonic() > mic._gate._muted_until, "the tail over")
    device.feed(after)
    reader.has(3.125)
    assert np.array_equal(reader.samples[: len(before)], before)
    assert not reader.samples[len(before) : -len(after)].any()
    assert np.array_equal(reader.samples[-len(after) :], after)
    assert mic.whole(0.1, 0.9)
    assert not mic.whole(0.5, 1.5), "what the tablet talked into may lack a word"
    assert mic.whole(2.5, 3.1)


def test_whoever_presses_the_button_to_cut_the_tablet_off_need_not_wait_for_its_tail(device: Device) -> None:
    with Microphone(driver=device, block_s=BLOCK_S, hold_to_talk=True) as mic:
        mic.mute()
        mic.unmute(SOON_S)
        mic.hold()
        reader, speech, begun = Reader(mic), noise(0.25), time.monotonic()

        def heard() -> bool:
            device.feed(speech)
            return bool(reader.samples.any())

        until(heard, "the speech")
        assert microphone.BARGE_IN_S * 0.9 <= time.monotonic() - begun < SOON_S / 2


def test_two_that_mute_must_both_unmute_and_an_unmute_too_many_does_no_harm(mic: Microphone, device: Device) -> None:
    reader = Reader(mic)
    mic.unmute(0)
    mic.mute()
    mic.mute()
    mic.unmute(0)
    device.feed(noise(0.5))
    reader.has(0.5)
    assert not reader.samples.any()
    mic.unmute(0)
    device.feed(noise(0.5))
    reader.has(1.0)
    assert reader.samples[8000:].any()


# --- meter and warnings -------------------------------------------------------------------------------------------


def test_levels_are_those_of_g_100_1_for_a_full_scale_square_and_sine() -> None:
    square = np.tile(np.array([-32768] * 8 + [32767] * 8, dtype=np.int16), 1000)
    sine = np.rint(32767 * np.sin(2 * np.pi * 1000 * np.arange(16_000) / 16_000)).astype(np.int16)
    assert level_of(square) == pytest.approx((0.0, 0.0), abs=0.001)
    assert level_of(sine) == pytest.approx((0.0, -3.01), abs=0.01)
    assert level_of(np.zeros(10, dtype=np.int16)) == (-math.inf, -math.inf)
    assert level_of(np.zeros(0, dtype=np.int16)) == (-math.inf, -math.inf)


def test_the_meter_follows_the_sound_and_forgets_it_in_a_quarter_second(mic: Microphone, device: Device) -> None:
    device.feed(noise(0.25, 0.5))
    until(lambda: mic.level().rms_dbfs > -12, "a loud level")
    loud = mic.level()
    assert loud.rms_dbfs == pytest.approx(20 * math.log10(0.5 / math.sqrt(3)), abs=0.3)
    assert loud.peak_dbfs == pytest.approx(20 * math.log10(0.5), abs=0.2)
    assert not loud.clipped
    assert not loud.dead
    time.sleep(0.26)
    device.feed(noise(0.125, 0.005))
    until(lambda: mic.level().rms_dbfs < -45, "a soft level")


def test_the_bar_of_the_meter_grows_with_the_level() -> None:
    bars = [Level(db + 3, db, clipped=False, dead=False).bar() for db in range(-60, -2)]
    assert {len(bar) for bar in bars} == {18}
    counts = [bar.count("#") for bar in bars]
    assert counts == sorted(counts)
    assert Level(-math.inf, -math.inf, clipped=False, dead=True).bar() == "." * 18


def test_sound_that_is_too_loud_is_warned_of_once(mic: Microphone, device: Device, warnings: list[Message]) -> None:
    reader, loud = Reader(mic), np.clip(noise(1.0, 0.9).astype(np.int32) * 3, -32768, 32767).astype(np.int16)
    device.feed(loud)
    reader.has(1.0)
    until(lambda: bool(warnings), "the warning")
    assert mic.level().clipped
    device.feed(loud)
    reader.has(2.0)
    assert [w.code for w in warnings] == ["voice-warn-clipping"]


def test_one_bang_shows_on_the_meter_without_a_warning(
    mic: Microphone, device: Device, warnings: list[Message]
) -> None:
    reader, sound = Reader(mic), noise(1.0)
    sound[8000:8010] = 32767
    device.feed(sound)
    reader.has(1.0)
    assert mic.level().clipped
    assert not warnings


def test_digital_silence_is_a_dead_microphone_and_the_faintest_hiss_is_not(
    device: Device, warnings: list[Message], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(microphone, "DEAD_S", 0.2)
    hiss = (np.random.default_rng(1).integers(0, 2, BLOCK)).astype(np.int16)
    with Microphone(driver=device, on_warning=warnings.append) as mic:
        end = time.monotonic() + 0.3
        while time.monotonic() < end:
            device.feed(hiss)
            time.sleep(0.02)
        assert not mic.level().dead
        assert not warnings

        def silence() -> bool:
            device.feed(np.zeros(BLOCK, dtype=np.int16))
            return mic.level().dead

        until(silence, "the microphone found dead")
        until(lambda: bool(warnings), "the warning")
        assert warnings[0].code == "voice-warn-dead"
        device.feed(hiss)
        until(lambda: not mic.level().dead, "the microphone found alive")
        until(lambda: len(warnings) == 2, "the good news")
        assert warnings[1].code == "voice-warn-alive"


def test_a_screen_that_fails_on_a_warning_does_not_end_the_listening(device: Device) -> None:
    def broken(sentence: str) -> None:
        raise RuntimeError(sentence)

    with Microphone(driver=device, on_warning=broken) as mic:
        reader = Reader(mic)
        until(lambda: mic._read, "the reader")
        device.feed(noise(0.5), overflowed=True)
        device.feed(noise(0.5))
        reader.has(1.0)


# --- the tablet's own sounds --------------------------------------------------------------------------------------


def notes_of(sound: np.ndarray) -> int:
    """How many times the level rises from nothing."""
    on = np.array([np.abs(part).max() > 2000 for part in np.array_split(sound.astype(int), len(sound) // 80)])
    return int(np.count_nonzero(on & ~np.concatenate([[False], on[:-1]])))


def bands(sound: np.ndarray) -> np.ndarray:
    """Energy in thirds of an octave from 500 Hz, as a direction."""
    power = np.abs(np.fft.rfft(sound.astype(float), 16_384)) ** 2
    hz = np.fft.rfftfreq(16_384, 1 / RATE_HZ)
    edges = 500 * 2 ** (np.arange(13) / 3)
    energy = np.array([power[(hz >= a) & (hz < b)].sum() for a, b in itertools.pairwise(edges)])
    return np.asarray(np.sqrt(energy / energy.sum()))


@pytest.mark.parametrize("name", NAMES)
def test_an_earcon_is_short_unclipped_free_of_clicks_and_strongest_where_iso_7731_wants_it(
    name: earcons.ChimeName,
) -> None:
    sound = earcon(name)
    assert sound.dtype == np.int16
    assert 0.1 <= len(sound) / RATE_HZ < 0.5
    peak = 0.14 if name == "dropped" else 0.7  # soft: nobody may have spoken to the tablet
    assert np.abs(sound.astype(int)).max() == pytest.approx(peak * 32767, rel=0.01)
    assert abs(int(sound[0])) < 50
    assert abs(int(sound[-1])) < 50
    assert abs(float(sound.mean())) < 30
    power = np.abs(np.fft.rfft(sound.astype(float)))
    assert 500 <= np.argmax(power) * RATE_HZ / len(sound) <= 2500


def test_rhythm_alone_tells_the_earcons_apart() -> None:
    assert [notes_of(earcon(name)) for name in NAMES] == [2, 1, 3, 5, 4]


@pytest.mark.parametrize(("one", "other"), list(itertools.combinations(NAMES, 2)))
def test_the_sound_alone_tells_two_earcons_apart(one: earcons.ChimeName, other: earcons.ChimeName) -> None:
    assert float(bands(earcon(one)) @ bands(earcon(other))) < 0.75


def test_kept_goes_up_and_refused_goes_down() -> None:
    def pitches(name: earcons.ChimeName) -> list[float]:
        sound = earcon(name)
        first, last = sound[:1000], sound[-1000:]
        return [float(np.argmax(np.abs(np.fft.rfft(part.astype(float), 16_384)))) for part in (first, last)]

    assert pitches("kept")[0] < pitches("kept")[1]
    assert pitches("asking")[0] < pitches("asking")[1]
    assert pitches("refused")[0] > pitches("refused")[1]


def test_an_unknown_earcon_is_refused() -> None:
    with pytest.raises(ValueError, match="there are kept, asking, refused, time is up, dropped"):
        earcon("fanfare")  # type: ignore[arg-type]


def test_without_a_loudspeaker_the_sounds_are_silent_and_the_microphone_is_let_go_again(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    class Nothing(microphone._Library):
        def load(self) -> Any:
            raise NoMicrophone("no sound here")

    monkeypatch.setattr(earcons, "PORTAUDIO", Nothing())
    told: list[str] = []
    chime = Loudspeaker(lambda: told.append("start"), lambda: told.append("end"))
    chime.play("kept")
    chime.play("time is up", 2)
    assert chime.wait(SOON_S)
    chime.close()
    assert told == ["start", "end"] * 2
