"""English words that are taken for one another, and by how much wider a margin one is then doubted for another.

Margins are in nats, measured for the shipped model held to an exact graph (DEVELOPERS.md, "Hearing, measured";
`python -m tests.bench.voice.pairs`). A pair that stands in no row has the dialogue's own margin.
"""

from __future__ import annotations

from fieldassist.language.spoken import Alike

# Of 90 letters that were taken for others, most of them in saw-like noise, the right one was within 4 nats of 86 and
# within 6 of 87.
_LETTERS = 6.0
# Of 47 teens and tens that were taken for others (thirteen for thirty, or for fifteen), within 4 of 39, within 6 of 43.
_TEENS_AND_TENS = 6.0
# Of 16 other pairs, within 4 of 10, within 6 of 12, within 8 of 14: the last ones in foreign accents (eight for ten).
_NUMBERS = 8.0
# Of 24 letters that were lost, or heard before a number that had none, within 4 of all. What people leave out is not
# measured.
_LOST = 6.0

ALIKE = tuple(
    Alike(frozenset(row.split(",")), margin)
    for margin, rows in (
        # Names that share their vowel: a consonant of a few hundredths of a second tells them apart.
        (_LETTERS, "b,c,d,e,g,p,t,v,z a,h,j,k m,n f,l,m,n,s,x i,y q,u,w l,o i,r c,e,q,t,u,z a,e,o"),
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
