"""Spoken sentences for the benchmark: voices that the model was not trained on, site noises, and a cache of both.

Levels, synthesizers and noises are those of `assets/demo/build_speech.py`, with those of `throats` and `noise`. Speech
is cached without noise, as 16-bit FLAC; noise is added when a recording is asked for, from its seed.
"""

from __future__ import annotations

import hashlib
import importlib.util
import re
import sys
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from types import ModuleType
from typing import Any

import numpy as np
import numpy.typing as npt
import soundfile
import soxr

from fieldassist.places import shipped
from fieldassist.voice.audio import RATE_HZ, Clip, clip_of
from tests.bench.voice import noise
from tests.bench.voice.accents import ACCENTS
from tests.bench.voice.throats import CannotSpeak, Throats

# None of them was in the training speech of the shipped model (models/NOTICE).
VOICES = (
    "flite_slt",
    "festival_kal",
    "festival_ked",
    "festival_slt_hts",
    "af_bella",
    "bm_george",
    "am_puck",
    "joe",
    "pico_en-GB",
)
# Throats that speak each accent, and two of the language itself.
ACCENTED = (
    *(f"{throat}:{accent}" for accent in ACCENTS for throat in ("joe", "flite_slt")),
    "espeak_es-419:Spanish",
    "espeak_pl:Slavic",
)
_NEURAL = frozenset({"af_bella", "bm_george", "am_puck"})
_MARGIN_DB = 20.0

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True)
class Condition:
    """What a recording is made in: no noise (`kind` None), or a noise of the site `snr_db` under the active speech."""

    name: str
    kind: str | None = None
    snr_db: float = 0.0


CLEAN = Condition("clean")
PINK_10 = Condition("pink, 10 dB", "pink", 10.0)
SAW_10 = Condition("saw, 10 dB", "saw", 10.0)
TOOLS_10 = tuple(
    Condition(f"{kind}, 10 dB", kind, 10.0) for kind in ("grinder", "mixer", "compressor", "radio", "hammer")
)
CONDITIONS = (CLEAN, PINK_10, Condition("pink, 0 dB", "pink", 0.0), SAW_10, Condition("saw, 0 dB", "saw", 0.0))


@dataclass
class Speech:
    """Synthetic speech with a cache.

    cache: folder for the speech; parts: folder with the unopened packages of the neural voices, or None.
    missing: voices that could not be used, with the reason.
    """

    cache: Path
    parts: Path | None
    missing: dict[str, str] = field(default_factory=dict)
    _builder: ModuleType | None = None
    _network: Any = None
    _throats: Throats | None = None

    def voices(self, among: Sequence[str] = VOICES) -> list[str]:
        """The voices that can speak here; the others are in `missing` from then on."""
        found = []
        for voice in among:
            try:
                self.say(voice, "yes")
            except CannotSpeak as problem:
                self.missing[voice] = str(problem)
            else:
                found.append(voice)
        return found

    def say(self, voice: str, words: str, speed: float = 1.0) -> Floats:
        """Bare speech at 16 kHz and at the level of a headset microphone, without silence around it.

        voice: of `VOICES`, or a throat that takes phones with one of the accents behind it: "joe:Spanish". CannotSpeak.
        """
        name = hashlib.sha256(f"{voice}|{words}|{speed:g}".encode()).hexdigest()[:24]
        path = self.cache / "speech" / voice / f"{name}.flac"
        if path.exists():
            return np.asarray(soundfile.read(path)[0], dtype=np.float64)
        builder = self._build()
        try:
            if voice in _NEURAL:
                spoken, rate = self._neural().speak(voice, _for_neural(words), speed)
            elif ":" in voice:
                spoken, rate = self._phones().speak(voice, _for_neural(words), speed)
            elif voice.startswith(("joe", "pico_")):
                spoken, rate = self._phones().speak(voice, _for_program(words), speed)
            else:
                spoken, rate = builder.speak_by_program(voice, _for_program(words), speed)
        except (builder.BuildError, ImportError) as problem:
            raise CannotSpeak(str(problem)) from problem
        speech = self.levelled(spoken, rate)
        path.parent.mkdir(parents=True, exist_ok=True)
        whole = path.with_suffix(".part")
        soundfile.write(whole, speech, RATE_HZ, format="FLAC", subtype="PCM_16")
        whole.replace(path)
        return np.asarray(soundfile.read(path)[0], dtype=np.float64)

    def levelled(self, spoken: Floats, rate: int) -> Floats:
        """Speech of any rate at 16 kHz, trimmed, and at the level of a headset microphone."""
        builder = self._build()
        return at_level(soxr.resample(builder.trimmed(spoken, rate), rate, RATE_HZ), builder.SPEECH_DBOV)

    def recording(self, voice: str, words: str, condition: Condition, seed: int, speed: float = 1.0) -> Clip:
        """What a microphone would have given: silence around the speech, the room's hiss, the noise asked for."""
        builder = self._build()
        lead, tail = (np.zeros(int(s * RATE_HZ)) for s in (builder.LEAD_S, builder.TAIL_S))
        return self.in_noise(np.concatenate([lead, self.say(voice, words, speed), tail]), condition, seed)

    def in_noise(self, sound: Floats, condition: Condition, seed: int) -> Clip:
        """`sound`, whose speech is at the usual level, in the hiss of a room and in noise."""
        builder = self._build()
        random = np.random.default_rng(seed)
        out = sound + random.standard_normal(len(sound)) * 10 ** (builder.ROOM_DBOV / 20)
        if condition.kind is not None:
            power = 10 ** ((builder.SPEECH_DBOV - condition.snr_db) / 10)
            make = noise.KINDS.get(condition.kind)
            made = builder.noise(condition.kind, len(sound), random) if make is None else make(len(sound), random)
            out = out + np.sqrt(power) * made
        out *= min(1.0, 0.97 / float(np.abs(out).max()))
        return clip_of(np.rint(out * 32767).astype(np.int16))

    @property
    def level_dbov(self) -> float:
        """The level of active speech in every recording."""
        return float(self._build().SPEECH_DBOV)

    def pronunciations(self) -> dict[str, str]:
        """ARPAbet for the trade's words, as the synthesizer has them."""
        return dict(self._build().TRADE_WORDS)

    def _build(self) -> ModuleType:
        if self._builder is None:
            path = shipped("assets") / "demo" / "build_speech.py"
            spec = importlib.util.spec_from_file_location("demo_build_speech", path)
            assert spec is not None
            assert spec.loader is not None
            self._builder = importlib.util.module_from_spec(spec)
            sys.modules[spec.name] = self._builder
            spec.loader.exec_module(self._builder)
        return self._builder

    def _phones(self) -> Throats:
        if self._throats is None:
            self._throats = Throats(self.parts, self.pronunciations())
        return self._throats

    def _neural(self) -> Any:
        if self.parts is None:
            raise CannotSpeak("no folder with the neural voices' packages was given (--parts)")
        if self._network is None:
            # A letter by itself is spoken by its name; as an article the dictionary has it otherwise.
            self._network = self._build().NeuralVoices(self.parts, {"a'": "EY1", "o'": "OW1"})
        return self._network


def at_level(speech: Floats, dbov: float) -> Floats:
    """Speech with its active part (20 ms frames within 20 dB of the loudest) at this level.

    >>> tone = np.sin(np.arange(16000.0))
    >>> round(10 * float(np.log10((at_level(tone, -23.0) ** 2).mean())), 1)
    -23.0
    """
    size = RATE_HZ // 50
    power = (speech[: len(speech) // size * size].reshape(-1, size) ** 2).mean(axis=1)
    active = float(power[power > power.max() * 10 ** (-_MARGIN_DB / 10)].mean())
    return np.asarray(speech * np.sqrt(10 ** (dbov / 10) / active))


_LETTER_A = re.compile(
    r"\ba(?=( (?:zero|oh|one|two|three|four|five|six|seven|eight|nine|ten|\w+teen|\w+ty|eleven|twelve)\b)|$)"
)


def _for_neural(words: str) -> str:
    """The letter A apart from the article.

    >>> _for_neural("tile a twelve lifted"), _for_neural("one and a half")
    ("tile a' twelve lifted", 'one and a half')
    """
    return _LETTER_A.sub("a'", words)


def _for_program(words: str) -> str:
    """Single letters large, so that they are spelled.

    >>> _for_program("tile b twelve lifted"), _for_program("a half")
    ('tile B twelve lifted', 'a half')
    """
    return re.sub(r"\b[b-hj-z]\b", lambda letter: letter.group().upper(), _LETTER_A.sub("A", words))
