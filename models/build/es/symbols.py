"""Spanish words in the symbols of the synthesizers that are told phones."""

from __future__ import annotations

from collections.abc import Sequence

# IPA; b, d and g between vowels are the soft ones.
_IPA = {
    "a": "a", "e": "e", "i": "i", "o": "o", "u": "u", "j": "j", "w": "w", "b": "b", "ch": "ʧ", "d": "d", "f": "f",
    "g": "ɡ", "k": "k", "l": "l", "m": "m", "n": "n", "ny": "ɲ", "p": "p", "r": "ɾ", "rr": "r", "s": "s", "t": "t",
    "x": "x", "y": "ʝ",
}  # fmt: skip
_SOFT = {"b": "β", "d": "ð", "g": "ɣ"}
# espeak-ng's phonemes of Spanish (its documentation, "Phonemes").
_ESPEAK = {"ch": "tS", "ny": "n^", "r": "**", "rr": "R2", "y": "J^"}


def ipa(phones: Sequence[str]) -> str:
    """A word in IPA, the stress before its vowel.

    >>> ipa(["k", "a1", "b", "e0"]), ipa(["n", "i1", "ny", "o0"])
    ('kˈaβe', 'nˈiɲo')
    """
    written, between = [], False
    for symbol in phones:
        name = symbol.rstrip("01")
        mark = "ˈ" if symbol.endswith("1") else ""
        written.append(mark + (_SOFT[name] if between and name in _SOFT else _IPA[name]))
        between = symbol != name
    return "".join(written)


def espeak_phonemes(phones: Sequence[str]) -> str:
    """A word in espeak-ng's phonemes.

    >>> espeak_phonemes(["n", "i1", "ny", "o0"])
    "n'in^o"
    """
    return "".join(
        ("'" if symbol.endswith("1") else "") + _ESPEAK.get(name := symbol.rstrip("01"), name) for symbol in phones
    )
