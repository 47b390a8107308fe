"""English as speakers of other languages say it, by rule, to train on: each speaker with an accent of a strength of his
own.

A rule puts sounds in the place of one sound, perhaps only somewhere in a word. Not everybody does all that his language
leads him to: of every speaker it is drawn which rules he keeps, and how regularly. What was said then differs from the
dictionary, and the labels stay the dictionary's: that is what the network is to learn.

Which sounds stand in for which: contrasts between English and other languages as handbooks of teachers describe them
(Swan and Smith, "Learner English", from memory). The rules that hearing is measured with are others.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from random import Random

Phones = tuple[str, ...]

VOWELS = frozenset(["AA", "AE", "AH", "AO", "AW", "AY", "EH", "ER", "EY", "IH", "IY", "OW", "OY", "UH", "UW"])
NEAREST = {
    "a": "AA", "e": "EH", "o": "AO", "eu": "ER", "r": "R", "rr": "R", "rw": "R", "x": "HH", "bh": "V", "vv": "V",
    "sh": "SH", "tt": "T", "dd": "D", "q": "",
}  # fmt: skip
"""Sounds that English lacks, and the phone of CMUdict that comes nearest to each: pure vowels, a French "eu", an r that
is tapped, rolled or made in the throat, the ch of "loch", a v of both lips and one without friction, a sh, t and d with
the tongue bent back, and a catch in the throat, for which there is none."""
_FOREIGN_VOWELS = frozenset(["a", "e", "o", "eu"])

SHARE = 1 / 3
"""Of synthetic sentences that are said with an accent."""
_STRENGTH = (0.4, 1.5)  # times a rule's own likelihood
_REGULAR = (0.55, 1.0)  # how often a speaker follows a rule that is his

# Each row: sound > what stands in its place (- for nothing; several choices with | between) / where, and how likely a
# speaker has the rule, in percent (of each choice). Where: before and after the place _, # is the word's edge, C a
# consonant, V a vowel, I one as in "see" or "sit". Rows work one after the other. "even": no syllable is reduced.
_RULES = {
    "spanish": """
        S > e S / #_C 70
        T > - / C_# 50
        D > - / C_# 50
        K > - / C_# 25
        Z > S 85
        SH > CH 35
        JH > Y 20 | CH 20
        Y > JH / #_V 20
        V > B 50 | bh 25
        TH > T 50 | S 15 | F 10
        DH > D 65
        HH > x 50
        NG > N 45
        ZH > SH 40
        D > - / V_# 15
        ER > e r 70
        R > r 65
        AH0 > a 25 | e 20 | o 10
        IH > IY 80
        UH > UW 80
        AE > a 75
        AH > a 60 | o 10
        AA > a 45 | o 25
        AO > o 70
        OW > o 60
        EY > e 30
        EH > e 60
        even 60""",
    "portuguese": """
        S > IY S / #_C 60
        T > CH / _I 55
        D > JH / _I 50
        T > CH IY / _# 30
        D > JH IY / _# 30
        K > K IY / _# 35
        P > P IY / _# 35
        G > G IY / _# 30
        B > B IY / _# 30
        Z > S / _# 60
        L > W / V_# 65
        L > W / V_C 50
        TH > T 45 | F 20 | S 15
        DH > D 65
        R > HH / #_ 45
        ER > e r 65
        R > r 60
        NG > N G 30 | N 30
        AH0 > a 20 | e 15
        IH > IY 75
        UH > UW 75
        AE > EH 70
        AH > a 60
        AA > a 30 | o 30
        AO > o 60
        OW > o 45
        EY > e 35
        even 50""",
    "haitian": """
        T > - / C_# 60
        D > - / C_# 60
        K > - / C_# 35
        S > - / C_# 25
        HH > - 60
        R > W 40 | rw 25
        TH > T 45 | F 15 | S 15
        DH > D 50 | Z 25
        CH > SH 45
        JH > ZH 45
        NG > N 45
        ER > eu 35 | EH 35
        AH0 > eu 25 | a 20
        IH > IY 75
        UH > UW 75
        AE > a 65
        AH > o 30 | a 25
        AO > o 65
        OW > o 70
        EY > e 70
        even 60""",
    "french": """
        HH > - 60
        R > rw 65
        TH > S 40 | F 15 | T 20
        DH > Z 45 | D 30
        CH > SH 30
        JH > ZH 35
        NG > N G 25
        ER > eu rw 60
        AH0 > eu 45
        IH > IY 75
        UH > UW 70
        AE > a 60
        AH > eu 35 | a 25
        AA > o 30 | a 25
        AO > o 60
        OW > o 60
        EY > e 55
        even 50""",
    "slavic": """
        B > P / _# 65
        D > T / _# 65
        G > K / _# 65
        V > F / _# 65
        Z > S / _# 70
        JH > CH / _# 60
        W > V 65
        TH > S 45 | T 20 | F 15
        DH > Z 45 | D 30
        NG > N G 25 | N 30
        HH > x 65
        ER > e rr 35 | e r 35
        R > rr 35 | r 40
        SH > sh 30
        EY > EH Y 35
        OW > o 60
        AO > o 60
        AH0 > a 30
        IH > IY 70
        UH > UW 70
        AE > EH 65
        AH > a 60
        AA > o 30 | a 25
        EH > e 30""",
    "arabic": """
        S > IH S / #_C 40
        P > B 55
        V > F 55
        CH > SH 35
        JH > ZH 30
        NG > N G 40
        TH > S 25 | T 15
        DH > Z 25 | D 15
        ER > e r 65
        R > r 75
        G > JH 10
        AH0 > a 25 | IH 25
        OW > o 50 | UW 15
        EY > e 50
        IH > IY 35 | e 20
        EH > IH 30
        UH > UW 65
        AH > a 60
        AA > a 30
        AO > o 55
        even 35""",
    "indian": """
        S > IH S / #_C 20
        W > vv 65
        V > vv 65
        TH > T 65
        DH > D 70
        T > tt 75
        D > dd 75
        ER > a r 45 | EH r 20
        R > r 60
        Z > S 15 | JH 10
        ZH > SH 20
        F > P 8
        AH0 > a 25
        OW > o 70
        EY > e 70
        AE > EH 35
        AO > a 40
        AH > a 40
        even 65""",
    "vietnamese": """
        S > - / C_# 60
        Z > - / C_# 60
        T > - / C_# 70
        D > - / C_# 70
        K > - / C_# 40
        S > - / _C 15
        L > - / C_V 12
        R > - / C_V 12
        B > P / _# 60
        D > T / _# 60
        G > K / _# 60
        V > P / _# 40
        F > P / _# 35
        CH > T / _# 40
        SH > T / _# 20
        S > T / _# 20
        T > q / V_# 35
        K > q / V_# 25
        L > N / V_# 25
        L > W / V_# 25
        R > - / V_# 40
        TH > T 60
        DH > D 45 | Z 35
        SH > S 45
        JH > Z 25 | CH 25
        ZH > Z 50
        Z > S 45
        ER > eu 40 | AH 30
        IH > IY 75
        UH > UW 70
        AE > EH 40 | a 35
        AH > a 40
        AO > o 55
        OW > o 45
        EY > e 45
        even 60""",
    "chinese": """
        T > - / C_# 40
        D > - / C_# 40
        B > P / _# 50
        D > T / _# 50
        G > K / _# 50
        Z > S 50
        T > T AH / _# 20
        K > K AH / _# 20
        P > P AH / _# 20
        D > D AH / _# 20
        V > W 40 | F 30
        TH > S 55 | T 10 | F 15
        DH > D 40 | Z 40
        SH > sh 45
        ZH > R 30
        L > o / V_# 25
        L > R / V_V 8
        R > L / C_V 12
        HH > x 55
        N > NG / V_# 15
        NG > N 30
        M > N / _# 12
        IH > IY 70
        UH > UW 65
        AE > EH 50 | a 25
        AH > a 50
        AA > a 40
        AO > o 50
        OW > o 45
        EY > EH 40
        even 65""",
}

VOICES = {
    "spanish": "efip", "portuguese": "pei", "haitian": "f", "french": "f", "slavic": "", "arabic": "", "indian": "h",
    "vietnamese": "zj", "chinese": "zj",
}  # fmt: skip
"""The languages of Kokoro's voices, the first letters of their names, whose timbre and melody go with an accent."""

_ROW = re.compile(r"(?P<old>\w+) > (?P<choices>[^/]+?)(?: / (?P<before>[#CV]?)_(?P<after>[#CVI]?) (?P<likely>\d+))?$")


@dataclass(frozen=True)
class Rule:
    """`old` becomes one of `choices`, each with its likelihood; before, after: what stands beside it ("" for anything).

    old: without stress, or a vowel with 0 where only the unstressed one is meant.
    """

    old: str
    choices: tuple[tuple[Phones, float], ...]
    before: str = ""
    after: str = ""


@dataclass(frozen=True)
class Habit:
    """A rule as one speaker has it: what he says instead, and how often."""

    rule: Rule
    new: Phones
    often: float


@dataclass(frozen=True)
class Speaker:
    """Somebody with an accent, "" for none. even: how often he gives a syllable without stress its full weight."""

    accent: str
    habits: tuple[Habit, ...] = ()
    even: float = 0.0

    def says(self, word: Sequence[str], random: Random) -> Phones:
        """A word in CMUdict's symbols as he says it: symbols again, with those of `NEAREST` among them.

        A word that would lose its vowel stays as it is.
        """
        said = tuple(word)
        for habit in self.habits:
            said = _changed(said, habit, random)
        if self.even:
            said = tuple(
                f"{symbol[:-1]}2" if symbol[-1] == "0" and random.random() < self.even else symbol for symbol in said
            )
        return said if any(is_vowel(symbol) for symbol in said) else tuple(word)


@cache
def rules(accent: str) -> tuple[tuple[Rule, ...], float]:
    """The rules of an accent, and how likely its speakers are to be even.

    Errors: `ValueError` for a row that is none.
    """
    found: list[Rule] = []
    even = 0.0
    for row in _RULES[accent].strip().splitlines():
        if row.split()[0] == "even":
            even = int(row.split()[1]) / 100
            continue
        match = _ROW.match(row.strip())
        if match is None:
            raise ValueError(f"{accent}: no rule: {row.strip()!r}")
        choices = []
        for choice in match["choices"].split("|"):
            *new, last = choice.split()
            likely = match["likely"]
            if likely is None:
                likely = last
            else:
                new.append(last)
            choices.append((tuple(symbol for symbol in new if symbol != "-"), int(likely) / 100))
        found.append(Rule(match["old"], tuple(choices), match["before"] or "", match["after"] or ""))
    return tuple(found), even


def drawn(random: Random, share: float = SHARE) -> Speaker:
    """A speaker; a share of them has an accent."""
    if random.random() >= share:
        return Speaker("")
    accent = random.choice(sorted(_RULES))
    strength = random.uniform(*_STRENGTH)
    habits = []
    ways, even = rules(accent)
    for rule in ways:
        at = random.random()
        for new, likely in rule.choices:
            at -= likely * strength
            if at < 0:
                habits.append(Habit(rule, new, random.uniform(*_REGULAR)))
                break
    return Speaker(accent, tuple(habits), random.random() if random.random() < even * strength else 0.0)


def is_vowel(symbol: str) -> bool:
    """Whether a symbol, with or without stress, is a vowel's."""
    return symbol.rstrip("012") in VOWELS | _FOREIGN_VOWELS


def nearest(phones: Sequence[str]) -> Phones:
    """CMUdict's symbols alone.

    >>> nearest(["r", "o1", "S", "q"])
    ('R', 'AO1', 'S')
    """
    found = []
    for symbol in phones:
        name = symbol.rstrip("012")
        if near := NEAREST.get(name, name):
            found.append(near + symbol[len(name) :])
    return tuple(found)


def _changed(word: Phones, habit: Habit, random: Random) -> Phones:
    rule = habit.rule
    found: list[str] = []
    for place, symbol in enumerate(word):
        name = symbol.rstrip("012")
        beside = word[place - 1] if place else "#", word[place + 1] if place + 1 < len(word) else "#"
        if (
            rule.old not in (name, symbol)
            or not _fits(beside[0], rule.before)
            or not _fits(beside[1], rule.after)
            or random.random() >= habit.often
        ):
            found.append(symbol)
            continue
        stress = symbol[len(name) :] or "0"
        for new in habit.new:
            found.append(new + stress if is_vowel(new) else new)
            stress = "0" if is_vowel(new) else stress
    return tuple(found)


def _fits(symbol: str, kind: str) -> bool:
    match kind:
        case "":
            return True
        case "#":
            return symbol == "#"
        case "V":
            return symbol != "#" and is_vowel(symbol)
        case "C":
            return symbol != "#" and not is_vowel(symbol)
    return symbol.rstrip("012") in {"IY", "IH"}
