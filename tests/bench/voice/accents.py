"""Foreign accents, by rule: English words in the sounds that speakers of other languages put in their place.

No recorded learners: rules over the phones of CMUdict for voices that take phones. They are few and coarse, and the same
in every word: a strong accent. The substitutions are those that handbooks for teachers name (M. Swan and B. Smith, Learner
English, 2nd ed., Cambridge 2001; from memory); Haitian ones are common practice, no published source.
"""  # noqa: E501 (a file's first line cannot be broken)

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TypeAlias

# ARPAbet with or without figures for the stress: "AY1".
Phones: TypeAlias = list[str]
Accent: TypeAlias = Callable[[Phones], Phones]

VOWELS = frozenset(("AA", "AE", "AH", "AO", "AW", "AY", "EH", "ER", "EY", "IH", "IY", "OW", "OY", "UH", "UW"))
_MUTED = {"B": "P", "D": "T", "G": "K", "V": "F", "Z": "S", "JH": "CH", "DH": "S"}
_NASALS = frozenset(("M", "N", "NG"))


def bare(phone: str) -> str:
    """A phone without its stress.

    >>> bare("AY1"), bare("T")
    ('AY', 'T')
    """
    return phone.rstrip("012")


def _table(text: str) -> dict[str, Phones]:
    """Phones and what stands in their place: "IH=IY ER=EH+R"."""
    return {old: new.split("+") for old, new in (pair.split("=") for pair in text.split())}


_SPANISH = _table("IH=IY AE=AA AH=AA UH=UW V=B Z=S TH=T DH=D SH=CH JH=Y ER=EH+R NG=N AO=OW ZH=S")
_SLAVIC = _table("IH=IY AE=EH AH=AA UH=UW W=V TH=S DH=Z ER=EH+R NG=N+G")
_VIETNAMESE = _table("IH=IY AE=EH UH=UW TH=T DH=D SH=S ZH=Z JH=Z ER=AH")
_CHINESE = _table("IH=IY AE=EH UH=UW TH=S DH=Z V=W ZH=R ER=AH")
_PORTUGUESE = _table("IH=IY AE=EH UH=UW AH=AA TH=T DH=D ER=EH+R NG=N AO=OW")
_HAITIAN = _table("IH=IY AE=AA UH=UW AH=AO TH=T DH=D R=W ER=EH JH=ZH CH=SH NG=N")
_ARABIC = _table("P=B V=F TH=S DH=Z NG=N+G AO=OW ER=EH+R ZH=Z CH=SH EH=IH AH=AA")
_VIETNAMESE_ENDS = {"D": "T", "B": "P", "G": "K", "V": "P", "F": "P", "L": "N", "S": "T", "Z": "T", "CH": "T"}


def _is_vowel(phone: str) -> bool:
    return bare(phone) in VOWELS


def _in_place(phones: Phones, table: Mapping[str, Phones]) -> Phones:
    found: Phones = []
    for phone in phones:
        stress = phone[len(bare(phone)) :]
        found += [new + (stress if new in VOWELS else "") for new in table.get(bare(phone), [bare(phone)])]
    return found


def _one_consonant_at_the_end(phones: Phones) -> Phones:
    while len(phones) > 2 and not any(_is_vowel(phone) for phone in phones[-2:]):
        phones = phones[:-1]
    return phones


def _unstressed(vowel: str, like: Phones) -> str:
    return vowel + ("0" if any(phone[-1].isdigit() for phone in like) else "")


def _vowel_before_s(phones: Phones, vowel: str) -> Phones:
    starts_with_s = phones[0] == "S" and len(phones) > 1 and not _is_vowel(phones[1])
    return [_unstressed(vowel, phones), *phones] if starts_with_s else phones


def spanish(phones: Phones) -> Phones:
    """Five vowels, no z and no th, a vowel before s and a consonant, one consonant at the end of a word.

    >>> " ".join(spanish("S T EH P".split())), " ".join(spanish("V OY1 D Z".split()))
    ('EH S T EH P', 'B OY1 D')
    """
    return _one_consonant_at_the_end(_vowel_before_s(_in_place(phones, _SPANISH), "EH"))


def slavic(phones: Phones) -> Phones:
    """No w and no th, a tense i, no voice at the end of a word.

    >>> " ".join(slavic("W EH1 D".split()))
    'V EH1 T'
    """
    found = _in_place(phones, _SLAVIC)
    return [*found[:-1], _MUTED.get(found[-1], found[-1])]


def vietnamese(phones: Phones) -> Phones:
    """One consonant at the end of a word, and few that may stand there.

    >>> " ".join(vietnamese("T AY L Z".split()))
    'T AY N'
    """
    found = _one_consonant_at_the_end(_in_place(phones, _VIETNAMESE))
    return [*found[:-1], _VIETNAMESE_ENDS.get(found[-1], found[-1])] if len(found) > 2 else found


def chinese(phones: Phones) -> Phones:
    """No v and no th, no voice at the end of a word, l there a vowel, a vowel after the first of two end consonants.

    >>> " ".join(chinese("V OY1 D".split())), " ".join(chinese("T AY1 L".split())), " ".join(chinese("M IH1 K S T".split()))
    ('W OY1 T', 'T AY1 OW0', 'M IY1 K AH0 S')
    """  # noqa: E501
    found = _in_place(phones, _CHINESE)
    if len(found) > 2 and found[-1] == "L":
        return [*found[:-1], _unstressed("OW", found)]
    consonants = len(found) - 1 - max((place for place, phone in enumerate(found) if _is_vowel(phone)), default=0)
    if consonants > 1 and found[-consonants] not in _NASALS | {"L", "R"}:
        found = [*found[: 1 - consonants], _unstressed("AH", found), found[1 - consonants]]
    elif consonants > 1:
        found = found[: len(found) - consonants + 1]
    return [*found[:-1], _MUTED.get(found[-1], found[-1])]


def portuguese(phones: Phones) -> Phones:
    """t and d before i soft, r at the start of a word breathed, l at an end a vowel, i before s and a consonant and after
    a stop at the end.

    >>> " ".join(portuguese("R IY1 D".split())), " ".join(portuguese("T IY1 N".split())), " ".join(portuguese("S T AA1 P".split()))
    ('HH IY1 JH IY0', 'CH IY1 N', 'IY0 S T AA1 P IY0')
    """  # noqa: E501
    found = _vowel_before_s(_in_place(phones, _PORTUGUESE), "IY")
    if found[-1] in ("P", "B", "T", "D", "K", "G"):
        found = [*found, _unstressed("IY", found)]
    if found[-1] == "L" and len(found) > 2:
        found = [*found[:-1], _unstressed("UW", found)]
    soft = {"T": "CH", "D": "JH"}
    following = [*found[1:], ""]
    found = [soft.get(one, one) if bare(after) == "IY" else one for one, after in zip(found, following, strict=True)]
    return ["HH", *found[1:]] if found[0] == "R" else found


def haitian(phones: Phones) -> Phones:
    """No th, r a w and lost before consonants and ends, h lost at the start, one consonant at the end.

    >>> " ".join(haitian("TH ER1 D".split())), " ".join(haitian("HH AA1 R D".split())), " ".join(haitian("R EH1 S T".split()))
    ('T EH1 D', 'AA1 D', 'W EH1 S')
    """  # noqa: E501
    following = [*phones[1:], ""]
    kept = [one for one, after in zip(phones, following, strict=True) if one != "R" or _is_vowel(after)]
    if kept[0] == "HH" and len(kept) > 1:
        kept = kept[1:]
    return _one_consonant_at_the_end(_in_place(kept, _HAITIAN))


def arabic(phones: Phones) -> Phones:
    """p is b, no v and no th, short e and i alike, a vowel between the consonants that begin or end a word.

    >>> " ".join(arabic("S P R EH1 D".split())), " ".join(arabic("F IH1 F T".split()))
    ('S IH0 B R IH1 D', 'F IH1 F IH0 T')
    """
    found = _in_place(phones, _ARABIC)
    between = _unstressed("IH", found)
    vowels = [place for place, phone in enumerate(found) if _is_vowel(phone)]
    if not vowels:
        return found
    first, last = vowels[0], vowels[-1]
    ends = found[last + 1 :]
    if len(ends) > 1 and ends[0] not in _NASALS | {"R"}:
        found = [*found[: last + 2], between, *found[last + 2 :]]
    return [found[0], between, *found[1:]] if first > 1 else found


ACCENTS: dict[str, Accent] = {
    "Spanish": spanish,
    "Slavic": slavic,
    "Vietnamese": vietnamese,
    "Chinese": chinese,
    "Portuguese": portuguese,
    "Haitian": haitian,
    "Arabic": arabic,
}
