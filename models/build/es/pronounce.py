"""How Spanish words are pronounced: by rule from their letters, and before that a list of our own for those that break
the rules.

Letters, stress and diphthongs follow the *Ortografía de la lengua española* (RAE and ASALE, 2010, chapters I and II,
from memory), in the pronunciation of America. Symbols with stress are the model's phones (phones.py), a vowel with 1
where the word is stressed and with 0 where not.
"""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

from models.build.es.phones import UNITS, VOWELS
from models.build.language import Pronunciation

HAND_LIST = Path(__file__).with_name("words_by_hand.txt")

_WORD = re.compile(r"[a-záéíóúüñ]+")
_PLAIN = str.maketrans("áéíóúü", "aeiouu")
# Letters to phones, the first that fits. V any vowel letter, E one of e and i, # the word's edge; what stands in
# brackets is only looked at. The vowels come later, since what is a glide depends on their neighbours.
_RULES = (
    ("(#)ps", "s"),
    ("cch", "ch"),
    ("ch", "ch"),
    ("c(c(?=E))", "k"),
    ("sc(E)", "s"),
    ("xc(E)", "k s"),
    ("c(E)", "s"),
    ("c", "k"),
    ("qu(E)", "k"),
    ("q", "k"),
    ("gu(E)", "g"),
    ("gü", "g w"),
    ("g(E)", "x"),
    ("g", "g"),
    ("j", "x"),
    ("ll", "y"),
    ("(#)hu(V)", "w"),
    ("(V)hu(V)", "w"),
    ("(#)hi(e)", "y"),
    ("sh", "ch"),
    ("h", ""),
    ("ñ", "ny"),
    ("(#)x", "s"),
    ("x", "k s"),
    ("z", "s"),
    ("v", "b"),
    ("w", "w"),
    ("(#)y(#)", "i"),
    ("y(V)", "y"),
    ("y", "j"),
    ("rr", "rr"),
    ("(#)r", "rr"),
    ("([lns])r", "rr"),
    ("r", "r"),
    ("ss", "s"),
    ("nn", "n"),
    ("tt", "t"),
    ("ff", "f"),
    ("ph", "f"),
)
_CLASSES = {"V": "[aeiouáéíóúü]", "E": "[eiéí]"}


def with_stress(word: str) -> tuple[Pronunciation, ...]:
    """Every way to say a word, in symbols with stress; () for what is no word of Spanish letters.

    >>> with_stress("queso"), with_stress("agüita"), with_stress("país")
    ((('k', 'e1', 's', 'o0'),), (('a0', 'g', 'w', 'i1', 't', 'a0'),), (('p', 'a0', 'i1', 's'),))
    >>> with_stress("3x")
    ()
    """
    if known := _by_hand().get(word):
        return known
    if not _WORD.fullmatch(word):
        return ()
    said = _stressed(_with_glides(_consonants(word)), word)
    return (said,) if any(symbol[-1].isdigit() for symbol in said) else ()


def model_phones(said: Pronunciation) -> Pronunciation:
    """Symbols with stress as the model's phones.

    >>> model_phones(("k", "e1", "s", "o0"))
    ('k', 'e', 's', 'o')
    """
    return tuple(symbol.rstrip("01") for symbol in said)


def _consonants(word: str) -> list[str]:
    """Phones for consonants, letters for vowels, accents kept."""
    found: list[str] = []
    at = 0
    while at < len(word):
        for pattern, before, phones in _compiled():
            match = pattern.match(word, at)
            if match and (before is None or before.search(word, 0, at)):
                found += phones
                at = match.end()
                break
        else:
            found.append(word[at])
            at += 1
    return found


@cache
def _compiled() -> tuple[tuple[re.Pattern[str], re.Pattern[str] | None, tuple[str, ...]], ...]:
    """Of each rule its own letters with what follows them, what stands before, and its phones."""
    rules = []
    for written, phones in _RULES:
        spelled = re.fullmatch(r"(?:\(([^()]+)\))?([^()]+)(?:\((.+)\))?", written)
        assert spelled is not None, written
        before, own, after = (part and re.sub("[VE]", lambda m: _CLASSES[m[0]], part) for part in spelled.groups())
        before, after = before and before.replace("#", "^"), after and after.replace("#", "$")
        pattern = re.compile(own + (f"(?={after})" if after else ""))
        rules.append((pattern, re.compile(f"{before}$") if before else None, tuple(phones.split())))
    return tuple(rules)


def _with_glides(phones: list[str]) -> list[str]:
    """i and u without an accent are glides beside another vowel: of two of them the first."""
    said = list(phones)
    for at, phone in enumerate(said):
        if phone in ("i", "u", "ü"):
            after = said[at + 1] if at + 1 < len(said) else ""
            before = said[at - 1] if at else ""
            strong = before in tuple("aeoáéíóú")
            if after in tuple("aeiouáéíóú") or strong:
                said[at] = "j" if phone == "i" else "w"
    return said


def _stressed(phones: list[str], word: str) -> Pronunciation:
    """The vowel with an accent; or the last but one of a word that ends in a vowel, n or s, else the last."""
    vowels = [at for at, phone in enumerate(phones) if phone.translate(_PLAIN) in VOWELS]
    marked = [at for at in vowels if phones[at] in tuple("áéíóú")]
    late = len(vowels) > 1 and (word[-1] in "nsaeiou")
    stressed = marked[0] if marked else vowels[-2 if late else -1] if vowels else -1
    return tuple(
        f"{phone.translate(_PLAIN)}{int(at == stressed)}" if at in vowels else phone for at, phone in enumerate(phones)
    )


@cache
def _by_hand() -> dict[str, tuple[Pronunciation, ...]]:
    """Word, tab, symbols with stress; lines that begin with # say nothing.

    Errors: `ValueError` for a line with a symbol that is none.
    """
    symbols = {*UNITS.phones} - {*VOWELS} | {vowel + stress for vowel in VOWELS for stress in "01"}
    found: dict[str, tuple[Pronunciation, ...]] = {}
    for line in HAND_LIST.read_text(encoding="utf-8").splitlines():
        if line.strip() and not line.startswith("#"):
            word, _, rest = line.partition("\t")
            said = tuple(rest.split())
            if wrong := [symbol for symbol in said if symbol not in symbols]:
                raise ValueError(f"{HAND_LIST.name}, {word!r}: {' '.join(wrong)} is none of the symbols")
            found[word] = (*found.get(word, ()), said)
    return found
