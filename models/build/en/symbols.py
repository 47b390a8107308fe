"""English words in the symbols of the synthesizers that are told phones."""

from __future__ import annotations

from collections.abc import Sequence

from models.build.en.accents import is_vowel, nearest

# Kokoro's symbols for ARPAbet: IPA, with capitals for five diphthongs (its documentation, from memory). AH and ER
# depend on stress and have rules of their own.
_IPA = {
    "AA": "ɑ", "AE": "æ", "AO": "ɔ", "AW": "W", "AY": "I", "B": "b", "CH": "ʧ", "D": "d", "DH": "ð", "EH": "ɛ",
    "EY": "A", "F": "f", "G": "ɡ", "HH": "h", "IH": "ɪ", "IY": "i", "JH": "ʤ", "K": "k", "L": "l", "M": "m",
    "N": "n", "NG": "ŋ", "OW": "O", "OY": "Y", "P": "p", "R": "ɹ", "S": "s", "SH": "ʃ", "T": "t", "TH": "θ",
    "UH": "ʊ", "UW": "u", "V": "v", "W": "w", "Y": "j", "Z": "z", "ZH": "ʒ",
    # Sounds of accents.py that English lacks.
    "a": "a", "e": "e", "o": "o", "eu": "œ", "r": "ɾ", "rr": "r", "rw": "ʁ", "x": "x", "bh": "β", "vv": "ʋ",
    "sh": "ʂ", "tt": "ʈ", "dd": "ɖ", "q": "ʔ",
}  # fmt: skip
_STRESS = {"1": "ˈ", "2": "ˌ"}
_ESPEAK_PHONEMES = {
    "AA": "A:", "AE": "a", "AH": "V", "AH0": "@", "AO": "O:", "AW": "aU", "AY": "aI", "B": "b", "CH": "tS", "D": "d",
    "DH": "D", "EH": "E", "ER": "3:", "ER0": "3", "EY": "eI", "F": "f", "G": "g", "HH": "h", "IH": "I", "IY": "i:",
    "JH": "dZ", "K": "k", "L": "l", "M": "m", "N": "n", "NG": "N", "OW": "oU", "OY": "OI", "P": "p", "R": "r",
    "S": "s", "SH": "S", "T": "t", "TH": "T", "UH": "U", "UW": "u:", "V": "v", "W": "w", "Y": "j", "Z": "z", "ZH": "Z",
}  # fmt: skip


def ipa(phones: Sequence[str]) -> str:
    """A word in Kokoro's symbols.

    >>> ipa(["T", "AY1", "L"]), ipa(["AH0", "B", "AH1", "V"]), ipa(["W", "AO1", "T", "ER0"])
    ('tˈIl', 'əbˈʌv', 'wˈɔtəɹ')
    """
    written = []
    for phone in phones:
        name = phone.rstrip("012")
        stress = phone[len(name) :]
        match name:
            case "AH":
                symbol = "ə" if stress == "0" else "ʌ"
            case "ER":
                symbol = "əɹ" if stress == "0" else "ɜɹ"
            case _:
                symbol = _IPA[name]
        written.append(_STRESS.get(stress, "") + symbol)
    return "".join(written)


def espeak_phonemes(phones: Sequence[str]) -> str:
    """A word in espeak-ng's phonemes of English (its documentation, "Phonemes").

    >>> espeak_phonemes(["W", "AO1", "r", "ER0"])
    "w'O:r3"
    """
    written = []
    for symbol in nearest(phones):
        name = symbol.rstrip("012")
        stress = {"1": "'", "2": ","}.get(symbol[len(name) :], "") if is_vowel(symbol) else ""
        written.append(stress + _ESPEAK_PHONEMES.get(symbol, _ESPEAK_PHONEMES[name]))
    return "".join(written)
