"""English words that are taken for one another, and by how much wider a margin one is then doubted for another.

Margins are in nats, measured for the shipped model held to an exact graph (DEVELOPERS.md, "Hearing, measured";
`python -m tests.bench.voice.pairs`). A pair that stands in no row has the dialogue's own margin.
"""

from __future__ import annotations

from fieldassist.language.spoken import Alike

_LETTERS = 6.0
_LOST = 6.0
_TEENS_AND_TENS = 8.0
_NUMBERS = 8.0

ALIKE = tuple(
    Alike(frozenset(row.split(",")), margin)
    for margin, rows in (
        # Names that share their vowel: a consonant of a few hundredths of a second tells them apart.
        (_LETTERS, "b,c,d,e,g,p,t,v,z a,h,j,k f,l,m,n,s,x i,y q,u,w l,o i,r c,e,q,t,u,z a,e,o"),
        (_LOST, "a, e, l, o, v,"),
        (
            _TEENS_AND_TENS,
            "thirteen,fourteen,fifteen,sixteen,seventeen,eighteen,nineteen,thirty,forty,fifty,sixty,seventy,eighty,ninety",
        ),
        (
            _NUMBERS,
            "five,nine four,oh,zero three,two six,two eight,two four,two one,five three,seven one,twenty nine,ninety "
            "eight,eighty eight,six one,ten eight,ten a,eight a,four one,eight one,four",
        ),
    )
    for row in rows.split()
)
# "A eight" is one vowel; and "tile", whose l is dark, is heard with a letter or without.
SWALLOWING = frozenset(("eight", "eighteen", "eighty"))
