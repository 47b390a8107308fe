"""Speech of SVOX Pico (Apache-2.0, in the PyPI package `py-nanotts`): small, quick, one voice a language.

It takes phones (X-SAMPA), so that its voices of other languages read English too, with the sounds that they have.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from random import Random
from typing import Any

import numpy as np
import numpy.typing as npt

from models.build.en.accents import is_vowel, nearest

HELD_OUT = "en-GB"
"""The voice that nothing is trained on."""

_ENGLISH = """
    AA=A: AE={ AH=V AH0=@ AO=O: AW=a_U AY=a_I EH=E ER=3:r\\\\ ER0=@` EY=e_I IH=I IY=i: OW=o_U OY=O_I UH=U UW=u: B=b
    CH=t_S D=d DH=D F=f G=g HH=h JH=d_Z K=k L=l M=m N=n NG=N P=p R=r\\\\ S=s SH=S T=t TH=T V=v W=w Y=j Z=z ZH=Z
"""
_GERMAN = """
    AA=a AE=E AH=a AH0=@ AO=O AW=a_U AY=a_I EH=E ER=96 EY=e: IH=I IY=i: OW=o: OY=O_Y UH=U UW=u: B=b CH=t_S D=d DH=z F=f
    G=g HH=h JH=d_Z K=k L=l M=m N=n NG=N P=p R=R S=s SH=S T=t TH=s V=v W=v Y=j Z=z ZH=Z
"""
_FRENCH = """
    AA=a AE=a AH=9 AH0=@ AO=O AW=au AY=aj EH=E ER=9R EY=e IH=i IY=i OW=o OY=Oj UH=u UW=u B=b CH=tS D=d DH=z F=f G=g HH=
    JH=dZ K=k L=l M=m N=n NG=N P=p R=R S=s SH=S T=t TH=s V=v W=w Y=j Z=z ZH=Z
"""
_ITALIAN = """
    AA=a AE=E AH=a AO=O: AW=a_u AY=a_i EH=E ER=er EY=e_i IH=i IY=i: OW=o OY=o_i UH=u UW=u: B=b CH=t_S D=d DH=d F=f G=g
    HH= JH=d_Z K=k L=l M=m N=n NG=n P=p R=r S=s SH=S T=t TH=t V=v W=u Y=i Z=z ZH=S
"""
_SPANISH = """
    AA=a AE=a AH=a AO=o AW=a.u AY=a.i EH=e ER=er EY=e.i IH=i IY=i OW=o OY=o.i UH=u UW=u B=b CH=t_S D=d DH=d F=f G=g HH=x
    JH=d_Z K=k L=l M=m N=n NG=n P=p R=r S=s SH=t_S T=t TH=T V=b W=gu Y=j Z=s ZH=s
"""
_SYMBOLS = {"en-US": _ENGLISH, "de-DE": _GERMAN, "fr-FR": _FRENCH, "it-IT": _ITALIAN, "es-ES": _SPANISH}
VOICES = {"en-US": 0.55, "it-IT": 0.15, "de-DE": 0.12, "fr-FR": 0.08, "es-ES": 0.10}
"""How often each voice speaks."""


def symbols(phones: Sequence[str], voice: str) -> str:
    """A word in a voice's symbols; phones: CMUdict's with stress, or those of accents.py.

    >>> symbols(["T", "AY1", "L"], "en-US"), symbols(["TH", "r", "IY1"], "it-IT")
    ("t'a_Il", "tr'i:")
    """
    table = _table(voice)
    written = []
    for symbol in nearest(phones):
        name = symbol.rstrip("012")
        stressed = "'" if symbol.endswith("1") and is_vowel(symbol) else ""
        written.append(stressed + table.get(symbol, table[name]))
    return "".join(written)


def say(words: Sequence[Sequence[str]], voice: str, random: Random) -> npt.NDArray[np.int16]:
    """A sentence, every word by its phones, at a drawn speed and pitch: 16 kHz.

    Errors: `SystemExit` where the package is missing.
    """
    text = " ".join(f'<phoneme ph="{symbols(word, voice)}"/>' for word in words)
    sound = _speaker().speak(text, voice=voice, speed=random.uniform(0.8, 1.3), pitch=random.uniform(0.75, 1.3))
    return np.frombuffer(sound, "<i2").astype(np.int16)


@cache
def _table(voice: str) -> dict[str, str]:
    return {phone: symbol for phone, _, symbol in (pair.partition("=") for pair in _SYMBOLS[voice].split())}


@cache
def _speaker() -> Any:
    try:
        from py_nanotts import NanoTTS
    except ImportError as error:
        raise SystemExit("pico is missing: pip install py-nanotts") from error
    return NanoTTS()
